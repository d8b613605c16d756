//! Every refusal to the letter; timetables sorted.
#![allow(clippy::float_cmp)]

use crate::FrostPlanError;

use super::{Fans, FilterLoad, FrostPlan, FrostStrategy, PreheatTo, Timetable, TimetableRow};

fn row(at_or_below_c: f64, defrost_min: f64, run_min: f64) -> TimetableRow {
    TimetableRow { at_or_below_c, defrost_min, run_min }
}

fn refused(change: impl Fn(&mut FrostPlan)) -> String {
    let mut plan = FrostPlan::unlimited();
    change(&mut plan);
    plan.check().unwrap_err().to_string()
}

#[test]
fn the_plan_without_limits_can_be_run() {
    assert_eq!(FrostPlan::unlimited().check(), Ok(()));
}

#[test]
fn a_number_outside_its_range_is_named_with_its_unit() {
    assert_eq!(
        refused(|plan| plan.capacity_kg = 0.0),
        "the frost capacity is 0 kg; it must be from 0.000001 to inf kg"
    );
    assert_eq!(
        refused(|plan| plan.gap_m = 0.1),
        "the passage's gap is 0.1 m; it must be from 0.0005 to 0.02 m"
    );
    assert_eq!(
        refused(|plan| plan.returned = f64::NAN),
        "the share of heat returned is NaN; it must be from 0 to 1"
    );
    assert_eq!(
        refused(|plan| plan.strategy = FrostStrategy::Preheat(PreheatTo::Fixed(40.0))),
        "the preheater's temperature is 40 °C; it must be from -30 to 20 °C"
    );
    assert_eq!(
        refused(|plan| plan.filters = Some(FilterLoad { extra: 0.5, interval_d: 0.0 })),
        "the filters' interval is 0 d; it must be from 1 to 1000 d"
    );
}

#[test]
fn a_fan_too_weak_for_its_core_is_refused() {
    let fans = Fans::FixedSpeed { shut_off_pa: 100.0, free_flow_ratio: 2.0, core_pa: 80.0 };
    assert_eq!(
        refused(|plan| plan.fans = fans),
        "the fan gives 75 Pa at the rated flow and the core alone takes 80 Pa; the fan must give as much or more"
    );
}

#[test]
fn a_timetable_needs_one_to_eight_rows_for_different_temperatures() {
    assert_eq!(Timetable::new(&[]).unwrap_err().to_string(), "the timetable has 0 rows; it must have 1 to 8");
    let many: Vec<TimetableRow> = (0..9).map(|k| row(-f64::from(k), 5.0, 30.0)).collect();
    assert_eq!(Timetable::new(&many), Err(FrostPlanError::Rows(9)));
    assert_eq!(
        Timetable::new(&[row(-5.0, 5.0, 30.0), row(-5.0, 6.0, 30.0)]).unwrap_err().to_string(),
        "the timetable has two rows for -5 °C and below"
    );
    assert_eq!(
        Timetable::new(&[row(-5.0, 0.0, 30.0)]).unwrap_err().to_string(),
        "the timetable's defrost is 0 min; it must be from 0.001 to 120 min"
    );
}

#[test]
fn rows_in_any_order_are_one_timetable() {
    let (mild, cold) = (row(-5.0, 6.0, 54.0), row(-25.0, 10.0, 20.0));
    assert_eq!(Timetable::new(&[cold, mild]), Timetable::new(&[mild, cold]));
}

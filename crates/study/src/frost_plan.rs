//! From what a study says about frost, fans, filters and free cooling to the plan that the simulation runs.
//!
//! Not here: reading (`read/frost.rs`, `read/fan.rs`), what the plan does in an hour (`simulation`).

use simulation::{
    Fans, FilterLoad, FreeCooling, FrostPlan, FrostStrategy, OutdoorAir, PreheatTo, Start, ThawLimits,
    Timetable, TimetableRow, Washing,
};
use weather::WeatherYear;

use crate::model;
use crate::sized::{SizedError, SizedUnit};

/// Conductance of each m² of plate [W/(m² K)]: usual for laminar air on both sides.
pub(crate) const PLATE_W_PER_M2K: f64 = 25.0;
/// Heat capacity of a core for each m² of plate [J/(K m²)]: assumed, 0.5 kg of plastic of 1.3 kJ/(kg K), as
/// [`model::Unit::core_heat_capacity_j_per_k`] has it.
pub(crate) const CORE_J_PER_M2K: f64 = 650.0;
/// Gap of passages that are not known \[m\].
pub(crate) const GAP_M: f64 = 0.002;
/// The core's share of the pressure of a fan that holds its flow: assumed.
pub(crate) const CORE_SHARE: f64 = 0.3;
/// A core without plates, or of plates too small to matter \[m²\].
const LEAST_PLATE_M2: f64 = 0.01;
/// How a film's conductance goes with its flow within an hour: `NTU ∝ m^−0.8`.
const FILM_EXPONENT: f64 = 0.2;
const MINUTE_S: f64 = 60.0;
const DAY_S: f64 = 86_400.0;

/// What a study's unit does about frost, and what its core holds.
///
/// # Errors
/// [`SizedError::Frost`] for numbers that do not go together.
pub(crate) fn frost_plan(
    study: &model::Study,
    unit: &model::Unit,
    (sized, year): (&SizedUnit, &WeatherYear),
) -> Result<FrostPlan, SizedError> {
    let usual_m2 = (sized.core.ua_w_per_k / PLATE_W_PER_M2K).max(LEAST_PLATE_M2);
    let (plate_area_m2, gap_m) = match &unit.performance {
        model::Performance::Geometry(measures) => (
            // One face of plate for each side of each passage of a stream.
            2.0 * f64::from(measures.channels) * measures.length_m * measures.width_m,
            measures.gap_m,
        ),
        _ => (usual_m2, GAP_M),
    };
    let plan = FrostPlan {
        strategy: strategy(&unit.frost.strategy)?,
        capacity_kg: unit.frost.capacity_kg,
        plate_area_m2,
        gap_m,
        core_heat_capacity_j_per_k: unit.core_heat_capacity_j_per_k.unwrap_or(plate_area_m2 * CORE_J_PER_M2K),
        returned: match unit.frost.strategy {
            model::FrostStrategy::Recirculate { returned, .. } => returned,
            _ => FrostPlan::unlimited().returned,
        },
        fans: fans(&unit.fan.kind, study.ventilation.airflow_m3_per_s),
        film_exponent: FILM_EXPONENT,
        preheat_most_w: match unit.frost.strategy {
            model::FrostStrategy::Preheat { most_w: Some(most_w), .. } => most_w,
            _ => f64::INFINITY,
        },
        filters: unit
            .filter
            .map(|filter| FilterLoad { extra: filter.load, interval_d: filter.interval_s / DAY_S }),
        washing: unit.upkeep.map(|upkeep| washing(&upkeep, year)),
        free_cooling: unit.free_cooling.map(|free| FreeCooling {
            indoor_above_c: free.indoor_above_c,
            colder_by_k: free.colder_by_k,
            supply_at_least_c: free.supply_at_least_c,
        }),
        outdoor_air: match unit.frost.missed_air {
            model::MissedAir::Missed => OutdoorAir::Missed,
            model::MissedAir::MadeUp => OutdoorAir::Held,
        },
    };
    plan.check()?;
    Ok(plan)
}

/// The hours in which a core is out, from the day of the study or of the hemisphere's mild season.
pub(crate) fn washing(upkeep: &model::Upkeep, year: &WeatherYear) -> Washing {
    let usual = if year.place.latitude_deg < 0.0 { 12 } else { 6 };
    let on = upkeep.wash_on.unwrap_or(model::MonthDay { month: usual, day: 1 });
    let is_on = |h: &usize| {
        let stamp = year.calendar().stamp(*h);
        let (month, day) = (u32::from(stamp.month), u32::from(stamp.day));
        // A year without 29 February washes on the first of March.
        (month, day) >= (on.month, on.day)
    };
    let at = (0..year.hours()).find(is_on).unwrap_or(0);
    Washing { at_h: at as f64, out_h: upkeep.drying_s / 3600.0, fouling: upkeep.fouling, left: 0.0 }
}

fn strategy(strategy: &model::FrostStrategy) -> Result<FrostStrategy, SizedError> {
    Ok(match strategy {
        model::FrostStrategy::None => FrostStrategy::None,
        model::FrostStrategy::Recirculate { control: model::RecirculationControl::OnDemand, .. } => {
            FrostStrategy::Recirculate(Start::OnDemand)
        }
        model::FrostStrategy::Recirculate {
            control: model::RecirculationControl::Timetable(timetable),
            ..
        } => {
            let rows: Vec<TimetableRow> = timetable.rows.iter().map(minutes).collect();
            FrostStrategy::Recirculate(Start::Timetable(Timetable::new(&rows)?))
        }
        model::FrostStrategy::Preheat { to_c: Some(to_c), .. } => {
            FrostStrategy::Preheat(PreheatTo::Fixed(*to_c))
        }
        model::FrostStrategy::Preheat { to_c: None, .. } => FrostStrategy::Preheat(PreheatTo::FirstFrost),
        model::FrostStrategy::SupplyOff { start_below_c, end_above_c } => {
            FrostStrategy::SupplyOff(ThawLimits { start_below_c: *start_below_c, end_above_c: *end_above_c })
        }
        model::FrostStrategy::Bypass => FrostStrategy::Bypass,
        model::FrostStrategy::SlowDown => FrostStrategy::SlowWheel,
    })
}

fn minutes(row: &model::TimetableRow) -> TimetableRow {
    TimetableRow {
        at_or_below_c: row.at_or_below_c,
        defrost_min: row.defrost_s / MINUTE_S,
        run_min: row.run_s / MINUTE_S,
    }
}

fn fans(kind: &model::FanKind, airflow_m3_per_s: f64) -> Fans {
    match kind {
        model::FanKind::ConstantFlow => Fans::ConstantFlow { core_share: CORE_SHARE },
        model::FanKind::FixedSpeed(curve) => Fans::FixedSpeed {
            shut_off_pa: curve.shut_off_pa,
            free_flow_ratio: curve.free_flow_m3_per_s / airflow_m3_per_s,
            core_pa: curve.pressure_pa(airflow_m3_per_s) - curve.system_pa,
        },
    }
}

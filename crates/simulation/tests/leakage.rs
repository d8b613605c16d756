//! A leakage result to a coefficient and back. "Own calculation": computed apart from this program, with recalled definitions.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use approx::assert_relative_eq;
use proptest::prelude::*;
use simulation::infiltration::{Base, Building, Flue, Joining, Natural, joined};
use simulation::leakage::{
    DEFAULT_EXPONENT, EFFECTIVE_DISCHARGE, EQUIVALENT_DISCHARGE, LeakageFigures, LeakageResult, Sizes,
    area_m2, figures, leakage_of,
};

const SIZES: Sizes = Sizes { volume_m3: 500.0, floor_m2: 200.0, height_m: 5.0 };

fn figures_of(result: LeakageResult) -> LeakageFigures {
    figures(&leakage_of(&result, &SIZES, DEFAULT_EXPONENT).unwrap(), &SIZES).unwrap()
}

fn tested() -> LeakageResult {
    LeakageResult::AirChanges { per_hour: 3.0, pressure_pa: 50.0 }
}

/// 500 m³, three changes an hour at 50 Pa, exponent 0.65 (own calculation).
#[test]
fn three_changes_an_hour_in_every_way_of_writing_them() {
    let found = figures_of(tested());
    assert_relative_eq!(found.flow_50_m3_per_s, 0.416667, max_relative = 1e-6);
    assert_relative_eq!(found.coefficient_m3_per_s, 0.0327686, max_relative = 2e-6);
    assert_relative_eq!(found.effective_area_m2 * 1e4, 312.495, max_relative = 2e-6);
    assert_relative_eq!(found.equivalent_area_m2 * 1e4, 586.803, max_relative = 1e-6);
    assert_relative_eq!(found.normalised, 0.20617, max_relative = 3e-5);
    assert_relative_eq!(found.changes_50_per_h, 3.0, max_relative = 1e-12);
}

/// The 10 Pa area with a discharge coefficient of 1, and areas for each m³/s at 50 Pa (own calculation).
#[test]
fn areas_at_ten_and_four_pascals_for_a_flow_at_fifty() {
    let leakage = leakage_of(&tested(), &SIZES, DEFAULT_EXPONENT).unwrap();
    assert_relative_eq!(area_m2(&leakage, 10.0, 1.0).unwrap() * 1e4, 358.537, max_relative = 1e-6);
    let one = LeakageResult::Flow { m3_per_s: 1.0, pressure_pa: 50.0 };
    let one = leakage_of(&one, &SIZES, DEFAULT_EXPONENT).unwrap();
    let four = area_m2(&one, 4.0, EFFECTIVE_DISCHARGE).unwrap();
    let ten = area_m2(&one, 10.0, EQUIVALENT_DISCHARGE).unwrap();
    assert_relative_eq!(four, 0.074_998_766_575, max_relative = 1e-9);
    assert_relative_eq!(ten, 0.140_832_831_855, max_relative = 1e-9);
    assert_relative_eq!(one.flow_m3_per_s(4.0), 0.193_645_982_622, max_relative = 1e-9);
    assert_relative_eq!(one.flow_m3_per_s(10.0), 0.351_293_000_989, max_relative = 1e-9);
}

#[test]
fn every_way_of_writing_one_leakage_is_the_same_leakage() {
    let found = figures_of(tested());
    let ways = [
        LeakageResult::Flow { m3_per_s: found.flow_50_m3_per_s, pressure_pa: 50.0 },
        LeakageResult::Area { m2: found.effective_area_m2, pressure_pa: 4.0, discharge: EFFECTIVE_DISCHARGE },
        LeakageResult::Area {
            m2: found.equivalent_area_m2,
            pressure_pa: 10.0,
            discharge: EQUIVALENT_DISCHARGE,
        },
        LeakageResult::Normalised { value: found.normalised },
    ];
    for way in ways {
        assert_relative_eq!(
            figures_of(way).coefficient_m3_per_s,
            found.coefficient_m3_per_s,
            max_relative = 1e-12
        );
    }
}

#[test]
fn a_tight_house_has_zero_in_every_column() {
    let zero = figures_of(LeakageResult::Flow { m3_per_s: 0.0, pressure_pa: 50.0 });
    assert_eq!((zero.coefficient_m3_per_s, zero.changes_50_per_h, zero.normalised), (0.0, 0.0, 0.0));
    assert_eq!((zero.effective_area_m2, zero.equivalent_area_m2, zero.flow_50_m3_per_s), (0.0, 0.0, 0.0));
}

#[test]
fn a_result_that_cannot_be_says_which_number_and_in_which_range() {
    let said =
        |result: LeakageResult, sizes: Sizes| leakage_of(&result, &sizes, 0.65).unwrap_err().to_string();
    assert_eq!(
        said(LeakageResult::Area { m2: -0.1, pressure_pa: 4.0, discharge: 1.0 }, SIZES),
        "the leakage area is -0.1 m²; it must be from 0 to 5 m²"
    );
    assert_eq!(
        said(LeakageResult::AirChanges { per_hour: f64::NAN, pressure_pa: 50.0 }, SIZES),
        "the air changes of the leakage test is NaN 1/h; it must be from 0 to 100 1/h"
    );
    assert_eq!(
        said(tested(), Sizes { floor_m2: 0.0, ..SIZES }),
        "the floor area is 0 m²; it must be from 5 to 5000 m²"
    );
    let huge = Sizes { volume_m3: 50_000.0, ..SIZES };
    assert_eq!(
        said(LeakageResult::AirChanges { per_hour: 36.0, pressure_pa: 50.0 }, huge),
        "the leakage result amounts to 500 m³/s at 50 Pa; it must be from 0 to 50 m³/s"
    );
    assert!(leakage_of(&tested(), &SIZES, 1.1).is_err());
}

fn house(shelter_class: u32) -> Building {
    Building { storeys: 2, base: Base::Crawlspace, flue: Flue::Open, shelter_class }
}

proptest! {
    /// Round trip over the whole range of exponents and leakages.
    #[test]
    fn an_area_of_a_leakage_is_that_leakage(changes in 0.01_f64..50.0, exponent in 0.5_f64..1.0, pa in 1.0_f64..100.0) {
        let result = LeakageResult::AirChanges { per_hour: changes, pressure_pa: 50.0 };
        let leakage = leakage_of(&result, &SIZES, exponent).unwrap();
        let m2 = area_m2(&leakage, pa, 0.611).unwrap();
        prop_assume!(m2 <= 5.0);
        let back = LeakageResult::Area { m2, pressure_pa: pa, discharge: 0.611 };
        let back = leakage_of(&back, &SIZES, exponent).unwrap();
        prop_assert!((back.coefficient_m3_per_s / leakage.coefficient_m3_per_s - 1.0).abs() < 1e-12);
    }

    /// More leakage, more cold, more wind: never less air; all of it finite, also where all are zero.
    #[test]
    fn natural_leakage_never_falls(
        changes in 0.0_f64..20.0, more in 0.0_f64..5.0, kelvin in 0.0_f64..60.0, wind in 0.0_f64..25.0,
        exponent in 0.5_f64..1.0, class in 1_u32..6,
    ) {
        let flow = |changes: f64, kelvin: f64, wind: f64| {
            let result = LeakageResult::AirChanges { per_hour: changes, pressure_pa: 50.0 };
            let leakage = leakage_of(&result, &SIZES, exponent).unwrap();
            Natural::enhanced(&leakage, &house(class), 0.6).flow_m3_per_s(kelvin, wind)
        };
        let base = flow(changes, kelvin, wind);
        // Two roundings of exp and ln.
        let least = base * (1.0 - 1e-13);
        prop_assert!(base.is_finite() && base >= 0.0);
        prop_assert!(flow(changes + more, kelvin, wind) >= least);
        prop_assert!(flow(changes, kelvin + more, wind) >= least);
        prop_assert!(flow(changes, kelvin, wind + more) >= least);
        prop_assert_eq!(flow(changes, 0.0, 0.0), 0.0);
        prop_assert_eq!(flow(0.0, kelvin, wind), 0.0);
    }

    /// Whatever the rule: no less than the fans alone move, no more than everything added up; without imbalance all three agree.
    #[test]
    fn joined_air_lies_between_fans_alone_and_the_sum(
        natural in 0.0_f64..0.2, balanced in 0.0_f64..0.2, unbalanced in 0.0_f64..0.2,
    ) {
        for rule in [Joining::Quadrature, Joining::HalfFan, Joining::SubAdditive] {
            let all = joined(rule, natural, balanced, unbalanced);
            prop_assert!(all >= (balanced + unbalanced) * (1.0 - 1e-14));
            prop_assert!(all <= (balanced + unbalanced + natural) * (1.0 + 1e-14));
            let even = joined(rule, natural, balanced, 0.0);
            prop_assert!((even - balanced - natural).abs() < 1e-15);
        }
    }
}

//! What infiltration is credited with. "Own calculation": computed apart from this program, with recalled formulas.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;
use simulation::credit::{
    Dwelling, Edition, Infiltration, effective_annual_m3_per_s, shortcut_m3_per_s, weather_factor_of,
    with_credit,
};
use simulation::infiltration::Leakage;
use simulation::requirement::{FansOf, Form};

const FT2: f64 = 0.092_903_04;
const CFM: f64 = 0.000_471_947_443_2;

/// 206.667 m² and three bedrooms: a total rate of 45 L/s.
const DWELLING: Dwelling = Dwelling { floor_m2: 31.0 / 0.15, bedrooms: 3, known_people: 0, form: Form::Si };

fn litres(infiltrates: f64, edition: Edition) -> f64 {
    let hours = Infiltration::ByHours { m3_per_s: infiltrates * 1e-3 };
    with_credit(&DWELLING, &hours, edition).unwrap().airflow_m3_per_s * 1e3
}

fn since(fans: FansOf, exterior_share: f64) -> Edition {
    Edition::Since2016 { fans, exterior_share }
}

/// 45 L/s less what 17.2 L/s are credited with: balanced 27.80, unbalanced 38.426 (own calculation).
#[test]
fn each_edition_credits_in_its_own_way() {
    assert_abs_diff_eq!(litres(17.2, since(FansOf::Balanced, 1.0)), 27.80, epsilon = 1e-9);
    assert_abs_diff_eq!(litres(17.2, since(FansOf::Unbalanced, 1.0)), 38.426, epsilon = 5e-4);
    assert_abs_diff_eq!(litres(17.2, since(FansOf::Balanced, 0.5)), 36.40, epsilon = 1e-9);
    assert_abs_diff_eq!(litres(17.2, Edition::Of2013Existing), 27.80, epsilon = 1e-9);
    assert_abs_diff_eq!(litres(17.2, Edition::Of2013New), 27.80, epsilon = 1e-9);
    // Two thirds of 45 L/s are 30 L/s.
    assert_abs_diff_eq!(litres(40.0, Edition::Of2013New), 15.0, epsilon = 1e-9);
    assert_abs_diff_eq!(litres(40.0, Edition::Of2013Existing), 5.0, epsilon = 1e-9);
}

/// Without a limit on its factor, an attached house that leaks more than its total rate would owe less with unequal fans than with equal ones.
#[test]
fn unequal_fans_never_owe_less_than_equal_ones() {
    for infiltrates in [0.0, 10.0, 45.0, 54.0, 90.0] {
        for share in [0.0, 0.5, 0.75, 1.0] {
            let unequal = litres(infiltrates, since(FansOf::Unbalanced, share));
            assert!(unequal >= litres(infiltrates, since(FansOf::Balanced, share)) - 1e-12);
        }
    }
    assert_abs_diff_eq!(litres(54.0, since(FansOf::Unbalanced, 0.75)), 4.5, epsilon = 1e-9);
}

/// NL 0.20617 and 0.35416, weather factors 0.6 and 0.54: 17.181 and 18.593 L/s (own calculation). In the other arithmetic NL 0.3, 0.6,
/// 2000 ft²: 49.315 cfm, not the 49.213 that the first arithmetic's 23.226 L/s would be.
#[test]
fn infiltration_by_a_weather_factor_in_both_arithmetics() {
    let of = |floor_m2, form, normalised_leakage, weather_factor| {
        let dwelling = Dwelling { floor_m2, bedrooms: 3, known_people: 0, form };
        let factor = Infiltration::ByFactor { normalised_leakage, weather_factor };
        let least = Infiltration::ByHours { m3_per_s: 0.0 };
        let edition = since(FansOf::Balanced, 1.0);
        let total = with_credit(&dwelling, &least, edition).unwrap().airflow_m3_per_s;
        total - with_credit(&dwelling, &factor, edition).unwrap().airflow_m3_per_s
    };
    assert_abs_diff_eq!(of(200.0, Form::Si, 0.20617, 0.60) * 1e3, 17.181, epsilon = 1e-3);
    assert_abs_diff_eq!(of(140.0, Form::Si, 0.35416, 0.54) * 1e3, 18.593, epsilon = 1e-3);
    assert_relative_eq!(of(2000.0 * FT2, Form::Ip, 0.3, 0.6) / CFM, 49.315_068_493, max_relative = 1e-9);
    assert_relative_eq!(of(2000.0 * FT2, Form::Si, 0.3, 0.6) * 1e3, 23.225_76, max_relative = 1e-9);
}

/// 3 changes of 500 m³, 5 m, factor 0.6, and 7 changes of 340 m³, 2.5 m, factor 0.54: 17.154 and 18.564 L/s (formula read, numbers
/// own calculation).
#[test]
fn the_shortcut_meets_two_houses() {
    let first = shortcut_m3_per_s(3.0 * 500.0 / 3600.0, 0.60, 5.0).unwrap();
    let second = shortcut_m3_per_s(7.0 * 340.0 / 3600.0, 0.54, 2.5).unwrap();
    assert_abs_diff_eq!(first * 1e3, 17.154, epsilon = 5e-4);
    assert_abs_diff_eq!(second * 1e3, 18.564, epsilon = 5e-4);
}

#[test]
fn the_shortcut_takes_flows_factors_and_heights_up_to_their_limits() {
    assert!(shortcut_m3_per_s(50.0, 2.0, 30.0).is_ok() && shortcut_m3_per_s(0.0, 0.1, 1.0).is_ok());
    let refused = [
        (50.1, 1.0, 5.0),
        (-0.1, 1.0, 5.0),
        (1.0, 2.01, 5.0),
        (1.0, 0.09, 5.0),
        (1.0, 1.0, 30.1),
        (1.0, 1.0, 0.9),
    ];
    for (flow, factor, height_m) in refused {
        assert!(shortcut_m3_per_s(flow, factor, height_m).is_err(), "{flow} {factor} {height_m}");
    }
}

/// Factors for 1, 1.5, 2, 2.5 and 3 storeys of 2.5 m (read).
#[test]
fn the_shortcut_knows_storeys_as_they_were_read() {
    for (storeys, factor) in [(1.0, 1.0), (1.5, 1.18), (2.0, 1.32), (2.5, 1.44), (3.0, 1.55)] {
        let found = shortcut_m3_per_s(1.0, 1.0, 2.5 * storeys).unwrap() / 0.052;
        assert_abs_diff_eq!(found, factor, epsilon = 0.005);
    }
}

/// Fine Runge–Kutta steps of the same room, run until a cycle repeats (another method): half a day of 20 L/s and of 60 L/s in 500 m³;
/// three hours without any air, 90 and 30 L/s in 300 m³.
#[test]
fn the_effective_flow_of_uneven_hours_meets_a_numerical_integration() {
    let day: Vec<f64> = [[0.02; 12], [0.06; 12]].concat();
    assert_relative_eq!(
        effective_annual_m3_per_s(&day, 500.0).unwrap(),
        0.035_625_323_770,
        max_relative = 1e-9
    );
    let gaps = [0.0, 0.0, 0.0, 0.09, 0.03];
    assert_relative_eq!(
        effective_annual_m3_per_s(&gaps, 300.0).unwrap(),
        0.022_395_474_953,
        max_relative = 1e-9
    );
    assert_eq!(effective_annual_m3_per_s(&[0.0; 24], 300.0).unwrap(), 0.0);
}

/// A factor that gives back the flow it was found from.
#[test]
fn a_factor_of_a_flow_gives_that_flow() {
    let leakage = Leakage::of_flow(3.0 * 500.0 / 3600.0, 50.0, 0.65).unwrap();
    let weather_factor = weather_factor_of(0.0172, &leakage, (200.0, 5.0)).unwrap();
    let dwelling = Dwelling { floor_m2: 200.0, ..DWELLING };
    let normalised_leakage = leakage.normalised(200.0, 5.0);
    let factor = Infiltration::ByFactor { normalised_leakage, weather_factor };
    let fans = with_credit(&dwelling, &factor, since(FansOf::Balanced, 1.0)).unwrap().airflow_m3_per_s;
    // 0.15 · 200 + 3.5 · 4 = 44 L/s.
    assert_abs_diff_eq!(fans * 1e3, 44.0 - 17.2, epsilon = 1e-9);
    let tight = Leakage::of_flow(0.0, 50.0, 0.65).unwrap();
    assert!(weather_factor_of(0.01, &tight, (200.0, 5.0)).is_err());
}

#[test]
fn the_reasoning_is_told_in_order() {
    let found =
        with_credit(&DWELLING, &Infiltration::ByHours { m3_per_s: 0.060 }, since(FansOf::Unbalanced, 1.0))
            .unwrap();
    let said: Vec<String> =
        found.steps.iter().map(|step| format!("{} = {}", step.what, step.value)).collect();
    assert_eq!(
        said,
        [
            "for 206.7 m² of floor = 31.0 L/s",
            "for 3 bedrooms and one more person = 14.0 L/s",
            "total rate = 45.0 L/s",
            "effective infiltration of the year = 60.0 L/s",
            "credited, 2016 edition, unbalanced fans, factor held at 1: factor 1.000, exterior share 1.00 = −60.0 L/s",
            "more than the total rate: nothing is left for fans = 15.0 L/s",
            "fans must deliver = 0.0 L/s",
        ]
    );
}

#[test]
fn numbers_that_cannot_be_are_refused() {
    let said =
        |infiltration, edition| with_credit(&DWELLING, &infiltration, edition).unwrap_err().to_string();
    let flow = |m3_per_s| Infiltration::ByHours { m3_per_s };
    assert_eq!(
        said(flow(0.01), since(FansOf::Balanced, 1.5)),
        "the exterior share of the envelope is 1.5; it must be from 0 to 1"
    );
    assert_eq!(
        said(flow(f64::NAN), Edition::Of2013New),
        "the effective infiltration [m³/s] is NaN; it must be from 0 to 50"
    );
    assert_eq!(
        effective_annual_m3_per_s(&[], 300.0).unwrap_err().to_string(),
        "the number of hours is 0; it must be from 1 to 1000000"
    );
    assert!(effective_annual_m3_per_s(&[0.01, -0.01], 300.0).is_err());
}

proptest! {
    /// An even flow is its own effective flow, at any size; an uneven one is worth no more than its mean, and no less than its least
    /// hour.
    #[test]
    fn uneven_air_is_worth_no_more_than_its_mean(
        flows in proptest::collection::vec(1e-5_f64..0.3, 1..40), volume in 10.0_f64..5000.0, even in 1e-5_f64..0.3,
    ) {
        let effective = effective_annual_m3_per_s(&flows, volume).unwrap();
        let mean = flows.iter().sum::<f64>() / flows.len() as f64;
        let least = flows.iter().copied().fold(f64::INFINITY, f64::min);
        prop_assert!(effective <= mean * (1.0 + 1e-9));
        prop_assert!(effective >= least * (1.0 - 1e-9));
        let same = effective_annual_m3_per_s(&[even; 24], volume).unwrap();
        prop_assert!((same / even - 1.0).abs() < 1e-9, "{same} for {even}");
    }
}

//! A coil's rating against a separate calculation, off its rating, and in part load.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use psychrometrics::checked;

use super::*;

const PRESSURE_PA: f64 = 101_325.0;
const ENTERING: CoilAir<f64> = CoilAir { temperature_c: 27.0, humidity_ratio: 0.0111445 };
const LEAVING: CoilAir<f64> = CoilAir { temperature_c: 13.0, humidity_ratio: 0.0088585 };

#[test]
fn the_worked_rating_is_met() {
    // 27 °C/50 % to 13 °C/95 %, worked out for this project with psychrolib.
    let h = |air: &CoilAir<f64>| enthalpy_j_per_kg(air.temperature_c, air.humidity_ratio);
    assert_abs_diff_eq!(h(&ENTERING), 55_594.0, epsilon = 0.5);
    assert_abs_diff_eq!(h(&LEAVING), 35_447.0, epsilon = 0.5);
    assert_abs_diff_eq!(sensible_heat_ratio(&ENTERING, &LEAVING).unwrap(), 0.71052, epsilon = 1e-5);
    let adp_c = apparatus_dew_point_c(&ENTERING, &LEAVING, PRESSURE_PA).unwrap();
    assert_abs_diff_eq!(adp_c, 11.917, epsilon = 0.001);
    let adp_w = checked::saturation_humidity_ratio(adp_c, PRESSURE_PA).unwrap();
    assert_abs_diff_eq!(adp_w, 0.0086815, epsilon = 1e-6);
    let coil = CoilNumbers::rated(&ENTERING, &LEAVING, 0.5, PRESSURE_PA).unwrap();
    assert_abs_diff_eq!(coil.bypass_factor(0.5), 0.07183, epsilon = 1e-4);
    let by_enthalpy =
        (h(&LEAVING) - enthalpy_j_per_kg(adp_c, adp_w)) / (h(&ENTERING) - enthalpy_j_per_kg(adp_c, adp_w));
    assert_abs_diff_eq!(by_enthalpy, 0.07162, epsilon = 1e-4);
    // The line meets the curve: three points on one straight line.
    let slope = (ENTERING.humidity_ratio - LEAVING.humidity_ratio) / 14.0;
    assert_abs_diff_eq!(LEAVING.humidity_ratio - slope * (13.0 - adp_c), adp_w, epsilon = 1e-9);
}

#[test]
fn the_rated_air_leaves_at_the_rated_flow_and_less_flow_meets_the_coil_better() {
    let coil = CoilNumbers::rated(&ENTERING, &LEAVING, 0.5, PRESSURE_PA).unwrap();
    let rated = coil.leaving(&ENTERING, 0.5, PRESSURE_PA);
    assert_abs_diff_eq!(rated.temperature_c, 13.0, epsilon = 1e-10);
    assert_abs_diff_eq!(rated.humidity_ratio, LEAVING.humidity_ratio, epsilon = 1e-9);
    // Half of the flow: BF², 0.07183² = 0.005160.
    assert_relative_eq!(
        coil.bypass_factor(0.25),
        coil.bypass_factor(0.5) * coil.bypass_factor(0.5),
        max_relative = 1e-12
    );
    assert_abs_diff_eq!(coil.bypass_factor(0.25), 0.005160, epsilon = 2e-5);
    assert_abs_diff_eq!(coil.bypass_factor(0.0), 0.0);
}

#[test]
fn a_coil_warmer_than_the_dew_point_leaves_the_water_alone() {
    let coil = CoilNumbers::with_bypass(11.0, 0.1, 0.5).unwrap();
    // Saturated at 11 °C: 0.00816. Air of 0.006 is drier.
    let dry = CoilAir { temperature_c: 27.0, humidity_ratio: 0.006 };
    let left = coil.leaving(&dry, 0.5, PRESSURE_PA);
    assert_abs_diff_eq!(left.humidity_ratio, 0.006, epsilon = 1e-17);
    // 11 + 0.1 × 16.
    assert_abs_diff_eq!(left.temperature_c, 12.6, epsilon = 1e-12);
    assert_abs_diff_eq!(sensible_heat_ratio(&dry, &left).unwrap(), 1.0, epsilon = 1e-12);
}

#[test]
fn what_drains_takes_its_heat_along() {
    // What drains at 13 °C takes 4186 × 13 × 0.002286 = 124.4 J of the 20 147 with it.
    let h = |air: &CoilAir<f64>| enthalpy_j_per_kg(air.temperature_c, air.humidity_ratio);
    assert_abs_diff_eq!(
        cooling_j_per_kg(&ENTERING, &LEAVING, 13.0),
        h(&ENTERING) - h(&LEAVING) - 124.4,
        epsilon = 0.05
    );
}

#[test]
fn the_run_fraction_is_the_load_over_what_the_coil_can() {
    let coil = CoilNumbers::with_bypass(11.0, 0.1, 0.5).unwrap();
    let room = CoilAir { temperature_c: 25.0, humidity_ratio: 0.010 };
    // 0.5 × 0.9 × (1006 + 18.6) × 14 = 6454.98 W.
    assert_abs_diff_eq!(coil.run_fraction(6454.98 / 4.0, &room, 0.5), 0.25, epsilon = 1e-9);
    assert_abs_diff_eq!(coil.run_fraction(9000.0, &room, 0.5), 1.0);
    assert_abs_diff_eq!(coil.run_fraction(0.0, &room, 0.5), 0.0);
    // A room as cold as the coil, and a coil without air.
    let cold = CoilAir { temperature_c: 11.0, ..room };
    assert_abs_diff_eq!(coil.run_fraction(10.0, &cold, 0.5), 1.0);
    assert_abs_diff_eq!(coil.run_fraction(0.0, &cold, 0.0), 0.0);
}

#[test]
fn a_blower_that_runs_on_brings_water_back_in_part_load() {
    for run in [0.0, 0.2, 0.5, 1.0] {
        assert_abs_diff_eq!(drained_share(Blower::StopsWithCoil, run), 1.0);
    }
    // (0.65 − 0.3)/0.7.
    for (run, share) in [(0.0, 0.0), (0.2, 0.0), (0.3, 0.0), (0.65, 0.5), (1.0, 1.0)] {
        assert_abs_diff_eq!(drained_share(Blower::RunsOn, run), share, epsilon = 1e-12);
    }
}

#[test]
fn ratings_that_are_none_are_refused_with_the_reason() {
    let told = |entering: &CoilAir<f64>, leaving: &CoilAir<f64>| {
        apparatus_dew_point_c(entering, leaving, PRESSURE_PA).unwrap_err().to_string()
    };
    let with = |temperature_c, humidity_ratio| CoilAir { temperature_c, humidity_ratio };
    assert_eq!(
        told(&LEAVING, &ENTERING),
        "the air leaves the coil at 27 °C and enters at 13 °C; it must leave colder"
    );
    assert_eq!(
        told(&ENTERING, &with(13.0, 0.0111445)),
        "the air leaves the coil with 0.0111445 kg/kg and enters with 0.0111445 kg/kg; a rating must be of a wet coil, whose air leaves drier"
    );
    assert!(
        told(&ENTERING, &with(13.0, 0.0098))
            .starts_with("the air leaves the coil with 0.0098 kg/kg, and air of 13 °C holds 0.0093")
    );
    // 27 to 20 °C from 11.1 to 6 g/kg: steeper than the saturation curve below 20 °C.
    assert!(
        told(&ENTERING, &with(20.0, 0.006))
            .starts_with("the line from the entering to the leaving air meets saturation nowhere")
    );
    assert_eq!(
        told(&with(f64::NAN, 0.01), &LEAVING),
        "the temperature of the air entering the coil is NaN °C; it must be from 0 to 60 °C"
    );
}

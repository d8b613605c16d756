//! A sinusoidal year without storage: heating is a conductance times the degree-hours of the sinusoid, in closed form
//! `(P/π) [(π − acos x)(T_b − T_m) + A √(1 − x²)]`, `x = (T_b − T_m)/A`.
//!
//! Not here: real weather.
mod common;

use core::f64::consts::{PI, TAU};

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::{HOURS, drivers, plain_house, plate, run, sum, unit, year_of};
use simulation::{House, Unit};

const MEAN_C: f64 = 8.0;
const AMPLITUDE_K: f64 = 14.0;
const BASE_C: f64 = 18.0;

/// Degree-hours below the base over the year [K h].
fn degree_hours() -> f64 {
    let x = (BASE_C - MEAN_C) / AMPLITUDE_K;
    HOURS as f64 / PI * ((PI - x.acos()) * (BASE_C - MEAN_C) + AMPLITUDE_K * (1.0 - x * x).sqrt())
}

/// The year at mid-hours, coldest in the middle of January, without any water.
fn sinusoid() -> simulation::Drivers {
    drivers(&year_of(|h| {
        let hour = h as f64 + 0.5 - 360.0;
        (MEAN_C - AMPLITUDE_K * (TAU * hour / HOURS as f64).cos(), 0.0)
    }))
}

/// No windows, no gains, heated to the base temperature; the mass is the least that the hourly rule does not swing
/// with: `C/3600` 50 W/K against `(H₃ + H_em)/2` of at most 40.
fn light_house(leakage_kg_per_s: f64) -> House {
    let mut house = plain_house();
    let h = &mut house.numbers;
    h.windows_w_per_k = 0.0;
    h.gain_share_lost = 0.0;
    h.mass_j_per_k = 50.0 * 3600.0;
    h.heating_set_point_c = BASE_C;
    h.leakage_kg_per_s = leakage_kg_per_s;
    house
}

/// From air to outdoors through surface and mass [W/K].
fn walls_w_per_k(house: &House) -> f64 {
    let h = &house.numbers;
    1.0 / (1.0 / h.outdoor_to_mass_w_per_k + 1.0 / h.mass_to_surface_w_per_k + 1.0 / h.surface_to_air_w_per_k)
}

/// The mass follows with a lag of one or two hours, which moves heat within the heating season and loses none. At its two
/// ends the load is a corner: there the lag is worth half its square times the slope of 0.007 K/h, 0.014 K h each of
/// 93 305.
const LAG: f64 = 4e-7;

#[test]
fn the_closed_form_is_the_printed_number() {
    assert_abs_diff_eq!(degree_hours(), 93305.1257, epsilon = 1e-4);
}

#[test]
fn heating_is_conductance_times_degree_hours() {
    let house = light_house(0.03);
    let [_, year] = run(&plate(&house, Unit::none()), &sinusoid());
    let total_w_per_k = walls_w_per_k(&house) + 0.03 * 1006.0;
    let heating_wh = sum(&year.hourly.heating_load_w);
    assert_relative_eq!(heating_wh, total_w_per_k * degree_hours(), max_relative = LAG);
}

#[test]
fn a_core_takes_its_effectiveness_off_the_ventilation() {
    let house = light_house(0.005);
    for effectiveness in [0.5, 0.75, 0.9] {
        let core = unit(0.04, effectiveness, 0.0);
        let [year, baseline] = run(&plate(&house, core), &sinusoid());
        let fixed_w_per_k = walls_w_per_k(&house) + 0.005 * 1006.0;
        let with = fixed_w_per_k + 0.04 * 1006.0 * (1.0 - effectiveness);
        let without = fixed_w_per_k + 0.04 * 1006.0;
        let heating_wh = sum(&year.hourly.heating_load_w);
        assert_relative_eq!(heating_wh, with * degree_hours(), max_relative = LAG);
        let heating_wh = sum(&baseline.hourly.heating_load_w);
        assert_relative_eq!(heating_wh, without * degree_hours(), max_relative = LAG);
    }
}

#[test]
fn hours_with_heating_are_the_hours_below_the_base() {
    let house = light_house(0.03);
    let [_, year] = run(&plate(&house, Unit::none()), &sinusoid());
    let heated = year.hourly.heating_load_w.iter().filter(|&&w| w > 0.0).count();
    let x = (BASE_C - MEAN_C) / AMPLITUDE_K;
    let below = HOURS as f64 * (1.0 - x.acos() / PI);
    // The lag can move each end of the season by an hour, and an hour is the grain.
    assert_abs_diff_eq!(heated as f64, below, epsilon = 2.0);
}

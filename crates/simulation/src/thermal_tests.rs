//! The hourly heat balance against the worked house of its method: 100 m², medium mass, `H_w` 30, `H_op` 40, `H_ve` 35
//! W/K. Expected values were computed for this project by a separate program from the method's own equations
//! ([ISO 13790] Annex C, equations from memory), and are printed to five decimals.
//!
//! Not here: what the hour loop does with it (`tests/steady_year.rs`).

use approx::assert_abs_diff_eq;

use super::{ThermalDrive, ThermalHour, solve_hour};
use crate::inputs::{House, HouseNumbers, SiteNumbers};

const VENTILATION_W_PER_K: f64 = 35.0;
/// A printed digit is 1e-5; the check values are asked to 1e-4.
const PRINTED: f64 = 1e-4;

pub(crate) fn worked_house() -> House {
    let numbers = HouseNumbers {
        floor_area_m2: 100.0,
        outdoor_to_mass_w_per_k: 1.0 / (1.0 / 40.0 - 1.0 / 2275.0),
        mass_to_surface_w_per_k: 2275.0,
        surface_to_air_w_per_k: 1552.5,
        windows_w_per_k: 30.0,
        gain_share_mass: 250.0 / 450.0,
        gain_share_lost: 30.0 / (9.1 * 450.0),
        mass_j_per_k: 16.5e6,
        heating_set_point_c: -100.0,
        heating_capacity_w: 1e9,
        heating_efficiency: 1.0,
        cooling_set_point_c: 1e3,
        cooling_capacity_w: 0.0,
        cooling_cop: 1.0,
        apparatus_dew_point_c: 11.0,
        people: 0.0,
        person_heat_w: 0.0,
        person_water_kg_per_s: 0.0,
        other_gains_w: 0.0,
        showers_kg_per_day: 0.0,
        cooking_kg_per_day: 0.0,
        laundry_kg_per_day: 0.0,
        plants_kg_per_day: 0.0,
        rest_air_kg: 250.0,
        wet_air_kg: 50.0,
        wet_share: 0.0,
        door_kg_per_s: 0.0,
        leakage_kg_per_s: 0.0,
        surface_kg_per_s_pa: 0.0,
        surface_capacity_kg: 1.0,
    };
    House {
        numbers,
        site: SiteNumbers::none(),
        apertures_m2: [0.0; crate::MAX_FACINGS],
        indoors: crate::Indoors::NONE,
    }
}

/// All air enters at the outdoor temperature.
fn drive(outdoor_c: f64, internal_w: f64, solar_w: f64) -> ThermalDrive<f64> {
    ThermalDrive {
        outdoor_c,
        air_w_per_k: VENTILATION_W_PER_K,
        air_w: VENTILATION_W_PER_K * outdoor_c + internal_w * 0.5,
        radiant_w: internal_w * 0.5 + solar_w,
        ground_c: 0.0,
        ground_w_per_k: 0.0,
        set_back_k: 0.0,
        set_up_k: 0.0,
    }
}

fn operative_c(hour: &ThermalHour<f64>) -> f64 {
    0.3 * hour.air_c + 0.7 * hour.surface_c
}

#[test]
fn an_hour_without_heating_meets_the_first_check() {
    let hour = solve_hour(&worked_house(), 20.0, &drive(-10.0, 500.0, 300.0));
    assert_abs_diff_eq!(hour.mass_end_c, 19.49982, epsilon = PRINTED);
    assert_abs_diff_eq!(hour.mass_c, 19.74991, epsilon = PRINTED);
    assert_abs_diff_eq!(hour.surface_c, 19.14036, epsilon = PRINTED);
    assert_abs_diff_eq!(hour.air_c, 18.65537, epsilon = PRINTED);
    assert_abs_diff_eq!(operative_c(&hour), 18.99486, epsilon = PRINTED);
    assert_abs_diff_eq!(hour.heating_w, 0.0);
}

#[test]
fn heating_to_21_degrees_meets_the_second_check() {
    let mut house = worked_house();
    house.numbers.heating_set_point_c = 21.0;
    let drive = drive(-10.0, 500.0, 300.0);
    let hour = solve_hour(&house, 20.0, &drive);
    // Printed to 1 mW.
    assert_abs_diff_eq!(hour.heating_w, 2063.286, epsilon = 1e-3);
    assert_abs_diff_eq!(hour.mass_end_c, 19.92322, epsilon = PRINTED);
    assert_abs_diff_eq!(hour.surface_c, 20.20883, epsilon = PRINTED);
    assert_abs_diff_eq!(hour.air_c, 21.0, epsilon = 1e-12);
    assert_abs_diff_eq!(operative_c(&hour), 20.44618, epsilon = PRINTED);
    house.numbers.heating_capacity_w = 1000.0;
    let limited = solve_hour(&house, 20.0, &drive);
    assert_abs_diff_eq!(limited.air_c, 19.791729, epsilon = PRINTED);
    assert_abs_diff_eq!(limited.heating_w, 1000.0);
}

#[test]
fn the_steady_state_meets_the_third_check_and_misses_the_gain_that_the_method_loses() {
    let mut house = worked_house();
    house.numbers.heating_set_point_c = 100.0;
    house.numbers.heating_capacity_w = 2000.0;
    let drive = drive(0.0, 500.0, 0.0);
    let mut mass_c = 20.0;
    // A hundred time constants of 44 h.
    for _ in 0..4400 {
        mass_c = solve_hour(&house, mass_c, &drive).mass_end_c;
    }
    let hour = solve_hour(&house, mass_c, &drive);
    assert_abs_diff_eq!(hour.mass_c, 23.11619, epsilon = PRINTED);
    assert_abs_diff_eq!(hour.surface_c, 23.46886, epsilon = PRINTED);
    assert_abs_diff_eq!(hour.air_c, 24.36876, epsilon = PRINTED);
    let h = &house.numbers;
    let losses_w = h.outdoor_to_mass_w_per_k * hour.mass_c
        + h.windows_w_per_k * hour.surface_c
        + VENTILATION_W_PER_K * hour.air_c;
    // Printed to 1 mW.
    assert_abs_diff_eq!(losses_w, 2498.168, epsilon = 1e-3);
    assert_abs_diff_eq!(losses_w + h.gain_share_lost * 250.0, 2500.0, epsilon = 1e-9);
}

#[test]
fn a_day_of_cooling_down_meets_the_fourth_check() {
    let house = worked_house();
    let drive = drive(0.0, 0.0, 0.0);
    let mut mass_c = 20.0;
    for _ in 0..24 {
        let end_c = solve_hour(&house, mass_c, &drive).mass_end_c;
        assert_abs_diff_eq!(end_c / mass_c, 0.97773842, epsilon = 1e-8);
        mass_c = end_c;
    }
    assert_abs_diff_eq!(mass_c, 11.65130, epsilon = PRINTED);
    // The exact exponential, 44.4204 h: the trapezoidal rule is 3e-4 K off it after a day.
    assert_abs_diff_eq!(mass_c, 20.0 * (-24.0_f64 / 44.4204).exp(), epsilon = 4e-4);
}

#[test]
fn cooling_holds_its_set_point_until_its_capacity_ends() {
    let mut house = worked_house();
    house.numbers.cooling_set_point_c = 24.0;
    house.numbers.cooling_capacity_w = 1e9;
    let drive = drive(35.0, 500.0, 1000.0);
    let free = solve_hour(&worked_house(), 25.0, &drive);
    let held = solve_hour(&house, 25.0, &drive);
    assert!(free.air_c > 24.0);
    assert_abs_diff_eq!(held.air_c, 24.0, epsilon = 1e-12);
    assert_abs_diff_eq!(held.heating_w, 0.0);
    house.numbers.cooling_capacity_w = 0.5 * held.cooling_w;
    let limited = solve_hour(&house, 25.0, &drive);
    // The balance is linear, so half of the cooling does half of the work.
    assert_abs_diff_eq!(limited.air_c, 0.5 * (free.air_c + 24.0), epsilon = 1e-9);
}

#[test]
fn a_room_without_any_air_change_is_no_special_case() {
    let mut drive = drive(-10.0, 0.0, 0.0);
    drive.air_w_per_k = 0.0;
    drive.air_w = 0.0;
    let hour = solve_hour(&worked_house(), 20.0, &drive);
    // No heat passes between air and surface.
    assert_abs_diff_eq!(hour.air_c, hour.surface_c, epsilon = 1e-12);
}

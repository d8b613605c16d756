//! A year in which every hour is alike: supply air, recovered heat, heating and humidity against closed forms.
//!
//! Not here: water in the core (`steady_condensate.rs`).
mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::{HOURS, constant_year, drivers, last, line, membrane, plain_house, plate, run, sum, unit};
use psychrometrics::formulas::{liquid_enthalpy_j_per_kg, vapour_enthalpy_j_per_kg};
use simulation::{House, HouseNumbers, Line, RunOptions, Unit, run_no_ventilation};

const HOUR_S: f64 = 3600.0;
/// Dry on both sides, so that no heat capacity differs and no plate is wet.
const DRY_W: f64 = 0.0015;

fn house_with(change: impl FnOnce(&mut HouseNumbers<f64>)) -> House {
    let mut house = plain_house();
    change(&mut house.numbers);
    house
}

#[test]
fn supply_air_is_the_counterflow_closed_form_above_the_warmed_inlet() {
    let cp = 1006.0 + 1860.0 * DRY_W;
    let m = 0.04;
    let mut fans = unit(m, 0.0, 0.0);
    fans.ua_w_per_k = 3.0 * m * cp;
    fans.fan_heat_before_w = 25.0;
    let [year, baseline] = run(&plate(&plain_house(), fans), &drivers(&constant_year(5.0, DRY_W)));
    // Equal capacities and NTU 3: effectiveness 3/4, from the inlet that the fan has warmed.
    let inlet_c = 5.0 + 25.0 / (m * cp);
    let supply_c = inlet_c + 0.75 * (21.0 - inlet_c);
    assert_abs_diff_eq!(last(&year.hourly.supply_c), supply_c, epsilon = 1e-9);
    assert_abs_diff_eq!(last(&year.hourly.exhaust_c), 21.0 - 0.75 * (21.0 - inlet_c), epsilon = 1e-9);
    assert_abs_diff_eq!(last(&year.hourly.plate_cold_end_c), inlet_c + 2.0, epsilon = 0.1);
    let recovered_w = m * cp * (supply_c - inlet_c);
    let hours = HOURS as f64;
    assert_relative_eq!(sum(&year.hourly.recovered_sensible_w), recovered_w * hours, max_relative = 1e-9);
    assert_abs_diff_eq!(sum(&year.hourly.recovered_latent_w), 0.0, epsilon = 1e-6);
    assert_abs_diff_eq!(last(&baseline.hourly.supply_c), inlet_c, epsilon = 1e-12);
    assert_abs_diff_eq!(sum(&baseline.hourly.recovered_sensible_w), 0.0, epsilon = 1e-6);
}

#[test]
fn unequal_flows_meet_the_printed_effectiveness_table() {
    // Supply flow for each unit of extract flow, and the supply temperature ratio; conductance of NTU 3 at equal flows.
    let rows = [(0.8, 0.84814), (0.9, 0.79823), (1.0, 0.75), (1.1, 0.70475), (1.25, 0.64346)];
    for (ratio, supply_ratio) in rows {
        let core = Unit {
            supply_kg_per_s: 0.04 * ratio,
            extract_kg_per_s: 0.04,
            ua_w_per_k: 3.0 * 0.04 * 1006.0,
            ..Unit::none()
        };
        let [year, _] = run(&plate(&plain_house(), core), &drivers(&constant_year(5.0, 0.0)));
        let found = (last(&year.hourly.supply_c) - 5.0) / 16.0;
        // Printed to 1e-5.
        assert_abs_diff_eq!(found, supply_ratio, epsilon = 6e-6);
    }
}

/// Surface and mass temperature of the steady house, from the two node balances.
fn nodes(h: &HouseNumbers<f64>, air_c: f64, outdoor_c: f64, radiant_w: f64) -> (f64, f64) {
    let (h_em, h_ms) = (h.outdoor_to_mass_w_per_k, h.mass_to_surface_w_per_k);
    let (h_is, h_w) = (h.surface_to_air_w_per_k, h.windows_w_per_k);
    let at_mass = h_em * outdoor_c + h.gain_share_mass * radiant_w;
    let at_surface = (1.0 - h.gain_share_mass - h.gain_share_lost) * radiant_w;
    let known = h_is * air_c + h_w * outdoor_c + at_surface + h_ms * at_mass / (h_ms + h_em);
    let surface_c = known / (h_is + h_w + h_ms - h_ms * h_ms / (h_ms + h_em));
    (surface_c, (h_ms * surface_c + at_mass) / (h_ms + h_em))
}

#[test]
fn heating_is_what_the_steady_house_loses_and_does_not_gain() {
    let house = house_with(|h| {
        h.other_gains_w = 300.0;
        h.leakage_kg_per_s = 0.01;
        h.plants_kg_per_day = 2.0;
    });
    let mut fans = unit(0.04, 0.8, 0.0);
    fans.fan_heat_after_w = 20.0;
    let [year, _] = run(&plate(&house, fans), &drivers(&constant_year(5.0, DRY_W)));
    let h = &house.numbers;
    let (surface_c, mass_c) = nodes(h, 21.0, 5.0, 150.0);
    let cp = 1006.0 + 1860.0 * DRY_W;
    // Plants evaporate with room heat; all vapour leaves at the room's temperature.
    let plants_w = 2.0 / 86_400.0 * (vapour_enthalpy_j_per_kg(21.0) - liquid_enthalpy_j_per_kg(21.0));
    let supply_c = last(&year.hourly.supply_c);
    let losses_w = h.outdoor_to_mass_w_per_k * (mass_c - 5.0)
        + h.windows_w_per_k * (surface_c - 5.0)
        + 0.01 * cp * 16.0
        + 0.04 * cp * (21.0 - supply_c)
        + 300.0 / 2.0 * h.gain_share_lost
        + plants_w;
    let heating_w = losses_w - 300.0 - 20.0;
    assert_abs_diff_eq!(last(&year.hourly.heating_load_w), heating_w, epsilon = 1e-6);
    // By the air node alone, which the walls do not enter.
    let by_air_w = h.surface_to_air_w_per_k * (21.0 - surface_c)
        + 0.01 * cp * 16.0
        + 0.04 * cp * (21.0 - supply_c)
        + plants_w
        - 150.0
        - 20.0;
    assert_abs_diff_eq!(by_air_w, heating_w, epsilon = 1e-9);
    // The plate is dry; the extract is 0.44 g/kg wetter than outdoor air: counterflow of unequal capacities.
    let (c_s, c_e) = (0.04 * cp, 0.04 * (1006.0 + 1860.0 * last(&year.hourly.wet_humidity_ratio)));
    let e = (-fans.ua_w_per_k / c_s * (1.0 - c_s / c_e)).exp();
    let effectiveness = (1.0 - e) / (1.0 - c_s / c_e * e);
    assert_abs_diff_eq!(supply_c, 5.0 + 16.0 * effectiveness, epsilon = 1e-8);
}

#[test]
fn the_gain_that_the_heat_model_loses_is_a_line_of_the_ledger() {
    let house = house_with(|h| {
        h.other_gains_w = 500.0;
        h.heating_set_point_c = 40.0;
        h.heating_capacity_w = 2000.0;
        h.leakage_kg_per_s = 35.0 / 1006.0;
    });
    let options = RunOptions { lead_in_hours: HOURS, tamper: None };
    let year = run_no_ventilation(&house, &drivers(&constant_year(0.0, 0.0)), options).unwrap();
    let hours = HOURS as f64;
    let mean_w = |l| line(&year, l) / (hours * HOUR_S);
    // The worked house of the method: printed to 1 mW and 1e-5 K.
    assert_abs_diff_eq!(mean_w(Line::GainsLost), -1.832, epsilon = 5e-4);
    assert_abs_diff_eq!(mean_w(Line::GainsLost), -250.0 * 30.0 / (9.1 * 450.0), epsilon = 1e-9);
    let lost_w =
        mean_w(Line::ConductionOpaque) + mean_w(Line::ConductionWindows) + mean_w(Line::InfiltrationSensible);
    assert_abs_diff_eq!(lost_w, -2498.168, epsilon = 1e-3);
    assert_abs_diff_eq!(last(&year.hourly.air_c), 24.36876, epsilon = 1e-5);
    assert_abs_diff_eq!(last(&year.hourly.operative_c), 0.3 * 24.36876 + 0.7 * 23.46886, epsilon = 1e-5);
}

/// Flows L/s of unit and leakage at 1.2 kg/m³, latent effectiveness, humidity ratio, percent at 21 °C: rows of a table
/// computed for this project with 10 kg/day in the house and outdoor air of 1.279 g/kg.
const HUMIDITY_ROWS: [(f64, f64, f64, f64, f64); 4] = [
    (40.0, 10.0, 0.0, 0.003208, 20.90),
    (40.0, 10.0, 0.5, 0.004494, 29.22),
    (40.0, 10.0, 0.65, 0.005298, 34.40),
    (30.0, 5.0, 0.5, 0.006101, 39.57),
];
const OUTDOOR_W: f64 = 0.001279;

fn humidity_row(row: (f64, f64, f64, f64, f64), house: &House, spread: Unit) -> (f64, f64, f64) {
    let mut house = *house;
    house.numbers.plants_kg_per_day = 10.0;
    house.numbers.leakage_kg_per_s = row.1 * 1.2e-3;
    let core = Unit {
        extract_wet_share: spread.extract_wet_share,
        supply_wet_share: spread.supply_wet_share,
        ..unit(row.0 * 1.2e-3, 0.75, row.2)
    };
    // The table's outdoor air is at −10 °C; at 15 °C the membrane stays dry, and water does not ask for temperature.
    let [year, _] = run(&membrane(&house, core), &drivers(&constant_year(15.0, OUTDOOR_W)));
    let h = &year.hourly;
    assert_abs_diff_eq!(last(&h.air_c), 21.0, epsilon = 1e-9);
    (last(&h.humidity_ratio), last(&h.wet_humidity_ratio), last(&h.relative_humidity))
}

#[test]
fn steady_humidity_meets_the_four_rows() {
    for row in HUMIDITY_ROWS {
        // Leakage and source in the rest zone, extract through the wet rooms: both zones are one.
        let (rest_w, wet_w, rh) = humidity_row(row, &plain_house(), unit(0.04, 0.0, 0.0));
        // Printed to 1e-6, and outdoor air too.
        assert_abs_diff_eq!(rest_w, row.3, epsilon = 1.1e-6);
        assert_abs_diff_eq!(100.0 * rh, row.4, epsilon = 0.01);
        let air = 1.2e-3 * (row.1 + row.0 * (1.0 - row.2));
        assert_abs_diff_eq!(rest_w, OUTDOOR_W + 10.0 / 86_400.0 / air, epsilon = 1e-12);
        assert_abs_diff_eq!(wet_w, rest_w, epsilon = 1e-12);
    }
}

#[test]
fn wide_open_doors_make_one_zone_of_two() {
    let house = house_with(|h| {
        h.wet_share = 0.15;
        h.door_kg_per_s = 100.0;
    });
    for row in HUMIDITY_ROWS {
        let mut spread = unit(0.04, 0.0, 0.0);
        (spread.extract_wet_share, spread.supply_wet_share) = (1.0, 0.0);
        let (rest_w, wet_w, _) = humidity_row(row, &house, spread);
        // 0.1 g/s at most through 100 kg/s.
        assert_abs_diff_eq!(rest_w, wet_w, epsilon = 1e-6);
        assert_abs_diff_eq!(rest_w, row.3, epsilon = 2.1e-6);
    }
}

#[test]
fn two_steady_zones_share_water_as_their_balances_say() {
    let house = house_with(|h| {
        h.plants_kg_per_day = 10.0;
        h.leakage_kg_per_s = 0.012;
        h.wet_share = 0.15;
    });
    let [year, _] = run(&plate(&house, unit(0.04, 0.6, 0.0)), &drivers(&constant_year(15.0, OUTDOOR_W)));
    // Above outdoor air: rest (0.04 + 0.03 + 0.0102) x − 0.03 y = G; wet (0.04 + 0.03 + 0.0018) y − 0.07 x = 0.
    let g = 10.0 / 86_400.0;
    let y_per_x = 0.07 / 0.0718;
    let x = g / (0.0802 - 0.03 * y_per_x);
    assert_abs_diff_eq!(last(&year.hourly.humidity_ratio), OUTDOOR_W + x, epsilon = 1e-12);
    assert_abs_diff_eq!(last(&year.hourly.wet_humidity_ratio), OUTDOOR_W + y_per_x * x, epsilon = 1e-12);
}

/// A tenth of the supply air as much again leaks across from the wet rooms' air and is spread as it is: a quarter to the wet rooms.
#[test]
fn air_that_leaks_across_goes_where_the_supply_air_goes() {
    let house = house_with(|h| h.plants_kg_per_day = 10.0);
    let leaks = Unit { cross_leak_kg_per_s: 0.004, supply_wet_share: 0.25, ..unit(0.04, 0.6, 0.0) };
    let [year, _] = run(&plate(&house, leaks), &drivers(&constant_year(15.0, OUTDOOR_W)));
    // Above outdoor air, by hand: rest (0.033 + 0.03) x − (0.003 + 0.03) y = G; wet (0.044 + 0.03 − 0.001) y − (0.033 + 0.03) x = 0. Of both, 0.04 y = G.
    let y = 10.0 / 86_400.0 / 0.04;
    let x = y * 0.073 / 0.063;
    assert_abs_diff_eq!(last(&year.hourly.humidity_ratio), OUTDOOR_W + x, epsilon = 1e-12);
    assert_abs_diff_eq!(last(&year.hourly.wet_humidity_ratio), OUTDOOR_W + y, epsilon = 1e-12);
}

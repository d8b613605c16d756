//! What outdoor air does to a core and a house: where frost, water, dryness and damp begin.
#![allow(clippy::unwrap_used, clippy::panic)]

use approx::assert_abs_diff_eq;
use exchanger::Inlets;
use exchanger::cell::{Arrangement, PlateCase, solve_plate};
use psychrometrics::checked::humidity_ratio_from_relative_humidity;
use simulation::climate::{
    ClimateHour, CoreHour, HouseHour, LEAST_WATER, climate_hour, moisture_supply_kg_per_m3,
    room_relative_humidity,
};

const PRESSURE_PA: f64 = 101_325.0;

fn at(outdoor_c: f64, relative_humidity: f64) -> ClimateHour {
    let w = humidity_ratio_from_relative_humidity(outdoor_c, relative_humidity, PRESSURE_PA).unwrap();
    climate_hour(outdoor_c, w, PRESSURE_PA)
}

/// Warmest outdoor temperature, to a hundredth of a kelvin, at which something is so.
fn warmest(is_so: impl Fn(f64) -> bool) -> f64 {
    (-3000..2000).rev().map(|c| f64::from(c) / 100.0).find(|t| is_so(*t)).unwrap()
}

/// The same core in eighty cells: ice and liquid on the extract side, liquid on the supply side [kg/kg].
fn cells(outdoor_c: f64, relative_humidity: f64) -> [f64; 3] {
    let w = |t, rh| humidity_ratio_from_relative_humidity(t, rh, PRESSURE_PA).unwrap();
    let inlets = Inlets {
        outdoor_c,
        outdoor_humidity_ratio: w(outdoor_c, relative_humidity),
        extract_c: 21.0,
        extract_humidity_ratio: w(21.0, 0.4),
        supply_kg_per_s: 1.0,
        extract_kg_per_s: 1.0,
        pressure_pa: PRESSURE_PA,
    };
    let case = PlateCase {
        inlets,
        ua_w_per_k: 3018.0,
        vapour_kg_per_s: 0.0,
        arrangement: Arrangement::Counter,
        cells: 80,
    };
    let solution = solve_plate(&case).unwrap();
    let (out, supply) = (solution.extract_deposit, solution.supply_deposit);
    [out.ice_kg_per_s, out.liquid_kg_per_s, supply.liquid_kg_per_s]
}

/// The cell solution's own first ice, by bisection. A wet plate is at 0 °C when it is −6.0 °C outdoors: between the −4.2 °C of
/// 30 % and the −7.8 °C of 50 % by collocation (scipy `solve_bvp`).
#[test]
fn frost_begins_where_the_cell_solution_lays_ice_down() {
    let (mut cold, mut warm) = (-20.0, 5.0);
    while warm - cold > 0.01 {
        let middle = f64::midpoint(cold, warm);
        if cells(middle, 0.8)[0] >= LEAST_WATER { cold = middle } else { warm = middle }
    }
    let found = warmest(|t| at(t, 0.8).core == CoreHour::Frosts);
    assert_abs_diff_eq!(found, cold, epsilon = 0.3);
    assert_abs_diff_eq!(found, -6.0, epsilon = 0.5);
}

/// Air of 21 °C and 40 % has its dew point at 6.87 °C (Magnus form: 611.2 Pa, 17.62, 243.12 °C). The cold end of a dry plate is
/// midway between outdoor and exhaust air: `t = (t₁ + 21 − ε (21 − t₁))/2` with ε = 0.753 for this NTU: 6.87 °C when it is
/// 4.88 °C outdoors. A deposit that counts needs a little more.
#[test]
fn water_begins_where_the_dry_plate_meets_the_dew_point() {
    let found = warmest(|t| at(t, 0.8).core == CoreHour::Drains);
    assert!((4.5..4.88).contains(&found), "{found}");
    assert_eq!(at(4.95, 0.8).core, CoreHour::Dry);
}

/// Every hour of a grid of states as the cell solution sees it, but for those at the very beginning of water or ice.
#[test]
fn classes_are_those_of_the_cell_solution() {
    let mut compared = 0;
    for step in 0_i32..24 {
        for relative_humidity in [0.3, 0.6, 0.95] {
            let outdoor_c = -28.0 + 2.9 * f64::from(step);
            let [ice, liquid, supply] = cells(outdoor_c, relative_humidity);
            let near = |x: f64| (0.2..5.0).contains(&(x / LEAST_WATER));
            if near(ice) || near(liquid + supply) {
                continue;
            }
            let expected = if ice >= LEAST_WATER {
                CoreHour::Frosts
            } else if liquid + supply >= LEAST_WATER {
                CoreHour::Drains
            } else {
                CoreHour::Dry
            };
            assert_eq!(
                at(outdoor_c, relative_humidity).core,
                expected,
                "{outdoor_c} °C, {relative_humidity}"
            );
            compared += 1;
        }
    }
    assert!(compared >= 60, "{compared}");
}

/// Outdoor air of 35 °C with its dew point at 26 °C wets the supply side of a core whose rooms are at 21 °C.
#[test]
fn a_humid_summer_drains_on_the_supply_side() {
    let hour = at(35.0, 0.6);
    assert!(cells(35.0, 0.6)[2] > LEAST_WATER);
    assert_eq!(hour, ClimateHour { core: CoreHour::Drains, house: HouseHour::Dampens });
}

/// The published line: 4 g/m³ up to 5 °C, 1.5 g/m³ from 15 °C, midway 2.75 g/m³.
#[test]
fn the_moisture_supply_falls_from_four_grams_to_one_and_a_half() {
    for (outdoor_c, expected) in [(-30.0, 4.0), (5.0, 4.0), (10.0, 2.75), (15.0, 1.5), (35.0, 1.5)] {
        assert_abs_diff_eq!(moisture_supply_kg_per_m3(outdoor_c) * 1e3, expected, epsilon = 1e-12);
    }
}

/// By hand, with 461.5 J/kgK and saturation of 2487.7 Pa at 21 °C: −10 °C and 200 Pa are 1.647 g/m³; with 4 g/m³ 5.647 g/m³,
/// 766.6 Pa at 21 °C, 30.82 %. 10 °C and 1000 Pa are 7.653 g/m³; with 2.75 g/m³ 1412.1 Pa, 56.8 %.
#[test]
fn rooms_hold_the_outdoor_vapour_and_the_supply() {
    assert_abs_diff_eq!(room_relative_humidity(-10.0, 200.0), 0.3082, epsilon = 2e-4);
    assert_abs_diff_eq!(room_relative_humidity(10.0, 1000.0), 0.568, epsilon = 5e-4);
}

/// 30 % of 2487.7 Pa at 21 °C are 5.498 g/m³, less 4 g/m³ 1.498 g/m³: at −10 °C 181.9 Pa, 70 % of the 259.9 Pa over ice.
/// 60 % are 10.996 g/m³, less 1.5 g/m³ 9.496 g/m³: at 20 °C 1284.7 Pa, 54.9 % of 2338.8 Pa.
#[test]
fn dryness_and_damp_begin_at_the_stated_humidities() {
    assert_eq!(at(-10.0, 0.69).house, HouseHour::DriesOut);
    assert_eq!(at(-10.0, 0.71).house, HouseHour::Between);
    assert_eq!(at(20.0, 0.545).house, HouseHour::Between);
    assert_eq!(at(20.0, 0.555).house, HouseHour::Dampens);
}

/// At −25 °C and 80 % there are 50.6 Pa outdoors, 0.44 g/m³: rooms of 4.44 g/m³, 24 %, and ice in the core.
#[test]
fn severe_cold_frosts_the_core_and_dries_the_house() {
    assert_eq!(at(-25.0, 0.8), ClimateHour { core: CoreHour::Frosts, house: HouseHour::DriesOut });
}

#[test]
fn mild_air_does_neither() {
    assert_eq!(at(12.0, 0.5), ClimateHour { core: CoreHour::Dry, house: HouseHour::Between });
}

//! Ice in the core: it grows through a cold spell, melts in a mild one at the exhaust air's cost, and all of it is
//! there.
//!
//! Not here: how fast it grows (crate `exchanger`).
// The lints' exception for tests covers functions marked as tests, not the helpers that they call.
#![allow(clippy::unwrap_used)]

mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::{HOURS, PRESSURE_PA, drivers, plain_house, plate, run, sum, unit, year_of};
use exchanger::{Core, CoreKind, Inlets, solve};
use psychrometrics::formulas::enthalpy_j_per_kg;
use simulation::results::{Hourly, HouseYear};

const FLOW_KG_PER_S: f64 = 0.04;
const COLD_C: f64 = -20.0;
/// −20 °C at 80 %.
const COLD_W: f64 = 0.0005;
/// The warm spell starts here.
const THAW: usize = 4000;

/// The first part of the year at −20 °C, the rest at this temperature; the outdoor air holds the same water all year.
fn spell(warm_c: f64) -> HouseYear {
    let mut house = plain_house();
    // 30 % indoors: a plate that frosts at −20 °C and is dry at 10 °C.
    house.numbers.plants_kg_per_day = 14.0;
    let year = year_of(|h| (if h < THAW { COLD_C } else { warm_c }, COLD_W));
    let options = simulation::RunOptions::default();
    let variant = plate(&house, unit(FLOW_KG_PER_S, 0.75, 0.0));
    let [year, _] = simulation::run_pair("unit", &variant, &drivers(&year), options).unwrap();
    year
}

/// Ice formed less ice melted up to the end of each hour [kg].
fn balance(h: &Hourly) -> Vec<f64> {
    let flows = h.ice_formed_kg.iter().zip(&h.ice_melted_kg);
    flows
        .scan(0.0, |sum, (formed, melted)| {
            *sum += formed - melted;
            Some(*sum)
        })
        .collect()
}

#[test]
fn every_hour_ice_formed_is_ice_melted_and_ice_stored() {
    for warm_c in [-4.0, 1.0, 10.0] {
        let h = spell(warm_c).hourly;
        for (hour, (stored, frost)) in balance(&h).iter().zip(&h.frost_kg).enumerate() {
            assert!((stored - frost).abs() < 1e-9, "{warm_c} °C, hour {hour}: {stored} {frost}");
        }
    }
}

#[test]
fn in_lasting_cold_ice_grows_every_hour_and_none_melts() {
    let h = spell(10.0).hourly;
    assert!(h.frost_kg[..THAW].windows(2).all(|pair| pair[1] > pair[0]));
    assert_abs_diff_eq!(sum(&h.ice_melted_kg[..THAW]), 0.0);
    assert!(h.frost_kg[THAW - 1] > 100.0, "{}", h.frost_kg[THAW - 1]);
}

#[test]
fn when_all_is_gone_what_melted_is_what_formed() {
    let h = spell(10.0).hourly;
    let formed = sum(&h.ice_formed_kg);
    assert_abs_diff_eq!(h.frost_kg[HOURS - 1].to_bits() as f64, 0.0);
    assert_relative_eq!(sum(&h.ice_melted_kg), formed, max_relative = 1e-12);
    // Ice reaches the drain once, when it melts.
    let drained = sum(&h.liquid_kg) + formed;
    assert_relative_eq!(sum(&h.drain_kg), drained, max_relative = 1e-12);
}

#[test]
fn melting_takes_the_exhaust_air_to_zero_and_never_below() {
    let h = spell(10.0).hourly;
    let melting: Vec<usize> = (0..HOURS).filter(|&k| h.ice_melted_kg[k] > 0.0).collect();
    assert!(melting.len() > 3 && melting[0] >= THAW);
    let (last, all_but_last) = melting.split_last().unwrap();
    for &k in all_but_last {
        // More ice than an hour's air can melt: the air pays all it has above 0 °C.
        assert_abs_diff_eq!(h.exhaust_c[k], 0.0, epsilon = 1e-9);
    }
    assert!(h.exhaust_c[*last] >= -1e-9, "{}", h.exhaust_c[*last]);
}

#[test]
fn melting_costs_the_heat_of_fusion_and_the_warming_of_the_ice() {
    let h = spell(10.0).hourly;
    let air_kg = FLOW_KG_PER_S * 3600.0;
    // The room holds its state all year, so the exhaust of the dry core in the warm spell is what melting takes from.
    let untouched = enthalpy_j_per_kg(h.exhaust_c[HOURS - 1], h.exhaust_humidity_ratio[HOURS - 1]);
    let paid_j: f64 = (THAW..HOURS)
        .filter(|&k| h.ice_melted_kg[k] > 0.0)
        .map(|k| air_kg * (untouched - enthalpy_j_per_kg(h.exhaust_c[k], h.exhaust_humidity_ratio[k])))
        .sum();
    // Ice was laid down at one temperature, that of the steady cold spell.
    let inlets = Inlets {
        outdoor_c: COLD_C,
        outdoor_humidity_ratio: COLD_W,
        extract_c: 21.0,
        extract_humidity_ratio: h.wet_humidity_ratio[THAW - 1],
        supply_kg_per_s: FLOW_KG_PER_S,
        extract_kg_per_s: FLOW_KG_PER_S,
        pressure_pa: PRESSURE_PA,
    };
    let core = Core::counterflow(unit(FLOW_KG_PER_S, 0.75, 0.0).ua_w_per_k, 0.0);
    let ice_c = solve(CoreKind::SensiblePlate, &core, &inlets).ice_c;
    assert!((-12.0..-1.0).contains(&ice_c), "{ice_c}");
    let per_kg = paid_j / sum(&h.ice_melted_kg);
    // 333.4 kJ/kg and 2.1 kJ/kg K. The first day, before the room had settled, laid down its ice a little warmer.
    assert_relative_eq!(per_kg, 333.4e3 + 2.1e3 * -ice_c, max_relative = 1e-4);
}

#[test]
fn a_plate_below_freezing_keeps_its_ice() {
    // At −8 °C the plate ends below 0 °C, so nothing melts, although the exhaust air is above it.
    let h = spell(-8.0).hourly;
    assert_abs_diff_eq!(sum(&h.ice_melted_kg), 0.0);
    assert!(h.plate_cold_end_c[HOURS - 1] < 0.0 && h.exhaust_c[HOURS - 1] > 0.0);
}

#[test]
fn with_a_lead_in_the_ice_of_december_is_there_in_january() {
    let mut house = plain_house();
    house.numbers.plants_kg_per_day = 14.0;
    let year = year_of(|h| (if (100..THAW).contains(&h) { 10.0 } else { COLD_C }, COLD_W));
    let [year, _] = run(&plate(&house, unit(FLOW_KG_PER_S, 0.75, 0.0)), &drivers(&year));
    let h = &year.hourly;
    // What lay in the core when the year began is what is left of the year's balance.
    let opening = h.frost_kg[0] - h.ice_formed_kg[0] + h.ice_melted_kg[0];
    let hourly = h.ice_formed_kg[50];
    assert_relative_eq!(opening, 504.0 * hourly, max_relative = 1e-2);
    for (stored, frost) in balance(h).iter().zip(&h.frost_kg) {
        assert_abs_diff_eq!(opening + stored, *frost, epsilon = 1e-9);
    }
}

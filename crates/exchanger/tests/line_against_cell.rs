//! The line solution measured against the cell solution over the plausible states.
//!
//! Plausible: outdoor −30…45 °C, indoor 18…28 °C, indoor RH up to 60 % (45 % when colder than −20 °C),
//! outdoor RH 40…100 %, NTU 1.5…6, flow ratio 0.7…1.3, three pressures.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod common;

use common::{line, plate, solved, spread, w};
use exchanger::Inlets;
use exchanger::cell::{PlateCase, PlateSolution};

fn sample(n: usize) -> PlateCase {
    let between = |dimension, low: f64, high: f64| low + (high - low) * spread(n, dimension);
    let outdoor_c = between(0, -30.0, 45.0);
    let extract_c = between(1, 18.0, 28.0);
    let rh = between(2, 0.1, if outdoor_c < -20.0 { 0.45 } else { 0.60 });
    let pressure_pa = [101_325.0, 84_000.0, 70_000.0][n % 3];
    let ratio = between(4, 0.7, 1.3);
    let inlets = Inlets {
        outdoor_c,
        outdoor_humidity_ratio: w(outdoor_c, between(5, 0.4, 1.0), pressure_pa),
        extract_c,
        extract_humidity_ratio: w(extract_c, rh, pressure_pa),
        supply_kg_per_s: ratio,
        extract_kg_per_s: 1.0,
        pressure_pa,
    };
    plate(inlets, between(3, 1.5, 6.0) * 1006.0 * ratio.min(1.0), 60)
}

/// Water on both sides, for each kg of dry air on the warmer side, which is the one that loses it.
fn water_kg_per_kg(case: &PlateCase, solution: &PlateSolution) -> f64 {
    let [supply, extract] =
        [solution.supply_deposit, solution.extract_deposit].map(|d| d.liquid_kg_per_s + d.ice_kg_per_s);
    (supply + extract) / warm_kg_per_s(case)
}

fn warm_kg_per_s(case: &PlateCase) -> f64 {
    let inlets = &case.inlets;
    if inlets.extract_c > inlets.outdoor_c { inlets.extract_kg_per_s } else { inlets.supply_kg_per_s }
}

#[derive(Default, Debug)]
struct Worst {
    supply_k: f64,
    supply_g_per_kg: f64,
    water_share: f64,
    ice_share: f64,
    plate_k: f64,
    exhaust_gap_k: f64,
}

#[test]
fn over_the_plausible_states_the_line_stays_within_the_published_bounds() {
    let count = 600;
    let mut worst = Worst::default();
    let pairs: Vec<(PlateCase, PlateSolution)> =
        (0..count).map(sample).map(|case| (case, solved(&case))).collect();
    let largest = pairs.iter().map(|(case, cell)| water_kg_per_kg(case, cell)).fold(0.0, f64::max);
    let mut wet = 0;
    for (case, cell) in &pairs {
        let (fluxes, out) = line(case);
        let per_warm = 1.0 / warm_kg_per_s(case);
        let water = fluxes.liquid_kg_per_s + fluxes.ice_kg_per_s + fluxes.supply_liquid_kg_per_s;
        let reference = water_kg_per_kg(case, cell);
        let ice = cell.extract_deposit.ice_kg_per_s;
        wet += usize::from(reference > 0.0);
        let note = |slot: &mut f64, value: f64| *slot = slot.max(value.abs());
        note(&mut worst.supply_k, out.supply_c - cell.outlets.supply_c);
        let supply_w = cell.outlets.supply_humidity_ratio;
        note(&mut worst.supply_g_per_kg, 1e3 * (out.supply_humidity_ratio - supply_w));
        note(&mut worst.water_share, (water * per_warm - reference) / largest);
        note(&mut worst.ice_share, (fluxes.ice_kg_per_s - ice) * per_warm / largest);
        note(&mut worst.plate_k, fluxes.plate_cold_c - cell.coldest_plate_c);
        note(&mut worst.exhaust_gap_k, fluxes.own_exhaust_c - out.exhaust_c);
    }
    println!("{count} states, {wet} wet, largest water {:.2} g/kg: {worst:.3?}", 1e3 * largest);
    assert!(wet > 200, "the set must hold wet states");
    assert!(worst.supply_k < 0.3, "{worst:?}");
    assert!(worst.supply_g_per_kg < 0.15, "{worst:?}");
    assert!(worst.water_share < 0.05, "{worst:?}");
    assert!(worst.ice_share < 0.05, "{worst:?}");
}

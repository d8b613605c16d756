//! Shared by the tests of this crate: cases, and the line solution asked in the cell solution's terms.
#![allow(dead_code)]

use exchanger::cell::CellCase;
use exchanger::{Core, CoreKind, Fluxes, Inlets, Outlets, outlets, solve};
use psychrometrics::formulas::{humidity_ratio, saturation_pa};

/// Humidity ratio at this temperature and relative humidity (fraction).
pub fn w(t_c: f64, relative_humidity: f64, pressure_pa: f64) -> f64 {
    humidity_ratio(relative_humidity * saturation_pa(t_c), pressure_pa)
}

/// The winter case: extract is the hotter stream.
pub fn inlets_of(case: &CellCase) -> Inlets<f64> {
    Inlets {
        outdoor_c: case.cold_c,
        outdoor_humidity_ratio: case.cold_humidity_ratio,
        extract_c: case.hot_c,
        extract_humidity_ratio: case.hot_humidity_ratio,
        supply_kg_per_s: case.cold_kg_per_s,
        extract_kg_per_s: case.hot_kg_per_s,
        pressure_pa: case.pressure_pa,
    }
}

pub fn line(case: &CellCase) -> (Fluxes<f64>, Outlets<f64>) {
    let inlets = inlets_of(case);
    let core = Core::counterflow(case.ua_w_per_k, 0.0);
    let fluxes = solve(CoreKind::SensiblePlate, &core, &inlets);
    let out = outlets(&inlets, &fluxes);
    (fluxes, out)
}

//! Shared by the tests of this crate: air states, plates asked of both solutions, evenly spread points.
#![allow(dead_code)]

use exchanger::cell::{Arrangement, PlateCase, PlateSolution, solve_plate};
use exchanger::{Core, CoreKind, Fluxes, Inlets, Outlets, outlets, solve};
use psychrometrics::formulas::{humidity_ratio, saturation_pa};

/// Humidity ratio at this temperature and relative humidity (fraction).
pub fn w(t_c: f64, relative_humidity: f64, pressure_pa: f64) -> f64 {
    humidity_ratio(relative_humidity * saturation_pa(t_c), pressure_pa)
}

/// A tight counterflow plate.
pub fn plate(inlets: Inlets<f64>, ua_w_per_k: f64, cells: usize) -> PlateCase {
    PlateCase { inlets, ua_w_per_k, vapour_kg_per_s: 0.0, arrangement: Arrangement::Counter, cells }
}

pub fn solved(case: &PlateCase) -> PlateSolution {
    match solve_plate(case) {
        Ok(solution) => solution,
        Err(error) => panic!("{error}: {case:?}"),
    }
}

/// The line solution of the same plate.
pub fn line(case: &PlateCase) -> (Fluxes<f64>, Outlets<f64>) {
    let core = Core::counterflow(case.ua_w_per_k, 0.0);
    let fluxes = solve(CoreKind::SensiblePlate, &core, &case.inlets);
    let out = outlets(&case.inlets, &fluxes);
    (fluxes, out)
}

/// A fixed additive recurrence (powers of the inverse golden ratio's kin) spreads points evenly without a generator;
/// the `n`th point in this dimension (0…7), 0…1.
pub fn spread(n: usize, dimension: usize) -> f64 {
    const STEPS: [f64; 8] = [
        0.618033988749895,
        0.754877666246693,
        0.819172513396165,
        0.856674883854503,
        0.880970184254133,
        0.897653980206303,
        0.910146640231085,
        0.919767600131443,
    ];
    (0.5 + (n as f64 + 1.0) * STEPS[dimension]).fract()
}

//! The line solution measured against the cell solution over the plausible states.
//!
//! Plausible: outdoor −30…45 °C, indoor 18…28 °C, indoor RH up to 60 % (45 % when colder than −20 °C),
//! outdoor RH 40…100 %, NTU 1.5…6, flow ratio 0.7…1.3, three pressures.
mod common;

use common::w;
use exchanger::cell::{CellAnswer, CellCase, solve_cells};
use exchanger::{Core, CoreKind, Inlets, outlets, solve};

/// A fixed additive recurrence (golden ratio in each dimension) spreads points evenly without a generator.
fn spread(n: usize, dimension: u32) -> f64 {
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
    (0.5 + (n as f64 + 1.0) * STEPS[dimension as usize]).fract()
}

struct Sample {
    inlets: Inlets<f64>,
    case: CellCase,
    extract_is_hot: bool,
}

fn sample(n: usize) -> Sample {
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
    let extract_is_hot = extract_c > outdoor_c;
    let ua_w_per_k = between(3, 1.5, 6.0) * 1006.0 * ratio.min(1.0);
    let (hot_c, hot_w, hot_m, cold_c, cold_w, cold_m) = if extract_is_hot {
        (extract_c, inlets.extract_humidity_ratio, 1.0, outdoor_c, inlets.outdoor_humidity_ratio, ratio)
    } else {
        (outdoor_c, inlets.outdoor_humidity_ratio, ratio, extract_c, inlets.extract_humidity_ratio, 1.0)
    };
    let case = CellCase {
        hot_c,
        hot_humidity_ratio: hot_w,
        hot_kg_per_s: hot_m,
        cold_c,
        cold_humidity_ratio: cold_w,
        cold_kg_per_s: cold_m,
        ua_w_per_k,
        pressure_pa,
    };
    Sample { inlets, case, extract_is_hot }
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
    let pairs: Vec<(Sample, CellAnswer)> = (0..count)
        .map(|n| {
            let s = sample(n);
            let cell = solve_cells(&s.case, 60);
            (s, cell)
        })
        .collect();
    // Rates are for each kg of dry air on the side that condenses.
    let largest = pairs
        .iter()
        .map(|(s, c)| (c.liquid_kg_per_s + c.ice_kg_per_s) / s.case.hot_kg_per_s)
        .fold(0.0, f64::max);
    let mut wet = 0;
    for (s, cell) in &pairs {
        let core = Core::counterflow(s.case.ua_w_per_k, 0.0);
        let fluxes = solve(CoreKind::SensiblePlate, &core, &s.inlets);
        let out = outlets(&s.inlets, &fluxes);
        let (supply_c, supply_w) = if s.extract_is_hot {
            (cell.cold_out_c, s.inlets.outdoor_humidity_ratio)
        } else {
            (cell.hot_out_c, cell.hot_out_humidity_ratio)
        };
        let water = fluxes.liquid_kg_per_s + fluxes.ice_kg_per_s + fluxes.supply_liquid_kg_per_s;
        let per_hot = 1.0 / s.case.hot_kg_per_s;
        let reference = cell.liquid_kg_per_s + cell.ice_kg_per_s;
        wet += usize::from(reference > 0.0);
        let note = |slot: &mut f64, value: f64| *slot = slot.max(value.abs());
        note(&mut worst.supply_k, out.supply_c - supply_c);
        note(&mut worst.supply_g_per_kg, 1e3 * (out.supply_humidity_ratio - supply_w));
        note(&mut worst.water_share, (water - reference) * per_hot / largest);
        note(&mut worst.ice_share, (fluxes.ice_kg_per_s - cell.ice_kg_per_s) * per_hot / largest);
        note(&mut worst.plate_k, fluxes.plate_cold_c - cell.plate_cold_c);
        note(&mut worst.exhaust_gap_k, fluxes.own_exhaust_c - out.exhaust_c);
    }
    println!("{count} states, {wet} wet, largest water {:.2} g/kg: {worst:.3?}", 1e3 * largest);
    assert!(wet > 200, "the set must hold wet states");
    assert!(worst.supply_k < 0.3, "{worst:?}");
    assert!(worst.supply_g_per_kg < 0.15, "{worst:?}");
    assert!(worst.water_share < 0.05, "{worst:?}");
    assert!(worst.ice_share < 0.05, "{worst:?}");
}

#[test]
fn the_cell_solution_closes_its_own_books() {
    for n in 0..40 {
        let s = sample(n);
        let a = solve_cells(&s.case, 60);
        let h = psychrometrics::formulas::enthalpy_j_per_kg::<f64>;
        let c = &s.case;
        let lost =
            c.hot_kg_per_s * (h(c.hot_c, c.hot_humidity_ratio) - h(a.hot_out_c, a.hot_out_humidity_ratio));
        let gained =
            c.cold_kg_per_s * (h(a.cold_out_c, c.cold_humidity_ratio) - h(c.cold_c, c.cold_humidity_ratio));
        assert!((lost - gained - a.water_enthalpy_w).abs() < 1e-6 * gained.abs().max(1.0));
        let water = c.hot_kg_per_s * (c.hot_humidity_ratio - a.hot_out_humidity_ratio);
        assert!((water - a.liquid_kg_per_s - a.ice_kg_per_s).abs() < 1e-15 + 1e-12 * water);
    }
}

#[test]
fn more_cells_hardly_move_the_reference() {
    for n in 0..12 {
        let s = sample(n);
        let coarse = solve_cells(&s.case, 60);
        let fine = solve_cells(&s.case, 240);
        assert!((coarse.cold_out_c - fine.cold_out_c).abs() < 0.005);
    }
}

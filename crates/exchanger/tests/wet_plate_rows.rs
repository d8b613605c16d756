//! Nine steady states of a wet counterflow plate, from an independent fourth-order shooting solution with 200
//! steps (computed for this project by a separate program; one model, no experiment). Balanced dry-air flow of
//! 1 kg/s, NTU on the supply side with dry outdoor air, 101 325 Pa.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod common;
#[path = "../../../tests/proof/mod.rs"]
mod proof;

use approx::assert_abs_diff_eq;
use common::{line, plate, solved, w};
use exchanger::Inlets;
use exchanger::cell::PlateCase;
use proof::{Claim, Pair, Within};

/// t3, RH, t1, NTU; t2, t4, condensate kg/kg, of which on a plate below 0 °C, plate at the cold end.
const ROWS: [[f64; 9]; 9] = [
    [21.0, 0.40, 5.0, 3.0, 17.051, 9.085, 0.0, 0.0, 7.043],
    [21.0, 0.40, 0.0, 3.0, 16.038, 6.345, 0.00049, 0.0, 3.972],
    [21.0, 0.40, -5.0, 3.0, 15.245, 3.981, 0.00122, 0.0, 0.689],
    [21.0, 0.40, -10.0, 3.0, 14.547, 1.640, 0.00192, 0.00057, -2.525],
    [21.0, 0.40, -20.0, 3.0, 13.267, -3.421, 0.00319, 0.00192, -9.828],
    [21.0, 0.60, 0.0, 3.0, 17.106, 9.199, 0.00207, 0.0, 6.228],
    [21.0, 0.60, -10.0, 3.0, 16.128, 4.720, 0.00386, 0.00009, -0.234],
    [21.0, 0.30, -20.0, 5.0, 15.761, -7.530, 0.00252, 0.00218, -12.606],
    [21.0, 0.50, 2.0, 5.0, 18.403, 7.752, 0.00120, 0.0, 5.846],
];

fn case(row: &[f64; 9]) -> PlateCase {
    let inlets = Inlets {
        outdoor_c: row[2],
        outdoor_humidity_ratio: 0.0,
        extract_c: row[0],
        extract_humidity_ratio: w(row[0], row[1], 101_325.0),
        supply_kg_per_s: 1.0,
        extract_kg_per_s: 1.0,
        pressure_pa: 101_325.0,
    };
    plate(inlets, 1006.0 * row[3], 200)
}

#[test]
fn the_cell_solution_meets_the_nine_rows() {
    for row in &ROWS {
        let found = solved(&case(row));
        assert_abs_diff_eq!(found.outlets.supply_c, row[4], epsilon = 0.05);
        // The rows use latent heats 0.1 % apart from the enthalpies here; that shows most in the exhaust.
        assert_abs_diff_eq!(found.outlets.exhaust_c, row[5], epsilon = 0.05);
        let deposit = found.extract_deposit;
        let water = deposit.liquid_kg_per_s + deposit.ice_kg_per_s;
        // 3 %, and half of the last printed digit.
        assert_abs_diff_eq!(water, row[6], epsilon = 0.03 * row[6] + 5e-6);
        assert_abs_diff_eq!(deposit.ice_kg_per_s, row[7], epsilon = 0.03 * row[7] + 1e-5);
        assert_abs_diff_eq!(found.coldest_plate_c, row[8], epsilon = 0.05);
    }
}

#[test]
fn the_line_solution_meets_the_nine_rows() {
    for row in &ROWS {
        let (fluxes, out) = line(&case(row));
        assert_abs_diff_eq!(out.supply_c, row[4], epsilon = 0.1);
        let water = fluxes.liquid_kg_per_s + fluxes.ice_kg_per_s;
        assert_abs_diff_eq!(water, row[6], epsilon = 0.03 * row[6] + 2e-5);
        // The share that is ice hangs on where the plate passes 0 °C: 2.5 % of the largest rate (3.2 g/kg).
        assert_abs_diff_eq!(fluxes.ice_kg_per_s, row[7], epsilon = 8e-5);
        assert_abs_diff_eq!(out.exhaust_c, row[5], epsilon = 0.15);
        assert_abs_diff_eq!(fluxes.plate_cold_c, row[8], epsilon = 0.15);
    }
}

/// Both solutions beside the rows, on the validation page: supply temperature.
#[test]
fn the_supply_air_of_the_nine_rows_is_on_the_page() {
    let pairs = |of: fn(&PlateCase) -> f64| -> Vec<Pair> {
        let pair = |row: &[f64; 9]| Pair {
            place: format!("{} °C, {} %, {} °C, NTU {}", row[0], 100.0 * row[1], row[2], row[3]),
            expected: row[4],
            got: of(&case(row)),
        };
        ROWS.iter().map(pair).collect()
    };
    let claim = |quantity, why| Claim {
        area: "core",
        quantity,
        source: "shooting by a fourth-order rule, 200 steps, nine wet plates (a separate program; no experiment)",
        basis: "own calculation",
        unit: "K",
        why,
    };
    let cells =
        claim("Supply temperature of a wet plate, cell solution", "the rows' latent heats are 0.1 % apart");
    proof::worst(&cells, Within::Absolute(0.05), &pairs(|case| solved(case).outlets.supply_c));
    let hourly = claim("Supply temperature of a wet plate, hourly solution", "asked by the design");
    proof::worst(&hourly, Within::Absolute(0.1), &pairs(|case| line(case).1.supply_c));
}

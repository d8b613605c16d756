//! The periodic regenerator: published correction for rotation, closed forms, books, water that is shed.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod common;

use approx::assert_abs_diff_eq;
use common::{spread, w};
use exchanger::Inlets;
use exchanger::cell::CellError;
use exchanger::cell::regenerator::{Matrix, WheelCase, WheelSolution, solve_wheel};

const CP: f64 = 1006.0;

fn air(outdoor_c: f64, outdoor_rh: f64, extract_c: f64, extract_rh: f64) -> Inlets<f64> {
    Inlets {
        outdoor_c,
        outdoor_humidity_ratio: w(outdoor_c, outdoor_rh, 101_325.0),
        extract_c,
        extract_humidity_ratio: w(extract_c, extract_rh, 101_325.0),
        supply_kg_per_s: 1.0,
        extract_kg_per_s: 1.0,
        pressure_pa: 101_325.0,
    }
}

/// Balanced flow of 1 kg/s: both films in series give the NTU, so each has twice of it.
fn wheel(inlets: Inlets<f64>, ntu: f64, matrix_ratio: f64, matrix: Matrix) -> WheelCase {
    let film = 2.0 * ntu * CP;
    WheelCase {
        inlets,
        supply_film_w_per_k: film,
        extract_film_w_per_k: film,
        matrix_w_per_k: matrix_ratio * CP,
        matrix,
        cells: 60,
    }
}

fn solved(case: &WheelCase) -> WheelSolution {
    solve_wheel(case).unwrap_or_else(|error| panic!("{error}: {case:?}"))
}

fn dry_effectiveness(ntu: f64, matrix_ratio: f64) -> f64 {
    let case = wheel(air(0.0, 0.0, 10.0, 0.0), ntu, matrix_ratio, Matrix::HeatOnly);
    solved(&case).outlets.supply_c / 10.0
}

/// NTU, matrix over air capacity; a separate periodic finite-difference program with 60 by 60 cells (four digits).
#[test]
fn heat_alone_meets_a_separate_periodic_program() {
    const ROWS: [[f64; 3]; 5] =
        [[2.0, 2.0, 0.6491], [3.0, 1.5, 0.7119], [3.0, 5.0, 0.7463], [5.0, 2.0, 0.8086], [1.0, 1.0, 0.4665]];
    for [ntu, ratio, expected] in ROWS {
        assert_abs_diff_eq!(dry_effectiveness(ntu, ratio), expected, epsilon = 1e-4);
    }
}

/// `ε = NTU/(1 + NTU) (1 − 1/(9 Cr*^1.93))`, Kays and London's correction (form recalled from memory), in its range
/// NTU 2…14, Cr* above 1.25. It is a fit, good to 1 % there (also recalled).
#[test]
fn heat_alone_meets_the_published_correction_in_its_range() {
    for ntu in [2.0, 3.0, 5.0, 8.0] {
        for ratio in [1.5_f64, 2.0, 3.0, 5.0, 10.0] {
            let formula = ntu / (1.0 + ntu) * (1.0 - 1.0 / (9.0 * ratio.powf(1.93)));
            assert_abs_diff_eq!(dry_effectiveness(ntu, ratio), formula, epsilon = 0.01 * formula);
        }
    }
}

/// A sorbing wheel's vapour obeys the same equations as heat while nothing condenses, and it does not see the
/// temperatures: its latent effectiveness is that of the heat-only wheel with the numbers of the water side.
#[test]
fn sorption_without_a_film_is_the_heat_wheel_again() {
    let matrix = Matrix::Sorbing { store_kg_per_s: 2.0, vapour_kg_per_s: 6.0 };
    let inlets = air(5.0, 0.8, 21.0, 0.5);
    let found = solved(&wheel(inlets, 2.0, 4.0, matrix));
    let latent = (found.outlets.supply_humidity_ratio - inlets.outdoor_humidity_ratio)
        / (inlets.extract_humidity_ratio - inlets.outdoor_humidity_ratio);
    assert_eq!(found.excess.liquid_kg_per_s + found.excess.ice_kg_per_s, 0.0);
    assert_abs_diff_eq!(latent, dry_effectiveness(3.0, 2.0), epsilon = 1e-6);
}

/// Dry enough that no surface reaches the dew point: water passes by.
#[test]
fn a_plain_wheel_without_condensation_passes_no_water() {
    let inlets = air(5.0, 0.6, 21.0, 0.3);
    let plain = solved(&wheel(inlets, 3.0, 5.0, Matrix::Plain));
    let heat_only = solved(&wheel(inlets, 3.0, 5.0, Matrix::HeatOnly));
    assert_eq!(plain.vapour_to_supply_kg_per_s, 0.0);
    assert_abs_diff_eq!(plain.outlets.supply_c, heat_only.outlets.supply_c, epsilon = 1e-9);
}

#[test]
fn a_plain_wheel_gives_condensate_back_until_the_supply_air_cannot_take_it() {
    // At 5 °C the supply air dries the matrix in its half; at −10 °C and 50 % indoors it cannot.
    let mild = solved(&wheel(air(5.0, 0.8, 21.0, 0.6), 3.0, 5.0, Matrix::Plain));
    assert!(mild.vapour_to_supply_kg_per_s > 1e-3);
    assert_eq!(mild.excess.liquid_kg_per_s + mild.excess.ice_kg_per_s, 0.0);
    let cold = solved(&wheel(air(-10.0, 0.8, 21.0, 0.5), 3.0, 5.0, Matrix::Plain));
    assert!(cold.excess.liquid_kg_per_s + cold.excess.ice_kg_per_s > 1e-4);
    assert!(cold.coldest_matrix_c < 0.0);
}

#[test]
fn a_plain_wheel_dries_humid_summer_air() {
    let inlets = air(35.0, 0.7, 24.0, 0.5);
    let found = solved(&wheel(inlets, 3.0, 5.0, Matrix::Plain));
    assert!(found.vapour_to_supply_kg_per_s < -1e-3);
    assert!(found.outlets.exhaust_humidity_ratio > inlets.extract_humidity_ratio);
}

#[test]
fn books_close_and_water_stays_between_the_inlets() {
    for n in 0..24 {
        let between = |dimension, low: f64, high: f64| low + (high - low) * spread(n, dimension);
        let inlets = Inlets {
            supply_kg_per_s: between(4, 0.7, 1.3),
            ..air(between(0, -25.0, 38.0), between(1, 0.4, 1.0), between(2, 18.0, 26.0), between(3, 0.2, 0.6))
        };
        let matrix = match n % 3 {
            0 => Matrix::HeatOnly,
            1 => Matrix::Plain,
            _ => Matrix::Sorbing {
                store_kg_per_s: between(5, 2.0, 8.0),
                vapour_kg_per_s: between(6, 2.0, 6.0),
            },
        };
        let case =
            WheelCase { cells: 20, ..wheel(inlets, between(7, 1.5, 5.0), between(5, 2.0, 8.0), matrix) };
        let found = solved(&case);
        assert!(found.heat_residual < 1e-9, "{n}: {}", found.heat_residual);
        assert!(found.water_residual < 1e-9, "{n}: {}", found.water_residual);
        let water = |dry_air: f64, change: f64| dry_air * change;
        let supply = water(
            inlets.supply_kg_per_s,
            found.outlets.supply_humidity_ratio - inlets.outdoor_humidity_ratio,
        );
        assert_abs_diff_eq!(supply, found.vapour_to_supply_kg_per_s, epsilon = 1e-14);
        let [low, high] = [inlets.outdoor_humidity_ratio, inlets.extract_humidity_ratio];
        let range = low.min(high) - 1e-9..=low.max(high) + 1e-9;
        assert!(range.contains(&found.outlets.supply_humidity_ratio), "{n}: {found:?}");
        assert!(range.contains(&found.outlets.exhaust_humidity_ratio), "{n}: {found:?}");
    }
}

#[test]
fn more_cells_move_a_wheel_little() {
    let case = wheel(air(-10.0, 0.8, 21.0, 0.5), 3.0, 5.0, Matrix::Plain);
    let [coarse, fine] = [20, 60].map(|cells| solved(&WheelCase { cells, ..case }));
    assert_abs_diff_eq!(coarse.outlets.supply_c, fine.outlets.supply_c, epsilon = 0.01);
    let excess = |s: &WheelSolution| s.excess.liquid_kg_per_s + s.excess.ice_kg_per_s;
    assert_abs_diff_eq!(excess(&coarse), excess(&fine), epsilon = 1e-5);
}

#[test]
fn impossible_wheels_are_refused() {
    let good = wheel(air(0.0, 0.5, 20.0, 0.5), 3.0, 5.0, Matrix::HeatOnly);
    let text = |case: WheelCase| solve_wheel(&case).unwrap_err().to_string();
    assert_eq!(
        text(WheelCase { matrix_w_per_k: 0.0, ..good }),
        "matrix heat capacity rate 0 W/K is outside 0.000000001…10000000 W/K"
    );
    assert_eq!(text(WheelCase { cells: 5, ..good }), "number of cells 5 is outside 10…1000");
    let tight = WheelCase { supply_film_w_per_k: 40.0 * CP, cells: 10, ..good };
    assert_eq!(solve_wheel(&tight).unwrap_err(), CellError::TooFewCells { cells: 10, least: 20.0 });
    let matrix = Matrix::Sorbing { store_kg_per_s: f64::NAN, vapour_kg_per_s: 1.0 };
    assert!(matches!(solve_wheel(&WheelCase { matrix, ..good }), Err(CellError::OutOfRange { .. })));
}

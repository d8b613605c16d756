//! Membranes and wet plates, cell solution, against two other programs.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod common;

use approx::assert_abs_diff_eq;
use common::solved;
use exchanger::Inlets;
use exchanger::cell::{Arrangement, PlateCase};

fn case(v: &[f64], flows: [f64; 2], conductances: [f64; 2], cells: usize) -> PlateCase {
    let inlets = Inlets {
        outdoor_c: v[0],
        outdoor_humidity_ratio: v[1],
        extract_c: v[2],
        extract_humidity_ratio: v[3],
        supply_kg_per_s: flows[0],
        extract_kg_per_s: 1.0,
        pressure_pa: flows[1],
    };
    let [ua_w_per_k, vapour_kg_per_s] = conductances;
    PlateCase { inlets, ua_w_per_k, vapour_kg_per_s, arrangement: Arrangement::Counter, cells }
}

/// Outdoor °C, kg/kg; extract °C, kg/kg; supply kg/s, Pa; W/K, kg/s; then what leaves: supply °C, g/kg; exhaust
/// °C, g/kg; extract side liquid and ice, supply side water g/s; plate at the cold and at the warm end °C.
///
/// The same differential equations solved by collocation (scipy 1.17, `solve_bvp`, tolerance 1e-5, 265 to 565
/// nodes, own saturation code; `data/collocation.py`): dry, wet and freezing membranes, a humid summer, thin
/// air and unequal flows.
const COLLOCATION: [[f64; 17]; 8] = [
    [
        -25.5000429,
        0.000196367183,
        20.3233436,
        0.00250246739,
        0.894780402,
        101325.0,
        3087.32163,
        1.94791886,
        11.409367,
        1.831680,
        -12.586046,
        1.024721,
        0.000000,
        0.014501,
        0.000000,
        -18.921779,
        15.868110,
    ],
    [
        -12.0, 0.001069, 21.0, 0.006948, 0.9, 101325.0, 3000.0, 1.2, 14.619416, 4.442164, -1.197393,
        3.339055, 0.018302, 0.554796, 0.000000, -5.655470, 17.812682,
    ],
    [
        -5.0, 0.001979, 21.0, 0.004615, 1.0, 101325.0, 3018.0, 0.9, 14.502605, 3.227632, 1.562019, 3.366368,
        0.0, 0.0, 0.0, -1.717728, 17.752553,
    ],
    [
        -9.0, 0.001397, 22.0, 0.006562, 1.3, 101325.0, 5000.0, 2.0, 12.916960, 4.173135, -5.042498, 2.486287,
        0.0, 0.466737, 0.0, -6.774740, 17.462516,
    ],
    [
        35.0, 0.025159, 24.0, 0.009299, 1.0, 101325.0, 3018.0, 0.0, 28.427626, 24.364122, 32.654702,
        9.299000, 0.0, 0.0, 0.794878, 33.827351, 27.437684,
    ],
    [
        35.0, 0.025159, 24.0, 0.009299, 1.0, 101325.0, 3018.0, 0.9, 26.895823, 17.646368, 32.264493,
        16.811632, 0.0, 0.0, 0.0, 33.635413, 25.451263,
    ],
    [
        -20.0, 0.000612, 20.0, 0.008781, 0.7, 84000.0, 2500.0, 0.4, 15.546404, 3.511510, 0.688180, 4.767848,
        0.758044, 1.225452, 0.0, -6.810840, 17.774948,
    ],
    [
        -28.9958847,
        0.000251169587,
        22.4259219,
        0.00508837217,
        1.10237548,
        84000.0,
        5744.45388,
        2.05611105,
        13.180552,
        3.065487,
        -20.490455,
        0.781137,
        0.0,
        1.204801,
        0.0,
        -24.420645,
        17.806350,
    ],
];

#[test]
fn many_cells_meet_a_collocation_solution() {
    for row in &COLLOCATION {
        let found = solved(&case(row, [row[4], row[5]], [row[6], row[7]], 800));
        let (out, deposit) = (found.outlets, found.extract_deposit);
        assert_abs_diff_eq!(out.supply_c, row[8], epsilon = 1e-3);
        assert_abs_diff_eq!(1e3 * out.supply_humidity_ratio, row[9], epsilon = 2e-4);
        assert_abs_diff_eq!(out.exhaust_c, row[10], epsilon = 1e-3);
        assert_abs_diff_eq!(1e3 * out.exhaust_humidity_ratio, row[11], epsilon = 2e-4);
        assert_abs_diff_eq!(1e3 * deposit.liquid_kg_per_s, row[12], epsilon = 2e-4);
        assert_abs_diff_eq!(1e3 * deposit.ice_kg_per_s, row[13], epsilon = 2e-4);
        assert_abs_diff_eq!(1e3 * found.supply_deposit.liquid_kg_per_s, row[14], epsilon = 2e-4);
        assert_abs_diff_eq!(found.coldest_plate_c, row[15].min(row[16]), epsilon = 1e-3);
    }
}

/// How far 40 cells, the usual number, are from the collocation solution.
#[test]
fn forty_cells_are_within_hundredths_of_a_kelvin() {
    for row in &COLLOCATION {
        let found = solved(&case(row, [row[4], row[5]], [row[6], row[7]], 40));
        assert_abs_diff_eq!(found.outlets.supply_c, row[8], epsilon = 0.01);
        assert_abs_diff_eq!(1e3 * found.outlets.supply_humidity_ratio, row[9], epsilon = 5e-3);
        let deposit = found.extract_deposit.liquid_kg_per_s + found.extract_deposit.ice_kg_per_s;
        assert_abs_diff_eq!(1e3 * deposit, row[12] + row[13], epsilon = 0.01);
    }
}

/// That program takes one heat capacity along the core and first-order cells (`data/README.md`): the distance,
/// largest in air below −20 °C, is its own, as the collocation of two of its states above shows.
#[test]
fn all_states_of_the_other_cell_program_are_near() {
    let mut worst = [0.0_f64; 4];
    for line in include_str!("data/wet_membrane.csv").lines().skip(1) {
        let v: Vec<f64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
        let found = solved(&case(&v, [v[4], v[5]], [v[6], v[7]], 40));
        let water = found.extract_deposit.liquid_kg_per_s + found.extract_deposit.ice_kg_per_s;
        let cold_c = found.profile.last().unwrap().plate_c;
        let apart = [
            found.outlets.supply_c - v[8],
            1e3 * (found.outlets.supply_humidity_ratio - v[9]),
            1e3 * (water - v[12] - v[13]),
            cold_c - v[14],
        ];
        worst = std::array::from_fn(|k| worst[k].max(apart[k].abs()));
        assert_eq!(water > 1e-6, v[12] + v[13] > 1e-6, "{v:?}");
    }
    println!(
        "supply {:.3} K, {:.4} g/kg; water {:.4} g/s; plate {:.3} K",
        worst[0], worst[1], worst[2], worst[3]
    );
    assert!(worst[0] < 0.12 && worst[1] < 0.01 && worst[2] < 0.03 && worst[3] < 0.1, "{worst:?}");
}

//! Dry plates against effectiveness and number of transfer units: closed forms, tables, order of convergence.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod common;

use approx::assert_abs_diff_eq;
use common::{solved, w};
use exchanger::Inlets;
use exchanger::cell::{Arrangement, PlateCase, PlateSolution};

const CP: f64 = 1006.0;

/// Dry air, 0 °C outdoors and 10 °C indoors, extract flow 1 kg/s.
fn dry(supply_kg_per_s: f64, ua_w_per_k: f64, arrangement: Arrangement, cells: usize) -> PlateSolution {
    let inlets = Inlets {
        outdoor_c: 0.0,
        outdoor_humidity_ratio: 0.0,
        extract_c: 10.0,
        extract_humidity_ratio: 0.0,
        supply_kg_per_s,
        extract_kg_per_s: 1.0,
        pressure_pa: 101_325.0,
    };
    solved(&PlateCase { inlets, ua_w_per_k, vapour_kg_per_s: 0.0, arrangement, cells })
}

fn effectiveness(ntu: f64, ratio: f64, arrangement: Arrangement, cells: usize) -> f64 {
    dry(ratio, ntu * CP * ratio, arrangement, cells).outlets.supply_c / 10.0
}

const RATIOS: [f64; 5] = [0.25, 0.50, 0.70, 0.90, 1.0];
/// NTU; crossflow with both streams unmixed at each ratio of heat capacity flows, then counterflow. Computed
/// with the heat-transfer library `ht` (values handed to this project; four digits).
const TABLE: [[f64; 11]; 8] = [
    [0.5, 0.3751, 0.3578, 0.3448, 0.3323, 0.3263, 0.3776, 0.3623, 0.3504, 0.3389, 0.3333],
    [1.0, 0.5880, 0.5475, 0.5175, 0.4895, 0.4762, 0.5983, 0.5647, 0.5384, 0.5126, 0.5000],
    [1.5, 0.7162, 0.6597, 0.6178, 0.5787, 0.5602, 0.7350, 0.6908, 0.6545, 0.6181, 0.6000],
    [2.0, 0.7974, 0.7324, 0.6830, 0.6364, 0.6142, 0.8228, 0.7746, 0.7326, 0.6889, 0.6667],
    [3.0, 0.8885, 0.8197, 0.7634, 0.7081, 0.6813, 0.9188, 0.8744, 0.8295, 0.7777, 0.7500],
    [4.0, 0.9340, 0.8697, 0.8118, 0.7521, 0.7224, 0.9622, 0.9274, 0.8855, 0.8310, 0.8000],
    [5.0, 0.9591, 0.9017, 0.8445, 0.7824, 0.7509, 0.9823, 0.9572, 0.9207, 0.8664, 0.8333],
    [6.0, 0.9738, 0.9236, 0.8682, 0.8050, 0.7721, 0.9916, 0.9745, 0.9439, 0.8916, 0.8571],
];

#[test]
fn crossflow_and_counterflow_meet_the_table() {
    for row in &TABLE {
        for (k, ratio) in RATIOS.into_iter().enumerate() {
            // Half of the last printed digit, and what 80 cells leave.
            let cross = effectiveness(row[0], ratio, Arrangement::Cross, 80);
            assert_abs_diff_eq!(cross, row[1 + k], epsilon = 1e-4);
            let counter = effectiveness(row[0], ratio, Arrangement::Counter, 80);
            assert_abs_diff_eq!(counter, row[6 + k], epsilon = 2e-4);
        }
    }
}

/// NTU, counterflow share, ratio; series law over two crossflow parts and a counterflow part, crossflow by its
/// infinite series (computed for this project by a separate program).
#[test]
fn quasi_counterflow_meets_the_series_law() {
    const VALUES: [[f64; 4]; 6] = [
        [4.0, 0.6, 1.0, 0.79569],
        [4.0, 0.6, 0.8, 0.85573],
        [2.0, 0.5, 1.0, 0.66316],
        [6.0, 0.7, 1.0, 0.85421],
        [4.0, 1.0, 1.0, 0.80000],
        [4.0, 0.0, 1.0, 0.76103],
    ];
    for [ntu, counter_share, ratio, expected] in VALUES {
        let found = effectiveness(ntu, ratio, Arrangement::QuasiCounter { counter_share }, 160);
        assert_abs_diff_eq!(found, expected, epsilon = 3e-5);
    }
}

/// Supply over extract flow; effectiveness, supply and exhaust temperature ratios, closed form, five digits.
#[test]
fn unbalanced_flows_meet_the_closed_form() {
    const ROWS: [[f64; 4]; 5] = [
        [0.80, 0.84814, 0.84814, 0.67851],
        [0.90, 0.79823, 0.79823, 0.71841],
        [1.00, 0.75000, 0.75000, 0.75000],
        [1.10, 0.77523, 0.70475, 0.77523],
        [1.25, 0.80433, 0.64346, 0.80433],
    ];
    for [ratio, effectiveness, supply, exhaust] in ROWS {
        let out = dry(ratio, 3.0 * CP, Arrangement::Counter, 200).outlets;
        assert_abs_diff_eq!(out.supply_c / 10.0, supply, epsilon = 3e-5);
        assert_abs_diff_eq!(1.0 - out.exhaust_c / 10.0, exhaust, epsilon = 3e-5);
        let larger = (out.supply_c / 10.0).max(1.0 - out.exhaust_c / 10.0);
        assert_abs_diff_eq!(larger, effectiveness, epsilon = 3e-5);
    }
}

/// `1 − Cr` of 0.1: the closed form itself, to nine digits, by extrapolation of two grids (error in 1/n²).
#[test]
fn two_grids_extrapolate_to_the_closed_form() {
    let decay = (-3.0_f64 * 0.1).exp();
    let exact = (1.0 - decay) / (1.0 - 0.9 * decay);
    let coarse = effectiveness(3.0, 0.9, Arrangement::Counter, 50);
    let fine = effectiveness(3.0, 0.9, Arrangement::Counter, 100);
    assert_abs_diff_eq!(fine + (fine - coarse) / 3.0, exact, epsilon = 1e-9);
}

#[test]
fn dry_errors_fall_with_the_square_of_the_cells() {
    for arrangement in
        [Arrangement::Counter, Arrangement::Cross, Arrangement::QuasiCounter { counter_share: 0.5 }]
    {
        let [a, b, c] = [20, 40, 80].map(|cells| effectiveness(3.0, 0.8, arrangement, cells));
        assert_abs_diff_eq!((a - b) / (b - c), 4.0, epsilon = 0.1);
    }
}

fn wet(cells: usize, arrangement: Arrangement, vapour_kg_per_s: f64) -> PlateSolution {
    let inlets = Inlets {
        outdoor_c: -12.0,
        outdoor_humidity_ratio: w(-12.0, 0.8, 101_325.0),
        extract_c: 21.0,
        extract_humidity_ratio: w(21.0, 0.45, 101_325.0),
        supply_kg_per_s: 0.9,
        extract_kg_per_s: 1.0,
        pressure_pa: 101_325.0,
    };
    solved(&PlateCase { inlets, ua_w_per_k: 3000.0, vapour_kg_per_s, arrangement, cells })
}

/// The edges of the wet part lie anywhere within a cell, so single ratios scatter around four; over a factor of
/// eight in cells the error must fall by about 64, at least by 30.
#[test]
fn wet_errors_fall_with_the_square_of_the_cells() {
    let cases = [
        (Arrangement::Counter, 0.0, 1280),
        (Arrangement::Counter, 1.2, 1280),
        (Arrangement::Cross, 0.0, 320),
        (Arrangement::QuasiCounter { counter_share: 0.6 }, 1.2, 320),
    ];
    for (arrangement, vapour, finest) in cases {
        let supply_c = |cells| wet(cells, arrangement, vapour).outlets.supply_c;
        let reference = supply_c(finest);
        let [coarse, fine] = [10, 80].map(|cells| (supply_c(cells) - reference).abs());
        println!("{arrangement:?} {vapour}: {coarse:.2e} K with 10 cells, {fine:.2e} K with 80");
        assert!(coarse < 0.1, "{arrangement:?} {coarse}");
        assert!(fine < coarse / 30.0, "{arrangement:?} {coarse} {fine}");
    }
}

/// Along the edge where the supply air enters, the extract air cools toward it through both films:
/// `t_e = t_1 + (t_3 − t_1) e^(−NTU)`, and the plate is half-way.
#[test]
fn the_cold_corner_of_crossflow_meets_its_closed_form() {
    let found = dry(1.0, 2.0 * CP, Arrangement::Cross, 100);
    assert_abs_diff_eq!(found.coldest_plate_c, 5.0 * (-2.0_f64).exp(), epsilon = 1e-4);
}

#[test]
fn without_conductance_air_passes_unchanged() {
    for arrangement in
        [Arrangement::Counter, Arrangement::Cross, Arrangement::QuasiCounter { counter_share: 0.5 }]
    {
        let found = dry(0.7, 0.0, arrangement, 20);
        assert_eq!(found.outlets.supply_c, 0.0);
        assert_eq!(found.outlets.exhaust_c, 10.0);
        assert_eq!(found.heat_to_supply_w, 0.0);
    }
}

#[test]
fn the_profile_runs_from_the_house_side_to_the_weather_side_and_adds_up() {
    // Between two crossflow parts of 20 by 20 lie 40 cells in counterflow.
    let quasi = Arrangement::QuasiCounter { counter_share: 0.6 };
    for (arrangement, points) in [(Arrangement::Counter, 40), (Arrangement::Cross, 40), (quasi, 80)] {
        let found = wet(40, arrangement, 0.8);
        assert_eq!(found.profile.len(), points);
        assert!(found.profile.windows(2).all(|p| p[0].share < p[1].share && p[0].extract_c > p[1].extract_c));
        let sum: f64 = found.profile.iter().map(|p| p.extract_deposit_kg_per_s).sum();
        let ice: f64 = found.profile.iter().map(|p| p.extract_ice_kg_per_s).sum();
        let deposit = found.extract_deposit;
        assert_abs_diff_eq!(sum, deposit.liquid_kg_per_s + deposit.ice_kg_per_s, epsilon = 1e-15);
        assert_abs_diff_eq!(ice, deposit.ice_kg_per_s, epsilon = 1e-15);
        let last = found.profile[points - 1];
        assert!(last.extract_wet_share > 0.0 && found.coldest_plate_c < last.plate_c);
        assert!(found.coldest_wet_plate_c.unwrap() >= found.coldest_plate_c);
    }
}

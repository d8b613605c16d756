//! How streams pass each other: effectiveness, its inverse, rotation, and what a core refuses.
//!
//! Not here: the hour's solution on the counterflow core of equal effectiveness (`line_*.rs`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

#[path = "../../../tests/proof/mod.rs"]
mod proof;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use exchanger::{Arrangement, Core, effectiveness, ntu_of, rotation_factor};
use proof::{Claim, Pair, Within};

const RATIOS: [f64; 5] = [0.25, 0.50, 0.70, 0.90, 1.0];
/// NTU; crossflow with both streams unmixed at each ratio, then counterflow. Computed with the heat-transfer library
/// `ht` 1.2.0 (values handed to this project; four digits).
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

fn quasi(counter_share: f64) -> Arrangement {
    Arrangement::QuasiCounter { counter_share }
}

const ALL: [Arrangement; 5] = [
    Arrangement::Counter,
    Arrangement::Cross,
    Arrangement::QuasiCounter { counter_share: 0.0 },
    Arrangement::QuasiCounter { counter_share: 0.6 },
    Arrangement::QuasiCounter { counter_share: 1.0 },
];

#[test]
fn crossflow_and_counterflow_are_those_of_a_library() {
    let kinds =
        [("crossflow, both unmixed", Arrangement::Cross, 1), ("counterflow", Arrangement::Counter, 6)];
    for (name, arrangement, from) in kinds {
        let cells = TABLE.iter().flat_map(|row| RATIOS.into_iter().enumerate().map(move |cell| (row, cell)));
        let pairs: Vec<Pair> = cells
            .map(|(row, (k, ratio))| Pair {
                place: format!("NTU {}, ratio {ratio}", row[0]),
                expected: row[from + k],
                got: effectiveness(arrangement, row[0], ratio),
            })
            .collect();
        let claim = Claim {
            area: "core",
            quantity: &format!("Effectiveness, {name}"),
            source: "heat-transfer library ht 1.2.0, four digits",
            basis: "computed",
            unit: "–",
            why: "half of the last printed digit, and rounding",
        };
        proof::worst(&claim, Within::Absolute(5.1e-5), &pairs);
    }
}

/// Crossflow by another series, `1 − e^−(1+c)N [I₀ + √c I₁ − (1−c)/c Σ c^(n/2) I_n]` from n = 2, Bessel functions of
/// `2 N √c` summed term by term.
fn cross_by_bessel(ntu: f64, ratio: f64) -> f64 {
    let half = ntu * ratio.sqrt();
    let bessel = |order: u32| {
        let mut term = (1..=order).fold(1.0, |product, k| product * half / f64::from(k));
        let mut sum = term;
        for k in 1..200 {
            term *= half * half / (f64::from(k) * f64::from(k + order));
            sum += term;
        }
        sum
    };
    let rest: f64 = (2..100).map(|n| ratio.powf(f64::from(n) / 2.0) * bessel(n)).sum();
    let bracket = bessel(0) + ratio.sqrt() * bessel(1) - (1.0 - ratio) / ratio * rest;
    1.0 - (-(1.0 + ratio) * ntu).exp() * bracket
}

#[test]
fn crossflow_is_also_its_bessel_series() {
    for ntu in [0.01, 0.3, 1.0, 2.5, 6.0, 10.0] {
        for ratio in [0.1, 0.5, 0.83, 1.0] {
            let found = effectiveness(Arrangement::Cross, ntu, ratio);
            assert_abs_diff_eq!(found, cross_by_bessel(ntu, ratio), epsilon = 1e-12);
        }
    }
}

/// NTU, counterflow share, ratio; three exchangers in overall counterflow (computed for this project by a separate
/// program, five digits).
#[test]
fn quasi_counterflow_meets_the_series_law() {
    let rows = [
        (4.0, 0.6, 1.0, 0.79569),
        (4.0, 0.6, 0.8, 0.85573),
        (2.0, 0.5, 1.0, 0.66316),
        (6.0, 0.7, 1.0, 0.85421),
        (4.0, 1.0, 1.0, 0.80000),
        (4.0, 0.0, 1.0, 0.76103),
    ];
    for (ntu, share, ratio, expected) in rows {
        assert_abs_diff_eq!(effectiveness(quasi(share), ntu, ratio), expected, epsilon = 5.1e-6);
    }
}

/// Supply over exhaust flow, NTU, effectiveness, and what it makes of either stream's temperature; NTU 3 at equal
/// flows, exhaust flow held (closed form, worked out for this project by hand; five digits).
#[test]
fn unequal_flows_meet_their_table() {
    let rows = [
        (0.80, 3.75, 0.84814, 0.84814, 0.67851),
        (0.90, 3.0 / 0.9, 0.79823, 0.79823, 0.71841),
        (1.00, 3.0, 0.75000, 0.75000, 0.75000),
        (1.10, 3.0, 0.77523, 0.70475, 0.77523),
        (1.25, 3.0, 0.80433, 0.64346, 0.80433),
    ];
    for (flows, ntu, expected, supply, exhaust) in rows {
        let smaller = f64::min(flows, 1.0);
        let found = effectiveness(Arrangement::Counter, ntu, smaller / f64::max(flows, 1.0));
        assert_abs_diff_eq!(found, expected, epsilon = 5.1e-6);
        assert_abs_diff_eq!(found * smaller / flows, supply, epsilon = 5.1e-6);
        assert_abs_diff_eq!(found * smaller, exhaust, epsilon = 5.1e-6);
    }
}

/// NTU, capacity ratio of the matrix, effectiveness at equal flows (formula of Kays and London, recalled; four digits).
const WHEELS: [(f64, f64, f64); 8] = [
    (2.0, 2.0, 0.6472),
    (3.0, 1.5, 0.7119),
    (3.0, 2.0, 0.7281),
    (3.0, 5.0, 0.7463),
    (3.0, 10.0, 0.7490),
    (5.0, 2.0, 0.8090),
    (5.0, 5.0, 0.8292),
    (1.0, 1.0, 0.4444),
];

#[test]
fn rotation_takes_from_counterflow_what_the_formula_says() {
    for (ntu, capacity_ratio, expected) in WHEELS {
        let found = effectiveness(Arrangement::Counter, ntu, 1.0) * rotation_factor(capacity_ratio);
        assert_abs_diff_eq!(found, expected, epsilon = 5.1e-5);
        // A sized wheel is the counterflow core with that effectiveness: NTU = ε/(1 − ε).
        let wheel = Core::wheel((ntu * 1006.0, 0.0), (1.0, 1.0), capacity_ratio).unwrap();
        let ntu = wheel.ua_w_per_k / 1006.0;
        assert_relative_eq!(ntu / (1.0 + ntu), found, max_relative = 1e-12);
    }
}

/// A periodic finite-difference regenerator, 60 × 60 cells (computed for this project by a separate program): the
/// formula is within 0.3 % where it is valid.
#[test]
fn rotation_is_near_a_turning_matrix_where_the_formula_is_valid() {
    for (ntu, capacity_ratio, turning) in
        [(2.0, 2.0, 0.6491), (3.0, 1.5, 0.7119), (3.0, 5.0, 0.7463), (5.0, 2.0, 0.8086)]
    {
        let found = effectiveness(Arrangement::Counter, ntu, 1.0) * rotation_factor(capacity_ratio);
        assert_abs_diff_eq!(found, turning, epsilon = 0.003 * turning);
    }
}

#[test]
fn ntu_and_effectiveness_turn_into_each_other() {
    for arrangement in ALL {
        for ratio in [0.0, 0.25, 0.7, 0.95, 1.0] {
            for ntu in [0.001, 0.1, 0.5, 1.0, 2.0, 3.7, 6.0, 8.0] {
                let wanted = effectiveness(arrangement, ntu, ratio);
                let found = ntu_of(arrangement, wanted, ratio).unwrap();
                assert_abs_diff_eq!(effectiveness(arrangement, found, ratio), wanted, epsilon = 1e-12);
                // Where one part in 1e16 of effectiveness is less than one in 1e9 of NTU.
                if wanted < 0.999 {
                    assert_relative_eq!(found, ntu, max_relative = 1e-9);
                }
            }
        }
    }
}

#[test]
fn an_effectiveness_that_no_core_has_gives_no_ntu() {
    for arrangement in ALL {
        for ratio in [0.0, 0.5, 1.0] {
            assert_eq!(ntu_of(arrangement, 1.0 + 1e-12, ratio), None);
            assert_eq!(ntu_of(arrangement, -1e-12, ratio), None);
            assert_eq!(ntu_of(arrangement, f64::NAN, ratio), None);
            assert_abs_diff_eq!(ntu_of(arrangement, 0.0, ratio).unwrap(), 0.0, epsilon = 1e-12);
        }
        // Equal flows, NTU 100: counterflow reaches 100/101 and no other more.
        assert_eq!(ntu_of(arrangement, 0.9901, 1.0), None);
    }
}

#[test]
fn without_conductance_nothing_passes_and_an_endless_core_passes_what_it_can() {
    for arrangement in ALL {
        for ratio in [0.0, 0.3, 1.0] {
            assert_eq!(effectiveness(arrangement, 0.0, ratio), 0.0);
            let most = effectiveness(arrangement, 100.0, ratio);
            assert!(most > 0.9 && most <= 1.0, "{arrangement:?} {ratio} {most}");
        }
        // One stream that does not change: all arrangements are alike.
        for ntu in [0.2, 1.0, 5.0, 30.0] {
            assert_abs_diff_eq!(effectiveness(arrangement, ntu, 0.0), 1.0 - (-ntu).exp(), epsilon = 1e-14);
        }
    }
    assert_abs_diff_eq!(effectiveness(Arrangement::Counter, 100.0, 1.0), 100.0 / 101.0, epsilon = 1e-15);
    // Two crossflow halves in series, no counterflow between; and counterflow throughout.
    let half = effectiveness(Arrangement::Cross, 2.0, 1.0);
    let joined = 2.0 * half / (1.0 - half);
    assert_abs_diff_eq!(effectiveness(quasi(0.0), 4.0, 1.0), joined / (1.0 + joined), epsilon = 1e-14);
    for ratio in RATIOS {
        let counter = effectiveness(Arrangement::Counter, 4.0, ratio);
        assert_abs_diff_eq!(effectiveness(quasi(1.0), 4.0, ratio), counter, epsilon = 1e-14);
    }
}

#[test]
fn counterflow_passes_most_crossflow_least_and_more_ntu_more() {
    for ratio in [0.1, 0.5, 0.9, 1.0] {
        let mut before = [0.0; 4];
        for step in 1..60 {
            let ntu = 0.1 * 1.12_f64.powi(step);
            let kinds = [Arrangement::Cross, quasi(0.0), quasi(0.5), Arrangement::Counter];
            let now = kinds.map(|arrangement| effectiveness(arrangement, ntu, ratio));
            assert!(now.windows(2).all(|pair| pair[0] <= pair[1] + 1e-14), "{ntu} {ratio} {now:?}");
            assert!(now.iter().zip(before).all(|(&a, b)| a >= b - 1e-14), "{ntu} {ratio}");
            before = now;
        }
    }
}

/// Near equal flows and near none of one the formulas pass to their limits: the change with the ratio is smooth.
#[test]
fn the_limits_join_smoothly() {
    for arrangement in ALL {
        for ntu in [0.3, 3.0, 20.0] {
            for gap in [1e-5, 1e-7, 3e-9, 1.1e-9, 0.9e-9, 1e-12] {
                let [near, at] = [1.0 - gap, 1.0].map(|ratio| effectiveness(arrangement, ntu, ratio));
                assert_abs_diff_eq!(near, at, epsilon = 0.6 * gap + 3e-7);
                let [near, at] = [gap, 0.0].map(|ratio| effectiveness(arrangement, ntu, ratio));
                assert_abs_diff_eq!(near, at, epsilon = 0.6 * gap + 3e-7);
            }
        }
    }
}

fn refusal(made: Result<Core<f64>, exchanger::SizingError>) -> String {
    made.unwrap_err().to_string()
}

#[test]
fn a_core_is_refused_with_the_quantity_its_value_and_its_range() {
    let new = |arrangement, conductances, flows| refusal(Core::new(arrangement, conductances, flows));
    let counter = Arrangement::Counter;
    assert_eq!(new(counter, (100.0, 0.0), (0.0, 0.05)), "flow 0 kg/s is not above 0");
    assert_eq!(new(counter, (100.0, 0.0), (0.05, -0.01)), "flow -0.01 kg/s is not above 0");
    assert_eq!(new(Arrangement::Cross, (100.0, 0.0), (f64::NAN, 0.05)), "flow NaN kg/s is not above 0");
    assert_eq!(new(counter, (100.0, 0.0), (0.05, f64::INFINITY)), "flow inf kg/s is not above 0");
    assert_eq!(new(counter, (-1.0, 0.0), (0.05, 0.05)), "conductance -1 is not a number of 0 or more");
    assert_eq!(
        new(counter, (f64::INFINITY, 0.0), (0.05, 0.05)),
        "conductance inf is not a number of 0 or more"
    );
    assert_eq!(new(counter, (100.0, f64::NAN), (0.05, 0.05)), "conductance NaN is not a number of 0 or more");
    assert_eq!(new(quasi(-0.1), (100.0, 0.0), (0.05, 0.05)), "counterflow share -0.1 is outside 0…1");
    assert_eq!(new(quasi(1.01), (100.0, 0.0), (0.05, 0.05)), "counterflow share 1.01 is outside 0…1");
    assert_eq!(new(quasi(f64::NAN), (100.0, 0.0), (0.05, 0.05)), "counterflow share NaN is outside 0…1");
    // 100.6/1006 = 0.1.
    let too_much = "a vapour conductance of 0.1010 kg/s is more than the air films beside the plate let pass, 0.1000 kg/s: \
                    latent effectiveness cannot be above sensible effectiveness";
    assert_eq!(new(counter, (100.6, 0.101), (0.05, 0.05)), too_much);
    assert_eq!(refusal(Core::wheel((100.6, 0.101), (0.05, 0.05), 5.0)), too_much);
}

#[test]
fn a_wheel_is_refused_outside_its_capacity_ratios() {
    let wheel = |conductances, flows, ratio| refusal(Core::wheel(conductances, flows, ratio));
    let usual = ((100.0, 0.0), (0.05, 0.05));
    assert_eq!(wheel(usual.0, usual.1, 0.99), "capacity ratio 0.99 of a wheel is outside 1…1000");
    assert_eq!(wheel(usual.0, usual.1, 1001.0), "capacity ratio 1001 of a wheel is outside 1…1000");
    assert_eq!(wheel(usual.0, usual.1, f64::NAN), "capacity ratio NaN of a wheel is outside 1…1000");
    assert_eq!(wheel((-1.0, 0.0), usual.1, 5.0), "conductance -1 is not a number of 0 or more");
    assert_eq!(wheel(usual.0, (0.05, 0.0), 5.0), "flow 0 kg/s is not above 0");
    for ratio in [1.0, 1000.0] {
        assert!(Core::wheel(usual.0, usual.1, ratio).is_ok());
    }
}

#[test]
fn what_is_just_within_the_ranges_is_accepted_and_finite() {
    for arrangement in ALL {
        for ntu in [0.0, 1e-9, 1.0, 49.0] {
            for flows in [(1.0, 1.0), (0.3, 1.0), (3.0, 1.0)] {
                let ua = ntu * 1006.0 * f64::min(flows.0, flows.1);
                let core = Core::new(arrangement, (ua, ua / 1006.0), flows).unwrap();
                let numbers = [
                    core.ua_w_per_k,
                    core.vapour_kg_per_s,
                    core.crossed_ua_w_per_k,
                    core.crossed_vapour_kg_per_s,
                ];
                assert!(numbers.iter().all(|x| x.is_finite() && *x >= 0.0), "{arrangement:?} {ntu} {core:?}");
                // The films' ceiling holds for the equivalents as well.
                let most = core.ua_w_per_k / 1006.0 * (1.0 + 1e-9) + 1e-15;
                assert!(core.vapour_kg_per_s <= most, "{arrangement:?} {ntu} {core:?}");
            }
        }
    }
}

/// Crossflow at very unlike flows rounds to an effectiveness of 1, whose counterflow equivalent would be endless.
#[test]
fn an_accepted_core_has_finite_conductances() {
    for (arrangement, ntu, flow) in
        [(Arrangement::Cross, 49.0, 0.01), (quasi(0.0), 49.0, 0.1), (Arrangement::Cross, 49.0, 0.1)]
    {
        let core = Core::new(arrangement, (ntu * 1006.0 * flow, 0.0), (flow, 1.0)).unwrap();
        assert!(core.ua_w_per_k.is_finite() && core.crossed_ua_w_per_k.is_finite(), "{core:?}");
    }
    let refused = Core::new(Arrangement::Cross, (1000.0 * 1006.0, 0.0), (1.0, 1.0)).unwrap_err().to_string();
    assert_eq!(
        refused,
        "a conductance of 1000 times the smaller heat capacity flow is more than the 50 that any core has"
    );
}

/// `(1 − e^−x)/(1 − c e^−x)` with x of 1e-9 to 1e-7 is a quotient of two small differences.
#[test]
fn counterflow_just_off_equal_flows_keeps_its_digits() {
    for ntu in [0.5, 1.0, 3.0, 7.0] {
        for gap in [2e-9, 5e-9, 2e-8, 1e-7] {
            let found = effectiveness(Arrangement::Counter, ntu, 1.0 - gap);
            // First order in the gap: ε = N/(1+N) + gap N²/(2 (1+N)²), by expansion of the closed form.
            let expected = ntu / (1.0 + ntu) + gap * ntu * ntu / (2.0 * (1.0 + ntu) * (1.0 + ntu));
            assert_abs_diff_eq!(found, expected, epsilon = 1e-11);
        }
    }
}

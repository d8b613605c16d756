//! Correlations: reached as asked, shares against the closed form, distributions kept, contradictions refused.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::cast_possible_truncation, clippy::cast_sign_loss)]

use std::f64::consts::PI;

use approx::assert_abs_diff_eq;
use proptest::prelude::*;
use sampling::correlation::{Copula, CorrelationError};
use sampling::distributions::{Bounds, Distribution};
use sampling::plan::Plan;

fn columns(plan: &Plan, copula: &Copula) -> Vec<Vec<f64>> {
    let rows: Vec<Vec<f64>> =
        (0..plan.points()).map(|i| copula.correlate(&plan.point(i).unwrap()).unwrap()).collect();
    (0..plan.dimensions()).map(|d| rows.iter().map(|row| row[d]).collect()).collect()
}

/// Spearman's coefficient from the ranks themselves: 1 − 6 Σ d² / (n (n² − 1)), without ties.
fn spearman(a: &[f64], b: &[f64]) -> f64 {
    let ranks = |values: &[f64]| {
        let mut order: Vec<usize> = (0..values.len()).collect();
        order.sort_by(|&i, &j| values[i].total_cmp(&values[j]));
        let mut ranks = vec![0.0; values.len()];
        for (rank, &index) in order.iter().enumerate() {
            ranks[index] = rank as f64;
        }
        ranks
    };
    let count = a.len() as f64;
    let squares: f64 = ranks(a).iter().zip(ranks(b)).map(|(x, y)| (x - y) * (x - y)).sum();
    1.0 - 6.0 * squares / (count * (count * count - 1.0))
}

/// A matrix of four, some of it strong, over a Sobol plan and a Latin hypercube; a Latin hypercube is random in pairs:
/// its coefficient is uncertain by at most 1/√n = 0.008.
#[test]
fn a_sample_has_the_rank_correlations_asked_for() {
    let asked = [(0, 1, 0.8), (0, 2, -0.5), (1, 2, -0.3), (2, 3, 0.4)];
    let copula = Copula::of_pairs(4, &asked).unwrap();
    let plans = [
        (Plan::sobol(4, 16_384, 9).unwrap(), 0.003),
        (Plan::latin_hypercube(4, 16_384, 9).unwrap(), 3.0 * 0.008),
    ];
    for (plan, within) in plans {
        let columns = columns(&plan, &copula);
        for one in 0..4 {
            for other in one + 1..4 {
                let known = asked.iter().find(|pair| (pair.0, pair.1) == (one, other));
                let rank = known.map_or(0.0, |pair| pair.2);
                assert_abs_diff_eq!(spearman(&columns[one], &columns[other]), rank, epsilon = within);
            }
        }
    }
}

/// Distributions are rising functions of the coordinates, so ranks stay; here a skewed one and a bounded one.
#[test]
fn values_have_the_rank_correlation_of_their_coordinates() {
    let copula = Copula::of_pairs(2, &[(1, 0, 0.6)]).unwrap();
    let columns = columns(&Plan::sobol(2, 8_192, 2).unwrap(), &copula);
    let leakage = Distribution::log_normal(4.0, 1.8, Bounds::NONE).unwrap();
    let price = Distribution::triangular(1_800.0, 2_200.0, 3_000.0).unwrap();
    let values = |distribution: &Distribution, column: &[f64]| -> Vec<f64> {
        column.iter().map(|&share| distribution.quantile(share).unwrap()).collect()
    };
    let found = spearman(&values(&leakage, &columns[0]), &values(&price, &columns[1]));
    assert_abs_diff_eq!(found, 0.6, epsilon = 0.003);
}

/// Sheppard: two standard normal variables with linear correlation r are both below 0 with probability
/// 1/4 + asin(r) / 2π; with r = 2 sin(π ρ / 6).
#[test]
fn the_share_of_points_with_both_inputs_low_is_sheppards() {
    for rank in [-0.9, -0.4, 0.2, 0.7, 0.95] {
        let copula = Copula::of_pairs(2, &[(0, 1, rank)]).unwrap();
        let columns = columns(&Plan::sobol(2, 16_384, 1).unwrap(), &copula);
        let both = columns[0].iter().zip(&columns[1]).filter(|(a, b)| **a < 0.5 && **b < 0.5).count();
        let linear = 2.0 * (PI * rank / 6.0).sin();
        let expected = 0.25 + linear.asin() / (2.0 * PI);
        assert_abs_diff_eq!(both as f64 / 16_384.0, expected, epsilon = 0.002);
    }
}

#[test]
fn each_input_is_spread_as_before() {
    let copula = Copula::of_pairs(3, &[(0, 1, 0.9), (0, 2, -0.7), (1, 2, -0.6)]).unwrap();
    for column in columns(&Plan::sobol(3, 16_384, 4).unwrap(), &copula) {
        let mut tenths = [0_u32; 10];
        for share in column {
            tenths[(share * 10.0) as usize] += 1;
        }
        for count in tenths {
            assert_abs_diff_eq!(f64::from(count) / 16_384.0, 0.1, epsilon = 0.002);
        }
    }
}

#[test]
fn an_input_that_follows_no_other_keeps_its_bits() {
    let copula = Copula::of_pairs(4, &[(1, 3, 0.5), (0, 2, 0.0)]).unwrap();
    let point = Plan::sobol(4, 8, 3).unwrap().point(5).unwrap();
    let moved = copula.correlate(&point).unwrap();
    assert_eq!(moved[..3], point[..3]);
    assert_ne!(moved[3], point[3]);
    // Those on no tie may also lie on the side of the cube.
    assert_eq!(copula.correlate(&[0.0, 0.5, 1.0, 0.5]).unwrap(), [0.0, 0.5, 1.0, 0.5]);
}

/// n inputs can have the same linear correlation r with each other down to −1 / (n − 1): for three −1/2, that is a rank
/// correlation of −(6/π) asin(1/4) = −0.482584.
#[test]
fn three_inputs_cannot_all_oppose_each_other() {
    let all = |rank: f64| Copula::of_pairs(3, &[(0, 1, rank), (0, 2, rank), (1, 2, rank)]);
    assert!(all(-0.4825).is_ok());
    let said = all(-0.4827).unwrap_err().to_string();
    assert!(said.starts_with("input 3 cannot correlate so with the inputs before it"), "{said}");
    assert!(said.contains("100 % of it"), "{said}");
    let said = Copula::of_pairs(3, &[(0, 1, 0.9), (0, 2, 0.9), (1, 2, -0.9)]).unwrap_err();
    // By hand: r = 2 sin(0.15 π) = 0.907981, R² = 2 r² / (1 − r) for signs that contradict: 1791.87 %.
    let CorrelationError::Contradiction { input, percent } = said else { unreachable!("{said}") };
    assert_eq!(input, 3);
    assert_abs_diff_eq!(percent, 1791.87, epsilon = 0.01);
}

#[test]
fn numbers_that_are_no_correlations_are_refused_with_the_reason() {
    let pairs = |pairs: &[(usize, usize, f64)]| Copula::of_pairs(3, pairs).unwrap_err().to_string();
    let matrix = |rows: &[&[f64]]| {
        let rows: Vec<Vec<f64>> = rows.iter().map(|row| row.to_vec()).collect();
        Copula::of_matrix(&rows).unwrap_err().to_string()
    };
    for rank in [1.0, -1.0, 1.5, f64::NAN, f64::INFINITY] {
        assert!(pairs(&[(0, 2, rank)]).contains("inputs 1 and 3 is"), "{rank}");
    }
    assert!(pairs(&[(0, 3, 0.1)]).contains("inputs 1 and 4; they would have to be two different of 3"));
    assert!(pairs(&[(1, 1, 0.1)]).contains("inputs 2 and 2"));
    assert_eq!(pairs(&[(0, 1, 0.1), (1, 0, 0.2)]), "inputs 1 and 2 are given two correlations, 0.1 and 0.2");
    assert!(matrix(&[&[1.0, 0.5], &[0.4, 1.0]]).contains("given two correlations, 0.5 and 0.4"));
    assert!(matrix(&[&[1.0, 0.5], &[0.5]]).contains("row 2 of the correlations has 1 numbers"));
    assert!(matrix(&[&[1.0, 0.5], &[0.5, 0.9]]).contains("input 2 has correlation 0.9 with itself"));
    assert!(matrix(&[&[f64::NAN]]).contains("correlation NaN with itself"));
    let copula = Copula::of_matrix(&[vec![1.0, 0.5], vec![0.5, 1.0]]).unwrap();
    assert_eq!(copula, Copula::of_pairs(2, &[(0, 1, 0.5)]).unwrap());
    assert!(copula.correlate(&[0.5]).unwrap_err().to_string().contains("1 coordinates"));
    for share in [0.0, 1.0, -0.1, f64::NAN] {
        assert!(copula.correlate(&[0.5, share]).unwrap_err().to_string().contains("of input 2 is"));
    }
}

proptest! {
    #[test]
    fn points_stay_within_the_cube(a in 0.0..1.0_f64, b in 0.0..1.0_f64, rank in -0.999..0.999_f64, deep in 1..300_i32) {
        let copula = Copula::of_pairs(2, &[(0, 1, rank)]).unwrap();
        let tiny = 10_f64.powi(-deep);
        for point in [[a.max(tiny), b.max(tiny)], [tiny, b.max(tiny)], [1.0 - f64::EPSILON / 2.0; 2]] {
            let moved = copula.correlate(&point).unwrap();
            prop_assert!(moved.iter().all(|x| *x > 0.0 && *x < 1.0));
        }
    }
}

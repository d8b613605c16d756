//! Distributions: against scipy's and against closed forms, over their whole range, and what they refuse.
#![allow(clippy::unwrap_used, clippy::float_cmp)]

use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;
use sampling::distributions::{Bounds, Distribution, DistributionError, QuantileError};

fn at(distribution: &Distribution, shares: &[f64]) -> Vec<f64> {
    shares.iter().map(|&share| distribution.quantile(share).unwrap()).collect()
}

#[track_caller]
fn agree(distribution: &Distribution, known: &[(f64, f64)]) {
    for &(share, value) in known {
        assert_relative_eq!(distribution.quantile(share).unwrap(), value, max_relative = 1e-13);
    }
}

#[test]
fn uniform_is_a_straight_line() {
    let leakage = Distribution::uniform(1.0, 7.0).unwrap();
    assert_eq!(at(&leakage, &[0.0, 0.25, 0.5, 1.0]), [1.0, 2.5, 4.0, 7.0]);
}

/// `scipy.stats.triang`, scipy 1.17.1: c = 0.25, 0, 1.
#[test]
fn triangular_agrees_with_scipy() {
    let price = Distribution::triangular(1_800.0, 2_100.0, 3_000.0).unwrap();
    let known = [(0.1, 1989.7366596101028), (0.25, 2100.0), (0.5, 2265.153077165047), (0.9, 2671.3664654969)];
    agree(&price, &known);
    assert_eq!(at(&price, &[0.0, 1.0]), [1_800.0, 3_000.0]);
    let falling = Distribution::triangular(2.0, 2.0, 5.0).unwrap();
    agree(&falling, &[(0.0, 2.0), (0.1, 2.153950105848459), (0.5, 2.878679656440357), (1.0, 5.0)]);
    let rising = Distribution::triangular(2.0, 5.0, 5.0).unwrap();
    agree(&rising, &[(0.0, 2.0), (0.1, 2.948683298050514), (0.5, 4.121320343559643), (1.0, 5.0)]);
}

/// `scipy.stats.truncnorm`, scipy 1.17.1: cut on both sides, far out in a tail, and on one side.
#[test]
fn normal_agrees_with_scipy() {
    let setpoint = Distribution::normal(20.0, 3.0, Bounds::between(15.0, 30.0)).unwrap();
    let known = [
        (0.0, 15.0),
        (0.01, 15.266662039641028),
        (0.3, 18.707745454475848),
        (0.5, 20.178180432615726),
        (0.9, 23.920986514594073),
        (1.0, 30.0),
    ];
    agree(&setpoint, &known);
    let far = Distribution::normal(0.0, 1.0, Bounds::between(6.0, 9.0)).unwrap();
    let known = [
        (0.0, 6.0),
        (0.01, 6.00163173904042),
        (0.3, 6.057652623026772),
        (0.5, 6.111565061795188),
        (0.9, 6.363414284362702),
        (1.0, 9.0),
    ];
    agree(&far, &known);
    let below = Distribution::normal(0.0, 1.0, Bounds { low: None, high: Some(-2.0) }).unwrap();
    let known =
        [(0.01, -3.5059371543707547), (0.3, -2.466342374655068), (0.9, -2.0440335029544965), (1.0, -2.0)];
    agree(&below, &known);
    let above = Distribution::normal(5.0, 2.0, Bounds { low: Some(5.0), high: None }).unwrap();
    agree(
        &above,
        &[(0.0, 5.0), (0.01, 5.025066939016138), (0.5, 6.348979500392163), (0.9, 8.289707253902947)],
    );
}

/// Mirrored bounds give mirrored values, also where the whole distribution's shares are all but 1.
#[test]
fn a_normal_distribution_is_the_same_from_both_sides() {
    for (low, high) in [(-1.0, 2.0), (3.0, 4.0), (9.0, 20.0), (30.0, 31.0)] {
        let right = Distribution::normal(0.0, 1.0, Bounds::between(low, high)).unwrap();
        let left = Distribution::normal(0.0, 1.0, Bounds::between(-high, -low)).unwrap();
        for share in [0.0, 0.125, 0.5, 0.875, 1.0] {
            let (a, b) = (right.quantile(share).unwrap(), left.quantile(1.0 - share).unwrap());
            assert_relative_eq!(a, -b, max_relative = 1e-13);
        }
    }
}

/// `scipy.stats.lognorm(ln 1.8, scale = 4)`, scipy 1.17.1; two thirds lie within the factor of the median.
#[test]
fn log_normal_agrees_with_scipy() {
    let leakage = Distribution::log_normal(4.0, 1.8, Bounds::NONE).unwrap();
    let known = [
        (1e-6, 0.24470422069681183),
        (0.1, 1.8832809472960108),
        (0.5, 4.0),
        (0.8413447460685429, 7.2),
        (0.99, 15.700469547709952),
    ];
    agree(&leakage, &known);
    let cut = Distribution::log_normal(4.0, 1.8, Bounds::between(1.0, 12.0)).unwrap();
    assert_eq!(at(&cut, &[0.0, 1.0]), [1.0, 12.0]);
}

#[test]
fn a_list_runs_through_its_values_in_order() {
    let list = Distribution::list(&[5.0, -1.0, 3.0, 3.0]).unwrap();
    assert_eq!(at(&list, &[0.0, 0.24, 0.26, 0.5, 0.75, 1.0]), [5.0, 5.0, -1.0, 3.0, 3.0, 3.0]);
    assert_eq!(list.choice(0.8).unwrap(), Some(3));
    assert_eq!(Distribution::uniform(0.0, 1.0).unwrap().choice(0.8).unwrap(), None);
}

#[test]
fn discrete_values_come_as_often_as_their_weights() {
    let values = Distribution::discrete(&[10.0, 20.0, 30.0], &[1.0, 5.0, 2.0]).unwrap();
    let mut counts = [0; 3];
    for eighth in 0..8 {
        let place = values.choice((f64::from(eighth) + 0.5) / 8.0).unwrap().unwrap();
        counts[place] += 1;
    }
    assert_eq!(counts, [1, 5, 2]);
    assert_eq!(at(&values, &[0.0, 0.124, 0.125, 0.75, 1.0]), [10.0, 10.0, 20.0, 30.0, 30.0]);
}

/// The means of 100 000 midpoints against closed forms: the triangle's (a + b + c) / 3, the log-normal's
/// m exp(s² / 2), the mean of a normal cut at its mean, m + s √(2/π).
#[test]
fn means_are_those_of_the_textbook() {
    let mean = |distribution: Distribution| {
        let count = 100_000;
        (0..count)
            .map(|i| distribution.quantile((f64::from(i) + 0.5) / f64::from(count)).unwrap())
            .sum::<f64>()
            / f64::from(count)
    };
    assert_abs_diff_eq!(mean(Distribution::triangular(1.0, 2.0, 6.0).unwrap()), 3.0, epsilon = 1e-5);
    let spread = 1.5_f64.ln();
    let expected = 4.0 * (spread * spread / 2.0).exp();
    assert_abs_diff_eq!(
        mean(Distribution::log_normal(4.0, 1.5, Bounds::NONE).unwrap()),
        expected,
        epsilon = 1e-3
    );
    let half = Distribution::normal(5.0, 2.0, Bounds { low: Some(5.0), high: None }).unwrap();
    let expected = 5.0 + 2.0 * (2.0 / std::f64::consts::PI).sqrt();
    assert_abs_diff_eq!(mean(half), expected, epsilon = 1e-3);
}

fn refused(found: Result<Distribution, DistributionError>) -> String {
    found.unwrap_err().to_string()
}

#[test]
fn numbers_that_make_no_distribution_are_refused_with_the_reason() {
    let said = refused(Distribution::uniform(7.0, 1.0));
    assert_eq!(
        said,
        "a distribution goes from 7 to 1; the first must be the lower, and not by more than 1e308"
    );
    assert!(refused(Distribution::uniform(1.0, 1.0)).contains("from 1 to 1"));
    assert!(refused(Distribution::uniform(-1.7e308, 1.7e308)).contains("not by more than 1e308"));
    assert!(refused(Distribution::uniform(f64::NAN, 1.0)).contains("lower bound of a distribution is NaN"));
    assert!(refused(Distribution::triangular(1.0, 4.0, 3.0)).contains("most likely value 4 is outside"));
    assert!(refused(Distribution::triangular(1.0, f64::NAN, 3.0)).contains("most likely value"));
    let said = refused(Distribution::normal(20.0, 0.0, Bounds::NONE));
    assert_eq!(said, "the standard deviation of a distribution is 0; it would have to be more than 0");
    assert!(refused(Distribution::normal(20.0, 1.0, Bounds::between(3.0, 2.0))).contains("from 3 to 2"));
    let infinite = Bounds { low: None, high: Some(f64::INFINITY) };
    assert!(
        refused(Distribution::normal(20.0, 1.0, infinite)).contains("upper bound of a distribution is inf")
    );
    let said = refused(Distribution::normal(20.0, 1.0, Bounds::between(90.0, 91.0)));
    assert!(said.contains("between 90 and 91 nothing is left of a distribution about 20"), "{said}");
    assert!(refused(Distribution::log_normal(0.0, 2.0, Bounds::NONE)).contains("median"));
    assert!(refused(Distribution::log_normal(1.0, 1.0, Bounds::NONE)).contains("more than 1"));
    assert!(refused(Distribution::log_normal(1.0, 2.0, Bounds::between(0.0, 1.0))).contains("lower bound"));
    assert!(refused(Distribution::log_normal(1.0, 2.0, Bounds::between(5.0, 4.0))).contains("from 5 to 4"));
    let far = Bounds { low: Some(1e60), high: None };
    let said = refused(Distribution::log_normal(1.0, 2.0, far));
    assert!(said.contains("nothing is left of a distribution about 1"), "{said}");
    assert!(refused(Distribution::list(&[])).contains("is empty"));
    assert!(refused(Distribution::list(&[1.0, f64::INFINITY])).contains("value 2 of the list is inf"));
    assert!(refused(Distribution::discrete(&[1.0, 2.0], &[1.0])).contains("2 values have 1 weights"));
    for weight in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let said = refused(Distribution::discrete(&[1.0, 2.0], &[1.0, weight]));
        assert!(said.contains("weight 2 of the list"), "{said}");
    }
}

#[test]
fn shares_without_a_value_are_refused() {
    let normal = Distribution::normal(0.0, 1.0, Bounds::NONE).unwrap();
    let log_normal = Distribution::log_normal(1.0, 2.0, Bounds::NONE).unwrap();
    for share in [0.0, 1.0] {
        assert_eq!(normal.quantile(share), Err(QuantileError::Endless { share }));
        assert_eq!(log_normal.quantile(share), Err(QuantileError::Endless { share }));
    }
    for share in [-1e-9, 1.0 + 1e-9, f64::INFINITY] {
        assert_eq!(normal.quantile(share), Err(QuantileError::NotAShare { share }));
        assert_eq!(normal.choice(share), Err(QuantileError::NotAShare { share }));
    }
    assert!(normal.quantile(f64::NAN).is_err());
}

fn any_continuous() -> impl Strategy<Value = (Distribution, f64, f64)> {
    let ends = || (-1e6..1e6_f64, 1e-3..1e6_f64).prop_map(|(low, width)| (low, low + width));
    prop_oneof![
        ends().prop_map(|(low, high)| (Distribution::uniform(low, high).unwrap(), low, high)),
        (ends(), 0.0..=1.0_f64).prop_map(|((low, high), part)| {
            let mode = (low + part * (high - low)).clamp(low, high);
            (Distribution::triangular(low, mode, high).unwrap(), low, high)
        }),
        (ends(), 0.3..10.0_f64, 0.0..=1.0_f64).prop_map(|((low, high), wide, part)| {
            let mean = low + part * (high - low);
            let normal = Distribution::normal(mean, wide * (high - low), Bounds::between(low, high));
            (normal.unwrap(), low, high)
        }),
        (1e-3..1e3_f64, 1.1..5.0_f64).prop_map(|(median, factor)| {
            let (low, high) = (median / factor, median * factor * factor);
            let cut = Distribution::log_normal(median, factor, Bounds::between(low, high));
            (cut.unwrap(), low, high)
        }),
    ]
}

proptest! {
    #[test]
    fn a_value_lies_within_the_bounds_and_rises_with_the_share(
        (distribution, low, high) in any_continuous(),
        mut shares in prop::collection::vec(0.0..=1.0_f64, 2..20),
    ) {
        shares.sort_by(f64::total_cmp);
        let values = at(&distribution, &shares);
        for value in &values {
            prop_assert!((low..=high).contains(value));
        }
        prop_assert_eq!(at(&distribution, &[0.0, 1.0]), [low, high]);
        // Shares that are next to each other may round the wrong way.
        let rounding = 1e-13 * (low.abs() + high.abs());
        prop_assert!(values.windows(2).all(|pair| pair[0] <= pair[1] + rounding));
    }
}

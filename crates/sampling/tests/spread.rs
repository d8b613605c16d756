//! Spread: percentiles and deviations by hand and against certified ones, parts joined, tornado in order.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::cast_possible_truncation, clippy::cast_sign_loss)]

use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;
use sampling::plan::Plan;
use sampling::spread::{Percentiles, Running, Spread, SpreadError, Tornado};

/// By hand. Sorted: 1 1 2 3 3 4 5 5 6 9. P10 at place 0.9 (from 0): 1; P50 between 3 and 4; P90 at 8.1: 6 + 0.1 × 3.
/// Sum 39; sum of squares 207; (207 − 10 × 3.9²) / 9 = 6.1.
#[test]
fn ten_results_by_hand() {
    let spread = Spread::of(&[3.0, 1.0, 4.0, 1.0, 5.0, 9.0, 2.0, 6.0, 5.0, 3.0]).unwrap();
    assert_eq!(
        (spread.count, spread.lowest, spread.p10, spread.p50, spread.highest),
        (10, 1.0, 1.0, 3.5, 9.0)
    );
    assert_relative_eq!(spread.p90, 6.3, max_relative = 1e-15);
    assert_relative_eq!(spread.mean, 3.9, max_relative = 1e-15);
    assert_relative_eq!(spread.standard_deviation, 6.1_f64.sqrt(), max_relative = 1e-15);
}

/// Definition 7 apart from the others, of which definition 6 gives 1.0 and definition 8 1.2667 for P10 of 1 … 9.
#[test]
fn the_percentile_is_that_of_definition_seven() {
    let nine = Percentiles::of(&[9.0, 8.0, 7.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0]).unwrap();
    assert_relative_eq!(nine.at(0.1).unwrap(), 1.8, max_relative = 1e-15);
    assert_relative_eq!(nine.at(0.9).unwrap(), 8.2, max_relative = 1e-15);
    assert_eq!([0.0, 0.25, 0.5, 1.0].map(|share| nine.at(share).unwrap()), [1.0, 3.0, 5.0, 9.0]);
    assert_eq!(Percentiles::of(&[4.0]).unwrap().at(0.3).unwrap(), 4.0);
}

/// NIST Statistical Reference Datasets, `NumAcc4`: 10 000 000.2, then 500 times .1 and .3; mean 10 000 000.2 and standard
/// deviation 0.1 are certified (recalled). A sum of squares less the square of the sum has no right digit here.
#[test]
fn a_small_deviation_of_large_numbers_is_found() {
    let mut running = Running::new();
    running.push(10_000_000.2).unwrap();
    for _ in 0..500 {
        running.push(10_000_000.1).unwrap();
        running.push(10_000_000.3).unwrap();
    }
    assert_eq!(running.count(), 1_001);
    assert_relative_eq!(running.mean().unwrap(), 10_000_000.2, max_relative = 1e-15);
    // The data themselves are rounded to 1e-9.
    assert_abs_diff_eq!(running.standard_deviation().unwrap(), 0.1, epsilon = 2e-9);
}

#[test]
fn nothing_is_said_of_too_few_results() {
    let mut running = Running::new();
    assert_eq!((running.mean(), running.standard_deviation()), (None, None));
    running.push(3.0).unwrap();
    assert_eq!((running.mean(), running.standard_deviation()), (Some(3.0), None));
    assert_eq!(Spread::of(&[3.0]), Err(SpreadError::TooFew { count: 1 }));
    assert_eq!(Percentiles::of(&[]), Err(SpreadError::TooFew { count: 0 }));
}

#[test]
fn results_that_are_no_numbers_are_refused_by_their_place() {
    for value in [f64::NAN, f64::INFINITY, -1e151] {
        let said = Spread::of(&[1.0, 2.0, value]).unwrap_err().to_string();
        assert!(said.starts_with("result 2 is "), "{said}");
        assert!(Tornado::of(&[value, 2.0, 1.0]).is_err());
        let mut running = Running::new();
        running.push(1.0).unwrap();
        let before = running;
        assert!(matches!(running.push(value), Err(SpreadError::NotANumber { index: 1, .. })));
        assert_eq!(running, before);
    }
    let two = Percentiles::of(&[1.0, 2.0]).unwrap();
    for share in [-0.1, 1.1, f64::NAN] {
        assert!(two.at(share).unwrap_err().to_string().contains("would have to lie from 0 to 1"));
    }
    let spread = Spread::of(&[1e150, -1e150]).unwrap();
    assert!(spread.standard_deviation.is_finite() && spread.mean == 0.0);
}

/// The plan's own order; a rise, a fall of the same length, and a long fall: 3, −3, −4, 0.
#[test]
fn a_tornado_has_the_longest_bar_first_and_equal_ones_in_order() {
    let plan = Plan::one_at_a_time(4, 0.0, 1.0).unwrap();
    let cost = |point: Vec<f64>| 10.0 + 3.0 * point[0] - 3.0 * point[1] - 4.0 * point[2];
    let results: Vec<f64> = (0..plan.points()).map(|index| cost(plan.point(index).unwrap())).collect();
    let tornado = Tornado::of(&results).unwrap();
    assert_eq!(tornado.middle, 8.0);
    let bars: Vec<_> =
        tornado.bars.iter().map(|bar| (bar.input, bar.at_low, bar.at_high, bar.swing())).collect();
    assert_eq!(bars, [(2, 10.0, 6.0, 4.0), (0, 6.5, 9.5, 3.0), (1, 9.5, 6.5, 3.0), (3, 8.0, 8.0, 0.0)]);
    for count in [0, 1, 2, 4] {
        let said = Tornado::of(&vec![1.0; count]).unwrap_err().to_string();
        assert!(said.starts_with(&format!("{count} results make no tornado")), "{said}");
    }
}

proptest! {
    #[test]
    fn parts_joined_are_the_whole(values in prop::collection::vec(-1e6..1e6_f64, 2..200), part in 0.0..1.0_f64) {
        let of = |values: &[f64]| {
            let mut running = Running::new();
            for &value in values {
                running.push(value).unwrap();
            }
            running
        };
        let (left, right) = values.split_at((part * values.len() as f64) as usize);
        let (joined, whole) = (of(left).join(of(right)), of(&values));
        prop_assert_eq!(joined.count(), whole.count());
        let (a, b) = (joined.mean().unwrap(), whole.mean().unwrap());
        prop_assert!((a - b).abs() <= 1e-12 * 1e6, "{} {}", a, b);
        let (a, b) = (joined.standard_deviation().unwrap(), whole.standard_deviation().unwrap());
        prop_assert!((a - b).abs() <= 1e-12 * 1e6, "{} {}", a, b);
    }

    /// Not more than a share of results lies strictly below a percentile, and not more than the rest strictly above.
    #[test]
    fn a_percentile_divides_the_results(values in prop::collection::vec(-9..9_i32, 1..50), share in 0.0..=1.0_f64) {
        let results: Vec<f64> = values.iter().copied().map(f64::from).collect();
        let percentile = Percentiles::of(&results).unwrap().at(share).unwrap();
        let others = (results.len() - 1) as f64;
        let below = results.iter().filter(|value| **value < percentile).count() as f64;
        let above = results.iter().filter(|value| **value > percentile).count() as f64;
        prop_assert!(below <= (others * share).floor() + 1.0);
        prop_assert!(above <= (others * (1.0 - share)).floor() + 1.0);
    }
}

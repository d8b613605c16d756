//! Elementary effects: exact of a straight line, moments of curved and joint effects by hand, trajectories by definition.
#![allow(clippy::unwrap_used, clippy::float_cmp)]

use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;
use sampling::distributions::{Bounds, Distribution};
use sampling::morris::{Effect, LEVELS, Morris, MorrisError};

fn effects(design: &Morris, of: impl Fn(&[f64]) -> f64) -> Vec<Effect> {
    let results: Vec<f64> = (0..design.rows()).map(|index| of(&design.row(index).unwrap())).collect();
    design.effects(&results).unwrap()
}

/// On two levels every coordinate is 0 or 1, so nothing rounds: sizes are the coefficients', deviations 0.
#[test]
fn a_straight_line_is_found_exactly() {
    let of = |x: &[f64]| 5.0 + 3.0 * x[0] - 7.0 * x[1] + 0.5 * x[2];
    let found = effects(&Morris::new(4, 10, 2, 1).unwrap(), of);
    for (effect, coefficient) in found.iter().zip([3.0_f64, -7.0, 0.5, 0.0]) {
        let exact = Effect { mean_size: coefficient.abs(), mean: coefficient, deviation: 0.0 };
        assert_eq!(*effect, exact);
    }
    for levels in [4, 6, 10] {
        for (effect, coefficient) in
            effects(&Morris::new(4, 10, levels, 1).unwrap(), of).iter().zip([3.0_f64, -7.0, 0.5, 0.0])
        {
            assert_abs_diff_eq!(effect.mean_size, coefficient.abs(), epsilon = 1e-13);
            assert_abs_diff_eq!(effect.mean, coefficient, epsilon = 1e-13);
            assert_abs_diff_eq!(effect.deviation, 0.0, epsilon = 1e-13);
        }
    }
}

/// On four levels an input moves between 0 and 2/3 or between 1/3 and 1, as often. Of 9 (x − 1/2)² the changes over the
/// step of 2/3 are −3 and 3: size 3, mean 0, deviation 3. Of x y, the effect of x is y, of which each level is as likely:
/// mean 1/2, deviation √(7/18 − 1/4) = 0.37268.
#[test]
fn curved_and_joint_effects_have_the_moments_reckoned_by_hand() {
    let trajectories = 10_000;
    let design = Morris::new(3, trajectories, LEVELS, 3).unwrap();
    let found = effects(&design, |x| 9.0 * (x[0] - 0.5) * (x[0] - 0.5) + x[1] * x[2]);
    // Four standard errors.
    let within = |deviation: f64| 4.0 * deviation / 100.0;
    assert_relative_eq!(found[0].mean_size, 3.0, max_relative = 1e-12);
    assert_abs_diff_eq!(found[0].mean, 0.0, epsilon = within(3.0));
    assert_abs_diff_eq!(found[0].deviation, 3.0, epsilon = 0.01);
    for input in [1, 2] {
        assert_abs_diff_eq!(found[input].mean, 0.5, epsilon = within(0.37268));
        assert_relative_eq!(found[input].mean_size, found[input].mean, max_relative = 1e-12);
        assert_abs_diff_eq!(found[input].deviation, 0.37268, epsilon = 0.01);
    }
}

/// Each of the 24 orders of four inputs about as often (1 000 ± 31), each direction, each level.
#[test]
fn trajectories_go_every_way() {
    let design = Morris::new(4, 24_000, LEVELS, 9).unwrap();
    let mut orders = std::collections::HashMap::new();
    let (mut up, mut starts) = (0, [0; 4]);
    for trajectory in 0..24_000 {
        let rows: Vec<Vec<f64>> = (0..5).map(|step| design.row(5 * trajectory + step).unwrap()).collect();
        let moved: Vec<usize> = rows
            .windows(2)
            .map(|pair| (0..4).find(|&input| pair[0][input] != pair[1][input]).unwrap())
            .collect();
        *orders.entry(moved).or_insert(0) += 1;
        up += i32::from(rows[4][0] > rows[0][0]);
        let level = [0.0, 1.0 / 3.0, 2.0 / 3.0, 1.0].iter().position(|level| rows[0][0] == *level);
        starts[level.unwrap()] += 1;
    }
    assert_eq!(orders.len(), 24);
    assert!(orders.values().all(|count| (850..1_150).contains(count)));
    assert!((11_600..12_400).contains(&up), "{up}");
    assert!(starts.iter().all(|count| (5_700..6_300).contains(count)), "{starts:?}");
}

/// A normal input has no ends; between its 5th and 95th hundredth, ± 1.644854 deviations, the effect is that of 3.289707.
#[test]
fn inputs_without_ends_are_kept_within() {
    let normal = Distribution::normal(20.0, 2.0, Bounds::NONE).unwrap();
    let design = Morris::new(1, 10, 2, 1).unwrap().within(0.05, 0.95).unwrap();
    let found = effects(&design, |x| normal.quantile(x[0]).unwrap());
    assert_relative_eq!(found[0].mean, 2.0 * 3.289707253902945, max_relative = 1e-12);
    assert_abs_diff_eq!(found[0].deviation, 0.0, epsilon = 1e-12);
}

#[test]
fn a_design_that_was_not_run_to_its_end_has_effects_too() {
    let (whole, part) = (Morris::new(2, 20, 4, 5).unwrap(), Morris::new(2, 5, 4, 5).unwrap());
    let results: Vec<f64> =
        (0..60).map(|index| whole.row(index).unwrap().iter().map(|x| x * x).sum()).collect();
    assert_eq!(whole.effects(&results[..15]).unwrap(), part.effects(&results[..15]).unwrap());
}

#[test]
fn what_has_no_effects_is_refused_with_the_reason() {
    let refused = |design: Result<Morris, MorrisError>| design.unwrap_err().to_string();
    assert!(refused(Morris::new(0, 10, 4, 1)).contains("asked for no input"));
    assert!(refused(Morris::new(3, 1, 4, 1)).contains("1 trajectories of 3 inputs; 2 or more"));
    assert!(refused(Morris::new(3, 1 << 31, 4, 1)).contains("at most 4294967296 runs"));
    for levels in [0, 1, 3, 1_002] {
        assert!(
            refused(Morris::new(3, 10, levels, 1)).contains("an even number from 2 to 1000 would be right")
        );
    }
    let design = Morris::new(1, 3, 4, 1).unwrap();
    for (low, high) in [(-0.1, 1.0), (0.0, 1.1), (0.5, 0.5), (0.9, 0.1), (f64::NAN, 1.0), (0.0, f64::NAN)] {
        assert!(refused(design.within(low, high)).contains("inputs go from share"));
    }
    let said = |results: &[f64]| design.effects(results).unwrap_err().to_string();
    for count in [0, 2, 3, 5, 8] {
        assert!(said(&vec![1.0; count]).contains("it needs 2 to 3 times 2, those of whole trajectories"));
    }
    assert!(said(&[0.0, 1.0, 2.0, f64::INFINITY]).starts_with("result 3 is inf"));
    assert!(design.row(6).is_err());
}

proptest! {
    /// From run to run of a trajectory one input changes, each once, by the step, within 0 to 1; and a seed repeats.
    #[test]
    fn a_trajectory_changes_every_input_once_by_the_step(
        inputs in 1..12_usize, half in 1..8_u32, trajectory in 0..50_u64, seed: u64,
    ) {
        let levels = 2 * half;
        let design = Morris::new(inputs, 50, levels, seed).unwrap();
        let each = inputs as u64 + 1;
        let rows: Vec<Vec<f64>> =
            (0..each).map(|step| design.row(each * trajectory + step).unwrap()).collect();
        let step = f64::from(levels) / (2.0 * f64::from(levels - 1));
        let mut changed = vec![0; inputs];
        for pair in rows.windows(2) {
            for input in (0..inputs).filter(|&input| pair[0][input] != pair[1][input]) {
                changed[input] += 1;
                prop_assert!(((pair[1][input] - pair[0][input]).abs() - step).abs() < 1e-15);
            }
        }
        prop_assert!(changed.iter().all(|&times| times == 1));
        prop_assert!(rows.iter().flatten().all(|x| (0.0..=1.0).contains(x)));
        let again = Morris::new(inputs, 60, levels, seed).unwrap();
        prop_assert_eq!(again.row(each * trajectory).unwrap(), rows[0].clone());
    }
}

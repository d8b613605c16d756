//! Sobol indices: test functions with known indices, `SALib`'s numbers, intervals, and what is refused.
#![allow(clippy::unwrap_used, clippy::float_cmp)]

use std::f64::consts::PI;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use sampling::sobol_indices::{Estimate, IndexError, Indices, MOST_INPUTS, REPETITIONS, Saltelli};

fn results(design: &Saltelli, of: impl Fn(&[f64]) -> f64) -> Vec<f64> {
    (0..design.rows()).map(|index| of(&design.row(index).unwrap())).collect()
}

fn indices(inputs: usize, base_rows: u64, seed: u64, of: impl Fn(&[f64]) -> f64) -> Indices {
    let design = Saltelli::new(inputs, base_rows, seed).unwrap();
    design.indices(&results(&design, of), 100).unwrap()
}

/// sin x₁ + 7 sin² x₂ + 0.1 x₃⁴ sin x₁, each input from −π to π.
fn ishigami(point: &[f64]) -> f64 {
    let [x, y, z] = [0, 1, 2].map(|input| PI * (2.0 * point[input] - 1.0));
    x.sin() + 7.0 * y.sin().powi(2) + 0.1 * z.powi(4) * x.sin()
}

/// Mean, variance, first and total indices of Ishigami and Homma's function, from its integrals.
fn ishigami_known() -> (f64, f64, [f64; 3], [f64; 3]) {
    let (a, b) = (7.0, 0.1);
    let alone = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2);
    let second = a * a / 8.0;
    let with_third = 8.0 * b * b * PI.powi(8) / 225.0;
    let variance = alone + second + with_third;
    let share = |part: f64| part / variance;
    let first = [share(alone), share(second), 0.0];
    (a / 2.0, variance, first, [share(alone + with_third), share(second), share(with_third)])
}

#[test]
fn the_known_indices_are_those_in_print() {
    let (mean, variance, first, total) = ishigami_known();
    let near = |found: f64, known: f64| assert_abs_diff_eq!(found, known, epsilon = 6e-7);
    near(mean, 3.5);
    near(variance, 13.844588);
    first.into_iter().zip([0.313905, 0.442411, 0.0]).for_each(|(found, known)| near(found, known));
    total.into_iter().zip([0.557589, 0.442411, 0.243684]).for_each(|(found, known)| near(found, known));
}

#[test]
fn ishigamis_function() {
    let (mean, variance, first, total) = ishigami_known();
    for seed in 0..10 {
        let found = indices(3, 8_192, seed, ishigami);
        assert_relative_eq!(found.mean, mean, max_relative = 0.01);
        assert_relative_eq!(found.variance, variance, max_relative = 0.01);
        for (input, of) in found.inputs.iter().enumerate() {
            assert_abs_diff_eq!(of.first.value, first[input], epsilon = 0.01);
            assert_abs_diff_eq!(of.first_jansen.value, first[input], epsilon = 0.01);
            assert_abs_diff_eq!(of.total.value, total[input], epsilon = 0.01);
        }
        // The first and the third input act together and with no other: S₁₃ is what the first brings beyond itself.
        let together = found.inputs[0].total.value - found.inputs[0].first.value;
        assert_abs_diff_eq!(together, 0.243684, epsilon = 0.01);
    }
}

/// With 512 base rows the estimates miss by as much as a second program's: numpy, with scipy's own scrambled sequence, root
/// mean square over 200 seeds. That is up to 0.07, so one seed alone proves little. The mean over seeds is right to 0.02:
/// 0.0716 / √100 is 0.007.
#[test]
fn ishigamis_function_from_few_rows() {
    let (_, _, first, total) = ishigami_known();
    let second_program =
        [[0.03217, 0.00810, 0.04581], [0.01452, 0.03053, 0.07159], [0.05562, 0.00612, 0.00644]];
    let (mut squares, mut sums) = ([[0.0; 3]; 3], [[0.0; 3]; 3]);
    for seed in 0..100 {
        let found = indices(3, 512, seed, ishigami);
        for (input, of) in found.inputs.iter().enumerate() {
            let errors = [
                of.first.value - first[input],
                of.first_jansen.value - first[input],
                of.total.value - total[input],
            ];
            for (which, error) in errors.into_iter().enumerate() {
                squares[which][input] += error * error / 100.0;
                sums[which][input] += error / 100.0;
            }
        }
    }
    for which in 0..3 {
        for input in 0..3 {
            let missed: f64 = squares[which][input];
            assert_relative_eq!(missed.sqrt(), second_program[which][input], max_relative = 0.35);
            assert_abs_diff_eq!(sums[which][input], 0.0, epsilon = 0.02);
        }
    }
}

/// `SALib`'s own indices of this function with as many base rows of its own (1.6.0): both lie about the known ones.
#[test]
fn salib_finds_the_same_in_ishigamis_function() {
    let found = indices(3, 8_192, 1, ishigami);
    let salib = [(0.31405, 0.55743), (0.44368, 0.44241), (-0.00024, 0.24369)];
    for (of, (first, total)) in found.inputs.iter().zip(salib) {
        assert_abs_diff_eq!(of.first.value, first, epsilon = 0.01);
        assert_abs_diff_eq!(of.total.value, total, epsilon = 0.01);
    }
}

/// Sobol's G-function, the product of (|4 x − 2| + a) / (1 + a): an input brings alone 1 / (3 (1 + a)²).
#[test]
fn the_g_function() {
    let a = [0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0];
    let alone = a.map(|a: f64| 1.0 / (3.0 * (1.0 + a).powi(2)));
    let product: f64 = alone.iter().map(|part| 1.0 + part).product();
    let variance = product - 1.0;
    assert_abs_diff_eq!(variance, 0.465424, epsilon = 6e-7);
    let printed =
        [(0.71619, 0.78714), (0.17905, 0.24220), (0.02368, 0.03432), (0.00716, 0.01046), (0.00007, 0.00010)];
    let g =
        |point: &[f64]| point.iter().zip(a).map(|(x, a)| ((4.0 * x - 2.0).abs() + a) / (1.0 + a)).product();
    for (base_rows, within) in [(8_192, 0.01), (512, 0.05)] {
        let found = indices(8, base_rows, 5, g);
        assert_relative_eq!(found.mean, 1.0, max_relative = within);
        assert_relative_eq!(found.variance, variance, max_relative = within);
        for (input, of) in found.inputs.iter().enumerate() {
            let first = alone[input] / variance;
            let total = alone[input] / variance * product / (1.0 + alone[input]);
            if let Some(printed) = printed.get(input) {
                assert_abs_diff_eq!(first, printed.0, epsilon = 6e-6);
                assert_abs_diff_eq!(total, printed.1, epsilon = 6e-6);
            }
            for (found, known) in [(of.first, first), (of.first_jansen, first), (of.total, total)] {
                assert_abs_diff_eq!(found.value, known, epsilon = within);
            }
        }
    }
}

/// `SALib` 1.6.0 on the very same 500 base rows, fractions of multiples of √2, √3, √5, √7: estimates to rounding; half lengths
/// of intervals, there 1.96 standard deviations of 4 000 repetitions, within a tenth (it moves by 3 % between seeds).
/// Jansen's first index by numpy.
#[test]
fn the_same_results_give_salibs_indices_and_intervals() {
    let of = |x: f64, y: f64| x + 0.5 * y + x * y;
    let mut results = Vec::new();
    for row in 1..=500 {
        let [a, b, c, d] = [2.0_f64, 3.0, 5.0, 7.0].map(|root| (f64::from(row) * root.sqrt()).fract());
        results.extend([of(a, b), of(c, d), of(c, b), of(a, d)]);
    }
    let found = Saltelli::new(2, 500, 1).unwrap().indices(&results, 4_000).unwrap();
    assert_relative_eq!(found.mean, 0.9952450332287015, max_relative = 1e-12);
    assert_relative_eq!(found.variance, 0.2638985201270958, max_relative = 1e-12);
    let first = [(0.6501853664492624, 0.0905), (0.25441770241023454, 0.0672)];
    let jansen = [0.6583669168787505, 0.2790535384229993];
    let total = [(0.7088995816917396, 0.0857), (0.34411356391565096, 0.0491)];
    for (input, of) in found.inputs.iter().enumerate() {
        assert_relative_eq!(of.first_jansen.value, jansen[input], max_relative = 1e-11);
        for (found, (value, half)) in [(of.first, first[input]), (of.total, total[input])] {
            assert_relative_eq!(found.value, value, max_relative = 1e-11);
            assert_relative_eq!((found.high - found.low) / 2.0, half, max_relative = 0.1);
        }
    }
}

/// Of thirty designs, six intervals each. They take base rows for independent, so more than 95 of 100 hold the truth. Sixteen
/// times the base rows make them a quarter as long.
#[test]
fn intervals_hold_the_known_indices() {
    let (_, _, first, total) = ishigami_known();
    let (mut held, mut of) = (0, 0);
    let mut lengths = [0.0; 2];
    for seed in 0..30 {
        let found = indices(3, 256, seed, ishigami);
        for (input, index) in found.inputs.iter().enumerate() {
            for (Estimate { low, high, .. }, known) in
                [(index.first, first[input]), (index.total, total[input])]
            {
                held += u32::from(low <= known && known <= high);
                of += 1;
            }
        }
        let length = |estimate: Estimate| estimate.high - estimate.low;
        lengths[0] += length(found.inputs[0].total);
        lengths[1] += length(indices(3, 4_096, seed, ishigami).inputs[0].total);
    }
    assert!(f64::from(held) >= 0.95 * f64::from(of), "{held} of {of}");
    assert_relative_eq!(lengths[0] / lengths[1], 4.0, max_relative = 0.15);
}

/// A sum: shares of the variance are those of the squares, 1 : 4 : 9 of 14, first as total; an input that is not there has none.
#[test]
fn a_sum_has_no_interactions() {
    let found = indices(4, 1_024, 8, |x| 1e6 + x[0] - 2.0 * x[1] + 3.0 * x[2]);
    for (of, ninths) in found.inputs.iter().zip([1.0, 4.0, 9.0, 0.0]) {
        assert_abs_diff_eq!(of.first.value, ninths / 14.0, epsilon = 0.02);
        assert_abs_diff_eq!(of.total.value, ninths / 14.0, epsilon = 0.02);
    }
    let nothing = Estimate { value: 0.0, low: 0.0, high: 0.0 };
    assert_eq!((found.inputs[3].first, found.inputs[3].total), (nothing, nothing));
    assert_relative_eq!(found.variance, 14.0 / 12.0, max_relative = 0.01);
}

/// The unit of a result and where its zero is do not matter: shares stay.
#[test]
fn indices_do_not_depend_on_the_unit() {
    let design = Saltelli::new(3, 64, 2).unwrap();
    let results = results(&design, ishigami);
    let of = |scale: f64, add: f64| {
        let results: Vec<f64> = results.iter().map(|value| scale * value + add).collect();
        design.indices(&results, 100).unwrap()
    };
    let plain = of(1.0, 0.0);
    for other in [of(1e-30, 0.0), of(-1e100, 0.0), of(3.6e6, 1e6)] {
        for (a, b) in plain.inputs.iter().zip(&other.inputs) {
            for (a, b) in [(a.first, b.first), (a.first_jansen, b.first_jansen), (a.total, b.total)] {
                assert_abs_diff_eq!(a.value, b.value, epsilon = 1e-9);
                assert_abs_diff_eq!(a.low, b.low, epsilon = 1e-9);
                assert_abs_diff_eq!(a.high, b.high, epsilon = 1e-9);
            }
        }
    }
}

#[test]
fn rows_are_a_and_b_with_one_input_exchanged() {
    let design = Saltelli::new(3, 4, 6).unwrap();
    assert_eq!(design.rows(), 20);
    for base in 0..4 {
        let rows: Vec<Vec<f64>> = (0..5).map(|which| design.row(5 * base + which).unwrap()).collect();
        assert!((0..3).all(|input| rows[0][input] != rows[1][input]));
        for (exchanged, row) in rows[2..].iter().enumerate() {
            let mut expected = rows[0].clone();
            expected[exchanged] = rows[1][exchanged];
            assert_eq!(*row, expected);
        }
    }
    let longer = Saltelli::new(3, 64, 6).unwrap();
    assert!((0..20).all(|index| design.row(index).unwrap() == longer.row(index).unwrap()));
    assert_ne!(design.row(7).unwrap(), Saltelli::new(3, 4, 7).unwrap().row(7).unwrap());
    assert!(design.row(20).is_err());
}

#[test]
fn a_design_that_was_not_run_to_its_end_has_indices_too() {
    let (whole, part) = (Saltelli::new(3, 64, 2).unwrap(), Saltelli::new(3, 16, 2).unwrap());
    let results = results(&whole, ishigami);
    assert_eq!(whole.indices(&results[..80], 100), part.indices(&results[..80], 100));
}

#[test]
fn what_has_no_indices_is_refused_with_the_reason() {
    assert_eq!(Saltelli::new(0, 8, 1), Err(IndexError::Inputs { inputs: 0 }));
    assert_eq!(Saltelli::new(MOST_INPUTS + 1, 8, 1), Err(IndexError::Inputs { inputs: 65 }));
    assert_eq!(Saltelli::new(3, 1, 1), Err(IndexError::BaseRows { base_rows: 1 }));
    let design = Saltelli::new(1, 4, 1).unwrap();
    let refused =
        |results: &[f64], repetitions| design.indices(results, repetitions).unwrap_err().to_string();
    let ramp: Vec<f64> = (0..12).map(f64::from).collect();
    for results in [&ramp[..0], &ramp[..3], &ramp[..11], &[0.0; 15]] {
        assert!(refused(results, 100).contains("it needs 2 to 4 times 3, those of whole base rows"));
    }
    assert!(refused(&ramp, 99).contains("100 to 100000 would be right"));
    let mut broken = ramp.clone();
    broken[5] = f64::NAN;
    assert!(refused(&broken, 100).starts_with("result 5 is NaN"));
    assert!(refused(&[0.5; 12], 100).contains("all results of the base rows are alike, about 0.5"));
    // Apart by rounding only.
    assert!(refused(&[0.1, 0.1, 0.3 - 0.2].repeat(4), 100).contains("are alike"));
    let rounded: Vec<f64> = ramp.iter().map(|step| 1.0 + step * f64::EPSILON).collect();
    assert!(refused(&rounded, 100).contains("are alike"));
    // One base row of four differs: some repetition leaves it out.
    let mut one = [0.0; 12];
    one[0] = 1.0;
    assert_eq!(design.indices(&one, REPETITIONS), Err(IndexError::TooFewDiffer));
}

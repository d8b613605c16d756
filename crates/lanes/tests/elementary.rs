//! exp and ln against values to 60 digits (mpmath; `data/README.md`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use lanes::Real;

const TABLE: &str = include_str!("data/exp_ln.csv");

fn rows(function: &str) -> Vec<[f64; 3]> {
    TABLE
        .lines()
        .skip(1)
        .filter_map(|line| line.strip_prefix(&format!("{function},")))
        .map(|rest| {
            let mut cells = rest.split(',').map(|cell| cell.parse::<f64>().unwrap());
            [cells.next().unwrap(), cells.next().unwrap(), cells.next().unwrap()]
        })
        .collect()
}

#[test]
fn exp_is_within_three_parts_in_ten_to_the_sixteen() {
    let mut worst = 0.0_f64;
    for [x, high, low] in rows("exp") {
        worst = worst.max((((Real::exp(x) - high) - low) / high).abs());
    }
    println!("exp: {worst:e}");
    assert!(worst < 3e-16, "{worst:e}");
}

#[test]
fn ln_is_within_the_stated_error() {
    let (mut worst, mut count) = (0.0_f64, 0);
    for [x, high, low] in rows("ln") {
        let error = ((Real::ln(x) - high) - low).abs();
        worst = worst.max(error / high.abs().max(1.0 / 3.0));
        count += 1;
    }
    println!("ln: {worst:e} of {count}");
    assert!(worst < 3e-16, "{worst:e}");
}

#[test]
fn arguments_of_exp_past_the_limits_are_held_there() {
    assert_eq!(Real::exp(-1e300), Real::exp(-708.0));
    assert_eq!(Real::exp(1e300), Real::exp(709.0));
}

//! exp and ln against values to 60 digits (`data/exp_ln.csv`), and what they do at the ends of their ranges.
//!
//! `cargo test -p lanes --test elementary -- --nocapture` prints the largest errors. Not here: that every row width gives
//! the same bits (`same_bits`), so that what holds for one number holds for all.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use lanes::Real;

const TABLE: &str = include_str!("data/exp_ln.csv");

/// A value to 60 digits: `nearest + rest_ulp × ulp(nearest)`.
struct Exact {
    argument: f64,
    nearest: f64,
    rest_ulp: f64,
}

/// How far an answer is off, in three measures.
#[derive(Clone, Copy)]
struct Off {
    argument: f64,
    ulp: f64,
    absolute: f64,
    relative: f64,
}

impl Exact {
    fn off(&self, found: f64) -> Off {
        let ulp = self.nearest.abs().next_up() - self.nearest.abs();
        // Both steps are exact: the two are neighbours, and an ulp is a power of two.
        let off = ((found - self.nearest) / ulp - self.rest_ulp).abs();
        // ulp / nearest first: the product of an ulp and a part of one is lost near the smallest double.
        let relative = if self.nearest == 0.0 { off * ulp } else { off * (ulp / self.nearest.abs()) };
        Off { argument: self.argument, ulp: off, absolute: off * ulp, relative }
    }
}

fn rows(function: &str) -> Vec<Exact> {
    let all: Vec<Exact> = TABLE.lines().filter_map(|line| row(line.strip_prefix(function)?)).collect();
    assert!(all.len() > 300, "{} rows of {function}", all.len());
    all
}

fn row(rest: &str) -> Option<Exact> {
    let mut cells = rest.strip_prefix(',')?.split(',').map(|cell| cell.parse().unwrap());
    Some(Exact { argument: cells.next()?, nearest: cells.next()?, rest_ulp: cells.next()? })
}

/// Where this measure of the errors is largest.
fn worst(all: &[Off], measure: fn(&Off) -> f64) -> Off {
    *all.iter().max_by(|a, b| measure(a).total_cmp(&measure(b))).unwrap()
}

fn report(name: &str, all: &[Off]) {
    let (ulp, relative) = (worst(all, |off| off.ulp), worst(all, |off| off.relative));
    println!("{name}: at most {:.3} ulp at {:?}", ulp.ulp, ulp.argument);
    println!("{name}: at most {:.3e} relative at {:?}", relative.relative, relative.argument);
}

#[test]
fn exp_is_within_three_parts_in_ten_to_the_sixteen() {
    let all: Vec<Off> = rows("exp").iter().map(|exact| exact.off(Real::exp(exact.argument))).collect();
    report("exp", &all);
    for off in all {
        assert!(off.relative < 3e-16, "exp({:?}): relative error {:e}", off.argument, off.relative);
    }
}

#[test]
fn ln_is_within_an_absolute_1e_16_or_a_relative_3e_16() {
    let all: Vec<Off> = rows("ln").iter().map(|exact| exact.off(Real::ln(exact.argument))).collect();
    report("ln", &all);
    for off in all {
        let kept = off.absolute < 1e-16 || off.relative < 3e-16;
        assert!(kept, "ln({:?}): error {:e}, relative {:e}", off.argument, off.absolute, off.relative);
    }
}

#[test]
fn exp_of_zero_and_ln_of_one_are_exact() {
    assert_eq!(Real::exp(0.0), 1.0);
    assert_eq!(Real::exp(-0.0), 1.0);
    assert_eq!(Real::ln(1.0).to_bits(), 0.0_f64.to_bits());
}

#[test]
fn arguments_of_exp_past_the_limits_are_held_there() {
    for (limit, past) in
        [(-708.0, [-708.1, -1e300, f64::NEG_INFINITY]), (709.0, [709.1, 1e300, f64::INFINITY])]
    {
        for x in past {
            assert_eq!(Real::exp(x), Real::exp(limit), "exp({x})");
        }
    }
}

/// Neighbouring arguments may round to one answer, never to two in the wrong order by more than the stated error.
#[test]
fn exp_and_ln_rise_from_row_to_row_of_the_table() {
    for (name, function) in [("exp", Real::exp as fn(f64) -> f64), ("ln", Real::ln)] {
        let found: Vec<f64> = rows(name).iter().map(|exact| function(exact.argument)).collect();
        for pair in found.windows(2) {
            assert!(pair[0] <= pair[1] + 3e-16 * pair[1].abs() + 1e-16, "{name}: {pair:?}");
        }
    }
}

//! Every operation gives the same bits in rows of every width, on every instruction set that this machine has; and for
//! one number it means what its documentation says, for signed zeros and for NaN too.
//!
//! `InstructionSet::Baseline` runs plain numbers one by one, which is what every other machine runs. Not here: whether
//! exp and ln are right (`elementary`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use lanes::{InstructionSet, Kernel, Mask, Real, WIDTHS, available, run_fours, run_rows, width_on};
use proptest::prelude::*;

/// Names and answers of the operations that make numbers.
const NUMBERS: usize = 20;
/// The operations that only move, pick or re-sign what is there: the bits of a NaN must come through them too.
const MOVING: [usize; 6] = [4, 9, 11, 12, 13, 14];
/// Names and answers of the operations that make truth values.
const TRUTHS: usize = 9;

#[inline(always)]
fn numbers<R: Real>(a: R, b: R) -> [R; NUMBERS] {
    let (mut added, mut taken) = (a, a);
    added += b;
    taken -= b;
    [
        a + b,
        a - b,
        a * b,
        a / b,
        -a,
        a + 1.5,
        a - 1.5,
        a * 1.5,
        a / 1.5,
        a.abs(),
        a.sqrt(),
        a.min(b),
        a.max(b),
        R::select(a.lt(b), a, b),
        R::select(a.le(b), b, a),
        a.exp(),
        a.ln(),
        a.squared(),
        added,
        taken,
    ]
}

#[inline(always)]
fn truths<R: Real>(a: R, b: R) -> [R::Mask; TRUTHS] {
    let (less, positive) = (a.lt(b), a.gt(R::zero()));
    [
        less,
        a.le(b),
        a.gt(b),
        a.ge(b),
        !less,
        less & positive,
        less | positive,
        R::Mask::splat(true),
        R::Mask::splat(false),
    ]
}

/// What one lane answered.
#[derive(Debug, Clone, PartialEq)]
struct Answers {
    bits: [u64; NUMBERS],
    truths: [bool; TRUTHS],
}

struct Work<'a>(&'a [f64], &'a [f64]);

impl Kernel for Work<'_> {
    type Output = Vec<Answers>;
    #[inline(always)]
    fn run<R: Real>(self) -> Self::Output {
        let mut found = Vec::new();
        for first in (0..self.0.len()).step_by(R::LANES) {
            let a = R::from_lanes(|lane| self.0[first + lane]);
            let b = R::from_lanes(|lane| self.1[first + lane]);
            let (numbers, truths) = (numbers(a, b), truths(a, b));
            let told = truths.map(|mask| R::select(mask, R::one(), R::zero()));
            found.extend((0..R::LANES).map(|lane| Answers {
                bits: numbers.map(|number| number.lane(lane).to_bits()),
                truths: told.map(|truth| truth.lane(lane) == 1.0),
            }));
        }
        found
    }
}

/// IEEE 754 leaves open which NaN an arithmetic operation makes, so there any NaN equals any other; all else, to the bit.
fn alike(place: usize, x: u64, y: u64) -> bool {
    let both_nan = f64::from_bits(x).is_nan() && f64::from_bits(y).is_nan();
    x == y || (both_nan && !MOVING.contains(&place))
}

/// Compares every width on every set with plain numbers, for pairs whose count is a multiple of sixteen.
fn compare(a: &[f64], b: &[f64]) {
    let plain = Work(a, b).run::<f64>();
    let of_widths = available().into_iter().flat_map(|set| {
        WIDTHS.map(|width| (format!("{width:?} on {set:?}"), run_rows(set, width, Work(a, b)).unwrap()))
    });
    let of_fours = run_fours(Work(a, b)).map(|rows| ("rows of four".to_owned(), rows));
    for (which, rows) in of_widths.chain(of_fours) {
        assert_eq!(rows.len(), plain.len());
        for (k, (row, one)) in rows.iter().zip(&plain).enumerate() {
            assert_eq!(row.truths, one.truths, "{which}: comparisons of {}, {}", a[k], b[k]);
            for place in 0..NUMBERS {
                let (x, y) = (row.bits[place], one.bits[place]);
                let what = || format!("{which}: operation {place} of {}, {}", a[k], b[k]);
                assert!(alike(place, x, y), "{}: {x:016x} is not {y:016x}", what());
            }
        }
    }
}

const SPECIAL: [f64; 24] = [
    0.0,
    -0.0,
    1.0,
    -1.0,
    5e-324,
    -5e-324,
    f64::MIN_POSITIVE,
    1e-300,
    -1e-300,
    0.5,
    core::f64::consts::FRAC_1_SQRT_2,
    1.0 + f64::EPSILON,
    2.0,
    -708.0,
    -708.5,
    709.0,
    710.0,
    1e300,
    f64::MAX,
    f64::MIN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    f64::NAN,
    -f64::NAN,
];

#[test]
fn every_width_and_set_equals_plain_numbers_for_all_pairs_of_special_numbers() {
    let pairs: Vec<(f64, f64)> = SPECIAL.iter().flat_map(|&a| SPECIAL.map(|b| (a, b))).collect();
    assert_eq!(pairs.len() % 16, 0);
    let (a, b): (Vec<f64>, Vec<f64>) = pairs.into_iter().unzip();
    compare(&a, &b);
}

fn number() -> impl Strategy<Value = f64> {
    // `ANY` draws bit patterns: every size, both signs, subnormal numbers, infinities and NaN.
    prop_oneof![
        -1e3..1e3,
        -1.0..1.0,
        1e-30..1e30,
        0.5..2.0,
        prop::num::f64::ANY,
        prop::sample::select(&SPECIAL[..])
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_width_and_set_equals_plain_numbers_for_any_numbers(
        a in prop::array::uniform16(number()),
        b in prop::array::uniform16(number()),
    ) {
        compare(&a, &b);
    }
}

/// How many lanes a kernel is given, and whether `any` and `all` see each lone lane.
struct LoneLanes;

impl Kernel for LoneLanes {
    type Output = usize;
    fn run<R: Real>(self) -> usize {
        for lone in 0..R::LANES {
            let row = R::from_lanes(|lane| if lane == lone { 1.0 } else { -1.0 });
            let (one, others) = (row.gt(R::zero()), row.lt(R::zero()));
            assert!(one.any() && !(one & others).any() && (one | others).all());
            assert_eq!(one.all(), R::LANES == 1);
            assert!(!others.all());
            assert_eq!(row.between(-0.5, 0.5).lane(lone), 0.5);
        }
        R::LANES
    }
}

#[test]
fn any_and_all_notice_a_lone_lane_and_rows_are_as_wide_as_told() {
    for set in available() {
        for width in WIDTHS {
            assert_eq!(run_rows(set, width, LoneLanes), Some(width_on(set, width).lanes()));
        }
    }
    assert_eq!(available()[0], InstructionSet::Baseline);
}

/// The expected values follow from the words of the documentation, `if self < other { self } else { other }`: a comparison
/// with NaN is false, and so is −0 < 0.
#[test]
fn min_and_max_answer_the_other_number_when_the_comparison_is_false() {
    let nan = f64::NAN;
    assert_eq!(Real::min(nan, 2.0), 2.0);
    assert_eq!(Real::max(nan, 2.0), 2.0);
    assert!(Real::min(2.0, nan).is_nan() && Real::max(2.0, nan).is_nan());
    assert!(Real::min(0.0, -0.0).is_sign_negative() && Real::max(0.0, -0.0).is_sign_negative());
    assert!(Real::min(-0.0, 0.0).is_sign_positive() && Real::max(-0.0, 0.0).is_sign_positive());
}

#[test]
fn comparisons_with_nan_are_false_and_signed_zeros_are_equal() {
    for other in [f64::NAN, 0.0, f64::INFINITY] {
        let (a, b) = (f64::NAN, other);
        assert!(!Real::lt(a, b) && !Real::le(a, b) && !Real::gt(a, b) && !Real::ge(a, b));
        assert!(!Real::lt(b, a) && !Real::le(b, a) && !Real::gt(b, a) && !Real::ge(b, a));
    }
    assert!(Real::le(0.0, -0.0) && Real::le(-0.0, 0.0) && !Real::lt(-0.0, 0.0));
}

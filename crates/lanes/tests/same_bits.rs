//! Every operation gives the same bits in rows of every width, on every instruction set that this machine has.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use lanes::{Kernel, Real, WIDTHS, available, run_rows};
use proptest::prelude::*;

const COUNT: usize = 17;

#[inline(always)]
fn all<R: Real>(a: R, b: R) -> [R; COUNT] {
    let less = a.lt(b);
    let positive = a.abs() + 1e-300;
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
        positive.sqrt(),
        a.min(b),
        a.max(b),
        R::select(less & !b.le(R::zero()), a, b),
        R::select(a.ge(b) | a.gt(R::one()), b, a),
        a.exp(),
        positive.ln(),
    ]
}

struct Work<'a>(&'a [f64], &'a [f64]);

impl Kernel for Work<'_> {
    type Output = Vec<[u64; COUNT]>;
    #[inline(always)]
    fn run<R: Real>(self) -> Self::Output {
        let mut found = Vec::new();
        for first in (0..self.0.len()).step_by(R::LANES) {
            let a = R::from_lanes(|lane| self.0[first + lane]);
            let b = R::from_lanes(|lane| self.1[first + lane]);
            let answers = all(a, b);
            found.extend((0..R::LANES).map(|lane| answers.map(|answer| answer.lane(lane).to_bits())));
        }
        found
    }
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        -1e3..1e3,
        -1.0..1.0,
        1e-30..1e30,
        Just(0.0),
        Just(-0.0),
        Just(1.0),
        Just(-708.5),
        Just(710.0)
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_width_and_instruction_set_equals_plain_numbers(
        a in prop::array::uniform16(number()),
        b in prop::array::uniform16(number()),
    ) {
        let plain: Vec<_> = (0..16).map(|k| all(a[k], b[k]).map(f64::to_bits)).collect();
        for set in available() {
            for width in WIDTHS {
                // Divisions by zero make numbers that are not equal to themselves; their bits may differ in sign.
                let rows = run_rows(set, width, Work(&a, &b)).unwrap();
                for (row, one) in rows.iter().zip(&plain) {
                    for (x, y) in row.iter().zip(one) {
                        let both_nan = f64::from_bits(*x).is_nan() && f64::from_bits(*y).is_nan();
                        prop_assert!(x == y || both_nan, "{:?} on {:?}", width, set);
                    }
                }
            }
        }
    }
}

//! Speed, measured as ratios side by side: a number that counts its operations. The benches are beside this file.

use std::cell::Cell;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use lanes::Real;

thread_local! {
    static OPERATIONS: Cell<u64> = const { Cell::new(0) };
}

/// Operations counted on this thread since the last call.
pub fn take_operations() -> u64 {
    OPERATIONS.with(|count| count.replace(0))
}

fn count(operations: u64) {
    OPERATIONS.with(|total| total.set(total.get() + operations));
}

/// A plain number that counts what is done to it: one for each arithmetic operation, comparison and select, 34 for
/// exp and 30 for ln (what their kernels take).
#[derive(Debug, Clone, Copy)]
pub struct Counted(f64);

macro_rules! counted {
    ($trait:ident, $method:ident, $op:tt) => {
        impl $trait for Counted {
            type Output = Self;
            fn $method(self, other: Self) -> Self {
                count(1);
                Self(self.0 $op other.0)
            }
        }
        impl $trait<f64> for Counted {
            type Output = Self;
            fn $method(self, other: f64) -> Self {
                count(1);
                Self(self.0 $op other)
            }
        }
    };
}
counted!(Add, add, +);
counted!(Sub, sub, -);
counted!(Mul, mul, *);
counted!(Div, div, /);

impl Neg for Counted {
    type Output = Self;
    fn neg(self) -> Self {
        count(1);
        Self(-self.0)
    }
}
impl AddAssign for Counted {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}
impl SubAssign for Counted {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Real for Counted {
    type Mask = bool;
    const LANES: usize = 1;
    fn splat(value: f64) -> Self {
        Self(value)
    }
    fn from_lanes(mut lane: impl FnMut(usize) -> f64) -> Self {
        Self(lane(0))
    }
    fn lane(self, _lane: usize) -> f64 {
        self.0
    }
    fn abs(self) -> Self {
        count(1);
        Self(self.0.abs())
    }
    fn sqrt(self) -> Self {
        count(1);
        Self(self.0.sqrt())
    }
    fn min(self, other: Self) -> Self {
        count(1);
        Self(Real::min(self.0, other.0))
    }
    fn max(self, other: Self) -> Self {
        count(1);
        Self(Real::max(self.0, other.0))
    }
    fn lt(self, other: Self) -> bool {
        count(1);
        self.0 < other.0
    }
    fn le(self, other: Self) -> bool {
        count(1);
        self.0 <= other.0
    }
    fn select(mask: bool, yes: Self, no: Self) -> Self {
        count(1);
        if mask { yes } else { no }
    }
    fn outlined<T>(work: impl FnOnce() -> T) -> T {
        work()
    }
    fn exp(self) -> Self {
        count(34);
        Self(Real::exp(self.0))
    }
    fn ln(self) -> Self {
        count(30);
        Self(Real::ln(self.0))
    }
}

//! A plain number that counts what is done to it.
//!
//! Not here: who runs the step with it (`step.rs`).

use std::cell::Cell;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use lanes::Real;

/// Floating-point operations that one exp or one ln is counted as: about what their kernels take.
const IN_EXP_OR_LN: u64 = 30;

/// Operations, by kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Operations {
    /// Additions and subtractions.
    pub add: u64,
    /// Multiplications.
    pub multiply: u64,
    /// Divisions.
    pub divide: u64,
    /// Square roots.
    pub root: u64,
    /// Comparisons, minima and maxima.
    pub compare: u64,
    /// Selects.
    pub select: u64,
    /// Changes of sign and absolute values: a bit each, and not part of [`Operations::total`].
    pub sign: u64,
    /// Exponentials.
    pub exp: u64,
    /// Logarithms.
    pub ln: u64,
}

impl Operations {
    const NONE: Self =
        Self { add: 0, multiply: 0, divide: 0, root: 0, compare: 0, select: 0, sign: 0, exp: 0, ln: 0 };

    /// All operations: a division or root is one, an exp or ln thirty.
    pub fn total(&self) -> u64 {
        self.add
            + self.multiply
            + self.divide
            + self.root
            + self.compare
            + self.select
            + IN_EXP_OR_LN * (self.exp + self.ln)
    }
}

thread_local! {
    static DONE: Cell<Operations> = const { Cell::new(Operations::NONE) };
}

/// Operations counted on this thread since the last call.
pub fn take_operations() -> Operations {
    DONE.replace(Operations::NONE)
}

fn count(kind: fn(&mut Operations) -> &mut u64) {
    let mut done = DONE.get();
    *kind(&mut done) += 1;
    DONE.set(done);
}

/// A plain number whose operations are counted on its thread.
#[derive(Debug, Clone, Copy)]
pub struct Counted(f64);

macro_rules! counted {
    ($trait:ident, $method:ident, $op:tt, $kind:ident) => {
        impl $trait for Counted {
            type Output = Self;
            fn $method(self, other: Self) -> Self {
                count(|done| &mut done.$kind);
                Self(self.0 $op other.0)
            }
        }
        impl $trait<f64> for Counted {
            type Output = Self;
            fn $method(self, other: f64) -> Self {
                count(|done| &mut done.$kind);
                Self(self.0 $op other)
            }
        }
    };
}
counted!(Add, add, +, add);
counted!(Sub, sub, -, add);
counted!(Mul, mul, *, multiply);
counted!(Div, div, /, divide);

impl Neg for Counted {
    type Output = Self;
    fn neg(self) -> Self {
        count(|done| &mut done.sign);
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
    fn lane(self, lane: usize) -> f64 {
        [self.0][lane]
    }
    fn abs(self) -> Self {
        count(|done| &mut done.sign);
        Self(self.0.abs())
    }
    fn sqrt(self) -> Self {
        count(|done| &mut done.root);
        Self(self.0.sqrt())
    }
    fn min(self, other: Self) -> Self {
        count(|done| &mut done.compare);
        Self(Real::min(self.0, other.0))
    }
    fn max(self, other: Self) -> Self {
        count(|done| &mut done.compare);
        Self(Real::max(self.0, other.0))
    }
    fn lt(self, other: Self) -> bool {
        count(|done| &mut done.compare);
        self.0 < other.0
    }
    fn le(self, other: Self) -> bool {
        count(|done| &mut done.compare);
        self.0 <= other.0
    }
    fn select(mask: bool, yes: Self, no: Self) -> Self {
        count(|done| &mut done.select);
        if mask { yes } else { no }
    }
    fn outlined<T>(work: impl FnOnce() -> T) -> T {
        work()
    }
    fn exp(self) -> Self {
        count(|done| &mut done.exp);
        Self(Real::exp(self.0))
    }
    fn ln(self) -> Self {
        count(|done| &mut done.ln);
        Self(Real::ln(self.0))
    }
}

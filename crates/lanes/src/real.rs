//! The number trait, and its plainest implementation: `f64`.
//!
//! Not here: rows of numbers (`row`), the polynomials behind `exp` and `ln` (`elementary`).

use core::fmt::Debug;
use core::ops::{Add, AddAssign, BitAnd, BitOr, Div, Mul, Neg, Not, Sub, SubAssign};

use crate::elementary;

/// The answer of a comparison, one truth value a lane.
pub trait Mask: Copy + Debug + BitAnd<Output = Self> + BitOr<Output = Self> + Not<Output = Self> {
    /// The same truth value in every lane.
    fn splat(value: bool) -> Self;
    /// Whether any lane is true: the uniform branch that skips work no lane needs.
    fn any(self) -> bool;
    /// Whether every lane is true.
    fn all(self) -> bool;
}

/// A number, or a row of numbers that move together.
///
/// Arithmetic is lane by lane. There are no methods that a machine may round in its own way: no `powf`, no
/// fused multiply-add, no reciprocal estimate.
#[allow(clippy::return_self_not_must_use)] // Arithmetic, as on f64.
pub trait Real:
    Copy
    + Debug
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
    + Div<f64, Output = Self>
    + AddAssign
    + SubAssign
    + 'static
{
    /// What comparisons answer.
    type Mask: Mask;
    /// How many numbers are in the row.
    const LANES: usize;

    /// The same number in every lane.
    fn splat(value: f64) -> Self;
    /// A row from one number a lane, asked for by lane index.
    fn from_lanes(lane: impl FnMut(usize) -> f64) -> Self;
    /// The number in one lane. Panics when `lane >= LANES`, as indexing does.
    fn lane(self, lane: usize) -> f64;

    /// Absolute value.
    fn abs(self) -> Self;
    /// Square root, correctly rounded; NaN below zero.
    fn sqrt(self) -> Self;
    /// `if self < other { self } else { other }`.
    fn min(self, other: Self) -> Self;
    /// `if self > other { self } else { other }`.
    fn max(self, other: Self) -> Self;
    /// `self < other`.
    fn lt(self, other: Self) -> Self::Mask;
    /// `self <= other`.
    fn le(self, other: Self) -> Self::Mask;
    /// `self > other`.
    #[inline(always)]
    fn gt(self, other: Self) -> Self::Mask {
        other.lt(self)
    }
    /// `self >= other`.
    #[inline(always)]
    fn ge(self, other: Self) -> Self::Mask {
        other.le(self)
    }
    /// `yes` where the mask is true, `no` elsewhere.
    fn select(mask: Self::Mask, yes: Self, no: Self) -> Self;

    /// Runs the work as a function of its own, compiled for the instruction set of these rows.
    ///
    /// Large pieces of a model are outlined so that no one function grows past what a compiler handles well. Mark
    /// the closure `#[inline(always)]`.
    fn outlined<T>(work: impl FnOnce() -> T) -> T;

    /// eˣ, relative error below 3e-16 for −708 ≤ x ≤ 709. Outside, the argument is held at that
    /// limit; so is an argument that is not a number (at −708), which this function therefore hides.
    fn exp(self) -> Self;
    /// Natural logarithm of a positive, finite, normal number: absolute error below 1e-16 or relative error
    /// below 3e-16, whichever is larger. Meaningless for zero, negative, subnormal or infinite input.
    fn ln(self) -> Self;

    /// Zero in every lane.
    #[inline(always)]
    fn zero() -> Self {
        Self::splat(0.0)
    }
    /// One in every lane.
    #[inline(always)]
    fn one() -> Self {
        Self::splat(1.0)
    }
    /// `self` squared.
    #[inline(always)]
    fn squared(self) -> Self {
        self * self
    }
    /// Held between two plain limits.
    #[inline(always)]
    fn between(self, low: f64, high: f64) -> Self {
        self.max(Self::splat(low)).min(Self::splat(high))
    }
}

impl Mask for bool {
    #[inline(always)]
    fn splat(value: bool) -> Self {
        value
    }
    #[inline(always)]
    fn any(self) -> bool {
        self
    }
    #[inline(always)]
    fn all(self) -> bool {
        self
    }
}

impl Real for f64 {
    type Mask = bool;
    const LANES: usize = 1;

    #[inline(always)]
    fn splat(value: f64) -> Self {
        value
    }
    #[inline(always)]
    fn from_lanes(mut lane: impl FnMut(usize) -> f64) -> Self {
        lane(0)
    }
    #[inline(always)]
    fn lane(self, lane: usize) -> f64 {
        [self][lane]
    }
    #[inline(always)]
    fn abs(self) -> Self {
        Self::abs(self)
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        Self::sqrt(self)
    }
    #[inline(always)]
    fn min(self, other: Self) -> Self {
        if self < other { self } else { other }
    }
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        if self > other { self } else { other }
    }
    #[inline(always)]
    fn lt(self, other: Self) -> bool {
        self < other
    }
    #[inline(always)]
    fn le(self, other: Self) -> bool {
        self <= other
    }
    #[inline(always)]
    fn select(mask: bool, yes: Self, no: Self) -> Self {
        if mask { yes } else { no }
    }
    #[inline(never)]
    fn outlined<T>(work: impl FnOnce() -> T) -> T {
        work()
    }
    #[inline(always)]
    fn exp(self) -> Self {
        elementary::exp(self)
    }
    #[inline(always)]
    fn ln(self) -> Self {
        elementary::ln(self)
    }
}

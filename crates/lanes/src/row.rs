//! A row of numbers: as many fours as it takes, each four in whatever registers the machine has.
//!
//! Not here: the fours (`x86`).

use core::fmt::Debug;
use core::ops::{Add, AddAssign, BitAnd, BitOr, Div, Mul, Neg, Not, Sub, SubAssign};

use crate::elementary::{self, Bits};
use crate::{Mask, Real};

/// Four numbers, and how a machine compares and picks them.
pub(crate) trait Four: Bits + Debug + 'static {
    /// Four truth values.
    type Mask: Copy + Debug;
    fn from_array(values: [f64; 4]) -> Self;
    fn to_array(self) -> [f64; 4];
    fn magnitude(self) -> Self;
    fn root(self) -> Self;
    fn less(self, other: Self) -> Self::Mask;
    fn less_or_equal(self, other: Self) -> Self::Mask;
    fn pick(mask: Self::Mask, yes: Self, no: Self) -> Self;
    fn mask(value: bool) -> Self::Mask;
    fn and(a: Self::Mask, b: Self::Mask) -> Self::Mask;
    fn or(a: Self::Mask, b: Self::Mask) -> Self::Mask;
    fn not(a: Self::Mask) -> Self::Mask;
    fn any(a: Self::Mask) -> bool;
    /// Runs the work as a function of its own, compiled for this instruction set.
    fn outlined<T>(work: impl FnOnce() -> T) -> T;
}

/// `M` fours.
#[derive(Debug, Clone, Copy)]
#[repr(transparent)]
pub struct Row<F, const M: usize>([F; M]);

/// Truth values of a [`Row`].
#[derive(Debug, Clone, Copy)]
#[repr(transparent)]
pub struct RowMask<F: Four, const M: usize>([F::Mask; M]);

impl<F: Four, const M: usize> Row<F, M> {
    #[inline(always)]
    fn map(mut self, f: impl Fn(F) -> F) -> Self {
        let mut i = 0;
        while i < M {
            self.0[i] = f(self.0[i]);
            i += 1;
        }
        self
    }

    #[inline(always)]
    fn zip(mut self, other: Self, f: impl Fn(F, F) -> F) -> Self {
        let mut i = 0;
        while i < M {
            self.0[i] = f(self.0[i], other.0[i]);
            i += 1;
        }
        self
    }

    #[inline(always)]
    fn compare(self, other: Self, f: impl Fn(F, F) -> F::Mask) -> RowMask<F, M> {
        let mut mask = [f(self.0[0], other.0[0]); M];
        let mut i = 1;
        while i < M {
            mask[i] = f(self.0[i], other.0[i]);
            i += 1;
        }
        RowMask(mask)
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $op:tt) => {
        impl<F: Four, const M: usize> $trait for Row<F, M> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                self.zip(other, #[inline(always)] |a, b| a $op b)
            }
        }
        impl<F: Four, const M: usize> $trait<f64> for Row<F, M> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: f64) -> Self {
                let other = F::all(other);
                self.map(#[inline(always)] |a| a $op other)
            }
        }
    };
}
operator!(Add, add, +);
operator!(Sub, sub, -);
operator!(Mul, mul, *);
operator!(Div, div, /);

impl<F: Four, const M: usize> Neg for Row<F, M> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        self.map(
            #[inline(always)]
            |a| -a,
        )
    }
}

impl<F: Four, const M: usize> AddAssign for Row<F, M> {
    #[inline(always)]
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl<F: Four, const M: usize> SubAssign for Row<F, M> {
    #[inline(always)]
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl<F: Four, const M: usize> BitAnd for RowMask<F, M> {
    type Output = Self;
    #[inline(always)]
    fn bitand(mut self, other: Self) -> Self {
        let mut i = 0;
        while i < M {
            self.0[i] = F::and(self.0[i], other.0[i]);
            i += 1;
        }
        self
    }
}

impl<F: Four, const M: usize> BitOr for RowMask<F, M> {
    type Output = Self;
    #[inline(always)]
    fn bitor(mut self, other: Self) -> Self {
        let mut i = 0;
        while i < M {
            self.0[i] = F::or(self.0[i], other.0[i]);
            i += 1;
        }
        self
    }
}

impl<F: Four, const M: usize> Not for RowMask<F, M> {
    type Output = Self;
    #[inline(always)]
    fn not(mut self) -> Self {
        let mut i = 0;
        while i < M {
            self.0[i] = F::not(self.0[i]);
            i += 1;
        }
        self
    }
}

impl<F: Four, const M: usize> Mask for RowMask<F, M> {
    #[inline(always)]
    fn splat(value: bool) -> Self {
        Self([F::mask(value); M])
    }
    #[inline(always)]
    fn any(self) -> bool {
        let mut all = self.0[0];
        let mut i = 1;
        while i < M {
            all = F::or(all, self.0[i]);
            i += 1;
        }
        F::any(all)
    }
    #[inline(always)]
    fn all(self) -> bool {
        !(!self).any()
    }
}

impl<F: Four, const M: usize> Real for Row<F, M> {
    type Mask = RowMask<F, M>;
    const LANES: usize = 4 * M;

    #[inline(always)]
    fn splat(value: f64) -> Self {
        Self([F::all(value); M])
    }
    #[inline(always)]
    fn from_lanes(mut lane: impl FnMut(usize) -> f64) -> Self {
        let mut row = Self::splat(0.0);
        for (i, four) in row.0.iter_mut().enumerate() {
            *four = F::from_array([lane(4 * i), lane(4 * i + 1), lane(4 * i + 2), lane(4 * i + 3)]);
        }
        row
    }
    #[inline(always)]
    fn lane(self, lane: usize) -> f64 {
        self.0[lane / 4].to_array()[lane % 4]
    }
    #[inline(always)]
    fn abs(self) -> Self {
        self.map(
            #[inline(always)]
            |a| F::magnitude(a),
        )
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        self.map(
            #[inline(always)]
            |a| F::root(a),
        )
    }
    #[inline(always)]
    fn min(self, other: Self) -> Self {
        self.zip(
            other,
            #[inline(always)]
            |a, b| F::smaller(a, b),
        )
    }
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        self.zip(
            other,
            #[inline(always)]
            |a, b| F::larger(a, b),
        )
    }
    #[inline(always)]
    fn lt(self, other: Self) -> RowMask<F, M> {
        self.compare(
            other,
            #[inline(always)]
            |a, b| F::less(a, b),
        )
    }
    #[inline(always)]
    fn le(self, other: Self) -> RowMask<F, M> {
        self.compare(
            other,
            #[inline(always)]
            |a, b| F::less_or_equal(a, b),
        )
    }
    #[inline(always)]
    fn select(mask: RowMask<F, M>, yes: Self, no: Self) -> Self {
        let mut out = yes;
        let mut i = 0;
        while i < M {
            out.0[i] = F::pick(mask.0[i], yes.0[i], no.0[i]);
            i += 1;
        }
        out
    }
    #[inline(always)]
    fn outlined<T>(work: impl FnOnce() -> T) -> T {
        F::outlined(work)
    }
    #[inline(always)]
    fn exp(self) -> Self {
        self.map(
            #[inline(always)]
            |a| elementary::exp(a),
        )
    }
    #[inline(always)]
    fn ln(self) -> Self {
        self.map(
            #[inline(always)]
            |a| elementary::ln(a),
        )
    }
}

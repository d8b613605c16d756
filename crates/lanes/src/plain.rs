//! Four numbers as an array, for machines without a vector unit that this crate knows, and as a yardstick for
//! those that have one.

use core::ops::{Add, Div, Mul, Neg, Sub};

use crate::elementary::Bits;
use crate::row::Four;

/// Four numbers in an array.
#[derive(Debug, Clone, Copy)]
pub struct PlainFour([f64; 4]);

impl PlainFour {
    #[inline(always)]
    fn zip(self, other: Self, f: impl Fn(f64, f64) -> f64) -> Self {
        let (a, b) = (self.0, other.0);
        Self([f(a[0], b[0]), f(a[1], b[1]), f(a[2], b[2]), f(a[3], b[3])])
    }
    #[inline(always)]
    fn compare(self, other: Self, f: impl Fn(&f64, &f64) -> bool) -> [bool; 4] {
        let (a, b) = (self.0, other.0);
        [f(&a[0], &b[0]), f(&a[1], &b[1]), f(&a[2], &b[2]), f(&a[3], &b[3])]
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $op:tt) => {
        impl $trait for PlainFour {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                self.zip(other, |a, b| a $op b)
            }
        }
    };
}
operator!(Add, add, +);
operator!(Sub, sub, -);
operator!(Mul, mul, *);
operator!(Div, div, /);

impl Neg for PlainFour {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        Self(self.0.map(|a| -a))
    }
}

impl Bits for PlainFour {
    #[inline(always)]
    fn all(value: f64) -> Self {
        Self([value; 4])
    }
    #[inline(always)]
    fn smaller(self, other: Self) -> Self {
        self.zip(other, Bits::smaller)
    }
    #[inline(always)]
    fn larger(self, other: Self) -> Self {
        self.zip(other, Bits::larger)
    }
    #[inline(always)]
    fn power_of_two(shifted: Self) -> Self {
        Self(shifted.0.map(Bits::power_of_two))
    }
    #[inline(always)]
    fn split(self) -> (Self, Self) {
        let pairs = self.0.map(Bits::split);
        (Self(pairs.map(|pair| pair.0)), Self(pairs.map(|pair| pair.1)))
    }
}

impl Four for PlainFour {
    type Mask = [bool; 4];
    #[inline(always)]
    fn from_array(values: [f64; 4]) -> Self {
        Self(values)
    }
    #[inline(always)]
    fn to_array(self) -> [f64; 4] {
        self.0
    }
    #[inline(always)]
    fn magnitude(self) -> Self {
        Self(self.0.map(f64::abs))
    }
    #[inline(always)]
    fn root(self) -> Self {
        Self(self.0.map(f64::sqrt))
    }
    #[inline(always)]
    fn less(self, other: Self) -> [bool; 4] {
        self.compare(other, f64::lt)
    }
    #[inline(always)]
    fn less_or_equal(self, other: Self) -> [bool; 4] {
        self.compare(other, f64::le)
    }
    #[inline(always)]
    fn pick(mask: [bool; 4], yes: Self, no: Self) -> Self {
        let choose = |i: usize| if mask[i] { yes.0[i] } else { no.0[i] };
        Self([choose(0), choose(1), choose(2), choose(3)])
    }
    #[inline(always)]
    fn mask(value: bool) -> [bool; 4] {
        [value; 4]
    }
    #[inline(always)]
    fn and(a: [bool; 4], b: [bool; 4]) -> [bool; 4] {
        [a[0] & b[0], a[1] & b[1], a[2] & b[2], a[3] & b[3]]
    }
    #[inline(always)]
    fn or(a: [bool; 4], b: [bool; 4]) -> [bool; 4] {
        [a[0] | b[0], a[1] | b[1], a[2] | b[2], a[3] | b[3]]
    }
    #[inline(always)]
    fn not(a: [bool; 4]) -> [bool; 4] {
        a.map(|value| !value)
    }
    #[inline(never)]
    fn outlined<T>(work: impl FnOnce() -> T) -> T {
        work()
    }
    #[inline(always)]
    fn any(a: [bool; 4]) -> bool {
        a[0] | a[1] | a[2] | a[3]
    }
}

//! A number that carries its slopes: forward differentiation, so that no derivative of the cell is written by hand.
//!
//! Not here: what is differentiated (`patch`).

use std::ops::{Add, Mul, Neg, Sub};

/// Slopes that are carried: four inlet numbers of a cell and its plate temperature.
pub(super) const SLOPES: usize = 5;

/// A value with its slope in each of the variables.
#[derive(Debug, Clone, Copy)]
pub(super) struct Dual {
    pub(super) value: f64,
    pub(super) slope: [f64; SLOPES],
}

impl Dual {
    pub(super) const ZERO: Self = Self { value: 0.0, slope: [0.0; SLOPES] };

    /// The variable with this number itself.
    pub(super) fn variable(value: f64, index: usize) -> Self {
        let mut slope = [0.0; SLOPES];
        slope[index] = 1.0;
        Self { value, slope }
    }

    /// A function of this number, from its value and its slope there.
    pub(super) fn chain(self, value: f64, slope: f64) -> Self {
        Self { value, slope: self.slope.map(|s| s * slope) }
    }

    /// `1/self`.
    pub(super) fn inverse(self) -> Self {
        let value = 1.0 / self.value;
        self.chain(value, -value * value)
    }

    fn zip(self, other: Self, value: f64, slope: impl Fn(f64, f64) -> f64) -> Self {
        Self { value, slope: std::array::from_fn(|i| slope(self.slope[i], other.slope[i])) }
    }
}

impl Add for Dual {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.zip(other, self.value + other.value, |a, b| a + b)
    }
}

impl Sub for Dual {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.zip(other, self.value - other.value, |a, b| a - b)
    }
}

impl Neg for Dual {
    type Output = Self;
    fn neg(self) -> Self {
        self.chain(-self.value, -1.0)
    }
}

impl Mul for Dual {
    type Output = Self;
    #[allow(clippy::suspicious_arithmetic_impl)] // The product rule adds.
    fn mul(self, other: Self) -> Self {
        self.zip(other, self.value * other.value, |a, b| a * other.value + b * self.value)
    }
}

impl Mul<f64> for Dual {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        self.chain(self.value * factor, factor)
    }
}

impl Add<f64> for Dual {
    type Output = Self;
    fn add(self, other: f64) -> Self {
        Self { value: self.value + other, ..self }
    }
}

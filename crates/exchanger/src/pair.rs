//! Pairs (temperature, humidity ratio) and the 2 × 2 matrices between them.
//!
//! Not here: what they stand for (`wet_cells`).

use lanes::Real;

/// A temperature and a humidity ratio, or any two numbers that move together.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pair<R>(pub(crate) R, pub(crate) R);

impl<R: Real> Pair<R> {
    #[inline(always)]
    pub(crate) fn plus(self, other: Self) -> Self {
        Self(self.0 + other.0, self.1 + other.1)
    }

    #[inline(always)]
    pub(crate) fn times(self, factor: f64) -> Self {
        Self(self.0 * factor, self.1 * factor)
    }
}

/// Rows of a 2 × 2 matrix.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Matrix<R>(pub(crate) Pair<R>, pub(crate) Pair<R>);

impl<R: Real> Matrix<R> {
    #[inline(always)]
    pub(crate) fn zero() -> Self {
        let none = Pair(R::zero(), R::zero());
        Self(none, none)
    }

    #[inline(always)]
    pub(crate) fn plus(self, other: Self) -> Self {
        Self(self.0.plus(other.0), self.1.plus(other.1))
    }

    #[inline(always)]
    pub(crate) fn times(self, factor: f64) -> Self {
        Self(self.0.times(factor), self.1.times(factor))
    }

    /// The unit matrix added.
    #[inline(always)]
    pub(crate) fn plus_one(self) -> Self {
        Self(Pair(self.0.0 + 1.0, self.0.1), Pair(self.1.0, self.1.1 + 1.0))
    }

    #[inline(always)]
    pub(crate) fn of(self, x: Pair<R>) -> Pair<R> {
        Pair(self.0.0 * x.0 + self.0.1 * x.1, self.1.0 * x.0 + self.1.1 * x.1)
    }

    #[inline(always)]
    pub(crate) fn by(self, other: Self) -> Self {
        let Self(a, b) = self;
        Self(
            Pair(a.0 * other.0.0 + a.1 * other.1.0, a.0 * other.0.1 + a.1 * other.1.1),
            Pair(b.0 * other.0.0 + b.1 * other.1.0, b.0 * other.0.1 + b.1 * other.1.1),
        )
    }

    /// The inverse; the determinant must not be zero.
    #[inline(always)]
    pub(crate) fn inverse(self) -> Self {
        let Self(Pair(a, b), Pair(c, d)) = self;
        let scale = R::one() / (a * d - b * c);
        Self(Pair(d * scale, -b * scale), Pair(-c * scale, a * scale))
    }
}

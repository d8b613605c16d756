//! exp and ln from add, multiply and divide only, so that every machine and every row width rounds them alike.
//!
//! Written once over [`Bits`], which one number and every kind of row implement. No branch, no table.

use core::ops::{Add, Div, Mul, Neg, Sub};

/// What exp and ln need: arithmetic, and the exponent field of the number.
pub(crate) trait Bits:
    Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> + Div<Output = Self> + Neg<Output = Self>
{
    fn all(value: f64) -> Self;
    /// `if self < other { self } else { other }`.
    fn smaller(self, other: Self) -> Self;
    /// `if self > other { self } else { other }`.
    fn larger(self, other: Self) -> Self;
    /// 2ⁿ, given `n + 1.5 × 2⁵²`.
    fn power_of_two(shifted: Self) -> Self;
    /// `(m, k)` with `x = 2ᵏ m`, `√½ ≤ m < √2`, for a positive normal number.
    fn split(self) -> (Self, Self);
}

/// 1.5 × 2⁵²: adding it rounds a small number to an integer that then sits in the low bits.
const ROUNDING_SHIFT: f64 = 6755399441055744.0;
/// ln 2 in two parts, the first with enough trailing zeros that a small multiple of it is exact.
const LN_2_HIGH: f64 = 6.93147180369123816490e-01;
const LN_2_LOW: f64 = 1.90821492927058770002e-10;
/// The bits of √½, where [`Bits::split`] begins an octave.
pub(crate) const SQRT_HALF_BITS: u64 = 0x3FE6_A09E_667F_3BCD;
/// The sign and exponent fields.
pub(crate) const EXPONENT_MASK: u64 = 0xFFF0_0000_0000_0000;
/// Put over a twelve-bit field it makes the number 2⁵² + field.
pub(crate) const TWO_52_BITS: u64 = 0x4330_0000_0000_0000;
/// Flips the sign of a twelve-bit two's complement field, so that it counts from 0.
pub(crate) const FIELD_SIGN: u64 = 0x800;
/// What [`TWO_52_BITS`] and [`FIELD_SIGN`] add to the field.
pub(crate) const FIELD_OFFSET: f64 = 4503599627370496.0 + 2048.0;

/// eˣ for −708 ≤ x ≤ 709; the argument is held at those limits.
///
/// `x = n ln 2 + r`, `|r| ≤ 0.347`, `eʳ` by its Taylor polynomial of degree 13 (truncation 4e-18), times 2ⁿ.
#[inline(always)]
pub(crate) fn exp<B: Bits>(x: B) -> B {
    let x = x.larger(B::all(-708.0)).smaller(B::all(709.0));
    let shifted = x * B::all(core::f64::consts::LOG2_E) + B::all(ROUNDING_SHIFT);
    let n = shifted - B::all(ROUNDING_SHIFT);
    let r = (x - n * B::all(LN_2_HIGH)) - n * B::all(LN_2_LOW);
    let mantissa = B::all(1.0) + (r + r * r * taylor_tail(r));
    mantissa * B::power_of_two(shifted)
}

/// `(eʳ − 1 − r) / r²` to degree 11, in four sums of every fourth term that do not wait for one another.
#[inline(always)]
fn taylor_tail<B: Bits>(r: B) -> B {
    let (r2, c) = (r * r, B::all);
    let r4 = r2 * r2;
    let p0 = (c(1.0 / 3628800.0) * r4 + c(1.0 / 720.0)) * r4 + c(1.0 / 2.0);
    let p1 = (c(1.0 / 39916800.0) * r4 + c(1.0 / 5040.0)) * r4 + c(1.0 / 6.0);
    let p2 = (c(1.0 / 479001600.0) * r4 + c(1.0 / 40320.0)) * r4 + c(1.0 / 24.0);
    let p3 = (c(1.0 / 6227020800.0) * r4 + c(1.0 / 362880.0)) * r4 + c(1.0 / 120.0);
    (p0 + p1 * r) + (p2 + p3 * r) * r2
}

/// Natural logarithm of a positive normal number.
///
/// `x = 2ᵏ m`, `√½ ≤ m < √2`, and `ln m` from the odd series in `s = (m − 1)/(m + 1)`, with the minimax
/// coefficients of the freely distributable maths library of 1993 (`e_log.c`).
#[inline(always)]
pub(crate) fn ln<B: Bits>(x: B) -> B {
    let (m, k) = x.split();
    let c = B::all;
    let f = m - c(1.0);
    let s = f / (c(2.0) + f);
    let z = s * s;
    let w = z * z;
    let even = w * (c(0.3999999999940941908) + w * (c(0.2222219843214978396) + w * c(0.1531383769920937332)));
    let odd = z
        * (c(0.6666666666666735130)
            + w * (c(0.2857142874366239149) + w * (c(0.1818357216161805012) + w * c(0.1479819860511658591))));
    let half_square = c(0.5) * f * f;
    k * c(LN_2_HIGH) - ((half_square - (s * (half_square + (even + odd)) + k * c(LN_2_LOW))) - f)
}

impl Bits for f64 {
    #[inline(always)]
    fn all(value: f64) -> Self {
        value
    }
    #[inline(always)]
    fn smaller(self, other: Self) -> Self {
        if self < other { self } else { other }
    }
    #[inline(always)]
    fn larger(self, other: Self) -> Self {
        if self > other { self } else { other }
    }
    #[inline(always)]
    fn power_of_two(shifted: Self) -> Self {
        f64::from_bits((shifted.to_bits() << 52).wrapping_add(1.0f64.to_bits()))
    }
    #[inline(always)]
    fn split(self) -> (Self, Self) {
        let field = self.to_bits().wrapping_sub(SQRT_HALF_BITS) & EXPONENT_MASK;
        let k = f64::from_bits(((field >> 52) ^ FIELD_SIGN) | TWO_52_BITS) - FIELD_OFFSET;
        (f64::from_bits(self.to_bits().wrapping_sub(field)), k)
    }
}

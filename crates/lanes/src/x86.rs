//! Four numbers in x86-64 vector registers: one of 256 bits (AVX2).
//!
//! [`Avx2Four`] must only be used inside a function that has the `avx2` target feature, on a machine that has it:
//! `dispatch` is the only place that names it.
#![allow(unsafe_code)]

use core::arch::x86_64::{
    __m256d, __m256i, _CMP_LE_OQ, _CMP_LT_OQ, _mm256_add_epi64, _mm256_add_pd, _mm256_and_pd,
    _mm256_and_si256, _mm256_andnot_pd, _mm256_blendv_pd, _mm256_castpd_si256, _mm256_castsi256_pd,
    _mm256_cmp_pd, _mm256_div_pd, _mm256_loadu_pd, _mm256_max_pd, _mm256_min_pd, _mm256_movemask_pd,
    _mm256_mul_pd, _mm256_or_pd, _mm256_or_si256, _mm256_set1_epi64x, _mm256_set1_pd, _mm256_slli_epi64,
    _mm256_sqrt_pd, _mm256_srli_epi64, _mm256_storeu_pd, _mm256_sub_epi64, _mm256_sub_pd, _mm256_xor_pd,
    _mm256_xor_si256,
};
use core::fmt;
use core::ops::{Add, Div, Mul, Neg, Sub};

use crate::elementary::{Bits, EXPONENT_MASK, FIELD_OFFSET, FIELD_SIGN, SQRT_HALF_BITS, TWO_52_BITS};
use crate::row::Four;

/// Four numbers in one 256-bit register.
#[derive(Clone, Copy)]
#[repr(transparent)]
pub struct Avx2Four(__m256d);

/// Four truth values: all bits of a number set, or none.
#[derive(Clone, Copy)]
#[repr(transparent)]
pub struct Avx2Mask(__m256d);

impl fmt::Debug for Avx2Four {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.to_array().fmt(f)
    }
}

impl fmt::Debug for Avx2Mask {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        Avx2Four(self.0).to_array().map(|bits| bits.to_bits() != 0).fmt(f)
    }
}

// SAFETY of every block below: values of these types exist only where `dispatch` has found AVX2 on the machine.
macro_rules! operator {
    ($trait:ident, $method:ident, $intrinsic:ident) => {
        impl $trait for Avx2Four {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                Self(unsafe { $intrinsic(self.0, other.0) })
            }
        }
    };
}
operator!(Add, add, _mm256_add_pd);
operator!(Sub, sub, _mm256_sub_pd);
operator!(Mul, mul, _mm256_mul_pd);
operator!(Div, div, _mm256_div_pd);

impl Neg for Avx2Four {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        Self(unsafe { _mm256_xor_pd(self.0, _mm256_set1_pd(-0.0)) })
    }
}

#[inline(always)]
fn integers(bits: u64) -> __m256i {
    unsafe { _mm256_set1_epi64x(bits.cast_signed()) }
}

impl Bits for Avx2Four {
    #[inline(always)]
    fn all(value: f64) -> Self {
        Self(unsafe { _mm256_set1_pd(value) })
    }
    #[inline(always)]
    fn smaller(self, other: Self) -> Self {
        Self(unsafe { _mm256_min_pd(self.0, other.0) })
    }
    #[inline(always)]
    fn larger(self, other: Self) -> Self {
        Self(unsafe { _mm256_max_pd(self.0, other.0) })
    }
    #[inline(always)]
    fn power_of_two(shifted: Self) -> Self {
        let one = integers(1.0f64.to_bits());
        Self(unsafe {
            _mm256_castsi256_pd(_mm256_add_epi64(
                _mm256_slli_epi64::<52>(_mm256_castpd_si256(shifted.0)),
                one,
            ))
        })
    }
    #[inline(always)]
    fn split(self) -> (Self, Self) {
        unsafe {
            let bits = _mm256_castpd_si256(self.0);
            let field =
                _mm256_and_si256(_mm256_sub_epi64(bits, integers(SQRT_HALF_BITS)), integers(EXPONENT_MASK));
            let counted = _mm256_xor_si256(_mm256_srli_epi64::<52>(field), integers(FIELD_SIGN));
            let k = _mm256_castsi256_pd(_mm256_or_si256(counted, integers(TWO_52_BITS)));
            let m = _mm256_castsi256_pd(_mm256_sub_epi64(bits, field));
            (Self(m), Self(k) - Self::all(FIELD_OFFSET))
        }
    }
}

impl Four for Avx2Four {
    type Mask = Avx2Mask;
    #[inline(always)]
    fn from_array(values: [f64; 4]) -> Self {
        Self(unsafe { _mm256_loadu_pd(values.as_ptr()) })
    }
    #[inline(always)]
    fn to_array(self) -> [f64; 4] {
        let mut values = [0.0; 4];
        unsafe { _mm256_storeu_pd(values.as_mut_ptr(), self.0) };
        values
    }
    #[inline(always)]
    fn magnitude(self) -> Self {
        Self(unsafe { _mm256_andnot_pd(_mm256_set1_pd(-0.0), self.0) })
    }
    #[inline(always)]
    fn root(self) -> Self {
        Self(unsafe { _mm256_sqrt_pd(self.0) })
    }
    #[inline(always)]
    fn less(self, other: Self) -> Avx2Mask {
        Avx2Mask(unsafe { _mm256_cmp_pd::<_CMP_LT_OQ>(self.0, other.0) })
    }
    #[inline(always)]
    fn less_or_equal(self, other: Self) -> Avx2Mask {
        Avx2Mask(unsafe { _mm256_cmp_pd::<_CMP_LE_OQ>(self.0, other.0) })
    }
    #[inline(always)]
    fn pick(mask: Avx2Mask, yes: Self, no: Self) -> Self {
        Self(unsafe { _mm256_blendv_pd(no.0, yes.0, mask.0) })
    }
    #[inline(always)]
    fn mask(value: bool) -> Avx2Mask {
        let bits = if value { u64::MAX } else { 0 };
        Avx2Mask(unsafe { _mm256_castsi256_pd(integers(bits)) })
    }
    #[inline(always)]
    fn and(a: Avx2Mask, b: Avx2Mask) -> Avx2Mask {
        Avx2Mask(unsafe { _mm256_and_pd(a.0, b.0) })
    }
    #[inline(always)]
    fn or(a: Avx2Mask, b: Avx2Mask) -> Avx2Mask {
        Avx2Mask(unsafe { _mm256_or_pd(a.0, b.0) })
    }
    #[inline(always)]
    fn not(a: Avx2Mask) -> Avx2Mask {
        Avx2Mask(unsafe { _mm256_xor_pd(a.0, Self::mask(true).0) })
    }
    #[inline(always)]
    fn outlined<T>(work: impl FnOnce() -> T) -> T {
        unsafe { with_avx2(work) }
    }
    #[inline(always)]
    fn any(a: Avx2Mask) -> bool {
        unsafe { _mm256_movemask_pd(a.0) != 0 }
    }
}

#[target_feature(enable = "avx2")]
#[inline(never)]
unsafe fn with_avx2<T>(work: impl FnOnce() -> T) -> T {
    work()
}

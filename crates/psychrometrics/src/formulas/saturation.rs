//! Saturation pressure as published, over ice and over water.
//!
//! Not here: the cheaper kernels fitted to these two (`fast`). Read next: `fast`.

use lanes::Real;

use super::{TRIPLE_POINT_C, ZERO_CELSIUS_K};

/// Saturation pressure over liquid water, also below 0 °C (Pa).
///
/// `ln p = C8/T + C9 + C10 T + C11 T² + C12 T³ + C13 ln T`, T in K. Fitted for 0…200 °C; extrapolated smoothly to
/// −100 °C, as relative humidity "over water" below freezing needs it.
///
/// # Source
/// [ASHRAE-F] ch. 1, saturation pressure over liquid water; \[HW83\].
#[inline(always)]
pub fn saturation_over_water_pa<R: Real>(temperature_c: R) -> R {
    ln_over_water(temperature_c + ZERO_CELSIUS_K).exp()
}

/// Saturation pressure over ice (Pa).
///
/// `ln p = C1/T + C2 + C3 T + C4 T² + C5 T³ + C6 T⁴ + C7 ln T`, T in K; −100…0.01 °C.
///
/// # Source
/// [ASHRAE-F] ch. 1, saturation pressure over ice; \[HW83\].
#[inline(always)]
pub fn saturation_over_ice_pa<R: Real>(temperature_c: R) -> R {
    ln_over_ice(temperature_c + ZERO_CELSIUS_K).exp()
}

/// Saturation pressure (Pa): over ice up to the triple point, 0.01 °C, over liquid water above it.
///
/// The branches meet there within 6e-9. Range −100…200 °C.
#[inline(always)]
pub fn saturation_pa<R: Real>(temperature_c: R) -> R {
    let kelvin = temperature_c + ZERO_CELSIUS_K;
    let frozen = temperature_c.le(R::splat(TRIPLE_POINT_C));
    R::select(frozen, ln_over_ice(kelvin), ln_over_water(kelvin)).exp()
}

#[inline(always)]
fn ln_over_water<R: Real>(kelvin: R) -> R {
    let polynomial = ((kelvin * -1.4452093e-8 + 4.1764768e-5) * kelvin - 4.8640239e-2) * kelvin + 1.3914993;
    R::splat(-5.8002206e3) / kelvin + polynomial + kelvin.ln() * 6.5459673
}

#[inline(always)]
fn ln_over_ice<R: Real>(kelvin: R) -> R {
    let high = (kelvin * -9.4840240e-13 + 2.0747825e-9) * kelvin + 6.2215701e-7;
    let polynomial = (high * kelvin - 9.6778430e-3) * kelvin + 6.3925247;
    R::splat(-5.6745359e3) / kelvin + polynomial + kelvin.ln() * 4.1635019
}

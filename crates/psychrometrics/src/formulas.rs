//! The relations of moist air, written once for one number and for many.
//!
//! Here: constants, and plain formulas over any [`Real`]: saturation pressure as published ([`saturation_pa`]
//! and its branches) and by fast kernels ([`fast_saturation_pa`]), humidity ratio, enthalpies, volume. None
//! checks its input, allocates or branches; each states the range in which it means something.
//! Not here: checked functions with errors ([`crate::checked`]), and what must be searched for, such as the wet
//! bulb ([`crate::MoistAir`]). Read next: `formulas/saturation.rs`, `formulas/fast.rs`.
//!
//! Temperatures in °C, pressures in Pa, humidity ratio in kg water per kg dry air, enthalpy in J per kg dry
//! air (of dry air at 0 °C and liquid water at 0 °C: zero). Sources in full: the crate's page.
//!
//! # Example
//! ```
//! use psychrometrics::formulas::{fast_saturation_humidity_ratio_with_slope, saturation_humidity_ratio};
//!
//! let (saturated, per_k) = fast_saturation_humidity_ratio_with_slope(20.0, 101_325.0);
//! assert!((saturated - saturation_humidity_ratio(20.0, 101_325.0)).abs() < 1e-8);
//! assert!(per_k > 0.0009);
//! ```

mod fast;
mod saturation;

use lanes::Real;

pub use fast::{
    FAST_HALF_RANGE_C, fast_dew_point_c, fast_dew_point_over_water_c, fast_frost_point_c,
    fast_saturation_over_ice_pa, fast_saturation_over_ice_with_slope, fast_saturation_over_water_pa,
    fast_saturation_over_water_with_slope, fast_saturation_pa, fast_saturation_with_slope,
};
pub use saturation::{saturation_over_ice_pa, saturation_over_water_pa, saturation_pa};

/// Heat capacity of dry air (J/(kg K)).
pub const CP_DRY_AIR_J_PER_KGK: f64 = 1006.0;
/// Heat capacity of water vapour (J/(kg K)).
pub const CP_VAPOUR_J_PER_KGK: f64 = 1860.0;
/// Heat capacity of liquid water (J/(kg K)).
pub const CP_LIQUID_J_PER_KGK: f64 = 4186.0;
/// Heat capacity of ice (J/(kg K)); measured 2100 at 0 °C, 1950 at −20 °C.
pub const CP_ICE_J_PER_KGK: f64 = 2100.0;
/// Heat that turns liquid water at 0 °C into vapour at 0 °C (J/kg).
pub const VAPORISATION_0C_J_PER_KG: f64 = 2_501_000.0;
/// Heat that turns ice at 0 °C into liquid water at 0 °C (J/kg).
pub const FUSION_0C_J_PER_KG: f64 = 333_400.0;
/// Molar mass of water over that of dry air.
pub const MOLE_MASS_RATIO: f64 = 0.621945;
/// Molar mass of dry air over that of water, as the formula of specific volume prints it.
pub const INVERSE_MOLE_MASS_RATIO: f64 = 1.607858;
/// Gas constant of dry air (J/(kg K)).
pub const GAS_CONSTANT_DRY_AIR_J_PER_KGK: f64 = 287.042;
/// 0 °C (K).
pub const ZERO_CELSIUS_K: f64 = 273.15;
/// Triple point of water (°C): below it saturation is over ice, above it over water.
pub const TRIPLE_POINT_C: f64 = 0.01;

/// Humidity ratio from vapour pressure (kg/kg dry air).
///
/// `w = 0.621945 p_v / (p − p_v)`, for `0 <= p_v < p`.
///
/// # Source
/// [ASHRAE-F] ch. 1, humidity ratio of ideal gases.
#[inline(always)]
pub fn humidity_ratio<R: Real>(vapour_pressure_pa: R, pressure_pa: R) -> R {
    vapour_pressure_pa * ratio_per_pa(vapour_pressure_pa, pressure_pa)
}

/// Vapour pressure from humidity ratio (Pa); the inverse of [`humidity_ratio`], for `w >= 0`.
///
/// `p_v = p w / (0.621945 + w)`
#[inline(always)]
pub fn vapour_pressure_pa<R: Real>(humidity_ratio: R, pressure_pa: R) -> R {
    pressure_pa * humidity_ratio / (humidity_ratio + MOLE_MASS_RATIO)
}

/// Humidity ratio of saturated air (kg/kg dry air), over ice below 0.01 °C, over water above.
///
/// Range −100…200 °C, where saturation stays below the total pressure.
#[inline(always)]
pub fn saturation_humidity_ratio<R: Real>(temperature_c: R, pressure_pa: R) -> R {
    humidity_ratio(saturation_pa(temperature_c), pressure_pa)
}

/// Humidity ratio of air saturated over liquid water, also below 0 °C (kg/kg dry air).
#[inline(always)]
pub fn saturation_humidity_ratio_over_water<R: Real>(temperature_c: R, pressure_pa: R) -> R {
    humidity_ratio(saturation_over_water_pa(temperature_c), pressure_pa)
}

/// Humidity ratio of air saturated over ice (kg/kg dry air).
#[inline(always)]
pub fn saturation_humidity_ratio_over_ice<R: Real>(temperature_c: R, pressure_pa: R) -> R {
    humidity_ratio(saturation_over_ice_pa(temperature_c), pressure_pa)
}

/// [`saturation_humidity_ratio`] by the fast kernel; range as [`fast_saturation_pa`].
#[inline(always)]
pub fn fast_saturation_humidity_ratio<R: Real>(temperature_c: R, pressure_pa: R) -> R {
    humidity_ratio(fast_saturation_pa(temperature_c), pressure_pa)
}

/// [`saturation_humidity_ratio_over_water`] by the fast kernel.
#[inline(always)]
pub fn fast_saturation_humidity_ratio_over_water<R: Real>(temperature_c: R, pressure_pa: R) -> R {
    humidity_ratio(fast_saturation_over_water_pa(temperature_c), pressure_pa)
}

/// [`saturation_humidity_ratio_over_ice`] by the fast kernel.
#[inline(always)]
pub fn fast_saturation_humidity_ratio_over_ice<R: Real>(temperature_c: R, pressure_pa: R) -> R {
    humidity_ratio(fast_saturation_over_ice_pa(temperature_c), pressure_pa)
}

/// Saturated humidity ratio by the fast kernel (kg/kg) and its slope in temperature (1/K).
///
/// The first is [`fast_saturation_humidity_ratio`] to the bit; the second its exact derivative, one-sided at
/// 0.01 °C, where the slope jumps from ice to water. Costs one division, as the value alone does.
#[inline(always)]
pub fn fast_saturation_humidity_ratio_with_slope<R: Real>(temperature_c: R, pressure_pa: R) -> (R, R) {
    ratio_with_slope(fast_saturation_with_slope(temperature_c), pressure_pa)
}

/// As [`fast_saturation_humidity_ratio_with_slope`], over liquid water also below 0 °C.
#[inline(always)]
pub fn fast_saturation_humidity_ratio_over_water_with_slope<R: Real>(
    temperature_c: R,
    pressure_pa: R,
) -> (R, R) {
    ratio_with_slope(fast_saturation_over_water_with_slope(temperature_c), pressure_pa)
}

/// As [`fast_saturation_humidity_ratio_with_slope`], over ice.
#[inline(always)]
pub fn fast_saturation_humidity_ratio_over_ice_with_slope<R: Real>(
    temperature_c: R,
    pressure_pa: R,
) -> (R, R) {
    ratio_with_slope(fast_saturation_over_ice_with_slope(temperature_c), pressure_pa)
}

/// `0.621945 / (p − p_v)` (1/Pa).
#[inline(always)]
fn ratio_per_pa<R: Real>(vapour_pressure_pa: R, pressure_pa: R) -> R {
    R::splat(MOLE_MASS_RATIO) / (pressure_pa - vapour_pressure_pa)
}

/// `dw/dp_v = 0.621945 p / (p − p_v)² = q (1 + w / 0.621945)`, with `q` of [`ratio_per_pa`].
#[inline(always)]
fn ratio_with_slope<R: Real>((vapour_pressure_pa, pa_per_k): (R, R), pressure_pa: R) -> (R, R) {
    let per_pa = ratio_per_pa(vapour_pressure_pa, pressure_pa);
    let ratio = vapour_pressure_pa * per_pa;
    (ratio, pa_per_k * per_pa * (ratio * (1.0 / MOLE_MASS_RATIO) + 1.0))
}

/// Relative humidity, 0…1, over the branch of the temperature: ice below 0.01 °C, water above.
///
/// `φ = p_v / p_sat(t)`
#[inline(always)]
pub fn relative_humidity<R: Real>(temperature_c: R, humidity_ratio: R, pressure_pa: R) -> R {
    vapour_pressure_pa(humidity_ratio, pressure_pa) / saturation_pa(temperature_c)
}

/// Relative humidity, 0…1, over liquid water at every temperature, as weather services report it.
#[inline(always)]
pub fn relative_humidity_over_water<R: Real>(temperature_c: R, humidity_ratio: R, pressure_pa: R) -> R {
    vapour_pressure_pa(humidity_ratio, pressure_pa) / saturation_over_water_pa(temperature_c)
}

/// [`relative_humidity`] by the fast kernel; range as [`fast_saturation_pa`].
#[inline(always)]
pub fn fast_relative_humidity<R: Real>(temperature_c: R, humidity_ratio: R, pressure_pa: R) -> R {
    vapour_pressure_pa(humidity_ratio, pressure_pa) / fast_saturation_pa(temperature_c)
}

/// Enthalpy of moist air (J/kg dry air).
///
/// `h = 1006 t + w (2501e3 + 1860 t)`
///
/// # Source
/// [ASHRAE-F] ch. 1, moist-air specific enthalpy.
#[inline(always)]
pub fn enthalpy_j_per_kg<R: Real>(temperature_c: R, humidity_ratio: R) -> R {
    temperature_c * CP_DRY_AIR_J_PER_KGK + humidity_ratio * vapour_enthalpy_j_per_kg(temperature_c)
}

/// Temperature from enthalpy and humidity ratio (°C); the inverse of [`enthalpy_j_per_kg`].
#[inline(always)]
pub fn temperature_from_enthalpy_c<R: Real>(enthalpy_j_per_kg: R, humidity_ratio: R) -> R {
    (enthalpy_j_per_kg - humidity_ratio * VAPORISATION_0C_J_PER_KG) / moist_heat_capacity(humidity_ratio)
}

/// Enthalpy of water vapour (J/kg water): `2501e3 + 1860 t`.
#[inline(always)]
pub fn vapour_enthalpy_j_per_kg<R: Real>(temperature_c: R) -> R {
    temperature_c * CP_VAPOUR_J_PER_KGK + VAPORISATION_0C_J_PER_KG
}

/// Enthalpy of liquid water (J/kg water): `4186 t`.
#[inline(always)]
pub fn liquid_enthalpy_j_per_kg<R: Real>(temperature_c: R) -> R {
    temperature_c * CP_LIQUID_J_PER_KGK
}

/// Enthalpy of ice (J/kg water): `−333.4e3 + 2100 t`.
#[inline(always)]
pub fn ice_enthalpy_j_per_kg<R: Real>(temperature_c: R) -> R {
    temperature_c * CP_ICE_J_PER_KGK - FUSION_0C_J_PER_KG
}

/// Heat capacity of moist air (J/(K kg dry air)): `1006 + 1860 w`.
#[inline(always)]
pub fn moist_heat_capacity<R: Real>(humidity_ratio: R) -> R {
    humidity_ratio * CP_VAPOUR_J_PER_KGK + CP_DRY_AIR_J_PER_KGK
}

/// Specific volume (m³/kg dry air).
///
/// `v = 287.042 (t + 273.15) (1 + 1.607858 w) / p`
///
/// # Source
/// [ASHRAE-F] ch. 1, specific volume of moist air.
#[inline(always)]
pub fn specific_volume_m3_per_kg<R: Real>(temperature_c: R, humidity_ratio: R, pressure_pa: R) -> R {
    let dry = (temperature_c + ZERO_CELSIUS_K) * GAS_CONSTANT_DRY_AIR_J_PER_KGK;
    dry * (humidity_ratio * INVERSE_MOLE_MASS_RATIO + 1.0) / pressure_pa
}

//! Single properties of moist air, each checked against its range.
//!
//! Ideal gases, no enhancement factor: the handbook's equations as they stand. Dry bulb −60…60 °C, pressure
//! 50…110 kPa. Every function returns a number or [`OutOfRange`], never NaN.
//! Not here: whole states from any two properties ([`MoistAir`](crate::MoistAir)), formulas without checks
//! ([`crate::formulas`]).

use crate::curve::{Curve, invert, saturation_temperature_c};
use crate::error::OutOfRange;
use crate::formulas as f;
use crate::pairs::SATURATION_ROUNDING;
use crate::range::{
    DEGREE_OF_SATURATION, DEW_POINT, DRY_BULB, ENTHALPY, HUMIDITY_RATIO, ICE_TEMPERATURE, PRESSURE,
    RELATIVE_HUMIDITY, SATURATION_TEMPERATURE, VAPOUR_PRESSURE, WET_BULB,
};
use crate::wet_bulb;

type Checked = Result<f64, OutOfRange>;

/// Saturation pressure (Pa), over ice up to 0.01 °C, over water above it; −100…200 °C.
///
/// # Errors
/// [`OutOfRange`] outside that range.
///
/// # Source
/// [ASHRAE-F] ch. 1, saturation pressure over ice and over liquid water; \[HW83\].
///
/// # Example
/// ```
/// let pressure_pa = psychrometrics::checked::saturation_pressure_pa(20.0)?;
/// assert!((pressure_pa - 2338.8037).abs() < 0.001);
/// # Ok::<(), psychrometrics::OutOfRange>(())
/// ```
pub fn saturation_pressure_pa(temperature_c: f64) -> Checked {
    SATURATION_TEMPERATURE.check(temperature_c).map(f::saturation_pa)
}

/// Saturation pressure over liquid water, also below 0 °C (Pa); −100…200 °C.
///
/// # Errors
/// [`OutOfRange`] outside that range.
pub fn saturation_pressure_over_water_pa(temperature_c: f64) -> Checked {
    SATURATION_TEMPERATURE.check(temperature_c).map(f::saturation_over_water_pa)
}

/// Saturation pressure over ice (Pa); −100…0.01 °C.
///
/// # Errors
/// [`OutOfRange`] outside that range.
pub fn saturation_pressure_over_ice_pa(temperature_c: f64) -> Checked {
    ICE_TEMPERATURE.check(temperature_c).map(f::saturation_over_ice_pa)
}

/// Humidity ratio of saturated air (kg/kg dry air).
///
/// # Errors
/// [`OutOfRange`] unless −60…60 °C and 50…110 kPa.
pub fn saturation_humidity_ratio(dry_bulb_c: f64, pressure_pa: f64) -> Checked {
    PRESSURE.check(pressure_pa)?;
    Ok(f::saturation_humidity_ratio(DRY_BULB.check(dry_bulb_c)?, pressure_pa))
}

/// Humidity ratio from vapour pressure (kg/kg dry air): `0.621945 p_v / (p − p_v)`.
///
/// # Errors
/// [`OutOfRange`] unless `0 <= p_v <= p / 2` (past that the mixture is mostly steam) and 50…110 kPa.
///
/// # Source
/// [ASHRAE-F] ch. 1, humidity ratio.
pub fn humidity_ratio_from_vapour_pressure(vapour_pressure_pa: f64, pressure_pa: f64) -> Checked {
    PRESSURE.check(pressure_pa)?;
    VAPOUR_PRESSURE.up_to(pressure_pa / 2.0).check(vapour_pressure_pa)?;
    Ok(f::humidity_ratio(vapour_pressure_pa, pressure_pa))
}

/// Humidity ratio from relative humidity 0…1 (over ice below 0.01 °C) (kg/kg dry air).
///
/// # Errors
/// [`OutOfRange`] unless −60…60 °C, 0…1, 50…110 kPa.
pub fn humidity_ratio_from_relative_humidity(
    dry_bulb_c: f64,
    relative_humidity: f64,
    pressure_pa: f64,
) -> Checked {
    let share = RELATIVE_HUMIDITY.check(relative_humidity)?;
    humidity_ratio_from_vapour_pressure(share * saturation_in_range(dry_bulb_c)?, pressure_pa)
}

/// Humidity ratio from a relative humidity 0…1 that is meant over liquid water, as weather services report it also
/// below 0 °C (kg/kg dry air). There 1 is more than saturation over ice; the caller decides what to make of it.
///
/// # Errors
/// [`OutOfRange`] unless −60…60 °C, 0…1, 50…110 kPa.
pub fn humidity_ratio_from_relative_humidity_over_water(
    dry_bulb_c: f64,
    relative_humidity: f64,
    pressure_pa: f64,
) -> Checked {
    let saturation_pa = f::saturation_over_water_pa(DRY_BULB.check(dry_bulb_c)?);
    let share = RELATIVE_HUMIDITY.check(relative_humidity)?;
    humidity_ratio_from_vapour_pressure(share * saturation_pa, pressure_pa)
}

/// Humidity ratio from the dew point, or below 0.01 °C the frost point (kg/kg dry air).
///
/// # Errors
/// [`OutOfRange`] unless −100…60 °C and 50…110 kPa.
pub fn humidity_ratio_from_dew_point(dew_point_c: f64, pressure_pa: f64) -> Checked {
    let vapour_pa = f::saturation_pa(DEW_POINT.check(dew_point_c)?);
    humidity_ratio_from_vapour_pressure(vapour_pa, pressure_pa)
}

/// Humidity ratio from a dew point over liquid water, also below 0 °C (kg/kg dry air).
///
/// # Errors
/// [`OutOfRange`] unless −100…60 °C and 50…110 kPa.
pub fn humidity_ratio_from_dew_point_over_water(dew_point_c: f64, pressure_pa: f64) -> Checked {
    let vapour_pa = f::saturation_over_water_pa(DEW_POINT.check(dew_point_c)?);
    humidity_ratio_from_vapour_pressure(vapour_pa, pressure_pa)
}

/// Humidity ratio from dry and wet bulb, the wick on ice below 0 °C (kg/kg dry air).
///
/// # Errors
/// [`OutOfRange`] unless −60…60 °C, 50…110 kPa, a wet bulb not above the dry bulb, and one not below that of
/// perfectly dry air (then the humidity ratio that would follow, below zero, is reported).
///
/// # Source
/// [ASHRAE-F] ch. 1, humidity ratio from wet bulb, over water and over ice.
pub fn humidity_ratio_from_wet_bulb(dry_bulb_c: f64, wet_bulb_c: f64, pressure_pa: f64) -> Checked {
    let curve = Curve::ideal(PRESSURE.check(pressure_pa)?);
    let wet = WET_BULB.up_to(DRY_BULB.check(dry_bulb_c)?).check(wet_bulb_c)?;
    HUMIDITY_RATIO.check(wet_bulb::humidity_ratio(dry_bulb_c, wet, curve))
}

/// Vapour pressure (Pa): `p w / (0.621945 + w)`.
///
/// # Errors
/// [`OutOfRange`] unless `0 <= w <= 0.5` and 50…110 kPa.
pub fn vapour_pressure_pa(humidity_ratio: f64, pressure_pa: f64) -> Checked {
    PRESSURE.check(pressure_pa)?;
    Ok(f::vapour_pressure_pa(HUMIDITY_RATIO.check(humidity_ratio)?, pressure_pa))
}

/// Relative humidity; over ice below 0.01 °C. Above 1 the air is over-saturated.
///
/// # Errors
/// [`OutOfRange`] unless −60…60 °C, `0 <= w <= 0.5`, 50…110 kPa.
pub fn relative_humidity(dry_bulb_c: f64, humidity_ratio: f64, pressure_pa: f64) -> Checked {
    Ok(vapour_pressure_pa(humidity_ratio, pressure_pa)? / saturation_in_range(dry_bulb_c)?)
}

/// Relative humidity over liquid water at every temperature.
///
/// # Errors
/// As [`relative_humidity`].
pub fn relative_humidity_over_water(dry_bulb_c: f64, humidity_ratio: f64, pressure_pa: f64) -> Checked {
    let vapour_pa = vapour_pressure_pa(humidity_ratio, pressure_pa)?;
    Ok(vapour_pa / f::saturation_over_water_pa(DRY_BULB.check(dry_bulb_c)?))
}

/// Degree of saturation `w / w_sat`. Above 1 the air is over-saturated.
///
/// # Errors
/// As [`relative_humidity`].
pub fn degree_of_saturation(dry_bulb_c: f64, humidity_ratio: f64, pressure_pa: f64) -> Checked {
    let saturated = saturation_humidity_ratio(dry_bulb_c, pressure_pa)?;
    Ok(HUMIDITY_RATIO.check(humidity_ratio)? / saturated)
}

/// Relative humidity from the degree of saturation `μ`: `μ / (1 − (1 − μ) p_sat/p)`.
///
/// # Errors
/// [`OutOfRange`] unless −60…60 °C, 0…1, 50…110 kPa.
///
/// # Source
/// [ASHRAE-F] ch. 1, relative humidity and degree of saturation.
pub fn relative_humidity_from_degree_of_saturation(
    dry_bulb_c: f64,
    degree_of_saturation: f64,
    pressure_pa: f64,
) -> Checked {
    let share = saturation_in_range(dry_bulb_c)? / PRESSURE.check(pressure_pa)?;
    let degree = DEGREE_OF_SATURATION.check(degree_of_saturation)?;
    Ok(degree / (1.0 - (1.0 - degree) * share))
}

/// Dew point (°C), below 0.01 °C the frost point.
///
/// # Errors
/// [`OutOfRange`] unless the vapour pressure is that of −100…60 °C, 0.0014…19 944 Pa.
pub fn dew_point_c(vapour_pressure_pa: f64) -> Checked {
    let found = saturation_temperature_c(vapour_pressure_pa);
    found.ok_or(beyond_curve(f::saturation_pa, DEW_POINT.high, vapour_pressure_pa))
}

/// Dew point over liquid water, also below 0 °C, as weather services report it (°C).
///
/// # Errors
/// [`OutOfRange`] unless the vapour pressure is that of −100…60 °C over water.
///
/// # Example
/// ```
/// use psychrometrics::checked::{dew_point_c, dew_point_over_water_c};
///
/// // The same vapour: −10 °C as frost point, −11.2 °C in the words of a weather service.
/// assert!((dew_point_c(259.9029)? + 10.0).abs() < 1e-4);
/// assert!((dew_point_over_water_c(259.9029)? + 11.2).abs() < 0.05);
/// # Ok::<(), psychrometrics::OutOfRange>(())
/// ```
pub fn dew_point_over_water_c(vapour_pressure_pa: f64) -> Checked {
    inverse(f::saturation_over_water_pa, DEW_POINT.high, vapour_pressure_pa)
}

/// Frost point: saturation over ice (°C).
///
/// # Errors
/// [`OutOfRange`] unless the vapour pressure is that of −100…0.01 °C over ice, 0.0014…611.657 Pa.
pub fn frost_point_c(vapour_pressure_pa: f64) -> Checked {
    inverse(f::saturation_over_ice_pa, f::TRIPLE_POINT_C, vapour_pressure_pa)
}

/// Thermodynamic wet bulb (°C): over water where that has an answer at or above 0 °C, else over ice.
///
/// Just dry of 0 °C both have one; a state made from a wet bulb there keeps it, see
/// [`MoistAir::wet_bulb_c`](crate::MoistAir::wet_bulb_c).
///
/// # Errors
/// [`OutOfRange`] unless −60…60 °C, 50…110 kPa, and a humidity ratio from 0 to saturation.
///
/// # Source
/// [ASHRAE-F] ch. 1, humidity ratio from wet bulb, solved for the wet bulb.
///
/// # Example
/// ```
/// let w = psychrometrics::checked::humidity_ratio_from_relative_humidity(5.0, 0.2, 101_325.0)?;
/// let wet_bulb_c = psychrometrics::checked::wet_bulb_c(5.0, w, 101_325.0)?;
/// assert!((wet_bulb_c + 1.4107).abs() < 0.001); // the wick is ice
/// # Ok::<(), psychrometrics::OutOfRange>(())
/// ```
pub fn wet_bulb_c(dry_bulb_c: f64, humidity_ratio: f64, pressure_pa: f64) -> Checked {
    let saturated = saturation_humidity_ratio(dry_bulb_c, pressure_pa)?;
    HUMIDITY_RATIO.up_to(saturated * (1.0 + SATURATION_ROUNDING)).check(humidity_ratio)?;
    Ok(wet_bulb::wet_bulb_c(dry_bulb_c, humidity_ratio, Curve::ideal(pressure_pa)))
}

/// Specific volume (m³/kg dry air): `287.042 (t + 273.15) (1 + 1.607858 w) / p`.
///
/// # Errors
/// [`OutOfRange`] unless −60…60 °C, `0 <= w <= 0.5`, 50…110 kPa.
///
/// # Source
/// [ASHRAE-F] ch. 1, specific volume of moist air.
pub fn specific_volume_m3_per_kg(dry_bulb_c: f64, humidity_ratio: f64, pressure_pa: f64) -> Checked {
    PRESSURE.check(pressure_pa)?;
    let w = HUMIDITY_RATIO.check(humidity_ratio)?;
    Ok(f::specific_volume_m3_per_kg(DRY_BULB.check(dry_bulb_c)?, w, pressure_pa))
}

/// Density, vapour included (kg/m³): `(1 + w) / v`.
///
/// # Errors
/// As [`specific_volume_m3_per_kg`].
pub fn density_kg_per_m3(dry_bulb_c: f64, humidity_ratio: f64, pressure_pa: f64) -> Checked {
    Ok((1.0 + humidity_ratio) / specific_volume_m3_per_kg(dry_bulb_c, humidity_ratio, pressure_pa)?)
}

/// Enthalpy (J/kg dry air): `1006 t + w (2501e3 + 1860 t)`.
///
/// # Errors
/// [`OutOfRange`] unless −60…60 °C and `0 <= w <= 0.5`.
///
/// # Source
/// [ASHRAE-F] ch. 1, moist-air specific enthalpy.
pub fn enthalpy_j_per_kg(dry_bulb_c: f64, humidity_ratio: f64) -> Checked {
    Ok(f::enthalpy_j_per_kg(DRY_BULB.check(dry_bulb_c)?, HUMIDITY_RATIO.check(humidity_ratio)?))
}

/// Dry bulb from enthalpy and humidity ratio (°C).
///
/// # Errors
/// [`OutOfRange`] unless the numbers, and the dry bulb that follows, are in range.
pub fn dry_bulb_from_enthalpy_c(enthalpy_j_per_kg: f64, humidity_ratio: f64) -> Checked {
    let w = HUMIDITY_RATIO.check(humidity_ratio)?;
    DRY_BULB.check(f::temperature_from_enthalpy_c(ENTHALPY.check(enthalpy_j_per_kg)?, w))
}

fn saturation_in_range(dry_bulb_c: f64) -> Checked {
    DRY_BULB.check(dry_bulb_c).map(f::saturation_pa)
}

fn inverse(curve: fn(f64) -> f64, high_c: f64, vapour_pressure_pa: f64) -> Checked {
    invert(curve, DEW_POINT.low, high_c, vapour_pressure_pa).ok_or(beyond_curve(
        curve,
        high_c,
        vapour_pressure_pa,
    ))
}

fn beyond_curve(curve: fn(f64) -> f64, high_c: f64, value: f64) -> OutOfRange {
    let (low, high) = (curve(DEW_POINT.low), curve(high_c));
    OutOfRange { quantity: "vapour pressure", value, unit: "Pa", low, high }
}

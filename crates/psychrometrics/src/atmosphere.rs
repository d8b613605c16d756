//! Pressure and altitude in the standard atmosphere.
//!
//! Not here: the weather's own pressure.

use lanes::Real;

use crate::error::OutOfRange;
use crate::range::{ALTITUDE, ATMOSPHERE};

/// Pressure at sea level in the standard atmosphere (Pa).
pub const SEA_LEVEL_PA: f64 = 101_325.0;
const PER_M: f64 = 2.25577e-5;
const EXPONENT: f64 = 5.2559;

/// Pressure of the standard atmosphere (Pa).
///
/// `p = 101325 (1 − 2.25577e-5 z)^5.2559`, −5000…11 000 m.
///
/// # Errors
/// [`OutOfRange`] outside that range.
///
/// # Source
/// [ASHRAE-F] ch. 1, standard atmosphere.
///
/// # Example
/// ```
/// let pressure_pa = psychrometrics::standard_pressure_pa(1500.0)?;
/// assert!((pressure_pa - 84555.93).abs() < 0.01);
/// # Ok::<(), psychrometrics::OutOfRange>(())
/// ```
pub fn standard_pressure_pa(altitude_m: f64) -> Result<f64, OutOfRange> {
    let base = 1.0 - PER_M * ALTITUDE.check(altitude_m)?;
    // The project's own exp and ln round alike on every machine; `powf` need not.
    Ok(SEA_LEVEL_PA * Real::exp(EXPONENT * Real::ln(base)))
}

/// Altitude at which the standard atmosphere has a pressure (m); the inverse of [`standard_pressure_pa`].
///
/// # Errors
/// [`OutOfRange`] unless 22 631.9…177 687.45 Pa, the pressures of that range of altitudes.
pub fn standard_altitude_m(pressure_pa: f64) -> Result<f64, OutOfRange> {
    let ratio = ATMOSPHERE.check(pressure_pa)? / SEA_LEVEL_PA;
    Ok((1.0 - Real::exp(Real::ln(ratio) / EXPONENT)) / PER_M)
}

//! The ranges of every checked quantity, in one place.
//!
//! Not here: what an error says (`error`), ranges of the unchecked formulas (in their own words).

use crate::OutOfRange;

/// A quantity with its unit and the range in which this crate answers.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Range {
    quantity: &'static str,
    unit: &'static str,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl Range {
    const fn new(quantity: &'static str, unit: &'static str, low: f64, high: f64) -> Self {
        Self { quantity, unit, low, high }
    }

    /// The same quantity with another upper end, such as saturation.
    pub(crate) const fn up_to(self, high: f64) -> Self {
        Self { high, ..self }
    }

    /// The value, if it lies within; NaN does not.
    pub(crate) fn check(self, value: f64) -> Result<f64, OutOfRange> {
        let Self { quantity, unit, low, high } = self;
        if (low..=high).contains(&value) {
            Ok(value)
        } else {
            Err(OutOfRange { quantity, value, unit, low, high })
        }
    }
}

pub(crate) const DRY_BULB: Range = Range::new("dry bulb", "°C", -60.0, 60.0);
pub(crate) const DRY_BULB_OF_PAIR: Range = Range::new("dry bulb of this pair", "°C", -60.0, 60.0);
pub(crate) const DRY_BULB_OF_PROCESS: Range = Range::new("dry bulb after the process", "°C", -60.0, 60.0);
pub(crate) const TOTAL_WATER: Range = Range::new("water in the air after the process", "kg/kg", 0.0, 1.0);
pub(crate) const WET_BULB: Range = Range::new("wet bulb", "°C", -70.0, 60.0);
pub(crate) const DEW_POINT: Range = Range::new("dew point", "°C", -100.0, 60.0);
pub(crate) const RELATIVE_HUMIDITY: Range = Range::new("relative humidity", "", 0.0, 1.0);
pub(crate) const DEGREE_OF_SATURATION: Range = Range::new("degree of saturation", "", 0.0, 1.0);
/// Saturated air at 60 °C and 50 kPa holds 0.41.
pub(crate) const HUMIDITY_RATIO: Range = Range::new("humidity ratio", "kg/kg", 0.0, 0.5);
pub(crate) const ENTHALPY: Range = Range::new("enthalpy", "J/kg", -62e3, 1.4e6);
pub(crate) const PRESSURE: Range = Range::new("pressure", "Pa", 50e3, 110e3);
pub(crate) const VAPOUR_PRESSURE: Range = Range::new("vapour pressure", "Pa", 0.0, 55e3);
pub(crate) const SATURATION_TEMPERATURE: Range = Range::new("temperature", "°C", -100.0, 200.0);
pub(crate) const ICE_TEMPERATURE: Range = Range::new("temperature of ice", "°C", -100.0, 0.01);
pub(crate) const ALTITUDE: Range = Range::new("altitude", "m", -5000.0, 11000.0);
/// The pressures of the standard atmosphere at those altitudes.
pub(crate) const ATMOSPHERE: Range = Range::new("pressure", "Pa", 22_631.9, 177_687.45);
pub(crate) const DRY_AIR_FLOW: Range = Range::new("dry-air flow", "kg/s", 1e-12, 1e6);
pub(crate) const ADDED_WATER: Range = Range::new("added water", "kg/kg", 0.0, 0.5);
pub(crate) const WATER_TEMPERATURE: Range = Range::new("water temperature", "°C", 0.0, 100.0);
pub(crate) const STEAM_TEMPERATURE: Range = Range::new("steam temperature", "°C", 0.0, 200.0);
pub(crate) const ADDED_HEAT: Range = Range::new("added heat", "J/kg", -2e6, 2e6);

//! What can be wrong with a question about air.
//!
//! Not here: the ranges themselves (`range`).

use crate::{Given, Property};

/// A number outside the range in which a relation holds; also a number that is none (NaN).
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{quantity} {} is outside {low} to {}", with_unit(*value, unit), with_unit(*high, unit))]
pub struct OutOfRange {
    /// What the number is, such as "dry bulb".
    pub quantity: &'static str,
    /// The number.
    pub value: f64,
    /// Its unit; empty for a plain ratio.
    pub unit: &'static str,
    /// The lowest number allowed.
    pub low: f64,
    /// The highest number allowed.
    pub high: f64,
}

fn with_unit(value: f64, unit: &str) -> String {
    if unit.is_empty() { value.to_string() } else { format!("{value} {unit}") }
}

/// Why there is no moist-air state for what was asked.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum AirError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Both numbers are the same property, or one follows from the other at the given pressure.
    #[error("{0} and {1} say the same twice: replace one of them by another property")]
    SameTwice(Property, Property),
    /// Lines of constant wet bulb and of constant enthalpy nearly coincide, and near 0 °C, where the wet bulb
    /// passes from ice to water, they meet more than once.
    #[error("{0} and {1} are singular near 0 °C: replace one of them by another property")]
    Singular(Property, Property),
    /// The air would hold more vapour than saturation allows.
    #[error("{first} and {second}: over-saturated, relative humidity would be {relative_humidity:.6}")]
    Supersaturated {
        /// One of the numbers given.
        first: Given,
        /// The other.
        second: Given,
        /// What the relative humidity would be, above 1.
        relative_humidity: f64,
    },
    /// The air would hold less than no vapour.
    #[error("{first} and {second}: even perfectly dry air at that dry bulb has a higher {}", second.property())]
    DrierThanDry {
        /// The dry bulb given.
        first: Given,
        /// The wet bulb or enthalpy given.
        second: Given,
    },
    /// No air in the range of dry bulbs has both properties.
    #[error("no air from -60 to 60 °C has {first} and {second}")]
    NoSuchAir {
        /// One of the numbers given.
        first: Given,
        /// The other.
        second: Given,
    },
    /// Over-saturated air whose temperature, once its droplets have formed, leaves the range.
    #[error("the fog that forms is outside -60 to 60 °C")]
    FogOutsideRange,
    /// Two streams that do not share a pressure cannot mix at constant pressure.
    #[error("streams at {first_pa} Pa and {second_pa} Pa: bring them to one pressure before mixing")]
    PressuresDiffer {
        /// Pressure of the first stream (Pa).
        first_pa: f64,
        /// Pressure of the second (Pa).
        second_pa: f64,
    },
    /// Two streams described with and without the enhancement factor.
    #[error("one stream is described with the enhancement factor, the other without")]
    EnhancementsDiffer,
    /// A process that only changes the temperature was asked to pass the dew point.
    #[error("{target_c} °C is below the dew point {dew_point_c} °C: water would condense")]
    BelowDewPoint {
        /// The temperature asked for (°C).
        target_c: f64,
        /// The dew point of the air (°C).
        dew_point_c: f64,
    },
}

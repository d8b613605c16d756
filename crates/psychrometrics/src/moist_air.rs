//! A moist-air state, complete and never over-saturated.
//!
//! Here: [`MoistAir`], its constructors and getters, and the properties it can be made from.
//! Not here: how a pair of properties is solved (`pairs`), what can be done to air ([`crate::processes`]).
//! Read next: `pairs`.

use core::fmt;

use crate::curve::{Curve, EnhancementFactor};
use crate::error::AirError;
use crate::formulas as f;
use crate::{pairs, wet_bulb};

/// One of the six properties that a state can be made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Property {
    /// What a dry thermometer reads (°C).
    DryBulb,
    /// Thermodynamic wet bulb (°C), over ice below 0 °C.
    WetBulb,
    /// Dew point (°C); below 0.01 °C the frost point.
    DewPoint,
    /// Relative humidity, 0…1; over ice below 0.01 °C.
    RelativeHumidity,
    /// Humidity ratio (kg/kg dry air).
    HumidityRatio,
    /// Enthalpy (J/kg dry air).
    Enthalpy,
}

impl Property {
    /// All six.
    pub const ALL: [Self; 6] = [
        Self::DryBulb,
        Self::WetBulb,
        Self::DewPoint,
        Self::RelativeHumidity,
        Self::HumidityRatio,
        Self::Enthalpy,
    ];

    const fn unit(self) -> &'static str {
        match self {
            Self::DryBulb | Self::WetBulb | Self::DewPoint => " °C",
            Self::RelativeHumidity => "",
            Self::HumidityRatio => " kg/kg",
            Self::Enthalpy => " J/kg",
        }
    }
}

impl fmt::Display for Property {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::DryBulb => "dry bulb",
            Self::WetBulb => "wet bulb",
            Self::DewPoint => "dew point",
            Self::RelativeHumidity => "relative humidity",
            Self::HumidityRatio => "humidity ratio",
            Self::Enthalpy => "enthalpy",
        })
    }
}

/// A property with its number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Given {
    /// Dry bulb (°C), −60…60.
    DryBulbC(f64),
    /// Wet bulb (°C), −70…60; below 0 over ice.
    WetBulbC(f64),
    /// Dew point (°C), −100…60; below 0.01 the frost point.
    DewPointC(f64),
    /// Relative humidity, 0…1; over ice below 0.01 °C.
    RelativeHumidity(f64),
    /// Humidity ratio (kg/kg dry air), 0…0.5.
    HumidityRatio(f64),
    /// Enthalpy (J/kg dry air), −62e3…1.4e6.
    EnthalpyJPerKg(f64),
}

impl Given {
    /// A property with a number in the unit that [`Property`] names.
    pub const fn new(property: Property, value: f64) -> Self {
        match property {
            Property::DryBulb => Self::DryBulbC(value),
            Property::WetBulb => Self::WetBulbC(value),
            Property::DewPoint => Self::DewPointC(value),
            Property::RelativeHumidity => Self::RelativeHumidity(value),
            Property::HumidityRatio => Self::HumidityRatio(value),
            Property::Enthalpy => Self::EnthalpyJPerKg(value),
        }
    }

    /// Which property it is.
    pub const fn property(self) -> Property {
        match self {
            Self::DryBulbC(_) => Property::DryBulb,
            Self::WetBulbC(_) => Property::WetBulb,
            Self::DewPointC(_) => Property::DewPoint,
            Self::RelativeHumidity(_) => Property::RelativeHumidity,
            Self::HumidityRatio(_) => Property::HumidityRatio,
            Self::EnthalpyJPerKg(_) => Property::Enthalpy,
        }
    }

    /// Its number.
    pub const fn value(self) -> f64 {
        match self {
            Self::DryBulbC(value)
            | Self::WetBulbC(value)
            | Self::DewPointC(value)
            | Self::RelativeHumidity(value)
            | Self::HumidityRatio(value)
            | Self::EnthalpyJPerKg(value) => value,
        }
    }
}

impl fmt::Display for Given {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} {}{}", self.property(), self.value(), self.property().unit())
    }
}

/// A moist-air state: dry bulb −60…60 °C, pressure 50…110 kPa, from no vapour to saturation.
///
/// Made from any of the thirteen solvable pairs of [`Property`]; every getter answers, except the dew point of
/// (nearly) dry air.
///
/// # Example
/// ```
/// use psychrometrics::{Given, MoistAir};
///
/// let room = MoistAir::from_pair(Given::DryBulbC(25.0), Given::RelativeHumidity(0.5), 101_325.0)?;
/// assert!((room.humidity_ratio() - 0.00988104).abs() < 1e-8);
/// assert!((room.wet_bulb_c() - 17.8894).abs() < 0.001);
/// assert_eq!(room.dew_point_c().map(|t| (t * 1000.0).round()), Some(13864.0));
/// # Ok::<(), psychrometrics::AirError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistAir {
    curve: Curve,
    dry_bulb_c: f64,
    humidity_ratio: f64,
    relative_humidity: f64,
    wet_bulb_c: f64,
    dew_point_c: Option<f64>,
}

impl MoistAir {
    /// The state with two given properties, in any order, at a pressure in Pa (50…110 kPa), without enhancement
    /// factor.
    ///
    /// Solved between brackets to 1e-9 K or better. A result past saturation, or with less than no vapour, by more
    /// than rounding (one part in 1e8 of relative humidity, 1e-12 kg/kg) is an error.
    ///
    /// # Errors
    /// [`AirError`]: a number out of range; a pair that cannot be solved (dew point with humidity ratio, wet bulb
    /// with enthalpy, a property with itself); over-saturated, impossible, or out-of-range air.
    pub fn from_pair(first: Given, second: Given, pressure_pa: f64) -> Result<Self, AirError> {
        Self::from_pair_enhanced(first, second, pressure_pa, EnhancementFactor::None)
    }

    /// As [`from_pair`](Self::from_pair), with a choice of enhancement factor, used wherever saturation enters.
    ///
    /// # Errors
    /// As [`from_pair`](Self::from_pair).
    pub fn from_pair_enhanced(
        first: Given,
        second: Given,
        pressure_pa: f64,
        enhancement: EnhancementFactor,
    ) -> Result<Self, AirError> {
        let pressure_pa = crate::range::PRESSURE.check(pressure_pa)?;
        pairs::solve(first, second, Curve { pressure_pa, enhancement })
    }

    /// Fills in the rest from values already checked against each other.
    pub(crate) fn complete(curve: Curve, dry_bulb_c: f64, humidity_ratio: f64) -> Self {
        let relative_humidity = curve.relative_humidity(dry_bulb_c, humidity_ratio).min(1.0);
        let vapour_pa = f::vapour_pressure_pa(humidity_ratio, curve.pressure_pa);
        Self {
            curve,
            dry_bulb_c,
            humidity_ratio,
            relative_humidity,
            wet_bulb_c: wet_bulb::wet_bulb_c(dry_bulb_c, humidity_ratio, curve),
            dew_point_c: curve.dew_point_c(vapour_pa).map(|t| t.min(dry_bulb_c)),
        }
    }

    /// The same state with a property as it was given, not as it comes back through the others: free of rounding,
    /// and a wet bulb on ice a little below 0 °C stays there, where water would do too.
    pub(crate) fn keeping(self, given: Given) -> Self {
        match given {
            Given::WetBulbC(t) => Self { wet_bulb_c: t.min(self.dry_bulb_c), ..self },
            Given::DewPointC(t) => Self { dew_point_c: Some(t.min(self.dry_bulb_c)), ..self },
            Given::RelativeHumidity(relative_humidity) => Self { relative_humidity, ..self },
            Given::DryBulbC(_) | Given::HumidityRatio(_) | Given::EnthalpyJPerKg(_) => self,
        }
    }

    pub(crate) fn curve(&self) -> Curve {
        self.curve
    }

    /// Total pressure (Pa).
    pub fn pressure_pa(&self) -> f64 {
        self.curve.pressure_pa
    }

    /// Whether saturation is enhanced.
    pub fn enhancement(&self) -> EnhancementFactor {
        self.curve.enhancement
    }

    /// Dry bulb (°C).
    pub fn dry_bulb_c(&self) -> f64 {
        self.dry_bulb_c
    }

    /// Thermodynamic wet bulb (°C): water at and above 0 °C where that has an answer, else ice. A wet bulb that the
    /// state was made from is returned as given.
    pub fn wet_bulb_c(&self) -> f64 {
        self.wet_bulb_c
    }

    /// Dew point (°C), below 0.01 °C the frost point; `None` below −100 °C and for perfectly dry air.
    pub fn dew_point_c(&self) -> Option<f64> {
        self.dew_point_c
    }

    /// Relative humidity, 0…1; over ice below 0.01 °C.
    pub fn relative_humidity(&self) -> f64 {
        self.relative_humidity
    }

    /// Relative humidity over liquid water at every temperature, 0…1, as weather services report it.
    pub fn relative_humidity_over_water(&self) -> f64 {
        self.vapour_pressure_pa() / (self.curve.factor() * f::saturation_over_water_pa(self.dry_bulb_c))
    }

    /// Humidity ratio (kg/kg dry air).
    pub fn humidity_ratio(&self) -> f64 {
        self.humidity_ratio
    }

    /// Enthalpy (J/kg dry air).
    pub fn enthalpy_j_per_kg(&self) -> f64 {
        f::enthalpy_j_per_kg(self.dry_bulb_c, self.humidity_ratio)
    }

    /// Specific volume (m³/kg dry air).
    pub fn specific_volume_m3_per_kg(&self) -> f64 {
        f::specific_volume_m3_per_kg(self.dry_bulb_c, self.humidity_ratio, self.pressure_pa())
    }

    /// Density, vapour included (kg/m³): `(1 + w) / v`.
    pub fn density_kg_per_m3(&self) -> f64 {
        (1.0 + self.humidity_ratio) / self.specific_volume_m3_per_kg()
    }

    /// Vapour pressure (Pa).
    pub fn vapour_pressure_pa(&self) -> f64 {
        f::vapour_pressure_pa(self.humidity_ratio, self.pressure_pa())
    }

    /// Vapour pressure if the air were saturated at its dry bulb (Pa), enhanced if the state is.
    pub fn saturation_pressure_pa(&self) -> f64 {
        self.curve.saturation_pa(self.dry_bulb_c)
    }

    /// Humidity ratio over that of saturated air, 0…1.
    pub fn degree_of_saturation(&self) -> f64 {
        (self.humidity_ratio / self.curve.saturation_ratio(self.dry_bulb_c)).min(1.0)
    }

    /// Any of the six properties, in the unit [`Property`] names; `None` only for the dew point of dry air.
    pub fn property(&self, property: Property) -> Option<f64> {
        match property {
            Property::DryBulb => Some(self.dry_bulb_c),
            Property::WetBulb => Some(self.wet_bulb_c),
            Property::DewPoint => self.dew_point_c,
            Property::RelativeHumidity => Some(self.relative_humidity),
            Property::HumidityRatio => Some(self.humidity_ratio),
            Property::Enthalpy => Some(self.enthalpy_j_per_kg()),
        }
    }
}

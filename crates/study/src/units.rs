//! The units a study may use: one table, every factor from an exact definition.
//!
//! Here: dimensions, units, conversion of a plain number. Not here: reading `"28 L/s"` (`quantity`).
//! Read next: `quantity.rs`.
//!
//! # Source
//! Foot, inch, pound, US gallon, International Table Btu and degree Fahrenheit are exact by definition
//! (1 ft = 0.3048 m, 1 lb = 0.45359237 kg, 1 gal = 231 in³, 1 Btu = 1055.05585262 J, [NIST-SP811] app. B).
//! One litre of water counts as one kilogram. An inch of water is the conventional one, of 249.08891 Pa.

/// What a quantity measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Temperature, read to °C.
    Temperature,
    /// Difference of two temperatures, read to K.
    TemperatureDifference,
    /// Area, read to m².
    Area,
    /// Length, read to m.
    Length,
    /// Volume flow of air, read to m³/s.
    AirFlow,
    /// Mass flow of dry air, read to kg/s.
    AirMassFlow,
    /// Volume, read to m³.
    Volume,
    /// Volumes of air per time, read to 1/s.
    AirChangeRate,
    /// Area of leaks, read to m².
    LeakageArea,
    /// Water per time, read to kg/s.
    WaterRate,
    /// Power, read to W.
    Power,
    /// Heat conductance, read to W/K.
    Conductance,
    /// Thermal transmittance, read to W/m²K.
    Transmittance,
    /// Heat capacity, read to J/K.
    HeatCapacity,
    /// Heat capacity per area, read to J/m²K.
    HeatCapacityPerArea,
    /// Heat flow per area, read to W/m².
    HeatFlowPerArea,
    /// Angle, read to degrees.
    Angle,
    /// Duration, read to s.
    Duration,
    /// Relative humidity, read to a fraction.
    RelativeHumidity,
    /// Relative humidity for each kelvin, read to a fraction.
    HumiditySlope,
    /// Share of a gas by volume, read to ppm.
    Concentration,
    /// Resistance of a layer to water vapour, read to s/m.
    VapourResistance,
    /// Water for the electricity used, read to kg/J.
    WaterPerEnergy,
    /// Mass, read to kg.
    Mass,
    /// Difference of pressure, read to Pa.
    Pressure,
    /// Energy, read to J.
    Energy,
    /// Carbon dioxide for the energy bought, read to kg/J.
    CarbonPerEnergy,
    /// Years, read to years.
    Years,
}

impl Dimension {
    /// All dimensions.
    pub const ALL: [Self; 28] = [
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Area,
        Self::Length,
        Self::AirFlow,
        Self::AirMassFlow,
        Self::Volume,
        Self::AirChangeRate,
        Self::LeakageArea,
        Self::WaterRate,
        Self::Power,
        Self::Conductance,
        Self::Transmittance,
        Self::HeatCapacity,
        Self::HeatCapacityPerArea,
        Self::HeatFlowPerArea,
        Self::Angle,
        Self::Duration,
        Self::RelativeHumidity,
        Self::HumiditySlope,
        Self::Concentration,
        Self::VapourResistance,
        Self::WaterPerEnergy,
        Self::Mass,
        Self::Pressure,
        Self::Energy,
        Self::CarbonPerEnergy,
        Self::Years,
    ];

    /// What it is called, without an article: `area`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::Area => "area",
            Self::Length => "length",
            Self::AirFlow => "flow of air",
            Self::AirMassFlow => "mass flow of air",
            Self::Volume => "volume",
            Self::AirChangeRate => "air change rate",
            Self::LeakageArea => "leakage area",
            Self::WaterRate => "rate of water",
            Self::Power => "power",
            Self::Conductance => "heat conductance",
            Self::Transmittance => "thermal transmittance",
            Self::HeatCapacity => "heat capacity",
            Self::HeatCapacityPerArea => "heat capacity per area",
            Self::HeatFlowPerArea => "heat flow per area",
            Self::Angle => "angle",
            Self::Duration => "duration",
            Self::RelativeHumidity => "relative humidity",
            Self::HumiditySlope => "slope of relative humidity",
            Self::Concentration => "concentration",
            Self::VapourResistance => "vapour resistance",
            Self::WaterPerEnergy => "water for the electricity used",
            Self::Mass => "mass",
            Self::Pressure => "pressure",
            Self::Energy => "amount of energy",
            Self::CarbonPerEnergy => "carbon intensity",
            Self::Years => "number of years",
        }
    }

    /// What it is called, with its article: `an area`.
    pub fn with_article(self) -> String {
        let article = if self.name().starts_with('a') { "an" } else { "a" };
        format!("{article} {}", self.name())
    }

    /// The units that fit, SI first.
    pub fn units(self) -> impl Iterator<Item = &'static UnitOfMeasure> {
        UNITS.iter().filter(move |unit| unit.dimension == self)
    }

    /// The unit of this dimension that `text` spells, `None` if there is none.
    ///
    /// Spaces, dots, brackets, and the way of writing a square do not matter: `W/(m² K)` is `W/m2K`.
    pub fn unit(self, text: &str) -> Option<&'static UnitOfMeasure> {
        self.units().find(|unit| unit.is_spelled(text))
    }
}

/// A unit, and how its numbers become SI: `si = (number + shift) × factor`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnitOfMeasure {
    /// The usual spelling.
    pub name: &'static str,
    /// Other spellings.
    pub also: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// Added to the number first; 0 but for temperatures.
    pub shift: f64,
    /// SI units in one of this.
    pub factor: f64,
}

impl UnitOfMeasure {
    /// The number in SI (temperatures in °C, angles in degrees): `(number + shift) × factor`.
    pub fn to_si(&self, number: f64) -> f64 {
        (number + self.shift) * self.factor
    }

    /// The number in this unit, from SI: `si / factor − shift`.
    pub fn from_si(&self, si: f64) -> f64 {
        si / self.factor - self.shift
    }

    fn is_spelled(&self, text: &str) -> bool {
        let wanted = squeeze(text);
        squeeze(self.name) == wanted || self.also.iter().any(|other| squeeze(other) == wanted)
    }
}

/// The dimension, other than `not`, that has a unit spelled so.
pub(crate) fn dimension_with(text: &str, not: Dimension) -> Option<Dimension> {
    Dimension::ALL.into_iter().find(|dimension| *dimension != not && dimension.unit(text).is_some())
}

/// Whether some dimension has a unit spelled so.
pub(crate) fn is_a_unit(text: &str) -> bool {
    Dimension::ALL.into_iter().any(|dimension| dimension.unit(text).is_some())
}

/// Leaves out what does not change a unit, so that spellings compare.
fn squeeze(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '·' | '⋅' | '*' | '(' | ')'))
        .map(|c| match c {
            '²' => '2',
            '³' => '3',
            'º' | '˚' => '°',
            other => other,
        })
        .collect()
}

const FOOT_M: f64 = 0.3048;
const INCH_M: f64 = 0.0254;
const SQUARE_FOOT_M2: f64 = FOOT_M * FOOT_M;
const CUBIC_FOOT_M3: f64 = 0.028316846592;
const POUND_KG: f64 = 0.45359237;
const BTU_J: f64 = 1055.05585262;
const BTU_PER_H_W: f64 = BTU_J / HOUR_S;
/// An eighth of a US gallon of water.
const PINT_KG: f64 = 0.473176473;
/// An inch of water of 1000 kg/m³ under standard gravity, 9.80665 m/s².
const INCH_OF_WATER_PA: f64 = INCH_M * 1000.0 * 9.80665;
const DEGREE_F_K: f64 = 5.0 / 9.0;
const HOUR_S: f64 = 3600.0;
const DAY_S: f64 = 86400.0;
pub(crate) const KILOWATT_HOUR_J: f64 = 3.6e6;
/// A hundred thousand Btu.
pub(crate) const THERM_J: f64 = 1e5 * BTU_J;
/// A million Btu.
pub(crate) const MILLION_BTU_J: f64 = 1e6 * BTU_J;

const fn unit(
    dimension: Dimension,
    name: &'static str,
    also: &'static [&'static str],
    factor: f64,
) -> UnitOfMeasure {
    UnitOfMeasure { name, also, dimension, shift: 0.0, factor }
}

const fn shifted(
    name: &'static str,
    also: &'static [&'static str],
    shift: f64,
    factor: f64,
) -> UnitOfMeasure {
    UnitOfMeasure { name, also, dimension: Dimension::Temperature, shift, factor }
}

/// Every unit a study may use, SI first within a dimension.
pub const UNITS: &[UnitOfMeasure] = {
    use Dimension as D;
    &[
        shifted("°C", &["C", "degC"], 0.0, 1.0),
        shifted("K", &[], -273.15, 1.0),
        shifted("°F", &["F", "degF"], -32.0, DEGREE_F_K),
        unit(D::TemperatureDifference, "K", &["°C", "C", "degC"], 1.0),
        unit(D::TemperatureDifference, "°F", &["F", "degF"], DEGREE_F_K),
        unit(D::Area, "m2", &[], 1.0),
        unit(D::Area, "ft2", &["sq ft"], SQUARE_FOOT_M2),
        unit(D::Length, "m", &[], 1.0),
        unit(D::Length, "cm", &[], 0.01),
        unit(D::Length, "mm", &[], 0.001),
        unit(D::Length, "ft", &[], FOOT_M),
        unit(D::Length, "in", &[], INCH_M),
        unit(D::AirFlow, "L/s", &["l/s"], 0.001),
        unit(D::AirFlow, "m3/h", &[], 1.0 / HOUR_S),
        unit(D::AirFlow, "m3/s", &[], 1.0),
        unit(D::AirFlow, "cfm", &["CFM", "ft3/min"], CUBIC_FOOT_M3 / 60.0),
        unit(D::AirMassFlow, "kg/s", &[], 1.0),
        unit(D::AirMassFlow, "g/s", &[], 0.001),
        unit(D::AirMassFlow, "kg/h", &[], 1.0 / HOUR_S),
        unit(D::AirMassFlow, "lb/h", &[], POUND_KG / HOUR_S),
        unit(D::AirMassFlow, "lb/min", &[], POUND_KG / 60.0),
        unit(D::Volume, "m3", &[], 1.0),
        unit(D::Volume, "ft3", &["cu ft"], CUBIC_FOOT_M3),
        unit(D::AirChangeRate, "1/h", &["ach", "ACH", "h-1"], 1.0 / HOUR_S),
        unit(D::LeakageArea, "cm2", &[], 1e-4),
        unit(D::LeakageArea, "in2", &["sq in"], INCH_M * INCH_M),
        unit(D::WaterRate, "kg/day", &["kg/d"], 1.0 / DAY_S),
        unit(D::WaterRate, "g/h", &[], 0.001 / HOUR_S),
        unit(D::WaterRate, "L/day", &["l/day", "L/d", "l/d"], 1.0 / DAY_S),
        unit(D::WaterRate, "g/day", &["g/d"], 0.001 / DAY_S),
        unit(D::WaterRate, "kg/h", &[], 1.0 / HOUR_S),
        unit(D::WaterRate, "kg/s", &[], 1.0),
        unit(D::WaterRate, "pint/day", &["pints/day", "pint/d", "pt/day"], PINT_KG / DAY_S),
        unit(D::WaterRate, "lb/day", &["lb/d"], POUND_KG / DAY_S),
        unit(D::WaterRate, "lb/h", &[], POUND_KG / HOUR_S),
        unit(D::Power, "W", &[], 1.0),
        unit(D::Power, "kW", &[], 1000.0),
        unit(D::Power, "Btu/h", &["BTU/h", "Btu/hr"], BTU_PER_H_W),
        unit(D::Conductance, "W/K", &["W/°C"], 1.0),
        unit(D::Conductance, "Btu/h°F", &["Btu/h F", "Btu/hr °F", "BTU/h °F"], BTU_PER_H_W / DEGREE_F_K),
        unit(D::Transmittance, "W/m2K", &["W/m2°C"], 1.0),
        unit(
            D::Transmittance,
            "Btu/hft2°F",
            &["Btu/h ft2 °F", "Btu/h ft2 F", "Btu/hr ft2 °F", "BTU/h ft2 °F"],
            BTU_PER_H_W / DEGREE_F_K / SQUARE_FOOT_M2,
        ),
        unit(D::HeatCapacity, "kJ/K", &["kJ/°C"], 1000.0),
        unit(D::HeatCapacity, "Wh/K", &[], HOUR_S),
        unit(D::HeatCapacity, "J/K", &[], 1.0),
        unit(D::HeatCapacity, "Btu/°F", &["Btu/F", "BTU/°F"], BTU_J / DEGREE_F_K),
        unit(D::HeatCapacityPerArea, "kJ/m2K", &["kJ/m2°C"], 1000.0),
        unit(D::HeatCapacityPerArea, "Wh/m2K", &[], HOUR_S),
        unit(D::HeatCapacityPerArea, "J/m2K", &[], 1.0),
        unit(
            D::HeatCapacityPerArea,
            "Btu/ft2°F",
            &["Btu/ft2 F", "BTU/ft2 °F"],
            BTU_J / DEGREE_F_K / SQUARE_FOOT_M2,
        ),
        unit(D::HeatFlowPerArea, "W/m2", &[], 1.0),
        unit(D::HeatFlowPerArea, "W/ft2", &[], 1.0 / SQUARE_FOOT_M2),
        unit(
            D::HeatFlowPerArea,
            "Btu/hft2",
            &["Btu/h ft2", "Btu/hr ft2", "BTU/h ft2"],
            BTU_PER_H_W / SQUARE_FOOT_M2,
        ),
        unit(D::Angle, "deg", &["°"], 1.0),
        unit(D::Duration, "min", &[], 60.0),
        unit(D::Duration, "h", &["hr"], HOUR_S),
        unit(D::Duration, "d", &["day", "days"], DAY_S),
        unit(D::Duration, "s", &[], 1.0),
        unit(D::RelativeHumidity, "%", &["% RH", "%RH"], 0.01),
        unit(D::HumiditySlope, "%/K", &["%/°C", "% RH/K"], 0.01),
        unit(D::HumiditySlope, "%/°F", &["%/F"], 0.01 / DEGREE_F_K),
        unit(D::Concentration, "ppm", &[], 1.0),
        unit(D::VapourResistance, "s/m", &[], 1.0),
        unit(D::VapourResistance, "s/cm", &[], 100.0),
        unit(D::WaterPerEnergy, "L/kWh", &["l/kWh", "kg/kWh"], 1.0 / KILOWATT_HOUR_J),
        unit(D::WaterPerEnergy, "pint/kWh", &["pints/kWh", "pt/kWh"], PINT_KG / KILOWATT_HOUR_J),
        unit(D::Mass, "kg", &[], 1.0),
        unit(D::Mass, "g", &[], 0.001),
        unit(D::Mass, "lb", &[], POUND_KG),
        unit(D::Pressure, "Pa", &[], 1.0),
        unit(
            D::Pressure,
            "in w.g.",
            &["in wg", "in. w.g.", "in w.c.", "in wc", "in. w.c.", "inH2O", "in. H2O"],
            INCH_OF_WATER_PA,
        ),
        unit(D::Energy, "kWh", &[], KILOWATT_HOUR_J),
        unit(D::Energy, "MWh", &[], 1000.0 * KILOWATT_HOUR_J),
        unit(D::Energy, "GJ", &[], 1e9),
        unit(D::Energy, "therm", &["therms"], THERM_J),
        unit(D::Energy, "MMBtu", &["MMBTU"], MILLION_BTU_J),
        unit(D::CarbonPerEnergy, "g/kWh", &["kg/MWh"], 0.001 / KILOWATT_HOUR_J),
        unit(D::CarbonPerEnergy, "kg/GJ", &[], 1e-9),
        unit(D::CarbonPerEnergy, "kg/MMBtu", &["kg/MMBTU"], 1.0 / MILLION_BTU_J),
        unit(D::CarbonPerEnergy, "lb/MWh", &[], POUND_KG / (1000.0 * KILOWATT_HOUR_J)),
        unit(D::Years, "years", &["year", "yr"], 1.0),
    ]
};

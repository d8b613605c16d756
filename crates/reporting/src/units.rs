//! The unit system in which a person reads results, and the few conversions that it needs.
//!
//! Data files are always SI; only the terminal table, its notes and the charts come through here. Energy stays
//! in kWh in both systems, since meters and tariffs of electricity show it.

/// Litres in one US liquid gallon, by definition (231 cubic inches of 2.54 cm).
///
/// # Source
/// \[NIST-SP811\] appendix B.8: 1 gallon (US) = 3.785 411 784 L, exact.
pub const LITRES_PER_GALLON: f64 = 3.785_411_784;

/// Kilograms in one avoirdupois pound, by definition.
///
/// # Source
/// \[NIST-SP811\] appendix B.8: 1 lb = 0.453 592 37 kg, exact.
pub const KILOGRAMS_PER_POUND: f64 = 0.453_592_37;

/// Litres a second in one cubic foot a minute, by definition.
///
/// # Source
/// \[NIST-SP811\] appendix B.8: 1 ft³ = 0.028 316 846 592 m³, exact.
pub const LITRES_PER_SECOND_PER_CFM: f64 = 28.316_846_592 / 60.0;
/// The same cubic foot in m³.
const CUBIC_METRES_PER_CUBIC_FOOT: f64 = 0.028_316_846_592;

/// Joules in one British thermal unit (International Table), by definition.
///
/// # Source
/// \[NIST-SP811\] appendix B.8: 1 Btu/lb = 2326 J/kg, exact.
pub const JOULES_PER_BTU: f64 = 2326.0 * KILOGRAMS_PER_POUND;

/// Pascals in one conventional inch of mercury.
///
/// # Source
/// \[NIST-SP811\] appendix B.8: 1 inHg (conventional) = 3386.389 Pa.
pub const PASCALS_PER_INCH_OF_MERCURY: f64 = 3386.389;

/// Grains in a pound, by definition.
const GRAINS_PER_POUND: f64 = 7000.0;
/// Enthalpy of dry air at 0 °C above dry air at 0 °F \[J/kg\]: 32 °F × 1006 J/kgK.
const ZERO_CELSIUS_ABOVE_ZERO_FAHRENHEIT_J_PER_KG: f64 = 32.0 / 1.8 * 1006.0;

/// Unit system of tables and charts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ShowIn {
    /// Litres, kilograms, degrees Celsius.
    #[default]
    Si,
    /// US gallons, pounds, degrees Fahrenheit.
    Ip,
}

impl ShowIn {
    /// A volume of water: from L to L or gal.
    pub fn volume(self, litres: f64) -> f64 {
        match self {
            Self::Si => litres,
            Self::Ip => litres / LITRES_PER_GALLON,
        }
    }

    /// Sign of the unit of [`ShowIn::volume`].
    pub fn volume_unit(self) -> &'static str {
        match self {
            Self::Si => "L",
            Self::Ip => "gal",
        }
    }

    /// A mass: from kg to kg or lb.
    pub fn mass(self, kilograms: f64) -> f64 {
        match self {
            Self::Si => kilograms,
            Self::Ip => kilograms / KILOGRAMS_PER_POUND,
        }
    }

    /// Sign of the unit of [`ShowIn::mass`].
    pub fn mass_unit(self) -> &'static str {
        match self {
            Self::Si => "kg",
            Self::Ip => "lb",
        }
    }

    /// A temperature (not a difference): from °C to °C or °F.
    pub fn temperature(self, celsius: f64) -> f64 {
        match self {
            Self::Si => celsius,
            Self::Ip => celsius * 1.8 + 32.0,
        }
    }

    /// Sign of the unit of [`ShowIn::temperature`].
    pub fn temperature_unit(self) -> &'static str {
        match self {
            Self::Si => "°C",
            Self::Ip => "°F",
        }
    }

    /// A difference of temperatures: from K to K or °F.
    pub fn difference(self, kelvin: f64) -> f64 {
        match self {
            Self::Si => kelvin,
            Self::Ip => kelvin * 1.8,
        }
    }

    /// A humidity ratio: from kg/kg to g/kg or grains a pound of dry air.
    pub fn humidity_ratio(self, humidity_ratio: f64) -> f64 {
        match self {
            Self::Si => humidity_ratio * 1000.0,
            Self::Ip => humidity_ratio * GRAINS_PER_POUND,
        }
    }

    /// Sign of the unit of [`ShowIn::humidity_ratio`].
    pub fn humidity_ratio_unit(self) -> &'static str {
        match self {
            Self::Si => "g/kg",
            Self::Ip => "gr/lb",
        }
    }

    /// Vapour in a volume of air: from kg/m³ to g/m³ or grains a cubic foot.
    pub fn vapour_density(self, kilograms_per_cubic_metre: f64) -> f64 {
        match self {
            Self::Si => kilograms_per_cubic_metre * 1000.0,
            Self::Ip => {
                kilograms_per_cubic_metre / KILOGRAMS_PER_POUND
                    * GRAINS_PER_POUND
                    * CUBIC_METRES_PER_CUBIC_FOOT
            }
        }
    }

    /// Sign of the unit of [`ShowIn::vapour_density`].
    pub fn vapour_density_unit(self) -> &'static str {
        match self {
            Self::Si => "g/m³",
            Self::Ip => "gr/ft³",
        }
    }

    /// An enthalpy above dry air at 0 °C: from J/kg to kJ/kg, or to Btu/lb above dry air at 0 °F, as is usual there.
    pub fn enthalpy(self, joules_per_kilogram: f64) -> f64 {
        match self {
            Self::Si => joules_per_kilogram / 1000.0,
            Self::Ip => (joules_per_kilogram + ZERO_CELSIUS_ABOVE_ZERO_FAHRENHEIT_J_PER_KG) / 2326.0,
        }
    }

    /// The enthalpy \[J/kg\] that [`ShowIn::enthalpy`] shows as this.
    pub(crate) fn enthalpy_from(self, shown: f64) -> f64 {
        match self {
            Self::Si => shown * 1000.0,
            Self::Ip => shown * 2326.0 - ZERO_CELSIUS_ABOVE_ZERO_FAHRENHEIT_J_PER_KG,
        }
    }

    /// Sign of the unit of [`ShowIn::enthalpy`].
    pub fn enthalpy_unit(self) -> &'static str {
        match self {
            Self::Si => "kJ/kg",
            Self::Ip => "Btu/lb",
        }
    }

    /// A flow of heat: from W to W or Btu/h.
    pub fn heat_flow(self, watts: f64) -> f64 {
        match self {
            Self::Si => watts,
            Self::Ip => watts * 3600.0 / JOULES_PER_BTU,
        }
    }

    /// Sign of the unit of [`ShowIn::heat_flow`].
    pub fn heat_flow_unit(self) -> &'static str {
        match self {
            Self::Si => "W",
            Self::Ip => "Btu/h",
        }
    }

    /// A conductance: from W/K to W/K or Btu/h°F.
    pub fn conductance(self, watts_per_kelvin: f64) -> f64 {
        match self {
            Self::Si => watts_per_kelvin,
            Self::Ip => self.heat_flow(watts_per_kelvin) / 1.8,
        }
    }

    /// Sign of the unit of [`ShowIn::conductance`].
    pub fn conductance_unit(self) -> &'static str {
        match self {
            Self::Si => "W/K",
            Self::Ip => "Btu/h°F",
        }
    }

    /// A flow of air by volume: from L/s to L/s or cubic feet a minute.
    pub fn airflow(self, litres_per_second: f64) -> f64 {
        match self {
            Self::Si => litres_per_second,
            Self::Ip => litres_per_second / LITRES_PER_SECOND_PER_CFM,
        }
    }

    /// Sign of the unit of [`ShowIn::airflow`].
    pub fn airflow_unit(self) -> &'static str {
        match self {
            Self::Si => "L/s",
            Self::Ip => "cfm",
        }
    }

    /// A conductance for vapour, kg/s of dry air's worth: from kg/s to g/s or lb/h.
    pub fn vapour_conductance(self, kilograms_per_second: f64) -> f64 {
        match self {
            Self::Si => kilograms_per_second * 1000.0,
            Self::Ip => kilograms_per_second * 3600.0 / KILOGRAMS_PER_POUND,
        }
    }

    /// Sign of the unit of [`ShowIn::vapour_conductance`].
    pub fn vapour_conductance_unit(self) -> &'static str {
        match self {
            Self::Si => "g/s",
            Self::Ip => "lb/h",
        }
    }

    /// A pressure in words, such as `101.3 kPa` or `29.92 inHg`.
    pub fn pressure_words(self, pascals: f64) -> String {
        match self {
            Self::Si => format!("{:.1} kPa", pascals / 1000.0),
            Self::Ip => format!("{:.2} inHg", pascals / PASCALS_PER_INCH_OF_MERCURY),
        }
    }
}

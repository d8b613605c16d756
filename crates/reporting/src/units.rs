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
}

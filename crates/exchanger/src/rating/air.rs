//! The air of a test, and the air that the standards usually ask for.
//!
//! Not here: flows of a point (`sheet`).

use std::fmt;

use psychrometrics::OutOfRange;
use psychrometrics::checked::{humidity_ratio_from_relative_humidity, humidity_ratio_from_wet_bulb};

/// Rated airflow is counted as moist air of this density [kg/m³], whatever the air of the test.
pub const RATED_AIR_KG_PER_M3: f64 = 1.204;

/// Barometric pressure at which figures are rated \[Pa\].
pub const RATED_PRESSURE_PA: f64 = 101_325.0;

/// Air at a station of a test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestAir {
    /// Dry bulb [°C].
    pub dry_bulb_c: f64,
    /// Humidity ratio [kg/kg dry air].
    pub humidity_ratio: f64,
}

impl TestAir {
    /// Air without water.
    pub const fn dry(dry_bulb_c: f64) -> Self {
        Self { dry_bulb_c, humidity_ratio: 0.0 }
    }

    /// Air at a relative humidity 0…1 (over ice below 0.01 °C) and the rated pressure.
    ///
    /// # Errors
    /// [`OutOfRange`] unless −60…60 °C and 0…1.
    pub fn at_relative_humidity(dry_bulb_c: f64, relative_humidity: f64) -> Result<Self, OutOfRange> {
        let humidity_ratio =
            humidity_ratio_from_relative_humidity(dry_bulb_c, relative_humidity, RATED_PRESSURE_PA)?;
        Ok(Self { dry_bulb_c, humidity_ratio })
    }

    /// Air at a wet bulb [°C] and the rated pressure.
    ///
    /// # Errors
    /// [`OutOfRange`] unless −60…60 °C and a wet bulb that this dry bulb can have.
    pub fn at_wet_bulb(dry_bulb_c: f64, wet_bulb_c: f64) -> Result<Self, OutOfRange> {
        let humidity_ratio = humidity_ratio_from_wet_bulb(dry_bulb_c, wet_bulb_c, RATED_PRESSURE_PA)?;
        Ok(Self { dry_bulb_c, humidity_ratio })
    }
}

/// The test standards whose usual air is known here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Standard {
    /// CSA C439, the winter point: outdoors 0 °C, indoors 22 °C and 40 %.
    CsaWinter,
    /// CSA C439, the low-temperature point: outdoors −25 °C, indoors 22 °C and 40 %.
    CsaLowTemperature,
    /// CSA C439, the summer point: outdoors 35 °C, wet bulb 26.3 °C; indoors 24 °C and 50 %.
    CsaSummer,
    /// EN 13141-7, the standard point: outdoors 7 °C, wet bulb 6 °C; extract 20 °C, wet bulb 12 °C.
    En13141,
    /// EN 13141-7, the cold point: outdoors −15 °C; extract 20 °C, wet bulb 12 °C.
    En13141Cold,
    /// EN 308: outdoors 5 °C, extract 25 °C, without condensation.
    En308,
}

/// What a standard says nothing about: the relative humidity of winter air outdoors. At 0 °C, 10 % of it move the
/// humidity ratio by 0.4 g/kg.
const WINTER_OUTDOOR_RELATIVE_HUMIDITY: f64 = 0.8;

impl Standard {
    /// Outdoor and indoor air that the standard asks for.
    ///
    /// Winter air outdoors is taken at 80 % where the standard leaves it open; EN 308 air is taken as dry.
    ///
    /// # Errors
    /// None is met: the air of every standard is in range; the checked functions below say so by type only.
    ///
    /// # Source
    /// CSA C439, EN 13141-7, EN 308: recalled from memory.
    pub fn usual_air(self) -> Result<(TestAir, TestAir), OutOfRange> {
        let winter = |outdoor_c| TestAir::at_relative_humidity(outdoor_c, WINTER_OUTDOOR_RELATIVE_HUMIDITY);
        let csa_indoor = || TestAir::at_relative_humidity(22.0, 0.4);
        let en_indoor = || TestAir::at_wet_bulb(20.0, 12.0);
        Ok(match self {
            Self::CsaWinter => (winter(0.0)?, csa_indoor()?),
            Self::CsaLowTemperature => (winter(-25.0)?, csa_indoor()?),
            Self::CsaSummer => (TestAir::at_wet_bulb(35.0, 26.3)?, TestAir::at_relative_humidity(24.0, 0.5)?),
            Self::En13141 => (TestAir::at_wet_bulb(7.0, 6.0)?, en_indoor()?),
            Self::En13141Cold => (winter(-15.0)?, en_indoor()?),
            Self::En308 => (TestAir::dry(5.0), TestAir::dry(25.0)),
        })
    }
}

impl fmt::Display for Standard {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::CsaWinter => "CSA C439 winter",
            Self::CsaLowTemperature => "CSA C439 low temperature",
            Self::CsaSummer => "CSA C439 summer",
            Self::En13141 => "EN 13141-7",
            Self::En13141Cold => "EN 13141-7 cold",
            Self::En308 => "EN 308",
        })
    }
}

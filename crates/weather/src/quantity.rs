//! The columns of a weather table: names for messages, units and the range in which a value can be true. What is not
//! here: what the readers call them. Read next: `table.rs`.

/// A column that the readers look for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Quantity {
    DryBulb,
    DewPoint,
    RelativeHumidity,
    HumidityRatio,
    Pressure,
    WindSpeed,
    WindDirection,
    Global,
    Direct,
    Diffuse,
}

/// Unit and state range of a column, both in the units of this crate.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Range {
    pub low: f64,
    pub high: f64,
    pub unit: &'static str,
}

impl Quantity {
    pub(crate) const ALL: [Self; 10] = [
        Self::DryBulb,
        Self::DewPoint,
        Self::RelativeHumidity,
        Self::HumidityRatio,
        Self::Pressure,
        Self::WindSpeed,
        Self::WindDirection,
        Self::Global,
        Self::Direct,
        Self::Diffuse,
    ];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::DryBulb => "dry bulb",
            Self::DewPoint => "dew point",
            Self::RelativeHumidity => "relative humidity",
            Self::HumidityRatio => "humidity ratio",
            Self::Pressure => "pressure",
            Self::WindSpeed => "wind speed",
            Self::WindDirection => "wind direction",
            Self::Global => "global irradiance",
            Self::Direct => "direct irradiance",
            Self::Diffuse => "diffuse irradiance",
        }
    }

    /// Outside these a value is a filler or a mistake: records of the Earth's surface with some room.
    pub(crate) fn range(self) -> Range {
        let (low, high, unit) = match self {
            Self::DryBulb => (-75.0, 62.0, "°C"),
            Self::DewPoint => (-95.0, 40.0, "°C"),
            Self::RelativeHumidity => (0.0, 110.0, "%"),
            Self::HumidityRatio => (0.0, 0.06, "kg/kg"),
            Self::Pressure => (45_000.0, 110_000.0, "Pa"),
            Self::WindSpeed => (0.0, 90.0, "m/s"),
            Self::WindDirection => (0.0, 360.0, "°"),
            // A sunlit cloud's edge lifts short means above what arrives from space.
            Self::Global | Self::Direct => (-5.0, 1500.0, "W/m²"),
            Self::Diffuse => (-5.0, 1200.0, "W/m²"),
        };
        Range { low, high, unit }
    }

    /// Numbers that publishers write where nothing was measured. Only outside the range does one count as a filler.
    pub(crate) fn is_filler(value: f64) -> bool {
        const FILLERS: [f64; 18] = [
            99.0,
            99.9,
            999.0,
            999.9,
            9999.0,
            9999.9,
            9900.0,
            9990.0,
            99999.0,
            999999.0,
            9999999.0,
            99999999.0,
            999999999.0,
            98.9,
            777.7,
            7777.0,
            88888.0,
            77777.0,
        ];
        FILLERS.iter().any(|f| (value.abs() - f).abs() < 1e-9)
    }
}

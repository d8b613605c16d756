//! The weather year: one column a quantity, one entry an hour. What is not here: reading ([`crate::read()`]), the
//! clock's arithmetic ([`crate::calendar`]), the sun ([`crate::sun`]). Read next: [`crate::calendar`].
//!
//! # What an hour means
//! Entry `h` covers the clock hour from `h` to `h + 1` of local standard time, counted from 1 January 00:00; its label
//! in most files is the hour it ends at (1…24). Every value holds over that hour; nothing is interpolated between
//! hours. The sun that belongs to the irradiance of entry `h` stands where it stands at `h + sun_offset_h`: 0.5 for
//! averages over the hour. Some files carry snapshots taken at another moment, then the offset may even lie outside
//! 0…1.

use crate::calendar::Calendar;
use std::fmt;

/// A typical year, hour by hour, in columns of equal length (8 760, or 8 784 where 29 February is present).
///
/// All values are finite; air is never above saturation (over ice below 0.01 °C).
#[derive(Clone, PartialEq)]
pub struct WeatherYear {
    /// Dry-bulb temperature [°C].
    pub dry_bulb_c: Vec<f64>,
    /// Humidity ratio [kg water per kg dry air].
    pub humidity_ratio: Vec<f64>,
    /// Station pressure \[Pa\].
    pub pressure_pa: Vec<f64>,
    /// Wind speed at [`WeatherYear::wind_height_m`] [m/s].
    pub wind_speed_m_per_s: Vec<f64>,
    /// Direction the wind comes from [° clockwise from north].
    pub wind_direction_deg: Vec<f64>,
    /// Global irradiance on the horizontal [W/m²].
    pub global_horizontal_w_per_m2: Vec<f64>,
    /// Beam irradiance on a plane facing the sun [W/m²].
    pub direct_normal_w_per_m2: Vec<f64>,
    /// Diffuse irradiance on the horizontal [W/m²].
    pub diffuse_horizontal_w_per_m2: Vec<f64>,
    /// Where the station stands.
    pub place: Place,
    /// Where in hour `h` the sun of its irradiance stands [h after the start of the hour]; 0.5 is mid-hour.
    pub sun_offset_h: f64,
    /// Height of the wind sensor above ground \[m\].
    pub wind_height_m: f64,
    /// The curve on which the file states humidity below 0 °C.
    pub humidity_basis: HumidityBasis,
    /// How that curve was found.
    pub humidity_origin: HumidityOrigin,
    /// The format it was read from.
    pub format: Format,
    /// `true` for an invented climate: for tests and examples, never for a design or a claim.
    pub is_synthetic: bool,
    /// How it was shifted from another year, in words; `None` for a year as it was published or made.
    pub shifted: Option<String>,
    /// Where the numbers come from, as far as the file says.
    pub source: String,
}

impl WeatherYear {
    /// Number of hours: 8 760 or 8 784.
    pub fn hours(&self) -> usize {
        self.dry_bulb_c.len()
    }

    /// The calendar of this year.
    pub fn calendar(&self) -> Calendar {
        Calendar::of_hours(self.hours())
    }

    /// Month (1…12) of hour `h` (0-based; past the end it starts again).
    pub fn month_of_hour(&self, h: usize) -> u8 {
        self.calendar().month_of_hour(h)
    }

    /// Day of the year (1…365, or 366 in leap years) of hour `h`.
    pub fn day_of_year(&self, h: usize) -> u16 {
        self.calendar().day_of_year(h)
    }

    /// Clock hour at which hour `h` begins (0…23), local standard time.
    pub fn hour_of_day(&self, h: usize) -> u8 {
        self.calendar().hour_of_day(h)
    }
}

impl fmt::Debug for WeatherYear {
    /// The place and the number of hours: eight thousand numbers help nobody in a failed test.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("WeatherYear")
            .field("hours", &self.hours())
            .field("place", &self.place)
            .field("sun_offset_h", &self.sun_offset_h)
            .field("wind_height_m", &self.wind_height_m)
            .field("humidity_basis", &self.humidity_basis)
            .field("humidity_origin", &self.humidity_origin)
            .field("format", &self.format)
            .field("is_synthetic", &self.is_synthetic)
            .field("shifted", &self.shifted)
            .field("source", &self.source)
            .finish_non_exhaustive()
    }
}

/// Name of a place that neither file nor user names.
pub const UNNAMED_PLACE: &str = "unnamed place";

/// Where a station stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// Its name.
    pub name: String,
    /// Latitude [°], north positive.
    pub latitude_deg: f64,
    /// Longitude [°], east positive.
    pub longitude_deg: f64,
    /// Elevation above sea level \[m\].
    pub elevation_m: f64,
    /// Local standard time minus UTC \[h\], east positive.
    pub time_zone_h: f64,
}

/// What the user says about the place: each part given here wins over the file's own.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PlaceOverride {
    /// See [`Place::name`].
    pub name: Option<String>,
    /// See [`Place::latitude_deg`].
    pub latitude_deg: Option<f64>,
    /// See [`Place::longitude_deg`].
    pub longitude_deg: Option<f64>,
    /// See [`Place::elevation_m`].
    pub elevation_m: Option<f64>,
    /// See [`Place::time_zone_h`].
    pub time_zone_h: Option<f64>,
}

/// What the user says about a file: each part given here wins over what the reader finds.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Overrides {
    /// The place.
    pub place: PlaceOverride,
    /// The curve of humidity below 0 °C, instead of the inferred one.
    pub humidity_basis: Option<HumidityBasis>,
    /// Where the sun stands in each hour, instead of the format's choice (see [`WeatherYear::sun_offset_h`]).
    pub sun_offset_h: Option<f64>,
    /// Height of the wind sensor \[m\], instead of the format's (10 m).
    pub wind_height_m: Option<f64>,
}

/// The saturation curve to which relative humidity and dew point refer below 0 °C.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HumidityBasis {
    /// Supercooled liquid water: the rule among weather services.
    Water,
    /// Ice: then the "dew point" is a frost point.
    Ice,
}

/// How the [`HumidityBasis`] was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HumidityOrigin {
    /// From the file's own hours below 0 °C that carry both relative humidity and dew point.
    Inferred {
        /// Hours compared.
        hours: usize,
        /// Size of the mean difference between relative humidity and the dew point's, over water \[points\].
        water_points: f64,
        /// The same over ice \[points\].
        ice_points: f64,
    },
    /// Too few such hours: water, the rule among weather services.
    Assumed,
    /// The user said so.
    Given,
    /// The file gives the humidity ratio itself, so no curve was needed.
    NotNeeded,
}

/// The formats that are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// The comma-separated typical years of the United States' renewable-energy laboratory, third edition.
    Tmy3Csv,
    /// Its second edition, in columns of fixed width.
    Tmy2,
    /// The tables of its solar radiation data base, hourly or half-hourly.
    NsrdbCsv,
    /// The comma-separated typical years of the European Union's photovoltaic information system.
    PvgisCsv,
    /// The files that carry the extension `.epw`.
    Epw,
    /// This project's own plain table.
    PlainCsv,
    /// Not read from a file: made in memory.
    Made,
}

impl fmt::Display for Format {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Tmy3Csv => "TMY3 csv",
            Self::Tmy2 => "TMY2",
            Self::NsrdbCsv => "NSRDB csv",
            Self::PvgisCsv => "PVGIS csv",
            Self::Epw => ".epw",
            Self::PlainCsv => "plain CSV",
            Self::Made => "made in memory",
        })
    }
}

impl fmt::Display for HumidityBasis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Water => "water",
            Self::Ice => "ice",
        })
    }
}

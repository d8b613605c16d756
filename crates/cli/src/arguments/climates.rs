//! What can be typed behind `weather`: commands that write a weather file.
#![allow(rustdoc::invalid_html_tags)]

use std::path::PathBuf;

use clap::{Args, Subcommand};

use super::PlaceOptions;

#[derive(Debug, Subcommand)]
#[allow(clippy::doc_markdown)] // These comments are printed as they stand.
pub(crate) enum WeatherTool {
    /// Make a typical year from monthly normals: for tests and examples
    ///
    /// NORMALS is a TOML file: name, latitude, longitude, elevation, time_zone, and lists of twelve values,
    /// January first: dry_bulb ("-12.5 °C" or "9 °F"), irradiation ("1.7 kWh/m2 day" or "53 kWh/m2 month")
    /// or clearness (0.45), relative_humidity ("71 %", over water) or dew_point, wind ("4.4 m/s"),
    /// and if known daily_range ("9.9 K") and one prevailing_wind ("250 deg").
    /// The means are met to the printed digits, or the month is named that cannot be.
    #[command(verbatim_doc_comment)]
    Make(Make),
    /// Shift a year by changes of its monthly means, such as those of a climate to come
    ///
    /// SHIFT is a TOML file: dry_bulb_change ("2.1 K"), and if wanted daily_range_change ("-0.4 K"),
    /// relative_humidity_change ("-2 %") or dew_point_change ("1.5 K"), irradiation_factor (1.02),
    /// wind_factor (0.97): each one value, or twelve from January; and a label in words.
    /// Relative humidity is kept unless it or the dew point is given. Air is never above saturation,
    /// the sun never above what a clear sky lets through; what was limited is told.
    #[command(verbatim_doc_comment)]
    Shift(Shift),
    /// Write any weather file that is read as our own plain CSV, without loss
    ///
    /// Hourly, SI, with the unit at the end of each column's name; the place and the marks of invented or
    /// shifted climates stand in its heading, and what was filled or doubted when the file was read.
    #[command(verbatim_doc_comment)]
    Convert(Convert),
}

#[derive(Debug, Args)]
pub(crate) struct Make {
    /// Monthly normals (TOML)
    pub(crate) normals: PathBuf,
    #[command(flatten)]
    pub(crate) to: OutFile,
    /// Another seed is another year with the same means
    #[arg(long, default_value_t = 1)]
    pub(crate) seed: u64,
}

#[derive(Debug, Args)]
pub(crate) struct Shift {
    /// A typical year, as `weather` reads it
    pub(crate) file: PathBuf,
    /// Changes of the monthly means (TOML)
    #[arg(long, value_name = "SHIFT")]
    pub(crate) deltas: PathBuf,
    #[command(flatten)]
    pub(crate) to: OutFile,
    #[command(flatten)]
    pub(crate) place: PlaceOptions,
}

#[derive(Debug, Args)]
pub(crate) struct Convert {
    /// A typical year, as `weather` reads it
    pub(crate) file: PathBuf,
    #[command(flatten)]
    pub(crate) to: OutFile,
    #[command(flatten)]
    pub(crate) place: PlaceOptions,
}

/// Where the file goes.
#[derive(Debug, Args)]
pub(crate) struct OutFile {
    /// File to write, such as town.csv
    #[arg(long, value_name = "OUT")]
    pub(crate) out: PathBuf,
    /// Replace it if it is there
    #[arg(long)]
    pub(crate) force: bool,
}

//! What can be typed. Not here: what it does.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// Runs a house and its ventilation recovery core through every hour of a typical year: how humid it gets indoors,
/// how much water drains, when the core freezes, and what is recovered.
#[derive(Debug, Parser)]
#[command(name = "dewledger", version, about, max_term_width = 100)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Run every unit of a study and its baselines over the year; without STUDY, the built-in demonstration
    Run(Run),
    /// Write a starter study with an invented house and climate into a folder
    New(New),
    /// Read weather files, doubt them, and sum them up
    Weather(Weather),
    /// The moist-air state from any two properties, at a pressure or an altitude
    Air(Box<Air>),
    /// Explain every column of the result files
    Columns(Columns),
    /// Print the JSON Schema of the study file
    Schema,
}

#[derive(Debug, Args)]
pub(crate) struct Run {
    /// Study file (TOML); left out, the built-in demonstration is run
    pub(crate) study: Option<PathBuf>,
    /// Folder for the results [default: dewledger-out/<study>, the next free number when taken]
    #[arg(long)]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing folder of results
    #[arg(long)]
    pub(crate) force: bool,
    /// What to write for every hour
    #[arg(long, value_enum, default_value_t = Hourly::Csv)]
    pub(crate) hourly: Hourly,
    /// Print the annual results as JSON instead of a table
    #[arg(long)]
    pub(crate) json: bool,
    /// Print nothing but errors
    #[arg(long)]
    pub(crate) quiet: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Hourly {
    /// A CSV file for each unit and baseline
    Csv,
    /// Nothing
    None,
}

#[derive(Debug, Args)]
pub(crate) struct New {
    /// Folder to write into; it is made when it does not exist
    pub(crate) folder: PathBuf,
    /// Replace files that are there
    #[arg(long)]
    pub(crate) force: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Weather {
    /// Weather files: typical years as agencies publish them (TMY3 csv; 35 columns after eight header lines,
    /// extension .epw), or our own plain CSV; recognised by content
    #[arg(required = true)]
    pub(crate) files: Vec<PathBuf>,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Columns {
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
#[allow(clippy::doc_markdown)] // These comments are printed as they stand.
pub(crate) struct Air {
    /// Dry bulb, such as "20 °C" or "68 °F"
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) dry_bulb: Option<String>,
    /// Thermodynamic wet bulb
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) wet_bulb: Option<String>,
    /// Dew point; below freezing the frost point
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) dew_point: Option<String>,
    /// Relative humidity, such as "50 %"; over ice below freezing
    #[arg(long)]
    pub(crate) relative_humidity: Option<String>,
    /// Humidity ratio, such as "7.3 g/kg" or "51 gr/lb"
    #[arg(long)]
    pub(crate) humidity_ratio: Option<String>,
    /// Enthalpy of dry air and its water, such as "38.6 kJ/kg" or "24.2 Btu/lb"
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) enthalpy: Option<String>,
    /// Pressure, such as "101325 Pa", "84 kPa" or "29.92 inHg" [default: the pressure at --altitude]
    #[arg(long, conflicts_with = "altitude")]
    pub(crate) pressure: Option<String>,
    /// Altitude, such as "300 m" or "1000 ft"; the standard atmosphere's pressure is used [default: 0 m]
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) altitude: Option<String>,
    /// A CSV file (or - for stdin) with two of dry_bulb_c, wet_bulb_c, dew_point_c, relative_humidity_pct,
    /// humidity_ratio, enthalpy_kj_per_kg, and pressure_pa or altitude_m; all of them are written to stdout
    #[arg(long, value_name = "FILE", conflicts_with_all = ["dry_bulb", "wet_bulb", "dew_point",
        "relative_humidity", "humidity_ratio", "enthalpy", "pressure", "altitude"])]
    pub(crate) from: Option<PathBuf>,
    /// Units of the answer
    #[arg(long, value_enum, default_value_t = ShowIn::Si)]
    pub(crate) show_in: ShowIn,
    /// Correct saturation for real air (the enhancement factor); handbook equations leave it out
    #[arg(long)]
    pub(crate) enhancement: bool,
    /// Print JSON (always SI)
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ShowIn {
    /// °C, Pa, g/kg, kJ/kg
    Si,
    /// °F, inHg, gr/lb, Btu/lb
    Ip,
}

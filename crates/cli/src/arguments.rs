//! What can be typed. Not here: what it does.
// These comments are printed as help.
#![allow(rustdoc::invalid_html_tags)]

mod climates;
mod sweeping;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

pub(crate) use climates::{Convert, Make, OutFile, Shift, WeatherTool};
pub(crate) use sweeping::Sweep;

/// Runs a house and its ventilation recovery core through every hour of a typical year
///
/// How humid it gets indoors, how much water drains, when the core freezes, and what is recovered.
/// Every quantity is typed with its unit: "45 L/s" or "95 cfm", "20.5 °C" or "69 °F".
#[derive(Debug, Parser)]
#[command(name = "dewledger", version, verbatim_doc_comment)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
#[allow(clippy::doc_markdown)] // These comments are printed as they stand.
pub(crate) enum Command {
    /// Run every unit of a study and its baselines for a year; no STUDY: a demonstration
    ///
    /// Data files are always SI with the unit at the end of each column's name (kWh, L, kg, h, %, °C);
    /// table and charts are SI or IP (gal, lb, °F), as `show_in` in the study says.
    #[command(verbatim_doc_comment)]
    Run(Run),
    /// Write a starter study with an invented house and climate into a folder
    ///
    /// Every quantity in a study is written with its unit, such as "140 m2" or "1500 ft2".
    #[command(verbatim_doc_comment)]
    New(New),
    /// What each unit's core is, from its rating sheet, and what it does at one steady point
    ///
    /// Without --outdoor: every test point of a rating sheet, what the fitted core gives there, and
    /// the error. With --outdoor: the four ports on a psychrometric chart, water, frost, the plate along
    /// the core, and what leaks and imbalance do. With --accuracy: how far the hourly solution of a
    /// core lies from the cell solution.
    #[command(verbatim_doc_comment)]
    Core(Box<Core>),
    /// Read weather files, doubt them, and sum them up
    ///
    /// Means and extremes, design conditions, degree-days, wind, months, and what is doubtful: gaps,
    /// fillers, impossible and frozen values, humidity, pressure, and labels that slip against the sun.
    /// Several files stand side by side. In °C, g/kg, hPa, m/s, kelvin-days, hours and kWh/m², or in IP
    /// units with --show-in ip; as JSON, always in the SI units that end each name.
    #[command(
        verbatim_doc_comment,
        args_conflicts_with_subcommands = true,
        subcommand_negates_reqs = true,
        disable_help_subcommand = true
    )]
    Weather(Weather),
    /// Every unit of a study in every climate: saving, humidity of the rooms, water, frost
    ///
    /// A table, climates.csv and a chart: kWh, L (gal), h, %, °C, as `show_in` in the study says; data
    /// files are always SI. Last it says of each climate which units gain there, if any.
    #[command(verbatim_doc_comment)]
    Climates(Climates),
    /// A climate in bins of dry bulb, or the bin method for a study beside its hourly run
    ///
    /// Of a weather file: hours of three eight-hour shifts (local standard time), mean coincident wet
    /// bulb in °C and humidity ratio in g/kg. With --json by month as well, in the SI units that end
    /// each name. Bins of 2 °C, or 5 °F with --show-in ip.
    /// Of a study, for each unit: heat recovered in kWh, drain in L, frost hours, from the hourly run, from
    /// bins that are told the house's indoor air month by month, and from blind ones (heating set-point
    /// and 40 %), with what makes the difference.
    ///
    /// The bins use the plain core at its rated airflow: no defrost, preheat, bypass or free cooling.
    #[command(verbatim_doc_comment)]
    Bins(Bins),
    /// Many house-years: a study with its values varied, annual figures into Parquet files
    ///
    /// Stopped at any moment, the same command goes on where it was; figures do not depend on threads,
    /// shares or stops. Columns are SI, unit last (kWh, L, kg, h, %); what is varied has its unit in
    /// brackets.
    /// A run that cannot be is a row that says why.
    #[command(verbatim_doc_comment)]
    Sweep(Sweep),
    /// The moist-air state from any two properties, at a pressure or an altitude
    ///
    /// Every property is typed with its unit: °C, °F, %, g/kg, gr/lb, kJ/kg, Btu/lb, Pa, inHg, m, ft.
    /// Enthalpy counts from dry air at 0 °C; in Btu/lb from dry air at 0 °F.
    #[command(verbatim_doc_comment)]
    Air(Box<Air>),
    /// Explain every column of the result files, with its unit
    Columns(Columns),
    /// Print the JSON Schema of the study file, or of the sweep file
    ///
    /// Each quantity in it names the units that fit, such as L/s, m3/h, m3/s and cfm.
    #[command(verbatim_doc_comment)]
    Schema(Schema),
    /// Print what a shell needs to complete commands, options and files
    ///
    /// bash: dewledger completions bash > ~/.local/share/bash-completion/completions/dewledger
    #[command(verbatim_doc_comment)]
    Completions(Completions),
    /// Print the manual page, or write one for each command into a folder
    ///
    /// To read it: dewledger man | man -l -
    #[command(verbatim_doc_comment)]
    Man(Man),
}

#[derive(Debug, Args)]
#[allow(clippy::struct_excessive_bools, reason = "one for each switch of the command line")]
pub(crate) struct Run {
    /// Study file (TOML); left out, the built-in demonstration is run
    pub(crate) study: Option<PathBuf>,
    /// Folder for the results
    /// [default: dewledger-out/<study>, or the next free number when it is taken]
    #[arg(long, verbatim_doc_comment)]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing folder of results
    #[arg(long)]
    pub(crate) force: bool,
    /// Files of every hour
    #[arg(long, value_enum, default_value_t = Hourly::Csv)]
    pub(crate) hourly: Hourly,
    /// Draw every chart as PNG too, twice as large, beside its SVG
    #[arg(long)]
    pub(crate) png: bool,
    /// The report to write
    #[arg(long, value_enum, default_value_t = ReportAs::Html)]
    pub(crate) report: ReportAs,
    /// Say in the report how far figures may spread, from the folder of a
    /// finished `dewledger sweep` of this very study
    #[arg(long, value_name = "DIR", verbatim_doc_comment)]
    pub(crate) spread: Option<PathBuf>,
    /// With a tariff: at which airflow (L/s, cfm) and leakage the leading unit
    /// pays, found by running the year again, up to twenty times
    #[arg(long, verbatim_doc_comment)]
    pub(crate) what_if: bool,
    /// Print the annual results as JSON instead of a table
    #[arg(long)]
    pub(crate) json: bool,
    /// Print no notes and no table; with --json, the JSON alone
    #[arg(long)]
    pub(crate) quiet: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ReportAs {
    /// Pages for a browser, and PDF
    All,
    /// Pages for a browser
    Html,
    /// Nothing
    None,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Hourly {
    /// A CSV file for each unit and baseline
    Csv,
    /// The same columns as Parquet, for data frames
    Parquet,
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
    #[command(subcommand)]
    pub(crate) tool: Option<WeatherTool>,
    /// Typical years as agencies publish them (TMY3, NSRDB and PVGIS csv; TMY2;
    /// or 35 columns after eight header lines, extension .epw), or our own
    /// plain CSV; told apart by what is in them, not by name. A file that is
    /// called like a command is written ./make
    #[arg(required = true, verbatim_doc_comment)]
    pub(crate) files: Vec<PathBuf>,
    #[command(flatten)]
    pub(crate) place: PlaceOptions,
    /// Units of the answer
    #[arg(long, value_enum, default_value_t = ShowIn::Si)]
    pub(crate) show_in: ShowIn,
    /// Draw the climates into this folder: the year with what each hour does
    /// to a core and to a house, dry bulb with humidity, duration curves
    #[arg(long, value_name = "DIR", verbatim_doc_comment)]
    pub(crate) charts: Option<PathBuf>,
    /// Replace an existing folder of charts
    #[arg(long, requires = "charts")]
    pub(crate) force: bool,
    /// Print JSON
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
#[allow(clippy::doc_markdown)] // These comments are printed as they stand.
pub(crate) struct Climates {
    /// Study file (TOML); its own weather file is left out unless it is among FILE…
    pub(crate) study: PathBuf,
    /// Typical years, as `weather` reads them, each with its own place; what the study says
    /// under `site` of its weather file (place, humidity, wind) is for that file alone
    #[arg(required = true, verbatim_doc_comment)]
    pub(crate) files: Vec<PathBuf>,
    /// Folder for the results
    /// [default: dewledger-out/<study>-climates, or the next free number if taken]
    #[arg(long, verbatim_doc_comment)]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing folder of results
    #[arg(long)]
    pub(crate) force: bool,
    /// Print the rows of climates.csv as JSON instead of a table
    #[arg(long)]
    pub(crate) json: bool,
    /// Print no notes and no table; with --json, the JSON alone
    #[arg(long)]
    pub(crate) quiet: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Bins {
    /// A typical year, as `weather` reads it, or a study (TOML); told apart by what is in it
    pub(crate) file: PathBuf,
    /// Width of a bin, such as "1 K" or "5 °F"
    /// [default: 2 K, or 5 °F shown in IP]
    #[arg(long, verbatim_doc_comment)]
    pub(crate) width: Option<String>,
    /// A temperature where one bin ends and the next begins
    /// [default: 0 °C, or 0 °F shown in IP]
    #[arg(long, verbatim_doc_comment, allow_hyphen_values = true)]
    pub(crate) edge: Option<String>,
    #[command(flatten)]
    pub(crate) place: PlaceOptions,
    /// Units of the answer
    /// [default: si, or what the study says]
    #[arg(long, value_enum, verbatim_doc_comment)]
    pub(crate) show_in: Option<ShowIn>,
    /// Print JSON (always SI)
    #[arg(long)]
    pub(crate) json: bool,
    /// Folder for bins.csv, of a study
    #[arg(long)]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing folder of results
    #[arg(long, requires = "out")]
    pub(crate) force: bool,
}

/// Where a weather file's place is, if it does not say.
#[derive(Debug, Args)]
pub(crate) struct PlaceOptions {
    /// Latitude north, such as 40.53, where the file does not say it
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true)]
    pub(crate) latitude: Option<f64>,
    /// Longitude east, such as -108.54
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true)]
    pub(crate) longitude: Option<f64>,
    /// Elevation, such as "2168 m" or "7110 ft"
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) elevation: Option<String>,
    /// Local standard time less UTC, in hours, such as -7
    #[arg(long, value_name = "HOURS", allow_hyphen_values = true)]
    pub(crate) time_zone: Option<f64>,
}

#[derive(Debug, Args)]
#[allow(clippy::doc_markdown)] // These comments are printed as they stand.
pub(crate) struct Core {
    /// Study file (TOML); left out, the built-in demonstration is read
    pub(crate) study: Option<PathBuf>,
    /// One unit of the study, by name
    /// [default: all]
    #[arg(long, verbatim_doc_comment)]
    pub(crate) unit: Option<String>,
    /// Solve this outdoor temperature, such as "-20 °C" or "0 °F"
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) outdoor: Option<String>,
    /// Relative humidity outdoors; over ice below freezing
    #[arg(long, default_value = "80 %", requires = "outdoor")]
    pub(crate) outdoor_humidity: String,
    /// Temperature of the air taken from the rooms
    /// [default: the set-point of the heating]
    #[arg(long, verbatim_doc_comment, allow_hyphen_values = true, requires = "outdoor")]
    pub(crate) indoor: Option<String>,
    /// Relative humidity of that air
    #[arg(long, default_value = "40 %", requires = "outdoor")]
    pub(crate) indoor_humidity: String,
    /// Measure the hourly solution of every kind of core against the cell solution
    #[arg(long, conflicts_with_all = ["study", "unit", "outdoor"])]
    pub(crate) accuracy: bool,
    /// Folder for the charts of --outdoor or --accuracy
    /// [default: dewledger-out/<study>-core, or the next free number when it is taken]
    #[arg(long, verbatim_doc_comment)]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing folder of results
    #[arg(long)]
    pub(crate) force: bool,
    /// Print JSON (always SI) instead of tables, and write no charts
    #[arg(long, conflicts_with = "accuracy")]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Schema {
    /// That of a sweep file
    #[arg(long)]
    pub(crate) sweep: bool,
}

#[derive(Debug, Args)]
pub(crate) struct Completions {
    /// The shell
    pub(crate) shell: clap_complete::Shell,
}

#[derive(Debug, Args)]
pub(crate) struct Man {
    /// Folder for the pages, one for each command; it is made when it does not exist
    pub(crate) folder: Option<PathBuf>,
    /// Replace pages that are there
    #[arg(long, requires = "folder")]
    pub(crate) force: bool,
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
    /// Thermodynamic wet bulb, such as "14 °C" or "57 °F"
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) wet_bulb: Option<String>,
    /// Dew point, such as "9 °C" or "48 °F"; below freezing the frost point
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) dew_point: Option<String>,
    /// Relative humidity, such as "50 %"; over ice below freezing
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) relative_humidity: Option<String>,
    /// Humidity ratio, such as "7.3 g/kg" or "51 gr/lb"
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) humidity_ratio: Option<String>,
    /// Enthalpy of dry air and its water, such as "38.6 kJ/kg" or "24.2 Btu/lb"
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) enthalpy: Option<String>,
    /// Pressure, such as "101325 Pa", "84 kPa" or "29.92 inHg"
    /// [default: the pressure at --altitude]
    #[arg(long, verbatim_doc_comment, allow_hyphen_values = true, conflicts_with = "altitude")]
    pub(crate) pressure: Option<String>,
    /// Altitude, such as "300 m" or "1000 ft"; the standard atmosphere's pressure is used
    /// [default: 0 m]
    #[arg(long, allow_hyphen_values = true, verbatim_doc_comment)]
    pub(crate) altitude: Option<String>,
    /// A CSV file, or - for stdin, with the columns pressure_pa or altitude_m and two of
    /// dry_bulb_c, wet_bulb_c, dew_point_c, relative_humidity_pct, humidity_ratio (kg/kg) and
    /// enthalpy_kj_per_kg; every property of each row is written to stdout as CSV, always SI
    #[arg(long, value_name = "FILE", verbatim_doc_comment, conflicts_with_all = ["dry_bulb", "wet_bulb",
        "dew_point", "relative_humidity", "humidity_ratio", "enthalpy", "pressure", "altitude", "show_in",
        "json"])]
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

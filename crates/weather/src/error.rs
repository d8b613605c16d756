//! What cannot be read, said so that it can be mended: the line, what stands there, what was expected, a hint. What is
//! not here: what could be read with a doubt ([`crate::findings`]). Read next: [`crate::read()`].

use crate::calendar::Stamp;
use crate::findings::counted;
use crate::quantity::Quantity;
use thiserror::Error;

/// Why a weather file was not read. Lines count from 1.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum WeatherError {
    /// Nothing in it.
    #[error("the weather file is empty")]
    Empty,
    /// Two-byte text.
    #[error("the weather file is UTF-16 text; weather tables are read as plain one-byte text or UTF-8")]
    Utf16,
    /// No known format.
    #[error("this is not a weather table that can be read; it begins with `{beginning}`")]
    NotRecognised {
        /// The first characters, made printable.
        beginning: String,
    },
    /// A header line is missing or wrong.
    #[error("line {line}: {problem}")]
    Header {
        /// Line.
        line: usize,
        /// What is wrong there.
        problem: String,
    },
    /// A column is missing.
    #[error("line {line}: there is no column for {column}")]
    MissingColumn {
        /// The line with the column names.
        line: usize,
        /// The column, as the format names it.
        column: String,
    },
    /// Header only.
    #[error("the weather file has headings but no hours")]
    NoRows,
    /// A row with too few columns, or with too many that are not empty.
    #[error("line {line}: the row has {}, {expected} are expected", counted(*found, "column"))]
    RowWidth {
        /// Line.
        line: usize,
        /// Columns found.
        found: usize,
        /// Columns expected.
        expected: usize,
    },
    /// A row of fixed columns that is too short or too long.
    #[error("line {line}: the row has {}, {expected} are expected", counted(*found, "character"))]
    RowLength {
        /// Line.
        line: usize,
        /// Characters found.
        found: usize,
        /// Characters expected.
        expected: usize,
    },
    /// Text where a number belongs.
    #[error("line {line}, {quantity}: `{text}` is not a number")]
    NotANumber {
        /// Line.
        line: usize,
        /// The quantity of the column.
        quantity: &'static str,
        /// What stands there.
        text: String,
    },
    /// A number outside what can be.
    #[error("line {line}, {quantity}: {value} {unit} is outside {low}…{high} {unit}")]
    OutOfRange {
        /// Line.
        line: usize,
        /// The quantity.
        quantity: &'static str,
        /// Its value.
        value: f64,
        /// Lowest value accepted.
        low: f64,
        /// Highest value accepted.
        high: f64,
        /// The unit.
        unit: &'static str,
    },
    /// A date or hour that no calendar has.
    #[error("line {line}: `{text}` is not an hour of a year")]
    BadStamp {
        /// Line.
        line: usize,
        /// The stamp as it stands.
        text: String,
    },
    /// Not one row an hour.
    #[error("line {line}: `{text}` is not a full hour; one row an hour is expected")]
    NotHourly {
        /// Line.
        line: usize,
        /// The stamp as it stands.
        text: String,
    },
    /// Minutes that do not make hours.
    #[error(
        "line {line}: `{text}` does not fit; rows at one minute of each hour, or at :00 and :30, are expected"
    )]
    MinuteDoesNotFit {
        /// Line.
        line: usize,
        /// The stamp as it stands.
        text: String,
    },
    /// An hour twice.
    #[error("line {line}: {hour} was given before, on line {first_line}")]
    HourTwice {
        /// Line.
        line: usize,
        /// Where it was first.
        first_line: usize,
        /// The hour.
        hour: Stamp,
    },
    /// A gap longer than may be filled.
    #[error("{quantity} is missing for {hours} hours, from {first} to {last}; gaps up to 6 hours are filled")]
    LongGap {
        /// What is missing: a quantity, or "the row".
        quantity: &'static str,
        /// Hours missing in a row.
        hours: usize,
        /// First missing hour.
        first: Stamp,
        /// Last missing hour.
        last: Stamp,
    },
    /// More of the year filled than measured values can carry.
    #[error(
        "{quantity} is missing in {hours} of {of} hours ({:.1} %); up to {most_pct} % of a year is filled",
        share_pct(*hours, *of)
    )]
    MuchMissing {
        /// The quantity.
        quantity: &'static str,
        /// Hours without a value.
        hours: usize,
        /// Hours of the year.
        of: usize,
        /// Largest share that is filled [%].
        most_pct: f64,
    },
    /// A whole column in another unit.
    #[error(
        "the {quantity} column looks like {looks_like}: {outside} of {of} values are outside {low}…{high} {unit}, first on \
         line {line}, and as {looks_like} they would fit"
    )]
    OtherUnit {
        /// The first line outside.
        line: usize,
        /// The quantity.
        quantity: &'static str,
        /// The unit that fits.
        looks_like: &'static str,
        /// Values outside the range in the unit that is expected.
        outside: usize,
        /// Values of the column.
        of: usize,
        /// Lowest value accepted.
        low: f64,
        /// Highest value accepted.
        high: f64,
        /// The unit that is expected.
        unit: &'static str,
    },
    /// Relative humidity as a fraction.
    #[error("the relative humidity column looks like a fraction: none of {of} values is above {most} %")]
    Fraction {
        /// Values of the column.
        of: usize,
        /// The largest.
        most: f64,
    },
    /// A dew point far above the dry bulb.
    #[error(
        "line {line} ({hour}): the dew point stands {excess_k:.1} K above the dry bulb; up to 2 K is taken as rounding"
    )]
    DewPointFarAbove {
        /// Line.
        line: usize,
        /// The hour.
        hour: Stamp,
        /// Dew point less dry bulb \[K\].
        excess_k: f64,
    },
    /// A dew point above the dry bulb too often.
    #[error(
        "the dew point stands above the dry bulb in {}, first on line {line}; up to 5 % of the year is taken as noise",
        counted(*count, span)
    )]
    DewPointOftenAbove {
        /// How often.
        count: usize,
        /// What a row stands for: "hour" or "half-hour".
        span: &'static str,
        /// First line.
        line: usize,
    },
    /// The file does not say where it is.
    #[error("the weather file does not say its {what}")]
    PlaceMissing {
        /// What is missing.
        what: &'static str,
    },
    /// An override or a header value outside what can be.
    #[error("{what} {value} is outside {low}…{high}")]
    PlaceOutOfRange {
        /// What.
        what: &'static str,
        /// Its value.
        value: f64,
        /// Lowest value accepted.
        low: f64,
        /// Highest value accepted.
        high: f64,
    },
    /// The same in the file's own heading.
    #[error("the weather file says {what} {value}, which is outside {low}…{high}")]
    FilePlaceOutOfRange {
        /// What.
        what: &'static str,
        /// Its value.
        value: f64,
        /// Lowest value accepted.
        low: f64,
        /// Highest value accepted.
        high: f64,
    },
    /// A time zone that does not belong to the longitude.
    #[error(
        "time zone {time_zone_h} h does not belong to longitude {longitude_deg}°, where the sun's own time is {sun_h:.1} h; \
         no country's clock is more than {most_h} h from it"
    )]
    ZoneAgainstLongitude {
        /// Local standard time minus UTC \[h\].
        time_zone_h: f64,
        /// Longitude [°].
        longitude_deg: f64,
        /// Longitude as time \[h\].
        sun_h: f64,
        /// The largest distance accepted \[h\].
        most_h: f64,
    },
    /// A year that the plain table would not give back as it is.
    #[error("the plain table would not hold this year as it is: {what} came back changed")]
    NotKept {
        /// What.
        what: &'static str,
    },
}

impl WeatherError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Empty | Self::NoRows => "fetch the file again: it holds no hours",
            Self::Utf16 => "save it again as UTF-8 or plain text",
            Self::NotRecognised { .. } => {
                "accepted are a TMY3, NSRDB or PVGIS table (.csv), TMY2 (.tm2), a file with the extension .epw, and the \
                 plain table whose columns begin with month,day,hour_ending, all but TMY2 with commas between their \
                 columns; files are told apart by what is in them, not by name"
            }
            Self::Header { .. } | Self::MissingColumn { .. } => {
                "compare the headings with an untouched file of that kind"
            }
            Self::RowLength { .. } => {
                "the file may have been cut off, or its spaces were changed: fetch it again"
            }
            Self::RowWidth { .. } => {
                "the file may have been cut off, or a stray comma stands in the row: fetch it again"
            }
            Self::NotANumber { .. } | Self::OutOfRange { .. } => {
                "mend the cell, or write the filler -9900 (9999 in fixed columns) there: up to 6 hours are then filled and listed"
            }
            Self::BadStamp { .. } => {
                "months are 1…12; hours are 1…24, named by their end, and 0…23 in NSRDB and PVGIS tables"
            }
            Self::MinuteDoesNotFit { .. } => {
                "ask the publisher for hourly or half-hourly rows, or average to full hours"
            }
            Self::NotHourly { .. } => "average the file to full hours first",
            Self::HourTwice { .. } => "a typical year holds each hour once: remove one of the two rows",
            Self::LongGap { .. } => "fetch the file again, or fill these hours from a source you trust",
            Self::DewPointFarAbove { .. } | Self::DewPointOftenAbove { .. } => {
                "the columns may be exchanged, or the humidity is not what its heading says"
            }
            Self::NotKept { .. } => "this is a fault of the program, not of the file; please report it",
            Self::PlaceMissing { .. } | Self::PlaceOutOfRange { .. } => {
                "give `latitude`, `longitude`, `elevation` and `time_zone` under [site] of the study"
            }
            _ => self.hint_of_the_whole(),
        }
    }

    /// The same for what is wrong with a whole column or the heading.
    fn hint_of_the_whole(&self) -> &'static str {
        match self {
            Self::MuchMissing { .. } => {
                "a straight line over gaps knows no weather: fetch the file again, or take another year or station"
            }
            Self::FilePlaceOutOfRange { .. } => {
                "mend the heading of the weather file; `[site]` of a study, and --latitude and the like of `weather`, win over it"
            }
            Self::ZoneAgainstLongitude { .. } => {
                "mend the time zone (hours ahead of UTC, negative in the Americas) or the longitude (east positive)"
            }
            _ => "convert the column to the unit that the format prescribes",
        }
    }

    /// The same fault, said of the file's own heading.
    pub(crate) fn in_file(self) -> Self {
        match self {
            Self::PlaceOutOfRange { what, value, low, high } => {
                Self::FilePlaceOutOfRange { what, value, low, high }
            }
            other => other,
        }
    }

    pub(crate) fn not_a_number(line: usize, quantity: Quantity, text: &str) -> Self {
        Self::NotANumber { line, quantity: quantity.name(), text: crate::text::printable(text, 24) }
    }
}

/// A part of the year in per cent.
#[allow(clippy::cast_precision_loss, reason = "hours of a year are far below 2^52")]
pub(crate) fn share_pct(hours: usize, of: usize) -> f64 {
    100.0 * hours as f64 / of.max(1) as f64
}

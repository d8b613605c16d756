//! Why a report could not be written.

use thiserror::Error;

/// Why a report could not be written.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ReportError {
    /// A year has neither 8760 nor 8784 hours.
    #[error("a year of {hours} hours; a year has 8760 hours, or 8784 with 29 February")]
    HourCount {
        /// Hours that were given.
        hours: usize,
    },
    /// An hourly column is shorter or longer than the year.
    #[error("house-year \"{house}\", column {column}: {found} hours where the year has {expected}")]
    ColumnLength {
        /// Unit and case.
        house: String,
        /// Column name.
        column: &'static str,
        /// Hours in the column.
        found: usize,
        /// Hours in the year.
        expected: usize,
    },
    /// A value is not a number or infinite.
    #[error(
        "house-year \"{house}\", column {column}, hour {hour} of the year: {value} is not a finite number"
    )]
    NotFinite {
        /// Unit and case.
        house: String,
        /// Column name.
        column: &'static str,
        /// Hour of the year, from 0.
        hour: usize,
        /// The value.
        value: f64,
    },
    /// The words of a language cannot be read: a fault of the program.
    #[error("the words of charts and report cannot be read: {reason}")]
    Words {
        /// Why.
        reason: String,
    },
    /// A figure has more digits than a table can hold exactly.
    #[error(
        "{value} cannot be written exactly with {decimals} decimals; the limit is 9e15 units of the last one"
    )]
    TooLarge {
        /// The value, in the unit of its column.
        value: f64,
        /// Decimals of its column.
        decimals: u8,
    },
    /// The same unit and case came twice, so that pairing would be ambiguous.
    #[error("house-year \"{house}\" was given twice; each unit may have one year of each case")]
    Duplicate {
        /// Unit and case.
        house: String,
    },
    /// Indoor air of the bin method outside the range of moist air.
    #[error("air at the heating set-point and 40 %, for the blind bins: {reason}")]
    BlindAir {
        /// Which range.
        reason: String,
    },
    /// There is nothing to draw.
    #[error("the chart of {chart} needs at least one house-year with a unit")]
    NothingToDraw {
        /// What the chart would have shown.
        chart: &'static str,
    },
    /// A unit without its year or its baseline.
    #[error("unit \"{unit}\": its year and its no-recovery year are needed")]
    NoUnit {
        /// Its name.
        unit: String,
    },
    /// Charts of climates without a weather year.
    #[error("a chart of climates needs at least one weather year")]
    NoClimate,
    /// A weather year that cannot be drawn.
    #[error("weather \"{name}\", {column}: {problem}")]
    Weather {
        /// Name of the weather year.
        name: String,
        /// Column.
        column: &'static str,
        /// What is wrong with it.
        problem: String,
    },
    /// A state of air or a place in a core cannot be drawn.
    #[error("{place}: {quantity} {value} {unit} is outside {low} to {high} {unit}")]
    OutOfRange {
        /// Where it was found, such as "supply air" or "place 3 along the core".
        place: String,
        /// What the value is, such as "dry bulb".
        quantity: &'static str,
        /// The value.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// The lowest value allowed.
        low: f64,
        /// The highest value allowed.
        high: f64,
    },
    /// A chart of accuracy without any measured set.
    #[error("the chart of accuracy needs at least one set of states")]
    NothingMeasured,
    /// The drawing library refused.
    #[error("a chart could not be drawn: {reason}")]
    Drawing {
        /// Its own words.
        reason: String,
    },
    /// Text could not be put together.
    #[error("a table could not be written: {reason}")]
    Writing {
        /// The writer's own words.
        reason: String,
    },
}

impl ReportError {
    #[allow(clippy::needless_pass_by_value, reason = "it is handed to `map_err`, which gives a value")]
    pub(crate) fn writing(reason: impl ToString) -> Self {
        Self::Writing { reason: reason.to_string() }
    }

    #[allow(clippy::needless_pass_by_value, reason = "it is handed to `map_err`, which gives a value")]
    pub(crate) fn drawing(reason: impl ToString) -> Self {
        Self::Drawing { reason: reason.to_string() }
    }
}

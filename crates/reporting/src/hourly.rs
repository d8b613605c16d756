//! The hours of one house-year as CSV text.
//!
//! Numbers are written with the fewest digits that read back as the same `f64`, so nothing is lost.
//! Not here: what the columns mean (`simulation::results::Hourly`, shown by `guide`), the same as Parquet
//! (`hourly_parquet`).

use std::fmt::Write as _;

use simulation::results::HouseYear;

use crate::summary::{check, house_name};
use crate::{Calendar, ReportError};

/// Headers of the key columns of an hourly file.
pub const HOURLY_KEYS: [&str; 3] = ["month", "day", "hour_ending"];

/// Name, values and meaning of an hourly column.
pub(crate) type Named<'a> = (&'static str, &'a [f64], &'static str);

/// Below this a number is written in powers of ten, or residuals would trail long rows of zeros.
const SMALLEST_PLAIN: f64 = 1e-5;

/// `hourly/<unit>.csv`: month, day, hour ending (1 … 24, local standard time), then every hourly column.
///
/// # Errors
/// [`ReportError`] when columns differ in length from the calendar or hold a value that is not finite.
pub fn hourly_csv(year: &HouseYear, calendar: &Calendar) -> Result<String, ReportError> {
    let columns = columns_of(year, calendar)?;
    let names: Vec<&str> = HOURLY_KEYS.into_iter().chain(columns.iter().map(|column| column.0)).collect();
    let mut text = names.join(",");
    text.push('\n');
    for hour in 0..calendar.hours() {
        let stamp = calendar.stamp(hour);
        write!(text, "{},{},{}", stamp.month, stamp.day, stamp.hour_ending).map_err(ReportError::writing)?;
        for (_, values, _) in &columns {
            push_number(&mut text, values[hour]).map_err(ReportError::writing)?;
        }
        text.push('\n');
    }
    Ok(text)
}

/// The columns of a year that has as many hours as the calendar.
pub(crate) fn columns_of<'a>(
    year: &'a HouseYear,
    calendar: &Calendar,
) -> Result<Vec<Named<'a>>, ReportError> {
    let own = check(year)?;
    let columns = year.hourly.columns();
    if own.hours() != calendar.hours() {
        let (column, house) = (columns.first().map_or("", |column| column.0), house_name(year));
        return Err(ReportError::ColumnLength {
            house,
            column,
            found: own.hours(),
            expected: calendar.hours(),
        });
    }
    Ok(columns)
}

fn push_number(text: &mut String, value: f64) -> std::fmt::Result {
    if value == 0.0 {
        text.push_str(",0");
        return Ok(());
    }
    if value.abs() < SMALLEST_PLAIN { write!(text, ",{value:e}") } else { write!(text, ",{value}") }
}

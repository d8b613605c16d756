//! The hours of one house-year as CSV text.
//!
//! Numbers are written with the fewest digits that read back as the same `f64`, so nothing is lost.
//! Not here: what the columns mean (`simulation::results::Hourly`, shown by `guide`), the same as Parquet
//! (`hourly_parquet`).

use std::io::Write as _;

use simulation::results::HouseYear;

use crate::summary::{check_lengths, house_name};
use crate::{Calendar, ReportError};

/// Headers of the key columns of an hourly file.
pub const HOURLY_KEYS: [&str; 3] = ["month", "day", "hour_ending"];

/// Name, values and meaning of an hourly column.
pub(crate) type Named<'a> = (&'static str, &'a [f64], &'static str);

/// Below this a number is written in powers of ten, or residuals would trail long rows of zeros.
const SMALLEST_PLAIN: f64 = 1e-5;
/// From here on the short form may have an exponent.
const LARGEST_PLAIN: f64 = 1e15;
/// Hours of a piece of the text: few enough that it is still at hand when it is written out.
const PIECE_HOURS: usize = 96;

/// `hourly/<unit>.csv`: month, day, hour ending (1 … 24, local standard time), then every hourly column.
///
/// # Errors
/// [`ReportError`] when columns differ in length from the calendar or hold a value that is not finite.
pub fn hourly_csv(year: &HouseYear, calendar: &Calendar) -> Result<String, ReportError> {
    let mut text = Vec::new();
    let mut hours = HourlyCsv::new(year, calendar)?;
    while hours.next_piece(&mut text)? {}
    String::from_utf8(text).map_err(ReportError::writing)
}

/// The same text (UTF-8) in pieces, so that it need not be held as a whole.
#[derive(Debug)]
pub struct HourlyCsv<'a> {
    year: &'a HouseYear,
    columns: Vec<Named<'a>>,
    calendar: &'a Calendar,
    next_hour: usize,
}

impl<'a> HourlyCsv<'a> {
    /// The text of a year's hours.
    ///
    /// # Errors
    /// [`ReportError::ColumnLength`] when columns differ in length from the calendar.
    pub fn new(year: &'a HouseYear, calendar: &'a Calendar) -> Result<Self, ReportError> {
        Ok(Self { year, columns: columns_of(year, calendar)?, calendar, next_hour: 0 })
    }

    /// Appends the next piece, whole lines, the header first; `false` once all is written.
    ///
    /// # Errors
    /// [`ReportError::NotFinite`] at a value that is not, [`ReportError::Writing`] when a number cannot be written.
    pub fn next_piece(&mut self, text: &mut Vec<u8>) -> Result<bool, ReportError> {
        let start = self.next_hour;
        if start == 0 {
            let names: Vec<&str> =
                HOURLY_KEYS.into_iter().chain(self.columns.iter().map(|column| column.0)).collect();
            text.extend_from_slice(names.join(",").as_bytes());
            text.push(b'\n');
        }
        let end = self.calendar.hours().min(start + PIECE_HOURS);
        for hour in start..end {
            let stamp = self.calendar.stamp(hour);
            write!(text, "{},{},{}", stamp.month, stamp.day, stamp.hour_ending)
                .map_err(ReportError::writing)?;
            for &(column, values, _) in &self.columns {
                let value = values[hour];
                if !value.is_finite() {
                    let house = house_name(self.year);
                    return Err(ReportError::NotFinite { house, column, hour, value });
                }
                text.push(b',');
                push_number(text, value).map_err(ReportError::writing)?;
            }
            text.push(b'\n');
        }
        self.next_hour = end;
        Ok(end < self.calendar.hours())
    }
}

/// The columns of a year that has as many hours as the calendar.
pub(crate) fn columns_of<'a>(
    year: &'a HouseYear,
    calendar: &Calendar,
) -> Result<Vec<Named<'a>>, ReportError> {
    let own = check_lengths(year)?;
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

/// The fewest digits that read back as the same number, found several times faster than by the standard library, with which it may
/// differ in the last digit where two texts are equally near.
fn push_number(text: &mut Vec<u8>, value: f64) -> std::io::Result<()> {
    if value == 0.0 {
        text.push(b'0');
        return Ok(());
    }
    let mut buffer = zmij::Buffer::new();
    let digits = buffer.format(value);
    let size = value.abs();
    let is_plain = size >= SMALLEST_PLAIN;
    // Between the two limits it is plain, which nearly every number is.
    if is_plain && size < LARGEST_PLAIN || digits.contains('e') != is_plain {
        push_digits(text, digits.strip_suffix(".0").unwrap_or(digits).as_bytes());
        Ok(())
    } else if is_plain {
        write!(text, "{value}")
    } else {
        write!(text, "{value:e}")
    }
}

/// Appends a number's digits, 32 at most (the short form has 24). Sixteen or more, as most numbers have, go in two copies of sixteen that overlap:
/// copies of a known size take no call.
fn push_digits(text: &mut Vec<u8>, digits: &[u8]) {
    let ends = (digits.first_chunk::<16>(), digits.last_chunk::<16>());
    let (Some(first), Some(last)) = ends else { return text.extend_from_slice(digits) };
    let end = text.len() + digits.len();
    text.extend_from_slice(first);
    text.truncate(end - last.len());
    text.extend_from_slice(last);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(value: f64) -> String {
        let mut text = Vec::new();
        push_number(&mut text, value).unwrap();
        String::from_utf8(text).unwrap()
    }

    /// The standard library's own printing is the reference: as many characters, and it reads the same number from them.
    #[test]
    fn numbers_are_as_short_as_the_standard_library_has_them_and_read_back() {
        let edges = [
            0.0,
            -0.0,
            1.0,
            -1.0,
            0.1,
            1e-5,
            9.999_999e-6,
            1.2e-5,
            -3.5e-9,
            5e-324,
            1e-300,
            123_456.789,
            1e15,
            1e16,
            1.5e17,
            9_007_199_254_740_993.0,
            1e21,
            -1e22,
            f64::MAX,
            f64::MIN_POSITIVE,
            1.0 / 3.0,
            100.0,
            1200.0,
        ];
        // Bits from a multiplicative generator: every size of number comes up, of both signs.
        let mut bits = 0x9E37_79B9_7F4A_7C15_u64;
        let any = std::iter::repeat_with(|| {
            bits = bits.wrapping_mul(0x5851_F42D_4C95_7F2D).wrapping_add(0x1405_7B7E_F767_814F);
            f64::from_bits(bits)
        });
        let any = any.take(50_000).filter(|value| value.is_finite());
        // Sizes of temperatures, powers and small masses, with all their digits.
        let usual =
            (1..50_000).flat_map(|n| [f64::from(n) / 7.0, f64::from(n) * -1e-8 / 3.0, f64::from(n) / 1000.0]);
        for value in edges.into_iter().chain(any).chain(usual) {
            let expected = match value.abs() {
                0.0 => "0".to_owned(),
                size if size < SMALLEST_PLAIN => format!("{value:e}"),
                _ => format!("{value}"),
            };
            let written = written(value);
            assert_eq!(written.len(), expected.len(), "{written} {expected}");
            // Minus zero is written without its sign: adding zero takes it from both.
            let read_back: f64 = written.parse().unwrap();
            assert_eq!((read_back + 0.0).to_bits(), (value + 0.0).to_bits(), "{written}");
            assert_eq!(written.contains('e'), expected.contains('e'), "{written} {expected}");
        }
    }
}

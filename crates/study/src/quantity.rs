//! Reads a number with its unit, such as `"28 L/s"`, to SI.
//!
//! Here: the text of one value. Not here: which key wants which dimension and range (`kinds`).
//! Read next: `kinds.rs`.

use thiserror::Error;

use crate::units::{self, Dimension, UnitOfMeasure};

/// A quantity as written: a number, and its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// The number as written.
    pub number: f64,
    /// The unit as written.
    pub unit: &'static UnitOfMeasure,
}

impl Quantity {
    /// The value in SI (temperatures in °C, angles in degrees).
    pub fn si(&self) -> f64 {
        self.unit.to_si(self.number)
    }
}

/// Why a text is no quantity of the dimension that is needed.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum QuantityError {
    /// There is no number at the start.
    #[error("{} is needed, but there is no number at its start", .needed.with_article())]
    NoNumber {
        /// What is needed.
        needed: Dimension,
    },
    /// The number is written with a comma.
    #[error("a number with a comma is not read")]
    Comma {
        /// What is needed.
        needed: Dimension,
    },
    /// The number has gaps or marks between its digits.
    #[error("a number is written without gaps or marks between its digits")]
    Gap {
        /// What is needed.
        needed: Dimension,
    },
    /// The number is beyond what can be computed with.
    #[error("the number is too large")]
    TooLarge {
        /// What is needed.
        needed: Dimension,
    },
    /// No unit follows the number.
    #[error("{} needs a unit", .needed.with_article())]
    NoUnit {
        /// What is needed.
        needed: Dimension,
    },
    /// The unit measures something else.
    #[error("{} is needed, but `{unit}` measures {}", .needed.with_article(), .measures.with_article())]
    WrongUnit {
        /// What is needed.
        needed: Dimension,
        /// The unit as written.
        unit: String,
        /// What that unit measures.
        measures: Dimension,
    },
    /// The unit is unknown.
    #[error("{} is needed, but the unit `{unit}` is unknown", .needed.with_article())]
    UnknownUnit {
        /// What is needed.
        needed: Dimension,
        /// The unit as written.
        unit: String,
    },
}

/// The quantity that `text` spells.
///
/// A number with a decimal point and perhaps an exponent, then the unit, with or without a space of any width
/// between them. The minus sign may be the typographic one.
///
/// # Errors
/// [`QuantityError`] where the number or the unit is missing, unknown, or of another dimension than `needed`.
///
/// # Example
/// ```
/// use study::{Dimension, parse_quantity};
/// let flow = parse_quantity("60 cfm", Dimension::AirFlow)?;
/// assert!((flow.si() - 60.0 * 0.028316846592 / 60.0).abs() < 1e-15);
/// # Ok::<(), study::QuantityError>(())
/// ```
pub fn parse_quantity(text: &str, needed: Dimension) -> Result<Quantity, QuantityError> {
    let plain = text.replace('\u{2212}', "-");
    let (number, rest) = split(plain.trim());
    let number = read_number(number, rest, needed)?;
    if rest.is_empty() {
        return Err(QuantityError::NoUnit { needed });
    }
    if let Some(unit) = needed.unit(rest) {
        return finite(Quantity { number, unit }, needed);
    }
    let unit = crate::problem::shortened(rest);
    Err(match units::dimension_with(rest, needed) {
        Some(measures) => QuantityError::WrongUnit { needed, unit, measures },
        None => QuantityError::UnknownUnit { needed, unit },
    })
}

fn read_number(number: &str, rest: &str, needed: Dimension) -> Result<f64, QuantityError> {
    if number.is_empty() {
        return Err(QuantityError::NoNumber { needed });
    }
    if rest.starts_with(',') {
        return Err(QuantityError::Comma { needed });
    }
    // `1/h` is a unit that begins with a digit.
    let goes_on = rest.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | '_' | '\'' | '’'));
    if goes_on && !units::is_a_unit(rest) {
        return Err(QuantityError::Gap { needed });
    }
    let value: f64 = number.parse().map_err(|_| QuantityError::NoNumber { needed })?;
    if value.is_finite() { Ok(value) } else { Err(QuantityError::TooLarge { needed }) }
}

fn finite(quantity: Quantity, needed: Dimension) -> Result<Quantity, QuantityError> {
    if quantity.si().is_finite() { Ok(quantity) } else { Err(QuantityError::TooLarge { needed }) }
}

/// The number at the start (empty if there is none) and what follows it, trimmed.
pub(crate) fn split(text: &str) -> (&str, &str) {
    let bytes = text.as_bytes();
    let sign = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    let whole = digits_from(bytes, sign);
    let mut end = whole;
    if bytes.get(end) == Some(&b'.') {
        end = digits_from(bytes, end + 1);
    }
    let has_digits = whole > sign || end > whole + 1;
    if !has_digits {
        return ("", text);
    }
    end = after_exponent(bytes, end);
    (&text[..end], text[end..].trim())
}

/// End of the run of digits that starts at `start`.
fn digits_from(bytes: &[u8], start: usize) -> usize {
    let run = bytes.iter().skip(start).take_while(|byte| byte.is_ascii_digit()).count();
    start + run
}

/// End of the exponent at `start`, or `start` if what stands there is none.
fn after_exponent(bytes: &[u8], start: usize) -> usize {
    if !matches!(bytes.get(start), Some(b'e' | b'E')) {
        return start;
    }
    let sign = usize::from(matches!(bytes.get(start + 1), Some(b'+' | b'-')));
    let first = start + 1 + sign;
    let end = digits_from(bytes, first);
    if end > first { end } else { start }
}

//! A number outside the range in which this crate answers, and the check.
//!
//! Not here: the ranges themselves; each stands where its number is used.

/// A number outside its range; also a number that is none (NaN, infinite).
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{what} {} is outside {low} to {}", with_unit(*value, unit), with_unit(*high, unit))]
pub struct OutOfRange {
    /// What the number is, such as "discount rate".
    pub what: &'static str,
    /// The number.
    pub value: f64,
    /// Its unit; empty for a plain ratio.
    pub unit: &'static str,
    /// The lowest number allowed.
    pub low: f64,
    /// The highest number allowed.
    pub high: f64,
}

fn with_unit(value: f64, unit: &str) -> String {
    if unit.is_empty() { value.to_string() } else { format!("{value} {unit}") }
}

/// A quantity with its unit and its range, both ends allowed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Range {
    what: &'static str,
    unit: &'static str,
    low: f64,
    high: f64,
}

impl Range {
    pub(crate) const fn new(what: &'static str, unit: &'static str, low: f64, high: f64) -> Self {
        Self { what, unit, low, high }
    }

    /// The value, if it lies within; NaN does not.
    pub(crate) fn check(self, value: f64) -> Result<f64, OutOfRange> {
        let Self { what, unit, low, high } = self;
        if (low..=high).contains(&value) {
            Ok(value)
        } else {
            Err(OutOfRange { what, value, unit, low, high })
        }
    }
}

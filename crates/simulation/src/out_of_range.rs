//! What is wrong with a number that is given: which, how much, and what would be right.

/// A number outside its range, or none at all.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("the {quantity} is {value}{unit}; it must be from {low} to {high}{unit}")]
pub struct OutOfRange {
    /// What it is.
    pub quantity: &'static str,
    /// Its value.
    pub value: f64,
    /// Its unit, with a space before it; empty for a ratio.
    pub unit: &'static str,
    /// Least allowed.
    pub low: f64,
    /// Greatest allowed.
    pub high: f64,
}

/// Refuses what is outside; NaN is.
pub(crate) fn within(
    quantity: &'static str,
    value: f64,
    (low, high): (f64, f64),
    unit: &'static str,
) -> Result<(), OutOfRange> {
    if value >= low && value <= high { Ok(()) } else { Err(OutOfRange { quantity, value, unit, low, high }) }
}

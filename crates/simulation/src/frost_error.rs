//! Why a plan of frost, fans, filters and free cooling cannot be run (`frost_plan`).

use crate::frost_plan::MAX_TIMETABLE_ROWS;

/// Why a plan cannot be run.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum FrostPlanError {
    /// A number outside its range, or none at all.
    #[error("the {quantity} is {value}{unit}; it must be from {low} to {high}{unit}")]
    OutOfRange {
        /// What it is.
        quantity: &'static str,
        /// Its value.
        value: f64,
        /// Its unit, with a space before it; empty for a ratio.
        unit: &'static str,
        /// Least allowed.
        low: f64,
        /// Greatest allowed.
        high: f64,
    },
    /// No row, or too many.
    #[error("the timetable has {0} rows; it must have 1 to {MAX_TIMETABLE_ROWS}")]
    Rows(usize),
    /// Two rows for one temperature.
    #[error("the timetable has two rows for {0} °C and below")]
    Twice(f64),
    /// A fan that cannot drive the rated flow through the core.
    #[error(
        "the fan gives {fan_pa} Pa at the rated flow and the core alone takes {core_pa} Pa; the fan must give as much or more"
    )]
    WeakFan {
        /// Its pressure at the rated flow \[Pa\].
        fan_pa: f64,
        /// The clean core's \[Pa\].
        core_pa: f64,
    },
    /// A wheel's strategy for a core that does not turn.
    #[error("only a wheel can turn slower; this core is made of plates")]
    NotAWheel,
}

/// Refuses what is outside; NaN is.
pub(crate) fn range(
    quantity: &'static str,
    value: f64,
    (low, high): (f64, f64),
    unit: &'static str,
) -> Result<(), FrostPlanError> {
    if value >= low && value <= high {
        return Ok(());
    }
    Err(FrostPlanError::OutOfRange { quantity, value, unit, low, high })
}

//! One printed figure of a table, and exact sums of printed figures.
//!
//! A figure is held as a whole number of units of its last printed digit, so that a total is the sum of its
//! parts to that digit, always.

use std::fmt;

use crate::ReportError;

/// Above this many units of the last digit an `f64` no longer tells neighbours apart.
const MOST_TICKS: f64 = 9.0e15;

/// One figure of a table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cell {
    /// No meaning here: written as an empty field.
    Empty,
    /// A decimal number.
    Fixed {
        /// The number in units of its last decimal.
        ticks: i64,
        /// Digits after the point.
        decimals: u8,
    },
    /// A number in powers of ten, for residuals.
    Scientific(f64),
    /// A day of the year.
    MonthDay {
        /// 1 … 12.
        month: usize,
        /// 1 … 31.
        day: usize,
    },
}

impl Cell {
    /// `value` rounded to `decimals` digits after the point.
    ///
    /// # Errors
    /// [`ReportError::TooLarge`] when it is not finite or has more than fifteen digits.
    pub fn rounded(value: f64, decimals: u8) -> Result<Self, ReportError> {
        let scaled = (value * 10f64.powi(i32::from(decimals))).round();
        if !scaled.is_finite() || scaled.abs() >= MOST_TICKS {
            return Err(ReportError::TooLarge { value, decimals });
        }
        #[allow(clippy::cast_possible_truncation, reason = "a whole number below 2^53, just checked")]
        let ticks = scaled as i64;
        Ok(Self::Fixed { ticks, decimals })
    }

    /// The sum of printed figures, exact to their last digit; [`Cell::Empty`] when any has no meaning.
    pub fn sum(cells: impl IntoIterator<Item = Self>) -> Self {
        let mut total: Option<(i64, u8)> = None;
        for cell in cells {
            let Self::Fixed { ticks, decimals } = cell else { return Self::Empty };
            total = match total {
                None => Some((ticks, decimals)),
                Some((sum, same)) if same == decimals => Some((sum + ticks, same)),
                Some(_) => return Self::Empty,
            };
        }
        total.map_or(Self::Empty, |(ticks, decimals)| Self::Fixed { ticks, decimals })
    }

    /// The printed figure with its sign turned.
    #[must_use]
    pub fn negated(self) -> Self {
        match self {
            Self::Fixed { ticks, decimals } => Self::Fixed { ticks: -ticks, decimals },
            Self::Scientific(value) => Self::Scientific(-value),
            other => other,
        }
    }

    /// The printed figure as a number; `None` where there is none.
    pub fn value(self) -> Option<f64> {
        match self {
            #[allow(clippy::cast_precision_loss, reason = "below 2^53 by construction of a rounded cell")]
            Self::Fixed { ticks, decimals } => Some(ticks as f64 / 10f64.powi(i32::from(decimals))),
            Self::Scientific(value) => Some(value),
            Self::Empty | Self::MonthDay { .. } => None,
        }
    }
}

impl fmt::Display for Cell {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Empty => Ok(()),
            Self::Fixed { ticks, decimals } => write_fixed(f, ticks, decimals),
            Self::Scientific(value) => write!(f, "{value:.2e}"),
            Self::MonthDay { month, day } => write!(f, "{month:02}-{day:02}"),
        }
    }
}

fn write_fixed(f: &mut fmt::Formatter<'_>, ticks: i64, decimals: u8) -> fmt::Result {
    let unit = 10u64.pow(u32::from(decimals));
    let size = ticks.unsigned_abs();
    let sign = if ticks < 0 { "-" } else { "" };
    if decimals == 0 {
        return write!(f, "{sign}{size}");
    }
    write!(f, "{sign}{}.{:0width$}", size / unit, size % unit, width = usize::from(decimals))
}

//! Filling of short gaps in a cyclic year. What is not here: why an hour is missing. Read next: `complete.rs`.

use crate::calendar::Calendar;
use crate::error::WeatherError;

/// Longest gap that is filled \[h\].
pub(crate) const LONGEST_GAP_H: usize = 6;

/// A run of missing hours; it may pass the end of the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Gap {
    pub first: usize,
    pub hours: usize,
}

/// How a quantity is joined across a gap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Joining {
    /// By a straight line.
    Straight,
    /// By the shorter way round the compass.
    Compass,
}

/// All gaps, in order; a year without any value is one gap.
pub(crate) fn gaps(values: &[Option<f64>]) -> Vec<Gap> {
    let hours = values.len();
    let Some(start) = values.iter().position(Option::is_some) else { return vec![Gap { first: 0, hours }] };
    let mut found: Vec<Gap> = Vec::new();
    for step in 0..hours {
        let h = (start + step) % hours;
        if values.get(h).is_some_and(Option::is_some) {
            continue;
        }
        match found.last_mut() {
            Some(last) if (last.first + last.hours) % hours == h => last.hours += 1,
            _ => found.push(Gap { first: h, hours: 1 }),
        }
    }
    found
}

/// The values with their gaps filled.
///
/// # Errors
/// [`WeatherError::LongGap`] names the first gap longer than [`LONGEST_GAP_H`].
pub(crate) fn filled(
    values: &[Option<f64>],
    name: &'static str,
    joining: Joining,
    calendar: Calendar,
) -> Result<Vec<f64>, WeatherError> {
    let mut full: Vec<f64> = values.iter().map(|value| value.unwrap_or(0.0)).collect();
    let hours = full.len();
    for gap in gaps(values) {
        if gap.hours > LONGEST_GAP_H {
            return Err(long_gap(name, gap, calendar));
        }
        let at = |h: usize| values.get(h % hours).copied().flatten().unwrap_or(0.0);
        let (before, after) = (at(gap.first + hours - 1), at(gap.first + gap.hours));
        for step in 0..gap.hours {
            if let Some(slot) = full.get_mut((gap.first + step) % hours) {
                *slot = between(before, after, share(step + 1, gap.hours + 1), joining);
            }
        }
    }
    Ok(full)
}

/// The error that names a gap's hours.
pub(crate) fn long_gap(quantity: &'static str, gap: Gap, calendar: Calendar) -> WeatherError {
    let last = gap.first + gap.hours - 1;
    WeatherError::LongGap {
        quantity,
        hours: gap.hours,
        first: calendar.stamp(gap.first),
        last: calendar.stamp(last),
    }
}

#[allow(clippy::cast_precision_loss, reason = "both are at most the longest gap")]
fn share(step: usize, of: usize) -> f64 {
    step as f64 / of as f64
}

fn between(before: f64, after: f64, share: f64, joining: Joining) -> f64 {
    match joining {
        Joining::Straight => before + (after - before) * share,
        Joining::Compass => {
            let turn = (after - before + 540.0).rem_euclid(360.0) - 180.0;
            (before + turn * share).rem_euclid(360.0)
        }
    }
}

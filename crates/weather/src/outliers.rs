//! Hours whose dry bulb leaves its neighbours or its month too far behind to be believed. Nothing is changed. What is
//! not here: values that no weather has (`quantity.rs`). Read next: `doubts.rs`.
//!
//! Two signs: a spike, up and down again (or down and up) by more than a front brings within the hour; and a value
//! outside the month's quartiles by more than three times their distance (Tukey's far-out values), with a floor for
//! months of little spread.

use crate::findings::{Finding, FindingKind, Findings, Location, Severity, counted};
use crate::year::WeatherYear;

/// A step to both sides of an hour larger than this is a spike \[K\]: fronts and storms step once, not there and back.
const SPIKE_K: f64 = 12.0;
/// Tukey's factor for far-out values.
const FAR_OUT: f64 = 3.0;
/// The quartiles' distance is taken as no less than this \[K\].
const LEAST_SPREAD_K: f64 = 5.0;

/// Says which hours stand out.
pub(crate) fn dry_bulb(year: &WeatherYear, findings: &mut Findings) {
    let bounds: Vec<(f64, f64)> = (1..=12).map(|month| bounds_c(year, month)).collect();
    let hours = year.hours();
    let at = |h: usize| year.dry_bulb_c.get(h % hours).copied().unwrap_or(0.0);
    let stands_out = |h: &usize| {
        let (low, high) = bounds.get(usize::from(year.month_of_hour(*h)) - 1).copied().unwrap_or_default();
        let (from, to) = (at(*h) - at(h + hours - 1), at(*h) - at(h + 1));
        let is_spike = from.abs().min(to.abs()) > SPIKE_K && from * to > 0.0;
        is_spike || at(*h) < low || at(*h) > high
    };
    let found: Vec<usize> = (0..hours).filter(stands_out).collect();
    let Some(&first) = found.first() else { return };
    let calendar = year.calendar();
    let places: Vec<Location> =
        found.iter().map(|&h| Location { line: None, hour: Some(calendar.stamp(h)) }).collect();
    let (low, high) = bounds.get(usize::from(year.month_of_hour(first)) - 1).copied().unwrap_or_default();
    let sentence = format!(
        "The dry bulb stands out in {}: {:.1} °C at the first, {:.1} °C the hour before; {low:.0}…{high:.0} °C is what the \
         rest of its month lets expect. Nothing was changed: look at the file there.",
        counted(found.len(), "hour"),
        at(first),
        at(first + hours - 1)
    );
    findings.push(Finding::at(FindingKind::Outlier, Severity::Warning, &places, sentence));
}

/// What the hours of a month let expect of each of them [°C].
fn bounds_c(year: &WeatherYear, month: u8) -> (f64, f64) {
    let mut values: Vec<f64> = (year.dry_bulb_c.iter().enumerate())
        .filter(|(h, _)| year.month_of_hour(*h) == month)
        .map(|(_, &t)| t)
        .collect();
    values.sort_by(f64::total_cmp);
    let at = |share: usize| values.get(values.len() * share / 4).copied().unwrap_or(0.0);
    let (lower, upper) = (at(1), at(3));
    let room = FAR_OUT * (upper - lower).max(LEAST_SPREAD_K);
    (lower - room, upper + room)
}

//! Hours whose dry bulb leaves its neighbours or the weeks around too far behind to be believed. Nothing is changed. What is
//! not here: values that no weather has (`quantity.rs`). Read next: `doubts.rs`.
//!
//! Two signs: a spike, up and down again (or down and up) by more than a front brings within the hour; and a value
//! outside the quartiles of the weeks around by more than three times their distance (Tukey's far-out values), with a
//! floor for months of little spread. Bounds stand in the middle of each month and run straight between: those of a
//! calendar month alone mistake the last frosty night of a month that cools fast for an error.

use crate::calendar::Calendar;
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
    let bounds = Bounds::of(year);
    let hours = year.hours();
    let at = |h: usize| year.dry_bulb_c.get(h % hours).copied().unwrap_or(0.0);
    let stands_out = |h: &usize| {
        let (low, high) = bounds.at(*h);
        let (from, to) = (at(*h) - at(h + hours - 1), at(*h) - at(h + 1));
        let is_spike = from.abs().min(to.abs()) > SPIKE_K && from * to > 0.0;
        is_spike || at(*h) < low || at(*h) > high
    };
    let found: Vec<usize> = (0..hours).filter(stands_out).collect();
    let Some(&first) = found.first() else { return };
    let places: Vec<Location> =
        found.iter().map(|&h| Location { line: None, hour: Some(bounds.calendar.stamp(h)) }).collect();
    let (low, high) = bounds.at(first);
    let sentence = format!(
        "The dry bulb stands out in {}: {:.1} °C at the first, {:.1} °C the hour before; {low:.0}…{high:.0} °C is what the \
         weeks around let expect. Nothing was changed: look at the file there.",
        counted(found.len(), "hour"),
        at(first),
        at(first + hours - 1)
    );
    findings.push(Finding::at(FindingKind::Outlier, Severity::Warning, &places, sentence));
}

/// What the weeks around an hour let expect of its dry bulb [°C].
struct Bounds {
    calendar: Calendar,
    /// Lowest and highest of January to December, in the middle of each.
    months: Vec<(f64, f64)>,
}

impl Bounds {
    fn of(year: &WeatherYear) -> Self {
        Self { calendar: year.calendar(), months: (1..=12).map(|month| bounds_c(year, month)).collect() }
    }

    fn at(&self, h: usize) -> (f64, f64) {
        let month = self.calendar.month_of_hour(h);
        let middle_h = |month: u8| {
            self.calendar.first_hour_of_month(month) as f64
                + 12.0 * f64::from(self.calendar.days_in_month(month))
        };
        let before = if (h as f64) < middle_h(month) { (month + 10) % 12 + 1 } else { month };
        let after = before % 12 + 1;
        let hours = self.calendar.hours() as f64;
        let share = (h as f64 - middle_h(before)).rem_euclid(hours)
            / (middle_h(after) - middle_h(before)).rem_euclid(hours);
        let of = |month: u8| self.months.get(usize::from(month) - 1).copied().unwrap_or_default();
        let ((low, high), (next_low, next_high)) = (of(before), of(after));
        (low + share * (next_low - low), high + share * (next_high - high))
    }
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

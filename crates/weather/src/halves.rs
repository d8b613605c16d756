//! Half-hourly rows to hours. What is not here: gaps and humidity (`complete.rs`). Read next: `table.rs`.
//!
//! A half-hourly row is a moment. The state of the air over the hour that begins at `h` is
//! `¼ x(h:00) + ½ x(h:30) + ¼ x(h+1:00)` (the trapezoidal rule), on the compass for the wind's direction; irradiance is the
//! mean of the two rows of the hour. The year is a ring, so the last hour looks at the first.

use crate::calendar::Calendar;
use crate::dew_point;
use crate::error::WeatherError;
use crate::findings::{Finding, FindingKind, Location, Severity, counted};
use crate::quantity::Quantity;
use crate::table::{Row, Table};

/// Replaces a table's half-hourly rows by hours; `minutes` are those of its rows, 0 or 30.
pub(crate) fn join(table: &mut Table, minutes: &[u8]) -> Result<(), WeatherError> {
    table.findings.extend(dew_point::check(&table.rows, "half-hour")?);
    let (calendar, halves) = in_order(&table.rows, minutes)?;
    table.findings.push(Finding::whole_file(
        FindingKind::HalfHoursJoined,
        Severity::Note,
        "Half-hourly rows were joined to hours: ¼, ½ and ¼ of three for the air, the mean of two for irradiance.".to_owned(),
    ));
    table.findings.extend(lonely(calendar, &halves));
    let hours: Vec<Row> = (0..calendar.hours()).filter_map(|h| hour(&halves, h)).collect();
    table.rows = hours;
    // The mean of two moments stands between them; a mean over the hour would stand in its middle.
    table.sun_offsets_h = vec![0.25, 0.5];
    Ok(())
}

type Halves<'a> = Vec<Option<&'a Row>>;

fn in_order<'a>(rows: &'a [Row], minutes: &[u8]) -> Result<(Calendar, Halves<'a>), WeatherError> {
    let calendar = Calendar::of_stamps(rows.iter().map(|row| row.stamp));
    let mut halves: Halves = vec![None; 2 * calendar.hours()];
    for (row, minute) in rows.iter().zip(minutes) {
        let at = calendar.index(row.stamp).map(|h| 2 * h + usize::from(*minute == 30));
        let Some(slot) = at.and_then(|at| halves.get_mut(at)) else {
            return Err(WeatherError::BadStamp { line: row.line, text: row.stamp.numbers() });
        };
        if let Some(earlier) = slot {
            let (line, first_line, hour) = (row.line, earlier.line, row.stamp);
            return Err(WeatherError::HourTwice { line, first_line, hour });
        }
        *slot = Some(row);
    }
    Ok((calendar, halves))
}

/// Hours of which one of the two rows is missing.
fn lonely(calendar: Calendar, halves: &Halves) -> Option<Finding> {
    let places: Vec<Location> = (halves.chunks(2).enumerate())
        .filter(|(_, pair)| pair.iter().flatten().count() == 1)
        .map(|(h, _)| Location { line: None, hour: Some(calendar.stamp(h)) })
        .collect();
    let sentence = format!(
        "One of two half-hourly rows is missing in {}: the hours that need it were interpolated.",
        counted(places.len(), "hour")
    );
    (!places.is_empty()).then(|| Finding::at(FindingKind::FilledGap, Severity::Warning, &places, sentence))
}

/// The row of an hour; `None` where neither of its two rows is there.
fn hour(halves: &Halves, h: usize) -> Option<Row> {
    let at = |i: usize| halves.get(i % halves.len()).copied().flatten();
    let [begin, middle, end] = [at(2 * h), at(2 * h + 1), at(2 * h + 2)];
    let named = begin.or(middle)?;
    let mut row = Row { line: named.line, stamp: named.stamp, values: [None; Quantity::ALL.len()] };
    for quantity in Quantity::ALL {
        let value = |row: Option<&Row>| row.and_then(|row| held(row, quantity));
        let joined = match quantity {
            Quantity::Global | Quantity::Direct | Quantity::Diffuse => mean(value(begin), value(middle)),
            Quantity::WindDirection => turned(value(begin), value(middle), value(end)),
            _ => weighted(value(begin), value(middle), value(end)),
        };
        if let Some(slot) = row.values.get_mut(quantity as usize) {
            *slot = joined;
        }
    }
    Some(row)
}

/// A row's value; a dew point at most the dry bulb, which was counted before.
fn held(row: &Row, quantity: Quantity) -> Option<f64> {
    let value = row.get(quantity)?;
    match quantity {
        Quantity::DewPoint => {
            Some(row.get(Quantity::DryBulb).map_or(value, |dry_bulb_c| value.min(dry_bulb_c)))
        }
        _ => Some(value),
    }
}

fn mean(begin: Option<f64>, middle: Option<f64>) -> Option<f64> {
    Some(0.5 * (begin? + middle?))
}

fn weighted(begin: Option<f64>, middle: Option<f64>, end: Option<f64>) -> Option<f64> {
    Some(0.25 * begin? + 0.5 * middle? + 0.25 * end?)
}

/// The mean direction; the middle one where the three cancel.
fn turned(begin: Option<f64>, middle: Option<f64>, end: Option<f64>) -> Option<f64> {
    let angles = [(begin?, 0.25), (middle?, 0.5), (end?, 0.25)];
    let (east, north) = angles.iter().fold((0.0, 0.0), |(east, north), (deg, weight)| {
        let (sin, cos) = deg.to_radians().sin_cos();
        (east + weight * sin, north + weight * cos)
    });
    if f64::hypot(east, north) < 1e-9 {
        middle
    } else {
        Some(east.atan2(north).to_degrees().rem_euclid(360.0))
    }
}

//! Turning a year from the clock of its rows to local standard time. What is not here: which clock a format uses. Read
//! next: `complete.rs`.
//!
//! The year is a ring: what passes its end comes in at its beginning, so the last hours of December become the first of
//! January (or the other way round), as they do between any two months that come from different years.

use crate::findings::{Finding, FindingKind, Findings, Severity};
use crate::year::{Overrides, PlaceOverride, WeatherYear};

/// The zone of the sun's own time, 15° an hour, where a file in another clock and the user both say none.
pub(crate) fn assumed_zone(file: &PlaceOverride, overrides: &Overrides) -> Option<(f64, Finding)> {
    if file.time_zone_h.is_some() || overrides.place.time_zone_h.is_some() {
        return None;
    }
    let longitude_deg = overrides.place.longitude_deg.or(file.longitude_deg)?;
    let zone_h = (longitude_deg / 15.0).round() + 0.0;
    let sentence = format!(
        "The file gives no time zone: UTC{zone_h:+} h was taken from its longitude. Give `time_zone` where clocks differ."
    );
    Some((zone_h, Finding::whole_file(FindingKind::TimeZoneAssumed, Severity::Note, sentence)))
}

/// Turns every column by full hours; the part of an hour that is left is answered, and is to be added to where the sun
/// stands: with clocks half an hour off, a full hour of UTC falls on a half-past, and holds in the clock hour around it.
pub(crate) fn to_local_time(year: &mut WeatherYear, clock_h: f64, findings: &mut Findings) -> f64 {
    let ahead_h = year.place.time_zone_h - clock_h;
    let whole_h = ahead_h.floor();
    let length = year.hours();
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number below the year's length"
    )]
    let steps = whole_h.rem_euclid(length.max(1) as f64) as usize;
    for column in [
        &mut year.dry_bulb_c,
        &mut year.humidity_ratio,
        &mut year.pressure_pa,
        &mut year.wind_speed_m_per_s,
        &mut year.wind_direction_deg,
        &mut year.global_horizontal_w_per_m2,
        &mut year.direct_normal_w_per_m2,
        &mut year.diffuse_horizontal_w_per_m2,
    ] {
        column.rotate_right(steps.min(length));
    }
    if ahead_h.abs() > 0.0 {
        let clock = if clock_h.abs() > 0.0 { format!("UTC{clock_h:+} h") } else { "UTC".to_owned() };
        let sentence = format!(
            "The rows are in {clock}: the year was turned by {whole_h:+} h to local standard time, and what passed \
             one end of it came in at the other. Hours named with a line are the file's own."
        );
        findings.push(Finding::whole_file(FindingKind::TurnedToLocalTime, Severity::Note, sentence));
    }
    ahead_h - whole_h
}

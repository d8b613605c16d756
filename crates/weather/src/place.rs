//! The station's place: the file's own words, the user's over them, and their ranges. Read next: [`crate::year`].

use crate::error::WeatherError;
use crate::findings::{Finding, FindingKind, Severity};
use crate::year::{Place, PlaceOverride, UNNAMED_PLACE};

/// Coordinates this near are one place, rounded differently \[°\].
const ROUNDING_DEG: f64 = 0.1;
/// Elevations this near are one place, rounded differently \[m\].
const ROUNDING_M: f64 = 10.0;

/// Joins the file's place with the user's.
pub(crate) fn resolve(file: &PlaceOverride, user: &PlaceOverride) -> Result<Place, WeatherError> {
    let part =
        |what, user: Option<f64>, file: Option<f64>| user.or(file).ok_or(WeatherError::PlaceMissing { what });
    let latitude = part("latitude", user.latitude_deg, file.latitude_deg)?;
    let longitude = part("longitude", user.longitude_deg, file.longitude_deg)?;
    let elevation = part("elevation", user.elevation_m, file.elevation_m)?;
    let time_zone = part("time zone", user.time_zone_h, file.time_zone_h)?;
    let name = user.name.clone().or_else(|| file.name.clone());
    let blamed = |user: Option<f64>, checked: Result<f64, WeatherError>| {
        if user.is_some() { checked } else { checked.map_err(WeatherError::in_file) }
    };
    Ok(Place {
        name: name.unwrap_or_else(|| UNNAMED_PLACE.to_owned()),
        latitude_deg: blamed(user.latitude_deg, check_range("latitude [°]", latitude, -90.0, 90.0))?,
        longitude_deg: blamed(user.longitude_deg, check_range("longitude [°]", longitude, -180.0, 180.0))?,
        elevation_m: blamed(user.elevation_m, check_range("elevation [m]", elevation, -450.0, 6000.0))?,
        time_zone_h: blamed(user.time_zone_h, check_range("time zone [h]", time_zone, -12.0, 14.0))?,
    })
}

/// Clocks lie at most this far from the sun's own time \[h\]: the west of China keeps a clock 3.2 h ahead of it.
const MOST_FROM_SUN_H: f64 = 4.0;

/// Refuses a time zone that does not belong to the longitude; the date line is no distance.
pub(crate) fn check_zone(time_zone_h: f64, longitude_deg: f64) -> Result<(), WeatherError> {
    let sun_h = longitude_deg / 15.0;
    let apart_h = ((time_zone_h - sun_h + 12.0).rem_euclid(24.0) - 12.0).abs();
    if apart_h <= MOST_FROM_SUN_H {
        return Ok(());
    }
    Err(WeatherError::ZoneAgainstLongitude { time_zone_h, longitude_deg, sun_h, most_h: MOST_FROM_SUN_H })
}

/// One finding for each part of the place that the user gave clearly otherwise than the file; the user's is taken.
pub(crate) fn conflicts(file: &PlaceOverride, user: &PlaceOverride) -> Vec<Finding> {
    let parts = [
        ("latitude", file.latitude_deg, user.latitude_deg, ROUNDING_DEG, "°"),
        ("longitude", file.longitude_deg, user.longitude_deg, ROUNDING_DEG, "°"),
        ("elevation", file.elevation_m, user.elevation_m, ROUNDING_M, " m"),
        ("time zone", file.time_zone_h, user.time_zone_h, 0.0, " h"),
    ];
    let conflict = |(what, file, user, rounding, unit): (&str, Option<f64>, Option<f64>, f64, &str)| {
        let (file, user) = (file?, user?);
        let sentence =
            format!("The file says {what} {file}{unit}, but {user}{unit} was given: the latter was taken.");
        let finding = Finding::whole_file(FindingKind::PlaceConflict, Severity::Warning, sentence);
        ((file - user).abs() > rounding).then_some(finding)
    };
    parts.into_iter().filter_map(conflict).collect()
}

/// The value, if it lies in its range.
pub(crate) fn check_range(what: &'static str, value: f64, low: f64, high: f64) -> Result<f64, WeatherError> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(WeatherError::PlaceOutOfRange { what, value, low, high })
    }
}

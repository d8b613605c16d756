//! Where the sun stands. What is not here: what it does to a surface ([`crate::tilted`]), whether a file's irradiance
//! agrees with it ([`crate::sun_check`]). Read next: [`crate::tilted`].
//!
//! The months of a typical year come from different years, so one calendar stands for all: 2021 (2020 for years with
//! 29 February). Within the four-year cycle the sun's declination at a given date moves by up to 0.1°; that is the
//! error of this choice, ten times that of the formulas. Refraction, 0.5° at the horizon, is left out.

use crate::calendar::Calendar;
use crate::year::{Place, WeatherYear};
use rayon::prelude::*;
use std::f64::consts::TAU;

/// Hours that are worth a thread of their own.
pub(crate) const HOURS_AT_ONCE: usize = 512;

/// The sun's place in the sky, without refraction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunPosition {
    /// Angle from straight up [°], 0…180; below the horizon past 90.
    pub zenith_deg: f64,
    /// Compass direction [°], clockwise from north, 0…360.
    pub azimuth_deg: f64,
}

impl SunPosition {
    /// Cosine of the zenith angle, zero where the sun is below the horizon.
    pub fn height(self) -> f64 {
        self.zenith_deg.to_radians().cos().max(0.0)
    }
}

/// The sun as the Earth sees it at one moment.
#[derive(Debug, Clone, Copy)]
struct Apparent {
    declination_rad: f64,
    /// Sundial time less clock time [min].
    equation_of_time_min: f64,
}

/// The sun's position at `hour` hours after 1 January 00:00 of local standard time; any finite hour.
///
/// Within 0.02° of the full almanac for the calendar's year.
///
/// # Source
/// \[MEEUS\] Astronomical Algorithms, ch. 25 (low accuracy) and 28; checked against the reference algorithm of
/// Reda and Andreas as pvlib runs it.
pub fn position(place: &Place, calendar: Calendar, hour: f64) -> SunPosition {
    let sun = apparent(calendar, hour - place.time_zone_h);
    let clock_min = hour * 60.0;
    let sundial_min =
        clock_min + sun.equation_of_time_min + 4.0 * place.longitude_deg - 60.0 * place.time_zone_h;
    let hour_angle = (sundial_min / 4.0 - 180.0).to_radians();
    let latitude = place.latitude_deg.to_radians();
    let (sin_d, cos_d) = sun.declination_rad.sin_cos();
    let (sin_l, cos_l) = latitude.sin_cos();
    let cos_zenith = (sin_l * sin_d + cos_l * cos_d * hour_angle.cos()).clamp(-1.0, 1.0);
    let (west, north) = (hour_angle.sin() * cos_d, cos_l * sin_d - sin_l * cos_d * hour_angle.cos());
    SunPosition {
        zenith_deg: cos_zenith.acos().to_degrees(),
        azimuth_deg: (-west).atan2(north).to_degrees().rem_euclid(360.0),
    }
}

/// The sun's position for each hour of a year, at its own [`WeatherYear::sun_offset_h`].
pub fn positions(year: &WeatherYear) -> Vec<SunPosition> {
    positions_at(year, year.sun_offset_h)
}

/// The sun's position for each hour of a year, `offset_h` hours after the hour begins.
pub fn positions_at(year: &WeatherYear, offset_h: f64) -> Vec<SunPosition> {
    let calendar = year.calendar();
    let hours_of_year = (0..year.hours()).into_par_iter().with_min_len(HOURS_AT_ONCE);
    hours_of_year.map(|h| position(&year.place, calendar, hours(h) + offset_h)).collect()
}

/// Irradiance outside the atmosphere on a plane facing the sun [W/m²], day 1…366.
///
/// `1366.1 (1.00011 + 0.034221 cos B + 0.00128 sin B + 0.000719 cos 2B + 0.000077 sin 2B)`, `B = 2π (day - 1)/365`
///
/// # Source
/// \[SPENCER\] Fourier series of the Sun, Search 2 (1971) 172, with the solar constant 1366.1 W/m².
pub fn extraterrestrial_w_per_m2(day_of_year: u16) -> f64 {
    let b = TAU * (f64::from(day_of_year) - 1.0) / 365.0;
    let series = 1.00011 + 0.034221 * b.cos() + 0.00128 * b.sin();
    1366.1 * (series + 0.000719 * (2.0 * b).cos() + 0.000077 * (2.0 * b).sin())
}

fn apparent(calendar: Calendar, utc_hour: f64) -> Apparent {
    let first_day = match calendar {
        Calendar::Common => 2459215.5,
        Calendar::Leap => 2458849.5,
    };
    let century = (first_day + utc_hour / 24.0 - 2451545.0) / 36525.0;
    let mean_longitude = (280.46646 + century * (36000.76983 + century * 0.0003032)).to_radians();
    let anomaly = (357.52911 + century * (35999.05029 - century * 0.0001537)).to_radians();
    let eccentricity = 0.016708634 - century * (0.000042037 + century * 0.0000001267);
    let node = (125.04 - 1934.136 * century).to_radians();
    let centre_deg = anomaly.sin() * (1.914602 - century * (0.004817 + century * 0.000014))
        + (2.0 * anomaly).sin() * (0.019993 - century * 0.000101)
        + (3.0 * anomaly).sin() * 0.000289;
    let longitude = mean_longitude + (centre_deg - 0.00569 - 0.00478 * node.sin()).to_radians();
    let obliquity = (23.4392911 - 0.0130042 * century + 0.00256 * node.cos()).to_radians();
    let y = (obliquity / 2.0).tan().powi(2);
    let equation_rad = y * (2.0 * mean_longitude).sin() - 2.0 * eccentricity * anomaly.sin()
        + 4.0 * eccentricity * y * anomaly.sin() * (2.0 * mean_longitude).cos()
        - 0.5 * y * y * (4.0 * mean_longitude).sin()
        - 1.25 * eccentricity * eccentricity * (2.0 * anomaly).sin();
    Apparent {
        declination_rad: (obliquity.sin() * longitude.sin()).clamp(-1.0, 1.0).asin(),
        equation_of_time_min: 4.0 * equation_rad.to_degrees(),
    }
}

#[allow(clippy::cast_precision_loss, reason = "hours of a year are far below 2^52")]
pub(crate) fn hours(h: usize) -> f64 {
    h as f64
}

//! Making a year from monthly normals and a seed: for tests and examples, never for a design or a claim. What is not
//! here: the normals of the four climates that come with the project ([`crate::invented`]). Read next:
//! `make/air.rs`, `make/sunshine.rs`, and `make/from_normals.rs` for normals that someone else states.
//!
//! Monthly means of dry bulb, dew point, clearness and wind are met. Days follow each other by a first-order
//! autoregression, hours within a day by published mean shapes. What real weather has and this lacks: fronts, seasonal
//! winds, fog, the links between them.
//!
//! The same seed gives the same bits on the same platform. On another, the last bit of a sine may differ; values are
//! rounded as a station would report them, so that most such differences vanish, but only one platform is checked.

mod air;
mod fit;
mod from_normals;
mod random;
mod sunshine;

pub use from_normals::{Humidity, Month, Normals, NormalsError, Sun, from_normals};

use crate::humidity;
use crate::place;
use crate::year::{Format, HumidityBasis, HumidityOrigin, Place, WeatherYear};
use crate::{Calendar, WeatherError};
use psychrometrics::formulas::saturation_humidity_ratio_over_water;

/// What one month is like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthNormals {
    /// Mean dry bulb [°C], −60…45.
    pub dry_bulb_c: f64,
    /// Mean dew point over water [°C], −70…32, below the dry bulb.
    pub dew_point_c: f64,
    /// Mean difference between the warmest and the coldest hour of a day \[K\], 0…25.
    pub daily_swing_k: f64,
    /// Spread of daily means about the normal \[K\], 0…12.
    pub day_to_day_k: f64,
    /// Mean share of the extraterrestrial irradiation that arrives, 0.2…0.7.
    pub clearness: f64,
    /// Mean wind speed at 10 m [m/s], 0.5…20.
    pub wind_m_per_s: f64,
}

/// What a year is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    /// Where it is.
    pub place: Place,
    /// Its months.
    pub months: [MonthNormals; 12],
    /// Direction most wind comes from [°].
    pub prevailing_wind_deg: f64,
    /// The seed of all chance in it.
    pub seed: u64,
}

/// Makes a common year. Air is never above saturation; `diffuse + beam cos z = global` within rounding.
///
/// # Errors
/// [`WeatherError::PlaceOutOfRange`] names the normal that is outside its range.
pub fn make(climate: &Climate) -> Result<WeatherYear, WeatherError> {
    check(climate)?;
    let (daily_clearness, sunshine) = sunshine::days_and_hours(climate);
    let pressure_pa = air::pressure_pa(climate);
    let dry_bulb_c = air::dry_bulb_c(climate, &daily_clearness);
    let dew_point_c = air::dew_point_c(climate, &dry_bulb_c);
    let humidity_ratio = (dry_bulb_c.iter().zip(&dew_point_c).zip(&pressure_pa))
        .map(|((&t, &dew_point_c), &p)| {
            let stated = saturation_humidity_ratio_over_water(dew_point_c, p);
            // Rounded down, or the last digit could lift the air above saturation.
            (stated.min(humidity::saturated_ratio(t, p)) * 1e7).floor() / 1e7
        })
        .collect();
    let seed = climate.seed;
    Ok(WeatherYear {
        dry_bulb_c,
        humidity_ratio,
        pressure_pa,
        wind_speed_m_per_s: air::wind_speed_m_per_s(climate),
        wind_direction_deg: air::wind_direction_deg(climate),
        global_horizontal_w_per_m2: sunshine.global,
        direct_normal_w_per_m2: sunshine.direct,
        diffuse_horizontal_w_per_m2: sunshine.diffuse,
        place: climate.place.clone(),
        sun_offset_h: 0.5,
        wind_height_m: 10.0,
        humidity_basis: HumidityBasis::Water,
        humidity_origin: HumidityOrigin::NotNeeded,
        format: Format::Made,
        is_synthetic: true,
        shifted: None,
        source: format!(
            "INVENTED: not a real place; made from monthly normals, seed {seed}; for examples only"
        ),
    })
}

fn check(climate: &Climate) -> Result<(), WeatherError> {
    for month in &climate.months {
        place::check_range("normal dry bulb [°C]", month.dry_bulb_c, -60.0, 45.0)?;
        place::check_range("normal dew point [°C]", month.dew_point_c, -70.0, month.dry_bulb_c.min(32.0))?;
        place::check_range("normal daily swing [K]", month.daily_swing_k, 0.0, 25.0)?;
        place::check_range("normal day-to-day spread [K]", month.day_to_day_k, 0.0, 12.0)?;
        place::check_range("normal clearness", month.clearness, 0.2, 0.7)?;
        place::check_range("normal wind [m/s]", month.wind_m_per_s, 0.5, 20.0)?;
    }
    place::check_range("prevailing wind [°]", climate.prevailing_wind_deg, 0.0, 360.0)?;
    let Place { latitude_deg, longitude_deg, elevation_m, time_zone_h, .. } = climate.place;
    place::check_range("latitude [°]", latitude_deg, -65.0, 65.0)?;
    place::check_range("longitude [°]", longitude_deg, -180.0, 180.0)?;
    place::check_range("elevation [m]", elevation_m, -450.0, 5000.0)?;
    place::check_range("time zone [h]", time_zone_h, -12.0, 14.0)?;
    place::check_zone(time_zone_h, longitude_deg)?;
    Ok(())
}

const CALENDAR: Calendar = Calendar::Common;
const HOURS: usize = 8760;
const DAYS: usize = 365;

/// A monthly normal for each hour: straight lines between the middles of the months.
fn smooth(climate: &Climate, pick: impl Fn(&MonthNormals) -> f64) -> Vec<f64> {
    let values = climate.months.each_ref().map(pick);
    (0..HOURS).map(|h| between_months(&values, h)).collect()
}

fn between_months(values: &[f64; 12], h: usize) -> f64 {
    let month = usize::from(CALENDAR.month_of_hour(h)) - 1;
    let middle = |m: usize| {
        let number = u8::try_from(m + 1).unwrap_or(12);
        f64::from(CALENDAR.days_in_month(number)) * 12.0
    };
    let number = u8::try_from(month + 1).unwrap_or(12);
    let since_start = crate::sun::hours(h - CALENDAR.first_hour_of_month(number)) + 0.5;
    let from_middle = since_start - middle(month);
    let other = if from_middle < 0.0 { (month + 11) % 12 } else { (month + 1) % 12 };
    let share = from_middle.abs() / (middle(month) + middle(other));
    values[month] + (values[other] - values[month]) * share
}

/// The mean of each month.
fn monthly_means(hourly: &[f64]) -> [f64; 12] {
    let mut means = [0.0; 12];
    for (slot, month) in means.iter_mut().zip(1_u8..) {
        let start = CALENDAR.first_hour_of_month(month);
        let end = start + usize::from(CALENDAR.days_in_month(month)) * 24;
        *slot = humidity::mean(hourly.get(start..end).unwrap_or_default());
    }
    means
}

/// Moves a year smoothly until `shape` of it meets the monthly normals.
fn meet_means(base: &mut [f64], normals: &[f64; 12], shape: impl Fn(&[f64]) -> Vec<f64>) -> Vec<f64> {
    for _ in 0..60 {
        let means = monthly_means(&shape(base));
        let mut missing = [0.0; 12];
        for ((slot, normal), mean) in missing.iter_mut().zip(normals).zip(means) {
            *slot = normal - mean;
        }
        base.iter_mut().enumerate().for_each(|(h, value)| *value += between_months(&missing, h));
    }
    shape(base)
}

fn round_to(value: f64, per_unit: f64) -> f64 {
    (value * per_unit).round() / per_unit
}

//! Dry bulb, dew point, wind and pressure of a made year. What is not here: the sun (`sunshine.rs`). Read next:
//! `../make.rs`.

use super::random::{Series, Stream, share_below};
use super::{CALENDAR, Climate, DAYS, HOURS, meet_means, monthly_means, round_to, smooth};
use crate::sun::hours;
use std::f64::consts::TAU;

/// Dry bulb [°C], to 0.01: normal, day-to-day departure, daily shape; clear days swing more.
///
/// # Source
/// [ERBS-1983] for the daily shape; [KKD-1991] for the autoregression of daily means.
pub(super) fn dry_bulb_c(climate: &Climate, daily_clearness: &[f64]) -> Vec<f64> {
    let normals = climate.months.map(|month| month.dry_bulb_c);
    let swing = smooth(climate, |month| month.daily_swing_k);
    let clearness = smooth(climate, |month| month.clearness);
    let spread = smooth(climate, |month| month.day_to_day_k);
    let mut departures = Series::new(climate.seed, Stream::DailyTemperature, 0.65).take(DAYS);
    // Straight lines between noons leave 92 % of the spread of a series with this memory.
    for departure in &mut departures {
        *departure /= 0.922;
    }
    let mut base = smooth(climate, |month| month.dry_bulb_c);
    let shape: Vec<f64> = (0..HOURS)
        .map(|h| {
            let clear = 0.4 + 0.6 * daily_clearness[h / 24] / clearness[h];
            spread[h] * between_days(&departures, h) + swing[h] * clear * daily_shape(h % 24 + 1)
        })
        .collect();
    let exact = meet_means(&mut base, &normals, |base| base.iter().zip(&shape).map(|(a, b)| a + b).collect());
    exact.into_iter().map(|t| round_to(t.clamp(-74.0, 60.0), 100.0)).collect()
}

/// Dew point over water [°C]: it follows the departure of the air's daily mean, wanders by itself, and never passes the
/// dry bulb.
pub(super) fn dew_point_c(climate: &Climate, dry_bulb_c: &[f64]) -> Vec<f64> {
    let normals = climate.months.map(|month| month.dew_point_c);
    let mut base = free_dew_point_c(climate, dry_bulb_c);
    meet_means(&mut base, &normals, |base| {
        base.iter().zip(dry_bulb_c).map(|(&dew, &t)| dew.min(limit_c(t)).max(-90.0)).collect()
    })
}

/// The same before any limit, with means that are only near the normals.
pub(super) fn free_dew_point_c(climate: &Climate, dry_bulb_c: &[f64]) -> Vec<f64> {
    let normal_air = smooth(climate, |month| month.dry_bulb_c);
    let wander = Series::new(climate.seed, Stream::DewPoint, 0.6).take(DAYS);
    let spread =
        smooth(climate, |month| 0.45 * (month.dry_bulb_c - month.dew_point_c) + 0.15 * month.day_to_day_k);
    let daily_air: Vec<f64> = dry_bulb_c.chunks(24).map(crate::humidity::mean).collect();
    let mut base: Vec<f64> = smooth(climate, |month| month.dew_point_c);
    for (h, value) in base.iter_mut().enumerate() {
        *value += 0.8 * (between_days(&daily_air, h) - normal_air[h]) + spread[h] * between_days(&wander, h);
    }
    base
}

/// The dew point over water that air of this temperature reaches: a little under saturation, over ice below 0 °C.
fn limit_c(dry_bulb_c: f64) -> f64 {
    // Saturation over ice lies about 0.12 K a degree of frost below that over water.
    dry_bulb_c - 0.2 + 0.115 * dry_bulb_c.min(0.0)
}

/// Wind speed [m/s], to 0.1: Weibull with shape 2, remembering; livelier in the afternoon.
pub(super) fn wind_speed_m_per_s(climate: &Climate) -> Vec<f64> {
    let raw = raw_wind_m_per_s(climate);
    let means = monthly_means(&raw);
    (raw.into_iter().enumerate())
        .map(|(h, speed)| {
            let month = usize::from(CALENDAR.month_of_hour(h)) - 1;
            round_to(speed * climate.months[month].wind_m_per_s / means[month], 10.0)
        })
        .collect()
}

/// The same before its means are met and it is rounded.
pub(super) fn raw_wind_m_per_s(climate: &Climate) -> Vec<f64> {
    let normal = smooth(climate, |month| month.wind_m_per_s);
    let mut series = Series::new(climate.seed, Stream::WindSpeed, 0.92);
    (normal.iter().enumerate())
        .map(|(h, mean)| {
            let share = share_below(series.next()).min(0.9999);
            let by_day = 1.0 + 0.2 * (TAU * (hours(h % 24) - 14.0) / 24.0).cos();
            mean * by_day * (-(1.0 - share).ln()).sqrt() / 0.886227
        })
        .collect()
}

/// Wind direction [°], to 1: it wanders about the prevailing one.
pub(super) fn wind_direction_deg(climate: &Climate) -> Vec<f64> {
    let mut series = Series::new(climate.seed, Stream::WindDirection, 0.95);
    (0..HOURS)
        .map(|_| (climate.prevailing_wind_deg + 70.0 * series.next()).round().rem_euclid(360.0))
        .collect()
}

/// Pressure \[Pa\], to 10: the standard atmosphere's, with highs and lows of a few days.
pub(super) fn pressure_pa(climate: &Climate) -> Vec<f64> {
    let standard_pa = crate::doubts::standard_pressure_pa(climate.place.elevation_m);
    let mut series = Series::new(climate.seed, Stream::Pressure, 0.985);
    (0..HOURS).map(|_| ((standard_pa + 700.0 * series.next()) / 10.0).round() * 10.0).collect()
}

/// A daily series joined by straight lines between noons.
pub(super) fn between_days(daily: &[f64], h: usize) -> f64 {
    let (day, hour) = (h / 24, hours(h % 24) + 0.5);
    let days = daily.len();
    let other = if hour < 12.0 { (day + days - 1) % days } else { (day + 1) % days };
    daily[day] + (daily[other] - daily[day]) * (hour - 12.0).abs() / 24.0
}

/// Departure from the day's mean, for a swing of 1 K, in the hour that ends at `hour_ending`.
pub(super) fn daily_shape(hour_ending: usize) -> f64 {
    let t = TAU * (hours(hour_ending) - 1.0) / 24.0;
    0.4632 * (t - 3.805).cos()
        + 0.0984 * (2.0 * t - 0.360).cos()
        + 0.0168 * (3.0 * t - 0.822).cos()
        + 0.0138 * (4.0 * t - 3.513).cos()
}

#[cfg(test)]
mod tests {
    use super::daily_shape;

    /// Values worked from the published series with another tool.
    #[test]
    fn the_daily_shape_is_the_published_one() {
        let expected = [(1, -0.2743), (6, -0.4513), (12, 0.3396), (15, 0.5245), (18, 0.3223), (24, -0.2190)];
        for (hour, value) in expected {
            assert!((daily_shape(hour) - value).abs() < 5e-5, "hour {hour}: {}", daily_shape(hour));
        }
        assert!((1..=24).map(daily_shape).sum::<f64>().abs() < 1e-9);
    }
}

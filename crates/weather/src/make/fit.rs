//! Moving the air of a made year until each month's normals are met. What is not here: which normals can be
//! (`from_normals.rs`), the sun (`sunshine.rs`). Read next: `from_normals.rs`.

use super::air::{between_days, daily_shape, raw_wind_m_per_s};
use super::random::{Series, Stream};
use super::{CALENDAR, Climate, DAYS, HOURS, between_months, meet_means, round_to, smooth};
use crate::humidity::{mean, saturated_ratio, saturation_on};
use crate::normals::daily_range_k;
use crate::year::HumidityBasis;
use psychrometrics::formulas::{saturation_humidity_ratio_over_water, saturation_pa};

/// Times that a month's amount is moved smoothly before the rest is moved at once.
const SMOOTH_STEPS: usize = 12;
/// Parts of the distance searched to which an amount is found: on the way, and at the end.
const COARSE: f64 = 1e-3;
pub(super) const FINE: f64 = 1e-11;
const RANGE_STEPS: usize = 100;
/// The limits of the air that is made [°C].
pub(super) const COLDEST_C: f64 = -74.0;
pub(super) const HOTTEST_C: f64 = 60.0;
/// The driest dew point that is made [°C].
const DRIEST_C: f64 = -90.0;
/// From hour to hour air is never quite still, also in the polar night: assumed \[K\].
const FLUTTER_K: f64 = 0.1;
/// The dampest, a little above the highest on record [°C].
const DAMPEST_HOUR_C: f64 = 36.0;
/// A day keeps at least this share of its range as its own warming and cooling.
const LEAST_SWING: f64 = 0.2;

/// Hours of a month of the common year, 0 for January.
pub(super) fn hours_of_month(month: usize) -> std::ops::Range<usize> {
    let number = u8::try_from(month + 1).unwrap_or(12);
    let first = CALENDAR.first_hour_of_month(number);
    first..first + 24 * usize::from(CALENDAR.days_in_month(number))
}

/// The amount between `low` and `high`, to a part of their distance, at which a rising function reaches `target`; an end
/// where it never does.
pub(super) fn settle(
    target: f64,
    (mut low, mut high): (f64, f64),
    part: f64,
    at: impl Fn(f64) -> f64,
) -> f64 {
    let near = part * (high - low);
    while high - low > near {
        let middle = 0.5 * (low + high);
        if at(middle) < target { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Dry bulb [°C], to 0.01: as [`super::air::dry_bulb_c`], with the mean daily ranges that were asked for.
pub(super) fn dry_bulb_c(climate: &Climate, day_clearness: &[f64], ranges_k: &[Option<f64>; 12]) -> Vec<f64> {
    let normals = climate.months.map(|month| month.dry_bulb_c);
    let mut departures = Series::new(climate.seed, Stream::DailyTemperature, 0.65).take(DAYS);
    for departure in &mut departures {
        *departure /= 0.922;
    }
    let mut swings = climate.months.map(|month| month.daily_swing_k);
    let mut spreads = climate.months.map(|month| month.day_to_day_k);
    let shapes: Vec<f64> = (1..=24).map(daily_shape).collect();
    let flutter = Series::new(climate.seed, Stream::Flutter, 0.5).take(HOURS);
    let shape = |swings: &[f64; 12], spreads: &[f64; 12]| -> Vec<f64> {
        (0..HOURS)
            .map(|h| {
                let own = between_months(swings, h) * (0.4 + 0.6 * day_clearness[h / 24]) * shapes[h % 24];
                between_months(spreads, h) * between_days(&departures, h) + own + FLUTTER_K * flutter[h]
            })
            .collect()
    };
    let sum = |base: &[f64], shape: &[f64]| base.iter().zip(shape).map(|(a, b)| a + b).collect::<Vec<f64>>();
    let mut base = smooth(climate, |month| month.dry_bulb_c);
    let met = |base: &mut Vec<f64>, shape: &[f64]| {
        meet_means(base, &normals, |base| {
            sum(base, shape).into_iter().map(|t| t.clamp(COLDEST_C, HOTTEST_C)).collect()
        })
    };
    let mut air = met(&mut base, &shape(&swings, &spreads));
    // Means move ranges a little, and ranges means.
    let steps = if ranges_k.iter().any(Option::is_some) { RANGE_STEPS } else { 0 };
    for step in 0..steps {
        for (month, asked) in ranges_k.iter().enumerate() {
            let Some(asked) = *asked else { continue };
            let reached = daily_range_k(&air[hours_of_month(month)]);
            let swing = swings[month] + 0.8 * (asked - reached);
            swings[month] = swing.max(LEAST_SWING * asked);
            if swing < LEAST_SWING * asked {
                spreads[month] *= (asked / reached).clamp(0.5, 1.0);
            }
        }
        let shape = shape(&swings, &spreads);
        air = if step % 20 == 19 { met(&mut base, &shape) } else { sum(&base, &shape) };
    }
    // Adding zero turns -0 into 0.
    let held = |t: f64| round_to(t.clamp(COLDEST_C, HOTTEST_C), 100.0) + 0.0;
    for (month, normal) in normals.iter().enumerate() {
        let hours = &mut air[hours_of_month(month)];
        let at = |by: f64| mean(&hours.iter().map(|t| held(t + by)).collect::<Vec<_>>());
        let by = settle(*normal, (-20.0, 20.0), FINE, at);
        for t in hours.iter_mut() {
            *t = held(*t + by);
        }
    }
    air
}

/// What is asked of the humidity of a month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Damp {
    /// Mean dew point over water [°C].
    DewPointC(f64),
    /// Mean relative humidity over water \[fraction\].
    RelativeHumidity(f64),
}

impl Damp {
    pub(super) fn asked(self) -> f64 {
        match self {
            Self::DewPointC(asked) | Self::RelativeHumidity(asked) => asked,
        }
    }

    /// What one hour adds to the mean, with this dew point over water.
    fn of_hour(self, dew_point_c: f64, dry_bulb_over_water_pa: f64) -> f64 {
        match self {
            Self::DewPointC(_) => dew_point_c,
            Self::RelativeHumidity(_) => over_water_pa(dew_point_c) / dry_bulb_over_water_pa,
        }
    }
}

fn over_water_pa(temperature_c: f64) -> f64 {
    saturation_on(HumidityBasis::Water, temperature_c)
}

/// The dew point over water of saturated air [°C]: the dry bulb, or below freezing what saturation over ice leaves.
pub(super) fn dampest_c(dry_bulb_c: f64) -> f64 {
    if dry_bulb_c >= 0.01 {
        return dry_bulb_c;
    }
    let most_pa = saturation_pa(dry_bulb_c);
    settle(most_pa, (dry_bulb_c - 20.0, dry_bulb_c), FINE, over_water_pa)
}

/// The most that a month's mean can be: every hour saturated.
pub(super) fn dampest_mean(damp: Damp, dry_bulb_c: &[f64]) -> f64 {
    mean(&dry_bulb_c.iter().map(|&t| damp.of_hour(dampest_c(t), over_water_pa(t))).collect::<Vec<_>>())
}

/// Humidity ratio, to 1e-9 (rounded down, or the last digit could lift the air above saturation).
pub(super) fn humidity_ratio(
    climate: &Climate,
    damp: &[Damp; 12],
    dry_bulb_c: &[f64],
    pressure_pa: &[f64],
) -> Vec<f64> {
    let most_c: Vec<f64> = dry_bulb_c.iter().map(|&t| dampest_c(t).min(DAMPEST_HOUR_C)).collect();
    let mut dew_c = super::air::free_dew_point_c(climate, dry_bulb_c);
    let dry_pa: Vec<f64> = dry_bulb_c.iter().map(|&t| over_water_pa(t)).collect();
    let missing = |dew_c: &[f64], most_k: f64, part: f64| {
        std::array::from_fn::<f64, 12, _>(|month| {
            let hours = hours_of_month(month);
            let at = |by: f64| {
                let of_hours = hours.clone().map(|h| {
                    let dew = (dew_c[h] + by).clamp(DRIEST_C, most_c[h]);
                    damp[month].of_hour(dew, dry_pa[h])
                });
                mean(&of_hours.collect::<Vec<_>>())
            };
            settle(damp[month].asked(), (-most_k, most_k), part, at)
        })
    };
    for _ in 0..SMOOTH_STEPS {
        let by = missing(&dew_c, 5.0, COARSE);
        dew_c.iter_mut().enumerate().for_each(|(h, dew)| *dew += between_months(&by, h));
    }
    let by = missing(&dew_c, 120.0, FINE);
    (0..HOURS)
        .map(|h| {
            let month = usize::from(CALENDAR.month_of_hour(h)) - 1;
            let dew = (dew_c[h] + by[month]).clamp(DRIEST_C, most_c[h]);
            let stated = saturation_humidity_ratio_over_water(dew, pressure_pa[h]);
            (stated.min(saturated_ratio(dry_bulb_c[h], pressure_pa[h])) * 1e9).floor() / 1e9
        })
        .collect()
}

/// Wind speed [m/s], to 0.1, with the mean of each month.
pub(super) fn wind_speed_m_per_s(climate: &Climate) -> Vec<f64> {
    let mut speeds = raw_wind_m_per_s(climate);
    for (month, normal) in climate.months.iter().enumerate() {
        let hours = &mut speeds[hours_of_month(month)];
        let of = |speed: f64, times: f64| round_to((speed * times).min(85.0), 10.0);
        let at = |times: f64| mean(&hours.iter().map(|speed| of(*speed, times)).collect::<Vec<_>>());
        let times = settle(normal.wind_m_per_s, (0.0, 100.0), FINE, at);
        // The last halving may leave a hair of nothing.
        let times = if normal.wind_m_per_s > 0.0 { times } else { 0.0 };
        for speed in hours.iter_mut() {
            *speed = of(*speed, times);
        }
    }
    speeds
}

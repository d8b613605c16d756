//! Irradiance of a made year. What is not here: the sun's place ([`crate::sun`]). Read next: `../make.rs`.

use super::fit::{FINE, hours_of_month, settle};
use super::random::{Series, Stream, share_below};
use super::{CALENDAR, Climate, DAYS, HOURS, monthly_means, round_to, smooth};
use crate::sun::{self, SunPosition, hours};
use crate::tilted::air_mass;

/// Past this the beam's cosine is too small to divide by [°].
const LAST_BEAM_ZENITH_DEG: f64 = 87.0;
/// The clearest air still takes this much of the beam.
const LARGEST_BEAM_SHARE: f64 = 0.85;
const LOWEST_CLEARNESS: f64 = 0.05;
const HIGHEST_CLEARNESS: f64 = 0.8;

/// Columns of irradiance [W/m²], to 1.
pub(super) struct Sunshine {
    pub global: Vec<f64>,
    pub direct: Vec<f64>,
    pub diffuse: Vec<f64>,
}

/// Clearness of each day: the published distribution of days about a monthly mean, in an order that remembers.
///
/// # Source
/// [BENDT-1981] with the exponent of Herzog.
fn daily_clearness(climate: &Climate) -> Vec<f64> {
    let normal = smooth(climate, |month| month.clearness);
    let mut series = Series::new(climate.seed, Stream::DailyClearness, 0.3);
    (0..DAYS).map(|day| clearness_at_share(normal[day * 24 + 12], share_below(series.next()))).collect()
}

/// The clearness below which a share of days lies, in a month with this mean.
fn clearness_at_share(mean: f64, share: f64) -> f64 {
    let (low, high) = (LOWEST_CLEARNESS, highest_clearness(mean));
    let xi = (high - low) / (high - mean);
    let exponent = -1.498 + (1.184 * xi - 27.182 * (-1.5 * xi).exp()) / (high - low);
    if exponent.abs() < 1e-6 {
        return low + share * (high - low);
    }
    let (at_low, at_high) = ((exponent * low).exp(), (exponent * high).exp());
    ((at_low - share * (at_low - at_high)).ln() / exponent).clamp(low, high)
}

fn highest_clearness(mean: f64) -> f64 {
    0.6313 + 0.267 * mean - 11.9 * (mean - 0.75).powi(8)
}

/// Daily clearness and irradiance, the first moved until the second's months have their normal clearness.
pub(super) fn days_and_hours(climate: &Climate) -> (Vec<f64>, Sunshine) {
    let mut daily = daily_clearness(climate);
    let suns = suns(climate);
    for _ in 0..8 {
        let reached = monthly_clearness(&suns, &sunshine(climate, &suns, &daily).global);
        for (day, clearness) in daily.iter_mut().enumerate() {
            let month = usize::from(CALENDAR.month_of_hour(day * 24)) - 1;
            let factor = climate.months[month].clearness / reached[month].max(LOWEST_CLEARNESS);
            *clearness = (*clearness * factor).clamp(LOWEST_CLEARNESS, HIGHEST_CLEARNESS);
        }
    }
    let columns = sunshine(climate, &suns, &daily);
    (daily, columns)
}

/// What a fitted year's sun is asked for.
pub(super) struct Asked {
    /// Global irradiation of each month [Wh/m²].
    pub wh_per_m2: [f64; 12],
    /// Clearness of the clearest hour.
    pub clearest: f64,
}

/// The sun at the middle of each hour.
pub(super) fn suns(climate: &Climate) -> Vec<SunPosition> {
    (0..HOURS).map(|h| sun::position(&climate.place, CALENDAR, hours(h) + 0.5)).collect()
}

/// Irradiance outside the atmosphere on the horizontal at the middle of each hour [W/m²].
pub(super) fn outside_w_per_m2(suns: &[SunPosition]) -> Vec<f64> {
    (suns.iter().enumerate())
        .map(|(h, sun)| sun::extraterrestrial_w_per_m2(CALENDAR.day_of_year(h)) * sun.height())
        .collect()
}

/// Daily clearness over the month's, and irradiance to 0.1 W/m² whose months have the irradiation asked for.
///
/// Days and hours are those of [`days_and_hours`]; then each month's clearness `k` becomes `k_clearest (k / k_clearest)^p`,
/// with the one power `p` at which the month's sum is right. It keeps the order of the hours and stays between darkness
/// and the clearest hour.
pub(super) fn fitted(climate: &Climate, suns: &[SunPosition], asked: &Asked) -> (Vec<f64>, Sunshine) {
    let mut daily = daily_clearness(climate);
    for _ in 0..8 {
        let clearness = hourly(climate, suns, &daily);
        for (month, wanted) in asked.wh_per_m2.iter().enumerate() {
            let global = |h: usize| split(suns[h], h, clearness[h])[0];
            let reached: f64 = hours_of_month(month).map(global).sum();
            let factor = if reached > 0.0 { wanted / reached } else { 1.0 };
            for day in days_of_month(month) {
                daily[day] = (daily[day] * factor).clamp(LOWEST_CLEARNESS, HIGHEST_CLEARNESS);
            }
        }
    }
    let clearness = hourly(climate, suns, &daily);
    let mut columns = Sunshine { global: Vec::new(), direct: Vec::new(), diffuse: Vec::new() };
    for (month, wanted) in asked.wh_per_m2.iter().enumerate() {
        let hour = |h: usize, power: f64| {
            let share: f64 = (clearness[h] / asked.clearest).min(1.0);
            split(suns[h], h, asked.clearest * share.powf(power))
        };
        let sum = |log: f64| -hours_of_month(month).map(|h| hour(h, log.exp())[0]).sum::<f64>();
        let power = settle(-wanted, (-12.0, 8.0), FINE, sum).exp();
        for h in hours_of_month(month) {
            let [global, direct, diffuse] = if *wanted > 0.0 { hour(h, power) } else { [0.0; 3] };
            columns.global.push(global);
            columns.direct.push(direct);
            columns.diffuse.push(diffuse);
        }
    }
    for month in 0..12 {
        let days = days_of_month(month);
        let mean = crate::humidity::mean(&daily[days.clone()]);
        daily[days].iter_mut().for_each(|clearness| *clearness /= mean);
    }
    (daily, columns)
}

fn days_of_month(month: usize) -> std::ops::Range<usize> {
    let hours = hours_of_month(month);
    hours.start / 24..hours.end / 24
}

/// Global, beam and diffuse [W/m²] to 0.1; where the sun is too low for a beam, all is diffuse.
fn split(sun: SunPosition, h: usize, clearness: f64) -> [f64; 3] {
    let outside = sun::extraterrestrial_w_per_m2(CALENDAR.day_of_year(h));
    let global = clearness * outside * sun.height();
    if sun.zenith_deg >= LAST_BEAM_ZENITH_DEG {
        let diffuse = round_to(global, 10.0);
        return [diffuse, 0.0, diffuse];
    }
    let diffuse = round_to(global * diffuse_share(clearness), 10.0);
    let beam = (global - diffuse).max(0.0) / sun.height();
    let direct = round_to(beam.min(LARGEST_BEAM_SHARE * outside), 10.0);
    [round_to(diffuse + direct * sun.height(), 10.0), direct, diffuse]
}

/// Clearness of each hour, by air mass and by chance within the day.
fn hourly(climate: &Climate, suns: &[SunPosition], daily: &[f64]) -> Vec<f64> {
    let mut series = Series::new(climate.seed, Stream::HourlyClearness, 0.45);
    (suns.iter().enumerate())
        .map(|(h, sun)| hourly_clearness(daily[h / 24], sun.zenith_deg, series.next()))
        .collect()
}

/// Global irradiation of each month over what arrives outside the atmosphere.
fn monthly_clearness(suns: &[SunPosition], global: &[f64]) -> [f64; 12] {
    let mut shares = monthly_means(global);
    shares
        .iter_mut()
        .zip(monthly_means(&outside_w_per_m2(suns)))
        .for_each(|(share, outside)| *share /= outside.max(1.0));
    shares
}

/// Irradiance of each hour: clearness by air mass and by chance within the day, then split into beam and diffuse.
///
/// # Source
/// [GRAHAM-HOLLANDS] for the hours; [ERBS-1982] for the split.
fn sunshine(climate: &Climate, suns: &[SunPosition], daily_clearness: &[f64]) -> Sunshine {
    let mut series = Series::new(climate.seed, Stream::HourlyClearness, 0.45);
    let mut columns = Sunshine { global: Vec::new(), direct: Vec::new(), diffuse: Vec::new() };
    for (h, sun) in suns.iter().enumerate() {
        let chance = series.next();
        let outside = sun::extraterrestrial_w_per_m2(CALENDAR.day_of_year(h));
        let clearness = hourly_clearness(daily_clearness[h / 24], sun.zenith_deg, chance);
        let global = clearness * outside * sun.height();
        let diffuse = round_to(global * diffuse_share(clearness), 1.0);
        let is_beam = sun.zenith_deg < LAST_BEAM_ZENITH_DEG;
        let beam = if is_beam { (global - diffuse).max(0.0) / sun.height() } else { 0.0 };
        let direct = beam.min(LARGEST_BEAM_SHARE * outside).round();
        columns.global.push((diffuse + direct * sun.height()).round());
        columns.direct.push(direct);
        columns.diffuse.push(diffuse);
    }
    columns
}

fn hourly_clearness(daily: f64, zenith_deg: f64, chance: f64) -> f64 {
    let lambda = daily - 1.167 * daily.powi(3) * (1.0 - daily);
    let epsilon = 0.979 * (1.0 - daily);
    let kappa = 1.141 * (1.0 - daily) / daily;
    let mean = lambda + epsilon * (-kappa * air_mass(zenith_deg)).exp();
    let spread = 0.16 * (std::f64::consts::PI * daily / 0.9).sin();
    (mean + spread * chance).clamp(0.02, 0.82)
}

/// Share of the global irradiance that is diffuse.
fn diffuse_share(clearness: f64) -> f64 {
    let k = clearness;
    if k <= 0.22 {
        1.0 - 0.09 * k
    } else if k <= 0.8 {
        0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)))
    } else {
        0.165
    }
}

#[cfg(test)]
mod tests {
    use super::{clearness_at_share, diffuse_share, highest_clearness};

    /// Values worked from the published form with another tool.
    #[test]
    fn the_distribution_of_clearness_reproduces_its_mean() {
        for (mean, expected, highest) in [(0.3, 0.3008, 0.6914), (0.5, 0.5016, 0.7646), (0.6, 0.5987, 0.7915)]
        {
            let steps = 2000;
            let sum: f64 =
                (0..steps).map(|i| clearness_at_share(mean, (f64::from(i) + 0.5) / f64::from(steps))).sum();
            assert!((sum / f64::from(steps) - expected).abs() < 2e-4, "{mean}: {}", sum / f64::from(steps));
            assert!((highest_clearness(mean) - highest).abs() < 1e-4);
        }
    }

    /// Values of pvlib 0.16.1 for a zenith of 66.155° on day 15.
    #[test]
    fn the_diffuse_share_is_the_published_one() {
        for (clearness, share) in [(0.1751, 0.9842), (0.4377, 0.7792), (0.7003, 0.24358)] {
            assert!((diffuse_share(clearness) - share).abs() < 2e-4, "{clearness}");
        }
    }
}

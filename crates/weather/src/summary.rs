//! A year in a few numbers. What is not here: bins. Read next: [`crate::year`].
//!
//! # Definitions
//! - Means are over all hours, extremes are the hour's value.
//! - Dew point: found again from humidity ratio and pressure, on the file's own curve below 0 °C
//!   ([`WeatherYear::humidity_basis`]): a dew point over water for most files, a frost point for files that use ice.
//! - Degree-days: the sum over hours of `max(0, base − dry bulb)`, over 24, in K·d. Sums over daily means are smaller
//!   (by 4 % in a mixed climate), since a warm afternoon then offsets a cool night; they stand beside it under their
//!   own name.
//! - Counts of hours are strict: below −10 °C leaves −10.0 out; dew point above 16 °C leaves 16.0 out (found again from
//!   the humidity ratio, a dew point of 16.0 comes back within 1e-9 K, so 1e-6 K is allowed for).

use crate::humidity::{mean, saturation_on};
use crate::year::WeatherYear;
use psychrometrics::formulas::vapour_pressure_pa;

/// A year in a few numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summary {
    /// Mean dry bulb [°C].
    pub mean_dry_bulb_c: f64,
    /// Lowest dry bulb [°C].
    pub min_dry_bulb_c: f64,
    /// Highest dry bulb [°C].
    pub max_dry_bulb_c: f64,
    /// Mean dew point, on the file's curve [°C].
    pub mean_dew_point_c: f64,
    /// Mean humidity ratio [kg/kg dry air].
    pub mean_humidity_ratio: f64,
    /// Mean pressure \[Pa\].
    pub mean_pressure_pa: f64,
    /// Mean wind speed [m/s].
    pub mean_wind_speed_m_per_s: f64,
    /// Heating degree-days to base 18 °C, from hours [K·d].
    pub heating_degree_days_18: f64,
    /// Cooling degree-days to base 18 °C, from hours [K·d].
    pub cooling_degree_days_18: f64,
    /// Heating degree-days to base 18 °C, from daily means [K·d].
    pub heating_degree_days_18_of_daily_means: f64,
    /// Hours below −10 °C.
    pub hours_below_minus_10_c: usize,
    /// Hours with a dew point above 16 °C.
    pub hours_dew_point_above_16_c: usize,
    /// Global irradiation on the horizontal over the year [kWh/m²].
    pub global_kwh_per_m2: f64,
}

/// Sums up a year.
pub fn summary(year: &WeatherYear) -> Summary {
    let dew_points_c = dew_points_c(year);
    let fold = |start: f64, pick: fn(f64, f64) -> f64| year.dry_bulb_c.iter().copied().fold(start, pick);
    Summary {
        mean_dry_bulb_c: mean(&year.dry_bulb_c),
        min_dry_bulb_c: fold(f64::MAX, f64::min),
        max_dry_bulb_c: fold(f64::MIN, f64::max),
        mean_dew_point_c: mean(&dew_points_c),
        mean_humidity_ratio: mean(&year.humidity_ratio),
        mean_pressure_pa: mean(&year.pressure_pa),
        mean_wind_speed_m_per_s: mean(&year.wind_speed_m_per_s),
        heating_degree_days_18: heating_degree_hours(&year.dry_bulb_c, 18.0) / 24.0,
        cooling_degree_days_18: year.dry_bulb_c.iter().map(|t| (t - 18.0).max(0.0)).sum::<f64>() / 24.0,
        heating_degree_days_18_of_daily_means: (year.dry_bulb_c.chunks(24))
            .map(|day| (18.0 - mean(day)).max(0.0))
            .sum(),
        hours_below_minus_10_c: year.dry_bulb_c.iter().filter(|t| **t < -10.0).count(),
        hours_dew_point_above_16_c: dew_points_c.iter().filter(|t| **t > 16.0 + 1e-6).count(),
        global_kwh_per_m2: year.global_horizontal_w_per_m2.iter().sum::<f64>() / 1000.0,
    }
}

/// Dew point of each hour [°C], on the file's own curve below 0 °C; −100 at the driest.
pub fn dew_points_c(year: &WeatherYear) -> Vec<f64> {
    (year.humidity_ratio.iter().zip(&year.pressure_pa))
        .map(|(&w, &p)| {
            let vapour_pa = vapour_pressure_pa(w, p);
            bisect(vapour_pa, |t| saturation_on(year.humidity_basis, t))
        })
        .collect()
}

/// Heating degree-hours to a base [K·h]: the sum of `max(0, base − t)` over the hours given.
pub fn heating_degree_hours(dry_bulb_c: &[f64], base_c: f64) -> f64 {
    dry_bulb_c.iter().map(|t| (base_c - t).max(0.0)).sum()
}

/// The temperature between −100 and 60 °C at which saturation reaches `vapour_pa`, to 1e-10 K.
fn bisect(vapour_pa: f64, saturation_pa: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (-100.0, 60.0);
    for _ in 0..41 {
        let middle = 0.5 * (low + high);
        if saturation_pa(middle) < vapour_pa { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

//! A year by months, and its degree-days. What is not here: the year as a whole ([`mod@crate::summary`]). Read next:
//! [`mod@crate::wind`].

use crate::humidity::mean;
use crate::summary::{dew_points_c, heating_degree_hours};
use crate::year::WeatherYear;

/// Bases at which degree-days are stated, heating and cooling [°C]: 18.3 °C is 65 °F, 10 °C is 50 °F.
pub const DEGREE_DAY_BASES_C: [(Side, f64); 3] =
    [(Side::Heating, 18.0), (Side::Cooling, 10.0), (Side::Cooling, 18.3)];

/// Below or above the base.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Below the base.
    Heating,
    /// Above the base.
    Cooling,
}

/// Degree-days to one base.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DegreeDays {
    /// Below or above.
    pub side: Side,
    /// The base [°C].
    pub base_c: f64,
    /// Sum of the hours' differences [K·h].
    pub degree_hours: f64,
    /// The same in days [K·d].
    pub of_hours: f64,
    /// Sum of the differences of daily means [K·d]: smaller, since a warm afternoon offsets a cool night.
    pub of_daily_means: f64,
}

/// A month in a few numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Month {
    /// Month, 1…12.
    pub month: u8,
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
    /// Mean wind speed [m/s].
    pub mean_wind_speed_m_per_s: f64,
    /// Global irradiation on the horizontal [kWh/m²].
    pub global_kwh_per_m2: f64,
    /// Heating degree-days to base 18 °C, from hours [K·d].
    pub heating_degree_days_18: f64,
    /// Cooling degree-days to base 18.3 °C, from hours [K·d].
    pub cooling_degree_days_18_3: f64,
}

/// Degree-days to each of [`DEGREE_DAY_BASES_C`].
pub fn degree_days(year: &WeatherYear) -> [DegreeDays; 3] {
    let daily_means: Vec<f64> = year.dry_bulb_c.chunks(24).map(mean).collect();
    DEGREE_DAY_BASES_C.map(|(side, base_c)| {
        let degree_hours = beyond(side, &year.dry_bulb_c, base_c);
        let of_daily_means = beyond(side, &daily_means, base_c);
        DegreeDays { side, base_c, degree_hours, of_hours: degree_hours / 24.0, of_daily_means }
    })
}

fn beyond(side: Side, values_c: &[f64], base_c: f64) -> f64 {
    match side {
        Side::Heating => heating_degree_hours(values_c, base_c),
        Side::Cooling => values_c.iter().map(|t| (t - base_c).max(0.0)).sum(),
    }
}

/// The twelve months.
pub fn months(year: &WeatherYear) -> Vec<Month> {
    let dew_points_c = dew_points_c(year);
    let calendar = year.calendar();
    (1..=12)
        .map(|month| {
            let first = calendar.first_hour_of_month(month);
            let hours = first..first + 24 * usize::from(calendar.days_in_month(month));
            let of = |column: &'_ [f64]| column.get(hours.clone()).map(<[f64]>::to_vec).unwrap_or_default();
            let dry_bulb_c = of(&year.dry_bulb_c);
            Month {
                month,
                mean_dry_bulb_c: mean(&dry_bulb_c),
                min_dry_bulb_c: dry_bulb_c.iter().copied().reduce(f64::min).unwrap_or_default(),
                max_dry_bulb_c: dry_bulb_c.iter().copied().reduce(f64::max).unwrap_or_default(),
                mean_dew_point_c: mean(&of(&dew_points_c)),
                mean_humidity_ratio: mean(&of(&year.humidity_ratio)),
                mean_wind_speed_m_per_s: mean(&of(&year.wind_speed_m_per_s)),
                global_kwh_per_m2: of(&year.global_horizontal_w_per_m2).iter().sum::<f64>() / 1000.0,
                heating_degree_days_18: beyond(Side::Heating, &dry_bulb_c, 18.0) / 24.0,
                cooling_degree_days_18_3: beyond(Side::Cooling, &dry_bulb_c, 18.3) / 24.0,
            }
        })
        .collect()
}

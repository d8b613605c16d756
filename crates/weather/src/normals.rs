//! The monthly normals of a year: means of dry bulb, daily range, humidity, irradiation and wind. What is not here: a
//! year made to meet them ([`crate::make::from_normals`]), extremes and degree-days ([`mod@crate::months`]). Read next:
//! [`mod@crate::shift`].

use crate::humidity::{mean, saturation_on};
use crate::summary::dew_points_c;
use crate::year::WeatherYear;
use psychrometrics::formulas::vapour_pressure_pa;

/// What a month is like on average.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthMeans {
    /// Mean dry bulb [°C].
    pub dry_bulb_c: f64,
    /// Mean of each day's warmest hour less its coldest \[K\].
    pub daily_range_k: f64,
    /// Mean dew point, on the year's own curve below 0 °C [°C].
    pub dew_point_c: f64,
    /// Mean relative humidity, on the same curve \[fraction\].
    pub relative_humidity: f64,
    /// Global irradiation on the horizontal [kWh/m²].
    pub global_kwh_per_m2: f64,
    /// Mean wind speed [m/s].
    pub wind_m_per_s: f64,
}

/// The means of the twelve months.
pub fn normals(year: &WeatherYear) -> [MonthMeans; 12] {
    let dew_points_c = dew_points_c(year);
    let humidities = relative_humidities(year);
    std::array::from_fn(|month| {
        let hours = hours_of_month(year, month);
        let of = |column: &[f64]| column.get(hours.clone()).map(mean).unwrap_or_default();
        let sunshine = year.global_horizontal_w_per_m2.get(hours.clone()).unwrap_or_default();
        MonthMeans {
            dry_bulb_c: of(&year.dry_bulb_c),
            daily_range_k: daily_range_k(year.dry_bulb_c.get(hours.clone()).unwrap_or_default()),
            dew_point_c: of(&dew_points_c),
            relative_humidity: of(&humidities),
            global_kwh_per_m2: sunshine.iter().sum::<f64>() / 1000.0,
            wind_m_per_s: of(&year.wind_speed_m_per_s),
        }
    })
}

/// Hours of a month, 0 for January.
pub(crate) fn hours_of_month(year: &WeatherYear, month: usize) -> std::ops::Range<usize> {
    let (calendar, number) = (year.calendar(), u8::try_from(month + 1).unwrap_or(12));
    let first = calendar.first_hour_of_month(number);
    first..first + 24 * usize::from(calendar.days_in_month(number))
}

/// Mean over whole days of the warmest hour less the coldest \[K\].
pub(crate) fn daily_range_k(dry_bulb_c: &[f64]) -> f64 {
    let of_day = |day: &[f64]| {
        let most = day.iter().copied().fold(f64::MIN, f64::max);
        most - day.iter().copied().fold(f64::MAX, f64::min)
    };
    mean(&dry_bulb_c.chunks(24).map(of_day).collect::<Vec<_>>())
}

/// Relative humidity of each hour on the year's own curve \[fraction\].
pub(crate) fn relative_humidities(year: &WeatherYear) -> Vec<f64> {
    (year.humidity_ratio.iter().zip(&year.pressure_pa).zip(&year.dry_bulb_c))
        .map(|((&w, &p), &t)| vapour_pressure_pa(w, p) / saturation_on(year.humidity_basis, t))
        .collect()
}

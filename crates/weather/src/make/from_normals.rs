//! A year made to meet the monthly normals that someone states, or the month that cannot be and why. What is not here: the
//! ways in which days and hours differ (`air.rs`, `sunshine.rs`), how means are met (`fit.rs`). Read next: `fit.rs`.

use super::air;
use super::fit::{self, Damp, FINE};
use super::sunshine::{self, Asked};
use super::{CALENDAR, Climate, MonthNormals};
use crate::calendar::MONTH_NAMES;
use crate::error::WeatherError;
use crate::humidity::{mean, saturation_on};
use crate::normals::{MonthMeans, normals as means_of};
use crate::place;
use crate::year::{Format, HumidityBasis, HumidityOrigin, Place, WeatherYear};
use thiserror::Error;

/// The sun of a month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sun {
    /// Global irradiation on the horizontal, whole month [kWh/m²].
    GlobalKwhPerM2(f64),
    /// The same as a share of what arrives outside the atmosphere \[fraction\].
    Clearness(f64),
}

/// The humidity of a month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Humidity {
    /// Mean dew point over water [°C].
    DewPointC(f64),
    /// Mean relative humidity over water \[fraction\].
    RelativeHumidity(f64),
}

/// What is asked of one month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Month {
    /// Mean dry bulb [°C], −60…45.
    pub dry_bulb_c: f64,
    /// Mean of each day's warmest hour less its coldest \[K\], 1…30; by the clearness where it is not given.
    pub daily_range_k: Option<f64>,
    /// The sun.
    pub sun: Sun,
    /// The humidity.
    pub humidity: Humidity,
    /// Mean wind speed at 10 m [m/s], 0…20.
    pub wind_m_per_s: f64,
}

/// What a year is to be made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Normals {
    /// Where it is.
    pub place: Place,
    /// Its months.
    pub months: [Month; 12],
    /// Direction most wind comes from [°].
    pub prevailing_wind_deg: f64,
    /// The seed of all chance in it.
    pub seed: u64,
}

/// Why no year was made.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NormalsError {
    /// A place or a wind direction outside its range.
    #[error(transparent)]
    Place(#[from] WeatherError),
    /// A normal outside what is made.
    #[error("{month}: a {what} of {value} {unit} is outside {low}…{high} {unit}")]
    OutOfRange {
        /// The month.
        month: &'static str,
        /// What.
        what: &'static str,
        /// Its value.
        value: f64,
        /// Lowest.
        low: f64,
        /// Highest.
        high: f64,
        /// Unit.
        unit: &'static str,
    },
    /// A dew point above the dry bulb.
    #[error(
        "{month}: a mean dew point of {dew_point_c} °C cannot stand above the mean dry bulb of {dry_bulb_c} °C"
    )]
    DewPointAboveDryBulb {
        /// The month.
        month: &'static str,
        /// Asked [°C].
        dew_point_c: f64,
        /// Asked [°C].
        dry_bulb_c: f64,
    },
    /// More humidity than saturation allows.
    #[error(
        "{month}: a mean {what} over water of {asked} cannot be reached at a mean dry bulb of {dry_bulb_c} °C: air \
             saturated in every hour{over_ice} has {most}"
    )]
    TooHumid {
        /// The month.
        month: &'static str,
        /// "relative humidity" or "dew point".
        what: &'static str,
        /// Asked, with its unit.
        asked: String,
        /// Mean dry bulb [°C].
        dry_bulb_c: f64,
        /// ", over ice," where it freezes.
        over_ice: &'static str,
        /// The most there can be, with its unit.
        most: String,
    },
    /// Sun in the polar night.
    #[error(
        "{month}: an irradiation of {asked_kwh_per_m2} kWh/m² cannot be: the sun stays below the horizon at the middle of \
             every hour of the month"
    )]
    PolarNight {
        /// The month.
        month: &'static str,
        /// Asked [kWh/m²].
        asked_kwh_per_m2: f64,
    },
    /// More sun than a clear sky lets through, or less than the thickest cloud does.
    #[error(
        "{month}: an irradiation of {asked_kwh_per_m2:.1} kWh/m² is {clearness:.3} of the {outside_kwh_per_m2:.1} kWh/m² \
             that arrive outside the atmosphere; {why} {limit:.3} of it ({limit_kwh_per_m2:.1} kWh/m²)"
    )]
    Sun {
        /// The month.
        month: &'static str,
        /// Asked [kWh/m²].
        asked_kwh_per_m2: f64,
        /// Its share of what arrives.
        clearness: f64,
        /// What arrives outside the atmosphere [kWh/m²].
        outside_kwh_per_m2: f64,
        /// What the limit is.
        why: &'static str,
        /// The limit as a share.
        limit: f64,
        /// The limit [kWh/m²].
        limit_kwh_per_m2: f64,
    },
    /// A normal that was not met although nothing above forbids it.
    #[error(
        "{month}: a {what} of {asked:.3} {unit} was asked for, and {reached:.3} {unit} is as near as the made hours come"
    )]
    NotMet {
        /// The month.
        month: &'static str,
        /// What.
        what: &'static str,
        /// Asked.
        asked: f64,
        /// Reached.
        reached: f64,
        /// Unit.
        unit: &'static str,
    },
}

impl NormalsError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Place(_) => "check latitude, longitude, elevation, time_zone and prevailing_wind",
            Self::OutOfRange { .. } => "check the number and its unit",
            Self::DewPointAboveDryBulb { .. } => "check whether the two were exchanged, or their units",
            Self::TooHumid { .. } => {
                "weather services state humidity over liquid water; below 0 °C saturation over ice comes first"
            }
            Self::PolarNight { .. } => "give 0 for this month, or check the latitude",
            Self::Sun { .. } => "check the unit (of a day or of a month), the latitude and the elevation",
            Self::NotMet { .. } => "try another seed, or a normal less extreme",
        }
    }
}

/// Even a month of thick cloud lets so much of the sun through: assumed, below any month on record known here.
const DARKEST: f64 = 0.03;
/// Months with less than this outside the atmosphere may be dark: the sun hardly rises [kWh/m²].
const HARDLY_ANY_SUN_KWH_PER_M2: f64 = 5.0;
/// Means of the dampest coasts are near 30 °C \[°C\].
const DAMPEST_MEAN_C: f64 = 32.0;
/// Spread of daily means: at most that of the coldest lands, and a quarter of what is left to the limits of the air \[K\].
const MOST_SPREAD_K: f64 = 7.0;
/// Very dry air over snow lets through this much more than the usual clear sky: assumed.
const CLEARER_THAN_USUAL: f64 = 1.05;

/// Share of what arrives outside the atmosphere that the clearest month lets through.
///
/// # Source
/// `0.75 + 2e-5 z`, Allen and others, FAO Irrigation and Drainage Paper 56 (1998), eq. 37 (recalled), and 5 % for very
/// dry air.
fn clearest(elevation_m: f64) -> f64 {
    CLEARER_THAN_USUAL * (0.75 + 2e-5 * elevation_m.max(0.0))
}

/// Makes a common year that meets monthly normals: the mean dry bulb within 0.05 K, the irradiation within 0.5 %, the mean
/// relative humidity within 0.5 points or the mean dew point within 0.05 K, the mean wind within 0.05 m/s, and the mean daily
/// range, where it is given, within 0.1 K. The same normals and seed give the same bits on the same platform.
///
/// Where no daily range is given, a day's swing is `25.8 k − 5.21` K of the clearness `k`, at least 1 K. Daily means spread
/// by `0.51 √N (1.45 − 0.029 t + 0.0664 s)` K, at most 7 K, with N days, the month's mean t and the spread s of the twelve means.
///
/// # Errors
/// [`NormalsError`] names the month and what forbids it.
///
/// # Source
/// \[ERBS-1983\] for the swing and the spread of days.
pub fn from_normals(normals: &Normals) -> Result<WeatherYear, NormalsError> {
    check(normals)?;
    let mut climate = climate(normals);
    let suns = sunshine::suns(&climate);
    let outside = sunshine::outside_w_per_m2(&suns);
    let outside_wh: [f64; 12] =
        std::array::from_fn(|month| outside[fit::hours_of_month(month)].iter().sum::<f64>());
    let wh_per_m2 = irradiation(normals, &outside_wh)?;
    for (month, slot) in climate.months.iter_mut().enumerate() {
        let share = if outside_wh[month] > 0.0 { wh_per_m2[month] / outside_wh[month] } else { 0.3 };
        // The published spread of days is for months between these.
        slot.clearness = share.clamp(0.1, 0.75);
        if normals.months[month].daily_range_k.is_none() {
            slot.daily_swing_k = if outside_wh[month] > 0.0 { (25.8 * share - 5.21).max(1.0) } else { 0.0 };
        }
    }
    let clearest_hour = (clearest(normals.place.elevation_m) + 0.03).max(0.85);
    let (day_clearness, sunshine) =
        sunshine::fitted(&climate, &suns, &Asked { wh_per_m2, clearest: clearest_hour });
    let ranges_k = normals.months.map(|month| month.daily_range_k);
    let dry_bulb_c = fit::dry_bulb_c(&climate, &day_clearness, &ranges_k);
    let damp = normals.months.map(damp_of);
    check_damp(normals, &damp, &dry_bulb_c)?;
    let pressure_pa = air::pressure_pa(&climate);
    let humidity_ratio = fit::humidity_ratio(&climate, &damp, &dry_bulb_c, &pressure_pa);
    let seed = normals.seed;
    let year = WeatherYear {
        dry_bulb_c,
        humidity_ratio,
        pressure_pa,
        wind_speed_m_per_s: fit::wind_speed_m_per_s(&climate),
        wind_direction_deg: air::wind_direction_deg(&climate),
        global_horizontal_w_per_m2: sunshine.global,
        direct_normal_w_per_m2: sunshine.direct,
        diffuse_horizontal_w_per_m2: sunshine.diffuse,
        place: normals.place.clone(),
        sun_offset_h: 0.5,
        wind_height_m: 10.0,
        humidity_basis: HumidityBasis::Water,
        humidity_origin: HumidityOrigin::NotNeeded,
        format: Format::Made,
        is_synthetic: true,
        shifted: None,
        source: format!("INVENTED: made from monthly normals, seed {seed}; no hour of it was measured"),
    };
    check_met(normals, &wh_per_m2, &means_of(&year))?;
    Ok(year)
}

fn name(month: usize) -> &'static str {
    MONTH_NAMES.get(month).copied().unwrap_or_default()
}

/// As it is told: to a hundredth, since a Fahrenheit makes long Celsius.
fn shown(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

fn damp_of(month: Month) -> Damp {
    match month.humidity {
        Humidity::DewPointC(dew_point_c) => Damp::DewPointC(dew_point_c),
        Humidity::RelativeHumidity(share) => Damp::RelativeHumidity(share),
    }
}

/// Ranges, and what can be told before anything is made.
fn check(normals: &Normals) -> Result<(), NormalsError> {
    let Place { latitude_deg, longitude_deg, elevation_m, time_zone_h, .. } = normals.place;
    place::check_range("latitude [°]", latitude_deg, -90.0, 90.0)?;
    place::check_range("longitude [°]", longitude_deg, -180.0, 180.0)?;
    place::check_range("elevation [m]", elevation_m, -450.0, 5000.0)?;
    place::check_range("time zone [h]", time_zone_h, -12.0, 14.0)?;
    place::check_zone(time_zone_h, longitude_deg)?;
    place::check_range("prevailing wind [°]", normals.prevailing_wind_deg, 0.0, 360.0)?;
    for (index, month) in normals.months.iter().enumerate() {
        let range = |what, value: f64, (low, high), unit| {
            let error =
                NormalsError::OutOfRange { month: name(index), what, value: shown(value), low, high, unit };
            if (low..=high).contains(&value) { Ok(()) } else { Err(error) }
        };
        range("mean dry bulb", month.dry_bulb_c, (-60.0, 45.0), "°C")?;
        if let Some(range_k) = month.daily_range_k {
            range("mean daily range", range_k, (1.0, 30.0), "K")?;
        }
        range("mean wind", month.wind_m_per_s, (0.0, 20.0), "m/s")?;
        match month.sun {
            Sun::GlobalKwhPerM2(kwh) => range("global irradiation", kwh, (0.0, 500.0), "kWh/m²")?,
            Sun::Clearness(share) => range("clearness", share, (0.0, 1.0), "(a share)")?,
        }
        match month.humidity {
            Humidity::DewPointC(dew_point_c) => {
                range("mean dew point", dew_point_c, (-75.0, DAMPEST_MEAN_C), "°C")?;
                if dew_point_c > month.dry_bulb_c {
                    return Err(NormalsError::DewPointAboveDryBulb {
                        month: name(index),
                        dew_point_c: shown(dew_point_c),
                        dry_bulb_c: shown(month.dry_bulb_c),
                    });
                }
            }
            Humidity::RelativeHumidity(share) => {
                range("mean relative humidity", 100.0 * share, (1.0, 100.0), "%")?;
                let dew_point_c = dew_point_near(month.dry_bulb_c, share);
                range("dew point at the mean dry bulb", dew_point_c, (-90.0, DAMPEST_MEAN_C), "°C")?;
            }
        }
    }
    Ok(())
}

/// Irradiation of each month [Wh/m²], if the sun allows it.
fn irradiation(normals: &Normals, outside_wh: &[f64; 12]) -> Result<[f64; 12], NormalsError> {
    let most = clearest(normals.place.elevation_m);
    let mut asked_wh = [0.0; 12];
    for (index, (slot, month)) in asked_wh.iter_mut().zip(&normals.months).enumerate() {
        let outside = outside_wh[index];
        let asked = match month.sun {
            Sun::GlobalKwhPerM2(kwh) => 1000.0 * kwh,
            Sun::Clearness(share) => share * outside,
        };
        if outside <= 0.0 {
            let asked_kwh_per_m2 = shown(asked / 1000.0);
            if asked > 0.0 {
                return Err(NormalsError::PolarNight { month: name(index), asked_kwh_per_m2 });
            }
            continue;
        }
        let error = |why, limit: f64| NormalsError::Sun {
            month: name(index),
            asked_kwh_per_m2: asked / 1000.0,
            clearness: asked / outside,
            outside_kwh_per_m2: outside / 1000.0,
            why,
            limit,
            limit_kwh_per_m2: limit * outside / 1000.0,
        };
        if asked > most * outside {
            return Err(error("the clearest sky at this elevation lets through", most));
        }
        if asked < DARKEST * outside && outside > 1000.0 * HARDLY_ANY_SUN_KWH_PER_M2 {
            return Err(error("even a month of thick cloud lets through", DARKEST));
        }
        *slot = asked;
    }
    Ok(asked_wh)
}

/// The months in the words of the maker; clearness and, where it is open, swing follow later.
fn climate(normals: &Normals) -> Climate {
    let means = normals.months.map(|month| month.dry_bulb_c);
    let middle = mean(&means);
    let of_year = mean(&means.map(|t| (t - middle) * (t - middle))).sqrt();
    let months = std::array::from_fn(|index| {
        let month = normals.months[index];
        let days = f64::from(CALENDAR.days_in_month(u8::try_from(index + 1).unwrap_or(12)));
        let left_k = (month.dry_bulb_c - fit::COLDEST_C).min(fit::HOTTEST_C - month.dry_bulb_c);
        let of_month = 1.45 - 0.0290 * month.dry_bulb_c + 0.0664 * of_year;
        MonthNormals {
            dry_bulb_c: month.dry_bulb_c,
            dew_point_c: match month.humidity {
                Humidity::DewPointC(dew_point_c) => dew_point_c,
                Humidity::RelativeHumidity(share) => dew_point_near(month.dry_bulb_c, share),
            },
            daily_swing_k: month.daily_range_k.unwrap_or(0.0),
            day_to_day_k: (0.51 * of_month * days.sqrt()).clamp(0.5, MOST_SPREAD_K.min(left_k / 4.0)),
            clearness: 0.5,
            wind_m_per_s: month.wind_m_per_s,
        }
    });
    Climate {
        place: normals.place.clone(),
        months,
        prevailing_wind_deg: normals.prevailing_wind_deg,
        seed: normals.seed,
    }
}

/// The dew point over water at which air of the mean dry bulb has this relative humidity [°C].
fn dew_point_near(dry_bulb_c: f64, share: f64) -> f64 {
    let over_water = |t: f64| saturation_on(HumidityBasis::Water, t);
    fit::settle(share * over_water(dry_bulb_c), (-90.0, dry_bulb_c), FINE, over_water)
}

/// Whether saturation allows each month's humidity at the hours that were made.
fn check_damp(normals: &Normals, damp: &[Damp; 12], dry_bulb_c: &[f64]) -> Result<(), NormalsError> {
    for (index, damp) in damp.iter().enumerate() {
        let hours = &dry_bulb_c[fit::hours_of_month(index)];
        let most = fit::dampest_mean(*damp, hours);
        let (what, room, with_unit): (_, _, fn(f64) -> String) = match damp {
            Damp::DewPointC(_) => ("dew point", 0.05, |t| format!("{t:.1} °C")),
            Damp::RelativeHumidity(_) => {
                ("relative humidity", 0.005, |share| format!("{:.1} %", 100.0 * share))
            }
        };
        if damp.asked() > most + room {
            return Err(NormalsError::TooHumid {
                month: name(index),
                what,
                asked: with_unit(damp.asked()),
                dry_bulb_c: shown(normals.months[index].dry_bulb_c),
                over_ice: if hours.iter().any(|t| *t < 0.0) { " (over ice below 0 °C)" } else { "" },
                most: with_unit(most),
            });
        }
    }
    Ok(())
}

/// The promise, asked of the finished year.
fn check_met(
    normals: &Normals,
    wh_per_m2: &[f64; 12],
    reached: &[MonthMeans; 12],
) -> Result<(), NormalsError> {
    for (index, (month, got)) in normals.months.iter().zip(reached).enumerate() {
        let met = |what, (asked, reached): (f64, f64), room: f64, unit| {
            let error = NormalsError::NotMet { month: name(index), what, asked, reached, unit };
            if (asked - reached).abs() <= room { Ok(()) } else { Err(error) }
        };
        met("mean dry bulb", (month.dry_bulb_c, got.dry_bulb_c), 0.05, "°C")?;
        if let Some(range_k) = month.daily_range_k {
            met("mean daily range", (range_k, got.daily_range_k), 0.1, "K")?;
        }
        let kwh = wh_per_m2[index] / 1000.0;
        met("global irradiation", (kwh, got.global_kwh_per_m2), (0.005 * kwh).max(0.005), "kWh/m²")?;
        match month.humidity {
            Humidity::DewPointC(asked) => met("mean dew point", (asked, got.dew_point_c), 0.05, "°C")?,
            Humidity::RelativeHumidity(asked) => {
                let points = (100.0 * asked, 100.0 * got.relative_humidity);
                met("mean relative humidity", points, 0.5, "%")?;
            }
        }
        met("mean wind", (month.wind_m_per_s, got.wind_m_per_s), 0.05, "m/s")?;
    }
    Ok(())
}

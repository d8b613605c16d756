//! A year shifted by changes of its monthly means: a climate to come, or a place nearby. What is not here: which changes are
//! plausible, reading them from a file. Read next: [`mod@crate::normals`].
//!
//! Each month is shifted (`x = x₀ + Δx`), stretched (`x = α x₀`) or both. The dry bulb is `t = t₀ + Δt + α (t₀ − ⟨t₀⟩)`, where
//! α is the change of the mean daily range over that range, so that mean and range change by what was asked. Relative
//! humidity is kept, or shifted, or the dew point is; on the year's own curve below 0 °C, and never above saturation.
//! Beam, diffuse and global are stretched together, hour by hour, as far as the sun allows.
//!
//! # Source
//! \[BHP-2005\] Belcher, Hacker, Powell, Constructing design weather data for future climates, Building Services Engineering
//! Research and Technology 26 (2005) 49 (recalled): shift, stretch, and their combination for the dry bulb.

use crate::calendar::{Calendar, MONTH_NAMES};
use crate::findings::{Finding, FindingKind, Findings, Severity, counted};
use crate::humidity::{mean, saturated_ratio, saturation_on};
use crate::normals::{MonthMeans, daily_range_k, hours_of_month, normals};
use crate::quantity::Quantity;
use crate::summary::dew_points_c;
use crate::sun;
use crate::year::WeatherYear;
use psychrometrics::formulas::{humidity_ratio, vapour_pressure_pa};
use thiserror::Error;

/// How the humidity of a month changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HumidityChange {
    /// Relative humidity changes by this \[fraction\], −0.5…0.5; 0 keeps it.
    RelativeHumidity(f64),
    /// The dew point changes by this \[K\], −20…20.
    DewPointK(f64),
}

/// How one month changes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthChange {
    /// Change of the mean dry bulb \[K\], −20…20.
    pub dry_bulb_k: f64,
    /// Change of the mean daily range \[K\], −20…20, and not below −90 % of it.
    pub daily_range_k: f64,
    /// Humidity.
    pub humidity: HumidityChange,
    /// Irradiance is multiplied by this, 0.2…3.
    pub irradiation_factor: f64,
    /// Wind speed is multiplied by this, 0…3.
    pub wind_factor: f64,
}

impl Default for MonthChange {
    /// No change.
    fn default() -> Self {
        Self {
            dry_bulb_k: 0.0,
            daily_range_k: 0.0,
            humidity: HumidityChange::RelativeHumidity(0.0),
            irradiation_factor: 1.0,
            wind_factor: 1.0,
        }
    }
}

/// A shift of a whole year.
#[derive(Debug, Clone, PartialEq)]
pub struct Shift {
    /// A year or a scenario in the user's words; may be empty.
    pub label: String,
    /// Its months.
    pub months: [MonthChange; 12],
}

/// What a month became.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthShifted {
    /// Its means before.
    pub before: MonthMeans,
    /// Its means after.
    pub after: MonthMeans,
    /// Hours limited to saturation, or to air without vapour.
    pub humidity_limited_h: usize,
    /// Hours in which the sun did not allow the whole factor.
    pub sun_limited_h: usize,
}

/// Why a year was not shifted.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ShiftError {
    /// A change outside what is accepted.
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
    /// A daily range that would all but vanish.
    #[error(
        "{month}: the mean daily range of {range_k:.1} K cannot change by {change_k} K: there must be one, and a tenth of it must stay"
    )]
    RangeGone {
        /// The month.
        month: &'static str,
        /// Asked \[K\].
        change_k: f64,
        /// Mean daily range before \[K\].
        range_k: f64,
    },
    /// A value that no weather has.
    #[error("{month}: the shifted {what} would reach {value:.1} {unit}, outside {low}…{high} {unit}")]
    NoWeather {
        /// The month.
        month: &'static str,
        /// What.
        what: &'static str,
        /// The value.
        value: f64,
        /// Lowest.
        low: f64,
        /// Highest.
        high: f64,
        /// Unit.
        unit: &'static str,
    },
}

/// At most this share of what arrives from space is beam: a very clear sky, as where a beam is derived.
const CLEAREST_BEAM: f64 = 0.85;
/// Nearer to the horizon than this the middle of an hour says little about the whole hour [°].
const LOW_SUN_ZENITH_DEG: f64 = 85.0;
/// Saturated air that stays saturated is no limited hour.
const ROUNDING: f64 = 1e-12;
/// The mean daily range keeps at least this share.
const LEAST_RANGE: f64 = 0.1;

/// Shifts a year, and says for each month what it became. A shift of nothing gives the same bits.
///
/// Pressure and wind direction stay. Nothing is limited silently: limited hours are counted, `after` is what was reached, and
/// [`findings`] says where that is not what was asked.
///
/// # Example
/// ```
/// use weather::shift::{MonthChange, Shift, shift};
/// use weather::{invented, make::make};
///
/// let year = make(&invented::millbrook().climate)?;
/// let warmer = MonthChange { dry_bulb_k: 2.0, ..MonthChange::default() };
/// let (shifted, months) = shift(&year, &Shift { label: "2050".to_owned(), months: [warmer; 12] })?;
/// assert!((months[0].after.dry_bulb_c - months[0].before.dry_bulb_c - 2.0).abs() < 1e-9);
/// assert!(shifted.shifted.is_some_and(|how| how.starts_with("2050: ")));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`ShiftError`] names the month and the change that is out of range, or the value that no weather has.
pub fn shift(year: &WeatherYear, by: &Shift) -> Result<(WeatherYear, [MonthShifted; 12]), ShiftError> {
    check(by)?;
    let before = normals(year);
    let mut shifted = year.clone();
    shift_dry_bulb(&mut shifted, by, &before)?;
    let humidity_limited = shift_humidity(year, &mut shifted, by);
    let sun_limited = stretch_sun(&mut shifted, by);
    stretch_wind(&mut shifted, by)?;
    let how = in_words(by);
    shifted.shifted = Some(match &year.shifted {
        Some(earlier) => format!("{earlier}; then {how}"),
        None => how,
    });
    let after = normals(&shifted);
    let months = std::array::from_fn(|month| MonthShifted {
        before: before[month],
        after: after[month],
        humidity_limited_h: humidity_limited[month],
        sun_limited_h: sun_limited[month],
    });
    Ok((shifted, months))
}

fn name(month: usize) -> &'static str {
    MONTH_NAMES.get(month).copied().unwrap_or_default()
}

/// As it is told: to a hundredth, since a Fahrenheit makes long kelvin.
fn shown(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

fn check(by: &Shift) -> Result<(), ShiftError> {
    for (index, change) in by.months.iter().enumerate() {
        let range = |what, value: f64, (low, high), unit| {
            let error =
                ShiftError::OutOfRange { month: name(index), what, value: shown(value), low, high, unit };
            if (low..=high).contains(&value) { Ok(()) } else { Err(error) }
        };
        range("change of dry bulb", change.dry_bulb_k, (-20.0, 20.0), "K")?;
        range("change of daily range", change.daily_range_k, (-20.0, 20.0), "K")?;
        match change.humidity {
            HumidityChange::RelativeHumidity(share) => {
                range("change of relative humidity", 100.0 * share, (-50.0, 50.0), "%")?;
            }
            HumidityChange::DewPointK(k) => range("change of dew point", k, (-20.0, 20.0), "K")?,
        }
        range("factor of irradiation", change.irradiation_factor, (0.2, 3.0), "(a factor)")?;
        range("factor of wind", change.wind_factor, (0.0, 3.0), "(a factor)")?;
    }
    Ok(())
}

/// The first value of a month outside what files may hold.
fn in_range(month: usize, quantity: Quantity, values: &[f64]) -> Result<(), ShiftError> {
    let range = quantity.range();
    let (low, high, unit) = (range.low, range.high, range.unit);
    let out = values.iter().find(|value| !(low..=high).contains(*value));
    out.map_or(Ok(()), |&value| {
        Err(ShiftError::NoWeather { month: name(month), what: quantity.name(), value, low, high, unit })
    })
}

fn shift_dry_bulb(
    shifted: &mut WeatherYear,
    by: &Shift,
    before: &[MonthMeans; 12],
) -> Result<(), ShiftError> {
    for (month, change) in by.months.iter().enumerate() {
        let hours = hours_of_month(shifted, month);
        let Some(values) = shifted.dry_bulb_c.get_mut(hours) else { continue };
        let (middle, range_k) = (before[month].dry_bulb_c, daily_range_k(values));
        let change_k = change.daily_range_k;
        let stretch = if change_k == 0.0 { 0.0 } else { change_k / range_k };
        if !stretch.is_finite() || stretch < LEAST_RANGE - 1.0 {
            return Err(ShiftError::RangeGone { month: name(month), change_k: shown(change_k), range_k });
        }
        for value in values.iter_mut() {
            *value += change.dry_bulb_k + stretch * (*value - middle);
        }
        in_range(month, Quantity::DryBulb, values)?;
    }
    Ok(())
}

/// Humidity ratios; answers how many hours of each month were limited.
fn shift_humidity(year: &WeatherYear, shifted: &mut WeatherYear, by: &Shift) -> [usize; 12] {
    let on = |t: f64| saturation_on(year.humidity_basis, t);
    let dew_points_c = dew_points_c(year);
    let mut limited = [0; 12];
    for (month, change) in by.months.iter().enumerate() {
        for h in hours_of_month(year, month) {
            let (before_c, after_c) = (year.dry_bulb_c[h], shifted.dry_bulb_c[h]);
            let (ratio, pressure_pa) = (year.humidity_ratio[h], year.pressure_pa[h]);
            let vapour_pa = vapour_pressure_pa(ratio, pressure_pa);
            let is_as_warm = before_c.to_bits() == after_c.to_bits();
            // `None` where nothing changes, so that nothing is rounded either.
            let wanted_pa = match change.humidity {
                HumidityChange::RelativeHumidity(0.0) if is_as_warm => None,
                HumidityChange::DewPointK(0.0) => None,
                HumidityChange::RelativeHumidity(share) => {
                    Some((vapour_pa / on(before_c) + share) * on(after_c))
                }
                HumidityChange::DewPointK(k) => Some(on(dew_points_c[h] + k)),
            };
            // Half of the pressure is far above saturation at any weather; beyond it the formula would lose its meaning.
            let wanted =
                wanted_pa.map_or(ratio, |pa| humidity_ratio(pa.clamp(0.0, 0.5 * pressure_pa), pressure_pa));
            let most = saturated_ratio(after_c, pressure_pa);
            let is_limited = wanted_pa.is_some_and(|pa| pa < 0.0) || wanted > most * (1.0 + ROUNDING);
            limited[month] += usize::from(is_limited);
            shifted.humidity_ratio[h] = wanted.min(most);
        }
    }
    limited
}

/// Beam, diffuse and global of each hour times one factor; answers how many hours of each month were limited.
fn stretch_sun(shifted: &mut WeatherYear, by: &Shift) -> [usize; 12] {
    let positions = sun::positions(shifted);
    let calendar: Calendar = shifted.calendar();
    let mut limited = [0; 12];
    for (month, change) in by.months.iter().enumerate() {
        let asked = change.irradiation_factor;
        for h in hours_of_month(shifted, month) {
            let outside = sun::extraterrestrial_w_per_m2(calendar.day_of_year(h));
            let global = shifted.global_horizontal_w_per_m2[h];
            let beam = shifted.direct_normal_w_per_m2[h];
            let room = |most: f64, value: f64| if value > 0.0 { most / value } else { f64::INFINITY };
            let mut most = room(CLEAREST_BEAM * outside, beam);
            if positions[h].zenith_deg < LOW_SUN_ZENITH_DEG {
                most = most.min(room(outside * positions[h].height(), global));
            }
            // What the file holds already stays: a sunlit cloud's edge may lift it above the limit.
            let factor = asked.min(most.max(1.0));
            limited[month] += usize::from(factor < asked);
            shifted.global_horizontal_w_per_m2[h] *= factor;
            shifted.direct_normal_w_per_m2[h] *= factor;
            shifted.diffuse_horizontal_w_per_m2[h] *= factor;
        }
    }
    limited
}

fn stretch_wind(shifted: &mut WeatherYear, by: &Shift) -> Result<(), ShiftError> {
    for (month, change) in by.months.iter().enumerate() {
        let hours = hours_of_month(shifted, month);
        let Some(values) = shifted.wind_speed_m_per_s.get_mut(hours) else { continue };
        for value in values.iter_mut() {
            *value *= change.wind_factor;
        }
        in_range(month, Quantity::WindSpeed, values)?;
    }
    Ok(())
}

/// The shift in a line: its label, and the mean change of each quantity over the months.
fn in_words(by: &Shift) -> String {
    let over = |pick: fn(&MonthChange) -> f64| mean(&by.months.each_ref().map(pick));
    let mut parts = vec![format!("dry bulb {:+.2} K", over(|change| change.dry_bulb_k))];
    if by.months.iter().any(|change| change.daily_range_k != 0.0) {
        parts.push(format!("daily range {:+.2} K", over(|change| change.daily_range_k)));
    }
    parts.push(humidity_in_words(by));
    for (what, pick) in [
        ("irradiation", (|change| change.irradiation_factor) as fn(&MonthChange) -> f64),
        ("wind", |change| change.wind_factor),
    ] {
        if by.months.iter().any(|change| (pick(change) - 1.0).abs() > 0.0) {
            parts.push(format!("{what} × {:.3}", over(pick)));
        }
    }
    let label = by.label.trim();
    let label = if label.is_empty() { String::new() } else { format!("{label}: ") };
    format!("{label}in the mean of the months {}", parts.join(", "))
}

/// What was limited, and which month did not come as far as was asked: by more than 0.05 K, 0.5 points, 0.5 % or 0.05 m/s.
pub fn findings(by: &Shift, months: &[MonthShifted; 12]) -> Findings {
    let mut findings = Findings::default();
    let kinds = [
        (FindingKind::LimitedToSaturation, "humidity was limited to saturation, or to none", HUMIDITY),
        (FindingKind::ImpossibleSun, "irradiance was limited to what the sun allows", SUN),
    ];
    for (kind, what, pick) in kinds {
        let count: usize = months.iter().map(pick).sum();
        if count > 0 {
            let sentence = format!("In {} {what}.", counted(count, "hour"));
            findings.push(Finding { count, ..Finding::whole_file(kind, Severity::Warning, sentence) });
        }
    }
    for (month, (change, got)) in by.months.iter().zip(months).enumerate() {
        for miss in misses(change, got) {
            let sentence = format!("{}: {miss}", name(month));
            findings.push(Finding::whole_file(FindingKind::ShiftNotReached, Severity::Warning, sentence));
        }
    }
    findings
}

const HUMIDITY: fn(&MonthShifted) -> usize = |month| month.humidity_limited_h;
const SUN: fn(&MonthShifted) -> usize = |month| month.sun_limited_h;

fn misses(change: &MonthChange, got: &MonthShifted) -> Vec<String> {
    let (before, after) = (&got.before, &got.after);
    let humidity = match change.humidity {
        HumidityChange::RelativeHumidity(share) => {
            let reached = 100.0 * (after.relative_humidity - before.relative_humidity);
            ("mean relative humidity", "points", 100.0 * share, reached, 0.5)
        }
        HumidityChange::DewPointK(k) => {
            ("mean dew point", "K", k, after.dew_point_c - before.dew_point_c, 0.05)
        }
    };
    let times = |factor: f64, before: f64| (factor - 1.0) * before;
    let sun_kwh = times(change.irradiation_factor, before.global_kwh_per_m2);
    let wind = times(change.wind_factor, before.wind_m_per_s);
    let checks = [
        ("mean dry bulb", "K", change.dry_bulb_k, after.dry_bulb_c - before.dry_bulb_c, 0.05),
        ("mean daily range", "K", change.daily_range_k, after.daily_range_k - before.daily_range_k, 0.05),
        humidity,
        (
            "irradiation",
            "kWh/m²",
            sun_kwh,
            after.global_kwh_per_m2 - before.global_kwh_per_m2,
            (0.005 * before.global_kwh_per_m2).max(0.005),
        ),
        ("mean wind", "m/s", wind, after.wind_m_per_s - before.wind_m_per_s, 0.05),
    ];
    (checks.iter())
        .filter(|(_, _, asked, reached, room)| (asked - reached).abs() > *room)
        .map(|(what, unit, asked, reached, _)| {
            format!("the {what} changes by {reached:+.2} {unit} instead of {asked:+.2} {unit}.")
        })
        .collect()
}

fn humidity_in_words(by: &Shift) -> String {
    let dew_points: Vec<f64> = (by.months.iter())
        .filter_map(|change| match change.humidity {
            HumidityChange::DewPointK(k) => Some(k),
            HumidityChange::RelativeHumidity(_) => None,
        })
        .collect();
    let points: Vec<f64> = (by.months.iter())
        .filter_map(|change| match change.humidity {
            HumidityChange::RelativeHumidity(share) => Some(100.0 * share),
            HumidityChange::DewPointK(_) => None,
        })
        .collect();
    if !dew_points.is_empty() {
        format!("dew point {:+.2} K", mean(&dew_points))
    } else if points.iter().any(|points| *points != 0.0) {
        format!("relative humidity {:+.2} points", mean(&points))
    } else {
        "relative humidity kept".to_owned()
    }
}

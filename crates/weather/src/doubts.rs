//! Doubts: what in a year looks wrong though it can be read. Nothing is changed here. What is not here: repairs, which
//! are counted where they are made (`complete.rs`). Read next: [`crate::findings`].

use crate::calendar::Calendar;
use crate::findings::{Finding, FindingKind, Findings, Location, Severity, counted};
use crate::humidity;
use crate::quantity::Quantity;
use crate::sun::{self, SunPosition};
use crate::sun_check::{self, Agreement};
use crate::table::Row;
use crate::year::{HumidityBasis, HumidityOrigin, WeatherYear};

/// Relative humidity and dew point of one row differ by rounding up to this \[points\].
const DISAGREEMENT_POINTS: f64 = 3.0;
/// A sensor that shows one value this long is doubted \[h\].
const FROZEN_H: usize = 24;
/// Humidity and wind are rounded coarsely, so they are given longer \[h\].
const FROZEN_HUMIDITY_OR_WIND_H: usize = 48;
/// Diffuse may exceed global by rounding and by the hour in which the sun rises.
const DIFFUSE_ABOVE_GLOBAL_W_PER_M2: f64 = 20.0;
/// A sun this far below the horizon gives no light in any part of the hour: 15° an hour at most, and dusk.
const NIGHT_ZENITH_DEG: f64 = 100.0;
const NIGHT_SUN_W_PER_M2: f64 = 5.0;
/// Cloudy mornings or afternoons shift a year's light by some tenths of an hour, not by this much \[h\].
const LAG_H: f64 = 0.7;

/// The humidity curve, and rows whose two humidities disagree.
pub(crate) fn humidity(rows: &[Row], year: &WeatherYear, findings: &mut Findings) {
    let sentence = basis_sentence(year);
    findings.push(Finding::whole_file(FindingKind::HumidityBasis, Severity::Note, sentence));
    let far = |row: &&Row| {
        row.get(Quantity::HumidityRatio).is_none()
            && humidity::disagreement_points(row, year.humidity_basis)
                .is_some_and(|points| points.abs() > DISAGREEMENT_POINTS)
    };
    let places: Vec<Location> = rows.iter().filter(far).map(Row::location).collect();
    if !places.is_empty() {
        let sentence = format!(
            "Relative humidity and dew point disagree by more than 3 points in {}: the dew point was used.",
            counted(places.len(), "row")
        );
        findings.push(Finding::at(FindingKind::HumidityDisagrees, Severity::Note, &places, sentence));
    }
}

fn basis_sentence(year: &WeatherYear) -> String {
    let curve = match year.humidity_basis {
        HumidityBasis::Water => "over liquid water",
        HumidityBasis::Ice => "over ice",
    };
    match year.humidity_origin {
        HumidityOrigin::Inferred { hours, water_points, ice_points } => format!(
            "Humidity below 0 °C was read {curve}: in {hours} cold hours relative humidity lies on average \
             {water_points:.2} points from the dew point's over water, {ice_points:.2} over ice."
        ),
        HumidityOrigin::Assumed => format!(
            "Humidity below 0 °C was read {curve}, as weather services state it; the file has too few cold hours with both relative humidity and dew point \
             to tell."
        ),
        HumidityOrigin::Given => format!("Humidity below 0 °C was read {curve}, as given."),
        HumidityOrigin::NotNeeded => {
            "The file states the humidity ratio itself; no curve was needed.".to_owned()
        }
    }
}

/// Pressure and dry bulb.
pub(crate) fn air(year: &WeatherYear, findings: &mut Findings) {
    let mean_pa = humidity::mean(&year.pressure_pa);
    let standard_pa = standard_pressure_pa(year.place.elevation_m);
    let fits = (mean_pa / standard_pa - 1.0).abs() <= 0.1;
    let first = year.pressure_pa.first().copied().unwrap_or(mean_pa);
    if year.pressure_pa.iter().all(|p| (p - first).abs() < 0.5) {
        let sentence = format!("Pressure is {first:.0} Pa all year: a filler, not a measurement.");
        let severity = if fits { Severity::Note } else { Severity::Warning };
        findings.push(Finding::whole_file(FindingKind::PressureConstant, severity, sentence));
    }
    if !fits {
        let sentence = format!(
            "Mean pressure {mean_pa:.0} Pa does not fit the elevation of {:.0} m, where about {standard_pa:.0} Pa is usual; \
             humidity ratios err by as much.",
            year.place.elevation_m
        );
        findings.push(Finding::whole_file(
            FindingKind::PressureAgainstElevation,
            Severity::Warning,
            sentence,
        ));
    }
    wind(year, findings);
    frozen_sensors(year, findings);
}

/// The windiest inhabited coasts have yearly means of 9 to 10 m/s at 10 m [m/s].
const WINDY_M_PER_S: f64 = 11.0;

/// Miles an hour, knots and km/h look like strong wind; of an invented year its maker chose the wind.
fn wind(year: &WeatherYear, findings: &mut Findings) {
    let mean = humidity::mean(&year.wind_speed_m_per_s);
    if mean > WINDY_M_PER_S && !year.is_synthetic {
        let sentence = format!(
            "The mean wind is {mean:.1} m/s, more than the windiest coasts have: the column looks like mph ({:.1} m/s), \
             knots ({:.1} m/s) or km/h ({:.1} m/s). It was taken as m/s.",
            mean * 0.44704,
            mean * 0.514_444,
            mean / 3.6
        );
        findings.push(Finding::whole_file(FindingKind::UnitDoubted, Severity::Warning, sentence));
    }
}

/// Pressure of the standard atmosphere \[Pa\].
///
/// `101325 (1 - 2.25577e-5 z)^5.2559`
///
/// # Source
/// [ASHRAE-F] ch. 1, standard atmosphere.
pub(crate) fn standard_pressure_pa(elevation_m: f64) -> f64 {
    101_325.0 * (1.0 - 2.25577e-5 * elevation_m).powf(5.2559)
}

/// A column that may stand still, and how long it may.
struct Stillness<'a> {
    kind: FindingKind,
    what: &'static str,
    values: &'a [f64],
    longest_h: usize,
    reason: &'static str,
}

fn frozen_sensors(year: &WeatherYear, findings: &mut Findings) {
    let dry_bulb = Stillness {
        kind: FindingKind::FrozenSensor,
        what: "dry bulb",
        values: &year.dry_bulb_c,
        longest_h: FROZEN_H,
        reason: "a stuck sensor, or coarse rounding in steady air",
    };
    let humidity = Stillness {
        kind: FindingKind::FrozenHumidity,
        what: "humidity",
        values: &year.humidity_ratio,
        longest_h: FROZEN_HUMIDITY_OR_WIND_H,
        ..dry_bulb
    };
    // A calm may last for days.
    let wind = Stillness {
        kind: FindingKind::FrozenWind,
        what: "wind speed",
        values: &year.wind_speed_m_per_s,
        reason: "a stuck sensor, or a value filled in",
        ..humidity
    };
    for still in [dry_bulb, humidity, wind] {
        frozen(&still, year.calendar(), findings);
    }
}

fn frozen(still: &Stillness, calendar: Calendar, findings: &mut Findings) {
    let mut places = Vec::new();
    let (mut start, mut longest) = (0, 0);
    let is_calm = |h: usize| still.kind == FindingKind::FrozenWind && still.values.get(h) == Some(&0.0);
    for h in 1..=still.values.len() {
        let same = still.values.get(h).is_some_and(|t| Some(t) == still.values.get(start));
        if !same {
            if h - start >= still.longest_h && !is_calm(start) {
                places.push(hour_location(calendar, start));
                longest = longest.max(h - start);
            }
            start = h;
        }
    }
    if !places.is_empty() {
        let span = if still.longest_h == FROZEN_H { "a day" } else { "two days" };
        let sentence = format!(
            "The {} shows one value for {span} or longer ({}, at most {longest} h): {}.",
            still.what,
            counted(places.len(), "time"),
            still.reason
        );
        findings.push(Finding::at(still.kind, Severity::Warning, &places, sentence));
    }
}

/// Night sun, the placement of the sun, and whether another fits better.
pub(crate) fn sun(year: &WeatherYear, findings: &mut Findings) {
    let positions = sun::positions(year);
    night_sun(year, &positions, findings);
    impossible_sun(year, &positions, findings);
    let chosen = sun_check::agreement(year, year.sun_offset_h);
    let tested = match chosen.hours {
        _ if findings.count_of(FindingKind::BeamDerived) > 0 => "the beam was derived there".to_owned(),
        0 => "no hour has a beam to test it by".to_owned(),
        _ => format!("beam, diffuse and global agree there to {:.1} W/m² rms", chosen.rms_w_per_m2),
    };
    let sentence = format!("The sun is placed {:.4} h after each hour begins; {tested}.", chosen.offset_h);
    findings.push(Finding::whole_file(FindingKind::SunPlacement, Severity::Note, sentence));
    out_of_step(year, (&positions, chosen), findings);
}

fn out_of_step(
    year: &WeatherYear,
    (positions, chosen): (&[SunPosition], Agreement),
    findings: &mut Findings,
) {
    let lag_h = sun_check::lag_with_h(year, positions);
    let sentence = match better_placed(year, chosen) {
        Some(best) => format!(
            "The sun looks out of step with the clock: {:.1} h after each hour begins, beam, diffuse and global agree to \
             {:.1} W/m² rms instead of {:.1}. Check the time zone and the longitude.",
            best.offset_h, best.rms_w_per_m2, chosen.rms_w_per_m2
        ),
        None if lag_h.abs() > LAG_H => format!(
            "The sun looks out of step with the clock: over the year, light comes {:.1} h {} than the sun. Check the time \
             zone and the longitude.",
            lag_h.abs(),
            if lag_h > 0.0 { "later" } else { "earlier" }
        ),
        None => return,
    };
    findings.push(Finding::whole_file(FindingKind::SunOutOfStep, Severity::Warning, sentence));
}

/// The best placement half an hour or an hour away, where it is clearly better: less than two thirds of a disagreement that
/// matters.
fn better_placed(year: &WeatherYear, chosen: Agreement) -> Option<Agreement> {
    if chosen.rms_w_per_m2 <= 10.0 {
        return None;
    }
    let others = [-1.0, -0.5, 0.5, 1.0].map(|shift| sun_check::agreement(year, year.sun_offset_h + shift));
    let best = others.into_iter().min_by(|a, b| a.rms_w_per_m2.total_cmp(&b.rms_w_per_m2));
    best.filter(|best| best.rms_w_per_m2 < chosen.rms_w_per_m2 * 2.0 / 3.0)
}

fn night_sun(year: &WeatherYear, positions: &[SunPosition], findings: &mut Findings) {
    let places: Vec<Location> = (year.global_horizontal_w_per_m2.iter().zip(positions).enumerate())
        .filter(|(_, (global, sun))| **global > NIGHT_SUN_W_PER_M2 && sun.zenith_deg > NIGHT_ZENITH_DEG)
        .map(|(h, _)| hour_location(year.calendar(), h))
        .collect();
    if !places.is_empty() {
        let sentence = format!("The sun shines at night in {}.", counted(places.len(), "hour"));
        findings.push(Finding::at(FindingKind::NightSun, Severity::Warning, &places, sentence));
    }
}

/// Beam above what arrives from space, a day's global above it, diffuse above global.
fn impossible_sun(year: &WeatherYear, positions: &[SunPosition], findings: &mut Findings) {
    let calendar = year.calendar();
    let from_space = |h: usize| sun::extraterrestrial_w_per_m2(calendar.day_of_year(h));
    let day_of = |values: &[f64]| values.chunks(24).map(|day| day.iter().sum::<f64>()).collect::<Vec<_>>();
    let on_horizontal: Vec<f64> =
        (positions.iter().enumerate()).map(|(h, position)| from_space(h) * position.height()).collect();
    let beam: Vec<usize> = (year.direct_normal_w_per_m2.iter().enumerate())
        .filter(|(h, beam)| **beam > from_space(*h))
        .map(|(h, _)| h)
        .collect();
    let days: Vec<usize> =
        (day_of(&year.global_horizontal_w_per_m2).iter().zip(day_of(&on_horizontal)).enumerate())
            .filter(|(_, (global, most))| **global > *most + 24.0 * NIGHT_SUN_W_PER_M2)
            .map(|(day, _)| 24 * day)
            .collect();
    let diffuse: Vec<usize> =
        (year.diffuse_horizontal_w_per_m2.iter().zip(&year.global_horizontal_w_per_m2).enumerate())
            .filter(|(_, (diffuse, global))| **diffuse > **global + DIFFUSE_ABOVE_GLOBAL_W_PER_M2)
            .map(|(h, _)| h)
            .collect();
    for (hours, unit, what) in [
        (beam, "hour", "The beam is stronger than what arrives from space"),
        (days, "day", "Global irradiation of the day is more than what arrives from space"),
        (diffuse, "hour", "Diffuse irradiance is above global"),
    ] {
        if !hours.is_empty() {
            let places: Vec<Location> = hours.iter().map(|&h| hour_location(calendar, h)).collect();
            let sentence = format!("{what} in {}.", counted(places.len(), unit));
            findings.push(Finding::at(FindingKind::ImpossibleSun, Severity::Warning, &places, sentence));
        }
    }
}

fn hour_location(calendar: Calendar, h: usize) -> Location {
    Location { line: None, hour: Some(calendar.stamp(h)) }
}

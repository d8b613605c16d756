//! `dewledger weather`: place, findings and statistics of weather files.

use std::fs;
use std::path::Path;

use serde::Serialize;
use weather::{Findings, Overrides, Summary, WeatherError, WeatherYear};

use crate::arguments::Weather;
use crate::failure::Failure;
use crate::show;

pub(crate) fn report(options: &Weather) -> Result<(), Failure> {
    let mut reports = Vec::new();
    for path in &options.files {
        reports.push(read(path)?);
    }
    if options.json {
        let json: Vec<WeatherJson> =
            reports.iter().map(|(name, year, findings)| json(name, year, findings)).collect();
        return show::result_line(serde_json::to_string_pretty(&json).map_err(Failure::work)?);
    }
    let texts: Vec<String> =
        reports.iter().map(|(name, year, findings)| text(name, year, findings)).collect();
    show::result(&texts.join("\n"))
}

fn read(path: &Path) -> Result<(String, WeatherYear, Findings), Failure> {
    let bytes = fs::read(path).map_err(|cause| Failure::unreadable(path, &cause))?;
    let name = path.display().to_string();
    let (year, findings) =
        weather::read(&bytes, &Overrides::default()).map_err(|cause| weather_failure(&name, &cause))?;
    Ok((name, year, findings))
}

/// A weather file's fault, with its name and what would be right.
pub(crate) fn weather_failure(name: &str, cause: &WeatherError) -> Failure {
    Failure::input(format!("{name}: {cause}")).hint(cause.hint())
}

fn text(name: &str, year: &WeatherYear, findings: &Findings) -> String {
    use std::fmt::Write as _;
    let place = &year.place;
    let summary = weather::summary(year);
    let mut out = String::new();
    // Writing into a String cannot fail.
    let _ = writeln!(out, "{name}");
    let _ = writeln!(
        out,
        "  {} · {:.3}° {}, {:.3}° {} · {:.0} m · UTC{:+} h · {} hours · {}",
        place.name,
        place.latitude_deg.abs(),
        if place.latitude_deg < 0.0 { "south" } else { "north" },
        place.longitude_deg.abs(),
        if place.longitude_deg < 0.0 { "west" } else { "east" },
        place.elevation_m,
        place.time_zone_h,
        year.hours(),
        year.format,
    );
    let _ = writeln!(out);
    for (label, value) in statistics(&summary) {
        let _ = writeln!(out, "  {label:<44} {value:>10}");
    }
    let _ = writeln!(out);
    for finding in findings.iter() {
        let _ = writeln!(out, "  {finding}");
    }
    out
}

fn statistics(s: &Summary) -> Vec<(&'static str, String)> {
    vec![
        ("Mean dry bulb [°C]", format!("{:.2}", s.mean_dry_bulb_c)),
        ("Lowest dry bulb [°C]", format!("{:.2}", s.min_dry_bulb_c)),
        ("Highest dry bulb [°C]", format!("{:.2}", s.max_dry_bulb_c)),
        ("Mean dew point [°C]", format!("{:.2}", s.mean_dew_point_c)),
        ("Mean humidity ratio [g/kg]", format!("{:.3}", 1e3 * s.mean_humidity_ratio)),
        ("Mean pressure [hPa]", format!("{:.1}", 1e-2 * s.mean_pressure_pa)),
        ("Mean wind speed [m/s]", format!("{:.1}", s.mean_wind_speed_m_per_s)),
        ("Heating degree-days, base 18 °C, hourly [K·d]", format!("{:.1}", s.heating_degree_days_18)),
        ("Cooling degree-days, base 18 °C, hourly [K·d]", format!("{:.1}", s.cooling_degree_days_18)),
        ("Hours below -10 °C [h]", s.hours_below_minus_10_c.to_string()),
        ("Hours with dew point above 16 °C [h]", s.hours_dew_point_above_16_c.to_string()),
        ("Global irradiation, horizontal [kWh/m²]", format!("{:.1}", s.global_kwh_per_m2)),
    ]
}

#[derive(Serialize)]
struct WeatherJson {
    file: String,
    place: String,
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    time_zone_h: f64,
    hours: usize,
    format: String,
    synthetic: bool,
    humidity_basis: String,
    mean_dry_bulb_c: f64,
    min_dry_bulb_c: f64,
    max_dry_bulb_c: f64,
    mean_dew_point_c: f64,
    mean_humidity_ratio: f64,
    mean_pressure_pa: f64,
    mean_wind_speed_m_per_s: f64,
    heating_degree_days_18: f64,
    cooling_degree_days_18: f64,
    hours_below_minus_10_c: usize,
    hours_dew_point_above_16_c: usize,
    global_kwh_per_m2: f64,
    findings: Vec<FindingJson>,
}

#[derive(Serialize)]
struct FindingJson {
    severity: String,
    count: usize,
    text: String,
}

fn json(name: &str, year: &WeatherYear, findings: &Findings) -> WeatherJson {
    let s = weather::summary(year);
    let findings = findings.iter().map(|finding| FindingJson {
        severity: match finding.severity {
            weather::Severity::Note => "note".to_owned(),
            weather::Severity::Warning => "warning".to_owned(),
        },
        count: finding.count,
        text: finding.sentence.clone(),
    });
    WeatherJson {
        file: name.to_owned(),
        place: year.place.name.clone(),
        latitude_deg: year.place.latitude_deg,
        longitude_deg: year.place.longitude_deg,
        elevation_m: year.place.elevation_m,
        time_zone_h: year.place.time_zone_h,
        hours: year.hours(),
        format: year.format.to_string(),
        synthetic: year.is_synthetic,
        humidity_basis: year.humidity_basis.to_string(),
        mean_dry_bulb_c: s.mean_dry_bulb_c,
        min_dry_bulb_c: s.min_dry_bulb_c,
        max_dry_bulb_c: s.max_dry_bulb_c,
        mean_dew_point_c: s.mean_dew_point_c,
        mean_humidity_ratio: s.mean_humidity_ratio,
        mean_pressure_pa: s.mean_pressure_pa,
        mean_wind_speed_m_per_s: s.mean_wind_speed_m_per_s,
        heating_degree_days_18: s.heating_degree_days_18,
        cooling_degree_days_18: s.cooling_degree_days_18,
        hours_below_minus_10_c: s.hours_below_minus_10_c,
        hours_dew_point_above_16_c: s.hours_dew_point_above_16_c,
        global_kwh_per_m2: s.global_kwh_per_m2,
        findings: findings.collect(),
    }
}

//! The report as JSON, always SI.
//!
//! Not here: the text (`../weather_report.rs`).

use serde::Serialize;
use weather::months::Side;
use weather::{FindingKind, HumidityOrigin, Severity, sun_check};

use super::{Read, checks};

#[derive(Serialize)]
pub(crate) struct WeatherJson {
    file: String,
    place: String,
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    time_zone_h: f64,
    hours: usize,
    format: String,
    synthetic: bool,
    shifted: Option<String>,
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
    design: DesignJson,
    degree_days: Vec<DegreeDaysJson>,
    wind: WindJson,
    checks: ChecksJson,
    months: Vec<MonthJson>,
    findings: Vec<FindingJson>,
}

#[derive(Serialize)]
struct DesignJson {
    heating_99_6_dry_bulb_c: f64,
    heating_99_dry_bulb_c: f64,
    cooling: Vec<CoolingJson>,
    dehumidification: Vec<DehumidificationJson>,
}

#[derive(Serialize)]
struct CoolingJson {
    share_pct: f64,
    dry_bulb_c: f64,
    coincident_wet_bulb_c: Option<f64>,
}

#[derive(Serialize)]
struct DehumidificationJson {
    share_pct: f64,
    dew_point_c: f64,
    coincident_dry_bulb_c: f64,
}

#[derive(Serialize)]
struct DegreeDaysJson {
    side: &'static str,
    base_c: f64,
    degree_hours_k_h: f64,
    by_hours_k_d: f64,
    by_days_k_d: f64,
}

#[derive(Serialize)]
struct WindJson {
    mean_m_per_s: f64,
    upper_1_pct_m_per_s: f64,
    calm_share: f64,
    prevailing: Option<&'static str>,
    sectors: Vec<SectorJson>,
}

#[derive(Serialize)]
struct SectorJson {
    from: &'static str,
    share: f64,
    mean_m_per_s: f64,
}

#[derive(Serialize)]
struct ChecksJson {
    gaps_filled_h: usize,
    rows_out_of_order: usize,
    dry_bulb_outliers_h: usize,
    fillers: usize,
    impossible_irradiance: usize,
    sun_at_night_h: usize,
    frozen: usize,
    dew_point_above_dry_bulb: usize,
    limited_to_ice_saturation_h: usize,
    limited_to_saturation_h: usize,
    humidity_disagrees: usize,
    humidity_points_from_water: Option<f64>,
    humidity_points_from_ice: Option<f64>,
    pressure: &'static str,
    sun_offset_h: f64,
    sun_agreement_w_per_m2: f64,
    light_later_than_sun_h: f64,
    time_labels: &'static str,
}

#[derive(Serialize)]
struct MonthJson {
    month: u8,
    mean_dry_bulb_c: f64,
    min_dry_bulb_c: f64,
    max_dry_bulb_c: f64,
    mean_dew_point_c: f64,
    mean_humidity_ratio: f64,
    mean_wind_speed_m_per_s: f64,
    global_kwh_per_m2: f64,
    heating_degree_days_18: f64,
    cooling_degree_days_18_3: f64,
}

#[derive(Serialize)]
struct FindingJson {
    severity: &'static str,
    count: usize,
    text: String,
}

pub(crate) fn of(file: &Read) -> WeatherJson {
    let year = &file.year;
    let s = weather::summary(year);
    WeatherJson {
        file: file.name.clone(),
        place: year.place.name.clone(),
        latitude_deg: year.place.latitude_deg,
        longitude_deg: year.place.longitude_deg,
        elevation_m: year.place.elevation_m,
        time_zone_h: year.place.time_zone_h,
        hours: year.hours(),
        format: year.format.to_string(),
        synthetic: year.is_synthetic,
        shifted: year.shifted.clone(),
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
        design: design(file),
        degree_days: degree_days(file),
        wind: wind(file),
        checks: checks_of(file),
        months: months(file),
        findings: findings(file),
    }
}

fn design(file: &Read) -> DesignJson {
    let found = weather::design(&file.year);
    let cooling = found.cooling.map(|c| CoolingJson {
        share_pct: c.share_pct,
        dry_bulb_c: c.dry_bulb_c,
        coincident_wet_bulb_c: c.coincident_wet_bulb_c,
    });
    let dehumidification = found.dehumidification.map(|d| DehumidificationJson {
        share_pct: d.share_pct,
        dew_point_c: d.dew_point_c,
        coincident_dry_bulb_c: d.coincident_dry_bulb_c,
    });
    DesignJson {
        heating_99_6_dry_bulb_c: found.heating_99_6_c,
        heating_99_dry_bulb_c: found.heating_99_c,
        cooling: cooling.into(),
        dehumidification: dehumidification.into(),
    }
}

fn degree_days(file: &Read) -> Vec<DegreeDaysJson> {
    let json = |days: weather::DegreeDays| DegreeDaysJson {
        side: match days.side {
            Side::Heating => "heating",
            Side::Cooling => "cooling",
        },
        base_c: days.base_c,
        degree_hours_k_h: days.degree_hours,
        by_hours_k_d: days.of_hours,
        by_days_k_d: days.of_daily_means,
    };
    weather::degree_days(&file.year).map(json).into()
}

fn wind(file: &Read) -> WindJson {
    let wind = weather::wind(&file.year);
    let shares = wind.sector_shares.iter().zip(wind.sector_means_m_per_s);
    let sectors = weather::wind::SECTOR_NAMES
        .iter()
        .zip(shares)
        .map(|(from, (share, mean_m_per_s))| SectorJson { from, share: *share, mean_m_per_s })
        .collect();
    WindJson {
        mean_m_per_s: wind.mean_m_per_s,
        upper_1_pct_m_per_s: wind.upper_1_pct_m_per_s,
        calm_share: wind.calm_share,
        prevailing: wind.prevailing(),
        sectors,
    }
}

fn checks_of(file: &Read) -> ChecksJson {
    let count = |kind| file.findings.count_of(kind);
    let (water, ice) = match file.year.humidity_origin {
        HumidityOrigin::Inferred { water_points, ice_points, .. } => (Some(water_points), Some(ice_points)),
        _ => (None, None),
    };
    ChecksJson {
        gaps_filled_h: count(FindingKind::FilledGap),
        rows_out_of_order: count(FindingKind::RowsOutOfOrder),
        dry_bulb_outliers_h: count(FindingKind::Outlier),
        fillers: count(FindingKind::Filler),
        impossible_irradiance: count(FindingKind::ImpossibleSun),
        sun_at_night_h: count(FindingKind::NightSun),
        frozen: [FindingKind::FrozenSensor, FindingKind::FrozenHumidity, FindingKind::FrozenWind]
            .map(count)
            .iter()
            .sum(),
        dew_point_above_dry_bulb: count(FindingKind::DewPointAboveDryBulb),
        limited_to_ice_saturation_h: count(FindingKind::LimitedToIceSaturation),
        limited_to_saturation_h: count(FindingKind::LimitedToSaturation),
        humidity_disagrees: count(FindingKind::HumidityDisagrees),
        humidity_points_from_water: water,
        humidity_points_from_ice: ice,
        pressure: checks::pressure(file),
        sun_offset_h: file.year.sun_offset_h,
        sun_agreement_w_per_m2: sun_check::agreement(&file.year, file.year.sun_offset_h).rms_w_per_m2,
        light_later_than_sun_h: sun_check::lag_h(&file.year),
        time_labels: checks::labels(file),
    }
}

fn months(file: &Read) -> Vec<MonthJson> {
    let json = |month: weather::Month| MonthJson {
        month: month.month,
        mean_dry_bulb_c: month.mean_dry_bulb_c,
        min_dry_bulb_c: month.min_dry_bulb_c,
        max_dry_bulb_c: month.max_dry_bulb_c,
        mean_dew_point_c: month.mean_dew_point_c,
        mean_humidity_ratio: month.mean_humidity_ratio,
        mean_wind_speed_m_per_s: month.mean_wind_speed_m_per_s,
        global_kwh_per_m2: month.global_kwh_per_m2,
        heating_degree_days_18: month.heating_degree_days_18,
        cooling_degree_days_18_3: month.cooling_degree_days_18_3,
    };
    weather::months(&file.year).into_iter().map(json).collect()
}

fn findings(file: &Read) -> Vec<FindingJson> {
    let json = |finding: &weather::Finding| FindingJson {
        severity: match finding.severity {
            Severity::Note => "note",
            Severity::Warning => "warning",
        },
        count: finding.count,
        text: finding.sentence.clone(),
    };
    file.findings.iter().map(json).collect()
}

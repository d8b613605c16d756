//! The published years give the statistics that another tool computed from the same files.
//!
//! Source of the expected values: pvlib 0.16.1 and pandas on the unchanged files, to the digits written here. Where a
//! test says so, the value is another: of the file's own column, or of a script of its own that works the handbook's two
//! saturation curves without this crate.

#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;
#[path = "../../../tests/proof/mod.rs"]
mod proof;

use common::{
    COLORADO, COLORADO_HALVES, GREENSBORO, MIAMI, PIEDMONT, PIEDMONT_CSV, SAND_POINT, joined, lines_of,
    read_bytes, read_published,
};
use weather::{FindingKind, Format, Summary, summary};

struct Expected {
    dry_bulb_c: [f64; 3],
    dew_point_c: f64,
    humidity_g_per_kg: f64,
    heating_degree_days: f64,
    below_minus_10: usize,
    dew_point_above_16: usize,
    global_kwh_per_m2: f64,
}

/// Half of the last digit of the published figures.
fn check(name: &str, expected: &Expected) {
    let s: Summary = summary(&read_published(name).0);
    let near = |what: &str, found: f64, wanted: f64, half_digit: f64| {
        assert!((found - wanted).abs() <= half_digit, "{name}, {what}: {found}, published {wanted}");
    };
    on_the_page(name, expected, &s);
    near("mean dry bulb", s.mean_dry_bulb_c, expected.dry_bulb_c[0], 0.005);
    near("lowest dry bulb", s.min_dry_bulb_c, expected.dry_bulb_c[1], 1e-9);
    near("highest dry bulb", s.max_dry_bulb_c, expected.dry_bulb_c[2], 1e-9);
    near("mean dew point", s.mean_dew_point_c, expected.dew_point_c, 0.005);
    near("mean humidity ratio", s.mean_humidity_ratio * 1000.0, expected.humidity_g_per_kg, 0.0005);
    near("degree-days", s.heating_degree_days_18, expected.heating_degree_days, 0.05);
    near("irradiation", s.global_kwh_per_m2, expected.global_kwh_per_m2, 0.05);
    assert_eq!(s.hours_below_minus_10_c, expected.below_minus_10, "{name}, hours below -10 °C");
    assert_eq!(
        s.hours_dew_point_above_16_c, expected.dew_point_above_16,
        "{name}, hours of dew point above 16 °C"
    );
}

fn on_the_page(name: &str, expected: &Expected, s: &Summary) {
    let rows = [
        ("degree-days below 18 °C", expected.heating_degree_days, s.heating_degree_days_18, 0.05, "K d"),
        ("mean humidity ratio", expected.humidity_g_per_kg, 1e3 * s.mean_humidity_ratio, 0.0005, "g/kg"),
    ];
    for (what, expected, got, half_digit, unit) in rows {
        let claim = proof::Claim {
            area: "weather",
            quantity: &format!("{name}: {what}"),
            source: "pvlib 0.16.1 and pandas on the published file",
            basis: "computed",
            unit,
            why: "half of the last printed digit",
        };
        let pair = proof::Pair { place: String::new(), expected, got };
        proof::worst(&claim, proof::Within::Absolute(half_digit), &[pair]);
    }
}

#[test]
fn greensboro_gives_the_published_statistics() {
    check(
        GREENSBORO,
        &Expected {
            dry_bulb_c: [14.42, -16.7, 35.6],
            dew_point_c: 8.18,
            humidity_g_per_kg: 8.460,
            heating_degree_days: 2179.3,
            below_minus_10: 43,
            dew_point_above_16: 2798,
            global_kwh_per_m2: 1566.2,
        },
    );
}

#[test]
fn sand_point_gives_the_published_statistics() {
    check(
        SAND_POINT,
        &Expected {
            dry_bulb_c: [4.42, -10.6, 19.4],
            dew_point_c: 0.13,
            humidity_g_per_kg: 4.068,
            heating_degree_days: 4956.7,
            below_minus_10: 2,
            dew_point_above_16: 0,
            global_kwh_per_m2: 829.2,
        },
    );
}

/// The dew-point column has the mean 8.63 °C and 1 390 hours above 16 °C; the figures 8.67 °C and 1 391 h that also
/// circulate are the frost point worked from the relative-humidity column.
#[test]
fn piedmont_gives_the_published_statistics() {
    check(
        PIEDMONT,
        &Expected {
            dry_bulb_c: [13.56, -2.34, 34.33],
            dew_point_c: 8.63,
            humidity_g_per_kg: 7.678,
            heating_degree_days: 2184.9,
            below_minus_10: 0,
            dew_point_above_16: 1390,
            global_kwh_per_m2: 1435.9,
        },
    );
}

/// The table has no dew point, only relative humidity: over water it stands for a dew point of 8.64 °C on average, 1 391
/// hours above 16 °C, and 7.682 g/kg (own script). The other file of the same year, with a dew point of its own, has
/// 8.63 °C, 1 390 h and 7.678 g/kg: in one hour of June the two columns differ by 1.8 K.
#[test]
fn piedmonts_own_table_gives_the_published_statistics() {
    check(
        PIEDMONT_CSV,
        &Expected {
            dry_bulb_c: [13.56, -2.34, 34.33],
            dew_point_c: 8.64,
            humidity_g_per_kg: 7.682,
            heating_degree_days: 2184.9,
            below_minus_10: 0,
            dew_point_above_16: 1391,
            global_kwh_per_m2: 1435.9,
        },
    );
}

#[test]
fn miami_gives_the_published_statistics() {
    check(
        MIAMI,
        &Expected {
            dry_bulb_c: [24.31, 3.3, 33.9],
            dew_point_c: 18.78,
            humidity_g_per_kg: 14.082,
            heating_degree_days: 110.6,
            below_minus_10: 0,
            dew_point_above_16: 6691,
            global_kwh_per_m2: 1792.6,
        },
    );
}

/// The published mean dew point, -2.90 °C, is that of the column; after the limit to saturation over ice it is -2.915 °C
/// (own script), and degree-days are 4330.25 before they are rounded to 4330.3. Of the 299 rows that are said to lie above
/// saturation, 8 are above 0 °C, with a dew point above the dry bulb, and are counted as that: 291 are left.
#[test]
fn colorado_gives_the_published_statistics() {
    check(
        COLORADO,
        &Expected {
            dry_bulb_c: [7.26, -20.0, 34.0],
            dew_point_c: -2.915,
            humidity_g_per_kg: 4.401,
            heating_degree_days: 4330.25,
            below_minus_10: 210,
            dew_point_above_16: 0,
            global_kwh_per_m2: 1777.9,
        },
    );
    let (_, findings) = read_published(COLORADO);
    assert_eq!(findings.count_of(FindingKind::LimitedToIceSaturation), 291);
    assert_eq!(findings.count_of(FindingKind::DewPointAboveDryBulb), 50);
}

/// Hours made of half-hours, by a script of its own: extremes, degree-days and the mean humidity ratio (4.40197 g/kg for
/// 4.40317 of the half-hours) change a little, means of the air and irradiation do not.
#[test]
fn colorados_half_hours_give_the_statistics_of_their_hours() {
    check(
        COLORADO_HALVES,
        &Expected {
            dry_bulb_c: [8.08, -27.625, 34.925],
            dew_point_c: -2.900,
            humidity_g_per_kg: 4.402,
            heating_degree_days: 4125.38,
            below_minus_10: 306,
            dew_point_above_16: 0,
            global_kwh_per_m2: 1748.9,
        },
    );
    let (_, findings) = read_published(COLORADO_HALVES);
    assert_eq!(findings.count_of(FindingKind::LimitedToIceSaturation), 348);
}

/// The published figures are of the half-hours themselves: read as two hourly tables, rows at :00 and rows at :30.
#[test]
fn colorados_half_hours_alone_give_the_published_statistics() {
    let lines = lines_of(COLORADO_HALVES);
    let years = ["0", "30"].map(|minute| {
        let of_minute = |line: &&String| line.split(',').nth(4) == Some(minute);
        let rows: Vec<String> =
            lines[..3].iter().chain(lines[3..].iter().filter(of_minute)).cloned().collect();
        read_bytes(&joined(&rows)).unwrap()
    });
    let [full, half] = years.each_ref().map(|(year, _)| summary(year));
    let mean = |of: fn(&Summary) -> f64| 0.5 * (of(&full) + of(&half));
    assert!((mean(|s| s.mean_dry_bulb_c) - 8.08).abs() < 0.005);
    assert_eq!(full.min_dry_bulb_c.min(half.min_dry_bulb_c), -27.7);
    assert_eq!(full.max_dry_bulb_c.max(half.max_dry_bulb_c), 35.0);
    assert!((mean(|s| s.mean_humidity_ratio) * 1000.0 - 4.403).abs() < 0.0005);
    assert!((mean(|s| s.heating_degree_days_18) - 4126.9).abs() < 0.05);
    assert!((mean(|s| s.global_kwh_per_m2) - 1748.9).abs() < 0.05);
    assert_eq!(full.hours_below_minus_10_c + half.hours_below_minus_10_c, 2 * 306);
    let limited: usize =
        years.iter().map(|(_, findings)| findings.count_of(FindingKind::LimitedToIceSaturation)).sum();
    assert_eq!(limited, 726);
    assert_eq!(years.each_ref().map(|(year, _)| year.sun_offset_h), [0.0, 0.5]);
}

/// The published mean dew points of Colorado are those of the columns, at most the dry bulb.
#[test]
fn colorados_dew_point_columns_have_the_published_means() {
    for (name, heading, rows, published) in
        [(COLORADO, 0, 8760.0, -2.90), (COLORADO_HALVES, 2, 17520.0, -2.88)]
    {
        let lines = lines_of(name);
        let column = |what: &str| lines[heading].split(',').position(|cell| cell == what).unwrap();
        let (dry_bulb, dew_point) = (column("Temperature"), column("Dew Point"));
        let number = |line: &String, at: usize| line.split(',').nth(at).unwrap().parse::<f64>().unwrap();
        let sum: f64 =
            lines[heading + 1..].iter().map(|line| number(line, dew_point).min(number(line, dry_bulb))).sum();
        assert!((sum / rows - published).abs() < 0.005, "{name}: {}", sum / rows);
    }
}

#[test]
fn the_places_are_those_of_the_headings() {
    let (year, _) = read_published(GREENSBORO);
    assert_eq!(year.place.name, "GREENSBORO PIEDMONT TRIAD INT, NC");
    let place =
        [year.place.latitude_deg, year.place.longitude_deg, year.place.elevation_m, year.place.time_zone_h];
    assert_eq!(place, [36.1, -79.95, 273.0, -5.0]);
    assert_eq!(year.format, Format::Tmy3Csv);
    let (year, _) = read_published(PIEDMONT);
    let place =
        [year.place.latitude_deg, year.place.longitude_deg, year.place.elevation_m, year.place.time_zone_h];
    assert_eq!(place, [45.0, 8.0, 250.0, 1.0]);
    assert_eq!(year.format, Format::Epw);
    let (year, _) = read_published(MIAMI);
    assert_eq!(year.place.name, "MIAMI, FL");
    // 25° 48' north, 80° 16' west.
    assert!(
        (year.place.latitude_deg - 25.8).abs() < 1e-9 && (year.place.longitude_deg + 80.2667).abs() < 1e-4
    );
    assert_eq!((year.place.elevation_m, year.place.time_zone_h, year.format), (2.0, -5.0, Format::Tmy2));
    let (year, _) = read_published(COLORADO_HALVES);
    let place =
        [year.place.latitude_deg, year.place.longitude_deg, year.place.elevation_m, year.place.time_zone_h];
    assert_eq!(place, [40.53, -108.54, 2168.0, -7.0]);
    assert_eq!((year.place.name.as_str(), year.format), ("NSRDB 401182", Format::NsrdbCsv));
}

/// First and last row as they stand in the file: 10.0 °C, 993 mbar, 6.2 m/s from 200°; 2.2 °C, 980 mbar.
#[test]
fn the_first_and_the_last_hour_are_the_first_and_the_last_row() {
    let (year, _) = read_published(GREENSBORO);
    assert_eq!(year.hours(), 8760);
    assert_eq!((year.dry_bulb_c[0], year.pressure_pa[0]), (10.0, 99_300.0));
    assert_eq!((year.wind_speed_m_per_s[0], year.wind_direction_deg[0]), (6.2, 200.0));
    assert_eq!((year.dry_bulb_c[8759], year.pressure_pa[8759]), (2.2, 98_000.0));
}

//! The published years give the statistics that another tool computed from the same files.
//!
//! Source of the expected values: pvlib 0.16.1 and pandas on the unchanged files, to the digits written here; for
//! Piedmont's dew point, the mean of the file's own dew-point column.

#![allow(clippy::float_cmp, reason = "numbers read from a file are compared with the same numbers")]

mod common;

use common::{GREENSBORO, PIEDMONT, SAND_POINT, read_published};
use weather::{Format, Summary, summary};

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

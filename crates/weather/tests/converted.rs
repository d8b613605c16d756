//! Any accepted format to the plain table: what is read back is what was read, to the bit, with its place and its marks.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;
#[path = "common/formats.rs"]
mod formats;

use common::{ALL, line_of_hour, plain_table, read_bytes, read_published};
use formats::{Kind, Site};
use proptest::prelude::*;
use weather::{Calendar, FindingKind, Findings, Format, HumidityBasis, WeatherError, WeatherYear};
use weather::{checked_plain_csv, read};

fn bits(year: &WeatherYear) -> Vec<Vec<u64>> {
    [
        &year.dry_bulb_c,
        &year.humidity_ratio,
        &year.pressure_pa,
        &year.wind_speed_m_per_s,
        &year.wind_direction_deg,
        &year.global_horizontal_w_per_m2,
        &year.direct_normal_w_per_m2,
        &year.diffuse_horizontal_w_per_m2,
    ]
    .iter()
    .map(|column| column.iter().map(|x| x.to_bits()).collect())
    .collect()
}

fn comes_back(year: &WeatherYear, findings: &Findings) -> Findings {
    let text = checked_plain_csv(year, findings).unwrap();
    let (back, found) = read_bytes(text.as_bytes()).unwrap();
    assert!(bits(&back) == bits(year), "{:?}", year.format);
    assert_eq!(back.place, year.place);
    assert_eq!(back.calendar(), year.calendar());
    assert_eq!((back.is_synthetic, &back.shifted), (year.is_synthetic, &year.shifted));
    assert_eq!(
        (back.sun_offset_h.to_bits(), back.wind_height_m),
        (year.sun_offset_h.to_bits(), year.wind_height_m)
    );
    assert_eq!((back.humidity_basis, &back.source), (year.humidity_basis, &year.source));
    assert_eq!(back.format, Format::PlainCsv);
    // Once more, and nothing at all changes.
    assert_eq!(checked_plain_csv(&back, findings).unwrap(), text);
    found
}

#[test]
fn every_published_year() {
    for name in ALL {
        let (year, findings) = read_published(name);
        comes_back(&year, &findings);
    }
}

#[test]
fn a_leap_year_of_every_format() {
    for kind in Kind::ALL {
        let site = Site { calendar: Calendar::Leap, ..Site::temperate() };
        let (year, findings) = read(site.file(kind).as_bytes(), &site.overrides(kind)).unwrap();
        assert_eq!(year.hours(), 8784);
        comes_back(&year, &findings);
    }
}

/// What was filled, limited or doubted stays in the file for whoever opens it.
#[test]
fn what_was_found_stands_in_the_heading() {
    let (year, findings) = read_published(common::GREENSBORO);
    let text = checked_plain_csv(&year, &findings).unwrap();
    let told: Vec<&str> =
        text.lines().filter_map(|line| line.strip_prefix("# found when it was read: ")).collect();
    assert_eq!(told, findings.iter().map(ToString::to_string).collect::<Vec<_>>());
    assert!(told[0].starts_with("note: Above saturation over ice in 35 hours below 0 °C: limited to it."));
}

fn mark() -> impl Strategy<Value = Option<String>> {
    prop::option::of("[a-zA-Z0-9(][a-z0-9:;.,# °+×()-]{0,40}[a-z0-9)]")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_place_name_and_mark(
        which in 0..Kind::ALL.len(),
        lat in -60.0..60.0_f64,
        lon in -170.0..170.0_f64,
        elevation_m in -400.0..3000.0_f64,
        is_leap in any::<bool>(),
        is_synthetic in any::<bool>(),
        shifted in mark(),
        name in "[^\\s,\"]([^\\r\\n]{0,30}[^\\s,\"])?",
        is_ice in any::<bool>(),
        height_m in 1.0..60.0_f64,
    ) {
        let calendar = if is_leap { Calendar::Leap } else { Calendar::Common };
        let (latitude_deg, longitude_deg) = ((lat * 60.0).round() / 60.0, (lon * 60.0).round() / 60.0);
        let site = Site { latitude_deg, longitude_deg, zone_h: (lon / 15.0).round(), calendar };
        let kind = Kind::ALL[which];
        let (mut year, findings) = read(site.file(kind).as_bytes(), &site.overrides(kind)).unwrap();
        year.place.name = name;
        year.place.elevation_m = elevation_m;
        (year.is_synthetic, year.shifted) = (is_synthetic, shifted);
        year.humidity_basis = if is_ice { HumidityBasis::Ice } else { HumidityBasis::Water };
        year.wind_height_m = height_m;
        let found = comes_back(&year, &findings);
        prop_assert_eq!(found.count_of(FindingKind::Synthetic), usize::from(year.is_synthetic));
        prop_assert_eq!(found.count_of(FindingKind::Shifted), usize::from(year.shifted.is_some()));
    }
}

/// A text that a spreadsheet's marks would be lost from is written without them.
#[test]
fn commas_and_quotation_marks_at_the_end_of_a_name_are_left_out() {
    let (mut year, _) = read_published(common::PIEDMONT);
    year.place.name = "  \"Town\r\nHall\", ,\"".to_owned();
    let text = checked_plain_csv(&year, &Findings::default()).unwrap();
    assert!(text.starts_with("# name: \"Town  Hall\n"), "{}", &text[..60]);
}

/// Air of 62 °C that holds 39 °C of dew at 60 kPa: 0.622 · 6999 / (60000 − 6999) = 0.082 kg/kg, by the handbook's table.
#[test]
fn a_year_that_the_table_cannot_hold_is_refused_with_the_place() {
    let lines = plain_table(Calendar::Common, |h| {
        if h == 100 { "62,39,,60000,3,200,0,0,0".to_owned() } else { common::mild_row(h) }
    });
    let (year, findings) = read_bytes(&common::joined(&lines)).unwrap();
    let error = checked_plain_csv(&year, &findings).unwrap_err();
    let remarks = findings.iter().count();
    // Ten lines of heading instead of the five of the test's table, and the remarks.
    let line = line_of_hour(100) + 5 + remarks;
    let WeatherError::OutOfRange { line: at, quantity, value, .. } = error else { panic!("{error}") };
    assert_eq!((at, quantity), (line, "humidity ratio"));
    assert!((value - 0.0821).abs() < 2e-4, "{value}");
}

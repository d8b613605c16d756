//! Which saturation curve a file uses below 0 °C is found from the file itself.
//!
//! Source of the expected differences: computed from the unchanged files with the handbook's two saturation curves by an
//! independent script (signed means over the rows below 0 °C).
#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that fails is a test that fails")]

mod common;

use common::{GREENSBORO, PIEDMONT, SAND_POINT, line_of_hour, plain_table, read_bytes, read_published};
use weather::{Calendar, FindingKind, HumidityBasis, HumidityOrigin, Overrides, WeatherYear, read};

fn differences(year: &WeatherYear) -> (f64, f64) {
    match year.humidity_origin {
        HumidityOrigin::Inferred { water_points, ice_points, .. } => (water_points, ice_points),
        other => panic!("{other:?}"),
    }
}

#[test]
fn greensboro_and_piedmont_refer_to_liquid_water() {
    for name in [GREENSBORO, PIEDMONT] {
        let (year, _) = read_published(name);
        assert_eq!(year.humidity_basis, HumidityBasis::Water, "{name}");
        assert!(differences(&year).0 < 0.5, "{name}: {:?}", differences(&year));
    }
    let (water, ice) = differences(&read_published(GREENSBORO).0);
    assert!((water - 0.465).abs() < 0.001 && (ice - 2.397).abs() < 0.001, "{water} {ice}");
}

#[test]
fn sand_point_refers_to_ice() {
    let (year, findings) = read_published(SAND_POINT);
    assert_eq!(year.humidity_basis, HumidityBasis::Ice);
    let (water, ice) = differences(&year);
    assert!((water - 3.212).abs() < 0.001 && (ice - 0.026).abs() < 0.001, "{water} {ice}");
    let told = findings.of_kind(FindingKind::HumidityBasis).next().unwrap();
    assert!(told.sentence.contains("read over ice"), "{}", told.sentence);
}

/// Source: the handbook's curve over water at -24 °C worked by an independent script, 88.4836 Pa; at -22 °C it gives
/// 105.5964 Pa, above the 103.2604 Pa (psychrolib 2.5.0) at which air of -20 °C is saturated over ice.
#[test]
fn a_dew_point_below_freezing_is_read_over_water_then_limited_over_ice() {
    let ratio = |vapour_pa: f64| 0.621945 * vapour_pa / (100_000.0 - vapour_pa);
    let of = |dew_point: &str| {
        let lines = plain_table(Calendar::Common, |_| format!("-20,{dew_point},,100000,3,200,0,0,0"));
        read_bytes(&common::joined(&lines)).unwrap()
    };
    let (year, findings) = of("-24");
    assert_eq!(year.humidity_origin, HumidityOrigin::Assumed);
    assert!((year.humidity_ratio[0] / ratio(88.4836) - 1.0).abs() < 1e-5);
    assert_eq!(findings.count_of(FindingKind::LimitedToIceSaturation), 0);
    let (year, findings) = of("-22");
    assert!((year.humidity_ratio[0] / ratio(103.2604) - 1.0).abs() < 1e-5);
    assert_eq!(findings.count_of(FindingKind::LimitedToIceSaturation), 8760);
}

/// Ratio of the two curves at -10 °C: 1.1026, so 80 % over water stays below saturation over ice.
#[test]
fn relative_humidity_alone_is_read_over_water_and_says_so() {
    let lines = plain_table(Calendar::Common, |_| "-10,,80,100000,3,200,0,0,0".to_owned());
    let (year, _) = read_bytes(&common::joined(&lines)).unwrap();
    let vapour_pa = 0.8 * 1.1026 * 259.9029;
    let expected = 0.621945 * vapour_pa / (100_000.0 - vapour_pa);
    assert!((year.humidity_ratio[0] / expected - 1.0).abs() < 1e-4);
}

#[test]
fn the_user_may_say_which_curve_it_is() {
    let lines = plain_table(Calendar::Common, |_| "-10,-12,,100000,3,200,0,0,0".to_owned());
    let bytes = common::joined(&lines);
    let over = |basis| {
        let overrides = Overrides { humidity_basis: Some(basis), ..Overrides::default() };
        read(&bytes, &overrides).unwrap().0
    };
    let (water, ice) = (over(HumidityBasis::Water), over(HumidityBasis::Ice));
    assert_eq!(water.humidity_origin, HumidityOrigin::Given);
    assert!(water.humidity_ratio[0] > 1.1 * ice.humidity_ratio[0]);
}

#[test]
fn a_dew_point_a_little_above_the_dry_bulb_is_limited_and_counted() {
    let mut lines = plain_table(Calendar::Common, common::mild_row);
    common::set_cell(&mut lines, line_of_hour(30), 3, "10");
    common::set_cell(&mut lines, line_of_hour(30), 4, "11.5");
    let (year, findings) = read_bytes(&common::joined(&lines)).unwrap();
    assert_eq!(findings.count_of(FindingKind::DewPointAboveDryBulb), 1);
    // Saturation at 10 °C is 1227.9953 Pa.
    let saturated = 0.621945 * 1227.9953 / (98_000.0 - 1227.9953);
    assert!((year.humidity_ratio[30] / saturated - 1.0).abs() < 1e-5);
    let finding = findings.of_kind(FindingKind::DewPointAboveDryBulb).next().unwrap();
    assert_eq!(finding.places[0].line, Some(line_of_hour(30)));
}

#[test]
fn rows_that_contradict_themselves_are_counted() {
    let mut lines = plain_table(Calendar::Common, |_| "20,10,52.5,100000,3,200,0,0,0".to_owned());
    common::set_cell(&mut lines, line_of_hour(5), 5, "60");
    let (_, findings) = read_bytes(&common::joined(&lines)).unwrap();
    assert_eq!(findings.count_of(FindingKind::HumidityDisagrees), 1);
}

//! What cannot be read is said in one clear message, with the line and a hint.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that fails is a test that fails")]

mod common;

use common::{
    GREENSBORO, PIEDMONT, joined, line_of_hour, lines_of, mild_row, plain_table, read_bytes, set_cell,
};
use weather::{Calendar, Overrides, PlaceOverride, WeatherError, read};

/// The message, after checking that a hint comes with it.
fn message(bytes: &[u8]) -> String {
    let error = read_bytes(bytes).err().unwrap();
    assert!(!error.hint().is_empty());
    error.to_string()
}

fn spoiled(file: &str, line: usize, cell: usize, text: &str) -> String {
    let mut lines = lines_of(file);
    set_cell(&mut lines, line, cell, text);
    message(&joined(&lines))
}

#[test]
fn an_empty_file() {
    assert_eq!(message(b""), "the weather file is empty");
    assert_eq!(message(b"\xef\xbb\xbf \r\n\r\n"), "the weather file is empty");
}

#[test]
fn something_else_altogether() {
    let error = read_bytes(b"\x7fELF\x02\x01\x01\0\0\0 random").unwrap_err();
    assert_eq!(
        error.to_string(),
        "this is not a weather table that can be read; it begins with `·ELF······ random`"
    );
    assert!(error.hint().starts_with("accepted are a TMY3, NSRDB or PVGIS table"), "{}", error.hint());
}

#[test]
fn two_byte_text() {
    assert!(message(b"\xff\xfe1\0,\0").contains("UTF-16"));
}

#[test]
fn text_in_a_number() {
    assert_eq!(spoiled(GREENSBORO, 412, 31, "abc"), "line 412, dry bulb: `abc` is not a number");
    assert_eq!(spoiled(PIEDMONT, 100, 9, "99,5"), "line 100: the row has 36 columns, 35 are expected");
    assert_eq!(spoiled(PIEDMONT, 100, 13, "nan"), "line 100, global irradiance: `nan` is not a number");
    assert_eq!(spoiled(PIEDMONT, 100, 21, "inf"), "line 100, wind speed: `inf` is not a number");
}

#[test]
fn a_value_that_no_weather_has() {
    assert_eq!(spoiled(GREENSBORO, 50, 31, "71.5"), "line 50, dry bulb: 71.5 °C is outside -75…62 °C");
    assert_eq!(spoiled(GREENSBORO, 50, 40, "12"), "line 50, pressure: 1200 Pa is outside 45000…110000 Pa");
    assert_eq!(spoiled(GREENSBORO, 50, 37, "-4"), "line 50, relative humidity: -4 % is outside 0…110 %");
}

#[test]
fn a_file_cut_off_in_a_row() {
    let mut lines = lines_of(GREENSBORO);
    lines.truncate(4000);
    let cut = lines.join("\n") + "\n06/15/1990,12:00,500,1";
    assert_eq!(message(cut.as_bytes()), "line 4001: the row has 4 columns, 71 are expected");
}

#[test]
fn a_file_cut_off_between_rows() {
    let lines = lines_of(GREENSBORO);
    assert_eq!(
        message(&joined(&lines[..2 + 8000])),
        "the row is missing for 760 hours, from 30 November, hour 9 to 31 December, hour 24; gaps up to 6 hours are filled"
    );
}

#[test]
fn a_heading_without_hours() {
    assert_eq!(message(&joined(&lines_of(GREENSBORO)[..2])), "the weather file has headings but no hours");
}

#[test]
fn a_column_that_is_missing() {
    let mut lines = lines_of(GREENSBORO);
    lines[1] = lines[1].replace("Dry-bulb (C)", "Temperature");
    assert_eq!(message(&joined(&lines)), "line 2: there is no column for `Dry-bulb (C)`");
    let mut lines = plain_table(Calendar::Common, mild_row);
    lines[5] = lines[5].replace("pressure_pa", "pressure_hpa");
    assert_eq!(message(&joined(&lines)), "line 6: there is no column for `pressure_pa`");
    let mut lines = plain_table(Calendar::Common, mild_row);
    lines[5] = lines[5].replace("dew_point_c", "a").replace("relative_humidity_pct", "b");
    assert_eq!(
        message(&joined(&lines)),
        "line 6: there is no column for `humidity_ratio`, `dew_point_c` or `relative_humidity_pct`"
    );
}

#[test]
fn heading_lines_that_are_missing() {
    let mut lines = lines_of(PIEDMONT);
    lines.remove(4);
    assert_eq!(
        message(&joined(&lines)),
        "line 8: the eighth heading line is missing or not where it belongs"
    );
    let mut lines = lines_of(PIEDMONT);
    lines[7] = lines[7].replace("PERIODS,1,1,", "PERIODS,1,4,");
    assert_eq!(message(&joined(&lines)), "line 8: `4` rows an hour; one row an hour is read");
    let mut lines = lines_of(PIEDMONT);
    lines[0] = lines[0].replace("45.000000", "N45");
    assert_eq!(message(&joined(&lines)), "line 1: the latitude `N45` is not a number");
}

#[test]
fn an_hour_that_comes_twice() {
    let mut lines = lines_of(GREENSBORO);
    lines.insert(100, lines[60].clone());
    assert_eq!(message(&joined(&lines)), "line 101: 3 January, hour 11 was given before, on line 61");
}

#[test]
fn an_hour_that_no_year_has() {
    assert_eq!(spoiled(GREENSBORO, 10, 0, "02/30/1990"), "line 10: `2/30 hour 8` is not an hour of a year");
    assert_eq!(spoiled(GREENSBORO, 10, 0, "noon"), "line 10: `noon 08:00` is not an hour of a year");
    assert_eq!(spoiled(GREENSBORO, 10, 1, "00:00"), "line 10: `1/1 hour 0` is not an hour of a year");
}

#[test]
fn rows_that_are_not_hourly() {
    assert_eq!(
        spoiled(GREENSBORO, 10, 1, "08:30"),
        "line 10: `01/01/1988 08:30` is not a full hour; one row an hour is expected"
    );
}

#[test]
fn a_gap_too_long_to_fill() {
    let mut lines = lines_of(GREENSBORO);
    for line in 1000..1007 {
        set_cell(&mut lines, line, 31, "-9900");
    }
    assert_eq!(
        message(&joined(&lines)),
        "dry bulb is missing for 7 hours, from 11 February, hour 14 to 11 February, hour 20; gaps up to 6 hours are filled"
    );
}

#[test]
fn a_dew_point_far_above_the_dry_bulb() {
    let mut lines = plain_table(Calendar::Common, mild_row);
    set_cell(&mut lines, line_of_hour(30), 3, "10");
    set_cell(&mut lines, line_of_hour(30), 4, "12.5");
    assert_eq!(
        message(&joined(&lines)),
        "line 37 (2 January, hour 7): the dew point stands 2.5 K above the dry bulb; up to 2 K is taken as rounding"
    );
}

#[test]
fn a_dew_point_above_the_dry_bulb_too_often() {
    let lines = plain_table(Calendar::Common, |h| {
        if h % 19 == 0 { "10,11,,98000,3,200,0,0,0".to_owned() } else { mild_row(h) }
    });
    assert_eq!(
        message(&joined(&lines)),
        "the dew point stands above the dry bulb in 462 hours, first on line 7; up to 5 % of the year is taken as noise"
    );
}

#[test]
fn a_place_that_is_missing_is_named_and_may_be_given() {
    let mut lines = plain_table(Calendar::Common, mild_row);
    lines[1] = "# remark".to_owned();
    let bytes = joined(&lines);
    assert_eq!(message(&bytes), "the weather file does not say its latitude");
    let place = PlaceOverride { latitude_deg: Some(46.5), ..PlaceOverride::default() };
    let (year, _) = read(&bytes, &Overrides { place, ..Overrides::default() }).unwrap();
    assert!((year.place.latitude_deg - 46.5).abs() < 1e-12);
    let place = PlaceOverride { latitude_deg: Some(146.5), ..PlaceOverride::default() };
    let error = read(&bytes, &Overrides { place, ..Overrides::default() }).unwrap_err();
    assert_eq!(error.to_string(), "latitude [°] 146.5 is outside -90…90");
}

#[test]
fn a_plain_heading_that_is_not_understood() {
    let mut lines = plain_table(Calendar::Common, mild_row);
    lines[0] = "# synthetic: maybe".to_owned();
    assert_eq!(message(&joined(&lines)), "line 1: `synthetic` is `maybe`, `yes` or `no` is expected");
    assert!(matches!(read_bytes(&joined(&lines)), Err(WeatherError::Header { line: 1, .. })));
}

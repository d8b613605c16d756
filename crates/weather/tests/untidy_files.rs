//! Untidy files are read, and what was untidy is said.

mod common;

use common::{
    GREENSBORO, PIEDMONT, joined, line_of_hour, lines_of, mild_row, plain_table, read_bytes, set_cell,
};
use weather::{Calendar, FindingKind, Severity};

#[test]
fn line_ends_of_any_kind_give_the_same_year() {
    let text = String::from_utf8(common::published(GREENSBORO)).unwrap();
    let plain = read_bytes(text.replace("\r\n", "\n").as_bytes()).unwrap();
    assert_eq!(read_bytes(text.replace('\n', "\r\n").as_bytes()).unwrap(), plain);
    assert_eq!(read_bytes(text.replace('\n', "\r").as_bytes()).unwrap(), plain);
}

#[test]
fn a_byte_order_mark_is_passed_over_and_noted() {
    let mut bytes = vec![0xef, 0xbb, 0xbf];
    bytes.extend(common::published(PIEDMONT));
    let (year, findings) = read_bytes(&bytes).unwrap();
    assert_eq!(year, common::read_published(PIEDMONT).0);
    assert_eq!(findings.count_of(FindingKind::ByteOrderMark), 1);
}

#[test]
fn a_latin_1_name_is_read_and_noted() {
    let bytes = common::published(PIEDMONT);
    let text = String::from_utf8(bytes).unwrap().replacen("unknown", "Neuchâtel", 1);
    let latin_1: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
    let (year, findings) = read_bytes(&latin_1).unwrap();
    assert_eq!(year.place.name, "Neuchâtel");
    assert_eq!(findings.count_of(FindingKind::NotUtf8), 1);
}

#[test]
fn trailing_empty_columns_are_passed_over_and_noted() {
    let lines: Vec<String> = lines_of(GREENSBORO).into_iter().map(|line| line + ",,").collect();
    let (year, findings) = read_bytes(&joined(&lines)).unwrap();
    assert_eq!(year, common::read_published(GREENSBORO).0);
    assert_eq!(findings.count_of(FindingKind::TrailingEmptyColumns), 8760);
}

#[test]
fn fillers_of_every_publisher_are_filled_and_listed() {
    for filler in ["-9900", "9999", "-999", "99999999", "99.9", ""] {
        let mut lines = plain_table(Calendar::Common, mild_row);
        // Hour 701 reads 11 °C and hour 703 13 °C.
        set_cell(&mut lines, line_of_hour(702), 3, filler);
        let (year, findings) = read_bytes(&joined(&lines)).unwrap();
        assert!((year.dry_bulb_c[702] - 12.0).abs() < 1e-12, "{filler}: {}", year.dry_bulb_c[702]);
        let finding =
            findings.of_kind(FindingKind::Filler).find(|f| f.sentence.contains("dry bulb")).unwrap();
        assert_eq!((finding.count, finding.places[0].line), (1, Some(line_of_hour(702))), "{filler}");
        assert_eq!(finding.severity, Severity::Warning);
    }
}

#[test]
fn a_missing_dew_point_is_taken_from_relative_humidity() {
    let mut lines = plain_table(Calendar::Common, |_| "20,10,,100000,3,200,0,0,0".to_owned());
    set_cell(&mut lines, line_of_hour(9), 4, "-9900");
    // Saturation 2338.8037 Pa at 20 °C and 1227.9953 Pa at 10 °C (psychrolib 2.5.0): 52.505 %.
    set_cell(&mut lines, line_of_hour(9), 5, "52.505");
    let (year, _) = read_bytes(&joined(&lines)).unwrap();
    assert!((year.humidity_ratio[9] / year.humidity_ratio[8] - 1.0).abs() < 1e-4);
}

#[test]
fn six_missing_rows_are_interpolated_and_listed() {
    let mut lines = lines_of(GREENSBORO);
    lines.drain(999..1005);
    let (year, findings) = read_bytes(&joined(&lines)).unwrap();
    let whole = common::read_published(GREENSBORO).0;
    let (before, after) = (whole.dry_bulb_c[996], whole.dry_bulb_c[1003]);
    assert!((year.dry_bulb_c[999] - (before + (after - before) * 3.0 / 7.0)).abs() < 1e-12);
    let finding = findings.of_kind(FindingKind::FilledGap).next().unwrap();
    assert_eq!(finding.count, 6);
    assert!(finding.to_string().starts_with("warning: No row for 6 hours: interpolated."));
    assert_eq!(finding.places[0].hour, Some(year.calendar().stamp(997)));
}

#[test]
fn a_gap_across_new_year_is_filled_from_both_ends() {
    let mut lines = plain_table(Calendar::Common, mild_row);
    set_cell(&mut lines, line_of_hour(8759), 3, "-9900");
    set_cell(&mut lines, line_of_hour(0), 3, "-9900");
    let (year, _) = read_bytes(&joined(&lines)).unwrap();
    let (before, after) = (year.dry_bulb_c[8758], year.dry_bulb_c[1]);
    assert!((year.dry_bulb_c[8759] - (before + (after - before) / 3.0)).abs() < 1e-12);
}

#[test]
fn wind_is_joined_the_short_way_round_the_compass() {
    let mut lines =
        plain_table(Calendar::Common, |h| format!("10,5,,98000,3,{},0,0,0", if h < 100 { 350 } else { 10 }));
    set_cell(&mut lines, line_of_hour(99), 8, "999");
    let (year, _) = read_bytes(&joined(&lines)).unwrap();
    assert!(year.wind_direction_deg[99].abs() < 1e-9, "{}", year.wind_direction_deg[99]);
}

#[test]
fn rows_in_any_order_of_years_and_months_find_their_hour() {
    let mut lines = plain_table(Calendar::Common, mild_row);
    let sorted = read_bytes(&joined(&lines)).unwrap().0;
    lines[6..].reverse();
    assert_eq!(read_bytes(&joined(&lines)).unwrap().0, sorted);
}

#[test]
fn a_leap_year_keeps_its_29_february() {
    let lines = plain_table(Calendar::Leap, mild_row);
    let (year, _) = read_bytes(&joined(&lines)).unwrap();
    assert_eq!(year.hours(), 8784);
    assert_eq!((year.month_of_hour(59 * 24), year.day_of_year(8783)), (2, 366));
}

#[test]
fn a_sensor_that_stands_still_for_a_day_is_doubted() {
    let lines = plain_table(Calendar::Common, |h| {
        if (240..264).contains(&h) { "10.5,5,,98000,3,200,0,0,0".to_owned() } else { mild_row(h) }
    });
    let (_, findings) = read_bytes(&joined(&lines)).unwrap();
    assert_eq!(findings.count_of(FindingKind::FrozenSensor), 1);
    let lines = plain_table(Calendar::Common, |h| {
        if (240..263).contains(&h) { "10.5,5,,98000,3,200,0,0,0".to_owned() } else { mild_row(h) }
    });
    assert_eq!(read_bytes(&joined(&lines)).unwrap().1.count_of(FindingKind::FrozenSensor), 0);
}

#[test]
fn a_pressure_of_sea_level_in_the_mountains_is_a_warning() {
    let mut lines = plain_table(Calendar::Common, |_| "10,5,,101325,3,200,0,0,0".to_owned());
    lines[3] = "# elevation_m: 2168".to_owned();
    let (_, findings) = read_bytes(&joined(&lines)).unwrap();
    let finding = findings.of_kind(FindingKind::PressureAgainstElevation).next().unwrap();
    // Standard atmosphere at 2 168 m: 101325 (1 - 2.25577e-5 · 2168)^5.2559 = 77 850 Pa.
    assert!(finding.sentence.contains("about 778"), "{}", finding.sentence);
    let constant = findings.of_kind(FindingKind::PressureConstant).next().unwrap();
    assert_eq!(constant.severity, Severity::Warning);
}

#[test]
fn sand_points_constant_pressure_is_noted_and_fits_its_elevation() {
    let (_, findings) = common::read_published(common::SAND_POINT);
    let constant = findings.of_kind(FindingKind::PressureConstant).next().unwrap();
    assert_eq!(constant.severity, Severity::Note);
    assert_eq!(findings.count_of(FindingKind::PressureAgainstElevation), 0);
}

#[test]
fn a_little_negative_irradiance_is_set_to_zero_and_counted() {
    let mut lines = plain_table(Calendar::Common, mild_row);
    set_cell(&mut lines, line_of_hour(2), 9, "-1.5");
    let (year, findings) = read_bytes(&joined(&lines)).unwrap();
    assert_eq!(findings.count_of(FindingKind::NegativeIrradiance), 1);
    assert!(year.global_horizontal_w_per_m2.iter().all(|x| x.is_sign_positive()));
}

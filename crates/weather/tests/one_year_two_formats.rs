//! One typical year that its publisher gives in two formats: hour by hour the same, an hour apart.
//!
//! The table's stamps are UTC, each the moment of its air; it is turned to UTC + 1 h. The other file has the same rows in the
//! same order under the labels 1…24 of UTC + 1 h, so that its first row (00:00 UTC) is named the hour from 00:00 to 01:00 of
//! UTC + 1 h, an hour early. The sun of both is the same sun.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;

use common::{PIEDMONT, PIEDMONT_CSV, lines_of, published, read_published};
use weather::{FindingKind, Overrides, PlaceOverride, read, sun};

#[test]
fn the_table_is_the_other_file_an_hour_later() {
    let (table, other) = (read_published(PIEDMONT_CSV).0, read_published(PIEDMONT).0);
    let later = |column: &[f64]| {
        let mut column = column.to_vec();
        column.rotate_right(1);
        column
    };
    assert_eq!(table.dry_bulb_c, later(&other.dry_bulb_c));
    assert_eq!(table.pressure_pa, later(&other.pressure_pa));
    assert_eq!(table.wind_direction_deg, later(&other.wind_direction_deg));
    assert_eq!(table.global_horizontal_w_per_m2, later(&other.global_horizontal_w_per_m2));
    assert_eq!(table.direct_normal_w_per_m2, later(&other.direct_normal_w_per_m2));
    assert_eq!(table.diffuse_horizontal_w_per_m2, later(&other.diffuse_horizontal_w_per_m2));
    // The other file gives the wind to a tenth.
    let wind = later(&other.wind_speed_m_per_s);
    assert!(table.wind_speed_m_per_s.iter().zip(&wind).all(|(a, b)| (a - b).abs() < 0.0501));
}

/// The table smooths relative humidity where months of different years meet, the other file's dew point is smoothed in
/// another way: there, and only there, the two differ by more than 0.1 g/kg, in 45 hours (counted by a script of its own
/// that works the handbook's saturation curves on both files).
#[test]
fn humidity_is_the_same_but_where_months_meet() {
    let (table, other) = (read_published(PIEDMONT_CSV).0, read_published(PIEDMONT).0);
    let far = |h: &usize| (table.humidity_ratio[(h + 1) % 8760] - other.humidity_ratio[*h]).abs() > 1e-4;
    let hours: Vec<usize> = (0..8760).filter(far).collect();
    assert_eq!(hours.len(), 45);
    let calendar = table.calendar();
    let is_at_a_seam = |h: usize| (1..=12).any(|month| h.abs_diff(calendar.first_hour_of_month(month)) <= 8);
    assert!(hours.iter().all(|h| is_at_a_seam(*h)), "{hours:?}");
}

#[test]
fn the_sun_stands_at_the_same_moment_in_both() {
    let (table, other) = (read_published(PIEDMONT_CSV).0, read_published(PIEDMONT).0);
    assert!((table.sun_offset_h - 0.1761).abs() < 1e-12);
    let (ours, theirs) = (sun::positions(&table), sun::positions(&other));
    for h in 0..8759 {
        assert!((ours[h + 1].zenith_deg - theirs[h].zenith_deg).abs() < 1e-6, "hour {h}");
    }
}

/// First row: 00:00 UTC, 2.04 °C. Last row: 23:00 UTC, 2.10 °C, which is 00:00 of the next day in UTC + 1 h.
#[test]
fn what_passes_the_years_end_comes_in_at_its_beginning() {
    let (year, findings) = read_published(PIEDMONT_CSV);
    assert_eq!([year.dry_bulb_c[0], year.dry_bulb_c[1]], [2.10, 2.04]);
    let told = findings.of_kind(FindingKind::TurnedToLocalTime).next().unwrap();
    assert!(
        told.sentence.starts_with("The rows are in UTC: the year was turned by +1 h to local standard time"),
        "{}",
        told.sentence
    );
    let told = findings.of_kind(FindingKind::TimeZoneAssumed).next().unwrap();
    assert!(told.sentence.contains("UTC+1 h was taken from its longitude"), "{}", told.sentence);
}

#[test]
fn a_zone_that_is_given_is_taken() {
    let given = |zone_h| {
        let place = PlaceOverride { time_zone_h: Some(zone_h), ..PlaceOverride::default() };
        read(&published(PIEDMONT_CSV), &Overrides { place, ..Overrides::default() }).unwrap()
    };
    let (utc, findings) = given(0.0);
    assert_eq!([utc.dry_bulb_c[0], utc.dry_bulb_c[8759]], [2.04, 2.10]);
    assert_eq!(findings.count_of(FindingKind::TurnedToLocalTime), 0);
    assert_eq!(findings.count_of(FindingKind::TimeZoneAssumed), 0);
    let (west, _) = given(-3.0);
    assert_eq!([west.dry_bulb_c[8757], west.dry_bulb_c[8756]], [2.04, 2.10]);
    let (half, _) = given(5.5);
    assert_eq!(half.dry_bulb_c[5], 2.04);
    assert!((half.sun_offset_h - 0.6761).abs() < 1e-9);
    for year in [utc, west, half] {
        let agreement = weather::sun_check::agreement(&year, year.sun_offset_h);
        assert!(agreement.rms_w_per_m2 < 1.5, "{agreement:?}");
    }
}

/// Months come from twelve different years, in no order.
#[test]
fn months_stay_where_they_are_though_their_years_do_not_follow() {
    let years: Vec<String> =
        lines_of(PIEDMONT_CSV)[5..17].iter().map(|line| line.split(',').nth(1).unwrap().to_owned()).collect();
    assert!(!years.is_sorted());
    let (year, _) = read_published(PIEDMONT_CSV);
    let mean = |month: u8| {
        let hours: Vec<f64> =
            (0..8760).filter(|h| year.month_of_hour(*h) == month).map(|h| year.dry_bulb_c[h]).collect();
        hours.iter().sum::<f64>() / f64::from(u32::try_from(hours.len()).unwrap())
    };
    assert!(mean(1) < 6.0 && mean(7) > 20.0 && mean(12) < 8.0);
}

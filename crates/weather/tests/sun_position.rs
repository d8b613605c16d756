//! The sun stands where the reference algorithm puts it.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a helper that fails is a test that fails")]

mod common;

use weather::sun::{extraterrestrial_w_per_m2, position, positions};
use weather::{Calendar, Place, Stamp};

fn place(latitude_deg: f64, longitude_deg: f64, time_zone_h: f64) -> Place {
    Place { name: String::new(), latitude_deg, longitude_deg, elevation_m: 0.0, time_zone_h }
}

/// Hour of the year at a clock time that is a full hour.
fn hour(month: u8, day: u8, clock_hour: u8) -> f64 {
    let h = Calendar::Common.index(Stamp { month, day, hour_ending: clock_hour }).unwrap() + 1;
    f64::from(u32::try_from(h).unwrap())
}

/// 45° N, 75° W, UTC - 5 h, 2021. Source: pvlib 0.16.1, its reference algorithm (Reda and Andreas), zenith without
/// refraction. Tolerance: 0.01° is the stated accuracy of the almanac series used, the sources print 0.001°.
#[test]
fn zenith_and_azimuth_are_those_of_the_reference_algorithm() {
    let expected = [
        (1, 15, 12, 66.027, 177.556),
        (3, 20, 9, 61.021, 123.494),
        (3, 20, 12, 44.910, 177.398),
        (6, 21, 8, 53.057, 92.766),
        (6, 21, 12, 21.568, 178.815),
        (6, 21, 17, 62.972, 276.964),
        (12, 21, 12, 68.441, 180.430),
        (12, 21, 15, 79.975, 221.578),
    ];
    for (month, day, clock, zenith, azimuth) in expected {
        let sun = position(&place(45.0, -75.0, -5.0), Calendar::Common, hour(month, day, clock));
        assert!((sun.zenith_deg - zenith).abs() < 0.01, "{month}/{day} {clock} h: zenith {}", sun.zenith_deg);
        assert!(
            (sun.azimuth_deg - azimuth).abs() < 0.02,
            "{month}/{day} {clock} h: azimuth {}",
            sun.azimuth_deg
        );
    }
}

/// Source: pvlib 0.16.1.
#[test]
fn the_irradiance_outside_the_atmosphere_follows_the_year() {
    for (day, expected) in [(15, 1412.98), (80, 1376.89), (172, 1321.62), (355, 1412.71)] {
        assert!((extraterrestrial_w_per_m2(day) - expected).abs() < 0.01, "day {day}");
    }
}

#[test]
fn the_sun_is_in_the_south_at_noon_in_the_north_and_in_the_north_in_the_south() {
    let noon = hour(10, 1, 12);
    assert!((position(&place(50.0, 0.0, 0.0), Calendar::Common, noon).azimuth_deg - 180.0).abs() < 5.0);
    let south = position(&place(-35.0, 0.0, 0.0), Calendar::Common, noon).azimuth_deg;
    assert!(!(10.0..=350.0).contains(&south), "{south}");
}

#[test]
fn the_sun_circles_at_the_pole_in_june_and_stays_down_in_december() {
    let pole = place(90.0, 0.0, 0.0);
    for h in 0..24 {
        let summer = position(&pole, Calendar::Common, hour(6, 21, 1) + f64::from(h));
        let winter = position(&pole, Calendar::Common, hour(12, 21, 1) + f64::from(h));
        assert!((summer.zenith_deg - 66.56).abs() < 0.02 && (winter.zenith_deg - 113.44).abs() < 0.02);
    }
}

#[test]
fn a_leap_year_and_a_common_year_agree_on_the_solstice() {
    let at = |calendar: Calendar| {
        let h = calendar.index(Stamp { month: 6, day: 21, hour_ending: 12 }).unwrap();
        position(&place(45.0, 8.0, 1.0), calendar, f64::from(u32::try_from(h).unwrap()) + 0.5).zenith_deg
    };
    assert!((at(Calendar::Common) - at(Calendar::Leap)).abs() < 0.1);
}

#[test]
fn each_hour_of_a_file_has_its_sun_in_the_middle() {
    let (year, _) = common::read_published(common::GREENSBORO);
    assert!((year.sun_offset_h - 0.5).abs() < 1e-12);
    let suns = positions(&year);
    let direct = position(&year.place, year.calendar(), 4000.5);
    assert_eq!(suns[4000], direct);
}

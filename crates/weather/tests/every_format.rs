//! The same climate in every format: noon, sunrise and the air's state come back where they were, at any place and in any
//! zone.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

#[path = "common/formats.rs"]
mod formats;

use formats::{Kind, PVGIS_OFFSET_H, Site};
use proptest::prelude::*;
use weather::sun_check::agreement;
use weather::{Calendar, FindingKind, Findings, WeatherYear, read, sun};

fn read_back(site: &Site, kind: Kind) -> (WeatherYear, Findings) {
    read(site.file(kind).as_bytes(), &site.overrides(kind))
        .unwrap_or_else(|error| panic!("{kind:?}: {error}"))
}

fn count(h: usize) -> f64 {
    f64::from(u32::try_from(h).unwrap())
}

/// Where the sun must stand in hour 0 of the year, by the format's own rule.
fn offset_h(site: &Site, kind: Kind) -> f64 {
    match kind {
        // A full hour of UTC is half past, or a quarter past, where clocks are.
        Kind::Pvgis => PVGIS_OFFSET_H + site.zone_h - site.zone_h.floor(),
        Kind::NsrdbHalves => 0.25,
        _ => 0.5,
    }
}

/// Mean hour of a day's light, with the sun at the year's offset.
fn centre_of_light_h(year: &WeatherYear, day: usize) -> f64 {
    let light = &year.global_horizontal_w_per_m2[24 * day..24 * day + 24];
    let (sum, moment) = light
        .iter()
        .enumerate()
        .fold((0.0, 0.0), |(sum, moment), (h, w)| (sum + w, moment + w * (count(h) + year.sun_offset_h)));
    moment / sum
}

/// Expected noon: 12 h + zone − longitude / 15° − equation of time, all by Spencer's series.
///
/// Light is sampled once an hour, so the first and the last light of a day fall up to an hour nearer to noon or farther from
/// it, on one side: with one sample more on one side, the centre of `n` equal samples moves by half an hour whatever `n`
/// is. Over the year the equation of time sweeps half an hour and sunrise hours more, so that this averages out; a label or
/// a zone that slips does not.
fn noon_is_where_it_must_be(site: &Site, kind: Kind, year: &WeatherYear) {
    let mut sum_h = 0.0;
    for day in 0..365 {
        let off_h = centre_of_light_h(year, day) - site.noon_h(count(24 * day + 12));
        assert!(off_h.abs() <= 0.5, "{kind:?} {site:?}, day {day}: {off_h} h");
        sum_h += off_h / 365.0;
    }
    assert!(sum_h.abs() < 0.03, "{kind:?} {site:?}: {sum_h} h");
}

/// The first hour with light is the first whose moment lies past sunrise by the series.
fn sunrise_is_where_it_must_be(site: &Site, kind: Kind, year: &WeatherYear) {
    let moments: &[f64] = if kind == Kind::NsrdbHalves { &[0.0, 0.5] } else { &[year.sun_offset_h] };
    for h in 24..8736 {
        let is_up = moments.iter().any(|offset_h| site.height(count(h) + offset_h) > 0.0);
        assert_eq!(
            year.global_horizontal_w_per_m2[h] > 0.0,
            is_up,
            "{kind:?} {site:?}, {}",
            year.calendar().stamp(h)
        );
    }
}

/// Spencer's sun is up to 0.6° from the crate's, which makes some watts; another hour makes ten times that.
fn the_three_agree_there_and_not_an_hour_off(site: &Site, kind: Kind, year: &WeatherYear) {
    let chosen = agreement(year, year.sun_offset_h).rms_w_per_m2;
    assert!(chosen < 6.0, "{kind:?} {site:?}: {chosen}");
    for shift in [-1.0, 1.0] {
        let other = agreement(year, year.sun_offset_h + shift).rms_w_per_m2;
        assert!(other > 6.0 * chosen, "{kind:?} {site:?}, {shift} h: {other} against {chosen}");
    }
}

/// To the last digit that the format writes.
fn the_air_is_where_it_must_be(site: &Site, kind: Kind, year: &WeatherYear) {
    let quarter = |h: f64| {
        let t = |hour: f64| site.air(hour).dry_bulb_c;
        0.25 * t(h) + 0.5 * t(h + 0.5) + 0.25 * t(h + 1.0)
    };
    let rest = site.zone_h - site.zone_h.floor();
    for h in 24..8736 {
        let begin = count(h);
        let (expected, digit) = match kind {
            Kind::NsrdbHalves => (quarter(begin), 0.01),
            Kind::Pvgis => (site.air(begin + rest).dry_bulb_c, 0.01),
            Kind::Tmy2 | Kind::Tmy3 => (site.air(begin + 0.5).dry_bulb_c, 0.1),
            _ => (site.air(begin + 0.5).dry_bulb_c, 0.01),
        };
        let off_k = year.dry_bulb_c[h] - expected;
        assert!(off_k.abs() <= 0.501 * digit, "{kind:?} {site:?}, hour {h}: {off_k} K");
    }
}

fn everything_is_where_it_must_be(site: &Site, kind: Kind) {
    let (year, findings) = read_back(site, kind);
    assert!((year.sun_offset_h - offset_h(site, kind)).abs() < 1e-9, "{kind:?}: {}", year.sun_offset_h);
    assert!((year.place.latitude_deg - site.latitude_deg).abs() < 0.01);
    assert_eq!(year.place.time_zone_h, site.zone_h);
    noon_is_where_it_must_be(site, kind, &year);
    sunrise_is_where_it_must_be(site, kind, &year);
    the_three_agree_there_and_not_an_hour_off(site, kind, &year);
    the_air_is_where_it_must_be(site, kind, &year);
    assert_eq!(findings.count_of(FindingKind::SunOutOfStep), 0, "{kind:?} {site:?}");
    assert_eq!(findings.count_of(FindingKind::NightSun), 0, "{kind:?} {site:?}");
}

/// A place, and a zone up to an hour and a half from its sun, in quarters of an hour where the format may write them.
fn site() -> impl Strategy<Value = Site> {
    (-55_i32..=55, 0_i32..60, -165_i32..=165, 0_i32..60, -6_i32..=6).prop_map(
        |(lat, lat_min, lon, lon_min, slip)| {
            let longitude_deg = f64::from(lon) + f64::from(lon.signum() * lon_min) / 60.0;
            let zone_h = ((longitude_deg / 15.0).round() + f64::from(slip) / 4.0).max(-12.0);
            let latitude_deg = f64::from(lat) + f64::from(lat.signum() * lat_min) / 60.0;
            Site { latitude_deg, longitude_deg, zone_h, calendar: Calendar::Common }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn noon_sunrise_and_air_come_back_where_they_were(mut site in site(), which in 0..Kind::ALL.len()) {
        let kind = Kind::ALL[which];
        if kind == Kind::Tmy2 {
            // Its field holds whole hours.
            site.zone_h = site.zone_h.round();
        }
        everything_is_where_it_must_be(&site, kind);
    }
}

#[test]
fn every_format_puts_one_place_under_one_sun() {
    for kind in Kind::ALL {
        everything_is_where_it_must_be(&Site::temperate(), kind);
    }
}

/// India's clocks are half an hour off UTC's, Nepal's three quarters, Newfoundland's three and a half behind.
#[test]
fn clocks_that_are_not_full_hours_from_utc() {
    for (latitude_deg, longitude_deg, zone_h) in
        [(28.5, 77.25, 5.5), (27.75, 85.25, 5.75), (47.5, -52.75, -3.5)]
    {
        for kind in Kind::ALL.into_iter().filter(|kind| *kind != Kind::Tmy2) {
            let site = Site { latitude_deg, longitude_deg, zone_h, calendar: Calendar::Common };
            everything_is_where_it_must_be(&site, kind);
        }
    }
}

#[test]
fn a_real_leap_year_has_8784_hours_in_every_format() {
    for kind in Kind::ALL {
        let site = Site { calendar: Calendar::Leap, ..Site::temperate() };
        let (year, findings) = read_back(&site, kind);
        assert_eq!((year.hours(), year.day_of_year(8783)), (8784, 366), "{kind:?}");
        assert_eq!(findings.count_of(FindingKind::FilledGap), 0, "{kind:?}");
        assert_eq!(findings.count_of(FindingKind::SunOutOfStep), 0, "{kind:?}");
    }
}

/// The sun of the crate is highest in the hour in which the series has its noon.
#[test]
fn the_sun_that_the_house_sees_is_highest_at_noon() {
    for kind in Kind::ALL {
        let site = Site { longitude_deg: 3.0, zone_h: 1.0, ..Site::temperate() };
        let (year, _) = read_back(&site, kind);
        let zenith: Vec<f64> = sun::positions(&year).iter().map(|sun| sun.zenith_deg).collect();
        for day in 1..364 {
            let hours = 24 * day..24 * day + 24;
            let best = hours.min_by(|a, b| zenith[*a].total_cmp(&zenith[*b])).unwrap();
            let off_h = count(best) + year.sun_offset_h - count(24 * day) - site.noon_h(count(24 * day + 12));
            assert!(off_h.abs() < 0.52, "{kind:?}, day {day}: {off_h}");
        }
    }
}

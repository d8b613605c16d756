//! Untidy files of the formats that carry no commas, no place or another clock: read, and what was untidy is said.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;
#[path = "common/formats.rs"]
mod formats;

use common::{COLORADO, MIAMI, PIEDMONT_CSV, published, read_published};
use formats::{Kind, Site};
use weather::{Calendar, FindingKind, Findings, Severity, WeatherYear, read};

fn read_as(kind: Kind, bytes: &[u8]) -> (WeatherYear, Findings) {
    read(bytes, &Site::temperate().overrides(kind)).unwrap_or_else(|error| panic!("{kind:?}: {error}"))
}

fn changed(kind: Kind, change: impl Fn(&mut Vec<String>)) -> (WeatherYear, Findings) {
    let mut lines: Vec<String> = Site::temperate().file(kind).lines().map(str::to_owned).collect();
    change(&mut lines);
    read_as(kind, (lines.join("\n") + "\n").as_bytes())
}

#[test]
fn line_ends_and_byte_order_marks_change_nothing_in_any_format() {
    for kind in Kind::ALL {
        let text = Site::temperate().file(kind);
        let (tidy, _) = read_as(kind, text.as_bytes());
        assert_eq!(read_as(kind, text.replace('\n', "\r\n").as_bytes()).0, tidy, "{kind:?}");
        assert_eq!(read_as(kind, text.replace('\n', "\r").as_bytes()).0, tidy, "{kind:?}");
        assert_eq!(read_as(kind, text.trim_end().as_bytes()).0, tidy, "{kind:?}");
        let (marked, findings) = read_as(kind, format!("\u{feff}{text}").as_bytes());
        assert_eq!(marked, tidy, "{kind:?}");
        assert_eq!(findings.count_of(FindingKind::ByteOrderMark), 1, "{kind:?}");
    }
}

/// The station's name holds one letter of two bytes when read; the columns after it must not move.
#[test]
fn a_latin_1_name_moves_no_column() {
    let text = String::from_utf8(published(MIAMI)).unwrap().replacen("MIAMI ", "MÜHLE ", 1);
    let latin_1: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
    let (year, findings) = common::read_bytes(&latin_1).unwrap();
    assert_eq!(year.place.name, "MÜHLE, FL");
    assert_eq!(findings.count_of(FindingKind::NotUtf8), 1);
    assert_eq!(year.dry_bulb_c, read_published(MIAMI).0.dry_bulb_c);
    assert!((year.place.latitude_deg - 25.8).abs() < 1e-9);
    let text = Site::temperate().file(Kind::Nsrdb).replacen("Testfield", "Neuchâtel", 1);
    let latin_1: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
    assert_eq!(read_as(Kind::Nsrdb, &latin_1).0.place.name, "Neuchâtel");
}

#[test]
fn trailing_empty_columns_change_nothing_where_columns_have_commas() {
    for kind in Kind::ALL.into_iter().filter(|kind| *kind != Kind::Tmy2) {
        let text = Site::temperate().file(kind);
        let (tidy, _) = read_as(kind, text.as_bytes());
        let first = if kind == Kind::Pvgis { "20" } else { "" };
        let wide: String = text
            .lines()
            .map(|line| {
                if line.starts_with(first) && line.contains(',') {
                    format!("{line},,\n")
                } else {
                    format!("{line}\n")
                }
            })
            .collect();
        let (year, findings) = read_as(kind, wide.as_bytes());
        assert_eq!(year, tidy, "{kind:?}");
        assert!(findings.count_of(FindingKind::TrailingEmptyColumns) > 0, "{kind:?}");
    }
}

/// Cells from 0 and the fillers of each format's publisher; hour 1000 lies between its neighbours then.
#[test]
fn fillers_are_filled_between_their_neighbours_in_every_format() {
    for (kind, line, cell, fillers) in [
        (Kind::Tmy3, 1003, 5, ["-9900", "9999", "-999", ""]),
        (Kind::Nsrdb, 1004, 5, ["-9999", "-999", "99.9", ""]),
        (Kind::NsrdbBare, 1002, 6, ["-9999", "-999", "99.9", ""]),
        (Kind::Pvgis, 1009, 1, ["-9999", "-999", "9999", ""]),
        (Kind::Epw, 1009, 6, ["99.9", "-999", "9999", ""]),
    ] {
        for filler in fillers {
            let (year, findings) = changed(kind, |lines| common::set_cell(lines, line, cell, filler));
            let h = if kind == Kind::Pvgis { 1001 } else { 1000 };
            let between = 0.5 * (year.dry_bulb_c[h - 1] + year.dry_bulb_c[h + 1]);
            assert!((year.dry_bulb_c[h] - between).abs() < 1e-9, "{kind:?} `{filler}`");
            assert_eq!(findings.count_of(FindingKind::Filler), 1, "{kind:?} `{filler}`");
        }
    }
    let (year, findings) = changed(Kind::Tmy2, |lines| lines[1001].replace_range(67..71, "9999"));
    assert!((year.dry_bulb_c[1000] - 0.5 * (year.dry_bulb_c[999] + year.dry_bulb_c[1001])).abs() < 1e-9);
    assert_eq!(findings.count_of(FindingKind::Filler), 1);
}

/// Cell and factor of the pressure in each format.
#[test]
fn pressure_in_any_unit_is_the_same_pressure() {
    for (kind, heading, cell, to_pa) in [
        (Kind::Tmy3, 2, 8, 100.0),
        (Kind::NsrdbBare, 1, 11, 100.0),
        (Kind::Pvgis, 8, 9, 1.0),
        (Kind::Epw, 8, 9, 1.0),
    ] {
        let (tidy, _) = changed(kind, |_| ());
        for unit_pa in [1.0, 100.0, 1000.0] {
            let (year, findings) = changed(kind, |lines| {
                for line in heading + 1..=heading + 8760 {
                    let number: f64 = lines[line - 1].split(',').nth(cell).unwrap().parse().unwrap();
                    common::set_cell(lines, line, cell, &format!("{:.4}", number * to_pa / unit_pa));
                }
            });
            let off = (year.pressure_pa.iter().zip(&tidy.pressure_pa))
                .map(|(a, b)| (a - b).abs())
                .fold(0.0, f64::max);
            assert!(off < 0.1, "{kind:?} in {unit_pa} Pa: {off}");
            let told = findings.count_of(FindingKind::PressureUnit);
            assert_eq!(
                told,
                usize::from((unit_pa / to_pa - 1.0_f64).abs() > 0.01),
                "{kind:?} in {unit_pa} Pa"
            );
        }
    }
}

#[test]
fn a_unit_that_the_table_names_is_the_unit_that_is_read() {
    let (tidy, _) = changed(Kind::Nsrdb, |_| ());
    for (unit, factor) in [("mbar", 1.0), ("hPa", 1.0), ("Pa", 100.0), ("kPa", 0.1)] {
        let (year, findings) = changed(Kind::Nsrdb, |lines| {
            lines[1] = lines[1].replace(",mbar", &format!(",{unit}"));
            for line in 4..=8763 {
                let number: f64 = lines[line - 1].split(',').nth(10).unwrap().parse().unwrap();
                common::set_cell(lines, line, 10, &format!("{:.2}", number * factor));
            }
        });
        let off =
            (year.pressure_pa.iter().zip(&tidy.pressure_pa)).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        assert!(off < 0.1, "{unit}: {off}");
        assert_eq!(findings.count_of(FindingKind::PressureUnit), 0, "{unit}");
    }
}

#[test]
fn a_constant_pressure_is_said_to_be_a_filler() {
    let (_, findings) = changed(Kind::Tmy3, |lines| {
        (3..=8762).for_each(|line| common::set_cell(lines, line, 8, "1000"));
    });
    let told = findings.of_kind(FindingKind::PressureConstant).next().unwrap();
    assert_eq!(
        (told.severity, told.sentence.as_str()),
        (Severity::Note, "Pressure is 100000 Pa all year: a filler, not a measurement.")
    );
}

/// Line 119 is 5 January, hour 22: -9 °C with a dew point of -8 °C.
#[test]
fn dew_points_above_the_dry_bulb_are_limited_and_listed() {
    let (year, findings) = read_published(COLORADO);
    let told = findings.of_kind(FindingKind::DewPointAboveDryBulb).next().unwrap();
    assert_eq!((told.count, told.places[0].line), (50, Some(118)));
    assert!(year.humidity_ratio.iter().all(|w| w.is_finite()));
}

/// A half-hour of three is lost: the two hours that need it are interpolated, and the hour with one row is named.
#[test]
fn a_missing_half_hour_is_filled_and_listed() {
    let (tidy, _) = changed(Kind::NsrdbHalves, |_| ());
    // Line 4 is 0:00, so line 2004 is 10:00 of hour 1000.
    let (year, findings) = changed(Kind::NsrdbHalves, |lines| {
        lines.remove(2003);
    });
    let told = findings.of_kind(FindingKind::FilledGap).next().unwrap();
    assert_eq!((told.count, told.places[0].hour), (1, Some(year.calendar().stamp(1000))));
    let step = (tidy.dry_bulb_c[1001] - tidy.dry_bulb_c[998]) / 3.0;
    assert!((year.dry_bulb_c[999] - tidy.dry_bulb_c[998] - step).abs() < 1e-9);
    assert!((year.dry_bulb_c[1000] - tidy.dry_bulb_c[998] - 2.0 * step).abs() < 1e-9);
    assert_eq!(year.dry_bulb_c[998], tidy.dry_bulb_c[998]);
    assert_eq!(year.dry_bulb_c[1001], tidy.dry_bulb_c[1001]);
}

/// 350° and 10° meet at 0°, not at 180°.
#[test]
fn half_hourly_wind_is_joined_on_the_compass() {
    let (year, _) = changed(Kind::NsrdbHalves, |lines| {
        for line in 4..=17523 {
            common::set_cell(lines, line, 11, if line % 2 == 0 { "350" } else { "10" });
        }
    });
    let off = |deg: f64| (deg + 180.0).rem_euclid(360.0) - 180.0;
    assert!(
        year.wind_direction_deg.iter().all(|deg| off(*deg).abs() < 1e-6),
        "{}",
        year.wind_direction_deg[0]
    );
}

/// The publisher also gives its tables in UTC: the clock is then another than the local one.
#[test]
fn a_table_in_utc_is_turned_to_its_own_local_time() {
    let (local, _) = changed(Kind::Nsrdb, |_| ());
    let (year, findings) = changed(Kind::Nsrdb, |lines| {
        lines[1] = lines[1].replace(",1,120,1,", ",0,120,1,");
        lines[3..].rotate_left(1);
        let stamps: Vec<String> = (0..8760)
            .map(|h| {
                let stamp = Calendar::Common.stamp(h);
                format!("2001,{},{},{},30", stamp.month, stamp.day, stamp.hour_ending - 1)
            })
            .collect();
        for (line, stamp) in lines[3..].iter_mut().zip(stamps) {
            let rest: Vec<&str> = line.splitn(6, ',').collect();
            *line = format!("{stamp},{}", rest[5]);
        }
    });
    assert_eq!(year.dry_bulb_c, local.dry_bulb_c);
    assert_eq!((year.sun_offset_h, year.place.time_zone_h), (0.5, 1.0));
    assert_eq!(findings.count_of(FindingKind::TurnedToLocalTime), 1);
}

/// Global, diffuse and the sun's height give the beam again; near the horizon and above a very clear sky they do not.
#[test]
fn a_beam_that_is_not_there_is_derived_within_its_limits() {
    for (kind, heading) in
        [(Kind::Nsrdb, "DNI"), (Kind::Plain, "direct_normal_w_per_m2"), (Kind::Pvgis, "Gb(n)")]
    {
        let (whole, _) = changed(kind, |_| ());
        let text = Site::temperate().file(kind).replacen(heading, "left out", 1);
        let (year, findings) = read_as(kind, text.as_bytes());
        assert_eq!(findings.count_of(FindingKind::BeamDerived), 1, "{kind:?}");
        let mut compared = 0;
        for (h, sun) in weather::sun::positions(&year).iter().enumerate() {
            let beam = year.direct_normal_w_per_m2[h];
            let most = 0.85 * weather::sun::extraterrestrial_w_per_m2(year.day_of_year(h));
            assert!(beam <= most && (sun.zenith_deg <= 87.0 || beam == 0.0), "{kind:?}, hour {h}: {beam}");
            if sun.zenith_deg < 75.0 {
                // The light was made under another sun, up to 0.6° away: 4 % of the height at 75°.
                assert!(
                    (beam / whole.direct_normal_w_per_m2[h] - 1.0).abs() < 0.05,
                    "{kind:?}, hour {h}: {beam}"
                );
                compared += 1;
            }
        }
        assert!(compared > 2000, "{compared}");
    }
}

#[test]
fn the_explanation_below_a_table_is_no_row() {
    let lines = common::lines_of(PIEDMONT_CSV);
    let cut: Vec<String> = lines[..18 + 8760].to_vec();
    let (year, _) = common::read_bytes(&common::joined(&cut)).unwrap();
    assert_eq!(year, read_published(PIEDMONT_CSV).0);
}

#[test]
fn sun_that_cannot_be_is_reported() {
    let told = |cell: usize, number: &str| {
        let (_, findings) = changed(Kind::Nsrdb, |lines| common::set_cell(lines, 4 + 4000, cell, number));
        findings.of_kind(FindingKind::ImpossibleSun).map(|f| f.sentence.clone()).collect::<Vec<_>>()
    };
    // Hour 4000 is 16:00 to 17:00 of a day in June. From space come 1 322 W/m² then.
    assert_eq!(told(8, "1400"), ["The beam is stronger than what arrives from space in 1 hour."]);
    assert_eq!(told(7, "900"), ["Diffuse irradiance is above global in 1 hour."]);
    let (_, findings) = changed(Kind::Nsrdb, |lines| {
        (4 + 3984..4 + 4008).for_each(|line| common::set_cell(lines, line, 9, "900"));
    });
    let told: Vec<String> =
        findings.of_kind(FindingKind::ImpossibleSun).map(|f| f.sentence.clone()).collect();
    assert_eq!(told, ["Global irradiation of the day is more than what arrives from space in 1 day."]);
}

#[test]
fn humidity_and_wind_that_stand_still_for_two_days_are_doubted() {
    let frozen = |hours: usize, cell: usize, number: &str, kind: FindingKind| {
        let (_, findings) = changed(Kind::Plain, |lines| {
            for line in 1000..1000 + hours {
                common::set_cell(lines, line, cell, number);
                common::set_cell(lines, line, 5, "99000");
            }
        });
        findings.count_of(kind)
    };
    assert_eq!(frozen(48, 6, "3.5", FindingKind::FrozenWind), 1);
    assert_eq!(frozen(47, 6, "3.5", FindingKind::FrozenWind), 0);
    assert_eq!(frozen(96, 6, "0", FindingKind::FrozenWind), 0);
    assert_eq!(frozen(48, 4, "-20", FindingKind::FrozenHumidity), 1);
    assert_eq!(frozen(47, 4, "-20", FindingKind::FrozenHumidity), 0);
}

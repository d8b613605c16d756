//! Broken files of the formats with fixed columns, half-hours and UTC: each is refused in one clear sentence, with a hint.
//! Those of the other formats: `bad_files.rs`.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "common/formats.rs"]
mod formats;

use formats::{Kind, Site};
use weather::read;

fn lines(kind: Kind) -> Vec<String> {
    Site::temperate().file(kind).lines().map(str::to_owned).collect()
}

/// The message, after checking that a hint comes with it.
fn message(kind: Kind, change: impl Fn(&mut Vec<String>)) -> String {
    let mut lines = lines(kind);
    change(&mut lines);
    let text = lines.join("\n") + "\n";
    let error = read(text.as_bytes(), &Site::temperate().overrides(kind)).err().unwrap();
    assert!(!error.hint().is_empty());
    error.to_string()
}

/// One cell (from 0) of one line (from 1) is replaced.
fn spoiled(kind: Kind, line: usize, cell: usize, text: &str) -> String {
    message(kind, |lines| {
        let mut cells: Vec<&str> = lines[line - 1].split(',').collect();
        cells[cell] = text;
        lines[line - 1] = cells.join(",");
    })
}

/// Characters (from 1) of one line of fixed columns are replaced.
fn struck(line: usize, first: usize, text: &str) -> String {
    message(Kind::Tmy2, |lines| lines[line - 1].replace_range(first - 1..first - 1 + text.len(), text))
}

#[test]
fn fixed_columns_with_a_short_or_a_long_row() {
    assert_eq!(
        message(Kind::Tmy2, |lines| lines[99].truncate(97)),
        "line 100: the row has 97 characters, 142 are expected"
    );
    assert_eq!(
        message(Kind::Tmy2, |lines| lines[99].insert(20, '0')),
        "line 100: the row has 143 characters, 142 are expected"
    );
    assert_eq!(
        message(Kind::Tmy2, |lines| lines[99] = "6".to_owned()),
        "line 100: the row has 1 character, 142 are expected"
    );
}

#[test]
fn fixed_columns_with_letters_in_a_number() {
    assert_eq!(struck(100, 68, "1O05"), "line 100, dry bulb: `1O05` is not a number");
    assert_eq!(struck(100, 24, "é10"), "line 100: the row has 141 characters, 142 are expected");
    assert_eq!(struck(100, 18, " 1 2"), "line 100, global irradiance: `1 2` is not a number");
}

#[test]
fn fixed_columns_with_a_value_that_no_weather_has() {
    assert_eq!(struck(100, 68, "0715"), "line 100, dry bulb: 71.5 °C is outside -75…62 °C");
    assert_eq!(struck(100, 85, "0120"), "line 100, pressure: 12000 Pa is outside 45000…110000 Pa");
    assert_eq!(struck(100, 91, "721"), "line 100, wind direction: 721 ° is outside 0…360 °");
}

#[test]
fn fixed_columns_with_an_hour_that_no_year_has() {
    assert_eq!(struck(100, 8, "25"), "line 100: `1/5 hour 25` is not an hour of a year");
    assert_eq!(struck(100, 4, "0231"), "line 100: `2/31 hour 3` is not an hour of a year");
    assert_eq!(struck(100, 4, "xx"), "line 100: `xx/05 hour 03` is not an hour of a year");
}

#[test]
fn fixed_columns_with_a_station_line_that_is_not_understood() {
    assert_eq!(struck(1, 40, "xx"), "line 1: the latitude `xx` is not a number");
    assert_eq!(struck(1, 34, " E1"), "line 1: the time zone `E1` is not a number");
    assert_eq!(struck(1, 56, "    "), "line 1: the elevation `` is not a number");
    assert_eq!(struck(1, 40, "95"), "the weather file says latitude [°] 95, which is outside -90…90");
    assert_eq!(message(Kind::Tmy2, |lines| lines.truncate(1)), "the weather file has headings but no hours");
}

#[test]
fn fixed_columns_with_rows_lost_or_twice() {
    assert_eq!(
        message(Kind::Tmy2, |lines| {
            lines.drain(99..107);
        }),
        "the row is missing for 8 hours, from 5 January, hour 3 to 5 January, hour 10; gaps up to 6 hours are filled"
    );
    assert_eq!(
        message(Kind::Tmy2, |lines| lines.insert(100, lines[99].clone())),
        "line 101: 5 January, hour 3 was given before, on line 100"
    );
}

#[test]
fn fixed_columns_whose_first_line_is_lost() {
    let found = message(Kind::Tmy2, |lines| {
        lines.remove(0);
    });
    assert!(
        found.starts_with("this is not a weather table that can be read; it begins with `97010101"),
        "{found}"
    );
}

#[test]
fn a_column_that_is_missing() {
    let without = |kind, name: &str| {
        message(kind, |lines| lines.iter_mut().take(10).for_each(|line| *line = line.replacen(name, "x", 1)))
    };
    assert_eq!(without(Kind::NsrdbBare, "Temperature"), "line 1: there is no column for `Temperature`");
    assert_eq!(
        without(Kind::NsrdbBare, "Dew Point"),
        "line 1: there is no column for `Dew Point` or `Relative Humidity`"
    );
    assert_eq!(without(Kind::NsrdbBare, "GHI"), "line 1: there is no column for `GHI`");
    assert_eq!(without(Kind::Pvgis, "T2m"), "line 8: there is no column for `T2m`");
    assert_eq!(without(Kind::Pvgis, "Gd(h)"), "line 8: there is no column for `Gd(h)`");
}

#[test]
fn minutes_that_make_no_hours() {
    let expected = "does not fit; rows at one minute of each hour, or at :00 and :30, are expected";
    assert_eq!(spoiled(Kind::Nsrdb, 100, 4, "15"), format!("line 100: `1997/1/5 0:15` {expected}"));
    assert_eq!(spoiled(Kind::NsrdbHalves, 101, 4, "45"), format!("line 101: `1997/1/3 0:45` {expected}"));
    assert_eq!(spoiled(Kind::Nsrdb, 100, 4, "60"), "line 100: `1997/1/5 0:60` is not an hour of a year");
    assert_eq!(
        spoiled(Kind::Pvgis, 100, 0, "20180104:1910"),
        "line 100: `20180104:1910` is not a full hour; one row an hour is expected"
    );
}

#[test]
fn stamps_that_no_calendar_has() {
    assert_eq!(spoiled(Kind::Nsrdb, 100, 3, "24"), "line 100: `1997/1/5 24:30` is not an hour of a year");
    assert_eq!(spoiled(Kind::Nsrdb, 100, 1, "13"), "line 100: `13/5 hour 1` is not an hour of a year");
    assert_eq!(
        spoiled(Kind::NsrdbHalves, 100, 2, "31st"),
        "line 100: `1997/1/31st 0:0` is not an hour of a year"
    );
    assert_eq!(spoiled(Kind::Pvgis, 100, 0, "2018-01-04"), "line 100: `2018-01-04` is not an hour of a year");
    assert_eq!(
        spoiled(Kind::Pvgis, 100, 0, "20180104:2400"),
        "line 100: `20180104:2400` is not an hour of a year"
    );
    assert_eq!(
        spoiled(Kind::Pvgis, 100, 0, "20180230:1000"),
        "line 100: `2/30 hour 11` is not an hour of a year"
    );
}

#[test]
fn cells_that_are_no_number_or_no_weather() {
    assert_eq!(spoiled(Kind::Nsrdb, 100, 5, "cold"), "line 100, dry bulb: `cold` is not a number");
    assert_eq!(spoiled(Kind::Nsrdb, 100, 6, "NaN"), "line 100, dew point: `NaN` is not a number");
    assert_eq!(
        spoiled(Kind::NsrdbHalves, 100, 9, "1e3x"),
        "line 100, global irradiance: `1e3x` is not a number"
    );
    assert_eq!(spoiled(Kind::Pvgis, 100, 2, "140"), "line 100, relative humidity: 140 % is outside 0…110 %");
    assert_eq!(
        spoiled(Kind::Pvgis, 100, 4, "1700"),
        "line 100, direct irradiance: 1700 W/m² is outside -5…1500 W/m²"
    );
    assert_eq!(spoiled(Kind::Pvgis, 100, 9, "12"), "line 100, pressure: 12 Pa is outside 45000…110000 Pa");
}

#[test]
fn rows_of_another_width() {
    assert_eq!(spoiled(Kind::Nsrdb, 100, 5, "3,5"), "line 100: the row has 14 columns, 13 are expected");
    assert_eq!(spoiled(Kind::NsrdbBare, 100, 12, "1\n"), "line 100: the row has 13 columns, 14 are expected");
    assert_eq!(
        message(Kind::Pvgis, |lines| {
            lines.truncate(500);
            lines.push("20180121:1200,4.3,9".to_owned());
        }),
        "line 501: the row has 3 columns, 10 are expected"
    );
}

#[test]
fn headings_that_are_not_understood() {
    let heading = |kind, line: usize, from: &str, to: &str| {
        message(kind, |lines| lines[line - 1] = lines[line - 1].replacen(from, to, 1))
    };
    assert_eq!(heading(Kind::Pvgis, 1, "45", "45 N"), "line 1: the latitude `45 N` is not a number");
    assert_eq!(
        heading(Kind::Pvgis, 4, "0.1761", "a while"),
        "line 4: the irradiance time offset `a while` is not a number"
    );
    assert_eq!(heading(Kind::Pvgis, 2, "Longitude", "Length"), "the weather file does not say its longitude");
    assert_eq!(heading(Kind::Nsrdb, 2, "45", "45N"), "line 2: the latitude `45N` is not a number");
    assert_eq!(heading(Kind::Nsrdb, 2, ",c,", ",f,"), "line 2: Temperature Units: `f`, c is read");
    assert_eq!(
        heading(Kind::Nsrdb, 2, "mbar", "torr"),
        "line 2: Pressure Units: `torr`, mbar, hPa, kPa or Pa is read"
    );
    assert_eq!(heading(Kind::Nsrdb, 1, "Elevation", "Height"), "the weather file does not say its elevation");
}

#[test]
fn a_table_that_says_no_place_and_nobody_gives_one() {
    let text = Site::temperate().file(Kind::NsrdbBare);
    let error = read(text.as_bytes(), &weather::Overrides::default()).unwrap_err();
    assert_eq!(error.to_string(), "the weather file does not say its latitude");
    assert_eq!(
        error.hint(),
        "give `latitude`, `longitude`, `elevation` and `time_zone` under [site] of the study"
    );
}

#[test]
fn headings_alone() {
    for kind in Kind::ALL {
        let text = Site::temperate().first_hours(kind, 0);
        let error = read(text.as_bytes(), &Site::temperate().overrides(kind)).unwrap_err();
        assert_eq!(error.to_string(), "the weather file has headings but no hours", "{kind:?}");
    }
}

#[test]
fn a_day_alone() {
    for kind in Kind::ALL {
        let text = Site::temperate().first_hours(kind, 24);
        let error = read(text.as_bytes(), &Site::temperate().overrides(kind)).unwrap_err();
        assert_eq!(
            error.to_string(),
            "the row is missing for 8736 hours, from 2 January, hour 1 to 31 December, hour 24; gaps up to 6 hours \
             are filled",
            "{kind:?}"
        );
    }
}

#[test]
fn rows_twice_and_rows_lost() {
    assert_eq!(
        message(Kind::NsrdbHalves, |lines| lines.insert(100, lines[99].clone())),
        "line 101: 3 January, hour 1 was given before, on line 100"
    );
    assert_eq!(
        message(Kind::Nsrdb, |lines| lines.insert(100, lines[99].clone())),
        "line 101: 5 January, hour 1 was given before, on line 100"
    );
    assert_eq!(
        message(Kind::Pvgis, |lines| lines.insert(100, lines[99].clone())),
        "line 101: 4 January, hour 20 was given before, on line 100"
    );
    assert_eq!(
        message(Kind::NsrdbHalves, |lines| {
            lines.drain(99..113);
        }),
        "the row is missing for 7 hours, from 3 January, hour 1 to 3 January, hour 7; gaps up to 6 hours are filled"
    );
    // Every row at half past is lost from there on: a third of each of 100 hours, which no neighbour can tell.
    assert_eq!(
        message(Kind::NsrdbHalves, |lines| {
            let mut n = 0;
            lines.retain(|_| {
                n += 1;
                !(100..=300).contains(&n) || n % 2 == 0
            });
        }),
        "dry bulb is missing for 100 hours, from 3 January, hour 1 to 7 January, hour 4; gaps up to 6 hours are filled"
    );
}

#[test]
fn dew_points_above_the_dry_bulb() {
    let found = spoiled(Kind::NsrdbHalves, 100, 6, "15");
    assert!(found.starts_with("line 100 (3 January, hour 1): the dew point stands "), "{found}");
    assert!(found.ends_with(" K above the dry bulb; up to 2 K is taken as rounding"), "{found}");
    // One row in nineteen is more than one in twenty: 923 of 17 520.
    assert_eq!(
        message(Kind::NsrdbHalves, |lines| {
            for line in lines.iter_mut().skip(3).step_by(19) {
                let mut cells: Vec<&str> = line.split(',').collect();
                (cells[5], cells[6]) = ("5", "6");
                *line = cells.join(",");
            }
        }),
        "the dew point stands above the dry bulb in 923 half-hours, first on line 4; up to 5 % of the year is taken as \
         noise"
    );
}

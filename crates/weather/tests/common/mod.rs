//! Shared by the tests of this crate: the published files, and small tables built in memory.
#![allow(dead_code, reason = "each test file uses a part of it")]
#![allow(clippy::unwrap_used, reason = "a helper that fails is a test that fails")]

use std::path::PathBuf;
use weather::{Calendar, Findings, Overrides, PlaceOverride, WeatherError, WeatherYear, read};

pub const GREENSBORO: &str = "tmy3_greensboro_nc_723170TYA.csv";
pub const SAND_POINT: &str = "tmy3_sandpoint_ak_703165TY.csv";
pub const PIEDMONT: &str = "pvgis_tmy_piedmont_it_45N_8E.epw";
pub const PIEDMONT_CSV: &str = "pvgis_tmy_piedmont_it_45N_8E.csv";
pub const MIAMI: &str = "tmy2_miami_fl_12839.tm2";
pub const COLORADO: &str = "nsrdb_psm3_tmy2017_colorado.csv";
pub const COLORADO_HALVES: &str = "nsrdb_psm3_colorado_2017_30min.csv";
pub const ALL: [&str; 7] = [GREENSBORO, SAND_POINT, PIEDMONT, PIEDMONT_CSV, MIAMI, COLORADO, COLORADO_HALVES];

/// What a file without place lines needs to be told: the site of the two Colorado files.
pub fn colorado_place() -> Overrides {
    let place = PlaceOverride {
        latitude_deg: Some(40.53),
        longitude_deg: Some(-108.54),
        elevation_m: Some(2168.0),
        time_zone_h: Some(-7.0),
        ..PlaceOverride::default()
    };
    Overrides { place, ..Overrides::default() }
}

pub fn published(name: &str) -> Vec<u8> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..");
    std::fs::read(root.join("tests/data/weather").join(name)).unwrap()
}

pub fn read_published(name: &str) -> (WeatherYear, Findings) {
    let overrides = if name == COLORADO { colorado_place() } else { Overrides::default() };
    read(&published(name), &overrides).unwrap()
}

pub fn read_bytes(bytes: &[u8]) -> Result<(WeatherYear, Findings), WeatherError> {
    read(bytes, &Overrides::default())
}

/// The published file as lines, to be spoiled and joined again.
pub fn lines_of(name: &str) -> Vec<String> {
    String::from_utf8(published(name)).unwrap().lines().map(str::to_owned).collect()
}

/// Puts a text into one cell of a line (line numbers from 1, cells from 0).
pub fn set_cell(lines: &mut [String], line: usize, cell: usize, text: &str) {
    let mut cells: Vec<&str> = lines[line - 1].split(',').collect();
    cells[cell] = text;
    lines[line - 1] = cells.join(",");
}

pub fn joined(lines: &[String]) -> Vec<u8> {
    let mut text = lines.join("\n");
    text.push('\n');
    text.into_bytes()
}

pub const PLAIN_HEADING: &str = "# name: Testfield\n# latitude_deg: 45\n# longitude_deg: 8\n# elevation_m: 250\n\
    # time_zone_h: 1\n";
pub const PLAIN_COLUMNS: &str = "month,day,hour_ending,dry_bulb_c,dew_point_c,relative_humidity_pct,pressure_pa,\
    wind_speed_m_per_s,wind_direction_deg,global_horizontal_w_per_m2,direct_normal_w_per_m2,diffuse_horizontal_w_per_m2";

/// A plain table in which each row's values come from a function of the hour: those after `hour_ending`.
pub fn plain_table(calendar: Calendar, row: impl Fn(usize) -> String) -> Vec<String> {
    let mut lines: Vec<String> = PLAIN_HEADING.lines().map(str::to_owned).collect();
    lines.push(PLAIN_COLUMNS.to_owned());
    for h in 0..calendar.hours() {
        let stamp = calendar.stamp(h);
        lines.push(format!("{},{},{},{}", stamp.month, stamp.day, stamp.hour_ending, row(h)));
    }
    lines
}

/// The line of hour `h` in [`plain_table`].
pub fn line_of_hour(h: usize) -> usize {
    PLAIN_HEADING.lines().count() + 2 + h
}

/// Mild, dry, dark, and different each hour.
pub fn mild_row(h: usize) -> String {
    format!("{},5,,98000,3,200,0,0,0", 10.0 + f64::from(u32::try_from(h % 7).unwrap()))
}

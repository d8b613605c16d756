//! Reader of files with the extension `.epw`: eight heading lines, then 35 columns an hour. Hours end at their label,
//! 1…24, in local standard time. What is not here: gaps and humidity (`complete.rs`). Read next:
//! `table.rs`.
//!
//! # Where the sun stands
//! At mid-hour, unless the comments carry an irradiance time offset: then the irradiance is a snapshot. The offset is
//! counted from the label, but on which clock is not agreed. In the file of the European service that writes such
//! offsets, heading and rows say UTC + 1 h while the offset counts from the same number read as UTC: the first row (label
//! 1, that is 00:00 UTC) says -0.8239 h, and its beam, diffuse and global agree only at 00:00 UTC + 0.1761 h, one hour
//! after label plus offset on the file's own clock. Both readings are therefore tried, and the year's own irradiance
//! decides ([`crate::sun_check`]).

use crate::calendar::Stamp;
use crate::error::WeatherError;
use crate::pressure;
use crate::quantity::Quantity;
use crate::table::{Column, Layout, Table, small_number};
use crate::text;
use crate::year::{Format, PlaceOverride};

const WIDTH: usize = 35;
const HEADING_LINES: usize = 8;

const COLUMNS: [(Quantity, usize); 9] = [
    (Quantity::DryBulb, 6),
    (Quantity::DewPoint, 7),
    (Quantity::RelativeHumidity, 8),
    (Quantity::Pressure, 9),
    (Quantity::Global, 13),
    (Quantity::Direct, 14),
    (Quantity::Diffuse, 15),
    (Quantity::WindDirection, 20),
    (Quantity::WindSpeed, 21),
];

pub(crate) fn recognises(first_line: &str) -> bool {
    text::cells(first_line).first().is_some_and(|cell| cell.eq_ignore_ascii_case("LOCATION"))
}

pub(crate) fn parse(content: &str) -> Result<Table, WeatherError> {
    let headings: Vec<&str> =
        text::numbered_lines(content).take(HEADING_LINES).map(|(_, line)| line).collect();
    check_last_heading(&headings)?;
    let mut table = Table::new(Format::Epw, place(headings.first().copied().unwrap_or_default())?);
    "file with the extension .epw".clone_into(&mut table.source);
    if let Some(offset_h) = headings.iter().find_map(|line| irradiance_offset_h(line)) {
        table.sun_offsets_h = vec![1.0 + offset_h, 2.0 + offset_h];
    }
    let mut columns: Vec<Column> =
        COLUMNS.iter().map(|&(quantity, position)| Column { quantity, position, scale: 1.0 }).collect();
    pressure::settle_unit(
        &mut columns,
        text::numbered_lines(content).skip(HEADING_LINES),
        &mut table.findings,
    );
    let layout = Layout { cut: text::cells, columns, width: WIDTH, stamp: &stamp };
    layout.fill(&mut table, text::numbered_lines(content).skip(HEADING_LINES))?;
    Ok(table)
}

/// The eighth line says how many rows an hour has.
fn check_last_heading(headings: &[&str]) -> Result<(), WeatherError> {
    let cells = text::cells(headings.get(HEADING_LINES - 1).copied().unwrap_or_default());
    if !cells.first().is_some_and(|cell| cell.eq_ignore_ascii_case("DATA PERIODS")) {
        let problem = "the eighth heading line is missing or not where it belongs".to_owned();
        return Err(WeatherError::Header { line: HEADING_LINES.min(headings.len()), problem });
    }
    match cells.get(2).copied().unwrap_or_default() {
        "1" => Ok(()),
        other => {
            let problem = format!("`{}` rows an hour; one row an hour is read", text::printable(other, 12));
            Err(WeatherError::Header { line: HEADING_LINES, problem })
        }
    }
}

/// Name, region, country, source, number, latitude, longitude, time zone, elevation.
fn place(line: &str) -> Result<PlaceOverride, WeatherError> {
    let cells = text::heading_cells(line);
    let number_at = |at: usize, what: &str| match cells.get(at).map_or("", String::as_str) {
        "" => Ok(None),
        cell => text::number(cell).map(Some).ok_or_else(|| WeatherError::Header {
            line: 1,
            problem: format!("the {what} `{}` is not a number", text::printable(cell, 24)),
        }),
    };
    let name =
        cells.get(1).filter(|name| !name.is_empty() && *name != "-" && !name.eq_ignore_ascii_case("unknown"));
    Ok(PlaceOverride {
        name: name.cloned(),
        latitude_deg: number_at(6, "latitude")?,
        longitude_deg: number_at(7, "longitude")?,
        time_zone_h: number_at(8, "time zone")?,
        elevation_m: number_at(9, "elevation")?,
    })
}

/// The offset that a comment line may carry; `None` where it is missing or past a day.
fn irradiance_offset_h(line: &str) -> Option<f64> {
    let lower = line.to_ascii_lowercase();
    let (_, after) = lower.split_once("irradiance time offset")?;
    let (_, value) = after.split_once(':')?;
    let value = value.split(',').next().unwrap_or_default();
    text::number(value.trim()).filter(|offset| offset.abs() <= 24.0)
}

/// Year, month, day, hour, minute; the year is not looked at, and minutes are 0 or 60 in hourly files.
fn stamp(cells: &[&str], line: usize) -> Result<Stamp, WeatherError> {
    let at = |i: usize| cells.get(i).copied().unwrap_or_default();
    let shown = || text::printable(&format!("{}/{} {}:{}", at(1), at(2), at(3), at(4)), 24);
    let parsed =
        || Some((small_number(at(1))?, small_number(at(2))?, small_number(at(3))?, small_number(at(4))?));
    match parsed() {
        Some((month, day, hour_ending, 0 | 60)) => Ok(Stamp { month, day, hour_ending }),
        Some(_) => Err(WeatherError::NotHourly { line, text: shown() }),
        None => Err(WeatherError::BadStamp { line, text: shown() }),
    }
}

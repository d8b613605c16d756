//! Reader of PVGIS typical years: lines of `key: value`, the years of the months, then hours in UTC with the columns
//! named, then an explanation. What is not here: gaps and humidity (`complete.rs`), the turn to local standard time
//! (`turn.rs`). Read next: `table.rs`.
//!
//! # When
//! A stamp is the moment of the air's state; it holds over the clock hour that begins there. Irradiance is a snapshot at
//! stamp + offset, with the offset in the heading (on the published file beam, diffuse and global agree there to
//! 1 W/m² rms). Older tables give no offset: then mid-hour and the full hour are tried, and the irradiance decides.

use crate::calendar::Stamp;
use crate::error::WeatherError;
use crate::pressure;
use crate::quantity::Quantity;
use crate::table::{Column, Layout, Table, small_number};
use crate::text;
use crate::year::{Format, PlaceOverride};

const HEADINGS: [(Quantity, &str); 8] = [
    (Quantity::DryBulb, "T2m"),
    (Quantity::RelativeHumidity, "RH"),
    (Quantity::Pressure, "SP"),
    (Quantity::WindSpeed, "WS10m"),
    (Quantity::WindDirection, "WD10m"),
    (Quantity::Global, "G(h)"),
    (Quantity::Direct, "Gb(n)"),
    (Quantity::Diffuse, "Gd(h)"),
];

/// The heading stands within this many lines: keys and twelve months come before it.
const LONGEST_HEADING: usize = 40;

pub(crate) fn recognises(content: &str) -> bool {
    column_line(content).is_some()
}

fn column_line(content: &str) -> Option<(usize, &str)> {
    let is_heading = |line: &str| line.trim_start().to_ascii_lowercase().starts_with("time(utc)");
    text::numbered_lines(content).take(LONGEST_HEADING).find(|(_, line)| is_heading(line))
}

pub(crate) fn parse(content: &str) -> Result<Table, WeatherError> {
    let Some((heading_at, heading)) = column_line(content) else { return Err(WeatherError::NoRows) };
    let mut table = Table::new(Format::PvgisCsv, PlaceOverride::default());
    "PVGIS typical year, (c) European Union".clone_into(&mut table.source);
    (table.clock_h, table.sun_offsets_h) = (Some(0.0), vec![0.5, 0.0]);
    for (line, key) in text::numbered_lines(content).take(heading_at - 1) {
        read_key(&mut table, line, key)?;
    }
    let headings = text::cells(heading);
    let width = headings.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    let mut columns = columns(&headings, heading_at)?;
    pressure::settle_unit(&mut columns, rows(content, heading_at), &mut table.findings);
    Layout { cut: text::cells, columns, width, stamp: &stamp }.fill(&mut table, rows(content, heading_at))?;
    Ok(table)
}

/// The rows; past an empty line, lines that do not begin with a digit explain the columns.
fn rows(content: &str, heading_at: usize) -> impl Iterator<Item = (usize, &str)> {
    let mut past_empty_line = false;
    text::numbered_lines(content).skip(heading_at).filter(move |(_, line)| {
        past_empty_line |= line.trim().is_empty();
        !past_empty_line || line.trim_start().starts_with(|c: char| c.is_ascii_digit())
    })
}

fn columns(headings: &[&str], line: usize) -> Result<Vec<Column>, WeatherError> {
    let mut found = Vec::new();
    for (quantity, heading) in HEADINGS {
        match headings.iter().position(|cell| cell.eq_ignore_ascii_case(heading)) {
            Some(position) => found.push(Column { quantity, position, scale: 1.0 }),
            // Derived from global and diffuse where it is missing.
            None if quantity == Quantity::Direct => {}
            None => return Err(WeatherError::MissingColumn { line, column: format!("`{heading}`") }),
        }
    }
    Ok(found)
}

fn read_key(table: &mut Table, line: usize, text: &str) -> Result<(), WeatherError> {
    let Some((key, value)) = text.trim().split_once(':') else { return Ok(()) };
    let (key, value) = (key.trim().to_ascii_lowercase(), value.trim().trim_end_matches(',').trim());
    let number = |what: &str, size: f64| {
        text::number(value).filter(|x| x.abs() <= size).ok_or_else(|| WeatherError::Header {
            line,
            problem: format!("the {what} `{}` is not a number", text::printable(value, 24)),
        })
    };
    if key.starts_with("latitude") {
        table.place.latitude_deg = Some(number("latitude", f64::MAX)?);
    } else if key.starts_with("longitude") {
        table.place.longitude_deg = Some(number("longitude", f64::MAX)?);
    } else if key.starts_with("elevation") {
        table.place.elevation_m = Some(number("elevation", f64::MAX)?);
    } else if key.starts_with("irradiance time offset") {
        table.sun_offsets_h = vec![number("irradiance time offset", 24.0)?];
    }
    Ok(())
}

/// `YYYYMMDD:HHMM`, the moment at which the hour begins; the year is not looked at.
fn stamp(cells: &[&str], line: usize) -> Result<Stamp, WeatherError> {
    let text = cells.first().copied().unwrap_or_default();
    let part = |from: usize, to: usize| text.get(from..to).and_then(small_number);
    let shown = || text::printable(text, 24);
    let parsed = || {
        let is_whole = text.len() == 13 && text.get(8..9) == Some(":");
        let hour = part(9, 11).filter(|hour| is_whole && *hour < 24)?;
        Some((Stamp { month: part(4, 6)?, day: part(6, 8)?, hour_ending: hour + 1 }, part(11, 13)?))
    };
    match parsed() {
        Some((stamp, 0)) => Ok(stamp),
        Some(_) => Err(WeatherError::NotHourly { line, text: shown() }),
        None => Err(WeatherError::BadStamp { line, text: shown() }),
    }
}

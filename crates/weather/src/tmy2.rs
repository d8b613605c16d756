//! Reader of TMY2: a line with the station, then one row of 142 characters an hour, in columns of fixed width. Hours end
//! at their label, 1…24, in local standard time. What is not here: gaps and humidity (`complete.rs`). Read next:
//! `table.rs`.
//!
//! # Source
//! \[TMY2-MANUAL\] table 3-2, recalled; checked on a published file.

use crate::calendar::Stamp;
use crate::error::WeatherError;
use crate::quantity::Quantity;
use crate::table::{Column, Layout, Table, small_number};
use crate::text;
use crate::year::{Format, PlaceOverride};

/// Characters of a row.
const LENGTH: usize = 142;

/// First and last character (from 1) of each field that is read; the first three are the stamp.
const FIELDS: [(usize, usize); 12] = [
    (4, 5),
    (6, 7),
    (8, 9),
    (18, 21),
    (24, 27),
    (30, 33),
    (68, 71),
    (74, 77),
    (80, 82),
    (85, 88),
    (91, 93),
    (96, 98),
];

/// What the fields after the stamp hold, and their scale.
const QUANTITIES: [(Quantity, f64); 9] = [
    (Quantity::Global, 1.0),
    (Quantity::Direct, 1.0),
    (Quantity::Diffuse, 1.0),
    (Quantity::DryBulb, 0.1),
    (Quantity::DewPoint, 0.1),
    (Quantity::RelativeHumidity, 1.0),
    (Quantity::Pressure, 100.0),
    (Quantity::WindDirection, 1.0),
    (Quantity::WindSpeed, 0.1),
];

/// The station line: a letter for north or south in column 38, for east or west in column 46, and no comma.
pub(crate) fn recognises(first_line: &str) -> bool {
    matches!(field(first_line, (38, 38)), "N" | "S")
        && matches!(field(first_line, (46, 46)), "E" | "W")
        && !first_line.contains(',')
}

pub(crate) fn parse(content: &str) -> Result<Table, WeatherError> {
    let mut lines = text::numbered_lines(content);
    let mut table = Table::new(Format::Tmy2, place(lines.next().map_or("", |(_, line)| line))?);
    "TMY2".clone_into(&mut table.source);
    let rows = || text::numbered_lines(content).skip(1).filter(|(_, line)| !line.trim().is_empty());
    for (line, row) in rows() {
        let found = row.trim_end().chars().count();
        if found != LENGTH {
            return Err(WeatherError::RowLength { line, found, expected: LENGTH });
        }
    }
    let columns = (QUANTITIES.iter().enumerate())
        .map(|(i, &(quantity, scale))| Column { quantity, position: i + 3, scale })
        .collect();
    let layout = Layout { cut, columns, width: FIELDS.len(), stamp: &stamp };
    layout.fill(&mut table, rows())?;
    Ok(table)
}

/// Characters `first` to `last` (from 1) of a line, without spaces around; empty past its end.
fn field(line: &str, (first, last): (usize, usize)) -> &str {
    // Bytes and characters differ where a name carries an accent.
    let byte_of = |at: usize| {
        if line.is_ascii() {
            at.min(line.len())
        } else {
            line.char_indices().nth(at).map_or(line.len(), |(byte, _)| byte)
        }
    };
    line.get(byte_of(first - 1)..byte_of(last)).unwrap_or_default().trim()
}

fn cut(line: &str) -> Vec<&str> {
    FIELDS.iter().map(|&at| field(line, at)).collect()
}

/// Number, name, state, time zone; latitude and longitude in degrees and minutes; elevation.
fn place(line: &str) -> Result<PlaceOverride, WeatherError> {
    let name = [(8, 29), (31, 32)]
        .map(|at| field(line, at))
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>();
    let number = |at: (usize, usize), what: &str| {
        text::number(field(line, at)).ok_or_else(|| WeatherError::Header {
            line: 1,
            problem: format!("the {what} `{}` is not a number", text::printable(field(line, at), 24)),
        })
    };
    let angle = |letter: usize, degrees: (usize, usize), minutes: (usize, usize), what: &str| {
        let size = number(degrees, what)? + number(minutes, what)? / 60.0;
        let is_negative = matches!(field(line, (letter, letter)), "S" | "W");
        Ok::<f64, WeatherError>(if is_negative { -size } else { size })
    };
    Ok(PlaceOverride {
        name: (!name.is_empty()).then(|| name.join(", ")),
        time_zone_h: Some(number((34, 36), "time zone")?),
        latitude_deg: Some(angle(38, (40, 41), (43, 44), "latitude")?),
        longitude_deg: Some(angle(46, (48, 50), (52, 53), "longitude")?),
        elevation_m: Some(number((56, 59), "elevation")?),
    })
}

fn stamp(cells: &[&str], line: usize) -> Result<Stamp, WeatherError> {
    let at = |i: usize| cells.get(i).copied().unwrap_or_default();
    let parsed = || {
        Some(Stamp {
            month: small_number(at(0))?,
            day: small_number(at(1))?,
            hour_ending: small_number(at(2))?,
        })
    };
    let shown = || text::printable(&format!("{}/{} hour {}", at(0), at(1), at(2)), 24);
    parsed().ok_or_else(|| WeatherError::BadStamp { line, text: shown() })
}

//! Reader of TMY3 tables: a line with the station, a line with the column names, one row an hour. Columns are found by
//! name, so files of 68 and of 71 columns are both read. Hours end at their label, 01:00…24:00, in local standard time.
//! What is not here: gaps and humidity (`complete.rs`). Read next: `table.rs`.
//!
//! # Source
//! [TMY3-MANUAL] Wilcox and Marion, Users Manual for TMY3 Data Sets, 2008.

use crate::calendar::Stamp;
use crate::error::WeatherError;
use crate::pressure;
use crate::quantity::Quantity;
use crate::table::{Column, Layout, Table, small_number};
use crate::text;
use crate::year::{Format, PlaceOverride};

const HEADINGS: [(Quantity, &str, f64); 9] = [
    (Quantity::DryBulb, "Dry-bulb (C)", 1.0),
    (Quantity::DewPoint, "Dew-point (C)", 1.0),
    (Quantity::RelativeHumidity, "RHum (%)", 1.0),
    (Quantity::Pressure, "Pressure (mbar)", 100.0),
    (Quantity::WindSpeed, "Wspd (m/s)", 1.0),
    (Quantity::WindDirection, "Wdir (degrees)", 1.0),
    (Quantity::Global, "GHI (W/m^2)", 1.0),
    (Quantity::Direct, "DNI (W/m^2)", 1.0),
    (Quantity::Diffuse, "DHI (W/m^2)", 1.0),
];

pub(crate) fn recognises(second_line: &str) -> bool {
    let mut cells = text::cells(second_line).into_iter();
    let begins =
        |cell: Option<&str>, with: &str| cell.is_some_and(|c| c.to_ascii_lowercase().starts_with(with));
    begins(cells.next(), "date (mm/dd") && begins(cells.next(), "time (hh")
}

pub(crate) fn parse(content: &str) -> Result<Table, WeatherError> {
    let mut lines = text::numbered_lines(content);
    let place = place(lines.next().map_or("", |(_, line)| line))?;
    let headings = text::heading_cells(lines.next().map_or("", |(_, line)| line));
    let mut table = Table::new(Format::Tmy3Csv, place);
    "TMY3 table".clone_into(&mut table.source);
    let named = headings.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    let mut columns = columns(&headings)?;
    pressure::settle_unit(&mut columns, text::numbered_lines(content).skip(2), &mut table.findings);
    let layout = Layout { cut: text::cells, columns, width: named, stamp: &stamp };
    layout.fill(&mut table, lines)?;
    Ok(table)
}

fn columns(headings: &[String]) -> Result<Vec<Column>, WeatherError> {
    let find = |&(quantity, heading, scale): &(Quantity, &str, f64)| {
        let position = headings.iter().position(|cell| cell.eq_ignore_ascii_case(heading));
        position
            .map(|position| Column { quantity, position, scale })
            .ok_or_else(|| WeatherError::MissingColumn { line: 2, column: format!("`{heading}`") })
    };
    HEADINGS.iter().map(find).collect()
}

/// The station line: number, name, state, time zone, latitude, longitude, elevation.
fn place(line: &str) -> Result<PlaceOverride, WeatherError> {
    let cells = text::heading_cells(line);
    let text_at = |at: usize| cells.get(at).map_or("", String::as_str);
    let number_at = |at: usize, what: &str| match text_at(at) {
        "" => Ok(None),
        cell => text::number(cell).map(Some).ok_or_else(|| WeatherError::Header {
            line: 1,
            problem: format!("the {what} `{}` is not a number", text::printable(cell, 24)),
        }),
    };
    let name =
        [text_at(1), text_at(2)].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ");
    Ok(PlaceOverride {
        name: (!name.is_empty()).then_some(name),
        time_zone_h: number_at(3, "time zone")?,
        latitude_deg: number_at(4, "latitude")?,
        longitude_deg: number_at(5, "longitude")?,
        elevation_m: number_at(6, "elevation")?,
    })
}

/// `MM/DD/YYYY` and `HH:MM`, the hour from 01 to 24; the year is not looked at.
fn stamp(cells: &[&str], line: usize) -> Result<Stamp, WeatherError> {
    let (date, time) =
        (cells.first().copied().unwrap_or_default(), cells.get(1).copied().unwrap_or_default());
    let shown = || text::printable(&format!("{date} {time}"), 24);
    let parsed = || {
        let mut date = date.split('/').map(small_number);
        let (month, day) = (date.next()??, date.next()??);
        let (hour, minute) = time.split_once(':')?;
        Some((Stamp { month, day, hour_ending: small_number(hour)? }, small_number(minute)?))
    };
    match parsed() {
        Some((stamp, 0)) => Ok(stamp),
        Some(_) => Err(WeatherError::NotHourly { line, text: shown() }),
        None => Err(WeatherError::BadStamp { line, text: shown() }),
    }
}

//! Reader of NSRDB tables: two lines with place and units (missing in tables that were saved again), one line with the
//! column names, then a row an hour or a half-hour, in local standard time as a rule. What is not here: gaps and humidity
//! (`complete.rs`), half-hours to hours (`halves.rs`). Read next: `table.rs`.
//!
//! # When
//! An hourly row with minute 30 is the middle of its clock hour; the sun stands at the row's minute.

use crate::calendar::Stamp;
use crate::error::WeatherError;
use crate::halves;
use crate::pressure;
use crate::quantity::Quantity;
use crate::table::{Column, Layout, Table, small_number};
use crate::text;
use crate::year::{Format, PlaceOverride};
use std::cell::Cell;

const HEADINGS: [(Quantity, &str); 9] = [
    (Quantity::DryBulb, "Temperature"),
    (Quantity::DewPoint, "Dew Point"),
    (Quantity::RelativeHumidity, "Relative Humidity"),
    (Quantity::Pressure, "Pressure"),
    (Quantity::WindSpeed, "Wind Speed"),
    (Quantity::WindDirection, "Wind Direction"),
    (Quantity::Global, "GHI"),
    (Quantity::Direct, "DNI"),
    (Quantity::Diffuse, "DHI"),
];

const STAMP: [&str; 5] = ["year", "month", "day", "hour", "minute"];

/// Units that the table may name, as they are read.
const UNITS: [(&str, &str); 4] = [
    ("Temperature Units", "c"),
    ("Dew Point Units", "c"),
    ("Wind Speed Units", "m/s"),
    ("GHI Units", "w/m2"),
];

pub(crate) fn recognises(content: &str) -> bool {
    column_line(content).is_some()
}

fn column_line(content: &str) -> Option<(usize, &str)> {
    let is_heading = |line: &str| {
        let cells = text::cells(line);
        STAMP.iter().all(|name| cells.iter().any(|cell| cell.eq_ignore_ascii_case(name)))
    };
    text::numbered_lines(content).take(3).find(|(_, line)| is_heading(line))
}

pub(crate) fn parse(content: &str) -> Result<Table, WeatherError> {
    let Some((heading_at, heading)) = column_line(content) else { return Err(WeatherError::NoRows) };
    let about = if heading_at == 3 { About::of(content) } else { About::default() };
    let mut table = Table::new(Format::NsrdbCsv, about.place()?);
    "NSRDB table".clone_into(&mut table.source);
    table.clock_h = about.clock_h(&table.place)?;
    let headings = text::cells(heading);
    let width = headings.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    let find = |name: &str| headings.iter().position(|cell| cell.eq_ignore_ascii_case(name));
    let stamp_at = STAMP.map(|name| find(name).unwrap_or_default());
    let mut columns = columns(find, heading_at, about.pressure_scale()?)?;
    let rows = || text::numbered_lines(content).skip(heading_at);
    pressure::settle_unit(&mut columns, rows(), &mut table.findings);
    let minutes = Minutes::default();
    let stamp = |cells: &[&str], line: usize| minutes.stamp(stamp_at, cells, line);
    Layout { cut: text::cells, columns, width, stamp: &stamp }.fill(&mut table, rows())?;
    minutes.place_the_sun(&mut table)?;
    Ok(table)
}

fn columns(
    find: impl Fn(&str) -> Option<usize>,
    line: usize,
    pressure_scale: f64,
) -> Result<Vec<Column>, WeatherError> {
    let missing = |column: &str| WeatherError::MissingColumn { line, column: column.to_owned() };
    let mut found = Vec::new();
    for (quantity, heading) in HEADINGS {
        let scale = if quantity == Quantity::Pressure { pressure_scale } else { 1.0 };
        match (find(heading), quantity) {
            (Some(position), _) => found.push(Column { quantity, position, scale }),
            (None, Quantity::DewPoint | Quantity::RelativeHumidity | Quantity::Direct) => {}
            (None, _) => return Err(missing(&format!("`{heading}`"))),
        }
    }
    if find("Dew Point").or(find("Relative Humidity")).is_none() {
        return Err(missing("`Dew Point` or `Relative Humidity`"));
    }
    Ok(found)
}

/// The two lines of place and units: names and values.
#[derive(Default)]
struct About {
    names: Vec<String>,
    values: Vec<String>,
}

impl About {
    fn of(content: &str) -> Self {
        let cells = |nth: usize| {
            text::numbered_lines(content)
                .nth(nth)
                .map_or_else(Vec::new, |(_, line)| text::heading_cells(line))
        };
        Self { names: cells(0), values: cells(1) }
    }

    /// The value below a name; `None` where it is missing, empty or a dash.
    fn get(&self, name: &str) -> Option<&str> {
        let at = self.names.iter().position(|cell| cell.eq_ignore_ascii_case(name))?;
        self.values.get(at).map(String::as_str).filter(|value| !matches!(*value, "" | "-" | "N/A"))
    }

    fn number(&self, name: &str) -> Result<Option<f64>, WeatherError> {
        let Some(value) = self.get(name) else { return Ok(None) };
        text::number(value).map(Some).ok_or_else(|| WeatherError::Header {
            line: 2,
            problem: format!("the {} `{}` is not a number", name.to_lowercase(), text::printable(value, 24)),
        })
    }

    fn place(&self) -> Result<PlaceOverride, WeatherError> {
        let names: Vec<&str> =
            ["City", "State", "Country"].iter().filter_map(|part| self.get(part)).collect();
        let number = self.get("Location ID").map(|number| format!("NSRDB {number}"));
        let zone = self.number("Local Time Zone")?;
        Ok(PlaceOverride {
            name: if names.is_empty() { number } else { Some(names.join(", ")) },
            latitude_deg: self.number("Latitude")?,
            longitude_deg: self.number("Longitude")?,
            elevation_m: self.number("Elevation")?,
            time_zone_h: zone.or(self.number("Time Zone")?),
        })
    }

    /// The clock of the rows, where it is not the local one: tables are also published in UTC.
    fn clock_h(&self, place: &PlaceOverride) -> Result<Option<f64>, WeatherError> {
        Ok(self.number("Time Zone")?.filter(|clock_h| Some(*clock_h) != place.time_zone_h))
    }

    /// Scale of the pressure; hPa where no unit is named. Every other unit that is named must be the one that is read.
    fn pressure_scale(&self) -> Result<f64, WeatherError> {
        let wrong = |name: &str, unit: &str, read: &str| WeatherError::Header {
            line: 2,
            problem: format!("{name}: `{}`, {read} is read", text::printable(unit, 12)),
        };
        for (name, read) in UNITS {
            match self.get(name) {
                Some(unit) if !unit.eq_ignore_ascii_case(read) => return Err(wrong(name, unit, read)),
                _ => {}
            }
        }
        self.get("Pressure Units").map_or(Ok(100.0), |unit| {
            pressure::scale_of(unit).ok_or_else(|| wrong("Pressure Units", unit, "mbar, hPa, kPa or Pa"))
        })
    }
}

/// The minutes of the rows, as they are met: one minute in every row, or :00 and :30.
#[derive(Default)]
struct Minutes {
    first: Cell<Option<u8>>,
    halves: Cell<Option<u8>>,
    /// For each row that was read, whether its minute is 30; in order.
    read: std::cell::RefCell<Vec<u8>>,
}

impl Minutes {
    fn stamp(&self, at: [usize; 5], cells: &[&str], line: usize) -> Result<Stamp, WeatherError> {
        let [year, month, day, hour, minute] = at.map(|i| cells.get(i).copied().unwrap_or_default());
        let shown = || text::printable(&format!("{year}/{month}/{day} {hour}:{minute}"), 24);
        let parsed = || {
            let hour = small_number(hour).filter(|hour| *hour < 24)?;
            let stamp = Stamp { month: small_number(month)?, day: small_number(day)?, hour_ending: hour + 1 };
            Some((stamp, small_number(minute).filter(|minute| *minute < 60)?))
        };
        let (stamp, minute) = parsed().ok_or_else(|| WeatherError::BadStamp { line, text: shown() })?;
        if !self.fits(minute) {
            return Err(WeatherError::MinuteDoesNotFit { line, text: shown() });
        }
        self.read.borrow_mut().push(minute);
        Ok(stamp)
    }

    fn fits(&self, minute: u8) -> bool {
        let first = self.first.get().unwrap_or(minute);
        self.first.set(Some(first));
        if minute != first {
            self.halves.set(Some(minute));
        }
        minute == first || matches!((first, minute), (0, 30) | (30, 0))
    }

    /// Hourly rows: the sun stands at their minute. Half-hourly rows are joined first.
    fn place_the_sun(self, table: &mut Table) -> Result<(), WeatherError> {
        if self.halves.get().is_some() {
            return halves::join(table, &self.read.into_inner());
        }
        table.sun_offsets_h = vec![f64::from(self.first.get().unwrap_or(30)) / 60.0];
        Ok(())
    }
}

//! This project's own plain table, and how it is read. What is not here: writing it (`plain_writer.rs`), gaps and
//! humidity (`complete.rs`). Read next: `table.rs`.
//!
//! # The format
//! ```text
//! # name: Millbrook
//! # latitude_deg: 42.1
//! # longitude_deg: -80.3
//! # elevation_m: 210
//! # time_zone_h: -5
//! # synthetic: yes
//! month,day,hour_ending,dry_bulb_c,humidity_ratio,pressure_pa,wind_speed_m_per_s,…
//! 1,1,1,-4.21,0.0021,99170,3.4,…
//! ```
//! Lines that begin with `#` carry `key: value`: the five keys of the place, and optionally `synthetic` (`yes`, `no`),
//! `shifted` (how, in words), `source`, `sun_offset_h` (0.5 unless given), `wind_height_m` (10), `humidity_basis`
//! (`water`, `ice`). A year whose `source` says `INVENTED:` or whose `name` says `(invented)` is invented whatever
//! `synthetic` says, or if that line is lost. Other keys and remarks are passed over. Then one line with the column names, in any order:
//!
//! | column | what |
//! | --- | --- |
//! | `month`, `day`, `hour_ending` | 1…12, 1…31, 1…24, local standard time |
//! | `dry_bulb_c` | °C |
//! | `humidity_ratio`, or `dew_point_c`, or `relative_humidity_pct` | kg/kg dry air, °C, %; at least one, the first of them that a row has is used |
//! | `pressure_pa` | Pa at the station |
//! | `wind_speed_m_per_s`, `wind_direction_deg` | m/s; ° clockwise from north, where it comes from |
//! | `global_horizontal_w_per_m2`, `direct_normal_w_per_m2`, `diffuse_horizontal_w_per_m2` | W/m², mean of the hour; without the second, it is derived from the others |
//!
//! An empty cell or the filler -9900 is a gap.

use crate::calendar::Stamp;
use crate::error::WeatherError;
use crate::quantity::Quantity;
use crate::table::{Column, Layout, Table, small_number};
use crate::text;
use crate::year::{Format, HumidityBasis, PlaceOverride};

const NAMES: [(Quantity, &str); 10] = [
    (Quantity::DryBulb, "dry_bulb_c"),
    (Quantity::HumidityRatio, "humidity_ratio"),
    (Quantity::DewPoint, "dew_point_c"),
    (Quantity::RelativeHumidity, "relative_humidity_pct"),
    (Quantity::Pressure, "pressure_pa"),
    (Quantity::WindSpeed, "wind_speed_m_per_s"),
    (Quantity::WindDirection, "wind_direction_deg"),
    (Quantity::Global, "global_horizontal_w_per_m2"),
    (Quantity::Direct, "direct_normal_w_per_m2"),
    (Quantity::Diffuse, "diffuse_horizontal_w_per_m2"),
];

pub(crate) fn recognises(content: &str) -> bool {
    heading_line(content).is_some_and(|(_, line)| {
        let cells: Vec<String> = text::cells(line).iter().map(|cell| cell.to_ascii_lowercase()).collect();
        ["month", "day", "hour_ending"].iter().all(|name| cells.iter().any(|cell| cell == name))
    })
}

fn heading_line(content: &str) -> Option<(usize, &str)> {
    text::numbered_lines(content).find(|(_, line)| !line.trim().is_empty() && !is_remark(line))
}

fn is_remark(line: &str) -> bool {
    line.trim_start().trim_start_matches('"').starts_with('#')
}

pub(crate) fn parse(content: &str) -> Result<Table, WeatherError> {
    let Some((heading_at, heading)) = heading_line(content) else { return Err(WeatherError::NoRows) };
    let mut table = Table::new(Format::PlainCsv, PlaceOverride::default());
    "plain table".clone_into(&mut table.source);
    for (line, remark) in
        text::numbered_lines(content).take(heading_at - 1).filter(|(_, line)| is_remark(line))
    {
        read_remark(&mut table, line, remark)?;
    }
    table.is_synthetic |= names_itself_invented(&table);
    let headings: Vec<String> = text::cells(heading).iter().map(|cell| cell.to_ascii_lowercase()).collect();
    let width = headings.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    let find = |name: &str| {
        let missing = || WeatherError::MissingColumn { line: heading_at, column: format!("`{name}`") };
        headings.iter().position(|cell| cell == name).ok_or_else(missing)
    };
    let at = [find("month")?, find("day")?, find("hour_ending")?];
    let stamp =
        |cells: &[&str], line: usize| stamp(at.map(|i| cells.get(i).copied().unwrap_or_default()), line);
    let layout = Layout { cut: text::cells, columns: columns(&headings, heading_at)?, width, stamp: &stamp };
    let rows = text::numbered_lines(content).skip(heading_at).filter(|(_, line)| !is_remark(line));
    layout.fill(&mut table, rows)?;
    Ok(table)
}

fn columns(headings: &[String], line: usize) -> Result<Vec<Column>, WeatherError> {
    let mut columns = Vec::new();
    for (quantity, name) in NAMES {
        let is_humidity =
            matches!(quantity, Quantity::HumidityRatio | Quantity::DewPoint | Quantity::RelativeHumidity);
        match headings.iter().position(|cell| cell == name) {
            Some(position) => columns.push(Column { quantity, position, scale: 1.0 }),
            None if is_humidity || quantity == Quantity::Direct => {}
            None => return Err(WeatherError::MissingColumn { line, column: format!("`{name}`") }),
        }
    }
    let is_humid = |column: &Column| {
        matches!(column.quantity, Quantity::HumidityRatio | Quantity::DewPoint | Quantity::RelativeHumidity)
    };
    if !columns.iter().any(is_humid) {
        let column = "`humidity_ratio`, `dew_point_c` or `relative_humidity_pct`".to_owned();
        return Err(WeatherError::MissingColumn { line, column });
    }
    Ok(columns)
}

fn stamp([month, day, hour]: [&str; 3], line: usize) -> Result<Stamp, WeatherError> {
    let parsed = || {
        let (month, day, hour_ending) = (small_number(month)?, small_number(day)?, small_number(hour)?);
        Some(Stamp { month, day, hour_ending })
    };
    let shown = || text::printable(&format!("{month}/{day} hour {hour}"), 24);
    parsed().ok_or_else(|| WeatherError::BadStamp { line, text: shown() })
}

/// What every made year says of itself in its name or its source, so that one remark more or less changes nothing.
const INVENTED_SOURCE: &str = "INVENTED:";
const INVENTED_NAME: &str = "(invented)";

fn names_itself_invented(table: &Table) -> bool {
    table.source.contains(INVENTED_SOURCE)
        || table.place.name.as_ref().is_some_and(|name| name.contains(INVENTED_NAME))
}

fn read_remark(table: &mut Table, line: usize, remark: &str) -> Result<(), WeatherError> {
    let remark = remark.trim().trim_matches('"').trim_start_matches('#').trim_end_matches(',');
    let Some((key, value)) = remark.split_once(':') else { return Ok(()) };
    let (key, value) = (key.trim(), value.trim());
    let wrong = |expected: &str| WeatherError::Header {
        line,
        problem: format!("`{key}` is `{}`, {expected} is expected", text::printable(value, 24)),
    };
    let number = || text::number(value).map(Some).ok_or_else(|| wrong("a number"));
    match key {
        "name" => table.place.name = Some(value.to_owned()),
        "latitude_deg" => table.place.latitude_deg = number()?,
        "longitude_deg" => table.place.longitude_deg = number()?,
        "elevation_m" => table.place.elevation_m = number()?,
        "time_zone_h" => table.place.time_zone_h = number()?,
        "sun_offset_h" => {
            let offset_h = text::number(value).filter(|offset| offset.abs() <= 24.0);
            table.sun_offsets_h = vec![offset_h.ok_or_else(|| wrong("a number of hours from -24 to 24"))?];
        }
        "wind_height_m" => table.wind_height_m = number()?,
        "source" => value.clone_into(&mut table.source),
        "shifted" => table.shifted = (!value.is_empty()).then(|| value.to_owned()),
        "synthetic" => match value {
            "yes" => table.is_synthetic = true,
            "no" => table.is_synthetic = false,
            _ => return Err(wrong("`yes` or `no`")),
        },
        "humidity_basis" => match value {
            "water" => table.humidity_basis = Some(HumidityBasis::Water),
            "ice" => table.humidity_basis = Some(HumidityBasis::Ice),
            _ => return Err(wrong("`water` or `ice`")),
        },
        _ => {}
    }
    Ok(())
}

//! States by the row of a CSV file: two known columns in, all columns out, at full precision.

use std::io::{self, Read};
use std::path::Path;

use psychrometrics::{EnhancementFactor, Given, MoistAir, standard_pressure_pa};

use crate::failure::Failure;
use crate::show;

/// How a number in a column is meant.
type Meaning = fn(f64) -> Given;

/// Columns that a state can be made from, and how a number in them is meant.
const PROPERTIES: [(&str, Meaning); 6] = [
    ("dry_bulb_c", Given::DryBulbC),
    ("wet_bulb_c", Given::WetBulbC),
    ("dew_point_c", Given::DewPointC),
    (HUMIDITY_PCT, |percent| Given::RelativeHumidity(percent / 100.0)),
    ("humidity_ratio", Given::HumidityRatio),
    ("enthalpy_kj_per_kg", |kj| Given::EnthalpyJPerKg(kj * 1e3)),
];
const HUMIDITY_PCT: &str = "relative_humidity_pct";
const PRESSURE: &str = "pressure_pa";
const ALTITUDE: &str = "altitude_m";

/// Where in the file the numbers are.
struct Layout {
    given: [(usize, &'static str, Meaning); 2],
    pressure: Place,
}

enum Place {
    Pressure(usize),
    Altitude(usize),
}

/// Every property of a state by column name; `None` for the dew point of perfectly dry air.
pub(crate) fn cells(state: &MoistAir) -> [(&'static str, Option<f64>); 10] {
    [
        ("dry_bulb_c", Some(state.dry_bulb_c())),
        ("wet_bulb_c", Some(state.wet_bulb_c())),
        ("dew_point_c", state.dew_point_c()),
        (HUMIDITY_PCT, Some(100.0 * state.relative_humidity())),
        ("humidity_ratio", Some(state.humidity_ratio())),
        ("enthalpy_kj_per_kg", Some(1e-3 * state.enthalpy_j_per_kg())),
        (PRESSURE, Some(state.pressure_pa())),
        ("specific_volume_m3_per_kg", Some(state.specific_volume_m3_per_kg())),
        ("vapour_pressure_pa", Some(state.vapour_pressure_pa())),
        ("saturation_pressure_pa", Some(state.saturation_pressure_pa())),
    ]
}

pub(crate) fn convert(path: &Path, enhancement: EnhancementFactor) -> Result<(), Failure> {
    let (name, bytes) = read(path)?;
    let text = text_of(&name, &bytes)?;
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .flexible(true)
        .from_reader(text.as_bytes());
    let headers = reader.headers().map_err(|cause| Failure::input(format!("{name}: {cause}")))?.clone();
    let layout = layout(&name, &headers)?;
    let mut writer = csv::Writer::from_writer(Vec::new());
    for (index, record) in reader.records().enumerate() {
        let record = record.map_err(|cause| Failure::input(format!("{name}: {cause}")))?;
        let line = record.position().map_or(index as u64 + 2, |begin| line_of(text, begin));
        let state = width_of(&record, headers.len())
            .and_then(|()| state(&layout, &record, enhancement))
            .map_err(|reason| Failure::input(format!("{name}: line {line}, {reason}")))?;
        let cells = cells(&state);
        if index == 0 {
            writer.write_record(cells.map(|cell| cell.0)).map_err(Failure::work)?;
        }
        let row = cells.map(|cell| cell.1.map_or_else(String::new, |value| value.to_string()));
        writer.write_record(row).map_err(Failure::work)?;
    }
    let rows = writer.into_inner().map_err(|cause| Failure::work(cause.error()))?;
    if rows.is_empty() {
        return Err(Failure::input(format!("{name}: there are no rows below the header")));
    }
    show::result(&String::from_utf8(rows).map_err(Failure::work)?)
}

fn text_of<'b>(name: &str, bytes: &'b [u8]) -> Result<&'b str, Failure> {
    let text = std::str::from_utf8(bytes).map_err(|cause| {
        let line = bytes[..cause.valid_up_to()].split(|byte| *byte == b'\n').count();
        Failure::input(format!("{name}: line {line} is not UTF-8 text"))
            .hint("save it as UTF-8 or plain text")
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() { Err(Failure::input(format!("{name}: is empty"))) } else { Ok(text) }
}

/// The line of a row; the reader's own position lies before the blank lines and remarks above it.
fn line_of(text: &str, begin: &csv::Position) -> u64 {
    let from = usize::try_from(begin.byte()).ok().and_then(|byte| text.get(byte..)).unwrap_or("");
    let passed_over = |line: &&str| line.trim_end_matches('\r').is_empty() || line.starts_with('#');
    begin.line() + from.split('\n').take_while(passed_over).count() as u64
}

fn width_of(record: &csv::StringRecord, expected: usize) -> Result<(), String> {
    let found = record.len();
    if found == expected {
        return Ok(());
    }
    let noun = if found == 1 { "column" } else { "columns" };
    Err(format!("the row has {found} {noun}, the header {expected}"))
}

fn read(path: &Path) -> Result<(String, Vec<u8>), Failure> {
    if path.as_os_str() == "-" {
        let mut bytes = Vec::new();
        io::stdin()
            .read_to_end(&mut bytes)
            .map_err(|cause| Failure::unreadable(Path::new("stdin"), &cause))?;
        return Ok(("stdin".to_owned(), bytes));
    }
    let bytes = std::fs::read(path).map_err(|cause| Failure::unreadable(path, &cause))?;
    Ok((path.display().to_string(), bytes))
}

fn layout(name: &str, headers: &csv::StringRecord) -> Result<Layout, Failure> {
    let mut found = Vec::new();
    for (property, of) in PROPERTIES {
        found.extend(find(name, headers, property)?.map(|column| (column, property, of)));
    }
    let names: Vec<&str> = PROPERTIES.iter().map(|property| property.0).collect();
    let [first, second] = found[..] else {
        let (count, noun) = (found.len(), if found.len() == 1 { "property" } else { "properties" });
        let message = format!("{name}: the header names {count} {noun} of air; two are needed, no more");
        let semicolons = headers.len() == 1 && headers.iter().any(|header| header.contains(';'));
        return Err(Failure::input(message).hint(match (semicolons, count) {
            (true, _) => "columns are separated by commas, not by semicolons".to_owned(),
            (false, 3..) => format!("keep two of {}", listed(&found)),
            _ => format!("two of {}", names.join(", ")),
        }));
    };
    let pressure = match (find(name, headers, PRESSURE)?, find(name, headers, ALTITUDE)?) {
        (Some(column), None) => Place::Pressure(column),
        (None, Some(column)) => Place::Altitude(column),
        (None, None) => {
            return Err(Failure::input(format!("{name}: the header names no pressure"))
                .hint(format!("add a column {PRESSURE} or {ALTITUDE}")));
        }
        (Some(_), Some(_)) => {
            return Err(Failure::input(format!("{name}: the header names {PRESSURE} and {ALTITUDE}"))
                .hint("keep one of them"));
        }
    };
    Ok(Layout { given: [first, second], pressure })
}

/// Where a column stands; capitals make no difference.
fn find(name: &str, headers: &csv::StringRecord, wanted: &str) -> Result<Option<usize>, Failure> {
    let mut places = headers.iter().enumerate().filter(|(_, header)| header.eq_ignore_ascii_case(wanted));
    let first = places.next().map(|(place, _)| place);
    match places.next() {
        None => Ok(first),
        Some(_) => {
            Err(Failure::input(format!("{name}: the header names {wanted} twice")).hint("keep one of them"))
        }
    }
}

fn listed(found: &[(usize, &'static str, Meaning)]) -> String {
    found.iter().map(|property| property.1).collect::<Vec<_>>().join(", ")
}

fn state(
    layout: &Layout,
    record: &csv::StringRecord,
    enhancement: EnhancementFactor,
) -> Result<MoistAir, String> {
    let number = |column: usize, name: &str| -> Result<f64, String> {
        let cell = record.get(column).unwrap_or("");
        if cell.is_empty() {
            return Err(format!("{name}: the cell is empty"));
        }
        let value = cell
            .parse::<f64>()
            .ok()
            .filter(|number| number.is_finite())
            .ok_or_else(|| format!("{name}: `{cell}` is not a number"))?;
        if name == HUMIDITY_PCT && !(0.0..=100.0).contains(&value) {
            // Said here, in the column's own unit: the science counts from 0 to 1.
            return Err(format!("{name}: {cell} is outside 0 to 100 %"));
        }
        Ok(value)
    };
    let mut given = Vec::with_capacity(2);
    for &(column, name, of) in &layout.given {
        given.push(of(number(column, name)?));
    }
    let pressure_pa = match layout.pressure {
        Place::Pressure(column) => number(column, PRESSURE)?,
        Place::Altitude(column) => {
            standard_pressure_pa(number(column, ALTITUDE)?).map_err(|cause| cause.to_string())?
        }
    };
    MoistAir::from_pair_enhanced(given[0], given[1], pressure_pa, enhancement)
        .map_err(|cause| cause.to_string())
}

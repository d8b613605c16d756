//! States by the row of a CSV file: two known columns in, all columns out, at full precision.

use std::io::{self, Read, Write};
use std::path::Path;

use psychrometrics::{EnhancementFactor, Given, MoistAir, standard_pressure_pa};

use crate::failure::Failure;

/// Columns that a state can be made from, and how a number in them is meant.
const PROPERTIES: [(&str, fn(f64) -> Given); 6] = [
    ("dry_bulb_c", Given::DryBulbC),
    ("wet_bulb_c", Given::WetBulbC),
    ("dew_point_c", Given::DewPointC),
    ("relative_humidity_pct", |percent| Given::RelativeHumidity(percent / 100.0)),
    ("humidity_ratio", Given::HumidityRatio),
    ("enthalpy_kj_per_kg", |kj| Given::EnthalpyJPerKg(kj * 1e3)),
];
const PRESSURE: &str = "pressure_pa";
const ALTITUDE: &str = "altitude_m";

/// Where in the file the numbers are.
struct Layout {
    given: [(usize, &'static str, fn(f64) -> Given); 2],
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
        ("relative_humidity_pct", Some(100.0 * state.relative_humidity())),
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
    let mut reader =
        csv::ReaderBuilder::new().trim(csv::Trim::All).comment(Some(b'#')).from_reader(bytes.as_slice());
    let headers = reader.headers().map_err(|cause| Failure::input(format!("{name}: {cause}")))?.clone();
    let layout = layout(&name, &headers)?;
    let mut writer = csv::Writer::from_writer(Vec::new());
    for (index, record) in reader.records().enumerate() {
        let record = record.map_err(|cause| Failure::input(format!("{name}: {cause}")))?;
        let line = record.position().map_or(index as u64 + 2, csv::Position::line);
        let state = state(&layout, &record, enhancement)
            .map_err(|reason| Failure::input(format!("{name}: line {line}, {reason}")))?;
        let cells = cells(&state);
        if index == 0 {
            writer.write_record(cells.map(|cell| cell.0)).map_err(Failure::work)?;
        }
        let row = cells.map(|cell| cell.1.map_or_else(String::new, |value| value.to_string()));
        writer.write_record(row).map_err(Failure::work)?;
    }
    let text = writer.into_inner().map_err(|cause| Failure::work(cause.error()))?;
    if text.is_empty() {
        return Err(Failure::input(format!("{name}: there are no rows below the header")));
    }
    match io::stdout().write_all(&text) {
        // Whoever reads may stop reading.
        Err(cause) if cause.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        Err(cause) => Err(Failure::work(cause)),
        Ok(()) => Ok(()),
    }
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
    let find =
        |wanted: &str| headers.iter().position(|header| header.trim_start_matches('\u{feff}') == wanted);
    let found: Vec<_> = PROPERTIES
        .iter()
        .filter_map(|&(property, of)| find(property).map(|column| (column, property, of)))
        .collect();
    let names: Vec<&str> = PROPERTIES.iter().map(|property| property.0).collect();
    let [first, second] = found[..] else {
        let message = format!("{name}: the header names {} properties of air, two are needed", found.len());
        return Err(Failure::input(message).hint(format!("two of {}", names.join(", "))));
    };
    let pressure = match (find(PRESSURE), find(ALTITUDE)) {
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

fn state(
    layout: &Layout,
    record: &csv::StringRecord,
    enhancement: EnhancementFactor,
) -> Result<MoistAir, String> {
    let number = |column: usize, name: &str| -> Result<f64, String> {
        let cell = record.get(column).unwrap_or("");
        cell.parse::<f64>()
            .ok()
            .filter(|number| number.is_finite())
            .ok_or_else(|| format!("{name}: `{cell}` is not a number"))
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

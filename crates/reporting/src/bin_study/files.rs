//! `bins.csv` and the same as JSON, always SI, and the list of the columns.
//!
//! Not here: tables for the terminal (`table`).

use serde_json::{Map, Value, json};

use super::{BinStudy, Method, Printed};
use crate::{Cell, ReportError, ShowIn};

/// Headers of the columns that say which bin of which unit a row is.
pub const BIN_KEYS: [&str; 6] =
    ["unit", "low_c", "high_c", "time_h", "mean_dry_bulb_c", "mean_humidity_ratio"];

/// A column of `bins.csv`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BinColumn {
    /// Header, unit last.
    pub name: String,
    /// Unit; empty for a name.
    pub unit: &'static str,
    /// How it adds up; empty for keys.
    pub aggregates: &'static str,
    /// What it holds.
    pub meaning: String,
}

/// Header without its method, unit, and what it is, in the order of the figures.
const COUNTED: [(&str, &str, &str); 5] = [
    ("recovered_sensible_kwh", "kWh", "Sensible heat passed to the supply air"),
    ("recovered_latent_kwh", "kWh", "Latent heat passed to the supply air"),
    ("condensate_l", "L", "Water to the core's drain"),
    ("ice_formed_kg", "kg", "Ice laid down in the core"),
    ("frost_h", "h", "Hours with a gram of ice or more"),
];

fn way(method: Method) -> &'static str {
    match method {
        Method::Hourly => "the hourly run, its hours in this bin",
        Method::NoHistory => "the plain core in each hour, at the run's own indoor air, without history",
        Method::Told => "the plain core once a month's bin, told the month's mean extract air of the run",
        Method::Blind => "the plain core once a bin, at the heating set-point and 40 %",
    }
}

fn names() -> impl Iterator<Item = (Method, &'static (&'static str, &'static str, &'static str))> {
    Method::ALL.into_iter().flat_map(|method| COUNTED.iter().map(move |counted| (method, counted)))
}

/// The columns of `bins.csv`, in their order.
pub fn bin_columns() -> Vec<BinColumn> {
    let key = |name: &str| {
        let (unit, aggregates, meaning) = match name {
            "low_c" => ("°C", "", "The bin holds hours from this outdoor dry bulb on."),
            "high_c" => ("°C", "", "It holds those below this one."),
            "time_h" => ("h", "sum", "Hours in it."),
            "mean_dry_bulb_c" => ("°C", "mean", "Mean dry bulb of those hours."),
            "mean_humidity_ratio" => ("kg/kg dry air", "mean", "Mean coincident humidity ratio."),
            _ => ("", "", "Name of the unit."),
        };
        BinColumn { name: name.to_owned(), unit, aggregates, meaning: meaning.to_owned() }
    };
    let counted = names().map(|(method, &(name, unit, what))| BinColumn {
        name: format!("{}_{name}", method.key()),
        unit,
        aggregates: "sum",
        meaning: format!("{what}: {}.", way(method)),
    });
    BIN_KEYS.iter().map(|name| key(name)).chain(counted).collect()
}

/// `bins.csv`: a row for each unit and bin, coldest first.
///
/// # Errors
/// [`ReportError::TooLarge`] for a figure that is not finite, [`ReportError::Writing`] when the text fails.
pub fn bins_csv(studies: &[BinStudy]) -> Result<String, ReportError> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer
        .write_record(bin_columns().iter().map(|column| column.name.as_str()))
        .map_err(ReportError::writing)?;
    for study in studies {
        let printed = Printed::new(study, ShowIn::Si)?;
        for (row, figures) in study.rows.iter().zip(&printed.rows) {
            let keys = [
                study.unit.clone(),
                Cell::rounded(row.low_c, 3)?.to_string(),
                Cell::rounded(row.low_c + study.edges.width, 3)?.to_string(),
                row.hours.to_string(),
                Cell::rounded(row.dry_bulb_c, 3)?.to_string(),
                Cell::rounded(row.humidity_ratio, 7)?.to_string(),
            ];
            let cells = figures.iter().flatten().map(Cell::to_string);
            writer.write_record(keys.into_iter().chain(cells)).map_err(ReportError::writing)?;
        }
    }
    String::from_utf8(writer.into_inner().map_err(ReportError::writing)?).map_err(ReportError::writing)
}

/// The studies as a JSON array, one object a unit: its bins, the indoor air of told and blind bins, totals, and the parts of
/// `hourly − blind`.
///
/// # Errors
/// As [`bins_csv`].
pub fn bins_json(studies: &[BinStudy]) -> Result<String, ReportError> {
    let units = studies.iter().map(unit_json).collect::<Result<Vec<_>, _>>()?;
    serde_json::to_string_pretty(&units).map_err(ReportError::writing)
}

fn unit_json(study: &BinStudy) -> Result<Value, ReportError> {
    let printed = Printed::new(study, ShowIn::Si)?;
    let bins = study.rows.iter().zip(&printed.rows).map(|(row, figures)| {
        let mut bin = Map::new();
        bin.insert("low_c".to_owned(), json!(row.low_c));
        bin.insert("high_c".to_owned(), json!(row.low_c + study.edges.width));
        bin.insert("time_h".to_owned(), json!(row.hours));
        bin.insert("mean_dry_bulb_c".to_owned(), json!(row.dry_bulb_c));
        bin.insert("mean_humidity_ratio".to_owned(), json!(row.humidity_ratio));
        bin.extend(by_method(figures));
        Value::Object(bin)
    });
    let bins: Vec<Value> = bins.collect();
    let months = study.told_air.iter().enumerate().map(|(month, air)| {
        json!({ "month": month + 1, "indoor_c": air.temperature_c, "indoor_humidity_ratio": air.humidity_ratio })
    });
    let months: Vec<Value> = months.collect();
    let spread = |variance: &super::Variance| json!({ "within_bins": variance.within, "between_bins": variance.between });
    Ok(json!({
        "unit": study.unit,
        "width_k": study.edges.width,
        "bins": bins,
        "told_indoor_air": months,
        "blind_indoor_air": {
            "indoor_c": study.blind_air.temperature_c,
            "indoor_humidity_ratio": study.blind_air.humidity_ratio,
        },
        "indoor_humidity_ratio_variance": spread(&study.indoor_humidity),
        "indoor_temperature_variance_k2": spread(&study.indoor_temperature),
        "totals": by_method(&printed.totals),
        "hourly_less_blind": figures_json(&printed.between(Method::Hourly, Method::Blind)),
        "parts": {
            "history_and_control": figures_json(&printed.history()),
            "hours_in_place_of_means": figures_json(&printed.means()),
            "knowing_the_house": figures_json(&printed.house()),
        },
    }))
}

fn by_method(figures: &[super::Figures; 4]) -> Map<String, Value> {
    let pairs = Method::ALL.iter().zip(figures);
    pairs.map(|(method, figures)| (method.key().to_owned(), figures_json(figures))).collect()
}

fn figures_json(figures: &super::Figures) -> Value {
    let pairs = COUNTED.iter().zip(figures);
    Value::Object(pairs.map(|((name, ..), cell)| ((*name).to_owned(), json!(cell.value()))).collect())
}

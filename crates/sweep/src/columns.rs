//! The columns of a sweep's data set, and a part of it as the bytes of a Parquet file.
//!
//! Figures have the names and units that `annual.csv` gives them; those of the house without recovery begin with
//! `no_recovery_`. Not here: where the file goes (`folder.rs`).

use std::sync::Arc;

use arrow_array::{ArrayRef, Float64Array, RecordBatch, StringArray, UInt64Array};
use arrow_schema::{ArrowError, DataType, Field, Schema};
use parquet::arrow::ArrowWriter;
use parquet::basic::Compression;
use parquet::errors::ParquetError;
use parquet::file::metadata::KeyValue;
use parquet::file::properties::WriterProperties;

use crate::runner::{Outcome, Row};
use crate::sweep::{Design, Shown, Sweep};

/// Density to which air is referred [kg/m³], as in `annual.csv`.
const AIR_KG_PER_M3: f64 = 1.204;
const WH_PER_KWH: f64 = 1000.0;
const PERCENT: f64 = 100.0;

/// A column of results.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Its name, unit last.
    pub name: &'static str,
    /// What it holds.
    pub meaning: &'static str,
    of: fn(&Outcome) -> Option<f64>,
}

impl Column {
    /// The figure of a pair; `None` where it has none.
    pub fn of(&self, outcome: &Outcome) -> Option<f64> {
        (self.of)(outcome)
    }
}

macro_rules! columns {
    ($($name:literal $meaning:literal $of:expr;)+) => {
        /// The columns of results, in the order in which they are written.
        pub static COLUMNS: &[Column] = &[$(Column { name: $name, meaning: $meaning, of: $of }),+];
    };
}

columns! {
    "heating_kwh" "Energy metered for heating, with the unit." |o| Some(o.unit.heating_site_wh / WH_PER_KWH);
    "cooling_kwh" "Energy metered for cooling." |o| Some(o.unit.cooling_site_wh / WH_PER_KWH);
    "fan_kwh" "Electricity of the ventilation fans." |o| Some(o.unit.fan_wh / WH_PER_KWH);
    "preheat_kwh" "Electricity of the preheater before the core." |o| Some(o.unit.preheat_wh / WH_PER_KWH);
    "recovered_sensible_kwh" "Sensible heat that the core passed to the supply air, signed." |o| Some(o.unit.recovered_sensible_wh / WH_PER_KWH);
    "recovered_latent_kwh" "Latent heat that the core passed to the supply air, signed." |o| Some(o.unit.recovered_latent_wh / WH_PER_KWH);
    "useful_saving_kwh" "Energy metered without recovery less energy metered with the unit." |o| Some((metered_wh(&o.no_recovery) - metered_wh(&o.unit)) / WH_PER_KWH);
    "condensate_l" "Water that reached the core's drain." |o| Some(o.unit.drain_kg);
    "ice_formed_kg" "Ice deposited in the core." |o| Some(o.unit.ice_formed_kg);
    "defrost_h" "Time in defrost." |o| Some(o.unit.defrost_h);
    "blocked_h" "Time with a blocked extract side." |o| Some(o.unit.blocked_h);
    "outdoor_air_m3" "Outdoor air delivered, as air of 1.204 kg/m³." |o| Some(o.unit.outdoor_air_kg / AIR_KG_PER_M3);
    "missed_air_m3" "Outdoor air that defrost, frost or loaded filters kept from being delivered." |o| Some(o.unit.missed_outdoor_air_kg / AIR_KG_PER_M3);
    "rh_mean_pct" "Mean relative humidity of the rooms, all hours." |o| Some(o.unit.relative_humidity_h / o.hours as f64 * PERCENT);
    "window_wet_h" "Time with water or ice on the centre of some window." |o| Some(o.unit.window_wet_h);
    "no_recovery_heating_kwh" "Energy metered for heating, without recovery at the same outdoor air." |o| Some(o.no_recovery.heating_site_wh / WH_PER_KWH);
    "no_recovery_cooling_kwh" "Energy metered for cooling, without recovery." |o| Some(o.no_recovery.cooling_site_wh / WH_PER_KWH);
    "no_recovery_rh_mean_pct" "Mean relative humidity of the rooms, without recovery." |o| Some(o.no_recovery.relative_humidity_h / o.hours as f64 * PERCENT);
    "no_recovery_window_wet_h" "Time with water or ice on the centre of some window, without recovery." |o| Some(o.no_recovery.window_wet_h);
    "running_money_per_year" "Energy, connections and upkeep of a year, in the study's currency; empty without flat prices." |o| Some(o.money?.running_per_year);
    "saving_money_per_year" "What is saved of that beside the house without recovery." |o| o.money.map(|money| money.without_per_year - money.running_per_year);
    "net_present_value_money" "Present worth of the unit over the horizon; empty for a unit without a price." |o| o.money?.net_present_value;
}

fn metered_wh(totals: &simulation::Totals<f64>) -> f64 {
    totals.heating_site_wh
        + totals.cooling_site_wh
        + totals.fan_wh
        + totals.preheat_wh
        + totals.blower_wh
        + totals.humidifier_wh
        + totals.dehumidifier_wh
}

/// Name of the column of runs, of units and of reasons.
pub const RUN: &str = "run";
/// See [`RUN`].
pub const UNIT: &str = "unit";
/// See [`RUN`].
pub const FAILED: &str = "failed_because";

/// Why a part could not be put into bytes.
#[derive(Debug, thiserror::Error)]
pub enum EncodeError {
    /// Columns that do not fit together.
    #[error(transparent)]
    Arrow(#[from] ArrowError),
    /// A file that could not be put together.
    #[error(transparent)]
    Parquet(#[from] ParquetError),
}

/// What a part's file says of itself.
pub(crate) const IDENTITY_KEY: &str = "dewledger.sweep";
pub(crate) const PART_KEY: &str = "dewledger.part";

/// The Parquet file of a part: the same bytes for the same rows, wherever they were run.
///
/// # Errors
/// [`EncodeError`]: a fault of the program or of its libraries.
pub fn encode(sweep: &Sweep, part: u64, rows: &[Row]) -> Result<Vec<u8>, EncodeError> {
    let batch = batch(sweep, rows)?;
    let said = |key: &str, value: String| KeyValue::new(key.to_owned(), value);
    let properties = WriterProperties::builder()
        .set_compression(Compression::SNAPPY)
        .set_created_by("dewledger".to_owned())
        .set_key_value_metadata(Some(vec![
            said(IDENTITY_KEY, sweep.identity()),
            said(PART_KEY, part.to_string()),
        ]))
        .build();
    let mut writer = ArrowWriter::try_new(Vec::new(), batch.schema(), Some(properties))?;
    writer.write(&batch)?;
    Ok(writer.into_inner()?)
}

fn batch(sweep: &Sweep, rows: &[Row]) -> Result<RecordBatch, ArrowError> {
    let mut fields = vec![Field::new(RUN, DataType::UInt64, false), Field::new(UNIT, DataType::Utf8, false)];
    let mut arrays: Vec<ArrayRef> = vec![
        Arc::new(rows.iter().map(|row| row.run).collect::<UInt64Array>()),
        Arc::new(rows.iter().map(|row| Some(row.unit.as_str())).collect::<StringArray>()),
    ];
    for (place, name) in sweep.input_names().iter().enumerate() {
        let numbers = is_number(sweep, place);
        fields.push(Field::new(name, if numbers { DataType::Float64 } else { DataType::Utf8 }, true));
        arrays.push(if numbers { as_numbers(rows, place) } else { as_words(rows, place) });
    }
    for column in COLUMNS {
        fields.push(Field::new(column.name, DataType::Float64, true));
        let figure = |row: &Row| row.outcome.as_ref().ok().and_then(|outcome| column.of(outcome));
        arrays.push(Arc::new(rows.iter().map(figure).collect::<Float64Array>()));
    }
    fields.push(Field::new(FAILED, DataType::Utf8, true));
    let reason = |row: &Row| row.outcome.as_ref().err().cloned();
    arrays.push(Arc::new(rows.iter().map(reason).collect::<StringArray>()));
    RecordBatch::try_new(Arc::new(Schema::new(fields)), arrays)
}

fn is_number(sweep: &Sweep, place: usize) -> bool {
    let is_list = matches!(sweep.design, Design::List(_));
    let input = sweep.file.inputs.get(place);
    !is_list && input.is_some_and(|input| matches!(input.values, crate::file::Values::Spread { .. }))
}

fn as_numbers(rows: &[Row], place: usize) -> ArrayRef {
    let number = |row: &Row| match row.inputs.get(place) {
        Some(Shown::Number(number)) => Some(*number),
        _ => None,
    };
    Arc::new(rows.iter().map(number).collect::<Float64Array>())
}

fn as_words(rows: &[Row], place: usize) -> ArrayRef {
    let word = |row: &Row| match row.inputs.get(place) {
        Some(Shown::Word(word)) => Some(word.clone()),
        _ => None,
    };
    Arc::new(rows.iter().map(word).collect::<StringArray>())
}

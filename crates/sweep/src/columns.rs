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
use simulation::Totals;

use crate::runner::{Outcome, Row, metered_wh};
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
    /// Its unit; `money` is the study's currency.
    pub unit: &'static str,
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
    ($($name:literal [$unit:literal] $meaning:literal $of:expr;)+) => {
        /// The columns of results, in the order in which they are written.
        pub static COLUMNS: &[Column] =
            &[$(Column { name: $name, unit: $unit, meaning: $meaning, of: $of }),+];
    };
}

// Figures of one name are those of `annual.csv` and `money.csv`, before rounding.
columns! {
    "heating_kwh" ["kWh"] "Energy metered for heating, with the unit." |o| kwh(o.unit.heating_site_wh);
    "cooling_kwh" ["kWh"] "Energy metered for cooling." |o| kwh(o.unit.cooling_site_wh);
    "fan_kwh" ["kWh"] "Electricity of the ventilation fans." |o| kwh(o.unit.fan_wh);
    "fan_peak_w" ["W"] "Greatest hourly mean power of the ventilation fans." |o| Some(o.unit.counts.fan_peak_w);
    "preheat_kwh" ["kWh"] "Electricity of the preheater before the core." |o| kwh(o.unit.preheat_wh);
    "preheat_peak_w" ["W"] "Greatest hourly mean power of the preheater." |o| Some(o.unit.counts.preheat_peak_w);
    "defrost_kwh" ["kWh"] "Room heat lent to defrosting the core: a memo, since the heating already holds it." |o| kwh(o.unit.defrost_heat_wh);
    "blower_kwh" ["kWh"] "Electricity of the furnace's blower." |o| kwh(o.unit.blower_wh);
    "humidifying_kwh" ["kWh"] "Electricity of a humidifier that boils water." |o| kwh(o.unit.humidifier_wh);
    "dehumidifying_kwh" ["kWh"] "Electricity of the dehumidifier." |o| kwh(o.unit.dehumidifier_wh);
    "heating_load_kwh" ["kWh"] "Heat that the heating gave to the room air." |o| kwh(o.unit.heating_load_wh);
    "cooling_sensible_kwh" ["kWh"] "Sensible heat that the cooling coil took from the room air." |o| kwh(o.unit.cooling_sensible_wh);
    "cooling_latent_kwh" ["kWh"] "Latent heat that the cooling coil took from the room air." |o| kwh(o.unit.cooling_latent_wh);
    "heating_peak_w" ["W"] "Greatest hourly mean heating load." |o| Some(o.unit.counts.heating_peak_w);
    "cooling_sensible_peak_w" ["W"] "Greatest hourly mean sensible cooling load." |o| Some(o.unit.counts.cooling_sensible_peak_w);
    "cooling_latent_peak_w" ["W"] "Greatest hourly mean latent cooling load." |o| Some(o.unit.counts.cooling_latent_peak_w);
    "recovered_sensible_kwh" ["kWh"] "Sensible heat that the core passed to the supply air, signed." |o| kwh(o.unit.recovered_sensible_wh);
    "recovered_latent_kwh" ["kWh"] "Latent heat that the core passed to the supply air, signed." |o| kwh(o.unit.recovered_latent_wh);
    "useful_saving_kwh" ["kWh"] "Energy metered without recovery less energy metered with the unit, as it runs." |o| kwh(metered_wh(&o.no_recovery) - metered_wh(&o.unit));
    "useful_saving_held_air_kwh" ["kWh"] "The same with missed outdoor air made up; empty where that was not run (equal_air = false)." |o| kwh(o.saving_held_air_wh?);
    "useful_saving_load_kwh" ["kWh"] "Loads of heating and cooling, before efficiency: without recovery less with the unit." |o| kwh(load_wh(&o.no_recovery) - load_wh(&o.unit));
    "condensate_l" ["L"] "Water that reached the core's drain." |o| Some(o.unit.drain_kg);
    "condensate_supply_side_l" ["L"] "Liquid formed on the supply side of the core." |o| Some(o.unit.supply_side_liquid_kg);
    "peak_condensate_l_per_day" ["L/day"] "Most condensate in one calendar day." |o| Some(o.unit.counts.drain_peak_kg_per_day);
    "carried_over_l" ["L"] "Water that condensed on a wheel and left with the air." |o| Some(o.unit.carried_over_kg);
    "ice_formed_kg" ["kg"] "Ice deposited in the core." |o| Some(o.unit.ice_formed_kg);
    "frost_h" ["h"] "Hours in which at least 1 g of ice formed in the core." |o| Some(o.unit.counts.frost_h);
    "blocked_h" ["h"] "Hours in which ice blocked the extract side." |o| Some(o.unit.counts.blocked_any_h);
    "defrost_h" ["h"] "Time in defrost: the sum of each hour's share of it." |o| Some(o.unit.defrost_h);
    "defrost_any_h" ["h"] "Hours with any defrost." |o| Some(o.unit.counts.defrost_any_h);
    "rh_mean_pct" ["%"] "Mean relative humidity of the rooms other than the wet rooms, all hours." |o| rh_mean(o, &o.unit);
    "rh_winter_mean_pct" ["%"] "The same over December to February, south of the equator June to August." |o| rh_season(o, &o.unit, Season::Winter);
    "rh_summer_mean_pct" ["%"] "The same over June to August, south of the equator December to February." |o| rh_season(o, &o.unit, Season::Summer);
    "rh_below_30_h" ["h"] "Hours with relative humidity below 30 %." |o| Some(o.unit.counts.rh_below_30_h);
    "rh_above_60_h" ["h"] "Hours with relative humidity above 60 %." |o| Some(o.unit.counts.rh_above_60_h);
    "rh_min_pct" ["%"] "Least hourly relative humidity." |o| Some(o.unit.counts.rh_least * PERCENT);
    "rh_max_pct" ["%"] "Greatest hourly relative humidity." |o| Some(o.unit.counts.rh_greatest * PERCENT);
    "window_wet_h" ["h"] "Time with water or ice on the centre of some window." |o| Some(o.unit.window_wet_h);
    "window_edge_wet_h" ["h"] "Time with water or ice at the edge of the glass of some window." |o| Some(o.unit.window_edge_wet_h);
    "air_min_c" ["°C"] "Least hourly indoor air temperature." |o| Some(o.unit.counts.air_least_c);
    "air_max_c" ["°C"] "Greatest hourly indoor air temperature." |o| Some(o.unit.counts.air_greatest_c);
    "outdoor_air_m3" ["m³"] "Outdoor air delivered, as air of 1.204 kg/m³." |o| Some(o.unit.outdoor_air_kg / AIR_KG_PER_M3);
    "missed_air_m3" ["m³"] "Outdoor air that defrost, frost or loaded filters kept from being delivered." |o| Some(o.unit.missed_outdoor_air_kg / AIR_KG_PER_M3);
    "missed_air_h" ["h"] "Hours that missed more than a gram of it." |o| Some(o.unit.counts.missed_h);
    "no_recovery_heating_kwh" ["kWh"] "Energy metered for heating, without recovery at the same outdoor air." |o| kwh(o.no_recovery.heating_site_wh);
    "no_recovery_cooling_kwh" ["kWh"] "Energy metered for cooling, without recovery." |o| kwh(o.no_recovery.cooling_site_wh);
    "no_recovery_rh_mean_pct" ["%"] "Mean relative humidity of the rooms, without recovery." |o| rh_mean(o, &o.no_recovery);
    "no_recovery_rh_winter_mean_pct" ["%"] "Mean relative humidity in winter, without recovery." |o| rh_season(o, &o.no_recovery, Season::Winter);
    "no_recovery_rh_summer_mean_pct" ["%"] "Mean relative humidity in summer, without recovery." |o| rh_season(o, &o.no_recovery, Season::Summer);
    "no_recovery_rh_below_30_h" ["h"] "Hours with relative humidity below 30 %, without recovery." |o| Some(o.no_recovery.counts.rh_below_30_h);
    "no_recovery_rh_above_60_h" ["h"] "Hours with relative humidity above 60 %, without recovery." |o| Some(o.no_recovery.counts.rh_above_60_h);
    "no_recovery_window_wet_h" ["h"] "Time with water or ice on the centre of some window, without recovery." |o| Some(o.no_recovery.window_wet_h);
    "no_recovery_window_edge_wet_h" ["h"] "Time with water or ice at the edge of the glass, without recovery." |o| Some(o.no_recovery.window_edge_wet_h);
    "running_money" ["money"] "Energy, connections and upkeep of a year at equal air; money is empty with prices by the hour or bills." |o| Some(o.money?.running);
    "saving_money" ["money"] "Running money of the reference less this; the reference is the cheapest house without recovery of the run." |o| Some(o.money?.saving);
    "life_cycle_money" ["money"] "Price, replacements, upkeep and energy over the horizon, less what is left; empty for a unit without a price." |o| Some(o.money?.worth?.life_cycle);
    "net_present_value_money" ["money"] "Life-cycle money of the reference less this." |o| Some(o.money?.worth?.net_present_value);
    "simple_payback_years" ["years"] "Price over saving a year; empty where it never comes back." |o| o.money?.worth?.simple_payback_years;
    "discounted_payback_years" ["years"] "With discount and escalation; empty where it is not within the life of the unit." |o| o.money?.worth?.discounted_payback_years;
}

#[allow(clippy::unnecessary_wraps, reason = "what a column holds")]
fn kwh(wh: f64) -> Option<f64> {
    Some(wh / WH_PER_KWH)
}

fn load_wh(totals: &Totals<f64>) -> f64 {
    totals.heating_load_wh + totals.cooling_sensible_wh + totals.cooling_latent_wh
}

#[allow(clippy::unnecessary_wraps, reason = "what a column holds")]
fn rh_mean(outcome: &Outcome, totals: &Totals<f64>) -> Option<f64> {
    Some(totals.relative_humidity_h / outcome.hours as f64 * PERCENT)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Season {
    Winter,
    Summer,
}

fn rh_season(outcome: &Outcome, totals: &Totals<f64>, season: Season) -> Option<f64> {
    /// December to February, June to August.
    const MONTHS: [[usize; 3]; 2] = [[11, 0, 1], [5, 6, 7]];
    let is_june = outcome.is_south == (season == Season::Winter);
    let mean = totals.counts.rh_mean_of(MONTHS[usize::from(is_june)])?;
    Some(mean * PERCENT)
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

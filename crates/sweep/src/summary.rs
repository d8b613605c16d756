//! What all parts say together: the spread of each figure, and what the plan tells of each input.
//!
//! Parts are read a column at a time, so that memory holds one figure of every run. Not here: the statistics (`sampling`).

use std::fs::File;

use arrow_array::cast::AsArray;
use arrow_array::types::Float64Type;
use parquet::arrow::ProjectionMask;
use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;
use sampling::morris::Effect;
use sampling::sobol_indices::{Estimate, REPETITIONS};
use sampling::spread::{Spread, Tornado};

use crate::columns::COLUMNS;
use crate::folder::Folder;
use crate::sweep::{Design, Sweep};

/// Why parts could not be summed up.
#[derive(Debug, thiserror::Error)]
#[error("part {part} cannot be read back: {why}")]
pub struct SummaryError {
    /// Which part, counted from 0.
    pub part: u64,
    /// Why.
    pub why: String,
}

/// A figure of a unit over all runs.
#[derive(Debug, Clone, PartialEq)]
pub struct OfUnit {
    /// The unit.
    pub unit: String,
    /// The column.
    pub column: &'static str,
    /// Its spread over the runs that have the figure.
    pub spread: Spread,
}

/// What the plan tells of an input's part in a figure of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct OfInput {
    /// The unit.
    pub unit: String,
    /// The column.
    pub column: &'static str,
    /// Which input, counted from 0 in the order of the file.
    pub input: usize,
    /// What was told.
    pub told: Told,
}

/// What a plan tells of an input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Told {
    /// Shares of the variance, with their intervals.
    Shares {
        /// Alone.
        first: Estimate,
        /// Alone and with others.
        total: Estimate,
    },
    /// Elementary effects.
    Effects(Effect),
    /// Figures with the input low, with all in the middle, with the input high.
    Swing {
        /// Low.
        at_low: f64,
        /// All in the middle.
        in_the_middle: f64,
        /// High.
        at_high: f64,
    },
}

impl Told {
    /// Columns of its file, with what they hold.
    pub const fn columns(&self) -> &'static [(&'static str, &'static str)] {
        match self {
            Self::Shares { .. } => SHARES,
            Self::Effects(_) => EFFECTS,
            Self::Swing { .. } => SWINGS,
        }
    }

    fn numbers(&self) -> Vec<f64> {
        match self {
            Self::Shares { first: s, total: t } => vec![s.value, s.low, s.high, t.value, t.low, t.high],
            Self::Effects(effect) => vec![effect.mean_size, effect.mean, effect.deviation],
            Self::Swing { at_low, in_the_middle, at_high } => vec![*at_low, *in_the_middle, *at_high],
        }
    }
}

/// Columns of `indices.csv` after the keys.
pub const SHARES: &[(&str, &str)] = &[
    ("first", "First Sobol index: share of the figure's variance that this input brings alone."),
    ("first_low", "Lower end of its 95 % interval, by bootstrap over base rows."),
    ("first_high", "Upper end."),
    ("total", "Total Sobol index: the share that this input brings alone and together with others."),
    ("total_low", "Lower end of its 95 % interval."),
    ("total_high", "Upper end."),
];

/// Columns of `screening.csv` after the keys.
pub const EFFECTS: &[(&str, &str)] = &[
    (
        "mean_size",
        "Mean size of the elementary effects over the input's span (its shares 0.025 to 0.975), in the figure's unit.",
    ),
    ("mean", "Their mean with sign."),
    ("deviation", "Their standard deviation: large where the effect is curved or depends on other inputs."),
];

/// Columns of `one-at-a-time.csv` after the keys.
pub const SWINGS: &[(&str, &str)] = &[
    ("at_low", "The figure with this input at its tenth percentile and the others in the middle."),
    ("in_the_middle", "The figure with every input in the middle."),
    ("at_high", "The figure with this input at its ninetieth percentile and the others in the middle."),
];

/// Columns of `spread.csv`.
pub const SPREAD: &[(&str, &str)] = &[
    ("unit", "Name of the unit."),
    ("column", "Which column of the parts."),
    ("count", "Runs that have the figure."),
    ("lowest", "Its lowest value."),
    ("p10", "A tenth of the runs lies below."),
    ("p50", "Half of the runs lies below: the median."),
    ("p90", "Nine tenths of the runs lie below."),
    ("highest", "Its highest value."),
    ("mean", "Arithmetic mean."),
    ("standard_deviation", "Of the sample."),
];

/// Keys of the files that tell of inputs.
pub const OF_INPUT_KEYS: &[(&str, &str)] = &[
    ("unit", "Name of the unit."),
    ("column", "Which column of the parts."),
    ("input", "The input, with its unit in brackets."),
];

/// Everything together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Summary {
    /// By column and unit; figures that fewer than two runs have are left out.
    pub spreads: Vec<OfUnit>,
    /// By column and unit, what the plan tells of each input; empty where it tells nothing.
    pub inputs: Vec<OfInput>,
    /// Figures for which that could not be told, and why.
    pub untold: Vec<String>,
}

impl Summary {
    /// `spread.csv`.
    pub fn spread_csv(&self) -> String {
        let mut lines = vec![header(SPREAD)];
        for OfUnit { unit, column, spread: s } in &self.spreads {
            let unit = quoted(unit);
            lines.push(format!(
                "{unit},{column},{},{},{},{},{},{},{},{}",
                s.count, s.lowest, s.p10, s.p50, s.p90, s.highest, s.mean, s.standard_deviation
            ));
        }
        lines.join("\n") + "\n"
    }

    /// The file that the plan gives beside the spread; `None` where it gives none.
    pub fn inputs_csv(&self, sweep: &Sweep) -> Option<String> {
        let names = sweep.input_names();
        let columns = self.inputs.first()?.told.columns();
        let mut lines = vec![format!("{},{}", header(OF_INPUT_KEYS), header(columns))];
        for of in &self.inputs {
            let name = names.get(of.input).map_or("", String::as_str);
            let numbers: Vec<String> = of.told.numbers().iter().map(f64::to_string).collect();
            lines.push(format!("{},{},{},{}", quoted(&of.unit), of.column, quoted(name), numbers.join(",")));
        }
        Some(lines.join("\n") + "\n")
    }
}

fn header(columns: &[(&str, &str)]) -> String {
    columns.iter().map(|(name, _)| *name).collect::<Vec<_>>().join(",")
}

impl Sweep {
    /// Name of the file that its plan gives beside `spread.csv`.
    pub fn inputs_file(&self) -> Option<&'static str> {
        match self.file.plan {
            crate::PlanKind::Indices { .. } => Some("indices.csv"),
            crate::PlanKind::Screening { .. } => Some("screening.csv"),
            crate::PlanKind::OneAtATime => Some("one-at-a-time.csv"),
            _ => None,
        }
    }
}

/// Sums up the parts of a folder, all of which must be there.
///
/// # Errors
/// [`SummaryError`]: a part that is missing or does not read.
pub fn summarise(sweep: &Sweep, folder: &Folder) -> Result<Summary, SummaryError> {
    let mut summary = Summary::default();
    let units: Vec<String> = sweep.base.units.iter().map(|unit| unit.name.clone()).collect();
    for column in COLUMNS {
        let figures = read_column(sweep, folder, column.name)?;
        if figures.len() as u64 != sweep.runs() * units.len() as u64 {
            summary.untold.push("the number of units is not the same in all runs".to_owned());
            break;
        }
        for (place, unit) in units.iter().enumerate() {
            // A row for each unit of each run, in the study's order.
            let of_unit: Vec<Option<f64>> =
                figures.iter().skip(place).step_by(units.len()).copied().collect();
            let known: Vec<f64> = of_unit.iter().copied().flatten().collect();
            let Ok(spread) = Spread::of(&known) else { continue };
            if known.len() == of_unit.len() {
                tell_inputs(sweep, (unit, column.name), &known, &mut summary);
            } else if sweep.inputs_file().is_some() {
                let lacking = of_unit.len() - known.len();
                summary.untold.push(format!("{unit}, {}: {lacking} runs have no figure", column.name));
            }
            summary.spreads.push(OfUnit { unit: unit.clone(), column: column.name, spread });
        }
    }
    Ok(summary)
}

/// A column of results from all parts, by run and then by unit.
///
/// # Errors
/// [`SummaryError`]: a part that is missing or does not read.
pub fn read_column(sweep: &Sweep, folder: &Folder, column: &str) -> Result<Vec<Option<f64>>, SummaryError> {
    let mut figures = Vec::new();
    for part in 0..sweep.parts() {
        let failed = |why: &dyn std::fmt::Display| SummaryError { part, why: why.to_string() };
        let file = File::open(folder.part_path(part)).map_err(|cause| failed(&cause))?;
        let builder = ParquetRecordBatchReaderBuilder::try_new(file).map_err(|cause| failed(&cause))?;
        let mask = ProjectionMask::columns(builder.parquet_schema(), [column]);
        let reader = builder.with_projection(mask).build().map_err(|cause| failed(&cause))?;
        for batch in reader {
            let batch = batch.map_err(|cause| failed(&cause))?;
            let array = batch.column_by_name(column).ok_or_else(|| failed(&"a column is missing"))?;
            let numbers = array.as_primitive_opt::<Float64Type>();
            figures.extend(numbers.ok_or_else(|| failed(&"a column holds no numbers"))?.iter());
        }
    }
    Ok(figures)
}

fn tell_inputs(sweep: &Sweep, (unit, column): (&str, &'static str), results: &[f64], summary: &mut Summary) {
    let told = match &sweep.design {
        Design::Indices(design) => {
            let found = design.indices(results, REPETITIONS).map_err(|cause| cause.to_string());
            let shares =
                |of: &sampling::sobol_indices::OfInput| Told::Shares { first: of.first, total: of.total };
            found.map(|found| found.inputs.iter().map(shares).enumerate().collect::<Vec<_>>())
        }
        Design::Screening(design) => {
            let found = design.effects(results).map_err(|cause| cause.to_string());
            found.map(|effects| effects.into_iter().map(Told::Effects).enumerate().collect())
        }
        Design::Plan(_) if sweep.inputs_file().is_some() => {
            let swing = |middle: f64, bar: &sampling::spread::Bar| {
                let told = Told::Swing { at_low: bar.at_low, in_the_middle: middle, at_high: bar.at_high };
                (bar.input, told)
            };
            let found = Tornado::of(results).map_err(|cause| cause.to_string());
            found.map(|tornado| tornado.bars.iter().map(|bar| swing(tornado.middle, bar)).collect())
        }
        Design::Plan(_) | Design::List(_) => return,
    };
    match told {
        Ok(told) => summary.inputs.extend(told.into_iter().map(|(input, told)| OfInput {
            unit: unit.to_owned(),
            column,
            input,
            told,
        })),
        Err(why) => summary.untold.push(format!("{unit}, {column}: {why}")),
    }
}

/// A field of a CSV line.
fn quoted(text: &str) -> String {
    if text.contains([',', '"', '\n']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

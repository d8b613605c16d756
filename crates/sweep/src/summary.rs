//! What all parts say together: the spread of each figure, and what the plan tells of each input.
//!
//! Parts are read a column at a time, so that memory holds one figure of every run. Not here: the statistics (`sampling`).

use std::fs::File;

use arrow_array::cast::AsArray;
use arrow_array::types::Float64Type;
use parquet::arrow::ProjectionMask;
use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;
use sampling::sobol_indices::REPETITIONS;
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

/// Everything together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Summary {
    /// By column and unit; figures that fewer than two runs have are left out.
    pub spreads: Vec<OfUnit>,
    /// Lines of the file that the plan gives beside the spread, its header first; empty where it gives none.
    pub inputs: Vec<String>,
    /// Figures for which that could not be told, and why.
    pub untold: Vec<String>,
}

impl Summary {
    /// `spread.csv`.
    pub fn spread_csv(&self) -> String {
        let mut lines =
            vec!["unit,column,count,lowest,p10,p50,p90,highest,mean,standard_deviation".to_owned()];
        for OfUnit { unit, column, spread: s } in &self.spreads {
            let unit = quoted(unit);
            lines.push(format!(
                "{unit},{column},{},{},{},{},{},{},{},{}",
                s.count, s.lowest, s.p10, s.p50, s.p90, s.highest, s.mean, s.standard_deviation
            ));
        }
        lines.join("\n") + "\n"
    }
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

fn read_column(sweep: &Sweep, folder: &Folder, column: &str) -> Result<Vec<Option<f64>>, SummaryError> {
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

fn tell_inputs(sweep: &Sweep, (unit, column): (&str, &str), results: &[f64], summary: &mut Summary) {
    let names = sweep.input_names();
    let (header, lines) = match &sweep.design {
        Design::Indices(design) => {
            const HEADER: &str = "first,first_low,first_high,total,total_low,total_high";
            let lines = design.indices(results, REPETITIONS).map(|found| {
                let of = |input: &sampling::sobol_indices::OfInput| {
                    let (s, t) = (input.first, input.total);
                    format!("{},{},{},{},{},{}", s.value, s.low, s.high, t.value, t.low, t.high)
                };
                found.inputs.iter().map(of).enumerate().collect::<Vec<_>>()
            });
            (HEADER, lines.map_err(|cause| cause.to_string()))
        }
        Design::Screening(design) => {
            let lines = design.effects(results).map(|effects| {
                let of = |e: &sampling::morris::Effect| format!("{},{},{}", e.mean_size, e.mean, e.deviation);
                effects.iter().map(of).enumerate().collect::<Vec<_>>()
            });
            ("mean_size,mean,deviation", lines.map_err(|cause| cause.to_string()))
        }
        Design::Plan(_) if sweep.inputs_file().is_some() => {
            let lines = Tornado::of(results).map(|tornado| {
                let of = |bar: &sampling::spread::Bar| {
                    (bar.input, format!("{},{},{}", bar.at_low, tornado.middle, bar.at_high))
                };
                tornado.bars.iter().map(of).collect::<Vec<_>>()
            });
            ("at_low,in_the_middle,at_high", lines.map_err(|cause| cause.to_string()))
        }
        Design::Plan(_) | Design::List(_) => return,
    };
    if summary.inputs.is_empty() {
        summary.inputs.push(format!("unit,column,input,{header}"));
    }
    match lines {
        Ok(lines) => summary.inputs.extend(lines.into_iter().map(|(input, line)| {
            let name = names.get(input).map_or("", String::as_str);
            format!("{},{column},{},{line}", quoted(unit), quoted(name))
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

//! A sweep that has run to its end, as its folder tells: what it was of, and how figures spread.
//!
//! Not here: making one (`runner`, `folder`), summing it up (`summary`).

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::folder::{MANIFEST, Manifest, part_name};

/// The spread that a finished sweep holds.
pub const SPREAD_FILE: &str = "spread.csv";

/// A sweep that has run to its end.
#[derive(Debug, Clone, PartialEq)]
pub struct Finished {
    /// Version of the program that ran it.
    pub engine_version: String,
    /// Its plan, as the sweep file names it.
    pub plan: String,
    /// Name of its study, as the sweep file has it.
    pub study: String,
    /// SHA-256 of the study's file.
    pub study_sha256: String,
    /// How many runs.
    pub runs: u64,
    /// The spread of every figure.
    pub spreads: Vec<SpreadLine>,
    /// The bytes that the spread was read from.
    pub bytes: Vec<u8>,
}

/// The spread of a figure of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct SpreadLine {
    /// The unit.
    pub unit: String,
    /// The column.
    pub column: String,
    /// Tenth, fiftieth and ninetieth percentile.
    pub percentiles: [f64; 3],
}

/// Why a folder holds no finished sweep.
#[derive(Debug, thiserror::Error)]
pub enum FinishedError {
    /// No sweep at all.
    #[error("{}: holds no sweep: there is no {MANIFEST} that can be read", .0.display())]
    NoSweep(PathBuf),
    /// Parts are missing.
    #[error("{}: the sweep is not finished: {missing} of its {parts} parts are missing", path.display())]
    Unfinished {
        /// Which folder.
        path: PathBuf,
        /// How many are missing.
        missing: u64,
        /// Of how many.
        parts: u64,
    },
    /// A spread that is not there or does not read.
    #[error("{}: {why}", path.display())]
    Spread {
        /// Which file.
        path: PathBuf,
        /// What is wrong.
        why: String,
    },
    /// The disk does not do what is needed.
    #[error("{}: cannot be read", path.display())]
    Disk {
        /// Where.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
}

impl Finished {
    /// Reads what a folder tells.
    ///
    /// # Errors
    /// [`FinishedError`]: no sweep, one that is not finished, a spread that does not read.
    pub fn read(folder: &Path) -> Result<Self, FinishedError> {
        let no_sweep = || FinishedError::NoSweep(folder.to_owned());
        let text = fs::read_to_string(folder.join(MANIFEST)).map_err(|_| no_sweep())?;
        let manifest: Manifest = serde_json::from_str(&text).map_err(|_| no_sweep())?;
        let parts = manifest.parts;
        let missing = (0..parts).filter(|part| !folder.join(part_name(*part)).exists()).count() as u64;
        if missing > 0 {
            return Err(FinishedError::Unfinished { path: folder.to_owned(), missing, parts });
        }
        let study = manifest.inputs.into_iter().find(|input| input.role == "study").ok_or_else(no_sweep)?;
        let path = folder.join(SPREAD_FILE);
        let bytes = fs::read(&path).map_err(|source| FinishedError::Disk { path: path.clone(), source })?;
        let spreads = lines(&bytes).map_err(|why| FinishedError::Spread { path, why })?;
        Ok(Self {
            engine_version: manifest.engine_version,
            plan: manifest.plan,
            study: study.name,
            study_sha256: study.sha256,
            runs: manifest.runs,
            spreads,
            bytes,
        })
    }

    /// The percentiles of a figure of a unit.
    pub fn of(&self, unit: &str, column: &str) -> Option<[f64; 3]> {
        let line = self.spreads.iter().find(|line| line.unit == unit && line.column == column);
        line.map(|line| line.percentiles)
    }
}

fn lines(bytes: &[u8]) -> Result<Vec<SpreadLine>, String> {
    let mut reader = csv::Reader::from_reader(bytes);
    let header = reader.headers().map_err(|cause| cause.to_string())?.clone();
    let place = |name: &str| {
        let place = header.iter().position(|known| known == name);
        place.ok_or_else(|| format!("has no column `{name}`"))
    };
    let (unit, column) = (place("unit")?, place("column")?);
    let percentiles = [place("p10")?, place("p50")?, place("p90")?];
    let mut lines = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|cause| cause.to_string())?;
        let field = |place: usize| record.get(place).unwrap_or_default();
        let number = |place: usize| {
            let number = field(place).parse::<f64>().ok().filter(|number| number.is_finite());
            number.ok_or_else(|| format!("line {}: `{}` is no number", lines.len() + 2, field(place)))
        };
        let [low, middle, high] = percentiles;
        let percentiles = [number(low)?, number(middle)?, number(high)?];
        lines.push(SpreadLine {
            unit: field(unit).to_owned(),
            column: field(column).to_owned(),
            percentiles,
        });
    }
    Ok(lines)
}

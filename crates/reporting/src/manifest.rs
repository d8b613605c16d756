//! What a run was made from, so that it can be made again: inputs, defaults, findings, residuals.
//!
//! The types here are the file's own, apart from the engine's, so that a rename inside does not change users'
//! files. Not here: hashing, the clock, paths (crate `cli`).

use serde::Serialize;

use crate::{Cell, Figure, ReportError, RunSummary, case_key};

/// `manifest.json`.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Manifest {
    /// Title of the study.
    pub title: String,
    /// Version of the program.
    pub engine_version: String,
    /// When the run was made, RFC 3339.
    pub created: String,
    /// Length of the moisture step \[s\]; left out where no year was run.
    #[serde(skip_serializing_if = "is_nothing")]
    pub time_step_s: u32,
    /// Hours that were run before hour 0.
    pub lead_in_h: u32,
    /// Files that were read.
    pub inputs: Vec<InputFile>,
    /// Values that the study left to a default.
    pub defaults_used: Vec<DefaultUsed>,
    /// What was noticed in the weather and in the study.
    pub findings: Vec<Finding>,
    /// House, climate, airflow and units as they were understood, in SI; left out where no year was run.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub understood: Vec<Fact>,
    /// How well the books close, a line for each house-year.
    pub residuals: Vec<BookResiduals>,
    /// Files that were written, relative to the manifest.
    pub files: Vec<String>,
}

/// A file that was read.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct InputFile {
    /// Its role, such as `study` or `weather`.
    pub role: String,
    /// Its name as the study gives it.
    pub name: String,
    /// SHA-256 of its bytes, 64 hexadecimal digits.
    pub sha256: String,
}

/// A default that was used.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct DefaultUsed {
    /// Key in the study, such as `site.wind_height`.
    pub path: String,
    /// The value with its unit.
    pub value: String,
    /// Where it comes from.
    pub why: String,
}

/// Something that was understood of the study and its weather.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Fact {
    /// Key, where there is one that of the study, such as `house.floor_area` or `unit.Plate A.balance`.
    pub key: String,
    /// What it is.
    pub value: Told,
    /// Unit; empty for words and plain numbers, `share` for a share of 1.
    pub unit: &'static str,
}

/// A value of a [`Fact`].
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Told {
    /// A number.
    Number(f64),
    /// Words.
    Words(String),
}

/// Something that was noticed.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct Finding {
    /// Where: a line of a file, an hour, a key.
    pub place: String,
    /// What.
    pub text: String,
}

/// Relative residuals of the books of one house-year; `null` where there is no such book.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct BookResiduals {
    /// The unit's name.
    pub unit: String,
    /// `unit`, `no-recovery` or `no-ventilation`.
    pub case: String,
    /// Water of the house.
    pub water: Option<f64>,
    /// Heat of the house.
    pub energy: Option<f64>,
    /// The core, the greater of heat and water.
    pub core: Option<f64>,
}

impl BookResiduals {
    /// The residuals of every house-year of a run.
    pub fn of(summary: &RunSummary) -> Vec<Self> {
        let figures = |row: &crate::Row| BookResiduals {
            unit: row.unit.clone(),
            case: case_key(row.case).to_owned(),
            water: Cell::value(row.year(Figure::WaterResidual)),
            energy: Cell::value(row.year(Figure::EnergyResidual)),
            core: Cell::value(row.year(Figure::CoreResidual)),
        };
        summary.rows.iter().map(figures).collect()
    }
}

/// `manifest.json` as text.
///
/// # Errors
/// [`ReportError::Writing`] when an input's hash is not 64 hexadecimal digits, a residual is not finite, or the
/// text fails.
pub fn manifest_json(manifest: &Manifest) -> Result<String, ReportError> {
    for input in &manifest.inputs {
        if input.sha256.len() != 64 || !input.sha256.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            let reason =
                format!("{}: \"{}\" is not a SHA-256 in 64 hexadecimal digits", input.name, input.sha256);
            return Err(ReportError::Writing { reason });
        }
    }
    for line in &manifest.residuals {
        if [line.water, line.energy, line.core].into_iter().flatten().any(|value| !value.is_finite()) {
            let reason = format!("{}, {}: a residual is not a finite number", line.unit, line.case);
            return Err(ReportError::Writing { reason });
        }
    }
    for fact in &manifest.understood {
        if matches!(fact.value, Told::Number(value) if !value.is_finite()) {
            return Err(ReportError::Writing { reason: format!("{} is not a finite number", fact.key) });
        }
    }
    let mut text = serde_json::to_string_pretty(manifest).map_err(ReportError::writing)?;
    text.push('\n');
    Ok(text)
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "the signature that serde calls")]
fn is_nothing(seconds: &u32) -> bool {
    *seconds == 0
}

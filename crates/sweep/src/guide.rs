//! What every file and column of a sweep's folder holds, from the lists that the writers use.

use crate::columns::{COLUMNS, FAILED, RUN, UNIT};
use crate::finished::SPREAD_FILE;
use crate::summary::{EFFECTS, OF_INPUT_KEYS, SHARES, SPREAD, SWINGS};

/// A column of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Doc {
    /// File or pattern of file names.
    pub file: &'static str,
    /// Header.
    pub name: &'static str,
    /// Unit; empty for words, `1` for a plain ratio or count.
    pub unit: &'static str,
    /// What it holds.
    pub meaning: &'static str,
}

/// The parts' name in the guide.
const PARTS: &str = "part-*.parquet";

/// Every column, file by file.
pub fn guide() -> Vec<Doc> {
    let keys = [
        (RUN, "The run, counted from 0."),
        (UNIT, "Name of the unit."),
        (
            "<path> [<unit>]",
            "What was varied, by its path in the study, in the unit in brackets; without one, words.",
        ),
    ];
    let mut docs = words(PARTS, &keys);
    docs.extend(COLUMNS.iter().map(|column| Doc {
        file: PARTS,
        name: column.name,
        unit: column.unit,
        meaning: column.meaning,
    }));
    docs.extend(words(PARTS, &[(FAILED, "Why the run has no figures; empty where it has.")]));
    docs.extend(words(SPREAD_FILE, SPREAD));
    for (file, columns) in
        [("indices.csv", SHARES), ("screening.csv", EFFECTS), ("one-at-a-time.csv", SWINGS)]
    {
        docs.extend(words(file, OF_INPUT_KEYS));
        docs.extend(words(file, columns));
    }
    docs
}

/// Columns whose unit is that of the figure that they are of, or that have none.
fn words(file: &'static str, columns: &[(&'static str, &'static str)]) -> Vec<Doc> {
    columns.iter().map(|&(name, meaning)| Doc { file, name, unit: "", meaning }).collect()
}

//! Sentences about wet windows, the cold corner and the closed bedroom.
//!
//! Not here: the table they stand below (`terminal`).

use simulation::results::Case;

use crate::{Figure, Row, RunSummary};

/// A mould index from which growth shows under the microscope.
const FIRST_GROWTH: f64 = 1.0;
/// An index below which nothing is worth a word.
const NO_GROWTH: f64 = 0.1;

/// What there is to say of damp and stale air, each in one sentence.
pub(crate) fn damp_notes(summary: &RunSummary) -> Vec<String> {
    let mut notes = Vec::new();
    notes.extend(mould(summary));
    notes.extend(bedroom(summary));
    notes
}

fn shown(summary: &RunSummary) -> impl Iterator<Item = &Row> {
    summary.rows.iter().filter(|row| matches!(row.case, Case::Unit | Case::NoVentilation))
}

fn name(row: &Row) -> String {
    if row.case == Case::NoVentilation { "no ventilation".to_owned() } else { row.unit.clone() }
}

/// Houses whose corner is told of: what is run to be compared in tables alone is not.
fn corner_name(row: &Row) -> Option<String> {
    match row.case {
        Case::Unit | Case::NoVentilation => Some(name(row)),
        Case::NoRecovery => Some(format!("{} without its core", row.unit)),
        Case::ExtractOnly => Some(format!("extract only beside {}", row.unit)),
        Case::UnitHeld | Case::NoRecoveryHeld => None,
    }
}

fn mould(summary: &RunSummary) -> Option<String> {
    let indices: Vec<(String, f64)> = summary
        .rows
        .iter()
        .filter_map(|row| Some((corner_name(row)?, row.year(Figure::MouldIndexMax).value()?)))
        .collect();
    if indices.is_empty() {
        return None;
    }
    let grown: Vec<String> = indices
        .iter()
        .filter(|(_, index)| *index >= NO_GROWTH)
        .map(|(name, index)| format!("{name} {index:.1}"))
        .collect();
    if grown.is_empty() {
        return Some(format!("Cold corner: its mould index stays below {NO_GROWTH} in every house."));
    }
    let grows = indices.iter().any(|(_, index)| *index >= FIRST_GROWTH);
    let warning = if grows { "; warning: from 1 on mould grows, from 3 on it shows" } else { "" };
    let others = if grown.len() < indices.len() {
        format!(" (below {NO_GROWTH} in the others)")
    } else {
        String::new()
    };
    Some(format!("Cold corner: greatest mould index {}{others}{warning}.", grown.join(", ")))
}

fn bedroom(summary: &RunSummary) -> Option<String> {
    let stale: Vec<String> = shown(summary)
        .filter_map(|row| {
            let most = row.year(Figure::BedroomCo2MaxPpm).value().filter(|most| *most > 0.0)?;
            let hours = row.year(Figure::BedroomCo2Above1000H).value()?;
            Some(format!("{} {hours:.0} h, at most {most:.0} ppm", name(row)))
        })
        .collect();
    (!stale.is_empty())
        .then(|| format!("Closed bedroom, hours above 1000 ppm of carbon dioxide: {}.", stale.join("; ")))
}

//! How far a run's figures may spread, from a finished sweep of the same study.
//!
//! Not here: the sweep (crate `sweep`), where the report says it (crate `report`).

use std::path::Path;

use ::report::SpreadOf;
use reporting::Words;
use reporting::manifest::InputFile;
use sweep::{Finished, FinishedError, PlanKind, SPREAD_FILE};

use crate::failure::Failure;
use crate::report::language;
use crate::run::{Prepared, sha256};

/// What a sweep tells of a study's units.
pub(crate) struct Spread {
    pub(crate) of: Vec<SpreadOf>,
    /// The file that it was read from.
    pub(crate) source: InputFile,
}

/// Columns that are told, with their names in the table of words.
const TOLD: [(&str, &str); 2] =
    [("useful_saving_held_air_kwh", "year.spread_held"), ("net_present_value_money", "year.spread_worth")];
/// Told where the first of them is lacking.
const AS_RUN: (&str, &str) = ("useful_saving_kwh", "year.spread_as_run");

/// Reads the spread of this very study from a folder of `dewledger sweep`.
pub(crate) fn read(folder: &Path, prepared: &Prepared) -> Result<Spread, Failure> {
    let finished = Finished::read(folder).map_err(unusable)?;
    let shown = folder.display();
    let study = prepared.sources.first();
    if study.is_none_or(|study| sha256(&study.bytes) != finished.study_sha256) {
        let name = study.map_or("", |study| study.name.as_str());
        let message =
            format!("{shown}: is a sweep of another study, {}, than {name} as it stands now", finished.study);
        let hint = "a spread is of the study as it was swept: run the sweep again for the changed study";
        return Err(Failure::input(message).hint(hint));
    }
    let version = env!("CARGO_PKG_VERSION");
    if finished.engine_version != version {
        let message =
            format!("{shown}: was run with version {}, this is version {version}", finished.engine_version);
        return Err(Failure::input(message).hint("run the sweep again with this version"));
    }
    if !PlanKind::spreads_by_name(&finished.plan) {
        let message = format!("{shown}: the runs of the plan \"{}\" tell no spread", finished.plan);
        let hint = "percentiles need a plan whose runs stand for the cases: sobol, latin-hypercube, indices, grid or list";
        return Err(Failure::input(message).hint(hint));
    }
    let words = Words::of(language(prepared)).map_err(Failure::work)?;
    Ok(Spread { of: told(&finished, prepared, words), source: source(&finished, folder) })
}

fn source(finished: &Finished, folder: &Path) -> InputFile {
    let name = folder.join(SPREAD_FILE).display().to_string();
    InputFile { role: "spread".to_owned(), name, sha256: sha256(&finished.bytes) }
}

fn told(finished: &Finished, prepared: &Prepared, words: &Words) -> Vec<SpreadOf> {
    let currency = prepared.study.money.as_ref().map_or("", |money| money.currency.as_str());
    let mut of = Vec::new();
    for unit in &prepared.study.units {
        for told in TOLD {
            let lacks = told.0 == TOLD[0].0 && finished.of(&unit.name, told.0).is_none();
            let (column, key) = if lacks { AS_RUN } else { told };
            let Some(percentiles) = finished.of(&unit.name, column) else { continue };
            let measure =
                sweep::COLUMNS.iter().find(|known| known.name == column).map_or("", |known| known.unit);
            of.push(SpreadOf {
                name: format!("{}, {}", unit.name, words.text(key)),
                unit: if measure == "money" { currency } else { measure }.to_owned(),
                percentiles,
            });
        }
    }
    of
}

fn unusable(cause: FinishedError) -> Failure {
    match cause {
        FinishedError::Disk { path, source } => Failure::unreadable(&path, &source),
        FinishedError::NoSweep(_) => Failure::input(cause)
            .hint("name the folder that `dewledger sweep` wrote, such as dewledger-out/sweep"),
        FinishedError::Unfinished { .. } => {
            Failure::input(cause).hint("the same `dewledger sweep` command goes on where it was")
        }
        FinishedError::Spread { .. } => {
            Failure::input(cause).hint("the same `dewledger sweep` command writes it again from the parts")
        }
    }
}

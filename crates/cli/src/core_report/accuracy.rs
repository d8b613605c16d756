//! How far the hourly solution of each kind of core lies from the cell solution: a table and a picture.
//!
//! Not here: the measuring (`exchanger::accuracy`).

use exchanger::accuracy::{Distance, SUBJECTS, States, Subject, distance};
use rayon::prelude::*;
use reporting::manifest::Manifest;
use reporting::{Accuracy, AccuracySet, Distances, Spread};

use crate::arguments::Core;
use crate::failure::Failure;
use crate::output::{Destination, MANIFEST};
use crate::show;

/// States of a kind of core. The reference of a wheel is a turn after turn, and slow.
const PLATE_STATES: usize = 400;
const WHEEL_STATES: usize = 40;

pub(super) fn report(options: &Core) -> Result<(), Failure> {
    let destination = Destination::choose(options.out.as_deref(), "core-accuracy", options.force)?;
    show::note("Solving some thousand states both ways; this takes half a minute or so.");
    let sets = SUBJECTS.par_iter().map(measured).collect::<Result<Vec<_>, _>>()?;
    let table = reporting::accuracy_table(&sets);
    let filling = destination.begin()?;
    filling.write("accuracy.svg", &reporting::accuracy_chart(&sets).map_err(Failure::work)?)?;
    filling.write("accuracy.txt", &table)?;
    let mut files = filling.files();
    files.push(MANIFEST.to_owned());
    let manifest = Manifest {
        title: "Distance of the hourly solution from the cell solution".to_owned(),
        engine_version: env!("CARGO_PKG_VERSION").to_owned(),
        created: chrono::Utc::now().to_rfc3339_opts(chrono::SecondsFormat::Secs, true),
        files,
        ..Manifest::default()
    };
    filling.write(MANIFEST, &reporting::manifest_json(&manifest).map_err(Failure::work)?)?;
    let folder = filling.finish()?;
    show::result(&format!("\n{table}\nResults: {}\n", folder.display()))
}

fn measured(&(name, subject): &(&str, Subject)) -> Result<AccuracySet, Failure> {
    let wheel = matches!(subject, Subject::SensibleWheel | Subject::EnthalpyWheel);
    let states = if wheel { WHEEL_STATES } else { PLATE_STATES };
    let of = |set| distance(subject, set, states).map_err(Failure::work).map(accuracy);
    Ok(AccuracySet {
        core: name.to_owned(),
        inside: of(States::Plausible)?,
        outside: Some(of(States::Beyond)?),
    })
}

fn accuracy(found: Distance) -> Accuracy {
    let spread = |s: exchanger::accuracy::Spread| Spread { largest: s.largest, rms: s.rms };
    Accuracy {
        states: found.states,
        of: Distances {
            supply_k: spread(found.supply_k),
            humidity_ratio: spread(found.humidity_ratio),
            water_share: spread(found.water_share),
        },
    }
}

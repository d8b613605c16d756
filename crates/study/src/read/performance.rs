//! Reads how well a core exchanges: conductances, effectivenesses, or the size of its plates.
//!
//! Here: the choice between the forms, and all of them but rating points (`read/rating.rs`). Not here: what follows
//! from them. Read next: `read/rating.rs`.

use super::{conflict, rating};
use crate::keys::{self, TableKeys};
use crate::kinds::{Count, Kind};
use crate::model::{CoreKind, EffectivenessPoint, Geometry, Performance};
use crate::problem::listed;
use crate::specs;
use crate::table::{Log, Table};

/// The ways to say how well a core exchanges, of which a unit takes one.
const FORMS: [(&str, &TableKeys); 4] = [
    ("conductance", &keys::CONDUCTANCE),
    ("effectiveness", &keys::EFFECTIVENESS),
    ("rating", &keys::RATING),
    ("geometry", &keys::GEOMETRY),
];

/// How their headers are written.
pub(super) fn headers() -> [&'static str; 4] {
    FORMS.map(|(_, keys)| keys.header)
}

/// Reads every form that is there, so that all problems are found, and takes the only one.
pub(super) fn read(log: &mut Log, unit: &Table<'_>, core: Option<CoreKind>) -> Option<Performance> {
    let given = FORMS.iter().map(|(key, _)| *key).filter(|key| unit.has(key));
    let mut given: Vec<&str> = given.collect();
    given.sort_by_key(|key| unit.span_of(key).start);
    check_choice(log, unit, &given);
    let mut read: Vec<Option<Performance>> =
        given.iter().map(|key| read_form(log, unit, (key, core))).collect();
    if read.len() == 1 { read.pop().flatten() } else { None }
}

fn check_choice(log: &mut Log, unit: &Table<'_>, given: &[&str]) {
    let (what, span, label) = match given {
        [_] => return,
        [] => ("needs one of", unit.span.clone(), "this unit"),
        [_, second, ..] => ("takes only one of", unit.span_of(second), "the second one"),
    };
    let message = format!("`{}` {what} {}", unit.path, listed(&headers(), "and"));
    let hint = "a rating is what a test sheet states, conductances hold at any temperature, effectivenesses are \
                simpler, and a geometry is the size of the plates";
    conflict(log, span, message, (label, hint.to_owned()));
}

fn read_form(log: &mut Log, unit: &Table<'_>, (key, core): (&str, Option<CoreKind>)) -> Option<Performance> {
    match key {
        "conductance" => unit.table(log, &keys::CONDUCTANCE).and_then(|t| read_conductance(log, t, core)),
        "rating" => Some(rating::read_all(log, unit, core)),
        "geometry" => read_geometry(log, unit, core),
        _ if unit.is_list("effectiveness") => read_effectiveness_table(log, unit, core),
        _ => {
            let table = unit.table(log, &keys::EFFECTIVENESS)?;
            let EffectivenessPoint { sensible, latent, at_m3_per_s } = read_effectiveness(log, table, core)?;
            Some(Performance::Effectiveness { sensible, latent, at_m3_per_s })
        }
    }
}

fn read_conductance(log: &mut Log, mut table: Table<'_>, core: Option<CoreKind>) -> Option<Performance> {
    let ua = table.required(log, &specs::UA);
    let vapour = for_membrane(log, &mut table, core, &specs::VAPOUR);
    let at = table.required(log, &specs::AT);
    table.finish(log);
    Some(Performance::Conductance { ua_w_per_k: ua?, vapour_kg_per_s: vapour?, at_m3_per_s: at? })
}

fn read_effectiveness(
    log: &mut Log,
    mut table: Table<'_>,
    core: Option<CoreKind>,
) -> Option<EffectivenessPoint> {
    let sensible = table.required(log, &specs::SENSIBLE);
    let latent = for_membrane(log, &mut table, core, &specs::LATENT);
    let at = table.required(log, &specs::AT);
    table.finish(log);
    Some(EffectivenessPoint { sensible: sensible?, latent: latent?, at_m3_per_s: at? })
}

fn read_effectiveness_table(log: &mut Log, unit: &Table<'_>, core: Option<CoreKind>) -> Option<Performance> {
    let before = log.problems.len();
    let mut points: Vec<EffectivenessPoint> = Vec::new();
    for table in unit.tables(log, &keys::EFFECTIVENESS_LIST) {
        let (span, path) = (table.span_of("at"), table.path_of("at"));
        let Some(point) = read_effectiveness(log, table, core) else { continue };
        if points.iter().any(|other| is_same_flow(other.at_m3_per_s, point.at_m3_per_s)) {
            let message = format!("`{path}`: this flow stands in the table already");
            let hint = "a table over airflow holds each flow once".to_owned();
            conflict(log, span, message, ("taken already", hint));
        }
        points.push(point);
    }
    if log.problems.len() > before {
        return None;
    }
    if points.len() < 2 {
        let count = if points.is_empty() { "none" } else { "one" };
        let path = unit.path_of("effectiveness");
        let message = format!("`{path}` is a table over airflow, which needs two flows or more, not {count}");
        let hint = "add another flow, or write the header of a single one as [unit.effectiveness]".to_owned();
        conflict(log, unit.span_of("effectiveness"), message, ("too few", hint));
    }
    points.sort_by(|a, b| a.at_m3_per_s.total_cmp(&b.at_m3_per_s));
    Some(Performance::EffectivenessTable(points))
}

/// Equal but for the rounding of another unit.
fn is_same_flow(a: f64, b: f64) -> bool {
    const ROUNDING: f64 = 1e-9;
    (a - b).abs() <= ROUNDING * a
}

fn read_geometry(log: &mut Log, unit: &Table<'_>, core: Option<CoreKind>) -> Option<Performance> {
    let mut table = unit.table(log, &keys::GEOMETRY)?;
    // A wheel's passages are none of these: say so once, and nothing of its membrane.
    let plates = core.filter(|core| !core.is_wheel());
    if core.is_some_and(CoreKind::is_wheel) {
        let message = format!("`{}`: a wheel has no plates to measure", table.path);
        let [conductance, effectiveness, rating, _] = headers();
        let others = listed(&[rating, conductance, effectiveness], "or");
        let hint = format!("write {others} for a wheel");
        conflict(log, unit.span_of("geometry"), message, ("not for a wheel", hint));
    }
    let gap = table.required(log, &specs::GAP);
    let length = table.required(log, &specs::LENGTH);
    let width = table.required(log, &specs::WIDTH);
    let channels = table.required::<Count>(log, &specs::CHANNELS);
    let resistance = for_membrane(log, &mut table, plates, &specs::MEMBRANE_RESISTANCE);
    table.finish(log);
    let membrane_resistance_s_per_m = if plates?.passes_vapour() { Some(resistance?) } else { None };
    Some(Performance::Geometry(Geometry {
        gap_m: gap?,
        length_m: length?,
        width_m: width?,
        channels: channels?,
        membrane_resistance_s_per_m,
    }))
}

/// A value that a core which passes vapour must have and another must not: 0 for the other.
fn for_membrane<K: Kind<Out = f64>>(
    log: &mut Log,
    table: &mut Table<'_>,
    core: Option<CoreKind>,
    kind: &K,
) -> Option<f64> {
    match core {
        Some(core) if core.passes_vapour() => table.required(log, kind),
        Some(core) if table.has(kind.key()) => {
            refuse_vapour(log, table, core, kind.key());
            None
        }
        Some(_) => Some(0.0),
        None => table.optional(log, kind),
    }
}

/// Says that a sensible core has nothing of the kind.
pub(super) fn refuse_vapour(log: &mut Log, table: &Table<'_>, core: CoreKind, key: &str) {
    let shape = if core.is_wheel() { "wheel" } else { "plate" };
    let message = format!("`{}`: a sensible {shape} passes no vapour", table.path_of(key));
    let hint = format!("leave `{key}` out, or write core = \"enthalpy-{shape}\"");
    conflict(log, table.span_of(key), message, ("not for this core", hint));
}

//! Reads the recovery units.
//!
//! Here: `[[unit]]` and its tables. Not here: what a unit does. Read next: `model.rs` for the result.

use super::conflict;
use crate::keys;
use crate::kinds::{Fault, brief};
use crate::model::{CoreKind, Fan, Performance, Unit};
use crate::problem::listed;
use crate::specs;
use crate::table::{Log, Table};

/// Fan power that is taken where none is given: both fans of a common residential unit [W per m³/s].
const FAN_W_PER_M3_PER_S: f64 = 1200.0;

pub(super) fn read_all(log: &mut Log, root: &Table<'_>, airflow_m3_per_s: Option<f64>) -> Vec<Unit> {
    let before = log.problems.len();
    let tables = root.tables(log, &keys::UNIT);
    if tables.is_empty() && log.problems.len() == before {
        let fault = Fault::new("a study needs a `[[unit]]`, one or more", "none here");
        let hint = format!(
            "each needs {}, and a `[unit.conductance]` or a `[unit.effectiveness]`",
            listed(keys::UNIT.required, "and")
        );
        log.problem(root.span_of("unit"), fault.hint(hint));
    }
    let mut taken: Vec<String> = Vec::new();
    let mut units = Vec::new();
    for table in tables {
        units.extend(read_one(log, table, airflow_m3_per_s, &mut taken));
    }
    units
}

fn read_one(
    log: &mut Log,
    mut table: Table<'_>,
    airflow_m3_per_s: Option<f64>,
    taken: &mut Vec<String>,
) -> Option<Unit> {
    let name = table.required(log, &specs::UNIT_NAME);
    if let Some(name) = &name {
        check_name(log, &table, name, taken);
        table.path = format!("unit.{name}");
    }
    let core = table.required(log, &specs::CORE);
    let performance = read_performance(log, &table, core);
    let fan = table.table(log, &keys::FAN).and_then(|table| read_fan(log, table, airflow_m3_per_s));
    table.finish(log);
    Some(Unit { name: name?, core: core?, performance: performance?, fan: fan? })
}

/// Names differ by more than capitals: results are filed under them.
fn check_name(log: &mut Log, table: &Table<'_>, name: &str, taken: &mut Vec<String>) {
    let plain = name.to_lowercase();
    if taken.contains(&plain) {
        let message = format!("two units are called `{name}`");
        let hint = "give each its own name; capitals make no difference".to_owned();
        conflict(log, table.span_of("name"), message, ("taken already", hint));
    }
    taken.push(plain);
}

fn read_performance(log: &mut Log, table: &Table<'_>, core: Option<CoreKind>) -> Option<Performance> {
    match (table.has("conductance"), table.has("effectiveness")) {
        (true, false) => {
            let inner = table.table(log, &keys::CONDUCTANCE)?;
            read_conductance(log, inner, core)
        }
        (false, true) => {
            let inner = table.table(log, &keys::EFFECTIVENESS)?;
            read_effectiveness(log, inner, core)
        }
        (both, _) => {
            let what = if both { "takes only one of" } else { "needs one of" };
            let message = format!("`{}` {what} `[unit.conductance]` and `[unit.effectiveness]`", table.path);
            let hint = "conductances hold at any temperature; the pair of effectivenesses is simpler";
            let (span, label) = if both {
                (table.span_of("effectiveness"), "the second one")
            } else {
                (table.span.clone(), "this unit")
            };
            conflict(log, span, message, (label, hint.to_owned()));
            None
        }
    }
}

fn read_conductance(log: &mut Log, mut table: Table<'_>, core: Option<CoreKind>) -> Option<Performance> {
    let ua = table.required(log, &specs::UA);
    let vapour = for_membrane(log, &mut table, core, (&specs::VAPOUR, "vapour"));
    let at = table.required(log, &specs::AT);
    let arrangement =
        table.or(log, &specs::ARRANGEMENT, ("counter", "common practice: plates of today are counterflow"));
    table.finish(log);
    Some(Performance::Conductance {
        ua_w_per_k: ua?,
        vapour_kg_per_s: vapour?,
        at_m3_per_s: at?,
        arrangement: arrangement?,
    })
}

fn read_effectiveness(log: &mut Log, mut table: Table<'_>, core: Option<CoreKind>) -> Option<Performance> {
    let sensible = table.required(log, &specs::SENSIBLE);
    let latent = for_membrane(log, &mut table, core, (&specs::LATENT, "latent"));
    let at = table.required(log, &specs::AT);
    table.finish(log);
    Some(Performance::Effectiveness { sensible: sensible?, latent: latent?, at_m3_per_s: at? })
}

/// A value that a membrane must have and a tight plate must not: 0 for the plate.
fn for_membrane<K: crate::kinds::Kind<Out = f64>>(
    log: &mut Log,
    table: &mut Table<'_>,
    core: Option<CoreKind>,
    (kind, key): (&K, &'static str),
) -> Option<f64> {
    match core {
        Some(CoreKind::EnthalpyPlate) => table.required(log, kind),
        Some(CoreKind::SensiblePlate) if table.has(key) => {
            let message = format!("`{}`: a sensible plate passes no vapour", table.path_of(key));
            let hint = format!("leave `{key}` out, or write core = \"enthalpy-plate\"");
            conflict(log, table.span_of(key), message, ("not for this core", hint));
            None
        }
        Some(CoreKind::SensiblePlate) => Some(0.0),
        None => table.optional(log, kind),
    }
}

fn read_fan(log: &mut Log, table: Table<'_>, airflow_m3_per_s: Option<f64>) -> Option<Fan> {
    let power = match airflow_m3_per_s {
        Some(airflow) if !table.has("power") => {
            let power = FAN_W_PER_M3_PER_S * airflow;
            let why = "assumed: 1.2 W per L/s of `ventilation.airflow`, both fans together";
            log.took(table.path_of("power"), format!("{} W", brief(power)), why);
            Some(power)
        }
        _ => table.optional(log, &specs::FAN_POWER),
    };
    let position =
        table.or(log, &specs::FAN_POSITION, ("after-core", "common practice: most cabinets are built so"));
    table.finish(log);
    Some(Fan { power_w: power?, position: position? })
}

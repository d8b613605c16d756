//! Reads the recovery units.
//!
//! Here: `[[unit]]`, its leaks and `[unit.wheel]`. Not here: how well a core exchanges (`read/performance.rs`), fans and
//! filters (`read/fan.rs`), frost (`read/frost.rs`), free cooling (`read/free_cooling.rs`), or what a unit does.
//! Read next: `read/performance.rs`.

use super::fan::{self, FanWanted};
use super::free_cooling::{self, SetPoints};
use super::frost::{self, FrostWanted};
use super::{conflict, indoors, money, performance};
use crate::keys;
use crate::kinds::{Fault, brief};
use crate::model::{Arrangement, CoreKind, Unit};
use crate::problem::listed;
use crate::specs::{self, Passing};
use crate::table::{Log, Table};

/// What the rest of the study says that bears on a unit, as far as it could be read.
#[derive(Clone, Copy)]
pub(super) struct Around {
    /// `ventilation.airflow` [m³/s].
    pub airflow_m3_per_s: Option<f64>,
    pub set_points: Option<SetPoints>,
    /// Whether the study says what energy costs.
    pub has_tariff: bool,
}

pub(super) fn read_all(log: &mut Log, root: &Table<'_>, around: Around) -> Vec<Unit> {
    let before = log.problems.len();
    let tables = root.tables(log, &keys::UNIT);
    if tables.is_empty() && log.problems.len() == before {
        let fault = Fault::new("a study needs a `[[unit]]`, one or more", "none here");
        let hint = format!(
            "each needs {}, and one of {}",
            listed(keys::UNIT.required, "and"),
            listed(&performance::headers(), "or")
        );
        log.problem(root.span_of("unit"), fault.hint(hint));
    }
    let mut taken: Vec<String> = Vec::new();
    let mut units = Vec::new();
    for table in tables {
        units.extend(read_one(log, table, around, &mut taken));
    }
    units
}

fn read_one(log: &mut Log, mut table: Table<'_>, around: Around, taken: &mut Vec<String>) -> Option<Unit> {
    let name = table.required(log, &specs::UNIT_NAME);
    if let Some(name) = &name {
        check_name(log, &table, name, taken);
        table.path = format!("unit.{name}");
    }
    let core = table.required(log, &specs::CORE);
    let why = "assumed: inside the heated house";
    let location = table.or(log, &specs::LOCATION, ("heated-room", why));
    let arrangement = read_arrangement(log, &table, core);
    let performance = performance::read(log, &table, core);
    let leaks = read_leaks(log, &table);
    let wheel_capacity_ratio = read_capacity_ratio(log, &table, core);
    let airflow_m3_per_s = around.airflow_m3_per_s;
    let wanted = FanWanted { airflow_m3_per_s, performance: performance.as_ref() };
    let fan = table.table(log, &keys::FAN).and_then(|table| fan::read(log, table, wanted));
    let core_heat_capacity_j_per_k = table.optional(log, &specs::CORE_HEAT_CAPACITY);
    let wanted = FrostWanted { core, airflow_m3_per_s };
    let frost = table.table(log, &keys::FROST).and_then(|table| frost::read(log, table, wanted));
    let filter = fan::read_filter(log, &table);
    let upkeep = indoors::read_upkeep(log, &table);
    let free_cooling = free_cooling::read(log, &table, around.set_points);
    let cost = money::read_cost(log, &table, around.has_tariff);
    table.finish(log);
    let leaks = leaks?;
    Some(Unit {
        name: name?,
        core: core?,
        location: location?,
        arrangement: arrangement?,
        performance: performance?,
        cross_leakage: leaks.cross_leakage,
        outdoor_air_correction: leaks.outdoor_air_correction,
        balance: leaks.balance,
        hood_recirculation: leaks.hood_recirculation,
        wheel_capacity_ratio,
        fan: fan?,
        core_heat_capacity_j_per_k,
        frost: frost?,
        filter,
        upkeep,
        free_cooling,
        cost: cost?,
    })
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

fn read_arrangement(log: &mut Log, table: &Table<'_>, core: Option<CoreKind>) -> Option<Arrangement> {
    if core.is_some_and(CoreKind::is_wheel) {
        for key in ["flow", "counter_share"].into_iter().filter(|key| table.has(key)) {
            let message = format!("`{}`: the streams of a wheel pass in counterflow", table.path_of(key));
            conflict(log, table.span_of(key), message, ("not for a wheel", format!("leave `{key}` out")));
        }
        return Some(Arrangement::Counter);
    }
    let flow = table.or(log, &specs::FLOW, ("counter", "common practice: plates of today are counterflow"));
    if flow == Some(Passing::QuasiCounter) {
        let why = "assumed: hexagonal plates of common proportions";
        let counter_share = table.or(log, &specs::COUNTER_SHARE, ("0.6", why))?;
        return Some(Arrangement::QuasiCounter { counter_share });
    }
    let share = table.optional(log, &specs::COUNTER_SHARE);
    let flow = flow?;
    if share.is_some() {
        let path = table.path_of("counter_share");
        let message = format!("`{path}`: only flow = \"quasi-counter\" has a share in counterflow");
        let hint = "leave `counter_share` out, or write flow = \"quasi-counter\"".to_owned();
        conflict(log, table.span_of("counter_share"), message, ("not for this flow", hint));
    }
    Some(if flow == Passing::Cross { Arrangement::Cross } else { Arrangement::Counter })
}

struct Leaks {
    cross_leakage: Option<f64>,
    outdoor_air_correction: f64,
    balance: f64,
    hood_recirculation: f64,
}

fn read_leaks(log: &mut Log, table: &Table<'_>) -> Option<Leaks> {
    let cross_leakage = table.optional(log, &specs::CROSS_LEAKAGE);
    // What the core may leak at most, as far as the file tells.
    let most = match cross_leakage {
        Some(given) => Some(given),
        None if table.has("cross_leakage") => None,
        None if table.has("rating") => {
            let why = "fitted to the rating points, between 0 and 0.1, and shown with the fit";
            log.took(table.path_of("cross_leakage"), "fitted", why);
            Some(specs::CROSS_LEAKAGE.most)
        }
        None => {
            log.took(table.path_of("cross_leakage"), "0", "assumed: no cross-leakage, since none is given");
            Some(0.0)
        }
    };
    let correction =
        table.or(log, &specs::OUTDOOR_AIR_CORRECTION, ("1", "assumed: as much air enters as leaves"));
    if let (Some(most), Some(correction)) = (most, correction) {
        check_correction(log, table, (most, correction));
    }
    let balance = table.or(log, &specs::BALANCE, ("1", "assumed: balanced flows"));
    let hood = table.or(
        log,
        &specs::HOOD_RECIRCULATION,
        ("0", "assumed: intake and exhaust hoods apart by the usual distance"),
    );
    Some(Leaks {
        cross_leakage,
        outdoor_air_correction: correction?,
        balance: balance?,
        hood_recirculation: hood?,
    })
}

/// Outdoor air that enters is the supply air less what leaked into it, and what is lost on the way.
fn check_correction(log: &mut Log, table: &Table<'_>, (leakage, correction): (f64, f64)) {
    const ROUNDING: f64 = 1e-9;
    let least = 1.0 - leakage;
    if correction >= least - ROUNDING {
        return;
    }
    let key = "outdoor_air_correction";
    let message = format!(
        "`{}`: {} is less than 1 − `cross_leakage`, which is {}",
        table.path_of(key),
        brief(correction),
        brief(least)
    );
    let hint = "no less outdoor air enters than arrives in the supply air: raise it, or `cross_leakage`";
    conflict(log, table.span_of(key), message, ("too little", hint.to_owned()));
}

/// `None` for plates.
fn read_capacity_ratio(log: &mut Log, unit: &Table<'_>, core: Option<CoreKind>) -> Option<f64> {
    let is_plate = core.is_some_and(|core| !core.is_wheel());
    if is_plate && unit.has("wheel") {
        let message = format!("`{}`: a core of plates does not turn", unit.path_of("wheel"));
        let hint =
            "leave `[unit.wheel]` out, or write core = \"sensible-wheel\" or \"enthalpy-wheel\"".to_owned();
        conflict(log, unit.span_of("wheel"), message, ("not for plates", hint));
    } else if is_plate {
        return None;
    }
    let table = unit.table(log, &keys::WHEEL)?;
    let ratio = table.or(log, &specs::CAPACITY_RATIO, ("5", "assumed: a wheel that turns at full speed"));
    table.finish(log);
    ratio
}

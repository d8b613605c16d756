//! Reads the recovery units.
//!
//! Here: `[[unit]]`, its leaks, `[unit.wheel]` and `[unit.fan]`. Not here: how well a core exchanges
//! (`read/performance.rs`), or what a unit does. Read next: `read/performance.rs`.

use super::{conflict, performance};
use crate::keys;
use crate::kinds::{Fault, brief};
use crate::model::{Arrangement, CoreKind, Fan, Performance, RatingPoint, Unit};
use crate::problem::listed;
use crate::specs::{self, Passing};
use crate::table::{Log, Table};

/// Fan power that is taken where none is given: both fans of a common residential unit [W per m³/s].
pub(super) const FAN_W_PER_M3_PER_S: f64 = 1200.0;

pub(super) fn read_all(log: &mut Log, root: &Table<'_>, airflow_m3_per_s: Option<f64>) -> Vec<Unit> {
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
    let arrangement = read_arrangement(log, &table, core);
    let performance = performance::read(log, &table, core);
    let leaks = read_leaks(log, &table);
    let wheel_capacity_ratio = read_capacity_ratio(log, &table, core);
    let wanted = FanWanted { airflow_m3_per_s, performance: performance.as_ref() };
    let fan = table.table(log, &keys::FAN).and_then(|table| read_fan(log, table, wanted));
    table.finish(log);
    let leaks = leaks?;
    Some(Unit {
        name: name?,
        core: core?,
        arrangement: arrangement?,
        performance: performance?,
        cross_leakage: leaks.cross_leakage,
        outdoor_air_correction: leaks.outdoor_air_correction,
        balance: leaks.balance,
        hood_recirculation: leaks.hood_recirculation,
        wheel_capacity_ratio,
        fan: fan?,
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

/// What the power of the fans is taken from where it is left out.
#[derive(Clone, Copy)]
struct FanWanted<'a> {
    airflow_m3_per_s: Option<f64>,
    performance: Option<&'a Performance>,
}

fn read_fan(log: &mut Log, table: Table<'_>, wanted: FanWanted<'_>) -> Option<Fan> {
    let power = match wanted.airflow_m3_per_s {
        Some(airflow) if !table.has("power") => {
            let (specific, why) = specific_power(wanted.performance, airflow);
            let power = specific * airflow;
            log.took(table.path_of("power"), format!("{} W", brief(power)), why);
            check_power(log, &table, power);
            Some(power)
        }
        _ => table.optional(log, &specs::FAN_POWER),
    };
    let position =
        table.or(log, &specs::FAN_POSITION, ("after-core", "common practice: most cabinets are built so"));
    table.finish(log);
    Some(Fan { power_w: power?, position: position? })
}

/// Power of both fans for each flow [W per m³/s]: from the frost-free rating point nearest in flow, if there is one.
fn specific_power(performance: Option<&Performance>, airflow_m3_per_s: f64) -> (f64, &'static str) {
    let points = match performance {
        Some(Performance::Ratings(points)) => points.as_slice(),
        _ => &[],
    };
    let distance = |point: &RatingPoint| (point.supply_m3_per_s - airflow_m3_per_s).abs();
    let nearest = points
        .iter()
        .filter(|point| point.is_frost_free())
        .min_by(|a, b| distance(a).total_cmp(&distance(b)));
    match nearest {
        Some(point) => (
            point.power_w / point.supply_m3_per_s,
            "assumed: the power for each L/s of the frost-free rating point that is nearest in flow",
        ),
        None => (FAN_W_PER_M3_PER_S, "assumed: 1.2 W per L/s of `ventilation.airflow`, both fans together"),
    }
}

/// A power that was worked out holds to the range of one that is written.
fn check_power(log: &mut Log, table: &Table<'_>, power_w: f64) {
    const MOST_W: f64 = 5000.0;
    if power_w > MOST_W {
        let message = format!(
            "`{}` is left out, and the rating points make it {} W, more than {} W",
            table.path_of("power"),
            brief(power_w),
            brief(MOST_W)
        );
        let hint = "check `power` and `airflow` of the rating points, or write `power` in `[unit.fan]`";
        conflict(log, table.span.clone(), message, ("this unit", hint.to_owned()));
    }
}

//! Reads the fans of a unit, their curve, and its filters.
//!
//! Here: `[unit.fan]`, `[unit.fan.curve]` and `[unit.filter]`. Not here: what flow or power follows from them.
//! Read next: `read/frost.rs`.

use super::conflict;
use crate::keys;
use crate::kinds::brief;
use crate::model::{Fan, FanCurve, FanKind, Filter, Performance, RatingPoint};
use crate::problem::listed;
use crate::specs::{self, Keeping};
use crate::table::{Log, Table};

/// Fan power that is taken where none is given: both fans of a common residential unit [W per m³/s].
pub(super) const FAN_W_PER_M3_PER_S: f64 = 1200.0;

/// What the power of the fans is taken from where it is left out, and their curve is held against.
#[derive(Clone, Copy)]
pub(super) struct FanWanted<'a> {
    pub airflow_m3_per_s: Option<f64>,
    pub performance: Option<&'a Performance>,
}

pub(super) fn read(log: &mut Log, table: Table<'_>, wanted: FanWanted<'_>) -> Option<Fan> {
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
    let kind = read_kind(log, &table, wanted.airflow_m3_per_s);
    let supply_share = table.or(log, &specs::SUPPLY_SHARE, ("0.5", "assumed: two fans alike"));
    table.finish(log);
    Some(Fan { power_w: power?, position: position?, kind: kind?, supply_share: supply_share? })
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

fn read_kind(log: &mut Log, table: &Table<'_>, airflow_m3_per_s: Option<f64>) -> Option<FanKind> {
    let why = "common practice: fans of such units are controlled to their flow";
    let kind = table.or(log, &specs::FAN_KIND, ("constant-flow", why));
    if kind == Some(Keeping::Speed) && !table.has("curve") {
        let message =
            format!("`{}` = \"fixed-speed\" needs the table `[unit.fan.curve]`", table.path_of("kind"));
        let needs = listed(keys::FAN_CURVE.required, "and");
        let hint = format!("the curve has {needs}; or write kind = \"constant-flow\"");
        conflict(log, table.span_of("kind"), message, ("no curve for it", hint));
        return None;
    }
    let curve = if table.has("curve") {
        let curve = table.table(log, &keys::FAN_CURVE)?;
        if kind == Some(Keeping::Flow) {
            refuse_curve(log, table);
        }
        read_curve(log, curve, airflow_m3_per_s)
    } else {
        None
    };
    match kind? {
        Keeping::Flow => Some(FanKind::ConstantFlow),
        Keeping::Speed => curve.map(FanKind::FixedSpeed),
    }
}

fn refuse_curve(log: &mut Log, table: &Table<'_>) {
    let message = format!("`{}`: only kind = \"fixed-speed\" has a curve", table.path_of("curve"));
    let hint = "leave `[unit.fan.curve]` out, or write kind = \"fixed-speed\" in `[unit.fan]`".to_owned();
    conflict(log, table.span_of("curve"), message, ("not for this kind", hint));
}

fn read_curve(log: &mut Log, mut table: Table<'_>, airflow_m3_per_s: Option<f64>) -> Option<FanCurve> {
    let shut_off = table.required(log, &specs::SHUT_OFF);
    let free_flow = table.required(log, &specs::FREE_FLOW);
    let system = table.required(log, &specs::SYSTEM);
    if let (Some(free_flow), Some(airflow)) = (free_flow, airflow_m3_per_s) {
        check_free_flow(log, &table, (free_flow, airflow));
    }
    let curve = shut_off.zip(free_flow).zip(system).map(|((shut_off_pa, free_flow_m3_per_s), system_pa)| {
        FanCurve { shut_off_pa, free_flow_m3_per_s, system_pa }
    });
    if let (Some(curve), Some(airflow)) = (curve, airflow_m3_per_s) {
        check_system(log, &table, (&curve, airflow));
    }
    table.finish(log);
    curve
}

fn check_free_flow(log: &mut Log, table: &Table<'_>, (free_flow, airflow): (f64, f64)) {
    if free_flow > airflow {
        return;
    }
    let message = format!(
        "`{}`: {} L/s is not more than `ventilation.airflow`, which is {} L/s",
        table.path_of("free_flow"),
        brief(free_flow * 1000.0),
        brief(airflow * 1000.0)
    );
    let hint = "it is what one fan moves against no pressure: more than it moves in the house";
    conflict(log, table.span_of("free_flow"), message, ("too little", hint.to_owned()));
}

/// The ducts leave something of the fan's pressure for the unit itself.
fn check_system(log: &mut Log, table: &Table<'_>, (curve, airflow): (&FanCurve, f64)) {
    let given = curve.pressure_pa(airflow);
    // Beyond free flow another problem says so.
    if given <= 0.0 || curve.system_pa <= given {
        return;
    }
    let message = format!(
        "`{}`: {} Pa is more than the {} Pa that the fan gives at `ventilation.airflow`",
        table.path_of("system"),
        brief(curve.system_pa),
        brief(given)
    );
    let hint = "the fan's curve is a parabola from `shut_off` to `free_flow`: check all three";
    conflict(log, table.span_of("system"), message, ("too much", hint.to_owned()));
}

/// `None` where filters stay clean.
pub(super) fn read_filter(log: &mut Log, unit: &Table<'_>) -> Option<Filter> {
    if !unit.has("filter") {
        let why = "assumed: filters stay clean, since the file says nothing of them";
        log.took(unit.path_of("filter"), "clean", why);
        return None;
    }
    let mut table = unit.table(log, &keys::FILTER)?;
    let interval = table.required(log, &specs::INTERVAL);
    let why = "common practice: the pressure drop doubles until a filter is changed";
    let load = table.or(log, &specs::LOAD, ("1", why));
    table.finish(log);
    Some(Filter { interval_s: interval?, load: load? })
}

//! Reads what a unit does about frost.
//!
//! Here: `[unit.frost]`, its strategies and which key belongs to which. Not here: the timetable
//! (`read/frost/timetable.rs`), or what frost does. Read next: `read/frost/timetable.rs`.

mod timetable;

use super::conflict;
use crate::kinds::{Kind, brief};
use crate::model::{CoreKind, Frost, FrostStrategy, MissedAir, RecirculationControl, Timetable};
use crate::problem::listed;
use crate::specs::{self, Strategy};
use crate::table::{Log, Table};

/// What defaults and checks rest on.
#[derive(Clone, Copy)]
pub(super) struct FrostWanted {
    pub core: Option<CoreKind>,
    pub airflow_m3_per_s: Option<f64>,
}

pub(super) fn read(log: &mut Log, table: Table<'_>, wanted: FrostWanted) -> Option<Frost> {
    let strategy = read_strategy(log, &table, wanted.core);
    let capacity = read_capacity(log, &table, wanted.airflow_m3_per_s);
    let to_cold_end = read_to_cold_end(log, &table, wanted.core);
    let missed_air = read_missed_air(log, &table, strategy);
    let recirculate = read_recirculate(log, &table, (strategy, wanted.core));
    let preheat = read_preheat(log, &table, (strategy, wanted.core));
    let supply_off = read_supply_off(log, &table, (strategy, wanted.core));
    table.finish(log);
    let strategy = match strategy? {
        Strategy::Recirculate => recirculate?,
        Strategy::Preheat => preheat,
        Strategy::SupplyOff => supply_off,
        Strategy::Bypass => FrostStrategy::Bypass,
        Strategy::SlowDown => FrostStrategy::SlowDown,
        Strategy::None => FrostStrategy::None,
    };
    Some(Frost { strategy, capacity_kg: capacity?, to_cold_end: to_cold_end?, missed_air: missed_air? })
}

const OF_PLATES: [Strategy; 5] =
    [Strategy::Recirculate, Strategy::Preheat, Strategy::SupplyOff, Strategy::Bypass, Strategy::None];
const OF_WHEELS: [Strategy; 2] = [Strategy::SlowDown, Strategy::None];

fn strategies_of(core: CoreKind) -> &'static [Strategy] {
    if core.is_wheel() { &OF_WHEELS } else { &OF_PLATES }
}

/// How a strategy is written in the file.
fn word_of(strategy: Strategy) -> &'static str {
    let found = specs::STRATEGY.options.iter().find(|(_, option)| *option == strategy);
    found.map_or("", |(word, _)| *word)
}

fn read_strategy(log: &mut Log, table: &Table<'_>, core: Option<CoreKind>) -> Option<Strategy> {
    let Some(core) = core else {
        return table.optional(log, &specs::STRATEGY);
    };
    let default = if core.is_wheel() {
        ("slow-down", "common practice: a wheel that turns more slowly stays warmer where it is coldest")
    } else {
        ("none", "common practice differs by climate; without a strategy the core may block")
    };
    let strategy = table.or(log, &specs::STRATEGY, default)?;
    if strategies_of(core).contains(&strategy) {
        return Some(strategy);
    }
    let (path, word) = (table.path_of("strategy"), word_of(strategy));
    let what = if core.is_wheel() { "a wheel" } else { "a core of plates" };
    let words: Vec<&str> = strategies_of(core).iter().map(|fits| word_of(*fits)).collect();
    let message = format!("`{path}`: `{word}` is no strategy of {what}");
    let hint = format!("choose {}", listed(&words, "or"));
    conflict(log, table.span_of("strategy"), message, ("not for this core", hint));
    None
}

fn read_capacity(log: &mut Log, table: &Table<'_>, airflow_m3_per_s: Option<f64>) -> Option<f64> {
    match airflow_m3_per_s {
        Some(airflow) if !table.has("capacity") => {
            let capacity = Frost::CAPACITY_KG_PER_L_PER_S * airflow * 1000.0;
            let why = "assumed: 0.03 kg for each L/s of `ventilation.airflow`";
            log.took(table.path_of("capacity"), format!("{} kg", brief(capacity)), why);
            Some(capacity)
        }
        _ => table.optional(log, &specs::FROST_CAPACITY),
    }
}

fn read_to_cold_end(log: &mut Log, table: &Table<'_>, core: Option<CoreKind>) -> Option<f64> {
    if !core.is_some_and(CoreKind::is_wheel) {
        return table.or(log, &specs::TO_COLD_END, ("0", "assumed: water drains where it forms"));
    }
    if table.has("to_cold_end") {
        let _ = table.optional(log, &specs::TO_COLD_END)?;
        let message =
            format!("`{}`: a wheel has no plates for water to flow along", table.path_of("to_cold_end"));
        let hint = "leave `to_cold_end` out".to_owned();
        conflict(log, table.span_of("to_cold_end"), message, ("not for a wheel", hint));
    }
    Some(0.0)
}

fn read_missed_air(log: &mut Log, table: &Table<'_>, strategy: Option<Strategy>) -> Option<MissedAir> {
    if !table.has("hold_outdoor_air")
        && !matches!(strategy, Some(Strategy::Recirculate | Strategy::SupplyOff))
    {
        // Nothing interrupts the supply: no choice was made for the user.
        return Some(specs::HOLD_OUTDOOR_AIR.off);
    }
    let why = "assumed: a unit runs at one flow, and what it misses is counted";
    table.or(log, &specs::HOLD_OUTDOOR_AIR, ("false", why))
}

/// A strategy as far as it is known, and the core it is for.
type Chosen = (Option<Strategy>, Option<CoreKind>);

fn read_recirculate(log: &mut Log, table: &Table<'_>, chosen: Chosen) -> Option<FrostStrategy> {
    let rows = timetable::read(log, table);
    if table.has("timetable") && rows.is_some() {
        belongs_to(log, table, "timetable", (Strategy::Recirculate, chosen));
    }
    if chosen.0 != Some(Strategy::Recirculate) {
        optional_of(log, table, &specs::RETURNED, (Strategy::Recirculate, chosen));
        return None;
    }
    let why = "assumed: half of the heat that warmed the core comes back into the supply air";
    let returned = table.or(log, &specs::RETURNED, ("0.5", why));
    if !table.has("timetable") {
        let why =
            "assumed: from 5 % of `capacity`, as long as melting takes, since no maker's timetable is given";
        log.took(table.path_of("timetable"), "on-demand", why);
    }
    let control = rows
        .map_or(RecirculationControl::OnDemand, |rows| RecirculationControl::Timetable(Timetable { rows }));
    Some(FrostStrategy::Recirculate { control, returned: returned? })
}

fn read_preheat(log: &mut Log, table: &Table<'_>, chosen: Chosen) -> FrostStrategy {
    let to_c = optional_of(log, table, &specs::PREHEAT_TO, (Strategy::Preheat, chosen));
    let most_w = optional_of(log, table, &specs::PREHEAT_POWER, (Strategy::Preheat, chosen));
    if chosen.0 == Some(Strategy::Preheat) {
        let why = "assumed: where this core first frosts, wet, at the indoor humidity of the hour";
        took_where_absent(log, table, "preheat_to", ("onset", why));
        took_where_absent(log, table, "preheat_power", ("unlimited", "assumed: large enough in any cold"));
    }
    FrostStrategy::Preheat { to_c, most_w }
}

fn read_supply_off(log: &mut Log, table: &Table<'_>, chosen: Chosen) -> FrostStrategy {
    let start_below_c = optional_of(log, table, &specs::START_BELOW, (Strategy::SupplyOff, chosen));
    let end_above_c = optional_of(log, table, &specs::END_ABOVE, (Strategy::SupplyOff, chosen));
    if chosen.0 == Some(Strategy::SupplyOff) {
        let why = "assumed: when frost exceeds 5 % of `capacity`";
        took_where_absent(log, table, "start_below", ("on-demand", why));
        took_where_absent(log, table, "end_above", ("on-demand", "assumed: when the frost has melted"));
    }
    if let (Some(start), Some(end)) = (start_below_c, end_above_c)
        && end <= start
    {
        let path = table.path_of("end_above");
        let message =
            format!("`{path}`: {} °C is not above `start_below`, which is {} °C", brief(end), brief(start));
        let hint = "defrosting ends when the air leaves the extract side warmer than where it started";
        conflict(log, table.span_of("end_above"), message, ("too cold", hint.to_owned()));
    }
    FrostStrategy::SupplyOff { start_below_c, end_above_c }
}

fn took_where_absent(
    log: &mut Log,
    table: &Table<'_>,
    key: &str,
    (value, why): (&'static str, &'static str),
) {
    if !table.has(key) {
        log.took(table.path_of(key), value, why);
    }
}

/// The value of a key that belongs to one strategy.
fn optional_of<K: Kind>(
    log: &mut Log,
    table: &Table<'_>,
    kind: &K,
    (owner, chosen): (Strategy, Chosen),
) -> Option<K::Out> {
    let value = table.optional(log, kind)?;
    belongs_to(log, table, kind.key(), (owner, chosen));
    Some(value)
}

/// Says that a key that is given belongs to another strategy than the one chosen.
fn belongs_to(log: &mut Log, table: &Table<'_>, key: &str, (owner, (strategy, core)): (Strategy, Chosen)) {
    let Some(strategy) = strategy.filter(|strategy| *strategy != owner) else { return };
    let (owner_word, word) = (word_of(owner), word_of(strategy));
    let is = if table.has("strategy") { "here it is" } else { "left out, it is" };
    let message =
        format!("`{}`: only strategy = \"{owner_word}\" has it; {is} \"{word}\"", table.path_of(key));
    let can_be = core.is_none_or(|core| strategies_of(core).contains(&owner));
    let instead = if can_be { format!(", or write strategy = \"{owner_word}\"") } else { String::new() };
    conflict(
        log,
        table.span_of(key),
        message,
        ("not for this strategy", format!("leave `{key}` out{instead}")),
    );
}

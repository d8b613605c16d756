//! Reads how ventilation is controlled.
//!
//! Here: `[ventilation.control]`, its modes and which key belongs to which. Not here: what control does, airing
//! (`read/free_cooling.rs`). Read next: `read/unit.rs`.

use super::conflict;
use crate::keys;
use crate::kinds::{Kind, brief};
use crate::model::{Away, Boost, Control, ControlMode, HumidityControl, Schedule};
use crate::specs::{self, Mode};
use crate::table::{Log, Table};

/// `showers_kg_per_s` of the house, as far as it could be read.
pub(super) fn read(log: &mut Log, ventilation: &Table<'_>, showers_kg_per_s: Option<f64>) -> Option<Control> {
    let mut table = ventilation.table(log, &keys::CONTROL)?;
    let why = "assumed: one flow day and night, since no other control is given";
    let mode = table.or(log, &specs::MODE, ("continuous", why));
    let low_share = read_low_share(log, &table, mode);
    let on_share = read_on_share(log, &table, mode);
    let humidity = read_humidity(log, &mut table, (mode, low_share));
    let limit_ppm = of_mode(log, &mut table, &specs::CO2_LIMIT, (Mode::Co2, mode));
    let schedule = read_schedule(log, &mut table, mode);
    let boost = read_boost(log, &table, showers_kg_per_s);
    let away = read_away(log, &table);
    table.finish(log);
    let mode = match mode? {
        Mode::Continuous => ControlMode::Continuous,
        Mode::Intermittent => ControlMode::Intermittent { on_share: on_share? },
        Mode::Humidity => ControlMode::Humidity(humidity?),
        Mode::Co2 => ControlMode::Co2 { limit_ppm: limit_ppm?, low_share: low_share? },
        Mode::Schedule => schedule?,
    };
    Some(Control { mode, boost, away })
}

/// How a mode is written in the file.
fn word_of(mode: Mode) -> &'static str {
    let found = specs::MODE.options.iter().find(|(_, option)| *option == mode);
    found.map_or("", |(word, _)| *word)
}

/// Says that a key that is given belongs to other modes than the one chosen.
fn check_owner(log: &mut Log, table: &Table<'_>, key: &str, (owners, mode): (&[Mode], Option<Mode>)) {
    let Some(mode) = mode.filter(|mode| !owners.contains(mode)) else { return };
    let words: Vec<&str> = owners.iter().map(|owner| word_of(*owner)).collect();
    let has = if words.len() == 1 { "has" } else { "have" };
    let is = if table.has("mode") { "here it is" } else { "left out, it is" };
    let message = format!(
        "`{}`: only mode = \"{}\" {has} it; {is} \"{}\"",
        table.path_of(key),
        words.join("\" and \""),
        word_of(mode)
    );
    let hint = format!("leave `{key}` out, or write mode = \"{}\"", words.join("\" or \""));
    conflict(log, table.span_of(key), message, ("not for this mode", hint));
}

/// The value of a key that one mode has and needs.
fn of_mode<K: Kind>(
    log: &mut Log,
    table: &mut Table<'_>,
    kind: &K,
    (owner, mode): (Mode, Option<Mode>),
) -> Option<K::Out> {
    if mode == Some(owner) {
        table.required(log, kind)
    } else {
        optional_of(log, table, kind, (&[owner], mode))
    }
}

/// The value of a key that some modes have.
fn optional_of<K: Kind>(
    log: &mut Log,
    table: &Table<'_>,
    kind: &K,
    (owners, mode): (&[Mode], Option<Mode>),
) -> Option<K::Out> {
    let value = table.optional(log, kind)?;
    check_owner(log, table, kind.key(), (owners, mode));
    Some(value)
}

fn read_low_share(log: &mut Log, table: &Table<'_>, mode: Option<Mode>) -> Option<f64> {
    const OWNERS: [Mode; 2] = [Mode::Humidity, Mode::Co2];
    if mode.is_some_and(|mode| OWNERS.contains(&mode)) {
        return table.or(log, &specs::LOW_SHARE, ("0.3", "assumed: a low speed of about a third"));
    }
    optional_of(log, table, &specs::LOW_SHARE, (&OWNERS, mode))
}

/// A share, or the minutes on and off.
fn read_on_share(log: &mut Log, table: &Table<'_>, mode: Option<Mode>) -> Option<f64> {
    let owner = (&[Mode::Intermittent][..], mode);
    let share = optional_of(log, table, &specs::ON_SHARE, owner);
    let on = optional_of(log, table, &specs::ON, owner);
    let off = optional_of(log, table, &specs::OFF, owner);
    if mode != Some(Mode::Intermittent) {
        return None;
    }
    let hint = "mode = \"intermittent\" has `on_share`, or the minutes `on` and `off` that follow each other";
    match (table.has("on_share"), table.has("on"), table.has("off")) {
        (true, false, false) => share,
        (false, true, true) => on.zip(off).map(|(on, off)| on / (on + off)),
        (true, _, _) => {
            let message = format!("`{}` says twice how long it runs", table.path);
            conflict(log, table.span_of("on_share"), message, ("the other way", hint.to_owned()));
            None
        }
        _ => {
            let message = format!("`{}` does not say how long it runs", table.path);
            conflict(log, table.span_of("mode"), message, ("how long?", hint.to_owned()));
            None
        }
    }
}

fn read_humidity(
    log: &mut Log,
    table: &mut Table<'_>,
    (mode, low_share): (Option<Mode>, Option<f64>),
) -> Option<HumidityControl> {
    let at_or_above = of_mode(log, table, &specs::HUMIDITY_AT_OR_ABOVE, (Mode::Humidity, mode));
    if mode != Some(Mode::Humidity) {
        let owner = (&[Mode::Humidity][..], mode);
        optional_of(log, table, &specs::FALLS_PER_K, owner);
        optional_of(log, table, &specs::FALLS_BELOW, owner);
        return None;
    }
    let why = "assumed: the limit does not follow the cold, since no slope is given";
    let falls_per_k = table.or(log, &specs::FALLS_PER_K, ("0 %/K", why));
    let falls_below = read_falls_below(log, table);
    let control = HumidityControl {
        at_or_above: at_or_above?,
        falls_per_k: falls_per_k?,
        falls_below_c: falls_below?,
        low_share: low_share?,
    };
    check_coldest(log, table, &control);
    Some(control)
}

fn read_falls_below(log: &mut Log, table: &Table<'_>) -> Option<f64> {
    if table.has("falls_per_k") {
        let why = "assumed: from where windows begin to sweat";
        return table.or(log, &specs::FALLS_BELOW, ("5 °C", why));
    }
    if table.has("falls_below") {
        let message = format!("`{}`: nothing falls without `falls_per_k`", table.path_of("falls_below"));
        let hint = "write `falls_per_k` as well, such as \"0.5 %/K\", or leave `falls_below` out".to_owned();
        conflict(log, table.span_of("falls_below"), message, ("without a slope", hint));
    }
    table.or_unlisted(log, &specs::FALLS_BELOW, "5 °C")
}

/// In severe cold there must still be a limit.
fn check_coldest(log: &mut Log, table: &Table<'_>, control: &HumidityControl) {
    const COLDEST_C: f64 = -40.0;
    const LEAST: f64 = 0.05;
    const ROUNDING: f64 = 1e-9;
    let limit = control.limit_at(COLDEST_C);
    if limit >= LEAST - ROUNDING {
        return;
    }
    let message = format!(
        "`{}`: at {COLDEST_C} °C outdoors the limit has fallen to {} %, which is less than 5 %",
        table.path_of("falls_per_k"),
        brief(limit * 100.0)
    );
    let hint = "lower `falls_per_k` or `falls_below`, or raise `humidity_at_or_above`".to_owned();
    conflict(log, table.span_of("falls_per_k"), message, ("too steep", hint));
}

fn read_schedule(log: &mut Log, table: &mut Table<'_>, mode: Option<Mode>) -> Option<ControlMode> {
    let weekdays = of_mode(log, table, &specs::WEEKDAYS, (Mode::Schedule, mode));
    let weekends = optional_of(log, table, &specs::WEEKENDS, (&[Mode::Schedule], mode));
    if mode != Some(Mode::Schedule) {
        return None;
    }
    if !table.has("weekends") {
        let why = "assumed: every day alike, since no other hours are given";
        log.took(table.path_of("weekends"), "as `weekdays`", why);
        return Some(ControlMode::Schedule(Box::new(Schedule { weekdays: weekdays?, weekends: weekdays? })));
    }
    Some(ControlMode::Schedule(Box::new(Schedule { weekdays: weekdays?, weekends: weekends? })))
}

/// `None` where nothing raises the flow.
fn read_boost(log: &mut Log, control: &Table<'_>, showers_kg_per_s: Option<f64>) -> Option<Boost> {
    if !control.has("boost") {
        let why = "assumed: nothing raises the flow, since no boost is given";
        log.took(control.path_of("boost"), "none", why);
        return None;
    }
    let table = control.table(log, &keys::BOOST)?;
    let why = "common practice: a switch in the bathroom";
    let by = table.or(log, &specs::BOOST_SHOWERS, ("true", why));
    let factor = table.or(log, &specs::FACTOR, ("2", "assumed: twice the flow"));
    let why = "common practice: a switch in the bathroom runs half an hour";
    let lasts = table.or(log, &specs::LASTS, ("30 min", why));
    if by == Some(None) {
        let message = format!("`{}`: nothing else starts a boost in this version", table.path_of("showers"));
        let hint = "leave the table `boost` out".to_owned();
        conflict(log, table.span_of("showers"), message, ("nothing starts it", hint));
    } else if by.is_some() && showers_kg_per_s.is_some_and(|showers| showers <= 0.0) {
        let message = format!("`{}`: `house.moisture.showers` is 0, so that nothing starts it", table.path);
        let hint = "write `showers` in `[house.moisture]`, or leave the table `boost` out".to_owned();
        conflict(log, table.span.clone(), message, ("no showers", hint));
    }
    table.finish(log);
    Some(Boost { by: by??, factor: factor?, lasts_s: lasts? })
}

/// `None` where the house is never left.
fn read_away(log: &mut Log, control: &Table<'_>) -> Option<Away> {
    if !control.has("away") {
        let why = "assumed: no days away, since none is given";
        log.took(control.path_of("away"), "none", why);
        return None;
    }
    let mut table = control.table(log, &keys::AWAY)?;
    let share = table.required(log, &specs::AWAY_SHARE);
    let days = table.required(log, &specs::AWAY_DAYS);
    table.finish(log);
    Some(Away { share: share?, days: days? })
}

//! Reads heating and cooling: what they keep, when they keep something else, and how much they can do.
//!
//! Here: `[house.heating]`, `[house.cooling]`, and the gap between them. Not here: what they then use (`simulation`).
//! Read next: `read/house.rs`.

use std::ops::Range;

use super::conflict;
use crate::keys;
use crate::kinds::brief;
use crate::model::{Carrier, ClockHours, Cooling, Heating, OtherSetPoint};
use crate::specs;
use crate::table::{Log, Table};

pub(super) fn read(log: &mut Log, house: &mut Table<'_>) -> (Option<Heating>, Option<Cooling>) {
    let heating = house.required_table(log, &keys::HEATING).and_then(|table| read_heating(log, table));
    if !house.has("cooling") {
        log.took(house.path_of("cooling"), "none", "assumed: no cooling, since none is given");
        return (heating, None);
    }
    let Some(table) = house.table(log, &keys::COOLING) else {
        return (heating, None);
    };
    let span = table.span_of("set_point");
    let cooling = read_cooling(log, table);
    if let (Some(heating), Some(cooling)) = (&heating, &cooling) {
        check_dead_band(log, span, (heating.set_point_c, cooling.set_point_c));
    }
    (heating, cooling)
}

/// The two plants must not work against each other.
fn check_dead_band(log: &mut Log, span: Range<usize>, (heating_c, cooling_c): (f64, f64)) {
    const LEAST_K: f64 = 1.0;
    const ROUNDING_K: f64 = 1e-9;
    let band_k = cooling_c - heating_c;
    if band_k >= LEAST_K - ROUNDING_K {
        return;
    }
    let (low, high) = (brief(heating_c), brief(cooling_c));
    let (message, label) = if band_k <= 0.0 {
        (
            format!("cooling keeps {high} °C, which is not above the {low} °C that heating keeps"),
            "not above heating",
        )
    } else {
        (
            format!("cooling keeps {high} °C, less than 1 K above the {low} °C that heating keeps"),
            "too near to heating",
        )
    };
    let hint = "the gap between the two is where neither runs: leave a degree or more".to_owned();
    conflict(log, span, message, (label, hint));
}

fn read_heating(log: &mut Log, mut table: Table<'_>) -> Option<Heating> {
    let set_point = table.required(log, &specs::SET_POINT);
    let source = table.required(log, &specs::SOURCE);
    let efficiency = table.required(log, &specs::EFFICIENCY);
    let most = specs::MOST_EFFICIENCY_OF_FUEL;
    if let (Some(source), Some(efficiency)) = (source, efficiency)
        && source != Carrier::Electricity
        && efficiency > most
    {
        let message =
            format!("`{}`: must lie between 0.3 and {most} for a fuel", table.path_of("efficiency"));
        let hint = "only a heat pump, with source = \"electricity\", gives more".to_owned();
        conflict(log, table.span_of("efficiency"), message, ("out of range", hint));
    }
    let capacity_w = read_capacity(log, &table);
    let set_back = read_other(log, &table, (Way::Lower, set_point));
    table.finish(log);
    Some(Heating { set_point_c: set_point?, set_back, capacity_w, source: source?, efficiency: efficiency? })
}

fn read_cooling(log: &mut Log, mut table: Table<'_>) -> Option<Cooling> {
    let set_point = table.required(log, &specs::SET_POINT);
    let source = table.required(log, &specs::SOURCE);
    let cop = table.required(log, &specs::COP);
    let apparatus = table.or(
        log,
        &specs::APPARATUS_DEW_POINT,
        ("11 °C", "common practice: the coil of a split system; it decides summer humidity"),
    );
    let bypass = table.or(log, &specs::BYPASS, ("0.1", "common practice: a coil of a few rows"));
    if let (Some(set_point), Some(apparatus)) = (set_point, apparatus)
        && apparatus >= set_point
    {
        let (low, high) = (brief(apparatus), brief(set_point));
        let message = format!("the coil at {low} °C cannot cool a house to {high} °C");
        let hint =
            "`apparatus_dew_point` is the coil's temperature: it lies well below `set_point`".to_owned();
        conflict(log, table.span_of("apparatus_dew_point"), message, ("not below the set point", hint));
    }
    if !table.has("re_evaporation") {
        let why = "common practice: water on a coil evaporates again where the blower runs on";
        log.took(table.path_of("re_evaporation"), "where the blower runs on", why);
    }
    let re_evaporation = table.optional(log, &specs::RE_EVAPORATION);
    let capacity_w = read_capacity(log, &table);
    let set_up = read_other(log, &table, (Way::Higher, set_point));
    table.finish(log);
    Some(Cooling {
        set_point_c: set_point?,
        set_up,
        capacity_w,
        source: source?,
        cop: cop?,
        apparatus_dew_point_c: apparatus?,
        bypass: bypass?,
        re_evaporation,
    })
}

/// `None` where there is no limit.
fn read_capacity(log: &mut Log, plant: &Table<'_>) -> Option<f64> {
    if !plant.has("capacity") {
        let why = "assumed: large enough for any hour, since no capacity is given";
        log.took(plant.path_of("capacity"), "unlimited", why);
    }
    plant.optional(log, &specs::CAPACITY)
}

/// Which way the other set-point lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Lower,
    Higher,
}

/// `None` where the set-point is the same day and night.
fn read_other(
    log: &mut Log,
    plant: &Table<'_>,
    (way, set_point): (Way, Option<f64>),
) -> Option<OtherSetPoint> {
    let (key, keys) = match way {
        Way::Lower => ("set_back", &keys::SET_BACK),
        Way::Higher => ("set_up", &keys::SET_UP),
    };
    if !plant.has(key) {
        log.took(plant.path_of(key), "none", "assumed: one set-point day and night, since no other is given");
        return None;
    }
    let mut table = plant.table(log, keys)?;
    let temperature = table.required(log, &specs::OTHER_TEMPERATURE);
    if let (Some(temperature), Some(set_point)) = (temperature, set_point) {
        check_other(log, &table, (way, temperature, set_point));
    }
    let hours = read_hours(log, &mut table);
    table.finish(log);
    Some(OtherSetPoint { temperature_c: temperature?, hours: hours? })
}

fn check_other(log: &mut Log, table: &Table<'_>, (way, temperature, set_point): (Way, f64, f64)) {
    let (is_right, side, plant) = match way {
        Way::Lower => (temperature < set_point, "below", "heating"),
        Way::Higher => (temperature > set_point, "above", "cooling"),
    };
    if is_right {
        return;
    }
    let message = format!(
        "`{}`: {} °C is not {side} the set-point of {plant}, {} °C",
        table.path_of("temperature"),
        brief(temperature),
        brief(set_point)
    );
    let hint = format!("in those hours {plant} does less: write a temperature {side} `set_point`");
    conflict(log, table.span_of("temperature"), message, (&format!("not {side} it"), hint));
}

fn read_hours(log: &mut Log, table: &mut Table<'_>) -> Option<ClockHours> {
    let from = table.required(log, &specs::FROM_HOUR);
    let to = table.required(log, &specs::TO_HOUR);
    hours(log, table, (from?, to?))
}

/// The hours from one to another, which must differ.
pub(super) fn hours(log: &mut Log, table: &Table<'_>, (from_h, to_h): (u32, u32)) -> Option<ClockHours> {
    if from_h != to_h {
        return Some(ClockHours { from_h, to_h });
    }
    let message = format!("`{}`: it ends when it begins, at {to_h}:00", table.path_of("to"));
    let hint = "write two different hours; past midnight, `from` is the later one".to_owned();
    conflict(log, table.span_of("to"), message, ("no hours between", hint));
    None
}

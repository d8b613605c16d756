//! Reads when outdoor air is let in to cool the house: round the core of a unit, or through windows.
//!
//! Here: `[unit.bypass]`, `[house.airing]`, and what they must hold with the set-points of the house. Not here: when they are open.
//! Read next: `model/fan.rs`.

use super::conflict;
use crate::keys;
use crate::kinds::brief;
use crate::model::{Airing, Cooling, FreeCooling, Heating, House};
use crate::specs;
use crate::table::{Log, Table};

/// Indoor air that is kept [°C].
#[derive(Clone, Copy)]
pub(super) struct SetPoints {
    heating_c: f64,
    /// `None` for a house that is not cooled.
    cooling_c: Option<f64>,
}

pub(super) fn set_points(house: &House) -> SetPoints {
    set_points_of(&house.heating, house.cooling.as_ref())
}

fn set_points_of(heating: &Heating, cooling: Option<&Cooling>) -> SetPoints {
    SetPoints { heating_c: heating.set_point_c, cooling_c: cooling.map(|cooling| cooling.set_point_c) }
}

/// `[house.airing]`; `None` where no window is opened.
pub(super) fn read_airing(
    log: &mut Log,
    house: &Table<'_>,
    (heating, cooling): (Option<&Heating>, Option<&Cooling>),
) -> Option<Airing> {
    if !house.has("airing") {
        let why = "assumed: nothing opens by itself, so that no window is opened";
        log.took(house.path_of("airing"), "none", why);
        return None;
    }
    let mut table = house.table(log, &keys::AIRING)?;
    let set_points = heating.map(|heating| set_points_of(heating, cooling));
    let indoor_above = read_indoor_above(log, &table, (Opening::Windows, set_points));
    let why = "assumed: with less, air cools next to nothing";
    let colder_by = table.or(log, &specs::COLDER_BY, ("1 K", why));
    let air_changes = table.required(log, &specs::AIR_CHANGES);
    table.finish(log);
    Some(Airing { indoor_above_c: indoor_above?, colder_by_k: colder_by?, air_changes_per_s: air_changes? })
}

/// What is opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Opening {
    Bypass,
    Windows,
}

impl Opening {
    const fn name(self) -> &'static str {
        match self {
            Self::Bypass => "the bypass",
            Self::Windows => "the windows",
        }
    }
}

/// `None` where nothing opens.
pub(super) fn read(log: &mut Log, unit: &Table<'_>, set_points: Option<SetPoints>) -> Option<FreeCooling> {
    if !unit.has("bypass") {
        let why = "assumed: nothing opens by itself, so that no air passes round the core to cool the house";
        log.took(unit.path_of("bypass"), "none", why);
        return None;
    }
    let table = unit.table(log, &keys::FREE_COOLING)?;
    let indoor_above = read_indoor_above(log, &table, (Opening::Bypass, set_points));
    let colder_by =
        table.or(log, &specs::COLDER_BY, ("1 K", "assumed: with less, air cools next to nothing"));
    let why = "common practice: colder supply air is felt as a draught";
    let supply_at_least = table.or(log, &specs::SUPPLY_AT_LEAST, ("14 °C", why));
    if let (Some(supply), Some(indoor)) = (supply_at_least, indoor_above) {
        check_supply(log, &table, (supply, indoor));
    }
    table.finish(log);
    Some(FreeCooling {
        indoor_above_c: indoor_above?,
        colder_by_k: colder_by?,
        supply_at_least_c: supply_at_least?,
    })
}

fn read_indoor_above(
    log: &mut Log,
    table: &Table<'_>,
    (opening, set_points): (Opening, Option<SetPoints>),
) -> Option<f64> {
    /// Above the set-point of heating, where nothing cools \[K\].
    const ABOVE_HEATING_K: f64 = 3.0;
    let Some(SetPoints { heating_c, cooling_c }) = set_points else {
        return table.optional(log, &specs::INDOOR_ABOVE);
    };
    if table.has("indoor_above") {
        let indoor_above = table.optional(log, &specs::INDOOR_ABOVE)?;
        check_indoor_above(log, table, (opening, indoor_above, SetPoints { heating_c, cooling_c }));
        return Some(indoor_above);
    }
    let (indoor_above, why) = match cooling_c {
        Some(cooling_c) => {
            (0.5 * (heating_c + cooling_c), "assumed: midway between the set-points of heating and cooling")
        }
        None => (
            heating_c + ABOVE_HEATING_K,
            "assumed: 3 K above the set-point of heating, since the house is not cooled",
        ),
    };
    log.took(table.path_of("indoor_above"), format!("{} °C", brief(indoor_above)), why);
    Some(indoor_above)
}

fn check_indoor_above(
    log: &mut Log,
    table: &Table<'_>,
    (opening, indoor_above, kept): (Opening, f64, SetPoints),
) {
    let path = table.path_of("indoor_above");
    let indoor = brief(indoor_above);
    let (message, hint) = match kept.cooling_c {
        _ if indoor_above < kept.heating_c => (
            format!("`{path}`: {indoor} °C is below the set-point of heating, {} °C", brief(kept.heating_c)),
            format!("{} would open while the house is heated", opening.name()),
        ),
        Some(cooling_c) if indoor_above >= cooling_c => (
            format!("`{path}`: {indoor} °C is not below the set-point of cooling, {} °C", brief(cooling_c)),
            format!("{} would never open: cooling keeps the house colder", opening.name()),
        ),
        _ => return,
    };
    conflict(log, table.span_of("indoor_above"), message, ("outside the set-points", hint));
}

fn check_supply(log: &mut Log, table: &Table<'_>, (supply, indoor_above): (f64, f64)) {
    if supply < indoor_above {
        return;
    }
    let message = format!(
        "`{}`: {} °C is not below `indoor_above`, which is {} °C",
        table.path_of("supply_at_least"),
        brief(supply),
        brief(indoor_above)
    );
    let hint = "air that cools is colder than the rooms".to_owned();
    conflict(log, table.span_of("supply_at_least"), message, ("too warm", hint));
}

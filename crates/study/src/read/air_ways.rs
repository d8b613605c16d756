//! Reads the ways of the air in the house: where it is taken and brought, the blower and the ducts.
//!
//! Here: `extract_from`, `supply_to`, `blower` and `ducts` of `[ventilation]`. Not here: how much air (`read/ventilation.rs`).
//! Read next: `read/control.rs`.

use super::conflict;
use crate::keys;
use crate::kinds::brief;
use crate::model::{Blower, Ducts, ExtractFrom, SupplyTo};
use crate::specs;
use crate::table::{Log, Table};

/// A word, or a table of shares.
pub(super) fn read_extract_from(log: &mut Log, ventilation: &Table<'_>) -> Option<ExtractFrom> {
    if !ventilation.is_table("extract_from") {
        let why = "common practice: stale air leaves from kitchen, bathrooms and laundry";
        return ventilation.or(log, &specs::EXTRACT_FROM, ("wet-rooms", why));
    }
    let mut table = ventilation.table(log, &keys::EXTRACT_FROM)?;
    let wet_rooms = table.required(log, &specs::WET_ROOMS);
    let return_duct = table.required(log, &specs::RETURN_DUCT);
    check_sum(log, &table, wet_rooms.zip(return_duct));
    table.finish(log);
    Some(ExtractFrom { wet_rooms: wet_rooms?, return_duct: return_duct? })
}

/// A word, or a table of shares.
pub(super) fn read_supply_to(log: &mut Log, ventilation: &Table<'_>) -> Option<SupplyTo> {
    if !ventilation.is_table("supply_to") {
        let why = "common practice: fresh air goes to bedrooms and living rooms";
        return ventilation.or(log, &specs::SUPPLY_TO, ("rooms", why));
    }
    let mut table = ventilation.table(log, &keys::SUPPLY_TO)?;
    let rooms = table.required(log, &specs::ROOMS);
    let return_duct = table.required(log, &specs::RETURN_DUCT);
    check_sum(log, &table, rooms.zip(return_duct));
    table.finish(log);
    Some(SupplyTo { rooms: rooms?, return_duct: return_duct? })
}

/// All air comes from somewhere, and goes somewhere.
fn check_sum(log: &mut Log, table: &Table<'_>, shares: Option<(f64, f64)>) {
    const ROUNDING: f64 = 1e-6;
    let Some((first, second)) = shares else { return };
    let sum = first + second;
    if (sum - 1.0).abs() <= ROUNDING {
        return;
    }
    let message = format!("`{}`: the shares add up to {}, and must add up to 1", table.path, brief(sum));
    let hint = format!("beside return_duct = {}, the other share is {}", brief(second), brief(1.0 - second));
    conflict(log, table.span.clone(), message, ("not all of the air", hint));
}

/// `None` where there is none.
pub(super) fn read_blower(
    log: &mut Log,
    ventilation: &Table<'_>,
    ways: Option<(ExtractFrom, SupplyTo)>,
) -> Option<Blower> {
    if !ventilation.has("blower") {
        let why = "assumed: no blower of a furnace, since none is given";
        log.took(ventilation.path_of("blower"), "none", why);
        return None;
    }
    let mut table = ventilation.table(log, &keys::BLOWER)?;
    let power = table.required(log, &specs::BLOWER_POWER);
    let uses_duct = ways.is_some_and(|(from, to)| from.return_duct + to.return_duct > 0.0);
    let default = if uses_duct {
        ("with-unit", "common practice: the blower carries the unit's air where that passes the return duct")
    } else {
        ("with-heating", "common practice: none of the unit's air passes the return duct")
    };
    let runs = table.or(log, &specs::BLOWER_RUNS, default);
    table.finish(log);
    Some(Blower { power_w: power?, runs: runs? })
}

pub(super) fn read_ducts(log: &mut Log, table: Table<'_>) -> Option<Ducts> {
    const NO_DUCTS: (&str, &str) = ("0 W/K", "assumed: short and insulated, since none is given");
    let cold_indoors = table.or(log, &specs::COLD_INDOORS, NO_DUCTS);
    let warm_outdoors = table.or(log, &specs::WARM_OUTDOORS, NO_DUCTS);
    table.finish(log);
    Some(Ducts { cold_indoors_w_per_k: cold_indoors?, warm_outdoors_w_per_k: warm_outdoors? })
}

//! Reads what treats the air beside ventilation, the cold corner, and a unit's upkeep.
//!
//! Here: `[house.humidifier]`, `[house.dehumidifier]`, `[house.cold_corner]`, `[unit.upkeep]`. Not here: what they do
//! (`simulation`). Read next: `read/unit.rs`.

use super::conflict;
use crate::keys;
use crate::kinds::brief;
use crate::model::{ColdCorner, Dehumidifier, Humidifier, Upkeep};
use crate::specs;
use crate::table::{Log, Table};

/// `None` where there is none.
pub(super) fn read_humidifier(log: &mut Log, house: &Table<'_>) -> Option<Humidifier> {
    if !house.has("humidifier") {
        log.took(house.path_of("humidifier"), "none", "assumed: none, since none is given");
        return None;
    }
    let mut table = house.table(log, &keys::HUMIDIFIER)?;
    let target = table.required(log, &specs::HUMIDIFIER_TARGET);
    let capacity =
        table.or(log, &specs::HUMIDIFIER_CAPACITY, ("12 kg/day", "assumed: one for a whole house"));
    let why = "common practice: water evaporates from a pad or as mist, with room heat";
    let kind = table.or(log, &specs::HUMIDIFIER_KIND, ("adiabatic", why));
    table.finish(log);
    Some(Humidifier { target: target?, capacity_kg_per_s: capacity?, kind: kind? })
}

/// `None` where there is none; one that starts below what a humidifier keeps is refused.
pub(super) fn read_dehumidifier(
    log: &mut Log,
    house: &Table<'_>,
    humidifier: Option<&Humidifier>,
) -> Option<Dehumidifier> {
    if !house.has("dehumidifier") {
        log.took(house.path_of("dehumidifier"), "none", "assumed: none, since none is given");
        return None;
    }
    let mut table = house.table(log, &keys::DEHUMIDIFIER)?;
    let target = table.required(log, &specs::DEHUMIDIFIER_TARGET);
    if let (Some(target), Some(humidifier)) = (target, humidifier)
        && target <= humidifier.target
    {
        let message = format!(
            "`{}`: {} % is not above the {} % that the humidifier keeps",
            table.path_of("target"),
            brief(target * 100.0),
            brief(humidifier.target * 100.0)
        );
        let hint = "the two would work against each other: leave a gap between them".to_owned();
        conflict(log, table.span_of("target"), message, ("too low", hint));
    }
    let capacity = table.or(log, &specs::DEHUMIDIFIER_CAPACITY, ("20 kg/day", "assumed: a portable one"));
    let why = "assumed: usual ones take 1.3 to 2.2 L/kWh";
    let energy_factor = table.or(log, &specs::ENERGY_FACTOR, ("1.8 L/kWh", why));
    table.finish(log);
    Some(Dehumidifier { target: target?, capacity_kg_per_s: capacity?, water_kg_per_j: energy_factor? })
}

pub(super) fn read_cold_corner(log: &mut Log, table: Table<'_>) -> Option<ColdCorner> {
    let why = "assumed: an outside corner behind furniture, in a house that is insulated";
    let factor = table.or(log, &specs::CORNER_FACTOR, ("0.75", why));
    let material =
        table.or(log, &specs::MATERIAL, ("sensitive", "assumed: wallpaper or painted gypsum board"));
    table.finish(log);
    Some(ColdCorner { temperature_factor: factor?, material: material? })
}

/// `None` where the file says nothing of upkeep.
pub(super) fn read_upkeep(log: &mut Log, unit: &Table<'_>) -> Option<Upkeep> {
    if !unit.has("upkeep") {
        let why = "assumed: the core stays clean and is never taken out, since the file says nothing of it";
        log.took(unit.path_of("upkeep"), "none", why);
        return None;
    }
    let table = unit.table(log, &keys::UPKEEP)?;
    if !table.has("wash_on") {
        let why = "assumed: once a year, in the mild season";
        log.took(table.path_of("wash_on"), "06-01, south of the equator 12-01", why);
    }
    let wash_on = table.optional(log, &specs::WASH_ON);
    let drying = table.or(
        log,
        &specs::DRYING,
        ("42 h", "common practice, no published source: it dries for two days"),
    );
    let why = "assumed: what a year's dust and film take of its conductance";
    let fouling = table.or(log, &specs::FOULING, ("0.03", why));
    table.finish(log);
    Some(Upkeep { wash_on, drying_s: drying?, fouling: fouling? })
}

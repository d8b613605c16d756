//! Reads the bedroom that is looked at by itself.
//!
//! Here: `[house.bedroom]`. Not here: its carbon dioxide (`simulation`). Read next: `read/house.rs`.

use super::conflict;
use crate::keys;
use crate::kinds::brief;
use crate::model::{Bedroom, ClockHours};
use crate::specs;
use crate::table::{Log, Table};

/// What the house says, as far as it could be read.
#[derive(Clone, Copy)]
pub(super) struct Around {
    pub people: Option<u32>,
    pub bedrooms: Option<u32>,
    pub volume_m3: Option<f64>,
}

/// `None` where no bedroom is looked at.
pub(super) fn read(log: &mut Log, house: &Table<'_>, around: Around) -> Option<Bedroom> {
    if !house.has("bedroom") {
        let why = "assumed: no bedroom is looked at by itself, since none is given";
        log.took(house.path_of("bedroom"), "none", why);
        return None;
    }
    let table = house.table(log, &keys::BEDROOM)?;
    if around.bedrooms == Some(0) {
        let message = format!("`{}`: by `house.bedrooms` this house has none", table.path);
        let hint = "leave `[house.bedroom]` out, or write the number of `bedrooms`".to_owned();
        conflict(log, table.span.clone(), message, ("no bedrooms", hint));
    }
    let people = read_people(log, &table, around.people);
    let volume = table.or(log, &specs::BEDROOM_VOLUME, ("30 m3", "assumed: 12 m² and 2.5 m high"));
    check_volume(log, &table, (volume, around.volume_m3));
    let supply_share = read_supply_share(log, &table, around.bedrooms);
    let hours = read_hours(log, &table);
    table.finish(log);
    Some(Bedroom { people: people?, volume_m3: volume?, supply_share: supply_share?, hours: hours? })
}

fn read_people(log: &mut Log, table: &Table<'_>, in_house: Option<u32>) -> Option<u32> {
    let people = match in_house {
        Some(1) => table.or(log, &specs::SLEEPERS, ("1", "by `house.people.count`")),
        _ => table.or(log, &specs::SLEEPERS, ("2", "assumed: two people sleep in it")),
    };
    if let (Some(people), Some(in_house)) = (people, in_house)
        && people > in_house
    {
        let message = format!(
            "`{}`: {people} is more than `house.people.count`, which is {in_house}",
            table.path_of("people")
        );
        let hint = "no more sleep in a bedroom than live in the house".to_owned();
        conflict(log, table.span_of("people"), message, ("too many", hint));
    }
    people
}

fn check_volume(log: &mut Log, table: &Table<'_>, (volume, of_house): (Option<f64>, Option<f64>)) {
    let (Some(volume), Some(of_house)) = (volume, of_house) else { return };
    if volume < of_house {
        return;
    }
    let message = format!(
        "`{}`: {} m3 is not less than the {} m3 of the whole house",
        table.path_of("volume"),
        brief(volume),
        brief(of_house)
    );
    let hint =
        "a bedroom is a part of the house: check `volume`, `floor_area` and `ceiling_height`".to_owned();
    conflict(log, table.span_of("volume"), message, ("too large", hint));
}

fn read_supply_share(log: &mut Log, table: &Table<'_>, bedrooms: Option<u32>) -> Option<f64> {
    if table.has("supply_share") {
        return table.optional(log, &specs::BEDROOM_SUPPLY);
    }
    let share = 1.0 / (f64::from(bedrooms?) + 1.0);
    let why = "assumed: supply air is shared alike among the bedrooms and the living room";
    log.took(table.path_of("supply_share"), brief(share), why);
    Some(share)
}

fn read_hours(log: &mut Log, table: &Table<'_>) -> Option<ClockHours> {
    const NIGHT: &str = "assumed: a night of nine hours";
    let from = table.or(log, &specs::FROM_HOUR, ("22:00", NIGHT));
    let to = table.or(log, &specs::TO_HOUR, ("07:00", NIGHT));
    super::plant::hours(log, table, (from?, to?))
}

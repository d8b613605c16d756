//! Named sets of occupancy, set-points, sources and economics, which fill what a study leaves out.
//!
//! Here: the values of each set, each version for ever as it was published, and how they are put into the tables of a file. Not
//! here: what each key takes (`specs`), and the defaults that fill what is still left out (`read`). Read next: `read.rs`.
//!
//! | `study.conditions` | people | heating, cooling |
//! | --- | --- | --- |
//! | `family/1` | bedrooms and one, at work and school on weekdays | 20.5 °C, 25 °C |
//! | `retired-pair/1` | two, at home | 22 °C, 26 °C |
//! | `en-16798-1-2019/1` | one for each 42.5 m² of floor, at least one | 20 °C, 26 °C |
//!
//! A set is put into the tables as if the file held its values, before anything is read. What the file says itself stays. Set-points
//! go into tables that are there: a set makes no plant, and [`ECONOMICS`] goes where there is a `[tariff]`.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::keys;
use crate::kinds::{Count, Kind};
use crate::specs;
use crate::table::Log;

/// How many people live there.
#[derive(Debug, Clone, Copy, PartialEq)]
enum People {
    /// One more than bedrooms, of which there is one at least.
    BedroomsAndOne,
    Two,
    /// One for each of so many square metres of floor, rounded, one at least.
    PerFloorM2(f64),
}

/// Water of a source [kg/day]: for each person, and whoever lives there.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Water {
    key: &'static str,
    each: f64,
    house: f64,
    why: &'static str,
}

/// A set of conditions.
#[derive(Debug, PartialEq)]
pub(crate) struct Conditions {
    people: (People, &'static str),
    profile: (&'static str, &'static str),
    heating: (&'static str, &'static str),
    cooling: (&'static str, &'static str),
    gains: (&'static str, &'static str),
    water: [Water; 4],
}

const BEDROOMS_AND_ONE: &str = "bedrooms and one, as in ASHRAE 62.2-2019, 4.1.1 (recalled)";
const OWN: &str = "assumed: a choice of this set, no published source";
const EN_TABLE: &str = "EN 16798-1:2019, annex C, detached house (recalled)";
const GAINS: (&str, &str) = ("2.4 W/m2", EN_TABLE);
const SHOWER: &str = "a shower of eight minutes for each person a day, at 0.24 kg in five minutes: Moisture Sources \
    Associated with Potential Damage in Cold Climate Housing (1988), as reproduced";
const COOKING: &str = "0.57 kg for a dinner of four: Moisture Sources Associated with Potential Damage in Cold Climate \
    Housing (1988), as reproduced; all meals taken as twice a dinner";
const WASHING: &str = "assumed: most of the washing dries in the open or in a dryer that blows out";
const PLANTS: &str = "0.41 to 0.45 kg of five to seven plants: Moisture Sources Associated with Potential Damage in Cold \
    Climate Housing (1988), as reproduced";

const fn water(key: &'static str, each: f64, house: f64, why: &'static str) -> Water {
    Water { key, each, house, why }
}
const SOURCES: [Water; 4] = [
    water("showers", 0.4, 0.0, SHOWER),
    water("cooking", 0.3, 0.0, COOKING),
    water("laundry", 0.1, 0.0, WASHING),
    water("plants", 0.0, 0.4, PLANTS),
];

static FAMILY_1: Conditions = Conditions {
    people: (People::BedroomsAndOne, BEDROOMS_AND_ONE),
    profile: ("working-week", OWN),
    heating: ("20.5 °C", OWN),
    cooling: ("25 °C", OWN),
    gains: GAINS,
    water: SOURCES,
};
static RETIRED_PAIR_1: Conditions = Conditions {
    people: (People::Two, OWN),
    profile: ("always-home", OWN),
    heating: ("22 °C", OWN),
    cooling: ("26 °C", OWN),
    gains: GAINS,
    water: SOURCES,
};
static EN_16798_1_2019_1: Conditions = Conditions {
    people: (People::PerFloorM2(42.5), EN_TABLE),
    profile: ("working-week", "the nearest of ours to the occupancy of EN 16798-1:2019, annex C (recalled)"),
    heating: ("20 °C", EN_TABLE),
    cooling: ("26 °C", EN_TABLE),
    gains: GAINS,
    water: SOURCES,
};

/// Every version that was ever published; none is changed or taken away.
pub(crate) static ALL: [(&str, &Conditions); 3] =
    [("family/1", &FAMILY_1), ("retired-pair/1", &RETIRED_PAIR_1), ("en-16798-1-2019/1", &EN_16798_1_2019_1)];

/// The same for every set: real rate, rise of energy prices, years.
const ECONOMICS: [(&str, &str, &str); 3] = [
    ("discount_rate", "0.03", "assumed: near the real rate of public life-cycle studies"),
    ("escalation", "0.0", "assumed: energy grows dearer as all else does"),
    ("horizon", "\"20 years\"", "assumed: the usual life of a ventilation unit"),
];

/// A value that goes where the file has none.
pub(crate) struct Filled {
    table: &'static str,
    key: &'static str,
    /// As the file would hold it.
    text: String,
    why: &'static str,
}

/// What the set that a file names puts into its tables.
pub(crate) struct Filling {
    name: String,
    /// Where the file names it.
    at: Range<usize>,
    values: Vec<Filled>,
}

impl Filling {
    /// `None` where the file names no set; what is wrong with a name is told where the key is read.
    pub fn of(root: &DeTable<'_>) -> Option<Self> {
        let named = table(root, "study")?.get(specs::CONDITIONS.key)?;
        let conditions = specs::CONDITIONS.read(named.get_ref()).ok()?;
        let name = named.get_ref().as_str()?.trim().to_owned();
        Some(Self { name, at: named.span(), values: values(root, conditions) })
    }

    /// The tables with these values, each listed among what the file left out.
    pub fn tables_filled<'v>(&'v self, log: &mut Log, root: &Spanned<DeTable<'v>>) -> Spanned<DeTable<'v>> {
        let mut root = root.clone();
        for Filled { table, key, text, why } in &self.values {
            let Ok(value) = DeValue::parse(text) else { continue };
            log.took(keys::join(table, key), format!("{}, by {}", text.trim_matches('"'), self.name), why);
            self.put(root.get_mut(), (table, key), value.into_inner());
        }
        root
    }

    /// At `house.people` and `count`; a table that is missing is made.
    fn put<'v>(&self, root: &mut DeTable<'v>, (path, key): (&'static str, &'static str), value: DeValue<'v>) {
        let mut table = root;
        for name in path.split('.') {
            if !table.contains_key(name) {
                table.insert(self.placed(Cow::Borrowed(name)), self.placed(DeValue::Table(DeTable::new())));
            }
            let Some(DeValue::Table(below)) = table.get_mut(name).map(Spanned::get_mut) else { return };
            table = below;
        }
        table.insert(self.placed(Cow::Borrowed(key)), self.placed(value));
    }

    fn placed<T>(&self, value: T) -> Spanned<T> {
        Spanned::new(self.at.clone(), value)
    }
}

/// Those of the set that the file leaves out, in the order in which a file has them.
fn values(root: &DeTable<'_>, conditions: &Conditions) -> Vec<Filled> {
    let Some(house) = table(root, "house") else { return Vec::new() };
    let people = people(house, conditions.people.0);
    let text = |text: &str| format!("\"{text}\"");
    let mut values = Vec::new();
    let mut fill = |table: &'static str, key, text, why| {
        values.push(Filled { table, key, text, why });
    };
    fill("house", "gains", text(conditions.gains.0), conditions.gains.1);
    for (plant, key, (set_point, why)) in
        [("house.heating", "heating", conditions.heating), ("house.cooling", "cooling", conditions.cooling)]
    {
        if table(house, key).is_some() {
            fill(plant, "set_point", text(set_point), why);
        }
    }
    fill("house.people", "count", people.to_string(), conditions.people.1);
    fill("house.people", "profile", text(conditions.profile.0), conditions.profile.1);
    for Water { key, each, house, why } in conditions.water {
        fill("house.moisture", key, text(&format!("{:.1} kg/day", each * f64::from(people) + house)), why);
    }
    if table(root, "tariff").is_some() {
        for (key, text, why) in ECONOMICS {
            fill("economics", key, text.to_owned(), why);
        }
    }
    values.retain(|value| is_open(root, value));
    values
}

/// Whether the file leaves this value out, and has nothing but a table where its table belongs.
fn is_open(root: &DeTable<'_>, value: &Filled) -> bool {
    let mut here = root;
    for name in value.table.split('.') {
        match here.get(name).map(Spanned::get_ref) {
            None => return true,
            Some(DeValue::Table(below)) => here = below,
            Some(_) => return false,
        }
    }
    !here.contains_key(value.key)
}

/// How many live there: what the file says, else by the rule; one where the file's number is no number, which is told where it is read.
fn people(house: &DeTable<'_>, rule: People) -> u32 {
    let count = |key: &Count| house.get(key.key).and_then(|value| key.read(value.get_ref()).ok());
    let said = table(house, "people").and_then(|people| people.get(specs::PEOPLE_COUNT.key));
    if let Some(said) = said {
        return specs::PEOPLE_COUNT.read(said.get_ref()).unwrap_or(1);
    }
    match rule {
        People::BedroomsAndOne => count(&specs::BEDROOMS).unwrap_or(1).max(1) + 1,
        People::Two => 2,
        People::PerFloorM2(each) => {
            let floor = house.get(specs::FLOOR_AREA.key);
            let floor_m2 = floor.and_then(|value| specs::FLOOR_AREA.read(value.get_ref()).ok());
            floor_m2.map_or(1, |floor_m2| whole(floor_m2 / each))
        }
    }
}

/// The nearest whole number, one at least; a floor has its limits, and so has this.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 5000 / 42.5")]
fn whole(number: f64) -> u32 {
    number.round().max(1.0) as u32
}

fn table<'t, 'v>(parent: &'t DeTable<'v>, name: &str) -> Option<&'t DeTable<'v>> {
    parent.get(name)?.get_ref().as_table()
}

//! Reads ventilation: how much air, from where, to where.
//!
//! Here: `[ventilation]`, the rules that make an airflow, `[house.rooms]`. Not here: where the air is taken and brought
//! (`read/air_ways.rs`), control (`read/control.rs`). Read next: `read/air_ways.rs`.

use super::{air_ways, conflict, control};
use crate::keys;
use crate::kinds::{Given, Kind, brief};
use crate::model::{
    AirLeakage, AirflowRule, BasementUse, Foundation, House, InfiltrationCredit, Rooms, StandardForm,
    Ventilation,
};
use crate::problem::listed;
use crate::quantity::parse_quantity;
use crate::specs::{self, Rule};
use crate::table::{Log, Table};
use crate::units::Dimension;

/// What the house says that bears on its ventilation.
#[derive(Clone, Copy)]
pub(super) struct OfHouse<'a> {
    pub house: &'a House,
    /// Its floor area as written.
    pub area_text: Option<&'a str>,
}

pub(super) fn read(
    log: &mut Log,
    mut table: Table<'_>,
    of_house: Option<OfHouse<'_>>,
) -> Option<Ventilation> {
    let airflow = read_airflow(log, &mut table, of_house);
    let extract_from = air_ways::read_extract_from(log, &table);
    let supply_to = air_ways::read_supply_to(log, &table);
    let ways = extract_from.zip(supply_to);
    let blower = air_ways::read_blower(log, &table, ways);
    let showers_kg_per_s = of_house.map(|of_house| of_house.house.moisture.showers_kg_per_s);
    let control = control::read(log, &table, showers_kg_per_s);
    let ducts = table.table(log, &keys::DUCTS).and_then(|table| air_ways::read_ducts(log, table));
    table.finish(log);
    let Airflow { airflow_m3_per_s, rule } = airflow?;
    Some(Ventilation {
        airflow_m3_per_s,
        rule,
        extract_from: extract_from?,
        supply_to: supply_to?,
        ducts: ducts?,
        control: control?,
        blower,
    })
}

struct Airflow {
    airflow_m3_per_s: f64,
    rule: AirflowRule,
}

fn read_airflow(log: &mut Log, table: &mut Table<'_>, of_house: Option<OfHouse<'_>>) -> Option<Airflow> {
    let given = table.required(log, &specs::AIRFLOW);
    let named = match given {
        Some(Given::Word(rule)) => Some(rule),
        _ => None,
    };
    let category = read_for(log, table, &specs::CATEGORY, (Rule::Category, given));
    let form = read_for(log, table, &specs::STANDARD_FORM, (Rule::Standard, given));
    let credit = read_for(log, table, &specs::INFILTRATION_CREDIT, (Rule::Standard, given));
    if let Some(Given::Si(airflow_m3_per_s)) = given {
        return Some(Airflow { airflow_m3_per_s, rule: AirflowRule::Stated });
    }
    let rule = match named? {
        Rule::Standard => {
            let form = form.or_else(|| default_form(log, table, of_house));
            let credit = credit.or_else(|| default_credit(log, table));
            check_credit(log, table, (credit, of_house));
            AirflowRule::ByStandard { form: form?, credit: credit? }
        }
        Rule::Rooms => AirflowRule::ByRooms,
        Rule::Category => {
            let why = "EN 16798-1: the normal level of expectation";
            AirflowRule::ByCategory(if table.has("category") {
                category?
            } else {
                table.or(log, &specs::CATEGORY, ("II", why))?
            })
        }
    };
    let airflow_m3_per_s = flow_of_rule(log, table, (rule, of_house?.house))?;
    Some(Airflow { airflow_m3_per_s, rule })
}

/// The value of a key that belongs to one rule.
fn read_for<K: Kind>(
    log: &mut Log,
    table: &Table<'_>,
    kind: &K,
    (owner, given): (Rule, Option<Given<Rule>>),
) -> Option<K::Out> {
    let value = table.optional(log, kind)?;
    if given.is_some_and(|given| given != Given::Word(owner)) {
        let key = kind.key();
        let word = word_of(owner);
        let message = format!("`{}`: only airflow = \"{word}\" has it", table.path_of(key));
        let hint = format!("leave `{key}` out, or write airflow = \"{word}\"");
        conflict(log, table.span_of(key), message, ("not for this airflow", hint));
    }
    Some(value)
}

/// How a rule is written in the file.
fn word_of(rule: Rule) -> &'static str {
    let found = specs::AIRFLOW.words.options.iter().find(|(_, option)| *option == rule);
    found.map_or("", |(word, _)| *word)
}

fn default_form(log: &mut Log, table: &Table<'_>, of_house: Option<OfHouse<'_>>) -> Option<StandardForm> {
    if table.has("standard_form") {
        return None;
    }
    let area = parse_quantity(of_house?.area_text?, Dimension::Area).ok()?;
    let text = if area.unit.name == "ft2" { "ip" } else { "si" };
    table.or(log, &specs::STANDARD_FORM, (text, "by the unit of `house.floor_area`"))
}

fn default_credit(log: &mut Log, table: &Table<'_>) -> Option<InfiltrationCredit> {
    if table.has("infiltration_credit") {
        return None;
    }
    let why = "assumed: air through leaks does not count, which is on the safe side";
    table.or(log, &specs::INFILTRATION_CREDIT, ("false", why))
}

/// What leaks are credited with rests on a pressure test.
fn check_credit(
    log: &mut Log,
    table: &Table<'_>,
    (credit, of_house): (Option<InfiltrationCredit>, Option<OfHouse<'_>>),
) {
    let Some(OfHouse { house, .. }) = of_house else { return };
    let is_constant = matches!(house.air_leakage, AirLeakage::Constant { .. });
    if credit == Some(InfiltrationCredit::Taken) && is_constant {
        let message = format!(
            "`{}`: the standard credits what a pressure test found, and `house.air_leakage` is a constant flow",
            table.path_of("infiltration_credit")
        );
        let hint =
            "write `air_leakage` like \"2.5 1/h @50Pa\", or leave `infiltration_credit` out".to_owned();
        conflict(log, table.span_of("infiltration_credit"), message, ("no pressure test", hint));
    }
}

/// The flow that a rule makes for this house, noted with the values that the file leaves open.
fn flow_of_rule(log: &mut Log, table: &Table<'_>, (rule, house): (AirflowRule, &House)) -> Option<f64> {
    let (flow, why) = match rule {
        AirflowRule::Stated => return None,
        AirflowRule::ByStandard { form, .. } => {
            let why = match form {
                StandardForm::Si => {
                    "ASHRAE 62.2: 0.15 L/s per m² of floor, and 3.5 L/s for each bedroom and one more"
                }
                StandardForm::Ip => {
                    "ASHRAE 62.2: 0.03 cfm per ft² of floor, and 7.5 cfm for each bedroom and one more"
                }
            };
            (form.rate_m3_per_s(house.floor_area_m2, house.bedrooms), why)
        }
        AirflowRule::ByRooms => {
            let why =
                "CSA F326: 10 L/s for the main bedroom and an undivided basement, 5 L/s for each other room";
            (rooms_of(log, table, house)?.rate_m3_per_s(house.bedrooms), why)
        }
        AirflowRule::ByCategory(category) => {
            (category.rate_m3_per_s(house.floor_area_m2), "EN 16798-1, annex B: by floor area and category")
        }
    };
    check_flow(log, table, flow)?;
    log.took(table.path_of("airflow"), format!("{} L/s", brief(flow * 1000.0)), why);
    Some(flow)
}

fn rooms_of(log: &mut Log, table: &Table<'_>, house: &House) -> Option<Rooms> {
    if house.rooms.is_none() {
        let message =
            format!("`{}` = \"by-rooms\" needs the table `[house.rooms]`", table.path_of("airflow"));
        let hint =
            format!("it has {}, and may have `other` and `basement`", listed(keys::ROOMS.required, "and"));
        conflict(log, table.span_of("airflow"), message, ("no rooms for it", hint));
    }
    house.rooms
}

/// A flow that was worked out holds to the range of one that is written.
fn check_flow(log: &mut Log, table: &Table<'_>, flow: f64) -> Option<()> {
    const LEAST_M3_PER_S: f64 = 0.002;
    const MOST_M3_PER_S: f64 = 2.0;
    if (LEAST_M3_PER_S..=MOST_M3_PER_S).contains(&flow) {
        return Some(());
    }
    let message = format!(
        "`{}`: the rule makes it {} L/s, which must lie between 2 L/s and 2000 L/s",
        table.path_of("airflow"),
        brief(flow * 1000.0)
    );
    let hint = "check `floor_area`, `bedrooms` and `rooms` of the house, or write a flow".to_owned();
    conflict(log, table.span_of("airflow"), message, ("out of range", hint));
    None
}

/// `[house.rooms]`; `None` where there is none.
pub(super) fn read_rooms(log: &mut Log, house: &Table<'_>, foundation: Option<Foundation>) -> Option<Rooms> {
    if !house.has("rooms") {
        return None;
    }
    let mut table = house.table(log, &keys::ROOMS)?;
    let living = table.required(log, &specs::LIVING);
    let kitchen = table.required(log, &specs::KITCHEN);
    let bathrooms = table.required(log, &specs::BATHROOMS);
    let other = table.or(log, &specs::OTHER_ROOMS, ("0", "assumed: no other rooms, since none is given"));
    let basement = read_basement(log, &table, foundation);
    table.finish(log);
    Some(Rooms {
        living: living?,
        kitchen: kitchen?,
        bathrooms: bathrooms?,
        other: other?,
        basement: basement?,
    })
}

fn read_basement(log: &mut Log, table: &Table<'_>, foundation: Option<Foundation>) -> Option<BasementUse> {
    let Some(foundation) = foundation else {
        return table.optional(log, &specs::BASEMENT);
    };
    let has_basement = foundation == Foundation::Basement;
    if !table.has("basement") {
        let default = if has_basement {
            ("undivided", "assumed: one space, since nothing is said of its use")
        } else {
            ("none", "by `house.foundation`")
        };
        return table.or(log, &specs::BASEMENT, default);
    }
    let basement = table.optional(log, &specs::BASEMENT)?;
    if has_basement != (basement != BasementUse::None) {
        let (what, hint) = if has_basement {
            ("has one", "write \"divided\" or \"undivided\", or another `foundation`")
        } else {
            ("has none", "write foundation = \"basement\" in `[house]`, or basement = \"none\"")
        };
        let message = format!("`{}`: by `house.foundation` this house {what}", table.path_of("basement"));
        conflict(log, table.span_of("basement"), message, ("against the foundation", hint.to_owned()));
    }
    Some(basement)
}

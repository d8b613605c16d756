//! The JSON Schema of a study, for editors: names, forms and ranges with a word on each key.
//!
//! Here: a mirror of the file that only the schema is made of; the house is in `schema/house.rs`, ventilation in
//! `schema/ventilation.rs`, the units in `schema/unit.rs` and `schema/air.rs`. Not here: the reader, which has the last word; a
//! test holds the names, choices and ranges of both together. Read next: `schema/house.rs`.
#![expect(dead_code, reason = "the mirror is described, never filled")]

mod air;
mod control;
mod house;
mod indoors;
mod money;
mod quantities;
#[cfg(test)]
mod tests;
mod unit;
mod ventilation;

use schemars::JsonSchema;
use serde_json::{Value, json};

use house::House;
use money::{Bills, Economics, Tariff};
use quantities::{Angle, Duration, Length};
use unit::Unit;
use ventilation::Ventilation;

/// The JSON Schema (draft 2020-12) of a study file, indented.
///
/// # Example
/// ```
/// assert!(study::schema().contains("\"floor_area\""));
/// ```
pub fn schema() -> String {
    let mut schema = schemars::schema_for!(StudyFile).to_value();
    without_null(&mut schema);
    need_less_with_conditions(&mut schema);
    format!("{schema:#}")
}

/// A set of conditions fills keys that must stand in the file without one.
fn need_less_with_conditions(schema: &mut Value) {
    let filled = [
        ("House", &["people"][..]),
        ("Heating", &["set_point"]),
        ("Cooling", &["set_point"]),
        ("People", &["count", "profile"]),
    ];
    for (definition, keys) in filled {
        if let Some(required) = schema["$defs"][definition]["required"].as_array_mut() {
            required.retain(|key| !keys.iter().any(|filled| key == filled));
        }
    }
    schema["if"] = json!({"properties": {"study": {"required": ["conditions"]}}});
    schema["else"] = json!({"properties": {"house": {
        "required": ["people"],
        "properties": {
            "heating": {"required": ["set_point"]},
            "cooling": {"required": ["set_point"]},
            "people": {"required": ["count", "profile"]},
        },
    }}});
}

/// Takes `null` out of what may be left out: TOML has none.
fn without_null(value: &mut Value) {
    match value {
        Value::Array(items) => items.iter_mut().for_each(without_null),
        Value::Object(members) => {
            if let Some(Value::Array(types)) = members.get_mut("type") {
                types.retain(|name| name != "null");
                if let [only] = types.as_slice() {
                    let only = only.clone();
                    members.insert("type".to_owned(), only);
                }
            }
            flatten_choice(members);
            members.values_mut().for_each(without_null);
        }
        _ => {}
    }
}

/// `anyOf [X, null]` becomes X.
fn flatten_choice(members: &mut serde_json::Map<String, Value>) {
    let Some(Value::Array(choices)) = members.get_mut("anyOf") else { return };
    choices.retain(|choice| choice.get("type").is_none_or(|name| name != "null"));
    if let [Value::Object(only)] = choices.as_slice() {
        let only = only.clone();
        members.remove("anyOf");
        members.extend(only);
    }
}

/// A house, its ventilation, and the recovery units to compare.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, title = "Study")]
struct StudyFile {
    study: Head,
    site: Site,
    house: House,
    ventilation: Ventilation,
    /// The units to compare, one or more, each with its own name.
    #[schemars(length(min = 1))]
    unit: Vec<Unit>,
    /// What energy costs. Left out: nothing is said of money.
    tariff: Option<Tariff>,
    /// How the future is weighed. Left out: 3 % a year over 20 years.
    economics: Option<Economics>,
    /// A year of the house's own bills. Left out: the modelled heating is taken as it is.
    bills: Option<Bills>,
    /// How the report is written. Left out: in English.
    report: Option<Report>,
}

/// Title and manner of the study.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Head {
    /// Title, as printed on results.
    #[schemars(length(min = 1, max = 200), example = "Bungalow at Frosthollow")]
    title: String,
    /// A named set that fills occupancy, set-points, sources and economics where the file leaves them out. Left out: none.
    conditions: Option<Conditions>,
    /// Units of terminal, charts and report. Left out: si.
    show_in: Option<ShowIn>,
    /// Time step of moisture: 5, 10, 15 or 30 min, or 1 h. Left out: 15 min with showers, cooking or laundry, else 1 h.
    #[schemars(example = "15 min")]
    time_step: Option<Duration>,
    /// How long the house runs before hour 0, in whole hours; 0 d … 60 d. Left out: 21 d.
    #[schemars(example = "21 d")]
    lead_in: Option<Duration>,
}

#[derive(JsonSchema)]
enum Conditions {
    /// Bedrooms and one, at work and school on weekdays; 20.5 °C and 25 °C.
    #[schemars(rename = "family/1")]
    Family,
    /// Two, at home; 22 °C and 26 °C.
    #[schemars(rename = "retired-pair/1")]
    RetiredPair,
    /// One for each 42.5 m² of floor; 20 °C and 26 °C.
    #[schemars(rename = "en-16798-1-2019/1")]
    En16798,
}

/// How the report is written.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Report {
    /// Language of the report. Left out: en.
    language: Option<Language>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Language {
    /// English.
    #[schemars(rename = "en")]
    English,
    /// French.
    #[schemars(rename = "fr")]
    French,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum ShowIn {
    /// °C, L/s, kWh.
    Si,
    /// °F, cfm, Btu.
    Ip,
}

/// Where the house stands. What is left out is taken from the weather file.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Site {
    /// Path of the weather file, relative to the study.
    #[schemars(length(min = 1, max = 1000), example = "frosthollow.csv")]
    weather: String,
    /// North is positive; -90 deg … 90 deg.
    #[schemars(example = "45.2 deg")]
    latitude: Option<Angle>,
    /// East is positive; -180 deg … 180 deg.
    #[schemars(example = "-75.7 deg")]
    longitude: Option<Angle>,
    /// Height above the sea; -500 m … 5000 m.
    #[schemars(example = "300 m")]
    elevation: Option<Length>,
    /// Local standard time minus universal time; -12 h … 14 h.
    #[schemars(example = "-5 h")]
    time_zone: Option<Duration>,
    /// What the file's humidity refers to below 0 °C. Left out: inferred.
    humidity_basis: Option<HumidityBasis>,
    /// What stands round the house, for a kilometre or more. Left out: suburban.
    surroundings: Option<Surroundings>,
    /// How near buildings and trees shelter it: 1 none, 5 on all sides. Left out: 3.
    #[schemars(range(min = 1, max = 5))]
    wind_shelter: Option<u32>,
    /// Height at which the file's wind is measured; 1 m … 200 m. Left out: as the file says, else 10 m.
    #[schemars(example = "10 m")]
    wind_height: Option<Length>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Surroundings {
    /// Water or bare plain for a kilometre or more upwind.
    Open,
    /// Fields, with obstacles lower than 10 m here and there.
    Rural,
    /// Suburbs, small towns, woods.
    Suburban,
    /// A city, half of the buildings higher than 25 m.
    Urban,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum HumidityBasis {
    /// Supercooled water.
    Water,
    /// Ice.
    Ice,
}

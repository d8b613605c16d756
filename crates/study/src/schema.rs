//! The JSON Schema of a study, for editors: names, forms and ranges with a word on each key.
//!
//! Here: a mirror of the file that only the schema is made of, the units in `schema/unit.rs` and `schema/air.rs`. Not here: the reader, which
//! has the last word; a test holds the names, choices and ranges of both together. Read next: `schema/unit.rs`.
#![expect(dead_code, reason = "the mirror is described, never filled")]

mod air;
mod quantities;
#[cfg(test)]
mod tests;
mod unit;

use schemars::JsonSchema;
use serde_json::Value;

use quantities::{
    AirFlow, AirMassFlow, Angle, Area, Conductance, Duration, Facing, HeatFlowPerArea, Length, Power,
    Temperature, ThermalMass, Transmittance, WaterRate,
};
use unit::Unit;

/// The JSON Schema (draft 2020-12) of a study file, indented.
///
/// # Example
/// ```
/// assert!(study::schema().contains("\"floor_area\""));
/// ```
pub fn schema() -> String {
    let mut schema = schemars::schema_for!(StudyFile).to_value();
    without_null(&mut schema);
    format!("{schema:#}")
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
}

/// Title and manner of the study.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Head {
    /// Title, as printed on results.
    #[schemars(length(min = 1, max = 200), example = "Bungalow at Frosthollow")]
    title: String,
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
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum HumidityBasis {
    /// Supercooled water.
    Water,
    /// Ice.
    Ice,
}

/// The house.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct House {
    /// Heated floor area; 5 m2 … 5000 m2.
    #[schemars(example = "140 m2")]
    floor_area: Area,
    /// Ceiling height; 1.8 m … 6 m. Left out: 2.5 m.
    #[schemars(example = "2.5 m")]
    ceiling_height: Option<Length>,
    /// Number of bedrooms; changes nothing in this version.
    #[schemars(range(min = 0, max = 50))]
    bedrooms: u32,
    /// Storeys above ground; changes nothing in this version. Left out: 1.
    #[schemars(range(min = 1, max = 10))]
    storeys: Option<u32>,
    /// Conduction to outdoors, windows included; 5 W/K … 10000 W/K.
    #[schemars(example = "145 W/K")]
    heat_loss: Conductance,
    /// Air leakage as a constant flow; 0 L/s … 1000 L/s.
    #[schemars(example = "12 L/s")]
    air_leakage: AirFlow,
    /// A class of ISO 13790, or a heat capacity per floor area, 20 kJ/m2K … 1000 kJ/m2K. Left out: medium.
    #[schemars(example = &"medium")]
    thermal_mass: Option<ThermalMass>,
    /// Share of the volume that is wet rooms. Left out: 0.15.
    #[schemars(range(min = 0.02, max = 0.6))]
    wet_share: Option<f64>,
    /// Air exchanged through doors between wet rooms and the rest; 0 kg/s … 1 kg/s. Left out: 0.03 kg/s.
    #[schemars(example = "0.03 kg/s")]
    door_exchange: Option<AirMassFlow>,
    /// Heat of lights and appliances per floor area; 0 W/m2 … 50 W/m2. Left out: 2.4 W/m2.
    #[schemars(example = "2.4 W/m2")]
    gains: Option<HeatFlowPerArea>,
    /// The windows. Left out: none.
    window: Option<Vec<Window>>,
    heating: Heating,
    /// Left out: the house is not cooled.
    cooling: Option<Cooling>,
    people: People,
    /// Left out: no sources but people; furnished.
    moisture: Option<Moisture>,
}

/// A window, or several of one kind.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Window {
    /// Where its outside looks to: a name, or degrees clockwise from north, 0 deg … 360 deg.
    #[schemars(example = &"south")]
    facing: Facing,
    /// Area of the opening, frame included; 0.05 m2 … 500 m2.
    #[schemars(example = "9 m2")]
    area: Area,
    /// Thermal transmittance of the whole opening; 0.2 W/m2K … 7 W/m2K.
    #[schemars(example = "1.6 W/m2K")]
    u_value: Transmittance,
    /// Solar heat gain of the whole opening, frame included.
    #[schemars(range(min = 0.0, max = 1.0))]
    solar_gain: f64,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Carrier {
    Gas,
    Electricity,
    Oil,
    Propane,
    Wood,
}

/// Heating.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Heating {
    /// Air temperature kept at least, below that of cooling; 5 °C … 35 °C.
    #[schemars(example = "20.5 °C")]
    set_point: Temperature,
    /// What is bought.
    source: Carrier,
    /// Heat delivered over energy bought; 1.1 at most but for a heat pump on electricity.
    #[schemars(range(min = 0.3, max = 6.0))]
    efficiency: f64,
}

/// Cooling.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Cooling {
    /// Air temperature kept at most, above that of heating; 5 °C … 35 °C.
    #[schemars(example = "25 °C")]
    set_point: Temperature,
    /// What is bought.
    source: Carrier,
    /// Heat removed over energy bought.
    #[schemars(range(min = 0.3, max = 10.0))]
    cop: f64,
    /// Temperature of the coil, below the set point; 1 °C … 20 °C. Left out: 11 °C.
    #[schemars(example = "11 °C")]
    apparatus_dew_point: Option<Temperature>,
    /// Share of the coil's air that passes it unchanged; changes nothing in this version. Left out: 0.1.
    #[schemars(range(min = 0.0, max = 0.5))]
    bypass: Option<f64>,
}

/// Who lives there.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct People {
    /// Number of people.
    #[schemars(range(min = 0, max = 100))]
    count: u32,
    /// When they are in.
    profile: Profile,
    /// Sensible heat of one person who is in; 0 W … 300 W. Left out: 70 W.
    #[schemars(example = "70 W")]
    heat: Option<Power>,
    /// Water vapour of one person who is in; 0 g/h … 300 g/h. Left out: 50 g/h.
    #[schemars(example = "50 g/h")]
    moisture: Option<WaterRate>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Profile {
    /// Out on weekdays for work and school.
    WorkingWeek,
    /// Always in.
    AlwaysHome,
}

/// Water released indoors, and what buffers it. A source that is left out is none.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Moisture {
    /// Showers and baths; 0 kg/day … 50 kg/day.
    #[schemars(example = "1.6 kg/day")]
    showers: Option<WaterRate>,
    /// Cooking and washing up; 0 kg/day … 50 kg/day.
    #[schemars(example = "2.2 L/day")]
    cooking: Option<WaterRate>,
    /// Laundry dried indoors; 0 kg/day … 50 kg/day.
    #[schemars(example = "0.5 kg/day")]
    laundry: Option<WaterRate>,
    /// Plants; 0 kg/day … 50 kg/day.
    #[schemars(example = "0.4 kg/day")]
    plants: Option<WaterRate>,
    /// What takes up and gives back water. Left out: furnished.
    storage: Option<Storage>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Storage {
    /// Furniture, textiles, paper and plaster of a lived-in house.
    Furnished,
    /// Nothing but the air.
    None,
}

/// Airflow, and where it is taken from and brought to.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Ventilation {
    /// Supply and extract flow; 2 L/s … 2000 L/s.
    #[schemars(example = "45 L/s")]
    airflow: AirFlow,
    /// Left out: wet-rooms.
    extract_from: Option<ExtractFrom>,
    /// Left out: rooms.
    supply_to: Option<SupplyTo>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum ExtractFrom {
    /// Kitchen, bathrooms, laundry.
    WetRooms,
    /// The return duct of a furnace.
    ReturnDuct,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum SupplyTo {
    /// Bedrooms and living rooms.
    Rooms,
    /// The return duct of a furnace.
    ReturnDuct,
}

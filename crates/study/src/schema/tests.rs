//! Holds the schema to what the reader does: choices and ranges.

use serde_json::Value;

use crate::keys::TABLES;
use crate::kinds::{Count, Measure, Number};
use crate::specs as s;

fn read_back() -> Value {
    serde_json::from_str(&super::schema()).expect("the schema is JSON")
}

/// The definition that describes a table: the one whose properties are its keys.
fn property(schema: &Value, table: &str, key: &str) -> Value {
    let keys = TABLES.iter().find(|keys| keys.path == table).expect("a known table");
    let mut wanted: Vec<&str> = keys.all().collect();
    wanted.sort_unstable();
    let definitions = schema["$defs"].as_object().expect("definitions");
    let found = definitions.values().filter_map(|definition| definition["properties"].as_object());
    let matching = found.into_iter().find(|properties| {
        let mut names: Vec<&str> = properties.keys().map(String::as_str).collect();
        names.sort_unstable();
        names == wanted
    });
    matching.unwrap_or_else(|| panic!("no definition for {table}"))[key].clone()
}

const APPLIANCES: [(&str, Measure); 2] = [("house", s::RANGE_HOOD), ("house", s::DRYER)];

/// Those of frost, fans, leaks, control, moisture and money.
const OTHERS: [(&str, Measure); 59] = [
    ("unit.geometry", s::MEMBRANE_RESISTANCE),
    ("unit", s::CORE_HEAT_CAPACITY),
    ("unit.fan", s::FAN_POWER),
    ("unit.fan.curve", s::SHUT_OFF),
    ("unit.fan.curve", s::FREE_FLOW),
    ("unit.fan.curve", s::SYSTEM),
    ("unit.filter", s::INTERVAL),
    ("unit.frost", s::FROST_CAPACITY),
    ("unit.frost", s::PREHEAT_TO),
    ("unit.frost", s::PREHEAT_POWER),
    ("unit.frost", s::START_BELOW),
    ("unit.frost", s::END_ABOVE),
    ("unit.frost.timetable", s::AT_OR_BELOW),
    ("unit.frost.timetable", s::DEFROST),
    ("unit.frost.timetable", s::RUN),
    ("unit.bypass", s::INDOOR_ABOVE),
    ("unit.bypass", s::COLDER_BY),
    ("unit.bypass", s::SUPPLY_AT_LEAST),
    ("house", s::AIR_LEAKAGE.rate),
    ("house", s::AIR_LEAKAGE.flow),
    ("house", s::AIR_LEAKAGE.area),
    ("house", s::AIR_LEAKAGE.pressure),
    ("house", s::EAVES_HEIGHT),
    ("site", s::WIND_HEIGHT),
    ("house.envelope", s::PART_AREA),
    ("house.envelope", s::PART_U_VALUE),
    ("house.envelope", s::PART_CONDUCTANCE),
    ("house", s::GROUND_LOSS),
    ("house.heating", s::CAPACITY),
    ("house.heating.set_back", s::OTHER_TEMPERATURE),
    ("house.cooling", s::CAPACITY),
    ("house.cooling.set_up", s::OTHER_TEMPERATURE),
    ("house.airing", s::INDOOR_ABOVE),
    ("house.airing", s::COLDER_BY),
    ("house.airing", s::AIR_CHANGES),
    ("ventilation.control", s::ON),
    ("ventilation.control", s::OFF),
    ("ventilation.control", s::HUMIDITY_AT_OR_ABOVE),
    ("ventilation.control", s::FALLS_PER_K),
    ("ventilation.control", s::FALLS_BELOW),
    ("ventilation.control", s::CO2_LIMIT),
    ("ventilation.control.boost", s::LASTS),
    ("ventilation.blower", s::BLOWER_POWER),
    ("house.bedroom", s::BEDROOM_VOLUME),
    ("house.humidifier", s::HUMIDIFIER_TARGET),
    ("house.humidifier", s::HUMIDIFIER_CAPACITY),
    ("house.dehumidifier", s::DEHUMIDIFIER_TARGET),
    ("house.dehumidifier", s::DEHUMIDIFIER_CAPACITY),
    ("house.dehumidifier", s::ENERGY_FACTOR),
    ("house.moisture", s::NEW_BUILDING),
    ("house.moisture", s::HALVES_IN),
    ("unit.upkeep", s::DRYING),
    ("ventilation.ducts", s::COLD_INDOORS),
    ("ventilation.ducts", s::WARM_OUTDOORS),
    ("economics", s::HORIZON),
    ("bills", s::BILLED_HEATING),
    ("bills", s::OTHER_USES),
    ("bills", s::BILLED_ELECTRICITY),
    ("unit", s::LIFE),
];

#[test]
fn the_schema_states_the_range_of_every_quantity_that_the_reader_allows() {
    let schema = read_back();
    let measures: [(&str, Measure); 43] = [
        ("study", s::LEAD_IN.0),
        ("site", s::LATITUDE),
        ("site", s::LONGITUDE),
        ("site", s::ELEVATION),
        ("site", s::TIME_ZONE),
        ("house", s::FLOOR_AREA),
        ("house", s::CEILING_HEIGHT),
        ("house", s::HEAT_LOSS),
        ("house", s::AIR_LEAKAGE.constant),
        ("house", s::THERMAL_MASS.measure),
        ("house", s::DOOR_EXCHANGE),
        ("house", s::GAINS),
        ("house.window", s::FACING.measure),
        ("house.window", s::WINDOW_AREA),
        ("house.window", s::U_VALUE),
        ("house.heating", s::SET_POINT),
        ("house.cooling", s::SET_POINT),
        ("house.cooling", s::APPARATUS_DEW_POINT),
        ("house.people", s::PERSON_HEAT),
        ("house.people", s::PERSON_MOISTURE),
        ("house.moisture", s::SHOWERS),
        ("house.moisture", s::COOKING),
        ("house.moisture", s::LAUNDRY),
        ("house.moisture", s::PLANTS),
        ("ventilation", s::AIRFLOW.measure),
        ("unit.conductance", s::UA),
        ("unit.conductance", s::VAPOUR),
        ("unit.conductance", s::AT),
        ("unit.effectiveness", s::AT),
        ("unit.rating", s::OUTDOOR),
        ("unit.rating", s::OUTDOOR_HUMIDITY),
        ("unit.rating", s::OUTDOOR_WET_BULB),
        ("unit.rating", s::INDOOR),
        ("unit.rating", s::INDOOR_HUMIDITY),
        ("unit.rating", s::INDOOR_WET_BULB),
        ("unit.rating", s::RATED_AIRFLOW),
        ("unit.rating", s::GROSS_AIRFLOW),
        ("unit.rating", s::NET_AIRFLOW),
        ("unit.rating", s::EXTRACT_AIRFLOW),
        ("unit.rating", s::FAN_POWER),
        ("unit.geometry", s::GAP),
        ("unit.geometry", s::LENGTH),
        ("unit.geometry", s::WIDTH),
    ];
    for (table, measure) in measures.into_iter().chain(OTHERS).chain(APPLIANCES) {
        let property = property(&schema, table, measure.key);
        let range = format!("{} … {}", measure.least, measure.most);
        let description = property["description"].as_str().unwrap_or_default();
        assert!(description.contains(&range), "{table}.{}: {description:?} lacks {range:?}", measure.key);
    }
}

#[test]
fn the_schema_states_the_range_of_every_plain_number_that_the_reader_allows() {
    let schema = read_back();
    let number = |n: Number| (n.key, n.least, n.most);
    let count = |c: Count| (c.key, f64::from(c.least), f64::from(c.most));
    let numbers = [
        ("house", count(s::BEDROOMS)),
        ("house", count(s::STOREYS)),
        ("house", number(s::WET_SHARE)),
        ("house.window", number(s::SOLAR_GAIN)),
        ("house.heating", number(s::EFFICIENCY)),
        ("house.cooling", number(s::COP)),
        ("house.cooling", number(s::BYPASS)),
        ("house.people", count(s::PEOPLE_COUNT)),
        ("unit.effectiveness", number(s::SENSIBLE)),
        ("unit.effectiveness", number(s::LATENT)),
        ("unit", number(s::COUNTER_SHARE)),
        ("unit", number(s::CROSS_LEAKAGE)),
        ("unit", number(s::OUTDOOR_AIR_CORRECTION)),
        ("unit", number(s::BALANCE)),
        ("unit", number(s::HOOD_RECIRCULATION)),
        ("unit.wheel", number(s::CAPACITY_RATIO)),
        ("unit.rating", number(s::APPARENT_SENSIBLE)),
        ("unit.rating", number(s::SENSIBLE_RECOVERY)),
        ("unit.rating", number(s::ADJUSTED_SENSIBLE_RECOVERY)),
        ("unit.rating", number(s::LATENT_RECOVERY)),
        ("unit.rating", number(s::TOTAL_RECOVERY)),
        ("unit.rating", number(s::ADJUSTED_TOTAL_RECOVERY)),
        ("unit.rating", number(s::TEMPERATURE_RATIO)),
        ("unit.rating", number(s::MOISTURE_RATIO)),
        ("unit.rating", number(s::EXHAUST_TEMPERATURE_RATIO)),
        ("unit.rating", number(s::VENTILATION_REDUCTION.0)),
        ("unit.geometry", count(s::CHANNELS)),
        ("unit.fan", number(s::SUPPLY_SHARE)),
        ("unit.filter", number(s::LOAD)),
        ("unit.frost", number(s::TO_COLD_END)),
        ("unit.frost", number(s::RETURNED)),
        ("house", number(s::LEAKAGE_EXPONENT)),
        ("site", count(s::WIND_SHELTER)),
        ("ventilation.control", number(s::ON_SHARE)),
        ("ventilation.control", number(s::LOW_SHARE)),
        ("ventilation.control.boost", number(s::FACTOR)),
        ("ventilation.control.away", number(s::AWAY_SHARE)),
        ("ventilation.extract_from", number(s::WET_ROOMS)),
        ("ventilation.extract_from", number(s::RETURN_DUCT)),
        ("ventilation.supply_to", number(s::ROOMS)),
        ("ventilation.supply_to", number(s::RETURN_DUCT)),
        ("house.bedroom", count(s::SLEEPERS)),
        ("house.bedroom", number(s::BEDROOM_SUPPLY)),
        ("house.window", number(s::EDGE_FACTOR)),
        ("house.cold_corner", number(s::CORNER_FACTOR)),
        ("unit.upkeep", number(s::FOULING)),
        ("house.rooms", count(s::LIVING)),
        ("house.rooms", count(s::KITCHEN)),
        ("house.rooms", count(s::BATHROOMS)),
        ("house.rooms", count(s::OTHER_ROOMS)),
        ("house.envelope", number(s::TEMPERATURE_FACTOR)),
        ("economics", number(s::DISCOUNT_RATE)),
        ("economics", number(s::ESCALATION)),
    ];
    for (table, (key, least, most)) in numbers {
        let property = property(&schema, table, key);
        assert_eq!(property["minimum"].as_f64(), Some(least), "{table}.{key}");
        assert_eq!(property["maximum"].as_f64(), Some(most), "{table}.{key}");
    }
}

fn words_of(schema: &Value, property: &Value) -> Vec<String> {
    let target = property["$ref"].as_str().expect("a reference").trim_start_matches("#/$defs/");
    let definition = &schema["$defs"][target];
    // A word, or a table in its place.
    if let Some(first) = definition["anyOf"].get(0) {
        return words_of(schema, first);
    }
    let listed = definition["enum"].as_array();
    let described = definition["oneOf"].as_array();
    let words = listed.into_iter().flatten().chain(described.into_iter().flatten().map(|one| &one["const"]));
    words.map(|word| word.as_str().expect("a word").to_owned()).collect()
}

#[test]
fn the_schema_offers_the_words_that_the_reader_takes() {
    fn words<T>(choice: &crate::kinds::Choice<T>) -> (&'static str, Vec<&'static str>) {
        (choice.key, choice.options.iter().map(|(word, _)| *word).collect())
    }
    let schema = read_back();
    let choices = [
        ("study", words(&s::SHOW_IN)),
        ("site", words(&s::HUMIDITY_BASIS)),
        ("house.heating", words(&s::SOURCE)),
        ("house.cooling", words(&s::SOURCE)),
        ("house.people", words(&s::PROFILE)),
        ("house.moisture", words(&s::STORAGE)),
        ("ventilation", words(&s::EXTRACT_FROM)),
        ("ventilation", words(&s::SUPPLY_TO)),
        ("unit", words(&s::CORE)),
        ("unit", words(&s::FLOW)),
        ("unit.rating", words(&s::STANDARD)),
        ("unit.fan", words(&s::FAN_POSITION)),
        ("unit.fan", words(&s::FAN_KIND)),
        ("unit.frost", words(&s::STRATEGY)),
        ("house.envelope", words(&s::TO_SIDE)),
        ("house", words(&s::FOUNDATION)),
        ("house", words(&s::FLUE)),
        ("site", words(&s::SURROUNDINGS)),
        ("house.rooms", words(&s::BASEMENT)),
        ("ventilation.blower", words(&s::BLOWER_RUNS)),
        ("house.humidifier", words(&s::HUMIDIFIER_KIND)),
        ("house.cold_corner", words(&s::MATERIAL)),
        ("ventilation.control", words(&s::MODE)),
        ("ventilation", words(&s::CATEGORY)),
        ("ventilation", words(&s::STANDARD_FORM)),
        ("unit", words(&s::LOCATION)),
        ("tariff.gas.band", words(&s::DAYS)),
        ("bills", words(&s::BILLED_HOUSE)),
        ("study", words(&s::CONDITIONS)),
    ];
    for (table, (key, words)) in choices {
        assert_eq!(words_of(&schema, &property(&schema, table, key)), words, "{table}.{key}");
    }
}

/// Where the schema's `else` speaks of a table.
fn else_place(path: &str) -> String {
    if path.is_empty() { String::new() } else { format!("/properties/{}", path.replace('.', "/properties/")) }
}

#[test]
fn a_table_key_is_required_in_the_schema_exactly_where_the_reader_requires_it() {
    let schema = read_back();
    for keys in TABLES {
        let definitions = schema["$defs"].as_object().expect("definitions").values();
        let mut wanted: Vec<&str> = keys.all().collect();
        wanted.sort_unstable();
        let definition = definitions.chain([&schema]).find(|definition| {
            definition["properties"].as_object().is_some_and(|properties| {
                let mut names: Vec<&str> = properties.keys().map(String::as_str).collect();
                names.sort_unstable();
                names == wanted
            })
        });
        let definition = definition.unwrap_or_else(|| panic!("no definition for {}", keys.header));
        let required = definition["required"].as_array().cloned().unwrap_or_default();
        let mut required: Vec<&str> = required.iter().filter_map(Value::as_str).collect();
        let without_conditions =
            schema["else"].pointer(&else_place(keys.path)).and_then(|at| at["required"].as_array());
        required.extend(without_conditions.into_iter().flatten().filter_map(Value::as_str));
        required.sort_unstable();
        let mut expected = keys.required.to_vec();
        expected.sort_unstable();
        assert_eq!(required, expected, "{}", keys.header);
        assert_eq!(definition["additionalProperties"], Value::Bool(false), "{}", keys.header);
    }
}

#[test]
fn the_schema_states_the_range_of_what_is_said_of_every_carrier() {
    let schema = read_back();
    let (carbon, source) = (&schema["$defs"]["Carbon"], &schema["$defs"]["SourceFactors"]);
    for carrier in &s::CARRIERS {
        let range = format!("{} … {}", carrier.carbon.least, carrier.carbon.most);
        assert!(carbon["description"].as_str().unwrap_or_default().contains(&range), "{range}");
        assert!(carbon["properties"][carrier.carbon.key].is_object(), "{}", carrier.carbon.key);
        let property = &source["properties"][carrier.source.key];
        assert_eq!(property["minimum"].as_f64(), Some(carrier.source.least));
        assert_eq!(property["maximum"].as_f64(), Some(carrier.source.most));
    }
    for (price, key) in [(s::UNIT_PRICE, "price"), (s::UPKEEP_COST, "upkeep_cost")] {
        let property = property(&schema, "unit", key);
        let range = format!("0 … {} in the study's currency", price.most);
        let description = property["description"].as_str().unwrap_or_default();
        assert!(description.contains(&range), "{key}: {description:?} lacks {range:?}");
    }
}

//! The JSON Schema names the keys that the reader knows, no more and no fewer.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

use serde_json::Value;

fn keys_of(schema: &Value, node: &Value, path: &str, out: &mut Vec<String>) {
    let node = match node["$ref"].as_str() {
        Some(target) => &schema["$defs"][target.trim_start_matches("#/$defs/")],
        None => node,
    };
    for form in node["anyOf"].as_array().into_iter().flatten() {
        keys_of(schema, form, path, out);
    }
    if !node["items"].is_null() {
        keys_of(schema, &node["items"], path, out);
    }
    for (key, inner) in node["properties"].as_object().into_iter().flatten() {
        let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
        keys_of(schema, inner, &path, out);
        out.push(path);
    }
}

#[test]
fn the_schema_names_every_key_of_the_reader_and_no_other() {
    let schema: Value = serde_json::from_str(&study::schema()).unwrap();
    let mut names = Vec::new();
    keys_of(&schema, &schema, "", &mut names);
    names.sort();
    // What may be a table or a list of tables names its keys twice.
    names.dedup();
    assert_eq!(names, study::known_keys());
}

#[test]
fn the_schema_allows_no_null_since_toml_has_none() {
    assert!(!study::schema().contains("null"));
}

#[test]
fn every_key_has_a_word_of_explanation() {
    fn check(schema: &Value, definition: &Value) {
        for (key, property) in definition["properties"].as_object().into_iter().flatten() {
            let own = property["description"].as_str();
            let target =
                property["$ref"].as_str().map(|name| &schema["$defs"][name.trim_start_matches("#/$defs/")]);
            let described =
                target.is_some_and(|target| !target["description"].is_null() || !target["oneOf"].is_null());
            assert!(own.is_some() || described, "{key}");
        }
    }
    let schema: Value = serde_json::from_str(&study::schema()).unwrap();
    check(&schema, &schema);
    for definition in schema["$defs"].as_object().unwrap().values() {
        check(&schema, definition);
    }
}

#[test]
fn a_unit_says_in_one_of_four_forms_how_well_its_core_exchanges() {
    let schema: Value = serde_json::from_str(&study::schema()).unwrap();
    let choices = schema["$defs"]["Unit"]["oneOf"].as_array().unwrap();
    let forms: Vec<&str> = choices.iter().map(|choice| choice["required"][0].as_str().unwrap()).collect();
    assert_eq!(forms, ["conductance", "effectiveness", "rating", "geometry"]);
    let effectiveness = schema["$defs"]["Effectiveness"]["anyOf"].as_array().unwrap();
    assert_eq!(effectiveness.len(), 2);
    assert_eq!((&effectiveness[1]["type"], &effectiveness[1]["minItems"]), (&"array".into(), &2.into()));
}

#[test]
fn each_strategy_of_frost_allows_its_own_keys_alone() {
    let schema: Value = serde_json::from_str(&study::schema()).unwrap();
    let frost = &schema["$defs"]["Frost"];
    let owned = ["timetable", "returned", "preheat_to", "preheat_power", "start_below", "end_above"];
    let mut words = Vec::new();
    for choice in frost["oneOf"].as_array().unwrap() {
        let properties = &choice["properties"];
        let one = properties["strategy"]["const"].as_str().map(|word| vec![word]);
        let several = properties["strategy"]["enum"].as_array();
        let named: Vec<&str> =
            one.unwrap_or_else(|| several.unwrap().iter().map(|word| word.as_str().unwrap()).collect());
        let allowed: Vec<&str> = owned.into_iter().filter(|key| properties[key].is_null()).collect();
        for word in named {
            let expected: &[&str] = match word {
                "recirculate" => &["timetable", "returned"],
                "preheat" => &["preheat_to", "preheat_power"],
                "supply-off" => &["start_below", "end_above"],
                _ => &[],
            };
            assert_eq!(allowed, expected, "{word}");
            words.push(word);
        }
    }
    let offered = schema["$defs"]["Strategy"]["oneOf"].as_array().unwrap();
    let mut offered: Vec<&str> = offered.iter().map(|one| one["const"].as_str().unwrap()).collect();
    offered.sort_unstable();
    words.sort_unstable();
    assert_eq!(words, offered);
}

#[test]
fn a_fan_of_fixed_speed_needs_its_curve_and_no_other_may_have_one() {
    let schema: Value = serde_json::from_str(&study::schema()).unwrap();
    let choices = schema["$defs"]["Fan"]["oneOf"].as_array().unwrap();
    assert_eq!(choices[0]["required"], serde_json::json!(["kind", "curve"]));
    assert_eq!(choices[0]["properties"]["kind"]["const"], "fixed-speed");
    assert_eq!(choices[1]["properties"]["curve"], Value::Bool(false));
}

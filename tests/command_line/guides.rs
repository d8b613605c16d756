//! `dewledger columns` and `dewledger schema`.

use std::collections::BTreeMap;

use super::room::Room;
use super::tables::Table;

/// Every column of every file that a run and `climates` write is in the guide, in its order, and the guide names no other.
#[test]
fn every_column_that_is_written_is_explained() {
    let room = Room::new();
    room.done(&["new", "."]);
    let tariff = "\n[tariff]\nelectricity = \"0.14 USD/kWh\"\ngas = \"0.045 USD/kWh\"\n";
    room.write("priced.toml", room.read("bungalow.toml") + tariff);
    room.done(&["run", "priced.toml", "--quiet", "--out", "x"]);
    room.done(&["climates", "bungalow.toml", "frosthollow.csv", "--quiet", "--out", "c"]);
    std::fs::copy(room.path.join("c/climates.csv"), room.path.join("x/climates.csv")).unwrap();
    let guide: Vec<BTreeMap<String, String>> =
        serde_json::from_str(&room.done(&["columns", "--json"]).out).unwrap();
    let text = room.done(&["columns"]).out;
    let mut files: Vec<&str> = guide.iter().map(|column| column["file"].as_str()).collect();
    files.dedup();
    assert_eq!(
        files,
        [
            "annual.csv",
            "monthly.csv",
            "hourly/<unit>.csv",
            "ledger/<unit>.csv",
            "climates.csv",
            "bins.csv",
            "money.csv",
            "part-*.parquet",
            "spread.csv",
            "indices.csv",
            "screening.csv",
            "one-at-a-time.csv"
        ]
    );
    let mut written = 0;
    for (name, bytes) in room.files("x") {
        let Some(stem) = name.strip_suffix(".csv") else { continue };
        let pattern = stem.split_once('/').map_or(name.clone(), |(folder, _)| format!("{folder}/<unit>.csv"));
        let explained: Vec<&str> = guide
            .iter()
            .filter(|column| column["file"] == pattern)
            .map(|column| column["name"].as_str())
            .collect();
        let header = Table::read(&String::from_utf8(bytes).unwrap()).header;
        assert_eq!(header, explained, "{name}");
        for column in header {
            assert!(text.lines().any(|line| line.split_whitespace().next() == Some(&column)), "{column}");
        }
        written += 1;
    }
    assert_eq!(written, 26);
    assert!(guide.iter().all(|column| column["meaning"].len() > 5), "a meaning is missing");
}

/// A column whose name ends in a unit has that unit in the guide.
#[test]
fn units_in_names_and_in_the_guide_agree() {
    let room = Room::new();
    let guide: Vec<BTreeMap<String, String>> =
        serde_json::from_str(&room.done(&["columns", "--json"]).out).unwrap();
    let units = [
        ("_kwh", "kWh"),
        ("_pct", "%"),
        ("_c", "°C"),
        ("_pa", "Pa"),
        ("_w", "W"),
        ("_k", "K"),
        ("_j", "J"),
        ("_m3", "m³"),
        ("_l", "L"),
        ("_l_per_day", "L/day"),
        ("_h", "h"),
        ("_money", "money"),
        ("_money_per_kwh", "money/kWh"),
    ];
    for column in &guide {
        // The longest ending holds: what is paid for a kWh is no kWh.
        let ends = units.iter().filter(|(ending, _)| column["name"].ends_with(ending));
        if let Some((_, unit)) = ends.max_by_key(|(ending, _)| ending.len()) {
            assert_eq!(column["unit"], *unit, "{} in {}", column["name"], column["file"]);
        }
    }
}

#[test]
fn the_guide_fits_a_hundred_columns() {
    let text = Room::new().done(&["columns"]).out;
    assert!(text.lines().all(|line| line.chars().count() <= 100));
}

#[test]
fn the_schema_is_json_and_knows_every_key_of_the_starter_study() {
    let room = Room::new();
    let schema: serde_json::Value = serde_json::from_str(&room.done(&["schema"]).out).unwrap();
    assert!(schema["$schema"].as_str().unwrap().starts_with("https://json-schema.org/"));
    for table in ["study", "site", "house", "ventilation", "unit", "tariff", "economics", "bills"] {
        assert!(schema["properties"][table].is_object(), "{table}");
    }
    let text = schema.to_string();
    room.done(&["new", "."]);
    let study = room.read("bungalow.toml");
    let keys = study.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(" = "));
    for (key, _) in keys {
        assert!(text.contains(&format!("\"{key}\":")), "{key}");
    }
}

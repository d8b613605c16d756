//! `dewledger core`: the fit of a rating sheet, one steady point, what is refused.

use serde_json::Value;

use crate::room::{Room, changed};

/// The starter's house with these units.
fn study_of(units: &str) -> String {
    let starter = changed(&[]);
    let house = starter.split("# Two units").next().unwrap().to_owned();
    house + units
}

fn room_of(units: &str) -> Room {
    let room = Room::new();
    room.done(&["new", "."]);
    room.write("study.toml", study_of(units));
    room
}

fn json(room: &Room, arguments: &[&str]) -> Value {
    serde_json::from_str(&room.done(arguments).out).unwrap()
}

fn number(value: &Value, path: &str) -> f64 {
    value.pointer(path).and_then(Value::as_f64).unwrap_or_else(|| panic!("{path} in {value}"))
}

const RATED: &str = r#"
[[unit]]
name = "Rated C"
core = "sensible-plate"
[[unit.rating]]
outdoor = "0 °C"
airflow = "30 L/s"
apparent_sensible = 0.80
sensible_recovery = 0.72
power = "44 W"
[[unit.rating]]
outdoor = "-25 °C"
airflow = "30 L/s"
sensible_recovery = 0.62
power = "60 W"
"#;

#[test]
fn the_demonstration_has_two_cores_to_describe() {
    let room = Room::new();
    let out = room.done(&["core"]).out;
    for words in ["Plate A", "Membrane B", "conductances as stated", "At the study's 45 L/s: 218 W/K"] {
        assert!(out.contains(words), "{words} in {out}");
    }
    // UA of four times the heat capacity flow is 218 W/K only at sea level's density; at 482 m the air is lighter:
    // NTU 218/(0.0513 × 1006) = 4.22, effectiveness 4.22/5.22 = 80.9 %.
    assert!(
        out.contains("dry sensible effectiveness 80.") || out.contains("dry sensible effectiveness 81."),
        "{out}"
    );
    assert!(room.files("").is_empty());
}

#[test]
fn every_point_of_a_rating_sheet_stands_beside_what_the_core_gives_there() {
    let room = room_of(RATED);
    let out = room.done(&["core", "study.toml"]).out;
    for words in [
        "Rated C: fit of the rating sheet",
        "CSA C439, 0 °C, 30 L/s",
        "apparent sensible effectiveness",
        "CSA C439, -25 °C, 30 L/s",
        "not used (frost)",
        "cross-leakage",
        "taken for an effectiveness",
        "Defrost at CSA C439 -25 °C",
    ] {
        assert!(out.contains(words), "{words} in {out}");
    }
    let rows = json(&room, &["core", "study.toml", "--json"]);
    let points = rows[0]["fit"]["points"].as_array().unwrap().clone();
    assert_eq!(points.len(), 3);
    for point in &points {
        let error = number(point, "/fitted") - number(point, "/stated");
        // Frost-free points within one point.
        assert!(point["used"] == Value::Bool(false) || error.abs() < 0.01, "{point}");
    }
    assert_eq!(points[2]["used"], Value::Bool(false));
}

#[test]
fn one_steady_point_is_a_picture_a_unit_and_tables() {
    let room = room_of(RATED);
    let out = room.done(&["core", "study.toml", "--outdoor", "-20 °C", "--out", "o"]).out;
    for words in [
        "outdoor",
        "exhaust",
        "ice formed in the core",
        "coldest place of the plate",
        "cell by cell",
        "without cross-leakage",
        "fresh air",
    ] {
        assert!(out.contains(words), "{words} in {out}");
    }
    let files: Vec<String> = room.files("o").into_keys().collect();
    assert_eq!(files, ["manifest.json", "rated-c.svg"]);
    let svg = room.read("o/rated-c.svg");
    assert!(svg.contains("dry bulb [°C]") && svg.contains("humidity ratio [g/kg]"));
    // The folder is one of ours: it may be replaced, but only when asked.
    room.refuses(
        &["core", "study.toml", "--outdoor", "-20 °C", "--out", "o"],
        "error: o: already exists\n\nhint: choose another folder, or add --force to replace earlier results\n",
    );
    room.done(&["core", "study.toml", "--outdoor", "-10 °C", "--out", "o", "--force"]);
}

#[test]
fn a_dry_core_warms_the_supply_air_by_its_effectiveness() {
    let room = room_of(
        "[[unit]]\nname = \"E\"\ncore = \"sensible-plate\"\n[unit.effectiveness]\nsensible = 0.8\nat = \"45 L/s\"\n",
    );
    let rows = json(
        &room,
        &[
            "core",
            "study.toml",
            "--outdoor",
            "10 °C",
            "--outdoor-humidity",
            "38 %",
            "--indoor",
            "20 °C",
            "--indoor-humidity",
            "20 %",
            "--json",
        ],
    );
    // 10 + 0.8 × 10 K: both airs hold 2.9 g/kg, so both streams carry the same heat.
    let supply_c = number(&rows[0], "/point/supply/dry_bulb_c");
    assert!((supply_c - 18.0).abs() < 0.02, "{supply_c}");
    let cells = number(&rows[0], "/point/cells/supply_c");
    assert!((supply_c - cells).abs() < 0.005, "{supply_c} {cells}");
}

#[test]
fn what_leaks_do_can_be_read_from_a_point() {
    let leaky = |leaks: &str| {
        format!(
            "[[unit]]\nname = \"L\"\ncore = \"sensible-plate\"\n{leaks}\n[unit.effectiveness]\nsensible = 0.7\nat = \"45 L/s\"\n"
        )
    };
    let point = |leaks: &str| {
        let room = room_of(&leaky(leaks));
        json(
            &room,
            &[
                "core",
                "study.toml",
                "--outdoor",
                "5 °C",
                "--outdoor-humidity",
                "54 %",
                "--indoor",
                "20 °C",
                "--indoor-humidity",
                "20 %",
                "--json",
            ],
        )
    };
    let tight = point("");
    let crossing = point("cross_leakage = 0.05");
    let fresh = |rows: &Value| number(&rows[0], "/point/fresh_air_kg_per_s");
    assert!((fresh(&crossing) / fresh(&tight) - 0.95).abs() < 1e-12);
    // Apparent effectiveness ε + e (1 − ε) of a core that sees 5 % less air on both sides: NTU ∝ flow to the power −1 there
    // (its films are those of the delivered flow): NTU 7/3/0.95, ε 0.71066; 0.05 + 0.95 × 0.71066 = 0.72512.
    let supply_c = number(&crossing[0], "/point/supply/dry_bulb_c");
    assert!((supply_c - (5.0 + 15.0 * 0.72512)).abs() < 0.03, "{supply_c}");
    // Own exhaust air: t₁' = (1 − r) t₁ + r t₄, t₄ = t₃ − ε (t₃ − t₁'); r 0.1, ε 0.7: t₁' = (4.5 + 0.1 × 6)/(1 − 0.07)
    // = 5.484 °C, supply 5.484 + 0.7 × 14.516 = 15.645 °C.
    let drawn_back = point("hood_recirculation = 0.1");
    let supply_c = number(&drawn_back[0], "/point/supply/dry_bulb_c");
    assert!((supply_c - 15.645).abs() < 0.03, "{supply_c}");
    assert!((fresh(&drawn_back) / fresh(&tight) - 0.9).abs() < 1e-12);
}

#[test]
fn every_form_of_a_core_runs_through_the_year_and_closes_its_books() {
    let units = format!(
        "{RATED}\n{}",
        r#"
[[unit]]
name = "Cross E"
core = "sensible-plate"
flow = "cross"
balance = 1.2
[unit.geometry]
gap = "2 mm"
length = "0.30 m"
width = "0.20 m"
channels = 60
[[unit]]
name = "Quasi F"
core = "enthalpy-plate"
flow = "quasi-counter"
cross_leakage = 0.03
hood_recirculation = 0.05
[[unit.effectiveness]]
sensible = 0.80
latent = 0.60
at = "30 L/s"
[[unit.effectiveness]]
sensible = 0.74
latent = 0.52
at = "60 L/s"
[unit.fan]
position = "before-core"
power = "80 W"
[unit.frost]
strategy = "preheat"
[[unit]]
name = "Wheel G"
core = "enthalpy-wheel"
[unit.conductance]
ua = "200 W/K"
vapour = "0.15 kg/s"
at = "45 L/s"
"#
    );
    let room = room_of(&units);
    let rows: Value = serde_json::from_str(
        &room.done(&["run", "study.toml", "--hourly", "none", "--json", "--quiet", "--out", "o"]).out,
    )
    .unwrap();
    let rows = rows.as_array().unwrap();
    // Four units with two baselines each, and the house alone.
    assert_eq!(rows.len(), 13);
    for row in rows {
        for book in ["water_residual", "energy_residual", "core_residual"] {
            let residual = row[book].as_f64().unwrap_or(0.0);
            assert!(residual < 1e-9, "{row}");
        }
    }
    let of = |unit: &str, column: &str| {
        let row = rows.iter().find(|row| row["unit"] == unit && row["case"] == "unit").unwrap();
        row[column].as_f64().unwrap()
    };
    assert!(of("Wheel G", "carried_over_l") >= 0.0 && of("Wheel G", "condensate_l") == 0.0);
    assert!(of("Cross E", "condensate_l") > 10.0 && of("Cross E", "carried_over_l") == 0.0);
    assert!(of("Cross E", "infiltration_m3") > of("Rated C", "infiltration_m3"));
    // Net of cross-leakage and of own exhaust air: 0.97 × 0.95 of what is delivered, where no ice narrows the core.
    let share = of("Quasi F", "outdoor_air_m3") / of("Quasi F", "delivered_air_m3");
    assert!((share - 0.97 * 0.95).abs() < 1e-4, "{share}");
}

#[test]
fn a_contradictory_sheet_is_refused_with_the_reason() {
    let room = room_of(&RATED.replace("sensible_recovery = 0.72", "sensible_recovery = 0.85"));
    room.refuses(
        &["core", "study.toml"],
        "error: study.toml: unit `Rated C`: point 1 (CSA C439 winter, 0 °C): sensible recovery 0.850 is above apparent \
         sensible effectiveness 0.800; fan heat alone cannot do that: fans, leaks and the case only raise the apparent \
         figure\n",
    );
    let room = room_of(&RATED.replace("apparent_sensible = 0.80", "apparent_sensible = 0.99"));
    room.refuses(
        &["core", "study.toml"],
        "error: study.toml: unit `Rated C`: the sheet: cross-leakage 0.239 is above 0.1; with that much extract air in \
         the supply, figures tell little of the core\n",
    );
}

#[test]
fn slips_on_the_command_line_are_said_with_what_would_be_right() {
    let room = Room::new();
    room.refuses(
        &["core", "--outdoor", "-20"],
        "error: --outdoor \"-20\": a temperature needs a unit\n\nhint: units that fit: °C, K, °F\n",
    );
    room.refuses(&["core", "--outdoor", "95 °C"], "error: --outdoor: 95.0 °C is outside -60 to 60 °C\n");
    room.refuses(
        &["core", "--unit", "Plate B"],
        "error: --unit \"Plate B\": the study has no unit of this name\n\nhint: it has \"Plate A\", \"Membrane B\", \"Plate A preheated\"\n",
    );
    let said = room.run(&["core", "--outdoor", "5 °C", "--indoor-humidity", "140 %"]);
    assert_eq!(said.code, 2, "{}", said.err);
    assert!(said.err.contains("--indoor-humidity"), "{}", said.err);
}

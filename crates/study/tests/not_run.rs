//! What a study may say and no run follows yet is refused, and what a study leaves open is run as before.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::starter_with;
use study::build::{BuildError, build, size_unit};
use weather::{Overrides, WeatherYear};

fn year() -> WeatherYear {
    let bytes = include_bytes!("../../../weather-samples/frosthollow.csv");
    weather::read(bytes, &Overrides::default()).expect("an invented year").0
}

#[test]
fn what_no_run_follows_yet_is_refused_by_its_path() {
    let year = year();
    for (after, line, path) in CASES {
        let study = starter_with(&[(after, &format!("{after}{line}\n"))]);
        let error = build(&study, &year).expect_err(path);
        assert_eq!(error, BuildError::NotRun { key: path.to_owned() });
    }
    let study = starter_with(&[("\"12 L/s\"", "\"2.5 1/h @50Pa\"")]);
    let leaks = BuildError::NotRun { key: "house.air_leakage".to_owned() };
    assert_eq!(build(&study, &year).expect_err("leaks"), leaks);
    assert_eq!(size_unit(&study, &study.units[0], 300.0).expect_err("leaks"), leaks);
    let study = starter_with(&[
        ("\"12 L/s\"", "\"2.5 1/h @50Pa\""),
        ("airflow = \"45 L/s\"", "airflow = \"by-standard\"\ninfiltration_credit = true"),
    ]);
    let credit = BuildError::NotRun { key: "ventilation.infiltration_credit".to_owned() };
    assert_eq!(build(&study, &year).expect_err("a credit"), credit);
    let error = BuildError::NotRun { key: "house.foundation".to_owned() }.to_string();
    let text = "`house.foundation` is read and checked, but no run of this version follows it: leave it out";
    assert_eq!(error, text);
}

const HOUSE: &str = "[house]\n";
const HEATING: &str = "[house.heating]\n";
const COOLING: &str = "set_point = \"25 °C\"\n";
const AIR: &str = "[ventilation]\n";
const PLATE: &str = "core = \"sensible-plate\"\n";

const CASES: [(&str, &str, &str); 15] = [
    (HOUSE, "foundation = \"basement\"", "house.foundation"),
    (HOUSE, "ground_loss = \"30 W/K\"", "house.ground_loss"),
    (HEATING, "capacity = \"9 kW\"", "house.heating.capacity"),
    (
        HEATING,
        "set_back = { temperature = \"17 °C\", from = \"22:00\", to = \"06:00\" }",
        "house.heating.set_back",
    ),
    (COOLING, "capacity = \"5 kW\"", "house.cooling.capacity"),
    (
        COOLING,
        "set_up = { temperature = \"28 °C\", from = \"08:00\", to = \"16:00\" }",
        "house.cooling.set_up",
    ),
    (AIR, "ducts.cold_indoors = \"3 W/K\"", "ventilation.ducts.cold_indoors"),
    (AIR, "ducts.warm_outdoors = \"3 W/K\"", "ventilation.ducts.warm_outdoors"),
    (AIR, "control.mode = \"co2\"\ncontrol.co2_limit = \"900 ppm\"", "ventilation.control.mode"),
    (AIR, "control.boost.factor = 1.5", "ventilation.control.boost"),
    (AIR, "control.away = { share = 0.3, days = [\"07-12..07-26\"] }", "ventilation.control.away"),
    (AIR, "blower.power = \"300 W\"", "ventilation.blower"),
    (HOUSE, "bedroom = {}", "house.bedroom"),
    (HOUSE, "airing.air_changes = \"3 1/h\"", "house.airing"),
    (PLATE, "location = \"attic\"", "unit.Plate A.location"),
];

#[test]
fn the_flow_of_a_rule_is_run_as_one_that_is_stated() {
    let year = year();
    // By hand: 0.15 × 140 + 3.5 × 4 = 35 L/s.
    let fans_and_frost = [("airflow = \"45 L/s\"", "airflow = \"35 L/s\"")];
    let stated = build(&starter_with(&fans_and_frost), &year).expect("a flow");
    let rule = build(&starter_with(&[("airflow = \"45 L/s\"", "airflow = \"by-standard\"")]), &year);
    assert_eq!(rule.expect("a rule"), stated);
}

#[test]
fn what_says_the_same_as_what_is_left_out_is_run() {
    let year = year();
    let plain = build(&starter_with(&[]), &year).expect("the starter");
    for (after, line) in [
        (HOUSE, "foundation = \"slab\""),
        (HOUSE, "ground_loss = \"0 W/K\""),
        (HOUSE, "flue = \"open-flue\""),
        (HOUSE, "height = \"3 m\""),
        ("[site]\n", "wind_shelter = 1"),
        (AIR, "ducts.cold_indoors = \"0 W/K\""),
        (AIR, "control.mode = \"continuous\""),
        (PLATE, "location = \"heated-room\""),
    ] {
        let study = starter_with(&[(after, &format!("{after}{line}\n"))]);
        assert_eq!(build(&study, &year).expect(line), plain);
    }
}

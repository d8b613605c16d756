//! Humidifier, dehumidifier, glass, cold corner, blower, bedroom, a new building and upkeep: read, built, and what is said when they are wrong.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

mod said;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use said::{after, assert_says, starter_with};
use simulation::{Indoors, PaneNumbers, Washing};
use study::build::{Built, build};
use weather::{Overrides, WeatherYear};

const MOISTURE: &str = "[house.moisture]";
const AIR: &str = "[ventilation]\n";
const PLATE: &str = "core = \"sensible-plate\"\n";

fn year() -> WeatherYear {
    let bytes = include_bytes!("../../../weather-samples/frosthollow.csv");
    weather::read(bytes, &Overrides::default()).expect("an invented year").0
}

fn built(changes: &[(&str, &str)]) -> Built {
    build(&starter_with(changes), &year()).unwrap_or_else(|error| panic!("{changes:?}: {error}"))
}

fn before_moisture(tables: &str) -> Built {
    built(&[(MOISTURE, &format!("{tables}\n{MOISTURE}"))])
}

#[test]
fn what_is_left_out_is_not_there_but_the_windows_sweat() {
    let built = built(&[]);
    let n = built.house.indoors.numbers;
    assert_eq!(
        (n.humidifier_kg_per_s, n.dehumidifier_kg_per_s, n.blower_w, n.sleepers),
        (0.0, 0.0, 0.0, 0.0)
    );
    assert_eq!(n.drying_kg_per_s, 0.0);
    assert_eq!(built.corner.temperature_factor, 0.75);
    assert!(built.units.iter().all(|(_, unit)| unit.frost.washing.is_none()));
    // The starter's windows are of one kind: 18 m² of 1.6 W/(m² K), inside at 1 − 0.13 × 1.6.
    let Indoors { panes, .. } = built.house.indoors;
    assert_relative_eq!(panes[0].area_m2, study_windows_m2(), max_relative = 1e-12);
    assert_abs_diff_eq!(panes[0].centre_factor, 0.792, epsilon = 1e-12);
    assert_eq!(panes[0].edge_factor, 0.6);
    assert_eq!(panes[1], PaneNumbers::NONE);
}

fn study_windows_m2() -> f64 {
    starter_with(&[]).house.windows.iter().map(|window| window.area_m2).sum()
}

#[test]
fn humidifier_and_dehumidifier_reach_the_run_in_si() {
    let built = before_moisture(
        "[house.humidifier]\ntarget = \"32 %\"\ncapacity = \"8.64 kg/day\"\nkind = \"steam\"\n\
         [house.dehumidifier]\ntarget = \"55 %\"\ncapacity = \"17.28 L/day\"\nenergy_factor = \"2 L/kWh\"",
    );
    let n = built.house.indoors.numbers;
    assert_relative_eq!(n.humidify_to, 0.32, max_relative = 1e-12);
    assert_relative_eq!(n.humidifier_kg_per_s, 1e-4, max_relative = 1e-12);
    assert_eq!(n.humidifier_steam, 1.0);
    assert_relative_eq!(n.dry_to, 0.55, max_relative = 1e-12);
    assert_relative_eq!(n.dehumidifier_kg_per_s, 2e-4, max_relative = 1e-12);
    // Half a kilowatt-hour a litre.
    assert_relative_eq!(n.dehumidifier_j_per_kg, 1.8e6, max_relative = 1e-12);
}

#[test]
fn a_new_building_halves_in_its_time() {
    let built = built(&[(
        "[house.moisture]\n",
        "[house.moisture]\nnew_building = \"8.64 kg/day\"\nnew_building_halves_in = \"100 d\"\n",
    )]);
    let n = built.house.indoors.numbers;
    assert_relative_eq!(n.drying_kg_per_s, 1e-4, max_relative = 1e-12);
    assert_relative_eq!((-n.drying_per_h * 2400.0).exp(), 0.5, max_relative = 1e-12);
}

#[test]
fn a_blower_runs_with_the_unit_where_its_air_passes_the_return_duct() {
    let by_duct = built(&[
        (AIR, "[ventilation]\nblower.power = \"350 W\"\n"),
        ("supply_to = \"rooms\"", "supply_to = \"return-duct\""),
    ]);
    let n = by_duct.house.indoors.numbers;
    assert_eq!((n.blower_w, n.blower_always, n.blower_with_unit), (350.0, 0.0, 1.0));
    // Air is brought to the duct and taken from the wet rooms: nothing goes in a circle. The coil's water evaporates again.
    assert_eq!((n.through_return_duct, n.re_evaporates), (0.0, 1.0));
    // 65 W/m² of 140 m², assumed where no capacity is given.
    assert_relative_eq!(n.heating_w, 9100.0, max_relative = 1e-12);
    let alone = built(&[(AIR, "[ventilation]\nblower.power = \"350 W\"\n")]).house.indoors.numbers;
    assert_eq!((alone.blower_with_unit, alone.re_evaporates), (0.0, 0.0));
    let both = built(&[
        (AIR, "[ventilation]\nblower = { power = \"350 W\", runs = \"with-heating\" }\n"),
        ("supply_to = \"rooms\"", "supply_to = { rooms = 0.2, return_duct = 0.8 }"),
        ("extract_from = \"wet-rooms\"", "extract_from = { wet_rooms = 0.5, return_duct = 0.5 }"),
    ]);
    assert_eq!(both.house.indoors.numbers.through_return_duct, 0.5);
}

#[test]
fn windows_of_many_kinds_become_four() {
    let more: Vec<String> = [("0.8", 1.0), ("1.0", 1.0), ("2.8", 2.0), ("3.0", 2.0), ("5.8", 1.0)]
        .iter()
        .map(|(u, area)| {
            format!("[[house.window]]\nfacing = \"north\"\narea = \"{area} m2\"\nu_value = \"{u} W/m2K\"\nsolar_gain = 0.4\n")
        })
        .collect();
    let panes = before_moisture(&more.concat()).house.indoors.panes;
    // 0.8 with 1.0, and 2.8 with 3.0, are nearest: means by area.
    let areas = panes.map(|pane| pane.area_m2);
    assert_eq!([areas[0], areas[2], areas[3]], [2.0, 4.0, 1.0]);
    assert_abs_diff_eq!(panes[0].centre_factor, 1.0 - 0.13 * 0.9, epsilon = 1e-12);
    assert_abs_diff_eq!(panes[2].centre_factor, 1.0 - 0.13 * 2.9, epsilon = 1e-12);
    // The edge is never warmer than the centre.
    assert_abs_diff_eq!(panes[3].edge_factor, 1.0 - 0.13 * 5.8, epsilon = 1e-12);
}

#[test]
fn a_core_is_washed_on_its_day() {
    let washing = |keys: &str| {
        let built = built(&[(PLATE, &format!("{PLATE}upkeep = {{ {keys} }}\n"))]);
        built.units[0].1.frost.washing
    };
    // 1 June is the 152nd day of a common year: hour 151 × 24.
    assert_eq!(washing(""), Some(Washing { at_h: 3624.0, out_h: 42.0, fouling: 0.03, left: 0.0 }));
    let given = washing("wash_on = \"09-15\", drying = \"1 d\", fouling = 0.1");
    assert_eq!(given, Some(Washing { at_h: 257.0 * 24.0, out_h: 24.0, fouling: 0.1, left: 0.0 }));
}

#[test]
fn a_bedroom_reaches_the_run() {
    let n = before_moisture("[house.bedroom]\nvolume = \"36 m3\"\nfrom = \"23:00\"").house.indoors.numbers;
    assert_eq!((n.sleepers, n.bedroom_from_h, n.bedroom_to_h), (2.0, 23.0, 7.0));
    assert_eq!(n.bedroom_supply_share, 0.25);
}

fn said_of(tables: &str) -> String {
    after(&[(MOISTURE, &format!("{tables}\n{MOISTURE}"))])
}

#[test]
fn what_is_wrong_is_said() {
    assert_says(
        &said_of("[house.humidifier]\ntarget = \"50 %\"\n[house.dehumidifier]\ntarget = \"45 %\""),
        &[
            "error: `house.dehumidifier.target`: 45 % is not above the 50 % that the humidifier keeps\n",
            "hint: the two would work against each other: leave a gap between them\n",
        ],
    );
    assert_says(&said_of("[house.humidifier]"), &["error: `[house.humidifier]` lacks the key `target`\n"]);
    assert_says(
        &said_of("[house.dehumidifier]\ntarget = \"55 %\"\nenergy_factor = \"1.8\""),
        &["`house.dehumidifier.energy_factor`", "L/kWh"],
    );
    assert_says(
        &said_of("[house.cold_corner]\nmaterial = \"concrete\""),
        &[
            "`concrete` is no choice here\n",
            "`very-sensitive`, `sensitive`, `medium-resistant` or `resistant`",
        ],
    );
    assert_says(
        &said_of("[house.cold_corner]\ntemperature_factor = 75"),
        &["must lie between 0.3 and 0.98\n", "hint: write a fraction, not percent: 0.75\n"],
    );
    assert_says(
        &after(&[(PLATE, &format!("{PLATE}upkeep = {{ wash_on = \"06-31\" }}\n"))]),
        &["`06-31` is no day of the year\n", "hint: write month and day: \"06-01\" for the first of June\n"],
    );
    assert_says(
        &after(&[(PLATE, &format!("{PLATE}upkeep = {{ wash_on = 6 }}\n"))]),
        &["a day of the year is needed\n", "this is a plain number\n"],
    );
    assert_says(
        &after(&[(PLATE, &format!("{PLATE}upkeep = {{ washed_on = \"06-01\" }}\n"))]),
        &["has no key `washed_on`\n", "hint: did you mean `wash_on`?\n"],
    );
}

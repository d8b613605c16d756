//! What a study may say and no run follows yet is refused, and what a study leaves open is run as before.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::starter_with;
use study::build::{BuildError, build};
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
    let error = BuildError::NotRun { key: "house.foundation".to_owned() }.to_string();
    let text = "`house.foundation` is read and checked, but no run of this version follows it: leave it out";
    assert_eq!(error, text);
}

const HOUSE: &str = "[house]\n";
const AIR: &str = "[ventilation]\n";
const PLATE: &str = "core = \"sensible-plate\"\n";

const CASES: [(&str, &str, &str); 2] =
    [(AIR, "blower.power = \"300 W\"", "ventilation.blower"), (HOUSE, "bedroom = {}", "house.bedroom")];

#[test]
fn what_says_the_same_as_what_is_left_out_is_run() {
    let year = year();
    let plain = build(&starter_with(&[]), &year).expect("the starter");
    for (after, line) in [
        (HOUSE, "foundation = \"slab\""),
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

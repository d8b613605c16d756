//! What a study says is run as what it leaves open, where both come to the same.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::starter_with;
use study::build::build;
use weather::{Overrides, WeatherYear};

fn year() -> WeatherYear {
    let bytes = include_bytes!("../../../weather-samples/frosthollow.csv");
    weather::read(bytes, &Overrides::default()).expect("an invented year").0
}

const HOUSE: &str = "[house]\n";
const AIR: &str = "[ventilation]\n";
const PLATE: &str = "core = \"sensible-plate\"\n";

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

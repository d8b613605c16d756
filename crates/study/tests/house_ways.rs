//! What a study says of the ways of the air, the blower and the bedroom, read to SI, key by key; and what is filled in.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

mod said;

use approx::assert_relative_eq;
use said::{assert_filled_in, starter_with};
use study::build::build;
use study::{Bedroom, Blower, BlowerRuns, ClockHours, ExtractFrom, Study, SupplyTo};
use weather::Overrides;

const EXTRACT: &str = "extract_from = \"wet-rooms\"         # or \"return-duct\"";
const SUPPLY: &str = "supply_to = \"rooms\"                # or \"return-duct\"";

fn with_ways(extract: &str, supply: &str) -> Study {
    starter_with(&[
        (EXTRACT, &format!("extract_from = {extract}")),
        (SUPPLY, &format!("supply_to = {supply}")),
    ])
}

const SHARES: (&str, &str) = ("{ wet_rooms = 0.7, return_duct = 0.3 }", "{ rooms = 0.4, return_duct = 0.6 }");

#[test]
fn air_is_taken_and_brought_by_a_word_or_in_shares() {
    for (extract, supply, from, to) in [
        ("\"wet-rooms\"", "\"rooms\"", ExtractFrom::WET_ROOMS, SupplyTo::ROOMS),
        ("\"return-duct\"", "\"return-duct\"", ExtractFrom::RETURN_DUCT, SupplyTo::RETURN_DUCT),
        (
            SHARES.0,
            SHARES.1,
            ExtractFrom { wet_rooms: 0.7, return_duct: 0.3 },
            SupplyTo { rooms: 0.4, return_duct: 0.6 },
        ),
        (
            "{ wet_rooms = 1, return_duct = 0 }",
            "{ rooms = 0.0, return_duct = 1.0 }",
            ExtractFrom::WET_ROOMS,
            SupplyTo::RETURN_DUCT,
        ),
    ] {
        let ventilation = with_ways(extract, supply).ventilation;
        assert_eq!((ventilation.extract_from, ventilation.supply_to), (from, to));
    }
}

#[test]
fn shares_reach_the_unit_that_is_run() {
    let bytes = include_bytes!("../../../weather-samples/frosthollow.csv");
    let year = weather::read(bytes, &Overrides::default()).expect("an invented year").0;
    let wet_shares = |extract: &str, supply: &str| {
        let built = build(&with_ways(extract, supply), &year).expect("it is run");
        let unit = built.units[0].1.unit;
        (unit.extract_wet_share, unit.supply_wet_share)
    };
    // By hand: the return duct spreads its air by volume, 0.15 of it to the wet rooms; 0.6 × 0.15 = 0.09.
    assert_eq!(wet_shares("\"wet-rooms\"", "\"rooms\""), (1.0, 0.0));
    assert_eq!(wet_shares("\"return-duct\"", "\"return-duct\""), (0.0, 0.15));
    let (extract, supply) = wet_shares(SHARES.0, SHARES.1);
    assert_eq!(extract, 0.7);
    assert_relative_eq!(supply, 0.09, max_relative = 1e-12);
}

#[test]
fn a_blower_runs_with_the_unit_where_that_uses_its_duct() {
    let none = ("ventilation.blower = none", "assumed: no blower of a furnace, since none is given");
    assert_filled_in(&starter_with(&[]), "ventilation.blower", &[none]);
    assert_eq!(starter_with(&[]).ventilation.blower, None);
    for (word, runs) in [
        ("always", BlowerRuns::Always),
        ("with-unit", BlowerRuns::WithUnit),
        ("with-heating", BlowerRuns::WithHeating),
    ] {
        let line = format!("[ventilation]\nblower = {{ power = \"0.35 kW\", runs = \"{word}\" }}\n");
        let blower = starter_with(&[("[ventilation]\n", &line)]).ventilation.blower;
        assert_eq!(blower, Some(Blower { power_w: 350.0, runs }));
    }
    let blower = ("[ventilation]\n", "[ventilation]\nblower.power = \"350 W\"\n");
    let apart = starter_with(&[blower]);
    assert_eq!(apart.ventilation.blower.map(|blower| blower.runs), Some(BlowerRuns::WithHeating));
    let why = (
        "ventilation.blower.runs = with-heating",
        "common practice: none of the unit's air passes the return duct",
    );
    assert_filled_in(&apart, "ventilation.blower", &[why]);
    let joined = starter_with(&[blower, (EXTRACT, "extract_from = { wet_rooms = 0.9, return_duct = 0.1 }")]);
    assert_eq!(joined.ventilation.blower.map(|blower| blower.runs), Some(BlowerRuns::WithUnit));
    let why = (
        "ventilation.blower.runs = with-unit",
        "common practice: the blower carries the unit's air where that passes the return duct",
    );
    assert_filled_in(&joined, "ventilation.blower", &[why]);
}

fn with_bedroom(table: &str) -> Study {
    starter_with(&[("[house.moisture]", &format!("[house.bedroom]\n{table}\n[house.moisture]"))])
}

#[test]
fn a_bedroom_is_read() {
    let study = with_bedroom(
        "people = 1\nvolume = \"900 ft3\"\nsupply_share = 0.2\nfrom = \"23:00\"\nto = \"06:00\"",
    );
    let bedroom = study.house.bedroom.expect("a bedroom");
    assert_eq!((bedroom.people, bedroom.supply_share), (1, 0.2));
    // 1 ft = 0.3048 m, exact.
    assert_relative_eq!(bedroom.volume_m3, 900.0 * 0.3048f64.powi(3), max_relative = 1e-12);
    assert_eq!(bedroom.hours, ClockHours { from_h: 23, to_h: 6 });
}

#[test]
fn what_a_bedroom_leaves_open_is_listed_with_its_reason() {
    let none = ("house.bedroom = none", "assumed: no bedroom is looked at by itself, since none is given");
    assert_filled_in(&starter_with(&[]), "house.bedroom", &[none]);
    let study = with_bedroom("");
    // By hand: three bedrooms and one living room.
    let hours = ClockHours { from_h: 22, to_h: 7 };
    let expected = Bedroom { people: 2, volume_m3: 30.0, supply_share: 0.25, hours };
    assert_eq!(study.house.bedroom, Some(expected));
    let open = [
        ("house.bedroom.people = 2", "assumed: two people sleep in it"),
        ("house.bedroom.volume = 30 m3", "assumed: 12 m² and 2.5 m high"),
        (
            "house.bedroom.supply_share = 0.25",
            "assumed: supply air is shared alike among the bedrooms and the living room",
        ),
        ("house.bedroom.from = 22:00", "assumed: a night of nine hours"),
        ("house.bedroom.to = 07:00", "assumed: a night of nine hours"),
    ];
    assert_filled_in(&study, "house.bedroom", &open);
    let alone = starter_with(&[
        ("count = 4", "count = 1"),
        ("[house.moisture]", "[house.bedroom]\n[house.moisture]"),
    ]);
    assert_eq!(alone.house.bedroom.map(|bedroom| bedroom.people), Some(1));
}

//! What a study says of leaks and wind, read to SI, key by key; and what is filled in.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

mod said;

use approx::assert_relative_eq;
use said::{assert_filled_in, starter_with};
use study::{AirLeakage, Flue, LeakageTest, Study, Surroundings};

/// The starter's house, 140 m² × 2.5 m, with another leakage.
fn leaky(leakage: &str) -> Study {
    starter_with(&[("air_leakage = \"12 L/s\"", &format!("air_leakage = {leakage}\n"))])
}

fn test_of(study: &Study) -> LeakageTest {
    match study.house.air_leakage {
        AirLeakage::Tested(test) => test,
        AirLeakage::Constant { .. } => panic!("a pressure test"),
    }
}

#[test]
fn a_constant_flow_is_what_it_was() {
    let study = leaky("\"12 L/s\"");
    assert_eq!(study.house.air_leakage, AirLeakage::Constant { m3_per_s: 0.012 });
    assert_eq!(study.house.air_leakage.constant_m3_per_s(), Some(0.012));
    assert_relative_eq!(
        leaky("\"25 cfm\"").house.air_leakage.constant_m3_per_s().expect("constant"),
        25.0 * 0.028316846592 / 60.0,
        max_relative = 1e-15
    );
    for path in ["house.leakage", "house.flue", "house.height", "site.surroundings", "site.wind"] {
        assert_filled_in(&study, path, &[]);
    }
    let site = study.site.wind;
    assert_eq!((site.surroundings, site.shelter_class, site.height_m), (Surroundings::Suburban, 3, None));
}

#[test]
fn a_pressure_test_is_a_flow_at_its_pressure() {
    // By hand: 350 m³ × 2.5 1/h = 875 m³/h.
    for (text, flow_m3_per_s, pressure_pa) in [
        ("2.5 1/h @50Pa", 875.0 / 3600.0, 50.0),
        ("2.5 ACH @ 50 Pa", 875.0 / 3600.0, 50.0),
        ("875 m3/h @50Pa", 875.0 / 3600.0, 50.0),
        ("250 L/s @50Pa", 0.25, 50.0),
        ("530 cfm @0.2 in w.g.", 530.0 * 0.028316846592 / 60.0, 49.817782),
        ("0.1 m3/s@4Pa", 0.1, 4.0),
    ] {
        let test = test_of(&leaky(&format!("\"{text}\"")));
        assert_relative_eq!(test.flow_m3_per_s, flow_m3_per_s, max_relative = 1e-12);
        assert_relative_eq!(test.pressure_pa, pressure_pa, max_relative = 1e-7);
        assert_eq!(test.exponent, 0.65);
        assert_eq!(leaky(&format!("\"{text}\"")).house.air_leakage.constant_m3_per_s(), None);
    }
}

#[test]
fn a_leakage_area_is_the_flow_through_it_at_its_pressure() {
    // By another calculation (power law in double precision, air of 1.2 kg/m³): a house of 500 m³ with 3 air changes at 50 Pa
    // has 0.0806858 m³/s at 4 Pa and 312.495 cm², 0.146372 m³/s at 10 Pa and 586.803 cm².
    for (text, flow_m3_per_s, pressure_pa) in [
        ("312.495 cm2 @4Pa", 0.0806858, 4.0),
        ("586.803 cm2 @10Pa", 0.146372, 10.0),
        ("48.43682 in2 @4Pa", 0.0806858, 4.0),
    ] {
        let test = test_of(&leaky(&format!("\"{text}\"")));
        assert_relative_eq!(test.flow_m3_per_s, flow_m3_per_s, max_relative = 5e-6);
        assert_eq!(test.pressure_pa, pressure_pa);
        // The same power law from the other side: 3 × 500 m³/h at 50 Pa.
        let coefficient = test.flow_m3_per_s / test.pressure_pa.powf(test.exponent);
        assert_relative_eq!(coefficient * 50f64.powf(0.65), 1500.0 / 3600.0, max_relative = 1e-5);
    }
    assert_eq!(LeakageTest::flow_through_area_m3_per_s(0.03, 50.0), None);
}

#[test]
fn what_drives_the_leakage_is_read() {
    let study = starter_with(&[
        (
            "air_leakage = \"12 L/s\"",
            "leakage_exponent = 0.6\nflue = \"open-flue\"\nheight = \"16 ft\"\nair_leakage = \"3 1/h @50Pa\"",
        ),
        ("[site]\n", "[site]\nsurroundings = \"rural\"\nwind_shelter = 2\nwind_height = \"2 m\"\n"),
    ]);
    assert_eq!(test_of(&study).exponent, 0.6);
    assert_eq!(study.house.flue, Flue::Open);
    assert_relative_eq!(study.house.eaves_height_m, 16.0 * 0.3048, max_relative = 1e-12);
    let wind = study.site.wind;
    assert_eq!((wind.surroundings, wind.shelter_class, wind.height_m), (Surroundings::Rural, 2, Some(2.0)));
    for (word, expected) in
        [("open", Surroundings::Open), ("suburban", Surroundings::Suburban), ("urban", Surroundings::Urban)]
    {
        let study = starter_with(&[("[site]\n", &format!("[site]\nsurroundings = \"{word}\"\n"))]);
        assert_eq!(study.site.wind.surroundings, expected);
    }
}

#[test]
fn the_eaves_are_as_high_as_the_storeys() {
    let two = starter_with(&[("storeys = 1", "storeys = 2")]);
    assert_eq!(two.house.eaves_height_m, 5.0);
}

#[test]
fn what_a_tested_house_leaves_open_is_listed_with_its_reason() {
    let study = leaky("\"2.5 1/h @50Pa\"");
    let exponent = (
        "house.leakage_exponent = 0.65",
        "common practice: the mean exponent of many houses that were tested",
    );
    assert_filled_in(&study, "house.leakage_exponent", &[exponent]);
    assert_filled_in(
        &study,
        "house.flue",
        &[("house.flue = none", "assumed: no chimney, since none is given")],
    );
    assert_filled_in(
        &study,
        "house.height",
        &[("house.height = 2.5 m", "assumed: `storeys` times `ceiling_height`")],
    );
    let site = [
        ("site.surroundings = suburban", "common practice: most houses stand among others"),
        ("site.wind_shelter = 3", "common practice: the middle class, a house across the street"),
        (
            "site.wind_height = 10 m",
            "common practice: the height of weather services, unless the weather file says another",
        ),
    ];
    assert_filled_in(&study, "site.surroundings", &site[..1]);
    assert_filled_in(&study, "site.wind", &site[1..]);
}

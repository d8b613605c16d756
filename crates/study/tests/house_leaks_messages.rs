//! The whole text that a user reads when something is wrong with leaks or wind. These texts are part of the interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::{after, assert_says};

fn leaky(leakage: &str) -> String {
    after(&[("\"12 L/s\"", leakage)])
}

#[test]
fn an_air_change_rate_without_the_pressure_of_its_test() {
    let expected = "\
error: `house.air_leakage`: an air change rate needs the pressure of its test
  --> bungalow.toml:18:15
   |
18 | air_leakage = \"2.5 1/h\"             # through cracks, taken as constant
   |               ^^^^^^^^^ at what pressure?

hint: write a pressure test like \"2.5 1/h @50Pa\", \"900 m3/h @50Pa\" or \"450 cm2 @4Pa\"

1 problem in bungalow.toml
";
    assert_eq!(leaky("\"2.5 1/h\""), expected);
    assert_says(
        &leaky("\"450 cm2\""),
        &["error: `house.air_leakage`: a leakage area needs the pressure of its test\n"],
    );
}

#[test]
fn a_pressure_test_that_cannot_be_read() {
    const FORMS: &str =
        "hint: write a pressure test like \"2.5 1/h @50Pa\", \"900 m3/h @50Pa\" or \"450 cm2 @4Pa\"\n";
    for (text, message) in [
        ("2.5 1/h @50", "a pressure needs a unit"),
        ("2.5 1/h @", "a pressure is needed, but there is no number at its start"),
        ("2.5 1/h @50 Pax", "a pressure is needed, but the unit `Pax` is unknown"),
        ("2.5 1/h @500 Pa", "must lie between 1 Pa and 100 Pa"),
        ("2,5 1/h @50Pa", "a number with a comma is not read"),
        ("2.5 @50Pa", "a flow of air needs a unit"),
        ("@50Pa", "a flow of air is needed, but there is no number at its start"),
        ("2.5 n50 @50Pa", "a flow of air is needed, but the unit `n50` is unknown"),
        ("250 m2 @50Pa", "a flow of air is needed, but `m2` measures an area"),
        ("250 1/h @50Pa", "must lie between 0.01 1/h and 100 1/h"),
        ("0 m3/h @50Pa", "must lie between 0.1 L/s and 20000 L/s"),
        ("0.1 cm2 @4Pa", "must lie between 1 cm2 and 20000 cm2"),
    ] {
        assert_says(
            &leaky(&format!("\"{text}\"")),
            &[&format!("error: `house.air_leakage`: {message}\n"), FORMS],
        );
    }
}

#[test]
fn a_leakage_area_at_another_pressure() {
    let expected = "\
error: `house.air_leakage`: a leakage area is stated at 4 Pa or at 10 Pa
  --> bungalow.toml:18:15
   |
18 | air_leakage = \"450 cm2 @50Pa\"             # through cracks, taken as constant
   |               ^^^^^^^^^^^^^^^ another pressure

hint: at another pressure, write the flow: \"900 m3/h @50Pa\"

1 problem in bungalow.toml
";
    assert_eq!(leaky("\"450 cm2 @50Pa\""), expected);
}

#[test]
fn a_constant_flow_that_is_none() {
    assert_says(
        &leaky("\"12 g/s\""),
        &[
            "error: `house.air_leakage`: a flow of air is needed, but `g/s` measures a mass flow of air\n",
            "hint: units that fit: L/s, m3/h, m3/s, cfm\n",
        ],
    );
    assert_says(
        &leaky("12"),
        &["error: `house.air_leakage`: a flow of air needs a unit\n", "such as \"12 L/s\""],
    );
}

#[test]
fn an_exponent_beside_a_constant_flow() {
    let expected = "\
error: `house.leakage_exponent`: only an `air_leakage` with its test pressure has one
  --> bungalow.toml:18:20
   |
18 | leakage_exponent = 0.6
   |                    ^^^ not for a constant flow

hint: leave `leakage_exponent` out, or write `air_leakage` like \"2.5 1/h @50Pa\"

1 problem in bungalow.toml
";
    assert_eq!(after(&[("air_leakage", "leakage_exponent = 0.6\nair_leakage")]), expected);
}

#[test]
fn slips_of_the_pen_about_leaks_and_wind() {
    let site = |line: &str| after(&[("[site]\n", &format!("[site]\n{line}\n"))]);
    assert_says(&site("wind_shelter = 6"), &["error: `site.wind_shelter`: must lie between 1 and 5\n"]);
    assert_says(&site("wind_shelter = 2.5"), &["error: `site.wind_shelter`: a whole number is needed\n"]);
    assert_says(&site("wind_height = \"300 m\""), &["must lie between 1 m and 200 m\n"]);
    assert_says(&site("surrounding = \"rural\""), &["hint: did you mean `surroundings`?\n"]);
    assert_says(
        &site("surroundings = \"village\""),
        &["hint: choose `open`, `rural`, `suburban` or `urban`\n"],
    );
    let house = |line: &str| after(&[("bedrooms", &format!("{line}\nbedrooms"))]);
    assert_says(&house("flue = \"open\""), &["`open` is no choice here", "choose `none` or `open-flue`\n"]);
    assert_says(&house("height = \"1 m\""), &["error: `house.height`: must lie between 1.8 m and 60 m\n"]);
    assert_says(&house("eaves_height = \"3 m\""), &["`[house]` has no key `eaves_height`"]);
}

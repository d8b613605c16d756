//! The whole text that a user reads when something is wrong with the rule of an airflow. These texts are part of the
//! interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::{after, assert_says};

fn airflow(lines: &str) -> String {
    after(&[("airflow = \"45 L/s\"", lines)])
}

#[test]
fn a_rule_that_is_none() {
    let expected = "\
error: `ventilation.airflow`: `by-standart` is no choice here
  --> bungalow.toml:67:11
   |
67 | airflow = \"by-standart\"
   |           ^^^^^^^^^^^^^ unknown word

hint: did you mean `by-standard`? choose `by-standard`, `by-rooms` or `by-category`, or a flow of air such as \"45 L/s\"

1 problem in bungalow.toml
";
    assert_eq!(airflow("airflow = \"by-standart\""), expected);
}

#[test]
fn a_key_of_another_rule() {
    let expected = "\
error: `ventilation.category`: only airflow = \"by-category\" has it
  --> bungalow.toml:68:12
   |
68 | category = \"II\"
   |            ^^^^ not for this airflow

hint: leave `category` out, or write airflow = \"by-category\"

1 problem in bungalow.toml
";
    assert_eq!(airflow("airflow = \"45 L/s\"\ncategory = \"II\""), expected);
    for line in ["standard_form = \"si\"", "infiltration_credit = false"] {
        let (key, _) = line.split_once(' ').expect("a key");
        assert_says(
            &airflow(&format!("airflow = \"by-category\"\n{line}")),
            &[
                &format!("error: `ventilation.{key}`: only airflow = \"by-standard\" has it\n"),
                &format!("hint: leave `{key}` out, or write airflow = \"by-standard\"\n"),
            ],
        );
    }
}

#[test]
fn a_credit_without_a_pressure_test() {
    let expected = "\
error: `ventilation.infiltration_credit`: the standard credits what a pressure test found, and `house.air_leakage` is a constant flow
  --> bungalow.toml:68:23
   |
68 | infiltration_credit = true
   |                       ^^^^ no pressure test

hint: write `air_leakage` like \"2.5 1/h @50Pa\", or leave `infiltration_credit` out

1 problem in bungalow.toml
";
    assert_eq!(airflow("airflow = \"by-standard\"\ninfiltration_credit = true"), expected);
}

#[test]
fn rooms_that_are_not_counted() {
    let expected = "\
error: `ventilation.airflow` = \"by-rooms\" needs the table `[house.rooms]`
  --> bungalow.toml:67:11
   |
67 | airflow = \"by-rooms\"
   |           ^^^^^^^^^^ no rooms for it

hint: it has `living`, `kitchen` and `bathrooms`, and may have `other` and `basement`

1 problem in bungalow.toml
";
    assert_eq!(airflow("airflow = \"by-rooms\""), expected);
    let rooms = |table: &str| after(&[("bedrooms = 3", &format!("bedrooms = 3\nrooms = {{ {table} }}"))]);
    assert_says(&rooms("living = 1"), &["error: `[house.rooms]` lacks the keys `kitchen` and `bathrooms`\n"]);
    assert_says(
        &rooms("living = 1, kitchen = 1, bathrooms = 1, bedrooms = 3"),
        &["error: `[house.rooms]` has no key `bedrooms`\n", "hint: `bedrooms` belongs to `[house]`\n"],
    );
    assert_says(&rooms("living = -1, kitchen = 1, bathrooms = 1"), &["must lie between 0 and 50\n"]);
}

#[test]
fn a_basement_against_the_foundation() {
    let rooms = "rooms = { living = 1, kitchen = 1, bathrooms = 1, basement = \"divided\" }";
    let expected = "\
error: `house.rooms.basement`: by `house.foundation` this house has none
  --> bungalow.toml:16:62
   |
16 | rooms = { living = 1, kitchen = 1, bathrooms = 1, basement = \"divided\" }
   |                                                              ^^^^^^^^^ against the foundation

hint: write foundation = \"basement\" in `[house]`, or basement = \"none\"

1 problem in bungalow.toml
";
    assert_eq!(after(&[("bedrooms = 3", &format!("bedrooms = 3\n{rooms}"))]), expected);
    let other = rooms.replace("divided", "none");
    assert_says(
        &after(&[("bedrooms = 3", &format!("bedrooms = 3\nfoundation = \"basement\"\n{other}"))]),
        &[
            "error: `house.rooms.basement`: by `house.foundation` this house has one\n",
            "hint: write \"divided\" or \"undivided\", or another `foundation`\n",
        ],
    );
}

#[test]
fn a_rule_that_makes_no_flow() {
    let expected = "\
error: `ventilation.airflow`: the rule makes it 0 L/s, which must lie between 2 L/s and 2000 L/s
  --> bungalow.toml:68:11
   |
68 | airflow = \"by-rooms\"
   |           ^^^^^^^^^^ out of range

hint: check `floor_area`, `bedrooms` and `rooms` of the house, or write a flow

1 problem in bungalow.toml
";
    let rooms = "bedrooms = 0\nrooms = { living = 0, kitchen = 0, bathrooms = 0 }";
    assert_eq!(
        after(&[("bedrooms = 3", rooms), ("airflow = \"45 L/s\"", "airflow = \"by-rooms\"")]),
        expected
    );
}

//! The whole text that a user reads when something is wrong with the ways of the air, the blower or the bedroom. These texts
//! are part of the interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::{after, assert_says};

fn extract(value: &str) -> String {
    let line = "extract_from = \"wet-rooms\"         # or \"return-duct\"";
    after(&[(line, &format!("extract_from = {value}"))])
}

#[test]
fn shares_that_are_not_all_of_the_air() {
    let expected = "\
error: `ventilation.extract_from`: the shares add up to 0.9, and must add up to 1
  --> bungalow.toml:68:16
   |
68 | extract_from = { wet_rooms = 0.7, return_duct = 0.2 }
   |                ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ not all of the air

hint: beside return_duct = 0.2, the other share is 0.8

1 problem in bungalow.toml
";
    assert_eq!(extract("{ wet_rooms = 0.7, return_duct = 0.2 }"), expected);
    let line = "supply_to = \"rooms\"                # or \"return-duct\"";
    assert_says(
        &after(&[(line, "supply_to = { rooms = 0.7, return_duct = 0.5 }")]),
        &["error: `ventilation.supply_to`: the shares add up to 1.2, and must add up to 1\n"],
    );
}

#[test]
fn shares_that_cannot_be_read() {
    assert_says(
        &extract("{ wet_rooms = 0.7 }"),
        &["error: `[ventilation.extract_from]` lacks the key `return_duct`\n"],
    );
    assert_says(
        &extract("{ wet_rooms = 70, return_duct = 0.3 }"),
        &[
            "`ventilation.extract_from.wet_rooms`: must lie between 0 and 1\n",
            "hint: write a fraction, not percent: 0.7\n",
        ],
    );
    assert_says(
        &extract("{ wet-rooms = 0.7, wet_rooms = 0.7, return_duct = 0.3 }"),
        &["has no key `wet-rooms`\n", "hint: did you mean `wet_rooms`?\n"],
    );
    assert_says(
        &extract("\"kitchen\""),
        &["`kitchen` is no choice here\n", "hint: choose `wet-rooms` or `return-duct`\n"],
    );
    assert_says(&extract("0.7"), &["a word between quotation marks is needed\n", "this is a plain number\n"]);
}

#[test]
fn a_blower_without_its_power() {
    let blower = |table: &str| after(&[("[ventilation]\n", &format!("[ventilation]\nblower = {table}\n"))]);
    assert_says(&blower("{ runs = \"always\" }"), &["error: `[ventilation.blower]` lacks the key `power`\n"]);
    assert_says(
        &blower("{ power = \"350 W\", runs = \"with-cooling\" }"),
        &["hint: choose `always`, `with-unit` or `with-heating`\n"],
    );
    assert_says(
        &blower("true"),
        &[
            "error: `ventilation.blower` must be a table\n",
            "hint: write its header as [ventilation.blower]\n",
        ],
    );
}

fn bedroom(table: &str) -> String {
    after(&[("[house.moisture]", &format!("[house.bedroom]\n{table}\n[house.moisture]"))])
}

#[test]
fn a_bedroom_that_does_not_fit_the_house() {
    let expected = "\
error: `house.bedroom.people`: 5 is more than `house.people.count`, which is 4
  --> bungalow.toml:60:10
   |
60 | people = 5
   |          ^ too many

hint: no more sleep in a bedroom than live in the house

1 problem in bungalow.toml
";
    assert_eq!(bedroom("people = 5"), expected);
    assert_says(
        &bedroom("volume = \"350 m3\""),
        &[
            "error: `house.bedroom.volume`: 350 m3 is not less than the 350 m3 of the whole house\n",
            "hint: a bedroom is a part of the house: check `volume`, `floor_area` and `ceiling_height`\n",
        ],
    );
    assert_says(
        &bedroom("from = \"07:00\""),
        &["error: `house.bedroom.to`: it ends when it begins, at 7:00\n"],
    );
    assert_says(
        &after(&[
            ("bedrooms = 3", "bedrooms = 0"),
            ("[house.moisture]", "[house.bedroom]\n[house.moisture]"),
        ]),
        &[
            "error: `house.bedroom`: by `house.bedrooms` this house has none\n",
            "hint: leave `[house.bedroom]` out, or write the number of `bedrooms`\n",
        ],
    );
    assert_says(
        &after(&[("count = 4", "count = 0"), ("[house.moisture]", "[house.bedroom]\n[house.moisture]")]),
        &["error: `house.bedroom.people`: 2 is more than `house.people.count`, which is 0\n"],
    );
}

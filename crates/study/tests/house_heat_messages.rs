//! The whole text that a user reads when something is wrong with envelope, ground, plant or ducts. These texts are part of
//! the interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::{after, assert_says};

const FIGURE: &str =
    "heat_loss = \"145 W/K\"              # conduction of the whole envelope, windows included\n";

#[test]
fn a_house_that_does_not_say_what_it_conducts() {
    let expected = "\
error: `[house]` needs one of `heat_loss` and `[[house.envelope]]`
  --> bungalow.toml:12:1
   |
12 | [house]
   | ^^^^^^^ this table

hint: `heat_loss` is one figure, windows included; the parts of an envelope are all that is no window

1 problem in bungalow.toml
";
    assert_eq!(after(&[(FIGURE, "")]), expected);
}

#[test]
fn a_house_that_says_twice_what_it_conducts() {
    let expected = "\
error: `[house]` takes only one of `heat_loss` and `[[house.envelope]]`
  --> bungalow.toml:45:1
   |
45 | [[house.envelope]]
   | ^^^^^^^^^^^^^^^^^^ the second one

hint: `heat_loss` is one figure, windows included; the parts of an envelope are all that is no window

1 problem in bungalow.toml
";
    let part = "[[house.envelope]]\nname = \"roof\"\nconductance = \"30 W/K\"\n[house.heating]";
    assert_eq!(after(&[("[house.heating]", part)]), expected);
}

/// What is said of the starter's house with these lines as its one part of the envelope.
fn of_part(lines: &str) -> String {
    let part = format!("[[house.envelope]]\n{lines}\n[house.heating]");
    after(&[(FIGURE, ""), ("[house.heating]", &part)])
}

#[test]
fn a_part_that_says_nothing_or_too_much_of_what_it_conducts() {
    let expected = "\
error: `house.envelope[1]` does not say what it conducts
  --> bungalow.toml:44:1
   |
44 | [[house.envelope]]
   | ^^^^^^^^^^^^^^^^^^ this part

hint: a part has `area` and `u_value`, or `conductance`, which is the one times the other

1 problem in bungalow.toml
";
    assert_eq!(of_part("name = \"roof\"\narea = \"140 m2\""), expected);
    assert_says(
        &of_part("name = \"roof\"\nconductance = \"30 W/K\"\nu_value = \"0.2 W/m2K\""),
        &["error: `house.envelope[1]` says twice what it conducts\n", "the other way\n"],
    );
}

#[test]
fn parts_with_one_name_or_none() {
    assert_says(
        &of_part(
            "name = \"roof\"\nconductance = \"30 W/K\"\n[[house.envelope]]\nname = \"Roof\"\nconductance = \"30 W/K\"",
        ),
        &[
            "error: two parts of the envelope are called `Roof`\n",
            "hint: give each its own name; capitals make no difference\n",
        ],
    );
    assert_says(&of_part("conductance = \"30 W/K\""), &["error: `house.envelope[1]` lacks the key `name`\n"]);
}

#[test]
fn a_temperature_factor_without_an_unheated_space() {
    let expected = "\
error: `house.envelope[1].temperature_factor`: only a part with to = \"unheated\" has it
  --> bungalow.toml:47:22
   |
47 | temperature_factor = 0.5
   |                      ^^^ not for this part

hint: leave `temperature_factor` out, or write to = \"unheated\"

1 problem in bungalow.toml
";
    assert_eq!(of_part("name = \"roof\"\nconductance = \"30 W/K\"\ntemperature_factor = 0.5"), expected);
}

#[test]
fn parts_that_add_up_to_what_no_house_conducts() {
    // By hand: 9990 W/K and 32 W/K of the windows.
    assert_says(
        &of_part("name = \"roof\"\nconductance = \"9990 W/K\""),
        &[
            "error: the parts of the envelope and the windows conduct 10022 W/K, which must lie between 5 and 10000 W/K\n",
            "hint: check `area` and `u_value` of each part\n",
        ],
    );
    // By hand: 9.1 W/m²K × 2.5 × 140 m² = 3185 W/K.
    assert_says(
        &of_part("name = \"roof\"\nconductance = \"3200 W/K\""),
        &[
            "error: `house.envelope` leaves 3200 W/K for the walls, but a house of this floor area and thermal mass \
             conducts less than 3185 W/K in the hourly method\n",
            "hint: check `envelope` and `floor_area`\n",
        ],
    );
}

#[test]
fn a_heat_loss_to_the_ground_that_does_not_fit() {
    let expected = "\
error: `house.ground_loss`: 120 W/K is more than the 113 W/K that `house.heat_loss` leaves beside the windows
  --> bungalow.toml:18:15
   |
18 | ground_loss = \"120 W/K\"
   |               ^^^^^^^^^ more than all of it

hint: the heat loss to the ground is a part of `heat_loss`

1 problem in bungalow.toml
";
    assert_eq!(after(&[("air_leakage", "ground_loss = \"120 W/K\"\nair_leakage")]), expected);
    let part = "[[house.envelope]]\nname = \"roof\"\nconductance = \"50 W/K\"\n[house.heating]";
    assert_says(
        &after(&[(FIGURE, "ground_loss = \"20 W/K\"\n"), ("[house.heating]", part)]),
        &[
            "error: `house.ground_loss`: the parts of the envelope say what goes to the ground\n",
            "hint: leave `ground_loss` out, and write to = \"ground\" in a part\n",
        ],
    );
}

#[test]
fn cooling_less_than_a_kelvin_above_heating() {
    let expected = "\
error: cooling keeps 21 °C, less than 1 K above the 20.5 °C that heating keeps
  --> bungalow.toml:51:13
   |
51 | set_point = \"21 °C\"
   |             ^^^^^^^ too near to heating

hint: the gap between the two is where neither runs: leave a degree or more

1 problem in bungalow.toml
";
    assert_eq!(after(&[("25 °C", "21 °C")]), expected);
}

/// With another set-point of heating in some hours.
fn set_back(table: &str) -> String {
    after(&[("efficiency = 0.95\n", &format!("efficiency = 0.95\nset_back = {{ {table} }}\n"))])
}

#[test]
fn a_set_back_that_is_none() {
    let expected = "\
error: `house.heating.set_back.temperature`: 22 °C is not below the set-point of heating, 20.5 °C
  --> bungalow.toml:49:28
   |
49 | set_back = { temperature = \"22 °C\", from = \"22:00\", to = \"06:00\" }
   |                            ^^^^^^^ not below it

hint: in those hours heating does less: write a temperature below `set_point`

1 problem in bungalow.toml
";
    assert_eq!(set_back("temperature = \"22 °C\", from = \"22:00\", to = \"06:00\""), expected);
    let warmer = "cop = 3.2\nset_up = { temperature = \"24 °C\", from = \"22:00\", to = \"06:00\" }\n";
    assert_says(
        &after(&[("cop = 3.2\n", warmer)]),
        &[
            "error: `house.cooling.set_up.temperature`: 24 °C is not above the set-point of cooling, 25 °C\n",
            "hint: in those hours cooling does less: write a temperature above `set_point`\n",
        ],
    );
}

#[test]
fn hours_that_are_none() {
    for (from, to, message, hint) in [
        (
            "\"22:00\"",
            "\"22:00\"",
            "to`: it ends when it begins, at 22:00\n",
            "write two different hours; past midnight, `from` is the later one",
        ),
        ("\"22:30\"", "\"06:00\"", "from`: must be a full hour\n", "write \"22:00\""),
        ("\"25:00\"", "\"06:00\"", "from`: a time of day is needed\n", "write \"22:00\""),
        ("\"10 pm\"", "\"06:00\"", "from`: a time of day is needed\n", "write \"22:00\""),
        (
            "22:00:00",
            "\"06:00\"",
            "from`: a time of day between quotation marks is needed\n",
            "write \"22:00\"",
        ),
        ("\"22:00\"", "6", "to`: a time of day between quotation marks is needed\n", "write \"06:00\""),
    ] {
        assert_says(
            &set_back(&format!("temperature = \"17 °C\", from = {from}, to = {to}")),
            &[&format!("error: `house.heating.set_back.{message}"), &format!("hint: {hint}\n")],
        );
    }
    assert_says(
        &set_back("temperature = \"17 °C\""),
        &["error: `[house.heating.set_back]` lacks the keys `from` and `to`\n"],
    );
}

#[test]
fn slips_of_the_pen_in_envelope_plant_and_ducts() {
    assert_says(
        &of_part("name = \"roof\"\nconductance = \"30 W/K\"\nuvalue = 1"),
        &["hint: did you mean `u_value`?\n"],
    );
    assert_says(
        &after(&[("bedrooms", "foundations = \"slab\"\nbedrooms")]),
        &["hint: did you mean `foundation`?\n"],
    );
    assert_says(
        &after(&[("bedrooms", "foundation = \"cellar\"\nbedrooms")]),
        &["`cellar` is no choice here", "hint: choose `slab`, `basement` or `crawlspace`\n"],
    );
    assert_says(
        &after(&[("[ventilation]\n", "[ventilation]\nducts = { cold_indoor = \"3 W/K\" }\n")]),
        &["`[ventilation.ducts]` has no key `cold_indoor`", "hint: did you mean `cold_indoors`?\n"],
    );
    assert_says(
        &after(&[("core = \"sensible-plate\"\n", "core = \"sensible-plate\"\nlocation = \"loft\"\n")]),
        &[
            "`unit.Plate A.location`: `loft` is no choice here",
            "hint: choose `heated-room`, `cellar`, `attic` or `garage`\n",
        ],
    );
}

//! The whole text that a user reads when something is wrong. These texts are part of the interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

use study::{parse_study, starter_study, text_of};

const FILE: &str = "bungalow.toml";

fn rendered(text: &str) -> String {
    match parse_study(text, FILE) {
        Ok(_) => panic!("no problem was found"),
        Err(problems) => problems.render(text, FILE),
    }
}

/// What is said of the starter study after changes, each at its first place.
fn after(changes: &[(&str, &str)]) -> String {
    // The remarks at its head name quantities too: change none of those.
    let (head, rest) = starter_study().split_at(starter_study().find("[study]").expect("the first table"));
    let mut rest = rest.to_owned();
    for (from, to) in changes {
        assert!(rest.contains(from), "{from}");
        rest = rest.replacen(from, to, 1);
    }
    rendered(&format!("{head}{rest}"))
}

#[test]
fn a_wrong_unit() {
    let expected = "\
error: `house.floor_area`: an area is needed, but `°C` measures a temperature
  --> bungalow.toml:13:14
   |
13 | floor_area = \"28 °C\"
   |              ^^^^^^^ not an area

hint: units that fit: m2, ft2

1 problem in bungalow.toml
";
    assert_eq!(after(&[("\"140 m2\"", "\"28 °C\"")]), expected);
}

#[test]
fn an_unknown_unit() {
    let expected = "\
error: `house.heat_loss`: a heat conductance is needed, but the unit `W/grad` is unknown
  --> bungalow.toml:17:13
   |
17 | heat_loss = \"145 W/grad\"              # conduction of the whole envelope, windows included
   |             ^^^^^^^^^^^^ unknown unit

hint: units that fit: W/K, Btu/h°F

1 problem in bungalow.toml
";
    assert_eq!(after(&[("145 W/K", "145 W/grad")]), expected);
}

#[test]
fn a_missing_unit() {
    let expected = "\
error: `house.floor_area`: an area needs a unit
  --> bungalow.toml:13:14
   |
13 | floor_area = 140
   |              ^^^ no unit

hint: write it between quotation marks with its unit, such as \"140 m2\"; units that fit: m2, ft2

1 problem in bungalow.toml
";
    assert_eq!(after(&[("\"140 m2\"", "140")]), expected);
}

#[test]
fn a_decimal_comma() {
    let expected = "\
error: `house.ceiling_height`: a number with a comma is not read
  --> bungalow.toml:14:18
   |
14 | ceiling_height = \"2,5 m\"
   |                  ^^^^^^^ a comma

hint: write a decimal point: \"2.5 m\"

1 problem in bungalow.toml
";
    assert_eq!(after(&[("\"2.5 m\"", "\"2,5 m\"")]), expected);
    let thousands = after(&[("\"140 m2\"", "\"1,500 ft2\"")]);
    assert!(thousands.contains("hint: write \"1500 ft2\", or \"1.500 ft2\" if the comma is a decimal one\n"));
}

#[test]
fn an_unknown_key_with_the_nearest_known_one() {
    let expected = "\
error: `[house]` has no key `stories`
  --> bungalow.toml:16:1
   |
16 | stories = 1
   | ^^^^^^^ unknown key

hint: did you mean `storeys`?

1 problem in bungalow.toml
";
    assert_eq!(after(&[("storeys", "stories")]), expected);
}

#[test]
fn a_key_in_the_wrong_table() {
    let expected = "\
error: `[ventilation]` has no key `profile`
  --> bungalow.toml:67:1
   |
67 | profile = \"always-home\"
   | ^^^^^^^ unknown key

hint: `profile` belongs to `[house.people]`

1 problem in bungalow.toml
";
    assert_eq!(after(&[("[ventilation]\n", "[ventilation]\nprofile = \"always-home\"\n")]), expected);
}

#[test]
fn missing_keys_with_the_table_they_belong_to() {
    let expected = "\
error: `[house.people]` lacks the keys `count` and `profile`
  --> bungalow.toml:55:1
   |
55 | [house.people]
   | ^^^^^^^^^^^^^^ this table

1 problem in bungalow.toml
";
    assert_eq!(
        after(&[("count = 4\n", ""), ("profile = \"working-week\"           # or \"always-home\"\n", "")]),
        expected
    );
}

#[test]
fn a_missing_table() {
    let expected = "\
error: the table `[house.people]` is missing
  --> bungalow.toml:12:1
   |
12 | [house]
   | ^^^^^^^ missing here

hint: it needs `count` and `profile`

1 problem in bungalow.toml
";
    let people = "[house.people]\ncount = 4\nprofile = \"working-week\"           # or \"always-home\"\n";
    assert_eq!(after(&[(people, "")]), expected);
}

#[test]
fn windows_that_conduct_more_than_the_house() {
    let expected = "\
error: the windows conduct 32 W/K, more than the 30 W/K of `house.heat_loss`, which includes them
  --> bungalow.toml:17:13
   |
17 | heat_loss = \"30 W/K\"              # conduction of the whole envelope, windows included
   |             ^^^^^^^^ less than the windows alone

hint: raise `heat_loss`, or lower `area` or `u_value` of the windows: nothing is left for the walls

1 problem in bungalow.toml
";
    assert_eq!(after(&[("145 W/K", "30 W/K")]), expected);
}

#[test]
fn a_value_out_of_range() {
    let expected = "\
error: `house.floor_area`: must lie between 5 m2 and 5000 m2
  --> bungalow.toml:13:14
   |
13 | floor_area = \"40 ft2\"
   |              ^^^^^^^^ this is 3.716 m2

1 problem in bungalow.toml
";
    assert_eq!(after(&[("\"140 m2\"", "\"40 ft2\"")]), expected);
}

#[test]
fn a_percentage_where_a_fraction_is_needed() {
    let expected = "\
error: `house.heating.efficiency`: must lie between 0.3 and 6
  --> bungalow.toml:48:14
   |
48 | efficiency = 95
   |              ^^ out of range

hint: write a fraction, not percent: 0.95

1 problem in bungalow.toml
";
    assert_eq!(after(&[("0.95", "95")]), expected);
}

#[test]
fn set_points_in_the_wrong_order() {
    let expected = "\
error: cooling keeps 20 °C, which is not above the 20.5 °C that heating keeps
  --> bungalow.toml:51:13
   |
51 | set_point = \"20 °C\"
   |             ^^^^^^^ not above heating

hint: the gap between the two is where neither runs: leave a degree or more

1 problem in bungalow.toml
";
    assert_eq!(after(&[("25 °C", "20 °C")]), expected);
}

#[test]
fn a_word_that_is_no_choice() {
    let expected = "\
error: `house.heating.source`: `gaz` is no choice here
  --> bungalow.toml:47:10
   |
47 | source = \"gaz\"
   |          ^^^^^ unknown word

hint: did you mean `gas`? choose `gas`, `electricity`, `oil`, `propane` or `wood`

1 problem in bungalow.toml
";
    assert_eq!(after(&[("\"gas\"", "\"gaz\"")]), expected);
}

#[test]
fn a_sensible_plate_with_a_vapour_conductance() {
    let expected = "\
error: `unit.Membrane B.conductance.vapour`: a sensible plate passes no vapour
   --> bungalow.toml:109:10
    |
109 | vapour = \"0.0867 kg/s\"             # 1.6 times the air's mass flow
    |          ^^^^^^^^^^^^^ not for this core

hint: leave `vapour` out, or write core = \"enthalpy-plate\"

1 problem in bungalow.toml
";
    assert_eq!(after(&[("enthalpy-plate", "sensible-plate")]), expected);
}

#[test]
fn an_enthalpy_plate_without_one() {
    let expected = "\
error: `unit.Plate A.conductance` lacks the key `vapour`
  --> bungalow.toml:76:1
   |
76 | [unit.conductance]
   | ^^^^^^^^^^^^^^^^^^ this table

1 problem in bungalow.toml
";
    assert_eq!(after(&[("sensible-plate", "enthalpy-plate")]), expected);
}

#[test]
fn a_unit_that_says_its_performance_twice() {
    let pair = "[unit.effectiveness]\nsensible = 0.8\nat = \"45 L/s\"\n\n[unit.fan]";
    let expected = "\
error: `unit.Plate A` takes only one of `[unit.conductance]`, `[unit.effectiveness]`, `[[unit.rating]]` and `[unit.geometry]`
  --> bungalow.toml:80:1
   |
80 | [unit.effectiveness]
   | ^^^^^^^^^^^^^^^^^^^^ the second one

hint: a rating is what a test sheet states, conductances hold at any temperature, effectivenesses are simpler, \
and a geometry is the size of the plates

1 problem in bungalow.toml
";
    assert_eq!(after(&[("[unit.fan]", pair)]), expected);
}

#[test]
fn two_units_of_one_name() {
    let expected = "\
error: two units are called `plate a`
   --> bungalow.toml:104:8
    |
104 | name = \"plate a\"
    |        ^^^^^^^^^ taken already

hint: give each its own name; capitals make no difference

1 problem in bungalow.toml
";
    assert_eq!(after(&[("Membrane B", "plate a")]), expected);
}

#[test]
fn three_faults_at_once_in_the_order_of_the_file() {
    let expected = "\
error: `house.floor_area`: an area needs a unit
  --> bungalow.toml:13:14
   |
13 | floor_area = \"140\"
   |              ^^^^^ no unit

hint: units that fit: m2, ft2

error: `[house.heating]` has no key `efficency`
  --> bungalow.toml:48:1
   |
48 | efficency = 0.95
   | ^^^^^^^^^ unknown key

hint: did you mean `efficiency`?

error: `ventilation.airflow`: must lie between 2 L/s and 2000 L/s
  --> bungalow.toml:67:11
   |
67 | airflow = \"45 m3/s\"
   |           ^^^^^^^^^ this is 45000 L/s

3 problems in bungalow.toml
";
    let text = after(&[("140 m2", "140"), ("45 L/s", "45 m3/s"), ("efficiency = 0.95", "efficency = 0.95")]);
    let lacks = "\
error: `[house.heating]` lacks the key `efficiency`
  --> bungalow.toml:45:1
   |
45 | [house.heating]
   | ^^^^^^^^^^^^^^^ this table

";
    let expected =
        expected.replace("error: `[house.heating]` has", &format!("{lacks}error: `[house.heating]` has"));
    assert_eq!(text, expected.replace("3 problems", "4 problems"));
}

#[test]
fn text_that_is_no_toml() {
    let expected = "\
error: this is not TOML: unclosed table, expected `]`
 --> bungalow.toml:9:6
  |
9 | [site
  |      ^ here

hint: a table is [name], a key is name = value, and text and quantities stand in quotation marks

1 problem in bungalow.toml
";
    assert_eq!(after(&[("[site]", "[site")]), expected);
}

#[test]
fn a_quantity_without_quotation_marks() {
    let text = after(&[("\"140 m2\"", "140 m2")]);
    assert!(text.contains("13 | floor_area = 140 m2\n"), "{text}");
    assert!(
        text.contains("text and quantities stand in quotation marks\n\n1 problem in bungalow.toml\n"),
        "{text}"
    );
}

#[test]
fn an_empty_file() {
    let expected = "\
error: the file is empty
--> bungalow.toml

hint: a study has the tables [study], [site], [house], [ventilation] and [[unit]]

1 problem in bungalow.toml
";
    assert_eq!(rendered(""), expected);
}

#[test]
fn a_file_of_comments_alone() {
    let expected = "\
error: the file holds no keys
 --> bungalow.toml:1:1
  |
1 | # nothing yet
  | ^ nothing here

hint: a study has the tables [study], [site], [house], [ventilation] and [[unit]]

1 problem in bungalow.toml
";
    assert_eq!(rendered("# nothing yet\n"), expected);
}

#[test]
fn a_file_that_is_no_text() {
    let expected = "\
error: the file is not UTF-8 text: line 2 holds a byte that is no part of a character
--> bungalow.toml

hint: save it as UTF-8

1 problem in bungalow.toml
";
    let problems = text_of(b"# one\n# 20 \xb0C\n", FILE).expect_err("Latin-1");
    assert_eq!(problems.render("", FILE), expected);
    assert_eq!(problems.to_string(), "1 problem in bungalow.toml");
    let wide = text_of(b"\xff\xfea\0", FILE).expect_err("UTF-16").render("", FILE);
    assert!(wide.contains("hint: it looks like UTF-16: save it as UTF-8\n"));
    assert_eq!(text_of("25 °C".as_bytes(), FILE), Ok("25 °C"));
}

#[test]
fn a_study_without_units() {
    let text = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    let expected = "\
error: a study needs a `[[unit]]`, one or more
  --> bungalow.toml:69:54
   |
69 | supply_to = \"rooms\"                # or \"return-duct\"
   |                                                      ^ none here

hint: each needs `name` and `core`, and one of `[unit.conductance]`, `[unit.effectiveness]`, `[[unit.rating]]` or `[unit.geometry]`

1 problem in bungalow.toml
";
    assert_eq!(rendered(text), expected);
}

#[test]
fn control_characters_of_a_user_do_not_reach_the_terminal() {
    let text = after(&[("\"gas\"", "\"\\u001b[31mgas\"")]);
    assert!(!text.contains('\u{1b}'), "{text}");
}

/// Sixty windows without a key lack four each, told as one problem a window: forty are shown, and all are counted.
#[test]
fn more_problems_than_anyone_mends_at_once_are_counted_and_not_shown() {
    let text = starter_study().to_owned() + &"\n[[house.window]]\n".repeat(60);
    let problems = parse_study(&text, "s").expect_err("keys are missing");
    assert_eq!(problems.list.len(), 60);
    let shown = problems.render(&text, "s");
    assert_eq!(shown.matches("error: ").count(), 40);
    assert!(shown.ends_with("20 more are not shown: mend these first\n\n60 problems in s\n"), "{shown}");
}

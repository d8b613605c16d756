//! The whole text that a user reads when something is wrong with ventilation control or airing. These texts are part of the
//! interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::{after, assert_says};

/// What is said of the starter's house; `lines` begin in line 72.
fn controlled(lines: &str) -> String {
    after(&[("# Two units", &format!("[ventilation.control]\n{lines}\n# Two units"))])
}

#[test]
fn a_key_of_another_mode() {
    let expected = "\
error: `ventilation.control.on_share`: only mode = \"intermittent\" has it; here it is \"continuous\"
  --> bungalow.toml:73:12
   |
73 | on_share = 0.5
   |            ^^^ not for this mode

hint: leave `on_share` out, or write mode = \"intermittent\"

1 problem in bungalow.toml
";
    assert_eq!(controlled("mode = \"continuous\"\non_share = 0.5"), expected);
    for (line, mode) in [
        ("on = \"20 min\"", "intermittent"),
        ("off = \"20 min\"", "intermittent"),
        ("humidity_at_or_above = \"45 %\"", "humidity"),
        ("falls_per_k = \"0.5 %/K\"", "humidity"),
        ("falls_below = \"5 °C\"", "humidity"),
        ("co2_limit = \"1000 ppm\"", "co2"),
        ("weekdays = [1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1]", "schedule"),
        ("weekends = [1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1]", "schedule"),
    ] {
        let (key, _) = line.split_once(' ').expect("a key");
        let message = format!(
            "`ventilation.control.{key}`: only mode = \"{mode}\" has it; left out, it is \"continuous\"\n"
        );
        assert_says(&controlled(line), &[&message, &format!("or write mode = \"{mode}\"\n")]);
    }
    assert_says(
        &controlled("low_share = 0.3"),
        &[
            "error: `ventilation.control.low_share`: only mode = \"humidity\" and \"co2\" have it; left out, it is \"continuous\"\n",
            "hint: leave `low_share` out, or write mode = \"humidity\" or \"co2\"\n",
        ],
    );
}

#[test]
fn a_mode_without_its_key() {
    assert_says(
        &controlled("mode = \"humidity\""),
        &["`[ventilation.control]` lacks the key `humidity_at_or_above`\n"],
    );
    assert_says(&controlled("mode = \"co2\""), &["`[ventilation.control]` lacks the key `co2_limit`\n"]);
    assert_says(&controlled("mode = \"schedule\""), &["`[ventilation.control]` lacks the key `weekdays`\n"]);
    let expected = "\
error: `ventilation.control` does not say how long it runs
  --> bungalow.toml:72:8
   |
72 | mode = \"intermittent\"
   |        ^^^^^^^^^^^^^^ how long?

hint: mode = \"intermittent\" has `on_share`, or the minutes `on` and `off` that follow each other

1 problem in bungalow.toml
";
    assert_eq!(controlled("mode = \"intermittent\""), expected);
    assert_says(
        &controlled("mode = \"intermittent\"\non = \"20 min\""),
        &["error: `ventilation.control` does not say how long it runs\n"],
    );
    assert_says(
        &controlled("mode = \"intermittent\"\non_share = 0.5\non = \"20 min\"\noff = \"40 min\""),
        &["error: `ventilation.control` says twice how long it runs\n"],
    );
}

#[test]
fn a_limit_that_falls_too_far() {
    let expected = "\
error: `ventilation.control.falls_per_k`: at -40 °C outdoors the limit has fallen to 0 %, which is less than 5 %
  --> bungalow.toml:74:15
   |
74 | falls_per_k = \"1 %/K\"
   |               ^^^^^^^ too steep

hint: lower `falls_per_k` or `falls_below`, or raise `humidity_at_or_above`

1 problem in bungalow.toml
";
    let lines = "mode = \"humidity\"\nhumidity_at_or_above = \"45 %\"\nfalls_per_k = \"1 %/K\"";
    assert_eq!(controlled(lines), expected);
    assert_says(
        &controlled("mode = \"humidity\"\nhumidity_at_or_above = \"45 %\"\nfalls_below = \"0 °C\""),
        &[
            "error: `ventilation.control.falls_below`: nothing falls without `falls_per_k`\n",
            "hint: write `falls_per_k` as well, such as \"0.5 %/K\", or leave `falls_below` out\n",
        ],
    );
    assert_says(
        &controlled("mode = \"humidity\"\nhumidity_at_or_above = \"45 %\"\nfalls_per_k = 0.5"),
        &["a slope of relative humidity needs a unit\n", "such as \"0.5 %/K\"; units that fit: %/K, %/°F\n"],
    );
}

#[test]
fn a_schedule_that_is_none() {
    let expected = "\
error: `ventilation.control.weekdays`: a list of 24 numbers is needed
  --> bungalow.toml:73:12
   |
73 | weekdays = [0.5, 1]
   |            ^^^^^^^^ this has 2

hint: write a share of the flow for each hour from 0:00 on, between 0 and 1

1 problem in bungalow.toml
";
    assert_eq!(controlled("mode = \"schedule\"\nweekdays = [0.5, 1]"), expected);
    let all = |share: &str| {
        let list = vec![share; 24].join(", ");
        controlled(&format!("mode = \"schedule\"\nweekdays = [{list}]"))
    };
    assert_says(&all("0"), &["`ventilation.control.weekdays`: one of the shares must be more than 0\n"]);
    assert_says(&all("50"), &["the share from 0:00 on must lie between 0 and 1\n"]);
    assert_says(&all("\"1\""), &["the share from 0:00 on must lie between 0 and 1\n"]);
    assert_says(
        &controlled("mode = \"schedule\"\nweekdays = 1"),
        &["a list of 24 numbers is needed\n", "this is a plain number\n"],
    );
}

#[test]
fn a_boost_that_nothing_starts() {
    let expected = "\
error: `ventilation.control.boost.showers`: nothing else starts a boost in this version
  --> bungalow.toml:72:21
   |
72 | boost = { showers = false }
   |                     ^^^^^ nothing starts it

hint: leave the table `boost` out

1 problem in bungalow.toml
";
    assert_eq!(controlled("boost = { showers = false }"), expected);
    let expected = "\
error: `ventilation.control.boost`: `house.moisture.showers` is 0, so that nothing starts it
  --> bungalow.toml:72:9
   |
72 | boost = { factor = 2 }
   |         ^^^^^^^^^^^^^^ no showers

hint: write `showers` in `[house.moisture]`, or leave the table `boost` out

1 problem in bungalow.toml
";
    let boost = "[ventilation.control]\nboost = { factor = 2 }\n# Two units";
    assert_eq!(after(&[("\"1.6 kg/day\"", "\"0 kg/day\""), ("# Two units", boost)]), expected);
}

#[test]
fn days_away_that_are_none() {
    let expected = "\
error: `ventilation.control.away.days`: `07-32..08-02` is no range of days
  --> bungalow.toml:72:28
   |
72 | away = { share = 0, days = [\"07-32..08-02\"] }
   |                            ^^^^^^^^^^^^^^^^ in this list

hint: write month and day of the first and the last day: [\"07-12..07-26\", \"12-24..01-01\"]

1 problem in bungalow.toml
";
    assert_eq!(controlled("away = { share = 0, days = [\"07-32..08-02\"] }"), expected);
    for (days, message) in [
        ("[\"07-12\"]", "`07-12` is no range of days"),
        ("[\"7-12..7-26\"]", "`7-12..7-26` is no range of days"),
        ("[\"13-01..13-02\"]", "`13-01..13-02` is no range of days"),
        ("[\"02-30..03-01\"]", "`02-30..03-01` is no range of days"),
        ("[\"00-01..01-01\"]", "`00-01..01-01` is no range of days"),
        ("[712]", "this is a plain number and no text"),
        ("[]", "a list of days is needed"),
        ("\"07-12..07-26\"", "a list of days is needed"),
    ] {
        let text = controlled(&format!("away = {{ share = 0, days = {days} }}"));
        assert_says(&text, &[&format!("error: `ventilation.control.away.days`: {message}\n")]);
    }
    assert_says(
        &controlled("away = { share = 0 }"),
        &["`[ventilation.control.away]` lacks the key `days`\n"],
    );
}

#[test]
fn airing_that_heats_or_never_happens() {
    let aired =
        |table: &str| after(&[("[house.people]", &format!("[house.airing]\n{table}\n[house.people]"))]);
    assert_says(
        &aired("indoor_above = \"20 °C\"\nair_changes = \"3 1/h\""),
        &[
            "error: `house.airing.indoor_above`: 20 °C is below the set-point of heating, 20.5 °C\n",
            "hint: the windows would open while the house is heated\n",
        ],
    );
    assert_says(
        &aired("indoor_above = \"26 °C\"\nair_changes = \"3 1/h\""),
        &[
            "error: `house.airing.indoor_above`: 26 °C is not below the set-point of cooling, 25 °C\n",
            "hint: the windows would never open: cooling keeps the house colder\n",
        ],
    );
    assert_says(&aired("colder_by = \"1 K\""), &["error: `[house.airing]` lacks the key `air_changes`\n"]);
    assert_says(
        &aired("air_changes = \"3 m3/h\""),
        &["an air change rate is needed, but `m3/h` measures a flow of air\n", "hint: units that fit: 1/h\n"],
    );
}

#[test]
fn slips_of_the_pen_about_control() {
    assert_says(&controlled("mod = \"co2\""), &["hint: did you mean `mode`?\n"]);
    assert_says(&controlled("mode = \"CO2\""), &["`CO2` is no choice here", "did you mean `co2`?"]);
    assert_says(
        &after(&[("[ventilation]\n", "[ventilation]\nmode = \"co2\"\n")]),
        &["`[ventilation]` has no key `mode`", "hint: `mode` belongs to `[ventilation.control]`\n"],
    );
}

#[test]
fn everything_wrong_with_control_in_one_go() {
    let text = controlled(
        "mode = \"humidity\"\non_share = 2\nco2_limit = \"400 ppm\"\nfalls_below = \"5 °C\"\nlow_share = 30\n\
         boost = { factor = 5, last = \"3 min\" }\naway = { share = 2, days = \"summer\" }",
    );
    // Share, limit, no limit of humidity, nothing falls, low share; factor, an unknown key; share, days.
    assert!(text.ends_with("\n9 problems in bungalow.toml\n"), "{text}");
}

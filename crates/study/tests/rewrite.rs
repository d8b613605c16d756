//! Values changed by their paths, beside the same study written by hand.
//!
//! Source of every expected value: the same text with the line changed in it by hand, or the rules of `study::varied`.
#![allow(clippy::unwrap_used, clippy::panic)]

use study::{TextChange, Study, TextChangeError, parse_study, starter_study, varied};

fn changed(path: &str, value: &str) -> Result<String, TextChangeError> {
    varied(starter_study(), &[TextChange { path, value }])
}

fn read(text: &str) -> Study {
    parse_study(text, "study.toml")
        .unwrap_or_else(|problems| panic!("{}", problems.render(text, "study.toml")))
}

/// The starter with a line in it written anew.
fn by_hand(line: &str, anew: &str) -> Study {
    assert_eq!(starter_study().matches(line).count(), 1, "{line}");
    read(&starter_study().replace(line, anew))
}

#[test]
fn a_value_changed_by_its_path_is_that_written_by_hand() {
    let line = starter_study().lines().find(|line| line.starts_with("air_leakage")).unwrap();
    let text = changed("house.air_leakage", "\"3 1/h @50Pa\"").unwrap();
    assert_eq!(read(&text), by_hand(line, "air_leakage = \"3 1/h @50Pa\""));
}

#[test]
fn nothing_but_the_value_changes_in_the_text() {
    let text = changed("house.bedrooms", "2").unwrap();
    let differing: Vec<(&str, &str)> =
        starter_study().lines().zip(text.lines()).filter(|(before, after)| before != after).collect();
    assert_eq!(text.lines().count(), starter_study().lines().count());
    let [(before, after)] = differing[..] else { panic!("{differing:?}") };
    assert_eq!(before.replacen('3', "2", 1), after);
}

#[test]
fn no_change_leaves_the_text_as_it_is() {
    assert_eq!(varied(starter_study(), &[]).as_deref(), Ok(starter_study()));
}

#[test]
fn units_go_by_name_and_lists_by_number() {
    let text = varied(
        starter_study(),
        &[
            TextChange { path: "unit.Membrane B.balance", value: "1.1" },
            TextChange { path: "house.window.2.area", value: "\"3 m2\"" },
            TextChange { path: "unit.1.balance", value: "0.95" },
        ],
    )
    .unwrap();
    let study = read(&text);
    let balances: Vec<f64> = study.units.iter().map(|unit| unit.balance).collect();
    assert_eq!(balances[..2], [0.95, 1.1]);
    assert_eq!(study.house.windows[1].area_m2, 3.0);
    assert_eq!(study.house.windows[0], read(starter_study()).house.windows[0]);
}

#[test]
fn a_name_with_full_stops_is_found_whole() {
    let text = starter_study().replacen("name = \"Plate A\"", "name = \"Plate\"", 1);
    let text = text.replacen("name = \"Membrane B\"", "name = \"Plate.2.5\"", 1);
    let text = varied(&text, &[TextChange { path: "unit.Plate.2.5.balance", value: "1.1" }]).unwrap();
    assert_eq!(read(&text).units.iter().map(|unit| unit.balance).collect::<Vec<_>>()[..2], [1.0, 1.1]);
}

#[test]
fn a_whole_unit_can_be_put_in_the_place_of_another() {
    let whole = "{ name = \"Other\", core = \"sensible-plate\", effectiveness = { sensible = 0.7, at = \"45 L/s\" }, fan = { power = \"60 W\" } }";
    let text = changed("unit.Plate A", whole).unwrap();
    let units: Vec<String> = read(&text).units.into_iter().map(|unit| unit.name).collect();
    assert_eq!(units, ["Other", "Membrane B", "Plate A preheated"]);
}

#[test]
fn a_key_or_table_that_is_not_there_is_added() {
    let text = changed("house.cold_corner.temperature_factor", "0.62").unwrap();
    assert!((read(&text).house.cold_corner.temperature_factor - 0.62).abs() < 1e-12);
    let text = changed("site.wind_height", "\"6 m\"").unwrap();
    assert_eq!(read(&text).site.wind.height_m, Some(6.0));
}

#[test]
fn a_value_that_does_not_fit_is_told_by_the_study_with_its_line() {
    let text = changed("house.air_leakage", "\"3 kg\"").unwrap();
    let problems = parse_study(&text, "study.toml").unwrap_err();
    let shown = problems.render(&text, "study.toml");
    let line = starter_study().lines().position(|line| line.starts_with("air_leakage")).unwrap() + 1;
    assert!(shown.contains(&format!("study.toml:{line}:")) && shown.contains("3 kg"), "{shown}");
    let text = changed("house.air_leekage", "\"3 1/h @50Pa\"").unwrap();
    assert!(parse_study(&text, "study.toml").unwrap_err().render(&text, "x").contains("air_leakage"));
}

#[track_caller]
fn refused(path: &str, value: &str, said: &str, hint: Option<&str>) {
    let error = changed(path, value).unwrap_err();
    assert_eq!((error.to_string().as_str(), error.hint.as_deref()), (said, hint));
}

#[test]
fn what_cannot_be_changed_is_refused_with_what_would_be_right() {
    refused(
        "unit.Plate B.balance",
        "1",
        "`unit.Plate B.balance`: the study has no `unit` of the name or number `Plate B`",
        Some("did you mean `unit.Plate A`?"),
    );
    refused(
        "unit.Oven.price",
        "1",
        "`unit.Oven.price`: the study has no `unit` of the name or number `Oven`",
        Some("there are `Plate A`, `Membrane B` and `Plate A preheated`"),
    );
    refused(
        "house.bedrooms.many",
        "1",
        "`house.bedrooms.many`: `bedrooms` is a value and holds no `many`",
        None,
    );
    refused(
        "house.air_leakage",
        "3 1/h",
        "`house.air_leakage`: 3 1/h is no value",
        Some("texts stand between quotation marks, as in the study file"),
    );
    refused(
        "house..area",
        "1",
        "`house..area`: a part of the path is empty",
        Some("a path is such as `house.air_leakage` or `unit.Plate A.balance`"),
    );
    refused("unit.Plate A", "3", "`unit.Plate A`: a whole `unit` is a table, such as { name = \"…\" }", None);
    assert!(changed("unit.0.balance", "1").is_err() && changed("unit.4.balance", "1").is_err());
    assert!(varied("no = toml = text", &[TextChange { path: "a.b", value: "1" }]).is_err());
}

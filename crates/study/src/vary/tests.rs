//! Values changed by path. Expected values are the SI of what the change says.
#![allow(clippy::float_cmp, reason = "a value that is written is read as it is")]

use super::{Change, Template, VaryError};
use crate::starter_study;

fn changed(path: &str, value: impl Into<toml::Value>) -> Result<crate::Study, VaryError> {
    Template::new(starter_study(), "bungalow.toml").unwrap().with(&[Change::new(path, value)])
}

#[test]
fn keys_windows_units_and_missing_tables_are_reached() {
    assert_eq!(changed("house.floor_area", "1500 m2").unwrap().house.floor_area_m2, 1500.0);
    assert_eq!(changed("house.window.2.area", "5 m2").unwrap().house.windows[1].area_m2, 5.0);
    assert_eq!(changed("unit.Membrane B.fan.power", "70 W").unwrap().units[1].fan.power_w, 70.0);
    assert_eq!(changed("unit.2.fan.power", "70 W").unwrap().units[1].fan.power_w, 70.0);
    assert_eq!(changed("unit.Plate A.fan.power", "70 W").unwrap().units[0].fan.power_w, 70.0);
    assert_eq!(changed("unit.Plate A preheated.fan.power", "70 W").unwrap().units[2].fan.power_w, 70.0);
    assert_eq!(changed("house.people.count", 3).unwrap().house.people.count, 3);
    assert_eq!(changed("house.heating.efficiency", 0.9).unwrap().house.heating.efficiency, 0.9);
    assert!(changed("house.humidifier.target", "35 %").unwrap().house.humidifier.is_some());
}

#[test]
fn a_whole_unit_is_replaced() {
    let unit: toml::Value = toml::from_str::<toml::Table>(
        "name = \"Other\"\ncore = \"sensible-plate\"\nconductance = { ua = \"100 W/K\", at = \"45 L/s\" }",
    )
    .unwrap()
    .into();
    let study = changed("unit.Plate A", unit).unwrap();
    assert_eq!((study.units.len(), study.units[0].name.as_str()), (3, "Other"));
}

#[test]
fn nothing_changed_is_the_file_itself() {
    let template = Template::new(starter_study(), "bungalow.toml").unwrap();
    assert_eq!(template.with(&[]).unwrap(), crate::parse_study(starter_study(), "bungalow.toml").unwrap());
}

#[test]
fn paths_astray_name_the_nearest() {
    for (path, message) in [
        (
            "house.air_leakge",
            "`house.air_leakge` leads nowhere in the study: [house] has no key `air_leakge`",
        ),
        (
            "unit.Plate X.price",
            "`unit.Plate X.price` leads nowhere in the study: there is no `Plate X` among the 3 of [[unit]]",
        ),
        (
            "house.window.9.area",
            "`house.window.9.area` leads nowhere in the study: there is no `9` among the 4 of [[house.window]]",
        ),
        (
            "house.floor_area.big",
            "`house.floor_area.big` leads nowhere in the study: `house.floor_area` is one value, not a table",
        ),
        (
            "unit.Plate A.rating.1.power",
            "`unit.Plate A.rating.1.power` leads nowhere in the study: the study has no [[unit.rating]]",
        ),
        ("", "`` leads nowhere in the study: the study has no key ``"),
    ] {
        let template = Template::new(starter_study(), "bungalow.toml").unwrap();
        assert_eq!(template.check(path).unwrap_err().to_string(), message);
    }
    let template = Template::new(starter_study(), "bungalow.toml").unwrap();
    assert_eq!(template.check("house.air_leakge").unwrap_err().hint, "did you mean `house.air_leakage`?");
    assert_eq!(template.check("unit.Plat A").unwrap_err().hint, "did you mean `unit.Plate A`?");
}

#[test]
fn a_value_that_cannot_be_is_told_in_the_files_own_words_and_place() {
    let Err(VaryError::Study(problems)) = changed("house.floor_area", "2 m2") else { panic!("must fail") };
    let told = problems.render(starter_study(), "bungalow.toml");
    assert!(told.contains("`house.floor_area`"), "{told}");
    assert_eq!(&starter_study()[problems.list[0].span.clone()], "\"140 m2\"");
}

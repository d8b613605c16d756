//! What a study says of ventilation control and airing, read to SI, key by key; and what is filled in.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

mod said;

use approx::assert_relative_eq;
use said::{assert_filled_in, starter_with};
use study::{
    Airing, Away, Boost, BoostBy, ControlMode, DayRange, HumidityControl, MonthDay, Schedule, Study,
};

/// The starter's house with these lines of control.
fn controlled(lines: &str) -> Study {
    starter_with(&[("# Two units", &format!("[ventilation.control]\n{lines}\n# Two units"))])
}

fn mode(lines: &str) -> ControlMode {
    controlled(lines).ventilation.control.mode
}

#[test]
fn air_flows_all_the_time_unless_asked_otherwise() {
    let control = starter_with(&[]).ventilation.control;
    assert_eq!(control.mode, ControlMode::Continuous);
    assert!(control.boost.is_none() && control.away.is_none());
    assert_eq!(mode("mode = \"continuous\""), ControlMode::Continuous);
    let open = [
        (
            "ventilation.control.mode = continuous",
            "assumed: one flow day and night, since no other control is given",
        ),
        ("ventilation.control.boost = none", "assumed: nothing raises the flow, since no boost is given"),
        ("ventilation.control.away = none", "assumed: no days away, since none is given"),
    ];
    assert_filled_in(&starter_with(&[]), "ventilation.control", &open);
    assert_filled_in(&controlled("mode = \"continuous\""), "ventilation.control", &open[1..]);
}

#[test]
fn a_part_of_each_hour_is_a_share_or_minutes() {
    assert_eq!(mode("mode = \"intermittent\"\non_share = 0.4"), ControlMode::Intermittent { on_share: 0.4 });
    // By hand: 20 of 60 minutes; 15 of 45.
    for (on, off) in [("20 min", "40 min"), ("15 min", "0.5 h")] {
        let lines = format!("mode = \"intermittent\"\non = \"{on}\"\noff = \"{off}\"");
        let ControlMode::Intermittent { on_share } = mode(&lines) else { panic!("intermittent") };
        assert_relative_eq!(on_share, 1.0 / 3.0, max_relative = 1e-12);
    }
}

#[test]
fn a_limit_of_humidity_falls_with_the_cold() {
    let lines = "mode = \"humidity\"\nhumidity_at_or_above = \"45 %\"\nfalls_per_k = \"0.5 %/K\"\nfalls_below = \"41 °F\"\nlow_share = 0.25";
    let ControlMode::Humidity(control) = mode(lines) else { panic!("humidity") };
    assert_eq!(control.low_share, 0.25);
    assert_relative_eq!(control.falls_below_c, 5.0, max_relative = 1e-12);
    // By hand: 45 % at 5 °C and above, 0.5 % less for each kelvin of cold.
    for (outdoor_c, limit) in [(20.0, 0.45), (5.0, 0.45), (-5.0, 0.40), (-35.0, 0.25)] {
        assert_relative_eq!(control.limit_at(outdoor_c), limit, max_relative = 1e-12);
    }
    assert_eq!(control.limit_at(-500.0), 0.0);
}

#[test]
fn what_control_by_humidity_or_carbon_dioxide_leaves_open_is_listed() {
    let steady = controlled("mode = \"humidity\"\nhumidity_at_or_above = \"45 %\"");
    let expected =
        HumidityControl { at_or_above: 0.45, falls_per_k: 0.0, falls_below_c: 5.0, low_share: 0.3 };
    assert_eq!(steady.ventilation.control.mode, ControlMode::Humidity(expected));
    let low = ("ventilation.control.low_share = 0.3", "assumed: a low speed of about a third");
    assert_filled_in(&steady, "ventilation.control.low", &[low]);
    let slope = (
        "ventilation.control.falls_per_k = 0 %/K",
        "assumed: the limit does not follow the cold, since no slope is given",
    );
    assert_filled_in(&steady, "ventilation.control.falls", &[slope]);
    let falling =
        controlled("mode = \"humidity\"\nhumidity_at_or_above = \"45 %\"\nfalls_per_k = \"0.5 %/K\"");
    let below = ("ventilation.control.falls_below = 5 °C", "assumed: from where windows begin to sweat");
    assert_filled_in(&falling, "ventilation.control.falls", &[below]);
    let co2 = controlled("mode = \"co2\"\nco2_limit = \"900 ppm\"");
    assert_eq!(co2.ventilation.control.mode, ControlMode::Co2 { limit_ppm: 900.0, low_share: 0.3 });
    assert_filled_in(&co2, "ventilation.control.low", &[low]);
    let stated = mode("mode = \"co2\"\nco2_limit = \"900 ppm\"\nlow_share = 0");
    assert_eq!(stated, ControlMode::Co2 { limit_ppm: 900.0, low_share: 0.0 });
}

fn schedule(weekdays: [f64; 24], weekends: [f64; 24]) -> ControlMode {
    ControlMode::Schedule(Box::new(Schedule { weekdays, weekends }))
}

fn hours(share_at: impl Fn(usize) -> f64) -> [f64; 24] {
    std::array::from_fn(share_at)
}

#[test]
fn a_schedule_has_a_share_for_each_hour() {
    let day = hours(|hour| if (8..17).contains(&hour) { 0.5 } else { 1.0 });
    let study = controlled(&format!("mode = \"schedule\"\nweekdays = {day:?}"));
    assert_eq!(study.ventilation.control.mode, schedule(day, day));
    let alike = (
        "ventilation.control.weekends = as `weekdays`",
        "assumed: every day alike, since no other hours are given",
    );
    assert_filled_in(&study, "ventilation.control.week", &[alike]);
    let whole = hours(|_| 1.0);
    let both = mode(&format!("mode = \"schedule\"\nweekdays = {day:?}\nweekends = {whole:?}"));
    assert_eq!(both, schedule(day, whole));
    let integers: Vec<u32> = (0..24).map(|hour| u32::from(hour >= 6)).collect();
    let whole_numbers = mode(&format!("mode = \"schedule\"\nweekdays = {integers:?}"));
    let from_six = hours(|hour| if hour >= 6 { 1.0 } else { 0.0 });
    assert_eq!(whole_numbers, schedule(from_six, from_six));
}

#[test]
fn showers_may_raise_the_flow() {
    let study = controlled("boost = { showers = true, factor = 1.5, lasts = \"45 min\" }");
    let boost = Boost { by: BoostBy::Showers, factor: 1.5, lasts_s: 2700.0 };
    assert_eq!(study.ventilation.control.boost, Some(boost));
    let study = controlled("mode = \"intermittent\"\non_share = 0.5\n[ventilation.control.boost]");
    let boost = Boost { by: BoostBy::Showers, factor: 2.0, lasts_s: 1800.0 };
    assert_eq!(study.ventilation.control.boost, Some(boost));
    let open = [
        ("ventilation.control.boost.showers = true", "common practice: a switch in the bathroom"),
        ("ventilation.control.boost.factor = 2", "assumed: twice the flow"),
        (
            "ventilation.control.boost.lasts = 30 min",
            "common practice: a switch in the bathroom runs half an hour",
        ),
    ];
    assert_filled_in(&study, "ventilation.control.boost", &open);
}

#[test]
fn days_away_may_pass_the_end_of_the_year() {
    let study = controlled("away = { share = 0.3, days = [\"07-12..07-26\", \" 12-24 .. 01-01 \"] }");
    let day = |month, day| MonthDay { month, day };
    let days = vec![
        DayRange { first: day(7, 12), last: day(7, 26) },
        DayRange { first: day(12, 24), last: day(1, 1) },
    ];
    let away = study.ventilation.control.away.expect("away");
    assert_eq!(away, Away { share: 0.3, days });
    for inside in [day(7, 12), day(7, 20), day(7, 26), day(12, 24), day(12, 31), day(1, 1)] {
        assert!(away.contains(inside), "{inside:?}");
    }
    for outside in [day(7, 11), day(7, 27), day(12, 23), day(1, 2), day(2, 29)] {
        assert!(!away.contains(outside), "{outside:?}");
    }
    let leap = controlled("away = { share = 0, days = [\"02-29..02-29\"] }").ventilation.control.away;
    assert!(leap.expect("away").contains(day(2, 29)));
}

#[test]
fn windows_are_opened_by_a_rule_or_not_at_all() {
    assert_eq!(starter_with(&[]).house.airing, None);
    let none = ("house.airing = none", "assumed: nothing opens by itself, so that no window is opened");
    assert_filled_in(&starter_with(&[]), "house.airing", &[none]);
    let aired = |table: &str| {
        starter_with(&[("[house.people]", &format!("[house.airing]\n{table}\n[house.people]"))])
    };
    let rule = aired("indoor_above = \"24 °C\"\ncolder_by = \"2 K\"\nair_changes = \"3 1/h\"").house.airing;
    let Airing { indoor_above_c, colder_by_k, air_changes_per_s } = rule.expect("a rule");
    assert_eq!((indoor_above_c, colder_by_k), (24.0, 2.0));
    assert_relative_eq!(air_changes_per_s, 3.0 / 3600.0, max_relative = 1e-15);
    let study = aired("air_changes = \"7.2 ach\"");
    let rule = study.house.airing.expect("a rule");
    // By hand: midway between 20.5 and 25 °C; 7.2 an hour is 0.002 a second.
    assert_eq!((rule.indoor_above_c, rule.colder_by_k), (22.75, 1.0));
    assert_relative_eq!(rule.air_changes_per_s, 0.002, max_relative = 1e-12);
    let open = [
        (
            "house.airing.indoor_above = 22.75 °C",
            "assumed: midway between the set-points of heating and cooling",
        ),
        ("house.airing.colder_by = 1 K", "assumed: with less, air cools next to nothing"),
    ];
    assert_filled_in(&study, "house.airing", &open);
}

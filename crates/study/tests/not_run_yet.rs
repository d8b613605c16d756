//! Keys that a study may hold but that a run does not follow: a refusal, never silence.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

use study::build::{BuildError, assumptions, build, size_unit};
use study::{Study, parse_study, starter_study};
use weather::{Overrides, WeatherYear};

fn year() -> WeatherYear {
    let bytes = include_bytes!("../../../weather-samples/frosthollow.csv");
    weather::read(bytes, &Overrides::default()).expect("an invented year").0
}

fn study_of(core: &str, rest: &str) -> Study {
    let head = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    let text = format!(
        "{head}[[unit]]\nname = \"A\"\ncore = \"{core}\"\neffectiveness = {{ sensible = 0.8, at = \"30 L/s\" }}\n{rest}"
    );
    parse_study(&text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(&text, "s")))
}

fn refusal(core: &str, rest: &str, year: &WeatherYear) -> String {
    match build(&study_of(core, rest), year) {
        Err(error @ BuildError::NotRunYet { .. }) => error.to_string(),
        other => panic!("not refused: {rest}: {}", if other.is_ok() { "built" } else { "another error" }),
    }
}

#[test]
fn each_key_that_is_not_run_is_named() {
    let year = year();
    for (key, core, rest) in [
        ("unit.frost.strategy", "sensible-plate", "[unit.frost]\nstrategy = \"recirculate\""),
        ("unit.frost.strategy", "sensible-plate", "[unit.frost]\nstrategy = \"preheat\""),
        ("unit.frost.strategy", "sensible-plate", "[unit.frost]\nstrategy = \"supply-off\""),
        ("unit.frost.strategy", "sensible-plate", "[unit.frost]\nstrategy = \"bypass\""),
        ("unit.frost.strategy", "sensible-wheel", "[unit.frost]\nstrategy = \"slow-down\""),
        ("unit.frost.capacity", "sensible-plate", "[unit.frost]\ncapacity = \"2 kg\""),
        ("unit.frost.to_cold_end", "sensible-plate", "[unit.frost]\nto_cold_end = 0.1"),
        ("unit.core_heat_capacity", "sensible-plate", "core_heat_capacity = \"6 kJ/K\""),
        (
            "unit.fan.kind",
            "sensible-plate",
            "[unit.fan]\nkind = \"fixed-speed\"\n[unit.fan.curve]\nshut_off = \"300 Pa\"\nfree_flow = \"90 L/s\"\n\
             system = \"100 Pa\"",
        ),
        ("unit.fan.supply_share", "sensible-plate", "[unit.fan]\nsupply_share = 0.6"),
        ("unit.filter", "sensible-plate", "[unit.filter]\ninterval = \"90 d\""),
        ("unit.bypass", "sensible-plate", "[unit.bypass]"),
    ] {
        let expected = format!("unit `A`: this version reads `{key}` but does not run it yet: leave it out");
        assert_eq!(refusal(core, rest, &year), expected);
    }
}

#[test]
fn all_keys_of_a_unit_that_are_not_run_are_named_in_one_go() {
    let rest = "[unit.frost]\nstrategy = \"supply-off\"\nhold_outdoor_air = true\n[unit.filter]\ninterval = \"90 d\"\n";
    let expected = "unit `A`: this version reads `unit.frost.strategy` and `unit.filter` but does not run them yet: \
                    leave them out";
    assert_eq!(refusal("sensible-plate", rest, &year()), expected);
}

#[test]
fn keys_that_say_what_is_run_anyhow_are_run() {
    let year = year();
    let rest = "[unit.frost]\nstrategy = \"none\"\ncapacity = \"1.35 kg\"\nto_cold_end = 0\nhold_outdoor_air = true\n\
                [unit.fan]\nkind = \"constant-flow\"\nsupply_share = 0.5\n";
    let built = |rest: &str| build(&study_of("sensible-plate", rest), &year).expect("it runs").units;
    assert_eq!(built(rest), built(""));
}

#[test]
fn a_wheel_that_is_not_told_what_to_do_runs_at_its_speed_and_the_list_of_defaults_says_so() {
    let study = study_of("sensible-wheel", "");
    assert!(build(&study, &year()).is_ok());
    let said = assumptions(&study);
    let strategy = said.iter().find(|used| used.path == "unit.A.frost.strategy").expect("said");
    assert_eq!(strategy.value, "none");
    assert_eq!(
        strategy.why,
        "not run by this version yet: the wheel keeps its speed, and frost is only counted"
    );
    assert!(!assumptions(&study_of("sensible-plate", "")).iter().any(|used| used.path.ends_with("strategy")));
}

#[test]
fn a_steady_point_refuses_another_share_of_the_fans_but_not_what_happens_over_time() {
    let of = |rest: &str| {
        let study = study_of("sensible-plate", rest);
        size_unit(&study, &study.units[0], 0.0).map(|sized| sized.ua_w_per_k)
    };
    let refused = of("[unit.fan]\nsupply_share = 0.6\n").expect_err("another share").to_string();
    assert_eq!(
        refused,
        "unit `A`: this version reads `unit.fan.supply_share` but does not run it yet: leave it out"
    );
    assert_eq!(of("[unit.filter]\ninterval = \"90 d\"\n").expect("sized"), of("").expect("sized"));
}

//! What a study says of frost, fans, filters and free cooling, read to SI, key by key; and what is filled in.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

use approx::assert_relative_eq;
use study::{
    FanCurve, FanKind, Filter, FreeCooling, FrostStrategy, MissedAir, RecirculationControl, Study, Timetable,
    TimetableRow, Unit, parse_study, starter_study,
};

/// The starter's house, 45 L/s, heated to 20.5 °C and cooled to 25 °C, with a unit called A of this core.
fn study_of(core: &str, rest: &str) -> Study {
    let head = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    read(&format!("{head}{}", unit_text(core, rest)))
}

/// `rest` begins with keys of the unit itself.
fn unit_text(core: &str, rest: &str) -> String {
    format!(
        "[[unit]]\nname = \"A\"\ncore = \"{core}\"\neffectiveness = {{ sensible = 0.8, at = \"30 L/s\" }}\n{rest}"
    )
}

fn read(text: &str) -> Study {
    parse_study(text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(text, "s")))
}

fn plates(rest: &str) -> Unit {
    study_of("sensible-plate", rest).units.swap_remove(0)
}

fn strategy(lines: &str) -> FrostStrategy {
    plates(&format!("[unit.frost]\n{lines}\n")).frost.strategy
}

/// What was filled in under a key of the unit, as `key = value`, with the reason.
fn filled_in(study: &Study, under: &str) -> Vec<(String, &'static str)> {
    let path = format!("unit.A.{under}");
    let of_key = study.defaults_used.iter().filter(|used| used.path.starts_with(&path));
    of_key.map(|used| (format!("{} = {}", &used.path["unit.A.".len()..], used.value), used.why)).collect()
}

fn owned(expected: &[(&str, &'static str)]) -> Vec<(String, &'static str)> {
    expected.iter().map(|(used, why)| ((*used).to_owned(), *why)).collect()
}

#[test]
fn a_strategy_without_further_keys_is_on_demand_at_onset_or_plain() {
    let recirculate = FrostStrategy::Recirculate { control: RecirculationControl::OnDemand, returned: 0.5 };
    for (word, expected) in [
        ("recirculate", recirculate),
        ("preheat", FrostStrategy::Preheat { to_c: None, most_w: None }),
        ("supply-off", FrostStrategy::SupplyOff { start_below_c: None, end_above_c: None }),
        ("bypass", FrostStrategy::Bypass),
        ("none", FrostStrategy::None),
    ] {
        assert_eq!(strategy(&format!("strategy = \"{word}\"")), expected);
    }
    for (word, expected) in [("slow-down", FrostStrategy::SlowDown), ("none", FrostStrategy::None)] {
        let unit = study_of("sensible-wheel", &format!("[unit.frost]\nstrategy = \"{word}\"\n"));
        assert_eq!(unit.units[0].frost.strategy, expected);
    }
}

#[test]
fn plates_do_nothing_about_frost_unless_asked_and_wheels_slow_down() {
    assert_eq!(plates("").frost.strategy, FrostStrategy::None);
    assert_eq!(study_of("sensible-wheel", "").units[0].frost.strategy, FrostStrategy::SlowDown);
}

#[test]
fn a_timetable_is_read_in_seconds_and_degrees_celsius() {
    let table = "strategy = \"recirculate\"\nreturned = 0.4\n\
                 [[unit.frost.timetable]]\nat_or_below = \"23 °F\"\ndefrost = \"6 min\"\nrun = \"54 min\"\n\
                 [[unit.frost.timetable]]\nat_or_below = \"-15 °C\"\ndefrost = \"480 s\"\nrun = \"0.4 h\"\n\
                 [[unit.frost.timetable]]\nat_or_below = \"-27 °C\"\ndefrost = \"10 min\"\nrun = \"20 min\"\n";
    let FrostStrategy::Recirculate { control: RecirculationControl::Timetable(table), returned } =
        strategy(table)
    else {
        panic!("a timetable")
    };
    assert_eq!(returned, 0.4);
    // By hand: 23 °F is −5 °C; d/(d + r) of 6/54, 8/24 and 10/20 min is 0.1, 0.25 and 1/3.
    let expected =
        [(-5.0, 360.0, 3240.0, 0.1), (-15.0, 480.0, 1440.0, 0.25), (-27.0, 600.0, 1200.0, 1.0 / 3.0)];
    assert_eq!(table.rows.len(), 3);
    for (row, (at_or_below_c, defrost_s, run_s, share)) in table.rows.iter().zip(expected) {
        assert_relative_eq!(row.at_or_below_c, at_or_below_c, max_relative = 1e-12);
        assert_relative_eq!(row.defrost_s, defrost_s, max_relative = 1e-12);
        assert_relative_eq!(row.run_s, run_s, max_relative = 1e-12);
        assert_relative_eq!(row.defrost_share(), share, max_relative = 1e-12);
    }
}

#[test]
fn a_row_of_a_timetable_holds_at_its_temperature_and_down_to_the_next() {
    let row = |at_or_below_c| TimetableRow { at_or_below_c, defrost_s: 360.0, run_s: 1200.0 };
    let table = Timetable { rows: vec![row(-5.0), row(-15.0)] };
    for (outdoor_c, expected) in
        [(-4.9, None), (-5.0, Some(-5.0)), (-14.9, Some(-5.0)), (-15.0, Some(-15.0)), (-40.0, Some(-15.0))]
    {
        assert_eq!(table.row_at(outdoor_c).map(|row| row.at_or_below_c), expected, "{outdoor_c}");
    }
}

#[test]
fn two_rows_may_defrost_alike() {
    let table = "strategy = \"recirculate\"\n\
                 [[unit.frost.timetable]]\nat_or_below = \"-5 °C\"\ndefrost = \"6 min\"\nrun = \"18 min\"\n\
                 [[unit.frost.timetable]]\nat_or_below = \"-15 °C\"\ndefrost = \"8 min\"\nrun = \"24 min\"\n";
    assert!(matches!(strategy(table), FrostStrategy::Recirculate { .. }));
}

#[test]
fn keys_of_preheating_and_of_stopping_the_supply_are_read() {
    let lines = "strategy = \"preheat\"\npreheat_to = \"23 °F\"\npreheat_power = \"0.8 kW\"";
    let FrostStrategy::Preheat { to_c: Some(to_c), most_w: Some(most_w) } = strategy(lines) else {
        panic!("both")
    };
    assert_relative_eq!(to_c, -5.0, max_relative = 1e-12);
    assert_eq!(most_w, 800.0);
    let lines = "strategy = \"supply-off\"\nstart_below = \"-2 °C\"\nend_above = \"3 °C\"";
    let both = FrostStrategy::SupplyOff { start_below_c: Some(-2.0), end_above_c: Some(3.0) };
    assert_eq!(strategy(lines), both);
    let start = FrostStrategy::SupplyOff { start_below_c: Some(-2.0), end_above_c: None };
    assert_eq!(strategy("strategy = \"supply-off\"\nstart_below = \"-2 °C\""), start);
}

#[test]
fn keys_of_every_strategy_are_read() {
    for word in ["recirculate", "preheat", "supply-off", "bypass", "none"] {
        let frost = plates(&format!(
            "[unit.frost]\nstrategy = \"{word}\"\ncapacity = \"3 lb\"\nto_cold_end = 0.3\nhold_outdoor_air = true\n"
        ))
        .frost;
        assert_relative_eq!(frost.capacity_kg, 3.0 * 0.45359237, max_relative = 1e-12);
        assert_eq!((frost.to_cold_end, frost.missed_air), (0.3, MissedAir::MadeUp));
    }
    let frost = plates("[unit.frost]\nstrategy = \"recirculate\"\nhold_outdoor_air = false\n").frost;
    assert_eq!(frost.missed_air, MissedAir::Missed);
}

#[test]
fn what_frost_leaves_open_is_listed_with_its_reason() {
    let capacity = ("frost.capacity = 1.35 kg", "assumed: 0.03 kg for each L/s of `ventilation.airflow`");
    let cold_end = ("frost.to_cold_end = 0", "assumed: water drains where it forms");
    let air =
        ("frost.hold_outdoor_air = false", "assumed: a unit runs at one flow, and what it misses is counted");
    let none = (
        "frost.strategy = none",
        "common practice differs by climate; without a strategy the core may block",
    );
    assert_eq!(filled_in(&study_of("sensible-plate", ""), "frost"), owned(&[none, capacity, cold_end]));
    let of = |word: &str| {
        filled_in(&study_of("sensible-plate", &format!("[unit.frost]\nstrategy = \"{word}\"\n")), "frost")
    };
    let returned = (
        "frost.returned = 0.5",
        "assumed: half of the heat that warmed the core comes back into the supply air",
    );
    let timetable = (
        "frost.timetable = on-demand",
        "assumed: from 5 % of `capacity`, as long as melting takes, since no maker's timetable is given",
    );
    assert_eq!(of("recirculate"), owned(&[capacity, cold_end, air, returned, timetable]));
    let onset = (
        "frost.preheat_to = onset",
        "assumed: where this core first frosts, wet, at the indoor humidity of the hour",
    );
    let power = ("frost.preheat_power = unlimited", "assumed: large enough in any cold");
    assert_eq!(of("preheat"), owned(&[capacity, cold_end, onset, power]));
    let start = ("frost.start_below = on-demand", "assumed: when frost exceeds 5 % of `capacity`");
    let end = ("frost.end_above = on-demand", "assumed: when the frost has melted");
    assert_eq!(of("supply-off"), owned(&[capacity, cold_end, air, start, end]));
    assert_eq!(of("bypass"), owned(&[capacity, cold_end]));
}

#[test]
fn a_heat_capacity_of_the_core_is_read_or_follows_from_its_conductance() {
    let stated = plates("core_heat_capacity = \"5.2 kJ/K\"\n");
    assert_eq!(stated.core_heat_capacity_j_per_k, Some(5200.0));
    assert_eq!(stated.core_heat_capacity_j_per_k(250.0), 5200.0);
    assert_eq!(stated.core_heat_capacity_default(250.0), None);
    let open = plates("");
    assert_eq!(open.core_heat_capacity_j_per_k, None);
    // By hand: 250 W/K over 25 W/m²K is 10 m², of 0.5 kg/m² and 1.3 kJ/kgK: 6.5 kJ/K.
    assert_relative_eq!(open.core_heat_capacity_j_per_k(250.0), 6500.0, max_relative = 1e-12);
    let used = open.core_heat_capacity_default(250.0).expect("assumed");
    assert_eq!((used.path.as_str(), used.value.as_str()), ("unit.A.core_heat_capacity", "6.5 kJ/K"));
    assert_eq!(used.why, "assumed: plates of 0.5 kg/m² and 1.3 kJ/kgK, of an area that passes 25 W/m²K");
}

#[test]
fn a_fan_of_fixed_speed_has_its_curve() {
    let fan = plates(
        "[unit.fan]\nkind = \"fixed-speed\"\nsupply_share = 0.55\n\
         [unit.fan.curve]\nshut_off = \"1.2 in w.g.\"\nfree_flow = \"90 L/s\"\nsystem = \"100 Pa\"\n",
    )
    .fan;
    assert_eq!(fan.supply_share, 0.55);
    let FanKind::FixedSpeed(curve) = fan.kind else { panic!("fixed speed") };
    // 1 in w.g. = 249.0889 Pa (NIST SP 811, conventional, recalled from memory).
    assert_relative_eq!(curve.shut_off_pa, 1.2 * 249.0889, max_relative = 1e-6);
    assert_relative_eq!(curve.free_flow_m3_per_s, 0.09, max_relative = 1e-12);
    assert_eq!(curve.system_pa, 100.0);
    assert_eq!(plates("[unit.fan]\nkind = \"constant-flow\"\n").fan.kind, FanKind::ConstantFlow);
}

#[test]
fn the_curve_of_a_fan_falls_from_shut_off_to_nothing() {
    let curve = FanCurve { shut_off_pa: 300.0, free_flow_m3_per_s: 0.09, system_pa: 100.0 };
    assert_eq!((curve.pressure_pa(0.0), curve.pressure_pa(0.09)), (300.0, 0.0));
    // By hand: at half of the free flow three quarters are left.
    assert_relative_eq!(curve.pressure_pa(0.045), 225.0, max_relative = 1e-12);
}

#[test]
fn filters_stay_clean_or_load_by_an_interval() {
    assert_eq!(plates("").filter, None);
    let study = study_of("sensible-plate", "[unit.filter]\ninterval = \"90 d\"\n");
    assert_eq!(study.units[0].filter, Some(Filter { interval_s: 90.0 * 86400.0, load: 1.0 }));
    let doubles = ("filter.load = 1", "common practice: the pressure drop doubles until a filter is changed");
    assert_eq!(filled_in(&study, "filter"), owned(&[doubles]));
    let unit = plates("[unit.filter]\ninterval = \"2160 h\"\nload = 0.5\n");
    assert_eq!(unit.filter, Some(Filter { interval_s: 90.0 * 86400.0, load: 0.5 }));
}

#[test]
fn a_rule_of_free_cooling_is_read_or_filled_in() {
    assert_eq!(plates("").free_cooling, None);
    let lines = "[unit.bypass]\nindoor_above = \"23 °C\"\ncolder_by = \"2 K\"\nsupply_at_least = \"12 °C\"\n";
    let expected = FreeCooling { indoor_above_c: 23.0, colder_by_k: 2.0, supply_at_least_c: 12.0 };
    assert_eq!(plates(lines).free_cooling, Some(expected));
    let study = study_of("sensible-plate", "[unit.bypass]\n");
    // By hand: midway between 20.5 and 25 °C.
    let expected = FreeCooling { indoor_above_c: 22.75, colder_by_k: 1.0, supply_at_least_c: 14.0 };
    assert_eq!(study.units[0].free_cooling, Some(expected));
    let reasons = owned(&[
        ("bypass.indoor_above = 22.75 °C", "assumed: midway between the set-points of heating and cooling"),
        ("bypass.colder_by = 1 K", "assumed: with less, air cools next to nothing"),
        ("bypass.supply_at_least = 14 °C", "common practice: colder supply air is felt as a draught"),
    ]);
    assert_eq!(filled_in(&study, "bypass"), reasons);
}

#[test]
fn a_house_that_is_not_cooled_is_freely_cooled_from_three_kelvin_above_heating() {
    let head = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    let (before, rest) = head.split_once("[house.cooling]").expect("the table");
    let after = &rest[rest.find("[house.people]").expect("the table")..];
    let study = read(&format!("{before}{after}{}", unit_text("sensible-plate", "[unit.bypass]\n")));
    assert_eq!(study.units[0].free_cooling.map(|rule| rule.indoor_above_c), Some(23.5));
    let reason = "assumed: 3 K above the set-point of heating, since the house is not cooled";
    assert_eq!(filled_in(&study, "bypass")[0], ("bypass.indoor_above = 23.5 °C".to_owned(), reason));
}

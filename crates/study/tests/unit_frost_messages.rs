//! The whole text that a user reads when something is wrong with frost, fans, filters or free cooling. These texts are
//! part of the interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::{assert_says, said};

const PLATES: &str = "sensible-plate";
const CORE: &str = "effectiveness = { sensible = 0.8, at = \"30 L/s\" }\n";

/// What is said of the starter's house with a unit of this core; `rest` begins in line 75 under the unit's own keys.
fn of(core: &str, rest: &str) -> String {
    said(core, &format!("{CORE}{rest}"))
}

fn row(at_or_below: &str, defrost: &str, run: &str) -> String {
    format!(
        "[[unit.frost.timetable]]\nat_or_below = \"{at_or_below}\"\ndefrost = \"{defrost}\"\nrun = \"{run}\"\n"
    )
}

#[test]
fn a_timetable_without_recirculation() {
    let expected = "\
error: `unit.A.frost.timetable`: only strategy = \"recirculate\" has it; here it is \"supply-off\"
  --> bungalow.toml:77:1
   |
77 | [[unit.frost.timetable]]
   | ^^^^^^^^^^^^^^^^^^^^^^^^ not for this strategy

hint: leave `timetable` out, or write strategy = \"recirculate\"

1 problem in bungalow.toml
";
    let table = row("-5 °C", "6 min", "54 min");
    assert_eq!(of(PLATES, &format!("[unit.frost]\nstrategy = \"supply-off\"\n{table}")), expected);
    assert_says(
        &of(PLATES, &table),
        &[
            "error: `unit.A.frost.timetable`: only strategy = \"recirculate\" has it; left out, it is \"none\"\n",
        ],
    );
    assert_says(
        &of("sensible-wheel", &table),
        &[
            "only strategy = \"recirculate\" has it; left out, it is \"slow-down\"\n",
            "hint: leave `timetable` out\n",
        ],
    );
}

#[test]
fn a_preheater_beside_recirculation() {
    let expected = "\
error: `unit.A.frost.preheat_to`: only strategy = \"preheat\" has it; here it is \"recirculate\"
  --> bungalow.toml:77:14
   |
77 | preheat_to = \"-3 °C\"
   |              ^^^^^^^ not for this strategy

hint: leave `preheat_to` out, or write strategy = \"preheat\"

1 problem in bungalow.toml
";
    let lines = "[unit.frost]\nstrategy = \"recirculate\"\npreheat_to = \"-3 °C\"\n";
    assert_eq!(of(PLATES, lines), expected);
}

#[test]
fn every_key_of_a_strategy_beside_every_other_strategy() {
    let keys = [
        ("recirculate", "returned", "returned = 0.5"),
        ("preheat", "preheat_to", "preheat_to = \"-3 °C\""),
        ("preheat", "preheat_power", "preheat_power = \"500 W\""),
        ("supply-off", "start_below", "start_below = \"-2 °C\""),
        ("supply-off", "end_above", "end_above = \"2 °C\""),
    ];
    for chosen in ["recirculate", "preheat", "supply-off", "bypass", "none"] {
        for (owner, key, line) in keys.into_iter().filter(|(owner, ..)| *owner != chosen) {
            let text = of(PLATES, &format!("[unit.frost]\nstrategy = \"{chosen}\"\n{line}\n"));
            let message = format!(
                "error: `unit.A.frost.{key}`: only strategy = \"{owner}\" has it; here it is \"{chosen}\"\n"
            );
            assert_says(&text, &[&message]);
        }
    }
}

#[test]
fn a_strategy_of_plates_on_a_wheel_and_of_a_wheel_on_plates() {
    let expected = "\
error: `unit.A.frost.strategy`: `recirculate` is no strategy of a wheel
  --> bungalow.toml:76:12
   |
76 | strategy = \"recirculate\"
   |            ^^^^^^^^^^^^^ not for this core

hint: choose `slow-down` or `none`

1 problem in bungalow.toml
";
    assert_eq!(of("sensible-wheel", "[unit.frost]\nstrategy = \"recirculate\"\n"), expected);
    for word in ["preheat", "supply-off", "bypass"] {
        let text = of("sensible-wheel", &format!("[unit.frost]\nstrategy = \"{word}\"\n"));
        assert_says(&text, &[&format!("`{word}` is no strategy of a wheel\n")]);
    }
    assert_says(
        &of(PLATES, "[unit.frost]\nstrategy = \"slow-down\"\n"),
        &[
            "error: `unit.A.frost.strategy`: `slow-down` is no strategy of a core of plates\n",
            "hint: choose `recirculate`, `preheat`, `supply-off`, `bypass` or `none`\n",
        ],
    );
}

#[test]
fn a_strategy_that_is_misspelled() {
    assert_says(
        &of(PLATES, "[unit.frost]\nstrategy = \"recirculat\"\n"),
        &[
            "error: `unit.A.frost.strategy`: `recirculat` is no choice here\n",
            "hint: did you mean `recirculate`? choose ",
        ],
    );
}

#[test]
fn rows_out_of_order() {
    let expected = "\
error: `unit.A.frost.timetable[2].at_or_below`: -5 °C is warmer than the row before, -15 °C
  --> bungalow.toml:82:15
   |
82 | at_or_below = \"-5 °C\"
   |               ^^^^^^^ out of order

hint: sort the rows by falling temperature

1 problem in bungalow.toml
";
    let rows = row("-15 °C", "8 min", "24 min") + &row("-5 °C", "6 min", "54 min");
    assert_eq!(of(PLATES, &format!("[unit.frost]\nstrategy = \"recirculate\"\n{rows}")), expected);
}

#[test]
fn a_temperature_twice_in_a_timetable() {
    let rows = row("-5 °C", "6 min", "54 min") + &row("23 °F", "8 min", "24 min");
    assert_says(
        &of(PLATES, &format!("[unit.frost]\nstrategy = \"recirculate\"\n{rows}")),
        &[
            "error: `unit.A.frost.timetable[2].at_or_below`: -5 °C stands in the row before already\n",
            "hint: a timetable holds each temperature once\n",
        ],
    );
}

#[test]
fn a_colder_row_that_defrosts_less() {
    // By hand: 8/(8 + 24) and 6/(6 + 54).
    let expected = "\
error: `unit.A.frost.timetable[2]`: 0.1 of the time in defrost is less than in the warmer row before, 0.25
  --> bungalow.toml:83:11
   |
83 | defrost = \"6 min\"
   |           ^^^^^^^ too little

hint: colder air brings no less frost: check `defrost` and `run` of both rows; the share is defrost/(defrost + run)

1 problem in bungalow.toml
";
    let rows = row("-5 °C", "8 min", "24 min") + &row("-15 °C", "6 min", "54 min");
    assert_eq!(of(PLATES, &format!("[unit.frost]\nstrategy = \"recirculate\"\n{rows}")), expected);
}

#[test]
fn a_timetable_without_rows_or_that_is_no_list() {
    let of_frost = |line: &str| of(PLATES, &format!("[unit.frost]\nstrategy = \"recirculate\"\n{line}\n"));
    assert_says(
        &of_frost("timetable = []"),
        &[
            "error: `unit.A.frost.timetable` holds no row\n",
            "hint: write each row under a header [[unit.frost.timetable]]\n",
        ],
    );
    assert_says(
        &of_frost("timetable = \"on-demand\""),
        &[
            "error: `unit.A.frost.timetable` must be a list of tables\n",
            "hint: write its header as [[unit.frost.timetable]]\n",
        ],
    );
    assert_says(
        &of_frost("[[unit.frost.timetable]]\nat_or_below = \"-5 °C\""),
        &["error: `unit.A.frost.timetable[1]` lacks the keys `defrost` and `run`\n"],
    );
}

#[test]
fn a_defrost_that_would_end_before_it_starts() {
    assert_says(
        &of(
            PLATES,
            "[unit.frost]\nstrategy = \"supply-off\"\nstart_below = \"2 °C\"\nend_above = \"1 °C\"\n",
        ),
        &[
            "error: `unit.A.frost.end_above`: 1 °C is not above `start_below`, which is 2 °C\n",
            "hint: defrosting ends when the air leaves the extract side warmer than where it started\n",
        ],
    );
}

#[test]
fn water_that_flows_along_a_wheel() {
    assert_says(
        &of("sensible-wheel", "[unit.frost]\nto_cold_end = 0.2\n"),
        &[
            "error: `unit.A.frost.to_cold_end`: a wheel has no plates for water to flow along\n",
            "hint: leave `to_cold_end` out\n",
        ],
    );
}

#[test]
fn a_switch_that_is_no_switch() {
    let expected = "\
error: `unit.A.frost.hold_outdoor_air`: true or false is needed
  --> bungalow.toml:77:20
   |
77 | hold_outdoor_air = \"true\"
   |                    ^^^^^^ this is text

hint: write true or false, without quotation marks

1 problem in bungalow.toml
";
    let lines = "[unit.frost]\nstrategy = \"recirculate\"\nhold_outdoor_air = \"true\"\n";
    assert_eq!(of(PLATES, lines), expected);
}

#[test]
fn wrong_dimensions_of_the_new_quantities() {
    assert_says(
        &of(PLATES, "[unit.frost]\ncapacity = \"1.4 L/s\"\n"),
        &[
            "error: `unit.A.frost.capacity`: a mass is needed, but `L/s` measures a flow of air\n",
            "hint: units that fit: kg, g, lb\n",
        ],
    );
    assert_says(
        &of(PLATES, "core_heat_capacity = \"6 kJ/m2K\"\n"),
        &[
            "error: `unit.A.core_heat_capacity`: a heat capacity is needed, but `kJ/m2K` measures a heat capacity per area\n",
            "hint: units that fit: kJ/K, Wh/K, J/K, Btu/°F\n",
        ],
    );
    assert_says(
        &of(PLATES, "core_heat_capacity = \"6000 kJ/K\"\n"),
        &["error: `unit.A.core_heat_capacity`: must lie between 0.1 kJ/K and 1000 kJ/K\n"],
    );
    let curve =
        "[unit.fan]\nkind = \"fixed-speed\"\n[unit.fan.curve]\nfree_flow = \"90 L/s\"\nsystem = \"100 Pa\"\n";
    assert_says(
        &of(PLATES, &format!("{curve}shut_off = \"1.2 in\"\n")),
        &[
            "error: `unit.A.fan.curve.shut_off`: a pressure is needed, but `in` measures a length\n",
            "hint: units that fit: Pa, in w.g.\n",
        ],
    );
}

#[test]
fn a_fan_of_fixed_speed_without_its_curve() {
    let expected = "\
error: `unit.A.fan.kind` = \"fixed-speed\" needs the table `[unit.fan.curve]`
  --> bungalow.toml:76:8
   |
76 | kind = \"fixed-speed\"
   |        ^^^^^^^^^^^^^ no curve for it

hint: the curve has `shut_off`, `free_flow` and `system`; or write kind = \"constant-flow\"

1 problem in bungalow.toml
";
    assert_eq!(of(PLATES, "[unit.fan]\nkind = \"fixed-speed\"\n"), expected);
}

/// 300 Pa and 90 L/s, against ducts of 100 Pa, but for what is changed.
fn curve(kind: &str, change: (&str, &str)) -> String {
    let curve = "[unit.fan.curve]\nshut_off = \"300 Pa\"\nfree_flow = \"90 L/s\"\nsystem = \"100 Pa\"\n";
    format!("[unit.fan]\nkind = \"{kind}\"\n{}", curve.replace(change.0, change.1))
}

#[test]
fn a_curve_of_a_fan_of_constant_flow() {
    assert_says(
        &of(PLATES, &curve("constant-flow", ("", ""))),
        &[
            "error: `unit.A.fan.curve`: only kind = \"fixed-speed\" has a curve\n",
            "77 | [unit.fan.curve]\n   | ^^^^^^^^^^^^^^^^ not for this kind\n",
            "hint: leave `[unit.fan.curve]` out, or write kind = \"fixed-speed\" in `[unit.fan]`\n",
        ],
    );
}

#[test]
fn a_fan_that_does_not_reach_the_flow_of_the_house() {
    assert_says(
        &of(PLATES, &curve("fixed-speed", ("90 L/s", "40 L/s"))),
        &[
            "error: `unit.A.fan.curve.free_flow`: 40 L/s is not more than `ventilation.airflow`, which is 45 L/s\n",
            "hint: it is what one fan moves against no pressure: more than it moves in the house\n",
        ],
    );
    // By hand: 300 × (1 − (45/90)²) = 225.
    assert_says(
        &of(PLATES, &curve("fixed-speed", ("100 Pa", "230 Pa"))),
        &[
            "error: `unit.A.fan.curve.system`: 230 Pa is more than the 225 Pa that the fan gives at `ventilation.airflow`\n",
            "hint: the fan's curve is a parabola from `shut_off` to `free_flow`: check all three\n",
        ],
    );
}

#[test]
fn a_filter_without_its_interval() {
    assert_says(
        &of(PLATES, "[unit.filter]\nload = 0.5\n"),
        &["error: `unit.A.filter` lacks the key `interval`\n"],
    );
}

#[test]
fn free_cooling_that_heats_never_opens_or_does_not_cool() {
    let of_bypass = |line: &str| of(PLATES, &format!("[unit.bypass]\n{line}\n"));
    assert_says(
        &of_bypass("indoor_above = \"20 °C\""),
        &[
            "error: `unit.A.bypass.indoor_above`: 20 °C is below the set-point of heating, 20.5 °C\n",
            "hint: the bypass would open while the house is heated\n",
        ],
    );
    assert_says(
        &of_bypass("indoor_above = \"25 °C\""),
        &[
            "error: `unit.A.bypass.indoor_above`: 25 °C is not below the set-point of cooling, 25 °C\n",
            "hint: the bypass would never open: cooling keeps the house colder\n",
        ],
    );
    assert_says(
        &of_bypass("supply_at_least = \"23 °C\""),
        &[
            "error: `unit.A.bypass.supply_at_least`: 23 °C is not below `indoor_above`, which is 22.75 °C\n",
            "hint: air that cools is colder than the rooms\n",
        ],
    );
}

#[test]
fn slips_of_the_pen_in_the_tables_of_frost_fans_and_filters() {
    for (rest, slip, near) in [
        ("[unit.frost]\n", "strategie = \"none\"", "strategy"),
        ("[unit.frost]\n", "to-cold-end = 0.1", "to_cold_end"),
        ("[unit.frost]\n", "hold_outdoor_ari = true", "hold_outdoor_air"),
        ("[unit.fan]\n", "supply_shar = 0.5", "supply_share"),
        ("[unit.filter]\ninterval = \"90 d\"\n", "laod = 1", "load"),
        ("[unit.bypass]\n", "colder_bye = \"1 K\"", "colder_by"),
    ] {
        let text = of(PLATES, &format!("{rest}{slip}\n"));
        assert_says(&text, &[" has no key `", &format!("hint: did you mean `{near}`?\n")]);
    }
    assert_says(
        &of(PLATES, "core_heat_capcity = \"6 kJ/K\"\n"),
        &["hint: did you mean `core_heat_capacity`?\n"],
    );
    assert_says(
        &of(PLATES, "[unit.fan]\nshut_off = \"300 Pa\"\n"),
        &["`unit.A.fan` has no key `shut_off`", "hint: `shut_off` belongs to `[unit.fan.curve]`\n"],
    );
    assert_says(
        &of(PLATES, "preheat_to = \"-3 °C\"\n"),
        &["`unit.A` has no key `preheat_to`", "hint: `preheat_to` belongs to `[unit.frost]`\n"],
    );
}

#[test]
fn everything_wrong_with_frost_and_fans_in_one_go() {
    let text = of(
        PLATES,
        "core_heat_capacity = 6\n\
         [unit.fan]\nkind = \"fixed\"\nsupply_share = 55\n\
         [unit.fan.curve]\nshut_off = \"3 Pa\"\n\
         [unit.frost]\nstrategy = \"supply-off\"\ncapacity = 1.4\nto_cold_end = 2\nhold_outdoor_air = 1\nreturned = 0.5\n\
         [[unit.frost.timetable]]\nat_or_below = \"-5\"\ndefrost = \"6 min\"\n\
         [unit.filter]\nload = 4\n\
         [unit.bypass]\nbelow = \"20 °C\"\ncolder_by = \"1 m\"\n",
    );
    // Core, kind, share, shut-off, two keys of the curve; capacity, cold end, switch, returned, timetable, its temperature, its
    // run; load, interval; below, colder_by.
    assert!(text.ends_with("\n16 problems in bungalow.toml\n"), "{text}");
}

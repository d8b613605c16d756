//! Frost, fans, filters and free cooling made at random: what is right is read to what was written, what is changed never
//! panics.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "a number that is read is the number that was written")]

use proptest::prelude::*;
use study::{
    FanKind, FreeCooling, FrostStrategy, MissedAir, RecirculationControl, TimetableRow, Unit, parse_study,
    starter_study,
};

/// The starter's house, 45 L/s, heated to 20.5 °C and cooled to 25 °C.
fn with_unit(core: &str, rest: &str) -> String {
    let head = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    format!(
        "{head}[[unit]]\nname = \"A\"\ncore = \"{core}\"\neffectiveness = {{ sensible = 0.8, at = \"30 L/s\" }}\n{rest}"
    )
}

fn plates(rest: &str) -> Unit {
    let text = with_unit("sensible-plate", rest);
    let study = parse_study(&text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(&text, "s")));
    study.units.into_iter().next().expect("a unit")
}

fn is_near(read: f64, written: f64) -> bool {
    (read - written).abs() <= 1e-9 * written.abs().max(1.0)
}

/// Rows as the file holds them: °C apart by whole degrees and falling, minutes of defrost rising over one time to run.
fn rows() -> impl Strategy<Value = Vec<(i32, u32, u32)>> {
    let temperatures = proptest::collection::btree_set(-60..=15i32, 1..8);
    let defrosts = proptest::collection::vec(1..=120u32, 8);
    (temperatures, defrosts, 1..=1440u32).prop_map(|(temperatures, mut defrosts, run)| {
        defrosts.sort_unstable();
        temperatures.into_iter().rev().zip(defrosts).map(|(at, defrost)| (at, defrost, run)).collect()
    })
}

fn written(rows: &[(i32, u32, u32)]) -> String {
    let row = |(at, defrost, run): &(i32, u32, u32)| {
        format!(
            "[[unit.frost.timetable]]\nat_or_below = \"{at} °C\"\ndefrost = \"{defrost} min\"\nrun = \"{run} min\"\n"
        )
    };
    rows.iter().map(row).collect()
}

const RECIRCULATE: &str = "[unit.frost]\nstrategy = \"recirculate\"\n";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn valid_timetables_are_read_to_what_was_written(rows in rows(), returned in 0.0..1.0f64, outdoor_c in -70.0..25.0f64) {
        let unit = plates(&format!("{RECIRCULATE}returned = {returned}\n{}", written(&rows)));
        let FrostStrategy::Recirculate { control: RecirculationControl::Timetable(table), returned: read } =
            unit.frost.strategy
        else { panic!("a timetable") };
        prop_assert_eq!(read, returned);
        let expected: Vec<TimetableRow> = rows.iter().map(|(at, defrost, run)| TimetableRow {
            at_or_below_c: f64::from(*at),
            defrost_s: f64::from(*defrost) * 60.0,
            run_s: f64::from(*run) * 60.0,
        }).collect();
        prop_assert_eq!(&table.rows, &expected);
        prop_assert!(table.rows.iter().all(|row| row.defrost_share() > 0.0 && row.defrost_share() < 1.0));
        // The coldest row that is not colder, sought among all rows instead of from the end.
        let fits = expected.iter().filter(|row| outdoor_c <= row.at_or_below_c);
        let coldest = fits.min_by(|a, b| a.at_or_below_c.total_cmp(&b.at_or_below_c));
        prop_assert_eq!(table.row_at(outdoor_c), coldest);
    }

    #[test]
    fn a_timetable_with_two_rows_swapped_is_refused(rows in rows(), pick in 0..8usize) {
        prop_assume!(rows.len() > 1);
        let mut rows = rows;
        let first = pick % (rows.len() - 1);
        rows.swap(first, first + 1);
        let text = with_unit("sensible-plate", &format!("{RECIRCULATE}{}", written(&rows)));
        let problems = parse_study(&text, "s").expect_err("out of order");
        prop_assert!(problems.list.iter().any(|problem| problem.label == "out of order"));
    }

    #[test]
    fn valid_strategies_are_read_to_what_was_written(
        preheat in (proptest::option::of(-30.0..15.0f64), proptest::option::of(1.0..100_000.0f64)),
        start in proptest::option::of(-20.0..10.0f64),
        end in proptest::option::of(10.0..30.0f64),
        common in (0.01..500.0f64, 0.0..1.0f64, any::<bool>(), 0.1..1000.0f64),
    ) {
        let line = |key: &str, value: Option<f64>, unit: &str| {
            value.map_or_else(String::new, |value| format!("{key} = \"{value} {unit}\"\n"))
        };
        let (capacity, to_cold_end, hold, heat) = common;
        let head = |word: &str| format!(
            "core_heat_capacity = \"{heat} kJ/K\"\n[unit.frost]\nstrategy = \"{word}\"\ncapacity = \"{capacity} kg\"\n\
             to_cold_end = {to_cold_end}\nhold_outdoor_air = {hold}\n"
        );
        let (to_c, most_w) = preheat;
        let lines = line("preheat_to", to_c, "°C") + &line("preheat_power", most_w, "W");
        let heated = plates(&(head("preheat") + &lines));
        prop_assert_eq!(&heated.frost.strategy, &FrostStrategy::Preheat { to_c, most_w });
        prop_assert_eq!((heated.frost.capacity_kg, heated.frost.to_cold_end), (capacity, to_cold_end));
        prop_assert_eq!(heated.frost.missed_air == MissedAir::MadeUp, hold);
        prop_assert!(is_near(heated.core_heat_capacity_j_per_k(1.0), heat * 1000.0));
        let lines = line("start_below", start, "°C") + &line("end_above", end, "°C");
        let stopped = plates(&(head("supply-off") + &lines));
        prop_assert_eq!(
            stopped.frost.strategy,
            FrostStrategy::SupplyOff { start_below_c: start, end_above_c: end }
        );
    }

    #[test]
    fn valid_fans_and_filters_are_read_to_what_was_written(
        shut_off in 10.0..2500.0f64,
        free_flow in 46.0..5000.0f64,
        part in 0.0..0.999f64,
        share in 0.0..1.0f64,
        filter in proptest::option::of((1.0..1000.0f64, 0.0..3.0f64)),
    ) {
        // Whatever the fan gives at 45 L/s, the ducts take a part of it.
        let most = shut_off * (1.0 - (45.0 / free_flow).powi(2));
        let system = (part * most).min(1000.0);
        let filters = filter.map_or_else(String::new, |(days, load)| {
            format!("[unit.filter]\ninterval = \"{days} d\"\nload = {load}\n")
        });
        let unit = plates(&format!(
            "[unit.fan]\nkind = \"fixed-speed\"\nsupply_share = {share}\n[unit.fan.curve]\nshut_off = \"{shut_off} Pa\"\n\
             free_flow = \"{free_flow} L/s\"\nsystem = \"{system} Pa\"\n{filters}"
        ));
        let FanKind::FixedSpeed(curve) = unit.fan.kind else { panic!("fixed speed") };
        prop_assert_eq!((curve.shut_off_pa, curve.system_pa, unit.fan.supply_share), (shut_off, system, share));
        prop_assert!(is_near(curve.free_flow_m3_per_s, free_flow * 0.001));
        prop_assert!(curve.pressure_pa(0.045) >= system);
        prop_assert_eq!(unit.filter.is_some(), filter.is_some());
        if let (Some(read), Some((days, load))) = (unit.filter, filter) {
            prop_assert!(is_near(read.interval_s, days * 86400.0) && read.load == load);
        }
    }

    #[test]
    fn valid_rules_of_free_cooling_are_read_to_what_was_written(
        indoor_above_c in 20.5..24.999f64, colder_by_k in 0.0..20.0f64, supply_at_least_c in 0.0..20.0f64,
    ) {
        let unit = plates(&format!(
            "[unit.bypass]\nindoor_above = \"{indoor_above_c} °C\"\ncolder_by = \"{colder_by_k} K\"\n\
             supply_at_least = \"{supply_at_least_c} °C\"\n"
        ));
        prop_assert_eq!(unit.free_cooling, Some(FreeCooling { indoor_above_c, colder_by_k, supply_at_least_c }));
    }

    #[test]
    fn changed_tables_give_a_study_or_problems_that_can_be_shown(
        rows in rows(), wheel in any::<bool>(), at in 0..2000usize, length in 0..30usize, put in "\\PC{0,12}",
    ) {
        let unit = format!(
            "core_heat_capacity = \"6 kJ/K\"\n{RECIRCULATE}capacity = \"1 kg\"\nhold_outdoor_air = true\n{}\
             [unit.fan]\nkind = \"fixed-speed\"\n[unit.fan.curve]\nshut_off = \"300 Pa\"\nfree_flow = \"90 L/s\"\n\
             system = \"0.4 in w.g.\"\n[unit.filter]\ninterval = \"90 d\"\n[unit.bypass]\ncolder_by = \"1 K\"\n",
            written(&rows)
        );
        let letters: Vec<char> = unit.chars().collect();
        let at = at % letters.len();
        let end = (at + length).min(letters.len());
        let changed: String =
            letters[..at].iter().copied().chain(put.chars()).chain(letters[end..].iter().copied()).collect();
        let text = with_unit(if wheel { "sensible-wheel" } else { "sensible-plate" }, &changed);
        if let Err(problems) = parse_study(&text, "s") {
            prop_assert!(problems.render(&text, "s").ends_with(" in s\n"));
        }
    }

    #[test]
    fn a_wrong_value_at_any_key_is_said_where_it_stands(pick in 0..21usize, value in prop_oneof![
        Just("[1979-05-27]"), Just("{ a = 1 }"), Just("nan"), Just("-1e308"), Just("\"\""), Just("\"1e400 m\""), Just("[[1]]"),
    ]) {
        let keys: Vec<String> = study::known_keys().into_iter().filter(|key| {
            ["unit.frost.", "unit.fan.", "unit.filter.", "unit.bypass."].iter().any(|table| key.starts_with(table))
                // Nothing but a table, which `{ a = 1 }` is, or a list of them.
                && !["unit.frost.timetable", "unit.fan.curve"].contains(&key.as_str())
                && !key.starts_with("unit.frost.timetable.")
        }).collect();
        prop_assert_eq!(keys.len(), 21);
        let key = keys[pick].trim_start_matches("unit.");
        let text = with_unit("sensible-plate", &format!("{key} = {value}\n"));
        let problems = parse_study(&text, "s").expect_err("a wrong value");
        let place = text.rfind(value).expect("the value");
        prop_assert!(problems.list.iter().any(|problem| problem.span.start == place), "{}", problems.render(&text, "s"));
    }
}

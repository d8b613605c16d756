//! Units made at random: those that are right are read to what was written, those that are changed never panic.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "a number that is read is the number that was written")]

use proptest::prelude::*;
use study::{Arrangement, Performance, Study, parse_study, starter_study};

const CORES: [&str; 4] = ["sensible-plate", "enthalpy-plate", "sensible-wheel", "enthalpy-wheel"];

fn with_unit(unit: &str) -> String {
    let head = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    format!("{head}[[unit]]\nname = \"A\"\n{unit}")
}

fn parse(unit: &str) -> Study {
    let text = with_unit(unit);
    parse_study(&text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(&text, "s")))
}

/// A line, or nothing.
fn maybe(line: impl Strategy<Value = String>) -> impl Strategy<Value = String> {
    proptest::option::of(line).prop_map(|line| line.map_or_else(String::new, |line| line + "\n"))
}

fn number(key: &'static str, range: std::ops::Range<f64>) -> impl Strategy<Value = String> {
    range.prop_map(move |number| format!("{key} = {number:.4}"))
}

/// Flow in any unit, 3…1000 L/s.
fn flow() -> impl Strategy<Value = (f64, String)> {
    (3.0..1000.0f64, 0..4usize).prop_map(|(litres, pick)| {
        let (unit, of_one) =
            [("L/s", 1.0), ("m3/h", 3.6), ("m3/s", 0.001), ("cfm", 1.0 / 0.4719474432)][pick];
        (litres, format!("\"{:.9} {unit}\"", litres * of_one))
    })
}

/// A frost-free C439 point for any core that tells heat from vapour where it must: a sensible and a total figure.
fn point() -> impl Strategy<Value = (f64, String)> {
    let air = (
        prop_oneof![Just(35.0), -10.0..18.0f64],
        maybe((22.0..30.0f64).prop_map(|indoor| format!("indoor = \"{indoor:.2} °C\""))),
        maybe((20.0..80.0f64).prop_map(|humidity| format!("indoor_humidity = \"{humidity:.1} %\""))),
    );
    let figures = (number("sensible_recovery", 0.1..1.2), number("total_recovery", 0.0..1.2));
    let others = (
        maybe(number("apparent_sensible", 0.0..1.2)),
        maybe((0.0..5000.0f64).prop_map(|w| format!("power = \"{w:.1} W\""))),
    );
    (air, flow(), 0.9..1.0f64, figures, others).prop_map(|(air, (litres, text), net, figures, others)| {
        let (outdoor, indoor, humidity) = air;
        let net = litres * net;
        let key = if litres < 500.0 { "airflow" } else { "gross_airflow" };
        let point = format!(
            "[[unit.rating]]\noutdoor = \"{outdoor:.3} °C\"\n{indoor}{humidity}{key} = {text}\n\
             net_airflow = \"{net:.6} L/s\"\n{}\n{}\n{}{}",
            figures.0, figures.1, others.0, others.1
        );
        (litres, point)
    })
}

fn leaks() -> impl Strategy<Value = String> {
    (
        maybe(number("cross_leakage", 0.0..0.1)),
        maybe(number("outdoor_air_correction", 1.0..1.1)),
        maybe(number("balance", 0.5..2.0)),
        maybe(number("hood_recirculation", 0.0..0.3)),
    )
        .prop_map(|(a, b, c, d)| a + &b + &c + &d)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn valid_rating_points_are_read_to_what_was_written(
        core in 0..4usize,
        leaks in leaks(),
        points in proptest::collection::vec(point(), 1..6),
    ) {
        let text: String = points.iter().map(|(_, text)| text.as_str()).collect();
        let study = parse(&format!(
            "core = \"{}\"\n{leaks}{text}[unit.fan]\npower = \"40 W\"\n", CORES[core]
        ));
        let unit = &study.units[0];
        let Performance::Ratings(read) = &unit.performance else { panic!("rating points") };
        prop_assert_eq!(read.len(), points.len());
        for (read, (litres, _)) in read.iter().zip(&points) {
            prop_assert!((read.supply_m3_per_s * 1e3 - litres).abs() < 1e-5 * litres);
            prop_assert!(read.net_supply_m3_per_s.is_some_and(|net| net <= read.supply_m3_per_s * 1.000_001));
            prop_assert!((read.outdoor.dry_bulb_c - read.indoor.dry_bulb_c).abs() >= 3.0);
            prop_assert!(read.is_frost_free() && read.figures.sensible_recovery.is_some());
        }
        prop_assert_eq!(unit.wheel_capacity_ratio.is_some(), unit.core.is_wheel());
        prop_assert!(unit.outdoor_air_correction + unit.cross_leakage.unwrap_or(0.0) >= 1.0 - 1e-9);
    }

    #[test]
    fn valid_tables_of_effectivenesses_come_back_in_order(
        core in 0..4usize,
        flows in proptest::collection::btree_set(2u32..2000, 2..8),
        sensible in 0.05..0.97f64,
        start in 0..8usize,
    ) {
        let latent = if CORES[core].starts_with("enthalpy") { "latent = 0.5\n" } else { "" };
        let mut rows: Vec<String> = flows.iter().map(|flow| {
            format!("[[unit.effectiveness]]\nsensible = {sensible}\n{latent}at = \"{flow} L/s\"\n")
        }).collect();
        let start = start % rows.len();
        rows.rotate_left(start);
        let study = parse(&format!("core = \"{}\"\n{}", CORES[core], rows.concat()));
        let Performance::EffectivenessTable(read) = &study.units[0].performance else { panic!("a table") };
        let litres: Vec<f64> = read.iter().map(|point| (point.at_m3_per_s * 1e3).round()).collect();
        prop_assert_eq!(litres, flows.iter().map(|flow| f64::from(*flow)).collect::<Vec<_>>());
        prop_assert!(read.iter().all(|point| point.sensible == sensible));
    }

    #[test]
    fn valid_plates_are_read_to_what_was_written(
        size in (0.5..20.0f64, 0.05..3.0f64, 20.0..3000.0f64, 1..2000u32),
        membrane in proptest::option::of(1.0..5000.0f64),
        share in proptest::option::of(0.0..1.0f64),
    ) {
        let (gap, length, width, channels) = size;
        let core = if membrane.is_some() { "enthalpy-plate" } else { "sensible-plate" };
        let flow = share.map_or_else(
            || "flow = \"cross\"\n".to_owned(),
            |share| format!("flow = \"quasi-counter\"\ncounter_share = {share}\n"),
        );
        let resistance = membrane.map_or_else(String::new, |r| format!("membrane_resistance = \"{r} s/m\"\n"));
        let study = parse(&format!(
            "core = \"{core}\"\n{flow}[unit.geometry]\ngap = \"{gap} mm\"\nlength = \"{length} m\"\n\
             width = \"{width} mm\"\nchannels = {channels}\n{resistance}"
        ));
        let Performance::Geometry(read) = &study.units[0].performance else { panic!("a geometry") };
        prop_assert_eq!((read.channels, read.membrane_resistance_s_per_m), (channels, membrane));
        prop_assert_eq!(read.length_m, length);
        prop_assert!((read.gap_m * 1e3 - gap).abs() < 1e-12 * 20.0 && (read.width_m * 1e3 - width).abs() < 1e-9);
        let expected = share.map_or(Arrangement::Cross, |counter_share| Arrangement::QuasiCounter { counter_share });
        prop_assert_eq!(study.units[0].arrangement, expected);
    }

    #[test]
    fn a_changed_unit_gives_a_study_or_problems_that_can_be_shown(
        (_, point) in point(), leaks in leaks(), at in 0..600usize, length in 0..30usize, put in "\\PC{0,12}",
    ) {
        let unit = format!("core = \"enthalpy-plate\"\n{leaks}{point}[unit.wheel]\n");
        let letters: Vec<char> = unit.chars().collect();
        let at = at % letters.len();
        let end = (at + length).min(letters.len());
        let changed: String = letters[..at].iter().copied().chain(put.chars()).chain(letters[end..].iter().copied()).collect();
        let text = with_unit(&changed);
        if let Err(problems) = parse_study(&text, "s") {
            prop_assert!(problems.render(&text, "s").ends_with(" in s\n"));
        }
    }

    #[test]
    fn a_wrong_value_at_any_key_is_said_where_it_stands(pick in 0..22usize, value in prop_oneof![
        Just("true"), Just("[]"), Just("{}"), Just("nan"), Just("-1e308"), Just("\"\""), Just("\"1e400 m\""), Just("[[1]]"),
    ]) {
        let keys: Vec<String> =
            study::known_keys().into_iter().filter(|key| key.starts_with("unit.rating.")).collect();
        prop_assert_eq!(keys.len(), 22);
        let key = keys[pick].trim_start_matches("unit.rating.");
        let text = with_unit(&format!("core = \"enthalpy-plate\"\n[[unit.rating]]\n{key} = {value}\n"));
        let problems = parse_study(&text, "s").expect_err("a wrong value");
        let place = text.rfind(value).expect("the value");
        prop_assert!(problems.list.iter().any(|problem| problem.span.start == place), "{}", problems.render(&text, "s"));
    }
}

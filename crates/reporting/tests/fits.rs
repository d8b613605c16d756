//! Tables of a rating fit, of leaks, and of the fast solution's accuracy with its chart.

#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod made_up;

use made_up::svg::{assert_sound, texts};
use reporting::{
    Accuracy, AccuracySet, AsEffectiveness, CrossLeakage, Distances, FitFigure, FitPoint, FitReport,
    FlowExponent, LeakCase, LeakRow, PointUse, ReportError, ShowIn, Spread, accuracy_chart, accuracy_table,
    fit_table, leak_table,
};

fn figure(name: &str, stated: f64, fitted: f64) -> FitFigure {
    FitFigure { key: "", name: name.to_owned(), stated, fitted }
}

fn fit(show_in: ShowIn) -> FitReport {
    let point = |outdoor_c, figures, used| FitPoint {
        standard: "CSA C439".to_owned(),
        outdoor_c,
        airflow_l_per_s: 30.0,
        figures,
        used,
    };
    FitReport {
        unit: "Plate A".to_owned(),
        points: vec![
            point(
                0.0,
                vec![figure("apparent sensible", 0.80, 0.8012), figure("sensible recovery", 0.72, 0.7187)],
                PointUse::Used,
            ),
            point(
                -25.0,
                vec![figure("sensible recovery", 0.62, 0.681)],
                PointUse::NotUsed("frost".to_owned()),
            ),
        ],
        ua_w_per_k: 101.2,
        vapour_kg_per_s: None,
        rated_l_per_s: 30.0,
        flow_exponent: FlowExponent::Assumed { value: 0.8, least: 0.7, greatest: 1.0 },
        cross_leakage: CrossLeakage::Fitted(0.021),
        as_effectiveness: Some(AsEffectiveness {
            name: "apparent sensible effectiveness".to_owned(),
            stated: 0.80,
            outdoor_c: 0.0,
            ua_w_per_k: 145.0,
            supply_c: 17.6,
            fitted_supply_c: 16.3,
        }),
        show_in,
    }
}

#[test]
fn the_fit_shows_each_figure_with_its_error_and_why_a_point_was_left_out() {
    let table = fit_table(&fit(ShowIn::Si));
    println!("{table}");
    let row = |words: &str| {
        let lines = table.lines().filter(|line| line.contains(words));
        lines.map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ")).collect::<Vec<_>>()
    };
    assert_eq!(row("  apparent sensible"), ["apparent sensible 80.0 80.1 +0.1 used"]);
    assert_eq!(
        row("  sensible recovery"),
        ["sensible recovery 72.0 71.9 -0.1 used", "sensible recovery 62.0 68.1 +6.1 not used (frost)"]
    );
    for words in [
        "CSA C439, -25 °C, 30 L/s",
        "heat conductance: 101.2 W/K at 30.0 L/s",
        "the core passes no vapour",
        "0.80 (assumed: one flow was rated; likely 0.70 to 1.00)",
        "2.1 % of the supply air (fitted)",
        "145.0 W/K instead of 101.2 W/K",
    ] {
        assert!(table.contains(words), "{words}");
    }
}

#[test]
fn the_fit_is_narrow_in_both_systems_whatever_the_names() {
    for show_in in [ShowIn::Si, ShowIn::Ip] {
        let mut long = fit(show_in);
        long.vapour_kg_per_s = Some(0.021);
        long.unit = "unit\nwith a name ".repeat(20);
        long.points[0].standard = "a standard of many words ".repeat(5);
        long.points[0].figures[0].name = "a figure of many words ".repeat(5);
        long.points[1].used = PointUse::NotUsed("for many reasons ".repeat(5));
        long.flow_exponent = FlowExponent::Fitted(0.83);
        long.cross_leakage = CrossLeakage::Given(0.01);
        let table = fit_table(&long);
        println!("{table}");
        assert!(table.lines().all(|line| line.chars().count() <= 80), "{table}");
    }
    // 101.2 W/K × 3600 / 1055.056 J/Btu / 1.8 = 191.8 Btu/h°F; 30 L/s / 0.471947 = 63.6 cfm.
    assert!(fit_table(&fit(ShowIn::Ip)).contains("191.8 Btu/h°F at 63.6 cfm"));
}

#[test]
fn leaks_stand_a_row_each_with_their_effect() {
    let row = |case, fresh_air_l_per_s, supply_c, heat_recovered_w| LeakRow {
        case,
        fresh_air_l_per_s,
        supply_c,
        supply_humidity_ratio: 0.0011,
        heat_recovered_w,
    };
    let rows = [
        row(LeakCase::AsItIs, 27.1, 15.2, 1203.0),
        row(LeakCase::WithoutCrossLeakage, 28.5, 14.8, 1175.0),
        row(LeakCase::WithoutHoodRecirculation, 28.4, 15.2, 1240.0),
        row(LeakCase::Balanced, 27.1, 15.9, 1260.0),
        row(LeakCase::Ideal, 30.0, 15.6, 1310.0),
    ];
    let table = leak_table(&rows, ShowIn::Si);
    println!("{table}");
    let line = table.lines().find(|line| line.starts_with("without cross-leakage")).unwrap();
    let cells: Vec<&str> = line.split_whitespace().skip(2).collect();
    assert_eq!(cells, ["28.5", "+1.4", "14.8", "-0.4", "1.10", "0.00", "1175", "-28"]);
    for show_in in [ShowIn::Si, ShowIn::Ip] {
        let table = leak_table(&rows, show_in);
        println!("{table}");
        assert!(table.lines().all(|line| line.chars().count() <= 80), "{table}");
    }
    assert!(!leak_table(&[row(LeakCase::Ideal, f64::NAN, 1.0, 2.0)], ShowIn::Si).contains("NaN"));
}

fn accuracy(states: usize, times: f64) -> Accuracy {
    let spread = |largest: f64, rms: f64| Spread { largest: largest * times, rms: rms * times };
    let of = Distances {
        supply_k: spread(0.15, 0.03),
        humidity_ratio: spread(0.000_12, 0.000_02),
        water_share: spread(0.03, 0.008),
    };
    Accuracy { states, of }
}

fn sets() -> Vec<AccuracySet> {
    let set = |core: &str, inside, outside| AccuracySet { core: core.to_owned(), inside, outside };
    vec![
        set("plate, counterflow", accuracy(2000, 1.0), Some(accuracy(500, 3.3))),
        set("plate, crossflow", accuracy(2000, 1.5), None),
        set("membrane, counterflow", accuracy(2000, 2.4), Some(accuracy(500, 2.0))),
        set("<script>, of a name that is rather longer than anybody needs", accuracy(1, 0.0), None),
    ]
}

#[test]
fn the_chart_of_accuracy_marks_the_bounds_and_keeps_its_marks_inside() {
    let svg = accuracy_chart(&sets()).unwrap();
    assert_sound("accuracy.svg", &svg);
    for words in ["supply temperature [K]", "supply humidity ratio [g/kg]", "water [% of the largest rate]"] {
        assert!(texts(&svg).iter().any(|text| text.words == words), "{words}");
    }
    assert!(!svg.contains("<script"));
    assert_sound("accuracy-one.svg", &accuracy_chart(&sets()[1..2]).unwrap());
    let zero = [AccuracySet { core: String::new(), inside: accuracy(0, 0.0), outside: None }];
    assert_sound("accuracy-zero.svg", &accuracy_chart(&zero).unwrap());
}

#[test]
fn accuracy_that_is_none_is_refused() {
    assert_eq!(accuracy_chart(&[]), Err(ReportError::NothingMeasured));
    let mut broken = sets();
    broken[0].inside.of.supply_k.rms = f64::NAN;
    let text = accuracy_chart(&broken).unwrap_err().to_string();
    assert!(
        text.starts_with("plate, counterflow, inside the plausible states: supply temperature NaN K"),
        "{text}"
    );
}

#[test]
fn the_table_of_accuracy_is_narrow_and_marks_what_is_beyond_its_bound() {
    let table = accuracy_table(&sets());
    println!("{table}");
    assert!(table.lines().all(|line| line.chars().count() <= 80), "{table}");
    let inside_of = |core: &str| {
        table.lines().skip_while(|line| !line.contains(core)).find(|line| line.contains("inside")).unwrap()
    };
    // 0.15 K, 0.12 g/kg and 3 % are inside 0.3 K, 0.15 g/kg and 5 %; 2.4 times as much is beyond all three.
    assert!(!inside_of("plate, counterflow").contains('!'));
    assert_eq!(inside_of("membrane, counterflow").matches('!').count(), 3);
    assert_eq!(inside_of("plate, crossflow").matches('!').count(), 1);
    assert!(table.contains("0.3 K, 0.15 g/kg, 5 % of the largest rate"));
}

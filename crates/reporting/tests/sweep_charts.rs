//! Pictures of a sweep: everything lies on the page, no words cross others, numbers are those that were given.

#![allow(clippy::unwrap_used)]

mod made_up;

use made_up::svg::{assert_sound, texts};
use reporting::ReportError;
use reporting::charts::{
    BarPanel, BarRow, ScatterInput, ScatterUnit, SpreadFigure, SpreadUnit, SweepBar, SweepBars, SweepScatter,
    SweepSpread, sweep_bars_chart, sweep_scatter_chart, sweep_spread_chart,
};

const LONG: &str =
    "unit.A unit whose name says at length where it comes from and what it is made of.fan.power [W]";

fn bar(to: f64, interval: Option<[f64; 2]>, words: &str) -> SweepBar {
    SweepBar { to, interval, words: words.to_owned() }
}

fn row(name: &str, bars: [SweepBar; 2]) -> BarRow {
    BarRow { name: name.to_owned(), bars }
}

fn bars(base: f64, rows: Vec<BarRow>) -> SweepBars {
    SweepBars {
        title: "Useful saving of a year at equal air: each input moved alone".to_owned(),
        study: "A house".to_owned(),
        legend: ["with the input at its P10".to_owned(), "with the input at its P90".to_owned()],
        note: "all other inputs in the middle".to_owned(),
        axis: "useful saving of a year at equal air [kWh]".to_owned(),
        panels: vec![BarPanel {
            heading: "Plate A: 7091 with every input in the middle".to_owned(),
            base,
            rows,
        }],
    }
}

#[test]
fn a_tornado_shows_each_input_with_its_low_and_high_value() {
    let rows = vec![
        row("house.heat_loss [W/K]", [bar(6930.0, None, "119.4"), bar(7205.0, None, "170.6")]),
        // Both ends on one side, and none at all.
        row(LONG, [bar(7150.0, None, "a-weather-file-of-a-long-name.csv"), bar(7120.0, None, "67")]),
        row("house.people.count", [bar(7091.0, None, "1"), bar(7091.0, None, "5")]),
    ];
    let svg = sweep_bars_chart(&bars(7091.0, rows)).unwrap();
    assert_sound("sweep-tornado.svg", &svg);
    let texts = texts(&svg);
    let at = |words: &str| texts.iter().find(|text| text.words == words).unwrap();
    // The low one lies left of the base line, its words left of the bar; the high one right of it.
    assert!(at("119.4").right < at("170.6").left);
    for words in ["house.heat_loss [W/K]", "useful saving of a year at equal air [kWh]", "7100"] {
        at(words);
    }
}

#[test]
fn indices_stand_with_their_intervals_and_many_inputs_are_counted() {
    let share = |place: usize| {
        let value = 90.0 / (place + 1) as f64;
        let words = format!("{value:.1}");
        [bar(value, Some([value - 30.0, value + 25.0]), &words), bar(-2.0, Some([-9.0, 4.0]), "−2.0")]
    };
    let rows = (0..26).map(|place| row(&format!("input {place}"), share(place))).collect();
    let svg = sweep_bars_chart(&bars(0.0, rows)).unwrap();
    assert_sound("sweep-indices.svg", &svg);
    assert!(svg.contains("the 20 most important of 26 inputs"));
    assert!(svg.contains("input 19") && !svg.contains("input 20"));
}

#[test]
fn a_figure_over_each_input_has_a_panel_for_each() {
    let runs = 60_usize;
    let input = |name: &str, words: &[&str]| ScatterInput {
        name: name.to_owned(),
        values: (0..runs)
            .map(|run| (run * 7 % if words.is_empty() { 60 } else { words.len() }) as f64)
            .collect(),
        words: words.iter().map(|word| (*word).to_owned()).collect(),
    };
    let unit = |name: &str, from: f64| ScatterUnit {
        name: name.to_owned(),
        values: (0..runs).map(|run| (run != 3).then_some(from + run as f64)).collect(),
    };
    let chart = SweepScatter {
        title: "Useful saving of a year at equal air over each input".to_owned(),
        study: "A house".to_owned(),
        figure: "useful saving of a year at equal air [kWh]".to_owned(),
        note: "each dot is a run; 60 of 4096 runs, drawn by lot".to_owned(),
        inputs: vec![
            input("house.air_leakage [L/s]", &[]),
            input("site.weather", &["frosthollow.csv", "a-weather-file-of-a-long-name.csv", "saltmere.csv"]),
            input(LONG, &[]),
            input("house.thermal_mass", &["light", "heavy"]),
        ],
        units: vec![unit("Plate A", 6900.0), unit(LONG, -40.0)],
    };
    let svg = sweep_scatter_chart(&chart).unwrap();
    assert_sound("sweep-scatter.svg", &svg);
    // 4 panels of 59 dots for each of 2 units; a run without a figure has none.
    let dots = svg.matches("<rect").count();
    assert!(dots >= 2 * 4 * 59, "{dots}");
    assert!(svg.contains("60 of 4096 runs"));
    let none = SweepScatter { inputs: Vec::new(), ..chart };
    assert!(matches!(sweep_scatter_chart(&none), Err(ReportError::NothingToDraw { .. })));
}

#[test]
fn percentiles_are_marked_where_they_lie() {
    let unit = |name: &str, place: usize, values: Vec<f64>, percentiles: [f64; 3]| SpreadUnit {
        name: name.to_owned(),
        place,
        values,
        percentiles,
    };
    let evenly: Vec<f64> = (0..=1000).map(f64::from).collect();
    let chart = SweepSpread {
        title: "How results spread over the runs".to_owned(),
        study: "A house".to_owned(),
        figures: vec![
            SpreadFigure {
                name: "useful saving of a year at equal air [kWh]".to_owned(),
                units: vec![
                    unit("Plate A", 0, evenly, [100.0, 500.0, 900.0]),
                    unit(LONG, 1, vec![2.0; 9], [2.0; 3]),
                ],
            },
            SpreadFigure { name: "life-cycle cost in today's money [USD]".to_owned(), units: Vec::new() },
            SpreadFigure {
                name: "net present value [USD]".to_owned(),
                units: vec![unit("Plate A", 0, vec![-1500.0, -1499.0], [-1499.9, -1499.5, -1499.1])],
            },
        ],
    };
    let svg = sweep_spread_chart(&chart).unwrap();
    assert_sound("sweep-spread.svg", &svg);
    let texts = texts(&svg);
    let at = |words: &str| texts.iter().find(|text| text.words == words).unwrap();
    // P10 hangs left of its line, P90 right of it, P50 about it: even values put the three at even distances.
    let lines =
        [at("P10 100").right, f64::midpoint(at("P50 500").left, at("P50 500").right), at("P90 900").left];
    assert!((lines[1] - lines[0] - (lines[2] - lines[1])).abs() < 2.0, "{lines:?}");
    assert!(!svg.contains("life-cycle cost"), "a figure that nobody has is not drawn");
    assert!(svg.contains("P10 −1500") && svg.contains("share of runs [%]"));
    let none = SweepSpread { figures: Vec::new(), ..chart };
    assert!(matches!(sweep_spread_chart(&none), Err(ReportError::NothingToDraw { .. })));
}

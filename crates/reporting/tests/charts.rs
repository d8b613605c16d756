//! Charts name what they show, keep to the embedded font, and are well-formed.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "helpers of tests fail like tests")]

mod made_up;

use std::sync::Arc;

use made_up::svg::{assert_well_formed, keep};
use made_up::{constant, lively_run};
use reporting::charts::{self, ChartInput};
use reporting::{Language, ReportError, ShowIn};
use simulation::damage::Corner;
use simulation::mould::{Decline, MouldNumbers, Sensitivity};
use simulation::results::{Case, Hour, HouseYear};

fn input<'a>(years: &'a [HouseYear], study: &'a str) -> ChartInput<'a> {
    let corner = Some(Corner {
        temperature_factor: 0.7,
        class: MouldNumbers::of(Sensitivity::Sensitive, Decline::Strong),
    });
    ChartInput {
        study,
        years,
        language: Language::English,
        show_in: ShowIn::Si,
        corner,
        extract_wet_share: 1.0,
    }
}

#[test]
fn every_chart_names_its_axes_with_units_and_says_its_fact() {
    let years = lively_run();
    let expected: [(&str, &[&str]); 9] = [
        (
            "humidity.svg",
            &["Indoor humidity through the year — Bungalow at Frosthollow", "indoor relative humidity [%]"],
        ),
        ("condensate.svg", &["Water to the core&apos;s drain by month", "condensate [L/month]"]),
        (
            "energy.svg",
            &[
                "Heat into and out of the house by month",
                "[kWh/month]",
                "walls, roof, floor, ground",
                "everything else: storage change",
            ],
        ),
        (
            "frost.svg",
            &["Outdoor temperature and ice in the core", "outdoor dry bulb [°C]", "ice formed [kg/day]"],
        ),
        ("frost-hours.svg", &["What the units do about frost, hour by hour", "ice forms, nothing is done"]),
        (
            "humidity-year.svg",
            &[
                "Indoor humidity, hour by hour",
                "hour of the day [h]",
                "indoor relative humidity [%]",
                "no recovery",
            ],
        ),
        ("humidity-bands.svg", &["Hours of indoor humidity by month", "hours [h/month]", "above 60 %"]),
        (
            "condensate-week.svg",
            &[
                "the worst week hour by hour",
                "to the drain [L/month]",
                "water of the hour [kg/h]",
                "ice in the core [kg]",
            ],
        ),
        ("energy-months.svg", &["in numbers that add up", "heat [kWh/month]", "stored in the house"]),
    ];
    for (chart, (file, words)) in
        charts::all(&input(&years, "Bungalow at Frosthollow")).unwrap().iter().zip(expected)
    {
        keep(chart.file, &chart.svg);
        assert_eq!(chart.file, file);
        for word in words.iter().chain(&["month", "Jan", "Dec", "Plate A", "Membrane B"]) {
            assert!(chart.svg.contains(word), "{file}: {word}");
        }
    }
}

#[test]
fn units_stand_side_by_side_with_what_frost_takes_of_them() {
    let summary = reporting::RunSummary::new(&lively_run(), &reporting::SummaryBasis::default()).unwrap();
    let svg =
        charts::frost_protection_chart(&summary, "Bungalow at <Frosthollow>", Language::English).unwrap();
    keep("frost-protection.svg", &svg);
    assert_well_formed(&svg);
    for words in [
        "Frost protection side by side",
        "[kWh/year]",
        "hours in which ice forms [h/year]",
        "Plate A",
        "Membrane B",
    ] {
        assert!(svg.contains(words), "{words}");
    }
    assert!(!svg.contains("NaN") && !svg.contains("inf"));
    let alone = [constant("", Case::NoVentilation, &Hour::default())];
    let summary = reporting::RunSummary::new(&alone, &reporting::SummaryBasis::default()).unwrap();
    let nothing = ReportError::NothingToDraw { chart: "frost protection" };
    assert_eq!(charts::frost_protection_chart(&summary, "", Language::English), Err(nothing));
}

#[test]
fn charts_are_well_formed_and_name_only_the_embedded_font() {
    let mut years = lively_run();
    for year in &mut years {
        year.unit = year.unit.replace("Plate", "<Plate> & \"Co\"");
    }
    for chart in charts::all(&input(&years, "A & B < C")).unwrap() {
        assert_well_formed(&chart.svg);
        assert!(chart.svg.starts_with("<svg width=\"920\""));
        let texts = chart.svg.matches("<text").count();
        assert_eq!(texts, chart.svg.matches("font-family=\"DejaVu Sans, sans-serif\"").count());
        assert!(!chart.svg.contains("NaN") && !chart.svg.contains("inf"));
    }
}

#[test]
fn inch_pound_charts_show_gallons_pounds_and_fahrenheit() {
    let years = lively_run();
    let input = ChartInput { show_in: ShowIn::Ip, ..input(&years, "") };
    assert!(charts::condensate_chart(&input).unwrap().contains("condensate [gal/month]"));
    let frost = charts::frost_chart(&input).unwrap();
    assert!(frost.contains("[°F]") && frost.contains("ice formed [lb/day]"));
    keep("frost-ip.svg", &frost);
}

#[test]
fn a_year_without_water_or_ice_still_draws() {
    let years = [constant("Dry", Case::Unit, &Hour { relative_humidity: 0.4, ..Hour::default() })];
    for chart in charts::all(&input(&years, "Nothing happens")).unwrap() {
        assert_well_formed(&chart.svg);
        keep(&format!("dry-{}", chart.file), &chart.svg);
    }
}

#[test]
fn many_units_with_long_names_still_draw() {
    let mut years = Vec::new();
    for number in 1..=5 {
        for mut year in lively_run().into_iter().take(2) {
            year.unit = format!("A rather long name of a ventilation unit, size {number}");
            years.push(year);
        }
    }
    let study = "A study whose title is much longer than anybody would wish it to be, with a second clause about the site";
    for chart in charts::all(&input(&years, study)).unwrap() {
        assert_well_formed(&chart.svg);
        keep(&format!("many-{}", chart.file), &chart.svg);
    }
}

#[test]
fn a_run_without_a_unit_has_nothing_to_draw() {
    let years = [constant("", Case::NoVentilation, &Hour::default())];
    assert_eq!(
        charts::humidity_chart(&input(&years, "")),
        Err(ReportError::NothingToDraw { chart: "humidity" })
    );
}

/// Colour of the legend's sample before these words: the last filled rectangle before them.
fn colour_before<'a>(svg: &'a str, words: &str) -> &'a str {
    let before = &svg[..svg.find(&format!("\n{words}\n")).unwrap()];
    let rect = &before[before.rfind("<rect").unwrap()..];
    let fill = &rect[rect.find("fill=\"#").unwrap() + 6..];
    &fill[..7]
}

#[test]
fn a_group_of_the_heat_book_keeps_its_colour_whatever_its_rank() {
    let winter = lively_run();
    let mut summer = winter.clone();
    for year in &mut summer {
        for line in &mut year.ledger_by_month {
            let times = if line.label == "heating" { 0.05 } else { 1.0 };
            line.by_month = line.by_month.map(|joules| joules * times);
        }
    }
    let [a, b] = [&winter, &summer].map(|years| charts::energy_chart(&input(years, "")).unwrap());
    for words in
        ["heating", "sun", "walls, roof, floor, ground", "air leakage", "ventilation unit", "cooling"]
    {
        assert_eq!(colour_before(&a, words), colour_before(&b, words), "{words}");
    }
    // The vermillion of the published set of eight colours.
    assert_eq!(colour_before(&a, "heating"), "#D55E00");
}

#[test]
fn rounding_noise_in_the_ice_is_no_frost_without_bars_or_ticks() {
    let noise = Hour { ice_formed_kg: 3e-17, ..Hour::default() };
    let years = [constant("Noise", Case::Unit, &noise)];
    let svg = charts::frost_chart(&input(&years, "")).unwrap();
    keep("frost-noise.svg", &svg);
    assert!(svg.contains("Noise: no frost") && !svg.contains("ice formed"));
    let dry = [constant("Noise", Case::Unit, &Hour::default())];
    assert_eq!(svg, charts::frost_chart(&input(&dry, "")).unwrap());
}

#[test]
fn ticks_of_a_small_scale_differ() {
    let mut years = [constant("Trace", Case::Unit, &Hour::default())];
    let first = Arc::make_mut(&mut years[0].hourly);
    first.ice_formed_kg[30] = 0.0012;
    first.ice_formed_kg[31] = 0.0009;
    let svg = charts::frost_chart(&input(&years, "")).unwrap();
    keep("frost-trace.svg", &svg);
    assert!(svg.contains("ice formed [kg/day]") && svg.contains("frost in 1 h"));
    // 2.1 g in a day with about three steps: every 1 g.
    for tick in ["\n0.001\n", "\n0.002\n", "\n0.003\n"] {
        assert_eq!(svg.matches(tick).count(), 1, "{tick}");
    }
}

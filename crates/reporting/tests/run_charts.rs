//! Charts of a run that tell hours and heat in numbers: the numbers are reckoned once more here, and everything stays on the page.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "helpers of tests fail like tests")]
#![allow(clippy::cast_precision_loss, reason = "hours of a year")]

mod made_up;

use std::sync::Arc;

use made_up::svg::{assert_sound, texts};
use made_up::{constant, each_hour, lively_run};
use reporting::charts::{self, ChartInput};
use reporting::{Language, ShowIn};
use simulation::damage::{Corner, damage};
use simulation::mould::{Decline, MouldNumbers, Sensitivity};
use simulation::results::{Case, Hour, HouseYear, LedgerLine};

/// Days before each month of a year without 29 February.
const MONTHS: [usize; 13] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365];

const NEW: [&str; 7] = [
    "humidity-year.svg",
    "humidity-bands.svg",
    "condensate-week.svg",
    "energy-months.svg",
    "psychrometric-year.svg",
    "duration.svg",
    "mould-index.svg",
];

fn corner() -> Corner {
    Corner {
        temperature_factor: 0.7,
        class: MouldNumbers::of(Sensitivity::VerySensitive, Decline::AlmostNone),
    }
}

fn input(years: &[HouseYear]) -> ChartInput<'_> {
    let corner = Some(corner());
    ChartInput {
        study: "Bungalow",
        years,
        language: Language::English,
        show_in: ShowIn::Si,
        corner,
        extract_wet_share: 1.0,
    }
}

/// The lively years with air at every port and wet windows.
fn run() -> Vec<HouseYear> {
    let mut years = lively_run();
    for year in &mut years {
        let h = Arc::make_mut(&mut year.hourly);
        h.wet_humidity_ratio = h.humidity_ratio.iter().map(|ratio| ratio * 1.1).collect();
        let mixed = |share: f64, a: &[f64], b: &[f64]| -> Vec<f64> {
            a.iter().zip(b).map(|(a, b)| a + share * (b - a)).collect()
        };
        h.supply_c = mixed(0.75, &h.outdoor_c, &h.air_c);
        h.exhaust_c = mixed(0.75, &h.air_c, &h.outdoor_c);
        h.supply_humidity_ratio = h.outdoor_humidity_ratio.clone();
        h.exhaust_humidity_ratio = mixed(0.2, &h.humidity_ratio, &h.outdoor_humidity_ratio);
        h.window_edge_wet_share = h.outdoor_c.iter().map(|t| (-t / 20.0).clamp(0.0, 1.0)).collect();
    }
    years
}

fn chart(years: &[HouseYear], file: &str) -> String {
    charts::all(&input(years)).unwrap().into_iter().find(|chart| chart.file == file).unwrap().svg
}

fn words(svg: &str) -> Vec<String> {
    texts(svg).into_iter().map(|text| text.words).collect()
}

#[test]
fn everything_stays_on_the_page_and_no_text_lies_over_another() {
    let mut many = Vec::new();
    for number in 1..=4 {
        for mut year in run().into_iter().take(2) {
            year.unit = format!("A rather long name of a ventilation unit, size {number}");
            many.push(year);
        }
    }
    let nothing = vec![constant("Dry", Case::Unit, &Hour { relative_humidity: 0.4, ..Hour::default() })];
    for (name, years) in [("usual", run()), ("many", many), ("nothing", nothing)] {
        for show_in in [ShowIn::Si, ShowIn::Ip] {
            let drawn = charts::all(&ChartInput { show_in, ..input(&years) }).unwrap();
            let drawn: Vec<_> = drawn.into_iter().filter(|chart| NEW.contains(&chart.file)).collect();
            assert_eq!(drawn.len(), NEW.len());
            for chart in drawn {
                assert_sound(&format!("{name}-{show_in:?}-{}", chart.file), &chart.svg);
            }
        }
    }
}

#[test]
fn the_carpets_count_the_hours_below_30_and_above_60_percent() {
    let years = run();
    let found: Vec<String> = words(&chart(&years, "humidity-year.svg"))
        .into_iter()
        .filter(|words| words.starts_with("below 30"))
        .collect();
    let mut expected = Vec::new();
    for year in &years[..4] {
        let (mut dry, mut damp) = (0, 0);
        for share in &year.hourly.relative_humidity {
            dry += usize::from(*share < 0.3);
            damp += usize::from(*share > 0.6);
        }
        expected.push(format!("below 30 % {dry} h, above 60 % {damp} h"));
    }
    // The two houses without recovery are the same house: one carpet for both.
    assert_eq!(found, [&expected[0], &expected[2], &expected[1]].map(String::clone));
    assert_eq!(expected[1], expected[3]);
}

#[test]
fn a_carpet_shows_an_hour_in_the_colour_of_its_band() {
    // One damp hour in the year, the fourth of 2 January, in air of 45 %: one dark piece, a day wide and an hour high.
    let rule =
        |hour: usize| Hour { relative_humidity: if hour == 27 { 0.7 } else { 0.45 }, ..Hour::default() };
    let svg = chart(&[each_hour("A", Case::Unit, rule)], "humidity-year.svg");
    let dark: Vec<&str> =
        svg.lines().filter(|line| line.contains("fill=\"#0B2A5B\"") && line.contains("<rect")).collect();
    // The legend's sample and the hour.
    assert_eq!(dark.len(), 2, "{dark:?}");
    let number = |name: &str| -> f64 {
        let start = dark[1].find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
        dark[1][start..].split('"').next().unwrap().parse::<f64>().unwrap() / 4.0
    };
    // The carpet is 836 wide and 96 high, its left edge at 64.
    assert!(
        (number("x") - (64.0 + 836.0 / 365.0)).abs() < 0.3 && (number("width") - 836.0 / 365.0).abs() < 0.5
    );
    assert!((number("height") - 4.0).abs() < 0.3);
}

#[test]
fn each_months_bands_add_up_to_its_hours() {
    let years = run();
    let svg = chart(&years[..1], "humidity-bands.svg");
    let limits = [0.2, 0.3, 0.4, 0.5, 0.6];
    let mut expected = Vec::new();
    for month in 0..12 {
        let hours = &years[0].hourly.relative_humidity[MONTHS[month] * 24..MONTHS[month + 1] * 24];
        let mut below = 0;
        for band in 0..6 {
            let least = if band == 0 { 0.0 } else { limits[band - 1] };
            let most = if band == 5 { 2.0 } else { limits[band] };
            let count = hours.iter().filter(|share| **share >= least && **share < most).count();
            below += count;
            // Ten of the picture's units for 800 / 190 hours each is the least height with a number.
            if count as f64 * 190.0 / 800.0 >= 10.0 {
                expected.push(count.to_string());
            }
        }
        assert_eq!(below, hours.len());
    }
    let found: Vec<String> = texts(&svg)
        .into_iter()
        .filter(|text| {
            text.words.parse::<usize>().is_ok() && text.left > 64.0 && text.bottom - text.top < 7.0
        })
        .map(|text| text.words)
        .collect();
    assert_eq!(found, expected);
    // The tops of the stacks: 744, 672 and 720 hours of 800 over a height of 190.
    let tops: Vec<f64> =
        (0..12).map(|month| (MONTHS[month + 1] - MONTHS[month]) as f64 * 24.0 * 190.0 / 800.0).collect();
    let outlines: Vec<f64> = svg
        .lines()
        .filter(|line| line.contains("<polyline") && line.contains("#6B737B"))
        .filter_map(|line| {
            let points = line.split("points=\"").nth(1)?.split('"').next()?;
            let ys: Vec<f64> = points
                .split_whitespace()
                .map(|pair| pair.split(',').nth(1).unwrap().parse().unwrap())
                .collect();
            (ys.len() == 4).then(|| (ys[0] - ys[1]) / 4.0)
        })
        .collect();
    assert_eq!(outlines.len(), 12);
    for (found, expected) in outlines.iter().zip(tops) {
        assert!((found - expected).abs() < 0.3, "{found} {expected}");
    }
}

/// The numbers of each unit's table: eight parts and their sum, thirteen columns.
fn energy_rows(svg: &str) -> Vec<Vec<i64>> {
    let mut rows: Vec<(f64, Vec<i64>)> = Vec::new();
    // The table's numbers hang at the right of their columns, after the parts' names.
    for text in texts(svg).into_iter().filter(|text| text.left > 202.0 && text.bottom - text.top < 7.0) {
        let Ok(number) = text.words.replace('−', "-").parse::<i64>() else { continue };
        let y = f64::midpoint(text.top, text.bottom);
        match rows.last_mut() {
            Some((of_row, numbers)) if (*of_row - y).abs() < 0.1 => numbers.push(number),
            _ => rows.push((y, vec![number])),
        }
    }
    rows.into_iter().map(|(_, numbers)| numbers).filter(|numbers| numbers.len() == 13).collect()
}

#[test]
fn the_parts_of_a_months_heat_add_up_to_the_ledger() {
    let years = run();
    let rows = energy_rows(&chart(&years, "energy-months.svg"));
    assert_eq!(rows.len(), 18);
    for (unit, year) in [&years[0], &years[2]].into_iter().enumerate() {
        let rows = &rows[unit * 9..(unit + 1) * 9];
        let ledger = reporting::ledger_csv(year).unwrap();
        let lines: Vec<Vec<&str>> = ledger.lines().skip(1).map(|line| line.split(',').collect()).collect();
        let of = |labels: &[&str], column: usize| -> f64 {
            let heat = lines.iter().filter(|line| line[0] == "heat");
            heat.filter(|line| labels.is_empty() || labels.contains(&line[1]))
                .map(|line| line[3 + column].parse::<f64>().unwrap())
                .sum()
        };
        for column in 0..13 {
            let parts: i64 = rows[..8].iter().map(|row| row[column]).sum();
            assert_eq!(parts, rows[8][column], "column {column} adds up");
            let whole = of(&[], column);
            assert!((parts as f64 - whole).abs() <= 0.5 + 1e-6, "column {column}: {parts} for {whole}");
            let groups: [&[&str]; 5] = [
                &["heating"],
                &["solar_gains"],
                &["internal_gains", "source_vapour"],
                &["conduction_opaque", "conduction_windows", "ground"],
                &["infiltration_sensible"],
            ];
            for (row, labels) in rows.iter().zip(groups) {
                let exact = of(labels, column);
                assert!((row[column] as f64 - exact).abs() < 1.0, "{labels:?}: {} for {exact}", row[column]);
            }
        }
    }
}

#[test]
fn a_line_of_the_heat_book_that_no_part_names_is_in_the_last() {
    let mut years = vec![constant("A", Case::Unit, &Hour::default())];
    let line = |label, kwh: f64| LedgerLine { book: "heat", label, by_month: [kwh * 3.6e6; 12] };
    years[0].ledger_by_month = vec![line("heating", 40.0), line("a_new_line", -15.0), line("blower", 5.0)];
    let rows = energy_rows(&chart(&years, "energy-months.svg"));
    assert_eq!(rows[0], [[40; 12].as_slice(), &[480]].concat());
    assert_eq!(rows[7], [[-10; 12].as_slice(), &[-120]].concat());
    assert_eq!(rows[8], [[30; 12].as_slice(), &[360]].concat());
}

#[test]
fn the_worst_week_is_the_one_with_most_water_and_ice() {
    // Water on 10 to 12 March, 30 L in all, and more ice on 20 April: the week that holds the ice and no less.
    let rule = |hour: usize| match hour / 24 {
        68..=70 => Hour { liquid_kg: 10.0 / 24.0, drain_kg: 10.0 / 24.0, ..Hour::default() },
        109 => Hour { ice_formed_kg: 31.0 / 24.0, frost_kg: 0.5, ..Hour::default() },
        _ => Hour::default(),
    };
    let svg = chart(&[each_hour("A", Case::Unit, rule)], "condensate-week.svg");
    // 20 April is day 109 from 0; the first of the weeks that hold it begins six days before.
    assert!(words(&svg).contains(&"A, 14 Apr to 20 Apr".to_owned()), "{svg}");
    let calm = |hour: usize| if hour / 24 == 109 { Hour::default() } else { rule(hour) };
    let svg = chart(&[each_hour("A", Case::Unit, calm)], "condensate-week.svg");
    // The first week with all of 10 to 12 March ends on the 12th.
    assert!(words(&svg).contains(&"A, 6 Mar to 12 Mar".to_owned()));
    assert!(words(&svg).contains(&"none this week".to_owned()));
}

#[test]
fn the_mould_chart_names_the_greatest_index_and_the_wet_hours() {
    let years = run();
    let found = words(&chart(&years, "mould-index.svg"));
    for (name, year) in [("Plate A", &years[0]), ("no recovery", &years[1]), ("no ventilation", &years[4])] {
        let mut most = 0.0_f64;
        for index in damage(&year.hourly, &corner()).mould_index {
            most = most.max(index);
        }
        let mut wet = 0.0;
        for share in &year.hourly.window_edge_wet_share {
            wet += share;
        }
        let expected = format!("{name}: index up to {most:.2}, edges wet {wet:.0} h");
        assert!(found.contains(&expected), "{expected}\n{found:?}");
    }
    assert!(found.iter().any(|words| words.starts_with("3: growth seen")));
    let without = charts::mould_index_chart(&ChartInput { corner: None, ..input(&years) }).unwrap();
    assert!(without.contains("no cold corner is looked at") && !without.contains("index up to"));
}

#[test]
fn a_duration_curve_falls_through_the_median_in_the_middle() {
    // Relative humidity rises evenly from 20 to 80 % through the year: half its hours are above 50 %.
    let rule = |hour: usize| Hour {
        relative_humidity: 0.2 + 0.6 * hour as f64 / 8759.0,
        supply_c: 15.0,
        delivered_air_kg: if hour < 4380 { 100.0 } else { 0.0 },
        ..Hour::default()
    };
    let svg = chart(&[each_hour("A", Case::Unit, rule)], "duration.svg");
    let curve = svg
        .lines()
        .filter(|line| line.contains("<polyline") && line.contains("#0072B2"))
        .map(|line| line.split("points=\"").nth(1).unwrap().split('"').next().unwrap())
        .max_by_key(|points| points.len())
        .unwrap();
    let points: Vec<(f64, f64)> = curve
        .split_whitespace()
        .map(|pair| pair.split_once(',').unwrap())
        .map(|(x, y)| (x.parse::<f64>().unwrap() / 4.0, y.parse::<f64>().unwrap() / 4.0))
        .collect();
    // The frame is from 56 to 896; the scale from 20 to 80 %: half way across the curve is half way up.
    let (top, bottom) = (points[0].1, points[points.len() - 1].1);
    let middle = points.iter().min_by(|a, b| (a.0 - 476.0).abs().total_cmp(&(b.0 - 476.0).abs())).unwrap();
    assert!((middle.1 - f64::midpoint(top, bottom)).abs() < 0.5, "{middle:?} {top} {bottom}");
    assert!(bottom > top + 100.0);
}

#[test]
fn ports_without_air_have_no_cloud() {
    let years = run();
    let orange = |svg: &str| svg.matches("fill=\"#E69F00\"").count();
    let svg = chart(&years, "psychrometric-year.svg");
    assert!(orange(&svg) > 100);
    for label in ["outdoor", "supply", "extract", "exhaust"] {
        // One for each unit.
        assert_eq!(words(&svg).iter().filter(|words| *words == label).count(), 2, "{label}");
    }
    let mut still = years;
    for year in &mut still {
        Arc::make_mut(&mut year.hourly).exhaust_air_kg.fill(0.0);
    }
    // The legend's mark alone.
    assert_eq!(orange(&chart(&still, "psychrometric-year.svg")), 1);
}

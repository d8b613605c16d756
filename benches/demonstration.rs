//! What the demonstration's run spends its time on, part by part, on one thread.
//!
//! `RAYON_NUM_THREADS=1 cargo bench -p benches --bench demonstration`. The program does the same on every thread that there is; its
//! whole time is that of `dewledger run --quiet`. Not here: the report, and writing to a disk. No time is asserted.
#![allow(clippy::unwrap_used, missing_docs)]

use std::hint::black_box;

use benches::fastest_s;
use reporting::charts::{ChartInput, in_tables_alone};
use reporting::{BinStudy, Calendar, Hemisphere, Language, RunSummary, ShowIn, SummaryBasis};
use simulation::results::HouseYear;
use weather::Overrides;
use weather::bins::Edges;

const ROUNDS: usize = 5;

fn main() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../weather-samples/frosthollow.csv");
    let bytes = std::fs::read(path).unwrap();
    let study = study::parse_study(study::starter_study(), "demonstration").unwrap();
    let (year, _) = weather::read(&bytes, &Overrides::default()).unwrap();
    let built = study::build::build(&study, &year).unwrap();
    let (drivers, options) = (&built.drivers, built.options);
    let all_years = || -> Vec<HouseYear> {
        let mut years = vec![simulation::run_no_ventilation(&built.house, drivers, options).unwrap()];
        for (name, variant) in &built.units {
            years.extend(simulation::run_compared(name, variant, drivers, options).unwrap());
        }
        years
    };
    let years = all_years();
    let calendar = Calendar::for_hours(year.hours()).unwrap();
    let basis = SummaryBasis {
        hemisphere: Hemisphere::North,
        frost_capacity_kg: Vec::new(),
        corner: Some(built.corner),
        required_kg_per_h: None,
    };
    let input = ChartInput {
        study: &study.title,
        years: &years,
        language: Language::English,
        show_in: ShowIn::Si,
        corner: Some(built.corner),
        extract_wet_share: 1.0,
    };
    let edges = Edges::new(2.0, 0.0).unwrap();
    let with_hours: Vec<&HouseYear> = years.iter().filter(|year| !in_tables_alone(year.case)).collect();
    let parts = fastest_s(
        ROUNDS,
        [
            &mut || drop(black_box(weather::read(&bytes, &Overrides::default()).unwrap())),
            &mut || drop(black_box(study::build::build(&study, &year).unwrap())),
            &mut || drop(black_box(all_years())),
            &mut || drop(black_box(RunSummary::new(&years, &basis).unwrap())),
            &mut || {
                for year in &with_hours {
                    let mut hours = reporting::HourlyCsv::new(year, &calendar).unwrap();
                    let mut text = Vec::new();
                    while hours.next_piece(&mut text).unwrap() {
                        black_box(&text);
                        text.clear();
                    }
                }
            },
            &mut || {
                for (name, variant) in &built.units {
                    let year = years.iter().find(|year| year.unit == *name).unwrap();
                    drop(black_box(BinStudy::new(year, variant, &edges).unwrap()));
                }
            },
            &mut || drop(black_box(reporting::charts::all(&input).unwrap())),
        ],
    );
    let sum: f64 = parts.iter().sum();
    let names = [
        "weather read and checked".to_owned(),
        "house, units and drivers".to_owned(),
        format!("{} house-years", years.len()),
        "annual and monthly figures".to_owned(),
        format!("{} hourly tables as text", with_hours.len()),
        "bins of each unit".to_owned(),
        "charts of the hours".to_owned(),
    ];
    println!("{:<28} {:>8} {:>8}", "the demonstration", "ms", "share");
    for (name, seconds) in names.iter().zip(parts) {
        println!("{name:<28} {:>8.1} {:>6.1} %", seconds * 1e3, seconds / sum * 100.0);
    }
    println!("{:<28} {:>8.1}", "all of these", sum * 1e3);
}

//! Units in climates: figures, verdicts, table and picture of house-years made by hand.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod made_up;

use std::sync::Arc;

use made_up::svg::{assert_sound, texts};
use made_up::{constant, each_hour};
use reporting::charts::climates_chart;
use reporting::climates::{CLIMATE_KEYS, CLIMATE_VERDICTS, climate_columns};
use reporting::{
    Climate, ClimateFigure, ClimateUnit, ReportError, RunSummary, ShowIn, SummaryBasis, climates_csv,
    climates_notes, climates_table,
};
use simulation::results::{Case, Hour, HouseYear};

/// 500 W of heating and a house that is inside 30 to 60 % in its first `inside` hours, else at 20 %.
fn year(unit: &str, case: Case, heating_w: f64, inside: usize) -> HouseYear {
    each_hour(unit, case, |hour| Hour {
        heating_site_w: heating_w,
        fan_w: 50.0,
        relative_humidity: if hour < inside { 0.45 } else { 0.2 },
        outdoor_air_kg: 108.36,
        drain_kg: 0.01,
        ..Hour::default()
    })
}

fn unit(name: &str, years: &[HouseYear]) -> ClimateUnit {
    ClimateUnit::new(&RunSummary::new(years, &SummaryBasis::default()).unwrap(), name, 8760).unwrap()
}

/// A unit that saves `saved_w` all year and gains or loses hours inside.
fn made(name: &str, saved_w: f64, inside: usize, without: usize) -> ClimateUnit {
    unit(
        name,
        &[year(name, Case::Unit, 1000.0 - saved_w, inside), year(name, Case::NoRecovery, 1000.0, without)],
    )
}

fn climate(name: &str, units: Vec<ClimateUnit>) -> Climate {
    Climate { name: name.to_owned(), place: String::new(), units }
}

/// 300 W over 8 760 h are 2 628 kWh, 50 W of fans 438 kWh; 4 000 h inside against 3 000 h; 10 g of drain an hour are 87.6 L,
/// 0.24 L a day.
#[test]
fn figures_are_those_of_the_year() {
    let unit = made("Plate A", 300.0, 4000, 3000);
    let value = |figure| unit.value(figure).unwrap();
    assert_eq!(value(ClimateFigure::Saving), 2628.0);
    assert_eq!(value(ClimateFigure::SavingHeld), 2628.0);
    assert_eq!(value(ClimateFigure::FansHeld), 438.0);
    assert_eq!(value(ClimateFigure::Below), 4760.0);
    assert_eq!(value(ClimateFigure::Above), 0.0);
    assert_eq!(value(ClimateFigure::Inside), 4000.0);
    assert_eq!(value(ClimateFigure::InsideWithout), 3000.0);
    assert_eq!(value(ClimateFigure::Drain), 87.6);
    assert_eq!(value(ClimateFigure::PeakDrain), 0.24);
    assert_eq!(value(ClimateFigure::MissedShare), 0.0);
    assert_eq!(unit.more_hours_inside(), Some(1000.0));
}

/// What a unit saves as run, and what it saves when the tenth of the air that it misses is made up.
#[test]
fn a_unit_that_misses_air_is_judged_with_its_air_held() {
    let air = |case, heating_w, missed| {
        let year = year("Plate A", case, heating_w, 4000);
        let hours = year.hourly.outdoor_c.len();
        let mut year = year;
        Arc::make_mut(&mut year.hourly).missed_outdoor_air_kg = vec![missed; hours];
        year
    };
    let unit = unit(
        "Plate A",
        &[
            air(Case::Unit, 930.0, 12.04),
            air(Case::NoRecovery, 1000.0, 0.0),
            air(Case::UnitHeld, 1000.0, 0.0),
            air(Case::NoRecoveryHeld, 1045.0, 0.0),
        ],
    );
    // 70 W and 45 W over 8 760 h; fans of 50 W. 12.04 of 120.4 kg of air.
    assert_eq!(unit.value(ClimateFigure::Saving), Some(613.2));
    assert_eq!(unit.value(ClimateFigure::SavingHeld), Some(394.2));
    assert_eq!(unit.value(ClimateFigure::MissedShare), Some(10.0));
    assert!(!unit.saves_more_than_fans());
}

/// Fans take 438 kWh: 49 W are saved in vain, 51 W are not. A day's hours more count, one hour less does not.
#[test]
fn a_unit_gains_if_it_saves_more_than_its_fans_and_is_inside_a_day_longer() {
    for (saved_w, inside, gains) in [
        (51.0, 3024, true),
        (51.0, 3023, false),
        (49.0, 3024, false),
        (50.0, 5000, false),
        (-10.0, 2000, false),
    ] {
        assert_eq!(made("A", saved_w, inside, 3000).gains(), gains, "{saved_w} W, {inside} h");
    }
}

#[test]
fn the_closing_sentences_say_who_gains_and_that_none_may() {
    let climates = [
        climate("cold.csv", vec![made("A", 300.0, 4000, 3000), made("B", 300.0, 2990, 3000)]),
        climate("hot.csv", vec![made("A", 10.0, 3100, 3000), made("B", 60.0, 3000, 3000)]),
    ];
    let notes = climates_notes(&climates);
    assert!(notes.contains(
        &"cold.csv: A gains here. Saving more than their fans take: A (2628 against 438 kWh), B (2628 against 438 kWh); not \
          more: none. Inside 30 to 60 % against no recovery: A +1000 h, B -10 h."
            .to_owned()
    ));
    assert!(notes.contains(
        &"hot.csv: none gains here. Saving more than their fans take: B (526 against 438 kWh); not more: A (88 against 438 \
          kWh). Inside 30 to 60 % against no recovery: A +100 h, B 0 h."
            .to_owned()
    ));
    let last = notes.last().unwrap();
    assert!(
        last.contains("at least 24 h a year more") && last.ends_with("one gains in 1 of 2 climates."),
        "{last}"
    );
}

#[test]
fn the_table_of_a_file_has_a_row_for_each_unit_and_climate() {
    let climates = [
        climate("cold.csv", vec![made("A, \"large\"", 300.0, 4000, 3000)]),
        Climate { place: "Hot".to_owned(), ..climate("hot.csv", vec![made("A", 10.0, 3100, 3000)]) },
    ];
    let csv = climates_csv(&climates).unwrap();
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let header: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let names = CLIMATE_KEYS.into_iter().chain(climate_columns().into_iter().map(|column| column.name));
    let names: Vec<&str> = names.chain(CLIMATE_VERDICTS.iter().map(|verdict| verdict.name)).collect();
    assert_eq!(header, names);
    let rows: Vec<Vec<String>> =
        reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect();
    assert_eq!(rows.len(), 2);
    assert_eq!(rows[0][..5], ["cold.csv", "", "A, \"large\"", "2628.00", "2628.00"]);
    assert_eq!(rows[0][rows[0].len() - 3..], ["yes", "yes", "yes"]);
    assert_eq!(rows[1][..3], ["hot.csv", "Hot", "A"]);
    assert_eq!(rows[1][rows[1].len() - 3..], ["no", "yes", "no"]);
}

#[test]
fn the_terminal_table_fits_a_hundred_columns_whatever_the_names() {
    let long = "A unit with a name that nobody would wish to type twice";
    let mut climates =
        vec![climate("a-file-with-a-name-as-long/as-a-path.csv", vec![made(long, 300.0, 4000, 3000)])];
    climates[0].place =
        "A place whose name is longer than any line of a table would have room for, and longer still"
            .to_owned();
    for show_in in [ShowIn::Si, ShowIn::Ip] {
        let table = climates_table(&climates, show_in);
        assert!(table.lines().all(|line| line.chars().count() <= 100), "{table}");
    }
    // 87.6 L are 23.1 gallons of 3.785 L.
    let ip = climates_table(&climates, ShowIn::Ip);
    assert!(
        ip.contains("gal") && ip.lines().last().unwrap().split_whitespace().any(|cell| cell == "23"),
        "{ip}"
    );
}

#[test]
fn every_number_stands_in_its_cell() {
    let climates = [
        climate("cold.csv", vec![made("A", 300.0, 4000, 3000), made("B", 200.0, 3500, 3000)]),
        climate("hot.csv", vec![made("A", -10.0, 3100, 3000), made("B", 60.0, 3001, 3000)]),
    ];
    let svg = climates_chart(&climates, "Two units", ShowIn::Si).unwrap();
    assert_sound("climates.svg", &svg);
    let all = texts(&svg);
    let count = |words: &str| all.iter().filter(|text| text.words == words).count();
    // Saving, twice: as run and with its air held. 300 W, 200 W, −10 W and 60 W over 8 760 h.
    for words in ["2628", "1752", "−88", "526"] {
        assert_eq!(count(words), 2, "{words}");
    }
    for words in ["4760", "5260", "5660", "5759"] {
        assert_eq!(count(words), 1, "{words}");
    }
    assert!(all.iter().any(|text| text.words == "Useful saving, as run [kWh]"));
    assert!(all.iter().filter(|text| text.words.starts_with("darker: ")).count() == 11);
}

#[test]
fn names_that_do_not_fit_are_listed_above() {
    let units = |number: usize| {
        (0..number)
            .map(|n| made(&format!("A unit with quite a long name, size {n}"), 300.0, 4000, 3000))
            .collect()
    };
    let climates: Vec<Climate> = (0..9)
        .map(|n| climate(&format!("folder/with/a/much/longer/path/to/it/climate-number-{n}.csv"), units(7)))
        .collect();
    let svg = climates_chart(&climates, "Many", ShowIn::Ip).unwrap();
    assert_sound("climates-many.svg", &svg);
    assert!(svg.contains("7: A unit with quite a long name, size 6"));
    assert!(svg.contains("I: folder/with/a/much/longer/path/to/it/climate-number-8.csv"));
    let half = [climate("x.csv", units(5))];
    assert_sound("climates-five.svg", &climates_chart(&half, "", ShowIn::Si).unwrap());
}

#[test]
fn what_is_not_there_is_refused() {
    let nothing = Err(ReportError::NothingToDraw { chart: "units in climates" });
    assert_eq!(climates_chart(&[], "", ShowIn::Si), nothing);
    assert_eq!(climates_chart(&[climate("x", vec![])], "", ShowIn::Si), nothing);
    let summary = RunSummary::new(&[constant("A", Case::Unit, &Hour::default())], &SummaryBasis::default());
    assert_eq!(
        ClimateUnit::new(&summary.unwrap(), "A", 8760),
        Err(ReportError::NoUnit { unit: "A".to_owned() })
    );
}

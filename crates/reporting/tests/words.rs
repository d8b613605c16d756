//! The terminal table, its notes, and the manifest.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "helpers of tests fail like tests")]

mod made_up;

use made_up::{constant, lively_run};
use reporting::manifest::{BookResiduals, DefaultUsed, InputFile};
use reporting::{Manifest, RunSummary, ShowIn, SummaryBasis, manifest_json, notes, terminal_table};
use simulation::results::{Case, Hour};

fn summary() -> RunSummary {
    let basis =
        SummaryBasis { frost_capacity_kg: vec![("Plate A".to_owned(), 0.4)], ..SummaryBasis::default() };
    RunSummary::new(&lively_run(), &basis).unwrap()
}

#[test]
fn the_table_is_at_most_a_hundred_characters_wide_and_has_a_row_for_each_house() {
    let mut years = lively_run();
    for year in &mut years {
        year.unit = year.unit.replace("Plate A", "A plate of a name that goes on and on and on");
    }
    let long = RunSummary::new(&years, &SummaryBasis::default()).unwrap();
    for summary in [summary(), long] {
        for show_in in [ShowIn::Si, ShowIn::Ip] {
            let table = terminal_table(&summary, show_in);
            println!("{table}\n{}", notes(&summary, show_in).join("\n"));
            assert!(table.lines().all(|line| line.chars().count() <= 100), "{table}");
            assert_eq!(table.matches("no recovery").count(), 2);
            assert_eq!(table.matches("no ventilation").count(), 1);
            assert!(!table.contains('\u{1b}'));
        }
    }
}

#[test]
fn the_table_of_a_constant_year_shows_whole_numbers() {
    let hour = Hour { heating_site_w: 1000.0, relative_humidity: 0.4, drain_kg: 0.01, ..Hour::default() };
    let years = [constant("Plate A", Case::Unit, &hour)];
    let summary = RunSummary::new(&years, &SummaryBasis::default()).unwrap();
    let row = |show_in| {
        let table = terminal_table(&summary, show_in);
        let line = table.lines().find(|line| line.contains("Plate A")).unwrap().to_owned();
        line.split_whitespace().skip(2).map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(row(ShowIn::Si), ["8760", "0", "0", "–", "40", "40", "0", "0", "0", "88", "0"]);
    // 87.6 L / 3.785411784 L/gal = 23.1 gal.
    assert_eq!(row(ShowIn::Ip), ["8760", "0", "0", "–", "40", "40", "0", "0", "0", "23", "0"]);
}

#[test]
fn notes_say_what_the_baselines_are_and_where_nothing_clears_frost() {
    let notes = notes(&summary(), ShowIn::Si).join("\n");
    for words in [
        "no recovery: the same outdoor air",
        "no ventilation: air leakage only",
        "nothing clears its frost: ice stays until the core warms by itself",
        "Books:",
    ] {
        assert!(notes.contains(words), "{words}\n{notes}");
    }
    let years = [constant("A", Case::Unit, &Hour::default())];
    let dry = RunSummary::new(&years, &SummaryBasis::default()).unwrap();
    assert!(!reporting::notes(&dry, ShowIn::Si).join("\n").contains("frost"));
}

#[test]
fn a_unit_with_leaks_or_imbalance_says_how_much_fresh_air_it_delivers() {
    let note = |hour: Hour| {
        let years = [constant("Plate A", Case::Unit, &hour), constant("Plate A", Case::NoRecovery, &hour)];
        let summary = RunSummary::new(&years, &SummaryBasis::default()).unwrap();
        let all = notes(&summary, ShowIn::Si);
        all.into_iter().filter(|note| note.contains("is fresh")).collect::<Vec<_>>()
    };
    let plain = Hour {
        delivered_air_kg: 1.204,
        outdoor_air_kg: 1.204,
        infiltration_air_kg: 0.301,
        exfiltration_air_kg: 0.301,
        ..Hour::default()
    };
    assert!(note(plain).is_empty());
    assert_eq!(
        note(Hour { outdoor_air_kg: 1.0836, ..plain }),
        [
            "Plate A: 90.0 % of the air it delivers is fresh, and infiltration brings 25.0 % of as much, untempered."
        ]
    );
    assert_eq!(
        note(Hour { infiltration_air_kg: 0.602, ..plain }),
        [
            "Plate A: 100.0 % of the air it delivers is fresh, and infiltration brings 50.0 % of as much, untempered."
        ]
    );
}

#[test]
fn the_manifest_is_json_with_every_default_and_residual() {
    let manifest = Manifest {
        title: "Bungalow at Frosthollow".to_owned(),
        engine_version: "0.1.0".to_owned(),
        created: "2026-11-25T10:00:00Z".to_owned(),
        time_step_s: 900,
        lead_in_h: 504,
        inputs: vec![InputFile {
            role: "study".to_owned(),
            name: "b.toml".to_owned(),
            sha256: "ab".repeat(32),
        }],
        defaults_used: vec![DefaultUsed {
            path: "site.wind_height".to_owned(),
            value: "10 m".to_owned(),
            why: "the usual height of a station's mast".to_owned(),
        }],
        residuals: BookResiduals::of(&summary()),
        files: vec!["annual.csv".to_owned()],
        ..Manifest::default()
    };
    let json: serde_json::Value = serde_json::from_str(&manifest_json(&manifest).unwrap()).unwrap();
    assert_eq!(json["defaults_used"][0]["path"], "site.wind_height");
    assert_eq!(json["residuals"].as_array().unwrap().len(), 5);
    assert_eq!(json["residuals"][1]["case"], "no-recovery");
    assert!(json["residuals"][1]["core"].is_null());
    assert!(json["residuals"][0]["core"].as_f64().unwrap() < 1e-9);
}

#[test]
fn a_manifest_with_a_broken_hash_is_refused() {
    let input = InputFile { role: "study".to_owned(), name: "b.toml".to_owned(), sha256: "12".to_owned() };
    let manifest = Manifest { inputs: vec![input], ..Manifest::default() };
    let text = manifest_json(&manifest).unwrap_err().to_string();
    assert_eq!(
        text,
        "a table could not be written: b.toml: \"12\" is not a SHA-256 in 64 hexadecimal digits"
    );
}

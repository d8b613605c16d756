//! `dewledger run`: the whole text of both reports in both languages, as it is kept in `tests/golden`.
//!
//! What the text should be is judged by reading it; this test shows every change of it. After a change that is meant:
//! `GOLDEN=write cargo nextest run -p dewledger report_text` (or `cargo test -p dewledger report_text`), then read the difference.

use std::fs;
use std::path::{Path, PathBuf};

use reporting::Language;

use super::origins::Files;
use super::pages::{as_text, pieces};
use super::room::Room;

fn golden(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/golden").join(name)
}

/// The run of the small study in a language; its weather lies beside it.
fn run(language: &str) -> (Room, String) {
    let room = Room::new();
    let weather = golden("../../weather-samples/saltmere.csv");
    room.write("saltmere.csv", fs::read(weather).unwrap());
    let study = fs::read_to_string(golden("study.toml")).unwrap();
    let study = format!("{study}\n[report]\nlanguage = \"{language}\"\n");
    room.write("study.toml", &study);
    room.done(&["run", "study.toml", "--out", "out", "--quiet", "--report", "html"]);
    (room, study)
}

/// Without what differs from day to day and from version to version.
fn lasting(text: &str, manifest: &serde_json::Value) -> String {
    let told = |pointer: &str| manifest.pointer(pointer).unwrap().as_str().unwrap().to_owned();
    let day = told("/created");
    let day = day.split('T').next().unwrap();
    text.replace(day, "DAY").replace(&format!("Dewledger {}", told("/engine_version")), "Dewledger VERSION")
}

fn is_as_kept(code: &str, language: Language) {
    let (room, study) = run(code);
    let files = Files::of(&room, &study, false);
    let manifest: serde_json::Value = serde_json::from_str(&room.read("out/manifest.json")).unwrap();
    for (name, least) in [("report", 300), ("report-one-page", 10)] {
        let html = room.read(&format!("out/{name}.html"));
        assert!(!html.contains('⟦'), "{name}: a word is missing");
        assert!(files.hold(&pieces(&html), language) > least, "{name}");
        let text = lasting(&as_text(&html), &manifest);
        let kept = golden(&format!("{name}.{code}.txt"));
        if std::env::var("GOLDEN").is_ok_and(|how| how == "write") {
            fs::write(&kept, &text).unwrap();
        }
        let expected = fs::read_to_string(&kept).unwrap();
        let differs = text.lines().zip(expected.lines()).position(|(now, then)| now != then);
        if let Some(at) = differs {
            let line = |text: &str| text.lines().nth(at).unwrap_or_default().to_owned();
            panic!("{}: line {}\nnow  {}\nkept {}", kept.display(), at + 1, line(&text), line(&expected));
        }
        assert_eq!(text.lines().count(), expected.lines().count(), "{}", kept.display());
    }
}

#[test]
fn the_english_report_reads_as_it_is_kept() {
    is_as_kept("en", Language::English);
}

#[test]
fn the_french_report_reads_as_it_is_kept() {
    is_as_kept("fr", Language::French);
}

/// By hand from the study and its weather: 120 m² × 2.5 m; the errors of the fit are differences of what is beside them.
#[test]
fn what_was_understood_is_what_the_study_says() {
    let (room, study) = run("en");
    let files = Files::of(&room, &study, false);
    let exact = [
        ("house.floor_area", 120.0),
        ("house.volume", 300.0),
        ("house.heat_loss", 130.0),
        ("house.air_leakage.changes", 2.5),
        ("house.air_leakage.pressure", 50.0),
        ("unit.Counter 1.rating.1.sensible_recovery.stated", 0.72),
        ("unit.Counter 1.rating.2.airflow", 30.0),
        ("unit.Counter 1.filter.interval", 90.0),
        ("unit.Membrane 2.conductance.ua", 140.0),
        ("unit.Membrane 2.price", 2900.0),
    ];
    for (key, value) in exact {
        assert!((files.fact(key) - value).abs() < 1e-9 * value, "{key}: {}", files.fact(key));
    }
    let rated = |part: &str| files.fact(&format!("unit.Counter 1.rating.1.sensible_recovery.{part}"));
    assert!((rated("error") - (rated("fitted") - rated("stated"))).abs() < 1e-12);
    let weather = room.read("saltmere.csv");
    let mut rows = weather.lines().filter(|line| !line.starts_with('#'));
    let place = rows.next().unwrap().split(',').position(|name| name.starts_with("dry_bulb")).unwrap();
    let outdoor: Vec<f64> = rows.filter_map(|row| row.split(',').nth(place)?.parse().ok()).collect();
    assert_eq!(outdoor.len(), 8760);
    let mean = outdoor.iter().sum::<f64>() / 8760.0;
    assert!((files.fact("site.outdoor_mean") - mean).abs() < 0.01, "{mean}");
    assert!((files.fact("site.outdoor_least") - outdoor.iter().copied().fold(99.0, f64::min)).abs() < 0.01);
}

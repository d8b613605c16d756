//! Names of units that are awkward as file names.

use super::room::{Room, changed};
use super::tables::Table;

/// Runs the starter study with these names and answers the names of its ledgers.
fn filed(plate: &str, membrane: &str) -> Vec<String> {
    let room = Room::new();
    room.done(&["new", "."]);
    let named =
        changed(&[("\"Plate A\"", &format!("'{plate}'")), ("\"Membrane B\"", &format!("'{membrane}'"))]);
    room.write("study.toml", without_defrost(&named));
    let said = room.done(&["run", "study.toml", "--out", "x"]);
    let annual = Table::read(&room.read("x/annual.csv"));
    assert_eq!(annual.column("unit"), [plate, plate, plate, membrane, membrane, membrane, ""]);
    let manifest: serde_json::Value = serde_json::from_str(&room.read("x/manifest.json")).unwrap();
    assert_eq!(manifest["files"].as_array().unwrap().len(), room.files("x").len());
    assert!(said.out.lines().all(|line| line.chars().count() <= 100), "{}", said.out);
    // Everything that was written lies in the folder.
    assert!(room.files("").keys().all(|name| name.starts_with("x/") || !name.contains('/')));
    let mut ledgers: Vec<String> = room.files("x/ledger").into_keys().collect();
    // The extract-only house is in the tables and the ledger, and has no hourly file.
    ledgers.retain(|name| !name.contains(".extract-only"));
    assert_eq!(room.files("x/hourly").into_keys().collect::<Vec<_>>(), ledgers);
    ledgers
}

/// The first two units, with nothing done about frost.
fn without_defrost(study: &str) -> String {
    let [from, to, end] = ["[unit.frost]", "# The second passes", "# The first core again"]
        .map(|mark| study.find(mark).unwrap());
    let second = &study[to..end];
    let second = &second[..second.find("[unit.frost]").unwrap()];
    format!("{}{second}", &study[..from])
}

#[test]
fn slashes_spaces_and_dots_stay_inside_the_folder() {
    assert_eq!(
        filed("../../Plate A / 2", "--force"),
        [
            "force.csv",
            "force.no-recovery.csv",
            "no-ventilation.csv",
            "plate-a-2.csv",
            "plate-a-2.no-recovery.csv"
        ]
    );
}

#[test]
fn names_that_become_one_file_name_are_numbered() {
    assert_eq!(
        filed("Plate/A", "plate a"),
        [
            "no-ventilation.csv",
            "plate-a-2.csv",
            "plate-a.csv",
            "plate-a.no-recovery-2.csv",
            "plate-a.no-recovery.csv"
        ]
    );
}

#[test]
fn a_unit_called_like_a_baseline_keeps_its_own_files() {
    assert_eq!(filed("No ventilation", "no ventilation.no-recovery").len(), 5);
}

#[test]
fn letters_of_any_alphabet_are_kept() {
    assert_eq!(
        filed("Wärmerückgewinner №1", "断熱"),
        [
            "no-ventilation.csv",
            "wärmerückgewinner-1.csv",
            "wärmerückgewinner-1.no-recovery.csv",
            "断熱.csv",
            "断熱.no-recovery.csv"
        ]
    );
}

#[test]
fn the_longest_name_still_fits_a_file_system() {
    let four_bytes_each = "𝔸".repeat(60);
    assert_eq!(filed(&four_bytes_each, "☃").len(), 5);
}

#[test]
fn a_name_longer_than_that_is_refused() {
    let room = Room::new();
    room.write("study.toml", changed(&[("\"Plate A\"", &format!("\"{}\"", "x".repeat(61)))]));
    let carets = "^".repeat(63);
    let name = "x".repeat(61);
    room.refuses(
        &["run", "study.toml"],
        &format!(
            "error: `unit[1].name`: must have 60 characters at most\n  --> study.toml:73:8\n   |\n\
             73 | name = \"{name}\"\n   |        {carets} too long\n\n1 problem in study.toml\n"
        ),
    );
}

//! Weather files that are untidy but clear: read like their tidy selves, and what was untidy is said.

use std::fs;

use super::room::{Room, published, sample, study_on};

/// The file reads and runs like saltmere.csv, but for the note of what was untidy.
fn same_as_saltmere(name: &str, content: impl AsRef<[u8]>, note: Option<&str>) {
    let tidy = {
        let room = Room::with_study("frosthollow.csv");
        fs::copy(sample("saltmere.csv"), room.path.join(name)).unwrap();
        report_and_results(&room, name)
    };
    let room = Room::new();
    room.write(name, content);
    let untidy = report_and_results(&room, name);
    let without_note: Vec<&str> = untidy.0.lines().filter(|line| note != Some(line.trim())).collect();
    assert_eq!(without_note, tidy.0.lines().collect::<Vec<_>>());
    assert_eq!(untidy.0.lines().count(), tidy.0.lines().count() + usize::from(note.is_some()));
    assert_eq!(untidy.1, tidy.1);
}

fn report_and_results(room: &Room, name: &str) -> (String, String) {
    room.write("study.toml", study_on(name));
    room.done(&["run", "study.toml", "--out", "x", "--hourly", "none"]);
    (room.done(&["weather", name]).out, room.read("x/monthly.csv"))
}

#[test]
fn a_byte_order_mark() {
    let mut bytes = vec![0xef, 0xbb, 0xbf];
    bytes.extend(fs::read(sample("saltmere.csv")).unwrap());
    same_as_saltmere(
        "winter.csv",
        bytes,
        Some("note: The file begins with a byte-order mark, which was passed over."),
    );
}

#[test]
fn the_line_ends_of_another_system() {
    let text = fs::read_to_string(sample("saltmere.csv")).unwrap();
    same_as_saltmere("winter.csv", text.replace('\n', "\r\n"), None);
}

#[test]
fn an_extension_in_capitals_or_none() {
    let bytes = fs::read(sample("saltmere.csv")).unwrap();
    same_as_saltmere("SALT.CSV", &bytes, None);
    same_as_saltmere("salt", &bytes, None);
}

#[test]
fn a_name_with_spaces_and_an_umlaut() {
    same_as_saltmere("Salz Mühle.csv", fs::read(sample("saltmere.csv")).unwrap(), None);
}

#[test]
fn a_published_file_under_a_misleading_name() {
    let room = Room::new();
    let piedmont = published("pvgis_tmy_piedmont_it_45N_8E.epw");
    fs::copy(&piedmont, room.path.join("P.EPW")).unwrap();
    fs::copy(&piedmont, room.path.join("p.csv")).unwrap();
    let capitals = room.done(&["weather", "P.EPW"]).out;
    assert_eq!(room.done(&["weather", "p.csv"]).out, capitals.replacen("P.EPW", "p.csv", 1));
}

#[test]
fn a_latin_1_name() {
    let text = fs::read_to_string(sample("saltmere.csv")).unwrap().replacen("Saltmere", "Salzmühle", 1);
    let latin_1: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
    let room = Room::new();
    room.write("winter.csv", latin_1);
    room.write("study.toml", study_on("winter.csv"));
    let note = "note: The file is not UTF-8; its names were read as Latin-1.";
    let said = room.done(&["weather", "winter.csv"]);
    assert!(said.out.contains("  Salzmühle (invented) · 57.600° north"), "{}", said.out);
    assert!(said.out.contains(note), "{}", said.out);
    let said = room.done(&["run", "study.toml", "--hourly", "none"]);
    assert!(said.err.starts_with(&format!("winter.csv: {note}\n")), "{}", said.err);
}

#[test]
fn six_missing_hours_are_filled_and_listed() {
    let room = Room::new();
    let text = fs::read_to_string(published("tmy3_greensboro_nc_723170TYA.csv")).unwrap();
    let mut lines: Vec<&str> = text.lines().collect();
    lines.drain(99..105);
    room.write("gap.csv", lines.join("\n"));
    room.write("study.toml", study_on("gap.csv"));
    let sentence = "warning: No row for 6 hours: interpolated. At 5 January, hour 2; 5 January, hour 3; \
        5 January, hour 4; 5 January, hour 5; 5 January, hour 6; 5 January, hour 7.";
    assert!(unwrapped(&room.done(&["weather", "gap.csv"]).out).contains(sentence));
    let said = room.done(&["run", "study.toml", "--hourly", "none"]);
    assert!(said.err.starts_with(&format!("gap.csv: {sentence}\n")), "{}", said.err);
}

/// The report with its folded lines joined again.
fn unwrapped(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// South of the equator the seasons change their months; here June is as mild as the file says, and is winter.
#[test]
fn a_southern_year_has_its_winter_in_june() {
    let room = Room::new();
    let text = fs::read_to_string(sample("saltmere.csv")).unwrap();
    room.write("south.csv", text.replacen("# latitude_deg: 57.6", "# latitude_deg: -36", 1));
    room.write("study.toml", study_on("south.csv"));
    let said = room.done(&["run", "study.toml", "--out", "x", "--hourly", "none"]);
    assert!(said.out.contains("winter is Jun, Jul, Aug"), "{}", said.out);
    assert!(room.done(&["weather", "south.csv"]).out.contains(" · 36.000° south, 31.400° west · "));
    let monthly = super::tables::Table::read(&room.read("x/monthly.csv"));
    let stated: Vec<bool> =
        monthly.column("rh_winter_mean_pct")[..12].iter().map(|cell| !cell.is_empty()).collect();
    assert_eq!(stated, (1..=12).map(|month| (6..=8).contains(&month)).collect::<Vec<_>>());
}

/// A real leap year, as some services publish it: 29 February is made of the hours of the 28th.
#[test]
fn a_leap_year_keeps_its_29_february() {
    let room = Room::new();
    let text = fs::read_to_string(sample("saltmere.csv")).unwrap();
    let day: Vec<String> = text
        .lines()
        .filter(|line| line.starts_with("2,28,"))
        .map(|line| line.replacen("2,28,", "2,29,", 1))
        .collect();
    assert_eq!(day.len(), 24);
    room.write("leap.csv", text.replacen("\n3,1,1,", &format!("\n{}\n3,1,1,", day.join("\n")), 1));
    room.write("study.toml", study_on("leap.csv"));
    assert!(room.done(&["weather", "leap.csv"]).out.contains(" · 8784 hours · "));
    room.done(&["run", "study.toml", "--out", "x"]);
    let hourly = super::tables::Table::read(&room.read("x/hourly/plate-a.csv"));
    assert_eq!(hourly.rows.len(), 8784);
    assert_eq!(hourly.rows.iter().filter(|row| row[0] == "2" && row[1] == "29").count(), 24);
}

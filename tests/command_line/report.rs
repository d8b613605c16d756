//! `dewledger run`: the report. Every figure on the page is looked up in the result files beside it.

use super::room::Room;
use std::collections::HashMap;

/// The page's figures: where each is from, and its text.
fn figures(html: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for part in html.split("data-from=\"").skip(1) {
        let Some((from, rest)) = part.split_once('"') else { continue };
        let Some((_, text)) = rest.split_once('>') else { continue };
        let text = text.trim_start_matches("<bdi>");
        let text = text.split('<').next().unwrap_or_default();
        found.push((from.to_owned(), text.to_owned()));
    }
    found
}

/// Cells of a result file by `file|key|…|column`.
fn cells(room: &Room, file: &str, keys: usize) -> HashMap<String, String> {
    let text = room.read(&format!("out/{file}"));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let headers = reader.headers().unwrap().clone();
    let mut cells = HashMap::new();
    for record in reader.records() {
        let record = record.unwrap();
        let row: Vec<&str> = record.iter().take(keys).collect();
        for (name, cell) in headers.iter().zip(record.iter()).skip(keys) {
            cells.insert(format!("{file}|{}|{name}", row.join("|")), cell.to_owned());
        }
    }
    cells
}

/// A number as the page writes it: narrow spaces between thousands, a true minus, point or comma.
fn parsed(text: &str) -> (f64, usize) {
    let number: String = text.split('\u{a0}').next().unwrap_or_default().replace('\u{202f}', "");
    let number = number.replace('\u{2212}', "-").replace(',', ".");
    let decimals = number.split_once('.').map_or(0, |(_, rest)| rest.len());
    (number.parse().unwrap_or_else(|_| panic!("{text} is no number")), decimals)
}

fn study_of(room: &Room, title: &str, more: &str) {
    assert_eq!(room.run(&["new", "house"]).code, 0);
    let study = room.read("house/bungalow.toml");
    let study = study.replacen("title = \"Bungalow at Frosthollow\"", &format!("title = {title}"), 1);
    room.write("house/bungalow.toml", format!("{study}\n{more}"));
}

fn every_figure_is_in_the_files(html: &str, room: &Room) -> usize {
    let mut known = cells(room, "annual.csv", 2);
    known.extend(cells(room, "monthly.csv", 3));
    let found = figures(html);
    for (from, text) in &found {
        if from.starts_with("money.csv") {
            continue;
        }
        let cell = known.get(from).unwrap_or_else(|| panic!("{from} is in no file"));
        if from.ends_with("_date") {
            let day = cell.split_once('-').unwrap().1.trim_start_matches('0').to_owned();
            assert!(text.starts_with(&day), "{from}: {text}, {cell}");
            continue;
        }
        let (shown, decimals) = parsed(text);
        let exact: f64 = cell.parse().unwrap();
        let half = 0.5000001 * 10f64.powi(-i32::try_from(decimals).unwrap());
        assert!((shown - exact).abs() <= half, "{from}: {text} is shown, {cell} is filed");
    }
    found.len()
}

#[test]
fn every_figure_of_the_demonstrations_report_is_in_its_files_and_nothing_lacks_words() {
    let room = Room::new();
    assert_eq!(room.run(&["run", "--out", "out", "--quiet", "--report", "all"]).code, 0);
    for name in ["report.html", "report-one-page.html"] {
        let html = room.read(&format!("out/{name}"));
        assert!(!html.contains('⟦'), "{name}: a word is missing");
        assert!(every_figure_is_in_the_files(&html, &room) > 5, "{name}");
    }
    let html = room.read("out/report.html");
    assert!(html.contains("INVENTED CLIMATE"));
    // Golden: the five questions of page one, in their order.
    let questions = [
        "Which core?",
        "Why?",
        "How much is saved, and how sure is that?",
        "How much water, and when?",
        "What to beware of?",
    ];
    let places: Vec<usize> = questions.iter().map(|question| html.find(question).expect(question)).collect();
    assert!(places.is_sorted());
}

#[test]
fn the_french_report_has_the_same_figures_with_french_words() {
    let room = Room::new();
    study_of(&room, "\"Maison\"", "[report]\nlanguage = \"fr\"\n");
    let said = room.run(&["run", "house/bungalow.toml", "--out", "out", "--quiet"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let html = room.read("out/report.html");
    assert!(!html.contains('⟦'));
    assert!(html.contains("<html lang=\"fr\">"));
    for words in ["Quel échangeur ?", "CLIMAT INVENTÉ", "Calendrier", "février"] {
        assert!(html.contains(words), "{words}");
    }
    assert!(every_figure_is_in_the_files(&html, &room) > 100);
}

#[test]
fn a_title_with_a_script_comes_out_as_text_in_report_and_charts() {
    let room = Room::new();
    study_of(&room, "'<script>alert(1)</script> \"q\" 🏠 עברית'", "");
    let said = room.run(&["run", "house/bungalow.toml", "--out", "out", "--quiet", "--report", "all"]);
    assert_eq!(said.code, 0, "{}", said.err);
    for name in ["report.html", "report-one-page.html"] {
        let html = room.read(&format!("out/{name}"));
        assert!(!html.contains("<script>alert"), "{name}");
        assert!(html.contains("&lt;script&gt;alert(1)"), "{name}");
    }
}

#[test]
fn a_report_that_is_not_wanted_is_not_written_and_a_language_that_is_none_is_refused() {
    let room = Room::new();
    assert_eq!(room.run(&["run", "--out", "out", "--quiet", "--report", "none", "--hourly", "none"]).code, 0);
    assert!(!room.path.join("out/report.html").exists());
    study_of(&room, "\"House\"", "[report]\nlanguage = \"xx\"\n");
    let said = room.run(&["run", "house/bungalow.toml", "--out", "other"]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("`report.language`"), "{}", said.err);
}

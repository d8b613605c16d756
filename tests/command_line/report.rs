//! `dewledger run`: the report. Every number on the page is looked up in the result files beside it.

use reporting::Language;

use super::origins::Files;
use super::pages::pieces;
use super::room::Room;

fn study_of(room: &Room, title: &str, more: &str) {
    assert_eq!(room.run(&["new", "house"]).code, 0);
    let study = room.read("house/bungalow.toml");
    let study = study.replacen("title = \"Bungalow at Frosthollow\"", &format!("title = {title}"), 1);
    room.write("house/bungalow.toml", format!("{study}\n{more}"));
}

#[test]
fn every_figure_of_the_demonstrations_report_is_in_its_files_and_nothing_lacks_words() {
    let room = Room::new();
    assert_eq!(room.run(&["run", "--out", "out", "--quiet", "--report", "all"]).code, 0);
    assert_eq!(room.run(&["new", "house"]).code, 0);
    let files = Files::of(&room, &room.read("house/bungalow.toml"), false);
    for name in ["report.html", "report-one-page.html"] {
        let html = room.read(&format!("out/{name}"));
        assert!(!html.contains('⟦'), "{name}: a word is missing");
        assert!(files.hold(&pieces(&html), Language::English) > 5, "{name}");
    }
    let html = room.read("out/report.html");
    the_hours_are_those_of_the_hourly_files(&html, &room);
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

/// What the script shows of a day: whole tenths and thousandths of the hourly files' columns.
fn the_hours_are_those_of_the_hourly_files(html: &str, room: &Room) {
    let (_, data) = html.split_once("id=\"hours\">").unwrap();
    let data: serde_json::Value = serde_json::from_str(data.split_once("</script>").unwrap().0).unwrap();
    let table = |unit: &str| super::tables::Table::read(&room.read(&format!("out/hourly/{unit}.csv")));
    let holds = |shown: &serde_json::Value, exact: &[f64], scale: f64| {
        let shown: Vec<f64> = shown.as_array().unwrap().iter().map(|value| value.as_f64().unwrap()).collect();
        assert_eq!(shown.len(), 8760);
        for (shown, exact) in shown.iter().zip(exact) {
            assert!((shown - exact * scale).abs() <= 0.500_001, "{shown}, {exact}");
        }
    };
    let plate = table("plate-a");
    holds(&data["outdoor"], &plate.numbers("outdoor_c"), 10.0);
    for (unit, name) in ["plate-a", "membrane-b", "plate-a-preheated"].into_iter().enumerate() {
        let (shown, table) = (&data["units"][unit], table(name));
        holds(&shown["humidity"], &table.numbers("relative_humidity"), 1000.0);
        holds(&shown["supply"], &table.numbers("supply_c"), 10.0);
        holds(&shown["drain"], &table.numbers("drain_kg"), 1000.0);
        holds(&shown["ice"], &table.numbers("frost_kg"), 1000.0);
    }
}

#[test]
fn the_french_report_has_the_same_figures_with_french_words() {
    let room = Room::new();
    study_of(&room, "\"Maison\"", "[unit.upkeep]\nwash_on = \"06-01\"\n[report]\nlanguage = \"fr\"\n");
    let said = room.run(&["run", "house/bungalow.toml", "--out", "out", "--quiet"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let html = room.read("out/report.html");
    assert!(!html.contains('⟦'));
    assert!(html.contains("<html lang=\"fr\">"));
    for words in ["Quel échangeur ?", "CLIMAT INVENTÉ", "Calendrier", "février"] {
        assert!(html.contains(words), "{words}");
    }
    for chart in ["humidity", "condensate", "energy-months", "frost-hours"] {
        let svg = room.read(&format!("out/charts/{chart}.svg"));
        assert!(svg.contains("mois") && !svg.contains("month") && !svg.contains('⟦'), "{chart}");
    }
}

/// In inch-pound units every quantity is changed by the factors of `origins`.
#[test]
fn every_figure_in_inch_pound_units_is_that_of_the_files() {
    let room = Room::new();
    study_of(&room, "\"House\"", "");
    let study = room.read("house/bungalow.toml").replacen("show_in = \"si\"", "show_in = \"ip\"", 1);
    room.write("house/bungalow.toml", &study);
    room.done(&["run", "house/bungalow.toml", "--out", "out", "--quiet", "--hourly", "none"]);
    let files = Files::of(&room, &study, true);
    let html = room.read("out/report.html");
    assert!(html.contains("cfm") && html.contains("gal") && html.contains("outdoors °F"));
    assert!(files.hold(&pieces(&html), Language::English) > 300);
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

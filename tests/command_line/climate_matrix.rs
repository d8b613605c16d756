//! `dewledger climates STUDY FILE…`: the rows are those of runs, in the files' order, whatever the threads; what is refused.

use std::fs;

use super::room::{Room, changed, published, sample, starter};
use super::tables::Table;

fn path(name: &str) -> String {
    sample(name).display().to_string()
}

/// A room with the starter study and its weather.
fn room() -> Room {
    let room = Room::new();
    room.done(&["new", "."]);
    room
}

fn climates(room: &Room, arguments: &[&str]) -> Table {
    room.done(&[&["climates", "bungalow.toml", "--quiet", "--out", "x", "--force"], arguments].concat());
    Table::read(&room.read("x/climates.csv"))
}

/// Each figure of a row is that of the unit's row in `annual.csv` of a run in that climate, and of the row with its air held.
#[test]
fn every_row_is_that_of_a_run_in_that_climate() {
    let room = room();
    let files = ["frosthollow.csv", "palmreach.csv"];
    let matrix = climates(&room, &[&path(files[0]), &path(files[1])]);
    assert_eq!(matrix.rows.len(), 6);
    for (place, file) in files.into_iter().enumerate() {
        room.write("one.toml", changed(&[("frosthollow.csv", &path(file))]));
        room.done(&["run", "one.toml", "--quiet", "--hourly", "none", "--out", "run", "--force"]);
        let annual = Table::read(&room.read("run/annual.csv"));
        let find = |unit: &str, case: &str| {
            annual
                .rows
                .iter()
                .find(|row| row[annual.place("unit")] == unit && row[annual.place("case")] == case)
        };
        for row in &matrix.rows[3 * place..3 * place + 3] {
            let cell = |column: &str| &row[matrix.place(column)];
            assert_eq!(cell("climate"), file);
            let unit = find(cell("unit"), "unit").unwrap();
            for column in [
                "useful_saving_kwh",
                "rh_winter_mean_pct",
                "rh_summer_mean_pct",
                "rh_below_30_h",
                "rh_above_60_h",
                "condensate_l",
                "peak_condensate_l_per_day",
                "peak_condensate_date",
                "frost_h",
                "blocked_h",
                "missed_air_m3",
            ] {
                assert_eq!(cell(column), &unit[annual.place(column)], "{file}, {}, {column}", cell("unit"));
            }
            let held = find(cell("unit"), "unit-held-air").unwrap_or(unit);
            assert_eq!(cell("useful_saving_held_air_kwh"), &held[annual.place("useful_saving_kwh")]);
            assert_eq!(cell("fan_held_air_kwh"), &held[annual.place("fan_kwh")]);
            let without = find(cell("unit"), "no-recovery").unwrap();
            for (column, of) in [("rh_30_to_60_h", unit), ("rh_30_to_60_no_recovery_h", without)] {
                let hours = |name: &str| of[annual.place(name)].parse::<u32>().unwrap();
                let inside = 8760 - hours("rh_below_30_h") - hours("rh_above_60_h");
                assert_eq!(cell(column), &inside.to_string(), "{file}, {column}");
            }
        }
    }
}

/// The files' order, then the study's, with one thread as with several; nothing on stderr that is written over.
#[test]
fn rows_stand_in_the_order_of_the_files_whatever_the_threads() {
    let room = room();
    let files = [path("saltmere.csv"), path("frosthollow.csv"), path("millbrook.csv")];
    let run = |threads: &str, out: &str| {
        let mut program =
            room.program(&["climates", "bungalow.toml", &files[0], &files[1], &files[2], "--out", out]);
        let output = program.env("RAYON_NUM_THREADS", threads).output().unwrap();
        assert!(output.status.success());
        assert!(!output.stderr.contains(&b'\r'), "progress is for terminals");
        (room.read(&format!("{out}/climates.csv")), room.read(&format!("{out}/climates.svg")))
    };
    let one = run("1", "a");
    assert_eq!(run("3", "b"), one);
    let table = Table::read(&one.0);
    let expected: Vec<&str> = ["saltmere.csv", "frosthollow.csv", "millbrook.csv"].repeat(3);
    let mut sorted = expected.clone();
    sorted.sort_by_key(|name| {
        ["saltmere.csv", "frosthollow.csv", "millbrook.csv"].iter().position(|n| n == name)
    });
    assert_eq!(table.column("climate"), sorted);
    assert_eq!(table.column("unit")[..3], ["Plate A", "Membrane B", "Plate A preheated"]);
}

#[test]
fn the_screen_shows_a_table_of_a_hundred_columns_and_a_sentence_for_each_climate() {
    let room = room();
    let said = room.done(&["climates", "bungalow.toml", &path("saltmere.csv"), &path("palmreach.csv")]);
    assert!(said.out.lines().all(|line| line.chars().count() <= 100), "{}", said.out);
    assert!(said.out.starts_with("\nBungalow at Frosthollow in 2 climates\n"), "{}", said.out);
    assert!(said.out.contains("- palmreach.csv: Membrane B gains here."), "{}", said.out);
    assert!(said.out.contains("- saltmere.csv: "), "{}", said.out);
    assert!(said.out.ends_with("\nResults: dewledger-out/bungalow-climates\n"), "{}", said.out);
    assert!(said.err.contains("palmreach.csv: note: This climate is invented"), "{}", said.err);
    let names: Vec<String> = room.files("dewledger-out/bungalow-climates").into_keys().collect();
    assert_eq!(names, ["climates.csv", "climates.svg", "manifest.json"]);
    let manifest: serde_json::Value =
        serde_json::from_str(&room.read("dewledger-out/bungalow-climates/manifest.json")).unwrap();
    assert_eq!(manifest["inputs"].as_array().unwrap().len(), 3);
    assert_eq!(manifest["files"].as_array().unwrap().len(), 3);
}

/// In the hot climate a plate saves less than its fans take, as `annual.csv` of a run there says; with it alone none gains.
#[test]
fn none_may_gain() {
    let room = room();
    let study = starter();
    let second = study.match_indices("[[unit]]").nth(1).unwrap().0;
    room.write("one.toml", &study[..second]);
    let said = room.done(&["climates", "one.toml", &path("palmreach.csv"), "--out", "x"]);
    assert!(said.out.contains("- palmreach.csv: none gains here."), "{}", said.out);
    assert!(
        said.out.replace("\n  ", " ").contains("of these units one gains in 0 of 1 climates."),
        "{}",
        said.out
    );
    let table = Table::read(&room.read("x/climates.csv"));
    assert!(table.numbers("useful_saving_held_air_kwh")[0] < table.numbers("fan_held_air_kwh")[0]);
    assert_eq!([table.column("saves_more_than_fans")[0], table.column("gains")[0]], ["no", "no"]);
}

#[test]
fn json_has_the_rows_of_the_file() {
    let room = room();
    let said =
        room.done(&["climates", "bungalow.toml", &path("saltmere.csv"), "--out", "x", "--json", "--quiet"]);
    assert_eq!(said.err, "");
    let rows: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let table = Table::read(&room.read("x/climates.csv"));
    assert_eq!(rows.as_array().unwrap().len(), table.rows.len());
    for (row, cells) in rows.as_array().unwrap().iter().zip(&table.rows) {
        for (name, cell) in table.header.iter().zip(cells) {
            match cell.parse::<f64>() {
                Ok(number) => assert_eq!(row[name].as_f64(), Some(number), "{name}"),
                Err(_) if cell.is_empty() => assert!(row[name].is_null(), "{name}"),
                Err(_) => assert_eq!(row[name].as_str(), Some(cell.as_str()), "{name}"),
            }
        }
    }
}

/// What the study says of its own weather file counts for that file and for no other: 2 000 m up air is a fifth thinner.
#[test]
fn what_the_study_says_of_its_weather_file_is_for_that_file_alone() {
    let room = room();
    let own = "weather = \"frosthollow.csv\"";
    room.write(
        "high.toml",
        changed(&[(own, &format!("{own}\nelevation = \"2000 m\"\nwind_height = \"5 m\""))]),
    );
    let (frosthollow, saltmere) = ("frosthollow.csv", path("saltmere.csv"));
    let said = room.done(&["climates", "high.toml", frosthollow, &saltmere, "--out", "a"]);
    assert!(
        said.err.contains(
            "`site.elevation`, `site.wind_height` of the study: said of its own weather file frosthollow.csv, so not of the \
             others: each has its own place.\n"
        ),
        "{}",
        said.err
    );
    let high = Table::read(&room.read("a/climates.csv"));
    let plain = climates(&room, &[frosthollow, &saltmere]);
    assert_eq!(high.rows[3..], plain.rows[3..]);
    let saving = |table: &Table| table.numbers("useful_saving_kwh")[0];
    assert!(saving(&high) < 0.95 * saving(&plain), "{} and {}", saving(&high), saving(&plain));
    room.done(&["run", "high.toml", "--quiet", "--hourly", "none", "--out", "run"]);
    let annual = Table::read(&room.read("run/annual.csv"));
    assert_eq!(high.column("useful_saving_kwh")[0], annual.column("useful_saving_kwh")[0]);
}

#[test]
fn a_file_without_a_place_is_told_that_the_studys_is_for_another() {
    let room = room();
    let file = fs::read_to_string(sample("saltmere.csv")).unwrap();
    room.write("nowhere.csv", file.replacen("# latitude_deg: 57.6\n", "", 1));
    room.refuses(
        &["climates", "bungalow.toml", "nowhere.csv"],
        "error: nowhere.csv: the weather file does not say its latitude\n\nhint: `climates` takes each file's own place, and \
         [site] of the study is for its own weather file: mend the file\n",
    );
}

#[test]
fn a_bad_file_among_good_ones_is_named_and_nothing_is_written() {
    let room = room();
    room.write("bad.csv", "");
    room.refuses(
        &["climates", "bungalow.toml", &path("saltmere.csv"), "bad.csv"],
        "error: bad.csv: the weather file is empty\n\nhint: fetch the file again: it holds no hours\n",
    );
    room.refuses(
        &["climates", "bungalow.toml", "gone.csv"],
        "error: gone.csv: cannot be read: there is no such file\n\n\
         hint: check the name; a relative path starts at the current folder\n",
    );
    room.refuses(
        &["climates", "bungalow.toml", "frosthollow.csv", "./frosthollow.csv"],
        "error: ./frosthollow.csv: is given twice\n\nhint: give each climate once\n",
    );
}

/// The study's own weather file need not be there.
#[test]
fn equal_names_in_different_folders_are_told_apart() {
    let room = Room::with_study("not-here.csv");
    for (folder, file) in
        [("old", sample("saltmere.csv")), ("new", published("tmy3_greensboro_nc_723170TYA.csv"))]
    {
        fs::create_dir(room.path.join(folder)).unwrap();
        fs::copy(file, room.path.join(folder).join("home.csv")).unwrap();
    }
    room.done(&["climates", "study.toml", "old/home.csv", "new/home.csv", "--quiet", "--out", "x"]);
    let table = Table::read(&room.read("x/climates.csv"));
    assert_eq!(table.column("climate"), [["old/home.csv"; 3], ["new/home.csv"; 3]].concat());
    assert_eq!(table.column("place")[3], "GREENSBORO PIEDMONT TRIAD INT, NC");
    assert!(room.read("x/climates.svg").contains("\nnew/home.csv\n"));
}

#[test]
fn a_folder_that_exists_is_replaced_only_with_force() {
    let room = room();
    let arguments = ["climates", "bungalow.toml", &path("saltmere.csv"), "--quiet", "--out", "x"];
    room.done(&arguments);
    room.refuses(
        &arguments,
        "error: x: already exists\n\nhint: choose another folder, or add --force to replace earlier results\n",
    );
    room.done(&[&arguments[..], &["--force"]].concat());
}

//! `dewledger weather FILE… --charts DIR`: which files there are, hours that add up, and what is never overwritten.

use std::fs;

use super::room::{Room, published, sample};

const FILES: [&str; 4] = ["climate-bins.svg", "climate-duration.svg", "climate-year.svg", "manifest.json"];

/// The number of hours that stands behind these words, each time that they are met.
fn hours_behind(svg: &str, words: &str) -> Vec<usize> {
    svg.lines().filter_map(|line| line.strip_prefix(words)?.strip_suffix(" h")?.trim().parse().ok()).collect()
}

/// The four invented climates and two published years: every hour is in one class of the core and in one of the house.
#[test]
fn every_hour_of_six_climates_is_in_one_class_of_the_core_and_one_of_the_house() {
    let room = Room::new();
    let mut arguments = vec!["weather".to_owned()];
    for name in ["frosthollow.csv", "saltmere.csv", "millbrook.csv", "palmreach.csv"] {
        arguments.push(sample(name).display().to_string());
    }
    for name in ["tmy2_miami_fl_12839.tm2", "tmy3_greensboro_nc_723170TYA.csv"] {
        arguments.push(published(name).display().to_string());
    }
    let plain: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let without = room.done(&plain);
    let with = room.done(&[&plain[..], &["--charts", "x"]].concat());
    assert_eq!(with.out, format!("{}\nCharts: x\n", without.out));
    assert_eq!(room.files("x").keys().collect::<Vec<_>>(), FILES);
    let svg = room.read("x/climate-year.svg");
    for classes in [["frosts", "drains", "stays dry"], ["dries out", "dampens", "30 to 60 %"]] {
        let [a, b, c] = classes.map(|words| hours_behind(&svg, words));
        assert_eq!(a.len(), 6);
        for ((a, b), c) in a.iter().zip(&b).zip(&c) {
            assert_eq!(a + b + c, 8760, "{classes:?}");
        }
    }
    // Counted by pvlib: 6691 hours of Miami have their dew point above 16 °C, and all of them dampen the house.
    assert!(hours_behind(&svg, "dampens")[4] >= 6691);
    // Nothing freezes in Miami, which never falls below 3.3 °C; Greensboro has 43 hours below −10 °C, and all of them freeze.
    let frosts = hours_behind(&svg, "frosts");
    assert_eq!(frosts[4], 0);
    assert!(frosts[5] >= 43);
}

#[test]
fn a_folder_that_exists_is_replaced_only_with_force() {
    let room = Room::new();
    let file = sample("saltmere.csv").display().to_string();
    let charts = ["weather", &file, "--charts", "x"];
    room.done(&charts);
    room.refuses(
        &charts,
        "error: x: already exists\n\nhint: choose another folder, or add --force to replace earlier results\n",
    );
    room.done(&[&charts[..], &["--force"]].concat());
    fs::write(room.path.join("x/mine.txt"), "mine").unwrap();
    let said = room.run(&[&charts[..], &["--force"]].concat());
    assert_eq!(said.code, 2);
    assert!(said.err.contains("holds `mine.txt`"), "{}", said.err);
}

#[test]
fn json_is_the_same_with_charts() {
    let room = Room::new();
    let file = sample("saltmere.csv").display().to_string();
    let json = room.done(&["weather", &file, "--json"]).out;
    assert_eq!(room.done(&["weather", &file, "--json", "--charts", "x"]).out, json);
    assert_eq!(room.files("x").len(), FILES.len());
}

#[test]
fn equal_names_in_different_folders_are_told_apart() {
    let room = Room::new();
    for (folder, name) in [("old", "saltmere.csv"), ("new", "millbrook.csv")] {
        fs::create_dir(room.path.join(folder)).unwrap();
        fs::copy(sample(name), room.path.join(folder).join("home.csv")).unwrap();
    }
    room.done(&["weather", "old/home.csv", "new/home.csv", "--charts", "x"]);
    let svg = room.read("x/climate-duration.svg");
    for name in ["old/home.csv", "new/home.csv"] {
        assert_eq!(svg.lines().filter(|line| *line == name).count(), 2, "{name}");
    }
}

#[test]
fn a_bad_file_is_named_and_nothing_is_drawn() {
    let room = Room::new();
    room.write("bad.csv", "");
    let good = sample("saltmere.csv").display().to_string();
    room.refuses(
        &["weather", &good, "bad.csv", "--charts", "x"],
        "error: bad.csv: the weather file is empty\n\nhint: fetch the file again: it holds no hours\n",
    );
}

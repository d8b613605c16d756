//! Places, houses and machines at the edge: each runs to sound numbers or is refused with the reason, and nothing is lost.
//!
//! Not here: folders that are taken (`output_folder.rs`), a program that is stopped (`interrupted.rs`), broken weather
//! files (`bad_weather.rs`).

use std::fmt::Write as _;
use std::fs;

use super::room::{Room, changed, workspace};

/// The starter's weather with its head and its hours changed; an hour is its cells.
fn weather(head: (&str, &str), hour: impl Fn(&mut Vec<String>)) -> String {
    let text = fs::read_to_string(workspace().join("weather-samples/frosthollow.csv")).unwrap();
    let mut changed = String::new();
    for line in text.lines() {
        let is_hour = line.starts_with(|c: char| c.is_ascii_digit());
        if is_hour {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            hour(&mut cells);
            writeln!(changed, "{}", cells.join(",")).unwrap();
        } else {
            writeln!(changed, "{}", line.replace(head.0, head.1)).unwrap();
        }
    }
    changed
}

fn room_in(weather: String) -> Room {
    let room = Room::with_study("place.csv");
    room.write("place.csv", weather);
    room
}

/// Runs `study.toml`; no result is without a number, and the books close to the 1e-9 that the design asks.
fn runs_soundly(room: &Room) -> Vec<String> {
    let said = room.done(&["run", "study.toml", "--hourly", "none", "--out", "x"]);
    for (name, bytes) in room.files("x") {
        let text = String::from_utf8(bytes).unwrap();
        let is_table = std::path::Path::new(&name).extension().is_some_and(|end| end == "csv");
        if is_table {
            let odd = text.split([',', '\n']).find(|cell| ["NaN", "inf", "-inf"].contains(cell));
            assert_eq!(odd, None, "{name}");
        }
    }
    let annual = room.read("x/annual.csv");
    let mut rows = annual.lines().map(|line| line.split(',').collect::<Vec<_>>());
    let header = rows.next().unwrap();
    let residuals: Vec<usize> =
        header.iter().enumerate().filter(|(_, name)| name.ends_with("_residual")).map(|(at, _)| at).collect();
    assert_eq!(residuals.len(), 3, "{header:?}");
    for row in rows {
        for cell in residuals.iter().map(|&at| row[at]).filter(|cell| !cell.is_empty()) {
            assert!(cell.parse::<f64>().unwrap().abs() <= 1e-9, "{row:?}");
        }
    }
    said.out.lines().map(str::to_owned).collect()
}

fn solar_of_the_year(room: &Room) -> f64 {
    let ledger = room.read("x/ledger/plate-a.csv");
    let line = ledger.lines().find(|line| line.starts_with("heat,solar_gains")).unwrap();
    line.rsplit(',').next().unwrap().parse().unwrap()
}

#[test]
fn a_leap_year_has_its_29th_of_february() {
    let common = weather(("", ""), |_| ());
    let (mut leap, mut day) = (String::new(), String::new());
    for line in common.lines() {
        if line.starts_with("2,28,") {
            writeln!(day, "{}", line.replacen("2,28,", "2,29,", 1)).unwrap();
        }
        if line.starts_with("3,1,1,") {
            leap += &day;
        }
        writeln!(leap, "{line}").unwrap();
    }
    let room = room_in(leap);
    room.done(&["run", "study.toml", "--quiet", "--out", "x"]);
    let hours = room.read("x/hourly/plate-a.csv");
    assert_eq!(hours.lines().count(), 8_785);
    assert!(hours.contains("\n2,29,24,") && hours.contains("\n12,31,24,"));
}

/// Geography: south of the equator June is winter.
#[test]
fn south_of_the_equator_winter_is_in_june() {
    let room = room_in(weather(("# latitude_deg: 52.4", "# latitude_deg: -52.4"), |_| ()));
    let said = runs_soundly(&room).join(" ");
    assert!(said.contains("winter is Jun, Jul, Aug, summer   is Dec, Jan, Feb"), "{said}");
}

/// No light enters where there is none.
#[test]
fn a_year_without_light_gains_no_sun() {
    let room = room_in(weather(("# latitude_deg: 52.4", "# latitude_deg: 89.9"), |hour| {
        for cell in &mut hour[8..11] {
            "0".clone_into(cell);
        }
    }));
    runs_soundly(&room);
    assert!(solar_of_the_year(&room).abs() < 1e-9);
}

#[test]
fn a_house_at_3000_m_runs() {
    // The standard atmosphere's pressure there, 70 108 Pa.
    let room = room_in(weather(("# elevation_m: 480", "# elevation_m: 3000"), |hour| {
        "70108".clone_into(&mut hour[5]);
    }));
    runs_soundly(&room);
}

#[test]
fn hours_of_60_below_zero_run() {
    let room = room_in(weather(("", ""), |hour| {
        if hour[3].parse::<f64>().unwrap() < -25.0 {
            "-60".clone_into(&mut hour[3]);
            // Less than saturation over ice there, 1.08 Pa, 7.1e-6.
            "0.000006".clone_into(&mut hour[4]);
        }
    }));
    runs_soundly(&room);
}

#[test]
fn an_empty_house_runs() {
    let room = Room::with_study("frosthollow.csv");
    room.done(&["new", "place"]);
    fs::copy(room.path.join("place/frosthollow.csv"), room.path.join("frosthollow.csv")).unwrap();
    room.write("study.toml", changed(&[("count = 4", "count = 0")]));
    runs_soundly(&room);
}

#[test]
fn a_house_without_windows_gains_no_sun() {
    let room = Room::new();
    room.done(&["new", "."]);
    let study = room.read("bungalow.toml");
    let (from, to) = (study.find("[[house.window]]").unwrap(), study.find("[house.heating]").unwrap());
    room.write("study.toml", format!("{}{}", &study[..from], &study[to..]));
    runs_soundly(&room);
    assert!(solar_of_the_year(&room).abs() < 1e-9);
}

#[test]
fn forty_units_are_each_solved() {
    let room = Room::new();
    room.done(&["new", "."]);
    let study = room.read("bungalow.toml");
    let mut many = study[..study.find("[[unit]]").unwrap()].to_owned();
    for number in 0..40 {
        let ua = 100 + number;
        write!(many, "[[unit]]\nname = \"U{number}\"\ncore = \"sensible-plate\"\n[unit.conductance]\n")
            .unwrap();
        write!(many, "ua = \"{ua} W/K\"\nat = \"45 L/s\"\n[unit.fan]\npower = \"54 W\"\n").unwrap();
    }
    room.write("study.toml", many);
    let said = room.done(&["core", "study.toml", "--outdoor", "-10 °C", "--json"]);
    assert_eq!(said.out.matches("\"unit\":").count(), 40);
}

#[test]
fn no_airflow_and_a_title_of_a_book_are_refused_with_the_place() {
    let room = Room::new();
    room.done(&["new", "."]);
    let study = room.read("bungalow.toml");
    let cases = [
        (
            "airflow = \"45 L/s\"",
            "airflow = \"0 L/s\"".to_owned(),
            "error: `ventilation.airflow`: must lie between 2 L/s",
        ),
        (
            "title = \"Bungalow at Frosthollow\"",
            format!("title = \"{}\"", "T".repeat(10_000)),
            "error: `study.title`: must have 200 characters at most\n",
        ),
    ];
    for (from, to, message) in cases {
        assert!(study.contains(from));
        room.write("study.toml", study.replacen(from, &to, 1));
        let said = room.run(&["run", "study.toml", "--out", "x"]);
        assert!(said.err.starts_with(message), "{}", said.err);
        assert!(said.err.len() < 1_000 && !room.path.join("x").exists());
        assert_eq!((said.code, said.out.as_str()), (2, ""));
    }
}

/// A disk that is full after some files: by the limit on a file's size, which the shell passes on.
#[cfg(target_os = "linux")]
#[test]
fn a_disk_that_fills_up_leaves_nothing_behind() {
    let room = Room::new();
    let program = env!("CARGO_BIN_EXE_dewledger");
    let script = format!("trap '' XFSZ; ulimit -f 100; exec '{program}' run --quiet --out x");
    let said =
        std::process::Command::new("bash").args(["-c", &script]).current_dir(&room.path).output().unwrap();
    let words = String::from_utf8(said.stderr).unwrap();
    assert_eq!(said.status.code(), Some(1), "{words}");
    assert!(
        words.starts_with("error: ") && words.ends_with("cannot be written: File too large\n"),
        "{words}"
    );
    assert_eq!(fs::read_dir(&room.path).unwrap().count(), 0);
}

/// `/dev/full` takes nothing.
#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written_is_an_error() {
    let room = Room::new();
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let mut program = room.program(&["columns"]);
    let said = program.stdout(full).output().unwrap();
    let words = String::from_utf8(said.stderr).unwrap();
    assert_eq!(words, "error: stdout: cannot be written: No space left on device\n");
    assert_eq!(said.status.code(), Some(1));
}

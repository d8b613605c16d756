//! `dewledger run` without a study.

use super::room::{Room, Said};
use super::tables::{Table, number};

const FILES: [&str; 38] = [
    "annual.csv",
    "bins.csv",
    "charts/condensate-week.svg",
    "charts/condensate.svg",
    "charts/duration.svg",
    "charts/energy-months.svg",
    "charts/energy.svg",
    "charts/frost-hours.svg",
    "charts/frost-protection.svg",
    "charts/frost.svg",
    "charts/humidity-bands.svg",
    "charts/humidity-year.svg",
    "charts/humidity.svg",
    "charts/mould-index.svg",
    "charts/psychrometric-year.svg",
    "hourly/membrane-b.csv",
    "hourly/membrane-b.no-recovery.csv",
    "hourly/no-ventilation.csv",
    "hourly/plate-a-preheated.csv",
    "hourly/plate-a-preheated.no-recovery.csv",
    "hourly/plate-a.csv",
    "hourly/plate-a.no-recovery.csv",
    "ledger/membrane-b.csv",
    "ledger/membrane-b.extract-only.csv",
    "ledger/membrane-b.held-air.csv",
    "ledger/membrane-b.held-air.no-recovery.csv",
    "ledger/membrane-b.no-recovery.csv",
    "ledger/no-ventilation.csv",
    "ledger/plate-a-preheated.csv",
    "ledger/plate-a-preheated.extract-only.csv",
    "ledger/plate-a-preheated.no-recovery.csv",
    "ledger/plate-a.csv",
    "ledger/plate-a.extract-only.csv",
    "ledger/plate-a.held-air.csv",
    "ledger/plate-a.held-air.no-recovery.csv",
    "ledger/plate-a.no-recovery.csv",
    "manifest.json",
    "monthly.csv",
];

fn manifest(room: &Room, folder: &str) -> serde_json::Value {
    serde_json::from_str(&room.read(&format!("{folder}/manifest.json"))).unwrap()
}

/// The notes that come before the work.
fn notes(defaults: usize) -> String {
    format!(
        "\
frosthollow.csv: note: The file states the humidity ratio itself; no curve was needed.
frosthollow.csv: note: The sun is placed 0.5000 h after each hour begins; beam, diffuse and global agree there to 0.3 W/m² rms.
frosthollow.csv: note: This climate is invented: for tests and examples, not for a design or a claim.
{defaults} values were left to defaults; manifest.json lists them with their reasons.
"
    )
}

#[test]
fn it_prints_a_table_and_notes_and_writes_every_file() {
    let room = Room::new();
    let Said { out, err, .. } = room.done(&["run"]);
    let folder = "dewledger-out/demonstration";
    let manifest = manifest(&room, folder);
    assert_eq!(err, notes(manifest["defaults_used"].as_array().unwrap().len()));
    assert!(out.starts_with("\nBungalow at Frosthollow\n\nthe year "), "{out}");
    assert!(out.ends_with("\n\nResults: dewledger-out/demonstration\n"), "{out}");
    assert!(out.lines().all(|line| line.chars().count() <= 100), "{out}");
    assert_eq!(room.files("").into_keys().collect::<Vec<_>>(), FILES.map(|file| format!("{folder}/{file}")));
    let mut listed: Vec<&str> =
        manifest["files"].as_array().unwrap().iter().map(|file| file.as_str().unwrap()).collect();
    listed.sort_unstable();
    assert_eq!(listed, FILES);
}

/// Each line of the table holds the rounded figures of its row of annual.csv.
#[test]
fn its_table_agrees_with_its_file() {
    let room = Room::new();
    let Said { out, .. } = room.done(&["run"]);
    let annual = Table::read(&room.read("dewledger-out/demonstration/annual.csv"));
    let lines: Vec<Vec<&str>> = out.lines().map(|line| line.split_whitespace().collect()).collect();
    let table: Vec<&Vec<&str>> = lines.iter().skip(6).take_while(|line| !line.is_empty()).collect();
    // What was run again with its outdoor air held is in the files, and in a sentence below the table.
    let rows: Vec<&Vec<String>> = annual.rows.iter().filter(|row| !row[1].ends_with("-held-air")).collect();
    assert_eq!(table.len(), rows.len(), "{out}");
    let columns = [
        "heating_kwh",
        "cooling_kwh",
        "fan_kwh",
        "useful_saving_kwh",
        "rh_winter_mean_pct",
        "rh_summer_mean_pct",
        "rh_below_30_h",
        "rh_above_60_h",
        "window_edge_wet_h",
        "condensate_l",
        "frost_h",
    ];
    for (line, row) in table.iter().zip(rows) {
        let shown = &line[line.len() - columns.len()..];
        for (shown, column) in shown.iter().zip(columns) {
            let cell = &row[annual.place(column)];
            if cell.is_empty() {
                assert_eq!(*shown, "–", "{line:?}, {column}");
            } else {
                assert!((number(shown) - number(cell)).abs() <= 0.5 + 1e-9, "{line:?}, {column}: {cell}");
            }
        }
    }
}

#[test]
fn run_twice_it_gives_the_same_bytes_in_two_folders() {
    let room = Room::new();
    let first = room.done(&["run"]);
    let mut one_thread = room.program(&["run"]);
    let second = one_thread.env("RAYON_NUM_THREADS", "1").env("NO_COLOR", "1").output().unwrap();
    assert!(second.status.success());
    assert_eq!(String::from_utf8(second.stderr).unwrap(), first.err);
    let said = String::from_utf8(second.stdout).unwrap();
    assert_eq!(said, first.out.replace("out/demonstration", "out/demonstration-2"));
    let mut one = room.files("dewledger-out/demonstration");
    let mut two = room.files("dewledger-out/demonstration-2");
    let [one_manifest, two_manifest] = [&mut one, &mut two].map(|files| {
        let text = String::from_utf8(files.remove("manifest.json").unwrap()).unwrap();
        let (created, rest): (Vec<&str>, Vec<&str>) =
            text.lines().partition(|line| line.trim_start().starts_with("\"created\":"));
        assert_eq!(created.len(), 1);
        rest.join("\n")
    });
    assert_eq!(one_manifest, two_manifest);
    assert_eq!(one.keys().collect::<Vec<_>>(), two.keys().collect::<Vec<_>>());
    for (name, bytes) in &one {
        assert!(*bytes == two[name], "{name} differs");
    }
}

#[test]
fn as_json_it_prints_the_rows_of_the_annual_file() {
    let room = Room::new();
    let said = room.done(&["run", "--json", "--hourly", "none"]);
    let rows: Vec<serde_json::Map<String, serde_json::Value>> = serde_json::from_str(&said.out).unwrap();
    let annual = Table::read(&room.read("dewledger-out/demonstration/annual.csv"));
    assert_eq!(rows.len(), annual.rows.len());
    for (object, row) in rows.iter().zip(&annual.rows) {
        assert_eq!(object.keys().collect::<Vec<_>>(), annual.header.iter().collect::<Vec<_>>());
        for (value, cell) in object.values().zip(row) {
            match value {
                serde_json::Value::Null => assert_eq!(cell, ""),
                serde_json::Value::String(text) => assert_eq!(text, cell),
                other => assert!((other.as_f64().unwrap() - number(cell)).abs() < 1e-12, "{other} is {cell}"),
            }
        }
    }
}

#[test]
fn quiet_says_nothing_and_works_all_the_same() {
    let room = Room::new();
    assert_eq!(room.run(&["run", "--quiet"]), Said { code: 0, out: String::new(), err: String::new() });
    assert_eq!(room.files("dewledger-out/demonstration").len(), FILES.len());
}

#[test]
fn quiet_with_json_prints_the_json_alone() {
    let room = Room::new();
    let said = room.done(&["run", "--quiet", "--json", "--hourly", "none"]);
    assert_eq!(said.err, "");
    assert!(serde_json::from_str::<serde_json::Value>(&said.out).unwrap().is_array());
}

#[test]
fn without_hourly_files_everything_else_is_the_same() {
    let room = Room::new();
    room.done(&["run"]);
    room.done(&["run", "--hourly", "none"]);
    let mut whole = room.files("dewledger-out/demonstration");
    let mut spare = room.files("dewledger-out/demonstration-2");
    whole.retain(|name, _| !name.starts_with("hourly/"));
    assert!(whole.remove("manifest.json").is_some() && spare.remove("manifest.json").is_some());
    assert!(whole == spare);
    assert!(!room.path.join("dewledger-out/demonstration-2/hourly").exists());
}

/// A PNG begins with eight fixed bytes and a header, whose width and height are big-endian numbers at bytes 16 and 20 (PNG
/// specification, W3C 2003); eight bits of red, green, blue and alpha.
#[test]
fn with_png_every_chart_has_its_picture_twice_as_large() {
    let room = Room::new();
    room.done(&["run", "--quiet", "--hourly", "none", "--png", "--out", "x"]);
    let files = room.files("x");
    let charts: Vec<&str> =
        files.keys().filter_map(|name| name.strip_prefix("charts/")?.strip_suffix(".svg")).collect();
    assert_eq!(charts.len(), FILES.iter().filter(|file| file.strip_suffix(".svg").is_some()).count());
    let listed = manifest(&room, "x");
    for chart in charts {
        let svg = room.read(&format!("x/charts/{chart}.svg"));
        let of = |name: &str| -> u32 {
            let from = svg.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
            svg[from..].split('"').next().unwrap().parse().unwrap()
        };
        let png = &files[&format!("charts/{chart}.png")];
        assert_eq!(&png[..8], b"\x89PNG\r\n\x1a\n", "{chart}");
        let number = |at: usize| u32::from_be_bytes(png[at..at + 4].try_into().unwrap());
        assert_eq!((number(16), number(20)), (2 * of("width"), 2 * of("height")), "{chart}");
        assert_eq!(png[24..26], [8, 6], "{chart}");
        let name = format!("charts/{chart}.png");
        assert!(listed["files"].as_array().unwrap().iter().any(|file| *file == name), "{name}");
    }
}

#[test]
fn the_manifest_names_the_inputs_by_their_checksum() {
    use sha2::{Digest, Sha256};
    let room = Room::new();
    room.done(&["run", "--hourly", "none", "--quiet"]);
    room.done(&["new", "."]);
    let manifest = manifest(&room, "dewledger-out/demonstration");
    for (input, file) in
        manifest["inputs"].as_array().unwrap().iter().zip(["bungalow.toml", "frosthollow.csv"])
    {
        let digest = Sha256::digest(std::fs::read(room.path.join(file)).unwrap());
        assert_eq!(input["sha256"], format!("{digest:x}"), "{file}");
    }
}

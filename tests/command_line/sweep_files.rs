//! What a sweep leaves behind: figures, money and hours as `run` has them, charts, a guide to every column, a spread for a report.

use std::collections::BTreeMap;
use std::fs::File;

use arrow_array::cast::AsArray;
use arrow_array::types::Float64Type;
use arrow_array::{Array, RecordBatch};
use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;

use super::room::Room;
use super::tables::{Table, number};

/// A room with the starter study, its first unit alone or all of them, with prices.
fn room(units: usize) -> Room {
    let room = Room::new();
    room.done(&["new", "."]);
    let study =
        room.read("bungalow.toml").replace("[study]", "[study]\ntime_step = \"1 h\"\nlead_in = \"1 d\"");
    let study = if units == 1 {
        study.split("# The second passes").next().unwrap().to_owned()
    } else {
        study.replacen("name = \"Membrane B\"", "name = \"Membrane B\"\nprice = \"2500 USD\"", 1)
    };
    let study = study.replacen("name = \"Plate A\"", "name = \"Plate A\"\nprice = \"1800 USD\"", 1);
    let tariff = "\n[tariff]\nelectricity = \"0.14 USD/kWh\"\ngas = \"0.045 USD/kWh\"\n";
    room.write("bungalow.toml", study + tariff);
    room
}

fn part(room: &Room, path: &str) -> RecordBatch {
    let file = File::open(room.path.join(path)).unwrap();
    ParquetRecordBatchReaderBuilder::try_new(file).unwrap().build().unwrap().next().unwrap().unwrap()
}

fn cell(batch: &RecordBatch, column: &str, row: usize) -> Option<f64> {
    let numbers = batch.column_by_name(column).unwrap().as_primitive::<Float64Type>();
    numbers.is_valid(row).then(|| numbers.value(row))
}

/// How far a printed figure may lie from the unrounded one: a year is a sum of twelve printed months of so many digits, a saving
/// the difference of two sums of seven such sums; a mean, a peak and an extreme are rounded once.
fn rounding(column: &str) -> f64 {
    let once = ["_pct", "_per_day", "_c"].iter().any(|end| column.ends_with(end));
    match column {
        _ if column.ends_with("_w") => 0.5,
        "peak_condensate_l_per_day" => 0.0005,
        _ if once => 0.005,
        _ if column.starts_with("useful_saving") => 12.0 * 14.0 * 0.005,
        _ if column.ends_with("_kwh") || column == "defrost_h" || column.starts_with("window") => {
            12.0 * 0.005
        }
        _ if column.ends_with("_l") || column.ends_with("_kg") => 12.0 * 0.0005,
        _ if column.ends_with("_m3") => 12.0 * 0.5,
        _ if column.ends_with("_h") => 0.0,
        other => panic!("{other}: how is it rounded?"),
    }
}

/// A list of prices of one unit: each run is `run` of the study with that price, in every figure, in money and, where asked for, in
/// hours. The plate misses air in defrost, so that its money is that with the air made up.
#[test]
fn each_run_is_what_run_gives() {
    let room = room(2);
    room.write("runs.csv", "unit.Plate A.price\n1800 USD\n2900 USD\n");
    room.write(
        "sweep.toml",
        "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"list\"\nlist = \"runs.csv\"\nkeep = [\"annual\", \"hourly\"]\nhourly_runs = [1]\n",
    );
    room.done(&["sweep", "sweep.toml", "--out", "s", "--quiet"]);
    let batch = part(&room, "s/part-00000.parquet");
    let units = batch.column_by_name("unit").unwrap().as_string::<i32>().clone();
    assert_eq!(batch.num_rows(), 2 * units.len() / 2);
    let per_run = units.len() / 2;
    let header: Vec<String> = batch.schema().fields().iter().map(|field| field.name().clone()).collect();
    for (run, price) in ["1800 USD", "2900 USD"].into_iter().enumerate() {
        let study =
            room.read("bungalow.toml").replacen("price = \"1800 USD\"", &format!("price = \"{price}\""), 1);
        room.write("priced.toml", study);
        let out = format!("r{run}");
        room.done(&[
            "run",
            "priced.toml",
            "--out",
            &out,
            "--quiet",
            "--report",
            "none",
            "--hourly",
            "parquet",
        ]);
        let annual = Table::read(&room.read(&format!("{out}/annual.csv")));
        let money = Table::read(&room.read(&format!("{out}/money.csv")));
        let mut compared = [0, 0];
        for row in run * per_run..(run + 1) * per_run {
            let unit = units.value(row);
            for name in &header {
                let (column, case) = match name.strip_prefix("no_recovery_") {
                    Some(column) => (column, "no-recovery"),
                    None => (name.as_str(), "unit"),
                };
                if !annual.header.iter().any(|known| known == column) || column == "unit" {
                    continue;
                }
                let printed = number(&annual.row(unit, case)[annual.place(column)]);
                let found = cell(&batch, name, row).unwrap();
                assert!(
                    (printed - found).abs() <= rounding(column) + 1e-9,
                    "{unit} {name}: {printed} {found}"
                );
                compared[0] += 1;
            }
            let is_held = money.by_house().contains_key(&(unit.to_owned(), "unit-held-air".to_owned()));
            assert_eq!(is_held, unit != "Plate A preheated", "{unit}");
            let case = if is_held { "unit-held-air" } else { "unit" };
            let held = number(&annual.row(unit, case)[annual.place("useful_saving_kwh")]);
            let found = cell(&batch, "useful_saving_held_air_kwh", row).unwrap();
            assert!((held - found).abs() <= rounding("useful_saving_kwh"), "{unit}: {held} {found}");
            for name in header.iter().filter(|name| name.contains("money") || name.contains("payback")) {
                let printed = &money.row(unit, case)[money.place(name)];
                let found = cell(&batch, name, row);
                // Sums of a few amounts printed to the cent.
                match (printed.as_str(), found) {
                    ("", None) => {}
                    (printed, Some(found)) => {
                        assert!((number(printed) - found).abs() < 0.05, "{unit} {name}: {printed} {found}");
                    }
                    other => panic!("{unit} {name}: {other:?}"),
                }
                compared[1] += 1;
            }
        }
        assert!(compared[0] >= 45 * per_run && compared[1] == 6 * per_run, "{compared:?}");
    }
    let hours = room.files("s/hourly");
    assert_eq!(hours.len(), 2 * per_run);
    for (name, bytes) in hours {
        let of_run = name.strip_prefix("run-00001.").unwrap();
        assert!(room.files("r1/hourly")[of_run] == bytes, "{name}");
    }
}

/// Every column of every file of a sweep, whatever its plan, stands in the guide under that file, in its order.
#[test]
fn the_guide_explains_every_column_of_a_sweep() {
    let room = room(1);
    let guide: Vec<BTreeMap<String, String>> =
        serde_json::from_str(&room.done(&["columns", "--json"]).out).unwrap();
    let explained = |file: &str| -> Vec<String> {
        guide.iter().filter(|doc| doc["file"] == file).map(|doc| doc["name"].clone()).collect()
    };
    let plans = [
        ("indices", "base_rows = 8", vec!["indices.csv", "spread.csv"]),
        ("screening", "trajectories = 2", vec!["screening.csv", "spread.csv"]),
        ("one-at-a-time", "", vec!["one-at-a-time.csv", "spread.csv"]),
    ];
    for (plan, more, tables) in plans {
        room.write(
            "sweep.toml",
            format!(
                "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"{plan}\"\n{more}\n[vary.\"house.air_leakage\"]\n\
                 uniform = [\"4 L/s\", \"40 L/s\"]\n"
            ),
        );
        let said = room.done(&["sweep", "sweep.toml", "--out", plan, "--quiet", "--json", "--png"]);
        let told: serde_json::Value = serde_json::from_str(&said.out).unwrap();
        let files = room.files(plan);
        for name in told["files"].as_array().unwrap() {
            assert!(files.contains_key(name.as_str().unwrap()), "{name} is not there");
        }
        let mut written: Vec<&str> =
            files.keys().map(String::as_str).filter(|name| name.strip_suffix(".csv").is_some()).collect();
        written.sort_unstable();
        assert_eq!(written, tables);
        for table in tables {
            let header = Table::read(&room.read(&format!("{plan}/{table}"))).header;
            assert_eq!(header, explained(table), "{table}");
        }
        let batch = part(&room, &format!("{plan}/part-00000.parquet"));
        let header: Vec<String> = batch.schema().fields().iter().map(|field| field.name().clone()).collect();
        let wanted = explained("part-*.parquet").into_iter();
        let wanted: Vec<String> = wanted
            .map(|name| if name.starts_with('<') { "house.air_leakage [L/s]".to_owned() } else { name })
            .collect();
        assert_eq!(header, wanted);
        for column in ["useful_saving_held_air_kwh", "life_cycle_money"] {
            let name = format!("charts/{plan}.{column}.svg");
            let picture = String::from_utf8(files[&name].clone()).unwrap();
            for words in ["house.air_leakage [L/s]", "Plate A", "(invented climate)"] {
                assert!(picture.contains(words), "{words} is not in {name}");
            }
            assert!(files.contains_key(&name.replace(".svg", ".png")));
        }
        assert_eq!(files.contains_key("charts/spread.svg"), plan == "indices");
    }
}

/// P10, P50 and P90 in the report are those of the sweep's table, to the digits shown.
#[test]
fn a_report_says_the_spread_of_a_finished_sweep() {
    let room = room(1);
    let sweep = "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"sobol\"\nruns = 8\npart = 4\n[vary.\"house.air_leakage\"]\n\
                 uniform = [\"4 L/s\", \"40 L/s\"]\n";
    room.write("sweep.toml", sweep);
    room.done(&["sweep", "sweep.toml", "--out", "s", "--quiet", "--share", "1/2"]);
    let run = |folder| {
        room.run(&["run", "bungalow.toml", "--spread", folder, "--out", "r", "--quiet", "--hourly", "none"])
    };
    let unfinished = run("s");
    assert_eq!(unfinished.code, 2);
    assert!(
        unfinished.err.contains("s: the sweep is not finished: 1 of its 2 parts are missing"),
        "{}",
        unfinished.err
    );

    room.done(&["sweep", "sweep.toml", "--out", "s", "--quiet"]);
    assert_eq!(run("s").code, 0);
    let spread = Table::read(&room.read("s/spread.csv"));
    let page = room.read("r/report.html");
    let plain = |text: &str| text.replace(['\u{a0}', '\u{202f}'], "").replace('\u{2212}', "-");
    // Marks of where figures are from stand between words and numbers.
    let mut words = String::new();
    let mut inside = false;
    for letter in page.chars() {
        match letter {
            '<' => inside = true,
            '>' => inside = false,
            _ if !inside => words.push(letter),
            _ => {}
        }
    }
    let words = plain(&words);
    for (column, name, unit) in [
        ("useful_saving_held_air_kwh", "Plate A, useful saving at equal air", "kWh"),
        ("net_present_value_money", "Plate A, net present value", "USD"),
    ] {
        let row = spread.rows.iter().find(|row| row[spread.place("column")] == column).unwrap();
        let [low, middle, high] =
            ["p10", "p50", "p90"].map(|name| format!("{:.0}", number(&row[spread.place(name)])));
        let line = format!(
            "{name}: {low} to {high} {unit} in eight of ten cases (P10 to P90), {middle} in the middle."
        );
        assert!(words.replace(' ', "").contains(&line.replace(' ', "")), "{line}");
    }
    let manifest: serde_json::Value = serde_json::from_str(&room.read("r/manifest.json")).unwrap();
    let roles: Vec<&str> =
        manifest["inputs"].as_array().unwrap().iter().map(|input| input["role"].as_str().unwrap()).collect();
    assert_eq!(roles, ["study", "weather", "spread"]);

    room.write("bungalow.toml", room.read("bungalow.toml") + "\n# changed\n");
    let other = run("s");
    assert_eq!(other.code, 2);
    assert!(other.err.contains("s: is a sweep of another study"), "{}", other.err);
    let none = run(".");
    assert!(none.err.contains("holds no sweep") && none.code == 2, "{}", none.err);
    room.write("sweep.toml", sweep.replace("\"sobol\"\nruns = 8", "\"one-at-a-time\""));
    room.done(&["sweep", "sweep.toml", "--out", "t", "--quiet"]);
    let tornado = run("t");
    assert!(tornado.err.contains("the runs of the plan \"one-at-a-time\" tell no spread"), "{}", tornado.err);
    let silent = room.run(&["run", "bungalow.toml", "--spread", "s", "--report", "none"]);
    assert!(silent.err.contains("--spread fills the report") && silent.code == 2, "{}", silent.err);
}

/// Beginning again takes away what the earlier sweep wrote, pictures and hours too, and nothing that somebody else put there.
#[test]
fn beginning_again_leaves_what_is_not_the_sweeps() {
    let room = room(1);
    let sweep = "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"one-at-a-time\"\nkeep = [\"annual\", \"hourly\"]\nhourly_runs = [2]\n\
                 [vary.\"house.air_leakage\"]\nuniform = [\"4 L/s\", \"40 L/s\"]\n";
    room.write("sweep.toml", sweep);
    room.done(&["sweep", "sweep.toml", "--out", "s", "--quiet"]);
    room.write("s/charts/mine.svg", "mine");
    room.write("sweep.toml", sweep.replace("\"one-at-a-time\"", "\"sobol\"\nruns = 4"));
    room.done(&["sweep", "sweep.toml", "--out", "s", "--quiet", "--force"]);
    let names: Vec<String> = room.files("s").into_keys().collect();
    assert_eq!(
        names,
        [
            "charts/mine.svg",
            "charts/scatter.life_cycle_money.svg",
            "charts/scatter.useful_saving_held_air_kwh.svg",
            "charts/spread.svg",
            "hourly/run-00002.plate-a.no-recovery.parquet",
            "hourly/run-00002.plate-a.parquet",
            "part-00000.parquet",
            "spread.csv",
            "sweep.json",
        ]
    );
}

/// Without the second run at equal air there is no saving at equal air and no money for runs that missed some.
#[test]
fn without_equal_air_what_needs_it_is_empty() {
    let room = room(1);
    room.write(
        "sweep.toml",
        "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"sobol\"\nruns = 2\nequal_air = false\n[vary.\"house.air_leakage\"]\n\
         uniform = [\"4 L/s\", \"40 L/s\"]\n",
    );
    room.done(&["sweep", "sweep.toml", "--out", "s", "--quiet"]);
    let batch = part(&room, "s/part-00000.parquet");
    for row in 0..2 {
        assert!(cell(&batch, "missed_air_h", row).unwrap() > 0.0);
        assert!(cell(&batch, "useful_saving_kwh", row).is_some());
        for column in ["useful_saving_held_air_kwh", "running_money", "life_cycle_money"] {
            assert_eq!(cell(&batch, column, row), None, "{column}");
        }
    }
}

#[test]
fn hours_and_columns_that_cannot_be_are_told() {
    let room = room(1);
    let sweep = |more: &str| {
        format!(
            "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"sobol\"\nruns = 4\n{more}\n[vary.\"house.air_leakage\"]\n\
             uniform = [\"4 L/s\", \"40 L/s\"]\n"
        )
    };
    for (more, told) in [
        ("keep = [\"hourly\"]", "`keep` names what is kept"),
        ("keep = [\"annual\", \"hourly\"]", "`hourly` is kept of no run"),
        ("hourly_runs = [1]", "`hourly_runs` without `hourly` in `keep`"),
        (
            "keep = [\"annual\", \"hourly\"]\nhourly_runs = [4]",
            "there is no run 4 whose hours could be kept; the last is 3",
        ),
        (
            "keep = [\"annual\", \"hourly\"]\nhourly_runs = \"1\"",
            "`hourly_runs` must be a list of numbers of runs",
        ),
        ("equal_air = 1", "`equal_air` must be true or false"),
    ] {
        room.write("sweep.toml", sweep(more));
        let said = room.run(&["sweep", "sweep.toml"]);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{more}");
        assert!(said.err.contains(told), "{told} is not in:\n{}", said.err);
    }
    room.write("sweep.toml", sweep(""));
    room.refuses(
        &["sweep", "sweep.toml", "--chart-of", "condensat_l"],
        "error: a sweep has no column `condensat_l`\n\nhint: did you mean `condensate_l`?\n",
    );
}

//! `dewledger bins STUDY`: the bin method beside the hourly run, its file, and what it refuses.

use super::room::{Room, sample, starter, study_on};
use super::tables::{Table, number, sum};

/// The study beside its weather, as `study.toml`.
fn with_weather(name: &str) -> Room {
    let room = Room::with_study(name);
    std::fs::copy(sample(name), room.path.join(name)).unwrap();
    room
}

fn hundredths(value: &serde_json::Value) -> i64 {
    #[allow(clippy::cast_possible_truncation, reason = "a figure of two decimals")]
    let whole = (value.as_f64().unwrap() * 100.0).round() as i64;
    whole
}

/// The bins of a frosty year: what is folded is what the run itself reports, parts add up, totals are those of the file.
#[test]
fn a_study_has_its_bins_beside_its_run() {
    let room = with_weather("frosthollow.csv");
    let said = room.done(&["bins", "study.toml", "--json", "--out", "bins"]);
    let table = Table::read(&room.read("bins/bins.csv"));
    let units: Vec<serde_json::Value> = serde_json::from_str(&said.out).unwrap();
    room.done(&["run", "study.toml", "--out", "run", "--hourly", "none", "--quiet"]);
    assert_eq!(room.read("run/bins.csv"), room.read("bins/bins.csv"));
    let annual = Table::read(&room.read("run/annual.csv"));
    let column = |unit: &str, name: &str| -> Vec<&str> {
        let (key, place) = (table.place("unit"), table.place(name));
        table.rows.iter().filter(|row| row[key] == unit).map(|row| row[place].as_str()).collect()
    };
    assert_eq!(units.len(), 3);
    for unit in &units {
        let name = unit["unit"].as_str().unwrap();
        assert_eq!(sum(&column(name, "time_h")), "8760");
        let year = annual.row(name, "unit");
        let of_year = |column: &str| number(&year[annual.place(column)]);
        let folded = |counted: &str| number(&sum(&column(name, &format!("hourly_{counted}"))));
        assert_eq!(sum(&column(name, "hourly_frost_h")), year[annual.place("frost_h")], "{name}");
        let bins = column(name, "time_h").len() as f64;
        // Both are rounded: the year by month and by sign, the bins by bin.
        for (counted, digit) in [
            ("recovered_sensible_kwh", 0.01),
            ("recovered_latent_kwh", 0.01),
            ("condensate_l", 0.01),
            ("ice_formed_kg", 0.001),
        ] {
            let most = 0.5 * digit * (bins + 24.0);
            assert!((folded(counted) - of_year(counted)).abs() <= most, "{name} {counted}");
        }
        for method in ["hourly", "no_history", "told", "blind"] {
            for counted in ["recovered_sensible_kwh", "condensate_l", "ice_formed_kg", "frost_h"] {
                let printed = sum(&column(name, &format!("{method}_{counted}")));
                assert_eq!(unit["totals"][method][counted], serde_json::json!(number(&printed)), "{name}");
            }
        }
        for counted in ["recovered_sensible_kwh", "recovered_latent_kwh", "condensate_l", "frost_h"] {
            let parts: i64 =
                unit["parts"].as_object().unwrap().values().map(|part| hundredths(&part[counted])).sum();
            let totals = &unit["totals"];
            assert_eq!(parts, hundredths(&unit["hourly_less_blind"][counted]), "{name} {counted}");
            assert_eq!(
                parts,
                hundredths(&totals["hourly"][counted]) - hundredths(&totals["blind"][counted]),
                "{name} {counted}"
            );
        }
    }
    // Folders of results are replaced only when asked for.
    room.refuses(
        &["bins", "study.toml", "--out", "bins"],
        "error: bins: already exists\n\nhint: choose another folder, or add --force to replace earlier results\n",
    );
    room.done(&["bins", "study.toml", "--json", "--out", "bins", "--force", "--width", "5 K"]);
    assert!(Table::read(&room.read("bins/bins.csv")).rows.len() < table.rows.len());
}

/// By its name or by what is in it; the table fits a terminal of a hundred columns.
#[test]
fn a_study_is_told_from_weather_and_its_table_is_readable() {
    let room = Room::new();
    room.write("house.txt", study_on("millbrook.csv"));
    std::fs::copy(sample("millbrook.csv"), room.path.join("millbrook.csv")).unwrap();
    let said = room.done(&["bins", "house.txt", "--width", "4 K", "--edge", "1 °C"]);
    assert!(said.out.lines().all(|line| line.chars().count() <= 100), "{}", said.out);
    for words in ["blind bins", "all hours", "1.0 … 5.0", "Plate A", "Storage and time of day", "no preheat"]
    {
        assert!(said.out.contains(words), "{words} is missing in\n{}", said.out);
    }
    let shown = room.done(&["bins", "house.txt", "--show-in", "ip"]).out;
    assert!(
        shown.contains("50.0 … 55.0") && shown.contains("gr/lb") && shown.contains("drain, gal"),
        "{shown}"
    );
    assert!(shown.lines().all(|line| line.chars().count() <= 100), "{shown}");
    // Without --out nothing is written.
    let names: Vec<String> = room.files("").into_keys().collect();
    assert_eq!(names, ["house.txt", "millbrook.csv"]);
}

#[test]
fn what_belongs_to_the_other_kind_of_file_is_refused() {
    let room = Room::new();
    room.write("study.toml", starter());
    let file = sample("millbrook.csv");
    let file = file.to_str().unwrap();
    room.refuses(
        &["bins", file, "--out", "x"],
        &format!(
            "error: --out is for a study; {file} is not one\n\nhint: the bins of a weather file are printed; --json \
             prints them for other programs\n"
        ),
    );
    room.refuses(
        &["bins", "study.toml", "--elevation", "100 m"],
        "error: --elevation is for a weather file; study.toml is a study\n\nhint: a study says where its site is under \
         [site]\n",
    );
    room.refuses(
        &["bins", "nothing.csv"],
        "error: nothing.csv: cannot be read: there is no such file\n\nhint: check the name; a relative path starts at the \
         current folder\n",
    );
    // Read as a study, since it is called one.
    room.refuses(
        &["bins", "study.toml"],
        "error: frosthollow.csv: cannot be read: there is no such file\n\nhint: `site.weather` names a file beside the \
         study file, unless it is an absolute path\n",
    );
    room.write("bad.toml", "[study]\ntitel = \"x\"\n");
    let said = room.run(&["bins", "bad.toml"]);
    assert!(said.code == 2 && said.err.contains("titel") && said.err.contains("bad.toml:2"), "{}", said.err);
    room.write("frosthollow.csv", std::fs::read(sample("frosthollow.csv")).unwrap());
    room.refuses(
        &["bins", "study.toml", "--width", "60 K"],
        "error: --width: a bin of 60 K is outside 0.1 to 50 K\n",
    );
    room.refuses(
        &["bins", "study.toml", "--edge", "3 kg"],
        "error: --edge \"3 kg\": a temperature is needed, but `kg` measures a mass\n\nhint: units that fit: °C, K, °F\n",
    );
}

//! `dewledger weather make`, `shift` and `convert`: files that are written, their marks, and what is refused.

use std::fs;

use super::room::{Room, published, sample, study_on};

const KEYS: &str = "`name`, `latitude`, `longitude`, `elevation`, `time_zone`, `prevailing_wind`, `dry_bulb`, \
    `daily_range`, `irradiation`, `clearness`, `relative_humidity`, `dew_point`, `wind`";

/// Normals of a cold place, an American one: what can be is in inch-pound units.
const NORMALS: &str = r#"name = "Riverbend"
latitude = "46.8 deg"
longitude = "-71.4 deg"
elevation = "243 ft"
time_zone = "-5 h"
prevailing_wind = "240 deg"
dry_bulb = ["9 °F", "12 °F", "-4.6 °C", "3.3 °C", "11.2 °C", "16.5 °C", "19.2 °C", "17.9 °C", "12.5 °C", "6.2 °C", "-0.7 °C", "-9.1 °C"]
daily_range = ["9.9 K", "18 °F", "9.6 K", "9.5 K", "11.5 K", "11.3 K", "10.9 K", "10.7 K", "10.3 K", "8.2 K", "6.9 K", "8.5 K"]
irradiation = ["1.7 kWh/m2 day", "2.7 kWh/m² day", "4 kWh/m2/day", "4.6 kWh/m2 day", "19.1 MJ/m2 day", "5.8 kWh/m2 day", "5.7 kWh/m2 day", "4.9 kWh/m2 day", "3.6 kWh/m2 day", "2.2 kWh/m2 day", "1.4 kWh/m2 day", "40 kWh/m2 month"]
relative_humidity = ["71 %", "68 %", "67 %", "63 %", "61 %", "67 %", "72 %", "74 %", "76 %", "75 %", "78 %", "76 %"]
wind = ["4.4 m/s", "4.4 m/s", "4.5 m/s", "4.3 m/s", "15.1 km/h", "8.5 mph", "6.6 kn", "3.2 m/s", "3.6 m/s", "3.9 m/s", "4.1 m/s", "4.2 m/s"]
"#;

const INVENTED: &str = "This climate is invented: for tests and examples, not for a design or a claim.";

/// A room with these normals.
fn with_normals(normals: &str) -> Room {
    let room = Room::new();
    room.write("town.toml", normals);
    room
}

fn made() -> Room {
    let room = with_normals(NORMALS);
    room.done(&["weather", "make", "town.toml", "--out", "town.csv"]);
    room
}

/// Monthly means as `weather --json` finds them in the file; worked by hand from the units: 9 °F is −12.78 °C, 12 °F −11.11 °C,
/// 19.1 MJ/m² a day in May 164.5 kWh/m², 15.1 km/h 4.19 m/s, 8.5 mph 3.80 m/s, 6.6 kn 3.40 m/s.
#[test]
fn normals_come_back_from_the_file() {
    let room = with_normals(NORMALS);
    let said = room.done(&["weather", "make", "town.toml", "--out", "town.csv", "--seed", "5"]);
    assert!(said.out.starts_with(
        "Wrote town.csv\n  Riverbend · 46.800° north, 71.400° west · 74 m · UTC-5 h · 8760 hours\n"
    ));
    assert!(
        said.out.contains("with seed 5") && said.out.ends_with(&format!("\n  {INVENTED}\n")),
        "{}",
        said.out
    );
    assert!(said.out.lines().all(|line| line.chars().count() <= 100));
    assert_eq!(said.err, "");
    let json = room.done(&["weather", "--json", "town.csv"]).out;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!((&json[0]["synthetic"], &json[0]["shifted"]), (&true.into(), &serde_json::Value::Null));
    let month = |m: usize, name: &str| json[0]["months"][m][name].as_f64().unwrap();
    for (m, dry_bulb_c, kwh, wind) in [
        (0, -12.78, 52.7, 4.4),
        (1, -11.11, 75.6, 4.4),
        (4, 11.2, 164.47, 4.19),
        (5, 16.5, 174.0, 3.8),
        (6, 19.2, 176.7, 3.395),
        (11, -9.1, 40.0, 4.2),
    ] {
        assert!((month(m, "mean_dry_bulb_c") - dry_bulb_c).abs() < 0.05, "{m}");
        assert!((month(m, "global_kwh_per_m2") / kwh - 1.0).abs() < 0.005, "{m}");
        assert!((month(m, "mean_wind_speed_m_per_s") - wind).abs() < 0.05, "{m}");
    }
    // Near enough: 71 % over water at −12.8 °C is a dew point of −17 °C (psychrometric tables of weather services).
    assert!((month(0, "mean_dew_point_c") + 17.0).abs() < 0.5);
}

#[test]
fn the_same_seed_writes_the_same_bytes_and_another_does_not() {
    let room = made();
    let make = |out: &str, seed: &str| {
        room.done(&["weather", "make", "town.toml", "--out", out, "--seed", seed]);
        room.read(out)
    };
    let first = make("a.csv", "1");
    // The seed is 1 unless another is given.
    assert!(first == room.read("town.csv"));
    assert!(first != make("b.csv", "2"));
}

/// `run` and its manifest, `weather`, `bins` as a table and as JSON.
#[test]
fn every_command_says_that_a_year_is_invented_or_shifted() {
    let room = made();
    room.write("shift.toml", "label = \"2050, high\"\ndry_bulb_change = \"2.1 K\"\n");
    room.done(&["weather", "shift", "town.csv", "--deltas", "shift.toml", "--out", "warm.csv"]);
    room.write("study.toml", study_on("warm.csv"));
    let shifted = "This climate is shifted (2050, high: in the mean of the months dry bulb +2.10 K, relative humidity kept): a \
                   scenario, not a record.";
    let one_line = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let run = room.done(&["run", "study.toml", "--out", "x", "--hourly", "none"]);
    let manifest = room.read("x/manifest.json");
    let weather = room.done(&["weather", "warm.csv"]);
    let bins = room.done(&["bins", "warm.csv"]);
    let json = room.done(&["bins", "warm.csv", "--json"]);
    for text in [&run.err, &manifest, &weather.out, &bins.out, &json.err] {
        let text = one_line(text);
        assert!(text.contains(INVENTED) && text.contains(shifted), "{text}");
    }
    assert!(serde_json::from_str::<serde_json::Value>(&json.out).unwrap().is_array());
    let told = room.done(&["weather", "--json", "warm.csv"]).out;
    let told: serde_json::Value = serde_json::from_str(&told).unwrap();
    assert!(told[0]["shifted"].as_str().unwrap().starts_with("2050, high: "));
    assert!(
        !room
            .done(&["bins", published("tmy2_miami_fl_12839.tm2").to_str().unwrap()])
            .out
            .contains("climate is")
    );
}

/// Greensboro's July has a mean of 25.4 °C and 188.6 kWh/m² (own script): two kelvin and two per cent more.
#[test]
fn a_published_year_is_shifted() {
    let room = Room::new();
    let path = published("tmy3_greensboro_nc_723170TYA.csv");
    room.write(
        "shift.toml",
        "dry_bulb_change = \"2 K\"\ndaily_range_change = \"1 °F\"\nirradiation_factor = 1.02\nwind_factor = 0.5\n",
    );
    let said =
        room.done(&["weather", "shift", path.to_str().unwrap(), "--deltas", "shift.toml", "--out", "w.csv"]);
    let july = said.out.lines().find(|line| line.starts_with("  Jul ")).unwrap();
    let july: Vec<&str> = july.split_whitespace().collect();
    assert_eq!(&july[..3], ["Jul", "27.4", "+2.0"]);
    assert_eq!((july[4], july[6]), ("+0.6", "+0.0"));
    assert_eq!((july[9], july[10], july[12]), ("192.4", "×1.02", "×0.50"));
    let path = format!("  Shifted from {}", path.display());
    let wide = said.out.lines().find(|line| line.chars().count() > 100 && *line != path);
    assert_eq!(wide, None);
    assert!(said.out.contains("This climate is shifted") && !said.out.contains("invented"));
    assert!(said.err.contains("Above saturation over ice in 35 hours"), "{}", said.err);
}

#[test]
fn what_a_shift_could_not_reach_is_told() {
    let room = Room::new();
    room.write("shift.toml", "dry_bulb_change = \"-1 K\"\ndew_point_change = \"3 K\"\n");
    let file = sample("saltmere.csv");
    let said =
        room.done(&["weather", "shift", file.to_str().unwrap(), "--deltas", "shift.toml", "--out", "w.csv"]);
    let told: Vec<&str> = said.err.lines().filter(|line| line.starts_with("w.csv: ")).collect();
    assert!(
        told[0].starts_with("w.csv: warning: In ")
            && told[0].ends_with(" hours humidity was limited to saturation, or to none.")
    );
    assert!(
        told[1].starts_with("w.csv: warning: January: the mean dew point changes by ")
            && told[1].ends_with(" K instead of +3.00 K.")
    );
}

/// Every column of a fixed-width file comes back as `weather` read it before, a leap year and a file without place too.
#[test]
fn convert_keeps_what_was_read() {
    let room = Room::new();
    let miami = published("tmy2_miami_fl_12839.tm2");
    let said = room.done(&["weather", "convert", miami.to_str().unwrap(), "--out", "m.csv"]);
    assert!(said.out.starts_with("Wrote m.csv\n  MIAMI"), "{}", said.out);
    let of = |file: &str, place: &[&str]| {
        let json = room.done(&[&["weather", "--json", file], place].concat()).out;
        let mut json: serde_json::Value = serde_json::from_str(&json).unwrap();
        for key in ["file", "format", "findings", "checks"] {
            json[0].as_object_mut().unwrap().remove(key);
        }
        json
    };
    assert_eq!(of("m.csv", &[]), of(miami.to_str().unwrap(), &[]));
    let place =
        ["--latitude", "40.53", "--longitude", "-108.54", "--elevation", "7113 ft", "--time-zone", "-7"];
    let colorado = published("nsrdb_psm3_tmy2017_colorado.csv");
    let colorado = colorado.to_str().unwrap();
    room.done(&[&["weather", "convert", colorado, "--out", "c.csv"], &place[..]].concat());
    assert_eq!(of("c.csv", &[]), of(colorado, &place));
    assert!(room.read("c.csv").contains("\n# latitude_deg: 40.53\n"));
    assert!(
        !fs::read_dir(&room.path).unwrap().any(|entry| entry
            .unwrap()
            .file_name()
            .to_string_lossy()
            .starts_with('.'))
    );
}

#[test]
fn nothing_is_overwritten_without_force() {
    let room = made();
    room.write("shift.toml", "dry_bulb_change = \"1 K\"\n");
    let taken =
        "error: town.csv: already exists\n\nhint: choose another name, or add --force to replace it\n";
    let file = sample("millbrook.csv");
    let file = file.to_str().unwrap();
    room.refuses(&["weather", "make", "town.toml", "--out", "town.csv"], taken);
    room.refuses(&["weather", "convert", file, "--out", "town.csv"], taken);
    room.refuses(&["weather", "shift", file, "--deltas", "shift.toml", "--out", "town.csv"], taken);
    room.refuses(
        &["weather", "convert", "town.csv", "--out", "./town.csv", "--force"],
        "error: ./town.csv: is the file that is read\n\nhint: choose another name\n",
    );
    room.refuses(
        &["weather", "shift", file, "--deltas", "shift.toml", "--out", "shift.toml", "--force"],
        "error: shift.toml: is the file that is read\n\nhint: choose another name\n",
    );
    room.refuses(
        &["weather", "convert", file, "--out", ".", "--force"],
        "error: .: it is a folder\n\nhint: give a file, such as town.csv\n",
    );
    room.done(&["weather", "convert", file, "--out", "town.csv", "--force"]);
    assert!(room.read("town.csv").starts_with("# name: Millbrook (invented)\n"));
    let said = room.run(&["weather", "convert", file, "--out", "no/such/folder.csv"]);
    assert_eq!((said.code, said.out.as_str()), (1, ""));
    assert_eq!(said.err, "error: no/such/folder.csv: cannot be written: there is no such file or folder\n");
}

/// A file called like a command is reached by its path; after a file, every word is a file.
#[test]
fn a_file_called_like_a_command_is_still_read() {
    let room = Room::new();
    room.write("make", fs::read(sample("millbrook.csv")).unwrap());
    assert!(room.done(&["weather", "./make"]).out.starts_with("./make\n  Millbrook"));
    assert!(room.done(&["weather", "./make", "make"]).out.contains("\n2  make\n"));
    room.refuses(
        &["weather", "convert"],
        "error: the following required arguments were not provided:\n  --out <OUT>\n  <FILE>\n\n\
         Usage: dewledger weather convert --out <OUT> <FILE>\n\nFor more information, try '--help'.\n",
    );
}

/// The normals after one change are refused with this text.
fn refused((from, to): (&str, &str), stderr: &str) {
    assert!(NORMALS.contains(from), "{from}");
    let room = with_normals(&NORMALS.replacen(from, to, 1));
    room.refuses(&["weather", "make", "town.toml", "--out", "town.csv"], stderr);
}

#[test]
fn an_unknown_key_in_the_normals() {
    refused(
        ("prevailing_wind =", "wind_from ="),
        &format!(
            "\
error: there is no key `wind_from`
 --> town.toml:6:1
  |
6 | wind_from = \"240 deg\"
  | ^^^^^^^^^ unknown key

hint: the keys are {KEYS}

1 problem in town.toml
"
        ),
    );
}

#[test]
fn a_missing_month_and_a_missing_key() {
    let short = NORMALS
        .replacen(", \"4.1 m/s\", \"4.2 m/s\"]", "]", 1)
        .replacen("time_zone = \"-5 h\"\n", "", 1)
        .replacen("relative_humidity", "# humidity", 1);
    let room = with_normals(&short);
    let said = room.run(&["weather", "make", "town.toml", "--out", "town.csv"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    for part in [
        "error: `wind`: twelve values are needed, January to December; it has 10\n",
        " November is the first that is missing\n\nhint: write [\"4.4 m/s\", \"4.4 m/s\", …] with twelve values\n",
        "error: the file lacks the key `time_zone`\n",
        "error: the file says nothing of how humid it is\n",
        "hint: give `relative_humidity` or `dew_point`\n",
        "\n3 problems in town.toml\n",
    ] {
        assert!(said.err.contains(part), "{part}\nin\n{}", said.err);
    }
}

#[test]
fn a_wrong_unit_or_a_value_out_of_range_names_the_month() {
    let changed = NORMALS
        .replacen("\"3.3 °C\"", "\"3.3 m\"", 1)
        .replacen("\"8.5 mph\"", "\"25 m/s\"", 1)
        .replacen("\"4 kWh/m2/day\"", "4", 1)
        .replacen("\"61 %\"", "\"61\"", 1);
    let room = with_normals(&changed);
    let said = room.run(&["weather", "make", "town.toml", "--out", "town.csv"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    for part in [
        "error: `dry_bulb`, April: a temperature is needed, but `m` measures a length\n",
        "hint: units that fit: °C, K, °F\n",
        "error: `wind`, June: must lie between 0 m/s and 20 m/s\n",
        "error: `irradiation`, March: a number with its unit, between quotation marks, is needed\n",
        "hint: write \"1.7 kWh/m2 day\"\n",
        "error: `relative_humidity`, May: a relative humidity needs a unit\n",
        "\n4 problems in town.toml\n",
    ] {
        assert!(said.err.contains(part), "{part}\nin\n{}", said.err);
    }
}

#[test]
fn two_keys_that_say_the_same() {
    refused(
        ("wind = [", "clearness = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]\nwind = ["),
        "\
error: `irradiation` and `clearness` both say how much sun there is
  --> town.toml:11:13
   |
11 | clearness = [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5]
   |             ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ the second of them

hint: leave one of them out

1 problem in town.toml
",
    );
}

#[test]
fn normals_that_physics_forbids() {
    refused(
        (
            "relative_humidity = [\"71 %\", \"68 %\", \"67 %\", \"63 %\", \"61 %\", \"67 %\", \"72 %\", \"74 %\", \"76 %\", \"75 %\", \"78 %\", \"76 %\"]",
            "dew_point = [\"-16 °C\", \"-15 °C\", \"-9 °C\", \"-3 °C\", \"4 °C\", \"10 °C\", \"14 °C\", \"18 °C\", \"8 °C\", \"2 °C\", \"-4 °C\", \"-12 °C\"]",
        ),
        "error: town.toml: August: a mean dew point of 18 °C cannot stand above the mean dry bulb of 17.9 °C\n\n\
         hint: check whether the two were exchanged, or their units\n",
    );
    refused(
        ("latitude = \"46.8 deg\"", "latitude = \"78.2 deg\""),
        "error: town.toml: January: an irradiation of 52.7 kWh/m² cannot be: the sun stays below the horizon at the middle of \
         every hour of the month\n\nhint: give 0 for this month, or check the latitude\n",
    );
}

/// What arrives outside the atmosphere in December at 46.8° north, by hand: declination −23.0°, half a day of 1.1018 rad,
/// 24/π · 1.3661 · 1.0324 kW/m² · (−0.2848 · 1.1018 + 0.5621) = 2.675 kWh/m² a day, 82.9 a month.
#[test]
fn more_sun_than_a_clear_sky_lets_through() {
    let room = with_normals(&NORMALS.replacen("40 kWh/m2 month", "80 kWh/m2 month", 1));
    let said = room.run(&["weather", "make", "town.toml", "--out", "town.csv"]);
    assert_eq!(said.code, 2);
    let start = "error: town.toml: December: an irradiation of 80.0 kWh/m² is 0.96";
    assert!(said.err.starts_with(start), "{}", said.err);
    assert!(
        said.err.contains("; the clearest sky at this elevation lets through 0.789 of it ("),
        "{}",
        said.err
    );
    let outside = said.err.split(" of the ").nth(1).unwrap().split(' ').next().unwrap();
    assert!((outside.parse::<f64>().unwrap() - 82.9).abs() < 0.5, "{outside}");
}

/// Millbrook's January has a mean daily range of 8.4 K (counted from the file by an own script).
#[test]
fn shifts_that_are_refused() {
    let room = Room::new();
    let file = sample("millbrook.csv");
    let file = file.to_str().unwrap();
    let arguments = ["weather", "shift", file, "--deltas", "shift.toml", "--out", "w.csv"];
    room.write("shift.toml", "dry_bulb_change = \"2 m\"\n");
    room.refuses(
        &arguments,
        "\
error: `dry_bulb_change`: a temperature difference is needed, but `m` measures a length
 --> shift.toml:1:19
  |
1 | dry_bulb_change = \"2 m\"
  |                   ^^^^^ not a quantity that fits

hint: units that fit: K, °F

1 problem in shift.toml
",
    );
    room.write("shift.toml", "wind_factor = \"2 %\"\n");
    room.refuses(
        &arguments,
        "\
error: `wind_factor`: a plain number is needed
 --> shift.toml:1:15
  |
1 | wind_factor = \"2 %\"
  |               ^^^^^ this is text

hint: write 0.97

error: the file lacks the key `dry_bulb_change`
 --> shift.toml:1:20
  |
1 | wind_factor = \"2 %\"
  |                    ^ missing here

2 problems in shift.toml
",
    );
    room.write("shift.toml", "dry_bulb_change = \"2 K\"\ndaily_range_change = \"-12 K\"\n");
    room.refuses(
        &arguments,
        "error: shift.toml: January: the mean daily range of 8.4 K cannot change by -12 K: there must be one, and a tenth of \
         it must stay\n",
    );
    room.write("shift.toml", "dry_bulb_change = [\n");
    let said = room.run(&arguments);
    assert!(said.err.starts_with("error: this is not TOML: ") && said.code == 2, "{}", said.err);
}

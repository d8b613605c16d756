//! `dewledger weather`: the statistics that others computed from the same files.
//!
//! Source of the expected values: pvlib 0.16.1 and pandas on the unchanged files, to the digits written here; for
//! Piedmont's dew point, the mean and the count of the file's own dew-point column.

use super::room::{Room, published, sample};

/// Mean, lowest and highest dry bulb, mean dew point, mean humidity ratio in g/kg, heating degree-days, irradiation.
type Statistics = [f64; 7];
const DIGITS: [i32; 7] = [2, 2, 2, 2, 3, 1, 1];
const LABELS: [&str; 7] = [
    "Mean dry bulb [°C]",
    "Lowest dry bulb [°C]",
    "Highest dry bulb [°C]",
    "Mean dew point [°C]",
    "Mean humidity ratio [g/kg]",
    "Heating degree-days, base 18 °C, hourly [K·d]",
    "Global irradiation, horizontal [kWh/m²]",
];
const NAMES: [(&str, f64); 7] = [
    ("mean_dry_bulb_c", 1.0),
    ("min_dry_bulb_c", 1.0),
    ("max_dry_bulb_c", 1.0),
    ("mean_dew_point_c", 1.0),
    ("mean_humidity_ratio", 1000.0),
    ("heating_degree_days_18", 1.0),
    ("global_kwh_per_m2", 1.0),
];

fn after<'t>(text: &'t str, label: &str) -> &'t str {
    text.lines()
        .find_map(|line| line.trim_start().strip_prefix(label))
        .unwrap_or_else(|| panic!("no {label}"))
        .trim()
}

fn check(file: &str, place: &str, expected: Statistics, [below_minus_10, dew_point_above_16]: [usize; 2]) {
    let room = Room::new();
    let path = published(file);
    let said = room.done(&["weather", path.to_str().unwrap()]);
    assert_eq!(said.err, "");
    let mut lines = said.out.lines();
    assert_eq!(lines.next(), path.to_str());
    assert_eq!(lines.next().map(str::trim_start), Some(place));
    for ((label, value), digits) in LABELS.iter().zip(expected).zip(DIGITS) {
        let digits = usize::try_from(digits).unwrap();
        assert_eq!(after(&said.out, label), format!("{value:.digits$}"), "{file}, {label}");
    }
    assert_eq!(after(&said.out, "Hours below -10 °C [h]"), below_minus_10.to_string());
    assert_eq!(after(&said.out, "Hours with dew point above 16 °C [h]"), dew_point_above_16.to_string());
    assert!(said.out.lines().any(|line| line.starts_with("  note: Humidity below 0 °C was read over ")));

    let json: serde_json::Value =
        serde_json::from_str(&room.done(&["weather", "--json", path.to_str().unwrap()]).out).unwrap();
    for (((name, factor), value), digits) in NAMES.iter().zip(expected).zip(DIGITS) {
        let found = json[0][name].as_f64().unwrap() * factor;
        assert!(
            (found - value).abs() <= 0.500_001 * 10_f64.powi(-digits),
            "{file}, {name}: {found}, not {value}"
        );
    }
    assert_eq!(json[0]["hours"], 8760);
    assert_eq!(json[0]["hours_below_minus_10_c"], below_minus_10);
    assert_eq!(json[0]["hours_dew_point_above_16_c"], dew_point_above_16);
    let findings = json[0]["findings"].as_array().unwrap();
    let printed =
        said.out.lines().filter(|line| line.starts_with("  note: ") || line.starts_with("  warning: "));
    assert_eq!(findings.len(), printed.count());
}

#[test]
fn greensboro() {
    check(
        "tmy3_greensboro_nc_723170TYA.csv",
        "GREENSBORO PIEDMONT TRIAD INT, NC · 36.100° north, 79.950° west · 273 m · UTC-5 h · 8760 hours · TMY3 csv",
        [14.42, -16.7, 35.6, 8.18, 8.460, 2179.3, 1566.2],
        [43, 2798],
    );
}

#[test]
fn sand_point() {
    check(
        "tmy3_sandpoint_ak_703165TY.csv",
        "SAND POINT, AK · 55.317° north, 160.517° west · 7 m · UTC-9 h · 8760 hours · TMY3 csv",
        [4.42, -10.6, 19.4, 0.13, 4.068, 4956.7, 829.2],
        [2, 0],
    );
}

/// The figures 8.67 °C and 1 391 h that also circulate are the frost point worked from the relative-humidity column.
#[test]
fn piedmont() {
    check(
        "pvgis_tmy_piedmont_it_45N_8E.epw",
        "unnamed place · 45.000° north, 8.000° east · 250 m · UTC+1 h · 8760 hours · .epw",
        [13.56, -2.34, 34.33, 8.63, 7.678, 2184.9, 1435.9],
        [0, 1390],
    );
}

#[test]
fn several_files_are_told_one_after_the_other() {
    let room = Room::new();
    let files = ["frosthollow.csv", "saltmere.csv", "millbrook.csv", "palmreach.csv"].map(sample);
    let files = files.each_ref().map(|path| path.to_str().unwrap());
    let alone = files.map(|file| room.done(&["weather", file]).out);
    let together = room.done(&["weather", files[0], files[1], files[2], files[3]]);
    assert_eq!(together.out, alone.join("\n"));
    let json = room.done(&["weather", "--json", files[0], files[1], files[2], files[3]]);
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    let found: Vec<&str> =
        json.as_array().unwrap().iter().map(|year| year["file"].as_str().unwrap()).collect();
    assert_eq!(found, files);
    assert!(json.as_array().unwrap().iter().all(|year| year["synthetic"] == true));
}

#[test]
fn without_a_file_it_says_what_is_missing() {
    Room::new().refuses(
        &["weather"],
        "error: the following required arguments were not provided:\n  <FILES>...\n\nUsage: dewledger weather <FILES>...\n\n\
         For more information, try '--help'.\n",
    );
}

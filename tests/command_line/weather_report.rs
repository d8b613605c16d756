//! `dewledger weather`: the statistics that others computed from the same files.
//!
//! Source of the expected values: pvlib 0.16.1 and pandas on the unchanged files, to the digits written here; for
//! Piedmont's dew point, the mean and the count of the file's own dew-point column. Design conditions, and what a test
//! calls its own script's: sorted hours and the handbook's equations, worked without this program.

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
    "Heating, base 18 °C, by hours [K·d]",
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

fn check(file: &str, place: &str, expected: Statistics, hours: [usize; 2]) {
    check_given(file, &[], place, expected, hours);
}

fn check_given(
    file: &str,
    options: &[&str],
    place: &str,
    expected: Statistics,
    [below_minus_10, dew_point_above_16]: [usize; 2],
) {
    let room = Room::new();
    let path = published(file);
    let arguments = [&["weather", path.to_str().unwrap()], options].concat();
    let said = room.done(&arguments);
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
        serde_json::from_str(&room.done(&[&arguments[..], &["--json"]].concat()).out).unwrap();
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
fn miami() {
    check(
        "tmy2_miami_fl_12839.tm2",
        "MIAMI, FL · 25.800° north, 80.267° west · 2 m · UTC-5 h · 8760 hours · TMY2",
        [24.31, 3.3, 33.9, 18.78, 14.082, 110.6, 1792.6],
        [0, 6691],
    );
}

/// The table has no dew point: 8.64 °C and 7.682 g/kg are those of its relative humidity over water (own script).
#[test]
fn piedmonts_own_table() {
    check(
        "pvgis_tmy_piedmont_it_45N_8E.csv",
        "unnamed place · 45.000° north, 8.000° east · 250 m · UTC+1 h · 8760 hours · PVGIS csv",
        [13.56, -2.34, 34.33, 8.64, 7.682, 2184.9, 1435.9],
        [0, 1391],
    );
}

const COLORADO: [&str; 8] =
    ["--latitude", "40.53", "--longitude", "-108.54", "--elevation", "2168 m", "--time-zone", "-7"];

/// The dew point after the limit to saturation over ice, and half of 0.1 K·d, are of an own script: -2.915 °C, 4330.25 K·d.
#[test]
fn colorado_with_its_place_given() {
    check_given(
        "nsrdb_psm3_tmy2017_colorado.csv",
        &COLORADO,
        "unnamed place · 40.530° north, 108.540° west · 2168 m · UTC-7 h · 8760 hours · NSRDB csv",
        [7.26, -20.0, 34.0, -2.92, 4.401, 4330.2, 1777.9],
        [210, 0],
    );
}

/// Of hours made of half-hours (own script): the half-hours themselves have -27.7 and 35.0 °C, 4.403 g/kg, 4126.9 K·d.
#[test]
fn colorado_in_half_hours() {
    check(
        "nsrdb_psm3_colorado_2017_30min.csv",
        "NSRDB 401182 · 40.530° north, 108.540° west · 2168 m · UTC-7 h · 8760 hours · NSRDB csv",
        [8.08, -27.63, 34.925, -2.90, 4.402, 4125.4, 1748.9],
        [306, 0],
    );
}

/// Sorted hours of Greensboro (own script).
#[test]
fn design_conditions_and_wind_are_told() {
    let room = Room::new();
    let path = published("tmy3_greensboro_nc_723170TYA.csv");
    let said = room.done(&["weather", path.to_str().unwrap()]).out;
    for (label, value) in [
        ("Heating 99.6 %, dry bulb [°C]", "-11.1"),
        ("Heating 99 %, dry bulb [°C]", "-9.4"),
        ("Cooling 0.4 %, dry bulb [°C]", "33.3"),
        ("mean coincident wet bulb [°C]", "24.5"),
        ("Dehumidification 1 %, dew point [°C]", "22.8"),
        ("mean coincident dry bulb [°C]", "29.7"),
        ("Heating, base 18 °C, by days [K·d]", "2081.5"),
        ("Heating degree-hours, base 18 °C [K·h]", "52303"),
        ("Cooling, base 10 °C, by hours [K·d]", "2481.0"),
        ("Cooling, base 18.3 °C, by days [K·d]", "730.4"),
        ("Most often from", "southwest"),
        ("Calm [% of the hours]", "12.0"),
        ("Gaps filled [h]", "none"),
        ("Limited to saturation over ice [h]", "35"),
        ("Pressure against elevation", "fits"),
        ("Time labels against the sun", "in step"),
    ] {
        assert_eq!(after(&said, label), value, "{label}");
    }
    assert!(said.contains("with k = floor(share × hours), the"), "{said}");
    let july = said.lines().find(|line| line.starts_with("  Jul ")).unwrap();
    let july: Vec<&str> = july.split_whitespace().collect();
    assert_eq!(july, ["Jul", "25.4", "15.0", "35.6", "19.8", "15.131", "2.6", "188.6", "1.0", "222.5"]);
}

/// 14.42185 °C is 57.96 °F, 8.4597 g/kg 59.22 gr/lb, 986.917 hPa 29.14 inHg, 3.05444 m/s 6.8 mph, 1566.203 kWh/m²
/// 496.5 kBtu/ft², 2179.29 K·d 3922.7 °F·d: worked by hand from the units' definitions.
#[test]
fn the_same_in_inch_pound_units() {
    let room = Room::new();
    let path = published("tmy3_greensboro_nc_723170TYA.csv");
    let said = room.done(&["weather", "--show-in", "ip", path.to_str().unwrap()]).out;
    for (label, value) in [
        ("Mean dry bulb [°F]", "57.96"),
        ("Mean humidity ratio [gr/lb]", "59.22"),
        ("Mean pressure [inHg]", "29.14"),
        ("Mean wind speed [mph]", "6.8"),
        ("Global irradiation, horizontal [kBtu/ft²]", "496.5"),
        ("Heating, base 64.4 °F, by hours [°F·d]", "3922.7"),
        ("Hours below 14 °F [h]", "43"),
        ("Heating 99 %, dry bulb [°F]", "15.1"),
    ] {
        assert_eq!(after(&said, label), value, "{label}");
    }
    for unit in ["°C]", "g/kg", "K·d", "hPa", "m/s]", "kWh"] {
        assert!(!said.contains(unit), "{unit} in\n{said}");
    }
}

#[test]
fn several_files_stand_side_by_side() {
    let room = Room::new();
    let files = ["frosthollow.csv", "saltmere.csv", "millbrook.csv", "palmreach.csv"].map(sample);
    let files = files.each_ref().map(|path| path.to_str().unwrap());
    let alone = files.map(|file| room.done(&["weather", file]).out);
    let together = room.done(&["weather", files[0], files[1], files[2], files[3]]).out;
    for (number, file) in files.iter().enumerate() {
        assert!(together.contains(&format!("{}  {file}\n", number + 1)), "{together}");
    }
    for label in ["Mean dry bulb [°C]", "Heating 99.6 %, dry bulb [°C]", "Most often from", "Gaps filled [h]"]
    {
        let cells: Vec<&str> = alone.iter().map(|text| after(text, label)).collect();
        assert_eq!(after(&together, label).split_whitespace().collect::<Vec<_>>(), cells, "{label}");
    }
    assert_eq!(
        after(&together, "Design conditions").split_whitespace().collect::<Vec<_>>(),
        ["1", "2", "3", "4"]
    );
    assert_eq!(together.matches("  Jan ").count(), 4);

    let json = room.done(&["weather", "--json", files[0], files[1], files[2], files[3]]);
    let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
    let found: Vec<&str> =
        json.as_array().unwrap().iter().map(|year| year["file"].as_str().unwrap()).collect();
    assert_eq!(found, files);
    assert!(json.as_array().unwrap().iter().all(|year| year["synthetic"] == true));
}

#[test]
fn no_line_is_wider_than_a_hundred_columns() {
    let room = Room::new();
    let greensboro = published("tmy3_greensboro_nc_723170TYA.csv");
    let piedmont = published("pvgis_tmy_piedmont_it_45N_8E.csv");
    let miami = published("tmy2_miami_fl_12839.tm2");
    room.write("a.csv", std::fs::read(greensboro).unwrap());
    room.write("b.csv", std::fs::read(piedmont).unwrap());
    room.write("c.tm2", std::fs::read(miami).unwrap());
    for show_in in ["si", "ip"] {
        let files = ["a.csv", "b.csv", "c.tm2", "b.csv", "a.csv", "c.tm2", "a.csv"];
        let said = room.done(&[&["weather", "--show-in", show_in], &files[..]].concat()).out;
        let widest = said.lines().max_by_key(|line| line.chars().count()).unwrap();
        assert!(widest.chars().count() <= 108, "{widest}");
        let above: Vec<&str> = said.lines().filter(|line| line.chars().count() > 100).collect();
        // Only the line of a place with a long name may be wider.
        assert!(above.iter().all(|line| line.contains("GREENSBORO")), "{above:?}");
        assert!(
            said.contains("  Wind                                                   6         7\n"),
            "{said}"
        );
        assert!(!said.lines().any(|line| line.ends_with(' ')), "{said}");
    }
}

#[test]
fn json_holds_design_degree_days_wind_checks_and_months() {
    let room = Room::new();
    let path = published("tmy3_greensboro_nc_723170TYA.csv");
    let said = room.done(&["weather", "--json", "--show-in", "ip", path.to_str().unwrap()]).out;
    let json: serde_json::Value = serde_json::from_str(&said).unwrap();
    let year = &json[0];
    assert_eq!(year["design"]["heating_99_6_dry_bulb_c"], -11.1);
    assert_eq!(year["design"]["cooling"][0]["dry_bulb_c"], 33.3);
    assert_eq!(year["design"]["dehumidification"].as_array().unwrap().len(), 3);
    assert_eq!(year["degree_days"][1]["base_c"], 10.0);
    assert!((year["degree_days"][0]["degree_hours_k_h"].as_f64().unwrap() - 24.0 * 2179.2917).abs() < 0.01);
    assert_eq!(year["wind"]["prevailing"], "southwest");
    assert_eq!(year["checks"]["limited_to_ice_saturation_h"], 35);
    assert_eq!(year["checks"]["time_labels"], "in step");
    assert_eq!(year["months"].as_array().unwrap().len(), 12);
    assert_eq!(year["months"][6]["max_dry_bulb_c"], 35.6);
}

/// A longitude an hour off, a pressure of sea level high up, a sensor that stands still: each is seen.
#[test]
fn what_is_doubtful_is_told_in_the_checks() {
    let room = Room::new();
    let path = published("nsrdb_psm3_tmy2017_colorado.csv");
    let path = path.to_str().unwrap();
    let slipped = [&["weather", path], &COLORADO[..2], &["--longitude", "-93.54"], &COLORADO[4..]].concat();
    let said = room.done(&slipped).out;
    assert_eq!(after(&said, "Time labels against the sun"), "slipped");
    let low = [&["weather", path], &COLORADO[..4], &["--elevation", "10 ft"], &COLORADO[6..]].concat();
    assert_eq!(after(&room.done(&low).out, "Pressure against elevation"), "misfit");
    let sand_point = published("tmy3_sandpoint_ak_703165TY.csv");
    let said = room.done(&["weather", sand_point.to_str().unwrap()]).out;
    assert_eq!(after(&said, "Pressure against elevation"), "constant");
    assert_eq!(after(&said, "Frozen dry bulb, humidity or wind [times]"), "1");
    assert_eq!(after(&said, "Humidity below freezing is over"), "ice");
}

#[test]
fn a_place_that_cannot_be_is_refused() {
    let path = published("nsrdb_psm3_tmy2017_colorado.csv");
    let path = path.to_str().unwrap();
    let options = [&["weather", path, "--latitude", "140"], &COLORADO[2..]].concat();
    Room::new().refuses(
        &options,
        &format!(
            "error: {path}: latitude [°] 140 is outside -90…90\n\n\
             hint: check --latitude, --longitude, --elevation and --time-zone\n"
        ),
    );
    let options = ["weather", path, "--elevation", "high"];
    let said = Room::new().run(&options);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert!(said.err.starts_with("error: --elevation \"high\": "), "{}", said.err);
}

#[test]
fn without_a_file_it_says_what_is_missing() {
    Room::new().refuses(
        &["weather"],
        "error: the following required arguments were not provided:\n  <FILES>...\n\nUsage: dewledger weather <FILES>...\n\n\
         For more information, try '--help'.\n",
    );
}

//! `dewledger air` with properties as they are typed.

use super::room::Room;

/// What is printed, label by label: the number and its unit.
fn shown(arguments: &[&str]) -> Vec<(String, f64, String)> {
    let said = Room::new().done(&[&["air"], arguments].concat());
    assert_eq!(said.err, "");
    said.out
        .lines()
        .map(|line| {
            let (label, rest) = line.split_at(line.char_indices().nth(22).unwrap().0);
            let (value, unit) = rest.trim_start().split_once(' ').unwrap();
            (label.trim().to_owned(), value.parse().unwrap(), unit.to_owned())
        })
        .collect()
}

fn check(arguments: &[&str], expected: &[(&str, f64, f64, &str)]) {
    let shown = shown(arguments);
    for (label, value, tolerance, unit) in expected {
        let (_, found, found_unit) = shown.iter().find(|row| row.0 == *label).unwrap();
        assert!((found - value).abs() <= *tolerance, "{arguments:?}, {label}: {found}, not {value}");
        assert_eq!(found_unit, unit);
    }
}

fn refused(arguments: &[&str], stderr: &str) {
    Room::new().refuses(&[&["air"], arguments].concat(), stderr);
}

/// Source: psychrolib 2.5.0. Its wet bulb is a search that stops within 0.001 K; the others to half of a digit.
#[test]
fn twenty_degrees_and_half_saturated_as_psychrolib_has_it() {
    check(
        &["--dry-bulb", "20 °C", "--relative-humidity", "50 %", "--pressure", "101325 Pa"],
        &[
            ("Dry bulb", 20.0, 1e-9, "°C"),
            ("Wet bulb", 13.7834, 0.001, "°C"),
            ("Dew point", 9.2724, 0.0005, "°C"),
            ("Relative humidity", 50.0, 1e-9, "%"),
            ("Humidity ratio", 7.26174, 0.00005, "g/kg"),
            ("Enthalpy", 38.5517, 0.0005, "kJ/kg"),
            ("Specific volume", 0.840156, 0.000005, "m³/kg dry air"),
            ("Vapour pressure", 1169.402, 0.005, "Pa"),
            ("Saturation pressure", 2338.804, 0.005, "Pa"),
            ("Pressure", 101325.0, 0.5, "Pa"),
        ],
    );
}

/// Source: psychrolib 2.5.0 in its IP units at 14.696 psi; its enthalpy takes 0.240 Btu/lb°F for dry air, where 1.006 kJ/kgK
/// are 0.2403, so it lies 0.02 Btu/lb lower at 68 °F.
#[test]
fn the_same_air_in_inches_and_pounds() {
    let typed: [&[&str]; 2] = [
        &[
            "--dry-bulb",
            "68 °F",
            "--relative-humidity",
            "50 %",
            "--pressure",
            "14.696 psi",
            "--show-in",
            "ip",
        ],
        &[
            "--dry-bulb",
            "68F",
            "--relative-humidity",
            "50%",
            "--pressure",
            "29.92126 inHg",
            "--show-in",
            "ip",
        ],
    ];
    for arguments in typed {
        check(
            arguments,
            &[
                ("Dry bulb", 68.0, 1e-9, "°F"),
                ("Wet bulb", 56.8054, 0.005, "°F"),
                ("Dew point", 48.6903, 0.0006, "°F"),
                ("Humidity ratio", 50.83196, 0.0015, "gr/lb"),
                ("Enthalpy", 24.2439, 0.021, "Btu/lb, of dry air at 0 °F"),
                ("Specific volume", 13.45788, 0.0003, "ft³/lb dry air"),
                ("Vapour pressure", 0.345324, 0.00002, "inHg"),
                ("Pressure", 29.92126, 0.0001, "inHg"),
            ],
        );
    }
}

/// Source: psychrolib 2.5.0, -10 °C and 50 % at 101325 Pa.
#[test]
fn a_minus_sign_is_read_however_it_is_typed() {
    for dry_bulb in ["-10 °C", "-10C", "\u{2212}10 °C", "14 °F", "263.15 K"] {
        check(
            &["--dry-bulb", dry_bulb, "--relative-humidity", "50 %"],
            &[
                ("Dry bulb", -10.0, 0.0005, "°C"),
                ("Humidity ratio", 0.79868, 0.00006, "g/kg"),
                ("Dew point", -17.5814, 0.0006, "°C"),
                ("Wet bulb", -11.6376, 0.001, "°C"),
            ],
        );
    }
    let joined = shown(&["--dry-bulb=-10 °C", "--relative-humidity=50 %"]);
    assert_eq!(joined, shown(&["--dry-bulb", "-10 °C", "--relative-humidity", "50 %"]));
}

/// Source: psychrolib 2.5.0, standard atmosphere at 300 m.
#[test]
fn an_altitude_gives_the_standard_pressure() {
    for altitude in ["300 m", "984.2519685 ft"] {
        check(
            &["--dry-bulb", "-10 °C", "--relative-humidity", "80 %", "--altitude", altitude],
            &[("Pressure", 97772.56, 0.6, "Pa"), ("Dew point", -12.4896, 0.0005, "°C")],
        );
    }
    check(&["--dry-bulb", "20 °C", "--dew-point", "9 °C"], &[("Pressure", 101325.0, 0.5, "Pa")]);
    check(
        &["--dry-bulb", "20 °C", "--dew-point", "9 °C", "--altitude", "-100 m"],
        &[("Dew point", 9.0, 1e-9, "°C")],
    );
}

#[test]
fn as_json_every_property_is_there_by_its_column_name() {
    let said = Room::new().done(&["air", "--dry-bulb", "20 °C", "--humidity-ratio", "0 g/kg", "--json"]);
    let state: serde_json::Map<String, serde_json::Value> = serde_json::from_str(&said.out).unwrap();
    let names = [
        "dry_bulb_c",
        "wet_bulb_c",
        "dew_point_c",
        "relative_humidity_pct",
        "humidity_ratio",
        "enthalpy_kj_per_kg",
        "pressure_pa",
        "specific_volume_m3_per_kg",
        "vapour_pressure_pa",
        "saturation_pressure_pa",
    ];
    assert_eq!(state.keys().collect::<Vec<_>>(), names);
    assert_eq!(state["dew_point_c"], serde_json::Value::Null);
    // 1.006 kJ/kgK times 20 K.
    assert!((state["enthalpy_kj_per_kg"].as_f64().unwrap() - 20.12).abs() < 1e-12);
}

#[test]
fn perfectly_dry_air_has_no_dew_point() {
    for (show_in, unit) in [("si", "°C"), ("ip", "°F")] {
        let said = Room::new().done(&[
            "air",
            "--dry-bulb",
            "20 °C",
            "--humidity-ratio",
            "0 g/kg",
            "--show-in",
            show_in,
        ]);
        let line = said.out.lines().find(|line| line.starts_with("Dew point")).unwrap();
        assert!(line.ends_with(" none without any vapour") && !line.contains(unit), "{line}");
    }
}

#[test]
fn two_properties_are_needed_no_more_and_no_less() {
    let hint = "\n\nhint: give exactly two of --dry-bulb, --wet-bulb, --dew-point, --relative-humidity, --humidity-ratio, \
        --enthalpy\n";
    let fault = |count: &str| format!("error: two properties fix a state of moist air; {count} given{hint}");
    refused(&[], &fault("none was"));
    refused(&["--dry-bulb", "20 °C"], &fault("one was"));
    refused(&["--dry-bulb", "20 °C", "--wet-bulb", "15 °C", "--dew-point", "9 °C"], &fault("3 were"));
}

#[test]
fn pairs_that_do_not_fix_the_air_are_refused_with_the_reason() {
    refused(
        &["--dew-point", "10 °C", "--humidity-ratio", "7 g/kg"],
        "error: dew point and humidity ratio say the same twice: replace one of them by another property\n",
    );
    refused(
        &["--wet-bulb", "10 °C", "--enthalpy", "40 kJ/kg"],
        "error: wet bulb and enthalpy are singular near 0 °C: replace one of them by another property\n",
    );
}

#[test]
fn air_that_cannot_be_is_refused() {
    let said = Room::new().run(&["air", "--dry-bulb", "20 °C", "--wet-bulb", "25 °C"]);
    assert!(said.err.starts_with(
        "error: dry bulb 20 °C and wet bulb 25 °C: over-saturated, relative humidity would be 1."
    ));
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    refused(
        &["--dry-bulb", "20 °C", "--wet-bulb", "-5 °C"],
        "error: dry bulb 20 °C and wet bulb -5 °C: even perfectly dry air at that dry bulb has a higher wet bulb\n",
    );
    refused(
        &["--dry-bulb", "20 °C", "--relative-humidity", "150 %"],
        "error: --relative-humidity \"150 %\": is outside 0 to 100 %\n",
    );
    refused(
        &["--dry-bulb", "20 °C", "--relative-humidity", "-5 %"],
        "error: --relative-humidity \"-5 %\": is outside 0 to 100 %\n",
    );
    refused(
        &["--dry-bulb", "20 °C", "--humidity-ratio", "-1 g/kg"],
        "error: humidity ratio -0.001 kg/kg is outside 0 to 0.5 kg/kg\n",
    );
    refused(
        &["--dry-bulb", "20 °C", "--relative-humidity", "50 %", "--pressure", "10 Pa"],
        "error: pressure 10 Pa is outside 50000 to 110000 Pa\n",
    );
    refused(
        &["--dry-bulb", "20 °C", "--relative-humidity", "50 %", "--altitude", "30000 m"],
        "error: altitude 30000 m is outside -5000 to 11000 m\n",
    );
}

#[test]
fn a_quantity_that_is_mistyped_is_shown_with_what_would_fit() {
    let typed = [
        ("--dry-bulb", "20", "a temperature needs a unit", "units that fit: °C, K, °F"),
        (
            "--dry-bulb",
            "20 celsius",
            "a temperature is needed, but the unit `celsius` is unknown",
            "units that fit: °C, K, °F",
        ),
        (
            "--dry-bulb",
            "20 m",
            "a temperature is needed, but `m` measures a length",
            "units that fit: °C, K, °F",
        ),
        ("--dry-bulb", "20,5 °C", "a number with a comma is not read", "write a decimal point: \"20.5 °C\""),
        (
            "--dry-bulb",
            "warm",
            "a temperature is needed, but there is no number at its start",
            "units that fit: °C, K, °F",
        ),
        ("--humidity-ratio", "0.007", "a unit is missing", "units that fit: g/kg, kg/kg, gr/lb, lb/lb"),
        (
            "--humidity-ratio",
            "7,3 g/kg",
            "a number with a comma is not read",
            "write a decimal point: \"7.3 g/kg\"",
        ),
        (
            "--humidity-ratio",
            "1e400 g/kg",
            "a humidity ratio is needed, a number with its unit",
            "units that fit: g/kg, kg/kg, gr/lb, lb/lb",
        ),
        ("--enthalpy", "40 kJ", "`kJ` does not fit", "units that fit: kJ/kg, J/kg, Btu/lb"),
        (
            "--relative-humidity",
            "half",
            "a relative humidity is needed, a number with its unit",
            "units that fit: %",
        ),
    ];
    for (option, text, why, hint) in typed {
        let stderr = format!("error: {option} \"{text}\": {why}\n\nhint: {hint}\n");
        refused(&[option, text, "--dew-point", "9 °C"], &stderr);
    }
    refused(
        &["--dry-bulb", "20 °C", "--dew-point", "9 °C", "--pressure", "1 atm"],
        "error: --pressure \"1 atm\": `atm` does not fit\n\nhint: units that fit: Pa, hPa, kPa, mbar, bar, inHg, psi\n",
    );
    refused(
        &["--dry-bulb", "20 °C", "--dew-point", "9 °C", "--altitude", "300"],
        "error: --altitude \"300\": a length needs a unit\n\nhint: units that fit: m, cm, mm, ft, in\n",
    );
}

#[test]
fn options_that_exclude_each_other_are_refused() {
    let said = Room::new().run(&["air", "--dry-bulb", "20 °C", "--pressure", "1 bar", "--altitude", "0 m"]);
    assert!(said.err.starts_with(
        "error: the argument '--pressure <PRESSURE>' cannot be used with '--altitude <ALTITUDE>'\n"
    ));
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    for also in [["--json", ""], ["--show-in", "ip"], ["--dry-bulb", "20 °C"]] {
        let also: Vec<&str> = also.into_iter().filter(|word| !word.is_empty()).collect();
        let said = Room::new().run(&[&["air", "--from", "x.csv"], &also[..]].concat());
        assert!(
            said.err.starts_with("error: the argument '--from <FILE>' cannot be used with '--"),
            "{}",
            said.err
        );
        assert_eq!(said.code, 2);
    }
}

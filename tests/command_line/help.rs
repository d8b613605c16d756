//! What `--help` says, and what is said of a command that does not exist.

use super::room::Room;

/// Each command with units that its help must name.
const COMMANDS: [(&[&str], &[&str]); 13] = [
    (&[], &["\"45 L/s\"", "\"95 cfm\"", "\"20.5 °C\"", "\"69 °F\""]),
    (&["run"], &["SI", "kWh", "gal", "lb", "°F"]),
    (&["new"], &["\"140 m2\"", "\"1500 ft2\""]),
    (&["weather"], &["°C", "g/kg", "hPa", "m/s", "kWh/m²"]),
    (&["climates"], &["kWh", "L (gal)", "h, %, °C"]),
    (&["sweep"], &["kWh, L, kg, h, %"]),
    (&["bins"], &["°C", "°F", "g/kg", "kWh", "L,"]),
    (&["weather", "make"], &["\"-12.5 °C\"", "\"9 °F\"", "kWh/m2 day", "\"71 %\"", "\"4.4 m/s\""]),
    (&["weather", "shift"], &["\"2.1 K\"", "\"-2 %\"", "(1.02)"]),
    (&["weather", "convert"], &["SI", "\"7110 ft\""]),
    (
        &["air"],
        &[
            "\"20 °C\"",
            "\"50 %\"",
            "\"7.3 g/kg\"",
            "\"38.6 kJ/kg\"",
            "\"29.92 inHg\"",
            "\"1000 ft\"",
            "Btu/lb",
        ],
    ),
    (&["columns"], &["with its unit"]),
    (&["schema"], &["L/s", "cfm"]),
];

#[test]
fn every_help_fits_a_hundred_columns_and_names_units() {
    let room = Room::new();
    for (command, units) in COMMANDS {
        for option in ["--help", "-h"] {
            let said = room.done(&[command, &[option]].concat());
            let widest = said.out.lines().max_by_key(|line| line.chars().count()).unwrap();
            assert!(widest.chars().count() <= 100, "{command:?}: {widest}");
            assert_eq!(said.err, "");
        }
        let help = room.done(&[command, &["--help"]].concat()).out;
        for unit in units {
            assert!(help.contains(unit), "{command:?} does not name {unit}:\n{help}");
        }
    }
}

#[test]
fn without_a_command_the_help_is_shown_as_a_fault() {
    let room = Room::new();
    let said = room.run(&[]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert_eq!(said.err, room.done(&["-h"]).out);
}

#[test]
fn a_mistyped_command_or_option_is_named() {
    let room = Room::new();
    let more = "For more information, try '--help'.\n";
    room.refuses(
        &["rnu"],
        &format!("error: unrecognized subcommand 'rnu'\n\nUsage: dewledger <COMMAND>\n\n{more}"),
    );
    room.refuses(
        &["run", "a.toml", "b.toml"],
        &format!(
            "error: unexpected argument 'b.toml' found\n\nUsage: dewledger run [OPTIONS] [STUDY]\n\n{more}"
        ),
    );
    room.refuses(
        &["run", "--hourly", "weekly"],
        &format!(
            "error: invalid value 'weekly' for '--hourly <HOURLY>'\n  [possible values: csv, parquet, none]\n\n{more}"
        ),
    );
    room.refuses(
        &["run", ""],
        &format!("error: a value is required for '[STUDY]' but none was supplied\n\n{more}"),
    );
}

#[test]
fn the_version_is_the_packages() {
    let said = Room::new().done(&["--version"]);
    assert_eq!(said.out, format!("dewledger {}\n", env!("CARGO_PKG_VERSION")));
}

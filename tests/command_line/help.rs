//! What `--help` says, and what is said of a command that does not exist.

use super::room::Room;

/// Each command with units that its help must name.
const COMMANDS: [(&[&str], &[&str]); 16] = [
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
    (&["core"], &["\"-20 °C\"", "\"0 °F\""]),
    (&["columns"], &["with its unit"]),
    (&["schema"], &["L/s", "cfm"]),
    (&["completions"], &[]),
    (&["man"], &[]),
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

/// Each shell's own word for what it is given, as its manual says.
#[test]
fn completions_are_what_each_shell_takes() {
    let room = Room::new();
    let words = [
        ("bash", "complete -F"),
        ("zsh", "#compdef dewledger"),
        ("fish", "complete -c dewledger"),
        ("powershell", "Register-ArgumentCompleter"),
    ];
    for (shell, word) in words {
        let said = room.done(&["completions", shell]);
        assert!(said.out.contains(word), "{shell}: {}", said.out);
        for command in ["climates", "sweep", "hourly"] {
            assert!(said.out.contains(command), "{shell} does not know {command}");
        }
    }
    assert_eq!(room.run(&["completions", "basic"]).code, 2);
}

#[test]
fn every_command_has_a_manual_page() {
    let room = Room::new();
    let page = room.done(&["man"]).out;
    // The first request of a manual page, man(7).
    assert!(page.contains(".TH dewledger 1"), "{page}");
    let said = room.done(&["man", "pages"]).out;
    for (command, _) in COMMANDS {
        let name = [&["dewledger"], command].concat().join("-");
        let page = room.read(&format!("pages/{name}.1"));
        assert!(page.contains(&format!(".TH {name} 1")), "{page}");
    }
    assert_eq!(said, format!("Wrote {} manual pages into pages.\n", COMMANDS.len()));
    let again = room.run(&["man", "pages"]);
    assert!((again.code, again.err.contains("already exists")) == (2, true), "{}", again.err);
    room.done(&["man", "pages", "--force"]);
}

//! `dewledger air --from`: states by the row of a CSV file.

use std::fs;

use super::room::{Room, Said, workspace};
use super::tables::{Table, number};

const PROPERTIES: [&str; 6] = [
    "dry_bulb_c",
    "wet_bulb_c",
    "dew_point_c",
    "relative_humidity_pct",
    "humidity_ratio",
    "enthalpy_kj_per_kg",
];

fn from_stdin(input: &str) -> Said {
    Room::new().run_fed(&["air", "--from", "-"], input)
}

fn refused(input: impl AsRef<[u8]>, message: &str, hint: &str) {
    let room = Room::new();
    let hint = if hint.is_empty() { String::new() } else { format!("\nhint: {hint}\n") };
    let fed = room.run_fed(&["air", "--from", "-"], &input);
    assert_eq!(fed, Said { code: 2, out: String::new(), err: format!("error: stdin: {message}\n{hint}") });
    room.write("air.csv", &input);
    room.refuses(&["air", "--from", "air.csv"], &format!("error: air.csv: {message}\n{hint}"));
}

/// The states that psychrolib computed, as a table of some of their columns.
fn checks(columns: &[&str]) -> String {
    let text = fs::read_to_string(workspace().join("tests/data/psychro/psychro_checks.csv")).unwrap();
    let table = Table::read(&text);
    let cell = |row: &[String], column: &str| {
        let of = |name: &str| number(&row[table.place(name)]);
        match column {
            "dry_bulb_c" => of("tdb_C").to_string(),
            "wet_bulb_c" => of("twb_psychrolib_C").to_string(),
            "dew_point_c" => of("tdp_psychrolib_C").to_string(),
            "relative_humidity_pct" => (100.0 * of("rh_frac")).to_string(),
            "humidity_ratio" => of("W_psychrolib").to_string(),
            "enthalpy_kj_per_kg" => (1e-3 * of("h_psychrolib_J_per_kgda")).to_string(),
            "pressure_pa" => of("p_Pa").to_string(),
            other => panic!("{other}"),
        }
    };
    let rows = table
        .rows
        .iter()
        .map(|row| columns.iter().map(|column| cell(row, column)).collect::<Vec<_>>().join(","));
    std::iter::once(columns.join(",")).chain(rows).collect::<Vec<_>>().join("\n")
}

/// Source: psychrolib 2.5.0, 90 states from -40 to 50 °C at three pressures. Tolerances: the digits that its table was
/// written with, and 0.002 K for its wet-bulb search.
#[test]
fn ninety_states_are_those_of_psychrolib() {
    let given = checks(&["dry_bulb_c", "relative_humidity_pct", "pressure_pa"]);
    let found = Table::read(&from_stdin(&given).out);
    let expected =
        Table::read(&checks(&["wet_bulb_c", "dew_point_c", "humidity_ratio", "enthalpy_kj_per_kg"]));
    assert_eq!((found.rows.len(), expected.rows.len()), (90, 90));
    for (column, absolute, relative) in [
        ("wet_bulb_c", 0.002, 0.0),
        ("dew_point_c", 0.002, 0.0),
        ("humidity_ratio", 1e-8, 1e-6),
        ("enthalpy_kj_per_kg", 1e-3, 0.0),
    ] {
        for (line, (found, expected)) in
            found.numbers(column).iter().zip(expected.numbers(column)).enumerate()
        {
            let tolerance = absolute + relative * expected.abs();
            assert!((found - expected).abs() <= tolerance, "row {line}, {column}: {found}, not {expected}");
        }
    }
}

/// Every pair of columns, cut from the program's own answer, gives the same answer again.
#[test]
fn thirteen_pairs_lead_back_to_the_same_air() {
    let whole =
        Table::read(&from_stdin(&checks(&["dry_bulb_c", "relative_humidity_pct", "pressure_pa"])).out);
    let mut pairs = 0;
    for (place, first) in PROPERTIES.iter().enumerate() {
        for second in &PROPERTIES[place + 1..] {
            if matches!(
                (*first, *second),
                ("dew_point_c", "humidity_ratio") | ("wet_bulb_c", "enthalpy_kj_per_kg")
            ) {
                continue;
            }
            pairs += 1;
            let columns = [*first, *second, "pressure_pa"];
            let again = Table::read(&from_stdin(&cut(&whole, &columns)).out);
            compare(&columns, &whole, &again);
        }
    }
    assert_eq!(pairs, 13);
}

fn cut(table: &Table, columns: &[&str]) -> String {
    let rows = table.rows.iter().map(|row| {
        columns.iter().map(|column| row[table.place(column)].as_str()).collect::<Vec<_>>().join(",")
    });
    std::iter::once(columns.join(",")).chain(rows).collect::<Vec<_>>().join("\n") + "\n"
}

/// Rounding of the last bit of what was printed moves a state by no more than this.
fn compare(columns: &[&str], whole: &Table, again: &Table) {
    assert_eq!(again.header, whole.header);
    assert_eq!(again.rows.len(), whole.rows.len(), "{columns:?}");
    for name in &whole.header {
        for (line, (was, is)) in whole.numbers(name).iter().zip(again.numbers(name)).enumerate() {
            assert!(
                (was - is).abs() <= 1e-6 * was.abs().max(1.0),
                "{columns:?}, row {line}, {name}: {was}, then {is}"
            );
        }
    }
}

#[test]
fn a_file_and_a_pipe_give_the_same_answer() {
    let room = Room::new();
    let text = "dry_bulb_c,relative_humidity_pct,pressure_pa\n20,50,101325\n-10,80,101325\n";
    room.write("air.csv", text);
    let from_file = room.done(&["air", "--from", "air.csv"]);
    assert_eq!(from_file, from_stdin(text));
    assert_eq!((from_file.out.lines().count(), from_file.err.as_str()), (3, ""));
}

/// Source: psychrolib 2.5.0, standard atmosphere at 300 m: 97772.5606 Pa.
#[test]
fn an_altitude_column_gives_the_standard_pressure() {
    let said = from_stdin("altitude_m,dew_point_c,dry_bulb_c\n0,10,20\n300,10,20\n");
    let pressures = Table::read(&said.out).numbers("pressure_pa");
    assert!((pressures[0] - 101_325.0).abs() < 1e-6 && (pressures[1] - 97_772.560_606_11).abs() < 1e-6);
}

#[test]
fn untidy_tables_are_read() {
    let tidy = from_stdin("dry_bulb_c,relative_humidity_pct,pressure_pa\n20,50,101325\n");
    let untidy = [
        "\u{feff}dry_bulb_c,relative_humidity_pct,pressure_pa\r\n20,50,101325\r\n",
        "# a remark\nDry_Bulb_C, relative_humidity_pct ,PRESSURE_PA\n 20 , 50 , 101325\n\n",
        "time,pressure_pa,relative_humidity_pct,dry_bulb_c\nnoon,101325,50.0,2e1\n",
        "dry_bulb_c,relative_humidity_pct,pressure_pa\n\"20\",\"50\",\"101325\"",
    ];
    for text in untidy {
        assert_eq!(from_stdin(text), tidy, "{text}");
    }
}

#[test]
fn a_bad_row_is_named_by_its_line_and_nothing_is_printed() {
    let table = |row: &str| format!("dry_bulb_c,relative_humidity_pct,pressure_pa\n20,50,101325\n\n{row}\n");
    refused(table("-10,abc,101325"), "line 4, relative_humidity_pct: `abc` is not a number", "");
    refused(
        "# remark\r\ndry_bulb_c,relative_humidity_pct,pressure_pa\r\n20,50,101325\r\n\r\n# remark\r\n-10,x,101325\r\n",
        "line 6, relative_humidity_pct: `x` is not a number",
        "",
    );
    refused(table("-10,,101325"), "line 4, relative_humidity_pct: the cell is empty", "");
    refused(table("-10,80"), "line 4, the row has 2 columns, the header 3", "");
    refused(table("-10"), "line 4, the row has 1 column, the header 3", "");
    refused(table("-10,180,101325"), "line 4, relative_humidity_pct: 180 is outside 0 to 100 %", "");
    refused(table("-10,80,NaN"), "line 4, pressure_pa: `NaN` is not a number", "");
    refused(table("-10,80,1013"), "line 4, pressure 1013 Pa is outside 50000 to 110000 Pa", "");
    refused(table("99,80,101325"), "line 4, dry bulb 99 °C is outside -60 to 60 °C", "");
}

#[test]
fn a_header_that_does_not_fix_the_air_is_refused() {
    let all = "two of dry_bulb_c, wet_bulb_c, dew_point_c, relative_humidity_pct, humidity_ratio, enthalpy_kj_per_kg";
    let fault = |count: &str| format!("the header names {count} of air; two are needed, no more");
    refused("time,pressure_pa\n1,2\n", &fault("0 properties"), all);
    refused("dry_bulb_c,pressure_pa\n20,101325\n", &fault("1 property"), all);
    refused(
        "dry_bulb_c,wet_bulb_c,dew_point_c,pressure_pa\n20,15,10,101325\n",
        &fault("3 properties"),
        "keep two of dry_bulb_c, wet_bulb_c, dew_point_c",
    );
    refused(
        "dry_bulb_c,relative_humidity_pct\n20,50\n",
        "the header names no pressure",
        "add a column pressure_pa or altitude_m",
    );
    refused(
        "dry_bulb_c,relative_humidity_pct,pressure_pa,altitude_m\n20,50,101325,0\n",
        "the header names pressure_pa and altitude_m",
        "keep one of them",
    );
    refused(
        "dry_bulb_c,dry_bulb_c,relative_humidity_pct,pressure_pa\n20,20,50,101325\n",
        "the header names dry_bulb_c twice",
        "keep one of them",
    );
    refused(
        "dry_bulb_c;relative_humidity_pct;pressure_pa\n20;50;101325\n",
        &fault("0 properties"),
        "columns are separated by commas, not by semicolons",
    );
}

#[test]
fn pairs_that_do_not_fix_the_air_are_refused_with_the_reason() {
    refused(
        "dew_point_c,humidity_ratio,pressure_pa\n10,0.007,101325\n",
        "line 2, dew point and humidity ratio say the same twice: replace one of them by another property",
        "",
    );
    refused(
        "wet_bulb_c,enthalpy_kj_per_kg,pressure_pa\n10,40,101325\n",
        "line 2, wet bulb and enthalpy are singular near 0 °C: replace one of them by another property",
        "",
    );
}

#[test]
fn what_is_no_table_is_refused() {
    refused("", "is empty", "");
    refused("dry_bulb_c,relative_humidity_pct,pressure_pa\n", "there are no rows below the header", "");
    refused(b"a,b\n20,\xff\n", "line 2 is not UTF-8 text", "save it as UTF-8 or plain text");
    let room = Room::new();
    room.refuses(
        &["air", "--from", "."],
        "error: .: cannot be read: it is a folder\n\nhint: give a file, not a folder\n",
    );
}

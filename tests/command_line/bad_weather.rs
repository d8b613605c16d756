//! Weather files that cannot be read: the same clear text from `weather` and from `run`, exit code 2, nothing left behind.

use std::fs;

use super::room::{Room, published, sample, study_on};

const GREENSBORO: &str = "tmy3_greensboro_nc_723170TYA.csv";
const PIEDMONT: &str = "pvgis_tmy_piedmont_it_45N_8E.epw";

/// Both commands refuse the file, which is called `bad.csv`, with this message and this hint.
fn refused(content: impl AsRef<[u8]>, message: &str, hint: &str) {
    let room = Room::new();
    room.write("bad.csv", content);
    room.write("study.toml", study_on("bad.csv"));
    let stderr = format!("error: bad.csv: {message}\n\nhint: {hint}\n");
    room.refuses(&["weather", "bad.csv"], &stderr);
    room.refuses(&["weather", "bad.csv", "--json"], &stderr);
    room.refuses(&["run", "study.toml"], &stderr);
}

const CUT: &str = "the file may have been cut off, or a stray comma stands in the row: fetch it again";
const KINDS: &str = "accepted are a TMY3, NSRDB or PVGIS table (.csv), TMY2 (.tm2), a file with the extension .epw, and the \
    plain table whose columns begin with month,day,hour_ending, all but TMY2 with commas between their columns; files \
    are told apart by what is in them, not by name";
const CELL: &str = "mend the cell, or write the filler -9900 (9999 in fixed columns) there: up to 6 hours are then filled and listed";
const HEADINGS: &str = "compare the headings with an untouched file of that kind";
const GAP: &str = "fetch the file again, or fill these hours from a source you trust";

fn text(file: &str) -> String {
    fs::read_to_string(published(file)).unwrap()
}

fn lines(file: &str) -> Vec<String> {
    text(file).lines().map(str::to_owned).collect()
}

fn with_cell(file: &str, line: usize, cell: usize, content: &str) -> String {
    let mut lines = lines(file);
    let mut cells: Vec<&str> = lines[line - 1].split(',').collect();
    cells[cell] = content;
    lines[line - 1] = cells.join(",");
    lines.join("\n")
}

#[test]
fn cut_off_within_a_row() {
    let start = lines(GREENSBORO)[..4000].join("\n");
    refused(
        format!("{start}\n06/15/1990,12:00,500,1"),
        "line 4001: the row has 4 columns, 71 are expected",
        CUT,
    );
    refused(format!("{start}\n06/1"), "line 4001: the row has 1 column, 71 are expected", CUT);
    let start = lines(PIEDMONT)[..100].join("\n");
    refused(format!("{start}\n2010,1,4"), "line 101: the row has 3 columns, 35 are expected", CUT);
}

#[test]
fn cut_off_between_rows() {
    refused(
        lines(GREENSBORO)[..2 + 8000].join("\n"),
        "the row is missing for 760 hours, from 30 November, hour 9 to 31 December, hour 24; gaps up to 6 hours are filled",
        GAP,
    );
}

#[test]
fn empty() {
    refused("", "the weather file is empty", "fetch the file again: it holds no hours");
    refused("\r\n \r\n", "the weather file is empty", "fetch the file again: it holds no hours");
}

#[test]
fn random_bytes() {
    // A multiplicative sequence: the same bytes every time, of no format.
    let bytes: Vec<u8> = (0_u64..3000).map(|n| (n.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 56) as u8).collect();
    let room = Room::new();
    room.write("bad.csv", bytes);
    room.write("study.toml", study_on("bad.csv"));
    for arguments in [["weather", "bad.csv"], ["run", "study.toml"]] {
        let said = room.run(&arguments);
        let start = "error: bad.csv: this is not a weather table that can be read; it begins with `";
        assert!(said.err.starts_with(start), "{}", said.err);
        assert!(said.err.ends_with(&format!("…`\n\nhint: {KINDS}\n")), "{}", said.err);
        assert!(!said.err.chars().any(|c| c.is_control() && c != '\n'), "{:?}", said.err);
        assert_eq!((said.code, said.out.as_str()), (2, ""));
    }
}

#[test]
fn something_else_altogether() {
    refused(
        "# Shopping\n\nmilk, bread\n",
        "this is not a weather table that can be read; it begins with `# Shopping··milk, bread·`",
        KINDS,
    );
}

#[test]
fn semicolons_instead_of_commas() {
    let text = fs::read_to_string(sample("saltmere.csv")).unwrap().replace(',', ";");
    refused(
        text,
        "this is not a weather table that can be read; it begins with `# name: Saltmere (invented)·# latitude_d…`",
        KINDS,
    );
}

#[test]
fn text_in_a_number() {
    refused(with_cell(GREENSBORO, 412, 31, "abc"), "line 412, dry bulb: `abc` is not a number", CELL);
    refused(with_cell(PIEDMONT, 100, 13, "nan"), "line 100, global irradiance: `nan` is not a number", CELL);
    refused(with_cell(GREENSBORO, 50, 31, "71.5"), "line 50, dry bulb: 71.5 °C is outside -75…62 °C", CELL);
}

#[test]
fn a_decimal_comma() {
    refused(with_cell(GREENSBORO, 412, 31, "3,5"), "line 412: the row has 72 columns, 71 are expected", CUT);
}

#[test]
fn a_missing_column() {
    refused(
        text(GREENSBORO).replacen("Dry-bulb (C)", "Temperature", 1),
        "line 2: there is no column for `Dry-bulb (C)`",
        HEADINGS,
    );
    let plain = fs::read_to_string(sample("saltmere.csv")).unwrap();
    refused(
        plain.replacen("pressure_pa", "pressure_hpa", 1),
        "line 11: there is no column for `pressure_pa`",
        HEADINGS,
    );
}

#[test]
fn eight_rows_dropped() {
    let mut lines = lines(GREENSBORO);
    lines.drain(99..107);
    refused(
        lines.join("\n"),
        "the row is missing for 8 hours, from 5 January, hour 2 to 5 January, hour 9; gaps up to 6 hours are filled",
        GAP,
    );
}

#[test]
fn a_row_given_twice() {
    let mut lines = lines(GREENSBORO);
    lines.insert(100, lines[99].clone());
    refused(
        lines.join("\n"),
        "line 101: 5 January, hour 2 was given before, on line 100",
        "a typical year holds each hour once: remove one of the two rows",
    );
}

#[test]
fn half_hours() {
    refused(
        with_cell(GREENSBORO, 10, 1, "08:30"),
        "line 10: `01/01/1988 08:30` is not a full hour; one row an hour is expected",
        "average the file to full hours first",
    );
}

#[test]
fn a_place_that_is_missing() {
    let plain = fs::read_to_string(sample("saltmere.csv")).unwrap();
    let hint = "give `latitude`, `longitude`, `elevation` and `time_zone` under [site] of the study";
    let room = Room::new();
    room.write("bad.csv", plain.replacen("# latitude_deg: 57.6\n", "", 1));
    room.write("study.toml", study_on("bad.csv"));
    let message = "error: bad.csv: the weather file does not say its latitude\n\nhint: ";
    room.refuses(&["run", "study.toml"], &format!("{message}{hint}\n"));
    let options = "give --latitude, --longitude, --elevation and --time-zone";
    room.refuses(&["weather", "bad.csv"], &format!("{message}{options}\n"));
    let given = room.done(&["weather", "bad.csv", "--latitude", "57.6"]).out;
    assert!(given.contains("57.600° north"), "{given}");
    refused(
        plain.replacen("57.6", "157.6", 1),
        "the weather file says latitude [°] 157.6, which is outside -90…90",
        "mend the heading of the weather file; `[site]` of a study, and --latitude and the like of `weather`, win over it",
    );
    refused(
        plain.replacen("57.6", "north", 1),
        "line 2: `latitude_deg` is `north`, a number is expected",
        HEADINGS,
    );
}

#[test]
fn no_such_file_and_a_folder() {
    let room = Room::new();
    room.refuses(
        &["weather", "nowhere.csv"],
        "error: nowhere.csv: cannot be read: there is no such file\n\n\
         hint: check the name; a relative path starts at the current folder\n",
    );
    room.refuses(
        &["weather", "."],
        "error: .: cannot be read: it is a folder\n\nhint: give a file, not a folder\n",
    );
}

#[test]
fn one_bad_file_among_good_ones_is_named_and_nothing_is_printed() {
    let room = Room::new();
    room.write("bad.csv", "");
    room.refuses(
        &["weather", sample("saltmere.csv").to_str().unwrap(), "bad.csv"],
        "error: bad.csv: the weather file is empty\n\nhint: fetch the file again: it holds no hours\n",
    );
}

//! Studies that cannot be run: one clear text, exit code 2, and nothing left behind.

use std::fs;

use super::room::{Room, changed, study_on};

/// The study is refused with this text on stderr.
fn refused(study: impl AsRef<[u8]>, stderr: &str) {
    let room = Room::new();
    room.write("study.toml", study);
    room.refuses(&["run", "study.toml"], stderr);
    room.refuses(&["run", "study.toml", "--out", "x", "--force", "--json", "--quiet"], stderr);
}

#[test]
fn a_wrong_unit() {
    refused(
        changed(&[("\"145 W/K\"", "\"145 W\"")]),
        "\
error: `house.heat_loss`: a heat conductance is needed, but `W` measures a power
  --> study.toml:17:13
   |
17 | heat_loss = \"145 W\"              # conduction of the whole envelope, windows included
   |             ^^^^^^^ not a heat conductance

hint: units that fit: W/K, Btu/h°F

1 problem in study.toml
",
    );
}

#[test]
fn an_unknown_key() {
    refused(
        changed(&[("storeys", "stories")]),
        "\
error: `[house]` has no key `stories`
  --> study.toml:16:1
   |
16 | stories = 1
   | ^^^^^^^ unknown key

hint: did you mean `storeys`?

1 problem in study.toml
",
    );
}

#[test]
fn a_missing_key() {
    refused(
        changed(&[("bedrooms = 3\n", "")]),
        "\
error: `[house]` lacks the key `bedrooms`
  --> study.toml:12:1
   |
12 | [house]
   | ^^^^^^^ this table

1 problem in study.toml
",
    );
}

/// Twenty square metres of 1.6 W/m²K are 32 W/K.
#[test]
fn windows_that_leave_less_than_nothing_for_the_walls() {
    refused(
        changed(&[("\"145 W/K\"", "\"10 W/K\"")]),
        "\
error: the windows conduct 32 W/K, more than the 10 W/K of `house.heat_loss`, which includes them
  --> study.toml:17:13
   |
17 | heat_loss = \"10 W/K\"              # conduction of the whole envelope, windows included
   |             ^^^^^^^^ less than the windows alone

hint: raise `heat_loss`, or lower `area` or `u_value` of the windows: nothing is left for the walls

1 problem in study.toml
",
    );
}

#[test]
fn three_faults_are_told_in_one_go() {
    refused(
        changed(&[("140 m2", "140 m"), ("storeys", "stories"), ("efficiency = 0.95", "efficiency = 95")]),
        "\
error: `house.floor_area`: an area is needed, but `m` measures a length
  --> study.toml:13:14
   |
13 | floor_area = \"140 m\"
   |              ^^^^^^^ not an area

hint: units that fit: m2, ft2

error: `[house]` has no key `stories`
  --> study.toml:16:1
   |
16 | stories = 1
   | ^^^^^^^ unknown key

hint: did you mean `storeys`?

error: `house.heating.efficiency`: must lie between 0.3 and 6
  --> study.toml:48:14
   |
48 | efficiency = 95
   |              ^^ out of range

hint: write a fraction, not percent: 0.95

3 problems in study.toml
",
    );
}

#[test]
fn a_program_instead_of_text() {
    refused(
        b"\x7fELF\x02\x01\x01\0\xff\xfe\0",
        "\
error: the file is not UTF-8 text: line 1 holds a byte that is no part of a character
--> study.toml

hint: save it as UTF-8

1 problem in study.toml
",
    );
}

#[test]
fn two_byte_text() {
    refused(
        b"\xff\xfe[\0s\0",
        "\
error: the file is not UTF-8 text: line 1 holds a byte that is no part of a character
--> study.toml

hint: it looks like UTF-16: save it as UTF-8

1 problem in study.toml
",
    );
}

#[test]
fn an_empty_file() {
    refused(
        "",
        "\
error: the file is empty
--> study.toml

hint: a study has the tables [study], [site], [house], [ventilation] and [[unit]]

1 problem in study.toml
",
    );
}

#[test]
fn weather_given_as_a_study() {
    let room = Room::new();
    room.write("winter.csv", "month,day,hour_ending\n1,1,1\n");
    room.refuses(
        &["run", "winter.csv"],
        "\
error: this is not TOML: key with no value, expected `=`
 --> winter.csv:1:6
  |
1 | month,day,hour_ending
  |      ^ here

hint: a table is [name], a key is name = value, and text and quantities stand in quotation marks

1 problem in winter.csv
",
    );
}

#[test]
fn no_such_file() {
    Room::new().refuses(
        &["run", "nowhere.toml"],
        "error: nowhere.toml: cannot be read: there is no such file\n\n\
         hint: check the name; a relative path starts at the current folder\n",
    );
}

#[test]
fn a_folder_given_as_a_study() {
    let room = Room::new();
    fs::create_dir(room.path.join("house")).unwrap();
    room.refuses(
        &["run", "house"],
        "error: house: cannot be read: it is a folder\n\nhint: give a file, not a folder\n",
    );
}

#[test]
fn a_path_through_a_file() {
    let room = Room::new();
    room.write("house", "");
    room.refuses(
        &["run", "house/study.toml"],
        "error: house/study.toml: cannot be read: a part of the path is a file, not a folder\n\nhint: check the path\n",
    );
}

#[test]
fn weather_that_is_not_there() {
    refused(
        study_on("nowhere.csv"),
        "error: nowhere.csv: cannot be read: there is no such file\n\n\
         hint: `site.weather` names a file beside the study file, unless it is an absolute path\n",
    );
}

#[test]
fn weather_that_is_a_folder() {
    let room = Room::with_study("files");
    fs::create_dir(room.path.join("files")).unwrap();
    room.refuses(
        &["run", "study.toml"],
        "error: files: cannot be read: it is a folder\n\n\
         hint: `site.weather` names a file beside the study file, unless it is an absolute path\n",
    );
}

#[test]
fn windows_that_face_too_many_ways() {
    let window = |degrees: u32| {
        format!(
            "[[house.window]]\nfacing = \"{degrees} deg\"\narea = \"1 m2\"\nu_value = \"1 W/m2K\"\nsolar_gain = 0.4\n"
        )
    };
    let windows: String = (1..=5).map(|n| window(7 * n)).collect();
    let room = Room::new();
    room.done(&["new", "."]);
    room.write("study.toml", changed(&[("[house.heating]", &format!("{windows}\n[house.heating]"))]));
    room.refuses(
        &["run", "study.toml"],
        "error: study.toml: windows face 9 different ways; at most 8 are possible\n",
    );
}

#[test]
fn a_place_that_contradicts_the_weather_file_is_a_warning() {
    let room = Room::new();
    room.done(&["new", "."]);
    room.write(
        "study.toml",
        changed(&[("[house]", "latitude = \"45 deg\"\ntime_zone = \"-7 h\"\n\n[house]")]),
    );
    let said = room.done(&["run", "study.toml", "--hourly", "none"]);
    let first = said.err.lines().next().unwrap();
    assert_eq!(
        first,
        "frosthollow.csv: warning: The file says latitude 52.4°, but 45° was given: the latter was taken."
    );
    assert_eq!(said.err.matches("the latter was taken").count(), 1);
}

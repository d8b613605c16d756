//! `dewledger new`.

use std::fs;

use super::room::Room;

#[test]
fn a_new_study_runs_and_gives_the_demonstrations_results() {
    let room = Room::new();
    let said = room.done(&["new", "my-house"]);
    assert_eq!(
        said.out,
        "Wrote my-house/bungalow.toml and frosthollow.csv: an invented house in an invented climate.\n\
         Change what you know, then: dewledger run my-house/bungalow.toml\n\
         Or many houses like it: dewledger sweep my-house/sweep.toml\n"
    );
    assert_eq!(said.err, "");
    assert_eq!(
        room.files("my-house").into_keys().collect::<Vec<_>>(),
        ["bungalow.toml", "frosthollow.csv", "sweep.toml"]
    );
    room.done(&["run", "my-house/bungalow.toml", "--quiet"]);
    room.done(&["run", "--quiet"]);
    let mut own = room.files("dewledger-out/bungalow");
    let mut built_in = room.files("dewledger-out/demonstration");
    assert!(own.remove("manifest.json").is_some() && built_in.remove("manifest.json").is_some());
    // The report names the files that it was made from, and those lie elsewhere.
    for report in ["report.html", "report-one-page.html"] {
        assert!(own.remove(report).is_some() && built_in.remove(report).is_some());
    }
    assert_eq!(own["annual.csv"], built_in["annual.csv"]);
    assert!(own == built_in);
}

#[test]
fn a_study_that_is_there_is_replaced_only_with_force() {
    let room = Room::new();
    room.done(&["new", "x"]);
    let study = room.read("x/bungalow.toml");
    room.write("x/bungalow.toml", "mine");
    room.write("x/photo.jpg", "meow");
    room.refuses(
        &["new", "x"],
        "error: x/bungalow.toml: already exists\n\nhint: choose another folder, or add --force to replace it\n",
    );
    fs::remove_file(room.path.join("x/bungalow.toml")).unwrap();
    room.refuses(
        &["new", "x"],
        "error: x/frosthollow.csv: already exists\n\nhint: choose another folder, or add --force to replace it\n",
    );
    room.done(&["new", "x", "--force"]);
    assert_eq!(room.read("x/bungalow.toml"), study);
    assert_eq!(room.read("x/photo.jpg"), "meow");
    assert_eq!(room.files("x").len(), 4);
}

#[test]
fn a_folder_within_folders_is_made() {
    let room = Room::new();
    room.done(&["new", "a/b/c"]);
    assert_eq!(room.files("a/b/c").len(), 3);
}

#[test]
fn a_file_in_the_place_of_the_folder_is_named() {
    let room = Room::new();
    room.write("x", "a file");
    let said = room.run(&["new", "x"]);
    assert_eq!(said.err, "error: x: cannot be written: a file of that name is in the way\n");
    assert_eq!((said.code, said.out.as_str(), room.read("x").as_str()), (1, "", "a file"));
}

/// A study on another system's line ends, or saved with a byte-order mark, is the same study.
#[test]
fn an_editor_may_change_line_ends() {
    let room = Room::new();
    room.done(&["new", "."]);
    let text = room.read("bungalow.toml");
    room.write("crlf.toml", text.replace('\n', "\r\n"));
    room.write("bom.toml", format!("\u{feff}{text}"));
    for study in ["bungalow", "crlf", "bom"] {
        room.done(&["run", &format!("{study}.toml"), "--out", study, "--quiet", "--hourly", "none"]);
        assert_eq!(room.read(&format!("{study}/annual.csv")), room.read("bungalow/annual.csv"), "{study}");
    }
}

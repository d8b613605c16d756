//! Where results go, and what is never overwritten.

use std::fs;

use super::room::Room;

#[test]
fn a_folder_that_exists_is_refused_and_replaced_with_force() {
    let room = Room::new();
    room.done(&["run", "--quiet", "--out", "deep/er/x"]);
    room.refuses(
        &["run", "--quiet", "--hourly", "none", "--out", "deep/er/x"],
        "error: deep/er/x: already exists\n\nhint: choose another folder, or add --force to replace earlier results\n",
    );
    assert!(room.path.join("deep/er/x/hourly").exists());
    room.done(&["run", "--quiet", "--hourly", "none", "--out", "deep/er/x", "--force"]);
    assert!(!room.path.join("deep/er/x/hourly").exists());
    let beside: Vec<_> = fs::read_dir(room.path.join("deep/er")).unwrap().collect();
    assert_eq!(beside.len(), 1, "{beside:?}");
}

#[test]
fn force_on_a_folder_that_is_not_there_is_no_fault() {
    let room = Room::new();
    room.done(&["run", "--quiet", "--hourly", "none", "--out", "x/", "--force"]);
    assert!(room.path.join("x/annual.csv").exists());
}

#[test]
fn a_folder_of_somebody_elses_is_never_replaced() {
    let room = Room::new();
    fs::create_dir(room.path.join("photos")).unwrap();
    room.write("photos/cat.jpg", "meow");
    let message = "\
error: photos: is not a folder of results, so it is not replaced

hint: choose another folder; --force replaces only what this program wrote
";
    room.refuses(&["run", "--quiet", "--out", "photos", "--force"], message);
    // Many programs write a file of this name.
    for manifest in ["{\"name\": \"My page\", \"icons\": []}", "not even JSON", "[]", ""] {
        room.write("photos/manifest.json", manifest);
        room.refuses(&["run", "--quiet", "--out", "photos", "--force"], message);
    }
    assert_eq!(room.read("photos/cat.jpg"), "meow");
}

#[test]
fn results_with_something_of_the_users_among_them_are_not_replaced() {
    let room = Room::new();
    room.done(&["run", "--quiet", "--hourly", "none", "--out", "x"]);
    room.write("x/charts/notes.txt", "half a day's work");
    room.refuses(
        &["run", "--quiet", "--out", "x", "--force"],
        "error: x: holds `charts/notes.txt`, which this program did not write, so it is not replaced\n\n\
         hint: move that file elsewhere, or choose another folder\n",
    );
    fs::remove_file(room.path.join("x/charts/notes.txt")).unwrap();
    room.done(&["run", "--quiet", "--hourly", "none", "--out", "x", "--force"]);
}

#[test]
fn a_file_in_the_place_of_the_folder_is_not_replaced() {
    let room = Room::new();
    room.write("x", "a file");
    room.refuses(
        &["run", "--quiet", "--out", "x", "--force"],
        "error: x: is not a folder of results, so it is not replaced\n\n\
         hint: choose another folder; --force replaces only what this program wrote\n",
    );
}

/// The work is done but cannot be put down: exit code 1, one message with the folder's name.
#[test]
fn a_place_that_takes_no_folder_is_named() {
    let room = Room::new();
    room.write("x", "a file");
    let said = room.run(&["run", "--quiet", "--out", "x/y"]);
    assert_eq!(said.err, "error: x: cannot be written: a file of that name is in the way\n");
    assert_eq!((said.code, said.out.as_str()), (1, ""));
    assert_eq!(room.files("").len(), 1);
}

#[cfg(target_os = "linux")]
#[test]
fn a_place_that_takes_no_files_is_named() {
    let room = Room::new();
    let said = room.run(&["run", "--quiet", "--out", "/proc/dewledger"]);
    assert_eq!(said.err, "error: /proc/dewledger: cannot be written: there is no such file or folder\n");
    assert_eq!(said.code, 1);
}

#[test]
fn the_folder_is_named_after_the_study_and_numbered_when_taken() {
    let room = Room::with_study("frosthollow.csv");
    room.done(&["new", "."]);
    fs::rename(room.path.join("study.toml"), room.path.join("My Study (v2).toml")).unwrap();
    for folder in ["my-study-v2", "my-study-v2-2", "my-study-v2-3"] {
        let said = room.done(&["run", "My Study (v2).toml", "--hourly", "none"]);
        assert!(said.out.ends_with(&format!("\nResults: dewledger-out/{folder}\n")), "{}", said.out);
    }
}

#[test]
fn two_runs_at_the_same_time_both_find_a_place() {
    let room = Room::new();
    let mut children: Vec<_> =
        (0..3).map(|_| room.program(&["run", "--quiet", "--hourly", "none"]).spawn().unwrap()).collect();
    assert!(children.iter_mut().all(|child| child.wait().unwrap().success()));
    let mut names: Vec<_> = fs::read_dir(room.path.join("dewledger-out")).unwrap().flatten().collect();
    names.sort_by_key(fs::DirEntry::file_name);
    let names: Vec<_> = names.iter().map(|entry| entry.file_name().into_string().unwrap()).collect();
    assert_eq!(names, ["demonstration", "demonstration-2", "demonstration-3"]);
}

//! The program stopped half-way, and the program whose reader has gone.

use std::fs;
use std::path::Path;
use std::process::Stdio;
use std::thread::sleep;
use std::time::{Duration, Instant};

use super::room::Room;

fn names(folder: &Path) -> impl Iterator<Item = String> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    entries.map(|entry| entry.file_name().into_string().unwrap())
}

/// Names in a folder that are not hidden.
fn visible(folder: &Path) -> Vec<String> {
    names(folder).filter(|name| !name.starts_with('.')).collect()
}

fn hidden(folder: &Path) -> Vec<String> {
    names(folder).filter(|name| name.starts_with('.')).collect()
}

/// Kills a run after this long: its folder is either whole or not there.
fn killed_after(room: &Room, delay: Duration, whole: &[String]) -> bool {
    let mut run = room.program(&["run", "--quiet", "--out", "x"]).spawn().unwrap();
    sleep(delay);
    let _ = run.kill();
    run.wait().unwrap();
    let done = visible(&room.path) == ["x"];
    if done {
        assert_eq!(room.files("x").into_keys().collect::<Vec<_>>(), whole, "killed after {delay:?}");
        fs::remove_dir_all(room.path.join("x")).unwrap();
    } else {
        assert_eq!(visible(&room.path), [""; 0], "killed after {delay:?}");
    }
    done
}

#[test]
fn a_run_that_is_killed_leaves_whole_results_or_none() {
    let room = Room::new();
    let start = Instant::now();
    room.done(&["run", "--quiet", "--out", "x"]);
    let time = start.elapsed();
    let whole: Vec<String> = room.files("x").into_keys().collect();
    fs::remove_dir_all(room.path.join("x")).unwrap();
    for milliseconds in [5, 20, 50, 100, 200, 300, 400] {
        killed_after(&room, Duration::from_millis(milliseconds), &whole);
    }
    // Hours are written from half of the time on, the rest at the end: most of these fall into that time.
    for percent in [70, 80, 85, 90, 95, 100] {
        killed_after(&room, time * percent / 100, &whole);
    }
    room.done(&["run", "--quiet", "--out", "x"]);
    assert_eq!(room.files("x").into_keys().collect::<Vec<_>>(), whole);
    assert_eq!(hidden(&room.path), [""; 0], "what killed runs left is taken away by the next");
}

/// A run that begins while another writes: neither takes the other's folder for one that was left.
#[test]
fn runs_side_by_side_leave_each_other_alone() {
    let room = Room::new();
    let mut one = room.program(&["run", "--quiet", "--out", "x"]).spawn().unwrap();
    while !is_writing(&room) && one.try_wait().unwrap().is_none() {}
    room.done(&["run", "--quiet", "--out", "y"]);
    assert_eq!(one.wait().unwrap().code(), Some(0));
    let [x, y] = ["x", "y"].map(|name| {
        let mut files = room.files(name);
        // Says when it was made.
        assert!(files.remove("manifest.json").is_some());
        files
    });
    assert!(x == y);
    assert_eq!(hidden(&room.path), [""; 0]);
}

/// Whether a run has begun to write hours.
fn is_writing(room: &Room) -> bool {
    hidden(&room.path).iter().any(|name| room.path.join(name).join("hourly").exists())
}

/// Waits for the first hours and kills the run then, while others are still run.
#[test]
fn a_run_that_is_killed_while_it_writes_leaves_no_results() {
    let room = Room::new();
    let mut run = room.program(&["run", "--quiet", "--out", "x"]).spawn().unwrap();
    while !is_writing(&room) && run.try_wait().unwrap().is_none() {}
    let _ = run.kill();
    run.wait().unwrap();
    let left = visible(&room.path);
    assert!(left.is_empty() || (left == ["x"] && room.path.join("x/manifest.json").exists()), "{left:?}");
    assert!(!left.is_empty() || is_writing(&room));
    room.done(&["run", "--quiet", "--out", "y"]);
    assert_eq!(hidden(&room.path), [""; 0], "what a killed run left is taken away by the next");
}

#[test]
fn results_are_whole_even_if_the_replacement_of_earlier_ones_is_killed() {
    let room = Room::new();
    room.done(&["run", "--quiet", "--out", "x"]);
    let earlier = room.read("x/manifest.json");
    let mut run = room.program(&["run", "--quiet", "--out", "x", "--force"]).spawn().unwrap();
    sleep(Duration::from_millis(100));
    let _ = run.kill();
    run.wait().unwrap();
    let now = room.read("x/manifest.json");
    assert!(now == earlier || room.files("x").len() == 17);
    room.done(&["run", "--quiet", "--out", "x", "--force"]);
}

/// Whoever reads stops at once, as `head` does: no panic, no complaint, and the work is done.
#[test]
fn a_reader_that_goes_away_is_no_fault() {
    let room = Room::new();
    room.done(&["new", "s"]);
    room.write("air.csv", "dry_bulb_c,dew_point_c,pressure_pa\n20,9,101325\n");
    let commands: [&[&str]; 10] = [
        &["columns"],
        &["columns", "--json"],
        &["schema"],
        &["air", "--dry-bulb", "20 °C", "--dew-point", "9 °C"],
        &["air", "--from", "air.csv"],
        &["weather", "s/frosthollow.csv"],
        &["new", "t"],
        &["run", "--hourly", "none", "--out", "a"],
        &["run", "--hourly", "none", "--out", "b", "--json"],
        &["--help"],
    ];
    for arguments in commands {
        let mut child =
            room.program(arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        let err = String::from_utf8(output.stderr).unwrap();
        assert!(!err.contains("panicked"), "{arguments:?}: {err}");
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {err}");
    }
    assert!(room.path.join("a/manifest.json").exists() && room.path.join("b/manifest.json").exists());
}

#[test]
fn notes_that_nobody_reads_are_no_fault() {
    let room = Room::new();
    for (arguments, code) in [(&["run", "--hourly", "none"][..], 0), (&["run", "nowhere.toml"], 2)] {
        let mut child = room.program(arguments).stdout(Stdio::null()).stderr(Stdio::piped()).spawn().unwrap();
        drop(child.stderr.take());
        assert_eq!(child.wait().unwrap().code(), Some(code), "{arguments:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told() {
    let room = Room::new();
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = room.program(&["columns"]).stdout(full).stderr(Stdio::piped()).output().unwrap();
    let err = String::from_utf8(output.stderr).unwrap();
    assert_eq!(err, "error: stdout: cannot be written: No space left on device\n");
    assert_eq!(output.status.code(), Some(1));
}

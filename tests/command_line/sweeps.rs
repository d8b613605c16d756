//! `dewledger sweep`: a data set that comes out the same however it was made, and what is said of a sweep that cannot be.

use std::collections::BTreeMap;
use std::fs;
use std::process::Stdio;
use std::thread::sleep;
use std::time::Duration;

use super::room::Room;

const SMALL: &str = "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"sobol\"\nruns = 16\nseed = 7\npart = 2\n\
                     [vary.\"house.air_leakage\"]\nuniform = [\"4 L/s\", \"40 L/s\"]\n\
                     [vary.\"study.time_step\"]\none_of = [\"1 h\", \"30 min\"]\n";

fn room(sweep: &str) -> Room {
    let room = Room::new();
    room.done(&["new", "."]);
    // One unit in hourly steps: what is tested here is not the engine.
    let study =
        room.read("bungalow.toml").replace("[study]", "[study]\ntime_step = \"1 h\"\nlead_in = \"1 d\"");
    room.write("bungalow.toml", study.split("# The second passes").next().unwrap());
    room.write("sweep.toml", sweep);
    room
}

/// The parts, with their bytes.
fn parts(room: &Room, folder: &str) -> BTreeMap<String, Vec<u8>> {
    let mut files = room.files(folder);
    files.retain(|name, _| name.starts_with("part-"));
    files
}

#[test]
fn threads_shares_and_kills_change_no_byte() {
    let room = room(SMALL);
    let mut two = room.program(&["sweep", "sweep.toml", "--out", "whole", "--quiet"]);
    assert!(two.env("RAYON_NUM_THREADS", "2").status().unwrap().success());
    let whole = parts(&room, "whole");
    assert_eq!(whole.len(), 8);

    let mut one = room.program(&["sweep", "sweep.toml", "--out", "one", "--quiet"]);
    assert!(one.env("RAYON_NUM_THREADS", "1").status().unwrap().success());
    assert!(parts(&room, "one") == whole);

    room.done(&["sweep", "sweep.toml", "--out", "shared", "--quiet", "--share", "2/3"]);
    assert_eq!(
        parts(&room, "shared").into_keys().collect::<Vec<_>>(),
        ["part-00001.parquet", "part-00004.parquet", "part-00007.parquet"]
    );
    room.done(&["sweep", "sweep.toml", "--out", "shared", "--quiet", "--share", "1/3"]);
    room.done(&["sweep", "sweep.toml", "--out", "shared", "--quiet", "--share", "3/3"]);
    assert!(parts(&room, "shared") == whole);

    // Killed (signal 9) after times that follow no pattern, until it has had ten chances.
    for milliseconds in [3, 40, 170, 90, 260, 15, 120, 310, 60, 210] {
        let mut run = room.program(&["sweep", "sweep.toml", "--out", "killed", "--quiet"]);
        let mut run = run.stderr(Stdio::null()).spawn().unwrap();
        sleep(Duration::from_millis(milliseconds));
        let _ = run.kill();
        run.wait().unwrap();
        for (name, bytes) in parts(&room, "killed") {
            assert!(whole[&name] == bytes, "{name} after {milliseconds} ms");
        }
    }
    room.done(&["sweep", "sweep.toml", "--out", "killed", "--quiet"]);
    assert!(room.files("killed") == room.files("whole"));
}

#[test]
fn another_seed_gives_other_rows_and_does_not_mix() {
    let room = room(&SMALL.replace("runs = 16", "runs = 2"));
    room.done(&["sweep", "sweep.toml", "--out", "x", "--quiet"]);
    let before = parts(&room, "x");
    room.write("sweep.toml", SMALL.replace("runs = 16", "runs = 2").replace("seed = 7", "seed = 8"));
    room.refuses(
        &["sweep", "sweep.toml", "--out", "x"],
        "error: x: holds a sweep that is not this one: the sweep sweep.toml has changed\n\nhint: choose another folder with \
         --out, or add --force to begin again and remove the earlier parts\n",
    );
    assert!(parts(&room, "x") == before);
    room.done(&["sweep", "sweep.toml", "--out", "x", "--quiet", "--force"]);
    let after = parts(&room, "x");
    assert_eq!(after.len(), 1);
    assert!(after != before);
}

#[test]
fn a_part_that_is_broken_is_made_again() {
    let room = room(&SMALL.replace("runs = 16", "runs = 2"));
    room.done(&["sweep", "sweep.toml", "--out", "x", "--quiet"]);
    let before = room.files("x");
    fs::write(room.path.join("x/part-00000.parquet"), b"PAR1").unwrap();
    room.done(&["sweep", "sweep.toml", "--out", "x", "--quiet"]);
    assert!(room.files("x") == before);
}

/// Cooling must be set 1 K or more above heating: half of these runs cannot be.
#[test]
fn a_run_that_cannot_be_is_a_row_with_its_reason() {
    let room = room(
        "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"grid\"\n\
         [vary.\"house.cooling.set_point\"]\none_of = [\"26 °C\", \"27 °C\", \"19 °C\", \"18 °C\"]\n",
    );
    let said = room.done(&["sweep", "sweep.toml", "--json", "--quiet"]);
    let told: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!((&told["rows_written"], &told["rows_failed"]), (&4.into(), &2.into()));
}

#[test]
fn a_sweep_file_with_slips_is_told_all_of_them() {
    let room = room(
        "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"sobl\"\nrun = 4\n[vary.\"house.air_leakage\"]\n\
         uniform = [\"4 L/s\", \"40 cfm\"]\n",
    );
    let said = room.run(&["sweep", "sweep.toml"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    for told in [
        "there is no plan \"sobl\"",
        "did you mean \"sobol\"?",
        "[sweep] has no key `run`",
        "did you mean `runs`?",
        "values of one input have one unit",
        "sweep.toml:6:",
        "3 problems in sweep.toml",
    ] {
        assert!(said.err.contains(told), "{told} is not in:\n{}", said.err);
    }
}

#[test]
fn a_path_that_leads_nowhere_names_the_nearest() {
    let room = room(
        "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"sobol\"\nruns = 4\n[vary.\"house.air_leakge\"]\n\
         uniform = [\"4 L/s\", \"40 L/s\"]\n",
    );
    let said = room.run(&["sweep", "sweep.toml"]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("`house.air_leakge` leads nowhere in the study"), "{}", said.err);
    assert!(said.err.contains("hint: did you mean `house.air_leakage`?"), "{}", said.err);
    assert!(said.err.contains("sweep.toml:5:"), "{}", said.err);
}

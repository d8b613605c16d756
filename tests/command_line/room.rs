//! A folder of its own for each test, gone when the test ends, and the program run in it.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

/// What a run of the program left: its exit code and its words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// A folder that only one test uses.
pub struct Room {
    pub path: PathBuf,
}

impl Room {
    pub fn new() -> Self {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        let number = NEXT.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("dewledger-test-{}-{number}", std::process::id()));
        fs::create_dir(&path).unwrap();
        Self { path }
    }

    /// A room with the starter study, its weather line changed, as `study.toml`.
    pub fn with_study(weather: &str) -> Self {
        let room = Self::new();
        room.write("study.toml", study_on(weather));
        room
    }

    pub fn write(&self, name: &str, content: impl AsRef<[u8]>) {
        fs::write(self.path.join(name), content).unwrap();
    }

    pub fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path.join(name)).unwrap_or_else(|cause| panic!("{name}: {cause}"))
    }

    /// The program, about to be started here.
    pub fn program(&self, arguments: &[&str]) -> Command {
        let mut program = Command::new(env!("CARGO_BIN_EXE_dewledger"));
        program.current_dir(&self.path).args(arguments).env("RUST_BACKTRACE", "0").stdin(Stdio::null());
        program
    }

    pub fn run(&self, arguments: &[&str]) -> Said {
        said(self.program(arguments).output().unwrap())
    }

    /// Runs the program with this text on its standard input.
    pub fn run_fed(&self, arguments: &[&str], input: impl AsRef<[u8]>) -> Said {
        let mut program = self.program(arguments);
        program.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = program.spawn().unwrap();
        // The answers of these tests fit a pipe, so all may be fed before any is read.
        child.stdin.take().unwrap().write_all(input.as_ref()).unwrap();
        said(child.wait_with_output().unwrap())
    }

    /// Runs the program where it must succeed, and answers what it printed.
    pub fn done(&self, arguments: &[&str]) -> Said {
        let said = self.run(arguments);
        assert_eq!(said.code, 0, "{arguments:?}: {}", said.err);
        said
    }

    /// Every file below a folder of the room, with its bytes.
    pub fn files(&self, folder: &str) -> BTreeMap<String, Vec<u8>> {
        let mut found = BTreeMap::new();
        collect(&self.path.join(folder), "", &mut found);
        found
    }

    /// Runs the program where its input is at fault: exit code 2, this text on stderr, nothing on stdout, and nothing
    /// in the room made, changed or removed.
    pub fn refuses(&self, arguments: &[&str], stderr: &str) {
        let before = self.everything();
        let said = self.run(arguments);
        assert_eq!(said.err, stderr, "{arguments:?}");
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{arguments:?}");
        assert_eq!(self.everything(), before, "{arguments:?}");
    }

    /// Files and folders, hidden ones too.
    fn everything(&self) -> (Vec<String>, BTreeMap<String, Vec<u8>>) {
        let mut folders = Vec::new();
        collect_folders(&self.path, "", &mut folders);
        folders.sort();
        (folders, self.files(""))
    }
}

impl Drop for Room {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.path);
    }
}

fn said(output: std::process::Output) -> Said {
    Said {
        code: output.status.code().unwrap_or(-1),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

fn collect(folder: &Path, inside: &str, found: &mut BTreeMap<String, Vec<u8>>) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = format!("{inside}{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            collect(&entry.path(), &format!("{name}/"), found);
        } else {
            found.insert(name, fs::read(entry.path()).unwrap());
        }
    }
}

fn collect_folders(folder: &Path, inside: &str, found: &mut Vec<String>) {
    for entry in fs::read_dir(folder).unwrap().flatten().filter(|entry| entry.path().is_dir()) {
        let name = format!("{inside}{}", entry.file_name().to_string_lossy());
        collect_folders(&entry.path(), &format!("{name}/"), found);
        found.push(name);
    }
}

/// The workspace's folder.
pub fn workspace() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

/// Path of a published year.
pub fn published(name: &str) -> PathBuf {
    workspace().join("tests/data/weather").join(name)
}

/// Path of an invented climate.
pub fn sample(name: &str) -> PathBuf {
    workspace().join("weather-samples").join(name)
}

/// The starter study as `dewledger new` writes it.
pub fn starter() -> String {
    let room = Room::new();
    room.done(&["new", "."]);
    room.read("bungalow.toml")
}

/// The starter study with another weather file.
pub fn study_on(weather: &str) -> String {
    changed(&[("weather = \"frosthollow.csv\"", &format!("weather = \"{weather}\""))])
}

/// The starter study after changes, each at its first place below the remarks at the head.
pub fn changed(changes: &[(&str, &str)]) -> String {
    let starter = starter();
    let (head, rest) = starter.split_at(starter.find("[study]").unwrap());
    let mut rest = rest.to_owned();
    for (from, to) in changes {
        assert!(rest.contains(from), "the starter study no longer holds {from}");
        rest = rest.replacen(from, to, 1);
    }
    format!("{head}{rest}")
}

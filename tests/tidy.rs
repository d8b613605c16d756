//! Keeps the shape of the workspace: who may import whom, file sizes, where `unsafe`, files, the console and serde may be,
//! what the model may calculate with, what lies at the top level.
//!
//! Every rule is a function from a source to breaches, each with file, line, rule and reason; every rule has a test that
//! runs it over the tree, and made-up breaches that it must find. Not here: how sources are read (`tidy/source.rs`),
//! licences (`licences.rs`).
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "tidy/source.rs"]
mod source;

use std::fmt::Write as _;
use std::fs;
use std::path::PathBuf;

use source::{Breach, Source, Words, files, from_root, root, sources, test_files};

/// A member of the workspace, by folder, and the members that it may import: those before it in the flow of the data.
const DIRECTION: [(&str, &[&str]); 14] = [
    ("crates/lanes", &[]),
    ("crates/psychrometrics", &["lanes"]),
    ("crates/weather", &["psychrometrics"]),
    ("crates/exchanger", &["psychrometrics", "lanes"]),
    ("crates/economics", &[]),
    ("crates/sampling", &[]),
    ("crates/simulation", &["exchanger", "weather", "psychrometrics", "lanes"]),
    ("crates/study", &["simulation", "exchanger", "weather", "psychrometrics", "lanes", "economics"]),
    (
        "crates/reporting",
        &["study", "simulation", "exchanger", "weather", "psychrometrics", "lanes", "economics"],
    ),
    ("crates/report", &["reporting", "study", "simulation", "economics"]),
    (
        "crates/sweep",
        &["study", "simulation", "exchanger", "weather", "psychrometrics", "lanes", "economics", "sampling"],
    ),
    (
        "crates/cli",
        &[
            "report",
            "reporting",
            "sweep",
            "sampling",
            "study",
            "simulation",
            "exchanger",
            "weather",
            "psychrometrics",
            "lanes",
            "economics",
        ],
    ),
    ("crates/python", &["dewledger", "weather", "psychrometrics"]),
    ("benches", &["study", "reporting", "simulation", "exchanger", "weather", "psychrometrics", "lanes"]),
];

/// Entries of the top level, beside those that begin with a dot. The last three are made by the README's commands.
const TOP_LEVEL: [&str; 12] = [
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "crates",
    "weather-samples",
    "tests",
    "benches",
    "target",
    "dewledger-out",
    "my-house",
];

const LONGEST_FILE: usize = 500;
const MOST_DATA_BYTES: u64 = 15_000_000;

const UNSAFE: Words = Words {
    any_of: &["unsafe"],
    rule: "is only for crates/lanes/src/dispatch.rs and x86.rs",
    why: "two short files can be read again whenever they change; a workspace cannot",
};
const OUTSIDE: Words = Words {
    any_of: &["std::fs", "fs::", "File::", "OpenOptions", "std::env", "std::process", "std::net"],
    rule: "is only for crates/cli and crates/sweep",
    why: "the crates below it take and return text, so that they can be tested and used anywhere",
};
const CONSOLE: Words = Words {
    any_of: &["println!", "eprintln!", "print!", "eprint!", "dbg!", "stdout(", "stderr("],
    rule: "is only for crates/cli",
    why: "one place decides what goes to the screen and how it is worded",
};
const SERDE: Words = Words {
    any_of: &["serde", "serde_json", "Serialize", "Deserialize"],
    rule: "is only for crates/study, crates/reporting, crates/sweep and crates/cli",
    why: "if the model's own types were written to files, renaming a field would break users' files",
};
const PANICS: Words = Words {
    any_of: &[".unwrap()", ".expect(", "panic!", "todo!", "unimplemented!"],
    rule: "is only for tests",
    why: "whoever runs the program gets an error that says what is wrong, never a crash",
};
const ROUNDED_BY_THE_MACHINE: Words = Words {
    any_of: &[
        ".powf(",
        "::powf(",
        ".powi(",
        "::powi(",
        ".mul_add(",
        "::mul_add(",
        ".sin(",
        ".cos(",
        ".tan(",
        ".tanh(",
        ".sinh(",
        ".cosh(",
        ".atan(",
        ".exp2(",
        ".exp_m1(",
        ".ln_1p(",
        ".log10(",
        ".log2(",
        ".cbrt(",
        ".hypot(",
        "f64::exp(",
        "f64::ln(",
    ],
    rule: "is not for the model",
    why: "machines and row widths round it in different ways, and the same house must give the same bits everywhere",
};

/// What a manifest lists under dependencies of any kind, with the line.
fn dependencies(manifest: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let mut listing = false;
    for (line, text) in manifest.lines().enumerate() {
        let text = text.trim();
        if let Some(table) = text.strip_prefix('[') {
            let table = table.trim_end_matches(']');
            listing = table.ends_with("dependencies");
            if let Some((_, name)) = table.split_once("dependencies.") {
                found.push((line + 1, name.to_owned()));
            }
        } else if listing && !text.starts_with('#') {
            let name = text.split(['.', '=', ' ']).next().unwrap_or_default();
            found.extend((!name.is_empty()).then(|| (line + 1, name.to_owned())));
        }
    }
    found
}

fn imports(folder: &str, manifest: &str) -> Vec<Breach> {
    let breach =
        |line: usize, rule: String, why| Breach { place: format!("{folder}/Cargo.toml:{line}"), rule, why };
    let Some((_, allowed)) = DIRECTION.iter().find(|(listed, _)| *listed == folder) else {
        let why = "a crate whose place in the flow nobody wrote down soon imports everything";
        return vec![breach(1, "is not in the table of tests/tidy.rs".to_owned(), why)];
    };
    let mut found = Vec::new();
    for (line, name) in dependencies(manifest) {
        let ours = DIRECTION.iter().any(|(listed, _)| listed.rsplit('/').next() == Some(&name))
            || name == "dewledger";
        if ours && !allowed.contains(&name.as_str()) {
            let why = "data flows one way, and a crate can be read and tested with those below it alone";
            found.push(breach(line, format!("`{name}` may not be imported here"), why));
        }
        if name.starts_with("serde") && !may_serialise(folder) {
            found.push(breach(line, format!("`{name}` {}", SERDE.rule), SERDE.why));
        }
    }
    found
}

/// `study` reads a file; `reporting` and `sweep` write a guide and manifests made of types of their own; `cli` shows both.
fn may_serialise(path: &str) -> bool {
    ["crates/study", "crates/reporting", "crates/report", "crates/sweep", "crates/cli"]
        .iter()
        .any(|place| path.starts_with(place))
}

fn length(source: &Source) -> Vec<Breach> {
    let lines = source.text.lines().count();
    let rule = || format!("{lines} lines, more than {LONGEST_FILE}");
    let why = "nobody reads a longer one to its end";
    (lines > LONGEST_FILE).then(|| source.breach(lines, rule(), why)).into_iter().collect()
}

fn beginning(source: &Source) -> Vec<Breach> {
    let silent = source.in_src() && !source.text.starts_with("//!");
    let why = "a reader wants to know what is here, what is not, and what to read next";
    silent.then(|| source.breach(1, "does not begin with `//!`".to_owned(), why)).into_iter().collect()
}

fn unsafe_code(source: &Source) -> Vec<Breach> {
    let allowed = ["crates/lanes/src/dispatch.rs", "crates/lanes/src/x86.rs"].contains(&source.path.as_str());
    if allowed { Vec::new() } else { source.uses(&UNSAFE) }
}

fn outside(source: &Source) -> Vec<Breach> {
    let held = source.in_src() && !source.is_in(&["crates/cli/", "crates/sweep/"]);
    if held { source.uses(&OUTSIDE) } else { Vec::new() }
}

fn console(source: &Source) -> Vec<Breach> {
    let held = source.in_src() && !source.is_in(&["crates/cli/"]);
    if held { source.uses(&CONSOLE) } else { Vec::new() }
}

fn serde(source: &Source) -> Vec<Breach> {
    let held = source.in_src() && !may_serialise(&source.path);
    if held { source.uses(&SERDE) } else { Vec::new() }
}

fn panics(source: &Source) -> Vec<Breach> {
    if source.in_src() { source.uses(&PANICS) } else { Vec::new() }
}

/// The study and the atmosphere use a power once, before the hours begin; weather is made before them too.
fn rounded_by_the_machine(source: &Source) -> Vec<Breach> {
    const MODEL: [&str; 5] = [
        "crates/lanes/src/",
        "crates/psychrometrics/src/",
        "crates/exchanger/src/",
        "crates/simulation/src/",
        "crates/study/src/",
    ];
    const BEFORE_THE_HOURS: [&str; 2] =
        ["crates/psychrometrics/src/atmosphere.rs", "crates/study/src/build.rs"];
    let held = source.is_in(&MODEL) && !source.is_in(&BEFORE_THE_HOURS);
    if held { source.uses(&ROUNDED_BY_THE_MACHINE) } else { Vec::new() }
}

#[track_caller]
fn assert_none(breaches: &[Breach]) {
    let mut told = String::new();
    for Breach { place, rule, why } in breaches {
        writeln!(told, "{place}: {rule}\n    because {why}").unwrap();
    }
    assert!(breaches.is_empty(), "{} broken\n{told}", breaches.len());
}

/// The tree keeps the rule, and the rule finds its breach in each line of a made-up source.
#[track_caller]
fn holds(rule: fn(&Source) -> Vec<Breach>, path: &str, breaches: &str) {
    for line in breaches.lines() {
        assert_eq!(rule(&Source::new(path, line)).len(), 1, "the rule overlooks {line:?}");
    }
    assert_none(&sources().iter().flat_map(rule).collect::<Vec<_>>());
}

#[test]
fn every_crate_is_listed_and_imports_only_those_below_it() {
    let manifests: Vec<PathBuf> = files().into_iter().filter(|path| path.ends_with("Cargo.toml")).collect();
    let mut found = Vec::new();
    for path in manifests {
        let folder = from_root(path.parent().unwrap());
        if !folder.is_empty() {
            found.extend(imports(&folder, &fs::read_to_string(&path).unwrap()));
        }
    }
    assert_none(&found);
}

#[test]
fn an_import_from_above_and_a_crate_that_is_not_listed_are_found() {
    let count = |folder, manifest| imports(folder, manifest).len();
    assert_eq!(count("crates/exchanger", "[dependencies]\nlanes.workspace = true\n"), 0);
    assert_eq!(count("crates/exchanger", "[dependencies]\n# comment\nstudy.workspace = true\n"), 1);
    assert_eq!(count("crates/lanes", "[dev-dependencies]\nsimulation = { path = \"../simulation\" }\n"), 1);
    assert_eq!(count("crates/weather", "[target.'cfg(unix)'.dependencies.lanes]\nworkspace = true\n"), 1);
    assert_eq!(count("crates/simulation", "[dependencies]\nserde_json = { workspace = true }\n"), 1);
    assert_eq!(count("crates/lanes", "[package]\nname = \"study\"\n"), 0);
    assert_eq!(count("crates/new", ""), 1);
}

#[test]
fn no_source_is_longer_than_five_hundred_lines() {
    assert_eq!(length(&Source::new("tests/long.rs", &"\n".repeat(501))).len(), 1);
    assert_none(&sources().iter().flat_map(length).collect::<Vec<_>>());
}

#[test]
fn every_source_says_first_what_it_holds() {
    holds(beginning, "crates/x/src/x.rs", "use std::fmt;\n// one slash too few");
}

#[test]
fn unsafe_is_only_where_instruction_sets_are_chosen() {
    holds(unsafe_code, "crates/x/tests/x.rs", "unsafe fn f() {}\nlet x = unsafe { f() };");
}

#[test]
fn only_the_command_line_reads_files_and_the_environment() {
    holds(outside, "crates/x/src/x.rs", "use std::fs;\nFile::open(path)\nlet all = std::env::args();");
}

#[test]
fn only_the_command_line_talks() {
    holds(console, "crates/x/src/x.rs", "println!();\n    eprint!(\"{x}\")\nlet x = dbg!(y);");
}

#[test]
fn only_the_study_the_reports_and_the_command_line_serialise() {
    holds(serde, "crates/x/src/x.rs", "use serde as s;\n#[derive(Serialize)]\nserde_json::to_string(&x)");
}

#[test]
fn nothing_outside_tests_panics_on_purpose() {
    holds(panics, "crates/x/src/x.rs", "x.unwrap();\nx.expect(\"y\")\npanic!(\"y\")\n_ => todo!(),");
}

#[test]
fn the_model_uses_no_function_that_machines_round_in_their_own_way() {
    holds(
        rounded_by_the_machine,
        "crates/lanes/src/x.rs",
        "x.powf(0.2)\nx.mul_add(y, z)\nlet y = f64::exp(x);",
    );
}

#[test]
fn the_top_level_holds_only_what_belongs_there() {
    let why = "whoever opens the folder sees at once what there is; all else has a place in a crate";
    let mut found = Vec::new();
    for entry in fs::read_dir(root()).unwrap() {
        let place = entry.unwrap().file_name().into_string().unwrap();
        if !place.starts_with('.') && !TOP_LEVEL.contains(&place.as_str()) {
            found.push(Breach { place, rule: "is not for the top level".to_owned(), why });
        }
    }
    assert_none(&found);
}

#[test]
fn data_stays_below_fifteen_megabytes() {
    let data = files().into_iter().filter(|path| path.extension().is_none_or(|e| e != "rs"));
    let mut sizes: Vec<(u64, PathBuf)> =
        data.map(|path| (fs::metadata(&path).unwrap().len(), path)).collect();
    sizes.sort();
    let total: u64 = sizes.iter().map(|(size, _)| size).sum();
    let largest = sizes.last().map(|(size, path)| format!("{} with {size} bytes", from_root(path)));
    let why = "everybody who takes the project downloads all of it";
    assert!(
        total < MOST_DATA_BYTES,
        "{total} bytes, most of them {largest:?}: more than {MOST_DATA_BYTES}; {why}"
    );
}

#[test]
fn comments_texts_and_tests_are_not_taken_for_code() {
    let text = "let a = \"unsafe \\\" {\"; // unsafe\n/* unsafe /* */ unsafe */ let b = r#\"unsafe \" \"#;\n\
                let c = '\"'; let d: &'static str = x; unsafe {}\n#[cfg(test)]\nmod t { fn f() { unsafe {} } }\n\
                #[cfg(test)]\nmod u;\nunsafe {}\n";
    let places: Vec<String> =
        Source::new("crates/x/src/x.rs", text).uses(&UNSAFE).into_iter().map(|breach| breach.place).collect();
    assert_eq!(places, ["crates/x/src/x.rs:3", "crates/x/src/x.rs:8"]);
    let source =
        Source::new("crates/x/src/y.rs", "#[cfg(test)]\n#[path = \"z.rs\"]\nmod z;\n#[cfg(test)]\nmod w;\n");
    assert_eq!(test_files(&source), ["crates/x/src/z.rs", "crates/x/src/y/w.rs", "crates/x/src/y/w/mod.rs"]);
}

/// A text or comment whose end was overlooked would hide the code after it from every rule.
#[test]
fn braces_balance_in_every_source_that_was_read() {
    for source in sources() {
        let count = |brace| source.code.matches(brace).count();
        assert_eq!(count('{'), count('}'), "{} was not read to the letter", source.path);
    }
}

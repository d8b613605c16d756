//! Keeps the shape of the workspace: who may import whom, file sizes, where `unsafe`, files and the console may be.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};

/// Crate and the workspace crates that it may import.
const DIRECTION: [(&str, &[&str]); 8] = [
    ("lanes", &[]),
    ("psychrometrics", &["lanes"]),
    ("weather", &["psychrometrics"]),
    ("exchanger", &["psychrometrics", "lanes"]),
    ("simulation", &["exchanger", "weather", "psychrometrics", "lanes"]),
    ("study", &["simulation", "exchanger", "weather", "psychrometrics"]),
    ("reporting", &["study", "simulation", "exchanger", "weather", "psychrometrics"]),
    ("cli", &["reporting", "study", "simulation", "exchanger", "weather", "psychrometrics", "lanes"]),
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// Sources under `crates/*/src`, with the crate's name, the path inside it and the text.
fn sources() -> Vec<(String, String, String)> {
    let mut all = Vec::new();
    for (name, _) in DIRECTION {
        let folder = root().join("crates").join(name).join("src");
        let mut files = Vec::new();
        rust_files(&folder, &mut files);
        for file in files {
            let inside = file.strip_prefix(&folder).unwrap().display().to_string();
            all.push((name.to_owned(), inside, fs::read_to_string(file).unwrap()));
        }
    }
    assert!(all.len() > 60, "{} sources", all.len());
    all
}

#[test]
fn every_crate_is_listed_here_and_imports_only_what_it_may() {
    for entry in fs::read_dir(root().join("crates")).unwrap() {
        let folder = entry.unwrap();
        let name = folder.file_name().into_string().unwrap();
        let allowed = DIRECTION.iter().find(|(listed, _)| *listed == name).map(|(_, allowed)| *allowed);
        let allowed = allowed.unwrap_or_else(|| panic!("crates/{name} is not in the table of this test"));
        let manifest = fs::read_to_string(folder.path().join("Cargo.toml")).unwrap();
        let after = manifest.split("[dependencies]").nth(1).unwrap();
        let dependencies = after.split("\n[").next().unwrap();
        for (other, _) in DIRECTION {
            let imports = dependencies.lines().any(|line| line.trim() == format!("{other}.workspace = true"));
            assert!(!imports || allowed.contains(&other), "crates/{name} must not import {other}");
        }
    }
}

#[test]
fn no_source_is_longer_than_five_hundred_lines_and_each_says_what_it_holds() {
    for (name, file, text) in sources() {
        assert!(text.lines().count() <= 500, "{name}/{file}: more than 500 lines");
        assert!(text.starts_with("//!"), "{name}/{file}: begins without `//!`");
    }
}

#[test]
fn unsafe_is_only_where_instruction_sets_are_chosen() {
    for (name, file, text) in sources() {
        let allowed = name == "lanes" && (file == "dispatch.rs" || file == "x86.rs");
        let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
        let used = code.into_iter().any(|line| line.contains("unsafe {") || line.contains("unsafe fn"));
        assert!(allowed || !used, "{name}/{file}: unsafe");
    }
}

#[test]
fn only_the_command_line_reads_files_and_talks() {
    for (name, file, text) in sources() {
        for word in ["std::fs", "File::open", "println!(", "eprintln!("] {
            let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
            let used = code.into_iter().any(|line| line.contains(word));
            assert!(name == "cli" || !used, "{name}/{file}: {word}");
        }
    }
}

#[test]
fn the_model_uses_no_power_function_and_no_fused_multiply_add() {
    for (name, file, text) in sources() {
        let model =
            matches!(name.as_str(), "lanes" | "exchanger" | "simulation") && !file.ends_with("_tests.rs");
        for word in [".powf(", ".mul_add(", ".powi("] {
            assert!(!model || !text.contains(word), "{name}/{file}: {word}");
        }
    }
}

#[test]
fn the_top_level_holds_only_what_belongs_there() {
    const ALLOWED: [&str; 12] = [
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
    for entry in fs::read_dir(root()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(name.starts_with('.') || ALLOWED.contains(&name.as_str()), "{name} at the top level");
    }
}

//! Every package that is built in, or that tests need, has a permissive licence and comes from the public registry.
//!
//! `.deny.toml` says the same to cargo-deny; this test needs only Rust. Not here: who may import whom (`tidy.rs`).
#![allow(clippy::unwrap_used, clippy::panic)]

use std::path::Path;
use std::process::{Command, Output};

/// Licences that ask for no more than their notice, in alphabetical order.
const PERMISSIVE: [&str; 13] = [
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];
const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Whether one may use a package under permissive licences alone: `AND` binds closer than `OR`, brackets closest; `/` is an old
/// way to write `OR`.
fn is_permissive(expression: &str) -> bool {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let (kept, rest) = any_choice(&words);
    kept && rest.is_empty()
}

fn any_choice<'a>(words: &'a [&'a str]) -> (bool, &'a [&'a str]) {
    let (mut kept, mut rest) = all_parts(words);
    while let Some(("OR", next)) = first(rest) {
        let (choice, after) = all_parts(next);
        (kept, rest) = (kept | choice, after);
    }
    (kept, rest)
}

fn all_parts<'a>(words: &'a [&'a str]) -> (bool, &'a [&'a str]) {
    let (mut kept, mut rest) = one_part(words);
    while let Some(("AND", next)) = first(rest) {
        let (part, after) = one_part(next);
        (kept, rest) = (kept & part, after);
    }
    (kept, rest)
}

fn one_part<'a>(words: &'a [&'a str]) -> (bool, &'a [&'a str]) {
    match words {
        ["(", inside @ ..] => match any_choice(inside) {
            (kept, [")", rest @ ..]) => (kept, rest),
            (_, rest) => (false, rest),
        },
        [name, "WITH", exception, rest @ ..] => {
            (PERMISSIVE.contains(&format!("{name} WITH {exception}").as_str()), rest)
        }
        [name, rest @ ..] => (PERMISSIVE.contains(name), rest),
        [] => (false, words),
    }
}

fn first<'a>(words: &'a [&'a str]) -> Option<(&'a str, &'a [&'a str])> {
    words.split_first().map(|(first, rest)| (*first, rest))
}

fn cargo_metadata(more: &[&str]) -> Output {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    Command::new(cargo)
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .args(more)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap()
}

/// The packages of every platform. Where only this platform's were downloaded, as `cargo test` alone does, those of this
/// platform; `.ci/run` fetches all of them first.
fn packages() -> Vec<serde_json::Value> {
    let mut output = cargo_metadata(&[]);
    if !output.status.success() {
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(told.contains("--offline"), "{told}");
        println!("only this platform's packages were looked at; `cargo fetch` brings the others");
        output = cargo_metadata(&["--filter-platform", &this_platform()]);
    }
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    metadata["packages"].as_array().unwrap().clone()
}

fn this_platform() -> String {
    let rustc = std::env::var("RUSTC").unwrap_or_else(|_| "rustc".to_owned());
    let output = Command::new(rustc).arg("-vV").output().unwrap();
    let told = String::from_utf8(output.stdout).unwrap();
    told.lines().find_map(|line| line.strip_prefix("host: ")).unwrap().to_owned()
}

#[test]
fn every_dependency_has_a_permissive_licence() {
    let packages = packages();
    assert!(packages.len() > 50, "only {} packages", packages.len());
    for package in packages {
        let licence = package["license"].as_str().unwrap_or("none given");
        assert!(
            is_permissive(licence),
            "{} {}: its licence, {licence}, is not among the permissive ones of this test",
            package["name"],
            package["version"]
        );
    }
}

#[test]
fn every_dependency_comes_from_the_public_registry_or_from_this_tree() {
    for package in packages() {
        let source = package["source"].as_str().unwrap_or(REGISTRY);
        assert_eq!(source, REGISTRY, "{}", package["name"]);
    }
}

#[test]
fn cargo_deny_is_told_the_same_licences_and_registry() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../.deny.toml");
    let text = std::fs::read_to_string(path).unwrap();
    let list = text.split("\nallow = [").nth(1).and_then(|rest| rest.split(']').next()).unwrap();
    let told: Vec<&str> = list.split(',').map(|name| name.trim().trim_matches('"')).collect();
    let told: Vec<&str> = told.into_iter().filter(|name| !name.is_empty()).collect();
    assert_eq!(told, PERMISSIVE);
    assert!(text.contains(REGISTRY.trim_start_matches("registry+")));
}

/// Expected by the rules of SPDX expressions (ISO/IEC 5962, annex D).
#[test]
fn licence_expressions_are_read_as_they_are_meant() {
    for good in [
        "MIT",
        "MIT/Apache-2.0",
        "GPL-3.0-only OR MIT",
        "(MIT OR Apache-2.0) AND Unicode-3.0",
        "Apache-2.0 WITH LLVM-exception OR GPL-2.0-only",
        "GPL-2.0-only AND MIT OR Zlib",
    ] {
        assert!(is_permissive(good), "{good}");
    }
    for bad in [
        "",
        "none given",
        "GPL-3.0-only",
        "MIT AND GPL-3.0-only",
        "(MIT OR Zlib) AND GPL-3.0-only",
        "(MIT",
        "MIT)",
        "GPL-2.0-only WITH LLVM-exception",
        "MIT WITH",
    ] {
        assert!(!is_permissive(bad), "{bad}");
    }
}

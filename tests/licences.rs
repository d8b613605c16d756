//! Every package that is built in has a permissive licence.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use std::process::Command;

const PERMISSIVE: [&str; 14] = [
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Zlib",
    "ISC",
    "Unlicense",
    "Unicode-3.0",
    "BSL-1.0",
    "CC0-1.0",
    "0BSD",
    "Apache-2.0 WITH LLVM-exception",
    "NCSA",
];

/// One of the alternatives holds if each of its parts is permissive.
fn is_permissive(expression: &str) -> bool {
    let plain = expression.replace('/', " OR ").replace(['(', ')'], "");
    plain.split(" OR ").any(|choice| choice.split(" AND ").all(|part| PERMISSIVE.contains(&part.trim())))
}

#[test]
fn every_dependency_has_a_permissive_licence() {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let output = Command::new(cargo)
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let metadata: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() > 50);
    for package in packages {
        let licence = package["license"].as_str().unwrap_or("none");
        assert!(is_permissive(licence), "{}: {licence}", package["name"]);
    }
}

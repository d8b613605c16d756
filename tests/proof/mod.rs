//! What a test measured against the outside, written down as it runs: one file for each row in `target/validation`, from which
//! `tests/python/page.py` makes `crates/cli/docs/validation.md`. A row that no test wrote cannot be on the page.
//!
//! Included by path from tests of any crate; it needs no dependency. Not here: the checks; rows of the checks in
//! Python (`tests/python/rows.py`).
#![allow(clippy::unwrap_used, clippy::panic, dead_code, reason = "a helper that fails is a test that fails")]

use std::fmt::Write as _;
use std::path::Path;

/// What was checked, against what, and why so far off is allowed.
#[derive(Clone, Copy)]
pub struct Claim<'a> {
    /// Where it belongs on the page, such as `core`.
    pub area: &'a str,
    pub quantity: &'a str,
    /// Where the expected values are from, with version or edition.
    pub source: &'a str,
    /// `computed` (by a library), `read`, `recalled` or `own calculation`.
    pub basis: &'a str,
    /// Of the difference; `fraction` for a relative one.
    pub unit: &'a str,
    pub why: &'a str,
}

/// How far off a value may be.
#[derive(Clone, Copy)]
pub enum Within {
    Absolute(f64),
    /// Of what is expected.
    Relative(f64),
}

/// A value of a source and the program's own.
pub struct Pair {
    pub place: String,
    pub expected: f64,
    pub got: f64,
}

/// Writes the worst of many pairs and fails when it is beyond the tolerance.
pub fn worst(claim: &Claim, within: Within, pairs: &[Pair]) {
    let off = |pair: &Pair| match within {
        Within::Absolute(_) => (pair.got - pair.expected).abs(),
        Within::Relative(_) => (pair.got / pair.expected - 1.0).abs(),
    };
    assert!(pairs.iter().all(|pair| off(pair).is_finite()), "{}: a difference is no number", claim.quantity);
    let worst = pairs.iter().max_by(|a, b| off(a).total_cmp(&off(b))).unwrap();
    let (Within::Absolute(tolerance) | Within::Relative(tolerance)) = within;
    write(claim, worst, [off(worst), tolerance], pairs.len());
    assert!(
        off(worst) <= tolerance,
        "{} ({}): {} expected, {} found, {} off, {tolerance} allowed",
        claim.quantity,
        worst.place,
        worst.expected,
        worst.got,
        off(worst)
    );
}

fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for character in text.chars() {
        match character {
            '"' | '\\' => quoted.extend(['\\', character]),
            control if control.is_control() => write!(quoted, "\\u{:04x}", u32::from(control)).unwrap(),
            other => quoted.push(other),
        }
    }
    quoted.push('"');
    quoted
}

/// As many digits as a difference tells apart.
fn shown(value: f64) -> String {
    let digits = if value.abs() >= 100.0 { 2 } else { 5 };
    format!("{value:.digits$}")
}

fn write(claim: &Claim, pair: &Pair, [off, tolerance]: [f64; 2], cases: usize) {
    let place = if pair.place.is_empty() { String::new() } else { format!(" ({})", pair.place) };
    let texts = [
        ("area", claim.area),
        ("quantity", claim.quantity),
        ("source", claim.source),
        ("basis", claim.basis),
        ("expected", &(shown(pair.expected) + &place)),
        ("got", &shown(pair.got)),
        ("unit", claim.unit),
        ("why", claim.why),
    ];
    let mut json = String::from("[{");
    for (key, text) in texts {
        write!(json, "\"{key}\": {}, ", quoted(text)).unwrap();
    }
    writeln!(json, "\"difference\": {off:e}, \"tolerance\": {tolerance:e}, \"cases\": {cases}}}]").unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().filter(|at| at.join("Cargo.lock").exists());
    let folder = root.last().unwrap().join("target/validation");
    let name: String = format!("{} {}", claim.area, claim.quantity)
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' })
        .collect();
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join(format!("rust-{name}.json")), json).unwrap();
}

//! What a user reads of the starter's house with another unit.
#![allow(dead_code, reason = "each test uses a part of it")]

use study::{parse_study, starter_study};

pub const FILE: &str = "bungalow.toml";

/// What is said of the starter's house, 70 lines, with a unit of this core; `rest` begins in line 74.
pub fn said(core: &str, rest: &str) -> String {
    let head = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    let text = format!("{head}[[unit]]\nname = \"A\"\ncore = \"{core}\"\n{rest}");
    match parse_study(&text, FILE) {
        Ok(_) => panic!("no problem was found in {rest}"),
        Err(problems) => problems.render(&text, FILE),
    }
}

/// That one problem is found, and its text holds these parts.
#[track_caller]
pub fn assert_says(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    assert!(text.ends_with(&format!("\n1 problem in {FILE}\n")), "{text}");
}

/// The starter study after changes, each at its first place after the remarks at its head, which name quantities too.
pub fn changed(changes: &[(&str, &str)]) -> String {
    let (head, rest) = starter_study().split_at(starter_study().find("[study]").expect("the first table"));
    let mut rest = rest.to_owned();
    for (from, to) in changes {
        assert!(rest.contains(from), "{from}");
        rest = rest.replacen(from, to, 1);
    }
    format!("{head}{rest}")
}

/// What is said of it.
pub fn after(changes: &[(&str, &str)]) -> String {
    let text = changed(changes);
    match parse_study(&text, FILE) {
        Ok(_) => panic!("no problem was found in {changes:?}"),
        Err(problems) => problems.render(&text, FILE),
    }
}

/// What it is read to.
pub fn starter_with(changes: &[(&str, &str)]) -> study::Study {
    let text = changed(changes);
    parse_study(&text, FILE).unwrap_or_else(|problems| panic!("{}", problems.render(&text, FILE)))
}

/// That this was filled in at paths that begin so, each as `path = value` with its reason, and nothing else.
#[track_caller]
pub fn assert_filled_in(study: &study::Study, under: &str, expected: &[(&str, &str)]) {
    let of_key = study.defaults_used.iter().filter(|used| used.path.starts_with(under));
    let used: Vec<(String, &str)> =
        of_key.map(|used| (format!("{} = {}", used.path, used.value), used.why)).collect();
    let used: Vec<(&str, &str)> = used.iter().map(|(used, why)| (used.as_str(), *why)).collect();
    assert_eq!(used, expected);
}

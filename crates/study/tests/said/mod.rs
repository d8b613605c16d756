//! What a user reads of the starter's house with another unit.

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

//! Whatever the text, the reader gives a study or problems that can be shown.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

use proptest::prelude::*;
use study::{parse_study, starter_study, text_of};

fn read(text: &str) {
    if let Err(problems) = parse_study(text, "s.toml") {
        assert!(!problems.list.is_empty());
        for problem in &problems.list {
            assert!(problem.span.start <= problem.span.end && problem.span.end <= text.len(), "{problem:?}");
        }
        let shown = problems.render(text, "s.toml");
        assert!(shown.ends_with(" in s.toml\n"));
    }
}

/// The starter with the characters from `at` replaced.
fn mutated(at: usize, length: usize, put: &str) -> String {
    let letters: Vec<char> = starter_study().chars().collect();
    let at = at % letters.len();
    let end = (at + length).min(letters.len());
    letters[..at].iter().copied().chain(put.chars()).chain(letters[end..].iter().copied()).collect()
}

fn lines_of_starter() -> Vec<&'static str> {
    starter_study().lines().collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn arbitrary_text(text in any::<String>()) {
        read(&text);
    }

    #[test]
    fn arbitrary_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        match text_of(&bytes, "s.toml") {
            Ok(text) => read(text),
            Err(problems) => prop_assert_eq!(problems.list.len(), 1),
        }
    }

    #[test]
    fn text_that_looks_like_toml(text in "([a-z_.\\[\\]]{1,12} ?=? ?[\"'{}\\[\\]0-9a-z°,. \r\n\u{feff}-]{0,12}\r?\n){0,12}") {
        read(&text);
    }

    #[test]
    fn the_starter_with_a_piece_replaced(at in 0..10_000usize, length in 0..40usize, put in "\\PC{0,12}") {
        read(&mutated(at, length, &put));
    }

    #[test]
    fn the_starter_with_any_characters_put_in(at in 0..10_000usize, put in any::<String>()) {
        read(&mutated(at, 0, &put));
    }

    #[test]
    fn the_starter_with_lines_left_out_or_swapped(a in 0..200usize, b in 0..200usize, c in 0..200usize) {
        let mut lines = lines_of_starter();
        let count = lines.len();
        lines.swap(a % count, b % count);
        lines.remove(c % count);
        read(&lines.join("\n"));
        read(&lines.join("\r\n"));
    }

    #[test]
    fn the_starter_with_another_value(pick in 0..200usize, value in prop_oneof![
        Just("true"), Just("[]"), Just("{}"), Just("1979-05-27"), Just("nan"), Just("-inf"), Just("1e308"), Just("-1"),
        Just("0xffffffffffffffff"), Just("99999999999999999999999999"), Just("\"\""), Just("\"1e400 m2\""), Just("\"\\u0000\""),
        Just("[[1]]"), Just("{ a = 1 }"), Just("\"\"\"\n\n\"\"\""), Just("1_000.5"),
    ]) {
        let lines = lines_of_starter();
        let pick = pick % lines.len();
        let changed: Vec<String> = lines.iter().enumerate().map(|(i, line)| match line.split_once(" = ") {
            Some((key, _)) if i == pick => format!("{key} = {value}"),
            _ => (*line).to_owned(),
        }).collect();
        read(&changed.join("\n"));
    }
}

#[test]
fn every_beginning_of_the_starter() {
    let text = starter_study();
    for (end, _) in text.char_indices() {
        read(&text[..end]);
    }
}

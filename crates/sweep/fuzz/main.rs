//! Spoils studies, sweep files and quantities at random and reads them: no panic, no hang, memory bounded, and every answer can
//! be shown.
//!
//! Originals are the files of `corpus/` and the two starters. `DEWLEDGER_FUZZ_MUTATIONS` says how many texts of each kind are
//! spoiled, `DEWLEDGER_FUZZ_START` begins elsewhere; a failure names the number of the mutation, which with the same start gives
//! the same text again. What is not here: how a file is spoiled (`weather/fuzz/mutate.rs`), values of TOML (`pieces.rs`).
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "../../weather/fuzz/mutate.rs"]
mod mutate;
mod pieces;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;

use mutate::Chance;
use study::{Dimension, Problems, parse_quantity, parse_study, text_of};
use sweep::SweepFile;

const MUTATIONS: u64 = 6_000;
/// What this whole process may have held at once; it holds about 30 MB in a development build.
const MOST_MEMORY_KB: u64 = 400_000;

fn number_from(variable: &str, otherwise: u64) -> u64 {
    std::env::var(variable)
        .map_or(otherwise, |text| text.parse().unwrap_or_else(|_| panic!("{variable}: {text}")))
}

fn corpus() -> Vec<(String, String)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus");
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let read = |path: &PathBuf| {
        (path.file_name().unwrap().to_string_lossy().into_owned(), std::fs::read_to_string(path).unwrap())
    };
    let mut texts: Vec<(String, String)> = files.iter().map(read).collect();
    texts.push(("starter study".to_owned(), study::starter_study().to_owned()));
    texts.push(("starter sweep".to_owned(), sweep::starter_sweep().to_owned()));
    texts
}

/// Problems stand within the text, and can be shown.
fn shown(text: &str, problems: &Problems) {
    assert!(!problems.list.is_empty());
    for problem in &problems.list {
        assert!(problem.span.start <= problem.span.end && problem.span.end <= text.len(), "{problem:?}");
        assert!(!problem.message.is_empty());
    }
    assert!(problems.render(text, "s.toml").ends_with(" in s.toml\n"));
}

/// Whether a text was accepted by either reader.
fn answered(bytes: &[u8]) -> bool {
    let text = match text_of(bytes, "s.toml") {
        Ok(text) => text,
        Err(problems) => {
            assert_eq!(problems.list.len(), 1);
            return false;
        }
    };
    let study = parse_study(text, "s.toml").map_err(|problems| shown(text, &problems));
    let sweep = SweepFile::parse(text, "s.toml").map_err(|problems| shown(text, &problems));
    study.is_ok() || sweep.is_ok()
}

#[test]
fn the_corpus_is_accepted() {
    for (name, text) in corpus() {
        assert!(
            answered(text.as_bytes()),
            "{name}: {}",
            parse_study(&text, &name).unwrap_err().render(&text, &name)
        );
    }
}

#[test]
fn spoiled_texts_give_an_answer() {
    let corpus = corpus();
    let begin = number_from("DEWLEDGER_FUZZ_START", 1);
    let (mut accepted, mut refused) = (0_u64, 0_u64);
    for number in 0..number_from("DEWLEDGER_FUZZ_MUTATIONS", MUTATIONS) {
        let mut chance = Chance::new(begin, number);
        let (name, text) = &corpus[chance.below(corpus.len())];
        let (_, other) = &corpus[chance.below(corpus.len())];
        let mut bytes = text.clone().into_bytes();
        for _ in 0..=chance.below(3) {
            if chance.below(2) == 0 {
                pieces::spoil(&mut bytes, &mut chance);
            } else {
                mutate::spoil(&mut bytes, other.as_bytes(), &mut chance);
            }
        }
        let Ok(is_accepted) = catch_unwind(AssertUnwindSafe(|| answered(&bytes))) else {
            panic!("start {begin}, mutation {number}, of {name}:\n{}", String::from_utf8_lossy(&bytes));
        };
        *if is_accepted { &mut accepted } else { &mut refused } += 1;
    }
    println!("{accepted} texts were accepted, {refused} refused; {} kB were held at most", most_memory_kb());
    assert!(accepted > 0 && refused > 0);
    assert!(most_memory_kb() < MOST_MEMORY_KB, "{} kB", most_memory_kb());
}

/// Whatever stands for a quantity: a number of its unit, which can be read again, or a fault in words.
#[test]
fn spoiled_quantities_give_an_answer() {
    let examples: Vec<&str> = pieces::VALUES.iter().map(|value| value.trim_matches('"')).collect();
    let begin = number_from("DEWLEDGER_FUZZ_START", 1);
    let (mut accepted, mut refused) = (0_u64, 0_u64);
    for number in 0..3 * number_from("DEWLEDGER_FUZZ_MUTATIONS", MUTATIONS) {
        let mut chance = Chance::new(begin, number);
        let mut bytes = examples[chance.below(examples.len())].as_bytes().to_vec();
        let other = examples[chance.below(examples.len())].as_bytes();
        for _ in 0..=chance.below(2) {
            mutate::spoil(&mut bytes, other, &mut chance);
        }
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let any = || pieces::DIMENSIONS.iter().filter(|dimension| finite(&text, **dimension)).count() > 0;
        let Ok(is_accepted) = catch_unwind(AssertUnwindSafe(any)) else {
            panic!("start {begin}, mutation {number}: {text:?}");
        };
        *if is_accepted { &mut accepted } else { &mut refused } += 1;
    }
    println!("{accepted} quantities were accepted, {refused} refused");
    assert!(accepted > 0 && refused > 0);
}

fn finite(text: &str, dimension: Dimension) -> bool {
    match parse_quantity(text, dimension) {
        Ok(quantity) => {
            assert!(quantity.si().is_finite(), "{text}: {quantity:?}");
            true
        }
        Err(fault) => {
            assert!(!fault.to_string().is_empty());
            false
        }
    }
}

/// Whatever is nested or repeated ten thousand times is answered; a stack that overflows cannot be caught.
#[test]
fn deep_and_long_texts_give_an_answer() {
    let head = "[study]\ntitle = ";
    for (piece, times) in [
        ("[", 100_000),
        ("{a=", 100_000),
        ("[[unit]]\n", 20_000),
        ("[a.", 50_000),
        ("a.", 50_000),
        ("\"", 100_001),
        ("'''\n", 30_000),
        ("\u{1F300}", 30_000),
        ("#", 100_000),
        ("x = 1\n", 50_000),
        ("\\u0000", 10_000),
    ] {
        for begin in ["", head, "[vary]\n", "[sweep]\nstudy = "] {
            answered(format!("{begin}{}", piece.repeat(times)).as_bytes());
        }
        for dimension in pieces::DIMENSIONS {
            finite(&piece.repeat(1000), dimension);
        }
    }
    let many = study::starter_study().to_owned()
        + &"[[house.window]]\nfacing = \"south\"\narea = \"1 m2\"\nu_value = \"1 W/m2K\"\nsolar_gain = 0.4\n"
            .repeat(5_000);
    answered(many.as_bytes());
    assert!(most_memory_kb() < MOST_MEMORY_KB, "{} kB", most_memory_kb());
}

/// The most that this process has held so far [kB], where the system tells; else 0.
fn most_memory_kb() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:"));
    line.and_then(|line| line.split_whitespace().nth(1)).and_then(|number| number.parse().ok()).unwrap_or(0)
}

//! Spoils weather files at random and reads them: no panic, and no number that is not finite in a year that was accepted.
//!
//! Originals are the short files of `corpus/` (heading and two days, in every format) and a whole year of each format, made in
//! memory. What is not here: how a file is spoiled (`mutate.rs`), what is asked of an answer (`answer.rs`).
//!
//! `DEWLEDGER_FUZZ_MUTATIONS` says how many files are spoiled (the default takes about 20 s in a development build);
//! `DEWLEDGER_FUZZ_START` begins elsewhere. A failure names the number of the mutation, which with the same start gives the
//! same file again; `DEWLEDGER_FUZZ_KEEP` names a folder into which that file is written. `DEWLEDGER_FUZZ_RENEW=1` writes the
//! corpus anew.
#![allow(clippy::unwrap_used, clippy::panic)]

mod answer;
#[path = "../tests/common/formats.rs"]
mod formats;
mod mutate;

use formats::{Kind, Site};
use mutate::Chance;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use weather::Overrides;

const MUTATIONS: u64 = 6_000;
/// One spoiled file in so many is a whole year: it is read a hundred times more slowly, but may be accepted.
const WHOLE_YEAR_ONE_IN: usize = 20;
const CORPUS_HOURS: usize = 48;

struct Original {
    name: &'static str,
    bytes: Vec<u8>,
    overrides: Overrides,
}

fn corpus_file(kind: Kind) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus").join(format!("{}.txt", kind.name()))
}

fn originals(of: impl Fn(Kind) -> Vec<u8>) -> Vec<Original> {
    let original = |kind: Kind| Original {
        name: kind.name(),
        bytes: of(kind),
        overrides: Site::temperate().overrides(kind),
    };
    Kind::ALL.into_iter().map(original).collect()
}

fn short() -> Vec<Original> {
    originals(|kind| std::fs::read(corpus_file(kind)).unwrap())
}

fn whole() -> Vec<Original> {
    originals(|kind| Site::temperate().file(kind).into_bytes())
}

fn number_from(variable: &str, otherwise: u64) -> u64 {
    std::env::var(variable)
        .map_or(otherwise, |text| text.parse().unwrap_or_else(|_| panic!("{variable}: {text}")))
}

#[test]
fn the_corpus_is_the_first_two_days_of_each_format() {
    for kind in Kind::ALL {
        let text = Site::temperate().first_hours(kind, CORPUS_HOURS);
        if std::env::var_os("DEWLEDGER_FUZZ_RENEW").is_some() {
            std::fs::write(corpus_file(kind), &text).unwrap();
        }
        assert!(std::fs::read_to_string(corpus_file(kind)).unwrap() == text, "{}", kind.name());
    }
}

#[test]
fn originals_of_a_whole_year_are_accepted() {
    for original in whole() {
        assert!(answer::is_a_year(&original.bytes, &original.overrides), "{}", original.name);
    }
}

#[test]
fn spoiled_files_give_an_answer() {
    let (short, whole) = (short(), whole());
    let begin = number_from("DEWLEDGER_FUZZ_START", 1);
    let (mut accepted, mut refused) = (0_u64, 0_u64);
    for number in 0..number_from("DEWLEDGER_FUZZ_MUTATIONS", MUTATIONS) {
        let mut chance = Chance::new(begin, number);
        // A whole year is spoiled once, so that a good share of them is still accepted.
        let (pool, more) = if chance.below(WHOLE_YEAR_ONE_IN) == 0 { (&whole, 1) } else { (&short, 4) };
        let original = &pool[chance.below(pool.len())];
        let other = &short[chance.below(short.len())];
        let mut bytes = original.bytes.clone();
        for _ in 0..=chance.below(more) {
            mutate::spoil(&mut bytes, &other.bytes, &mut chance);
        }
        let answered = catch_unwind(AssertUnwindSafe(|| answer::is_a_year(&bytes, &original.overrides)));
        match answered {
            Ok(true) => accepted += 1,
            Ok(false) => refused += 1,
            Err(_) => {
                keep(number, &bytes);
                panic!("start {begin}, mutation {number}, of {}", original.name);
            }
        }
    }
    println!("{accepted} years were accepted, {refused} files refused");
}

fn keep(number: u64, bytes: &[u8]) {
    if let Some(folder) = std::env::var_os("DEWLEDGER_FUZZ_KEEP") {
        std::fs::write(PathBuf::from(folder).join(format!("mutation-{number}.txt")), bytes).unwrap();
    }
}

//! What the report rests on: inputs, defaults, books, method, references, and room to sign.
//!
//! Not here: the list of defaults itself (`study`), the hashes (`cli`).

use super::teller::{Teller, cells, quoted, row};
use crate::model::{Block, Line, Section, Span, Table};

pub(super) fn inputs(teller: &Teller<'_>) -> Section {
    let manifest = teller.given.manifest;
    let of = |list: &str, at: usize, text: &str, field: &str| {
        quoted(text, format!("manifest.json|/{list}/{at}/{field}"))
    };
    let files = manifest.inputs.iter().enumerate().map(|(at, input)| {
        let of = |text, field| of("inputs", at, text, field);
        let spans = [of(&input.role, "role"), of(&input.name, "name"), of(&input.sha256, "sha256")];
        row("", cells(spans))
    });
    let heads = |keys: &[&str]| keys.iter().map(|key| teller.text(key)).collect::<Vec<_>>();
    let files = Table {
        caption: teller.caption("inputs.caption_files"),
        heads: heads(&["inputs.role", "inputs.file", "inputs.hash"]),
        word_columns: 3,
        rows: files.collect(),
    };
    let lines = teller.given.study_text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
    let lines = lines.map(|(at, line)| {
        let from = format!("study|{}", at + 1);
        let spans = [quoted(&(at + 1).to_string(), from.clone()), quoted(line, from)];
        row("", cells(spans))
    });
    let study = Table {
        caption: teller.caption("inputs.caption_study"),
        heads: heads(&["inputs.line", "inputs.value"]),
        word_columns: 2,
        rows: lines.collect(),
    };
    let count = manifest.defaults_used.len() as f64;
    let count = teller.from(count, 0, "manifest.json|/defaults_used");
    let defaults = manifest.defaults_used.iter().enumerate().map(|(at, used)| {
        let of = |text, field| of("defaults_used", at, text, field);
        row("", cells([of(&used.path, "path"), of(&used.value, "value"), of(&used.why, "why")]))
    });
    let defaults = Table {
        caption: teller.line("inputs.caption_defaults", &[("count", count)]),
        heads: heads(&["inputs.path", "inputs.value", "inputs.why"]),
        word_columns: 3,
        rows: defaults.collect(),
    };
    let blocks = [files, study, defaults].map(|table| Block::Table { table }).to_vec();
    teller.section("inputs", "inputs.heading", blocks)
}

pub(super) fn books(teller: &Teller<'_>) -> Section {
    let residuals = teller.given.manifest.residuals.iter().enumerate();
    let rows = residuals.map(|(at, line)| {
        let cell = |value: Option<f64>, book: &str| {
            let from = format!("manifest.json|/residuals/{at}/{book}");
            value.map_or_else(
                || Span::words(teller.text("report.none")),
                |value| quoted(&teller.given.language.scientific(value), from),
            )
        };
        let house = teller
            .summary()
            .rows
            .get(at)
            .map_or_else(String::new, |house| super::year::house_name(teller, &house.unit, house.case));
        let numbers = [cell(line.water, "water"), cell(line.energy, "energy"), cell(line.core, "core")];
        row(&line.unit, cells([Span::words(house)].into_iter().chain(numbers)))
    });
    let heads = ["books.house", "books.water", "books.energy", "books.core"];
    let table = Table {
        caption: teller.caption("books.caption"),
        heads: heads.iter().map(|key| teller.text(key)).collect(),
        word_columns: 1,
        rows: rows.collect(),
    };
    let note = Block::Text { line: teller.line("books.note", &[]) };
    teller.section("books", "books.heading", vec![note, Block::Table { table }])
}

pub(super) fn method(teller: &Teller<'_>) -> Section {
    let keys = ["method.one", "method.two", "method.three", "method.four", "method.refs", "method.pdf_signs"];
    let mut lines: Vec<Line> = keys.iter().map(|key| teller.line(key, &[])).collect();
    let english = teller.text("report.english_parts");
    if !english.is_empty() {
        lines.push(Line::words(english));
    }
    teller.section("method", "method.heading", vec![Block::List { lines }])
}

pub(super) fn sign(teller: &Teller<'_>) -> Section {
    let labels = ["sign.role", "sign.name", "sign.date", "sign.signature"];
    let labels = labels.iter().map(|key| teller.text(key)).collect();
    let note = Block::Text { line: teller.line("sign.note", &[]) };
    teller.section("sign", "sign.heading", vec![note, Block::Sign { labels }])
}

//! What the report rests on: inputs, defaults, books, method, references, and room to sign.
//!
//! Not here: the list of defaults itself (`study`), the hashes (`cli`).

use super::teller::{Teller, row, words};
use crate::model::{Block, Section, Span, Table};

pub(super) fn inputs(teller: &Teller<'_>) -> Section {
    let manifest = teller.given.manifest;
    let files = manifest.inputs.iter();
    let files =
        files.map(|input| row("", vec![words(&input.role), words(&input.name), words(&input.sha256)]));
    let heads = |keys: &[&str]| keys.iter().map(|key| teller.text(key)).collect::<Vec<_>>();
    let files = Table {
        caption: teller.text("inputs.caption_files"),
        heads: heads(&["inputs.role", "inputs.file", "inputs.hash"]),
        word_columns: 3,
        rows: files.collect(),
    };
    let lines = teller.given.study_text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
    let lines = lines.map(|(at, line)| row("", vec![Span::words((at + 1).to_string()), words(line)]));
    let study = Table {
        caption: teller.text("inputs.caption_study"),
        heads: heads(&["inputs.line", "inputs.value"]),
        word_columns: 2,
        rows: lines.collect(),
    };
    let count = teller.plain(manifest.defaults_used.len() as f64, 0);
    let defaults = manifest.defaults_used.iter();
    let defaults =
        defaults.map(|used| row("", vec![words(&used.path), words(&used.value), words(&used.why)]));
    let defaults = Table {
        caption: teller.line("inputs.caption_defaults", &[("count", count)]).plain(),
        heads: heads(&["inputs.path", "inputs.value", "inputs.why"]),
        word_columns: 3,
        rows: defaults.collect(),
    };
    let blocks = [files, study, defaults].map(|table| Block::Table { table }).to_vec();
    teller.section("inputs", "inputs.heading", blocks)
}

pub(super) fn books(teller: &Teller<'_>) -> Section {
    let residuals = &teller.given.manifest.residuals;
    let cell = |value: Option<f64>| {
        Span::words(value.map_or_else(|| teller.text("report.none"), |value| format!("{value:.1e}")))
    };
    let rows = residuals.iter().map(|line| {
        let name =
            if line.unit.is_empty() { line.case.clone() } else { format!("{}, {}", line.unit, line.case) };
        row(&line.unit, vec![Span::words(name), cell(line.water), cell(line.energy), cell(line.core)])
    });
    let heads = ["books.house", "books.water", "books.energy", "books.core"];
    let table = Table {
        caption: teller.text("books.caption"),
        heads: heads.iter().map(|key| teller.text(key)).collect(),
        word_columns: 1,
        rows: rows.collect(),
    };
    let note = Block::Text { line: teller.line("books.note", &[]) };
    teller.section("books", "books.heading", vec![note, Block::Table { table }])
}

pub(super) fn method(teller: &Teller<'_>) -> Section {
    let keys = ["method.one", "method.two", "method.three", "method.four", "method.refs", "method.pdf_signs"];
    let lines = keys.iter().map(|key| teller.line(key, &[])).collect();
    teller.section("method", "method.heading", vec![Block::List { lines }])
}

pub(super) fn sign(teller: &Teller<'_>) -> Section {
    let labels = ["sign.role", "sign.name", "sign.date", "sign.signature"];
    let labels = labels.iter().map(|key| teller.text(key)).collect();
    let note = Block::Text { line: teller.line("sign.note", &[]) };
    teller.section("sign", "sign.heading", vec![note, Block::Sign { labels }])
}

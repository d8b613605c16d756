//! The report as PDF: real text in the embedded font, charts as vectors, tables with their head on every page.
//!
//! `text` measures and breaks lines, `flow` fills pages from top to bottom, `table` lays out tables, `draw` turns filled
//! pages into a file. Not here: the words (`content`).

mod draw;
mod flow;
mod table;
mod text;

use crate::PageError;
use crate::model::{Block, Line, Report};
use crate::words::Words;
use flow::Flow;
use text::{Fonts, Weight};

pub use text::as_printed;

/// Ordinary text \[pt\].
const TEXT_PT: f32 = 8.5;
/// Headings \[pt\].
const HEADING_PT: f32 = 12.5;
/// The title \[pt\].
const TITLE_PT: f32 = 19.0;
/// The first answer \[pt\].
const ANSWER_PT: f32 = 15.0;
/// A heading before a chart wants this much room, so that it does not stand alone \[pt\].
const CHART_PT: f32 = 400.0;
/// Height of a heading with its rule and gaps \[pt\].
const HEADING_ROOM_PT: f32 = 40.0;
/// What a line to sign on takes.
const SIGN_PT: f32 = 30.0;
/// Width of the column of questions \[pt\].
const QUESTIONS_PT: f32 = 104.0;

/// The PDF file.
///
/// # Errors
/// [`PageError`] when a font or a chart cannot be read, or the file cannot be put together.
pub fn pdf(report: &Report, words: &Words) -> Result<Vec<u8>, PageError> {
    let fonts = Fonts::new()?;
    let mut flow = Flow::new(&fonts);
    flow.paragraph(&report.title, (TITLE_PT, Weight::Bold), 0.0);
    flow.quiet(&report.below_title.plain());
    flow.gap(4.0);
    for (place, section) in report.sections.iter().enumerate() {
        if place == 1 {
            flow.break_page();
        }
        // A heading does not stand alone at the foot of a page.
        match section.blocks.first() {
            Some(Block::Chart { .. }) => flow.room_for(CHART_PT),
            Some(Block::Table { table }) => {
                let wanted = table::beginning(&flow, table);
                flow.room_for(wanted + HEADING_ROOM_PT);
            }
            _ => {}
        }
        // Nor does a signature stand on another page than the date beside it.
        let lines: usize = section.blocks.iter().map(lines_to_sign).sum();
        if lines > 0 {
            flow.room_for(2.0 * HEADING_ROOM_PT + lines as f32 * SIGN_PT);
        }
        flow.heading(&section.heading, HEADING_PT);
        let is_answer = section.id == "answer";
        for (at, block) in section.blocks.iter().enumerate() {
            let first = is_answer && at == 0;
            one(&mut flow, block, (first, words))?;
        }
    }
    let (pages, places) = flow.filled();
    draw::file(report, words, (&fonts, pages, places))
}

fn lines_to_sign(block: &Block) -> usize {
    match block {
        Block::Sign { labels } => labels.len(),
        _ => 0,
    }
}

fn one(flow: &mut Flow<'_>, block: &Block, (is_first, words): (bool, &Words)) -> Result<(), PageError> {
    match block {
        Block::Question { heading, lines } => question(flow, heading, (lines, is_first)),
        Block::Text { line } => flow.paragraph(&line.plain(), (TEXT_PT, Weight::Regular), 0.0),
        Block::List { lines } => {
            for line in lines {
                flow.marked(&line.plain());
            }
        }
        Block::Caution { line } => flow.caution(&line.plain()),
        Block::Table { table } => table::lay(flow, table, &words.text("page.continued")),
        Block::Chart { picture } => flow.picture(picture)?,
        Block::Sign { labels } => labels.iter().for_each(|label| flow.sign(label)),
    }
    Ok(())
}

fn question(flow: &mut Flow<'_>, heading: &str, (lines, is_first): (&[Line], bool)) {
    let size = |at: usize| match (at, is_first) {
        (0, true) => (ANSWER_PT, Weight::Bold),
        (0, false) => (TEXT_PT + 1.0, Weight::Regular),
        _ => (TEXT_PT, Weight::Regular),
    };
    let height: f32 =
        lines.iter().enumerate().map(|(at, line)| flow.height(&line.plain(), size(at), QUESTIONS_PT)).sum();
    flow.room_for(height + 10.0);
    let beside = flow.aside(heading, QUESTIONS_PT - 10.0);
    for (at, line) in lines.iter().enumerate() {
        flow.paragraph(&line.plain(), size(at), QUESTIONS_PT);
    }
    flow.at_least(beside);
    flow.rule();
}

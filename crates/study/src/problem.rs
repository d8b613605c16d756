//! What is wrong with a study, where, and what would help.
//!
//! Here: problems and how they are shown. Not here: finding them. Read next: `table.rs`.

use std::fmt::{self, Write as _};
use std::ops::Range;

use annotate_snippets::{AnnotationKind, Level, Origin, Renderer, Snippet};

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// What is wrong, in a sentence without a full stop.
    pub message: String,
    /// Where: bytes of the text. Empty at a place where something is missing.
    pub span: Range<usize>,
    /// A few words for the caret.
    pub label: String,
    /// What would help.
    pub hint: Option<String>,
}

/// All that is wrong with a file, in the order of the file; never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problems {
    /// Name of the file.
    pub file_name: String,
    /// The problems.
    pub list: Vec<Problem>,
}

/// Problems that are shown; nobody mends more at once, and each takes a look through the whole text.
const MOST_SHOWN: usize = 40;

impl Problems {
    /// The first forty problems for a terminal without colour: each with its line, a caret and a hint, then the number of all.
    ///
    /// `text` is the text that was parsed; without it (empty) no line can be shown. Ends with a line break.
    pub fn render(&self, text: &str, file_name: &str) -> String {
        self.render_with(text, file_name, &Renderer::plain())
    }

    /// The same with the colours of a terminal (ANSI sequences).
    pub fn render_coloured(&self, text: &str, file_name: &str) -> String {
        self.render_with(text, file_name, &Renderer::styled())
    }

    fn render_with(&self, text: &str, file_name: &str, renderer: &Renderer) -> String {
        let mut out = String::new();
        for problem in self.list.iter().take(MOST_SHOWN) {
            out.push_str(&problem.render(text, file_name, renderer));
            out.push_str("\n\n");
        }
        if let Some(more) = self.list.len().checked_sub(MOST_SHOWN).filter(|more| *more > 0) {
            let _ = write!(out, "{more} more are not shown: mend these first\n\n");
        }
        out.push_str(&summary(self.list.len(), file_name));
        out.push('\n');
        out
    }
}

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&summary(self.list.len(), &self.file_name))
    }
}

impl std::error::Error for Problems {}

impl Problem {
    fn render(&self, text: &str, file_name: &str, renderer: &Renderer) -> String {
        let title = Level::ERROR.primary_title(self.message.as_str());
        let group = if text.is_empty() {
            title.element(Origin::path(file_name))
        } else {
            let caret = AnnotationKind::Primary.span(within(text, &self.span)).label(self.label.as_str());
            title.element(Snippet::source(text).path(file_name).annotation(caret))
        };
        let mut out = renderer.render(&[group]);
        if let Some(hint) = &self.hint {
            out.push_str("\n\nhint: ");
            out.push_str(hint);
        }
        out
    }
}

fn summary(count: usize, file_name: &str) -> String {
    let noun = if count == 1 { "problem" } else { "problems" };
    format!("{count} {noun} in {file_name}")
}

/// The span, moved to borders of characters inside the text: the renderer panics on anything else.
fn within(text: &str, span: &Range<usize>) -> Range<usize> {
    let start = text.floor_char_boundary(span.start);
    start..text.ceil_char_boundary(span.end.min(text.len())).max(start)
}

/// Text of a user for use in a message: one line, no control characters, 40 characters at most.
pub(crate) fn shortened(text: &str) -> String {
    const MOST: usize = 40;
    let mut out: String = text.chars().take(MOST).flat_map(visible).collect();
    if text.chars().nth(MOST).is_some() {
        out.push('…');
    }
    out
}

fn visible(c: char) -> Vec<char> {
    if c.is_control() { c.escape_default().collect() } else { vec![c] }
}

/// `a`, `b` and `c`, each in backticks.
pub(crate) fn listed(words: &[&str], last: &str) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        Some((end, rest)) if !rest.is_empty() => format!("{} {last} {end}", rest.join(", ")),
        _ => quoted.concat(),
    }
}

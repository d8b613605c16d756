//! The report's sentences: strings of the one table (`reporting::words`) with pieces of text put in.
//!
//! Not here: which words are said when (`content`).

pub use reporting::words::{Language, Words};

use crate::model::{Line, Span};

/// Fills a string with pieces that keep their origin.
pub trait Sentences {
    /// The string of a key with its places filled: `{name}` stands for the piece of that name.
    fn line(&self, key: &str, pieces: &[(&str, Span)]) -> Line;
}

impl Sentences for Words {
    fn line(&self, key: &str, pieces: &[(&str, Span)]) -> Line {
        let text = self.text(key);
        let mut spans = Vec::new();
        let mut rest = text.as_str();
        while let Some((before, after)) = rest.split_once('{') {
            let Some((name, behind)) = after.split_once('}') else { break };
            if !before.is_empty() {
                spans.push(Span::words(before));
            }
            let piece = pieces.iter().find(|(known, _)| *known == name);
            spans
                .push(piece.map_or_else(|| Span::words(format!("⟦{key}:{name}⟧")), |(_, span)| span.clone()));
            rest = behind;
        }
        if !rest.is_empty() {
            spans.push(Span::words(rest));
        }
        Line { spans }
    }
}

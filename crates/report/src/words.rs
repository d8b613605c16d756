//! Words of the report in every language it is written in, and numbers as that language writes them.
//!
//! A language is a file of strings in `words/`. Not here: which words are said when (`content`).

use std::collections::BTreeMap;

use crate::PageError;
use crate::model::{Line, Span};

/// A language of the report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// French.
    French,
}

impl Language {
    /// All of them.
    pub const ALL: [Self; 2] = [Self::English, Self::French];

    /// Its code in files.
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::French => "fr",
        }
    }

    const fn file(self) -> &'static str {
        match self {
            Self::English => include_str!("../words/en.toml"),
            Self::French => include_str!("../words/fr.toml"),
        }
    }

    /// A number with so many decimals: decimal point or comma, thousands apart by a narrow space that does not break, a true minus.
    ///
    /// # Source
    /// \[BIPM-SI\] SI Brochure, 9th edition, 5.4.4: either decimal marker; groups of three parted by a space, four digits need none.
    pub fn number(self, value: f64, decimals: usize) -> String {
        let text = format!("{:.decimals$}", value.abs());
        let (whole, rest) = text.split_once('.').unwrap_or((&text, ""));
        let mut grouped = String::new();
        for (place, digit) in whole.chars().enumerate() {
            if place > 0 && (whole.len() - place) % 3 == 0 && whole.len() > 4 {
                grouped.push('\u{202f}');
            }
            grouped.push(digit);
        }
        if !rest.is_empty() {
            grouped.push(if self == Self::French { ',' } else { '.' });
            grouped.push_str(rest);
        }
        let is_nothing = text.bytes().all(|byte| matches!(byte, b'0' | b'.'));
        if value < 0.0 && !is_nothing { format!("\u{2212}{grouped}") } else { grouped }
    }
}

/// The strings of one language.
#[derive(Debug, Clone)]
pub struct Words {
    /// Which.
    pub language: Language,
    strings: BTreeMap<String, String>,
}

impl Words {
    /// The words of a language.
    ///
    /// # Errors
    /// [`PageError::Words`] when the file of a language is none.
    pub fn of(language: Language) -> Result<Self, PageError> {
        let table: toml::Table =
            toml::from_str(language.file()).map_err(|cause| PageError::Words(cause.to_string()))?;
        let mut strings = BTreeMap::new();
        for (group, inner) in &table {
            for (key, value) in inner.as_table().into_iter().flatten() {
                let text = value.as_str().ok_or_else(|| PageError::Words(format!("{group}.{key}")))?;
                strings.insert(format!("{group}.{key}"), text.to_owned());
            }
        }
        Ok(Self { language, strings })
    }

    /// Every key.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.strings.keys().map(String::as_str)
    }

    /// The string of a key; a key that is none stands visibly between marks, which the tests look for.
    pub fn text(&self, key: &str) -> String {
        self.strings.get(key).cloned().unwrap_or_else(|| format!("⟦{key}⟧"))
    }

    /// The string of a key with its places filled: `{name}` stands for the piece of that name.
    pub fn line(&self, key: &str, pieces: &[(&str, Span)]) -> Line {
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

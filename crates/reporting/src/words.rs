//! Words of charts and report in every language they are written in, and numbers as that language writes them.
//!
//! A language is a file of strings in `words/`. Not here: which words are said when (`charts`, crate `report`); tables for the terminal
//! and files of data, which are English.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::ReportError;

/// A language of charts and report.
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

    const fn marker(self) -> char {
        match self {
            Self::English => '.',
            Self::French => ',',
        }
    }

    /// A number with two digits in powers of ten, such as `1.2 × 10⁻¹⁵`.
    pub fn scientific(self, value: f64) -> String {
        let text = format!("{value:.1e}");
        let Some((lead, power)) = text.split_once('e') else { return text };
        if lead == "0.0" {
            return "0".to_owned();
        }
        let raised = |sign| match sign {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            digit => char::from_u32(u32::from(digit) - u32::from('0') + 0x2070).unwrap_or(digit),
        };
        let lead = lead.replace('.', &self.marker().to_string()).replace('-', "\u{2212}");
        format!("{lead}\u{a0}×\u{a0}10{}", power.chars().map(raised).collect::<String>())
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
            grouped.push(self.marker());
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
    /// The words of a language, read once.
    ///
    /// # Errors
    /// [`ReportError::Words`] when the file of a language is none: a fault of the program.
    pub fn of(language: Language) -> Result<&'static Self, ReportError> {
        static READ: [OnceLock<Result<Words, ReportError>>; 2] = [OnceLock::new(), OnceLock::new()];
        READ[language as usize].get_or_init(|| Self::read(language)).as_ref().map_err(ReportError::clone)
    }

    fn read(language: Language) -> Result<Self, ReportError> {
        let fault = |reason: String| ReportError::Words { reason };
        let table: toml::Table = toml::from_str(language.file()).map_err(|cause| fault(cause.to_string()))?;
        let mut strings = BTreeMap::new();
        for (group, inner) in &table {
            for (key, value) in inner.as_table().into_iter().flatten() {
                let text = value.as_str().ok_or_else(|| fault(format!("{group}.{key}")))?;
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

    /// The string of a key with its places filled: `{name}` stands for the text of that name.
    pub fn fill(&self, key: &str, pieces: &[(&str, &str)]) -> String {
        let mut text = self.text(key);
        for (name, piece) in pieces {
            text = text.replace(&format!("{{{name}}}"), piece);
        }
        text
    }

    /// A number as the language writes it, thousands not parted: what a chart's axis and its small numbers have room for.
    pub fn number(&self, value: f64, decimals: usize) -> String {
        self.language.number(value, decimals).replace('\u{202f}', "")
    }

    /// A decimal that is already written with a point, with the language's marker.
    pub fn marked(&self, number: &str) -> String {
        number.replace('.', &self.language.marker().to_string())
    }

    /// A month's name in three or four letters, January = 0.
    pub fn short_month(&self, month: usize) -> String {
        self.text(&format!("chart.m{}", month + 1))
    }
}

//! Figures as pieces of text: rounded, in the reader's units, each with the place that it is from.
//!
//! Not here: sentences and tables (the other files of `content`).

use reporting::manifest::Told;
use reporting::{COLUMNS, Cell, Figure, RunSummary, ShowIn, case_key};
use simulation::results::Case;

use super::Ingredients;
use super::lead::{Lead, lead};
use crate::model::{Block, Line, Section, Span, Table, TableRow};
use crate::words::{Sentences, Words};

/// A piece of words.
pub(super) fn words(text: &str) -> Span {
    Span::words(text)
}

/// Words of a result file as they stand there.
pub(super) fn quoted(text: &str, from: String) -> Span {
    Span { text: text.to_owned(), from }
}

/// Tells figures in one language and one system of units.
pub(super) struct Teller<'a> {
    pub(super) given: &'a Ingredients<'a>,
    pub(super) words: &'static Words,
    pub(super) show_in: ShowIn,
    pub(super) lead: Lead,
}

/// Which quantity a figure is, as far as units differ.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// The same in both systems.
    Same,
    /// Litres.
    Water,
    /// Kilograms.
    Mass,
}

/// How a figure is shown.
#[derive(Clone, Copy)]
pub(super) struct Shape {
    pub(super) figure: Figure,
    pub(super) kind: Kind,
    pub(super) decimals: usize,
}

/// A figure as it is, whole.
pub(super) const fn whole(figure: Figure) -> Shape {
    Shape { figure, kind: Kind::Same, decimals: 0 }
}

impl<'a> Teller<'a> {
    pub(super) fn new(given: &'a Ingredients<'a>, words: &'static Words) -> Self {
        let show_in = match given.study.show_in {
            study::ShowIn::Si => ShowIn::Si,
            study::ShowIn::Ip => ShowIn::Ip,
        };
        Self { given, words, show_in, lead: lead(given) }
    }

    pub(super) fn summary(&self) -> &'a RunSummary {
        self.given.summary
    }

    pub(super) fn text(&self, key: &str) -> String {
        self.words.text(key)
    }

    /// A string as a line.
    pub(super) fn caption(&self, key: &str) -> Line {
        Line::words(self.text(key))
    }

    /// A string with its unit filled in.
    pub(super) fn head(&self, key: &str, unit: &str) -> String {
        self.words.line(key, &[("unit", words(unit))]).plain()
    }

    pub(super) fn line(&self, key: &str, pieces: &[(&str, Span)]) -> Line {
        self.words.line(key, pieces)
    }

    pub(super) fn number(&self, value: f64, decimals: usize) -> String {
        self.given.language.number(value, decimals)
    }

    /// A number with the place that it is from.
    pub(super) fn from(&self, value: f64, decimals: usize, from: impl Into<String>) -> Span {
        Span { text: self.number(value, decimals), from: from.into() }
    }

    /// A limit of the report itself.
    pub(super) fn rule(&self, name: &str, value: f64, decimals: usize) -> Span {
        self.from(value, decimals, format!("rule|{name}"))
    }

    fn told(&self, key: &str) -> Option<&'a Told> {
        let known = &self.given.manifest.understood;
        known.iter().find(|fact| fact.key == key).map(|fact| &fact.value)
    }

    /// A number that was understood, changed into the reader's unit.
    pub(super) fn fact_as(&self, key: &str, decimals: usize, shown: impl Fn(f64) -> f64) -> Span {
        match self.told(key) {
            Some(Told::Number(value)) => self.from(shown(*value), decimals, format!("understood|{key}")),
            _ => Span::words(self.text("report.none")),
        }
    }

    /// A number that was understood.
    pub(super) fn fact(&self, key: &str, decimals: usize) -> Span {
        self.fact_as(key, decimals, |value| value)
    }

    /// A share of 1 that was understood, in percent.
    pub(super) fn percent(&self, key: &str, decimals: usize) -> Span {
        self.fact_as(key, decimals, |share| 100.0 * share)
    }

    /// Whether a number that was understood is above 0.
    pub(super) fn is_above_zero(&self, key: &str) -> bool {
        matches!(self.told(key), Some(Told::Number(value)) if *value > 0.0)
    }

    /// Words that were understood.
    pub(super) fn fact_words(&self, key: &str) -> Span {
        match self.told(key) {
            Some(Told::Words(text)) => Span { text: text.clone(), from: format!("understood|{key}") },
            _ => Span::words(self.text("report.none")),
        }
    }

    /// Whether something was understood.
    pub(super) fn has(&self, key: &str) -> bool {
        self.told(key).is_some()
    }

    pub(super) fn section(&self, id: &'static str, heading: &str, blocks: Vec<Block>) -> Section {
        Section { id, heading: self.text(heading), blocks }
    }

    /// The year's figure of a unit or a house beside it.
    pub(super) fn value(&self, unit: &str, case: Case, figure: Figure) -> Option<f64> {
        self.summary().find(unit, case)?.year(figure).value()
    }

    /// The same where it is above 0.
    pub(super) fn above_zero(&self, unit: &str, case: Case, figure: Figure) -> Option<f64> {
        self.value(unit, case, figure).filter(|value| *value > 0.0)
    }

    /// The year's figure as a piece of text.
    pub(super) fn figure(&self, unit: &str, case: Case, shape: Shape) -> Span {
        let cell = self.summary().find(unit, case).map_or(Cell::Empty, |row| row.year(shape.figure));
        self.shown(cell, shape, &format!("annual.csv|{unit}|{}", case_key(case)))
    }

    /// A month's figure (January = 0) as a piece of text.
    pub(super) fn month(&self, unit: &str, case: Case, month: usize, shape: Shape) -> Span {
        let row = self.summary().find(unit, case);
        let cell = row.map_or(Cell::Empty, |row| row.month(month, shape.figure));
        self.shown(cell, shape, &format!("monthly.csv|{unit}|{}|{}", case_key(case), month + 1))
    }

    fn shown(&self, cell: Cell, shape: Shape, row: &str) -> Span {
        let from = COLUMNS
            .get(shape.figure as usize)
            .map_or(String::new(), |column| format!("{row}|{}", column.name));
        match cell {
            Cell::Empty => Span::words(self.text("report.none")),
            Cell::MonthDay { month, day } => Span { text: self.date(month, day), from },
            Cell::Scientific(value) => Span { text: self.given.language.scientific(value), from },
            Cell::Fixed { .. } => {
                let value = cell.value().unwrap_or(0.0);
                let value = match shape.kind {
                    Kind::Same => value,
                    Kind::Water => self.show_in.volume(value),
                    Kind::Mass => self.show_in.mass(value),
                };
                Span { text: self.number(value, shape.decimals), from }
            }
        }
    }

    /// A figure of `money.csv`.
    pub(super) fn money(&self, value: Option<f64>, decimals: usize, row: (&str, Case), column: &str) -> Span {
        let (unit, case) = row;
        let from = format!("money.csv|{unit}|{}|{column}", case_key(case));
        value.map_or_else(
            || Span::words(self.text("report.none")),
            |value| Span { text: self.number(value, decimals), from },
        )
    }

    /// A day of the year, month 1…12.
    pub(super) fn date(&self, month: usize, day: usize) -> String {
        let pieces = [("day", Span::words(day.to_string())), ("month", Span::words(self.month_name(month)))];
        self.line("date.day", &pieces).plain()
    }

    pub(super) fn month_name(&self, month: usize) -> String {
        self.text(&format!("month.m{month}"))
    }

    /// A flow of air that was understood.
    pub(super) fn flow(&self, key: &str) -> Span {
        match self.show_in {
            ShowIn::Si => self.fact(key, 1),
            ShowIn::Ip => self.fact_as(key, 0, |litres| litres / reporting::units::LITRES_PER_SECOND_PER_CFM),
        }
    }

    pub(super) fn flow_unit(&self) -> &'static str {
        match self.show_in {
            ShowIn::Si => "L/s",
            ShowIn::Ip => "cfm",
        }
    }

    /// A flow of air with its unit.
    pub(super) fn flow_line(&self, key: &str) -> Line {
        with_unit(self.flow(key), self.flow_unit())
    }

    /// A temperature that was understood.
    pub(super) fn temperature(&self, key: &str) -> Span {
        self.fact_as(key, 1, |celsius| self.show_in.temperature(celsius))
    }

    /// A temperature with its unit.
    pub(super) fn degrees(&self, key: &str) -> Line {
        with_unit(self.temperature(key), self.show_in.temperature_unit())
    }

    pub(super) fn water_unit(&self) -> &'static str {
        self.show_in.volume_unit()
    }

    pub(super) fn mass_unit(&self) -> &'static str {
        self.show_in.mass_unit()
    }
}

/// A figure of water.
pub(super) const fn water(figure: Figure, decimals: usize) -> Shape {
    Shape { figure, kind: Kind::Water, decimals }
}

/// A figure of mass.
pub(super) const fn mass(figure: Figure, decimals: usize) -> Shape {
    Shape { figure, kind: Kind::Mass, decimals }
}

/// A row about one unit.
pub(super) fn row(unit: &str, cells: Vec<Line>) -> TableRow {
    TableRow { unit: unit.to_owned(), month: 0, cells }
}

/// Pieces of text as cells of a table, one each.
pub(super) fn cells(spans: impl IntoIterator<Item = Span>) -> Vec<Line> {
    spans.into_iter().map(Line::from).collect()
}

/// A number with its unit behind it, in one piece.
pub(super) fn with_unit(number: Span, unit: &str) -> Line {
    Line::from(number).and(&format!("\u{a0}{unit}"))
}

/// A table of words, two columns.
pub(super) fn facts(teller: &Teller<'_>, caption: Line, heads: [&str; 2], rows: Vec<[Line; 2]>) -> Block {
    let rows = rows.into_iter().map(|cells| row("", cells.to_vec())).collect();
    let heads = heads.iter().map(|key| teller.text(key)).collect();
    Block::Table { table: Table { caption, heads, word_columns: 2, rows } }
}

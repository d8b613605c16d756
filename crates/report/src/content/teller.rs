//! Figures as pieces of text: rounded, in the reader's units, each with the place that it is from.
//!
//! Not here: sentences and tables (the other files of `content`).

use reporting::{COLUMNS, Cell, Figure, RunSummary, ShowIn, case_key};
use simulation::results::Case;

use super::Ingredients;
use super::lead::{Lead, lead};
use crate::model::{Block, Line, Section, Span, Table, TableRow};
use crate::words::Words;

/// A piece of words.
pub(super) fn words(text: &str) -> Span {
    Span::words(text)
}

/// Tells figures in one language and one system of units.
pub(super) struct Teller<'a> {
    pub(super) given: &'a Ingredients<'a>,
    pub(super) words: Words,
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
    pub(super) fn new(given: &'a Ingredients<'a>, words: Words) -> Self {
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

    /// A number that is not from the results.
    pub(super) fn plain(&self, value: f64, decimals: usize) -> Span {
        Span::words(self.number(value, decimals))
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
            Cell::Scientific(value) => Span { text: format!("{value:.1e}"), from },
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

    pub(super) fn flow(&self, m3_per_s: f64) -> Span {
        let litres_per_s = m3_per_s * 1000.0;
        match self.show_in {
            ShowIn::Si => self.plain(litres_per_s, 1),
            ShowIn::Ip => self.plain(litres_per_s / reporting::units::LITRES_PER_SECOND_PER_CFM, 0),
        }
    }

    pub(super) fn flow_unit(&self) -> &'static str {
        match self.show_in {
            ShowIn::Si => "L/s",
            ShowIn::Ip => "cfm",
        }
    }

    pub(super) fn temperature(&self, celsius: f64) -> Span {
        self.plain(self.show_in.temperature(celsius), 1)
    }

    /// A temperature with its unit.
    pub(super) fn degrees(&self, celsius: f64) -> Span {
        let number = self.temperature(celsius).text;
        Span::words(format!("{number}\u{a0}{}", self.show_in.temperature_unit()))
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
pub(super) fn row(unit: &str, cells: Vec<Span>) -> TableRow {
    TableRow { unit: unit.to_owned(), month: 0, cells }
}

/// A table of words, two columns.
pub(super) fn facts(teller: &Teller<'_>, caption: String, heads: [&str; 2], rows: Vec<[Span; 2]>) -> Block {
    let rows = rows.into_iter().map(|cells| row("", cells.to_vec())).collect();
    let heads = heads.iter().map(|key| teller.text(key)).collect();
    Block::Table { table: Table { caption, heads, word_columns: 2, rows } }
}

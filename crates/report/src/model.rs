//! What a report says, free of any medium: sections of blocks of lines. Both writers, page and PDF, start from it.
//!
//! Not here: what it says (`content`), how it looks (`html`, `pdf`).

use serde::Serialize;

/// A report.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    /// Code of its language, such as `en`.
    pub language: &'static str,
    /// Title of the study.
    pub title: String,
    /// Line below the title: place, climate, date, program.
    pub below_title: Line,
    /// Line at the foot of every page.
    pub foot: String,
    /// Its parts, in order.
    pub sections: Vec<Section>,
    /// The year hour by hour, for the page in a browser; `None` leaves that part out.
    pub hours: Option<Hours>,
}

/// A part of a report under one heading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Section {
    /// Name in links.
    pub id: &'static str,
    /// Heading.
    pub heading: String,
    /// What it says.
    pub blocks: Vec<Block>,
}

/// A piece of a section.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Block {
    /// A question with its answer.
    Question {
        /// The question.
        heading: String,
        /// The answer, one line a paragraph; the first is the short one.
        lines: Vec<Line>,
    },
    /// A paragraph.
    Text {
        /// Its words.
        line: Line,
    },
    /// Lines with marks.
    List {
        /// The lines.
        lines: Vec<Line>,
    },
    /// A warning near what it belongs to.
    Caution {
        /// Its words.
        line: Line,
    },
    /// A table.
    Table {
        /// The table.
        table: Table,
    },
    /// A chart.
    Chart {
        /// The chart.
        picture: Picture,
    },
    /// Lines to write on.
    Sign {
        /// What goes on each.
        labels: Vec<String>,
    },
}

/// A line: text and figures one after the other.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Line {
    /// Its pieces.
    pub spans: Vec<Span>,
}

/// A piece of a line.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Span {
    /// As a person reads it.
    pub text: String,
    /// Where a number is from; empty for words. `annual.csv|unit|case|column`, `monthly.csv|unit|case|month|column`,
    /// `money.csv|unit|case|column`, `bins.csv|unit|low_c|column`; `understood|key` and `manifest.json|pointer` in the
    /// manifest, `money.json|pointer`; `study|line`; `rule|name` for a limit of the report itself; `spread|name|percentile`.
    pub from: String,
}

/// A table.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Table {
    /// What it is of.
    pub caption: Line,
    /// Heads of the columns.
    pub heads: Vec<String>,
    /// Columns of words at the left; those after them are of numbers.
    pub word_columns: usize,
    /// The rows, each with as many cells as there are heads.
    pub rows: Vec<TableRow>,
}

/// A row of a table.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct TableRow {
    /// The unit that it is about; empty where it is about all.
    pub unit: String,
    /// The month that it is about, 1…12; 0 where it is about all.
    pub month: usize,
    /// Its cells.
    pub cells: Vec<Line>,
}

/// A chart.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Picture {
    /// File name in the folder of results, such as `humidity.svg`.
    pub file: String,
    /// What it shows, in words.
    pub caption: String,
    /// The picture.
    pub svg: String,
}

/// The year hour by hour.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Hours {
    /// Days in the year.
    pub days: usize,
    /// Sign of the unit of temperature.
    pub temperature_unit: &'static str,
    /// Sign of the unit of water.
    pub water_unit: &'static str,
    /// Sign of the unit of mass.
    pub mass_unit: &'static str,
    /// Outdoor air in tenths of a degree.
    pub outdoor: Vec<i64>,
    /// The units.
    pub units: Vec<UnitHours>,
}

/// A unit's year hour by hour.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct UnitHours {
    /// Its name.
    pub name: String,
    /// Relative humidity of the rooms in tenths of a percent.
    pub humidity: Vec<i64>,
    /// Supply air in tenths of a degree.
    pub supply: Vec<i64>,
    /// Water to the drain in grams (or thousandths of a pound).
    pub drain: Vec<i64>,
    /// Ice in the core in grams (or thousandths of a pound).
    pub ice: Vec<i64>,
}

impl Line {
    /// A line of words alone.
    pub fn words(text: impl Into<String>) -> Self {
        Self { spans: vec![Span::words(text)] }
    }

    /// The same with more words at its end.
    pub fn and(mut self, text: &str) -> Self {
        self.spans.push(Span::words(text));
        self
    }

    /// Several lines as one.
    pub fn joined(lines: impl IntoIterator<Item = Self>, between: &str) -> Self {
        let mut whole = Self::default();
        for line in lines {
            if !whole.spans.is_empty() {
                whole.spans.push(Span::words(between));
            }
            whole.spans.extend(line.spans);
        }
        whole
    }

    /// All of it as plain text.
    pub fn plain(&self) -> String {
        self.spans.iter().map(|span| span.text.as_str()).collect()
    }
}

impl Span {
    /// A piece of words.
    pub fn words(text: impl Into<String>) -> Self {
        Self { text: text.into(), from: String::new() }
    }
}

impl From<Span> for Line {
    fn from(span: Span) -> Self {
        Self { spans: vec![span] }
    }
}

impl Report {
    /// Every figure that names where it is from, in the order of the report.
    pub fn figures(&self) -> Vec<&Span> {
        let mut spans = Vec::new();
        for block in self.sections.iter().flat_map(|section| &section.blocks) {
            match block {
                Block::Question { lines, .. } | Block::List { lines } => {
                    spans.extend(lines.iter().flat_map(|line| &line.spans));
                }
                Block::Text { line } | Block::Caution { line } => spans.extend(&line.spans),
                Block::Table { table } => {
                    let cells = table.rows.iter().flat_map(|row| &row.cells);
                    spans.extend(cells.flat_map(|cell| &cell.spans));
                }
                Block::Chart { .. } | Block::Sign { .. } => {}
            }
        }
        spans.retain(|span| !span.from.is_empty());
        spans
    }
}

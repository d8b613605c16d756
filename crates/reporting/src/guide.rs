//! The guide to every column of every file: what `dewledger columns` shows.
//!
//! Built from the same lists that the writers use. Not here: the lists (`columns`, `simulation::results`).

use economics::verdict::{Rules, Threshold};
use serde::Serialize;
use simulation::results::Hourly;

use crate::bin_study::{BinColumn, bin_columns};
use crate::climates::{CLIMATE_KEYS, CLIMATE_VERDICTS, climate_columns};
use crate::columns::COLUMNS;
use crate::hourly::HOURLY_KEYS;
use crate::ledger::LEDGER_HEADER;
use crate::money::{MONEY_KEYS, money_columns};
use crate::summary::{ANNUAL_KEYS, MONTHLY_KEYS};
use crate::{ReportError, calendar};

/// File name of the annual table.
pub const ANNUAL_FILE: &str = "annual.csv";
/// File name of the monthly table.
pub const MONTHLY_FILE: &str = "monthly.csv";
/// Pattern of the hourly files' names.
pub const HOURLY_FILE: &str = "hourly/<unit>.csv";
/// Pattern of the ledger files' names.
pub const LEDGER_FILE: &str = "ledger/<unit>.csv";
/// File name of the table of units in climates.
pub const CLIMATES_FILE: &str = "climates.csv";

/// The bin method's table, which `dewledger bins` writes.
pub const BINS_FILE: &str = "bins.csv";

/// The table of money, where a study has a tariff.
pub const MONEY_FILE: &str = "money.csv";

/// Characters in a line of [`guide_text`].
const LINE_WIDTH: usize = 100;
const INDENT: usize = 2;
/// The one hourly column that is a state, not a mean or a sum.
const FROST_STATE: &str = "frost_kg";

/// One column of one file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ColumnDoc {
    /// File or pattern of file names.
    pub file: &'static str,
    /// Header.
    pub name: String,
    /// Unit; empty for names and dates, `1` for a plain ratio or count.
    pub unit: String,
    /// How it adds up over hours; empty for keys.
    pub aggregates: String,
    /// What it holds.
    pub meaning: String,
}

/// Every column that is written, file by file, in the order of the files.
pub fn column_guide() -> Vec<ColumnDoc> {
    let mut guide = table_guide(ANNUAL_FILE, &ANNUAL_KEYS);
    guide.extend(table_guide(MONTHLY_FILE, &MONTHLY_KEYS));
    guide.extend(HOURLY_KEYS.iter().map(|name| key(HOURLY_FILE, name)));
    guide.extend(Hourly::default().columns().into_iter().map(|(name, _, meaning)| hourly_doc(name, meaning)));
    guide.extend(LEDGER_HEADER.iter().map(|name| ledger_doc(name)));
    guide.extend(climates_guide());
    guide.extend(bin_columns().iter().map(bin_doc));
    guide.extend(money_guide());
    guide
}

/// The guide as JSON, an array of objects.
///
/// # Errors
/// [`ReportError::Writing`] when the text fails.
pub fn guide_json(guide: &[ColumnDoc]) -> Result<String, ReportError> {
    serde_json::to_string_pretty(guide).map_err(ReportError::writing)
}

/// The guide as aligned text, at most 100 characters wide.
pub fn guide_text(guide: &[ColumnDoc]) -> String {
    let mut text = String::new();
    for docs in guide.chunk_by(|doc, next| doc.file == next.file) {
        let file = docs.first().map_or("", |doc| doc.file);
        if !text.is_empty() {
            text.push('\n');
        }
        text.push_str(file);
        text.push('\n');
        if file == MONTHLY_FILE {
            let same = "The keys below, then the columns of annual.csv, each over its month.";
            push_wrapped(&mut text, "", same, INDENT);
        }
        let docs: Vec<&ColumnDoc> = docs.iter().collect();
        push_file(&mut text, &docs[..if file == MONTHLY_FILE { MONTHLY_KEYS.len() } else { docs.len() }]);
    }
    push_limits(&mut text);
    text
}

/// The limits of a recommendation, each with where it is from.
fn push_limits(text: &mut String) {
    text.push_str("\nlimits of a recommendation (in money.json with the reasons)\n");
    let limits = Rules::default().thresholds();
    let width = |of: fn(&Threshold) -> String| {
        limits.iter().map(|limit| of(limit).chars().count()).max().unwrap_or(0)
    };
    let name = |limit: &Threshold| limit.name.to_owned();
    let value = |limit: &Threshold| format!("{} {}", limit.value, limit.unit);
    let (names, values) = (width(name), width(value));
    for limit in &limits {
        let (name, value) = (name(limit), value(limit));
        let head = format!("{:INDENT$}{name:names$}  {value:values$}  ", "");
        push_wrapped(text, &head, limit.source, head.chars().count());
    }
}

fn push_file(text: &mut String, docs: &[&ColumnDoc]) {
    let width =
        |of: fn(&ColumnDoc) -> &str| docs.iter().map(|doc| of(doc).chars().count()).max().unwrap_or(0);
    let (names, units) = (width(|doc| &doc.name), width(|doc| &doc.unit));
    for doc in docs {
        let head = format!("{:INDENT$}{:names$}  {:units$}  ", "", doc.name, doc.unit);
        let how = if doc.aggregates.is_empty() { String::new() } else { format!(" [{}]", doc.aggregates) };
        push_wrapped(text, &head, &format!("{}{how}", doc.meaning), head.chars().count());
    }
}

/// Words after `head`, later lines indented by `indent`.
fn push_wrapped(text: &mut String, head: &str, words: &str, indent: usize) {
    let mut line = if head.is_empty() { " ".repeat(indent) } else { head.to_owned() };
    let mut used = line.chars().count();
    let mut fresh = true;
    for word in words.split_whitespace() {
        let length = word.chars().count();
        if !fresh && used + 1 + length > LINE_WIDTH {
            text.push_str(line.trim_end());
            text.push('\n');
            line = " ".repeat(indent);
            used = indent;
            fresh = true;
        }
        if !fresh {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += length;
        fresh = false;
    }
    text.push_str(line.trim_end());
    text.push('\n');
}

fn table_guide(file: &'static str, keys: &[&str]) -> Vec<ColumnDoc> {
    let columns = COLUMNS.iter().map(|column| ColumnDoc {
        file,
        name: column.name.to_owned(),
        unit: column.unit.to_owned(),
        aggregates: column.aggregates().to_owned(),
        meaning: column.meaning.to_owned(),
    });
    keys.iter().map(|name| key(file, name)).chain(columns).collect()
}

fn climates_guide() -> Vec<ColumnDoc> {
    let key = |name: &&str| {
        let meaning = match *name {
            "climate" => "Name of the weather file, with as many of its folders as tell it from the others.",
            "place" => "The place as that file names it.",
            _ => "Name of the unit.",
        };
        doc(CLIMATES_FILE, name, "", meaning)
    };
    let columns = climate_columns();
    let figures = columns.iter().map(|column| ColumnDoc {
        aggregates: column.aggregates.to_owned(),
        ..doc(CLIMATES_FILE, column.name, column.unit, column.meaning)
    });
    let verdicts =
        CLIMATE_VERDICTS.iter().map(|verdict| doc(CLIMATES_FILE, verdict.name, "", verdict.meaning));
    CLIMATE_KEYS.iter().map(key).chain(figures).chain(verdicts).collect()
}

fn key(file: &'static str, name: &str) -> ColumnDoc {
    let meaning = match name {
        "unit" => "Name of the unit; empty for the house without ventilation.",
        "case" => {
            "Which house: `unit`, its `no-recovery` baseline (the same outdoor air and fans, no core), its `extract-only` house (as much outdoor air, through the leaks, by one extract fan), or `no-ventilation` (leakage only). `-held-air`: the first two with the air that the unit misses made up."
        }
        "month" => "Month of the year, 1 to 12.",
        "day" => "Day of the month, 1 to 31.",
        _ => "The hour that ends at this time, 1 to 24, local standard time.",
    };
    doc(file, name, "", meaning)
}

/// Meaning and unit of an hourly column; the unit stands in brackets at the end of its description.
fn hourly_doc(name: &str, meaning: &str) -> ColumnDoc {
    let plain = meaning.trim().trim_end_matches('.');
    let (words, unit) = match plain.strip_suffix(']').and_then(|rest| rest.rsplit_once(" [")) {
        Some((words, unit)) if unit.starts_with("fraction") => (format!("{words}, {unit}"), "1"),
        Some((words, unit)) => (words.to_owned(), unit),
        None => (plain.to_owned(), "1"),
    };
    let aggregates = match unit {
        _ if name == FROST_STATE => "at the end of the hour",
        "J" | "kg" | "kg dry air" => "sum",
        "1" if words == plain => "sum",
        _ => "mean",
    };
    ColumnDoc { aggregates: aggregates.to_owned(), ..doc(HOURLY_FILE, name, unit, &format!("{words}.")) }
}

fn ledger_doc(name: &str) -> ColumnDoc {
    let month = calendar::MONTHS.iter().any(|month| month.eq_ignore_ascii_case(name));
    let (unit, meaning) = match name {
        "book" => ("", "`heat` or `water` of the house, `core heat` or `core water`."),
        "label" => ("", "What the line holds."),
        "unit" => ("", "kWh for the heat books, kg for the water books."),
        "year" => ("kWh or kg", "Sum of the printed months."),
        _ if month => ("kWh or kg", "Sum over the month, into the book positive."),
        _ => ("", ""),
    };
    doc(LEDGER_FILE, name, unit, meaning)
}

fn money_guide() -> Vec<ColumnDoc> {
    let keys = MONEY_KEYS.iter().map(|(name, meaning)| doc(MONEY_FILE, name, "", meaning));
    let columns = money_columns().into_iter().map(|column| ColumnDoc {
        aggregates: column.aggregates.to_owned(),
        ..doc(MONEY_FILE, &column.name, column.unit, &column.meaning)
    });
    keys.chain(columns).collect()
}

fn bin_doc(column: &BinColumn) -> ColumnDoc {
    ColumnDoc {
        aggregates: column.aggregates.to_owned(),
        ..doc(BINS_FILE, &column.name, column.unit, &column.meaning)
    }
}

fn doc(file: &'static str, name: &str, unit: &str, meaning: &str) -> ColumnDoc {
    ColumnDoc {
        file,
        name: name.to_owned(),
        unit: unit.to_owned(),
        aggregates: String::new(),
        meaning: meaning.to_owned(),
    }
}

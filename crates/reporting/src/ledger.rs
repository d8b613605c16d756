//! The books of one house-year by month as CSV text.
//!
//! Heat is written in kWh and water in kg, three decimals; the year is the sum of the printed months.
//! Not here: how postings are made (crate `simulation`).

use simulation::results::{HouseYear, LedgerLine};

use crate::{Cell, ReportError};

/// Header of a ledger file.
pub const LEDGER_HEADER: [&str; 16] = [
    "book", "label", "unit", "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov",
    "dec", "year",
];

/// Joules in a kilowatt-hour.
pub const JOULES_PER_KWH: f64 = 3.6e6;

const DECIMALS: u8 = 3;

/// What a book counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BookKind {
    /// Heat, held in J, shown in kWh.
    Heat,
    /// Water, kg.
    Water,
}

impl BookKind {
    /// From the book's name: the ones that end in `water` count water.
    pub fn of(line: &LedgerLine) -> Self {
        if line.book.ends_with("water") { Self::Water } else { Self::Heat }
    }

    /// Unit in files and charts.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Heat => "kWh",
            Self::Water => "kg",
        }
    }

    /// From the ledger's own unit, J or kg, to [`BookKind::unit`].
    pub fn shown(self, amount: f64) -> f64 {
        match self {
            Self::Heat => amount / JOULES_PER_KWH,
            Self::Water => amount,
        }
    }
}

/// `ledger/<unit>.csv`: book, label, unit, twelve months and the year; into the book positive.
///
/// # Errors
/// [`ReportError::TooLarge`] for a sum that is not finite, [`ReportError::Writing`] when the text fails.
pub fn ledger_csv(year: &HouseYear) -> Result<String, ReportError> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(LEDGER_HEADER).map_err(ReportError::writing)?;
    for line in &year.ledger_by_month {
        let kind = BookKind::of(line);
        let months = printed_months(line)?;
        let total = Cell::sum(months.iter().copied());
        let keys = [line.book, line.label, kind.unit()].map(str::to_owned);
        let cells = months.iter().chain([&total]).map(Cell::to_string);
        writer.write_record(keys.into_iter().chain(cells)).map_err(ReportError::writing)?;
    }
    String::from_utf8(writer.into_inner().map_err(ReportError::writing)?).map_err(ReportError::writing)
}

/// The months of a line as they are printed.
pub(crate) fn printed_months(line: &LedgerLine) -> Result<Vec<Cell>, ReportError> {
    let kind = BookKind::of(line);
    line.by_month.iter().map(|amount| Cell::rounded(kind.shown(*amount), DECIMALS)).collect()
}

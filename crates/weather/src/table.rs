//! The stage between text and year: rows as they stand in the file, cells as numbers or as gaps. What is not here: what
//! is done about gaps (`complete.rs`). Read next: [`crate::read()`].

use crate::calendar::Stamp;
use crate::error::WeatherError;
use crate::findings::{Finding, FindingKind, Location, Severity};
use crate::quantity::Quantity;
use crate::text;
use crate::unit_guess;
use crate::year::{Format, HumidityBasis, PlaceOverride};

/// One row: its line, its hour and a number for each quantity, `None` where the column or the value is missing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Row {
    pub line: usize,
    pub stamp: Stamp,
    pub values: [Option<f64>; Quantity::ALL.len()],
}

impl Row {
    pub(crate) fn get(&self, quantity: Quantity) -> Option<f64> {
        self.values.get(quantity as usize).copied().flatten()
    }

    pub(crate) fn location(&self) -> Location {
        Location { line: Some(self.line), hour: Some(self.stamp) }
    }
}

/// What a file says, before gaps are filled and humidity is converted.
#[derive(Debug, Clone)]
pub(crate) struct Table {
    pub format: Format,
    pub place: PlaceOverride,
    pub rows: Vec<Row>,
    pub fillers: Vec<(Quantity, Location)>,
    /// Where the sun may stand in each hour; the first is the format's rule.
    pub sun_offsets_h: Vec<f64>,
    /// Clock of the rows, hours ahead of UTC, where it is not the place's local standard time.
    pub clock_h: Option<f64>,
    pub wind_height_m: Option<f64>,
    pub humidity_basis: Option<HumidityBasis>,
    pub is_synthetic: bool,
    pub shifted: Option<String>,
    pub source: String,
    pub findings: Vec<Finding>,
}

impl Table {
    /// A table with the usual assumptions: sun at mid-hour, wind at the standard height.
    pub(crate) fn new(format: Format, place: PlaceOverride) -> Self {
        Self {
            format,
            place,
            rows: Vec::new(),
            fillers: Vec::new(),
            sun_offsets_h: vec![0.5],
            clock_h: None,
            wind_height_m: None,
            humidity_basis: None,
            is_synthetic: false,
            shifted: None,
            source: String::new(),
            findings: Vec::new(),
        }
    }
}

/// Where a quantity stands in a row and what its numbers are multiplied by to become this crate's unit.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Column {
    pub quantity: Quantity,
    pub position: usize,
    pub scale: f64,
}

/// Reads the stamp of a row; the cells and the line number.
pub(crate) type StampReader<'a> = &'a dyn Fn(&[&str], usize) -> Result<Stamp, WeatherError>;

/// Cuts a row into cells.
pub(crate) type Cutter = for<'t> fn(&'t str) -> Vec<&'t str>;

/// How the rows of a file are laid out.
pub(crate) struct Layout<'a> {
    pub cut: Cutter,
    pub columns: Vec<Column>,
    pub width: usize,
    pub stamp: StampReader<'a>,
}

impl Layout<'_> {
    /// Reads all rows into the table; empty lines are passed over.
    pub(crate) fn fill<'t>(
        &self,
        table: &mut Table,
        lines: impl Iterator<Item = (usize, &'t str)>,
    ) -> Result<(), WeatherError> {
        let mut trailing = Vec::new();
        let lines: Vec<(usize, &str)> = lines.collect();
        for &(line, content) in &lines {
            let cells = (self.cut)(content);
            if cells.iter().all(|cell| cell.is_empty()) {
                continue;
            }
            let row =
                self.row(line, &cells, &mut table.fillers).map_err(|error| self.blamed(error, &lines))?;
            if cells.len() > self.width {
                trailing.push(row.location());
            }
            table.rows.push(row);
        }
        if !trailing.is_empty() {
            let sentence = "Rows end in empty columns, which were passed over.".to_owned();
            table.findings.push(Finding::at(
                FindingKind::TrailingEmptyColumns,
                Severity::Note,
                &trailing,
                sentence,
            ));
        }
        unit_guess::no_fraction(&table.rows)?;
        if table.rows.is_empty() { Err(WeatherError::NoRows) } else { Ok(()) }
    }

    /// A value outside its range, or the whole column's unit where that is at fault.
    fn blamed(&self, error: WeatherError, lines: &[(usize, &str)]) -> WeatherError {
        let WeatherError::OutOfRange { quantity, .. } = error else { return error };
        let of_column = |column: &&Column| column.quantity.name() == quantity;
        let guess = self.columns.iter().find(of_column).and_then(|column| {
            unit_guess::Cells::of(*column, self.cut, lines).in_other_unit(column.quantity)
        });
        guess.unwrap_or(error)
    }

    fn row(
        &self,
        line: usize,
        cells: &[&str],
        fillers: &mut Vec<(Quantity, Location)>,
    ) -> Result<Row, WeatherError> {
        let extra_is_empty = cells.iter().skip(self.width).all(|cell| cell.is_empty());
        if cells.len() < self.width || !extra_is_empty {
            return Err(WeatherError::RowWidth { line, found: cells.len(), expected: self.width });
        }
        let stamp = (self.stamp)(cells, line)?;
        let mut row = Row { line, stamp, values: [None; Quantity::ALL.len()] };
        for column in &self.columns {
            let value = cell_value(cells.get(column.position).copied().unwrap_or_default(), *column, line)?;
            if value.is_none() {
                fillers.push((column.quantity, row.location()));
            }
            if let Some(slot) = row.values.get_mut(column.quantity as usize) {
                *slot = value;
            }
        }
        Ok(row)
    }
}

/// A column's number in this crate's unit.
pub(crate) fn in_unit(raw: f64, column: Column) -> f64 {
    // A tenth is exact as a divisor: 111 tenths are 11.1, not 11.100000000000001.
    if column.scale < 1.0 { raw / column.scale.recip() } else { raw * column.scale }
}

/// A number in this crate's unit, `None` for a filler or an empty cell.
fn cell_value(cell: &str, column: Column, line: usize) -> Result<Option<f64>, WeatherError> {
    if cell.is_empty() {
        return Ok(None);
    }
    let raw = text::number(cell).ok_or_else(|| WeatherError::not_a_number(line, column.quantity, cell))?;
    let value = in_unit(raw, column);
    let range = column.quantity.range();
    if (range.low..=range.high).contains(&value) {
        Ok(Some(value))
    } else if Quantity::is_filler(raw) {
        Ok(None)
    } else {
        let (quantity, unit) = (column.quantity.name(), range.unit);
        Err(WeatherError::OutOfRange { line, quantity, value, low: range.low, high: range.high, unit })
    }
}

/// A whole number from 0 to 255, as stamps are written.
pub(crate) fn small_number(text: &str) -> Option<u8> {
    text.trim().parse().ok()
}

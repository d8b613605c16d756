//! A whole column in another unit: told by its size, said, never converted. What is not here: the ranges
//! (`quantity.rs`). Read next: `table.rs`.

use crate::error::WeatherError;
use crate::quantity::Quantity;
use crate::table::{Column, Cutter, Row, in_unit};
use crate::text;

/// Cells outside the range that are more than a few mistakes.
const MANY: usize = 24;

/// A unit that a column may be in: its name, and how its numbers become this crate's: `(x − zero) × scale`.
type Unit = (&'static str, f64, f64);

fn others(quantity: Quantity) -> &'static [Unit] {
    match quantity {
        Quantity::DryBulb | Quantity::DewPoint => &[("°F", 32.0, 1.0 / 1.8), ("K", 273.15, 1.0)],
        Quantity::RelativeHumidity => &[("a fraction", 0.0, 100.0)],
        Quantity::HumidityRatio => &[("g/kg", 0.0, 1e-3)],
        Quantity::Pressure => &[
            ("kPa", 0.0, 1000.0),
            ("hPa (mbar)", 0.0, 100.0),
            ("mmHg", 0.0, 133.322),
            ("inHg", 0.0, 3386.39),
            ("psi", 0.0, 6894.76),
            ("tenths of hPa", 0.0, 10.0),
        ],
        Quantity::WindSpeed | Quantity::WindDirection => &[],
        Quantity::Global | Quantity::Direct | Quantity::Diffuse => {
            &[("kJ/m² over the hour", 0.0, 1.0 / 3.6), ("J/m² over the hour", 0.0, 1.0 / 3600.0)]
        }
    }
}

/// One column as it stands: line and raw number of each cell that holds one and is no filler by its unit's own range.
pub(crate) struct Cells {
    values: Vec<(usize, f64)>,
}

impl Cells {
    /// Gathers the numbers of a column; other cells are left to the reader.
    pub(crate) fn of(column: Column, cut: Cutter, lines: &[(usize, &str)]) -> Self {
        let number = |&(line, content): &(usize, &str)| {
            let raw = text::number(cut(content).get(column.position).copied().unwrap_or_default())?;
            (!is_marker(raw)).then(|| (line, in_unit(raw, column)))
        };
        Self { values: lines.iter().filter_map(number).collect() }
    }

    /// The error, where so many values are outside their range that the unit is another, and one is found that fits.
    pub(crate) fn in_other_unit(&self, quantity: Quantity) -> Option<WeatherError> {
        let range = quantity.range();
        let fits = |value: f64| (range.low..=range.high).contains(&value);
        let outside = || self.values.iter().filter(|(_, value)| !fits(*value));
        let (count, line) = (outside().count(), outside().next()?.0);
        let is_fit = |&&(_, zero, scale): &&Unit| {
            let misfits = self.values.iter().filter(|(_, value)| !fits((value - zero) * scale)).count();
            misfits * 1000 <= self.values.len()
        };
        let (looks_like, ..) = others(quantity).iter().find(is_fit).filter(|_| count >= MANY)?;
        Some(WeatherError::OtherUnit {
            line,
            quantity: quantity.name(),
            looks_like,
            outside: count,
            of: self.values.len(),
            low: range.low,
            high: range.high,
            unit: range.unit,
        })
    }
}

/// Nines of four digits and more, and −999 and the like: never a value, in whatever unit.
fn is_marker(value: f64) -> bool {
    value <= -900.0 || (value.abs() >= 9990.0 && Quantity::is_filler(value))
}

/// Relative humidity as a fraction stays inside its range, so it is told by no hour passing 1 %.
pub(crate) fn no_fraction(rows: &[Row]) -> Result<(), WeatherError> {
    let stated = || rows.iter().filter_map(|row| row.get(Quantity::RelativeHumidity));
    let (of, most) = (stated().count(), stated().fold(0.0, f64::max));
    if of >= MANY && most > 0.0 && most <= 1.0 {
        return Err(WeatherError::Fraction { of, most });
    }
    Ok(())
}

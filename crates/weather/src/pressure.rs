//! The unit of a pressure column, told by the size of its numbers where it is not stated or cannot be as stated. What is
//! not here: whether the pressure fits the elevation (`doubts.rs`). Read next: `table.rs`.

use crate::findings::{Finding, FindingKind, Severity};
use crate::quantity::Quantity;
use crate::table::Column;
use crate::text;

/// So many numbers are looked at.
const SAMPLE: usize = 200;

const UNITS: [(f64, &str); 3] = [(1.0, "Pa"), (100.0, "hPa"), (1000.0, "kPa")];

/// Scale of a unit's name; `None` for a name that is not known.
pub(crate) fn scale_of(unit: &str) -> Option<f64> {
    match unit.to_ascii_lowercase().as_str() {
        "pa" => Some(1.0),
        "hpa" | "mbar" | "mb" | "millibar" | "millibars" => Some(100.0),
        "kpa" => Some(1000.0),
        _ => None,
    }
}

/// Keeps the pressure column's scale where the middle of its numbers can be a pressure; else takes the unit that fits, and
/// says so. No two of the three units fit one number.
pub(crate) fn settle_unit<'t>(
    columns: &mut [Column],
    rows: impl Iterator<Item = (usize, &'t str)>,
    findings: &mut Vec<Finding>,
) {
    let Some(column) = columns.iter_mut().find(|column| column.quantity == Quantity::Pressure) else {
        return;
    };
    let number = |(_, row): (usize, &str)| {
        text::cells(row)
            .get(column.position)
            .and_then(|cell| text::number(cell))
            .filter(|x| !Quantity::is_filler(*x))
    };
    let mut sample: Vec<f64> = rows.filter_map(number).take(SAMPLE).collect();
    sample.sort_by(f64::total_cmp);
    let Some(&middle) = sample.get(sample.len() / 2) else { return };
    let range = Quantity::Pressure.range();
    let fits = |scale: f64| (range.low..=range.high).contains(&(middle * scale));
    if fits(column.scale) {
        return;
    }
    if let Some((scale, name)) = UNITS.into_iter().find(|(scale, _)| fits(*scale)) {
        column.scale = scale;
        let sentence = format!("Pressure stands near {middle}, so it was read in {name}.");
        findings.push(Finding::whole_file(FindingKind::PressureUnit, Severity::Warning, sentence));
    }
}

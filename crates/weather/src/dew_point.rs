//! Dew points above the dry bulb: a few by a little are rounding, more is another column. What is not here: humidity
//! ratios (`humidity.rs`). Read next: `complete.rs`.

use crate::error::WeatherError;
use crate::findings::{Finding, FindingKind, Severity, counted};
use crate::quantity::Quantity;
use crate::table::Row;

/// A dew point may stand this far above the dry bulb before the file is refused \[K\].
const EXCESS_K: f64 = 2.0;

/// Counts dew points above the dry bulb; `span` is what a row stands for, "hour" or "half-hour".
///
/// # Errors
/// [`WeatherError`] where they are far above, or in more than 5 % of the rows.
pub(crate) fn check(rows: &[Row], span: &'static str) -> Result<Option<Finding>, WeatherError> {
    let mut above = Vec::new();
    for row in rows.iter().filter(|row| row.get(Quantity::HumidityRatio).is_none()) {
        let (Some(dry_bulb_c), Some(dew_point_c)) = (row.get(Quantity::DryBulb), row.get(Quantity::DewPoint))
        else {
            continue;
        };
        let excess_k = dew_point_c - dry_bulb_c;
        if excess_k > EXCESS_K {
            return Err(WeatherError::DewPointFarAbove { line: row.line, hour: row.stamp, excess_k });
        }
        if excess_k > 0.0 {
            above.push(row.location());
        }
    }
    if above.len() * 20 > rows.len() {
        let line = above.first().and_then(|place| place.line).unwrap_or_default();
        return Err(WeatherError::DewPointOftenAbove { count: above.len(), span, line });
    }
    let sentence = format!(
        "The dew point stands above the dry bulb in {}: limited to the dry bulb.",
        counted(above.len(), span)
    );
    let finding = Finding::at(FindingKind::DewPointAboveDryBulb, Severity::Warning, &above, sentence);
    Ok((!above.is_empty()).then_some(finding))
}

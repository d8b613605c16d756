//! Humidity of a row to humidity ratio, on the curve the file itself uses below 0 °C. What is not here: the saturation
//! curves (crate `psychrometrics`). Read next: `complete.rs`.
//!
//! Weather services state relative humidity and dew point over liquid water also below 0 °C; some files state them over
//! ice. The difference in humidity ratio is 5 % at -5 °C and 18 % at -20 °C. Where a row carries both quantities, each
//! curve predicts one from the other, so the file's own cold hours tell which curve was used.

use crate::quantity::Quantity;
use crate::table::Row;
use crate::year::{HumidityBasis, HumidityOrigin};
use psychrometrics::formulas::{
    humidity_ratio, saturation_over_ice_pa, saturation_over_water_pa, saturation_pa,
};

/// Fewer cold hours than this say nothing.
const HOURS_TO_INFER: usize = 24;

/// Saturation pressure on a file's curve \[Pa\]: over water everywhere, or over ice below 0 °C.
pub(crate) fn saturation_on(basis: HumidityBasis, temperature_c: f64) -> f64 {
    match basis {
        HumidityBasis::Ice if temperature_c < 0.0 => saturation_over_ice_pa(temperature_c),
        HumidityBasis::Ice | HumidityBasis::Water => saturation_over_water_pa(temperature_c),
    }
}

/// Humidity ratio of saturated air as the model knows it: over ice up to 0.01 °C, over water above.
pub(crate) fn saturated_ratio(temperature_c: f64, pressure_pa: f64) -> f64 {
    humidity_ratio(saturation_pa(temperature_c), pressure_pa)
}

/// Relative humidity that the dew point stands for \[%\], on one curve.
fn relative_humidity_pct(basis: HumidityBasis, dry_bulb_c: f64, dew_point_c: f64) -> f64 {
    100.0 * saturation_on(basis, dew_point_c) / saturation_on(basis, dry_bulb_c)
}

/// A row's relative humidity less that of its dew point \[points\]; `None` unless it carries both.
pub(crate) fn disagreement_points(row: &Row, basis: HumidityBasis) -> Option<f64> {
    let dry_bulb_c = row.get(Quantity::DryBulb)?;
    let dew_point_c = row.get(Quantity::DewPoint)?.min(dry_bulb_c);
    let stated = row.get(Quantity::RelativeHumidity)?;
    Some(stated - relative_humidity_pct(basis, dry_bulb_c, dew_point_c))
}

/// Which curve fits a file's hours below 0 °C, and how that was found.
///
/// Differences keep their sign, so that rounding of either column cancels in the mean and the curve's bias is left.
pub(crate) fn infer_basis(rows: &[Row]) -> (HumidityBasis, HumidityOrigin) {
    let cold = || rows.iter().filter(|row| row.get(Quantity::DryBulb).is_some_and(|t| t < 0.0));
    let distances = |basis| cold().filter_map(|row| disagreement_points(row, basis)).collect::<Vec<_>>();
    let (over_water, over_ice) = (distances(HumidityBasis::Water), distances(HumidityBasis::Ice));
    let hours = over_water.len();
    if hours < HOURS_TO_INFER {
        return (HumidityBasis::Water, HumidityOrigin::Assumed);
    }
    let (water_points, ice_points) = (mean(&over_water).abs(), mean(&over_ice).abs());
    let basis = if ice_points < water_points { HumidityBasis::Ice } else { HumidityBasis::Water };
    (basis, HumidityOrigin::Inferred { hours, water_points, ice_points })
}

/// Humidity ratio of a row before any limit: from the ratio itself, else the dew point, else relative humidity.
///
/// A dew point above the dry bulb counts as the dry bulb. `None` where the row has none of the three.
pub(crate) fn ratio(row: &Row, basis: HumidityBasis, dry_bulb_c: f64, pressure_pa: f64) -> Option<f64> {
    if let Some(ratio) = row.get(Quantity::HumidityRatio) {
        return Some(ratio);
    }
    let vapour_pa = if let Some(dew_point_c) = row.get(Quantity::DewPoint) {
        saturation_on(basis, dew_point_c.min(dry_bulb_c))
    } else {
        row.get(Quantity::RelativeHumidity)? / 100.0 * saturation_on(basis, dry_bulb_c)
    };
    // Half of the pressure is far above saturation at any weather; beyond it the formula would lose its meaning.
    Some(humidity_ratio(vapour_pa.min(0.5 * pressure_pa), pressure_pa))
}

#[allow(clippy::cast_precision_loss, reason = "counts of hours are far below 2^52")]
pub(crate) fn mean(values: &[f64]) -> f64 {
    if values.is_empty() { 0.0 } else { values.iter().sum::<f64>() / values.len() as f64 }
}

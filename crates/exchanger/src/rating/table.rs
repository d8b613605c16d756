//! Conductances from a table of the core's own effectivenesses over airflow.
//!
//! Not here: label figures, which contain fans and leaks (`fit`).

use lanes::Real;
use psychrometrics::formulas::CP_DRY_AIR_J_PER_KGK;

use super::checks::Range;
use super::error::{Place, RatingError};

/// A row: equal flows on both sides, a dry core, effectivenesses of the core alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TableRow {
    /// Flow on each side [kg dry air/s], above 0.
    pub flow_kg_per_s: f64,
    /// Sensible effectiveness, 0.05…0.98.
    pub sensible: f64,
    /// Latent effectiveness, 0.05…0.98; for a core that passes no vapour none.
    pub latent: Option<f64>,
}

/// Conductances of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct FromTable {
    /// Heat conductance at the flow of the first row [W/K].
    pub ua_w_per_k: f64,
    /// Vapour conductance at that flow [kg dry air/s], 0 where no row has a latent effectiveness.
    pub vapour_kg_per_s: f64,
    /// The flow of the first row [kg dry air/s].
    pub at_kg_per_s: f64,
    /// `n` in `NTU ∝ m⁻ⁿ`, the same for heat and vapour; none for a table with one flow.
    pub flow_exponent: Option<f64>,
    /// What these give less what each row states: sensible, and latent where it is stated.
    pub errors: Vec<(f64, Option<f64>)>,
}

/// Fits `ln NTU = ln NTU₁ − n ln(m/m₁)` to all rows, with one exponent for heat and vapour and
/// `NTU = ε/(1 − ε)`: counterflow, equal flows.
///
/// # Errors
/// [`RatingError`]: no row, a number out of range, an exponent outside 0…1.5, or a row more than 3 points off.
///
/// # Source
/// Effectiveness–NTU for counterflow at equal flows; scaling with flow as in any heat-transfer handbook.
pub fn fit_table(rows: &[TableRow]) -> Result<FromTable, RatingError> {
    let first = rows.first().ok_or(RatingError::NothingToFit)?;
    for (i, row) in rows.iter().enumerate() {
        check(Place::Row { number: i + 1 }, row)?;
    }
    let place = |row: &TableRow, effectiveness: f64| {
        let ntu = effectiveness / (1.0 - effectiveness);
        (Real::ln(row.flow_kg_per_s / first.flow_kg_per_s), Real::ln(ntu))
    };
    let heat: Vec<LogPoint> = rows.iter().map(|row| place(row, row.sensible)).collect();
    let vapour: Vec<LogPoint> = rows.iter().filter_map(|row| Some(place(row, row.latent?))).collect();
    let (spread, product) = [&heat, &vapour]
        .map(|set| moments(set))
        .into_iter()
        .fold((0.0, 0.0), |sum, set| (sum.0 + set.0, sum.1 + set.1));
    let flow_exponent = (spread > LEAST_SPREAD).then(|| -product / spread);
    if let Some(value) = flow_exponent.filter(|n| !(0.0..=1.5).contains(n)) {
        return Err(RatingError::FlowExponent { value });
    }
    let n = flow_exponent.unwrap_or(0.0);
    let ntu_of = |set: &[LogPoint]| {
        let (x, y) = mean(set);
        if set.is_empty() { 0.0 } else { Real::exp(y + n * x) }
    };
    let ntu = (ntu_of(&heat), ntu_of(&vapour));
    let errors = rows.iter().enumerate().map(|(i, row)| compare(i + 1, row, (first, n, ntu)));
    Ok(FromTable {
        ua_w_per_k: ntu.0 * first.flow_kg_per_s * CP_DRY_AIR_J_PER_KGK,
        vapour_kg_per_s: ntu.1 * first.flow_kg_per_s,
        at_kg_per_s: first.flow_kg_per_s,
        flow_exponent,
        errors: errors.collect::<Result<_, _>>()?,
    })
}

/// Logarithms of flow ratio and NTU.
type LogPoint = (f64, f64);

/// Flows that differ by less than about 1 % do not tell the exponent.
const LEAST_SPREAD: f64 = 1e-4;
const TOLERANCE: f64 = super::checks::TOLERANCE;

fn check(place: Place, row: &TableRow) -> Result<(), RatingError> {
    let flow = Range { quantity: "flow", unit: " kg/s", low: 0.001, high: 10.0 };
    let effectiveness = |quantity| Range { quantity, unit: "", low: 0.05, high: 0.98 };
    flow.check(place, row.flow_kg_per_s)?;
    effectiveness("sensible effectiveness").check(place, row.sensible)?;
    row.latent.map_or(Ok(()), |latent| effectiveness("latent effectiveness").check(place, latent))
}

fn mean(set: &[LogPoint]) -> LogPoint {
    let count = set.len().max(1) as f64;
    let (x, y) = set.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.0, sum.1 + p.1));
    (x / count, y / count)
}

/// Sums of squares and of products about the mean.
fn moments(set: &[LogPoint]) -> LogPoint {
    let (x, y) = mean(set);
    set.iter().fold((0.0, 0.0), |sum, p| (sum.0 + (p.0 - x) * (p.0 - x), sum.1 + (p.0 - x) * (p.1 - y)))
}

/// Errors of a row by the first row, the exponent, and both NTU there.
fn compare(
    number: usize,
    row: &TableRow,
    (first, n, ntu): (&TableRow, f64, (f64, f64)),
) -> Result<(f64, Option<f64>), RatingError> {
    let ratio: f64 = Real::exp(-n * Real::ln(row.flow_kg_per_s / first.flow_kg_per_s));
    let error = |ntu: f64, stated: f64| {
        let given = ntu * ratio / (1.0 + ntu * ratio);
        let place = Place::Row { number };
        if (given - stated).abs() > TOLERANCE {
            return Err(RatingError::RowAside { place, stated, given });
        }
        Ok(given - stated)
    };
    Ok((error(ntu.0, row.sensible)?, row.latent.map(|latent| error(ntu.1, latent)).transpose()?))
}

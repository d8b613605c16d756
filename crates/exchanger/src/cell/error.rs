//! Why the cell solution refuses a case, and the checks that all its cases share.
//!
//! Not here: what is special to a plate (`case`) or a wheel (`wheel`).

use psychrometrics::formulas::saturation_humidity_ratio;

use crate::streams::Inlets;

/// Why the cell solution has no answer.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CellError {
    /// A number outside the range in which the model answers, or not a number.
    #[error("{quantity} {value}{unit} is outside {low}…{high}{unit}")]
    OutOfRange {
        /// What it is, with its stream.
        quantity: &'static str,
        /// As given.
        value: f64,
        /// Unit of value and range, with the space before it.
        unit: &'static str,
        /// Lowest allowed.
        low: f64,
        /// Highest allowed.
        high: f64,
    },
    /// Air that holds more than saturation at its temperature (1e-6 of it is taken as rounding).
    #[error("{stream} air holds {humidity_ratio} kg/kg, but is saturated at {saturation} kg/kg")]
    AboveSaturation {
        /// `outdoor` or `extract`.
        stream: &'static str,
        /// As given [kg/kg dry air].
        humidity_ratio: f64,
        /// At this temperature and pressure [kg/kg dry air].
        saturation: f64,
    },
    /// Cells too large for the conductance: air would overshoot its plate within a cell.
    #[error("{cells} cells are too few for this conductance and these flows: at least {least} are needed")]
    TooFewCells {
        /// As given.
        cells: usize,
        /// What the case needs.
        least: f64,
    },
    /// The cells did not come to agree.
    #[error("the cells still differ by {gap_k} K after {iterations} iterations")]
    NotConverged {
        /// Largest difference left \[K\].
        gap_k: f64,
        /// Iterations done.
        iterations: usize,
    },
}

/// Flows of dry air that are accepted [kg/s].
const FLOW: (f64, f64) = (1e-6, 1e3);
const TEMPERATURE_C: (f64, f64) = (-60.0, 60.0);
const PRESSURE_PA: (f64, f64) = (50e3, 110e3);
/// Saturated air at 60 °C and 50 kPa holds 0.41.
const HUMIDITY_RATIO: (f64, f64) = (0.0, 0.5);

/// The value, if it lies in the range.
pub(super) fn within(
    quantity: &'static str,
    value: f64,
    unit: &'static str,
    (low, high): (f64, f64),
) -> Result<f64, CellError> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(CellError::OutOfRange { quantity, value, unit, low, high })
    }
}

/// Refuses fewer cells than this.
pub(super) fn enough(cells: usize, least: f64) -> Result<(), CellError> {
    if cells as f64 >= least { Ok(()) } else { Err(CellError::TooFewCells { cells, least: least.ceil() }) }
}

/// Refuses entering air outside the model's range.
pub(super) fn check_inlets(inlets: &Inlets<f64>) -> Result<(), CellError> {
    within("supply flow", inlets.supply_kg_per_s, " kg/s", FLOW)?;
    within("extract flow", inlets.extract_kg_per_s, " kg/s", FLOW)?;
    within("outdoor temperature", inlets.outdoor_c, " °C", TEMPERATURE_C)?;
    within("extract temperature", inlets.extract_c, " °C", TEMPERATURE_C)?;
    within("outdoor humidity ratio", inlets.outdoor_humidity_ratio, " kg/kg", HUMIDITY_RATIO)?;
    within("extract humidity ratio", inlets.extract_humidity_ratio, " kg/kg", HUMIDITY_RATIO)?;
    within("pressure", inlets.pressure_pa, " Pa", PRESSURE_PA)?;
    check_saturation("outdoor", inlets.outdoor_c, inlets.outdoor_humidity_ratio, inlets.pressure_pa)?;
    check_saturation("extract", inlets.extract_c, inlets.extract_humidity_ratio, inlets.pressure_pa)
}

fn check_saturation(
    stream: &'static str,
    air_c: f64,
    humidity_ratio: f64,
    pressure_pa: f64,
) -> Result<(), CellError> {
    let saturation = saturation_humidity_ratio(air_c, pressure_pa);
    if humidity_ratio > saturation * (1.0 + 1e-6) {
        return Err(CellError::AboveSaturation { stream, humidity_ratio, saturation });
    }
    Ok(())
}

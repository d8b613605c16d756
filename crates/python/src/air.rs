//! Moist air in arrays: any solvable pair of properties, every property out.
//!
//! Not here: broadcasting of shapes (`python/dewledger/air.py`), the relations (`psychrometrics`).

use numpy::{PyArray1, PyReadonlyArray1};
use psychrometrics::{EnhancementFactor, Given, MoistAir, Property};
use pyo3::prelude::*;
use pyo3::types::PyDict;
use rayon::prelude::*;

use crate::failure::refused;

/// Elements that one thread takes at a time; fewer than these are not worth a second thread.
const PIECE: usize = 512;

/// What comes out, in the order of [`Columns`].
const NAMES: [&str; 11] = [
    "dry_bulb_c",
    "wet_bulb_c",
    "dew_point_c",
    "relative_humidity",
    "humidity_ratio",
    "enthalpy_j_per_kg",
    "specific_volume_m3_per_kg",
    "density_kg_per_m3",
    "vapour_pressure_pa",
    "saturation_pressure_pa",
    "pressure_pa",
];

/// What goes in, of one length.
struct Inputs<'a> {
    properties: [Property; 2],
    first: &'a [f64],
    second: &'a [f64],
    pressure_pa: &'a [f64],
    enhancement: EnhancementFactor,
}

/// States of moist air: a column for each property, and where air is too dry for a dew point.
///
/// Arrays of one length, one-dimensional; `names` are two of `dry_bulb_c, wet_bulb_c, dew_point_c, relative_humidity,
/// humidity_ratio, enthalpy_j_per_kg`.
#[pyfunction]
#[pyo3(signature = (names, first, second, pressure_pa, enhancement))]
pub(crate) fn moist_air<'py>(
    py: Python<'py>,
    names: (String, String),
    first: PyReadonlyArray1<'py, f64>,
    second: PyReadonlyArray1<'py, f64>,
    pressure_pa: PyReadonlyArray1<'py, f64>,
    enhancement: &str,
) -> PyResult<Bound<'py, PyDict>> {
    let inputs = Inputs {
        properties: [property(&names.0)?, property(&names.1)?],
        first: first.as_slice()?,
        second: second.as_slice()?,
        pressure_pa: pressure_pa.as_slice()?,
        enhancement: factor(enhancement)?,
    };
    let length = inputs.first.len();
    if inputs.second.len() != length || inputs.pressure_pa.len() != length {
        return Err(refused("the arrays differ in length"));
    }
    let columns = py.detach(|| solve(&inputs))?;
    let answer = PyDict::new(py);
    for (name, column) in NAMES.into_iter().zip(columns.values) {
        answer.set_item(name, PyArray1::from_vec(py, column))?;
    }
    answer.set_item("without_dew_point", PyArray1::from_vec(py, columns.without_dew_point))?;
    Ok(answer)
}

fn property(name: &str) -> PyResult<Property> {
    match name {
        "dry_bulb_c" => Ok(Property::DryBulb),
        "wet_bulb_c" => Ok(Property::WetBulb),
        "dew_point_c" => Ok(Property::DewPoint),
        "relative_humidity" => Ok(Property::RelativeHumidity),
        "humidity_ratio" => Ok(Property::HumidityRatio),
        "enthalpy_j_per_kg" => Ok(Property::Enthalpy),
        other => Err(refused(format!("`{other}` is no property of moist air"))),
    }
}

fn factor(name: &str) -> PyResult<EnhancementFactor> {
    match name {
        "none" => Ok(EnhancementFactor::None),
        "by-pressure" => Ok(EnhancementFactor::ByPressure),
        other => Err(refused(format!("enhancement `{other}` is not known: `none` or `by-pressure`"))),
    }
}

/// A column for each of [`NAMES`].
struct Columns {
    values: Vec<Vec<f64>>,
    without_dew_point: Vec<bool>,
}

fn solve(inputs: &Inputs<'_>) -> PyResult<Columns> {
    let pieces: Vec<Result<Vec<MoistAir>, (usize, String)>> = (0..inputs.first.len().div_ceil(PIECE))
        .into_par_iter()
        .map(|piece| states(inputs, piece * PIECE))
        .collect();
    let length = inputs.first.len();
    let mut columns = Columns {
        values: NAMES.iter().map(|_| Vec::with_capacity(length)).collect(),
        without_dew_point: Vec::with_capacity(length),
    };
    for piece in pieces {
        let piece = piece.map_err(|(index, cause)| refused(format!("element {index}: {cause}")))?;
        for state in &piece {
            for (column, value) in columns.values.iter_mut().zip(properties(state)) {
                column.push(value);
            }
            columns.without_dew_point.push(state.dew_point_c().is_none());
        }
    }
    Ok(columns)
}

/// The states of one piece, or the first element without one and why.
fn states(inputs: &Inputs<'_>, from: usize) -> Result<Vec<MoistAir>, (usize, String)> {
    let end = (from + PIECE).min(inputs.first.len());
    (from..end)
        .map(|index| {
            let [first, second] = inputs.properties;
            let pair = (Given::new(first, inputs.first[index]), Given::new(second, inputs.second[index]));
            MoistAir::from_pair_enhanced(pair.0, pair.1, inputs.pressure_pa[index], inputs.enhancement)
                .map_err(|cause| (index, cause.to_string()))
        })
        .collect()
}

/// In the order of [`NAMES`]; a dew point that there is not is given as the dry bulb, and marked by the caller.
fn properties(state: &MoistAir) -> [f64; 11] {
    [
        state.dry_bulb_c(),
        state.wet_bulb_c(),
        state.dew_point_c().unwrap_or_else(|| state.dry_bulb_c()),
        state.relative_humidity(),
        state.humidity_ratio(),
        state.enthalpy_j_per_kg(),
        state.specific_volume_m3_per_kg(),
        state.density_kg_per_m3(),
        state.vapour_pressure_pa(),
        state.saturation_pressure_pa(),
        state.pressure_pa(),
    ]
}

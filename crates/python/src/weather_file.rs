//! A weather file as columns.
//!
//! Not here: reading and doubting it (`weather`), what a Python user meets (`python/dewledger/weather.py`).

use std::path::PathBuf;

use dewledger_lib::calls;
use numpy::PyArray1;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use weather::{PlaceOverride, WeatherYear};

use crate::failure::raised;

/// The columns of a typical year by name, what was noticed, and the file's figures as JSON text.
#[pyfunction]
#[pyo3(signature = (path, latitude_deg, longitude_deg, elevation_m, time_zone_h))]
pub(crate) fn read_weather(
    py: Python<'_>,
    path: PathBuf,
    latitude_deg: Option<f64>,
    longitude_deg: Option<f64>,
    elevation_m: Option<f64>,
    time_zone_h: Option<f64>,
) -> PyResult<(Bound<'_, PyDict>, Vec<String>, String)> {
    let place = PlaceOverride { name: None, latitude_deg, longitude_deg, elevation_m, time_zone_h };
    let file = py.detach(|| calls::read_weather(&path, place)).map_err(|failure| raised(&failure))?;
    Ok((columns(py, file.year)?, file.findings, file.figures))
}

/// Month, day, hour ending, then every quantity; the vectors change owner and are not copied.
fn columns(py: Python<'_>, year: WeatherYear) -> PyResult<Bound<'_, PyDict>> {
    let calendar = year.calendar();
    let stamps: Vec<_> = (0..year.hours()).map(|hour| calendar.stamp(hour)).collect();
    let columns = PyDict::new(py);
    let times = |name, values: Vec<u8>| columns.set_item(name, PyArray1::from_vec(py, values));
    times("month", stamps.iter().map(|stamp| stamp.month).collect())?;
    times("day", stamps.iter().map(|stamp| stamp.day).collect())?;
    times("hour_ending", stamps.iter().map(|stamp| stamp.hour_ending).collect())?;
    let quantities = [
        ("dry_bulb_c", year.dry_bulb_c),
        ("humidity_ratio", year.humidity_ratio),
        ("pressure_pa", year.pressure_pa),
        ("wind_speed_m_per_s", year.wind_speed_m_per_s),
        ("wind_direction_deg", year.wind_direction_deg),
        ("global_horizontal_w_per_m2", year.global_horizontal_w_per_m2),
        ("direct_normal_w_per_m2", year.direct_normal_w_per_m2),
        ("diffuse_horizontal_w_per_m2", year.diffuse_horizontal_w_per_m2),
    ];
    for (name, values) in quantities {
        columns.set_item(name, PyArray1::from_vec(py, values))?;
    }
    Ok(columns)
}

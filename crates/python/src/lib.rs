//! The native half of the Python package `dewledger`: numbers and texts across the border, nothing else.
//!
//! Not here: what a Python user meets (`python/dewledger/`), the work (`dewledger_lib::calls` and the crates below it). Every
//! call gives up the interpreter's lock while it works. Read next: `study.rs`.

#![allow(clippy::needless_pass_by_value, reason = "PyO3 hands arguments over by value")]

mod air;
mod failure;
mod study;
mod sweep_file;
mod toml_text;
mod weather_file;

/// Native half of the package; use `dewledger` instead.
#[pyo3::pymodule]
mod _dewledger {
    use pyo3::prelude::*;
    use pyo3::types::PyModule;

    #[pymodule_export]
    use crate::air::moist_air;
    #[pymodule_export]
    use crate::failure::{DewledgerError, InputError, WorkError};
    #[pymodule_export]
    use crate::study::{NativeResults, NativeStudy, annual_csv, climate_bins, columns, run, study_bins};
    #[pymodule_export]
    use crate::sweep_file::NativeSweep;
    #[pymodule_export]
    use crate::toml_text::toml_of;
    #[pymodule_export]
    use crate::weather_file::read_weather;

    #[pymodule_init]
    fn version(module: &Bound<'_, PyModule>) -> PyResult<()> {
        module.add("__version__", env!("CARGO_PKG_VERSION"))
    }
}

//! Parts of a sweep file: which are there, and making one.
//!
//! Not here: the work (`dewledger_lib::calls`), who makes which part (`python/dewledger/sweeps.py`, `distributed.py`).

use std::num::NonZeroUsize;
use std::path::PathBuf;

use dewledger_lib::calls::SweepParts;
use pyo3::prelude::*;

use crate::failure::raised;
use crate::study::on_threads;

/// A sweep file with the folder of its parts.
#[pyclass(frozen)]
pub(crate) struct NativeSweep {
    parts: SweepParts,
}

#[pymethods]
impl NativeSweep {
    #[staticmethod]
    fn open(py: Python<'_>, file: PathBuf, out: PathBuf) -> PyResult<Self> {
        let parts = py.detach(|| SweepParts::open(&file, &out)).map_err(|failure| raised(&failure))?;
        Ok(Self { parts })
    }

    #[getter]
    fn parts(&self) -> u64 {
        self.parts.parts()
    }

    #[getter]
    fn runs(&self) -> u64 {
        self.parts.runs()
    }

    #[getter]
    fn identity(&self) -> String {
        self.parts.identity()
    }

    fn has(&self, py: Python<'_>, part: u64) -> bool {
        py.detach(|| self.parts.has(part))
    }

    fn tidy(&self, py: Python<'_>) -> PyResult<()> {
        py.detach(|| self.parts.tidy()).map_err(|failure| raised(&failure))
    }

    /// Runs a part and writes it: SHA-256, size in bytes, runs, rows without figures.
    #[pyo3(signature = (part, threads))]
    fn make(
        &self,
        py: Python<'_>,
        part: u64,
        threads: Option<NonZeroUsize>,
    ) -> PyResult<(String, usize, u64, usize)> {
        let made = on_threads(py, threads, || self.parts.make(part))?;
        Ok((made.sha256, made.size_bytes, made.runs, made.failed))
    }
}

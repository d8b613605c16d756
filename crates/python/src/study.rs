//! Studies, runs and bins: texts in, columns and texts out.
//!
//! Not here: the work (`dewledger_lib::calls`), what a Python user meets (`python/dewledger/study.py`).

use std::num::NonZeroUsize;
use std::path::PathBuf;

use dewledger_lib::calls::{self, HouseYear, PointText, Results, StudyText, case_key};
use numpy::PyArray1;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use rayon::ThreadPoolBuilder;

use crate::failure::{raised, refused};
use crate::toml_text;

/// A sound study: its text, and where its weather is looked for.
#[pyclass(frozen)]
pub(crate) struct NativeStudy {
    study: StudyText,
}

#[pymethods]
impl NativeStudy {
    #[staticmethod]
    fn of_path(py: Python<'_>, path: PathBuf) -> PyResult<Self> {
        held(py.detach(|| StudyText::read(&path)))
    }

    #[staticmethod]
    fn of_text(py: Python<'_>, text: &str, name: &str, folder: PathBuf) -> PyResult<Self> {
        held(py.detach(|| StudyText::of_text(text, name, folder)))
    }

    #[staticmethod]
    fn demonstration(py: Python<'_>) -> PyResult<Self> {
        held(py.detach(StudyText::demonstration))
    }

    #[getter]
    fn text(&self) -> &str {
        self.study.text()
    }

    #[getter]
    fn name(&self) -> &str {
        self.study.name()
    }

    #[getter]
    fn folder(&self) -> Option<PathBuf> {
        self.study.folder().map(PathBuf::from)
    }

    #[getter]
    fn title(&self) -> &str {
        self.study.title()
    }

    #[getter]
    fn weather(&self) -> &str {
        self.study.weather()
    }

    #[getter]
    fn units(&self) -> Vec<String> {
        self.study.units().to_vec()
    }

    /// The study with values changed: paths and values.
    fn with_values(&self, py: Python<'_>, changes: &Bound<'_, PyDict>) -> PyResult<Self> {
        let changes = toml_text::values(changes)?;
        held(py.detach(|| self.study.with_values(&changes)))
    }

    /// What each unit's core is and does at a steady point, as JSON text.
    #[pyo3(signature = (outdoor, outdoor_humidity, indoor, indoor_humidity, unit))]
    fn core(
        &self,
        py: Python<'_>,
        outdoor: Option<String>,
        outdoor_humidity: String,
        indoor: Option<String>,
        indoor_humidity: String,
        unit: Option<String>,
    ) -> PyResult<String> {
        let point = PointText { outdoor, outdoor_humidity, indoor, indoor_humidity, unit };
        py.detach(|| calls::core_json(&self.study, point)).map_err(|failure| raised(&failure))
    }
}

fn held(study: Result<StudyText, calls::Failure>) -> PyResult<NativeStudy> {
    study.map(|study| NativeStudy { study }).map_err(|failure| raised(&failure))
}

/// What a run gave.
#[pyclass(frozen)]
pub(crate) struct NativeResults {
    results: Results,
}

/// Runs a study, on as many threads as there are cores or on so many.
#[pyfunction]
#[pyo3(signature = (study, threads))]
pub(crate) fn run(
    py: Python<'_>,
    study: &NativeStudy,
    threads: Option<NonZeroUsize>,
) -> PyResult<NativeResults> {
    let results = on_threads(py, threads, || calls::run(&study.study))?;
    Ok(NativeResults { results })
}

/// The annual figures of a run, as CSV text, for houses of these cases.
#[pyfunction]
#[pyo3(signature = (study, cases, threads))]
pub(crate) fn annual_csv(
    py: Python<'_>,
    study: &NativeStudy,
    cases: Vec<String>,
    threads: Option<NonZeroUsize>,
) -> PyResult<String> {
    on_threads(py, threads, || calls::annual_csv(&study.study, &cases))
}

/// Does work without the interpreter's lock, on as many threads as there are cores or on so many.
pub(crate) fn on_threads<T: Send>(
    py: Python<'_>,
    threads: Option<NonZeroUsize>,
    work: impl FnOnce() -> Result<T, calls::Failure> + Send,
) -> PyResult<T> {
    let done = match threads {
        None => py.detach(work),
        Some(threads) => {
            let pool = ThreadPoolBuilder::new().num_threads(threads.get()).build().map_err(refused)?;
            py.detach(|| pool.install(work))
        }
    };
    done.map_err(|failure| raised(&failure))
}

#[pymethods]
impl NativeResults {
    #[getter]
    fn annual_csv(&self) -> &str {
        &self.results.annual_csv
    }

    #[getter]
    fn monthly_csv(&self) -> &str {
        &self.results.monthly_csv
    }

    #[getter]
    fn money_csv(&self) -> Option<&str> {
        self.results.money_csv.as_deref()
    }

    #[getter]
    fn manifest_json(&self) -> &str {
        &self.results.manifest_json
    }

    #[getter]
    fn findings(&self) -> Vec<String> {
        self.results.findings.clone()
    }

    /// Unit and case of every house-year, in their order.
    #[getter]
    fn houses(&self) -> Vec<(String, String)> {
        let key = |year: &HouseYear| (year.unit.clone(), case_key(year.case).to_owned());
        self.results.years.iter().map(key).collect()
    }

    /// Every hour of a house-year: times, then each quantity, each copied once out of the engine.
    fn hourly<'py>(&self, py: Python<'py>, index: usize) -> PyResult<Bound<'py, PyDict>> {
        let year = self.year(index)?;
        let columns = PyDict::new(py);
        let stamps: Vec<_> =
            (0..self.results.calendar.hours()).map(|hour| self.results.calendar.stamp(hour)).collect();
        for (name, values) in [
            ("month", stamps.iter().map(|stamp| small(stamp.month)).collect::<Vec<u8>>()),
            ("day", stamps.iter().map(|stamp| small(stamp.day)).collect()),
            ("hour_ending", stamps.iter().map(|stamp| small(stamp.hour_ending)).collect()),
        ] {
            columns.set_item(name, PyArray1::from_vec(py, values))?;
        }
        for (name, values, _) in year.hourly.columns() {
            columns.set_item(name, PyArray1::from_slice(py, values))?;
        }
        Ok(columns)
    }

    /// `ledger/<house>.csv` of a house-year.
    fn ledger_csv(&self, index: usize) -> PyResult<String> {
        calls::ledger_csv(self.year(index)?).map_err(|failure| raised(&failure))
    }
}

impl NativeResults {
    fn year(&self, index: usize) -> PyResult<&HouseYear> {
        self.results.years.get(index).ok_or_else(|| refused(format!("there is no house-year {index}")))
    }
}

/// A month, day or hour.
fn small(number: usize) -> u8 {
    u8::try_from(number).unwrap_or(u8::MAX)
}

/// A climate in bins, as JSON text.
#[pyfunction]
#[pyo3(signature = (path, width, edge))]
pub(crate) fn climate_bins(
    py: Python<'_>,
    path: PathBuf,
    width: Option<&str>,
    edge: Option<&str>,
) -> PyResult<String> {
    let work = || calls::climate_bins_json(&path, &calls::bin_edges(width, edge)?);
    py.detach(work).map_err(|failure| raised(&failure))
}

/// The bin method beside every unit's run, as JSON text.
#[pyfunction]
#[pyo3(signature = (study, width, edge))]
pub(crate) fn study_bins(
    py: Python<'_>,
    study: &NativeStudy,
    width: Option<&str>,
    edge: Option<&str>,
) -> PyResult<String> {
    let work = || calls::study_bins_json(&study.study, &calls::bin_edges(width, edge)?);
    py.detach(work).map_err(|failure| raised(&failure))
}

/// The guide to every column, as JSON text.
#[pyfunction]
pub(crate) fn columns(py: Python<'_>) -> PyResult<String> {
    py.detach(calls::columns_json).map_err(|failure| raised(&failure))
}

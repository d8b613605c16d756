//! Failures as Python exceptions, with the command line's words.

use dewledger_lib::calls::Failure;
use pyo3::create_exception;
use pyo3::exceptions::PyValueError;
use pyo3::prelude::*;

create_exception!(
    dewledger,
    DewledgerError,
    PyValueError,
    "Something could not be done; the text says what, where, and what would be right."
);
create_exception!(
    dewledger,
    InputError,
    DewledgerError,
    "The input is at fault: a file, a value, a name. The command line's exit code 2."
);
create_exception!(
    dewledger,
    WorkError,
    DewledgerError,
    "The work failed although the input was sound. The command line's exit code 1."
);

/// The exception for a failure.
pub(crate) fn raised(failure: &Failure) -> PyErr {
    let text = failure.to_string();
    if failure.is_of_input() { InputError::new_err(text) } else { WorkError::new_err(text) }
}

/// The exception for a fault of an argument.
pub(crate) fn refused(text: impl std::fmt::Display) -> PyErr {
    InputError::new_err(format!("error: {text}"))
}

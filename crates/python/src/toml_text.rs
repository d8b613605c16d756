//! A Python dict as TOML text.

use dewledger_lib::calls::Change;
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyDict, PyFloat, PyInt, PyList, PyString, PyTuple};
use toml::{Table, Value};

use crate::failure::refused;

/// Deeper than any study, and shallow enough for the stack.
const DEEPEST: usize = 32;

/// The TOML text that a dict of texts, numbers, switches, lists and dicts stands for.
#[pyfunction]
pub(crate) fn toml_of(values: &Bound<'_, PyAny>) -> PyResult<String> {
    let Value::Table(table) = value(values, "", 0)? else {
        return Err(refused("a dict is needed, with texts as its keys"));
    };
    toml::to_string(&table).map_err(refused)
}

/// Each key of a dict as a path, with its value.
pub(crate) fn values(dict: &Bound<'_, PyDict>) -> PyResult<Vec<Change>> {
    let changes = dict.iter().map(|(path, item)| {
        let Ok(path) = path.extract::<String>() else {
            return Err(refused(format!("the path {} is no text", path.repr()?)));
        };
        let value = value(&item, &path, 1)?;
        Ok(Change::new(path, value))
    });
    changes.collect()
}

/// `path` is where it stands, for messages.
fn value(of: &Bound<'_, PyAny>, path: &str, depth: usize) -> PyResult<Value> {
    if depth > DEEPEST {
        return Err(refused(format!("{path}: dicts and lists lie more than {DEEPEST} deep")));
    }
    if let Ok(text) = of.cast::<PyString>() {
        return Ok(Value::String(text.to_str()?.to_owned()));
    }
    // A switch is an integer too in Python, so it is asked for first.
    if let Ok(switch) = of.cast::<PyBool>() {
        return Ok(Value::Boolean(switch.is_true()));
    }
    if of.is_instance_of::<PyInt>() {
        let wide = |_| refused(format!("{path}: {of} is too large"));
        return of.extract().map(Value::Integer).map_err(wide);
    }
    if of.is_instance_of::<PyFloat>() {
        return finite(of.extract()?, path);
    }
    if of.is_instance_of::<PyList>() || of.is_instance_of::<PyTuple>() {
        let items = of.try_iter()?.enumerate();
        let items = items.map(|(at, item)| value(&item?, &format!("{path}[{at}]"), depth + 1));
        return Ok(Value::Array(items.collect::<PyResult<_>>()?));
    }
    if let Ok(dict) = of.cast::<PyDict>() {
        return table(dict, path, depth).map(Value::Table);
    }
    // Numbers of numpy, and of whatever else says that it is a number.
    if let Ok(number) = of.extract::<f64>() {
        return finite(number, path);
    }
    let kind = of.get_type().name()?.to_string();
    Err(refused(format!(
        "{path}: a value of type `{kind}` has no place in a study: texts, numbers, True, False, lists, dicts"
    )))
}

fn finite(number: f64, path: &str) -> PyResult<Value> {
    if number.is_finite() {
        return Ok(Value::Float(number));
    }
    Err(refused(format!("{path}: {number} is no number that a study can hold")))
}

fn table(dict: &Bound<'_, PyDict>, path: &str, depth: usize) -> PyResult<Table> {
    let mut table = Table::new();
    for (key, item) in dict.iter() {
        let Ok(key) = key.extract::<String>() else {
            return Err(refused(format!("{path}: the key {} is no text", key.repr()?)));
        };
        let inner = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
        let item = value(&item, &inner, depth + 1)?;
        table.insert(key, item);
    }
    Ok(table)
}

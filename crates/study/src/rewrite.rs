//! A study's text with some values changed, by their paths: for sweeps, and for whoever tries one value after another.
//!
//! The text keeps its lines and comments, so that what is wrong with a changed study is told with a line that its writer knows.
//! Not here: reading the changed text (`read`), which finds unknown keys and values that do not fit.

use std::fmt;

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TableLike, Value};

use crate::keys::nearest;
use crate::problem::{listed, shortened};

/// A value at a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TextChange<'a> {
    /// Where, such as `house.air_leakage`, `unit.Plate A.price`, `unit.Plate A.rating.1.power`, `house.window.2.area`. A unit or
    /// an envelope part is named by its name; whatever stands several times otherwise, by its number from 1.
    pub path: &'a str,
    /// What, as it would stand in the file: `"3 1/h @50Pa"` with its quotation marks, `0.8`, `true`, `[1, 2]`, `{ ua = "90 W/K" }`.
    pub value: &'a str,
}

/// Why a value cannot be changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextChangeError {
    /// The path as it was given.
    pub path: String,
    /// What is wrong, without the path.
    pub message: String,
    /// What would be right.
    pub hint: Option<String>,
}

impl fmt::Display for TextChangeError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "`{}`: {}", shortened(&self.path), self.message)
    }
}

impl std::error::Error for TextChangeError {}

/// The text of a study with values changed, in their order; a key that is not there yet is added to its table.
///
/// Tables of a path that are not there are made, but no unit and no further element of a list.
///
/// # Errors
/// [`TextChangeError`] for a text that is no TOML, a value that is none, a unit or number that there is not, and a path that goes on
/// below a value.
///
/// # Example
/// ```
/// use study::{TextChange, varied};
///
/// let changes = [TextChange { path: "house.air_leakage", value: "\"3 1/h @50Pa\"" }, TextChange { path: "unit.Plate A.balance", value: "1.1" }];
/// let text = varied(study::starter_study(), &changes)?;
/// assert!(text.contains("air_leakage = \"3 1/h @50Pa\""));
/// assert_eq!(study::parse_study(&text, "changed.toml").map(|study| study.units[0].balance), Ok(1.1));
/// # Ok::<(), study::TextChangeError>(())
/// ```
pub fn varied(text: &str, changes: &[TextChange<'_>]) -> Result<String, TextChangeError> {
    let mut document: DocumentMut = text.parse().map_err(|_| TextChangeError {
        path: changes.first().map_or("", |change| change.path).to_owned(),
        message: "the study is no TOML, so that nothing in it can be changed".to_owned(),
        hint: None,
    })?;
    for change in changes {
        set(document.as_table_mut(), change).map_err(|(message, hint)| TextChangeError {
            path: change.path.to_owned(),
            message,
            hint,
        })?;
    }
    Ok(document.to_string())
}

/// What is wrong, and what would be right.
type Fault = (String, Option<String>);

fn set(root: &mut Table, change: &TextChange<'_>) -> Result<(), Fault> {
    let value: Value = change.value.trim().parse().map_err(|_| {
        let hint = "texts stand between quotation marks, as in the study file".to_owned();
        (format!("{} is no value", shortened(change.value)), Some(hint))
    })?;
    if change.path.is_empty() || change.path.split('.').any(str::is_empty) {
        let hint = "a path is such as `house.air_leakage` or `unit.Plate A.balance`".to_owned();
        return Err(("a part of the path is empty".to_owned(), Some(hint)));
    }
    within(root, change.path, value)
}

/// Sets a value below a table.
fn within(table: &mut dyn TableLike, path: &str, value: Value) -> Result<(), Fault> {
    let (key, rest) = path.split_once('.').map_or((path, None), |(key, rest)| (key, Some(rest)));
    let Some(rest) = rest else {
        put(table, key, value);
        return Ok(());
    };
    let item = table.entry(key).or_insert_with(|| Item::Table(implicit()));
    match item {
        Item::ArrayOfTables(list) => among(list, key, (rest, value)),
        // A list in brackets is the same list.
        Item::Value(Value::Array(array)) if array.iter().all(Value::is_inline_table) => {
            let mut list: ArrayOfTables = array.iter().filter_map(as_table).collect();
            among(&mut list, key, (rest, value))?;
            *array = list.into_array();
            Ok(())
        }
        item => {
            let Some(inner) = item.as_table_like_mut() else {
                return Err((format!("`{key}` is a value and holds no `{}`", shortened(rest)), None));
            };
            within(inner, rest, value)
        }
    }
}

/// A table without a header of its own until it holds a value.
fn implicit() -> Table {
    let mut table = Table::new();
    table.set_implicit(true);
    table
}

fn as_table(value: &Value) -> Option<Table> {
    value.as_inline_table().map(|table| table.clone().into_table())
}

/// Puts a value in the place of the one that is there, whose remark stays.
fn put(table: &mut dyn TableLike, key: &str, mut value: Value) {
    match table.get_mut(key) {
        Some(Item::Value(old)) => {
            *value.decor_mut() = old.decor().clone();
            *old = value;
        }
        Some(old) => *old = Item::Value(value),
        None => {
            table.insert(key, Item::Value(value));
        }
    }
}

/// Sets a value in one of several tables, chosen by its name or its number from 1.
fn among(list: &mut ArrayOfTables, key: &str, (path, value): (&str, Value)) -> Result<(), Fault> {
    let names: Vec<String> = list.iter().map(|table| name_of(table).unwrap_or_default()).collect();
    let (index, rest) = chosen(&names, path).ok_or_else(|| nobody(&names, key, path))?;
    let Some(table) = list.get_mut(index) else { return Err(nobody(&names, key, path)) };
    if let Some(rest) = rest {
        return within(table, rest, value);
    }
    let Value::InlineTable(whole) = value else {
        return Err((format!("a whole `{key}` is a table, such as {{ name = \"…\" }}"), None));
    };
    let position = table.position();
    *table = whole.into_table();
    table.set_position(position);
    Ok(())
}

fn name_of(table: &Table) -> Option<String> {
    table.get("name").and_then(Item::as_str).map(str::to_owned)
}

/// Which of the named tables a path begins with, and the rest of the path. A name may hold full stops: the longest that fits wins.
fn chosen<'p>(names: &[String], path: &'p str) -> Option<(usize, Option<&'p str>)> {
    let fits = |name: &str| -> Option<Option<&'p str>> {
        let rest = path.strip_prefix(name).filter(|_| !name.is_empty())?;
        if rest.is_empty() { Some(None) } else { rest.strip_prefix('.').map(Some) }
    };
    let named = names.iter().enumerate().filter_map(|(index, name)| Some((name.len(), index, fits(name)?)));
    if let Some((_, index, rest)) = named.max_by_key(|(length, index, _)| (*length, usize::MAX - index)) {
        return Some((index, rest));
    }
    let (number, rest) = path.split_once('.').map_or((path, None), |(number, rest)| (number, Some(rest)));
    let number: usize = number.parse().ok()?;
    (1..=names.len()).contains(&number).then(|| (number - 1, rest))
}

/// Nothing in a list goes by the name or number of a path.
fn nobody(names: &[String], key: &str, path: &str) -> Fault {
    let wanted = path.split('.').next().unwrap_or_default();
    let known: Vec<&str> = names.iter().map(String::as_str).filter(|name| !name.is_empty()).collect();
    let hint = match nearest(wanted, &known) {
        Some(near) => format!("did you mean `{key}.{near}`?"),
        None if known.is_empty() => format!("`{key}` has numbers from 1 to {}", names.len()),
        None => format!("there are {}", listed(&known, "and")),
    };
    (format!("the study has no `{key}` of the name or number `{}`", shortened(wanted)), Some(hint))
}

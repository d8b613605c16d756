//! A study with some of its values changed by their paths: what a sweep, or a script, runs in place of the file.
//!
//! Here: finding a path, putting values there, checking the outcome as a file is checked. Not here: which values (crate
//! `sweep`), the checks themselves (`read`). Read next: `vary/place.rs`.
//!
//! | path | is |
//! | --- | --- |
//! | `house.air_leakage` | a key of a table |
//! | `house.window.2.area` | of the second `[[house.window]]` |
//! | `unit.Plate A.price` | of the unit of that name; its number does as well |
//! | `unit.Plate A.rating.1.power` | of its first test point |
//! | `unit.Plate A` | the whole unit: the value is a table |
//!
//! # Example
//! ```
//! use study::vary::{Change, Template};
//! let template = Template::new(study::starter_study(), "bungalow.toml")?;
//! let leaky = template.with(&[Change::new("house.air_leakage", "40 L/s")])?;
//! assert_eq!(leaky.house.air_leakage.constant_m3_per_s(), Some(0.040));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod place;
#[cfg(test)]
mod tests;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::model::Study;
use crate::problem::Problems;
use crate::read;

/// A value and where it goes.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// Path of the value, such as `house.air_leakage`.
    pub path: String,
    /// What the file would hold there.
    pub value: toml::Value,
}

impl Change {
    /// A change of the value at a path.
    pub fn new(path: impl Into<String>, value: impl Into<toml::Value>) -> Self {
        Self { path: path.into(), value: value.into() }
    }
}

/// A path that leads nowhere.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("`{path}` leads nowhere in the study: {why}")]
pub struct PathError {
    /// The path as given.
    pub path: String,
    /// What is wrong with it.
    pub why: String,
    /// The nearest path that there is, or which there are.
    pub hint: String,
}

/// Why a changed study cannot be run.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum VaryError {
    /// A path that leads nowhere.
    #[error(transparent)]
    Path(#[from] PathError),
    /// The study, so changed, does not hold.
    #[error("{}", in_words(.0))]
    Study(Problems),
}

/// All problems on one line.
fn in_words(problems: &Problems) -> String {
    let words: Vec<&str> = problems.list.iter().map(|problem| problem.message.as_str()).collect();
    words.join("; ")
}

/// A study file, read once, to be changed many times.
#[derive(Debug, Clone)]
pub struct Template<'t> {
    text: &'t str,
    file_name: String,
    root: Spanned<DeTable<'t>>,
}

impl<'t> Template<'t> {
    /// Reads the syntax of a study file; its values are checked where they are used.
    ///
    /// # Errors
    /// [`Problems`] with the first fault of a text that is no TOML.
    pub fn new(text: &'t str, file_name: &str) -> Result<Self, Problems> {
        let (root, errors) = DeTable::parse_recoverable(text);
        match errors.iter().min_by_key(|error| read::start_of(error)) {
            None => Ok(Self { text, file_name: file_name.to_owned(), root }),
            Some(error) => Err(read::no_toml(error, file_name)),
        }
    }

    /// The study as the file has it.
    ///
    /// # Errors
    /// [`Problems`], as [`parse_study`](crate::parse_study).
    pub fn study(&self) -> Result<Study, Problems> {
        read::study_of((self.text, &self.file_name), &self.root)
    }

    /// Checks that a value may stand at a path: every step is known, and its units, windows and points are there.
    ///
    /// # Errors
    /// [`PathError`] with the nearest path that there is.
    pub fn check(&self, path: &str) -> Result<(), PathError> {
        place::put(&mut self.root.clone(), path, DeValue::Boolean(true))
    }

    /// The study with these changes, in their order, checked as a whole. A table that the file lacks is made.
    ///
    /// # Errors
    /// [`VaryError`]: a path that leads nowhere; a study that no longer holds, with problems placed in the file's text
    /// where the changed value stood.
    pub fn with(&self, changes: &[Change]) -> Result<Study, VaryError> {
        let texts: Vec<String> = changes.iter().map(|change| change.value.to_string()).collect();
        let mut root = self.root.clone();
        for (change, text) in changes.iter().zip(&texts) {
            let value = DeValue::parse(text).map_err(|error| PathError {
                path: change.path.clone(),
                why: format!("its value {text} cannot be written into a file: {}", error.message()),
                hint: "give a text, a number, true or false, a list or a table".to_owned(),
            })?;
            place::put(&mut root, &change.path, value.into_inner())?;
        }
        read::study_of((self.text, &self.file_name), &root).map_err(VaryError::Study)
    }
}

//! A word, or a quantity in its place.
//!
//! Here: one value, such as `"by-standard"` or `"45 L/s"`. Not here: the keys that take both (`specs`). Read next: `specs.rs`.

use toml::de::DeValue;

use super::{Choice, Fault, Kind, Measure, is_a_word};

/// A word, or a quantity in its place.
#[derive(Clone, Copy)]
pub(crate) struct WordOr<T: 'static> {
    pub words: Choice<T>,
    pub measure: Measure,
}

/// What it was given as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Given<T> {
    Word(T),
    Si(f64),
}

impl<T: Copy> Kind for WordOr<T> {
    type Out = Given<T>;

    fn key(&self) -> &'static str {
        self.measure.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<Given<T>, Fault> {
        if !is_a_word(value) {
            return self.measure.read(value).map(Given::Si);
        }
        let also =
            format!(", or {} such as \"{}\"", self.measure.dimension.with_article(), self.measure.example);
        self.words.read(value).map(Given::Word).map_err(|mut fault| {
            fault.hint = fault.hint.map(|hint| hint + &also);
            fault
        })
    }
}

//! Reads keys of a sweep file's tables, and gathers what is wrong with them.

use std::ops::Range;

use study::Problem;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A table and where it stands.
pub(super) type Placed<'t, 'v> = (&'t DeTable<'v>, Range<usize>);

/// What is wrong so far.
pub(super) struct Reader<'t> {
    text: &'t str,
    pub problems: Vec<Problem>,
}

impl<'t> Reader<'t> {
    pub fn new(text: &'t str) -> Self {
        Self { text, problems: Vec::new() }
    }

    /// The end of the text, where something is missing.
    pub fn end(&self) -> Range<usize> {
        let end = self.text.trim_end().len();
        end..end
    }

    /// What stands in the text.
    pub fn written(&self, span: Range<usize>) -> &'t str {
        self.text.get(span).unwrap_or_default()
    }

    pub fn problem(
        &mut self,
        span: Range<usize>,
        message: impl Into<String>,
        label: &str,
        hint: impl Into<String>,
    ) {
        let (message, label, hint) = (message.into(), label.to_owned(), Some(hint.into()));
        self.problems.push(Problem { message, span, label, hint });
    }

    /// Notes keys that are not known.
    pub fn known(&mut self, (name, table): (&str, &DeTable<'_>), keys: &[&str]) {
        for (key, _) in table {
            let word = key.get_ref().as_ref();
            if !keys.contains(&word) {
                let near = study::nearest(word, keys);
                let listed: Vec<String> = keys.iter().map(|key| format!("`{key}`")).collect();
                let hint = near.map_or_else(
                    || format!("its keys are {}", listed.join(", ")),
                    |near| format!("did you mean `{near}`?"),
                );
                self.problem(key.span(), format!("{name} has no key `{word}`"), "unknown key", hint);
            }
        }
    }

    /// A table within another.
    pub fn table<'a, 'v>(&mut self, (within, _): Placed<'a, 'v>, key: &str) -> Option<Placed<'a, 'v>> {
        let value = within.get(key)?;
        if let DeValue::Table(table) = value.get_ref() {
            return Some((table, value.span()));
        }
        self.problem(
            value.span(),
            format!("`{key}` must be a table"),
            "not a table",
            format!("write it as [{key}]"),
        );
        None
    }

    /// A text.
    pub fn text(&mut self, (table, _): &Placed<'_, '_>, key: &str) -> Option<String> {
        let value = table.get(key)?;
        let text = value.get_ref().as_str().filter(|text| !text.is_empty());
        if text.is_none() {
            self.problem(
                value.span(),
                format!("`{key}` must be a text"),
                "not a text",
                "write it in quotation marks",
            );
        }
        text.map(ToOwned::to_owned)
    }

    /// A whole number within a range, or what is usual.
    pub fn whole(&mut self, (table, _): &Placed<'_, '_>, key: &str, range: Range<u64>) -> Option<u64> {
        let value = table.get(key)?;
        let number = value.get_ref().as_integer().and_then(|number| number.as_str().parse::<u64>().ok());
        let number = number.filter(|number| range.contains(number));
        if number.is_none() {
            let message = format!("`{key}` must be a whole number from {} to {}", range.start, range.end - 1);
            self.problem(
                value.span(),
                message,
                "not such a number",
                format!("such as {key} = {}", range.start.max(7)),
            );
        }
        number
    }

    /// A plain number.
    pub fn number(&mut self, value: &Spanned<DeValue<'_>>, what: &str) -> Option<f64> {
        let number = plain(value.get_ref());
        if number.is_none() {
            self.problem(value.span(), format!("{what} must be a number"), "not a number", "such as 0.5");
        }
        number
    }
}

/// The number that a value is, if it is a finite one.
pub(super) fn plain(value: &DeValue<'_>) -> Option<f64> {
    let text = value.as_integer().map(toml::de::DeInteger::as_str);
    let text = text.or_else(|| value.as_float().map(toml::de::DeFloat::as_str))?;
    text.parse::<f64>().ok().filter(|number| number.is_finite())
}

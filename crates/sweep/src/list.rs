//! Runs written down one by one: a CSV file whose columns are named by paths of the study.

use study::vary::{Change, Template};

use crate::sweep::{Shown, Taken};

/// The runs of a list.
#[derive(Debug, Clone, PartialEq)]
pub struct RunList {
    paths: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl RunList {
    /// Reads a list; each column must lead somewhere in the study.
    pub(crate) fn parse(bytes: &[u8], name: &str, template: &Template<'_>) -> Result<Self, String> {
        let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(bytes);
        let failed = |cause: csv::Error| format!("{name}: {cause}");
        let paths: Vec<String> = reader.headers().map_err(failed)?.iter().map(ToOwned::to_owned).collect();
        for path in &paths {
            template.check(path).map_err(|astray| format!("{name}, line 1: {astray}; {}", astray.hint))?;
        }
        let mut rows = Vec::new();
        for record in reader.records() {
            rows.push(record.map_err(failed)?.iter().map(ToOwned::to_owned).collect());
        }
        if rows.is_empty() {
            return Err(format!("{name}: holds no runs; below the line of paths each line is one"));
        }
        Ok(Self { paths, rows })
    }

    /// How many.
    pub fn runs(&self) -> u64 {
        self.rows.len() as u64
    }

    /// The paths of its columns.
    pub fn paths(&self) -> &[String] {
        &self.paths
    }

    /// All values of a column.
    pub(crate) fn column(&self, path: &str) -> Vec<String> {
        let place = self.paths.iter().position(|known| known == path);
        self.rows.iter().filter_map(|row| row.get(place?).cloned()).collect()
    }

    /// What a run changes.
    pub(crate) fn row(&self, run: u64) -> Result<Vec<Taken>, String> {
        let row = usize::try_from(run).ok().and_then(|run| self.rows.get(run));
        let row = row.ok_or_else(|| format!("there is no run {run} in the list"))?;
        let taken = |(path, text): (&String, &String)| Taken {
            change: Change { path: path.clone(), value: value(text) },
            shown: Shown::Word(text.clone()),
        };
        Ok(self.paths.iter().zip(row).map(taken).collect())
    }
}

/// A whole number, a number, true or false as such, all else as text.
fn value(text: &str) -> toml::Value {
    if let Ok(number) = text.parse::<i64>() {
        return toml::Value::Integer(number);
    }
    if let Some(number) = text.parse::<f64>().ok().filter(|number| number.is_finite()) {
        return toml::Value::Float(number);
    }
    match text {
        "true" => toml::Value::Boolean(true),
        "false" => toml::Value::Boolean(false),
        _ => toml::Value::String(text.to_owned()),
    }
}

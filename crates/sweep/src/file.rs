//! The sweep file: TOML text in, a checked [`SweepFile`] out, or every problem at once with its place.
//!
//! Here: the plan, what is varied, what rises and falls together. Not here: whether the study takes it (`sweep.rs`), files.
//! Read next: `file/input.rs`.

mod input;
mod plan;
mod table;

use study::{Problem, Problems};
use toml::de::DeTable;

pub use input::{Input, Values};
pub use plan::PlanKind;
use table::Reader;

/// What a sweep file says.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepFile {
    /// Path of the study as written, relative to the sweep file.
    pub study: String,
    /// Which runs are made.
    pub plan: PlanKind,
    /// Runs, where the plan does not make their number itself.
    pub runs: Option<u64>,
    /// What chance begins with.
    pub seed: u64,
    /// Runs in a file of the data set.
    pub part: u64,
    /// Whether units that miss outdoor air are run once more with that air made up.
    pub equal_air: bool,
    /// Runs whose hours are kept, counted from 0, in rising order.
    pub hourly_runs: Vec<u64>,
    /// What is varied, in the order of the file.
    pub inputs: Vec<Input>,
    /// Pairs of inputs, counted from 0, and the rank correlation of their values.
    pub correlations: Vec<(usize, usize, f64)>,
}

/// Runs in a part unless the file says otherwise.
pub const USUAL_PART: u64 = 4096;

impl SweepFile {
    /// Reads a sweep file; `file_name` is used for wording alone.
    ///
    /// # Errors
    /// [`Problems`]: all that is wrong, in the order of the text.
    pub fn parse(text: &str, file_name: &str) -> Result<Self, Problems> {
        let failed = |list: Vec<Problem>| Problems { file_name: file_name.to_owned(), list };
        let (root, errors) = DeTable::parse_recoverable(text);
        let first = errors.iter().min_by_key(|error| error.span().map_or(0, |span| span.start));
        if let Some(error) = first {
            let words: Vec<&str> = error.message().lines().collect();
            return Err(failed(vec![Problem {
                message: format!("this is not TOML: {}", words.join("; ")),
                span: error.span().unwrap_or(0..0),
                label: "here".to_owned(),
                hint: Some("a table is [name], a key is name = value".to_owned()),
            }]));
        }
        let mut reader = Reader::new(text);
        let file = read(&mut reader, root.get_ref());
        reader.problems.sort_by_key(|problem| problem.span.start);
        match file {
            Some(file) if reader.problems.is_empty() => Ok(file),
            _ => Err(failed(reader.problems)),
        }
    }
}

fn read(reader: &mut Reader<'_>, root: &DeTable<'_>) -> Option<SweepFile> {
    reader.known(("the sweep file", root), &["sweep", "vary", "correlation"]);
    let end = reader.end();
    let Some(head) = reader.table((root, end.clone()), "sweep") else {
        reader.problem(end, "the table `[sweep]` is missing", "missing here", "it needs `study` and `plan`");
        return None;
    };
    let head = plan::read(reader, &head);
    let inputs = input::read_all(reader, root, head.as_ref().map(|head| &head.plan));
    let correlations = input::read_correlations(reader, root, &inputs);
    let head = head?;
    Some(SweepFile {
        study: head.study,
        plan: head.plan,
        runs: head.runs,
        seed: head.seed,
        part: head.part,
        equal_air: head.equal_air,
        hourly_runs: head.hourly_runs,
        inputs,
        correlations,
    })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    /// The schema names the keys that the reader knows, no more and no fewer.
    #[test]
    fn the_schema_has_the_readers_keys() {
        let schema: serde_json::Value = serde_json::from_str(crate::schema()).unwrap();
        let keys = |path: &str| -> BTreeSet<String> {
            schema.pointer(path).unwrap().as_object().unwrap().keys().cloned().collect()
        };
        let known =
            |keys: &[&str]| -> BTreeSet<String> { keys.iter().map(|key| (*key).to_owned()).collect() };
        assert_eq!(keys("/properties/sweep/properties"), known(&super::plan::KEYS));
        let varied = keys("/properties/vary/additionalProperties/properties");
        assert_eq!(varied, known(&super::input::KEYS));
    }
}

//! `[vary."path"]`: which values an input takes, and how often.

use std::ops::Range;

use sampling::distributions::{Bounds, Distribution, DistributionError};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::plan::PlanKind;
use super::table::{Placed, Reader, plain};

/// A value of the study that is varied.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// Its path.
    pub path: String,
    /// What it takes.
    pub values: Values,
    /// Where it stands in the file.
    pub span: Range<usize>,
}

/// What an input takes.
#[derive(Debug, Clone, PartialEq)]
pub enum Values {
    /// Numbers of one unit.
    Spread {
        /// How often which.
        distribution: Distribution,
        /// The unit, as written; empty for plain numbers.
        unit: String,
        /// Levels in a grid.
        levels: Option<u32>,
    },
    /// One of several, tables among them.
    OneOf {
        /// What the study would hold.
        values: Vec<toml::Value>,
        /// What each is called in the data set.
        labels: Vec<String>,
        /// The place of each, counted from 0, by its weight.
        choice: Distribution,
    },
}

impl Values {
    /// How many levels it has in a grid.
    pub fn levels(&self) -> Option<u32> {
        match self {
            Self::Spread { levels, .. } => *levels,
            Self::OneOf { values, .. } => u32::try_from(values.len()).ok(),
        }
    }
}

const SHAPES: [&str; 6] = ["uniform", "normal", "triangular", "log_normal", "one_of", "values"];
pub(super) const KEYS: [&str; 10] = [
    "uniform",
    "normal",
    "triangular",
    "log_normal",
    "one_of",
    "values",
    "weights",
    "levels",
    "at_least",
    "at_most",
];
const EXAMPLE: &str =
    "such as uniform = [\"1 1/h @50Pa\", \"7 1/h @50Pa\"] or one_of = [\"a.csv\", \"b.csv\"]";

pub(super) fn read_all(reader: &mut Reader<'_>, root: &DeTable<'_>, plan: Option<&PlanKind>) -> Vec<Input> {
    let end = reader.end();
    let is_list = matches!(plan, Some(PlanKind::List { .. }));
    let Some((vary, span)) = reader.table((root, end.clone()), "vary") else {
        if plan.is_some() && !is_list {
            let hint = format!("[vary.\"house.air_leakage\"] with {EXAMPLE}");
            reader.problem(end, "nothing is varied", "no [vary.\"…\"] in this file", hint);
        }
        return Vec::new();
    };
    if is_list {
        reader.problem(
            span,
            "a list varies what its columns name",
            "not used",
            "leave [vary] out, or choose another plan",
        );
        return Vec::new();
    }
    let mut entries: Vec<_> = vary.iter().collect();
    entries.sort_by_key(|(key, _)| key.span().start);
    let mut inputs = Vec::new();
    for (key, value) in entries {
        let path = key.get_ref().as_ref();
        let DeValue::Table(table) = value.get_ref() else {
            reader.problem(
                value.span(),
                format!("`vary.{path}` must be a table"),
                "not a table",
                "write it as [vary.\"path\"]",
            );
            continue;
        };
        // A path without quotation marks is a table within a table.
        if table.iter().any(|(_, item)| item.get_ref().is_table())
            && !table.keys().any(|key| KEYS.contains(&key.get_ref().as_ref()))
        {
            let hint = format!("write the whole path in quotation marks, such as [vary.\"{path}.…\"]");
            reader.problem(key.span(), format!("`{path}` is only the beginning of a path"), "here", hint);
            continue;
        }
        if let Some(values) = read_values(reader, path, (table, key.span()), plan) {
            inputs.push(Input { path: path.to_owned(), values, span: key.span() });
        }
    }
    inputs
}

fn read_values(
    reader: &mut Reader<'_>,
    path: &str,
    (table, span): Placed<'_, '_>,
    plan: Option<&PlanKind>,
) -> Option<Values> {
    reader.known((&format!("[vary.\"{path}\"]"), table), &KEYS);
    let shapes: Vec<&str> = SHAPES.into_iter().filter(|shape| table.contains_key(*shape)).collect();
    let [shape] = shapes.as_slice() else {
        let what = if shapes.is_empty() { "says no values" } else { "says its values twice" };
        reader.problem(span, format!("[vary.\"{path}\"] {what}"), "this input", EXAMPLE);
        return None;
    };
    let placed = (table, span.clone());
    let value = table.get(*shape)?;
    let Some(list) = value.get_ref().as_array() else {
        reader.problem(value.span(), format!("`{shape}` must be a list"), "not a list", EXAMPLE);
        return None;
    };
    let levels = reader.whole(&placed, "levels", 1..100_001).and_then(|levels| u32::try_from(levels).ok());
    let values = if matches!(*shape, "one_of" | "values") {
        one_of(reader, table, (list, value.span()))
    } else {
        let items: Vec<_> = list.iter().collect();
        spread(reader, (shape, table), (&items, value.span()), levels)
    }?;
    if plan == Some(&PlanKind::Grid) && values.levels().is_none() {
        reader.problem(
            span,
            format!("a grid needs `levels` of [vary.\"{path}\"]"),
            "this input",
            "such as levels = 5",
        );
        return None;
    }
    Some(values)
}

fn one_of(
    reader: &mut Reader<'_>,
    table: &DeTable<'_>,
    (list, span): (&toml::de::DeArray<'_>, Range<usize>),
) -> Option<Values> {
    let mut values = Vec::new();
    for item in list {
        let text = format!("value = {}", reader.written(item.span()));
        let value = text.parse::<toml::Table>().ok().and_then(|mut table| table.remove("value"));
        values.push(value?);
    }
    let weights = match table.get("weights") {
        None => vec![1.0; values.len()],
        Some(weights) => {
            let numbers: Option<Vec<f64>> = weights
                .get_ref()
                .as_array()
                .and_then(|list| list.iter().map(|item| plain(item.get_ref())).collect());
            let Some(numbers) = numbers else {
                reader.problem(
                    weights.span(),
                    "`weights` must be a list of numbers",
                    "not such a list",
                    "such as weights = [1, 3]",
                );
                return None;
            };
            numbers
        }
    };
    let places: Vec<f64> = (0..values.len()).map(|place| place as f64).collect();
    match Distribution::discrete(&places, &weights) {
        Ok(choice) => {
            let labels = values.iter().enumerate().map(|(place, value)| label(place, value)).collect();
            Some(Values::OneOf { values, labels, choice })
        }
        Err(cause) => {
            reader.problem(span, cause.to_string(), "these values", "one weight above 0 for each value");
            None
        }
    }
}

/// What a value is called in the data set.
fn label(place: usize, value: &toml::Value) -> String {
    match value {
        toml::Value::String(text) => text.clone(),
        toml::Value::Table(table) => match table.get("name").and_then(toml::Value::as_str) {
            Some(name) => name.to_owned(),
            None => format!("choice {}", place + 1),
        },
        other => other.to_string(),
    }
}

type Items<'a, 'v> = (&'a [&'a Spanned<DeValue<'v>>], Range<usize>);

fn spread(
    reader: &mut Reader<'_>,
    (shape, table): (&str, &DeTable<'_>),
    (list, span): Items<'_, '_>,
    levels: Option<u32>,
) -> Option<Values> {
    let (count, what) = match shape {
        "triangular" => (3, "the lowest, the most likely and the highest value"),
        "uniform" => (2, "the lowest and the highest value"),
        "normal" => (2, "the mean and the standard deviation"),
        _ => (2, "the median and the geometric standard deviation, a plain number such as 1.5"),
    };
    if list.len() != count {
        reader.problem(
            span,
            format!("`{shape}` is a list of {count}"),
            "not as many",
            format!("it holds {what}"),
        );
        return None;
    }
    let mut read = |value: &Spanned<DeValue<'_>>| measured(reader, value);
    let (first, unit) = read(list[0])?;
    let mut numbers = vec![first];
    for item in &list[1..] {
        let (number, other) = read(item)?;
        let is_factor = shape == "log_normal" && other.is_empty();
        let is_difference = shape == "normal" && unit == "°C" && other == "K";
        if other != unit && !is_factor && !is_difference {
            let hint =
                format!("write it in {}, as the first", if unit.is_empty() { "no unit" } else { &unit });
            reader.problem(item.span(), "values of one input have one unit", "another unit", hint);
            return None;
        }
        numbers.push(number);
    }
    let mut bound = |key: &str| -> Result<Option<f64>, ()> {
        let Some(value) = table.get(key) else { return Ok(None) };
        let (number, other) = measured(reader, value).ok_or(())?;
        if other == unit {
            return Ok(Some(number));
        }
        reader.problem(
            value.span(),
            "values of one input have one unit",
            "another unit",
            format!("write it in `{unit}`"),
        );
        Err(())
    };
    let (low, high) = (bound("at_least").ok()?, bound("at_most").ok()?);
    match distribution(shape, &numbers, Bounds { low, high }) {
        Ok(distribution) => Some(Values::Spread { distribution, unit, levels }),
        Err(cause) => {
            reader.problem(span, cause.to_string(), "these values", format!("`{shape}` holds {what}"));
            None
        }
    }
}

fn distribution(shape: &str, numbers: &[f64], bounds: Bounds) -> Result<Distribution, DistributionError> {
    match (shape, numbers) {
        ("triangular", &[low, mode, high]) => Distribution::triangular(low, mode, high),
        ("normal", &[mean, deviation]) => Distribution::normal(mean, deviation, bounds),
        ("log_normal", &[median, factor]) => Distribution::log_normal(median, factor, bounds),
        (_, numbers) => {
            let end = |place: usize| numbers.get(place).copied().unwrap_or(f64::NAN);
            Distribution::uniform(end(0), end(1))
        }
    }
}

/// A number and its unit as written; of a plain number none.
fn measured(reader: &mut Reader<'_>, value: &Spanned<DeValue<'_>>) -> Option<(f64, String)> {
    if let Some(number) = plain(value.get_ref()) {
        return Some((number, String::new()));
    }
    let text = value.get_ref().as_str().map(str::trim);
    let found = text.and_then(|text| {
        let text = text.replace('\u{2212}', "-");
        let split = number_length(&text);
        let number = text.get(..split)?.parse::<f64>().ok().filter(|number| number.is_finite())?;
        Some((number, text.get(split..)?.trim().to_owned()))
    });
    if found.is_none() {
        let hint = "such as \"2.5 1/h @50Pa\"; what is no number goes into one_of";
        reader.problem(value.span(), "a number with its unit is needed here", "not such a number", hint);
    }
    found
}

/// Bytes of the number that a text begins with.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digits = |mut at: usize| {
        while bytes.get(at).is_some_and(u8::is_ascii_digit) {
            at += 1;
        }
        at
    };
    let mut at = digits(usize::from(matches!(bytes.first(), Some(b'-' | b'+'))));
    if bytes.get(at) == Some(&b'.') {
        at = digits(at + 1);
    }
    if matches!(bytes.get(at), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(at + 1), Some(b'-' | b'+')));
        let end = digits(at + 1 + sign);
        if end > at + 1 + sign {
            at = end;
        }
    }
    at
}

pub(super) fn read_correlations(
    reader: &mut Reader<'_>,
    root: &DeTable<'_>,
    inputs: &[Input],
) -> Vec<(usize, usize, f64)> {
    const HINT: &str = "[[correlation]] has between = [\"one path\", \"another\"] and rank = 0.5";
    let Some(value) = root.get("correlation") else { return Vec::new() };
    let Some(list) = value.get_ref().as_array() else {
        reader.problem(value.span(), "`correlation` must be a list of tables", "not such a list", HINT);
        return Vec::new();
    };
    let mut pairs = Vec::new();
    for item in list {
        let Some(table) = item.get_ref().as_table() else {
            reader.problem(item.span(), "`correlation` must be a list of tables", "not a table", HINT);
            continue;
        };
        reader.known(("[[correlation]]", table), &["between", "rank"]);
        let between = table.get("between").and_then(|value| value.get_ref().as_array());
        let places: Vec<Option<usize>> = between
            .into_iter()
            .flatten()
            .map(|path| {
                let path = path.get_ref().as_str()?;
                inputs.iter().position(|input| input.path == path)
            })
            .collect();
        let rank = table.get("rank").and_then(|rank| reader.number(rank, "`rank`"));
        match (places.as_slice(), rank) {
            ([Some(one), Some(other)], Some(rank)) => pairs.push((*one, *other, rank)),
            _ => reader.problem(
                item.span(),
                "a correlation is between two inputs that are varied",
                "this table",
                HINT,
            ),
        }
    }
    if let Err(cause) = sampling::correlation::Copula::of_pairs(inputs.len(), &pairs) {
        let hint = "ranks lie between -1 and 1; inputs are counted in the order of the file";
        reader.problem(value.span(), cause.to_string(), "these correlations", hint);
    }
    pairs
}

//! A short TOML file of keys with one value or twelve: every fault with its place, all in one go.
//!
//! Not here: which keys a file has (`normals_file.rs`, `shift_file.rs`), units themselves (`study`, `air::amounts`).

use std::ops::Range;
use std::path::Path;

use study::{Dimension, Problem, Problems, QuantityError, parse_quantity};
use toml::Spanned;
use toml::de::{DeTable, DeValue};
use weather::calendar::MONTH_NAMES;

use crate::air::amounts::{Amount, IRRADIATION_OF_A_DAY, IRRADIATION_OF_A_MONTH, Misread};
use crate::failure::Failure;

/// What a key measures.
#[derive(Clone, Copy)]
pub(super) enum Units {
    /// A quantity that studies hold as well.
    Study(Dimension),
    /// Another amount.
    Own(&'static Amount),
    /// Irradiation of a day or of a month, to kWh/m² of a month.
    Irradiation,
    /// A plain number.
    Plain,
}

/// What a key takes: its units, the bounds as they are written, and an example.
#[derive(Clone, Copy)]
pub(super) struct Measure {
    pub(super) units: Units,
    pub(super) least: &'static str,
    pub(super) most: &'static str,
    pub(super) example: &'static str,
}

/// Days of the months of a common year.
pub(super) const DAYS: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];

/// The file while it is read.
pub(super) struct Sheet<'t> {
    name: &'t str,
    text: &'t str,
    entries: &'t DeTable<'t>,
    keys: &'static [&'static str],
    missing: Vec<&'static str>,
    problems: Vec<Problem>,
}

/// Reads a file with these keys: what `read` makes of it, or all that is wrong.
pub(super) fn read<T>(
    path: &Path,
    keys: &'static [&'static str],
    read: impl FnOnce(&mut Sheet<'_>) -> Option<T>,
) -> Result<T, Failure> {
    let bytes = std::fs::read(path).map_err(|cause| Failure::unreadable(path, &cause))?;
    let name = path.display().to_string();
    let text =
        study::text_of(&bytes, &name).map_err(|problems| Failure::laid_out(&problems.render("", &name)))?;
    let (root, errors) = DeTable::parse_recoverable(text);
    let first = errors.iter().min_by_key(|error| error.span().map_or(0, |span| span.start));
    let mut sheet =
        Sheet { name: &name, text, entries: root.get_ref(), keys, missing: Vec::new(), problems: Vec::new() };
    if let Some(error) = first {
        let message: Vec<&str> = error.message().lines().collect();
        let fault = Fault::new(format!("this is not TOML: {}", message.join("; ")), "here")
            .hint("a key is name = value, a list is [value, value], and quantities stand in quotation marks");
        sheet.problem(error.span().unwrap_or(0..0), fault);
        return Err(sheet.failure());
    }
    let found = read(&mut sheet);
    sheet.unknown_and_missing();
    match found {
        Some(found) if sheet.problems.is_empty() => Ok(found),
        _ => Err(sheet.failure()),
    }
}

/// What is wrong with a value; the sheet adds the key and the place.
struct Fault {
    message: String,
    label: String,
    hint: Option<String>,
}

impl Fault {
    fn new(message: impl Into<String>, label: impl Into<String>) -> Self {
        Self { message: message.into(), label: label.into(), hint: None }
    }

    fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

impl Sheet<'_> {
    fn problem(&mut self, span: Range<usize>, fault: Fault) {
        let Fault { message, label, hint } = fault;
        self.problems.push(Problem { message, span, label, hint });
    }

    fn failure(self) -> Failure {
        let mut list = self.problems;
        list.sort_by_key(|problem| problem.span.start);
        let problems = Problems { file_name: self.name.to_owned(), list };
        Failure::laid_out(&problems.render(self.text, self.name))
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.entries.contains_key(key)
    }

    fn find(&mut self, key: &'static str, is_required: bool) -> Option<Spanned<DeValue<'_>>> {
        let value = self.entries.get(key).cloned();
        if value.is_none() && is_required {
            self.missing.push(key);
        }
        value
    }

    /// One line of text.
    pub(super) fn line(&mut self, key: &'static str, is_required: bool) -> Option<String> {
        const MOST: usize = 100;
        let value = self.find(key, is_required)?;
        let span = value.span();
        let fault = match value.get_ref() {
            DeValue::String(text) => {
                let text = text.trim();
                let is_plain = !text.is_empty() && !text.chars().any(char::is_control);
                if is_plain && text.chars().count() <= MOST {
                    return Some(text.to_owned());
                }
                Fault::new(format!("`{key}`: one line of 1 to {MOST} characters is needed"), "not so")
            }
            other => Fault::new(format!("`{key}`: text between quotation marks is needed"), kind_of(other)),
        };
        self.problem(span, fault);
        None
    }

    /// One value that must be there.
    pub(super) fn one(&mut self, key: &'static str, measure: &Measure) -> Option<f64> {
        let value = self.find(key, true)?;
        let (span, read) = (value.span(), measure.read(value.get_ref(), 0));
        read.map_err(|fault| self.problem(span, fault.of(key, None))).ok()
    }

    /// One value that may be left out.
    pub(super) fn one_or(&mut self, key: &'static str, measure: &Measure, otherwise: f64) -> Option<f64> {
        if self.has(key) { self.one(key, measure) } else { Some(otherwise) }
    }

    /// Twelve values that must be there.
    pub(super) fn months(&mut self, key: &'static str, measure: &Measure) -> Option<[f64; 12]> {
        self.twelve(key, measure, false)
    }

    /// Twelve values, or one that stands for all months, or what holds where the key is left out.
    pub(super) fn months_or(
        &mut self,
        key: &'static str,
        measure: &Measure,
        otherwise: f64,
    ) -> Option<[f64; 12]> {
        if self.has(key) { self.twelve(key, measure, true) } else { Some([otherwise; 12]) }
    }

    /// The same, where the key must be there.
    pub(super) fn months_or_one(&mut self, key: &'static str, measure: &Measure) -> Option<[f64; 12]> {
        self.twelve(key, measure, true)
    }

    fn twelve(&mut self, key: &'static str, measure: &Measure, may_be_one: bool) -> Option<[f64; 12]> {
        let value = self.find(key, true)?;
        let span = value.span();
        let DeValue::Array(list) = value.get_ref() else {
            if may_be_one && !value.get_ref().is_table() {
                let read = measure.read(value.get_ref(), 0);
                return read.map_err(|fault| self.problem(span, fault.of(key, None))).ok().map(|x| [x; 12]);
            }
            let fault =
                Fault::new(format!("`{key}`: a list of twelve values is needed"), kind_of(value.get_ref()));
            self.problem(span, fault.hint(measure.list_hint()));
            return None;
        };
        if list.len() != 12 {
            let message =
                format!("`{key}`: twelve values are needed, January to December; it has {}", list.len());
            let label = if list.len() < 12 {
                format!("{} is the first that is missing", MONTH_NAMES[list.len()])
            } else {
                "too many".to_owned()
            };
            self.problem(span, Fault::new(message, label).hint(measure.list_hint()));
            return None;
        }
        let mut months = [0.0; 12];
        let mut is_whole = true;
        let faults: Vec<(Range<usize>, Fault)> = (list.iter().enumerate())
            .filter_map(|(month, item)| match measure.read(item.get_ref(), month) {
                Ok(value) => {
                    months[month] = value;
                    None
                }
                Err(fault) => Some((item.span(), fault.of(key, Some(month)))),
            })
            .collect();
        for (span, fault) in faults {
            is_whole = false;
            self.problem(span, fault);
        }
        is_whole.then_some(months)
    }

    /// Exactly one of two keys must be there (or, where `may_be_none`, at most one); `what` is what both say.
    pub(super) fn either(&mut self, [a, b]: [&'static str; 2], what: &str, may_be_none: bool) {
        match (self.has(a), self.has(b)) {
            (true, true) => {
                let span = self.entries.get(b).map_or(0..0, Spanned::span);
                let message = format!("`{a}` and `{b}` both say {what}");
                self.problem(span, Fault::new(message, "the second of them").hint("leave one of them out"));
            }
            (false, false) if !may_be_none => {
                let end = self.text.trim_end().len();
                let message = format!("the file says nothing of {what}");
                let fault = Fault::new(message, "missing here").hint(format!("give `{a}` or `{b}`"));
                self.problem(end..end, fault);
            }
            _ => {}
        }
    }

    fn unknown_and_missing(&mut self) {
        let known = || self.keys.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>().join(", ");
        let mut found = Vec::new();
        for (key, _) in self.entries {
            let name: &str = key.get_ref();
            if !self.keys.contains(&name) {
                let shown: String = name.chars().filter(|c| !c.is_control()).take(40).collect();
                let fault = Fault::new(format!("there is no key `{shown}`"), "unknown key");
                found.push((key.span(), fault.hint(format!("the keys are {}", known()))));
            }
        }
        if !self.missing.is_empty() {
            let end = self.text.trim_end().len();
            let noun = if self.missing.len() == 1 { "the key" } else { "the keys" };
            let names: Vec<String> = self.missing.iter().map(|key| format!("`{key}`")).collect();
            let fault = Fault::new(format!("the file lacks {noun} {}", names.join(", ")), "missing here");
            found.push((end..end, fault));
        }
        for (span, fault) in found {
            self.problem(span, fault);
        }
    }
}

impl Fault {
    /// The same with its key, and its month.
    fn of(mut self, key: &str, month: Option<usize>) -> Self {
        let month = month.and_then(|month| MONTH_NAMES.get(month)).map(|name| format!(", {name}"));
        self.message = format!("`{key}`{}: {}", month.unwrap_or_default(), self.message);
        self
    }
}

impl Measure {
    fn list_hint(&self) -> String {
        let quoted = self.quoted();
        format!("write [{quoted}, {quoted}, …] with twelve values")
    }

    fn quoted(&self) -> String {
        if matches!(self.units, Units::Plain) {
            self.example.to_owned()
        } else {
            format!("\"{}\"", self.example)
        }
    }

    /// The value in SI, if it is within its bounds; irradiation is that of the month (0 is January).
    fn read(&self, value: &DeValue<'_>, month: usize) -> Result<f64, Fault> {
        let written = match (value, self.units) {
            (DeValue::Integer(number), Units::Plain) => number.as_str().to_owned(),
            (DeValue::Float(number), Units::Plain) => number.as_str().to_owned(),
            (_, Units::Plain) => {
                let fault = Fault::new("a plain number is needed", kind_of(value));
                return Err(fault.hint(format!("write {}", self.example)));
            }
            (DeValue::String(text), _) => text.as_ref().to_owned(),
            _ => {
                let fault =
                    Fault::new("a number with its unit, between quotation marks, is needed", kind_of(value));
                return Err(fault.hint(format!("write {}", self.quoted())));
            }
        };
        let number = self.parse(&written, month)?;
        let bounds = (self.parse(self.least, month), self.parse(self.most, month));
        let (Ok(least), Ok(most)) = bounds else {
            return Err(Fault::new("the bounds of this key cannot be read: a fault of this program", "here"));
        };
        if (least..=most).contains(&number) {
            Ok(number)
        } else {
            Err(Fault::new(format!("must lie between {} and {}", self.least, self.most), "out of range"))
        }
    }

    fn parse(&self, text: &str, month: usize) -> Result<f64, Fault> {
        match self.units {
            Units::Study(dimension) => parse_quantity(text, dimension)
                .map(|quantity| quantity.si())
                .map_err(|error| self.not_a_quantity(&error, dimension)),
            Units::Own(amount) => amount.parse(text).map_err(misread),
            Units::Irradiation => irradiation(text, month),
            Units::Plain => {
                let plain = text.replace('_', "").parse::<f64>().ok().filter(|number| number.is_finite());
                plain.ok_or_else(|| Fault::new("a plain number is needed", "not one"))
            }
        }
    }

    fn not_a_quantity(&self, error: &QuantityError, dimension: Dimension) -> Fault {
        let units: Vec<&str> = dimension.units().map(|unit| unit.name).collect();
        let hint = match error {
            QuantityError::NoUnit { .. }
            | QuantityError::WrongUnit { .. }
            | QuantityError::UnknownUnit { .. } => format!("units that fit: {}", units.join(", ")),
            _ => format!("write it like {}", self.quoted()),
        };
        Fault::new(error.to_string(), "not a quantity that fits").hint(hint)
    }
}

fn misread(Misread { message, hint }: Misread) -> Fault {
    Fault::new(message, "not a quantity that fits").hint(hint)
}

/// Irradiation of the month [kWh/m²]; that of a day times the month's days.
fn irradiation(text: &str, month: usize) -> Result<f64, Fault> {
    let whole = IRRADIATION_OF_A_MONTH.parse(text);
    let day =
        IRRADIATION_OF_A_DAY.parse(text).map(|of_day| of_day * DAYS.get(month).copied().unwrap_or(31.0));
    whole.or(day).map_err(|misread| {
        let names = format!("{}, {}", IRRADIATION_OF_A_DAY.names(), IRRADIATION_OF_A_MONTH.names());
        let Misread { message, hint } = misread;
        let hint = if hint.starts_with("units") { format!("units that fit: {names}") } else { hint };
        Fault::new(message, "not a quantity that fits").hint(hint)
    })
}

/// What a value is, for a label.
fn kind_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "this is text",
        DeValue::Integer(_) | DeValue::Float(_) => "this is a plain number",
        DeValue::Boolean(_) => "this is true or false",
        DeValue::Datetime(_) => "this is a date or a time",
        DeValue::Array(_) => "this is a list",
        DeValue::Table(_) => "this is a table",
    }
}

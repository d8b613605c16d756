//! A table of the file while it is read: gives values by key, and notes what is missing, unknown or wrong.
//!
//! Here: the bookkeeping, so that the readers only name keys. Not here: the keys. Read next: `read.rs`.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::keys::{self, TableKeys};
use crate::kinds::{Fault, Kind, kind_of};
use crate::model::DefaultUsed;
use crate::problem::{Problem, listed, shortened};

/// What reading has found so far.
#[derive(Debug, Default)]
pub(crate) struct Log {
    pub problems: Vec<Problem>,
    pub defaults: Vec<DefaultUsed>,
    /// What the study counts money in, from the first price that is met.
    pub currency: Option<String>,
}

impl Log {
    pub fn problem(&mut self, span: Range<usize>, fault: Fault) {
        let Fault { message, label, hint } = fault;
        self.problems.push(Problem { message, span, label, hint });
    }

    pub fn took(&mut self, path: String, value: impl Into<String>, why: &'static str) {
        self.defaults.push(DefaultUsed { path, value: value.into(), why });
    }
}

/// A table, present or not.
pub(crate) struct Table<'a> {
    keys: &'static TableKeys,
    /// Path for messages: `house.window[2]`, `unit.Plate A`.
    pub path: String,
    /// Where it stands, or where it would.
    pub span: Range<usize>,
    entries: Option<&'a DeTable<'a>>,
    missing: Vec<&'static str>,
}

impl<'a> Table<'a> {
    pub fn root(entries: &'a DeTable<'a>, span: Range<usize>) -> Self {
        Self { keys: &keys::ROOT, path: String::new(), span, entries: Some(entries), missing: Vec::new() }
    }

    fn absent(&self, keys: &'static TableKeys) -> Self {
        let path = keys::join(&self.path, last_word(keys.path));
        Self { keys, path, span: self.span.clone(), entries: None, missing: Vec::new() }
    }

    /// The path of one of its keys.
    pub fn path_of(&self, key: &str) -> String {
        keys::join(&self.path, key)
    }

    fn find(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        debug_assert!(self.keys.all().any(|known| known == key), "{key} is not listed in {}", self.keys.path);
        self.entries?.get(key)
    }

    /// Where the value of a key stands; the table itself where it is left out.
    pub fn span_of(&self, key: &str) -> Range<usize> {
        self.find(key).map_or_else(|| self.span.clone(), Spanned::span)
    }

    pub fn has(&self, key: &str) -> bool {
        self.find(key).is_some()
    }

    /// The value of a key where it is text.
    pub fn text(&self, key: &str) -> Option<&'a str> {
        self.find(key).and_then(|value| value.get_ref().as_str())
    }

    /// Whether the value of a key is a list.
    pub fn is_list(&self, key: &str) -> bool {
        self.find(key).is_some_and(|value| value.get_ref().is_array())
    }

    /// Whether the value of a key is a table.
    pub fn is_table(&self, key: &str) -> bool {
        self.find(key).is_some_and(|value| value.get_ref().is_table())
    }

    /// The value of a key that may be left out.
    pub fn optional<K: Kind>(&self, log: &mut Log, kind: &K) -> Option<K::Out> {
        let value = self.find(kind.key())?;
        match kind.read(value.get_ref()) {
            Ok(out) => Some(out),
            Err(mut fault) => {
                fault.message = format!("`{}`: {}", self.path_of(kind.key()), fault.message);
                log.problem(value.span(), fault);
                None
            }
        }
    }

    /// The value of a key that must be there.
    pub fn required<K: Kind>(&mut self, log: &mut Log, kind: &K) -> Option<K::Out> {
        if !self.has(kind.key()) {
            self.missing.push(kind.key());
        }
        self.optional(log, kind)
    }

    /// The value of a key, or `text` (as the file would write it) with its reason.
    pub fn or<K: Kind>(&self, log: &mut Log, kind: &K, (text, why): (&str, &'static str)) -> Option<K::Out> {
        if self.has(kind.key()) {
            return self.optional(log, kind);
        }
        log.took(self.path_of(kind.key()), text, why);
        kind.read(&value_of(text)).ok()
    }

    /// The same, where the default has no effect and is not listed.
    pub fn or_unlisted<K: Kind>(&self, log: &mut Log, kind: &K, text: &str) -> Option<K::Out> {
        if self.has(kind.key()) { self.optional(log, kind) } else { kind.read(&value_of(text)).ok() }
    }

    /// A table within this one that must be there.
    pub fn required_table(&mut self, log: &mut Log, keys: &'static TableKeys) -> Option<Table<'a>> {
        let key = last_word(keys.path);
        if self.has(key) {
            return self.table(log, keys);
        }
        let fault = Fault::new(format!("the table `{}` is missing", keys.header), "missing here");
        let hint = format!("it needs {}", listed(keys.required, "and"));
        log.problem(self.span.clone(), fault.hint(hint));
        None
    }

    /// A table within this one; an absent one where it is left out, `None` where it is no table.
    pub fn table(&self, log: &mut Log, keys: &'static TableKeys) -> Option<Table<'a>> {
        let key = last_word(keys.path);
        let Some(value) = self.find(key) else {
            return Some(self.absent(keys));
        };
        let path = self.path_of(key);
        Self::within(log, keys, value, path)
    }

    /// The tables of a list within this one, empty where it is left out.
    pub fn tables(&self, log: &mut Log, keys: &'static TableKeys) -> Vec<Table<'a>> {
        let key = last_word(keys.path);
        let Some(value) = self.find(key) else {
            return Vec::new();
        };
        let DeValue::Array(list) = value.get_ref() else {
            let message = format!("`{}` must be a list of tables", self.path_of(key));
            let fault = Fault::new(message, kind_of(value.get_ref()));
            log.problem(value.span(), fault.hint(format!("write its header as {}", keys.header)));
            return Vec::new();
        };
        let numbered = list.iter().enumerate();
        numbered
            .filter_map(|(i, item)| {
                let path = format!("{}[{}]", self.path_of(key), i + 1);
                Self::within(log, keys, item, path)
            })
            .collect()
    }

    fn within(
        log: &mut Log,
        keys: &'static TableKeys,
        value: &'a Spanned<DeValue<'a>>,
        path: String,
    ) -> Option<Table<'a>> {
        if let DeValue::Table(entries) = value.get_ref() {
            let span = value.span();
            return Some(Self { keys, path, span, entries: Some(entries), missing: Vec::new() });
        }
        let fault = Fault::new(format!("`{path}` must be a table"), kind_of(value.get_ref()));
        log.problem(value.span(), fault.hint(format!("write its header as {}", keys.header)));
        None
    }

    /// Notes the keys that are missing and those that are unknown.
    pub fn finish(self, log: &mut Log) {
        if !self.missing.is_empty() {
            let noun = if self.missing.len() == 1 { "the key" } else { "the keys" };
            let missing = listed(&self.missing, "and");
            let message = format!("{} lacks {noun} {missing}", self.name());
            log.problem(self.span.clone(), Fault::new(message, "this table"));
        }
        for (key, _) in self.entries.into_iter().flatten() {
            if !self.keys.all().any(|known| known == key.get_ref()) {
                log.problem(key.span(), self.unknown(key.get_ref()));
            }
        }
    }

    /// What messages call the table.
    fn name(&self) -> String {
        match self.path.as_str() {
            "" => "the file".to_owned(),
            path if path == self.keys.path => format!("`{}`", self.keys.header),
            path => format!("`{path}`"),
        }
    }

    fn unknown(&self, key: &str) -> Fault {
        let words: Vec<&str> = self.keys.all().collect();
        let message = format!("{} has no key `{}`", self.name(), shortened(key));
        let elsewhere = keys::headers_with(key, self.keys);
        let hint = if let Some(near) = keys::nearest(key, &words) {
            format!("did you mean `{near}`?")
        } else if elsewhere.is_empty() {
            format!("its keys are {}", listed(&words, "and"))
        } else {
            format!("`{key}` belongs to {}", listed(&elsewhere, "or"))
        };
        Fault::new(message, "unknown key").hint(hint)
    }
}

fn last_word(path: &'static str) -> &'static str {
    path.rsplit('.').next().unwrap_or(path)
}

/// A default as the file would hold it: a number, true or false stay what they are, all else is text.
fn value_of(text: &str) -> DeValue<'_> {
    let is_plain = text.parse::<f64>().is_ok() || text.parse::<bool>().is_ok();
    let plain = if is_plain { DeValue::parse(text).ok() } else { None };
    plain.map_or_else(|| DeValue::String(text.into()), Spanned::into_inner)
}

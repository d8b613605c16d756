//! Finds a path in the tables of a study and puts a value there.
//!
//! Not here: what a value must be (`read`). Read next: `keys.rs`.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::PathError;
use crate::keys::{self, TABLES, TableKeys};
use crate::problem::{listed, shortened};

/// What is wrong with a path, and what would be right.
type Astray = (String, String);

/// Puts a value where a path leads.
pub(super) fn put<'v>(
    root: &mut Spanned<DeTable<'v>>,
    path: &str,
    value: DeValue<'v>,
) -> Result<(), PathError> {
    let span = root.span();
    let found = find((root.get_mut(), &keys::ROOT), path, span);
    let place = found.map_err(|(why, hint)| PathError { path: shortened(path), why, hint })?;
    let span = place.span();
    *place.get_mut() = placed(value, &span);
    Ok(())
}

/// The same value, said to stand at `span` with all that is in it.
fn placed<'v>(value: DeValue<'v>, span: &Range<usize>) -> DeValue<'v> {
    let at = |item: Spanned<DeValue<'v>>| Spanned::new(span.clone(), placed(item.into_inner(), span));
    match value {
        DeValue::Array(list) => DeValue::Array(list.into_iter().map(at).collect()),
        DeValue::Table(table) => {
            let mut moved = DeTable::new();
            for (key, item) in table {
                moved.insert(Spanned::new(span.clone(), key.into_inner()), at(item));
            }
            DeValue::Table(moved)
        }
        plain => plain,
    }
}

/// The place that the rest of a path leads to from a table; it is made where the study leaves it open.
fn find<'t, 'v>(
    (table, keys): (&'t mut DeTable<'v>, &'static TableKeys),
    path: &str,
    span: Range<usize>,
) -> Result<&'t mut Spanned<DeValue<'v>>, Astray> {
    let (key, rest) = path.split_once('.').map_or((path, None), |(key, rest)| (key, Some(rest)));
    let Some(key) = keys.all().find(|known| *known == key) else { return Err(unknown(keys, key)) };
    let full = keys::join(keys.path, key);
    let below = TABLES.iter().copied().find(|table| table.path == full);
    if !table.contains_key(key) {
        let is_list = below.is_some_and(|below| below.header.starts_with("[["));
        match rest {
            Some(_) if below.is_none() => return Err(no_table(&full)),
            Some(_) if is_list => return Err(no_list(&full)),
            _ => {}
        }
        let new = Spanned::new(span.clone(), DeValue::Table(DeTable::new()));
        table.insert(Spanned::new(span, Cow::Owned(key.to_owned())), new);
    }
    let Some(place) = table.get_mut(key) else { return Err(no_table(&full)) };
    let Some(rest) = rest else { return Ok(place) };
    let Some(below) = below else { return Err(no_table(&full)) };
    within((place, below), rest)
}

/// The place that the rest of a path leads to from a table or a list of them.
fn within<'t, 'v>(
    (place, keys): (&'t mut Spanned<DeValue<'v>>, &'static TableKeys),
    rest: &str,
) -> Result<&'t mut Spanned<DeValue<'v>>, Astray> {
    let span = place.span();
    match place.get_mut() {
        DeValue::Table(table) => find((table, keys), rest, span),
        DeValue::Array(list) => {
            let (index, rest) = numbered(list.iter().map(Spanned::get_ref), keys, rest)?;
            let Some(item) = list.get_mut(index) else { return Err(no_list(keys.path)) };
            match rest {
                None => Ok(item),
                Some(rest) => within((item, keys), rest),
            }
        }
        _ => Err(no_table(keys.path)),
    }
}

/// Which of a list's tables is meant, by name or by number, and what follows.
fn numbered<'i, 'r, 'v: 'i>(
    items: impl Iterator<Item = &'i DeValue<'v>>,
    keys: &TableKeys,
    rest: &'r str,
) -> Result<(usize, Option<&'r str>), Astray> {
    let name_of =
        |item: &'i DeValue<'v>| item.as_table().and_then(|table| table.get("name")?.get_ref().as_str());
    let names: Vec<Option<&str>> = items.map(name_of).collect();
    // Names may hold points, and one may begin like another: the longest that fits.
    let named = names.iter().enumerate().filter_map(|(index, name)| {
        let name = (*name)?;
        let after = rest.strip_prefix(name)?;
        let after = if after.is_empty() { None } else { Some(after.strip_prefix('.')?) };
        Some((name.len(), (index, after)))
    });
    if let Some((_, found)) = named.max_by_key(|(length, _)| *length) {
        return Ok(found);
    }
    let (first, after) = rest.split_once('.').map_or((rest, None), |(first, after)| (first, Some(after)));
    let count = names.len();
    if let Some(number) = first.parse::<usize>().ok().filter(|number| (1..=count).contains(number)) {
        return Ok((number - 1, after));
    }
    let why = format!("there is no `{}` among the {count} of {}", shortened(first), keys.header);
    let known: Vec<&str> = names.into_iter().flatten().collect();
    if let Some(near) = keys::nearest(first, &known) {
        return Err((why, format!("did you mean `{}.{near}`?", keys.path)));
    }
    if known.is_empty() {
        return Err((why, format!("number them from 1 to {count}, such as `{}.1`", keys.path)));
    }
    Err((why, format!("their names are {}; numbers from 1 to {count} do as well", listed(&known, "and"))))
}

fn unknown(keys: &TableKeys, key: &str) -> Astray {
    let words: Vec<&str> = keys.all().collect();
    let whose = if keys.path.is_empty() { "the study" } else { keys.header };
    let why = format!("{whose} has no key `{}`", shortened(key));
    if let Some(near) = keys::nearest(key, &words) {
        return (why, format!("did you mean `{}`?", keys::join(keys.path, near)));
    }
    let elsewhere = keys::headers_with(key, keys);
    if elsewhere.is_empty() {
        return (why, format!("its keys are {}", listed(&words, "and")));
    }
    (why, format!("`{}` belongs to {}", shortened(key), listed(&elsewhere, "or")))
}

fn no_table(path: &str) -> Astray {
    (format!("`{path}` is one value, not a table"), format!("end the path at `{path}`"))
}

fn no_list(path: &str) -> Astray {
    (format!("the study has no [[{path}]]"), format!("write a [[{path}]] into the study, and vary that"))
}

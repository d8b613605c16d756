//! Names of files that a person gave, as short as tells them apart.

use std::path::{Path, PathBuf};

use weather::WeatherYear;

/// Each file's name without its folders, with as many of them as it takes to tell it from the others.
pub(crate) fn told_apart(paths: &[PathBuf]) -> Vec<String> {
    let parts: Vec<Vec<String>> = paths.iter().map(|path| parts(path)).collect();
    let named = parts.iter().enumerate().map(|(place, own)| {
        let differs = |count: &usize| {
            let others = parts.iter().enumerate().filter(|(other, _)| *other != place);
            others.into_iter().all(|(_, other)| end(other, *count) != end(own, *count))
        };
        let count = (1..=own.len()).find(differs).unwrap_or(own.len());
        end(own, count).join("/")
    });
    named.collect()
}

/// The name with what sets the year apart from one that was measured, unless its place says so itself.
pub(crate) fn marked(name: &str, year: &WeatherYear) -> String {
    let mut marked = name.to_owned();
    if year.is_synthetic && !year.place.name.contains(INVENTED) {
        marked = format!("{marked} {INVENTED}");
    }
    if year.shifted.is_some() { format!("{marked} (shifted)") } else { marked }
}

const INVENTED: &str = "(invented)";

fn parts(path: &Path) -> Vec<String> {
    path.iter().map(|part| part.to_string_lossy().into_owned()).collect()
}

/// The last parts of a path, this many.
fn end(parts: &[String], count: usize) -> &[String] {
    &parts[parts.len().saturating_sub(count)..]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(paths: &[&str]) -> Vec<String> {
        told_apart(&paths.iter().map(PathBuf::from).collect::<Vec<_>>())
    }

    #[test]
    fn a_file_is_called_by_its_name_and_by_its_folders_where_that_is_not_enough() {
        assert_eq!(named(&["a/b/mild.csv"]), ["mild.csv"]);
        assert_eq!(named(&["a/mild.csv", "a/cold.csv"]), ["mild.csv", "cold.csv"]);
        assert_eq!(named(&["a/x.csv", "b/x.csv", "b/y.csv"]), ["a/x.csv", "b/x.csv", "y.csv"]);
        assert_eq!(named(&["a/c/x.csv", "b/c/x.csv"]), ["a/c/x.csv", "b/c/x.csv"]);
        assert_eq!(named(&["x.csv", "b/x.csv"]), ["x.csv", "b/x.csv"]);
    }
}

//! Reads the tree for the tidy tests: files, sources, their code without comments, texts and tests, and words in it.
//!
//! Simple, and enough for code that `cargo fmt` has been over. Not here: the rules (`../tidy.rs`).

use std::fs;
use std::path::{Path, PathBuf};

/// A source: its path from the top level, its text, and its code with comments, texts and tests blanked out.
pub struct Source {
    pub path: String,
    pub text: String,
    pub code: String,
}

/// A place where a rule is broken.
pub struct Breach {
    pub place: String,
    pub rule: String,
    pub why: &'static str,
}

/// Words that may be in some files only.
pub struct Words {
    pub any_of: &'static [&'static str],
    pub rule: &'static str,
    pub why: &'static str,
}

pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Every file below a folder that is part of the project.
fn files_below(folder: &Path, found: &mut Vec<PathBuf>) {
    const MADE: [&str; 4] = ["target", ".git", "dewledger-out", "my-house"];
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() && !MADE.contains(&name.as_str()) {
            files_below(&path, found);
        } else if path.is_file() {
            found.push(path);
        }
    }
}

pub fn files() -> Vec<PathBuf> {
    let mut found = Vec::new();
    files_below(&root(), &mut found);
    found.sort();
    found
}

pub fn from_root(path: &Path) -> String {
    path.strip_prefix(root()).unwrap().to_string_lossy().replace('\\', "/")
}

pub fn sources() -> Vec<Source> {
    let rust = files().into_iter().filter(|path| path.extension().is_some_and(|e| e == "rs"));
    let mut all: Vec<Source> =
        rust.map(|path| Source::new(&from_root(&path), &fs::read_to_string(&path).unwrap())).collect();
    let tests: Vec<String> = all.iter().flat_map(test_files).collect();
    for source in &mut all {
        if tests.contains(&source.path) {
            source.code = String::new();
        }
    }
    assert!(all.len() > 60, "only {} sources were found", all.len());
    all
}

impl Source {
    pub fn new(path: &str, text: &str) -> Self {
        Self { path: path.to_owned(), text: text.to_owned(), code: without_tests(&without_comments(text)) }
    }

    /// Code of the crates themselves, not of their tests, examples and benches.
    pub fn in_src(&self) -> bool {
        self.path.starts_with("crates/") && self.path.contains("/src/")
    }

    pub fn is_in(&self, places: &[&str]) -> bool {
        places.iter().any(|place| self.path.starts_with(place))
    }

    pub fn breach(&self, line: usize, rule: String, why: &'static str) -> Breach {
        Breach { place: format!("{}:{line}", self.path), rule, why }
    }

    pub fn uses(&self, listed: &Words) -> Vec<Breach> {
        let mut found = Vec::new();
        for (line, code) in self.code.lines().enumerate() {
            for word in listed.any_of {
                if has_word(code, word) {
                    found.push(self.breach(line + 1, format!("`{word}` {}", listed.rule), listed.why));
                }
            }
        }
        found
    }
}

/// Whether the code has the word, and not just a longer one with it inside.
fn has_word(code: &str, word: &str) -> bool {
    let of_a_name = |c: char| c.is_alphanumeric() || c == '_';
    let open_start = !word.starts_with(of_a_name);
    let open_end = !word.ends_with(of_a_name);
    code.match_indices(word).any(|(at, _)| {
        let before = code[..at].chars().next_back().is_some_and(of_a_name);
        let after = code[at + word.len()..].chars().next().is_some_and(of_a_name);
        (open_start || !before) && (open_end || !after)
    })
}

/// The text with comments, texts and characters blanked out; lines stay where they are.
fn without_comments(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = blank_length(rest, out.chars().next_back()).unwrap_or(0);
        if length == 0 {
            out.push(first);
            rest = &rest[first.len_utf8()..];
        } else {
            out.extend(rest[..length].chars().map(|c| if c == '\n' { '\n' } else { ' ' }));
            rest = &rest[length..];
        }
    }
    out
}

/// Length of the comment, text or character that begins here, if one does.
fn blank_length(rest: &str, before: Option<char>) -> Option<usize> {
    if rest.starts_with("//") {
        return Some(rest.find('\n').unwrap_or(rest.len()));
    }
    if rest.starts_with("/*") {
        return Some(block_comment_length(rest));
    }
    if rest.starts_with('"') {
        return Some(closed_by(rest, '"'));
    }
    let in_a_name = before.is_some_and(|c| c.is_alphanumeric() || c == '_');
    if !in_a_name && (rest.starts_with('r') || rest.starts_with("br")) {
        let hashes = rest.trim_start_matches('b').strip_prefix('r')?;
        let fence = hashes.len() - hashes.trim_start_matches('#').len();
        let open = rest.find('r')? + 1 + fence;
        let close = format!("\"{}", "#".repeat(fence));
        return rest[open..]
            .starts_with('"')
            .then(|| rest[open + 1..].find(&close).unwrap() + open + 1 + close.len());
    }
    // A character, not a lifetime: closed after one character or after an escape.
    let mut characters = rest.strip_prefix('\'')?.chars();
    let escape = characters.next()? == '\\';
    (escape || characters.next()? == '\'').then(|| closed_by(rest, '\''))
}

fn block_comment_length(rest: &str) -> usize {
    let (mut depth, mut at) = (0_usize, 0);
    loop {
        if rest[at..].starts_with("/*") {
            (depth, at) = (depth + 1, at + 2);
        } else if rest[at..].starts_with("*/") {
            (depth, at) = (depth - 1, at + 2);
        } else {
            at += rest[at..].chars().next().map_or(1, char::len_utf8);
        }
        if depth == 0 || at >= rest.len() {
            return at.min(rest.len());
        }
    }
}

/// Up to and with the next of this mark that no backslash stands before.
fn closed_by(rest: &str, mark: char) -> usize {
    let mut escaped = false;
    for (at, c) in rest.char_indices().skip(1) {
        if c == mark && !escaped {
            return at + c.len_utf8();
        }
        escaped = c == '\\' && !escaped;
    }
    rest.len()
}

const TEST_ONLY: &str = "#[cfg(test)]";

/// The code with every item that is for tests only blanked out.
fn without_tests(code: &str) -> String {
    let mut out = code.to_owned();
    while let Some(start) = out.find(TEST_ONLY) {
        let end = start + item_length(&out[start..]);
        let blank: String = out[start..end].chars().map(|c| if c == '\n' { '\n' } else { ' ' }).collect();
        out.replace_range(start..end, &blank);
    }
    out
}

/// Length of the item that begins here: to its semicolon, or to the end of its block.
fn item_length(code: &str) -> usize {
    let mut depth = 0_usize;
    for (at, c) in code.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth == 0 && (c == ';' || c == '}') {
            return at + 1;
        }
    }
    code.len()
}

/// Files that a source takes in for tests only.
pub fn test_files(source: &Source) -> Vec<String> {
    let mut found = Vec::new();
    let (folder, file) = source.path.rsplit_once('/').unwrap();
    let stem = file.trim_end_matches(".rs");
    let inner =
        if ["lib", "main", "mod"].contains(&stem) { folder.to_owned() } else { format!("{folder}/{stem}") };
    for item in source.text.split(TEST_ONLY).skip(1).map(|rest| &rest[..item_length(rest)]) {
        if let Some(path) = item.split("#[path = \"").nth(1).and_then(|rest| rest.split('"').next()) {
            found.push(format!("{folder}/{path}"));
        } else if let Some(name) = item.trim().strip_suffix(';').and_then(|item| item.split("mod ").nth(1)) {
            found.extend([format!("{inner}/{name}.rs"), format!("{inner}/{name}/mod.rs")]);
        }
    }
    found
}

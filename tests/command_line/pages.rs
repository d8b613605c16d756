//! A report's page taken apart: its pieces of text with the places that they name, and all of it as plain text.
//!
//! Not here: whether what they name is so (`origins`).

/// Text between two tags.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// The text.
    pub text: String,
    /// What the nearest element around it names as its origin; empty for words.
    pub from: String,
    /// Whether a block of text begins before it.
    pub begins: bool,
    /// Whether it begins a cell that is not the first of its row.
    pub in_next_cell: bool,
}

/// Elements without an end.
const EMPTY: [&str; 4] = ["meta", "input", "br", "link"];
/// Elements whose content is no text of the page: a chart's words are looked at by the tests of charts.
const SKIPPED: [&str; 3] = ["style", "script", "svg"];
const BLOCKS: [&str; 14] = [
    "p",
    "tr",
    "h1",
    "h2",
    "h3",
    "li",
    "figcaption",
    "dt",
    "div",
    "section",
    "footer",
    "nav",
    "label",
    "option",
];

/// Every piece of text that a reader sees, in order. The page is our own: tags are lower case, attributes in double quotes.
pub fn pieces(html: &str) -> Vec<Piece> {
    let mut found = Vec::new();
    let mut around: Vec<(String, String)> = Vec::new();
    let (mut begins, mut in_next_cell) = (false, false);
    let mut rest = html;
    while let Some((text, behind)) = rest.split_once('<') {
        if !text.trim_matches('\n').is_empty() {
            let from = around.iter().rev().map(|(_, from)| from).find(|from| !from.is_empty());
            let from = from.cloned().unwrap_or_default();
            found.push(Piece { text: plain(text), from, begins, in_next_cell });
            (begins, in_next_cell) = (false, false);
        }
        let (tag, behind) = behind.split_once('>').expect("a tag ends");
        rest = behind;
        if tag.starts_with('!') {
            continue;
        }
        let name = tag.trim_start_matches('/').split([' ', '\n']).next().unwrap_or_default();
        begins |= BLOCKS.contains(&name);
        in_next_cell = !begins && (in_next_cell || (!tag.starts_with('/') && (name == "td" || name == "th")));
        if tag.starts_with('/') {
            let (last, _) = around.pop().expect("an element was begun");
            assert_eq!(last, name, "elements end in the order in which they began");
        } else if SKIPPED.contains(&name) {
            let (_, behind) = rest.split_once(&format!("</{name}>")).expect("it ends");
            rest = behind;
        } else if !EMPTY.contains(&name) {
            let from = tag.split_once("data-from=\"").and_then(|(_, rest)| rest.split_once('"'));
            around.push((name.to_owned(), from.map_or(String::new(), |(from, _)| plain(from))));
        }
    }
    assert!(around.is_empty(), "{around:?} has no end");
    found
}

fn plain(text: &str) -> String {
    let signs =
        [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#x27;", "'"), ("&#x2f;", "/"), ("&amp;", "&")];
    signs.iter().fold(text.to_owned(), |text, (code, sign)| text.replace(code, sign))
}

/// All of it as text: a line for each block, cells apart by a bar.
pub fn as_text(html: &str) -> String {
    let mut text = String::new();
    for piece in pieces(html) {
        if piece.begins && !text.is_empty() {
            text.push('\n');
        } else if piece.in_next_cell {
            text.push_str(" | ");
        }
        text.push_str(piece.text.trim_matches('\n'));
    }
    text.push('\n');
    text
}

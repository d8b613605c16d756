//! Bytes to lines, lines to cells. What is not here: what the cells mean. Read next: `table.rs`.

use crate::error::WeatherError;
use crate::findings::{Finding, FindingKind, Severity};
use std::borrow::Cow;

/// The text of a file and what was met in decoding it.
pub(crate) struct Decoded<'a> {
    pub text: Cow<'a, str>,
    pub findings: Vec<Finding>,
}

/// Takes off a byte-order mark and reads text that is not UTF-8 as Latin-1, with a finding for either.
pub(crate) fn decode(bytes: &[u8]) -> Result<Decoded<'_>, WeatherError> {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(WeatherError::Utf16);
    }
    let mut findings = Vec::new();
    let body = bytes.strip_prefix(&[0xef, 0xbb, 0xbf]);
    if body.is_some() {
        let sentence = "The file begins with a byte-order mark, which was passed over.".to_owned();
        findings.push(Finding::whole_file(FindingKind::ByteOrderMark, Severity::Note, sentence));
    }
    let body = body.unwrap_or(bytes);
    let text = std::str::from_utf8(body).map_or_else(
        |_| {
            let sentence = "The file is not UTF-8; its names were read as Latin-1.".to_owned();
            findings.push(Finding::whole_file(FindingKind::NotUtf8, Severity::Note, sentence));
            Cow::Owned(body.iter().map(|&b| char::from(b)).collect())
        },
        Cow::Borrowed,
    );
    if text.trim().is_empty() { Err(WeatherError::Empty) } else { Ok(Decoded { text, findings }) }
}

/// The lines with their numbers from 1, without line ends; a lone carriage return ends a line where no line feed does.
pub(crate) fn numbered_lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let end = if text.contains('\n') { '\n' } else { '\r' };
    text.split(end).map(|line| line.trim_end_matches('\r')).enumerate().map(|(i, line)| (i + 1, line))
}

/// The cells of a data row: no quoting, spaces taken off.
pub(crate) fn cells(line: &str) -> Vec<&str> {
    line.split(',').map(tidy).collect()
}

/// A cell without the spaces and quotes around it. Nearly every one has none.
fn tidy(cell: &str) -> &str {
    let is_plain = |end: Option<&u8>| end.is_some_and(|byte| byte.is_ascii_graphic() && *byte != b'"');
    let bytes = cell.as_bytes();
    if is_plain(bytes.first()) && is_plain(bytes.last()) {
        cell
    } else {
        cell.trim().trim_matches('"').trim()
    }
}

/// The cells of a heading line, in which a quoted name may hold commas.
pub(crate) fn heading_cells(line: &str) -> Vec<String> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .trim(csv::Trim::All)
        .flexible(true)
        .from_reader(line.as_bytes());
    let record = reader.records().next().and_then(Result::ok).unwrap_or_default();
    record.iter().map(str::to_owned).collect()
}

/// A short excerpt that is safe to print: control characters become `·`.
pub(crate) fn printable(text: &str, at_most: usize) -> String {
    let mut shown: String =
        text.chars().take(at_most).map(|c| if c.is_control() { '·' } else { c }).collect();
    if text.chars().nth(at_most).is_some() {
        shown.push('…');
    }
    shown
}

/// A number as tables write it; `None` for anything else, and for infinities.
pub(crate) fn number(text: &str) -> Option<f64> {
    let looks_numeric = text.bytes().all(|b| b.is_ascii_digit() || b"+-.eE".contains(&b));
    text.parse::<f64>().ok().filter(|x| looks_numeric && x.is_finite())
}

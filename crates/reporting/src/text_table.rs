//! Columns of plain text for the terminal, at most 80 characters wide unless more is asked for.
//!
//! Not here: the table of a year (`terminal`).

/// Most characters in a line.
pub(crate) const WIDTH: usize = 80;
/// What stands where there is no figure.
pub(crate) const NO_FIGURE: &str = "–";
/// The first column is never cut shorter than this.
const LEAST_NAME: usize = 12;
const GAP: &str = "  ";

/// Side on which a column is flush.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Aligned {
    Left,
    Right,
}

/// Rows as lines, a rule after the heads; columns that are not named are flush right. A row of one cell runs across. The
/// first column gives way when the rest is wide.
pub(crate) fn lines(rows: &[Vec<String>], aligned: &[Aligned], heads: usize) -> String {
    lines_within(rows, aligned, heads, (WIDTH, GAP))
}

/// As [`lines`], in as many characters as are given, with this between columns.
pub(crate) fn lines_within(
    rows: &[Vec<String>],
    aligned: &[Aligned],
    heads: usize,
    (most, gap): (usize, &str),
) -> String {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let columned = || rows.iter().filter(|row| row.len() > 1);
    let width = |column: usize| columned().filter_map(|row| row.get(column)).map(|cell| length(cell)).max();
    let mut widths: Vec<usize> = (0..columns).map(|column| width(column).unwrap_or(0)).collect();
    let total = widths.iter().sum::<usize>() + gap.len() * columns.saturating_sub(1);
    if let Some(first) = widths.first_mut() {
        *first = (*first).min(first.saturating_sub(total.saturating_sub(most)).max(LEAST_NAME));
    }
    let mut text = String::new();
    for (number, row) in rows.iter().enumerate() {
        if let [across] = row.as_slice() {
            text.push_str(&cut(across, most));
            text.push('\n');
            continue;
        }
        let cells = row.iter().zip(&widths).enumerate().map(|(column, (cell, width))| {
            padded(&cut(cell, *width), *width, aligned.get(column).copied().unwrap_or(Aligned::Right))
        });
        text.push_str(cells.collect::<Vec<_>>().join(gap).trim_end());
        text.push('\n');
        if number + 1 == heads {
            let whole = widths.iter().sum::<usize>() + gap.len() * columns.saturating_sub(1);
            text.push_str(&"─".repeat(whole));
            text.push('\n');
        }
    }
    text
}

/// A sentence in lines of at most 80 characters, further lines indented.
pub(crate) fn wrapped(sentence: &str) -> String {
    let (mut text, mut used) = (String::new(), 0);
    for word in sentence.split_whitespace() {
        let word = cut(word, WIDTH - GAP.len());
        if used > 0 && used + 1 + length(&word) > WIDTH {
            text.push('\n');
            text.push_str(GAP);
            used = GAP.len();
        } else if used > 0 {
            text.push(' ');
            used += 1;
        }
        used += length(&word);
        text.push_str(&word);
    }
    text.push('\n');
    text
}

/// A number with these decimals; no minus before a zero, a dash for what is no number.
pub(crate) fn number(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return NO_FIGURE.to_owned();
    }
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        _ => text,
    }
}

/// As [`number`], with a dash where there is none.
pub(crate) fn perhaps(value: Option<f64>, decimals: usize) -> String {
    value.map_or(NO_FIGURE.to_owned(), |value| number(value, decimals))
}

/// How much a figure is above another, with its sign: the difference of the two as they are printed.
pub(crate) fn change(value: f64, base: f64, decimals: usize) -> String {
    let printed = |value: f64| format!("{value:.decimals$}").parse::<f64>().unwrap_or(f64::NAN);
    let difference = printed(value) - printed(base);
    let text = number(difference, decimals);
    let is_more = difference > 0.0 && text.chars().any(|c| ('1'..='9').contains(&c));
    if is_more { format!("+{text}") } else { text }
}

/// Text without line breaks and control characters, no longer than a width; an ellipsis where it was cut.
pub(crate) fn cut(text: &str, width: usize) -> String {
    let plain: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    if length(&plain) <= width {
        return plain;
    }
    let start: String = plain.chars().take(width.saturating_sub(1)).collect();
    format!("{}…", start.trim_end())
}

fn padded(cell: &str, width: usize, aligned: Aligned) -> String {
    let space = " ".repeat(width.saturating_sub(length(cell)));
    match aligned {
        Aligned::Left => format!("{cell}{space}"),
        Aligned::Right => format!("{space}{cell}"),
    }
}

fn length(text: &str) -> usize {
    text.chars().count()
}

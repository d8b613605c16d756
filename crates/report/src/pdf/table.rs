//! Tables: columns as wide as they need, rows never cut, the head once more on every page.
//!
//! Not here: pages (`flow`).

use super::flow::{Flow, Ink, Item, SIDE_PT};
use super::text::{LEADING, Weight};
use crate::model::{Line, Table, TableRow};

/// Type size of a table \[pt\].
const CELL_PT: f32 = 7.0;
/// Between two columns \[pt\].
const BETWEEN_PT: f32 = 7.0;
/// A table no higher than this is not parted \[pt\].
const KEPT_WHOLE_PT: f32 = 260.0;
const REGULAR: (f32, Weight) = (CELL_PT, Weight::Regular);
const BOLD: (f32, Weight) = (CELL_PT, Weight::Bold);

/// Caption and gap before a table's head \[pt\].
const CAPTION_PT: f32 = 40.0;

/// Height that has to be free where a table begins \[pt\].
pub(super) fn beginning(flow: &Flow<'_>, table: &Table) -> f32 {
    let widths = widths(flow, table);
    let head = cells_height(flow, &table.heads, (&widths, BOLD));
    let heights = table.rows.iter().map(|row| cells_height(flow, &texts(row), (&widths, REGULAR)) + 1.5);
    let heights: Vec<f32> = heights.collect();
    let (all, first): (f32, f32) = (heights.iter().sum(), heights.iter().take(3).sum());
    CAPTION_PT + head + if all <= KEPT_WHOLE_PT { all } else { first }
}

pub(super) fn lay(flow: &mut Flow<'_>, table: &Table, continued: &str) {
    let widths = widths(flow, table);
    flow.room_for(beginning(flow, table));
    flow.gap(6.0);
    flow.paragraph(&table.caption.plain(), (CELL_PT + 1.5, Weight::Bold), 0.0);
    header(flow, table, &widths);
    for row in &table.rows {
        let cells = texts(row);
        if !flow.fits(cells_height(flow, &cells, (&widths, REGULAR))) {
            flow.break_page();
            flow.quiet(&format!("{} ({continued})", table.caption.plain()));
            header(flow, table, &widths);
        }
        line(flow, &cells, (&widths, REGULAR, table.word_columns));
        under(flow, (0.4, Ink::Line));
    }
    flow.gap(8.0);
}

fn texts(row: &TableRow) -> Vec<String> {
    row.cells.iter().map(Line::plain).collect()
}

fn header(flow: &mut Flow<'_>, table: &Table, widths: &[f32]) {
    line(flow, &table.heads, (widths, BOLD, table.word_columns));
    under(flow, (0.9, Ink::Text));
}

fn under(flow: &mut Flow<'_>, (height, ink): (f32, Ink)) {
    let at = (SIDE_PT, flow.y());
    flow.put(Item::Box { at, size: (Flow::width(), height), ink });
    flow.gap(1.5);
}

/// Every column gets its longest word; what is left goes to those that would like more, in proportion.
fn widths(flow: &Flow<'_>, table: &Table) -> Vec<f32> {
    let fonts = flow.fonts;
    let columns = table.heads.len();
    let mut least = vec![8.0f32; columns];
    let mut liked = vec![8.0f32; columns];
    let heads = table.heads.iter().enumerate().map(|(at, text)| (at, text.clone(), BOLD));
    let cells = table
        .rows
        .iter()
        .flat_map(|row| row.cells.iter().enumerate().map(|(at, cell)| (at, cell.plain(), REGULAR)));
    for (at, text, look) in heads.chain(cells).filter(|(at, _, _)| *at < columns) {
        let text = fonts.printable(&text);
        let word = text.split(' ').map(|word| fonts.width(word, look)).fold(0.0f32, f32::max);
        least[at] = least[at].max(word.min(120.0));
        liked[at] = liked[at].max(fonts.width(&text, look));
    }
    let room = Flow::width() - BETWEEN_PT * columns.saturating_sub(1) as f32;
    let (need, like): (f32, f32) = (least.iter().sum(), liked.iter().sum());
    if like <= room {
        let spare = (room - like) / columns.max(1) as f32;
        return liked.iter().map(|width| width + spare).collect();
    }
    if need >= room {
        return least.iter().map(|width| width * room / need).collect();
    }
    let share = (room - need) / (like - need);
    least.iter().zip(&liked).map(|(least, liked)| least + (liked - least) * share).collect()
}

fn cells_height(flow: &Flow<'_>, cells: &[String], (widths, look): (&[f32], (f32, Weight))) -> f32 {
    let lines =
        cells.iter().zip(widths).map(|(text, width)| flow.fonts.lines(text, look, *width + 0.1).len());
    lines.max().unwrap_or(1) as f32 * look.0 * LEADING + 3.5
}

fn line(flow: &mut Flow<'_>, cells: &[String], (widths, look, word_columns): (&[f32], (f32, Weight), usize)) {
    let (size, weight) = look;
    let height = cells_height(flow, cells, (widths, look));
    let ink = if weight == Weight::Bold { Ink::Quiet } else { Ink::Text };
    let mut left = SIDE_PT;
    for (at, (text, width)) in cells.iter().zip(widths).enumerate() {
        for (place, line) in flow.fonts.lines(text, look, *width + 0.1).into_iter().enumerate() {
            let own = flow.fonts.width(&line, look);
            let x = if at < word_columns { left } else { left + width - own };
            let y = flow.y() + 1.0 + size + place as f32 * size * LEADING;
            flow.put(Item::Text { at: (x, y), size, weight, ink, text: line });
        }
        left += width + BETWEEN_PT;
    }
    flow.gap(height);
}

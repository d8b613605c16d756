//! Distance of the fast solution of a core from the reference: a row for each core, a panel for each quantity.
//!
//! Not here: the figures and their table (`crate::accuracy`).

use super::canvas::{Canvas, Entry, Hang, Point, Rect, Sample, Stroke, Type, picture};
use super::panel::{Scale, count};
use super::plot::Plot;
use super::ports::{circle, disc};
use super::style::{FAINT, INK, PICTURE_WIDTH, QUIET, TEXT_SIZE, TICK_SIZE, palette};
use crate::ReportError;
use crate::accuracy::{Accuracy, AccuracySet, BOUNDS, SHOWN, bounds_words};
use crate::text_table::cut;

const HEAD: f64 = 92.0;
const NAME_LINE: f64 = 24.0;
const ROW: f64 = 38.0;
const NUMBERS: f64 = 30.0;
const LEFT: f64 = 20.0;
const NAMES: f64 = 190.0;
const PANEL_GAP: f64 = 26.0;
const RIGHT: f64 = 28.0;
/// Distance of the two lanes from the middle of a row.
const LANE: f64 = 7.0;
const MARK: f64 = 4.5;
/// Room for half a mark at either end of an axis.
const INSET: f64 = 7.0;
/// No name is longer, in letters, whatever its width.
const LONGEST_NAME: usize = 60;

const INSIDE: Stroke = Stroke { colour: palette::BLUE, width: 2.0, dash: None };
const OUTSIDE: Stroke = Stroke { colour: palette::VERMILLION, width: 1.2, dash: None };
const BOUND: Stroke = Stroke { colour: INK, width: 1.2, dash: Some((5, 3)) };

/// Draws the page.
pub fn draw(sets: &[AccuracySet]) -> Result<String, ReportError> {
    if sets.is_empty() {
        return Err(ReportError::NothingMeasured);
    }
    sets.iter().try_for_each(AccuracySet::check)?;
    let rows = count(sets.len()) * ROW;
    picture(HEAD + NAME_LINE + rows + NUMBERS, |canvas| {
        canvas.head("How far the fast solution of a core is from the reference", "", &legend())?;
        let top = HEAD + NAME_LINE;
        names(canvas, sets, top)?;
        let left = LEFT + NAMES;
        let each = (f64::from(PICTURE_WIDTH) - RIGHT - left + PANEL_GAP) / count(SHOWN.len());
        for quantity in 0..SHOWN.len() {
            let from = left + each * count(quantity);
            let frame = Rect { from: (from, top), to: (from + each - PANEL_GAP, top + rows) };
            panel(canvas, sets, quantity, frame)?;
        }
        Ok(())
    })
}

fn legend() -> Vec<Entry> {
    let entry = |sample, words: &str| Entry { sample, words: words.to_owned() };
    vec![
        entry(Sample::Line(INSIDE), "inside the plausible states (disc)"),
        entry(Sample::Line(OUTSIDE), "outside them (ring)"),
        entry(Sample::Line(BOUND), &format!("bound inside: {}", bounds_words())),
        entry(Sample::None, "mark: largest distance; the line begins at the rms distance (tick)"),
    ]
}

fn names(canvas: &Canvas<'_>, sets: &[AccuracySet], top: f64) -> Result<(), ReportError> {
    let look = Type::plain(TEXT_SIZE, INK);
    for (row, set) in sets.iter().enumerate() {
        let mut words = cut(&set.core, LONGEST_NAME);
        while canvas.text_width(&words, look)? > NAMES - 12.0 {
            words = cut(&words, words.chars().count() - 1);
        }
        canvas.text(&words, (LEFT, top + ROW * (count(row) + 0.5)), Hang::Left, look)?;
    }
    Ok(())
}

fn panel(canvas: &Canvas<'_>, sets: &[AccuracySet], quantity: usize, frame: Rect) -> Result<(), ReportError> {
    let shown = &SHOWN[quantity];
    let bound = BOUNDS.each()[quantity] * shown.factor;
    let parts = sets.iter().flat_map(AccuracySet::parts).map(|(_, part)| largest(&part, quantity));
    let across = Scale::around(0.0, parts.fold(bound * 1.2, f64::max), 3.0);
    let up = Scale { least: 0.0, greatest: count(sets.len()), step: 1.0 };
    let (from, to) = ((frame.from.0 + INSET, frame.from.1), (frame.to.0 - INSET, frame.to.1));
    let plot = Plot { frame: Rect { from, to }, across, up };
    grid(canvas, &plot, sets.len())?;
    let name = format!("{} [{}]", shown.name, shown.unit);
    let look = Type::plain(TEXT_SIZE, QUIET);
    let shrink = ((frame.to.0 - frame.from.0) / canvas.text_width(&name, look)?).min(1.0);
    let at = (frame.from.0, frame.from.1 - 11.0);
    canvas.text(&name, at, Hang::Left, Type { size: TEXT_SIZE * shrink, ..look })?;
    let x = plot.x(bound);
    canvas.line(&[(x, frame.from.1), (x, frame.to.1)], BOUND)?;
    for (row, set) in sets.iter().enumerate() {
        let middle = frame.from.1 + ROW * (count(row) + 0.5);
        for (part, accuracy) in set.parts() {
            let y = if part == "inside" { middle - LANE } else { middle + LANE };
            mark(canvas, part, plot.x(rms(&accuracy, quantity)), (plot.x(largest(&accuracy, quantity)), y))?;
        }
    }
    Plot { frame, ..plot }.outline(canvas)
}

fn grid(canvas: &Canvas<'_>, plot: &Plot, rows: usize) -> Result<(), ReportError> {
    let thin = Stroke { colour: FAINT, width: 0.75, dash: None };
    let (top, bottom) = (plot.frame.from.1, plot.frame.to.1);
    let (left, right) = (plot.frame.from.0 - INSET, plot.frame.to.0 + INSET);
    for tick in plot.across.ticks() {
        let x = plot.x(tick);
        canvas.line(&[(x, top), (x, bottom)], thin)?;
        let words = plot.across.label(tick);
        canvas.text(&words, (x, bottom + 13.0), Hang::Centre, Type::plain(TICK_SIZE, QUIET))?;
    }
    for row in 1..rows {
        let y = top + ROW * count(row);
        canvas.line(&[(left, y), (right, y)], thin)?;
    }
    Ok(())
}

/// The line from the rms distance to the largest, a tick at the one and a disc or ring at the other.
fn mark(canvas: &Canvas<'_>, part: &str, rms_x: f64, at: Point) -> Result<(), ReportError> {
    let stroke = if part == "inside" { INSIDE } else { OUTSIDE };
    canvas.line(&[(rms_x, at.1), at], stroke)?;
    canvas.line(&[(rms_x, at.1 - MARK), (rms_x, at.1 + MARK)], stroke)?;
    if part == "inside" {
        return disc(canvas, at, MARK, stroke.colour);
    }
    disc(canvas, at, MARK, plotters::style::WHITE)?;
    canvas.line(&circle(at, MARK), stroke)
}

fn largest(accuracy: &Accuracy, quantity: usize) -> f64 {
    accuracy.of.each()[quantity].largest * SHOWN[quantity].factor
}

fn rms(accuracy: &Accuracy, quantity: usize) -> f64 {
    accuracy.of.each()[quantity].rms * SHOWN[quantity].factor
}

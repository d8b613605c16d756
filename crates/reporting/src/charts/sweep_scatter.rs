//! A figure of a sweep over each input, in small panels: three beside each other, a block for each unit.

use super::canvas::{Canvas, Hang, MARGIN, Point, Rect, Stroke, Type, page};
use super::panel::{Scale, count};
use super::plot::Plot;
use super::style::{FAINT, INK, PICTURE_WIDTH, QUIET, TEXT_SIZE, TICK_SIZE, unit_look};
use super::sweep::{ScatterInput, SweepScatter, ends, fitted};
use crate::ReportError;

const ACROSS: usize = 3;
const NOTE: f64 = 14.0;
const HEADING: f64 = 26.0;
const FIGURE: f64 = 18.0;
/// Room for the numbers beside a panel.
const NUMBERS: f64 = 54.0;
const GAP: f64 = 16.0;
const PANEL: f64 = 150.0;
const AXIS: f64 = 48.0;
/// A dot, to each side.
const DOT: f64 = 1.6;
const DARK: f64 = 0.55;
/// Room at both ends, as a share of the extent, so that no dot lies on the frame.
const BESIDE: f64 = 0.02;
/// Dots of one word are strewn over this share of its place.
const STREWN: f64 = 0.6;
/// Steps that never fall together: the golden section.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

pub fn draw(chart: &SweepScatter) -> Result<String, ReportError> {
    if chart.inputs.is_empty() || chart.units.iter().all(|unit| unit.values.iter().all(Option::is_none)) {
        return Err(ReportError::NothingToDraw { chart: "sweep, a figure over each input" });
    }
    let rows = chart.inputs.len().div_ceil(ACROSS);
    let of_unit = HEADING + count(rows) * (FIGURE + PANEL + AXIS);
    let below = NOTE + of_unit * count(chart.units.len());
    page((&chart.title, &chart.study), &[], below, |canvas, top| {
        let room = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN;
        let (note, look) = fitted(canvas, &chart.note, Type::plain(TICK_SIZE, QUIET), room)?;
        // Where the legend of other charts stands.
        canvas.text(&note, (MARGIN, top - NOTE), Hang::Left, look)?;
        for (place, unit) in chart.units.iter().enumerate() {
            let top = top + NOTE + of_unit * count(place);
            let [least, greatest] = ends(unit.values.iter().flatten().copied()).unwrap_or([0.0, 1.0]);
            let beside = BESIDE * (greatest - least);
            let up = Scale::around(least - beside, greatest + beside, 5.0);
            let (name, look) = fitted(canvas, &unit.name, Type::bold(TEXT_SIZE, INK), room)?;
            canvas.text(&name, (MARGIN, top), Hang::Left, look)?;
            for (at, input) in chart.inputs.iter().enumerate() {
                let width = (room + GAP) / count(ACROSS);
                let left = MARGIN + width * count(at % ACROSS);
                let top = top + HEADING + FIGURE / 2.0 + count(at / ACROSS) * (FIGURE + PANEL + AXIS);
                let frame = Rect { from: (left + NUMBERS, top), to: (left + width - GAP, top + PANEL) };
                let points = input.values.iter().zip(&unit.values);
                let points = points.filter_map(|(x, y)| Some((*x, (*y)?))).collect::<Vec<Point>>();
                panel(canvas, (frame, up), (input, &chart.figure), (&points, place))?;
            }
        }
        Ok(())
    })
}

fn panel(
    canvas: &Canvas<'_>,
    (frame, up): (Rect, Scale),
    (input, figure): (&ScatterInput, &str),
    (points, unit): (&[Point], usize),
) -> Result<(), ReportError> {
    let across = if input.words.is_empty() {
        let [least, greatest] = ends(input.values.iter().copied()).unwrap_or([0.0, 1.0]);
        let beside = BESIDE * (greatest - least);
        Scale::around(least - beside, greatest + beside, 5.0)
    } else {
        Scale { least: -0.5, greatest: count(input.words.len()) - 0.5, step: count(input.words.len()) }
    };
    let plot = Plot { frame, across, up };
    let ((left, top), (right, bottom)) = (frame.from, frame.to);
    let room = right - left;
    let (grid, number) = (Stroke { colour: FAINT, width: 0.75, dash: None }, Type::plain(TICK_SIZE, QUIET));
    for tick in up.ticks() {
        let y = plot.y(tick);
        canvas.line(&[(left, y), (right, y)], grid)?;
        canvas.text(&up.label(tick), (left - 8.0, y), Hang::Right, number)?;
    }
    if input.words.is_empty() {
        for tick in across.ticks() {
            let x = plot.x(tick);
            canvas.line(&[(x, top), (x, bottom)], grid)?;
            canvas.text(&across.label(tick), (x, bottom + 13.0), Hang::Centre, number)?;
        }
    }
    for (place, word) in input.words.iter().enumerate() {
        let slot = room / count(input.words.len()) - 4.0;
        let (word, look) = fitted(canvas, word, number, slot)?;
        canvas.text(&word, (plot.x(count(place)), bottom + 13.0), Hang::Centre, look)?;
    }
    let name = Type::plain(TEXT_SIZE, QUIET);
    let (words, look) = fitted(canvas, &input.name, name, room + NUMBERS)?;
    let middle = f64::midpoint(left - NUMBERS, right);
    canvas.text(&words, (middle, bottom + 30.0), Hang::Centre, look)?;
    let (words, look) = fitted(canvas, figure, Type::plain(TICK_SIZE, QUIET), room + NUMBERS)?;
    canvas.text(&words, (left - NUMBERS, top - FIGURE / 2.0 - 3.0), Hang::Left, look)?;
    let colour = unit_look(unit).colour;
    for (place, (x, y)) in points.iter().enumerate() {
        let strewn =
            if input.words.is_empty() { 0.0 } else { ((count(place) * GOLDEN).fract() - 0.5) * STREWN };
        let (x, y) = plot.at(x + strewn, *y);
        canvas.rect(Rect { from: (x - DOT, y - DOT), to: (x + DOT, y + DOT) }, (colour, DARK))?;
    }
    plot.outline(canvas)
}

//! How figures of a sweep spread: shares of the runs in classes, with P10, P50 and P90, a panel for each figure and unit.

use super::canvas::{Canvas, Hang, MARGIN, Rect, Stroke, Type, page};
use super::panel::{Scale, count};
use super::plot::Plot;
use super::style::{Dash, FAINT, INK, PICTURE_WIDTH, QUIET, TEXT_SIZE, TICK_SIZE, unit_look};
use super::sweep::{SpreadFigure, SpreadUnit, SweepSpread, ends, fitted, shown};
use crate::ReportError;

const HEADING: f64 = 24.0;
/// Two rows of marks above a panel.
const MARKS: f64 = 34.0;
const PANEL: f64 = 96.0;
const NUMBERS: f64 = 20.0;
const AXIS: f64 = 40.0;
/// Room at both sides, so that the outer marks have place.
const SIDE: f64 = 100.0;
/// Between an outer mark's line and its words.
const ASIDE: f64 = 3.0;
const CLASSES: f64 = 30.0;
const PERCENT: f64 = 100.0;
const DASHES: [Dash; 3] = [Some((6, 3)), None, Some((2, 2))];

pub fn draw(chart: &SweepSpread) -> Result<String, ReportError> {
    if chart.figures.iter().all(|figure| figure.units.is_empty()) {
        return Err(ReportError::NothingToDraw { chart: "sweep, spread of figures" });
    }
    let below = chart.figures.iter().map(height).sum::<f64>();
    page((&chart.title, &chart.study), &[], below, |canvas, top| {
        let note = "of all runs: a tenth lies below P10, half below P50, a tenth above P90";
        canvas.text(note, (MARGIN, top - 14.0), Hang::Left, Type::plain(TICK_SIZE, QUIET))?;
        let mut top = top;
        for figure in chart.figures.iter().filter(|figure| !figure.units.is_empty()) {
            draw_figure(canvas, figure, top)?;
            top += height(figure);
        }
        Ok(())
    })
}

fn height(figure: &SpreadFigure) -> f64 {
    if figure.units.is_empty() { 0.0 } else { of_unit() * count(figure.units.len()) + AXIS }
}

fn of_unit() -> f64 {
    HEADING + MARKS + PANEL + NUMBERS
}

/// All units of a figure on one scale, in classes of one width.
fn draw_figure(canvas: &Canvas<'_>, figure: &SpreadFigure, top: f64) -> Result<(), ReportError> {
    let values = || figure.units.iter().flat_map(|unit| unit.values.iter().copied());
    let [least, greatest] = ends(values()).unwrap_or([0.0, 1.0]);
    let classes = Scale::around(least, greatest, CLASSES);
    let ticks = Scale::around(least, greatest, 8.0);
    let across = Scale { least: classes.least, greatest: classes.greatest, step: ticks.step };
    let shares: Vec<Vec<f64>> = figure.units.iter().map(|unit| shares(unit, classes)).collect();
    let highest = shares.iter().flatten().copied().fold(0.0, f64::max);
    let up = Scale::around(0.0, highest.max(1e-9), 3.0);
    for (place, (unit, shares)) in figure.units.iter().zip(&shares).enumerate() {
        let top = top + of_unit() * count(place) + HEADING + MARKS;
        let frame = Rect { from: (SIDE, top), to: (f64::from(PICTURE_WIDTH) - SIDE, top + PANEL) };
        draw_unit(canvas, Plot { frame, across, up }, (unit, shares, classes.step), ticks)?;
    }
    let bottom = top + of_unit() * count(figure.units.len());
    let middle = f64::from(PICTURE_WIDTH) / 2.0;
    canvas.text(&figure.name, (middle, bottom + 10.0), Hang::Centre, Type::plain(TEXT_SIZE, QUIET))
}

fn draw_unit(
    canvas: &Canvas<'_>,
    plot: Plot,
    (unit, shares, width): (&SpreadUnit, &[f64], f64),
    ticks: Scale,
) -> Result<(), ReportError> {
    let ((left, top), (right, bottom)) = (plot.frame.from, plot.frame.to);
    let heading = format!("{} ({} runs)", unit.name, unit.values.len());
    let page = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN;
    let (heading, look) = fitted(canvas, &heading, Type::bold(TEXT_SIZE, INK), page - 200.0)?;
    let above = top - MARKS - HEADING / 2.0;
    canvas.text(&heading, (MARGIN, above), Hang::Left, look)?;
    canvas.text("share of runs [%]", (page + MARGIN, above), Hang::Right, Type::plain(TICK_SIZE, QUIET))?;
    let (grid, number) = (Stroke { colour: FAINT, width: 0.75, dash: None }, Type::plain(TICK_SIZE, QUIET));
    for tick in plot.up.ticks() {
        let y = plot.y(tick);
        canvas.line(&[(left, y), (right, y)], grid)?;
        canvas.text(&plot.up.label(tick), (left - 8.0, y), Hang::Right, number)?;
    }
    let inside = |tick: &f64| (plot.across.least..=plot.across.greatest).contains(tick);
    for tick in ticks.ticks().into_iter().filter(inside) {
        let x = plot.x(tick);
        canvas.line(&[(x, top), (x, bottom)], grid)?;
        canvas.text(&ticks.label(tick), (x, bottom + 13.0), Hang::Centre, number)?;
    }
    let colour = unit_look(unit.place).colour;
    for (place, share) in shares.iter().enumerate().filter(|(_, share)| **share > 0.0) {
        let from = plot.across.least + width * count(place);
        let rect = Rect { from: plot.at(from, *share), to: plot.at(from + width, 0.0) };
        canvas.bar(rect, colour, super::style::Fill::Pale)?;
    }
    canvas.line(&[(left, bottom), (right, bottom)], Stroke { colour: INK, width: 1.0, dash: None })?;
    // The middle one stands a row higher, the outer ones hang outward: they meet nowhere.
    let marks = ["P10", "P50", "P90"].into_iter().zip(unit.percentiles).zip(DASHES);
    let places = [(Hang::Right, 1.0, -ASIDE), (Hang::Centre, 0.0, 0.0), (Hang::Left, 1.0, ASIDE)];
    for (((name, value), dash), (hang, row, aside)) in marks.zip(places) {
        let x = plot.x(value);
        let y = top - MARKS + 8.0 + row * 15.0;
        canvas.line(&[(x, y + 7.0), (x, bottom)], Stroke { colour: INK, width: 1.5, dash })?;
        canvas.text(
            &format!("{name} {}", shown(value)),
            (x + aside, y),
            hang,
            Type::plain(TICK_SIZE, INK),
        )?;
    }
    Ok(())
}

/// Shares of the runs in each class, in percent; a value on a border belongs to the class above it, the last class holds its
/// upper end.
fn shares(unit: &SpreadUnit, classes: Scale) -> Vec<f64> {
    let number = classes.ticks().len().saturating_sub(1).max(1);
    let mut counted = vec![0_usize; number];
    for value in &unit.values {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "cut to the classes")]
        let place = ((value - classes.least) / classes.step).floor().max(0.0) as usize;
        counted[place.min(number - 1)] += 1;
    }
    counted.into_iter().map(|runs| PERCENT * count(runs) / count(unit.values.len())).collect()
}

//! Duration curves: for how many hours a quantity is higher than this, a line with its name beside it for each year.
//!
//! Not here: what is sorted (`climate_duration`, `duration`).

use super::canvas::{Canvas, Hang, Point, Rect, Stroke, Type};
use super::climate::extent;
use super::labels::{Labels, around, size_of};
use super::panel::{Scale, count};
use super::plot::{Plot, Side};
use super::style::{INK, QUIET, TEXT_SIZE, TICK_SIZE, UnitLook};
use crate::ReportError;

/// Every so many hours a point of the curve is drawn.
const HOURS_A_POINT: usize = 8;
/// Every so many of these a label looks whether it covers the curve.
const POINTS_TO_AVOID: usize = 5;
/// Parts of the year between which a name may be tied to its line.
const TIES: usize = 24;
/// Where a name may stand from there, and how far.
const WAYS: [Point; 6] = [(1.0, -1.0), (1.0, 1.0), (-1.0, -1.0), (-1.0, 1.0), (0.0, -1.0), (0.0, 1.0)];
const DISTANCES: [f64; 4] = [6.0, 14.0, 28.0, 48.0];
/// What it costs, in units of distance, to cover a piece of a line and to have another line between a name and its own.
const COVERED: f64 = 30.0;
const ACROSS: f64 = 60.0;
/// Lines that are further apart than this are no better.
const ALONE: f64 = 30.0;
const SAMPLE: f64 = 22.0;
const SAMPLE_GAP: f64 = 5.0;
const DOT: f64 = 2.5;
/// Room beside the words of a level, and how many places are tried for them along it.
const LEVEL_EDGE: f64 = 6.0;
const LEVEL_PLACES: f64 = 12.0;

/// A year of values, in any order.
pub struct Line {
    pub name: String,
    pub look: UnitLook,
    pub values: Vec<f64>,
}

/// A level that matters, with its words.
pub struct Level {
    pub value: f64,
    pub words: String,
}

/// What is drawn into one frame.
pub struct Duration {
    pub across: String,
    pub up: String,
    pub lines: Vec<Line>,
    pub levels: Vec<Level>,
}

impl Duration {
    pub fn draw(&self, canvas: &Canvas<'_>, frame: Rect) -> Result<(), ReportError> {
        let sorted: Vec<Vec<f64>> = self
            .lines
            .iter()
            .map(|line| {
                let mut values = line.values.clone();
                values.sort_by(|a, b| b.total_cmp(a));
                values
            })
            .collect();
        let most = sorted.iter().map(Vec::len).max().unwrap_or(0).max(1);
        let (least, greatest) = extent(sorted.iter().flatten());
        let across = Scale { least: 0.0, greatest: count(most), step: 1000.0 };
        let plot = Plot { frame, across, up: Scale::around(least, greatest, 8.0) };
        plot.axes(canvas, &self.across, (&self.up, Side::Left))?;
        let curves: Vec<Vec<Point>> = sorted.iter().map(|values| curve(&plot, values)).collect();
        let mut labels = Labels::new(frame);
        for points in &curves {
            let few: Vec<Point> =
                points.iter().step_by(POINTS_TO_AVOID).chain(points.last()).copied().collect();
            labels.avoid(&few);
        }
        let levels = self.levels.iter();
        let levels: Vec<&Level> =
            levels.filter(|level| (plot.up.least..=plot.up.greatest).contains(&level.value)).collect();
        for level in &levels {
            let ends = [plot.at(0.0, level.value), plot.at(across.greatest, level.value)];
            canvas.line(&ends, Stroke { colour: QUIET, width: 1.0, dash: Some((3, 3)) })?;
        }
        for (line, points) in self.lines.iter().zip(&curves) {
            canvas.line(points, line.look.into())?;
        }
        plot.outline(canvas)?;
        for (place, line) in self.lines.iter().enumerate() {
            label(canvas, &mut labels, (line, place), &curves)?;
        }
        levels.into_iter().try_for_each(|level| name_level(canvas, &plot, level, &mut labels))
    }
}

/// After `k` hours that are higher comes the value that exactly `k` exceed.
fn curve(plot: &Plot, values: &[f64]) -> Vec<Point> {
    let points = values.iter().enumerate().step_by(HOURS_A_POINT);
    let last = values.last().map(|value| plot.at(count(values.len()), *value));
    points.map(|(hours, value)| plot.at(count(hours), *value)).chain(last).collect()
}

/// The words of a level above or below it where they cover no curve, as far right as can be.
fn name_level(
    canvas: &Canvas<'_>,
    plot: &Plot,
    level: &Level,
    labels: &mut Labels,
) -> Result<(), ReportError> {
    let (y, left, right) = (plot.y(level.value), plot.frame.from.0, plot.frame.to.0);
    let look = Type::plain(TICK_SIZE, QUIET);
    let size = size_of(canvas, &level.words, look)?;
    let step = (right - left - size.0 - 2.0 * LEVEL_EDGE) / LEVEL_PLACES;
    let xs = (0..).map(count).take_while(|place| *place <= LEVEL_PLACES);
    let middles: Vec<Point> = xs
        .map(|place| right - LEVEL_EDGE - size.0 / 2.0 - place * step)
        .flat_map(|x| [(x, y - size.1 / 2.0 - 1.0), (x, y + size.1 / 2.0 + 1.0)])
        .collect();
    match labels.best_of(&middles, size) {
        Some(rect) => super::labels::write(canvas, &level.words, rect, look),
        None => Ok(()),
    }
}

/// A line's name beside it, in the same gap between lines, tied to it where it is not quite near.
fn label(
    canvas: &Canvas<'_>,
    labels: &mut Labels,
    (line, place): (&Line, usize),
    curves: &[Vec<Point>],
) -> Result<(), ReportError> {
    let look = Type::plain(TEXT_SIZE, INK);
    let (width, height) = size_of(canvas, &line.name, look)?;
    let size = (width + SAMPLE + SAMPLE_GAP, height);
    let Some((tie, rect)) =
        tied(labels, size, place, curves).or_else(|| anywhere(labels, size, &curves[place]))
    else {
        return Ok(());
    };
    labels.take(rect);
    let stroke = Stroke::from(line.look);
    canvas.rect(rect, (plotters::style::WHITE, 0.8))?;
    let y = f64::midpoint(rect.from.1, rect.to.1);
    let leader = [nearest(rect, tie), tie];
    labels.avoid(&leader);
    canvas.line(&leader, Stroke { colour: QUIET, width: 0.75, dash: None })?;
    let dot = Rect { from: (tie.0 - DOT, tie.1 - DOT), to: (tie.0 + DOT, tie.1 + DOT) };
    canvas.rect(dot, (stroke.colour, 1.0))?;
    canvas.line(&[(rect.from.0 + 2.0, y), (rect.from.0 + 2.0 + SAMPLE, y)], stroke)?;
    canvas.text(&line.name, (rect.from.0 + 2.0 + SAMPLE + SAMPLE_GAP, y), Hang::Left, look)
}

/// The point of a line to which its name is tied, and the name's place: the cheapest of many.
fn tied(labels: &Labels, size: Point, place: usize, curves: &[Vec<Point>]) -> Option<(Point, Rect)> {
    let own = curves.get(place)?;
    let others = || curves.iter().enumerate().filter(|(other, _)| *other != place).map(|(_, points)| points);
    let mut best: Option<(f64, Point, Rect)> = None;
    for tie in (1..TIES).filter_map(|tie| own.get(own.len() * tie / TIES).copied()) {
        let apart = others().map(|points| (height_at(points, tie.0) - tie.1).abs()).fold(ALONE, f64::min);
        for (toward, distance) in WAYS.iter().flat_map(|way| DISTANCES.map(|distance| (*way, distance))) {
            let middle =
                (tie.0 + toward.0 * (size.0 / 2.0 + distance), tie.1 + toward.1 * (size.1 / 2.0 + distance));
            let Some(covered) = labels.cover(middle, size) else { continue };
            let rect = around(middle, size);
            let end = nearest(rect, tie);
            let is_across = |points: &&Vec<Point>| {
                (height_at(points, tie.0) < tie.1) != (height_at(points, end.0) < end.1)
            };
            let across = count(others().filter(is_across).count());
            let cost = distance + COVERED * covered + ACROSS * across - apart;
            if best.as_ref().is_none_or(|(least, _, _)| cost < *least) {
                best = Some((cost, tie, rect));
            }
        }
    }
    best.map(|(_, tie, rect)| (tie, rect))
}

/// Where the frame is so full that no place near the line is free: tied to the middle of the line all the same.
fn anywhere(labels: &mut Labels, size: Point, own: &[Point]) -> Option<(Point, Rect)> {
    let tie = own.get(own.len() / 2).copied()?;
    labels.near(tie, size).map(|rect| (tie, rect))
}

/// The point of a rectangle that is nearest to another.
fn nearest(rect: Rect, point: Point) -> Point {
    (point.0.clamp(rect.from.0, rect.to.0), point.1.clamp(rect.from.1, rect.to.1))
}

/// Height of a line at a place across.
fn height_at(points: &[Point], x: f64) -> f64 {
    let after = points.partition_point(|point| point.0 < x).min(points.len().saturating_sub(1));
    points.get(after).map_or(f64::INFINITY, |point| point.1)
}

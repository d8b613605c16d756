//! Climates as duration curves: for how many hours of the year it is warmer than this, and for how many the dew point is higher.
//!
//! Each file is a line with its name beside it. Not here: what a dew point below freezing refers to (`weather::summary`).

use weather::summary::dew_points_c;

use super::canvas::{Canvas, Hang, Point, Rect, Stroke, Type, picture};
use super::climate::{ClimateInput, extent};
use super::labels::{Labels, around, size_of};
use super::panel::{Scale, count};
use super::plot::{Plot, Side};
use super::style::{INK, PICTURE_WIDTH, QUIET, TEXT_SIZE, TICK_SIZE, unit_look};
use crate::{ReportError, ShowIn};

const HEAD: f64 = 44.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 24.0;
const AXIS_NAME: f64 = 28.0;
const FRAME: f64 = 270.0;
const NUMBERS: f64 = 44.0;
const GAP: f64 = 10.0;
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
const LONGEST_NAME: usize = 34;
const SAMPLE: f64 = 22.0;
const SAMPLE_GAP: f64 = 5.0;
const DOT: f64 = 2.5;
/// Room beside the words of a level, and how many places are tried for them along it.
const LEVEL_EDGE: f64 = 6.0;
const LEVEL_PLACES: f64 = 12.0;

/// What is sorted.
struct Quantity {
    words: &'static str,
    values: fn(&ClimateInput<'_>) -> Vec<f64>,
    /// A level that matters to a core, with its words.
    level: (f64, &'static str),
}

const QUANTITIES: [Quantity; 2] = [
    Quantity {
        words: "dry bulb",
        values: |climate| climate.year.dry_bulb_c.clone(),
        level: (0.0, "freezing"),
    },
    Quantity {
        words: "dew point",
        values: |climate| dew_points_c(climate.year),
        level: (simulation::climate::DAMP_DEW_POINT_C, "outdoor air dampens the house above"),
    },
];

pub fn draw(climates: &[ClimateInput<'_>], show_in: ShowIn) -> Result<String, ReportError> {
    let of_each = AXIS_NAME + FRAME + NUMBERS + GAP;
    picture(HEAD + count(QUANTITIES.len()) * of_each, |canvas| {
        canvas.head("For how many hours of the year it is warmer, and more humid, than this", "", &[])?;
        for (place, quantity) in QUANTITIES.iter().enumerate() {
            let top = HEAD + count(place) * of_each + AXIS_NAME;
            let frame = Rect { from: (LEFT, top), to: (f64::from(PICTURE_WIDTH) - RIGHT, top + FRAME) };
            draw_quantity(canvas, quantity, (climates, show_in), frame)?;
        }
        Ok(())
    })
}

fn draw_quantity(
    canvas: &Canvas<'_>,
    quantity: &Quantity,
    (climates, show_in): (&[ClimateInput<'_>], ShowIn),
    frame: Rect,
) -> Result<(), ReportError> {
    let sorted: Vec<Vec<f64>> = climates
        .iter()
        .map(|climate| {
            let mut values: Vec<f64> =
                (quantity.values)(climate).into_iter().map(|celsius| show_in.temperature(celsius)).collect();
            values.sort_by(|a, b| b.total_cmp(a));
            values
        })
        .collect();
    let most = sorted.iter().map(Vec::len).max().unwrap_or(0);
    let (least, greatest) = extent(sorted.iter().flatten());
    let across = Scale { least: 0.0, greatest: count(most), step: 1000.0 };
    let plot = Plot { frame, across, up: Scale::around(least, greatest, 8.0) };
    let name = format!("{} [{}]", quantity.words, show_in.temperature_unit());
    plot.axes(canvas, "hours of the year in which it is higher [h]", (&name, Side::Left))?;
    let curves: Vec<Vec<Point>> = sorted.iter().map(|values| curve(&plot, values)).collect();
    let mut labels = Labels::new(frame);
    for points in &curves {
        let few: Vec<Point> = points.iter().step_by(POINTS_TO_AVOID).chain(points.last()).copied().collect();
        labels.avoid(&few);
    }
    let (level_c, level_words) = quantity.level;
    let level = show_in.temperature(level_c);
    let level = Some(level).filter(|level| (plot.up.least..=plot.up.greatest).contains(level));
    if let Some(level) = level {
        let ends = [plot.at(0.0, level), plot.at(across.greatest, level)];
        canvas.line(&ends, Stroke { colour: QUIET, width: 1.0, dash: Some((3, 3)) })?;
    }
    for (place, points) in curves.iter().enumerate() {
        canvas.line(points, unit_look(place).into())?;
    }
    plot.outline(canvas)?;
    for (place, name) in names(climates).iter().enumerate() {
        label(canvas, &mut labels, (name, place), &curves)?;
    }
    match level {
        Some(level) => name_level(canvas, &plot, (level, level_words, show_in), &mut labels),
        None => Ok(()),
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
    (value, words, show_in): (f64, &str, ShowIn),
    labels: &mut Labels,
) -> Result<(), ReportError> {
    let (y, left, right) = (plot.y(value), plot.frame.from.0, plot.frame.to.0);
    let number = format!("{value:.1}");
    let words = format!("{words} {} {}", number.trim_end_matches(".0"), show_in.temperature_unit());
    let look = Type::plain(TICK_SIZE, QUIET);
    let size = size_of(canvas, &words, look)?;
    let step = (right - left - size.0 - 2.0 * LEVEL_EDGE) / LEVEL_PLACES;
    let xs = (0..).map(count).take_while(|place| *place <= LEVEL_PLACES);
    let middles: Vec<Point> = xs
        .map(|place| right - LEVEL_EDGE - size.0 / 2.0 - place * step)
        .flat_map(|x| [(x, y - size.1 / 2.0 - 1.0), (x, y + size.1 / 2.0 + 1.0)])
        .collect();
    match labels.best_of(&middles, size) {
        Some(rect) => super::labels::write(canvas, &words, rect, look),
        None => Ok(()),
    }
}

/// The file's name beside its line, in the same gap between lines, tied to it where it is not quite near.
fn label(
    canvas: &Canvas<'_>,
    labels: &mut Labels,
    (name, place): (&str, usize),
    curves: &[Vec<Point>],
) -> Result<(), ReportError> {
    let look = Type::plain(TEXT_SIZE, INK);
    let (width, height) = size_of(canvas, name, look)?;
    let size = (width + SAMPLE + SAMPLE_GAP, height);
    let Some((tie, rect)) = tied(labels, size, place, curves) else { return Ok(()) };
    labels.take(rect);
    let stroke = Stroke::from(unit_look(place));
    canvas.rect(rect, (plotters::style::WHITE, 0.8))?;
    let y = f64::midpoint(rect.from.1, rect.to.1);
    let leader = [nearest(rect, tie), tie];
    labels.avoid(&leader);
    canvas.line(&leader, Stroke { colour: QUIET, width: 0.75, dash: None })?;
    let dot = Rect { from: (tie.0 - DOT, tie.1 - DOT), to: (tie.0 + DOT, tie.1 + DOT) };
    canvas.rect(dot, (stroke.colour, 1.0))?;
    canvas.line(&[(rect.from.0 + 2.0, y), (rect.from.0 + 2.0 + SAMPLE, y)], stroke)?;
    canvas.text(name, (rect.from.0 + 2.0 + SAMPLE + SAMPLE_GAP, y), Hang::Left, look)
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

/// The point of a rectangle that is nearest to another.
fn nearest(rect: Rect, point: Point) -> Point {
    (point.0.clamp(rect.from.0, rect.to.0), point.1.clamp(rect.from.1, rect.to.1))
}

/// Height of a line at a place across.
fn height_at(points: &[Point], x: f64) -> f64 {
    let after = points.partition_point(|point| point.0 < x).min(points.len().saturating_sub(1));
    points.get(after).map_or(f64::INFINITY, |point| point.1)
}

/// The files' names, short, with the files' numbers where that makes some alike.
fn names(climates: &[ClimateInput<'_>]) -> Vec<String> {
    let names: Vec<String> = climates.iter().map(|climate| short(climate.name)).collect();
    let is_alike = |name: &String| names.iter().filter(|other| *other == name).count() > 1;
    if !names.iter().any(is_alike) {
        return names;
    }
    names.iter().enumerate().map(|(place, name)| format!("{}: {name}", place + 1)).collect()
}

/// A name without its middle where it is long: files often differ at one end or the other.
fn short(name: &str) -> String {
    let letters: Vec<char> = name.chars().collect();
    if letters.len() <= LONGEST_NAME {
        return name.to_owned();
    }
    let half = (LONGEST_NAME - 1) / 2;
    let (start, end) = (&letters[..half], &letters[letters.len() - half..]);
    format!("{}…{}", start.iter().collect::<String>(), end.iter().collect::<String>())
}

//! Climates as duration curves: for how many hours of the year it is warmer than this, and for how many the dew point is higher.
//!
//! Each file is a line with its name beside it. Not here: what a dew point below freezing refers to (`weather::summary`).

use weather::summary::dew_points_c;

use super::canvas::{Canvas, Hang, Point, Rect, Stroke, Type, picture};
use super::climate::{ClimateInput, extent};
use super::labels::{Labels, size_of};
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
/// Shares of the year at which a name may be tied to its line.
const TIES: usize = 36;
const LONGEST_NAME: usize = 34;
const SAMPLE: f64 = 22.0;
const SAMPLE_GAP: f64 = 5.0;
const DOT: f64 = 2.5;
/// Room beside the words of a level, and how many places are tried for them along it.
const LEVEL_EDGE: f64 = 6.0;
const LEVEL_PLACES: f64 = 12.0;
/// A tie that is not shorter than this is drawn.
const SHORT_TIE: f64 = 4.0;

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
    curves.iter().for_each(|points| labels.avoid(points));
    level(canvas, &plot, (quantity.level, show_in), &mut labels)?;
    for (place, points) in curves.iter().enumerate() {
        canvas.line(points, unit_look(place).into())?;
    }
    plot.outline(canvas)?;
    for (place, climate) in climates.iter().enumerate() {
        label(canvas, &mut labels, (climate.name, place), &curves)?;
    }
    Ok(())
}

/// After `k` hours that are higher comes the value that exactly `k` exceed.
fn curve(plot: &Plot, values: &[f64]) -> Vec<Point> {
    let points = values.iter().enumerate().step_by(HOURS_A_POINT);
    let last = values.last().map(|value| plot.at(count(values.len()), *value));
    points.map(|(hours, value)| plot.at(count(hours), *value)).chain(last).collect()
}

/// A level across the frame, with its words above or below it where they cover no curve, as far right as can be.
fn level(
    canvas: &Canvas<'_>,
    plot: &Plot,
    ((celsius, words), show_in): ((f64, &str), ShowIn),
    labels: &mut Labels,
) -> Result<(), ReportError> {
    let value = show_in.temperature(celsius);
    if !(plot.up.least..=plot.up.greatest).contains(&value) {
        return Ok(());
    }
    let (y, left, right) = (plot.y(value), plot.frame.from.0, plot.frame.to.0);
    canvas.line(&[(left, y), (right, y)], Stroke { colour: QUIET, width: 1.0, dash: Some((3, 3)) })?;
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

/// The file's name beside its line, tied to it where it is furthest from the others.
fn label(
    canvas: &Canvas<'_>,
    labels: &mut Labels,
    (name, place): (&str, usize),
    curves: &[Vec<Point>],
) -> Result<(), ReportError> {
    let Some(tie) = curves.get(place).and_then(|own| loneliest(own, place, curves)) else { return Ok(()) };
    let words = short(name);
    let look = Type::plain(TEXT_SIZE, INK);
    let (width, height) = size_of(canvas, &words, look)?;
    let Some(rect) = labels.near(tie, (width + SAMPLE + SAMPLE_GAP, height)) else { return Ok(()) };
    let stroke = Stroke::from(unit_look(place));
    canvas.rect(rect, (plotters::style::WHITE, 0.8))?;
    let y = f64::midpoint(rect.from.1, rect.to.1);
    let nearest = (tie.0.clamp(rect.from.0, rect.to.0), tie.1.clamp(rect.from.1, rect.to.1));
    if (nearest.0 - tie.0).hypot(nearest.1 - tie.1) >= SHORT_TIE {
        canvas.line(&[nearest, tie], Stroke { colour: QUIET, width: 0.75, dash: None })?;
    }
    let dot = Rect { from: (tie.0 - DOT, tie.1 - DOT), to: (tie.0 + DOT, tie.1 + DOT) };
    canvas.rect(dot, (stroke.colour, 1.0))?;
    canvas.line(&[(rect.from.0 + 2.0, y), (rect.from.0 + 2.0 + SAMPLE, y)], stroke)?;
    canvas.text(&words, (rect.from.0 + 2.0 + SAMPLE + SAMPLE_GAP, y), Hang::Left, look)
}

/// The point of a line that is furthest from the other lines, up and down; away from the ends.
fn loneliest(own: &[Point], place: usize, curves: &[Vec<Point>]) -> Option<Point> {
    let others = || curves.iter().enumerate().filter(|(other, _)| *other != place).map(|(_, points)| points);
    let apart = |point: Point| {
        others().map(|points| (height_at(points, point.0) - point.1).abs()).fold(f64::INFINITY, f64::min)
    };
    let candidates =
        (TIES / 12..=TIES - TIES / 12).filter_map(|tie| own.get(own.len() * tie / TIES).copied());
    candidates.max_by(|a, b| apart(*a).total_cmp(&apart(*b)))
}

/// Height of a line at a place across.
fn height_at(points: &[Point], x: f64) -> f64 {
    let after = points.partition_point(|point| point.0 < x).min(points.len().saturating_sub(1));
    points.get(after).map_or(f64::INFINITY, |point| point.1)
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

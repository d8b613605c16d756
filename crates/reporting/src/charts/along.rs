//! Temperatures along a core from its house side to its weather side, with its wet and its freezing part.
//!
//! Not here: the chart of moist air above it (`psychrometric`).

use super::canvas::{Canvas, Hang, Point, Rect, Stroke, Type};
use super::labels::{Labels, around, size_of, write};
use super::panel::Scale;
use super::plot::{Plot, Side};
use super::ports::Stream;
use super::style::{INK, QUIET, SMALL_SIZE, TEXT_SIZE, palette};
use crate::ReportError;
use crate::core_point::{Along, CorePoint};

pub const PLATE: Stroke = Stroke { colour: palette::BLACK, width: 1.4, dash: Some((2, 3)) };
const FREEZING_POINT: Stroke = Stroke { colour: QUIET, width: 1.0, dash: Some((4, 3)) };
const DEW_POINT: Stroke = Stroke { colour: palette::BLUISH_GREEN, width: 1.4, dash: Some((12, 4)) };
const WET_ALPHA: f64 = 0.22;
const FREEZING_ALPHA: f64 = 0.28;
/// A reference further than this from every temperature is said in words, not drawn \[K\].
const NEAR_K: f64 = 10.0;

/// Whether water leaves the air at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Face {
    Dry,
    Wet,
    Freezing,
}

impl Face {
    fn of(at: &Along) -> Self {
        if at.freezing {
            Self::Freezing
        } else if at.wet {
            Self::Wet
        } else {
            Self::Dry
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Dry => "",
            Self::Wet => "wet",
            Self::Freezing => "freezing",
        }
    }
}

/// A level across the whole plot, with its name.
struct Reference {
    words: String,
    t_c: f64,
    stroke: Stroke,
}

/// Draws it into a frame on the page.
pub fn draw(canvas: &Canvas<'_>, point: &CorePoint, frame: Rect) -> Result<(), ReportError> {
    let mut places = point.profile.clone();
    places.sort_by(|a, b| a.share.total_cmp(&b.share));
    let (references, far) = references(point, &places);
    let plot = plot(point, &places, &references, frame);
    let mut labels = Labels::new(frame);
    let faces = faces(&places);
    for (face, from, to) in &faces {
        shade(canvas, &plot, (*face, *from, *to))?;
    }
    let up = format!("temperature along the core [{}]", point.show_in.temperature_unit());
    plot.axes(canvas, "share of the core from the house side [%]", (&up, Side::Left))?;
    let heading = (frame.to.0, frame.from.1 - 11.0);
    canvas.text(&far, heading, Hang::Right, Type::bold(TEXT_SIZE, INK))?;
    let lines = lines(point, &places, &plot);
    for (line, _) in &lines {
        labels.avoid(line);
    }
    for reference in &references {
        level(canvas, point, &plot, reference)?;
    }
    for (line, stroke) in &lines {
        canvas.line(line, *stroke)?;
    }
    for reference in &references {
        name_level(canvas, point, (&plot, &mut labels), reference)?;
    }
    for (face, from, to) in faces {
        name_face(canvas, (&plot, &mut labels), (face, from, to))?;
    }
    plot.outline(canvas)
}

/// The freezing point and the dew point: those near enough to draw, and the rest in words.
fn references(point: &CorePoint, places: &[Along]) -> (Vec<Reference>, String) {
    let all: Vec<f64> = places.iter().flat_map(|at| [at.supply_c, at.extract_c, at.plate_c]).collect();
    let least = all.iter().copied().fold(f64::INFINITY, f64::min) - NEAR_K;
    let greatest = all.iter().copied().fold(f64::NEG_INFINITY, f64::max) + NEAR_K;
    let show_in = point.show_in;
    let unit = show_in.temperature_unit();
    let freezing = format!("freezing point {:.0} {unit}", show_in.temperature(0.0));
    let mut references = vec![Reference { words: freezing, t_c: 0.0, stroke: FREEZING_POINT }];
    references.extend(point.dew_point_c(point.extract).map(|t_c| {
        let shown = format!("{:.1}", show_in.temperature(t_c)).replace("-0.0", "0.0").replace('-', "−");
        Reference { words: format!("dew point of the extract air {shown} {unit}"), t_c, stroke: DEW_POINT }
    }));
    let (near, far): (Vec<_>, Vec<_>) =
        references.into_iter().partition(|reference| (least..=greatest).contains(&reference.t_c));
    let far: Vec<String> = far
        .into_iter()
        .filter(|reference| reference.stroke.dash == DEW_POINT.dash)
        .map(|far| far.words)
        .collect();
    (near, far.join(", "))
}

fn plot(point: &CorePoint, places: &[Along], references: &[Reference], frame: Rect) -> Plot {
    let mut all: Vec<f64> = places.iter().flat_map(|at| [at.supply_c, at.extract_c, at.plate_c]).collect();
    all.extend(references.iter().map(|reference| reference.t_c));
    let shown = |t: f64| point.show_in.temperature(t);
    let least = shown(all.iter().copied().fold(f64::INFINITY, f64::min));
    let greatest = shown(all.iter().copied().fold(f64::NEG_INFINITY, f64::max));
    // Room for names of levels that lie at the edge.
    let room = ((greatest - least) * 0.08).max(0.5);
    let up = Scale::around(least - room, greatest + room, 6.0);
    Plot { frame, across: Scale { least: 0.0, greatest: 100.0, step: 20.0 }, up }
}

/// The three lines, on the page.
fn lines(point: &CorePoint, places: &[Along], plot: &Plot) -> [(Vec<Point>, Stroke); 3] {
    let line = |of: fn(&Along) -> f64| -> Vec<Point> {
        places.iter().map(|at| plot.at(at.share * 100.0, point.show_in.temperature(of(at)))).collect()
    };
    [
        (line(|at| at.plate_c), PLATE),
        (line(|at| at.supply_c), Stream::In.stroke()),
        (line(|at| at.extract_c), Stream::Out.stroke()),
    ]
}

/// Stretches of one face: each place reaches half way to its neighbours.
fn faces(places: &[Along]) -> Vec<(Face, f64, f64)> {
    let mut faces: Vec<(Face, f64, f64)> = Vec::new();
    for (number, at) in places.iter().enumerate() {
        let half = |other: &Along| 0.5 * (other.share - at.share).abs();
        let before = number.checked_sub(1).and_then(|number| places.get(number));
        let after = places.get(number + 1);
        // The first and the last place stand as far from the ends of the core as from their neighbours' edges.
        let to_edge = before.or(after).map_or(0.0, half);
        let from = (at.share - before.map_or(to_edge, half)).max(0.0);
        let to = (at.share + after.map_or(to_edge, half)).min(1.0);
        match faces.last_mut() {
            Some((face, _, end)) if *face == Face::of(at) => *end = to,
            _ => faces.push((Face::of(at), from, to)),
        }
    }
    faces.retain(|(face, from, to)| *face != Face::Dry && to > from);
    faces
}

fn shade(canvas: &Canvas<'_>, plot: &Plot, (face, from, to): (Face, f64, f64)) -> Result<(), ReportError> {
    let rect =
        Rect { from: (plot.x(from * 100.0), plot.frame.from.1), to: (plot.x(to * 100.0), plot.frame.to.1) };
    match face {
        Face::Dry => Ok(()),
        Face::Wet => canvas.rect(rect, (palette::SKY_BLUE, WET_ALPHA)),
        Face::Freezing => canvas.rect(rect, (palette::BLUE, FREEZING_ALPHA)),
    }
}

fn level(
    canvas: &Canvas<'_>,
    point: &CorePoint,
    plot: &Plot,
    reference: &Reference,
) -> Result<(), ReportError> {
    let y = plot.y(point.show_in.temperature(reference.t_c));
    canvas.line(&[(plot.frame.from.0, y), (plot.frame.to.0, y)], reference.stroke)
}

/// The name of a level, beside its line where it covers least.
fn name_level(
    canvas: &Canvas<'_>,
    point: &CorePoint,
    (plot, labels): (&Plot, &mut Labels),
    reference: &Reference,
) -> Result<(), ReportError> {
    const SHARES: [f64; 7] = [0.02, 0.98, 0.2, 0.35, 0.5, 0.65, 0.8];
    let look = Type::plain(SMALL_SIZE + 1.0, INK);
    let size = size_of(canvas, &reference.words, look)?;
    let y = plot.y(point.show_in.temperature(reference.t_c));
    let (left, right) = (plot.frame.from.0 + size.0 / 2.0, plot.frame.to.0 - size.0 / 2.0);
    let beside = size.1 / 2.0 + 1.0;
    let middles: Vec<Point> = [y - beside, y + beside]
        .into_iter()
        .flat_map(|y| SHARES.map(|share| (left + share * (right - left), y)))
        .collect();
    if let Some(rect) = labels.best_of(&middles, size).or_else(|| labels.near((left, y), size)) {
        write(canvas, &reference.words, rect, look)?;
    }
    Ok(())
}

/// The name of a wet or freezing stretch, near its lower or upper end.
fn name_face(
    canvas: &Canvas<'_>,
    (plot, labels): (&Plot, &mut Labels),
    (face, from, to): (Face, f64, f64),
) -> Result<(), ReportError> {
    let look = Type::bold(TEXT_SIZE, palette::BLUE);
    let size = size_of(canvas, face.words(), look)?;
    let half = size.0 / 2.0 + 3.0;
    let middle = f64::midpoint(plot.x(from * 100.0), plot.x(to * 100.0));
    let x = middle.clamp(plot.frame.from.0 + half, plot.frame.to.0 - half);
    let (top, bottom) = (plot.frame.from.1 + size.1, plot.frame.to.1 - size.1);
    let middles: Vec<Point> =
        (0..=8).map(|step| (x, bottom - (bottom - top) * f64::from(step) / 8.0)).collect();
    if let Some(rect) = labels.best_of(&middles, size).or_else(|| labels.near((x, bottom), size)) {
        write(canvas, face.words(), around(super::labels::middle(rect), size), look)?;
    }
    Ok(())
}

//! The four ports of a core on the chart of moist air: marks, the way between them, and their names.
//!
//! Not here: curves and axes (`psychrometric`).

use super::canvas::{Canvas, Hang, Point, Rect, Stroke, Type};
use super::labels::{Labels, around, middle};
use super::psychrometric::Chart;
use super::style::{INK, SMALL_SIZE, TEXT_SIZE, palette};
use crate::ReportError;
use crate::core_point::{CorePoint, Port};

const MARK: f64 = 4.5;
const ARROW: f64 = 9.0;
/// A label further from its mark than this has a line to it.
const LEADER: f64 = 22.0;
const NAME_HEIGHT: f64 = 14.0;
const FIGURES_HEIGHT: f64 = 12.0;
const FIGURES_SIZE: f64 = SMALL_SIZE + 1.0;
const ROOM: f64 = 4.0;

/// One of the two airstreams.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stream {
    /// Outdoor to supply.
    In,
    /// Extract to exhaust.
    Out,
}

impl Stream {
    pub const BOTH: [Self; 2] = [Self::In, Self::Out];

    pub fn stroke(self) -> Stroke {
        match self {
            Self::In => Stroke { colour: palette::BLUE, width: 2.0, dash: None },
            Self::Out => Stroke { colour: palette::VERMILLION, width: 2.0, dash: Some((7, 3)) },
        }
    }
}

/// States that a stream passes, port to port (°C, kg/kg): along the core where its humidity is known, else straight.
pub fn path(point: &CorePoint, stream: Stream) -> Vec<(f64, f64)> {
    let state = |port: Port| (port.t_c, port.humidity_ratio);
    let mut places: Vec<&crate::core_point::Along> = point.profile.iter().collect();
    places.sort_by(|a, b| a.share.total_cmp(&b.share));
    let (from, between, to): (_, Vec<_>, _) = match stream {
        Stream::In => {
            let states = places.iter().rev().map(|at| Some((at.supply_c, at.supply_humidity_ratio?)));
            (point.outdoor, states.flatten().collect(), point.supply)
        }
        Stream::Out => {
            let states = places.iter().map(|at| Some((at.extract_c, at.extract_humidity_ratio?)));
            (point.extract, states.flatten().collect(), point.exhaust)
        }
    };
    [state(from)].into_iter().chain(between).chain([state(to)]).collect()
}

/// A port with the place of its label.
struct Named {
    name: &'static str,
    figures: String,
    stream: Stream,
    mark: Point,
    label: Option<Rect>,
}

/// Everything about the ports, placed but not yet drawn.
pub struct Ports {
    ways: Vec<(Stream, Vec<Point>)>,
    named: Vec<Named>,
}

impl Ports {
    pub fn place(canvas: &Canvas<'_>, chart: &Chart<'_>, labels: &mut Labels) -> Result<Self, ReportError> {
        let way = |stream| path(chart.point, stream).into_iter().map(|state| chart.at(state)).collect();
        let ways: Vec<(Stream, Vec<Point>)> = Stream::BOTH.map(|stream| (stream, way(stream))).into();
        for (_, way) in &ways {
            labels.avoid(way);
        }
        let ports = chart.point.ports();
        for (_, port) in ports {
            labels.take(around(chart.at_port(port), (2.0 * MARK + 2.0, 2.0 * MARK + 2.0)));
        }
        let mut named = Vec::new();
        for (name, port) in ports {
            let stream = if matches!(name, "outdoor" | "supply") { Stream::In } else { Stream::Out };
            let figures = figures(chart.point, port);
            let width =
                canvas.text_width(name, name_look(stream))?.max(canvas.text_width(&figures, FIGURES)?);
            let mark = chart.at_port(port);
            let label = labels.near(mark, (width + ROOM, NAME_HEIGHT + FIGURES_HEIGHT));
            named.push(Named { name, figures, stream, mark, label });
        }
        Ok(Self { ways, named })
    }

    pub fn draw(&self, canvas: &Canvas<'_>) -> Result<(), ReportError> {
        for (stream, way) in &self.ways {
            canvas.line(way, stream.stroke())?;
            arrow(canvas, way, *stream)?;
        }
        self.named.iter().try_for_each(|port| port.leader(canvas))?;
        self.named.iter().try_for_each(|port| port.draw(canvas))
    }
}

impl Named {
    /// A thin line to a label that stands away from its mark.
    fn leader(&self, canvas: &Canvas<'_>) -> Result<(), ReportError> {
        let Some(rect) = self.label else { return Ok(()) };
        let nearest = (self.mark.0.clamp(rect.from.0, rect.to.0), self.mark.1.clamp(rect.from.1, rect.to.1));
        if (nearest.0 - self.mark.0).hypot(nearest.1 - self.mark.1) <= LEADER {
            return Ok(());
        }
        let thin = Stroke { colour: self.stream.stroke().colour, width: 0.75, dash: None };
        canvas.line(&[self.mark, nearest], thin)
    }

    fn draw(&self, canvas: &Canvas<'_>) -> Result<(), ReportError> {
        mark(canvas, self.mark, self.stream)?;
        let Some(rect) = self.label else { return Ok(()) };
        canvas.rect(rect, (plotters::style::WHITE, 0.8))?;
        let x = middle(rect).0;
        let (name, figures) = (rect.from.1 + NAME_HEIGHT / 2.0, rect.to.1 - FIGURES_HEIGHT / 2.0);
        canvas.text(self.name, (x, name), Hang::Centre, name_look(self.stream))?;
        canvas.text(&self.figures, (x, figures), Hang::Centre, FIGURES)
    }
}

const FIGURES: Type = Type::plain(FIGURES_SIZE, INK);

fn name_look(stream: Stream) -> Type {
    Type::bold(TEXT_SIZE, stream.stroke().colour)
}

fn figures(point: &CorePoint, port: Port) -> String {
    let show_in = point.show_in;
    let t = format!("{:.1} {}", show_in.temperature(port.t_c), show_in.temperature_unit());
    let t = t.replace("-0.0 ", "0.0 ").replace('-', "−");
    match point.relative_humidity(port) {
        Some(share) => format!("{t}, {:.0} %", share * 100.0),
        None => t,
    }
}

/// A disc for air on its way in, a square for air on its way out.
fn mark(canvas: &Canvas<'_>, at: Point, stream: Stream) -> Result<(), ReportError> {
    let colour = stream.stroke().colour;
    match stream {
        Stream::In => disc(canvas, at, MARK + 0.5, colour),
        Stream::Out => canvas.rect(around(at, (2.0 * MARK, 2.0 * MARK)), (colour, 1.0)),
    }
}

/// A filled disc.
pub fn disc(
    canvas: &Canvas<'_>,
    at: Point,
    radius: f64,
    colour: plotters::style::RGBColor,
) -> Result<(), ReportError> {
    canvas.band(&circle(at, radius), &[], (colour, 1.0))
}

/// Corners of a circle.
pub fn circle(at: Point, radius: f64) -> Vec<Point> {
    const CORNERS: u32 = 24;
    (0..=CORNERS)
        .map(|corner| std::f64::consts::TAU * f64::from(corner) / f64::from(CORNERS))
        .map(|turn| (at.0 + radius * turn.cos(), at.1 + radius * turn.sin()))
        .collect()
}

/// An arrow's head half way along, if the way is long enough to have one.
fn arrow(canvas: &Canvas<'_>, way: &[Point], stream: Stream) -> Result<(), ReportError> {
    let lengths: Vec<f64> =
        way.windows(2).map(|pair| (pair[1].0 - pair[0].0).hypot(pair[1].1 - pair[0].1)).collect();
    let whole: f64 = lengths.iter().sum();
    if whole < 3.0 * ARROW {
        return Ok(());
    }
    let (tip, tail) = (along(way, &lengths, whole / 2.0 + ARROW), along(way, &lengths, whole / 2.0));
    let (x, y) = (tip.0 - tail.0, tip.1 - tail.1);
    let wings = [(tail.0 - y * 0.5, tail.1 + x * 0.5), (tail.0 + y * 0.5, tail.1 - x * 0.5)];
    canvas.band(&[tip, wings[0], wings[1]], &[], (stream.stroke().colour, 1.0))
}

/// The point at a distance along a line.
fn along(way: &[Point], lengths: &[f64], distance: f64) -> Point {
    let mut left = distance;
    for (pair, length) in way.windows(2).zip(lengths) {
        if left <= *length && *length > 0.0 {
            let share = left / length;
            return (
                pair[0].0 + share * (pair[1].0 - pair[0].0),
                pair[0].1 + share * (pair[1].1 - pair[0].1),
            );
        }
        left -= length;
    }
    way.last().copied().unwrap_or_default()
}

//! A plot of one quantity over another: frame, ticks, grid, and lines cut off at the frame.
//!
//! Not here: plots over the year (`panel`), where labels go (`labels`).

use super::canvas::{Canvas, Hang, Point, Rect, Stroke, Type};
use super::panel::Scale;
use super::style::{FAINT, INK, QUIET, TEXT_SIZE, TICK_SIZE};
use crate::ReportError;

/// Side on which the upright axis has its numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    Left,
    Right,
}

/// A frame on the page with a scale for each direction.
#[derive(Debug, Clone, Copy)]
pub struct Plot {
    pub frame: Rect,
    pub across: Scale,
    pub up: Scale,
}

impl Plot {
    pub fn at(&self, x: f64, y: f64) -> Point {
        (self.x(x), self.y(y))
    }

    pub fn x(&self, value: f64) -> f64 {
        let share = (value - self.across.least) / (self.across.greatest - self.across.least);
        self.frame.from.0 + share * (self.frame.to.0 - self.frame.from.0)
    }

    pub fn y(&self, value: f64) -> f64 {
        let share = (value - self.up.least) / (self.up.greatest - self.up.least);
        self.frame.to.1 - share * (self.frame.to.1 - self.frame.from.1)
    }

    /// Grid, frame and numbers; the name of the axis across stands below, that of the axis up above its side.
    pub fn axes(&self, canvas: &Canvas<'_>, across: &str, up: (&str, Side)) -> Result<(), ReportError> {
        let ((left, top), (right, bottom)) = (self.frame.from, self.frame.to);
        let grid = Stroke { colour: FAINT, width: 0.75, dash: None };
        let number = Type::plain(TICK_SIZE, QUIET);
        for tick in self.across.ticks() {
            let x = self.x(tick);
            canvas.line(&[(x, top), (x, bottom)], grid)?;
            canvas.text(
                &canvas.words.marked(&self.across.label(tick)),
                (x, bottom + 13.0),
                Hang::Centre,
                number,
            )?;
        }
        let (edge, hang) = match up.1 {
            Side::Left => (left - 8.0, Hang::Right),
            Side::Right => (right + 8.0, Hang::Left),
        };
        for tick in self.up.ticks() {
            let y = self.y(tick);
            canvas.line(&[(left, y), (right, y)], grid)?;
            canvas.text(&canvas.words.marked(&self.up.label(tick)), (edge, y), hang, number)?;
        }
        let name = Type::plain(TEXT_SIZE, QUIET);
        canvas.text(across, (f64::midpoint(left, right), bottom + 31.0), Hang::Centre, name)?;
        match up.1 {
            Side::Left => canvas.text(up.0, (left, top - 11.0), Hang::Left, name),
            Side::Right => canvas.text(up.0, (right, top - 11.0), Hang::Right, name),
        }
    }

    /// The outline, drawn after the data.
    pub fn outline(&self, canvas: &Canvas<'_>) -> Result<(), ReportError> {
        let ((left, top), (right, bottom)) = (self.frame.from, self.frame.to);
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)];
        canvas.line(&corners, Stroke { colour: QUIET, width: 0.75, dash: None })?;
        canvas.line(&[(left, bottom), (right, bottom)], Stroke { colour: INK, width: 1.0, dash: None })
    }

    /// The parts of a line that lie in the frame.
    pub fn inside(&self, line: &[Point]) -> Vec<Vec<Point>> {
        let mut parts: Vec<Vec<Point>> = Vec::new();
        for pair in line.windows(2) {
            let Some((from, to)) = cut(pair[0], pair[1], self.frame) else { continue };
            match parts.last_mut() {
                Some(part) if part.last() == Some(&from) => part.push(to),
                _ => parts.push(vec![from, to]),
            }
        }
        parts
    }

    /// Draws the parts of a line that lie in the frame.
    pub fn line(&self, canvas: &Canvas<'_>, line: &[Point], stroke: Stroke) -> Result<(), ReportError> {
        self.inside(line).iter().try_for_each(|part| canvas.line(part, stroke))
    }
}

/// The part of a segment in a rectangle: the segment's parameter is narrowed by each of the four edges in turn.
fn cut(a: Point, b: Point, frame: Rect) -> Option<(Point, Point)> {
    let (along, up) = (b.0 - a.0, b.1 - a.1);
    let edges = [
        (-along, a.0 - frame.from.0),
        (along, frame.to.0 - a.0),
        (-up, a.1 - frame.from.1),
        (up, frame.to.1 - a.1),
    ];
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (toward, room) in edges {
        if toward == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if toward < 0.0 {
            enter = enter.max(room / toward);
        } else {
            leave = leave.min(room / toward);
        }
    }
    let point = |share: f64| match share {
        0.0 => a,
        1.0 => b,
        _ => (a.0 + share * along, a.1 + share * up),
    };
    (enter <= leave).then(|| (point(enter), point(leave)))
}

//! Where labels go: beside what they name, inside the frame, never over one another.
//!
//! Not here: what they say.

use super::canvas::{Canvas, Hang, Point, Rect, Type};
use crate::ReportError;

/// Room around a label.
const PAD: f64 = 2.0;
/// What it costs to cover a line, in units of distance: better a little further away.
const COVERED_LINE: f64 = 30.0;
const DIRECTIONS: [Point; 12] = [
    (1.0, -1.0),
    (1.0, 1.0),
    (-1.0, -1.0),
    (-1.0, 1.0),
    (1.0, 0.0),
    (-1.0, 0.0),
    (0.0, -1.0),
    (0.0, 1.0),
    (1.0, -0.5),
    (1.0, 0.5),
    (-1.0, -0.5),
    (-1.0, 0.5),
];
const DISTANCES: [f64; 8] = [7.0, 16.0, 28.0, 44.0, 64.0, 90.0, 130.0, 190.0];
/// Step of the search over the whole frame, for labels that find no place near by.
const SEARCH_STEP: f64 = 8.0;

/// Segments of a line that are kept together.
const TOGETHER: usize = 32;

/// Places that are taken in a frame.
pub struct Labels {
    frame: Rect,
    taken: Vec<Rect>,
    lines: Vec<Stretch>,
}

/// Some segments of a line and the rectangle around them: a curve of a year has thousands, and labels are tried at hundreds of places.
struct Stretch {
    around: Rect,
    segments: Vec<(Point, Point)>,
}

impl Stretch {
    fn new(points: &[Point]) -> Self {
        let ends = |axis: fn(&Point) -> f64| {
            let values = || points.iter().map(axis);
            (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max))
        };
        let ((left, right), (top, bottom)) = (ends(|point| point.0), ends(|point| point.1));
        Self {
            around: Rect { from: (left, top), to: (right, bottom) },
            segments: points.windows(2).map(|pair| (pair[0], pair[1])).collect(),
        }
    }

    /// How many of the segments meet a rectangle.
    fn covered(&self, rect: Rect) -> usize {
        let apart = self.around.to.0 < rect.from.0
            || self.around.from.0 > rect.to.0
            || self.around.to.1 < rect.from.1
            || self.around.from.1 > rect.to.1;
        if apart { 0 } else { self.segments.iter().filter(|segment| crosses(rect, **segment)).count() }
    }
}

impl Labels {
    pub fn new(frame: Rect) -> Self {
        Self { frame, taken: Vec::new(), lines: Vec::new() }
    }

    /// Marks a place that no label may cover.
    pub fn take(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// Marks a line that labels had better not cover.
    pub fn avoid(&mut self, line: &[Point]) {
        let starts = (0..line.len().saturating_sub(1)).step_by(TOGETHER);
        let stretches = starts.map(|start| &line[start..line.len().min(start + TOGETHER + 1)]);
        self.lines.extend(stretches.map(Stretch::new));
    }

    /// Takes the rectangle around a middle if it is free and covers none of the lines to be avoided.
    pub fn try_at(&mut self, middle: Point, size: Point) -> Option<Rect> {
        let rect = around(middle, size);
        let free = self.free(rect) && !self.lines.iter().any(|line| line.covered(rect) > 0);
        if free {
            self.taken.push(rect);
        }
        free.then_some(rect)
    }

    /// Takes the free one of several middles that covers the fewest lines; the first of equals.
    pub fn best_of(&mut self, middles: &[Point], size: Point) -> Option<Rect> {
        let free = middles.iter().map(|middle| around(*middle, size)).filter(|rect| self.free(*rect));
        let rect = free.min_by(|a, b| self.covered(*a).total_cmp(&self.covered(*b)))?;
        self.taken.push(rect);
        Some(rect)
    }

    /// How many lines the rectangle around a middle would cover; `None` where it is not free.
    pub fn cover(&self, middle: Point, size: Point) -> Option<f64> {
        let rect = around(middle, size);
        self.free(rect).then(|| self.covered(rect))
    }

    /// Takes the best free rectangle near a point; `None` only in a frame that is full.
    pub fn near(&mut self, point: Point, size: Point) -> Option<Rect> {
        let near_by = DISTANCES.iter().flat_map(|distance| {
            DIRECTIONS.iter().map(move |(x, y)| {
                let middle =
                    (point.0 + x * (size.0 / 2.0 + distance), point.1 + y * (size.1 / 2.0 + distance));
                (around(middle, size), *distance)
            })
        });
        let cost = |(rect, distance): (Rect, f64)| (rect, distance + COVERED_LINE * self.covered(rect));
        let best = near_by.filter(|(rect, _)| self.free(*rect)).map(cost).min_by(|a, b| a.1.total_cmp(&b.1));
        let rect = best.map(|(rect, _)| rect).or_else(|| self.anywhere(point, size))?;
        self.taken.push(rect);
        Some(rect)
    }

    /// The nearest free rectangle of the whole frame.
    fn anywhere(&self, point: Point, size: Point) -> Option<Rect> {
        let (from, to) = (self.frame.from, self.frame.to);
        let steps = |from: f64, to: f64| {
            std::iter::successors(Some(from), |at| Some(at + SEARCH_STEP)).take_while(move |at| *at <= to)
        };
        let all = steps(from.1, to.1).flat_map(|y| steps(from.0, to.0).map(move |x| (x, y)));
        let distance = |middle: Point| (middle.0 - point.0).abs() + (middle.1 - point.1).abs();
        all.filter(|middle| self.free(around(*middle, size)))
            .min_by(|a, b| distance(*a).total_cmp(&distance(*b)))
            .map(|middle| around(middle, size))
    }

    fn free(&self, rect: Rect) -> bool {
        let inside = rect.from.0 >= self.frame.from.0 + PAD
            && rect.from.1 >= self.frame.from.1 + PAD
            && rect.to.0 <= self.frame.to.0 - PAD
            && rect.to.1 <= self.frame.to.1 - PAD;
        inside && !self.taken.iter().any(|taken| overlap(rect, *taken))
    }

    fn covered(&self, rect: Rect) -> f64 {
        super::panel::count(self.lines.iter().map(|line| line.covered(rect)).sum())
    }
}

/// Size of one line of text with its room.
pub fn size_of(canvas: &Canvas<'_>, words: &str, look: Type) -> Result<Point, ReportError> {
    Ok((canvas.text_width(words, look)? + 2.0 * PAD, look.size * 1.25))
}

/// Writes words in the middle of a rectangle.
pub fn write(canvas: &Canvas<'_>, words: &str, rect: Rect, look: Type) -> Result<(), ReportError> {
    canvas.text(words, middle(rect), Hang::Centre, look)
}

pub fn middle(rect: Rect) -> Point {
    (f64::midpoint(rect.from.0, rect.to.0), f64::midpoint(rect.from.1, rect.to.1))
}

pub fn around(middle: Point, size: Point) -> Rect {
    let half = (size.0 / 2.0, size.1 / 2.0);
    Rect { from: (middle.0 - half.0, middle.1 - half.1), to: (middle.0 + half.0, middle.1 + half.1) }
}

fn overlap(a: Rect, b: Rect) -> bool {
    a.from.0 < b.to.0 && b.from.0 < a.to.0 && a.from.1 < b.to.1 && b.from.1 < a.to.1
}

/// Whether a segment meets a rectangle, by points along it no further apart than the rectangle is high.
fn crosses(rect: Rect, (a, b): (Point, Point)) -> bool {
    let is_beside = |a: f64, b: f64, from: f64, to: f64| a.max(b) < from || a.min(b) > to;
    if is_beside(a.0, b.0, rect.from.0, rect.to.0) || is_beside(a.1, b.1, rect.from.1, rect.to.1) {
        return false;
    }
    let length = (b.0 - a.0).abs().max((b.1 - a.1).abs());
    let step = (rect.to.1 - rect.from.1).max(1.0) / 2.0;
    std::iter::successors(Some(0.0), |along| Some(along + step))
        .take_while(|along| *along <= length + step)
        .any(|along| {
            let share = (along / length.max(1e-9)).min(1.0);
            let (x, y) = (a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1));
            (rect.from.0..=rect.to.0).contains(&x) && (rect.from.1..=rect.to.1).contains(&y)
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A zigzag of a hundred points, 1 apart across and 10 up and down: each rectangle is tried against every segment by itself.
    #[test]
    fn what_a_label_covers_is_counted_segment_by_segment_also_where_stretches_meet() {
        let frame = Rect { from: (0.0, 0.0), to: (100.0, 100.0) };
        let line: Vec<Point> =
            (0..100_u32).map(|k| (f64::from(k), if k.is_multiple_of(2) { 40.0 } else { 50.0 })).collect();
        let mut labels = Labels::new(frame);
        labels.avoid(&line);
        let mut most = 0.0_f64;
        for x in 7..93_u32 {
            for (y, size) in [(45.0, (2.0, 4.0)), (51.0, (6.0, 3.0)), (70.0, (8.0, 8.0))] {
                let rect = around((f64::from(x), y), size);
                let expected = line.windows(2).filter(|pair| crosses(rect, (pair[0], pair[1]))).count();
                let covered = labels.cover((f64::from(x), y), size);
                assert_eq!(covered, Some(crate::charts::count(expected)), "at {x}, {y}");
                most = most.max(covered.unwrap_or(0.0));
            }
        }
        assert!(most >= 2.0);
    }
}

//! A plot by month in any frame of the page: a column for each month, a quantity up.
//!
//! Not here: panels over the whole width (`panel`), which have days too.

use super::canvas::{Canvas, Hang, Rect, Stroke, Type};
use super::panel::{Scale, count};
use super::style::{FAINT, INK, QUIET, SMALL_SIZE, TEXT_SIZE, TICK_SIZE};
use crate::ReportError;

/// Below this width of a month its name is set smaller.
const NARROW: f64 = 28.0;
/// Height of the line above that names the axis, and of the months and their name below.
pub const NAME_LINE: f64 = 20.0;
pub const MONTHS_HEIGHT: f64 = 42.0;

/// The frame and the scale.
#[derive(Debug, Clone, Copy)]
pub struct MonthPlot {
    pub frame: Rect,
    pub up: Scale,
}

impl MonthPlot {
    pub fn y(&self, value: f64) -> f64 {
        let share = (value - self.up.least) / (self.up.greatest - self.up.least);
        self.frame.to.1 - share * (self.frame.to.1 - self.frame.from.1)
    }

    /// Left and right edge of a part of a month's column: `filled` of its width, divided among `of`.
    pub fn column(&self, month: usize, filled: f64, (place, of): (usize, usize)) -> (f64, f64) {
        let width = (self.frame.to.0 - self.frame.from.0) / 12.0;
        let each = width * filled / count(of);
        let left = self.frame.from.0 + width * (count(month) + (1.0 - filled) / 2.0) + each * count(place);
        (left, left + each)
    }

    /// Grid, numbers, months and both names; the heading above the right end.
    pub fn axes(&self, canvas: &Canvas<'_>, name: &str, heading: &str) -> Result<(), ReportError> {
        self.frame_alone(canvas, name, heading)?;
        let ((left, _), (right, bottom)) = (self.frame.from, self.frame.to);
        let width = (right - left) / 12.0;
        let look = Type::plain(if width < NARROW { SMALL_SIZE } else { TICK_SIZE }, QUIET);
        for month in 0..12 {
            let words = canvas.words.short_month(month);
            let (from, to) = self.column(month, 1.0, (0, 1));
            let is_wide = width < canvas.text_width(&words, look)?;
            let words = if is_wide { words.chars().take(1).collect() } else { words };
            canvas.text(&words, (f64::midpoint(from, to), bottom + 12.0), Hang::Centre, look)?;
        }
        let at = (f64::midpoint(left, right), bottom + 29.0);
        canvas.text(&canvas.words.text("chart.month"), at, Hang::Centre, Type::plain(TEXT_SIZE, QUIET))
    }

    /// As [`MonthPlot::axes`] without the months below.
    pub fn frame_alone(&self, canvas: &Canvas<'_>, name: &str, heading: &str) -> Result<(), ReportError> {
        let ((left, top), (right, _)) = (self.frame.from, self.frame.to);
        for tick in self.up.ticks() {
            let y = self.y(tick);
            canvas.line(&[(left, y), (right, y)], Stroke { colour: FAINT, width: 0.75, dash: None })?;
            let label = canvas.words.marked(&self.up.label(tick));
            canvas.text(&label, (left - 6.0, y), Hang::Right, Type::plain(TICK_SIZE, QUIET))?;
        }
        let above = top - NAME_LINE / 2.0;
        let quiet = Type::plain(TEXT_SIZE, QUIET);
        canvas.text(name, (left, above), Hang::Left, quiet)?;
        let bold = Type::bold(TEXT_SIZE, INK);
        let room = right - left - canvas.text_width(name, quiet)? - NAME_LINE / 2.0;
        let shrink = (room / canvas.text_width(heading, bold)?.max(1.0)).min(1.0);
        canvas.text(heading, (right, above), Hang::Right, Type { size: TEXT_SIZE * shrink, ..bold })
    }

    /// The base line, drawn after the columns: at zero where the scale holds it.
    pub fn base(&self, canvas: &Canvas<'_>) -> Result<(), ReportError> {
        let y = self.y(0.0_f64.clamp(self.up.least, self.up.greatest));
        let ends = [(self.frame.from.0, y), (self.frame.to.0, y)];
        canvas.line(&ends, Stroke { colour: INK, width: 1.0, dash: None })
    }
}

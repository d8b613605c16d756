//! Axes: days of the year across, a quantity up, months named below.

use super::canvas::{Canvas, Hang, Point, Rect, Stroke, Type};
use super::style::{FAINT, INK, PICTURE_WIDTH, QUIET, TEXT_SIZE, TICK_SIZE};
use crate::{Calendar, ReportError};

const LEFT: f64 = 64.0;
const RIGHT: f64 = 20.0;
/// Height of the line above a panel that names its axis.
pub const NAME_LINE: f64 = 20.0;
/// Height of the months and their name below the last panel.
pub const MONTHS_HEIGHT: f64 = 46.0;

/// Range and step of an axis, in round numbers.
#[derive(Debug, Clone, Copy)]
pub struct Scale {
    pub least: f64,
    pub greatest: f64,
    pub step: f64,
}

impl Scale {
    /// Round numbers around a range, about `ticks` of them; a range without extent is widened.
    pub fn around(least: f64, greatest: f64, ticks: f64) -> Self {
        let extent = if greatest > least { greatest - least } else { greatest.abs().max(1.0) };
        let greatest = least + extent;
        let rough = extent / ticks;
        let power = 10f64.powf(rough.log10().floor());
        let step =
            [1.0, 2.0, 5.0, 10.0].map(|lead| lead * power).into_iter().find(|step| *step >= rough * 0.999);
        let step = step.unwrap_or(10.0 * power);
        let low = (least / step).floor() * step;
        Self { least: low, greatest: ((greatest / step).ceil() * step).max(low + step), step }
    }

    /// Decimals that tell neighbouring ticks apart.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 12")]
    fn decimals(self) -> usize {
        (-(self.step.log10() + 1e-6).floor()).clamp(0.0, 12.0) as usize
    }

    /// The words of a tick, with a true minus sign.
    pub fn label(self, tick: f64) -> String {
        let decimals = self.decimals();
        let text = format!("{tick:.decimals$}").replace('-', "−");
        let is_zero = text.trim_start_matches('−').chars().all(|c| c == '0' || c == '.');
        if is_zero { "0".to_owned() } else { text }
    }

    /// Every multiple of the step in the range.
    pub fn ticks(self) -> Vec<f64> {
        let mut ticks = Vec::new();
        let mut number = 0.0;
        while self.least + number * self.step <= self.greatest + self.step * 1e-6 {
            ticks.push(self.least + number * self.step);
            number += 1.0;
        }
        ticks
    }
}

/// A plot's rectangle and scale.
#[derive(Debug, Clone)]
pub struct Panel<'a> {
    pub top: f64,
    pub bottom: f64,
    pub scale: Scale,
    pub calendar: &'a Calendar,
}

impl Panel<'_> {
    pub fn left() -> f64 {
        LEFT
    }

    pub fn right() -> f64 {
        f64::from(PICTURE_WIDTH) - RIGHT
    }

    /// Across, for a day of the year from 0 (its beginning).
    pub fn x(&self, day: f64) -> f64 {
        LEFT + day / count(self.calendar.days()) * (Self::right() - LEFT)
    }

    /// Up, for a value.
    pub fn y(&self, value: f64) -> f64 {
        let share = (value - self.scale.least) / (self.scale.greatest - self.scale.least);
        self.bottom - share * (self.bottom - self.top)
    }

    /// Left and right edge of a month.
    pub fn month(&self, month: usize) -> (f64, f64) {
        let days = self.calendar.days_of(month);
        (self.x(count(days.start)), self.x(count(days.end)))
    }

    /// Daily values as points at the middle of each day.
    pub fn points(&self, values: impl IntoIterator<Item = f64>) -> Vec<Point> {
        values.into_iter().enumerate().map(|(day, value)| (self.x(count(day) + 0.5), self.y(value))).collect()
    }

    /// The area between two values across the whole width.
    pub fn across(&self, low: f64, high: f64) -> Rect {
        Rect { from: (LEFT, self.y(high)), to: (Self::right(), self.y(low)) }
    }

    /// Grid, tick labels and the name of the axis above its left end, with a heading above the right end.
    pub fn axes(&self, canvas: &Canvas<'_>, name: &str, heading: &str) -> Result<(), ReportError> {
        let grid = Stroke { colour: FAINT, width: 0.75, dash: None };
        for tick in self.scale.ticks() {
            let y = self.y(tick);
            canvas.line(&[(LEFT, y), (Self::right(), y)], grid)?;
            canvas.text(
                &canvas.words.marked(&self.scale.label(tick)),
                (LEFT - 8.0, y),
                Hang::Right,
                Type::plain(TICK_SIZE, QUIET),
            )?;
        }
        self.month_lines(canvas)?;
        self.names(canvas, name, heading)
    }

    /// As [`Panel::axes`] where there is nothing to read off: the months' lines and the heading.
    pub fn bare(&self, canvas: &Canvas<'_>, heading: &str) -> Result<(), ReportError> {
        self.bare_with(canvas, "", heading)
    }

    /// As [`Panel::bare`] with the name of what goes up or down.
    pub fn bare_with(&self, canvas: &Canvas<'_>, name: &str, heading: &str) -> Result<(), ReportError> {
        self.month_lines(canvas)?;
        self.names(canvas, name, heading)
    }

    fn month_lines(&self, canvas: &Canvas<'_>) -> Result<(), ReportError> {
        for month in 1..12 {
            let x = self.month(month).0;
            canvas.line(
                &[(x, self.top), (x, self.bottom)],
                Stroke { colour: FAINT, width: 0.75, dash: None },
            )?;
        }
        Ok(())
    }

    fn names(&self, canvas: &Canvas<'_>, name: &str, heading: &str) -> Result<(), ReportError> {
        let above = self.top - NAME_LINE / 2.0;
        canvas.text(name, (LEFT, above), Hang::Left, Type::plain(TEXT_SIZE, QUIET))?;
        let bold = Type::bold(TEXT_SIZE, INK);
        let room = Self::right() - LEFT - canvas.text_width(name, bold)? - NAME_LINE;
        let shrink = (room / canvas.text_width(heading, bold)?.max(1.0)).min(1.0);
        canvas.text(heading, (Self::right(), above), Hang::Right, Type { size: TEXT_SIZE * shrink, ..bold })
    }

    /// The base line, drawn after the data: at zero where the scale holds it, else at the bottom.
    pub fn base(&self, canvas: &Canvas<'_>) -> Result<(), ReportError> {
        let level =
            if self.scale.least <= 0.0 && self.scale.greatest >= 0.0 { 0.0 } else { self.scale.least };
        let y = self.y(level);
        canvas.line(&[(LEFT, y), (Self::right(), y)], Stroke { colour: INK, width: 1.0, dash: None })
    }

    /// Month names and the name of the axis, below the panel.
    pub fn months(&self, canvas: &Canvas<'_>) -> Result<(), ReportError> {
        for month in 0..12 {
            let (left, right) = self.month(month);
            let at = (f64::midpoint(left, right), self.bottom + 14.0);
            canvas.text(&canvas.words.short_month(month), at, Hang::Centre, Type::plain(TICK_SIZE, QUIET))?;
        }
        let middle = f64::midpoint(LEFT, Self::right());
        let name = canvas.words.text("chart.month");
        canvas.text(&name, (middle, self.bottom + 33.0), Hang::Centre, Type::plain(TEXT_SIZE, QUIET))
    }
}

/// A count as a number.
#[allow(clippy::cast_precision_loss, reason = "days and bars of a year")]
pub fn count(number: usize) -> f64 {
    number as f64
}

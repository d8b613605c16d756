//! A year's hours as a carpet: days across, hours of the day down, equal hours of neighbouring days in one piece.
//!
//! Not here: what the colours mean (`climate_year`, `humidity_year`).

use std::ops::Range;

use super::canvas::{Canvas, Hang, Rect, Stroke, Type};
use super::panel::{Panel, count};
use super::style::{QUIET, TICK_SIZE};
use crate::ReportError;
use crate::calendar::HOURS_PER_DAY;

/// The carpet's area.
pub fn whole(panel: &Panel<'_>) -> Rect {
    Rect { from: (Panel::left(), panel.top), to: (Panel::right(), panel.bottom) }
}

fn down(panel: &Panel<'_>, hour: usize) -> f64 {
    panel.top + count(hour) / count(HOURS_PER_DAY) * (panel.bottom - panel.top)
}

/// The outline and the hours of the day; drawn after the cells.
pub fn marks(canvas: &Canvas<'_>, panel: &Panel<'_>) -> Result<(), ReportError> {
    outline(canvas, whole(panel))?;
    for hour in (0..=HOURS_PER_DAY).step_by(6) {
        let at = (Panel::left() - 8.0, down(panel, hour));
        canvas.text(&hour.to_string(), at, Hang::Right, Type::plain(TICK_SIZE, QUIET))?;
    }
    Ok(())
}

/// A thin outline of a rectangle.
pub fn outline(canvas: &Canvas<'_>, Rect { from, to }: Rect) -> Result<(), ReportError> {
    let corners = [from, (to.0, from.1), to, (from.0, to.1), from];
    canvas.line(&corners, Stroke { colour: QUIET, width: 0.5, dash: None })
}

/// The same hours of neighbouring days, all of one class: drawn as one, so that no ground shines through between them.
pub struct Block {
    pub class: usize,
    pub days: Range<usize>,
    pub hours: Range<usize>,
}

impl Block {
    /// Its place in the carpet.
    pub fn rect(&self, panel: &Panel<'_>) -> Rect {
        let (left, right) = (panel.x(count(self.days.start)), panel.x(count(self.days.end)));
        Rect { from: (left, down(panel, self.hours.start)), to: (right, down(panel, self.hours.end)) }
    }
}

/// Every hour with a class, in blocks.
pub fn blocks<T>(hours: &[T], class_of: impl Fn(&T) -> Option<usize>) -> Vec<Block> {
    let (mut open, mut done): (Vec<Block>, Vec<Block>) = (Vec::new(), Vec::new());
    for (day, of_day) in hours.chunks(HOURS_PER_DAY).enumerate() {
        let classes: Vec<Option<usize>> = of_day.iter().map(&class_of).collect();
        let (mut from, mut still_open) = (0, Vec::new());
        for run in classes.chunk_by(|a, b| a == b) {
            let hours = from..from + run.len();
            from = hours.end;
            let Some(class) = run.first().copied().flatten() else { continue };
            let of_yesterday = open.iter().position(|block| block.class == class && block.hours == hours);
            let days = of_yesterday.map_or(day, |place| open.swap_remove(place).days.start)..day + 1;
            still_open.push(Block { class, days, hours });
        }
        done.append(&mut open);
        open = still_open;
    }
    done.append(&mut open);
    done
}

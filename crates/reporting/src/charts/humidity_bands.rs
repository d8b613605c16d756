//! Hours in bands of indoor relative humidity by month: a stack for each month that adds up to its hours, house by house.
//!
//! Not here: the bands (`bands`).

use simulation::results::HouseYear;

use super::bands::{BANDS, COLOURS, band_of};
use super::canvas::{Canvas, Hang, MARGIN, Rect, Stroke, Type, legible_on, page_in};
use super::houses::{House, houses};
use super::humidity_year::legend;
use super::month_plot::{MONTHS_HEIGHT, MonthPlot, NAME_LINE};
use super::panel::{Scale, count};
use super::style::{PICTURE_WIDTH, QUIET, SMALL_SIZE};
use super::{ChartInput, Drawn};
use crate::ReportError;

const ACROSS: usize = 2;
const NUMBERS: f64 = 38.0;
const PLOT: f64 = 190.0;
const GAP: f64 = 10.0;
const FILLED: f64 = 0.84;
/// A piece lower than this has no room for its hours.
const LEAST_FOR_HOURS: f64 = 10.0;

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let houses = houses(drawn, false);
    let of_each = NAME_LINE + PLOT + MONTHS_HEIGHT + GAP;
    let rows = houses.len().div_ceil(ACROSS);
    let title = drawn.words.text("chart.humidity_bands");
    let (title, legend) = ((title.as_str(), input.study), legend(drawn.words));
    page_in(drawn.words, title, (&legend, count(rows) * of_each), |canvas, top| {
        let width = (f64::from(PICTURE_WIDTH) - 2.0 * MARGIN + GAP) / count(ACROSS);
        for (place, house) in houses.iter().enumerate() {
            let left = MARGIN + NUMBERS + count(place % ACROSS) * width;
            let top = top + count(place / ACROSS) * of_each + NAME_LINE;
            let frame = Rect { from: (left, top), to: (left + width - NUMBERS - GAP, top + PLOT) };
            panel(canvas, drawn, house, frame)?;
        }
        Ok(())
    })
}

fn panel(canvas: &Canvas<'_>, drawn: &Drawn<'_>, house: &House<'_>, frame: Rect) -> Result<(), ReportError> {
    let plot = MonthPlot { frame, up: Scale { least: 0.0, greatest: 800.0, step: 200.0 } };
    plot.axes(canvas, &drawn.words.text("chart.hours_axis"), &house.name)?;
    for month in 0..12 {
        let (left, right) = plot.column(month, FILLED, (0, 1));
        let mut below = 0;
        for (band, hours) in hours_in_bands(drawn, house.year, month).into_iter().enumerate() {
            let (low, high) = (plot.y(count(below)), plot.y(count(below + hours)));
            below += hours;
            if hours == 0 {
                continue;
            }
            let rect = Rect { from: (left, high), to: (right, low) };
            canvas.rect(rect, (COLOURS[band], 1.0))?;
            if low - high >= LEAST_FOR_HOURS {
                let at = (f64::midpoint(left, right), f64::midpoint(low, high));
                let look = Type::plain(SMALL_SIZE, legible_on(COLOURS[band]));
                canvas.text(&hours.to_string(), at, Hang::Centre, look)?;
            }
        }
        let (top, bottom) = (plot.y(count(below)), plot.y(0.0));
        let outline = [(left, bottom), (left, top), (right, top), (right, bottom)];
        canvas.line(&outline, Stroke { colour: QUIET, width: 0.5, dash: None })?;
    }
    plot.base(canvas)
}

/// Hours of a month in each band, from dry to damp.
fn hours_in_bands(drawn: &Drawn<'_>, year: &HouseYear, month: usize) -> [usize; BANDS] {
    let mut hours = [0; BANDS];
    for share in &year.hourly.relative_humidity[drawn.calendar.hours_of(month)] {
        hours[band_of(*share)] += 1;
    }
    hours
}

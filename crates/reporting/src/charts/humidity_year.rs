//! Indoor relative humidity hour by hour: a carpet for each unit and for no recovery, one scale for all.
//!
//! Not here: the scale (`bands`), how a carpet is cut into pieces (`carpet`).

use super::bands::{BANDS, COLOURS, MIDDLE, WORDS, band_of};
use super::canvas::{Canvas, Entry, Hang, Sample, Stroke, Type, page_in};
use super::carpet::{blocks, marks, whole};
use super::houses::{House, houses};
use super::panel::{MONTHS_HEIGHT, NAME_LINE, Panel, Scale};
use super::style::{INK, QUIET, TEXT_SIZE};
use super::{ChartInput, Drawn};
use crate::ReportError;
use crate::words::Words;

const CARPET: f64 = 96.0;
const GAP: f64 = 12.0;
/// Length of the ticks between the months.
const TICK: f64 = 4.0;
/// Room between the words of a caption.
const BETWEEN: f64 = 14.0;

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let houses = houses(drawn, false);
    let of_each = GAP + NAME_LINE + CARPET;
    let below = super::panel::count(houses.len()) * of_each + MONTHS_HEIGHT;
    let title = drawn.words.text("chart.humidity_year");
    let legend = legend(drawn.words);
    page_in(drawn.words, (&title, input.study), (&legend, below), |canvas, mut top| {
        for (place, house) in houses.iter().enumerate() {
            top += GAP + NAME_LINE;
            let scale = Scale { least: 0.0, greatest: 24.0, step: 6.0 };
            let panel = Panel { top, bottom: top + CARPET, scale, calendar: &drawn.calendar };
            let bands: Vec<usize> =
                house.year.hourly.relative_humidity.iter().map(|share| band_of(*share)).collect();
            caption(canvas, house, &bands, top - NAME_LINE / 2.0)?;
            carpet(canvas, &panel, &bands)?;
            if place + 1 == houses.len() {
                panel.months(canvas)?;
            }
            top += CARPET;
        }
        Ok(())
    })
}

/// The scale, from dry to damp.
pub fn legend(words: &Words) -> Vec<Entry> {
    let band = |band: usize| Entry {
        sample: Sample::Bar(COLOURS[band], super::style::Fill::Solid),
        words: words.text(WORDS[band]),
    };
    let name = Entry { sample: Sample::None, words: words.text("chart.humidity_axis") };
    std::iter::once(name).chain((0..BANDS).map(band)).collect()
}

/// The name of the axis on the left, the house with its hours outside 30 to 60 % on the right.
fn caption(canvas: &Canvas<'_>, house: &House<'_>, bands: &[usize], y: f64) -> Result<(), ReportError> {
    let axis = canvas.words.text("chart.hour_axis");
    canvas.text(&axis, (Panel::left(), y), Hang::Left, Type::plain(TEXT_SIZE, QUIET))?;
    let dry = bands.iter().filter(|band| **band < 2).count();
    let damp = bands.iter().filter(|band| **band == BANDS - 1).count();
    let words = canvas.words;
    let words = words.fill("chart.dry_and_damp", &[("dry", &dry.to_string()), ("damp", &damp.to_string())]);
    let look = Type::plain(TEXT_SIZE, INK);
    canvas.text(&words, (Panel::right(), y), Hang::Right, look)?;
    let right = Panel::right() - canvas.text_width(&words, look)? - BETWEEN;
    let bold = Type::bold(TEXT_SIZE, INK);
    let room = right - Panel::left() - canvas.text_width(&axis, look)? - BETWEEN;
    let shrink = (room / canvas.text_width(&house.name, bold)?.max(1.0)).min(1.0);
    canvas.text(&house.name, (right, y), Hang::Right, Type { size: TEXT_SIZE * shrink, ..bold })
}

/// Each step of the scale lies upon the one before it, outwards from the middle: no other colour shines through where
/// pieces meet.
fn carpet(canvas: &Canvas<'_>, panel: &Panel<'_>, bands: &[usize]) -> Result<(), ReportError> {
    canvas.rect(whole(panel), (COLOURS[MIDDLE], 1.0))?;
    for (band, colour) in COLOURS.iter().enumerate().take(MIDDLE).rev() {
        for block in blocks(bands, |of_hour| (*of_hour <= band).then_some(band)) {
            canvas.rect(block.rect(panel), (*colour, 1.0))?;
        }
    }
    for (band, colour) in COLOURS.iter().enumerate().skip(MIDDLE + 1) {
        for block in blocks(bands, |of_hour| (*of_hour >= band).then_some(band)) {
            canvas.rect(block.rect(panel), (*colour, 1.0))?;
        }
    }
    marks(canvas, panel)?;
    // Below the carpet, not across it, where a line would look like an hour.
    for month in 1..12 {
        let x = panel.month(month).0;
        let tick = [(x, panel.bottom), (x, panel.bottom + TICK)];
        canvas.line(&tick, Stroke { colour: QUIET, width: 0.75, dash: None })?;
    }
    Ok(())
}

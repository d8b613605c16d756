//! What each unit does about frost, hour by hour: days across, hours of the day down, a panel for each unit.
//!
//! An hour is drawn as the first of these that holds: blocked, in defrost, preheated, air past the core, ice forming. Not here:
//! how much ice (`frost`), what it costs (`protection`).

use plotters::style::RGBColor;
use simulation::results::{Hourly, HouseYear};

use super::canvas::{Canvas, Entry, Sample, picture_in};
use super::carpet::{blocks, marks};
use super::panel::{MONTHS_HEIGHT, NAME_LINE, Panel, Scale};
use super::style::palette;
use super::{ChartInput, Drawn};
use crate::ReportError;
use crate::columns::FROST_HOUR_KG;
use crate::words::Words;

const PANEL_HEIGHT: f64 = 120.0;
/// Height of the panel of a unit of which there is nothing to draw.
const BARE_HEIGHT: f64 = 14.0;
const PANEL_GAP: f64 = 12.0;
/// Room for a title of two lines and a legend of two.
const HEAD: f64 = 103.0;
/// A preheater on for less than this is rounding \[W\].
const PREHEAT_W: f64 = 0.5;

/// What an hour is drawn as, the darker the graver.
struct Kind {
    /// Key of its words.
    words: &'static str,
    colour: RGBColor,
    holds: fn(&Hourly, usize) -> bool,
}

const KINDS: [Kind; 5] = [
    Kind { words: "chart.blocked", colour: palette::BLACK, holds: |h, i| h.blocked_share[i] > 0.0 },
    Kind { words: "chart.defrost", colour: palette::BLUE, holds: |h, i| h.defrost_share[i] > 0.0 },
    Kind { words: "chart.preheated", colour: palette::VERMILLION, holds: |h, i| h.preheat_w[i] > PREHEAT_W },
    Kind { words: "chart.past_core", colour: palette::BLUISH_GREEN, holds: |h, i| h.bypass_share[i] > 0.0 },
    Kind {
        words: "chart.ice_forms",
        colour: palette::SKY_BLUE,
        holds: |h, i| h.ice_formed_kg[i] >= FROST_HOUR_KG,
    },
];

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let hours: Vec<Vec<Option<usize>>> = drawn.units.iter().map(|year| kinds_of(year)).collect();
    let heights: Vec<f64> = hours.iter().map(|of_unit| height(of_unit)).collect();
    let panels: f64 = heights.iter().map(|height| PANEL_GAP + NAME_LINE + height).sum();
    picture_in(drawn.words, HEAD + panels + MONTHS_HEIGHT, |canvas| {
        let title = drawn.words.text("chart.frost_hours");
        let mut bottom = canvas.head(&title, input.study, &legend(drawn.words, &hours))?;
        for (place, year) in drawn.units.iter().enumerate() {
            bottom += PANEL_GAP + NAME_LINE + heights[place];
            let scale = Scale { least: 0.0, greatest: 24.0, step: 6.0 };
            let panel = Panel { top: bottom - heights[place], bottom, scale, calendar: &drawn.calendar };
            carpet(canvas, &panel, (&year.unit, &hours[place]))?;
            panel.base(canvas)?;
            if place + 1 == drawn.units.len() {
                panel.months(canvas)?;
            }
        }
        Ok(())
    })
}

fn kinds_of(year: &HouseYear) -> Vec<Option<usize>> {
    let of_hour = |hour| KINDS.iter().position(|kind| (kind.holds)(&year.hourly, hour));
    (0..year.hourly.outdoor_c.len()).map(of_hour).collect()
}

fn height(hours: &[Option<usize>]) -> f64 {
    if hours.iter().any(Option::is_some) { PANEL_HEIGHT } else { BARE_HEIGHT }
}

/// The kinds that are met.
fn legend(words: &Words, hours: &[Vec<Option<usize>>]) -> Vec<Entry> {
    let met = |place: usize| hours.iter().flatten().any(|kind| *kind == Some(place));
    let entry = |(_, kind): (usize, &Kind)| Entry {
        sample: Sample::Band(kind.colour, 1.0),
        words: words.text(kind.words),
    };
    KINDS.iter().enumerate().filter(|(place, _)| met(*place)).map(entry).collect()
}

fn carpet(
    canvas: &Canvas<'_>,
    panel: &Panel<'_>,
    (unit, hours): (&str, &[Option<usize>]),
) -> Result<(), ReportError> {
    if hours.iter().all(Option::is_none) {
        return panel.bare(canvas, &canvas.words.fill("chart.no_frost_hours", &[("name", unit)]));
    }
    panel.bare_with(canvas, &canvas.words.text("chart.hour_axis"), unit)?;
    for block in blocks(hours, |kind| *kind) {
        canvas.rect(block.rect(panel), (KINDS[block.class].colour, 1.0))?;
    }
    marks(canvas, panel)
}

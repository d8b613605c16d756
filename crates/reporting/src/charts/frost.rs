//! Outdoor temperature, and below it the ice that formed each day, a panel for each unit.

use simulation::results::HouseYear;

use super::canvas::{Canvas, Entry, Rect, Sample, Stroke, picture_in};
use super::panel::{MONTHS_HEIGHT, NAME_LINE, Panel, Scale, count};
use super::style::{INK, QUIET, palette, unit_look};
use super::{ChartInput, Drawn};
use crate::ReportError;
use crate::columns::FROST_HOUR_KG;
use crate::words::Words;

const OUTDOOR_HEIGHT: f64 = 170.0;
const ICE_HEIGHT: f64 = 96.0;
/// Height of the panel of a unit without frost.
const BARE_HEIGHT: f64 = 14.0;
const PANEL_GAP: f64 = 12.0;
const BAND_ALPHA: f64 = 0.45;
/// Room for a title of two lines and a legend of one.
const HEAD: f64 = 84.0;

/// A unit's ice: amounts only where some hour is one with frost, since the rest is rounding.
struct Ice<'a> {
    unit: &'a str,
    hours: usize,
    daily: Vec<f64>,
}

impl Ice<'_> {
    fn height(&self) -> f64 {
        if self.hours == 0 { BARE_HEIGHT } else { ICE_HEIGHT }
    }
}

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let units: Vec<Ice<'_>> = drawn.units.iter().map(|year| ice(input, drawn, year)).collect();
    let panels: f64 = units.iter().map(|ice| PANEL_GAP + NAME_LINE + ice.height()).sum();
    let height = HEAD + NAME_LINE + OUTDOOR_HEIGHT + panels + MONTHS_HEIGHT;
    picture_in(drawn.words, height, |canvas| {
        let title = drawn.words.text("chart.frost");
        let head = canvas.head(&title, input.study, &legend(drawn.words))?;
        let mut bottom = head + NAME_LINE + OUTDOOR_HEIGHT;
        outdoor(canvas, input, drawn, bottom)?;
        let most = units.iter().flat_map(|ice| &ice.daily).copied().fold(0.0, f64::max);
        let scale = Scale::around(0.0, most, 3.0);
        for (place, ice) in units.iter().enumerate() {
            bottom += PANEL_GAP + NAME_LINE + ice.height();
            let panel = Panel { top: bottom - ice.height(), bottom, scale, calendar: &drawn.calendar };
            bars(canvas, &panel, input, (place, ice))?;
            panel.base(canvas)?;
            if place + 1 == units.len() {
                panel.months(canvas)?;
            }
        }
        Ok(())
    })
}

fn bars(
    canvas: &Canvas<'_>,
    panel: &Panel<'_>,
    input: &ChartInput<'_>,
    (place, ice): (usize, &Ice<'_>),
) -> Result<(), ReportError> {
    let unit = input.show_in.mass_unit();
    if ice.hours == 0 {
        return panel.bare(canvas, &canvas.words.fill("chart.no_frost", &[("name", ice.unit)]));
    }
    let total: f64 = ice.daily.iter().sum();
    let decimals = if total < 1.0 { 3 } else { 1 };
    let (total, hours) = (canvas.words.number(total, decimals), ice.hours.to_string());
    let pieces = [("name", ice.unit), ("total", &total), ("unit", unit), ("hours", &hours)];
    let heading = canvas.words.fill("chart.ice_heading", &pieces);
    panel.axes(canvas, &canvas.words.fill("chart.ice_formed_axis", &[("unit", unit)]), &heading)?;
    for (day, amount) in ice.daily.iter().enumerate().filter(|(_, amount)| **amount > 0.0) {
        let (from, to) = (panel.x(count(day)), panel.x(count(day + 1)));
        let rect = Rect { from: (from, panel.y(*amount)), to: (to, panel.y(0.0)) };
        canvas.rect(rect, (unit_look(place).colour, 1.0))?;
    }
    Ok(())
}

fn legend(words: &Words) -> [Entry; 3] {
    let mean = Stroke { colour: INK, width: 1.1, dash: None };
    [
        Entry { sample: Sample::Line(mean), words: words.text("chart.daily_mean") },
        Entry { sample: Sample::Band(palette::SKY_BLUE, BAND_ALPHA), words: words.text("chart.daily_range") },
        Entry {
            sample: Sample::Line(Stroke { colour: QUIET, width: 1.0, dash: Some((4, 3)) }),
            words: words.text("chart.freezing_point"),
        },
    ]
}

fn outdoor(
    canvas: &Canvas<'_>,
    input: &ChartInput<'_>,
    drawn: &Drawn<'_>,
    bottom: f64,
) -> Result<(), ReportError> {
    let Some(year) = drawn.units.first() else { return Ok(()) };
    let shown: Vec<f64> = year.hourly.outdoor_c.iter().map(|c| input.show_in.temperature(*c)).collect();
    let days = drawn.days(&shown);
    let freezing = input.show_in.temperature(0.0);
    let least = days.iter().map(|day| day.least).fold(freezing, f64::min);
    let greatest = days.iter().map(|day| day.greatest).fold(freezing, f64::max);
    let scale = Scale::around(least, greatest, 6.5);
    let panel = Panel { top: bottom - OUTDOOR_HEIGHT, bottom, scale, calendar: &drawn.calendar };
    let unit = ("unit", input.show_in.temperature_unit());
    panel.axes(canvas, &canvas.words.fill("chart.outdoor_axis", &[unit]), "")?;
    let upper = panel.points(days.iter().map(|day| day.greatest));
    let lower = panel.points(days.iter().map(|day| day.least));
    canvas.band(&upper, &lower, (palette::SKY_BLUE, BAND_ALPHA))?;
    let mean = Stroke { colour: INK, width: 1.1, dash: None };
    canvas.line(&panel.points(days.iter().map(|day| day.mean)), mean)?;
    let y = panel.y(freezing);
    canvas.line(
        &[(Panel::left(), y), (Panel::right(), y)],
        Stroke { colour: QUIET, width: 1.0, dash: Some((4, 3)) },
    )
}

fn ice<'a>(input: &ChartInput<'_>, drawn: &Drawn<'_>, year: &'a HouseYear) -> Ice<'a> {
    let formed = &year.hourly.ice_formed_kg;
    let hours = formed.iter().filter(|kg| **kg >= FROST_HOUR_KG).count();
    let day_sum = |hours: &[f64]| input.show_in.mass(hours.iter().sum::<f64>());
    let daily = if hours == 0 {
        Vec::new()
    } else {
        formed.chunks_exact(24).take(drawn.calendar.days()).map(day_sum).collect()
    };
    Ice { unit: &year.unit, hours, daily }
}

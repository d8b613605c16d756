//! Outdoor temperature, and below it the ice that formed each day, a panel for each unit.

use simulation::results::HouseYear;

use super::canvas::{Canvas, Entry, Rect, Sample, Stroke, picture};
use super::panel::{MONTHS_HEIGHT, NAME_LINE, Panel, Scale, count};
use super::style::{INK, QUIET, palette, unit_look};
use super::{ChartInput, Drawn};
use crate::ReportError;
use crate::columns::FROST_HOUR_KG;

const OUTDOOR_HEIGHT: f64 = 170.0;
const ICE_HEIGHT: f64 = 96.0;
const PANEL_GAP: f64 = 12.0;
const BAND_ALPHA: f64 = 0.45;
/// Room for a title of two lines and a legend of one.
const HEAD: f64 = 84.0;

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let ice: Vec<Vec<f64>> = drawn.units.iter().map(|year| ice_by_day(input, drawn, year)).collect();
    let height = HEAD
        + NAME_LINE
        + OUTDOOR_HEIGHT
        + count(drawn.units.len()) * (PANEL_GAP + NAME_LINE + ICE_HEIGHT)
        + MONTHS_HEIGHT;
    picture(height, |canvas| {
        let head = canvas.head("Outdoor temperature and ice in the core", input.study, &legend())?;
        let mut bottom = head + NAME_LINE + OUTDOOR_HEIGHT;
        outdoor(canvas, input, drawn, bottom)?;
        let most = ice.iter().flatten().copied().fold(0.0, f64::max);
        let scale = Scale::around(0.0, most, 3.0);
        for (place, (year, daily)) in drawn.units.iter().zip(&ice).enumerate() {
            bottom += PANEL_GAP + NAME_LINE + ICE_HEIGHT;
            let panel = Panel { top: bottom - ICE_HEIGHT, bottom, scale, calendar: &drawn.calendar };
            let name = format!("ice formed [{}/day]", input.show_in.mass_unit());
            panel.axes(canvas, &name, &heading(input, year, daily))?;
            for (day, amount) in daily.iter().enumerate().filter(|(_, amount)| **amount > 0.0) {
                let (from, to) = (panel.x(count(day)), panel.x(count(day + 1)));
                let rect = Rect { from: (from, panel.y(*amount)), to: (to, panel.y(0.0)) };
                canvas.rect(rect, (unit_look(place).colour, 1.0))?;
            }
            panel.base(canvas)?;
            if place + 1 == drawn.units.len() {
                panel.months(canvas)?;
            }
        }
        Ok(())
    })
}

fn legend() -> [Entry; 3] {
    let mean = Stroke { colour: INK, width: 1.1, dash: None };
    [
        Entry { sample: Sample::Line(mean), words: "daily mean".to_owned() },
        Entry {
            sample: Sample::Band(palette::SKY_BLUE, BAND_ALPHA),
            words: "least to greatest hour of the day".to_owned(),
        },
        Entry {
            sample: Sample::Line(Stroke { colour: QUIET, width: 1.0, dash: Some((4, 3)) }),
            words: "freezing point of water".to_owned(),
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
    panel.axes(canvas, &format!("outdoor dry bulb [{}]", input.show_in.temperature_unit()), "")?;
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

fn heading(input: &ChartInput<'_>, year: &HouseYear, daily: &[f64]) -> String {
    let hours = year.hourly.ice_formed_kg.iter().filter(|kg| **kg >= FROST_HOUR_KG).count();
    let (total, unit) = (daily.iter().sum::<f64>(), input.show_in.mass_unit());
    if hours == 0 {
        format!("{}: no frost", year.unit)
    } else {
        format!("{}: {total:.1} {unit} of ice, frost in {hours} h", year.unit)
    }
}

fn ice_by_day(input: &ChartInput<'_>, drawn: &Drawn<'_>, year: &HouseYear) -> Vec<f64> {
    let day_sum = |hours: &[f64]| input.show_in.mass(hours.iter().sum::<f64>());
    year.hourly.ice_formed_kg.chunks_exact(24).take(drawn.calendar.days()).map(day_sum).collect()
}

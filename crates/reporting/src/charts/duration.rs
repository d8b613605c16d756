//! A year's hours sorted: indoor relative humidity, and temperature of the supply air, of every unit and without recovery.
//!
//! Not here: the curves and their names (`duration_plot`).

use super::canvas::{Rect, page_in};
use super::duration_plot::{Duration, Level, Line};
use super::houses::{House, houses};
use super::style::PICTURE_WIDTH;
use super::{ChartInput, Drawn};
use crate::ReportError;

const LEFT: f64 = 56.0;
const RIGHT: f64 = 24.0;
const AXIS_NAME: f64 = 24.0;
const FRAME: f64 = 280.0;
const NUMBERS: f64 = 50.0;
/// Longest name beside a line, in characters.
const LONGEST_NAME: usize = 34;

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let title = drawn.words.text("chart.duration");
    let both = [humidity(drawn), supply(input, drawn)];
    let of_each = AXIS_NAME + FRAME + NUMBERS;
    page_in(drawn.words, (&title, input.study), (&[], 2.0 * of_each), |canvas, top| {
        for (place, duration) in both.iter().enumerate() {
            let top = top - 14.0 + super::panel::count(place) * of_each + AXIS_NAME;
            let frame = Rect { from: (LEFT, top), to: (f64::from(PICTURE_WIDTH) - RIGHT, top + FRAME) };
            duration.draw(canvas, frame)?;
        }
        Ok(())
    })
}

fn humidity(drawn: &Drawn<'_>) -> Duration {
    let houses = houses(drawn, true);
    let line = |house: &House<'_>| {
        named(house, house.year.hourly.relative_humidity.iter().map(|share| share * 100.0).collect())
    };
    let level = |value: f64| Level { value, words: format!("{value:.0} %") };
    Duration {
        across: drawn.words.text("chart.duration_humid"),
        up: drawn.words.text("chart.humidity_axis"),
        lines: houses.iter().map(line).collect(),
        levels: [30.0, 60.0].map(level).into(),
    }
}

/// Hours in which no air is supplied are left out.
fn supply(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Duration {
    let (show_in, houses) = (input.show_in, houses(drawn, false));
    let line = |house: &House<'_>| {
        let hourly = &house.year.hourly;
        let hours = hourly.supply_c.iter().zip(&hourly.delivered_air_kg);
        let values = hours.filter(|(_, kg)| **kg > 0.0).map(|(celsius, _)| show_in.temperature(*celsius));
        named(house, values.collect())
    };
    let unit = show_in.temperature_unit();
    let freezing = show_in.temperature(0.0);
    Duration {
        across: drawn.words.text("chart.duration_warm"),
        up: drawn.words.fill("chart.supply_axis", &[("unit", unit)]),
        lines: houses.iter().map(line).filter(|line| !line.values.is_empty()).collect(),
        levels: vec![Level {
            value: freezing,
            words: drawn
                .words
                .fill("chart.freezing", &[("value", &format!("{freezing:.0}")), ("unit", unit)]),
        }],
    }
}

fn named(house: &House<'_>, values: Vec<f64>) -> Line {
    let letters = house.name.chars().count();
    let name = if letters > LONGEST_NAME {
        // The ends of long names differ as often as their beginnings.
        let half = (LONGEST_NAME - 1) / 2;
        let start: String = house.name.chars().take(half).collect();
        let end: String = house.name.chars().skip(letters - half).collect();
        format!("{start}…{end}")
    } else {
        house.name.clone()
    };
    Line { name, look: house.look, values }
}

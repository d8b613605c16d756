//! Condensate by month, a bar for each unit.

use simulation::results::HouseYear;

use super::canvas::{Entry, Rect, Sample, picture_in};
use super::panel::{MONTHS_HEIGHT, NAME_LINE, Panel, Scale, count};
use super::style::unit_look;
use super::{ChartInput, Drawn};
use crate::ReportError;

const HEIGHT: f64 = 400.0;
/// Share of a month's width that its bars take.
const FILLED: f64 = 0.72;

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let monthly: Vec<[f64; 12]> = drawn.units.iter().map(|year| by_month(input, drawn, year)).collect();
    let entries: Vec<Entry> = drawn
        .units
        .iter()
        .zip(&monthly)
        .enumerate()
        .map(|(place, (year, months))| {
            let (look, total) = (unit_look(place), months.iter().sum::<f64>());
            let total = drawn.words.number(total, 0);
            let pieces =
                [("name", year.unit.as_str()), ("total", &total), ("unit", input.show_in.volume_unit())];
            let words = drawn.words.fill("chart.in_the_year", &pieces);
            Entry { sample: Sample::Bar(look.colour, look.fill), words }
        })
        .collect();
    picture_in(drawn.words, HEIGHT, |canvas| {
        let title = drawn.words.text("chart.condensate");
        let top = canvas.head(&title, input.study, &entries)? + NAME_LINE;
        let most = monthly.iter().flatten().copied().fold(0.0, f64::max);
        let (scale, bottom) = (Scale::around(0.0, most, 6.0), HEIGHT - MONTHS_HEIGHT);
        let panel = Panel { top, bottom, scale, calendar: &drawn.calendar };
        let unit = input.show_in.volume_unit();
        let name = drawn.words.fill("chart.condensate_axis", &[("unit", unit)]);
        panel.axes(canvas, &name, "")?;
        for (place, months) in monthly.iter().enumerate() {
            let look = unit_look(place);
            for (month, litres) in months.iter().enumerate().filter(|(_, litres)| **litres > 0.0) {
                canvas.bar(bar(&panel, month, (place, monthly.len()), *litres), look.colour, look.fill)?;
            }
        }
        panel.base(canvas)?;
        panel.months(canvas)
    })
}

fn bar(panel: &Panel<'_>, month: usize, (place, of): (usize, usize), value: f64) -> Rect {
    let (left, right) = panel.month(month);
    let each = (right - left) * FILLED / count(of);
    let start = left + (right - left) * (1.0 - FILLED) / 2.0 + each * count(place);
    Rect { from: (start + 1.0, panel.y(value)), to: (start + each - 1.0, panel.y(0.0)) }
}

fn by_month(input: &ChartInput<'_>, drawn: &Drawn<'_>, year: &HouseYear) -> [f64; 12] {
    std::array::from_fn(|month| {
        let litres: f64 = year.hourly.drain_kg[drawn.calendar.hours_of(month)].iter().sum();
        input.show_in.volume(litres)
    })
}

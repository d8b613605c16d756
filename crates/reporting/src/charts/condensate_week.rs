//! Water to the drain by month, and beside it the worst week hour by hour: to the drain, as ice, and ice in the core.
//!
//! The worst week are the seven days from midnight in which the core of some unit takes most water out of the extract air,
//! as liquid or as ice; it is drawn for every unit. Not here: the months of all units in one plot (`condensate`).

use simulation::results::HouseYear;

use super::canvas::{Canvas, Entry, Hang, MARGIN, Rect, Sample, Stroke, Type, page_in};
use super::month_plot::{MONTHS_HEIGHT, MonthPlot, NAME_LINE};
use super::panel::{Scale, count};
use super::style::{FAINT, INK, PICTURE_WIDTH, QUIET, SMALL_SIZE, TEXT_SIZE, TICK_SIZE, palette};
use super::{ChartInput, Drawn};
use crate::ReportError;
use crate::calendar::HOURS_PER_DAY;

const NUMBERS: f64 = 38.0;
/// Right end of the months' plot, left end of the week's.
const MONTHS_END: f64 = 350.0;
const WEEK_START: f64 = 412.0;
/// Heights of the week's two plots.
const FLOWS: f64 = 86.0;
const ICE: f64 = 44.0;
const BETWEEN: f64 = NAME_LINE + 6.0;
const GAP: f64 = 6.0;
const FILLED: f64 = 0.72;
const DAYS: usize = 7;
const WEEK_HOURS: usize = DAYS * HOURS_PER_DAY;
/// Less than this on every axis is no water worth a scale \[kg\].
const LEAST_KG: f64 = 1e-6;

const DRAIN: Stroke = Stroke { colour: INK, width: 1.4, dash: None };

/// The greatest values of all units: of a month, of an hour's flow, of the ice in the core.
struct Most {
    month: f64,
    flow: f64,
    ice: f64,
}

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let (unit, start) = worst_week(drawn);
    let most = most(input, drawn, start);
    let of_each = NAME_LINE + FLOWS + BETWEEN + ICE + MONTHS_HEIGHT + GAP;
    let title = drawn.words.text("chart.condensate_week");
    let legend = legend(drawn, unit, &most);
    let below = count(drawn.units.len()) * of_each;
    page_in(drawn.words, (&title, input.study), (&legend, below), |canvas, top| {
        for (place, year) in drawn.units.iter().enumerate() {
            let top = top + count(place) * of_each + NAME_LINE;
            let bottom = top + FLOWS + BETWEEN + ICE;
            let months = Rect { from: (MARGIN + NUMBERS, top), to: (MONTHS_END, bottom) };
            by_month(canvas, (input, drawn), (year, months), &most)?;
            let right = f64::from(PICTURE_WIDTH) - MARGIN;
            let flows = Rect { from: (WEEK_START, top), to: (right, top + FLOWS) };
            let ice = Rect { from: (WEEK_START, bottom - ICE), to: (right, bottom) };
            let (from, to) = (day(drawn, start), day(drawn, start + DAYS - 1));
            let days = drawn.words.fill("chart.days", &[("from", &from), ("to", &to)]);
            let heading = format!("{}, {days}", year.unit);
            let week = Week { input, drawn, year, start };
            week.flows(canvas, flows, (most.flow, &heading))?;
            week.ice(canvas, ice, most.ice)?;
        }
        Ok(())
    })
}

/// The unit and the day of the year on which the worst week begins; the first of equals.
fn worst_week(drawn: &Drawn<'_>) -> (usize, usize) {
    let mut worst = (f64::NEG_INFINITY, (0, 0));
    for (place, year) in drawn.units.iter().enumerate() {
        let of_day = |day: usize| -> f64 {
            let hours = day * HOURS_PER_DAY..(day + 1) * HOURS_PER_DAY;
            let taken = |hour| year.hourly.liquid_kg[hour] + year.hourly.ice_formed_kg[hour];
            hours.map(taken).sum()
        };
        let days: Vec<f64> = (0..drawn.calendar.days()).map(of_day).collect();
        for (start, week) in days.windows(DAYS).enumerate() {
            let sum = week.iter().sum::<f64>();
            if sum > worst.0 {
                worst = (sum, (place, start));
            }
        }
    }
    worst.1
}

fn most(input: &ChartInput<'_>, drawn: &Drawn<'_>, start: usize) -> Most {
    let hours = start * HOURS_PER_DAY..start * HOURS_PER_DAY + WEEK_HOURS;
    let mut most = Most { month: 0.0, flow: 0.0, ice: 0.0 };
    let shown = |kg: &f64| input.show_in.mass(*kg);
    for year in &drawn.units {
        let hourly = &year.hourly;
        let greatest = |values: &[f64]| values[hours.clone()].iter().map(shown).fold(0.0, f64::max);
        most.month = months(input, drawn, year).into_iter().fold(most.month, f64::max);
        most.flow = most.flow.max(greatest(&hourly.drain_kg)).max(greatest(&hourly.ice_formed_kg));
        most.ice = most.ice.max(greatest(&hourly.frost_kg));
    }
    most
}

fn months(input: &ChartInput<'_>, drawn: &Drawn<'_>, year: &HouseYear) -> [f64; 12] {
    std::array::from_fn(|month| {
        let litres: f64 = year.hourly.drain_kg[drawn.calendar.hours_of(month)].iter().sum();
        input.show_in.volume(litres)
    })
}

/// A day of the year as `3 Feb`.
fn day(drawn: &Drawn<'_>, day: usize) -> String {
    let stamp = drawn.calendar.stamp(day * HOURS_PER_DAY);
    format!("{} {}", stamp.day, drawn.words.short_month(stamp.month - 1))
}

fn legend(drawn: &Drawn<'_>, unit: usize, most: &Most) -> Vec<Entry> {
    let entry = |sample, key: &str| Entry { sample, words: drawn.words.text(key) };
    if most.flow < LEAST_KG && most.month < LEAST_KG {
        return vec![entry(Sample::None, "chart.no_water")];
    }
    let name = super::canvas::shortened(&drawn.units[unit].unit);
    let mut legend = vec![
        entry(Sample::Bar(palette::BLUE, super::style::Fill::Solid), "chart.drain_by_month"),
        entry(Sample::Line(DRAIN), "chart.drain_by_hour"),
    ];
    if most.ice >= LEAST_KG {
        legend.push(entry(Sample::Band(palette::SKY_BLUE, 1.0), "chart.ice_of_week"));
    }
    let words = drawn.words.fill("chart.worst_week", &[("name", &name)]);
    legend.push(Entry { sample: Sample::None, words });
    legend
}

fn by_month(
    canvas: &Canvas<'_>,
    (input, drawn): (&ChartInput<'_>, &Drawn<'_>),
    (year, frame): (&HouseYear, Rect),
    most: &Most,
) -> Result<(), ReportError> {
    let plot = MonthPlot { frame, up: scale(most.month, 5.0) };
    let unit = input.show_in.volume_unit();
    plot.axes(canvas, &drawn.words.fill("chart.drain_axis", &[("unit", unit)]), "")?;
    for (month, litres) in months(input, drawn, year).into_iter().enumerate() {
        let (left, right) = plot.column(month, FILLED, (0, 1));
        let rect = Rect { from: (left, plot.y(litres)), to: (right, plot.y(0.0)) };
        if litres > 0.0 {
            canvas.rect(rect, (palette::BLUE, 1.0))?;
        }
    }
    plot.base(canvas)
}

fn scale(most: f64, ticks: f64) -> Scale {
    if most < LEAST_KG {
        Scale { least: 0.0, greatest: 1.0, step: 1.0 }
    } else {
        Scale::around(0.0, most, ticks)
    }
}

/// One unit's worst week.
struct Week<'a> {
    input: &'a ChartInput<'a>,
    drawn: &'a Drawn<'a>,
    year: &'a HouseYear,
    start: usize,
}

impl Week<'_> {
    /// A column of the week, in the units shown.
    fn values(&self, column: &[f64]) -> Vec<f64> {
        let from = self.start * HOURS_PER_DAY;
        column[from..from + WEEK_HOURS].iter().map(|kg| self.input.show_in.mass(*kg)).collect()
    }

    fn flows(
        &self,
        canvas: &Canvas<'_>,
        frame: Rect,
        (most, heading): (f64, &str),
    ) -> Result<(), ReportError> {
        let up = scale(most, 4.0);
        let unit = ("unit", self.input.show_in.mass_unit());
        let name = canvas.words.fill("chart.water_axis", &[unit]);
        grid(canvas, (frame, up), (&name, heading))?;
        area(canvas, (frame, up), &self.values(&self.year.hourly.ice_formed_kg))?;
        canvas.line(&steps((frame, up), &self.values(&self.year.hourly.drain_kg)), DRAIN)?;
        base(canvas, frame)
    }

    fn ice(&self, canvas: &Canvas<'_>, frame: Rect, most: f64) -> Result<(), ReportError> {
        let up = scale(most, 2.0);
        let unit = ("unit", self.input.show_in.mass_unit());
        let name = canvas.words.fill("chart.ice_axis", &[unit]);
        let ice = self.values(&self.year.hourly.frost_kg);
        let none = ice.iter().all(|kg| *kg < LEAST_KG);
        let heading = if none { canvas.words.text("chart.none_this_week") } else { String::new() };
        grid(canvas, (frame, up), (&name, &heading))?;
        area(canvas, (frame, up), &ice)?;
        base(canvas, frame)?;
        for of_week in 0..DAYS {
            let at = (x(frame, (count(of_week) + 0.5) * count(HOURS_PER_DAY)), frame.to.1 + 12.0);
            let look = Type::plain(TICK_SIZE, QUIET);
            canvas.text(&day(self.drawn, self.start + of_week), at, Hang::Centre, look)?;
        }
        let at = (f64::midpoint(frame.from.0, frame.to.0), frame.to.1 + 29.0);
        canvas.text(&canvas.words.text("chart.day"), at, Hang::Centre, Type::plain(TEXT_SIZE, QUIET))
    }
}

fn x(frame: Rect, hour: f64) -> f64 {
    frame.from.0 + hour / count(WEEK_HOURS) * (frame.to.0 - frame.from.0)
}

fn y((frame, up): (Rect, Scale), value: f64) -> f64 {
    frame.to.1 - (value - up.least) / (up.greatest - up.least) * (frame.to.1 - frame.from.1)
}

/// Two points an hour: its value from its beginning to its end.
fn steps(plot: (Rect, Scale), values: &[f64]) -> Vec<(f64, f64)> {
    let of_hour = |(hour, value): (usize, &f64)| {
        let y = y(plot, *value);
        [(x(plot.0, count(hour)), y), (x(plot.0, count(hour + 1)), y)]
    };
    values.iter().enumerate().flat_map(of_hour).collect()
}

fn area(canvas: &Canvas<'_>, plot: (Rect, Scale), values: &[f64]) -> Result<(), ReportError> {
    if values.iter().all(|value| *value < LEAST_KG) {
        return Ok(());
    }
    let floor = plot.0.to.1;
    canvas.band(
        &steps(plot, values),
        &[(plot.0.from.0, floor), (plot.0.to.0, floor)],
        (palette::SKY_BLUE, 1.0),
    )
}

fn grid(
    canvas: &Canvas<'_>,
    (frame, up): (Rect, Scale),
    (name, heading): (&str, &str),
) -> Result<(), ReportError> {
    let grid = Stroke { colour: FAINT, width: 0.75, dash: None };
    for tick in up.ticks() {
        let y = y((frame, up), tick);
        canvas.line(&[(frame.from.0, y), (frame.to.0, y)], grid)?;
        let look = Type::plain(if up.ticks().len() > 5 { SMALL_SIZE } else { TICK_SIZE }, QUIET);
        canvas.text(&canvas.words.marked(&up.label(tick)), (frame.from.0 - 6.0, y), Hang::Right, look)?;
    }
    for day in 0..=DAYS {
        let x = x(frame, count(day * HOURS_PER_DAY));
        canvas.line(&[(x, frame.from.1), (x, frame.to.1)], grid)?;
    }
    let above = frame.from.1 - NAME_LINE / 2.0;
    canvas.text(name, (frame.from.0, above), Hang::Left, Type::plain(TEXT_SIZE, QUIET))?;
    let bold = Type::bold(TEXT_SIZE, INK);
    let room = frame.to.0 - frame.from.0 - canvas.text_width(name, bold)? - NAME_LINE / 2.0;
    let shrink = (room / canvas.text_width(heading, bold)?.max(1.0)).min(1.0);
    canvas.text(heading, (frame.to.0, above), Hang::Right, Type { size: TEXT_SIZE * shrink, ..bold })
}

fn base(canvas: &Canvas<'_>, frame: Rect) -> Result<(), ReportError> {
    let ends = [(frame.from.0, frame.to.1), frame.to];
    canvas.line(&ends, Stroke { colour: INK, width: 1.0, dash: None })
}

//! The mould index of the cold corner through the year, and below it the hours in which window edges are wet, by month.
//!
//! Not here: the index (`simulation::damage`), which levels mean what beyond the two that are marked.

use simulation::damage::damage;

use super::canvas::{Canvas, Entry, Point, Rect, Sample, Stroke, Type, page_in};
use super::houses::{House, houses};
use super::labels::{Labels, size_of, write};
use super::panel::{MONTHS_HEIGHT, NAME_LINE, Panel, Scale, count};
use super::style::{QUIET, TEXT_SIZE};
use super::{ChartInput, Drawn};
use crate::ReportError;
use crate::calendar::HOURS_PER_DAY;

const INDEX: f64 = 220.0;
/// The same where nothing grows.
const CLEAN: f64 = 120.0;
const WINDOWS: f64 = 150.0;
const GAP: f64 = 20.0;
const FILLED: f64 = 0.8;
/// The axis shows at least this, so that both levels stand clear.
const LEAST_TOP: f64 = 3.5;
/// Wet for less than this in a month is rounding \[h\].
const LEAST_H: f64 = 1e-6;

/// Levels of the index with the keys of what they mean.
///
/// # Source
/// \[HUKKA-VIITANEN\] A. Hukka and H. A. Viitanen, A mathematical model of mould growth on wooden material, Wood Science and
/// Technology 33, 1999: 1 some growth under the microscope, 3 growth seen with the naked eye (recalled).
const LEVELS: [(f64, &str); 2] = [(1.0, "chart.mould_first"), (3.0, "chart.mould_seen")];

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let houses = houses(drawn, true);
    let indices: Option<Vec<Vec<f64>>> = input
        .corner
        .map(|corner| houses.iter().map(|house| damage(&house.year.hourly, &corner).mould_index).collect());
    let wet: Vec<[f64; 12]> = houses.iter().map(|house| wet_hours(drawn, house)).collect();
    let entry = |(place, house): (usize, &House<'_>)| {
        let most = indices.as_ref().map(|all| all[place].iter().copied().fold(0.0, f64::max));
        let name = super::canvas::shortened(&house.name);
        let hours = drawn.words.number(wet[place].iter().sum::<f64>(), 0);
        let most = most.map(|most| drawn.words.number(most, 2));
        Entry {
            sample: Sample::LineAndBar(house.look),
            words: match &most {
                Some(most) => drawn
                    .words
                    .fill("chart.index_and_edges", &[("name", &name), ("index", most), ("hours", &hours)]),
                None => drawn.words.fill("chart.edges", &[("name", &name), ("hours", &hours)]),
            },
        }
    };
    let legend: Vec<Entry> = houses.iter().enumerate().map(entry).collect();
    let grows = indices.iter().flatten().flatten().any(|index| *index >= LEVELS[0].0);
    let height = if grows { INDEX } else { CLEAN };
    let below = 2.0 * NAME_LINE + height + GAP + WINDOWS + MONTHS_HEIGHT;
    let title = drawn.words.text("chart.mould");
    page_in(drawn.words, (&title, input.study), (&legend, below), |canvas, top| {
        let top = top + NAME_LINE;
        match &indices {
            Some(indices) => index_panel(canvas, drawn, (&houses, indices), (top, top + height))?,
            None => nothing(canvas, drawn, "chart.no_corner", (top, top + height))?,
        }
        windows_panel(canvas, drawn, (&houses, &wet), top + height + GAP + NAME_LINE)
    })
}

fn nothing(
    canvas: &Canvas<'_>,
    drawn: &Drawn<'_>,
    words: &str,
    (top, bottom): (f64, f64),
) -> Result<(), ReportError> {
    let scale = Scale { least: 0.0, greatest: 1.0, step: 1.0 };
    let panel = Panel { top, bottom, scale, calendar: &drawn.calendar };
    panel.bare(canvas, &canvas.words.text(words))?;
    panel.base(canvas)
}

fn index_panel(
    canvas: &Canvas<'_>,
    drawn: &Drawn<'_>,
    (houses, indices): (&[House<'_>], &[Vec<f64>]),
    (top, bottom): (f64, f64),
) -> Result<(), ReportError> {
    let most = indices.iter().flatten().copied().fold(LEAST_TOP, f64::max);
    let scale = Scale::around(0.0, most, 5.0);
    let panel = Panel { top, bottom, scale, calendar: &drawn.calendar };
    panel.axes(canvas, &canvas.words.text("chart.mould_axis"), "")?;
    for (value, _) in LEVELS {
        let y = panel.y(value);
        let stroke = Stroke { colour: QUIET, width: 1.0, dash: Some((3, 3)) };
        canvas.line(&[(Panel::left(), y), (Panel::right(), y)], stroke)?;
    }
    let mut labels = Labels::new(Rect { from: (Panel::left(), top), to: (Panel::right(), bottom) });
    for (house, index) in houses.iter().zip(indices) {
        let line: Vec<Point> = index
            .iter()
            .enumerate()
            .filter(|(hour, _)| hour % HOURS_PER_DAY == HOURS_PER_DAY - 1)
            .map(|(hour, index)| (panel.x(count(hour + 1) / count(HOURS_PER_DAY)), panel.y(*index)))
            .collect();
        labels.avoid(&line);
        canvas.line(&line, house.stroke())?;
    }
    for (value, words) in LEVELS {
        level(canvas, &panel, (value, &canvas.words.text(words)), &mut labels)?;
    }
    panel.base(canvas)
}

/// The words of a level above or below it, where they cover no line.
fn level(
    canvas: &Canvas<'_>,
    panel: &Panel<'_>,
    (value, words): (f64, &str),
    labels: &mut Labels,
) -> Result<(), ReportError> {
    const PLACES: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];
    let look = Type::plain(TEXT_SIZE, QUIET);
    let size = size_of(canvas, words, look)?;
    let (left, right) = (Panel::left() + size.0 / 2.0 + 4.0, Panel::right() - size.0 / 2.0 - 4.0);
    let beside = size.1 / 2.0 + 1.0;
    let middles: Vec<Point> = [-beside, beside]
        .into_iter()
        .flat_map(|up| PLACES.map(|place| (left + place * (right - left), panel.y(value) + up)))
        .collect();
    match labels.best_of(&middles, size) {
        Some(rect) => write(canvas, words, rect, look),
        None => Ok(()),
    }
}

fn wet_hours(drawn: &Drawn<'_>, house: &House<'_>) -> [f64; 12] {
    let shares = &house.year.hourly.window_edge_wet_share;
    std::array::from_fn(|month| shares[drawn.calendar.hours_of(month)].iter().sum())
}

/// A month's wet hours, a bar for each house that has any.
fn month_bars(
    canvas: &Canvas<'_>,
    panel: &Panel<'_>,
    month: usize,
    (houses, wet): (&[House<'_>], &[[f64; 12]]),
) -> Result<(), ReportError> {
    let (left, right) = panel.month(month);
    let each = (right - left) * FILLED / count(houses.len());
    let start = left + (right - left) * (1.0 - FILLED) / 2.0;
    for (place, house) in houses.iter().enumerate().filter(|(place, _)| wet[*place][month] >= LEAST_H) {
        let x = start + each * count(place);
        let rect = Rect { from: (x + 0.5, panel.y(wet[place][month])), to: (x + each - 0.5, panel.y(0.0)) };
        canvas.bar(rect, house.look.colour, house.look.fill)?;
    }
    Ok(())
}

fn windows_panel(
    canvas: &Canvas<'_>,
    drawn: &Drawn<'_>,
    (houses, wet): (&[House<'_>], &[[f64; 12]]),
    top: f64,
) -> Result<(), ReportError> {
    let most = wet.iter().flatten().copied().fold(0.0, f64::max);
    let dry = most < LEAST_H;
    let scale =
        if dry { Scale { least: 0.0, greatest: 1.0, step: 1.0 } } else { Scale::around(0.0, most, 4.0) };
    let panel = Panel { top, bottom: top + WINDOWS, scale, calendar: &drawn.calendar };
    if dry {
        panel.bare(canvas, &canvas.words.text("chart.edges_dry"))?;
    } else {
        panel.axes(canvas, &canvas.words.text("chart.edges_axis"), "")?;
    }
    for month in 0..12 {
        month_bars(canvas, &panel, month, (houses, wet))?;
    }
    panel.base(canvas)?;
    panel.months(canvas)
}

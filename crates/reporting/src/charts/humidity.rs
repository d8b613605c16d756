//! Indoor relative humidity through the year.

use simulation::results::{Case, HouseYear};

use super::canvas::{Canvas, Entry, Sample, Stroke, picture_in};
use super::panel::{MONTHS_HEIGHT, NAME_LINE, Panel, Scale};
use super::style::{Dash, INK, QUIET, SHADE, unit_look};
use super::{ChartInput, Day, Drawn};
use crate::ReportError;

const HEIGHT: f64 = 480.0;
const LOW_PCT: f64 = 30.0;
const HIGH_PCT: f64 = 60.0;
/// The axis shows at least this much on either side of the shaded band \[%\].
const ROOM_PCT: f64 = 10.0;
/// Days before and after that a running mean takes in.
const REACH: usize = 3;
/// Above this many units their daily ranges would only hide each other.
const MOST_BANDS: usize = 3;
const BAND_ALPHA: f64 = 0.14;
/// Baselines that stay this close all year are one line \[%\].
const SAME_PCT: f64 = 0.5;

struct Line {
    words: String,
    stroke: Stroke,
    band: Option<Vec<Day>>,
    mean: Vec<f64>,
}

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let lines = lines(drawn);
    picture_in(drawn.words, HEIGHT, |canvas| {
        let title = drawn.words.text("chart.humidity");
        let top = canvas.head(&title, input.study, &legend(drawn, &lines))? + NAME_LINE;
        let panel =
            Panel { top, bottom: HEIGHT - MONTHS_HEIGHT, scale: scale(&lines), calendar: &drawn.calendar };
        canvas.rect(panel.across(LOW_PCT, HIGH_PCT), (SHADE, 1.0))?;
        panel.axes(canvas, &drawn.words.text("chart.humidity_axis"), "")?;
        for line in &lines {
            band(canvas, &panel, line)?;
        }
        for line in &lines {
            canvas.line(&panel.points(line.mean.iter().copied()), line.stroke)?;
        }
        panel.base(canvas)?;
        panel.months(canvas)
    })
}

fn lines(drawn: &Drawn<'_>) -> Vec<Line> {
    let bands = drawn.units.len() <= MOST_BANDS;
    let units = drawn.units.iter().enumerate().map(|(place, year)| {
        let days = days(drawn, year);
        let stroke = Stroke::from(unit_look(place));
        Line { words: year.unit.clone(), stroke, mean: running_mean(&days), band: bands.then_some(days) }
    });
    let mut lines: Vec<Line> = units.collect();
    for (place, year) in drawn.baselines.iter().enumerate() {
        let mean = running_mean(&days(drawn, year));
        let known = lines.iter_mut().skip(drawn.units.len()).find(|line| same(&line.mean, &mean));
        match known {
            Some(line) if year.case == Case::NoRecovery => {
                line.words = format!("{}, {})", line.words.trim_end_matches(')'), year.unit);
            }
            _ => lines.push(Line {
                words: baseline_words(drawn, year),
                stroke: baseline_stroke(place, year),
                band: None,
                mean,
            }),
        }
    }
    let no_recovery = drawn.words.text("chart.no_recovery");
    let mut bare =
        lines.iter_mut().skip(drawn.units.len()).filter(|line| line.words.starts_with(&no_recovery));
    if let (Some(line), None) = (bare.next(), bare.next()) {
        line.words.clone_from(&no_recovery);
    }
    lines
}

fn baseline_words(drawn: &Drawn<'_>, year: &HouseYear) -> String {
    match year.case {
        Case::NoRecovery => format!("{} ({})", drawn.words.text("chart.no_recovery"), year.unit),
        _ => drawn.words.text("chart.no_ventilation"),
    }
}

fn baseline_stroke(place: usize, year: &HouseYear) -> Stroke {
    const DASHES: [Dash; 4] = [Some((4, 5)), Some((1, 3)), Some((9, 5)), Some((2, 7))];
    match year.case {
        Case::UnitHeld | Case::NoRecoveryHeld | Case::ExtractOnly | Case::NoVentilation => {
            Stroke { colour: QUIET, width: 0.75, dash: None }
        }
        _ => Stroke { colour: INK, width: 1.0, dash: DASHES[place % DASHES.len()] },
    }
}

fn legend(drawn: &Drawn<'_>, lines: &[Line]) -> Vec<Entry> {
    let mut entries: Vec<Entry> = lines
        .iter()
        .map(|line| Entry { sample: Sample::Line(line.stroke), words: line.words.clone() })
        .collect();
    entries.push(Entry { sample: Sample::Band(SHADE, 1.0), words: drawn.words.text("chart.shaded") });
    let rest =
        if lines.iter().any(|line| line.band.is_some()) { "chart.lines_and_bands" } else { "chart.lines" };
    entries.push(Entry { sample: Sample::None, words: drawn.words.text(rest) });
    entries
}

fn scale(lines: &[Line]) -> Scale {
    let banded = |line: &Line| line.band.clone().unwrap_or_default();
    let least = lines.iter().flat_map(|line| {
        banded(line).into_iter().map(|day| day.least).chain(line.mean.iter().copied()).collect::<Vec<_>>()
    });
    let greatest = lines.iter().flat_map(|line| {
        banded(line).into_iter().map(|day| day.greatest).chain(line.mean.iter().copied()).collect::<Vec<_>>()
    });
    Scale::around(least.fold(LOW_PCT - ROOM_PCT, f64::min), greatest.fold(HIGH_PCT + ROOM_PCT, f64::max), 7.0)
}

fn band(canvas: &Canvas<'_>, panel: &Panel<'_>, line: &Line) -> Result<(), ReportError> {
    let Some(days) = &line.band else { return Ok(()) };
    let upper = panel.points(days.iter().map(|day| day.greatest));
    let lower = panel.points(days.iter().map(|day| day.least));
    canvas.band(&upper, &lower, (line.stroke.colour, BAND_ALPHA))
}

fn days(drawn: &Drawn<'_>, year: &HouseYear) -> Vec<Day> {
    let percent: Vec<f64> = year.hourly.relative_humidity.iter().map(|share| share * 100.0).collect();
    drawn.days(&percent)
}

/// Mean of the day and of `REACH` days on either side, fewer at the ends of the year.
fn running_mean(days: &[Day]) -> Vec<f64> {
    let window = |day: usize| &days[day.saturating_sub(REACH)..(day + REACH + 1).min(days.len())];
    (0..days.len())
        .map(|day| {
            window(day).iter().map(|day| day.mean).sum::<f64>() / super::panel::count(window(day).len())
        })
        .collect()
}

fn same(a: &[f64], b: &[f64]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() <= SAME_PCT)
}

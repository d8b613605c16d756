//! The house's heat book by month: gains above zero, losses below, a panel for each unit.

use plotters::style::RGBColor;
use simulation::results::{HouseYear, LedgerLine};

use super::canvas::{Canvas, Entry, Rect, Sample, picture_in};
use super::panel::{MONTHS_HEIGHT, NAME_LINE, Panel, Scale};
use super::style::{REST, SLATE, palette};
use super::{ChartInput, Drawn};
use crate::ReportError;
use crate::ledger::BookKind;

/// The book that is drawn.
const BOOK: &str = "heat";
const PANEL_HEIGHT: f64 = 250.0;
const PANEL_GAP: f64 = 14.0;
/// Share of a month's width that its bar takes.
const FILLED: f64 = 0.62;
/// A segment lower than this has no room for its number.
const LEAST_FOR_NUMBER: f64 = 10.0;
const SEAM: f64 = 0.5;

/// Lines of the book that are drawn as one.
struct Group {
    /// Key of its words.
    words: &'static str,
    colour: RGBColor,
    lines: &'static [&'static str],
}

const fn group(words: &'static str, colour: RGBColor, lines: &'static [&'static str]) -> Group {
    Group { words, colour, lines }
}

/// What is drawn in a colour and with a number of its own, the same in every study, in the order of the stack: warm
/// colours for what heats, the others for what cools.
const GROUPS: [Group; 8] = [
    group("chart.heating", palette::VERMILLION, &["heating"]),
    group("chart.sun", palette::YELLOW, &["solar_gains", "gains_lost"]),
    group("chart.people", palette::ORANGE, &["internal_gains", "source_vapour", "indoor_drying"]),
    group("chart.walls", SLATE, &["conduction_opaque", "ground"]),
    group("chart.windows", palette::SKY_BLUE, &["conduction_windows"]),
    group(
        "chart.leakage",
        palette::BLUISH_GREEN,
        &["infiltration_sensible", "infiltration_vapour", "exfiltration_vapour"],
    ),
    group(
        "chart.ventilation_unit",
        palette::BLUE,
        &[
            "supply_sensible",
            "supply_fan",
            "recirculation_fan",
            "defrost_lent",
            "defrost_returned",
            "thaw_by_supply",
            "cold_ducts",
            "warm_ducts",
            "supply_vapour",
            "extract_vapour",
            "cross_leaked_vapour_in",
            "cross_leaked_vapour_out",
        ],
    ),
    group("chart.cooling", palette::REDDISH_PURPLE, &["cooling_sensible", "cooling_latent", "coil_drain"]),
];

/// A group of lines over all panels: words, and a row of months for each unit \[kWh\].
struct Part {
    words: String,
    colour: RGBColor,
    number: usize,
    months: Vec<[f64; 12]>,
}

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let parts = parts(drawn);
    let entries: Vec<Entry> = parts
        .iter()
        .map(|part| Entry { sample: Sample::Segment(part.colour, part.number), words: part.words.clone() })
        .collect();
    let scale = scale(&parts, drawn.units.len());
    let panels = super::panel::count(drawn.units.len());
    // Room for a title of two lines and a legend of four.
    let height = 124.0 + panels * (PANEL_HEIGHT + NAME_LINE + PANEL_GAP) + MONTHS_HEIGHT;
    picture_in(drawn.words, height, |canvas| {
        let head = canvas.head(&drawn.words.text("chart.energy"), input.study, &entries)?;
        let each = (height - MONTHS_HEIGHT - head + PANEL_GAP) / panels;
        for (place, year) in drawn.units.iter().enumerate() {
            let top = head + each * super::panel::count(place) + NAME_LINE;
            let bottom = top + each - NAME_LINE - PANEL_GAP;
            let panel = Panel { top, bottom, scale, calendar: &drawn.calendar };
            panel.axes(canvas, &drawn.words.text("chart.energy_axis"), &year.unit)?;
            for month in 0..12 {
                stack(canvas, &panel, &parts, (place, month))?;
            }
            panel.base(canvas)?;
            if place + 1 == drawn.units.len() {
                panel.months(canvas)?;
            }
        }
        Ok(())
    })
}

/// The groups with any turnover, then every other line of the book in one.
fn parts(drawn: &Drawn<'_>) -> Vec<Part> {
    let units = &drawn.units;
    let named = GROUPS.iter().enumerate().map(|(place, group)| Part {
        words: drawn.words.text(group.words),
        colour: group.colour,
        number: place + 1,
        months: units.iter().map(|year| months(year, group.lines)).collect(),
    });
    named.filter(|part| turnover(&part.months) > 0.0).chain(rest(drawn)).collect()
}

fn turnover(months: &[[f64; 12]]) -> f64 {
    months.iter().flatten().copied().map(f64::abs).sum()
}

/// Gains and losses of the remaining lines, kept apart so that they do not hide each other.
fn rest(drawn: &Drawn<'_>) -> Vec<Part> {
    let units = &drawn.units;
    let of = |label: &str| units.iter().map(|year| months(year, &[label])).collect::<Vec<_>>();
    let labels: Vec<&str> =
        other_lines(units).into_iter().filter(|label| turnover(&of(label)) > 0.0).collect();
    let side = |keep: fn(f64) -> f64| -> Vec<[f64; 12]> {
        let sum = |year: &&HouseYear| {
            let rows: Vec<[f64; 12]> = labels.iter().map(|label| months(year, &[label])).collect();
            std::array::from_fn(|month| rows.iter().map(|row| keep(row[month])).sum())
        };
        units.iter().map(sum).collect()
    };
    if labels.is_empty() {
        return Vec::new();
    }
    let part = |words: String, months| Part { words, colour: REST, number: 0, months };
    vec![
        part(
            drawn.words.fill("chart.rest_of", &[("lines", &labels.join(", ").replace('_', " "))]),
            side(|value| value.max(0.0)),
        ),
        part(String::new(), side(|value| value.min(0.0))),
    ]
}

/// Lines of the book in no group.
fn other_lines(units: &[&HouseYear]) -> Vec<&'static str> {
    let mut labels = Vec::new();
    for line in units.iter().flat_map(|year| &year.ledger_by_month).filter(|line| line.book == BOOK) {
        let known = GROUPS.iter().any(|group| group.lines.contains(&line.label));
        if !known && !labels.contains(&line.label) {
            labels.push(line.label);
        }
    }
    labels
}

fn months(year: &HouseYear, labels: &[&str]) -> [f64; 12] {
    let mut sums = [0.0; 12];
    let wanted = |line: &&LedgerLine| line.book == BOOK && labels.contains(&line.label);
    for line in year.ledger_by_month.iter().filter(wanted) {
        for (sum, amount) in sums.iter_mut().zip(line.by_month) {
            *sum += BookKind::Heat.shown(amount);
        }
    }
    sums
}

fn scale(parts: &[Part], units: usize) -> Scale {
    let side = |place: usize, month: usize, keep: fn(f64) -> f64| -> f64 {
        parts.iter().map(|part| keep(part.months[place][month])).sum()
    };
    let all: Vec<(usize, usize)> =
        (0..units).flat_map(|place| (0..12).map(move |month| (place, month))).collect();
    let most =
        all.iter().map(|&(place, month)| side(place, month, |value| value.max(0.0))).fold(0.0, f64::max);
    let least =
        all.iter().map(|&(place, month)| side(place, month, |value| value.min(0.0))).fold(0.0, f64::min);
    Scale::around(least, most, 9.0)
}

fn stack(
    canvas: &Canvas<'_>,
    panel: &Panel<'_>,
    parts: &[Part],
    (place, month): (usize, usize),
) -> Result<(), ReportError> {
    let (left, right) = panel.month(month);
    let inset = (right - left) * (1.0 - FILLED) / 2.0;
    let (mut above, mut below) = (0.0, 0.0);
    for part in parts {
        let value = part.months[place][month];
        let level = if value > 0.0 { &mut above } else { &mut below };
        let (from, to) = (*level, *level + value);
        *level = to;
        let (high, low) = (panel.y(from.max(to)), panel.y(from.min(to)));
        if low - high <= SEAM {
            continue;
        }
        let rect = Rect { from: (left + inset, high + SEAM / 2.0), to: (right - inset, low - SEAM / 2.0) };
        let number = if low - high >= LEAST_FOR_NUMBER { part.number } else { 0 };
        canvas.segment(rect, part.colour, number)?;
    }
    Ok(())
}

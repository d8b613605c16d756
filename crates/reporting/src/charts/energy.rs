//! The house's heat book by month: gains above zero, losses below, a panel for each unit.

use plotters::style::RGBColor;
use simulation::results::{HouseYear, LedgerLine};

use super::canvas::{Canvas, Entry, Rect, Sample, picture};
use super::panel::{MONTHS_HEIGHT, NAME_LINE, Panel, Scale};
use super::style::{REST, SEGMENTS};
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

/// Lines of the book that are drawn as one, and the words for them; a line that is not here is drawn by itself.
const GROUPS: [(&str, &[&str]); 8] = [
    ("heating", &["heating"]),
    ("sun", &["solar_gains", "gains_lost"]),
    ("people, appliances, moisture", &["internal_gains", "source_vapour", "indoor_drying"]),
    ("walls, roof, floor", &["conduction_opaque"]),
    ("windows, conduction", &["conduction_windows"]),
    ("air leakage", &["infiltration_sensible", "infiltration_vapour", "exfiltration_vapour"]),
    (
        "ventilation unit",
        &[
            "supply_sensible",
            "supply_fan",
            "supply_vapour",
            "extract_vapour",
            "cross_leaked_vapour_in",
            "cross_leaked_vapour_out",
        ],
    ),
    ("cooling", &["cooling_sensible", "cooling_latent", "coil_drain"]),
];

/// The words under which a line is drawn.
fn words_for(label: &str) -> String {
    let group = GROUPS.iter().find(|(_, lines)| lines.contains(&label));
    group.map_or_else(|| label.replace('_', " "), |(words, _)| (*words).to_owned())
}

/// A group of lines over all panels: words, and a row of months for each unit \[kWh\].
struct Part {
    words: String,
    colour: RGBColor,
    number: usize,
    months: Vec<[f64; 12]>,
}

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let parts = parts(&drawn.units);
    let entries: Vec<Entry> = parts
        .iter()
        .map(|part| Entry { sample: Sample::Segment(part.colour, part.number), words: part.words.clone() })
        .collect();
    let scale = scale(&parts, drawn.units.len());
    let panels = super::panel::count(drawn.units.len());
    // Room for a title of two lines and a legend of four.
    let height = 124.0 + panels * (PANEL_HEIGHT + NAME_LINE + PANEL_GAP) + MONTHS_HEIGHT;
    picture(height, |canvas| {
        let head = canvas.head("Heat into and out of the house by month", input.study, &entries)?;
        let each = (height - MONTHS_HEIGHT - head + PANEL_GAP) / panels;
        for (place, year) in drawn.units.iter().enumerate() {
            let top = head + each * super::panel::count(place) + NAME_LINE;
            let bottom = top + each - NAME_LINE - PANEL_GAP;
            let panel = Panel { top, bottom, scale, calendar: &drawn.calendar };
            panel.axes(canvas, "heat, gains above zero and losses below [kWh/month]", &year.unit)?;
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

/// The largest groups by turnover, then the rest in one.
fn parts(units: &[&HouseYear]) -> Vec<Part> {
    let mut groups: Vec<String> = Vec::new();
    for line in units.iter().flat_map(|year| &year.ledger_by_month).filter(|line| line.book == BOOK) {
        let words = words_for(line.label);
        if !groups.contains(&words) {
            groups.push(words);
        }
    }
    let turnover = |words: &str| units.iter().flat_map(|year| months(year, words)).map(f64::abs).sum::<f64>();
    groups.sort_by(|a, b| turnover(b).total_cmp(&turnover(a)));
    groups.retain(|words| turnover(words) > 0.0);
    let named = groups.len().min(SEGMENTS.len());
    let mut parts: Vec<Part> = groups[..named]
        .iter()
        .zip(SEGMENTS)
        .enumerate()
        .map(|(rank, (words, colour))| Part {
            words: words.clone(),
            colour,
            number: rank + 1,
            months: units.iter().map(|year| months(year, words)).collect(),
        })
        .collect();
    parts.extend(rest(units, &groups[named..]));
    parts
}

/// Gains and losses of the remaining lines, kept apart so that they do not hide each other.
fn rest(units: &[&HouseYear], groups: &[String]) -> Vec<Part> {
    let side = |keep: fn(f64) -> f64| -> Vec<[f64; 12]> {
        units
            .iter()
            .map(|year| {
                let rows: Vec<[f64; 12]> = groups.iter().map(|words| months(year, words)).collect();
                std::array::from_fn(|month| rows.iter().map(|row| keep(row[month])).sum())
            })
            .collect()
    };
    if groups.is_empty() {
        return Vec::new();
    }
    let part = |words: String, months| Part { words, colour: REST, number: 0, months };
    vec![
        part(format!("everything else: {}", groups.join(", ")), side(|value| value.max(0.0))),
        part(String::new(), side(|value| value.min(0.0))),
    ]
}

fn months(year: &HouseYear, words: &str) -> [f64; 12] {
    let mut sums = [0.0; 12];
    let of_group = |line: &&LedgerLine| line.book == BOOK && words_for(line.label) == words;
    for line in year.ledger_by_month.iter().filter(of_group) {
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

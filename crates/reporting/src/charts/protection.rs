//! Units side by side: what frost and its remedies take, and what is saved at equal outdoor air.
//!
//! Not here: when (`cold_hours`), how much ice (`frost`).

use simulation::results::Case;

use super::canvas::{Canvas, Hang, Rect, Type, picture_in};
use super::panel::count;
use super::style::{INK, PICTURE_WIDTH, QUIET, TEXT_SIZE, TICK_SIZE, unit_look};
use crate::words::Words;
use crate::{Figure, ReportError, Row, RunSummary};

const BAR: f64 = 18.0;
const GROUP_HEAD: f64 = 30.0;
const NAMES: f64 = 210.0;
const MARGIN: f64 = 20.0;
/// Room for a bar's number.
const NUMBER: f64 = 86.0;
const HEAD: f64 = 76.0;
const FOOT: f64 = 12.0;
/// Longest name beside a bar, in characters.
const LONGEST_NAME: usize = 30;

/// A figure of every unit.
struct Group {
    /// Keys of its words and of its unit.
    words: &'static str,
    unit: &'static str,
    decimals: usize,
    of: fn(&RunSummary, &Row) -> Option<f64>,
}

const GROUPS: [Group; 7] = [
    Group {
        words: "chart.energy_saved",
        unit: "chart.kwh_a_year",
        decimals: 0,
        of: |summary, row| at_equal_air(summary, row),
    },
    Group {
        words: "chart.air_missed",
        unit: "chart.share_of_air",
        decimals: 1,
        of: |_, row| missed_percent(row),
    },
    Group {
        words: "chart.heat_lent",
        unit: "chart.kwh_a_year",
        decimals: 0,
        of: |_, row| row.year(Figure::DefrostKwh).value(),
    },
    Group {
        words: "chart.preheating",
        unit: "chart.kwh_a_year",
        decimals: 0,
        of: |_, row| row.year(Figure::PreheatKwh).value(),
    },
    Group {
        words: "chart.hours_of_ice",
        unit: "chart.h_a_year",
        decimals: 0,
        of: |_, row| row.year(Figure::FrostH).value(),
    },
    Group {
        words: "chart.time_in_defrost",
        unit: "chart.h_a_year",
        decimals: 0,
        of: |_, row| row.year(Figure::DefrostH).value(),
    },
    Group {
        words: "chart.hours_blocked",
        unit: "chart.h_a_year",
        decimals: 0,
        of: |_, row| row.year(Figure::BlockedH).value(),
    },
];

/// The saving of the run in which the unit misses no air, if there was one.
fn at_equal_air(summary: &RunSummary, row: &Row) -> Option<f64> {
    let held = summary.find(&row.unit, Case::UnitHeld).unwrap_or(row);
    held.year(Figure::UsefulSavingKwh).value()
}

fn missed_percent(row: &Row) -> Option<f64> {
    let (missed, delivered) =
        (row.year(Figure::MissedAirM3).value()?, row.year(Figure::OutdoorAirM3).value()?);
    (missed + delivered > 0.0).then(|| 100.0 * missed / (missed + delivered))
}

pub fn draw(summary: &RunSummary, study: &str, words: &'static Words) -> Result<String, ReportError> {
    let units: Vec<&Row> = summary.rows.iter().filter(|row| row.case == Case::Unit).collect();
    if units.is_empty() {
        return Err(ReportError::NothingToDraw { chart: "frost protection" });
    }
    let figures: Vec<(&Group, Vec<f64>)> = GROUPS
        .iter()
        .enumerate()
        .map(|(place, group)| {
            let values: Vec<f64> = units.iter().map(|row| (group.of)(summary, row).unwrap_or(0.0)).collect();
            (place, group, values)
        })
        // The saving is always shown; what no unit has is not.
        .filter(|(place, _, values)| *place == 0 || values.iter().any(|value| value.abs() > 0.0))
        .map(|(_, group, values)| (group, values))
        .collect();
    let each = GROUP_HEAD + BAR * count(units.len());
    picture_in(words, HEAD + each * count(figures.len()) + FOOT, |canvas| {
        let mut top = canvas.head(&words.text("chart.frost_protection"), study, &[])?;
        for (group, values) in &figures {
            draw_group(canvas, (group, values), &units, top)?;
            top += each;
        }
        Ok(())
    })
}

fn draw_group(
    canvas: &Canvas<'_>,
    (group, values): (&Group, &[f64]),
    units: &[&Row],
    top: f64,
) -> Result<(), ReportError> {
    let heading = format!("{} [{}]", canvas.words.text(group.words), canvas.words.text(group.unit));
    canvas.text(&heading, (MARGIN, top + GROUP_HEAD * 0.6), Hang::Left, Type::bold(TEXT_SIZE, INK))?;
    let least = values.iter().copied().fold(0.0, f64::min);
    let most = values.iter().copied().fold(0.0, f64::max);
    let room = f64::from(PICTURE_WIDTH) - NAMES - NUMBER - MARGIN;
    let x = |value: f64| NAMES + room * (value - least) / (most - least).max(f64::MIN_POSITIVE);
    for (place, (row, &value)) in units.iter().zip(values).enumerate() {
        let middle = top + GROUP_HEAD + BAR * (count(place) + 0.5);
        let name = shortened(&row.unit);
        canvas.text(&name, (NAMES - 8.0, middle), Hang::Right, Type::plain(TICK_SIZE, INK))?;
        let look = unit_look(place);
        let (from, to) = (x(value.min(0.0)), x(value.max(0.0)));
        if value != 0.0 {
            let rect = Rect { from: (from, middle - BAR * 0.36), to: (to, middle + BAR * 0.36) };
            canvas.bar(rect, look.colour, look.fill)?;
        }
        let decimals = group.decimals;
        let number = canvas.words.number(value, decimals);
        canvas.text(&number, (to + 6.0, middle), Hang::Left, Type::plain(TICK_SIZE, QUIET))?;
    }
    Ok(())
}

fn shortened(name: &str) -> String {
    if name.chars().count() <= LONGEST_NAME {
        return name.to_owned();
    }
    let start: String = name.chars().take(LONGEST_NAME - 1).collect();
    format!("{}…", start.trim_end())
}

//! Pictures of a sweep: what each input does to a figure, a figure over each input, how figures spread.
//!
//! Here: what they are drawn from, and what they share. Not here: reading a sweep's parts (the caller has numbers).
//! Read next: `sweep_bars`, `sweep_scatter`, `sweep_spread`.

use super::canvas::{Canvas, Type};
use crate::ReportError;

/// Bars for each input, the most important first: a tornado, Sobol indices, elementary effects.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepBars {
    /// What is shown, a short sentence.
    pub title: String,
    /// Title of the study.
    pub study: String,
    /// What the upper and the lower bar of each input are.
    pub legend: [String; 2],
    /// A line below the legend; empty for none.
    pub note: String,
    /// Name of the axis, with its unit.
    pub axis: String,
    /// One for each unit.
    pub panels: Vec<BarPanel>,
}

/// The bars of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct BarPanel {
    /// Its heading.
    pub heading: String,
    /// Where the bars begin.
    pub base: f64,
    /// A row for each input, as they are to stand.
    pub rows: Vec<BarRow>,
}

/// The bars of an input.
#[derive(Debug, Clone, PartialEq)]
pub struct BarRow {
    /// Name of the input, with its unit.
    pub name: String,
    /// The upper and the lower bar.
    pub bars: [SweepBar; 2],
}

/// A bar.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepBar {
    /// Where it ends.
    pub to: f64,
    /// The interval that belongs to its end.
    pub interval: Option<[f64; 2]>,
    /// What stands at its end.
    pub words: String,
}

/// A figure over each input, a panel for each unit and input.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepScatter {
    /// What is shown, a short sentence.
    pub title: String,
    /// Title of the study.
    pub study: String,
    /// Name of the figure, with its unit.
    pub figure: String,
    /// A line below the title: how many runs are shown of how many.
    pub note: String,
    /// The inputs.
    pub inputs: Vec<ScatterInput>,
    /// The units.
    pub units: Vec<ScatterUnit>,
}

/// An input of the runs that are shown.
#[derive(Debug, Clone, PartialEq)]
pub struct ScatterInput {
    /// Its name, with its unit.
    pub name: String,
    /// Its value in each run; of words their place in `words`, counted from 0.
    pub values: Vec<f64>,
    /// The words, where it is no number.
    pub words: Vec<String>,
}

/// A unit's figure in the runs that are shown.
#[derive(Debug, Clone, PartialEq)]
pub struct ScatterUnit {
    /// Its name.
    pub name: String,
    /// The figure in each run; `None` where there is none.
    pub values: Vec<Option<f64>>,
}

/// How figures spread over the runs, a panel for each figure and unit.
#[derive(Debug, Clone, PartialEq)]
pub struct SweepSpread {
    /// What is shown, a short sentence.
    pub title: String,
    /// Title of the study.
    pub study: String,
    /// The figures.
    pub figures: Vec<SpreadFigure>,
}

/// How a figure spreads.
#[derive(Debug, Clone, PartialEq)]
pub struct SpreadFigure {
    /// Its name, with its unit.
    pub name: String,
    /// The units.
    pub units: Vec<SpreadUnit>,
}

/// How a figure of a unit spreads.
#[derive(Debug, Clone, PartialEq)]
pub struct SpreadUnit {
    /// Its name.
    pub name: String,
    /// Its place in the study, for its look.
    pub place: usize,
    /// The figure in each run that has it, at least two.
    pub values: Vec<f64>,
    /// Tenth, fiftieth and ninetieth percentile.
    pub percentiles: [f64; 3],
}

/// The least and the greatest of some values; nothing of none.
pub(super) fn ends(values: impl IntoIterator<Item = f64>) -> Option<[f64; 2]> {
    values.into_iter().fold(None, |ends, value| {
        let [least, greatest] = ends.unwrap_or([value, value]);
        Some([f64::min(least, value), f64::max(greatest, value)])
    })
}

/// A number with about three digits, a true minus sign and thin thousands.
pub(super) fn shown(value: f64) -> String {
    let decimals = match value.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        size if size >= 1.0 || size == 0.0 => 2,
        _ => 3,
    };
    crate::text_table::number(value, decimals).replace('-', "−")
}

/// Words in a smaller type where they would be wider than the room, and cut where they would become too small to read.
pub(super) fn fitted(
    canvas: &Canvas<'_>,
    words: &str,
    look: Type,
    room: f64,
) -> Result<(String, Type), ReportError> {
    const SMALLEST: f64 = 0.75;
    let width = canvas.text_width(words, look)?;
    if width <= room {
        return Ok((words.to_owned(), look));
    }
    let look = Type { size: look.size * (room / width).max(SMALLEST), ..look };
    let mut kept: Vec<char> = words.chars().collect();
    let mut cut = words.to_owned();
    while canvas.text_width(&cut, look)? > room && !kept.is_empty() {
        kept.pop();
        cut = format!("{}…", kept.iter().collect::<String>().trim_end());
    }
    Ok((cut, look))
}

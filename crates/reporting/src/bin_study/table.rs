//! The tables of a bin study for the terminal, at most 100 characters wide: bins, then what makes the difference.
//!
//! Not here: sentences (`words`).

use std::fmt::Write as _;

use super::{Apart, BinStudy, Figures, Method, Printed};
use crate::text_table::{cut, number};
use crate::{Cell, ReportError, ShowIn};

/// Most characters in a line.
pub(super) const WIDTH: usize = 100;
/// What is shown of each bin.
const SHOWN: [Method; 3] = [Method::Hourly, Method::Told, Method::Blind];
/// Of the figures: sensible heat, condensate, frost hours; with the width of a cell.
const COLUMNS: [(usize, usize); 3] = [(0, 9), (2, 9), (4, 6)];
const LABEL: usize = 15;
/// Label, hours and humidity ratio together.
const KEYS: usize = LABEL + 6 + 7;
/// Label of a row of the second table, and its cells.
const PART: usize = 50;
const CELL: usize = 10;

/// Both tables of a unit.
///
/// # Errors
/// [`ReportError::TooLarge`] for a figure that is not finite.
pub fn bin_table(study: &BinStudy, show_in: ShowIn) -> Result<String, ReportError> {
    let printed = Printed::new(study, show_in)?;
    let mut text = format!("{}\n\n", cut(&study.unit, WIDTH));
    heads(&mut text, show_in);
    for (row, figures) in study.rows.iter().zip(&printed.rows) {
        let range = format!(
            "{:.1} … {:.1}",
            show_in.temperature(row.low_c),
            show_in.temperature(row.low_c + study.edges.width)
        );
        let w = number(show_in.humidity_ratio(row.humidity_ratio), humidity_digits(show_in));
        // Writing into a String cannot fail.
        let _ = write!(text, "{range:>LABEL$}{:>6}{w:>7}", row.hours);
        cells(&mut text, |figure, method| figures[method as usize][figure].to_string());
    }
    rule(&mut text);
    let hours: u32 = study.rows.iter().map(|row| row.hours).sum();
    let _ = write!(text, "{:>LABEL$}{hours:>6}{:>7}", "all hours", "");
    cells(&mut text, |figure, method| printed.total(method)[figure].to_string());
    let _ = write!(text, "{:>KEYS$}", "less the hourly run");
    cells(&mut text, |figure, method| match method {
        Method::Hourly => String::new(),
        _ => signed(printed.between(method, Method::Hourly)[figure]),
    });
    text.push('\n');
    parts(&mut text, study, &printed, show_in);
    Ok(text)
}

pub(super) fn humidity_digits(show_in: ShowIn) -> usize {
    match show_in {
        ShowIn::Si => 2,
        ShowIn::Ip => 1,
    }
}

fn heads(text: &mut String, show_in: ShowIn) {
    let [heat, water, frost] = ["recovered sensible, kWh", "drain", "frost hours"];
    let water = format!("{water}, {}", show_in.volume_unit());
    let mut groups = " ".repeat(KEYS);
    for (head, (_, width)) in [heat, &water, frost].into_iter().zip(COLUMNS) {
        let whole = width * SHOWN.len();
        let _ = write!(groups, "{head:>whole$}");
    }
    let _ = writeln!(text, "{groups}");
    let bulb = format!("dry bulb {}", show_in.temperature_unit());
    let _ = write!(text, "{bulb:>LABEL$}{:>6}{:>7}", "hours", show_in.humidity_ratio_unit());
    cells(text, |_, method| {
        match method {
            Method::Hourly => "run",
            Method::Told => "told",
            _ => "blind",
        }
        .to_owned()
    });
    rule(text);
}

fn rule(text: &mut String) {
    let width = KEYS + COLUMNS.iter().map(|(_, width)| width * SHOWN.len()).sum::<usize>();
    let _ = writeln!(text, "{}", "─".repeat(width));
}

/// The rest of a line: each figure by each way.
fn cells(text: &mut String, of: impl Fn(usize, Method) -> String) {
    let mut line = String::new();
    for (figure, width) in COLUMNS {
        for method in SHOWN {
            let _ = write!(line, "{:>width$}", of(figure, method));
        }
    }
    let _ = writeln!(text, "{}", line.trim_end());
}

/// What leads from the blind bins to the hourly run, line by line.
fn parts(text: &mut String, study: &BinStudy, printed: &Printed, show_in: ShowIn) {
    let heads = [
        ["sensible", "kWh"],
        ["latent", "kWh"],
        ["drain", show_in.volume_unit()],
        ["ice", show_in.mass_unit()],
        ["frost", "h"],
    ];
    for line in 0..2 {
        let label = if line == 0 { "From the blind bins to the hourly run" } else { "" };
        part(text, label, heads.map(|head| head[line].to_owned()));
    }
    let _ = writeln!(text, "{}", "─".repeat(PART + CELL * heads.len()));
    let plain = |figures: &Figures| figures.map(|cell| cell.to_string());
    let change = |figures: &Figures| figures.map(signed);
    part(text, "blind bins", plain(printed.total(Method::Blind)));
    part(text, "knowing the house: told bins less blind", change(&printed.house()));
    part(text, "hours in place of means: hour by hour less told", change(&printed.means()));
    part(text, "history and control: the run less hour by hour", change(&printed.history()));
    for (place, apart) in Apart::ALL.into_iter().enumerate() {
        let (hours, figures) = (study.apart[place].0, &printed.apart[place]);
        let nothing = figures.iter().all(|cell| cell.value() == Some(0.0));
        // The rest also takes what rounding leaves, so it may be something without hours of its own.
        let is_shown = if apart == Apart::Rest { !nothing } else { hours > 0 };
        if is_shown {
            part(text, &format!("  {}, {hours} h", words_of(apart)), change(figures));
        }
    }
    part(text, "the hourly run", plain(printed.total(Method::Hourly)));
}

fn words_of(apart: Apart) -> &'static str {
    match apart {
        Apart::Kept => "preheat, air led round the core",
        Apart::Ice => "ice in the core, defrost",
        Apart::Airflow => "airflow other than rated",
        Apart::Rest => "the rest: air that moves within the hour",
    }
}

fn part(text: &mut String, label: &str, cells: [String; 5]) {
    let mut line = format!("{label:<PART$}");
    for cell in cells {
        let _ = write!(line, "{cell:>CELL$}");
    }
    let _ = writeln!(text, "{}", line.trim_end());
}

/// A difference with its sign.
pub(super) fn signed(cell: Cell) -> String {
    match cell.value() {
        Some(value) if value > 0.0 => format!("+{cell}"),
        _ => cell.to_string(),
    }
}

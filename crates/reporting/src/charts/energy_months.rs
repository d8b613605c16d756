//! The house's heat book by month, as one bar about zero and as the numbers of its parts; they add up to the printed digit.
//!
//! Every line of the book is in one of eight parts. A part that gains in a month lies above zero, one that loses below; what
//! is left over was stored in the house. Not here: the same without numbers, by finer groups (`energy`).

use plotters::style::RGBColor;
use simulation::results::HouseYear;

use super::canvas::{Canvas, Entry, Hang, MARGIN, Rect, Sample, Stroke, Type, legible_on, page_in};
use super::month_plot::{MonthPlot, NAME_LINE};
use super::panel::{Scale, count};
use super::style::{FAINT, INK, PICTURE_WIDTH, QUIET, REST, SLATE, SMALL_SIZE, TEXT_SIZE, palette};
use super::{ChartInput, Drawn};
use crate::ledger::printed_months;
use crate::{Cell, ReportError};

/// The book that is drawn.
const BOOK: &str = "heat";
pub const PARTS: usize = 8;
const PLOT: f64 = 190.0;
/// Left end of the months: the parts' names stand before it, the year's column after the right end.
const LEFT: f64 = 202.0;
const YEAR: f64 = 62.0;
const ROW: f64 = 13.5;
const GAP: f64 = 16.0;
const FILLED: f64 = 0.62;
const SEAM: f64 = 0.5;
/// A piece lower than this has no room for its number.
const LEAST_FOR_NUMBER: f64 = 10.0;
const NUMBER_SIZE: f64 = 9.5;

/// Lines of the book that are one part.
struct Group {
    /// Key of its words.
    words: &'static str,
    colour: RGBColor,
    lines: &'static [&'static str],
}

const fn group(words: &'static str, colour: RGBColor, lines: &'static [&'static str]) -> Group {
    Group { words, colour, lines }
}

/// In the order of the stack from zero outwards, neighbours apart in lightness; the last takes every other line.
const GROUPS: [Group; PARTS] = [
    group("chart.heating", palette::VERMILLION, &["heating"]),
    group("chart.sun", palette::YELLOW, &["solar_gains", "gains_lost"]),
    group("chart.people", palette::ORANGE, &["internal_gains", "source_vapour", "indoor_drying"]),
    group("chart.conduction", SLATE, &["conduction_opaque", "conduction_windows", "ground"]),
    group(
        "chart.leakage",
        palette::SKY_BLUE,
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
    group("chart.rest", REST, &[]),
];

/// Columns of numbers: the months and the year.
const COLUMNS: usize = 13;

/// A unit's numbers: months and year of each part \[kWh\], and beside them as they are printed.
struct Book {
    exact: [[f64; COLUMNS]; PARTS],
    printed: [[i64; COLUMNS]; PARTS],
}

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let books = drawn.units.iter().map(|year| book(year)).collect::<Result<Vec<_>, _>>()?;
    let scale = scale(&books);
    let of_each = NAME_LINE + PLOT + (count(PARTS) + 2.0) * ROW + GAP;
    let title = drawn.words.text("chart.energy_months");
    let words = ["chart.gains_and_losses", "chart.numbers_add_up"];
    let legend = words.map(|key| Entry { sample: Sample::None, words: drawn.words.text(key) });
    let below = count(books.len()) * of_each;
    page_in(drawn.words, (&title, input.study), (&legend, below), |canvas, top| {
        for (place, (year, book)) in drawn.units.iter().zip(&books).enumerate() {
            let top = top + count(place) * of_each + NAME_LINE;
            let right = f64::from(PICTURE_WIDTH) - MARGIN - YEAR;
            let frame = Rect { from: (LEFT, top), to: (right, top + PLOT) };
            let plot = MonthPlot { frame, up: scale };
            plot.frame_alone(canvas, &drawn.words.text("chart.heat_axis"), &year.unit)?;
            for month in 0..12 {
                stack(canvas, &plot, (book, month))?;
            }
            plot.base(canvas)?;
            table(canvas, &plot, book)?;
        }
        Ok(())
    })
}

/// Sums the printed lines of the ledger by part.
fn book(year: &HouseYear) -> Result<Book, ReportError> {
    let mut exact = [[0.0; COLUMNS]; PARTS];
    for line in year.ledger_by_month.iter().filter(|line| line.book == BOOK) {
        let part = GROUPS.iter().position(|group| group.lines.contains(&line.label)).unwrap_or(PARTS - 1);
        let months = printed_months(line)?;
        let of_year = Cell::sum(months.iter().copied());
        for (sum, cell) in exact[part].iter_mut().zip(months.into_iter().chain([of_year])) {
            *sum += cell.value().unwrap_or(0.0);
        }
    }
    let mut printed = [[0; COLUMNS]; PARTS];
    for column in 0..COLUMNS {
        let values: [f64; PARTS] = std::array::from_fn(|part| exact[part][column]);
        for (part, number) in add_up(&values)?.into_iter().enumerate() {
            printed[part][column] = number;
        }
    }
    Ok(Book { exact, printed })
}

/// Whole numbers that add up to the rounded sum, each the one below or the one above its value: those with the greatest
/// remainders are rounded up.
fn add_up(values: &[f64; PARTS]) -> Result<[i64; PARTS], ReportError> {
    let whole = |value: f64| match Cell::rounded(value, 0)? {
        Cell::Fixed { ticks, .. } => Ok(ticks),
        _ => Err(ReportError::TooLarge { value, decimals: 0 }),
    };
    let mut numbers = [0; PARTS];
    for (number, value) in numbers.iter_mut().zip(values) {
        *number = whole(value.floor())?;
    }
    let mut order: Vec<usize> = (0..PARTS).collect();
    let remainder = |part: usize| values[part] - values[part].floor();
    order.sort_by(|a, b| remainder(*b).total_cmp(&remainder(*a)));
    let missing = whole(values.iter().sum())? - numbers.iter().sum::<i64>();
    for part in order.into_iter().take(usize::try_from(missing).unwrap_or(0)) {
        numbers[part] += 1;
    }
    Ok(numbers)
}

fn scale(books: &[Book]) -> Scale {
    let (mut least, mut most) = (0.0_f64, 0.0_f64);
    for book in books {
        for month in 0..12 {
            let column = || book.exact.iter().map(|row| row[month]);
            most = most.max(column().filter(|value| *value > 0.0).sum());
            least = least.min(column().filter(|value| *value < 0.0).sum());
        }
    }
    Scale::around(least, most, 7.0)
}

fn stack(canvas: &Canvas<'_>, plot: &MonthPlot, (book, month): (&Book, usize)) -> Result<(), ReportError> {
    let (left, right) = plot.column(month, FILLED, (0, 1));
    let (mut above, mut below) = (0.0, 0.0);
    for (part, row) in book.exact.iter().enumerate() {
        let value = row[month];
        let level = if value > 0.0 { &mut above } else { &mut below };
        let (from, to) = (*level, *level + value);
        *level = to;
        let (high, low) = (plot.y(from.max(to)), plot.y(from.min(to)));
        if low - high <= SEAM {
            continue;
        }
        let rect = Rect { from: (left, high + SEAM / 2.0), to: (right, low - SEAM / 2.0) };
        let number = if low - high >= LEAST_FOR_NUMBER { part + 1 } else { 0 };
        canvas.segment(rect, GROUPS[part].colour, number)?;
    }
    Ok(())
}

/// Below the bar its numbers: a row for each part, the months in the bar's columns, the year after them.
fn table(canvas: &Canvas<'_>, plot: &MonthPlot, book: &Book) -> Result<(), ReportError> {
    let mut y = plot.frame.to.1 + ROW;
    let quiet = Type::plain(TEXT_SIZE, QUIET);
    canvas.text("[kWh]", (MARGIN, y), Hang::Left, quiet)?;
    for month in 0..12 {
        canvas.text(&canvas.words.short_month(month), (column_end(plot, month), y), Hang::Right, quiet)?;
    }
    canvas.text(&canvas.words.text("chart.year"), (column_end(plot, 12), y), Hang::Right, quiet)?;
    for (part, group) in GROUPS.iter().enumerate() {
        y += ROW;
        let sample = Rect { from: (MARGIN, y - 5.5), to: (MARGIN + 16.0, y + 5.5) };
        canvas.rect(sample, (group.colour, 1.0))?;
        let at = (f64::midpoint(sample.from.0, sample.to.0), y);
        let look = Type::bold(SMALL_SIZE, legible_on(group.colour));
        canvas.text(&(part + 1).to_string(), at, Hang::Centre, look)?;
        let words = canvas.words.text(group.words);
        canvas.text(&words, (MARGIN + 22.0, y), Hang::Left, Type::plain(NUMBER_SIZE + 0.5, INK))?;
        row(canvas, plot, (&book.printed[part], y), Type::plain(NUMBER_SIZE, INK))?;
    }
    let line = [(MARGIN, y + ROW / 2.0), (column_end(plot, 12), y + ROW / 2.0)];
    canvas.line(&line, Stroke { colour: FAINT, width: 1.0, dash: None })?;
    y += ROW;
    let words = canvas.words.text("chart.stored");
    canvas.text(&words, (MARGIN + 22.0, y), Hang::Left, Type::bold(NUMBER_SIZE, INK))?;
    let sums = std::array::from_fn(|column| book.printed.iter().map(|row| row[column]).sum());
    row(canvas, plot, (&sums, y), Type::bold(NUMBER_SIZE, INK))
}

fn row(
    canvas: &Canvas<'_>,
    plot: &MonthPlot,
    (numbers, y): (&[i64; COLUMNS], f64),
    look: Type,
) -> Result<(), ReportError> {
    for (column, number) in numbers.iter().enumerate() {
        let words = number.to_string().replace('-', "−");
        canvas.text(&words, (column_end(plot, column), y), Hang::Right, look)?;
    }
    Ok(())
}

/// Right end of a month's numbers; of the year's after December.
fn column_end(plot: &MonthPlot, month: usize) -> f64 {
    if month < 12 { plot.column(month, 1.0, (0, 1)).1 - 6.0 } else { f64::from(PICTURE_WIDTH) - MARGIN }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounded_parts_add_up_to_the_rounded_sum() {
        // By hand: the sum is 0.4 + 0.4 + 0.4 − 1.2 + 2.6 = 2.6, printed 3; floors 0 0 0 −2 2 leave three to hand out,
        // to the remainders 0.8 (−1.2), 0.6 (2.6) and the first 0.4.
        let found = add_up(&[0.4, 0.4, 0.4, -1.2, 2.6, 0.0, 0.0, 0.0]).ok();
        assert_eq!(found, Some([1, 0, 0, -1, 3, 0, 0, 0]));
    }
}

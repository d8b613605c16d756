//! Two bars for each input of a sweep, the most important input first: a tornado, Sobol indices, elementary effects.

use super::canvas::{Canvas, Entry, Hang, MARGIN, Rect, Sample, Stroke, Type, page};
use super::panel::{Scale, count};
use super::style::{FAINT, Fill, INK, PICTURE_WIDTH, QUIET, TEXT_SIZE, TICK_SIZE, palette};
use super::sweep::{BarPanel, BarRow, SweepBars, ends, fitted};
use crate::ReportError;

/// Inputs that a panel shows at most; the rest is said to be left out.
const MOST_ROWS: usize = 20;
const HEADING: f64 = 30.0;
const ROW: f64 = 48.0;
const NAME_AT: f64 = 10.0;
const BARS_AT: f64 = 21.0;
const BAR: f64 = 9.0;
const BETWEEN_BARS: f64 = 3.0;
const AXIS: f64 = 46.0;
const AFTER_PANEL: f64 = 14.0;
const NOTE: f64 = 18.0;
/// Between the end of a bar and its words.
const BESIDE: f64 = 6.0;
const WHISKER: f64 = 3.0;
/// Room for words at one end of the bars, at most.
const MOST_WORDS: f64 = 180.0;
const LOOKS: [(plotters::style::RGBColor, Fill); 2] =
    [(palette::VERMILLION, Fill::Striped), (palette::BLUE, Fill::Solid)];

pub fn draw(chart: &SweepBars) -> Result<String, ReportError> {
    if chart.panels.iter().all(|panel| panel.rows.is_empty()) {
        return Err(ReportError::NothingToDraw { chart: "sweep, bars of inputs" });
    }
    let entries: Vec<Entry> = LOOKS
        .iter()
        .zip(&chart.legend)
        .map(|((colour, fill), words)| Entry { sample: Sample::Bar(*colour, *fill), words: words.clone() })
        .collect();
    let note = if chart.note.is_empty() { 0.0 } else { NOTE };
    let below = note + chart.panels.iter().map(height).sum::<f64>();
    page((&chart.title, &chart.study), &entries, below, |canvas, top| {
        if note > 0.0 {
            let room = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN;
            let (words, look) = fitted(canvas, &chart.note, Type::plain(TICK_SIZE, QUIET), room)?;
            canvas.text(&words, (MARGIN, top), Hang::Left, look)?;
        }
        let mut top = top + note;
        for panel in &chart.panels {
            draw_panel(canvas, chart, panel, top)?;
            top += height(panel);
        }
        Ok(())
    })
}

fn rows(panel: &BarPanel) -> &[BarRow] {
    &panel.rows[..panel.rows.len().min(MOST_ROWS)]
}

fn height(panel: &BarPanel) -> f64 {
    HEADING + ROW * count(rows(panel).len()) + AXIS + AFTER_PANEL
}

/// Where values stand.
#[derive(Clone, Copy)]
struct Across {
    scale: Scale,
    left: f64,
    right: f64,
}

impl Across {
    fn x(self, value: f64) -> f64 {
        let share = (value - self.scale.least) / (self.scale.greatest - self.scale.least);
        self.left + share * (self.right - self.left)
    }
}

fn draw_panel(canvas: &Canvas<'_>, chart: &SweepBars, panel: &BarPanel, top: f64) -> Result<(), ReportError> {
    let rows = rows(panel);
    let across = across(canvas, panel, rows)?;
    let page = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN;
    let left_out = panel.rows.len() - rows.len();
    let heading = if left_out == 0 {
        panel.heading.clone()
    } else {
        format!("{}; the {} most important of {} inputs", panel.heading, rows.len(), panel.rows.len())
    };
    let (heading, look) = fitted(canvas, &heading, Type::bold(TEXT_SIZE, INK), page)?;
    canvas.text(&heading, (MARGIN, top + HEADING / 2.0), Hang::Left, look)?;
    let (from, to) = (top + HEADING, top + HEADING + ROW * count(rows.len()));
    for tick in across.scale.ticks() {
        let x = across.x(tick);
        canvas.line(&[(x, from), (x, to)], Stroke { colour: FAINT, width: 0.75, dash: None })?;
        let label = across.scale.label(tick);
        canvas.text(&label, (x, to + 13.0), Hang::Centre, Type::plain(TICK_SIZE, QUIET))?;
    }
    let middle = f64::midpoint(across.left, across.right);
    let (axis, look) = fitted(canvas, &chart.axis, Type::plain(TEXT_SIZE, QUIET), page)?;
    canvas.text(&axis, (middle, to + 31.0), Hang::Centre, look)?;
    for (place, row) in rows.iter().enumerate() {
        draw_row(canvas, (across, panel.base), row, from + ROW * count(place))?;
    }
    let x = across.x(panel.base);
    canvas.line(&[(x, from), (x, to)], Stroke { colour: INK, width: 1.0, dash: None })
}

fn draw_row(
    canvas: &Canvas<'_>,
    (across, base): (Across, f64),
    row: &BarRow,
    top: f64,
) -> Result<(), ReportError> {
    let room = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN;
    let (name, look) = fitted(canvas, &row.name, Type::plain(TEXT_SIZE, INK), room)?;
    let width = canvas.text_width(&name, look)?;
    // On white, so that no line runs through the name.
    let half = TEXT_SIZE * 0.6;
    let ground =
        Rect { from: (MARGIN, top + NAME_AT - half), to: (MARGIN + width + 4.0, top + NAME_AT + half) };
    canvas.rect(ground, (plotters::style::WHITE, 1.0))?;
    canvas.text(&name, (MARGIN, top + NAME_AT), Hang::Left, look)?;
    for (place, (bar, (colour, fill))) in row.bars.iter().zip(LOOKS).enumerate() {
        let y = top + BARS_AT + count(place) * (BAR + BETWEEN_BARS);
        let (from, to) = (across.x(base), across.x(bar.to));
        canvas.bar(Rect { from: (from.min(to), y), to: (from.max(to), y + BAR) }, colour, fill)?;
        let mut end = to;
        let middle = y + BAR / 2.0;
        let outward = if bar.to < base { -1.0 } else { 1.0 };
        if let Some([low, high]) = bar.interval {
            let (low, high) = (across.x(low), across.x(high));
            let ink = Stroke { colour: INK, width: 1.25, dash: None };
            canvas.line(&[(low, middle), (high, middle)], ink)?;
            for x in [low, high] {
                canvas.line(&[(x, middle - WHISKER), (x, middle + WHISKER)], ink)?;
            }
            end = if outward > 0.0 { end.max(high) } else { end.min(low) };
        }
        let (words, look) = fitted(canvas, &bar.words, Type::plain(TICK_SIZE, INK), MOST_WORDS)?;
        let hang = if outward > 0.0 { Hang::Left } else { Hang::Right };
        canvas.text(&words, (end + outward * BESIDE, middle), hang, look)?;
    }
    Ok(())
}

/// A scale around all bars and intervals, with room for the words beside them.
fn across(canvas: &Canvas<'_>, panel: &BarPanel, rows: &[BarRow]) -> Result<Across, ReportError> {
    let bars = || rows.iter().flat_map(|row| &row.bars);
    let values = bars().flat_map(|bar| [bar.to].into_iter().chain(bar.interval.into_iter().flatten()));
    let [least, greatest] = ends(values.chain([panel.base])).unwrap_or([0.0, 1.0]);
    let scale = Scale::around(least, greatest, 6.0);
    let mut room = [0.0_f64; 2];
    for bar in bars() {
        let width = canvas.text_width(&bar.words, Type::plain(TICK_SIZE, INK))?.min(MOST_WORDS) + BESIDE;
        let side = usize::from(bar.to >= panel.base);
        room[side] = room[side].max(width);
    }
    // A tick's number stands half outside.
    let room = room.map(|room| room.max(24.0));
    let page = f64::from(PICTURE_WIDTH);
    Ok(Across { scale, left: MARGIN + room[0], right: page - MARGIN - room[1] })
}

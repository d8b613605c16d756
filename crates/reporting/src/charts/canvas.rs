//! The drawing surface: a white page in units of the finished picture, with lines, bars, text, title and legend.
//!
//! Not here: axes (`panel`), what is drawn (`humidity`, `condensate`, `energy`, `frost`).

use std::sync::OnceLock;

use plotters::coord::Shift;
use plotters::prelude::{DrawingArea, IntoDrawingArea, PathElement, Polygon, Rectangle, SVGBackend, Text};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontStyle, RGBColor, ShapeStyle, TextStyle, WHITE, register_font};

use super::style::{Dash, FINE, Fill, INK, PICTURE_WIDTH, QUIET, TEXT_SIZE, TITLE_SIZE, UnitLook};
use crate::ReportError;
use crate::words::{Language, Words};

/// `DejaVu` Sans, regular, a subset; licence in `crates/reporting/fonts`.
pub const FONT_REGULAR: &[u8] = include_bytes!("../../fonts/DejaVuSans-subset.ttf");
/// `DejaVu` Sans, bold, a subset; licence in `crates/reporting/fonts`.
pub const FONT_BOLD: &[u8] = include_bytes!("../../fonts/DejaVuSans-Bold-subset.ttf");
/// The font list that every text of a chart names.
pub const FONT_FAMILY: &str = "DejaVu Sans, sans-serif";

/// The SVG backend writes a font size of this fraction of the one it is given.
const BACKEND_FONT_SCALE: f64 = 1.24;

/// Text is measured at a font height where the picture uses the em; `DejaVu` Sans is 1.164 em high. A little is kept
/// as room for a viewer with another font.
const MEASURED_FONT_SCALE: f64 = 1.18 / BACKEND_FONT_SCALE;

pub const MARGIN: f64 = 20.0;
pub const TITLE_LINE: f64 = 22.0;
const LEGEND_LINE: f64 = 19.0;
pub const SAMPLE_WIDTH: f64 = 24.0;
pub const SAMPLE_GAP: f64 = 6.0;
const ENTRY_GAP: f64 = 24.0;
/// Longest name in a legend, in characters.
const LONGEST_NAME: usize = 90;
const STRIPE_STEP: f64 = 3.5;
/// Distance of the lines of a paragraph, as a share of the size of its type.
pub const PARAGRAPH_LINE: f64 = 1.35;

pub type Point = (f64, f64);

/// How text hangs at its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hang {
    Left,
    Centre,
    Right,
}

/// Weight, size and colour of text.
#[derive(Clone, Copy)]
pub struct Type {
    pub size: f64,
    pub colour: RGBColor,
    pub weight: FontStyle,
}

impl Type {
    pub const fn plain(size: f64, colour: RGBColor) -> Self {
        Self { size, colour, weight: FontStyle::Normal }
    }

    pub const fn bold(size: f64, colour: RGBColor) -> Self {
        Self { size, colour, weight: FontStyle::Bold }
    }

    fn style(self) -> TextStyle<'static> {
        let size = self.size * f64::from(FINE) * BACKEND_FONT_SCALE;
        let mut style = TextStyle::from((FONT_FAMILY, size, self.weight));
        style.color = self.colour.to_backend_color();
        style
    }
}

/// A line's look.
#[derive(Debug, Clone, Copy)]
pub struct Stroke {
    pub colour: RGBColor,
    pub width: f64,
    pub dash: Dash,
}

impl From<UnitLook> for Stroke {
    fn from(look: UnitLook) -> Self {
        Self { colour: look.colour, width: look.width, dash: look.dash }
    }
}

/// A rectangle between two corners.
#[derive(Debug, Clone, Copy)]
pub struct Rect {
    pub from: Point,
    pub to: Point,
}

/// What a single mark looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    Square,
    Diamond,
}

/// What stands before a legend's words.
#[derive(Debug, Clone, Copy)]
pub enum Sample {
    Line(Stroke),
    Band(RGBColor, f64),
    Bar(RGBColor, Fill),
    Segment(RGBColor, usize),
    Mark(RGBColor, Shape),
    LineAndBar(UnitLook),
    None,
}

/// A legend's entry.
#[derive(Debug, Clone)]
pub struct Entry {
    pub sample: Sample,
    pub words: String,
}

/// The page.
pub struct Canvas<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
    /// Names of months and axes, and how numbers are written.
    pub words: &'static Words,
}

/// Draws a page of this height in English, in units of the finished picture.
pub fn picture(
    height: f64,
    draw: impl FnOnce(&Canvas<'_>) -> Result<(), ReportError>,
) -> Result<String, ReportError> {
    picture_in(Words::of(Language::English)?, height, draw)
}

/// Draws a page of this height with these words.
pub fn picture_in(
    words: &'static Words,
    height: f64,
    draw: impl FnOnce(&Canvas<'_>) -> Result<(), ReportError>,
) -> Result<String, ReportError> {
    register_fonts()?;
    let mut svg = String::new();
    let size = (units(f64::from(PICTURE_WIDTH)).unsigned_abs(), units(height).unsigned_abs());
    {
        let area = SVGBackend::with_string(&mut svg, size).into_drawing_area();
        area.fill(&WHITE).map_err(ReportError::drawing)?;
        let canvas = Canvas { area, words };
        draw(&canvas)?;
        canvas.area.present().map_err(ReportError::drawing)?;
    }
    let drawn = format!("width=\"{}\" height=\"{}\"", size.0, size.1);
    Ok(svg.replacen(&drawn, &format!("width=\"{PICTURE_WIDTH}\" height=\"{height:.0}\""), 1))
}

/// The same in English.
pub fn page(
    title: (&str, &str),
    entries: &[Entry],
    below: f64,
    draw: impl FnOnce(&Canvas<'_>, f64) -> Result<(), ReportError>,
) -> Result<String, ReportError> {
    page_in(Words::of(Language::English)?, title, (entries, below), draw)
}

/// Draws a page in these words with a title and a legend, and this much below them; `draw` gets the height at which they end.
pub fn page_in(
    words: &'static Words,
    (fact, study): (&str, &str),
    (entries, below): (&[Entry], f64),
    draw: impl FnOnce(&Canvas<'_>, f64) -> Result<(), ReportError>,
) -> Result<String, ReportError> {
    let mut end = 0.0;
    picture_in(words, 1.0, |canvas| {
        end = canvas.head(fact, study, entries)?;
        Ok(())
    })?;
    picture_in(words, end + below, |canvas| {
        let top = canvas.head(fact, study, entries)?;
        draw(canvas, top)
    })
}

impl Canvas<'_> {
    /// A line through points, dashed along its length where the stroke says so.
    pub fn line(&self, points: &[Point], stroke: Stroke) -> Result<(), ReportError> {
        let style = ShapeStyle {
            color: stroke.colour.to_rgba(),
            filled: false,
            stroke_width: units(stroke.width).unsigned_abs().max(1),
        };
        let pieces = match stroke.dash {
            None => vec![points.to_vec()],
            Some((on, off)) => dashes(points, f64::from(on), f64::from(off)),
        };
        for piece in pieces {
            let path: Vec<(i32, i32)> = piece.into_iter().map(fine).collect();
            self.area.draw(&PathElement::new(path, style)).map_err(ReportError::drawing)?;
        }
        Ok(())
    }

    /// A filled area between an upper and a lower line.
    pub fn band(&self, upper: &[Point], lower: &[Point], fill: (RGBColor, f64)) -> Result<(), ReportError> {
        let path: Vec<(i32, i32)> =
            upper.iter().chain(lower.iter().rev()).map(|point| fine(*point)).collect();
        self.area.draw(&Polygon::new(path, fill.0.mix(fill.1).filled())).map_err(ReportError::drawing)
    }

    /// A filled rectangle.
    pub fn rect(&self, rect: Rect, fill: (RGBColor, f64)) -> Result<(), ReportError> {
        let corners = [fine(rect.from), fine(rect.to)];
        self.area.draw(&Rectangle::new(corners, fill.0.mix(fill.1).filled())).map_err(ReportError::drawing)
    }

    /// A bar in a unit's fill: full, striped, pale or open, always with an outline of its colour.
    pub fn bar(&self, rect: Rect, colour: RGBColor, fill: Fill) -> Result<(), ReportError> {
        match fill {
            Fill::Solid => self.rect(rect, (colour, 1.0))?,
            Fill::Pale => self.rect(rect, (colour, 0.35))?,
            Fill::Striped => {
                self.rect(rect, (colour, 0.25))?;
                self.stripes(rect, colour)?;
            }
            Fill::Open => {}
        }
        let ((left, top), (right, bottom)) = (rect.from, rect.to);
        let outline = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)];
        self.line(&outline, Stroke { colour, width: 1.0, dash: None })
    }

    /// Text whose middle stands at the height of `at`.
    pub fn text(&self, words: &str, at: Point, hang: Hang, look: Type) -> Result<(), ReportError> {
        let side = match hang {
            Hang::Left => HPos::Left,
            Hang::Centre => HPos::Center,
            Hang::Right => HPos::Right,
        };
        let style = look.style().pos(Pos::new(side, VPos::Center));
        self.area.draw(&Text::new(words.to_owned(), fine(at), style)).map_err(ReportError::drawing)
    }

    /// Width of text, one percent generous.
    pub fn text_width(&self, words: &str, look: Type) -> Result<f64, ReportError> {
        let (width, _) = self.area.estimate_text_size(words, &look.style()).map_err(ReportError::drawing)?;
        Ok(f64::from(width) / f64::from(FINE) * MEASURED_FONT_SCALE)
    }

    /// The title and the legend; the height at which they end.
    pub fn head(&self, fact: &str, study: &str, entries: &[Entry]) -> Result<f64, ReportError> {
        let below_title = self.title(fact, study)?;
        self.legend(entries, below_title)
    }

    /// A sentence in lines of at most this width, the middle of the first at this point; the middle of the line after them.
    pub fn paragraph(&self, words: &str, at: Point, width: f64, look: Type) -> Result<f64, ReportError> {
        let mut lines: Vec<String> = Vec::new();
        for word in words.split(' ') {
            let longer = lines.last().map_or(word.to_owned(), |line| format!("{line} {word}"));
            match lines.last_mut() {
                Some(line) if self.text_width(&longer, look)? <= width => *line = longer,
                _ => lines.push(word.to_owned()),
            }
        }
        let mut y = at.1;
        for line in lines {
            self.text(&line, (at.0, y), Hang::Left, look)?;
            y += look.size * PARAGRAPH_LINE;
        }
        Ok(y)
    }

    /// One line, or two when the study's name is long, set smaller where it is longer still.
    fn title(&self, fact: &str, study: &str) -> Result<f64, ReportError> {
        let look = Type::bold(TITLE_SIZE, INK);
        let room = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN;
        let one = if study.is_empty() { fact.to_owned() } else { format!("{fact} — {study}") };
        let lines = if self.text_width(&one, look)? <= room {
            vec![one]
        } else {
            vec![fact.to_owned(), study.to_owned()]
        };
        let mut middle = MARGIN;
        for line in lines {
            let shrink = (room / self.text_width(&line, look)?).min(1.0);
            self.text(&line, (MARGIN, middle), Hang::Left, Type { size: TITLE_SIZE * shrink, ..look })?;
            middle += TITLE_LINE;
        }
        Ok(middle + 2.0)
    }

    fn legend(&self, entries: &[Entry], top: f64) -> Result<f64, ReportError> {
        let look = Type::plain(TEXT_SIZE, INK);
        let (mut x, mut y) = (MARGIN, top);
        for entry in entries.iter().filter(|entry| !entry.words.is_empty()) {
            let words = shortened(&entry.words);
            let before = if matches!(entry.sample, Sample::None) { 0.0 } else { SAMPLE_WIDTH + SAMPLE_GAP };
            let width = before + self.text_width(&words, look)?;
            if x > MARGIN && x + width > f64::from(PICTURE_WIDTH) - MARGIN {
                x = MARGIN;
                y += LEGEND_LINE;
            }
            self.sample(entry.sample, (x, y))?;
            self.text(&words, (x + before, y), Hang::Left, look)?;
            x += width + ENTRY_GAP;
        }
        Ok(y + LEGEND_LINE)
    }

    /// What stands before a legend's words, its left end in the middle at this point.
    pub fn sample(&self, sample: Sample, (x, y): Point) -> Result<(), ReportError> {
        let boxed = Rect { from: (x, y - 5.5), to: (x + SAMPLE_WIDTH, y + 5.5) };
        match sample {
            Sample::Line(stroke) => self.line(&[(x, y), (x + SAMPLE_WIDTH, y)], stroke),
            Sample::Band(colour, alpha) => {
                self.rect(boxed, (colour, alpha))?;
                let edge = Stroke { colour: QUIET, width: 0.25, dash: None };
                self.line(&[(x, y + 5.5), (x + SAMPLE_WIDTH, y + 5.5)], edge)
            }
            Sample::Bar(colour, fill) => self.bar(boxed, colour, fill),
            Sample::Segment(colour, number) => self.segment(boxed, colour, number),
            Sample::Mark(colour, shape) => self.mark((x + SAMPLE_WIDTH / 2.0, y), 4.5, (colour, shape)),
            Sample::LineAndBar(look) => {
                let half = x + SAMPLE_WIDTH / 2.0;
                self.line(&[(x, y), (half, y)], look.into())?;
                let bar = Rect { from: (half + 3.0, y - 5.5), to: boxed.to };
                self.bar(bar, look.colour, look.fill)
            }
            Sample::None => Ok(()),
        }
    }

    /// A mark around a point, this far to each side.
    pub fn mark(
        &self,
        (x, y): Point,
        half: f64,
        (colour, shape): (RGBColor, Shape),
    ) -> Result<(), ReportError> {
        match shape {
            Shape::Square => {
                let half = half * 0.9;
                self.rect(Rect { from: (x - half, y - half), to: (x + half, y + half) }, (colour, 1.0))
            }
            Shape::Diamond => {
                let half = half * 1.2;
                self.band(&[(x - half, y), (x, y - half), (x + half, y)], &[(x, y + half)], (colour, 1.0))
            }
        }
    }

    /// A stacked segment with its number in the middle.
    pub fn segment(&self, rect: Rect, colour: RGBColor, number: usize) -> Result<(), ReportError> {
        self.rect(rect, (colour, 1.0))?;
        let middle = (f64::midpoint(rect.from.0, rect.to.0), f64::midpoint(rect.from.1, rect.to.1));
        let look = Type::bold(super::style::SMALL_SIZE, readable_on(colour));
        if number > 0 { self.text(&number.to_string(), middle, Hang::Centre, look) } else { Ok(()) }
    }

    fn stripes(&self, rect: Rect, colour: RGBColor) -> Result<(), ReportError> {
        let (top, bottom) = (rect.from.1.min(rect.to.1), rect.from.1.max(rect.to.1));
        let mut y = bottom - STRIPE_STEP / 2.0;
        while y > top + STRIPE_STEP / 2.0 {
            self.line(&[(rect.from.0, y), (rect.to.0, y)], Stroke { colour, width: 1.25, dash: None })?;
            y -= STRIPE_STEP;
        }
        Ok(())
    }
}

/// Black or white, whichever has the greater contrast.
///
/// # Source
/// Web Content Accessibility Guidelines 2, relative luminance and contrast ratio (recalled).
pub fn legible_on(colour: RGBColor) -> RGBColor {
    let linear = |part: u8| {
        let share = f64::from(part) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    let light = 0.2126 * linear(colour.0) + 0.7152 * linear(colour.1) + 0.0722 * linear(colour.2);
    let on_black = (light + 0.05) / 0.05;
    let on_white = 1.05 / (light + 0.05);
    if on_black >= on_white { RGBColor(0, 0, 0) } else { RGBColor(255, 255, 255) }
}

/// Black or white, whichever stands out.
fn readable_on(colour: RGBColor) -> RGBColor {
    let light = 0.299 * f64::from(colour.0) + 0.587 * f64::from(colour.1) + 0.114 * f64::from(colour.2);
    if light > 125.0 { RGBColor(0, 0, 0) } else { RGBColor(255, 255, 255) }
}

/// A name with its middle left out when it is too long for a legend.
pub fn shortened(words: &str) -> String {
    if words.chars().count() <= LONGEST_NAME {
        return words.to_owned();
    }
    let start: String = words.chars().take(LONGEST_NAME - 1).collect();
    format!("{}…", start.trim_end())
}

fn register_fonts() -> Result<(), ReportError> {
    static DONE: OnceLock<bool> = OnceLock::new();
    let done = DONE.get_or_init(|| {
        register_font(FONT_FAMILY, FontStyle::Normal, FONT_REGULAR).is_ok()
            && register_font(FONT_FAMILY, FontStyle::Bold, FONT_BOLD).is_ok()
    });
    if *done { Ok(()) } else { Err(ReportError::drawing("the embedded font is damaged")) }
}

fn fine(point: Point) -> (i32, i32) {
    (units(point.0), units(point.1))
}

#[allow(clippy::cast_possible_truncation, reason = "a page is a few thousand units; the cast saturates")]
fn units(length: f64) -> i32 {
    (length * f64::from(FINE)).round() as i32
}

/// The line cut into dashes along its length.
fn dashes(points: &[Point], on: f64, off: f64) -> Vec<Vec<Point>> {
    let mut pieces = Vec::new();
    let mut piece: Vec<Point> = points.first().copied().into_iter().collect();
    let (mut drawing, mut left) = (true, on);
    for pair in points.windows(2) {
        let (mut start, end) = (pair[0], pair[1]);
        let mut length = (end.0 - start.0).hypot(end.1 - start.1);
        while length > left {
            let share = left / length;
            start = (start.0 + (end.0 - start.0) * share, start.1 + (end.1 - start.1) * share);
            length -= left;
            if drawing {
                piece.push(start);
                pieces.push(std::mem::take(&mut piece));
            } else {
                piece = vec![start];
            }
            drawing = !drawing;
            left = if drawing { on } else { off };
        }
        left -= length;
        if drawing {
            piece.push(end);
        }
    }
    if piece.len() > 1 {
        pieces.push(piece);
    }
    pieces
}

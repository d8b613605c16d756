//! A climate as tiles of dry bulb and humidity ratio, the darker the more hours, under the line of saturated air.
//!
//! All files have the same axes and the same shades. Not here: how hours are binned (`weather::bins`).

use plotters::style::RGBColor;
use weather::bins::{Edges, joint_bins};

use super::canvas::{Canvas, Hang, MARGIN, Point, Rect, Type, legible_on, picture, shortened};
use super::climate::{ClimateInput, extent};
use super::moist_air::{SATURATION, celsius, ratio_at};
use super::panel::{Scale, count};
use super::plot::{Plot, Side};
use super::style::{INK, PICTURE_WIDTH, TEXT_SIZE, TICK_SIZE};
use crate::{ReportError, ShowIn};

const HEAD: f64 = 44.0;
/// The bar of shades.
const BAR_HEIGHT: f64 = 18.0;
const SHADE_WIDTH: f64 = 92.0;
const BEFORE_NAME: f64 = 18.0;
const NAME: f64 = 20.0;
/// Room above a frame for the name of the axis that goes up.
const AXIS_NAME: f64 = 20.0;
const FRAME: f64 = 250.0;
const NUMBERS: f64 = 42.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 20.0;
/// Frame to frame across.
const BETWEEN: f64 = 56.0;
/// Points of a curve across the frame.
const PIECES: usize = 160;

/// Least hours of a shade, its words, its colour: one hue, each step darker.
const SHADES: [(u32, &str, RGBColor); 6] = [
    (1, "1–2", RGBColor(0xD1, 0xE6, 0xF1)),
    (3, "3–9", RGBColor(0xAD, 0xD2, 0xE6)),
    (10, "10–29", RGBColor(0x7A, 0xB6, 0xD7)),
    (30, "30–99", RGBColor(0x3D, 0x94, 0xC4)),
    (100, "100–299", RGBColor(0x00, 0x6A, 0xA6)),
    (300, "300 and more", RGBColor(0x00, 0x33, 0x52)),
];

/// Size of a tile: dry bulb and humidity ratio, in the units shown.
const TILE_SI: (f64, f64) = (2.0, 1.0);
const TILE_IP: (f64, f64) = (5.0, 10.0);

pub fn draw(climates: &[ClimateInput<'_>], show_in: ShowIn) -> Result<String, ReportError> {
    let columns = climates.len().min(2);
    let rows = climates.len().div_ceil(columns);
    let of_row = BEFORE_NAME + NAME + AXIS_NAME + FRAME + NUMBERS;
    picture(HEAD + BAR_HEIGHT + count(rows) * of_row, |canvas| {
        canvas.head("Hours of the year by dry bulb and humidity ratio together", "", &[])?;
        bar(canvas, show_in)?;
        let (across, up) = scales(climates, show_in);
        let room = f64::from(PICTURE_WIDTH) - LEFT - RIGHT;
        let width = (room - BETWEEN * count(columns - 1)) / count(columns);
        for (place, climate) in climates.iter().enumerate() {
            let left = LEFT + count(place % columns) * (width + BETWEEN);
            let top = HEAD + BAR_HEIGHT + count(place / columns) * of_row + BEFORE_NAME;
            let frame = Rect {
                from: (left, top + NAME + AXIS_NAME),
                to: (left + width, top + NAME + AXIS_NAME + FRAME),
            };
            draw_climate(canvas, climate, show_in, Plot { frame, across, up })?;
        }
        Ok(())
    })
}

/// The shades with their hours.
fn bar(canvas: &Canvas<'_>, show_in: ShowIn) -> Result<(), ReportError> {
    let tile = tile(show_in);
    let words = format!(
        "hours a year [h] in a tile of {} {} by {} {}:",
        tile.0,
        show_in.temperature_unit(),
        tile.1,
        show_in.humidity_ratio_unit()
    );
    let middle = HEAD + BAR_HEIGHT / 2.0;
    let look = Type::plain(TEXT_SIZE, INK);
    canvas.text(&words, (MARGIN, middle), Hang::Left, look)?;
    let mut left = MARGIN + canvas.text_width(&words, look)? + 12.0;
    for (_, hours, colour) in SHADES {
        let rect = Rect { from: (left, HEAD), to: (left + SHADE_WIDTH, HEAD + BAR_HEIGHT) };
        canvas.rect(rect, (colour, 1.0))?;
        let at = (left + SHADE_WIDTH / 2.0, middle);
        canvas.text(hours, at, Hang::Centre, Type::plain(TICK_SIZE, legible_on(colour)))?;
        left += SHADE_WIDTH;
    }
    Ok(())
}

fn tile(show_in: ShowIn) -> (f64, f64) {
    match show_in {
        ShowIn::Si => TILE_SI,
        ShowIn::Ip => TILE_IP,
    }
}

/// Axes that hold every tile of every file.
fn scales(climates: &[ClimateInput<'_>], show_in: ShowIn) -> (Scale, Scale) {
    let (t_step, w_step) = tile(show_in);
    let (coldest, warmest) = extent(climates.iter().flat_map(|climate| &climate.year.dry_bulb_c));
    let (_, wettest) = extent(climates.iter().flat_map(|climate| &climate.year.humidity_ratio));
    let low = (show_in.temperature(coldest) / t_step).floor() * t_step;
    let high = ((show_in.temperature(warmest) / t_step).floor() + 1.0) * t_step;
    let most = ((show_in.humidity_ratio(wettest) / w_step).floor() + 1.0) * w_step;
    (Scale::around(low, high, 9.0), Scale::around(0.0, most, 6.0))
}

fn draw_climate(
    canvas: &Canvas<'_>,
    climate: &ClimateInput<'_>,
    show_in: ShowIn,
    plot: Plot,
) -> Result<(), ReportError> {
    let across = format!("dry bulb [{}]", show_in.temperature_unit());
    let up = format!("humidity ratio [{}]", show_in.humidity_ratio_unit());
    plot.axes(canvas, &across, (&up, Side::Left))?;
    heading(canvas, &climate.title(), plot.frame)?;
    for (rect, colour) in tiles(climate, show_in, &plot)? {
        canvas.rect(rect, (colour, 1.0))?;
    }
    let pressure_pa = climate.year.pressure_pa.iter().sum::<f64>() / count(climate.year.hours());
    plot.line(canvas, &saturation(&plot, show_in, pressure_pa), SATURATION)?;
    plot.outline(canvas)?;
    let (x, y) = (plot.frame.from.0 + 10.0, plot.frame.from.1 + 14.0);
    canvas.line(&[(x, y), (x + 22.0, y)], SATURATION)?;
    let words = format!("saturated air at {}", show_in.pressure_words(pressure_pa));
    canvas.text(&words, (x + 28.0, y), Hang::Left, Type::plain(TICK_SIZE, INK))
}

fn heading(canvas: &Canvas<'_>, title: &str, frame: Rect) -> Result<(), ReportError> {
    let look = Type::bold(TEXT_SIZE, INK);
    let title = shortened(title);
    let shrink = ((frame.to.0 - frame.from.0) / canvas.text_width(&title, look)?.max(1.0)).min(1.0);
    let at = (frame.from.0, frame.from.1 - AXIS_NAME - NAME / 2.0);
    canvas.text(&title, at, Hang::Left, Type { size: TEXT_SIZE * shrink, ..look })
}

/// Every tile that has hours, with the colour of its shade.
fn tiles(
    climate: &ClimateInput<'_>,
    show_in: ShowIn,
    plot: &Plot,
) -> Result<Vec<(Rect, RGBColor)>, ReportError> {
    let (t_step, w_step) = tile(show_in);
    let per_kelvin = show_in.difference(1.0);
    let ratio = show_in.humidity_ratio(1.0);
    let dry_bulb = Edges::new(t_step / per_kelvin, celsius(show_in, 0.0)).map_err(ReportError::drawing)?;
    let humidity = Edges::new(w_step / ratio, 0.0).map_err(ReportError::drawing)?;
    let bins = joint_bins(climate.year, &dry_bulb, &humidity);
    Ok(bins
        .iter()
        .map(|bin| {
            let (t, w) = (show_in.temperature(bin.low_c), show_in.humidity_ratio(bin.low_humidity_ratio));
            let rect = Rect { from: plot.at(t, w + w_step), to: plot.at(t + t_step, w) };
            (rect, shade(bin.hours))
        })
        .collect())
}

fn shade(hours: u32) -> RGBColor {
    let darkest = SHADES.iter().rev().find(|(least, _, _)| hours >= *least);
    darkest.map_or(plotters::style::WHITE, |(_, _, colour)| *colour)
}

fn saturation(plot: &Plot, show_in: ShowIn, pressure_pa: f64) -> Vec<Point> {
    let (from, to) = (plot.across.least, plot.across.greatest);
    (0..=PIECES)
        .map(|piece| {
            let t = from + (to - from) * count(piece) / count(PIECES);
            let ratio = ratio_at(celsius(show_in, t), 1.0, pressure_pa);
            plot.at(t, show_in.humidity_ratio(ratio))
        })
        .collect()
}

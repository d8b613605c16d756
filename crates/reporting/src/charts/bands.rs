//! Bands of indoor relative humidity: limits, words, and colours that are readable in grey.
//!
//! The damper the darker, with the two great steps at 30 and at 60 %. Not here: the carpets (`humidity_year`), the columns
//! (`humidity_bands`).

use plotters::style::RGBColor;

use crate::columns::LIMIT_MARGIN;

/// How many bands there are.
pub const BANDS: usize = 6;

/// Limits between the bands \[fraction\].
const LIMITS: [f64; BANDS - 1] = [0.2, 0.3, 0.4, 0.5, 0.6];

/// The band on which the others lie in a carpet.
pub const MIDDLE: usize = 3;

/// Keys of their words.
pub const WORDS: [&str; BANDS] =
    ["chart.band_1", "chart.band_2", "chart.band_3", "chart.band_4", "chart.band_5", "chart.band_6"];

pub const COLOURS: [RGBColor; BANDS] = [
    RGBColor(0xFF, 0xF6, 0xDC),
    RGBColor(0xFF, 0xE0, 0x82),
    RGBColor(0xA6, 0xC2, 0xBB),
    RGBColor(0x7F, 0xA2, 0x9E),
    RGBColor(0x58, 0x7C, 0x80),
    RGBColor(0x0B, 0x2A, 0x5B),
];

/// The band of a relative humidity \[fraction\]: a limit belongs to the band above it, 60 % to the one below, as in the
/// tables' hours below 30 and above 60 %.
pub fn band_of(relative_humidity: f64) -> usize {
    let reached = |(place, limit): &(usize, &f64)| {
        if place + 1 == LIMITS.len() {
            relative_humidity > **limit + LIMIT_MARGIN
        } else {
            relative_humidity >= **limit - LIMIT_MARGIN
        }
    };
    LIMITS.iter().enumerate().filter(reached).count()
}

//! Colours, lines and type sizes of the charts.
//!
//! Every series differs in more than hue: lines in dash and width, bars in fill, segments by a number.

use plotters::style::RGBColor;

/// Drawing units in one unit of the finished picture: the backend rounds to whole units, and half a pixel shows.
pub const FINE: i32 = 4;

/// Width of the finished picture.
pub const PICTURE_WIDTH: i32 = 920;

/// Eight colours that remain apart for readers with any common colour-vision deficiency.
///
/// # Source
/// \[OKABE-ITO\] M. Okabe and K. Ito, Color Universal Design, University of Tokyo, 2008, the eight-colour set.
pub mod palette {
    use super::RGBColor;

    pub const BLACK: RGBColor = RGBColor(0x00, 0x00, 0x00);
    pub const ORANGE: RGBColor = RGBColor(0xE6, 0x9F, 0x00);
    pub const SKY_BLUE: RGBColor = RGBColor(0x56, 0xB4, 0xE9);
    pub const BLUISH_GREEN: RGBColor = RGBColor(0x00, 0x9E, 0x73);
    pub const YELLOW: RGBColor = RGBColor(0xF0, 0xE4, 0x42);
    pub const BLUE: RGBColor = RGBColor(0x00, 0x72, 0xB2);
    pub const VERMILLION: RGBColor = RGBColor(0xD5, 0x5E, 0x00);
    pub const REDDISH_PURPLE: RGBColor = RGBColor(0xCC, 0x79, 0xA7);
}

/// Text and axes.
pub const INK: RGBColor = RGBColor(0x26, 0x2B, 0x30);
/// Second-rank text and baselines.
pub const QUIET: RGBColor = RGBColor(0x6B, 0x73, 0x7B);
/// Grid lines.
pub const FAINT: RGBColor = RGBColor(0xE3, 0xE6, 0xE9);
/// The band in which humidity is comfortable.
pub const SHADE: RGBColor = RGBColor(0xF1, 0xF3, 0xF5);
/// What is left over in a stack.
pub const REST: RGBColor = RGBColor(0xC4, 0xC9, 0xCE);

/// Type sizes in the finished picture.
pub const TITLE_SIZE: f64 = 15.0;
/// Axis names, legend.
pub const TEXT_SIZE: f64 = 11.5;
/// Tick labels.
pub const TICK_SIZE: f64 = 11.0;
/// Numbers in bars.
pub const SMALL_SIZE: f64 = 9.0;

/// Dash pattern in units of the finished picture; `None` is a full line.
pub type Dash = Option<(i32, i32)>;

/// How a unit looks, by its place in the study; after seven the looks repeat.
#[derive(Debug, Clone, Copy)]
pub struct UnitLook {
    pub colour: RGBColor,
    pub width: f64,
    pub dash: Dash,
    pub fill: Fill,
}

/// How a bar is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    Solid,
    Striped,
    Pale,
    Open,
}

/// The look of the unit at `place`.
pub fn unit_look(place: usize) -> UnitLook {
    const LOOKS: [UnitLook; 7] = [
        UnitLook { colour: palette::BLUE, width: 2.0, dash: None, fill: Fill::Solid },
        UnitLook { colour: palette::VERMILLION, width: 2.0, dash: Some((7, 3)), fill: Fill::Striped },
        UnitLook { colour: palette::BLUISH_GREEN, width: 1.6, dash: Some((16, 3)), fill: Fill::Pale },
        UnitLook { colour: palette::REDDISH_PURPLE, width: 2.4, dash: Some((2, 3)), fill: Fill::Open },
        UnitLook { colour: palette::ORANGE, width: 2.8, dash: None, fill: Fill::Solid },
        UnitLook { colour: palette::SKY_BLUE, width: 2.0, dash: Some((12, 4)), fill: Fill::Striped },
        UnitLook { colour: palette::BLACK, width: 1.6, dash: Some((4, 4)), fill: Fill::Pale },
    ];
    LOOKS[place % LOOKS.len()]
}

/// Dark grey, apart from the eight colours.
pub const SLATE: RGBColor = RGBColor(0x55, 0x5B, 0x61);

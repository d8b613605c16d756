//! Climates as duration curves: for how many hours of the year it is warmer than this, and for how many the dew point is higher.
//!
//! Each file is a line with its name beside it. Not here: the curves and their names (`duration_plot`), what a dew point below freezing refers to (`weather::summary`).

use weather::summary::dew_points_c;

use super::canvas::{Canvas, Rect, picture};
use super::climate::ClimateInput;
use super::duration_plot::{Duration, Level, Line};
use super::panel::count;
use super::style::{PICTURE_WIDTH, unit_look};
use crate::{ReportError, ShowIn};

const HEAD: f64 = 44.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 24.0;
const AXIS_NAME: f64 = 28.0;
const FRAME: f64 = 270.0;
const NUMBERS: f64 = 44.0;
const GAP: f64 = 10.0;
const LONGEST_NAME: usize = 34;
/// What is sorted.
struct Quantity {
    words: &'static str,
    values: fn(&ClimateInput<'_>) -> Vec<f64>,
    /// A level that matters to a core, with its words.
    level: (f64, &'static str),
}

const QUANTITIES: [Quantity; 2] = [
    Quantity {
        words: "dry bulb",
        values: |climate| climate.year.dry_bulb_c.clone(),
        level: (0.0, "freezing"),
    },
    Quantity {
        words: "dew point",
        values: |climate| dew_points_c(climate.year),
        level: (simulation::climate::DAMP_DEW_POINT_C, "outdoor air dampens the house above"),
    },
];

pub fn draw(climates: &[ClimateInput<'_>], show_in: ShowIn) -> Result<String, ReportError> {
    let of_each = AXIS_NAME + FRAME + NUMBERS + GAP;
    picture(HEAD + count(QUANTITIES.len()) * of_each, |canvas| {
        canvas.head("For how many hours of the year it is warmer, and more humid, than this", "", &[])?;
        for (place, quantity) in QUANTITIES.iter().enumerate() {
            let top = HEAD + count(place) * of_each + AXIS_NAME;
            let frame = Rect { from: (LEFT, top), to: (f64::from(PICTURE_WIDTH) - RIGHT, top + FRAME) };
            draw_quantity(canvas, quantity, (climates, show_in), frame)?;
        }
        Ok(())
    })
}

fn draw_quantity(
    canvas: &Canvas<'_>,
    quantity: &Quantity,
    (climates, show_in): (&[ClimateInput<'_>], ShowIn),
    frame: Rect,
) -> Result<(), ReportError> {
    let line = |(place, (climate, name)): (usize, (&ClimateInput<'_>, String))| {
        let values = (quantity.values)(climate).into_iter().map(|celsius| show_in.temperature(celsius));
        Line { name, look: unit_look(place), values: values.collect() }
    };
    let (level_c, words) = quantity.level;
    let level = show_in.temperature(level_c);
    let number = format!("{level:.1}");
    let words = format!("{words} {} {}", number.trim_end_matches(".0"), show_in.temperature_unit());
    let duration = Duration {
        across: "hours of the year in which it is higher [h]".to_owned(),
        up: format!("{} [{}]", quantity.words, show_in.temperature_unit()),
        lines: climates.iter().zip(names(climates)).enumerate().map(line).collect(),
        levels: vec![Level { value: level, words }],
    };
    duration.draw(canvas, frame)
}

/// The files' names, short, with the files' numbers where that makes some alike.
fn names(climates: &[ClimateInput<'_>]) -> Vec<String> {
    let names: Vec<String> = climates.iter().map(|climate| short(climate.name)).collect();
    let is_alike = |name: &String| names.iter().filter(|other| *other == name).count() > 1;
    if !names.iter().any(is_alike) {
        return names;
    }
    names.iter().enumerate().map(|(place, name)| format!("{}: {name}", place + 1)).collect()
}

/// A name without its middle where it is long: files often differ at one end or the other.
fn short(name: &str) -> String {
    let letters: Vec<char> = name.chars().collect();
    if letters.len() <= LONGEST_NAME {
        return name.to_owned();
    }
    let half = (LONGEST_NAME - 1) / 2;
    let (start, end) = (&letters[..half], &letters[letters.len() - half..]);
    format!("{}…{}", start.iter().collect::<String>(), end.iter().collect::<String>())
}

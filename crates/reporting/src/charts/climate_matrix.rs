//! Units in climates as a map of tiles: a panel for each figure, a row for each climate, a column for each unit, its number in each.
//!
//! Every panel has one hue, pale for its least figure and dark for its greatest. Not here: how the figures come about
//! (`climates`).

use plotters::style::RGBColor;

use super::canvas::{Canvas, Entry, Hang, MARGIN, Rect, Sample, Type, legible_on, picture, shortened};
use super::panel::count;
use super::style::{INK, PICTURE_WIDTH, QUIET, SLATE, TEXT_SIZE, TICK_SIZE, palette};
use crate::climates::{Climate, ClimateFigure};
use crate::{ReportError, ShowIn};

const BEFORE_PANEL: f64 = 14.0;
const NAME: f64 = 18.0;
const SENSE: f64 = 17.0;
const UNITS: f64 = 18.0;
const ROW: f64 = 24.0;
const BETWEEN: f64 = 36.0;
const FOOT: f64 = 16.0;
/// Room for the names of climates, at most, with two panels beside each other and with one.
const NAMES_WIDTH: [f64; 2] = [150.0, 260.0];
const PAD: f64 = 8.0;
/// More units than this have a panel's row to themselves.
const MOST_UNITS_IN_HALF: usize = 8;
const GAP: f64 = 1.0;
/// How much of the hue the least and the greatest figure have.
const PALEST: f64 = 0.08;
const DARKEST: f64 = 0.90;
/// A page on which a head is tried out.
const TRIAL_HEIGHT: f64 = 2000.0;

/// What a panel shows.
struct Shown {
    figure: ClimateFigure,
    words: &'static str,
    unit: Unit,
    /// What dark means.
    sense: &'static str,
    hue: RGBColor,
    decimals: usize,
    /// Whether zero belongs to the shades, so that none is pale.
    from_zero: bool,
}

enum Unit {
    Is(&'static str),
    Volume(&'static str),
}

const fn shown(
    figure: ClimateFigure,
    (words, unit): (&'static str, Unit),
    sense: &'static str,
    hue: RGBColor,
) -> Shown {
    Shown { figure, words, unit, sense, hue, decimals: 0, from_zero: true }
}

use ClimateFigure as F;

const SHOWN: [Shown; 11] = [
    shown(
        F::Saving,
        ("Useful saving, as run", Unit::Is("kWh")),
        "darker: more is saved",
        palette::BLUISH_GREEN,
    ),
    shown(
        F::SavingHeld,
        ("Useful saving, missed air made up", Unit::Is("kWh")),
        "darker: more is saved",
        palette::BLUISH_GREEN,
    ),
    Shown {
        from_zero: false,
        ..shown(
            F::Winter,
            ("Mean relative humidity in winter", Unit::Is("%")),
            "darker: damper; neither end is good",
            palette::BLUE,
        )
    },
    Shown {
        from_zero: false,
        ..shown(
            F::Summer,
            ("Mean relative humidity in summer", Unit::Is("%")),
            "darker: damper; neither end is good",
            palette::BLUE,
        )
    },
    shown(F::Below, ("Rooms below 30 %", Unit::Is("h")), "darker: too dry for longer", palette::VERMILLION),
    shown(F::Above, ("Rooms above 60 %", Unit::Is("h")), "darker: too damp for longer", palette::BLUE),
    shown(F::Drain, ("Water to the drain", Unit::Volume("")), "darker: more water", palette::SKY_BLUE),
    Shown {
        decimals: 1,
        ..shown(
            F::PeakDrain,
            ("Most water to the drain in a day", Unit::Volume("/day")),
            "darker: more water",
            palette::SKY_BLUE,
        )
    },
    shown(F::Frost, ("Ice forms in the core", Unit::Is("h")), "darker: ice for longer", SLATE),
    shown(F::Blocked, ("Core blocked by ice", Unit::Is("h")), "darker: blocked for longer", SLATE),
    Shown {
        decimals: 1,
        ..shown(
            F::MissedShare,
            ("Outdoor air missed", Unit::Is("%")),
            "darker: less fresh air",
            palette::REDDISH_PURPLE,
        )
    },
];

/// What is drawn, with the names that fit.
struct Map<'a> {
    climates: &'a [Climate],
    show_in: ShowIn,
    /// Panels beside each other.
    across: usize,
    /// Width of the names of climates, and of a cell.
    names_width: f64,
    cell_width: f64,
    climate_names: Vec<String>,
    unit_names: Vec<String>,
    /// What the short names stand for.
    entries: Vec<Entry>,
}

pub fn draw(climates: &[Climate], study: &str, show_in: ShowIn) -> Result<String, ReportError> {
    let units = climates.first().map_or(&[][..], |climate| &climate.units);
    if units.is_empty() || climates.iter().any(|climate| climate.units.len() != units.len()) {
        return Err(ReportError::NothingToDraw { chart: "units in climates" });
    }
    let title = "Units in climates, side by side";
    let (mut map, mut head) = (None, 0.0);
    picture(TRIAL_HEIGHT, |canvas| {
        let fitted = Map::fit(canvas, climates, show_in)?;
        head = canvas.head(title, study, &fitted.entries)?;
        map = Some(fitted);
        Ok(())
    })?;
    let Some(map) = map else { return Err(ReportError::NothingToDraw { chart: "units in climates" }) };
    let of_panel = map.panel_height();
    let rows = SHOWN.len().div_ceil(map.across);
    picture(head + count(rows) * of_panel + FOOT, |canvas| {
        canvas.head(title, study, &map.entries)?;
        for (place, shown) in SHOWN.iter().enumerate() {
            let width = map.panel_width() + BETWEEN;
            let left = MARGIN + count(place % map.across) * width;
            map.panel(canvas, shown, (left, head + count(place / map.across) * of_panel))?;
        }
        Ok(())
    })
}

impl<'a> Map<'a> {
    fn fit(canvas: &Canvas<'_>, climates: &'a [Climate], show_in: ShowIn) -> Result<Self, ReportError> {
        let units: Vec<&str> = climates
            .first()
            .map_or_else(Vec::new, |climate| climate.units.iter().map(|unit| unit.name.as_str()).collect());
        let names: Vec<&str> = climates.iter().map(|climate| climate.name.as_str()).collect();
        let across = if units.len() > MOST_UNITS_IN_HALF { 1 } else { 2 };
        let most = if across == 2 { NAMES_WIDTH[0] } else { NAMES_WIDTH[1] };
        let (climate_names, mut entries) = labels(canvas, &names, most, letters)?;
        let mut names_width = 0.0_f64;
        for name in &climate_names {
            names_width = names_width.max(canvas.text_width(name, Type::plain(TICK_SIZE, INK))? + PAD);
        }
        let page = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN;
        let panel_width = (page - BETWEEN * count(across - 1)) / count(across);
        let cell_width = (panel_width - names_width) / count(units.len());
        let numbers = |place: usize| (place + 1).to_string();
        let (unit_names, more) = labels(canvas, &units, cell_width - PAD, numbers)?;
        entries.splice(0..0, more);
        Ok(Self { climates, show_in, across, names_width, cell_width, climate_names, unit_names, entries })
    }

    fn panel_width(&self) -> f64 {
        self.names_width + self.cell_width * count(self.unit_names.len())
    }

    fn panel_height(&self) -> f64 {
        BEFORE_PANEL + NAME + SENSE + UNITS + ROW * count(self.climates.len())
    }

    fn panel(&self, canvas: &Canvas<'_>, shown: &Shown, (left, top): (f64, f64)) -> Result<(), ReportError> {
        let unit = match shown.unit {
            Unit::Is(unit) => unit.to_owned(),
            Unit::Volume(per) => format!("{}{per}", self.show_in.volume_unit()),
        };
        let heading = format!("{} [{unit}]", shown.words);
        let mut y = top + BEFORE_PANEL;
        canvas.text(&heading, (left, y + NAME / 2.0), Hang::Left, Type::bold(TEXT_SIZE, INK))?;
        y += NAME;
        canvas.text(shown.sense, (left, y + SENSE / 2.0 - 2.0), Hang::Left, Type::plain(TICK_SIZE, QUIET))?;
        y += SENSE;
        let cells_left = left + self.names_width;
        for (place, name) in self.unit_names.iter().enumerate() {
            let at = (cells_left + self.cell_width * (count(place) + 0.5), y + UNITS / 2.0);
            canvas.text(name, at, Hang::Centre, Type::plain(TICK_SIZE, INK))?;
        }
        y += UNITS;
        let values = self.values(shown);
        let shade = Shades::of(&values, shown);
        for ((row, name), of_row) in self.climate_names.iter().enumerate().zip(&values) {
            let top = y + ROW * count(row);
            let middle = top + ROW / 2.0;
            canvas.text(name, (cells_left - PAD, middle), Hang::Right, Type::plain(TICK_SIZE, INK))?;
            for (place, value) in of_row.iter().enumerate() {
                let from = (cells_left + self.cell_width * count(place) + GAP, top + GAP);
                let to = (from.0 + self.cell_width - 2.0 * GAP, top + ROW - GAP);
                let at = (f64::midpoint(from.0, to.0), middle);
                let (words, ink) = match value {
                    Some(value) => {
                        let colour = shade.colour(*value);
                        canvas.rect(Rect { from, to }, (colour, 1.0))?;
                        (printed(*value, shown.decimals), legible_on(colour))
                    }
                    None => ("–".to_owned(), INK),
                };
                canvas.text(&words, at, Hang::Centre, Type::plain(TICK_SIZE, ink))?;
            }
        }
        Ok(())
    }

    /// The figures as they are shown, climate by climate.
    fn values(&self, shown: &Shown) -> Vec<Vec<Option<f64>>> {
        let in_unit = |value: f64| match shown.unit {
            Unit::Is(_) => value,
            Unit::Volume(_) => self.show_in.volume(value),
        };
        let of_climate = |climate: &Climate| {
            climate.units.iter().map(|unit| unit.value(shown.figure).map(in_unit)).collect()
        };
        self.climates.iter().map(of_climate).collect()
    }
}

/// The shades of a panel.
struct Shades {
    least: f64,
    greatest: f64,
    hue: RGBColor,
}

impl Shades {
    fn of(values: &[Vec<Option<f64>>], shown: &Shown) -> Self {
        let (least, greatest) = super::climate::extent(values.iter().flatten().flatten());
        let least = if shown.from_zero { least.min(0.0) } else { least };
        Self { least, greatest, hue: shown.hue }
    }

    fn colour(&self, value: f64) -> RGBColor {
        let extent = self.greatest - self.least;
        let share = if extent > 0.0 { ((value - self.least) / extent).clamp(0.0, 1.0) } else { 0.0 };
        let amount = PALEST + (DARKEST - PALEST) * share;
        let part = |full: u8| mixed(full, amount);
        RGBColor(part(self.hue.0), part(self.hue.1), part(self.hue.2))
    }
}

/// A part of a colour between white (0) and itself (1).
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 255")]
fn mixed(full: u8, amount: f64) -> u8 {
    (255.0 + (f64::from(full) - 255.0) * amount).round().clamp(0.0, 255.0) as u8
}

/// With a true minus sign, and none before a zero.
fn printed(value: f64, decimals: usize) -> String {
    crate::text_table::number(value, decimals).replace('-', "−")
}

/// The names where all of them fit, else short names and entries that say what these stand for.
fn labels(
    canvas: &Canvas<'_>,
    names: &[&str],
    room: f64,
    short: impl Fn(usize) -> String,
) -> Result<(Vec<String>, Vec<Entry>), ReportError> {
    let mut widest = 0.0_f64;
    for name in names {
        widest = widest.max(canvas.text_width(name, Type::plain(TICK_SIZE, INK))?);
    }
    if widest <= room {
        return Ok((names.iter().map(|name| (*name).to_owned()).collect(), Vec::new()));
    }
    let entries = names.iter().enumerate().map(|(place, name)| Entry {
        sample: Sample::None,
        words: shortened(&format!("{}: {name}", short(place))),
    });
    Ok(((0..names.len()).map(&short).collect(), entries.collect()))
}

/// A, B … Z, then A2, B2 …
fn letters(place: usize) -> String {
    let letter = char::from(b'A' + u8::try_from(place % 26).unwrap_or(0));
    let round = place / 26;
    if round == 0 { letter.to_string() } else { format!("{letter}{}", round + 1) }
}

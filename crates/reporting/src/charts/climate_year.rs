//! A climate hour by hour: days across, hours of the day down; what it does to a core, and below that to a house.
//!
//! A cold hour often freezes the core and dries the house: so core and house have a carpet each, and every hour is counted
//! where it is drawn. Not here: how an hour is judged (`simulation::climate`).

use plotters::style::RGBColor;
use simulation::climate::{self, ClimateHour, CoreHour, HouseHour, climate_hours};

use super::canvas::{
    Canvas, Hang, MARGIN, PARAGRAPH_LINE, Rect, SAMPLE_GAP, SAMPLE_WIDTH, Stroke, Type, picture,
};
use super::carpet::{blocks, marks, outline, whole};
use super::climate::ClimateInput;
use super::panel::{Panel, Scale, count};
use super::style::{FAINT, INK, PICTURE_WIDTH, QUIET, SHADE, TEXT_SIZE, TICK_SIZE, palette};
use crate::calendar::MONTHS;
use crate::{Calendar, ReportError, ShowIn};

/// Room for the title.
const HEAD: f64 = 44.0;
/// Lines that the meaning of the classes takes.
const MEANING_LINES: f64 = 4.0;
const BEFORE_NAME: f64 = 12.0;
/// Height of the line that names a file.
const NAME: f64 = 20.0;
/// Height of the line that says what a carpet's colours are.
const CAPTION: f64 = 20.0;
const CARPET: f64 = 72.0;
const GAP: f64 = 8.0;
const MONTH_LINE: f64 = 18.0;
/// Room below the last panel for the name of the axis.
const FOOT: f64 = 34.0;
const ENTRY_GAP: f64 = 18.0;

/// A class of hours in a carpet.
struct Class {
    words: &'static str,
    colour: RGBColor,
    holds: fn(&ClimateHour) -> bool,
}

/// The classes of a carpet; every hour is in one of them.
struct Carpet {
    of: &'static str,
    classes: [Class; 3],
}

/// Dark, lighter and pale in each carpet, so that they stay apart without colour. The last is the ground on which the others lie.
const CARPETS: [Carpet; 2] = [
    Carpet {
        of: "core",
        classes: [
            Class { words: "frosts", colour: palette::BLUE, holds: |hour| hour.core == CoreHour::Frosts },
            Class { words: "drains", colour: palette::SKY_BLUE, holds: |hour| hour.core == CoreHour::Drains },
            Class { words: "stays dry", colour: SHADE, holds: |hour| hour.core == CoreHour::Dry },
        ],
    },
    Carpet {
        of: "house",
        classes: [
            Class {
                words: "dries out",
                colour: palette::ORANGE,
                holds: |hour| hour.house == HouseHour::DriesOut,
            },
            Class {
                words: "dampens",
                colour: palette::BLUISH_GREEN,
                holds: |hour| hour.house == HouseHour::Dampens,
            },
            Class { words: "30 to 60 %", colour: SHADE, holds: |hour| hour.house == HouseHour::Between },
        ],
    },
];

pub fn draw(climates: &[ClimateInput<'_>], show_in: ShowIn) -> Result<String, ReportError> {
    let of_each = BEFORE_NAME + NAME + 2.0 * (CAPTION + CARPET) + GAP + MONTH_LINE;
    let meaning_height = MEANING_LINES * TICK_SIZE * PARAGRAPH_LINE;
    picture(HEAD + meaning_height + count(climates.len()) * of_each + FOOT, |canvas| {
        let title = "What the climate does to a recovery core and to a house, hour by hour";
        canvas.head(title, "", &[])?;
        let width = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN;
        canvas.paragraph(&meaning(show_in), (MARGIN, HEAD), width, Type::plain(TICK_SIZE, QUIET))?;
        let mut top = HEAD + meaning_height;
        for climate in climates {
            draw_climate(canvas, climate, top)?;
            top += of_each;
        }
        let middle = f64::midpoint(Panel::left(), Panel::right());
        canvas.text(
            "day of the year, by month",
            (middle, top + 12.0),
            Hang::Centre,
            Type::plain(TEXT_SIZE, QUIET),
        )
    })
}

/// What the classes mean, in the numbers by which the hours are judged.
fn meaning(show_in: ShowIn) -> String {
    let t = |celsius: f64| {
        let text = format!("{:.1}", show_in.temperature(celsius));
        format!("{} {}", text.trim_end_matches(".0"), show_in.temperature_unit())
    };
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    let supply = |kg_per_m3: f64| {
        let (shown, unit) = (show_in.vapour_density(kg_per_m3), show_in.vapour_density_unit());
        if show_in == ShowIn::Si { format!("{shown:.1} {unit}") } else { format!("{shown:.2} {unit}") }
    };
    format!(
        "Core: it frosts, or drains, where a counterflow plate core (NTU {:.0}, equal flows) that takes air of {} and {} from the \
         rooms forms ice, or liquid alone, of at least {:.3} {} of air. House: at {} it dries out below {} and dampens above {} (or by \
         outdoor air with a dew point above {}), with a moisture supply (vapour above that outdoors) of {} up to {} outdoors that \
         falls to {} from {} on: a Finnish design value that a tenth of houses exceeds. Hours are of local standard time.",
        climate::CORE_NTU,
        t(climate::ROOM_C),
        percent(climate::EXTRACT_RELATIVE_HUMIDITY),
        show_in.humidity_ratio(climate::LEAST_WATER),
        show_in.humidity_ratio_unit(),
        t(climate::ROOM_C),
        percent(climate::TOO_DRY),
        percent(climate::TOO_DAMP),
        t(climate::DAMP_DEW_POINT_C),
        supply(climate::SUPPLY_IN_COLD_KG_PER_M3),
        t(climate::SUPPLY_COLD_C),
        supply(climate::SUPPLY_IN_WARMTH_KG_PER_M3),
        t(climate::SUPPLY_WARM_C),
    )
}

fn draw_climate(canvas: &Canvas<'_>, climate: &ClimateInput<'_>, top: f64) -> Result<(), ReportError> {
    let calendar = Calendar::for_hours(climate.year.hours())?;
    let hours = climate_hours(climate.year);
    let mut y = top + BEFORE_NAME;
    name(canvas, &climate.title(), y + NAME / 2.0)?;
    y += NAME;
    for (place, carpet) in CARPETS.iter().enumerate() {
        y += if place > 0 { GAP } else { 0.0 };
        caption(canvas, carpet, &hours, y + CAPTION / 2.0)?;
        y += CAPTION;
        let scale = Scale { least: 0.0, greatest: 24.0, step: 6.0 };
        let panel = Panel { top: y, bottom: y + CARPET, scale, calendar: &calendar };
        draw_carpet(canvas, carpet, &panel, &hours)?;
        y += CARPET;
    }
    let panel = Panel {
        top: y,
        bottom: y,
        scale: Scale { least: 0.0, greatest: 1.0, step: 1.0 },
        calendar: &calendar,
    };
    for (month, words) in MONTHS.iter().enumerate() {
        let (left, right) = panel.month(month);
        let at = (f64::midpoint(left, right), y + 12.0);
        canvas.text(words, at, Hang::Centre, Type::plain(TICK_SIZE, QUIET))?;
    }
    Ok(())
}

/// A file's name, smaller where it is long.
fn name(canvas: &Canvas<'_>, words: &str, y: f64) -> Result<(), ReportError> {
    let look = Type::bold(TEXT_SIZE + 1.0, INK);
    let words = super::canvas::shortened(words);
    let room = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN;
    let shrink = (room / canvas.text_width(&words, look)?.max(1.0)).min(1.0);
    canvas.text(&words, (MARGIN, y), Hang::Left, Type { size: look.size * shrink, ..look })
}

/// The name of the axis on the left, the carpet's classes with their hours on the right.
fn caption(canvas: &Canvas<'_>, carpet: &Carpet, hours: &[ClimateHour], y: f64) -> Result<(), ReportError> {
    canvas.text("hour of the day [h]", (Panel::left(), y), Hang::Left, Type::plain(TEXT_SIZE, QUIET))?;
    let look = Type::plain(TEXT_SIZE, INK);
    let bold = Type::bold(TEXT_SIZE, INK);
    let mut x = Panel::right();
    for class in carpet.classes.iter().rev() {
        let counted = hours.iter().filter(|hour| (class.holds)(hour)).count();
        let words = format!("{} {counted} h", class.words);
        x -= canvas.text_width(&words, look)?;
        canvas.text(&words, (x, y), Hang::Left, look)?;
        x -= SAMPLE_GAP + SAMPLE_WIDTH;
        let rect = Rect { from: (x, y - 5.5), to: (x + SAMPLE_WIDTH, y + 5.5) };
        canvas.rect(rect, (class.colour, 1.0))?;
        outline(canvas, rect)?;
        x -= ENTRY_GAP;
    }
    canvas.text(&format!("the {}", carpet.of), (x, y), Hang::Right, bold)
}

/// Hours as cells: one class is the ground, the others lie upon it.
fn draw_carpet(
    canvas: &Canvas<'_>,
    carpet: &Carpet,
    panel: &Panel<'_>,
    hours: &[ClimateHour],
) -> Result<(), ReportError> {
    let [first, second, ground] = &carpet.classes;
    canvas.rect(whole(panel), (ground.colour, 1.0))?;
    let class_of = |hour: &ClimateHour| [first, second].into_iter().position(|class| (class.holds)(hour));
    for block in blocks(hours, class_of) {
        if let Some(class) = carpet.classes.get(block.class) {
            canvas.rect(block.rect(panel), (class.colour, 1.0))?;
        }
    }
    for month in 1..12 {
        let x = panel.month(month).0;
        canvas
            .line(&[(x, panel.top), (x, panel.bottom)], Stroke { colour: FAINT, width: 0.75, dash: None })?;
    }
    marks(canvas, panel)
}

//! The page of a core's steady point: the chart of moist air, and beneath it temperatures along the core.
//!
//! Read next: `psychrometric`, then `along`.

use super::canvas::{Canvas, Entry, Hang, Rect, Sample, Stroke, Type, picture};
use super::ports::Stream;
use super::style::{INK, PICTURE_WIDTH, TEXT_SIZE};
use super::{along, moist_air, psychrometric};
use crate::ReportError;
use crate::core_point::CorePoint;

const SIDE: f64 = 64.0;
const EDGE: f64 = 20.0;
/// Room for a title of one line, a legend of two and what the core gives; a longer head takes it from the chart below.
const HEAD: f64 = 104.0;
const GIVEN: f64 = 14.0;
const NAME_LINE: f64 = 24.0;
const NUMBERS: f64 = 42.0;
const AIR_HEIGHT: f64 = 410.0;
const ALONG_HEIGHT: f64 = 230.0;
const GAP: f64 = 12.0;

/// Draws the page.
pub fn draw(point: &CorePoint) -> Result<String, ReportError> {
    point.check()?;
    let has_length = point.profile.len() > 1;
    let below = if has_length { GAP + NAME_LINE + ALONG_HEIGHT + NUMBERS } else { GAP };
    let height = HEAD + NAME_LINE + AIR_HEIGHT + NUMBERS + below;
    picture(height, |canvas| {
        let fact = format!("Air through the core of {}", super::canvas::shortened(&point.unit));
        let below_legend = canvas.head(&fact, &point.title, &legend(point))?;
        let top = given(canvas, point, below_legend)? + NAME_LINE;
        let (right, bottom) = (f64::from(PICTURE_WIDTH) - SIDE, HEAD + NAME_LINE + AIR_HEIGHT);
        psychrometric::draw(canvas, point, Rect { from: (SIDE, top), to: (right, bottom) })?;
        if has_length {
            let top = bottom + NUMBERS + GAP + NAME_LINE;
            along::draw(canvas, point, Rect { from: (SIDE, top), to: (right, top + ALONG_HEIGHT) })?;
        }
        Ok(())
    })
}

fn legend(point: &CorePoint) -> Vec<Entry> {
    let line = |stroke: Stroke, words: &str| Entry { sample: Sample::Line(stroke), words: words.to_owned() };
    let enthalpy = format!("same enthalpy [{}]", point.show_in.enthalpy_unit());
    let mut entries = vec![
        line(Stream::In.stroke(), "outdoor to supply air"),
        line(Stream::Out.stroke(), "extract to exhaust air"),
    ];
    if point.profile.len() > 1 {
        entries.push(line(along::PLATE, "plate"));
    }
    entries.push(line(moist_air::SATURATION, "saturated air"));
    entries.push(line(moist_air::HUMIDITY, "same relative humidity"));
    entries.push(line(psychrometric::ENTHALPY, &enthalpy));
    entries
}

/// A line of what the core gives; the height at which it ends.
fn given(canvas: &Canvas<'_>, point: &CorePoint, middle: f64) -> Result<f64, ReportError> {
    let words = notes(point).join("  ·  ");
    let look = Type::bold(TEXT_SIZE, INK);
    let shrink = ((f64::from(PICTURE_WIDTH) - 2.0 * EDGE) / canvas.text_width(&words, look)?).min(1.0);
    canvas.text(&words, (EDGE, middle), Hang::Left, Type { size: TEXT_SIZE * shrink, ..look })?;
    Ok(middle + GIVEN)
}

/// What the core gives, in words.
fn notes(point: &CorePoint) -> Vec<String> {
    let (notes, show_in) = (point.notes, point.show_in);
    let heat = show_in.heat_flow_unit();
    let mut words = vec![
        format!(
            "to the supply air: {:.0} {heat} sensible, {:.0} {heat} latent",
            show_in.heat_flow(notes.sensible_w),
            show_in.heat_flow(notes.latent_w)
        ),
        format!("water {:.2} {}/h", show_in.volume(notes.water_l_per_h), show_in.volume_unit()),
        format!("ice {:.2} {}/h", show_in.mass(notes.ice_kg_per_h), show_in.mass_unit()),
    ];
    words.extend(
        notes
            .coldest_plate_c
            .map(|t| format!("coldest plate {:.1} {}", show_in.temperature(t), show_in.temperature_unit())),
    );
    words.into_iter().map(|words| minus(&words)).collect()
}

/// With true minus signs, and none before a zero.
fn minus(words: &str) -> String {
    let parts = words.split(' ').map(|part| match part.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit()) => format!("−{rest}"),
        _ => part.to_owned(),
    });
    parts.collect::<Vec<_>>().join(" ")
}

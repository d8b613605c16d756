//! What was checked in a file, and how it came out: also where nothing was found.
//!
//! Not here: the sentences with their places, which stand below the months.

use weather::{FindingKind, HumidityOrigin, sun_check};

use super::Read;
use super::figures::{Figure, figure};

/// Checks that are counted.
const COUNTED: [(&str, &[FindingKind]); 11] = [
    ("Gaps filled [h]", &[FindingKind::FilledGap]),
    ("Fillers and empty cells", &[FindingKind::Filler]),
    ("Rows out of order", &[FindingKind::RowsOutOfOrder]),
    ("Dry bulb that stands out [h]", &[FindingKind::Outlier]),
    ("Impossible irradiance [h]", &[FindingKind::ImpossibleSun]),
    ("Sun at night [h]", &[FindingKind::NightSun]),
    (
        "Frozen dry bulb, humidity or wind [times]",
        &[FindingKind::FrozenSensor, FindingKind::FrozenHumidity, FindingKind::FrozenWind],
    ),
    ("Dew point above dry bulb [rows]", &[FindingKind::DewPointAboveDryBulb]),
    ("Limited to saturation over ice [h]", &[FindingKind::LimitedToIceSaturation]),
    ("Limited to saturation above 0 °C [h]", &[FindingKind::LimitedToSaturation]),
    ("Relative humidity against dew point [rows]", &[FindingKind::HumidityDisagrees]),
];

/// How often a check of [`COUNTED`] was met.
pub(crate) fn counts(file: &Read) -> impl Iterator<Item = (&'static str, usize)> {
    COUNTED
        .iter()
        .map(|(label, kinds)| (*label, kinds.iter().map(|kind| file.findings.count_of(*kind)).sum()))
}

pub(crate) fn of(file: &Read) -> Vec<Figure> {
    let mut rows: Vec<Figure> = counts(file)
        .map(|(label, count)| figure(label, if count == 0 { "none".to_owned() } else { count.to_string() }))
        .collect();
    rows.push(figure("Humidity below freezing is over", file.year.humidity_basis.to_string()));
    rows.push(figure("  as the file's own cold hours show", inferred(file).to_owned()));
    rows.push(figure("Pressure against elevation", pressure(file).to_owned()));
    let agreement = sun_check::agreement(&file.year, file.year.sun_offset_h);
    let rms = if agreement.hours == 0 { "–".to_owned() } else { format!("{:.1}", agreement.rms_w_per_m2) };
    rows.push(figure("Beam, diffuse and global agree to [W/m²]", rms));
    rows.push(figure(
        "Light later than the sun [h]",
        format!("{:.2}", (sun_check::lag_h(&file.year) * 100.0).round() / 100.0 + 0.0),
    ));
    rows.push(figure("Time labels against the sun", labels(file).to_owned()));
    rows
}

fn inferred(file: &Read) -> &'static str {
    match file.year.humidity_origin {
        HumidityOrigin::Inferred { .. } => "yes",
        HumidityOrigin::Assumed => "assumed",
        HumidityOrigin::Given => "given",
        HumidityOrigin::NotNeeded => "no need",
    }
}

/// Whether the pressure fits the elevation, is a filler, or neither.
pub(crate) fn pressure(file: &Read) -> &'static str {
    let found = |kind| file.findings.count_of(kind) > 0;
    match (found(FindingKind::PressureAgainstElevation), found(FindingKind::PressureConstant)) {
        (true, _) => "misfit",
        (false, true) => "constant",
        (false, false) => "fits",
    }
}

/// Whether the hours' names slip against the sun.
pub(crate) fn labels(file: &Read) -> &'static str {
    if file.findings.count_of(FindingKind::SunOutOfStep) > 0 { "slipped" } else { "in step" }
}

//! The changes that `weather shift` reads.
//!
//! Not here: how values are read (`sheet.rs`), what they do (`weather::shift`).

use std::path::Path;

use study::Dimension;
use weather::shift::{HumidityChange, MonthChange, Shift};

use super::sheet::{self, Measure, Sheet, Units};
use crate::failure::Failure;

const KEYS: &[&str] = &[
    "label",
    "dry_bulb_change",
    "daily_range_change",
    "relative_humidity_change",
    "dew_point_change",
    "irradiation_factor",
    "wind_factor",
];

const DIFFERENCE: Measure = Measure {
    units: Units::Study(Dimension::TemperatureDifference),
    least: "-20 K",
    most: "20 K",
    example: "2.1 K",
};
const HUMIDITY: Measure = Measure {
    units: Units::Study(Dimension::RelativeHumidity),
    least: "-50 %",
    most: "50 %",
    example: "-2 %",
};
const SUN: Measure = Measure { units: Units::Plain, least: "0.2", most: "3", example: "1.02" };
const WIND: Measure = Measure { units: Units::Plain, least: "0", most: "3", example: "0.97" };

pub(super) fn read(path: &Path) -> Result<Shift, Failure> {
    sheet::read(path, KEYS, shift)
}

fn shift(sheet: &mut Sheet<'_>) -> Option<Shift> {
    let label = if sheet.has("label") { sheet.line("label", true) } else { Some(String::new()) };
    let dry_bulb = sheet.months_or_one("dry_bulb_change", &DIFFERENCE);
    let range = sheet.months_or("daily_range_change", &DIFFERENCE, 0.0);
    sheet.either(["relative_humidity_change", "dew_point_change"], "how the humidity changes", true);
    let is_dew_point = sheet.has("dew_point_change");
    let humidity = if is_dew_point {
        sheet.months_or("dew_point_change", &DIFFERENCE, 0.0)
    } else {
        sheet.months_or("relative_humidity_change", &HUMIDITY, 0.0)
    };
    let sun = sheet.months_or("irradiation_factor", &SUN, 1.0);
    let wind = sheet.months_or("wind_factor", &WIND, 1.0);
    let (dry_bulb, range, humidity, sun, wind) = (dry_bulb?, range?, humidity?, sun?, wind?);
    let months = std::array::from_fn(|month| MonthChange {
        dry_bulb_k: dry_bulb[month],
        daily_range_k: range[month],
        humidity: if is_dew_point {
            HumidityChange::DewPointK(humidity[month])
        } else {
            HumidityChange::RelativeHumidity(humidity[month])
        },
        irradiation_factor: sun[month],
        wind_factor: wind[month],
    });
    Some(Shift { label: label?, months })
}

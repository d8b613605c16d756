//! The monthly normals that `weather make` reads.
//!
//! Not here: how values are read (`sheet.rs`), which normals can be met (`weather::make`).

use std::path::Path;

use study::Dimension;
use weather::Place;
use weather::make::{Humidity, Month, Normals, Sun};

use super::sheet::{self, Measure, Sheet, Units};
use crate::air::amounts::WIND_SPEED;
use crate::failure::Failure;

const KEYS: &[&str] = &[
    "name",
    "latitude",
    "longitude",
    "elevation",
    "time_zone",
    "prevailing_wind",
    "dry_bulb",
    "daily_range",
    "irradiation",
    "clearness",
    "relative_humidity",
    "dew_point",
    "wind",
];

const fn measure(
    units: Units,
    (least, most): (&'static str, &'static str),
    example: &'static str,
) -> Measure {
    Measure { units, least, most, example }
}

const LATITUDE: Measure = measure(Units::Study(Dimension::Angle), ("-90 deg", "90 deg"), "45.2 deg");
const LONGITUDE: Measure = measure(Units::Study(Dimension::Angle), ("-180 deg", "180 deg"), "-75.7 deg");
const ELEVATION: Measure = measure(Units::Study(Dimension::Length), ("-450 m", "5000 m"), "300 m");
const TIME_ZONE: Measure = measure(Units::Study(Dimension::Duration), ("-12 h", "14 h"), "-5 h");
const WIND_FROM: Measure = measure(Units::Study(Dimension::Angle), ("0 deg", "360 deg"), "250 deg");
const DRY_BULB: Measure = measure(Units::Study(Dimension::Temperature), ("-60 °C", "45 °C"), "-12.5 °C");
const RANGE: Measure = measure(Units::Study(Dimension::TemperatureDifference), ("1 K", "30 K"), "9.5 K");
const IRRADIATION: Measure = measure(Units::Irradiation, ("0 kWh/m2 day", "15 kWh/m2 day"), "1.7 kWh/m2 day");
const CLEARNESS: Measure = measure(Units::Plain, ("0", "1"), "0.45");
const HUMIDITY: Measure = measure(Units::Study(Dimension::RelativeHumidity), ("1 %", "100 %"), "71 %");
const DEW_POINT: Measure = measure(Units::Study(Dimension::Temperature), ("-75 °C", "32 °C"), "-16 °C");
const WIND: Measure = measure(Units::Own(&WIND_SPEED), ("0 m/s", "20 m/s"), "4.4 m/s");

/// Where most wind comes from, where nothing is said: west, as in the middle latitudes.
const USUAL_WIND_DEG: f64 = 270.0;

pub(super) fn read(path: &Path, seed: u64) -> Result<Normals, Failure> {
    sheet::read(path, KEYS, |sheet| normals(sheet, seed))
}

fn normals(sheet: &mut Sheet<'_>, seed: u64) -> Option<Normals> {
    let name = sheet.line("name", true);
    let latitude_deg = sheet.one("latitude", &LATITUDE);
    let longitude_deg = sheet.one("longitude", &LONGITUDE);
    let elevation_m = sheet.one("elevation", &ELEVATION);
    let time_zone_s = sheet.one("time_zone", &TIME_ZONE);
    let prevailing_wind_deg = sheet.one_or("prevailing_wind", &WIND_FROM, USUAL_WIND_DEG);
    let dry_bulb = sheet.months("dry_bulb", &DRY_BULB);
    let has_range = sheet.has("daily_range");
    let range = if has_range { sheet.months("daily_range", &RANGE) } else { None };
    sheet.either(["irradiation", "clearness"], "how much sun there is", false);
    let sun = sun(sheet);
    sheet.either(["relative_humidity", "dew_point"], "how humid it is", false);
    let humidity = humidity(sheet);
    let wind = sheet.months("wind", &WIND);
    let place = Place {
        name: name?,
        latitude_deg: latitude_deg?,
        longitude_deg: longitude_deg?,
        elevation_m: elevation_m?,
        time_zone_h: time_zone_s? / 3600.0,
    };
    let (dry_bulb, sun, humidity, wind) = (dry_bulb?, sun?, humidity?, wind?);
    let months = std::array::from_fn(|month| Month {
        dry_bulb_c: dry_bulb[month],
        daily_range_k: range.map(|range| range[month]),
        sun: sun[month],
        humidity: humidity[month],
        wind_m_per_s: wind[month],
    });
    Some(Normals { place, months, prevailing_wind_deg: prevailing_wind_deg?, seed })
}

fn sun(sheet: &mut Sheet<'_>) -> Option<[Sun; 12]> {
    if sheet.has("clearness") {
        return sheet.months("clearness", &CLEARNESS).map(|months| months.map(Sun::Clearness));
    }
    let is_given = sheet.has("irradiation");
    let months = is_given.then(|| sheet.months("irradiation", &IRRADIATION))?;
    months.map(|months| months.map(Sun::GlobalKwhPerM2))
}

fn humidity(sheet: &mut Sheet<'_>) -> Option<[Humidity; 12]> {
    if sheet.has("dew_point") {
        return sheet.months("dew_point", &DEW_POINT).map(|months| months.map(Humidity::DewPointC));
    }
    let is_given = sheet.has("relative_humidity");
    let months = is_given.then(|| sheet.months("relative_humidity", &HUMIDITY))?;
    months.map(|months| months.map(Humidity::RelativeHumidity))
}

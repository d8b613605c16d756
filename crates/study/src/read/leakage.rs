//! Reads how leaky the house is, and how it stands in the wind.
//!
//! Here: `house.air_leakage` and its kin, the wind keys of `[site]`. Not here: the flow that follows from them.
//! Read next: `read/fabric.rs`.
//!
//! What a constant leakage has no use for is read where it is given, and not listed among the defaults where it is not.

use super::conflict;
use crate::kinds::{GivenLeakage, Kind, brief};
use crate::model::{AirLeakage, Flue, LeakageTest, Surroundings, Wind};
use crate::specs;
use crate::table::{Log, Table};

pub(super) struct Leaks {
    pub air_leakage: AirLeakage,
    pub flue: Flue,
    pub eaves_height_m: f64,
}

/// What the house says of its size.
#[derive(Clone, Copy)]
pub(super) struct Height {
    pub ceiling_height_m: f64,
    pub storeys: u32,
    pub volume_m3: f64,
}

/// Whether wind and height drive the leakage of this house.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Driven {
    ByWeather,
    NotAtAll,
}

/// As far as the file tells: a pressure test has its pressure after `@`.
pub(super) fn driven(house: &Table<'_>) -> Driven {
    let is_tested = house.text("air_leakage").is_some_and(|text| text.contains('@'));
    if is_tested { Driven::ByWeather } else { Driven::NotAtAll }
}

pub(super) fn read(log: &mut Log, house: &mut Table<'_>, height: Option<Height>) -> Option<Leaks> {
    let given = house.required(log, &specs::AIR_LEAKAGE);
    let driven = driven(house);
    let exponent = read_exponent(log, house, driven);
    let why = "assumed: no chimney, since none is given";
    let flue = or_if_driven(log, house, &specs::FLUE, (driven, "none", why));
    let eaves_height_m = read_eaves_height(log, house, (driven, height));
    let tested = |flow_m3_per_s, pressure_pa, exponent| {
        AirLeakage::Tested(LeakageTest { flow_m3_per_s, pressure_pa, exponent })
    };
    let air_leakage = match given? {
        GivenLeakage::Constant { m3_per_s } => AirLeakage::Constant { m3_per_s },
        GivenLeakage::Flow { m3_per_s, pressure_pa } => tested(m3_per_s, pressure_pa, exponent?),
        GivenLeakage::Rate { per_s, pressure_pa } => {
            tested(per_s * height?.volume_m3, pressure_pa, exponent?)
        }
    };
    Some(Leaks { air_leakage, flue: flue?, eaves_height_m: eaves_height_m? })
}

/// `None` beside a constant leakage too.
fn read_exponent(log: &mut Log, house: &Table<'_>, driven: Driven) -> Option<f64> {
    if driven == Driven::ByWeather {
        let why = "common practice: the mean exponent of many houses that were tested";
        return house.or(log, &specs::LEAKAGE_EXPONENT, ("0.65", why));
    }
    if house.optional(log, &specs::LEAKAGE_EXPONENT).is_some() && house.has("air_leakage") {
        let path = house.path_of("leakage_exponent");
        let message = format!("`{path}`: only an `air_leakage` with its test pressure has one");
        let hint = "leave `leakage_exponent` out, or write `air_leakage` like \"2.5 1/h @50Pa\"".to_owned();
        conflict(log, house.span_of("leakage_exponent"), message, ("not for a constant flow", hint));
    }
    None
}

fn read_eaves_height(
    log: &mut Log,
    house: &Table<'_>,
    (driven, height): (Driven, Option<Height>),
) -> Option<f64> {
    if house.has("height") {
        return house.optional(log, &specs::EAVES_HEIGHT);
    }
    let height = height?;
    let eaves_height_m = f64::from(height.storeys) * height.ceiling_height_m;
    if driven == Driven::ByWeather {
        let why = "assumed: `storeys` times `ceiling_height`";
        log.took(house.path_of("height"), format!("{} m", brief(eaves_height_m)), why);
    }
    Some(eaves_height_m)
}

/// The wind keys of `[site]`.
pub(super) fn read_wind(log: &mut Log, site: &Table<'_>, driven: Driven) -> Option<Wind> {
    let why = "common practice: most houses stand among others";
    let surroundings: Option<Surroundings> =
        or_if_driven(log, site, &specs::SURROUNDINGS, (driven, "suburban", why));
    let why = "common practice: the middle class, a house across the street";
    let shelter_class = or_if_driven(log, site, &specs::WIND_SHELTER, (driven, "3", why));
    if driven == Driven::ByWeather && !site.has("wind_height") {
        let why = "common practice: the height of weather services, unless the weather file says another";
        log.took(site.path_of("wind_height"), "10 m", why);
    }
    let height_m = site.optional(log, &specs::WIND_HEIGHT);
    Some(Wind { surroundings: surroundings?, shelter_class: shelter_class?, height_m })
}

/// The value of a key or its default, which is listed only where it has an effect.
fn or_if_driven<K: Kind>(
    log: &mut Log,
    table: &Table<'_>,
    kind: &K,
    (driven, text, why): (Driven, &str, &'static str),
) -> Option<K::Out> {
    match driven {
        Driven::ByWeather => table.or(log, kind, (text, why)),
        Driven::NotAtAll => table.or_unlisted(log, kind, text),
    }
}

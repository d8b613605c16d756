//! Reads the air of a rating point, outdoors and indoors, and fills in what the test standard prescribes.
//!
//! Here: temperatures and humidities. Not here: flows and figures (`read/rating.rs`). Read next: `model/unit.rs`.
//!
//! # Source
//! CSA C439 and EN 13141-7, test conditions: recalled from memory, no copy was at hand.

use psychrometrics::SEA_LEVEL_PA;
use psychrometrics::checked::humidity_ratio_from_wet_bulb;

use super::super::conflict;
use crate::kinds::{Measure, brief};
use crate::model::{RatedAir, RatedHumidity, RatingStandard};
use crate::specs;
use crate::table::{Log, Table};

/// From this outdoor temperature on a test is one of cooling [°C].
const WARM_FROM_C: f64 = 20.0;
/// Outdoor and indoor air that differ by less tell nothing of a core \[K\].
const LEAST_DIFFERENCE_K: f64 = 3.0;

/// The air of a point.
pub(super) struct Conditions {
    /// Dry bulb outdoors [°C], also where the rest is wrong.
    pub outdoor_c: Option<f64>,
    pub outdoor: Option<RatedAir>,
    pub indoor: Option<RatedAir>,
}

pub(super) fn read(log: &mut Log, table: &mut Table<'_>, standard: Option<RatingStandard>) -> Conditions {
    let outdoor_c = match standard {
        Some(RatingStandard::CsaC439) => table.required(log, &specs::OUTDOOR),
        Some(RatingStandard::En13141Part7) => {
            table.or(log, &specs::OUTDOOR, ("7 °C", "EN 13141-7: the standard test"))
        }
        None => table.optional(log, &specs::OUTDOOR),
    };
    let test = standard.zip(outdoor_c);
    let outdoor_humidity = read_humidity(log, table, (&OUTDOORS, outdoor_c), || test.map(outdoor_default));
    let indoor_c = read_indoor(log, table, test);
    let indoor_default = || Some(indoor_default(test?, indoor_c?));
    let indoor_humidity = read_humidity(log, table, (&INDOORS, indoor_c), indoor_default);
    if let (Some(outdoor), Some(indoor)) = (outdoor_c, indoor_c)
        && (outdoor - indoor).abs() < LEAST_DIFFERENCE_K
    {
        let (outdoor, indoor) = (brief(outdoor), brief(indoor));
        let message = format!(
            "`{}`: outdoor air of {outdoor} °C and indoor air of {indoor} °C tell nothing of a core",
            table.path
        );
        let hint = "the two of a test are 3 K or more apart".to_owned();
        conflict(log, table.span_of("outdoor"), message, ("too near the indoor air", hint));
    }
    let air = |dry_bulb_c: Option<f64>, humidity: Option<RatedHumidity>| {
        Some(RatedAir { dry_bulb_c: dry_bulb_c?, humidity: humidity? })
    };
    Conditions {
        outdoor_c,
        outdoor: air(outdoor_c, outdoor_humidity),
        indoor: air(indoor_c, indoor_humidity),
    }
}

fn read_indoor(log: &mut Log, table: &mut Table<'_>, test: Option<(RatingStandard, f64)>) -> Option<f64> {
    let Some((standard, outdoor_c)) = test else {
        return table.optional(log, &specs::INDOOR);
    };
    match (standard, outdoor_c < WARM_FROM_C) {
        (RatingStandard::CsaC439, true) => {
            table.or(log, &specs::INDOOR, ("22 °C", "CSA C439: the heating test"))
        }
        (RatingStandard::CsaC439, false) => {
            table.or(log, &specs::INDOOR, ("24 °C", "CSA C439: the cooling test"))
        }
        (RatingStandard::En13141Part7, true) => {
            table.or(log, &specs::INDOOR, ("20 °C", "EN 13141-7: the standard test"))
        }
        (RatingStandard::En13141Part7, false) => table.required(log, &specs::INDOOR),
    }
}

/// The keys of one side.
struct Side {
    relative: Measure,
    wet_bulb: Measure,
    air: &'static str,
}

const OUTDOORS: Side =
    Side { relative: specs::OUTDOOR_HUMIDITY, wet_bulb: specs::OUTDOOR_WET_BULB, air: "outdoor" };
const INDOORS: Side =
    Side { relative: specs::INDOOR_HUMIDITY, wet_bulb: specs::INDOOR_WET_BULB, air: "indoor" };

/// What is taken where no humidity is stated, as the file would write it, with its reason.
enum Default {
    Relative(&'static str, &'static str),
    WetBulb(&'static str, &'static str),
    /// Nothing: it must be stated.
    Stated,
}

fn outdoor_default((standard, outdoor_c): (RatingStandard, f64)) -> Default {
    match standard {
        RatingStandard::En13141Part7 if is_near(outdoor_c, 7.0) => {
            Default::WetBulb("6 °C", "EN 13141-7: the standard test")
        }
        _ if outdoor_c < WARM_FROM_C => {
            Default::Relative("80 %", "assumed: cold air holds so little water that it matters little")
        }
        RatingStandard::CsaC439 if is_near(outdoor_c, 35.0) => {
            Default::WetBulb("26.3 °C", "CSA C439: the cooling test")
        }
        _ => Default::Stated,
    }
}

fn indoor_default((standard, outdoor_c): (RatingStandard, f64), indoor_c: f64) -> Default {
    match standard {
        RatingStandard::CsaC439 if outdoor_c < WARM_FROM_C => {
            Default::Relative("40 %", "CSA C439: the heating test")
        }
        RatingStandard::CsaC439 => Default::Relative("50 %", "CSA C439: the cooling test"),
        RatingStandard::En13141Part7 if outdoor_c < WARM_FROM_C && is_near(indoor_c, 20.0) => {
            Default::WetBulb("12 °C", "EN 13141-7: the standard test")
        }
        RatingStandard::En13141Part7 => Default::Stated,
    }
}

/// Within what a test may stray.
fn is_near(a_c: f64, b_c: f64) -> bool {
    const TOLERANCE_K: f64 = 0.5;
    (a_c - b_c).abs() <= TOLERANCE_K
}

/// `default` is asked where nothing is stated; it answers `None` where what it needs is wrong itself.
fn read_humidity(
    log: &mut Log,
    table: &Table<'_>,
    (side, dry_bulb_c): (&Side, Option<f64>),
    default: impl FnOnce() -> Option<Default>,
) -> Option<RatedHumidity> {
    let (relative, wet_bulb) = (&side.relative, &side.wet_bulb);
    let given = (table.has(relative.key), table.has(wet_bulb.key));
    if given == (true, true) {
        let message = format!("`{}` takes only one of `{}` and `{}`", table.path, relative.key, wet_bulb.key);
        let hint = "leave one of them out: they say the same".to_owned();
        conflict(log, table.span_of(wet_bulb.key), message, ("the second humidity", hint));
    }
    let relative_given = table.optional(log, relative).map(RatedHumidity::Relative);
    let wet_bulb_given = table.optional(log, wet_bulb);
    if let (Some(wet_bulb_c), Some(dry_bulb_c)) = (wet_bulb_given, dry_bulb_c) {
        check_wet_bulb(log, table, BothBulbs { key: wet_bulb.key, dry_bulb_c, wet_bulb_c });
    }
    if given != (false, false) {
        return relative_given.or(wet_bulb_given.map(RatedHumidity::WetBulbC));
    }
    match default()? {
        Default::Relative(text, why) => table.or(log, relative, (text, why)).map(RatedHumidity::Relative),
        Default::WetBulb(text, why) => table.or(log, wet_bulb, (text, why)).map(RatedHumidity::WetBulbC),
        Default::Stated => {
            let message = format!("`{}` needs one of `{}` and `{}`", table.path, relative.key, wet_bulb.key);
            let hint =
                format!("no standard test has {} air of this temperature: state how moist it was", side.air);
            conflict(log, table.span.clone(), message, ("this point", hint));
            None
        }
    }
}

/// A wet bulb with its dry bulb [°C].
struct BothBulbs {
    key: &'static str,
    dry_bulb_c: f64,
    wet_bulb_c: f64,
}

fn check_wet_bulb(log: &mut Log, table: &Table<'_>, BothBulbs { key, dry_bulb_c, wet_bulb_c }: BothBulbs) {
    let (path, dry, wet) = (table.path_of(key), brief(dry_bulb_c), brief(wet_bulb_c));
    let (message, label) = if wet_bulb_c > dry_bulb_c {
        (format!("`{path}`: {wet} °C is above the dry bulb of {dry} °C"), "above the dry bulb")
    } else if humidity_ratio_from_wet_bulb(dry_bulb_c, wet_bulb_c, SEA_LEVEL_PA).is_err() {
        let message = format!("`{path}`: {wet} °C is below the wet bulb of perfectly dry air of {dry} °C");
        (message, "drier than dry")
    } else {
        return;
    };
    let hint = "check both temperatures of this air".to_owned();
    conflict(log, table.span_of(key), message, (label, hint));
}

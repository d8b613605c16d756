//! What each key of leaks, and of what drives air through them, takes.
//!
//! Here: one constant for a key. Not here: defaults (`read`). Read next: `read/leakage.rs`.

use super::{measure, share};
use crate::kinds::{Choice, Count, Leakage, Measure, Number};
use crate::model::{Flue, Surroundings};
use crate::units::Dimension as D;

pub(crate) const AIR_LEAKAGE: Leakage = Leakage {
    constant: measure("air_leakage", D::AirFlow, ("0 L/s", "1000 L/s"), "12 L/s"),
    rate: measure("air_leakage", D::AirChangeRate, ("0.01 1/h", "100 1/h"), "2.5 1/h"),
    flow: measure("air_leakage", D::AirFlow, ("0.1 L/s", "20000 L/s"), "900 m3/h"),
    area: measure("air_leakage", D::LeakageArea, ("1 cm2", "20000 cm2"), "450 cm2"),
    pressure: measure("air_leakage", D::Pressure, ("1 Pa", "100 Pa"), "50 Pa"),
};
pub(crate) const LEAKAGE_EXPONENT: Number = share("leakage_exponent", (0.5, 1.0));
pub(crate) const FLUE: Choice<Flue> =
    Choice { key: "flue", options: &[("none", Flue::None), ("open-flue", Flue::Open)] };
/// Exhaust air of appliances.
pub(crate) const RANGE_HOOD: Measure = measure("range_hood", D::AirFlow, ("0 L/s", "500 L/s"), "80 L/s");
pub(crate) const DRYER: Measure = measure("dryer", D::AirFlow, ("0 L/s", "200 L/s"), "45 L/s");
pub(crate) const EAVES_HEIGHT: Measure = measure("height", D::Length, ("1.8 m", "60 m"), "2.5 m");

pub(crate) const SURROUNDINGS: Choice<Surroundings> = Choice {
    key: "surroundings",
    options: &[
        ("open", Surroundings::Open),
        ("rural", Surroundings::Rural),
        ("suburban", Surroundings::Suburban),
        ("urban", Surroundings::Urban),
    ],
};
pub(crate) const WIND_SHELTER: Count = Count { key: "wind_shelter", least: 1, most: 5 };
pub(crate) const WIND_HEIGHT: Measure = measure("wind_height", D::Length, ("1 m", "200 m"), "10 m");

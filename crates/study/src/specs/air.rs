//! What each key of a unit's fans, filters, frost control and free cooling takes.
//!
//! Here: one constant for a key. Not here: defaults and what goes with what (`read`). Read next: `read/frost.rs`.

use super::{measure, share};
use crate::kinds::{Choice, Measure, Number, Switch};
use crate::model::{FanPosition, MissedAir};
use crate::units::Dimension as D;

pub(crate) const FAN_POWER: Measure = measure("power", D::Power, ("0 W", "5000 W"), "44 W");
pub(crate) const FAN_POSITION: Choice<FanPosition> = Choice {
    key: "position",
    options: &[("after-core", FanPosition::AfterCore), ("before-core", FanPosition::BeforeCore)],
};

/// What a fan keeps, before its curve is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Keeping {
    Flow,
    Speed,
}
pub(crate) const FAN_KIND: Choice<Keeping> =
    Choice { key: "kind", options: &[("constant-flow", Keeping::Flow), ("fixed-speed", Keeping::Speed)] };
pub(crate) const SUPPLY_SHARE: Number = share("supply_share", (0.0, 1.0));
pub(crate) const SHUT_OFF: Measure = measure("shut_off", D::Pressure, ("10 Pa", "2500 Pa"), "300 Pa");
pub(crate) const FREE_FLOW: Measure = measure("free_flow", D::AirFlow, ("2 L/s", "5000 L/s"), "90 L/s");
pub(crate) const SYSTEM: Measure = measure("system", D::Pressure, ("0 Pa", "1000 Pa"), "100 Pa");

pub(crate) const INTERVAL: Measure = measure("interval", D::Duration, ("1 d", "1000 d"), "90 d");
pub(crate) const LOAD: Number = share("load", (0.0, 3.0));

/// What a unit does about frost, before what belongs to it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Strategy {
    Recirculate,
    Preheat,
    SupplyOff,
    Bypass,
    SlowDown,
    None,
}
pub(crate) const STRATEGY: Choice<Strategy> = Choice {
    key: "strategy",
    options: &[
        ("recirculate", Strategy::Recirculate),
        ("preheat", Strategy::Preheat),
        ("supply-off", Strategy::SupplyOff),
        ("bypass", Strategy::Bypass),
        ("slow-down", Strategy::SlowDown),
        ("none", Strategy::None),
    ],
};
pub(crate) const FROST_CAPACITY: Measure = measure("capacity", D::Mass, ("0.01 kg", "500 kg"), "1.4 kg");
pub(crate) const TO_COLD_END: Number = share("to_cold_end", (0.0, 1.0));
pub(crate) const HOLD_OUTDOOR_AIR: Switch<MissedAir> =
    Switch { key: "hold_outdoor_air", on: MissedAir::MadeUp, off: MissedAir::Missed };
pub(crate) const AT_OR_BELOW: Measure = measure("at_or_below", D::Temperature, ("-60 °C", "15 °C"), "-10 °C");
pub(crate) const DEFROST: Measure = measure("defrost", D::Duration, ("0.5 min", "120 min"), "6 min");
pub(crate) const RUN: Measure = measure("run", D::Duration, ("1 min", "1440 min"), "54 min");
pub(crate) const RETURNED: Number = share("returned", (0.0, 1.0));
pub(crate) const PREHEAT_TO: Measure = measure("preheat_to", D::Temperature, ("-30 °C", "15 °C"), "-3 °C");
pub(crate) const PREHEAT_POWER: Measure = measure("preheat_power", D::Power, ("1 W", "100000 W"), "800 W");
pub(crate) const START_BELOW: Measure = measure("start_below", D::Temperature, ("-20 °C", "20 °C"), "-2 °C");
pub(crate) const END_ABOVE: Measure = measure("end_above", D::Temperature, ("-20 °C", "30 °C"), "3 °C");

pub(crate) const INDOOR_ABOVE: Measure = measure("indoor_above", D::Temperature, ("10 °C", "35 °C"), "23 °C");
pub(crate) const COLDER_BY: Measure = measure("colder_by", D::TemperatureDifference, ("0 K", "20 K"), "1 K");
pub(crate) const SUPPLY_AT_LEAST: Measure =
    measure("supply_at_least", D::Temperature, ("0 °C", "30 °C"), "14 °C");

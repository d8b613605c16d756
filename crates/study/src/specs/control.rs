//! What each key of ventilation control and of airing takes.
//!
//! Here: one constant for a key. Not here: defaults and what goes with what (`read`). Read next: `read/control.rs`.

use super::{measure, share};
use crate::kinds::{Choice, DayRanges, HourlyShares, Measure, Number, Switch};
use crate::model::BoostBy;
use crate::units::Dimension as D;

/// How ventilation is controlled, before what belongs to it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mode {
    Continuous,
    Intermittent,
    Humidity,
    Co2,
    Schedule,
}
pub(crate) const MODE: Choice<Mode> = Choice {
    key: "mode",
    options: &[
        ("continuous", Mode::Continuous),
        ("intermittent", Mode::Intermittent),
        ("humidity", Mode::Humidity),
        ("co2", Mode::Co2),
        ("schedule", Mode::Schedule),
    ],
};
pub(crate) const ON_SHARE: Number = share("on_share", (0.01, 1.0));
pub(crate) const ON: Measure = measure("on", D::Duration, ("1 min", "60 min"), "20 min");
pub(crate) const OFF: Measure = measure("off", D::Duration, ("1 min", "60 min"), "40 min");
pub(crate) const HUMIDITY_AT_OR_ABOVE: Measure =
    measure("humidity_at_or_above", D::RelativeHumidity, ("10 %", "90 %"), "45 %");
pub(crate) const FALLS_PER_K: Measure =
    measure("falls_per_k", D::HumiditySlope, ("0 %/K", "5 %/K"), "0.5 %/K");
pub(crate) const FALLS_BELOW: Measure = measure("falls_below", D::Temperature, ("-20 °C", "20 °C"), "5 °C");
pub(crate) const CO2_LIMIT: Measure =
    measure("co2_limit", D::Concentration, ("450 ppm", "5000 ppm"), "1000 ppm");
pub(crate) const LOW_SHARE: Number = share("low_share", (0.0, 1.0));
pub(crate) const WEEKDAYS: HourlyShares = HourlyShares { key: "weekdays" };
pub(crate) const WEEKENDS: HourlyShares = HourlyShares { key: "weekends" };

pub(crate) const BOOST_SHOWERS: Switch<Option<BoostBy>> =
    Switch { key: "showers", on: Some(BoostBy::Showers), off: None };
pub(crate) const FACTOR: Number = share("factor", (1.0, 4.0));
pub(crate) const LASTS: Measure = measure("lasts", D::Duration, ("5 min", "240 min"), "30 min");
pub(crate) const AWAY_SHARE: Number = share("share", (0.0, 1.0));
pub(crate) const AWAY_DAYS: DayRanges = DayRanges { key: "days" };

pub(crate) const AIR_CHANGES: Measure =
    measure("air_changes", D::AirChangeRate, ("0.1 1/h", "30 1/h"), "3 1/h");

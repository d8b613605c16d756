//! What each key of a recovery unit takes.
//!
//! Here: one constant for a key of the core, its leaks and its rating sheet. Not here: fans, frost and free cooling
//! (`specs/air.rs`), defaults and what goes with what (`read`). Read next: `read/unit.rs`.

use super::{measure, share};
use crate::kinds::{Choice, Count, Line, LostShare, Measure, Number};
use crate::model::{CoreKind, RatingStandard};
use crate::units::Dimension as D;

pub(crate) const UNIT_NAME: Line = Line { key: "name", most_characters: 60, example: "Plate A" };
pub(crate) const CORE: Choice<CoreKind> = Choice {
    key: "core",
    options: &[
        ("sensible-plate", CoreKind::SensiblePlate),
        ("enthalpy-plate", CoreKind::EnthalpyPlate),
        ("sensible-wheel", CoreKind::SensibleWheel),
        ("enthalpy-wheel", CoreKind::EnthalpyWheel),
    ],
};

/// How the streams pass each other, before the share of counterflow is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Passing {
    Counter,
    Cross,
    QuasiCounter,
}
pub(crate) const FLOW: Choice<Passing> = Choice {
    key: "flow",
    options: &[
        ("counter", Passing::Counter),
        ("cross", Passing::Cross),
        ("quasi-counter", Passing::QuasiCounter),
    ],
};
pub(crate) const COUNTER_SHARE: Number = share("counter_share", (0.0, 1.0));
pub(crate) const CROSS_LEAKAGE: Number = share("cross_leakage", (0.0, 0.1));
pub(crate) const OUTDOOR_AIR_CORRECTION: Number = share("outdoor_air_correction", (0.9, 1.1));
pub(crate) const BALANCE: Number = share("balance", (0.5, 2.0));
pub(crate) const HOOD_RECIRCULATION: Number = share("hood_recirculation", (0.0, 0.3));
pub(crate) const CORE_HEAT_CAPACITY: Measure =
    measure("core_heat_capacity", D::HeatCapacity, ("0.1 kJ/K", "1000 kJ/K"), "6 kJ/K");
pub(crate) const CAPACITY_RATIO: Number = share("capacity_ratio", (1.0, 50.0));

pub(crate) const UA: Measure = measure("ua", D::Conductance, ("1 W/K", "10000 W/K"), "218 W/K");
pub(crate) const VAPOUR: Measure =
    measure("vapour", D::AirMassFlow, ("0.0001 kg/s", "10 kg/s"), "0.087 kg/s");
pub(crate) const AT: Measure = flow("at");
pub(crate) const SENSIBLE: Number = share("sensible", (0.05, 0.97));
pub(crate) const LATENT: Number = share("latent", (0.05, 0.97));

const fn flow(key: &'static str) -> Measure {
    measure(key, D::AirFlow, ("2 L/s", "2000 L/s"), "30 L/s")
}

pub(crate) const STANDARD: Choice<RatingStandard> = Choice {
    key: "standard",
    options: &[("csa-c439", RatingStandard::CsaC439), ("en-13141-7", RatingStandard::En13141Part7)],
};
pub(crate) const OUTDOOR: Measure = measure("outdoor", D::Temperature, ("-50 °C", "50 °C"), "0 °C");
pub(crate) const INDOOR: Measure = measure("indoor", D::Temperature, ("10 °C", "40 °C"), "22 °C");

const fn humidity(key: &'static str) -> Measure {
    measure(key, D::RelativeHumidity, ("1 %", "100 %"), "40 %")
}
const fn wet_bulb(key: &'static str) -> Measure {
    measure(key, D::Temperature, ("-55 °C", "50 °C"), "12 °C")
}
pub(crate) const OUTDOOR_HUMIDITY: Measure = humidity("outdoor_humidity");
pub(crate) const OUTDOOR_WET_BULB: Measure = wet_bulb("outdoor_wet_bulb");
pub(crate) const INDOOR_HUMIDITY: Measure = humidity("indoor_humidity");
pub(crate) const INDOOR_WET_BULB: Measure = wet_bulb("indoor_wet_bulb");
pub(crate) const RATED_AIRFLOW: Measure = flow("airflow");
pub(crate) const GROSS_AIRFLOW: Measure = flow("gross_airflow");
pub(crate) const NET_AIRFLOW: Measure = flow("net_airflow");
pub(crate) const EXTRACT_AIRFLOW: Measure = flow("extract_airflow");

/// A little more than 1 is met where fan heat counts as recovered.
const fn figure(key: &'static str) -> Number {
    share(key, (0.0, 1.2))
}
pub(crate) const APPARENT_SENSIBLE: Number = figure("apparent_sensible");
pub(crate) const SENSIBLE_RECOVERY: Number = figure("sensible_recovery");
pub(crate) const ADJUSTED_SENSIBLE_RECOVERY: Number = figure("adjusted_sensible_recovery");
pub(crate) const LATENT_RECOVERY: Number = figure("latent_recovery");
pub(crate) const TOTAL_RECOVERY: Number = figure("total_recovery");
pub(crate) const ADJUSTED_TOTAL_RECOVERY: Number = figure("adjusted_total_recovery");
pub(crate) const TEMPERATURE_RATIO: Number = figure("temperature_ratio");
pub(crate) const MOISTURE_RATIO: Number = figure("moisture_ratio");
pub(crate) const EXHAUST_TEMPERATURE_RATIO: Number = figure("exhaust_temperature_ratio");
/// No defrosting leaves less than half of the flow; what is larger is the share left, by mistake.
pub(crate) const VENTILATION_REDUCTION: LostShare = LostShare(share("ventilation_reduction", (0.0, 0.5)));

pub(crate) const GAP: Measure = measure("gap", D::Length, ("0.5 mm", "20 mm"), "2 mm");
pub(crate) const LENGTH: Measure = measure("length", D::Length, ("0.05 m", "3 m"), "0.3 m");
pub(crate) const WIDTH: Measure = measure("width", D::Length, ("0.02 m", "3 m"), "0.25 m");
pub(crate) const CHANNELS: Count = Count { key: "channels", least: 1, most: 2000 };
pub(crate) const MEMBRANE_RESISTANCE: Measure =
    measure("membrane_resistance", D::VapourResistance, ("1 s/m", "5000 s/m"), "60 s/m");

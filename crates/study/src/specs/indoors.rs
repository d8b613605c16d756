//! What each key of humidifier, dehumidifier, cold corner and upkeep takes.
//!
//! Here: one constant for a key. Not here: defaults and what goes with what (`read/indoors.rs`).

use super::{measure, share, water};
use crate::kinds::{Choice, DayOfYear, Measure, Number, Switch};
use crate::model::{HumidifierKind, Material};
use crate::units::Dimension as D;

pub(crate) const HUMIDIFIER_TARGET: Measure =
    measure("target", D::RelativeHumidity, ("10 %", "60 %"), "30 %");
pub(crate) const HUMIDIFIER_CAPACITY: Measure =
    measure("capacity", D::WaterRate, ("0.1 kg/day", "200 kg/day"), "12 kg/day");
pub(crate) const HUMIDIFIER_KIND: Choice<HumidifierKind> = Choice {
    key: "kind",
    options: &[("adiabatic", HumidifierKind::Adiabatic), ("steam", HumidifierKind::Steam)],
};
pub(crate) const DEHUMIDIFIER_TARGET: Measure =
    measure("target", D::RelativeHumidity, ("20 %", "90 %"), "55 %");
pub(crate) const DEHUMIDIFIER_CAPACITY: Measure =
    measure("capacity", D::WaterRate, ("0.1 kg/day", "500 kg/day"), "20 L/day");
pub(crate) const ENERGY_FACTOR: Measure =
    measure("energy_factor", D::WaterPerEnergy, ("0.5 L/kWh", "6 L/kWh"), "1.8 L/kWh");

pub(crate) const CORNER_FACTOR: Number = share("temperature_factor", (0.3, 0.98));
pub(crate) const MATERIAL: Choice<Material> = Choice {
    key: "material",
    options: &[
        ("very-sensitive", Material::VerySensitive),
        ("sensitive", Material::Sensitive),
        ("medium-resistant", Material::MediumResistant),
        ("resistant", Material::Resistant),
    ],
};

pub(crate) const EDGE_FACTOR: Number = share("edge_factor", (0.2, 0.95));
pub(crate) const RE_EVAPORATION: Switch<bool> = Switch { key: "re_evaporation", on: true, off: false };
pub(crate) const NEW_BUILDING: Measure = water("new_building", "5 kg/day");
pub(crate) const HALVES_IN: Measure =
    measure("new_building_halves_in", D::Duration, ("10 d", "2000 d"), "180 d");

pub(crate) const WASH_ON: DayOfYear = DayOfYear { key: "wash_on" };
pub(crate) const DRYING: Measure = measure("drying", D::Duration, ("1 h", "240 h"), "42 h");
pub(crate) const FOULING: Number = share("fouling", (0.0, 0.5));

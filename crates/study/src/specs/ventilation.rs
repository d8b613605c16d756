//! What each key of ventilation, and of the rooms that it is for, takes.
//!
//! Here: one constant for a key. Not here: defaults and what goes with what (`read`). Read next: `read/ventilation.rs`.

use super::{measure, share};
use crate::kinds::{Choice, Count, Measure, Number, Switch, WordOr};
use crate::model::{
    AirCategory, BasementUse, BlowerRuns, ExtractFrom, InfiltrationCredit, StandardForm, SupplyTo,
};
use crate::units::Dimension as D;

/// A rule that makes an airflow, before what belongs to it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Rule {
    Standard,
    Rooms,
    Category,
}
pub(crate) const AIRFLOW: WordOr<Rule> = WordOr {
    words: Choice {
        key: "airflow",
        options: &[
            ("by-standard", Rule::Standard),
            ("by-rooms", Rule::Rooms),
            ("by-category", Rule::Category),
        ],
    },
    measure: measure("airflow", D::AirFlow, ("2 L/s", "2000 L/s"), "45 L/s"),
};
pub(crate) const CATEGORY: Choice<AirCategory> = Choice {
    key: "category",
    options: &[
        ("I", AirCategory::I),
        ("II", AirCategory::II),
        ("III", AirCategory::III),
        ("IV", AirCategory::IV),
    ],
};
pub(crate) const STANDARD_FORM: Choice<StandardForm> =
    Choice { key: "standard_form", options: &[("si", StandardForm::Si), ("ip", StandardForm::Ip)] };
pub(crate) const INFILTRATION_CREDIT: Switch<InfiltrationCredit> =
    Switch { key: "infiltration_credit", on: InfiltrationCredit::Taken, off: InfiltrationCredit::None };

const fn rooms(key: &'static str) -> Count {
    Count { key, least: 0, most: 50 }
}
pub(crate) const LIVING: Count = rooms("living");
pub(crate) const KITCHEN: Count = rooms("kitchen");
pub(crate) const BATHROOMS: Count = rooms("bathrooms");
pub(crate) const OTHER_ROOMS: Count = rooms("other");
pub(crate) const BASEMENT: Choice<BasementUse> = Choice {
    key: "basement",
    options: &[
        ("none", BasementUse::None),
        ("divided", BasementUse::Divided),
        ("undivided", BasementUse::Undivided),
    ],
};

pub(crate) const EXTRACT_FROM: Choice<ExtractFrom> = Choice {
    key: "extract_from",
    options: &[("wet-rooms", ExtractFrom::WET_ROOMS), ("return-duct", ExtractFrom::RETURN_DUCT)],
};
pub(crate) const SUPPLY_TO: Choice<SupplyTo> = Choice {
    key: "supply_to",
    options: &[("rooms", SupplyTo::ROOMS), ("return-duct", SupplyTo::RETURN_DUCT)],
};
pub(crate) const WET_ROOMS: Number = share("wet_rooms", (0.0, 1.0));
pub(crate) const ROOMS: Number = share("rooms", (0.0, 1.0));
pub(crate) const RETURN_DUCT: Number = share("return_duct", (0.0, 1.0));
pub(crate) const BLOWER_POWER: Measure = measure("power", D::Power, ("1 W", "3000 W"), "350 W");
pub(crate) const BLOWER_RUNS: Choice<BlowerRuns> = Choice {
    key: "runs",
    options: &[
        ("always", BlowerRuns::Always),
        ("with-unit", BlowerRuns::WithUnit),
        ("with-heating", BlowerRuns::WithHeating),
    ],
};

pub(crate) const SLEEPERS: Count = Count { key: "people", least: 1, most: 20 };
pub(crate) const BEDROOM_VOLUME: Measure = measure("volume", D::Volume, ("5 m3", "500 m3"), "30 m3");
pub(crate) const BEDROOM_SUPPLY: Number = share("supply_share", (0.0, 1.0));

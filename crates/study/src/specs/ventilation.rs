//! What each key of ventilation, and of the rooms that it is for, takes.
//!
//! Here: one constant for a key. Not here: defaults and what goes with what (`read`). Read next: `read/ventilation.rs`.

use super::measure;
use crate::kinds::{Choice, Count, Switch, WordOr};
use crate::model::{AirCategory, BasementUse, ExtractFrom, InfiltrationCredit, StandardForm, SupplyTo};
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
    options: &[("wet-rooms", ExtractFrom::WetRooms), ("return-duct", ExtractFrom::ReturnDuct)],
};
pub(crate) const SUPPLY_TO: Choice<SupplyTo> = Choice {
    key: "supply_to",
    options: &[("rooms", SupplyTo::Rooms), ("return-duct", SupplyTo::ReturnDuct)],
};

//! The mirror of `[ventilation]` and its tables.
//!
//! Here: what the schema says of the flow of air, where it comes from and goes to. Not here: the units (`schema/unit.rs`).
//! Read next: `schema/unit.rs`.

use schemars::JsonSchema;

use super::control::Control;
use super::quantities::{Airflow, Conductance, Power};

/// Airflow, and where it is taken from and brought to.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Ventilation {
    /// Supply and extract flow; 2 L/s … 2000 L/s. Or a rule: by-standard (ASHRAE 62.2), by-rooms (CSA F326), by-category (EN 16798-1).
    #[schemars(example = &"45 L/s")]
    airflow: Airflow,
    /// by-category: category of EN 16798-1. Left out: II.
    category: Option<Category>,
    /// by-standard: arithmetic of the standard. Left out: by the unit of `house.floor_area`.
    standard_form: Option<StandardForm>,
    /// by-standard: whether air through leaks counts. Left out: false.
    infiltration_credit: Option<bool>,
    /// Left out: wet-rooms.
    extract_from: Option<ExtractFrom>,
    /// Left out: rooms.
    supply_to: Option<SupplyTo>,
    /// Left out: no blower of a furnace.
    blower: Option<Blower>,
    ducts: Option<Ducts>,
    control: Option<Control>,
}

/// The blower of a furnace.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Blower {
    /// Its power; 1 W … 3000 W.
    #[schemars(example = "350 W")]
    power: Power,
    /// When it runs. Left out: with-unit where air of the unit passes the return duct, else with-heating.
    runs: Option<BlowerRuns>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum BlowerRuns {
    /// Always.
    Always,
    /// While the ventilation unit runs, and with heating and cooling.
    WithUnit,
    /// With heating and cooling alone.
    WithHeating,
}

/// Ducts that pass through air of another temperature. What is left out is 0 W/K.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Ducts {
    /// Conductance of all cold ducts in the heated house together; 0 W/K … 100 W/K. Left out: 0 W/K.
    #[schemars(example = "3 W/K")]
    cold_indoors: Option<Conductance>,
    /// Conductance of all warm ducts outside the heated house together; 0 W/K … 100 W/K. Left out: 0 W/K.
    #[schemars(example = "3 W/K")]
    warm_outdoors: Option<Conductance>,
}

#[derive(JsonSchema)]
enum Category {
    /// High expectation.
    #[schemars(rename = "I")]
    High,
    /// Normal.
    #[schemars(rename = "II")]
    Normal,
    /// Moderate.
    #[schemars(rename = "III")]
    Moderate,
    /// Low.
    #[schemars(rename = "IV")]
    Low,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum StandardForm {
    /// L/s and m².
    Si,
    /// cfm and ft².
    Ip,
}

#[derive(JsonSchema)]
#[schemars(untagged)]
enum ExtractFrom {
    Word(ExtractPlace),
    Shares(ExtractShares),
}

/// Shares of the extract air, which add up to 1.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct ExtractShares {
    /// Share from kitchen, bathrooms, laundry.
    #[schemars(range(min = 0.0, max = 1.0))]
    wet_rooms: f64,
    /// Share from the return duct of a furnace.
    #[schemars(range(min = 0.0, max = 1.0))]
    return_duct: f64,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum ExtractPlace {
    /// Kitchen, bathrooms, laundry.
    WetRooms,
    /// The return duct of a furnace.
    ReturnDuct,
}

#[derive(JsonSchema)]
#[schemars(untagged)]
enum SupplyTo {
    Word(SupplyPlace),
    Shares(SupplyShares),
}

/// Shares of the supply air, which add up to 1.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct SupplyShares {
    /// Share to bedrooms and living rooms.
    #[schemars(range(min = 0.0, max = 1.0))]
    rooms: f64,
    /// Share to the return duct of a furnace.
    #[schemars(range(min = 0.0, max = 1.0))]
    return_duct: f64,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum SupplyPlace {
    /// Bedrooms and living rooms.
    Rooms,
    /// The return duct of a furnace.
    ReturnDuct,
}

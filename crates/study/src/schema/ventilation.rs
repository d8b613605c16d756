//! The mirror of `[ventilation]` and its tables.
//!
//! Here: what the schema says of the flow of air, where it comes from and goes to. Not here: the units (`schema/unit.rs`).
//! Read next: `schema/unit.rs`.

use schemars::JsonSchema;

use super::quantities::{AirFlow, Conductance};

/// Airflow, and where it is taken from and brought to.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Ventilation {
    /// Supply and extract flow; 2 L/s … 2000 L/s.
    #[schemars(example = "45 L/s")]
    airflow: AirFlow,
    /// Left out: wet-rooms.
    extract_from: Option<ExtractFrom>,
    /// Left out: rooms.
    supply_to: Option<SupplyTo>,
    ducts: Option<Ducts>,
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
#[schemars(rename_all = "kebab-case")]
enum ExtractFrom {
    /// Kitchen, bathrooms, laundry.
    WetRooms,
    /// The return duct of a furnace.
    ReturnDuct,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum SupplyTo {
    /// Bedrooms and living rooms.
    Rooms,
    /// The return duct of a furnace.
    ReturnDuct,
}

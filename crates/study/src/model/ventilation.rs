//! What a study says of ventilation: how much, from where, to where, through which ducts.
//!
//! Here: plain values in SI, every check done. Not here: the rules that make a flow (`model/airflow.rs`), control
//! (`model/control.rs`). Read next: `model/airflow.rs`.

use super::{AirflowRule, Control};

/// Airflow, and where it is taken from and brought to.
#[derive(Debug, Clone, PartialEq)]
pub struct Ventilation {
    /// Supply and extract flow [m³/s at 20 °C and the site's standard pressure], 2…2000 L/s: as stated, or of the rule.
    pub airflow_m3_per_s: f64,
    /// Where that flow comes from.
    pub rule: AirflowRule,
    /// Where the extract air is taken.
    pub extract_from: ExtractFrom,
    /// Where the supply air is brought.
    pub supply_to: SupplyTo,
    /// Ducts between the unit and what lies beyond the house.
    pub ducts: Ducts,
    /// How the flow is controlled.
    pub control: Control,
    /// The blower of a furnace; `None`: there is none.
    pub blower: Option<Blower>,
}

/// Conductances of ducts that pass through air of another temperature. Both are 0 where nothing is stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ducts {
    /// Cold ducts in the heated house, from and to outdoors: all of them together [W/K], 0…100.
    pub cold_indoors_w_per_k: f64,
    /// Warm ducts outside the heated house, from and to the rooms: all of them together [W/K], 0…100.
    pub warm_outdoors_w_per_k: f64,
}

/// Where the extract air is taken, in shares that add up to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExtractFrom {
    /// Share from kitchen, bathrooms, laundry [-], 0…1.
    pub wet_rooms: f64,
    /// Share from the return duct of a furnace, mixed air of the house [-], 0…1.
    pub return_duct: f64,
}

impl ExtractFrom {
    /// All of it from the wet rooms.
    pub const WET_ROOMS: Self = Self { wet_rooms: 1.0, return_duct: 0.0 };
    /// All of it from the return duct.
    pub const RETURN_DUCT: Self = Self { wet_rooms: 0.0, return_duct: 1.0 };
}

/// Where the supply air is brought, in shares that add up to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SupplyTo {
    /// Share to bedrooms and living rooms [-], 0…1.
    pub rooms: f64,
    /// Share to the return duct of a furnace, which spreads it [-], 0…1.
    pub return_duct: f64,
}

impl SupplyTo {
    /// All of it to the rooms.
    pub const ROOMS: Self = Self { rooms: 1.0, return_duct: 0.0 };
    /// All of it to the return duct.
    pub const RETURN_DUCT: Self = Self { rooms: 0.0, return_duct: 1.0 };
}

/// The blower of a furnace.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blower {
    /// Its power \[W\], 1…3000.
    pub power_w: f64,
    /// When it runs.
    pub runs: BlowerRuns,
}

/// When the blower of a furnace runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BlowerRuns {
    /// Always.
    Always,
    /// While the ventilation unit runs, and with heating and cooling.
    WithUnit,
    /// With heating and cooling alone.
    WithHeating,
}

//! What a study says of what treats the air beside ventilation, of cold corners, and of a unit's upkeep.
//!
//! Here: plain values in SI, every check done. Not here: what they do (`simulation`). Read next: `read/indoors.rs`.

use super::MonthDay;

/// A humidifier.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Humidifier {
    /// Relative humidity kept at least [-], 0.1…0.6.
    pub target: f64,
    /// Water given at most [kg/s], 0.1…200 kg/day.
    pub capacity_kg_per_s: f64,
    /// Where the heat comes from.
    pub kind: HumidifierKind,
}

/// Where a humidifier's heat comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HumidifierKind {
    /// Room heat evaporates the water.
    Adiabatic,
    /// Electricity boils it.
    Steam,
}

/// A dehumidifier in the rooms.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dehumidifier {
    /// Relative humidity kept at most [-], 0.2…0.9.
    pub target: f64,
    /// Water taken at most [kg/s], 0.1…500 kg/day.
    pub capacity_kg_per_s: f64,
    /// Water taken for the electricity used [kg/J], 0.5…6 kg/kWh.
    pub water_kg_per_j: f64,
}

/// The coldest inside surface that stays in the shade of furniture and corners.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ColdCorner {
    /// Its temperature, 0 at outdoors, 1 at the room's [-], 0.3…0.98.
    pub temperature_factor: f64,
    /// What it is made of, as mould sees it.
    pub material: Material,
}

/// How easily mould grows on a material.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Material {
    /// Raw wood.
    VerySensitive,
    /// Planed wood, paper, wallpaper, gypsum board.
    Sensitive,
    /// Plaster, mineral wool.
    MediumResistant,
    /// Glass, metal, plastic.
    Resistant,
}

/// A core's yearly washing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Upkeep {
    /// The day on which it is taken out, from midnight; `None`: 1 June, south of the equator 1 December.
    pub wash_on: Option<MonthDay>,
    /// How long it is out, drying \[s\], 1…240 h.
    pub drying_s: f64,
    /// Share of its conductances that it loses from wash to wash [-], 0…0.5.
    pub fouling: f64,
}

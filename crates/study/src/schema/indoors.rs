//! The mirror of humidifier, dehumidifier, cold corner and upkeep.
//!
//! Here: what the schema says of them. Not here: the house (`schema/house.rs`), the unit (`schema/unit.rs`).

use schemars::JsonSchema;

use super::quantities::{Duration, RelativeHumidity, WaterPerEnergy, WaterRate};

/// A humidifier for the whole house.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Humidifier {
    /// Relative humidity kept at least; 10 % … 60 %.
    #[schemars(example = "30 %")]
    target: RelativeHumidity,
    /// Water given at most; 0.1 kg/day … 200 kg/day. Left out: 12 kg/day.
    #[schemars(example = "12 kg/day")]
    capacity: Option<WaterRate>,
    /// Left out: adiabatic.
    kind: Option<HumidifierKind>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum HumidifierKind {
    /// Room heat evaporates the water.
    Adiabatic,
    /// Electricity boils it.
    Steam,
}

/// A dehumidifier in the rooms.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Dehumidifier {
    /// Relative humidity kept at most, above what a humidifier keeps; 20 % … 90 %.
    #[schemars(example = "55 %")]
    target: RelativeHumidity,
    /// Water taken at most; 0.1 kg/day … 500 kg/day. Left out: 20 kg/day.
    #[schemars(example = "20 L/day")]
    capacity: Option<WaterRate>,
    /// Water taken for the electricity used; 0.5 L/kWh … 6 L/kWh. Left out: 1.8 L/kWh.
    #[schemars(example = "1.8 L/kWh")]
    energy_factor: Option<WaterPerEnergy>,
}

/// The coldest inside surface, where mould would grow first.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct ColdCorner {
    /// Its temperature: 0 at outdoors, 1 at the room's. Left out: 0.75.
    #[schemars(range(min = 0.3, max = 0.98))]
    temperature_factor: Option<f64>,
    /// What it is made of. Left out: sensitive.
    material: Option<Material>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Material {
    /// Raw wood.
    VerySensitive,
    /// Planed wood, paper, wallpaper, gypsum board.
    Sensitive,
    /// Plaster, mineral wool.
    MediumResistant,
    /// Glass, metal, plastic.
    Resistant,
}

/// The core's yearly washing.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Upkeep {
    /// The day on which it is taken out, month and day. Left out: 06-01, south of the equator 12-01.
    #[schemars(regex(pattern = r"^\s*\d{2}-\d{2}\s*$"), example = "06-01")]
    wash_on: Option<String>,
    /// How long it is out, drying; 1 h … 240 h. Left out: 42 h.
    #[schemars(example = "42 h")]
    drying: Option<Duration>,
    /// Share of its conductance that it loses from wash to wash. Left out: 0.03.
    #[schemars(range(min = 0.0, max = 0.5))]
    fouling: Option<f64>,
}

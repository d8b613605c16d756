//! The mirror of `[[unit]]` and its tables.
//!
//! Here: what the schema says of a recovery unit's core. Not here: fans, frost, filters and free cooling
//! (`schema/air.rs`), the rest of the file (`schema`). Read next: `schema/air.rs`.

use schemars::JsonSchema;

use super::air::{Bypass, Fan, Filter, Frost};
use super::indoors::Upkeep;
use super::money::{MoneyPaid, MoneyPerYear};
use super::quantities::{
    AirFlow, AirMassFlow, Conductance, HeatCapacity, Length, Power, RelativeHumidity, Temperature,
    VapourResistance, Years,
};

/// A recovery unit. How well its core exchanges is said in one of four forms: `rating`, `conductance`, `effectiveness`
/// or `geometry`.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(extend("oneOf" = [
    {"required": ["conductance"]},
    {"required": ["effectiveness"]},
    {"required": ["rating"]},
    {"required": ["geometry"]}
]))]
pub(super) struct Unit {
    /// Name, unique within the study.
    #[schemars(length(min = 1, max = 60), example = "Plate A")]
    name: String,
    core: Core,
    /// Where it stands. Left out: heated-room.
    location: Option<Location>,
    /// How the streams pass each other, for plates only. Left out: counter.
    flow: Option<Flow>,
    /// Share of the plate area that is in counterflow, with flow = "quasi-counter" only. Left out: 0.6.
    #[schemars(range(min = 0.0, max = 1.0))]
    counter_share: Option<f64>,
    conductance: Option<CoreConductance>,
    effectiveness: Option<Effectiveness>,
    /// What a rating sheet states: a point or more, one of them with -10 °C or more outdoors.
    #[schemars(length(min = 1))]
    rating: Option<Vec<Rating>>,
    geometry: Option<CoreGeometry>,
    /// Share of the supply air that is extract air leaked across. Left out: fitted to the rating points, else 0.
    #[schemars(range(min = 0.0, max = 0.1))]
    cross_leakage: Option<f64>,
    /// Outdoor air that enters over supply air that leaves; not less than 1 - `cross_leakage`. Left out: 1.
    #[schemars(range(min = 0.9, max = 1.1))]
    outdoor_air_correction: Option<f64>,
    /// Extract flow over supply flow. Left out: 1.
    #[schemars(range(min = 0.5, max = 2.0))]
    balance: Option<f64>,
    /// Share of the air drawn in from outdoors that is the unit's own exhaust air. Left out: 0.
    #[schemars(range(min = 0.0, max = 0.3))]
    hood_recirculation: Option<f64>,
    wheel: Option<Wheel>,
    fan: Option<Fan>,
    /// Heat capacity of the core; 0.1 kJ/K … 1000 kJ/K. Left out: 26 J/K for each W/K of its conductance.
    #[schemars(example = "6 kJ/K")]
    core_heat_capacity: Option<HeatCapacity>,
    frost: Option<Frost>,
    /// Left out: filters stay clean.
    filter: Option<Filter>,
    /// Left out: the core stays clean and is never taken out.
    upkeep: Option<Upkeep>,
    /// Left out: no air passes round the core to cool the house; nothing opens by itself.
    bypass: Option<Bypass>,
    /// What it costs with installation, beyond ventilation without recovery; 0 … 1000000000 in the study's currency. Left out: unknown, so
    /// that it is not ranked.
    #[schemars(example = "2400 USD")]
    price: Option<MoneyPaid>,
    /// Filters, washing and service in a year; 0 … 1000000 in the study's currency a year. Left out: nothing.
    #[schemars(example = "40 USD/year")]
    upkeep_cost: Option<MoneyPerYear>,
    /// Until it is bought again; 1 years … 100 years. Left out: 20 years.
    #[schemars(example = "20 years")]
    life: Option<Years>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Location {
    /// In the heated house.
    HeatedRoom,
    /// In a cellar that is not heated.
    Cellar,
    /// In an attic that is not heated.
    Attic,
    /// In a garage that is not heated.
    Garage,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Core {
    /// Tight plates: heat alone.
    SensiblePlate,
    /// Membrane plates: heat and water vapour.
    EnthalpyPlate,
    /// A turning matrix: heat alone.
    SensibleWheel,
    /// A turning matrix that takes up water: heat and water vapour.
    EnthalpyWheel,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Flow {
    /// Counterflow.
    Counter,
    /// Crossflow.
    Cross,
    /// Counterflow in the middle, crossflow at both ends, as in hexagonal plates.
    QuasiCounter,
}

/// What the core conducts at a flow; it holds at any temperature.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct CoreConductance {
    /// Heat conductance from air to air; 1 W/K … 10000 W/K.
    #[schemars(example = "218 W/K")]
    ua: Conductance,
    /// Vapour conductance, for an enthalpy core only, and needed there; 0.0001 kg/s … 10 kg/s.
    #[schemars(example = "0.087 kg/s")]
    vapour: Option<AirMassFlow>,
    /// Flow at which they hold; 2 L/s … 2000 L/s.
    #[schemars(example = "30 L/s")]
    at: AirFlow,
}

/// The simple pair: a table, or a list of tables with a flow each.
#[derive(JsonSchema)]
#[schemars(untagged)]
enum Effectiveness {
    One(CoreEffectiveness),
    Several(#[schemars(length(min = 2))] Vec<CoreEffectiveness>),
}

/// The simple pair at one flow.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct CoreEffectiveness {
    /// Sensible effectiveness.
    #[schemars(range(min = 0.05, max = 0.97))]
    sensible: f64,
    /// Latent effectiveness, for an enthalpy core only, and needed there.
    #[schemars(range(min = 0.05, max = 0.97))]
    latent: Option<f64>,
    /// Flow at which they hold, both streams alike; 2 L/s … 2000 L/s.
    #[schemars(example = "30 L/s")]
    at: AirFlow,
}

/// A point of a rating sheet: its conditions, flows, power, and at least one figure. Figures are fractions: 0.72, not 72.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(extend(
    "oneOf" = [{"required": ["airflow"]}, {"required": ["gross_airflow"]}],
    "anyOf" = [
        {"required": ["outdoor"]},
        {"required": ["standard"], "properties": {"standard": {"const": "en-13141-7"}}}
    ]
))]
struct Rating {
    /// Test standard, which says what the figures mean. Left out: csa-c439.
    standard: Option<Standard>,
    /// Outdoor air, 3 K or more from the indoor air; -50 °C … 50 °C. Left out: 7 °C under en-13141-7, else needed.
    #[schemars(example = "0 °C")]
    outdoor: Option<Temperature>,
    /// Relative humidity of the outdoor air; 1 % … 100 %. Left out, with no wet bulb: as the standard tests, or 80 % below 20 °C.
    #[schemars(example = "80 %")]
    outdoor_humidity: Option<RelativeHumidity>,
    /// Wet bulb of the outdoor air, instead of its humidity; -55 °C … 50 °C.
    #[schemars(example = "26.3 °C")]
    outdoor_wet_bulb: Option<Temperature>,
    /// Indoor air; 10 °C … 40 °C. Left out: 22 °C, with 20 °C or more outdoors 24 °C; under en-13141-7 20 °C.
    #[schemars(example = "22 °C")]
    indoor: Option<Temperature>,
    /// Relative humidity of the indoor air; 1 % … 100 %. Left out, with no wet bulb: 40 %, with 20 °C or more outdoors 50 %.
    #[schemars(example = "40 %")]
    indoor_humidity: Option<RelativeHumidity>,
    /// Wet bulb of the indoor air, instead of its humidity; -55 °C … 50 °C. Left out, under en-13141-7: 12 °C.
    #[schemars(example = "12 °C")]
    indoor_wet_bulb: Option<Temperature>,
    /// Supply flow where it leaves the unit, leaked air included; 2 L/s … 2000 L/s.
    #[schemars(example = "30 L/s")]
    airflow: Option<AirFlow>,
    /// Another name of `airflow`, for sheets that have a net flow beside it; 2 L/s … 2000 L/s.
    #[schemars(example = "30 L/s")]
    gross_airflow: Option<AirFlow>,
    /// Supply flow less the extract air that leaked into it; 2 L/s … 2000 L/s.
    #[schemars(example = "29 L/s")]
    net_airflow: Option<AirFlow>,
    /// Extract flow where it enters the unit; 2 L/s … 2000 L/s. Left out: the supply flow.
    #[schemars(example = "30 L/s")]
    extract_airflow: Option<AirFlow>,
    /// Power of both fans together; 0 W … 5000 W. Left out: 1.2 W per L/s.
    #[schemars(example = "44 W")]
    power: Option<Power>,
    /// csa-c439: apparent sensible effectiveness, of the supply air with fan heat and leaks.
    #[schemars(range(min = 0.0, max = 1.2))]
    apparent_sensible: Option<f64>,
    /// csa-c439: sensible recovery efficiency, fan heat, leaks and defrosting taken out.
    #[schemars(range(min = 0.0, max = 1.2))]
    sensible_recovery: Option<f64>,
    /// csa-c439: sensible recovery efficiency with no term for the fans' energy.
    #[schemars(range(min = 0.0, max = 1.2))]
    adjusted_sensible_recovery: Option<f64>,
    /// csa-c439: latent recovery, or moisture transfer; for an enthalpy core only.
    #[schemars(range(min = 0.0, max = 1.2))]
    latent_recovery: Option<f64>,
    /// csa-c439: total recovery efficiency, of enthalpy.
    #[schemars(range(min = 0.0, max = 1.2))]
    total_recovery: Option<f64>,
    /// csa-c439: total recovery efficiency with no term for the fans' energy.
    #[schemars(range(min = 0.0, max = 1.2))]
    adjusted_total_recovery: Option<f64>,
    /// en-13141-7: temperature ratio on the supply side.
    #[schemars(range(min = 0.0, max = 1.2))]
    temperature_ratio: Option<f64>,
    /// en-13141-7: humidity ratio on the supply side; for an enthalpy core only.
    #[schemars(range(min = 0.0, max = 1.2))]
    moisture_ratio: Option<f64>,
    /// en-13141-7: temperature ratio on the exhaust side.
    #[schemars(range(min = 0.0, max = 1.2))]
    exhaust_temperature_ratio: Option<f64>,
    /// Share of the net supply flow lost to defrosting (not the share left), colder than -10 °C only.
    #[schemars(range(min = 0.0, max = 0.5))]
    ventilation_reduction: Option<f64>,
}

#[derive(JsonSchema)]
enum Standard {
    /// CSA C439.
    #[schemars(rename = "csa-c439")]
    CsaC439,
    /// EN 13141-7.
    #[schemars(rename = "en-13141-7")]
    En13141Part7,
}

/// The passages between the plates, both streams alike; for plates only.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct CoreGeometry {
    /// Height of a passage, from plate to plate; 0.5 mm … 20 mm.
    #[schemars(example = "2 mm")]
    gap: Length,
    /// Length of a passage along its stream; 0.05 m … 3 m.
    #[schemars(example = "0.3 m")]
    length: Length,
    /// Width of a passage across its stream; 0.02 m … 3 m.
    #[schemars(example = "0.25 m")]
    width: Length,
    /// Passages of each stream.
    #[schemars(range(min = 1, max = 2000))]
    channels: u32,
    /// Resistance of the membrane to water vapour, for an enthalpy plate only, and needed there; 1 s/m … 5000 s/m.
    #[schemars(example = "60 s/m")]
    membrane_resistance: Option<VapourResistance>,
}

/// The turning matrix, for wheels only.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Wheel {
    /// Heat capacity flow of the matrix over that of the smaller air flow. Left out: 5.
    #[schemars(range(min = 1.0, max = 50.0))]
    capacity_ratio: Option<f64>,
}

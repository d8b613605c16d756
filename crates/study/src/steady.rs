//! One steady point of a unit: its four ports, what passes, and what forms.
//!
//! The same core solution as in the hour, with the unit's leaks; own exhaust air drawn back at the hood is followed until it
//! settles. Not here: the year (`simulation`).

use exchanger::{Fluxes, Inlets, outlets, solve};
use psychrometrics::formulas::{
    enthalpy_j_per_kg, moist_heat_capacity, temperature_from_enthalpy_c, vapour_enthalpy_j_per_kg,
};

use crate::model;
use crate::sized::{SizedError, SizedUnit};

/// Air at a port.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Dry bulb [°C].
    pub dry_bulb_c: f64,
    /// Humidity ratio [kg/kg dry air].
    pub humidity_ratio: f64,
}

/// The air around a unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Around {
    /// Outdoors.
    pub outdoor: Air,
    /// In the rooms that air is taken from.
    pub indoor: Air,
    /// Barometric pressure \[Pa\].
    pub pressure_pa: f64,
}

/// A unit at a steady point.
#[derive(Debug, Clone, Copy)]
pub struct SteadyPoint {
    /// Supply air with what leaked into it, before a fan that stands behind the core.
    pub supply: Air,
    /// Exhaust air as it leaves the core.
    pub exhaust: Air,
    /// Outdoor air, net of what is drawn back and of what leaks across [kg dry air/s].
    pub fresh_kg_per_s: f64,
    /// Air that leaves the supply port, and air taken from the rooms [kg dry air/s].
    pub delivered_kg_per_s: f64,
    /// Air taken from the rooms [kg dry air/s].
    pub taken_kg_per_s: f64,
    /// Sensible heat that the outdoor air and what leaked into it gained between intake and rooms \[W\].
    pub sensible_w: f64,
    /// Latent heat likewise \[W\].
    pub latent_w: f64,
    /// What the supply fan adds behind the core \[K\].
    pub fan_rise_k: f64,
    /// What enters the core.
    pub inlets: Inlets<f64>,
    /// What passes in it.
    pub fluxes: Fluxes<f64>,
}

/// Rounds after which own exhaust air has settled: each leaves at most 0.3 of the difference.
const ROUNDS: usize = 60;

/// Solves the unit at this air.
///
/// # Errors
/// [`SizedError`] when the flows do not fit together.
pub fn steady(unit: &model::Unit, sized: &SizedUnit, around: &Around) -> Result<SteadyPoint, SizedError> {
    let flows = simulation::Unit::of_flows(&sized.flows)?;
    let supply_fan_w = unit.fan.power_w * unit.fan.supply_share;
    let extract_fan_w = unit.fan.power_w - supply_fan_w;
    let (before, after) = match unit.fan.position {
        model::FanPosition::BeforeCore => ((supply_fan_w, extract_fan_w), 0.0),
        model::FanPosition::AfterCore => ((0.0, 0.0), supply_fan_w),
    };
    let mut exhaust = around.outdoor;
    let mut inlets = entering(around, &flows, (exhaust, before));
    let mut fluxes = solve(sized.kind, &sized.core, &inlets);
    for _ in 0..ROUNDS {
        let out = outlets(&inlets, &fluxes);
        exhaust = Air { dry_bulb_c: out.exhaust_c, humidity_ratio: out.exhaust_humidity_ratio };
        inlets = entering(around, &flows, (exhaust, before));
        fluxes = solve(sized.kind, &sized.core, &inlets);
    }
    let out = outlets(&inlets, &fluxes);
    let of_core = Air { dry_bulb_c: out.supply_c, humidity_ratio: out.supply_humidity_ratio };
    let delivered = flows.supply_kg_per_s + flows.cross_leak_kg_per_s;
    let supply = mixed(of_core, around.indoor, flows.cross_leak_kg_per_s / delivered);
    let gained_w = supply.humidity_ratio - around.outdoor.humidity_ratio;
    Ok(SteadyPoint {
        supply,
        exhaust: Air { dry_bulb_c: out.exhaust_c, humidity_ratio: out.exhaust_humidity_ratio },
        fresh_kg_per_s: flows.supply_kg_per_s * (1.0 - flows.recirculated_share),
        delivered_kg_per_s: delivered,
        taken_kg_per_s: flows.extract_kg_per_s + flows.cross_leak_kg_per_s,
        sensible_w: delivered
            * moist_heat_capacity(around.outdoor.humidity_ratio)
            * (supply.dry_bulb_c - around.outdoor.dry_bulb_c),
        latent_w: delivered * gained_w * vapour_enthalpy_j_per_kg(supply.dry_bulb_c),
        fan_rise_k: after / (delivered * moist_heat_capacity(supply.humidity_ratio)),
        inlets,
        fluxes,
    })
}

/// What enters the core: outdoor air with the hood's share of exhaust air, extract air, each behind a fan that stands
/// before the core.
fn entering(around: &Around, flows: &simulation::Unit, (exhaust, fans_w): (Air, (f64, f64))) -> Inlets<f64> {
    let intake = mixed(around.outdoor, exhaust, flows.recirculated_share);
    let warmer =
        |air: Air, kg_per_s: f64, fan_w: f64| fan_w / (kg_per_s * moist_heat_capacity(air.humidity_ratio));
    Inlets {
        outdoor_c: intake.dry_bulb_c + warmer(intake, flows.supply_kg_per_s, fans_w.0),
        outdoor_humidity_ratio: intake.humidity_ratio,
        extract_c: around.indoor.dry_bulb_c + warmer(around.indoor, flows.extract_kg_per_s, fans_w.1),
        extract_humidity_ratio: around.indoor.humidity_ratio,
        supply_kg_per_s: flows.supply_kg_per_s,
        extract_kg_per_s: flows.extract_kg_per_s,
        pressure_pa: around.pressure_pa,
    }
}

/// Two airs in one: water by mass, temperature by enthalpy.
fn mixed(most: Air, other: Air, share: f64) -> Air {
    let blend = |a: f64, b: f64| a + share * (b - a);
    let humidity_ratio = blend(most.humidity_ratio, other.humidity_ratio);
    let h = |air: Air| enthalpy_j_per_kg(air.dry_bulb_c, air.humidity_ratio);
    let dry_bulb_c = temperature_from_enthalpy_c(blend(h(most), h(other)), humidity_ratio);
    Air { dry_bulb_c, humidity_ratio }
}

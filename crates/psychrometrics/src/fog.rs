//! Air that may hold more water than saturation allows: the split into saturated air and droplets or ice.
//!
//! Not here: the processes that lead there ([`crate::processes`]).

use crate::curve::Curve;
use crate::error::AirError;
use crate::formulas as f;
use crate::moist_air::MoistAir;
use crate::range::{DRY_BULB, DRY_BULB_OF_PROCESS, TOTAL_WATER};
use crate::root::root_of_rising;

/// Where a process ends: in clear air, or in fog, which is reported and never hidden.
#[derive(Debug, Clone, Copy, PartialEq)]
#[must_use]
pub enum Outcome {
    /// All water is vapour.
    Clear(MoistAir),
    /// The air is saturated and carries the rest of the water as droplets or ice.
    Fogged(Fog),
}

/// Saturated air with water afloat in it, at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fog {
    /// The air between the droplets, saturated.
    pub air: MoistAir,
    /// Liquid afloat (kg/kg dry air).
    pub liquid_kg_per_kg: f64,
    /// Ice afloat (kg/kg dry air); at 0 °C liquid and ice may be there together.
    pub ice_kg_per_kg: f64,
}

impl Fog {
    /// Enthalpy with the water afloat (J/kg dry air).
    pub fn enthalpy_j_per_kg(&self) -> f64 {
        let t = self.air.dry_bulb_c();
        self.air.enthalpy_j_per_kg()
            + self.liquid_kg_per_kg * f::liquid_enthalpy_j_per_kg(t)
            + self.ice_kg_per_kg * f::ice_enthalpy_j_per_kg(t)
    }
}

impl Outcome {
    /// The air, without what floats in it.
    pub fn air(&self) -> &MoistAir {
        match self {
            Self::Clear(air) | Self::Fogged(Fog { air, .. }) => air,
        }
    }

    /// All water, vapour and afloat (kg/kg dry air).
    pub fn water_kg_per_kg(&self) -> f64 {
        match self {
            Self::Clear(air) => air.humidity_ratio(),
            Self::Fogged(fog) => fog.air.humidity_ratio() + fog.liquid_kg_per_kg + fog.ice_kg_per_kg,
        }
    }

    /// Enthalpy, with that of water afloat (J/kg dry air).
    pub fn enthalpy_j_per_kg(&self) -> f64 {
        match self {
            Self::Clear(air) => air.enthalpy_j_per_kg(),
            Self::Fogged(fog) => fog.enthalpy_j_per_kg(),
        }
    }
}

/// The state that holds this enthalpy and water, at the pressure of the curve.
pub(crate) fn settle(enthalpy_j_per_kg: f64, water: f64, curve: Curve) -> Result<Outcome, AirError> {
    TOTAL_WATER.check(water)?;
    let clear_c = f::temperature_from_enthalpy_c(enthalpy_j_per_kg, water);
    let held = clear_c.clamp(DRY_BULB.low, DRY_BULB.high);
    if curve.saturation_ratio(held) < water {
        return fogged(enthalpy_j_per_kg, water, curve).map(Outcome::Fogged);
    }
    DRY_BULB_OF_PROCESS.check(clear_c)?;
    Ok(Outcome::Clear(MoistAir::complete(curve, clear_c, water)))
}

/// At 0 °C the water afloat turns from ice to liquid: below and above, the temperature follows from the balance;
/// at it, the share of ice does.
fn fogged(enthalpy_j_per_kg: f64, water: f64, curve: Curve) -> Result<Fog, AirError> {
    let afloat = |t: f64| water - curve.saturation_ratio(t);
    let vapour_part = |t: f64| f::enthalpy_j_per_kg(t, curve.saturation_ratio(t));
    let with_ice = |t: f64| vapour_part(t) + afloat(t) * f::ice_enthalpy_j_per_kg(t) - enthalpy_j_per_kg;
    let with_liquid =
        |t: f64| vapour_part(t) + afloat(t) * f::liquid_enthalpy_j_per_kg(t) - enthalpy_j_per_kg;
    let saturated = |t: f64| MoistAir::complete(curve, t, curve.saturation_ratio(t));
    if with_ice(0.0) >= 0.0 {
        let t = bracketed(DRY_BULB.low, 0.0, with_ice)?;
        return Ok(Fog { air: saturated(t), liquid_kg_per_kg: 0.0, ice_kg_per_kg: afloat(t) });
    }
    if with_liquid(0.0) <= 0.0 {
        let t = bracketed(0.0, DRY_BULB.high, with_liquid)?;
        return Ok(Fog { air: saturated(t), liquid_kg_per_kg: afloat(t), ice_kg_per_kg: 0.0 });
    }
    let ice = with_liquid(0.0) / f::FUSION_0C_J_PER_KG;
    Ok(Fog { air: saturated(0.0), liquid_kg_per_kg: afloat(0.0) - ice, ice_kg_per_kg: ice })
}

fn bracketed(low: f64, high: f64, excess: impl Fn(f64) -> f64) -> Result<f64, AirError> {
    if excess(low) > 0.0 || excess(high) < 0.0 {
        return Err(AirError::FogOutsideRange);
    }
    Ok(root_of_rising(low, high, excess))
}

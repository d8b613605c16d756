//! What can be done to air at constant pressure: mixing, heating, cooling, humidifying.
//!
//! Each balances dry air, water and enthalpy, with the three enthalpies of [`crate::formulas`] (vapour
//! `2501e3 + 1860 t`, liquid `4186 t`, ice `−333.4e3 + 2100 t`). Where the result would hold more vapour than
//! saturation allows, it is an [`Outcome::Fogged`], with what floats in it.
//! Not here: apparatus with a size or a bypass.
//!
//! # Source
//! [ASHRAE-F] ch. 1, typical air-conditioning processes.

use crate::error::AirError;
use crate::fog::settle;
pub use crate::fog::{Fog, Outcome};
use crate::formulas as f;
use crate::moist_air::MoistAir;
use crate::range::{ADDED_HEAT, ADDED_WATER, DRY_AIR_FLOW, DRY_BULB, STEAM_TEMPERATURE, WATER_TEMPERATURE};

/// Air on its way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stream {
    /// Its state.
    pub air: MoistAir,
    /// How much of it (kg dry air/s).
    pub dry_air_kg_per_s: f64,
}

/// Two streams become one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixed {
    /// State of the mix, fogged or not.
    pub outcome: Outcome,
    /// How much of it (kg dry air/s).
    pub dry_air_kg_per_s: f64,
}

/// Air brought to a temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tempered {
    /// State afterwards.
    pub air: MoistAir,
    /// Heat put into the air (J/kg dry air); negative when it is taken out.
    pub heat_j_per_kg: f64,
    /// What condensed and left, at the temperature afterwards.
    pub condensate: Condensate,
}

/// Water that left the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Condensate {
    /// None: the dew point was not passed.
    None,
    /// Liquid (kg/kg dry air), at and above 0 °C.
    Liquid(f64),
    /// Ice (kg/kg dry air), below 0 °C.
    Ice(f64),
}

/// Water to be added to air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    /// How much (kg/kg dry air), 0…0.5.
    pub kg_per_kg: f64,
    /// Its temperature (°C).
    pub temperature_c: f64,
}

/// Adiabatic mixing of two streams, weighted by dry air.
///
/// # Errors
/// [`AirError`]: a flow not above zero, streams that differ in pressure or in enhancement factor.
///
/// # Example
/// ```
/// use psychrometrics::processes::{Outcome, Stream, mix};
/// use psychrometrics::{Given, MoistAir};
///
/// let air = |t, share| MoistAir::from_pair(Given::DryBulbC(t), Given::RelativeHumidity(share), 101_325.0);
/// let cold = Stream { air: air(-15.0, 0.9)?, dry_air_kg_per_s: 0.1 };
/// let bath = Stream { air: air(24.0, 0.9)?, dry_air_kg_per_s: 0.1 };
/// let mixed = mix(cold, bath)?;
/// assert!(matches!(mixed.outcome, Outcome::Fogged(fog) if fog.liquid_kg_per_kg > 0.0005));
/// # Ok::<(), psychrometrics::AirError>(())
/// ```
pub fn mix(first: Stream, second: Stream) -> Result<Mixed, AirError> {
    let (a, b) = (first.air.curve(), second.air.curve());
    if (a.pressure_pa - b.pressure_pa).abs() > 1e-9 * a.pressure_pa {
        return Err(AirError::PressuresDiffer { first_pa: a.pressure_pa, second_pa: b.pressure_pa });
    }
    if a.enhancement != b.enhancement {
        return Err(AirError::EnhancementsDiffer);
    }
    let first_kg_per_s = DRY_AIR_FLOW.check(first.dry_air_kg_per_s)?;
    let dry_air_kg_per_s = first_kg_per_s + DRY_AIR_FLOW.check(second.dry_air_kg_per_s)?;
    let share = first_kg_per_s / dry_air_kg_per_s;
    let mean = |of_first: f64, of_second: f64| of_second + share * (of_first - of_second);
    let enthalpy = mean(first.air.enthalpy_j_per_kg(), second.air.enthalpy_j_per_kg());
    let water = mean(first.air.humidity_ratio(), second.air.humidity_ratio());
    Ok(Mixed { outcome: settle(enthalpy, water, a)?, dry_air_kg_per_s })
}

/// Heating, or cooling that stays above the dew point, to a dry bulb; no water moves.
///
/// # Errors
/// [`AirError`]: a target out of range, or below the dew point (use [`cool_through_saturation_to`]).
pub fn temper_to(air: &MoistAir, target_c: f64) -> Result<Tempered, AirError> {
    DRY_BULB.check(target_c)?;
    let w = air.humidity_ratio();
    if let Some(dew_point_c) = air.dew_point_c().filter(|&dew_point_c| target_c < dew_point_c) {
        return Err(AirError::BelowDewPoint { target_c, dew_point_c });
    }
    let after = MoistAir::complete(air.curve(), target_c, w);
    let heat_j_per_kg = after.enthalpy_j_per_kg() - air.enthalpy_j_per_kg();
    Ok(Tempered { air: after, heat_j_per_kg, condensate: Condensate::None })
}

/// Heat put into the air or taken out of it, all water staying in: past the dew point it fogs.
///
/// # Errors
/// [`AirError`]: heat or the resulting temperature out of range.
pub fn add_heat(air: &MoistAir, heat_j_per_kg: f64) -> Result<Outcome, AirError> {
    let heat = ADDED_HEAT.check(heat_j_per_kg)?;
    settle(air.enthalpy_j_per_kg() + heat, air.humidity_ratio(), air.curve())
}

/// Cooling to a dry bulb, through saturation if need be; what condenses leaves at the end temperature.
///
/// `h1 + q = h2 + m h_condensate(t2)`: the heat is negative; below 0 °C the water leaves as ice.
///
/// # Errors
/// [`AirError`]: a target out of range or above the dry bulb.
pub fn cool_through_saturation_to(air: &MoistAir, target_c: f64) -> Result<Tempered, AirError> {
    DRY_BULB.up_to(air.dry_bulb_c()).check(target_c)?;
    let saturated = air.curve().saturation_ratio(target_c);
    let kg_per_kg = air.humidity_ratio() - saturated;
    if kg_per_kg <= 0.0 {
        let after = MoistAir::complete(air.curve(), target_c, air.humidity_ratio());
        let heat_j_per_kg = after.enthalpy_j_per_kg() - air.enthalpy_j_per_kg();
        return Ok(Tempered { air: after, heat_j_per_kg, condensate: Condensate::None });
    }
    let after = MoistAir::complete(air.curve(), target_c, saturated);
    let (condensate, water_j_per_kg) = if target_c < 0.0 {
        (Condensate::Ice(kg_per_kg), f::ice_enthalpy_j_per_kg(target_c))
    } else {
        (Condensate::Liquid(kg_per_kg), f::liquid_enthalpy_j_per_kg(target_c))
    };
    let heat_j_per_kg = after.enthalpy_j_per_kg() + kg_per_kg * water_j_per_kg - air.enthalpy_j_per_kg();
    Ok(Tempered { air: after, heat_j_per_kg, condensate })
}

/// Liquid water (0…100 °C) evaporates into the air, whose own heat pays for it. What it cannot take floats in it.
///
/// # Errors
/// [`AirError`]: amount, water temperature or result out of range.
///
/// # Example
/// ```
/// use psychrometrics::processes::{Outcome, Water, humidify_by_evaporation};
/// use psychrometrics::{Given, MoistAir};
///
/// let winter = MoistAir::from_pair(Given::DryBulbC(21.0), Given::RelativeHumidity(0.2), 101_325.0)?;
/// let after = humidify_by_evaporation(&winter, Water { kg_per_kg: 0.002, temperature_c: 10.0 })?;
/// // By hand: 21 − 0.002 × (2501e3 + 1860 × 21 − 4186 × 10) / 1015.4 = 16.08 °C.
/// assert!(matches!(after, Outcome::Clear(air) if (air.dry_bulb_c() - 16.08).abs() < 0.01));
/// # Ok::<(), psychrometrics::AirError>(())
/// ```
pub fn humidify_by_evaporation(air: &MoistAir, water: Water) -> Result<Outcome, AirError> {
    let water_c = WATER_TEMPERATURE.check(water.temperature_c)?;
    add_water(air, water, f::liquid_enthalpy_j_per_kg(water_c))
}

/// Steam (0…200 °C) is blown into the air: warmer by little, much wetter.
///
/// Its enthalpy is `2501e3 + 1860 t`: 0.4 % above that of saturated steam at 100 °C.
///
/// # Errors
/// [`AirError`]: amount, steam temperature or result out of range.
pub fn humidify_by_steam(air: &MoistAir, steam: Water) -> Result<Outcome, AirError> {
    let steam_c = STEAM_TEMPERATURE.check(steam.temperature_c)?;
    add_water(air, steam, f::vapour_enthalpy_j_per_kg(steam_c))
}

fn add_water(air: &MoistAir, water: Water, water_j_per_kg: f64) -> Result<Outcome, AirError> {
    let added = ADDED_WATER.check(water.kg_per_kg)?;
    let enthalpy = air.enthalpy_j_per_kg() + added * water_j_per_kg;
    settle(enthalpy, air.humidity_ratio() + added, air.curve())
}

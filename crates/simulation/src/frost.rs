//! Ice in the core from one hour to the next: it grows, and melts by itself when the hour allows.
//!
//! Not here: what a unit does about it (`running`), how it narrows the passages (`passages`).

use lanes::Real;
use psychrometrics::formulas::moist_heat_capacity;

use crate::frost_plan::FrostOf;
use crate::running::take_ice;
use crate::step::{HOUR_S, Setting, State};
use crate::substeps::Sums;
use crate::thermal::ThermalHour;

/// What melting by itself did in an hour.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Melt<R> {
    pub(crate) melted_kg: R,
    /// Exhaust air after it has paid for all melting, and taken its part of the core's heat.
    pub(crate) exhaust_c: R,
    pub(crate) exhaust_w: R,
}

/// Adds the hour's ice; melts what the exhaust air above 0 °C can pay for, in hours whose plate stays above 0 °C.
///
/// Melt water leaves at 0 °C, where its enthalpy is zero, so the heat of melting is what the stored ice's enthalpy
/// lies below zero.
#[inline(always)]
pub(crate) fn melt<R: Real>(
    setting: &Setting<'_, R>,
    frost: &FrostOf<R>,
    thermal: &ThermalHour<R>,
    sums: &Sums<R>,
    state: &mut State<R>,
) -> Melt<R> {
    let zero = R::zero();
    let warm_c = (thermal.air_c + sums.supply_c) * 0.5;
    let ice = (state.frost_kg, sums.ice_kg, sums.ice_j);
    state.layer = state.layer.with_ice(&frost.numbers, ice, (sums.plate_c, warm_c));
    state.frost_kg += sums.ice_kg;
    state.frost_j += sums.ice_j;
    let air_kg = setting.exhausted_kg_per_s() * HOUR_S;
    let (exhaust_c, exhaust_w) =
        exhaust(air_kg, sums.exhaust_air_j, sums.exhaust_water_kg, thermal.air_c, sums);
    let thaws = sums.plate_c.gt(zero) & state.frost_kg.gt(zero);
    let available_j = air_kg * moist_heat_capacity(exhaust_w) * exhaust_c.max(zero);
    let needed_j = -state.frost_j;
    let part = (available_j / needed_j.max(R::splat(1e-9))).min(R::one());
    let part = R::select(thaws, part, zero);
    let melted_kg = state.frost_kg * part;
    let paid_j = needed_j * part;
    take_ice(state, melted_kg, paid_j);
    let after_j = sums.exhaust_air_j - paid_j;
    let (after_c, _) = exhaust(air_kg, after_j, sums.exhaust_water_kg, thermal.air_c, sums);
    Melt { melted_kg, exhaust_c: R::select(thaws, after_c, exhaust_c), exhaust_w }
}

/// Temperature and humidity ratio of an hour's exhaust air; the extract air where nothing flows.
#[inline(always)]
fn exhaust<R: Real>(air_kg: R, enthalpy_j: R, water_kg: R, room_c: R, sums: &Sums<R>) -> (R, R) {
    let flows = air_kg.gt(R::zero());
    let w = water_kg / R::select(flows, air_kg, R::one());
    let h = enthalpy_j / R::select(flows, air_kg, R::one());
    let t = psychrometrics::formulas::temperature_from_enthalpy_c(h, w);
    (R::select(flows, t, room_c), R::select(flows, w, sums.extract_w))
}

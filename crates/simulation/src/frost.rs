//! Ice in the core from one hour to the next: it grows, and melts by itself when the hour allows.
//!
//! Not here: what a unit does about it (`running`), how it narrows the passages (`passages`).

use exchanger::{Fluxes, Inlets};
use lanes::{Mask, Real};
use psychrometrics::formulas::{ice_enthalpy_j_per_kg, liquid_enthalpy_j_per_kg, moist_heat_capacity};

use crate::frost_plan::FrostNumbers;
use crate::running::take_ice;
use crate::state::State;
use crate::step::{HOUR_S, Setting};
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
    frost: &FrostNumbers<R>,
    thermal: &ThermalHour<R>,
    sums: &Sums<R>,
    state: &mut State<R>,
) -> Melt<R> {
    let zero = R::zero();
    let warm_c = (thermal.air_c + sums.supply_c) * 0.5;
    let ice = (state.frost_kg, sums.ice_kg, sums.ice_j);
    state.layer = state.layer.with_ice(frost, ice, (sums.plate_c, warm_c));
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
    if !thaws.any() {
        return Melt { melted_kg, exhaust_c, exhaust_w };
    }
    let after_j = sums.exhaust_air_j - paid_j;
    let (after_c, _) = exhaust(air_kg, after_j, sums.exhaust_water_kg, thermal.air_c, sums);
    Melt { melted_kg, exhaust_c: R::select(thaws, after_c, exhaust_c), exhaust_w }
}

/// Below 0 °C at the plate's cold end by this much, all water that flows there freezes \[K\]: assumed; just below 0 °C less.
const FREEZES_BELOW_K: f64 = 0.5;

/// The core's answer with the share of its extract side's liquid that flows on to the cold end and freezes there.
///
/// What freezing gives off goes to the exhaust air, so that nothing of it counts as recovered: up to 333 kJ/kg, a few watts.
#[inline(always)]
pub(crate) fn frozen_at_cold_end<R: Real>(share: R, inlets: &Inlets<R>, fluxes: &Fluxes<R>) -> Fluxes<R> {
    let zero = R::zero();
    let freezes = (-fluxes.plate_cold_c * (1.0 / FREEZES_BELOW_K)).between(0.0, 1.0);
    let moved = fluxes.liquid_kg_per_s * share * freezes;
    let moves = moved.gt(zero);
    if !moves.any() {
        return *fluxes;
    }
    let ice = fluxes.ice_kg_per_s + moved;
    let safe_ice = R::select(moves, ice, R::one());
    let ice_c = (fluxes.ice_kg_per_s * fluxes.ice_c + moved * fluxes.plate_cold_c) / safe_ice;
    let given_w =
        moved * (liquid_enthalpy_j_per_kg(fluxes.liquid_c) - ice_enthalpy_j_per_kg(fluxes.plate_cold_c));
    let capacity = inlets.extract_kg_per_s * moist_heat_capacity(inlets.extract_humidity_ratio);
    let warmer_k = given_w / R::select(moves, capacity, R::one());
    Fluxes {
        liquid_kg_per_s: R::select(moves, fluxes.liquid_kg_per_s - moved, fluxes.liquid_kg_per_s),
        ice_kg_per_s: R::select(moves, ice, fluxes.ice_kg_per_s),
        ice_c: R::select(moves, ice_c, fluxes.ice_c),
        own_exhaust_c: R::select(moves, fluxes.own_exhaust_c + warmer_k, fluxes.own_exhaust_c),
        ..*fluxes
    }
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

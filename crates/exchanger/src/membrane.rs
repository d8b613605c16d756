//! Cores that pass vapour: the membrane plate, and both wheels; dry in closed form, wet by cells.
//!
//! A membrane's film share of the vapour resistance follows from its heat films (Lewis number 1, equal films). A sensible
//! wheel passes no vapour while its matrix is dry; what condenses on it in the one half turn evaporates in the
//! other. An enthalpy wheel does both. A wheel has no drain: what neither evaporates again is excess, which the
//! exhaust air carries out as droplets, posted as liquid (or ice) of the extract side.
//!
//! Distance from the cell solution: `tests/accuracy.rs`.
//! Left out: the change of the membrane's resistance with humidity and temperature.
//! Not here: the cells (`wet_cells`), crossflow (`cross`).

use lanes::{Mask, Real};
use psychrometrics::formulas::{CP_VAPOUR_J_PER_KGK, liquid_enthalpy_j_per_kg, vapour_enthalpy_j_per_kg};

use crate::dry::{counterflow_conductance_ratio, dry};
use crate::dry_cells::dry_cells;
use crate::line::{dry_fluxes, nothing_conducts};
use crate::streams::{Fluxes, HotAndCold, Inlets, into_supply};
use crate::wet_cells::{Face, Vapour, WetCells, wet_cells};

#[inline(always)]
pub(crate) fn vapour_passing<R: Real>(
    face: Face,
    (ua, vapour_conductance): (R, R),
    inlets: &Inlets<R>,
) -> Fluxes<R> {
    let (entering, extract_is_hot) = HotAndCold::sort(inlets, ua);
    if !(ua.gt(R::zero()) | vapour_conductance.gt(R::zero())).any() {
        // To the bit what the rest finds for conductances of zero.
        let crossing = (entering.hot_w - entering.cold_w) * 0.0;
        let vapour_kg_per_s = into_supply(extract_is_hot, crossing);
        return Fluxes { vapour_kg_per_s, ..nothing_conducts(inlets, extract_is_hot) };
    }
    let vapour = vapour_of(face, &entering, vapour_conductance);
    let per_difference = counterflow_conductance_ratio(vapour.dry, vapour.hot_kg_per_s, vapour.cold_kg_per_s);
    let crossing = per_difference * (entering.hot_w - entering.cold_w);
    let s = with_vapour_crossing(&entering, crossing);
    let mut fluxes = dry_fluxes(inlets, &dry(&s), extract_is_hot);
    keep_supply_temperature(&mut fluxes, (&s, &entering), extract_is_hot);
    fluxes.vapour_kg_per_s = into_supply(extract_is_hot, crossing);
    fluxes.vapour_supply_effectiveness =
        per_difference / inlets.supply_kg_per_s.max(R::splat(TOKEN_KG_PER_S));
    let cells = dry_cells(&s, &vapour);
    let wet = cells.wet & ua.gt(R::zero());
    if wet.any() {
        let solution = R::outlined(
            #[inline(always)]
            || wet_cells(&entering, &vapour, face, (&cells, wet)),
        );
        post_wet(&mut fluxes, &entering, &solution, (wet, extract_is_hot));
    }
    fluxes
}

/// Vapour that crosses leaves the one stream lighter and the other heavier, and what it cools down on its way is heat
/// given at the face: both as heat capacities of the streams, taken at the mean over the core.
#[inline(always)]
pub(crate) fn with_vapour_crossing<R: Real>(s: &HotAndCold<R>, crossing: R) -> HotAndCold<R> {
    let half = crossing * (0.5 * CP_VAPOUR_J_PER_KGK);
    // Held far inside ±1: a token flow must not turn the ratio over.
    let given = (half / s.ua.max(R::splat(TOKEN_KG_PER_S))).between(-0.2, 0.2);
    let with = |capacity: R, change: R| (capacity + change).max(capacity * 0.5);
    HotAndCold {
        hot_capacity: with(s.hot_capacity, -half) / (R::one() - given),
        cold_capacity: with(s.cold_capacity, half) / (R::one() + given),
        ..*s
    }
}

/// Heat is posted against the capacity of the air that enters the supply side, so that its leaving temperature is
/// the solved one; the exhaust air takes the difference.
#[inline(always)]
pub(crate) fn keep_supply_temperature<R: Real>(
    fluxes: &mut Fluxes<R>,
    (s, entering): (&HotAndCold<R>, &HotAndCold<R>),
    extract_is_hot: R::Mask,
) {
    let cold = entering.cold_capacity / s.cold_capacity;
    let hot = entering.hot_capacity / s.hot_capacity;
    fluxes.heat_w = fluxes.heat_w * R::select(extract_is_hot, cold, hot);
}

/// A flow or a film of zero is given this much, so that ratios stay finite; its conductance is zero then.
pub(crate) const TOKEN_KG_PER_S: f64 = 1e-9;

/// Conductances for vapour from the heat films and the conductance from stream to stream.
#[inline(always)]
pub(crate) fn vapour_of<R: Real>(face: Face, s: &HotAndCold<R>, conductance: R) -> Vapour<R> {
    let token = R::splat(TOKEN_KG_PER_S);
    let film = (s.ua * 2.0 / s.hot_cp).max(token);
    let from_face = match face {
        // What is left of the resistance once the hot film is taken out.
        Face::Membrane => conductance * film / (film - conductance).max(film * 0.01),
        Face::Wheel => film,
    };
    Vapour {
        dry: conductance,
        film,
        from_face,
        hot_kg_per_s: s.hot_kg_per_s.max(token),
        cold_kg_per_s: s.cold_kg_per_s.max(token),
    }
}

/// Overwrites the dry answer in the lanes that are wet.
#[inline(always)]
pub(crate) fn post_wet<R: Real>(
    fluxes: &mut Fluxes<R>,
    entering: &HotAndCold<R>,
    solution: &WetCells<R>,
    (wet, extract_is_hot): (R::Mask, R::Mask),
) {
    let zero = R::zero();
    let here = |yes: R, no: R| R::select(wet, yes, no);
    let signed = |flow: R| into_supply(extract_is_hot, flow);
    let dry_vapour = fluxes.vapour_kg_per_s;
    // What the cold stream takes up, or what the hot stream must lose to leave as solved beside its water.
    let water = solution.liquid_kg_per_s + solution.ice_kg_per_s;
    let latent = vapour_enthalpy_j_per_kg(solution.hot_out_c) - liquid_enthalpy_j_per_kg(solution.liquid_c);
    let into_cold = (solution.cold_out_c - entering.cold_c) * entering.cold_capacity;
    let out_of_hot = (entering.hot_c - solution.hot_out_c) * entering.hot_capacity + water * latent;
    let heat = R::select(extract_is_hot, into_cold, out_of_hot);
    fluxes.heat_w = here(signed(heat), fluxes.heat_w);
    fluxes.vapour_kg_per_s = here(signed(solution.vapour_kg_per_s), dry_vapour);
    fluxes.vapour_offset_kg_per_s = fluxes.vapour_kg_per_s - dry_vapour;
    let (liquid, ice) = (here(solution.liquid_kg_per_s, zero), here(solution.ice_kg_per_s, zero));
    fluxes.ice_kg_per_s = R::select(extract_is_hot, ice, zero);
    fluxes.liquid_kg_per_s = R::select(extract_is_hot, liquid, zero);
    // Indoor air that could freeze outdoor air's water is not met in a house; were it, the water is liquid here.
    fluxes.supply_liquid_kg_per_s = R::select(extract_is_hot, zero, liquid + ice);
    fluxes.liquid_c = here(solution.liquid_c, zero);
    fluxes.ice_c = here(solution.ice_c, zero);
    fluxes.plate_cold_c = here(solution.face_cold_c, fluxes.plate_cold_c);
    let own = R::select(extract_is_hot, solution.hot_out_c, solution.cold_out_c);
    fluxes.own_exhaust_c = here(own, fluxes.own_exhaust_c);
}

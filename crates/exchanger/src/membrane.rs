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

use crate::dry::{counterflow_conductance_ratio, dry};
use crate::line::dry_fluxes;
use crate::streams::{Fluxes, HotAndCold, Inlets, into_supply};
use crate::wet_cells::{Face, Vapour, WetCells, dry_cells, wet_cells};

#[inline(always)]
pub(crate) fn vapour_passing<R: Real>(
    face: Face,
    (ua, vapour_conductance): (R, R),
    inlets: &Inlets<R>,
) -> Fluxes<R> {
    let (s, extract_is_hot) = HotAndCold::sort(inlets, ua);
    let dry = dry(&s);
    let vapour = vapour_of(face, &s, vapour_conductance);
    let per_difference = counterflow_conductance_ratio(vapour.dry, vapour.hot_kg_per_s, vapour.cold_kg_per_s);
    let mut fluxes = dry_fluxes(inlets, &s, &dry, extract_is_hot);
    fluxes.vapour_kg_per_s = into_supply(extract_is_hot, per_difference * (s.hot_w - s.cold_w));
    fluxes.vapour_supply_effectiveness =
        per_difference / inlets.supply_kg_per_s.max(R::splat(TOKEN_KG_PER_S));
    let cells = dry_cells(&s, &vapour);
    let wet = cells.wet & ua.gt(R::zero());
    if wet.any() {
        let solution = R::outlined(
            #[inline(always)]
            || wet_cells(&s, &vapour, face, &cells),
        );
        post_wet(&mut fluxes, &s, &solution, (wet, extract_is_hot));
    }
    fluxes
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
    s: &HotAndCold<R>,
    solution: &WetCells<R>,
    (wet, extract_is_hot): (R::Mask, R::Mask),
) {
    let zero = R::zero();
    let here = |yes: R, no: R| R::select(wet, yes, no);
    let signed = |flow: R| into_supply(extract_is_hot, flow);
    let dry_vapour = fluxes.vapour_kg_per_s;
    fluxes.heat_w = here(signed(solution.heat_w), fluxes.heat_w);
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
    let cold_out_c = s.cold_c + solution.heat_w / s.cold_capacity;
    let own = R::select(extract_is_hot, solution.hot_out_c, cold_out_c);
    fluxes.own_exhaust_c = here(own, fluxes.own_exhaust_c);
}

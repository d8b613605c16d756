//! The line solution: which closed form a core needs at this hour, and its answer as fluxes.
//!
//! Not here: the forms themselves (`dry`, `wet_plate`, `membrane`, `wet_cells`, `cross`).

use lanes::{Mask, Real};
use psychrometrics::formulas::{fast_dew_point_c, vapour_pressure_pa};

use crate::cross::cross;
use crate::dry::{Dry, dry};
use crate::membrane::vapour_passing;
use crate::streams::{Core, CoreKind, Fluxes, HotAndCold, Inlets, into_supply};
use crate::wet_cells::Face;
use crate::wet_plate::{Wet, wet_plate};

/// What passes in a core at this hour.
///
/// The same work for every hour of a kind, but for one branch that all lanes take together: the wet solution is
/// skipped when no lane is wet. Without flow on either side nothing passes.
///
/// Valid for −45…50 °C, 50…110 kPa, humidity ratios up to 0.08; past that numbers stay finite but are no longer near. Distance from the cell solution: see
/// the tests of this crate.
#[inline(always)]
pub fn solve<R: Real>(kind: CoreKind, core: &Core<R>, inlets: &Inlets<R>) -> Fluxes<R> {
    let flows = inlets.supply_kg_per_s.gt(R::zero()) & inlets.extract_kg_per_s.gt(R::zero());
    let if_flows = |conductance: R| R::select(flows, conductance, R::zero());
    let core = Core {
        ua_w_per_k: if_flows(core.ua_w_per_k),
        vapour_kg_per_s: if_flows(core.vapour_kg_per_s),
        crossed_ua_w_per_k: if_flows(core.crossed_ua_w_per_k),
        crossed_vapour_kg_per_s: if_flows(core.crossed_vapour_kg_per_s),
    };
    let (ua, vapour) = (core.ua_w_per_k, core.vapour_kg_per_s);
    match kind {
        CoreKind::SensiblePlate => R::outlined(
            #[inline(always)]
            || plate(ua, inlets),
        ),
        CoreKind::EnthalpyPlate => R::outlined(
            #[inline(always)]
            || vapour_passing(Face::Membrane, (ua, vapour), inlets),
        ),
        CoreKind::SensibleWheel | CoreKind::EnthalpyWheel => R::outlined(
            #[inline(always)]
            || vapour_passing(Face::Wheel, (ua, vapour), inlets),
        ),
        CoreKind::SensibleCrossPlate | CoreKind::EnthalpyCrossPlate => R::outlined(
            #[inline(always)]
            || cross(&core, inlets),
        ),
    }
}

#[inline(always)]
fn plate<R: Real>(ua: R, inlets: &Inlets<R>) -> Fluxes<R> {
    let (streams, extract_is_hot) = HotAndCold::sort(inlets, ua);
    if !ua.gt(R::zero()).any() {
        return nothing_conducts(inlets, extract_is_hot);
    }
    let dry = dry(&streams);
    let dew_c = dew_point_c(streams.hot_w, streams.pressure_pa);
    let wet = dry.plate_cold_c.lt(dew_c) & ua.gt(R::zero());
    let mut fluxes = dry_fluxes(inlets, &dry, extract_is_hot);
    if wet.any() {
        let solution = R::outlined(
            #[inline(always)]
            || wet_plate(&streams, &dry, dew_c, wet),
        );
        post_wet(
            &mut fluxes,
            &streams,
            &solution,
            &Places { wet, extract_is_hot, dew_c, cold_k_per_w: dry.cold_k_per_w },
        );
    }
    fluxes
}

/// A counterflow core that conducts nothing is as warm as both streams' mean: what the rest of each solution finds for a conductance of
/// zero, to the bit.
#[inline(always)]
pub(crate) fn nothing_conducts<R: Real>(inlets: &Inlets<R>, extract_is_hot: R::Mask) -> Fluxes<R> {
    Fluxes {
        heat_w: into_supply(extract_is_hot, R::zero()),
        plate_cold_c: (inlets.extract_c + inlets.outdoor_c) * 0.5,
        ..Fluxes::none(inlets)
    }
}

/// The fluxes of a plate without water on it.
#[inline(always)]
pub(crate) fn dry_fluxes<R: Real>(inlets: &Inlets<R>, dry: &Dry<R>, extract_is_hot: R::Mask) -> Fluxes<R> {
    let of_supply = R::select(extract_is_hot, dry.cold_k_per_w, dry.hot_k_per_w);
    let of_extract = R::select(extract_is_hot, dry.hot_k_per_w, dry.cold_k_per_w);
    let heat_w = into_supply(extract_is_hot, dry.heat_w);
    Fluxes {
        heat_w,
        plate_cold_c: dry.plate_cold_c,
        own_exhaust_c: inlets.extract_c - heat_w * of_extract,
        dry_supply_effectiveness: dry.per_kelvin * of_supply,
        ..Fluxes::none(inlets)
    }
}

struct Places<R: Real> {
    wet: R::Mask,
    extract_is_hot: R::Mask,
    dew_c: R,
    cold_k_per_w: R,
}

/// Overwrites the dry answer in the lanes that are wet.
#[inline(always)]
fn post_wet<R: Real>(fluxes: &mut Fluxes<R>, streams: &HotAndCold<R>, solution: &Wet<R>, places: &Places<R>) {
    let &Places { wet, extract_is_hot, dew_c, cold_k_per_w } = places;
    let zero = R::zero();
    let here = |yes: R, no: R| R::select(wet, yes, no);
    let deposit = here(streams.hot_kg_per_s * (streams.hot_w - solution.hot_out_w), zero);
    let ice = deposit * here(solution.ice_share, zero);
    let signed_heat = into_supply(extract_is_hot, solution.heat_w);
    fluxes.heat_w = here(signed_heat, fluxes.heat_w);
    fluxes.plate_cold_c = here(solution.plate_cold_c, fluxes.plate_cold_c);
    fluxes.ice_kg_per_s = R::select(extract_is_hot, ice, zero);
    fluxes.liquid_kg_per_s = R::select(extract_is_hot, deposit - ice, zero);
    // Indoor air that could freeze outdoor air's water is not met in a house; were it, the water is liquid here.
    fluxes.supply_liquid_kg_per_s = R::select(extract_is_hot, zero, deposit);
    let cold_c = solution.plate_cold_c;
    fluxes.liquid_c = here((dew_c.max(zero) + cold_c.max(zero)) * 0.5, zero);
    fluxes.ice_c = here((dew_c.min(zero) + cold_c.min(zero)) * 0.5, zero);
    let own = R::select(extract_is_hot, solution.hot_out_c, streams.cold_c + solution.heat_w * cold_k_per_w);
    fluxes.own_exhaust_c = here(own, fluxes.own_exhaust_c);
}

/// Frost point below 0.01 °C, dew point above it [°C]; air drier than 0.15 Pa is given −75 °C.
#[inline(always)]
pub(crate) fn dew_point_c<R: Real>(humidity_ratio: R, pressure_pa: R) -> R {
    fast_dew_point_c(vapour_pressure_pa(humidity_ratio, pressure_pa).max(R::splat(0.15)))
}

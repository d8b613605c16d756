//! The plate that passes vapour: heat and vapour each in closed form while its hot face is dry.
//!
//! The face is checked against saturation at its cold end, a quarter and half of the way back from it. Where it
//! passes saturation the water is *estimated* ([`Fluxes::estimated`] marks those answers): the air leaves
//! saturated at its own temperature, with half of the heat of deposit in it. Deposit happens at the cold end, so of its
//! heat only `1 − ε` reaches the other stream's outlet, and it takes `(1 − ε_vapour)/2` of its amount from the vapour
//! that would have crossed. Against a separate cell-by-cell program (`tests/wet_membrane.rs`, NTU 1.5…6, outdoor air
//! −30…5 °C) its supply air is off by at most 1.4 K and 0.5 g/kg, its water by at most 0.45 g/kg of a largest 2.9 (rms
//! 0.35 K, 0.13 g/kg, 0.16 g/kg).
//!
//! Left out: the change of the membrane's resistance with humidity and temperature; the true wet membrane.

use lanes::{Mask, Real};
use psychrometrics::formulas::{
    FUSION_0C_J_PER_KG, fast_saturation_humidity_ratio, fast_saturation_humidity_ratio_with_slope,
};

use crate::dry::{Dry, counterflow_conductance_ratio, dry, mean_drive};
use crate::line::{dew_point_c, dry_fluxes};
use crate::streams::{Fluxes, HotAndCold, Inlets, into_supply};

/// Places checked, as the share of the way from the hot inlet.
const CHECKED: [f64; 3] = [0.5, 0.75, 1.0];

#[inline(always)]
pub(crate) fn membrane<R: Real>(ua: R, vapour_conductance: R, inlets: &Inlets<R>) -> Fluxes<R> {
    let (s, extract_is_hot) = HotAndCold::sort(inlets, ua);
    let dry = dry(&s);
    let token = R::splat(TOKEN_KG_PER_S);
    let (hot_air, cold_air) = (s.hot_kg_per_s.max(token), s.cold_kg_per_s.max(token));
    let per_difference = counterflow_conductance_ratio(vapour_conductance, hot_air, cold_air);
    let vapour = per_difference * (s.hot_w - s.cold_w);
    let mut fluxes = dry_fluxes(inlets, &s, &dry, extract_is_hot);
    fluxes.vapour_kg_per_s = into_supply(extract_is_hot, vapour);
    fluxes.vapour_supply_effectiveness = per_difference / inlets.supply_kg_per_s.max(token);
    let face = Face { vapour_conductance, hot_air, cold_air, per_difference, vapour };
    let wet = passes_saturation(&s, &dry, &face) & ua.gt(R::zero());
    if wet.any() {
        let estimate = R::outlined(
            #[inline(always)]
            || estimate(&s, &dry, &face),
        );
        post_estimate(&mut fluxes, &s, &dry, &estimate, (wet, extract_is_hot));
    }
    fluxes
}

/// A flow of zero is given this much, so that ratios stay finite; its conductance is zero then.
const TOKEN_KG_PER_S: f64 = 1e-9;

/// Adds the estimate in the lanes that are wet.
#[inline(always)]
fn post_estimate<R: Real>(
    fluxes: &mut Fluxes<R>,
    s: &HotAndCold<R>,
    dry: &Dry<R>,
    estimate: &Estimate<R>,
    (wet, extract_is_hot): (R::Mask, R::Mask),
) {
    let zero = R::zero();
    let here = |yes: R, no: R| R::select(wet, yes, no);
    let deposit = here(estimate.deposit_kg_per_s, zero);
    let ice = deposit * here(estimate.ice_share, zero);
    let crossing = here(estimate.crossing_share, R::one());
    fluxes.heat_w += here(into_supply(extract_is_hot, estimate.extra_heat_w), zero);
    fluxes.vapour_kg_per_s = fluxes.vapour_kg_per_s * crossing;
    fluxes.vapour_supply_effectiveness = fluxes.vapour_supply_effectiveness * crossing;
    fluxes.ice_kg_per_s = R::select(extract_is_hot, ice, zero);
    fluxes.liquid_kg_per_s = R::select(extract_is_hot, deposit - ice, zero);
    fluxes.supply_liquid_kg_per_s = R::select(extract_is_hot, zero, deposit);
    fluxes.plate_cold_c = here(estimate.plate_cold_c, fluxes.plate_cold_c);
    fluxes.liquid_c = here(estimate.plate_cold_c.max(zero), zero);
    fluxes.ice_c = here(estimate.plate_cold_c.min(zero), zero);
    let cold_out_c = s.cold_c + (dry.heat_w + estimate.extra_heat_w) / s.cold_capacity;
    let own = R::select(extract_is_hot, estimate.hot_out_c, cold_out_c);
    fluxes.own_exhaust_c = here(own, fluxes.own_exhaust_c);
    fluxes.estimated = here(R::one(), zero);
}

/// What the check of the hot face needs beside the temperatures.
struct Face<R> {
    vapour_conductance: R,
    hot_air: R,
    cold_air: R,
    /// Vapour from hot to cold for each kg/kg of difference [kg/s], and in all.
    per_difference: R,
    vapour: R,
}

/// Whether the vapour at the hot face passes saturation at any of the checked places.
///
/// The film's share of the vapour resistance follows from the heat films (Lewis number 1, equal films):
/// `NTU_vapour/(2 NTU_heat)`.
#[inline(always)]
fn passes_saturation<R: Real>(s: &HotAndCold<R>, dry: &Dry<R>, face: &Face<R>) -> R::Mask {
    let one = R::one();
    let film_kg_per_s = s.ua.max(R::splat(1e-9)) * 2.0 / s.hot_cp;
    let film_share = (face.vapour_conductance / film_kg_per_s).min(one);
    let z_heat = s.ua * (one / s.hot_capacity - one / s.cold_capacity);
    let z_vapour = face.vapour_conductance * (one / face.hot_air - one / face.cold_air);
    let cold_out_c = s.cold_c + dry.heat_w / s.cold_capacity;
    let cold_out_w = s.cold_w + face.vapour / face.cold_air;
    let mut any = R::Mask::splat(false);
    for place in CHECKED {
        let heat_here = passed_until(s.ua, z_heat, s.hot_c - cold_out_c, place);
        let vapour_here = passed_until(face.vapour_conductance, z_vapour, s.hot_w - cold_out_w, place);
        let hot_c = s.hot_c - heat_here / s.hot_capacity;
        let cold_c = cold_out_c - heat_here / s.cold_capacity;
        let hot_w = s.hot_w - vapour_here / face.hot_air;
        let cold_w = cold_out_w - vapour_here / face.cold_air;
        let face_w = hot_w - film_share * (hot_w - cold_w);
        let saturation = fast_saturation_humidity_ratio((hot_c + cold_c) * 0.5, s.pressure_pa);
        any = any | face_w.gt(saturation);
    }
    any
}

/// What has passed between the warm end and this place, from the difference at the warm end.
#[inline(always)]
fn passed_until<R: Real>(conductance: R, z: R, warm_difference: R, place: f64) -> R {
    conductance * place * mean_drive(z * place) * warm_difference
}

struct Estimate<R> {
    deposit_kg_per_s: R,
    extra_heat_w: R,
    /// What is left of the vapour that would cross a dry membrane.
    crossing_share: R,
    ice_share: R,
    plate_cold_c: R,
    hot_out_c: R,
}

/// Air that leaves saturated at its own temperature, by Newton steps from the dry answer (monotone: the curve
/// is convex).
#[inline(always)]
fn estimate<R: Real>(s: &HotAndCold<R>, dry: &Dry<R>, face: &Face<R>) -> Estimate<R> {
    let (zero, one) = (R::zero(), R::one());
    let dry_out_w = s.hot_w - face.vapour / face.hot_air;
    let dew_c = dew_point_c(dry_out_w, s.pressure_pa);
    let coldest = dry.plate_cold_c;
    let ice_share = (-coldest / (dew_c - coldest).max(R::splat(1e-6))).between(0.0, 1.0);
    let latent = R::splat(2_501_000.0) - coldest * 2326.0 + ice_share * FUSION_0C_J_PER_KG;
    let kelvin_per_kg = latent / s.hot_cp;
    let mut deposit = zero;
    for _ in 0..3 {
        let warmed_c = dry.hot_out_c + kelvin_per_kg * deposit * 0.5;
        let (saturation, slope) = fast_saturation_humidity_ratio_with_slope(warmed_c, s.pressure_pa);
        let miss = dry_out_w - deposit - saturation;
        deposit = (deposit + miss / (kelvin_per_kg * slope * 0.5 + 1.0)).max(zero);
    }
    let effectiveness = dry.per_kelvin / s.hot_capacity.min(s.cold_capacity);
    let vapour_effectiveness = face.per_difference / face.hot_air.min(face.cold_air);
    let deposit_kg_per_s = deposit * s.hot_kg_per_s;
    let kept_back = deposit_kg_per_s * (one - vapour_effectiveness) * 0.5;
    let hot_out_c = dry.hot_out_c + kelvin_per_kg * deposit * effectiveness;
    Estimate {
        deposit_kg_per_s,
        extra_heat_w: deposit_kg_per_s * latent * (one - effectiveness),
        crossing_share: (one - kept_back / face.vapour.abs().max(R::splat(TOKEN_KG_PER_S))).between(0.0, 1.0),
        ice_share,
        plate_cold_c: (hot_out_c + s.cold_c) * 0.5,
        hot_out_c,
    }
}

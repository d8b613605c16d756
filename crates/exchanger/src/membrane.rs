//! The plate that passes vapour: heat and vapour each in closed form while its hot face is dry.
//!
//! The face is checked against saturation at its cold end, a quarter and half of the way back from it. Where it
//! passes saturation the water is *estimated*: the air leaves saturated at its own temperature, and half of the
//! heat that this frees goes into the other stream. [`Fluxes::estimated`] marks those answers.
//!
//! Left out: the change of the membrane's resistance with humidity and temperature; the true wet membrane.

use lanes::{Mask, Real};
use psychrometrics::formulas::{
    FUSION_0C_J_PER_KG, fast_saturation_humidity_ratio, fast_saturation_humidity_ratio_with_slope,
};

use crate::dry::{Dry, counterflow_conductance_ratio, dry, mean_drive};
use crate::line::{dew_point_c, dry_fluxes};
use crate::streams::{Fluxes, HotAndCold, Inlets};

/// Places checked, as the share of the way from the hot inlet.
const CHECKED: [f64; 3] = [0.5, 0.75, 1.0];

#[inline(always)]
pub(crate) fn membrane<R: Real>(ua: R, vapour_conductance: R, inlets: &Inlets<R>) -> Fluxes<R> {
    let (s, extract_is_hot) = HotAndCold::sort(inlets, ua);
    let dry = dry(&s);
    let token = R::splat(1e-9);
    let (hot_air, cold_air) = (s.hot_kg_per_s.max(token), s.cold_kg_per_s.max(token));
    let per_difference = counterflow_conductance_ratio(vapour_conductance, hot_air, cold_air);
    let vapour = per_difference * (s.hot_w - s.cold_w);
    let mut fluxes = dry_fluxes(inlets, &s, &dry, extract_is_hot);
    fluxes.vapour_kg_per_s = R::select(extract_is_hot, vapour, -vapour);
    fluxes.vapour_supply_effectiveness = per_difference / inlets.supply_kg_per_s.max(token);

    let face = Face { vapour_conductance, hot_air, cold_air, vapour };
    let wet = passes_saturation(&s, &dry, &face) & ua.gt(R::zero());
    if wet.any() {
        let estimate = estimate(&s, &dry, s.hot_w - vapour / hot_air);
        let here = |yes: R, no: R| R::select(wet, yes, no);
        let zero = R::zero();
        let deposit = here(estimate.deposit_kg_per_s, zero);
        let ice = deposit * estimate.ice_share;
        let heat = s_signed(extract_is_hot, estimate.extra_heat_w);
        fluxes.heat_w += here(heat, zero);
        fluxes.ice_kg_per_s = R::select(extract_is_hot, ice, zero);
        fluxes.liquid_kg_per_s = R::select(extract_is_hot, deposit - ice, zero);
        fluxes.supply_liquid_kg_per_s = R::select(extract_is_hot, zero, deposit);
        fluxes.plate_cold_c = here(estimate.plate_cold_c, fluxes.plate_cold_c);
        fluxes.liquid_c = here(estimate.plate_cold_c.max(zero), zero);
        fluxes.ice_c = here(estimate.plate_cold_c.min(zero), zero);
        let own = R::select(
            extract_is_hot,
            estimate.hot_out_c,
            s.cold_c + (dry.heat_w + estimate.extra_heat_w) / s.cold_capacity,
        );
        fluxes.own_exhaust_c = here(own, fluxes.own_exhaust_c);
        fluxes.estimated = here(R::one(), zero);
    }
    fluxes
}

#[inline(always)]
fn s_signed<R: Real>(extract_is_hot: R::Mask, heat: R) -> R {
    R::select(extract_is_hot, heat, -heat)
}

/// What the check of the hot face needs beside the temperatures.
struct Face<R> {
    vapour_conductance: R,
    hot_air: R,
    cold_air: R,
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
    ice_share: R,
    plate_cold_c: R,
    hot_out_c: R,
}

/// Air that leaves saturated at its own temperature, by Newton steps from the dry answer (monotone: the curve
/// is convex).
#[inline(always)]
fn estimate<R: Real>(s: &HotAndCold<R>, dry: &Dry<R>, dry_out_w: R) -> Estimate<R> {
    let zero = R::zero();
    let dew_c = dew_point_c(dry_out_w, s.pressure_pa);
    let coldest = dry.plate_cold_c;
    let ice_share = (-coldest / (dew_c - coldest).max(R::splat(1e-6))).between(0.0, 1.0);
    let latent = R::splat(2_501_000.0) - coldest * 2326.0 + ice_share * FUSION_0C_J_PER_KG;
    let kelvin_per_kg = latent / s.hot_cp * 0.5;
    let mut deposit = zero;
    for _ in 0..3 {
        let (saturation, slope) =
            fast_saturation_humidity_ratio_with_slope(dry.hot_out_c + kelvin_per_kg * deposit, s.pressure_pa);
        let miss = dry_out_w - deposit - saturation;
        deposit = (deposit + miss / (kelvin_per_kg * slope + 1.0)).max(zero);
    }
    let hot_out_c = dry.hot_out_c + kelvin_per_kg * deposit;
    let deposit_kg_per_s = deposit * s.hot_kg_per_s;
    Estimate {
        deposit_kg_per_s,
        extra_heat_w: deposit_kg_per_s * latent * 0.5,
        ice_share,
        plate_cold_c: (hot_out_c + s.cold_c) * 0.5,
        hot_out_c,
    }
}

//! Counterflow exchange without water on the plate, in closed form, for any two flows.
//!
//! Not here: the wet plate (`wet_plate`).

use lanes::Real;

use crate::streams::HotAndCold;

/// Mean of `e^(−z x)` over 0 ≤ x ≤ 1: `(1 − e⁻ᶻ)/z`, 1 at z = 0.
///
/// With it counterflow needs no special case at equal flows. Relative error below 1e-11.
#[inline(always)]
pub fn mean_drive<R: Real>(z: R) -> R {
    let small = z.abs().lt(R::splat(1e-5));
    let safe = R::select(small, R::one(), z);
    // Past ±50 the exponential has long left the answer; holding it keeps products finite.
    let closed = (R::one() - (-safe.between(-50.0, 50.0)).exp()) / safe;
    R::select(small, R::one() - z * 0.5 + z * z * (1.0 / 6.0), closed)
}

/// Transfer for each unit of inlet difference, from a conductance and two capacity flows of the same unit.
///
/// `K φ(z) / (1 + K φ(z)/C)`, `z = K (1/C_hot − 1/C)`: the same law for heat (W/K) and for vapour (kg/s).
///
/// # Source
/// Counterflow effectiveness–NTU, as in any heat-transfer handbook; written so that equal flows are no special case.
#[inline(always)]
pub fn counterflow_conductance_ratio<R: Real>(conductance: R, hot_capacity: R, cold_capacity: R) -> R {
    let z = conductance * (R::one() / hot_capacity - R::one() / cold_capacity);
    let driven = conductance * mean_drive(z);
    driven / (R::one() + driven / cold_capacity)
}

/// The dry plate's answer.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Dry<R> {
    /// Reciprocals of the two heat capacity flows [K/W], since divisions are dear.
    pub(crate) hot_k_per_w: R,
    pub(crate) cold_k_per_w: R,
    /// Heat from hot to cold for each kelvin between the inlets [W/K].
    pub(crate) per_kelvin: R,
    pub(crate) heat_w: R,
    /// Plate temperature where the hot stream enters.
    pub(crate) plate_warm_c: R,
    /// Plate temperature where the hot stream leaves.
    pub(crate) plate_cold_c: R,
}

#[inline(always)]
pub(crate) fn dry<R: Real>(s: &HotAndCold<R>) -> Dry<R> {
    let both = R::one() / (s.hot_capacity * s.cold_capacity);
    let (hot_k_per_w, cold_k_per_w) = (s.cold_capacity * both, s.hot_capacity * both);
    let driven = s.ua * mean_drive(s.ua * (hot_k_per_w - cold_k_per_w));
    let per_kelvin = driven / (R::one() + driven * cold_k_per_w);
    let heat_w = per_kelvin * (s.hot_c - s.cold_c);
    let hot_out_c = s.hot_c - heat_w * hot_k_per_w;
    let cold_out_c = s.cold_c + heat_w * cold_k_per_w;
    Dry {
        hot_k_per_w,
        cold_k_per_w,
        per_kelvin,
        heat_w,
        plate_warm_c: (s.hot_c + cold_out_c) * 0.5,
        plate_cold_c: (hot_out_c + s.cold_c) * 0.5,
    }
}

//! Passages that frost narrows, filters that load, and what the fans make of both.
//!
//! Left out: frost's own insulation (far weaker than its blockage in gaps of a few millimetres); frost that grows denser
//! with time. Not here: how ice forms (`exchanger`) and melts (`frost`).

use lanes::{Mask, Real};
use psychrometrics::formulas::{CP_ICE_J_PER_KGK, FUSION_0C_J_PER_KG};

use crate::frost_plan::{FanKind, FrostNumbers};

/// Density that a layer of frost is taken to have at least and at most [kg/m³].
const DENSITY_KG_PER_M3: (f64, f64) = (100.0, 500.0);
/// Open share of the gap at which the passages count as closed.
const CLOSED: f64 = 0.1;
/// Least share of the plate that frost is spread over: assumed; conduction along the plate and swings within the hour spread
/// what one mean state would lay on a narrower stripe.
const LEAST_SPREAD: f64 = 0.1;
/// Largest power of a fan that holds its flow, for each unit of its rated power.
const MOST_POWER: f64 = 2.0;

/// The layer of frost in the core.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Layer<R> {
    /// Thickness on each face of the extract passages \[m\], where there is frost.
    pub(crate) thickness_m: R,
    /// Share of the plate that it lies on.
    pub(crate) spread: R,
}

impl<R: Real> Layer<R> {
    #[inline(always)]
    pub(crate) fn none() -> Self {
        Self { thickness_m: R::zero(), spread: R::zero() }
    }

    /// What is left of the layer when this share of its ice is.
    #[inline(always)]
    pub(crate) fn thinned(&self, left: R) -> Self {
        let gone = left.le(R::zero());
        Self { thickness_m: self.thickness_m * left, spread: R::select(gone, R::zero(), self.spread) }
    }

    /// The layer with an hour's ice \[kg\] of this enthalpy \[J\] on the part of the plate below 0 °C; its ends are at these
    /// temperatures, with a straight line between.
    #[inline(always)]
    pub(crate) fn with_ice(
        &self,
        numbers: &FrostNumbers<R>,
        (held_kg, ice_kg, ice_j): (R, R, R),
        (cold_c, warm_c): (R, R),
    ) -> Self {
        let forms = ice_kg.gt(R::zero());
        if !forms.any() {
            return *self;
        }
        let safe_kg = R::select(forms, ice_kg, R::one());
        let surface_c = (ice_j / safe_kg + FUSION_0C_J_PER_KG) * (1.0 / CP_ICE_J_PER_KGK);
        let spread = (-cold_c / (warm_c - cold_c).max(R::splat(0.1))).between(LEAST_SPREAD, 1.0);
        let thickness = ice_kg / (density_kg_per_m3(surface_c) * numbers.plate_area_m2 * spread);
        let all_kg = R::select(forms, held_kg + ice_kg, R::one());
        let mean = (self.spread * held_kg + spread * ice_kg) / all_kg;
        Self {
            thickness_m: R::select(forms, self.thickness_m + thickness, self.thickness_m),
            spread: R::select(forms, mean, self.spread),
        }
    }
}

/// Density of frost from the temperature of its surface [kg/m³]: `650 e^(0.277 t)`, held to 100…500.
///
/// # Source
/// Hayashi et al. 1977, recalled; fitted on cold plates, unreliable below about −9 °C.
#[inline(always)]
pub(crate) fn density_kg_per_m3<R: Real>(surface_c: R) -> R {
    ((surface_c * 0.277).exp() * 650.0).between(DENSITY_KG_PER_M3.0, DENSITY_KG_PER_M3.1)
}

/// How much more pressure the core's extract side takes at a flow, and where it is closed.
#[inline(always)]
pub(crate) fn narrowing<R: Real>(numbers: &FrostNumbers<R>, layer: &Layer<R>, frost_kg: R) -> (R, R::Mask) {
    let open = R::one() - layer.thickness_m * 2.0 / numbers.gap_m;
    let closed = open.le(R::splat(CLOSED)) | frost_kg.ge(numbers.capacity_kg);
    let open = open.max(R::splat(CLOSED));
    // Laminar: pressure drop at a flow goes with the gap to the power −3.
    let narrow = R::one() / (open * open * open);
    (R::one() + layer.spread * (narrow - R::one()), closed)
}

/// Flow and power of a fan, each for one unit of its own with a clean core and clean filters.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FanHour<R> {
    pub(crate) flow: R,
    pub(crate) power: R,
}

/// A fan whose core takes `narrow` times its pressure, and whose filters add this share of a clean stream's resistance.
///
/// Held flow: pressure `1 − c + ℓ + c φ`, which is the power; above twice that, the flow at which the power is twice,
/// `(1 − c + ℓ) y³ + c φ y² = 2`. Fixed speed: `s − (s − 1) y² = (1 − c + ℓ) y² + c φ y`.
#[inline(always)]
pub(crate) fn fan<R: Real>(kind: FanKind, numbers: &FrostNumbers<R>, narrow: R, load: R) -> FanHour<R> {
    let one = R::one();
    // Clean is exactly as rated, not as rounding has it.
    let altered = narrow.gt(one) | load.gt(R::zero());
    if !altered.any() {
        return FanHour { flow: one, power: one };
    }
    let core = numbers.core_share * narrow;
    let ducts = one - numbers.core_share + load;
    let found = match kind {
        FanKind::ConstantFlow => {
            let power = ducts + core;
            let over = power.gt(R::splat(MOST_POWER));
            let flow = R::select(over, flow_at_most_power(ducts, core), one);
            FanHour { flow, power: R::select(over, R::splat(MOST_POWER), power) }
        }
        FanKind::FixedSpeed => {
            let shut_off = numbers.shut_off_ratio;
            let of_square = ducts + shut_off - one;
            let root = (core * core + of_square * shut_off * 4.0).sqrt();
            FanHour { flow: shut_off * 2.0 / (core + root), power: one }
        }
    };
    FanHour { flow: R::select(altered, found.flow, one), power: R::select(altered, found.power, one) }
}

/// `a y³ + b y² = 2` for `a + b > 2`: Newton's rule from above, where the function is convex, so no step overshoots.
#[inline(always)]
fn flow_at_most_power<R: Real>(ducts: R, core: R) -> R {
    let most = R::splat(MOST_POWER);
    let by_core = (most / core.max(R::splat(1e-9))).sqrt();
    let mut flow = by_core.min(R::one());
    for _ in 0..6 {
        let value = (ducts * flow + core) * flow * flow - most;
        let slope = (ducts * flow * 3.0 + core * 2.0) * flow;
        flow -= value / slope;
    }
    flow
}

/// What a core's conductance is at other flows, for each unit of its own: two equal films in series, each with its side's
/// flow to the power `n`.
#[inline(always)]
pub(crate) fn film_scale<R: Real>(exponent: R, supply: R, extract: R) -> R {
    let one = R::one();
    let altered = supply.lt(one) | supply.gt(one) | extract.lt(one) | extract.gt(one);
    if !altered.any() {
        return one;
    }
    R::select(altered, R::splat(2.0) / (film(exponent, supply) + film(exponent, extract)), one)
}

/// Resistance of one film at a flow, for each unit of its own.
#[inline(always)]
fn film<R: Real>(exponent: R, flow: R) -> R {
    (-(flow.max(R::splat(1e-3)).ln() * exponent)).exp()
}

#[cfg(test)]
#[path = "passages_tests.rs"]
mod passages_tests;

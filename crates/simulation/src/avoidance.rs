//! Air that is kept from frosting the core: preheated, led round it, or through a wheel that turns slower; and free cooling.
//!
//! The least that keeps ice from forming is found with the core solution itself at this hour's outdoor air and the last
//! hour's indoor air, by halving a bracket twelve times: a preheater's temperature to 0.01 K, a share to 0.0003. It is
//! always the end of the bracket without ice. A wheel turns so that its coldest matrix is at 0 °C, once ice would form on it.
//! While ice lies in the core, its coldest spot is held half a kelvin above 0 °C, so that it melts. Hours without ice at the start of the search cost one solution. Humidity that changes
//! within the hour may still lay down some ice, which is counted. Not here: defrost (`running`).

use exchanger::Fluxes;
use lanes::{Mask, Real};

use crate::frost_plan::{FrostOf, Strategy};
use crate::running::Running;
use crate::step::{Setting, State};

const HALVINGS: usize = 12;
/// What the coldest spot is held at while there is ice to melt [°C].
const THAWS_AT_C: f64 = 0.5;
/// Ice that is worth it \[kg\].
const WORTH_KG: f64 = 0.001;
/// Colder than any inlet: no preheating [°C].
const NEVER_C: f64 = -1e3;

/// What is done to the air before the core.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Avoidance<R> {
    /// The air before the core is warmed to this at least [°C].
    pub(crate) preheat_to_c: R,
    /// Share of the supply air that is led round the core.
    pub(crate) round_share: R,
    /// Share of the exchange that is given up: led round, or by a slower wheel, or with free cooling.
    pub(crate) given_up: R,
}

impl<R: Real> Avoidance<R> {
    pub(crate) fn none() -> Self {
        Self { preheat_to_c: R::splat(NEVER_C), round_share: R::zero(), given_up: R::zero() }
    }
}

/// The core is passed by when its heat is not wanted: indoor air above the middle of the set-points, outdoor air colder
/// than it and above the least supply temperature.
#[inline(always)]
pub(crate) fn free_cooling<R: Real>(
    frost: &FrostOf<R>,
    rated: &Setting<'_, R>,
    state: &State<R>,
    running: &mut Running<R>,
) {
    let h = &rated.house.numbers;
    let middle = (h.heating_set_point_c + h.cooling_set_point_c) * 0.5;
    let (indoor, outdoor) = (state.last_air_c, rated.outdoor_c);
    let free = indoor.gt(middle) & outdoor.lt(indoor) & outdoor.gt(frost.numbers.free_cooling_above_c);
    if free.any() {
        give_up(running, R::select(free, R::one(), R::zero()));
    }
}

/// Lowers the conductances by this share.
#[inline(always)]
fn give_up<R: Real>(running: &mut Running<R>, share: R) {
    let kept = R::one() - share;
    let unit = &mut running.unit;
    unit.ua_w_per_k = unit.ua_w_per_k * kept;
    unit.vapour_kg_per_s = unit.vapour_kg_per_s * kept;
    unit.crossed_ua_w_per_k = unit.crossed_ua_w_per_k * kept;
    unit.crossed_vapour_kg_per_s = unit.crossed_vapour_kg_per_s * kept;
    running.avoidance.given_up = running.avoidance.given_up.max(share);
}

/// Finds what the strategy does to the air before the core.
#[inline(always)]
pub(crate) fn avoid<R: Real>(
    frost: &FrostOf<R>,
    rated: &Setting<'_, R>,
    state: &State<R>,
    running: &mut Running<R>,
) {
    let strategy = frost.kind.strategy;
    if strategy == Strategy::PreheatToFixed {
        running.avoidance.preheat_to_c = frost.numbers.preheat_to_c;
        return;
    }
    if !matches!(strategy, Strategy::PreheatToFirstFrost | Strategy::Bypass | Strategy::SlowWheel) {
        return;
    }
    let hour = running.unit;
    let forms = |try_it: &Try<R>| {
        let fluxes = solve_with(&Setting { unit: &hour, ..*rated }, state, try_it);
        is_too_cold(strategy, &fluxes, state)
    };
    let at_rest = solve_with(&Setting { unit: &hour, ..*rated }, state, &Try::nothing());
    let icy = at_rest.ice_kg_per_s.gt(R::zero()) | is_too_cold(Strategy::None, &at_rest, state);
    if !icy.any() {
        return;
    }
    let found = R::outlined(
        #[inline(always)]
        || match strategy {
            Strategy::PreheatToFirstFrost => {
                let intake_c = Setting { unit: &hour, ..*rated }.intake(&state.exhaust).air.temperature_c;
                let low = intake_c.min(R::zero());
                least((low, R::zero()), |to_c| forms(&Try { preheat_to_c: to_c, ..Try::nothing() }))
            }
            Strategy::Bypass => {
                least((R::zero(), R::one()), |share| forms(&Try { round_share: share, ..Try::nothing() }))
            }
            _ => least((R::zero(), R::one()), |share| forms(&Try { slower: share, ..Try::nothing() })),
        },
    );
    let share = R::select(icy, found, R::zero());
    match strategy {
        Strategy::PreheatToFirstFrost => {
            running.avoidance.preheat_to_c = R::select(icy, found, R::splat(NEVER_C));
        }
        Strategy::Bypass => {
            running.avoidance.round_share = share;
            running.avoidance.given_up = running.avoidance.given_up.max(share);
        }
        _ => give_up(running, share),
    }
}

/// Something to try against ice.
struct Try<R> {
    preheat_to_c: R,
    round_share: R,
    slower: R,
}

impl<R: Real> Try<R> {
    fn nothing() -> Self {
        Self { preheat_to_c: R::splat(NEVER_C), round_share: R::zero(), slower: R::zero() }
    }
}

/// Whether ice forms, on a wheel whether its matrix is below 0 °C; with ice in the core, whether it does not melt.
#[inline(always)]
fn is_too_cold<R: Real>(strategy: Strategy, fluxes: &Fluxes<R>, state: &State<R>) -> R::Mask {
    let cold_c = fluxes.plate_cold_c;
    let freezes = match strategy {
        Strategy::SlowWheel => cold_c.lt(R::zero()),
        _ => fluxes.ice_kg_per_s.gt(R::zero()),
    };
    freezes | (state.frost_kg.gt(R::splat(WORTH_KG)) & cold_c.lt(R::splat(THAWS_AT_C)))
}

/// The core with it.
#[inline(always)]
fn solve_with<R: Real>(hour: &Setting<'_, R>, state: &State<R>, try_it: &Try<R>) -> Fluxes<R> {
    let kept = R::one() - try_it.slower;
    let unit = crate::inputs::UnitOf {
        ua_w_per_k: hour.unit.ua_w_per_k * kept,
        vapour_kg_per_s: hour.unit.vapour_kg_per_s * kept,
        crossed_ua_w_per_k: hour.unit.crossed_ua_w_per_k * kept,
        crossed_vapour_kg_per_s: hour.unit.crossed_vapour_kg_per_s * kept,
        ..*hour.unit
    };
    let avoidance =
        Avoidance { preheat_to_c: try_it.preheat_to_c, round_share: try_it.round_share, given_up: R::zero() };
    let setting = Setting { unit: &unit, avoidance: &avoidance, ..*hour };
    let intake = setting.intake(&state.exhaust).air;
    let inlets = setting.inlets(&intake, state.last_air_c, state.last_extract_w);
    setting.solve_core(&inlets)
}

/// The least of what is tried without ice, if its high end has none: the upper end of the last bracket.
#[inline(always)]
fn least<R: Real>((mut low, mut high): (R, R), forms: impl Fn(R) -> R::Mask) -> R {
    for _ in 0..HALVINGS {
        let middle = (low + high) * 0.5;
        let icy = forms(middle);
        low = R::select(icy, middle, low);
        high = R::select(icy, high, middle);
    }
    high
}

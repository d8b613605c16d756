//! Air that is kept from frosting the core: preheated, led round it, or through a wheel that turns slower; and free cooling.
//!
//! The least that keeps ice from forming is found with the core solution itself at this hour's outdoor air and the last
//! hour's indoor air, as dry as it was and as damp as this hour's showers and cooking will make it, by halving a bracket twelve times: a preheater's temperature to 0.01 K, a share to 0.0003. It is
//! always the end of the bracket without ice. A wheel turns so that its coldest matrix is at 0 °C, once ice would form on it.
//! While ice lies in the core, its coldest spot is held half a kelvin above 0 °C, so that it melts. Hours without ice at the start of the search cost one solution. Humidity that changes
//! within the hour may still lay down some ice, which is counted. Not here: defrost (`running`).

use exchanger::Fluxes;
use lanes::{Mask, Real};
use psychrometrics::formulas::moist_heat_capacity;

use crate::frost_plan::{FrostOf, Strategy};
use crate::running::Running;
use crate::state::State;
use crate::step::{HOUR_S, Setting};

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
    /// The air before the core is warmed to this at least [°C], with this power at most \[W\].
    pub(crate) preheat_to_c: R,
    pub(crate) preheat_most_w: R,
    /// Share of the supply air that is led round the core.
    pub(crate) round_share: R,
    /// Share of the exchange that is given up: led round, or by a slower wheel, or with free cooling.
    pub(crate) given_up: R,
}

impl<R: Real> Avoidance<R> {
    #[inline(always)]
    pub(crate) fn none() -> Self {
        Self {
            preheat_to_c: R::splat(NEVER_C),
            preheat_most_w: R::splat(f64::INFINITY),
            round_share: R::zero(),
            given_up: R::zero(),
        }
    }
}

/// The core is passed by when its heat is not wanted: indoor air above a limit, outdoor air colder than it by a difference, and
/// supply air (outdoor air after the supply fan's heat) not below another limit.
#[inline(always)]
pub(crate) fn free_cooling<R: Real>(
    frost: &FrostOf<R>,
    rated: &Setting<'_, R>,
    state: &State<R>,
    running: &mut Running<R>,
) {
    let numbers = &frost.numbers;
    let (indoor, outdoor) = (state.last_air_c, rated.outdoor_c);
    let warm = indoor.gt(numbers.free_indoor_above_c) & (indoor - outdoor).gt(numbers.free_colder_by_k);
    if !warm.any() {
        return;
    }
    let unit = &running.unit;
    let capacity = unit.supply_kg_per_s * moist_heat_capacity(rated.outdoor_w);
    let flows = capacity.gt(R::zero());
    let fan_w = unit.fan_heat_before_w + unit.fan_heat_after_w;
    let supply_c = outdoor + R::select(flows, fan_w / R::select(flows, capacity, R::one()), R::zero());
    let free = warm & flows & supply_c.ge(numbers.free_supply_at_least_c);
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
        running.avoidance.preheat_most_w = frost.numbers.preheat_most_w;
        return;
    }
    if !matches!(strategy, Strategy::PreheatToFirstFrost | Strategy::Bypass | Strategy::SlowWheel) {
        return;
    }
    let hour = running.unit;
    let setting = Setting { unit: &hour, ..*rated };
    let dampest_w = dampest_extract_w(&setting, state);
    let driest_w = state.last_extract_w.min(state.water.rest_w);
    let search = Search {
        strategy,
        setting: &setting,
        state,
        dampest_w,
        tries_others: (dampest_w - driest_w).gt(state.last_extract_w * DIFFERS),
    };
    let icy = search.forms(Strategy::None, &Try::nothing());
    if !icy.any() {
        return;
    }
    let found = R::outlined(
        #[inline(always)]
        || search.least(),
    );
    let share = R::select(icy, found, R::zero());
    match strategy {
        Strategy::PreheatToFirstFrost => {
            running.avoidance.preheat_to_c = R::select(icy, found, R::splat(NEVER_C));
            running.avoidance.preheat_most_w = frost.numbers.preheat_most_w;
        }
        Strategy::Bypass => {
            running.avoidance.round_share = share;
            running.avoidance.given_up = running.avoidance.given_up.max(share);
        }
        _ => give_up(running, share),
    }
}

/// The hour's dampest and driest extract air are tried apart where they differ by this share of what it was.
const DIFFERS: f64 = 0.02;

/// The dampest extract air that this hour's showers, cooking and laundry can make of the last hour's [kg/kg]: what they give to
/// the wet rooms stays there but for what the extract and the doors carry off.
#[inline(always)]
fn dampest_extract_w<R: Real>(setting: &Setting<'_, R>, state: &State<R>) -> R {
    let h = &setting.house.numbers;
    let seconds = HOUR_S / setting.shares.len() as f64;
    let carried_off = setting.unit.extract_kg_per_s * setting.unit.extract_wet_share + h.door_kg_per_s;
    let (mut above, mut most) = (R::zero(), R::zero());
    for shares in setting.shares {
        let water_kg = h.showers_kg_per_day * shares.showers
            + h.cooking_kg_per_day * shares.cooking
            + h.laundry_kg_per_day * shares.laundry;
        above = (above * h.wet_air_kg + water_kg) / (h.wet_air_kg + carried_off * seconds);
        most = most.max(above);
    }
    state.last_extract_w + most * setting.unit.extract_wet_share
}

/// Something to try against ice.
struct Try<R> {
    preheat_to_c: R,
    round_share: R,
    slower: R,
}

impl<R: Real> Try<R> {
    #[inline(always)]
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
fn solve_with<R: Real>(
    hour: &Setting<'_, R>,
    (state, extract_w): (&State<R>, R),
    try_it: &Try<R>,
) -> Fluxes<R> {
    let kept = R::one() - try_it.slower;
    let unit = crate::inputs::UnitOf {
        ua_w_per_k: hour.unit.ua_w_per_k * kept,
        vapour_kg_per_s: hour.unit.vapour_kg_per_s * kept,
        crossed_ua_w_per_k: hour.unit.crossed_ua_w_per_k * kept,
        crossed_vapour_kg_per_s: hour.unit.crossed_vapour_kg_per_s * kept,
        ..*hour.unit
    };
    let avoidance =
        Avoidance { preheat_to_c: try_it.preheat_to_c, round_share: try_it.round_share, ..Avoidance::none() };
    let setting = Setting { unit: &unit, avoidance: &avoidance, ..*hour };
    let intake = setting.intake(&state.exhaust, state.last_air_c).air;
    let inlets = setting.inlets(&intake, state.last_air_c, extract_w);
    setting.solve_core(&inlets)
}

/// What is searched, and in which air.
struct Search<'a, R: Real> {
    strategy: Strategy,
    setting: &'a Setting<'a, R>,
    state: &'a State<R>,
    dampest_w: R,
    /// Where the dampest and driest air are worth solutions of their own.
    tries_others: R::Mask,
}

impl<R: Real> Search<'_, R> {
    /// Whether it is too cold by this strategy's measure in any extract air that this hour may have: as it was, as dry as the
    /// rooms are, as damp as it can become, and between, since ice first forms in neither the driest nor the dampest air.
    #[inline(always)]
    fn forms(&self, measure: Strategy, try_it: &Try<R>) -> R::Mask {
        let as_it_was = self.state.last_extract_w;
        let driest = as_it_was.min(self.state.water.rest_w);
        let mut too_cold = self.forms_at(measure, try_it, as_it_was);
        for extract_w in [self.dampest_w, driest, (driest + self.dampest_w) * 0.5] {
            // Once it is too cold in one air the others need not be tried. A lane's answer must not hang on what its neighbours are like.
            if !(self.tries_others & !too_cold).any() {
                break;
            }
            too_cold = too_cold | (self.tries_others & self.forms_at(measure, try_it, extract_w));
        }
        too_cold
    }

    #[inline(always)]
    fn forms_at(&self, measure: Strategy, try_it: &Try<R>, extract_w: R) -> R::Mask {
        is_too_cold(measure, &solve_with(self.setting, (self.state, extract_w), try_it), self.state)
    }

    /// This much of the strategy's remedy.
    #[inline(always)]
    fn remedy(&self, amount: R) -> Try<R> {
        match self.strategy {
            Strategy::PreheatToFirstFrost => Try { preheat_to_c: amount, ..Try::nothing() },
            Strategy::Bypass => Try { round_share: amount, ..Try::nothing() },
            _ => Try { slower: amount, ..Try::nothing() },
        }
    }

    /// The least remedy without ice, if the most has none: the upper end of the last bracket.
    #[inline(always)]
    fn least(&self) -> R {
        let (mut low, mut high) = match self.strategy {
            Strategy::PreheatToFirstFrost => {
                let intake_c =
                    self.setting.intake(&self.state.exhaust, self.state.last_air_c).air.temperature_c;
                (intake_c.min(R::zero()), R::zero())
            }
            _ => (R::zero(), R::one()),
        };
        for _ in 0..HALVINGS {
            let middle = (low + high) * 0.5;
            let icy = self.forms(self.strategy, &self.remedy(middle));
            low = R::select(icy, middle, low);
            high = R::select(icy, high, middle);
        }
        high
    }
}

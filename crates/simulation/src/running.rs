//! What the unit does in an hour: in defrost for part of it, with narrowed passages, past the core, preheated.
//!
//! Decided once an hour, from the outdoor air and the state that the last hour left, so that heat lent to a defrost is in the
//! heat balance of the same hour. Air flows become means over the hour. A core that runs for part of the hour is one with all
//! flows and conductances times that part: what passes in it is proportional to them. Not here: numbers of a plan
//! (`frost_plan`), narrowing and fans (`passages`), how preheat and bypass are found (`avoidance`), growth and thaw (`frost`).
//!
//! A blocked core passes nothing, since no extract air flows: the supply air is outdoor air, which thaws the core once it is
//! above 0 °C, and pays for it.
//!
//! Left out: water that warm air leaves on a cold core while it thaws it; more than one defrost an hour on demand; ice
//! that forms and is thawed within the same hour (a defrost thaws what lay there when the hour began).

use exchanger::outlets;
use lanes::{Mask, Real};
use psychrometrics::formulas::moist_heat_capacity;

use crate::avoidance::{Avoidance, avoid, free_cooling};
use crate::blower::reaches_rooms;
use crate::envelope::{Part, asked_for, through};
use crate::frost_plan::{FrostOf, Strategy};
use crate::inputs::UnitOf;
use crate::passages::{FanHour, fan, film_scale, narrowing};
use crate::state::State;
use crate::step::{HOUR_S, Setting};
use crate::upkeep::{filter_load, kept};

/// Share of its capacity that a core must hold more than for a defrost on demand to start.
const STARTS_AT: f64 = 0.05;
/// A defrost longer than this part of the hour lasts the hour.
const NEARLY_ALL: f64 = 0.99;
/// Extract flow below which the core counts as blocked, for each unit of the rated flow: what is left finds a few open passages,
/// and the rest of the plate is without it.
const LEAST_FLOW: f64 = 0.2;
/// Greatest flow between defrosts, for each unit of the rated flow.
const MOST_HELD: f64 = 2.0;

/// The hour's unit, and what it does about frost.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Running<R> {
    /// Flows, conductances and fan heat as means over the hour.
    pub(crate) unit: UnitOf<R>,
    /// Extract air that passes the core alone while the supply is off [kg dry air/s].
    pub(crate) alone_kg_per_s: R,
    /// Air that recirculation carries from wet rooms to the rest or the other way, and that comes back through doors
    /// [kg dry air/s].
    pub(crate) mixing_kg_per_s: R,
    pub(crate) avoidance: Avoidance<R>,
    /// Share of the hour in defrost.
    pub(crate) defrost_share: R,
    /// Heat from the room into the core \[J\].
    pub(crate) lent_j: R,
    /// Heat from the extract air into the core, with the supply off \[J\].
    pub(crate) drawn_j: R,
    /// Heat of the warmed core that goes into the supply air \[J\], and into the exhaust air \[J\].
    pub(crate) returned_j: R,
    pub(crate) to_exhaust_j: R,
    /// Heat that supply air above 0 °C pays to thaw a blocked core \[J\].
    pub(crate) supply_thaw_j: R,
    /// Ice melted by a defrost or by supply air \[kg\].
    pub(crate) melted_kg: R,
    /// Electricity of fans that becomes room heat \[W\].
    pub(crate) room_fan_w: R,
    /// Share of the hour with a blocked extract side.
    pub(crate) blocked_share: R,
    /// Outdoor air not delivered [kg dry air/s].
    pub(crate) missed_kg_per_s: R,
    /// Fans' mean power with a clean core, for each unit of their rated power: what filters and control leave.
    pub(crate) fan_share: R,
}

/// What a defrost takes of the hour, and does in it.
#[derive(Debug, Clone, Copy)]
struct Defrost<R> {
    share: R,
    /// Heat that warms the core \[J\], and that melts ice \[J\].
    warming_j: R,
    melt_j: R,
    melt_kg: R,
}

impl<R: Real> Running<R> {
    /// A unit that runs as it is given, the whole hour.
    #[inline(always)]
    pub(crate) fn as_given(unit: &UnitOf<R>) -> Self {
        Self::of(*unit)
    }

    /// A unit whose flows are given, with what they and the house's own leakage move through the envelope.
    #[inline(always)]
    pub(crate) fn through_leaks(rated: &Setting<'_, R>, state: &State<R>) -> Self {
        let unit = rated.unit;
        let part = Part { share: R::one(), supply: unit.supply_kg_per_s, extract: unit.extract_kg_per_s };
        let found = through(rated, state, &[part]);
        Self::of(UnitOf {
            infiltration_kg_per_s: found.infiltration,
            exfiltration_kg_per_s: found.exfiltration,
            ..*unit
        })
    }
}

/// Decides the hour; ice that a defrost melts is taken from the state here.
#[inline(always)]
pub(crate) fn run_unit<R: Real>(
    frost: &FrostOf<R>,
    rated: &Setting<'_, R>,
    state: &mut State<R>,
) -> Running<R> {
    let (zero, one) = (R::zero(), R::one());
    let load = filter_load(frost, rated);
    let (_, was_closed) = extract_side(frost, state, load);
    let kept = kept(frost, rated);
    let scheduled = R::splat(rated.driver.clock.run_share);
    let on = scheduled * kept.in_place;
    let defrost = defrost(frost, (rated, state), was_closed, on);
    take_ice(state, defrost.melt_kg, defrost.melt_j);
    let (extract_fan, closed) = extract_side(frost, state, load);
    let supply_fan = fan(frost.kind.fans, &frost.numbers, one, load);
    let wanted = asked_for(rated, state) * rated.driver.clock.flow;
    let raised = raised(frost, defrost.share) * wanted;
    let reaching = raised * reaches_rooms(&rated.house.indoors.numbers, state);
    let phase = Phase {
        supply: supply_fan.flow * reaching,
        extract: R::select(closed, zero, extract_fan.flow * reaching),
        defrost_share: defrost.share * on,
        run_share: (one - defrost.share) * on,
        scheduled,
        wanted,
        clean: kept.clean,
    };
    let fans = Fans { supply_fan, extract_fan, cube: raised * raised * raised };
    let mut running = compose(frost, (rated, state), &phase, &fans);
    running.blocked_share = R::select(closed, one, zero);
    running.melted_kg = defrost.melt_kg;
    let spent_j = defrost.warming_j + defrost.melt_j;
    let supply_off = frost.kind.strategy == Strategy::SupplyOff;
    running.lent_j = if supply_off { zero } else { spent_j };
    running.drawn_j = if supply_off { spent_j } else { zero };
    pay_out(frost, &mut running, defrost.warming_j, state);
    thaw_by_supply(rated, &mut running, closed, state);
    free_cooling(frost, rated, state, &mut running);
    avoid(frost, rated, state, &mut running);
    running
}

/// The extract fan with the core as its frost leaves it, and where the core is blocked.
#[inline(always)]
fn extract_side<R: Real>(frost: &FrostOf<R>, state: &State<R>, load: R) -> (FanHour<R>, R::Mask) {
    let (narrow, closed) = narrowing(&frost.numbers, &state.layer, state.frost_kg);
    let fan = fan(frost.kind.fans, &frost.numbers, narrow, load);
    (fan, closed | fan.flow.lt(R::splat(LEAST_FLOW)))
}

/// Share of the ice that is left once this much has melted; all gone is exactly zero, not what rounding leaves.
#[inline(always)]
fn share_left<R: Real>(frost_kg: R, melted_kg: R) -> R {
    let melts = melted_kg.gt(R::zero());
    let left = R::one() - melted_kg / R::select(melts, frost_kg, R::one());
    R::select(melted_kg.ge(frost_kg) & melts, R::zero(), R::select(melts, left, R::one()))
}

/// Takes melted ice from the state: its mass, its enthalpy, its share of the layer.
#[inline(always)]
pub(crate) fn take_ice<R: Real>(state: &mut State<R>, melted_kg: R, paid_j: R) {
    let left = share_left(state.frost_kg, melted_kg);
    let gone = left.le(R::zero());
    state.frost_kg = R::select(gone, R::zero(), state.frost_kg - melted_kg);
    state.frost_j = R::select(gone, R::zero(), state.frost_j + paid_j);
    state.layer = state.layer.thinned(left);
}

#[inline(always)]
fn defrost<R: Real>(
    frost: &FrostOf<R>,
    (rated, state): (&Setting<'_, R>, &State<R>),
    closed: R::Mask,
    on: R,
) -> Defrost<R> {
    let zero = R::zero();
    let none = Defrost { share: zero, warming_j: zero, melt_j: zero, melt_kg: zero };
    // A core that closed within the last hour would have been thawed before it closed.
    let by_ice = closed | state.frost_kg.gt(frost.numbers.capacity_kg * STARTS_AT);
    let cold = state.exhaust.temperature_c.lt(frost.numbers.thaw_below_c);
    let by_air = frost.numbers.thaw_below_c.gt(R::splat(f64::MIN));
    let demanded = (by_air & cold) | (!by_air & by_ice);
    let (timed, an_hour) = match frost.kind.strategy {
        Strategy::RecirculateByTimetable => timetable(frost, rated.outdoor_c),
        Strategy::RecirculateOnDemand | Strategy::SupplyOff => {
            (R::select(demanded, R::one(), zero), R::one())
        }
        _ => return none,
    };
    if !timed.gt(zero).any() {
        return none;
    }
    R::outlined(
        #[inline(always)]
        || defrost_of(frost, (rated, state), (timed, an_hour), on),
    )
}

/// A defrost of this share of the time in which the unit is on, or on demand of as much as it takes.
///
/// Room air gives the core `m c_p t_room ε`, with the dry plate's supply effectiveness; the core is warmed first, from
/// the mean of the four ports' temperatures to the room's, then ice melts.
#[inline(always)]
fn defrost_of<R: Real>(
    frost: &FrostOf<R>,
    (rated, state): (&Setting<'_, R>, &State<R>),
    (timed, an_hour): (R, R),
    on: R,
) -> Defrost<R> {
    let zero = R::zero();
    let intake = rated.intake(&state.exhaust, state.last_air_c).air;
    let inlets = rated.inlets(&intake, state.last_air_c, state.last_extract_w);
    let fluxes = rated.solve_core(&inlets);
    let out = outlets(&inlets, &fluxes);
    let core_c = (inlets.outdoor_c + out.supply_c + inlets.extract_c + out.exhaust_c) * 0.25;
    let capacity = rated.unit.supply_kg_per_s * moist_heat_capacity(state.last_extract_w);
    let an_hour_j = (capacity * fluxes.dry_supply_effectiveness * state.last_air_c).max(zero) * on * HOUR_S;
    let until_c = thawed_core_c(frost, rated, state);
    let to_warm = frost.numbers.core_j_per_k * (until_c.min(state.last_air_c) - core_c).max(zero) * an_hour;
    let to_warm = (to_warm - state.core_j).max(zero);
    let to_melt = R::select(until_c.gt(zero), (-state.frost_j).max(zero), zero);
    let never_ends = until_c.gt(state.last_air_c);
    let runs = timed.gt(zero) & an_hour_j.gt(zero);
    let share = if frost.kind.strategy == Strategy::RecirculateByTimetable {
        timed
    } else {
        let needed = (to_warm + to_melt) / R::select(runs, an_hour_j, R::one());
        R::select(never_ends | needed.gt(R::splat(NEARLY_ALL)), R::one(), needed)
    };
    let share = R::select(runs, share, zero);
    let given = an_hour_j * share;
    let warming_j = to_warm.min(given);
    let part = (given - warming_j) / to_melt.max(R::splat(1e-9));
    // Enough but for rounding is enough.
    let part = R::select(part.gt(R::splat(1.0 - 1e-12)), R::one(), part);
    let part = R::select(to_melt.gt(zero), part, zero).min(R::one());
    Defrost { share, warming_j, melt_j: to_melt * part, melt_kg: state.frost_kg * part }
}

/// Temperature of the core at which a thaw ends: the room's, or that at which air leaves as warm as the limit says,
/// `t_leaving = t_room − ε (t_room − t_core)` with the films of the extract side alone, `ε = 1 − e^(−2 UA/C)`.
#[inline(always)]
fn thawed_core_c<R: Real>(frost: &FrostOf<R>, rated: &Setting<'_, R>, state: &State<R>) -> R {
    let (room_c, until_c) = (state.last_air_c, frost.numbers.thaw_until_c);
    let limited = until_c.lt(R::splat(f64::MAX));
    if !limited.any() {
        return room_c;
    }
    let capacity = rated.unit.extract_kg_per_s * moist_heat_capacity(state.last_extract_w);
    let films = (rated.unit.ua_w_per_k * 2.0 / capacity.max(R::splat(1e-9))).min(R::splat(50.0));
    let passes = (R::one() - (-films).exp()).max(R::splat(1e-3));
    R::select(limited, room_c - (room_c - until_c) / passes, room_c)
}

/// Share of the hour in defrost and defrosts an hour: the coldest row that holds.
#[inline(always)]
fn timetable<R: Real>(frost: &FrostOf<R>, outdoor_c: R) -> (R, R) {
    let (mut share, mut an_hour) = (R::zero(), R::zero());
    for row in &frost.rows {
        let holds = outdoor_c.le(row.at_or_below_c);
        share = R::select(holds, row.defrost_share, share);
        an_hour = R::select(holds, row.an_hour, an_hour);
    }
    (share, an_hour)
}

/// Flow between defrosts, for each unit of the rated flow.
#[inline(always)]
fn raised<R: Real>(frost: &FrostOf<R>, share: R) -> R {
    let one = R::one();
    let holds = frost.numbers.holds_air.gt(R::zero());
    if !holds.any() {
        return one;
    }
    let run = one - share;
    let most = R::splat(MOST_HELD);
    let enough = run.gt(R::splat(1.0 / MOST_HELD));
    R::select(holds, R::select(enough, one / run.max(R::splat(1e-3)), most), one)
}

/// Flows while the unit runs, for each unit of the rated ones, and the rest of the hour.
struct Phase<R> {
    supply: R,
    extract: R,
    /// Shares of the hour in defrost and running; off for the rest.
    defrost_share: R,
    run_share: R,
    /// Share in which it should run by the clock.
    scheduled: R,
    /// Flow that is wanted, for each unit of the rated one.
    wanted: R,
    /// Conductance that fouling leaves, for each unit of the clean core's.
    clean: R,
}

struct Fans<R> {
    supply_fan: FanHour<R>,
    extract_fan: FanHour<R>,
    /// Power of a raised flow.
    cube: R,
}

/// The hour's flows and fans; heat, ice and what is done to the air before the core are filled in later.
#[inline(always)]
fn compose<R: Real>(
    frost: &FrostOf<R>,
    (rated, state): (&Setting<'_, R>, &State<R>),
    phase: &Phase<R>,
    fans: &Fans<R>,
) -> Running<R> {
    let (zero, one) = (R::zero(), R::one());
    let unit = rated.unit;
    let supply_off = frost.kind.strategy == Strategy::SupplyOff;
    let mut hour = scaled(frost, unit, phase, fans);
    let to_rest = unit.extract_wet_share * (one - unit.supply_wet_share);
    let to_wet = unit.supply_wet_share * (one - unit.extract_wet_share);
    let recirculated = if supply_off { zero } else { unit.supply_kg_per_s * phase.defrost_share };
    // At the rated flow, which its heat was reckoned with: what is narrow when it starts opens as it thaws.
    let alone = if supply_off { unit.extract_kg_per_s * phase.defrost_share } else { zero };
    add_envelope((rated, state), phase, alone, &mut hour);
    let supply_fan_w = unit.fan_w * unit.supply_fan_share;
    let of_supply_fan = supply_fan_w * fans.supply_fan.power;
    let of_extract_fan = (unit.fan_w - supply_fan_w) * fans.extract_fan.power;
    let both = of_supply_fan + of_extract_fan;
    // Both fans turn while house air goes round; one, with the supply off.
    let in_defrost_w = if supply_off { of_extract_fan } else { both } * phase.defrost_share;
    hour.fan_w = both * (phase.run_share * fans.cube) + in_defrost_w;
    let on = phase.run_share + phase.defrost_share;
    let wanted = unit.outdoor_kg_per_s() * (phase.scheduled * phase.wanted);
    let missed = wanted - hour.outdoor_kg_per_s();
    let cube = phase.wanted * phase.wanted * phase.wanted;
    Running {
        alone_kg_per_s: alone,
        mixing_kg_per_s: recirculated * to_rest.max(to_wet),
        defrost_share: phase.defrost_share,
        room_fan_w: if supply_off { zero } else { in_defrost_w },
        // Less than rounding of the two is none.
        missed_kg_per_s: R::select(missed.gt(wanted * 1e-12), missed, zero),
        fan_share: fans.supply_fan.power * (on * cube),
        ..Running::of(hour)
    }
}

impl<R: Real> Running<R> {
    /// A unit that runs the whole hour and does nothing about frost.
    #[inline(always)]
    fn of(unit: UnitOf<R>) -> Self {
        let zero = R::zero();
        Self {
            unit,
            alone_kg_per_s: zero,
            mixing_kg_per_s: zero,
            avoidance: Avoidance::none(),
            defrost_share: zero,
            lent_j: zero,
            drawn_j: zero,
            returned_j: zero,
            to_exhaust_j: zero,
            supply_thaw_j: zero,
            melted_kg: zero,
            room_fan_w: zero,
            blocked_share: zero,
            missed_kg_per_s: zero,
            fan_share: R::one(),
        }
    }
}

/// The rated unit with all flows, conductances and fan heat as means over the hour.
#[inline(always)]
fn scaled<R: Real>(frost: &FrostOf<R>, unit: &UnitOf<R>, phase: &Phase<R>, fans: &Fans<R>) -> UnitOf<R> {
    let run = phase.run_share;
    let (supply, extract) = (phase.supply * run, phase.extract * run);
    let conducts = run * phase.clean;
    let films = film_scale(frost.numbers.film_exponent, phase.supply, phase.extract) * conducts;
    let (of_supply_fan, of_extract_fan) =
        (fans.supply_fan.power * (run * fans.cube), fans.extract_fan.power * (run * fans.cube));
    let supply_kg_per_s = unit.supply_kg_per_s * supply;
    let extract_kg_per_s = unit.extract_kg_per_s * extract;
    let flows = supply_kg_per_s.gt(R::zero());
    // A hood cannot draw back more exhaust air than leaves.
    let leaves = extract_kg_per_s / R::select(flows, supply_kg_per_s, R::one());
    UnitOf {
        supply_kg_per_s,
        extract_kg_per_s,
        cross_leak_kg_per_s: unit.cross_leak_kg_per_s * supply,
        recirculated_share: R::select(flows, unit.recirculated_share.min(leaves), unit.recirculated_share),
        bypass_kg_per_s: unit.bypass_kg_per_s * supply,
        ua_w_per_k: unit.ua_w_per_k * films,
        vapour_kg_per_s: unit.vapour_kg_per_s * conducts,
        crossed_ua_w_per_k: unit.crossed_ua_w_per_k * films,
        crossed_vapour_kg_per_s: unit.crossed_vapour_kg_per_s * conducts,
        fan_heat_before_w: unit.fan_heat_before_w * of_supply_fan,
        fan_heat_after_w: unit.fan_heat_after_w * of_supply_fan,
        extract_fan_before_w: unit.extract_fan_before_w * of_extract_fan,
        ..*unit
    }
}

/// Air through the envelope: each phase by its own imbalance, then the mean.
#[inline(always)]
fn add_envelope<R: Real>(
    (rated, state): (&Setting<'_, R>, &State<R>),
    phase: &Phase<R>,
    alone: R,
    hour: &mut UnitOf<R>,
) {
    let (zero, unit) = (R::zero(), rated.unit);
    let share = phase.defrost_share;
    let safe_share = R::select(share.gt(zero), share, R::one());
    let off = (R::one() - phase.run_share - share).max(zero);
    let parts = [
        Part {
            share: phase.run_share,
            supply: unit.supply_kg_per_s * phase.supply,
            extract: unit.extract_kg_per_s * phase.extract,
        },
        Part { share, supply: zero, extract: alone / safe_share },
        Part { share: off, supply: zero, extract: zero },
    ];
    let found = through(rated, state, &parts);
    hour.infiltration_kg_per_s = found.infiltration;
    hour.exfiltration_kg_per_s = found.exfiltration;
}

/// What warmed the core leaves it when the unit runs again: part with the supply air, part with the exhaust air.
#[inline(always)]
fn pay_out<R: Real>(frost: &FrostOf<R>, running: &mut Running<R>, warming_j: R, state: &mut State<R>) {
    let zero = R::zero();
    let held = state.core_j + warming_j;
    let paid = R::select(running.unit.supply_kg_per_s.gt(zero), held, zero);
    state.core_j = held - paid;
    let leaves = running.unit.extract_kg_per_s.gt(zero);
    running.returned_j = R::select(leaves, paid * frost.numbers.returned, paid);
    running.to_exhaust_j = paid - running.returned_j;
}

/// A blocked core thaws by supply air above 0 °C, which pays what it has above it.
#[inline(always)]
fn thaw_by_supply<R: Real>(
    rated: &Setting<'_, R>,
    running: &mut Running<R>,
    closed: R::Mask,
    state: &mut State<R>,
) {
    let zero = R::zero();
    if !closed.any() {
        return;
    }
    let capacity = running.unit.supply_kg_per_s * moist_heat_capacity(rated.outdoor_w);
    let available = R::select(closed, capacity * rated.outdoor_c.max(zero) * HOUR_S, zero);
    let needed = (-state.frost_j).max(zero);
    let part = (available / needed.max(R::splat(1e-9))).min(R::one());
    let melted = state.frost_kg * part;
    running.supply_thaw_j = needed * part;
    running.melted_kg += melted;
    take_ice(state, melted, running.supply_thaw_j);
}

#[cfg(test)]
#[allow(clippy::float_cmp)]
mod tests {
    use super::share_left;

    #[test]
    fn what_is_left_of_the_ice_is_what_has_not_melted() {
        let rows = [
            (2.0, 0.5, 0.75),
            (2.0, 2.0, 0.0),
            (2.0, 3.0, 0.0),
            (2.0, 0.0, 1.0),
            (0.0, 0.0, 1.0),
            (0.0, 0.1, 0.0),
        ];
        for (frost_kg, melted_kg, left) in rows {
            assert_eq!(share_left(frost_kg, melted_kg), left, "{melted_kg} of {frost_kg}");
        }
    }
}

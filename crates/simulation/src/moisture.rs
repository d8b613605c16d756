//! Water of the rooms: two zones joined by air exchange, and a storing surface in one of them.
//!
//! Infiltration and exfiltration are shared between the zones by volume; transfer air from one zone to the other closes the
//! zones' air. Extract air that leaks past the core takes water of the zones extracted from to the zones supplied.
//!
//! Within a sub-step the equations are linear in the humidity ratios, and are stepped with the two-stage L-stable
//! singly diagonally implicit Runge–Kutta rule, `γ = 1 − 1/√2`. Flows are posted at the stage-weighted mean, which is
//! what the rule itself integrates, so the books close to rounding. A lane that would turn negative, or pass saturation, repeats the
//! sub-step with the implicit Euler rule, which cannot turn negative and can shed water as it goes.
//!
//! Left out: temperature differences between rooms; a slow store below the surface layer.
//! Not here: the core (`step` hands its coupling in).

use lanes::{Mask, Real};
use psychrometrics::formulas::MOLE_MASS_RATIO;

use crate::inputs::{HouseNumbers, UnitOf};

const GAMMA: f64 = 1.0 - core::f64::consts::FRAC_1_SQRT_2;

/// Humidity ratios of the two zones and relative humidity of the storing surface.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Water<R> {
    pub(crate) rest_w: R,
    pub(crate) wet_w: R,
    pub(crate) surface_rh: R,
}

/// What drives a sub-step.
#[derive(Debug, Clone, Copy)]
pub(crate) struct MoistureDrive<R> {
    pub(crate) seconds: f64,
    pub(crate) outdoor_w: R,
    pub(crate) pressure_pa: R,
    /// Saturation pressure at room temperature \[Pa\].
    pub(crate) saturation_pa: R,
    /// Sources in the rest zone and in the wet zone [kg/s].
    pub(crate) rest_source: R,
    pub(crate) wet_source: R,
    /// Humidity ratio of the air leaving the core's supply side for dry extract air, and how much of the extract's it adds.
    pub(crate) supply_base_w: R,
    pub(crate) supply_slope: R,
    /// Extract air taken while the supply is off [kg/s], and air that a unit carries between the zones and that comes back
    /// through doors [kg/s].
    pub(crate) alone_kg_per_s: R,
    pub(crate) mixing_kg_per_s: R,
    /// Air of the cooling coil that reaches its apparatus dew point [kg/s], and that state.
    pub(crate) coil_kg_per_s: R,
    pub(crate) coil_w: R,
    /// Humidity ratio that room air can hold.
    pub(crate) saturation_w: R,
    /// Whether the rooms' response to a source is asked for.
    pub(crate) responds: bool,
}

/// A sub-step done: the states at its end, and the means that were posted.
#[derive(Debug, Clone, Copy)]
pub(crate) struct MoistureStep<R> {
    pub(crate) end: Water<R>,
    pub(crate) mean: Water<R>,
    /// Air of the coil that was really used [kg/s].
    pub(crate) coil_kg_per_s: R,
    /// Water that condensed in the rooms within the sub-step \[kg\].
    pub(crate) condensed_kg: R,
    pub(crate) repeated: R,
    /// What a steady source of 1 kg/s in the rest zone adds; nothing where it is not asked for.
    pub(crate) response: Response<R>,
}

/// States at the end of a sub-step and their means, for each kg/s of a steady source in the rest zone.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Response<R> {
    pub(crate) end: Water<R>,
    pub(crate) mean: Water<R>,
}

/// Where water leaves the room air: the coil, and surfaces of rooms that hold more than saturation [kg/s].
#[derive(Debug, Clone, Copy)]
struct Sinks<R> {
    coil: R,
    rest: R,
    wet: R,
}

/// How much faster than the sub-step saturated rooms shed what they cannot hold: leaves 0.1 % of the surplus.
const SHEDDING: f64 = 1e3;

/// Air exchanged, and the linear system's coefficients that do not change between stages.
#[derive(Clone, Copy)]
struct System<R> {
    rest_mass: R,
    wet_mass: R,
    surface_mass: R,
    /// Loss of each zone for its own humidity ratio [kg/s].
    rest_out: R,
    wet_out: R,
    /// Gain of each zone from the other's humidity ratio [kg/s].
    rest_from_wet: R,
    wet_from_rest: R,
    rest_constant: R,
    wet_constant: R,
    /// Surface exchange for the humidity ratio [kg/s] and for the surface's relative humidity [kg/s].
    surface_per_w: R,
    surface_per_rh: R,
}

/// Advances the rooms by a sub-step.
///
/// A lane repeats the sub-step with the implicit Euler rule when the two-stage rule leaves the possible: below zero,
/// above saturation, or a coil that would give water back.
#[inline(always)]
pub(crate) fn advance<R: Real>(
    house: &HouseNumbers<R>,
    unit: &UnitOf<R>,
    start: &Water<R>,
    drive: &MoistureDrive<R>,
) -> MoistureStep<R> {
    let zero = R::zero();
    let coil = R::select(start.rest_w.gt(drive.coil_w), drive.coil_kg_per_s, zero);
    let sinks = Sinks { coil, rest: zero, wet: zero };
    let system = assemble(house, unit, start, drive, &sinks);
    let (end, mean) = two_stages(&system, start, drive.seconds);
    let response = respond(&system, drive);
    let dried_up = coil.gt(zero) & mean.rest_w.lt(drive.coil_w);
    let negative = end.rest_w.lt(zero) | end.wet_w.lt(zero) | end.surface_rh.lt(zero);
    let limit = drive.saturation_w;
    let over = end.rest_w.gt(limit) | end.wet_w.gt(limit) | mean.rest_w.gt(limit) | mean.wet_w.gt(limit);
    let repeat = dried_up | negative | over;
    let step = MoistureStep { end, mean, coil_kg_per_s: coil, condensed_kg: zero, repeated: zero, response };
    if !repeat.any() {
        return step;
    }
    let again = R::outlined(
        #[inline(always)]
        || implicit_euler(house, unit, start, drive, coil),
    );
    MoistureStep {
        end: pick(repeat, &again.end, &end),
        mean: pick(repeat, &again.mean, &mean),
        coil_kg_per_s: R::select(repeat, again.coil_kg_per_s, coil),
        condensed_kg: R::select(repeat, again.condensed_kg, zero),
        repeated: R::select(repeat, R::one(), zero),
        response: Response {
            end: pick(repeat, &again.response.end, &response.end),
            mean: pick(repeat, &again.response.mean, &response.mean),
        },
    }
}

/// The rooms' answer to a source of 1 kg/s: the same system without anything else that drives it.
#[inline(always)]
fn respond<R: Real>(system: &System<R>, drive: &MoistureDrive<R>) -> Response<R> {
    let nothing = Water { rest_w: R::zero(), wet_w: R::zero(), surface_rh: R::zero() };
    if !drive.responds {
        return Response { end: nothing, mean: nothing };
    }
    let alone = System { rest_constant: R::one(), wet_constant: R::zero(), ..*system };
    let (end, mean) = two_stages(&alone, &nothing, drive.seconds);
    Response { end, mean }
}

/// The sub-step with the implicit Euler rule: first without surfaces that shed water, then with them where the rooms
/// would hold too much.
#[inline(always)]
fn implicit_euler<R: Real>(
    house: &HouseNumbers<R>,
    unit: &UnitOf<R>,
    start: &Water<R>,
    drive: &MoistureDrive<R>,
    coil: R,
) -> MoistureStep<R> {
    let zero = R::zero();
    let h = R::splat(drive.seconds);
    let solve = |sinks: &Sinks<R>| stage(&assemble(house, unit, start, drive, sinks), start, h);
    let mut sinks = Sinks { coil, rest: zero, wet: zero };
    let first = solve(&sinks);
    sinks.coil = R::select(first.rest_w.lt(drive.coil_w), zero, coil);
    let dry = solve(&sinks);
    let limit = drive.saturation_w;
    let (rest_over, wet_over) = (dry.rest_w.gt(limit), dry.wet_w.gt(limit));
    let shed = |over: R::Mask, air_kg: R| R::select(over, air_kg * (SHEDDING / drive.seconds), zero);
    let shedding =
        Sinks { rest: shed(rest_over, house.rest_air_kg), wet: shed(wet_over, house.wet_air_kg), ..sinks };
    let both = solve(&shedding);
    // A zone can be pulled below saturation by its neighbour: then only the neighbour sheds.
    let shedding = Sinks {
        rest: R::select(both.rest_w.lt(limit), zero, shedding.rest),
        wet: R::select(both.wet_w.lt(limit), zero, shedding.wet),
        ..shedding
    };
    let wet = solve(&shedding);
    let gives_back =
        (shedding.rest.gt(zero) & wet.rest_w.lt(limit)) | (shedding.wet.gt(zero) & wet.wet_w.lt(limit));
    let sheds = shedding.rest.gt(zero) | shedding.wet.gt(zero);
    let use_wet = sheds & !gives_back;
    let condensed = shedding.rest * (wet.rest_w - limit) + shedding.wet * (wet.wet_w - limit);
    let end = pick(use_wet, &wet, &dry);
    // A source joins the air at the end of such a step, so that what was shed stays what it was.
    let nothing = Water { rest_w: zero, wet_w: zero, surface_rh: zero };
    MoistureStep {
        end,
        mean: end,
        coil_kg_per_s: sinks.coil,
        condensed_kg: R::select(use_wet, condensed * h, zero),
        repeated: R::one(),
        response: Response { end: Water { rest_w: h / house.rest_air_kg, ..nothing }, mean: nothing },
    }
}

#[inline(always)]
fn pick<R: Real>(mask: R::Mask, yes: &Water<R>, no: &Water<R>) -> Water<R> {
    Water {
        rest_w: R::select(mask, yes.rest_w, no.rest_w),
        wet_w: R::select(mask, yes.wet_w, no.wet_w),
        surface_rh: R::select(mask, yes.surface_rh, no.surface_rh),
    }
}

#[inline(always)]
fn assemble<R: Real>(
    house: &HouseNumbers<R>,
    unit: &UnitOf<R>,
    start: &Water<R>,
    drive: &MoistureDrive<R>,
    sinks: &Sinks<R>,
) -> System<R> {
    let one = R::one();
    let zero = R::zero();
    let (extract_wet, supply_wet) = (unit.extract_wet_share, unit.supply_wet_share);
    let (extract_rest, supply_rest) = (one - extract_wet, one - supply_wet);
    let (to_rest, to_wet) = (unit.supply_kg_per_s * supply_rest, unit.supply_kg_per_s * supply_wet);
    let taken = unit.taken_kg_per_s() + drive.alone_kg_per_s;
    let (of_rest, of_wet) = (taken * extract_rest, taken * extract_wet);
    let (across_rest, across_wet) =
        (unit.cross_leak_kg_per_s * supply_rest, unit.cross_leak_kg_per_s * supply_wet);
    let in_wet = unit.infiltration_kg_per_s * house.wet_share;
    let in_rest = unit.infiltration_kg_per_s - in_wet;
    let out_wet = unit.exfiltration_kg_per_s * house.wet_share;
    let out_rest = unit.exfiltration_kg_per_s - out_wet;
    // Transfer air closes the zones: what the wet zone loses to unit and envelope and does not get from them.
    let transfer = of_wet - (to_wet + across_wet) + (out_wet - in_wet);
    // What each kg/kg of the extract air brings to the zones: through a membrane, and past the core.
    let back_to_rest = to_rest * drive.supply_slope + across_rest;
    let back_to_wet = to_wet * drive.supply_slope + across_wet;
    let door = house.door_kg_per_s + drive.mixing_kg_per_s;
    let rest_to_wet = door + transfer.max(zero);
    let wet_to_rest = door + (-transfer).max(zero);
    // Vapour pressure by its chord through zero, exact at the start of the sub-step.
    let pressure_per_w = drive.pressure_pa / (start.rest_w + MOLE_MASS_RATIO);
    System {
        rest_mass: house.rest_air_kg,
        wet_mass: house.wet_air_kg,
        surface_mass: house.surface_capacity_kg,
        rest_out: rest_to_wet + out_rest + of_rest + sinks.coil + sinks.rest - back_to_rest * extract_rest,
        wet_out: wet_to_rest + out_wet + of_wet + sinks.wet - back_to_wet * extract_wet,
        rest_from_wet: wet_to_rest + back_to_rest * extract_wet,
        wet_from_rest: rest_to_wet + back_to_wet * extract_rest,
        rest_constant: in_rest * drive.outdoor_w
            + to_rest * drive.supply_base_w
            + sinks.coil * drive.coil_w
            + sinks.rest * drive.saturation_w
            + drive.rest_source,
        wet_constant: in_wet * drive.outdoor_w
            + to_wet * drive.supply_base_w
            + sinks.wet * drive.saturation_w
            + drive.wet_source,
        surface_per_w: house.surface_kg_per_s_pa * pressure_per_w,
        surface_per_rh: house.surface_kg_per_s_pa * drive.saturation_pa,
    }
}

/// Both stages: the end state is the second stage (stiffly accurate), the mean is what was integrated.
#[inline(always)]
fn two_stages<R: Real>(system: &System<R>, start: &Water<R>, seconds: f64) -> (Water<R>, Water<R>) {
    let step = R::splat(GAMMA * seconds);
    let first = stage(system, start, step);
    // From the first stage value Y₁ = y₀ + γ h k₁ follows h k₁.
    let carry = (1.0 - GAMMA) / GAMMA;
    let from = |y0: R, y1: R| y0 + (y1 - y0) * carry;
    let second_start = Water {
        rest_w: from(start.rest_w, first.rest_w),
        wet_w: from(start.wet_w, first.wet_w),
        surface_rh: from(start.surface_rh, first.surface_rh),
    };
    let second = stage(system, &second_start, step);
    let mix = |a: R, b: R| a * (1.0 - GAMMA) + b * GAMMA;
    let mean = Water {
        rest_w: mix(first.rest_w, second.rest_w),
        wet_w: mix(first.wet_w, second.wet_w),
        surface_rh: mix(first.surface_rh, second.surface_rh),
    };
    (second, mean)
}

/// Solves `Y = y + h f(Y)`.
#[inline(always)]
fn stage<R: Real>(s: &System<R>, y: &Water<R>, h: R) -> Water<R> {
    let surface_weight = s.surface_mass + h * s.surface_per_rh;
    let surface_known = s.surface_mass * y.surface_rh / surface_weight;
    let surface_slope = h * s.surface_per_w / surface_weight;
    let rest_diagonal =
        s.rest_mass + h * (s.rest_out + s.surface_per_w) - h * s.surface_per_rh * surface_slope;
    let wet_diagonal = s.wet_mass + h * s.wet_out;
    let rest_right = s.rest_mass * y.rest_w + h * s.rest_constant + h * s.surface_per_rh * surface_known;
    let wet_right = s.wet_mass * y.wet_w + h * s.wet_constant;
    let (rest_off, wet_off) = (h * s.rest_from_wet, h * s.wet_from_rest);
    let determinant = rest_diagonal * wet_diagonal - rest_off * wet_off;
    let rest_w = (rest_right * wet_diagonal + rest_off * wet_right) / determinant;
    let wet_w = (wet_right * rest_diagonal + wet_off * rest_right) / determinant;
    Water { rest_w, wet_w, surface_rh: surface_known + surface_slope * rest_w }
}

#[cfg(test)]
#[path = "moisture_tests.rs"]
mod moisture_tests;

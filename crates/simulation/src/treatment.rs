//! What glass, humidifier and dehumidifier do to the rest zone's air in a sub-step.
//!
//! The rooms' equations are linear, so a steady source adds its own response to what they would be without it: each film of
//! water, then the humidifier or dehumidifier, is found with the air that it leaves at the sub-step's end. What they need of the
//! plant: a humidifier holds its target at the end of each sub-step, a dehumidifier likewise, within their capacities.
//! Not here: the rooms (`moisture`), the films (`panes`).

use lanes::{Mask, Real};
use psychrometrics::formulas::{MOLE_MASS_RATIO, liquid_enthalpy_j_per_kg};

use crate::drivers::HourDriver;
use crate::indoors::IndoorsNumbers;
use crate::moisture::{MoistureStep, Water};
use crate::panes::{FILMS, PanesHour, Sweat, sweat};
use crate::step::Setting;

/// Steam from a humidifier that boils water from 0 °C [J/kg].
const STEAM_J_PER_KG: f64 = 2676e3;

/// What each kg from the humidifier brings to the room [J/kg]: steam, or water as warm as the room.
#[inline(always)]
pub(crate) fn humidifier_j_per_kg<R: Real>(setting: &Setting<'_, R>, room_c: R) -> R {
    let steams = setting.house.indoors.numbers.humidifier_steam.gt(R::zero());
    R::select(steams, R::splat(STEAM_J_PER_KG), liquid_enthalpy_j_per_kg(room_c))
}

/// Electricity of the humidifier for each kg [J/kg].
#[inline(always)]
pub(crate) fn humidifier_site_j_per_kg<R: Real>(numbers: &IndoorsNumbers<R>) -> R {
    numbers.humidifier_steam * STEAM_J_PER_KG
}

/// Water that a new building gives in an hour [kg/s], dying away from the first of January on.
#[inline(always)]
pub(crate) fn drying_kg_per_s<R: Real>(numbers: &IndoorsNumbers<R>, driver: &HourDriver) -> R {
    let dries = numbers.drying_kg_per_s.gt(R::zero());
    if !dries.any() {
        return R::zero();
    }
    numbers.drying_kg_per_s * (numbers.drying_per_h * -(driver.hour_of_year as f64)).exp()
}

/// What was done in a sub-step.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Treated<R> {
    /// Net water from the air onto glass \[kg\], and what ran off it.
    pub(crate) sweat_kg: R,
    pub(crate) ran_off_kg: R,
    pub(crate) wet_centre: R,
    pub(crate) wet_edge: R,
    pub(crate) humidified_kg: R,
    pub(crate) dried_kg: R,
}

/// Humidity ratio at a relative humidity, `0.621945 φ p_s/(p − φ p_s)`.
#[inline(always)]
fn at_humidity<R: Real>(rh: R, saturation_pa: R, pressure_pa: R) -> R {
    let vapour_pa = rh * saturation_pa;
    vapour_pa * MOLE_MASS_RATIO / (pressure_pa - vapour_pa)
}

/// Whether any house of the row has something that treats its air.
#[inline(always)]
pub(crate) fn treats<R: Real>(numbers: &IndoorsNumbers<R>, panes: &PanesHour<R>) -> bool {
    let zero = R::zero();
    panes.any || (numbers.humidifier_kg_per_s.gt(zero) | numbers.dehumidifier_kg_per_s.gt(zero)).any()
}

/// Treats the air of a sub-step: films and rooms are taken to its end.
#[inline(always)]
pub(crate) fn treat<R: Real>(
    numbers: &IndoorsNumbers<R>,
    panes: &PanesHour<R>,
    films_kg: &mut [R; FILMS],
    (saturation_pa, pressure_pa, seconds): (R, R, f64),
    (rooms, coil_w): (&mut MoistureStep<R>, R),
) -> Treated<R> {
    let zero = R::zero();
    let response = rooms.response.end.rest_w;
    // Nothing dries the air past a coil that is running, or the coil would give water back.
    let floor_w = R::select(rooms.coil_kg_per_s.gt(zero), coil_w, zero);
    let free = rooms.end.rest_w;
    let controls = numbers.humidifier_kg_per_s.gt(zero) | numbers.dehumidifier_kg_per_s.gt(zero);
    let (sweat, given, taken) = if controls.any() {
        let limits = limits(numbers, (saturation_pa, pressure_pa), floor_w);
        controlled(numbers, panes, films_kg, (free, response, floor_w), (limits, seconds))
    } else {
        (sweat(panes, films_kg, (free, response, floor_w), seconds), zero, zero)
    };
    let source = given - taken - sweat.from_air;
    rooms.end = plus(&rooms.end, &rooms.response.end, source);
    rooms.mean = plus(&rooms.mean, &rooms.response.mean, source);
    Treated {
        sweat_kg: sweat.from_air * seconds,
        ran_off_kg: sweat.ran_off_kg,
        wet_centre: sweat.wet_centre,
        wet_edge: sweat.wet_edge,
        humidified_kg: given * seconds,
        dried_kg: taken * seconds,
    }
}

/// Humidity ratios that the humidifier keeps at least and the dehumidifier at most.
#[inline(always)]
fn limits<R: Real>(numbers: &IndoorsNumbers<R>, (saturation_pa, pressure_pa): (R, R), floor_w: R) -> (R, R) {
    let zero = R::zero();
    let low_w = at_humidity(numbers.humidify_to, saturation_pa, pressure_pa);
    // A house without one has no target: any that is below saturation stands in for it.
    let dries = numbers.dehumidifier_kg_per_s.gt(zero);
    let high_rh = R::select(dries, numbers.dry_to, R::one());
    (low_w, at_humidity(high_rh, saturation_pa, pressure_pa).max(floor_w))
}

/// Films beside a humidifier or dehumidifier: they meet the air that these leave, not the air before.
///
/// First the films alone say whether a limit is passed; then the films at that limit say what holding it takes; where that is more
/// than the appliance can, the films are found beside it at its capacity.
#[inline(always)]
fn controlled<R: Real>(
    numbers: &IndoorsNumbers<R>,
    panes: &PanesHour<R>,
    films_kg: &mut [R; FILMS],
    (free, response, floor_w): (R, R, R),
    ((low_w, high_w), seconds): ((R, R), f64),
) -> (Sweat<R>, R, R) {
    let zero = R::zero();
    let mut trial = *films_kg;
    let alone = sweat(panes, &mut trial, (free, response, floor_w), seconds);
    let without = free - alone.from_air * response;
    let lacks = without.lt(low_w) & numbers.humidifier_kg_per_s.gt(zero);
    let exceeds = without.gt(high_w) & numbers.dehumidifier_kg_per_s.gt(zero);
    let held_w = R::select(lacks, low_w, R::select(exceeds, high_w, without));
    let mut trial = *films_kg;
    let at_limit = sweat(panes, &mut trial, (held_w, zero, floor_w), seconds);
    let needed = (held_w - free) / response + at_limit.from_air;
    let given = R::select(lacks, needed.max(zero).min(numbers.humidifier_kg_per_s), zero);
    let taken = R::select(exceeds, (-needed).max(zero).min(numbers.dehumidifier_kg_per_s), zero);
    let holds = (lacks & needed.le(numbers.humidifier_kg_per_s) & needed.ge(zero))
        | (exceeds & (-needed).le(numbers.dehumidifier_kg_per_s) & needed.le(zero));
    let beside = free + (given - taken) * response;
    let met = (R::select(holds, held_w, beside), R::select(holds, zero, response), floor_w);
    (sweat(panes, films_kg, met, seconds), given, taken)
}

#[inline(always)]
fn plus<R: Real>(water: &Water<R>, response: &Water<R>, source: R) -> Water<R> {
    Water {
        rest_w: water.rest_w + response.rest_w * source,
        wet_w: water.wet_w + response.wet_w * source,
        surface_rh: water.surface_rh + response.surface_rh * source,
    }
}

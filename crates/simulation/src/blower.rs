//! The blower of a furnace: when it runs, what that stirs, and what it does to the water on a cooling coil.
//!
//! While it runs it carries air through the house, so that the rooms' air mixes ten times as fast as through doors alone; while it does
//! not, air that the unit brings to the return duct and takes from it goes in a circle. Its electricity becomes room heat, found after
//! the heat balance and so paid in the next hour. Not here: the plant (`thermal`).

use lanes::{Mask, Real};

use crate::indoors::IndoorsNumbers;
use crate::state::State;
use crate::thermal::ThermalHour;

/// How much faster air goes between the rooms while the blower runs: assumed.
const STIRS: f64 = 10.0;

/// Run fraction of the coil up to which a blower that runs on brings all water back.
const BRINGS_ALL_BACK_UP_TO: f64 = 0.3;

/// Share of the water taken from the air that really drains, 0…1, by the part of the time that the coil runs under a blower
/// that runs on.
///
/// It brings everything back up to a run fraction of 0.3; the share grows in a straight line to 1 at full load. The sensible
/// part of the cooling becomes `1 − (1 − SHR) × share`.
///
/// # Source
/// \[HENDERSON-1996\] Henderson and Rengarajan, ASHRAE Transactions 102(1), 1996: the 0.3 is a first-order reading, recalled; the
/// line is assumed.
#[inline(always)]
fn drained_share<R: Real>(run_fraction: R) -> R {
    ((run_fraction - BRINGS_ALL_BACK_UP_TO) / (1.0 - BRINGS_ALL_BACK_UP_TO)).between(0.0, 1.0)
}

/// The blower's hour.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Blowing<R> {
    /// Share of the hour in which heating or cooling runs.
    pub(crate) plant_share: R,
    /// Electricity \[W\].
    pub(crate) power_w: R,
    /// Air between the rooms, for each unit of the exchange through doors.
    pub(crate) stirs: R,
    /// Share of the coil's water that drains; the rest evaporates again.
    pub(crate) drains: R,
}

/// The blower beside this hour's heating and cooling; `unit_on` is the share of the hour in which the unit runs.
#[inline(always)]
pub(crate) fn blowing<R: Real>(
    numbers: &IndoorsNumbers<R>,
    thermal: &ThermalHour<R>,
    unit_on: R,
) -> Blowing<R> {
    let (zero, one) = (R::zero(), R::one());
    let has = numbers.blower_w.gt(zero);
    if !has.any() {
        return Blowing { plant_share: zero, power_w: zero, stirs: one, drains: one };
    }
    let cooling = (thermal.cooling_w / numbers.cooling_w).min(one);
    let plant_share = (thermal.heating_w / numbers.heating_w).min(one).max(cooling);
    let share = plant_share.max(numbers.blower_always).max(numbers.blower_with_unit * unit_on);
    let share = R::select(has, share, zero);
    // It blows on over the wet coil in the part of the rest of the hour in which it runs.
    let rests = one - cooling;
    let resting = rests.gt(zero);
    let on = ((share - cooling) / R::select(resting, rests, one)).max(zero).min(one);
    let on = R::select(resting, on, zero);
    let drains = one - on * (one - drained_share(cooling));
    let evaporates = has & numbers.re_evaporates.gt(zero);
    Blowing {
        plant_share: R::select(has, plant_share, zero),
        power_w: numbers.blower_w * share,
        stirs: one + share * (STIRS - 1.0),
        drains: R::select(evaporates, drains, one),
    }
}

/// Share of the unit's flow that reaches the rooms: without a blower that runs, what comes by the return duct is taken from it again.
#[inline(always)]
pub(crate) fn reaches_rooms<R: Real>(numbers: &IndoorsNumbers<R>, state: &State<R>) -> R {
    let (zero, one) = (R::zero(), R::one());
    let short = numbers.through_return_duct.gt(zero);
    if !short.any() {
        return one;
    }
    let runs = numbers.blower_always.max(numbers.blower_with_unit).max(state.plant_share);
    one - numbers.through_return_duct * (one - runs.min(one))
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::{Blowing, blowing, drained_share};
    use crate::indoors::IndoorsNumbers;
    use crate::thermal::ThermalHour;

    #[test]
    fn a_blower_that_runs_on_brings_water_back_in_part_load() {
        // (0.65 − 0.3)/0.7.
        for (run, share) in [(0.0, 0.0), (0.2, 0.0), (0.3, 0.0), (0.65, 0.5), (1.0, 1.0)] {
            assert_abs_diff_eq!(drained_share(run), share, epsilon = 1e-12);
        }
    }

    /// A blower of 300 W over a coil of 5 kW that cools by this much; it also runs for this share of the hour for the unit.
    fn blown(cooling_w: f64, for_unit: f64) -> Blowing<f64> {
        let numbers = IndoorsNumbers {
            blower_w: 300.0,
            blower_with_unit: 1.0,
            heating_w: 9000.0,
            cooling_w: 5000.0,
            re_evaporates: 1.0,
            ..IndoorsNumbers::NONE
        };
        let (air_c, surface_c, mass_c, mass_end_c) = (25.0, 25.0, 25.0, 25.0);
        let thermal = ThermalHour { air_c, surface_c, mass_c, mass_end_c, heating_w: 0.0, cooling_w };
        blowing(&numbers, &thermal, for_unit)
    }

    /// By hand, of three fifths of the hour in which the coil runs three sevenths drain while it is blown on: none of the rest of the hour, half of
    /// it, all of it; and a coil that never rests.
    #[test]
    fn the_coil_loses_water_in_the_part_of_its_rest_in_which_it_is_blown_on() {
        let rows = [
            (3000.0, 0.0, 0.6, 1.0),
            (3000.0, 0.8, 0.8, 1.0 - 0.5 * 4.0 / 7.0),
            (3000.0, 1.0, 1.0, 3.0 / 7.0),
            (6000.0, 1.0, 1.0, 1.0),
        ];
        for (cooling_w, for_unit, share, drains) in rows {
            let hour = blown(cooling_w, for_unit);
            assert_abs_diff_eq!(hour.power_w, 300.0 * share, epsilon = 1e-9);
            assert_abs_diff_eq!(hour.stirs, 1.0 + 9.0 * share, epsilon = 1e-12);
            assert_abs_diff_eq!(hour.plant_share, f64::min(cooling_w / 5000.0, 1.0), epsilon = 1e-12);
            assert_abs_diff_eq!(hour.drains, drains, epsilon = 1e-12);
        }
    }
}

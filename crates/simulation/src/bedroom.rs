//! Carbon dioxide of one bedroom whose door is closed at night.
//!
//! By day it is as stale as the house. At night supply air, its share of the leakage and a little air round the door change it, and
//! those who sleep in it breathe. Not here: the whole house (`stale_air`).

use lanes::{Mask, Real};

use crate::stale_air::OUTDOOR_CO2_PPM;
use crate::state::State;
use crate::step::{HOUR_S, Setting};

/// Air through the gap under a closed door, each way [kg/s]: assumed, 2 L/s.
const DOOR_KG_PER_S: f64 = 0.0024;
/// Carbon dioxide of someone asleep, for each unit of someone awake in the house: 0.95 met over 1.2 met, [PERSILY-2017], recalled.
const ASLEEP: f64 = 0.95 / 1.2;

/// Carbon dioxide of the bedroom over an hour \[ppm\]; 0 where none is looked at.
#[derive(Debug, Clone, Copy)]
pub(crate) struct BedroomAir<R> {
    pub(crate) mean_ppm: R,
    pub(crate) end_ppm: R,
}

/// The hour in the bedroom, exactly, with the house at its mean of the hour.
#[inline(always)]
pub(crate) fn bedroom<R: Real>(setting: &Setting<'_, R>, state: &State<R>, house_ppm: R) -> BedroomAir<R> {
    let zero = R::zero();
    let n = &setting.house.indoors.numbers;
    let looked_at = n.sleepers.gt(zero);
    if !looked_at.any() {
        return BedroomAir { mean_ppm: zero, end_ppm: zero };
    }
    let (h, site, unit) = (&setting.house.numbers, &setting.house.site, setting.unit);
    let hour = R::splat(setting.driver.hour_of_day as f64);
    let past_midnight = n.bedroom_from_h.gt(n.bedroom_to_h);
    let (begun, not_over) = (hour.ge(n.bedroom_from_h), hour.lt(n.bedroom_to_h));
    let closed = (past_midnight & (begun | not_over)) | (!past_midnight & begun & not_over);
    let share = n.bedroom_air_kg / (h.rest_air_kg + h.wet_air_kg);
    let fresh = unit.outdoor_kg_per_s() * n.bedroom_supply_share + unit.infiltration_kg_per_s * share;
    // What leaked past the core, or was drawn back in at the hood, is as stale as the house.
    let stale =
        (unit.delivered_kg_per_s() - unit.outdoor_kg_per_s()) * n.bedroom_supply_share + DOOR_KG_PER_S;
    let flow = fresh + stale;
    let home = if setting.driver.clock.at_home > 0.0 { 1.0 } else { 0.0 };
    let source = site.person_co2_ppm_kg_per_s * n.sleepers * (ASLEEP * home);
    let steady = (fresh * OUTDOOR_CO2_PPM + stale * house_ppm + source) / flow;
    let changes = flow * HOUR_S / n.bedroom_air_kg;
    let left = (-changes).exp();
    let gap = state.bedroom_ppm - steady;
    let mean = steady + gap * (R::one() - left) / changes;
    let end = steady + gap * left;
    let shown = R::select(closed, mean, house_ppm);
    BedroomAir {
        mean_ppm: R::select(looked_at, shown, zero),
        end_ppm: R::select(looked_at, R::select(closed, end, house_ppm), zero),
    }
}

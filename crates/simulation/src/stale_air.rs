//! Carbon dioxide of the whole house, hour by hour.
//!
//! Not here: what asks for more air because of it (`envelope`).

use lanes::Real;

use crate::state::State;
use crate::step::{HOUR_S, Setting};

/// Carbon dioxide outdoors \[ppm\]: assumed, of these years.
pub(crate) const OUTDOOR_CO2_PPM: f64 = 420.0;

/// Carbon dioxide over an hour \[ppm\].
#[derive(Debug, Clone, Copy)]
pub(crate) struct StaleAir<R> {
    pub(crate) mean_ppm: R,
    pub(crate) end_ppm: R,
}

/// Carbon dioxide of a well-mixed house: `C' = (S − m (C − C_o))/M`, exactly over the hour.
#[inline(always)]
pub(crate) fn stale_air<R: Real>(setting: &Setting<'_, R>, state: &State<R>) -> StaleAir<R> {
    let (h, site) = (&setting.house.numbers, &setting.house.site);
    let outdoor = R::splat(OUTDOOR_CO2_PPM);
    let fresh = setting.unit.outdoor_kg_per_s() + setting.unit.infiltration_kg_per_s;
    let source = site.person_co2_ppm_kg_per_s * h.people * setting.driver.presence;
    let mass = h.rest_air_kg + h.wet_air_kg;
    let changes = fresh * HOUR_S / mass;
    // Below a thousandth of a change an hour the air only fills up.
    let moves = changes.gt(R::splat(1e-3));
    let safe = R::select(moves, changes, R::one());
    let left = (-safe).exp();
    let steady = outdoor + source / R::select(moves, fresh, R::one());
    let gap = state.co2_ppm - steady;
    let filled = state.co2_ppm + source * HOUR_S / mass;
    StaleAir {
        mean_ppm: R::select(moves, steady + gap * (R::one() - left) / safe, (state.co2_ppm + filled) * 0.5),
        end_ppm: R::select(moves, steady + gap * left, filled),
    }
}

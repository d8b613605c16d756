//! Heat through the walls of ducts: cold ones that pass the rooms, warm ones that pass an unheated place.
//!
//! Not here: which of it is posted where (`posting`).

use lanes::{Mask, Real};
use psychrometrics::formulas::moist_heat_capacity;

use crate::step::Setting;

/// Heat through a duct's wall into air of this heat capacity flow that enters colder by this much: `C (1 − e^(−K/C)) Δt` \[W\].
#[inline(always)]
pub(crate) fn duct_w<R: Real>(conductance: R, capacity: R, difference_k: R) -> R {
    let has = conductance.gt(R::zero()) & capacity.gt(R::zero());
    if !has.any() {
        return R::zero();
    }
    let safe = R::select(has, capacity, R::one());
    let passes = R::one() - (-(conductance / safe)).exp();
    R::select(has, safe * passes * difference_k, R::zero())
}

impl<R: Real> Setting<'_, R> {
    /// Place that warm ducts pass, for a room at this temperature [°C].
    #[inline(always)]
    fn place_c(&self, room_c: R) -> R {
        room_c + self.unit.place_share * (self.outdoor_c - room_c)
    }

    /// What the extract air loses on its way to the core \[W\].
    #[inline(always)]
    pub(crate) fn extract_duct_w(&self, extract_w: R, room_c: R) -> R {
        let capacity = self.unit.extract_kg_per_s * moist_heat_capacity(extract_w);
        duct_w(self.unit.warm_duct_w_per_k, capacity, room_c - self.place_c(room_c))
    }

    /// What the supply air loses on its way from the core \[W\].
    #[inline(always)]
    pub(crate) fn supply_duct_w(&self, supply_c: R, room_c: R) -> R {
        let capacity = self.unit.supply_kg_per_s * moist_heat_capacity(self.outdoor_w);
        duct_w(self.unit.warm_duct_w_per_k, capacity, supply_c - self.place_c(room_c))
    }

    /// What the rooms give to the exhaust air on its way out \[W\].
    #[inline(always)]
    pub(crate) fn exhaust_duct_w(&self, exhaust_c: R, room_c: R) -> R {
        let capacity = self.unit.extract_kg_per_s * moist_heat_capacity(self.outdoor_w);
        duct_w(self.unit.cold_duct_w_per_k, capacity, room_c - exhaust_c)
    }
}

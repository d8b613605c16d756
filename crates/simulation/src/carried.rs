//! Heat that an hour finds after its heat balance, and owes the next hour's air.
//!
//! Not here: the balance (`thermal`), who posts what (`posting`).

use lanes::Real;
use psychrometrics::formulas::{
    VAPORISATION_0C_J_PER_KG, liquid_enthalpy_j_per_kg, vapour_enthalpy_j_per_kg,
};

use crate::moisture::Water;
use crate::step::{Found, HOUR_S, SORBED_J_PER_KG, Setting};
use crate::treatment::humidifier_j_per_kg;

/// Heat that the next hour's air node is owed \[J\].
///
/// Supply heat found less supply heat expected; the sensible part of vapour that the room air gained; heat of
/// sorption and of water condensed in the rooms and on glass; what a blower, a humidifier and a dehumidifier give; less what
/// indoor drying takes to evaporate.
#[inline(always)]
pub(crate) fn carried<R: Real>(
    setting: &Setting<'_, R>,
    found: &Found<'_, R>,
    before: &Water<R>,
    after: &Water<R>,
) -> R {
    let h = &setting.house.numbers;
    let room_c = found.thermal.air_c;
    let vapour_j = vapour_enthalpy_j_per_kg(room_c);
    let latent_j = vapour_j - liquid_enthalpy_j_per_kg(room_c);
    let stored = h.rest_air_kg * (after.rest_w - before.rest_w) + h.wet_air_kg * (after.wet_w - before.wet_w);
    let sorbed = h.surface_capacity_kg * (after.surface_rh - before.surface_rh);
    let dried = setting.of_day(h.laundry_kg_per_day, |s| s.laundry)
        + setting.of_day(h.plants_kg_per_day, |s| s.plants)
        + setting.building_kg_per_s * HOUR_S;
    let expected_j = found.expected.heat_w(room_c) * HOUR_S;
    let ducts_j = (found.expected.cold_duct_w + found.expected.warm_duct_w) * HOUR_S
        - found.sums.cold_duct_j
        - found.sums.warm_duct_j;
    found.sums.supply_sensible_j - expected_j
        + ducts_j
        + stored * (vapour_j - VAPORISATION_0C_J_PER_KG)
        + sorbed * (vapour_j - SORBED_J_PER_KG)
        + found.sums.sweat_kg * (vapour_j - SORBED_J_PER_KG)
        + (found.sums.room_kg + found.sums.dried_kg - dried) * latent_j
        + found.sums.humidified_kg * (humidifier_j_per_kg(setting, room_c) - vapour_j)
        + found.sums.dried_kg * setting.house.indoors.numbers.dehumidifier_j_per_kg
        + found.blowing.power_w * HOUR_S
}

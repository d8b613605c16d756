//! From what the hour found to ledger lines and result columns.
//!
//! Enthalpies in the core's books are computed here from the states that are reported, so that a wrong state shows as a
//! residual. Not here: anything that changes a state.

use lanes::Real;
use psychrometrics::formulas::{
    enthalpy_j_per_kg, fast_relative_humidity, liquid_enthalpy_j_per_kg, moist_heat_capacity,
    vapour_enthalpy_j_per_kg,
};

use crate::drivers::SourceShares;
use crate::ledger::{Book, Ledger, Line};
use crate::results::HourOf;
use crate::stale_air::StaleAir;
use crate::state::State;
use crate::step::{Found, HOUR_S, SORBED_J_PER_KG, Setting};
use crate::treatment::{humidifier_j_per_kg, humidifier_site_j_per_kg};

/// Posts every flow of the hour.
#[inline(always)]
pub(crate) fn post<R: Real>(setting: &Setting<'_, R>, found: &Found<'_, R>, ledger: &mut Ledger<R>) {
    post_heat(setting, found, ledger);
    post_vapour_heat(setting, found, ledger);
    post_water(setting, found, ledger);
    post_core(setting, found, ledger);
}

#[inline(always)]
fn post_heat<R: Real>(setting: &Setting<'_, R>, found: &Found<'_, R>, ledger: &mut Ledger<R>) {
    let h = &setting.house.numbers;
    let t = &found.thermal;
    let internal = setting.internal_gains_w();
    let solar = setting.solar_w();
    let lost = h.gain_share_lost * (internal * 0.5 + solar);
    let infiltration = setting.unit.infiltration_kg_per_s * moist_heat_capacity(setting.outdoor_w);
    ledger.post(Line::ConductionOpaque, h.outdoor_to_mass_w_per_k * (setting.outdoor_c - t.mass_c) * HOUR_S);
    ledger.post(Line::ConductionWindows, h.windows_w_per_k * (setting.outdoor_c - t.surface_c) * HOUR_S);
    ledger.post(Line::SolarGains, solar * HOUR_S);
    ledger.post(Line::InternalGains, internal * HOUR_S);
    ledger.post(Line::GainsLost, -lost * HOUR_S);
    ledger.post(Line::InfiltrationSensible, infiltration * (setting.outdoor_c - t.air_c) * HOUR_S);
    ledger.post(Line::SupplySensible, found.sums.supply_sensible_j);
    ledger.post(Line::SupplyFan, setting.unit.fan_heat_after_w * HOUR_S);
    let running = &found.running;
    ledger.post(Line::RecirculationFan, running.room_fan_w * HOUR_S);
    ledger.post(Line::DefrostLent, -running.lent_j);
    ledger.post(Line::DefrostReturned, running.returned_j);
    ledger.post(Line::SupplyThaw, -running.supply_thaw_j);
    let ground = setting.house.site.ground_to_mass_w_per_k * (setting.ground_c() - t.mass_c);
    ledger.post(Line::Ground, ground * HOUR_S);
    ledger.post(Line::ColdDucts, -found.sums.cold_duct_j);
    ledger.post(Line::WarmDucts, -found.sums.warm_duct_j);
    ledger.post(Line::Blower, found.blowing.power_w * HOUR_S);
    let dehumidifier_j = setting.house.indoors.numbers.dehumidifier_j_per_kg;
    ledger.post(Line::DehumidifierHeat, found.sums.dried_kg * dehumidifier_j);
    ledger.post(Line::Heating, t.heating_w * HOUR_S);
    ledger.post(Line::CoolingSensible, -t.cooling_w * HOUR_S);
}

#[inline(always)]
fn post_vapour_heat<R: Real>(setting: &Setting<'_, R>, found: &Found<'_, R>, ledger: &mut Ledger<R>) {
    let h = &setting.house.numbers;
    let sums = &found.sums;
    let room_c = found.thermal.air_c;
    let vapour_j = vapour_enthalpy_j_per_kg(room_c);
    let liquid_j = liquid_enthalpy_j_per_kg(room_c);
    let coil_j = liquid_enthalpy_j_per_kg(h.apparatus_dew_point_c);
    let infiltrated = setting.unit.infiltration_kg_per_s * setting.outdoor_w * HOUR_S;
    let brought = setting.people_kg()
        + setting.of_day(h.showers_kg_per_day, |s| s.showers)
        + setting.of_day(h.cooking_kg_per_day, |s| s.cooking);
    let dried = setting.of_day(h.laundry_kg_per_day, |s| s.laundry)
        + setting.of_day(h.plants_kg_per_day, |s| s.plants)
        + setting.building_kg_per_s * HOUR_S;
    ledger.post(Line::HumidifierHeat, sums.humidified_kg * humidifier_j_per_kg(setting, room_c));
    ledger.post(Line::DehumidifierDrain, -sums.dried_kg * liquid_j);
    ledger.post(Line::WindowRunOffHeat, -sums.ran_off_kg * SORBED_J_PER_KG);
    ledger.post(Line::InfiltrationVapour, infiltrated * vapour_j);
    ledger.post(Line::ExfiltrationVapour, -sums.exfiltrated_kg * vapour_j);
    ledger.post(Line::SupplyVapour, sums.supply_water_kg * vapour_j);
    ledger.post(Line::ExtractVapour, -sums.extract_water_kg * vapour_j);
    ledger.post(Line::CrossLeakVapourIn, sums.across_water_kg * vapour_j);
    ledger.post(Line::CrossLeakVapourOut, -sums.across_water_kg * vapour_j);
    ledger.post(Line::SourceVapour, brought * vapour_j);
    ledger.post(Line::IndoorDrying, dried * liquid_j);
    ledger.post(Line::CoolingLatent, -sums.coil_kg * (vapour_j - coil_j));
    ledger.post(Line::CoilDrain, -sums.coil_kg * coil_j);
    ledger.post(Line::RoomCondensation, -sums.room_kg * liquid_j);
}

#[inline(always)]
fn post_water<R: Real>(setting: &Setting<'_, R>, found: &Found<'_, R>, ledger: &mut Ledger<R>) {
    let h = &setting.house.numbers;
    let sums = &found.sums;
    ledger.post(Line::InfiltrationIn, setting.unit.infiltration_kg_per_s * setting.outdoor_w * HOUR_S);
    ledger.post(Line::ExfiltrationOut, -sums.exfiltrated_kg);
    ledger.post(Line::SupplyIn, sums.supply_water_kg);
    ledger.post(Line::ExtractOut, -sums.extract_water_kg);
    ledger.post(Line::CrossLeakIn, sums.across_water_kg);
    ledger.post(Line::CrossLeakOut, -sums.across_water_kg);
    ledger.post(Line::People, setting.people_kg());
    ledger.post(Line::Showers, setting.of_day(h.showers_kg_per_day, |s| s.showers));
    ledger.post(Line::Cooking, setting.of_day(h.cooking_kg_per_day, |s| s.cooking));
    ledger.post(Line::Laundry, setting.of_day(h.laundry_kg_per_day, |s| s.laundry));
    ledger.post(Line::Plants, setting.of_day(h.plants_kg_per_day, |s| s.plants));
    ledger.post(Line::NewBuilding, setting.building_kg_per_s * HOUR_S);
    ledger.post(Line::HumidifierIn, sums.humidified_kg);
    ledger.post(Line::DehumidifierOut, -sums.dried_kg);
    ledger.post(Line::WindowRunOff, -sums.ran_off_kg);
    ledger.post(Line::Coil, -sums.coil_kg);
    ledger.post(Line::RoomWater, -sums.room_kg);
}

#[inline(always)]
fn post_core<R: Real>(setting: &Setting<'_, R>, found: &Found<'_, R>, ledger: &mut Ledger<R>) {
    let sums = &found.sums;
    let unit = setting.unit;
    let (outdoor_kg, exhaust_kg) = (unit.outdoor_kg_per_s() * HOUR_S, setting.exhausted_kg_per_s() * HOUR_S);
    let exhaust_j = exhaust_kg * enthalpy_j_per_kg(found.melt.exhaust_c, found.melt.exhaust_w);
    let flows = unit.supply_kg_per_s.gt(R::zero());
    ledger.post(Line::CoreOutdoor, outdoor_kg * enthalpy_j_per_kg(setting.outdoor_c, setting.outdoor_w));
    let extracts = unit.extract_kg_per_s.gt(R::zero());
    let fans_w = R::select(flows, unit.fan_heat_before_w, R::zero())
        + R::select(extracts, unit.extract_fan_before_w, R::zero());
    ledger.post(Line::CoreFan, fans_w * HOUR_S);
    let running = &found.running;
    ledger.post(Line::CorePreheat, sums.preheat_j);
    ledger.post(Line::CoreDefrost, running.lent_j);
    ledger.post(Line::CoreIntakeDuct, sums.intake_duct_j);
    ledger.post(Line::CoreExtractDuct, -sums.extract_duct_j);
    ledger.post(Line::CoreReturned, -running.returned_j);
    ledger.post(Line::CoreThaw, running.supply_thaw_j);
    ledger.post(Line::CoreDrawnIn, sums.drawn_back_j);
    ledger.post(Line::CoreExtract, sums.extract_air_j);
    ledger.post(Line::CoreSupply, -sums.supply_air_j);
    ledger.post(Line::CoreExhaust, sums.drawn_back_j - exhaust_j);
    ledger.post(Line::CoreDrawnOut, -sums.drawn_back_j);
    ledger.post(Line::CoreDrain, -sums.drain_j);
    post_core_water(setting, found, ledger);
}

#[inline(always)]
fn post_core_water<R: Real>(setting: &Setting<'_, R>, found: &Found<'_, R>, ledger: &mut Ledger<R>) {
    let (unit, sums) = (setting.unit, &found.sums);
    let exhaust_kg = setting.exhausted_kg_per_s() * HOUR_S * found.melt.exhaust_w;
    ledger.post(Line::CoreOutdoorWater, unit.outdoor_kg_per_s() * HOUR_S * setting.outdoor_w);
    ledger.post(Line::CoreDrawnInWater, sums.drawn_back_water_kg);
    ledger.post(Line::CoreExtractWater, sums.extract_water_kg);
    ledger.post(Line::CoreSupplyWater, -sums.supply_water_kg);
    ledger.post(Line::CoreExhaustWater, sums.drawn_back_water_kg - exhaust_kg);
    ledger.post(Line::CoreDrawnOutWater, -sums.drawn_back_water_kg);
    ledger.post(Line::CoreLiquid, -sums.liquid_kg);
    ledger.post(Line::CoreMelt, -found.melted_kg());
    ledger.post(Line::CoreSupplyLiquid, -sums.supply_liquid_kg);
}

impl<R: Real> Setting<'_, R> {
    /// Water of people over the hour \[kg\].
    #[inline(always)]
    pub(crate) fn people_kg(&self) -> R {
        let h = &self.house.numbers;
        h.people * h.person_water_kg_per_s * (self.driver.presence * HOUR_S)
    }

    /// A day's water times this hour's share of it \[kg\].
    #[inline(always)]
    pub(crate) fn of_day(&self, kg_per_day: R, share: impl Fn(&SourceShares) -> f64) -> R {
        kg_per_day * self.shares.iter().map(share).sum::<f64>()
    }
}

/// How far the air is off its set-point where the plant is at its limit \[K\].
#[inline(always)]
fn short_of<R: Real>(at_limit: R::Mask, by_k: R) -> R {
    R::select(at_limit, by_k.max(R::zero()), R::zero())
}

/// What the core's own heat and thawing do to the supply air \[K\].
#[inline(always)]
fn defrost_lift_k<R: Real>(setting: &Setting<'_, R>, found: &Found<'_, R>) -> R {
    let capacity = setting.unit.delivered_kg_per_s() * moist_heat_capacity(found.sums.supply_w) * HOUR_S;
    let flows = capacity.gt(R::zero());
    let heat_j = found.running.returned_j - found.running.supply_thaw_j;
    R::select(flows, heat_j / R::select(flows, capacity, R::one()), R::zero())
}

/// Fills in the columns that a year's totals are summed from; leaves the others.
#[inline(always)]
pub(crate) fn figures<R: Real>(
    setting: &Setting<'_, R>,
    found: &Found<'_, R>,
    ledger: &Ledger<R>,
    hour: &mut HourOf<R>,
) {
    let h = &setting.house.numbers;
    let (t, sums, running) = (&found.thermal, &found.sums, &found.running);
    let per_hour = 1.0 / HOUR_S;
    let latent_w = -ledger.line(Line::CoolingLatent) * per_hour;
    // A wheel has no drain: what it holds as water leaves with the air.
    let (drained, carried_over) =
        if setting.core.is_wheel() { (R::zero(), leaving_kg(found)) } else { (leaving_kg(found), R::zero()) };
    let indoors = &setting.house.indoors.numbers;
    hour.relative_humidity = fast_relative_humidity(t.air_c, sums.rest_w, setting.pressure_pa);
    hour.heating_site_w = t.heating_w / h.heating_efficiency;
    hour.cooling_site_w = (t.cooling_w + latent_w) / h.cooling_cop;
    hour.fan_w = setting.unit.fan_w;
    hour.preheat_w = sums.preheat_j * per_hour;
    hour.defrost_share = running.defrost_share;
    hour.blocked_share = running.blocked_share;
    hour.missed_outdoor_air_kg = running.missed_kg_per_s * HOUR_S;
    hour.recovered_sensible_w = sums.recovered_sensible_j * per_hour;
    hour.recovered_latent_w = sums.recovered_latent_j * per_hour;
    hour.drain_kg = drained;
    hour.ice_formed_kg = sums.ice_kg;
    hour.outdoor_air_kg = setting.unit.outdoor_kg_per_s() * HOUR_S;
    hour.window_wet_share = sums.wet_centre;
    hour.humidifier_w = sums.humidified_kg * humidifier_site_j_per_kg(indoors) * per_hour;
    hour.dehumidifier_w = sums.dried_kg * indoors.dehumidifier_j_per_kg * per_hour;
    hour.blower_w = found.blowing.power_w;
    hour.carried_over_kg = carried_over;
    hour.air_c = t.air_c;
    hour.heating_load_w = t.heating_w;
    hour.cooling_sensible_w = t.cooling_w;
    hour.cooling_latent_w = latent_w;
    hour.defrost_heat_w = running.lent_j * per_hour;
    hour.supply_side_liquid_kg = sums.supply_liquid_kg;
    hour.window_edge_wet_share = sums.wet_edge;
}

/// Water that leaves the core in the hour \[kg\].
#[inline(always)]
fn leaving_kg<R: Real>(found: &Found<'_, R>) -> R {
    found.sums.liquid_kg + found.sums.supply_liquid_kg + found.melted_kg()
}

/// Fills in all of the hour's columns.
#[inline(always)]
pub(crate) fn results<R: Real>(
    setting: &Setting<'_, R>,
    found: &Found<'_, R>,
    (state, stale, bedroom_ppm): (&State<R>, &StaleAir<R>, R),
    ledger: &Ledger<R>,
    hour: &mut HourOf<R>,
) {
    figures(setting, found, ledger, hour);
    let h = &setting.house.numbers;
    let (t, sums) = (&found.thermal, &found.sums);
    let per_hour = 1.0 / HOUR_S;
    let running = &found.running;
    let sources =
        [Line::People, Line::Showers, Line::Cooking, Line::Laundry, Line::Plants, Line::NewBuilding];
    *hour = HourOf {
        outdoor_c: setting.outdoor_c,
        outdoor_humidity_ratio: setting.outdoor_w,
        pressure_pa: setting.pressure_pa,
        operative_c: t.air_c * 0.3 + t.surface_c * 0.7,
        humidity_ratio: sums.rest_w,
        wet_humidity_ratio: sums.wet_w,
        wet_relative_humidity: fast_relative_humidity(t.air_c, sums.wet_w, setting.pressure_pa),
        supply_c: sums.supply_c + defrost_lift_k(setting, found),
        supply_humidity_ratio: sums.supply_w,
        exhaust_c: found.melt.exhaust_c,
        exhaust_humidity_ratio: found.melt.exhaust_w,
        core_inlet_c: sums.inlet_c,
        plate_cold_end_c: sums.plate_c,
        delivered_air_kg: setting.unit.delivered_kg_per_s() * HOUR_S,
        cross_leaked_air_kg: setting.unit.cross_leak_kg_per_s * HOUR_S,
        infiltration_air_kg: setting.unit.infiltration_kg_per_s * HOUR_S,
        exfiltration_air_kg: setting.unit.exfiltration_kg_per_s * HOUR_S,
        intake_air_kg: (setting.unit.supply_kg_per_s + setting.unit.bypass_kg_per_s) * HOUR_S,
        exhaust_air_kg: (setting.exhausted_kg_per_s() + setting.unit.bypass_kg_per_s) * HOUR_S,
        defrost_returned_w: running.returned_j * per_hour,
        bypass_share: running.avoidance.given_up,
        liquid_kg: sums.liquid_kg,
        ice_melted_kg: found.melted_kg(),
        frost_kg: state.frost_kg,
        coil_kg: sums.coil_kg,
        co2_ppm: stale.mean_ppm,
        bedroom_co2_ppm: bedroom_ppm,
        window_run_off_kg: sums.ran_off_kg,
        humidified_kg: sums.humidified_kg,
        dehumidified_kg: sums.dried_kg,
        cold_duct_w: sums.cold_duct_j * per_hour,
        warm_duct_w: (sums.warm_duct_j + sums.extract_duct_j) * per_hour,
        ground_w: ledger.line(Line::Ground) * per_hour,
        heating_short_k: short_of(t.heating_w.ge(h.heating_capacity_w), found.sets.0 - t.air_c),
        cooling_short_k: short_of(t.cooling_w.ge(h.cooling_capacity_w), t.air_c - found.sets.1),
        sources_kg: sources.iter().fold(R::zero(), |sum, &line| sum + ledger.line(line)),
        room_condensation_kg: sums.room_kg,
        exhaust_gap_k: sums.exhaust_gap_k,
        repeated_steps: sums.repeated,
        energy_residual_j: ledger.residual(Book::Heat),
        energy_inflow_j: ledger.inflow(Book::Heat),
        water_residual_kg: ledger.residual(Book::Water),
        water_inflow_kg: ledger.inflow(Book::Water),
        core_residual_j: ledger.residual(Book::CoreHeat),
        core_inflow_j: ledger.inflow(Book::CoreHeat),
        core_water_residual_kg: ledger.residual(Book::CoreWater),
        core_water_inflow_kg: ledger.inflow(Book::CoreWater),
        ..*hour
    };
}

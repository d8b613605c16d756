//! An hour's moisture in sub-steps, with the core solved at the extract air that each one meets.
//!
//! What couples the rooms to the core within a sub-step (vapour through a membrane, drying of the supply air) is
//! taken from the solution before it; heat, liquid and ice from the solution after it, at the extract air's mean.
//! Not here: the rooms' equations (`moisture`), the core's (`exchanger`).

use exchanger::{Fluxes, Inlets, outlets};
use lanes::{Mask, Real};
use psychrometrics::formulas::{
    enthalpy_j_per_kg, fast_saturation_humidity_ratio, fast_saturation_pa, ice_enthalpy_j_per_kg,
    liquid_enthalpy_j_per_kg, moist_heat_capacity, vapour_enthalpy_j_per_kg,
};

use crate::drivers::SourceShares;
use crate::mixing::{Air, mixed};
use crate::moisture::{MoistureDrive, MoistureStep, Water, advance};
use crate::panes::{FILMS, PanesHour, panes_hour};
use crate::state::State;
use crate::step::{HOUR_S, Setting};
use crate::thermal::ThermalHour;
use crate::treatment::{treat, treats};

macro_rules! sums {
    ($($(#[doc = $doc:literal])+ $name:ident),+ $(,)?) => {
        /// What an hour's sub-steps add up to: amounts are sums, states are means over time.
        #[derive(Debug, Clone, Copy)]
        pub(crate) struct Sums<R> { $($(#[doc = $doc])+ pub(crate) $name: R),+ }

        impl<R: Real> Sums<R> {
            #[inline(always)]
            fn zero() -> Self {
                Self { $($name: R::zero()),+ }
            }
        }
    };
}

sums! {
    /// Humidity ratio of the rest zone.
    rest_w,
    /// Humidity ratio of the wet zone.
    wet_w,
    /// Humidity ratio of the extract air.
    extract_w,
    /// Air leaving the supply port, before the heat of a fan after the core [°C].
    supply_c,
    /// Air leaving the supply port [kg/kg].
    supply_w,
    /// Heat of the air leaving the core's supply side against the room's temperature \[J\].
    supply_sensible_j,
    /// Sensible heat that the core passed to the supply air \[J\].
    recovered_sensible_j,
    /// Latent heat that it passed \[J\].
    recovered_latent_j,
    /// Enthalpy of the air leaving the core's supply side \[J\].
    supply_air_j,
    /// Enthalpy of the air entering the core's extract side \[J\].
    extract_air_j,
    /// Enthalpy of the exhaust air, before frost melts \[J\].
    exhaust_air_j,
    /// Enthalpy of own exhaust air drawn back in, at the state that was drawn \[J\].
    drawn_back_j,
    /// Water of the air leaving the core's supply side \[kg\].
    supply_water_kg,
    /// Water of the air entering the core's extract side \[kg\].
    extract_water_kg,
    /// Water of the extract air that leaked past the core \[kg\].
    across_water_kg,
    /// Water of own exhaust air drawn back in \[kg\].
    drawn_back_water_kg,
    /// Water of the exhaust air \[kg\].
    exhaust_water_kg,
    /// Enthalpy of liquid that drains as it forms \[J\].
    drain_j,
    /// Enthalpy of ice laid down \[J\].
    ice_j,
    /// Liquid formed on the extract side \[kg\].
    liquid_kg,
    /// Ice laid down \[kg\].
    ice_kg,
    /// Liquid formed on the supply side \[kg\].
    supply_liquid_kg,
    /// Coldest spot of the plate [°C].
    plate_c,
    /// Exhaust temperature as the solution itself reached it, less the one that closes the books \[K\].
    exhaust_gap_k,
    /// Water removed by the cooling coil \[kg\].
    coil_kg,
    /// Water that the room air could not hold \[kg\].
    room_kg,
    /// Water lost by exfiltration \[kg\].
    exfiltrated_kg,
    /// Sub-steps repeated.
    repeated,
    /// Electric heat of the preheater \[J\].
    preheat_j,
    /// Air entering the core's supply side [°C].
    inlet_c,
    /// Room heat that cold ducts took \[J\].
    cold_duct_j,
    /// The part of it that is in the air before the core \[J\].
    intake_duct_j,
    /// Heat that the supply air's duct lost \[J\].
    warm_duct_j,
    /// Heat that the extract air's duct lost \[J\].
    extract_duct_j,
    /// Net water from the air onto glass \[kg\].
    sweat_kg,
    /// Water that ran off glass \[kg\].
    ran_off_kg,
    /// Share of the hour with a wet centre of some glass.
    wet_centre,
    /// Share of the hour with a wet edge.
    wet_edge,
    /// Water from the humidifier \[kg\].
    humidified_kg,
    /// Water that the dehumidifier took \[kg\].
    dried_kg,
}

/// What does not change between the hour's sub-steps.
struct Hour<R> {
    room_c: R,
    saturation_pa: R,
    saturation_w: R,
    coil_kg_per_s: R,
    coil_w: R,
    /// Share of extract air in what leaves the supply port.
    across_share: R,
    panes: PanesHour<R>,
    /// Whether something treats the air beside the coil.
    treats: bool,
    seconds: f64,
    share: f64,
}

/// Takes the rooms' water and the core through the hour.
#[inline(always)]
pub(crate) fn run_substeps<R: Real>(
    setting: &Setting<'_, R>,
    thermal: &ThermalHour<R>,
    before: &Fluxes<R>,
    state: &mut State<R>,
) -> Sums<R> {
    let hour = hour(setting, thermal);
    let mut sums = Sums::zero();
    let mut coupling = *before;
    let (cold, warm) = (setting.unit.cold_duct_w_per_k, setting.unit.warm_duct_w_per_k);
    let has_ducts = (cold.gt(R::zero()) | warm.gt(R::zero())).any();
    let draws_back = setting.unit.recirculated_share.gt(R::zero()).any();
    let mut intake_now = setting.intake(&state.exhaust, hour.room_c);
    for (place, shares) in setting.shares.iter().enumerate() {
        let drawn_back = state.exhaust;
        // Outdoor air alone is the same in every sub-step.
        if draws_back && place > 0 {
            intake_now = setting.intake(&drawn_back, hour.room_c);
        }
        let intake = intake_now;
        sums.intake_duct_j += intake.duct_w * hour.seconds;
        sums.preheat_j += intake.preheat_w * hour.seconds;
        sums.inlet_c += intake.air.temperature_c * hour.share;
        let (intake, intake_duct_w) = (intake.air, intake.duct_w);
        let drive = drive(setting, &hour, (&coupling, &intake), shares);
        let mut rooms = R::outlined(
            #[inline(always)]
            || advance(&setting.house.numbers, setting.unit, &state.water, &drive),
        );
        if hour.treats {
            R::outlined(
                #[inline(always)]
                || treat_rooms(setting, &hour, &mut rooms, &mut state.films_kg, &mut sums),
            );
        }
        state.water = rooms.end;
        add_rooms(setting, &hour, &rooms, &mut state.water, &mut sums);
        let extract_w = extract_of(setting, &rooms.mean);
        let inlets = setting.inlets(&intake, hour.room_c, extract_w);
        let solved = setting.solve_core(&inlets);
        let used = as_used(&inlets, &coupling, &solved);
        state.exhaust = R::outlined(
            #[inline(always)]
            || add_core(&hour, &inlets, &used, setting.alone_kg_per_s, &mut sums),
        );
        add_leaks(setting, &hour, &drawn_back, extract_w, &mut sums);
        if has_ducts {
            let air = (state.exhaust.temperature_c, intake_duct_w);
            add_ducts(setting, &hour, (&inlets, &used), air, &mut sums);
        }
        coupling = solved;
    }
    sums
}

#[inline(always)]
fn hour<R: Real>(setting: &Setting<'_, R>, thermal: &ThermalHour<R>) -> Hour<R> {
    let h = &setting.house.numbers;
    let count = setting.shares.len() as f64;
    let room_c = thermal.air_c;
    // Only cooling air can be below the room; the guard keeps a coil at room temperature from dividing by zero.
    let lift_k = (room_c - h.apparatus_dew_point_c).max(R::splat(0.1));
    let cp = moist_heat_capacity(setting.outdoor_w);
    let delivered = setting.unit.delivered_kg_per_s();
    let safe_delivered = R::select(delivered.gt(R::zero()), delivered, R::one());
    let panes = panes_hour(&setting.house.indoors, (room_c, setting.outdoor_c), setting.pressure_pa);
    Hour {
        treats: treats(&setting.house.indoors.numbers, &panes),
        panes,
        room_c,
        saturation_pa: fast_saturation_pa(room_c),
        saturation_w: fast_saturation_humidity_ratio(room_c, setting.pressure_pa),
        coil_kg_per_s: thermal.cooling_w / (cp * lift_k) * setting.coil_drains,
        coil_w: fast_saturation_humidity_ratio(h.apparatus_dew_point_c, setting.pressure_pa),
        across_share: setting.unit.cross_leak_kg_per_s / safe_delivered,
        seconds: HOUR_S / count,
        share: 1.0 / count,
    }
}

#[inline(always)]
fn drive<R: Real>(
    setting: &Setting<'_, R>,
    hour: &Hour<R>,
    (coupling, intake): (&Fluxes<R>, &Air<R>),
    shares: &SourceShares,
) -> MoistureDrive<R> {
    let h = &setting.house.numbers;
    let per_second = 1.0 / hour.seconds;
    let people = h.people * h.person_water_kg_per_s * setting.driver.presence;
    let wet = h.showers_kg_per_day * shares.showers
        + h.cooking_kg_per_day * shares.cooking
        + h.laundry_kg_per_day * shares.laundry;
    let slope = coupling.vapour_supply_effectiveness;
    MoistureDrive {
        seconds: hour.seconds,
        outdoor_w: setting.outdoor_w,
        pressure_pa: setting.pressure_pa,
        saturation_pa: hour.saturation_pa,
        rest_source: people + h.plants_kg_per_day * (shares.plants * per_second) + setting.building_kg_per_s,
        wet_source: wet * per_second,
        supply_base_w: intake.humidity_ratio * (R::one() - slope)
            + (coupling.vapour_offset_kg_per_s - coupling.supply_liquid_kg_per_s)
                / setting.unit.supply_kg_per_s.max(R::splat(1e-9)),
        supply_slope: slope,
        alone_kg_per_s: setting.alone_kg_per_s,
        mixing_kg_per_s: setting.mixing_kg_per_s,
        coil_kg_per_s: hour.coil_kg_per_s,
        coil_w: hour.coil_w,
        saturation_w: hour.saturation_w,
        responds: hour.treats,
    }
}

#[inline(always)]
fn extract_of<R: Real>(setting: &Setting<'_, R>, water: &Water<R>) -> R {
    let wet_share = setting.unit.extract_wet_share;
    water.wet_w * wet_share + water.rest_w * (R::one() - wet_share)
}

/// Glass, humidifier and dehumidifier after the rooms themselves.
#[inline(always)]
fn treat_rooms<R: Real>(
    setting: &Setting<'_, R>,
    hour: &Hour<R>,
    rooms: &mut MoistureStep<R>,
    films_kg: &mut [R; FILMS],
    sums: &mut Sums<R>,
) {
    let air = (hour.saturation_pa, setting.pressure_pa, hour.seconds);
    let treated = treat(&setting.house.indoors.numbers, &hour.panes, films_kg, air, (rooms, hour.coil_w));
    sums.sweat_kg += treated.sweat_kg;
    sums.ran_off_kg += treated.ran_off_kg;
    sums.wet_centre += treated.wet_centre * hour.share;
    sums.wet_edge += treated.wet_edge * hour.share;
    sums.humidified_kg += treated.humidified_kg;
    sums.dried_kg += treated.dried_kg;
}

/// Adds what the rooms did; takes out water that the air cannot hold.
#[inline(always)]
fn add_rooms<R: Real>(
    setting: &Setting<'_, R>,
    hour: &Hour<R>,
    rooms: &MoistureStep<R>,
    end: &mut Water<R>,
    sums: &mut Sums<R>,
) {
    let h = &setting.house.numbers;
    let zero = R::zero();
    let rest_excess = (end.rest_w - hour.saturation_w).max(zero);
    let wet_excess = (end.wet_w - hour.saturation_w).max(zero);
    end.rest_w -= rest_excess;
    end.wet_w -= wet_excess;
    let leaked = rooms.mean.wet_w * h.wet_share + rooms.mean.rest_w * (R::one() - h.wet_share);
    sums.room_kg += rooms.condensed_kg + h.rest_air_kg * rest_excess + h.wet_air_kg * wet_excess;
    sums.exfiltrated_kg += setting.unit.exfiltration_kg_per_s * leaked * hour.seconds;
    sums.coil_kg += rooms.coil_kg_per_s * (rooms.mean.rest_w - hour.coil_w) * hour.seconds;
    sums.repeated += rooms.repeated;
    sums.rest_w += rooms.mean.rest_w * hour.share;
    sums.wet_w += rooms.mean.wet_w * hour.share;
}

/// The solution at the extract air's mean, with the couplings that the rooms were stepped with.
#[inline(always)]
fn as_used<R: Real>(inlets: &Inlets<R>, coupling: &Fluxes<R>, solved: &Fluxes<R>) -> Fluxes<R> {
    let difference = inlets.extract_humidity_ratio - inlets.outdoor_humidity_ratio;
    Fluxes {
        vapour_kg_per_s: inlets.supply_kg_per_s * coupling.vapour_supply_effectiveness * difference
            + coupling.vapour_offset_kg_per_s,
        supply_liquid_kg_per_s: coupling.supply_liquid_kg_per_s,
        ..*solved
    }
}

/// Adds what enters and leaves the core; answers its exhaust air.
#[inline(always)]
fn add_core<R: Real>(
    hour: &Hour<R>,
    inlets: &Inlets<R>,
    fluxes: &Fluxes<R>,
    alone_kg_per_s: R,
    sums: &mut Sums<R>,
) -> Air<R> {
    let out = outlets(inlets, fluxes);
    let of_core = Air { temperature_c: out.supply_c, humidity_ratio: out.supply_humidity_ratio };
    // What leaks past the core comes from the rooms as they are.
    let extract = Air { temperature_c: hour.room_c, humidity_ratio: inlets.extract_humidity_ratio };
    let supply = mixed(&of_core, &extract, hour.across_share);
    let seconds = hour.seconds;
    let supply_kg = inlets.supply_kg_per_s * seconds;
    let extract_kg = inlets.extract_kg_per_s * seconds;
    // Extract air that passes while the supply is off gives its heat to the core's defrost (`running`), not here.
    let alone_kg = alone_kg_per_s * seconds;
    let (room_h, room_w) =
        (enthalpy_j_per_kg(hour.room_c, inlets.extract_humidity_ratio), inlets.extract_humidity_ratio);
    let rise = out.supply_c - inlets.outdoor_c;
    let moistened = out.supply_humidity_ratio - inlets.outdoor_humidity_ratio;
    sums.extract_w += inlets.extract_humidity_ratio * hour.share;
    sums.supply_c += supply.temperature_c * hour.share;
    sums.supply_w += supply.humidity_ratio * hour.share;
    sums.supply_sensible_j +=
        supply_kg * moist_heat_capacity(out.supply_humidity_ratio) * (out.supply_c - hour.room_c);
    sums.recovered_sensible_j += supply_kg * moist_heat_capacity(inlets.outdoor_humidity_ratio) * rise;
    sums.recovered_latent_j += supply_kg * moistened * vapour_enthalpy_j_per_kg(out.supply_c);
    sums.supply_air_j += supply_kg * enthalpy_j_per_kg(out.supply_c, out.supply_humidity_ratio);
    sums.extract_air_j += (extract_kg + alone_kg) * room_h;
    sums.exhaust_air_j +=
        extract_kg * enthalpy_j_per_kg(out.exhaust_c, out.exhaust_humidity_ratio) + alone_kg * room_h;
    sums.supply_water_kg += supply_kg * out.supply_humidity_ratio;
    sums.extract_water_kg += (extract_kg + alone_kg) * room_w;
    sums.exhaust_water_kg += extract_kg * out.exhaust_humidity_ratio + alone_kg * room_w;
    let liquid = (fluxes.liquid_kg_per_s + fluxes.supply_liquid_kg_per_s) * seconds;
    sums.drain_j += liquid * liquid_enthalpy_j_per_kg(fluxes.liquid_c);
    sums.ice_j += fluxes.ice_kg_per_s * seconds * ice_enthalpy_j_per_kg(fluxes.ice_c);
    sums.liquid_kg += fluxes.liquid_kg_per_s * seconds;
    sums.ice_kg += fluxes.ice_kg_per_s * seconds;
    sums.supply_liquid_kg += fluxes.supply_liquid_kg_per_s * seconds;
    sums.plate_c += fluxes.plate_cold_c * hour.share;
    sums.exhaust_gap_k += (fluxes.own_exhaust_c - out.exhaust_c) * hour.share;
    Air { temperature_c: out.exhaust_c, humidity_ratio: out.exhaust_humidity_ratio }
}

/// Adds what ducts took and lost in a sub-step.
#[inline(always)]
fn add_ducts<R: Real>(
    setting: &Setting<'_, R>,
    hour: &Hour<R>,
    (inlets, used): (&Inlets<R>, &Fluxes<R>),
    (exhaust_c, intake_duct_w): (R, R),
    sums: &mut Sums<R>,
) {
    let exhaust_duct_w = setting.exhaust_duct_w(exhaust_c, hour.room_c);
    let supply_c = outlets(inlets, used).supply_c;
    sums.cold_duct_j += (intake_duct_w + exhaust_duct_w) * hour.seconds;
    sums.warm_duct_j += setting.supply_duct_w(supply_c, hour.room_c) * hour.seconds;
    sums.extract_duct_j += setting.extract_duct_w(inlets.extract_humidity_ratio, hour.room_c) * hour.seconds;
}

/// Adds the air that leaked past the core, and the exhaust air drawn back at the state at which it entered the mixture.
#[inline(always)]
fn add_leaks<R: Real>(
    setting: &Setting<'_, R>,
    hour: &Hour<R>,
    drawn_back: &Air<R>,
    extract_w: R,
    sums: &mut Sums<R>,
) {
    let drawn_kg = setting.unit.drawn_back_kg_per_s() * hour.seconds;
    sums.across_water_kg += setting.unit.cross_leak_kg_per_s * hour.seconds * extract_w;
    sums.drawn_back_j += drawn_kg * enthalpy_j_per_kg(drawn_back.temperature_c, drawn_back.humidity_ratio);
    sums.drawn_back_water_kg += drawn_kg * drawn_back.humidity_ratio;
}

//! What enters a core, what passes in it, and what leaves: the types, and the balance that ties them.
//!
//! Fluxes are found once and posted to both streams; the leaving states follow from enthalpy. The distance to
//! the exhaust temperature that the solution itself reached is kept ([`Fluxes::own_exhaust_c`]), as a measure
//! of the solution and not as a way to close the books.
//!
//! Not here: how fluxes are found (`line`, `cell`).

use lanes::Real;
use psychrometrics::formulas::{
    CP_DRY_AIR_J_PER_KGK, CP_VAPOUR_J_PER_KGK, VAPORISATION_0C_J_PER_KG, enthalpy_j_per_kg,
    ice_enthalpy_j_per_kg, liquid_enthalpy_j_per_kg, moist_heat_capacity, vapour_enthalpy_j_per_kg,
};

/// What kind of core it is. A batch has one kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CoreKind {
    /// Parallel plates that pass heat only.
    SensiblePlate,
    /// Parallel membranes that pass heat and water vapour.
    EnthalpyPlate,
    /// Plates that the streams pass at right angles.
    SensibleCrossPlate,
    /// Membranes that the streams pass at right angles.
    EnthalpyCrossPlate,
    /// A turning matrix that stores heat.
    SensibleWheel,
    /// A turning matrix that stores heat and vapour.
    EnthalpyWheel,
}

impl CoreKind {
    /// Every kind.
    pub const ALL: [Self; 6] = [
        Self::SensiblePlate,
        Self::EnthalpyPlate,
        Self::SensibleCrossPlate,
        Self::EnthalpyCrossPlate,
        Self::SensibleWheel,
        Self::EnthalpyWheel,
    ];

    /// Whether vapour passes while nothing condenses.
    pub fn passes_vapour(self) -> bool {
        matches!(self, Self::EnthalpyPlate | Self::EnthalpyCrossPlate | Self::EnthalpyWheel)
    }

    /// Whether it turns: it has no drain, and what condenses leaves with the air.
    pub fn is_wheel(self) -> bool {
        matches!(self, Self::SensibleWheel | Self::EnthalpyWheel)
    }
}

/// What a core can pass, at the flows of the hour: as the counterflow core of equal dry effectiveness, and for
/// crossflow also as its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Core<R> {
    /// Heat conductance from stream to stream, both films included [W/K], 0 for no core.
    pub ua_w_per_k: R,
    /// Vapour conductance from stream to stream, both films included [kg dry air/s], 0 for a plate.
    pub vapour_kg_per_s: R,
    /// Heat conductance on the grid of a crossflow core [W/K]; not used by the other kinds.
    pub crossed_ua_w_per_k: R,
    /// Vapour conductance on that grid [kg dry air/s].
    pub crossed_vapour_kg_per_s: R,
}

impl<R: Real> Core<R> {
    /// A counterflow core, or a wheel.
    #[inline(always)]
    pub fn counterflow(ua_w_per_k: R, vapour_kg_per_s: R) -> Self {
        Self {
            ua_w_per_k,
            vapour_kg_per_s,
            crossed_ua_w_per_k: ua_w_per_k,
            crossed_vapour_kg_per_s: vapour_kg_per_s,
        }
    }
}

/// The air that enters a core.
#[derive(Debug, Clone, Copy)]
pub struct Inlets<R> {
    /// Outdoor air [°C], −60…60.
    pub outdoor_c: R,
    /// Outdoor air [kg/kg dry air].
    pub outdoor_humidity_ratio: R,
    /// Extract air [°C], −60…60.
    pub extract_c: R,
    /// Extract air [kg/kg dry air].
    pub extract_humidity_ratio: R,
    /// Supply side flow [kg dry air/s], 0 or more.
    pub supply_kg_per_s: R,
    /// Extract side flow [kg dry air/s], 0 or more.
    pub extract_kg_per_s: R,
    /// Barometric pressure \[Pa\].
    pub pressure_pa: R,
}

/// What passes in a core.
#[derive(Debug, Clone, Copy)]
pub struct Fluxes<R> {
    /// Heat through the plate into the supply side, condensation heat included \[W\].
    pub heat_w: R,
    /// Vapour through the membrane into the supply side [kg/s].
    pub vapour_kg_per_s: R,
    /// Liquid that forms on the extract side [kg/s].
    pub liquid_kg_per_s: R,
    /// Ice that forms on the extract side [kg/s].
    pub ice_kg_per_s: R,
    /// Liquid that forms on the supply side, in humid summers [kg/s].
    pub supply_liquid_kg_per_s: R,
    /// Temperature at which liquid leaves [°C].
    pub liquid_c: R,
    /// Temperature at which ice is laid down [°C].
    pub ice_c: R,
    /// Coldest spot of the plate [°C].
    pub plate_cold_c: R,
    /// Exhaust temperature as the solution itself reached it [°C].
    pub own_exhaust_c: R,
    /// Heat to the supply side for each kelvin that the extract is warmer than outdoors, plate dry, as a
    /// fraction of the supply side's heat capacity flow: the slope of the supply temperature with the room's.
    pub dry_supply_effectiveness: R,
    /// Vapour to the supply side for each kg/kg of difference, as a fraction of the supply side flow.
    pub vapour_supply_effectiveness: R,
    /// Vapour into the supply side that does not follow that slope: what a wet face changes [kg/s].
    pub vapour_offset_kg_per_s: R,
}

/// The air that leaves a core, before any fan.
#[derive(Debug, Clone, Copy)]
pub struct Outlets<R> {
    /// Supply air [°C].
    pub supply_c: R,
    /// Supply air [kg/kg dry air].
    pub supply_humidity_ratio: R,
    /// Exhaust air [°C].
    pub exhaust_c: R,
    /// Exhaust air [kg/kg dry air].
    pub exhaust_humidity_ratio: R,
}

impl<R: Real> Fluxes<R> {
    /// Nothing passes; the leaving air is the entering air.
    #[inline(always)]
    pub fn none(inlets: &Inlets<R>) -> Self {
        let zero = R::zero();
        Self {
            heat_w: zero,
            vapour_kg_per_s: zero,
            liquid_kg_per_s: zero,
            ice_kg_per_s: zero,
            supply_liquid_kg_per_s: zero,
            liquid_c: zero,
            ice_c: zero,
            plate_cold_c: inlets.outdoor_c.min(inlets.extract_c),
            own_exhaust_c: inlets.extract_c,
            dry_supply_effectiveness: zero,
            vapour_supply_effectiveness: zero,
            vapour_offset_kg_per_s: zero,
        }
    }
}

/// States of the air that leaves, from the enthalpy and water that entered and passed.
///
/// Dry-air flow, water and enthalpy are conserved on each side: supply `m h₂ = m h₁ + q + v h_v(t₂) − l h_l`,
/// exhaust `m h₄ = m h₃ − q − v h_v(t₂) − l h_l − i h_i`. A side without flow leaves as it entered.
#[inline(always)]
pub fn outlets<R: Real>(inlets: &Inlets<R>, fluxes: &Fluxes<R>) -> Outlets<R> {
    let (supply_c, supply_water) = supply_outlet(inlets, fluxes);
    let m = inlets.extract_kg_per_s;
    let water = m * inlets.extract_humidity_ratio
        - fluxes.vapour_kg_per_s
        - fluxes.liquid_kg_per_s
        - fluxes.ice_kg_per_s;
    let enthalpy = m * enthalpy_j_per_kg(inlets.extract_c, inlets.extract_humidity_ratio)
        - fluxes.heat_w
        - fluxes.vapour_kg_per_s * vapour_enthalpy_j_per_kg(supply_c)
        - fluxes.liquid_kg_per_s * liquid_enthalpy_j_per_kg(fluxes.liquid_c)
        - fluxes.ice_kg_per_s * ice_enthalpy_j_per_kg(fluxes.ice_c);
    let (exhaust_c, exhaust_w) = state(m, water, enthalpy, inlets.extract_c, inlets.extract_humidity_ratio);
    let supplied = inlets.supply_kg_per_s;
    let flows = supplied.gt(R::zero());
    let supply_w = supply_water / R::select(flows, supplied, R::one());
    let supply_w = R::select(flows, supply_w, inlets.outdoor_humidity_ratio);
    Outlets { supply_c, supply_humidity_ratio: supply_w, exhaust_c, exhaust_humidity_ratio: exhaust_w }
}

/// Supply temperature [°C] and its water [kg/s]. Vapour that crosses arrives at the supply temperature, so it
/// adds water but does not move the temperature.
#[inline(always)]
fn supply_outlet<R: Real>(inlets: &Inlets<R>, fluxes: &Fluxes<R>) -> (R, R) {
    let m = inlets.supply_kg_per_s;
    let kept = m * inlets.outdoor_humidity_ratio - fluxes.supply_liquid_kg_per_s;
    let enthalpy = m * enthalpy_j_per_kg(inlets.outdoor_c, inlets.outdoor_humidity_ratio) + fluxes.heat_w
        - fluxes.supply_liquid_kg_per_s * liquid_enthalpy_j_per_kg(fluxes.liquid_c);
    let flows = m.gt(R::zero());
    let capacity = m * CP_DRY_AIR_J_PER_KGK + kept * CP_VAPOUR_J_PER_KGK;
    let t = (enthalpy - kept * VAPORISATION_0C_J_PER_KG) / R::select(flows, capacity, R::one());
    (R::select(flows, t, inlets.outdoor_c), kept + fluxes.vapour_kg_per_s)
}

/// Temperature [°C] and humidity ratio of a flow that carries this much water [kg/s] and enthalpy \[W\];
/// the fallback state where nothing flows.
#[inline(always)]
fn state<R: Real>(dry_air: R, water: R, enthalpy: R, idle_c: R, idle_w: R) -> (R, R) {
    let flows = dry_air.gt(R::zero());
    let capacity = dry_air * CP_DRY_AIR_J_PER_KGK + water * CP_VAPOUR_J_PER_KGK;
    let safe_capacity = R::select(flows, capacity, R::one());
    let safe_air = R::select(flows, dry_air, R::one());
    let both = R::one() / (safe_capacity * safe_air);
    let t = (enthalpy - water * VAPORISATION_0C_J_PER_KG) * (safe_air * both);
    (R::select(flows, t, idle_c), R::select(flows, water * (safe_capacity * both), idle_w))
}

/// A core's two streams sorted by temperature: only the hotter one can lose water.
#[derive(Debug, Clone, Copy)]
pub(crate) struct HotAndCold<R> {
    pub(crate) hot_c: R,
    pub(crate) hot_w: R,
    pub(crate) cold_c: R,
    pub(crate) cold_w: R,
    pub(crate) hot_kg_per_s: R,
    pub(crate) cold_kg_per_s: R,
    /// Heat capacity flow of the hot stream [W/K].
    pub(crate) hot_capacity: R,
    /// Heat capacity flow of the cold stream [W/K].
    pub(crate) cold_capacity: R,
    /// Heat capacity of the hot stream [J/kgK].
    pub(crate) hot_cp: R,
    /// Heat conductance [W/K].
    pub(crate) ua: R,
    pub(crate) pressure_pa: R,
}

impl<R: Real> HotAndCold<R> {
    /// Sorts the streams. Flows of zero are given a token capacity of 1 µW/K so that ratios stay finite; the
    /// conductance is then zero (see `line`).
    #[inline(always)]
    pub(crate) fn sort(inlets: &Inlets<R>, ua: R) -> (Self, R::Mask) {
        let supply_cp = moist_heat_capacity(inlets.outdoor_humidity_ratio);
        let extract_cp = moist_heat_capacity(inlets.extract_humidity_ratio);
        let token = R::splat(1e-6);
        let supply_capacity = (inlets.supply_kg_per_s * supply_cp).max(token);
        let extract_capacity = (inlets.extract_kg_per_s * extract_cp).max(token);
        let extract_is_hot = inlets.extract_c.ge(inlets.outdoor_c);
        let pick = |hot: R, cold: R| R::select(extract_is_hot, hot, cold);
        let sorted = Self {
            hot_c: pick(inlets.extract_c, inlets.outdoor_c),
            hot_w: pick(inlets.extract_humidity_ratio, inlets.outdoor_humidity_ratio),
            cold_c: pick(inlets.outdoor_c, inlets.extract_c),
            cold_w: pick(inlets.outdoor_humidity_ratio, inlets.extract_humidity_ratio),
            hot_kg_per_s: pick(inlets.extract_kg_per_s, inlets.supply_kg_per_s),
            cold_kg_per_s: pick(inlets.supply_kg_per_s, inlets.extract_kg_per_s),
            hot_capacity: pick(extract_capacity, supply_capacity),
            cold_capacity: pick(supply_capacity, extract_capacity),
            hot_cp: pick(extract_cp, supply_cp),
            ua,
            pressure_pa: inlets.pressure_pa,
        };
        (sorted, extract_is_hot)
    }
}

/// What passes from the hot stream to the cold one, as a flow into the supply side: the other way round in summer.
#[inline(always)]
pub(crate) fn into_supply<R: Real>(extract_is_hot: R::Mask, into_cold: R) -> R {
    R::select(extract_is_hot, into_cold, -into_cold)
}

//! A house and a unit as numbers, and the same for a row of houses.
//!
//! Everything here is SI and ready for the step: conductances, capacities, flows of dry air. The study's words
//! are turned into these once, outside the hour loop.

use exchanger::CoreKind;
use lanes::Real;

use crate::drivers::MAX_FACINGS;
use crate::frost_plan::{FrostPlan, OutdoorAir};
use crate::indoors::{Indoors, IndoorsOf};

/// Defines a struct of numbers for one house, and gathers a row of them.
macro_rules! numbers {
    ($(#[$meta:meta])* $name:ident { $($(#[doc = $doc:literal])+ $field:ident),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct $name<R> { $($(#[doc = $doc])+ pub $field: R),+ }

        impl<R: Real> $name<R> {
            /// A row from one item a lane; the last item fills the lanes that are left.
            pub fn gather(items: &[$name<f64>]) -> Option<Self> {
                let last = items.len().checked_sub(1)?;
                Some(Self { $($field: R::from_lanes(|lane| items[lane.min(last)].$field)),+ })
            }
        }
    };
}

pub(crate) use numbers;

/// The same, from whose rows lanes are picked.
macro_rules! picked_numbers {
    ($(#[$meta:meta])* $name:ident { $($(#[doc = $doc:literal])+ $field:ident),+ $(,)? }) => {
        numbers! { $(#[$meta])* $name { $($(#[doc = $doc])+ $field),+ } }

        impl<R: Real> $name<R> {
            /// `yes` where the mask is true, `no` elsewhere.
            #[inline(always)]
            pub(crate) fn select(mask: R::Mask, yes: &Self, no: &Self) -> Self {
                Self { $($field: R::select(mask, yes.$field, no.$field)),+ }
            }

            /// One lane's numbers in every lane.
            #[inline(always)]
            pub(crate) fn alike(&self, lane: usize) -> Self {
                Self { $($field: R::splat(self.$field.lane(lane))),+ }
            }
        }
    };
}

numbers! {
    /// A house as numbers.
    HouseNumbers {
        /// Floor area \[m²\].
        floor_area_m2,
        /// Conductance from outdoors to the mass node [W/K] (`H_em`).
        outdoor_to_mass_w_per_k,
        /// Conductance from the mass node to the surface node [W/K] (`H_ms`).
        mass_to_surface_w_per_k,
        /// Conductance from the surface node to the air [W/K] (`H_is`).
        surface_to_air_w_per_k,
        /// Conductance of the windows [W/K] (`H_w`).
        windows_w_per_k,
        /// Share of half the internal gains and of the sun that reaches the mass node (`A_m/A_t`).
        gain_share_mass,
        /// Share of the same that the model sends straight outdoors (`H_w/(9.1 A_t)`).
        gain_share_lost,
        /// Heat capacity of the building [J/K].
        mass_j_per_k,
        /// Heating set-point of the air [°C].
        heating_set_point_c,
        /// Heating capacity \[W\].
        heating_capacity_w,
        /// Room heat for each unit of metered heating energy.
        heating_efficiency,
        /// Cooling set-point of the air [°C].
        cooling_set_point_c,
        /// Sensible cooling capacity \[W\], 0 for none.
        cooling_capacity_w,
        /// Heat removed for each unit of metered cooling energy.
        cooling_cop,
        /// Apparatus dew point of the cooling coil [°C].
        apparatus_dew_point_c,
        /// People.
        people,
        /// Sensible heat of a person present \[W\].
        person_heat_w,
        /// Water of a person present [kg/s].
        person_water_kg_per_s,
        /// Other internal gains \[W\].
        other_gains_w,
        /// Water of showers [kg/day].
        showers_kg_per_day,
        /// Water of cooking [kg/day].
        cooking_kg_per_day,
        /// Water of laundry dried indoors [kg/day].
        laundry_kg_per_day,
        /// Water of plants [kg/day].
        plants_kg_per_day,
        /// Dry air in the rooms other than the wet rooms \[kg\].
        rest_air_kg,
        /// Dry air in the wet rooms \[kg\].
        wet_air_kg,
        /// Share of infiltration and exfiltration in the wet rooms.
        wet_share,
        /// Air exchanged through open doors, each way [kg/s].
        door_kg_per_s,
        /// Constant leakage without a unit, in and out alike [kg dry air/s]; natural leakage comes on top.
        leakage_kg_per_s,
        /// Vapour conductance to the storing surfaces [kg/(s Pa)], 0 for none.
        surface_kg_per_s_pa,
        /// Water that the storing surfaces hold at saturation \[kg\], above 0 (1 without storage).
        surface_capacity_kg,
    }
}

numbers! {
    /// What wind, ground, clock, opened windows and kitchen do to a house, and when its ventilation runs.
    SiteNumbers {
        /// Natural leakage for 1 K between indoor and outdoor air [kg dry air/s].
        stack_kg_per_s,
        /// Natural leakage for 1 m/s at the weather station [kg dry air/s].
        wind_kg_per_s,
        /// Exponent of leakage with pressure, 0.5…1.
        leakage_exponent,
        /// Conductance from the mass node to the ground [W/K].
        ground_to_mass_w_per_k,
        /// How far the ground follows the year's wave of outdoor temperature: in step with it.
        ground_in_step,
        /// A quarter of a year behind it.
        ground_behind,
        /// How far the heating's set-point falls at night \[K\], 0 or more.
        set_back_k,
        /// How far the cooling's set-point rises by day \[K\], 0 or more.
        set_up_k,
        /// Air through opened windows, in and out alike [kg dry air/s].
        airing_kg_per_s,
        /// Windows are opened only above this indoor temperature [°C]; infinite for never.
        airing_above_c,
        /// Only with outdoor air colder than indoor air by this \[K\].
        airing_colder_by_k,
        /// Exhaust of the range hood while it runs [kg dry air/s].
        hood_kg_per_s,
        /// Exhaust of the clothes dryer while it runs [kg dry air/s].
        dryer_kg_per_s,
        /// Carbon dioxide of a person present [ppm kg/s of room air].
        person_co2_ppm_kg_per_s,
        /// Share of the full flow that runs without demand, 0…1; 1 for a flow that is not controlled.
        low_share,
        /// Demand above this relative humidity of the rooms, where it is not cold outdoors; infinite for none.
        humid_above,
        /// How much that falls for each kelvin below the temperature beside it.
        humid_falls_per_k,
        /// Outdoor temperature below which it falls [°C].
        humid_falls_below_c,
        /// Demand above this much carbon dioxide \[ppm\]; infinite for none.
        stale_above_ppm,
    }
}

impl SiteNumbers<f64> {
    /// Constant leakage, no ground, no clock, nothing opened, a flow that is not controlled.
    pub fn none() -> Self {
        Self {
            stack_kg_per_s: 0.0,
            wind_kg_per_s: 0.0,
            leakage_exponent: 0.65,
            ground_to_mass_w_per_k: 0.0,
            ground_in_step: 0.0,
            ground_behind: 0.0,
            set_back_k: 0.0,
            set_up_k: 0.0,
            airing_kg_per_s: 0.0,
            airing_above_c: f64::INFINITY,
            airing_colder_by_k: 0.0,
            hood_kg_per_s: 0.0,
            dryer_kg_per_s: 0.0,
            person_co2_ppm_kg_per_s: 0.0,
            low_share: 1.0,
            humid_above: f64::INFINITY,
            humid_falls_per_k: 0.0,
            humid_falls_below_c: 0.0,
            stale_above_ppm: f64::INFINITY,
        }
    }
}

/// Solar apertures by facing, beside the plain numbers of a house.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HouseOf<R> {
    /// Everything that is one number.
    pub numbers: HouseNumbers<R>,
    /// What its site and its clock do to it.
    pub site: SiteNumbers<R>,
    /// Area × solar factor × 0.9 for each facing of the drivers \[m²\].
    pub apertures_m2: [R; MAX_FACINGS],
    /// What dries, dampens, sweats and stirs its air.
    pub indoors: IndoorsOf<R>,
}

/// One house.
pub type House = HouseOf<f64>;

impl<R: Real> HouseOf<R> {
    /// A row from one house a lane; the last house fills the lanes that are left. `None` for no house.
    pub fn gather(houses: &[House]) -> Option<Self> {
        let last = houses.len().checked_sub(1)?;
        let numbers: Vec<HouseNumbers<f64>> = houses.iter().map(|house| house.numbers).collect();
        let sites: Vec<SiteNumbers<f64>> = houses.iter().map(|house| house.site).collect();
        let indoors: Vec<Indoors> = houses.iter().map(|house| house.indoors).collect();
        Some(Self {
            numbers: HouseNumbers::gather(&numbers)?,
            site: SiteNumbers::gather(&sites)?,
            indoors: IndoorsOf::gather(&indoors)?,
            apertures_m2: core::array::from_fn(|facing| {
                R::from_lanes(|lane| houses[lane.min(last)].apertures_m2[facing])
            }),
        })
    }
}

picked_numbers! {
    /// A unit as numbers, at the flow that it runs, with the air that its imbalance draws through the envelope. See
    /// [`Flows`](crate::Flows) for how the flows hang together.
    UnitOf {
        /// Air through the core's supply side [kg dry air/s].
        supply_kg_per_s,
        /// Air through the core's extract side [kg dry air/s].
        extract_kg_per_s,
        /// Extract air that joins the supply air past the core, on the house side [kg dry air/s].
        cross_leak_kg_per_s,
        /// Share of the air entering the core's supply side that is own exhaust air.
        recirculated_share,
        /// Air from the intake straight to the exhaust port, on the weather side [kg dry air/s].
        bypass_kg_per_s,
        /// Outdoor air that enters through the envelope [kg dry air/s].
        infiltration_kg_per_s,
        /// Room air that leaves through the envelope [kg dry air/s].
        exfiltration_kg_per_s,
        /// Heat conductance at these flows [W/K].
        ua_w_per_k,
        /// Vapour conductance at these flows [kg/s].
        vapour_kg_per_s,
        /// Heat conductance on the grid of a crossflow core [W/K]; see `exchanger::Core`.
        crossed_ua_w_per_k,
        /// Vapour conductance on that grid [kg/s].
        crossed_vapour_kg_per_s,
        /// Electricity of both fans \[W\].
        fan_w,
        /// The supply fan's share of it.
        supply_fan_share,
        /// Fan heat that enters the supply air before the core \[W\].
        fan_heat_before_w,
        /// Fan heat that enters the supply air after the core \[W\].
        fan_heat_after_w,
        /// Fan heat that enters the extract air before the core \[W\].
        extract_fan_before_w,
        /// Share of the extract air taken from the wet rooms.
        extract_wet_share,
        /// Share of the supply air given to the wet rooms.
        supply_wet_share,
        /// Conductance of each duct of outdoor and exhaust air to the rooms that it passes [W/K].
        cold_duct_w_per_k,
        /// Conductance of each duct of supply and extract air to the unheated place that it passes [W/K].
        warm_duct_w_per_k,
        /// How far that place is as cold as outdoors: 0 as warm as the rooms, 1 as outdoors.
        place_share,
        /// Share of the liquid on the extract side that flows on to the plate's cold end, and freezes there below 0 °C.
        to_cold_end,
    }
}

/// One unit.
pub type Unit = UnitOf<f64>;

impl Unit {
    /// No air and no fans, and no leakage through the envelope: what other units are made from.
    pub fn none() -> Self {
        Self {
            supply_kg_per_s: 0.0,
            extract_kg_per_s: 0.0,
            cross_leak_kg_per_s: 0.0,
            recirculated_share: 0.0,
            bypass_kg_per_s: 0.0,
            infiltration_kg_per_s: 0.0,
            exfiltration_kg_per_s: 0.0,
            ua_w_per_k: 0.0,
            vapour_kg_per_s: 0.0,
            crossed_ua_w_per_k: 0.0,
            crossed_vapour_kg_per_s: 0.0,
            fan_w: 0.0,
            supply_fan_share: 0.5,
            fan_heat_before_w: 0.0,
            fan_heat_after_w: 0.0,
            extract_fan_before_w: 0.0,
            extract_wet_share: 1.0,
            supply_wet_share: 0.0,
            cold_duct_w_per_k: 0.0,
            warm_duct_w_per_k: 0.0,
            place_share: 0.0,
            to_cold_end: 0.0,
        }
    }
}

/// A house with a unit of one kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Variant {
    /// The house.
    pub house: House,
    /// Its unit, with infiltration and exfiltration of this house.
    pub unit: Unit,
    /// The kind of its core; one kind a batch.
    pub core: CoreKind,
    /// What the unit does about frost; one kind a batch.
    pub frost: FrostPlan,
}

impl Variant {
    /// The same unit with its flow between defrosts raised so that no outdoor air is missed.
    #[must_use]
    pub fn held(&self) -> Self {
        Self { frost: FrostPlan { outdoor_air: OutdoorAir::Held, ..self.frost }, ..*self }
    }
}

/// Capacity and effective area for each m² of floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MassClass {
    /// Heat capacity [J/(K m²)].
    pub capacity_j_per_m2k: f64,
    /// Effective mass area [m²/m²].
    pub area_per_floor_area: f64,
}

/// Effective mass area for a heat capacity [J/(K m²)]: 2.5 m²/m² up to the class "medium" (165 kJ), 3.0 at "heavy"
/// (260 kJ), 3.5 from "very heavy" (370 kJ) on, straight lines between.
///
/// # Source
/// [ISO 13790] table 12, from memory.
pub fn mass_class(capacity_j_per_m2k: f64) -> MassClass {
    let steps = [(165e3, 2.5), (260e3, 3.0), (370e3, 3.5)];
    let mut area = steps[0].1;
    for pair in steps.windows(2) {
        let share = ((capacity_j_per_m2k - pair[0].0) / (pair[1].0 - pair[0].0)).clamp(0.0, 1.0);
        area += share * (pair[1].1 - pair[0].1);
    }
    MassClass { capacity_j_per_m2k, area_per_floor_area: area }
}

/// Furnishings that store water: an effective penetration depth of one daily period.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfaceStorage {
    /// Surface for each m² of floor [m²/m²].
    pub area_per_floor_area: f64,
    /// Vapour permeability [kg/(m s Pa)].
    pub permeability_kg_per_m_s_pa: f64,
    /// Water for a unit step of relative humidity [kg/m³].
    pub capacity_kg_per_m3: f64,
}

impl SurfaceStorage {
    /// 2 m² for each m² of floor, 3e-11 kg/(m s Pa), 15 kg/m³: assumed, gypsum-like.
    pub const FURNISHED: Self =
        Self { area_per_floor_area: 2.0, permeability_kg_per_m_s_pa: 3e-11, capacity_kg_per_m3: 15.0 };

    /// 2.5 m² for each m² of floor, 3e-12 kg/(m s Pa), 55 kg/m³: softwood across the grain, the middle of 1e-12…6e-12 and of 40…70,
    /// [Woods 2013] and handbooks, recalled; the area is assumed.
    pub const TIMBER_LINED: Self =
        Self { area_per_floor_area: 2.5, permeability_kg_per_m_s_pa: 3e-12, capacity_kg_per_m3: 55.0 };

    /// Penetration depth for a day's period at 20 °C \[m\]: `√(δ p_sat P/(π ξ))`, about 11 mm for the furnished set.
    ///
    /// # Source
    /// Effective moisture penetration depth, [Woods 2013].
    pub fn depth_m(&self) -> f64 {
        const SATURATION_20C_PA: f64 = 2338.8;
        const DAY_S: f64 = 86_400.0;
        (self.permeability_kg_per_m_s_pa * SATURATION_20C_PA * DAY_S
            / (self.capacity_kg_per_m3 * core::f64::consts::PI))
            .sqrt()
    }

    /// Vapour conductance from room air to the middle of that depth [kg/(s Pa)] for a floor area: film 2e-8
    /// kg/(m² s Pa) and half of the depth.
    pub fn conductance_kg_per_s_pa(&self, floor_area_m2: f64) -> f64 {
        const FILM_KG_PER_M2_S_PA: f64 = 2e-8;
        let resistance = 1.0 / FILM_KG_PER_M2_S_PA + self.depth_m() / (2.0 * self.permeability_kg_per_m_s_pa);
        self.area_per_floor_area * floor_area_m2 / resistance
    }

    /// Water held at saturation \[kg\] for a floor area.
    pub fn capacity_kg(&self, floor_area_m2: f64) -> f64 {
        self.area_per_floor_area * floor_area_m2 * self.depth_m() * self.capacity_kg_per_m3
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    /// The table's classes [ISO 13790, recalled], and half way between two of them by hand.
    #[test]
    fn the_mass_area_runs_straight_from_class_to_class() {
        let rows = [
            (80e3, 2.5),
            (110e3, 2.5),
            (165e3, 2.5),
            (212.5e3, 2.75),
            (260e3, 3.0),
            (315e3, 3.25),
            (370e3, 3.5),
            (900e3, 3.5),
        ];
        for (capacity, area) in rows {
            assert_relative_eq!(mass_class(capacity).area_per_floor_area, area, max_relative = 1e-12);
        }
    }
}

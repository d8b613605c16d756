//! What a house-year leaves behind: hourly columns, ledger by month, closing figures.
//!
//! Not here: tables, files and charts (crate `reporting`).
// These comments are also the column guide's text, where a bracketed unit must stand unescaped.
#![allow(rustdoc::broken_intra_doc_links)]

use std::sync::Arc;

use lanes::Real;

/// Which of the houses that are compared a house-year is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Case {
    /// The house with this unit.
    Unit,
    /// The same outdoor air delivered, imbalance, fans and powers, without the core and without leaks in the unit.
    NoRecovery,
    /// The house with this unit, its flow between defrosts raised so that no outdoor air is missed.
    UnitHeld,
    /// The no-recovery house beside that.
    NoRecoveryHeld,
    /// As much outdoor air drawn in through leaks by one extract fan, without a core.
    ExtractOnly,
    /// Leakage only: no unit, no fans.
    NoVentilation,
}

macro_rules! hourly_columns {
    ($($(#[doc = $doc:literal])+ $name:ident),+ $(,)?) => {
        /// One hour of one house, or of a row of houses. `_w` is the mean over the hour, `_kg` the sum over it.
        #[derive(Debug, Clone, Copy, PartialEq, Default)]
        pub struct HourOf<R> { $($(#[doc = $doc])+ pub $name: R),+ }

        impl<R: Real> HourOf<R> {
            /// Zero in every column.
            pub(crate) fn nothing() -> Self {
                HourOf { $($name: R::zero()),+ }
            }
            /// Every column's value, in their order.
            #[inline(always)]
            pub(crate) fn values(&self) -> [R; COLUMN_COUNT] {
                [$(self.$name),+]
            }
        }

        /// How many columns there are.
        pub(crate) const COLUMN_COUNT: usize = [$(stringify!($name)),+].len();

        /// The hours of a year, a vector a column; all have one length.
        #[derive(Debug, Clone, PartialEq, Default)]
        pub struct Hourly { $($(#[doc = $doc])+ pub $name: Vec<f64>),+ }

        impl Hourly {
            /// Room for a year that is made up.
            pub fn with_capacity(hours: usize) -> Self {
                Self { $($name: Vec::with_capacity(hours)),+ }
            }
            /// Zero in every column of every hour.
            pub(crate) fn zeros(hours: usize) -> Self {
                Self { $($name: vec![0.0; hours]),+ }
            }
            /// The columns to be written to, in their order.
            pub(crate) fn columns_mut(&mut self) -> [&mut Vec<f64>; COLUMN_COUNT] {
                [$(&mut self.$name),+]
            }
            /// Drops what comes after so many hours.
            pub(crate) fn truncate(&mut self, hours: usize) {
                $(self.$name.truncate(hours);)+
            }
            /// Adds hours that are made up.
            pub fn extend(&mut self, hours: &[Hour]) {
                $(self.$name.extend(hours.iter().map(|hour| hour.$name));)+
            }
            /// Name, values and meaning of every column, in the order in which they are written.
            pub fn columns(&self) -> Vec<(&'static str, &[f64], &'static str)> {
                vec![$((stringify!($name), self.$name.as_slice(), concat!($($doc),+).trim_ascii_start())),+]
            }
        }
    };
}

/// One hour of one house.
pub type Hour = HourOf<f64>;

hourly_columns! {
    /// Outdoor dry bulb [°C].
    outdoor_c,
    /// Outdoor humidity ratio [kg/kg dry air].
    outdoor_humidity_ratio,
    /// Barometric pressure [Pa].
    pressure_pa,
    /// Indoor air temperature [°C].
    air_c,
    /// Indoor operative temperature [°C].
    operative_c,
    /// Humidity ratio of the rooms other than the wet rooms [kg/kg dry air].
    humidity_ratio,
    /// Relative humidity there [fraction of saturation over water].
    relative_humidity,
    /// Humidity ratio of the wet rooms [kg/kg dry air].
    wet_humidity_ratio,
    /// Relative humidity of the wet rooms [fraction].
    wet_relative_humidity,
    /// Supply air entering the rooms, without the heat of a fan after the core [°C].
    supply_c,
    /// Humidity ratio of the supply air entering the rooms [kg/kg dry air].
    supply_humidity_ratio,
    /// Exhaust air leaving the core, before its fan [°C].
    exhaust_c,
    /// Humidity ratio of the exhaust air [kg/kg dry air].
    exhaust_humidity_ratio,
    /// Air entering the core's supply side, after a fan and a preheater before it [°C].
    core_inlet_c,
    /// Coldest spot of the core's plate [°C].
    plate_cold_end_c,
    /// Air that leaves the unit's supply port [kg dry air].
    delivered_air_kg,
    /// Outdoor air in it, net of cross-leakage and of own exhaust air drawn in [kg dry air].
    outdoor_air_kg,
    /// Extract air in it, which leaked past the core [kg dry air].
    cross_leaked_air_kg,
    /// Outdoor air that entered through the envelope, untempered [kg dry air].
    infiltration_air_kg,
    /// Room air that left through the envelope [kg dry air].
    exfiltration_air_kg,
    /// Air drawn by the intake, with own exhaust air and what passed straight to the exhaust port [kg dry air].
    intake_air_kg,
    /// Air that left the exhaust port, with what is drawn in again and what came straight from the intake [kg dry air].
    exhaust_air_kg,
    /// Heat given to the room air by the heating [W].
    heating_load_w,
    /// Sensible heat taken from the room air by the cooling coil [W].
    cooling_sensible_w,
    /// Latent heat taken from the room air by the cooling coil [W].
    cooling_latent_w,
    /// Energy metered for heating [W].
    heating_site_w,
    /// Energy metered for cooling [W].
    cooling_site_w,
    /// Heat through the floor from the ground, out of the house below zero [W].
    ground_w,
    /// Room heat taken by ducts of outdoor and exhaust air [W].
    cold_duct_w,
    /// Heat that ducts of supply and extract air lost outside the rooms [W].
    warm_duct_w,
    /// Indoor air below the heating's set-point with the heating at its capacity [K].
    heating_short_k,
    /// Indoor air above the cooling's set-point with the cooling at its capacity [K].
    cooling_short_k,
    /// Mean carbon dioxide of the whole house [ppm].
    co2_ppm,
    /// Mean carbon dioxide of a bedroom whose door is closed at night [ppm]; 0 where none is looked at.
    bedroom_co2_ppm,
    /// Share of the hour with water or ice on the centre of some window [fraction].
    window_wet_share,
    /// The same at the edge of the glass [fraction].
    window_edge_wet_share,
    /// Water that ran off windows [kg].
    window_run_off_kg,
    /// Water from the humidifier [kg].
    humidified_kg,
    /// Electricity of the humidifier [W].
    humidifier_w,
    /// Water taken by the dehumidifier [kg].
    dehumidified_kg,
    /// Electricity of the dehumidifier [W].
    dehumidifier_w,
    /// Electricity of the furnace's blower [W].
    blower_w,
    /// Electricity of the unit's fans [W].
    fan_w,
    /// Electricity of the preheater before the core [W].
    preheat_w,
    /// Room heat lent to defrosting the core, which the heating already holds [W].
    defrost_heat_w,
    /// Part of the heat that warmed the core which came back with the supply air [W].
    defrost_returned_w,
    /// Share of the hour in defrost [fraction].
    defrost_share,
    /// Share of the hour with a blocked extract side [fraction].
    blocked_share,
    /// Share of the core's exchange that was given up: air led round it, a slower wheel, free cooling [fraction].
    bypass_share,
    /// Outdoor air that the unit would have delivered without frost, filters and defrost, and did not [kg dry air].
    missed_outdoor_air_kg,
    /// Sensible heat that the core passed to the supply air, negative when it cooled it [W].
    recovered_sensible_w,
    /// Latent heat that the core passed to the supply air, negative when it dried it [W].
    recovered_latent_w,
    /// Water that reached the core's drain: liquid formed on the plate, melt water, supply side [kg].
    drain_kg,
    /// The same of a wheel, which has no drain: it leaves with the air as droplets [kg].
    carried_over_kg,
    /// Liquid formed on the extract side of the core [kg].
    liquid_kg,
    /// Liquid formed on the supply side of the core [kg].
    supply_side_liquid_kg,
    /// Ice deposited in the core [kg].
    ice_formed_kg,
    /// Ice that melted in the core [kg].
    ice_melted_kg,
    /// Ice in the core at the end of the hour [kg].
    frost_kg,
    /// Water removed by the cooling coil [kg].
    coil_kg,
    /// Water from people, showers, cooking, laundry, plants and a new building [kg].
    sources_kg,
    /// Water that condensed in the rooms because the air could not hold it [kg].
    room_condensation_kg,
    /// Distance between the exhaust temperature that closes the core's books and the solver's own [K].
    exhaust_gap_k,
    /// Sub-steps that were repeated with the fully implicit rule.
    repeated_steps,
    /// Residual of the house's heat ledger [J].
    energy_residual_j,
    /// Heat that entered the house's heat ledger [J].
    energy_inflow_j,
    /// Residual of the house's water ledger [kg].
    water_residual_kg,
    /// Water that entered the house's water ledger [kg].
    water_inflow_kg,
    /// Residual of the core's heat ledger [J].
    core_residual_j,
    /// Heat that entered the core's heat ledger [J].
    core_inflow_j,
    /// Residual of the core's water ledger [kg].
    core_water_residual_kg,
    /// Water that entered the core's water ledger [kg].
    core_water_inflow_kg,
}

/// One house-year; a copy takes little memory.
#[derive(Debug, Clone, PartialEq)]
pub struct HouseYear {
    /// The unit's name; for [`Case::NoVentilation`] empty.
    pub unit: String,
    /// Which house this is.
    pub case: Case,
    /// Its hours, shared by copies of the year.
    pub hourly: Arc<Hourly>,
    /// Ledger lines summed by calendar month: label, unit (`J` or `kg`), twelve signed sums (into the house positive).
    pub ledger_by_month: Vec<LedgerLine>,
}

/// A ledger line summed by month.
#[derive(Debug, Clone, PartialEq)]
pub struct LedgerLine {
    /// Which book: `heat` or `water` of the house, `core heat` or `core water`.
    pub book: &'static str,
    /// What the line holds, such as `conduction_windows`.
    pub label: &'static str,
    /// J for the heat books, kg for the water books; into the book positive.
    pub by_month: [f64; 12],
}

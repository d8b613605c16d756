//! The one list of columns of `annual.csv` and `monthly.csv`: name, unit, digits, how it adds up, meaning.
//!
//! Tables, the guide and the terminal all read this list. Not here: hourly columns, which are
//! `simulation::results::Hourly::columns`.

use std::ops::Range;

pub use simulation::counts::{FROST_HOUR_KG, LIMIT_MARGIN};
use simulation::counts::{HIGH_HUMIDITY, LOW_HUMIDITY, MISSED_KG};
use simulation::results::Hourly;

use crate::calendar::Season;
use crate::measure::{Book, Measure, OfHours};

/// Density to which delivered air is referred [kg dry air per m³]: that of rated airflows.
pub const RATED_AIR_KG_PER_M3: f64 = 1.204;
/// Rooms off their set-point by more than this count as not held \[K\].
const SHORT_K: f64 = 0.5;
const WATTS_PER_KILOWATT: f64 = 1000.0;
/// Least inflow with which a heat residual is compared \[J\].
const HEAT_FLOOR_J: f64 = 1.0;
/// Least inflow with which a water residual is compared \[kg\].
const WATER_FLOOR_KG: f64 = 1e-6;

/// How a figure is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// With this many digits after the point.
    Fixed(u8),
    /// In powers of ten with three digits.
    Scientific,
    /// As `MM-DD`.
    MonthDay,
}

/// In which rows a column has a meaning; elsewhere it is empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Houses {
    /// In all.
    Every,
    /// Only where there is a core.
    WithUnit,
}

/// A column of `annual.csv` and `monthly.csv`.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Header, unit last.
    pub name: &'static str,
    /// Unit; empty for a date.
    pub unit: &'static str,
    /// How it is printed.
    pub format: Format,
    /// Where it has a meaning.
    pub houses: Houses,
    /// What it holds.
    pub meaning: &'static str,
    pub(crate) measure: Measure,
}

impl Column {
    /// How the figure adds up over a month or a year, in words.
    pub fn aggregates(&self) -> &'static str {
        self.measure.words()
    }
}

/// Puts a figure of each of some hours behind others.
macro_rules! hours {
    (|$hourly:ident, $hour:ident| $figure:expr) => {
        |$hourly: &Hourly, hours: Range<usize>, out: &mut Vec<_>| out.extend(hours.map(|$hour| $figure))
    };
}

macro_rules! columns {
    ($($figure:ident $name:literal [$unit:literal] $format:expr, $houses:ident, $measure:expr, $meaning:literal;)+) => {
        /// A column of [`COLUMNS`], by name.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Figure { $(#[doc = $meaning] $figure),+ }

        /// The columns in the order in which they are written, after the keys.
        pub static COLUMNS: &[Column] = &[$(Column {
            name: $name, unit: $unit, format: $format, houses: Houses::$houses, measure: $measure, meaning: $meaning,
        }),+];
    };
}

use Format::{Fixed, MonthDay, Scientific};
use Measure::{
    Count, CountBelowRequired, CountDampCorner, CountOverFrostCapacity, Greatest, GreatestMouldIndex, Least,
    Mean, PeakDate, PeakDay, Residual, Saving, SeasonMean, Sum, SumBelowRequired, SumOf,
};

columns! {
    HeatingKwh "heating_kwh" ["kWh"] Fixed(2), Every, Sum(heating_kwh),
        "Energy metered for heating: fuel or electricity, after efficiency.";
    CoolingKwh "cooling_kwh" ["kWh"] Fixed(2), Every, Sum(cooling_kwh),
        "Electricity metered for cooling.";
    FanKwh "fan_kwh" ["kWh"] Fixed(2), Every, Sum(fan_kwh),
        "Electricity of the ventilation fans; the no-recovery baseline keeps the unit's fans.";
    FanPeakW "fan_peak_w" ["W"] Fixed(0), Every, Greatest(hours!(|h, i| h.fan_w[i])),
        "Greatest hourly mean power of the ventilation fans; frost and filters that load raise it.";
    PreheatKwh "preheat_kwh" ["kWh"] Fixed(2), WithUnit, Sum(preheat_kwh),
        "Electricity of the preheater before the core.";
    PreheatPeakW "preheat_peak_w" ["W"] Fixed(0), WithUnit, Greatest(hours!(|h, i| h.preheat_w[i])),
        "Greatest hourly mean power of the preheater.";
    DefrostKwh "defrost_kwh" ["kWh"] Fixed(2), WithUnit, Sum(defrost_kwh),
        "Room heat lent to defrosting the core: a memo, since the heating already holds it.";
    BlowerKwh "blower_kwh" ["kWh"] Fixed(2), Every, Sum(blower_kwh),
        "Electricity of the furnace's blower, with heating and cooling and where it runs along with the unit.";
    HumidifyingKwh "humidifying_kwh" ["kWh"] Fixed(2), Every, Sum(humidifier_kwh),
        "Electricity of a humidifier that boils water; what one takes of the room's heat is in the heating.";
    DehumidifyingKwh "dehumidifying_kwh" ["kWh"] Fixed(2), Every, Sum(dehumidifier_kwh),
        "Electricity of the dehumidifier; its heat is in the rooms.";
    HeatingLoadKwh "heating_load_kwh" ["kWh"] Fixed(2), Every, Sum(heating_load_kwh),
        "Heat that the heating gave to the room air.";
    CoolingSensibleKwh "cooling_sensible_kwh" ["kWh"] Fixed(2), Every, Sum(cooling_sensible_kwh),
        "Sensible heat that the cooling coil took from the room air.";
    CoolingLatentKwh "cooling_latent_kwh" ["kWh"] Fixed(2), Every, Sum(cooling_latent_kwh),
        "Latent heat that the cooling coil took from the room air.";
    HeatingPeakW "heating_peak_w" ["W"] Fixed(0), Every, Greatest(hours!(|h, i| h.heating_load_w[i])),
        "Greatest hourly mean heating load: what a plant must give in this year, of an hour's mean weather.";
    CoolingSensiblePeakW "cooling_sensible_peak_w" ["W"] Fixed(0), Every, Greatest(hours!(|h, i| h.cooling_sensible_w[i])),
        "Greatest hourly mean sensible cooling load.";
    CoolingLatentPeakW "cooling_latent_peak_w" ["W"] Fixed(0), Every, Greatest(hours!(|h, i| h.cooling_latent_w[i])),
        "Greatest hourly mean latent cooling load.";
    HeatingShortH "heating_short_h" ["h"] Fixed(0), Every, Count(hours!(|h, i| h.heating_short_k[i] > SHORT_K)),
        "Hours in which the heating at its capacity leaves the rooms more than 0.5 K below its set-point.";
    CoolingShortH "cooling_short_h" ["h"] Fixed(0), Every, Count(hours!(|h, i| h.cooling_short_k[i] > SHORT_K)),
        "Hours in which the cooling at its capacity leaves the rooms more than 0.5 K above its set-point.";
    GroundKwh "ground_kwh" ["kWh"] Fixed(2), Every, Sum(ground_kwh),
        "Heat through the floor from the ground; negative out of the house.";
    DuctLossKwh "duct_loss_kwh" ["kWh"] Fixed(2), Every, SumOf(&[cold_duct_kwh, warm_duct_kwh]),
        "Room heat that cold ducts take as they pass, and heat that warm ducts lose outside the rooms.";
    RecoveredSensibleKwh "recovered_sensible_kwh" ["kWh"] Fixed(2), WithUnit,
        SumOf(&[sensible_positive_kwh, sensible_negative_kwh]),
        "Sensible heat that the core passed to the supply air, before its fan; the positive and the negative part together.";
    RecoveredSensiblePositiveKwh "recovered_sensible_positive_kwh" ["kWh"] Fixed(2), WithUnit, Sum(sensible_positive_kwh),
        "The hours in which the core warmed the supply air.";
    RecoveredSensibleNegativeKwh "recovered_sensible_negative_kwh" ["kWh"] Fixed(2), WithUnit, Sum(sensible_negative_kwh),
        "The hours in which the core cooled the supply air, as a negative figure.";
    RecoveredLatentKwh "recovered_latent_kwh" ["kWh"] Fixed(2), WithUnit,
        SumOf(&[latent_positive_kwh, latent_negative_kwh]),
        "Latent heat that the core passed to the supply air; the positive and the negative part together.";
    RecoveredLatentPositiveKwh "recovered_latent_positive_kwh" ["kWh"] Fixed(2), WithUnit, Sum(latent_positive_kwh),
        "The hours in which the core moistened the supply air.";
    RecoveredLatentNegativeKwh "recovered_latent_negative_kwh" ["kWh"] Fixed(2), WithUnit, Sum(latent_negative_kwh),
        "The hours in which the core dried the supply air, as a negative figure.";
    UsefulSavingKwh "useful_saving_kwh" ["kWh"] Fixed(2), WithUnit, Saving(&METERED),
        "Metered energy for heating, cooling, fans, preheating, blower, humidifying and dehumidifying: that of the paired no-recovery baseline less that of the unit.";
    UsefulSavingLoadKwh "useful_saving_load_kwh" ["kWh"] Fixed(2), WithUnit,
        Saving(&[heating_load_kwh, cooling_sensible_kwh, cooling_latent_kwh]),
        "Loads of heating and cooling, before efficiency: those of the paired no-recovery baseline less those of the unit.";
    CondensateL "condensate_l" ["L"] Fixed(3), WithUnit, Sum(hours!(|h, i| h.drain_kg[i])),
        "Water that reached the core's drain, at 1 kg to the litre; ice counts when it melts.";
    CondensateSupplySideL "condensate_supply_side_l" ["L"] Fixed(3), WithUnit, Sum(hours!(|h, i| h.supply_side_liquid_kg[i])),
        "Liquid formed on the supply side of the core, in humid summers.";
    PeakCondensateLPerDay "peak_condensate_l_per_day" ["L/day"] Fixed(3), WithUnit, PeakDay(hours!(|h, i| h.drain_kg[i])),
        "Most condensate in one calendar day, local standard time.";
    PeakCondensateDate "peak_condensate_date" [""] MonthDay, WithUnit, PeakDate(hours!(|h, i| h.drain_kg[i])),
        "Month and day of that day, the first of several equal ones; empty when there was no condensate.";
    CarriedOverL "carried_over_l" ["L"] Fixed(3), WithUnit, Sum(hours!(|h, i| h.carried_over_kg[i])),
        "Water that condensed on a wheel and did not evaporate again; without a drain it leaves with the air as droplets.";
    IceFormedKg "ice_formed_kg" ["kg"] Fixed(3), WithUnit, Sum(hours!(|h, i| h.ice_formed_kg[i])),
        "Ice deposited in the core.";
    IceMeltedKg "ice_melted_kg" ["kg"] Fixed(3), WithUnit, Sum(hours!(|h, i| h.ice_melted_kg[i])),
        "Ice that melted in the core.";
    FrostKgPeak "frost_kg_peak" ["kg"] Fixed(3), WithUnit, Greatest(hours!(|h, i| h.frost_kg[i])),
        "Most ice in the core at the end of an hour.";
    FrostH "frost_h" ["h"] Fixed(0), WithUnit, Count(hours!(|h, i| h.ice_formed_kg[i] >= FROST_HOUR_KG)),
        "Hours in which at least 1 g of ice formed in the core.";
    FrostOverCapacityH "frost_over_capacity_h" ["h"] Fixed(0), WithUnit, CountOverFrostCapacity,
        "Hours that ended with more ice in the core than its passages can hold; empty when that capacity is not given.";
    BlockedH "blocked_h" ["h"] Fixed(0), WithUnit, Count(hours!(|h, i| h.blocked_share[i] > 0.0)),
        "Hours in which ice blocked the extract side: no extract air, untempered supply air, a house under pressure.";
    DefrostH "defrost_h" ["h"] Fixed(2), WithUnit, Sum(hours!(|h, i| h.defrost_share[i])),
        "Time in defrost: the sum of each hour's share of it.";
    DefrostAnyH "defrost_any_h" ["h"] Fixed(0), WithUnit, Count(hours!(|h, i| h.defrost_share[i] > 0.0)),
        "Hours with any defrost.";
    BypassH "bypass_h" ["h"] Fixed(0), WithUnit, Count(hours!(|h, i| h.bypass_share[i] > 0.0)),
        "Hours in which some air was led round the core, a wheel turned slower, or free cooling passed the core by.";
    RhMeanPct "rh_mean_pct" ["%"] Fixed(2), Every, Mean(rh_pct, hours!(|_h, _i| true)),
        "Mean relative humidity of the rooms other than the wet rooms, over water, all hours.";
    RhWinterMeanPct "rh_winter_mean_pct" ["%"] Fixed(2), Every, SeasonMean(Season::Winter, rh_pct),
        "Mean relative humidity there over December to February (June to August south of the equator); empty in other months.";
    RhSummerMeanPct "rh_summer_mean_pct" ["%"] Fixed(2), Every, SeasonMean(Season::Summer, rh_pct),
        "Mean relative humidity there over June to August (December to February south of the equator); empty in other months.";
    RhBelow30H "rh_below_30_h" ["h"] Fixed(0), Every, Count(hours!(|h, i| h.relative_humidity[i] < LOW_HUMIDITY - LIMIT_MARGIN)),
        "Hours with relative humidity below 30 %, by more than 0.0001 of a percent.";
    RhAbove60H "rh_above_60_h" ["h"] Fixed(0), Every, Count(hours!(|h, i| h.relative_humidity[i] > HIGH_HUMIDITY + LIMIT_MARGIN)),
        "Hours with relative humidity above 60 %, by more than 0.0001 of a percent.";
    RhMinPct "rh_min_pct" ["%"] Fixed(2), Every, Least(rh_pct),
        "Least hourly relative humidity of the rooms other than the wet rooms.";
    RhMaxPct "rh_max_pct" ["%"] Fixed(2), Every, Greatest(rh_pct),
        "Greatest hourly relative humidity there.";
    WindowWetH "window_wet_h" ["h"] Fixed(2), Every, Sum(hours!(|h, i| h.window_wet_share[i])),
        "Time with water or ice on the centre of some window: a film of 1 g/m² or more.";
    WindowEdgeWetH "window_edge_wet_h" ["h"] Fixed(2), Every, Sum(hours!(|h, i| h.window_edge_wet_share[i])),
        "Time with water or ice at the edge of the glass of some window.";
    WindowRunOffL "window_run_off_l" ["L"] Fixed(3), Every, Sum(hours!(|h, i| h.window_run_off_kg[i])),
        "Water that ran off windows, past the 50 g/m² that they hold.";
    MouldIndexMax "mould_index_max" ["1"] Fixed(2), Every, GreatestMouldIndex,
        "Greatest mould index of the cold corner in the year, clean on the first of January: 1 first growth under the microscope, 3 visible, 6 all covered.";
    DampCornerH "damp_corner_h" ["h"] Fixed(0), Every, CountDampCorner,
        "Hours in which the cold corner's thirty-day mean relative humidity is 80 % or more at 5 to 40 °C (ASHRAE 160-2009, recalled).";
    AirMinC "air_min_c" ["°C"] Fixed(2), Every, Least(hours!(|h, i| h.air_c[i])),
        "Least hourly indoor air temperature.";
    AirMaxC "air_max_c" ["°C"] Fixed(2), Every, Greatest(hours!(|h, i| h.air_c[i])),
        "Greatest hourly indoor air temperature.";
    DeliveredAirM3 "delivered_air_m3" ["m³"] Fixed(0), Every, Sum(hours!(|h, i| h.delivered_air_kg[i] / RATED_AIR_KG_PER_M3)),
        "Air that leaves the unit's supply port, as air of 1.204 kg/m³; leakage is not in it.";
    OutdoorAirM3 "outdoor_air_m3" ["m³"] Fixed(0), Every, Sum(hours!(|h, i| h.outdoor_air_kg[i] / RATED_AIR_KG_PER_M3)),
        "Outdoor air in it, net of cross-leakage and of own exhaust air drawn in, as air of 1.204 kg/m³; the no-recovery baseline gets the same.";
    MissedAirM3 "missed_air_m3" ["m³"] Fixed(0), WithUnit, Sum(hours!(|h, i| h.missed_outdoor_air_kg[i] / RATED_AIR_KG_PER_M3)),
        "Outdoor air that defrost, frost or loaded filters kept from being delivered, as air of 1.204 kg/m³.";
    MissedAirH "missed_air_h" ["h"] Fixed(0), WithUnit, Count(hours!(|h, i| h.missed_outdoor_air_kg[i] > MISSED_KG)),
        "Hours that missed more than a gram of it.";
    AirShortM3 "air_short_m3" ["m³"] Fixed(0), WithUnit, SumBelowRequired,
        "Outdoor air short of what the study's ventilation standard asks for, hour by hour, as air of 1.204 kg/m³.";
    AirShortH "air_short_h" ["h"] Fixed(0), WithUnit, CountBelowRequired,
        "Hours short of it by a hundredth or more.";
    Co2MeanPpm "co2_mean_ppm" ["ppm"] Fixed(0), Every, Mean(hours!(|h, i| h.co2_ppm[i]), hours!(|_h, _i| true)),
        "Mean carbon dioxide of the whole house, all hours, with 420 ppm outdoors.";
    Co2Above1000H "co2_above_1000_h" ["h"] Fixed(0), Every, Count(hours!(|h, i| h.co2_ppm[i] > 1000.0)),
        "Hours with more than 1000 ppm of carbon dioxide, as a mean of the whole house; a closed bedroom at night has more.";
    BedroomCo2MaxPpm "bedroom_co2_max_ppm" ["ppm"] Fixed(0), Every, Greatest(hours!(|h, i| h.bedroom_co2_ppm[i])),
        "Greatest hourly carbon dioxide of the bedroom whose door is closed at night; 0 where none is looked at.";
    BedroomCo2Above1000H "bedroom_co2_above_1000_h" ["h"] Fixed(0), Every, Count(hours!(|h, i| h.bedroom_co2_ppm[i] > 1000.0)),
        "Hours with more than 1000 ppm of carbon dioxide there.";
    CrossLeakedAirM3 "cross_leaked_air_m3" ["m³"] Fixed(0), WithUnit, Sum(hours!(|h, i| h.cross_leaked_air_kg[i] / RATED_AIR_KG_PER_M3)),
        "Extract air that leaked past the core into the supply air, as air of 1.204 kg/m³.";
    InfiltrationM3 "infiltration_m3" ["m³"] Fixed(0), Every, Sum(hours!(|h, i| h.infiltration_air_kg[i] / RATED_AIR_KG_PER_M3)),
        "Outdoor air that entered untempered through the envelope, as air of 1.204 kg/m³.";
    ExfiltrationM3 "exfiltration_m3" ["m³"] Fixed(0), Every, Sum(hours!(|h, i| h.exfiltration_air_kg[i] / RATED_AIR_KG_PER_M3)),
        "Room air that left through the envelope, as air of 1.204 kg/m³.";
    IntakeAirM3 "intake_air_m3" ["m³"] Fixed(0), Every, Sum(hours!(|h, i| h.intake_air_kg[i] / RATED_AIR_KG_PER_M3)),
        "Air drawn by the intake, with own exhaust air and what passed straight to the exhaust port, as air of 1.204 kg/m³.";
    ExhaustAirM3 "exhaust_air_m3" ["m³"] Fixed(0), Every, Sum(hours!(|h, i| h.exhaust_air_kg[i] / RATED_AIR_KG_PER_M3)),
        "Air that left the exhaust port, with what is drawn in again and what came straight from the intake, as air of 1.204 kg/m³.";
    CoilL "coil_l" ["L"] Fixed(3), Every, Sum(hours!(|h, i| h.coil_kg[i])),
        "Water removed by the cooling coil.";
    HumidifiedL "humidified_l" ["L"] Fixed(3), Every, Sum(hours!(|h, i| h.humidified_kg[i])),
        "Water given by the humidifier.";
    DehumidifiedL "dehumidified_l" ["L"] Fixed(3), Every, Sum(hours!(|h, i| h.dehumidified_kg[i])),
        "Water taken by the dehumidifier.";
    RoomCondensationL "room_condensation_l" ["L"] Fixed(3), Every, Sum(hours!(|h, i| h.room_condensation_kg[i])),
        "Water that condensed in the rooms because the air could not hold it.";
    MoistureSourcesL "moisture_sources_l" ["L"] Fixed(3), Every, Sum(hours!(|h, i| h.sources_kg[i])),
        "Water from people, showers, cooking, laundry, plants and a new building.";
    WaterResidual "water_residual" ["1"] Scientific, Every, Residual(&[WATER]),
        "What the house's water book does not explain: sum of the steps' residuals over sum of the inflow, both without sign.";
    EnergyResidual "energy_residual" ["1"] Scientific, Every, Residual(&[HEAT]),
        "What the house's heat book does not explain: sum of the steps' residuals over sum of the inflow, both without sign.";
    CoreResidual "core_residual" ["1"] Scientific, WithUnit, Residual(&[CORE_HEAT, CORE_WATER]),
        "What the core's books do not explain, in the same way; the greater of its heat and its water book.";
    ExhaustGapMeanK "exhaust_gap_mean_k" ["K"] Fixed(4), WithUnit,
        Mean(hours!(|h, i| h.exhaust_gap_k[i].abs()), hours!(|h, i| h.delivered_air_kg[i] > 0.0)),
        "Mean distance between the exhaust temperature that closes the core's books and the one solved, over hours with flow.";
}

/// What is metered.
const METERED: [OfHours; 7] =
    [heating_kwh, cooling_kwh, fan_kwh, preheat_kwh, blower_kwh, humidifier_kwh, dehumidifier_kwh];

const HEAT: Book = Book {
    residual: hours!(|h, i| h.energy_residual_j[i]),
    inflow: hours!(|h, i| h.energy_inflow_j[i]),
    floor: HEAT_FLOOR_J,
};
const WATER: Book = Book {
    residual: hours!(|h, i| h.water_residual_kg[i]),
    inflow: hours!(|h, i| h.water_inflow_kg[i]),
    floor: WATER_FLOOR_KG,
};
const CORE_HEAT: Book = Book {
    residual: hours!(|h, i| h.core_residual_j[i]),
    inflow: hours!(|h, i| h.core_inflow_j[i]),
    floor: HEAT_FLOOR_J,
};
const CORE_WATER: Book = Book {
    residual: hours!(|h, i| h.core_water_residual_kg[i]),
    inflow: hours!(|h, i| h.core_water_inflow_kg[i]),
    floor: WATER_FLOOR_KG,
};

/// Energy of hours \[kWh\] from their mean power.
macro_rules! energy_of_hours {
    ($($name:ident: $column:ident;)+) => {
        $(fn $name(hourly: &Hourly, hours: Range<usize>, out: &mut Vec<f64>) {
            out.extend(hourly.$column[hours].iter().map(|watts| watts / WATTS_PER_KILOWATT));
        })+
    };
}

energy_of_hours! {
    heating_kwh: heating_site_w;
    cooling_kwh: cooling_site_w;
    fan_kwh: fan_w;
    preheat_kwh: preheat_w;
    defrost_kwh: defrost_heat_w;
    blower_kwh: blower_w;
    humidifier_kwh: humidifier_w;
    dehumidifier_kwh: dehumidifier_w;
    heating_load_kwh: heating_load_w;
    cooling_sensible_kwh: cooling_sensible_w;
    cooling_latent_kwh: cooling_latent_w;
    sensible_kwh: recovered_sensible_w;
    latent_kwh: recovered_latent_w;
    ground_kwh: ground_w;
    cold_duct_kwh: cold_duct_w;
    warm_duct_kwh: warm_duct_w;
}

/// The part of such energies above or below zero.
macro_rules! part_of_hours {
    ($($name:ident: $part:ident of $whole:ident;)+) => {
        $(fn $name(hourly: &Hourly, hours: Range<usize>, out: &mut Vec<f64>) {
            let from = out.len();
            $whole(hourly, hours, out);
            out[from..].iter_mut().for_each(|energy| *energy = energy.$part(0.0));
        })+
    };
}

part_of_hours! {
    sensible_positive_kwh: max of sensible_kwh;
    sensible_negative_kwh: min of sensible_kwh;
    latent_positive_kwh: max of latent_kwh;
    latent_negative_kwh: min of latent_kwh;
}

fn rh_pct(hourly: &Hourly, hours: Range<usize>, out: &mut Vec<f64>) {
    out.extend(hourly.relative_humidity[hours].iter().map(|fraction| fraction * 100.0));
}

//! What the outdoor air of an hour does to a recovery core, and to a house that is ventilated with it.
//!
//! One core and one house stand for all, so that climates can be set beside each other: a plate core between this outdoor
//! air and rooms of a fixed state, and rooms whose moisture supply is a published design value. Not here: a house with its
//! own sources and stores (`step`).
//!
//! | what | value |
//! | --- | --- |
//! | core | counterflow plate, [`CORE_NTU`], equal flows, extract air of [`ROOM_C`] and [`EXTRACT_RELATIVE_HUMIDITY`] |
//! | frosts, drains | [`LEAST_WATER`] of ice, else of liquid on either side |
//! | house | [`ROOM_C`], outdoor vapour and the [`moisture_supply_kg_per_m3`] on top |
//! | dries out | relative humidity below [`TOO_DRY`] |
//! | dampens | relative humidity above [`TOO_DAMP`], or an outdoor dew point above [`DAMP_DEW_POINT_C`] |

use exchanger::{Core, CoreKind, Inlets, solve};
use psychrometrics::formulas::{
    GAS_CONSTANT_DRY_AIR_J_PER_KGK, MOLE_MASS_RATIO, ZERO_CELSIUS_K, humidity_ratio,
    saturation_over_water_pa, vapour_pressure_pa,
};
use weather::WeatherYear;

/// Temperature of the rooms [°C].
pub const ROOM_C: f64 = 21.0;
/// Relative humidity of the air that the core takes from the rooms \[fraction\].
pub const EXTRACT_RELATIVE_HUMIDITY: f64 = 0.40;
/// Conductance of the core over the heat capacity of either flow, that of dry air.
pub const CORE_NTU: f64 = 3.0;
/// Water or ice that counts [kg/kg of dry air that passes]: a gram an hour in 46 L/s of air.
pub const LEAST_WATER: f64 = 5e-6;
/// Relative humidity below which rooms are too dry \[fraction\].
pub const TOO_DRY: f64 = 0.30;
/// Relative humidity above which rooms are too damp \[fraction\].
pub const TOO_DAMP: f64 = 0.60;
/// Outdoor dew point above which ventilation dampens the house whatever happens in it [°C].
pub const DAMP_DEW_POINT_C: f64 = 16.0;
/// Moisture supply at and below [`SUPPLY_COLD_C`] outdoors [kg/m³].
pub const SUPPLY_IN_COLD_KG_PER_M3: f64 = 4.0e-3;
/// Moisture supply at and above [`SUPPLY_WARM_C`] outdoors [kg/m³].
pub const SUPPLY_IN_WARMTH_KG_PER_M3: f64 = 1.5e-3;
/// Outdoor temperature up to which the moisture supply is that of the cold [°C].
pub const SUPPLY_COLD_C: f64 = 5.0;
/// Outdoor temperature from which the moisture supply is that of the warmth [°C].
pub const SUPPLY_WARM_C: f64 = 15.0;

/// Gas constant of water vapour [J/kgK].
const GAS_CONSTANT_VAPOUR_J_PER_KGK: f64 = GAS_CONSTANT_DRY_AIR_J_PER_KGK / MOLE_MASS_RATIO;
/// Heat capacity on which the core's NTU stands [J/kgK].
const CP_J_PER_KGK: f64 = 1006.0;

/// What an hour does to the core.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CoreHour {
    /// It stays dry, or as good as.
    Dry,
    /// Liquid forms in it, and no ice.
    Drains,
    /// Ice forms in it.
    Frosts,
}

/// What an hour does to the house.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HouseHour {
    /// Neither of the others.
    Between,
    /// The rooms are too dry.
    DriesOut,
    /// The rooms are too damp.
    Dampens,
}

/// What an hour does to both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct ClimateHour {
    /// The core.
    pub core: CoreHour,
    /// The house.
    pub house: HouseHour,
}

/// Every hour of a weather year.
pub fn climate_hours(year: &WeatherYear) -> Vec<ClimateHour> {
    let air = year.dry_bulb_c.iter().zip(&year.humidity_ratio).zip(&year.pressure_pa);
    air.map(|((&t, &w), &p)| climate_hour(t, w, p)).collect()
}

/// What outdoor air of this temperature [°C, −60…60], humidity ratio [kg/kg, 0…0.08] and pressure \[Pa, 50e3…110e3\] does.
pub fn climate_hour(outdoor_c: f64, outdoor_humidity_ratio: f64, pressure_pa: f64) -> ClimateHour {
    ClimateHour {
        core: core_hour(outdoor_c, outdoor_humidity_ratio, pressure_pa),
        house: house_hour(outdoor_c, vapour_pressure_pa(outdoor_humidity_ratio, pressure_pa)),
    }
}

fn core_hour(outdoor_c: f64, outdoor_humidity_ratio: f64, pressure_pa: f64) -> CoreHour {
    let extract_pa = EXTRACT_RELATIVE_HUMIDITY * saturation_over_water_pa(ROOM_C);
    let inlets = Inlets {
        outdoor_c,
        outdoor_humidity_ratio,
        extract_c: ROOM_C,
        extract_humidity_ratio: humidity_ratio(extract_pa, pressure_pa),
        supply_kg_per_s: 1.0,
        extract_kg_per_s: 1.0,
        pressure_pa,
    };
    let core = Core::counterflow(CORE_NTU * CP_J_PER_KGK, 0.0);
    let fluxes = solve(CoreKind::SensiblePlate, &core, &inlets);
    if fluxes.ice_kg_per_s >= LEAST_WATER {
        CoreHour::Frosts
    } else if fluxes.liquid_kg_per_s + fluxes.supply_liquid_kg_per_s >= LEAST_WATER {
        CoreHour::Drains
    } else {
        CoreHour::Dry
    }
}

fn house_hour(outdoor_c: f64, outdoor_vapour_pa: f64) -> HouseHour {
    let relative_humidity = room_relative_humidity(outdoor_c, outdoor_vapour_pa);
    // A dew point above another is a vapour pressure above the other's saturation.
    let is_muggy = outdoor_vapour_pa > saturation_over_water_pa(DAMP_DEW_POINT_C);
    if relative_humidity < TOO_DRY {
        HouseHour::DriesOut
    } else if relative_humidity > TOO_DAMP || is_muggy {
        HouseHour::Dampens
    } else {
        HouseHour::Between
    }
}

/// Relative humidity of rooms of [`ROOM_C`] \[fraction, above 1 where the rooms could not hold it\]: the vapour of a m³ of
/// outdoor air of this temperature [°C] and vapour pressure \[Pa\], and the moisture supply on top.
pub fn room_relative_humidity(outdoor_c: f64, outdoor_vapour_pa: f64) -> f64 {
    let outdoors = outdoor_vapour_pa / (GAS_CONSTANT_VAPOUR_J_PER_KGK * (outdoor_c + ZERO_CELSIUS_K));
    let indoors = outdoors + moisture_supply_kg_per_m3(outdoor_c);
    let vapour_pa = indoors * GAS_CONSTANT_VAPOUR_J_PER_KGK * (ROOM_C + ZERO_CELSIUS_K);
    vapour_pa / saturation_over_water_pa(ROOM_C)
}

/// Vapour in a m³ of indoor air above that in a m³ of outdoor air of this temperature [°C]: a design value [kg/m³].
///
/// # Source
/// \[KALAMEES-2006\] Kalamees, Vinha, Kurnitski, Indoor Humidity Loads and Moisture Production in Lightweight Timber-frame Detached Houses, Journal
/// of Building Physics 29 (2006) 219 (abstract read, pages recalled): 101 Finnish houses, those of low occupancy, the level that a
/// tenth exceeds. 4 g/m³ up to 5 °C, 1.5 g/m³ from 15 °C, a straight line between. Most houses are drier.
pub fn moisture_supply_kg_per_m3(outdoor_c: f64) -> f64 {
    let warmth = ((outdoor_c - SUPPLY_COLD_C) / (SUPPLY_WARM_C - SUPPLY_COLD_C)).clamp(0.0, 1.0);
    SUPPLY_IN_COLD_KG_PER_M3 + (SUPPLY_IN_WARMTH_KG_PER_M3 - SUPPLY_IN_COLD_KG_PER_M3) * warmth
}

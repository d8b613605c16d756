//! From a validated study and a weather year to the numbers that the simulation runs.
//!
//! Volume flows are air at 20 °C and the site's standard pressure, constant over the year. Everything here is done
//! once, outside the hour loop. Not here: reading (`read`), the hour (`simulation`).

use psychrometrics::formulas::{GAS_CONSTANT_DRY_AIR_J_PER_KGK, ZERO_CELSIUS_K};
use psychrometrics::standard_pressure_pa;
use simulation::infiltration::LeakageError;
use simulation::requirement::{Requirement, RequirementError};
use simulation::{
    Drivers, DriversError, Facing, House, HouseNumbers, Indoors, MAX_FACINGS, PeopleProfile, RunOptions,
    SiteNumbers, Steps, SurfaceStorage, Variant,
};
use weather::WeatherYear;

pub use crate::assumed::assumptions;
use crate::frost_plan::frost_plan;
use crate::indoors::{corner, indoors};
use crate::model;
use crate::required::{requirement, with_rule_followed};
use crate::site::{clock, opaque_branch, place_share, site_numbers};
use crate::sized::{SizedError, SizedUnit, size};

/// Everything that a run needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Built {
    /// Weather and clock.
    pub drivers: Drivers,
    /// The house.
    pub house: House,
    /// Each unit in the house, by name.
    pub units: Vec<(String, Variant)>,
    /// Lead-in.
    pub options: RunOptions,
    /// Outdoor air that the study's standard asks for, and why.
    pub requirement: Requirement,
    /// Airflow of the units [m³/s], after what infiltration is credited with.
    pub airflow_m3_per_s: f64,
    /// The house's coldest corner.
    pub corner: simulation::damage::Corner,
    /// Density of air that volume flows are taken at [kg/m³].
    pub density_kg_per_m3: f64,
}

/// Why a study cannot be run over a weather year.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BuildError {
    /// Too many ways that windows face.
    #[error(transparent)]
    Drivers(#[from] DriversError),
    /// An elevation without a standard pressure.
    #[error("the site's elevation of {0} m is outside the standard atmosphere of this program")]
    Elevation(f64),
    /// A leakage that cannot be.
    #[error(transparent)]
    Leakage(#[from] LeakageError),
    /// A requirement that cannot be worked out.
    #[error(transparent)]
    Requirement(#[from] RequirementError),
    /// A unit whose core cannot be sized.
    #[error("unit `{unit}`: {reason}")]
    Unit {
        /// Its name.
        unit: String,
        /// Why.
        reason: Box<SizedError>,
    },
}

/// Builds drivers, house and units.
///
/// # Errors
/// [`BuildError`] when windows face more than [`MAX_FACINGS`] ways, the elevation has no standard pressure, an
/// effectiveness cannot be turned into a conductance, or a unit's flows or fans do not fit together.
pub fn build(study: &model::Study, year: &WeatherYear) -> Result<Built, BuildError> {
    let drivers = drivers(study, year)?;
    let numbers = numbers(study, year)?;
    let Numbers { house, units, options, requirement, airflow_m3_per_s, corner, density_kg_per_m3 } = numbers;
    Ok(Built { drivers, house, units, options, requirement, airflow_m3_per_s, corner, density_kg_per_m3 })
}

/// All of [`Built`] but the drivers: what differs between houses that share weather and clock.
#[derive(Debug, Clone, PartialEq)]
pub struct Numbers {
    /// The house.
    pub house: House,
    /// Each unit in the house, by name.
    pub units: Vec<(String, Variant)>,
    /// Lead-in.
    pub options: RunOptions,
    /// Outdoor air that the study's standard asks for, and why.
    pub requirement: Requirement,
    /// Airflow of the units [m³/s], after what infiltration is credited with.
    pub airflow_m3_per_s: f64,
    /// The house's coldest corner.
    pub corner: simulation::damage::Corner,
    /// Density of air that volume flows are taken at [kg/m³].
    pub density_kg_per_m3: f64,
}

/// Weather and clock of a study in its year: slow to make, and shared by every study with the same [`driver_key`].
///
/// # Errors
/// [`BuildError::Drivers`] when windows face more than [`MAX_FACINGS`] ways.
pub fn drivers(study: &model::Study, year: &WeatherYear) -> Result<Drivers, BuildError> {
    let facings = facings_of(&study.house.windows);
    let people = people_profile(study.house.people.profile);
    Ok(Drivers::new(year, &facings, people, steps(study))?.with_clock(&clock(study, year))?)
}

/// What a study says of its own weather file.
pub fn overrides(study: &model::Study) -> weather::Overrides {
    let site = &study.site;
    weather::Overrides {
        place: weather::PlaceOverride {
            name: None,
            latitude_deg: site.latitude_deg,
            longitude_deg: site.longitude_deg,
            elevation_m: site.elevation_m,
            time_zone_h: site.time_zone_h,
        },
        humidity_basis: site.humidity_basis.map(|basis| match basis {
            model::HumidityBasis::Water => weather::HumidityBasis::Water,
            model::HumidityBasis::Ice => weather::HumidityBasis::Ice,
        }),
        sun_offset_h: None,
        wind_height_m: site.wind.height_m,
    }
}

/// What [`drivers`] depends on beside the weather year, in words: equal keys have equal drivers in one year.
pub fn driver_key(study: &model::Study) -> String {
    let set_back = study.house.heating.set_back.map(|at| at.hours);
    let set_up = study.house.cooling.as_ref().and_then(|cooling| cooling.set_up).map(|at| at.hours);
    let facings = facings_of(&study.house.windows);
    let (people, step) = (study.house.people.profile, study.time_step);
    format!("{facings:?} {people:?} {step:?} {set_back:?} {set_up:?} {:?}", study.ventilation.control)
}

/// Builds house and units without the drivers.
///
/// # Errors
/// As [`build`], but for the drivers.
pub fn numbers(study: &model::Study, year: &WeatherYear) -> Result<Numbers, BuildError> {
    let requirement = requirement(study, year)?;
    let study = &with_rule_followed(study, &requirement);
    let density = standard_density_kg_per_m3(year.place.elevation_m)?;
    let facings = facings_of(&study.house.windows);
    let site = site_numbers(study, year, density)?;
    let house = House { indoors: indoors(study, density), ..house(&study.house, &facings, (density, site)) };
    let units = study
        .units
        .iter()
        .map(|unit| {
            let sized = size_unit(study, unit, year.place.elevation_m)?;
            let variant = variant(study, unit, &sized, (&house, year))
                .map_err(|reason| BuildError::Unit { unit: unit.name.clone(), reason: Box::new(reason) })?;
            Ok((unit.name.clone(), variant))
        })
        .collect::<Result<_, BuildError>>()?;
    let options = RunOptions { lead_in_hours: study.lead_in_h as usize, tamper: None };
    let airflow_m3_per_s = study.ventilation.airflow_m3_per_s;
    let corner = corner(&study.house.cold_corner);
    Ok(Numbers { house, units, options, requirement, airflow_m3_per_s, corner, density_kg_per_m3: density })
}

/// Density of dry air at 20 °C and the standard pressure of an elevation [kg/m³]: `p/(287.042 × 293.15)`.
///
/// # Errors
/// [`BuildError::Elevation`] outside the standard atmosphere's range.
pub fn standard_density_kg_per_m3(elevation_m: f64) -> Result<f64, BuildError> {
    let pressure = standard_pressure_pa(elevation_m).map_err(|_| BuildError::Elevation(elevation_m))?;
    Ok(pressure / (GAS_CONSTANT_DRY_AIR_J_PER_KGK * (ZERO_CELSIUS_K + 20.0)))
}

fn steps(study: &model::Study) -> Steps {
    match study.time_step.steps_per_hour() {
        1 => Steps::One,
        2 => Steps::Two,
        4 => Steps::Four,
        6 => Steps::Six,
        _ => Steps::Twelve,
    }
}

fn people_profile(profile: model::PeopleProfile) -> PeopleProfile {
    match profile {
        model::PeopleProfile::WorkingWeek => PeopleProfile::WorkingWeek,
        model::PeopleProfile::AlwaysHome => PeopleProfile::AlwaysHome,
    }
}

/// Each way that windows face, once, in the order in which it is first met.
fn facings_of(windows: &[model::Window]) -> Vec<Facing> {
    let mut facings: Vec<Facing> = Vec::new();
    for facing in windows.iter().map(facing_of) {
        if !facings.contains(&facing) {
            facings.push(facing);
        }
    }
    facings
}

fn facing_of(window: &model::Window) -> Facing {
    Facing { azimuth_deg: window.azimuth_deg, tilt_deg: window.tilt_deg }
}

/// Sunlight that is not at right angles to the glass: the share of the normal solar factor, [ISO 13790] 11.3.4.
const INCIDENCE: f64 = 0.9;
/// Conductance between mass and surface nodes [W/(K m²)], and between surface and air, [ISO 13790] 7.2.2.2.
pub(crate) const MASS_TO_SURFACE_W_PER_M2K: f64 = 9.1;
const SURFACE_TO_AIR_W_PER_M2K: f64 = 3.45;
/// Area of all surfaces facing the room for each m² of floor, [ISO 13790] 7.2.2.2.
const SURFACES_PER_FLOOR_AREA: f64 = 4.5;

fn house(house: &model::House, facings: &[Facing], (density, site): (f64, SiteNumbers<f64>)) -> House {
    let mut apertures_m2 = [0.0; MAX_FACINGS];
    for window in &house.windows {
        for (aperture, facing) in apertures_m2.iter_mut().zip(facings) {
            if *facing == facing_of(window) {
                *aperture += window.area_m2 * window.solar_gain * INCIDENCE;
            }
        }
    }
    House { numbers: house_numbers(house, density), site, apertures_m2, indoors: Indoors::NONE }
}

fn house_numbers(house: &model::House, density: f64) -> HouseNumbers<f64> {
    let surfaces_m2 = SURFACES_PER_FLOOR_AREA * house.floor_area_m2;
    let mass_m2 = house.mass_area_ratio * house.floor_area_m2;
    let mass_to_surface = MASS_TO_SURFACE_W_PER_M2K * mass_m2;
    let (outdoor_to_mass, ground_share) = opaque_branch(house);
    let air_kg = house.volume_m3() * density;
    let cooling = house.cooling.as_ref();
    let storage = match house.moisture.storage {
        model::Storage::Furnished => Some(SurfaceStorage::FURNISHED),
        model::Storage::TimberLined => Some(SurfaceStorage::TIMBER_LINED),
        model::Storage::None => None,
    };
    HouseNumbers {
        floor_area_m2: house.floor_area_m2,
        outdoor_to_mass_w_per_k: outdoor_to_mass * (1.0 - ground_share),
        mass_to_surface_w_per_k: mass_to_surface,
        surface_to_air_w_per_k: SURFACE_TO_AIR_W_PER_M2K * surfaces_m2,
        windows_w_per_k: house.window_w_per_k(),
        gain_share_mass: mass_m2 / surfaces_m2,
        gain_share_lost: house.window_w_per_k() / (MASS_TO_SURFACE_W_PER_M2K * surfaces_m2),
        mass_j_per_k: house.heat_capacity_j_per_m2k * house.floor_area_m2,
        heating_set_point_c: house.heating.set_point_c,
        heating_capacity_w: house.heating.capacity_w.unwrap_or(UNLIMITED_W),
        heating_efficiency: house.heating.efficiency,
        cooling_set_point_c: cooling.map_or(NEVER_C, |c| c.set_point_c),
        cooling_capacity_w: cooling.map_or(0.0, |c| c.capacity_w.map_or(UNLIMITED_W, |w| w * SENSIBLE_SHARE)),
        cooling_cop: cooling.map_or(1.0, |c| c.cop),
        apparatus_dew_point_c: cooling.map_or(11.0, |c| c.apparatus_dew_point_c),
        people: f64::from(house.people.count),
        person_heat_w: house.people.heat_w,
        person_water_kg_per_s: house.people.moisture_kg_per_s,
        other_gains_w: house.gains_w_per_m2 * house.floor_area_m2,
        showers_kg_per_day: house.moisture.showers_kg_per_s * DAY_S,
        cooking_kg_per_day: house.moisture.cooking_kg_per_s * DAY_S,
        laundry_kg_per_day: house.moisture.laundry_kg_per_s * DAY_S,
        plants_kg_per_day: house.moisture.plants_kg_per_s * DAY_S,
        rest_air_kg: air_kg * (1.0 - house.wet_share),
        wet_air_kg: air_kg * house.wet_share,
        wet_share: house.wet_share,
        door_kg_per_s: house.door_exchange_kg_per_s,
        leakage_kg_per_s: house.air_leakage.constant_m3_per_s().unwrap_or(0.0) * density,
        surface_kg_per_s_pa: storage.map_or(0.0, |s| s.conductance_kg_per_s_pa(house.floor_area_m2)),
        surface_capacity_kg: storage.map_or(1.0, |s| s.capacity_kg(house.floor_area_m2)),
    }
}

const DAY_S: f64 = 86_400.0;
/// Share of a cooling plant's capacity that is sensible: assumed, a coil in a humid summer.
pub(crate) const SENSIBLE_SHARE: f64 = 0.75;
/// Capacity of a plant that always reaches its set-point \[W\].
const UNLIMITED_W: f64 = 1e9;
/// A cooling set-point that is never reached [°C].
const NEVER_C: f64 = 1e3;

/// Sizes one unit of a study at its ventilation airflow.
///
/// # Errors
/// [`BuildError`] with the unit's name and the reason.
pub fn size_unit(
    study: &model::Study,
    unit: &model::Unit,
    elevation_m: f64,
) -> Result<SizedUnit, BuildError> {
    let density = standard_density_kg_per_m3(elevation_m)?;
    size(
        unit,
        study.ventilation.airflow_m3_per_s,
        study.house.air_leakage.constant_m3_per_s().unwrap_or(0.0),
        density,
    )
    .map_err(|reason| BuildError::Unit { unit: unit.name.clone(), reason: Box::new(reason) })
}

fn variant(
    study: &model::Study,
    unit: &model::Unit,
    sized: &SizedUnit,
    (house, year): (&House, &WeatherYear),
) -> Result<Variant, SizedError> {
    let supply_fan_w = unit.fan.power_w * unit.fan.supply_share;
    let (before, after, extract_before) = match unit.fan.position {
        model::FanPosition::BeforeCore => (supply_fan_w, 0.0, unit.fan.power_w - supply_fan_w),
        model::FanPosition::AfterCore => (0.0, supply_fan_w, 0.0),
    };
    let numbers = simulation::Unit {
        ua_w_per_k: sized.core.ua_w_per_k,
        vapour_kg_per_s: sized.core.vapour_kg_per_s,
        crossed_ua_w_per_k: sized.core.crossed_ua_w_per_k,
        crossed_vapour_kg_per_s: sized.core.crossed_vapour_kg_per_s,
        fan_w: unit.fan.power_w,
        supply_fan_share: unit.fan.supply_share,
        fan_heat_before_w: before,
        fan_heat_after_w: after,
        extract_fan_before_w: extract_before,
        extract_wet_share: study.ventilation.extract_from.wet_rooms,
        supply_wet_share: study.ventilation.supply_to.return_duct * study.house.wet_share,
        cold_duct_w_per_k: study.ventilation.ducts.cold_indoors_w_per_k * 0.5,
        warm_duct_w_per_k: study.ventilation.ducts.warm_outdoors_w_per_k * 0.5,
        place_share: place_share(unit.location),
        to_cold_end: unit.frost.to_cold_end,
        ..simulation::Unit::of_flows(&sized.flows)?
    };
    Ok(Variant {
        house: *house,
        unit: numbers,
        core: sized.kind,
        frost: frost_plan(study, unit, (sized, year))?,
    })
}

/// The power law of a study's leaks, where a pressure test tells it.
///
/// # Errors
/// [`LeakageError`] for numbers outside their range.
pub fn leakage(study: &model::Study) -> Result<Option<simulation::infiltration::Leakage>, LeakageError> {
    crate::site::leakage(study)
}

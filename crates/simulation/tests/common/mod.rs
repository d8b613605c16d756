//! Shared by the tests of this crate: weather made by hand or read, two houses, units by their effectiveness, and sums
//! over what a year left behind.
#![allow(dead_code)]
// The lints' exception for tests covers functions marked as tests, not the helpers that they call.
#![allow(clippy::unwrap_used, clippy::panic)]

pub mod frost;

use exchanger::{CoreKind, conductance_w_per_k, vapour_conductance_kg_per_s};
use simulation::results::HouseYear;
use simulation::{
    Drivers, Facing, FrostPlan, House, HouseNumbers, Line, MAX_FACINGS, PeopleProfile, RunOptions,
    SiteNumbers, Steps, SurfaceStorage, Unit, Variant, run_pair,
};
use weather::{Format, HumidityBasis, HumidityOrigin, Overrides, Place, WeatherYear};

pub const PRESSURE_PA: f64 = 101_325.0;
pub const HOURS: usize = 8760;
/// Three weeks before hour 0, as a study has it.
pub const LEAD_IN: RunOptions = RunOptions { lead_in_hours: 504, tamper: None };

/// A year without sun and wind whose hours have this dry bulb [°C] and humidity ratio.
pub fn year_of(air: impl Fn(usize) -> (f64, f64)) -> WeatherYear {
    let none = vec![0.0; HOURS];
    WeatherYear {
        dry_bulb_c: (0..HOURS).map(|h| air(h).0).collect(),
        humidity_ratio: (0..HOURS).map(|h| air(h).1).collect(),
        pressure_pa: vec![PRESSURE_PA; HOURS],
        wind_speed_m_per_s: none.clone(),
        wind_direction_deg: none.clone(),
        global_horizontal_w_per_m2: none.clone(),
        direct_normal_w_per_m2: none.clone(),
        diffuse_horizontal_w_per_m2: none,
        place: Place {
            name: "made by hand".to_owned(),
            latitude_deg: 45.0,
            longitude_deg: 0.0,
            elevation_m: 0.0,
            time_zone_h: 0.0,
        },
        sun_offset_h: 0.5,
        wind_height_m: 10.0,
        humidity_basis: HumidityBasis::Water,
        humidity_origin: HumidityOrigin::NotNeeded,
        format: Format::Made,
        is_synthetic: true,
        shifted: None,
        source: String::new(),
    }
}

pub fn constant_year(dry_bulb_c: f64, humidity_ratio: f64) -> WeatherYear {
    year_of(|_| (dry_bulb_c, humidity_ratio))
}

/// The four invented years that come with the project, and the three published ones of the tests.
pub const FILES: [&str; 7] = [
    "weather-samples/frosthollow.csv",
    "weather-samples/saltmere.csv",
    "weather-samples/millbrook.csv",
    "weather-samples/palmreach.csv",
    "tests/data/weather/tmy3_greensboro_nc_723170TYA.csv",
    "tests/data/weather/tmy3_sandpoint_ak_703165TY.csv",
    "tests/data/weather/pvgis_tmy_piedmont_it_45N_8E.epw",
];

pub fn file(path: &str) -> WeatherYear {
    let full = format!("{}/../../{path}", env!("CARGO_MANIFEST_DIR"));
    let bytes = std::fs::read(&full).unwrap_or_else(|error| panic!("{full}: {error}"));
    weather::read(&bytes, &Overrides::default()).unwrap().0
}

/// South, east and west, upright.
pub const FACINGS: [Facing; 3] = [
    Facing { azimuth_deg: 180.0, tilt_deg: 90.0 },
    Facing { azimuth_deg: 90.0, tilt_deg: 90.0 },
    Facing { azimuth_deg: 270.0, tilt_deg: 90.0 },
];

/// People always at home, one sub-step an hour.
pub fn drivers(year: &WeatherYear) -> Drivers {
    drivers_at(year, Steps::One)
}

pub fn drivers_at(year: &WeatherYear, steps: Steps) -> Drivers {
    Drivers::new(year, &FACINGS, PeopleProfile::AlwaysHome, steps).unwrap()
}

/// 100 m² of medium mass, `H_w` 30 and `H_op` 40 W/K, held at 21 °C; nobody and nothing in it, no leakage, no storage
/// of water, no cooling, no glass for the sun. The leakage would be in the rest zone alone.
pub fn plain_house() -> House {
    let numbers = HouseNumbers {
        floor_area_m2: 100.0,
        outdoor_to_mass_w_per_k: 1.0 / (1.0 / 40.0 - 1.0 / 2275.0),
        mass_to_surface_w_per_k: 2275.0,
        surface_to_air_w_per_k: 1552.5,
        windows_w_per_k: 30.0,
        gain_share_mass: 250.0 / 450.0,
        gain_share_lost: 30.0 / (9.1 * 450.0),
        mass_j_per_k: 16.5e6,
        heating_set_point_c: 21.0,
        heating_capacity_w: 1e9,
        heating_efficiency: 1.0,
        cooling_set_point_c: 1e3,
        cooling_capacity_w: 0.0,
        cooling_cop: 1.0,
        apparatus_dew_point_c: 11.0,
        people: 0.0,
        person_heat_w: 70.0,
        person_water_kg_per_s: 0.05 / 3600.0,
        other_gains_w: 0.0,
        showers_kg_per_day: 0.0,
        cooking_kg_per_day: 0.0,
        laundry_kg_per_day: 0.0,
        plants_kg_per_day: 0.0,
        rest_air_kg: 250.0,
        wet_air_kg: 45.0,
        wet_share: 0.0,
        door_kg_per_s: 0.03,
        leakage_kg_per_s: 0.0,
        surface_kg_per_s_pa: 0.0,
        surface_capacity_kg: 1.0,
    };
    House {
        numbers,
        site: SiteNumbers::none(),
        apertures_m2: [0.0; MAX_FACINGS],
        indoors: simulation::Indoors::NONE,
    }
}

/// The same walls with a family of four, sun, furnishings, leakage and cooling to 25 °C.
pub fn lived_in_house() -> House {
    let storage = SurfaceStorage::FURNISHED;
    let mut house = plain_house();
    house.apertures_m2[..3].copy_from_slice(&[3.6, 1.8, 1.8]);
    house.numbers = HouseNumbers {
        heating_efficiency: 0.92,
        cooling_set_point_c: 25.0,
        cooling_capacity_w: 1e9,
        cooling_cop: 3.0,
        people: 4.0,
        other_gains_w: 240.0,
        showers_kg_per_day: 1.6,
        cooking_kg_per_day: 2.0,
        laundry_kg_per_day: 1.5,
        plants_kg_per_day: 0.5,
        wet_share: 0.15,
        leakage_kg_per_s: 0.012,
        surface_kg_per_s_pa: storage.conductance_kg_per_s_pa(100.0),
        surface_capacity_kg: storage.capacity_kg(100.0),
        ..house.numbers
    };
    house
}

/// Equal flows [kg dry air/s], sensible and latent effectiveness at `c_p` 1006; supply to the rest, extract from the
/// wet rooms, no fans.
pub fn unit(flow_kg_per_s: f64, sensible: f64, latent: f64) -> Unit {
    Unit {
        supply_kg_per_s: flow_kg_per_s,
        extract_kg_per_s: flow_kg_per_s,
        ua_w_per_k: conductance_w_per_k(sensible, flow_kg_per_s).unwrap(),
        vapour_kg_per_s: vapour_conductance_kg_per_s(latent, flow_kg_per_s).unwrap(),
        ..Unit::none()
    }
}

/// With what the house's leakage and the unit's imbalance draw through the envelope.
pub fn plate(house: &House, unit: Unit) -> Variant {
    let unit = unit.in_house_of_leakage(house.numbers.leakage_kg_per_s);
    Variant { house: *house, unit, core: CoreKind::SensiblePlate, frost: FrostPlan::unlimited() }
}

pub fn membrane(house: &House, unit: Unit) -> Variant {
    Variant { core: CoreKind::EnthalpyPlate, ..plate(house, unit) }
}

/// The unit and its baseline after the lead-in.
pub fn run(variant: &Variant, drivers: &Drivers) -> [HouseYear; 2] {
    run_pair("unit", variant, drivers, LEAD_IN).unwrap()
}

/// A ledger line over the year [J or kg].
pub fn line(year: &HouseYear, line: Line) -> f64 {
    let found = year.ledger_by_month.iter().find(|l| l.book == line.book().name() && l.label == line.label());
    found.unwrap().by_month.iter().sum()
}

pub fn sum(column: &[f64]) -> f64 {
    column.iter().sum()
}

pub fn mean(column: &[f64]) -> f64 {
    sum(column) / column.len() as f64
}

/// The last hour of a column: what a year without weather has settled on.
pub fn last(column: &[f64]) -> f64 {
    *column.last().unwrap()
}

//! Reads the house and what belongs to it.
//!
//! Here: size, mass, windows, people and water. Not here: leaks (`read/leakage.rs`), conduction (`read/fabric.rs`), heating and cooling (`read/plant.rs`),
//! ventilation.
//! Read next: `read/leakage.rs`.

use super::bedroom::{self, Around};
use super::fabric::{self, Beside};
use super::free_cooling;
use super::indoors;
use super::leakage::{self, Height};
use super::plant;
use super::ventilation;
use crate::keys;
use crate::kinds::{GivenMass, brief};
use crate::model::{House, MassClass, Moisture, People, Window};
use crate::specs;
use crate::table::{Log, Table};

/// Whether the house has water sources that come in events.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Events {
    /// Nothing but steady sources.
    None,
    /// Showers, cooking or laundry.
    Some,
}

pub(super) fn events(house: &House) -> Events {
    let moisture = &house.moisture;
    let sources = [moisture.showers_kg_per_s, moisture.cooking_kg_per_s, moisture.laundry_kg_per_s];
    if sources.iter().any(|source| *source > 0.0) { Events::Some } else { Events::None }
}

pub(super) fn read(log: &mut Log, mut table: Table<'_>) -> Option<House> {
    let size = read_size(log, &mut table);
    let leaks = leakage::read(log, &mut table, size.as_ref().map(Size::height));
    let mass = read_mass(log, &table);
    let inside = read_inside(log, &table);
    let windows = read_windows(log, &table);
    let most_walls_w_per_k = size.as_ref().zip(mass.as_ref()).map(|(size, mass)| most_walls(size, mass));
    let foundation = fabric::read_foundation(log, &table);
    let conduction = fabric::read(log, &table, Beside { windows: &windows, foundation, most_walls_w_per_k });
    let rooms = ventilation::read_rooms(log, &table, foundation);
    let (heating, cooling) = plant::read(log, &mut table);
    let airing = free_cooling::read_airing(log, &table, (heating.as_ref(), cooling.as_ref()));
    let none = ("0 L/s", "assumed: it blows no air out of the house, since none is stated");
    let range_hood = table.or(log, &specs::RANGE_HOOD, none);
    let dryer = table.or(log, &specs::DRYER, none);
    let people = table.required_table(log, &keys::PEOPLE).and_then(|table| read_people(log, table));
    let around = Around {
        people: people.as_ref().map(|people| people.count),
        bedrooms: size.as_ref().map(|size| size.bedrooms),
        volume_m3: size.as_ref().map(|size| size.height().volume_m3),
    };
    let bedroom = bedroom::read(log, &table, around);
    let humidifier = indoors::read_humidifier(log, &table);
    let dehumidifier = indoors::read_dehumidifier(log, &table, humidifier.as_ref());
    let cold_corner =
        table.table(log, &keys::COLD_CORNER).and_then(|table| indoors::read_cold_corner(log, table));
    let moisture = table.table(log, &keys::MOISTURE).and_then(|table| read_moisture(log, table));
    table.finish(log);
    let (size, leaks, mass, inside, conduction) = (size?, leaks?, mass?, inside?, conduction?);
    Some(House {
        floor_area_m2: size.floor_area_m2,
        ceiling_height_m: size.ceiling_height_m,
        bedrooms: size.bedrooms,
        rooms,
        storeys: size.storeys,
        heat_loss_w_per_k: conduction.heat_loss_w_per_k,
        envelope: conduction.envelope,
        foundation: foundation?,
        ground_loss_w_per_k: conduction.ground_loss_w_per_k,
        air_leakage: leaks.air_leakage,
        flue: leaks.flue,
        eaves_height_m: leaks.eaves_height_m,
        heat_capacity_j_per_m2k: mass.heat_capacity_j_per_m2k,
        mass_area_ratio: mass.area_ratio,
        thermal_mass_class: mass.class,
        wet_share: inside.wet_share,
        door_exchange_kg_per_s: inside.door_exchange_kg_per_s,
        gains_w_per_m2: inside.gains_w_per_m2,
        windows,
        heating: heating?,
        cooling,
        airing,
        range_hood_m3_per_s: range_hood?,
        dryer_m3_per_s: dryer?,
        people: people?,
        humidifier,
        dehumidifier,
        cold_corner: cold_corner?,
        bedroom,
        moisture: moisture?,
    })
}

struct Size {
    floor_area_m2: f64,
    ceiling_height_m: f64,
    bedrooms: u32,
    storeys: u32,
}

impl Size {
    fn height(&self) -> Height {
        let volume_m3 = self.floor_area_m2 * self.ceiling_height_m;
        Height { ceiling_height_m: self.ceiling_height_m, storeys: self.storeys, volume_m3 }
    }
}

fn read_size(log: &mut Log, table: &mut Table<'_>) -> Option<Size> {
    let floor_area = table.required(log, &specs::FLOOR_AREA);
    let ceiling_height =
        table.or(log, &specs::CEILING_HEIGHT, ("2.5 m", "common practice: a usual room height"));
    let bedrooms = table.required(log, &specs::BEDROOMS);
    let storeys = table.or(log, &specs::STOREYS, ("1", "assumed: all on one floor"));
    Some(Size {
        floor_area_m2: floor_area?,
        ceiling_height_m: ceiling_height?,
        bedrooms: bedrooms?,
        storeys: storeys?,
    })
}

struct Inside {
    wet_share: f64,
    door_exchange_kg_per_s: f64,
    gains_w_per_m2: f64,
}

fn read_inside(log: &mut Log, table: &Table<'_>) -> Option<Inside> {
    let wet_share = table.or(log, &specs::WET_SHARE, ("0.15", "assumed: kitchen, bathrooms and laundry"));
    let door_exchange =
        table.or(log, &specs::DOOR_EXCHANGE, ("0.03 kg/s", "assumed: doors between rooms open now and then"));
    let gains = table.or(log, &specs::GAINS, ("2.4 W/m2", "assumed: lights and appliances of a home"));
    Some(Inside { wet_share: wet_share?, door_exchange_kg_per_s: door_exchange?, gains_w_per_m2: gains? })
}

fn read_mass(log: &mut Log, table: &Table<'_>) -> Option<MassNumbers> {
    let given =
        table.or(log, &specs::THERMAL_MASS, ("medium", "assumed: a class of ISO 13790:2008, table 12"))?;
    let mass = MassNumbers::of(given);
    if let GivenMass::JoulesPerSquareMetreKelvin(_) = given {
        let value = format!("mass area {} m2 per m2 of floor", brief(mass.area_ratio));
        let why = "ISO 13790:2008, table 12, on straight lines between its classes";
        log.took(table.path_of("thermal_mass"), value, why);
    }
    Some(mass)
}

/// What walls, roof and floor may conduct at most in the hourly method [W/K].
///
/// # Source
/// [ISO 13790:2008] 12.2.2: 9.1 W/m²K between mass and surface, in series with them.
fn most_walls(size: &Size, mass: &MassNumbers) -> f64 {
    const MASS_TO_SURFACE_W_PER_M2K: f64 = 9.1;
    MASS_TO_SURFACE_W_PER_M2K * mass.area_ratio * size.floor_area_m2
}

struct MassNumbers {
    class: Option<MassClass>,
    heat_capacity_j_per_m2k: f64,
    area_ratio: f64,
}

impl MassNumbers {
    /// # Source
    /// [ISO 13790:2008] table 12.
    fn of(given: GivenMass) -> Self {
        let (class, kilojoules) = match given {
            GivenMass::JoulesPerSquareMetreKelvin(joules) => (None, joules / 1000.0),
            GivenMass::Class(class) => (Some(class), class_kj_per_m2k(class)),
        };
        let area_ratio = mass_area_ratio(kilojoules);
        Self { class, heat_capacity_j_per_m2k: kilojoules * 1000.0, area_ratio }
    }
}

fn class_kj_per_m2k(class: MassClass) -> f64 {
    match class {
        MassClass::VeryLight => 80.0,
        MassClass::Light => 110.0,
        MassClass::Medium => 165.0,
        MassClass::Heavy => 260.0,
        MassClass::VeryHeavy => 370.0,
    }
}

/// 2.5 up to medium, 3.0 at heavy, 3.5 from very heavy on; straight between.
fn mass_area_ratio(kj_per_m2k: f64) -> f64 {
    if kj_per_m2k <= 165.0 {
        2.5
    } else if kj_per_m2k <= 260.0 {
        2.5 + 0.5 * (kj_per_m2k - 165.0) / (260.0 - 165.0)
    } else if kj_per_m2k <= 370.0 {
        3.0 + 0.5 * (kj_per_m2k - 260.0) / (370.0 - 260.0)
    } else {
        3.5
    }
}

fn read_windows(log: &mut Log, house: &Table<'_>) -> Vec<Window> {
    if !house.has("window") {
        log.took(house.path_of("window"), "none", "assumed: a house without windows, since none is given");
    }
    let tables = house.tables(log, &keys::WINDOW);
    tables.into_iter().filter_map(|table| read_window(log, table)).collect()
}

fn read_window(log: &mut Log, mut table: Table<'_>) -> Option<Window> {
    let facing = table.required(log, &specs::FACING);
    let area = table.required(log, &specs::WINDOW_AREA);
    let u_value = table.required(log, &specs::U_VALUE);
    let solar_gain = table.required(log, &specs::SOLAR_GAIN);
    let why = "assumed: a usual spacer; warm ones reach 0.7";
    let edge_factor = table.or(log, &specs::EDGE_FACTOR, ("0.6", why));
    table.finish(log);
    let (facing, look) = facing?;
    Some(Window {
        facing,
        azimuth_deg: look.azimuth_deg,
        tilt_deg: look.tilt_deg,
        area_m2: area?,
        u_w_per_m2k: u_value?,
        solar_gain: solar_gain?,
        edge_factor: edge_factor?,
    })
}

fn read_people(log: &mut Log, mut table: Table<'_>) -> Option<People> {
    let count = table.required(log, &specs::PEOPLE_COUNT);
    let profile = table.required(log, &specs::PROFILE);
    let heat = table.or(log, &specs::PERSON_HEAT, ("70 W", "assumed: a person at rest or light work"));
    let moisture =
        table.or(log, &specs::PERSON_MOISTURE, ("50 g/h", "assumed: a person at rest or light work"));
    table.finish(log);
    Some(People { count: count?, profile: profile?, heat_w: heat?, moisture_kg_per_s: moisture? })
}

fn read_moisture(log: &mut Log, table: Table<'_>) -> Option<Moisture> {
    const NO_SOURCE: (&str, &str) = ("0 kg/day", "assumed: no such source, since none is given");
    let showers = table.or(log, &specs::SHOWERS, NO_SOURCE);
    let cooking = table.or(log, &specs::COOKING, NO_SOURCE);
    let laundry = table.or(log, &specs::LAUNDRY, NO_SOURCE);
    let plants = table.or(log, &specs::PLANTS, NO_SOURCE);
    let new_building = table.or(log, &specs::NEW_BUILDING, NO_SOURCE);
    let new_building_halves =
        table.or(log, &specs::HALVES_IN, ("180 d", "assumed: most of it leaves within two winters"));
    let storage = table.or(log, &specs::STORAGE, ("furnished", "assumed: a lived-in house"));
    table.finish(log);
    Some(Moisture {
        showers_kg_per_s: showers?,
        cooking_kg_per_s: cooking?,
        laundry_kg_per_s: laundry?,
        plants_kg_per_s: plants?,
        new_building_kg_per_s: new_building?,
        new_building_halves_s: new_building_halves?,
        storage: storage?,
    })
}

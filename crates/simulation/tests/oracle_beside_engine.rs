//! Whole years of four houses beside a second calculation in another style: one-minute steps, the core cell by cell, written from the published equations
//! before its author had seen this crate (`oracle`).
//!
//! Not here: the second calculation against closed forms (`oracle.rs`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;
#[path = "oracle/mod.rs"]
mod oracle;
#[path = "../../../tests/proof/mod.rs"]
mod proof;

use std::sync::Arc;

use common::{LEAD_IN, file, mean, sum};
use exchanger::CoreKind;
use oracle::Case;
use oracle::answers::Answers;
use oracle::case::TimetableRow as OracleRow;
use proof::{Claim, Pair as Values, Within};
use simulation::results::Hourly;
use simulation::{
    DayProfile, Drivers, Facing, FrostPlan, FrostStrategy, House, HouseNumbers, Indoors, IndoorsNumbers,
    MAX_FACINGS, MAX_PANES, PaneNumbers, PeopleProfile, SiteNumbers, Start, Steps, SurfaceStorage, Timetable,
    TimetableRow, Unit, Variant, run_pair,
};

const SHOWERS_KG: f64 = 1.6;
const COOKING_KG: f64 = 2.2;

/// Someone is always at home; water comes by the engine's own quarter-hours.
fn at_home(showers_kg: f64, cooking_kg: f64) -> Case {
    let (showers, cooking) = (DayProfile::showers(), DayProfile::cooking());
    let quarters = core::array::from_fn(|k| {
        let from = 15.0 * k as f64;
        (showers_kg * showers.share(from, from + 15.0) + cooking_kg * cooking.share(from, from + 15.0))
            / 900.0
    });
    Case { presence: [1.0; 24], quarters_wet_kg_per_s: Some(quarters), ..Case::bungalow() }
}

fn house(case: &Case) -> House {
    let mass_to_surface = 9.1 * case.mass_area_m2;
    let surfaces_m2 = 4.5 * case.floor_area_m2;
    let windows: f64 = case.windows.iter().map(|w| w.area_m2 * w.u_w_per_m2k).sum();
    let air_kg = AIR_KG_PER_M3 * case.volume_m3;
    let storage = SurfaceStorage::FURNISHED;
    let mut apertures_m2 = [0.0; MAX_FACINGS];
    let mut panes = [PaneNumbers::NONE; MAX_PANES];
    for ((aperture, pane), window) in apertures_m2.iter_mut().zip(&mut panes).zip(&case.windows) {
        *aperture = window.area_m2 * window.solar_gain * case.incidence_factor;
        *pane = PaneNumbers { edge_share: 0.0, ..PaneNumbers::new(window.area_m2, window.u_w_per_m2k, 0.6) };
    }
    let plants: f64 = case.evaporated_rest_kg_per_s.iter().sum::<f64>() * 3600.0;
    let of_day = |profile: &DayProfile, all: f64| all * profile.share(0.0, 1440.0);
    let numbers = HouseNumbers {
        floor_area_m2: case.floor_area_m2,
        outdoor_to_mass_w_per_k: 1.0 / (1.0 / case.opaque_w_per_k - 1.0 / mass_to_surface),
        mass_to_surface_w_per_k: mass_to_surface,
        surface_to_air_w_per_k: 3.45 * surfaces_m2,
        windows_w_per_k: windows,
        gain_share_mass: case.mass_area_m2 / surfaces_m2,
        gain_share_lost: windows / (9.1 * surfaces_m2),
        mass_j_per_k: case.mass_j_per_k,
        heating_set_point_c: case.heating_set_c,
        heating_capacity_w: 1e9,
        heating_efficiency: 1.0,
        cooling_set_point_c: case.cooling_set_c,
        cooling_capacity_w: 1e9,
        cooling_cop: 1.0,
        apparatus_dew_point_c: case.coil_dew_point_c,
        people: case.people,
        person_heat_w: case.person_w,
        person_water_kg_per_s: case.person_kg_per_s,
        other_gains_w: case.gains_w,
        showers_kg_per_day: of_day(&DayProfile::showers(), SHOWERS_KG),
        cooking_kg_per_day: of_day(&DayProfile::cooking(), COOKING_KG),
        laundry_kg_per_day: 0.0,
        plants_kg_per_day: plants,
        rest_air_kg: air_kg * (1.0 - case.wet_share),
        wet_air_kg: air_kg * case.wet_share,
        wet_share: case.wet_share,
        door_kg_per_s: case.door_kg_per_s,
        leakage_kg_per_s: case.leakage_kg_per_s,
        surface_kg_per_s_pa: storage.conductance_kg_per_s_pa(case.floor_area_m2),
        surface_capacity_kg: storage.capacity_kg(case.floor_area_m2),
    };
    let indoors = Indoors { numbers: IndoorsNumbers::NONE, panes };
    House { numbers, site: SiteNumbers::none(), apertures_m2, indoors }
}

/// Air that the second calculation fills its rooms with.
const AIR_KG_PER_M3: f64 = 1.2;

fn engine(case: &Case, drivers_of: &weather::WeatherYear) -> Arc<Hourly> {
    let house = house(case);
    let facings: Vec<Facing> = case
        .windows
        .iter()
        .map(|window| Facing { azimuth_deg: window.azimuth_deg, tilt_deg: 90.0 })
        .collect();
    let drivers = Drivers::new(drivers_of, &facings, PeopleProfile::AlwaysHome, Steps::Four).unwrap();
    let unit = Unit {
        supply_kg_per_s: case.ventilation_kg_per_s,
        extract_kg_per_s: case.ventilation_kg_per_s,
        ua_w_per_k: case.ua_w_per_k,
        vapour_kg_per_s: case.vapour_kg_per_s,
        fan_w: case.supply_fan_w + case.extract_fan_w,
        fan_heat_after_w: case.supply_fan_w,
        ..Unit::none()
    }
    .in_house_of_leakage(case.leakage_kg_per_s);
    let core = if case.vapour_kg_per_s > 0.0 { CoreKind::EnthalpyPlate } else { CoreKind::SensiblePlate };
    let rows: Vec<TimetableRow> = case
        .timetable
        .iter()
        .map(|row| TimetableRow {
            at_or_below_c: row.at_or_below_c,
            defrost_min: row.defrost_min,
            run_min: row.run_min,
        })
        .collect();
    let strategy = if rows.is_empty() {
        FrostStrategy::None
    } else {
        FrostStrategy::Recirculate(Start::Timetable(Timetable::new(&rows).unwrap()))
    };
    let frost = FrostPlan {
        strategy,
        core_heat_capacity_j_per_k: case.core_j_per_k,
        returned: case.returned,
        ..FrostPlan::unlimited()
    };
    let [year, _] = run_pair("engine", &Variant { house, unit, core, frost }, &drivers, LEAD_IN).unwrap();
    year.hourly
}

fn kwh(column: &[f64]) -> f64 {
    sum(column) / 1000.0
}

/// Both years, and how far they may lie apart.
struct Pair {
    name: &'static str,
    engine: Arc<Hourly>,
    oracle: Answers,
}

impl Pair {
    fn new(name: &'static str, path: &str, case: &Case) -> Self {
        let weather = file(path);
        Self { name, engine: engine(case, &weather), oracle: oracle::run(case, &weather) }
    }

    fn rows(&self) -> [(&'static str, f64, f64); 9] {
        let (e, o) = (&self.engine, &self.oracle);
        let frost_h = e.ice_formed_kg.iter().filter(|kg| **kg >= 1e-3).count() as f64;
        [
            ("heating kWh", kwh(&e.heating_load_w), o.heating_kwh),
            ("cooling kWh", kwh(&e.cooling_sensible_w) + kwh(&e.cooling_latent_w), o.cooling_kwh),
            ("recovered sensible kWh", kwh(&e.recovered_sensible_w), o.recovered_sensible_kwh),
            ("recovered latent kWh", kwh(&e.recovered_latent_w), o.recovered_latent_kwh),
            ("mean RH %", 100.0 * mean(&e.relative_humidity), o.rh_mean_pct),
            ("condensate L", sum(&e.drain_kg), o.condensate_l),
            ("frost h", frost_h, f64::from(o.frost_h)),
            ("ice kg", sum(&e.ice_formed_kg), o.frost_formed_kg),
            ("defrost h", sum(&e.defrost_share), o.defrost_h),
        ]
    }

    fn compare(&self) {
        for (what, engine, oracle) in self.rows() {
            println!(
                "{:22} {what:24} {engine:10.2} {oracle:10.2} {:+.2} %",
                self.name,
                100.0 * (engine / oracle - 1.0)
            );
        }
        let [heating, _, sensible, latent, humidity, condensate, frost, ..] = self.rows();
        let near = |(what, engine, oracle): (&str, f64, f64), share: f64, least: f64| {
            let allowed = (share * oracle.abs()).max(least);
            assert!((engine - oracle).abs() <= allowed, "{}, {what}: {engine} {oracle}", self.name);
        };
        // A year that heats, freezes or drains next to nothing is held to little instead: 3 kWh, 1 L, 10 h.
        near(heating, 0.01, 3.0);
        near(sensible, 0.01, 3.0);
        near(latent, 0.01, 3.0);
        near(humidity, 0.0, 0.5);
        near(condensate, 0.03, 1.0);
        near(frost, 0.03, 10.0);
        self.on_the_page();
    }

    /// What the year is asked for first: heat recovered and mean humidity.
    fn on_the_page(&self) {
        let [_, _, sensible, _, humidity, ..] = self.rows();
        let claims = [
            ("Heat recovered in a year", sensible, "fraction"),
            ("Mean humidity of a year", humidity, "points"),
        ];
        for (what, (_, got, expected), unit) in claims {
            let claim = Claim {
                area: "whole year",
                quantity: &format!("{what}, {}", self.name),
                source: "a second calculation: one-minute steps, core cell by cell, written from the equations alone",
                basis: "own calculation",
                unit,
                why: "hours against minutes; the hourly core against cells",
            };
            let within = if unit == "points" { Within::Absolute(0.5) } else { Within::Relative(0.01) };
            proof::worst(&claim, within, &[Values { place: String::new(), expected, got }]);
        }
    }
}

fn timetable(rows: &[(f64, f64, f64)]) -> Vec<OracleRow> {
    rows.iter()
        .map(|&(at_or_below_c, defrost_min, run_min)| OracleRow { at_or_below_c, defrost_min, run_min })
        .collect()
}

#[test]
fn a_plate_that_recirculates_in_severe_cold() {
    let case = Case {
        timetable: timetable(&[(-5.0, 6.0, 54.0), (-15.0, 10.0, 20.0)]),
        ..at_home(SHOWERS_KG, COOKING_KG)
    };
    Pair::new("severe cold, plate", "weather-samples/frosthollow.csv", &case).compare();
}

#[test]
fn a_membrane_in_the_cold() {
    let case = Case {
        vapour_kg_per_s: 0.05,
        timetable: timetable(&[(-10.0, 6.0, 54.0)]),
        ..at_home(SHOWERS_KG, COOKING_KG)
    };
    Pair::new("cold, membrane", "weather-samples/frosthollow.csv", &case).compare();
}

#[test]
fn a_plate_where_it_is_hot_and_humid() {
    let case = at_home(SHOWERS_KG, COOKING_KG);
    Pair::new("hot and humid, plate", "weather-samples/palmreach.csv", &case).compare();
}

#[test]
fn a_tight_and_crowded_house() {
    let case = Case { people: 8.0, leakage_kg_per_s: 0.002, cells: 160, ..at_home(SHOWERS_KG, COOKING_KG) };
    Pair::new("tight and crowded", "weather-samples/millbrook.csv", &case).compare();
}

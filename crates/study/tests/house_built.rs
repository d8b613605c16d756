//! Keys of site, ground, plant, airflow and control reach the numbers that are run.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

mod said;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use said::starter_with;
use simulation::House;
use study::build::{Built, build};
use weather::{Overrides, WeatherYear};

fn year() -> WeatherYear {
    let bytes = include_bytes!("../../../weather-samples/frosthollow.csv");
    weather::read(bytes, &Overrides::default()).expect("an invented year").0
}

fn built(changes: &[(&str, &str)]) -> Built {
    build(&starter_with(changes), &year()).unwrap_or_else(|error| panic!("{changes:?}: {error}"))
}

fn house(changes: &[(&str, &str)]) -> House {
    built(changes).house
}

const HOUSE: &str = "[house]\n";
const AIR: &str = "[ventilation]\n";

/// By hand: 113 W/K of walls, a fifth of it to the ground: both branches hold the mass node's series with 9.1 × 350 W/K.
#[test]
fn the_ground_takes_its_share_of_the_walls_branch() {
    let plain = house(&[]);
    let all = 113.0 * 3185.0 / (3185.0 - 113.0);
    assert_relative_eq!(plain.numbers.outdoor_to_mass_w_per_k, 0.8 * all, max_relative = 1e-12);
    assert_relative_eq!(plain.site.ground_to_mass_w_per_k, 0.2 * all, max_relative = 1e-12);
    let given = house(&[(HOUSE, "[house]\nground_loss = \"30 W/K\"\n")]);
    assert_relative_eq!(given.site.ground_to_mass_w_per_k, 30.0 / 113.0 * all, max_relative = 1e-12);
    // A slab follows half of the wave, 30 days behind.
    let behind = std::f64::consts::TAU * 30.0 / 365.0;
    assert_relative_eq!(plain.site.ground_in_step, 0.5 * behind.cos(), max_relative = 1e-12);
    assert_relative_eq!(plain.site.ground_behind, 0.5 * behind.sin(), max_relative = 1e-12);
}

/// By hand: 2.5 changes an hour of 350 m³ at 50 Pa; one storey without flue, coefficients 0.054 and 0.156; suburban at the eaves, class 3.
#[test]
fn a_blower_door_result_leaks_by_wind_and_temperature() {
    let leaky = built(&[("\"12 L/s\"", "\"2.5 1/h @50Pa\"")]);
    let (density, site) = (leaky.density_kg_per_m3, leaky.house.site);
    let c = 2.5 * 350.0 / 3600.0 / 50.0_f64.powf(0.65);
    assert_eq!(leaky.house.numbers.leakage_kg_per_s, 0.0);
    assert_relative_eq!(site.stack_kg_per_s, c * 0.054 * density, max_relative = 1e-9);
    let eaves = starter_with(&[("\"12 L/s\"", "\"2.5 1/h @50Pa\"")]).house.eaves_height_m;
    let factor = (270.0 / 10.0_f64).powf(0.14) * (eaves / 370.0).powf(0.22);
    let wind = c * 0.156 * (0.7 * factor).powf(1.3) * density;
    assert_relative_eq!(site.wind_kg_per_s, wind, max_relative = 1e-9);
    let constant = house(&[]);
    assert_eq!((constant.site.stack_kg_per_s, constant.site.wind_kg_per_s), (0.0, 0.0));
}

#[test]
fn plant_limits_and_clocks_reach_the_hour() {
    let limited = built(&[
        (
            "[house.heating]\n",
            "[house.heating]\ncapacity = \"9 kW\"\nset_back = { temperature = \"17 °C\", from = \"22:00\", to = \"06:00\" }\n",
        ),
        ("set_point = \"25 °C\"\n", "set_point = \"25 °C\"\ncapacity = \"5 kW\"\n"),
    ]);
    assert_eq!(limited.house.numbers.heating_capacity_w, 9000.0);
    // Three quarters of it sensible.
    assert_eq!(limited.house.numbers.cooling_capacity_w, 3750.0);
    assert_relative_eq!(limited.house.site.set_back_k, 3.5, max_relative = 1e-12);
    let set_back: Vec<f64> = limited.drivers.hours()[..24].iter().map(|hour| hour.clock.set_back).collect();
    let by_hand: Vec<f64> = (0..24).map(|h| if (6..22).contains(&h) { 0.0 } else { 1.0 }).collect();
    assert_eq!(set_back, by_hand);
}

#[test]
fn ducts_and_the_place_of_a_unit_reach_it() {
    let ducted = built(&[
        (AIR, "[ventilation]\nducts = { cold_indoors = \"3 W/K\", warm_outdoors = \"4 W/K\" }\n"),
        ("core = \"sensible-plate\"\n", "core = \"sensible-plate\"\nlocation = \"cellar\"\n"),
    ]);
    let unit = ducted.units[0].1.unit;
    // Two ducts of each kind.
    assert_eq!((unit.cold_duct_w_per_k, unit.warm_duct_w_per_k, unit.place_share), (1.5, 2.0, 0.4));
}

#[test]
fn control_by_humidity_and_carbon_dioxide_is_a_limit_and_a_low_share() {
    let of = |lines: &str| {
        house(&[("# Two units", &format!("[ventilation.control]\n{lines}\n\n# Two units"))]).site
    };
    let humid = of(
        "mode = \"humidity\"\nhumidity_at_or_above = \"45 %\"\nfalls_per_k = \"0.5 %/K\"\nlow_share = 0.25",
    );
    assert_relative_eq!(humid.humid_above, 0.45, max_relative = 1e-12);
    assert_relative_eq!(humid.humid_falls_per_k, 0.005, max_relative = 1e-12);
    assert_eq!((humid.low_share, humid.stale_above_ppm), (0.25, f64::INFINITY));
    let stale = of("mode = \"co2\"\nco2_limit = \"900 ppm\"\nlow_share = 0.3");
    assert_eq!((stale.low_share, stale.stale_above_ppm, stale.humid_above), (0.3, 900.0, f64::INFINITY));
}

/// Showers begin at 6:45, 7:15, 7:45 and 21:45; a boost of 20 minutes fills 15 of hour 6, 5 + 20 + 15 of hour 7, 5 of hour 8.
#[test]
fn schedules_boosts_and_days_away_are_in_the_clock() {
    let clock = |lines: &str| {
        let built = built(&[("# Two units", &format!("[ventilation.control]\n{lines}\n\n# Two units"))]);
        built.drivers.hours().iter().map(|hour| hour.clock).collect::<Vec<_>>()
    };
    let part = clock("mode = \"intermittent\"\non_share = 0.4");
    assert!(part.iter().all(|hour| hour.run_share == 0.4 && hour.flow == 1.0));
    let boosted = clock("boost = { factor = 1.6, lasts = \"20 min\" }");
    let expected = [(5, 0.0), (6, 15.0), (7, 40.0), (8, 5.0), (21, 15.0), (22, 5.0)];
    for (hour, minutes) in expected {
        assert_abs_diff_eq!(boosted[hour].flow, 1.0 + 0.6 * minutes / 60.0, epsilon = 1e-12);
    }
    let away = clock("away = { share = 0.3, days = [\"07-12..07-26\"] }");
    // By hand: 12 July is day 193 of the year, 26 July day 207.
    for (hour, clock) in away.iter().enumerate() {
        let is_away = (192 * 24..207 * 24).contains(&hour);
        assert_eq!((clock.flow, clock.at_home), if is_away { (0.3, 0.0) } else { (1.0, 1.0) }, "hour {hour}");
    }
}

/// 140 m² and three bedrooms: 0.15 × 140 + 3.5 × 4 = 35 L/s.
#[test]
fn a_standard_makes_the_flow_and_its_reasons() {
    let ruled = built(&[("airflow = \"45 L/s\"", "airflow = \"by-standard\"")]);
    assert_relative_eq!(ruled.airflow_m3_per_s, 0.035, max_relative = 1e-12);
    assert_eq!(ruled.requirement.steps.len(), 3);
    assert_relative_eq!(
        ruled.units[0].1.unit.supply_kg_per_s,
        0.035 * ruled.density_kg_per_m3,
        max_relative = 1e-12
    );
    let stated = built(&[]);
    assert_relative_eq!(stated.airflow_m3_per_s, 0.045, max_relative = 1e-12);
    assert_relative_eq!(stated.requirement.airflow_m3_per_s, 0.035, max_relative = 1e-12);
    let credited = built(&[
        ("\"12 L/s\"", "\"2.5 1/h @50Pa\""),
        ("airflow = \"45 L/s\"", "airflow = \"by-standard\"\ninfiltration_credit = true"),
    ]);
    assert!(
        credited.airflow_m3_per_s < 0.035 && credited.airflow_m3_per_s > 0.015,
        "{}",
        credited.airflow_m3_per_s
    );
    assert_eq!(credited.airflow_m3_per_s, credited.requirement.airflow_m3_per_s);
}

#[test]
fn windows_open_by_their_rule_alone() {
    let aired = house(&[(
        HOUSE,
        "[house]\nairing = { air_changes = \"3 1/h\", indoor_above = \"24 °C\", colder_by = \"2 K\" }\n",
    )]);
    let density = built(&[]).density_kg_per_m3;
    assert_relative_eq!(aired.site.airing_kg_per_s, 3.0 * 350.0 / 3600.0 * density, max_relative = 1e-12);
    assert_eq!((aired.site.airing_above_c, aired.site.airing_colder_by_k), (24.0, 2.0));
    assert_eq!(house(&[]).site.airing_above_c, f64::INFINITY);
}

/// All 32 W/K of the windows and nothing else; and the same house without a window.
#[test]
fn a_house_of_glass_and_a_house_without_windows_run_and_close_their_books() {
    let glass = [("heat_loss = \"145 W/K\"", "heat_loss = \"32 W/K\"\nground_loss = \"0 W/K\"")];
    let study = starter_with(&glass);
    let mut bare = starter_with(&[]);
    bare.house.windows.clear();
    for study in [study, bare] {
        let built = build(&study, &year()).unwrap();
        for (name, variant) in &built.units {
            let years = simulation::run_with_baselines(name, variant, &built.drivers, built.options).unwrap();
            let all = years.iter().flat_map(|year| year.hourly.columns());
            assert!(all.into_iter().all(|(_, values, _)| values.iter().all(|value| value.is_finite())));
        }
    }
}

#[test]
fn a_tight_house_and_one_without_wind_run() {
    let mut calm = year();
    calm.wind_speed_m_per_s.fill(0.0);
    for leakage in ["\"0 L/s\"", "\"0.05 1/h @50Pa\"", "\"9 1/h @50Pa\""] {
        let study = starter_with(&[("\"12 L/s\"", leakage)]);
        for weather in [&calm, &year()] {
            let built = build(&study, weather).unwrap();
            let (name, variant) = &built.units[0];
            let years = simulation::run_with_baselines(name, variant, &built.drivers, built.options).unwrap();
            assert!(years[2].hourly.infiltration_air_kg.iter().all(|kg| kg.is_finite() && *kg >= 0.0));
        }
    }
}

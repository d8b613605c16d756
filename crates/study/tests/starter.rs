//! The starter study and what it is read to; defaults; keys that do not get lost.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

use approx::assert_relative_eq;
use study::{CoreKind, MassClass, Performance, Study, TimeStep, known_keys, parse_study, starter_study};

fn starter() -> Study {
    parse_study(starter_study(), "bungalow.toml").unwrap_or_else(|problems| {
        panic!("{}", problems.render(starter_study(), "bungalow.toml"));
    })
}

fn changed(from: &str, to: &str) -> Study {
    assert!(starter_study().contains(from), "{from}");
    let text = starter_study().replacen(from, to, 1);
    parse_study(&text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(&text, "s")))
}

#[test]
fn the_starter_study_is_read_without_a_problem() {
    let study = starter();
    assert_eq!(study.title, "Bungalow at Frosthollow");
    assert_eq!(study.site.weather, "frosthollow.csv");
    assert_eq!((study.house.bedrooms, study.house.people.count), (3, 4));
    assert_eq!(
        study.units.iter().map(|unit| unit.name.as_str()).collect::<Vec<_>>(),
        ["Plate A", "Membrane B", "Plate A preheated"]
    );
    assert_eq!(
        study.house.windows.iter().map(|window| window.azimuth_deg).collect::<Vec<_>>(),
        [180.0, 90.0, 270.0, 0.0]
    );
}

#[test]
fn its_opaque_part_is_the_heat_loss_less_the_windows() {
    // By hand: (9 + 4 + 4 + 3) m² × 1.6 W/m²K = 32 W/K; 145 − 32 = 113 W/K.
    assert_relative_eq!(starter().house.opaque_w_per_k(), 113.0, max_relative = 1e-12);
}

#[test]
fn its_cores_have_the_transfer_units_that_its_comments_state() {
    // By hand: 45 L/s of air of 1.204 kg/m³ is 0.05418 kg/s, and with 1006 J/kgK 54.5 W/K.
    let mass_flow_kg_per_s = 0.045 * 1.204;
    let expected = [(CoreKind::SensiblePlate, 4.0, 0.0), (CoreKind::EnthalpyPlate, 3.5, 1.6)];
    for (unit, (core, sensible, latent)) in starter().units.iter().zip(expected) {
        let Performance::Conductance { ua_w_per_k, vapour_kg_per_s, at_m3_per_s, .. } = unit.performance
        else {
            panic!("a conductance");
        };
        assert_eq!(unit.core, core);
        assert_relative_eq!(at_m3_per_s, 0.045, max_relative = 1e-12);
        assert_relative_eq!(ua_w_per_k / (mass_flow_kg_per_s * 1006.0), sensible, max_relative = 0.002);
        assert_relative_eq!(vapour_kg_per_s / mass_flow_kg_per_s, latent, max_relative = 0.002);
    }
}

#[test]
fn the_same_house_in_other_units_is_the_same_house() {
    let study = changed("floor_area = \"140 m2\"", "floor_area = \"1506.947458 ft2\"");
    assert_relative_eq!(study.house.floor_area_m2, 140.0, max_relative = 1e-9);
    let study = changed("set_point = \"20.5 °C\"", "set_point = \"68.9 °F\"");
    assert_relative_eq!(study.house.heating.set_point_c, 20.5, max_relative = 1e-12);
    let study = changed("\"1.6 kg/day\"", "\"1.6 L/day\"");
    assert_eq!(study.house.moisture.showers_kg_per_s, starter().house.moisture.showers_kg_per_s);
}

#[test]
fn every_value_left_open_is_listed_with_its_reason() {
    let used: Vec<String> =
        starter().defaults_used.iter().map(|used| format!("{} = {}", used.path, used.value)).collect();
    let expected = [
        "site.humidity_basis = inferred",
        "house.wet_share = 0.15",
        "house.door_exchange = 0.03 kg/s",
        "house.gains = 2.4 W/m2",
        "house.window[1].edge_factor = 0.6",
        "house.window[2].edge_factor = 0.6",
        "house.window[3].edge_factor = 0.6",
        "house.window[4].edge_factor = 0.6",
        "house.foundation = slab",
        "house.ground_loss = 22.6 W/K",
        "house.heating.capacity = unlimited",
        "house.heating.set_back = none",
        "house.cooling.apparatus_dew_point = 11 °C",
        "house.cooling.bypass = 0.1",
        "house.cooling.re_evaporation = where the blower runs on",
        "house.cooling.capacity = unlimited",
        "house.cooling.set_up = none",
        "house.airing = none",
        "house.range_hood = 0 L/s",
        "house.dryer = 0 L/s",
        "house.people.heat = 70 W",
        "house.people.moisture = 50 g/h",
        "house.bedroom = none",
        "house.humidifier = none",
        "house.dehumidifier = none",
        "house.cold_corner.temperature_factor = 0.75",
        "house.cold_corner.material = sensitive",
        "house.moisture.new_building = 0 kg/day",
        "house.moisture.new_building_halves_in = 180 d",
        "ventilation.blower = none",
        "ventilation.control.mode = continuous",
        "ventilation.control.boost = none",
        "ventilation.control.away = none",
        "ventilation.ducts.cold_indoors = 0 W/K",
        "ventilation.ducts.warm_outdoors = 0 W/K",
        "unit.Plate A.location = heated-room",
        "unit.Plate A.flow = counter",
        "unit.Plate A.cross_leakage = 0",
        "unit.Plate A.outdoor_air_correction = 1",
        "unit.Plate A.balance = 1",
        "unit.Plate A.hood_recirculation = 0",
        "unit.Plate A.fan.position = after-core",
        "unit.Plate A.fan.kind = constant-flow",
        "unit.Plate A.fan.supply_share = 0.5",
        "unit.Plate A.frost.capacity = 1.35 kg",
        "unit.Plate A.frost.to_cold_end = 0",
        "unit.Plate A.frost.hold_outdoor_air = false",
        "unit.Plate A.frost.returned = 0.5",
        "unit.Plate A.filter = clean",
        "unit.Plate A.upkeep = none",
        "unit.Plate A.bypass = none",
        "unit.Membrane B.location = heated-room",
        "unit.Membrane B.flow = counter",
        "unit.Membrane B.cross_leakage = 0",
        "unit.Membrane B.outdoor_air_correction = 1",
        "unit.Membrane B.balance = 1",
        "unit.Membrane B.hood_recirculation = 0",
        "unit.Membrane B.fan.position = after-core",
        "unit.Membrane B.fan.kind = constant-flow",
        "unit.Membrane B.fan.supply_share = 0.5",
        "unit.Membrane B.frost.capacity = 1.35 kg",
        "unit.Membrane B.frost.to_cold_end = 0",
        "unit.Membrane B.frost.hold_outdoor_air = false",
        "unit.Membrane B.frost.returned = 0.5",
        "unit.Membrane B.frost.timetable = on-demand",
        "unit.Membrane B.filter = clean",
        "unit.Membrane B.upkeep = none",
        "unit.Membrane B.bypass = none",
        "unit.Plate A preheated.location = heated-room",
        "unit.Plate A preheated.flow = counter",
        "unit.Plate A preheated.cross_leakage = 0",
        "unit.Plate A preheated.outdoor_air_correction = 1",
        "unit.Plate A preheated.balance = 1",
        "unit.Plate A preheated.hood_recirculation = 0",
        "unit.Plate A preheated.fan.position = after-core",
        "unit.Plate A preheated.fan.kind = constant-flow",
        "unit.Plate A preheated.fan.supply_share = 0.5",
        "unit.Plate A preheated.frost.capacity = 1.35 kg",
        "unit.Plate A preheated.frost.to_cold_end = 0",
        "unit.Plate A preheated.frost.preheat_to = onset",
        "unit.Plate A preheated.frost.preheat_power = unlimited",
        "unit.Plate A preheated.filter = clean",
        "unit.Plate A preheated.upkeep = none",
        "unit.Plate A preheated.bypass = none",
        "study.time_step = 15 min",
        "study.lead_in = 21 d",
    ];
    assert_eq!(used, expected);
    assert!(starter().defaults_used.iter().all(|used| !used.why.is_empty()));
}

#[test]
fn the_smallest_study_fills_in_the_rest() {
    let text = r#"
        study.title = "Small"
        site.weather = "w.csv"
        ventilation.airflow = "30 L/s"
        house = { floor_area = "60 m2", bedrooms = 1, heat_loss = "80 W/K", air_leakage = "5 L/s",
                  heating = { set_point = "20 °C", source = "electricity", efficiency = 3.0 },
                  people = { count = 1, profile = "always-home" } }
        unit = [{ name = "U", core = "enthalpy-plate", effectiveness = { sensible = 0.75, latent = 0.5, at = "30 L/s" } }]
    "#;
    let study = parse_study(text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(text, "s")));
    assert_eq!(study.time_step, TimeStep::Hour, "no event sources");
    assert_eq!(study.lead_in_h, 504);
    assert_eq!(study.house.thermal_mass_class, Some(MassClass::Medium));
    assert_eq!(study.house.moisture.total_kg_per_s(), 0.0);
    assert!(study.house.windows.is_empty() && study.house.cooling.is_none());
    // By hand: 1.2 W per L/s × 30 L/s.
    assert_relative_eq!(study.units[0].fan.power_w, 36.0, max_relative = 1e-12);
    let fan = study.defaults_used.iter().find(|used| used.path == "unit.U.fan.power").expect("listed");
    assert_eq!(
        (fan.value.as_str(), fan.why),
        ("36 W", "assumed: 1.2 W per L/s of `ventilation.airflow`, both fans together")
    );
}

#[test]
fn a_heat_capacity_between_two_classes_has_a_mass_area_between_theirs() {
    // ISO 13790:2008, table 12: medium 165 kJ/m²K and 2.5, heavy 260 and 3.0, very heavy 370 and 3.5.
    for (text, joules, ratio) in [
        ("very-light", 80e3, 2.5),
        ("165 kJ/m2K", 165e3, 2.5),
        ("212.5 kJ/m2K", 212.5e3, 2.75),
        ("heavy", 260e3, 3.0),
        ("very-heavy", 370e3, 3.5),
        ("900 kJ/m2K", 900e3, 3.5),
    ] {
        let house = changed("thermal_mass = \"medium\"", &format!("thermal_mass = \"{text}\"")).house;
        assert_relative_eq!(house.heat_capacity_j_per_m2k, joules, max_relative = 1e-12);
        assert_relative_eq!(house.mass_area_ratio, ratio, max_relative = 1e-12);
    }
}

#[test]
fn a_facing_may_be_a_name_or_an_angle_or_up() {
    for (facing, azimuth, tilt) in
        [("north-west", 315.0, 90.0), ("202.5 deg", 202.5, 90.0), ("360 deg", 0.0, 90.0), ("up", 0.0, 0.0)]
    {
        let window = changed("\"south\"", &format!("\"{facing}\"")).house.windows.swap_remove(0);
        assert_eq!((window.azimuth_deg, window.tilt_deg, window.facing.as_str()), (azimuth, tilt, facing));
    }
}

#[test]
fn site_values_are_read_where_they_are_given() {
    let site = changed(
        "[site]",
        "[site]\nlatitude = \"62.5 deg\"\nlongitude = \"−114.4°\"\nelevation = \"1000 ft\"\ntime_zone = \"-7 h\"\nhumidity_basis = \"ice\"",
    )
    .site;
    assert_eq!(
        (site.latitude_deg, site.longitude_deg, site.time_zone_h),
        (Some(62.5), Some(-114.4), Some(-7.0))
    );
    assert_relative_eq!(site.elevation_m.expect("given"), 304.8, max_relative = 1e-12);
    assert_eq!(site.humidity_basis, Some(study::HumidityBasis::Ice));
}

/// A text with a value that the key does not take at `path`.
fn with_a_wrong_value_at(path: &str, wrong: &str) -> String {
    let mut text = wrong.to_owned();
    for word in path.rsplit('.') {
        let inner = if text == wrong { text } else { format!("{{ {text} }}") };
        let list = matches!(word, "unit" | "window" | "envelope" | "rating" | "timetable" | "band");
        let inner = if list && inner != wrong { format!("[{inner}]") } else { inner };
        text = format!("{word} = {inner}");
    }
    text
}

/// The keys that take true.
const SWITCHES: [&str; 4] = [
    "unit.frost.hold_outdoor_air",
    "ventilation.infiltration_credit",
    "ventilation.control.boost.showers",
    "house.cooling.re_evaporation",
];

#[test]
fn every_known_key_is_read() {
    for path in known_keys() {
        // No other key takes true, nor these a date.
        let (wrong, label) = if SWITCHES.contains(&path.as_str()) {
            ("1979-05-27", "this is a date or a time")
        } else {
            ("true", "this is true or false")
        };
        let text = with_a_wrong_value_at(&path, wrong);
        let problems = parse_study(&text, "s").expect_err(&text);
        let place = text.find(wrong).expect("the wrong value");
        let at_it: Vec<&str> = problems
            .list
            .iter()
            .filter(|problem| problem.span.start == place)
            .map(|p| p.label.as_str())
            .collect();
        assert_eq!(at_it, [label], "{text}");
        assert!(!problems.list.iter().any(|problem| problem.label == "unknown key"), "{text}");
    }
}

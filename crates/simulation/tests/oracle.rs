//! The second calculation of a house-year against closed forms and tables made apart from it.
//! Not here: its core alone (`oracle/core_checks.rs`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

#[path = "oracle/core_checks.rs"]
mod core_checks;
#[path = "oracle/mod.rs"]
mod oracle;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use oracle::air::{Saturation, liquid_j_per_kg, vapour_j_per_kg};
use oracle::case::{Storage, TimetableRow};
use oracle::frost::{Ice, Plan, Recirculation};
use oracle::house::{Drive, Network};
use oracle::moisture::{Flows, Moved, Water, Zones};
use oracle::{Case, run};
use psychrometrics::formulas::saturation_pa;
use weather::{Format, HumidityBasis, HumidityOrigin, Overrides, Place, WeatherYear};

const SEA_LEVEL_PA: f64 = 101_325.0;

fn humidity(t_c: f64, relative: f64) -> f64 {
    let p = relative * saturation_pa(t_c);
    0.621945 * p / (SEA_LEVEL_PA - p)
}

/// Weather that stays, for some days; or day after day from a list.
fn steady_weather(days: &[(f64, f64)]) -> WeatherYear {
    let hours = 24 * days.len();
    let of = |what: fn(&(f64, f64)) -> f64| days.iter().flat_map(|day| [what(day); 24]).collect::<Vec<_>>();
    WeatherYear {
        dry_bulb_c: of(|day| day.0),
        humidity_ratio: of(|day| day.1),
        pressure_pa: vec![SEA_LEVEL_PA; hours],
        wind_speed_m_per_s: vec![0.0; hours],
        wind_direction_deg: vec![0.0; hours],
        global_horizontal_w_per_m2: vec![0.0; hours],
        direct_normal_w_per_m2: vec![0.0; hours],
        diffuse_horizontal_w_per_m2: vec![0.0; hours],
        place: Place {
            name: "steady".to_owned(),
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

/// The first days of a sample.
fn first_days(csv: &[u8], days: usize) -> WeatherYear {
    let mut year = weather::read(csv, &Overrides::default()).unwrap().0;
    for column in [
        &mut year.dry_bulb_c,
        &mut year.humidity_ratio,
        &mut year.pressure_pa,
        &mut year.wind_speed_m_per_s,
        &mut year.wind_direction_deg,
        &mut year.global_horizontal_w_per_m2,
        &mut year.direct_normal_w_per_m2,
        &mut year.diffuse_horizontal_w_per_m2,
    ] {
        column.truncate(24 * days);
    }
    year
}

/// Nobody and nothing in the house but air; no storage, no fans' heat.
fn bare() -> Case {
    Case {
        people: 0.0,
        gains_w: 0.0,
        moisture_wet_kg_per_s: [0.0; 24],
        moisture_rest_kg_per_s: [0.0; 24],
        evaporated_rest_kg_per_s: [0.0; 24],
        storage: Storage { area_m2: 0.0, ..Case::bungalow().storage },
        panes_sweat: false,
        supply_fan_w: 0.0,
        extract_fan_w: 0.0,
        heating_set_c: 21.0,
        ..Case::bungalow()
    }
}

fn last(column: &[f64]) -> f64 {
    *column.last().unwrap()
}

fn windows_w_per_k(case: &Case) -> f64 {
    case.windows.iter().map(|w| w.area_m2 * w.u_w_per_m2k).sum()
}

/// Air to outside through surfaces, then windows beside mass and walls: resistances in series, as nothing is gained.
fn conduction_w_per_k(case: &Case) -> f64 {
    1.0 / (1.0 / (3.45 * 4.5 * case.floor_area_m2) + 1.0 / (windows_w_per_k(case) + case.opaque_w_per_k))
}

/// Floor 100 m², medium mass, windows 30 W/K, walls 40 W/K, air 35 W/K; hand calculation of the hourly method's formulas.
fn check_house() -> (Network, Drive) {
    let network = Network::new(100.0, 40.0, 30.0, (16.5e6, 250.0));
    let drive = Drive { step_s: 3600.0, air_w_per_k: 35.0, ..Drive::default() };
    (network, drive)
}

#[test]
fn an_hour_of_the_house_is_that_of_the_hourly_method() {
    let (network, drive) = check_house();
    let drive = Drive { outdoor_c: -10.0, air_w: -350.0, internal_w: 500.0, solar_w: 300.0, ..drive };
    let free = network.with_plant(20.0, &drive, 0.0);
    assert_abs_diff_eq!(free.mass_c, 19.49982, epsilon = 1e-5);
    assert_abs_diff_eq!(free.surface_c, 19.14036, epsilon = 1e-5);
    assert_abs_diff_eq!(free.air_c, 18.65537, epsilon = 1e-5);
    assert_abs_diff_eq!(network.with_plant(20.0, &drive, 1000.0).air_c, 19.791729, epsilon = 1e-6);
    let held = network.step(20.0, &drive, 21.0, 26.0);
    assert_abs_diff_eq!(held.plant_w, 2063.286, epsilon = 1e-3);
    assert_abs_diff_eq!(held.mass_c, 19.92322, epsilon = 1e-5);
    assert_abs_diff_eq!(held.surface_c, 20.20883, epsilon = 1e-5);
    assert_abs_diff_eq!(held.miss_w, 0.0, epsilon = 1e-8);
}

#[test]
fn the_house_comes_to_rest_and_cools_as_the_hourly_method_does() {
    let (network, drive) = check_house();
    let gains = Drive { internal_w: 500.0, ..drive };
    let mut mass_c = 20.0;
    for _ in 0..2000 {
        mass_c = network.with_plant(mass_c, &gains, 2000.0).mass_c;
    }
    let rest = network.with_plant(mass_c, &gains, 2000.0);
    assert_abs_diff_eq!(rest.mass_c, 23.11619, epsilon = 1e-5);
    assert_abs_diff_eq!(rest.surface_c, 23.46886, epsilon = 1e-5);
    assert_abs_diff_eq!(rest.air_c, 24.36876, epsilon = 1e-5);
    // 24 h of cooling: in steps of an hour, and of a minute, which come to the exponential.
    for (step_s, expected_c) in [(3600.0, 11.65130), (60.0, 11.65157)] {
        let mut mass_c = 20.0;
        let mut left_s = 86_400.0;
        while left_s > 0.0 {
            mass_c = network.with_plant(mass_c, &Drive { step_s, ..drive }, 0.0).mass_c;
            left_s -= step_s;
        }
        assert_abs_diff_eq!(mass_c, expected_c, epsilon = 1e-5);
    }
}

#[test]
fn steady_humidity_is_the_source_over_the_air_that_carries_it_off() {
    // Ventilation and leakage L/s at 1.2 kg/m³, latent effectiveness; humidity ratio and RH % at 21 °C: 10 kg a day, outdoors
    // -10 °C and 80 %. W = W_o + G/(m_inf + m (1 - e)).
    let rows = [
        (40.0, 10.0, 0.0, 0.003208, 20.90),
        (40.0, 10.0, 0.5, 0.004494, 29.22),
        (40.0, 10.0, 0.65, 0.005298, 34.40),
        (30.0, 5.0, 0.5, 0.006101, 39.57),
    ];
    let outdoor_w = humidity(-10.0, 0.8);
    let weather = steady_weather(&[(-10.0, outdoor_w); 10]);
    for (ventilation, leakage, latent, w, rh) in rows {
        let (m, leak) = (1.2e-3 * ventilation, 1.2e-3 * leakage);
        let vapour = m * latent / (1.0 - latent);
        // So much to the wet zone that both zones stand alike.
        let to_wet = 0.15 * leak * (w - outdoor_w);
        let case = Case {
            ventilation_kg_per_s: m,
            leakage_kg_per_s: leak,
            vapour_kg_per_s: vapour,
            // Little more than the films of this membrane need: a plate warm enough to stay dry.
            ua_w_per_k: 1.05 * vapour * 1015.0,
            moisture_wet_kg_per_s: [to_wet; 24],
            moisture_rest_kg_per_s: [10.0 / 86_400.0 - to_wet; 24],
            ..bare()
        };
        let answers = run(&case, &weather);
        assert_eq!(answers.condensate_l, 0.0);
        assert_abs_diff_eq!(last(&answers.hourly.rest_w), w, epsilon = 6e-7);
        assert_abs_diff_eq!(last(&answers.hourly.wet_w), w, epsilon = 2e-6);
        assert_abs_diff_eq!(last(&answers.hourly.rh_pct), rh, epsilon = 0.006);
        assert_relative_eq!(
            last(&answers.hourly.supply_w),
            outdoor_w + latent * (w - outdoor_w),
            max_relative = 1e-3
        );
    }
}

#[test]
fn furnishings_hold_a_room_as_one_layer_of_a_day_does() {
    // The room of a published exercise, isothermal at 20 °C, 0.5 1/h of air at 30 %, 500 g/h from 9 to 17: without
    // storage the closed form's 30.015 and 73.81 %; with one layer of 6.70 mm before half its depth 41.32 and 50.09 %.
    // Both in vapour density; at a pressure so high that humidity ratio is in proportion to it.
    const HIGH_PA: f64 = 1e8;
    let density = HIGH_PA / (287.042 * 293.15);
    let at = |rh: f64| 0.621945 * rh * saturation_pa(20.0) / HIGH_PA;
    for (area_m2, low, high) in [(0.0, 30.015, 73.81), (171.6, 41.32, 50.09)] {
        let storage = Storage { area_m2, permeability: 3e-11, capacity_kg_per_m3: 42.965, film: 2e-8 };
        let case = Case { volume_m3: 129.6, wet_share: 0.0, ventilation_kg_per_s: 0.0, storage, ..bare() };
        assert_abs_diff_eq!(storage.depth_m(), 6.70e-3, epsilon = 5e-6);
        let zones = Zones::new(&case, density);
        let air = Saturation::new(HIGH_PA);
        let mut water = zones.at_start(at(0.45), 0.45);
        let (mut least, mut most) = (1.0_f64, 0.0_f64);
        for minute in 0..30 * 1440 {
            let hour = minute / 60 % 24;
            let flows = Flows {
                leakage: 0.5 * 129.6 * density / 3600.0,
                outdoor_w: at(0.3),
                to_rest: if (9..17).contains(&hour) { 0.5 / 3600.0 } else { 0.0 },
                room_c: 20.0,
                outdoor_c: 20.0,
                ..Flows::default()
            };
            let middle = zones.halfway(&water, &flows, &air);
            zones.minute(&mut water, &middle, &flows, &air);
            if minute > 29 * 1440 {
                let rh = air.relative_humidity(20.0, water.rest);
                (least, most) = (least.min(rh), most.max(rh));
            }
        }
        assert_abs_diff_eq!(100.0 * least, low, epsilon = 0.01);
        assert_abs_diff_eq!(100.0 * most, high, epsilon = 0.01);
    }
}

#[test]
fn a_steady_winter_house_needs_conduction_and_what_the_core_leaves() {
    let (outdoor_c, w) = (-10.0, 0.0005);
    let cp = 1006.0 + 1860.0 * w;
    let m = 0.036;
    let defrosting = vec![TimetableRow { at_or_below_c: -10.0, defrost_min: 10.0, run_min: 20.0 }];
    for (timetable, share) in [(Vec::new(), 0.0), (defrosting, 1.0 / 3.0)] {
        let case = Case {
            ventilation_kg_per_s: m,
            ua_w_per_k: 3.0 * m * cp,
            supply_fan_w: 20.0,
            extract_fan_w: 24.0,
            timetable,
            ..bare()
        };
        let answers = run(&case, &steady_weather(&[(outdoor_c, w); 30]));
        let span_k = 21.0 - outdoor_c;
        // Two events an hour, each warming the core from the mean of both inlets; half of that comes back.
        let warming_w = if share > 0.0 { 2.0 * 4000.0 * 0.5 * span_k / 3600.0 } else { 0.0 };
        let need_w = conduction_w_per_k(&case) * span_k
            + (case.leakage_kg_per_s + (1.0 - share) * m * 0.25) * cp * span_k
            + 0.5 * warming_w
            - 20.0
            - share * 24.0;
        assert_relative_eq!(last(&answers.hourly.heating_w), need_w, max_relative = 1e-6);
        assert_abs_diff_eq!(last(&answers.hourly.supply_c), 21.0 - 0.25 * span_k, epsilon = 1e-6);
        assert_relative_eq!(last(&answers.hourly.defrost_w), warming_w, max_relative = 1e-6);
        let recovered_w = (1.0 - share) * m * cp * 0.75 * span_k;
        assert_relative_eq!(answers.recovered_sensible_kwh, 0.72 * recovered_w, max_relative = 1e-6);
        assert_abs_diff_eq!(answers.defrost_h, 720.0 * share, epsilon = 1e-9);
    }
}

#[test]
fn a_coil_dries_along_its_line() {
    let (outdoor_c, outdoor_w) = (32.0, 0.016);
    let case = Case {
        ventilation_kg_per_s: 0.0,
        wet_share: 0.0,
        leakage_kg_per_s: 0.05,
        cooling_set_c: 25.0,
        ..bare()
    };
    let answers = run(&case, &steady_weather(&[(outdoor_c, outdoor_w); 20]));
    let span_k = outdoor_c - 25.0;
    let sensible_w = (conduction_w_per_k(&case) + 0.05 * (1006.0 + 1860.0 * outdoor_w)) * span_k;
    let dew_w = humidity(11.0, 1.0);
    let through = sensible_w / ((1006.0 + 1860.0 * dew_w) * 14.0);
    let w = (0.05 * outdoor_w + through * dew_w) / (0.05 + through);
    let latent_w = through * (w - dew_w) * (vapour_j_per_kg(25.0) - liquid_j_per_kg(11.0));
    assert_relative_eq!(last(&answers.hourly.rest_w), w, max_relative = 1e-6);
    assert_relative_eq!(last(&answers.hourly.cooling_w), sensible_w + latent_w, max_relative = 1e-6);
}

#[test]
fn ice_of_a_cold_spell_melts_as_fast_as_the_air_that_leaves_can_pay() {
    let mut days = vec![(-20.0, humidity(-20.0, 0.8)); 8];
    days.extend([(4.0, humidity(4.0, 0.8)); 3]);
    let case = Case { moisture_wet_kg_per_s: [12.0 / 86_400.0; 24], lead_in_hours: 24, ..bare() };
    let answers = run(&case, &steady_weather(&days));
    let ice = &answers.hourly.ice_kg;
    let cold_end = 8 * 24;
    // The lead-in is mild; then every cold hour freezes some, nothing melts.
    assert_relative_eq!(ice[cold_end - 1], answers.hourly.frost_kg.iter().sum::<f64>(), max_relative = 1e-9);
    assert!(ice[cold_end - 1] > 10.0 && last(ice) == 0.0);
    let exhaust_c = answers.hourly.exhaust_c[cold_end + 5];
    let melted_kg = ice[cold_end + 4] - ice[cold_end + 5];
    let paid_j = 3600.0 * 0.036 * (1006.0 + 1860.0 * humidity(exhaust_c, 0.9)) * exhaust_c;
    // Ice formed between -12 and 0 °C.
    assert!(melted_kg > paid_j / (333.4e3 + 2100.0 * 12.0) && melted_kg < 1.005 * paid_j / 333.4e3);
    assert!(answers.frost_h >= 192 && answers.books.unsettled_minutes == 0);
    assert_relative_eq!(answers.melted_kg, answers.frost_formed_kg, max_relative = 1e-9);
}

#[test]
fn its_books_close_in_frost_and_in_the_tropics() {
    let frosthollow = first_days(include_bytes!("../../../weather-samples/frosthollow.csv"), 40);
    let palmreach = first_days(include_bytes!("../../../weather-samples/palmreach.csv"), 40);
    let timetable = vec![
        TimetableRow { at_or_below_c: -5.0, defrost_min: 6.0, run_min: 54.0 },
        TimetableRow { at_or_below_c: -15.0, defrost_min: 7.0, run_min: 18.0 },
    ];
    for weather in [frosthollow, palmreach] {
        for vapour_kg_per_s in [0.0, 0.05] {
            let case = Case { vapour_kg_per_s, timetable: timetable.clone(), ..Case::bungalow() };
            let answers = run(&case, &weather);
            let books = answers.books;
            assert_eq!(books.unsettled_minutes, 0);
            assert!(books.heat < 1e-9 && books.water < 1e-11 && books.core < 1e-11, "{books:?}");
            assert!(books.water_of_year < 1e-11, "{books:?}");
            assert!(answers.heating_kwh + answers.cooling_kwh > 500.0);
        }
    }
}

#[test]
fn recirculation_melts_what_the_room_air_gives_beyond_warming_the_core() {
    let case = Case { ua_w_per_k: 120.0, core_j_per_k: 4000.0, ..bare() };
    let ice = Ice { kg: 1.0, enthalpy_j: -340e3 };
    let rows = [(-5.0, 10.0, 20.0), (-15.0, 12.0, 12.0)];
    let timetable = rows.map(|(at_or_below_c, defrost_min, run_min)| TimetableRow {
        at_or_below_c,
        defrost_min,
        run_min,
    });
    assert_eq!(Plan::of(&timetable, -4.9).share, 0.0);
    assert_eq!(Plan::of(&timetable, -15.0).share, 0.5);
    let plan = Plan::of(&timetable, -5.0);
    assert_abs_diff_eq!((0..60).map(|m| plan.of_minute(m)).sum::<f64>(), 20.0, epsilon = 1e-9);
    // Room air of 20 °C, 40 W/K, NTU 3: 600 W at 0 °C. Core from -5 to 20 °C in 600 s: 166.67 W. Left: 26 kJ a minute.
    let done = Recirculation::of(&case, &plan, 1.0, (20.0, 40.0), -5.0, &ice);
    assert_relative_eq!(done.warming_w, 500.0 / 3.0, max_relative = 1e-12);
    assert_relative_eq!(done.melted.0, 26.0 / 340.0, max_relative = 1e-12);
    // Half a minute gives half; little ice melts whole.
    let half = Recirculation::of(&case, &plan, 0.5, (20.0, 40.0), -5.0, &ice);
    assert_relative_eq!(half.melting_w, 0.5 * 1300.0 / 3.0, max_relative = 1e-12);
    let little = Ice { kg: 0.01, enthalpy_j: -3400.0 };
    assert_eq!(Recirculation::of(&case, &plan, 1.0, (20.0, 40.0), -5.0, &little).melted, (0.01, 3400.0));
}

/// Where the zones come to rest, and what the last minute moved.
fn at_rest(case: &Case, flows: &Flows) -> (Water, Moved) {
    let air = Saturation::new(SEA_LEVEL_PA);
    let zones = Zones::new(case, 1.2);
    let mut water = zones.at_start(0.005, 0.4);
    let mut moved = Moved::default();
    for _ in 0..20_000 {
        let middle = zones.halfway(&water, flows, &air);
        moved = zones.minute(&mut water, &middle, flows, &air);
    }
    (water, moved)
}

#[test]
fn recirculated_air_carries_wet_room_air_about_both_ways() {
    let case = Case { leakage_kg_per_s: 0.02, ..bare() };
    let flows = Flows {
        leakage: 0.02,
        recirculated: 0.036,
        outdoor_w: 0.003,
        to_wet: 5e-5,
        room_c: 21.0,
        outdoor_c: 5.0,
        ..Flows::default()
    };
    let (water, _) = at_rest(&case, &flows);
    // Leaks 0.003 and 0.017 kg/s, between the zones 0.066: rest over wet 0.066/0.083, both above outdoors.
    let ratio = 0.066 / 0.083;
    let wet = 5e-5 / (0.003 + 0.017 * ratio);
    assert_relative_eq!(water.wet, 0.003 + wet, max_relative = 1e-9);
    assert_relative_eq!(water.rest, 0.003 + ratio * wet, max_relative = 1e-9);
}

#[test]
fn panes_take_what_their_film_brings_and_let_the_rest_run_off() {
    let case = Case { panes_sweat: true, wet_share: 0.0, ..bare() };
    let flows = Flows {
        leakage: 0.012,
        outdoor_w: humidity(-10.0, 0.8),
        to_rest: 2e-4,
        room_c: 21.0,
        outdoor_c: -10.0,
        ..Flows::default()
    };
    let (water, moved) = at_rest(&case, &flows);
    // 18 m² of U 1.6: inside at -10 + 31 (1 - 0.13 1.6) = 14.552 °C; film 3/1006 kg/(m² s).
    let (film, surface_w) = (18.0 * 3.0 / 1006.0, humidity(14.552, 1.0));
    let w = (2e-4 + 0.012 * flows.outdoor_w + film * surface_w) / (0.012 + film);
    assert!(w > surface_w);
    assert_relative_eq!(water.rest, w, max_relative = 1e-7);
    assert_relative_eq!(moved.ran_off, 60.0 * film * (w - surface_w), max_relative = 1e-5);
    assert_abs_diff_eq!(water.film_kg.iter().sum::<f64>(), 0.05 * 18.0, epsilon = 1e-12);
}

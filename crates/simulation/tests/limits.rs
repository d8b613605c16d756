//! Ends of the ranges, where the answer is known without arithmetic: nothing that flows, nobody who breathes, a core
//! that passes nothing.
//!
//! Not here: states with a closed form (`steady_year.rs`).
mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::{
    FILES, LEAD_IN, constant_year, drivers, drivers_at, file, last, lived_in_house, mean, membrane,
    plain_house, plate, run, sum, unit,
};
use simulation::results::HouseYear;
use simulation::{Drivers, DriversError, Facing, HouseNumbers, PeopleProfile, RunError, RunOptions, Steps};
use simulation::{Line, Unit, hash_pairs, run_no_ventilation};

fn bits(year: &HouseYear) -> Vec<Vec<u64>> {
    year.hourly.columns().iter().map(|(_, values, _)| values.iter().map(|v| v.to_bits()).collect()).collect()
}

#[test]
fn a_core_that_passes_nothing_is_its_baseline_bit_for_bit() {
    let drivers = drivers_at(&file(FILES[2]), Steps::Four);
    for fan_w in [0.0, 40.0] {
        let idle = Unit { fan_w, fan_heat_before_w: fan_w, fan_heat_after_w: fan_w, ..unit(0.05, 0.0, 0.0) };
        for variant in [plate(&lived_in_house(), idle), membrane(&lived_in_house(), idle)] {
            let [year, baseline] = run(&variant, &drivers);
            assert!(bits(&year) == bits(&baseline), "{:?}, fans {fan_w} W", variant.core);
            assert_eq!(year.ledger_by_month, baseline.ledger_by_month);
        }
    }
}

#[test]
fn the_baseline_delivers_the_same_air_with_the_same_fans_in_every_hour() {
    let drivers = drivers_at(&file(FILES[0]), Steps::Four);
    let with_fans = Unit { fan_w: 35.0, ..unit(0.05, 0.85, 0.5) };
    for variant in [plate(&lived_in_house(), with_fans), membrane(&lived_in_house(), with_fans)] {
        let [year, baseline] = run(&variant, &drivers);
        let (y, b) = (&year.hourly, &baseline.hourly);
        assert_eq!(y.delivered_air_kg, b.delivered_air_kg);
        assert_relative_eq!(sum(&y.delivered_air_kg), 0.05 * 3600.0 * 8760.0, max_relative = 1e-12);
        assert_eq!(y.fan_w, b.fan_w);
        assert_abs_diff_eq!(sum(&b.recovered_sensible_w), 0.0, epsilon = 1e-6);
        assert_abs_diff_eq!(sum(&b.drain_kg) + sum(&b.ice_formed_kg), 0.0);
        assert!(sum(&y.heating_load_w) < sum(&b.heating_load_w));
    }
}

#[test]
fn without_any_air_change_all_water_of_the_house_condenses_in_it() {
    let mut house = lived_in_house();
    house.numbers.leakage_kg_per_s = 0.0;
    house.numbers.cooling_capacity_w = 0.0;
    // At 5 °C outdoors the family heats the house to a steady temperature, and its air is full.
    let options = RunOptions { lead_in_hours: 8760, tamper: None };
    let year =
        run_no_ventilation(&house, &drivers_at(&constant_year(5.0, 0.004), Steps::Four), options).unwrap();
    let h = &year.hourly;
    assert_relative_eq!(sum(&h.room_condensation_kg), sum(&h.sources_kg), max_relative = 1e-6);
    assert!(sum(&h.sources_kg) > 1000.0);
    assert_abs_diff_eq!(sum(&h.delivered_air_kg) + sum(&h.drain_kg), 0.0);
    let fullest = h.relative_humidity.iter().copied().fold(0.0, f64::max);
    assert!(fullest > 0.99, "{fullest}");
}

#[test]
fn room_air_never_passes_saturation() {
    let mut tight = lived_in_house();
    tight.numbers.leakage_kg_per_s = 0.0;
    let mut bare = lived_in_house();
    bare.numbers.surface_kg_per_s_pa = 0.0;
    bare.numbers.surface_capacity_kg = 1.0;
    for steps in [Steps::One, Steps::Four] {
        let drivers = drivers_at(&file(FILES[2]), steps);
        for house in [tight, bare] {
            let h = run_no_ventilation(&house, &drivers, LEAD_IN).unwrap().hourly;
            let wettest = |column: &[f64]| column.iter().copied().fold(0.0, f64::max);
            // Shedding leaves a thousandth of the surplus, and an hour's showers bring up to three times saturation.
            let (rest, wet) = (wettest(&h.relative_humidity), wettest(&h.wet_relative_humidity));
            assert!(rest < 1.003 && wet < 1.003, "{steps:?}: rest {rest}, wet rooms {wet}");
        }
    }
}

#[test]
fn a_bare_house_without_any_air_change_keeps_the_water_it_had() {
    let year =
        run_no_ventilation(&plain_house(), &drivers(&constant_year(5.0, 0.004)), RunOptions::default());
    let h = year.unwrap().hourly;
    for column in [&h.humidity_ratio, &h.wet_humidity_ratio] {
        // It starts 2 g/kg above outdoor air.
        assert_relative_eq!(last(column), 0.006, max_relative = 1e-9);
    }
}

#[test]
fn without_windows_the_sun_does_nothing() {
    let mut house = plain_house();
    house.numbers.windows_w_per_k = 0.0;
    house.numbers.gain_share_lost = 0.0;
    let sunny = file(FILES[2]);
    let mut dark = sunny.clone();
    for column in [
        &mut dark.global_horizontal_w_per_m2,
        &mut dark.direct_normal_w_per_m2,
        &mut dark.diffuse_horizontal_w_per_m2,
    ] {
        column.fill(0.0);
    }
    let of = |weather| run(&plate(&house, unit(0.04, 0.8, 0.0)), &drivers(weather));
    let ([light, _], [night, _]) = (of(&sunny), of(&dark));
    assert!(bits(&light) == bits(&night));
    assert_abs_diff_eq!(common::line(&light, Line::SolarGains), 0.0);
    assert_abs_diff_eq!(common::line(&light, Line::ConductionWindows), 0.0);
}

#[test]
fn where_nobody_lives_indoor_air_is_as_humid_as_outdoor_air() {
    let mut house = plain_house();
    house.numbers.leakage_kg_per_s = 0.01;
    house.numbers.wet_share = 0.15;
    let air = constant_year(8.0, 0.0047);
    for variant in [plate(&house, unit(0.04, 0.8, 0.0)), membrane(&house, unit(0.04, 0.8, 0.6))] {
        for year in run(&variant, &drivers(&air)) {
            for column in [&year.hourly.humidity_ratio, &year.hourly.wet_humidity_ratio] {
                assert_abs_diff_eq!(last(column), 0.0047, epsilon = 1e-12);
            }
        }
    }
}

#[test]
fn wide_open_doors_make_both_zones_alike_in_every_hour() {
    let drivers = drivers_at(&file(FILES[2]), Steps::Four);
    let mut house = lived_in_house();
    house.numbers.surface_kg_per_s_pa = 0.0;
    house.numbers.surface_capacity_kg = 1.0;
    house.numbers.door_kg_per_s = 1e3;
    let [year, _] = run(&plate(&house, unit(0.04, 0.8, 0.0)), &drivers);
    let (rest, wet) = (&year.hourly.humidity_ratio, &year.hourly.wet_humidity_ratio);
    // Between zones passes at most 5 kg/h (showers, and the air of a humid summer), through 1000 kg/s: 1.4e-6.
    for (r, w) in rest.iter().zip(wet) {
        assert_abs_diff_eq!(r, w, epsilon = 1.5e-6);
    }
    // One zone of all the air, with no door to speak of, supplied and extracted from the same place.
    house.numbers = HouseNumbers {
        rest_air_kg: house.numbers.rest_air_kg + house.numbers.wet_air_kg,
        wet_air_kg: 1e-6,
        ..house.numbers
    };
    let [one, _] = run(&plate(&house, unit(0.04, 0.8, 0.0)), &drivers);
    assert_abs_diff_eq!(mean(&one.hourly.humidity_ratio), mean(rest), epsilon = 1e-7);
    assert_relative_eq!(sum(&one.hourly.drain_kg), sum(&year.hourly.drain_kg), max_relative = 1e-4);
}

#[test]
fn steady_cooling_takes_the_heat_and_water_that_its_balances_say() {
    let mut house = plain_house();
    house.numbers = HouseNumbers {
        windows_w_per_k: 0.0,
        gain_share_lost: 0.0,
        cooling_set_point_c: 25.0,
        cooling_capacity_w: 1e9,
        cooling_cop: 3.0,
        people: 4.0,
        wet_share: 0.0,
        leakage_kg_per_s: 0.01,
        ..house.numbers
    };
    let (outdoor_c, outdoor_w) = (32.0, 0.016);
    let [_, year] = run(&plate(&house, unit(0.04, 0.0, 0.0)), &drivers(&constant_year(outdoor_c, outdoor_w)));
    let n = &house.numbers;
    let cp = 1006.0 + 1860.0 * outdoor_w;
    // Walls in series; of the radiant half of the people's heat a part reaches mass or surface and comes back.
    let (em, ms, is) = (n.outdoor_to_mass_w_per_k, n.mass_to_surface_w_per_k, n.surface_to_air_w_per_k);
    let inner = 1.0 / (1.0 / is + 1.0 / ms);
    let mass_w = 140.0 * n.gain_share_mass;
    let surface_w = 140.0 - mass_w;
    // Mass node: em (32 − m) + inner' = 0 with the surface's gain reaching it through its own divider.
    let mass_c = (em * outdoor_c + inner * 25.0 + mass_w + surface_w * ms / (ms + is)) / (em + inner);
    let into_air_w = 140.0 + em * (outdoor_c - mass_c) + 140.0 + 0.05 * cp * (outdoor_c - 25.0);
    assert_abs_diff_eq!(last(&year.hourly.cooling_sensible_w), into_air_w, epsilon = 1e-6);
    // The coil: air of saturation at 11 °C that carries the sensible load, 8.16 g/kg from the handbook's formula.
    let coil_kg_per_s = into_air_w / (cp * 14.0);
    let coil_w = psychrometrics::formulas::saturation_humidity_ratio(11.0, common::PRESSURE_PA);
    assert_abs_diff_eq!(coil_w, 0.00816, epsilon = 1e-5);
    let people = 4.0 * 0.05 / 3600.0;
    let indoor_w = (0.05 * outdoor_w + people + coil_kg_per_s * coil_w) / (0.05 + coil_kg_per_s);
    // The fast saturation curve is within 2e-7 of the published one.
    assert_relative_eq!(last(&year.hourly.humidity_ratio), indoor_w, max_relative = 1e-6);
    let coil_kg = coil_kg_per_s * (indoor_w - coil_w) * 3600.0;
    assert_relative_eq!(last(&year.hourly.coil_kg), coil_kg, max_relative = 1e-6);
    let latent_w = coil_kg / 3600.0 * (2_501_000.0 + 1860.0 * 25.0 - 4186.0 * 11.0);
    assert_relative_eq!(last(&year.hourly.cooling_latent_w), latent_w, max_relative = 1e-6);
    let site_w = (into_air_w + latent_w) / 3.0;
    assert_relative_eq!(last(&year.hourly.cooling_site_w), site_w, max_relative = 1e-6);
}

#[test]
fn a_ninth_facing_and_an_empty_batch_are_refused() {
    let nine = [Facing { azimuth_deg: 0.0, tilt_deg: 90.0 }; 9];
    let refused = Drivers::new(&constant_year(5.0, 0.004), &nine, PeopleProfile::AlwaysHome, Steps::One);
    assert_eq!(refused, Err(DriversError::TooManyFacings(9)));
    let way = (lanes::widest_set(), lanes::Width::One);
    let none = hash_pairs(way, &[], &drivers(&constant_year(5.0, 0.004)), RunOptions::default());
    assert_eq!(none, Err(RunError::Nothing));
}

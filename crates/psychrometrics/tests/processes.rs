//! Processes: balances of dry air, water and enthalpy, and the fog that some of them end in.
#![allow(clippy::unwrap_used, clippy::panic)] // In helpers of tests, as in the tests themselves.

use proptest::prelude::*;
use psychrometrics::formulas as f;
use psychrometrics::processes::{
    Condensate, Outcome, Stream, Water, add_heat, cool_through_saturation_to, humidify_by_evaporation,
    humidify_by_steam, mix, temper_to,
};
use psychrometrics::{AirError, Given, MoistAir};

const P: f64 = 101_325.0;

fn air(t: f64, share: f64) -> MoistAir {
    MoistAir::from_pair(Given::DryBulbC(t), Given::RelativeHumidity(share), P).unwrap()
}

fn stream(t: f64, share: f64, dry_air_kg_per_s: f64) -> Stream {
    Stream { air: air(t, share), dry_air_kg_per_s }
}

/// Enthalpy of the parts of a fog, summed anew from the three enthalpies.
fn parts_j_per_kg(outcome: &Outcome) -> f64 {
    let (t, w) = (outcome.air().dry_bulb_c(), outcome.air().humidity_ratio());
    let clear = 1006.0 * t + w * (2501e3 + 1860.0 * t);
    match outcome {
        Outcome::Clear(_) => clear,
        Outcome::Fogged(fog) => {
            clear + fog.liquid_kg_per_kg * 4186.0 * t + fog.ice_kg_per_kg * (2100.0 * t - 333.4e3)
        }
    }
}

/// By hand: equal masses of 0 °C and 20 °C at 50 %, `w` 0.00188 and 0.00726, mix to their mean and to 10.05 °C
/// (a little above the mean of the temperatures, as the wetter stream has the larger heat capacity).
#[test]
fn two_dry_streams_mix_on_a_straight_line() {
    let mixed = mix(stream(0.0, 0.5, 1.0), stream(20.0, 0.5, 1.0)).unwrap();
    let Outcome::Clear(result) = mixed.outcome else { panic!("no fog here") };
    assert!((mixed.dry_air_kg_per_s - 2.0).abs() < 1e-15);
    let mean = 0.5 * (air(0.0, 0.5).humidity_ratio() + air(20.0, 0.5).humidity_ratio());
    assert!((result.humidity_ratio() - mean).abs() < 1e-15);
    let by_capacity = 20.0 * (1006.0 + 1860.0 * 0.00726174) / (2.0 * 1006.0 + 2.0 * 1860.0 * mean);
    assert!((result.dry_bulb_c() - by_capacity).abs() < 1e-5, "{}", result.dry_bulb_c());
}

#[test]
fn cold_air_and_bathroom_air_mix_to_fog_of_droplets_ice_or_both() {
    let fog = |cold: f64, share: f64| {
        let mixed = mix(stream(cold, 0.9, 1.0), stream(24.0, 0.95, share)).unwrap();
        match mixed.outcome {
            Outcome::Fogged(fog) => (fog.air.dry_bulb_c(), fog.liquid_kg_per_kg, fog.ice_kg_per_kg),
            Outcome::Clear(air) => panic!("{air:?}"),
        }
    };
    let (t, liquid, ice) = fog(-15.0, 1.0);
    assert!(t > 0.0 && liquid > 0.0 && ice == 0.0);
    let (t, liquid, ice) = fog(-30.0, 0.5);
    assert!(t < 0.0 && liquid == 0.0 && ice > 0.0);
    let both = (10..100)
        .map(|k| fog(-20.0, f64::from(k) / 100.0))
        .find(|(_, liquid, ice)| *liquid > 0.0 && *ice > 0.0);
    assert!(both.is_some_and(|(t, ..)| t == 0.0));
}

/// By hand with psychrolib's values: from 30 °C saturated (w 0.02720257) to 10 °C (0.00763005): 19.57252 g/kg drain.
#[test]
fn cooling_through_saturation_drains_the_difference_of_the_saturated_ratios() {
    let cooled = cool_through_saturation_to(&air(30.0, 1.0), 10.0).unwrap();
    let Condensate::Liquid(kg) = cooled.condensate else { panic!("liquid expected") };
    assert!((kg - 0.01957252).abs() < 2e-8);
    let before = 1006.0 * 30.0 + 0.02720257 * (2501e3 + 1860.0 * 30.0);
    let after = 1006.0 * 10.0 + 0.00763005 * (2501e3 + 1860.0 * 10.0) + 0.01957252 * 41_860.0;
    assert!((cooled.heat_j_per_kg - (after - before)).abs() < 0.1, "{}", cooled.heat_j_per_kg);
}

#[test]
fn cooling_below_freezing_leaves_ice_and_releases_its_heat_of_fusion() {
    let before = air(5.0, 0.9);
    let cooled = cool_through_saturation_to(&before, -10.0).unwrap();
    let Condensate::Ice(kg) = cooled.condensate else { panic!("ice expected") };
    assert!((kg - (before.humidity_ratio() - 0.00159942)).abs() < 6e-9);
    let ice_j_per_kg = -333.4e3 - 21e3;
    let balance = before.enthalpy_j_per_kg() + cooled.heat_j_per_kg
        - cooled.air.enthalpy_j_per_kg()
        - kg * ice_j_per_kg;
    assert!(balance.abs() < 1e-9);
}

#[test]
fn cooling_that_stays_above_the_dew_point_is_sensible_only() {
    let room = air(20.0, 0.5);
    let cooled = cool_through_saturation_to(&room, 12.0).unwrap();
    assert_eq!(cooled.condensate, Condensate::None);
    assert_eq!(cooled, temper_to(&room, 12.0).unwrap());
    assert!((cooled.heat_j_per_kg + 8.0 * (1006.0 + 1860.0 * room.humidity_ratio())).abs() < 1e-9);
    assert!(matches!(temper_to(&room, 9.0), Err(AirError::BelowDewPoint { .. })));
    assert!(cool_through_saturation_to(&room, 25.0).is_err());
}

/// Evaporating water of the wet-bulb temperature follows the line of constant wet bulb up to saturation.
#[test]
fn evaporation_of_water_at_the_wet_bulb_ends_saturated_at_the_wet_bulb() {
    let dry = air(35.0, 0.2);
    let wet = dry.wet_bulb_c();
    let kg_per_kg = f::saturation_humidity_ratio(wet, P) - dry.humidity_ratio() - 1e-12;
    let outcome = humidify_by_evaporation(&dry, Water { kg_per_kg, temperature_c: wet }).unwrap();
    let Outcome::Clear(moist) = outcome else { panic!("just short of fog: {outcome:?}") };
    assert!((moist.dry_bulb_c() - wet).abs() < 1e-6, "{} against {wet}", moist.dry_bulb_c());
    let more = Water { kg_per_kg: kg_per_kg + 0.001, temperature_c: wet };
    let Outcome::Fogged(fog) = humidify_by_evaporation(&dry, more).unwrap() else { panic!("fog expected") };
    assert!((fog.liquid_kg_per_kg - 0.001).abs() < 1e-6);
    assert!((fog.air.dry_bulb_c() - wet).abs() < 1e-6);
}

/// By hand: 5 g of steam at 100 °C (2687 kJ/kg) into a kilogram of 20 °C air: its 148.8 kJ/kg above vapour at
/// 20 °C warm the air by 0.005 × 148.8e3 / (1006 + 1860 w2).
#[test]
fn steam_warms_the_air_by_what_it_is_hotter() {
    let dry = air(20.0, 0.2);
    let outcome = humidify_by_steam(&dry, Water { kg_per_kg: 0.005, temperature_c: 100.0 }).unwrap();
    let Outcome::Clear(moist) = outcome else { panic!("no fog here") };
    let w = dry.humidity_ratio() + 0.005;
    assert!((moist.humidity_ratio() - w).abs() < 1e-15);
    assert!((moist.dry_bulb_c() - 20.0 - 744.0 / (1006.0 + 1860.0 * w)).abs() < 1e-9);
}

#[test]
fn heat_taken_past_the_dew_point_leaves_fog_that_is_reported() {
    let Outcome::Fogged(fog) = add_heat(&air(20.0, 0.9), -10e3).unwrap() else { panic!("fog expected") };
    assert!(fog.liquid_kg_per_kg > 0.001 && (fog.air.relative_humidity() - 1.0).abs() < 1e-12);
    assert!(matches!(add_heat(&air(20.0, 0.9), 10e3).unwrap(), Outcome::Clear(_)));
    assert!(add_heat(&air(20.0, 0.9), 100e3).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn mixing_keeps_water_and_enthalpy(
        t in (-50.0..=50.0f64, -50.0..=50.0f64), share in (0.0..=1.0f64, 0.0..=1.0f64), flow in (0.001..=1.0f64, 0.001..=1.0f64),
    ) {
        let (a, b) = (stream(t.0, share.0, flow.0), stream(t.1, share.1, flow.1));
        let mixed = mix(a, b).unwrap();
        let sum = |of: fn(&MoistAir) -> f64| of(&a.air) * flow.0 + of(&b.air) * flow.1;
        let water = sum(MoistAir::humidity_ratio) / mixed.dry_air_kg_per_s;
        let enthalpy = sum(MoistAir::enthalpy_j_per_kg) / mixed.dry_air_kg_per_s;
        prop_assert!((mixed.outcome.water_kg_per_kg() - water).abs() < 1e-15);
        prop_assert!((mixed.outcome.enthalpy_j_per_kg() - enthalpy).abs() < 1e-8);
        prop_assert!((parts_j_per_kg(&mixed.outcome) - enthalpy).abs() < 1e-8);
        if let Outcome::Fogged(fog) = mixed.outcome {
            prop_assert!(fog.liquid_kg_per_kg >= 0.0 && fog.ice_kg_per_kg >= 0.0);
            prop_assert!((fog.air.relative_humidity() - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn cooling_and_humidifying_keep_water_and_enthalpy(
        t in -40.0..=50.0f64, share in 0.01..=1.0f64, down in 0.0..=1.0f64, added in 0.0..=0.02f64,
    ) {
        let before = air(t, share);
        let target = t - down * (t + 50.0);
        let cooled = cool_through_saturation_to(&before, target).unwrap();
        let (kg, j_per_kg) = match cooled.condensate {
            Condensate::None => (0.0, 0.0),
            Condensate::Liquid(kg) => (kg, 4186.0 * target),
            Condensate::Ice(kg) => (kg, 2100.0 * target - 333.4e3),
        };
        prop_assert!(kg >= 0.0 && cooled.heat_j_per_kg <= 0.0);
        prop_assert!((cooled.air.humidity_ratio() + kg - before.humidity_ratio()).abs() < 1e-15);
        let left = cooled.air.enthalpy_j_per_kg() + kg * j_per_kg;
        prop_assert!((before.enthalpy_j_per_kg() + cooled.heat_j_per_kg - left).abs() < 1e-8);

        let outcome = humidify_by_evaporation(&before, Water { kg_per_kg: added, temperature_c: 15.0 }).unwrap();
        prop_assert!((outcome.water_kg_per_kg() - before.humidity_ratio() - added).abs() < 1e-15);
        let expected = before.enthalpy_j_per_kg() + added * 4186.0 * 15.0;
        prop_assert!((parts_j_per_kg(&outcome) - expected).abs() < 1e-8);
    }
}

//! The plain core of a bin method: in an hour of steady air it is what the hourly run settles on, and the closed form.
#![allow(clippy::unwrap_used, clippy::float_cmp)]

mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::{LEAD_IN, constant_year, drivers_at, last, plain_house, plate, unit};
use exchanger::CoreKind;
use simulation::{AirAround, Steps, Unit, Variant, plain_hour, run_alone};

const PRESSURE_PA: f64 = 101_325.0;

fn around(outdoor: (f64, f64), indoor: (f64, f64)) -> AirAround {
    AirAround {
        outdoor_c: outdoor.0,
        outdoor_humidity_ratio: outdoor.1,
        indoor_c: indoor.0,
        indoor_humidity_ratio: indoor.1,
        pressure_pa: PRESSURE_PA,
    }
}

/// Equal flows of equal heat capacity and NTU 3: effectiveness 3/4.
#[test]
fn a_dry_counterflow_core_is_the_closed_form() {
    let house = plain_house();
    let (m, w) = (0.04, 0.0015);
    let cp = 1006.0 + 1860.0 * w;
    let core = Unit { ua_w_per_k: 3.0 * m * cp, ..unit(m, 0.0, 0.0) };
    let hour = plain_hour(&plate(&house, core), &around((5.0, w), (21.0, w)));
    assert_relative_eq!(hour.recovered_sensible_w, 0.75 * m * cp * 16.0, max_relative = 1e-12);
    assert_abs_diff_eq!(hour.recovered_latent_w, 0.0, epsilon = 1e-9);
    assert_eq!((hour.drain_kg, hour.ice_kg), (0.0, 0.0));
}

/// A year of constant weather in a house whose water enters evenly: the last hour of the run against the plain core at its air,
/// for units with everything that a plain core keeps: fans before it, ducts, hood, leaks, water that freezes at the cold end.
#[test]
fn a_run_of_constant_weather_settles_on_it() {
    let mut house = plain_house();
    house.numbers.plants_kg_per_day = 14.0;
    house.numbers.leakage_kg_per_s = 0.01;
    let plain = unit(0.036, 0.8, 0.0);
    let moist = unit(0.036, 0.75, 0.5);
    let crossed = |core: Unit| Unit {
        crossed_ua_w_per_k: core.ua_w_per_k,
        crossed_vapour_kg_per_s: core.vapour_kg_per_s,
        ..core
    };
    let hood = Unit { recirculated_share: 0.1, bypass_kg_per_s: 0.001, ..plain };
    let fitted = Unit {
        fan_heat_before_w: 18.0,
        extract_fan_before_w: 15.0,
        cold_duct_w_per_k: 2.0,
        warm_duct_w_per_k: 1.5,
        place_share: 0.6,
        cross_leak_kg_per_s: 0.002,
        ..plain
    };
    let units = [
        (CoreKind::SensiblePlate, plain),
        (CoreKind::SensiblePlate, hood),
        (CoreKind::SensiblePlate, fitted),
        (CoreKind::SensibleCrossPlate, crossed(plain)),
        (CoreKind::EnthalpyPlate, moist),
        (CoreKind::EnthalpyCrossPlate, crossed(moist)),
        (CoreKind::EnthalpyWheel, moist),
    ];
    // Dry at mild temperature, wet and free of frost, and freezing with nothing that narrows the core.
    for (outdoor_c, outdoor_w) in [(14.0, 0.006), (4.0, 0.0045), (-15.0, 0.0009)] {
        for (place, (core, unit)) in units.into_iter().enumerate() {
            let variant = Variant { core, ..plate(&house, unit) };
            let drivers = drivers_at(&constant_year(outdoor_c, outdoor_w), Steps::Four);
            let h = run_alone("unit", &variant, &drivers, LEAD_IN).unwrap().hourly;
            let indoor = (last(&h.air_c), last(&h.wet_humidity_ratio));
            let hour = plain_hour(&variant, &around((outdoor_c, outdoor_w), indoor));
            let name = format!("unit {place} at {outdoor_c} °C");
            let pairs = [
                (hour.recovered_sensible_w, last(&h.recovered_sensible_w), 1e-3),
                (hour.recovered_latent_w, last(&h.recovered_latent_w), 1e-3),
                (hour.drain_kg, last(&h.drain_kg) - last(&h.ice_melted_kg), 1e-9),
                (hour.ice_kg, last(&h.ice_formed_kg), 1e-9),
            ];
            for (found, run, floor) in pairs {
                assert!((found - run).abs() <= 1e-6 * run.abs().max(floor), "{name}: {found} and {run}");
            }
        }
    }
    // The cases are what they are said to be.
    let water = |outdoor, indoor| plain_hour(&plate(&house, plain), &around(outdoor, indoor));
    let (cold, mild) = (water((-15.0, 0.0009), (21.0, 0.007)), water((4.0, 0.0045), (21.0, 0.0095)));
    assert!(cold.ice_kg > 0.01 && mild.ice_kg == 0.0 && mild.drain_kg > 0.01);
}

/// What runs to a plate's cold end freezes there; whether as liquid or as ice, as much water leaves the air.
#[test]
fn water_that_runs_to_the_cold_end_is_ice() {
    let house = plain_house();
    let air = around((-15.0, 0.0009), (21.0, 0.007));
    let stays = plain_hour(&plate(&house, unit(0.036, 0.8, 0.0)), &air);
    let runs = Unit { to_cold_end: 1.0, ..unit(0.036, 0.8, 0.0) };
    let runs = plain_hour(&plate(&house, runs), &air);
    assert!(stays.drain_kg > 0.0 && runs.drain_kg == 0.0);
    assert_relative_eq!(runs.ice_kg, stays.ice_kg + stays.drain_kg, max_relative = 1e-12);
    assert_eq!(runs.recovered_sensible_w, stays.recovered_sensible_w);
}

/// A wheel holds its water and gives it back or loses it to the air: nothing drains.
#[test]
fn a_wheel_has_no_drain() {
    let house = plain_house();
    let wet = around((4.0, 0.0045), (21.0, 0.012));
    let core = CoreKind::SensibleWheel;
    let wheel = Variant { core, ..plate(&house, unit(0.036, 0.8, 0.0)) };
    assert_eq!(plain_hour(&wheel, &wet).drain_kg, 0.0);
    assert!(plain_hour(&Variant { core: CoreKind::SensiblePlate, ..wheel }, &wet).drain_kg > 0.0);
}

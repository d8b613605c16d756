//! A cold year under every strategy: ice and heat are all there, the baseline gets the same air, hours are counted by hand.
//!
//! Not here: single hours worked by hand (`frost_strategies.rs`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::frost::{FLOW, cold_year, most, over_a_cold_year, plan, row, strategies, timed, with};
use common::{FILES, HOURS, drivers_at, file, lived_in_house, membrane, run, sum, unit};
use simulation::results::{Hourly, HouseYear};
use simulation::{FreeCooling, FrostPlan, FrostStrategy, Line, Steps, Unit, Variant};

#[test]
fn every_kilogram_of_ice_melts_or_is_there_and_every_joule_is_posted() {
    let drivers = cold_year();
    for (name, strategy) in strategies() {
        let [year, baseline] = over_a_cold_year(name, strategy, &drivers);
        let h = &year.hourly;
        let opening = h.frost_kg[0] - h.ice_formed_kg[0] + h.ice_melted_kg[0];
        let mut stored = opening;
        for k in 0..HOURS {
            stored += h.ice_formed_kg[k] - h.ice_melted_kg[k];
            assert_abs_diff_eq!(stored, h.frost_kg[k], epsilon = 1e-9);
        }
        let of = |line: Line| common::line(&year, line);
        assert_relative_eq!(of(Line::CorePreheat), sum(&h.preheat_w) * 3600.0, max_relative = 1e-9);
        assert_relative_eq!(of(Line::CoreDefrost), sum(&h.defrost_heat_w) * 3600.0, max_relative = 1e-9);
        assert_relative_eq!(of(Line::DefrostLent), -of(Line::CoreDefrost), max_relative = 1e-9);
        assert_relative_eq!(of(Line::DefrostReturned), -of(Line::CoreReturned), max_relative = 1e-9);
        assert_relative_eq!(of(Line::SupplyThaw), -of(Line::CoreThaw), max_relative = 1e-9);
        assert_relative_eq!(-of(Line::CoreMelt), sum(&h.ice_melted_kg), max_relative = 1e-9);
        println!(
            "{name:>14}: ice {:7.2} kg, peak {:.3} kg, preheat {:6.1} kWh (peak {:.0} W), lent {:6.1} kWh, \
             ΣD {:6.1} h, blocked {:5.0} h, missed {:6.0} m³, fan {:6.1} kWh, bypass {:5.0} h, heating {:7.0} kWh, \
             without recovery {:7.0} kWh",
            sum(&h.ice_formed_kg),
            most(&h.frost_kg),
            sum(&h.preheat_w) * 1e-3,
            most(&h.preheat_w),
            sum(&h.defrost_heat_w) * 1e-3,
            sum(&h.defrost_share),
            sum(&h.blocked_share),
            sum(&h.missed_outdoor_air_kg) / 1.204,
            sum(&h.fan_w) * 1e-3,
            sum(&h.bypass_share),
            sum(&h.heating_site_w) * 1e-3,
            sum(&baseline.hourly.heating_site_w) * 1e-3,
        );
        for (column, values, _) in h.columns() {
            assert!(values.iter().all(|value| value.is_finite()), "{name}: {column}");
        }
    }
}

#[test]
fn the_baseline_gets_the_units_outdoor_air_and_its_leaks_in_every_hour() {
    let drivers = cold_year();
    for (name, strategy) in strategies() {
        let [year, baseline] = over_a_cold_year(name, strategy, &drivers);
        let (h, b) = (&year.hourly, &baseline.hourly);
        assert_eq!(h.outdoor_air_kg, b.outdoor_air_kg, "{name}");
        assert_eq!(h.infiltration_air_kg, b.infiltration_air_kg, "{name}");
        assert_eq!(h.exfiltration_air_kg, b.exfiltration_air_kg, "{name}");
        let nothing =
            [&b.preheat_w, &b.defrost_share, &b.blocked_share, &b.missed_outdoor_air_kg, &b.frost_kg];
        assert!(nothing.iter().all(|column| sum(column) == 0.0), "{name}");
        for k in 0..HOURS {
            let (air_in, out) = (
                h.outdoor_air_kg[k] + h.infiltration_air_kg[k],
                h.exhaust_air_kg[k] + h.exfiltration_air_kg[k],
            );
            assert_relative_eq!(air_in, out, max_relative = 1e-12);
        }
    }
}

#[test]
fn a_unit_that_does_nothing_blocks_in_severe_cold_and_its_house_is_pressurised() {
    let [year, _] = over_a_cold_year("none", FrostStrategy::None, &cold_year());
    let h = &year.hourly;
    let blocked: Vec<usize> = (0..HOURS).filter(|&k| h.blocked_share[k] > 0.0).collect();
    assert!(blocked.len() > 100, "{}", blocked.len());
    for &k in &blocked {
        assert_eq!(h.exhaust_air_kg[k], 0.0);
        // 0.036 supplied alone with leaks of 0.012: √(0.036² + 0.012²) out.
        assert_relative_eq!(h.exfiltration_air_kg[k], 0.001_44_f64.sqrt() * 3600.0, max_relative = 1e-12);
        assert_eq!(h.ice_formed_kg[k], 0.0);
        // Nothing passes in a core without extract air: supply is as cold as outdoors, but for what thawing takes.
        assert!(h.supply_c[k] <= h.outdoor_c[k].max(0.0) + 1e-9, "{} {}", h.supply_c[k], h.outdoor_c[k]);
    }
    // Before it blocks, the fan works harder to hold the flow.
    assert!(most(&h.fan_w) > 51.0 && most(&h.fan_w) <= 75.0 + 1e-9, "{}", most(&h.fan_w));
    assert!(most(&h.frost_kg) < 1.5);
    // Every spring it opens again.
    assert_eq!(h.blocked_share[5000], 0.0);
}

#[test]
fn a_timetables_hours_are_counted_by_hand_over_the_weather_file() {
    let rows = [row(-5.0, 6.0, 54.0), row(-15.0, 10.0, 20.0), row(-24.0, 10.0, 15.0)];
    let weather = file(FILES[0]);
    let by_hand: f64 = weather
        .dry_bulb_c
        .iter()
        .map(|&t| {
            if t <= -24.0 {
                0.4
            } else if t <= -15.0 {
                1.0 / 3.0
            } else if t <= -5.0 {
                0.1
            } else {
                0.0
            }
        })
        .sum();
    assert!(by_hand > 100.0);
    let [year, _] = over_a_cold_year("timetable", timed(&rows), &cold_year());
    assert_relative_eq!(sum(&year.hourly.defrost_share), by_hand, max_relative = 1e-12);
    let missed = sum(&year.hourly.missed_outdoor_air_kg);
    assert_relative_eq!(missed, by_hand * FLOW * 3600.0, max_relative = 1e-9);
}

#[test]
fn held_outdoor_air_is_the_rated_air_of_every_hour() {
    let drivers = cold_year();
    let [year, _] = over_a_cold_year("held", timed(&[row(-5.0, 10.0, 20.0)]), &drivers);
    let [missing, _] = over_a_cold_year("timetable", timed(&[row(-5.0, 10.0, 20.0)]), &drivers);
    for k in 0..HOURS {
        assert_relative_eq!(year.hourly.outdoor_air_kg[k], FLOW * 3600.0, max_relative = 1e-12);
    }
    assert!(sum(&year.hourly.missed_outdoor_air_kg) < 1e-6);
    assert!(sum(&missing.hourly.missed_outdoor_air_kg) > 1000.0);
    assert!(sum(&year.hourly.fan_w) > sum(&missing.hourly.fan_w));
}

/// A unit that defrosts a third of the time brings in less cold air: against one common baseline that looks like a saving. Against
/// the baseline with its own air it is none, and at equal air it is a loss.
#[test]
fn missed_air_would_have_looked_like_a_saving() {
    let drivers = cold_year();
    let strategy = timed(&[row(-5.0, 10.0, 20.0)]);
    let [missing, own] = over_a_cold_year("timetable", strategy, &drivers);
    let [held, full] = over_a_cold_year("held", strategy, &drivers);
    let used = |year: &HouseYear| {
        let h = &year.hourly;
        (sum(&h.heating_site_w) + sum(&h.cooling_site_w) + sum(&h.fan_w)) * 1e-3
    };
    let against_one_baseline = [&missing, &held].map(|year| used(&full) - used(year));
    let against_its_own = used(&own) - used(&missing);
    println!("kWh: one baseline {against_one_baseline:.0?}, its own {against_its_own:.0}");
    assert!(against_one_baseline[0] > against_one_baseline[1] + 300.0, "missing air looks better");
    assert!(against_its_own < against_one_baseline[1], "with its own air it is worse than with all of it");
}

#[test]
fn free_cooling_passes_the_core_by_in_the_hours_that_its_rule_names() {
    let mut house = lived_in_house();
    house.numbers.heating_set_point_c = 20.0;
    let frost = FrostPlan {
        free_cooling: Some(FreeCooling { indoor_above_c: 22.5, colder_by_k: 1.0, supply_at_least_c: 14.0 }),
        ..plan(FrostStrategy::None)
    };
    let drivers = drivers_at(&file(FILES[2]), Steps::Four);
    let [cooled, _] = run(&with(&house, unit(FLOW, 0.8, 0.0), frost), &drivers);
    let [plain, _] = run(&with(&house, unit(FLOW, 0.8, 0.0), plan(FrostStrategy::None)), &drivers);
    let h = &cooled.hourly;
    let by_hand = |k: usize| {
        let indoor = h.air_c[k - 1];
        indoor > 22.5 && indoor - h.outdoor_c[k] > 1.0 && h.outdoor_c[k] >= 14.0
    };
    for k in 1..HOURS {
        assert_eq!(h.bypass_share[k], if by_hand(k) { 1.0 } else { 0.0 }, "hour {k}");
    }
    assert!(sum(&h.bypass_share) > 200.0);
    let cooling = |h: &Hourly| sum(&h.cooling_sensible_w) + sum(&h.cooling_latent_w);
    assert!(cooling(h) < cooling(&plain.hourly));
    assert_eq!(sum(&plain.hourly.bypass_share), 0.0);
}

#[test]
fn a_plan_without_limits_changes_nothing_of_a_dry_year() {
    let drivers = drivers_at(&file(FILES[3]), Steps::Four);
    let leaky = Unit { cross_leak_kg_per_s: 0.002, recirculated_share: 0.05, ..unit(FLOW, 0.7, 0.4) };
    let unlimited = membrane(&lived_in_house(), leaky);
    for (_, strategy) in strategies().into_iter().filter(|(name, _)| *name != "slow wheel") {
        let [year, _] = run(&Variant { frost: plan(strategy), ..unlimited }, &drivers);
        let [same, _] = run(&unlimited, &drivers);
        assert!(year.hourly == same.hourly, "{strategy:?}");
    }
}

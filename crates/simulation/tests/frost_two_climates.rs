//! The severe-cold sample and a published half-hourly year of Colorado (2 168 m, down to −27.7 °C) under every strategy: ice is all
//! there, preheating keeps it away, doing nothing blocks, a timetable's hours are those of the file, energies add up by the hour.
//!
//! Not here: single hours worked by hand (`frost_strategies.rs`); what baselines get (`frost_years.rs`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::frost::{FLOW, over_a_cold_year, row, strategies, timed};
use common::{FILES, HOURS, drivers_at, file, sum};
use simulation::{Drivers, FrostStrategy, Line, PreheatTo, Steps};

const COLORADO: &str = "tests/data/weather/nsrdb_psm3_colorado_2017_30min.csv";

fn climates() -> [(&'static str, Drivers); 2] {
    [
        ("severe cold", drivers_at(&file(FILES[0]), Steps::Four)),
        ("Colorado", drivers_at(&file(COLORADO), Steps::Four)),
    ]
}

#[test]
fn ice_formed_is_ice_melted_and_ice_stored_and_energies_add_up_by_the_hour() {
    for (climate, drivers) in climates() {
        for (name, strategy) in strategies() {
            let [year, _] = over_a_cold_year(name, strategy, &drivers);
            let h = &year.hourly;
            let opening = h.frost_kg[0] - h.ice_formed_kg[0] + h.ice_melted_kg[0];
            let stored = h.frost_kg[HOURS - 1] - opening;
            let difference = sum(&h.ice_formed_kg) - sum(&h.ice_melted_kg) - stored;
            assert_abs_diff_eq!(difference, 0.0, epsilon = 1e-9);
            let of = |line: Line| common::line(&year, line);
            assert_relative_eq!(of(Line::CorePreheat), sum(&h.preheat_w) * 3600.0, max_relative = 1e-9);
            assert_relative_eq!(of(Line::CoreDefrost), sum(&h.defrost_heat_w) * 3600.0, max_relative = 1e-9);
            assert_relative_eq!(of(Line::Heating), sum(&h.heating_load_w) * 3600.0, max_relative = 1e-9);
            println!(
                "{climate}, {name}: {:.1} kg of ice, {:.1} h of defrost, {:.0} h blocked",
                sum(&h.ice_formed_kg),
                sum(&h.defrost_share),
                sum(&h.blocked_share)
            );
        }
    }
}

#[test]
fn preheating_at_onset_leaves_grams_that_are_counted_and_doing_nothing_blocks() {
    for (climate, drivers) in climates() {
        let preheat = FrostStrategy::Preheat(PreheatTo::FirstFrost);
        let [nothing, _] = over_a_cold_year("none", FrostStrategy::None, &drivers);
        let [preheated, _] = over_a_cold_year("preheat", preheat, &drivers);
        let [defrosted, _] = over_a_cold_year("timetable", timed(&[row(-5.0, 10.0, 20.0)]), &drivers);
        let hours = |column: &[f64]| column.iter().filter(|kg| **kg >= 0.001).count();
        assert!(sum(&nothing.hourly.blocked_share) > 0.0, "{climate}");
        // Humidity that changes within the hour: less than 3 % of what a core without preheating lays down.
        let (left, all) = (sum(&preheated.hourly.ice_formed_kg), sum(&defrosted.hourly.ice_formed_kg));
        println!(
            "{climate}: {left:.2} kg in {} h of {all:.0} kg, {:.0} kWh",
            hours(&preheated.hourly.ice_formed_kg),
            sum(&preheated.hourly.preheat_w) * 1e-3
        );
        assert!(left < 0.03 * all, "{climate}: {left} of {all}");
        assert_eq!(sum(&preheated.hourly.blocked_share), 0.0);
    }
}

/// The hour's mean of a half-hourly file: a quarter of the value on the hour, half of that at half past, a quarter of the next.
#[test]
fn a_timetables_hours_over_colorado_are_counted_by_hand_from_the_files_own_lines() {
    let path = format!("{}/../../{COLORADO}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let mut lines = text.lines().skip(2);
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    let column = header.iter().position(|name| *name == "Temperature").unwrap();
    let halves: Vec<f64> = lines.map(|line| line.split(',').nth(column).unwrap().parse().unwrap()).collect();
    assert_eq!(halves.len(), 2 * HOURS);
    let rows = [(-5.0, 0.1), (-15.0, 1.0 / 3.0)];
    let by_hand: f64 = (0..HOURS)
        .map(|h| {
            let next = halves[(2 * h + 2) % halves.len()];
            let mean = 0.25 * halves[2 * h] + 0.5 * halves[2 * h + 1] + 0.25 * next;
            rows.iter().filter(|row| mean <= row.0).map(|row| row.1).next_back().unwrap_or(0.0)
        })
        .sum();
    let timetable = timed(&[row(-5.0, 6.0, 54.0), row(-15.0, 10.0, 20.0)]);
    let [year, _] = over_a_cold_year("timetable", timetable, &climates()[1].1);
    assert!(by_hand > 50.0);
    // The last half hour of the year has no half hour after it: whatever stands there moves one hour at most.
    assert_abs_diff_eq!(sum(&year.hourly.defrost_share), by_hand, epsilon = 0.34);
    let missed = sum(&year.hourly.missed_outdoor_air_kg) / (FLOW * 3600.0);
    assert_relative_eq!(missed, sum(&year.hourly.defrost_share), max_relative = 1e-9);
}

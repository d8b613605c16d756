//! A part of a sweep against the same houses run alone, one by one, through the way that `run` takes: bit for bit.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::fs;
use std::path::PathBuf;
use std::sync::atomic::{AtomicU32, Ordering};

use proptest::prelude::*;
use simulation::results::HouseYear;
use sweep::{Runner, Sweep};

/// A folder with the starter study in a weather year, and this sweep of it.
fn opened(sweep: &str) -> (PathBuf, Sweep) {
    static NEXT: AtomicU32 = AtomicU32::new(0);
    let number = NEXT.fetch_add(1, Ordering::Relaxed);
    let folder = std::env::temp_dir().join(format!("dewledger-sweep-{}-{number}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    fs::write(folder.join("bungalow.toml"), study::starter_study()).unwrap();
    let weather = concat!(env!("CARGO_MANIFEST_DIR"), "/../../weather-samples/frosthollow.csv");
    fs::copy(weather, folder.join("frosthollow.csv")).unwrap();
    fs::write(folder.join("sweep.toml"), sweep).unwrap();
    let opened = Sweep::open(&folder.join("sweep.toml")).unwrap();
    (folder, opened)
}

fn sum(year: &HouseYear, of: fn(&simulation::results::Hourly) -> &Vec<f64>) -> u64 {
    of(&year.hourly).iter().fold(0.0, |sum, value| sum + value).to_bits()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_batch_gives_what_each_house_gives_alone(seed in 0_u64..1_000_000, people in 1_u32..6) {
        let text = format!(
            "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"latin-hypercube\"\nruns = 5\nseed = {seed}\n\
             [vary.\"house.air_leakage\"]\nuniform = [\"2 L/s\", \"40 L/s\"]\n\
             [vary.\"house.people.count\"]\none_of = [{people}, 6]\n\
             [vary.\"house.thermal_mass\"]\none_of = [\"light\", \"heavy\"]\n\
             [vary.\"study.time_step\"]\none_of = [\"1 h\", \"30 min\"]\n\
             [vary.\"unit.Membrane B.frost.strategy\"]\none_of = [\"none\", \"recirculate\"]\n\
             [vary.\"house.heating.set_point\"]\nnormal = [\"20 °C\", \"1 K\"]\n\
             [vary.\"house.humidifier.target\"]\none_of = [\"35 %\"]\n\
             [vary.\"house.humidifier.kind\"]\none_of = [\"steam\"]\n\
             [vary.\"house.humidifier.capacity\"]\none_of = [\"10 kg/day\"]\n\
             [vary.\"house.dehumidifier.target\"]\none_of = [\"50 %\"]\n\
             [vary.\"house.dehumidifier.capacity\"]\none_of = [\"10 kg/day\"]\n"
        );
        let (folder, sweep) = opened(&text);
        let rows = Runner::new(&sweep).unwrap().rows_of(0);
        prop_assert_eq!(rows.len(), 15);
        let template = sweep.template().unwrap();
        let bytes = fs::read(folder.join("frosthollow.csv")).unwrap();
        for row in &rows {
            let changes: Vec<_> = sweep.changes(row.run).unwrap().into_iter().map(|taken| taken.change).collect();
            let study = template.with(&changes).unwrap();
            let (year, _) = weather::read(&bytes, &study::build::overrides(&study)).unwrap();
            let built = study::build::build(&study, &year).unwrap();
            let (name, variant) = built.units.iter().find(|(name, _)| *name == row.unit).unwrap();
            let pair = simulation::run_pair(name, variant, &built.drivers, built.options).unwrap();
            let found = row.outcome.as_ref().unwrap();
            for (year, totals) in pair.iter().zip([&found.unit, &found.no_recovery]) {
                prop_assert_eq!(sum(year, |h| &h.heating_site_w), totals.heating_site_wh.to_bits(), "heating_site_wh");
                prop_assert_eq!(sum(year, |h| &h.cooling_site_w), totals.cooling_site_wh.to_bits(), "cooling_site_wh");
                prop_assert_eq!(sum(year, |h| &h.fan_w), totals.fan_wh.to_bits(), "fan_wh");
                prop_assert_eq!(sum(year, |h| &h.preheat_w), totals.preheat_wh.to_bits(), "preheat_wh");
                prop_assert_eq!(sum(year, |h| &h.blower_w), totals.blower_wh.to_bits(), "blower_wh");
                prop_assert_eq!(sum(year, |h| &h.humidifier_w), totals.humidifier_wh.to_bits(), "humidifier_wh");
                prop_assert_eq!(sum(year, |h| &h.dehumidifier_w), totals.dehumidifier_wh.to_bits(), "dehumidifier_wh");
                prop_assert_eq!(sum(year, |h| &h.defrost_share), totals.defrost_h.to_bits(), "defrost_h");
                prop_assert_eq!(sum(year, |h| &h.blocked_share), totals.blocked_h.to_bits(), "blocked_h");
                prop_assert_eq!(sum(year, |h| &h.outdoor_air_kg), totals.outdoor_air_kg.to_bits(), "outdoor_air_kg");
                prop_assert_eq!(sum(year, |h| &h.missed_outdoor_air_kg), totals.missed_outdoor_air_kg.to_bits(), "missed_outdoor_air_kg");
                prop_assert_eq!(sum(year, |h| &h.recovered_sensible_w), totals.recovered_sensible_wh.to_bits(), "recovered_sensible_wh");
                prop_assert_eq!(sum(year, |h| &h.recovered_latent_w), totals.recovered_latent_wh.to_bits(), "recovered_latent_wh");
                prop_assert_eq!(sum(year, |h| &h.drain_kg), totals.drain_kg.to_bits(), "drain_kg");
                prop_assert_eq!(sum(year, |h| &h.ice_formed_kg), totals.ice_formed_kg.to_bits(), "ice_formed_kg");
                prop_assert_eq!(sum(year, |h| &h.relative_humidity), totals.relative_humidity_h.to_bits(), "relative_humidity_h");
                prop_assert_eq!(sum(year, |h| &h.window_wet_share), totals.window_wet_h.to_bits(), "window_wet_h");
                prop_assert!(totals.outdoor_air_kg > 0.0 && totals.humidifier_wh > 0.0 && totals.dehumidifier_wh > 0.0);
            }
        }
        fs::remove_dir_all(folder).unwrap();
    }
}

#[test]
fn the_starter_sweep_opens() {
    let (folder, sweep) = opened(sweep::starter_sweep());
    assert_eq!((sweep.runs(), sweep.parts(), sweep.file.inputs.len()), (1024, 4, 4));
    fs::remove_dir_all(folder).unwrap();
}

/// The fan's power is uniform from 40 to 70 W: 64 points of a Sobol sequence have one in each 64th of it.
#[test]
fn sampled_values_follow_their_distribution() {
    let text = "[sweep]\nstudy = \"bungalow.toml\"\nplan = \"sobol\"\nruns = 64\n\
                [vary.\"unit.Plate A.fan.power\"]\nuniform = [\"40 W\", \"70 W\"]\n";
    let (folder, sweep) = opened(text);
    let mut watts: Vec<f64> = (0..64)
        .map(|run| match sweep.changes(run).unwrap().remove(0).shown {
            sweep::Shown::Number(watts) => watts,
            sweep::Shown::Word(word) => panic!("{word}"),
        })
        .collect();
    watts.sort_by(f64::total_cmp);
    for (place, watts) in watts.iter().enumerate() {
        let share = (watts - 40.0) / 30.0 * 64.0;
        assert!(share >= place as f64 && share <= (place + 1) as f64, "{place}: {watts}");
    }
    fs::remove_dir_all(folder).unwrap();
}

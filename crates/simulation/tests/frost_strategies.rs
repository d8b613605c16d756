//! What a unit does about frost, an hour at a time, against hours worked by hand.
//!
//! Not here: whole years under every strategy (`frost_years.rs`); thickness, narrowing and fans (`passages`, unit tests); ice
//! that melts by itself (`frost_and_thaw.rs`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::frost::{CORE_J_PER_K, CP, FLOW, dry_cold, held_at, plan, row, timed, with};
use common::{HOURS, constant_year, drivers, drivers_at, last, mean, plain_house, run, sum, unit};
use exchanger::CoreKind;
use simulation::results::Hourly;
use simulation::{
    Fans, FilterLoad, FrostPlan, FrostPlanError, FrostStrategy, PreheatTo, RunError, Start, Steps,
    ThawLimits, Unit, Variant,
};

#[test]
fn a_recirculation_warms_the_core_with_room_heat_and_half_of_it_comes_back() {
    let fans = Unit { fan_w: 60.0, ..unit(FLOW, 0.75, 0.0) };
    let defrosting = dry_cold(fans, plan(timed(&[row(-5.0, 10.0, 50.0)])), -20.0);
    let running = dry_cold(fans, plan(FrostStrategy::None), -20.0);
    let (h, without) = (&defrosting.hourly, &running.hourly);
    // One an hour: 5 kJ/K from the mean of the four ports, (−20 + 21)/2 = 0.5 °C, to 21 °C: 102.5 kJ, 28.472 W.
    // The recirculated air could give 0.036 × 1006 × 0.75 × 21 × 600 s = 342 kJ.
    assert_relative_eq!(last(&h.defrost_heat_w), 102.5e3 / 3600.0, max_relative = 1e-9);
    assert_relative_eq!(last(&h.defrost_returned_w), 51.25e3 / 3600.0, max_relative = 1e-9);
    assert_relative_eq!(last(&h.defrost_share), 1.0 / 6.0, max_relative = 1e-15);
    assert_relative_eq!(last(&h.outdoor_air_kg), FLOW * 3600.0 * 5.0 / 6.0, max_relative = 1e-12);
    assert_relative_eq!(last(&h.missed_outdoor_air_kg), FLOW * 600.0, max_relative = 1e-12);
    assert_eq!(last(&h.fan_w), 60.0);
    // The room: 1/6 of the ventilation's loss less, the heat lent, half of it back, fans' heat for ten minutes.
    let ventilation_w = FLOW * CP * 0.25 * 41.0;
    let more_w = -ventilation_w / 6.0 + 102.5e3 / 3600.0 - 51.25e3 / 3600.0 - 60.0 / 6.0;
    assert_abs_diff_eq!(last(&h.heating_load_w) - last(&without.heating_load_w), more_w, epsilon = 1e-6);
    // What came back warms the supply air of 50 minutes.
    let lift_k = 51.25e3 / (FLOW * CP * 3000.0);
    assert_abs_diff_eq!(last(&h.supply_c) - last(&without.supply_c), lift_k, epsilon = 1e-9);
}

#[test]
fn recirculated_air_that_is_too_little_to_warm_the_core_gives_what_it_has() {
    let heavy = FrostPlan { core_heat_capacity_j_per_k: 60e3, ..plan(timed(&[row(-5.0, 10.0, 50.0)])) };
    let h = dry_cold(unit(FLOW, 0.75, 0.0), heavy, -20.0).hourly;
    // 0.036 × 1006 × 0.75 × 21 × 600 s = 342.24 kJ, less than 60 kJ/K × 20.5 K.
    assert_relative_eq!(last(&h.defrost_heat_w), FLOW * CP * 0.75 * 21.0 / 6.0, max_relative = 1e-9);
}

#[test]
fn a_preheater_pays_for_the_air_that_it_warms_and_the_core_starts_from_there() {
    let h =
        dry_cold(unit(FLOW, 0.75, 0.0), plan(FrostStrategy::Preheat(PreheatTo::Fixed(-3.0))), -20.0).hourly;
    // 36 g/s × 1006 × 17 K = 615.7 W; recovered 0.036 × 1006 × 0.75 × 24 K.
    assert_abs_diff_eq!(last(&h.preheat_w), 615.7, epsilon = 0.05);
    assert_eq!(last(&h.core_inlet_c), -3.0);
    assert_relative_eq!(last(&h.recovered_sensible_w), FLOW * CP * 0.75 * 24.0, max_relative = 1e-9);
    assert_abs_diff_eq!(last(&h.supply_c), 15.0, epsilon = 1e-9);
    let mild = dry_cold(unit(FLOW, 0.75, 0.0), plan(FrostStrategy::Preheat(PreheatTo::Fixed(-3.0))), -2.0);
    assert_eq!(sum(&mild.hourly.preheat_w), 0.0);
}

#[test]
fn a_heater_that_is_too_weak_gives_what_it_has() {
    let weak = FrostPlan { preheat_most_w: 300.0, ..plan(FrostStrategy::Preheat(PreheatTo::Fixed(-3.0))) };
    let h = dry_cold(unit(FLOW, 0.75, 0.0), weak, -20.0).hourly;
    assert_relative_eq!(last(&h.preheat_w), 300.0, max_relative = 1e-9);
    assert_relative_eq!(last(&h.core_inlet_c), -20.0 + 300.0 / (FLOW * CP), max_relative = 1e-9);
}

/// By hand: air leaves at 21 − 0.75 × 41 = −9.75 °C, so a thaw starts every hour. NTU 3 is 6 for the extract films alone, so air
/// leaves at 12 °C from a core of 21 − 9/(1 − e⁻⁶) = 11.9776 °C; from 0.5 °C that is 5 kJ/K × 11.4776 K = 57.388 kJ, and the
/// extract air gives 0.036 × 1006 × 0.75 × 21 = 570.40 W: 100.61 s.
#[test]
fn supply_off_by_the_leaving_airs_temperature_lasts_as_long_as_warming_the_core_takes() {
    let limits = |start, end| ThawLimits { start_below_c: Some(start), end_above_c: Some(end) };
    let run_with =
        |limits| dry_cold(unit(FLOW, 0.75, 0.0), plan(FrostStrategy::SupplyOff(limits)), -20.0).hourly;
    assert_relative_eq!(
        last(&run_with(limits(-2.0, 12.0)).defrost_share),
        100.61 / 3600.0,
        max_relative = 2e-4
    );
    // It leaves warmer than −12 °C: nothing starts. The room is at 21 °C, air never leaves at 25 °C: the thaw lasts its hour, and
    // an hour of running follows in which the core cools down again.
    assert_eq!(sum(&run_with(limits(-12.0, 12.0)).defrost_share), 0.0);
    let endless = run_with(limits(-2.0, 25.0)).defrost_share.clone();
    assert!(endless[100..].windows(2).all(|pair| pair[0] + pair[1] == 1.0));
}

/// All water that the plate takes stays the same; of the liquid, a share becomes ice, and its heat of fusion leaves with the
/// exhaust air.
#[test]
fn water_that_runs_to_the_cold_end_freezes_there() {
    let house = held_at(0.5, 0.0005);
    let year = |share: f64| {
        let unit = Unit { to_cold_end: share, ..unit(FLOW, 0.75, 0.0) };
        let endless = FrostPlan { strategy: FrostStrategy::None, ..FrostPlan::unlimited() };
        let [year, _] = run(&with(&house, unit, endless), &drivers(&constant_year(-20.0, 0.0005)));
        year.hourly
    };
    let (stays, runs) = (year(0.0), year(0.2));
    let (liquid, ice) = (last(&stays.liquid_kg), last(&stays.ice_formed_kg));
    assert!(liquid > 0.01 && ice > 0.01 && last(&stays.plate_cold_end_c) < -0.5);
    assert_relative_eq!(last(&runs.liquid_kg), 0.8 * liquid, max_relative = 1e-6);
    assert_relative_eq!(last(&runs.ice_formed_kg), ice + 0.2 * liquid, max_relative = 1e-6);
    // 333.4 kJ/kg at 0 °C; liquid a few degrees above, ice a few below: 320 to 400 kJ/kg.
    let warmer_j = (last(&runs.exhaust_c) - last(&stays.exhaust_c)) * FLOW * 3600.0 * 1010.0;
    let each = warmer_j / (0.2 * liquid);
    assert!((320e3..400e3).contains(&each), "{each}");
    assert_relative_eq!(last(&runs.supply_c), last(&stays.supply_c), max_relative = 1e-9);
}

#[test]
fn the_preheater_holds_the_first_frost_of_a_wet_plate() {
    // Wet solution, 21 °C, NTU 3, worked apart by marching the plate in 200 steps: −5.9, −4.1, −6.1, −7.7, −9.3 °C.
    for (rh, first_c) in [(0.2, -5.9), (0.3, -4.1), (0.4, -6.1), (0.5, -7.7), (0.6, -9.3)] {
        let house = held_at(rh, 0.0005);
        let ua = Unit { ua_w_per_k: 3.0 * FLOW * CP, ..unit(FLOW, 0.75, 0.0) };
        let strategy = FrostStrategy::Preheat(PreheatTo::FirstFrost);
        let [year, _] = run(&with(&house, ua, plan(strategy)), &drivers(&constant_year(-20.0, 0.0005)));
        let h = &year.hourly;
        println!(
            "{rh}: {} °C, {} W, ice {} kg",
            last(&h.core_inlet_c),
            last(&h.preheat_w),
            sum(&h.ice_formed_kg)
        );
        assert_abs_diff_eq!(last(&h.relative_humidity), rh, epsilon = 1e-6);
        // Given to 0.1 K; the hourly core solution lies up to 0.1 K from the marched one.
        assert_abs_diff_eq!(last(&h.core_inlet_c), first_c, epsilon = 0.15);
        assert!(sum(&h.ice_formed_kg[100..]) < 1e-6);
    }
}

#[test]
fn supply_off_draws_air_through_the_leaks_while_extract_air_thaws_the_core() {
    let mut house = held_at(0.4, 0.0005);
    house.numbers.leakage_kg_per_s = 0.01;
    let [year, baseline] = run(
        &with(
            &house,
            Unit { fan_w: 40.0, ..unit(FLOW, 0.75, 0.0) },
            plan(FrostStrategy::SupplyOff(ThawLimits::ON_DEMAND)),
        ),
        &drivers(&constant_year(-20.0, 0.0005)),
    );
    let h = &year.hourly;
    let thaws: Vec<usize> = (HOURS - 200..HOURS).filter(|&k| h.defrost_share[k] > 0.0).collect();
    assert!(!thaws.is_empty());
    for &k in &thaws {
        let d = h.defrost_share[k];
        // Balanced with 0.01 both ways while it runs; with 0.036 extract alone √(0.036² + 0.01²) in and that less 0.036 out.
        let larger = (0.036_f64 * 0.036 + 0.0001).sqrt();
        let infiltration = (1.0 - d) * 0.01 + d * larger;
        let exfiltration = (1.0 - d) * 0.01 + d * (larger - 0.036);
        assert_relative_eq!(h.infiltration_air_kg[k], infiltration * 3600.0, max_relative = 1e-12);
        assert_relative_eq!(h.exfiltration_air_kg[k], exfiltration * 3600.0, max_relative = 1e-12);
        assert_relative_eq!(h.outdoor_air_kg[k], (1.0 - d) * FLOW * 3600.0, max_relative = 1e-12);
        assert!(h.exhaust_air_kg[k] <= FLOW * 3600.0 * (1.0 + 1e-12));
        // Supply fan off for that share: half of the power.
        assert!(h.fan_w[k] >= 40.0 - 20.0 * d - 1e-9);
        assert_eq!(h.defrost_heat_w[k], 0.0);
        assert_eq!(baseline.hourly.outdoor_air_kg[k], h.outdoor_air_kg[k]);
        assert_eq!(baseline.hourly.infiltration_air_kg[k], h.infiltration_air_kg[k]);
        // All ice of the hour before is gone: warming the core and melting took as long as the air could pay them.
        assert_relative_eq!(h.ice_melted_kg[k], h.frost_kg[k - 1], max_relative = 1e-9);
        let spent =
            d * FLOW * (CP + 1860.0 * h.wet_humidity_ratio[k - 1]) * dry_effectiveness(h, k) * 21.0 * 3600.0;
        // Ice at −2…−10 °C takes 337.6 to 354.4 kJ/kg; the core from its mean, which lies between −5 and 5 °C, to 21 °C.
        let melt = h.frost_kg[k - 1];
        let (least, most) = (melt * 337.6e3 + CORE_J_PER_K * 16.0, melt * 354.4e3 + CORE_J_PER_K * 26.0);
        assert!((least..most).contains(&spent), "{least} {spent} {most}");
    }
}

#[test]
fn a_defrost_that_is_too_short_leaves_ice_and_gives_all_that_its_air_has() {
    // Two minutes an hour, whatever the state of the core.
    let strategy = timed(&[row(0.0, 2.0, 58.0)]);
    let endless = FrostPlan {
        plate_area_m2: f64::INFINITY,
        capacity_kg: 1e6,
        core_heat_capacity_j_per_k: 1000.0,
        ..plan(strategy)
    };
    let h = &run(
        &with(&held_at(0.4, 0.0005), unit(FLOW, 0.75, 0.0), endless),
        &drivers(&constant_year(-20.0, 0.0005)),
    )[0]
    .hourly;
    for k in [2000, 5000, HOURS - 1] {
        let capacity = FLOW * (CP + 1860.0 * h.wet_humidity_ratio[k - 1]);
        let given_w = capacity * dry_effectiveness(h, k) * 21.0 / 30.0;
        assert_relative_eq!(h.defrost_heat_w[k], given_w, max_relative = 1e-9);
        // Less what the core takes, over 333.4 kJ/kg and 2.1 kJ/kg K from −10…0 °C.
        let melt_j = given_w * 3600.0 - 1000.0 * 22.0;
        let (least, most) = (melt_j / 354.4e3, (melt_j + 1000.0 * 8.0) / 333.4e3);
        assert!((least..most).contains(&h.ice_melted_kg[k]), "{least} {} {most}", h.ice_melted_kg[k]);
        assert!(h.frost_kg[k] > h.frost_kg[k - 1]);
    }
}

#[test]
fn a_defrost_on_demand_starts_above_a_twentieth_of_the_capacity() {
    for strategy in
        [FrostStrategy::Recirculate(Start::OnDemand), FrostStrategy::SupplyOff(ThawLimits::ON_DEMAND)]
    {
        let wide = FrostPlan { plate_area_m2: f64::INFINITY, capacity_kg: 4.0, ..plan(strategy) };
        let drivers = drivers(&constant_year(-9.0, 0.001));
        let h = &run(&with(&held_at(0.4, 0.001), unit(FLOW, 0.75, 0.0), wide), &drivers)[0].hourly;
        for k in 1..HOURS {
            assert_eq!(h.defrost_share[k] > 0.0, h.frost_kg[k - 1] > 0.2, "hour {k}");
        }
        let starts = h.defrost_share.iter().filter(|share| **share > 0.0).count();
        assert!(starts > 100 && starts < HOURS / 2, "{starts}");
    }
}

#[test]
fn a_row_of_a_timetable_holds_at_its_own_temperature() {
    let at = |outdoor_c| {
        let h = dry_cold(unit(FLOW, 0.75, 0.0), plan(timed(&[row(-5.0, 6.0, 54.0)])), outdoor_c).hourly;
        last(&h.defrost_share)
    };
    assert_relative_eq!(at(-5.0), 0.1, max_relative = 1e-15);
    assert_eq!(at(-4.999), 0.0);
}

#[test]
fn recirculation_mixes_wet_rooms_and_the_rest_and_brings_no_fresh_air() {
    // A shower house whose sources are all in the wet rooms, with the same day every day: means over a day follow the
    // steady balance, w_wet = w_out + G/m' and w_wet − w_rest = G/(m' + door'), m' = m (1 − D), door' = 0.03 + m D.
    let mut house = plain_house();
    house.numbers.showers_kg_per_day = 4.0;
    let strategy = timed(&[row(0.0, 20.0, 40.0)]);
    let dry = with(&house, unit(FLOW, 0.75, 0.0), FrostPlan { strategy, ..FrostPlan::unlimited() });
    let drivers = drivers_at(&constant_year(-1.0, 0.0005), Steps::Four);
    let [year, _] = run(&dry, &drivers);
    let h = &year.hourly;
    let source = 4.0 / 86_400.0;
    let (flow, door) = (FLOW * 2.0 / 3.0, 0.03 + FLOW / 3.0);
    let day = HOURS - 24..HOURS;
    let wet = 0.0005 + source / flow;
    assert_relative_eq!(mean(&h.wet_humidity_ratio[day.clone()]), wet, max_relative = 1e-6);
    let rest = wet - source / (flow + door);
    assert_relative_eq!(mean(&h.humidity_ratio[day]), rest, max_relative = 1e-6);
}

#[test]
fn air_led_round_the_core_and_a_slower_wheel_lay_down_no_ice() {
    let drivers = drivers(&constant_year(-12.0, 0.0005));
    let house = held_at(0.4, 0.0005);
    let bypass = with(&house, unit(FLOW, 0.8, 0.0), plan(FrostStrategy::Bypass));
    let wheel = Variant {
        core: CoreKind::SensibleWheel,
        ..with(&house, unit(FLOW, 0.8, 0.0), plan(FrostStrategy::SlowWheel))
    };
    for (variant, name) in [(bypass, "bypass"), (wheel, "slow wheel")] {
        let [year, _] = run(&variant, &drivers);
        let h = &year.hourly;
        let share = last(&h.bypass_share);
        println!("{name}: {share}, coldest {} °C", last(&h.plate_cold_end_c));
        assert!(share > 0.02 && share < 0.95, "{name} {share}");
        assert!(last(&h.ice_formed_kg) < 1e-6, "{name} {}", last(&h.ice_formed_kg));
        assert_eq!(last(&h.outdoor_air_kg), FLOW * 3600.0);
        assert_eq!(last(&h.missed_outdoor_air_kg), 0.0);
    }
    let [year, _] = run(&bypass, &drivers);
    // The latent heat jumps where the plate passes 0 °C, and the plate's temperature a little with it.
    assert_abs_diff_eq!(last(&year.hourly.plate_cold_end_c), 0.0, epsilon = 0.1);
    let [year, _] = run(&wheel, &drivers);
    assert_abs_diff_eq!(last(&year.hourly.plate_cold_end_c), 0.0, epsilon = 0.1);
}

#[test]
fn filters_load_and_are_changed() {
    let filters = Some(FilterLoad { extra: 0.6, interval_d: 100.0 });
    let fans = Unit { fan_w: 40.0, ..unit(FLOW, 0.75, 0.0) };
    let held = FrostPlan { filters, ..FrostPlan::unlimited() };
    let [year, baseline] = run(&with(&plain_house(), fans, held), &drivers(&constant_year(5.0, 0.002)));
    for k in [0, 1200, 2399, 2400, 8000] {
        // Middle of the hour, since the last change.
        let age = (k as f64 + 0.5) % 2400.0;
        assert_relative_eq!(year.hourly.fan_w[k], 40.0 * (1.0 + 0.6 * age / 2400.0), max_relative = 1e-12);
        assert_eq!(baseline.hourly.fan_w[k], year.hourly.fan_w[k]);
    }
    // A fixed speed pays with flow: 100 Pa shut off, free at twice the rated flow, 25 Pa in the core.
    let fixed = Fans::FixedSpeed { shut_off_pa: 100.0, free_flow_ratio: 2.0, core_pa: 25.0 };
    let fixed = FrostPlan { fans: fixed, ..held };
    let [year, baseline] = run(&with(&plain_house(), fans, fixed), &drivers(&constant_year(5.0, 0.002)));
    let load = 0.6 * 1200.5 / 2400.0;
    let square: f64 = 25.0 + 50.0 + 75.0 * load;
    let flow = (-25.0 + (625.0 + 400.0 * square).sqrt()) / (2.0 * square);
    assert_relative_eq!(year.hourly.outdoor_air_kg[1200], FLOW * 3600.0 * flow, max_relative = 1e-12);
    assert_eq!(baseline.hourly.outdoor_air_kg, year.hourly.outdoor_air_kg);
    assert_eq!(year.hourly.fan_w[1200], 40.0);
}

#[test]
fn only_a_wheel_turns_slower_and_bad_plans_are_refused() {
    let drivers = drivers(&constant_year(0.0, 0.002));
    let run_with = |frost: FrostPlan| {
        let variant = with(&plain_house(), unit(FLOW, 0.75, 0.0), frost);
        simulation::run_pair("unit", &variant, &drivers, simulation::RunOptions::default())
    };
    let slow = run_with(plan(FrostStrategy::SlowWheel));
    assert_eq!(slow, Err(RunError::Frost(FrostPlanError::NotAWheel)));
    assert!(run_with(FrostPlan { returned: 2.0, ..plan(FrostStrategy::None) }).is_err());
}

/// Counterflow, from its own conductance and the two heat capacities.
fn dry_effectiveness(h: &Hourly, k: usize) -> f64 {
    let (c_s, c_e) = (FLOW * (CP + 1860.0 * 0.0005), FLOW * (CP + 1860.0 * h.wet_humidity_ratio[k - 1]));
    let ua = unit(FLOW, 0.75, 0.0).ua_w_per_k;
    let e = (-ua / c_s * (1.0 - c_s / c_e)).exp();
    (1.0 - e) / (1.0 - c_s / c_e * e)
}

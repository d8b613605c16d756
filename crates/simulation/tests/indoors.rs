//! Humidifier, dehumidifier, wet windows, blower, closed bedroom, a building that dries out and a core that is washed, each worked by
//! hand in steady air.
//!
//! Not here: the mould index (`mould`), the coil by its rating (`apparatus`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;

use std::sync::Arc;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::{
    HOURS, LEAD_IN, PRESSURE_PA, constant_year, drivers, drivers_at, last, line, lived_in_house, mean,
    plain_house, plate, run, sum, unit,
};
use psychrometrics::formulas::saturation_humidity_ratio;
use simulation::results::Hourly;
use simulation::{
    FilterLoad, FrostPlan, House, IndoorsNumbers, Line, PaneNumbers, Steps, Unit, Variant, Washing,
    run_no_ventilation, run_pair,
};

const FLOW: f64 = 0.05;
const OUTDOOR_W: f64 = 0.0012;

/// Held at 21 °C, air in and out by leakage alone, no walls of its own to speak of but those of the plain house.
fn leaky() -> House {
    let mut house = plain_house();
    house.numbers.leakage_kg_per_s = FLOW;
    house
}

fn fitted(numbers: IndoorsNumbers<f64>) -> House {
    let mut house = leaky();
    house.indoors.numbers = numbers;
    house
}

fn year_of(house: &House, outdoor_c: f64, outdoor_w: f64) -> Arc<Hourly> {
    run_no_ventilation(house, &drivers(&constant_year(outdoor_c, outdoor_w)), LEAD_IN).unwrap().hourly
}

/// Humidity ratio at 21 °C, from the published saturation curve.
fn at_21(rh: f64) -> f64 {
    let saturation = saturation_humidity_ratio(21.0, PRESSURE_PA);
    let vapour_pa = rh * PRESSURE_PA * saturation / (0.621945 + saturation);
    0.621945 * vapour_pa / (PRESSURE_PA - vapour_pa)
}

/// Vapour at 21 °C less water at 21 °C: `2501 + 1.86 t − 4.186 t` kJ/kg.
const LATENT_J_PER_KG: f64 = 2501e3 + (1860.0 - 4186.0) * 21.0;

#[test]
fn a_humidifier_holds_its_target_and_gives_what_the_air_carries_away() {
    let target = IndoorsNumbers { humidify_to: 0.35, humidifier_kg_per_s: 1e-3, ..IndoorsNumbers::NONE };
    let without = year_of(&leaky(), -10.0, OUTDOOR_W);
    let h = year_of(&fitted(target), -10.0, OUTDOOR_W);
    assert_abs_diff_eq!(last(&h.relative_humidity), 0.35, epsilon = 1e-6);
    let carried_kg_per_s = FLOW * (at_21(0.35) - OUTDOOR_W);
    assert_relative_eq!(last(&h.humidified_kg), carried_kg_per_s * 3600.0, max_relative = 1e-5);
    // Room heat evaporates it: the heating gives that on top, and no electricity is used.
    let more_w = last(&h.heating_load_w) - last(&without.heating_load_w);
    assert_relative_eq!(more_w, carried_kg_per_s * LATENT_J_PER_KG, max_relative = 1e-5);
    assert_eq!(sum(&h.humidifier_w), 0.0);
    // Steam of 2676 kJ/kg gives a little more than vapour at room temperature holds: the heating gives that less.
    let steam = IndoorsNumbers { humidifier_steam: 1.0, ..target };
    let s = year_of(&fitted(steam), -10.0, OUTDOOR_W);
    assert_relative_eq!(last(&s.humidifier_w), carried_kg_per_s * 2676e3, max_relative = 1e-5);
    let less_w = last(&without.heating_load_w) - last(&s.heating_load_w);
    assert_relative_eq!(less_w, carried_kg_per_s * (2676e3 - 2501e3 - 1860.0 * 21.0), max_relative = 1e-4);
}

#[test]
fn a_humidifier_that_is_too_small_runs_all_the_time() {
    let small = IndoorsNumbers { humidify_to: 0.5, humidifier_kg_per_s: 1e-4, ..IndoorsNumbers::NONE };
    let h = year_of(&fitted(small), -10.0, OUTDOOR_W);
    assert_relative_eq!(last(&h.humidity_ratio), OUTDOOR_W + 1e-4 / FLOW, max_relative = 1e-9);
    assert_relative_eq!(sum(&h.humidified_kg), 1e-4 * 3600.0 * HOURS as f64, max_relative = 1e-9);
}

/// 1.8 L/kWh is 556 Wh a kilogram (own calculation from the definition); all of it and the latent heat warm the room.
#[test]
fn a_dehumidifier_gives_its_electricity_and_the_latent_heat_to_the_room() {
    let mut with = fitted(IndoorsNumbers {
        dry_to: 0.45,
        dehumidifier_kg_per_s: 1e-3,
        dehumidifier_j_per_kg: 3.6e6 / 1.8,
        ..IndoorsNumbers::NONE
    });
    let mut without = leaky();
    for house in [&mut with, &mut without] {
        house.numbers.people = 4.0;
        house.numbers.person_heat_w = 0.0;
        house.numbers.person_water_kg_per_s = 1e-4;
    }
    let (h, plain) = (year_of(&with, 5.0, 0.005), year_of(&without, 5.0, 0.005));
    assert_abs_diff_eq!(last(&h.relative_humidity), 0.45, epsilon = 1e-6);
    let taken_kg_per_s = 4e-4 - FLOW * (at_21(0.45) - 0.005);
    assert_relative_eq!(last(&h.dehumidified_kg), taken_kg_per_s * 3600.0, max_relative = 1e-4);
    let wh_per_kg = last(&h.dehumidifier_w) / last(&h.dehumidified_kg);
    assert_abs_diff_eq!(wh_per_kg, 555.6, epsilon = 0.05);
    let spared_w = last(&plain.heating_load_w) - last(&h.heating_load_w);
    assert_relative_eq!(spared_w, taken_kg_per_s * (LATENT_J_PER_KG + 2e6), max_relative = 1e-4);
}

/// Steady sweat: air, glass at 21 − 0.39 × 31 K and run-off: `w = (m w_o + S + g w_s)/(m + g)`, `g = A × 3/1006`.
#[test]
fn glass_below_the_dew_point_takes_what_its_film_passes_and_what_it_cannot_hold_runs_off() {
    let mut house = leaky();
    house.numbers.people = 4.0;
    house.numbers.person_heat_w = 0.0;
    house.numbers.person_water_kg_per_s = 1e-4;
    house.indoors.panes[0] = PaneNumbers { edge_share: 0.0, ..PaneNumbers::new(12.0, 3.0, 0.6) };
    // At 2 °C outdoors: 2 + 19 × 0.61 = 13.59 °C at the glass, above 0 °C.
    let h = year_of(&house, 2.0, 0.004);
    let passes = 12.0 * 3.0 / 1006.0;
    let at_glass = saturation_humidity_ratio(2.0 + 19.0 * (1.0 - 0.13 * 3.0), PRESSURE_PA);
    let w = (FLOW * 0.004 + 4e-4 + passes * at_glass) / (FLOW + passes);
    assert!(w > at_glass);
    assert_relative_eq!(last(&h.humidity_ratio), w, max_relative = 1e-5);
    let ran_off = passes * (w - at_glass) * 3600.0;
    assert_relative_eq!(last(&h.window_run_off_kg), ran_off, max_relative = 1e-3);
    assert_eq!(last(&h.window_wet_share), 1.0);
    assert_eq!(last(&h.window_edge_wet_share), 0.0);
    // Condensing water gives its heat to the room: vapour at 21 °C less the water booked at 20 °C.
    let dry = {
        let mut dry = house;
        dry.indoors.panes[0] = PaneNumbers::NONE;
        year_of(&dry, 2.0, 0.004)
    };
    let spared_w = last(&dry.heating_load_w) - last(&h.heating_load_w);
    let heat_j = 2501e3 + 1860.0 * 21.0 - 4186.0 * 20.0;
    assert_relative_eq!(spared_w, ran_off / 3600.0 * heat_j, max_relative = 1e-3);
}

/// Glass meets the air that a humidifier or dehumidifier leaves, at every step: steady at 40 %, `g (w − w_s)` runs off.
#[test]
fn glass_meets_the_air_that_is_held_whatever_the_step() {
    let numbers = |humidify: bool| IndoorsNumbers {
        humidify_to: 0.4,
        humidifier_kg_per_s: if humidify { 1e-2 } else { 0.0 },
        dry_to: 0.4,
        dehumidifier_kg_per_s: if humidify { 0.0 } else { 1e-2 },
        ..IndoorsNumbers::NONE
    };
    let passes = 4.0 * 3.0 / 1006.0;
    let at_glass = saturation_humidity_ratio(-3.0 + 24.0 * (1.0 - 0.13 * 5.0), PRESSURE_PA);
    let by_hand = passes * (at_21(0.4) - at_glass) * 3600.0;
    assert!(by_hand > 0.01);
    for humidify in [true, false] {
        let mut house = fitted(numbers(humidify));
        house.indoors.panes[0] = PaneNumbers { edge_share: 0.0, ..PaneNumbers::new(4.0, 5.0, 0.6) };
        house.numbers.people = if humidify { 0.0 } else { 8.0 };
        house.numbers.person_water_kg_per_s = 1e-4;
        for steps in [Steps::One, Steps::Four, Steps::Twelve] {
            let drivers = drivers_at(&constant_year(-3.0, 0.0025), steps);
            let h = run_no_ventilation(&house, &drivers, LEAD_IN).unwrap().hourly;
            assert_abs_diff_eq!(last(&h.relative_humidity), 0.4, epsilon = 1e-5);
            assert_eq!(last(&h.window_wet_share), 1.0, "{humidify} {steps:?}");
            assert_relative_eq!(last(&h.window_run_off_kg), by_hand, max_relative = 2e-3);
            let out = FLOW * (at_21(0.4) - 0.0025) * 3600.0 + by_hand;
            let source = if humidify { 0.0 } else { 8e-4 * 3600.0 };
            let held = last(&h.humidified_kg) - last(&h.dehumidified_kg);
            assert_relative_eq!(held, out - source, max_relative = 2e-3);
        }
    }
}

/// A night of frost, then warm and dry: ice stays on the glass, thaws, runs off past 50 g/m², and the rest dries into the air.
#[test]
fn ice_builds_up_on_glass_and_what_it_holds_dries_again() {
    let mut house = leaky();
    house.numbers.people = 4.0;
    house.numbers.person_heat_w = 0.0;
    house.numbers.person_water_kg_per_s = 1e-4;
    house.indoors.panes[0] = PaneNumbers { edge_share: 0.0, ..PaneNumbers::new(12.0, 5.0, 0.6) };
    let cold = |h: usize| h % 240 < 48;
    let year = common::year_of(|h| if cold(h) { (-25.0, 0.0004) } else { (18.0, 0.0004) });
    let drivers = drivers_at(&year, Steps::Four);
    let result = run_no_ventilation(&house, &drivers, LEAD_IN).unwrap();
    let h = &result.hourly;
    for period in 0..30 {
        let at = |from: usize, to: usize| &h.window_run_off_kg[240 * period + from..240 * period + to];
        assert_eq!(sum(at(1, 48)), 0.0, "ice does not run");
        let built = passes_over(h, 240 * period..240 * period + 48);
        // What was not held runs off in the first quarter of an hour of the thaw, in which some dries: 12 m² hold 0.6 kg.
        assert!(built > 1.0, "{built}");
        let glass_c = 18.0 + 3.0 * (1.0 - 0.13 * 5.0);
        let lack = saturation_humidity_ratio(glass_c, PRESSURE_PA) - h.humidity_ratio[240 * period + 47];
        let dried = 12.0 * 3.0 / 1006.0 * lack * 900.0;
        assert_abs_diff_eq!(sum(at(48, 50)), built - 0.6 - dried, epsilon = 0.05);
        assert_eq!(h.window_wet_share[240 * period + 230], 0.0);
    }
    let water = line(&result, Line::WindowRunOff);
    assert_relative_eq!(-water, sum(&h.window_run_off_kg), max_relative = 1e-12);
}

/// Ice that the glass takes over these hours \[kg\]: its film passes `g (w − w_s)`.
fn passes_over(h: &Hourly, hours: std::ops::Range<usize>) -> f64 {
    let passes = 12.0 * 3.0 / 1006.0;
    hours
        .map(|hour| {
            let glass_c = -25.0 + (h.air_c[hour] + 25.0) * (1.0 - 0.13 * 5.0);
            passes * (h.humidity_ratio[hour] - saturation_humidity_ratio(glass_c, PRESSURE_PA)) * 3600.0
        })
        .sum()
}

#[test]
fn a_new_building_gives_its_water_and_takes_the_heat_for_it() {
    let (start, per_h) = (2e-4, std::f64::consts::LN_2 / (90.0 * 24.0));
    let house =
        fitted(IndoorsNumbers { drying_kg_per_s: start, drying_per_h: per_h, ..IndoorsNumbers::NONE });
    let h = year_of(&house, -5.0, 0.002);
    // A geometric series of hours: 1 − 2^(−365/90) of it all.
    let hours = HOURS as f64;
    let series = start * 3600.0 * (1.0 - (-per_h * hours).exp()) / (1.0 - (-per_h).exp());
    assert_relative_eq!(sum(&h.sources_kg), series, max_relative = 1e-9);
    let plain = year_of(&leaky(), -5.0, 0.002);
    let more_w = mean(&h.heating_load_w) - mean(&plain.heating_load_w);
    assert_relative_eq!(more_w, series / hours / 3600.0 * LATENT_J_PER_KG, max_relative = 2e-3);
}

#[test]
fn a_blower_runs_with_the_heating_or_on_and_its_electricity_is_heat() {
    let with = |always: f64| {
        fitted(IndoorsNumbers {
            blower_w: 300.0,
            blower_always: always,
            heating_w: 9000.0,
            ..IndoorsNumbers::NONE
        })
    };
    let plain = year_of(&leaky(), -10.0, 0.001);
    let on = year_of(&with(1.0), -10.0, 0.001);
    assert_eq!(last(&on.blower_w), 300.0);
    assert_relative_eq!(last(&plain.heating_load_w) - last(&on.heating_load_w), 300.0, max_relative = 1e-9);
    // With the heating alone: q + P q/9000 is what the house needs.
    let along = year_of(&with(0.0), -10.0, 0.001);
    let need_w = last(&plain.heating_load_w);
    assert_relative_eq!(last(&along.heating_load_w), need_w / (1.0 + 300.0 / 9000.0), max_relative = 1e-6);
    assert_relative_eq!(
        last(&along.blower_w),
        300.0 * last(&along.heating_load_w) / 9000.0,
        max_relative = 1e-6
    );
}

/// Rest and wet rooms differ by `S/(door)`; the blower stirs ten times as much.
#[test]
fn a_blower_that_runs_mixes_the_rooms_ten_times_as_fast() {
    let apart = |always: f64| {
        let mut house = fitted(IndoorsNumbers {
            blower_w: 300.0,
            blower_always: always,
            heating_w: f64::MAX,
            ..IndoorsNumbers::NONE
        });
        // Laundry all day would come in events: cooking's mean over whole days.
        house.numbers.cooking_kg_per_day = 2.0;
        let h = year_of(&house, 10.0, 0.004);
        (mean(&h.wet_humidity_ratio) - mean(&h.humidity_ratio)) * 0.03 * (1.0 + 9.0 * always) * 86_400.0
    };
    assert_relative_eq!(apart(0.0), 2.0, max_relative = 1e-3);
    assert_relative_eq!(apart(1.0), 2.0, max_relative = 1e-3);
}

/// Below three tenths of the hour no water leaves a coil over which a blower runs on; at six tenths three sevenths do.
#[test]
fn water_on_a_coil_evaporates_again_where_the_blower_runs_on() {
    let drained = |re_evaporates: f64, cooling_w: f64| {
        let mut house = fitted(IndoorsNumbers {
            blower_w: 1e-6,
            blower_always: 1.0,
            cooling_w,
            re_evaporates,
            ..IndoorsNumbers::NONE
        });
        house.numbers.cooling_set_point_c = 25.0;
        house.numbers.cooling_capacity_w = 1e9;
        let h = year_of(&house, 32.0, 0.016);
        (last(&h.coil_kg), last(&h.cooling_sensible_w), last(&h.humidity_ratio))
    };
    let (all, load_w, w) = drained(0.0, 1e4);
    assert!(all > 0.0);
    assert_eq!(drained(1.0, load_w / 0.3).0, 0.0);
    let (part, _, damper) = drained(1.0, load_w / 0.6);
    // The coil's air is 3/7 of what it was: at the damper room, by its own water balance.
    let coil_w = saturation_humidity_ratio(11.0, PRESSURE_PA);
    assert!(damper > w);
    assert_relative_eq!(part / all, 3.0 / 7.0 * (damper - coil_w) / (w - coil_w), max_relative = 1e-4);
}

/// Air that the unit brings to the return duct and takes from it goes in a circle while the blower rests.
#[test]
fn without_its_blower_air_by_the_return_duct_goes_in_a_circle() {
    let delivered = |short: f64, with_unit: f64| {
        let house = fitted(IndoorsNumbers {
            blower_w: 300.0,
            blower_with_unit: with_unit,
            through_return_duct: short,
            heating_w: 1e12,
            ..IndoorsNumbers::NONE
        });
        let [year, _] = run(&plate(&house, unit(0.04, 0.7, 0.0)), &drivers(&constant_year(-5.0, 0.001)));
        (last(&year.hourly.outdoor_air_kg), last(&year.hourly.missed_outdoor_air_kg))
    };
    assert_relative_eq!(delivered(0.0, 0.0).0, 144.0, max_relative = 1e-12);
    let (some, missed) = delivered(0.75, 0.0);
    assert_relative_eq!(some, 36.0, max_relative = 1e-6);
    assert_relative_eq!(missed, 108.0, max_relative = 1e-6);
    assert_relative_eq!(delivered(0.75, 1.0).0, 144.0, max_relative = 1e-12);
}

/// Four people in 40 L/s: 400 ppm above outdoors at 0.0040 L/s each (own calculation, `1e6 n V/Q`); a closed bedroom by its own balance.
#[test]
fn a_closed_bedroom_is_as_stale_as_its_air_change_leaves_it() {
    let density = 1.2;
    let mut house = plain_house();
    house.numbers.people = 4.0;
    house.site.person_co2_ppm_kg_per_s = 0.0040e-3 * density * 1e6;
    house.indoors.numbers = IndoorsNumbers {
        sleepers: 2.0,
        bedroom_air_kg: 30.0 * density,
        bedroom_supply_share: 0.25,
        bedroom_from_h: 0.0,
        bedroom_to_h: 24.0,
        ..IndoorsNumbers::NONE
    };
    let flow = 0.040 * density;
    let [year, _] = run(&plate(&house, unit(flow, 0.7, 0.0)), &drivers(&constant_year(5.0, 0.003)));
    let house_ppm = last(&year.hourly.co2_ppm);
    assert_abs_diff_eq!(house_ppm, 820.0, epsilon = 1e-6);
    // 10 L/s of fresh air, 2 L/s round the door at the house's 820 ppm, two asleep at 0.95/1.2 of 0.0040 L/s.
    let door = 0.002;
    let by_hand = (0.010 * 420.0 + door * 820.0 + 2.0 * 0.0040e-3 * 0.95 / 1.2 * 1e6) / (0.010 + door);
    assert_relative_eq!(last(&year.hourly.bedroom_co2_ppm), by_hand, max_relative = 1e-9);
    // Open by day: closed from 22 to 7 it starts at the house's air and rises towards that.
    house.indoors.numbers.bedroom_from_h = 22.0;
    house.indoors.numbers.bedroom_to_h = 7.0;
    let [night, _] = run(&plate(&house, unit(flow, 0.7, 0.0)), &drivers(&constant_year(5.0, 0.003)));
    let of_hour = |h: usize| night.hourly.bedroom_co2_ppm[24 * 200 + h];
    assert_abs_diff_eq!(of_hour(12), 820.0, epsilon = 1e-6);
    let rate = (0.010 + door) / 30.0 * 3600.0;
    let after = |hours: f64| by_hand + (820.0 - by_hand) * (-rate * hours).exp();
    // The mean of the last of nine hours, by Simpson's rule.
    let mean = (after(8.0) + 4.0 * after(8.5) + after(9.0)) / 6.0;
    assert_abs_diff_eq!(of_hour(6), mean, epsilon = 0.05);
}

fn washed(plan: &FrostPlan) -> Variant {
    let house = leaky();
    Variant { frost: *plan, ..plate(&house, unit(0.04, 0.7, 0.0)) }
}

#[test]
fn a_core_that_is_washed_is_out_for_its_days_and_clean_after() {
    let washing = Washing { at_h: 3624.0, out_h: 42.0, fouling: 0.2, left: 0.0 };
    let plan = FrostPlan { washing: Some(washing), ..FrostPlan::unlimited() };
    let fan = Unit { fan_w: 40.0, ..unit(0.04, 0.7, 0.0) };
    let variant = Variant { frost: plan, ..plate(&leaky(), fan) };
    let drivers = drivers(&constant_year(5.0, 0.003));
    let [year, baseline] = run_pair("washed", &variant, &drivers, LEAD_IN).unwrap();
    let h = &year.hourly;
    for hour in 3624..3666 {
        assert_eq!((h.outdoor_air_kg[hour], h.fan_w[hour]), (0.0, 0.0));
        assert_eq!(baseline.hourly.outdoor_air_kg[hour], 0.0);
        assert_relative_eq!(h.missed_outdoor_air_kg[hour], 144.0, max_relative = 1e-12);
    }
    assert_eq!(h.outdoor_air_kg[3623], h.outdoor_air_kg[3666]);
    assert_relative_eq!(sum(&h.missed_outdoor_air_kg), 42.0 * 144.0, max_relative = 1e-12);
    // Dry and nearly balanced: ε = NTU/(1 + NTU) with NTU 7/3 (at 1006 J/(kg K)) falling by a fifth from wash to wash.
    let effectiveness = |hour: usize| (h.supply_c[hour] - 5.0) / 16.0;
    let expected = |age_h: f64| {
        let ntu = 7.0 / 3.0 * 1006.0 / (1006.0 + 1860.0 * 0.003) * (1.0 - 0.2 * age_h / 8760.0);
        ntu / (1.0 + ntu)
    };
    assert_abs_diff_eq!(effectiveness(3667), expected(1.5), epsilon = 2e-4);
    assert_abs_diff_eq!(effectiveness(3600), expected(8760.0 - 65.5), epsilon = 2e-4);
    assert_abs_diff_eq!(effectiveness(0), expected(5094.5), epsilon = 2e-4);
}

#[test]
fn skipped_upkeep_loads_filters_all_year_and_leaves_the_core_as_it_was() {
    let wash = Washing { at_h: 3624.0, out_h: 42.0, fouling: 0.05, left: 0.0 };
    let washing = Some(wash);
    let filters = Some(FilterLoad { extra: 1.0, interval_d: 182.5 });
    let neglected = FrostPlan { filters, washing, ..FrostPlan::unlimited() }.neglected();
    assert_eq!(neglected.filters, Some(FilterLoad { extra: 2.0, interval_d: 365.0 }));
    assert_eq!(neglected.washing.map(|w| w.left), Some(0.05));
    let drivers = drivers(&constant_year(-5.0, 0.002));
    let kept = run(&washed(&FrostPlan { filters, washing, ..FrostPlan::unlimited() }), &drivers);
    let left = run(&washed(&neglected), &drivers);
    assert!(mean(&left[0].hourly.recovered_sensible_w) < mean(&kept[0].hourly.recovered_sensible_w));
}

#[test]
fn washing_and_filters_are_taken_up_to_their_limits() {
    let wash = Washing { at_h: 8783.0, out_h: 1000.0, fouling: 0.5, left: 0.4 };
    let load = FilterLoad { extra: 3.0, interval_d: 1000.0 };
    let is_taken = |washing, filters| {
        let (washing, filters) = (Some(washing), Some(filters));
        FrostPlan { washing, filters, ..FrostPlan::unlimited() }.check().is_ok()
    };
    assert!(is_taken(wash, load));
    let washings = [
        Washing { at_h: 8784.0, ..wash },
        Washing { at_h: -1.0, ..wash },
        Washing { out_h: 0.0, ..wash },
        Washing { out_h: 1001.0, ..wash },
        Washing { fouling: 0.502, ..wash },
        Washing { left: 0.402, ..wash },
        Washing { left: -0.1, ..wash },
    ];
    for washing in washings {
        assert!(!is_taken(washing, load), "{washing:?}");
    }
    let loads = [
        FilterLoad { extra: 3.02, ..load },
        FilterLoad { extra: -0.1, ..load },
        FilterLoad { interval_d: 1001.0, ..load },
        FilterLoad { interval_d: 0.9, ..load },
    ];
    for filters in loads {
        assert!(!is_taken(wash, filters), "{filters:?}");
    }
}

/// With everything in a lived-in house over a real climate, the books close (a run fails otherwise) and nothing is negative.
#[test]
fn all_of_it_together_stays_possible() {
    let mut house = lived_in_house();
    house.indoors.numbers = IndoorsNumbers {
        humidify_to: 0.35,
        humidifier_kg_per_s: 2e-4,
        dry_to: 0.5,
        dehumidifier_kg_per_s: 2e-4,
        dehumidifier_j_per_kg: 2e6,
        drying_kg_per_s: 1e-4,
        drying_per_h: 2e-4,
        blower_w: 300.0,
        blower_with_unit: 1.0,
        heating_w: 6500.0,
        cooling_w: 3000.0,
        re_evaporates: 1.0,
        ..IndoorsNumbers::NONE
    };
    house.indoors.panes[0] = PaneNumbers::new(12.0, 1.6, 0.6);
    house.indoors.panes[1] = PaneNumbers::new(3.0, 5.0, 0.6);
    for path in common::FILES {
        for steps in [Steps::One, Steps::Four] {
            let [year, _] =
                run(&plate(&house, unit(0.04, 0.75, 0.0)), &drivers_at(&common::file(path), steps));
            let h = &year.hourly;
            for column in [&h.coil_kg, &h.humidified_kg, &h.dehumidified_kg, &h.window_run_off_kg] {
                let least = column.iter().copied().fold(f64::INFINITY, f64::min);
                assert!(least >= -1e-9, "{path}: {least}");
            }
        }
    }
}

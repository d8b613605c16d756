//! Leaks in the unit, own exhaust air at the hood, and imbalance, in weather that does not change: humidity, heat and
//! temperatures against closed forms written beside them.
//!
//! Not here: how the flows are formed (`flows`, unit tests); books of random units (`same_bits.rs`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::{constant_year, drivers, drivers_at, file, last, line, lived_in_house, plain_house, run, sum};
use exchanger::CoreKind;
use simulation::results::HouseYear;
use simulation::{Flows, FrostPlan, House, Line, RunOptions, Steps, Unit, Variant, run_no_ventilation};

const DELIVERED: f64 = 0.04;
/// 10 kg a day [kg/s].
const SOURCE: f64 = 10.0 / 86_400.0;
const OUTDOOR_W: f64 = 0.001279;
const CP: f64 = 1006.0;

const FLOWS: Flows = Flows {
    delivered_kg_per_s: DELIVERED,
    balance: 1.0,
    cross_leakage: 0.0,
    outdoor_air_correction: 1.0,
    hood_recirculation: 0.0,
    leakage_kg_per_s: 0.0,
};

/// Leakage in the rest zone alone, and extract through the wet rooms: both zones are one.
fn house(leakage_kg_per_s: f64, plants_kg_per_day: f64) -> House {
    let mut house = plain_house();
    house.numbers.leakage_kg_per_s = leakage_kg_per_s;
    house.numbers.plants_kg_per_day = plants_kg_per_day;
    house
}

fn plate(house: &House, flows: &Flows, ua_w_per_k: f64) -> Variant {
    let unit = Unit { ua_w_per_k, ..Unit::of_flows(flows).unwrap() };
    Variant { house: *house, unit, core: CoreKind::SensiblePlate, frost: FrostPlan::unlimited() }
}

/// The unit and its baseline; dry enough outdoors at 15 °C for the plate to stay dry.
fn humid_pair(flows: &Flows) -> [HouseYear; 2] {
    let house = house(flows.leakage_kg_per_s, 10.0);
    run(&plate(&house, flows, 3.0 * DELIVERED * CP), &drivers(&constant_year(15.0, OUTDOOR_W)))
}

#[test]
fn a_house_with_cross_leakage_is_as_humid_as_its_outdoor_air_leaves_it() {
    for (cross_leakage, balance, leakage) in
        [(0.0, 1.0, 0.01), (0.05, 1.0, 0.01), (0.12, 0.8, 0.01), (0.1, 1.25, 0.006), (0.1, 0.7, 0.0)]
    {
        let flows = Flows { cross_leakage, balance, leakage_kg_per_s: leakage, ..FLOWS };
        // Water in: outdoor air through core and envelope, cross-leaked air, source; out: all that is taken or pressed out.
        // Air in is air out, so w_in − w_out = G/(m₂ (1 − e) + infiltration).
        let d: f64 = DELIVERED * (1.0 - balance);
        let larger = (d * d + leakage * leakage).sqrt();
        let infiltration = if d > 0.0 { larger - d } else { larger };
        let indoor_w = OUTDOOR_W + SOURCE / (DELIVERED * (1.0 - cross_leakage) + infiltration);
        // The baseline has the same outdoor air and infiltration, hence the same humidity.
        for year in humid_pair(&flows) {
            assert_eq!(sum(&year.hourly.ice_formed_kg) + sum(&year.hourly.liquid_kg), 0.0);
            assert_abs_diff_eq!(last(&year.hourly.humidity_ratio), indoor_w, epsilon = 1e-12);
            assert_abs_diff_eq!(last(&year.hourly.wet_humidity_ratio), indoor_w, epsilon = 1e-12);
        }
    }
}

#[test]
fn own_exhaust_air_brings_no_fresh_air() {
    let flows = Flows { cross_leakage: 0.05, hood_recirculation: 0.2, leakage_kg_per_s: 0.01, ..FLOWS };
    let [year, baseline] = humid_pair(&flows);
    // w_in − w_out = G/(m₂ (1 − e)(1 − r) + L): a sensible plate hands the drawn-back water on to the rooms.
    let fresh = 0.04 * 0.95 * 0.8;
    let indoor_w = OUTDOOR_W + SOURCE / (fresh + 0.01);
    for year in [&year, &baseline] {
        assert_abs_diff_eq!(last(&year.hourly.humidity_ratio), indoor_w, epsilon = 1e-12);
        assert_relative_eq!(last(&year.hourly.outdoor_air_kg), fresh * 3600.0, max_relative = 1e-14);
    }
    // Supply: 1 − r outdoor and r exhaust, which is as humid as the rooms; then e of room air.
    let core_w = 0.8 * OUTDOOR_W + 0.2 * indoor_w;
    let supply_w = 0.95 * core_w + 0.05 * indoor_w;
    assert_abs_diff_eq!(last(&year.hourly.supply_humidity_ratio), supply_w, epsilon = 1e-12);
}

/// Temperature effectiveness of both sides of a dry counterflow plate.
fn effectivenesses(ua: f64, supply: f64, extract: f64) -> (f64, f64) {
    let (c_s, c_e) = (supply * CP, extract * CP);
    let e = (-ua / c_s * (1.0 - c_s / c_e)).exp();
    let of_supply = if c_s == c_e { ua / (ua + c_s) } else { (1.0 - e) / (1.0 - c_s / c_e * e) };
    (of_supply, of_supply * c_s / c_e)
}

#[test]
fn steady_hood_recirculation_is_its_closed_form() {
    for (r, balance) in [(0.05, 1.0), (0.2, 1.0), (0.3, 0.8), (0.15, 1.4)] {
        let flows = Flows { hood_recirculation: r, balance, ..FLOWS };
        let ua = 3.0 * DELIVERED * CP;
        let [year, _] = run(&plate(&house(0.0, 0.0), &flows, ua), &drivers(&constant_year(-5.0, 0.0)));
        // t₁' = (1 − r) t₁ + r t₄ and t₄ = t₃ − ε' (t₃ − t₁'), so t₄ (1 − r ε') = t₃ (1 − ε') + ε' (1 − r) t₁.
        let (of_supply, of_exhaust) = effectivenesses(ua, DELIVERED, DELIVERED * balance);
        let t4 = (21.0 * (1.0 - of_exhaust) + of_exhaust * (1.0 - r) * -5.0) / (1.0 - r * of_exhaust);
        let inlet = (1.0 - r) * -5.0 + r * t4;
        let h = &year.hourly;
        assert_abs_diff_eq!(last(&h.exhaust_c), t4, epsilon = 1e-9);
        assert_abs_diff_eq!(last(&h.supply_c), inlet + of_supply * (21.0 - inlet), epsilon = 1e-9);
        // Without a lead-in it is there when the house has lost the water that it starts with: 295 kg of air over 0.04
        // kg/s is a time constant of 2 h, so after four days nothing is left of the 2 g/kg.
        let without = RunOptions::default();
        let [early, _] = simulation::run_pair(
            "unit",
            &plate(&house(0.0, 0.0), &flows, ua),
            &drivers(&constant_year(-5.0, 0.0)),
            without,
        )
        .unwrap();
        assert_abs_diff_eq!(early.hourly.exhaust_c[95], t4, epsilon = 1e-9);
    }
}

#[test]
fn a_steady_unbalanced_house_is_heated_for_what_enters_it() {
    // L 0.01, 0.04 delivered. Extract 0.032: D 0.008, √(6.4e-5 + 1e-4) = 0.0128062 out, 0.0048062 in.
    // Extract 0.08: D −0.04, √(1.6e-3 + 1e-4) = 0.0412311 in, 0.0012311 out.
    for (balance, infiltration, exfiltration) in [(0.8, 0.0048062, 0.0128062), (2.0, 0.0412311, 0.0012311)] {
        let flows = Flows { balance, leakage_kg_per_s: 0.01, ..FLOWS };
        let weather = drivers(&constant_year(5.0, 0.0));
        let ua = 3.0 * DELIVERED * CP;
        let [year, baseline] = run(&plate(&house(0.01, 0.0), &flows, ua), &weather);
        let closed = run_no_ventilation(&house(0.0, 0.0), &weather, common::LEAD_IN).unwrap();
        // At the set-point the walls lose the same in all three houses, so the difference is the air: 1006 J/kg K, 16 K.
        let of_air =
            |year: &HouseYear| last(&year.hourly.heating_load_w) - last(&closed.hourly.heating_load_w);
        // Half of the last printed digit: 5e-8 kg/s.
        let printed = 5e-8 * CP * 16.0;
        assert_abs_diff_eq!(of_air(&baseline), (0.04 + infiltration) * CP * 16.0, epsilon = printed);
        let (effectiveness, _) = effectivenesses(ua, DELIVERED, DELIVERED * balance);
        let untempered = 0.04 * (1.0 - effectiveness) + infiltration;
        assert_abs_diff_eq!(of_air(&year), untempered * CP * 16.0, epsilon = printed);
        assert_abs_diff_eq!(
            last(&year.hourly.infiltration_air_kg),
            infiltration * 3600.0,
            epsilon = 5e-8 * 3600.0
        );
        assert_abs_diff_eq!(
            last(&year.hourly.exfiltration_air_kg),
            exfiltration * 3600.0,
            epsilon = 5e-8 * 3600.0
        );
    }
}

#[test]
fn cross_leaked_air_raises_the_apparent_effectiveness_and_not_the_heat_that_the_core_passes() {
    let flows = Flows { cross_leakage: 0.05, ..FLOWS };
    // A core that passes 0.70 of the 0.038 kg/s on each of its sides.
    let ua = 0.7 / 0.3 * 0.038 * CP;
    let [year, baseline] = run(&plate(&house(0.0, 0.0), &flows, ua), &drivers(&constant_year(1.0, 0.0)));
    // 0.70 + 0.05 (1 − 0.70) = 0.715 of 20 K: a worked value of the leakage ratio's definition, recalled.
    assert_abs_diff_eq!(last(&year.hourly.supply_c), 1.0 + 0.715 * 20.0, epsilon = 1e-9);
    assert_abs_diff_eq!(last(&baseline.hourly.supply_c), 1.0, epsilon = 1e-12);
    let recovered_w = 0.038 * CP * 0.7 * 20.0;
    assert_relative_eq!(last(&year.hourly.recovered_sensible_w), recovered_w, max_relative = 1e-9);
    // Room air that comes back is at the room's temperature: the heating saves what the core passed.
    let saved_w = last(&baseline.hourly.heating_load_w) - last(&year.hourly.heating_load_w);
    assert_relative_eq!(saved_w, recovered_w, max_relative = 1e-9);
}

#[test]
fn without_a_unit_the_leakage_goes_in_and_out_alike() {
    let year =
        run_no_ventilation(&house(0.01, 0.0), &drivers(&constant_year(5.0, 0.0)), RunOptions::default())
            .unwrap();
    let h = &year.hourly;
    assert_eq!([last(&h.infiltration_air_kg), last(&h.exfiltration_air_kg)], [0.01 * 3600.0; 2]);
    for column in
        [&h.delivered_air_kg, &h.outdoor_air_kg, &h.cross_leaked_air_kg, &h.intake_air_kg, &h.exhaust_air_kg]
    {
        assert_eq!(sum(column), 0.0);
    }
}

#[test]
fn air_that_passes_straight_from_intake_to_exhaust_is_in_those_two_columns_and_nowhere_else() {
    let weather = drivers(&file(common::FILES[2]));
    let of = |outdoor_air_correction| {
        let flows = Flows { cross_leakage: 0.05, outdoor_air_correction, leakage_kg_per_s: 0.012, ..FLOWS };
        run(&plate(&lived_in_house(), &flows, 120.0), &weather)
    };
    let ([tight, tight_baseline], [leaky, leaky_baseline]) = (of(0.95), of(1.1));
    for (one, other) in tight.hourly.columns().into_iter().zip(leaky.hourly.columns()) {
        let only_there = ["intake_air_kg", "exhaust_air_kg"].contains(&one.0);
        assert_eq!(one.1 == other.1, !only_there, "{}", one.0);
    }
    assert_eq!(tight.ledger_by_month, leaky.ledger_by_month);
    assert_eq!(tight_baseline, leaky_baseline);
    // m₁ = 1.1 m₂; the core's extract side passes 0.038, and 0.044 − 0.038 comes straight from the intake.
    assert_relative_eq!(last(&leaky.hourly.intake_air_kg), 0.044 * 3600.0, max_relative = 1e-12);
    assert_relative_eq!(last(&leaky.hourly.exhaust_air_kg), 0.044 * 3600.0, max_relative = 1e-12);
    assert_relative_eq!(last(&tight.hourly.intake_air_kg), 0.038 * 3600.0, max_relative = 1e-12);
}

#[test]
fn the_books_show_each_stream_that_crosses_the_house() {
    let flows = Flows {
        balance: 0.9,
        cross_leakage: 0.08,
        hood_recirculation: 0.1,
        leakage_kg_per_s: 0.012,
        ..FLOWS
    };
    let drivers = drivers_at(&file(common::FILES[2]), Steps::Four);
    let [year, _] = run(&plate(&lived_in_house(), &flows, 120.0), &drivers);
    // Cross-leaked air, and own exhaust air, go out as they come in.
    for (inward, outward) in [
        (Line::CrossLeakIn, Line::CrossLeakOut),
        (Line::CrossLeakVapourIn, Line::CrossLeakVapourOut),
        (Line::CoreDrawnIn, Line::CoreDrawnOut),
        (Line::CoreDrawnInWater, Line::CoreDrawnOutWater),
    ] {
        assert!(line(&year, inward) != 0.0);
        assert_eq!(line(&year, inward), -line(&year, outward), "{inward:?}");
    }
    // Extract air divides: e/(balance − e) of what the core takes leaks past it, at the same humidity.
    let leaked = line(&year, Line::CrossLeakIn);
    assert_relative_eq!(leaked, -line(&year, Line::ExtractOut) * 0.08 / 0.82, max_relative = 1e-12);
    // Infiltration is outdoor air: its water is the flow times the year's sum of humidity ratios.
    let infiltrated: f64 = year
        .hourly
        .infiltration_air_kg
        .iter()
        .zip(&year.hourly.outdoor_humidity_ratio)
        .map(|(m, w)| m * w)
        .sum();
    assert_relative_eq!(line(&year, Line::InfiltrationIn), infiltrated, max_relative = 1e-12);
}

//! A unit's flows against their definitions worked by hand, and every refusal to the letter.
//!
//! Not here: what the flows do in a house (`tests/leaks_and_imbalance.rs`).
#![allow(clippy::float_cmp)]

use approx::assert_relative_eq;

use super::{EnvelopeFlows, Flows, envelope_flows};
use crate::inputs::Unit;

/// 0.04 kg/s both ways, nothing leaks, a house of 0.012 kg/s.
const PLAIN: Flows = Flows {
    delivered_kg_per_s: 0.04,
    balance: 1.0,
    cross_leakage: 0.0,
    outdoor_air_correction: 1.0,
    hood_recirculation: 0.0,
    leakage_kg_per_s: 0.012,
};

fn close(found: f64, by_hand: f64) {
    assert_relative_eq!(found, by_hand, max_relative = 1e-12, epsilon = 1e-17);
}

fn refused(flows: &Flows) -> String {
    Unit::of_flows(flows).unwrap_err().to_string()
}

#[test]
fn a_balanced_unit_without_leaks_passes_its_rated_flow_on_both_sides_and_leaves_the_leakage_alone() {
    let expected = Unit {
        supply_kg_per_s: 0.04,
        extract_kg_per_s: 0.04,
        infiltration_kg_per_s: 0.012,
        exfiltration_kg_per_s: 0.012,
        ..Unit::none()
    };
    assert_eq!(Unit::of_flows(&PLAIN).unwrap(), expected);
    assert_eq!(expected.without_core(), expected);
}

#[test]
fn every_flow_is_what_its_definition_says() {
    let flows = Flows {
        balance: 0.9,
        cross_leakage: 0.05,
        outdoor_air_correction: 1.05,
        hood_recirculation: 0.1,
        leakage_kg_per_s: 0.003,
        ..PLAIN
    };
    let unit = Unit::of_flows(&flows).unwrap();
    // m₃ 0.036; cross-leaked 0.002; core 0.038 and 0.034; intake 0.042, of which 0.004 goes straight out.
    close(unit.cross_leak_kg_per_s, 0.002);
    close(unit.supply_kg_per_s, 0.038);
    close(unit.extract_kg_per_s, 0.034);
    close(unit.supply_kg_per_s + unit.bypass_kg_per_s, 0.042);
    close(unit.delivered_kg_per_s(), 0.04);
    close(unit.taken_kg_per_s(), 0.036);
    // Drawn back 0.0038, outdoor air 0.0342.
    close(unit.drawn_back_kg_per_s(), 0.0038);
    close(unit.outdoor_kg_per_s(), 0.0342);
    // D 0.004 with L 0.003: 3, 4, 5.
    close(unit.exfiltration_kg_per_s, 0.005);
    close(unit.infiltration_kg_per_s, 0.001);
}

#[test]
fn the_baseline_gets_the_same_outdoor_air_and_the_same_imbalance_without_leaks() {
    for (balance, cross_leakage, hood_recirculation) in [(0.5, 0.1, 0.2), (1.0, 0.05, 0.0), (2.0, 0.0, 0.3)] {
        let flows = Flows { balance, cross_leakage, hood_recirculation, ..PLAIN };
        let unit =
            Unit { ua_w_per_k: 120.0, vapour_kg_per_s: 0.03, fan_w: 30.0, ..Unit::of_flows(&flows).unwrap() };
        let baseline = unit.without_core();
        close(baseline.supply_kg_per_s, 0.04 * (1.0 - cross_leakage) * (1.0 - hood_recirculation));
        assert_eq!(baseline.outdoor_kg_per_s(), unit.outdoor_kg_per_s());
        close(
            baseline.extract_kg_per_s,
            0.04 * (balance - cross_leakage - hood_recirculation * (1.0 - cross_leakage)),
        );
        let imbalance = baseline.supply_kg_per_s - baseline.extract_kg_per_s;
        assert_relative_eq!(imbalance, 0.04 * (1.0 - balance), epsilon = 1e-16);
        assert_eq!(baseline.infiltration_kg_per_s, unit.infiltration_kg_per_s);
        assert_eq!(baseline.exfiltration_kg_per_s, unit.exfiltration_kg_per_s);
        let none = [baseline.cross_leak_kg_per_s, baseline.recirculated_share, baseline.bypass_kg_per_s];
        assert_eq!(none, [0.0; 3]);
        assert_eq!([baseline.ua_w_per_k, baseline.vapour_kg_per_s, baseline.fan_w], [0.0, 0.0, 30.0]);
    }
}

#[test]
fn leakage_and_imbalance_join_in_quadrature_and_air_in_is_air_out() {
    let of = |leakage, supply, extract| {
        let EnvelopeFlows { infiltration_kg_per_s, exfiltration_kg_per_s } =
            envelope_flows(leakage, supply, extract);
        (infiltration_kg_per_s, exfiltration_kg_per_s)
    };
    // 5, 12, 13: more is supplied, more leaves; and the other way round.
    let (infiltration, exfiltration) = of(0.012, 0.04, 0.035);
    close(infiltration, 0.008);
    close(exfiltration, 0.013);
    assert_eq!(of(0.012, 0.035, 0.04), (exfiltration, infiltration));
    // Halved and doubled extract at 0.04: √(0.02² + 0.012²) = 0.023323808, √(0.04² + 0.012²) = 0.041761226.
    assert_relative_eq!(of(0.012, 0.04, 0.02).1, 0.023323808, epsilon = 5e-10);
    assert_relative_eq!(of(0.012, 0.04, 0.08).0, 0.041761226, epsilon = 5e-10);
    for (leakage, supply, extract) in
        [(0.012, 0.04, 0.02), (0.012, 0.04, 0.08), (1e-6, 0.05, 0.01), (0.02, 0.0, 0.03)]
    {
        let (infiltration, exfiltration) = of(leakage, supply, extract);
        assert_relative_eq!(supply + infiltration, extract + exfiltration, max_relative = 1e-15);
        assert!(infiltration >= 0.0 && exfiltration >= 0.0);
    }
}

#[test]
fn balance_leaves_the_leakage_exactly_and_an_airtight_house_breathes_the_imbalance_alone() {
    for leakage in [0.0, 1e-9, 0.012, 0.1] {
        let found = envelope_flows(leakage, 0.04, 0.04);
        assert_eq!((found.infiltration_kg_per_s, found.exfiltration_kg_per_s), (leakage, leakage));
    }
    let found = envelope_flows(0.0, 0.05, 0.03);
    assert_eq!((found.infiltration_kg_per_s, found.exfiltration_kg_per_s), (0.0, 0.05 - 0.03));
}

#[test]
fn decimals_that_add_up_to_one_make_no_air_pass_straight_to_the_exhaust() {
    for thousandths in 0..1000 {
        let cross_leakage = f64::from(thousandths) / 1000.0;
        let outdoor_air_correction = f64::from(1000 - thousandths) / 1000.0;
        let unit = Unit::of_flows(&Flows { cross_leakage, outdoor_air_correction, ..PLAIN }).unwrap();
        assert_eq!(unit.bypass_kg_per_s, 0.0, "{cross_leakage}");
    }
}

#[test]
fn a_number_outside_its_range_is_refused_with_its_value() {
    let cases = [
        (
            Flows { delivered_kg_per_s: 0.0, ..PLAIN },
            "the delivered flow is 0 kg/s; it must be above 0 and at most 10 kg/s",
        ),
        (
            Flows { delivered_kg_per_s: f64::NAN, ..PLAIN },
            "the delivered flow is NaN kg/s; it must be above 0 and at most 10 kg/s",
        ),
        (Flows { balance: -1.0, ..PLAIN }, "the balance is -1; it must be above 0 and at most 10"),
        (Flows { balance: f64::INFINITY, ..PLAIN }, "the balance is inf; it must be above 0 and at most 10"),
        (Flows { cross_leakage: 1.0, ..PLAIN }, "the cross-leakage is 1; it must be from 0 to below 1"),
        (Flows { cross_leakage: -0.01, ..PLAIN }, "the cross-leakage is -0.01; it must be from 0 to below 1"),
        (
            Flows { outdoor_air_correction: 11.0, ..PLAIN },
            "the outdoor air correction is 11; it must be above 0 and at most 10",
        ),
        (
            Flows { hood_recirculation: 1.0, ..PLAIN },
            "the hood recirculation is 1; it must be from 0 to below 1",
        ),
        (Flows { leakage_kg_per_s: -0.5, ..PLAIN }, "the leakage is -0.5 kg/s; it must be from 0 to 10 kg/s"),
    ];
    for (flows, text) in cases {
        assert_eq!(refused(&flows), text);
    }
}

#[test]
fn flows_that_do_not_fit_together_are_refused() {
    assert_eq!(
        refused(&Flows { balance: 0.1, cross_leakage: 0.1, ..PLAIN }),
        "the balance is 0.1 and the cross-leakage is 0.1: no extract air is left for the core; the balance must be greater \
         than the cross-leakage"
    );
    assert_eq!(
        refused(&Flows { outdoor_air_correction: 0.94, cross_leakage: 0.05, ..PLAIN }),
        "the outdoor air correction is 0.94 and the cross-leakage is 0.05: the intake would draw less than the core's \
         supply side takes; the two must add up to 1 or more"
    );
    assert_eq!(
        refused(&Flows { delivered_kg_per_s: 2.0, balance: 0.5, hood_recirculation: 0.5, ..PLAIN }),
        "the hood recirculation is 0.5: 1 kg/s of exhaust air would be drawn back in, but the core's extract side passes \
         1 kg/s; it must pass more than is drawn back"
    );
}

//! The line solution measured against the cell solution (`exchanger::accuracy`).
//!
//! Bounds: supply temperature 0.3 K, supply humidity ratio 0.15 g/kg, water 5 % of the largest rate, over the plausible
//! states. Wheels turn at a finite speed, which the line solution knows only as a factor: their distance is stated.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use exchanger::Arrangement;
use exchanger::accuracy::{Distance, States, Subject, distance};

fn within_bounds(subject: Subject, states: usize) -> Distance {
    let found = distance(subject, States::Plausible, states).unwrap();
    println!("{subject:?}: {found:?}");
    assert!(found.wet * 4 > found.states, "{found:?}");
    assert!(found.supply_k.largest < 0.3, "{found:?}");
    assert!(found.humidity_ratio.largest < 0.15e-3, "{found:?}");
    assert!(found.water_share.largest < 0.05, "{found:?}");
    found
}

const QUASI: Arrangement = Arrangement::QuasiCounter { counter_share: 0.6 };

#[test]
fn sensible_counterflow_plates_are_within_the_bounds() {
    let found = within_bounds(Subject::Plate(Arrangement::Counter), 1000);
    assert!(found.plate_k.largest < 0.3, "{found:?}");
    assert!(found.water_bias.abs() < 0.01, "{found:?}");
}

#[test]
fn sensible_quasi_counterflow_plates_are_within_the_bounds() {
    within_bounds(Subject::Plate(QUASI), 200);
}

#[test]
fn sensible_crossflow_plates_are_within_the_bounds() {
    within_bounds(Subject::Plate(Arrangement::Cross), 300);
}

#[test]
fn enthalpy_counterflow_plates_are_within_the_bounds() {
    let found = within_bounds(Subject::Membrane(Arrangement::Counter), 1000);
    assert!(found.water_bias.abs() < 0.02, "{found:?}");
}

#[test]
fn enthalpy_quasi_counterflow_plates_are_within_the_bounds() {
    within_bounds(Subject::Membrane(QUASI), 200);
}

#[test]
fn enthalpy_crossflow_plates_are_within_the_bounds() {
    within_bounds(Subject::Membrane(Arrangement::Cross), 300);
}

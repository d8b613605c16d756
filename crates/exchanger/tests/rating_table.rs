//! Conductances from effectivenesses over airflow.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use approx::assert_abs_diff_eq;
use exchanger::rating::{RatingError, TableRow, fit_table};

fn row(flow_kg_per_s: f64, sensible: f64, latent: Option<f64>) -> TableRow {
    TableRow { flow_kg_per_s, sensible, latent }
}

/// NTU 3 at 0.04 kg/s and exponent 0.8, worked in a separate program to four digits; moisture half of that NTU by hand
/// (NTU 1.5 → 0.6, and 1.5 · 0.5^−0.8 = 2.6117 → 0.7231).
#[test]
fn exponent_and_conductances_come_back_from_a_table() {
    let rows = [row(0.04, 0.7500, Some(0.6)), row(0.02, 0.8393, Some(0.7231)), row(0.06, 0.6844, None)];
    let found = fit_table(&rows).unwrap();
    assert_abs_diff_eq!(found.flow_exponent.unwrap(), 0.8, epsilon = 1e-3);
    assert_abs_diff_eq!(found.ua_w_per_k / (0.04 * 1006.0), 3.0, epsilon = 2e-3);
    assert_abs_diff_eq!(found.vapour_kg_per_s / 0.04, 1.5, epsilon = 1e-3);
    assert!(
        found.errors.iter().all(|(heat, vapour)| heat.abs() < 1e-4 && vapour.unwrap_or(0.0).abs() < 1e-4)
    );
    assert_eq!(found.errors[2].1, None);
}

#[test]
fn one_row_gives_conductances_and_no_exponent() {
    let found = fit_table(&[row(0.05, 0.8, None)]).unwrap();
    assert_eq!(found.flow_exponent, None);
    assert_abs_diff_eq!(found.ua_w_per_k, 4.0 * 50.3, epsilon = 1e-9);
    assert_eq!(found.vapour_kg_per_s, 0.0);
}

#[test]
fn tables_that_cannot_be_are_refused() {
    let text = |rows: &[TableRow]| fit_table(rows).unwrap_err().to_string();
    assert_eq!(fit_table(&[]), Err(RatingError::NothingToFit));
    assert_eq!(
        text(&[row(0.05, 0.8, None), row(0.04, 1.1, None)]),
        "row 2: sensible effectiveness 1.1 is outside 0.05…0.98"
    );
    assert_eq!(text(&[row(0.0, 0.8, None)]), "row 1: flow 0 kg/s is outside 0.001…10 kg/s");
    // ln(4/(2/3))/ln 2: 0.4 at half the flow instead of more than 0.8.
    assert_eq!(
        text(&[row(0.04, 0.8, None), row(0.02, 0.4, None)]),
        "the flow exponent that fits is -2.585, outside 0…1.5: the figures at different airflows contradict each other"
    );
    // Mean NTU √(4 · 1) = 2 in two rows of one flow.
    assert_eq!(
        text(&[row(0.04, 0.8, None), row(0.04, 0.5, None)]),
        "row 1: effectiveness 0.800, but all rows together give 0.667"
    );
}

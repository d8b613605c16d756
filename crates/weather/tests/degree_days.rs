//! Degree-hours of sinusoids.
//!
//! Source: closed form of a sinusoid, and sums of its 24 mid-hour samples, worked with another tool.

use std::f64::consts::TAU;
use weather::summary::heating_degree_hours;

#[test]
fn a_day_of_mid_hour_samples_gives_the_tabulated_degree_hours() {
    let cases = [
        (10.0, 8.0, 18.0, 192.000),
        (10.0, 8.0, 10.0, 61.290),
        (10.0, 8.0, 5.0, 13.339),
        (16.0, 6.0, 18.0, 72.401),
        (20.0, 5.0, 18.0, 17.174),
    ];
    for (mean, amplitude, base, expected) in cases {
        let day: Vec<f64> =
            (0..24).map(|h| mean + amplitude * (TAU * (f64::from(h) + 0.5) / 24.0).cos()).collect();
        assert!((heating_degree_hours(&day, base) - expected).abs() < 5e-4, "{mean} {amplitude} {base}");
    }
}

/// 8 760 samples come within 1e-6 of the integral.
#[test]
fn a_year_of_one_sinusoid_gives_the_closed_form() {
    let year: Vec<f64> =
        (0..8760).map(|h| 8.0 + 14.0 * (TAU * (f64::from(h) + 0.5) / 8760.0).cos()).collect();
    assert!((heating_degree_hours(&year, 18.0) / 93305.1257 - 1.0).abs() < 1e-6);
}

#[test]
fn a_year_with_days_gives_the_tabulated_degree_hours() {
    let at = |h: f64| {
        8.0 + 14.0 * (TAU * (h / 8760.0 - 200.0 / 365.0)).cos() + 5.0 * (TAU * (h / 24.0 - 15.0 / 24.0)).cos()
    };
    let year: Vec<f64> = (0..8760).map(|h| at(f64::from(h) + 0.5)).collect();
    assert!((heating_degree_hours(&year, 18.0) - 95296.316).abs() < 0.001);
}

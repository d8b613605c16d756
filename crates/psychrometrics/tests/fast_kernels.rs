//! The fast saturation kernels against the published formulas they were fitted to.

use psychrometrics::formulas as f;

/// The promise of `formulas/fast.rs`.
const RELATIVE_LIMIT: f64 = 1.6e-7;
const POINTS: u32 = 10_000;

/// Evenly spaced temperatures over the fitted range, both ends included.
fn sweep() -> impl Iterator<Item = f64> {
    (0..=POINTS).map(|i| f::FAST_HALF_RANGE_C * (2.0 * f64::from(i) / f64::from(POINTS) - 1.0))
}

fn assert_close(fast: fn(f64) -> f64, published: fn(f64) -> f64) {
    let worst = sweep().map(|t| (fast(t) / published(t) - 1.0).abs()).fold(0.0, f64::max);
    assert!(worst < RELATIVE_LIMIT, "largest relative error {worst:e}");
}

#[test]
fn over_water_the_kernel_keeps_its_promise_at_ten_thousand_points() {
    assert_close(f::fast_saturation_over_water_pa, f::saturation_over_water_pa);
}

#[test]
fn over_ice_the_kernel_keeps_its_promise_at_ten_thousand_points() {
    assert_close(f::fast_saturation_over_ice_pa, f::saturation_over_ice_pa);
}

#[test]
fn the_two_branch_kernel_keeps_its_promise_at_ten_thousand_points() {
    assert_close(f::fast_saturation_pa, f::saturation_pa);
}

#[test]
fn the_kernel_with_slope_gives_the_same_pressure_to_the_bit() {
    for t in sweep() {
        assert_eq!(f::fast_saturation_pa(t).to_bits(), f::fast_saturation_with_slope(t).0.to_bits());
        let (water, ice) =
            (f::fast_saturation_over_water_with_slope(t).0, f::fast_saturation_over_ice_with_slope(t).0);
        assert_eq!(f::fast_saturation_over_water_pa(t).to_bits(), water.to_bits());
        assert_eq!(f::fast_saturation_over_ice_pa(t).to_bits(), ice.to_bits());
    }
}

/// Central difference over ±h: truncation (h² f‴/6)/f′ stays below 6e-8 at h = 0.003 K (largest for the humidity
/// ratio of hot air), cancellation below 1e-11.
#[test]
fn the_slopes_are_the_derivatives_of_the_kernels() {
    let h = 0.003;
    for t in sweep().filter(|t| (t - f::TRIPLE_POINT_C).abs() > 2.0 * h) {
        let slope = (f::fast_saturation_pa(t + h) - f::fast_saturation_pa(t - h)) / (2.0 * h);
        let (_, exact) = f::fast_saturation_with_slope(t);
        assert!((slope / exact - 1.0).abs() < 1e-7, "{t} °C: {slope} against {exact}");

        let p = 60e3;
        let w = |t| f::fast_saturation_humidity_ratio(t, p);
        let (value, exact) = f::fast_saturation_humidity_ratio_with_slope(t, p);
        assert_eq!(value.to_bits(), w(t).to_bits());
        let slope = (w(t + h) - w(t - h)) / (2.0 * h);
        assert!((slope / exact - 1.0).abs() < 1e-7, "{t} °C: {slope} against {exact}");
    }
}

#[test]
fn the_branches_of_the_kernel_meet_at_the_triple_point() {
    let (below, above) = (f::fast_saturation_pa(0.01), f::fast_saturation_pa(0.01 + 1e-12));
    assert!((above / below - 1.0).abs() < 2.0 * RELATIVE_LIMIT);
}

#[test]
fn the_dew_and_frost_points_return_the_temperature_of_their_kernel() {
    for t in sweep() {
        let water = f::fast_dew_point_over_water_c(f::fast_saturation_over_water_pa(t));
        let ice = f::fast_frost_point_c(f::fast_saturation_over_ice_pa(t));
        let either = f::fast_dew_point_c(f::fast_saturation_pa(t));
        for found in [water, ice, either] {
            assert!((found - t).abs() < 3e-6, "{t} °C came back as {found}");
        }
    }
}

#[test]
fn far_outside_the_fitted_range_the_kernels_stay_positive_and_finite() {
    for t in [-270.0, -150.0, -100.0, 120.0, 200.0] {
        let p = f::fast_saturation_pa(t);
        assert!(p.is_finite() && p > 0.0, "{t} °C gives {p}");
    }
    for t in [-80.0, 80.0] {
        assert!((f::fast_saturation_pa(t) / f::saturation_pa(t) - 1.0).abs() < 5e-6, "{t} °C");
    }
}

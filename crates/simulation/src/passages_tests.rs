//! Layer, narrowing and fans against figures worked by hand.
#![allow(clippy::float_cmp)]

use approx::{assert_abs_diff_eq, assert_relative_eq};

use super::{FanHour, Layer, density_kg_per_m3, fan, film_scale, narrowing};
use crate::frost_plan::{FanKind, Fans, FrostNumbers, FrostOf, FrostPlan};

fn numbers(plan: &FrostPlan) -> FrostNumbers<f64> {
    FrostOf::alike(plan).unwrap().numbers
}

fn plan() -> FrostPlan {
    FrostPlan { capacity_kg: 1.0, plate_area_m2: 7.2, ..FrostPlan::unlimited() }
}

/// Enthalpy of a kilogram of ice at this temperature [J].
fn ice_j(t: f64) -> f64 {
    -333.4e3 + 2100.0 * t
}

#[test]
fn frost_has_the_density_of_its_surface_within_100_and_500() {
    // 650 e^(0.277 t), worked apart with a pocket calculator's digits: 492.7, 373.5, 283.1, 162.7; then the limits.
    for (t, rho) in [(-1.0, 492.7), (-2.0, 373.5), (-3.0, 283.1), (-5.0, 162.7), (-10.0, 100.0), (0.0, 500.0)]
    {
        assert_abs_diff_eq!(density_kg_per_m3(t), rho, epsilon = 0.05);
    }
}

#[test]
fn a_quarter_of_a_kilo_on_half_a_plate_takes_more_than_four_times_the_pressure_there() {
    // t for 200 kg/m³: ln(200/650)/0.277 = −4.255 °C. 0.28 kg/(200 × 3.6 m²) = 0.3889 mm on each face;
    // (2/(2 − 0.7778))³ = 4.382 on that half, so 1 + 0.5 × 3.382 = 2.691 for the core.
    let t = (200.0_f64 / 650.0).ln() / 0.277;
    let layer = Layer::none().with_ice(&numbers(&plan()), (0.0, 0.28, 0.28 * ice_j(t)), (-10.0, 10.0));
    assert_relative_eq!(layer.thickness_m, 0.28 / (200.0 * 3.6), max_relative = 1e-12);
    assert_abs_diff_eq!(layer.spread, 0.5);
    let (narrow, closed) = narrowing(&numbers(&plan()), &layer, 0.28);
    assert_abs_diff_eq!(narrow, 2.691, epsilon = 5e-4);
    assert!(!closed);
}

#[test]
fn a_quarter_of_the_gap_on_each_face_is_eight_times_the_pressure() {
    let layer = Layer { thickness_m: 0.0005, spread: 1.0 };
    assert_relative_eq!(narrowing(&numbers(&plan()), &layer, 0.5).0, 8.0, max_relative = 1e-12);
}

#[test]
fn the_core_is_closed_at_its_capacity_and_when_nine_tenths_of_the_gap_are_full() {
    let at =
        |thickness_m: f64, kg: f64| narrowing(&numbers(&plan()), &Layer { thickness_m, spread: 0.5 }, kg).1;
    assert!(!at(0.0, 0.999) && at(0.0, 1.0));
    assert!(!at(0.00089, 0.1) && at(0.00091, 0.1));
    let unlimited = numbers(&FrostPlan::unlimited());
    let layer = Layer::none().with_ice(&unlimited, (0.0, 1e6, 1e6 * ice_j(-1.0)), (-10.0, 10.0));
    assert_eq!(narrowing(&unlimited, &layer, 1e6), (1.0, false));
}

#[test]
fn a_fan_that_holds_its_flow_pays_the_pressure_and_gives_up_flow_at_twice_its_power() {
    let n = numbers(&FrostPlan { fans: Fans::ConstantFlow { core_share: 0.4 }, ..plan() });
    let held = |narrow, load| fan(FanKind::ConstantFlow, &n, narrow, load);
    // 0.6 + 0.4 × 2.5 = 1.6; with a tenth more by the filters 1.7.
    assert_relative_eq!(held(2.5, 0.0).power, 1.6, max_relative = 1e-12);
    assert_relative_eq!(held(2.5, 0.1).power, 1.7, max_relative = 1e-12);
    assert_eq!((held(2.5, 0.1).flow, held(1.0, 0.0).flow, held(1.0, 0.0).power), (1.0, 1.0, 1.0));
    for (narrow, load) in [(4.0, 0.0), (10.0, 0.3), (500.0, 0.0), (1.0, 2.5)] {
        let FanHour { flow, power } = held(narrow, load);
        assert_eq!(power, 2.0);
        // p q at that flow, its equation written out.
        let paid = ((0.6 + load) * flow + 0.4 * narrow) * flow * flow;
        assert_relative_eq!(paid, 2.0, max_relative = 1e-9);
        assert!(flow < 1.0 && flow > 0.0);
    }
}

#[test]
fn a_fan_of_fixed_speed_works_where_its_curve_meets_ducts_and_core() {
    // 100 Pa shut off and twice the rated flow free: 75 Pa at the rated flow, 25 of them the core's.
    let fans = Fans::FixedSpeed { shut_off_pa: 100.0, free_flow_ratio: 2.0, core_pa: 25.0 };
    let n = numbers(&FrostPlan { fans, ..plan() });
    let at = |narrow, load| fan(FanKind::FixedSpeed, &n, narrow, load);
    assert_eq!((at(1.0, 0.0).flow, at(1.0, 0.0).power), (1.0, 1.0));
    // 100 − 25 y² = 50 y² + 25 × 5 y: y = (−125 + √(125² + 4 × 75 × 100))/150 = 0.58985…
    let by_hand = (-125.0 + (125.0_f64 * 125.0 + 30_000.0).sqrt()) / 150.0;
    assert_relative_eq!(at(5.0, 0.0).flow, by_hand, max_relative = 1e-12);
    // Filters at a fifth of 75 Pa: 100 − 25 y² = 65 y² + 25 y.
    let loaded = (-25.0 + (625.0_f64 + 36_000.0).sqrt()) / 180.0;
    assert_relative_eq!(at(1.0, 0.2).flow, loaded, max_relative = 1e-12);
    assert_eq!(at(5.0, 0.0).power, 1.0);
}

#[test]
fn films_follow_their_own_flow() {
    assert_eq!(film_scale(0.2, 1.0, 1.0), 1.0);
    // Both at half: 0.5^0.2 = 0.8706. One at half: 2/(1 + 1/0.8706) = 0.9308.
    assert_relative_eq!(film_scale(0.2, 0.5, 0.5), 0.870_550_563_296_124_1, max_relative = 1e-12);
    assert_abs_diff_eq!(film_scale(0.2, 1.0, 0.5), 0.9308, epsilon = 5e-5);
}

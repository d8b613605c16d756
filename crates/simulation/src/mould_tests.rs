//! The mould index in constant climates, against a separate program, and its decline by hand.
//!
//! Expected values of the constant climates were computed for this project by a separate program, hour by hour from the published
//! equations, and are printed to three decimals.

use approx::assert_abs_diff_eq;

use super::{Decline, MouldNumbers, MouldState, Sensitivity, critical_humidity_pct};

const WEEK_H: usize = 168;

fn pine() -> MouldNumbers<f64> {
    MouldNumbers::of(Sensitivity::VerySensitive, Decline::Strong)
}

struct Row {
    class: Sensitivity,
    climate: (f64, f64),
    after_4_12_26_52_weeks: [f64; 4],
    /// Week in whose course an index of 1 and of 3 is passed.
    passes: [Option<f64>; 2],
}

const fn row(
    class: Sensitivity,
    climate: (f64, f64),
    after_4_12_26_52_weeks: [f64; 4],
    passes: [Option<f64>; 2],
) -> Row {
    Row { class, climate, after_4_12_26_52_weeks, passes }
}

const TABLE: [Row; 8] = {
    use Sensitivity::{MediumResistant, Resistant, Sensitive, VerySensitive};
    [
        row(VerySensitive, (20.0, 97.0), [4.357, 5.504, 5.504, 5.504], [Some(1.48), Some(2.97)]),
        row(VerySensitive, (20.0, 90.0), [0.952, 3.919, 3.995, 3.995], [Some(4.20), Some(8.50)]),
        row(VerySensitive, (10.0, 95.0), [1.518, 4.998, 5.010, 5.010], [Some(3.17), Some(6.36)]),
        row(VerySensitive, (5.0, 97.0), [1.100, 4.903, 5.124, 5.124], [Some(3.80), Some(7.62)]),
        row(Sensitive, (20.0, 97.0), [1.373, 3.430, 4.675, 4.676], [Some(2.57), Some(10.29)]),
        row(Sensitive, (20.0, 90.0), [0.549, 1.426, 2.553, 3.041], [Some(7.29), Some(39.99)]),
        row(MediumResistant, (20.0, 97.0), [0.194, 0.581, 1.343, 2.745], [Some(20.68), None]),
        row(Resistant, (20.0, 97.0), [0.087, 0.261, 0.558, 1.028], [Some(48.35), None]),
    ]
};

#[test]
fn a_year_of_constant_climate_meets_the_separate_program() {
    for Row { class, climate, after_4_12_26_52_weeks, passes } in TABLE {
        let numbers = MouldNumbers::of(class, Decline::Strong);
        let mut state = MouldState::clean();
        let mut index = Vec::new();
        for _ in 0..52 * WEEK_H {
            state.hour(&numbers, climate.0, climate.1);
            index.push(state.index);
        }
        for (weeks, expected) in [4, 12, 26, 52].into_iter().zip(after_4_12_26_52_weeks) {
            assert_abs_diff_eq!(index[weeks * WEEK_H - 1], expected, epsilon = 0.001);
        }
        for (level, week) in [1.0, 3.0].into_iter().zip(passes) {
            let hour = index.iter().position(|&now| now >= level);
            assert_eq!(hour.is_some(), week.is_some(), "{class:?} {climate:?} {level}");
            if let (Some(hour), Some(week)) = (hour, week) {
                // Printed to 0.01 weeks.
                assert_abs_diff_eq!(hour as f64 / WEEK_H as f64, week, epsilon = 0.005);
            }
        }
        assert_abs_diff_eq!(state.max, state.index);
    }
}

#[test]
fn the_critical_humidity_is_that_of_the_published_curve() {
    // The polynomial worked out apart.
    for (t, pct) in [(1.0, 97.027), (5.0, 88.016), (10.0, 82.030), (15.0, 80.039), (20.0, 80.040)] {
        assert_abs_diff_eq!(critical_humidity_pct(&pine(), t), pct, epsilon = 0.0005);
    }
    assert_abs_diff_eq!(critical_humidity_pct(&pine(), 30.0), 80.0);
    let plastic = MouldNumbers::of(Sensitivity::MediumResistant, Decline::Strong);
    assert_abs_diff_eq!(critical_humidity_pct(&plastic, 15.0), 85.0);
}

#[test]
fn nothing_grows_where_it_is_dry_freezing_or_hot() {
    for climate in [(20.0, 75.0), (35.0, 79.9), (0.0, 100.0), (-10.0, 100.0), (50.0, 100.0), (1e-14, 100.0)] {
        let mut state = MouldState::clean();
        for _ in 0..8760 {
            state.hour(&pine(), climate.0, climate.1);
        }
        assert_abs_diff_eq!(state.max, 0.0);
        assert!(state.index.is_finite());
    }
}

#[test]
fn humidity_above_saturation_counts_as_saturation() {
    let (mut wet, mut fog) = (MouldState::clean(), MouldState::clean());
    for _ in 0..1000 {
        wet.hour(&pine(), 20.0, 100.0);
        fog.hour(&pine(), 20.0, 103.0);
    }
    assert_eq!(wet, fog);
    assert!(wet.index > 1.0);
}

/// A surface at an index of 2, then so many dry hours.
fn dried(decline: Decline, hours: usize) -> f64 {
    let class = MouldNumbers::of(Sensitivity::VerySensitive, decline);
    let mut state = MouldState { index: 2.0, unfavourable_h: 0.0, max: 2.0 };
    for _ in 0..hours {
        state.hour(&class, 20.0, 40.0);
    }
    assert_abs_diff_eq!(state.max, 2.0);
    state.index
}

#[test]
fn the_index_falls_pauses_and_falls_again() {
    // 0.032 a day for 6 h: 6/24 × 0.032 = 0.008.
    assert_abs_diff_eq!(dried(Decline::Strong, 3), 2.0 - 0.004, epsilon = 1e-12);
    assert_abs_diff_eq!(dried(Decline::Strong, 6), 2.0 - 0.008, epsilon = 1e-12);
    // Nothing until the day is over.
    assert_abs_diff_eq!(dried(Decline::Strong, 7), 2.0 - 0.008, epsilon = 1e-12);
    assert_abs_diff_eq!(dried(Decline::Strong, 24), 2.0 - 0.008, epsilon = 1e-12);
    // Then 0.016 a day: ten more days take 0.16.
    assert_abs_diff_eq!(dried(Decline::Strong, 25), 2.0 - 0.008 - 0.016 / 24.0, epsilon = 1e-12);
    assert_abs_diff_eq!(dried(Decline::Strong, 264), 2.0 - 0.008 - 0.16, epsilon = 1e-12);
    // Other materials: 0.168 times their factor.
    assert_abs_diff_eq!(dried(Decline::Significant, 264), 2.0 - 0.084, epsilon = 1e-12);
    assert_abs_diff_eq!(dried(Decline::Low, 264), 2.0 - 0.042, epsilon = 1e-12);
    assert_abs_diff_eq!(dried(Decline::AlmostNone, 264), 2.0 - 0.0168, epsilon = 1e-12);
    // 2 − 0.008 at 0.016 a day lasts 124.5 days after the first: then the surface is clean, and stays so.
    assert!(dried(Decline::Strong, 125 * 24) > 0.0);
    assert_abs_diff_eq!(dried(Decline::Strong, 126 * 24), 0.0);
}

#[test]
fn one_favourable_hour_starts_the_count_of_dry_hours_anew() {
    let mut state = MouldState { index: 2.0, unfavourable_h: 0.0, max: 2.0 };
    for _ in 0..10 {
        state.hour(&pine(), 20.0, 40.0);
    }
    assert_abs_diff_eq!(state.unfavourable_h, 10.0);
    state.hour(&pine(), 20.0, 97.0);
    assert_abs_diff_eq!(state.unfavourable_h, 0.0);
    let before = state.index;
    state.hour(&pine(), 20.0, 40.0);
    assert_abs_diff_eq!(before - state.index, 0.032 / 24.0, epsilon = 1e-12);
}

#[test]
fn an_index_above_what_the_conditions_allow_stays() {
    // The greatest at 20 °C and 90 % is 3.995.
    let mut state = MouldState { index: 5.0, unfavourable_h: 0.0, max: 5.0 };
    for _ in 0..100 {
        state.hour(&pine(), 20.0, 90.0);
    }
    assert_abs_diff_eq!(state.index, 5.0);
    assert_abs_diff_eq!(state.unfavourable_h, 0.0);
}

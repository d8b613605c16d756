//! Thirty-day means against sums over every hour, and the criterion at its limits.

use approx::assert_abs_diff_eq;

use super::{Criterion, ThirtyDays};

const YEAR_H: usize = 8760;

/// Marsaglia's xorshift64, as fractions.
struct Draw(u64);

impl Draw {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        low + (high - low) * ((self.0 >> 11) as f64 / (1_u64 << 53) as f64)
    }
}

/// A year of surface temperature and humidity that drifts and jumps.
fn year() -> Vec<(f64, f64)> {
    let mut draw = Draw(0x9E37_79B9_7F4A_7C15);
    let mut humid = 70.0;
    let mut warm = 12.0;
    (0..YEAR_H)
        .map(|_| {
            humid = f64::clamp(humid + draw.between(-3.0, 3.0), 40.0, 100.0);
            warm = f64::clamp(warm + draw.between(-0.8, 0.8), -5.0, 25.0);
            (warm, humid)
        })
        .collect()
}

/// The means by their words: this day so far, and the up to twenty-nine days before it, hour by hour.
fn by_hours(hours: &[(f64, f64)], now: usize) -> (f64, f64, usize) {
    let first = (now / 24).saturating_sub(29) * 24;
    let window = &hours[first..=now];
    let count = window.len() as f64;
    let mean = |pick: fn(&(f64, f64)) -> f64| window.iter().map(pick).sum::<f64>() / count;
    (mean(|hour| hour.0), mean(|hour| hour.1), window.len())
}

/// The year after a lead-in of its own last days.
fn with_lead_in(days: usize) -> Vec<(f64, f64)> {
    let year = year();
    [&year[YEAR_H - 24 * days..], &year[..]].concat()
}

#[test]
fn means_are_those_over_every_hour() {
    for lead_in_days in [0, 21, 40] {
        let hours = with_lead_in(lead_in_days);
        let mut means = ThirtyDays::new();
        for (now, &(t, humidity)) in hours.iter().enumerate() {
            let found = means.hour(t, humidity);
            let (mean_c, mean_pct, count) = by_hours(&hours, now);
            // 720 additions of up to 100 round to 1e-10 at most.
            assert_abs_diff_eq!(found.temperature_c, mean_c, epsilon = 1e-10);
            assert_abs_diff_eq!(found.humidity_pct, mean_pct, epsilon = 1e-10);
            assert_eq!(found.over_h as usize, count);
        }
    }
}

#[test]
fn failing_hours_are_those_counted_one_by_one_across_the_years_end() {
    for lead_in_days in [0, 21, 40] {
        let hours = with_lead_in(lead_in_days);
        let begin = 24 * lead_in_days;
        let mut criterion = Criterion::default();
        let mut expected = 0.0;
        for (now, &(t, humidity)) in hours.iter().enumerate() {
            if now == begin {
                criterion.begin();
            }
            criterion.hour(t, humidity);
            let (mean_c, mean_pct, _) = by_hours(&hours, now);
            if now >= begin && mean_pct >= 80.0 && (5.0..=40.0).contains(&mean_c) {
                expected += 1.0;
            }
        }
        assert_abs_diff_eq!(criterion.failing_h, expected);
        // A made-up year that never fails, or always, would test nothing.
        assert!(expected > 100.0 && expected < 8000.0, "{expected}");
        // Thirty days, the running one included, begin 29 days after the first hour.
        assert_eq!(criterion.short_h as usize, 24 * 29_usize.saturating_sub(lead_in_days));
    }
}

/// Hours that fail in 40 days of the same state.
fn failing(temperature_c: f64, humidity_pct: f64) -> f64 {
    let mut criterion = Criterion::default();
    for _ in 0..40 * 24 {
        criterion.hour(temperature_c, humidity_pct);
    }
    criterion.failing_h
}

#[test]
fn eighty_percent_between_five_and_forty_degrees_fails_and_nothing_else() {
    for fails in [(20.0, 80.0), (5.0, 80.0), (40.0, 100.0)] {
        assert_abs_diff_eq!(failing(fails.0, fails.1), 960.0);
    }
    for holds in [(20.0, 79.99), (4.99, 100.0), (40.01, 100.0), (-10.0, 100.0)] {
        assert_abs_diff_eq!(failing(holds.0, holds.1), 0.0);
    }
}

#[test]
fn a_wet_fortnight_in_a_dry_season_fails_only_where_the_mean_is_over_less() {
    // 30 days of 60 %, then 95 %: the mean reaches 80 % with d wet days in 30 where 60 + 35 d/30 >= 80, d = 17.14.
    let mut criterion = Criterion::default();
    let mut wet_h = 0;
    for _ in 0..30 * 24 {
        criterion.hour(18.0, 60.0);
    }
    while criterion.failing_h < 0.5 {
        criterion.hour(18.0, 95.0);
        wet_h += 1;
    }
    // In the h-th hour of the 18th wet day, 12 dry days and 17 wet ones are behind it: it fails where 12 × 24 × 20 <= (17 × 24 + h) × 15,
    // 384 <= 408 + h. At the end of the 17th, with 13 dry days: 13 × 24 × 20 > 17 × 24 × 15. The oldest day leaves when a day begins.
    assert_eq!(wet_h, 17 * 24 + 1);
    // Without the dry month the first wet hour fails, and is marked as short.
    let mut alone = Criterion::default();
    assert!(alone.hour(18.0, 95.0).fails());
    assert_eq!(alone.short_h, 1);
}

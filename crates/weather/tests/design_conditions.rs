//! Design conditions, degree-days, months and wind of published years.
//!
//! Source of the expected values: a script of its own on the unchanged files (sorting, the handbook's saturation curves and
//! wet-bulb equations, bisection), without this crate. The definitions are those at the head of `weather::design`.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;

use common::{GREENSBORO, MIAMI, read_published};
use weather::design::{lower, upper};
use weather::{degree_days, design, months, wind};

/// Dry bulb and wet bulb at 0.4, 1 and 2 %; dew point and dry bulb there.
fn check(name: &str, heating: [f64; 2], cooling: [[f64; 2]; 3], dehumidification: [[f64; 2]; 3]) {
    let found = design(&read_published(name).0);
    assert_eq!([found.heating_99_6_c, found.heating_99_c], heating, "{name}");
    for (found, [dry_bulb_c, wet_bulb_c]) in found.cooling.iter().zip(cooling) {
        assert!((found.dry_bulb_c - dry_bulb_c).abs() < 1e-9, "{name}: {found:?}");
        // The wet bulb is found to 0.001 K.
        assert!((found.coincident_wet_bulb_c.unwrap() - wet_bulb_c).abs() < 0.002, "{name}: {found:?}");
    }
    for (found, [dew_point_c, dry_bulb_c]) in found.dehumidification.iter().zip(dehumidification) {
        assert!((found.dew_point_c - dew_point_c).abs() < 1e-6, "{name}: {found:?}");
        assert!((found.coincident_dry_bulb_c - dry_bulb_c).abs() < 1e-6, "{name}: {found:?}");
    }
}

#[test]
fn greensboro_is_as_cold_hot_and_humid_as_its_sorted_hours() {
    check(
        GREENSBORO,
        [-11.1, -9.4],
        [[33.3, 24.485726], [32.2, 23.584394], [31.1, 23.124441]],
        [[23.9, 29.731707], [22.8, 28.146825], [22.2, 26.223102]],
    );
}

#[test]
fn miami_is_as_cold_hot_and_humid_as_its_sorted_hours() {
    check(
        MIAMI,
        [8.9, 11.1],
        [[31.7, 25.243808], [31.7, 25.243808], [31.1, 24.670831]],
        [[25.0, 27.857353], [25.0, 27.857353], [24.4, 27.537258]],
    );
}

/// Of 8 760 hours counted up from 0, 35 (0.4 %) lie above 8724 and below 35.
#[test]
fn at_most_the_share_lies_beyond_and_one_hour_more_would_be_too_many() {
    let values: Vec<f64> = (0..8760).rev().map(f64::from).collect();
    assert_eq!([upper(&values, 0.4), upper(&values, 1.0), upper(&values, 2.0)], [8724.0, 8672.0, 8584.0]);
    assert_eq!([lower(&values, 0.4), lower(&values, 1.0)], [35.0, 87.0]);
    // 10 % of ten is one, not 0.999….
    let ten: Vec<f64> = (0..10).map(f64::from).collect();
    assert_eq!(
        [upper(&ten, 10.0), upper(&ten, 0.0), upper(&ten, 100.0), upper(&[], 1.0)],
        [8.0, 9.0, 0.0, 0.0]
    );
}

#[test]
fn degree_days_are_those_of_the_hours_and_of_the_daily_means() {
    for (name, expected) in [
        (GREENSBORO, [[2179.2917, 2081.5083], [2480.9875, 2381.2000], [827.3375, 730.4083]]),
        (MIAMI, [[110.6250, 64.2333], [5229.2792, 5224.6125], [2315.1833, 2266.3458]]),
    ] {
        for (found, [of_hours, of_daily_means]) in degree_days(&read_published(name).0).iter().zip(expected) {
            assert!((found.of_hours - of_hours).abs() < 1e-4, "{name}: {found:?}");
            assert!((found.of_daily_means - of_daily_means).abs() < 1e-4, "{name}: {found:?}");
            assert!((found.degree_hours - 24.0 * of_hours).abs() < 2e-3, "{name}: {found:?}");
        }
    }
}

/// January and July of Greensboro.
#[test]
fn months_are_those_of_their_hours() {
    let months = months(&read_published(GREENSBORO).0);
    for (month, expected) in [
        (1, [0.332124, -12.8, 18.3, -5.668006, 2.874876, 3.172849, 74.848, 547.716667, 0.0]),
        (7, [25.433065, 15.0, 35.6, 19.819892, 15.131052, 2.615860, 188.581, 0.9625, 222.483333]),
    ] {
        let found = months[month - 1];
        let numbers = [
            found.mean_dry_bulb_c,
            found.min_dry_bulb_c,
            found.max_dry_bulb_c,
            found.mean_dew_point_c,
            found.mean_humidity_ratio * 1000.0,
            found.mean_wind_speed_m_per_s,
            found.global_kwh_per_m2,
            found.heating_degree_days_18,
            found.cooling_degree_days_18_3,
        ];
        assert_eq!(usize::from(found.month), month);
        for (number, expected) in numbers.iter().zip(expected) {
            assert!((number - expected).abs() < 2e-6, "month {month}: {number}, not {expected}");
        }
    }
}

#[test]
fn months_add_up_to_their_year() {
    for name in common::ALL {
        let (year, _) = read_published(name);
        let sum = |of: fn(&weather::Month) -> f64| months(&year).iter().map(of).sum::<f64>();
        let whole = weather::summary(&year);
        assert!((sum(|m| m.global_kwh_per_m2) - whole.global_kwh_per_m2).abs() < 1e-6, "{name}");
        assert!((sum(|m| m.heating_degree_days_18) - whole.heating_degree_days_18).abs() < 1e-6, "{name}");
    }
}

/// Greensboro has 1 053 hours below 0.5 m/s; of the rest 1 755 come from the south-west and 1 222 from the south.
#[test]
fn the_wind_comes_from_where_its_hours_say() {
    let wind = wind(&read_published(GREENSBORO).0);
    let counts = [971.0, 1212.0, 507.0, 284.0, 1222.0, 1755.0, 1017.0, 739.0];
    assert!((wind.mean_m_per_s - 3.054441).abs() < 1e-6);
    assert_eq!((wind.upper_1_pct_m_per_s, wind.prevailing()), (8.2, Some("southwest")));
    assert!((wind.calm_share - 1053.0 / 8760.0).abs() < 1e-12);
    for (share, count) in wind.sector_shares.iter().zip(counts) {
        assert!((share - count / 8760.0).abs() < 1e-12, "{share}");
    }
    assert!((wind.sector_means_m_per_s[7] - 3.949932).abs() < 1e-6);
    assert!((wind.calm_share + wind.sector_shares.iter().sum::<f64>() - 1.0).abs() < 1e-9);
}

/// The handbook's order: a wet bulb lies between dew point and dry bulb, and rarer is more extreme.
#[test]
fn rarer_is_more_extreme_in_every_published_year() {
    for name in common::ALL {
        let found = design(&read_published(name).0);
        assert!(found.heating_99_6_c <= found.heating_99_c, "{name}");
        assert!(found.cooling.is_sorted_by(|a, b| a.dry_bulb_c >= b.dry_bulb_c), "{name}");
        assert!(found.dehumidification.is_sorted_by(|a, b| a.dew_point_c >= b.dew_point_c), "{name}");
        for cooling in found.cooling {
            assert!(cooling.coincident_wet_bulb_c.unwrap() < cooling.dry_bulb_c, "{name}");
        }
        for humid in found.dehumidification {
            assert!(humid.coincident_dry_bulb_c >= humid.dew_point_c, "{name}");
        }
    }
}

//! Bins: the bin method's error on a synthetic year, hours that add up in every division, means that give the year's mean.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use approx::{assert_abs_diff_eq, assert_relative_eq};
use weather::bins::{BinError, Edges, Shift, bins, joint_bins};
use weather::{Overrides, WeatherYear};

/// `t = 8 + 14 cos 2π(h/8760 − 200/365) + 5 cos 2π(h/24 − 15/24)` at mid-hours.
fn synthetic() -> Vec<f64> {
    let tau = std::f64::consts::TAU;
    (0..8760)
        .map(|h| {
            let h = f64::from(h) + 0.5;
            8.0 + 14.0 * (tau * (h / 8760.0 - 200.0 / 365.0)).cos()
                + 5.0 * (tau * (h / 24.0 - 15.0 / 24.0)).cos()
        })
        .collect()
}

/// A year of these temperatures and dry air.
fn of(dry_bulb_c: Vec<f64>) -> WeatherYear {
    let humidity_ratio = vec![0.0; dry_bulb_c.len()];
    WeatherYear { dry_bulb_c, humidity_ratio, ..sample("millbrook.csv") }
}

fn sample(file: &str) -> WeatherYear {
    let path = format!("{}/../../weather-samples/{file}", env!("CARGO_MANIFEST_DIR"));
    weather::read(&std::fs::read(path).unwrap(), &Overrides::default()).unwrap().0
}

fn degree_hours(values: impl Iterator<Item = (f64, f64)>) -> f64 {
    values.map(|(t, hours)| (18.0 - t).max(0.0) * hours).sum()
}

/// Heating degree-hours to 18 °C by bin centres and by bin means: own calculation, apart from this program. Bins are ⌊t/w⌋.
#[test]
fn the_bin_method_errs_as_the_worked_table_says() {
    let year = of(synthetic());
    let exact = degree_hours(year.dry_bulb_c.iter().map(|t| (*t, 1.0)));
    assert_abs_diff_eq!(exact, 95_296.316, epsilon = 1e-3);
    let rows = [
        (1.0, 95_276.0, 95_296.316, 38),
        (2.0, 95_380.0, 95_296.316, 20),
        (2.778, 95_109.05, 95_033.348, 14),
        (5.0, 95_350.5, 94_802.064, 9),
    ];
    for (width, by_centre, by_mean, count) in rows {
        let found = bins(&year, &Edges::new(width, 0.0).unwrap()).unwrap();
        assert_eq!(found.len(), count, "{width}");
        let centres = found.iter().map(|bin| (bin.low_c + width / 2.0, f64::from(bin.total())));
        let means = found.iter().map(|bin| (bin.dry_bulb_c, f64::from(bin.total())));
        assert_abs_diff_eq!(degree_hours(centres), by_centre, epsilon = 0.006);
        assert_abs_diff_eq!(degree_hours(means), by_mean, epsilon = 0.0006);
    }
}

#[test]
fn hours_add_up_in_every_division_and_means_give_the_years() {
    for file in ["millbrook.csv", "palmreach.csv"] {
        let year = sample(file);
        for (width, at) in [(2.0, 0.0), (5.0 / 1.8, -160.0 / 9.0), (0.7, 0.31), (50.0, -10.0)] {
            let found = bins(&year, &Edges::new(width, at).unwrap()).unwrap();
            let hours: u32 = found.iter().map(weather::bins::Bin::total).sum();
            assert_eq!(hours, 8760);
            for shift in Shift::ALL {
                assert_eq!(found.iter().map(|bin| bin.of_shift(shift)).sum::<u32>(), 2920);
            }
            let months: Vec<u32> =
                (0..12).map(|month| found.iter().map(|bin| bin.of_month(month)).sum()).collect();
            assert_eq!(months, [744, 672, 744, 720, 744, 720, 744, 744, 720, 744, 720, 744]);
            let weighted = |of: fn(&weather::bins::Bin) -> f64| {
                found.iter().map(|bin| of(bin) * f64::from(bin.total())).sum::<f64>() / 8760.0
            };
            let mean = |values: &[f64]| values.iter().sum::<f64>() / 8760.0;
            assert_relative_eq!(weighted(|bin| bin.dry_bulb_c), mean(&year.dry_bulb_c), max_relative = 1e-10);
            assert_relative_eq!(
                weighted(|bin| bin.humidity_ratio),
                mean(&year.humidity_ratio),
                max_relative = 1e-10
            );
            for bin in &found {
                assert!(bin.low_c <= bin.dry_bulb_c && bin.dry_bulb_c < bin.low_c + width);
                assert!(bin.wet_bulb_c <= bin.dry_bulb_c + 1e-6);
            }
            let humidity = Edges::new(0.0005, 0.0).unwrap();
            let joint = joint_bins(&year, &Edges::new(width, at).unwrap(), &humidity);
            assert_eq!(joint.iter().map(|bin| bin.hours).sum::<u32>(), 8760);
            for bin in &found {
                let same = joint
                    .iter()
                    .filter(|joint| joint.low_c == bin.low_c)
                    .map(|joint| joint.hours)
                    .sum::<u32>();
                assert_eq!(same, bin.total());
            }
        }
    }
}

#[test]
fn edges_that_cannot_be_are_refused() {
    assert_eq!(Edges::new(0.0, 0.0), Err(BinError::Width(0.0)));
    assert!(Edges::new(f64::NAN, 0.0).is_err());
    assert_eq!(Edges::new(2.0, f64::INFINITY), Err(BinError::Edge(f64::INFINITY)));
    assert_eq!(
        Edges::new(-1.0, 0.0).unwrap_err().to_string(),
        "bins of -1 cannot be counted: the width must be from 0.00001 to 100"
    );
}

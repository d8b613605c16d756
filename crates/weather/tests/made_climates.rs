//! The invented climates: made anew they are their files; their air and sun are possible; their normals are met.

mod common;

use psychrometrics::formulas::{humidity_ratio, saturation_pa};
use std::path::PathBuf;
use weather::invented::samples;
use weather::make::{Climate, MonthNormals, make};
use weather::summary::dew_points_c;
use weather::{FindingKind, WeatherYear, sun, write_plain_csv};

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values.fold((0.0, 0.0), |(sum, count), x| (sum + x, count + 1.0));
    sum / count
}

fn of_month<'a>(year: &'a WeatherYear, column: &'a [f64], month: u8) -> impl Iterator<Item = f64> + 'a {
    column.iter().enumerate().filter(move |(h, _)| year.month_of_hour(*h) == month).map(|(_, x)| *x)
}

#[test]
fn each_file_is_made_again_byte_for_byte() {
    for sample in samples() {
        let path =
            PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../weather-samples").join(sample.file_name);
        let kept = std::fs::read_to_string(path).unwrap();
        let made = write_plain_csv(&make(&sample.climate).unwrap());
        assert!(kept == made, "{} is not what its normals and seed give", sample.file_name);
    }
}

/// Each table row of the page is a month of the code, in the same order.
#[test]
fn the_page_beside_the_files_shows_these_normals_and_seeds() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../weather-samples/README.md");
    let page = std::fs::read_to_string(path).unwrap();
    let numbers =
        |line: &str| line.split('|').filter_map(|cell| cell.trim().parse().ok()).collect::<Vec<f64>>();
    let shown: Vec<Vec<f64>> = page.lines().map(numbers).filter(|row| row.len() == 6).collect();
    let coded: Vec<Vec<f64>> = (samples().iter().flat_map(|sample| sample.climate.months))
        .map(|m| {
            vec![m.dry_bulb_c, m.dew_point_c, m.daily_swing_k, m.day_to_day_k, m.clearness, m.wind_m_per_s]
        })
        .collect();
    assert_eq!(shown, coded);
    for sample in samples() {
        let line = page.lines().find(|line| line.contains(&format!("`{}`", sample.file_name))).unwrap();
        assert!(line.contains(sample.summary) && line.ends_with(&format!("| {} |", sample.climate.seed)));
    }
}

#[test]
fn each_file_says_that_it_is_invented() {
    for sample in samples() {
        let (year, findings) =
            common::read_bytes(write_plain_csv(&make(&sample.climate).unwrap()).as_bytes()).unwrap();
        assert!(
            year.is_synthetic
                && year.source.starts_with("INVENTED")
                && year.place.name.ends_with("(invented)")
        );
        assert_eq!(findings.count_of(FindingKind::Synthetic), 1);
        assert_eq!(findings.warnings().count(), 0, "{}: {:?}", sample.file_name, findings);
    }
}

/// Tolerances: half of the rounding of one value for the dry bulb, and what rounding down the humidity ratio costs.
#[test]
fn the_monthly_normals_are_met() {
    for sample in samples() {
        let year = make(&sample.climate).unwrap();
        let dew = dew_points_c(&year);
        for (month, normal) in (1_u8..).zip(&sample.climate.months) {
            let of = |column: &[f64]| mean(of_month(&year, column, month).collect::<Vec<_>>().into_iter());
            let place = format!("{}, month {month}", sample.file_name);
            assert!(
                (of(&year.dry_bulb_c) - normal.dry_bulb_c).abs() < 0.005,
                "{place}: {}",
                of(&year.dry_bulb_c)
            );
            assert!((of(&dew) - normal.dew_point_c).abs() < 0.02, "{place}: dew point {}", of(&dew));
            assert!((of(&year.wind_speed_m_per_s) - normal.wind_m_per_s).abs() < 0.01, "{place}: wind");
            let clearness = clearness(&year, month);
            assert!((clearness - normal.clearness).abs() < 0.005, "{place}: clearness {clearness}");
        }
    }
}

fn clearness(year: &WeatherYear, month: u8) -> f64 {
    let outside: Vec<f64> = (sun::positions(year).iter().enumerate())
        .map(|(h, sun)| sun.height() * sun::extraterrestrial_w_per_m2(year.day_of_year(h)))
        .collect();
    let global: f64 = of_month(year, &year.global_horizontal_w_per_m2, month).sum();
    global / of_month(year, &outside, month).sum::<f64>()
}

#[test]
fn made_air_is_never_above_saturation() {
    for sample in samples() {
        let year = make(&sample.climate).unwrap();
        for h in 0..year.hours() {
            let limit = humidity_ratio(saturation_pa(year.dry_bulb_c[h]), year.pressure_pa[h]);
            assert!(
                year.humidity_ratio[h] > 0.0 && year.humidity_ratio[h] <= limit,
                "{} {h}",
                sample.file_name
            );
        }
    }
}

#[test]
fn made_beam_and_diffuse_are_the_global_irradiance_to_the_watt() {
    for sample in samples() {
        let year = make(&sample.climate).unwrap();
        for (h, sun) in sun::positions(&year).iter().enumerate() {
            let parts = year.diffuse_horizontal_w_per_m2[h] + year.direct_normal_w_per_m2[h] * sun.height();
            assert!((year.global_horizontal_w_per_m2[h] - parts).abs() <= 0.5 + 1e-9);
            if sun.zenith_deg > 87.0 {
                assert!(year.direct_normal_w_per_m2[h] == 0.0);
            }
        }
    }
}

#[test]
fn frosthollow_has_weeks_with_hours_below_minus_25() {
    let [frosthollow, saltmere, _, palmreach] = samples().map(|sample| make(&sample.climate).unwrap());
    let days = frosthollow.dry_bulb_c.chunks(24).filter(|day| day.iter().any(|t| *t < -25.0)).count();
    assert!(days >= 28, "{days}");
    assert!(saltmere.dry_bulb_c.iter().all(|t| *t > -25.0));
    assert!(palmreach.dry_bulb_c.iter().all(|t| *t > 0.0));
}

#[test]
fn another_seed_is_another_year_with_the_same_means() {
    let [_, _, millbrook, _] = samples();
    let other = Climate { seed: 7, ..millbrook.climate.clone() };
    let (a, b) = (make(&millbrook.climate).unwrap(), make(&other).unwrap());
    assert_ne!(a.dry_bulb_c, b.dry_bulb_c);
    assert!((mean(a.dry_bulb_c.iter().copied()) - mean(b.dry_bulb_c.iter().copied())).abs() < 0.01);
}

#[test]
fn a_normal_outside_its_range_is_named() {
    let [_, _, millbrook, _] = samples();
    let mut climate = millbrook.climate;
    climate.months[3] = MonthNormals { clearness: 0.9, ..climate.months[3] };
    assert_eq!(make(&climate).unwrap_err().to_string(), "normal clearness 0.9 is outside 0.2…0.7");
}

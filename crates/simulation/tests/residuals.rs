//! How well the books close over whole years of seven climates: each hour within 1e-9 of its turnover, and the year's
//! sum of residuals within 1e-12 of the year's turnover, for every book.
//!
//! Not here: whether the books would notice a falsehood (`false_postings.rs`).
// The lints' exception for tests covers functions marked as tests, not the helpers that they call.
#![allow(clippy::unwrap_used)]

mod common;

use common::{FILES, LEAD_IN, drivers_at, file, lived_in_house, membrane, plate, sum, unit};
use simulation::results::{Hourly, HouseYear};
use simulation::{Steps, Unit, run_no_ventilation, run_pair};

/// Name, residual and inflow of each hour, and the turnover [J or kg] below which rounding is all there is.
fn books(h: &Hourly) -> [(&'static str, &[f64], &[f64], f64); 4] {
    [
        ("heat", &h.energy_residual_j, &h.energy_inflow_j, 1e3),
        ("water", &h.water_residual_kg, &h.water_inflow_kg, 1e-3),
        ("core heat", &h.core_residual_j, &h.core_inflow_j, 1e3),
        ("core water", &h.core_water_residual_kg, &h.core_water_inflow_kg, 1e-3),
    ]
}

fn years(path: &str) -> Vec<HouseYear> {
    let drivers = drivers_at(&file(path), Steps::Four);
    let house = lived_in_house();
    let mut with_fans = unit(0.045, 0.85, 0.0);
    (with_fans.fan_heat_before_w, with_fans.fan_heat_after_w) = (10.0, 10.0);
    let mut all = Vec::new();
    let leaky =
        Unit { cross_leak_kg_per_s: 0.003, recirculated_share: 0.1, extract_kg_per_s: 0.035, ..with_fans };
    let membrane_of = |leaks| membrane(&house, Unit { cross_leak_kg_per_s: leaks, ..unit(0.045, 0.8, 0.6) });
    for variant in [plate(&house, with_fans), plate(&house, leaky), membrane_of(0.0), membrane_of(0.003)] {
        all.extend(run_pair("unit", &variant, &drivers, LEAD_IN).unwrap());
    }
    all.push(run_no_ventilation(&house, &drivers, LEAD_IN).unwrap());
    all
}

#[test]
fn books_close_in_every_hour_and_over_every_year() {
    let (mut worst_year, mut worst_hour) = ([0.0_f64; 4], [0.0_f64; 4]);
    for path in FILES {
        for year in years(path) {
            for (k, (name, residuals, inflows, floor)) in books(&year.hourly).into_iter().enumerate() {
                assert_eq!(residuals.len(), 8760);
                let absolute: f64 = residuals.iter().map(|r| r.abs()).sum();
                let inflow = sum(inflows);
                // A house without a unit has nothing in the core's books.
                let of_year = if inflow > 0.0 { absolute / inflow } else { absolute };
                assert!(of_year < 1e-12, "{path}, {:?}, {name}: {of_year:e} over the year", year.case);
                let hours = residuals.iter().zip(inflows).map(|(r, i)| r.abs() / i.max(floor));
                let of_hour = hours.fold(0.0, f64::max);
                assert!(of_hour <= 1e-9, "{path}, {:?}, {name}: {of_hour:e} in an hour", year.case);
                worst_year[k] = worst_year[k].max(of_year);
                worst_hour[k] = worst_hour[k].max(of_hour);
            }
        }
    }
    println!("worst year {worst_year:?}, worst hour {worst_hour:?} (heat, water, core heat, core water)");
}

#[test]
fn no_column_holds_anything_but_numbers() {
    for path in FILES {
        for year in years(path) {
            for (name, values, _) in year.hourly.columns() {
                let odd = values.iter().position(|value| !value.is_finite());
                assert_eq!(odd, None, "{path}, {:?}: {name}", year.case);
            }
        }
    }
}

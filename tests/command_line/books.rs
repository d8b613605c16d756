//! The figures of a run, added up again from the printed files.

use std::fmt::Write as _;

use super::room::Room;
use super::tables::{Table, negated, number, sum};

/// Columns whose year is the greatest of the months.
const GREATEST: [&str; 11] = [
    "heating_peak_w",
    "cooling_sensible_peak_w",
    "cooling_latent_peak_w",
    "peak_condensate_l_per_day",
    "frost_kg_peak",
    "rh_max_pct",
    "air_max_c",
    "fan_peak_w",
    "preheat_peak_w",
    "mould_index_max",
    "bedroom_co2_max_ppm",
];
/// Columns whose year is the least of the months.
const LEAST: [&str; 2] = ["rh_min_pct", "air_min_c"];
/// Columns whose year is a mean over hours.
const MEANS: [&str; 3] = ["rh_mean_pct", "exhaust_gap_mean_k", "co2_mean_ppm"];
const SEASONS: [(&str, [usize; 3]); 2] =
    [("rh_winter_mean_pct", [0, 1, 11]), ("rh_summer_mean_pct", [5, 6, 7])];
const RESIDUALS: [&str; 3] = ["water_residual", "energy_residual", "core_residual"];
const DAYS: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];

/// Checks a year's table against its months': sums to the last printed digit, extremes, means by hours, residuals.
pub fn add_up(annual: &Table, monthly: &Table) {
    let houses = monthly.by_house();
    assert_eq!(houses.len(), annual.rows.len());
    for ((unit, case), months) in &houses {
        assert_eq!(months.len(), 12, "{unit} {case}");
        let year = annual.row(unit, case);
        for (place, column) in annual.header.iter().enumerate().skip(2) {
            let of = monthly.place(column);
            let cells: Vec<&str> = months.iter().map(|row| row[of].as_str()).collect();
            check(column, &year[place], &cells)
                .unwrap_or_else(|fault| panic!("{unit} {case}, {column}: {fault}"));
        }
    }
    savings(annual, &[]);
    for month in 1..=12 {
        savings(monthly, &[("month", &month.to_string())]);
    }
}

fn check(column: &str, year: &str, months: &[&str]) -> Result<(), String> {
    if RESIDUALS.contains(&column) {
        let small = |cell: &&str| cell.is_empty() || number(cell).abs() < 1e-9;
        return [year].iter().chain(months).all(small).then_some(()).ok_or(format!("{year}, {months:?}"));
    }
    if let Some((_, season)) = SEASONS.iter().find(|(name, _)| *name == column) {
        let stated: Vec<usize> = (0..12).filter(|&month| !months[month].is_empty()).collect();
        return if stated == *season { mean(year, months) } else { Err(format!("{months:?}")) };
    }
    if column == "peak_condensate_date" || year.is_empty() {
        let empty = months.iter().all(|cell| cell.is_empty());
        return (column == "peak_condensate_date" || empty).then_some(()).ok_or(format!("{months:?}"));
    }
    if MEANS.contains(&column) {
        return mean(year, months);
    }
    let expected = if GREATEST.contains(&column) {
        months.iter().max_by(|a, b| number(a).total_cmp(&number(b))).map(|cell| (*cell).to_owned())
    } else if LEAST.contains(&column) {
        months.iter().min_by(|a, b| number(a).total_cmp(&number(b))).map(|cell| (*cell).to_owned())
    } else {
        Some(sum(months))
    };
    (expected.as_deref() == Some(year)).then_some(()).ok_or(format!("{year}, from the months {expected:?}"))
}

/// A mean over hours, from months as printed: off by half of a digit for their rounding and half for its own.
fn mean(year: &str, months: &[&str]) -> Result<(), String> {
    let stated: Vec<(f64, f64)> = months
        .iter()
        .zip(DAYS)
        .filter(|(cell, _)| !cell.is_empty())
        .map(|(cell, days)| (number(cell), days))
        .collect();
    let days: f64 = stated.iter().map(|month| month.1).sum();
    let mean = stated.iter().map(|(value, days)| value * days).sum::<f64>() / days;
    let digits = year.split_once('.').map_or(0, |(_, fraction)| fraction.len());
    let digit = 10_f64.powi(-i32::try_from(digits).unwrap());
    ((mean - number(year)).abs() <= 1.0001 * digit)
        .then_some(())
        .ok_or(format!("{year}, from the months {mean}"))
}

/// The saving of a unit is what its baseline used less what it used, to the last printed digit.
fn savings(table: &Table, keys: &[(&str, &str)]) {
    let chosen = |row: &&Vec<String>| keys.iter().all(|(key, value)| row[table.place(key)] == *value);
    let houses = table.by_house();
    for ((unit, case), rows) in &houses {
        let beside = match case.as_str() {
            "unit" => "no-recovery",
            "unit-held-air" => "no-recovery-held-air",
            _ => continue,
        };
        let with = rows.iter().copied().find(chosen).unwrap();
        let baseline = houses.get(&(unit.clone(), beside.to_owned())).unwrap();
        let without = baseline.iter().copied().find(chosen).unwrap();
        let saved = |columns: &[&str]| {
            let cells: Vec<String> = columns
                .iter()
                .map(|column| table.place(column))
                .flat_map(|place| [without[place].clone(), negated(&with[place])])
                .collect();
            sum(&cells.iter().map(String::as_str).collect::<Vec<_>>())
        };
        let metered = saved(&[
            "heating_kwh",
            "cooling_kwh",
            "fan_kwh",
            "blower_kwh",
            "humidifying_kwh",
            "dehumidifying_kwh",
        ]);
        let preheat = negated(&with[table.place("preheat_kwh")]);
        assert_eq!(with[table.place("useful_saving_kwh")], sum(&[&metered, &preheat]));
        assert_eq!(
            with[table.place("useful_saving_load_kwh")],
            saved(&["heating_load_kwh", "cooling_sensible_kwh", "cooling_latent_kwh"])
        );
    }
}

const FILED: [(&str, &str, &str); 7] = [
    ("Plate A", "unit", "plate-a"),
    ("Plate A", "no-recovery", "plate-a.no-recovery"),
    ("Membrane B", "unit", "membrane-b"),
    ("Membrane B", "no-recovery", "membrane-b.no-recovery"),
    ("Plate A preheated", "unit", "plate-a-preheated"),
    ("Plate A preheated", "no-recovery", "plate-a-preheated.no-recovery"),
    ("", "no-ventilation", "no-ventilation"),
];

/// Hourly means in W and hourly sums in kg, added up by month, are the printed months.
#[test]
fn the_months_are_sums_of_their_hours() {
    let room = Room::new();
    room.done(&["run", "--quiet", "--out", "x"]);
    let monthly = Table::read(&room.read("x/monthly.csv"));
    let houses = monthly.by_house();
    let watts = [
        ("heating_kwh", "heating_site_w"),
        ("cooling_kwh", "cooling_site_w"),
        ("fan_kwh", "fan_w"),
        ("preheat_kwh", "preheat_w"),
        ("defrost_kwh", "defrost_heat_w"),
        ("heating_load_kwh", "heating_load_w"),
        ("cooling_sensible_kwh", "cooling_sensible_w"),
        ("cooling_latent_kwh", "cooling_latent_w"),
    ];
    let kilograms = [
        ("condensate_l", "drain_kg"),
        ("ice_formed_kg", "ice_formed_kg"),
        ("ice_melted_kg", "ice_melted_kg"),
        ("coil_l", "coil_kg"),
    ];
    for (unit, case, file) in FILED {
        let hourly = Table::read(&room.read(&format!("x/hourly/{file}.csv")));
        let month_of: Vec<usize> =
            hourly.column("month").iter().map(|month| month.parse::<usize>().unwrap() - 1).collect();
        let months = &houses[&(unit.to_owned(), case.to_owned())];
        let both = watts
            .iter()
            .map(|pair| (pair, 1e-3, 0.005))
            .chain(kilograms.iter().map(|pair| (pair, 1.0, 0.0005)));
        for ((column, hours), factor, half_digit) in both {
            let mut sums = [0.0; 12];
            for (value, month) in hourly.numbers(hours).iter().zip(&month_of) {
                sums[*month] += factor * value;
            }
            for (found, row) in sums.iter().zip(months) {
                let cell = &row[monthly.place(column)];
                let close = cell.is_empty() || (found - number(cell)).abs() <= half_digit * 1.000_001;
                assert!(close, "{file}, {column}, month {}: {cell}, hours {found}", row[2]);
            }
        }
    }
}

#[test]
fn every_line_of_the_ledgers_is_the_sum_of_its_months() {
    let room = Room::new();
    room.done(&["run", "--quiet", "--hourly", "none", "--out", "x"]);
    let mut faults = String::new();
    for (_, _, file) in FILED {
        let ledger = Table::read(&room.read(&format!("x/ledger/{file}.csv")));
        assert!(!ledger.rows.is_empty());
        for row in &ledger.rows {
            let months: Vec<&str> = row[3..15].iter().map(String::as_str).collect();
            if sum(&months) != row[15] {
                writeln!(faults, "{file}, {} {}: {}", row[0], row[1], row[15]).unwrap();
            }
        }
    }
    assert_eq!(faults, "");
}

#[test]
fn the_demonstration_adds_up() {
    let room = Room::new();
    room.done(&["run", "--quiet", "--hourly", "none", "--out", "x"]);
    add_up(&Table::read(&room.read("x/annual.csv")), &Table::read(&room.read("x/monthly.csv")));
}

//! How fast the hour loop is: house-years a second for each row width, operations an hour, the share of the machine's
//! multiply-and-add limit that is reached, and two threads against one.
//!
//! `taskset -c 0 cargo bench -p benches --bench step`; without `taskset` for the line of two threads. The real step: a plate
//! that condenses and freezes, two zones, the ledger, a year of severe cold, at steps of an hour and of a quarter. Only totals
//! are kept. A unit and its paired baseline are two house-years. No time is asserted.
#![allow(clippy::unwrap_used, clippy::panic, missing_docs)]

use std::hint::black_box;

use benches::{Counted, Operations, fastest_s, roofline_gflops, take_operations};
use exchanger::CoreKind;
use lanes::{WIDTHS, Width, widest_set};
use simulation::{
    Drivers, HouseOf, Ledger, RunOptions, State, Steps, Unit, UnitOf, Variant, step, totals_of_pairs,
};
use study::build::Built;

const VARIANTS: usize = 32;
const ROUNDS: usize = 8;
const HOURS: f64 = 8760.0;

fn main() {
    println!(
        "{:?}, one core; {VARIANTS} varied houses, each with its baseline; best of {ROUNDS}\n",
        widest_set()
    );
    for (steps, minutes) in [(1, 60), (4, 15)] {
        let built = built(steps);
        let variants = variants(&built);
        let counted = operations(&built.drivers, &variants);
        let per_hour = counted.map(|of_year| of_year.total() as f64 / (HOURS * VARIANTS as f64));
        println!("steps of {minutes} minutes");
        print_operations(&counted);
        print_rates(&built.drivers, &variants, 0.5 * (per_hour[0] + per_hour[1]));
        print_threads(&built.drivers, &variants);
    }
}

/// The starter study's first unit in the coldest of the sample climates, in so many steps an hour.
fn built(steps: usize) -> Built {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../weather-samples/frosthollow.csv");
    let (year, _) = weather::read(&std::fs::read(path).unwrap(), &weather::Overrides::default()).unwrap();
    let head = format!("[study]\ntime_step = \"{} min\"\n", 60 / steps);
    let text = study::starter_study().replacen("[study]\n", &head, 1);
    let study = study::parse_study(&text, "starter").unwrap();
    let built = study::build::build(&study, &year).unwrap();
    assert_eq!(built.units[0].1.core, CoreKind::SensiblePlate);
    assert_eq!(built.drivers.steps().an_hour(), steps);
    assert_eq!(built.drivers.hours().len(), 8760);
    built
}

fn variants(built: &Built) -> Vec<Variant> {
    (0..VARIANTS)
        .map(|k| {
            let share = k as f64 / VARIANTS as f64;
            let mut variant = built.units[0].1;
            variant.unit.ua_w_per_k *= 0.7 + 0.6 * share;
            variant.house.numbers.leakage_kg_per_s *= 0.5 + share;
            variant.house.numbers.showers_kg_per_day *= 1.5 - share;
            variant
        })
        .collect()
}

/// Operations of a year of all units, and of all baselines.
fn operations(drivers: &Drivers, variants: &[Variant]) -> [Operations; 2] {
    [|unit: Unit| unit, Unit::without_core].map(|of| {
        take_operations();
        for variant in variants {
            count_a_year(drivers, variant, of(variant.unit));
        }
        take_operations()
    })
}

fn count_a_year(drivers: &Drivers, variant: &Variant, unit: Unit) {
    let house = HouseOf::<Counted>::gather(&[variant.house]).unwrap();
    let unit = UnitOf::<Counted>::gather(&[unit]).unwrap();
    let mut state = State::start(&house, &drivers.hours()[0]);
    let mut ledger = Ledger::new(None);
    for driver in drivers.hours() {
        let shares = drivers.shares_of(driver);
        black_box(step(variant.core, (&house, &unit), (driver, shares), &mut state, &mut ledger));
    }
}

fn print_operations(counted: &[Operations; 2]) {
    type Kind = (&'static str, fn(&Operations) -> u64);
    const KINDS: [Kind; 10] = [
        ("add, subtract", |done| done.add),
        ("multiply", |done| done.multiply),
        ("divide", |done| done.divide),
        ("square root", |done| done.root),
        ("compare, min, max", |done| done.compare),
        ("select", |done| done.select),
        ("exp", |done| done.exp),
        ("ln", |done| done.ln),
        ("total", Operations::total),
        ("sign (not in total)", |done| done.sign),
    ];
    println!("{:<20} {:>10} {:>10}", "operations an hour", "unit", "baseline");
    for (name, kind) in KINDS {
        let [unit, baseline] = counted.map(|done| kind(&done) as f64 / (HOURS * VARIANTS as f64));
        println!("{name:<20} {unit:>10.1} {baseline:>10.1}");
    }
    println!("  counted by running the step with a number that counts: a divide is 1, an exp or ln 30;");
    println!("  what a lone house needs: a row does the wet work for all its lanes when one is wet\n");
}

fn print_rates(drivers: &Drivers, variants: &[Variant], operations_per_hour: f64) {
    // On both sides of the step, as the pace of a shared machine changes within seconds.
    let before = roofline_gflops(widest_set());
    let rates = house_years_per_s(drivers, variants);
    let roofline = before.max(roofline_gflops(widest_set()));
    println!(
        "{:>5} {:>14} {:>9} {:>9} {:>10}",
        "lanes", "house-years/s", "to 1 lane", "Gflop/s", "of roofline"
    );
    for (width, rate) in WIDTHS.into_iter().zip(rates) {
        let reached = operations_per_hour * HOURS * rate * 1e-9;
        let (lanes, ratio, share) = (width.lanes(), rate / rates[0], 100.0 * reached / roofline);
        println!("{lanes:>5} {rate:>14.1} {ratio:>9.2} {reached:>9.2} {share:>10.1}%");
    }
    println!("  house-years/s: 8760 hours of one house; a unit and its baseline are two");
    println!("  to 1 lane: house-years/s against the same houses run one at a time");
    println!("  Gflop/s: operations an hour, mean of unit and baseline, × 8760 × house-years/s");
    println!("  of roofline: of {roofline:.1} Gflop/s, a multiply then an add in registers, not fused, same");
    println!("  instruction set, measured in this run");
}

fn house_years_per_s(drivers: &Drivers, variants: &[Variant]) -> [f64; 2] {
    let run = |width: Width| {
        black_box(totals_of_pairs(width, variants, drivers, RunOptions::default()).unwrap());
    };
    let seconds = fastest_s(ROUNDS, [&mut || run(WIDTHS[0]), &mut || run(WIDTHS[1])]);
    seconds.map(|seconds| 2.0 * variants.len() as f64 / seconds)
}

/// The same houses once on one thread, and once on each of two at the same time.
fn print_threads(drivers: &Drivers, variants: &[Variant]) {
    let run = || {
        black_box(totals_of_pairs(Width::Eight, variants, drivers, RunOptions::default()).unwrap());
    };
    let both = || {
        std::thread::scope(|scope| {
            scope.spawn(run);
            scope.spawn(run);
        });
    };
    let [one, two] = fastest_s(ROUNDS, [&mut || run(), &mut || both()]);
    println!("  two threads: {:.2} times the house-years a second of one\n", 2.0 * one / two);
}

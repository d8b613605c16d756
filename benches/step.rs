//! House-years a second for each row width, operations an hour, and the share of a multiply-and-add roofline.
//!
//! `cargo bench -p benches`. The real step: a wet plate, two zones, the ledger, four sub-steps an hour; a unit and its
//! baseline are two house-years. Best of several; no time is asserted.
#![allow(clippy::unwrap_used, clippy::panic, missing_docs)]

use std::hint::black_box;
use std::time::Instant;

use benches::{Counted, take_operations};
use lanes::{Kernel, Real, WIDTHS, Width, run_rows, widest_set};
use simulation::{HouseOf, Ledger, State, UnitOf, Variant, step, totals_of_pairs};
use study::build::Built;

const VARIANTS: usize = 32;
const HOURS: f64 = 8760.0;

fn main() {
    let built = built();
    let variants = variants(&built);
    let operations = operations_an_hour(&built, &variants[0]);
    println!("instruction set {:?}; {VARIANTS} varied houses, each with its baseline", widest_set());
    println!("operations an hour: unit {:.0}, baseline {:.0}", operations[0], operations[1]);
    println!(
        "{:>6} {:>18} {:>10} {:>12} {:>12} {:>10}",
        "lanes", "house-years/s", "ratio", "Gflop/s", "roofline", "share"
    );
    let mean = 0.5 * (operations[0] + operations[1]);
    let mut one = None;
    let roofs = WIDTHS.map(roofline);
    for (place, width) in WIDTHS.into_iter().enumerate() {
        let rate = house_years_a_second(&built, &variants, width);
        let base = *one.get_or_insert(rate);
        let reached = mean * HOURS * rate * 1e-9;
        let roof = roofs[place];
        let best = roofs.iter().copied().fold(0.0, f64::max);
        println!(
            "{:>6} {rate:>18.1} {:>10.2} {reached:>12.2} {roof:>12.2} {:>9.0}%",
            width.lanes(),
            rate / base,
            100.0 * reached / best
        );
    }
    println!(
        "house-years/s: on one core, best of 3. Gflop/s: counted operations a second. Roofline: a multiply and an"
    );
    println!(
        "add in registers, not fused, in rows of the same width, measured in this run; share: of the best of them."
    );
}

fn built() -> Built {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../weather-samples/frosthollow.csv");
    let bytes = std::fs::read(path).unwrap();
    let (year, _) = weather::read(&bytes, &weather::Overrides::default()).unwrap();
    let study = study::parse_study(study::starter_study(), "starter").unwrap();
    study::build::build(&study, &year).unwrap()
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

fn house_years_a_second(built: &Built, variants: &[Variant], width: Width) -> f64 {
    let best = (0..3)
        .map(|_| {
            let start = Instant::now();
            black_box(
                totals_of_pairs(width, variants, &built.drivers, simulation::RunOptions::default()).unwrap(),
            );
            start.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min);
    2.0 * variants.len() as f64 / best
}

fn operations_an_hour(built: &Built, variant: &Variant) -> [f64; 2] {
    let house = HouseOf::<Counted>::gather(&[variant.house]).unwrap();
    [variant.unit, variant.unit.without_core()].map(|unit| {
        let unit = UnitOf::<Counted>::gather(&[unit]).unwrap();
        let hours = built.drivers.hours();
        let mut state = State::start(&house, &hours[0]);
        let mut ledger = Ledger::new(None);
        take_operations();
        for driver in hours {
            let shares = built.drivers.shares_of(driver.hour_of_day);
            let outcome = step(variant.core, (&house, &unit), (driver, shares), &mut state, &mut ledger);
            black_box(&outcome);
        }
        take_operations() as f64 / hours.len() as f64
    })
}

/// Multiply and add with independent sums, enough to hide their latency.
struct Roof {
    rounds: usize,
}

impl Kernel for Roof {
    type Output = f64;
    #[inline(always)]
    fn run<R: Real>(self) -> f64 {
        let (factor, term) = (R::splat(black_box(0.999_999)), R::splat(black_box(1e-6)));
        let mut sums = [
            R::one(),
            R::splat(1.1),
            R::splat(1.2),
            R::splat(1.3),
            R::splat(1.4),
            R::splat(1.5),
            R::splat(1.6),
            R::splat(1.7),
        ];
        for _ in 0..self.rounds {
            for sum in &mut sums {
                *sum = *sum * factor + term;
            }
        }
        // Every lane is asked for, or the compiler leaves the others out.
        sums.iter().map(|sum| (0..R::LANES).map(|lane| sum.lane(lane)).sum::<f64>()).sum()
    }
}

/// Gflop/s of multiply and add.
fn roofline(width: Width) -> f64 {
    let rounds = 4_000_000;
    let best = (0..5)
        .map(|_| {
            let start = Instant::now();
            black_box(run_rows(widest_set(), width, Roof { rounds }));
            start.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min);
    2.0 * 8.0 * rounds as f64 * width.lanes() as f64 / best * 1e-9
}

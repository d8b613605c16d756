//! What the model's kernels cost in rows of one and of eight: exp, ln, saturation, and the core solution, dry and wet.
//!
//! `taskset -c 0 cargo bench -p benches --bench kernels`. Not here: the published formulas of saturation beside the fast ones
//! (`psychro.rs`), the whole hour (`step.rs`). No time is asserted.
#![allow(clippy::unwrap_used, missing_docs)]

use std::hint::black_box;

use benches::fastest_s;
use exchanger::{Core, CoreKind, Inlets, solve};
use lanes::{Kernel, Real, WIDTHS, Width, run_rows, widest_set};
use psychrometrics::formulas::fast_saturation_pa;

const COUNT: usize = 1024;
const PASSES: usize = 20;
const ROUNDS: usize = 15;

/// One of the kernels that are timed.
#[derive(Clone, Copy)]
enum What {
    Exp,
    Ln,
    Saturation,
    /// A plate whose air is too dry to condense.
    DryCore,
    /// A plate on which water freezes.
    WetCore,
}

const ALL: [(&str, What); 5] = [
    ("exp", What::Exp),
    ("ln", What::Ln),
    ("saturation pressure", What::Saturation),
    ("core, dry plate", What::DryCore),
    ("core, wet plate", What::WetCore),
];

/// A kernel for numbers from 0 to 1, many times over; the sum, so that none is left out.
struct Passes<'a>(What, &'a [f64]);

impl Kernel for Passes<'_> {
    type Output = f64;
    #[inline(always)]
    fn run<R: Real>(self) -> f64 {
        let Self(what, numbers) = self;
        // Closures, as a function that is passed by name may not be inlined under the instruction set.
        match what {
            What::Exp => passes::<R>(
                numbers,
                #[inline(always)]
                |x| (x * 20.0 - 10.0).exp(),
            ),
            What::Ln => passes::<R>(
                numbers,
                #[inline(always)]
                |x| (x + 0.01).ln(),
            ),
            What::Saturation => passes::<R>(
                numbers,
                #[inline(always)]
                |x| fast_saturation_pa(x * 90.0 - 40.0),
            ),
            What::DryCore => passes::<R>(
                numbers,
                #[inline(always)]
                |x| core_heat_w(x, 0.0005),
            ),
            What::WetCore => passes::<R>(
                numbers,
                #[inline(always)]
                |x| core_heat_w(x, 0.008),
            ),
        }
    }
}

/// Heat that a plate recovers from extract air of this humidity ratio in outdoor air of −25…−5 °C \[W\].
#[inline(always)]
fn core_heat_w<R: Real>(x: R, extract_w: f64) -> R {
    let inlets = Inlets {
        outdoor_c: x * 20.0 - 25.0,
        outdoor_humidity_ratio: R::splat(0.0003),
        extract_c: R::splat(21.0),
        extract_humidity_ratio: R::splat(extract_w),
        supply_kg_per_s: R::splat(0.045),
        extract_kg_per_s: R::splat(0.047),
        pressure_pa: R::splat(101_325.0),
    };
    let core = Core::counterflow(R::splat(180.0), R::zero());
    solve(CoreKind::SensiblePlate, &core, &inlets).heat_w
}

#[inline(always)]
fn passes<R: Real>(numbers: &[f64], kernel: impl Fn(R) -> R) -> f64 {
    let mut sum = R::zero();
    for _ in 0..PASSES {
        for row in black_box(numbers).chunks_exact(R::LANES) {
            sum += kernel(R::from_lanes(
                #[inline(always)]
                |lane| row[lane],
            ));
        }
    }
    (0..R::LANES).map(|lane| sum.lane(lane)).sum()
}

fn main() {
    // In an order that no branch predictor learns.
    let numbers: Vec<f64> = (0..COUNT).map(|k| ((k * 635) % COUNT) as f64 / COUNT as f64).collect();
    println!("{:?}, one core; best of {ROUNDS}\n", widest_set());
    println!("{:<20} {:>12} {:>12} {:>7}", "kernel", "one, ns", "of eight, ns", "ratio");
    for (name, what) in ALL {
        let run = |width: Width| {
            black_box(run_rows(widest_set(), width, Passes(what, &numbers)).unwrap());
        };
        let seconds = fastest_s(ROUNDS, [&mut || run(WIDTHS[0]), &mut || run(WIDTHS[1])]);
        let [one, row] = seconds.map(|seconds| seconds * 1e9 / (COUNT * PASSES) as f64);
        println!("{name:<20} {one:>12.2} {row:>12.2} {:>7.2}", one / row);
    }
    println!("  ns: time for one lane, a row's time shared among its eight");
    println!("  ratio: one at a time over rows of eight");
}

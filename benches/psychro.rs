//! What saturation costs in each lane: the published formulas against the fast kernels fitted to them.
//!
//! `cargo bench -p benches --bench psychro`. Not here: how close the two are, which
//! `crates/psychrometrics/tests/fast_kernels.rs` checks.
#![allow(clippy::unwrap_used, missing_docs)]

use std::hint::black_box;

use benches::fastest_s;
use lanes::{Kernel, Real, WIDTHS, Width, run_rows, widest_set};
use psychrometrics::formulas::{fast_saturation_pa, saturation_pa};

const COUNT: usize = 4096;
const PASSES: usize = 200;
const ROUNDS: usize = 15;

/// Which of the two is run.
#[derive(Clone, Copy)]
enum Formula {
    Published,
    Fast,
}

/// Saturation pressure of every temperature, many times over; the sum, so that none is left out.
struct Saturation<'a> {
    formula: Formula,
    temperatures_c: &'a [f64],
}

impl Kernel for Saturation<'_> {
    type Output = f64;
    #[inline(always)]
    fn run<R: Real>(self) -> f64 {
        match self.formula {
            // Closures, as a function that is passed by name may not be inlined under the instruction set.
            Formula::Published => passes::<R>(
                self.temperatures_c,
                #[inline(always)]
                |t| saturation_pa(t),
            ),
            Formula::Fast => passes::<R>(
                self.temperatures_c,
                #[inline(always)]
                |t| fast_saturation_pa(t),
            ),
        }
    }
}

#[inline(always)]
fn passes<R: Real>(temperatures_c: &[f64], saturation: impl Fn(R) -> R) -> f64 {
    let mut sum = R::zero();
    for _ in 0..PASSES {
        for row in black_box(temperatures_c).chunks_exact(R::LANES) {
            sum += saturation(R::from_lanes(
                #[inline(always)]
                |lane| row[lane],
            ));
        }
    }
    (0..R::LANES).map(|lane| sum.lane(lane)).sum()
}

fn main() {
    // From −40 to 50 °C in an order that no branch predictor learns.
    let temperatures_c: Vec<f64> =
        (0..COUNT).map(|k| -40.0 + 90.0 * ((k * 2531) % COUNT) as f64 / COUNT as f64).collect();
    println!("{:?}, one core; {COUNT} temperatures from -40 to 50 °C; best of {ROUNDS}\n", widest_set());
    println!("{:>5} {:>14} {:>12} {:>7}", "lanes", "published, ns", "fast, ns", "ratio");
    for width in WIDTHS {
        let [published, fast] = nanoseconds(width, &temperatures_c);
        println!("{:>5} {published:>14.2} {fast:>12.2} {:>7.2}", width.lanes(), published / fast);
    }
    println!("  ns: time for one saturation pressure, a row's time shared among its lanes");
    println!("  ratio: published over fast");
}

fn nanoseconds(width: Width, temperatures_c: &[f64]) -> [f64; 2] {
    let run = |formula| {
        black_box(run_rows(widest_set(), width, Saturation { formula, temperatures_c }).unwrap());
    };
    let seconds = fastest_s(ROUNDS, [&mut || run(Formula::Published), &mut || run(Formula::Fast)]);
    seconds.map(|seconds| seconds * 1e9 / (COUNT * PASSES) as f64)
}

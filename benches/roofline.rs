//! The machine's limit of multiplying and adding, through the same rows and the same instruction set as the step.
//!
//! Not here: fused multiply-add, which the model never uses because it rounds in its own way.

use std::hint::black_box;

use lanes::{InstructionSet, Kernel, Real, Width, run_rows, width_on};

use crate::fastest_s;

const STEPS: usize = 1_000_000;
const ROUNDS: usize = 40;

/// `SUMS` sums that do not wait for one another.
struct MultiplyAndAdd<const SUMS: usize>;

impl<const SUMS: usize> Kernel for MultiplyAndAdd<SUMS> {
    type Output = f64;
    #[inline(always)]
    fn run<R: Real>(self) -> f64 {
        let (factor, term) = (R::splat(black_box(0.999_999)), R::splat(black_box(1e-6)));
        let mut sums = [R::one(); SUMS];
        for (k, sum) in sums.iter_mut().enumerate() {
            *sum = R::from_lanes(|lane| black_box(1.0 + 0.1 * (k * R::LANES + lane) as f64));
        }
        for _ in 0..STEPS {
            for sum in &mut sums {
                *sum = *sum * factor + term;
            }
        }
        // Every lane is asked for, or the compiler leaves the others out.
        sums.iter().map(|sum| (0..R::LANES).map(|lane| sum.lane(lane)).sum::<f64>()).sum()
    }
}

/// Multiplications and additions a second on one core, in 10⁹, with this instruction set.
///
/// A multiply and an add take about six cycles one after the other, and a core starts up to two of each a cycle: it takes
/// twelve sums to fill it. With two constants, fourteen fill sixteen registers. Which of these a core likes best depends on
/// how it shares its ports, so the best counts. A row of eight is two
/// registers with AVX2.
pub fn roofline_gflops(set: InstructionSet) -> f64 {
    let seconds = fastest_s(
        ROUNDS,
        [&mut || run::<5>(set), &mut || run::<6>(set), &mut || run::<7>(set), &mut || run::<12>(set)],
    );
    let rates = seconds.iter().zip([5, 6, 7, 12]).map(|(seconds, sums)| {
        2.0 * (sums * STEPS * width_on(set, Width::Eight).lanes()) as f64 / seconds * 1e-9
    });
    rates.fold(0.0, f64::max)
}

fn run<const SUMS: usize>(set: InstructionSet) {
    black_box(run_rows(set, Width::Eight, MultiplyAndAdd::<SUMS>));
}

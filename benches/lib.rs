//! What the benches share: a number that counts its operations, and the machine's multiply-and-add limit.
//!
//! Not here: the benches themselves (`step.rs`, `psychro.rs`), which print tables and assert no time.

mod counted;
mod roofline;

pub use counted::{Counted, Operations, take_operations};
pub use roofline::roofline_gflops;

/// Seconds that the fastest of `rounds` runs of each piece of work takes. The pieces take turns, so that a machine that
/// slows down or is busy for a while does so for all of them.
pub fn fastest_s<const N: usize>(rounds: usize, mut work: [&mut dyn FnMut(); N]) -> [f64; N] {
    let mut best = [f64::INFINITY; N];
    for _ in 0..rounds {
        for (best, work) in best.iter_mut().zip(&mut work) {
            let start = std::time::Instant::now();
            work();
            *best = best.min(start.elapsed().as_secs_f64());
        }
    }
    best
}

//! Chance, from a seed: named streams of normal numbers, and series that remember. Read next: `air.rs`.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use std::f64::consts::TAU;

/// One stream for each quantity, so that a change to one leaves the others as they are.
#[derive(Debug, Clone, Copy)]
pub(super) enum Stream {
    DailyTemperature = 1,
    DailyClearness = 2,
    HourlyClearness = 3,
    DewPoint = 4,
    WindSpeed = 5,
    WindDirection = 6,
    Pressure = 7,
    Flutter = 8,
}

/// Normal numbers (mean 0, spread 1) that remember: `x = memory · x_before + √(1 − memory²) · e`.
pub(super) struct Series {
    rng: ChaCha8Rng,
    memory: f64,
    state: f64,
}

impl Series {
    pub(super) fn new(seed: u64, stream: Stream, memory: f64) -> Self {
        let mut key = [0; 32];
        key[..8].copy_from_slice(&seed.to_le_bytes());
        let mut rng = ChaCha8Rng::from_seed(key);
        rng.set_stream(stream as u64);
        let state = normal(&mut rng);
        Self { rng, memory, state }
    }

    pub(super) fn next(&mut self) -> f64 {
        let fresh = (1.0 - self.memory * self.memory).sqrt() * normal(&mut self.rng);
        self.state = self.memory * self.state + fresh;
        self.state
    }

    pub(super) fn take(&mut self, count: usize) -> Vec<f64> {
        (0..count).map(|_| self.next()).collect()
    }
}

/// A normal number by Box and Muller.
fn normal(rng: &mut ChaCha8Rng) -> f64 {
    let (first, second) = (uniform(rng), uniform(rng));
    (-2.0 * (1.0 - first).ln()).sqrt() * (TAU * second).cos()
}

/// 0 ≤ x < 1 from the upper 53 bits.
#[allow(clippy::cast_precision_loss, reason = "53 bits fit exactly")]
fn uniform(rng: &mut ChaCha8Rng) -> f64 {
    (rng.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
}

/// Share of normal numbers below `x`, 0…1, within 1e-4: the logistic form with a cubic.
pub(super) fn share_below(x: f64) -> f64 {
    1.0 / (1.0 + (-(1.5976 * x + 0.070566 * x.powi(3))).exp())
}

//! Random numbers by address: a number is a function of seed, purpose, dimension and count, never of what was drawn before.
//!
//! Also a shuffle by address: where the i-th of n goes, without a table of the others. Not for secrets.
//!
//! # Sources
//! - \[SLF\] Steele, Lea, Flood, *Fast Splittable Pseudorandom Number Generators*, OOPSLA 2014: the finaliser and the step
//!   of `SplitMix64`. Recalled; checked against its published first numbers.
//! - \[LR\] Luby, Rackoff, *How to Construct Pseudorandom Permutations from Pseudorandom Functions*, SIAM Journal on
//!   Computing 17 (1988): rounds of two halves. Recalled.
//! - \[BR\] Black, Rogaway, *Ciphers with Arbitrary Finite Domains*, CT-RSA 2002: walking on until inside. Recalled.

/// The step of `SplitMix64`: 2^64 over the golden ratio, made odd.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;
/// Four make a good permutation of a large set \[LR\]; a small one needs more.
const ROUNDS: u64 = 8;

/// What numbers are drawn for: two purposes never share one.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Purpose {
    Scramble = 1,
    Stratum = 2,
    Jitter = 3,
    Bootstrap = 4,
    Start = 5,
    Direction = 6,
    Order = 7,
}

/// One sequence of random numbers, addressed by count.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stream {
    key: u64,
}

/// Every bit of the answer depends on every bit of `x`; no two `x` share an answer.
fn mixed(x: u64) -> u64 {
    let x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^ (x >> 31)
}

/// The number at `count` of the `SplitMix64` that starts at `key`.
fn numbered(key: u64, count: u64) -> u64 {
    mixed(key.wrapping_add(count.wrapping_add(1).wrapping_mul(STEP)))
}

impl Stream {
    pub(crate) fn new(seed: u64, purpose: Purpose, dimension: u64) -> Self {
        Self { key: numbered(numbered(seed, purpose as u64), dimension) }
    }

    /// A stream of its own for each `count`.
    pub(crate) fn part(self, count: u64) -> Self {
        Self { key: self.bits(count) }
    }

    /// 64 random bits. Mixed twice, so that two keys which lie a few steps apart do not share a run of numbers.
    pub(crate) fn bits(self, count: u64) -> u64 {
        mixed(numbered(self.key, count) ^ self.key)
    }

    /// A whole number below `end`; `end` is at most 2^32, so no number is favoured by more than 2^-32 of its share.
    #[allow(clippy::cast_possible_truncation, reason = "a fraction of `end`, below it")]
    pub(crate) fn below(self, count: u64, end: u64) -> u64 {
        let high = (u128::from(self.bits(count)) * u128::from(end)) >> 64;
        high as u64
    }
}

/// Where the i-th of `length` goes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shuffle {
    stream: Stream,
    length: u64,
    half_bits: u32,
}

impl Shuffle {
    /// `length` is 1 to 2^32.
    pub(crate) fn new(stream: Stream, length: u64) -> Self {
        let bits = u64::BITS - length.saturating_sub(1).leading_zeros();
        Self { stream, length, half_bits: bits.div_ceil(2).max(1) }
    }

    /// A place below the length, another one for each `index` below the length.
    pub(crate) fn place(self, index: u64) -> u64 {
        let mut place = index;
        loop {
            place = self.round_trip(place);
            // The set that is shuffled is at most four times as large [BR].
            if place < self.length {
                return place;
            }
        }
    }

    fn round_trip(self, place: u64) -> u64 {
        let mask = (1 << self.half_bits) - 1;
        let (mut left, mut right) = (place >> self.half_bits, place & mask);
        for round in 0..ROUNDS {
            let turned = self.stream.bits(right * ROUNDS + round) & mask;
            (left, right) = (right, left ^ turned);
        }
        (left << self.half_bits) | right
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    type Address = (u64, Purpose, u64, u64);

    /// The first numbers of `SplitMix64` from the seed 1234567, as published with its reference implementation (recalled).
    #[test]
    fn the_published_first_numbers() {
        let first: Vec<u64> = (0..3).map(|count| numbered(1_234_567, count)).collect();
        assert_eq!(first, [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423]);
    }

    #[test]
    fn a_shuffle_takes_every_place_once() {
        for length in [1, 2, 3, 4, 5, 7, 16, 17, 100, 1_000, 4_096, 5_000] {
            let shuffle = Shuffle::new(Stream::new(1, Purpose::Stratum, 0), length);
            let mut places: Vec<u64> = (0..length).map(|index| shuffle.place(index)).collect();
            places.sort_unstable();
            assert_eq!(places, (0..length).collect::<Vec<_>>());
        }
    }

    /// Over 24 000 seeds each of the 24 orders of four comes 1 000 times, give or take 31.6 (binomial). The sum of squares
    /// over the expectation has 23 degrees of freedom: above 49.7 once in a thousand.
    #[test]
    fn every_order_is_as_likely() {
        let mut counts = std::collections::HashMap::new();
        for seed in 0..24_000 {
            let shuffle = Shuffle::new(Stream::new(seed, Purpose::Stratum, 3), 4);
            *counts.entry([0, 1, 2, 3].map(|index| shuffle.place(index))).or_insert(0_i32) += 1;
        }
        assert_eq!(counts.len(), 24);
        let squares: f64 = counts.values().map(|&n| (f64::from(n) - 1_000.0).powi(2) / 1_000.0).sum();
        assert!(squares < 49.7, "{squares}");
    }

    /// Neighbours, in count, dimension, seed and purpose, share no bits beyond chance: 32 of 64, give or take 4 / √1000.
    #[test]
    fn neighbours_have_nothing_in_common() {
        let at = |seed, purpose, dimension, count| Stream::new(seed, purpose, dimension).bits(count);
        let near: [fn(u64) -> Address; 4] = [
            |n| (n + 1, Purpose::Jitter, n, n),
            |n| (n, Purpose::Stratum, n, n),
            |n| (n, Purpose::Jitter, n + 1, n),
            |n| (n, Purpose::Jitter, n, n + 1),
        ];
        for neighbour in near {
            let differing = |n| {
                let (seed, purpose, dimension, count) = neighbour(n);
                (at(n, Purpose::Jitter, n, n) ^ at(seed, purpose, dimension, count)).count_ones()
            };
            let mean = f64::from((0..1_000).map(differing).sum::<u32>()) / 1_000.0;
            assert!((mean - 32.0).abs() < 4.0 * 4.0 / 1_000_f64.sqrt(), "{mean}");
        }
    }
}

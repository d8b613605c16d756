//! Points of the Sobol sequence, plain and scrambled, each by its number.
//!
//! Scrambling is Owen's: whether a binary digit is turned over depends on all digits before it, on the dimension and on
//! the seed, by a hash. Each point is then uniform in the unit cube, and every part of the cube that the plain sequence
//! fills evenly is filled evenly still. Not here: direction numbers (`joe_kuo.rs`), other plans (`plan.rs`).
//!
//! # Sources
//! - \[AS\] Antonov, Saleev, *An economic method of computing LPτ-sequences*, USSR Computational Mathematics and Mathematical
//!   Physics 19 (1979): the order by Gray code. Recalled.
//! - \[OWEN\] Owen, *Randomly Permuted (t,m,s)-Nets and (t,s)-Sequences*, in: Monte Carlo and Quasi-Monte Carlo Methods in
//!   Scientific Computing, 1995. Recalled.

use crate::draw::Stream;
use crate::joe_kuo::{DIGITS, DIRECTIONS};

/// Digits of a coordinate below those of the sequence, so that a coordinate has 52: with half a last digit it is a
/// number that a double holds exactly, never 0 and never 1.
const MORE_DIGITS: u32 = 20;
const LAST_DIGIT: f64 = 1.0 / (1_u64 << 52) as f64;

/// The plain coordinate, times 2^32, of point `number` in a dimension that is in the table; 0 beyond it.
pub(crate) fn plain(dimension: usize, number: u32) -> u32 {
    let gray = number ^ (number >> 1);
    let Some(directions) = DIRECTIONS.get(dimension) else { return 0 };
    directions
        .iter()
        .enumerate()
        .filter(|(digit, _)| (gray >> digit) & 1 == 1)
        .fold(0, |sum, (_, direction)| sum ^ direction)
}

/// The plain coordinate with its digits turned over, between 0 and 1.
pub(crate) fn scrambled(plain: u32, turns: Stream) -> f64 {
    let plain = u64::from(plain);
    let mut turned = 0;
    for level in 0..DIGITS {
        let below = DIGITS - level;
        // The digits before this one, with a one before them: no two places in the tree share a number.
        let place = (1 << level) | (plain >> below);
        let digit = (plain >> (below - 1)) & 1;
        turned = (turned << 1) | (digit ^ (turns.bits(place) >> 63));
    }
    // Digits that the sequence leaves at 0 are turned over too: random ones, since no other point comes this way.
    let rest = turns.bits((1 << DIGITS) | plain) >> (u64::BITS - MORE_DIGITS);
    (((turned << MORE_DIGITS) | rest) as f64 + 0.5) * LAST_DIGIT
}

#[cfg(test)]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
mod tests {
    use super::*;
    use crate::draw::Purpose;
    use crate::joe_kuo::DIMENSIONS;

    /// In three dimensions, in eighths; scipy 1.17.1 has the same.
    #[test]
    fn the_first_points_of_the_plain_sequence() {
        let eighths = |number| [0, 1, 2].map(|dimension| plain(dimension, number) >> 29);
        let first: Vec<[u32; 3]> = (0..8).map(eighths).collect();
        let known = [[0, 0, 0], [4, 4, 4], [6, 2, 2], [2, 6, 6], [3, 3, 5], [7, 7, 1], [5, 1, 7], [1, 5, 3]];
        assert_eq!(first, known);
    }

    /// Drawn from `scipy.stats.qmc.Sobol(128, scramble=False, bits=32)`, scipy 1.17.1, in six of its dimensions.
    #[test]
    fn far_points_are_those_of_scipy() {
        let at = |number| [0, 1, 2, 19, 63, 127].map(|dimension| plain(dimension, number));
        assert_eq!(at(1_000), [943718400, 415236096, 2227175424, 3116367872, 1916796928, 2336227328]);
        assert_eq!(at(1_000_003), [1187450880, 2413424640, 334991360, 2715676672, 1323372544, 1969033216]);
    }

    /// The same library's first 4 096 points in all dimensions, their twelve digits folded into one number by FNV-1a.
    #[test]
    fn half_a_million_coordinates_are_those_of_scipy() {
        let mut folded = 0xcbf2_9ce4_8422_2325_u64;
        for number in 0..4_096 {
            for dimension in 0..DIMENSIONS {
                let digits = u64::from(plain(dimension, number) >> 20);
                folded = (folded ^ digits).wrapping_mul(0x0100_0000_01b3);
            }
        }
        assert_eq!(folded, 0xc2c9_6941_76cb_e925);
    }

    /// Each of 2^k equal intervals holds one of the first 2^k points, and of every further 2^k, in every dimension.
    #[test]
    fn every_interval_of_every_dimension_holds_one_point() {
        for (k, from) in [(1, 0), (5, 0), (5, 96), (9, 0), (9, 512), (11, 2_048)] {
            for dimension in 0..DIMENSIONS {
                let turns = Stream::new(11, Purpose::Scramble, dimension as u64);
                let (mut plainly, mut turned) = (vec![0; 1 << k], vec![0; 1 << k]);
                for number in from..from + (1 << k) {
                    let x = plain(dimension, number);
                    plainly[(x >> (32 - k)) as usize] += 1;
                    turned[(scrambled(x, turns) * f64::from(1 << k)) as usize] += 1;
                }
                assert!(plainly.iter().chain(&turned).all(|&points| points == 1), "{dimension}, {k}");
            }
        }
    }

    /// The first two dimensions are a (0, 2)-sequence: each box of area 2^-8, of any shape, holds one of 2^8 points.
    #[test]
    fn every_box_of_the_first_two_dimensions_holds_one_point() {
        let turns = [0, 1].map(|dimension| Stream::new(5, Purpose::Scramble, dimension));
        for wide in 0..=8 {
            let mut boxes = vec![0; 256];
            for number in 0..256 {
                let [x, y] = [0, 1].map(|d| scrambled(plain(d, number), turns[d]));
                let (column, row) =
                    ((x * f64::from(1 << wide)) as usize, (y * f64::from(256 >> wide)) as usize);
                boxes[column * (256 >> wide) + row] += 1;
            }
            assert!(boxes.iter().all(|&points| points == 1), "{wide}");
        }
    }
}

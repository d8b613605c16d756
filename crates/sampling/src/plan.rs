//! Which runs to make: points of the unit cube, each a function of plan, seed and number.
//!
//! | plan | points | take it |
//! | --- | --- | --- |
//! | [`Plan::grid`] | every level of every input with every level of the others | few inputs, to draw curves |
//! | [`Plan::latin_hypercube`] | each input's n strata once each, in random company | a number of runs that is no power of two |
//! | [`Plan::sobol`] | scrambled Sobol sequence | else; best with a power of two |
//! | [`Plan::list`] | run i takes the i-th value of every list | runs written down one by one |
//! | [`Plan::one_at_a_time`] | all at the middle, then each input low and high | a tornado chart |
//!
//! A dimension is an input, in the caller's order. Coordinates lie within 0 to 1; those of a Latin hypercube and of a
//! Sobol sequence never touch the ends, so every distribution has a value there. Another seed gives other points of these
//! two; the other plans have no chance in them.
//!
//! # Sources
//! - \[MBC\] `McKay`, Beckman, Conover, *A Comparison of Three Methods for Selecting Values of Input Variables*, Technometrics 21
//!   (1979): the Latin hypercube. Recalled.
//! - Sobol sequence: \[JK\] Joe, Kuo 2008; scrambling: \[OWEN\] Owen 1995, each digit turned by a hash of seed, dimension and
//!   the digits before it.

use crate::draw::{Purpose, Shuffle, Stream};
use crate::joe_kuo;
use crate::sequence;

/// Points of the longest plan, 2^32: as many as the Sobol sequence has here before it repeats.
pub const MOST_POINTS: u64 = 1 << 32;
/// Dimensions of the widest Sobol plan.
pub const MOST_SOBOL_DIMENSIONS: usize = joe_kuo::DIMENSIONS;

/// A set of points in the unit cube.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    dimensions: usize,
    points: u64,
    kind: Kind,
}

#[derive(Debug, Clone, PartialEq)]
enum Kind {
    Grid { levels: Vec<u32>, place: Level },
    LatinHypercube { seed: u64 },
    Sobol { seed: u64 },
    List,
    OneAtATime { low: f64, high: f64 },
}

/// Where the levels of a grid lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// In the middle of equal shares: of four, at 1/8, 3/8, 5/8, 7/8. Every distribution has a value there, and each level
    /// stands for as many cases. A list of four values gives each once.
    Middles,
    /// From end to end: of four, at 0, 1/3, 2/3, 1. Only for distributions with ends; one level lies at 1/2.
    Ends,
}

/// Numbers that make no plan.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum PlanError {
    /// Nothing to vary.
    #[error("a plan varies nothing; it would have to vary at least one input")]
    NoDimension,
    /// Nothing to run, or more than there are numbers for.
    #[error("a plan has {points} points; 1 to {MOST_POINTS} would be right")]
    Points {
        /// How many, or the most that can be told.
        points: u64,
    },
    /// The sequence is known up to here.
    #[error("a Sobol plan varies {dimensions} inputs; at most {MOST_SOBOL_DIMENSIONS} are possible")]
    Dimensions {
        /// How many.
        dimensions: usize,
    },
    /// An input with no level.
    #[error("input {place} of a grid has no level; it would have to have at least one")]
    NoLevel {
        /// Which, counted from 1.
        place: usize,
    },
    /// Low and high that are not on both sides of the middle.
    #[error(
        "inputs go from share {low} to {high}; the first must lie from 0 to below 0.5, the second above it, to 1"
    )]
    Swing {
        /// The low share.
        low: f64,
        /// The high share.
        high: f64,
    },
}

/// A point beyond the last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("there is no point {index} in a plan of {points}; numbers begin with 0")]
pub struct NoSuchPoint {
    /// The number asked for.
    pub index: u64,
    /// Points of the plan.
    pub points: u64,
}

fn counted(points: u64) -> Result<u64, PlanError> {
    if (1..=MOST_POINTS).contains(&points) { Ok(points) } else { Err(PlanError::Points { points }) }
}

fn some(dimensions: usize) -> Result<usize, PlanError> {
    if dimensions > 0 { Ok(dimensions) } else { Err(PlanError::NoDimension) }
}

impl Plan {
    /// Every combination of levels; the last input's change fastest.
    ///
    /// # Errors
    /// [`PlanError`]: no input, an input without a level, more than [`MOST_POINTS`] combinations.
    pub fn grid(levels: &[u32], place: Level) -> Result<Self, PlanError> {
        let dimensions = some(levels.len())?;
        if let Some(index) = levels.iter().position(|&count| count == 0) {
            return Err(PlanError::NoLevel { place: index + 1 });
        }
        let points = levels.iter().fold(1_u64, |product, &count| product.saturating_mul(u64::from(count)));
        Ok(Self { dimensions, points: counted(points)?, kind: Kind::Grid { levels: levels.to_vec(), place } })
    }

    /// `points` points of which each of as many equal strata of every input holds one, at a random place within it.
    ///
    /// # Errors
    /// [`PlanError`]: no input, no point, more than [`MOST_POINTS`].
    pub fn latin_hypercube(dimensions: usize, points: u64, seed: u64) -> Result<Self, PlanError> {
        Ok(Self {
            dimensions: some(dimensions)?,
            points: counted(points)?,
            kind: Kind::LatinHypercube { seed },
        })
    }

    /// The first `points` points of the scrambled Sobol sequence. With a power of two they fill the cube most evenly: each
    /// of as many equal strata of every input holds one. A longer plan with the same seed begins with the same points.
    ///
    /// # Errors
    /// [`PlanError`]: no input, more than [`MOST_SOBOL_DIMENSIONS`], no point, more than [`MOST_POINTS`].
    pub fn sobol(dimensions: usize, points: u64, seed: u64) -> Result<Self, PlanError> {
        if dimensions > MOST_SOBOL_DIMENSIONS {
            return Err(PlanError::Dimensions { dimensions });
        }
        Ok(Self { dimensions: some(dimensions)?, points: counted(points)?, kind: Kind::Sobol { seed } })
    }

    /// Point i lies in the middle of the i-th of `points` equal shares of every input at once: each input is a
    /// [list](crate::distributions::Distribution::list) of as many values, and run i takes the i-th of each.
    ///
    /// # Errors
    /// [`PlanError`]: no input, no point, more than [`MOST_POINTS`].
    pub fn list(dimensions: usize, points: u64) -> Result<Self, PlanError> {
        Ok(Self { dimensions: some(dimensions)?, points: counted(points)?, kind: Kind::List })
    }

    /// Point 0 has every input at share 1/2; points 1 + 2i and 2 + 2i have input i at `low` and at `high` instead.
    ///
    /// # Errors
    /// [`PlanError`]: no input; `low` not from 0 to below 0.5; `high` not above 0.5 to 1.
    pub fn one_at_a_time(dimensions: usize, low: f64, high: f64) -> Result<Self, PlanError> {
        if !((0.0..0.5).contains(&low) && high > 0.5 && high <= 1.0) {
            return Err(PlanError::Swing { low, high });
        }
        let points = counted((some(dimensions)? as u64).saturating_mul(2).saturating_add(1))?;
        Ok(Self { dimensions, points, kind: Kind::OneAtATime { low, high } })
    }

    /// How many inputs are varied.
    pub fn dimensions(&self) -> usize {
        self.dimensions
    }

    /// How many points there are.
    pub fn points(&self) -> u64 {
        self.points
    }

    /// Point `index`, counted from 0: a coordinate from 0 to 1 for each input. It depends on nothing but the plan.
    ///
    /// # Errors
    /// [`NoSuchPoint`]: `index` is not below [`points`](Self::points).
    pub fn point(&self, index: u64) -> Result<Vec<f64>, NoSuchPoint> {
        let points = self.points;
        if index >= points {
            return Err(NoSuchPoint { index, points });
        }
        let dimensions = 0..self.dimensions;
        Ok(match &self.kind {
            Kind::Grid { levels, place } => grid_point(levels, *place, index),
            Kind::LatinHypercube { seed } => {
                dimensions.map(|dimension| in_stratum(*seed, dimension as u64, points, index)).collect()
            }
            Kind::Sobol { seed } => {
                dimensions.map(|dimension| on_sequence(*seed, dimension, index)).collect()
            }
            Kind::List => vec![middle(index, points); self.dimensions],
            Kind::OneAtATime { low, high } => {
                let moved =
                    index.checked_sub(1).map(|step| (step / 2, if step % 2 == 0 { *low } else { *high }));
                dimensions
                    .map(|dimension| match moved {
                        Some((input, share)) if input == dimension as u64 => share,
                        _ => 0.5,
                    })
                    .collect()
            }
        })
    }
}

/// The middle of the `index`-th of `count` equal shares.
fn middle(index: u64, count: u64) -> f64 {
    (index as f64 + 0.5) / count as f64
}

fn grid_point(levels: &[u32], place: Level, index: u64) -> Vec<f64> {
    let mut rest = index;
    let mut point = vec![0.5; levels.len()];
    for (coordinate, &count) in point.iter_mut().zip(levels).rev() {
        let count = u64::from(count);
        let level = rest % count;
        rest /= count;
        *coordinate = match place {
            Level::Middles => middle(level, count),
            Level::Ends if count == 1 => 0.5,
            Level::Ends => level as f64 / (count - 1) as f64,
        };
    }
    point
}

fn in_stratum(seed: u64, dimension: u64, points: u64, index: u64) -> f64 {
    /// A stratum's number and these digits fit into a double together, so no point is rounded onto the cube's side.
    const PLACES: u64 = 1 << 20;
    let stratum = Shuffle::new(Stream::new(seed, Purpose::Stratum, dimension), points).place(index);
    let within = Stream::new(seed, Purpose::Jitter, dimension).below(index, PLACES);
    (stratum as f64 + middle(within, PLACES)) / points as f64
}

/// A coordinate of point `index`, below 2^32, of the scrambled sequence.
#[allow(clippy::cast_possible_truncation, reason = "below 2^32")]
pub(crate) fn on_sequence(seed: u64, dimension: usize, index: u64) -> f64 {
    let turns = Stream::new(seed, Purpose::Scramble, dimension as u64);
    sequence::scrambled(sequence::plain(dimension, index as u32), turns)
}

//! Which inputs matter, from few runs: elementary effects along random trajectories.
//!
//! A trajectory begins at a random point of a grid and changes every input once, in random order, each by the same step
//! up or down: k + 1 runs for k inputs. The change of the result over the step is one elementary effect of that input.
//! Over r trajectories their mean size tells how much an input matters, their deviation whether its effect is curved or depends
//! on others. Ten to fifty trajectories are usual. Trajectories are taken as they fall; they are not chosen to lie far
//! apart. Not here: shares of the variance ([`crate::sobol_indices`]).
//!
//! An effect is the change of the result over the whole span of the input, in the unit of the result. The span is from share
//! 0 to 1; where a distribution has no ends, [`Morris::within`] narrows it.
//!
//! # Sources
//! - \[MOR\] Morris, *Factorial Sampling Plans for Preliminary Computational Experiments*, Technometrics 33 (1991): trajectories,
//!   step p / (2 (p − 1)) on p levels, mean and deviation. Recalled.
//! - \[CAM\] Campolongo, Cariboni, Saltelli, *An effective screening design for sensitivity analysis of large models*,
//!   Environmental Modelling & Software 22 (2007): the mean of the sizes. Recalled.

use crate::draw::{Purpose, Shuffle, Stream};
use crate::plan::{MOST_POINTS, NoSuchPoint};
use crate::spread::{Running, SpreadError, checked};

/// Levels that are usual.
pub const LEVELS: u32 = 4;
const MOST_LEVELS: u32 = 1_000;

/// The runs that elementary effects need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Morris {
    inputs: usize,
    trajectories: u64,
    levels: u32,
    seed: u64,
    low: f64,
    high: f64,
}

/// Numbers that make no design, or results that have no effects.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum MorrisError {
    /// Nothing to change.
    #[error("elementary effects are asked for no input; there would have to be at least one")]
    NoInput,
    /// Too few trajectories for a deviation, or too many runs.
    #[error(
        "{trajectories} trajectories of {inputs} inputs; 2 or more, and at most {MOST_POINTS} runs, would be right"
    )]
    Trajectories {
        /// How many.
        trajectories: u64,
        /// Inputs of each.
        inputs: usize,
    },
    /// An odd number would favour some levels.
    #[error("a grid of {levels} levels; an even number from 2 to {MOST_LEVELS} would be right")]
    Levels {
        /// How many.
        levels: u32,
    },
    /// Ends that are no stretch of 0 to 1.
    #[error("inputs go from share {low} to {high}; the first must be the lower, both from 0 to 1")]
    Span {
        /// The low share.
        low: f64,
        /// The high share.
        high: f64,
    },
    /// Not whole trajectories.
    #[error(
        "there are {results} results; it needs 2 to {trajectories} times {each}, those of whole trajectories"
    )]
    Results {
        /// How many.
        results: usize,
        /// Trajectories of the design.
        trajectories: u64,
        /// Runs of each.
        each: usize,
    },
    /// A result that is no number.
    #[error(transparent)]
    NotANumber(#[from] SpreadError),
}

/// The elementary effects of one input, in the unit of the result.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// Mean of the sizes, μ*: how much the input matters.
    pub mean_size: f64,
    /// Mean with signs, μ: of opposite effects less than their size.
    pub mean: f64,
    /// Standard deviation σ, of the sample: 0 where the result is a straight line in this input, whatever the others are.
    pub deviation: f64,
}

impl Morris {
    /// A design for so many inputs, trajectories and levels. More trajectories with the same seed begin with the same runs.
    ///
    /// # Errors
    /// [`MorrisError`]: no input; fewer than two trajectories or more than 2^32 runs; levels that are odd or not 2 to 1 000.
    pub fn new(inputs: usize, trajectories: u64, levels: u32, seed: u64) -> Result<Self, MorrisError> {
        if inputs == 0 {
            return Err(MorrisError::NoInput);
        }
        let runs = trajectories.saturating_mul((inputs as u64).saturating_add(1));
        if trajectories < 2 || runs > MOST_POINTS {
            return Err(MorrisError::Trajectories { trajectories, inputs });
        }
        if !levels.is_multiple_of(2) || !(2..=MOST_LEVELS).contains(&levels) {
            return Err(MorrisError::Levels { levels });
        }
        Ok(Self { inputs, trajectories, levels, seed, low: 0.0, high: 1.0 })
    }

    /// The same design with every input between two shares of its cases, such as 0.05 and 0.95.
    ///
    /// # Errors
    /// [`MorrisError::Span`]: `low` not below `high`, or one outside 0 to 1.
    pub fn within(self, low: f64, high: f64) -> Result<Self, MorrisError> {
        if low >= 0.0 && low < high && high <= 1.0 {
            Ok(Self { low, high, ..self })
        } else {
            Err(MorrisError::Span { low, high })
        }
    }

    /// How many inputs.
    pub fn inputs(&self) -> usize {
        self.inputs
    }

    /// How many runs: trajectories times inputs and one.
    pub fn rows(&self) -> u64 {
        self.trajectories * self.in_a_trajectory()
    }

    fn in_a_trajectory(&self) -> u64 {
        self.inputs as u64 + 1
    }

    /// The point of run `index`, counted from 0: a coordinate from 0 to 1 for each input. It depends on nothing but the design.
    ///
    /// # Errors
    /// [`NoSuchPoint`]: `index` is not below [`rows`](Self::rows).
    pub fn row(&self, index: u64) -> Result<Vec<f64>, NoSuchPoint> {
        if index >= self.rows() {
            return Err(NoSuchPoint { index, points: self.rows() });
        }
        let (trajectory, step) = (index / self.in_a_trajectory(), index % self.in_a_trajectory());
        let trajectory = Trajectory::new(self, trajectory);
        Ok((0..self.inputs as u64)
            .map(|input| {
                let moved = trajectory.moves_at(input) < step;
                let above = moved == trajectory.goes_up(input);
                let level =
                    trajectory.lower_level(input) + if above { u64::from(self.levels / 2) } else { 0 };
                let part = level as f64 / f64::from(self.levels - 1);
                (self.low + part * (self.high - self.low)).min(self.high)
            })
            .collect())
    }

    /// The effects of each input, in order, from the results of the runs, in their order, of all trajectories or of any
    /// number of whole ones from the first on.
    ///
    /// # Errors
    /// [`MorrisError`]: results that are not of two or more whole trajectories, or one that is no number between ±1e150.
    pub fn effects(&self, results: &[f64]) -> Result<Vec<Effect>, MorrisError> {
        let each = self.inputs + 1;
        let run = results.len() / each;
        let not_whole =
            MorrisError::Results { results: results.len(), trajectories: self.trajectories, each };
        if !results.len().is_multiple_of(each) || run < 2 || run as u64 > self.trajectories {
            return Err(not_whole);
        }
        checked(results)?;
        // In levels a step is half of them, and the span one less than all.
        let steps_in_span = f64::from(self.levels - 1) / f64::from(self.levels / 2);
        let mut sums = vec![(Running::new(), Running::new()); self.inputs];
        for (number, results) in results.chunks_exact(each).enumerate() {
            let trajectory = Trajectory::new(self, number as u64);
            for (input, (signed, size)) in sums.iter_mut().enumerate() {
                let step = trajectory.step_of(input);
                let change = (results[step + 1] - results[step]) * steps_in_span;
                signed.push(if trajectory.goes_up(input as u64) { change } else { -change })?;
                size.push(change.abs())?;
            }
        }
        let effects = sums.iter().map(|(signed, size)| {
            Some(Effect {
                mean_size: size.mean()?,
                mean: signed.mean()?,
                deviation: signed.standard_deviation()?,
            })
        });
        effects.collect::<Option<Vec<_>>>().ok_or(not_whole)
    }
}

/// What chance decided for one trajectory.
struct Trajectory {
    order: Shuffle,
    start: Stream,
    direction: Stream,
    half: u64,
}

impl Trajectory {
    fn new(design: &Morris, number: u64) -> Self {
        let stream = |purpose| Stream::new(design.seed, purpose, number);
        Self {
            order: Shuffle::new(stream(Purpose::Order), design.inputs as u64),
            start: stream(Purpose::Start),
            direction: stream(Purpose::Direction),
            half: u64::from(design.levels / 2),
        }
    }

    /// After how many other inputs this one moves.
    fn moves_at(&self, input: u64) -> u64 {
        self.order.place(input)
    }

    #[allow(clippy::cast_possible_truncation, reason = "below the number of inputs")]
    fn step_of(&self, input: usize) -> usize {
        self.moves_at(input as u64) as usize
    }

    fn goes_up(&self, input: u64) -> bool {
        self.direction.bits(input) >> 63 == 1
    }

    /// The lower of the two levels between which this input moves.
    fn lower_level(&self, input: u64) -> u64 {
        self.start.below(input, self.half)
    }
}

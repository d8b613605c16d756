//! Inputs that rise and fall together: rank correlations laid on points, one point at a time.
//!
//! A Gaussian copula: coordinates become standard normal numbers, those are mixed so that they correlate, and go back to
//! coordinates. Each input keeps its own distribution. The rank correlation \[Spearman\] is what was asked for where
//! distributions are continuous; ties, as in lists, weaken it a little.
//!
//! The first input's coordinates stay as they are; those of a later one depend on its own and on the earlier ones'. Points of a
//! Latin hypercube or a Sobol sequence remain as even jointly, but a later input that correlates no longer has one point
//! in each stratum. Grids and lists lose their levels: they do not go with correlations. Nor do Sobol indices and
//! Morris, which presume that an input may be changed alone.
//!
//! # Sources
//! - \[PEARSON\] Pearson, *On further methods of determining correlation*, 1907: between the rank correlation ρ of two
//!   normal variables and their linear one, r = 2 sin(π ρ / 6). Recalled.
//! - \[NELSEN\] Nelsen, *An Introduction to Copulas*, 2006. Recalled.

use std::f64::consts::PI;

use crate::normal::{below_which, share_below};

/// Less than this left to itself, and an input is a function of the others.
const LEAST_LEFT: f64 = 1e-9;
/// The largest number below 1.
const BELOW_ONE: f64 = 1.0 - f64::EPSILON / 2.0;

/// Rank correlations between the inputs of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Copula {
    /// Rows of the lower triangular root of the matrix of linear correlations, up to and with the diagonal.
    root: Vec<Vec<f64>>,
    /// Whether an input correlates with any other.
    tied: Vec<bool>,
}

/// Correlations that cannot be laid on a sample. Inputs are counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum CorrelationError {
    /// A row that is longer or shorter than the matrix has rows.
    #[error(
        "row {row} of the correlations has {length} numbers; it would have to have {inputs}, one for each input"
    )]
    Shape {
        /// Which row.
        row: usize,
        /// Its length.
        length: usize,
        /// Rows of the matrix.
        inputs: usize,
    },
    /// A diagonal that is not 1.
    #[error("input {input} has correlation {rank} with itself; that is always 1")]
    Diagonal {
        /// Which input.
        input: usize,
        /// The number on the diagonal.
        rank: f64,
    },
    /// Two numbers for one pair.
    #[error("inputs {one} and {other} are given two correlations, {rank} and {again}")]
    Twice {
        /// An input.
        one: usize,
        /// Another.
        other: usize,
        /// The first number.
        rank: f64,
        /// The second.
        again: f64,
    },
    /// An input that is not there, or the same one twice.
    #[error(
        "a correlation is given for inputs {one} and {other}; they would have to be two different of {inputs}"
    )]
    Pair {
        /// An input.
        one: usize,
        /// Another.
        other: usize,
        /// How many there are.
        inputs: usize,
    },
    /// No correlation; also NaN.
    #[error("the correlation of inputs {one} and {other} is {rank}; it would have to lie between -1 and 1")]
    Outside {
        /// An input.
        one: usize,
        /// Another.
        other: usize,
        /// The number.
        rank: f64,
    },
    /// The matrix is not positive definite.
    #[error(
        "input {input} cannot correlate so with the inputs before it while they correlate with each other as they do: \
         together they would determine {percent:.0} % of it, 100 % or more; make its correlations weaker, or theirs \
         more alike"
    )]
    Contradiction {
        /// The first input whose correlations do not fit.
        input: usize,
        /// What those before it would explain of its variance \[%\].
        percent: f64,
    },
    /// A point of another plan.
    #[error("a point has {length} coordinates; it would have to have {inputs}, one for each input")]
    Length {
        /// Coordinates.
        length: usize,
        /// Inputs.
        inputs: usize,
    },
    /// A coordinate on the side of the cube or outside it.
    #[error(
        "the coordinate of input {input} is {share}; with a correlation it would have to lie between 0 and 1"
    )]
    NotWithin {
        /// Which input.
        input: usize,
        /// The coordinate.
        share: f64,
    },
}

impl Copula {
    /// From the whole matrix of rank correlations, one row and column for each input.
    ///
    /// # Errors
    /// [`CorrelationError`]: rows of unequal length, a diagonal other than 1, a matrix that is not symmetric, a number not
    /// between −1 and 1, or correlations that contradict each other.
    pub fn of_matrix(ranks: &[Vec<f64>]) -> Result<Self, CorrelationError> {
        let inputs = ranks.len();
        if let Some(row) = ranks.iter().position(|row| row.len() != inputs) {
            return Err(CorrelationError::Shape { row: row + 1, length: ranks[row].len(), inputs });
        }
        let mut pairs = Vec::new();
        for (one, row) in ranks.iter().enumerate() {
            let own = row[one];
            if !(1.0..=1.0).contains(&own) {
                return Err(CorrelationError::Diagonal { input: one + 1, rank: own });
            }
            for (other, &rank) in row.iter().enumerate().filter(|(other, _)| *other != one) {
                pairs.push((one, other, rank));
            }
        }
        Self::of_pairs(inputs, &pairs)
    }

    /// From the rank correlations of some pairs of inputs, counted from 0; all other pairs have none. A pair may be told
    /// twice, with the same number.
    ///
    /// # Errors
    /// [`CorrelationError`]: a pair that is none, two numbers for one pair, a number not between −1 and 1, or
    /// correlations that contradict each other.
    pub fn of_pairs(inputs: usize, pairs: &[(usize, usize, f64)]) -> Result<Self, CorrelationError> {
        let mut ranks: Vec<Vec<Option<f64>>> = vec![vec![None; inputs]; inputs];
        let mut tied = vec![false; inputs];
        for &(a, b, rank) in pairs {
            let (low, high) = (a.min(b), a.max(b));
            let (one, other) = (low + 1, high + 1);
            if low == high || high >= inputs {
                return Err(CorrelationError::Pair { one, other, inputs });
            }
            if !(rank > -1.0 && rank < 1.0) {
                return Err(CorrelationError::Outside { one, other, rank });
            }
            let told = ranks[high][low].replace(rank);
            if let Some(before) = told.filter(|before| (before - rank).abs() > 0.0) {
                return Err(CorrelationError::Twice { one, other, rank: before, again: rank });
            }
            if rank.abs() > 0.0 {
                (tied[low], tied[high]) = (true, true);
            }
        }
        let linear = |row: usize, column: usize| {
            let rank = ranks[row][column].unwrap_or(0.0);
            2.0 * (PI * rank / 6.0).sin()
        };
        Ok(Self { root: root(inputs, linear)?, tied })
    }

    /// How many inputs.
    pub fn inputs(&self) -> usize {
        self.root.len()
    }

    /// The point that takes the place of `point`. It depends on nothing but the two.
    ///
    /// # Errors
    /// [`CorrelationError`]: another number of coordinates, or one not between 0 and 1 of an input that correlates.
    pub fn correlate(&self, point: &[f64]) -> Result<Vec<f64>, CorrelationError> {
        if point.len() != self.inputs() {
            return Err(CorrelationError::Length { length: point.len(), inputs: self.inputs() });
        }
        let mut normal = Vec::with_capacity(point.len());
        for (index, (&share, &tied)) in point.iter().zip(&self.tied).enumerate() {
            if tied && !(share > 0.0 && share < 1.0) {
                return Err(CorrelationError::NotWithin { input: index + 1, share });
            }
            normal.push(if tied { below_which(share) } else { 0.0 });
        }
        let mut moved = point.to_vec();
        for (index, row) in self.root.iter().enumerate() {
            // An input that follows none of those before it keeps its coordinate to the last bit.
            if row[..index].iter().any(|factor| factor.abs() > 0.0) {
                let sum: f64 = row.iter().zip(&normal).map(|(factor, z)| factor * z).sum();
                // Eight deviations out, rounding would put it on the side of the cube.
                moved[index] = share_below(sum).clamp(f64::MIN_POSITIVE, BELOW_ONE);
            }
        }
        Ok(moved)
    }
}

/// Cholesky's root of a matrix with ones on the diagonal.
fn root(inputs: usize, linear: impl Fn(usize, usize) -> f64) -> Result<Vec<Vec<f64>>, CorrelationError> {
    let mut rows: Vec<Vec<f64>> = Vec::with_capacity(inputs);
    for input in 0..inputs {
        let mut row: Vec<f64> = Vec::with_capacity(input + 1);
        for (column, above) in rows.iter().enumerate() {
            let known: f64 = row.iter().zip(above).map(|(a, b)| a * b).sum();
            row.push((linear(input, column) - known) / above[column]);
        }
        let determined: f64 = row.iter().map(|factor| factor * factor).sum();
        if 1.0 - determined < LEAST_LEFT {
            return Err(CorrelationError::Contradiction { input: input + 1, percent: 100.0 * determined });
        }
        row.push((1.0 - determined).sqrt());
        rows.push(row);
    }
    Ok(rows)
}

//! How much of a result's variance each input brings: Sobol indices of first order and total, with their uncertainty.
//!
//! The first index of an input is the share of the variance that would go if this input alone were known; its total index
//! is the share that would stay if all others were known. Total less first is what it does together with others. An
//! input whose total index is near 0 may be fixed at any value. Inputs must be independent: no correlations.
//!
//! A design of N base rows and k inputs needs N (k + 2) runs. For each base row, in this order: A, B, and for each input
//! i a row `A_B` that is A with this input taken from B. A and B are the first and the second half of the coordinates of a
//! scrambled Sobol sequence in 2 k dimensions. Rows of one base row lie together, so that any number of whole base rows from
//! the first on is a design too. N should be a power of two: 8 192 gives two digits; 512 tells the
//! large from the small, with errors up to 0.07 where inputs act together strongly.
//!
//! # Sources
//! - \[SAL\] Saltelli et al., *Variance based sensitivity analysis of model output*, Computer Physics Communications 181 (2010):
//!   design and estimators, table 2 (b) for the first index, (f) for the total. Recalled.
//! - \[JAN\] Jansen, *Analysis of variance designs for model output*, Computer Physics Communications 117 (1999). Recalled.
//! - \[EFR\] Efron, Tibshirani, *An Introduction to the Bootstrap*, 1993: percentile intervals. Recalled.

use crate::draw::{Purpose, Stream};
use crate::plan::{MOST_POINTS, MOST_SOBOL_DIMENSIONS, NoSuchPoint, on_sequence};
use crate::spread::{self, SpreadError};

/// Repetitions of the bootstrap with which the ends of an interval are steady to about a twentieth of its length.
pub const REPETITIONS: u32 = 1_000;
/// Inputs of the widest design: each needs two dimensions of the sequence.
pub const MOST_INPUTS: usize = MOST_SOBOL_DIMENSIONS / 2;

const FEWEST_REPETITIONS: u32 = 100;
const MOST_REPETITIONS: u32 = 100_000;
/// 95 % lie between.
const TAIL: f64 = 0.025;
/// Below this part of the mean square, variance is rounding.
const LEAST_VARIANCE: f64 = 1e-24;

/// The runs that Sobol indices need.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Saltelli {
    inputs: usize,
    base_rows: u64,
    seed: u64,
}

/// Numbers that make no design, or results that have no indices.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum IndexError {
    /// None, or more than the sequence has dimensions for.
    #[error("Sobol indices are asked for {inputs} inputs; 1 to {MOST_INPUTS} are possible")]
    Inputs {
        /// How many.
        inputs: usize,
    },
    /// Too few or too many.
    #[error("a design has {base_rows} base rows; 2 to {MOST_POINTS} would be right, best a power of two")]
    BaseRows {
        /// How many.
        base_rows: u64,
    },
    /// Not whole base rows.
    #[error(
        "there are {results} results; it needs 2 to {base_rows} times {in_a_base_row}, those of whole base rows"
    )]
    Results {
        /// How many.
        results: usize,
        /// Base rows of the design.
        base_rows: u64,
        /// Rows for each.
        in_a_base_row: usize,
    },
    /// A result that is no number.
    #[error(transparent)]
    NotANumber(#[from] SpreadError),
    /// No variance to share.
    #[error(
        "all results of the base rows are alike, about {about}: there is no spread to be shared among inputs"
    )]
    Alike {
        /// Their mean.
        about: f64,
    },
    /// A repetition of the bootstrap without variance.
    #[error("results differ in so few base rows that no interval can be given; run more base rows")]
    TooFewDiffer,
    /// Too few or too many repetitions.
    #[error(
        "{repetitions} repetitions of the bootstrap; {FEWEST_REPETITIONS} to {MOST_REPETITIONS} would be right"
    )]
    Repetitions {
        /// How many.
        repetitions: u32,
    },
}

/// A number and the interval that holds it with 95 % confidence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The number found.
    pub value: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// The indices of one input. Near 0 an estimate may be negative, which means no more than 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OfInput {
    /// Share of the variance that this input brings alone, 0 to 1 \[SAL\].
    pub first: Estimate,
    /// The same in another way, better for large shares and worse for small ones \[JAN\]. Where the two differ by much,
    /// there are too few base rows.
    pub first_jansen: Estimate,
    /// Share of the variance that this input brings alone and with others, 0 to 1 \[JAN\].
    pub total: Estimate,
}

/// What the results of a design say.
#[derive(Debug, Clone, PartialEq)]
pub struct Indices {
    /// Mean of the results of A and B, in their unit.
    pub mean: f64,
    /// Variance of the results of A and B, in the square of their unit.
    pub variance: f64,
    /// One for each input, in order.
    pub inputs: Vec<OfInput>,
}

impl Saltelli {
    /// A design for so many inputs and base rows. More base rows with the same seed begin with the same runs.
    ///
    /// # Errors
    /// [`IndexError`]: no input or more than [`MOST_INPUTS`]; fewer than two base rows or more than 2^32.
    pub fn new(inputs: usize, base_rows: u64, seed: u64) -> Result<Self, IndexError> {
        if !(1..=MOST_INPUTS).contains(&inputs) {
            return Err(IndexError::Inputs { inputs });
        }
        if !(2..=MOST_POINTS).contains(&base_rows) {
            return Err(IndexError::BaseRows { base_rows });
        }
        Ok(Self { inputs, base_rows, seed })
    }

    /// How many inputs.
    pub fn inputs(&self) -> usize {
        self.inputs
    }

    /// How many runs: base rows times inputs and two.
    pub fn rows(&self) -> u64 {
        self.base_rows * self.in_a_base_row() as u64
    }

    fn in_a_base_row(&self) -> usize {
        self.inputs + 2
    }

    /// The point of run `index`, counted from 0: a coordinate between 0 and 1 for each input. It depends on nothing but the
    /// design.
    ///
    /// # Errors
    /// [`NoSuchPoint`]: `index` is not below [`rows`](Self::rows).
    pub fn row(&self, index: u64) -> Result<Vec<f64>, NoSuchPoint> {
        if index >= self.rows() {
            return Err(NoSuchPoint { index, points: self.rows() });
        }
        let each = self.in_a_base_row() as u64;
        let (base, which) = (index / each, index % each);
        let from_b = |input: usize| which == 1 || which == input as u64 + 2;
        let dimension = |input: usize| if from_b(input) { self.inputs + input } else { input };
        Ok((0..self.inputs).map(|input| on_sequence(self.seed, dimension(input), base)).collect())
    }

    /// The indices from the results of the runs, in their order, of all base rows or of any number of whole ones from
    /// the first on.
    ///
    /// Intervals are from a bootstrap over base rows, drawn by the design's seed; [`REPETITIONS`] are usual. It takes base rows
    /// for independent, so intervals are too wide rather than too narrow for points of a Sobol sequence.
    ///
    /// # Errors
    /// [`IndexError`]: results that are not of two or more whole base rows, one that is no number between ±1e150, results that
    /// are alike, repetitions outside 100 to 100 000.
    pub fn indices(&self, results: &[f64], repetitions: u32) -> Result<Indices, IndexError> {
        let in_a_base_row = self.in_a_base_row();
        let base_rows = results.len() / in_a_base_row;
        if !results.len().is_multiple_of(in_a_base_row) || base_rows < 2 || base_rows as u64 > self.base_rows
        {
            let base_rows = self.base_rows;
            return Err(IndexError::Results { results: results.len(), base_rows, in_a_base_row });
        }
        if !(FEWEST_REPETITIONS..=MOST_REPETITIONS).contains(&repetitions) {
            return Err(IndexError::Repetitions { repetitions });
        }
        spread::checked(results)?;
        let terms = Terms::new(results, self.inputs);
        let all = terms.sum((0..base_rows).map(|row| (row, 1.0)));
        let found = all.indices();
        let least = LEAST_VARIANCE * (terms.middle * terms.middle + terms.scale * terms.scale);
        let Some(found) = found.filter(|_| all.variance() * terms.scale * terms.scale > least) else {
            return Err(IndexError::Alike { about: terms.middle });
        };

        let draws = Stream::new(self.seed, Purpose::Bootstrap, 0);
        let mut repeated: Vec<Vec<[f64; 3]>> = vec![Vec::with_capacity(repetitions as usize); self.inputs];
        for repetition in 0..repetitions {
            let again = terms.drawn(draws.part(u64::from(repetition))).indices();
            for (of_input, again) in repeated.iter_mut().zip(again.ok_or(IndexError::TooFewDiffer)?) {
                of_input.push(again);
            }
        }
        let inputs = found.iter().zip(&repeated).map(|(found, repeated)| {
            let estimate = |which: usize| {
                let mut values: Vec<f64> = repeated.iter().map(|again| again[which]).collect();
                values.sort_by(f64::total_cmp);
                let end = |share| spread::at(&values, share);
                Estimate { value: found[which], low: end(TAIL), high: end(1.0 - TAIL) }
            };
            OfInput { first: estimate(0), first_jansen: estimate(1), total: estimate(2) }
        });
        Ok(Indices {
            mean: terms.middle + terms.scale * all.mean(),
            variance: terms.scale * terms.scale * all.variance(),
            inputs: inputs.collect(),
        })
    }
}

/// What each base row adds to the sums, of results brought to mean 0 and largest distance 1.
struct Terms {
    middle: f64,
    scale: f64,
    /// f(A) + f(B) and f(A)² + f(B)².
    pooled: Vec<[f64; 2]>,
    /// By base row, then by input: f(B) (`f(A_B)` − f(A)), (f(B) − `f(A_B)`)², (f(A) − `f(A_B)`)².
    by_input: Vec<Vec<[f64; 3]>>,
}

impl Terms {
    /// Results are finite and not empty.
    fn new(results: &[f64], inputs: usize) -> Self {
        let middle = results.iter().sum::<f64>() / results.len() as f64;
        let farthest = results.iter().map(|value| (value - middle).abs()).fold(0.0, f64::max);
        let scale = if farthest > 0.0 { farthest } else { 1.0 };
        let (mut pooled, mut by_input) = (Vec::new(), Vec::new());
        for rows in results.chunks_exact(inputs + 2) {
            let rows: Vec<f64> = rows.iter().map(|value| (value - middle) / scale).collect();
            let (a, b) = (rows[0], rows[1]);
            pooled.push([a + b, a * a + b * b]);
            by_input.push(
                rows[2..].iter().map(|ab| [b * (ab - a), (b - ab) * (b - ab), (a - ab) * (a - ab)]).collect(),
            );
        }
        Self { middle, scale, pooled, by_input }
    }

    /// Sums over base rows, each as often as it is counted.
    fn sum(&self, counted: impl Iterator<Item = (usize, f64)>) -> Sums {
        let inputs = self.by_input.first().map_or(0, Vec::len);
        let mut sums = Sums { rows: 0.0, pooled: [0.0; 2], by_input: vec![[0.0; 3]; inputs] };
        for (row, times) in counted {
            sums.rows += times;
            for (sum, term) in sums.pooled.iter_mut().zip(self.pooled[row]) {
                *sum += times * term;
            }
            for (sums, terms) in sums.by_input.iter_mut().zip(&self.by_input[row]) {
                for (sum, term) in sums.iter_mut().zip(terms) {
                    *sum += times * term;
                }
            }
        }
        sums
    }

    /// As many base rows as there are, each drawn from all of them.
    #[allow(clippy::cast_possible_truncation, reason = "below the number of base rows, which are in memory")]
    fn drawn(&self, draws: Stream) -> Sums {
        let rows = self.pooled.len();
        let mut times = vec![0_u32; rows];
        for draw in 0..rows as u64 {
            times[draws.below(draw, rows as u64) as usize] += 1;
        }
        self.sum(times.iter().map(|&times| f64::from(times)).enumerate())
    }
}

struct Sums {
    rows: f64,
    pooled: [f64; 2],
    by_input: Vec<[f64; 3]>,
}

impl Sums {
    fn mean(&self) -> f64 {
        self.pooled[0] / (2.0 * self.rows)
    }

    fn variance(&self) -> f64 {
        self.pooled[1] / (2.0 * self.rows) - self.mean() * self.mean()
    }

    /// First, first after Jansen, total of each input; none where there is no variance.
    fn indices(&self) -> Option<Vec<[f64; 3]>> {
        let variance = self.variance();
        let share = |sum: f64| sum / self.rows / variance;
        let of_input = |[product, from_b, from_a]: &[f64; 3]| {
            [share(*product), 1.0 - share(*from_b) / 2.0, share(*from_a) / 2.0]
        };
        // Results are at most 1 apart from their mean, so this is rounding.
        (variance > 1e-20).then(|| self.by_input.iter().map(of_input).collect())
    }
}

//! The spread of results in a few numbers: percentiles, mean and standard deviation, and which input swings them most.
//!
//! A percentile is that of Hyndman and Fan's definition 7, the default of R and numpy: of n sorted results, the one at place
//! 1 + (n − 1) p, with a straight line between two. P10 is exceeded by nine results of ten. Not here: how much of the
//! spread each input brings ([`crate::sobol_indices`]).
//!
//! # Sources
//! - \[HF\] Hyndman, Fan, *Sample Quantiles in Statistical Packages*, The American Statistician 50 (1996). Recalled.
//! - \[WEL\] Welford, *Note on a Method for Calculating Corrected Sums of Squares and Products*, Technometrics 4 (1962); joining
//!   of two samples: Chan, Golub, `LeVeque` 1979. Recalled.

/// Beyond it squares would have no sum.
const LARGEST: f64 = 1e150;

/// Results that have no spread.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum SpreadError {
    /// Not enough of them.
    #[error("there are {count} results; a spread needs at least 2")]
    TooFew {
        /// How many.
        count: usize,
    },
    /// NaN, infinite or too large.
    #[error("result {index} is {value}; it would have to be a number between -1e150 and 1e150")]
    NotANumber {
        /// Which, counted from 0 like runs.
        index: u64,
        /// The result.
        value: f64,
    },
    /// No share of cases; also NaN.
    #[error("there is no percentile at share {share}; it would have to lie from 0 to 1")]
    Share {
        /// The share.
        share: f64,
    },
    /// Not a middle run and two for each input.
    #[error("{count} results make no tornado; it needs one in the middle and two for each input: 3, 5, 7 …")]
    NotInPairs {
        /// How many.
        count: usize,
    },
}

pub(crate) fn checked(results: &[f64]) -> Result<(), SpreadError> {
    match results.iter().position(|value| !within(*value)) {
        Some(index) => Err(SpreadError::NotANumber { index: index as u64, value: results[index] }),
        None => Ok(()),
    }
}

fn within(value: f64) -> bool {
    value.abs() <= LARGEST
}

/// A set of results in a few numbers, each in the unit of the results.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// How many results.
    pub count: usize,
    /// The lowest.
    pub lowest: f64,
    /// A tenth of the results lies below.
    pub p10: f64,
    /// Half of the results lies below: the median.
    pub p50: f64,
    /// Nine tenths of the results lie below.
    pub p90: f64,
    /// The highest.
    pub highest: f64,
    /// Arithmetic mean.
    pub mean: f64,
    /// Of the sample: the sum of squares over one less than the count.
    pub standard_deviation: f64,
}

impl Spread {
    /// The spread of results in any order. Mean and deviation are added up in the order given.
    ///
    /// # Errors
    /// [`SpreadError`]: fewer than two results, or one that is no number between ±1e150.
    pub fn of(results: &[f64]) -> Result<Self, SpreadError> {
        let sorted = Percentiles::of(results)?;
        let mut running = Running::new();
        for &value in results {
            running.push(value)?;
        }
        let count = results.len();
        let too_few = SpreadError::TooFew { count };
        let (mean, standard_deviation) = running.mean().zip(running.standard_deviation()).ok_or(too_few)?;
        Ok(Self {
            count,
            lowest: at(&sorted.sorted, 0.0),
            p10: at(&sorted.sorted, 0.1),
            p50: at(&sorted.sorted, 0.5),
            p90: at(&sorted.sorted, 0.9),
            highest: at(&sorted.sorted, 1.0),
            mean,
            standard_deviation,
        })
    }
}

/// Results in rising order, for any percentile.
#[derive(Debug, Clone, PartialEq)]
pub struct Percentiles {
    sorted: Vec<f64>,
}

impl Percentiles {
    /// Sorts the results.
    ///
    /// # Errors
    /// [`SpreadError`]: no result, or one that is no number between ±1e150.
    pub fn of(results: &[f64]) -> Result<Self, SpreadError> {
        if results.is_empty() {
            return Err(SpreadError::TooFew { count: 0 });
        }
        checked(results)?;
        let mut sorted = results.to_vec();
        sorted.sort_by(f64::total_cmp);
        Ok(Self { sorted })
    }

    /// The result below which `share` of them lie, 0 to 1.
    ///
    /// # Errors
    /// [`SpreadError::Share`]: a share outside 0 to 1.
    pub fn at(&self, share: f64) -> Result<f64, SpreadError> {
        if (0.0..=1.0).contains(&share) {
            Ok(at(&self.sorted, share))
        } else {
            Err(SpreadError::Share { share })
        }
    }
}

/// Definition 7 of \[HF\]; at least one value, a share from 0 to 1.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to the last place")]
pub(crate) fn at(sorted: &[f64], share: f64) -> f64 {
    let place = (sorted.len() - 1) as f64 * share;
    let lower = place as usize;
    let upper = (lower + 1).min(sorted.len() - 1);
    (sorted[lower] + (place - lower as f64) * (sorted[upper] - sorted[lower])).min(sorted[upper])
}

/// Mean and standard deviation of results that come one by one and are not kept.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Running {
    count: u64,
    mean: f64,
    squares: f64,
}

impl Running {
    /// None yet.
    pub const fn new() -> Self {
        Self { count: 0, mean: 0.0, squares: 0.0 }
    }

    /// One more \[WEL\].
    ///
    /// # Errors
    /// [`SpreadError::NotANumber`]: no number between ±1e150; what came before stays as it was.
    pub fn push(&mut self, value: f64) -> Result<(), SpreadError> {
        if !within(value) {
            return Err(SpreadError::NotANumber { index: self.count, value });
        }
        self.count += 1;
        let off = value - self.mean;
        self.mean += off / self.count as f64;
        self.squares += off * (value - self.mean);
        Ok(())
    }

    /// Both together. Parts that are joined in one order give one result to the last bit, whoever made them.
    pub fn join(self, other: Self) -> Self {
        if self.count == 0 {
            return other;
        }
        if other.count == 0 {
            return self;
        }
        let count = self.count + other.count;
        let (n, m, all) = (self.count as f64, other.count as f64, count as f64);
        let off = other.mean - self.mean;
        Self {
            count,
            mean: self.mean + off * (m / all),
            squares: self.squares + other.squares + off * off * (n * m / all),
        }
    }

    /// How many so far.
    pub fn count(&self) -> u64 {
        self.count
    }

    /// Arithmetic mean; none of no result.
    pub fn mean(&self) -> Option<f64> {
        (self.count > 0).then_some(self.mean)
    }

    /// Of the sample, with one less than the count; none of fewer than two results.
    pub fn standard_deviation(&self) -> Option<f64> {
        (self.count > 1).then(|| (self.squares / (self.count - 1) as f64).sqrt())
    }
}

/// One input's bar in a tornado chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    /// Which input, counted from 0 in the order of the plan.
    pub input: usize,
    /// The result with this input low and the others in the middle.
    pub at_low: f64,
    /// The result with this input high and the others in the middle.
    pub at_high: f64,
}

impl Bar {
    /// How far the result moves, never negative.
    pub fn swing(&self) -> f64 {
        (self.at_high - self.at_low).abs()
    }
}

/// The bars of a tornado chart, the longest first.
#[derive(Debug, Clone, PartialEq)]
pub struct Tornado {
    /// The result with every input in the middle.
    pub middle: f64,
    /// Bars by falling swing; equal ones in the order of the plan.
    pub bars: Vec<Bar>,
}

impl Tornado {
    /// From the results of [`Plan::one_at_a_time`](crate::plan::Plan::one_at_a_time), in the order of its points.
    ///
    /// # Errors
    /// [`SpreadError`]: a number of results that is not odd and at least 3, or one that is no number between ±1e150.
    pub fn of(results: &[f64]) -> Result<Self, SpreadError> {
        checked(results)?;
        let not_in_pairs = SpreadError::NotInPairs { count: results.len() };
        let (&middle, swung) = results.split_first().ok_or(not_in_pairs)?;
        if swung.is_empty() || swung.len() % 2 != 0 {
            return Err(not_in_pairs);
        }
        let pairs = swung.chunks_exact(2).enumerate();
        let mut bars: Vec<Bar> =
            pairs.map(|(input, pair)| Bar { input, at_low: pair[0], at_high: pair[1] }).collect();
        // A stable sort keeps equal ones in their order.
        bars.sort_by(|a, b| b.swing().total_cmp(&a.swing()));
        Ok(Self { middle, bars })
    }
}

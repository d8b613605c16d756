//! How an input is spread, and its value for a number between 0 and 1: the share of cases that lie below.
//!
//! | shape | from | bounded |
//! | --- | --- | --- |
//! | [`uniform`](Distribution::uniform) | lower and upper bound | yes |
//! | [`triangular`](Distribution::triangular) | lower bound, most likely value, upper bound | yes |
//! | [`normal`](Distribution::normal) | mean, standard deviation, bounds if any | by its bounds |
//! | [`log_normal`](Distribution::log_normal) | median, geometric standard deviation, bounds if any | by its bounds |
//! | [`discrete`](Distribution::discrete) | values with weights | yes |
//! | [`list`](Distribution::list) | values, equally likely, in their order | yes |
//!
//! Values that are no numbers, such as a weather file out of three, are chosen by [`Distribution::choice`]. Not here:
//! which numbers between 0 and 1 ([`crate::plan`]).

use crate::normal::{below_which, share_below};

/// How an input is spread.
#[derive(Debug, Clone, PartialEq)]
pub struct Distribution {
    shape: Shape,
}

#[derive(Debug, Clone, PartialEq)]
enum Shape {
    Uniform {
        low: f64,
        high: f64,
    },
    Triangular {
        low: f64,
        mode: f64,
        high: f64,
    },
    Normal(Normal),
    /// Of the logarithm; the bounds are kept as given, since their logarithms do not lead back to them.
    LogNormal {
        logarithm: Normal,
        low: f64,
        high: f64,
    },
    /// Values, and the sum of the weights up to and with each.
    Discrete {
        values: Vec<f64>,
        sums: Vec<f64>,
    },
    List {
        values: Vec<f64>,
    },
}

/// What a distribution is cut to: nothing outside is ever drawn, and what is inside keeps its proportions.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bounds {
    /// Lower bound, in the unit of the values.
    pub low: Option<f64>,
    /// Upper bound, in the unit of the values.
    pub high: Option<f64>,
}

impl Bounds {
    /// No bounds.
    pub const NONE: Self = Self { low: None, high: None };

    /// Both bounds.
    pub const fn between(low: f64, high: f64) -> Self {
        Self { low: Some(low), high: Some(high) }
    }
}

/// Numbers that make no distribution.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum DistributionError {
    /// NaN or infinite.
    #[error("the {what} of a distribution is {value}; it would have to be a finite number")]
    NotFinite {
        /// Which number.
        what: &'static str,
        /// The number.
        value: f64,
    },
    /// Zero or below where only more makes sense.
    #[error("the {what} of a distribution is {value}; it would have to be more than {least}")]
    TooSmall {
        /// Which number.
        what: &'static str,
        /// The number.
        value: f64,
        /// What it must exceed.
        least: f64,
    },
    /// Bounds the wrong way round, equal, or further apart than numbers reach.
    #[error(
        "a distribution goes from {low} to {high}; the first must be the lower, and not by more than 1e308"
    )]
    Crossed {
        /// The lower bound as given.
        low: f64,
        /// The upper bound as given.
        high: f64,
    },
    /// A most likely value outside the bounds.
    #[error("the most likely value {mode} is outside the bounds {low} to {high}")]
    Mode {
        /// Lower bound.
        low: f64,
        /// Most likely value.
        mode: f64,
        /// Upper bound.
        high: f64,
    },
    /// Bounds so far out that nothing is left.
    #[error(
        "between {low} and {high} nothing is left of a distribution about {about}; move the bounds nearer"
    )]
    NothingLeft {
        /// Mean or median.
        about: f64,
        /// Lower bound, −∞ if none.
        low: f64,
        /// Upper bound, ∞ if none.
        high: f64,
    },
    /// An empty list.
    #[error("a list of values is empty; it would have to hold at least one")]
    NoValues,
    /// As many weights as values are needed.
    #[error("{values} values have {weights} weights; each value needs one")]
    Lengths {
        /// Number of values.
        values: usize,
        /// Number of weights.
        weights: usize,
    },
    /// A value in a list that is no number.
    #[error("value {place} of the list is {value}; it would have to be a finite number")]
    Value {
        /// Which, counted from 1.
        place: usize,
        /// The value.
        value: f64,
    },
    /// A weight that is no share, or one so large that weights have no sum.
    #[error(
        "weight {place} of the list is {weight}; it would have to be more than 0, and the sum below 1e308"
    )]
    Weight {
        /// Which, counted from 1.
        place: usize,
        /// The weight.
        weight: f64,
    },
}

/// A number for which there is no value.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum QuantileError {
    /// Outside 0 to 1; also NaN.
    #[error("{share} is no share of cases; it would have to lie from 0 to 1")]
    NotAShare {
        /// The number.
        share: f64,
    },
    /// An end that the distribution does not have.
    #[error("at share {share} the distribution has no finite value; give it bounds, or stay between 0 and 1")]
    Endless {
        /// The share asked for.
        share: f64,
    },
}

fn finite(what: &'static str, value: f64) -> Result<f64, DistributionError> {
    if value.is_finite() { Ok(value) } else { Err(DistributionError::NotFinite { what, value }) }
}

fn above(what: &'static str, value: f64, least: f64) -> Result<f64, DistributionError> {
    if finite(what, value)? > least {
        Ok(value)
    } else {
        Err(DistributionError::TooSmall { what, value, least })
    }
}

/// Both ends are finite, in order, and so is the distance between them.
fn stretch(low: f64, high: f64) -> Result<(), DistributionError> {
    finite("lower bound", low)?;
    finite("upper bound", high)?;
    if low < high && (high - low).is_finite() {
        Ok(())
    } else {
        Err(DistributionError::Crossed { low, high })
    }
}

fn all_finite(values: &[f64]) -> Result<(), DistributionError> {
    if values.is_empty() {
        return Err(DistributionError::NoValues);
    }
    match values.iter().position(|value| !value.is_finite()) {
        Some(index) => Err(DistributionError::Value { place: index + 1, value: values[index] }),
        None => Ok(()),
    }
}

impl Distribution {
    /// Every value from `low` to `high` is as likely.
    ///
    /// # Errors
    /// [`DistributionError`]: a bound that is not finite; `low` not below `high`.
    pub fn uniform(low: f64, high: f64) -> Result<Self, DistributionError> {
        stretch(low, high)?;
        Ok(Self { shape: Shape::Uniform { low, high } })
    }

    /// Likelihood rises in a straight line from `low` to `mode` and falls to `high`; `mode` may be one of the bounds.
    ///
    /// # Errors
    /// [`DistributionError`]: a number that is not finite; `low` not below `high`; `mode` outside them.
    pub fn triangular(low: f64, mode: f64, high: f64) -> Result<Self, DistributionError> {
        stretch(low, high)?;
        finite("most likely value", mode)?;
        if !(low..=high).contains(&mode) {
            return Err(DistributionError::Mode { low, mode, high });
        }
        Ok(Self { shape: Shape::Triangular { low, mode, high } })
    }

    /// Normal, cut to the bounds: `mean` and `standard_deviation` are those before the cut.
    ///
    /// # Errors
    /// [`DistributionError`]: a number that is not finite; a standard deviation that is not above 0; bounds that are
    /// crossed or so far out that nothing is left.
    pub fn normal(mean: f64, standard_deviation: f64, bounds: Bounds) -> Result<Self, DistributionError> {
        finite("mean", mean)?;
        above("standard deviation", standard_deviation, 0.0)?;
        let low = bounds.low.map(|low| finite("lower bound", low)).transpose()?;
        let high = bounds.high.map(|high| finite("upper bound", high)).transpose()?;
        let shape = Normal::new(mean, standard_deviation, low, high)?;
        Ok(Self { shape: Shape::Normal(shape) })
    }

    /// Normal in the logarithm, cut to the bounds: half lies below `median`, about two thirds between `median / factor`
    /// and `median × factor`, where `factor` is the geometric standard deviation.
    ///
    /// # Errors
    /// [`DistributionError`]: a number that is not finite; a median or lower bound that is not above 0, a factor that is
    /// not above 1; bounds that are crossed or so far out that nothing is left.
    pub fn log_normal(median: f64, factor: f64, bounds: Bounds) -> Result<Self, DistributionError> {
        above("median", median, 0.0)?;
        above("geometric standard deviation", factor, 1.0)?;
        let low = bounds.low.map(|low| above("lower bound", low, 0.0)).transpose()?;
        let high = bounds.high.map(|high| above("upper bound", high, 0.0)).transpose()?;
        if let (Some(low), Some(high)) = (low, high) {
            stretch(low, high)?;
        }
        let logarithm = Normal::new(median.ln(), factor.ln(), low.map(f64::ln), high.map(f64::ln));
        let (low, high) = (low.unwrap_or(0.0), high.unwrap_or(f64::INFINITY));
        // Told in the caller's numbers, not in their logarithms.
        let logarithm = logarithm.map_err(|_| DistributionError::NothingLeft { about: median, low, high })?;
        Ok(Self { shape: Shape::LogNormal { logarithm, low, high } })
    }

    /// Each value as often as its weight says; weights need not sum to 1.
    ///
    /// # Errors
    /// [`DistributionError`]: no values, another number of weights, a value that is not finite, a weight not above 0.
    pub fn discrete(values: &[f64], weights: &[f64]) -> Result<Self, DistributionError> {
        all_finite(values)?;
        if values.len() != weights.len() {
            return Err(DistributionError::Lengths { values: values.len(), weights: weights.len() });
        }
        let mut sums = Vec::with_capacity(weights.len());
        let mut sum = 0.0;
        for (index, &weight) in weights.iter().enumerate() {
            sum += weight;
            if !(weight > 0.0 && sum < f64::INFINITY) {
                return Err(DistributionError::Weight { place: index + 1, weight });
            }
            sums.push(sum);
        }
        Ok(Self { shape: Shape::Discrete { values: values.to_vec(), sums } })
    }

    /// Each value as often as any other; the share runs through them in the order given.
    ///
    /// # Errors
    /// [`DistributionError`]: no values, or one that is not finite.
    pub fn list(values: &[f64]) -> Result<Self, DistributionError> {
        all_finite(values)?;
        Ok(Self { shape: Shape::List { values: values.to_vec() } })
    }

    /// The value below which `share` of the cases lie, 0 to 1. It never falls when the share rises, except in a list or
    /// among discrete values that are not in rising order.
    ///
    /// # Errors
    /// [`QuantileError`]: a share outside 0 to 1, or 0 or 1 where the distribution has no end.
    pub fn quantile(&self, share: f64) -> Result<f64, QuantileError> {
        if !(0.0..=1.0).contains(&share) {
            return Err(QuantileError::NotAShare { share });
        }
        let value = match &self.shape {
            &Shape::Uniform { high, .. } if share >= 1.0 => high,
            &Shape::Uniform { low, high } => (low + share * (high - low)).min(high),
            &Shape::Triangular { low, mode, high } => {
                let (width, left, right) = (high - low, mode - low, high - mode);
                if share * width < left {
                    (low + width * (share * (left / width)).sqrt()).min(mode)
                } else {
                    (high - width * ((1.0 - share) * (right / width)).sqrt()).max(mode)
                }
            }
            Shape::Normal(normal) => normal.quantile(share),
            // At an end without a bound the logarithm is infinite, and no value is at its exponential, 0 or ∞.
            Shape::LogNormal { logarithm, low, high } => match logarithm.quantile(share) {
                f64::NEG_INFINITY => f64::NEG_INFINITY,
                _ if share <= 0.0 => *low,
                _ if share >= 1.0 => *high,
                logarithm => logarithm.exp().clamp(*low, *high),
            },
            Shape::Discrete { values, .. } | Shape::List { values } => values[self.place(share).unwrap_or(0)],
        };
        if value.is_finite() { Ok(value) } else { Err(QuantileError::Endless { share }) }
    }

    /// Which of its values a list or discrete distribution takes at `share`, counted from 0; none of a continuous one.
    ///
    /// # Errors
    /// [`QuantileError::NotAShare`]: a share outside 0 to 1.
    pub fn choice(&self, share: f64) -> Result<Option<usize>, QuantileError> {
        if (0.0..=1.0).contains(&share) {
            Ok(self.place(share))
        } else {
            Err(QuantileError::NotAShare { share })
        }
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to the length")]
    fn place(&self, share: f64) -> Option<usize> {
        match &self.shape {
            Shape::List { values } => {
                // A share of 1 takes the last. The product is not negative and at most the length.
                Some(((share * values.len() as f64) as usize).min(values.len() - 1))
            }
            Shape::Discrete { sums, .. } => {
                let sought = share * sums.last().copied().unwrap_or(0.0);
                Some(sums.partition_point(|&sum| sum <= sought).min(sums.len() - 1))
            }
            _ => None,
        }
    }
}

/// A normal distribution between bounds, with the shares of the whole one that lie below, within and above.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Normal {
    mean: f64,
    deviation: f64,
    low: f64,
    high: f64,
    below: f64,
    within: f64,
    above: f64,
}

impl Normal {
    /// Finite numbers, `deviation` above 0.
    fn new(
        mean: f64,
        deviation: f64,
        low: Option<f64>,
        high: Option<f64>,
    ) -> Result<Self, DistributionError> {
        if let (Some(low), Some(high)) = (low, high) {
            stretch(low, high)?;
        }
        let (low, high) = (low.unwrap_or(f64::NEG_INFINITY), high.unwrap_or(f64::INFINITY));
        let (from, to) = ((low - mean) / deviation, (high - mean) / deviation);
        // Each difference is taken in the tail where it does not cancel.
        let within = if from > 0.0 {
            share_below(-from) - share_below(-to)
        } else {
            share_below(to) - share_below(from)
        };
        // Below it, shares lose their digits.
        if within < 1e-290 {
            return Err(DistributionError::NothingLeft { about: mean, low, high });
        }
        Ok(Self { mean, deviation, low, high, below: share_below(from), within, above: share_below(-to) })
    }

    /// The bounds themselves at 0 and 1; infinite where there is none.
    fn quantile(&self, share: f64) -> f64 {
        if share <= 0.0 {
            return self.low;
        }
        if share >= 1.0 {
            return self.high;
        }
        let below = self.below + share * self.within;
        let z = if below <= 0.5 {
            below_which(below)
        } else {
            -below_which(self.above + (1.0 - share) * self.within)
        };
        // Bounds are met but for rounding.
        (self.mean + self.deviation * z).clamp(self.low, self.high)
    }
}

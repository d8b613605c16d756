//! Which runs to make when inputs are uncertain, and what the spread of the results says.
//!
//! | to … | use |
//! | --- | --- |
//! | say how an input is spread | [`distributions`] |
//! | choose the runs | [`plan`] |
//! | let inputs rise and fall together | [`correlation`] |
//! | share the spread of a result among the inputs | [`sobol_indices`] |
//! | find the inputs that matter with few runs | [`morris`] |
//! | put a spread into a few numbers | [`spread`] |
//!
//! Every point is a function of the plan, the seed and its number, so that any part of a plan can be made anywhere, in any
//! order, and comes out in the same bits. Points are in the unit cube; distributions carry them to values. Logarithm and
//! exponential are the machine's: a value of a normal or log-normal input may differ in its last digit on another
//! machine; its point in the unit cube does not. Nothing is read, written or shown here, and nothing is run.
//!
//! # Example
//! ```
//! use sampling::correlation::Copula;
//! use sampling::distributions::Distribution;
//! use sampling::plan::Plan;
//! use sampling::spread::Spread;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let leakage_per_h = Distribution::uniform(1.0, 7.0)?;
//! let price = Distribution::triangular(1_800.0, 2_200.0, 3_000.0)?;
//! // Leaky houses are a little cheaper.
//! let together = Copula::of_pairs(2, &[(0, 1, -0.3)])?;
//! let plan = Plan::sobol(2, 1_024, 7)?;
//! let mut costs = Vec::new();
//! for run in 0..plan.points() {
//!     let point = together.correlate(&plan.point(run)?)?;
//!     costs.push(price.quantile(point[1])? + 90.0 * leakage_per_h.quantile(point[0])?);
//! }
//! let Spread { p10, p50, p90, .. } = Spread::of(&costs)?;
//! assert!(p10 < p50 && p50 < p90);
//! # Ok(())
//! # }
//! ```

pub mod correlation;
pub mod distributions;
mod draw;
mod joe_kuo;
pub mod morris;
mod normal;
pub mod plan;
mod sequence;
pub mod sobol_indices;
pub mod spread;

//! What a fit answers.
//!
//! Not here: how it is found (`fit`).

use std::fmt;

use super::error::Place;
use super::figures::Figure;
use super::forward::RatedUnit;

/// A unit that follows from a sheet, how well, and what had to be assumed.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The unit: conductances, the flow to which they belong, exponent and leak.
    pub unit: RatedUnit,
    /// Where the flow exponent comes from.
    pub flow_exponent: FlowExponent,
    /// Where the cross-leakage comes from.
    pub cross_leakage: CrossLeakage,
    /// Points without a stated power, whose fan heat was taken as none.
    pub without_power: Vec<Place>,
    /// Every stated figure beside what the unit gives.
    pub points: Vec<PointCheck>,
    /// What defrost takes at the low-temperature points.
    pub low_temperature: Vec<DefrostLoss>,
    /// What the label, taken as an effectiveness, would have given; none if its figure is 0.98 or more.
    pub naive: Option<Naive>,
}

/// `n` in `NTU ∝ m⁻ⁿ`, and where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FlowExponent {
    /// From two flows or more.
    Fitted(f64),
    /// 0.8, since the sheet has one flow; what that does at half and at one and a half of the flow.
    Assumed {
        /// The exponent.
        value: f64,
        /// Its spread.
        spread: [EffectivenessAtFlow; 2],
    },
}

impl FlowExponent {
    /// The exponent.
    pub const fn value(self) -> f64 {
        match self {
            Self::Fitted(value) | Self::Assumed { value, .. } => value,
        }
    }
}

/// Dry sensible effectiveness at equal flows, another flow than the rated one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EffectivenessAtFlow {
    /// Flow as a share of the rated one.
    pub flow_share: f64,
    /// With exponent 0.7.
    pub least_exponent: f64,
    /// With exponent 0.8.
    pub assumed_exponent: f64,
    /// With exponent 1.
    pub largest_exponent: f64,
}

/// Share of the supply air that is extract air, and where the number comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CrossLeakage {
    /// The share.
    pub value: f64,
    /// Its source.
    pub source: CrossLeakageSource,
}

/// Where a cross-leakage comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CrossLeakageSource {
    /// The sheet states it.
    Stated,
    /// From net and gross airflow.
    Airflows,
    /// Fitted: a point states both an apparent and a corrected figure.
    Fitted,
    /// Taken as none: the sheet does not tell.
    TakenAsNone,
}

/// A stated figure beside what the fitted unit gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointCheck {
    /// Which point.
    pub place: Place,
    /// Which figure.
    pub figure: Figure,
    /// As stated.
    pub stated: f64,
    /// As the fitted unit gives it.
    pub given_by_core: f64,
    /// `given_by_core − stated`.
    pub error: f64,
    /// How the fit used it.
    pub use_in_fit: UseInFit,
}

/// Whether a figure decided on the core.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum UseInFit {
    /// It did.
    Fitted,
    /// It did not: defrost may be in it.
    MayContainDefrost,
}

impl fmt::Display for PointCheck {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { place, figure, stated, given_by_core, .. } = self;
        write!(f, "{place}: {figure} is stated as {stated:.3}, the closest core gives {given_by_core:.3}")
    }
}

/// What defrost takes at a low-temperature point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DefrostLoss {
    /// Which point.
    pub place: Place,
    /// Which figure.
    pub figure: Figure,
    /// As stated, defrost included.
    pub stated: f64,
    /// As the unit would give it if it never defrosted.
    pub frost_free: f64,
    /// `stated − frost_free`: below 0 is a loss.
    pub difference: f64,
    /// Supply air as a share of that without defrost, where stated.
    pub ventilation_reduction: Option<f64>,
}

/// A label figure taken as an effectiveness of the core, at the first frost-free point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Naive {
    /// Which figure.
    pub figure: Figure,
    /// What it states.
    pub stated: f64,
    /// The conductance that follows for a dry core at equal flows [W/K].
    pub ua_w_per_k: f64,
    /// Supply temperature with that conductance less that of the fitted unit, outdoors 0 °C and 80 % \[K\].
    pub supply_error_at_0_c_k: f64,
    /// The same at −20 °C \[K\].
    pub supply_error_at_minus_20_c_k: f64,
}

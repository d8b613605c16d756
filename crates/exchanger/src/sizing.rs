//! Conductances from the simple pair of effectivenesses.
//!
//! Not here: the fit to a rating sheet's test points.

/// Why an effectiveness cannot be turned into a conductance.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum SizingError {
    /// An effectiveness outside its range.
    #[error("effectiveness {0} is outside 0…0.98")]
    Effectiveness(f64),
    /// A flow that is not positive.
    #[error("flow {0} kg/s is not above 0")]
    Flow(f64),
    /// A conductance below 0 or not finite.
    #[error("conductance {0} is not a number of 0 or more")]
    Conductance(f64),
    /// A share of counterflow outside its range.
    #[error("counterflow share {0} is outside 0…1")]
    CounterShare(f64),
    /// More transfer units than any core has.
    #[error(
        "a conductance of {0:.0} times the smaller heat capacity flow is more than the 50 that any core has"
    )]
    TransferUnits(f64),
    /// A wheel's capacity ratio outside its range.
    #[error("capacity ratio {0} of a wheel is outside 1…1000")]
    CapacityRatio(f64),
    /// More vapour than the air films alone let pass.
    #[error(
        "a vapour conductance of {vapour:.4} kg/s is more than the air films beside the plate let pass, {films:.4} kg/s: \
         latent effectiveness cannot be above sensible effectiveness"
    )]
    Vapour {
        /// Asked for [kg/s].
        vapour: f64,
        /// Heat conductance over the heat capacity of air [kg/s].
        films: f64,
    },
}

/// Heat conductance [W/K] of a dry balanced counterflow core with this effectiveness (0…0.98) at this flow of dry
/// air [kg/s]: `UA = m c_p ε/(1 − ε)`, `c_p` 1006 J/kgK.
///
/// # Errors
/// [`SizingError`] outside those ranges.
///
/// # Source
/// Effectiveness–NTU for counterflow at equal flows, `NTU = ε/(1 − ε)`.
pub fn conductance_w_per_k(effectiveness: f64, flow_kg_per_s: f64) -> Result<f64, SizingError> {
    Ok(1006.0 * vapour_conductance_kg_per_s(effectiveness, flow_kg_per_s)?)
}

/// Vapour conductance [kg dry air/s] of a balanced counterflow membrane core with this latent effectiveness
/// (0…0.98) at this flow of dry air [kg/s].
///
/// # Errors
/// [`SizingError`] outside those ranges.
pub fn vapour_conductance_kg_per_s(effectiveness: f64, flow_kg_per_s: f64) -> Result<f64, SizingError> {
    if !(0.0..=0.98).contains(&effectiveness) {
        return Err(SizingError::Effectiveness(effectiveness));
    }
    if !(flow_kg_per_s.is_finite() && flow_kg_per_s > 0.0) {
        return Err(SizingError::Flow(flow_kg_per_s));
    }
    Ok(flow_kg_per_s * effectiveness / (1.0 - effectiveness))
}

/// What a conductance is multiplied by at another flow: `(m/m₀)^(1 − n)`, for `NTU ∝ m⁻ⁿ`; both flows above 0.
pub fn flow_scale(flow_ratio: f64, exponent: f64) -> f64 {
    let logarithm: f64 = lanes::Real::ln(flow_ratio);
    lanes::Real::exp((1.0 - exponent) * logarithm)
}

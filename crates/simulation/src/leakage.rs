//! A leakage result as it is written down, to a coefficient, and from a coefficient to every other way of writing it.
//!
//! A blower-door result in air changes or as a flow, an area at a pressure with either discharge coefficient, a normalised leakage:
//! each becomes an [`infiltration::Leakage`](crate::infiltration::Leakage), and [`figures`] gives all of them back. Volume flows are air
//! at the density of the definitions (1.2 kg/m³). Not here: the power law itself and the single-zone models (`infiltration`), what
//! infiltration is credited with (`credit`).
//!
//! # Sources
//! \[ASHRAE-F16\] Handbook of Fundamentals, chapter 16; \[62.2\] ASHRAE 62.2; \[CGSB\] the 10 Pa area with a discharge coefficient of
//! 0.611: all recalled.

use lanes::Real;

use crate::infiltration::Leakage;

/// Exponent where none is given [-].
pub const DEFAULT_EXPONENT: f64 = 0.65;
/// Discharge coefficient of the effective leakage area at 4 Pa [-].
pub const EFFECTIVE_DISCHARGE: f64 = 1.0;
/// Discharge coefficient of the equivalent leakage area at 10 Pa [-].
pub const EQUIVALENT_DISCHARGE: f64 = 0.611;

const SECONDS_PER_HOUR: f64 = 3600.0;
const TEST_PA: f64 = 50.0;
const EFFECTIVE_PA: f64 = 4.0;
const LEAKAGE_DENSITY: f64 = 1.2;
/// Height to which normalised leakage refers \[m\].
const REFERENCE_HEIGHT_M: f64 = 2.5;

/// Why a leakage result cannot be taken.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum LeakageResultError {
    /// A number outside its range, or none at all.
    #[error("the {quantity} is {value}{unit}; it must be from {low} to {high}{unit}")]
    OutOfRange {
        /// What it is.
        quantity: &'static str,
        /// Its value.
        value: f64,
        /// Its unit, with a space before it; empty for a ratio.
        unit: &'static str,
        /// Least allowed.
        low: f64,
        /// Greatest allowed.
        high: f64,
    },
    /// A coefficient that follows from the result and cannot be.
    #[error(
        "the leakage result amounts to {flow_m3_per_s} m³/s at {pressure_pa} Pa; it must be from 0 to 50 m³/s"
    )]
    TooMuch {
        /// What passes [m³/s].
        flow_m3_per_s: f64,
        /// At which pressure \[Pa\].
        pressure_pa: f64,
    },
}

/// A leakage result, as it stands on a test report.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LeakageResult {
    /// Air changes of the house's volume.
    AirChanges {
        /// Changes an hour [1/h], 0…100.
        per_hour: f64,
        /// Pressure \[Pa\], 1…100.
        pressure_pa: f64,
    },
    /// A volume flow.
    Flow {
        /// Flow [m³/s], 0…50.
        m3_per_s: f64,
        /// Pressure \[Pa\], 1…100.
        pressure_pa: f64,
    },
    /// The area of a hole that leaks as much.
    Area {
        /// Area \[m²\], 0…5.
        m2: f64,
        /// Pressure \[Pa\], 1…100.
        pressure_pa: f64,
        /// Discharge coefficient [-], 0.5…1: see [`EFFECTIVE_DISCHARGE`], [`EQUIVALENT_DISCHARGE`].
        discharge: f64,
    },
    /// Normalised leakage.
    Normalised {
        /// Value [-], 0…20.
        value: f64,
    },
}

/// Sizes that turn a result into another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sizes {
    /// Volume inside the tested envelope \[m³\], 10…50 000.
    pub volume_m3: f64,
    /// Floor area \[m²\], 5…5000.
    pub floor_m2: f64,
    /// Height from the lowest floor above grade to the highest ceiling \[m\], 1…30.
    pub height_m: f64,
}

/// One leakage in every way of writing it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeakageFigures {
    /// `c` [m³/(s Paⁿ)].
    pub coefficient_m3_per_s: f64,
    /// `n` [-].
    pub exponent: f64,
    /// Flow at 50 Pa [m³/s].
    pub flow_50_m3_per_s: f64,
    /// Air changes at 50 Pa [1/h].
    pub changes_50_per_h: f64,
    /// Effective leakage area, 4 Pa, discharge coefficient 1 \[m²\].
    pub effective_area_m2: f64,
    /// Equivalent leakage area, 10 Pa, discharge coefficient 0.611 \[m²\].
    pub equivalent_area_m2: f64,
    /// Normalised leakage [-].
    pub normalised: f64,
}

/// Coefficient and exponent of a leakage result.
///
/// `c = Q/Δpⁿ`, with `Q = N V/3600`, `Q = C_D A √(2 Δp/ρ)`, or the 4 Pa area of a normalised leakage,
/// `A = NL A_floor/(1000 (H/2.5 m)^0.4)`.
///
/// # Errors
/// [`LeakageResultError`] for a number outside the range beside it, and an exponent outside 0.5…1.
///
/// # Source
/// \[ASHRAE-F16\], \[62.2\], recalled.
pub fn leakage_of(
    result: &LeakageResult,
    sizes: &Sizes,
    exponent: f64,
) -> Result<Leakage, LeakageResultError> {
    check_sizes(sizes)?;
    range("leakage exponent", exponent, (0.5, 1.0), "")?;
    let (m3_per_s, pressure_pa) = flow_of(result, sizes)?;
    Leakage::of_flow(m3_per_s, pressure_pa, exponent)
        .map_err(|_| LeakageResultError::TooMuch { flow_m3_per_s: m3_per_s, pressure_pa })
}

/// A leakage in every way of writing it.
///
/// # Errors
/// [`LeakageResultError`] for sizes outside their ranges, a coefficient outside 0…50 m³/(s Paⁿ), and an exponent outside 0.5…1.
pub fn figures(leakage: &Leakage, sizes: &Sizes) -> Result<LeakageFigures, LeakageResultError> {
    check_sizes(sizes)?;
    range("leakage exponent", leakage.exponent, (0.5, 1.0), "")?;
    range("leakage coefficient", leakage.coefficient_m3_per_s, (0.0, 50.0), " m³/(s Paⁿ)")?;
    let flow_50_m3_per_s = leakage.flow_m3_per_s(TEST_PA);
    Ok(LeakageFigures {
        coefficient_m3_per_s: leakage.coefficient_m3_per_s,
        exponent: leakage.exponent,
        flow_50_m3_per_s,
        changes_50_per_h: flow_50_m3_per_s * SECONDS_PER_HOUR / sizes.volume_m3,
        effective_area_m2: leakage.effective_area_m2(),
        equivalent_area_m2: leakage.equivalent_area_m2(),
        normalised: leakage.normalised(sizes.floor_m2, sizes.height_m),
    })
}

/// Area that leaks as much at a pressure: `A = Q/(C_D √(2 Δp/ρ))` \[m²\].
///
/// # Errors
/// [`LeakageResultError`] unless the pressure is 1…100 Pa and the discharge coefficient 0.5…1.
///
/// # Source
/// \[ASHRAE-F16\], recalled.
pub fn area_m2(leakage: &Leakage, pressure_pa: f64, discharge: f64) -> Result<f64, LeakageResultError> {
    check_hole(pressure_pa, discharge)?;
    Ok(leakage.flow_m3_per_s(pressure_pa) / (discharge * speed_m_per_s(pressure_pa)))
}

fn flow_of(result: &LeakageResult, sizes: &Sizes) -> Result<(f64, f64), LeakageResultError> {
    match *result {
        LeakageResult::AirChanges { per_hour, pressure_pa } => {
            range("air changes of the leakage test", per_hour, (0.0, 100.0), " 1/h")?;
            check_pressure(pressure_pa)?;
            Ok((per_hour * sizes.volume_m3 / SECONDS_PER_HOUR, pressure_pa))
        }
        LeakageResult::Flow { m3_per_s, pressure_pa } => {
            range("flow of the leakage test", m3_per_s, (0.0, 50.0), " m³/s")?;
            check_pressure(pressure_pa)?;
            Ok((m3_per_s, pressure_pa))
        }
        LeakageResult::Area { m2, pressure_pa, discharge } => {
            range("leakage area", m2, (0.0, 5.0), " m²")?;
            check_hole(pressure_pa, discharge)?;
            Ok((discharge * m2 * speed_m_per_s(pressure_pa), pressure_pa))
        }
        LeakageResult::Normalised { value } => {
            range("normalised leakage", value, (0.0, 20.0), "")?;
            let stretched = Real::exp(0.4 * Real::ln(sizes.height_m / REFERENCE_HEIGHT_M));
            let m2 = value * sizes.floor_m2 / (1000.0 * stretched);
            Ok((m2 * speed_m_per_s(EFFECTIVE_PA), EFFECTIVE_PA))
        }
    }
}

/// Speed of air through a sharp hole without contraction [m/s].
fn speed_m_per_s(pressure_pa: f64) -> f64 {
    (2.0 * pressure_pa / LEAKAGE_DENSITY).sqrt()
}

fn check_pressure(pressure_pa: f64) -> Result<(), LeakageResultError> {
    range("pressure of the leakage test", pressure_pa, (1.0, 100.0), " Pa")
}

fn check_hole(pressure_pa: f64, discharge: f64) -> Result<(), LeakageResultError> {
    check_pressure(pressure_pa)?;
    range("discharge coefficient of the leakage area", discharge, (0.5, 1.0), "")
}

fn check_sizes(sizes: &Sizes) -> Result<(), LeakageResultError> {
    range("volume of the house", sizes.volume_m3, (10.0, 50_000.0), " m³")?;
    range("floor area", sizes.floor_m2, (5.0, 5000.0), " m²")?;
    range("height of the house", sizes.height_m, (1.0, 30.0), " m")
}

fn range(
    quantity: &'static str,
    value: f64,
    (low, high): (f64, f64),
    unit: &'static str,
) -> Result<(), LeakageResultError> {
    if value >= low && value <= high {
        return Ok(());
    }
    Err(LeakageResultError::OutOfRange { quantity, value, unit, low, high })
}

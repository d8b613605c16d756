//! What unequal fans do to the pressure in a house, and what appliances that draw air from its rooms are held to stand.
//!
//! The pressure is that of the power law alone, without wind and stack: `Δp = (Q/c)^(1/n)`. Fans of a clothes dryer or a hood belong in
//! the flows that are given. Not here: appliances' names and limits (`infiltration::Appliance`), how flows hang together in the hour
//! (`envelope`). The limits are recalled, not a compliance check.
//!
//! # Source
//! ASHRAE Fundamentals chapter 16 (power law, recalled). The worst-case test is described publicly with ASTM E1998, whose scope and
//! a 6.1 Pa example were read; requirements for Canada are in CSA F300, whose existence was read.

use crate::infiltration::{Appliance, Leakage};

/// Caution that belongs beside every pressure of this kind: a fact, not advice on a given house.
pub const CAUTION: &str = "Unequal flows, and defrosting with the supply off, can draw combustion gases from fireplaces, stoves and \
    water heaters with a draught hood into the rooms: they need sealed combustion or a path for make-up air, and a carbon monoxide alarm \
    on each sleeping level.";

/// Where the limits are from.
pub const LIMIT_SOURCE: &str =
    "public guides on worst-case depressurisation tests, recalled; local codes rule";

/// Greatest flow that a fan is asked about [m³/s].
const MOST_M3_PER_S: f64 = 50.0;
/// Greatest pressure that is told as a number \[Pa\]: above it the power law was never measured.
const MOST_PA: f64 = 1000.0;

/// Why a pressure cannot be told.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum PressureError {
    /// A flow outside its range, or none at all.
    #[error("the {quantity} is {value} m³/s; it must be from 0 to {MOST_M3_PER_S} m³/s")]
    Flow {
        /// What it is.
        quantity: &'static str,
        /// Its value [m³/s].
        value: f64,
    },
    /// A leakage that cannot be.
    #[error(
        "the envelope's leakage is {coefficient} m³/(s Paⁿ) with exponent {exponent}; it must be from 0 to {MOST_M3_PER_S} m³/(s Paⁿ), \
         the exponent from 0.5 to 1"
    )]
    Leakage {
        /// `c` [m³/(s Paⁿ)].
        coefficient: f64,
        /// `n` [-].
        exponent: f64,
    },
    /// An envelope so tight that the fans would stall long before.
    #[error(
        "{unbalanced_m3_per_s} m³/s that the fans move one way cannot pass the envelope's leakage below {MOST_PA} Pa: \
         the fans would move less"
    )]
    TooTight {
        /// Difference of the flows [m³/s].
        unbalanced_m3_per_s: f64,
    },
}

/// Whether an appliance is held to stand a pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// The house is not depressurised beyond the limit.
    Within,
    /// The house is depressurised beyond the limit.
    Beyond,
}

/// An appliance beside a house's pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// Which.
    pub appliance: Appliance,
    /// Depressurisation that it stands \[Pa\].
    pub limit_pa: f64,
    /// Whether it does.
    pub standing: Standing,
    /// Where the limit is from.
    pub source: &'static str,
}

/// Pressure indoors less outdoors \[Pa\], negative where the fans draw more out than in: `±(|supply − exhaust|/c)^(1/n)`.
///
/// # Errors
/// [`PressureError`] for flows outside 0…50 m³/s, a leakage that cannot be, and a pressure above 1000 Pa, such as any with a
/// leakage of zero and unequal flows.
///
/// # Source
/// ASHRAE Fundamentals chapter 16, recalled.
pub fn house_pressure_pa(
    leakage: &Leakage,
    supply_m3_per_s: f64,
    exhaust_m3_per_s: f64,
) -> Result<f64, PressureError> {
    check_flow("supply flow", supply_m3_per_s)?;
    check_flow("exhaust flow", exhaust_m3_per_s)?;
    check_leakage(leakage)?;
    let unbalanced_m3_per_s = (supply_m3_per_s - exhaust_m3_per_s).abs();
    let pressure_pa = leakage.pressure_pa(unbalanced_m3_per_s);
    if pressure_pa > MOST_PA {
        return Err(PressureError::TooTight { unbalanced_m3_per_s });
    }
    Ok(if exhaust_m3_per_s > supply_m3_per_s { -pressure_pa } else { pressure_pa })
}

/// Every kind of appliance, the most sensitive first, beside this pressure of indoors less outdoors \[Pa\]. A pressure that is not a
/// number is beyond all limits.
pub fn judged(house_pressure_pa: f64) -> [Judged; Appliance::ALL.len()] {
    Appliance::ALL.map(|appliance| {
        let limit_pa = appliance.limit_pa();
        let standing = if house_pressure_pa >= -limit_pa { Standing::Within } else { Standing::Beyond };
        Judged { appliance, limit_pa, standing, source: LIMIT_SOURCE }
    })
}

fn check_flow(quantity: &'static str, value: f64) -> Result<(), PressureError> {
    if (0.0..=MOST_M3_PER_S).contains(&value) { Ok(()) } else { Err(PressureError::Flow { quantity, value }) }
}

fn check_leakage(leakage: &Leakage) -> Result<(), PressureError> {
    let (coefficient, exponent) = (leakage.coefficient_m3_per_s, leakage.exponent);
    if (0.0..=MOST_M3_PER_S).contains(&coefficient) && (0.5..=1.0).contains(&exponent) {
        Ok(())
    } else {
        Err(PressureError::Leakage { coefficient, exponent })
    }
}

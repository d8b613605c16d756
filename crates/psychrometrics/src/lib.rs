//! Moist air between −60 and 60 °C, 50 and 110 kPa: the handbook's ideal-gas equations.
//!
//! | to … | use |
//! | --- | --- |
//! | know everything about air from any two properties | [`MoistAir::from_pair`] |
//! | get one property, checked | [`checked`] |
//! | mix, heat, cool or humidify air | [`processes`] |
//! | turn altitude into pressure and back | [`standard_pressure_pa`], [`standard_altitude_m`] |
//! | calculate for many houses at once, unchecked | [`formulas`] |
//!
//! | file | what is there |
//! | --- | --- |
//! | `formulas.rs`, `formulas/saturation.rs` | constants and closed relations over any [`lanes::Real`]; saturation as published |
//! | `formulas/fast.rs` | saturation and dew point by fitted kernels, with slopes |
//! | `checked.rs`, `range.rs`, `error.rs` | one property a function; every range; what can be wrong |
//! | `moist_air.rs`, `pairs.rs` | the state, and how thirteen pairs are solved |
//! | `curve.rs` | saturation of air with or without the enhancement factor |
//! | `wet_bulb.rs`, `root.rs` | the two wet-bulb equations; the bracketed search |
//! | `processes.rs`, `fog.rs` | balances of dry air, water and enthalpy; over-saturated results |
//! | `atmosphere.rs` | the standard atmosphere |
//!
//! **Left out, and how much that is.** Real-gas effects: humidity ratio reads 0.3…0.6 % low, specific volume
//! 0.13 % high at most, dew point within 0.02 K, wet bulb within 0.03 K of a real-gas library over −40…50 °C;
//! [`EnhancementFactor::ByPressure`] brings the humidity ratio within 0.17 %.
//!
//! **Ice and water.** Saturation is over ice up to 0.01 °C and over water above it; the wet bulb changes at 0 °C.
//! Weather services mean *water* below freezing too: the functions that say `over_water` are for them.
//!
//! # Sources
//! - \[ASHRAE-F\] ASHRAE Handbook, Fundamentals, chapter 1, Psychrometrics (SI). Coefficients and forms as the library
//!   psychrolib 2.5.0 implements them; equations are named rather than numbered, since numbers differ by edition.
//! - \[HW83\] Hyland and Wexler, *Formulations for the thermodynamic properties of the saturated phases of H2O from
//!   173.15 K to 473.15 K*, ASHRAE Transactions 89(2A), 1983.
//!
//! # Example
//! ```
//! use psychrometrics::processes::{Condensate, cool_through_saturation_to};
//! use psychrometrics::{Given, MoistAir, standard_pressure_pa};
//!
//! let pressure_pa = standard_pressure_pa(300.0)?;
//! let summer = MoistAir::from_pair(Given::DryBulbC(32.0), Given::WetBulbC(25.0), pressure_pa)?;
//! let cooled = cool_through_saturation_to(&summer, 12.0)?;
//! assert!(matches!(cooled.condensate, Condensate::Liquid(kg) if kg > 0.008));
//! # Ok::<(), psychrometrics::AirError>(())
//! ```

mod atmosphere;
pub mod checked;
mod curve;
mod error;
mod fog;
pub mod formulas;
mod moist_air;
mod pairs;
pub mod processes;
mod range;
mod root;
mod wet_bulb;

pub use atmosphere::{SEA_LEVEL_PA, standard_altitude_m, standard_pressure_pa};
pub use curve::EnhancementFactor;
pub use error::{AirError, OutOfRange};
pub use moist_air::{Given, MoistAir, Property};

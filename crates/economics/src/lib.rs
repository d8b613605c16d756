//! What a unit is worth: from hours of energy to bills, from bills to present value, from there to a recommendation.
//!
//! | to … | use |
//! | --- | --- |
//! | turn hours of energy into a bill, carbon and source energy | [`tariff`], [`timetable`] |
//! | turn yearly money into present value, payback, levelised cost | [`worth`] |
//! | fit the model's heating to the house's own bills | [`bills`] |
//! | recommend a unit, with the reasons | [`verdict`] |
//! | find what would change the recommendation | [`crossing`] |
//!
//! Money is in whatever currency the caller uses, the same everywhere; nothing here converts it. Energy is what is
//! bought \[kWh\], fuels by their higher heating value. Nothing is read, written or shown here.
//!
//! # Sources
//! - \[HB135\] Fuller, Petersen, *Life-Cycle Costing Manual*, NIST Handbook 135, 1995: present values, net savings,
//!   payback, residual value in proportion to the life left. Recalled; the formulas are closed and derived in place.
//! - \[EPA-SOURCE\] US EPA, technical reference *Source Energy*, August 2023: national ratios of source to site energy.
//!   Read for electricity and gas, recalled for the others.
//! - \[98-C1\] US 40 CFR 98 subpart C, table C-1, carbon dioxide of fuels by higher heating value, as of 2016. Read.
//! - Limits and other numbers name their source beside them, or say "assumed".
//!
//! # Example
//! ```
//! use economics::tariff::{Carrier, Price, Tariff};
//! use economics::worth::{Offer, Purchase, Terms, against};
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let gas = Tariff::new(Carrier::Gas, Price::Flat(0.09));
//! let yearly = |kwh: f64| gas.cost_of_year(kwh).map(|bill| gas.stream(&bill));
//! let house = Offer { purchase: Purchase::NONE, energy: vec![yearly(15_000.0)?] };
//! let purchase = Purchase { price: 2_400.0, upkeep_per_year: 40.0, life_years: 20.0, escalation_per_year: 0.0 };
//! let unit = Offer { purchase, energy: vec![yearly(11_500.0)?] };
//! let found = against(&unit, &house, &Terms::default())?;
//! // 3 500 kWh at 0.09 less 40 of upkeep: 275 a year, 14.877 of them over 20 years at 3 %.
//! assert!((found.net_present_value - (275.0 * 14.877475 - 2_400.0)).abs() < 1e-3);
//! # Ok(())
//! # }
//! ```

pub mod bills;
pub mod crossing;
mod range;
mod rules;
pub mod tariff;
pub mod timetable;
pub mod verdict;
pub mod worth;

pub use range::OutOfRange;

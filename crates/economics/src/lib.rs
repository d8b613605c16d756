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

pub mod bills;
pub mod crossing;
mod range;
mod rules;
pub mod tariff;
pub mod timetable;
pub mod verdict;
pub mod worth;

pub use range::OutOfRange;

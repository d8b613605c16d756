//! What a unit is worth: from hours of energy to bills, from bills to present value, from there to a recommendation.
//!
//! | to … | use |
//! | --- | --- |
//! | turn yearly money into present value, payback, levelised cost | [`worth`] |
//!
//! Money is in whatever currency the caller uses, the same everywhere; nothing here converts it. Energy is what is
//! bought \[kWh\], fuels by their higher heating value. Nothing is read, written or shown here.
//!
//! # Sources
//! - \[HB135\] Fuller, Petersen, *Life-Cycle Costing Manual*, NIST Handbook 135, 1995: present values, net savings,
//!   payback, residual value in proportion to the life left. Recalled; the formulas are closed and derived in place.

mod range;
pub mod worth;

pub use range::OutOfRange;

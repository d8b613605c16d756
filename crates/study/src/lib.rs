//! The study file: TOML text in, a validated [`Study`] in SI out, or every problem at once with its place.
//!
//! Here: quantities with units, the checks, the JSON Schema, a starter study. Not here: files, the console, the
//! engine. Read next: `model.rs` for the result, then `read.rs` for the way to it.

pub mod build;
mod keys;
mod kinds;
mod model;
mod problem;
mod quantity;
mod read;
mod schema;
mod specs;
mod table;
mod units;

pub use keys::known_keys;
pub use model::*;
pub use problem::{Problem, Problems};
pub use quantity::{Quantity, QuantityError, parse_quantity};
pub use read::{parse_study, text_of};
pub use schema::schema;
pub use units::{Dimension, UNITS, UnitOfMeasure};

/// A commented study to start from: an invented bungalow at an invented place, with two invented units.
pub const fn starter_study() -> &'static str {
    include_str!("starter.toml")
}

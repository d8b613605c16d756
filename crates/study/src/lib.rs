//! The study file: TOML text in, a validated [`Study`] in SI out, or every problem at once with its place.
//!
//! Here: quantities with units, the checks, the JSON Schema, a starter study. Not here: files, the console, the
//! engine. Read next: `model.rs` for the result, then `read.rs` for the way to it.
//!
//! # A unit's core
//! `core` is a sensible or an enthalpy plate or wheel. How well it exchanges is said in exactly one of four forms:
//!
//! | form | says | holds |
//! | --- | --- | --- |
//! | `[[unit.rating]]` | what a test sheet states, a point each; one of them at −10 °C or warmer | as tested |
//! | `[unit.conductance]` | `ua`, and `vapour` of an enthalpy core, `at` a flow | at any temperature |
//! | `[unit.effectiveness]` | `sensible`, and `latent` of an enthalpy core, `at` a flow; a list of them is a table over airflow | dry, balanced flows |
//! | `[unit.geometry]` | size and number of the passages, and the `membrane_resistance` of an enthalpy plate | plates only |
//!
//! Beside it stand `flow` (counter, cross, or quasi-counter with its `counter_share`; plates only), `[unit.wheel]`, and the
//! leaks: `cross_leakage`, `outdoor_air_correction`, `balance`, `hood_recirculation`. Every key has its range and default in the
//! JSON Schema. A figure of a rating sheet means what its `standard` says, so that figures of two standards do not mix in a
//! point. `ventilation_reduction` is the share of the flow that defrosting takes, not the share that it leaves.
//!
//! # Frost, fans, filters, free cooling
//! `[unit.frost]` names a `strategy`, and each strategy has keys of its own:
//!
//! | strategy | does | its keys |
//! | --- | --- | --- |
//! | `recirculate` | house air melts the frost, on demand or by a timetable | `[[unit.frost.timetable]]`, `returned` |
//! | `preheat` | an electric heater warms the outdoor air | `preheat_to`, `preheat_power` |
//! | `supply-off` | the supply fan stops, extract air melts the frost | `start_below`, `end_above` |
//! | `bypass` | cold air passes round the core | |
//! | `slow-down` | a wheel turns more slowly; the default of wheels, which have this and `none` | |
//! | `none` | the core may block; the default of plates | |
//!
//! `capacity`, `to_cold_end` (plates) and `hold_outdoor_air` go with any strategy. A fan of `kind = "fixed-speed"` needs its
//! `[unit.fan.curve]`; `[unit.filter]` loads over an `interval`; `[unit.bypass]` is the rule by which air passes round the core to
//! cool the house, and without it nothing opens.
//!
//! ```
//! let house = study::starter_study().split("# Two units").next().unwrap_or_default();
//! let unit = r#"
//!     [[unit]]
//!     name = "Rated"
//!     core = "sensible-plate"
//!     [[unit.rating]]
//!     outdoor = "0 °C"
//!     airflow = "64 cfm"
//!     sensible_recovery = 0.72
//!     power = "44 W"
//! "#;
//! let study = study::parse_study(&format!("{house}{unit}"), "rated.toml")?;
//! let study::Performance::Ratings(points) = &study.units[0].performance else { unreachable!() };
//! // As the standard's heating test has it, since the study leaves it open.
//! assert_eq!(points[0].indoor.dry_bulb_c, 22.0);
//! # Ok::<(), study::Problems>(())
//! ```

mod assumed;
pub mod build;
mod conditions;
mod frost_plan;
mod indoors;
mod keys;
mod kinds;
mod model;
mod problem;
mod quantity;
mod read;
mod required;
mod schema;
mod site;
pub mod sized;
mod specs;
pub mod steady;
mod table;
mod units;
pub mod vary;

pub use keys::{known_keys, nearest};
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

//! The recovery core: what passes between two air streams, and what it leaves as water and ice.
//!
//! Here: [`solve`], the *line solution* for the hourly run (fixed work a call, generic over lanes); [`cell`],
//! the reference that it is measured against; [`outlets`], the states of the leaving air, from what was posted.
//! Not here: fans, frost as a state, the house (crate `simulation`).
//!
//! | file | holds |
//! | --- | --- |
//! | `streams` | inlets, fluxes, outlets, and the enthalpy balance that ties them |
//! | `dry` | counterflow exchange without water on the plate, in closed form |
//! | `wet_plate` | the plate with a wet and a freezing part |
//! | `membrane` | the plate that passes vapour, dry in closed form, wet by a short march |
//! | `line` | which of these a core needs at this hour |
//! | `cell` | the plate cut into small cells, converged: the reference |
//! | `rating` | conductances from what a rating sheet states, and label figures from conductances |
//! | `geometry` | conductances and pressure drop from the measures of a laminar plate core |
//! | `sizing` | conductances from effectivenesses |
//!
//! Read next: `streams`.

pub mod cell;
mod dry;
pub mod geometry;
mod line;
mod membrane;
pub mod rating;
mod sizing;
mod streams;
mod wet_plate;

pub use dry::{counterflow_conductance_ratio, mean_drive};
pub use line::solve;
pub use sizing::{SizingError, conductance_w_per_k, vapour_conductance_kg_per_s};
pub use streams::{Core, CoreKind, Fluxes, Inlets, Outlets, outlets};

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
//! | `arrangement` | counterflow, crossflow, quasi-counterflow: conductances of the counterflow core that passes as much |
//! | `membrane` | cores that pass vapour, membranes and wheels |
//! | `dry_cells` | the same core cut into cells while it is dry |
//! | `wet_cells` | counterflow past a face that may be wet anywhere: eight cells, a few Newton steps |
//! | `wet_cell` | one of these cells, made linear |
//! | `cross` | crossflow: a grid of six by six |
//! | `pair` | the 2 × 2 matrices of `wet_cells` |
//! | `line` | which of these a core needs at this hour |
//! | `cell` | plates and wheels cut into small cells, converged: the reference |
//! | `accuracy` | how far the line solution lies from the cell solution |
//! | `rating` | conductances from what a rating sheet states, and label figures from conductances |
//! | `geometry` | conductances and pressure drop from the measures of a laminar plate core |
//! | `sizing` | conductances from effectivenesses |
//!
//! Read next: `streams`.

pub mod accuracy;
mod arrangement;
pub mod cell;
mod cross;
mod dry;
mod dry_cells;
pub mod geometry;
mod line;
mod membrane;
mod pair;
pub mod rating;
mod sizing;
mod streams;
mod wet_cell;
mod wet_cells;
mod wet_plate;

pub use arrangement::{Arrangement, effectiveness, ntu_of, rotation_factor};
pub use dry::{counterflow_conductance_ratio, mean_drive};
pub use line::solve;
pub use sizing::{SizingError, conductance_w_per_k, flow_scale, vapour_conductance_kg_per_s};
pub use streams::{Core, CoreKind, Fluxes, Inlets, Outlets, outlets};

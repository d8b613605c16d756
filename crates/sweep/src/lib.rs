//! Many house-years at once: a sweep file, batches, a data set in parts that can be resumed.
mod file;
pub use file::{Input, PlanKind, SweepFile, USUAL_PART, Values};

//! Many house-years at once: a sweep file, batches, a data set in parts that can be resumed.
mod cache;
mod file;
mod list;
mod sweep;
pub use file::{Input, PlanKind, SweepFile, USUAL_PART, Values};
pub use list::RunList;
pub use sweep::{Design, OpenError, SWING, Shown, Source, Sweep, Taken};

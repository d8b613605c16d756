//! Many house-years at once: a sweep file, batches, a data set in parts that can be resumed.
//!
//! | file | holds |
//! | --- | --- |
//! | `sweep` | **read this first**: a sweep opened and checked, and what each run changes |
//! | `file` | the sweep file and its messages |
//! | `list` | runs written down one by one |
//! | `runner` | houses of one kind side by side; a part's rows |
//! | `cache` | weather and drivers, kept while there is room |
//! | `money` | bills and worth from a year's sums |
//! | `columns` | the columns, and a part as Parquet |
//! | `summary` | P10, P50, P90; what the plan says of each input |
//! | `folder` | the folder of parts: whole or not at all, and what is left to do |
//!
//! A part is a function of the sweep's files and its number alone: the same bytes on any number of threads, in any share, after
//! any interruption. Not here: the engine (`simulation`), the plans' points (`sampling`), the console (`cli`).

mod cache;
mod columns;
mod file;
mod folder;
mod list;
mod money;
mod runner;
mod summary;
mod sweep;

pub use columns::{COLUMNS, Column, EncodeError, FAILED, RUN, UNIT, encode};
pub use file::{Input, PlanKind, SweepFile, USUAL_PART, Values};
pub use folder::{Folder, FolderError, MANIFEST, SUMMARIES};
pub use list::RunList;
pub use money::PairMoney;
pub use runner::{Outcome, Row, Runner};
pub use summary::{OfUnit, Summary, SummaryError, summarise};
pub use sweep::{Design, OpenError, SWING, Shown, Source, Sweep, Taken};

/// A commented sweep of the starter study.
pub const fn starter_sweep() -> &'static str {
    include_str!("starter.toml")
}

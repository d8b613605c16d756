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
//! | `finished` | a finished sweep's spread, for a report |
//! | `guide` | what every file and column holds |
//! | `folder` | the folder of parts: whole or not at all, and what is left to do |
//!
//! A part is a function of the sweep's files and its number alone: the same bytes on any number of threads, in any share, after
//! any interruption. Not here: the engine (`simulation`), the plans' points (`sampling`), the console (`cli`).

mod cache;
mod columns;
mod file;
mod finished;
mod folder;
mod guide;
mod list;
mod money;
mod runner;
mod summary;
mod sweep;

pub use columns::{COLUMNS, Column, EncodeError, FAILED, RUN, UNIT, encode};
pub use file::{Input, PlanKind, SweepFile, USUAL_PART, Values};
pub use finished::{Finished, FinishedError, SPREAD_FILE, SpreadLine};
pub use folder::{Folder, FolderError, MANIFEST, SUBFOLDERS, SUMMARIES};
pub use guide::{Doc, guide};
pub use list::RunList;
pub use money::{UnitMoney, Worth};
pub use runner::{Outcome, Row, Runner};
pub use summary::{OfInput, OfUnit, Summary, SummaryError, Told, read_column, summarise};
pub use sweep::{Design, OpenError, SWING, Shown, Source, Sweep, Taken};

/// A commented sweep of the starter study.
pub const fn starter_sweep() -> &'static str {
    include_str!("starter.toml")
}

/// The JSON Schema (draft 2020-12) of a sweep file.
pub const fn schema() -> &'static str {
    include_str!("schema.json")
}

//! What a run says: tables, CSV text, charts as SVG, the guide to every column, the manifest.
//!
//! Everything is returned as text; nothing here opens a file or writes to a console. Not here: how a
//! house-year comes about (crate `simulation`). Inside, quantities are SI; the only conversion to
//! inch-pound units is [`units`], at the edge where a person reads.
//!
//! Read next: [`columns`] (the one list of annual and monthly columns), then [`summary`].

pub mod calendar;
pub mod cell;
pub mod charts;
pub mod columns;
pub mod error;
pub mod guide;
pub mod hourly;
pub mod ledger;
pub mod manifest;
mod measure;
pub mod summary;
pub mod terminal;
pub mod units;

pub use calendar::{Calendar, Hemisphere, Stamp};
pub use cell::Cell;
pub use columns::{COLUMNS, Column, Figure};
pub use error::ReportError;
pub use guide::{ColumnDoc, column_guide, guide_json, guide_text};
pub use hourly::hourly_csv;
pub use ledger::ledger_csv;
pub use manifest::{Manifest, manifest_json};
pub use summary::{Row, RunSummary, SummaryBasis, case_key};
pub use terminal::{notes, terminal_table};
pub use units::ShowIn;

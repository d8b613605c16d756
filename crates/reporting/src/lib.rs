//! What a run says: tables, CSV text, charts as SVG, the guide to every column, the manifest; and what there is to
//! say of a core by itself: a steady point, the fit of its rating, its leaks, the fast solution's accuracy, the bin method
//! beside the run.
//!
//! Everything is returned as text; nothing here opens a file or writes to a console. Not here: how a
//! house-year comes about (crate `simulation`). Inside, quantities are SI; the only conversion to
//! inch-pound units is [`units`], at the edge where a person reads.
//!
//! Read next: [`columns`] (the one list of annual and monthly columns), then [`summary`].

pub mod accuracy;
pub mod bin_study;
pub mod calendar;
pub mod cell;
pub mod charts;
pub mod climates;
pub mod columns;
pub mod core_point;
pub mod core_table;
mod damp_notes;
pub mod error;
pub mod guide;
pub mod hourly;
mod hourly_parquet;
pub mod leak;
pub mod ledger;
pub mod manifest;
mod measure;
pub mod money;
pub mod rating_fit;
pub mod summary;
pub mod terminal;
mod text_table;
pub mod units;
pub mod words;

pub use accuracy::{Accuracy, AccuracySet, Distances, Spread, accuracy_table};
pub use bin_study::{BinStudy, bin_table, bin_words, bins_csv, bins_json};
pub use calendar::{Calendar, Hemisphere, Stamp};
pub use cell::Cell;
pub use charts::{accuracy_chart, core_chart};
pub use climates::{Climate, ClimateFigure, ClimateUnit, climates_csv, climates_notes, climates_table};
pub use columns::{COLUMNS, Column, Figure};
pub use core_point::{Along, CoreNotes, CorePoint, Port};
pub use core_table::core_table;
pub use error::ReportError;
pub use guide::{ColumnDoc, column_guide, guide_json, guide_text};
pub use hourly::{HourlyCsv, hourly_csv};
pub use hourly_parquet::hourly_parquet;
pub use leak::{LeakCase, LeakRow, leak_table};
pub use ledger::ledger_csv;
pub use manifest::{Manifest, manifest_json};
pub use money::{MoneyBasis, MoneyError, MoneyReport, UnitOffer};
pub use rating_fit::{
    AsEffectiveness, CrossLeakage, FitFigure, FitPoint, FitReport, FlowExponent, PointUse, fit_table,
};
pub use summary::{Row, RunSummary, SummaryBasis, case_key};
pub use terminal::{notes, terminal_table};
pub use units::ShowIn;
pub use words::{Language, Words};

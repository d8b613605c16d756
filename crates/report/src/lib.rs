//! The report of a run: one content, written as a page for a browser and as PDF.
//!
//! Everything is returned as text or bytes; nothing here opens a file. Not here: figures and charts, which are those of
//! crate `reporting`.
//!
//! Read next: `model` (what a report consists of), `content` (what it says), then `html` and `pdf`.

pub mod content;
pub mod error;
pub mod html;
pub mod model;
pub mod pdf;
pub mod words;

pub use content::{Climate, Ingredients, SpreadOf, full, one_page};
pub use error::PageError;
pub use html::page;
pub use model::Report;
pub use pdf::pdf;
pub use words::{Language, Words};

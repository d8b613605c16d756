//! Why there is no report.

/// Why a report cannot be written.
#[derive(Debug, thiserror::Error)]
pub enum PageError {
    /// A file of words that is none: a fault of the program.
    #[error("the report's words cannot be read: {0}")]
    Words(String),
    /// The words, or data for the page, that cannot be read.
    #[error(transparent)]
    Report(#[from] reporting::ReportError),
    /// The page's template: a fault of the program.
    #[error("the report's page cannot be filled: {0}")]
    Template(#[from] minijinja::Error),
    /// A chart that is no picture.
    #[error("the chart {file} cannot be drawn in the PDF: {reason}")]
    Chart {
        /// Which.
        file: String,
        /// Why.
        reason: String,
    },
    /// A figure that cannot be printed.
    #[error("a figure of the report cannot be printed: {0}")]
    Figures(String),
    /// The PDF could not be put together.
    #[error("the PDF cannot be written: {0}")]
    Pdf(String),
}

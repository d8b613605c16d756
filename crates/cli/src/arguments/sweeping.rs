//! What can be typed after `dewledger sweep`.

use std::path::PathBuf;

use clap::Args;

#[derive(Debug, Args)]
#[allow(clippy::struct_excessive_bools, reason = "one for each switch of the command line")]
#[allow(clippy::doc_markdown)] // These comments are printed as they stand.
pub(crate) struct Sweep {
    /// Sweep file (TOML): the study, the plan of the runs, and what is varied
    pub(crate) file: PathBuf,
    /// Folder for the parts; one that holds some of them is gone on with
    /// [default: dewledger-out/<sweep>]
    #[arg(long, verbatim_doc_comment)]
    pub(crate) out: Option<PathBuf>,
    /// Run every N-th part from the K-th on, such as 1/4; the shares fill one
    /// folder together
    #[arg(long, value_name = "K/N", verbatim_doc_comment)]
    pub(crate) share: Option<String>,
    /// Begin again, and remove the parts of an earlier sweep in the folder
    #[arg(long, conflicts_with = "share")]
    pub(crate) force: bool,
    /// Column that the charts are drawn of, such as condensate_l; may be given
    /// several times
    /// [default: the useful saving at equal air, and the life-cycle cost]
    #[arg(long, value_name = "COLUMN", verbatim_doc_comment)]
    pub(crate) chart_of: Vec<String>,
    /// Draw every chart as PNG too, twice as large, beside its SVG
    #[arg(long)]
    pub(crate) png: bool,
    /// Print what came out as JSON
    #[arg(long)]
    pub(crate) json: bool,
    /// Print no progress and no notes
    #[arg(long)]
    pub(crate) quiet: bool,
}

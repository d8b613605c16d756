//! A sweep file and its folder, part by part, for whoever hands parts out.
//!
//! Not here: what a part is and how it is written (crate `sweep`), the command (`sweeping`).

use std::path::Path;

use sweep::{Folder, FolderError, OpenError, Runner, Sweep};

use super::Failure;
use crate::run::sha256;

/// A sweep with the folder that its parts go to.
#[derive(Debug)]
pub struct SweepParts {
    sweep: Sweep,
    folder: Folder,
}

/// What is told of a part that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartMade {
    /// SHA-256 of its bytes.
    pub sha256: String,
    /// Its size \[B\].
    pub size_bytes: usize,
    /// Runs in it.
    pub runs: u64,
    /// Rows without figures, each with its reason.
    pub failed: usize,
}

impl SweepParts {
    /// Opens a sweep file and takes a folder for it.
    ///
    /// # Errors
    /// [`Failure`]: a file that cannot be read, all that is wrong with sweep or study, a folder that holds something else.
    pub fn open(file: &Path, out: &Path) -> Result<Self, Failure> {
        let sweep = Sweep::open(file).map_err(unopened)?;
        let folder = Folder::open(out, &sweep).map_err(unusable)?;
        Ok(Self { sweep, folder })
    }

    /// How many parts there are.
    pub fn parts(&self) -> u64 {
        self.sweep.parts()
    }

    /// How many runs there are.
    pub fn runs(&self) -> u64 {
        self.sweep.runs()
    }

    /// SHA-256 of all that the data set depends on.
    pub fn identity(&self) -> String {
        self.sweep.identity()
    }

    /// Whether a part is there, whole, and of this sweep.
    pub fn has(&self, part: u64) -> bool {
        self.folder.has(part)
    }

    /// Takes away what killed processes left half-written; only when nobody else is at work.
    ///
    /// # Errors
    /// [`Failure`] of the disk.
    pub fn tidy(&self) -> Result<(), Failure> {
        self.folder.sweep_up().map_err(unusable)
    }

    /// Runs a part and writes it.
    ///
    /// # Errors
    /// [`Failure`] for a part that there is not, and of the disk.
    pub fn make(&self, part: u64) -> Result<PartMade, Failure> {
        if part >= self.parts() {
            let last = self.parts().saturating_sub(1);
            return Err(Failure::input(format!("the sweep has no part {part}; its last is {last}")));
        }
        let runner = Runner::new(&self.sweep).map_err(Failure::work)?;
        let rows = runner.rows_of(part);
        let bytes = sweep::encode(&self.sweep, part, &rows).map_err(Failure::work)?;
        self.folder.write(part, &bytes).map_err(unusable)?;
        Ok(PartMade {
            sha256: sha256(&bytes),
            size_bytes: bytes.len(),
            runs: self.sweep.runs_of(part).count() as u64,
            failed: rows.iter().filter(|row| row.outcome.is_err()).count(),
        })
    }
}

fn unopened(cause: OpenError) -> Failure {
    match cause {
        OpenError::Unreadable { path, source } => Failure::unreadable(&path, &source),
        OpenError::Problems { problems, text } => {
            Failure::laid_out(&problems.render(&text, &problems.file_name))
        }
        OpenError::List(words) => {
            Failure::input(words).hint("the first line names paths, as [vary.\"…\"] would")
        }
    }
}

fn unusable(cause: FolderError) -> Failure {
    match cause {
        FolderError::Disk { path, source } => Failure::unwritable(&path, &source),
        FolderError::Changed { .. } => {
            Failure::input(cause).hint("choose another folder, or remove the earlier parts")
        }
        FolderError::NotOurs(_) => Failure::input(cause).hint("choose a new or an empty folder"),
    }
}

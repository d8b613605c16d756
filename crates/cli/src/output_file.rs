//! A single file, written whole or not at all: under a temporary name beside its place, then renamed.
//!
//! Not here: folders of results (`output`).

use std::fs;
use std::path::{Path, PathBuf};

use crate::arguments::OutFile;
use crate::failure::Failure;

/// A file that may be written.
#[derive(Debug)]
pub(crate) struct Place {
    path: PathBuf,
}

impl Place {
    /// The file asked for, unless something is there already, or it is what is being read.
    pub(crate) fn choose(to: &OutFile, sources: &[&Path]) -> Result<Self, Failure> {
        let path = to.out.clone();
        let shown = path.display();
        if path.is_dir() || path.file_name().is_none() {
            return Err(
                Failure::input(format!("{shown}: it is a folder")).hint("give a file, such as town.csv")
            );
        }
        let out = fs::canonicalize(&path).ok();
        let same = out.is_some() && sources.iter().any(|source| fs::canonicalize(source).ok() == out);
        if same {
            return Err(
                Failure::input(format!("{shown}: is the file that is read")).hint("choose another name")
            );
        }
        if path.exists() && !to.force {
            let hint = "choose another name, or add --force to replace it";
            return Err(Failure::input(format!("{shown}: already exists")).hint(hint));
        }
        Ok(Self { path })
    }

    /// Writes the file.
    pub(crate) fn write(&self, content: &str) -> Result<(), Failure> {
        let name = self.path.file_name().unwrap_or_default().to_string_lossy();
        let temporary = self.path.with_file_name(format!(".{name}.{}.tmp", std::process::id()));
        let written = fs::write(&temporary, content).and_then(|()| fs::rename(&temporary, &self.path));
        written.map_err(|cause| {
            // Nothing half-written stays.
            let _ = fs::remove_file(&temporary);
            Failure::unwritable(&self.path, &cause)
        })
    }

    pub(crate) fn path(&self) -> &Path {
        &self.path
    }
}

//! A folder of results, written whole or not at all.
//!
//! Files go into a temporary folder beside the wanted one, which is renamed at the end. An existing folder is replaced
//! only with `--force`, and only if it is one of ours: it must hold our manifest.

use std::fs;
use std::path::{Path, PathBuf};

use crate::failure::Failure;

/// The file that marks a folder as results of this program.
pub(crate) const MANIFEST: &str = "manifest.json";
/// Where results go unless told otherwise.
const DEFAULT_PARENT: &str = "dewledger-out";

/// Where results are to go.
#[derive(Debug)]
pub(crate) struct Destination {
    folder: PathBuf,
    replace: bool,
}

/// A folder being filled.
#[derive(Debug)]
pub(crate) struct Filling {
    destination: Destination,
    temporary: PathBuf,
    files: Vec<String>,
}

impl Destination {
    /// The folder asked for, or the next free one named after the study.
    pub(crate) fn choose(out: Option<&Path>, name: &str, force: bool) -> Result<Self, Failure> {
        let Some(folder) = out else {
            return Ok(Self {
                folder: next_free(Path::new(DEFAULT_PARENT), &file_safe(name)),
                replace: false,
            });
        };
        if folder.exists() && !force {
            return Err(Failure::input(format!("{}: already exists", folder.display()))
                .hint("choose another folder, or add --force to replace earlier results"));
        }
        if folder.exists() && !is_ours(folder) {
            return Err(Failure::input(format!(
                "{}: is not a folder of results, so it is not replaced",
                folder.display()
            ))
            .hint("choose another folder; --force replaces only what this program wrote"));
        }
        Ok(Self { folder: folder.to_owned(), replace: force })
    }

    /// Begins to fill a temporary folder beside the wanted one.
    pub(crate) fn begin(self) -> Result<Filling, Failure> {
        let parent = self.folder.parent().filter(|parent| !parent.as_os_str().is_empty());
        let parent = parent.unwrap_or(Path::new("."));
        fs::create_dir_all(parent).map_err(|cause| Failure::unwritable(parent, &cause))?;
        let name = self.folder.file_name().and_then(|name| name.to_str()).unwrap_or("results");
        let temporary = parent.join(format!(".{name}.{}.tmp", std::process::id()));
        // Left by a run that was killed and had the same process number.
        if temporary.exists() {
            fs::remove_dir_all(&temporary).map_err(|cause| Failure::unwritable(&temporary, &cause))?;
        }
        fs::create_dir(&temporary).map_err(|cause| Failure::unwritable(&temporary, &cause))?;
        Ok(Filling { destination: self, temporary, files: Vec::new() })
    }
}

impl Filling {
    /// Writes a file; its name may hold folders, separated by `/`.
    pub(crate) fn write(&mut self, name: &str, content: &str) -> Result<(), Failure> {
        let path = self.temporary.join(name);
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent).map_err(|cause| Failure::unwritable(parent, &cause))?;
        }
        fs::write(&path, content).map_err(|cause| Failure::unwritable(&path, &cause))?;
        self.files.push(name.to_owned());
        Ok(())
    }

    /// What has been written so far.
    pub(crate) fn files(&self) -> &[String] {
        &self.files
    }

    /// Puts the folder in its place and answers where that is.
    pub(crate) fn finish(self) -> Result<PathBuf, Failure> {
        let folder = &self.destination.folder;
        if self.destination.replace && folder.exists() {
            let aside = self.temporary.with_extension("old");
            fs::rename(folder, &aside).map_err(|cause| Failure::unwritable(folder, &cause))?;
            if let Err(cause) = fs::rename(&self.temporary, folder) {
                // Better the earlier results than none.
                let _ = fs::rename(&aside, folder);
                return Err(Failure::unwritable(folder, &cause));
            }
            fs::remove_dir_all(&aside).map_err(|cause| Failure::unwritable(&aside, &cause))?;
        } else {
            fs::rename(&self.temporary, folder).map_err(|cause| Failure::unwritable(folder, &cause))?;
        }
        Ok(folder.clone())
    }
}

impl Drop for Filling {
    fn drop(&mut self) {
        // After `finish` there is nothing here; after a failure nothing half-written stays.
        let _ = fs::remove_dir_all(&self.temporary);
    }
}

fn is_ours(folder: &Path) -> bool {
    folder.join(MANIFEST).is_file()
}

fn next_free(parent: &Path, name: &str) -> PathBuf {
    let first = parent.join(name);
    if !first.exists() {
        return first;
    }
    (2..u32::MAX).map(|n| parent.join(format!("{name}-{n}"))).find(|path| !path.exists()).unwrap_or(first)
}

/// A name as a file name: letters, digits, `-`, `_` and `.` stay, the rest becomes `-`; never empty or hidden.
pub(crate) fn file_safe(name: &str) -> String {
    let kept = |c: char| if c.is_alphanumeric() || matches!(c, '_' | '.') { c } else { '-' };
    let safe: String = name.to_lowercase().chars().map(kept).collect();
    let safe = safe.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-");
    let safe = safe.trim_matches('.');
    if safe.is_empty() { "study".to_owned() } else { safe.to_owned() }
}

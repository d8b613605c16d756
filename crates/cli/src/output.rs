//! A folder of results, written whole or not at all.
//!
//! Files go into a hidden folder beside the wanted one (`hidden`), which is renamed at the end. An existing folder is replaced
//! only with `--force`, and only if it is one of ours and nothing else lies in it.

use std::fs::{self, File};
use std::io::{Error, ErrorKind, Write as _};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use crate::failure::Failure;
use crate::hidden::Hidden;
use crate::ours;

/// The file that marks a folder as results of this program.
pub(crate) const MANIFEST: &str = "manifest.json";
/// Where results go unless told otherwise.
const DEFAULT_PARENT: &str = "dewledger-out";

/// Where results are to go.
#[derive(Debug)]
pub(crate) struct Destination {
    folder: PathBuf,
    taken: Taken,
}

/// What to do when the folder is there already.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Taken {
    /// Leave it alone.
    Refuse,
    /// Replace it.
    Replace,
    /// Take the next free one of this name.
    Number(String),
}

/// A folder being filled.
#[derive(Debug)]
pub(crate) struct Filling {
    destination: Destination,
    hidden: Hidden,
    files: Mutex<Vec<String>>,
}

impl Destination {
    /// The folder asked for, or the next free one named after the study.
    pub(crate) fn choose(out: Option<&Path>, name: &str, force: bool) -> Result<Self, Failure> {
        let Some(folder) = out else {
            let name = file_safe(name);
            return Ok(Self { folder: next_free(&name), taken: Taken::Number(name) });
        };
        if folder.exists() && !force {
            return Err(Failure::input(format!("{}: already exists", folder.display()))
                .hint("choose another folder, or add --force to replace earlier results"));
        }
        if folder.exists() {
            ours::check(folder)?;
        }
        Ok(Self { folder: folder.to_owned(), taken: if force { Taken::Replace } else { Taken::Refuse } })
    }

    /// Begins to fill a temporary folder beside the wanted one.
    pub(crate) fn begin(self) -> Result<Filling, Failure> {
        let parent = self.folder.parent().filter(|parent| !parent.as_os_str().is_empty());
        let parent = parent.unwrap_or(Path::new("."));
        fs::create_dir_all(parent).map_err(|cause| Failure::unwritable(parent, &cause))?;
        let hidden = Hidden::beside(parent, self.folder.file_name().unwrap_or_default())
            .map_err(|cause| Failure::unwritable(&self.folder, &cause))?;
        Ok(Filling { destination: self, hidden, files: Mutex::new(Vec::new()) })
    }
}

impl Filling {
    /// Writes a file; its name may hold folders, separated by `/`.
    pub(crate) fn write(&self, name: &str, content: impl AsRef<[u8]>) -> Result<(), Failure> {
        self.put(name, content)?;
        self.list(name);
        Ok(())
    }

    /// Takes a file's name into the list of [`Filling::files`].
    pub(crate) fn list(&self, name: impl Into<String>) {
        self.files.lock().unwrap_or_else(PoisonError::into_inner).push(name.into());
    }

    /// The same without taking its name into the list: threads may write side by side, and the list keeps its order.
    pub(crate) fn put(&self, name: &str, content: impl AsRef<[u8]>) -> Result<(), Failure> {
        let path = self.place(name)?;
        fs::write(&path, content).map_err(|cause| Failure::unwritable(&path, &cause))
    }

    /// The same for what comes in pieces: each is put into an empty text, until there is no more.
    pub(crate) fn put_pieces(
        &self,
        name: &str,
        mut next: impl FnMut(&mut Vec<u8>) -> Result<bool, Failure>,
    ) -> Result<(), Failure> {
        let path = self.place(name)?;
        let unwritable = |cause| Failure::unwritable(&path, &cause);
        let mut file = File::create(&path).map_err(unwritable)?;
        let mut text = Vec::new();
        let mut more = true;
        while more {
            text.clear();
            more = next(&mut text)?;
            file.write_all(&text).map_err(unwritable)?;
        }
        Ok(())
    }

    fn place(&self, name: &str) -> Result<PathBuf, Failure> {
        self.hidden.place(name).map_err(|(path, cause)| Failure::unwritable(&path, &cause))
    }

    /// Names in the list, in the order in which they were taken in.
    pub(crate) fn files(&self) -> Vec<String> {
        self.files.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Puts the folder in its place and answers where that is.
    pub(crate) fn finish(self) -> Result<PathBuf, Failure> {
        let mut folder = self.destination.folder.clone();
        let put = match &self.destination.taken {
            Taken::Replace if folder.exists() => self.hidden.replace(&folder),
            Taken::Number(name) => loop {
                match fs::rename(self.hidden.path(), &folder) {
                    // Another run, begun at the same time, was ready first.
                    Err(cause) if is_taken(&cause) => folder = next_free(name),
                    done => break done,
                }
            },
            Taken::Refuse | Taken::Replace => fs::rename(self.hidden.path(), &folder),
        };
        put.map_err(|cause| Failure::unwritable(&folder, &cause))?;
        Ok(folder)
    }
}

fn is_taken(cause: &Error) -> bool {
    matches!(cause.kind(), ErrorKind::AlreadyExists | ErrorKind::DirectoryNotEmpty | ErrorKind::NotADirectory)
}

fn next_free(name: &str) -> PathBuf {
    let parent = Path::new(DEFAULT_PARENT);
    let first = parent.join(name);
    if !first.exists() {
        return first;
    }
    (2..u32::MAX).map(|n| parent.join(format!("{name}-{n}"))).find(|path| !path.exists()).unwrap_or(first)
}

/// Most bytes of a name that `file_safe` gives: file systems allow 255 with all that is added to it.
const LONGEST_NAME: usize = 120;

/// A name as a file name: letters, digits, `-`, `_` and `.` stay, the rest becomes `-`; never empty, hidden, very long,
/// or taken for an option.
pub(crate) fn file_safe(name: &str) -> String {
    let kept = |c: char| if c.is_alphanumeric() || matches!(c, '_' | '.') { c } else { '-' };
    let safe: String = name.to_lowercase().chars().map(kept).collect();
    let safe = safe.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-");
    let safe = &safe[..safe.floor_char_boundary(LONGEST_NAME)];
    let safe = safe.trim_matches(['.', '-']);
    if safe.is_empty() { "study".to_owned() } else { safe.to_owned() }
}

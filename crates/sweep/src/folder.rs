//! A sweep's folder: `sweep.json` and a Parquet file for each part, each written whole or not at all.
//!
//! A part goes to a temporary name, is brought to the disk, and is renamed; so a file of a part's name is whole, and what is
//! missing is all that is left to do. Not here: what is in a part (`columns.rs`).

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use parquet::file::reader::{FileReader, SerializedFileReader};
use serde::{Deserialize, Serialize};

use crate::columns::{COLUMNS, FAILED, IDENTITY_KEY, PART_KEY};
use crate::finished::SPREAD_FILE;
use crate::sweep::Sweep;

/// The file that says what the folder holds.
pub const MANIFEST: &str = "sweep.json";

/// What is written of all parts together.
pub const SUMMARIES: [&str; 4] = [SPREAD_FILE, "indices.csv", "screening.csv", "one-at-a-time.csv"];

/// Folders beside the parts: pictures, and hours of chosen runs.
pub const SUBFOLDERS: [&str; 2] = ["charts", "hourly"];

/// What names of pictures begin with.
const PICTURES: [&str; 5] = ["spread.", "scatter.", "indices.", "screening.", "one-at-a-time."];

/// A folder of a sweep's parts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Folder {
    path: PathBuf,
    identity: String,
}

/// Why a folder cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum FolderError {
    /// It holds something else.
    #[error("{}: holds other files, and no {MANIFEST}", .0.display())]
    NotOurs(PathBuf),
    /// It holds parts of another sweep.
    #[error("{}: holds a sweep that is not this one: {changed}", path.display())]
    Changed {
        /// Which folder.
        path: PathBuf,
        /// What has changed since.
        changed: String,
    },
    /// The disk does not do what is needed.
    #[error("{}: {source}", path.display())]
    Disk {
        /// Where.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
}

#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct Manifest {
    pub(crate) what: String,
    pub(crate) engine_version: String,
    pub(crate) identity: String,
    pub(crate) inputs: Vec<Input>,
    pub(crate) plan: String,
    pub(crate) seed: u64,
    pub(crate) runs: u64,
    pub(crate) part: u64,
    pub(crate) parts: u64,
    pub(crate) varied: Vec<String>,
    pub(crate) columns: Vec<String>,
}

#[derive(Debug, Serialize, Deserialize, PartialEq, Eq)]
pub(crate) struct Input {
    pub(crate) role: String,
    pub(crate) name: String,
    pub(crate) sha256: String,
}

impl Manifest {
    fn of(sweep: &Sweep) -> Self {
        let input = |source: &crate::Source| Input {
            role: source.role.to_owned(),
            name: source.name.clone(),
            sha256: source.sha256(),
        };
        Self {
            what: "a sweep: part-*.parquet, a row for each run and unit".to_owned(),
            engine_version: env!("CARGO_PKG_VERSION").to_owned(),
            identity: sweep.identity(),
            inputs: sweep.sources().iter().map(input).collect(),
            plan: sweep.file.plan.name().to_owned(),
            seed: sweep.file.seed,
            runs: sweep.runs(),
            part: sweep.file.part,
            parts: sweep.parts(),
            varied: sweep.input_names(),
            columns: COLUMNS
                .iter()
                .map(|column| column.name)
                .chain([FAILED])
                .map(ToOwned::to_owned)
                .collect(),
        }
    }

    /// What is not as it was, in words.
    fn changed_since(&self, before: &Self) -> String {
        let mut words = Vec::new();
        if self.engine_version != before.engine_version {
            words.push(format!("it was run with version {}", before.engine_version));
        }
        for input in &self.inputs {
            let same = |other: &&Input| other.role == input.role && other.name == input.name;
            match before.inputs.iter().find(same) {
                Some(other) if other.sha256 == input.sha256 => {}
                Some(_) => words.push(format!("the {} {} has changed", input.role, input.name)),
                None => words.push(format!("the {} {} is new", input.role, input.name)),
            }
        }
        if words.is_empty() { "its files are others".to_owned() } else { words.join(", ") }
    }
}

impl Folder {
    /// Takes a folder for a sweep: a new one, or one that holds parts of this very sweep.
    ///
    /// # Errors
    /// [`FolderError`]: it holds other files, or parts of another sweep.
    pub fn open(path: &Path, sweep: &Sweep) -> Result<Self, FolderError> {
        let folder = Self { path: path.to_owned(), identity: sweep.identity() };
        let manifest = path.join(MANIFEST);
        let now = Manifest::of(sweep);
        if manifest.exists() {
            let text = fs::read_to_string(&manifest).map_err(|cause| disk(&manifest, cause))?;
            let before: Option<Manifest> = serde_json::from_str(&text).ok();
            return match before {
                Some(before) if before.identity == folder.identity => Ok(folder),
                Some(before) => {
                    Err(FolderError::Changed { path: path.to_owned(), changed: now.changed_since(&before) })
                }
                None => Err(FolderError::NotOurs(path.to_owned())),
            };
        }
        if path.exists() && !is_empty(path)? {
            return Err(FolderError::NotOurs(path.to_owned()));
        }
        folder.begin(&now)
    }

    fn begin(self, now: &Manifest) -> Result<Self, FolderError> {
        fs::create_dir_all(&self.path).map_err(|cause| disk(&self.path, cause))?;
        let text = serde_json::to_string_pretty(now).map_err(|cause| disk(&self.path, cause.into()))?;
        // Several shares may begin at once; each writes the same text.
        let own = format!(".{MANIFEST}.{}.tmp", std::process::id());
        self.put((&own, MANIFEST), format!("{text}\n").as_bytes())?;
        Ok(self)
    }

    /// Takes a folder for a sweep that begins again: what an earlier sweep wrote there goes, what others put there stays.
    ///
    /// # Errors
    /// [`FolderError`]: a folder with files that no sweep wrote.
    pub fn begin_again(path: &Path, sweep: &Sweep) -> Result<Self, FolderError> {
        if !path.exists() || is_empty(path)? {
            return Self::open(path, sweep);
        }
        let manifest = path.join(MANIFEST);
        let text = fs::read_to_string(&manifest).map_err(|_| FolderError::NotOurs(path.to_owned()))?;
        if serde_json::from_str::<Manifest>(&text).is_err() {
            return Err(FolderError::NotOurs(path.to_owned()));
        }
        for entry in fs::read_dir(path).map_err(|cause| disk(path, cause))? {
            let file = entry.map_err(|cause| disk(path, cause))?.path();
            let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
            if name.starts_with("part-") || name.starts_with(".part-") || SUMMARIES.contains(&name.as_str()) {
                fs::remove_file(&file).map_err(|cause| disk(&file, cause))?;
            }
        }
        for folder in SUBFOLDERS.map(|name| path.join(name)).iter().filter(|folder| folder.exists()) {
            clear_beside(folder)?;
        }
        let folder = Self { path: path.to_owned(), identity: sweep.identity() };
        folder.begin(&Manifest::of(sweep))
    }

    /// Where a part is.
    pub fn part_path(&self, part: u64) -> PathBuf {
        self.path.join(part_name(part))
    }

    /// Whether a part is there, whole, and of this sweep.
    pub fn has(&self, part: u64) -> bool {
        let Ok(file) = File::open(self.part_path(part)) else { return false };
        let Ok(reader) = SerializedFileReader::new(file) else { return false };
        let said = reader.metadata().file_metadata().key_value_metadata();
        let is = |key: &str, value: &str| {
            said.is_some_and(|said| {
                said.iter().any(|entry| entry.key == key && entry.value.as_deref() == Some(value))
            })
        };
        is(IDENTITY_KEY, &self.identity) && is(PART_KEY, &part.to_string())
    }

    /// Writes a part.
    ///
    /// # Errors
    /// [`FolderError::Disk`].
    pub fn write(&self, part: u64, bytes: &[u8]) -> Result<(), FolderError> {
        let name = part_name(part);
        self.put((&format!(".{name}.{}.tmp", std::process::id()), &name), bytes)
    }

    /// Writes a file beside the parts; its name may begin with one of [`SUBFOLDERS`].
    ///
    /// # Errors
    /// [`FolderError::Disk`].
    pub fn write_beside(&self, name: &str, bytes: &[u8]) -> Result<(), FolderError> {
        let to = self.path.join(name);
        if let Some(folder) = to.parent() {
            fs::create_dir_all(folder).map_err(|cause| disk(folder, cause))?;
        }
        let flat = name.replace(['/', '\\'], "-");
        self.put((&format!(".{MANIFEST}.{flat}.{}.tmp", std::process::id()), name), bytes)
    }

    /// Whether a file is there beside the parts; it is whole if it is.
    pub fn has_beside(&self, name: &str) -> bool {
        self.path.join(name).exists()
    }

    fn put(&self, (temporary, name): (&str, &str), bytes: &[u8]) -> Result<(), FolderError> {
        let (from, to) = (self.path.join(temporary), self.path.join(name));
        let written = File::create(&from).and_then(|mut file| {
            file.write_all(bytes)?;
            file.sync_all()
        });
        written.map_err(|cause| disk(&from, cause))?;
        fs::rename(&from, &to).map_err(|cause| disk(&to, cause))?;
        // The name itself must reach the disk too; not every system lets a folder be synced.
        if let Ok(folder) = File::open(&self.path) {
            let _ = folder.sync_all();
        }
        Ok(())
    }

    /// Takes away what a killed run left half-written; only when no other share is at work.
    ///
    /// # Errors
    /// [`FolderError::Disk`].
    pub fn sweep_up(&self) -> Result<(), FolderError> {
        for entry in fs::read_dir(&self.path).map_err(|cause| disk(&self.path, cause))? {
            let file = entry.map_err(|cause| disk(&self.path, cause))?.path();
            let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
            if name.starts_with('.')
                && file.extension().is_some_and(|extension| extension == "tmp")
                && (name.contains("part-") || name.contains(MANIFEST))
            {
                fs::remove_file(&file).map_err(|cause| disk(&file, cause))?;
            }
        }
        Ok(())
    }
}

/// Takes away pictures and hours; the folder too, unless somebody else keeps something in it.
fn clear_beside(folder: &Path) -> Result<(), FolderError> {
    for entry in fs::read_dir(folder).map_err(|cause| disk(folder, cause))? {
        let file = entry.map_err(|cause| disk(folder, cause))?.path();
        let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let begins = |beginnings: &[&str]| beginnings.iter().any(|beginning| name.starts_with(beginning));
        let ends = |endings: &[&str]| endings.iter().any(|ending| name.ends_with(ending));
        let is_picture = begins(&PICTURES) && ends(&[".svg", ".png"]);
        if is_picture || (begins(&["run-"]) && ends(&[".parquet"])) {
            fs::remove_file(&file).map_err(|cause| disk(&file, cause))?;
        }
    }
    if is_empty(folder)? {
        fs::remove_dir_all(folder).map_err(|cause| disk(folder, cause))?;
    }
    Ok(())
}

pub(crate) fn part_name(part: u64) -> String {
    format!("part-{part:05}.parquet")
}

fn is_empty(path: &Path) -> Result<bool, FolderError> {
    let mut entries = fs::read_dir(path).map_err(|cause| disk(path, cause))?;
    // Left by a run that was killed before it had written anything.
    Ok(entries.all(|entry| {
        entry.is_ok_and(|entry| {
            let name = entry.file_name();
            let name = name.to_string_lossy();
            name.starts_with('.') && (name.ends_with(".tmp") || name.ends_with(".lock"))
        })
    }))
}

fn disk(path: &Path, source: io::Error) -> FolderError {
    FolderError::Disk { path: path.to_owned(), source }
}

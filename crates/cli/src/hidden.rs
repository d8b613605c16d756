//! A hidden folder that results are written into until they are whole, and what killed runs have left of such folders.
//!
//! Beside the folder lies a lock, held as long as the process lives, that names the folder the results are for. Whoever else can take it finds what
//! a killed run has left: half-written results, and perhaps earlier ones that were to be replaced. Where a file system knows no locks nothing is taken
//! for abandoned but by a machine that cannot see the other's; then writing into the folder fails, and says so.
//! Not here: what is written, and where it goes when it is whole (`output`).

use std::ffi::OsStr;
use std::fs::{self, File, OpenOptions};
use std::io::{Error, ErrorKind, Write as _};
use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

/// How the names of the folder, of its lock and of results that are being replaced begin, and how they end.
const HIDDEN: &str = ".dewledger.";
const FOLDER: &str = "tmp";
const LOCK: &str = "lock";
const ASIDE: &str = "old";

/// The folder, while it is filled.
#[derive(Debug)]
pub(crate) struct Hidden {
    folder: PathBuf,
    /// Held until this is dropped.
    _lock: File,
}

impl Hidden {
    /// An empty folder in `parent`, beside the results of this name; what killed runs left there is taken away.
    pub(crate) fn beside(parent: &Path, results: &OsStr) -> Result<Self, Error> {
        remove_abandoned(parent);
        // Two machines that share a folder may have equal process numbers.
        let now_ns = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_nanos());
        let folder = parent.join(format!("{HIDDEN}{}-{now_ns}.{FOLDER}", std::process::id()));
        // Locked before there is a folder, so that no other run takes it for abandoned.
        let mut lock = File::create_new(folder.with_extension(LOCK))?;
        let _ = lock.lock();
        let made = lock.write_all(results.as_encoded_bytes()).and_then(|()| fs::create_dir(&folder));
        let hidden = Self { folder, _lock: lock };
        made.map(|()| hidden)
    }

    pub(crate) fn path(&self) -> &Path {
        &self.folder
    }

    /// Where a file goes for now; the folder of this folder that it lies in is there.
    pub(crate) fn place(&self, name: &str) -> Result<PathBuf, (PathBuf, Error)> {
        let path = self.folder.join(name);
        if let Some((inside, _)) = name.rsplit_once('/') {
            let inside = self.folder.join(inside);
            match fs::create_dir(&inside) {
                Err(cause) if cause.kind() != ErrorKind::AlreadyExists => return Err((inside, cause)),
                _ => {}
            }
        }
        Ok(path)
    }

    /// Puts the folder in the place of earlier results.
    pub(crate) fn replace(&self, results: &Path) -> Result<(), Error> {
        let aside = self.folder.with_extension(ASIDE);
        fs::rename(results, &aside)?;
        if let Err(cause) = fs::rename(&self.folder, results) {
            // Better the earlier results than none.
            let _ = fs::rename(&aside, results);
            return Err(cause);
        }
        fs::remove_dir_all(&aside)
    }
}

impl Drop for Hidden {
    fn drop(&mut self) {
        // Once it is in its place there is nothing here; after a failure nothing half-written stays.
        remove(&self.folder);
    }
}

/// Takes a folder away, and then its lock; what cannot be removed stays with it.
fn remove(folder: &Path) {
    let _ = fs::remove_dir_all(folder);
    if !folder.exists() && !folder.with_extension(ASIDE).exists() {
        let _ = fs::remove_file(folder.with_extension(LOCK));
    }
}

/// Takes away what killed runs left; results that one of them had put aside go back to their place if that is empty.
fn remove_abandoned(parent: &Path) {
    for entry in fs::read_dir(parent).into_iter().flatten().flatten() {
        let path = entry.path();
        let is_hidden = entry.file_name().to_string_lossy().starts_with(HIDDEN);
        if !is_hidden || path.extension().is_none_or(|extension| extension != LOCK) {
            continue;
        }
        // For writing: over some networks only that can be locked.
        let Ok(file) = OpenOptions::new().write(true).open(&path) else { continue };
        if file.try_lock().is_err() {
            continue;
        }
        let aside = path.with_extension(ASIDE);
        let name = fs::read_to_string(&path).unwrap_or_default();
        // Whose they are must be known before earlier results are touched.
        if aside.exists() && !name.is_empty() {
            let results = parent.join(name);
            let _ = if results.exists() { fs::remove_dir_all(&aside) } else { fs::rename(&aside, results) };
        }
        remove(&path.with_extension(FOLDER));
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;

    /// A folder of a test's own.
    struct Room(PathBuf);

    impl Room {
        fn new(name: &str) -> Self {
            let folder = std::env::temp_dir().join(format!("dewledger-{}-{name}", std::process::id()));
            fs::create_dir(&folder).unwrap();
            Self(folder)
        }
    }

    impl Drop for Room {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name());
        let mut names: Vec<String> = entries.map(|name| name.into_string().unwrap()).collect();
        names.sort();
        names
    }

    /// What a run leaves that is killed: at work, between putting earlier results aside and putting its own in their place, and after that.
    #[test]
    fn what_was_left_is_taken_away_and_earlier_results_go_back() {
        let rows = [(false, false, &[][..]), (true, false, &["x"][..]), (true, true, &["x"][..])];
        for (was_aside, is_done, left) in rows {
            let room = Room::new(&format!("left-{was_aside}-{is_done}"));
            let at = |name: &str| room.0.join(name);
            fs::write(at(".dewledger.1-1.lock"), "x").unwrap();
            fs::create_dir_all(at(".dewledger.1-1.tmp/hourly")).unwrap();
            if was_aside {
                fs::create_dir(at(".dewledger.1-1.old")).unwrap();
                fs::write(at(".dewledger.1-1.old/earlier"), "").unwrap();
            }
            if is_done {
                fs::rename(at(".dewledger.1-1.tmp"), at("x")).unwrap();
            }
            remove_abandoned(&room.0);
            assert_eq!(names(&room.0), left);
            assert_eq!(at("x/earlier").exists(), was_aside && !is_done);
        }
    }

    #[test]
    fn a_folder_in_use_is_left_alone_and_writing_into_one_that_has_gone_fails() {
        let room = Room::new("in-use");
        let one = Hidden::beside(&room.0, OsStr::new("x")).unwrap();
        fs::write(one.place("hourly/a").unwrap(), "").unwrap();
        let other = Hidden::beside(&room.0, OsStr::new("x")).unwrap();
        assert!(one.path().join("hourly/a").exists() && one.path() != other.path());
        fs::remove_dir_all(one.path()).unwrap();
        assert_eq!(one.place("charts/b").unwrap_err().1.kind(), ErrorKind::NotFound);
        drop((one, other));
        assert_eq!(names(&room.0), [""; 0]);
    }
}

//! Whether a folder may be replaced: only if this program wrote it, and nothing else lies in it.

use std::collections::HashSet;
use std::fs;
use std::path::Path;

use serde::Deserialize;

use crate::failure::Failure;
use crate::output::MANIFEST;

/// What of a manifest is looked at; a file of the same name from elsewhere lacks these keys.
#[derive(Deserialize)]
struct Ours {
    #[serde(rename = "engine_version")]
    _engine_version: String,
    files: HashSet<String>,
}

/// Refuses a folder that holds no results of this program, or something else beside them.
pub(crate) fn check(folder: &Path) -> Result<(), Failure> {
    let ours: Option<Ours> =
        fs::read(folder.join(MANIFEST)).ok().and_then(|bytes| serde_json::from_slice(&bytes).ok());
    let Some(ours) = ours else {
        return Err(Failure::input(format!(
            "{}: is not a folder of results, so it is not replaced",
            folder.display()
        ))
        .hint("choose another folder; --force replaces only what this program wrote"));
    };
    match stranger(folder, "", &ours.files) {
        None => Ok(()),
        Some(name) => Err(Failure::input(format!(
            "{}: holds `{name}`, which this program did not write, so it is not replaced",
            folder.display()
        ))
        .hint("move that file elsewhere, or choose another folder")),
    }
}

/// The first file below `folder` that the manifest does not list; `inside` is the way to it.
fn stranger(folder: &Path, inside: &str, files: &HashSet<String>) -> Option<String> {
    let Ok(entries) = fs::read_dir(folder.join(inside)) else { return Some(inside.to_owned()) };
    let mut entries: Vec<_> = entries.flatten().collect();
    entries.sort_by_key(fs::DirEntry::file_name);
    entries.into_iter().find_map(|entry| {
        let name = entry.file_name().to_string_lossy().into_owned();
        let name = if inside.is_empty() { name } else { format!("{inside}/{name}") };
        // A link is not followed: it counts as a file.
        if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            stranger(folder, &name, files)
        } else {
            (!files.contains(&name)).then_some(name)
        }
    })
}

//! `dewledger new`: a study to begin with, its invented weather, and a sweep of it, in a folder.

use std::fs;

use crate::arguments::New;
use crate::demonstration::{WEATHER, WEATHER_NAME};
use crate::failure::Failure;
use crate::show;

const STUDY_NAME: &str = "bungalow.toml";
const SWEEP_NAME: &str = "sweep.toml";

pub(crate) fn write(options: &New) -> Result<(), Failure> {
    let folder = &options.folder;
    let files = [
        (STUDY_NAME, study::starter_study().as_bytes()),
        (WEATHER_NAME, WEATHER),
        (SWEEP_NAME, sweep::starter_sweep().as_bytes()),
    ];
    for (name, _) in files {
        let path = folder.join(name);
        if path.exists() && !options.force {
            return Err(Failure::input(format!("{}: already exists", path.display()))
                .hint("choose another folder, or add --force to replace it"));
        }
    }
    fs::create_dir_all(folder).map_err(|cause| Failure::unwritable(folder, &cause))?;
    for (name, content) in files {
        let path = folder.join(name);
        let temporary = folder.join(format!(".{name}.tmp"));
        fs::write(&temporary, content).map_err(|cause| Failure::unwritable(&temporary, &cause))?;
        fs::rename(&temporary, &path).map_err(|cause| Failure::unwritable(&path, &cause))?;
    }
    let (study, sweep) = (folder.join(STUDY_NAME), folder.join(SWEEP_NAME));
    let (study, sweep) = (study.display(), sweep.display());
    show::result_line(format!(
        "Wrote {study} and {WEATHER_NAME}: an invented house in an invented climate.\n\
         Change what you know, then: dewledger run {study}\n\
         Or many houses like it: dewledger sweep {sweep}"
    ))
}

//! Hours of a sweep's chosen runs, as `run --hourly parquet` writes them.

use reporting::Calendar;
use sweep::{Folder, Runner, Sweep};

use super::unusable;
use crate::failure::Failure;
use crate::run_files::{unused, year_name};
use crate::show;

/// Writes the hours of the chosen runs of some parts that are not there yet; the names of all of them.
pub(super) fn write(
    sweep: &Sweep,
    folder: &Folder,
    (is_mine, quiet): (impl Fn(u64) -> bool, bool),
) -> Result<Vec<String>, Failure> {
    let runs: Vec<u64> =
        sweep.file.hourly_runs.iter().copied().filter(|run| is_mine(run / sweep.file.part)).collect();
    let mut files = Vec::new();
    if runs.is_empty() {
        return Ok(files);
    }
    let runner = Runner::new(sweep).map_err(|problems| Failure::work(problems.to_string()))?;
    for run in runs {
        let pairs = match runner.years_of(run) {
            Ok(pairs) => pairs,
            Err(reason) => {
                if !quiet {
                    show::note(format!("run {run} has no hours: {reason}"));
                }
                continue;
            }
        };
        for year in pairs.iter().flatten() {
            let name = unused(&format!("hourly/run-{run:05}.{}", year_name(&year.unit, year.case)), &files);
            let path = format!("{name}.parquet");
            if !folder.has_beside(&path) {
                let calendar = Calendar::for_hours(year.hourly.air_c.len()).map_err(Failure::work)?;
                let bytes = reporting::hourly_parquet(year, &calendar).map_err(Failure::work)?;
                folder.write_beside(&path, &bytes).map_err(unusable)?;
            }
            files.push(name);
        }
    }
    Ok(files.into_iter().map(|name| format!("{name}.parquet")).collect())
}

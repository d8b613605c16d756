//! The charts of `dewledger weather FILE… --charts DIR`, with the manifest that marks the folder as ours.
//!
//! Not here: how they look (`reporting::charts`), names of files (`file_names`).

use std::path::PathBuf;

use reporting::ShowIn;
use reporting::charts::{ClimateInput, climate_charts};
use reporting::manifest::{Finding, InputFile, Manifest};

use super::Read;
use crate::arguments::Weather;
use crate::failure::Failure;
use crate::file_names::{marked, told_apart};
use crate::output::{Destination, MANIFEST};

/// Where the charts were written, if they were asked for.
pub(super) fn write(options: &Weather, files: &[Read], show_in: ShowIn) -> Result<Option<PathBuf>, Failure> {
    let Some(folder) = &options.charts else { return Ok(None) };
    let destination = Destination::choose(Some(folder), "", options.force)?;
    let names: Vec<String> =
        told_apart(&options.files).iter().zip(files).map(|(name, file)| marked(name, &file.year)).collect();
    let climates: Vec<ClimateInput<'_>> =
        names.iter().zip(files).map(|(name, file)| ClimateInput { name, year: &file.year }).collect();
    let charts = climate_charts(&climates, show_in).map_err(Failure::work)?;
    let filling = destination.begin()?;
    for chart in charts {
        filling.write(chart.file, &chart.svg)?;
    }
    let mut files_written = filling.files();
    files_written.push(MANIFEST.to_owned());
    let manifest = Manifest {
        title: "Climates".to_owned(),
        engine_version: env!("CARGO_PKG_VERSION").to_owned(),
        created: chrono::Utc::now().to_rfc3339_opts(chrono::SecondsFormat::Secs, true),
        inputs: files.iter().map(input).collect(),
        findings: files.iter().flat_map(findings).collect(),
        files: files_written,
        ..Manifest::default()
    };
    filling.write(MANIFEST, &reporting::manifest_json(&manifest).map_err(Failure::work)?)?;
    filling.finish().map(Some)
}

fn input(file: &Read) -> InputFile {
    InputFile { role: "weather".to_owned(), name: file.name.clone(), sha256: file.sha256.clone() }
}

fn findings(file: &Read) -> impl Iterator<Item = Finding> {
    file.findings.iter().map(|finding| Finding { place: file.name.clone(), text: finding.to_string() })
}

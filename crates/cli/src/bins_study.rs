//! `dewledger bins STUDY`: the bin method for every unit of a study, beside its hourly run.
//!
//! Not here: the bin method (`reporting::bin_study`), a climate's bins alone (`bins_report`).

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use rayon::prelude::*;
use reporting::bin_study::METHOD;
use reporting::{BinStudy, RunSummary, ShowIn, SummaryBasis, bin_table, bin_words, bins_csv, bins_json};
use simulation::results::HouseYear;
use weather::bins::Edges;

use crate::arguments::Bins;
use crate::bins_report;
use crate::failure::Failure;
use crate::house_years::fault;
use crate::output::{Destination, MANIFEST};
use crate::run::{Prepared, manifest, prepare, show_in, wrapped};
use crate::show;

/// Width of a line of words.
const WIDTH: usize = 96;

/// Whether a file is a study: by its name, or by a heading that every study has.
pub(crate) fn is_study(path: &Path) -> Result<bool, Failure> {
    if path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case("toml")) {
        return Ok(true);
    }
    let bytes = fs::read(path).map_err(|cause| Failure::unreadable(path, &cause))?;
    let text = String::from_utf8_lossy(&bytes);
    Ok(text.lines().any(|line| heads_a_study(line.trim_start_matches('\u{feff}'))))
}

fn heads_a_study(line: &str) -> bool {
    let line = line.split('#').next().unwrap_or_default().trim();
    let name = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')).map(str::trim);
    matches!(name, Some("study" | "house"))
}

pub(crate) fn report(options: &Bins) -> Result<(), Failure> {
    refuse_place(options)?;
    let prepared = prepare(Some(&options.file))?;
    let shown = options.show_in.map_or_else(|| show_in(&prepared.study), bins_report::shown);
    let edges = bins_report::edges(options, shown)?;
    let out = options.out.as_deref();
    let destination =
        out.map(|out| Destination::choose(Some(out), &prepared.stem, options.force)).transpose()?;
    for finding in prepared.findings.iter() {
        show::note(format!("{}: {finding}", prepared.study.site.weather));
    }
    let (years, studies) = studies(&prepared, &edges)?;
    let folder = destination
        .map(|destination| {
            let filling = destination.begin()?;
            filling.write("bins.csv", &bins_csv(&studies).map_err(Failure::work)?)?;
            let summary = RunSummary::new(&years, &SummaryBasis::default()).map_err(Failure::work)?;
            let mut files = filling.files();
            files.push(MANIFEST.to_owned());
            let manifest = manifest(&prepared, &summary, files);
            filling.write(MANIFEST, &reporting::manifest_json(&manifest).map_err(Failure::work)?)?;
            filling.finish()
        })
        .transpose()?;
    if options.json {
        return show::result_line(bins_json(&studies).map_err(Failure::work)?);
    }
    show::result(&text(&prepared, &studies, shown, folder.as_deref())?)
}

/// A study has a place of its own.
fn refuse_place(options: &Bins) -> Result<(), Failure> {
    let place = &options.place;
    let given = [
        ("--latitude", place.latitude.is_some()),
        ("--longitude", place.longitude.is_some()),
        ("--elevation", place.elevation.is_some()),
        ("--time-zone", place.time_zone.is_some()),
    ];
    match given.iter().find(|(_, given)| *given) {
        None => Ok(()),
        Some((option, _)) => Err(Failure::input(format!(
            "{option} is for a weather file; {} is a study",
            options.file.display()
        ))
        .hint("a study says where its site is under [site]")),
    }
}

/// Each unit's year alone, and its bins.
pub(crate) fn studies(
    prepared: &Prepared,
    edges: &Edges,
) -> Result<(Vec<HouseYear>, Vec<BinStudy>), Failure> {
    let built = &prepared.built;
    let pairs: Result<Vec<_>, _> = built
        .units
        .par_iter()
        .map(|(name, variant)| {
            let year = simulation::run_alone(name, variant, &built.drivers, built.options).map_err(fault)?;
            let study = BinStudy::new(&year, variant, edges)
                .map_err(|cause| Failure::input(format!("{}: {cause}", prepared.name())))?;
            Ok((year, study))
        })
        .collect();
    Ok(pairs?.into_iter().unzip())
}

fn text(
    prepared: &Prepared,
    studies: &[BinStudy],
    shown: ShowIn,
    folder: Option<&Path>,
) -> Result<String, Failure> {
    let mut text = format!("\n{}\n", prepared.study.title);
    for study in studies {
        text.push('\n');
        text.push_str(&bin_table(study, shown).map_err(Failure::work)?);
        text.push('\n');
        for words in bin_words(study, shown).map_err(Failure::work)? {
            text.push_str(&wrapped(&words, WIDTH));
            text.push('\n');
        }
    }
    text.push('\n');
    text.push_str(&wrapped(METHOD, WIDTH));
    text.push('\n');
    if let Some(folder) = folder {
        // Writing into a String cannot fail.
        let _ = writeln!(text, "\nResults: {}", folder.display());
    }
    Ok(text)
}

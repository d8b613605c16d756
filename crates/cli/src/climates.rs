//! `dewledger climates`: every unit of a study in every climate.
//!
//! All files are read before anything is run, and everything is run before anything is written. Climates and units run side by
//! side; what comes out stands in the order of the files and of the study. Not here: what an hour does (`simulation`), which
//! figures there are and when a unit gains (`reporting::climates`).

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

use rayon::prelude::*;

use reporting::charts::climates_chart;
use reporting::manifest::{BookResiduals, Finding, Manifest};
use reporting::{Climate, ClimateUnit, RunSummary, climates_csv, climates_notes, climates_table};
use simulation::Variant;
use study::Study;
use study::build::Built;
use weather::{Findings, Overrides, WeatherError, WeatherYear};

use crate::arguments::Climates;
use crate::failure::Failure;
use crate::file_names::{marked, told_apart};
use crate::house_years::fault;
use crate::output::{Destination, MANIFEST};
use crate::run::{
    Source, csv_as_json, defaults_of, listed, show_in, study_at, summary_basis, tell_defaults, wrapped,
};
use crate::show;
use crate::weather_report::weather_failure;

/// A weather file, and the study's house and units in it.
struct Loaded {
    /// Its own among the files.
    name: String,
    source: Source,
    year: WeatherYear,
    findings: Findings,
    built: Built,
    /// Whether it is the study's own weather file.
    is_own: bool,
}

/// A unit in a climate, and how well its books close.
type Ran = (ClimateUnit, Vec<BookResiduals>);

pub(crate) fn run(options: &Climates) -> Result<(), Failure> {
    let (study, study_source, folder) = study_at(Some(&options.study))?;
    let own = own_weather(&folder.join(&study.site.weather));
    let loaded = load(&options.files, (&study, &study_source.name), own.as_deref())?;
    let stem = format!("{}-climates", study_source.stem());
    let destination = Destination::choose(options.out.as_deref(), &stem, options.force)?;
    if !options.quiet {
        tell(&study, &loaded);
    }
    let ran = run_all(&study, &loaded, !options.quiet)?;
    let climates = matrix(&loaded, &ran, study.units.len());
    let csv = climates_csv(&climates).map_err(Failure::work)?;
    let chart = climates_chart(&climates, &study.title, show_in(&study)).map_err(Failure::work)?;
    let filling = destination.begin()?;
    filling.write("climates.csv", &csv)?;
    filling.write("climates.svg", &chart)?;
    let mut files = filling.files();
    files.push(MANIFEST.to_owned());
    let manifest = manifest(&study, (&study_source, &loaded), ran, files);
    filling.write(MANIFEST, &reporting::manifest_json(&manifest).map_err(Failure::work)?)?;
    let folder = filling.finish()?;
    if options.json {
        show::result_line(csv_as_json(&csv)?)
    } else if options.quiet {
        Ok(())
    } else {
        show::result(&text(&study, &climates, &folder))
    }
}

/// The study's own weather file, if there is one to compare others with.
fn own_weather(path: &Path) -> Option<PathBuf> {
    fs::canonicalize(path).ok()
}

/// Reads every file, and builds the study's house in its climate.
fn load(
    files: &[PathBuf],
    (study, study_name): (&Study, &str),
    own: Option<&Path>,
) -> Result<Vec<Loaded>, Failure> {
    let mut read: Vec<PathBuf> = Vec::new();
    let mut loaded = Vec::new();
    for (path, name) in files.iter().zip(told_apart(files)) {
        let bytes = fs::read(path).map_err(|cause| Failure::unreadable(path, &cause))?;
        let whole = fs::canonicalize(path).map_err(|cause| Failure::unreadable(path, &cause))?;
        let shown = path.display().to_string();
        if read.contains(&whole) {
            return Err(Failure::input(format!("{shown}: is given twice")).hint("give each climate once"));
        }
        let is_own = own == Some(whole.as_path());
        let said = if is_own { study::build::overrides(study) } else { Overrides::default() };
        let (year, findings) =
            weather::read(&bytes, &said).map_err(|cause| unread(&shown, &cause, is_own))?;
        let name = marked(&name, &year);
        let built = study::build::build(study, &year)
            .map_err(|cause| Failure::input(format!("{study_name}, in the climate of {shown}: {cause}")))?;
        let source = Source { role: "weather", name: shown, bytes };
        loaded.push(Loaded { name, source, year, findings, built, is_own });
        read.push(whole);
    }
    Ok(loaded)
}

/// A weather file's fault; a place that is missing can only be written into the file.
fn unread(name: &str, cause: &WeatherError, is_own: bool) -> Failure {
    match cause {
        WeatherError::PlaceMissing { .. } | WeatherError::PlaceOutOfRange { .. } if !is_own => {
            Failure::input(format!("{name}: {cause}"))
                .hint("`climates` takes each file's own place, and [site] of the study is for its own weather file: mend the file")
        }
        _ => weather_failure(name, cause),
    }
}

/// Every unit in every climate, climate by climate.
fn run_all(study: &Study, loaded: &[Loaded], tells: bool) -> Result<Vec<Ran>, Failure> {
    let units = |climate| {
        let Loaded { built, .. }: &Loaded = climate;
        built.units.iter().map(move |unit| (climate, unit))
    };
    let jobs: Vec<(&Loaded, &(String, Variant))> = loaded.iter().flat_map(units).collect();
    let (done, all) = (AtomicUsize::new(0), jobs.len());
    let ran = jobs.par_iter().map(|(climate, unit)| {
        let ran = run_unit(study, climate, unit);
        let done = done.fetch_add(1, Ordering::Relaxed) + 1;
        if tells {
            show::progress(done, all, "units in climates");
        }
        ran
    });
    ran.collect::<Vec<_>>().into_iter().collect()
}

/// A unit and its baseline, and both with the missed air made up where there is some. Only the figures are kept: the hours of many
/// climates would fill the memory.
fn run_unit(study: &Study, climate: &Loaded, (name, variant): &(String, Variant)) -> Result<Ran, Failure> {
    let Loaded { built, year, .. } = climate;
    let mut years =
        Vec::from(simulation::run_pair(name, variant, &built.drivers, built.options).map_err(fault)?);
    if years.first().is_some_and(simulation::misses_air) {
        years.extend(simulation::run_held_pair(name, variant, &built.drivers, built.options).map_err(fault)?);
    }
    let summary = RunSummary::new(&years, &summary_basis(study, year, built)).map_err(Failure::work)?;
    let mut residuals = BookResiduals::of(&summary);
    for line in &mut residuals {
        line.unit = format!("{name} in {}", climate.name);
    }
    Ok((ClimateUnit::new(&summary, name, year.hours()).map_err(Failure::work)?, residuals))
}

/// The units that ran, by climate.
fn matrix(loaded: &[Loaded], ran: &[Ran], units: usize) -> Vec<Climate> {
    let of_climate = |(climate, ran): (&Loaded, &[Ran])| Climate {
        name: climate.name.clone(),
        place: climate.year.place.name.clone(),
        units: ran.iter().map(|(unit, _)| unit.clone()).collect(),
    };
    loaded.iter().zip(ran.chunks(units.max(1))).map(of_climate).collect()
}

fn manifest(
    study: &Study,
    (study_source, loaded): (&Source, &[Loaded]),
    ran: Vec<Ran>,
    files: Vec<String>,
) -> Manifest {
    let findings = loaded.iter().flat_map(|climate| {
        let place = || climate.source.name.clone();
        climate.findings.iter().map(move |finding| Finding { place: place(), text: finding.to_string() })
    });
    let sources = std::iter::once(study_source).chain(loaded.iter().map(|climate| &climate.source));
    Manifest {
        understood: Vec::new(),
        title: study.title.clone(),
        engine_version: env!("CARGO_PKG_VERSION").to_owned(),
        created: chrono::Utc::now().to_rfc3339_opts(chrono::SecondsFormat::Secs, true),
        time_step_s: 3600 / study.time_step.steps_per_hour(),
        lead_in_h: study.lead_in_h,
        inputs: sources.map(Source::hashed).collect(),
        defaults_used: listed(&defaults_of(study)),
        findings: findings.collect(),
        residuals: ran.into_iter().flat_map(|(_, residuals)| residuals).collect(),
        files,
    }
}

fn tell(study: &Study, loaded: &[Loaded]) {
    for climate in loaded {
        for finding in climate.findings.iter() {
            show::note(format!("{}: {finding}", climate.name));
        }
    }
    let said = said_of_the_file(study);
    if !said.is_empty() && loaded.iter().any(|climate| !climate.is_own) {
        let whose = if loaded.iter().any(|climate| climate.is_own) { "the others" } else { "these files" };
        show::note(format!(
            "{} of the study: said of its own weather file {}, so not of {whose}: each has its own place.",
            said.join(", "),
            study.site.weather
        ));
    }
    tell_defaults(&defaults_of(study));
}

/// The keys that say something of the study's own weather file, as far as it has them.
fn said_of_the_file(study: &Study) -> Vec<&'static str> {
    let site = &study.site;
    let keys = [
        ("`site.latitude`", site.latitude_deg.is_some()),
        ("`site.longitude`", site.longitude_deg.is_some()),
        ("`site.elevation`", site.elevation_m.is_some()),
        ("`site.time_zone`", site.time_zone_h.is_some()),
        ("`site.humidity_basis`", site.humidity_basis.is_some()),
        ("`site.wind_height`", site.wind.height_m.is_some()),
    ];
    keys.into_iter().filter(|(_, is_said)| *is_said).map(|(key, _)| key).collect()
}

fn text(study: &Study, climates: &[Climate], folder: &Path) -> String {
    let count = match climates.len() {
        1 => "1 climate".to_owned(),
        several => format!("{several} climates"),
    };
    let mut lines = vec![format!("\n{} in {count}\n", study.title), climates_table(climates, show_in(study))];
    lines.extend(climates_notes(climates).iter().map(|note| wrapped(note, 96)));
    lines.push(format!("\nResults: {}\n", folder.display()));
    lines.join("\n")
}

//! `dewledger run`: the main job, from files to files.
//!
//! Not here: what an hour does (`simulation`), how tables and charts look (`reporting`), the folder of results (`run_files`).

use std::fs;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use reporting::MoneyReport;
use reporting::manifest::{BookResiduals, DefaultUsed, Finding, InputFile, Manifest};
use reporting::{Hemisphere, RunSummary, ShowIn, SummaryBasis};
use simulation::results::HouseYear;
use study::Study;
use study::build::Built;
use weather::{Findings, WeatherYear};

use crate::arguments::{ReportAs, Run};
use crate::demonstration;
use crate::failure::Failure;
use crate::house_notes;
use crate::house_years::house_years_and;
use crate::money;
use crate::output::{Destination, MANIFEST};
use crate::run_files::{self, YearFiles};
use crate::show;
use crate::spread;
use crate::upkeep_notes;
use crate::weather_report::weather_failure;
use crate::what_if;

/// A file's bytes with the name that the user knows it by.
pub(crate) struct Source {
    pub(crate) role: &'static str,
    pub(crate) name: String,
    pub(crate) bytes: Vec<u8>,
}

impl Source {
    /// Its name with the hash of its bytes.
    pub(crate) fn hashed(&self) -> InputFile {
        InputFile { role: self.role.to_owned(), name: self.name.clone(), sha256: sha256(&self.bytes) }
    }

    /// Its name without folders and extension.
    pub(crate) fn stem(&self) -> String {
        Path::new(&self.name).file_stem().map_or_else(String::new, |s| s.to_string_lossy().into_owned())
    }
}

/// The hash of some bytes in hexadecimal digits.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    format!("{:x}", Sha256::digest(bytes))
}

/// Everything that is read before anything is run.
pub(crate) struct Prepared {
    pub(crate) study: Study,
    pub(crate) year: WeatherYear,
    pub(crate) findings: Findings,
    pub(crate) built: Built,
    pub(crate) sources: Vec<Source>,
    /// What the study left open, and what no key can change yet.
    defaults: Vec<study::DefaultUsed>,
    /// Name that the results are filed under.
    pub(crate) stem: String,
}

impl Prepared {
    /// The study's name, as the user knows it.
    pub(crate) fn name(&self) -> &str {
        self.sources.first().map_or("", |source| &source.name)
    }
}

pub(crate) fn run(options: &Run) -> Result<(), Failure> {
    let prepared = prepare(options.study.as_deref())?;
    if options.spread.is_some() && options.report == ReportAs::None {
        return Err(Failure::input("--spread fills the report, and --report none writes none")
            .hint("leave one of the two out"));
    }
    let spread = options.spread.as_deref().map(|folder| spread::read(folder, &prepared)).transpose()?;
    let destination = Destination::choose(options.out.as_deref(), &prepared.stem, options.force)?;
    if !options.quiet {
        tell_findings(&prepared);
    }
    let filling = destination.begin()?;
    let files = YearFiles::new(options.hourly, &prepared, &filling);
    let follow = |years: &[HouseYear]| {
        let summary = summarise(&prepared, years)?;
        let mut money = money::reckon(&prepared, years, &summary)?;
        if let Some(money) = money.as_mut().filter(|_| options.what_if) {
            money.what_if = what_if::of(&prepared, money);
        }
        let found = (&summary, money.as_ref());
        run_files::write(options, &prepared, (years, &files), found, (spread.as_ref(), &filling))?;
        Ok((summary, money))
    };
    let (summary, money) = house_years_and(&prepared.built, |year| files.write(year), follow)?;
    let folder = filling.finish()?;
    if options.json {
        show::result_line(annual_json(&summary)?)
    } else if options.quiet {
        Ok(())
    } else {
        show::result(&results_text(&prepared, (&summary, money.as_ref()), &folder)?)
    }
}

pub(crate) fn prepare(path: Option<&Path>) -> Result<Prepared, Failure> {
    let (study_source, folder) = read_study(path)?;
    prepare_source(study_source, path.map(|_| folder.as_path()))
}

/// The same of a study that is read already; without a folder it is the demonstration, whose weather is built in.
pub(crate) fn prepare_source(study_source: Source, folder: Option<&Path>) -> Result<Prepared, Failure> {
    let study = parse(&study_source)?;
    prepare_study(study, study_source, folder)
}

/// The same of a study whose values may have been changed since it was read.
pub(crate) fn prepare_study(
    study: Study,
    study_source: Source,
    folder: Option<&Path>,
) -> Result<Prepared, Failure> {
    let weather_source = read_weather(folder, &study)?;
    let (year, findings) = weather::read(&weather_source.bytes, &study::build::overrides(&study))
        .map_err(|cause| weather_failure(&weather_source.name, &cause))?;
    let built = study::build::build(&study, &year)
        .map_err(|cause| Failure::input(format!("{}: {cause}", study_source.name)))?;
    let stem = study_source.stem();
    let defaults = defaults_of(&study);
    let sources = vec![study_source, weather_source];
    Ok(Prepared { study, year, findings, built, sources, defaults, stem })
}

/// A study with the file that it came from and that file's folder.
pub(crate) fn study_at(path: Option<&Path>) -> Result<(Study, Source, PathBuf), Failure> {
    let (source, folder) = read_study(path)?;
    Ok((parse(&source)?, source, folder))
}

/// The study in a file's bytes.
pub(crate) fn parse(source: &Source) -> Result<Study, Failure> {
    let text = study::text_of(&source.bytes, &source.name)
        .map_err(|problems| Failure::laid_out(&problems.render("", &source.name)))?;
    study::parse_study(text, &source.name)
        .map_err(|problems| Failure::laid_out(&problems.render(text, &source.name)))
}

/// What the study left open, and what no key can change yet.
pub(crate) fn defaults_of(study: &Study) -> Vec<study::DefaultUsed> {
    let mut defaults = study.defaults_used.clone();
    defaults.extend(study::build::assumptions(study));
    defaults
}

pub(crate) fn read_study(path: Option<&Path>) -> Result<(Source, PathBuf), Failure> {
    let Some(path) = path else {
        let bytes = study::starter_study().as_bytes().to_vec();
        let name = demonstration::STUDY_NAME.to_owned();
        return Ok((Source { role: "study", name, bytes }, PathBuf::new()));
    };
    let bytes = fs::read(path).map_err(|cause| Failure::unreadable(path, &cause))?;
    let folder = path.parent().map_or_else(PathBuf::new, Path::to_owned);
    Ok((Source { role: "study", name: path.display().to_string(), bytes }, folder))
}

fn read_weather(folder: Option<&Path>, study: &Study) -> Result<Source, Failure> {
    if folder.is_none() && study.site.weather == demonstration::WEATHER_NAME {
        let name = demonstration::WEATHER_NAME.to_owned();
        return Ok(Source { role: "weather", name, bytes: demonstration::WEATHER.to_vec() });
    }
    let path = folder.unwrap_or(Path::new("")).join(&study.site.weather);
    let bytes = fs::read(&path).map_err(|cause| {
        Failure::unreadable(&path, &cause)
            .hint("`site.weather` names a file beside the study file, unless it is an absolute path")
    })?;
    Ok(Source { role: "weather", name: path.display().to_string(), bytes })
}

pub(crate) fn summarise(prepared: &Prepared, years: &[HouseYear]) -> Result<RunSummary, Failure> {
    let basis = summary_basis(&prepared.study, &prepared.year, &prepared.built);
    RunSummary::new(years, &basis).map_err(Failure::work)
}

/// What the figures need to know beside the hours.
pub(crate) fn summary_basis(study: &Study, year: &WeatherYear, built: &Built) -> SummaryBasis {
    let south = year.place.latitude_deg < 0.0;
    let hemisphere = if south { Hemisphere::South } else { Hemisphere::North };
    let frost_capacity_kg =
        study.units.iter().map(|unit| (unit.name.clone(), unit.frost.capacity_kg)).collect();
    let required_kg_per_h = Some(built.requirement.airflow_m3_per_s * built.density_kg_per_m3 * 3600.0);
    SummaryBasis { hemisphere, frost_capacity_kg, corner: Some(built.corner), required_kg_per_h }
}

pub(crate) fn manifest(prepared: &Prepared, summary: &RunSummary, files: Vec<String>) -> Manifest {
    let findings = prepared
        .findings
        .iter()
        .map(|finding| Finding { place: prepared.study.site.weather.clone(), text: finding.to_string() });
    Manifest {
        understood: Vec::new(),
        title: prepared.study.title.clone(),
        engine_version: env!("CARGO_PKG_VERSION").to_owned(),
        created: chrono::Utc::now().to_rfc3339_opts(chrono::SecondsFormat::Secs, true),
        time_step_s: 3600 / prepared.study.time_step.steps_per_hour(),
        lead_in_h: prepared.study.lead_in_h,
        inputs: prepared.sources.iter().map(Source::hashed).collect(),
        defaults_used: listed(&prepared.defaults),
        findings: findings.collect(),
        residuals: BookResiduals::of(summary),
        files,
    }
}

/// Defaults as the manifest lists them.
pub(crate) fn listed(defaults: &[study::DefaultUsed]) -> Vec<DefaultUsed> {
    let one = |used: &study::DefaultUsed| DefaultUsed {
        path: used.path.clone(),
        value: used.value.clone(),
        why: used.why.to_owned(),
    };
    defaults.iter().map(one).collect()
}

pub(crate) fn show_in(study: &Study) -> ShowIn {
    match study.show_in {
        study::ShowIn::Si => ShowIn::Si,
        study::ShowIn::Ip => ShowIn::Ip,
    }
}

fn tell_findings(prepared: &Prepared) {
    for finding in prepared.findings.iter() {
        show::note(format!("{}: {finding}", prepared.study.site.weather));
    }
    tell_defaults(&prepared.defaults);
    if money::is_unused(&prepared.study) {
        show::note(money::UNUSED);
    }
}

pub(crate) fn tell_defaults(defaults: &[study::DefaultUsed]) {
    let count = defaults.len();
    if count > 0 {
        show::note(format!(
            "{count} values were left to defaults; {MANIFEST} lists them with their reasons."
        ));
    }
}

fn results_text(
    prepared: &Prepared,
    (summary, money): (&RunSummary, Option<&MoneyReport>),
    folder: &Path,
) -> Result<String, Failure> {
    let show_in = show_in(&prepared.study);
    let mut lines =
        vec![format!("\n{}\n", prepared.study.title), reporting::terminal_table(summary, show_in) + "\n"];
    lines.extend(reporting::notes(summary, show_in).iter().map(|note| wrapped(note, 96)));
    lines.extend(
        house_notes::of(&prepared.study, &prepared.built, summary).iter().map(|note| wrapped(note, 96)),
    );
    let upkeep = upkeep_notes::of(&prepared.built, summary)?;
    lines.extend(upkeep.iter().map(|note| wrapped(note, 96)));
    lines.extend(money.map(money::lines).into_iter().flatten());
    lines.extend(money.map(|money| what_if::lines(&prepared.study, money)).into_iter().flatten());
    lines.push(format!("\nResults: {}\n", folder.display()));
    Ok(lines.join("\n"))
}

/// Breaks a sentence into lines of at most `width` characters, the later ones indented.
pub(crate) fn wrapped(text: &str, width: usize) -> String {
    let mut lines = vec![String::from("-")];
    for word in words(text) {
        let fits = lines.last().is_some_and(|line| line.chars().count() + 1 + word.chars().count() <= width);
        match lines.last_mut() {
            Some(line) if fits => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(format!("  {word}")),
        }
    }
    lines.join("\n")
}

/// The words of a sentence; a number keeps the word after it, which is mostly its unit.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match words.last_mut().filter(|last| last.parse::<f64>().is_ok()) {
            Some(number) => *number = format!("{number} {word}"),
            None => words.push(word.to_owned()),
        }
    }
    words
}

fn annual_json(summary: &RunSummary) -> Result<String, Failure> {
    csv_as_json(&summary.annual_csv().map_err(Failure::work)?)
}

/// The rows of a table as JSON objects.
pub(crate) fn csv_as_json(csv: &str) -> Result<String, Failure> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let headers = reader.headers().map_err(Failure::work)?.clone();
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(Failure::work)?;
        let cells = headers.iter().zip(record.iter()).map(|(name, cell)| (name.to_owned(), json_cell(cell)));
        rows.push(serde_json::Value::Object(cells.collect()));
    }
    serde_json::to_string_pretty(&rows).map_err(Failure::work)
}

/// A number as a number, an empty cell as null, the rest as text.
fn json_cell(cell: &str) -> serde_json::Value {
    if cell.is_empty() {
        return serde_json::Value::Null;
    }
    cell.parse::<serde_json::Number>().map_or_else(|_| cell.into(), serde_json::Value::Number)
}

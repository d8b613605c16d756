//! A sweep that is ready to run: its file, its study, the weather and lists that it names, and each run's values.
//!
//! Here: opening, the points of the plan, what a run changes. Not here: running (`runner.rs`), the data set (`folder.rs`).

use std::fs;
use std::path::{Path, PathBuf};

use sampling::correlation::Copula;
use sampling::morris::Morris;
use sampling::plan::{Level, Plan};
use sampling::sobol_indices::Saltelli;
use sha2::{Digest, Sha256};
use study::vary::{Change, Template};
use study::{Problem, Problems, Study};

use crate::file::{Input, PlanKind, SweepFile, Values};
use crate::list::RunList;

/// A file that a sweep reads.
#[derive(Debug, Clone, PartialEq)]
pub struct Source {
    /// What it is: `sweep`, `study`, `weather`, `list`.
    pub role: &'static str,
    /// Its name as the sweep or the study has it.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

impl Source {
    /// SHA-256 of its bytes in hexadecimal digits.
    pub fn sha256(&self) -> String {
        format!("{:x}", Sha256::digest(&self.bytes))
    }
}

/// Why a sweep cannot be run.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// A file that cannot be read.
    #[error("{}: cannot be read", path.display())]
    Unreadable {
        /// Which.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// What is wrong with the sweep file or the study.
    #[error("{problems}")]
    Problems {
        /// What and where.
        problems: Problems,
        /// The text that they are in.
        text: String,
    },
    /// A list of runs that does not hold.
    #[error("{0}")]
    List(String),
}

/// The points of the unit cube that the runs stand at.
#[derive(Debug, Clone, PartialEq)]
pub enum Design {
    /// A plain plan.
    Plan(Plan),
    /// For Sobol indices.
    Indices(Saltelli),
    /// For Morris screening.
    Screening(Morris),
    /// Written down one by one.
    List(RunList),
}

/// The share of its cases that an input goes down and up to for a tornado chart.
pub const SWING: [f64; 2] = [0.1, 0.9];
/// The span of an input in a screening: the ends of a distribution may have no value.
const SCREENED: [f64; 2] = [0.025, 0.975];

/// A sweep that is ready to run.
#[derive(Debug, Clone, PartialEq)]
pub struct Sweep {
    /// Its file.
    pub file: SweepFile,
    /// The runs' points.
    pub design: Design,
    /// The study as its file has it.
    pub base: Study,
    copula: Option<Copula>,
    sources: Vec<Source>,
}

impl Sweep {
    /// Reads a sweep file and all that it names, and checks that the study takes what is varied.
    ///
    /// # Errors
    /// [`OpenError`]: a file that cannot be read; all that is wrong with the sweep file, or with the study.
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        let name = path.display().to_string();
        let bytes = read(path)?;
        let text = as_text(&bytes, &name)?;
        let file = SweepFile::parse(&text, &name).map_err(|problems| told(problems, &text))?;
        let folder = path.parent().map_or_else(PathBuf::new, Path::to_owned);
        let study_path = folder.join(&file.study);
        let study_name = study_path.display().to_string();
        let study_bytes = read(&study_path)?;
        let study_text = as_text(&study_bytes, &study_name)?;
        let template =
            Template::new(&study_text, &study_name).map_err(|problems| told(problems, &study_text))?;
        let base = template.study().map_err(|problems| told(problems, &study_text))?;
        let mut sources = vec![
            Source { role: "sweep", name: file_name(&name), bytes },
            Source { role: "study", name: file.study.clone(), bytes: study_bytes.clone() },
        ];
        let (design, list) = planned(&file, (&folder, &template), (&name, &text))?;
        sources.extend(list);
        let mut problems = unfit(&file, &template);
        let last = runs_of_design(&design).saturating_sub(1);
        if let Some(run) = file.hourly_runs.iter().find(|run| **run > last) {
            problems.push(of_plan(format!(
                "there is no run {run} whose hours could be kept; the last is {last}"
            )));
        }
        if !problems.is_empty() {
            return Err(told(Problems { file_name: name, list: problems }, &text));
        }
        let study_folder = study_path.parent().map_or_else(PathBuf::new, Path::to_owned);
        for weather in weather_files(&file, &base, &design) {
            let bytes = read(&study_folder.join(&weather))?;
            sources.push(Source { role: "weather", name: weather, bytes });
        }
        let copula = copula(&file);
        Ok(Self { file, design, base, copula, sources })
    }

    /// The files that were read.
    pub fn sources(&self) -> &[Source] {
        &self.sources
    }

    /// The study's text, to be changed for each run.
    ///
    /// # Errors
    /// [`Problems`], which opening has found before.
    pub fn template(&self) -> Result<Template<'_>, Problems> {
        let source = self.sources.iter().find(|source| source.role == "study");
        let (bytes, name) =
            source.map_or((&[][..], ""), |source| (source.bytes.as_slice(), source.name.as_str()));
        Template::new(study::text_of(bytes, name)?, name)
    }

    /// Bytes of a weather file, by its name in the study.
    pub fn weather(&self, name: &str) -> Option<&[u8]> {
        let found = self.sources.iter().find(|source| source.role == "weather" && source.name == name);
        found.map(|source| source.bytes.as_slice())
    }

    /// How many runs there are.
    pub fn runs(&self) -> u64 {
        runs_of_design(&self.design)
    }

    /// How many parts the data set has.
    pub fn parts(&self) -> u64 {
        self.runs().div_ceil(self.file.part)
    }

    /// The runs of a part, counted from 0.
    pub fn runs_of(&self, part: u64) -> std::ops::Range<u64> {
        let first = part.saturating_mul(self.file.part).min(self.runs());
        first..first.saturating_add(self.file.part).min(self.runs())
    }

    /// Names of the inputs in the data set, each with its unit.
    pub fn input_names(&self) -> Vec<String> {
        if let Design::List(list) = &self.design {
            return list.paths().to_vec();
        }
        let named = self.file.inputs.iter().map(|input| match &input.values {
            Values::Spread { unit, .. } if !unit.is_empty() => format!("{} [{unit}]", input.path),
            _ => input.path.clone(),
        });
        named.collect()
    }

    /// What a run changes in the study, and what stands for it in the data set.
    ///
    /// # Errors
    /// The reason, where the plan has no such run or an input no value there.
    pub fn changes(&self, run: u64) -> Result<Vec<Taken>, String> {
        let point = match &self.design {
            Design::List(list) => return list.row(run),
            Design::Plan(plan) => plan.point(run),
            Design::Indices(design) => design.row(run),
            Design::Screening(design) => design.row(run),
        };
        let point = point.map_err(|cause| cause.to_string())?;
        let point = match &self.copula {
            Some(copula) => copula.correlate(&point).map_err(|cause| cause.to_string())?,
            None => point,
        };
        self.file.inputs.iter().zip(&point).map(|(input, share)| taken(input, *share)).collect()
    }

    /// SHA-256 of everything that the data set depends on: files, engine, and nothing else.
    pub fn identity(&self) -> String {
        let mut hash = Sha256::new();
        hash.update(env!("CARGO_PKG_VERSION"));
        for source in &self.sources {
            hash.update(format!("\n{} {} {}", source.role, source.name, source.sha256()));
        }
        format!("{:x}", hash.finalize())
    }
}

/// A value that a run takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Taken {
    /// What is changed.
    pub change: Change,
    /// How the data set has it.
    pub shown: Shown,
}

/// A value in the data set.
#[derive(Debug, Clone, PartialEq)]
pub enum Shown {
    /// A number, in the unit of its column.
    Number(f64),
    /// A word.
    Word(String),
}

fn taken(input: &Input, share: f64) -> Result<Taken, String> {
    match &input.values {
        Values::Spread { distribution, unit, .. } => {
            let number = distribution.quantile(share).map_err(|cause| format!("{}: {cause}", input.path))?;
            let value = if unit.is_empty() {
                toml::Value::Float(number)
            } else {
                toml::Value::String(format!("{number} {unit}"))
            };
            let change = Change { path: input.path.clone(), value };
            Ok(Taken { change, shown: Shown::Number(number) })
        }
        Values::OneOf { values, labels, choice } => {
            let place =
                choice.choice(share).map_err(|cause| format!("{}: {cause}", input.path))?.unwrap_or(0);
            let (value, label) = values.get(place).zip(labels.get(place)).ok_or("no such value")?;
            let change = Change { path: input.path.clone(), value: value.clone() };
            Ok(Taken { change, shown: Shown::Word(label.clone()) })
        }
    }
}

fn read(path: &Path) -> Result<Vec<u8>, OpenError> {
    fs::read(path).map_err(|source| OpenError::Unreadable { path: path.to_owned(), source })
}

fn file_name(path: &str) -> String {
    Path::new(path).file_name().map_or_else(|| path.to_owned(), |name| name.to_string_lossy().into_owned())
}

fn as_text(bytes: &[u8], name: &str) -> Result<String, OpenError> {
    study::text_of(bytes, name).map(ToOwned::to_owned).map_err(|problems| told(problems, ""))
}

fn told(problems: Problems, text: &str) -> OpenError {
    OpenError::Problems { problems, text: text.to_owned() }
}

fn runs_of_design(design: &Design) -> u64 {
    match design {
        Design::Plan(plan) => plan.points(),
        Design::Indices(design) => design.rows(),
        Design::Screening(design) => design.rows(),
        Design::List(list) => list.runs(),
    }
}

fn of_plan(message: String) -> Problem {
    let hint = Some("mend the numbers of [sweep] or what is varied".to_owned());
    Problem { message, span: 0..0, label: "this sweep".to_owned(), hint }
}

/// The design, and the list that it came from.
fn planned(
    file: &SweepFile,
    (folder, template): (&Path, &Template<'_>),
    (name, text): (&str, &str),
) -> Result<(Design, Option<Source>), OpenError> {
    if let PlanKind::List { file: list } = &file.plan {
        let bytes = read(&folder.join(list))?;
        let runs = RunList::parse(&bytes, list, template).map_err(OpenError::List)?;
        return Ok((Design::List(runs), Some(Source { role: "list", name: list.clone(), bytes })));
    }
    let failed = |problem| told(Problems { file_name: name.to_owned(), list: vec![problem] }, text);
    Ok((design(file).map_err(|message| failed(of_plan(message)))?, None))
}

fn design(file: &SweepFile) -> Result<Design, String> {
    let inputs = file.inputs.len();
    let runs = file.runs.unwrap_or(1);
    let in_words = |cause: &dyn std::fmt::Display| cause.to_string();
    Ok(match &file.plan {
        PlanKind::Sobol => {
            Design::Plan(Plan::sobol(inputs, runs, file.seed).map_err(|cause| in_words(&cause))?)
        }
        PlanKind::LatinHypercube => {
            Design::Plan(Plan::latin_hypercube(inputs, runs, file.seed).map_err(|cause| in_words(&cause))?)
        }
        PlanKind::Grid => {
            let levels: Vec<u32> =
                file.inputs.iter().map(|input| input.values.levels().unwrap_or(1)).collect();
            Design::Plan(Plan::grid(&levels, Level::Middles).map_err(|cause| in_words(&cause))?)
        }
        PlanKind::OneAtATime => {
            Design::Plan(Plan::one_at_a_time(inputs, SWING[0], SWING[1]).map_err(|cause| in_words(&cause))?)
        }
        PlanKind::Indices { base_rows } => {
            Design::Indices(Saltelli::new(inputs, *base_rows, file.seed).map_err(|cause| in_words(&cause))?)
        }
        PlanKind::Screening { trajectories, levels } => {
            let design =
                Morris::new(inputs, *trajectories, *levels, file.seed).map_err(|cause| in_words(&cause))?;
            Design::Screening(design.within(SCREENED[0], SCREENED[1]).map_err(|cause| in_words(&cause))?)
        }
        PlanKind::List { file } => return Err(format!("the list {file} was not read")),
    })
}

fn copula(file: &SweepFile) -> Option<Copula> {
    if file.correlations.is_empty() {
        return None;
    }
    Copula::of_pairs(file.inputs.len(), &file.correlations).ok()
}

/// Inputs that lead nowhere, and a middle of all (of a choice the first) that the study does not take.
fn unfit(file: &SweepFile, template: &Template<'_>) -> Vec<Problem> {
    let mut problems = Vec::new();
    for input in &file.inputs {
        if let Err(astray) = template.check(&input.path) {
            let (message, span) = (astray.to_string(), input.span.clone());
            problems.push(Problem { message, span, label: "this path".to_owned(), hint: Some(astray.hint) });
        }
    }
    if !problems.is_empty() {
        return problems;
    }
    let share = |input: &Input| if matches!(input.values, Values::OneOf { .. }) { 0.0 } else { 0.5 };
    let middle: Result<Vec<Taken>, String> =
        file.inputs.iter().map(|input| taken(input, share(input))).collect();
    let Ok(middle) = middle else { return problems };
    let changes: Vec<Change> = middle.into_iter().map(|taken| taken.change).collect();
    let Err(study::vary::VaryError::Study(found)) = template.with(&changes) else { return problems };
    for problem in found.list {
        let whose = file.inputs.iter().zip(&changes).find(|(input, _)| problem.message.contains(&input.path));
        let value = |change: &Change| change.value.to_string();
        let (span, label) = whose.map_or((0..0, "the middle of all inputs".to_owned()), |(input, change)| {
            (input.span.clone(), format!("its middle is {}", value(change)))
        });
        let message = format!("the study does not take the middle of what is varied: {}", problem.message);
        problems.push(Problem { message, span, label, hint: problem.hint });
    }
    problems
}

/// Every weather file that a run may ask for, each once.
fn weather_files(file: &SweepFile, base: &Study, design: &Design) -> Vec<String> {
    let mut names = Vec::new();
    for input in &file.inputs {
        if let Values::OneOf { values, .. } = &input.values {
            names.extend(values.iter().filter_map(|value| match (input.path.as_str(), value) {
                ("site.weather", toml::Value::String(name)) => Some(name.clone()),
                ("site", toml::Value::Table(site)) => Some(site.get("weather")?.as_str()?.to_owned()),
                _ => None,
            }));
        }
    }
    if let Design::List(list) = design {
        names.extend(list.column("site.weather"));
    }
    if names.is_empty() {
        names.push(base.site.weather.clone());
    }
    let mut once: Vec<String> = Vec::new();
    for name in names {
        if !once.contains(&name) {
            once.push(name);
        }
    }
    once
}

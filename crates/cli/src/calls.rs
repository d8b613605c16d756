//! What another program may call: the commands' work without their arguments, console and folders of results.
//!
//! Every answer is what the command line prints or writes, every failure its text. Not here: the work itself.
//! Read next: `run.rs`.

mod sweeping;

use std::path::{Path, PathBuf};

use rayon::prelude::*;
pub use reporting::case_key;
use reporting::{Calendar, MoneyReport};
use simulation::results::Case;
pub use simulation::results::HouseYear;
use study::build::Built;
pub use study::vary::Change;
use study::vary::{Template, VaryError};
use study::{Dimension, Problems, Study};
use weather::bins::{Edges, bins};
use weather::{Overrides, PlaceOverride, WeatherYear};

pub use self::sweeping::{PartMade, SweepParts};
use crate::air::quantity;
use crate::arguments::Core;
pub use crate::failure::Failure;
use crate::run::{Prepared, Source};
use crate::{
    bins_report, bins_study, core_report, demonstration, house_years, money, run, understood, weather_report,
};

/// Usual width of a bin of dry bulb.
const USUAL_WIDTH_K: f64 = 2.0;

/// A weather file, read and doubted.
pub struct WeatherFile {
    /// Its hours, its place.
    pub year: WeatherYear,
    /// What was noticed, in sentences.
    pub findings: Vec<String>,
    /// The figures of `dewledger weather --json`, as JSON text.
    pub figures: String,
}

/// Reads a typical year; `place` says what the file leaves open.
///
/// # Errors
/// [`Failure`] as `dewledger weather` has it.
pub fn read_weather(path: &Path, place: PlaceOverride) -> Result<WeatherFile, Failure> {
    let read = weather_report::read(path, &Overrides { place, ..Overrides::default() })?;
    let figures = weather_report::figures_json(&read)?;
    let findings = read.findings.iter().map(ToString::to_string).collect();
    Ok(WeatherFile { year: read.year, findings, figures })
}

/// A study as text, with the name that messages call it by and the folder that its weather is looked for in.
#[derive(Clone)]
pub struct StudyText {
    text: String,
    name: String,
    /// None for the demonstration, whose weather is built in.
    folder: Option<PathBuf>,
    title: String,
    units: Vec<String>,
    weather: String,
    changes: Vec<Change>,
}

impl StudyText {
    /// The study in a file.
    ///
    /// # Errors
    /// [`Failure`] when it cannot be read or is no sound study, with every problem and its line.
    pub fn read(path: &Path) -> Result<Self, Failure> {
        let (source, folder) = run::read_study(Some(path))?;
        Self::sound(&source, Some(folder), Vec::new())
    }

    /// The study in a text; `folder` is where its weather is looked for.
    ///
    /// # Errors
    /// [`Failure`] when it is no sound study, with every problem and its line.
    pub fn of_text(text: &str, name: &str, folder: PathBuf) -> Result<Self, Failure> {
        Self::sound(&source(text, name), Some(folder), Vec::new())
    }

    /// The built-in demonstration.
    ///
    /// # Errors
    /// None that a user can cause.
    pub fn demonstration() -> Result<Self, Failure> {
        Self::sound(&source(study::starter_study(), demonstration::STUDY_NAME), None, Vec::new())
    }

    fn sound(source: &Source, folder: Option<PathBuf>, changes: Vec<Change>) -> Result<Self, Failure> {
        let study = changed(source, &changes)?;
        let text = String::from_utf8_lossy(&source.bytes).into_owned();
        let units = study.units.iter().map(|unit| unit.name.clone()).collect();
        let (title, weather) = (study.title, study.site.weather);
        Ok(Self { text, name: source.name.clone(), folder, title, units, weather, changes })
    }

    /// The study with more values changed, in their order.
    ///
    /// # Errors
    /// [`Failure`] for a path that leads nowhere, and when the changed study is not sound, with every problem and its place.
    pub fn with_values(&self, changes: &[Change]) -> Result<Self, Failure> {
        let changes: Vec<Change> = self.changes.iter().chain(changes).cloned().collect();
        Self::sound(&source(&self.text, &self.name), self.folder.clone(), changes)
    }

    /// TOML text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What messages call it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Where its weather is looked for; none for the demonstration.
    pub fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// Its title.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// Names of its units, in its order.
    pub fn units(&self) -> &[String] {
        &self.units
    }

    /// Its weather file, as it names it.
    pub fn weather(&self) -> &str {
        &self.weather
    }

    fn prepare(&self) -> Result<Prepared, Failure> {
        let source = source(&self.text, &self.name);
        let study = changed(&source, &self.changes)?;
        let mut prepared = run::prepare_study(study, source, self.folder.as_deref())?;
        if !self.changes.is_empty() {
            let lines = self.changes.iter().map(|change| format!("{} = {}\n", change.path, change.value));
            let bytes = lines.collect::<String>().into_bytes();
            prepared.sources.push(Source {
                role: "changes",
                name: "values changed by their paths".to_owned(),
                bytes,
            });
        }
        Ok(prepared)
    }
}

/// The study in a text with values changed.
fn changed(source: &Source, changes: &[Change]) -> Result<Study, Failure> {
    if changes.is_empty() {
        return run::parse(source);
    }
    let text = String::from_utf8_lossy(&source.bytes);
    let laid_out = |problems: &Problems| Failure::laid_out(&problems.render(&text, &source.name));
    let template = Template::new(&text, &source.name).map_err(|problems| laid_out(&problems))?;
    template.with(changes).map_err(|cause| match cause {
        VaryError::Path(cause) => {
            Failure::input(format!("{}: {cause}", source.name)).hint(cause.hint.clone())
        }
        VaryError::Study(problems) => laid_out(&problems),
    })
}

fn source(text: &str, name: &str) -> Source {
    Source { role: "study", name: name.to_owned(), bytes: text.as_bytes().to_vec() }
}

/// What a run gives, as text of the files that the command line writes, and as hours.
pub struct Results {
    /// `annual.csv`.
    pub annual_csv: String,
    /// `monthly.csv`.
    pub monthly_csv: String,
    /// `money.csv`, where the study has a tariff.
    pub money_csv: Option<String>,
    /// `manifest.json`, without files.
    pub manifest_json: String,
    /// Every house-year that was run.
    pub years: Vec<HouseYear>,
    /// When each hour is.
    pub calendar: Calendar,
    /// What was noticed in the weather, in sentences.
    pub findings: Vec<String>,
}

/// Runs a study: every unit and what it is compared with.
///
/// # Errors
/// [`Failure`] as `dewledger run` has it.
pub fn run(study: &StudyText) -> Result<Results, Failure> {
    let prepared = study.prepare()?;
    let years = house_years::house_years(&prepared.built)?;
    let summary = run::summarise(&prepared, &years)?;
    let money: Option<MoneyReport> = money::reckon(&prepared, &years, &summary)?;
    let mut manifest = run::manifest(&prepared, &summary, Vec::new());
    manifest.understood = understood::of(&prepared, &years, (&summary, &core_report::fits(&prepared)?));
    let money_csv = money.as_ref().map(reporting::money::money_csv).transpose().map_err(Failure::work)?;
    Ok(Results {
        annual_csv: summary.annual_csv().map_err(Failure::work)?,
        monthly_csv: summary.monthly_csv().map_err(Failure::work)?,
        money_csv,
        manifest_json: reporting::manifest_json(&manifest).map_err(Failure::work)?,
        calendar: Calendar::for_hours(prepared.year.hours()).map_err(Failure::work)?,
        findings: prepared.findings.iter().map(ToString::to_string).collect(),
        years,
    })
}

/// `annual.csv` of a run in which only houses of these cases are looked at: their figures are those of [`run`].
///
/// # Errors
/// [`Failure`] as `dewledger run` has it.
pub fn annual_csv(study: &StudyText, cases: &[String]) -> Result<String, Failure> {
    let prepared = study.prepare()?;
    let years = years_of(&prepared.built, cases)?;
    run::summarise(&prepared, &years)?.annual_csv().map_err(Failure::work)
}

/// The house-years that these cases need: a unit's saving is beside its own no-recovery house.
fn years_of(built: &Built, cases: &[String]) -> Result<Vec<HouseYear>, Failure> {
    let wanted = |case: Case| cases.iter().any(|name| name == case_key(case));
    let (drivers, options) = (&built.drivers, built.options);
    let units: Result<Vec<Vec<HouseYear>>, _> = built
        .units
        .par_iter()
        .map(|(name, variant)| {
            if wanted(Case::ExtractOnly) {
                return simulation::run_with_baselines(name, variant, drivers, options).map(Vec::from);
            }
            simulation::run_pair(name, variant, drivers, options).map(Vec::from)
        })
        .collect();
    let mut years: Vec<HouseYear> = units.map_err(house_years::fault)?.into_iter().flatten().collect();
    if wanted(Case::UnitHeld) || wanted(Case::NoRecoveryHeld) {
        for (name, variant) in &built.units {
            let misses = years
                .iter()
                .any(|year| year.unit == *name && year.case == Case::Unit && simulation::misses_air(year));
            if misses {
                let pair = simulation::run_held_pair(name, variant, drivers, options);
                years.extend(pair.map_err(house_years::fault)?);
            }
        }
    }
    if wanted(Case::NoVentilation) {
        years.push(
            simulation::run_no_ventilation(&built.house, drivers, options).map_err(house_years::fault)?,
        );
    }
    Ok(years)
}

/// `ledger/<house>.csv` of a house-year.
///
/// # Errors
/// [`Failure`] for a number that is not finite, which is a fault of the program.
pub fn ledger_csv(year: &HouseYear) -> Result<String, Failure> {
    reporting::ledger_csv(year).map_err(Failure::work)
}

/// Edges of bins of dry bulb, from texts such as "1 K" and "0 °C"; left out, 2 K wide from 0 °C.
///
/// # Errors
/// [`Failure`] for a text that is no such quantity, or a width out of range.
pub fn bin_edges(width: Option<&str>, edge: Option<&str>) -> Result<Edges, Failure> {
    let width = width.map(|text| quantity("width", text, Dimension::TemperatureDifference)).transpose()?;
    let edge = edge.map(|text| quantity("edge", text, Dimension::Temperature)).transpose()?;
    bins_report::checked_edges(width.unwrap_or(USUAL_WIDTH_K), edge.unwrap_or(0.0))
}

/// A climate in bins, as `dewledger bins FILE --json` prints it.
///
/// # Errors
/// [`Failure`] as `dewledger bins` has it.
pub fn climate_bins_json(path: &Path, edges: &Edges) -> Result<String, Failure> {
    let read = weather_report::read(path, &Overrides::default())?;
    let found = bins(&read.year, edges).map_err(Failure::work)?;
    bins_report::rows_json(&found, edges.width)
}

/// The bin method beside every unit's own hourly run, as `dewledger bins STUDY --json` prints it.
///
/// # Errors
/// [`Failure`] as `dewledger bins` has it.
pub fn study_bins_json(study: &StudyText, edges: &Edges) -> Result<String, Failure> {
    let (_, studies) = bins_study::studies(&study.prepare()?, edges)?;
    reporting::bins_json(&studies).map_err(Failure::work)
}

/// Air at both sides of a core, as texts with units.
pub struct PointText {
    /// Outdoor temperature, such as "-10 °C"; left out, only the core itself is told.
    pub outdoor: Option<String>,
    /// Outdoor relative humidity, such as "80 %".
    pub outdoor_humidity: String,
    /// Temperature of the extract air; left out, the heating set-point.
    pub indoor: Option<String>,
    /// Its relative humidity.
    pub indoor_humidity: String,
    /// One unit of the study; left out, all.
    pub unit: Option<String>,
}

/// What each unit's core is and does at one steady point, as `dewledger core --json` prints it.
///
/// # Errors
/// [`Failure`] as `dewledger core` has it.
pub fn core_json(study: &StudyText, point: PointText) -> Result<String, Failure> {
    let options = Core {
        study: None,
        unit: point.unit,
        outdoor: point.outdoor,
        outdoor_humidity: point.outdoor_humidity,
        indoor: point.indoor,
        indoor_humidity: point.indoor_humidity,
        accuracy: false,
        out: None,
        force: false,
        json: true,
    };
    core_report::units_json(&options, &study.prepare()?)
}

/// The guide to every column of the result files, as `dewledger columns --json` prints it.
///
/// # Errors
/// None that a user can cause.
pub fn columns_json() -> Result<String, Failure> {
    crate::guides::guide_json()
}

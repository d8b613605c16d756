//! `dewledger run`: the main job, from files to files.
//!
//! Not here: what an hour does (`simulation`), how tables and charts look (`reporting`).

use std::fs;
use std::path::{Path, PathBuf};

use rayon::prelude::*;
use sha2::{Digest, Sha256};

use reporting::MoneyReport;
use reporting::charts::{Chart, ChartInput};
use reporting::manifest::{BookResiduals, DefaultUsed, Finding, InputFile, Manifest};
use reporting::{Calendar, Hemisphere, RunSummary, ShowIn, SummaryBasis};
use simulation::results::{Case, HouseYear};
use study::Study;
use study::build::Built;
use weather::{Findings, Overrides, PlaceOverride, WeatherYear};

use crate::arguments::{Hourly, Run};
use crate::demonstration;
use crate::failure::Failure;
use crate::house_notes;
use crate::money;
use crate::output::{Destination, Filling, MANIFEST, file_safe};
use crate::pixels::Painter;
use crate::report;
use crate::show;
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
    let destination = Destination::choose(options.out.as_deref(), &prepared.stem, options.force)?;
    if !options.quiet {
        tell_findings(&prepared);
    }
    let years = house_years(&prepared.built)?;
    let summary = summarise(&prepared, &years)?;
    let mut money = money::reckon(&prepared, &years, &summary)?;
    if let Some(money) = money.as_mut().filter(|_| options.what_if) {
        money.what_if = what_if::of(&prepared, money);
    }
    let folder = write_all(options, &prepared, &years, (&summary, money.as_ref()), destination)?;
    if options.json {
        show::result_line(annual_json(&summary)?)
    } else if options.quiet {
        Ok(())
    } else {
        show::result(&results_text(&prepared, (&summary, money.as_ref()), &folder)?)
    }
}

pub(crate) fn prepare(path: Option<&Path>) -> Result<Prepared, Failure> {
    let (study, study_source, folder) = study_at(path)?;
    let weather_source = read_weather(path, &folder, &study)?;
    let (year, findings) = weather::read(&weather_source.bytes, &overrides(&study))
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
    let text = study::text_of(&source.bytes, &source.name)
        .map_err(|problems| Failure::laid_out(&problems.render("", &source.name)))?;
    let study = study::parse_study(text, &source.name)
        .map_err(|problems| Failure::laid_out(&problems.render(text, &source.name)))?;
    Ok((study, source, folder))
}

/// What the study left open, and what no key can change yet.
pub(crate) fn defaults_of(study: &Study) -> Vec<study::DefaultUsed> {
    let mut defaults = study.defaults_used.clone();
    defaults.extend(study::build::assumptions(study));
    defaults
}

fn read_study(path: Option<&Path>) -> Result<(Source, PathBuf), Failure> {
    let Some(path) = path else {
        let bytes = study::starter_study().as_bytes().to_vec();
        let name = demonstration::STUDY_NAME.to_owned();
        return Ok((Source { role: "study", name, bytes }, PathBuf::new()));
    };
    let bytes = fs::read(path).map_err(|cause| Failure::unreadable(path, &cause))?;
    let folder = path.parent().map_or_else(PathBuf::new, Path::to_owned);
    Ok((Source { role: "study", name: path.display().to_string(), bytes }, folder))
}

fn read_weather(study_path: Option<&Path>, folder: &Path, study: &Study) -> Result<Source, Failure> {
    if study_path.is_none() && study.site.weather == demonstration::WEATHER_NAME {
        let name = demonstration::WEATHER_NAME.to_owned();
        return Ok(Source { role: "weather", name, bytes: demonstration::WEATHER.to_vec() });
    }
    let path = folder.join(&study.site.weather);
    let bytes = fs::read(&path).map_err(|cause| {
        Failure::unreadable(&path, &cause)
            .hint("`site.weather` names a file beside the study file, unless it is an absolute path")
    })?;
    Ok(Source { role: "weather", name: path.display().to_string(), bytes })
}

/// What the study says of its weather file.
pub(crate) fn overrides(study: &Study) -> Overrides {
    let site = &study.site;
    Overrides {
        place: PlaceOverride {
            name: None,
            latitude_deg: site.latitude_deg,
            longitude_deg: site.longitude_deg,
            elevation_m: site.elevation_m,
            time_zone_h: site.time_zone_h,
        },
        humidity_basis: site.humidity_basis.map(|basis| match basis {
            study::HumidityBasis::Water => weather::HumidityBasis::Water,
            study::HumidityBasis::Ice => weather::HumidityBasis::Ice,
        }),
        sun_offset_h: None,
        wind_height_m: site.wind.height_m,
    }
}

/// Every house-year of the study: no ventilation first, then each unit with its baselines, in the study's order, then those that
/// miss outdoor air once more with their air held.
fn house_years(built: &Built) -> Result<Vec<HouseYear>, Failure> {
    let pairs: Result<Vec<_>, _> = built
        .units
        .par_iter()
        .map(|(name, variant)| simulation::run_with_baselines(name, variant, &built.drivers, built.options))
        .collect();
    let alone = simulation::run_no_ventilation(&built.house, &built.drivers, built.options);
    let mut years = vec![alone.map_err(fault)?];
    let pairs = pairs.map_err(fault)?;
    let held: Result<Vec<_>, _> = built
        .units
        .par_iter()
        .zip(&pairs)
        .filter(|(_, pair)| misses_air(&pair[0]))
        .map(|((name, variant), _)| simulation::run_held_pair(name, variant, &built.drivers, built.options))
        .collect();
    years.extend(pairs.into_iter().flatten());
    years.extend(held.map_err(fault)?.into_iter().flatten());
    Ok(years)
}

/// A year that could not be run to its end.
pub(crate) fn fault(cause: simulation::RunError) -> Failure {
    Failure::work(cause).hint("this is a fault of the program, not of the study; please report it")
}

/// Whether a unit missed outdoor air, so that it is run once more with that air made up.
pub(crate) fn misses_air(unit: &HouseYear) -> bool {
    unit.hourly.missed_outdoor_air_kg.iter().any(|kg| *kg > MISSED_KG)
}

/// Outdoor air of an hour that counts as missed \[kg\]; less is rounding.
const MISSED_KG: f64 = 0.001;

fn summarise(prepared: &Prepared, years: &[HouseYear]) -> Result<RunSummary, Failure> {
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

fn write_all(
    options: &Run,
    prepared: &Prepared,
    years: &[HouseYear],
    (summary, money): (&RunSummary, Option<&MoneyReport>),
    destination: Destination,
) -> Result<PathBuf, Failure> {
    let mut filling = destination.begin()?;
    filling.write("annual.csv", &summary.annual_csv().map_err(Failure::work)?)?;
    filling.write("monthly.csv", &summary.monthly_csv().map_err(Failure::work)?)?;
    if let Some(money) = money {
        money::write(money, &mut filling)?;
    }
    write_years(options, prepared, years, &mut filling)?;
    let drawn: Vec<HouseYear> = years.iter().filter(|year| !is_in_tables_alone(year)).cloned().collect();
    let input = ChartInput {
        study: &charts_title(prepared),
        years: &drawn,
        show_in: show_in(&prepared.study),
        corner: Some(prepared.built.corner),
        extract_wet_share: prepared.study.ventilation.extract_from.wet_rooms,
    };
    let mut charts = reporting::charts::all(&input).map_err(Failure::work)?;
    let protection = reporting::charts::frost_protection_chart(summary, &charts_title(prepared));
    charts.push(Chart { file: "frost-protection.svg", svg: protection.map_err(Failure::work)? });
    if let Some(money) = money {
        let costs = reporting::charts::cost_breakdown_chart(money, &charts_title(prepared));
        charts.push(Chart { file: "cost-breakdown.svg", svg: costs.map_err(Failure::work)? });
    }
    write_charts(&charts, options.png, &mut filling)?;
    let mut files = filling.files().to_vec();
    files.extend(report::files(options.report).iter().map(|&name| name.to_owned()));
    files.push(MANIFEST.to_owned());
    let manifest = manifest(prepared, summary, files);
    let found = report::Found { years, summary, money, charts: &charts, manifest: &manifest };
    report::write(options.report, prepared, &found, &mut filling)?;
    filling.write(MANIFEST, &reporting::manifest_json(&manifest).map_err(Failure::work)?)?;
    filling.finish()
}

/// The study's title, with what its climate is not.
fn charts_title(prepared: &Prepared) -> String {
    let title = &prepared.study.title;
    let year = &prepared.year;
    match (year.is_synthetic, year.shifted.is_some()) {
        (false, false) => title.clone(),
        (true, false) => format!("{title} (invented climate)"),
        (false, true) => format!("{title} (shifted climate)"),
        (true, true) => format!("{title} (invented, shifted climate)"),
    }
}

/// Writes the charts, and beside each, where it is asked for, the same in pixels.
fn write_charts(charts: &[Chart], png: bool, filling: &mut Filling) -> Result<(), Failure> {
    for chart in charts {
        filling.write(&format!("charts/{}", chart.file), &chart.svg)?;
    }
    if !png {
        return Ok(());
    }
    let painter = Painter::new();
    let drawn: Result<Vec<_>, _> = charts.par_iter().map(|chart| painter.png(&chart.svg)).collect();
    for (chart, bytes) in charts.iter().zip(drawn?) {
        let name = chart.file.trim_end_matches(".svg");
        filling.write(&format!("charts/{name}.png"), bytes)?;
    }
    Ok(())
}

fn write_years(
    options: &Run,
    prepared: &Prepared,
    years: &[HouseYear],
    filling: &mut Filling,
) -> Result<(), Failure> {
    let calendar = Calendar::for_hours(prepared.year.hours()).map_err(Failure::work)?;
    let mut names: Vec<String> = Vec::new();
    for year in years {
        let name = unused(&year_name(year), &names);
        filling.write(&format!("ledger/{name}.csv"), &reporting::ledger_csv(year).map_err(Failure::work)?)?;
        if options.hourly == Hourly::Csv && !is_in_tables_alone(year) {
            let hourly = reporting::hourly_csv(year, &calendar).map_err(Failure::work)?;
            filling.write(&format!("hourly/{name}.csv"), &hourly)?;
        }
        names.push(name);
    }
    Ok(())
}

/// Whether it was run to be compared in the tables alone: it has no hourly file and is in no chart.
fn is_in_tables_alone(year: &HouseYear) -> bool {
    matches!(year.case, Case::UnitHeld | Case::NoRecoveryHeld | Case::ExtractOnly)
}

fn year_name(year: &HouseYear) -> String {
    match year.case {
        Case::Unit => file_safe(&year.unit),
        Case::NoRecovery => format!("{}.no-recovery", file_safe(&year.unit)),
        Case::UnitHeld => format!("{}.held-air", file_safe(&year.unit)),
        Case::NoRecoveryHeld => format!("{}.held-air.no-recovery", file_safe(&year.unit)),
        Case::ExtractOnly => format!("{}.extract-only", file_safe(&year.unit)),
        Case::NoVentilation => "no-ventilation".to_owned(),
    }
}

/// Two unit names can become one file name: number the later one.
pub(crate) fn unused(name: &str, taken: &[String]) -> String {
    let numbered = (2..).map(|n| format!("{name}-{n}"));
    let mut candidates = std::iter::once(name.to_owned()).chain(numbered);
    candidates.find(|candidate| !taken.contains(candidate)).unwrap_or_else(|| name.to_owned())
}

pub(crate) fn manifest(prepared: &Prepared, summary: &RunSummary, files: Vec<String>) -> Manifest {
    let findings = prepared
        .findings
        .iter()
        .map(|finding| Finding { place: prepared.study.site.weather.clone(), text: finding.to_string() });
    Manifest {
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

//! What the report says, section by section, from the results of a run.
//!
//! Every figure of the results carries the file, row and column that it is from. Not here: how it looks (`html`, `pdf`).
//! Read next: `answer` (the first page), then `year` and `basis`.

mod answer;
mod basis;
mod bins;
mod home;
mod house;
mod install;
mod lead;
mod teller;
mod units;
mod year;

use reporting::charts::Chart;
use reporting::manifest::Manifest;
use reporting::{BinStudy, FitReport, MoneyReport, RunSummary};
use simulation::results::HouseYear;
use study::Study;

use crate::PageError;
use crate::model::{Block, Hours, Line, Picture, Report, Section, UnitHours};
use crate::words::{Language, Words};
use teller::{Teller, quoted};

/// Everything that a report is made from.
#[derive(Debug, Clone, Copy)]
pub struct Ingredients<'a> {
    /// The language to write in.
    pub language: Language,
    /// The study.
    pub study: &'a Study,
    /// The study as text, as it was read.
    pub study_text: &'a str,
    /// The climate.
    pub climate: &'a Climate,
    /// Figures.
    pub summary: &'a RunSummary,
    /// Money, where the study has a tariff.
    pub money: Option<&'a MoneyReport>,
    /// The house-years.
    pub years: &'a [HouseYear],
    /// The charts, in the order to show them.
    pub charts: &'a [Chart],
    /// Inputs, defaults, findings, residuals.
    pub manifest: &'a Manifest,
    /// What each rating sheet says beside its fitted core.
    pub fits: &'a [FitReport],
    /// The bin method beside each unit's run.
    pub bins: &'a [BinStudy],
    /// How far figures may spread; empty where no spread was run.
    pub spread: &'a [SpreadOf],
}

/// What is said of the climate.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Climate {
    /// Its place.
    pub place: String,
    /// North positive \[°\].
    pub latitude_deg: f64,
    /// East positive \[°\].
    pub longitude_deg: f64,
    /// Above the sea \[m\].
    pub elevation_m: f64,
    /// Whether it is invented.
    pub origin: Origin,
    /// How it was shifted from another year.
    pub shifted: Option<String>,
}

/// Where a climate is from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Origin {
    /// Published by somebody.
    #[default]
    Published,
    /// Invented, for tests and examples.
    Invented,
}

/// A figure that may spread.
#[derive(Debug, Clone, PartialEq)]
pub struct SpreadOf {
    /// The unit's name, a comma, and what it is of.
    pub name: String,
    /// Unit of measure.
    pub unit: String,
    /// Tenth, fiftieth and ninetieth percentile.
    pub percentiles: [f64; 3],
}

/// The whole report.
///
/// # Errors
/// [`PageError`] when the words of the language cannot be read.
pub fn full(ingredients: &Ingredients<'_>) -> Result<Report, PageError> {
    let teller = Teller::new(ingredients, Words::of(ingredients.language)?);
    let sections = vec![
        answer::section(&teller),
        year::compare(&teller),
        charts(&teller),
        house::house(&teller),
        house::air(&teller),
        units::section(&teller),
        year::numbers(&teller),
        bins::section(&teller)?,
        install::sheet(&teller),
        install::upkeep(&teller),
        basis::inputs(&teller),
        basis::books(&teller),
        basis::method(&teller),
        basis::sign(&teller),
    ];
    let sections = sections.into_iter().filter(|section| !section.blocks.is_empty()).collect();
    Ok(report(&teller, "report.kind", sections, Some(hours(&teller))))
}

/// One page for a home-owner.
///
/// # Errors
/// [`PageError`] when the words of the language cannot be read.
pub fn one_page(ingredients: &Ingredients<'_>) -> Result<Report, PageError> {
    let teller = Teller::new(ingredients, Words::of(ingredients.language)?);
    let sections = home::sections(&teller);
    Ok(report(&teller, "report.kind_one", sections, None))
}

fn report(teller: &Teller<'_>, kind: &str, sections: Vec<Section>, hours: Option<Hours>) -> Report {
    let given = teller.given;
    let mut parts = vec![teller.caption(kind)];
    if !given.climate.place.is_empty() {
        parts.push(teller.fact_words("site.place").into());
    }
    if given.climate.origin == Origin::Invented {
        parts.push(teller.caption("report.invented"));
    }
    if given.climate.shifted.is_some() {
        parts.push(teller.caption("report.shifted"));
    }
    let day = given.manifest.created.split('T').next().unwrap_or_default();
    let when = quoted(day, "manifest.json|/created".to_owned());
    let version = &given.manifest.engine_version;
    let version = quoted(version, "manifest.json|/engine_version".to_owned());
    parts.push(teller.line("report.made", &[("when", when), ("version", version)]));
    Report {
        language: given.language.code(),
        title: given.study.title.clone(),
        below_title: Line::joined(parts, " · "),
        foot: teller.text("report.foot"),
        sections,
        hours,
    }
}

/// The charts of the report, in their order, and the words of each.
const CAPTIONS: [(&str, &str); 10] = [
    ("humidity.svg", "charts.humidity"),
    ("condensate.svg", "charts.condensate"),
    ("condensate-week.svg", "charts.condensate_week"),
    ("frost-hours.svg", "charts.frost_hours"),
    ("frost-protection.svg", "charts.frost_protection"),
    ("energy-months.svg", "charts.energy_months"),
    ("cost-breakdown.svg", "charts.cost_breakdown"),
    ("mould-index.svg", "charts.mould_index"),
    ("duration.svg", "charts.duration"),
    ("psychrometric-year.svg", "charts.psychrometric_year"),
];

fn charts(teller: &Teller<'_>) -> Section {
    let mut blocks = Vec::new();
    for (file, key) in CAPTIONS {
        let chart = teller.given.charts.iter().find(|chart| chart.file == file);
        blocks.extend(chart.map(|chart| Block::Chart {
            picture: Picture { file: file.to_owned(), caption: teller.text(key), svg: chart.svg.clone() },
        }));
    }
    teller.section("charts", "charts.heading", blocks)
}

/// The year hour by hour in whole tenths.
fn hours(teller: &Teller<'_>) -> Hours {
    use simulation::results::Case;
    let show = teller.show_in;
    let scaled = |values: &[f64], of: &dyn Fn(f64) -> f64| -> Vec<i64> {
        #[allow(clippy::cast_possible_truncation, reason = "far below 2^53, and saturating else")]
        values.iter().map(|value| of(*value).round() as i64).collect()
    };
    let of_unit = |year: &HouseYear| UnitHours {
        name: year.unit.clone(),
        humidity: scaled(&year.hourly.relative_humidity, &|share| share * 1000.0),
        supply: scaled(&year.hourly.supply_c, &|celsius| show.temperature(celsius) * 10.0),
        drain: scaled(&year.hourly.drain_kg, &|kg| show.volume(kg) * 1000.0),
        ice: scaled(&year.hourly.frost_kg, &|kg| show.mass(kg) * 1000.0),
    };
    let units = || teller.given.years.iter().filter(|year| year.case == Case::Unit);
    let outdoor = units().next().map_or(&[][..], |year| &year.hourly.outdoor_c);
    Hours {
        days: outdoor.len() / 24,
        temperature_unit: show.temperature_unit(),
        water_unit: show.volume_unit(),
        mass_unit: show.mass_unit(),
        outdoor: scaled(outdoor, &|celsius| show.temperature(celsius) * 10.0),
        units: units().map(of_unit).collect(),
    }
}

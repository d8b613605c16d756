//! The folder of a run's results: tables, bins, charts, hours, ledgers, report, manifest.
//!
//! Not here: how they look (`reporting`), how a folder comes to be whole or not at all (`output`).

use std::path::PathBuf;

use rayon::prelude::*;
use reporting::charts::{Chart, ChartInput, in_tables_alone};
use reporting::{BinStudy, Calendar, HourlyCsv, MoneyReport, RunSummary, Words};
use simulation::results::{Case, HouseYear};
use weather::bins::Edges;

use crate::arguments::{Hourly, Run};
use crate::core_report;
use crate::failure::Failure;
use crate::money;
use crate::output::{Filling, MANIFEST, file_safe};
use crate::pixels::Painter;
use crate::report;
use crate::run::{Prepared, manifest, show_in};
use crate::spread::Spread;
use crate::understood;

/// What is made of one house-year as soon as it has been run.
pub(crate) struct OfYear {
    /// Files that were written, in their order.
    files: Vec<String>,
    bins: Option<BinStudy>,
}

/// What is needed for that.
pub(crate) struct YearFiles<'a> {
    hourly: Hourly,
    prepared: &'a Prepared,
    edges: &'a Edges,
    filling: &'a Filling,
    /// Name of each house-year's files, without their ending.
    stems: Vec<(&'a str, Case, String)>,
}

impl<'a> YearFiles<'a> {
    pub(crate) fn new(
        hourly: Hourly,
        prepared: &'a Prepared,
        edges: &'a Edges,
        filling: &'a Filling,
    ) -> Self {
        let units = || prepared.built.units.iter().map(|(name, _)| name.as_str());
        let each =
            |cases: &'static [Case]| units().flat_map(|unit| cases.iter().map(move |&case| (unit, case)));
        let as_run = each(&[Case::Unit, Case::NoRecovery, Case::ExtractOnly]);
        let held = each(&[Case::UnitHeld, Case::NoRecoveryHeld]);
        let mut taken: Vec<String> = Vec::new();
        let stems =
            std::iter::once(("", Case::NoVentilation)).chain(as_run).chain(held).map(|(unit, case)| {
                let stem = unused(&year_name(unit, case), &taken);
                taken.push(stem.clone());
                (unit, case, stem)
            });
        let stems = stems.collect();
        Self { hourly, prepared, edges, filling, stems }
    }

    /// Writes its ledger and its hours, and, of a unit, reckons the bin method beside it.
    pub(crate) fn of_year(&self, year: &HouseYear) -> Result<OfYear, Failure> {
        let calendar = Calendar::for_hours(self.prepared.year.hours()).map_err(Failure::work)?;
        let stem = self.stems.iter().find(|(unit, case, _)| *unit == year.unit && *case == year.case);
        let (.., stem) = stem.ok_or_else(|| Failure::work("a house-year that was not asked for was run"))?;
        let mut files = vec![format!("ledger/{stem}.csv")];
        self.filling.put(&files[0], reporting::ledger_csv(year).map_err(Failure::work)?)?;
        files.extend(self.hours(year, &calendar, stem)?);
        let units = &self.prepared.built.units;
        let unit = units.iter().find(|(name, _)| year.case == Case::Unit && *name == year.unit);
        let bins = unit.map(|(_, variant)| BinStudy::new(year, variant, self.edges));
        Ok(OfYear { files, bins: bins.transpose().map_err(Failure::work)? })
    }

    /// Writes its hours as text or columns, and answers the file's name.
    fn hours(&self, year: &HouseYear, calendar: &Calendar, stem: &str) -> Result<Option<String>, Failure> {
        if in_tables_alone(year.case) {
            return Ok(None);
        }
        let name = |ending: &str| format!("hourly/{stem}.{ending}");
        let name = match self.hourly {
            Hourly::None => return Ok(None),
            Hourly::Csv => {
                let name = name("csv");
                let mut hours = HourlyCsv::new(year, calendar).map_err(Failure::work)?;
                self.filling.put_pieces(&name, |text| hours.next_piece(text).map_err(Failure::work))?;
                name
            }
            Hourly::Parquet => {
                let name = name("parquet");
                let hours = reporting::hourly_parquet(year, calendar).map_err(Failure::work)?;
                self.filling.put(&name, hours)?;
                name
            }
        };
        Ok(Some(name))
    }
}

/// Writes everything and answers where it is.
pub(crate) fn write(
    options: &Run,
    prepared: &Prepared,
    (years, mut of_years): (&[HouseYear], Vec<OfYear>),
    (summary, money): (&RunSummary, Option<&MoneyReport>),
    (spread, mut filling): (Option<&Spread>, Filling),
) -> Result<PathBuf, Failure> {
    filling.write("annual.csv", &summary.annual_csv().map_err(Failure::work)?)?;
    filling.write("monthly.csv", &summary.monthly_csv().map_err(Failure::work)?)?;
    let studies: Vec<BinStudy> = of_years.iter_mut().filter_map(|of_year| of_year.bins.take()).collect();
    filling.write("bins.csv", &reporting::bins_csv(&studies).map_err(Failure::work)?)?;
    if let Some(money) = money {
        money::write(money, &mut filling)?;
    }
    for name in of_years.into_iter().flat_map(|of_year| of_year.files) {
        filling.list(name);
    }
    let charts = charts(prepared, years, (summary, money))?;
    write_charts(&charts, options.png, &mut filling)?;
    let mut files = filling.files().to_vec();
    files.extend(report::files(options.report).iter().map(|&name| name.to_owned()));
    files.push(MANIFEST.to_owned());
    let fits = core_report::fits(prepared)?;
    let mut manifest = manifest(prepared, summary, files);
    manifest.inputs.extend(spread.map(|spread| spread.source.clone()));
    let spread = spread.map_or(&[][..], |spread| &spread.of);
    manifest.understood = understood::of(prepared, years, (summary, &fits));
    let found = report::Found {
        years,
        summary,
        money,
        charts: &charts,
        manifest: &manifest,
        fits: &fits,
        bins: &studies,
        spread,
    };
    report::write(options.report, prepared, &found, &mut filling)?;
    filling.write(MANIFEST, &reporting::manifest_json(&manifest).map_err(Failure::work)?)?;
    filling.finish()
}

/// Every chart of the run.
fn charts(
    prepared: &Prepared,
    years: &[HouseYear],
    (summary, money): (&RunSummary, Option<&MoneyReport>),
) -> Result<Vec<Chart>, Failure> {
    let language = report::language(prepared);
    let is_not = (prepared.year.is_synthetic, prepared.year.shifted.is_some());
    let title = marked(&prepared.study.title, is_not, Words::of(language).map_err(Failure::work)?);
    let input = ChartInput {
        study: &title,
        language,
        years,
        show_in: show_in(&prepared.study),
        corner: Some(prepared.built.corner),
        extract_wet_share: prepared.study.ventilation.extract_from.wet_rooms,
    };
    let mut charts = reporting::charts::all(&input).map_err(Failure::work)?;
    let protection = reporting::charts::frost_protection_chart(summary, &title, language);
    charts.push(Chart { file: "frost-protection.svg", svg: protection.map_err(Failure::work)? });
    if let Some(money) = money {
        let costs = reporting::charts::cost_breakdown_chart(money, &title, language);
        charts.push(Chart { file: "cost-breakdown.svg", svg: costs.map_err(Failure::work)? });
    }
    Ok(charts)
}

/// A study's title, with what its climate is not.
pub(crate) fn marked(title: &str, (invented, shifted): (bool, bool), words: &Words) -> String {
    let key = match (invented, shifted) {
        (false, false) => return title.to_owned(),
        (true, false) => "chart.invented",
        (false, true) => "chart.shifted",
        (true, true) => "chart.invented_shifted",
    };
    words.fill(key, &[("title", title)])
}

/// Writes the charts, and beside each, where it is asked for, the same in pixels.
fn write_charts(charts: &[Chart], png: bool, filling: &mut Filling) -> Result<(), Failure> {
    let name = |chart: &Chart| format!("charts/{}", chart.file);
    charts.par_iter().try_for_each(|chart| filling.put(&name(chart), &chart.svg))?;
    for chart in charts {
        filling.list(name(chart));
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

/// Name of a house-year's files, without their ending.
pub(crate) fn year_name(unit: &str, case: Case) -> String {
    let unit = file_safe(unit);
    match case {
        Case::Unit => unit,
        Case::NoRecovery => format!("{unit}.no-recovery"),
        Case::UnitHeld => format!("{unit}.held-air"),
        Case::NoRecoveryHeld => format!("{unit}.held-air.no-recovery"),
        Case::ExtractOnly => format!("{unit}.extract-only"),
        Case::NoVentilation => "no-ventilation".to_owned(),
    }
}

/// Two unit names can become one file name: number the later one.
pub(crate) fn unused(name: &str, taken: &[String]) -> String {
    let numbered = (2..).map(|n| format!("{name}-{n}"));
    let mut candidates = std::iter::once(name.to_owned()).chain(numbered);
    candidates.find(|candidate| !taken.contains(candidate)).unwrap_or_else(|| name.to_owned())
}

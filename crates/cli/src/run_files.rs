//! The folder of a run's results: tables, bins, charts, hours, ledgers, report, manifest.
//!
//! Not here: how they look (`reporting`), how a folder comes to be whole or not at all (`output`).

use rayon::prelude::*;
use reporting::charts::{Chart, ChartInput, in_tables_alone};
use reporting::{BinStudy, Calendar, HourlyCsv, MoneyReport, RunSummary, Words};
use simulation::Variant;
use simulation::results::{Case, HouseYear};

use crate::arguments::{Hourly, Run};
use crate::bins_report::usual_edges;
use crate::core_report;
use crate::failure::Failure;
use crate::money;
use crate::output::{Filling, MANIFEST, file_safe};
use crate::pixels::Painter;
use crate::report;
use crate::run::{Prepared, manifest, show_in};
use crate::spread::Spread;
use crate::understood;

/// The files of single house-years: ledgers and hours.
pub(crate) struct YearFiles<'a> {
    hourly: Hourly,
    prepared: &'a Prepared,
    filling: &'a Filling,
    /// Name of each house-year's files, without their ending.
    stems: Vec<(&'a str, Case, String)>,
}

impl<'a> YearFiles<'a> {
    pub(crate) fn new(hourly: Hourly, prepared: &'a Prepared, filling: &'a Filling) -> Self {
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
        Self { hourly, prepared, filling, stems }
    }

    /// Writes a year's ledger and its hours.
    pub(crate) fn write(&self, year: &HouseYear) -> Result<(), Failure> {
        let Names { ledger, hours } = self.names(year)?;
        self.filling.put(&ledger, reporting::ledger_csv(year).map_err(Failure::work)?)?;
        let Some(name) = hours else { return Ok(()) };
        let calendar = Calendar::for_hours(self.prepared.year.hours()).map_err(Failure::work)?;
        if self.hourly == Hourly::Parquet {
            let hours = reporting::hourly_parquet(year, &calendar).map_err(Failure::work)?;
            return self.filling.put(&name, hours);
        }
        let mut hours = HourlyCsv::new(year, &calendar).map_err(Failure::work)?;
        self.filling.put_pieces(&name, |text| hours.next_piece(text).map_err(Failure::work))
    }

    /// What they are called.
    fn names(&self, year: &HouseYear) -> Result<Names, Failure> {
        let stem = self.stems.iter().find(|(unit, case, _)| *unit == year.unit && *case == year.case);
        let (.., stem) = stem.ok_or_else(|| Failure::work("a house-year that was not asked for was run"))?;
        let ending = match self.hourly {
            Hourly::None => None,
            Hourly::Csv => Some("csv"),
            Hourly::Parquet => Some("parquet"),
        };
        let ending = ending.filter(|_| !in_tables_alone(year.case));
        Ok(Names {
            ledger: format!("ledger/{stem}.csv"),
            hours: ending.map(|ending| format!("hourly/{stem}.{ending}")),
        })
    }
}

/// Names of a house-year's files.
struct Names {
    ledger: String,
    /// `None` for hours that are not kept.
    hours: Option<String>,
}

/// Writes everything but the files of single years.
pub(crate) fn write(
    options: &Run,
    prepared: &Prepared,
    (years, of_years): (&[HouseYear], &YearFiles<'_>),
    (summary, money): (&RunSummary, Option<&MoneyReport>),
    (spread, filling): (Option<&Spread>, &Filling),
) -> Result<(), Failure> {
    filling.write("annual.csv", summary.annual_csv().map_err(Failure::work)?)?;
    filling.write("monthly.csv", summary.monthly_csv().map_err(Failure::work)?)?;
    let studies = bin_studies(prepared, years)?;
    filling.write("bins.csv", reporting::bins_csv(&studies).map_err(Failure::work)?)?;
    if let Some(money) = money {
        money::write(money, filling)?;
    }
    for year in years {
        let Names { ledger, hours } = of_years.names(year)?;
        filling.list(ledger);
        if let Some(hours) = hours {
            filling.list(hours);
        }
    }
    let charts = charts(prepared, years, (summary, money))?;
    write_charts(&charts, options.png, filling)?;
    let mut files = filling.files();
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
    report::write(options.report, prepared, &found, filling)?;
    filling.write(MANIFEST, reporting::manifest_json(&manifest).map_err(Failure::work)?)
}

/// The bin method beside the hours of each unit.
fn bin_studies(prepared: &Prepared, years: &[HouseYear]) -> Result<Vec<BinStudy>, Failure> {
    let edges = usual_edges(show_in(&prepared.study))?;
    let of_unit = |(name, variant): &(String, Variant)| {
        let year = years.iter().find(|year| year.case == Case::Unit && year.unit == *name);
        year.map(|year| BinStudy::new(year, variant, &edges).map_err(Failure::work)).transpose()
    };
    let each: Vec<_> = prepared.built.units.par_iter().map(of_unit).collect();
    each.into_iter().filter_map(Result::transpose).collect()
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
fn write_charts(charts: &[Chart], png: bool, filling: &Filling) -> Result<(), Failure> {
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

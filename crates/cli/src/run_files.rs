//! The folder of a run's results: tables, bins, charts, hours, ledgers, report, manifest.
//!
//! Not here: how they look (`reporting`), how a folder comes to be whole or not at all (`output`).

use std::path::PathBuf;

use rayon::prelude::*;
use reporting::charts::{Chart, ChartInput, in_tables_alone};
use reporting::{BinStudy, Calendar, MoneyReport, RunSummary, Words};
use simulation::results::{Case, HouseYear};
use weather::bins::Edges;

use crate::arguments::{Hourly, Run};
use crate::core_report;
use crate::failure::Failure;
use crate::money;
use crate::output::{Destination, Filling, MANIFEST, file_safe};
use crate::pixels::Painter;
use crate::report;
use crate::run::{Prepared, manifest, show_in};
use crate::spread::Spread;
use crate::understood;

/// What is made of one house-year as soon as it has been run.
pub(crate) struct OfYear {
    ledger: String,
    hours: Option<Vec<u8>>,
    bins: Option<BinStudy>,
}

/// Its ledger, its hours as text or columns, and, of a unit, the bin method beside it.
pub(crate) fn of_year(
    hourly: Hourly,
    prepared: &Prepared,
    edges: &Edges,
    year: &HouseYear,
) -> Result<OfYear, Failure> {
    let calendar = Calendar::for_hours(prepared.year.hours()).map_err(Failure::work)?;
    let hours = match hourly {
        _ if in_tables_alone(year.case) => None,
        Hourly::Csv => Some(reporting::hourly_csv(year, &calendar).map(String::into_bytes)),
        Hourly::Parquet => Some(reporting::hourly_parquet(year, &calendar)),
        Hourly::None => None,
    };
    let unit = prepared.built.units.iter().find(|(name, _)| year.case == Case::Unit && *name == year.unit);
    Ok(OfYear {
        ledger: reporting::ledger_csv(year).map_err(Failure::work)?,
        hours: hours.transpose().map_err(Failure::work)?,
        bins: unit
            .map(|(_, variant)| BinStudy::new(year, variant, edges))
            .transpose()
            .map_err(Failure::work)?,
    })
}

/// Writes everything and answers where it is.
pub(crate) fn write(
    options: &Run,
    prepared: &Prepared,
    (years, mut of_years): (&[HouseYear], Vec<OfYear>),
    (summary, money): (&RunSummary, Option<&MoneyReport>),
    (spread, destination): (Option<&Spread>, Destination),
) -> Result<PathBuf, Failure> {
    let mut filling = destination.begin()?;
    filling.write("annual.csv", &summary.annual_csv().map_err(Failure::work)?)?;
    filling.write("monthly.csv", &summary.monthly_csv().map_err(Failure::work)?)?;
    let studies: Vec<BinStudy> = of_years.iter_mut().filter_map(|of_year| of_year.bins.take()).collect();
    filling.write("bins.csv", &reporting::bins_csv(&studies).map_err(Failure::work)?)?;
    if let Some(money) = money {
        money::write(money, &mut filling)?;
    }
    let files = year_files(options.hourly, years, &of_years);
    let put = || files.par_iter().with_max_len(1).try_for_each(|(name, content)| filling.put(name, content));
    let (written, charts) = rayon::join(put, || charts(prepared, years, (summary, money)));
    written?;
    let charts = charts?;
    for (name, _) in files {
        filling.list(name);
    }
    // The hours as text are many times all that follows.
    drop(of_years);
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

/// Names and contents of the house-years' files.
fn year_files<'a>(hourly: Hourly, years: &[HouseYear], of_years: &'a [OfYear]) -> Vec<(String, &'a [u8])> {
    let ending = if hourly == Hourly::Parquet { "parquet" } else { "csv" };
    let mut taken: Vec<String> = Vec::new();
    let mut files = Vec::new();
    for (year, of_year) in years.iter().zip(of_years) {
        let stem = unused(&year_name(year), &taken);
        files.push((format!("ledger/{stem}.csv"), of_year.ledger.as_bytes()));
        files.extend(of_year.hours.as_deref().map(|hours| (format!("hourly/{stem}.{ending}"), hours)));
        taken.push(stem);
    }
    files
}

/// Name of a house-year's files, without their ending.
pub(crate) fn year_name(year: &HouseYear) -> String {
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

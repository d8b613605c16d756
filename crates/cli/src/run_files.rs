//! The folder of a run's results: tables, bins, charts, hours, ledgers, report, manifest.
//!
//! Not here: how they look (`reporting`), how a folder comes to be whole or not at all (`output`).

use std::path::PathBuf;

use rayon::prelude::*;
use reporting::charts::{Chart, ChartInput};
use reporting::{BinStudy, Calendar, MoneyReport, RunSummary, Words};
use simulation::results::{Case, HouseYear};

use crate::arguments::{Hourly, Run};
use crate::bins_report::usual_edges;
use crate::core_report;
use crate::failure::Failure;
use crate::money;
use crate::output::{Destination, Filling, MANIFEST, file_safe};
use crate::pixels::Painter;
use crate::report;
use crate::run::{Prepared, manifest, show_in};
use crate::spread::Spread;
use crate::understood;

/// Writes everything and answers where it is.
pub(crate) fn write(
    options: &Run,
    prepared: &Prepared,
    years: &[HouseYear],
    (summary, money): (&RunSummary, Option<&MoneyReport>),
    (spread, destination): (Option<&Spread>, Destination),
) -> Result<PathBuf, Failure> {
    let mut filling = destination.begin()?;
    filling.write("annual.csv", &summary.annual_csv().map_err(Failure::work)?)?;
    filling.write("monthly.csv", &summary.monthly_csv().map_err(Failure::work)?)?;
    let studies = bins(prepared, years)?;
    filling.write("bins.csv", &reporting::bins_csv(&studies).map_err(Failure::work)?)?;
    if let Some(money) = money {
        money::write(money, &mut filling)?;
    }
    write_years(options, prepared, years, &mut filling)?;
    let drawn: Vec<HouseYear> = years.iter().filter(|year| !is_in_tables_alone(year)).cloned().collect();
    let language = report::language(prepared);
    let is_not = (prepared.year.is_synthetic, prepared.year.shifted.is_some());
    let title = marked(&prepared.study.title, is_not, Words::of(language).map_err(Failure::work)?);
    let input = ChartInput {
        study: &title,
        language,
        years: &drawn,
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

/// The bin method beside the run, for every unit whose bins can be counted.
fn bins(prepared: &Prepared, years: &[HouseYear]) -> Result<Vec<BinStudy>, Failure> {
    let edges = usual_edges(show_in(&prepared.study))?;
    let units = &prepared.built.units;
    units
        .par_iter()
        .filter_map(|(name, variant)| {
            let year = years.iter().find(|year| year.case == Case::Unit && year.unit == *name)?;
            Some(BinStudy::new(year, variant, &edges).map_err(Failure::work))
        })
        .collect()
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

fn write_years(
    options: &Run,
    prepared: &Prepared,
    years: &[HouseYear],
    filling: &mut Filling,
) -> Result<(), Failure> {
    let calendar = Calendar::for_hours(prepared.year.hours()).map_err(Failure::work)?;
    let hourly: Result<Vec<_>, Failure> =
        years.par_iter().map(|year| hours_of(options.hourly, year, &calendar)).collect();
    let mut names: Vec<String> = Vec::new();
    for (year, hourly) in years.iter().zip(hourly?) {
        let name = unused(&year_name(year), &names);
        filling.write(&format!("ledger/{name}.csv"), &reporting::ledger_csv(year).map_err(Failure::work)?)?;
        if let Some((ending, hours)) = hourly {
            filling.write(&format!("hourly/{name}.{ending}"), &hours)?;
        }
        names.push(name);
    }
    Ok(())
}

/// The file of a house-year's hours, with the ending of its name.
fn hours_of(
    hourly: Hourly,
    year: &HouseYear,
    calendar: &Calendar,
) -> Result<Option<(&'static str, Vec<u8>)>, Failure> {
    Ok(match hourly {
        _ if is_in_tables_alone(year) => None,
        Hourly::Csv => {
            let text = reporting::hourly_csv(year, calendar).map_err(Failure::work)?;
            Some(("csv", text.into_bytes()))
        }
        Hourly::Parquet => {
            Some(("parquet", reporting::hourly_parquet(year, calendar).map_err(Failure::work)?))
        }
        Hourly::None => None,
    })
}

/// Whether it was run to be compared in the tables alone: it has no hourly file and is in no chart.
fn is_in_tables_alone(year: &HouseYear) -> bool {
    matches!(year.case, Case::UnitHeld | Case::NoRecoveryHeld | Case::ExtractOnly)
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

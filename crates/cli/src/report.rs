//! The report of a run: gathers what crate `report` needs, writes its files.
//!
//! Not here: what the report says and how it looks (crate `report`).

use ::report::content::Origin;
use ::report::{Climate, Ingredients, Language, PageError, Report, SpreadOf, Words};
use reporting::charts::Chart;
use reporting::manifest::Manifest;
use reporting::{BinStudy, FitReport, MoneyReport, RunSummary};
use simulation::results::HouseYear;

use crate::arguments::ReportAs;
use crate::failure::Failure;
use crate::output::Filling;
use crate::run::Prepared;

/// What a run found.
pub(crate) struct Found<'a> {
    pub(crate) years: &'a [HouseYear],
    pub(crate) summary: &'a RunSummary,
    pub(crate) money: Option<&'a MoneyReport>,
    pub(crate) charts: &'a [Chart],
    pub(crate) manifest: &'a Manifest,
    pub(crate) fits: &'a [FitReport],
    pub(crate) bins: &'a [BinStudy],
    pub(crate) spread: &'a [SpreadOf],
}

/// The language of charts and report.
pub(crate) fn language(prepared: &Prepared) -> Language {
    match prepared.study.language {
        study::Language::English => Language::English,
        study::Language::French => Language::French,
    }
}

/// Names of the files that are written, in their order.
pub(crate) fn files(wanted: ReportAs) -> &'static [&'static str] {
    match wanted {
        ReportAs::All => &["report.html", "report-one-page.html", "report.pdf", "report-one-page.pdf"],
        ReportAs::Html => &["report.html", "report-one-page.html"],
        ReportAs::None => &[],
    }
}

/// Writes the report and the one page for the home-owner.
pub(crate) fn write(
    wanted: ReportAs,
    prepared: &Prepared,
    found: &Found<'_>,
    filling: &Filling,
) -> Result<(), Failure> {
    if wanted == ReportAs::None {
        return Ok(());
    }
    let climate = climate(prepared);
    let study_text = prepared.sources.first().map_or(&[][..], |source| &source.bytes);
    let study_text = String::from_utf8_lossy(study_text);
    let ingredients = Ingredients {
        language: language(prepared),
        study: &prepared.study,
        study_text: &study_text,
        climate: &climate,
        summary: found.summary,
        money: found.money,
        years: found.years,
        charts: found.charts,
        manifest: found.manifest,
        fits: found.fits,
        bins: found.bins,
        spread: found.spread,
    };
    let words = Words::of(ingredients.language).map_err(Failure::work)?;
    let of = |report: Result<Report, PageError>| {
        let report = report.map_err(Failure::work)?;
        let page = || ::report::page(&report, words).map(String::into_bytes).map_err(Failure::work);
        let pdf = || ::report::pdf(&report, words).map_err(Failure::work);
        let (page, pdf) = rayon::join(page, || (wanted == ReportAs::All).then(pdf).transpose());
        Ok((page?, pdf?))
    };
    let (whole, page) =
        rayon::join(|| of(::report::full(&ingredients)), || of(::report::one_page(&ingredients)));
    let ((whole, whole_pdf), (page, page_pdf)) = (whole?, page?);
    // In the order of `files`: pages, then PDFs.
    for (name, content) in
        files(wanted).iter().zip([Some(whole), Some(page), whole_pdf, page_pdf].into_iter().flatten())
    {
        filling.write(name, content)?;
    }
    Ok(())
}

fn climate(prepared: &Prepared) -> Climate {
    let year = &prepared.year;
    Climate {
        place: year.place.name.clone(),
        latitude_deg: year.place.latitude_deg,
        longitude_deg: year.place.longitude_deg,
        elevation_m: year.place.elevation_m,
        origin: if year.is_synthetic { Origin::Invented } else { Origin::Published },
        shifted: year.shifted.clone(),
    }
}

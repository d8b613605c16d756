//! `dewledger core`: what a unit's core is, and what it does at one steady point.
//!
//! Here: which of the three answers is asked for, and the fit of a rating sheet. Not here: the steady point (`point`),
//! the distance of the hourly solution from the cell solution (`accuracy`).

mod accuracy;
mod point;

use exchanger::rating::{
    CrossLeakageSource, DefrostLoss, Figure, Fitted, FlowExponent as Exponent, Naive, Place, Standard,
    UseInFit,
};
use reporting::{
    AsEffectiveness, CrossLeakage, FitFigure, FitPoint, FitReport, FlowExponent, PointUse, ShowIn,
};
use serde_json::{Value, json};
use study::build::size_unit;
use study::sized::SizedUnit;
use study::{Performance, Unit};

use crate::arguments::Core;
use crate::failure::Failure;
use crate::run::{Prepared, prepare, show_in};
use crate::show;

pub(crate) fn report(options: &Core) -> Result<(), Failure> {
    if options.accuracy {
        return accuracy::report(options);
    }
    let prepared = prepare(options.study.as_deref())?;
    if options.json {
        return show::result_line(units_json(options, &prepared)?);
    }
    let units = chosen(options, &prepared)?;
    let mut text = format!("\n{}\n", prepared.study.title);
    for (unit, sized) in &units {
        text.push('\n');
        text.push_str(&described(unit, sized, &prepared));
    }
    if options.outdoor.is_some() {
        text.push_str(&point::write(options, &prepared, &units)?);
    } else {
        text.push_str("\nFor one steady point with a picture, add --outdoor \"-20 °C\".\n");
    }
    show::result(&text)
}

/// The units asked for as JSON.
pub(crate) fn units_json(options: &Core, prepared: &Prepared) -> Result<String, Failure> {
    let units = chosen(options, prepared)?;
    let rows = units.iter().map(|(unit, sized)| unit_json(options, prepared, unit, sized));
    let rows = rows.collect::<Result<Vec<_>, _>>()?;
    serde_json::to_string_pretty(&rows).map_err(Failure::work)
}

type Sized<'a> = (&'a Unit, SizedUnit);

/// The units asked for, each sized.
fn chosen<'a>(options: &Core, prepared: &'a Prepared) -> Result<Vec<Sized<'a>>, Failure> {
    let units = &prepared.study.units;
    let wanted = |unit: &&Unit| options.unit.as_ref().is_none_or(|name| unit.name.eq_ignore_ascii_case(name));
    let found: Vec<&Unit> = units.iter().filter(wanted).collect();
    if found.is_empty() {
        let names: Vec<String> = units.iter().map(|unit| format!("\"{}\"", unit.name)).collect();
        let name = options.unit.as_deref().unwrap_or_default();
        return Err(Failure::input(format!("--unit \"{name}\": the study has no unit of this name"))
            .hint(format!("it has {}", names.join(", "))));
    }
    let elevation_m = prepared.year.place.elevation_m;
    found
        .into_iter()
        .map(|unit| {
            let sized = size_unit(&prepared.study, unit, elevation_m).map_err(Failure::input)?;
            Ok((unit, sized))
        })
        .collect()
}

/// Air of 1.204 kg/m³, as flows are rated.
const RATED_AIR_KG_PER_M3: f64 = exchanger::rating::RATED_AIR_KG_PER_M3;

/// What the core is: the fit of its rating sheet, or its conductances.
fn described(unit: &Unit, sized: &SizedUnit, prepared: &Prepared) -> String {
    let shown = show_in(&prepared.study);
    let mut text = match &sized.fit {
        Some(fit) => {
            let table = reporting::fit_table(&fit_report(unit, fit, shown));
            let losses: String = fit.low_temperature.iter().map(defrost_line).collect();
            format!("{table}{losses}")
        }
        None => format!("{}: {}\n", unit.name, origin(unit)),
    };
    text.push_str(&at_the_study(sized, prepared));
    text
}

fn origin(unit: &Unit) -> &'static str {
    match unit.performance {
        Performance::Conductance { .. } => "conductances as stated",
        Performance::Effectiveness { .. } => "conductances from the effectivenesses stated",
        Performance::EffectivenessTable(_) => "conductances from a table of effectivenesses over airflow",
        Performance::Ratings(_) => "conductances from a rating sheet",
        Performance::Geometry(_) => "conductances from the measures of the plates",
    }
}

/// Conductances and effectiveness at the flows of the study, and what follows from the plates' measures.
fn at_the_study(sized: &SizedUnit, prepared: &Prepared) -> String {
    let shown = show_in(&prepared.study);
    let flow = prepared.study.ventilation.airflow_m3_per_s * 1e3;
    let (ua, unit) = (shown.conductance(sized.ua_w_per_k), shown.conductance_unit());
    let mut text = format!(
        "At the study's {:.0} {}: {ua:.0} {unit}, dry sensible effectiveness {:.1} %",
        shown.airflow(flow),
        shown.airflow_unit(),
        100.0 * dry_effectiveness(sized.core.ua_w_per_k / 1006.0, sized)
    );
    if sized.kind.passes_vapour() {
        let latent = 100.0 * dry_effectiveness(sized.core.vapour_kg_per_s, sized);
        let line = format!(", latent {latent:.1} %");
        text.push_str(&line);
    }
    text.push_str(".\n");
    if let Some(plates) = &sized.plates {
        let line = format!(
            "Plates: {:.2} m², {:.0} W/m²K a film, Reynolds number {:.0}, {:.0} Pa along the channels.\n",
            plates.area_m2, plates.film_w_per_m2k, plates.reynolds, plates.pressure_drop_pa
        );
        text.push_str(&line);
    }
    text
}

/// Effectiveness, on the smaller flow, of the counterflow core that the hourly run uses while it is dry.
fn dry_effectiveness(counterflow_kg_per_s: f64, sized: &SizedUnit) -> f64 {
    let Ok(through) = simulation::Unit::of_flows(&sized.flows) else { return 0.0 };
    let (a, b) = (through.supply_kg_per_s, through.extract_kg_per_s);
    let smaller = a.min(b);
    exchanger::effectiveness(
        exchanger::Arrangement::Counter,
        counterflow_kg_per_s / smaller,
        smaller / a.max(b),
    )
}

fn defrost_line(loss: &DefrostLoss) -> String {
    let points = 100.0 * loss.difference;
    let air = loss
        .ventilation_reduction
        .map_or(String::new(), |kept| format!("; fresh air {:.0} % less", 100.0 * (1.0 - kept)));
    format!("Defrost at {}: {points:+.1} points of {}{air}.\n", place_words(&loss.place), loss.figure)
}

fn place_words(place: &Place) -> String {
    match place {
        Place::Point { standard, outdoor_c, .. } => {
            format!("{} {outdoor_c:.0} °C", standard_words(*standard))
        }
        other => other.to_string(),
    }
}

fn standard_words(standard: Standard) -> &'static str {
    match standard {
        Standard::CsaWinter | Standard::CsaLowTemperature | Standard::CsaSummer => "CSA C439",
        Standard::En13141 | Standard::En13141Cold => "EN 13141-7",
        Standard::En308 => "EN 308",
    }
}

/// What each unit's rating sheet says beside its fitted core; units without a sheet are left out.
pub(crate) fn fits(prepared: &Prepared) -> Result<Vec<FitReport>, Failure> {
    let elevation_m = prepared.year.place.elevation_m;
    let mut fits = Vec::new();
    for unit in prepared.study.units.iter().filter(|unit| matches!(unit.performance, Performance::Ratings(_)))
    {
        let sized = size_unit(&prepared.study, unit, elevation_m).map_err(Failure::input)?;
        fits.extend(sized.fit.iter().map(|fit| fit_report(unit, fit, show_in(&prepared.study))));
    }
    Ok(fits)
}

fn fit_report(unit: &Unit, fit: &Fitted, shown: ShowIn) -> FitReport {
    let Performance::Ratings(stated) = &unit.performance else { return empty_report(unit, fit, shown) };
    let points = stated.iter().enumerate().map(|(i, point)| FitPoint {
        standard: match point.standard {
            study::RatingStandard::CsaC439 => "CSA C439".to_owned(),
            study::RatingStandard::En13141Part7 => "EN 13141-7".to_owned(),
        },
        outdoor_c: point.outdoor.dry_bulb_c,
        airflow_l_per_s: point.supply_m3_per_s * 1e3,
        figures: figures_of(fit, i + 1),
        used: if used(fit, i + 1) { PointUse::Used } else { PointUse::NotUsed("frost".to_owned()) },
    });
    FitReport { points: points.collect(), ..empty_report(unit, fit, shown) }
}

fn empty_report(unit: &Unit, fit: &Fitted, shown: ShowIn) -> FitReport {
    FitReport {
        unit: unit.name.clone(),
        points: Vec::new(),
        ua_w_per_k: fit.unit.ua_w_per_k,
        vapour_kg_per_s: unit.core.passes_vapour().then_some(fit.unit.vapour_kg_per_s),
        rated_l_per_s: rated_l_per_s(unit, fit),
        flow_exponent: match fit.flow_exponent {
            Exponent::Fitted(value) => FlowExponent::Fitted(value),
            Exponent::Assumed { value, .. } => FlowExponent::Assumed { value, least: 0.7, greatest: 1.0 },
        },
        cross_leakage: match fit.cross_leakage.source {
            CrossLeakageSource::Stated | CrossLeakageSource::Airflows => {
                CrossLeakage::Given(fit.cross_leakage.value)
            }
            CrossLeakageSource::Fitted => CrossLeakage::Fitted(fit.cross_leakage.value),
            CrossLeakageSource::TakenAsNone => CrossLeakage::Assumed(fit.cross_leakage.value),
        },
        as_effectiveness: fit.naive.as_ref().map(|naive| as_effectiveness(naive, fit)),
        show_in: shown,
    }
}

/// Flow that the fitted conductances belong to: that of the first frost-free point.
fn rated_l_per_s(unit: &Unit, fit: &Fitted) -> f64 {
    let Performance::Ratings(points) = &unit.performance else {
        return fit.unit.at_kg_per_s / RATED_AIR_KG_PER_M3 * 1e3;
    };
    points.iter().find(|point| point.is_frost_free()).map_or(0.0, |point| point.supply_m3_per_s * 1e3)
}

/// Outdoors 0 °C, indoors as the label's winter point: the label's figure as an effectiveness beside the fit.
fn as_effectiveness(naive: &Naive, fit: &Fitted) -> AsEffectiveness {
    let fitted_supply_c = supply_at_zero(fit);
    AsEffectiveness {
        name: naive.figure.to_string(),
        stated: naive.stated,
        outdoor_c: 0.0,
        ua_w_per_k: naive.ua_w_per_k,
        supply_c: fitted_supply_c + naive.supply_error_at_0_c_k,
        fitted_supply_c,
    }
}

/// Supply temperature of the fitted core, dry, outdoors 0 °C and indoors 22 °C, at equal flows.
fn supply_at_zero(fit: &Fitted) -> f64 {
    let ntu = fit.unit.ua_w_per_k / (1006.0 * fit.unit.at_kg_per_s);
    22.0 * exchanger::effectiveness(exchanger::Arrangement::Counter, ntu, 1.0)
}

fn is_point(place: &Place, wanted: usize) -> bool {
    matches!(place, Place::Point { number, .. } if *number == wanted)
}

fn figures_of(fit: &Fitted, number: usize) -> Vec<FitFigure> {
    let at = fit.points.iter().filter(|check| is_point(&check.place, number));
    at.map(|check| FitFigure {
        key: key_of(check.figure),
        name: check.figure.to_string(),
        stated: check.stated,
        fitted: check.given_by_core,
    })
    .collect()
}

fn used(fit: &Fitted, number: usize) -> bool {
    let mut at = fit.points.iter().filter(|check| is_point(&check.place, number));
    at.any(|check| check.use_in_fit == UseInFit::Fitted)
}

fn unit_json(options: &Core, prepared: &Prepared, unit: &Unit, sized: &SizedUnit) -> Result<Value, Failure> {
    let fit = sized.fit.as_ref().map(|fit| {
        let points = fit.points.iter().map(|check| {
            let number = if let Place::Point { number, .. } = check.place { number } else { 0 };
            json!({
                "point": number,
                "figure": key_of(check.figure),
                "stated": check.stated,
                "fitted": check.given_by_core,
                "used": check.use_in_fit == UseInFit::Fitted,
            })
        });
        json!({
            "ua_w_per_k": fit.unit.ua_w_per_k,
            "vapour_kg_per_s": fit.unit.vapour_kg_per_s,
            "at_kg_per_s": fit.unit.at_kg_per_s,
            "flow_exponent": fit.unit.flow_exponent,
            "cross_leakage": fit.unit.cross_leakage,
            "points": points.collect::<Vec<_>>(),
        })
    });
    let point = match options.outdoor {
        Some(_) => Some(point::json(options, prepared, unit, sized)?),
        None => None,
    };
    Ok(json!({
        "unit": unit.name,
        "ua_w_per_k": sized.ua_w_per_k,
        "vapour_kg_per_s": sized.vapour_kg_per_s,
        "delivered_kg_per_s": sized.flows.delivered_kg_per_s,
        "cross_leakage": sized.flows.cross_leakage,
        "fit": fit,
        "point": point,
    }))
}

/// The study's key for a figure.
fn key_of(figure: Figure) -> &'static str {
    match figure {
        Figure::ApparentSensible => "apparent_sensible",
        Figure::SensibleRecovery => "sensible_recovery",
        Figure::AdjustedSensibleRecovery => "adjusted_sensible_recovery",
        Figure::ApparentMoisture => "apparent_latent",
        Figure::MoistureRecovery => "latent_recovery",
        Figure::ApparentTotal => "apparent_total",
        Figure::TotalRecovery => "total_recovery",
        Figure::AdjustedTotalRecovery => "adjusted_total_recovery",
        Figure::SupplyTemperatureRatio => "temperature_ratio",
        Figure::ExhaustTemperatureRatio => "exhaust_temperature_ratio",
        Figure::HumidityRatio => "moisture_ratio",
    }
}

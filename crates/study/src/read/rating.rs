//! Reads rating points: what a test sheet states of a unit, and under which conditions.
//!
//! Here: `[[unit.rating]]`, its flows and figures, and what the points must hold together. Not here: the air of a test
//! (`read/rating/conditions.rs`), or how conductances are fitted to the points. Read next: `read/rating/conditions.rs`.

mod conditions;

use super::conflict;
use super::fan::FAN_W_PER_M3_PER_S;
use super::performance::refuse_vapour;
use crate::keys;
use crate::kinds::{Number, brief};
use crate::model::{CoreKind, Performance, RatedFigures, RatingPoint, RatingStandard};
use crate::problem::listed;
use crate::specs;
use crate::table::{Log, Table};

pub(super) fn read_all(log: &mut Log, unit: &Table<'_>, core: Option<CoreKind>) -> Performance {
    let before = log.problems.len();
    let mut points = Vec::new();
    for table in unit.tables(log, &keys::RATING) {
        points.extend(read_point(log, table, core));
    }
    // What is said of all points together would mislead while one of them is wrong.
    if log.problems.len() == before {
        check_points(log, unit, (core, &points));
    }
    Performance::Ratings(points)
}

fn check_points(log: &mut Log, unit: &Table<'_>, (core, points): (Option<CoreKind>, &[RatingPoint])) {
    let frost_free: Vec<&RatingPoint> = points.iter().filter(|point| point.is_frost_free()).collect();
    let span = unit.span_of("rating");
    let path = unit.path_of("rating");
    if points.is_empty() {
        let hint = "write each point under a header [[unit.rating]]".to_owned();
        conflict(log, span, format!("`{path}` holds no point"), ("empty", hint));
    } else if frost_free.is_empty() {
        let message = format!("`{path}` holds only points colder than −10 °C");
        let hint =
            "add a point at −10 °C or warmer: defrosting hides what the core itself does in colder ones";
        conflict(log, span, message, ("no frost-free point", hint.to_owned()));
    } else if core.is_some_and(CoreKind::passes_vapour) && !tell_vapour(&frost_free) {
        let message = format!(
            "`{path}`: the frost-free points do not tell heat from water vapour, as an enthalpy core needs"
        );
        let hint = "state a sensible figure and a latent one (`latent_recovery`, or `moisture_ratio` of \
                    EN 13141-7); a total one will do for either";
        conflict(log, span, message, ("too few figures", hint.to_owned()));
    }
}

/// Whether figures of two of the three kinds are there: sensible, latent, total.
fn tell_vapour(points: &[&RatingPoint]) -> bool {
    let kinds = [Family::Sensible, Family::Latent, Family::Total];
    let is_stated = |family: &Family| {
        let stated = |(figure, value): (&Figure, Option<f64>)| figure.family == *family && value.is_some();
        points.iter().any(|point| FIGURES.iter().zip(in_order(&point.figures)).any(stated))
    };
    kinds.iter().filter(|family| is_stated(family)).count() >= 2
}

fn read_point(log: &mut Log, mut table: Table<'_>, core: Option<CoreKind>) -> Option<RatingPoint> {
    let standard =
        table.or(log, &specs::STANDARD, ("csa-c439", "assumed: the test standard of North America"));
    let air = conditions::read(log, &mut table, standard);
    let outdoor_c = air.outdoor_c;
    let flows = read_flows(log, &mut table, outdoor_c);
    let power = read_power(log, &table, flows.supply);
    let figures = read_figures(log, &table, (standard, core));
    let ventilation_reduction = read_reduction(log, &table, outdoor_c);
    table.finish(log);
    Some(RatingPoint {
        standard: standard?,
        outdoor: air.outdoor?,
        indoor: air.indoor?,
        supply_m3_per_s: flows.supply?,
        net_supply_m3_per_s: flows.net,
        extract_m3_per_s: flows.extract?,
        power_w: power?,
        figures,
        ventilation_reduction,
    })
}

/// Flows [m³/s].
struct Flows {
    supply: Option<f64>,
    net: Option<f64>,
    extract: Option<f64>,
}

fn read_flows(log: &mut Log, table: &mut Table<'_>, outdoor_c: Option<f64>) -> Flows {
    let gross = table.optional(log, &specs::GROSS_AIRFLOW);
    let supply = if table.has("gross_airflow") {
        let _ = table.optional(log, &specs::RATED_AIRFLOW);
        gross
    } else {
        table.required(log, &specs::RATED_AIRFLOW)
    };
    if table.has("gross_airflow") && table.has("airflow") {
        let message = format!("`{}` takes only one of `airflow` and `gross_airflow`", table.path);
        let hint = "both are the supply flow where it leaves the unit, leaked air included".to_owned();
        conflict(log, table.span_of("gross_airflow"), message, ("the same twice", hint));
    }
    let net = table.optional(log, &specs::NET_AIRFLOW);
    if let (Some(supply), Some(net)) = (supply, net) {
        check_net(log, table, Compared { supply, net, outdoor_c });
    }
    let extract = match supply {
        Some(supply) if !table.has("extract_airflow") => {
            let value = format!("{} L/s", brief(supply * 1000.0));
            log.took(table.path_of("extract_airflow"), value, "assumed: equal to the supply flow");
            Some(supply)
        }
        _ => table.optional(log, &specs::EXTRACT_AIRFLOW),
    };
    Flows { supply, net, extract }
}

/// Flows [m³/s] to be held against each other.
struct Compared {
    supply: f64,
    net: f64,
    outdoor_c: Option<f64>,
}

/// In the cold, the net flow may be short by what defrosting takes as well.
fn check_net(log: &mut Log, table: &Table<'_>, Compared { supply, net, outdoor_c }: Compared) {
    const ROUNDING: f64 = 1e-9;
    let (path, share) = (table.path_of("net_airflow"), 1.0 - net / supply);
    let (net, all) = (brief(net * 1000.0), brief(supply * 1000.0));
    let frost_free = outdoor_c.is_some_and(|outdoor_c| outdoor_c >= RatingPoint::FROST_FREE_FROM_C);
    if share < -ROUNDING {
        let message = format!("`{path}`: {net} L/s is more than the whole supply flow of {all} L/s");
        let hint = "the net flow is the supply flow less the extract air that leaks into it".to_owned();
        conflict(log, table.span_of("net_airflow"), message, ("more than all", hint));
    } else if frost_free && share > specs::CROSS_LEAKAGE.most + ROUNDING {
        let message = format!(
            "`{path}`: {net} L/s of {all} L/s means a cross-leakage of {}, more than {}",
            brief(share),
            specs::CROSS_LEAKAGE.most
        );
        let hint =
            "check both flows: a unit that leaks more is none that this program can describe".to_owned();
        conflict(log, table.span_of("net_airflow"), message, ("too little", hint));
    }
}

fn read_power(log: &mut Log, table: &Table<'_>, supply_m3_per_s: Option<f64>) -> Option<f64> {
    match supply_m3_per_s {
        Some(supply) if !table.has("power") => {
            let power = FAN_W_PER_M3_PER_S * supply;
            let why = "assumed: 1.2 W per L/s of the point's supply flow, both fans together";
            log.took(table.path_of("power"), format!("{} W", brief(power)), why);
            Some(power)
        }
        _ => table.optional(log, &specs::FAN_POWER),
    }
}

/// What a figure is about.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Family {
    Sensible,
    Latent,
    Total,
}

/// A figure of a rating sheet.
struct Figure {
    number: Number,
    standard: RatingStandard,
    family: Family,
}

const fn figure(number: Number, standard: RatingStandard, family: Family) -> Figure {
    Figure { number, standard, family }
}

const FIGURES: [Figure; 9] = {
    use Family as F;
    use RatingStandard as S;
    [
        figure(specs::APPARENT_SENSIBLE, S::CsaC439, F::Sensible),
        figure(specs::SENSIBLE_RECOVERY, S::CsaC439, F::Sensible),
        figure(specs::ADJUSTED_SENSIBLE_RECOVERY, S::CsaC439, F::Sensible),
        figure(specs::LATENT_RECOVERY, S::CsaC439, F::Latent),
        figure(specs::TOTAL_RECOVERY, S::CsaC439, F::Total),
        figure(specs::ADJUSTED_TOTAL_RECOVERY, S::CsaC439, F::Total),
        figure(specs::TEMPERATURE_RATIO, S::En13141Part7, F::Sensible),
        figure(specs::MOISTURE_RATIO, S::En13141Part7, F::Latent),
        figure(specs::EXHAUST_TEMPERATURE_RATIO, S::En13141Part7, F::Sensible),
    ]
};

/// In the order of [`FIGURES`].
fn in_order(figures: &RatedFigures) -> [Option<f64>; 9] {
    [
        figures.apparent_sensible,
        figures.sensible_recovery,
        figures.adjusted_sensible_recovery,
        figures.latent_recovery,
        figures.total_recovery,
        figures.adjusted_total_recovery,
        figures.temperature_ratio,
        figures.moisture_ratio,
        figures.exhaust_temperature_ratio,
    ]
}

/// How a standard is written in the file, and called.
fn named(standard: RatingStandard) -> (&'static str, &'static str) {
    match standard {
        RatingStandard::CsaC439 => ("csa-c439", "CSA C439"),
        RatingStandard::En13141Part7 => ("en-13141-7", "EN 13141-7"),
    }
}

fn read_figures(
    log: &mut Log,
    table: &Table<'_>,
    (standard, core): (Option<RatingStandard>, Option<CoreKind>),
) -> RatedFigures {
    let values = FIGURES.map(|figure| {
        let value = table.optional(log, &figure.number)?;
        check_figure(log, table, (&figure, standard, core));
        Some(value)
    });
    if !FIGURES.iter().any(|figure| table.has(figure.number.key)) {
        let message = format!("`{}` states no figure", table.path);
        let hint = format!("write one or more of {}", listed(&figures_of(standard, core), "and"));
        conflict(log, table.span.clone(), message, ("this point", hint));
    }
    let [apparent_sensible, sensible_recovery, adjusted_sensible_recovery, latent_recovery, ..] = values;
    let [.., total_recovery, adjusted_total_recovery, temperature_ratio, moisture_ratio, exhaust] = values;
    RatedFigures {
        apparent_sensible,
        sensible_recovery,
        adjusted_sensible_recovery,
        latent_recovery,
        total_recovery,
        adjusted_total_recovery,
        temperature_ratio,
        moisture_ratio,
        exhaust_temperature_ratio: exhaust,
    }
}

fn check_figure(
    log: &mut Log,
    table: &Table<'_>,
    (figure, standard, core): (&Figure, Option<RatingStandard>, Option<CoreKind>),
) {
    let key = figure.number.key;
    if let Some(standard) = standard.filter(|standard| *standard != figure.standard) {
        let ((word, other), (_, this)) = (named(figure.standard), named(standard));
        let message = format!("`{}` is a figure of {other}, but the point is of {this}", table.path_of(key));
        let figures = listed(&figures_of(Some(standard), core), "and");
        let hint = format!("write standard = \"{word}\" if the sheet is of {other}; {this} has {figures}");
        conflict(log, table.span_of(key), message, ("of another standard", hint));
    } else if let Some(core) = core.filter(|core| !core.passes_vapour() && figure.family == Family::Latent) {
        refuse_vapour(log, table, core, key);
    }
}

/// The keys of the figures that a standard has for a core.
fn figures_of(standard: Option<RatingStandard>, core: Option<CoreKind>) -> Vec<&'static str> {
    let fits = |figure: &&Figure| {
        standard.is_none_or(|standard| standard == figure.standard)
            && (core.is_none_or(CoreKind::passes_vapour) || figure.family != Family::Latent)
    };
    FIGURES.iter().filter(fits).map(|figure| figure.number.key).collect()
}

fn read_reduction(log: &mut Log, table: &Table<'_>, outdoor_c: Option<f64>) -> Option<f64> {
    let reduction = table.optional(log, &specs::VENTILATION_REDUCTION)?;
    if outdoor_c.is_some_and(|outdoor_c| outdoor_c >= RatingPoint::FROST_FREE_FROM_C) {
        let path = table.path_of("ventilation_reduction");
        let message = format!("`{path}`: only a point colder than −10 °C loses air by defrosting");
        let hint = "leave `ventilation_reduction` out here, or check `outdoor`".to_owned();
        conflict(log, table.span_of("ventilation_reduction"), message, ("not at this point", hint));
    }
    Some(reduction)
}

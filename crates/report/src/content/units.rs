//! The units, as their sheets rate them and as the study gives them.
//!
//! Not here: the fit of a rating sheet itself, and how `dewledger core` prints it (`reporting::rating_fit`).

use reporting::{CrossLeakage, FitFigure, FitPoint, FitReport, FlowExponent, PointUse};
use study::{CoreKind, FrostStrategy, Performance, Unit};

use super::teller::{Teller, cells, row, with_unit, words};
use crate::model::{Block, Line, Section, Span, Table, TableRow};

pub(super) fn section(teller: &Teller<'_>) -> Section {
    let units = &teller.given.study.units;
    let rows = units.iter().map(|unit| {
        let cells = vec![
            words(&unit.name).into(),
            teller.caption(core_key(unit.core)),
            given(teller, unit),
            teller.caption(strategy_key(&unit.frost.strategy)),
            teller.fact(&format!("unit.{}.balance", unit.name), 2).into(),
            price(teller, unit),
        ];
        row(&unit.name, cells)
    });
    let heads = ["units.name", "units.core", "units.given", "units.frost", "units.balance", "units.price"];
    let table = Table {
        caption: teller.caption("units.caption"),
        heads: heads.iter().map(|key| teller.text(key)).collect(),
        word_columns: 4,
        rows: rows.collect(),
    };
    let mut blocks = vec![Block::Table { table }];
    blocks.extend(rated(teller));
    teller.section("units", "units.heading", blocks)
}

const fn core_key(core: CoreKind) -> &'static str {
    match core {
        CoreKind::SensiblePlate => "units.sensible_plate",
        CoreKind::EnthalpyPlate => "units.enthalpy_plate",
        CoreKind::SensibleWheel => "units.sensible_wheel",
        CoreKind::EnthalpyWheel => "units.enthalpy_wheel",
    }
}

pub(super) const fn strategy_key(strategy: &FrostStrategy) -> &'static str {
    match strategy {
        FrostStrategy::None => "units.strategy_none",
        FrostStrategy::Recirculate { .. } => "units.recirculate",
        FrostStrategy::Preheat { .. } => "units.preheat",
        FrostStrategy::SupplyOff { .. } => "units.supply_off",
        FrostStrategy::Bypass => "units.bypass",
        FrostStrategy::SlowDown => "units.slow_down",
    }
}

fn given(teller: &Teller<'_>, unit: &Unit) -> Line {
    let key = |part: &str| format!("unit.{}.{part}", unit.name);
    let flow_unit = ("unit", words(teller.flow_unit()));
    match &unit.performance {
        Performance::Conductance { .. } => {
            let pieces = [
                ("ua", conductance(teller, &key("conductance.ua"))),
                ("ua_unit", words(teller.show_in.conductance_unit())),
                ("flow", teller.flow(&key("conductance.at"))),
                flow_unit,
            ];
            teller.line("units.conductance", &pieces)
        }
        Performance::Effectiveness { .. } => {
            let sensible = teller.percent(&key("effectiveness.sensible"), 0);
            let flow = teller.flow(&key("effectiveness.at"));
            teller.line("units.effectiveness", &[("sensible", sensible), ("flow", flow), flow_unit])
        }
        Performance::EffectivenessTable(_) => {
            let count = teller.fact(&key("effectiveness.points"), 0);
            teller.line("units.effectiveness_table", &[("count", count)])
        }
        Performance::Ratings(_) => {
            teller.line("units.ratings", &[("count", teller.fact(&key("rating.points"), 0))])
        }
        Performance::Geometry(_) => teller.line("units.geometry", &[]),
    }
}

fn conductance(teller: &Teller<'_>, key: &str) -> Span {
    teller.fact_as(key, 0, |ua| teller.show_in.conductance(ua))
}

fn price(teller: &Teller<'_>, unit: &Unit) -> Line {
    let currency = teller.given.money.map_or("", |money| money.basis.currency.as_str());
    let price = teller.fact(&format!("unit.{}.price", unit.name), 0);
    if unit.cost.price.is_some() && !currency.is_empty() { with_unit(price, currency) } else { price.into() }
}

/// Every point of every rating sheet: what it states, what the fitted core gives there, and the difference.
fn rated(teller: &Teller<'_>) -> Vec<Block> {
    let mut blocks = Vec::new();
    for fit in teller.given.fits {
        let rows =
            fit.points.iter().enumerate().flat_map(|(at, point)| rated_rows(teller, fit, (at + 1, point)));
        let heads = vec![
            teller.text("units.point"),
            teller.text("units.figure"),
            teller.text("units.use"),
            teller.head("units.outdoor", teller.show_in.temperature_unit()),
            teller.head("units.flow", teller.flow_unit()),
            teller.text("units.power"),
            teller.text("units.stated"),
            teller.text("units.fitted"),
            teller.text("units.error"),
        ];
        let caption = teller.line("units.caption_rated", &[("unit", words(&fit.unit))]);
        blocks.push(Block::Table { table: Table { caption, heads, word_columns: 3, rows: rows.collect() } });
        blocks.push(Block::Text { line: fitted(teller, fit) });
    }
    if !blocks.is_empty() {
        blocks.push(Block::Text { line: teller.line("units.label", &[]) });
    }
    blocks
}

fn rated_rows(teller: &Teller<'_>, fit: &FitReport, (number, point): (usize, &FitPoint)) -> Vec<TableRow> {
    let key = |part: &str| format!("unit.{}.rating.{number}.{part}", fit.unit);
    let used = match point.used {
        PointUse::Used => "units.used",
        PointUse::NotUsed(_) => "units.not_used",
    };
    let of = |figure: &FitFigure| {
        let percent = |part: &str| teller.percent(&key(&format!("{}.{part}", figure.key)), 1);
        let spans = [
            teller.fact_words(&key("standard")),
            Span::words(teller.text(&format!("figure.{}", figure.key))),
            Span::words(teller.text(used)),
            teller.temperature(&key("outdoor")),
            teller.flow(&key("airflow")),
            teller.fact(&key("power"), 0),
            percent("stated"),
            percent("fitted"),
            percent("error"),
        ];
        row(&fit.unit, cells(spans))
    };
    point.figures.iter().map(of).collect()
}

/// The core that was fitted.
fn fitted(teller: &Teller<'_>, fit: &FitReport) -> Line {
    let key = |part: &str| format!("unit.{}.fitted.{part}", fit.unit);
    let exponent = match fit.flow_exponent {
        FlowExponent::Fitted(_) => "units.of_fit",
        FlowExponent::Assumed { .. } => "units.of_assumption",
    };
    let leakage = match fit.cross_leakage {
        CrossLeakage::Given(_) => "units.of_sheet",
        CrossLeakage::Fitted(_) => "units.of_fit",
        CrossLeakage::Assumed(_) => "units.of_assumption",
    };
    let pieces = [
        ("unit", words(&fit.unit)),
        ("ua", conductance(teller, &key("ua"))),
        ("ua_unit", words(teller.show_in.conductance_unit())),
        ("flow", teller.flow(&key("at"))),
        ("flow_unit", words(teller.flow_unit())),
        ("exponent", teller.fact(&key("flow_exponent"), 2)),
        ("exponent_from", Span::words(teller.text(exponent))),
        ("leakage", teller.percent(&key("cross_leakage"), 1)),
        ("leakage_from", Span::words(teller.text(leakage))),
    ];
    let mut line = teller.line("units.fitted_core", &pieces);
    if fit.vapour_kg_per_s.is_some() {
        let vapour = teller.fact_as(&key("vapour"), 2, |kg| teller.show_in.vapour_conductance(kg));
        let unit = words(teller.show_in.vapour_conductance_unit());
        let vapour = teller.line("units.fitted_vapour", &[("vapour", vapour), ("unit", unit)]);
        line = Line::joined([line, vapour], " ");
    }
    line
}

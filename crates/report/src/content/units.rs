//! The units, as their sheets rate them and as the study gives them.
//!
//! Not here: the fit of a rating sheet (`reporting::rating_fit`), which `dewledger core` prints.

use study::{CoreKind, FrostStrategy, Performance, RatedFigures, RatingPoint, Unit};

use super::teller::{Teller, row, words};
use crate::model::{Block, Section, Span, Table, TableRow};

pub(super) fn section(teller: &Teller<'_>) -> Section {
    let units = &teller.given.study.units;
    let rows = units.iter().map(|unit| {
        let cells = vec![
            words(&unit.name),
            Span::words(teller.text(core_key(unit.core))),
            given(teller, unit),
            Span::words(teller.text(strategy_key(&unit.frost.strategy))),
            teller.plain(unit.balance, 2),
            price(teller, unit),
        ];
        row(&unit.name, cells)
    });
    let heads = ["units.name", "units.core", "units.given", "units.frost", "units.balance", "units.price"];
    let table = Table {
        caption: teller.text("units.caption"),
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

fn given(teller: &Teller<'_>, unit: &Unit) -> Span {
    let flow_unit = ("unit", words(teller.flow_unit()));
    let line = match &unit.performance {
        Performance::Conductance { ua_w_per_k, at_m3_per_s, .. } => {
            let pieces =
                [("ua", teller.plain(*ua_w_per_k, 0)), ("flow", teller.flow(*at_m3_per_s)), flow_unit];
            teller.line("units.conductance", &pieces)
        }
        Performance::Effectiveness { sensible, at_m3_per_s, .. } => {
            let sensible = teller.plain(100.0 * sensible, 0);
            teller.line(
                "units.effectiveness",
                &[("sensible", sensible), ("flow", teller.flow(*at_m3_per_s)), flow_unit],
            )
        }
        Performance::EffectivenessTable(points) => {
            teller.line("units.effectiveness_table", &[("count", teller.plain(points.len() as f64, 0))])
        }
        Performance::Ratings(points) => {
            teller.line("units.ratings", &[("count", teller.plain(points.len() as f64, 0))])
        }
        Performance::Geometry(_) => teller.line("units.geometry", &[]),
    };
    Span::words(line.plain())
}

fn price(teller: &Teller<'_>, unit: &Unit) -> Span {
    let currency = teller.given.money.map_or("", |money| money.basis.currency.as_str());
    unit.cost.price.map_or_else(
        || Span::words(teller.text("report.none")),
        |price| Span::words(format!("{}\u{a0}{currency}", teller.number(price, 0)).trim_end().to_owned()),
    )
}

fn rated(teller: &Teller<'_>) -> Vec<Block> {
    let mut rows: Vec<TableRow> = Vec::new();
    for unit in &teller.given.study.units {
        if let Performance::Ratings(points) = &unit.performance {
            rows.extend(points.iter().map(|point| row(&unit.name, rated_cells(teller, &unit.name, point))));
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let heads = vec![
        teller.text("units.name"),
        teller.text("units.given"),
        teller.head("units.outdoor", teller.show_in.temperature_unit()),
        teller.head("units.flow", teller.flow_unit()),
        teller.text("units.power"),
    ];
    let table = Table { caption: teller.text("units.caption_rated"), heads, word_columns: 2, rows };
    vec![Block::Table { table }, Block::Text { line: teller.line("units.label", &[]) }]
}

fn rated_cells(teller: &Teller<'_>, unit: &str, point: &RatingPoint) -> Vec<Span> {
    vec![
        words(unit),
        Span::words(stated(teller, &point.figures)),
        teller.temperature(point.outdoor.dry_bulb_c),
        teller.flow(point.supply_m3_per_s),
        teller.plain(point.power_w, 0),
    ]
}

/// What was found in a test, by the key of the study.
fn stated(teller: &Teller<'_>, figures: &RatedFigures) -> String {
    let all = [
        ("apparent_sensible", figures.apparent_sensible),
        ("sensible_recovery", figures.sensible_recovery),
        ("adjusted_sensible_recovery", figures.adjusted_sensible_recovery),
        ("latent_recovery", figures.latent_recovery),
        ("total_recovery", figures.total_recovery),
        ("adjusted_total_recovery", figures.adjusted_total_recovery),
        ("temperature_ratio", figures.temperature_ratio),
        ("moisture_ratio", figures.moisture_ratio),
        ("exhaust_temperature_ratio", figures.exhaust_temperature_ratio),
    ];
    let told: Vec<String> = all
        .iter()
        .filter_map(|(key, value)| Some(format!("{key} {}", teller.number((*value)?, 2))))
        .collect();
    told.join(", ")
}

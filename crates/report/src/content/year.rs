//! The comparison table, and the year in numbers.
//!
//! Not here: what the columns mean (`reporting::columns`).

use reporting::{Figure, Hemisphere};
use simulation::results::Case;

use super::SpreadOf;
use super::teller::{Kind, Shape, Teller, cells, mass, row, water, whole, words};
use crate::model::{Block, Line, Section, Span, Table, TableRow};

/// A column of a table of figures: its head, the unit in it, the figure.
struct Shown {
    head: &'static str,
    unit: Sign,
    shape: Shape,
}

#[derive(Clone, Copy)]
enum Sign {
    None,
    Water,
    Mass,
}

const fn same(head: &'static str, figure: Figure) -> Shown {
    Shown { head, unit: Sign::None, shape: whole(figure) }
}

const fn fine(head: &'static str, figure: Figure, decimals: usize) -> Shown {
    Shown { head, unit: Sign::None, shape: Shape { figure, kind: Kind::Same, decimals } }
}

const fn wet(head: &'static str, figure: Figure, decimals: usize) -> Shown {
    Shown { head, unit: Sign::Water, shape: water(figure, decimals) }
}

const fn icy(head: &'static str, figure: Figure, decimals: usize) -> Shown {
    Shown { head, unit: Sign::Mass, shape: mass(figure, decimals) }
}

const COMPARED: [Shown; 12] = [
    same("compare.saving", Figure::UsefulSavingKwh),
    same("compare.heating", Figure::HeatingKwh),
    same("compare.cooling", Figure::CoolingKwh),
    same("compare.fans", Figure::FanKwh),
    same("compare.winter", Figure::RhWinterMeanPct),
    same("compare.summer", Figure::RhSummerMeanPct),
    same("compare.dry", Figure::RhBelow30H),
    same("compare.damp", Figure::RhAbove60H),
    same("compare.glass", Figure::WindowEdgeWetH),
    wet("compare.drain", Figure::CondensateL, 0),
    same("compare.frost", Figure::FrostH),
    same("compare.missed", Figure::MissedAirM3),
];
const HUMIDITY: [Shown; 9] = [
    same("year.mean", Figure::RhMeanPct),
    same("year.least", Figure::RhMinPct),
    same("year.most", Figure::RhMaxPct),
    same("compare.dry", Figure::RhBelow30H),
    same("compare.damp", Figure::RhAbove60H),
    same("compare.glass", Figure::WindowEdgeWetH),
    fine("year.mould", Figure::MouldIndexMax, 1),
    same("year.damp_corner", Figure::DampCornerH),
    same("year.co2", Figure::Co2MeanPpm),
];
const WATER: [Shown; 8] = [
    wet("compare.drain", Figure::CondensateL, 0),
    wet("year.peak", Figure::PeakCondensateLPerDay, 1),
    fine("year.date", Figure::PeakCondensateDate, 0),
    icy("year.ice_formed", Figure::IceFormedKg, 0),
    icy("year.ice_peak", Figure::FrostKgPeak, 2),
    same("compare.frost", Figure::FrostH),
    same("year.defrost", Figure::DefrostH),
    same("year.blocked", Figure::BlockedH),
];
const ENERGY: [Shown; 8] = [
    same("compare.heating", Figure::HeatingKwh),
    same("compare.cooling", Figure::CoolingKwh),
    same("compare.fans", Figure::FanKwh),
    same("year.preheat", Figure::PreheatKwh),
    same("year.defrost_heat", Figure::DefrostKwh),
    same("year.recovered", Figure::RecoveredSensibleKwh),
    same("year.latent", Figure::RecoveredLatentKwh),
    same("compare.saving", Figure::UsefulSavingKwh),
];
const AIR: [Shown; 4] = [
    same("year.outdoor_air", Figure::OutdoorAirM3),
    same("compare.missed", Figure::MissedAirM3),
    same("year.missed_h", Figure::MissedAirH),
    same("year.short_h", Figure::AirShortH),
];
const MONTHS: [Shown; 6] = [
    same("compare.heating", Figure::HeatingKwh),
    same("compare.cooling", Figure::CoolingKwh),
    same("compare.saving", Figure::UsefulSavingKwh),
    same("year.mean", Figure::RhMeanPct),
    wet("compare.drain", Figure::CondensateL, 0),
    same("compare.frost", Figure::FrostH),
];

fn heads(teller: &Teller<'_>, first: &[&str], columns: &[Shown]) -> Vec<String> {
    let signs = columns.iter().map(|shown| {
        let unit = match shown.unit {
            Sign::None => "",
            Sign::Water => teller.water_unit(),
            Sign::Mass => teller.mass_unit(),
        };
        teller.head(shown.head, unit)
    });
    first.iter().map(|key| teller.text(key)).chain(signs).collect()
}

fn figures(teller: &Teller<'_>, unit: &str, case: Case, columns: &[Shown]) -> Vec<Line> {
    columns.iter().map(|shown| teller.figure(unit, case, shown.shape).into()).collect()
}

pub(super) fn house_name(teller: &Teller<'_>, unit: &str, case: Case) -> String {
    let key = match case {
        Case::Unit => return unit.to_owned(),
        Case::NoRecovery => "compare.no_recovery",
        Case::UnitHeld => "compare.held",
        Case::NoRecoveryHeld => "compare.held_without",
        Case::ExtractOnly => "compare.extract",
        Case::NoVentilation => "compare.no_ventilation",
    };
    teller.line(key, &[("unit", words(unit))]).plain()
}

/// One table that sets every unit beside the others and beside the houses without.
pub(super) fn compare(teller: &Teller<'_>) -> Section {
    let rows = teller.summary().rows.iter().filter(|row| row.case != Case::NoRecoveryHeld);
    let rows: Vec<TableRow> = rows
        .map(|house| {
            let name = Line::words(house_name(teller, &house.unit, house.case));
            let figures = figures(teller, &house.unit, house.case, &COMPARED);
            row(&house.unit, [name].into_iter().chain(figures).collect())
        })
        .collect();
    let table = Table {
        caption: teller.caption("compare.caption"),
        heads: heads(teller, &["compare.house"], &COMPARED),
        word_columns: 1,
        rows,
    };
    let is_south = teller.summary().hemisphere == Hemisphere::South;
    let (cold, warm) = ([12, 1, 2], [6, 7, 8]);
    let (winter, summer) = if is_south { (warm, cold) } else { (cold, warm) };
    let names = |months: [usize; 3]| Span::words(months.map(|month| teller.month_name(month)).join(", "));
    let season = teller.line("compare.rh_note", &[("winter", names(winter)), ("summer", names(summer))]);
    let blocks = vec![
        Block::Table { table },
        Block::Text { line: season },
        Block::Text { line: teller.line("compare.note", &[]) },
    ];
    teller.section("compare", "compare.heading", blocks)
}

fn of_units(teller: &Teller<'_>, caption: &str, columns: &[Shown]) -> Block {
    let units = teller.summary().rows.iter().filter(|row| row.case == Case::Unit);
    let rows = units
        .map(|house| {
            let figures = figures(teller, &house.unit, house.case, columns);
            row(&house.unit, [words(&house.unit).into()].into_iter().chain(figures).collect())
        })
        .collect();
    let heads = heads(teller, &["year.figure"], columns);
    Block::Table { table: Table { caption: teller.caption(caption), heads, word_columns: 1, rows } }
}

pub(super) fn numbers(teller: &Teller<'_>) -> Section {
    let mut blocks = vec![
        of_units(teller, "year.caption_humidity", &HUMIDITY),
        Block::Caution { line: teller.line("year.caution", &[]) },
        of_units(teller, "year.caption_water", &WATER),
        Block::Caution { line: teller.line("year.ice_caution", &[]) },
        of_units(teller, "year.caption_energy", &ENERGY),
        of_units(teller, "year.caption_air", &AIR),
    ];
    blocks.extend(money(teller));
    blocks.extend(spread(teller));
    blocks.push(months(teller));
    teller.section("year", "year.heading", blocks)
}

fn money(teller: &Teller<'_>) -> Option<Block> {
    let money = teller.given.money?;
    let rows = money.units().map(|account| {
        let at = (account.unit.as_str(), account.case);
        let found = account.found.as_ref();
        let life = found.and_then(|found| found.life.as_ref());
        let spans = [
            words(&account.unit),
            teller.money(account.running().value(), 0, at, "running_money"),
            teller.money(found.and_then(|found| found.saving.value()), 0, at, "saving_money"),
            teller.money(found.and_then(|found| found.carbon_kg.value()), 0, at, "saving_carbon_kg"),
            teller.money(
                life.and_then(|life| life.net_present_value.value()),
                0,
                at,
                "net_present_value_money",
            ),
            teller.money(found.and_then(|found| found.break_even_price), 0, at, "break_even_price_money"),
        ];
        row(&account.unit, cells(spans))
    });
    let heads =
        ["year.figure", "year.running", "year.money_saving", "year.carbon", "year.worth", "year.up_to"];
    let currency = words(&money.basis.currency);
    let table = Table {
        caption: teller.line("year.caption_money", &[("currency", currency)]),
        heads: heads.iter().map(|key| teller.text(key)).collect(),
        word_columns: 1,
        rows: rows.collect(),
    };
    Some(Block::Table { table })
}

fn spread(teller: &Teller<'_>) -> Option<Block> {
    let spread = teller.given.spread;
    if spread.is_empty() {
        return None;
    }
    let rows = spread.iter().map(|spread| {
        let name = Span::words(format!("{} [{}]", spread.name, spread.unit));
        row("", cells([name].into_iter().chain(percentiles(teller, spread))))
    });
    let heads = ["year.figure", "year.low", "year.middle", "year.high"];
    let table = Table {
        caption: teller.caption("year.caption_spread"),
        heads: heads.iter().map(|key| teller.text(key)).collect(),
        word_columns: 1,
        rows: rows.collect(),
    };
    Some(Block::Table { table })
}

/// Tenth, fiftieth and ninetieth percentile, with so many decimals as tell them apart.
pub(super) fn percentiles(teller: &Teller<'_>, spread: &SpreadOf) -> [Span; 3] {
    let [low, _, high] = spread.percentiles;
    let decimals = match high - low {
        width if width >= 20.0 => 0,
        width if width >= 2.0 => 1,
        _ => 2,
    };
    let name = &spread.name;
    [("p10", 0), ("p50", 1), ("p90", 2)]
        .map(|(key, at)| teller.from(spread.percentiles[at], decimals, format!("spread|{name}|{key}")))
}

fn months(teller: &Teller<'_>) -> Block {
    let mut rows = Vec::new();
    for house in teller.summary().rows.iter().filter(|row| row.case == Case::Unit) {
        for month in 0..12 {
            let name = [words(&house.unit), Span::words(teller.month_name(month + 1))];
            let figures =
                MONTHS.iter().map(|shown| teller.month(&house.unit, Case::Unit, month, shown.shape));
            let cells = cells(name.into_iter().chain(figures));
            rows.push(TableRow { unit: house.unit.clone(), month: month + 1, cells });
        }
    }
    let heads = heads(teller, &["year.figure", "year.month"], &MONTHS);
    Block::Table {
        table: Table { caption: teller.caption("year.caption_months"), heads, word_columns: 2, rows },
    }
}

/// With and without, in one line.
pub(super) fn with_and_without(teller: &Teller<'_>) -> Line {
    let unit = teller.lead.unit.as_str();
    let winter = |case, name| teller.figure(name, case, whole(Figure::RhWinterMeanPct));
    let summer = |case, name| teller.figure(name, case, whole(Figure::RhSummerMeanPct));
    let pieces = [
        ("unit", words(unit)),
        ("with", winter(Case::Unit, unit)),
        ("with_summer", summer(Case::Unit, unit)),
        ("without", winter(Case::NoRecovery, unit)),
        ("without_summer", summer(Case::NoRecovery, unit)),
        ("shut", winter(Case::NoVentilation, "")),
        ("shut_summer", summer(Case::NoVentilation, "")),
    ];
    teller.line("home.with", &pieces)
}

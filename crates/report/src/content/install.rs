//! The installation sheet and the calendar of upkeep, with the cautions that belong to them.
//!
//! Not here: what upkeep changes in the year (`simulation`).

use reporting::{Figure, ShowIn};
use simulation::results::Case;
use study::FrostStrategy;

use super::teller::{Teller, facts, row, water, whole, words};
use crate::model::{Block, Line, Section, Span, Table};

/// Suction at the drain port that a trap is laid out for \[Pa\]. Assumed: of the order of a house unit's fan.
const SUCTION_PA: f64 = 250.0;
/// Pressure of a water column of a millimetre \[Pa\]: 1000 kg/m³ × 9.81 m/s² × 0.001 m.
const PASCALS_PER_MM: f64 = 9.81;
/// Added to the seal \[mm\]. Assumed.
const MARGIN_MM: f64 = 10.0;
const MM_PER_INCH: f64 = 25.4;
const SECONDS_PER_DAY: f64 = 86_400.0;
const SECONDS_PER_HOUR: f64 = 3600.0;

/// Height of a trap's seal \[mm\]: twice the suction, since half of it is lost as the fan starts and stops, plus a margin.
pub(crate) fn trap_mm(suction_pa: f64) -> f64 {
    2.0 * suction_pa / PASCALS_PER_MM + MARGIN_MM
}

pub(super) fn sheet(teller: &Teller<'_>) -> Section {
    let mut blocks: Vec<Block> = teller.given.study.units.iter().map(|unit| of_unit(teller, unit)).collect();
    blocks.push(Block::Text { line: teller.line("install.trap_note", &[]) });
    for key in ["install.combustion", "install.freeze", "install.licensed"] {
        blocks.push(Block::Caution { line: teller.line(key, &[]) });
    }
    teller.section("install", "install.heading", blocks)
}

fn of_unit(teller: &Teller<'_>, unit: &study::Unit) -> Block {
    let name = |key: &str| Span::words(teller.text(key));
    let figure = |shape| teller.figure(&unit.name, Case::Unit, shape);
    let flat = |key: &str, pieces: &[(&str, Span)]| Span::words(teller.line(key, pieces).plain());
    let airflow = Span::words(format!(
        "{}\u{a0}{}, {}\u{a0}{}",
        teller.flow(teller.given.built.airflow_m3_per_s).text,
        teller.flow_unit(),
        teller.flow(teller.given.built.airflow_m3_per_s * unit.balance).text,
        teller.flow_unit()
    ));
    let (trap, length) = match teller.show_in {
        ShowIn::Si => (teller.plain(trap_mm(SUCTION_PA), 0), "mm"),
        ShowIn::Ip => (teller.plain(trap_mm(SUCTION_PA) / MM_PER_INCH, 1), "in"),
    };
    let has_water =
        teller.value(&unit.name, Case::Unit, Figure::CondensateL).is_some_and(|litres| litres >= 1.0);
    let drain = if has_water {
        let peak = figure(water(Figure::PeakCondensateLPerDay, 1));
        let pieces =
            [("peak", peak), ("unit", words(teller.water_unit())), ("trap", trap), ("length", words(length))];
        flat("install.drain_value", &pieces)
    } else {
        name("install.drain_none")
    };
    let preheater = if matches!(unit.frost.strategy, FrostStrategy::Preheat { .. }) {
        flat("install.preheater_value", &[("power", figure(whole(Figure::PreheatPeakW)))])
    } else {
        name("install.preheater_none")
    };
    let ventilation = &teller.given.study.ventilation;
    let shares = |parts: [(&str, f64); 2]| {
        let told = parts.iter().filter(|(_, share)| *share > 0.0);
        let told: Vec<String> = told
            .map(|(key, share)| teller.line(key, &[("share", teller.plain(100.0 * share, 0))]).plain())
            .collect();
        Span::words(told.join(", "))
    };
    let from = &ventilation.extract_from;
    let to = &ventilation.supply_to;
    let fan = Span::words(format!("{}\u{a0}W", figure(whole(Figure::FanPeakW)).text));
    let rows = vec![
        [name("install.airflow"), airflow],
        [name("install.balance"), flat("install.balance_value", &[("ratio", teller.plain(unit.balance, 2))])],
        [name("install.drain"), drain],
        [name("install.preheater"), preheater],
        [name("install.fan"), fan],
        [
            name("install.extract"),
            shares([("install.wet_rooms", from.wet_rooms), ("install.return_duct", from.return_duct)]),
        ],
        [
            name("install.supply"),
            shares([("install.rooms", to.rooms), ("install.return_duct", to.return_duct)]),
        ],
        [name("install.ducts"), name("install.ducts_value")],
    ];
    let caption = teller.line("install.caption", &[("unit", words(&unit.name))]).plain();
    facts(teller, caption, ["install.item", "install.value"], rows)
}

pub(super) fn upkeep(teller: &Teller<'_>) -> Section {
    let text = |key: &str| Span::words(teller.text(key));
    let mut rows = vec![[text("upkeep.every"), text("upkeep.months_filter")]];
    for unit in &teller.given.study.units {
        if let Some(filter) = unit.filter {
            let days = teller.plain(filter.interval_s / SECONDS_PER_DAY, 0);
            let what = teller.line("upkeep.filter", &[("unit", words(&unit.name)), ("days", days)]);
            rows.push([text("upkeep.every"), Span::words(what.plain())]);
        }
        if let Some(upkeep) = unit.upkeep {
            let hours = teller.plain(upkeep.drying_s / SECONDS_PER_HOUR, 0);
            let what = teller.line("upkeep.wash", &[("unit", words(&unit.name)), ("hours", hours)]);
            let south = teller.given.climate.latitude_deg < 0.0;
            let (month, day) = upkeep
                .wash_on
                .map_or((if south { 12 } else { 6 }, 1), |on| (on.month as usize, on.day as usize));
            rows.push([Span::words(teller.date(month, day)), Span::words(what.plain())]);
        }
    }
    rows.extend([
        [text("upkeep.autumn"), text("upkeep.autumn_what")],
        [text("upkeep.winter"), text("upkeep.winter_what")],
        [text("upkeep.spring"), text("upkeep.spring_what")],
        [text("upkeep.yearly"), text("upkeep.yearly_what")],
    ]);
    let rows = rows.into_iter().map(|cells| row("", cells.to_vec())).collect();
    let heads = vec![teller.text("upkeep.when"), teller.text("upkeep.what")];
    let table = Table { caption: teller.text("upkeep.caption"), heads, word_columns: 2, rows };
    let off = Line::words(teller.text("upkeep.off"));
    teller.section("upkeep", "upkeep.heading", vec![Block::Table { table }, Block::Caution { line: off }])
}

#[cfg(test)]
mod tests {
    use super::trap_mm;

    /// By hand: 250 Pa are 25.48 mm of water; twice that and 10 mm are 60.97 mm.
    #[test]
    fn a_trap_holds_twice_the_suction_and_a_margin() {
        assert!((trap_mm(250.0) - 60.97).abs() < 0.01);
    }
}

//! The installation sheet and the calendar of upkeep, with the cautions that belong to them.
//!
//! Not here: what upkeep changes in the year (`simulation`).

use reporting::{Figure, ShowIn};
use simulation::results::Case;
use study::FrostStrategy;

use super::teller::{Teller, facts, row, water, whole, with_unit, words};
use crate::model::{Block, Line, Section, Span, Table};

/// Suction at the drain port that a trap is laid out for \[Pa\]. Assumed: of the order of a house unit's fan.
const SUCTION_PA: f64 = 250.0;
/// Pressure of a water column of a millimetre \[Pa\]: 1000 kg/m³ × 9.81 m/s² × 0.001 m.
const PASCALS_PER_MM: f64 = 9.81;
/// Added to the seal \[mm\]. Assumed.
const MARGIN_MM: f64 = 10.0;
const MM_PER_INCH: f64 = 25.4;

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
    let name = |key: &str| teller.caption(key);
    let key = |part: &str| format!("unit.{}.{part}", unit.name);
    let figure = |shape| teller.figure(&unit.name, Case::Unit, shape);
    let airflow = Line::joined([teller.flow_line(&key("supply")), teller.flow_line(&key("extract"))], ", ");
    let balance = teller.fact(&key("balance"), 2);
    let has_water =
        teller.value(&unit.name, Case::Unit, Figure::CondensateL).is_some_and(|litres| litres >= 1.0);
    let preheater = if matches!(unit.frost.strategy, FrostStrategy::Preheat { .. }) {
        teller.line("install.preheater_value", &[("power", figure(whole(Figure::PreheatPeakW)))])
    } else {
        name("install.preheater_none")
    };
    let shares = |from: &str, parts: [(&str, &str); 2]| {
        let told = parts.iter().map(|(part, words)| (format!("ventilation.{from}.{part}"), words));
        let told = told.filter(|(key, _)| teller.is_above_zero(key));
        let lines = told.map(|(key, words)| teller.line(words, &[("share", teller.percent(&key, 0))]));
        Line::joined(lines, ", ")
    };
    let rows = vec![
        [name("install.airflow"), airflow],
        [name("install.balance"), teller.line("install.balance_value", &[("ratio", balance)])],
        [name("install.drain"), if has_water { drain(teller, unit) } else { name("install.drain_none") }],
        [name("install.preheater"), preheater],
        [name("install.fan"), with_unit(figure(whole(Figure::FanPeakW)), "W")],
        [
            name("install.extract"),
            shares(
                "extract_from",
                [("wet_rooms", "install.wet_rooms"), ("return_duct", "install.return_duct")],
            ),
        ],
        [
            name("install.supply"),
            shares("supply_to", [("rooms", "install.rooms"), ("return_duct", "install.return_duct")]),
        ],
        [name("install.ducts"), name("install.ducts_value")],
    ];
    let caption = teller.line("install.caption", &[("unit", words(&unit.name))]);
    facts(teller, caption, ["install.item", "install.value"], rows)
}

fn drain(teller: &Teller<'_>, unit: &study::Unit) -> Line {
    let (trap, length) = match teller.show_in {
        ShowIn::Si => (teller.rule("trap_mm", trap_mm(SUCTION_PA), 0), "mm"),
        ShowIn::Ip => (teller.rule("trap_in", trap_mm(SUCTION_PA) / MM_PER_INCH, 1), "in"),
    };
    let peak = teller.figure(&unit.name, Case::Unit, water(Figure::PeakCondensateLPerDay, 1));
    let pieces =
        [("peak", peak), ("unit", words(teller.water_unit())), ("trap", trap), ("length", words(length))];
    teller.line("install.drain_value", &pieces)
}

pub(super) fn upkeep(teller: &Teller<'_>) -> Section {
    let text = |key: &str| teller.caption(key);
    let mut rows = vec![[text("upkeep.every"), text("upkeep.months_filter")]];
    for unit in &teller.given.study.units {
        if unit.filter.is_some() {
            let days = teller.fact(&format!("unit.{}.filter.interval", unit.name), 0);
            let when = teller.line("upkeep.every_days", &[("days", days)]);
            rows.push([when, teller.line("upkeep.filter", &[("unit", words(&unit.name))])]);
        }
        if let Some(upkeep) = unit.upkeep {
            let hours = teller.fact(&format!("unit.{}.upkeep.drying", unit.name), 0);
            let what = teller.line("upkeep.wash", &[("unit", words(&unit.name)), ("hours", hours)]);
            let south = teller.given.climate.latitude_deg < 0.0;
            let (month, day) = upkeep
                .wash_on
                .map_or((if south { 12 } else { 6 }, 1), |on| (on.month as usize, on.day as usize));
            let when = Span { text: teller.date(month, day), from: "date".to_owned() };
            rows.push([when.into(), what]);
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
    let table = Table { caption: teller.caption("upkeep.caption"), heads, word_columns: 2, rows };
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

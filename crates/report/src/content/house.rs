//! House, climate and airflow as they were understood.
//!
//! Not here: how the standards reckon (`simulation::requirement`), the bins (`bins`).

use reporting::{Figure, ShowIn};
use simulation::results::Case;

use super::Origin;
use super::teller::{Teller, cells, facts, quoted, row, whole, with_unit, words};
use crate::model::{Block, Line, Section, Table};

const SQUARE_METRES_PER_SQUARE_FOOT: f64 = 0.092_903_04;
const CUBIC_METRES_PER_CUBIC_FOOT: f64 = 0.028_316_846_592;
const METRES_PER_FOOT: f64 = 0.3048;

fn is_ip(teller: &Teller<'_>) -> bool {
    teller.show_in == ShowIn::Ip
}

pub(super) fn house(teller: &Teller<'_>) -> Section {
    let mut blocks = vec![the_house(teller), the_climate(teller)];
    let findings = teller.given.manifest.findings.iter().enumerate();
    let findings: Vec<Line> = findings
        .map(|(at, finding)| quoted(&finding.text, format!("manifest.json|/findings/{at}/text")))
        .map(Line::from)
        .collect();
    if !findings.is_empty() {
        blocks.push(Block::Question { heading: teller.text("house.findings"), lines: findings });
    }
    teller.section("house", "house.heading", blocks)
}

fn area(teller: &Teller<'_>, key: &str) -> Line {
    if is_ip(teller) {
        with_unit(teller.fact_as(key, 0, |area| area / SQUARE_METRES_PER_SQUARE_FOOT), "ft²")
    } else {
        with_unit(teller.fact(key, 0), "m²")
    }
}

fn the_house(teller: &Teller<'_>) -> Block {
    let name = |key: &str| teller.caption(key);
    let volume = if is_ip(teller) {
        let volume = teller.fact_as("house.volume", 0, |volume| volume / CUBIC_METRES_PER_CUBIC_FOOT);
        with_unit(volume, "ft³")
    } else {
        with_unit(teller.fact("house.volume", 0), "m³")
    };
    let leak = if teller.has("house.air_leakage") {
        teller.flow_line("house.air_leakage")
    } else {
        let changes = with_unit(teller.fact("house.air_leakage.changes", 2), "1/h");
        let pressure = with_unit(teller.fact("house.air_leakage.pressure", 0), "Pa");
        Line::joined([changes, pressure], " @ ")
    };
    let cooling = if teller.has("house.cooling.set_point") {
        teller.degrees("house.cooling.set_point")
    } else {
        name("house.no_cooling")
    };
    let water = teller.fact_as("house.water", 1, |kg| teller.show_in.mass(kg));
    let conductance = teller.fact_as("house.heat_loss", 0, |loss| teller.show_in.conductance(loss));
    let rows = vec![
        [name("house.floor"), area(teller, "house.floor_area")],
        [name("house.volume"), volume],
        [name("house.bedrooms"), teller.fact("house.bedrooms", 0).into()],
        [name("house.people"), teller.fact("house.people.count", 0).into()],
        [name("house.loss"), with_unit(conductance, teller.show_in.conductance_unit())],
        [name("house.windows"), area(teller, "house.window_area")],
        [name("house.leak_at_50"), leak],
        [name("house.heating"), teller.degrees("house.heating.set_point")],
        [name("house.cooling"), cooling],
        [name("house.water"), with_unit(water, &format!("{}/d", teller.mass_unit()))],
    ];
    facts(teller, teller.caption("house.caption_house"), ["house.what", "house.value"], rows)
}

fn the_climate(teller: &Teller<'_>) -> Block {
    let climate = teller.given.climate;
    let name = |key: &str| teller.caption(key);
    let kind = match (&climate.shifted, climate.origin) {
        (Some(how), _) => teller.line("house.kind_shifted", &[("how", words(how))]),
        (None, Origin::Invented) => teller.caption("house.kind_invented"),
        (None, Origin::Published) => teller.caption("house.kind_published"),
    };
    let degree = |key: &str| Line::from(teller.fact(key, 2)).and("°");
    let elevation = if is_ip(teller) {
        with_unit(teller.fact_as("site.elevation", 0, |metres| metres / METRES_PER_FOOT), "ft")
    } else {
        with_unit(teller.fact("site.elevation", 0), "m")
    };
    let mut rows = vec![
        [name("house.place"), teller.fact_words("site.place").into()],
        [name("house.kind"), kind],
        [name("house.position"), Line::joined([degree("site.latitude"), degree("site.longitude")], ", ")],
        [name("house.elevation"), elevation],
        [name("house.weather"), teller.fact_words("site.weather").into()],
    ];
    if teller.has("site.outdoor_mean") {
        rows.push([name("house.coldest"), teller.degrees("site.outdoor_least")]);
        rows.push([name("house.mean"), teller.degrees("site.outdoor_mean")]);
        rows.push([name("house.warmest"), teller.degrees("site.outdoor_most")]);
    }
    facts(teller, teller.caption("house.caption_climate"), ["house.what", "house.value"], rows)
}

pub(super) fn air(teller: &Teller<'_>) -> Section {
    let pieces = [
        ("standard", teller.fact_words("airflow.standard")),
        ("asked", teller.flow("airflow.asked")),
        ("run", teller.flow("airflow.run")),
        ("unit", words(teller.flow_unit())),
    ];
    let mut blocks = vec![Block::Text { line: teller.line("air.asked", &pieces) }];
    let steps = (1..).take_while(|step| teller.has(&format!("airflow.step.{step}.what")));
    let rows = steps.map(|step| {
        let of = |part: &str| teller.fact_words(&format!("airflow.step.{step}.{part}"));
        row("", cells(["what", "value", "source"].map(of)))
    });
    let heads = ["air.step", "air.value", "air.source"].iter().map(|key| teller.text(key)).collect();
    let table =
        Table { caption: teller.caption("air.caption"), heads, word_columns: 3, rows: rows.collect() };
    blocks.push(Block::Table { table });
    let english = teller.text("report.english_parts");
    if !english.is_empty() {
        blocks.push(Block::Text { line: Line::words(english) });
    }
    for unit in &teller.given.study.units {
        if teller.above_zero(&unit.name, Case::Unit, Figure::AirShortH).is_some() {
            let hours = teller.figure(&unit.name, Case::Unit, whole(Figure::AirShortH));
            let line = teller.line("air.short", &[("unit", words(&unit.name)), ("hours", hours)]);
            blocks.push(Block::Caution { line });
        }
    }
    blocks.push(Block::Text { line: teller.line("air.local", &[]) });
    teller.section("air", "air.heading", blocks)
}

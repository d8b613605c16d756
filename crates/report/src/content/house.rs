//! House, climate, bins and airflow as they were understood.
//!
//! Not here: how the standards reckon (`simulation::requirement`).

use reporting::Figure;
use simulation::results::{Case, HouseYear};
use study::AirLeakage;

use super::Origin;
use super::teller::{Teller, facts, row, whole, words};
use crate::model::{Block, Line, Section, Span, Table};

const DAYS: f64 = 365.0;
const SQUARE_METRES_PER_SQUARE_FOOT: f64 = 0.092_903_04;
const CUBIC_METRES_PER_CUBIC_FOOT: f64 = 0.028_316_846_592;
/// Width of a bin \[K\].
const BIN_K: f64 = 5.0;

fn is_ip(teller: &Teller<'_>) -> bool {
    teller.show_in == reporting::ShowIn::Ip
}

pub(super) fn house(teller: &Teller<'_>) -> Section {
    let mut blocks = vec![the_house(teller), the_climate(teller)];
    let findings: Vec<Line> =
        teller.given.manifest.findings.iter().map(|finding| Line::words(&finding.text)).collect();
    if !findings.is_empty() {
        blocks.push(Block::Question { heading: teller.text("house.findings"), lines: findings });
    }
    teller.section("house", "house.heading", blocks)
}

fn with_unit(number: &Span, unit: &str) -> Span {
    Span::words(format!("{}\u{a0}{unit}", number.text))
}

fn the_house(teller: &Teller<'_>) -> Block {
    let house = &teller.given.study.house;
    let name = |key: &str| Span::words(teller.text(key));
    let (area, volume) = if is_ip(teller) {
        let area = teller.plain(house.floor_area_m2 / SQUARE_METRES_PER_SQUARE_FOOT, 0);
        let volume = teller.plain(house.volume_m3() / CUBIC_METRES_PER_CUBIC_FOOT, 0);
        (with_unit(&area, "ft²"), with_unit(&volume, "ft³"))
    } else {
        (
            with_unit(&teller.plain(house.floor_area_m2, 0), "m²"),
            with_unit(&teller.plain(house.volume_m3(), 0), "m³"),
        )
    };
    let leak = match house.air_leakage {
        AirLeakage::Constant { m3_per_s } => with_unit(&teller.flow(m3_per_s), teller.flow_unit()),
        AirLeakage::Tested(test) => {
            let changes = test.flow_m3_per_s * 3600.0 / house.volume_m3();
            Span::words(format!(
                "{}\u{a0}1/h @ {}\u{a0}Pa",
                teller.number(changes, 2),
                teller.number(test.pressure_pa, 0)
            ))
        }
    };
    let cooling = house.cooling.as_ref().map_or_else(
        || Span::words(teller.text("house.no_cooling")),
        |cooling| teller.degrees(cooling.set_point_c),
    );
    let litres = teller.summary().rows.first().and_then(|row| row.year(Figure::MoistureSourcesL).value());
    let water = teller.plain(teller.show_in.mass(litres.unwrap_or(0.0) / DAYS), 1);
    let rows = vec![
        [name("house.floor"), area],
        [name("house.volume"), volume],
        [name("house.bedrooms"), teller.plain(f64::from(house.bedrooms), 0)],
        [name("house.people"), teller.plain(f64::from(house.people.count), 0)],
        [name("house.loss"), with_unit(&teller.plain(house.heat_loss_w_per_k, 0), "W/K")],
        [name("house.leak_at_50"), leak],
        [name("house.heating"), teller.degrees(house.heating.set_point_c)],
        [name("house.cooling"), cooling],
        [name("house.water"), with_unit(&water, &format!("{}/d", teller.mass_unit()))],
    ];
    facts(teller, teller.text("house.caption_house"), ["house.what", "house.value"], rows)
}

fn the_climate(teller: &Teller<'_>) -> Block {
    let climate = teller.given.climate;
    let name = |key: &str| Span::words(teller.text(key));
    let kind = match (&climate.shifted, climate.origin) {
        (Some(how), _) => teller.line("house.kind_shifted", &[("how", words(how))]).plain(),
        (None, Origin::Invented) => teller.text("house.kind_invented"),
        (None, Origin::Published) => teller.text("house.kind_published"),
    };
    let outdoor = outdoor(teller);
    let least = outdoor.iter().copied().fold(f64::INFINITY, f64::min);
    let most = outdoor.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mean = outdoor.iter().sum::<f64>() / outdoor.len().max(1) as f64;
    let position =
        format!("{}°, {}°", teller.number(climate.latitude_deg, 2), teller.number(climate.longitude_deg, 2));
    let mut rows = vec![
        [name("house.place"), words(&climate.place)],
        [name("house.kind"), Span::words(kind)],
        [name("house.position"), Span::words(position)],
        [name("house.elevation"), with_unit(&teller.plain(climate.elevation_m, 0), "m")],
        [name("house.weather"), words(&teller.given.study.site.weather)],
    ];
    if !outdoor.is_empty() {
        rows.push([name("house.coldest"), teller.degrees(least)]);
        rows.push([name("house.mean"), teller.degrees(mean)]);
        rows.push([name("house.warmest"), teller.degrees(most)]);
    }
    facts(teller, teller.text("house.caption_climate"), ["house.what", "house.value"], rows)
}

fn outdoor<'a>(teller: &Teller<'a>) -> &'a [f64] {
    teller.given.years.first().map_or(&[], |year| &year.hourly.outdoor_c)
}

pub(super) fn air(teller: &Teller<'_>) -> Section {
    let built = teller.given.built;
    let required = &built.requirement;
    let pieces = [
        ("standard", words(required.standard)),
        ("asked", teller.flow(required.airflow_m3_per_s)),
        ("run", teller.flow(built.airflow_m3_per_s)),
        ("unit", words(teller.flow_unit())),
    ];
    let mut blocks = vec![Block::Text { line: teller.line("air.asked", &pieces) }];
    let rows = required
        .steps
        .iter()
        .map(|step| row("", vec![words(&step.what), words(&step.value), words(step.source)]));
    let heads = ["air.step", "air.value", "air.source"].iter().map(|key| teller.text(key)).collect();
    let table = Table { caption: teller.text("air.caption"), heads, word_columns: 3, rows: rows.collect() };
    blocks.push(Block::Table { table });
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

/// Hours by outdoor temperature, and what the leading unit does in them.
pub(super) fn bins(teller: &Teller<'_>) -> Section {
    let unit = teller.lead.unit.as_str();
    let year = teller.given.years.iter().find(|year| year.case == Case::Unit && year.unit == unit);
    let Some(year) = year else { return teller.section("bins", "bins.heading", Vec::new()) };
    let bin_of = |celsius: f64| (celsius / BIN_K).floor();
    let mut bins: Vec<f64> = year.hourly.outdoor_c.iter().map(|celsius| bin_of(*celsius)).collect();
    bins.sort_by(f64::total_cmp);
    bins.dedup();
    let rows = bins.iter().map(|bin| {
        let hours: Vec<usize> = (0..year.hourly.outdoor_c.len())
            .filter(|hour| bin_of(year.hourly.outdoor_c[*hour]).total_cmp(bin).is_eq())
            .collect();
        row("", bin_cells(teller, year, *bin, &hours))
    });
    let heads = vec![
        teller.head("bins.bin", teller.show_in.temperature_unit()),
        teller.text("bins.hours"),
        teller.head("bins.supply", teller.show_in.temperature_unit()),
        teller.text("bins.humidity"),
        teller.head("bins.drain", teller.water_unit()),
        teller.head("bins.ice", teller.mass_unit()),
    ];
    let caption = teller.line("bins.caption", &[("unit", words(unit))]).plain();
    let table = Table { caption, heads, word_columns: 1, rows: rows.collect() };
    teller.section("bins", "bins.heading", vec![Block::Table { table }])
}

fn bin_cells(teller: &Teller<'_>, year: &HouseYear, bin: f64, hours: &[usize]) -> Vec<Span> {
    let sum = |column: &[f64]| hours.iter().filter_map(|hour| column.get(*hour)).sum::<f64>();
    let count = hours.len().max(1) as f64;
    let from = |edge: f64| teller.number(teller.show_in.temperature(edge), 0);
    let name = format!("{} … {}", from(bin * BIN_K), from((bin + 1.0) * BIN_K));
    vec![
        Span::words(name),
        teller.plain(hours.len() as f64, 0),
        teller.temperature(sum(&year.hourly.supply_c) / count),
        teller.plain(100.0 * sum(&year.hourly.relative_humidity) / count, 0),
        teller.plain(teller.show_in.volume(sum(&year.hourly.drain_kg)), 1),
        teller.plain(teller.show_in.mass(sum(&year.hourly.ice_formed_kg)), 1),
    ]
}

//! The climate in bins, and what the leading unit does in them: `bins.csv`, as far as a person reads it.
//!
//! Not here: the bin method (`reporting::bin_study`).

use reporting::Cell;
use reporting::bin_study::{Method, Printed};

use super::teller::{Teller, row, words};
use crate::PageError;
use crate::model::{Block, Line, Section, Span, Table};

/// Columns of `bins.csv` by the run and by the bin method, which is told nothing of the house; in the order of [`reporting::bin_study::Figures`].
const FIGURES: [&str; 5] =
    ["recovered_sensible_kwh", "recovered_latent_kwh", "condensate_l", "ice_formed_kg", "frost_h"];

pub(super) fn section(teller: &Teller<'_>) -> Result<Section, PageError> {
    let unit = teller.lead.unit.as_str();
    let Some(study) = teller.given.bins.iter().find(|study| study.unit == unit) else {
        return Ok(teller.section("bins", "bins.heading", Vec::new()));
    };
    // Of the file's own digits, so that page and file cannot round apart.
    let printed =
        Printed::new(study, reporting::ShowIn::Si).map_err(|cause| PageError::Figures(cause.to_string()))?;
    let rows = study.rows.iter().zip(&printed.rows).map(|(bin, figures)| {
        let low = Cell::rounded(bin.low_c, 3).map_or_else(|_| String::new(), |cell| cell.to_string());
        let from = |column: &str| format!("bins.csv|{unit}|{low}|{column}");
        let degrees =
            |celsius: f64, column: &str| teller.from(teller.show_in.temperature(celsius), 0, from(column));
        let figure = |method: Method, at: usize, decimals| {
            let value = figures[method as usize][at].value().unwrap_or(0.0);
            let value = match FIGURES[at] {
                "condensate_l" => teller.show_in.volume(value),
                "ice_formed_kg" => teller.show_in.mass(value),
                _ => value,
            };
            teller.from(value, decimals, from(&format!("{}_{}", method.key(), FIGURES[at])))
        };
        let edges = [degrees(bin.low_c, "low_c"), degrees(bin.low_c + study.edges.width, "high_c")];
        let numbers = [
            teller.from(f64::from(bin.hours), 0, from("time_h")),
            figure(Method::Hourly, 0, 0),
            figure(Method::Blind, 0, 0),
            figure(Method::Hourly, 1, 0),
            figure(Method::Hourly, 2, 1),
            figure(Method::Blind, 2, 1),
            figure(Method::Hourly, 3, 1),
            figure(Method::Hourly, 4, 0),
        ];
        let name = Line::joined(edges.map(Line::from), "\u{a0}…\u{a0}");
        row("", std::iter::once(name).chain(numbers.map(Line::from)).collect())
    });
    let heads = vec![
        teller.head("bins.bin", teller.show_in.temperature_unit()),
        teller.text("bins.hours"),
        teller.text("bins.sensible"),
        teller.text("bins.sensible_blind"),
        teller.text("bins.latent"),
        teller.head("bins.drain", teller.water_unit()),
        teller.head("bins.drain_blind", teller.water_unit()),
        teller.head("bins.ice", teller.mass_unit()),
        teller.text("bins.frost"),
    ];
    let caption = teller.line("bins.caption", &[("unit", words(unit))]);
    let table = Table { caption, heads, word_columns: 1, rows: rows.collect() };
    let note = Block::Text { line: Line::from(Span::words(teller.text("bins.note"))) };
    Ok(teller.section("bins", "bins.heading", vec![Block::Table { table }, note]))
}

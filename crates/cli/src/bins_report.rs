//! `dewledger bins`: a weather file in bins of dry bulb.
//!
//! Not here: how hours are binned (`weather::bins`), the bin method for a study (`bins_study`).

use std::fmt::Write as _;

use reporting::ShowIn;
use serde_json::{Value, json};
use study::Dimension;
use weather::bins::{Bin, Edges, Shift, bins};

use crate::air::quantity;
use crate::arguments::{self, Bins};
use crate::bins_study;
use crate::failure::Failure;
use crate::show;
use crate::weather_report;

const USUAL_WIDTH_K: f64 = 2.0;
/// 5 °F, and 0 °F.
const USUAL_WIDTH_IP_K: f64 = 5.0 / 1.8;
const USUAL_EDGE_IP_C: f64 = -32.0 / 1.8;

pub(crate) fn report(options: &Bins) -> Result<(), Failure> {
    if bins_study::is_study(&options.file)? {
        return bins_study::report(options);
    }
    if options.out.is_some() {
        let file = options.file.display();
        return Err(Failure::input(format!("--out is for a study; {file} is not one"))
            .hint("the bins of a weather file are printed; --json prints them for other programs"));
    }
    let read = weather_report::read(&options.file, &weather_report::overrides(&options.place)?)?;
    let show_in = options.show_in.map_or(ShowIn::Si, shown);
    let edges = edges(options, show_in)?;
    let found = bins(&read.year, &edges).map_err(Failure::work)?;
    if options.json {
        for mark in weather_report::marks(&read) {
            show::note(format!("{}: {mark}", read.name));
        }
        return show::result_line(rows_json(&found, edges.width)?);
    }
    let mut head = format!("{}: {}, {} h", read.name, read.year.place.name, read.year.hours());
    for mark in weather_report::marks(&read) {
        // Writing into a String cannot fail.
        let _ = write!(head, "\n{}", weather_report::wrapped(&mark.to_string()).trim_end());
    }
    show::result(&table(&head, &found, (edges.width, show_in)))
}

pub(crate) fn shown(show_in: arguments::ShowIn) -> ShowIn {
    match show_in {
        arguments::ShowIn::Si => ShowIn::Si,
        arguments::ShowIn::Ip => ShowIn::Ip,
    }
}

/// The edges asked for, or the usual ones.
pub(crate) fn edges(options: &Bins, show_in: ShowIn) -> Result<Edges, Failure> {
    let (usual_width, usual_edge) = usual(show_in);
    let width = options.width.as_deref();
    let width = width.map(|text| quantity("--width", text, Dimension::TemperatureDifference)).transpose()?;
    let edge = options.edge.as_deref();
    let edge = edge.map(|text| quantity("--edge", text, Dimension::Temperature)).transpose()?;
    checked_edges(width.unwrap_or(usual_width), edge.unwrap_or(usual_edge))
}

/// Edges of a sensible width.
pub(crate) fn checked_edges(width: f64, edge: f64) -> Result<Edges, Failure> {
    if !(0.1..=50.0).contains(&width) {
        return Err(Failure::input(format!("--width: a bin of {width} K is outside 0.1 to 50 K")));
    }
    Edges::new(width, edge).map_err(Failure::work)
}

/// The bins as JSON.
pub(crate) fn rows_json(found: &[Bin], width_k: f64) -> Result<String, Failure> {
    let rows: Vec<Value> = found.iter().map(|bin| row(bin, width_k)).collect();
    serde_json::to_string_pretty(&rows).map_err(Failure::work)
}

/// Bins of the usual width.
pub(crate) fn usual_edges(show_in: ShowIn) -> Result<Edges, Failure> {
    let (width_k, edge_c) = usual(show_in);
    Edges::new(width_k, edge_c).map_err(Failure::work)
}

fn usual(show_in: ShowIn) -> (f64, f64) {
    match show_in {
        ShowIn::Si => (USUAL_WIDTH_K, 0.0),
        ShowIn::Ip => (USUAL_WIDTH_IP_K, USUAL_EDGE_IP_C),
    }
}

fn table(head: &str, found: &[Bin], (width_k, show_in): (f64, ShowIn)) -> String {
    let mut out = format!("\n{head}\n\n");
    let (t, w) = (show_in.temperature_unit(), show_in.humidity_ratio_unit());
    let bin_head = format!("dry bulb {t}");
    let _ = writeln!(
        out,
        "{bin_head:>17}  {:>6}  {:>6} {:>6} {:>6}  {:>8} {:>8} {:>8}",
        "hours", "0-8 h", "8-16 h", "16-24", "dry bulb", "wet bulb", "humidity"
    );
    let _ = writeln!(
        out,
        "{:>17}  {:>6}  {:>6} {:>6} {:>6}  {:>8} {:>8} {:>8}",
        "from … to below",
        "",
        "",
        "",
        "",
        format!("mean {t}"),
        format!("mean {t}"),
        w
    );
    let _ = writeln!(out, "{}", "─".repeat(75));
    for bin in found {
        let [night, day, evening] = Shift::ALL.map(|shift| bin.of_shift(shift));
        let range = format!(
            "{:.1} … {:.1}",
            show_in.temperature(bin.low_c),
            show_in.temperature(bin.low_c + width_k)
        );
        let _ = writeln!(
            out,
            "{range:>17}  {:>6}  {night:>6} {day:>6} {evening:>6}  {:>8.1} {:>8.1} {:>8.2}",
            bin.total(),
            show_in.temperature(bin.dry_bulb_c),
            show_in.temperature(bin.wet_bulb_c),
            show_in.humidity_ratio(bin.humidity_ratio),
        );
    }
    let all: u32 = found.iter().map(Bin::total).sum();
    let [night, day, evening] =
        Shift::ALL.map(|shift| found.iter().map(|bin| bin.of_shift(shift)).sum::<u32>());
    let _ = writeln!(out, "{}", "─".repeat(75));
    let _ = writeln!(out, "{:>17}  {all:>6}  {night:>6} {day:>6} {evening:>6}", "all hours");
    let _ = writeln!(
        out,
        "\nShifts are of local standard time, by when an hour begins. Wet bulb and humidity ratio are means of a bin's hours."
    );
    out
}

fn row(bin: &Bin, width_k: f64) -> Value {
    let months: Vec<Value> = bin
        .hours
        .iter()
        .enumerate()
        .map(|(month, [night, day, evening])| {
            json!({ "month": month + 1, "hours_0_to_8": night, "hours_8_to_16": day, "hours_16_to_24": evening })
        })
        .collect();
    json!({
        "low_c": bin.low_c,
        "high_c": bin.low_c + width_k,
        "hours": bin.total(),
        "mean_dry_bulb_c": bin.dry_bulb_c,
        "mean_wet_bulb_c": bin.wet_bulb_c,
        "mean_humidity_ratio": bin.humidity_ratio,
        "months": months,
    })
}

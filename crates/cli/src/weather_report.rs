//! `dewledger weather`: place, statistics, doubts and months of weather files, several side by side.
//!
//! Not here: the rows of the table (`weather_report/figures.rs`), what was checked (`weather_report/checks.rs`), months
//! (`weather_report/months.rs`), JSON (`weather_report/json.rs`), charts (`weather_report/pictures.rs`).

mod checks;
mod figures;
mod json;
mod months;
mod pictures;

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use reporting::ShowIn;
use study::Dimension;
use weather::{Finding, FindingKind, Findings, Overrides, PlaceOverride, WeatherError, WeatherYear};

use crate::air::quantity;
use crate::arguments::{self, PlaceOptions, Weather};
use crate::climate_files;
use crate::failure::Failure;
use crate::run::sha256;
use crate::show;
use figures::Figure;

/// Files beside each other in a table of a hundred columns.
const FILES_IN_A_ROW: usize = 5;
const WIDTH: usize = 100;
const LABEL_WIDTH: usize = 46;
const CELL_WIDTH: usize = 9;

/// What was read from one file.
pub(crate) struct Read {
    pub(crate) name: String,
    pub(crate) year: WeatherYear,
    pub(crate) findings: Findings,
    sha256: String,
}

pub(crate) fn report(options: &Weather) -> Result<(), Failure> {
    if let Some(tool) = &options.tool {
        return climate_files::write(tool);
    }
    let overrides = overrides(&options.place)?;
    let mut files = Vec::new();
    for path in &options.files {
        files.push(read(path, &overrides)?);
    }
    let show_in = match options.show_in {
        arguments::ShowIn::Si => ShowIn::Si,
        arguments::ShowIn::Ip => ShowIn::Ip,
    };
    let charts = pictures::write(options, &files, show_in)?;
    if options.json {
        let json: Vec<json::WeatherJson> = files.iter().map(json::of).collect();
        return show::result_line(serde_json::to_string_pretty(&json).map_err(Failure::work)?);
    }
    let mut text = text(&files, show_in);
    if let Some(folder) = charts {
        let line = format!("\nCharts: {}\n", folder.display());
        text.push_str(&line);
    }
    show::result(&text)
}

pub(crate) fn overrides(options: &PlaceOptions) -> Result<Overrides, Failure> {
    let elevation = options.elevation.as_deref();
    let place = PlaceOverride {
        name: None,
        latitude_deg: options.latitude,
        longitude_deg: options.longitude,
        elevation_m: elevation.map(|text| quantity("--elevation", text, Dimension::Length)).transpose()?,
        time_zone_h: options.time_zone,
    };
    Ok(Overrides { place, ..Overrides::default() })
}

pub(crate) fn read(path: &Path, overrides: &Overrides) -> Result<Read, Failure> {
    let bytes = fs::read(path).map_err(|cause| Failure::unreadable(path, &cause))?;
    let name = path.display().to_string();
    let (year, findings) = weather::read(&bytes, overrides).map_err(|cause| match cause {
        WeatherError::PlaceOutOfRange { .. } if overrides.place != PlaceOverride::default() => {
            Failure::input(format!("{name}: {cause}"))
                .hint("check --latitude, --longitude, --elevation and --time-zone")
        }
        WeatherError::PlaceMissing { .. } => Failure::input(format!("{name}: {cause}"))
            .hint("give --latitude, --longitude, --elevation and --time-zone"),
        _ => weather_failure(&name, &cause),
    })?;
    Ok(Read { name, year, findings, sha256: sha256(&bytes) })
}

/// A file's figures as JSON.
pub(crate) fn figures_json(file: &Read) -> Result<String, Failure> {
    serde_json::to_string_pretty(&json::of(file)).map_err(Failure::work)
}

/// What is told of an invented or a shifted year wherever it is used.
pub(crate) fn marks(file: &Read) -> impl Iterator<Item = &Finding> {
    let is_mark = |finding: &&Finding| matches!(finding.kind, FindingKind::Synthetic | FindingKind::Shifted);
    file.findings.iter().filter(is_mark)
}

/// A weather file's fault, with its name and what would be right.
pub(crate) fn weather_failure(name: &str, cause: &WeatherError) -> Failure {
    Failure::input(format!("{name}: {cause}")).hint(cause.hint())
}

fn text(files: &[Read], show_in: ShowIn) -> String {
    let mut out = String::new();
    for (index, file) in files.iter().enumerate() {
        let number = if files.len() > 1 { format!("{}  ", index + 1) } else { String::new() };
        // Writing into a String cannot fail.
        let _ = writeln!(out, "{number}{}", file.name);
        let _ = writeln!(out, "  {}", place(&file.year));
    }
    for (block, files) in files.chunks(FILES_IN_A_ROW).enumerate() {
        let first = block * FILES_IN_A_ROW + 1;
        let numbers =
            (files.len() > 1 || block > 0).then(|| (first..first + files.len()).collect::<Vec<_>>());
        out.push_str(&table(files, numbers.as_deref(), show_in));
    }
    out.push_str(figures::DEFINITIONS);
    for file in files {
        let _ = writeln!(out);
        if files.len() > 1 {
            let _ = writeln!(out, "{}", file.name);
        }
        out.push_str(&months::table(&file.year, show_in));
        let _ = writeln!(out);
        for finding in file.findings.iter() {
            out.push_str(&wrapped(&finding.to_string()));
        }
    }
    out
}

/// A finding in lines of at most [`WIDTH`] characters; all but the first stand further in.
pub(crate) fn wrapped(text: &str) -> String {
    let mut out = String::new();
    let mut line = String::from(" ");
    for word in text.split(' ') {
        if line.chars().count() + 1 + word.chars().count() > WIDTH {
            out.push_str(&line);
            out.push('\n');
            line = String::from("   ");
        }
        line.push(' ');
        line.push_str(word);
    }
    out.push_str(&line);
    out.push('\n');
    out
}

fn place(year: &WeatherYear) -> String {
    format!("{} · {}", site(year), year.format)
}

/// The place and the hours of a year, in a line.
pub(crate) fn site(year: &WeatherYear) -> String {
    let place = &year.place;
    format!(
        "{} · {:.3}° {}, {:.3}° {} · {:.0} m · UTC{:+} h · {} hours",
        place.name,
        place.latitude_deg.abs(),
        if place.latitude_deg < 0.0 { "south" } else { "north" },
        place.longitude_deg.abs(),
        if place.longitude_deg < 0.0 { "west" } else { "east" },
        place.elevation_m,
        place.time_zone_h,
        year.hours(),
    )
}

/// The files' figures, each file a column, under headings with the files' numbers where there are several.
fn table(files: &[Read], numbers: Option<&[usize]>, show_in: ShowIn) -> String {
    let mut out = String::new();
    let columns: Vec<Vec<(&'static str, Vec<Figure>)>> =
        files.iter().map(|file| sections(file, show_in)).collect();
    let Some(first) = columns.first() else { return out };
    for (s, (heading, figures)) in first.iter().enumerate() {
        out.push('\n');
        row(&mut out, heading, numbers.unwrap_or_default().iter().map(ToString::to_string));
        for (r, figure) in figures.iter().enumerate() {
            let of_files = columns.iter().filter_map(|sections| sections.get(s)?.1.get(r));
            row(&mut out, &figure.label, of_files.map(|figure| figure.value.clone()));
        }
    }
    out
}

fn sections(file: &Read, show_in: ShowIn) -> Vec<(&'static str, Vec<Figure>)> {
    let mut sections = figures::of(&file.year, show_in);
    sections.push(("What was checked", checks::of(file)));
    sections
}

fn row(out: &mut String, label: &str, cells: impl Iterator<Item = String>) {
    let mut line = format!("  {label:<LABEL_WIDTH$}");
    for cell in cells {
        // Writing into a String cannot fail.
        let _ = write!(line, " {cell:>CELL_WIDTH$}");
    }
    let _ = writeln!(out, "{}", line.trim_end());
}

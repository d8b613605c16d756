//! `dewledger sweep`: many house-years into a folder of parts, gone on with where it was left.
//!
//! Not here: which runs, how they are run and written (crate `sweep`).

mod charts;
mod hours;

use std::path::{Path, PathBuf};
use std::time::Instant;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use reporting::{Language, Words};
use sweep::{Column, Folder, FolderError, OpenError, Row, Runner, Summary, Sweep};
use weather::FindingKind;

use crate::arguments;
use crate::failure::Failure;
use crate::output::file_safe;
use crate::pixels::Painter;
use crate::run_files::marked;
use crate::show;

/// Which parts are this process's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Share {
    /// Counted from 0.
    place: u64,
    of: u64,
}

/// What came out.
#[derive(Debug, Default)]
struct Tally {
    parts: u64,
    already: u64,
    rows: u64,
    failed: u64,
    /// The first reason that was met, with its run.
    reason: Option<(u64, String)>,
}

pub(crate) fn run(options: &arguments::Sweep) -> Result<(), Failure> {
    let share = share(options.share.as_deref())?;
    let drawn = columns(&options.chart_of)?;
    let sweep = Sweep::open(&options.file).map_err(unopened)?;
    let stem = options.file.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    let path = options.out.clone().unwrap_or_else(|| Path::new("dewledger-out").join(file_safe(&stem)));
    let take = if options.force { Folder::begin_again } else { Folder::open };
    let folder = take(&path, &sweep).map_err(unusable)?;
    if share.of == 1 {
        folder.sweep_up().map_err(unusable)?;
    }
    let notes = climate_notes(&sweep);
    for (name, _, sentence) in notes.iter().filter(|_| !options.quiet) {
        show::note(format!("{name}: note: {sentence}"));
    }
    let began = Instant::now();
    let tally = run_parts(options, &sweep, &folder, share)?;
    let is_mine = |part: u64| part % share.of == share.place;
    let mut files = hours::write(&sweep, &folder, (is_mine, options.quiet))?;
    let summary = sum_up(&sweep, &folder, &mut files)?;
    if let Some(summary) = &summary {
        let any = |wanted| notes.iter().any(|(_, kind, _)| *kind == wanted);
        let is_not = (any(FindingKind::Synthetic), any(FindingKind::Shifted));
        let words = Words::of(Language::English).map_err(Failure::work)?;
        let title = marked(&sweep.base.title, is_not, words);
        let pictures = charts::draw((&sweep, &title), &folder, (summary, &drawn))?;
        write_pictures(&folder, pictures, options.png, &mut files)?;
    }
    let seconds = began.elapsed().as_secs_f64();
    if options.json {
        return show::result_line(as_json(&sweep, &tally, (&path, &files)));
    }
    if options.quiet {
        return Ok(());
    }
    let spread = summary.as_ref().map_or_else(String::new, |summary| in_short(&sweep, summary, &files));
    show::result(&(in_words(&sweep, &tally, (&path, seconds)) + &spread))
}

/// Notes on climates that are invented or shifted: file, what kind, the sentence. A file that cannot be read is told by the runs that
/// ask for it.
fn climate_notes(sweep: &Sweep) -> Vec<(&str, FindingKind, String)> {
    let overrides = study::build::overrides(&sweep.base);
    let mut notes = Vec::new();
    for source in sweep.sources().iter().filter(|source| source.role == "weather") {
        let Ok((_, findings)) = weather::read(&source.bytes, &overrides) else { continue };
        let told = |kind| matches!(kind, FindingKind::Synthetic | FindingKind::Shifted);
        let of_year = findings.iter().filter(|finding| told(finding.kind));
        notes.extend(of_year.map(|found| (source.name.as_str(), found.kind, found.sentence.clone())));
    }
    notes
}

/// The spread of every figure, once all parts are there; `None` while some are missing.
fn sum_up(sweep: &Sweep, folder: &Folder, files: &mut Vec<String>) -> Result<Option<Summary>, Failure> {
    if (0..sweep.parts()).any(|part| !folder.part_path(part).exists()) {
        return Ok(None);
    }
    let summary = sweep::summarise(sweep, folder).map_err(Failure::work)?;
    let beside = sweep.inputs_file().zip(summary.inputs_csv(sweep));
    for (name, text) in [(sweep::SPREAD_FILE, summary.spread_csv())].into_iter().chain(beside) {
        folder.write_beside(name, text.as_bytes()).map_err(unusable)?;
        files.push(name.to_owned());
    }
    Ok(Some(summary))
}

/// Writes the pictures, and beside each, where it is asked for, the same in pixels.
fn write_pictures(
    folder: &Folder,
    pictures: Vec<charts::Picture>,
    png: bool,
    files: &mut Vec<String>,
) -> Result<(), Failure> {
    let painter = png.then(Painter::new);
    for (name, svg) in pictures {
        folder.write_beside(&name, svg.as_bytes()).map_err(unusable)?;
        if let Some(painter) = &painter {
            let pixels = format!("{}.png", name.trim_end_matches(".svg"));
            folder.write_beside(&pixels, &painter.png(&svg)?).map_err(unusable)?;
            files.push(pixels);
        }
        files.push(name);
    }
    Ok(())
}

/// Columns of results by their names.
fn columns(names: &[String]) -> Result<Vec<&'static Column>, Failure> {
    let column = |name: &String| {
        sweep::COLUMNS.iter().find(|column| column.name == *name).ok_or_else(|| {
            let known: Vec<&str> = sweep::COLUMNS.iter().map(|column| column.name).collect();
            let hint = study::nearest(name, &known).map_or_else(
                || "`dewledger columns` lists those of part-*.parquet".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            Failure::input(format!("a sweep has no column `{name}`")).hint(hint)
        })
    };
    names.iter().map(column).collect()
}

/// Figures that are shown; all are in `spread.csv`.
const SHOWN: [(&str, &str); 4] = [
    ("useful_saving_kwh", "saved [kWh]"),
    ("condensate_l", "drained [L]"),
    ("rh_mean_pct", "mean humidity [%]"),
    ("net_present_value_money", "present worth"),
];

fn in_short(sweep: &Sweep, summary: &Summary, files: &[String]) -> String {
    let mut lines = Vec::new();
    // Runs that were chosen to tell inputs apart stand for no cases.
    let shown = if sweep.file.plan.spreads() { &SHOWN[..] } else { &[] };
    if !shown.is_empty() {
        lines.push(format!("{:<24}{:<24}{:>10}{:>10}{:>10}", "a year, by unit", "", "P10", "P50", "P90"));
    }
    let currency = sweep.base.money.as_ref().map_or("money", |money| money.currency.as_str());
    for &(column, words) in shown {
        let is_money = column.ends_with("_money");
        let words = if is_money { format!("{words} [{currency}]") } else { words.to_owned() };
        for of in summary.spreads.iter().filter(|of| of.column == column) {
            let s = &of.spread;
            lines.push(format!("{:<24}{:<24}{:>10.1}{:>10.1}{:>10.1}", of.unit, words, s.p10, s.p50, s.p90));
        }
    }
    let beside =
        sweep.inputs_file().map_or_else(String::new, |name| format!(" What each input does: {name}."));
    lines.push(format!("All figures: spread.csv.{beside}"));
    let charts: Vec<&str> = files
        .iter()
        .map(String::as_str)
        .filter(|name| name.starts_with("charts/") && !name.contains(".png"))
        .collect();
    if !charts.is_empty() {
        lines.push(format!("Drawn: {}.", charts.join(", ")));
    }
    if let Some(first) = summary.untold.first().filter(|_| sweep.inputs_file().is_some()) {
        let count = summary.untold.len();
        lines.push(format!("{count} figures tell nothing of the inputs, such as {first}."));
    }
    lines.join("\n") + "\n"
}

fn run_parts(
    options: &arguments::Sweep,
    sweep: &Sweep,
    folder: &Folder,
    share: Share,
) -> Result<Tally, Failure> {
    let runner = Runner::new(sweep).map_err(|problems| Failure::work(problems.to_string()))?;
    let mine = (0..sweep.parts()).filter(|part| part % share.of == share.place);
    let (there, left): (Vec<u64>, Vec<u64>) = mine.partition(|part| folder.has(*part));
    let runs_left: u64 = left.iter().map(|part| sweep.runs_of(*part).count() as u64).sum();
    let progress = Progress::begin(options.quiet, runs_left);
    let mut tally = Tally { already: there.len() as u64, ..Tally::default() };
    for part in left {
        let rows = runner.rows_of(part);
        let bytes = sweep::encode(sweep, part, &rows).map_err(Failure::work)?;
        folder.write(part, &bytes).map_err(unusable)?;
        tally.add(&rows);
        progress.part((part, sweep.parts()), sweep.runs_of(part).count() as u64);
    }
    progress.bar.finish_and_clear();
    Ok(tally)
}

impl Tally {
    fn add(&mut self, rows: &[Row]) {
        self.parts += 1;
        self.rows += rows.len() as u64;
        for row in rows {
            if let Err(reason) = &row.outcome {
                self.failed += 1;
                self.reason.get_or_insert_with(|| (row.run, reason.clone()));
            }
        }
    }
}

/// How far the work has come: a bar on a terminal, else a line for each part.
struct Progress {
    bar: ProgressBar,
    quiet: bool,
    began: Instant,
    runs: u64,
}

impl Progress {
    fn begin(quiet: bool, runs: u64) -> Self {
        let target = if quiet { ProgressDrawTarget::hidden() } else { ProgressDrawTarget::stderr() };
        let bar = ProgressBar::with_draw_target(Some(runs), target);
        let style = ProgressStyle::with_template("{bar:30} {pos} of {len} runs, {per_sec}, {eta} left");
        if let Ok(style) = style {
            bar.set_style(style);
        }
        Self { bar, quiet, began: Instant::now(), runs }
    }

    fn part(&self, (part, parts): (u64, u64), runs: u64) {
        self.bar.inc(runs);
        if self.quiet || !self.bar.is_hidden() {
            return;
        }
        let done = self.bar.position();
        let seconds = self.began.elapsed().as_secs_f64();
        let a_second = done as f64 / seconds.max(1e-9);
        let left = (self.runs - done) as f64 / a_second.max(1e-9);
        show::note(format!(
            "part {} of {parts}: {done} of {} runs, {a_second:.0} a second, {left:.0} s left",
            part + 1,
            self.runs
        ));
    }
}

fn in_words(sweep: &Sweep, tally: &Tally, (path, seconds): (&PathBuf, f64)) -> String {
    let mut lines = Vec::new();
    let already =
        if tally.already > 0 { format!("; {} were there already", tally.already) } else { String::new() };
    lines.push(format!(
        "{} rows in {} of {} parts{already}. {seconds:.1} s.",
        tally.rows,
        tally.parts,
        sweep.parts()
    ));
    if let Some((run, reason)) = &tally.reason {
        let failed = tally.failed;
        lines.push(format!(
            "{failed} rows have no figures; their reason is in the column failed_because. Run {run}: {reason}"
        ));
    }
    lines.push(format!("Written to {}.", path.display()));
    lines.join("\n") + "\n"
}

fn as_json(sweep: &Sweep, tally: &Tally, (path, files): (&Path, &[String])) -> String {
    let value = serde_json::json!({
        "folder": path.display().to_string(),
        "runs": sweep.runs(),
        "parts": sweep.parts(),
        "parts_written": tally.parts,
        "parts_there_already": tally.already,
        "rows_written": tally.rows,
        "rows_failed": tally.failed,
        "files": files,
    });
    format!("{value:#}")
}

fn share(text: Option<&str>) -> Result<Share, Failure> {
    let Some(text) = text else { return Ok(Share { place: 0, of: 1 }) };
    let found =
        text.split_once('/').and_then(|(k, n)| Some((k.parse::<u64>().ok()?, n.parse::<u64>().ok()?)));
    match found {
        Some((k, n)) if (1..=n).contains(&k) => Ok(Share { place: k - 1, of: n }),
        _ => Err(Failure::input(format!("`{text}` is no share of the parts"))
            .hint("write K/N, such as 1/4 for the first of four shares, up to 4/4")),
    }
}

pub(crate) fn unopened(cause: OpenError) -> Failure {
    match cause {
        OpenError::Unreadable { path, source } => Failure::unreadable(&path, &source),
        OpenError::Problems { problems, text } => {
            Failure::laid_out(&problems.render(&text, &problems.file_name))
        }
        OpenError::List(words) => {
            Failure::input(words).hint("the first line names paths, as [vary.\"…\"] would")
        }
    }
}

pub(crate) fn unusable(cause: FolderError) -> Failure {
    match cause {
        FolderError::Disk { path, source } => Failure::unwritable(&path, &source),
        FolderError::Changed { .. } => Failure::input(cause).hint(
            "choose another folder with --out, or add --force to begin again and remove the earlier parts",
        ),
        FolderError::NotOurs(_) => Failure::input(cause).hint("choose a new or an empty folder with --out"),
    }
}

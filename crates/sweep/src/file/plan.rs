//! `[sweep]`: the study, the plan and its numbers.

use super::USUAL_PART;
use super::table::{Placed, Reader};

/// Which runs are made.
#[derive(Debug, Clone, PartialEq)]
pub enum PlanKind {
    /// Every value of every input with every value of the others.
    Grid,
    /// Each input's strata once each, in random company.
    LatinHypercube,
    /// The scrambled Sobol sequence.
    Sobol,
    /// Rows of a CSV file, its columns named by paths.
    List {
        /// The file as written, relative to the sweep file.
        file: String,
    },
    /// All in the middle, then each input low and high: for a tornado chart.
    OneAtATime,
    /// For first and total Sobol indices: base rows times inputs and two.
    Indices {
        /// Base rows.
        base_rows: u64,
    },
    /// Morris screening: trajectories times inputs and one.
    Screening {
        /// Trajectories.
        trajectories: u64,
        /// Levels.
        levels: u32,
    },
}

/// What the table says.
pub(super) struct Head {
    pub study: String,
    pub plan: PlanKind,
    pub runs: Option<u64>,
    pub seed: u64,
    pub part: u64,
}

pub(super) const KEYS: [&str; 10] =
    ["study", "plan", "runs", "seed", "keep", "part", "list", "base_rows", "trajectories", "levels"];
const PLANS: [&str; 7] =
    ["sobol", "latin-hypercube", "grid", "list", "one-at-a-time", "indices", "screening"];
const MOST_RUNS: u64 = 1 << 32;
const MOST_PART: u64 = 65_536;
const USUAL_BASE_ROWS: u64 = 1024;
const USUAL_TRAJECTORIES: u64 = 20;
const USUAL_LEVELS: u64 = 4;

pub(super) fn read(reader: &mut Reader<'_>, head: &Placed<'_, '_>) -> Option<Head> {
    reader.known(("[sweep]", head.0), &KEYS);
    for key in ["study", "plan"] {
        if !head.0.contains_key(key) {
            let span = head.1.clone();
            reader.problem(span, format!("[sweep] lacks the key `{key}`"), "this table", example(key));
        }
    }
    let study = reader.text(head, "study");
    let runs = reader.whole(head, "runs", 1..MOST_RUNS + 1);
    let seed = reader.whole(head, "seed", 0..i64::MAX as u64).unwrap_or(1);
    let part = reader.whole(head, "part", 1..MOST_PART + 1).unwrap_or(USUAL_PART);
    keep(reader, head);
    let plan = plan(reader, head);
    let plan = plan?;
    only_with(reader, head, &plan);
    Some(Head { study: study?, plan, runs, seed, part })
}

fn example(key: &str) -> String {
    if key == "study" { "such as study = \"bungalow.toml\"".to_owned() } else { plans() }
}

fn plans() -> String {
    let quoted: Vec<String> = PLANS.iter().map(|plan| format!("\"{plan}\"")).collect();
    format!("plan is one of {}", quoted.join(", "))
}

fn plan(reader: &mut Reader<'_>, head: &Placed<'_, '_>) -> Option<PlanKind> {
    let name = reader.text(head, "plan")?;
    let base_rows = reader.whole(head, "base_rows", 2..MOST_RUNS + 1);
    let trajectories = reader.whole(head, "trajectories", 2..MOST_RUNS + 1);
    let levels = reader.whole(head, "levels", 2..1001);
    let span = head.0.get("plan").map_or(head.1.clone(), toml::Spanned::span);
    Some(match name.as_str() {
        "sobol" => PlanKind::Sobol,
        "latin-hypercube" => PlanKind::LatinHypercube,
        "grid" => PlanKind::Grid,
        "one-at-a-time" => PlanKind::OneAtATime,
        "indices" => PlanKind::Indices { base_rows: base_rows.unwrap_or(USUAL_BASE_ROWS) },
        "screening" => PlanKind::Screening {
            trajectories: trajectories.unwrap_or(USUAL_TRAJECTORIES),
            levels: u32::try_from(levels.unwrap_or(USUAL_LEVELS)).unwrap_or(u32::MAX),
        },
        "list" => {
            let Some(file) = reader.text(head, "list") else {
                reader.problem(
                    span,
                    "the plan \"list\" needs the key `list`",
                    "this plan",
                    "such as list = \"runs.csv\"",
                );
                return None;
            };
            PlanKind::List { file }
        }
        other => {
            let near = study::nearest(other, &PLANS);
            let hint = near.map_or_else(plans, |near| format!("did you mean \"{near}\"?"));
            reader.problem(span, format!("there is no plan \"{other}\""), "unknown plan", hint);
            return None;
        }
    })
}

/// Keys that say nothing to this plan, and those that it cannot do without.
fn only_with(reader: &mut Reader<'_>, head: &Placed<'_, '_>, plan: &PlanKind) {
    let wanted: &[&str] = match plan {
        PlanKind::Sobol | PlanKind::LatinHypercube => &["runs"],
        PlanKind::List { .. } => &["list"],
        PlanKind::Indices { .. } => &["base_rows"],
        PlanKind::Screening { .. } => &["trajectories", "levels"],
        PlanKind::Grid | PlanKind::OneAtATime => &[],
    };
    for key in ["runs", "list", "base_rows", "trajectories", "levels"] {
        if let Some(value) = head.0.get(key).filter(|_| !wanted.contains(&key)) {
            let message = format!("`{key}` says nothing to this plan");
            reader.problem(
                value.span(),
                message,
                "not used",
                "leave it out: the plan makes the number of its runs itself",
            );
        }
    }
    if wanted == ["runs"] && !head.0.contains_key("runs") {
        let span = head.1.clone();
        reader.problem(
            span,
            "[sweep] lacks the key `runs`",
            "this table",
            "such as runs = 4096; a power of two is best",
        );
    }
}

/// Annual figures are all that a sweep keeps.
fn keep(reader: &mut Reader<'_>, head: &Placed<'_, '_>) {
    let Some(value) = head.0.get("keep") else { return };
    let is_annual = value.get_ref().as_array().is_some_and(|list| {
        list.len() == 1 && list.iter().all(|item| item.get_ref().as_str() == Some("annual"))
    });
    if !is_annual {
        let hint = "write keep = [\"annual\"]; the hours of one house are what `dewledger run` is for";
        reader.problem(value.span(), "a sweep keeps annual figures alone", "not these", hint);
    }
}

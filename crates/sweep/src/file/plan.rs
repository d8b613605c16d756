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

impl PlanKind {
    /// Its name in a sweep file.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Sobol => "sobol",
            Self::LatinHypercube => "latin-hypercube",
            Self::Grid => "grid",
            Self::List { .. } => "list",
            Self::OneAtATime => "one-at-a-time",
            Self::Indices { .. } => "indices",
            Self::Screening { .. } => "screening",
        }
    }

    /// Whether its runs stand for the cases that the distributions tell of, so that their percentiles mean something.
    pub fn spreads(&self) -> bool {
        Self::spreads_by_name(self.name())
    }

    /// The same of a plan's name.
    pub fn spreads_by_name(name: &str) -> bool {
        !matches!(name, "one-at-a-time" | "screening")
    }
}

/// What the table says.
pub(super) struct Head {
    pub study: String,
    pub plan: PlanKind,
    pub runs: Option<u64>,
    pub seed: u64,
    pub part: u64,
    pub equal_air: bool,
    pub hourly_runs: Vec<u64>,
}

pub(super) const KEYS: [&str; 12] = [
    "study",
    "plan",
    "runs",
    "seed",
    "keep",
    "hourly_runs",
    "equal_air",
    "part",
    "list",
    "base_rows",
    "trajectories",
    "levels",
];
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
    let hourly_runs = hourly_runs(reader, head);
    let equal_air = equal_air(reader, head);
    let plan = plan(reader, head);
    let plan = plan?;
    only_with(reader, head, &plan);
    Some(Head { study: study?, plan, runs, seed, part, equal_air, hourly_runs })
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

/// Runs whose hours are kept beside the annual figures, in rising order.
fn hourly_runs(reader: &mut Reader<'_>, head: &Placed<'_, '_>) -> Vec<u64> {
    const HINT: &str = "keep = [\"annual\"], or keep = [\"annual\", \"hourly\"] with hourly_runs = [0, 17] for the hours of runs 0 and 17";
    let keeps_hours = head.0.get("keep").map(|value| {
        let words = value.get_ref().as_array().map(|list| {
            let mut words: Vec<&str> = list.iter().filter_map(|item| item.get_ref().as_str()).collect();
            words.sort_unstable();
            (words, list.len())
        });
        match words {
            Some((words, 1)) if words == ["annual"] => false,
            Some((words, 2)) if words == ["annual", "hourly"] => true,
            _ => {
                let message = "`keep` names what is kept: annual figures, and the hours of chosen runs";
                reader.problem(value.span(), message, "not these", HINT);
                false
            }
        }
    });
    let Some(value) = head.0.get("hourly_runs") else {
        if keeps_hours == Some(true) {
            let span = head.0.get("keep").map_or(head.1.clone(), toml::Spanned::span);
            reader.problem(span, "`hourly` is kept of no run", "without `hourly_runs`", HINT);
        }
        return Vec::new();
    };
    let whole = |item: &toml::Spanned<toml::de::DeValue<'_>>| {
        item.get_ref().as_integer().and_then(|number| number.as_str().parse::<u64>().ok())
    };
    let numbers: Option<Vec<u64>> =
        value.get_ref().as_array().and_then(|list| list.iter().map(whole).collect());
    match numbers {
        Some(mut numbers) if !numbers.is_empty() && keeps_hours == Some(true) => {
            numbers.sort_unstable();
            numbers.dedup();
            numbers
        }
        Some(numbers) if !numbers.is_empty() => {
            reader.problem(value.span(), "`hourly_runs` without `hourly` in `keep`", "not used", HINT);
            Vec::new()
        }
        _ => {
            let message = "`hourly_runs` must be a list of numbers of runs, counted from 0";
            reader.problem(value.span(), message, "not such a list", HINT);
            Vec::new()
        }
    }
}

fn equal_air(reader: &mut Reader<'_>, head: &Placed<'_, '_>) -> bool {
    let Some(value) = head.0.get("equal_air") else { return true };
    value.get_ref().as_bool().unwrap_or_else(|| {
        let hint =
            "true: a unit that misses outdoor air is run once more with that air made up; false: it is not";
        reader.problem(value.span(), "`equal_air` must be true or false", "neither", hint);
        true
    })
}

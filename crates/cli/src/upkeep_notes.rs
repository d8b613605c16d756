//! What a run says of upkeep: when filters and core are due, and what a year without it costs.
//!
//! Not here: what filters and a fouled core do in an hour (`simulation`).

use rayon::prelude::*;
use reporting::calendar::MONTHS;
use reporting::{Figure, RunSummary, SummaryBasis};
use simulation::Variant;
use study::build::Built;
use weather::calendar::Calendar;

use crate::failure::Failure;

const HOURS_A_DAY: f64 = 24.0;

/// A sentence for each unit with filters that load or a core that is washed; it is run once more without either.
///
/// # Errors
/// [`Failure`] when that run fails.
pub(crate) fn of(built: &Built, summary: &RunSummary) -> Result<Vec<String>, Failure> {
    let kept: Vec<_> = built
        .units
        .iter()
        .filter(|(_, variant)| variant.frost.filters.is_some() || variant.frost.washing.is_some())
        .collect();
    kept.par_iter().map(|(name, variant)| sentence(built, summary, (name.as_str(), variant))).collect()
}

fn sentence(
    built: &Built,
    summary: &RunSummary,
    (name, variant): (&str, &Variant),
) -> Result<String, Failure> {
    let neglected = Variant { frost: variant.frost.neglected(), ..*variant };
    let years =
        simulation::run_pair(name, &neglected, &built.drivers, built.options).map_err(Failure::work)?;
    let without = RunSummary::new(&years, &SummaryBasis::default()).map_err(Failure::work)?;
    let figure = |summary: &RunSummary, figure| {
        let row = summary.find(name, simulation::results::Case::Unit);
        row.and_then(|row| row.year(figure).value()).unwrap_or(0.0)
    };
    let lost = |which| figure(summary, which) - figure(&without, which);
    let saving = lost(Figure::UsefulSavingKwh);
    let saving = if saving >= 0.0 {
        format!("saves {:.0} kWh less", saving + 0.0)
    } else {
        format!("saves {:.0} kWh more, since it moves less air", -saving)
    };
    Ok(format!(
        "{name}, upkeep: {}. Skipped for a year it {saving}, its fans take {:.0} kWh {}, and {:.0} m³ more outdoor air are missed.",
        dates(&variant.frost, built.drivers.hours().len()),
        lost(Figure::FanKwh).abs(),
        if lost(Figure::FanKwh) <= 0.0 { "more" } else { "less" },
        (-lost(Figure::MissedAirM3)).max(0.0) + 0.0,
    ))
}

/// The year's dates, in words.
fn dates(plan: &simulation::FrostPlan, hours: usize) -> String {
    let calendar = Calendar::of_hours(hours);
    let day = |hour: f64| {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "an hour of the year")]
        let stamp = calendar.stamp((hour.max(0.0) as usize).min(hours.saturating_sub(1)));
        format!("{} {}", stamp.day, MONTHS[usize::from(stamp.month - 1) % MONTHS.len()])
    };
    let mut parts = Vec::new();
    if let Some(filters) = plan.filters {
        let mut on = Vec::new();
        let mut at_d = 0.0;
        while at_d * HOURS_A_DAY < hours as f64 {
            on.push(day(at_d * HOURS_A_DAY));
            at_d += filters.interval_d;
        }
        parts.push(match on.len() {
            1..=6 => format!("new filters on {}", on.join(", ")),
            count => format!("new filters {count} times a year"),
        });
    }
    if let Some(washing) = plan.washing {
        parts.push(format!("core out for washing on {}, for {:.0} h", day(washing.at_h), washing.out_h));
    }
    parts.join("; ")
}

//! Which unit the first page is about, and on what ground.
//!
//! Not here: limits and present values (`economics`), which have been judged before.

use economics::verdict::{Overall, VerdictError};
use reporting::{Figure, RunSummary};
use simulation::results::Case;

use super::Ingredients;

/// The unit that the first page tells of.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lead {
    /// Its name.
    pub(super) unit: String,
    /// Why it.
    pub(super) ground: Ground,
}

/// On what ground a unit leads.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Ground {
    /// Recommended by limits and money.
    Recommended,
    /// Best of several that cannot be told apart.
    NoWinner,
    /// Best by energy, though every unit breaks a limit.
    NoneFits,
    /// Best of those that are not worth their cost.
    NoneWorth,
    /// Best by energy; money was not reckoned.
    ByEnergy,
    /// Best by energy; money could not be compared, for this reason.
    NotCompared(VerdictError),
}

/// Which case of a unit is compared at equal air.
pub(super) fn at_equal_air(summary: &RunSummary, unit: &str) -> Case {
    if summary.find(unit, Case::UnitHeld).is_some() { Case::UnitHeld } else { Case::Unit }
}

/// Units by saving at equal air, best first.
pub(super) fn by_saving(summary: &RunSummary) -> Vec<(String, f64)> {
    let units = summary.rows.iter().filter(|row| row.case == Case::Unit);
    let mut ranked: Vec<(String, f64)> = units
        .filter_map(|row| {
            let equal = summary.find(&row.unit, at_equal_air(summary, &row.unit))?;
            Some((row.unit.clone(), equal.year(Figure::UsefulSavingKwh).value()?))
        })
        .collect();
    ranked.sort_by(|a, b| b.1.total_cmp(&a.1));
    ranked
}

pub(super) fn lead(given: &Ingredients<'_>) -> Lead {
    let best = || by_saving(given.summary).into_iter().next().map_or_else(String::new, |(unit, _)| unit);
    let judgement = given.money.and_then(|money| money.judgement.as_ref());
    let is_unit = |name: &&String| given.study.units.iter().any(|unit| unit.name == **name);
    match judgement {
        None => Lead { unit: best(), ground: Ground::ByEnergy },
        Some(Err(reason)) => Lead { unit: best(), ground: Ground::NotCompared(reason.clone()) },
        Some(Ok(judgement)) => match &judgement.overall {
            Overall::Recommended { name } if is_unit(&name) => {
                Lead { unit: name.clone(), ground: Ground::Recommended }
            }
            Overall::NoClearWinner { names, .. } => {
                let unit = names.iter().find(is_unit).cloned().unwrap_or_else(best);
                Lead { unit, ground: Ground::NoWinner }
            }
            Overall::NoneFits => Lead { unit: best(), ground: Ground::NoneFits },
            Overall::NoneWorthIt { best, .. } => Lead { unit: best.clone(), ground: Ground::NoneWorth },
            Overall::Recommended { .. } => Lead { unit: best(), ground: Ground::NoneWorth },
        },
    }
}

//! Every house-year of a study, on all threads.
//!
//! Not here: what happens in a year (`simulation`), what is made of it (`reporting`).

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, OnceLock, PoisonError};

use simulation::RunError;
use simulation::results::{Case, HouseYear};
use study::build::Built;

use crate::failure::Failure;

/// Years that one thread runs side by side; the number is the unit's place in the study.
#[derive(Debug, Clone, Copy)]
enum Job {
    NoVentilation,
    /// A unit with the houses that it is compared with.
    Unit(usize),
}

impl Job {
    fn run(self, built: &Built) -> Result<Vec<HouseYear>, RunError> {
        let (drivers, options) = (&built.drivers, built.options);
        match self {
            Self::NoVentilation => {
                simulation::run_no_ventilation(&built.house, drivers, options).map(|year| vec![year])
            }
            Self::Unit(place) => {
                let (name, variant) = built.units.get(place).ok_or(RunError::Nothing)?;
                simulation::run_compared(name, variant, drivers, options)
            }
        }
    }
}

/// Every house-year of the study: no ventilation first, then each unit with its baselines, in the study's order, then those that
/// miss outdoor air once more with their air held.
pub(crate) fn house_years(built: &Built) -> Result<Vec<HouseYear>, Failure> {
    house_years_and(built, |_| Ok(()), |years| Ok(years.to_vec()))
}

/// The same, with what is made of each year as soon as it has been run, and of all of them once the last one has: `each` leaves what
/// it has to do to whichever thread is free, also while `all` runs. Of several faults, that of a year which could not be run is told, then
/// the first of `each` in the order of the years, then that of `all`.
pub(crate) fn house_years_and<T: Send + Sync>(
    built: &Built,
    each: impl Fn(&HouseYear) -> Result<(), Failure> + Sync,
    all: impl FnOnce(&[HouseYear]) -> Result<T, Failure> + Send,
) -> Result<T, Failure> {
    let units = built.units.len();
    let jobs = std::iter::once(Job::NoVentilation).chain((0..units).map(Job::Unit));
    let slots: Vec<Slot> = jobs.map(Slot::new).collect();
    let left = AtomicUsize::new(slots.len());
    let (all, made) = (Mutex::new(Some(all)), OnceLock::new());
    rayon::scope_fifo(|scope| {
        // The shortest last: threads then end more nearly together.
        for slot in slots.iter().skip(1).chain(slots.first()) {
            let (slots, left, each, all, made) = (&slots, &left, &each, &all, &made);
            scope.spawn_fifo(move |scope| {
                let years = slot.years.get_or_init(|| slot.job.run(built).map_err(fault));
                for (place, year) in years.iter().flatten().enumerate() {
                    scope.spawn_fifo(move |_| slot.keep_fault(place, each(year)));
                }
                if left.fetch_sub(1, Ordering::AcqRel) == 1
                    && let (Some(years), Some(all)) = (in_order(slots), taken(all))
                {
                    made.get_or_init(|| all(&years));
                }
            });
        }
    });
    let (ran, faults): (Vec<_>, Vec<_>) =
        slots.into_iter().map(|slot| (slot.years.into_inner(), slot.fault.into_inner())).unzip();
    for years in ran {
        years.transpose()?;
    }
    for fault in faults {
        fault.unwrap_or_else(PoisonError::into_inner).map_or(Ok(()), |(_, fault)| Err(fault))?;
    }
    made.into_inner()
        .unwrap_or_else(|| Err(Failure::work("the years were run, and nothing was made of them")))
}

/// Where what comes out of a job is put.
struct Slot {
    job: Job,
    years: OnceLock<Result<Vec<HouseYear>, Failure>>,
    /// The fault of what was made of one of its years, with that year's place: the first in their order.
    fault: Mutex<Option<(usize, Failure)>>,
}

impl Slot {
    fn new(job: Job) -> Self {
        Self { job, years: OnceLock::new(), fault: Mutex::new(None) }
    }

    fn keep_fault(&self, place: usize, made: Result<(), Failure>) {
        let Err(fault) = made else { return };
        let mut kept = self.fault.lock().unwrap_or_else(PoisonError::into_inner);
        if kept.as_ref().is_none_or(|(first, _)| place < *first) {
            *kept = Some((place, fault));
        }
    }
}

/// The years of all jobs, which have ended; `None` where one failed.
fn in_order(slots: &[Slot]) -> Option<Vec<HouseYear>> {
    let (mut done, mut held) = (Vec::new(), Vec::new());
    for slot in slots {
        for year in slot.years.get()?.as_ref().ok()? {
            let is_held = matches!(year.case, Case::UnitHeld | Case::NoRecoveryHeld);
            if is_held { held.push(year.clone()) } else { done.push(year.clone()) }
        }
    }
    done.extend(held);
    Some(done)
}

fn taken<T>(once: &Mutex<Option<T>>) -> Option<T> {
    once.lock().unwrap_or_else(PoisonError::into_inner).take()
}

/// A year that could not be run to its end.
pub(crate) fn fault(cause: RunError) -> Failure {
    Failure::work(cause).hint("this is a fault of the program, not of the study; please report it")
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::sync::atomic::AtomicBool;

    use simulation::{Line, Tamper};

    use super::*;
    use crate::run::prepare;

    /// The demonstration with its first unit, which misses some air.
    fn built() -> Built {
        let mut built = prepare(None).unwrap().built;
        built.units.truncate(1);
        built
    }

    fn told(result: Result<(), Failure>) -> String {
        result.unwrap_err().to_string()
    }

    #[test]
    fn each_sees_every_year_once_and_all_sees_them_in_order() {
        let seen = Mutex::new(Vec::new());
        let each = |year: &HouseYear| {
            seen.lock().unwrap().push(year.case);
            Ok(())
        };
        let all = |years: &[HouseYear]| Ok(years.iter().map(|year| year.case).collect::<Vec<_>>());
        let cases = house_years_and(&built(), each, all).unwrap();
        let expected = [
            Case::NoVentilation,
            Case::Unit,
            Case::NoRecovery,
            Case::ExtractOnly,
            Case::UnitHeld,
            Case::NoRecoveryHeld,
        ];
        assert_eq!(cases, expected);
        let mut seen = seen.into_inner().unwrap();
        seen.sort();
        let mut expected = expected.to_vec();
        expected.sort();
        assert_eq!(seen, expected);
    }

    #[test]
    fn the_first_fault_of_each_comes_before_that_of_all() {
        let faulty = |year: &HouseYear| match year.case {
            Case::NoRecovery | Case::ExtractOnly | Case::NoRecoveryHeld => {
                Err(Failure::input(format!("{:?}", year.case)))
            }
            _ => Ok(()),
        };
        let all_fails = |_: &[HouseYear]| Err::<(), _>(Failure::input("all"));
        assert_eq!(told(house_years_and(&built(), faulty, all_fails)), "error: NoRecovery");
        assert_eq!(told(house_years_and(&built(), |_| Ok(()), all_fails)), "error: all");
        assert_eq!(told(house_years_and(&built(), faulty, |_| Ok(()))), "error: NoRecovery");
    }

    #[test]
    fn nothing_is_made_of_all_where_a_year_could_not_be_run() {
        let mut built = built();
        built.options.tamper = Some(Tamper { line: Line::People, factor: 1.001 });
        let was_called = AtomicBool::new(false);
        let all = |_: &[HouseYear]| {
            was_called.store(true, Ordering::Relaxed);
            Ok(())
        };
        let faulty = |_: &HouseYear| Err(Failure::input("each"));
        assert!(told(house_years_and(&built, faulty, all)).contains("book does not close"));
        assert!(!was_called.load(Ordering::Relaxed));
    }
}

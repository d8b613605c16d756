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
/// it has to do to whichever thread is free, also while `all` runs. A fault of `each` comes before one of `all`.
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
                for year in years.iter().flatten() {
                    scope.spawn_fifo(move |_| slot.keep_fault(each(year)));
                }
                if left.fetch_sub(1, Ordering::AcqRel) == 1
                    && let (Some(years), Some(all)) = (in_order(slots), taken(all))
                {
                    made.get_or_init(|| all(&years));
                }
            });
        }
    });
    for slot in slots {
        slot.years.into_inner().transpose()?;
        slot.fault.into_inner().unwrap_or_else(PoisonError::into_inner).map_or(Ok(()), Err)?;
    }
    made.into_inner()
        .unwrap_or_else(|| Err(Failure::work("the years were run, and nothing was made of them")))
}

/// Where what comes out of a job is put.
struct Slot {
    job: Job,
    years: OnceLock<Result<Vec<HouseYear>, Failure>>,
    /// The first fault of what was made of one of its years.
    fault: Mutex<Option<Failure>>,
}

impl Slot {
    fn new(job: Job) -> Self {
        Self { job, years: OnceLock::new(), fault: Mutex::new(None) }
    }

    fn keep_fault(&self, made: Result<(), Failure>) {
        if let Err(fault) = made {
            self.fault.lock().unwrap_or_else(PoisonError::into_inner).get_or_insert(fault);
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

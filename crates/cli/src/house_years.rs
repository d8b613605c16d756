//! Every house-year of a study, on all threads.
//!
//! Not here: what happens in a year (`simulation`), what is made of it (`reporting`).

use std::sync::OnceLock;

use rayon::prelude::*;

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

/// Where what comes out of a job is put.
struct Slot<T> {
    job: Job,
    years: OnceLock<Result<Vec<HouseYear>, RunError>>,
    also: OnceLock<Vec<T>>,
}

/// Every house-year of the study: no ventilation first, then each unit with its baselines, in the study's order, then those that
/// miss outdoor air once more with their air held. With each comes what `also` makes of it, while other years still run.
pub(crate) fn house_years<T: Send + Sync>(
    built: &Built,
    also: impl Fn(&HouseYear) -> T + Sync,
) -> Result<Vec<(HouseYear, T)>, Failure> {
    let units = built.units.len();
    let jobs = std::iter::once(Job::NoVentilation).chain((0..units).map(Job::Unit));
    let slots: Vec<Slot<T>> =
        jobs.map(|job| Slot { job, years: OnceLock::new(), also: OnceLock::new() }).collect();
    rayon::scope_fifo(|scope| {
        // The shortest last: threads then end more nearly together.
        for slot in slots.iter().skip(1).chain(slots.first()) {
            let also = &also;
            scope.spawn_fifo(move |scope| {
                // What follows from the years is left to whichever thread is free.
                if let Ok(years) = slot.years.get_or_init(|| slot.job.run(built)) {
                    scope.spawn_fifo(move |_| {
                        slot.also.get_or_init(|| years.par_iter().map(also).collect());
                    });
                }
            });
        }
    });
    let (mut done, mut held) = (Vec::new(), Vec::new());
    for slot in slots {
        let years = slot.years.into_inner().transpose().map_err(fault)?.unwrap_or_default();
        let each = years.into_iter().zip(slot.also.into_inner().unwrap_or_default());
        let (of_held, as_run): (Vec<_>, Vec<_>) =
            each.partition(|(year, _)| matches!(year.case, Case::UnitHeld | Case::NoRecoveryHeld));
        done.extend(as_run);
        held.extend(of_held);
    }
    done.extend(held);
    Ok(done)
}

/// A year that could not be run to its end.
pub(crate) fn fault(cause: RunError) -> Failure {
    Failure::work(cause).hint("this is a fault of the program, not of the study; please report it")
}

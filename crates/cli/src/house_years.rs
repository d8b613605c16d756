//! Every house-year of a study, on all threads.
//!
//! Not here: what happens in a year (`simulation`), what is made of it (`reporting`).

use std::sync::OnceLock;

use rayon::prelude::*;

use simulation::RunError;
use simulation::counts::MISSED_KG;
use simulation::results::HouseYear;
use study::build::Built;

use crate::failure::Failure;

/// Years that one thread runs one after the other; the number is the unit's place in the study.
#[derive(Debug, Clone, Copy)]
enum Job {
    NoVentilation,
    /// A unit with its baselines.
    Unit(usize),
    /// A unit that missed outdoor air once more, with that air made up.
    Held(usize),
}

impl Job {
    fn run(self, built: &Built) -> Result<Vec<HouseYear>, RunError> {
        let unit = |place: usize| built.units.get(place).ok_or(RunError::Nothing);
        let (drivers, options) = (&built.drivers, built.options);
        match self {
            Self::NoVentilation => {
                simulation::run_no_ventilation(&built.house, drivers, options).map(|year| vec![year])
            }
            Self::Unit(place) => {
                let (name, variant) = unit(place)?;
                simulation::run_with_baselines(name, variant, drivers, options).map(Vec::from)
            }
            Self::Held(place) => {
                let (name, variant) = unit(place)?;
                simulation::run_held_pair(name, variant, drivers, options).map(Vec::from)
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

/// Jobs in the order of the results, and what is made of their years.
struct Work<'a, T, F> {
    built: &'a Built,
    also: F,
    slots: Vec<Slot<T>>,
}

impl<T: Send + Sync, F: Fn(&HouseYear) -> T + Sync> Work<'_, T, F> {
    /// Runs a job, and leaves what follows from it to whichever thread is free.
    fn run<'s>(&'s self, scope: &rayon::ScopeFifo<'s>, place: usize) {
        let Some(slot) = self.slots.get(place) else { return };
        let years = slot.years.get_or_init(|| slot.job.run(self.built));
        let Ok(years) = years else { return };
        if let Job::Unit(unit) = slot.job
            && years.first().is_some_and(misses_air)
        {
            scope.spawn_fifo(move |scope| self.run(scope, 1 + self.built.units.len() + unit));
        }
        scope.spawn_fifo(move |_| {
            slot.also.get_or_init(|| years.par_iter().map(&self.also).collect());
        });
    }
}

/// Every house-year of the study: no ventilation first, then each unit with its baselines, in the study's order, then those that
/// miss outdoor air once more with their air held. With each comes what `also` makes of it, while other years still run.
pub(crate) fn house_years<T: Send + Sync>(
    built: &Built,
    also: impl Fn(&HouseYear) -> T + Sync,
) -> Result<Vec<(HouseYear, T)>, Failure> {
    let units = 0..built.units.len();
    let jobs =
        std::iter::once(Job::NoVentilation).chain(units.clone().map(Job::Unit)).chain(units.map(Job::Held));
    let slots = jobs.map(|job| Slot { job, years: OnceLock::new(), also: OnceLock::new() }).collect();
    let work = Work { built, also, slots };
    rayon::scope_fifo(|scope| {
        // The shortest last: threads then end more nearly together.
        for place in (1..=built.units.len()).chain([0]) {
            let work = &work;
            scope.spawn_fifo(move |scope| work.run(scope, place));
        }
    });
    let mut done = Vec::new();
    for slot in work.slots {
        let years = slot.years.into_inner().transpose().map_err(fault)?.unwrap_or_default();
        done.extend(years.into_iter().zip(slot.also.into_inner().unwrap_or_default()));
    }
    Ok(done)
}

/// A year that could not be run to its end.
pub(crate) fn fault(cause: RunError) -> Failure {
    Failure::work(cause).hint("this is a fault of the program, not of the study; please report it")
}

/// Whether a unit missed outdoor air, so that it is run once more with that air made up.
pub(crate) fn misses_air(unit: &HouseYear) -> bool {
    unit.hourly.missed_outdoor_air_kg.iter().any(|kg| *kg > MISSED_KG)
}

//! Every house-year of a study, on all threads.
//!
//! Not here: what happens in a year (`simulation`), what is made of it (`reporting`).

use std::cmp::Reverse;
use std::sync::{Mutex, OnceLock, PoisonError};

use rayon::prelude::*;

use simulation::RunError;
use simulation::counts::MISSED_KG;
use simulation::results::HouseYear;
use study::build::Built;

use crate::failure::Failure;

/// Years that one thread runs; the number is the unit's place in the study.
#[derive(Debug, Clone, Copy)]
enum Job {
    NoVentilation,
    /// A unit with its baselines.
    Unit(usize),
    /// A unit that missed outdoor air once more, with that air made up.
    Held(usize),
}

impl Job {
    /// House-years in it.
    fn size(self) -> u8 {
        match self {
            Self::NoVentilation => 1,
            Self::Held(_) => 2,
            Self::Unit(_) => 3,
        }
    }

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

/// What a thread does next; the number is the place of a job.
#[derive(Debug, Clone, Copy)]
enum Task {
    Run(usize),
    /// What is made of each of its years.
    Also(usize),
}

/// What waits to be done.
struct Waiting<'a> {
    jobs: &'a [Job],
    tasks: Mutex<Vec<Task>>,
}

impl Waiting<'_> {
    /// The first of the largest tasks: threads then end nearly together. `None` where nothing waits; what a running job may still
    /// ask for is done by its own thread at the latest.
    fn take(&self) -> Option<Task> {
        let mut tasks = self.tasks.lock().unwrap_or_else(PoisonError::into_inner);
        let (place, _) = tasks.iter().enumerate().min_by_key(|(_, task)| Reverse(self.size(**task)))?;
        Some(tasks.remove(place))
    }

    fn size(&self, task: Task) -> u8 {
        match task {
            Task::Run(place) => self.jobs.get(place).map_or(0, |job| job.size()),
            Task::Also(_) => 0,
        }
    }

    fn add(&self, task: Task) {
        self.tasks.lock().unwrap_or_else(PoisonError::into_inner).push(task);
    }
}

/// What came out of a job.
struct Outcome<T> {
    years: OnceLock<Result<Vec<HouseYear>, RunError>>,
    also: OnceLock<Vec<T>>,
}

/// Every house-year of the study: no ventilation first, then each unit with its baselines, in the study's order, then those that
/// miss outdoor air once more with their air held. Beside each what `also` makes of it: threads do that while others still run.
pub(crate) fn house_years<T: Send + Sync>(
    built: &Built,
    also: impl Fn(&HouseYear) -> T + Sync,
) -> Result<(Vec<HouseYear>, Vec<T>), Failure> {
    let count = built.units.len();
    let held = (0..count).map(Job::Held);
    let jobs: Vec<Job> =
        std::iter::once(Job::NoVentilation).chain((0..count).map(Job::Unit)).chain(held).collect();
    let outcomes: Vec<Outcome<T>> =
        jobs.iter().map(|_| Outcome { years: OnceLock::new(), also: OnceLock::new() }).collect();
    let waiting = Waiting { jobs: &jobs, tasks: Mutex::new((0..=count).map(Task::Run).collect()) };
    let run = |place: usize| {
        let (Some(job), Some(outcome)) = (jobs.get(place), outcomes.get(place)) else { return };
        let years = outcome.years.get_or_init(|| job.run(built));
        let misses = years.as_ref().is_ok_and(|years| years.first().is_some_and(misses_air));
        if misses && let Job::Unit(unit) = job {
            waiting.add(Task::Run(1 + count + unit));
        }
        waiting.add(Task::Also(place));
    };
    let make = |place: usize| {
        let Some(outcome) = outcomes.get(place) else { return };
        if let Some(Ok(years)) = outcome.years.get() {
            outcome.also.get_or_init(|| years.par_iter().map(&also).collect());
        }
    };
    let threads = rayon::current_num_threads();
    (0..threads).into_par_iter().for_each(|_| {
        while let Some(task) = waiting.take() {
            match task {
                Task::Run(place) => run(place),
                Task::Also(place) => make(place),
            }
        }
    });
    let (mut years, mut made) = (Vec::new(), Vec::new());
    for outcome in outcomes {
        years.extend(outcome.years.into_inner().transpose().map_err(fault)?.into_iter().flatten());
        made.extend(outcome.also.into_inner().into_iter().flatten());
    }
    Ok((years, made))
}

/// A year that could not be run to its end.
pub(crate) fn fault(cause: RunError) -> Failure {
    Failure::work(cause).hint("this is a fault of the program, not of the study; please report it")
}

/// Whether a unit missed outdoor air, so that it is run once more with that air made up.
pub(crate) fn misses_air(unit: &HouseYear) -> bool {
    unit.hourly.missed_outdoor_air_kg.iter().any(|kg| *kg > MISSED_KG)
}

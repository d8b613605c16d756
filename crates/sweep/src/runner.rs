//! Runs a part of a sweep: studies are made, houses of one kind go side by side in rows, and each row of the data set is
//! what its run alone would give.
//!
//! Not here: what a year does (`simulation`), how rows are written (`columns.rs`, `folder.rs`).

use std::collections::BTreeMap;
use std::sync::Arc;

use lanes::Width;
use rayon::prelude::*;
use simulation::{Drivers, RunError, RunOptions, Totals, Variant};
use study::vary::{Change, Template};
use study::{Study, build};
use weather::WeatherYear;

use crate::cache::Cache;
use crate::money::{self, PairMoney};
use crate::sweep::{Shown, Sweep};

/// Houses that go side by side.
const ROW: usize = 8;
const ROW_WIDTH: Width = Width::Eight;
/// Weather years kept, 0.9 MB each.
const YEARS_KEPT: usize = 32;
/// Drivers kept, 1.9 MB each.
const DRIVERS_KEPT: usize = 32;

/// A row of the data set: a unit in a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The run, counted from 0.
    pub run: u64,
    /// The unit's name.
    pub unit: String,
    /// What the run changed; empty where even that could not be made.
    pub inputs: Arc<Vec<Shown>>,
    /// What came out, or why nothing did.
    pub outcome: Result<Outcome, String>,
}

/// What a pair of house-years came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outcome {
    /// Sums of the year with the unit.
    pub unit: Totals<f64>,
    /// Sums of the year without recovery.
    pub no_recovery: Totals<f64>,
    /// Hours of the year.
    pub hours: usize,
    /// Money, where the study has flat prices.
    pub money: Option<PairMoney>,
}

/// Runs parts of a sweep, one after the other, sharing weather and drivers.
#[derive(Debug)]
pub struct Runner<'s> {
    sweep: &'s Sweep,
    template: Template<'s>,
    years: Cache<WeatherYear>,
    drivers: Cache<Drivers>,
}

/// A unit of a run, ready to go.
struct Ready {
    /// What its neighbours in a row must have alike.
    kind: String,
    driver_key: String,
    study: Arc<Study>,
    year: Arc<WeatherYear>,
    place: usize,
    variant: Variant,
    options: RunOptions,
}

impl<'s> Runner<'s> {
    /// Makes ready to run parts.
    ///
    /// # Errors
    /// [`study::Problems`], which opening the sweep has found before.
    pub fn new(sweep: &'s Sweep) -> Result<Self, study::Problems> {
        let (years, drivers) = (Cache::new(YEARS_KEPT), Cache::new(DRIVERS_KEPT));
        Ok(Self { sweep, template: sweep.template()?, years, drivers })
    }

    /// Every row of a part, by run and then by unit; it depends on nothing but the sweep and the part.
    pub fn rows_of(&self, part: u64) -> Vec<Row> {
        let runs: Vec<u64> = self.sweep.runs_of(part).collect();
        let made: Vec<Made> = runs.par_iter().map(|run| self.make(*run)).collect();
        let (mut rows, mut ready) = (Vec::new(), Vec::new());
        for (run, Made { inputs, units }) in runs.into_iter().zip(made) {
            for (unit, outcome) in units {
                let reason = match outcome {
                    Ok(one) => {
                        ready.push((rows.len(), one));
                        String::new()
                    }
                    Err(reason) => reason,
                };
                rows.push(Row { run, unit, inputs: Arc::clone(&inputs), outcome: Err(reason) });
            }
        }
        for (place, outcome) in self.run(&ready) {
            if let Some(row) = rows.get_mut(place) {
                row.outcome = outcome;
            }
        }
        rows
    }

    fn make(&self, run: u64) -> Made {
        let failed = |inputs: Vec<Shown>, reason: &str| {
            let units = self.sweep.base.units.iter().map(|unit| (unit.name.clone(), Err(reason.to_owned())));
            Made { inputs: Arc::new(inputs), units: units.collect() }
        };
        let taken = match self.sweep.changes(run) {
            Ok(taken) => taken,
            Err(reason) => return failed(Vec::new(), &reason),
        };
        let (changes, shown): (Vec<Change>, Vec<Shown>) =
            taken.into_iter().map(|taken| (taken.change, taken.shown)).unzip();
        match self.units(&changes) {
            Ok(units) => Made { inputs: Arc::new(shown), units },
            Err(reason) => failed(shown, &reason),
        }
    }

    /// Every unit of the study so changed.
    fn units(&self, changes: &[Change]) -> Result<Vec<UnitMade>, String> {
        let study = Arc::new(self.template.with(changes).map_err(|cause| cause.to_string())?);
        let overrides = build::overrides(&study);
        let year_key = format!("{} {overrides:?}", study.site.weather);
        let year = self.years.get(&year_key, || {
            let name = &study.site.weather;
            let bytes = self.sweep.weather(name).ok_or_else(|| format!("{name}: was not read"))?;
            let read = weather::read(bytes, &overrides).map_err(|cause| format!("{name}: {cause}"))?;
            Ok(read.0)
        })?;
        let numbers = build::numbers(&study, &year).map_err(|cause| cause.to_string())?;
        let driver_key = format!("{year_key} {}", build::driver_key(&study));
        let options = numbers.options;
        let ready = |(place, (name, variant)): (usize, (String, Variant))| {
            let kind = format!("{:?} {:?} {}", variant.core, variant.frost.kind(), options.lead_in_hours);
            let (study, year, driver_key) = (Arc::clone(&study), Arc::clone(&year), driver_key.clone());
            (name, Ok(Ready { kind, driver_key, study, year, place, variant, options }))
        };
        Ok(numbers.units.into_iter().enumerate().map(ready).collect())
    }

    fn run(&self, ready: &[(usize, Ready)]) -> Vec<(usize, Result<Outcome, String>)> {
        let mut groups: BTreeMap<(&str, &str), Vec<&(usize, Ready)>> = BTreeMap::new();
        for one in ready {
            groups.entry((&one.1.driver_key, &one.1.kind)).or_default().push(one);
        }
        let rows: Vec<&[&(usize, Ready)]> = groups.values().flat_map(|group| group.chunks(ROW)).collect();
        rows.par_iter().flat_map_iter(|row| self.run_row(row)).collect()
    }

    fn run_row(&self, row: &[&(usize, Ready)]) -> Vec<(usize, Result<Outcome, String>)> {
        let Some((_, first)) = row.first() else { return Vec::new() };
        let make = || build::drivers(&first.study, &first.year).map_err(|cause| cause.to_string());
        let drivers = match self.drivers.get(&first.driver_key, make) {
            Ok(drivers) => drivers,
            Err(reason) => return row.iter().map(|(place, _)| (*place, Err(reason.clone()))).collect(),
        };
        let variants: Vec<Variant> = row.iter().map(|(_, ready)| ready.variant).collect();
        if let Ok(totals) = totals(&variants, &drivers, first.options) {
            let pairs = row.iter().zip(totals);
            return pairs.map(|((place, ready), pair)| (*place, outcome(ready, &pair, &drivers))).collect();
        }
        // One of them cannot be run; the others can.
        let alone = |(place, ready): &&(usize, Ready)| {
            let found = totals(&[ready.variant], &drivers, ready.options);
            let pair = found.and_then(|pairs| pairs.into_iter().next().ok_or(RunError::Nothing));
            (*place, pair.map_err(|cause| cause.to_string()).and_then(|pair| outcome(ready, &pair, &drivers)))
        };
        row.iter().map(alone).collect()
    }
}

/// A unit by its name: ready to run, or why it cannot be run.
type UnitMade = (String, Result<Ready, String>);

/// What a run was made into.
struct Made {
    inputs: Arc<Vec<Shown>>,
    units: Vec<UnitMade>,
}

fn totals(
    variants: &[Variant],
    drivers: &Drivers,
    options: RunOptions,
) -> Result<Vec<[Totals<f64>; 2]>, RunError> {
    simulation::totals_of_pairs(ROW_WIDTH, variants, drivers, options)
}

fn outcome(ready: &Ready, pair: &[Totals<f64>; 2], drivers: &Drivers) -> Result<Outcome, String> {
    let [unit, no_recovery] = *pair;
    let spec = ready.study.units.get(ready.place).ok_or("the unit is gone")?;
    let money = money::of_pair(&ready.study, spec, pair).map_err(|cause| cause.to_string())?;
    Ok(Outcome { unit, no_recovery, hours: drivers.hours().len(), money })
}

//! Runs a part of a sweep: studies are made, houses of one kind go side by side in rows, and each row of the data set is
//! what its run alone would give.
//!
//! Not here: what a year does (`simulation`), how rows are written (`columns.rs`, `folder.rs`).

use std::collections::BTreeMap;
use std::sync::Arc;

use lanes::Width;
use rayon::prelude::*;
use simulation::results::HouseYear;
use simulation::{Drivers, OutdoorAir, RunError, RunOptions, Totals, Variant};
use study::vary::{Change, Template};
use study::{Study, build};
use weather::WeatherYear;

use crate::cache::Cache;
use crate::money::{self, UnitMoney};
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
    /// Whether the site is south of the equator.
    pub is_south: bool,
    /// Useful saving with missed outdoor air made up, as `run` does \[Wh\]; `None` where that was not run.
    pub saving_held_air_wh: Option<f64>,
    /// Money at equal air, where the study has flat prices.
    pub money: Option<UnitMoney>,
}

/// Runs parts of a sweep, one after the other, sharing weather and drivers.
#[derive(Debug)]
pub struct Runner<'s> {
    sweep: &'s Sweep,
    template: Template<'s>,
    years: Cache<WeatherYear>,
    drivers: Cache<Drivers>,
}

/// Sums of a unit's year and of its house without recovery.
type Pair = [Totals<f64>; 2];

/// A unit of a run, ready to go.
#[derive(Clone)]
struct Ready {
    run: u64,
    /// What its neighbours in a row must have alike.
    kind: String,
    driver_key: String,
    study: Arc<Study>,
    year: Arc<WeatherYear>,
    variant: Variant,
    options: RunOptions,
}

impl Ready {
    /// The same with the flow between defrosts raised, so that no outdoor air is missed.
    fn held(&self) -> Self {
        let variant = self.variant.held();
        Self { kind: kind(&variant, self.options), variant, ..self.clone() }
    }
}

fn kind(variant: &Variant, options: RunOptions) -> String {
    format!("{:?} {:?} {}", variant.core, variant.frost.kind(), options.lead_in_hours)
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
        let (mut rows, mut ready, mut places) = (Vec::new(), Vec::new(), Vec::new());
        for (run, Made { inputs, units }) in runs.into_iter().zip(made) {
            for (unit, outcome) in units {
                let reason = match outcome {
                    Ok(one) => {
                        places.push(rows.len());
                        ready.push(one);
                        String::new()
                    }
                    Err(reason) => reason,
                };
                rows.push(Row { run, unit, inputs: Arc::clone(&inputs), outcome: Err(reason) });
            }
        }
        for (place, outcome) in places.into_iter().zip(self.outcomes(&ready)) {
            if let Some(row) = rows.get_mut(place) {
                row.outcome = outcome;
            }
        }
        rows
    }

    /// A unit's hours and those of its house without recovery in a run: those of `run` for the study so changed.
    ///
    /// # Errors
    /// The reason, where the run cannot be made.
    pub fn years_of(&self, run: u64) -> Result<Vec<[HouseYear; 2]>, String> {
        let taken = self.sweep.changes(run)?;
        let changes: Vec<Change> = taken.into_iter().map(|taken| taken.change).collect();
        let pair = |(name, ready): UnitMade| {
            let ready = ready?;
            let drivers = self.drivers(&ready)?;
            let found = simulation::run_pair(&name, &ready.variant, &drivers, ready.options);
            found.map_err(|cause| cause.to_string())
        };
        self.units(run, &changes)?.into_iter().map(pair).collect()
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
        match self.units(run, &changes) {
            Ok(units) => Made { inputs: Arc::new(shown), units },
            Err(reason) => failed(shown, &reason),
        }
    }

    /// Every unit of the study so changed.
    fn units(&self, run: u64, changes: &[Change]) -> Result<Vec<UnitMade>, String> {
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
        let ready = |(name, variant): (String, Variant)| {
            let kind = kind(&variant, options);
            let (study, year, driver_key) = (Arc::clone(&study), Arc::clone(&year), driver_key.clone());
            (name, Ok(Ready { run, kind, driver_key, study, year, variant, options }))
        };
        Ok(numbers.units.into_iter().map(ready).collect())
    }

    fn drivers(&self, ready: &Ready) -> Result<Arc<Drivers>, String> {
        self.drivers.get(&ready.driver_key, || {
            build::drivers(&ready.study, &ready.year).map_err(|cause| cause.to_string())
        })
    }

    /// What units come to, in their order; those of one run stand together.
    fn outcomes(&self, ready: &[Ready]) -> Vec<Result<Outcome, String>> {
        let pairs = self.run(ready);
        let equal = self.at_equal_air(ready, &pairs);
        let mut outcomes = Vec::with_capacity(ready.len());
        for of_run in ready.chunk_by(|one, next| one.run == next.run) {
            let from = outcomes.len();
            let equal = equal.get(from..from + of_run.len()).unwrap_or_default();
            let money = money_of(of_run, equal);
            for (place, (ready, equal)) in of_run.iter().zip(equal).enumerate() {
                let Some(pair) = pairs.get(from + place) else { continue };
                outcomes.push(pair.clone().and_then(|[unit, no_recovery]| {
                    let money = money.clone()?;
                    Ok(Outcome {
                        unit,
                        no_recovery,
                        hours: ready.year.hours(),
                        is_south: ready.year.place.latitude_deg < 0.0,
                        saving_held_air_wh: equal
                            .map(|[unit, without]| metered_wh(&without) - metered_wh(&unit)),
                        money: money.and_then(|money| money.get(place).copied()),
                    })
                }));
            }
        }
        outcomes
    }

    /// Each pair with its outdoor air made up where some was missed; `None` where it has no figures or was not asked for.
    fn at_equal_air(&self, ready: &[Ready], pairs: &[Result<Pair, String>]) -> Vec<Option<Pair>> {
        let mut equal: Vec<Option<Pair>> = pairs.iter().map(|pair| pair.as_ref().ok().copied()).collect();
        let (mut places, mut again) = (Vec::new(), Vec::new());
        for (place, (one, pair)) in ready.iter().zip(&mut equal).enumerate() {
            let misses = pair.is_some_and(|[unit, _]| unit.counts.missed_h > 0.0);
            if misses && one.variant.frost.outdoor_air != OutdoorAir::Held {
                *pair = None;
                if self.sweep.file.equal_air {
                    places.push(place);
                    again.push(one.held());
                }
            }
        }
        for (place, held) in places.into_iter().zip(self.run(&again)) {
            if let Some(pair) = equal.get_mut(place) {
                *pair = held.ok();
            }
        }
        equal
    }

    /// The pairs of units, in their order; units of one kind in one climate go side by side.
    fn run(&self, ready: &[Ready]) -> Vec<Result<Pair, String>> {
        let mut groups: BTreeMap<(&str, &str), Vec<usize>> = BTreeMap::new();
        for (place, one) in ready.iter().enumerate() {
            groups.entry((&one.driver_key, &one.kind)).or_default().push(place);
        }
        let rows: Vec<&[usize]> = groups.values().flat_map(|group| group.chunks(ROW)).collect();
        let of_row = |row: &&[usize]| {
            let found = self.run_row(&row.iter().filter_map(|&place| ready.get(place)).collect::<Vec<_>>());
            row.iter().copied().zip(found).collect::<Vec<_>>()
        };
        let mut found: Vec<_> = rows.par_iter().flat_map_iter(of_row).collect();
        found.sort_by_key(|(place, _)| *place);
        found.into_iter().map(|(_, pair)| pair).collect()
    }

    fn run_row(&self, row: &[&Ready]) -> Vec<Result<Pair, String>> {
        let Some(first) = row.first() else { return Vec::new() };
        let drivers = match self.drivers(first) {
            Ok(drivers) => drivers,
            Err(reason) => return row.iter().map(|_| Err(reason.clone())).collect(),
        };
        let variants: Vec<Variant> = row.iter().map(|ready| ready.variant).collect();
        if let Ok(totals) = totals(&variants, &drivers, first.options) {
            return totals.into_iter().map(Ok).collect();
        }
        // One of them cannot be run; the others can.
        let alone = |ready: &&Ready| {
            let found = totals(&[ready.variant], &drivers, ready.options);
            let pair = found.and_then(|pairs| pairs.into_iter().next().ok_or(RunError::Nothing));
            pair.map_err(|cause| cause.to_string())
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

fn totals(variants: &[Variant], drivers: &Drivers, options: RunOptions) -> Result<Vec<Pair>, RunError> {
    simulation::totals_of_pairs(ROW_WIDTH, variants, drivers, options)
}

/// Money of a run's units; `None` where one of them has no figures at equal air, since all are set beside one house.
fn money_of(of_run: &[Ready], equal: &[Option<Pair>]) -> Result<Option<Vec<UnitMoney>>, String> {
    let Some(study) = of_run.first().map(|ready| &ready.study) else { return Ok(None) };
    let pairs: Vec<Pair> = equal.iter().copied().flatten().collect();
    if pairs.len() != study.units.len() {
        return Ok(None);
    }
    money::of_run(study, &pairs).map_err(|cause| cause.to_string())
}

/// Energy metered in a year.
pub(crate) fn metered_wh(totals: &Totals<f64>) -> f64 {
    totals.heating_site_wh
        + totals.cooling_site_wh
        + totals.fan_wh
        + totals.preheat_wh
        + totals.blower_wh
        + totals.humidifier_wh
        + totals.dehumidifier_wh
}

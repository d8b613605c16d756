//! The hour loop: lead-in, a unit and its paired baseline one after the other in every hour, and the entry points.
//!
//! Entry points are concrete, so that they are compiled here and optimised in every profile. The widest instruction
//! set is chosen once, outside the loop. Not here: what an hour does (`step`), a unit and its
//! houses in one row (`compared`).

use exchanger::CoreKind;
use lanes::{InstructionSet, Kernel, Real, Width, run_rows, widest_set};

use crate::drivers::Drivers;
use crate::frost_error::FrostPlanError;
use crate::frost_plan::{FrostKind, FrostOf, FrostPlan, FrostStrategy};
use crate::inputs::{House, HouseOf, Unit, UnitOf, Variant};
use crate::ledger::{Book, Ledger, Tamper};
use crate::observers::{Keep, Keeper, Kept, Observer, Totals, Wanted};
use crate::results::{Case, HourOf, HouseYear};
use crate::state::State;
use crate::step::{Role, step_with};

/// Why a year could not be run to its end.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum RunError {
    /// A ledger whose lines do not explain its storage: a fault of this program.
    #[error(
        "the {} book does not close in hour {hour} of the year: residual {residual:e} {unit} at a turnover of \
         {turnover:e} {unit}",
        book.name(), unit = unit_of(*book)
    )]
    BooksOpen {
        /// Which book.
        book: Book,
        /// Hour of the year, counted from 1; in the lead-in, the hour of the file.
        hour: usize,
        /// Place of the house among those given.
        house: usize,
        /// Lines less change of storage [J or kg].
        residual: f64,
        /// What entered the book [J or kg].
        turnover: f64,
    },
    /// Cores of different kinds in one batch.
    #[error("a batch holds cores of one kind; this one has several")]
    MixedCores,
    /// Strategies of different kinds in one batch.
    #[error("a batch holds frost strategies of one kind, with fans of one kind; this one has several")]
    MixedStrategies,
    /// A frost plan that cannot be run.
    #[error(transparent)]
    Frost(#[from] FrostPlanError),
    /// Nothing to run.
    #[error("there is no house to run")]
    Nothing,
    /// An instruction set that this machine lacks.
    #[error("this machine lacks the instruction set {0:?}")]
    InstructionSet(InstructionSet),
}

fn unit_of(book: Book) -> &'static str {
    match book {
        Book::Heat | Book::CoreHeat => "J",
        Book::Water | Book::CoreWater => "kg",
    }
}

/// How a year is run.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RunOptions {
    /// Hours at the end of the file that are run before hour 0.
    pub lead_in_hours: usize,
    /// A deliberate false posting, to prove that the books notice; `None` in use.
    pub tamper: Option<Tamper>,
}

/// Houses with their units, and what each is compared with beside it, through the year.
struct YearWork<'a> {
    core: CoreKind,
    variants: &'a [Variant],
    /// Whether the unit's paired baseline runs beside it.
    pairing: Pairing,
    drivers: &'a Drivers,
    options: RunOptions,
    keep: Keep,
}

/// What runs in every hour.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pairing {
    /// The unit alone.
    Alone,
    WithBaseline,
    /// And the extract-only house as well.
    WithBoth,
}

impl Kernel for YearWork<'_> {
    type Output = Result<Vec<Kept>, RunError>;

    #[inline(always)]
    fn run<R: Real>(self) -> Self::Output {
        let hours = self.drivers.hours().len();
        let mut kept = Vec::with_capacity(2 * self.variants.len());
        for (row_index, row) in self.variants.chunks(R::LANES).enumerate() {
            let gathered = Gathered::<R>::new(row)?;
            let mut keepers = [0, 1, 2].map(|_| Keeper::<R>::new(self.keep, row.len(), hours));
            let first = row_index * R::LANES;
            walk(&self, first, &gathered, &mut keepers)?;
            let [unit, baseline, extract_only] = keepers.map(|keeper| keeper.into_lanes(row.len()));
            match self.pairing {
                Pairing::Alone => kept.extend(unit),
                Pairing::WithBaseline => {
                    kept.extend(unit.into_iter().zip(baseline).flat_map(|(unit, baseline)| [unit, baseline]));
                }
                Pairing::WithBoth => {
                    let all = unit.into_iter().zip(baseline).zip(extract_only);
                    kept.extend(
                        all.flat_map(|((unit, baseline), extract_only)| [unit, baseline, extract_only]),
                    );
                }
            }
        }
        Ok(kept)
    }
}

/// One row of houses through lead-in and year.
#[inline(always)]
fn walk<R: Real>(
    work: &YearWork<'_>,
    first_house: usize,
    gathered: &Gathered<R>,
    keepers: &mut [Keeper<R>; 3],
) -> Result<(), RunError> {
    let hours = work.drivers.hours();
    let order = HourOrder::new(hours.len(), work.options.lead_in_hours);
    let Some(first) = order.first().and_then(|h| hours.get(h)) else { return Err(RunError::Nothing) };
    let mut ledger = Ledger::new(work.options.tamper);
    let Gathered { house, unit, frost, nothing_done } = gathered;
    let count_of = match work.pairing {
        Pairing::Alone => 1,
        Pairing::WithBaseline => 2,
        Pairing::WithBoth => 3,
    };
    let roles = [Role::Own, Role::AsGiven, Role::ThroughLeaks];
    let wanted = if work.keep == Keep::Columns { Wanted::Columns } else { Wanted::Totals };
    let mut states = [State::start(house, first); 3];
    let mut outcome = HourOf::nothing();
    for (h, counts) in order {
        let driver = &hours[h];
        let shares = work.drivers.shares_of(driver);
        // The baseline gets the outdoor air that the unit delivers in this very hour.
        let mut beside = [*unit; 3];
        for (place, (state, keeper)) in states.iter_mut().zip(keepers.iter_mut()).enumerate().take(count_of) {
            let role = roles[place];
            let plan = if place == 0 { frost } else { nothing_done };
            let variant = (house, &beside[place], plan);
            let running = step_with(
                (work.core, role, wanted),
                variant,
                (driver, shares),
                state,
                (&mut ledger, &mut outcome),
            );
            if place == 0 && count_of > 1 {
                beside[1] = unit.baseline_beside(&running);
            }
            if place == 0 && count_of > 2 {
                beside[2] = unit.extract_only_beside(&running);
            }
            if let Some((lane, book)) = ledger.open_book() {
                return Err(open_book(&ledger, (lane, first_house + lane), book, h));
            }
            if counts {
                keeper.hour(driver.month, &outcome, &ledger);
            }
        }
    }
    Ok(())
}

/// The hours of a file in the order in which they are run: the lead-in from its end, then all of them.
pub(crate) struct HourOrder {
    hours: usize,
    lead_in: usize,
    done: usize,
}

impl HourOrder {
    pub(crate) fn new(hours: usize, lead_in: usize) -> Self {
        Self { hours, lead_in: lead_in.min(hours), done: 0 }
    }

    /// Place in the file of the hour that is run first.
    pub(crate) fn first(&self) -> Option<usize> {
        (self.hours > 0).then(|| (self.hours - self.lead_in) % self.hours)
    }
}

impl Iterator for HourOrder {
    /// Place in the file, and whether the hour counts.
    type Item = (usize, bool);

    #[inline(always)]
    fn next(&mut self) -> Option<Self::Item> {
        let left = self.lead_in + self.hours - self.done;
        if left == 0 {
            return None;
        }
        let counts = self.done >= self.lead_in;
        let hour = if counts { self.done - self.lead_in } else { self.hours - self.lead_in + self.done };
        self.done += 1;
        Some((hour, counts))
    }
}

#[cold]
pub(crate) fn open_book<R: Real>(
    ledger: &Ledger<R>,
    (lane, house): (usize, usize),
    book: Book,
    hour: usize,
) -> RunError {
    RunError::BooksOpen {
        book,
        hour: hour + 1,
        house,
        residual: ledger.residual(book).lane(lane),
        turnover: ledger.inflow(book).lane(lane),
    }
}

/// The one place where houses that do not hang together are compiled, once for each row width and instruction set.
#[inline(never)]
fn compiled(set: InstructionSet, width: Width, work: YearWork<'_>) -> Result<Vec<Kept>, RunError> {
    if work.variants.iter().any(|variant| variant.core != work.core) {
        return Err(RunError::MixedCores);
    }
    let kind = work.variants.first().map(|variant| variant.frost.kind());
    for variant in work.variants {
        check_frost(variant, kind)?;
    }
    run_rows(set, width, work).ok_or(RunError::InstructionSet(set))?
}

pub(crate) fn check_frost(variant: &Variant, kind: Option<FrostKind>) -> Result<(), RunError> {
    variant.frost.check()?;
    if variant.frost.strategy == FrostStrategy::SlowWheel && !variant.core.is_wheel() {
        return Err(FrostPlanError::NotAWheel.into());
    }
    if kind == Some(variant.frost.kind()) { Ok(()) } else { Err(RunError::MixedStrategies) }
}

/// A unit and its `no recovery` baseline, through the year, with every column kept.
///
/// # Errors
/// [`RunError::BooksOpen`] when a ledger does not close.
pub fn run_pair(
    name: &str,
    variant: &Variant,
    drivers: &Drivers,
    options: RunOptions,
) -> Result<[HouseYear; 2], RunError> {
    named(name, variant, (Pairing::WithBaseline, [Case::Unit, Case::NoRecovery]), (drivers, options))
}

/// A unit alone, through the year, with every column kept.
///
/// # Errors
/// As [`run_pair`].
pub fn run_alone(
    name: &str,
    variant: &Variant,
    drivers: &Drivers,
    options: RunOptions,
) -> Result<HouseYear, RunError> {
    named(name, variant, (Pairing::Alone, [Case::Unit]), (drivers, options)).map(|[year]| year)
}

/// A unit, its `no recovery` baseline and the `extract-only` house one after the other in every hour, as
/// [`run_with_baselines`](crate::run_with_baselines) does on a machine without vectors: bit for bit the same.
///
/// # Errors
/// As [`run_pair`].
pub fn run_one_by_one(
    name: &str,
    variant: &Variant,
    drivers: &Drivers,
    options: RunOptions,
) -> Result<[HouseYear; 3], RunError> {
    let cases = [Case::Unit, Case::NoRecovery, Case::ExtractOnly];
    named(name, variant, (Pairing::WithBoth, cases), (drivers, options))
}

/// The same with the flow between defrosts raised so that no outdoor air is missed: how units that miss different amounts of
/// air are compared.
///
/// # Errors
/// As [`run_pair`].
pub fn run_held_pair(
    name: &str,
    variant: &Variant,
    drivers: &Drivers,
    options: RunOptions,
) -> Result<[HouseYear; 2], RunError> {
    let cases = [Case::UnitHeld, Case::NoRecoveryHeld];
    named(name, &variant.held(), (Pairing::WithBaseline, cases), (drivers, options))
}

fn named<const N: usize>(
    name: &str,
    variant: &Variant,
    (pairing, cases): (Pairing, [Case; N]),
    (drivers, options): (&Drivers, RunOptions),
) -> Result<[HouseYear; N], RunError> {
    let kept = recorded(variant, pairing, drivers, options)?;
    let years: Vec<HouseYear> =
        kept.into_iter().zip(cases).filter_map(|(kept, case)| kept.into_year(name, case)).collect();
    years.try_into().map_err(|_| RunError::Nothing)
}

/// The house without any unit, its leakage in and out alike, through the year, with every column kept.
///
/// # Errors
/// [`RunError::BooksOpen`] when a ledger does not close.
pub fn run_no_ventilation(
    house: &House,
    drivers: &Drivers,
    options: RunOptions,
) -> Result<HouseYear, RunError> {
    let unit = Unit::none().in_house_of_leakage(house.numbers.leakage_kg_per_s);
    let frost = FrostPlan::unlimited();
    let variant = Variant { house: *house, unit, core: CoreKind::SensiblePlate, frost };
    let kept = recorded(&variant, Pairing::Alone, drivers, options)?;
    kept.into_iter().find_map(|kept| kept.into_year("", Case::NoVentilation)).ok_or(RunError::Nothing)
}

fn recorded(
    variant: &Variant,
    pairing: Pairing,
    drivers: &Drivers,
    options: RunOptions,
) -> Result<Vec<Kept>, RunError> {
    let variants = core::slice::from_ref(variant);
    let work = YearWork { core: variant.core, variants, pairing, drivers, options, keep: Keep::Columns };
    compiled(InstructionSet::Baseline, Width::One, work)
}

/// Hash of the whole hourly ledger of each unit and of its baseline, run in rows of this width with this
/// instruction set.
///
/// # Errors
/// As [`run_pair`]; [`RunError::MixedCores`]; [`RunError::InstructionSet`] when the machine lacks it.
pub fn hash_pairs(
    (set, width): (InstructionSet, Width),
    variants: &[Variant],
    drivers: &Drivers,
    options: RunOptions,
) -> Result<Vec<[u64; 2]>, RunError> {
    let core = variants.first().ok_or(RunError::Nothing)?.core;
    let pairing = Pairing::WithBaseline;
    let kept =
        compiled(set, width, YearWork { core, variants, pairing, drivers, options, keep: Keep::Hash })?;
    let hashes: Vec<u64> = kept.iter().filter_map(Kept::hash).collect();
    Ok(hashes.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect())
}

/// A year's totals of each unit and of its baseline, run in rows of this width with the widest instruction set.
///
/// # Errors
/// As [`hash_pairs`].
pub fn totals_of_pairs(
    width: Width,
    variants: &[Variant],
    drivers: &Drivers,
    options: RunOptions,
) -> Result<Vec<[Totals<f64>; 2]>, RunError> {
    let core = variants.first().ok_or(RunError::Nothing)?.core;
    let pairing = Pairing::WithBaseline;
    let work = YearWork { core, variants, pairing, drivers, options, keep: Keep::Totals };
    let kept = compiled(widest_set(), width, work)?;
    let totals: Vec<Totals<f64>> = kept.iter().filter_map(Kept::totals).collect();
    Ok(totals.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect())
}

/// A row of houses of one kind, with their units and what these do about frost.
struct Gathered<R> {
    house: HouseOf<R>,
    unit: UnitOf<R>,
    frost: FrostOf<R>,
    /// What the baselines do about it.
    nothing_done: FrostOf<R>,
}

impl<R: Real> Gathered<R> {
    fn new(row: &[Variant]) -> Result<Self, RunError> {
        let houses: Vec<House> = row.iter().map(|variant| variant.house).collect();
        let units: Vec<Unit> = row.iter().map(|variant| variant.unit).collect();
        let plans: Vec<FrostPlan> = row.iter().map(|variant| variant.frost).collect();
        Ok(Self {
            house: HouseOf::gather(&houses).ok_or(RunError::Nothing)?,
            unit: UnitOf::gather(&units).ok_or(RunError::Nothing)?,
            frost: FrostOf::gather(&plans).ok_or(RunError::Nothing)?,
            nothing_done: FrostOf::alike(&FrostPlan::unlimited()).ok_or(RunError::Nothing)?,
        })
    }
}

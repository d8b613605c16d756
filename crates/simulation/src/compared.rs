//! A unit and the houses that it is compared with, side by side: the four of them in one row of numbers.
//!
//! Lanes: the unit, its `no recovery` baseline, the `extract-only` house, and the unit with its outdoor air held. A second row holds
//! the baseline of that one; a book that does not close in any of these houses ends the run, though the held ones are dropped where no air is
//! missed. What the unit does about frost is decided in every lane from its own unit's state, so that lanes that only
//! follow ask for nothing of their own. Every number is the same, to the last bit, as when the houses go one after the other, which is
//! what a machine without such rows does. Not here: rows of many houses (`year`), what an hour does (`step`).

use lanes::{Kernel, Real, run_fours};

use crate::avoidance::Avoidance;
use crate::counts::MISSED_KG;
use crate::drivers::Drivers;
use crate::frost_plan::{FrostNumbers, FrostOf, FrostPlan, FrostStrategy};
use crate::inputs::{HouseOf, UnitOf, Variant};
use crate::ledger::Ledger;
use crate::observers::{Keep, Keeper, Kept, Observer, Wanted};
use crate::results::{Case, HourOf, HouseYear};
use crate::running::{Running, run_unit};
use crate::state::State;
use crate::step::{Before, Setting, setting, step_decided};
use crate::year::{HourOrder, RunError, RunOptions, check_frost, open_book, run_held_pair, run_one_by_one};

/// Lanes of the first row.
const CASES: [Case; 4] = [Case::Unit, Case::NoRecovery, Case::ExtractOnly, Case::UnitHeld];
/// The lane whose unit each lane has.
const UNIT_OF: [usize; 4] = [0, 0, 0, 3];
const EXTRACT_ONLY: usize = 2;
const HELD: usize = 3;

/// A unit, its `no recovery` baseline and the `extract-only` house, through the year, with every column kept.
///
/// # Errors
/// [`RunError::BooksOpen`] when a ledger does not close, [`RunError::Frost`] for a frost plan that cannot be run.
pub fn run_with_baselines(
    name: &str,
    variant: &Variant,
    drivers: &Drivers,
    options: RunOptions,
) -> Result<[HouseYear; 3], RunError> {
    match side_by_side(name, variant, Held::No, (drivers, options)) {
        Some(years) => years?.try_into().map_err(|_| RunError::Nothing),
        None => run_one_by_one(name, variant, drivers, options),
    }
}

/// The same, and where the unit misses outdoor air, it and its baseline once more with that air made up, as
/// [`run_held_pair`] does: three years or five.
///
/// # Errors
/// As [`run_with_baselines`].
pub fn run_compared(
    name: &str,
    variant: &Variant,
    drivers: &Drivers,
    options: RunOptions,
) -> Result<Vec<HouseYear>, RunError> {
    // Beside the others it costs little; a unit that seldom misses air is rather run again when it did.
    let defrosts =
        matches!(variant.frost.strategy, FrostStrategy::Recirculate(_) | FrostStrategy::SupplyOff(_));
    let held = if defrosts { Held::Too } else { Held::No };
    let mut years = match side_by_side(name, variant, held, (drivers, options)) {
        Some(years) => years?,
        None => Vec::from(run_one_by_one(name, variant, drivers, options)?),
    };
    if !years.first().is_some_and(misses_air) {
        years.retain(|year| !matches!(year.case, Case::UnitHeld | Case::NoRecoveryHeld));
    } else if years.iter().all(|year| year.case != Case::UnitHeld) {
        years.extend(run_held_pair(name, variant, drivers, options)?);
    }
    Ok(years)
}

/// Whether a unit missed outdoor air in some hour.
pub fn misses_air(unit: &HouseYear) -> bool {
    unit.hourly.missed_outdoor_air_kg.iter().any(|kg| *kg > MISSED_KG)
}

/// Whether the unit runs with its outdoor air held as well.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Held {
    No,
    Too,
}

/// The years in rows of four; `None` where the machine has none.
fn side_by_side(
    name: &str,
    variant: &Variant,
    held: Held,
    (drivers, options): (&Drivers, RunOptions),
) -> Option<Result<Vec<HouseYear>, RunError>> {
    if let Err(cause) = check_frost(variant, Some(variant.frost.kind())) {
        return Some(Err(cause));
    }
    let kept = run_fours(Compared { variant, held, drivers, options })?;
    let cases = CASES.into_iter().take(held.lanes()).chain([Case::NoRecoveryHeld]);
    Some(kept.map(|kept| {
        kept.into_iter().zip(cases).filter_map(|(kept, case)| kept.into_year(name, case)).collect()
    }))
}

impl Held {
    /// Houses in the first row.
    fn lanes(self) -> usize {
        if self == Self::Too { CASES.len() } else { HELD }
    }

    /// Houses in the second.
    fn followers(self) -> usize {
        usize::from(self == Self::Too)
    }
}

/// Runs on rows of as many lanes as there are [`CASES`], and on no others.
struct Compared<'a> {
    variant: &'a Variant,
    held: Held,
    drivers: &'a Drivers,
    options: RunOptions,
}

/// A unit in every lane, and the lanes' parts.
struct Row<R: Real> {
    house: HouseOf<R>,
    unit: UnitOf<R>,
    /// What the unit of each lane does about frost.
    deciding: FrostOf<R>,
    /// Where ice melts: a house that only follows has none.
    melting: FrostNumbers<R>,
    nothing_melts: FrostNumbers<R>,
    decides: R::Mask,
    through_leaks: R::Mask,
}

impl<R: Real> Row<R> {
    fn new(variant: &Variant, held: Held) -> Result<Self, RunError> {
        let (own, none) = (variant.frost, FrostPlan::unlimited());
        let with_held = if held == Held::Too { variant.held().frost } else { own };
        let numbers = |plans: &[FrostPlan]| FrostNumbers::of(plans).ok_or(RunError::Nothing);
        let mask_of =
            |is: fn(usize) -> bool| R::from_lanes(|lane| f64::from(u8::from(is(lane)))).gt(R::zero());
        Ok(Self {
            house: HouseOf::gather(&[variant.house]).ok_or(RunError::Nothing)?,
            unit: UnitOf::gather(&[variant.unit]).ok_or(RunError::Nothing)?,
            deciding: FrostOf::gather(&[own, own, own, with_held]).ok_or(RunError::Nothing)?,
            melting: numbers(&[own, none, none, with_held])?,
            nothing_melts: numbers(&[none])?,
            decides: mask_of(|lane| UNIT_OF[lane] == lane),
            through_leaks: mask_of(|lane| lane == EXTRACT_ONLY),
        })
    }
}

impl Kernel for Compared<'_> {
    type Output = Result<Vec<Kept>, RunError>;

    #[inline(always)]
    fn run<R: Real>(self) -> Self::Output {
        const { assert!(R::LANES == CASES.len()) };
        let hours = self.drivers.hours();
        let row = Row::<R>::new(self.variant, self.held)?;
        let houses = [self.held.lanes(), self.held.followers()];
        let mut keepers = houses.map(|lanes| Keeper::<R>::new(Keep::Columns, lanes, hours.len()));
        let order = HourOrder::new(hours.len(), self.options.lead_in_hours);
        let Some(first) = order.first().and_then(|h| hours.get(h)) else { return Err(RunError::Nothing) };
        let mut ledger = Ledger::new(self.options.tamper);
        let mut states = [State::start(&row.house, first); 2];
        let mut outcome = HourOf::nothing();
        let as_it_comes = Avoidance::none();
        for (h, counts) in order {
            let hour = (&hours[h], self.drivers.shares_of(&hours[h]));
            let rated = setting(self.variant.core, (&row.house, &row.unit), hour, &as_it_comes);
            let mut follows = row.unit;
            for (place, (state, keeper)) in states.iter_mut().zip(&mut keepers).enumerate() {
                if houses[place] == 0 {
                    break;
                }
                let before = Before::of(state, &row.house);
                let running = if place == 0 {
                    R::outlined(
                        #[inline(always)]
                        || decide(&row, &rated, state, &mut follows),
                    )
                } else {
                    Running::as_given(&follows)
                };
                let frost = if place == 0 { &row.melting } else { &row.nothing_melts };
                let decided = (&running, frost, Wanted::Columns);
                step_decided(&rated, decided, &before, state, (&mut ledger, &mut outcome));
                if let Some((lane, book)) = ledger.open_book() {
                    // One variant was given: whatever the lane, it is the first.
                    return Err(open_book(&ledger, (lane, 0), book, h));
                }
                if counts {
                    keeper.hour(hour.0.month, &outcome, &ledger);
                }
            }
        }
        let kept = keepers.into_iter().zip(houses).flat_map(|(keeper, lanes)| keeper.into_lanes(lanes));
        Ok(kept.collect())
    }
}

/// Decides the hour of every lane; `follows` becomes what the held unit's baseline runs at.
#[inline(always)]
fn decide<R: Real>(
    row: &Row<R>,
    rated: &Setting<'_, R>,
    state: &mut State<R>,
    follows: &mut UnitOf<R>,
) -> Running<R> {
    let mut deciding = state.spread(&UNIT_OF);
    let own = run_unit(&row.deciding, rated, &mut deciding);
    state.take_decided(row.decides, &deciding);
    let no_recovery = rated.unit.baseline_beside(&own);
    *follows = no_recovery.alike(HELD);
    let extract_only = rated.unit.extract_only_beside(&own);
    let leaky = Running::through_leaks(&Setting { unit: &extract_only, ..*rated }, state);
    let beside = UnitOf::select(row.through_leaks, &leaky.unit, &no_recovery);
    Running::select(row.decides, &own, &Running::as_given(&beside))
}

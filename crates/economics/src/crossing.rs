//! What would change it: where a difference passes through zero, by a bracketed search, and in closed form for a price
//! and for a flat tariff.
//!
//! The difference may be anything a caller can reckon for one number: net present value against price, tariff, airflow
//! or leakage. Not here: the verdict that it would change ([`crate::verdict`]).
//!
//! # Source
//! \[ITP\] Oliveira, Takahashi, *An Enhancement of the Bisection Method Average Performance Preserving Minmax Optimality*,
//! ACM Transactions on Mathematical Software 47 (2020). Recalled.

use crate::range::{OutOfRange, Range};
use crate::worth::{Purchase, Stream, Terms, hardware_factor, present_worth_factor};

const ENERGY_SAVED: Range = Range::new("energy saved a year", "kWh", 1e-9, 1e12);
const EXTRA_PRICE: Range = Range::new("extra price", "", -1e12, 1e12);
/// Within no time nothing is saved, and no price pays.
const HORIZON_OF_TARIFF: Range = Range::new("horizon", "years", 0.5, 100.0);
/// The interpolation's own numbers: how far it is drawn to the middle, and how many more steps than halving it may take.
const DRAWN: f64 = 0.2;
const MORE_STEPS: f64 = 1.0;
/// Steps are planned for a little less than is asked, so that rounding does not cost another.
const PLANNED: f64 = 0.99;
/// Halving 2^60 times is below the last digit of any bracket.
const MOST_STEPS: f64 = 60.0;
const MOST_PARTS: u32 = 10_000;

/// Where to look and how closely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Search {
    /// From here, finite.
    pub from: f64,
    /// To here, finite and greater.
    pub to: f64,
    /// How near to the crossing, in units of what is varied; more than 0.
    pub within: f64,
    /// In how many equal parts the stretch is first looked at, 1…10 000. Two crossings inside one part are overlooked.
    pub parts: u32,
}

/// What a search found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Answer {
    /// The difference changes its sign.
    Crossing {
        /// Where, the first from [`Search::from`] on.
        at: f64,
        /// From below zero to above.
        rising: bool,
        /// How many more parts hold a crossing further on.
        more: u32,
    },
    /// It has one sign in all places looked at.
    NeverWithin {
        /// Lower end of the search.
        from: f64,
        /// Upper end.
        to: f64,
        /// The difference at the lower end.
        at_from: f64,
        /// The difference at the upper end.
        at_to: f64,
    },
}

/// Why there was no search.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum CrossingError {
    /// Ends that are no stretch.
    #[error("a break-even is looked for from {from} to {to}: the first must be the lower, and both numbers")]
    Ends {
        /// Lower end.
        from: f64,
        /// Upper end.
        to: f64,
    },
    /// Too near or no distance.
    #[error("a break-even cannot be found to within {within}: it would have to be more than 0")]
    Within {
        /// The distance.
        within: f64,
    },
    /// Too many parts or none.
    #[error("a break-even is looked for in {parts} parts: 1 to {MOST_PARTS} would be right")]
    Parts {
        /// How many.
        parts: u32,
    },
    /// The difference has no value somewhere.
    #[error("at {at} there is no difference to compare: it came to {value}")]
    NotFinite {
        /// Where.
        at: f64,
        /// NaN or infinite.
        value: f64,
    },
}

/// A place and the difference there.
#[derive(Clone, Copy)]
struct Point {
    x: f64,
    y: f64,
}

/// Finds where `difference` passes through zero.
///
/// Every part whose ends differ in sign holds a crossing; the first is closed in on by ITP, which takes at most one step
/// more than halving and usually far fewer. A jump counts as a crossing.
///
/// # Errors
/// [`CrossingError`]: ends, distance or parts that make no search, or a difference that is not finite.
pub fn find(search: &Search, mut difference: impl FnMut(f64) -> f64) -> Result<Answer, CrossingError> {
    let Search { from, to, within, parts } = *search;
    if !(from.is_finite() && to.is_finite() && from < to && (to - from).is_finite()) {
        return Err(CrossingError::Ends { from, to });
    }
    if !(within.is_finite() && within > 0.0) {
        return Err(CrossingError::Within { within });
    }
    if !(1..=MOST_PARTS).contains(&parts) {
        return Err(CrossingError::Parts { parts });
    }
    let mut look = |x: f64| {
        let y = difference(x);
        if y.is_finite() { Ok(Point { x, y }) } else { Err(CrossingError::NotFinite { at: x, value: y }) }
    };
    let first = look(from)?;
    let mut last = first;
    let mut bracket: Option<(Point, Point)> = None;
    let mut more = 0;
    for part in 1..=parts {
        let x = if part == parts { to } else { from + (to - from) * (f64::from(part) / f64::from(parts)) };
        let next = look(x)?;
        if (last.y < 0.0) != (next.y < 0.0) {
            if bracket.is_none() { bracket = Some((last, next)) } else { more += 1 }
        }
        last = next;
    }
    let Some((low, high)) = bracket else {
        return Ok(Answer::NeverWithin { from, to, at_from: first.y, at_to: last.y });
    };
    Ok(Answer::Crossing { at: closed_in(low, high, within, look)?, rising: low.y < 0.0, more })
}

/// Interpolate, truncate, project: regula falsi, drawn towards the middle, and never further from it than lets halving
/// still finish in time.
fn closed_in(
    mut low: Point,
    mut high: Point,
    within: f64,
    mut look: impl FnMut(f64) -> Result<Point, CrossingError>,
) -> Result<f64, CrossingError> {
    let rising = low.y < 0.0;
    let start = high.x - low.x;
    let steps = ((start / (2.0 * within)).log2().ceil().max(0.0) + MORE_STEPS).min(MOST_STEPS);
    let mut step = 0.0;
    while high.x - low.x > 2.0 * within && step < MOST_STEPS + MORE_STEPS {
        let width = high.x - low.x;
        let middle = low.x + 0.5 * width;
        let chord = (low.x + width * (low.y / (low.y - high.y))).clamp(low.x, high.x);
        let toward = if chord < middle { 1.0 } else { -1.0 };
        let drawn = (DRAWN / start * width * width).min((middle - chord).abs());
        let reach = (PLANNED * within * (steps - step).exp2() - 0.5 * width).max(0.0);
        let near = chord + toward * drawn;
        let x = if (near - middle).abs() <= reach { near } else { middle - toward * reach };
        let found = look(x.clamp(low.x, high.x))?;
        if found.y == 0.0 {
            return Ok(found.x);
        }
        let end = if (found.y < 0.0) == rising { &mut low } else { &mut high };
        *end = found;
        step += 1.0;
    }
    Ok(low.x + 0.5 * (high.x - low.x))
}

/// The price at which a unit is worth what it costs over the horizon: `PV of net savings/hardware factor`.
///
/// `net_savings` are those of each carrier, and upkeep as a negative one; of `purchase` only life and escalation play a part.
/// Below 0 the unit is not even worth having for nothing.
///
/// # Errors
/// [`OutOfRange`] for a number outside the range beside it.
pub fn price_at_break_even(
    purchase: &Purchase,
    net_savings: &[Stream],
    terms: &Terms,
) -> Result<f64, OutOfRange> {
    Ok(worth(net_savings, terms)? / hardware_factor(purchase, terms)?)
}

fn worth(streams: &[Stream], terms: &Terms) -> Result<f64, OutOfRange> {
    streams.iter().map(|stream| stream.present_worth(terms)).sum()
}

/// The flat price of a kilowatt-hour \[money/kWh\] at which `saved_kwh` a year just pay for the rest.
///
/// `(C − PV of other savings)/(E PWF_e)`: `hardware` is price with replacements less residual value, above the reference's
/// ([`crate::worth::LifeCycle::hardware`]); `other_savings` are those of other carriers and upkeep, negative where they
/// cost more. Below 0 the unit pays at any price.
///
/// # Errors
/// [`OutOfRange`] for a number outside the range beside it, or no energy saved.
pub fn tariff_at_break_even(
    hardware: f64,
    saved_kwh: f64,
    escalation_per_year: f64,
    other_savings: &[Stream],
    terms: &Terms,
) -> Result<f64, OutOfRange> {
    let saved_kwh = ENERGY_SAVED.check(saved_kwh)?;
    let hardware = EXTRA_PRICE.check(hardware)?;
    let years = HORIZON_OF_TARIFF.check(terms.horizon_years)?;
    let factor = present_worth_factor(terms.discount_per_year, escalation_per_year, years)?;
    Ok((hardware - worth(other_savings, terms)?) / (saved_kwh * factor))
}

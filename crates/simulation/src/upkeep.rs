//! Filters that load, a core that fouls, and the days in which it is washed and dried.
//!
//! Everything is read from the calendar: filters are changed from the first of January on, the core is washed once a year. Not here: what a
//! loaded stream does to the fans (`passages`).

use lanes::{Mask, Real};

use crate::frost_error::{FrostPlanError, range};
use crate::frost_plan::{FrostOf, FrostPlan};
use crate::step::Setting;

/// Hours from wash to wash, for how far a core has fouled.
const YEAR_H: f64 = 8760.0;
/// Hours that a core is out which is not taken out.
const MOMENT_H: f64 = 1e-3;

/// Filters that load: their extra resistance grows evenly from 0 to `extra` through the interval, then they are changed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilterLoad {
    /// Resistance at the end of the interval, for each unit of the clean stream's, 0…3.
    pub extra: f64,
    /// From change to change, the first on the first of January \[d\], 1…1000.
    pub interval_d: f64,
}

/// A core that is taken out once a year, washed and dried; meanwhile the unit is off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Washing {
    /// Hour of the year at which it is taken out, 0…8783.
    pub at_h: f64,
    /// Hours that it is out, above 0…1000.
    pub out_h: f64,
    /// Share of its conductances that is lost from wash to wash, evenly, 0…0.5.
    pub fouling: f64,
    /// Share that is lost already when it comes back, 0…0.4: 0 for one that was washed well.
    pub left: f64,
}

/// Whether filters and washing can be run.
pub(crate) fn check_upkeep(plan: &FrostPlan) -> Result<(), FrostPlanError> {
    if let Some(filters) = plan.filters {
        range("filters' extra resistance", filters.extra, (0.0, 3.0), "")?;
        range("filters' interval", filters.interval_d, (1.0, 1000.0), " d")?;
    }
    if let Some(washing) = plan.washing {
        range("hour of washing", washing.at_h, (0.0, 8783.0), " h")?;
        range("time that the core is out", washing.out_h, (1e-3, 1000.0), " h")?;
        range("conductance lost by fouling", washing.fouling, (0.0, 0.5), "")?;
        range("conductance lost already", washing.left, (0.0, 0.4), "")?;
    }
    Ok(())
}

impl FrostPlan {
    /// The same unit in the year after its upkeep was skipped: filters that load all year, a core that was not washed and is not.
    pub fn neglected(&self) -> Self {
        const YEAR_D: f64 = 365.0;
        const MOST_EXTRA: f64 = 3.0;
        const MOST_LEFT: f64 = 0.4;
        let filters = self.filters.map(|filters| FilterLoad {
            extra: (filters.extra * YEAR_D / filters.interval_d.min(YEAR_D)).min(MOST_EXTRA),
            interval_d: filters.interval_d.max(YEAR_D),
        });
        let washing = self.washing.map(|washing| Washing {
            out_h: MOMENT_H,
            left: washing.fouling.min(MOST_LEFT),
            ..washing
        });
        Self { filters, washing, ..*self }
    }
}

/// Extra resistance of the filters in this hour, for each unit of the clean stream's.
#[inline(always)]
pub(crate) fn filter_load<R: Real>(frost: &FrostOf<R>, setting: &Setting<'_, R>) -> R {
    if !frost.numbers.filter_extra.gt(R::zero()).any() {
        return R::zero();
    }
    let hour = setting.driver.hour_of_year as f64 + 0.5;
    let interval = frost.numbers.filter_interval_h;
    let age = R::from_lanes(|lane| hour % interval.lane(lane));
    frost.numbers.filter_extra * age / interval
}

/// The unit's hour between two washes.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Kept<R> {
    /// Share of the hour in which the core is in the unit.
    pub(crate) in_place: R,
    /// Conductance that fouling leaves, for each unit of the clean core's.
    pub(crate) clean: R,
}

/// Where the hour lies between two washes.
#[inline(always)]
pub(crate) fn kept<R: Real>(frost: &FrostOf<R>, setting: &Setting<'_, R>) -> Kept<R> {
    let (zero, one) = (R::zero(), R::one());
    let n = &frost.numbers;
    // Without a washing nothing is known of fouling.
    if !n.wash_h.gt(zero).any() {
        return Kept { in_place: one, clean: one };
    }
    let hour = setting.driver.hour_of_year as f64;
    // A core that is out when the year ends is out as it begins.
    let out = out_of(hour, n.wash_at_h, n.wash_h) + out_of(hour + YEAR_H, n.wash_at_h, n.wash_h);
    let since = R::splat(hour + 0.5) - (n.wash_at_h + n.wash_h);
    let age = R::select(since.lt(zero), since + YEAR_H, since).max(zero);
    Kept { in_place: one - out.min(one), clean: one - n.fouled - n.fouling * (age * (1.0 / YEAR_H)).min(one) }
}

/// Share of the hour from `hour` that lies in the hours from `from` on.
#[inline(always)]
fn out_of<R: Real>(hour: f64, from: R, hours: R) -> R {
    let starts = from.max(R::splat(hour));
    let ends = (from + hours).min(R::splat(hour + 1.0));
    (ends - starts).max(R::zero())
}

//! Thirty-day means of a surface's humidity and temperature, and the hours in which they let mould grow.
//!
//! The criterion of ASHRAE 160-2009: the thirty-day running mean of the surface's relative humidity stays below 80 % while that of its
//! temperature is 5…40 °C. The edition of 2016 asks for a mould index instead (`mould`).
//!
//! Means run on sums of days: twenty-nine whole days and the day that is running. So the window of an hour is 697 to 720 hours long, and
//! exactly thirty days at the end of each day; a ring of every hour would be twenty-four times as large. Days are counted from the
//! first hour that was given. With fewer hours behind it, a mean is over what there is, and says so.
//!
//! # Sources
//! \[ASHRAE 160\] ANSI/ASHRAE 160-2009, Criteria for moisture-control design analysis in buildings: from memory of the standard, and from the
//! abstract of a paper on its replacement in 2016 (ASTM STP 1599).

use lanes::Real;

const WHOLE_DAYS_BEFORE: usize = 29;
const HOURS_A_DAY: u32 = 24;
/// Hours from which a mean reaches over thirty days, the running one included \[h\].
const FULL_H: u32 = 29 * HOURS_A_DAY + 1;
/// The mean relative humidity from which the criterion fails \[%\].
const FAILS_FROM_PCT: f64 = 80.0;
/// The mean temperatures between which it can fail, both included [°C].
const COLDEST_C: f64 = 5.0;
const WARMEST_C: f64 = 40.0;

/// Relative humidity and temperature, summed or as means.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Pair<R> {
    humidity_pct: R,
    temperature_c: R,
}

impl<R: Real> Pair<R> {
    #[inline(always)]
    fn zero() -> Self {
        Self { humidity_pct: R::zero(), temperature_c: R::zero() }
    }

    #[inline(always)]
    fn add(&mut self, other: &Self) {
        self.humidity_pct += other.humidity_pct;
        self.temperature_c += other.temperature_c;
    }
}

/// Means over the thirty days that end with an hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Means<R> {
    /// Relative humidity of the surface \[%\].
    pub humidity_pct: R,
    /// Temperature of the surface [°C].
    pub temperature_c: R,
    /// Hours that the means are over \[h\], 1…720.
    pub over_h: u32,
}

impl<R: Real> Means<R> {
    /// Where the criterion fails.
    #[inline(always)]
    pub fn fails(&self) -> R::Mask {
        self.humidity_pct.ge(R::splat(FAILS_FROM_PCT))
            & self.temperature_c.ge(R::splat(COLDEST_C))
            & self.temperature_c.le(R::splat(WARMEST_C))
    }

    /// Whether fewer than thirty days are behind the means, the running one included.
    pub fn is_short(&self) -> bool {
        self.over_h < FULL_H
    }
}

/// What the means are made from. Large (60 numbers a house): keep it beside the state that is copied each hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThirtyDays<R> {
    days: [Pair<R>; WHOLE_DAYS_BEFORE],
    /// Where the next whole day goes, and how many there are.
    next: usize,
    filled: usize,
    /// Sum of the whole days.
    before: Pair<R>,
    today: Pair<R>,
    today_h: u32,
}

impl<R: Real> Default for ThirtyDays<R> {
    fn default() -> Self {
        Self::new()
    }
}

impl<R: Real> ThirtyDays<R> {
    /// Nothing yet.
    pub fn new() -> Self {
        let none = Pair::zero();
        Self { days: [none; WHOLE_DAYS_BEFORE], next: 0, filled: 0, before: none, today: none, today_h: 0 }
    }

    /// Adds an hour; answers the means that end with it.
    #[inline(always)]
    pub fn hour(&mut self, temperature_c: R, relative_humidity_pct: R) -> Means<R> {
        self.today.add(&Pair { humidity_pct: relative_humidity_pct, temperature_c });
        self.today_h += 1;
        let days = u32::try_from(self.filled).unwrap_or_default();
        let over_h = days * HOURS_A_DAY + self.today_h;
        let mut all = self.before;
        all.add(&self.today);
        let hours = f64::from(over_h);
        if self.today_h == HOURS_A_DAY {
            self.close_day();
        }
        Means { humidity_pct: all.humidity_pct / hours, temperature_c: all.temperature_c / hours, over_h }
    }

    /// Puts the day among the whole ones, in place of the oldest. Their sum is made anew: one that is added to and taken from for a year
    /// keeps what it once rounded.
    fn close_day(&mut self) {
        self.days[self.next] = self.today;
        self.next = (self.next + 1) % WHOLE_DAYS_BEFORE;
        self.filled = (self.filled + 1).min(WHOLE_DAYS_BEFORE);
        self.today = Pair::zero();
        self.today_h = 0;
        let mut sum = Pair::zero();
        for day in &self.days[..self.filled] {
            sum.add(day);
        }
        self.before = sum;
    }
}

/// Hours of the year in which the criterion fails.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Criterion<R> {
    means: ThirtyDays<R>,
    /// Hours in which it fails \[h\].
    pub failing_h: R,
    /// Hours whose means are over fewer than thirty days \[h\]: all that a short lead-in leaves. Say so beside the result.
    pub short_h: u32,
}

impl<R: Real> Default for Criterion<R> {
    fn default() -> Self {
        Self { means: ThirtyDays::new(), failing_h: R::zero(), short_h: 0 }
    }
}

impl<R: Real> Criterion<R> {
    /// The year begins: counts start at nothing, the lead-in's days stay behind the means.
    pub fn begin(&mut self) {
        self.failing_h = R::zero();
        self.short_h = 0;
    }

    /// Adds an hour, and counts it.
    #[inline(always)]
    pub fn hour(&mut self, temperature_c: R, relative_humidity_pct: R) -> Means<R> {
        let means = self.means.hour(temperature_c, relative_humidity_pct);
        self.failing_h += R::select(means.fails(), R::one(), R::zero());
        self.short_h += u32::from(means.is_short());
        means
    }
}

#[cfg(test)]
#[path = "thirty_days_tests.rs"]
mod thirty_days_tests;

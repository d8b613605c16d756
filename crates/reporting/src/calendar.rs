//! Which month, day and hour each hour of a year is, and which months are winter and summer.
//!
//! Local standard time throughout, no daylight saving. Not here: when the sun stands where (crate `weather`).

use std::ops::Range;

use crate::ReportError;

/// Hours in a day.
pub const HOURS_PER_DAY: usize = 24;

/// Short English names of the months, January first.
pub const MONTHS: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

const DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const COMMON_HOURS: usize = 8760;
const LEAP_HOURS: usize = 8784;

/// Which half of the earth a site is on: it decides which months are winter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Hemisphere {
    /// Latitude of 0° and above.
    #[default]
    North,
    /// Latitude below 0°.
    South,
}

/// Winter or summer, three whole months each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Season {
    /// December, January, February in the north; June, July, August in the south.
    Winter,
    /// The other three.
    Summer,
}

impl Season {
    /// The three months of the season, January = 0.
    pub fn months(self, hemisphere: Hemisphere) -> [usize; 3] {
        match (self, hemisphere) {
            (Self::Winter, Hemisphere::North) | (Self::Summer, Hemisphere::South) => [11, 0, 1],
            (Self::Summer, Hemisphere::North) | (Self::Winter, Hemisphere::South) => [5, 6, 7],
        }
    }
}

/// When an hour is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stamp {
    /// 1 … 12.
    pub month: usize,
    /// 1 … 31.
    pub day: usize,
    /// 1 … 24: the hour is the one that ends at this time.
    pub hour_ending: usize,
}

/// A year of 8760 hours, or of 8784 with 29 February.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calendar {
    days_of_month: [usize; 12],
}

impl Calendar {
    /// The calendar of a year with this many hours.
    ///
    /// # Errors
    /// [`ReportError::HourCount`] unless `hours` is 8760 or 8784.
    pub fn for_hours(hours: usize) -> Result<Self, ReportError> {
        let mut days_of_month = DAYS;
        match hours {
            COMMON_HOURS => {}
            LEAP_HOURS => days_of_month[1] = 29,
            _ => return Err(ReportError::HourCount { hours }),
        }
        Ok(Self { days_of_month })
    }

    /// Hours in the year.
    pub fn hours(&self) -> usize {
        self.days() * HOURS_PER_DAY
    }

    /// Days in the year.
    pub fn days(&self) -> usize {
        self.days_of_month.iter().sum()
    }

    /// The days of a month (January = 0) as days of the year from 0.
    pub fn days_of(&self, month: usize) -> Range<usize> {
        let start = self.days_of_month.iter().take(month).sum();
        start..start + self.days_of_month.get(month).copied().unwrap_or(0)
    }

    /// The hours of a month (January = 0) as hours of the year from 0.
    pub fn hours_of(&self, month: usize) -> Range<usize> {
        let days = self.days_of(month);
        days.start * HOURS_PER_DAY..days.end * HOURS_PER_DAY
    }

    /// When an hour of the year (from 0) is; hours past the end count on in December.
    pub fn stamp(&self, hour: usize) -> Stamp {
        let mut day = hour / HOURS_PER_DAY;
        let mut month = 0;
        while month < 11 && day >= self.days_of_month[month] {
            day -= self.days_of_month[month];
            month += 1;
        }
        Stamp { month: month + 1, day: day + 1, hour_ending: hour % HOURS_PER_DAY + 1 }
    }
}

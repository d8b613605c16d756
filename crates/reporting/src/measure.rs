//! How a column's figure comes from the hours of a house-year.
//!
//! Not here: which columns there are (`columns`), rows and pairing (`summary`).

use std::ops::Range;

use simulation::results::Hourly;

use crate::calendar::{Calendar, HOURS_PER_DAY, Hemisphere, Season};

/// Puts a figure of each of some hours behind others: many hours a call, or the calls would take longer than the figures.
pub(crate) type OfHours = fn(&Hourly, Range<usize>, &mut Vec<f64>);
/// The same of whether something holds.
pub(crate) type Holds = fn(&Hourly, Range<usize>, &mut Vec<bool>);

/// Residual and inflow of a book in one hour, and the least inflow that it is compared with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Book {
    pub residual: OfHours,
    pub inflow: OfHours,
    pub floor: f64,
}

/// How a column's figure comes from hours. A year's figure of the first four is the sum of the printed months.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Measure {
    /// Sum over the hours.
    Sum(OfHours),
    /// Sum of sums that are columns themselves, each rounded first.
    SumOf(&'static [OfHours]),
    /// Those sums of the paired baseline less those of the unit, each rounded first.
    Saving(&'static [OfHours]),
    /// Hours in which something holds.
    Count(Holds),
    /// Hours with more frost than the core's capacity, where that is known.
    CountOverFrostCapacity,
    /// Outdoor air short of what is required, where something is [m³].
    SumBelowRequired,
    /// Hours short of it by a hundredth or more.
    CountBelowRequired,
    /// Greatest mould index of the cold corner, where one is looked at.
    GreatestMouldIndex,
    /// Hours in which its thirty-day criterion fails.
    CountDampCorner,
    /// Mean over the hours in which something holds.
    Mean(OfHours, Holds),
    /// Mean over the hours of a season.
    SeasonMean(Season, OfHours),
    /// Least hour.
    Least(OfHours),
    /// Greatest hour.
    Greatest(OfHours),
    /// Greatest sum over a calendar day.
    PeakDay(OfHours),
    /// The day of that sum; the first of several equal ones.
    PeakDate(OfHours),
    /// `Σ|residual| / Σ|inflow|`, the greatest of several books.
    Residual(&'static [Book]),
}

impl Measure {
    /// How the figure adds up over time, in words for the guide.
    pub fn words(self) -> &'static str {
        match self {
            Self::Sum(_) | Self::SumOf(_) | Self::Saving(_) | Self::SumBelowRequired => "sum",
            Self::Count(_)
            | Self::CountOverFrostCapacity
            | Self::CountBelowRequired
            | Self::CountDampCorner => "count of hours",
            Self::Mean(..) => "mean",
            Self::SeasonMean(..) => "mean of the season",
            Self::Least(_) => "least hour",
            Self::Greatest(_) | Self::GreatestMouldIndex => "greatest hour",
            Self::PeakDay(_) => "greatest day",
            Self::PeakDate(_) => "date of the greatest day",
            Self::Residual(_) => "ratio of sums",
        }
    }
}

/// A stretch of hours of one house-year.
pub(crate) struct Span<'a> {
    pub hourly: &'a Hourly,
    pub calendar: &'a Calendar,
    pub hours: Range<usize>,
}

impl Span<'_> {
    fn values(&self, of: OfHours) -> Vec<f64> {
        values_of(self.hourly, self.hours.clone(), of)
    }

    fn holding(&self, holds: Holds) -> Vec<bool> {
        let mut found = Vec::with_capacity(self.hours.len());
        holds(self.hourly, self.hours.clone(), &mut found);
        found
    }

    pub fn sum(&self, of: OfHours) -> f64 {
        self.values(of).into_iter().sum()
    }

    /// What the hours fall short of an amount each.
    pub fn sum_short_of(&self, amount: f64, of: impl Fn(&Hourly, usize) -> f64) -> f64 {
        self.hours.clone().map(|i| (amount - of(self.hourly, i)).max(0.0)).sum()
    }

    pub fn count(&self, holds: Holds) -> usize {
        self.holding(holds).into_iter().filter(|holds| *holds).count()
    }

    pub fn count_if(&self, holds: impl Fn(&Hourly, usize) -> bool) -> usize {
        self.hours.clone().filter(|&i| holds(self.hourly, i)).count()
    }

    /// `None` when it holds in no hour.
    pub fn mean(&self, of: OfHours, holds: Holds) -> Option<f64> {
        let all = self.values(of).into_iter().zip(self.holding(holds));
        mean(all.filter(|(_, holds)| *holds).map(|(value, _)| value))
    }

    /// `None` when no hour of the stretch is in the season.
    pub fn season_mean(&self, season: Season, hemisphere: Hemisphere, of: OfHours) -> Option<f64> {
        let inside = season.months(hemisphere).map(|month| self.calendar.hours_of(month));
        let all = self.hours.clone().zip(self.values(of));
        mean(all.filter(|(hour, _)| inside.iter().any(|range| range.contains(hour))).map(|(_, value)| value))
    }

    pub fn least(&self, of: OfHours) -> Option<f64> {
        self.values(of).into_iter().reduce(f64::min)
    }

    pub fn greatest(&self, of: OfHours) -> Option<f64> {
        self.values(of).into_iter().reduce(f64::max)
    }

    /// Day of the year (from 0) with the greatest sum, and that sum.
    pub fn peak_day(&self, of: OfHours) -> Option<(usize, f64)> {
        let days = self.hours.start / HOURS_PER_DAY..self.hours.end / HOURS_PER_DAY;
        days.map(|day| (day, self.day_sum(day, of)))
            .reduce(|best, next| if next.1 > best.1 { next } else { best })
    }

    /// `None` when nothing entered any of the books and nothing is missing from them.
    pub fn residual(&self, books: &[Book]) -> Option<f64> {
        books.iter().filter_map(|book| self.residual_of(*book)).reduce(f64::max)
    }

    fn residual_of(&self, book: Book) -> Option<f64> {
        let sum_of = |of: OfHours| self.values(of).into_iter().map(f64::abs).sum::<f64>();
        let (residual, inflow) = (sum_of(book.residual), sum_of(book.inflow));
        (residual > 0.0 || inflow > 0.0).then(|| residual / inflow.max(book.floor))
    }

    fn day_sum(&self, day: usize, of: OfHours) -> f64 {
        values_of(self.hourly, day * HOURS_PER_DAY..(day + 1) * HOURS_PER_DAY, of).into_iter().sum()
    }
}

fn values_of(hourly: &Hourly, hours: Range<usize>, of: OfHours) -> Vec<f64> {
    let mut values = Vec::with_capacity(hours.len());
    of(hourly, hours, &mut values);
    values
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (sum, count) = values.fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
    (count > 0.0).then(|| sum / count)
}

//! When water and people come: simple daily profiles.
//!
//! Assumed by this project, since no standard fixes them for a household; the yearly amounts come from the study.
//! Local standard time; 1 January is a Monday.
//! Not here: amounts.

/// A day's water as shares of quarter-hours that add up to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayProfile {
    quarters: [f64; 96],
}

impl DayProfile {
    /// Four showers: 06:45, 07:15, 07:45 and 21:45, a quarter of an hour each.
    pub fn showers() -> Self {
        Self::of_events(&[(27, 1, 0.25), (29, 1, 0.25), (31, 1, 0.25), (87, 1, 0.25)])
    }

    /// Cooking: 10 % 07:00–07:15, 20 % 12:00–12:30, 70 % 18:00–18:45.
    pub fn cooking() -> Self {
        Self::of_events(&[(28, 1, 0.1), (48, 2, 0.2), (72, 3, 0.7)])
    }

    /// Laundry that dries indoors from 18:00 to midnight.
    pub fn laundry() -> Self {
        Self::of_events(&[(72, 24, 1.0)])
    }

    /// All day alike.
    pub fn even() -> Self {
        Self::of_events(&[(0, 96, 1.0)])
    }

    /// Events as (first quarter-hour, how many, share of the day).
    fn of_events(events: &[(usize, usize, f64)]) -> Self {
        let mut quarters = [0.0; 96];
        for &(first, count, share) in events {
            for quarter in quarters.iter_mut().skip(first).take(count) {
                *quarter += share / count as f64;
            }
        }
        Self { quarters }
    }

    /// Share of the day's water between two minutes of the day, each event even over its quarter-hour.
    pub fn share(&self, from_minute: f64, to_minute: f64) -> f64 {
        let overlap = |quarter: usize| {
            let start = 15.0 * quarter as f64;
            (to_minute.min(start + 15.0) - from_minute.max(start)).max(0.0) / 15.0
        };
        self.quarters.iter().enumerate().map(|(quarter, share)| share * overlap(quarter)).sum()
    }
}

/// Who is at home when.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PeopleProfile {
    /// Weekdays: a quarter of the people between 8 and 17 h, all of them otherwise. Weekends: 60 % between
    /// 10 and 16 h.
    WorkingWeek,
    /// All of them, always.
    AlwaysHome,
}

impl PeopleProfile {
    /// Share of the people at home in an hour of the day (0…23) of a day of the year (0…365).
    pub fn present(self, day: usize, hour_of_day: usize) -> f64 {
        const SATURDAY: usize = 5;
        let weekend = day % 7 >= SATURDAY;
        match self {
            Self::WorkingWeek if weekend && (10..16).contains(&hour_of_day) => 0.6,
            Self::WorkingWeek if !weekend && (8..17).contains(&hour_of_day) => 0.25,
            Self::WorkingWeek | Self::AlwaysHome => 1.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_profile_gives_the_whole_day_whatever_the_step() {
        for profile in
            [DayProfile::showers(), DayProfile::cooking(), DayProfile::laundry(), DayProfile::even()]
        {
            for (minutes, steps) in [(5.0, 288_u32), (10.0, 144), (15.0, 96), (30.0, 48), (60.0, 24)] {
                let sum: f64 = (0..steps)
                    .map(|k| profile.share(f64::from(k) * minutes, f64::from(k + 1) * minutes))
                    .sum();
                assert!((sum - 1.0).abs() < 1e-12, "{minutes}: {sum}");
            }
        }
    }

    #[test]
    fn the_first_weekend_of_the_year_is_days_five_and_six() {
        let at_noon = |day| PeopleProfile::WorkingWeek.present(day, 12);
        let days: Vec<f64> = (0..7).map(at_noon).collect();
        assert_eq!(days, [0.25, 0.25, 0.25, 0.25, 0.25, 0.6, 0.6]);
    }
}

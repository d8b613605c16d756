//! The clock of a typical year: month, day and hour to an index and back, by table. What is not here: dates. The
//! months of a typical year come from different years, so no row is ever sorted by a time stamp. Read next:
//! [`crate::year`].

const DAYS: [u16; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Names of the months, for messages.
pub const MONTH_NAMES: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// A year of 365 or of 366 days, in local standard time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Calendar {
    /// 8 760 hours.
    Common,
    /// 8 784 hours: 29 February is present.
    Leap,
}

/// A clock hour of the year, named as files name it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stamp {
    /// Month, 1…12.
    pub month: u8,
    /// Day of the month, 1…31.
    pub day: u8,
    /// The hour at which it ends, 1…24.
    pub hour_ending: u8,
}

impl Calendar {
    /// The calendar with this number of hours; anything but 8 784 is a common year.
    pub fn of_hours(hours: usize) -> Self {
        if hours == 8784 { Self::Leap } else { Self::Common }
    }

    /// The calendar in which these stamps stand: a leap year if one of them is on 29 February.
    pub(crate) fn of_stamps(mut stamps: impl Iterator<Item = Stamp>) -> Self {
        if stamps.any(|stamp| stamp.month == 2 && stamp.day == 29) { Self::Leap } else { Self::Common }
    }

    /// Hours in the year.
    pub fn hours(self) -> usize {
        match self {
            Self::Common => 8760,
            Self::Leap => 8784,
        }
    }

    /// Days in a month (1…12); 0 for any other number.
    pub fn days_in_month(self, month: u8) -> u16 {
        let Some(days) = usize::from(month).checked_sub(1).and_then(|m| DAYS.get(m)) else { return 0 };
        days + u16::from(self == Self::Leap && month == 2)
    }

    /// First hour (0-based) of a month (1…12).
    pub fn first_hour_of_month(self, month: u8) -> usize {
        (1..month).map(|m| usize::from(self.days_in_month(m)) * 24).sum()
    }

    /// Index (0-based) of the hour that ends at `stamp`; `None` where no such hour exists.
    pub fn index(self, stamp: Stamp) -> Option<usize> {
        let day_exists = stamp.day >= 1 && u16::from(stamp.day) <= self.days_in_month(stamp.month);
        let hour_exists = (1..=24).contains(&stamp.hour_ending);
        (day_exists && hour_exists).then(|| {
            self.first_hour_of_month(stamp.month)
                + (usize::from(stamp.day) - 1) * 24
                + usize::from(stamp.hour_ending)
                - 1
        })
    }

    /// The stamp of hour `h` (0-based; past the end the year starts again).
    pub fn stamp(self, h: usize) -> Stamp {
        let mut day = self.day_of_year(h);
        let mut month = 1;
        while day > self.days_in_month(month) {
            day -= self.days_in_month(month);
            month += 1;
        }
        Stamp { month, day: u8::try_from(day).unwrap_or(1), hour_ending: self.hour_of_day(h) + 1 }
    }

    /// Month (1…12) of hour `h`.
    pub fn month_of_hour(self, h: usize) -> u8 {
        self.stamp(h).month
    }

    /// Day of the year (1…366) of hour `h`.
    pub fn day_of_year(self, h: usize) -> u16 {
        u16::try_from(h % self.hours() / 24).map_or(1, |day| day + 1)
    }

    /// Clock hour at which hour `h` begins (0…23).
    pub fn hour_of_day(self, h: usize) -> u8 {
        u8::try_from(h % 24).unwrap_or(0)
    }
}

impl Stamp {
    /// "2/30 hour 5": the bare numbers, for stamps that no calendar has.
    pub(crate) fn numbers(self) -> String {
        format!("{}/{} hour {}", self.month, self.day, self.hour_ending)
    }
}

impl std::fmt::Display for Stamp {
    /// "3 January, hour 14": the hour that ends at 14:00.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let name = MONTH_NAMES.get(usize::from(self.month).wrapping_sub(1)).copied().unwrap_or("no month");
        write!(f, "{} {name}, hour {}", self.day, self.hour_ending)
    }
}

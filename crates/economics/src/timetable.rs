//! Prices by time of use: bands of hours, days and months that price every hour of every week exactly once.
//!
//! Local standard time, 1 January a Monday, in leap years too. Not here: what an hour's energy then costs
//! ([`crate::tariff`]).

use std::fmt;

use crate::range::OutOfRange;
use crate::tariff::PRICE_PER_KWH;

const MONTHS: [&str; 12] = [
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
const DAYS_IN_MONTH: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const HOURS_A_DAY: usize = 24;
const DAYS_A_WEEK: usize = 7;
/// Days of the week before Saturday.
const SATURDAY: usize = 5;

/// Days of the week.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Days {
    /// Monday to Sunday.
    Every,
    /// Monday to Friday.
    Weekdays,
    /// Saturday and Sunday.
    Weekends,
}

impl Days {
    fn hold(self, weekend: bool) -> bool {
        match self {
            Self::Every => true,
            Self::Weekdays => !weekend,
            Self::Weekends => weekend,
        }
    }
}

/// Hours that share a price.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Its name, such as "peak".
    pub name: String,
    /// What a kilowatt-hour costs \[money/kWh\], 0…1e6.
    pub price_per_kwh: f64,
    /// On which days.
    pub days: Days,
    /// In which months, 1…12, in any order; empty: in all.
    pub months: Vec<u8>,
    /// Clock hour at which it begins, 0…23.
    pub from_hour: u8,
    /// Clock hour at which it ends, 1…24. At or before `from_hour` it holds over midnight: from 22 to 6 on weekdays is
    /// 00:00–06:00 and 22:00–24:00 of Monday to Friday.
    pub to_hour: u8,
}

impl Band {
    /// A band of all months.
    pub fn new(name: &str, price_per_kwh: f64, days: Days, from_hour: u8, to_hour: u8) -> Self {
        Self { name: name.to_owned(), price_per_kwh, days, months: Vec::new(), from_hour, to_hour }
    }

    /// The same in these months only.
    #[must_use]
    pub fn in_months(self, months: &[u8]) -> Self {
        Self { months: months.to_vec(), ..self }
    }

    fn check(&self) -> Result<(), TimetableError> {
        let band = || self.name.clone();
        PRICE_PER_KWH
            .check(self.price_per_kwh)
            .map_err(|problem| TimetableError::Price { band: band(), problem })?;
        if self.from_hour > 23 || !(1..=24).contains(&self.to_hour) || self.from_hour == self.to_hour {
            return Err(TimetableError::Hours { band: band(), from: self.from_hour, to: self.to_hour });
        }
        match self.months.iter().find(|month| !(1..=12).contains(*month)) {
            Some(&month) => Err(TimetableError::Month { band: band(), month }),
            None => Ok(()),
        }
    }

    fn holds(&self, at: Slot) -> bool {
        let in_month = self.months.is_empty() || self.months.contains(&at.month);
        let after = at.hour >= self.from_hour;
        let before = at.hour < self.to_hour;
        let in_hours = if self.from_hour < self.to_hour { after && before } else { after || before };
        in_month && in_hours && self.days.hold(at.weekend)
    }
}

/// A clock hour of the working days or the weekends of a month.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slot {
    /// Month, 1…12.
    pub month: u8,
    /// Saturday or Sunday.
    pub weekend: bool,
    /// Clock hour at which it begins, 0…23.
    pub hour: u8,
}

impl Slot {
    fn all() -> impl Iterator<Item = Self> {
        (1..=12).flat_map(|month| {
            [false, true]
                .into_iter()
                .flat_map(move |weekend| (0..24).map(move |hour| Self { month, weekend, hour }))
        })
    }

    fn index(self) -> usize {
        let days = usize::from(self.month - 1) * 2 + usize::from(self.weekend);
        days * HOURS_A_DAY + usize::from(self.hour)
    }
}

impl fmt::Display for Slot {
    /// "13:00 to 14:00 on weekdays in January".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let month = MONTHS.get(usize::from(self.month).wrapping_sub(1)).copied().unwrap_or("no month");
        let days = if self.weekend { "weekends" } else { "weekdays" };
        write!(f, "{:02}:00 to {:02}:00 on {days} in {month}", self.hour, self.hour + 1)
    }
}

/// Why bands are no timetable.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TimetableError {
    /// A price outside its range.
    #[error("band `{band}`: {problem}")]
    Price {
        /// Its name.
        band: String,
        /// The price.
        problem: OutOfRange,
    },
    /// Hours that are none.
    #[error(
        "band `{band}`: from {from} to {to}; it would begin at 0 to 23 and end at another hour of 1 to 24"
    )]
    Hours {
        /// Its name.
        band: String,
        /// Where it begins.
        from: u8,
        /// Where it ends.
        to: u8,
    },
    /// A month that is none.
    #[error("band `{band}`: there is no month {month}; months are 1 to 12")]
    Month {
        /// Its name.
        band: String,
        /// The number.
        month: u8,
    },
    /// An hour without a price.
    #[error("no band prices {at}{}", and_more(*more))]
    Gap {
        /// The first such hour.
        at: Slot,
        /// How many more hours of the 576 (months, weekdays or weekends, hours) have none.
        more: usize,
    },
    /// An hour with two prices.
    #[error("`{first}` and `{second}` both price {at}{}", and_more(*more))]
    Overlap {
        /// The band given first.
        first: String,
        /// The band given later.
        second: String,
        /// The first such hour.
        at: Slot,
        /// How many more hours of the 576 have two or more.
        more: usize,
    },
}

fn and_more(more: usize) -> String {
    match more {
        0 => String::new(),
        1 => ", and 1 more hour like it".to_owned(),
        _ => format!(", and {more} more hours like it"),
    }
}

/// Bands that price every hour exactly once.
#[derive(Debug, Clone, PartialEq)]
pub struct TimeOfUse {
    bands: Vec<Band>,
    /// By [`Slot::index`]: which band.
    band_of_slot: Vec<usize>,
}

impl TimeOfUse {
    /// Checks the bands: every hour of weekdays and of weekends, in every month, exactly once.
    ///
    /// # Errors
    /// [`TimetableError`], that of a single band first, then hours priced twice, then hours not priced.
    pub fn new(bands: Vec<Band>) -> Result<Self, TimetableError> {
        bands.iter().try_for_each(Band::check)?;
        let mut band_of_slot = Vec::new();
        let (mut gaps, mut overlaps) = (Vec::new(), Vec::new());
        for at in Slot::all() {
            let mut holding = (0..bands.len()).filter(|&band| bands[band].holds(at));
            match (holding.next(), holding.next()) {
                (Some(first), Some(second)) => overlaps.push((at, first, second)),
                (Some(only), None) => band_of_slot.push(only),
                _ => gaps.push(at),
            }
        }
        if let Some(&(at, first, second)) = overlaps.first() {
            let name = |band: usize| bands[band].name.clone();
            let more = overlaps.len() - 1;
            return Err(TimetableError::Overlap { first: name(first), second: name(second), at, more });
        }
        match gaps.first() {
            Some(&at) => Err(TimetableError::Gap { at, more: gaps.len() - 1 }),
            None => Ok(Self { bands, band_of_slot }),
        }
    }

    /// The bands, as given.
    pub fn bands(&self) -> &[Band] {
        &self.bands
    }

    /// Price of hour `h` of a year (0-based) that has 29 February or not \[money/kWh\]; past its end it starts again.
    pub fn price_at(&self, h: usize, leap: bool) -> f64 {
        self.bands[self.band_at(slot_of_hour(h, leap))].price_per_kwh
    }

    pub(crate) fn band_at(&self, slot: Slot) -> usize {
        self.band_of_slot[slot.index()]
    }
}

/// The slots of a year of so many hours, in order; `None` unless that is a year.
pub(crate) fn hours_of(hours: usize) -> Option<impl Iterator<Item = Slot>> {
    let leap = match hours {
        8760 => false,
        8784 => true,
        _ => return None,
    };
    Some((0..hours).map(move |h| slot_of_hour(h, leap)))
}

fn slot_of_hour(h: usize, leap: bool) -> Slot {
    let days_in_year = if leap { 366 } else { 365 };
    let day = h / HOURS_A_DAY % days_in_year;
    let mut left = day;
    let mut month = 1;
    for (index, &days) in DAYS_IN_MONTH.iter().enumerate() {
        let days = days + usize::from(leap && index == 1);
        if left < days {
            break;
        }
        left -= days;
        month += 1;
    }
    let hour = u8::try_from(h % HOURS_A_DAY).unwrap_or(0);
    Slot { month, weekend: day % DAYS_A_WEEK >= SATURDAY, hour }
}

//! What a study says of how ventilation is controlled, and of windows that are opened.
//!
//! Here: plain values in SI, every check done. Not here: what follows from them (`build`). Read next: `read/control.rs`, which
//! makes these.

/// How ventilation is controlled. Shares are of `ventilation.airflow`.
#[derive(Debug, Clone, PartialEq)]
pub struct Control {
    /// How much, most of the time.
    pub mode: ControlMode,
    /// More for a while; `None`: never.
    pub boost: Option<Boost>,
    /// Less on some days; `None`: never.
    pub away: Option<Away>,
}

/// How much air, most of the time.
#[derive(Debug, Clone, PartialEq)]
pub enum ControlMode {
    /// The whole flow, always.
    Continuous,
    /// The whole flow in a part of each hour, nothing in the rest.
    Intermittent {
        /// Share of the time in which it runs [-], 0.01…1.
        on_share: f64,
    },
    /// The whole flow while the indoor air is as humid as a limit or more, a share of it otherwise.
    Humidity(HumidityControl),
    /// The whole flow while the indoor air has as much carbon dioxide as a limit or more, a share of it otherwise.
    Co2 {
        /// The limit \[ppm\], 450…5000.
        limit_ppm: f64,
        /// Share of the flow below it [-], 0…1.
        low_share: f64,
    },
    /// A share of the flow in each hour of the day, in local standard time.
    Schedule(Box<Schedule>),
}

/// Shares of the flow by the hour, from the one that begins at 0:00 on.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    /// Monday to Friday [-], 0…1, one of them more than 0.
    pub weekdays: [f64; 24],
    /// Saturday and Sunday, in the same way.
    pub weekends: [f64; 24],
}

/// Control by relative humidity, with a limit that falls with the cold, so that windows stay dry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HumidityControl {
    /// Relative indoor humidity from which the whole flow runs [-], 0.1…0.9, where it is not cold.
    pub at_or_above: f64,
    /// What the limit falls by for each kelvin below `falls_below_c` [1/K], 0…0.05.
    pub falls_per_k: f64,
    /// Outdoor temperature below which it falls [°C], −20…20.
    pub falls_below_c: f64,
    /// Share of the flow below the limit [-], 0…1.
    pub low_share: f64,
}

impl HumidityControl {
    /// The limit at an outdoor temperature [°C]: `at_or_above − falls_per_k max(0, falls_below_c − t)` [-], 0.05 or more down to
    /// −40 °C in a validated study, never negative.
    pub fn limit_at(&self, outdoor_c: f64) -> f64 {
        (self.at_or_above - self.falls_per_k * (self.falls_below_c - outdoor_c).max(0.0)).max(0.0)
    }
}

/// More air for a while.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Boost {
    /// What starts it.
    pub by: BoostBy,
    /// Flow over `ventilation.airflow` while it lasts [-], 1…4.
    pub factor: f64,
    /// How long it lasts from its start \[s\], 5…240 min.
    pub lasts_s: f64,
}

/// What starts a boost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BoostBy {
    /// The beginning of each shower.
    Showers,
}

/// Less air on some days.
#[derive(Debug, Clone, PartialEq)]
pub struct Away {
    /// Share of the flow that there would be otherwise [-], 0…1.
    pub share: f64,
    /// The days: one range or more.
    pub days: Vec<DayRange>,
}

impl Away {
    /// Whether a day of the year, month 1…12 and day 1…31, is among them.
    pub fn contains(&self, day: MonthDay) -> bool {
        self.days.iter().any(|range| range.contains(day))
    }
}

/// A day of any year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MonthDay {
    /// Month, 1…12.
    pub month: u32,
    /// Day of the month, 1…31; 29 February is one.
    pub day: u32,
}

/// Days from one to another, both of them in it; past the end of the year where the first is later.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct DayRange {
    /// The first day.
    pub first: MonthDay,
    /// The last day.
    pub last: MonthDay,
}

impl DayRange {
    /// Whether a day is in it.
    pub fn contains(&self, day: MonthDay) -> bool {
        if self.first <= self.last {
            self.first <= day && day <= self.last
        } else {
            self.first <= day || day <= self.last
        }
    }
}

/// Windows are opened while all of this holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Airing {
    /// Indoor air is warmer than this [°C], 10…35: above the set-point of heating, below that of cooling.
    pub indoor_above_c: f64,
    /// Outdoor air is colder than the indoor air by more than this \[K\], 0…20.
    pub colder_by_k: f64,
    /// Outdoor air that then comes in for each volume of the house [1/s], 0.1…30 1/h.
    pub air_changes_per_s: f64,
}

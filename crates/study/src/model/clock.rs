//! Hours of the day, and what is kept in some of them.
//!
//! Here: plain values, every check done. Not here: the calendar. Read next: `read/plant.rs`.

/// Hours of the day, in local standard time: from one full hour to another, over midnight where the first is later.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct ClockHours {
    /// First hour, 0…23: 22 is from 22:00 on.
    pub from_h: u32,
    /// The hour that is no longer in it, 0…23; never `from_h`.
    pub to_h: u32,
}

impl ClockHours {
    /// Whether the hour that begins at `hour` o'clock, 0…23, is in it.
    pub const fn contains(self, hour: u32) -> bool {
        if self.from_h < self.to_h {
            self.from_h <= hour && hour < self.to_h
        } else {
            self.from_h <= hour || hour < self.to_h
        }
    }

    /// How many hours a day it has, 1…23.
    pub const fn count(self) -> u32 {
        (self.to_h + 24 - self.from_h) % 24
    }
}

/// Another set-point in some hours of the day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherSetPoint {
    /// Air temperature kept in those hours [°C], 5…35: for heating below the set-point, for cooling above it.
    pub temperature_c: f64,
    /// The hours.
    pub hours: ClockHours,
}

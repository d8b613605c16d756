//! Ice on the plate, and the timetable of recirculation that melts it. Read next: `year.rs`.
//!
//! Choices:
//! - An hour's defrosts are its first minutes, all in one; the core is warmed as often as there are events in the hour.
//! - What the core is warmed from is the mean of its plate as it runs in that hour.
//! - Recirculated air gives heat to ice at 0 °C with the effectiveness of the dry core at equal flows.
//! - Ice keeps the enthalpy with which it formed, and leaves as water of 0 °C.

use super::case::{Case, TimetableRow};

/// Ice on the plate.
#[derive(Clone, Copy, Debug, Default)]
pub struct Ice {
    pub kg: f64,
    /// Its enthalpy \[J\]: below zero.
    pub enthalpy_j: f64,
}

impl Ice {
    pub fn add(&mut self, kg: f64, enthalpy_j: f64) {
        self.kg += kg;
        self.enthalpy_j += enthalpy_j;
    }

    /// Ice and heat that melting takes, of the heat there is \[kg\], \[J\].
    pub fn melting(&self, heat_j: f64) -> (f64, f64) {
        if self.kg <= 0.0 || heat_j <= 0.0 {
            (0.0, 0.0)
        } else if heat_j >= -self.enthalpy_j {
            (self.kg, -self.enthalpy_j)
        } else {
            (self.kg * heat_j / -self.enthalpy_j, heat_j)
        }
    }

    pub fn remove(&mut self, (kg, heat_j): (f64, f64)) {
        // All of it: nothing is left of rounding either.
        *self = if kg >= self.kg {
            Self::default()
        } else {
            Self { kg: self.kg - kg, enthalpy_j: self.enthalpy_j + heat_j }
        };
    }
}

/// An hour's share of recirculation and the length of one event [s].
#[derive(Clone, Copy, Debug, Default)]
pub struct Plan {
    pub share: f64,
    pub event_s: f64,
}

impl Plan {
    pub fn of(timetable: &[TimetableRow], outdoor_c: f64) -> Self {
        (timetable.iter().filter(|row| outdoor_c <= row.at_or_below_c))
            .min_by(|a, b| a.at_or_below_c.total_cmp(&b.at_or_below_c))
            .map_or_else(Self::default, |row| Self {
                share: row.defrost_min / (row.defrost_min + row.run_min),
                event_s: row.defrost_min * 60.0,
            })
    }

    /// Share of a minute of the hour that is recirculation.
    pub fn of_minute(&self, minute: usize) -> f64 {
        (self.share * 60.0 - minute as f64).clamp(0.0, 1.0)
    }

    /// Seconds of running from this minute to the end of the hour.
    pub fn run_left_s(&self, minute: usize) -> f64 {
        (minute..60).map(|m| 60.0 * (1.0 - self.of_minute(m))).sum()
    }
}

/// Heat that a minute of recirculation takes from the room.
#[derive(Clone, Copy, Debug, Default)]
pub struct Recirculation {
    /// Warming the core, and melting \[W\], means of the minute.
    pub warming_w: f64,
    pub melting_w: f64,
    /// Ice that melts \[kg\], and its heat \[J\].
    pub melted: (f64, f64),
}

impl Recirculation {
    /// `share` of the minute; `room_w_per_k` is the capacity rate of the recirculated air.
    pub fn of(case: &Case, plan: &Plan, share: f64, room: (f64, f64), plate_mean_c: f64, ice: &Ice) -> Self {
        let (room_c, room_w_per_k) = room;
        if share <= 0.0 || room_w_per_k <= 0.0 {
            return Self::default();
        }
        let warming_w = share * case.core_j_per_k * (room_c - plate_mean_c).max(0.0) / plan.event_s;
        let ntu = case.ua_w_per_k / room_w_per_k;
        let given_w = share * room_w_per_k * room_c * ntu / (1.0 + ntu);
        let melted = ice.melting((given_w - warming_w) * 60.0);
        Self { warming_w, melting_w: melted.1 / 60.0, melted }
    }
}

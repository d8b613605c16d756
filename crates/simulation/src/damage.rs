//! What a year of indoor air does to the coldest corner of a house: mould index and thirty-day criterion, hour by hour.
//!
//! Reckoned from the hours of a year after it was run, so that what nobody asks for costs nothing. The corner is clean as the year begins; thirty-day
//! means reach back into the year's own last days. Not here: the index (`mould`), the means (`thirty_days`).

use crate::mould::{MouldNumbers, MouldState};
use crate::results::Hourly;
use crate::surfaces::{surface_c, surface_humidity_pct};
use crate::thirty_days::Criterion;

/// Hours at the year's end that the first thirty-day means reach back into.
const BEFORE_H: usize = 720;

/// A cold corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// Its temperature: 0 at outdoors, 1 at the room's.
    pub temperature_factor: f64,
    /// How readily mould grows on it.
    pub class: MouldNumbers<f64>,
}

/// A corner's year; all have one length.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Damage {
    /// Relative humidity at the surface \[%\], 0…100.
    pub humidity_pct: Vec<f64>,
    /// Mould index at the end of the hour, 0…6.
    pub mould_index: Vec<f64>,
    /// Whether the thirty-day criterion fails.
    pub fails: Vec<bool>,
}

/// The corner through a year of the rooms other than the wet rooms.
pub fn damage(hourly: &Hourly, corner: &Corner) -> Damage {
    let hours = hourly.air_c.len();
    let surface = |h: usize| {
        let at_c = surface_c(corner.temperature_factor, hourly.air_c[h], hourly.outdoor_c[h]);
        let wet = surface_humidity_pct(at_c, hourly.humidity_ratio[h], hourly.pressure_pa[h]);
        (at_c, wet.min(100.0))
    };
    let mut criterion = Criterion::default();
    for h in hours.saturating_sub(BEFORE_H)..hours {
        let (at_c, humidity_pct) = surface(h);
        criterion.hour(at_c, humidity_pct);
    }
    criterion.begin();
    let mut mould = MouldState::clean();
    let mut damage = Damage::default();
    for h in 0..hours {
        let (at_c, humidity_pct) = surface(h);
        mould.hour(&corner.class, at_c, humidity_pct);
        damage.humidity_pct.push(humidity_pct);
        damage.mould_index.push(mould.index);
        damage.fails.push(criterion.hour(at_c, humidity_pct).fails());
    }
    damage
}

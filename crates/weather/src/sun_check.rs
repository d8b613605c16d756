//! Whether a year's beam, diffuse and global irradiance agree, and with which placement of the sun. What is not here:
//! the findings made of it (`doubts.rs`). Read next: [`crate::sun`].
//!
//! On the horizontal, global = beam × cos(zenith) + diffuse. All three stand in the file, so the sun's place in the hour
//! can be read from the file itself: the placement with the smallest disagreement. Files that round, average over
//! sunrise or measure the three apart disagree a little at the best placement too.

use crate::sun::{self, HOURS_AT_ONCE, SunPosition};
use crate::year::WeatherYear;
use rayon::prelude::*;
use std::f64::consts::TAU;

/// How well a placement of the sun fits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Agreement {
    /// The placement: hours after the hour begins.
    pub offset_h: f64,
    /// Root mean square of global − (beam cos z + diffuse) [W/m²].
    pub rms_w_per_m2: f64,
    /// Hours compared: those with beam and global above zero.
    pub hours: usize,
}

/// How well the sun placed `offset_h` hours after each hour's start fits the year's own irradiance.
pub fn agreement(year: &WeatherYear, offset_h: f64) -> Agreement {
    let calendar = year.calendar();
    let disagreement = |h: usize| {
        let (global, direct) =
            (*year.global_horizontal_w_per_m2.get(h)?, *year.direct_normal_w_per_m2.get(h)?);
        let diffuse = *year.diffuse_horizontal_w_per_m2.get(h)?;
        let sun = (global > 0.0 && direct > 0.0)
            .then(|| sun::position(&year.place, calendar, sun::hours(h) + offset_h))?;
        Some((global - direct * sun.height() - diffuse).powi(2))
    };
    let hours_of_year = (0..year.global_horizontal_w_per_m2.len()).into_par_iter();
    let found: Vec<Option<f64>> = hours_of_year.with_min_len(HOURS_AT_ONCE).map(disagreement).collect();
    // Added up in order, so that the sum does not hang on the threads.
    let (mut sum, mut hours) = (0.0, 0_u32);
    for square in found.into_iter().flatten() {
        sum += square;
        hours += 1;
    }
    let rms_w_per_m2 = (sum / f64::from(hours.max(1))).sqrt();
    Agreement { offset_h, rms_w_per_m2, hours: usize::try_from(hours).unwrap_or(usize::MAX) }
}

/// How much later than the sun the global irradiance comes, over the year \[h\], −12…12; zero where there is none.
///
/// The mean hours of the two, each as a mean direction on the clock's face, so that a day may cross midnight. Cloudy
/// afternoons shift a true year by some tenths of an hour. It needs no beam, where [`agreement`] does.
pub fn lag_h(year: &WeatherYear) -> f64 {
    lag_with_h(year, &sun::positions(year))
}

/// The same where the sun's positions are at hand.
pub(crate) fn lag_with_h(year: &WeatherYear, positions: &[SunPosition]) -> f64 {
    let (mut light, mut sun) = (Direction::default(), Direction::default());
    for (h, (position, global)) in positions.iter().zip(&year.global_horizontal_w_per_m2).enumerate() {
        let clock = TAU * sun::hours(h % 24) / 24.0;
        light.add(clock, *global);
        sun.add(clock, position.height());
    }
    if light.is_none() || sun.is_none() {
        return 0.0;
    }
    ((light.angle() - sun.angle()) * 24.0 / TAU + 36.0).rem_euclid(24.0) - 12.0
}

/// A sum of arrows on the clock's face.
#[derive(Default)]
struct Direction {
    east: f64,
    north: f64,
}

impl Direction {
    fn add(&mut self, angle: f64, length: f64) {
        self.east += length * angle.sin();
        self.north += length * angle.cos();
    }

    fn is_none(&self) -> bool {
        self.east.hypot(self.north) < 1e-6
    }

    fn angle(&self) -> f64 {
        self.east.atan2(self.north)
    }
}

/// The placement that fits best among those a format allows; the first where there is nothing to compare.
pub(crate) fn best_of(year: &WeatherYear, offsets_h: &[f64]) -> f64 {
    match offsets_h {
        [] => 0.5,
        [only] => *only,
        [first, ..] => offsets_h
            .iter()
            .map(|&offset_h| agreement(year, offset_h))
            .min_by(|a, b| a.rms_w_per_m2.total_cmp(&b.rms_w_per_m2))
            .map_or(*first, |best| best.offset_h),
    }
}

//! The wind of a year: how much, from where. What is not here: wind at another height. Read next: [`crate::year`].

use crate::humidity::mean;
use crate::year::WeatherYear;

/// Below this the air is called calm and its direction means nothing [m/s].
pub const CALM_M_PER_S: f64 = 0.5;

/// Names of the sectors, each 45° wide around its direction.
pub const SECTOR_NAMES: [&str; 8] =
    ["north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest"];

/// The wind of a year, at the height of the sensor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wind {
    /// Mean speed [m/s].
    pub mean_m_per_s: f64,
    /// Speed that 1 % of the hours go beyond [m/s].
    pub upper_1_pct_m_per_s: f64,
    /// Share of the hours below [`CALM_M_PER_S`], 0…1.
    pub calm_share: f64,
    /// Share of all hours that each of [`SECTOR_NAMES`] has, 0…1; with the calm they make 1.
    pub sector_shares: [f64; 8],
    /// Mean speed in the hours of each sector [m/s]; 0 where there are none.
    pub sector_means_m_per_s: [f64; 8],
}

impl Wind {
    /// The sector with the most hours; `None` in a year of calm.
    pub fn prevailing(&self) -> Option<&'static str> {
        let most = self.sector_shares.iter().copied().fold(0.0, f64::max);
        let at = self.sector_shares.iter().position(|share| *share >= most && most > 0.0)?;
        SECTOR_NAMES.get(at).copied()
    }
}

/// The wind of a year.
pub fn wind(year: &WeatherYear) -> Wind {
    let speeds = &year.wind_speed_m_per_s;
    let hours = speeds.len().max(1) as f64;
    let (mut counts, mut sums, mut calm) = ([0.0; 8], [0.0; 8], 0.0);
    for (speed, from_deg) in speeds.iter().zip(&year.wind_direction_deg) {
        if *speed < CALM_M_PER_S {
            calm += 1.0;
            continue;
        }
        let sector = sector_of(*from_deg);
        if let (Some(count), Some(sum)) = (counts.get_mut(sector), sums.get_mut(sector)) {
            *count += 1.0;
            *sum += speed;
        }
    }
    let mut sector_means_m_per_s = [0.0; 8];
    for (mean, (sum, count)) in sector_means_m_per_s.iter_mut().zip(sums.iter().zip(counts)) {
        *mean = if count > 0.0 { sum / count } else { 0.0 };
    }
    Wind {
        mean_m_per_s: mean(speeds),
        upper_1_pct_m_per_s: crate::design::upper(speeds, 1.0),
        calm_share: calm / hours,
        sector_shares: counts.map(|count| count / hours),
        sector_means_m_per_s,
    }
}

/// The sector of a direction: north from 337.5° to 22.5°, and so on clockwise.
fn sector_of(from_deg: f64) -> usize {
    let eighths = (from_deg.rem_euclid(360.0) / 45.0).round().rem_euclid(8.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number from 0 to 7")]
    let sector = eighths as usize;
    sector
}

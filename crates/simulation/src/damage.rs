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

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;
    use psychrometrics::formulas::fast_saturation_pa;

    use super::*;
    use crate::mould::{Decline, Sensitivity};

    const PRESSURE_PA: f64 = 101_325.0;

    /// A year whose corner is at 20 °C, with this share of saturation there.
    fn corner_year(share: f64) -> Damage {
        let vapour_pa = share * fast_saturation_pa(20.0);
        let hourly = Hourly {
            air_c: vec![24.0; 8736],
            outdoor_c: vec![4.0; 8736],
            humidity_ratio: vec![0.621_945 * vapour_pa / (PRESSURE_PA - vapour_pa); 8736],
            pressure_pa: vec![PRESSURE_PA; 8736],
            ..Hourly::default()
        };
        let class = MouldNumbers::of(Sensitivity::VerySensitive, Decline::Strong);
        damage(&hourly, &Corner { temperature_factor: 0.8, class })
    }

    /// Fifty-two weeks at 20 °C and 97 and 90 %: 5.504 and 3.995 (a separate program, hour by hour from the published equations). The
    /// thirty-day criterion allows 80 % (ASHRAE 160, recalled).
    #[test]
    fn a_corner_in_a_constant_year_grows_what_the_separate_program_says() {
        for (share, index) in [(0.97, 5.504), (0.90, 3.995)] {
            let damage = corner_year(share);
            assert_abs_diff_eq!(damage.humidity_pct[4000], share * 100.0, epsilon = 1e-6);
            assert_abs_diff_eq!(damage.mould_index[8735], index, epsilon = 0.001);
            assert!(damage.fails.iter().all(|fails| *fails));
        }
    }

    #[test]
    fn a_dry_corner_grows_nothing_and_a_streaming_one_is_at_saturation() {
        let dry = corner_year(0.7);
        assert!(dry.mould_index.iter().all(|index| *index == 0.0) && !dry.fails.contains(&true));
        let streaming = corner_year(1.2);
        assert_eq!(streaming.humidity_pct, vec![100.0; 8736]);
    }
}

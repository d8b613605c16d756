//! Design conditions of a typical year: how cold, how hot and how humid it gets but for a small share of the hours. What is
//! not here: bins. Read next: [`mod@crate::months`].
//!
//! # Definitions
//! - A design value at a share of the hours is the value that at most this share of the hours goes beyond: with `n` hours and
//!   `k = floor(share × n)` it is the value after the `k` most extreme. In 8 760 hours, 0.4 % are 35, 1 % are 87, 2 % are
//!   175. Nothing is interpolated. Heating at 99.6 % is the dry bulb that 0.4 % of the hours lie below.
//! - A coincident value is the mean over the hours within 0.5 K of the design value.
//! - One typical year is made of average months. Handbooks take these values from decades of records, whose extremes it
//!   leaves out: for sizing, take theirs.

use crate::humidity::mean;
use crate::summary::dew_points_c;
use crate::year::WeatherYear;
use psychrometrics::checked::wet_bulb_c;

/// Shares of the hours at which cooling and dehumidification are stated [%].
pub const WARM_SHARES_PCT: [f64; 3] = [0.4, 1.0, 2.0];

/// Hours this near to a design value coincide with it; a rounding more, since files write tenths \[K\].
const COINCIDENT_K: f64 = 0.5 + 1e-6;

/// A dry bulb and what goes with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cooling {
    /// Share of the hours above it [%].
    pub share_pct: f64,
    /// Dry bulb [°C].
    pub dry_bulb_c: f64,
    /// Mean coincident wet bulb [°C]; `None` where the air lies outside the wet bulb's range (below 50 kPa).
    pub coincident_wet_bulb_c: Option<f64>,
}

/// A dew point and what goes with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dehumidification {
    /// Share of the hours above it [%].
    pub share_pct: f64,
    /// Dew point [°C].
    pub dew_point_c: f64,
    /// Mean coincident dry bulb [°C].
    pub coincident_dry_bulb_c: f64,
}

/// The design conditions of a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Design {
    /// Dry bulb that 99.6 % of the hours reach [°C].
    pub heating_99_6_c: f64,
    /// Dry bulb that 99 % of the hours reach [°C].
    pub heating_99_c: f64,
    /// Cooling, at [`WARM_SHARES_PCT`].
    pub cooling: [Cooling; 3],
    /// Dehumidification, at [`WARM_SHARES_PCT`].
    pub dehumidification: [Dehumidification; 3],
}

/// Design conditions of a year; the definitions stand at the head of this module.
pub fn design(year: &WeatherYear) -> Design {
    let dew_points_c = dew_points_c(year);
    let wet_bulbs_c: Vec<Option<f64>> =
        (year.dry_bulb_c.iter().zip(&year.humidity_ratio).zip(&year.pressure_pa))
            .map(|((&t, &w), &p)| wet_bulb_c(t, w, p).ok())
            .collect();
    Design {
        heating_99_6_c: lower(&year.dry_bulb_c, 0.4),
        heating_99_c: lower(&year.dry_bulb_c, 1.0),
        cooling: WARM_SHARES_PCT.map(|share_pct| {
            let dry_bulb_c = upper(&year.dry_bulb_c, share_pct);
            let beside: Vec<f64> = (year.dry_bulb_c.iter().zip(&wet_bulbs_c))
                .filter(|(t, _)| (*t - dry_bulb_c).abs() <= COINCIDENT_K)
                .filter_map(|(_, wet_bulb_c)| *wet_bulb_c)
                .collect();
            let coincident_wet_bulb_c = (!beside.is_empty()).then(|| mean(&beside));
            Cooling { share_pct, dry_bulb_c, coincident_wet_bulb_c }
        }),
        dehumidification: WARM_SHARES_PCT.map(|share_pct| {
            let dew_point_c = upper(&dew_points_c, share_pct);
            let beside: Vec<f64> = (dew_points_c.iter().zip(&year.dry_bulb_c))
                .filter(|(dew, _)| (*dew - dew_point_c).abs() <= COINCIDENT_K)
                .map(|(_, t)| *t)
                .collect();
            Dehumidification { share_pct, dew_point_c, coincident_dry_bulb_c: mean(&beside) }
        }),
    }
}

/// The value that at most this share of the values lies above, one of the values; zero where there are none.
pub fn upper(values: &[f64], share_pct: f64) -> f64 {
    -lower(&values.iter().map(|value| -value).collect::<Vec<_>>(), share_pct)
}

/// The value that at most this share of the values lies below, one of the values; zero where there are none.
pub fn lower(values: &[f64], share_pct: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    // A count that should be whole may come out a rounding below it.
    let beyond = (share_pct / 100.0 * sorted.len() as f64 + 1e-6).floor().clamp(0.0, sorted.len() as f64);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 0 to the length"
    )]
    let at = (beyond as usize).min(sorted.len().saturating_sub(1));
    sorted.get(at).copied().unwrap_or(0.0)
}

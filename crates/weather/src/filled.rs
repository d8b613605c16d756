//! How much of a year was filled in, and the sun in those hours. What is not here: filling itself (`gaps.rs`). Read
//! next: `complete.rs`.
//!
//! # The limit
//! A straight line over at most six hours misses what the weather did between, by about 1 K at the middle of the gap
//! where a day swings by 10 K. A tenth of a year filled so moves a year's mean by a tenth of that, about what two
//! thermometers differ by; beyond a tenth the year would say more of the line than of the place, and is refused. The
//! tenth is this project's choice.

use crate::complete::has_beam;
use crate::error::{WeatherError, share_pct};
use crate::findings::{Finding, FindingKind, Findings, Severity};
use crate::quantity::Quantity;
use crate::sun;
use crate::sun_check;
use crate::table::{Row, Table};
use crate::year::WeatherYear;

/// Largest share of a year in which one quantity may be filled in [%].
const MOST_FILLED_PCT: f64 = 10.0;
/// A sun lower than this (cosine of the zenith angle) says little of the sky's clearness.
const LOW_SUN: f64 = 0.1;
/// Hours before and after a gap whose light stands for its own, where the hours next to it are dark.
const WINDOW_H: usize = 24;

/// The hours in which a quantity has no value; humidity counts once, whatever states it.
pub(crate) struct Gaps {
    quantities: Vec<(&'static str, Quantity, Vec<bool>)>,
}

const HUMIDITIES: [Quantity; 3] = [Quantity::HumidityRatio, Quantity::DewPoint, Quantity::RelativeHumidity];

/// Finds them; a beam that the whole file lacks is derived and no gap.
///
/// # Errors
/// [`WeatherError::MuchMissing`] beyond a tenth of the year.
pub(crate) fn gaps_of(rows: &[Option<&Row>], findings: &mut Findings) -> Result<Gaps, WeatherError> {
    let lacks = |quantities: &[Quantity]| -> Vec<bool> {
        let has = |row: &&Row| quantities.iter().any(|quantity| row.get(*quantity).is_some());
        rows.iter().map(|row| !row.as_ref().is_some_and(has)).collect()
    };
    let single = Quantity::ALL.into_iter().filter(|quantity| !HUMIDITIES.contains(quantity));
    let mut quantities: Vec<_> =
        single.map(|quantity| (quantity.name(), quantity, lacks(&[quantity]))).collect();
    quantities.push(("humidity", Quantity::HumidityRatio, lacks(&HUMIDITIES)));
    quantities.retain(|(_, quantity, missing)| {
        *quantity != Quantity::Direct || missing.iter().any(|is_missing| !is_missing)
    });
    let gaps = Gaps { quantities };
    check(&gaps, findings)?;
    Ok(gaps)
}

/// Says how much of the year is filled in; refuses too much. A quantity that is missing altogether is left to the
/// longest gap.
fn check(gaps: &Gaps, findings: &mut Findings) -> Result<(), WeatherError> {
    let mut worst = ("", 0, 1);
    for (quantity, _, missing) in &gaps.quantities {
        let (hours, of) = (missing.iter().filter(|is_missing| **is_missing).count(), missing.len());
        if hours < of && share_pct(hours, of) > MOST_FILLED_PCT {
            return Err(WeatherError::MuchMissing { quantity, hours, of, most_pct: MOST_FILLED_PCT });
        }
        if hours > worst.1 {
            worst = (quantity, hours, of);
        }
    }
    let (quantity, hours, of) = worst;
    if hours > 0 {
        let sentence = format!(
            "At most {:.2} % of the year was filled in: {quantity}, in {hours} of {of} hours. More than {MOST_FILLED_PCT} % \
             is refused.",
            share_pct(hours, of)
        );
        findings.push(Finding::whole_file(FindingKind::FilledShare, Severity::Note, sentence));
    }
    Ok(())
}

/// Fills irradiance anew where it is missing: what arrives from space in that hour, times the share of it that came
/// through before and after. A sun below the horizon gives nothing.
pub(crate) fn sun(year: &mut WeatherYear, gaps: &Gaps, table: &Table) {
    let missing = |wanted: Quantity| {
        gaps.quantities.iter().find(|(_, quantity, _)| *quantity == wanted).map(|(_, _, missing)| missing)
    };
    let [global, direct, diffuse] = [Quantity::Global, Quantity::Direct, Quantity::Diffuse].map(missing);
    if ![global, direct, diffuse].into_iter().flatten().flatten().any(|is_missing| *is_missing) {
        return;
    }
    let [normal, horizontal] = from_space(year, table);
    let columns = [
        (global, &mut year.global_horizontal_w_per_m2, &horizontal),
        (direct, &mut year.direct_normal_w_per_m2, &normal),
        (diffuse, &mut year.diffuse_horizontal_w_per_m2, &horizontal),
    ];
    for (missing, values, most) in columns {
        if let Some(missing) = missing {
            fill(values, missing, most);
        }
    }
}

/// What arrives from space each hour [W/m²], facing the sun and on the horizontal, on the clock of the rows; zero
/// where the sun is down.
fn from_space(year: &WeatherYear, table: &Table) -> [Vec<f64>; 2] {
    let mut at_clock = year.clone();
    at_clock.place.time_zone_h = table.clock_h.unwrap_or(year.place.time_zone_h);
    let offset_h = if has_beam(&table.rows) {
        sun_check::best_of(&at_clock, &table.sun_offsets_h)
    } else {
        table.sun_offsets_h.first().copied().unwrap_or(0.5)
    };
    let heights = sun::positions_at(&at_clock, offset_h).into_iter().map(sun::SunPosition::height);
    let calendar = year.calendar();
    let (normal, horizontal) = heights
        .enumerate()
        .map(|(h, height)| {
            let full = sun::extraterrestrial_w_per_m2(calendar.day_of_year(h));
            (if height > 0.0 { full } else { 0.0 }, full * height)
        })
        .unzip();
    [normal, horizontal]
}

fn fill(values: &mut [f64], missing: &[bool], most: &[f64]) {
    let stated = values.to_vec();
    let hours = stated.len();
    let known = Known { stated: &stated, missing, most };
    for (h, value) in values.iter_mut().enumerate().filter(|(h, _)| missing.get(*h) == Some(&true)) {
        let (back, ahead) = (known.steps(h, hours - 1), known.steps(h, 1));
        let before = known.share((h + back * (hours - 1)) % hours);
        let after = known.share((h + ahead) % hours);
        let share = match (before, after) {
            (Some(before), Some(after)) => {
                before + (after - before) * sun::hours(back) / sun::hours((back + ahead).max(1))
            }
            (Some(one), None) | (None, Some(one)) => one,
            (None, None) => known.share_around(h),
        };
        *value = share * most.get(h).copied().unwrap_or(0.0);
    }
}

struct Known<'a> {
    stated: &'a [f64],
    missing: &'a [bool],
    most: &'a [f64],
}

impl Known<'_> {
    /// Steps to the next hour that has a value, by `stride` (one less than the year is one back).
    fn steps(&self, h: usize, stride: usize) -> usize {
        let hours = self.stated.len();
        (1..hours).find(|n| self.missing.get((h + n * stride) % hours) == Some(&false)).unwrap_or(1)
    }

    /// Share of what arrives from space, where the sun stands high enough to tell.
    fn share(&self, h: usize) -> Option<f64> {
        let (value, most) = (*self.stated.get(h)?, *self.most.get(h)?);
        (most > LOW_SUN * 1366.0).then(|| (value / most).clamp(0.0, 1.0))
    }

    /// The same over the day before and the day after; nothing where they are dark.
    fn share_around(&self, h: usize) -> f64 {
        let hours = self.stated.len();
        let (mut light, mut most) = (0.0, 0.0);
        for n in 0..=2 * WINDOW_H {
            let at = (h + hours - WINDOW_H + n) % hours;
            if self.missing.get(at) == Some(&false) {
                light += self.stated.get(at).copied().unwrap_or(0.0);
                most += self.most.get(at).copied().unwrap_or(0.0);
            }
        }
        if most > 0.0 { (light / most).clamp(0.0, 1.0) } else { 0.0 }
    }
}

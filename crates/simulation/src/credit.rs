//! What infiltration is credited with against ASHRAE 62.2's total rate: by edition, in both arithmetics, from a leakage and a weather
//! factor or from the hours of a year.
//!
//! Not here: the total rate and the other standards (`requirement`), leakage (`leakage`, `infiltration`).
//!
//! # Sources
//! \[62.2\] ASHRAE 62.2: the total rate read, the credit recalled. \[62.2-S\] shortcut and its factors for storeys, read in a national
//! laboratory's archive. \[136\] ASHRAE 136 and 62.2's annex on effective ventilation: recalled as a principle, the hourly form derived.

use lanes::Real;

use crate::infiltration::Leakage;
use crate::requirement::{FansOf, Form, Requirement, RequirementError, Step, by_floor_and_people};

const LITRE: f64 = 1e-3;
/// One cubic foot a minute [m³/s].
const CFM: f64 = 0.000_471_947_443_2;
/// One square foot \[m²\].
const FT2: f64 = 0.092_903_04;
const HOUR_S: f64 = 3600.0;
const CREDIT: &str = "ASHRAE 62.2, recalled";
const HOURS: &str = "ASHRAE 136's principle over the hours of the year, recalled";

/// A dwelling, as the total rate asks for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dwelling {
    /// Floor area \[m²\], 5…5000.
    pub floor_m2: f64,
    /// Bedrooms, 1…20.
    pub bedrooms: u32,
    /// People who are known to live there; those above bedrooms and one add to the rate.
    pub known_people: u32,
    /// The standard's arithmetic.
    pub form: Form,
}

/// How much infiltrates over a year, as an effective constant flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Infiltration {
    /// By leakage and the place's tabulated weather factor.
    ByFactor {
        /// Normalised leakage [-], 0…20: see [`Leakage::normalised`].
        normalised_leakage: f64,
        /// Weather factor [-], 0.1…2.
        weather_factor: f64,
    },
    /// By the hours of a year: see [`effective_annual_m3_per_s`].
    ByHours {
        /// Effective flow [m³/s], 0…50.
        m3_per_s: f64,
    },
}

/// Which edition's credit, for which building.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edition {
    /// 2013, an existing building: all of it.
    Of2013Existing,
    /// 2013, new construction: at most two thirds of the total rate.
    Of2013New,
    /// 2016 and later: by balance and by the exterior share of the envelope, 0…1.
    Since2016 {
        /// Whether fans are balanced.
        fans: FansOf,
        /// Share of the envelope that is exterior [-], 0…1; 1 for a detached house.
        exterior_share: f64,
    },
}

/// What the fans must deliver [m³/s of standard air], with the reasoning.
///
/// `Q_inf = NL wsf A/1.44` L/s with `A` in m², or `NL wsf A/7.3` cfm with `A` in ft². 2013: `Q_tot − Q_inf`, in new construction
/// `Q_inf` no more than ⅔ `Q_tot`. Since 2016: `Q_tot − φ Q_inf A_ext`, φ = 1 for balanced fans, else `Q_inf/Q_tot`, held at 1: unbalanced
/// fans are never credited with more than balanced ones. A credit above the total rate leaves nothing for fans; a step says so.
///
/// # Errors
/// [`RequirementError`] for a number outside the range beside it.
///
/// # Source
/// \[62.2\], recalled but for the total rate; the limit of φ is this program's own reading.
pub fn with_credit(
    dwelling: &Dwelling,
    infiltration: &Infiltration,
    edition: Edition,
) -> Result<Requirement, RequirementError> {
    let mut found =
        by_floor_and_people(dwelling.floor_m2, dwelling.bedrooms, dwelling.known_people, dwelling.form)?;
    let total = found.airflow_m3_per_s;
    let show = shown(dwelling.form);
    let infiltrates = infiltrating(dwelling, infiltration, &mut found.steps)?;
    let (credited, why) = credited(total, infiltrates, edition)?;
    found.steps.push(step(why, format!("−{}", show(credited)), CREDIT));
    if credited > total {
        let what = "more than the total rate: nothing is left for fans".to_owned();
        found.steps.push(step(what, show(credited - total), CREDIT));
    }
    found.airflow_m3_per_s = (total - credited).max(0.0);
    found.steps.push(step("fans must deliver".to_owned(), show(found.airflow_m3_per_s), found.standard));
    Ok(found)
}

/// Infiltration by the shortcut: `Q_inf = 0.052 wsf S Q_50` [m³/s], `S = (H/2.5 m)^0.4`.
///
/// # Errors
/// [`RequirementError`] unless the weather factor is 0.1…2, the flow at 50 Pa 0…50 m³/s and the height 1…30 m.
///
/// # Source
/// \[62.2-S\], read.
pub fn shortcut_m3_per_s(
    flow_50_m3_per_s: f64,
    weather_factor: f64,
    height_m: f64,
) -> Result<f64, RequirementError> {
    range("flow at 50 Pa [m³/s]", flow_50_m3_per_s, (0.0, 50.0))?;
    range("weather factor", weather_factor, (0.1, 2.0))?;
    range("height of the house [m]", height_m, (1.0, 30.0))?;
    Ok(0.052 * weather_factor * Real::exp(0.4 * Real::ln(height_m / 2.5)) * flow_50_m3_per_s)
}

/// Constant flow that leaves the same mean of a constantly emitted contaminant as these hours' flows do [m³/s].
///
/// Well mixed: the amount in the room for an emission of one a unit of time obeys `τ' = 1 − (Q/V) τ`, solved exactly hour by hour, the
/// year followed by itself. `Q_eff = V/mean(τ)`, never above the mean of the flows. 0 where all hours together change less than
/// 1e-16 of the volume.
///
/// # Errors
/// [`RequirementError`] unless the volume is 10…50 000 m³, there is at least one hour, and every flow is 0…50 m³/s.
///
/// # Source
/// \[136\]: recalled as a principle; the mean within the hour is derived. The standard's own form takes the value at each hour's end.
pub fn effective_annual_m3_per_s(hourly_m3_per_s: &[f64], volume_m3: f64) -> Result<f64, RequirementError> {
    range("volume of the house [m³]", volume_m3, (10.0, 50_000.0))?;
    for &flow in hourly_m3_per_s {
        range("infiltration of an hour [m³/s]", flow, (0.0, 50.0))?;
    }
    let hours = hourly_m3_per_s.len();
    range("number of hours", hours as f64, (1.0, 1e6))?;
    let (stays, grown_h) = hourly_m3_per_s.iter().fold((1.0, 0.0), |(stays, age_h), &flow| {
        let hour = Hour::of(flow, volume_m3);
        (stays * hour.stays, age_h * hour.stays + hour.emitted_h)
    });
    if stays >= 1.0 {
        return Ok(0.0);
    }
    let (mut age_h, mut sum_h) = (grown_h / (1.0 - stays), 0.0);
    for &flow in hourly_m3_per_s {
        let hour = Hour::of(flow, volume_m3);
        sum_h += hour.mean_age_h(age_h);
        age_h = age_h * hour.stays + hour.emitted_h;
    }
    Ok(volume_m3 / (sum_h / hours as f64 * HOUR_S))
}

/// Weather factor that this effective flow stands for in a house of this leakage [-]: `wsf = 1.44 Q_eff/(NL A)`.
///
/// # Errors
/// [`RequirementError`] unless the flow is 0…50 m³/s, the floor 5…5000 m², the height 1…30 m, and the normalised leakage 1e-6…20.
///
/// # Source
/// \[62.2\], recalled.
pub fn weather_factor_of(
    effective_m3_per_s: f64,
    leakage: &Leakage,
    (floor_m2, height_m): (f64, f64),
) -> Result<f64, RequirementError> {
    range("effective infiltration [m³/s]", effective_m3_per_s, (0.0, 50.0))?;
    range("floor area [m²]", floor_m2, (5.0, 5000.0))?;
    range("height of the house [m]", height_m, (1.0, 30.0))?;
    let normalised = leakage.normalised(floor_m2, height_m);
    range("normalised leakage", normalised, (1e-6, 20.0))?;
    Ok(effective_m3_per_s / LITRE * 1.44 / (normalised * floor_m2))
}

/// An hour's air change, as the age of what is emitted sees it.
struct Hour {
    changes: f64,
    /// Share of what is there at the start that is there at the end.
    stays: f64,
    /// What the hour's own emission leaves at its end \[h\].
    emitted_h: f64,
}

impl Hour {
    fn of(m3_per_s: f64, volume_m3: f64) -> Self {
        let changes = m3_per_s * HOUR_S / volume_m3;
        let stays = Real::exp(-changes);
        Self { changes, stays, emitted_h: passed(changes) }
    }

    /// Mean over the hour of an age that starts with this \[h\].
    fn mean_age_h(&self, start_h: f64) -> f64 {
        let own = if self.changes > SMALL {
            (1.0 - self.emitted_h) / self.changes
        } else {
            let x = self.changes;
            0.5 - x * (1.0 / 6.0 - x * (1.0 / 24.0 - x * (1.0 / 120.0 - x / 720.0)))
        };
        start_h * self.emitted_h + own
    }
}

/// Below this many changes an hour the series is used: the closed form loses its digits.
const SMALL: f64 = 1e-2;

/// `(1 − e^(−x))/x`.
fn passed(x: f64) -> f64 {
    if x > SMALL {
        (1.0 - Real::exp(-x)) / x
    } else {
        1.0 - x * (0.5 - x * (1.0 / 6.0 - x * (1.0 / 24.0 - x / 120.0)))
    }
}

fn infiltrating(
    dwelling: &Dwelling,
    infiltration: &Infiltration,
    steps: &mut Vec<Step>,
) -> Result<f64, RequirementError> {
    let show = shown(dwelling.form);
    match *infiltration {
        Infiltration::ByFactor { normalised_leakage, weather_factor } => {
            range("normalised leakage", normalised_leakage, (0.0, 20.0))?;
            range("weather factor", weather_factor, (0.1, 2.0))?;
            let weighted = normalised_leakage * weather_factor;
            let m3_per_s = match dwelling.form {
                Form::Si => weighted * dwelling.floor_m2 / 1.44 * LITRE,
                Form::Ip => weighted * (dwelling.floor_m2 / FT2) / 7.3 * CFM,
            };
            steps.push(step("normalised leakage".to_owned(), format!("{normalised_leakage:.3}"), CREDIT));
            steps.push(step("weather factor".to_owned(), format!("{weather_factor:.2}"), CREDIT));
            steps.push(step("infiltration by the factor".to_owned(), show(m3_per_s), CREDIT));
            Ok(m3_per_s)
        }
        Infiltration::ByHours { m3_per_s } => {
            range("effective infiltration [m³/s]", m3_per_s, (0.0, 50.0))?;
            steps.push(step("effective infiltration of the year".to_owned(), show(m3_per_s), HOURS));
            Ok(m3_per_s)
        }
    }
}

fn credited(total: f64, infiltrates: f64, edition: Edition) -> Result<(f64, String), RequirementError> {
    match edition {
        Edition::Of2013Existing => {
            Ok((infiltrates, "credited, 2013 edition, existing building: all of it".to_owned()))
        }
        Edition::Of2013New => {
            let most = total * 2.0 / 3.0;
            let how = if infiltrates > most { "held at two thirds of the total rate" } else { "all of it" };
            Ok((infiltrates.min(most), format!("credited, 2013 edition, new construction: {how}")))
        }
        Edition::Since2016 { fans, exterior_share } => {
            range("exterior share of the envelope", exterior_share, (0.0, 1.0))?;
            let (part, how) = match fans {
                FansOf::Balanced => (1.0, "balanced fans"),
                FansOf::Unbalanced if infiltrates > total => (1.0, "unbalanced fans, factor held at 1"),
                FansOf::Unbalanced => (infiltrates / total, "unbalanced fans"),
            };
            let why = format!(
                "credited, 2016 edition, {how}: factor {part:.3}, exterior share {exterior_share:.2}"
            );
            Ok((part * infiltrates * exterior_share, why))
        }
    }
}

fn shown(form: Form) -> fn(f64) -> String {
    match form {
        Form::Si => |flow| format!("{:.1} L/s", flow / LITRE),
        Form::Ip => |flow| format!("{:.1} cfm", flow / CFM),
    }
}

fn step(what: String, value: String, source: &'static str) -> Step {
    Step { what, value, source }
}

fn range(quantity: &'static str, value: f64, (low, high): (f64, f64)) -> Result<(), RequirementError> {
    if value >= low && value <= high {
        return Ok(());
    }
    Err(RequirementError::OutOfRange { quantity, value, low, high })
}

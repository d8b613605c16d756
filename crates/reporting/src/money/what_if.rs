//! At which airflow, and at which leakage, a unit is worth what it costs: a bracketed search over whole years run again.
//!
//! Not here: the search itself (`economics::crossing`), how a changed house is run.

use economics::crossing::{Answer, CrossingError, Search, find};
use economics::verdict::{Judgement, Overall};
use serde_json::{Value, json};
use simulation::results::HouseYear;

use super::{Found, MoneyBasis, MoneyError, MoneyReport, REFERENCE};
use crate::{RunSummary, ShowIn, SummaryBasis};

/// Parts in which the stretch is first looked at; with the steps of the search, ten runs at most.
const PARTS: u32 = 3;
/// How near a break-even is found, as a share of itself.
const WITHIN: f64 = 0.02;
const L_PER_M3: f64 = 1000.0;
/// A cubic foot a minute \[m³/s\], exact.
const CFM_M3_PER_S: f64 = 0.028_316_846_592 / 60.0;

/// What is given other values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Varied {
    /// The airflow of the unit and of the house that it is compared with.
    Airflow,
    /// A constant flow through leaks.
    Leakage,
    /// A flow through leaks at a test pressure.
    TestedLeakage {
        /// Pressure of the test \[Pa\].
        pressure_pa: f64,
    },
}

impl Varied {
    /// The ends of the search, for each unit of what the study gives.
    ///
    /// Half to double the airflow; a quarter to four times the leakage.
    pub fn ends(self) -> (f64, f64) {
        match self {
            Self::Airflow => (0.5, 2.0),
            Self::Leakage | Self::TestedLeakage { .. } => (0.25, 4.0),
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Airflow => "airflow",
            Self::Leakage | Self::TestedLeakage { .. } => "leakage",
        }
    }
}

/// Where a unit's net present value beside no recovery passes through zero.
#[derive(Debug, Clone, PartialEq)]
pub struct WhatIf {
    /// The unit.
    pub unit: String,
    /// What was given other values.
    pub varied: Varied,
    /// Its value in the study [m³/s].
    pub given_m3_per_s: f64,
    /// What was found, for each unit of that value; why nothing was.
    pub answer: Result<Answer, String>,
}

impl WhatIf {
    /// Looks for the break-even; `worth` gives the unit's net present value at a multiple of what the study gives.
    ///
    /// At most ten calls, to within 2 %. Values in between that pay, among others that do not, are overlooked.
    pub fn find<E: ToString>(
        (unit, varied, given_m3_per_s): (&str, Varied, f64),
        mut worth: impl FnMut(f64) -> Result<f64, E>,
    ) -> Self {
        let (least, most) = varied.ends();
        // By ratio, so that half and double are equally far.
        let search = Search {
            from: least.log2(),
            to: most.log2(),
            within: WITHIN.ln_1p() / 2.0_f64.ln(),
            parts: PARTS,
        };
        let mut reason = None;
        let answer = find(&search, |power| match worth(power.exp2()) {
            Ok(worth) => worth,
            Err(cause) => {
                reason = Some(cause.to_string());
                f64::NAN
            }
        });
        let answer = match answer {
            Ok(Answer::Crossing { at, rising, more }) => Ok(Answer::Crossing { at: at.exp2(), rising, more }),
            Ok(Answer::NeverWithin { at_from, at_to, .. }) => {
                Ok(Answer::NeverWithin { from: least, to: most, at_from, at_to })
            }
            Err(CrossingError::NotFinite { at, value }) => {
                let cause = reason.unwrap_or_else(|| format!("the present value came to {value}"));
                Err(format!("at {:.2} times what is given: {cause}", at.exp2()))
            }
            Err(cause) => Err(cause.to_string()),
        };
        Self { unit: unit.to_owned(), varied, given_m3_per_s, answer }
    }

    /// The answer in a sentence.
    pub fn sentence(&self, volume_m3: f64, show_in: ShowIn) -> String {
        let name = self.varied.name();
        let show = |factor: f64| self.shown(factor, volume_m3, show_in);
        let (least, most) = self.varied.ends();
        let given = show(1.0);
        let found = match &self.answer {
            Err(reason) => return format!("{}, {name}: not looked for, {reason}", self.unit),
            Ok(Answer::NeverWithin { at_from, .. }) => {
                let pays = if *at_from < 0.0 { "does not pay at any" } else { "pays at every" };
                format!("{pays} {name} between {} and {} ({given} given)", show(least), show(most))
            }
            Ok(Answer::Crossing { at, rising, more }) => {
                let side = if *rising { "above" } else { "below" };
                let again = match more {
                    0 => "",
                    1 => ", and turns once more further on",
                    _ => ", and turns twice more further on",
                };
                format!(
                    "pays {side} {name} {}{again} ({given} given; looked at from {} to {})",
                    show(*at),
                    show(least),
                    show(most)
                )
            }
        };
        format!("{} {found}.", self.unit)
    }

    fn shown(&self, factor: f64, volume_m3: f64, show_in: ShowIn) -> String {
        let flow = factor * self.given_m3_per_s;
        match (self.varied, show_in) {
            (Varied::TestedLeakage { pressure_pa }, _) => {
                format!("{:.2} 1/h at {pressure_pa:.0} Pa", flow * 3600.0 / volume_m3)
            }
            (_, ShowIn::Si) => format!("{:.1} L/s", flow * L_PER_M3),
            (_, ShowIn::Ip) => format!("{:.1} cfm", flow / CFM_M3_PER_S),
        }
    }

    pub(super) fn json(&self) -> Value {
        let l_per_s = |factor: f64| factor * self.given_m3_per_s * L_PER_M3;
        let (least, most) = self.varied.ends();
        let (pays, at) = match &self.answer {
            Err(_) => ("unknown", None),
            Ok(Answer::NeverWithin { at_from, .. }) if *at_from < 0.0 => ("nowhere", None),
            Ok(Answer::NeverWithin { .. }) => ("everywhere", None),
            Ok(Answer::Crossing { at, rising: true, .. }) => ("above", Some(l_per_s(*at))),
            Ok(Answer::Crossing { at, .. }) => ("below", Some(l_per_s(*at))),
        };
        let pressure =
            if let Varied::TestedLeakage { pressure_pa } = self.varied { Some(pressure_pa) } else { None };
        json!({
            "unit": self.unit,
            "varied": self.varied.name(),
            "pressure_pa": pressure,
            "given_l_per_s": l_per_s(1.0),
            "from_l_per_s": l_per_s(least),
            "to_l_per_s": l_per_s(most),
            "pays": pays,
            "at_l_per_s": at,
            "why_unknown": self.answer.as_ref().err(),
        })
    }
}

/// What all these sentences rest on.
pub fn what_if_basis() -> String {
    format!(
        "These are by present value beside {REFERENCE} with the same air and leaks, all else as given, each found by running the \
         year again, to within {:.0} %, at ten values at most; what comes and goes between them is overlooked. Fan power goes with \
         airflow. Limits are not judged again.",
        100.0 * WITHIN
    )
}

impl MoneyReport {
    /// The unit whose break-evens are of interest: the recommended one, else the best that keeps the limits.
    pub fn leader(&self) -> Option<&str> {
        let Some(Ok(Judgement { overall, .. })) = &self.judgement else { return None };
        let is_unit = |name: &&String| self.units().any(|unit| unit.unit == **name);
        match overall {
            Overall::Recommended { name } | Overall::NoneWorthIt { best: name, .. } => Some(name),
            Overall::NoClearWinner { names, .. } => names.iter().find(is_unit).map(String::as_str),
            Overall::NoneFits => None,
        }
    }

    /// The net present value of a unit where its house is another: `years` are those of that house, for this unit and for the one
    /// whose house without recovery all are compared with. Prices and the fit to bills stay as they are.
    ///
    /// # Errors
    /// [`MoneyError`]: a year is missing or a number is outside its range.
    pub fn worth_in(&self, unit: &str, years: &[HouseYear]) -> Result<f64, MoneyError> {
        let summary = RunSummary::new(years, &SummaryBasis::default())?;
        let has = |name: &str| years.iter().any(|year| year.unit == name);
        let offers = self.basis.offers.iter().filter(|offer| has(&offer.unit)).cloned().collect();
        let basis = MoneyBasis { offers, ..self.basis.clone() };
        let other = Self::with_fit(years, &summary, basis, self.fit)?;
        let worth =
            other.units().find(|account| account.unit == unit).and_then(|account| account.found.as_ref());
        worth.and_then(Found::worth).ok_or(MoneyError::NoYear { unit: unit.to_owned(), case: "unit" })
    }
}

//! The house's own bills: one scale of the modelled heating, so that its yearly fuel meets what was paid for.
//!
//! One number a year can carry one scale and no more. It stands for everything that the model does not know of the
//! house: rooms left cold, leaks, habits. What a unit saves of heating is scaled alike. Not here: what energy costs
//! ([`crate::tariff`]).

use std::fmt::Write as _;

use crate::range::{OutOfRange, Range};
use crate::tariff::Carrier;

/// Scales that are believed \[-\]. Assumed: measured houses seldom use less than half or more than twice what is
/// reckoned for them; outside, something was entered wrongly or the bill pays for something else.
pub const BELIEVED_SCALES: (f64, f64) = (0.4, 2.5);

/// Least months from which the base load is taken.
const BASE_MONTHS: usize = 3;
const DAYS_IN_MONTH: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];
const DAYS_IN_YEAR: f64 = 365.0;

const BILLED: Range = Range::new("energy on the bill", "kWh", 0.0, 1e9);
const OTHER_USES: Range = Range::new("other uses on the bill", "kWh", 0.0, 1e9);
const HEATING: Range = Range::new("modelled heating", "kWh", 1.0, 1e9);
const OTHER_ELECTRICITY: Range = Range::new("modelled electricity beside heating", "kWh", 0.0, 1e9);
const DEGREE_DAYS: Range = Range::new("heating degree-days", "K d", 10.0, 20_000.0);
const MONTH: Range = Range::new("electricity of a month", "kWh", 0.0, 1e8);

/// A year of the house's bills.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bills {
    /// What the house is heated with.
    pub heated_by: Carrier,
    /// How much of it was bought in the year \[kWh\], fuels by higher heating value, 0…1e9. Of a house heated by
    /// electricity, all of its electricity.
    pub bought_kwh: f64,
    /// How much of that was for something else \[kWh\]: hot water, cooking; with electric heating lights and appliances
    /// too, but not fans and cooling, which are modelled. `None`: all of a fuel was for heating; with electric heating
    /// it must be given.
    pub other_uses_kwh: Option<f64>,
    /// Electricity of a house heated by something else \[kWh\], 0…1e9.
    pub electricity_kwh: Option<f64>,
    /// The weather of the bill's year beside the typical year; `None`: taken for alike.
    pub degree_days: Option<DegreeDays>,
}

/// Heating degree-days of two years, to one base.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DegreeDays {
    /// Of the bill's year [K d], 10…20 000.
    pub bill: f64,
    /// Of the typical year that was modelled [K d], 10…20 000.
    pub typical: f64,
}

/// The house as it stood in the bill's year, modelled over the typical year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Modelled {
    /// Energy bought for heating \[kWh\], 1…1e9.
    pub heating_kwh: f64,
    /// Electricity for fans, cooling, preheating and what else is modelled beside heating \[kWh\], 0…1e9.
    pub other_electricity_kwh: f64,
}

/// The scale, and what it rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// Heating on the bill over heating modelled \[-\].
    pub scale: f64,
    /// Heating on the bill \[kWh\].
    pub billed_heating_kwh: f64,
    /// Heating modelled, in the weather of the bill's year \[kWh\].
    pub modelled_heating_kwh: f64,
    /// Electricity that is neither heating nor modelled: lights and appliances \[kWh\]; `None` without a bill of it.
    pub base_load_electricity_kwh: Option<f64>,
    /// No other uses were given, so all that was bought is taken for heating.
    pub all_for_heating: bool,
    /// No degree-days were given, so the bill's year is taken for a typical one.
    pub weather_taken_for_typical: bool,
}

/// Why no scale is fitted.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum BillsError {
    /// A number outside its range.
    #[error("bills: {0}")]
    OutOfRange(#[from] OutOfRange),
    /// Electric heating cannot be told from lights by one number.
    #[error(
        "bills: the house is heated by electricity; say how much of {bought_kwh:.0} kWh was for other uses (lights, \
         appliances, hot water), else heating cannot be told from them"
    )]
    OtherUsesNeeded {
        /// All electricity.
        bought_kwh: f64,
    },
    /// The other uses leave nothing for heating.
    #[error(
        "bills: {bought_kwh:.0} kWh of {} were bought and {other_kwh:.0} kWh went to other uses: nothing is left for \
         heating", carrier.name()
    )]
    NothingLeft {
        /// The heating's carrier.
        carrier: Carrier,
        /// What was bought.
        bought_kwh: f64,
        /// Other uses, with those that are modelled.
        other_kwh: f64,
    },
    /// Less electricity on the bill than the model uses for fans and cooling alone.
    #[error(
        "bills: {billed_kwh:.0} kWh of electricity were bought, but {modelled_kwh:.0} kWh are modelled for fans, \
         cooling and preheating alone: is the house of the bill modelled, or one with more in it?"
    )]
    ElectricityBelowModel {
        /// On the bill.
        billed_kwh: f64,
        /// Modelled.
        modelled_kwh: f64,
    },
    /// A scale that is not believed.
    #[error(
        "bills: the bill has {billed_kwh:.0} kWh for heating, the model {modelled_kwh:.0} kWh: a scale of {scale:.2}, \
         outside {} to {}; {}", BELIEVED_SCALES.0, BELIEVED_SCALES.1, look_for(*scale)
    )]
    NotBelieved {
        /// What the scale would be.
        scale: f64,
        /// Heating on the bill.
        billed_kwh: f64,
        /// Heating modelled, in the weather of the bill's year.
        modelled_kwh: f64,
    },
}

fn look_for(scale: f64) -> &'static str {
    if scale < 1.0 {
        "look at set-point, leakage and heat loss in the study, at rooms left cold, at a second heater that this bill \
         does not pay"
    } else {
        "look at heat loss, leakage and the heating's efficiency in the study, at hot water and other uses that this \
         bill pays too"
    }
}

/// Fits the scale with which the modelled heating meets the bill.
///
/// `scale = (bought − other uses)/(modelled · HDD_bill/HDD_typical)`; with electric heating, modelled electricity beside
/// heating is taken off too. Base-load electricity is what the bill has beyond heating and what is modelled.
///
/// # Errors
/// [`BillsError`]: a number outside its range, nothing left for heating, a scale outside [`BELIEVED_SCALES`].
pub fn fit(bills: &Bills, modelled: &Modelled) -> Result<Fit, BillsError> {
    let bought_kwh = BILLED.check(bills.bought_kwh)?;
    let given_kwh = bills.other_uses_kwh.map(|kwh| OTHER_USES.check(kwh)).transpose()?;
    let heating_kwh = HEATING.check(modelled.heating_kwh)?;
    let fans_kwh = OTHER_ELECTRICITY.check(modelled.other_electricity_kwh)?;
    let billed_electricity = bills.electricity_kwh.map(|kwh| BILLED.check(kwh)).transpose()?;
    let (other_kwh, base_load_electricity_kwh) = if bills.heated_by == Carrier::Electricity {
        let given_kwh = given_kwh.ok_or(BillsError::OtherUsesNeeded { bought_kwh })?;
        (given_kwh + fans_kwh, Some(given_kwh))
    } else {
        let base = billed_electricity.map(|billed_kwh| base_load(billed_kwh, fans_kwh)).transpose()?;
        (given_kwh.unwrap_or(0.0), base)
    };
    let billed_heating_kwh = bought_kwh - other_kwh;
    if billed_heating_kwh <= 0.0 {
        return Err(BillsError::NothingLeft { carrier: bills.heated_by, bought_kwh, other_kwh });
    }
    let modelled_heating_kwh = heating_kwh * colder(bills.degree_days)?;
    let scale = billed_heating_kwh / modelled_heating_kwh;
    let (low, high) = BELIEVED_SCALES;
    if !(low..=high).contains(&scale) {
        let (billed_kwh, modelled_kwh) = (billed_heating_kwh, modelled_heating_kwh);
        return Err(BillsError::NotBelieved { scale, billed_kwh, modelled_kwh });
    }
    Ok(Fit {
        scale,
        billed_heating_kwh,
        modelled_heating_kwh,
        base_load_electricity_kwh,
        all_for_heating: given_kwh.is_none(),
        weather_taken_for_typical: bills.degree_days.is_none(),
    })
}

fn base_load(billed_kwh: f64, modelled_kwh: f64) -> Result<f64, BillsError> {
    if billed_kwh < modelled_kwh {
        Err(BillsError::ElectricityBelowModel { billed_kwh, modelled_kwh })
    } else {
        Ok(billed_kwh - modelled_kwh)
    }
}

/// By how much the bill's year was colder than the typical one.
fn colder(degree_days: Option<DegreeDays>) -> Result<f64, OutOfRange> {
    let Some(DegreeDays { bill, typical }) = degree_days else { return Ok(1.0) };
    Ok(DEGREE_DAYS.check(bill)? / DEGREE_DAYS.check(typical)?)
}

impl Fit {
    /// Modelled heating, of this or any other case of the same house, as the bill would have it \[kWh\].
    pub fn scaled_kwh(&self, heating_kwh: f64) -> f64 {
        self.scale * heating_kwh
    }

    /// What was fitted, in a sentence, with what was taken for granted.
    pub fn told(&self) -> String {
        let mut told = format!(
            "Modelled heating is multiplied by {:.2}, so that {:.0} kWh meet the {:.0} kWh on the bill.",
            self.scale, self.modelled_heating_kwh, self.billed_heating_kwh
        );
        if let Some(base) = self.base_load_electricity_kwh {
            let _ = write!(
                told,
                " {base:.0} kWh of electricity are lights and appliances, which no unit changes."
            );
        }
        if self.all_for_heating {
            told += " All that was bought is taken for heating.";
        }
        if self.weather_taken_for_typical {
            told += " The year of the bill is taken for a typical one.";
        }
        told
    }
}

/// Base load of a year \[kWh\] from the electricity of its twelve months: that of the three months with least a day, all
/// year round. Assumed to be months with neither heating nor cooling.
///
/// # Errors
/// [`BillsError::OutOfRange`] unless every month is 0…1e8 kWh.
pub fn base_load_of_months(months_kwh: &[f64; 12]) -> Result<f64, BillsError> {
    let mut months = [(0.0, 0.0); 12];
    for ((month, &kwh), &days) in months.iter_mut().zip(months_kwh).zip(&DAYS_IN_MONTH) {
        *month = (MONTH.check(kwh)?, days);
    }
    months.sort_by(|a, b| (a.0 / a.1).total_cmp(&(b.0 / b.1)));
    let least = months.iter().take(BASE_MONTHS);
    let (kwh, days) = least.fold((0.0, 0.0), |sum, month| (sum.0 + month.0, sum.1 + month.1));
    Ok(kwh / days * DAYS_IN_YEAR)
}

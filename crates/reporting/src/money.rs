//! What units cost and save, at equal outdoor air: bills, present value, break-evens, a recommendation.
//!
//! A unit that misses outdoor air is reckoned with that air made up (the held pair), else as it was run. All are set beside one
//! house: that without recovery which costs least of all units'. Not here: how bills, worth and verdicts are reckoned (crate
//! `economics`), the columns (`money/columns.rs`), the words (`money/words.rs`).

mod account;
mod columns;
mod found;
mod what_if;
mod words;

use economics::OutOfRange;
use economics::bills::{Bills, BillsError, Fit, Modelled};
use economics::tariff::{Carrier, Tariff, TariffError};
use economics::verdict::{Figures, Indoors, Judgement, Reference, Rules, VerdictError};
use economics::worth::{Purchase, Terms, life_cycle};
use simulation::results::{Case, HouseYear};

use crate::{Figure, ReportError, Row, RunSummary};

pub use account::{Account, CarrierYear};
pub use columns::{MONEY_KEYS, MoneyColumn, money_columns, money_csv, money_json};
pub use found::{BreakEven, Found};
pub use what_if::{Varied, WhatIf, what_if_basis};
pub use words::{money_notes, money_table};

/// What the house without recovery is called beside the units.
pub(crate) const REFERENCE: &str = "no recovery";

/// What the reckoning needs to know beside the years.
#[derive(Debug, Clone, PartialEq)]
pub struct MoneyBasis {
    /// Three letters.
    pub currency: String,
    /// One a carrier; those of other carriers than the house buys are left aside.
    pub tariffs: Vec<Tariff>,
    /// Discount rate and horizon.
    pub terms: Terms,
    /// What heats the house.
    pub heated_by: Carrier,
    /// What cools it.
    pub cooled_by: Carrier,
    /// What each unit costs.
    pub offers: Vec<UnitOffer>,
    /// A year of the house's own bills, and which house they were of; `None`: heating is taken as modelled.
    pub bills: Option<(Bills, Case)>,
    /// Limits of a recommendation.
    pub rules: Rules,
}

/// What a unit costs.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitOffer {
    /// The unit's name.
    pub unit: String,
    /// With installation, beyond ventilation without recovery; `None`: unknown.
    pub price: Option<f64>,
    /// Filters, washing, service in a year.
    pub upkeep_per_year: f64,
    /// Years until it is bought again, 1…100.
    pub life_years: f64,
}

impl UnitOffer {
    fn purchase(&self) -> Purchase {
        Purchase {
            price: self.price.unwrap_or(0.0),
            upkeep_per_year: self.upkeep_per_year,
            life_years: self.life_years,
            escalation_per_year: 0.0,
        }
    }
}

/// Everything that is said of money.
#[derive(Debug, Clone, PartialEq)]
pub struct MoneyReport {
    /// What it rests on.
    pub basis: MoneyBasis,
    /// The fit to the house's bills.
    pub fit: Option<Fit>,
    /// A unit, its house without recovery, its house with an extract fan; then the next unit.
    pub accounts: Vec<Account>,
    /// Which of them all others are compared with.
    pub reference: usize,
    /// Units that have a price, judged; `None` where none has one; the reason where they cannot be compared.
    pub judgement: Option<Result<Judgement, VerdictError>>,
    /// All units judged by limits alone, those without a price too.
    pub by_limits: Result<Judgement, VerdictError>,
    /// At which airflow and leakage the leading unit pays, where it was asked.
    pub what_if: Vec<WhatIf>,
}

/// Why nothing is said of money.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MoneyError {
    /// A table that could not be made.
    #[error(transparent)]
    Report(#[from] ReportError),
    /// A tariff that does not hold.
    #[error(transparent)]
    Tariff(#[from] TariffError),
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Bills that do not fit the house.
    #[error(transparent)]
    Bills(#[from] BillsError),
    /// A carrier without a tariff.
    #[error("there is no tariff of {}", .0.name())]
    NoTariff(Carrier),
    /// A year that was not run.
    #[error("the house-year `{unit}`, {case}, is needed and was not run")]
    NoYear {
        /// Unit.
        unit: String,
        /// Case.
        case: &'static str,
    },
}

impl MoneyReport {
    /// Reckons the years of a run.
    ///
    /// # Errors
    /// [`MoneyError`]: a carrier without a tariff, bills that do not fit, a number outside its range.
    pub fn new(years: &[HouseYear], summary: &RunSummary, basis: MoneyBasis) -> Result<Self, MoneyError> {
        let fit = basis.bills.as_ref().map(|bills| fit(bills, summary, &basis)).transpose()?;
        Self::with_fit(years, summary, basis, fit)
    }

    fn with_fit(
        years: &[HouseYear],
        summary: &RunSummary,
        basis: MoneyBasis,
        fit: Option<Fit>,
    ) -> Result<Self, MoneyError> {
        let mut accounts = Vec::new();
        for offer in &basis.offers {
            let held = summary.find(&offer.unit, Case::UnitHeld).is_some();
            let pair =
                if held { [Case::UnitHeld, Case::NoRecoveryHeld] } else { [Case::Unit, Case::NoRecovery] };
            let beside = summary.find(&offer.unit, Case::ExtractOnly).map(|_| Case::ExtractOnly);
            for case in pair.into_iter().chain(beside) {
                let pick = |year: &&HouseYear| year.unit == offer.unit && year.case == case;
                let missing = || MoneyError::NoYear { unit: offer.unit.clone(), case: crate::case_key(case) };
                let year = years.iter().find(pick).ok_or_else(missing)?;
                let row = summary.find(&offer.unit, case).ok_or_else(missing)?;
                // The extract fan draws in, hour by hour, what the unit delivers.
                let air_of = if case == Case::ExtractOnly { Case::Unit } else { case };
                let air = summary.find(&offer.unit, air_of).ok_or_else(missing)?;
                let bought = pair[0] == case;
                let mut account = Account::new((year, row), bought.then_some(offer), &basis, fit.as_ref())?;
                account.outdoor_air_m3 = air.year(Figure::OutdoorAirM3);
                accounts.push(account);
            }
        }
        let reference = cheapest(&accounts, &basis.terms)?;
        let house = accounts[reference].clone();
        for account in &mut accounts {
            account.found = Some(Found::new(account, &house, &basis)?);
        }
        let all = figures(summary, &accounts, |_| true);
        let priced = figures(summary, &accounts, |account| account.price.is_some());
        let house = reference_of(summary, &accounts[reference]);
        let judge = |units: &[Figures]| economics::verdict::judge(units, &house, &basis.rules);
        let judgement = (!priced.is_empty()).then(|| judge(&priced));
        let by_limits = judge(&all);
        Ok(Self { basis, fit, accounts, reference, judgement, by_limits, what_if: Vec::new() })
    }

    /// The house with an extract fan whose outdoor air is nearest to equal: that of the unit that misses least.
    pub fn extract_only(&self) -> Option<&Account> {
        let air = |account: &Account| account.outdoor_air_m3.value().unwrap_or(0.0);
        let fans = self.accounts.iter().filter(|account| account.case == Case::ExtractOnly);
        fans.reduce(|most, fan| if air(fan) > air(most) { fan } else { most })
    }

    /// The accounts of units, in the study's order.
    pub fn units(&self) -> impl Iterator<Item = &Account> {
        self.accounts.iter().filter(|account| account.is_unit())
    }
}

fn fit((bills, case): &(Bills, Case), summary: &RunSummary, basis: &MoneyBasis) -> Result<Fit, MoneyError> {
    let row = summary.rows.iter().find(|row| row.case == *case);
    let row = row.ok_or(MoneyError::NoYear { unit: String::new(), case: crate::case_key(*case) })?;
    let other_electricity_kwh = account::electricity_beside_heating(row, basis.cooled_by);
    let heating_kwh = account::figure(row, Figure::HeatingKwh);
    Ok(economics::bills::fit(bills, &Modelled { heating_kwh, other_electricity_kwh })?)
}

/// The house without recovery whose energy costs least over the years looked at.
fn cheapest(accounts: &[Account], terms: &Terms) -> Result<usize, MoneyError> {
    let mut best: Option<(usize, f64)> = None;
    for (at, account) in accounts.iter().enumerate() {
        if !matches!(account.case, Case::NoRecovery | Case::NoRecoveryHeld) {
            continue;
        }
        let cost = life_cycle(&account.offer, terms)?.total();
        if best.is_none_or(|(_, least)| cost < least) {
            best = Some((at, cost));
        }
    }
    let none = MoneyError::NoYear { unit: String::new(), case: crate::case_key(Case::NoRecovery) };
    best.map(|(at, _)| at).ok_or(none)
}

/// What a verdict needs of each unit: rooms, ice and missed air as it was run; air and money at equal air.
fn figures(summary: &RunSummary, accounts: &[Account], wanted: impl Fn(&Account) -> bool) -> Vec<Figures> {
    let units = accounts.iter().filter(|account| account.is_unit() && wanted(account));
    units
        .filter_map(|account| {
            let run = summary.find(&account.unit, Case::Unit)?;
            let of = |figure| account::figure(run, figure);
            let (missed, brought) = (of(Figure::MissedAirM3), of(Figure::OutdoorAirM3));
            let meant = missed + brought;
            Some(Figures {
                name: account.unit.clone(),
                price: account.price.unwrap_or(0.0),
                net_present_value: account.found.as_ref().and_then(Found::worth).unwrap_or(0.0),
                outdoor_air_m3: account.outdoor_air_m3.value().unwrap_or(0.0),
                indoors: indoors(run),
                blocked_h: of(Figure::BlockedH),
                missed_air_share: if meant > 0.0 { missed / meant } else { 0.0 },
                air_short_h: of(Figure::AirShortH),
                preheat_kwh: of(Figure::PreheatKwh),
            })
        })
        .collect()
}

fn reference_of(summary: &RunSummary, account: &Account) -> Reference {
    let run = summary.find(&account.unit, Case::NoRecovery);
    let nothing = Indoors {
        rh_below_30_h: 0.0,
        rh_above_60_h: 0.0,
        rh_winter_mean_pct: None,
        window_wet_h: None,
        mould_index_max: None,
    };
    Reference {
        name: REFERENCE.to_owned(),
        outdoor_air_m3: account.outdoor_air_m3.value().unwrap_or(0.0),
        indoors: run.map_or(nothing, indoors),
    }
}

fn indoors(row: &Row) -> Indoors {
    Indoors {
        rh_below_30_h: account::figure(row, Figure::RhBelow30H),
        rh_above_60_h: account::figure(row, Figure::RhAbove60H),
        rh_winter_mean_pct: row.year(Figure::RhWinterMeanPct).value(),
        window_wet_h: row.year(Figure::WindowWetH).value(),
        mould_index_max: row.year(Figure::MouldIndexMax).value(),
    }
}

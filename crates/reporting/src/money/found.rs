//! How an account stands beside the reference: savings, life-cycle cost, payback, break-evens.
//!
//! Not here: the formulas (`economics::worth`, `economics::crossing`).

use economics::crossing::{price_at_break_even, tariff_at_break_even};
use economics::tariff::{Carrier, Price};
use economics::worth::{Payback, Stream, against, hardware_factor, levelised_cost_per_kwh, life_cycle};

use super::account::{DECIMALS, tariff_of};
use super::{Account, MoneyBasis, MoneyError};
use crate::Cell;

/// Less saved or used than this has no break-even price worth naming \[kWh\].
const LEAST_KWH: f64 = 1.0;
/// Decimals of a price of energy.
pub(super) const PRICE_DECIMALS: u8 = 5;

/// An account beside the reference.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Energy, connections and upkeep saved in a year.
    pub saving: Cell,
    /// Energy bought saved in a year \[kWh\].
    pub site_kwh: Cell,
    /// Carbon dioxide saved in a year \[kg\].
    pub carbon_kg: Cell,
    /// Energy taken from nature saved in a year \[kWh\].
    pub source_kwh: Cell,
    /// The parts of the life-cycle cost; `None` for a unit without a price.
    pub life: Option<Life>,
    /// The price at which a unit is worth what it costs; `None` where there is no unit.
    pub break_even_price: Option<f64>,
    /// Today's cost of each unit of today's price: with replacements, less what is left at the horizon.
    pub hardware_factor: f64,
    /// Prices of energy at which a unit with a price is worth what it costs.
    pub break_evens: Vec<BreakEven>,
}

/// Life-cycle cost, printed, and what follows from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// First price.
    pub price: Cell,
    /// Bought again within the horizon.
    pub replacements: Cell,
    /// What is left at the horizon, negative.
    pub residual: Cell,
    /// Upkeep.
    pub upkeep: Cell,
    /// Energy and connections.
    pub energy: Cell,
    /// That of the reference less this.
    pub net_present_value: Cell,
    /// Extra price over saving.
    pub simple_payback: Payback,
    /// With discount and escalation.
    pub discounted_payback: Payback,
    /// Cost of each kWh saved; `None` where none is.
    pub levelised_per_kwh: Option<f64>,
}

/// A price of energy that would change whether a unit pays.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BreakEven {
    /// Of what.
    pub carrier: Carrier,
    /// As a multiple of today's prices, every band alike; `None` where today's saving of it is no money.
    pub times_today: Option<f64>,
    /// Money for a kWh, where one price holds in all hours.
    pub per_kwh: Option<f64>,
    /// Whether the unit saves of it, and so pays from this price on; else it pays up to this price.
    pub saves: bool,
}

impl Life {
    /// All parts together.
    pub fn total(&self) -> Cell {
        Cell::sum([self.price, self.replacements, self.residual, self.upkeep, self.energy])
    }
}

impl Found {
    pub(super) fn new(
        account: &Account,
        reference: &Account,
        basis: &MoneyBasis,
    ) -> Result<Self, MoneyError> {
        let less = |of: fn(&Account) -> Cell| Cell::sum([of(reference), of(account).negated()]);
        let unpriced = account.is_unit() && account.price.is_none();
        let savings = savings(account, reference);
        let purchase = &account.offer.purchase;
        let upkeep = Stream {
            money_per_year: reference.offer.purchase.upkeep_per_year - purchase.upkeep_per_year,
            escalation_per_year: 0.0,
        };
        let streams: Vec<Stream> = savings.iter().map(|(_, stream)| *stream).chain([upkeep]).collect();
        let break_even_price = if account.is_unit() {
            Some(price_at_break_even(purchase, &streams, &basis.terms)?)
        } else {
            None
        };
        let break_evens = if account.is_unit() && !unpriced {
            break_evens(account, reference, basis, (&savings, upkeep))?
        } else {
            Vec::new()
        };
        Ok(Self {
            saving: less(Account::running),
            site_kwh: less(Account::site_kwh),
            carbon_kg: less(Account::carbon_kg),
            source_kwh: less(Account::source_kwh),
            life: if unpriced { None } else { Some(life(account, reference, basis)?) },
            break_even_price,
            hardware_factor: hardware_factor(purchase, &basis.terms)?,
            break_evens,
        })
    }

    /// Net present value, where there is one.
    pub fn worth(&self) -> Option<f64> {
        self.life.as_ref().and_then(|life| life.net_present_value.value())
    }
}

/// What is saved of each carrier in a year, in money.
fn savings(account: &Account, reference: &Account) -> Vec<(Carrier, Stream)> {
    let pairs = account.carriers.iter().zip(reference.offer.energy.iter().zip(&account.offer.energy));
    pairs
        .map(|(year, (without, with))| {
            let money_per_year = without.money_per_year - with.money_per_year;
            (year.carrier, Stream { money_per_year, escalation_per_year: with.escalation_per_year })
        })
        .collect()
}

fn life(account: &Account, reference: &Account, basis: &MoneyBasis) -> Result<Life, MoneyError> {
    let parts = |account: &Account| -> Result<Life, MoneyError> {
        let cost = life_cycle(&account.offer, &basis.terms)?;
        let cell = |value: f64| Cell::rounded(value, DECIMALS);
        Ok(Life {
            price: cell(cost.price)?,
            replacements: cell(cost.replacements)?,
            residual: cell(-cost.residual)?,
            upkeep: cell(cost.upkeep)?,
            energy: cell(cost.energy)?,
            net_present_value: Cell::Empty,
            simple_payback: Payback::AtOnce,
            discounted_payback: Payback::AtOnce,
            levelised_per_kwh: None,
        })
    };
    let (own, house) = (parts(account)?, parts(reference)?);
    let beside = against(&account.offer, &reference.offer, &basis.terms)?;
    let saved = |account: &Account| account.site_kwh().value().unwrap_or(0.0);
    let saved_kwh = saved(reference) - saved(account);
    let levelised_per_kwh = if account.is_unit() && saved_kwh >= LEAST_KWH {
        let hardware = life_cycle(&account.offer, &basis.terms)?.hardware();
        let upkeep = account.offer.purchase.upkeep_per_year;
        Some(levelised_cost_per_kwh(hardware, upkeep, saved_kwh, &basis.terms)?)
    } else {
        None
    };
    Ok(Life {
        net_present_value: Cell::sum([house.total(), own.total().negated()]),
        simple_payback: beside.simple_payback,
        discounted_payback: beside.discounted_payback,
        levelised_per_kwh,
        ..own
    })
}

fn break_evens(
    account: &Account,
    reference: &Account,
    basis: &MoneyBasis,
    (savings, upkeep): (&[(Carrier, Stream)], Stream),
) -> Result<Vec<BreakEven>, MoneyError> {
    let hardware = life_cycle(&account.offer, &basis.terms)?.hardware();
    let mut found = Vec::new();
    for (carrier, stream) in savings {
        let kwh = |account: &Account| account.of(*carrier).map_or(0.0, |year| year.bill.site_kwh);
        let saved_kwh = kwh(reference) - kwh(account);
        if saved_kwh.abs() < LEAST_KWH {
            continue;
        }
        let others = savings.iter().filter(|(other, _)| other != carrier).map(|(_, stream)| *stream);
        let others: Vec<Stream> = others.chain([upkeep]).collect();
        let at = |saved: f64| at_break_even(hardware, saved, &others, (stream.escalation_per_year, basis));
        let tariff = tariff_of(*carrier, basis)?;
        let per_kwh = if matches!(tariff.price, Price::Flat(_)) { Some(at(saved_kwh)?) } else { None };
        let times_today = if stream.money_per_year == 0.0 { None } else { Some(at(stream.money_per_year)?) };
        found.push(BreakEven { carrier: *carrier, times_today, per_kwh, saves: saved_kwh > 0.0 });
    }
    Ok(found)
}

/// The formula holds for what is used more as well, with every sign turned.
fn at_break_even(
    hardware: f64,
    saved: f64,
    others: &[Stream],
    (escalation_per_year, basis): (f64, &MoneyBasis),
) -> Result<f64, MoneyError> {
    if saved > 0.0 {
        return Ok(tariff_at_break_even(hardware, saved, escalation_per_year, others, &basis.terms)?);
    }
    let turned: Vec<Stream> =
        others.iter().map(|other| Stream { money_per_year: -other.money_per_year, ..*other }).collect();
    Ok(tariff_at_break_even(-hardware, -saved, escalation_per_year, &turned, &basis.terms)?)
}

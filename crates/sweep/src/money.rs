//! What the houses of a run cost: bills from the year's sums, and each unit's worth beside one house, as `money.csv` of `run` has it.
//!
//! The house that all units of a run are set beside is that without recovery which costs least of all units', every house at
//! equal outdoor air. A sweep keeps no hours, so that prices by the hour, and a heating scaled to the house's bills, give no
//! figures here. Not here: the formulas (crate `economics`).

use economics::OutOfRange;
use economics::tariff::{Carrier, Price, TariffError};
use economics::worth::{Offer, Payback, Purchase, against, life_cycle};
use simulation::Totals;
use study::{Money, Study, Unit};

const WH_PER_KWH: f64 = 1000.0;

/// Money of a unit in a run, in the study's currency.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct UnitMoney {
    /// Energy, connections and upkeep of a year.
    pub running: f64,
    /// What is saved of that beside the reference.
    pub saving: f64,
    /// What a unit with a price is worth; `None` of one without.
    pub worth: Option<Worth>,
}

/// What a unit comes to over the horizon.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Worth {
    /// Price, replacements, upkeep and energy, less what is left, in today's money.
    pub life_cycle: f64,
    /// Life-cycle cost of the reference less this.
    pub net_present_value: f64,
    /// Price over saving a year; `None` where it never comes back.
    pub simple_payback_years: Option<f64>,
    /// With discount and escalation; `None` where it is not within the unit's life.
    pub discounted_payback_years: Option<f64>,
}

/// Why there are no figures.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub(crate) enum NoMoney {
    #[error(transparent)]
    Tariff(#[from] TariffError),
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// What the units of a run cost, in the study's order; `None` where the study says nothing of money, has prices by the hour, or
/// bills.
pub(crate) fn of_run(study: &Study, pairs: &[[Totals<f64>; 2]]) -> Result<Option<Vec<UnitMoney>>, NoMoney> {
    let Some(money) = study.money.as_ref().filter(|money| money.bills.is_none()) else { return Ok(None) };
    let mut reference: Option<(f64, Offer)> = None;
    for [_, without] in pairs {
        let Some(house) = offer(study, money, without, Purchase::NONE)? else { return Ok(None) };
        let cost = life_cycle(&house, &money.terms)?.total();
        if reference.as_ref().is_none_or(|(least, _)| cost < *least) {
            reference = Some((cost, house));
        }
    }
    let Some((_, house)) = reference else { return Ok(None) };
    let mut units = Vec::with_capacity(pairs.len());
    for (unit, [with, _]) in study.units.iter().zip(pairs) {
        let Some(own) = offer(study, money, with, purchase(unit))? else { return Ok(None) };
        units.push(beside(unit, &own, &house, money)?);
    }
    Ok(Some(units))
}

fn purchase(unit: &Unit) -> Purchase {
    Purchase {
        price: unit.cost.price.unwrap_or(0.0),
        upkeep_per_year: unit.cost.upkeep_per_year,
        life_years: unit.cost.life_years,
        escalation_per_year: 0.0,
    }
}

fn beside(unit: &Unit, own: &Offer, house: &Offer, money: &Money) -> Result<UnitMoney, OutOfRange> {
    let found = against(own, house, &money.terms)?;
    let (running, saving) = (running(own), running(house) - running(own));
    if unit.cost.price.is_none() {
        return Ok(UnitMoney { running, saving, worth: None });
    }
    let worth = Worth {
        life_cycle: life_cycle(own, &money.terms)?.total(),
        net_present_value: found.net_present_value,
        simple_payback_years: years(found.simple_payback),
        discounted_payback_years: years(found.discounted_payback),
    };
    Ok(UnitMoney { running, saving, worth: Some(worth) })
}

fn running(offer: &Offer) -> f64 {
    offer.energy.iter().map(|stream| stream.money_per_year).sum::<f64>() + offer.purchase.upkeep_per_year
}

/// 0 where there is nothing to come back.
fn years(payback: Payback) -> Option<f64> {
    match payback {
        Payback::AtOnce => Some(0.0),
        Payback::After(years) => Some(years),
        Payback::NotWithin(_) | Payback::Never | Payback::LeadGoneAfter(_) => None,
    }
}

fn offer(
    study: &Study,
    money: &Money,
    totals: &Totals<f64>,
    purchase: Purchase,
) -> Result<Option<Offer>, NoMoney> {
    let heated = study.house.heating.source.bought_as();
    let cooled =
        study.house.cooling.as_ref().map_or(Carrier::Electricity, |cooling| cooling.source.bought_as());
    let mut energy = Vec::new();
    for carrier in Carrier::ALL {
        if carrier != Carrier::Electricity && carrier != heated && carrier != cooled {
            continue;
        }
        let Some(tariff) = money.tariffs.iter().find(|tariff| tariff.carrier == carrier) else {
            return Ok(None);
        };
        if !matches!(tariff.price, Price::Flat(_)) {
            return Ok(None);
        }
        let mut bought_wh = 0.0;
        if carrier == heated {
            bought_wh += totals.heating_site_wh;
        }
        if carrier == cooled {
            bought_wh += totals.cooling_site_wh;
        }
        if carrier == Carrier::Electricity {
            bought_wh += electricity_wh(totals);
        }
        energy.push(tariff.stream(&tariff.cost_of_year(bought_wh / WH_PER_KWH)?));
    }
    Ok(Some(Offer { purchase, energy }))
}

/// Electricity of a year beside heating and cooling.
fn electricity_wh(totals: &Totals<f64>) -> f64 {
    totals.fan_wh + totals.preheat_wh + totals.blower_wh + totals.humidifier_wh + totals.dehumidifier_wh
}

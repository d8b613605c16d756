//! What a house-year of a sweep costs: bills from the year's sums, and the unit's worth beside its own baseline.
//!
//! A sweep keeps no hours, so that prices by the hour, and a heating scaled to the house's bills, give no figures here; nor is
//! missed outdoor air made up first, as `run` does. Not here: the formulas (crate `economics`).

use economics::OutOfRange;
use economics::tariff::{Carrier, Price, TariffError};
use economics::worth::{Offer, Purchase, against};
use simulation::Totals;
use study::{Money, Study, Unit};

const WH_PER_KWH: f64 = 1000.0;

/// Money of a pair, in the study's currency.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PairMoney {
    /// Energy, connections and upkeep of a year, with the unit.
    pub running_per_year: f64,
    /// The same without recovery.
    pub without_per_year: f64,
    /// Present worth of the unit over the horizon; `None` for a unit without a price.
    pub net_present_value: Option<f64>,
}

/// Why there are no figures.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub(crate) enum NoMoney {
    #[error(transparent)]
    Tariff(#[from] TariffError),
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// What a pair costs; `None` where the study says nothing of money, has prices by the hour, or bills.
pub(crate) fn of_pair(
    study: &Study,
    unit: &Unit,
    [with, without]: &[Totals<f64>; 2],
) -> Result<Option<PairMoney>, NoMoney> {
    let Some(money) = study.money.as_ref().filter(|money| money.bills.is_none()) else { return Ok(None) };
    let cost = &unit.cost;
    let purchase = Purchase {
        price: cost.price.unwrap_or(0.0),
        upkeep_per_year: cost.upkeep_per_year,
        life_years: cost.life_years,
        escalation_per_year: 0.0,
    };
    let Some(own) = offer(study, money, with, purchase)? else { return Ok(None) };
    let Some(house) = offer(study, money, without, Purchase::NONE)? else { return Ok(None) };
    let beside = against(&own, &house, &money.terms)?;
    let sum = |offer: &Offer| offer.energy.iter().map(|stream| stream.money_per_year).sum::<f64>();
    Ok(Some(PairMoney {
        running_per_year: sum(&own) + purchase.upkeep_per_year,
        without_per_year: sum(&house),
        net_present_value: cost.price.map(|_| beside.net_present_value),
    }))
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

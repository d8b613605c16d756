//! A house-year's energy by carrier, with what it costs.
//!
//! Energy is that of `annual.csv` to the printed digit; money comes from the hours, for prices may differ by hour.
//! Not here: how one account stands beside another (`money/found.rs`).

use economics::bills::Fit;
use economics::tariff::{Bill, Carrier, Tariff};
use economics::worth::{Offer, Purchase};
use simulation::results::{Case, Hourly, HouseYear};

use super::{Found, MoneyBasis, MoneyError, UnitOffer};
use crate::{Cell, Figure, Row};

const WATTS_PER_KILOWATT: f64 = 1000.0;
/// Decimals of money, energy and carbon.
pub(crate) const DECIMALS: u8 = 2;

/// Electricity beside heating and cooling, as `annual.csv` names it.
const ELECTRIC: [Figure; 5] =
    [Figure::FanKwh, Figure::PreheatKwh, Figure::BlowerKwh, Figure::HumidifyingKwh, Figure::DehumidifyingKwh];

/// A year of one house.
#[derive(Debug, Clone, PartialEq)]
pub struct Account {
    /// The unit's name.
    pub unit: String,
    /// Which house.
    pub case: Case,
    /// Outdoor air brought in; by an extract fan, as much as its unit brings in as it runs \[m³\].
    pub outdoor_air_m3: Cell,
    /// One a carrier that the house buys, in the order of [`Carrier::ALL`].
    pub carriers: Vec<CarrierYear>,
    /// Upkeep of the unit in a year; 0 where there is none.
    pub upkeep: Cell,
    /// The unit's price; `None` where there is no unit or its price is unknown.
    pub price: Option<f64>,
    /// The same as the reckoning of present values takes it.
    pub offer: Offer,
    /// How it stands beside the reference.
    pub found: Option<Found>,
}

/// A year of one carrier.
#[derive(Debug, Clone, PartialEq)]
pub struct CarrierYear {
    /// What is bought.
    pub carrier: Carrier,
    /// Energy bought \[kWh\].
    pub site_kwh: Cell,
    /// Money for it, without the connection.
    pub energy: Cell,
    /// Money for the connection.
    pub standing: Cell,
    /// Carbon dioxide \[kg\].
    pub carbon_kg: Cell,
    /// Energy taken from nature \[kWh\].
    pub source_kwh: Cell,
    /// The bill before rounding.
    pub bill: Bill,
}

impl Account {
    pub(super) fn new(
        (year, row): (&HouseYear, &Row),
        offer: Option<&UnitOffer>,
        basis: &MoneyBasis,
        fit: Option<&Fit>,
    ) -> Result<Self, MoneyError> {
        let scale = fit.map_or(1.0, |fit| fit.scale);
        let mut carriers = Vec::new();
        let mut energy = Vec::new();
        for carrier in Carrier::ALL.into_iter().filter(|carrier| is_bought(*carrier, basis)) {
            let tariff = tariff_of(carrier, basis)?;
            let bill = tariff.cost(hours_kwh(&year.hourly, carrier, basis, scale))?;
            energy.push(tariff.stream(&bill));
            carriers.push(CarrierYear::new(bill, site_kwh(row, carrier, basis, scale)?, tariff)?);
        }
        let purchase = offer.map_or(Purchase::NONE, UnitOffer::purchase);
        Ok(Self {
            unit: year.unit.clone(),
            case: year.case,
            outdoor_air_m3: row.year(Figure::OutdoorAirM3),
            carriers,
            upkeep: Cell::rounded(purchase.upkeep_per_year, DECIMALS)?,
            price: offer.and_then(|offer| offer.price),
            offer: Offer { purchase, energy },
            found: None,
        })
    }

    /// Whether it is that of a unit, not of a house beside it.
    pub fn is_unit(&self) -> bool {
        matches!(self.case, Case::Unit | Case::UnitHeld)
    }

    fn sum(&self, of: impl Fn(&CarrierYear) -> Cell) -> Cell {
        Cell::sum(self.carriers.iter().map(of))
    }

    /// Energy bought, of all carriers \[kWh\].
    pub fn site_kwh(&self) -> Cell {
        self.sum(|year| year.site_kwh)
    }

    /// Energy taken from nature \[kWh\].
    pub fn source_kwh(&self) -> Cell {
        self.sum(|year| year.source_kwh)
    }

    /// Carbon dioxide \[kg\].
    pub fn carbon_kg(&self) -> Cell {
        self.sum(|year| year.carbon_kg)
    }

    /// Money for the connections.
    pub fn standing(&self) -> Cell {
        self.sum(|year| year.standing)
    }

    /// Money for energy and connections.
    pub fn energy(&self) -> Cell {
        Cell::sum([self.sum(|year| year.energy), self.standing()])
    }

    /// Money for energy, connections and upkeep.
    pub fn running(&self) -> Cell {
        Cell::sum([self.energy(), self.upkeep])
    }

    /// The year of one carrier.
    pub fn of(&self, carrier: Carrier) -> Option<&CarrierYear> {
        self.carriers.iter().find(|year| year.carrier == carrier)
    }
}

impl CarrierYear {
    /// Carbon and source energy follow from the energy that is printed.
    fn new(bill: Bill, site_kwh: Cell, tariff: &Tariff) -> Result<Self, MoneyError> {
        const G_PER_KG: f64 = 1000.0;
        let kwh = site_kwh.value().unwrap_or(0.0);
        Ok(Self {
            carrier: bill.carrier,
            site_kwh,
            energy: Cell::rounded(bill.energy, DECIMALS)?,
            standing: Cell::rounded(bill.standing, DECIMALS)?,
            carbon_kg: Cell::rounded(kwh * tariff.carbon_g_per_kwh / G_PER_KG, DECIMALS)?,
            source_kwh: Cell::rounded(kwh * tariff.source_factor, DECIMALS)?,
            bill,
        })
    }
}

pub(super) fn tariff_of(carrier: Carrier, basis: &MoneyBasis) -> Result<&Tariff, MoneyError> {
    let tariff = basis.tariffs.iter().find(|tariff| tariff.carrier == carrier);
    tariff.ok_or(MoneyError::NoTariff(carrier))
}

fn is_bought(carrier: Carrier, basis: &MoneyBasis) -> bool {
    carrier == Carrier::Electricity || carrier == basis.heated_by || carrier == basis.cooled_by
}

/// A figure of the year; 0 where it has no meaning.
pub(super) fn figure(row: &Row, figure: Figure) -> f64 {
    row.year(figure).value().unwrap_or(0.0)
}

/// Electricity modelled for all but heating \[kWh\].
pub(super) fn electricity_beside_heating(row: &Row, cooled_by: Carrier) -> f64 {
    let cooling = if cooled_by == Carrier::Electricity { figure(row, Figure::CoolingKwh) } else { 0.0 };
    cooling + ELECTRIC.into_iter().map(|of| figure(row, of)).sum::<f64>()
}

/// The printed parts of the year that are bought as a carrier, together.
fn site_kwh(row: &Row, carrier: Carrier, basis: &MoneyBasis, scale: f64) -> Result<Cell, MoneyError> {
    let mut parts = vec![Cell::rounded(0.0, DECIMALS)?];
    if carrier == basis.heated_by {
        parts.push(Cell::rounded(scale * figure(row, Figure::HeatingKwh), DECIMALS)?);
    }
    if carrier == basis.cooled_by {
        parts.push(Cell::rounded(figure(row, Figure::CoolingKwh), DECIMALS)?);
    }
    if carrier == Carrier::Electricity {
        for of in ELECTRIC {
            parts.push(Cell::rounded(figure(row, of), DECIMALS)?);
        }
    }
    Ok(Cell::sum(parts))
}

fn hours_kwh(hourly: &Hourly, carrier: Carrier, basis: &MoneyBasis, scale: f64) -> Vec<f64> {
    let hours = 0..hourly.heating_site_w.len();
    hours
        .map(|h| {
            let mut watts = 0.0;
            if carrier == basis.heated_by {
                watts += scale * hourly.heating_site_w[h];
            }
            if carrier == basis.cooled_by {
                watts += hourly.cooling_site_w[h];
            }
            if carrier == Carrier::Electricity {
                watts += hourly.fan_w[h]
                    + hourly.preheat_w[h]
                    + hourly.blower_w[h]
                    + hourly.humidifier_w[h]
                    + hourly.dehumidifier_w[h];
            }
            watts / WATTS_PER_KILOWATT
        })
        .collect()
}

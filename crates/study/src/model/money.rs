//! What a study says of money: tariffs, how the future is weighed, the house's own bills, what a unit costs.
//!
//! Here: plain values, every check done; money in the study's one currency, energy bought in kWh as it is billed.
//! Not here: what they come to (crate `economics`). Read next: `read/money.rs`.

use economics::tariff::Tariff;
use economics::worth::Terms;

use super::Carrier;

/// What energy costs and how the future is weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Money {
    /// Three capital letters.
    pub currency: String,
    /// One a carrier that has a price: always electricity and what the house is heated and cooled with.
    pub tariffs: Vec<Tariff>,
    /// Discount rate and horizon.
    pub terms: Terms,
    /// The house's own bills; `None`: none are given.
    pub bills: Option<Bills>,
}

/// What a unit costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnitCost {
    /// With installation, beyond ventilation without recovery, 0…1e9; `None`: unknown.
    pub price: Option<f64>,
    /// Filters, washing, service in a year, 0…1e6.
    pub upkeep_per_year: f64,
    /// Years until it is bought again, 1…100.
    pub life_years: f64,
}

/// A year of the house's own bills.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bills {
    /// Bought of what the house is heated with \[kWh\], 10…1 000 000.
    pub heating_kwh: f64,
    /// How much of that was for something else \[kWh\], 0…1 000 000; always given with electric heating.
    pub other_uses_kwh: Option<f64>,
    /// Electricity of a house heated by something else \[kWh\], 0…1 000 000.
    pub electricity_kwh: Option<f64>,
    /// How the house was ventilated in that year.
    pub house: BilledHouse,
}

/// How the house of a bill was ventilated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BilledHouse {
    /// Through its leaks alone.
    NoVentilation,
    /// By an extract fan.
    ExtractOnly,
    /// By two fans without a core.
    NoRecovery,
}

impl Carrier {
    /// The same, as tariffs name it.
    pub const fn bought_as(self) -> economics::tariff::Carrier {
        use economics::tariff::Carrier as Bought;
        match self {
            Self::Gas => Bought::Gas,
            Self::Electricity => Bought::Electricity,
            Self::Oil => Bought::Oil,
            Self::Propane => Bought::Propane,
            Self::Wood => Bought::Wood,
        }
    }
}

//! What each key of tariffs, economics, bills and a unit's cost takes.
//!
//! Here: one constant for a key. Not here: defaults and what goes with what (`read/money.rs`).

use economics::timetable::Days;

use super::{measure, share};
use crate::kinds::{Choice, ClockHour, Line, Measure, Months, Number, Per, Price};
use crate::model::{BilledHouse, Carrier};
use crate::units::{Dimension as D, KILOWATT_HOUR_J, MILLION_BTU_J, THERM_J};

const PER_ENERGY: &[Per] = &[
    Per { name: "kWh", also: &[], size: 1.0 },
    Per { name: "MWh", also: &[], size: 1000.0 },
    Per { name: "GJ", also: &[], size: 1e9 / KILOWATT_HOUR_J },
    Per { name: "therm", also: &[], size: THERM_J / KILOWATT_HOUR_J },
    Per { name: "MMBtu", also: &["MMBTU"], size: MILLION_BTU_J / KILOWATT_HOUR_J },
];
const PER_TIME: &[Per] =
    &[Per { name: "year", also: &["yr"], size: 1.0 }, Per { name: "month", also: &["mo"], size: 1.0 / 12.0 }];

/// A price of energy at this key.
pub(crate) const fn energy_price(key: &'static str, example: &'static str) -> Price {
    Price { key, what: "a price of energy", per: PER_ENERGY, most: 1e6, example }
}

const fn a_year(key: &'static str, example: &'static str) -> Price {
    Price { key, what: "money a year", per: PER_TIME, most: 1e6, example }
}

/// What is said of one carrier.
pub(crate) struct CarrierSpec {
    pub carrier: Carrier,
    pub price: Price,
    pub carbon: Measure,
    pub source: Number,
}

const fn carrier(carrier: Carrier, key: &'static str, example: &'static str) -> CarrierSpec {
    CarrierSpec {
        carrier,
        price: energy_price(key, example),
        carbon: measure(key, D::CarbonPerEnergy, ("0 g/kWh", "3000 g/kWh"), "350 g/kWh"),
        source: share(key, (0.0, 10.0)),
    }
}

pub(crate) const CARRIERS: [CarrierSpec; 5] = [
    carrier(Carrier::Electricity, "electricity", "0.14 USD/kWh"),
    carrier(Carrier::Gas, "gas", "0.045 USD/kWh"),
    carrier(Carrier::Oil, "oil", "0.10 USD/kWh"),
    carrier(Carrier::Propane, "propane", "0.11 USD/kWh"),
    carrier(Carrier::Wood, "wood", "0.06 USD/kWh"),
];

pub(crate) const FLAT_PRICE: Price = energy_price("price", "0.14 USD/kWh");
pub(crate) const STANDING: Price = a_year("standing", "120 USD/year");
pub(crate) const BAND_NAME: Line = Line { key: "name", most_characters: 40, example: "peak" };
pub(crate) const BAND_FROM: ClockHour = ClockHour { key: "from", example: "16:00" };
pub(crate) const BAND_TO: ClockHour = ClockHour { key: "to", example: "21:00" };
pub(crate) const DAYS: Choice<Days> = Choice {
    key: "days",
    options: &[("every-day", Days::Every), ("weekdays", Days::Weekdays), ("weekends", Days::Weekends)],
};
pub(crate) const MONTHS: Months = Months { key: "months" };

pub(crate) const DISCOUNT_RATE: Number = share("discount_rate", (-0.05, 0.3));
pub(crate) const ESCALATION: Number = share("escalation", (-0.1, 0.2));
pub(crate) const HORIZON: Measure = measure("horizon", D::Years, ("1 years", "60 years"), "20 years");

const fn billed(key: &'static str, least: &'static str, example: &'static str) -> Measure {
    measure(key, D::Energy, (least, "1000000 kWh"), example)
}
pub(crate) const BILLED_HEATING: Measure = billed("heating", "10 kWh", "14000 kWh");
pub(crate) const OTHER_USES: Measure = billed("other_uses", "0 kWh", "3000 kWh");
pub(crate) const BILLED_ELECTRICITY: Measure = billed("electricity", "0 kWh", "4500 kWh");
pub(crate) const BILLED_HOUSE: Choice<BilledHouse> = Choice {
    key: "house",
    options: &[
        ("no-ventilation", BilledHouse::NoVentilation),
        ("extract-only", BilledHouse::ExtractOnly),
        ("no-recovery", BilledHouse::NoRecovery),
    ],
};

pub(crate) const UNIT_PRICE: Price =
    Price { key: "price", what: "a price", per: &[], most: 1e9, example: "2400 USD" };
pub(crate) const UPKEEP_COST: Price = a_year("upkeep_cost", "40 USD/year");
pub(crate) const LIFE: Measure = measure("life", D::Years, ("1 years", "100 years"), "20 years");

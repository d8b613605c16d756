//! What energy costs: a tariff for each carrier, and a year's bill with its carbon and its source energy.
//!
//! Prices hold by hour of local standard time, 1 January a Monday, in leap years too; no daylight saving, no holidays.
//! Not here: how a timetable of prices is checked ([`crate::timetable`]), what bills are worth over the years
//! ([`crate::worth`]).
//!
//! # Sources
//! \[EPA-SOURCE\] for source energy, \[98-C1\] for carbon: beside each number.

use crate::range::{OutOfRange, Range};
use crate::timetable::{TimeOfUse, TimetableError, hours_of};
use crate::worth::Stream;

/// The dearest kilowatt-hour in a currency of small units is far below.
pub(crate) const PRICE_PER_KWH: Range = Range::new("price a kWh", "", 0.0, 1e6);
const STANDING: Range = Range::new("standing charge a year", "", 0.0, 1e9);
const ESCALATION: Range = Range::new("escalation", "a year", -0.2, 0.5);
/// Electricity from brown coal has about 1 200.
const CARBON: Range = Range::new("carbon", "g/kWh", 0.0, 3000.0);
const SOURCE: Range = Range::new("source energy factor", "", 0.0, 10.0);
const BOUGHT: Range = Range::new("energy a year", "kWh", 0.0, 1e9);
const G_PER_KG: f64 = 1000.0;

/// What energy is bought as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Carrier {
    /// Electricity from the grid.
    Electricity,
    /// Natural gas, by higher heating value.
    Gas,
    /// Heating oil, by higher heating value.
    Oil,
    /// Propane, by higher heating value.
    Propane,
    /// Wood, by higher heating value.
    Wood,
    /// Heat from a district network.
    District,
}

/// A number that stands where the user gave none, with where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Typical {
    /// The number.
    pub value: f64,
    /// A source, "recalled" where it was not at hand, or "assumed".
    pub source: &'static str,
}

impl Carrier {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::Electricity, Self::Gas, Self::Oil, Self::Propane, Self::Wood, Self::District];

    /// Its name in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Self::Electricity => "electricity",
            Self::Gas => "gas",
            Self::Oil => "oil",
            Self::Propane => "propane",
            Self::Wood => "wood",
            Self::District => "district heat",
        }
    }

    /// Energy taken from nature for 1 kWh bought [-], typical of the United States; it differs by country and year.
    pub fn source_factor(self) -> Typical {
        const READ: &str = "US EPA, technical reference on source energy, 2023: national mean";
        const RECALLED: &str = "US EPA, technical reference on source energy, recalled: national mean";
        let (value, source) = match self {
            Self::Electricity => (2.80, READ),
            Self::Gas => (1.05, READ),
            Self::Oil | Self::Propane => (1.01, RECALLED),
            Self::Wood => (1.00, RECALLED),
            Self::District => (1.20, RECALLED),
        };
        Typical { value, source }
    }

    /// Carbon dioxide for 1 kWh bought [g/kWh]: of the flue for fuels, of the power stations for electricity.
    ///
    /// Fuels: kg/mmBtu of the higher heating value over 293.071 kWh.
    pub fn carbon_g_per_kwh(self) -> Typical {
        const TABLE: &str = "US 40 CFR 98, table C-1, of the higher heating value";
        let (value, source) = match self {
            Self::Electricity => (370.0, "United States, mean of the grid about 2022, recalled"),
            Self::Gas => (181.0, TABLE),
            Self::Oil => (252.4, TABLE),
            Self::Propane => (214.5, TABLE),
            Self::Wood => (0.0, "assumed: what the flue gives off has grown shortly before and grows again"),
            Self::District => (226.0, "assumed: gas burnt at 80 % after losses of the network"),
        };
        Typical { value, source }
    }
}

/// What a kilowatt-hour costs.
#[derive(Debug, Clone, PartialEq)]
pub enum Price {
    /// The same in every hour [money/kWh], 0…1e6.
    Flat(f64),
    /// By time of use.
    ByHour(TimeOfUse),
}

/// How one carrier is bought.
#[derive(Debug, Clone, PartialEq)]
pub struct Tariff {
    /// What is bought.
    pub carrier: Carrier,
    /// What a kilowatt-hour costs.
    pub price: Price,
    /// What the connection costs in a year, whatever is bought, 0…1e9.
    pub standing_per_year: f64,
    /// By how much price and standing charge grow from year to year [1/year], −0.2…0.5.
    pub escalation_per_year: f64,
    /// Carbon dioxide [g/kWh], 0…3000.
    pub carbon_g_per_kwh: f64,
    /// Energy taken from nature for 1 kWh bought [-], 0…10.
    pub source_factor: f64,
}

/// A year of one carrier.
#[derive(Debug, Clone, PartialEq)]
pub struct Bill {
    /// What was bought.
    pub carrier: Carrier,
    /// Energy bought, at the house \[kWh\].
    pub site_kwh: f64,
    /// Energy taken from nature for it \[kWh\].
    pub source_kwh: f64,
    /// Carbon dioxide \[kg\].
    pub carbon_kg: f64,
    /// Money for the energy.
    pub energy: f64,
    /// Money for the connection.
    pub standing: f64,
    /// The energy by price: one entry for a flat price, else one a band, in the order given.
    pub by_band: Vec<BandBill>,
}

/// What a band of a tariff came to in a year.
#[derive(Debug, Clone, PartialEq)]
pub struct BandBill {
    /// Name of the band; "flat" for a flat price.
    pub name: String,
    /// Energy bought in its hours \[kWh\].
    pub site_kwh: f64,
    /// Money for it.
    pub money: f64,
}

/// A year of all carriers.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Total {
    /// Energy and connections.
    pub money: f64,
    /// Energy bought, at the house \[kWh\].
    pub site_kwh: f64,
    /// Energy taken from nature for it \[kWh\].
    pub source_kwh: f64,
    /// Carbon dioxide \[kg\].
    pub carbon_kg: f64,
}

/// Why there is no bill.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TariffError {
    /// A number outside its range.
    #[error("tariff of {carrier}: {problem}", carrier = carrier.name())]
    OutOfRange {
        /// Whose tariff.
        carrier: Carrier,
        /// The number.
        problem: OutOfRange,
    },
    /// A timetable that does not hold.
    #[error(transparent)]
    Timetable(#[from] TimetableError),
    /// Hours that are no year.
    #[error("{}: {hours} hours were given; a year has 8760, a leap year 8784", carrier.name())]
    NotAYear {
        /// Whose hours.
        carrier: Carrier,
        /// How many.
        hours: usize,
    },
    /// An hour that bought less than nothing, or no number.
    #[error("{}: {kwh} kWh in hour {hour} of the year; it would have to be 0 or more", carrier.name())]
    NotBought {
        /// Whose hours.
        carrier: Carrier,
        /// Which, counted from 0.
        hour: usize,
        /// The number.
        kwh: f64,
    },
    /// Hours are needed for a price by hour.
    #[error("{}: a price by time of use needs the energy of each hour, not that of the year", carrier.name())]
    HoursNeeded {
        /// Whose tariff.
        carrier: Carrier,
    },
}

impl Tariff {
    /// A tariff with no standing charge, no escalation and the carrier's default carbon and source energy.
    pub fn new(carrier: Carrier, price: Price) -> Self {
        Self {
            carrier,
            price,
            standing_per_year: 0.0,
            escalation_per_year: 0.0,
            carbon_g_per_kwh: carrier.carbon_g_per_kwh().value,
            source_factor: carrier.source_factor().value,
        }
    }

    fn within(&self, range: Range, value: f64) -> Result<f64, TariffError> {
        range.check(value).map_err(|problem| TariffError::OutOfRange { carrier: self.carrier, problem })
    }

    /// Every number of the tariff within its range; a timetable was checked when it was made.
    ///
    /// # Errors
    /// [`TariffError::OutOfRange`].
    pub fn check(&self) -> Result<(), TariffError> {
        if let Price::Flat(price) = self.price {
            self.within(PRICE_PER_KWH, price)?;
        }
        self.within(STANDING, self.standing_per_year)?;
        self.within(ESCALATION, self.escalation_per_year)?;
        self.within(CARBON, self.carbon_g_per_kwh)?;
        self.within(SOURCE, self.source_factor)?;
        Ok(())
    }

    /// The bill of a year, of the kWh bought in each hour from 1 January 00:00 on; 8 760 hours, or 8 784 with
    /// 29 February.
    ///
    /// # Errors
    /// [`TariffError`]: a number outside its range, another count of hours, an hour below 0 or without a number.
    pub fn cost(&self, hours_kwh: impl IntoIterator<Item = f64>) -> Result<Bill, TariffError> {
        let carrier = self.carrier;
        let hours_kwh: Vec<f64> = hours_kwh.into_iter().collect();
        let slots =
            hours_of(hours_kwh.len()).ok_or(TariffError::NotAYear { carrier, hours: hours_kwh.len() })?;
        if let Some(hour) = hours_kwh.iter().position(|kwh| !(kwh.is_finite() && *kwh >= 0.0)) {
            return Err(TariffError::NotBought { carrier, hour, kwh: hours_kwh[hour] });
        }
        let bands = match &self.price {
            Price::Flat(price) => vec![band_bill("flat", hours_kwh.iter().sum(), *price)],
            Price::ByHour(times) => {
                let mut by_band = vec![0.0; times.bands().len()];
                for (slot, kwh) in slots.zip(&hours_kwh) {
                    by_band[times.band_at(slot)] += kwh;
                }
                let of_band = times.bands().iter().zip(by_band);
                of_band.map(|(band, kwh)| band_bill(&band.name, kwh, band.price_per_kwh)).collect()
            }
        };
        self.bill(bands)
    }

    /// The bill of a year at a flat price, of the year's kWh.
    ///
    /// # Errors
    /// [`TariffError`]: a price by hour, a number outside its range, or energy outside 0…1e9 kWh.
    pub fn cost_of_year(&self, kwh: f64) -> Result<Bill, TariffError> {
        match self.price {
            Price::Flat(price) => self.bill(vec![band_bill("flat", kwh, price)]),
            Price::ByHour(_) => Err(TariffError::HoursNeeded { carrier: self.carrier }),
        }
    }

    fn bill(&self, by_band: Vec<BandBill>) -> Result<Bill, TariffError> {
        self.check()?;
        let site_kwh = self.within(BOUGHT, by_band.iter().map(|band| band.site_kwh).sum())?;
        Ok(Bill {
            carrier: self.carrier,
            site_kwh,
            source_kwh: site_kwh * self.source_factor,
            carbon_kg: site_kwh * self.carbon_g_per_kwh / G_PER_KG,
            energy: by_band.iter().map(|band| band.money).sum(),
            standing: self.standing_per_year,
            by_band,
        })
    }

    /// The bill as yearly money that grows with the tariff.
    pub fn stream(&self, bill: &Bill) -> Stream {
        Stream { money_per_year: bill.money(), escalation_per_year: self.escalation_per_year }
    }
}

fn band_bill(name: &str, site_kwh: f64, price_per_kwh: f64) -> BandBill {
    BandBill { name: name.to_owned(), site_kwh, money: site_kwh * price_per_kwh }
}

impl Bill {
    /// Energy and connection.
    pub fn money(&self) -> f64 {
        self.energy + self.standing
    }

    /// What a kilowatt-hour cost on average, without the connection; `None` where none was bought.
    pub fn mean_price_per_kwh(&self) -> Option<f64> {
        (self.site_kwh > 0.0).then(|| self.energy / self.site_kwh)
    }
}

/// All bills together.
pub fn total<'a>(bills: impl IntoIterator<Item = &'a Bill>) -> Total {
    bills.into_iter().fold(Total::default(), |sum, bill| Total {
        money: sum.money + bill.money(),
        site_kwh: sum.site_kwh + bill.site_kwh,
        source_kwh: sum.source_kwh + bill.source_kwh,
        carbon_kg: sum.carbon_kg + bill.carbon_kg,
    })
}

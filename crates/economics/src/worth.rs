//! Present values: yearly money over a horizon, a purchase with its replacements, payback, levelised cost.
//!
//! Payments of a year fall at its end; the first year's is already one year dearer than today's price. Rates are all
//! real or all nominal, as the caller likes, but not mixed. Not here: where yearly money comes from, break-evens.
//!
//! # Source
//! \[HB135\], recalled; every formula is a geometric series.

use crate::range::{OutOfRange, Range};

const DISCOUNT: Range = Range::new("discount rate", "a year", -0.2, 0.5);
const ESCALATION: Range = Range::new("escalation", "a year", -0.2, 0.5);
const HORIZON: Range = Range::new("horizon", "years", 0.0, 100.0);
/// Below half a year an annuity means little, and the recovery factor grows without limit.
const YEARS_OF_RECOVERY: Range = Range::new("years of recovery", "years", 0.5, 100.0);
const LIFE: Range = Range::new("life of the unit", "years", 1.0, 100.0);
const MONEY: Range = Range::new("yearly money", "", -1e12, 1e12);
const PRICE: Range = Range::new("price", "", 0.0, 1e12);
const EXTRA_PRICE: Range = Range::new("extra price", "", -1e12, 1e12);
const UPKEEP: Range = Range::new("upkeep cost a year", "", 0.0, 1e12);
const ENERGY: Range = Range::new("energy a year", "kWh", 1e-9, 1e12);

/// A life that ends within half a day of the horizon ends with it.
const SAME_DAY_YEARS: f64 = 1e-3;
/// Payback is looked for quarter by quarter, then within the quarter.
const STEPS_A_YEAR: f64 = 4.0;

/// How the future is weighed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// Discount rate [1/year], −0.2…0.5.
    pub discount_per_year: f64,
    /// Years that are looked at, 0…100.
    pub horizon_years: f64,
}

impl Default for Terms {
    /// 3 % a year, real, over 20 years. Assumed: near the real rate of public life-cycle studies, and a usual life of
    /// a ventilation unit.
    fn default() -> Self {
        Self { discount_per_year: 0.03, horizon_years: 20.0 }
    }
}

impl Terms {
    fn checked(self) -> Result<Self, OutOfRange> {
        DISCOUNT.check(self.discount_per_year)?;
        HORIZON.check(self.horizon_years)?;
        Ok(self)
    }

    /// Today's worth of money paid once in `years`.
    fn of_once(self, years: f64) -> f64 {
        (-years * self.discount_per_year.ln_1p()).exp()
    }
}

/// Money that is paid (or, negative, received) every year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stream {
    /// A year's money at today's prices, −1e12…1e12.
    pub money_per_year: f64,
    /// By how much it grows from year to year [1/year], −0.2…0.5.
    pub escalation_per_year: f64,
}

impl Stream {
    fn check(self) -> Result<(), OutOfRange> {
        MONEY.check(self.money_per_year)?;
        ESCALATION.check(self.escalation_per_year)?;
        Ok(())
    }

    /// Present worth of the stream over the horizon `S PWF_e`.
    ///
    /// # Errors
    /// [`OutOfRange`] for a number outside the range beside it.
    pub fn present_worth(self, terms: &Terms) -> Result<f64, OutOfRange> {
        self.check()?;
        let terms = terms.checked()?;
        Ok(self.worth(terms.discount_per_year, terms.horizon_years))
    }

    fn worth(self, discount_per_year: f64, years: f64) -> f64 {
        self.money_per_year * annuity(discount_per_year, self.escalation_per_year, years)
    }
}

/// A unit as it is bought and kept.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Purchase {
    /// Price with installation, today, 0…1e12.
    pub price: f64,
    /// Filters, washing, service in a year at today's prices, 0…1e12.
    pub upkeep_per_year: f64,
    /// Years until it is bought again, 1…100.
    pub life_years: f64,
    /// By how much price and upkeep grow from year to year [1/year], −0.2…0.5.
    pub escalation_per_year: f64,
}

impl Purchase {
    /// Nothing bought, nothing kept: a house without a unit.
    pub const NONE: Self =
        Self { price: 0.0, upkeep_per_year: 0.0, life_years: 100.0, escalation_per_year: 0.0 };

    fn check(&self) -> Result<(), OutOfRange> {
        PRICE.check(self.price)?;
        UPKEEP.check(self.upkeep_per_year)?;
        LIFE.check(self.life_years)?;
        ESCALATION.check(self.escalation_per_year)?;
        Ok(())
    }

    fn upkeep(&self) -> Stream {
        Stream { money_per_year: self.upkeep_per_year, escalation_per_year: self.escalation_per_year }
    }
}

/// A purchase with the energy that the house then buys.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// What is bought and kept.
    pub purchase: Purchase,
    /// Energy bought, one stream a carrier; all of the house's, not the difference.
    pub energy: Vec<Stream>,
}

impl Offer {
    fn check(&self) -> Result<(), OutOfRange> {
        self.purchase.check()?;
        self.energy.iter().try_for_each(|stream| stream.check())
    }

    /// Energy and upkeep of a year at today's prices.
    fn running_per_year(&self) -> f64 {
        self.energy.iter().map(|stream| stream.money_per_year).sum::<f64>() + self.purchase.upkeep_per_year
    }

    /// Present worth of energy and upkeep over the first `years`.
    fn running_worth(&self, discount_per_year: f64, years: f64) -> f64 {
        let energy: f64 = self.energy.iter().map(|stream| stream.worth(discount_per_year, years)).sum();
        energy + self.purchase.upkeep().worth(discount_per_year, years)
    }
}

/// What everything costs over the horizon, in today's money.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LifeCycle {
    /// The first price.
    pub price: f64,
    /// The unit bought again at the end of each life before the horizon.
    pub replacements: f64,
    /// How often.
    pub times_replaced: u32,
    /// What the last unit is still worth at the horizon, to be taken off.
    pub residual: f64,
    /// Upkeep.
    pub upkeep: f64,
    /// Energy.
    pub energy: f64,
}

impl LifeCycle {
    /// Life-cycle cost: all of it, less the residual value.
    pub fn total(&self) -> f64 {
        self.price + self.replacements + self.upkeep + self.energy - self.residual
    }

    /// What is paid for the hardware: price and replacements, less the residual value.
    pub fn hardware(&self) -> f64 {
        self.price + self.replacements - self.residual
    }
}

/// When money has come back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Payback {
    /// No dearer to buy, no dearer to run: ahead from the first day and as long as is looked at.
    AtOnce,
    /// The extra price has come back after these years.
    After(f64),
    /// It has not come back within these years, the life of the unit.
    NotWithin(f64),
    /// It never comes back.
    Never,
    /// Cheaper to buy, dearer to run: what was saved at first is gone after these years.
    LeadGoneAfter(f64),
}

/// One offer beside another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Against {
    /// Price above the reference's.
    pub extra_price: f64,
    /// Energy and upkeep saved in a year, at today's prices.
    pub saving_per_year: f64,
    /// Net present value over the horizon: the reference's life-cycle cost less this one's.
    pub net_present_value: f64,
    /// Extra price over saving.
    pub simple_payback: Payback,
    /// With discount and escalation, first purchases only, within the life of the unit.
    pub discounted_payback: Payback,
}

/// Present worth of 1 a year for `years`, growing with `escalation_per_year`.
///
/// `PWF = (1 − (1+r)^−n)/r`; with escalation `PWF_e = (1+e)/(r−e) [1 − ((1+e)/(1+r))^n]`; `n` where `r = e`. Computed so
/// that nothing cancels near `r = e`. Years need not be whole.
///
/// # Errors
/// [`OutOfRange`] unless both rates are −0.2…0.5 and the years 0…100.
pub fn present_worth_factor(
    discount_per_year: f64,
    escalation_per_year: f64,
    years: f64,
) -> Result<f64, OutOfRange> {
    DISCOUNT.check(discount_per_year)?;
    ESCALATION.check(escalation_per_year)?;
    HORIZON.check(years)?;
    Ok(annuity(discount_per_year, escalation_per_year, years))
}

/// `Σ q^k = q (q^n − 1)/(q − 1)` with `q = (1+e)/(1+r)`; `q − 1 = (e−r)/(1+r)` is exact where `q` alone is not.
fn annuity(discount: f64, escalation: f64, years: f64) -> f64 {
    let growth = (escalation - discount) / (1.0 + discount);
    if growth == 0.0 { years } else { (1.0 + growth) * (years * growth.ln_1p()).exp_m1() / growth }
}

/// Capital recovery factor `CRF = 1/PWF` [1/year]: what 1 of price is, spread evenly over `years`.
///
/// # Errors
/// [`OutOfRange`] unless the rate is −0.2…0.5 and the years 0.5…100.
pub fn capital_recovery_factor(discount_per_year: f64, years: f64) -> Result<f64, OutOfRange> {
    DISCOUNT.check(discount_per_year)?;
    YEARS_OF_RECOVERY.check(years)?;
    Ok(1.0 / annuity(discount_per_year, 0.0, years))
}

/// Net present value `S PWF_e − C` of a saving that starts at `saving` a year and costs `price` today.
///
/// # Errors
/// [`OutOfRange`] for a number outside the range beside it.
pub fn net_present_value(price: f64, saving: Stream, terms: &Terms) -> Result<f64, OutOfRange> {
    EXTRA_PRICE.check(price)?;
    Ok(saving.present_worth(terms)? - price)
}

/// Extra price over yearly saving, without discount; escalation plays no part.
///
/// # Errors
/// [`OutOfRange`] unless both lie within −1e12…1e12.
pub fn simple_payback(extra_price: f64, saving_per_year: f64) -> Result<Payback, OutOfRange> {
    EXTRA_PRICE.check(extra_price)?;
    MONEY.check(saving_per_year)?;
    Ok(simple(extra_price, saving_per_year))
}

fn simple(extra_price: f64, saving_per_year: f64) -> Payback {
    let pays = |years: f64| if years.is_finite() { Payback::After(years) } else { Payback::Never };
    if extra_price > 0.0 {
        if saving_per_year > 0.0 { pays(extra_price / saving_per_year) } else { Payback::Never }
    } else if saving_per_year >= 0.0 {
        Payback::AtOnce
    } else if extra_price == 0.0 {
        Payback::Never
    } else {
        Payback::LeadGoneAfter(extra_price / saving_per_year)
    }
}

/// Years after which a saving has paid for `extra_price`, with discount and escalation, in closed form.
///
/// `PWF_e(n) = C/S` solved for `n`: without escalation `−ln(1 − C r/S)/ln(1+r)`; `C/S` where `r = e`. No life ends it.
/// [`Payback::Never`] where even endless savings are worth less than the price.
///
/// # Errors
/// [`OutOfRange`] for a number outside the range beside it.
pub fn discounted_payback(
    extra_price: f64,
    saving: Stream,
    discount_per_year: f64,
) -> Result<Payback, OutOfRange> {
    EXTRA_PRICE.check(extra_price)?;
    saving.check()?;
    DISCOUNT.check(discount_per_year)?;
    let undiscounted = simple(extra_price, saving.money_per_year);
    let years = |factor: f64| annuity_years(discount_per_year, saving.escalation_per_year, factor);
    Ok(match undiscounted {
        Payback::After(factor) => years(factor).map_or(Payback::Never, Payback::After),
        Payback::LeadGoneAfter(factor) => years(factor).map_or(Payback::AtOnce, Payback::LeadGoneAfter),
        other => other,
    })
}

/// The years at which [`annuity`] reaches `factor`; `None` where it never does.
fn annuity_years(discount: f64, escalation: f64, factor: f64) -> Option<f64> {
    let growth = (escalation - discount) / (1.0 + discount);
    if growth == 0.0 {
        return Some(factor);
    }
    let rise = factor * growth / (1.0 + growth);
    (rise > -1.0).then(|| rise.ln_1p() / growth.ln_1p()).filter(|years| years.is_finite())
}

/// Levelised cost of energy kept `(C CRF + O&M)/E` [money/kWh]: compare with what the carrier costs.
///
/// # Errors
/// [`OutOfRange`] unless price and upkeep are 0…1e12, energy more than 0, the rate −0.2…0.5 and the years 0.5…100.
pub fn levelised_cost_per_kwh(
    price: f64,
    upkeep_per_year: f64,
    energy_kwh_per_year: f64,
    terms: &Terms,
) -> Result<f64, OutOfRange> {
    PRICE.check(price)?;
    UPKEEP.check(upkeep_per_year)?;
    ENERGY.check(energy_kwh_per_year)?;
    let recovery = capital_recovery_factor(terms.discount_per_year, terms.horizon_years)?;
    Ok((price * recovery + upkeep_per_year) / energy_kwh_per_year)
}

/// Today's cost of each unit of today's price over the horizon: bought, bought again at the end of each life that ends
/// before the horizon, less what the last one is still worth: its price at the time, in proportion to the life left.
/// Also how often it is bought again.
///
/// Used to find a price that breaks even: all of the hardware's cost is in proportion to the price.
///
/// # Errors
/// [`OutOfRange`] for a number outside the range beside it.
///
/// # Source
/// \[HB135\] for the straight line, recalled.
pub fn hardware_factor(purchase: &Purchase, terms: &Terms) -> Result<f64, OutOfRange> {
    purchase.check()?;
    let hardware = Hardware::of(purchase, terms.checked()?);
    Ok(1.0 + hardware.replacements - hardware.residual)
}

/// For 1 of price.
struct Hardware {
    replacements: f64,
    times_replaced: u32,
    residual: f64,
}

impl Hardware {
    fn of(purchase: &Purchase, terms: Terms) -> Self {
        let Purchase { life_years, escalation_per_year, .. } = *purchase;
        let price_in = |years: f64| (years * escalation_per_year.ln_1p()).exp();
        let mut hardware = Self { replacements: 0.0, times_replaced: 0, residual: 0.0 };
        let mut bought = 0.0;
        // At most a hundred times: no life is shorter than a year, no horizon longer than a hundred.
        while bought + life_years < terms.horizon_years - SAME_DAY_YEARS {
            hardware.times_replaced += 1;
            bought = f64::from(hardware.times_replaced) * life_years;
            hardware.replacements += price_in(bought) * terms.of_once(bought);
        }
        let left = (1.0 - (terms.horizon_years - bought) / life_years).max(0.0);
        hardware.residual = price_in(bought) * left * terms.of_once(terms.horizon_years);
        hardware
    }
}

/// Life-cycle cost of an offer, in its parts.
///
/// # Errors
/// [`OutOfRange`] for a number outside the range beside it.
pub fn life_cycle(offer: &Offer, terms: &Terms) -> Result<LifeCycle, OutOfRange> {
    offer.check()?;
    let terms = terms.checked()?;
    let purchase = &offer.purchase;
    let hardware = Hardware::of(purchase, terms);
    let worth = |stream: Stream| stream.worth(terms.discount_per_year, terms.horizon_years);
    Ok(LifeCycle {
        price: purchase.price,
        replacements: purchase.price * hardware.replacements,
        times_replaced: hardware.times_replaced,
        residual: purchase.price * hardware.residual,
        upkeep: worth(purchase.upkeep()),
        energy: offer.energy.iter().map(|stream| worth(*stream)).sum(),
    })
}

/// An offer beside a reference: another unit, or the house without one ([`Purchase::NONE`]).
///
/// Discounted payback counts first purchases only and is looked for quarter by quarter within the life of the unit: an
/// advantage that comes and goes within a quarter is overlooked.
///
/// # Errors
/// [`OutOfRange`] for a number outside the range beside it.
pub fn against(offer: &Offer, reference: &Offer, terms: &Terms) -> Result<Against, OutOfRange> {
    let cost = life_cycle(offer, terms)?;
    let reference_cost = life_cycle(reference, terms)?;
    let extra_price = offer.purchase.price - reference.purchase.price;
    let saving_per_year = reference.running_per_year() - offer.running_per_year();
    let rate = terms.discount_per_year;
    let ahead =
        |years: f64| reference.running_worth(rate, years) - offer.running_worth(rate, years) - extra_price;
    Ok(Against {
        extra_price,
        saving_per_year,
        net_present_value: reference_cost.total() - cost.total(),
        simple_payback: simple(extra_price, saving_per_year),
        discounted_payback: first_turn(ahead, extra_price, offer.purchase.life_years),
    })
}

/// When `ahead`, the present worth of all savings so far less the extra price, first changes sides.
fn first_turn(ahead: impl Fn(f64) -> f64, extra_price: f64, life_years: f64) -> Payback {
    // Of two that cost the same, the first quarter tells which side the balance starts on.
    let behind = extra_price > 0.0 || (extra_price == 0.0 && ahead(1.0 / STEPS_A_YEAR) < 0.0);
    let turned = |years: f64| if behind { ahead(years) >= 0.0 } else { ahead(years) < 0.0 };
    let mut step = 1.0;
    while (step - 1.0) / STEPS_A_YEAR < life_years {
        let end = (step / STEPS_A_YEAR).min(life_years);
        if turned(end) {
            let years = halved((step - 1.0) / STEPS_A_YEAR, end, turned);
            return if behind { Payback::After(years) } else { Payback::LeadGoneAfter(years) };
        }
        step += 1.0;
    }
    if behind { Payback::NotWithin(life_years) } else { Payback::AtOnce }
}

/// Where `turned` becomes true between `low`, where it is not, and `high`, where it is.
fn halved(mut low: f64, mut high: f64, turned: impl Fn(f64) -> bool) -> f64 {
    // A quarter of a year over 2^50: far below a second.
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if turned(middle) { high = middle } else { low = middle }
    }
    high
}

//! Reads what a study says of money.
//!
//! Here: `[tariff]`, `[economics]`, `[bills]`, a unit's cost, one currency for all. Not here: what energy and units come to
//! (crate `economics`). Read next: `specs/money.rs`.

use economics::tariff::{Price as BoughtAt, Tariff};
use economics::timetable::{Band, TimeOfUse};
use economics::worth::Terms;

use super::conflict;
use crate::keys::{self, TableKeys};
use crate::kinds::{Price, brief};
use crate::model::{BilledHouse, Bills, Carrier, House, Money, UnitCost};
use crate::specs::{self, CarrierSpec};
use crate::table::{Log, Table};
use crate::units::KILOWATT_HOUR_J;

/// What the house buys.
#[derive(Clone, Copy)]
pub(super) struct OfHouse {
    heating: Carrier,
    cooling: Option<Carrier>,
}

impl OfHouse {
    pub fn new(house: &House) -> Self {
        Self { heating: house.heating.source, cooling: house.cooling.as_ref().map(|cooling| cooling.source) }
    }
}

/// What the file says of money.
pub(super) enum Said {
    Nothing,
    Money(Box<Money>),
}

impl Said {
    pub fn money(self) -> Option<Money> {
        match self {
            Self::Nothing => None,
            Self::Money(money) => Some(*money),
        }
    }
}

/// `None` where something is wrong.
pub(super) fn read(log: &mut Log, root: &Table<'_>, of_house: Option<OfHouse>) -> Option<Said> {
    let has_tariff = root.has("tariff");
    for key in ["economics", "bills"] {
        if !has_tariff && root.is_table(key) {
            let message = format!("`[{key}]` is of no use without `[tariff]`");
            let hint = "give the prices of energy in `[tariff]`, or leave it out".to_owned();
            conflict(log, root.span_of(key), message, ("no tariff", hint));
        }
    }
    let economics = root.table(log, &keys::ECONOMICS);
    let economics = economics.and_then(|table| read_economics(log, table, has_tariff));
    let bills = if root.has("bills") {
        root.table(log, &keys::BILLS).and_then(|table| read_bills(log, table, of_house)).map(Some)
    } else {
        Some(None)
    };
    if !has_tariff {
        economics?;
        return bills.map(|_| Said::Nothing);
    }
    let escalation = economics.map_or(0.0, |(_, escalation)| escalation);
    let tariffs =
        root.table(log, &keys::TARIFF).and_then(|table| read_tariffs(log, table, of_house, escalation));
    let (terms, _) = economics?;
    let (tariffs, bills) = (tariffs?, bills?);
    let currency = log.currency.clone()?;
    Some(Said::Money(Box::new(Money { currency, tariffs, terms, bills })))
}

/// Terms, and the escalation of energy prices.
fn read_economics(log: &mut Log, table: Table<'_>, has_tariff: bool) -> Option<(Terms, f64)> {
    let rate = ("0.03", "assumed: near the real rate of public life-cycle studies");
    let rise = ("0", "assumed: energy grows dearer as all else does");
    let years = ("20 years", "assumed: the usual life of a ventilation unit");
    let (discount, escalation, horizon) = if has_tariff {
        (
            table.or(log, &specs::DISCOUNT_RATE, rate),
            table.or(log, &specs::ESCALATION, rise),
            table.or(log, &specs::HORIZON, years),
        )
    } else {
        (
            table.or_unlisted(log, &specs::DISCOUNT_RATE, rate.0),
            table.or_unlisted(log, &specs::ESCALATION, rise.0),
            table.or_unlisted(log, &specs::HORIZON, years.0),
        )
    };
    table.finish(log);
    Some((Terms { discount_per_year: discount?, horizon_years: horizon? }, escalation?))
}

fn read_tariffs(
    log: &mut Log,
    table: Table<'_>,
    of_house: Option<OfHouse>,
    escalation_per_year: f64,
) -> Option<Vec<Tariff>> {
    let before = log.problems.len();
    let carbon = table.table(log, &keys::CARBON);
    let source = table.table(log, &keys::SOURCE_FACTORS);
    let mut tariffs = Vec::new();
    for spec in &specs::CARRIERS {
        let price = read_carrier(log, &table, spec);
        let own = (carbon.as_ref(), source.as_ref());
        let (carbon_g_per_kwh, source_factor) = read_factors(log, own, spec, table.has(spec.price.key));
        if let (Some((price, standing_per_year)), Some(carbon_g_per_kwh), Some(source_factor)) =
            (price, carbon_g_per_kwh, source_factor)
        {
            let carrier = spec.carrier.bought_as();
            tariffs.push(Tariff {
                carrier,
                price,
                standing_per_year,
                escalation_per_year,
                carbon_g_per_kwh,
                source_factor,
            });
        }
    }
    for table in [carbon, source].into_iter().flatten() {
        table.finish(log);
    }
    check_complete(log, &table, of_house);
    table.finish(log);
    (log.problems.len() == before).then_some(tariffs)
}

/// Electricity runs the fans; heating and cooling buy what they need.
fn check_complete(log: &mut Log, table: &Table<'_>, of_house: Option<OfHouse>) {
    let mut needed = vec![(Carrier::Electricity, "which runs the fans")];
    if let Some(OfHouse { heating, cooling }) = of_house {
        needed.push((heating, "which heats the house"));
        needed.extend(cooling.map(|cooling| (cooling, "which cools the house")));
    }
    let mut told: Vec<Carrier> = Vec::new();
    for (carrier, why) in needed {
        let Some(spec) = specs::CARRIERS.iter().find(|spec| spec.carrier == carrier) else { continue };
        if table.has(spec.price.key) || told.contains(&carrier) {
            continue;
        }
        told.push(carrier);
        let message = format!("`[tariff]` has no price of {}, {why}", spec.price.key);
        let hint = format!("write {} = \"{}\" with what you pay", spec.price.key, spec.price.example);
        conflict(log, table.span.clone(), message, ("this table", hint));
    }
}

/// Price and standing charge; `None` where the carrier is left out.
fn read_carrier(log: &mut Log, tariff: &Table<'_>, spec: &CarrierSpec) -> Option<(BoughtAt, f64)> {
    let key = spec.price.key;
    if !tariff.is_table(key) {
        return paid(log, tariff, &spec.price).map(|price| (BoughtAt::Flat(price), 0.0));
    }
    let (own, band) = tables_of(spec.carrier);
    let table = tariff.table(log, own)?;
    let flat = paid(log, &table, &specs::FLAT_PRICE);
    let standing = if table.has("standing") { paid(log, &table, &specs::STANDING) } else { Some(0.0) };
    let price = if table.has("band") {
        if table.has("price") {
            let message =
                format!("`{}`: there are bands with prices of their own beside it", table.path_of("price"));
            let hint = "write `price` for the same price in all hours, or bands; not both".to_owned();
            conflict(log, table.span_of("price"), message, ("twice", hint));
        }
        read_bands(log, &table, band).map(BoughtAt::ByHour)
    } else {
        if !table.has("price") {
            let message = format!("`{}` has no price", table.path);
            let hint = format!("write `price`, or a list of {}", band.header);
            conflict(log, table.span.clone(), message, ("this table", hint));
        }
        flat.map(BoughtAt::Flat)
    };
    table.finish(log);
    Some((price?, standing?))
}

fn tables_of(carrier: Carrier) -> (&'static TableKeys, &'static TableKeys) {
    match carrier {
        Carrier::Electricity => (&keys::ELECTRICITY, &keys::ELECTRICITY_BAND),
        Carrier::Gas => (&keys::GAS, &keys::GAS_BAND),
        Carrier::Oil => (&keys::OIL, &keys::OIL_BAND),
        Carrier::Propane => (&keys::PROPANE, &keys::PROPANE_BAND),
        Carrier::Wood => (&keys::WOOD, &keys::WOOD_BAND),
    }
}

fn read_bands(log: &mut Log, carrier: &Table<'_>, of: &'static TableKeys) -> Option<TimeOfUse> {
    let before = log.problems.len();
    let tables = carrier.tables(log, of);
    let bands: Vec<Band> = tables.into_iter().filter_map(|table| read_band(log, table)).collect();
    if log.problems.len() > before {
        return None;
    }
    match TimeOfUse::new(bands) {
        Ok(times) => Some(times),
        Err(problem) => {
            let message = format!("`{}`: {problem}", carrier.path_of("band"));
            let hint = "every hour of weekdays and weekends, in every month, needs one price".to_owned();
            conflict(log, carrier.span_of("band"), message, ("these bands", hint));
            None
        }
    }
}

fn read_band(log: &mut Log, mut table: Table<'_>) -> Option<Band> {
    let name = table.required(log, &specs::BAND_NAME);
    if !table.has("price") {
        table.required(log, &specs::FLAT_PRICE);
    }
    let price = paid(log, &table, &specs::FLAT_PRICE);
    let from = table.or_unlisted(log, &specs::BAND_FROM, "0:00");
    let to = table.or_unlisted(log, &specs::BAND_TO, "24:00");
    let days = table.or_unlisted(log, &specs::DAYS, "every-day");
    let months = if table.has("months") { table.optional(log, &specs::MONTHS) } else { Some(Vec::new()) };
    // Midnight to midnight is the whole day.
    let hours = match (from, to) {
        (Some(0), Some(0)) => Some((0, 24)),
        (Some(from), Some(to)) => super::plant::hours(log, &table, (from, to)).map(|_| (from, to)),
        _ => None,
    };
    table.finish(log);
    let (from, to) = hours?;
    let to = if to == 0 { 24 } else { to };
    let hour = |hour: u32| u8::try_from(hour).ok();
    let band = Band::new(&name?, price?, days?, hour(from)?, hour(to)?);
    Some(band.in_months(&months?))
}

/// Carbon dioxide [g/kWh] and source energy [-] of a carrier; listed as defaults where it has a price.
fn read_factors(
    log: &mut Log,
    (carbon, source): (Option<&Table<'_>>, Option<&Table<'_>>),
    spec: &CarrierSpec,
    has_price: bool,
) -> (Option<f64>, Option<f64>) {
    const G_PER_KWH: f64 = 1000.0 * KILOWATT_HOUR_J;
    let bought = spec.carrier.bought_as();
    let key = spec.price.key;
    let default = |log: &mut Log, table: &Table<'_>, typical: economics::tariff::Typical, unit: &str| {
        if has_price {
            log.took(table.path_of(key), format!("{}{unit}", brief(typical.value)), typical.source);
        }
        Some(typical.value)
    };
    let carbon = carbon.and_then(|table| {
        if table.has(key) {
            table.optional(log, &spec.carbon).map(|kg_per_j| kg_per_j * G_PER_KWH)
        } else {
            default(log, table, bought.carbon_g_per_kwh(), " g/kWh")
        }
    });
    let source = source.and_then(|table| {
        if table.has(key) {
            table.optional(log, &spec.source)
        } else {
            default(log, table, bought.source_factor(), "")
        }
    });
    (carbon, source)
}

/// `None` where something in it is wrong.
fn read_bills(log: &mut Log, mut table: Table<'_>, of_house: Option<OfHouse>) -> Option<Bills> {
    let kwh = |joules: f64| joules / KILOWATT_HOUR_J;
    let before = log.problems.len();
    let heating = table.required(log, &specs::BILLED_HEATING);
    let other_uses = table.optional(log, &specs::OTHER_USES);
    let electricity = table.optional(log, &specs::BILLED_ELECTRICITY);
    if of_house.is_some_and(|of_house| of_house.heating == Carrier::Electricity) {
        check_electric(log, &table);
    }
    let house = if table.has("house") {
        table.optional(log, &specs::BILLED_HOUSE)
    } else {
        let why = "assumed: before a unit was bought, the house had no ventilation but its leaks";
        log.took(table.path_of("house"), "no-ventilation", why);
        Some(BilledHouse::NoVentilation)
    };
    table.finish(log);
    if log.problems.len() > before {
        return None;
    }
    Some(Bills {
        heating_kwh: kwh(heating?),
        other_uses_kwh: other_uses.map(kwh),
        electricity_kwh: electricity.map(kwh),
        house: house?,
    })
}

/// A house heated by electricity has one meter.
fn check_electric(log: &mut Log, bills: &Table<'_>) {
    if bills.has("electricity") {
        let message = format!("`{}`: electricity heats this house", bills.path_of("electricity"));
        let hint = "write all of its electricity as `heating`, and what was not for heating as `other_uses`";
        conflict(log, bills.span_of("electricity"), message, ("one meter", hint.to_owned()));
    }
    if bills.has("heating") && !bills.has("other_uses") {
        let message =
            "`bills`: electricity heats this house, and also runs its lights and appliances".to_owned();
        let hint = "say as `other_uses` how much was not for heating, fans and cooling".to_owned();
        conflict(log, bills.span.clone(), message, ("`other_uses` is missing", hint));
    }
}

/// A unit's cost; defaults are listed where it has a price that is used.
pub(super) fn read_cost(log: &mut Log, unit: &Table<'_>, has_tariff: bool) -> Option<UnitCost> {
    let before = log.problems.len();
    let price = paid(log, unit, &specs::UNIT_PRICE);
    let listed = has_tariff && unit.has("price");
    if has_tariff && !unit.has("price") {
        let why = "left open: without a price the unit is not ranked, and its break-even price is shown";
        log.took(unit.path_of("price"), "unknown", why);
    }
    let upkeep = if unit.has("upkeep_cost") {
        paid(log, unit, &specs::UPKEEP_COST)
    } else {
        if listed {
            log.took(unit.path_of("upkeep_cost"), "0", "assumed: nothing, since none is given");
        }
        Some(0.0)
    };
    let life = ("20 years", "assumed: the usual life of a ventilation unit");
    let life =
        if listed { unit.or(log, &specs::LIFE, life) } else { unit.or_unlisted(log, &specs::LIFE, life.0) };
    if log.problems.len() > before {
        return None;
    }
    Some(UnitCost { price, upkeep_per_year: upkeep?, life_years: life? })
}

/// Money at a key, in the currency of the study; the first price that is met sets it.
fn paid(log: &mut Log, table: &Table<'_>, price: &Price) -> Option<f64> {
    let money = table.optional(log, price)?;
    match &log.currency {
        Some(currency) if *currency != money.currency => {
            let message = format!(
                "`{}`: this study counts money in {currency}, and this is {}",
                table.path_of(price.key),
                money.currency
            );
            let hint = "no rate of exchange is known here: write all money in one currency".to_owned();
            conflict(log, table.span_of(price.key), message, ("another currency", hint));
            None
        }
        _ => {
            log.currency = Some(money.currency);
            Some(money.amount)
        }
    }
}

//! `money.csv` and `money.json`: every account, and what it all rests on.
//!
//! Here: one list of columns for the file and its guide. Not here: the words for a person (`money/words.rs`).

use economics::tariff::{Carrier, Price};
use economics::timetable::Days;
use economics::verdict::{CAUTION, Judged, Overall, Verdict};
use economics::worth::Payback;
use serde_json::{Value, json};

use super::account::{Account, CarrierYear};
use super::found::{BreakEven, Life, PRICE_DECIMALS};
use super::{Found, MoneyReport, words};
use crate::{Cell, ReportError, case_key};

/// Headers of the key columns of `money.csv`, with what they hold.
pub const MONEY_KEYS: [(&str, &str); 4] = [
    ("unit", "Name of the unit."),
    (
        "case",
        "Which house, as in annual.csv: `unit` or, where it missed outdoor air, `unit-held-air` with that air made up; then its no-recovery house and its extract-only house.",
    ),
    (
        "verdict",
        "`recommended`, `close` (not told apart), `fit` or `unfit` (breaks a limit) of a unit; `no-price`; `reference`: the house that all are compared with; else empty.",
    ),
    ("currency", "What money is counted in, in today's prices."),
];

/// One column of `money.csv`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MoneyColumn {
    /// Header; money ends in `_money`.
    pub name: String,
    /// Its unit; `money` is the currency of the row.
    pub unit: &'static str,
    /// How it adds up.
    pub aggregates: &'static str,
    /// What it holds.
    pub meaning: String,
}

/// Carriers that a study can buy.
const CARRIERS: [Carrier; 5] =
    [Carrier::Electricity, Carrier::Gas, Carrier::Oil, Carrier::Propane, Carrier::Wood];

/// A column and its figure.
type Field = (MoneyColumn, Cell);

fn field(
    name: impl Into<String>,
    (unit, aggregates): (&'static str, &'static str),
    meaning: impl Into<String>,
    cell: Cell,
) -> Field {
    (MoneyColumn { name: name.into(), unit, aggregates, meaning: meaning.into() }, cell)
}

/// The columns of `money.csv` after the keys.
pub fn money_columns() -> Vec<MoneyColumn> {
    fields(None).into_iter().map(|(column, _)| column).collect()
}

/// All columns, with the figures of an account where one is given.
fn fields(account: Option<&Account>) -> Vec<Field> {
    const YEAR: (&str, &str) = ("money", "sum of the year");
    let whole = |of: fn(&Account) -> Cell| account.map_or(Cell::Empty, of);
    let mut fields =
        vec![field("outdoor_air_m3", ("m³", "sum"), "Outdoor air brought in.", whole(|a| a.outdoor_air_m3))];
    for carrier in CARRIERS {
        fields.extend(of_carrier(carrier, account.and_then(|account| account.of(carrier))));
    }
    fields.extend([
        field("bought_kwh", ("kWh", "sum"), "Energy bought: sum of the carriers.", whole(Account::site_kwh)),
        field("carbon_kg", ("kg", "sum"), "Carbon dioxide: sum of the carriers.", whole(Account::carbon_kg)),
        field(
            "source_kwh",
            ("kWh", "sum"),
            "Energy taken from nature: sum of the carriers.",
            whole(Account::source_kwh),
        ),
        field("standing_money", YEAR, "Charges for the connections.", whole(Account::standing)),
        field("energy_money", YEAR, "Energy of all carriers and connections.", whole(Account::energy)),
        field("upkeep_money", YEAR, "Upkeep of the unit.", whole(|a| a.upkeep)),
        field("running_money", YEAR, "Energy, connections and upkeep.", whole(Account::running)),
    ]);
    fields.extend(of_found(account.and_then(|account| account.found.as_ref())));
    fields
}

fn of_carrier(carrier: Carrier, year: Option<&CarrierYear>) -> [Field; 4] {
    let name = carrier.name();
    let of = |of: fn(&CarrierYear) -> Cell| year.map_or(Cell::Empty, of);
    [
        field(
            format!("{name}_kwh"),
            ("kWh", "sum"),
            format!(
                "Bought as {name}, heating scaled to the bills where there are any; empty where the house buys none."
            ),
            of(|year| year.site_kwh),
        ),
        field(
            format!("{name}_carbon_kg"),
            ("kg", "sum"),
            format!("Carbon dioxide of that {name}."),
            of(|year| year.carbon_kg),
        ),
        field(
            format!("{name}_source_kwh"),
            ("kWh", "sum"),
            format!("Energy taken from nature for that {name}."),
            of(|year| year.source_kwh),
        ),
        field(
            format!("{name}_money"),
            ("money", "sum of the year"),
            format!("Paid for that {name}, hour by hour, without the connection."),
            of(|year| year.energy),
        ),
    ]
}

fn of_found(found: Option<&Found>) -> Vec<Field> {
    const LESS: &str = "difference of printed figures";
    const WORTH: (&str, &str) = ("money", "present value over the horizon");
    const ONCE: &str = "once";
    let of = |of: fn(&Found) -> Cell| found.map_or(Cell::Empty, of);
    let life = |of: fn(&Life) -> Cell| found.and_then(|found| found.life.as_ref()).map_or(Cell::Empty, of);
    let rounded = |value: Option<f64>, decimals| {
        value.and_then(|value| Cell::rounded(value, decimals).ok()).unwrap_or(Cell::Empty)
    };
    let lived = found.and_then(|found| found.life.as_ref());
    let years = |of: fn(&Life) -> Payback| rounded(lived.and_then(|life| words::years(of(life))), 2);
    let mut fields = vec![
        field("saving_money", ("money", LESS), "Running money of the reference less this.", of(|f| f.saving)),
        field("saving_kwh", ("kWh", LESS), "Energy bought, likewise.", of(|f| f.site_kwh)),
        field("saving_carbon_kg", ("kg", LESS), "Carbon dioxide, likewise.", of(|f| f.carbon_kg)),
        field(
            "saving_source_kwh",
            ("kWh", LESS),
            "Energy taken from nature, likewise.",
            of(|f| f.source_kwh),
        ),
        field("price_money", ("money", ONCE), "First price of the unit.", life(|l| l.price)),
        field(
            "replacements_money",
            WORTH,
            "The unit bought again within the horizon.",
            life(|l| l.replacements),
        ),
        field("residual_money", WORTH, "What it is worth at the horizon, negative.", life(|l| l.residual)),
        field("lifetime_upkeep_money", WORTH, "Upkeep.", life(|l| l.upkeep)),
        field("lifetime_energy_money", WORTH, "Energy and connections.", life(|l| l.energy)),
        field("life_cycle_money", WORTH, "Sum of the five before it.", life(Life::total)),
        field(
            "net_present_value_money",
            WORTH,
            "Life-cycle money of the reference less this.",
            life(|l| l.net_present_value),
        ),
        field(
            "simple_payback_years",
            ("years", ONCE),
            "Price over saving a year; empty where it never comes back, 0 where there is nothing to come back.",
            years(|l| l.simple_payback),
        ),
        field(
            "discounted_payback_years",
            ("years", ONCE),
            "With discount and escalation, of the first purchase; empty where it is not within the life of the unit.",
            years(|l| l.discounted_payback),
        ),
        field(
            "levelised_money_per_kwh",
            ("money/kWh", ONCE),
            "Hardware and upkeep for each kWh bought less, spread over the horizon: compare with what a kWh costs.",
            rounded(lived.and_then(|life| life.levelised_per_kwh), PRICE_DECIMALS),
        ),
        field(
            "break_even_price_money",
            ("money", ONCE),
            "The price at which the unit is worth what it costs over the horizon; below 0 it is not worth having for nothing.",
            rounded(found.and_then(|found| found.break_even_price), 2),
        ),
    ];
    for carrier in CARRIERS {
        let even = found.and_then(|found| found.break_evens.iter().find(|even| even.carrier == carrier));
        fields.extend(of_break_even(carrier.name(), even, rounded));
    }
    fields
}

fn of_break_even(
    name: &str,
    even: Option<&BreakEven>,
    rounded: impl Fn(Option<f64>, u8) -> Cell,
) -> [Field; 2] {
    [
        field(
            format!("break_even_{name}_money_per_kwh"),
            ("money/kWh", "once"),
            format!(
                "The price of {name} at which the unit is worth what it costs, all else as it is; empty with prices by hour."
            ),
            rounded(even.and_then(|even| even.per_kwh), PRICE_DECIMALS),
        ),
        field(
            format!("break_even_{name}_times"),
            ("1", "once"),
            format!("The same as a multiple of today's prices of {name}, every band alike."),
            rounded(even.and_then(|even| even.times_today), 4),
        ),
    ]
}

impl MoneyReport {
    /// The word of the column `verdict`.
    fn verdict_key(&self, at: usize) -> &'static str {
        let account = &self.accounts[at];
        if at == self.reference {
            return "reference";
        }
        if !account.is_unit() {
            return "";
        }
        let Some(Ok(judgement)) = &self.judgement else {
            return if account.price.is_none() { "no-price" } else { "" };
        };
        let Some(judged) = judgement.units.iter().find(|judged| judged.name == account.unit) else {
            return "no-price";
        };
        match (&judgement.overall, &judged.verdict) {
            (_, Verdict::Unfit { .. }) => "unfit",
            (Overall::Recommended { name }, _) if *name == account.unit => "recommended",
            (Overall::NoClearWinner { names, .. }, _) if names.contains(&account.unit) => "close",
            _ => "fit",
        }
    }
}

/// `money.csv`: a row for each unit, its house without recovery and its house with an extract fan.
///
/// # Errors
/// [`ReportError::Writing`] when the text cannot be put together.
pub fn money_csv(report: &MoneyReport) -> Result<String, ReportError> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let keys = MONEY_KEYS.iter().map(|(name, _)| (*name).to_owned());
    let header = keys.chain(money_columns().into_iter().map(|column| column.name));
    writer.write_record(header).map_err(ReportError::writing)?;
    for (at, account) in report.accounts.iter().enumerate() {
        let keys = [&account.unit, case_key(account.case), report.verdict_key(at), &report.basis.currency];
        let cells = fields(Some(account)).into_iter().map(|(_, cell)| cell.to_string());
        let record = keys.into_iter().map(str::to_owned).chain(cells);
        writer.write_record(record).map_err(ReportError::writing)?;
    }
    String::from_utf8(writer.into_inner().map_err(ReportError::writing)?).map_err(ReportError::writing)
}

/// `money.json`: tariffs, terms, bills and rules that were used, and the recommendation with its reasons.
///
/// # Errors
/// [`ReportError::Writing`] when the text cannot be put together.
pub fn money_json(report: &MoneyReport) -> Result<String, ReportError> {
    let basis = &report.basis;
    let tariffs: Vec<Value> = basis.tariffs.iter().map(tariff).collect();
    let rules: Vec<Value> = basis
        .rules
        .thresholds()
        .iter()
        .map(|t| json!({ "name": t.name, "value": t.value, "unit": t.unit, "source": t.source }))
        .collect();
    let offers: Vec<Value> = basis
        .offers
        .iter()
        .map(|offer| {
            json!({
                "unit": offer.unit,
                "price": offer.price,
                "upkeep_per_year": offer.upkeep_per_year,
                "life_years": offer.life_years,
            })
        })
        .collect();
    let judgement = match &report.judgement {
        None => Value::Null,
        Some(Err(reason)) => json!({ "none": reason.to_string() }),
        Some(Ok(judgement)) => {
            let units: Vec<Value> = judgement.units.iter().map(judged).collect();
            json!({ "sentence": judgement.sentence, "units": units })
        }
    };
    let reference = &report.accounts[report.reference];
    let text = json!({
        "currency": basis.currency,
        "discount_rate": basis.terms.discount_per_year,
        "horizon_years": basis.terms.horizon_years,
        "heated_by": basis.heated_by.name(),
        "cooled_by": basis.cooled_by.name(),
        "tariffs": tariffs,
        "units": offers,
        "bills": report.fit.as_ref().map(economics::bills::Fit::told),
        "heating_scale": report.fit.as_ref().map_or(1.0, |fit| fit.scale),
        "reference": { "unit": reference.unit, "case": case_key(reference.case) },
        "rules": rules,
        "recommendation": judgement,
        "what_if": report.what_if.iter().map(super::WhatIf::json).collect::<Vec<Value>>(),
        "caution": CAUTION,
    });
    let mut text = serde_json::to_string_pretty(&text).map_err(ReportError::writing)?;
    text.push('\n');
    Ok(text)
}

fn tariff(tariff: &economics::tariff::Tariff) -> Value {
    let price = match &tariff.price {
        Price::Flat(price) => json!(price),
        Price::ByHour(times) => {
            let days = |days| match days {
                Days::Every => "every-day",
                Days::Weekdays => "weekdays",
                Days::Weekends => "weekends",
            };
            let band = |band: &economics::timetable::Band| {
                json!({
                    "name": band.name,
                    "per_kwh": band.price_per_kwh,
                    "from_hour": band.from_hour,
                    "to_hour": band.to_hour,
                    "days": days(band.days),
                    "months": band.months,
                })
            };
            Value::Array(times.bands().iter().map(band).collect())
        }
    };
    json!({
        "carrier": tariff.carrier.name(),
        "per_kwh": price,
        "standing_per_year": tariff.standing_per_year,
        "escalation_per_year": tariff.escalation_per_year,
        "carbon_g_per_kwh": tariff.carbon_g_per_kwh,
        "source_factor": tariff.source_factor,
    })
}

fn judged(judged: &Judged) -> Value {
    let sentences = |reasons: &[economics::verdict::Reason]| -> Vec<String> {
        reasons.iter().map(|reason| reason.sentence.clone()).collect()
    };
    let (place, broken) = match &judged.verdict {
        Verdict::Fit { rank } => (Some(*rank), Vec::new()),
        Verdict::Unfit { reasons } => (None, sentences(reasons)),
    };
    json!({ "unit": judged.name, "place": place, "breaks": broken, "cautions": sentences(&judged.cautions) })
}

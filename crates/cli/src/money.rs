//! What a run says of money, where the study has a tariff.
//!
//! Not here: the reckoning (crate `economics`), tables and sentences (`reporting::money`).

use economics::bills::Bills;
use economics::tariff::Carrier;
use economics::verdict::Rules;
use reporting::money::money_table;
use reporting::money::{MoneyBasis, MoneyError, MoneyReport, UnitOffer, money_csv, money_json, money_notes};
use reporting::{ReportError, RunSummary};
use simulation::results::{Case, HouseYear};
use study::{BilledHouse, Money, Study};

use crate::failure::Failure;
use crate::output::Filling;
use crate::run::{Prepared, wrapped};

/// Said where units have prices and nothing says what energy costs.
pub(crate) const UNUSED: &str = "units have prices, but the study has no [tariff]: nothing is said of money without the prices of energy.";

/// Whether units have prices that are of no use.
pub(crate) fn is_unused(study: &Study) -> bool {
    study.money.is_none() && study.units.iter().any(|unit| unit.cost.price.is_some())
}

/// Reckons the years; `None` where the study says nothing of money.
///
/// # Errors
/// [`Failure`] for bills that do not fit the house, or a number out of range.
pub(crate) fn reckon(
    prepared: &Prepared,
    years: &[HouseYear],
    summary: &RunSummary,
) -> Result<Option<MoneyReport>, Failure> {
    let Some(money) = &prepared.study.money else { return Ok(None) };
    let basis = basis(&prepared.study, money);
    MoneyReport::new(years, summary, basis).map(Some).map_err(|cause| match cause {
        MoneyError::Bills(_) => {
            Failure::input(format!("{}{}: {cause}", prepared.name(), line_of_bills(prepared))).hint(
                "[bills] is a year of this house's own bills; `house` there says how it was ventilated then",
            )
        }
        other => Failure::work(other),
    })
}

/// ":151", the line on which the bills begin.
fn line_of_bills(prepared: &Prepared) -> String {
    let text = prepared.sources.first().map(|source| String::from_utf8_lossy(&source.bytes));
    let begins = |line: &str| {
        line.trim_start().strip_prefix('[').is_some_and(|rest| rest.trim_start().starts_with("bills"))
    };
    let line = text.and_then(|text| text.lines().position(begins));
    line.map_or_else(String::new, |line| format!(":{}", line + 1))
}

fn basis(study: &Study, money: &Money) -> MoneyBasis {
    let heated_by = study.house.heating.source.bought_as();
    let cooling = study.house.cooling.as_ref();
    let offers = study.units.iter().map(|unit| UnitOffer {
        unit: unit.name.clone(),
        price: unit.cost.price,
        upkeep_per_year: unit.cost.upkeep_per_year,
        life_years: unit.cost.life_years,
    });
    MoneyBasis {
        currency: money.currency.clone(),
        tariffs: money.tariffs.clone(),
        terms: money.terms,
        heated_by,
        cooled_by: cooling.map_or(Carrier::Electricity, |cooling| cooling.source.bought_as()),
        offers: offers.collect(),
        bills: money.bills.as_ref().map(|bills| of_bills(bills, heated_by)),
        rules: Rules::default(),
    }
}

fn of_bills(bills: &study::Bills, heated_by: Carrier) -> (Bills, Case) {
    let case = match bills.house {
        BilledHouse::NoVentilation => Case::NoVentilation,
        BilledHouse::ExtractOnly => Case::ExtractOnly,
        BilledHouse::NoRecovery => Case::NoRecovery,
    };
    let bills = Bills {
        heated_by,
        bought_kwh: bills.heating_kwh,
        other_uses_kwh: bills.other_uses_kwh,
        electricity_kwh: bills.electricity_kwh,
        degree_days: None,
    };
    (bills, case)
}

/// Writes `money.csv` and `money.json`.
pub(crate) fn write(report: &MoneyReport, filling: &Filling) -> Result<(), Failure> {
    let failed = |cause: ReportError| Failure::work(cause);
    filling.write("money.csv", &money_csv(report).map_err(failed)?)?;
    filling.write("money.json", &money_json(report).map_err(failed)?)
}

/// The table of money and the sentences below it.
pub(crate) fn lines(report: &MoneyReport) -> Vec<String> {
    let table = format!("\n{}", money_table(report));
    std::iter::once(table).chain(money_notes(report).iter().map(|note| wrapped(note, 96))).collect()
}

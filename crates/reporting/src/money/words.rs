//! The table of money in the terminal, and the sentences below it: what is recommended, why, and what would change it.
//!
//! Not here: the full figures (`money/columns.rs`).

use std::fmt::Write as _;

use economics::verdict::{CAUTION, Judged, Judgement, Overall, Verdict};
use economics::worth::Payback;
use simulation::results::Case;

use super::found::{BreakEven, Life};
use super::{Account, Found, MoneyReport, REFERENCE};
use crate::Cell;
use crate::text_table::{NO_FIGURE, lines_within};

const TABLE_WIDTH: usize = 100;

/// The years of a payback; 0 where nothing has to come back, `None` where it does not.
pub(super) fn years(payback: Payback) -> Option<f64> {
    match payback {
        Payback::AtOnce => Some(0.0),
        Payback::After(years) => Some(years),
        Payback::NotWithin(_) | Payback::Never | Payback::LeadGoneAfter(_) => None,
    }
}

fn payback(payback: Payback) -> String {
    match payback {
        Payback::AtOnce => "at once".to_owned(),
        Payback::After(years) => format!("{years:.1}"),
        Payback::NotWithin(years) => format!(">{years:.0}"),
        Payback::Never | Payback::LeadGoneAfter(_) => "never".to_owned(),
    }
}

/// Every unit beside the house without recovery and the house with an extract fan, whole money.
pub fn money_table(report: &MoneyReport) -> String {
    let currency = &report.basis.currency;
    let heads = [
        "equal outdoor air",
        "running",
        "saving",
        "CO2 less",
        "source less",
        "payback",
        "worth",
        "pays up to",
    ];
    let units = [
        "a year's money",
        &format!("{currency}/a"),
        &format!("{currency}/a"),
        "kg/a",
        "kWh/a",
        "years",
        currency,
        currency,
    ];
    let texts = |texts: [&str; 8]| texts.map(str::to_owned).to_vec();
    let mut rows = vec![texts(heads), texts(units)];
    let house = &report.accounts[report.reference];
    rows.extend(report.units().map(|unit| line(&unit.unit, unit)));
    rows.push(line(REFERENCE, house));
    let fan = report.accounts.iter().find(|it| it.unit == house.unit && it.case == Case::ExtractOnly);
    rows.extend(fan.map(|fan| line("extract only", fan)));
    lines_within(&rows, &[crate::text_table::Aligned::Left], 2, (TABLE_WIDTH, "  "))
}

fn line(name: &str, account: &Account) -> Vec<String> {
    let none = || NO_FIGURE.to_owned();
    let whole = |cell: Cell| cell.value().map_or_else(none, |value| plain(value, 0));
    let found = account.found.as_ref();
    let is_house = !account.is_unit();
    let of = |of: fn(&Found) -> Cell| found.map_or_else(none, |found| whole(of(found)));
    let life = |of: fn(&Life) -> String| {
        let life = found.and_then(|found| found.life.as_ref()).filter(|_| !is_house);
        life.map_or_else(none, of)
    };
    let up_to = found.and_then(|found| found.break_even_price);
    vec![
        name.to_owned(),
        whole(account.running()),
        of(|found| found.saving),
        of(|found| found.carbon_kg),
        of(|found| found.source_kwh),
        life(|life| payback(life.simple_payback)),
        life(|life| life.net_present_value.value().map_or_else(String::new, |value| plain(value, 0))),
        up_to.map_or_else(none, |price| plain(price, 0)),
    ]
}

/// Without a minus before nothing.
fn plain(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.bytes().all(|byte| matches!(byte, b'-' | b'0' | b'.')) { text.replace('-', "") } else { text }
}

/// One sentence on the whole, one a unit with its reasons, what would change it, what it rests on, a caution.
pub fn money_notes(report: &MoneyReport) -> Vec<String> {
    let basis = &report.basis;
    let head = format!(
        "Recommendation, in {} of today over {} years at {} % a year: ",
        basis.currency,
        plain_short(basis.terms.horizon_years),
        plain_short(100.0 * basis.terms.discount_per_year)
    );
    let overall = match &report.judgement {
        None => {
            "none, since the study gives no unit a price; what each may cost at most stands below.".to_owned()
        }
        Some(Err(reason)) => format!("none. {reason}."),
        Some(Ok(judgement)) => judgement.sentence.clone(),
    };
    let mut notes = vec![format!("{head}{overall}")];
    notes.extend(report.units().map(|unit| of_unit(report, unit)));
    notes.push(format!(
        "Money: {REFERENCE} is the house with the same outdoor air and no core, with the fans of {}; a unit's price is what it \
         costs beyond that. First come limits of damp, dryness, wet glass, mould, ice and missed air, then present value; what lies \
         within {} % of the price is not told apart. money.json lists every limit with its source, and the tariff.",
        report.accounts[report.reference].unit,
        plain_short(100.0 * basis.rules.margin_share_of_price)
    ));
    notes.extend(report.fit.as_ref().map(|fit| format!("Bills: {}", fit.told())));
    notes.push(CAUTION.to_owned());
    notes
}

fn plain_short(value: f64) -> String {
    ((value * 1e6).round() / 1e6).to_string()
}

fn of_unit(report: &MoneyReport, unit: &Account) -> String {
    let judgement = report.judgement.as_ref().and_then(|judgement| judgement.as_ref().ok());
    let of = |judgement: &Judgement| judgement.units.iter().find(|judged| judged.name == unit.unit).cloned();
    let judged = judgement.and_then(of).or_else(|| report.by_limits.as_ref().ok().and_then(of));
    let mut text = format!("{}: {}", unit.unit, standing(unit, judged.as_ref()));
    for caution in judged.iter().flat_map(|judged| &judged.cautions) {
        let _ = write!(text, " Caution. {}", caution.sentence);
    }
    if let Some(found) = &unit.found {
        let _ = write!(text, " {}", changes(report, unit, found, judgement));
    }
    text
}

fn standing(unit: &Account, judged: Option<&Judged>) -> String {
    match judged.map(|judged| &judged.verdict) {
        Some(Verdict::Unfit { reasons }) => {
            let reasons: Vec<&str> = reasons.iter().map(|reason| reason.sentence.as_str()).collect();
            format!("not fit. {}", reasons.join(" "))
        }
        Some(Verdict::Fit { .. }) if unit.price.is_none() => "keeps every limit; it has no price.".to_owned(),
        Some(Verdict::Fit { rank }) => format!("keeps every limit; place {rank} by present value."),
        None => "not judged.".to_owned(),
    }
}

/// Break-evens of price and tariffs, and of the lead over the next.
fn changes(report: &MoneyReport, unit: &Account, found: &Found, judgement: Option<&Judgement>) -> String {
    let currency = &report.basis.currency;
    let given = unit.price.map_or_else(String::new, |price| format!(" ({price:.0} given)"));
    let mut parts = match found.break_even_price {
        Some(price) if price > 0.0 => vec![format!("up to a price of {price:.0} {currency}{given}")],
        _ => vec![format!("not even for nothing{given}")],
    };
    parts.extend(found.break_evens.iter().map(|even| tariff_change(report, even)));
    let mut text = format!("Beside {REFERENCE} it pays {}.", parts.join("; "));
    if let Some((price, next)) = lead_gone(unit, found, report, judgement) {
        let _ = write!(text, " From a price of {price:.0} {currency} on, {next} leads.");
    }
    text
}

fn tariff_change(report: &MoneyReport, even: &BreakEven) -> String {
    let name = even.carrier.name();
    let (from, never) = if even.saves { ("from", "at any price") } else { ("up to", "at no price") };
    match (even.per_kwh, even.times_today) {
        (Some(price), _) if price < 0.0 => format!("{never} of {name}"),
        (Some(price), _) => format!("with {name} {from} {price:.4} {}/kWh", report.basis.currency),
        (None, Some(times)) if times < 0.0 => format!("{never} of {name}"),
        (None, Some(times)) => format!("with {name} {from} {times:.2} times today's prices"),
        (None, None) => format!("whatever {name} costs"),
    }
}

/// The price at which the recommended unit is worth no more than the best other unit that keeps the limits.
fn lead_gone(
    unit: &Account,
    found: &Found,
    report: &MoneyReport,
    judgement: Option<&Judgement>,
) -> Option<(f64, String)> {
    let judgement = judgement?;
    if !matches!(&judgement.overall, Overall::Recommended { name } if *name == unit.unit) {
        return None;
    }
    let second = judgement.units.iter().find(|judged| judged.verdict == Verdict::Fit { rank: 2 })?;
    let worth = report.units().find(|other| other.unit == second.name)?.found.as_ref()?.worth()?;
    // The hardware's cost is in proportion to the price.
    let price = found.break_even_price? - worth / found.hardware_factor;
    (worth > 0.0 && price > 0.0).then(|| (price, second.name.clone()))
}

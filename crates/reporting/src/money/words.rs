//! The table of money in the terminal, and the sentences below it: what is recommended, why, and what would change it.
//!
//! Not here: the full figures (`money/columns.rs`).

use std::fmt::Write as _;

use economics::tariff::Price;
use economics::verdict::{CAUTION, Judged, Judgement, Limit, Overall, Reason, Verdict};
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
    rows.extend(report.extract_only().map(|fan| line("extract only", fan)));
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
        Some(Ok(judgement)) => judgement.sentence.clone() + &money_alone(report, judgement),
    };
    let mut notes = vec![format!("{head}{overall}")];
    notes.extend(shared(report));
    notes.extend(report.units().map(|unit| of_unit(report, unit)));
    notes.extend(report.extract_only().and_then(|fan| beside_extract_fan(report, fan)));
    notes.push(terms(report));
    notes.extend(report.fit.as_ref().map(|fit| format!("Bills: {}", fit.told())));
    notes.push(CAUTION.to_owned());
    notes
}

/// What money is reckoned with, and in which order is judged.
fn terms(report: &MoneyReport) -> String {
    let held: Vec<&str> =
        report.units().filter(|unit| unit.case == Case::UnitHeld).map(|unit| unit.unit.as_str()).collect();
    let made_up = if held.is_empty() {
        String::new()
    } else {
        format!(
            " Money is that of a year in which the air is made up that {} would miss (rows unit-held-air of annual.csv); limits \
             are judged as a unit runs.",
            held.join(", ")
        )
    };
    format!(
        "Money: {REFERENCE} is the house with the same outdoor air and no core, with the fans of {}; a unit's price is what it \
         costs beyond that.{made_up} First come limits of damp, dryness, wet glass, mould, ice and missed air, then present value; what lies \
         within {} % of the price is not told apart. `dewledger columns` and money.json list every limit with its source.",
        report.accounts[report.reference].unit,
        plain_short(100.0 * report.basis.rules.margin_share_of_price)
    )
}

/// The extract fan is shown and not judged: why, and what money alone would say.
fn beside_extract_fan(report: &MoneyReport, fan: &Account) -> Option<String> {
    let worth = fan.found.as_ref()?.worth()?;
    let saving = fan.found.as_ref()?.saving.value()?;
    let priced = report.units().filter(|unit| unit.price.is_some());
    let best = priced.filter_map(|unit| Some((unit, unit.found.as_ref()?.worth()?)));
    let best = best.reduce(|best, other| if other.1 > best.1 { other } else { best });
    let (currency, why) =
        (&report.basis.currency, "its air comes through the leaks, wherever they are, unfiltered");
    if saving <= 0.0 {
        return Some(format!("Extract only is not judged: {why}. It saves no money beside {REFERENCE}."));
    }
    let stands = match best {
        Some((unit, most)) if most < worth => {
            format!(": money alone would prefer it to {} (worth {})", unit.unit, plain(most, 0))
        }
        Some((unit, most)) => format!(", less than {} (worth {})", unit.unit, plain(most, 0)),
        None => String::new(),
    };
    Some(format!(
        "Extract only is not judged: {why}. Without a core it saves {saving:.0} {currency} a year beside {REFERENCE}, worth \
         {worth:.0} before the price of its fan{stands}."
    ))
}

/// Where no unit is fit: which would be best if money alone counted.
fn money_alone(report: &MoneyReport, judgement: &Judgement) -> String {
    if judgement.overall != Overall::NoneFits {
        return String::new();
    }
    let units = report.units().filter(|unit| unit.price.is_some());
    let worth = units.filter_map(|unit| Some((unit.found.as_ref()?.worth()?, unit.unit.as_str())));
    match worth.max_by(|a, b| a.0.total_cmp(&b.0)) {
        Some((most, name)) if most > 0.0 => {
            format!(" By money alone {name} would lead: it costs {most:.0} less than {REFERENCE}.")
        }
        _ => format!(" By money alone {REFERENCE} would lead."),
    }
}

/// Preheating is a unit's own; any other caution is shared by all houses.
fn is_shared(caution: &Reason) -> bool {
    caution.limit != Limit::Preheat
}

/// Limits that no house keeps, each once, with the figures of all units.
fn shared(report: &MoneyReport) -> Option<String> {
    let judged = &report.by_limits.as_ref().ok()?.units;
    let first = judged.first()?;
    let each = |caution: &Reason| {
        let same =
            |judged: &Judged| judged.cautions.iter().find(|other| other.limit == caution.limit).cloned();
        let figures: Vec<String> = judged.iter().filter_map(same).map(|reason| figure_of(&reason)).collect();
        let bound = if caution.limit == Limit::DryWinter { "at least" } else { "at most" };
        format!(
            "{} ({}; {bound} {} allowed)",
            about(caution.limit),
            figures.join(", "),
            format!("{} {}", plain_short(caution.allowed), caution.unit).trim_end()
        )
    };
    let all: Vec<String> = first.cautions.iter().filter(|caution| is_shared(caution)).map(each).collect();
    (!all.is_empty()).then(|| {
        format!(
            "Limits that neither {REFERENCE} nor any unit keeps tell nobody apart, and call for something else than a core: {}.",
            all.join("; ")
        )
    })
}

fn figure_of(reason: &Reason) -> String {
    let decimals = usize::from(reason.limit != Limit::Dry && reason.limit != Limit::Damp);
    format!("{:.decimals$}", reason.found)
}

fn about(limit: Limit) -> &'static str {
    match limit {
        Limit::Dry => "hours below 30 % relative humidity",
        Limit::DryWinter | Limit::DampWinter => "mean relative humidity of the winter",
        Limit::Damp => "hours above 60 % relative humidity",
        Limit::WetWindows => "hours of wet windows",
        Limit::Mould => "mould index",
        Limit::Blocked => "hours blocked by ice",
        Limit::MissedAir => "missed air",
        Limit::ShortOfAir => "hours short of air",
        Limit::Preheat => "preheating",
    }
}

fn plain_short(value: f64) -> String {
    ((value * 1e6).round() / 1e6).to_string()
}

fn of_unit(report: &MoneyReport, unit: &Account) -> String {
    let judgement = report.judgement.as_ref().and_then(|judgement| judgement.as_ref().ok());
    let of = |judgement: &Judgement| judgement.units.iter().find(|judged| judged.name == unit.unit).cloned();
    let judged = judgement.and_then(of).or_else(|| report.by_limits.as_ref().ok().and_then(of));
    let mut text = format!("{}: {}", unit.unit, standing(unit, judged.as_ref()));
    let own = judged.iter().flat_map(|judged| &judged.cautions).filter(|caution| !is_shared(caution));
    for caution in own {
        let _ = write!(text, " Caution. {}", caution.sentence);
    }
    if let Some(found) = &unit.found {
        let _ = write!(text, " {}", changes(report, unit, found, judgement));
    }
    text
}

fn standing(unit: &Account, judged: Option<&Judged>) -> String {
    let left_out = judged.is_some_and(|judged| judged.cautions.iter().any(is_shared));
    let kept = if left_out { "keeps every limit that any house keeps" } else { "keeps every limit" };
    match judged.map(|judged| &judged.verdict) {
        Some(Verdict::Unfit { reasons }) => {
            let reasons: Vec<&str> = reasons.iter().map(|reason| reason.sentence.as_str()).collect();
            format!("not fit. {}", reasons.join(" "))
        }
        Some(Verdict::Fit { .. }) if unit.price.is_none() => format!("{kept}; it has no price."),
        Some(Verdict::Fit { rank }) => format!("{kept}; place {rank} by present value."),
        None => "not judged.".to_owned(),
    }
}

/// Break-evens of price and tariffs, and of the lead over the next.
fn changes(report: &MoneyReport, unit: &Account, found: &Found, judgement: Option<&Judgement>) -> String {
    let currency = &report.basis.currency;
    let given = unit.price.map_or_else(String::new, |price| format!(" ({price:.0} given)"));
    let mut text = match found.break_even_price {
        Some(price) if price > 0.0 => {
            format!("Beside {REFERENCE} it pays up to a price of {price:.0} {currency}{given}")
        }
        _ => format!("Beside {REFERENCE} it does not pay even for nothing{given}"),
    };
    let (near, far): (Vec<&BreakEven>, Vec<&BreakEven>) =
        found.break_evens.iter().partition(|even| is_near(even));
    for even in near {
        let _ = write!(text, "; with {}", tariff_change(report, even));
    }
    let far: Vec<&str> = far.iter().map(|even| even.carrier.name()).collect();
    if !far.is_empty() {
        let _ = write!(text, "; no price of {} up to ten times today's would change it", far.join(" or of "));
    }
    text.push('.');
    if let Some((price, next)) = lead_gone(unit, found, report, judgement) {
        let _ = write!(text, " From a price of {price:.0} {currency} on, {next} leads.");
    }
    text
}

/// Multiples of today's price beyond which nobody asks.
const FAR: f64 = 10.0;

/// Whether the price that would change it lies where prices may go; else none up to there does, for worth is linear in it.
fn is_near(even: &BreakEven) -> bool {
    match (even.times_today, even.per_kwh) {
        (Some(times), _) => (0.0..=FAR).contains(&times),
        (None, Some(price)) => price >= 0.0,
        (None, None) => false,
    }
}

fn tariff_change(report: &MoneyReport, even: &BreakEven) -> String {
    let (name, from) = (even.carrier.name(), if even.saves { "from" } else { "up to" });
    let tariffs = &report.basis.tariffs;
    let today = tariffs.iter().find(|tariff| tariff.carrier == even.carrier).map(|tariff| &tariff.price);
    match (even.per_kwh, even.times_today, today) {
        (Some(price), _, Some(Price::Flat(today))) => {
            format!("{name} {from} {price:.4} {}/kWh ({} given)", report.basis.currency, plain_short(*today))
        }
        (_, times, _) => format!("{name} {from} {:.2} times today's prices", times.unwrap_or(1.0)),
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

//! The first page: five questions, each answered by itself.
//!
//! Not here: who leads and on what ground (`lead`).

use economics::verdict::{Judgement, Limit, Overall, Reason, Rules, Verdict, VerdictError};
use economics::worth::Payback;
use reporting::money::Account;
use reporting::{Figure, ShowIn};
use simulation::results::Case;

use super::Origin;
use super::lead::{Ground, at_equal_air, by_saving};
use super::teller::{Kind, Shape, Teller, mass, quoted, water, whole, words};
use super::year::percentiles;
use crate::model::{Block, Line, Section, Span};

/// Savings that differ by less than this share are not told apart. Assumed: of the size of what one typical year leaves open.
const CLOSE_SHARE: f64 = 0.05;
/// Less ice than this at once would be printed as none; kg or lb.
const LITTLE_ICE: f64 = 0.005;
/// Less than this in a year is hardly any \[L\].
const HARDLY_L: f64 = 1.0;

pub(super) fn section(teller: &Teller<'_>) -> Section {
    let blocks = vec![
        question(teller, "ask.which", which(teller)),
        question(teller, "ask.why", why(teller)),
        question(teller, "ask.saved", saved(teller)),
        question(teller, "ask.water", of_water(teller)),
        question(teller, "ask.beware", beware(teller)),
    ];
    teller.section("answer", "ask.heading", blocks)
}

pub(super) fn question(teller: &Teller<'_>, key: &str, lines: Vec<Line>) -> Block {
    Block::Question { heading: teller.text(key), lines }
}

fn judgement<'a>(teller: &Teller<'a>) -> Option<&'a Judgement> {
    teller.given.money?.judgement.as_ref()?.as_ref().ok()
}

fn account<'a>(teller: &Teller<'a>, unit: &str) -> Option<&'a Account> {
    teller.given.money?.units().find(|account| account.unit == unit)
}

fn with_currency(teller: &Teller<'_>, mut amount: Span) -> Span {
    let currency = teller.given.money.map_or("", |money| money.basis.currency.as_str());
    amount.text = format!("{}\u{a0}{currency}", amount.text);
    amount
}

/// Years over which worth is reckoned.
fn horizon(teller: &Teller<'_>) -> Span {
    let years = teller.given.money.map_or(0.0, |money| money.basis.terms.horizon_years);
    teller.from(years, 0, "money.json|/horizon_years")
}

/// The first line is short: a name. Where none is named, the last line says whose figures follow.
pub(super) fn which(teller: &Teller<'_>) -> Vec<Line> {
    let mut lines = named(teller);
    if !matches!(teller.lead.ground, Ground::Recommended | Ground::ByEnergy) {
        lines.push(teller.line("which.shown", &[("unit", words(&teller.lead.unit))]));
    }
    lines
}

fn named(teller: &Teller<'_>) -> Vec<Line> {
    let unit = words(&teller.lead.unit);
    let count = teller.given.study.units.len();
    let counted = teller.fact("study.units", 0);
    match &teller.lead.ground {
        Ground::Recommended => {
            let priced = judgement(teller).map_or(0, |judgement| judgement.units.len());
            let more = if priced > 1 {
                let counted = teller.from(priced as f64, 0, "money.json|/recommendation/units");
                teller.line("which.recommended_of", &[("count", counted), ("years", horizon(teller))])
            } else {
                teller.line("which.only_one", &[])
            };
            vec![teller.line("which.recommended", &[("unit", unit)]), more]
        }
        Ground::NoWinner => no_winner(teller),
        Ground::NoneFits => vec![teller.line("which.none_fits", &[])],
        Ground::NoneWorth => {
            let mut lines = vec![teller.line("which.none_worth", &[])];
            if let Some(Overall::NoneWorthIt { best, net_present_value }) =
                judgement(teller).map(|it| &it.overall)
            {
                let case = account(teller, best).map_or(Case::Unit, |account| account.case);
                let row = (best.as_str(), case);
                let money = teller.money(Some(*net_present_value), 0, row, "net_present_value_money");
                let money = with_currency(teller, money);
                let pieces = [("unit", unit), ("money", money), ("years", horizon(teller))];
                lines.push(teller.line("which.none_worth_best", &pieces));
            }
            lines
        }
        Ground::NotCompared(reason) => vec![not_compared(teller, reason)],
        Ground::ByEnergy => {
            let more = if count > 1 { "which.by_energy_more" } else { "which.by_energy_one" };
            vec![teller.line("which.by_energy", &[("unit", unit)]), teller.line(more, &[("count", counted)])]
        }
    }
}

fn not_compared(teller: &Teller<'_>, reason: &VerdictError) -> Line {
    const FROM: &str = "money.json|/recommendation/none";
    let VerdictError::UnequalAir { least, least_m3, most, most_m3 } = reason else {
        let reason = quoted(&reason.to_string(), FROM.to_owned());
        return teller.line("which.not_compared", &[("reason", reason)]);
    };
    let is_unit = |name: &str| teller.given.study.units.iter().any(|unit| unit.name == name);
    let name = |name: &str| {
        if is_unit(name) { words(name) } else { Span::words(teller.text("chart.no_recovery")) }
    };
    let pieces = [
        ("least", name(least)),
        ("least_air", teller.from(*least_m3, 0, FROM)),
        ("most", name(most)),
        ("most_air", teller.from(*most_m3, 0, FROM)),
    ];
    teller.line("which.unequal_air", &pieces)
}

fn no_winner(teller: &Teller<'_>) -> Vec<Line> {
    let Some(Overall::NoClearWinner { names, within }) = judgement(teller).map(|it| &it.overall) else {
        return Vec::new();
    };
    let within = teller.from(*within, 0, "money.json|/recommendation/sentence");
    vec![
        teller.line("which.no_winner", &[("names", words(&names.join(", ")))]),
        teller.line("which.no_winner_within", &[("money", with_currency(teller, within))]),
    ]
}

fn why(teller: &Teller<'_>) -> Vec<Line> {
    let unit = teller.lead.unit.as_str();
    let equal = at_equal_air(teller.summary(), unit);
    let saving = whole(Figure::UsefulSavingKwh);
    let mut lines = vec![teller.line("why.energy", &[("saving", teller.figure(unit, equal, saving))])];
    let ranked = by_saving(teller.summary());
    let own = ranked.iter().find(|(name, _)| name == unit).map_or(0.0, |(_, kwh)| *kwh);
    if let Some((next, kwh)) = ranked.into_iter().find(|(name, _)| name != unit) {
        let case = at_equal_air(teller.summary(), &next);
        let pieces = [("unit", words(&next)), ("saving", teller.figure(&next, case, saving))];
        lines.push(teller.line("why.next", &pieces));
        if (own - kwh).abs() < CLOSE_SHARE * own.abs() {
            let percent = teller.rule("close_percent", 100.0 * CLOSE_SHARE, 0);
            lines.push(teller.line("why.close", &[("percent", percent)]));
        }
    }
    let rh = whole(Figure::RhWinterMeanPct);
    let pieces =
        [("rh", teller.figure(unit, Case::Unit, rh)), ("without", teller.figure(unit, Case::NoRecovery, rh))];
    lines.push(teller.line("why.humidity", &pieces));
    lines.extend(worth(teller, unit));
    if teller.above_zero(unit, Case::Unit, Figure::FrostH).is_some() {
        let pieces = [
            ("hours", teller.figure(unit, Case::Unit, whole(Figure::FrostH))),
            ("missed", teller.figure(unit, Case::Unit, whole(Figure::MissedAirM3))),
        ];
        lines.push(teller.line("why.frost", &pieces));
    }
    lines.extend(broken(teller));
    lines
}

fn worth(teller: &Teller<'_>, unit: &str) -> Option<Line> {
    let account = account(teller, unit)?;
    let life = account.found.as_ref()?.life.as_ref()?;
    let row = (unit, account.case);
    let worth = teller.money(life.net_present_value.value(), 0, row, "net_present_value_money");
    let price = teller.money(life.price.value(), 0, row, "price_money");
    let pieces = [
        ("years", horizon(teller)),
        ("worth", with_currency(teller, worth)),
        ("price", with_currency(teller, price)),
    ];
    Some(teller.line("why.worth", &pieces))
}

/// Who breaks which limit, and which limits nobody keeps.
fn broken(teller: &Teller<'_>) -> Vec<Line> {
    let Some(judged) = teller.given.money.and_then(|money| money.by_limits.as_ref().ok()) else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    for unit in &judged.units {
        if let Verdict::Unfit { reasons } = &unit.verdict {
            let pieces = [("unit", words(&unit.name)), ("limits", limits(teller, reasons))];
            lines.push(teller.line("why.broken", &pieces));
        }
    }
    let shared: Vec<Reason> = judged.units.first().map_or(Vec::new(), |unit| unit.cautions.clone());
    let shared: Vec<Reason> = shared.into_iter().filter(|reason| reason.limit != Limit::Preheat).collect();
    if !shared.is_empty() {
        lines.push(teller.line("why.shared", &[("limits", limits(teller, &shared))]));
    }
    lines
}

fn limits(teller: &Teller<'_>, reasons: &[Reason]) -> Span {
    let names: Vec<String> = reasons.iter().map(|reason| teller.text(limit_key(reason.limit))).collect();
    Span::words(names.join(", "))
}

const fn limit_key(limit: Limit) -> &'static str {
    match limit {
        Limit::Dry => "limit.dry",
        Limit::DryWinter => "limit.dry_winter",
        Limit::Damp => "limit.damp",
        Limit::DampWinter => "limit.damp_winter",
        Limit::WetWindows => "limit.wet_windows",
        Limit::Mould => "limit.mould",
        Limit::Blocked => "limit.blocked",
        Limit::MissedAir => "limit.missed_air",
        Limit::ShortOfAir => "limit.short_of_air",
        Limit::Preheat => "limit.preheat",
    }
}

pub(super) fn saved(teller: &Teller<'_>) -> Vec<Line> {
    let unit = teller.lead.unit.as_str();
    let equal = at_equal_air(teller.summary(), unit);
    let saving = |case| teller.figure(unit, case, whole(Figure::UsefulSavingKwh));
    let mut lines = vec![teller.line("saved.energy", &[("saving", saving(equal))])];
    if equal == Case::UnitHeld {
        lines.push(teller.line("saved.held", &[("saving", saving(Case::Unit))]));
    }
    lines.extend(saved_money(teller, unit).into_iter().flatten());
    // Those of the other units stand in the table.
    let is_of_lead = |name: &str| name.strip_prefix(unit).is_some_and(|rest| rest.starts_with(", "));
    lines.extend(teller.given.spread.iter().filter(|spread| is_of_lead(&spread.name)).map(|spread| {
        let [low, middle, high] = percentiles(teller, spread);
        let pieces = [
            ("name", words(&spread.name)),
            ("low", low),
            ("middle", middle),
            ("high", high),
            ("unit", words(&spread.unit)),
        ];
        teller.line("saved.spread", &pieces)
    }));
    if teller.given.spread.is_empty() {
        lines.push(teller.line("saved.sure", &[]));
    }
    if teller.given.money.is_some() && teller.given.study.units.len() > 1 {
        lines.push(teller.line("saved.sure_close", &[]));
    }
    lines
}

fn saved_money(teller: &Teller<'_>, unit: &str) -> Option<Vec<Line>> {
    let account = account(teller, unit)?;
    let found = account.found.as_ref()?;
    let row = (unit, account.case);
    let money = with_currency(teller, teller.money(found.saving.value(), 0, row, "saving_money"));
    let carbon = teller.money(found.carbon_kg.value(), 0, row, "saving_carbon_kg");
    let mut lines = vec![teller.line("saved.money", &[("money", money), ("carbon", carbon)])];
    let payback = found.life.as_ref().map(|life| life.simple_payback);
    lines.extend(payback.map(|payback| match payback {
        Payback::AtOnce => teller.line("saved.payback_once", &[]),
        Payback::After(years) => {
            let years = teller.money(Some(years), 1, row, "simple_payback_years");
            teller.line("saved.payback", &[("years", years)])
        }
        _ => teller.line("saved.payback_none", &[]),
    }));
    Some(lines)
}

pub(super) fn of_water(teller: &Teller<'_>) -> Vec<Line> {
    let unit = teller.lead.unit.as_str();
    let litres = teller.value(unit, Case::Unit, Figure::CondensateL).unwrap_or(0.0);
    let sign = ("unit", words(teller.water_unit()));
    let mut lines = Vec::new();
    if litres < HARDLY_L {
        let most = match teller.show_in {
            ShowIn::Si => teller.rule("hardly_l", HARDLY_L, 1),
            ShowIn::Ip => teller.rule("hardly_gal", teller.show_in.volume(HARDLY_L), 1),
        };
        lines.push(teller.line("water.none", &[("litres", most), sign.clone()]));
    } else {
        let figure = |shape| teller.figure(unit, Case::Unit, shape);
        lines.push(
            teller.line("water.year", &[("litres", figure(water(Figure::CondensateL, 0))), sign.clone()]),
        );
        let date = Shape { figure: Figure::PeakCondensateDate, kind: Kind::Same, decimals: 0 };
        let peak = ("litres", figure(water(Figure::PeakCondensateLPerDay, 1)));
        lines.push(teller.line("water.peak", &[peak, sign.clone(), ("date", figure(date))]));
        lines.push(wettest_month(teller, unit));
    }
    if teller.above_zero(unit, Case::Unit, Figure::CarriedOverL).is_some_and(|litres| litres >= HARDLY_L) {
        let litres = teller.figure(unit, Case::Unit, water(Figure::CarriedOverL, 0));
        lines.push(teller.line("water.carried", &[("litres", litres), sign]));
    }
    if teller.above_zero(unit, Case::Unit, Figure::FrostH).is_some() {
        let shown = teller.value(unit, Case::Unit, Figure::FrostKgPeak).unwrap_or(0.0);
        let key = if teller.show_in.mass(shown) < LITTLE_ICE { "water.ice_little" } else { "water.ice" };
        let pieces = [
            ("hours", teller.figure(unit, Case::Unit, whole(Figure::FrostH))),
            ("mass", teller.figure(unit, Case::Unit, mass(Figure::FrostKgPeak, 2))),
            ("unit", words(teller.mass_unit())),
        ];
        lines.push(teller.line(key, &pieces));
    }
    lines
}

fn wettest_month(teller: &Teller<'_>, unit: &str) -> Line {
    let row = teller.summary().find(unit, Case::Unit);
    let of = |month: usize| row.and_then(|row| row.month(month, Figure::CondensateL).value()).unwrap_or(0.0);
    let most = (0..12).fold(0, |best, month| if of(month) > of(best) { month } else { best });
    let litres = teller.month(unit, Case::Unit, most, water(Figure::CondensateL, 0));
    let pieces = [
        ("litres", litres),
        ("unit", words(teller.water_unit())),
        ("month", words(&teller.month_name(most + 1))),
    ];
    teller.line("water.month", &pieces)
}

/// A mould index from which growth shows under the microscope.
const FIRST_GROWTH: f64 = 1.0;

pub(super) fn beware(teller: &Teller<'_>) -> Vec<Line> {
    let unit = teller.lead.unit.as_str();
    // Dryness and damp are worth a word from the recommendation's own limits on.
    let rules = teller.given.money.map_or_else(Rules::default, |money| money.basis.rules);
    let told = [
        (Figure::RhBelow30H, rules.dry_h_most, "beware.dry", "hours"),
        (Figure::RhAbove60H, rules.damp_h_most, "beware.damp", "hours"),
        (Figure::WindowEdgeWetH, 24.0, "beware.glass", "hours"),
        (Figure::BlockedH, 1.0, "beware.blocked", "hours"),
        (Figure::DefrostH, 1.0, "beware.frost", "hours"),
        (Figure::MissedAirM3, 1000.0, "beware.missed", "air"),
    ];
    let mut lines = Vec::new();
    for (figure, least, key, piece) in told {
        if teller.value(unit, Case::Unit, figure).is_some_and(|value| value >= least) {
            lines.push(teller.line(key, &[(piece, teller.figure(unit, Case::Unit, whole(figure)))]));
        }
    }
    if teller.above_zero(unit, Case::Unit, Figure::PreheatKwh).is_some() {
        let pieces = [
            ("kwh", teller.figure(unit, Case::Unit, whole(Figure::PreheatKwh))),
            ("power", teller.figure(unit, Case::Unit, whole(Figure::PreheatPeakW))),
        ];
        lines.push(teller.line("beware.preheat", &pieces));
    }
    if teller.value(unit, Case::Unit, Figure::MouldIndexMax).is_some_and(|index| index >= FIRST_GROWTH) {
        let shape = Shape { figure: Figure::MouldIndexMax, kind: Kind::Same, decimals: 1 };
        lines.push(teller.line("beware.mould", &[("index", teller.figure(unit, Case::Unit, shape))]));
    }
    lines.push(teller.line("beware.combustion", &[]));
    if teller.given.climate.origin == Origin::Invented {
        lines.push(teller.line("beware.invented", &[]));
    }
    lines
}

//! Which unit, by stated rules: first what it does to the house, then what it costs.
//!
//! 1. Units are compared at equal outdoor air; else whichever brings in least would look best.
//! 2. A unit that breaks a limit of [`Rules`] is unfit. A limit that the reference house and every unit break tells
//!    nobody apart and is not the units' doing: it is a caution to all.
//! 3. Fit units are ranked by net present value. The reference, worth 0, competes if it keeps the limits too.
//! 4. Whoever is best by less than the margin has not won.
//!
//! Not here: the limits and their sources ([`Rules`]), present values ([`crate::worth`]).

use std::fmt::Write as _;

pub use crate::rules::{CAUTION, Limit, Reason, Rules, Threshold};

/// What the rooms are like over a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Indoors {
    /// Hours below 30 % relative humidity \[h\].
    pub rh_below_30_h: f64,
    /// Hours above 60 % \[h\].
    pub rh_above_60_h: f64,
    /// Mean relative humidity of the winter \[%\]; `None` where there are no such months.
    pub rh_winter_mean_pct: Option<f64>,
    /// Hours in which windows sweat \[h\]; `None` where not looked at.
    pub window_wet_h: Option<f64>,
    /// Greatest mould index \[-\]; `None` where not looked at.
    pub mould_index_max: Option<f64>,
}

/// A year with a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// Its name, one of a kind.
    pub name: String,
    /// Price with installation.
    pub price: f64,
    /// Life-cycle cost of the reference less that with the unit, at equal air.
    pub net_present_value: f64,
    /// Outdoor air brought in over the year, at which energy and cost were reckoned \[m³\].
    pub outdoor_air_m3: f64,
    /// The rooms.
    pub indoors: Indoors,
    /// Hours in which ice blocks the core \[h\].
    pub blocked_h: f64,
    /// Outdoor air that the unit as it is keeps back, of what it should bring \[-\].
    pub missed_air_share: f64,
    /// Hours short of what the ventilation standard asks for \[h\].
    pub air_short_h: f64,
    /// Energy for preheating \[kWh\].
    pub preheat_kwh: f64,
}

/// A year of the house that units are compared with.
#[derive(Debug, Clone, PartialEq)]
pub struct Reference {
    /// Its name, such as "no recovery".
    pub name: String,
    /// Outdoor air brought in over the year \[m³\].
    pub outdoor_air_m3: f64,
    /// The rooms.
    pub indoors: Indoors,
}

/// What is said of a unit.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// It keeps the limits.
    Fit {
        /// Place among the fit ones by net present value, from 1.
        rank: usize,
    },
    /// It does not.
    Unfit {
        /// Every limit it breaks.
        reasons: Vec<Reason>,
    },
}

/// A unit with what is said of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// Its name.
    pub name: String,
    /// Fit or not.
    pub verdict: Verdict,
    /// Broken limits that are not held against it.
    pub cautions: Vec<Reason>,
}

/// What is recommended.
#[derive(Debug, Clone, PartialEq)]
pub enum Overall {
    /// This unit.
    Recommended {
        /// Its name.
        name: String,
    },
    /// The best ones cannot be told apart.
    NoClearWinner {
        /// Their names, best first; the reference's may be among them.
        names: Vec<String>,
        /// The margin that would have had to lie between them, in money.
        within: f64,
    },
    /// Every unit breaks a limit.
    NoneFits,
    /// The reference is worth more than every fit unit.
    NoneWorthIt {
        /// The best of them.
        best: String,
        /// Its net present value, below 0.
        net_present_value: f64,
    },
}

/// Everything that is said of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// Every unit, in the order given.
    pub units: Vec<Judged>,
    /// What is recommended.
    pub overall: Overall,
    /// Why, in a sentence or two.
    pub sentence: String,
}

/// Why there is no judgement.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum VerdictError {
    /// Nothing to judge.
    #[error("there is no unit to judge")]
    NoUnits,
    /// Two of a name.
    #[error("two cases are called `{name}`: give each a name of its own")]
    SameName {
        /// The name.
        name: String,
    },
    /// A figure that is none, or below 0 where that cannot be.
    #[error("`{name}`: {what} is {value}; a number of 0 or more is needed, below 0 only as present value")]
    NotAFigure {
        /// Whose.
        name: String,
        /// Which.
        what: &'static str,
        /// What it is.
        value: f64,
    },
    /// Air that is not equal.
    #[error(
        "`{least}` brings in {least_m3:.0} m³ of outdoor air a year and `{most}` {most_m3:.0} m³: compare them at equal \
         air, or the one that brings less looks better than it is"
    )]
    UnequalAir {
        /// Who brings least.
        least: String,
        /// How much.
        least_m3: f64,
        /// Who brings most.
        most: String,
        /// How much.
        most_m3: f64,
    },
}

/// Who may win.
#[derive(Clone, Copy)]
struct Contender<'a> {
    name: &'a str,
    price: f64,
    worth: f64,
    is_reference: bool,
}

/// Judges units by the rules, beside the house that they are compared with.
///
/// # Errors
/// [`VerdictError`]: no units, equal names, figures that are none, outdoor air that differs by more than
/// [`Rules::equal_air_share`].
pub fn judge(units: &[Figures], reference: &Reference, rules: &Rules) -> Result<Judgement, VerdictError> {
    check(units, reference, rules)?;
    let broken: Vec<Vec<Reason>> = units.iter().map(|unit| rules.broken_indoors(&unit.indoors)).collect();
    let mut reference_broken = rules.broken_indoors(&reference.indoors);
    let breaks = |reasons: &[Reason], limit: Limit| reasons.iter().any(|reason| reason.limit == limit);
    let shared: Vec<Limit> = reference_broken.iter().map(|reason| reason.limit).collect();
    let shared: Vec<Limit> =
        shared.into_iter().filter(|limit| broken.iter().all(|reasons| breaks(reasons, *limit))).collect();
    reference_broken.retain(|reason| !shared.contains(&reason.limit));

    let mut judged: Vec<Judged> = Vec::new();
    for (unit, indoors) in units.iter().zip(broken) {
        let (mut cautions, mut reasons): (Vec<Reason>, Vec<Reason>) =
            indoors.into_iter().partition(|reason| shared.contains(&reason.limit));
        for caution in &mut cautions {
            caution.sentence = format!(
                "{} So it is with every unit and with `{}`: the unit is not why.",
                caution.sentence, reference.name
            );
        }
        for reason in &mut reasons {
            if let Some(house) = reference_broken.iter().find(|house| house.limit == reason.limit) {
                let _ = write!(reason.sentence, " With `{}` it is {}.", reference.name, house.figure());
            }
        }
        reasons.extend(rules.broken_by(unit));
        cautions.extend(rules.told_of(unit));
        let verdict = if reasons.is_empty() { Verdict::Fit { rank: 0 } } else { Verdict::Unfit { reasons } };
        judged.push(Judged { name: unit.name.clone(), verdict, cautions });
    }

    let ranked = rank(units, &mut judged);
    let house = Contender { name: &reference.name, price: 0.0, worth: 0.0, is_reference: true };
    let kept = if shared.is_empty() { "every limit" } else { "every limit that any house keeps" };
    let (overall, sentence) = decide(&ranked, (house, &reference_broken), kept, rules);
    Ok(Judgement { units: judged, overall, sentence })
}

fn check(units: &[Figures], reference: &Reference, rules: &Rules) -> Result<(), VerdictError> {
    if units.is_empty() {
        return Err(VerdictError::NoUnits);
    }
    let mut names = vec![reference.name.as_str()];
    for unit in units {
        if names.contains(&unit.name.as_str()) {
            return Err(VerdictError::SameName { name: unit.name.clone() });
        }
        names.push(&unit.name);
        if !unit.net_present_value.is_finite() {
            let (what, value) = ("net present value", unit.net_present_value);
            return Err(VerdictError::NotAFigure { name: unit.name.clone(), what, value });
        }
        let figures = [
            ("price", unit.price),
            ("outdoor air", unit.outdoor_air_m3),
            ("hours blocked by ice", unit.blocked_h),
            ("share of missed air", unit.missed_air_share),
            ("hours short of air", unit.air_short_h),
            ("preheating", unit.preheat_kwh),
        ];
        all_numbers(&unit.name, &figures)?;
        all_numbers(&unit.name, &unit.indoors.figures())?;
    }
    all_numbers(&reference.name, &[("outdoor air", reference.outdoor_air_m3)])?;
    all_numbers(&reference.name, &reference.indoors.figures())?;
    all_numbers("rules", &rules.thresholds().map(|threshold| (threshold.name, threshold.value)))?;
    equal_air(units, reference, rules.equal_air_share)
}

fn all_numbers(name: &str, figures: &[(&'static str, f64)]) -> Result<(), VerdictError> {
    match figures.iter().find(|(_, value)| !(value.is_finite() && *value >= 0.0)) {
        Some(&(what, value)) => Err(VerdictError::NotAFigure { name: name.to_owned(), what, value }),
        None => Ok(()),
    }
}

fn equal_air(units: &[Figures], reference: &Reference, share: f64) -> Result<(), VerdictError> {
    let mut least = (reference.name.as_str(), reference.outdoor_air_m3);
    let mut most = least;
    for unit in units {
        let this = (unit.name.as_str(), unit.outdoor_air_m3);
        least = if this.1 < least.1 { this } else { least };
        most = if this.1 > most.1 { this } else { most };
    }
    if most.1 - least.1 <= share * most.1 {
        return Ok(());
    }
    let (least, least_m3) = (least.0.to_owned(), least.1);
    let (most, most_m3) = (most.0.to_owned(), most.1);
    Err(VerdictError::UnequalAir { least, least_m3, most, most_m3 })
}

impl Indoors {
    fn figures(&self) -> [(&'static str, f64); 5] {
        // What is not known is no fault: 0 passes.
        let known = |figure: Option<f64>| figure.unwrap_or(0.0);
        [
            ("hours below 30 %", self.rh_below_30_h),
            ("hours above 60 %", self.rh_above_60_h),
            ("winter mean humidity", known(self.rh_winter_mean_pct)),
            ("hours of wet windows", known(self.window_wet_h)),
            ("mould index", known(self.mould_index_max)),
        ]
    }
}

/// The fit units, best first; writes their ranks.
fn rank<'a>(units: &'a [Figures], judged: &mut [Judged]) -> Vec<Contender<'a>> {
    let fit = |at: &usize| matches!(judged[*at].verdict, Verdict::Fit { .. });
    let mut order: Vec<usize> = (0..units.len()).filter(fit).collect();
    order.sort_by(|a, b| units[*b].net_present_value.total_cmp(&units[*a].net_present_value));
    for (place, &at) in order.iter().enumerate() {
        judged[at].verdict = Verdict::Fit { rank: place + 1 };
    }
    let contender = |at: usize| {
        let Figures { name, price, net_present_value, .. } = &units[at];
        Contender { name, price: *price, worth: *net_present_value, is_reference: false }
    };
    order.into_iter().map(contender).collect()
}

/// `house_broken`: limits that the reference breaks and some unit keeps; with any, it does not compete. `kept`: what the fit units
/// keep.
fn decide(
    ranked: &[Contender],
    (house, house_broken): (Contender, &[Reason]),
    kept: &str,
    rules: &Rules,
) -> (Overall, String) {
    let Some(&best_unit) = ranked.first() else {
        return (Overall::NoneFits, none_fits((house, house_broken), kept));
    };
    let mut all = ranked.to_vec();
    if house_broken.is_empty() {
        let place = all.iter().position(|unit| unit.worth < house.worth).unwrap_or(all.len());
        all.insert(place, house);
    }
    let best = all[0];
    let margin = |other: &Contender| {
        (rules.margin_share_of_price * best.price.max(other.price)).max(rules.margin_money)
    };
    let is_close = |other: &Contender| {
        let apart = best.worth - other.worth;
        apart < margin(other) || apart == 0.0
    };
    let close: Vec<Contender> = all.iter().skip(1).copied().filter(is_close).collect();
    if !close.is_empty() {
        let within = close.iter().map(margin).fold(0.0, f64::max);
        return no_clear_winner(best, &close, within, kept);
    }
    if best.is_reference {
        let Contender { name, worth, .. } = best_unit;
        let sentence = format!(
            "No unit is worth its cost: the best that keeps {kept}, {name}, costs {:.0} more than {} over the years \
             looked at.",
            -worth, house.name
        );
        return (Overall::NoneWorthIt { best: name.to_owned(), net_present_value: worth }, sentence);
    }
    let name = best.name.to_owned();
    let sentence = recommended(best, all.get(1), (house, house_broken), kept);
    (Overall::Recommended { name }, sentence)
}

/// The reference may be no better.
fn none_fits((house, house_broken): (Contender, &[Reason]), kept: &str) -> String {
    let too = match house_broken.first() {
        Some(reason) => format!(", nor does {}: {}", house.name, reason.sentence),
        None => ".".to_owned(),
    };
    format!("No unit is recommended: none keeps {kept}, the reasons stand beside each{too}")
}

fn no_clear_winner(best: Contender, close: &[Contender], within: f64, kept: &str) -> (Overall, String) {
    let mut names = vec![best.name.to_owned()];
    names.extend(close.iter().map(|other| other.name.to_owned()));
    let widest = close.iter().map(|other| best.worth - other.worth).fold(0.0, f64::max);
    let sentence = format!(
        "No clear winner: {} keep {kept} and lie within {widest:.0} of present value, less than the {within:.0} by \
         which the best would have to lead.",
        listed(&names)
    );
    (Overall::NoClearWinner { names, within }, sentence)
}

fn recommended(
    best: Contender,
    second: Option<&Contender>,
    (house, house_broken): (Contender, &[Reason]),
    kept: &str,
) -> String {
    if best.worth < 0.0 && !house_broken.is_empty() {
        return for_the_rooms(best, second, (house, house_broken), kept);
    }
    let lead = match second {
        Some(second) if second.is_reference => String::new(),
        Some(second) => {
            format!(" and is worth {:.0} more than {}, the next", best.worth - second.worth, second.name)
        }
        None => ", the only one to do so".to_owned(),
    };
    let house_too = match house_broken.first() {
        Some(reason) => format!(", which does not keep them all. There: {}", reason.sentence),
        None => ".".to_owned(),
    };
    format!(
        "{} keeps {kept}{lead}. Over the years looked at it costs {:.0} less than {}{house_too}",
        best.name, best.worth, house.name
    )
}

/// A unit that costs more than it saves, and still wins: limits come first, and the reference breaks one.
fn for_the_rooms(
    best: Contender,
    second: Option<&Contender>,
    (house, house_broken): (Contender, &[Reason]),
    kept: &str,
) -> String {
    let lead = match second {
        Some(second) => {
            format!("costs {:.0} less than {}, the next that does", best.worth - second.worth, second.name)
        }
        None => "is the only one to do so".to_owned(),
    };
    let broken: Vec<&str> = house_broken.iter().map(|reason| reason.sentence.as_str()).collect();
    let (name, more, without) = (best.name, -best.worth, house.name);
    format!(
        "{name} is recommended for the rooms, not for money: over the years looked at it costs {more:.0} more than {without}, \
         but it keeps {kept} and {lead}. With {without}: {} Whether something else would mend that for less, such as a \
         humidifier, a dehumidifier or less air, is not judged here.",
        broken.join(" ")
    )
}

/// "a, b and c".
fn listed(names: &[String]) -> String {
    match names {
        [all @ .., last] if !all.is_empty() => format!("{} and {last}", all.join(", ")),
        _ => names.concat(),
    }
}

//! What each house costs over the years looked at, in today's money: a bar for each, stacked by what the money goes to.
//!
//! Not here: the reckoning (`money/found.rs`), energy bought again by use, which no bill tells.

use economics::tariff::Carrier;
use simulation::results::Case;

use super::canvas::{Canvas, Entry, Hang, Rect, Sample, Stroke, Type, page_in, shortened};
use super::panel::{Scale, count};
use super::style::{FAINT, Fill, INK, PICTURE_WIDTH, QUIET, TEXT_SIZE, TICK_SIZE, palette};
use crate::ReportError;
use crate::money::{Account, MoneyReport};
use crate::words::Words;

const ROW: f64 = 50.0;
const BAR: f64 = 24.0;
/// From the top of a row to the middle of its name, and to its bar.
const NAME_AT: f64 = 11.0;
const BAR_AT: f64 = 21.0;
const MARGIN: f64 = 24.0;
/// Room for a bar's total.
const TOTAL: f64 = 84.0;
const GAP: f64 = 12.0;
const AXIS: f64 = 48.0;
/// A number stands in its segment if it leaves this much on both sides together.
const BESIDE_NUMBER: f64 = 6.0;
/// What no cent of shows is not named.
const LEAST: f64 = 0.005;

/// What money goes to.
struct Part {
    words: String,
    look: (plotters::style::RGBColor, Fill),
    /// In the order of the bars.
    money: Vec<f64>,
}

pub fn draw(report: &MoneyReport, study: &str, words: &'static Words) -> Result<String, ReportError> {
    let bars: Vec<&Account> = shown(report);
    if report.units().next().is_none() {
        return Err(ReportError::NothingToDraw { chart: "cost breakdown" });
    }
    let parts = parts(report, &bars, words)?;
    let entries: Vec<Entry> = parts
        .iter()
        .map(|part| Entry { sample: Sample::Bar(part.look.0, part.look.1), words: part.words.clone() })
        .collect();
    let basis = &report.basis;
    let years = words.marked(&short(basis.terms.horizon_years));
    let rate = words.marked(&short(100.0 * basis.terms.discount_per_year));
    let fact = words.fill("chart.cost", &[("years", &years), ("rate", &rate)]);
    let scale = scale(&parts, bars.len());
    let below = ROW * count(bars.len()) + GAP + AXIS;
    page_in(words, (&fact, study), (&entries, below), |canvas, top| {
        let bottom = top + ROW * count(bars.len()) + GAP;
        axis(canvas, scale, (top, bottom), &basis.currency)?;
        for (place, account) in bars.iter().enumerate() {
            let top = top + ROW * count(place);
            let narrow = stack(canvas, scale, (&parts, place), top + BAR_AT)?;
            let (name, look) = (name(report, account, words), Type::plain(TEXT_SIZE, INK));
            let left = at(scale, scale.least) + 5.0;
            canvas.text(&name, (left, top + NAME_AT), Hang::Left, look)?;
            if !narrow.is_empty() {
                let left = left + canvas.text_width(&name, look)? + 14.0;
                let words = words.fill("chart.narrow", &[("parts", &narrow.join("; "))]);
                canvas.text(&words, (left, top + NAME_AT), Hang::Left, Type::plain(TICK_SIZE, QUIET))?;
            }
        }
        let (x, ink) = (at(scale, 0.0), Stroke { colour: INK, width: 1.0, dash: None });
        canvas.line(&[(x, top), (x, bottom)], ink)
    })
}

/// Units, then the house that all are compared with, then the house with an extract fan, as in the table.
fn shown(report: &MoneyReport) -> Vec<&Account> {
    let house = &report.accounts[report.reference];
    report.units().chain([house]).chain(report.extract_only()).collect()
}

fn name(report: &MoneyReport, account: &Account, words: &Words) -> String {
    match account.case {
        Case::ExtractOnly => words.text("chart.extract_only"),
        _ if !account.is_unit() => {
            let unit = shortened(&report.accounts[report.reference].unit);
            words.fill("chart.fans_of", &[("name", &unit)])
        }
        _ if account.price.is_none() => words.fill("chart.no_price", &[("name", &shortened(&account.unit))]),
        _ => shortened(&account.unit),
    }
}

fn parts(report: &MoneyReport, bars: &[&Account], words: &Words) -> Result<Vec<Part>, ReportError> {
    let terms = &report.basis.terms;
    let (mut hardware, mut upkeep) = (Vec::new(), Vec::new());
    let mut energy: Vec<(Carrier, Vec<f64>)> = Vec::new();
    for (place, bar) in bars.iter().enumerate() {
        let cost = economics::worth::life_cycle(&bar.offer, terms).map_err(ReportError::drawing)?;
        hardware.push(cost.hardware());
        upkeep.push(cost.upkeep);
        for (year, stream) in bar.carriers.iter().zip(&bar.offer.energy) {
            let worth = stream.present_worth(terms).map_err(ReportError::drawing)?;
            match energy.iter_mut().find(|(carrier, _)| *carrier == year.carrier) {
                Some((_, money)) => money.push(worth),
                None => energy.push((year.carrier, [vec![0.0; place], vec![worth]].concat())),
            }
        }
    }
    let mut parts = vec![
        Part { words: words.text("chart.hardware"), look: (palette::BLUE, Fill::Solid), money: hardware },
        Part { words: words.text("chart.upkeep"), look: (palette::VERMILLION, Fill::Open), money: upkeep },
    ];
    for (carrier, money) in energy {
        parts.push(Part { words: bought(carrier, report, words), look: look(carrier), money });
    }
    parts.retain(|part| part.money.iter().any(|money| money.abs() >= LEAST));
    Ok(parts)
}

/// A carrier with what it is bought for.
fn bought(carrier: Carrier, report: &MoneyReport, words: &Words) -> String {
    let mut uses = Vec::new();
    if carrier == report.basis.heated_by {
        uses.push(words.text("chart.for_heating"));
    }
    if carrier == report.basis.cooled_by {
        uses.push(words.text("chart.for_cooling"));
    }
    if carrier == Carrier::Electricity {
        uses.push(words.text("chart.for_fans"));
    }
    format!("{}: {}", words.text(carrier_key(carrier)), uses.join(", "))
}

const fn carrier_key(carrier: Carrier) -> &'static str {
    match carrier {
        Carrier::Electricity => "chart.electricity",
        Carrier::Gas => "chart.gas",
        Carrier::Oil => "chart.oil",
        Carrier::Propane => "chart.propane",
        Carrier::Wood => "chart.wood",
        Carrier::District => "chart.district",
    }
}

/// Neighbours differ in fill as well, so that they stay apart in grey.
fn look(carrier: Carrier) -> (plotters::style::RGBColor, Fill) {
    if carrier == Carrier::Electricity {
        (palette::BLUISH_GREEN, Fill::Striped)
    } else {
        (palette::ORANGE, Fill::Pale)
    }
}

/// A bar; the parts that are too narrow for their numbers, with these.
fn stack(
    canvas: &Canvas<'_>,
    scale: Scale,
    (parts, place): (&[Part], usize),
    top: f64,
) -> Result<Vec<String>, ReportError> {
    let (mut above, mut below) = (0.0_f64, 0.0_f64);
    let mut narrow = Vec::new();
    for part in parts {
        let money = part.money[place];
        if money.abs() < LEAST {
            continue;
        }
        let side = if money > 0.0 { &mut above } else { &mut below };
        let (from, to) = (at(scale, *side), at(scale, *side + money));
        *side += money;
        let rect = Rect { from: (from.min(to), top), to: (from.max(to), top + BAR) };
        canvas.bar(rect, part.look.0, part.look.1)?;
        let (number, type_) = (whole(money), Type::bold(TICK_SIZE, INK));
        let width = canvas.text_width(&number, type_)?;
        if width + BESIDE_NUMBER <= rect.to.0 - rect.from.0 {
            let middle = (f64::midpoint(from, to), top + BAR / 2.0);
            let colour = if part.look.1 == Fill::Solid {
                super::canvas::legible_on(part.look.0)
            } else {
                // On stripes a number needs a plain ground.
                let half = (width / 2.0 + 2.0, TICK_SIZE * 0.62);
                let ground = Rect {
                    from: (middle.0 - half.0, middle.1 - half.1),
                    to: (middle.0 + half.0, middle.1 + half.1),
                };
                if part.look.1 == Fill::Striped {
                    canvas.rect(ground, (plotters::style::WHITE, 1.0))?;
                }
                INK
            };
            canvas.text(&number, middle, Hang::Centre, Type { colour, ..type_ })?;
        } else {
            let what = part.words.split(':').next().unwrap_or_default();
            narrow.push(format!("{what} {number}"));
        }
    }
    let total = format!("= {}", whole(above + below));
    canvas.text(&total, (at(scale, above) + 7.0, top + BAR / 2.0), Hang::Left, Type::bold(TEXT_SIZE, INK))?;
    Ok(narrow)
}

/// From nothing, or the greatest gain, to the greatest cost.
fn scale(parts: &[Part], bars: usize) -> Scale {
    let sum = |place: usize, keep: fn(f64) -> f64| -> f64 {
        parts.iter().map(|part| keep(part.money[place])).sum()
    };
    let most = (0..bars).map(|place| sum(place, |money| money.max(0.0))).fold(0.0, f64::max);
    let least = (0..bars).map(|place| sum(place, |money| money.min(0.0))).fold(0.0, f64::min);
    Scale::around(least, most.max(1.0), 8.0)
}

fn at(scale: Scale, money: f64) -> f64 {
    let room = f64::from(PICTURE_WIDTH) - 2.0 * MARGIN - TOTAL;
    MARGIN + room * (money - scale.least) / (scale.greatest - scale.least)
}

fn axis(
    canvas: &Canvas<'_>,
    scale: Scale,
    (top, bottom): (f64, f64),
    currency: &str,
) -> Result<(), ReportError> {
    for tick in scale.ticks() {
        let x = at(scale, tick);
        canvas.line(&[(x, top), (x, bottom)], Stroke { colour: FAINT, width: 0.75, dash: None })?;
        canvas.text(
            &canvas.words.marked(&scale.label(tick)),
            (x, bottom + 13.0),
            Hang::Centre,
            Type::plain(TICK_SIZE, QUIET),
        )?;
    }
    let words = canvas.words.fill("chart.cost_axis", &[("currency", currency)]);
    let middle = f64::midpoint(at(scale, scale.least), at(scale, scale.greatest));
    canvas.text(&words, (middle, bottom + 31.0), Hang::Centre, Type::plain(TEXT_SIZE, QUIET))
}

fn whole(money: f64) -> String {
    let text = format!("{money:.0}");
    if text == "-0" { "0".to_owned() } else { text.replace('-', "−") }
}

fn short(value: f64) -> String {
    ((value * 1e6).round() / 1e6).to_string()
}

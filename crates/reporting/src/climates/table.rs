//! Units in climates as the terminal shows them: the table, and a closing sentence for each climate.

use super::{Climate, ClimateFigure, ClimateUnit, GAIN, titled};
use crate::calendar::MONTHS;
use crate::terminal::TABLE_WIDTH;
use crate::text_table::{Aligned, NO_FIGURE, cut, lines_within, number};
use crate::{Cell, ShowIn};

/// Names longer than this are cut in the table.
const NAME_WIDTH: usize = 22;

/// A column of the table: two lines of header, the figure, its decimals, and whether it is a volume of water.
struct Shown {
    header: [&'static str; 2],
    figure: ClimateFigure,
    decimals: usize,
    is_volume: bool,
}

const fn shown(header: [&'static str; 2], figure: ClimateFigure, decimals: usize) -> Shown {
    Shown { header, figure, decimals, is_volume: false }
}

const fn volume(header: [&'static str; 2], figure: ClimateFigure, decimals: usize) -> Shown {
    Shown { header, figure, decimals, is_volume: true }
}

const SHOWN: [Shown; 12] = [
    shown(["saving", "kWh"], ClimateFigure::Saving, 0),
    shown(["held", "kWh"], ClimateFigure::SavingHeld, 0),
    shown(["winter", "RH %"], ClimateFigure::Winter, 0),
    shown(["summer", "RH %"], ClimateFigure::Summer, 0),
    shown(["<30%", "h"], ClimateFigure::Below, 0),
    shown([">60%", "h"], ClimateFigure::Above, 0),
    volume(["drain", ""], ClimateFigure::Drain, 0),
    volume(["peak", "/d"], ClimateFigure::PeakDrain, 1),
    shown(["peak", "day"], ClimateFigure::PeakDay, 0),
    shown(["frost", "h"], ClimateFigure::Frost, 0),
    shown(["block", "h"], ClimateFigure::Blocked, 0),
    shown(["missed", "air %"], ClimateFigure::MissedShare, 1),
];

/// Every unit in every climate, at most [`TABLE_WIDTH`] characters wide.
pub fn climates_table(climates: &[Climate], show_in: ShowIn) -> String {
    let unit_of = |shown: &Shown| {
        let unit = if shown.is_volume { show_in.volume_unit() } else { "" };
        format!("{unit}{}", shown.header[1])
    };
    let head = |first: &str, cells: Vec<String>| std::iter::once(first.to_owned()).chain(cells).collect();
    let mut rows: Vec<Vec<String>> = vec![
        head("the year", SHOWN.iter().map(|shown| shown.header[0].to_owned()).collect()),
        head("", SHOWN.iter().map(unit_of).collect()),
    ];
    for climate in climates {
        rows.push(vec![titled(&climate.name, &climate.place)]);
        for unit in &climate.units {
            let name = format!("  {}", cut(&unit.name, NAME_WIDTH));
            rows.push(head(&name, SHOWN.iter().map(|shown| shown.text(unit, show_in)).collect()));
        }
    }
    lines_within(&rows, &[Aligned::Left], 2, (usize::from(TABLE_WIDTH), " "))
}

impl Shown {
    fn text(&self, unit: &ClimateUnit, show_in: ShowIn) -> String {
        match unit.cell(self.figure) {
            Cell::MonthDay { month, day } => {
                let name = month.checked_sub(1).and_then(|place| MONTHS.get(place)).copied().unwrap_or("?");
                format!("{day} {name}")
            }
            cell => match cell.value() {
                None => NO_FIGURE.to_owned(),
                Some(litres) if self.is_volume => number(show_in.volume(litres), self.decimals),
                Some(value) => number(value, self.decimals),
            },
        }
    }
}

/// Plain sentences that belong under the table: what the columns are, which units gain in each climate, and by which rule.
pub fn climates_notes(climates: &[Climate]) -> Vec<String> {
    let mut notes = vec![
        "RH: relative humidity of the rooms other than the wet rooms; winter is Dec, Jan, Feb north of the equator and Jun, Jul, \
         Aug south of it, summer the other way round."
            .to_owned(),
        "saving: metered heating, cooling, fan and preheating energy against the same outdoor air and fans without the core; held: the \
         same with the outdoor air that a unit misses made up."
            .to_owned(),
        "missed: share of the outdoor air that defrost, frost or loaded filters keep out; block: hours in which ice blocks the core."
            .to_owned(),
    ];
    notes.extend(climates.iter().map(closing));
    notes.push(rule(climates));
    notes
}

/// The closing sentence of a climate: who gains, and who does one of the two things that it takes.
fn closing(climate: &Climate) -> String {
    let gaining: Vec<&str> =
        climate.units.iter().filter(|unit| unit.gains()).map(|unit| unit.name.as_str()).collect();
    let verdict = match gaining.as_slice() {
        [] => "none gains here".to_owned(),
        [one] => format!("{one} gains here"),
        several => format!("{} gain here", several.join(", ")),
    };
    let saving = |picks: bool| {
        let picked = climate.units.iter().filter(|unit| unit.saves_more_than_fans() == picks);
        let words: Vec<String> = picked.map(against_fans).collect();
        if words.is_empty() { "none".to_owned() } else { words.join(", ") }
    };
    let hours = climate.units.iter().map(|unit| {
        let more = unit.more_hours_inside().map_or(NO_FIGURE.to_owned(), signed);
        format!("{} {more} h", unit.name)
    });
    format!(
        "{}: {verdict}. Saving more than their fans take: {}; not more: {}. Inside 30 to 60 % against no recovery: {}.",
        climate.name,
        saving(true),
        saving(false),
        hours.collect::<Vec<_>>().join(", ")
    )
}

/// A unit's saving at equal outdoor air beside what its fans take.
fn against_fans(unit: &ClimateUnit) -> String {
    let whole = |figure| unit.value(figure).map_or(NO_FIGURE.to_owned(), |kwh| number(kwh, 0));
    format!(
        "{} ({} against {} kWh)",
        unit.name,
        whole(ClimateFigure::SavingHeld),
        whole(ClimateFigure::FansHeld)
    )
}

fn signed(hours: f64) -> String {
    if hours > 0.0 { format!("+{hours:.0}") } else { format!("{hours:.0}") }
}

/// By which rule, and in how many climates a unit gains: the trade's saying put to the test.
fn rule(climates: &[Climate]) -> String {
    let gained = climates.iter().filter(|climate| climate.units.iter().any(ClimateUnit::gains)).count();
    let fans = if (GAIN.saving_over_fans - 1.0).abs() < 1e-12 {
        "its fans take".to_owned()
    } else {
        format!("{} times what its fans take", GAIN.saving_over_fans)
    };
    format!(
        "A unit gains in a climate if at equal outdoor air (held) it saves more than {fans}, kWh for kWh, and the rooms are inside 30 to \
         60 % for at least {:.0} h a year more than with the same air and no recovery. The trade says that every climate gains from one \
         kind of core or the other: of these units one gains in {gained} of {} climates.",
        GAIN.more_hours_h,
        climates.len()
    )
}

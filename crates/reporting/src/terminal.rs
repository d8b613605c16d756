//! The table that a run shows in the terminal, and the sentences below it.
//!
//! Plain text, no colour, at most 100 characters wide. Not here: the full figures (`summary`).

use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle, Width};
use simulation::results::Case;

use crate::calendar::{MONTHS, Season};
use crate::damp_notes::damp_notes;
use crate::{Cell, Figure, Hemisphere, Row, RunSummary, ShowIn};

/// Characters in a line of the table.
pub const TABLE_WIDTH: u16 = 100;

const NAME_WIDTH: u16 = 20;
const NO_FIGURE: &str = "–";

/// A column of the table: two lines of header, the figure, what is done to it.
struct Shown {
    header: &'static str,
    figure: Figure,
    volume: Volume,
}

#[derive(PartialEq)]
enum Volume {
    Is,
    IsNot,
}

const SHOWN: [Shown; 11] = [
    Shown { header: "heating\nkWh", figure: Figure::HeatingKwh, volume: Volume::IsNot },
    Shown { header: "cooling\nkWh", figure: Figure::CoolingKwh, volume: Volume::IsNot },
    Shown { header: "fans\nkWh", figure: Figure::FanKwh, volume: Volume::IsNot },
    Shown { header: "saving\nkWh", figure: Figure::UsefulSavingKwh, volume: Volume::IsNot },
    Shown { header: "winter\nRH %", figure: Figure::RhWinterMeanPct, volume: Volume::IsNot },
    Shown { header: "summer\nRH %", figure: Figure::RhSummerMeanPct, volume: Volume::IsNot },
    Shown { header: "RH<30%\nh", figure: Figure::RhBelow30H, volume: Volume::IsNot },
    Shown { header: "RH>60%\nh", figure: Figure::RhAbove60H, volume: Volume::IsNot },
    Shown { header: "glass\nwet h", figure: Figure::WindowEdgeWetH, volume: Volume::IsNot },
    Shown { header: "drain\n", figure: Figure::CondensateL, volume: Volume::Is },
    Shown { header: "frost\nh", figure: Figure::FrostH, volume: Volume::IsNot },
];

/// The year of every unit and baseline, whole numbers.
pub fn terminal_table(summary: &RunSummary, show_in: ShowIn) -> String {
    let mut table = Table::new();
    table.load_style(TableStyle::new().header_separator(LineStyle::none().fill('─')));
    table.set_content_arrangement(ContentArrangement::Dynamic).set_width(TABLE_WIDTH);
    let headers = SHOWN.iter().map(|shown| match shown.volume {
        Volume::Is => format!("{}{}", shown.header, show_in.volume_unit()),
        Volume::IsNot => shown.header.to_owned(),
    });
    table.set_header(["the year".to_owned()].into_iter().chain(headers));
    // Rows with outdoor air held are in the files; a sentence below the table says what they come to.
    let held = [Case::UnitHeld, Case::NoRecoveryHeld];
    for row in summary.rows.iter().filter(|row| !held.contains(&row.case)) {
        let figures = SHOWN.iter().map(|shown| shown.text(row.year(shown.figure), show_in));
        table.add_row([row_name(row)].into_iter().chain(figures));
    }
    if let Some(names) = table.column_mut(0) {
        names.set_constraint(ColumnConstraint::UpperBoundary(Width::Fixed(NAME_WIDTH)));
        names.set_padding((0, 1));
    }
    for place in 1..=SHOWN.len() {
        if let Some(column) = table.column_mut(place) {
            column.set_cell_alignment(CellAlignment::Right);
            column.set_padding((0, 1));
        }
    }
    trimmed(&table.to_string())
}

impl Shown {
    fn text(&self, cell: Cell, show_in: ShowIn) -> String {
        match cell.value() {
            None => NO_FIGURE.to_owned(),
            Some(value) if self.volume == Volume::Is => whole(show_in.volume(value)),
            Some(value) => whole(value),
        }
    }
}

/// Plain sentences that belong under the table: what the rows are, fresh air, frost, the greatest drain day, the books.
pub fn notes(summary: &RunSummary, show_in: ShowIn) -> Vec<String> {
    let mut notes = vec![seasons(summary.hemisphere)];
    if summary.rows.iter().any(|row| row.case == Case::NoRecovery) {
        notes.push(
            "no recovery: the same outdoor air, hour by hour, and the same fans as the unit above it, without the core; \
             the useful saving is all metered energy against it."
                .to_owned(),
        );
    }
    if summary.rows.iter().any(|row| row.case == Case::ExtractOnly) {
        notes.push(
            "extract only: as much outdoor air drawn in through the leaks by one extract fan of half the power, untempered; \
             beside the others, not the reference of the saving."
                .to_owned(),
        );
    }
    if summary.rows.iter().any(|row| row.case == Case::NoVentilation) {
        notes.push(
            "no ventilation: air leakage only, no fans; less fresh air, so no saving is counted from it."
                .to_owned(),
        );
    }
    notes.extend(
        summary.rows.iter().filter(|row| row.case == Case::Unit).filter_map(|row| unit_note(row, show_in)),
    );
    notes.extend(at_equal_air(summary));
    notes.extend(damp_notes(summary));
    notes.extend(worst_residual(summary));
    notes
}

fn seasons(hemisphere: Hemisphere) -> String {
    let names = |season: Season| season.months(hemisphere).map(|month| MONTHS[month]).join(", ");
    format!(
        "RH: relative humidity of the rooms other than the wet rooms; winter is {}, summer is {}. Glass wet: time with water or ice \
         at the edge of some window.",
        names(Season::Winter),
        names(Season::Summer)
    )
}

/// All that is to be said of a unit, in one sentence.
fn unit_note(row: &Row, show_in: ShowIn) -> Option<String> {
    let mut clauses: Vec<String> = fresh_air_clause(row).into_iter().collect();
    clauses.extend(frost_clause(row, show_in));
    clauses.extend(defrost_clauses(row));
    clauses.extend(carried_over_clause(row, show_in));
    clauses.extend(drain_clause(row, show_in));
    (!clauses.is_empty()).then(|| format!("{}: {}.", row.unit, clauses.join("; ")))
}

/// Only for a unit whose supply air is not all fresh, or that does not take as much air as it delivers.
fn fresh_air_clause(row: &Row) -> Option<String> {
    let of = |figure| row.year(figure).value();
    let delivered = of(Figure::DeliveredAirM3).filter(|delivered| *delivered > 0.0)?;
    let (fresh, infiltration) = (of(Figure::OutdoorAirM3)?, of(Figure::InfiltrationM3)?);
    let is_balanced = row.year(Figure::InfiltrationM3) == row.year(Figure::ExfiltrationM3);
    (fresh < delivered || !is_balanced).then(|| {
        let percent = |volume: f64| 100.0 * volume / delivered;
        format!(
            "{:.1} % of the air it delivers is fresh, and infiltration brings {:.1} % of as much, untempered",
            percent(fresh),
            percent(infiltration)
        )
    })
}

/// Units side by side at the same outdoor air, best first, where one of them misses some; savings as run beside them.
fn at_equal_air(summary: &RunSummary) -> Option<String> {
    let saving = |row: &Row| row.year(Figure::UsefulSavingKwh).value();
    let mut ranked = Vec::new();
    let mut any_missed = false;
    for row in summary.rows.iter().filter(|row| row.case == Case::Unit) {
        let held = summary.find(&row.unit, Case::UnitHeld);
        any_missed |= held.is_some();
        let equal = saving(held.unwrap_or(row))?;
        let as_run = held.and_then(|_| saving(row));
        ranked.push((equal, as_run, &row.unit));
    }
    if !any_missed {
        return None;
    }
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    let words = ranked.iter().map(|(equal, as_run, unit)| {
        let as_run = as_run.map_or(String::new(), |kwh| format!(" ({} as run)", whole(kwh)));
        format!("{unit} {} kWh{as_run}", whole(*equal))
    });
    Some(format!(
        "Saving with all units delivering the rated outdoor air, best first: {}.",
        words.collect::<Vec<_>>().join(", ")
    ))
}

fn frost_clause(row: &Row, show_in: ShowIn) -> Option<String> {
    let hours = row.year(Figure::FrostH).value().filter(|hours| *hours > 0.0)?;
    let most = row.year(Figure::FrostKgPeak).value()?;
    let over = row.year(Figure::FrostOverCapacityH).value().filter(|over| *over > 0.0);
    let beyond =
        over.map_or(String::new(), |over| format!(", more than its passages hold in {} h", whole(over)));
    let (amount, unit) = (show_in.mass(most), show_in.mass_unit());
    Some(format!("ice formed in {} h, at most {amount:.2} {unit} at once{beyond}", whole(hours)))
}

/// What the unit did about frost, and what that cost.
fn defrost_clauses(row: &Row) -> Vec<String> {
    let of = |figure| row.year(figure).value().filter(|value| *value > 0.0);
    let mut clauses = Vec::new();
    if let (Some(energy), Some(most)) = (of(Figure::PreheatKwh), of(Figure::PreheatPeakW)) {
        clauses.push(format!("{} kWh of preheating, at most {} W", whole(energy), whole(most)));
        if of(Figure::FrostH).is_some() {
            clauses.push(
                "warning: ice forms although preheated, since the heater is set once an hour".to_owned(),
            );
        }
    }
    if let (Some(hours), Some(lasting)) = (of(Figure::DefrostAnyH), of(Figure::DefrostH)) {
        let lent = of(Figure::DefrostKwh).map_or(String::new(), |lent| {
            format!(", for which {} kWh of room heat were lent (in the heating)", whole(lent))
        });
        clauses.push(format!("{} h of defrost in {} h{lent}", whole(lasting), whole(hours)));
    }
    if let Some(hours) = of(Figure::BlockedH) {
        clauses.push(format!(
            "blocked by ice in {} h, with the house under pressure and its supply air untempered",
            whole(hours)
        ));
    }
    if let Some(volume) = of(Figure::MissedAirM3) {
        let delivered = of(Figure::OutdoorAirM3).unwrap_or(0.0);
        clauses
            .push(format!("{:.1} % of the year's outdoor air missed", 100.0 * volume / (volume + delivered)));
    }
    let acts =
        [Figure::DefrostAnyH, Figure::PreheatKwh, Figure::BypassH].iter().any(|&figure| of(figure).is_some());
    if of(Figure::FrostH).is_some() && !acts {
        clauses.push("nothing clears its frost: ice stays until the core warms by itself".to_owned());
    }
    clauses
}

/// Less than this a year is not worth a word [L].
const CARRIED_OVER_L: f64 = 0.1;

fn carried_over_clause(row: &Row, show_in: ShowIn) -> Option<String> {
    let litres = row.year(Figure::CarriedOverL).value().filter(|litres| *litres >= CARRIED_OVER_L)?;
    let (amount, unit) = (show_in.volume(litres), show_in.volume_unit());
    Some(format!(
        "{amount:.1} {unit} of water a year condense on the wheel and do not evaporate again (a wheel has no drain)"
    ))
}

/// Less than this in the wettest day is not worth a word [L].
const LEAST_L: f64 = 0.05;

fn drain_clause(row: &Row, show_in: ShowIn) -> Option<String> {
    let Cell::MonthDay { month, day } = row.year(Figure::PeakCondensateDate) else { return None };
    let most = row.year(Figure::PeakCondensateLPerDay).value().filter(|most| *most >= LEAST_L)?;
    let name = MONTHS.get(month - 1)?;
    let (amount, unit) = (show_in.volume(most), show_in.volume_unit());
    Some(format!("most water to the drain in a day {amount:.1} {unit}, on {day} {name}"))
}

fn worst_residual(summary: &RunSummary) -> Option<String> {
    let books = [
        (Figure::EnergyResidual, "heat of the house"),
        (Figure::WaterResidual, "water of the house"),
        (Figure::CoreResidual, "core"),
    ];
    let all = summary.rows.iter().flat_map(|row| {
        books.iter().filter_map(move |(figure, book)| Some((row.year(*figure).value()?, *book, row)))
    });
    let (worst, book, row) = all.max_by(|a, b| a.0.total_cmp(&b.0))?;
    let house = row_name(row).trim().to_owned();
    let of =
        if house == row.unit || row.unit.is_empty() { house } else { format!("{house} of {}", row.unit) };
    Some(format!(
        "Books: everything that went in came out or was stored to within {worst:.1e} of the inflow ({book}, {of})."
    ))
}

fn row_name(row: &Row) -> String {
    match row.case {
        Case::Unit => row.unit.clone(),
        Case::NoRecovery => "  no recovery".to_owned(),
        Case::UnitHeld => "  outdoor air held".to_owned(),
        Case::NoRecoveryHeld => "    no recovery".to_owned(),
        Case::ExtractOnly => "  extract only".to_owned(),
        Case::NoVentilation => "no ventilation".to_owned(),
    }
}

fn whole(value: f64) -> String {
    let text = format!("{value:.0}");
    if text == "-0" { "0".to_owned() } else { text }
}

fn trimmed(text: &str) -> String {
    text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n")
}

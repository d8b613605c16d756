//! Units in climates: the figures by which a unit is chosen, a row for each unit in each climate, and whether it gains there.
//!
//! Not here: the table and the sentences (`climates/table.rs`), the picture (`charts`), the runs (crate `simulation`).

mod table;

use simulation::results::Case;

use crate::columns::COLUMNS;
use crate::{Cell, Figure, ReportError, Row, RunSummary};

pub use table::{climates_notes, climates_table};

/// Headers of the key columns of `climates.csv`.
pub const CLIMATE_KEYS: [&str; 3] = ["climate", "place", "unit"];

/// What it takes for a unit to gain in a climate: both.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain {
    /// At equal outdoor air it saves more than this many times what its fans take.
    pub saving_over_fans: f64,
    /// The rooms are inside 30 to 60 % for at least this many hours a year more than with the same air and no recovery \[h\].
    pub more_hours_h: f64,
}

/// The limits that are applied: more than the fans take, and a day a year, since less is within what the hours of a typical year
/// can tell.
pub const GAIN: Gain = Gain { saving_over_fans: 1.0, more_hours_h: 24.0 };

/// A climate, and every unit in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    /// The file's name, each its own.
    pub name: String,
    /// The place as the file names it.
    pub place: String,
    /// The units, in the study's order.
    pub units: Vec<ClimateUnit>,
}

/// A unit's figures in a climate, in the order of [`climate_columns`].
#[derive(Debug, Clone, PartialEq)]
pub struct ClimateUnit {
    /// The unit's name.
    pub name: String,
    cells: Vec<Cell>,
}

/// A figure of a unit in a climate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClimateFigure {
    /// Saving as run \[kWh\].
    Saving,
    /// Saving with the missed outdoor air made up \[kWh\].
    SavingHeld,
    /// Fans with that air made up \[kWh\].
    FansHeld,
    /// Mean relative humidity in winter \[%\].
    Winter,
    /// Mean relative humidity in summer \[%\].
    Summer,
    /// Hours below 30 % \[h\].
    Below,
    /// Hours above 60 % \[h\].
    Above,
    /// Hours inside \[h\].
    Inside,
    /// Hours inside with the same air and no recovery \[h\].
    InsideWithout,
    /// Water to the drain \[L\].
    Drain,
    /// Most of it in a day [L/day].
    PeakDrain,
    /// When that was.
    PeakDay,
    /// Hours with ice forming \[h\].
    Frost,
    /// Hours blocked \[h\].
    Blocked,
    /// Missed outdoor air \[m³\].
    Missed,
    /// The same as a share of the outdoor air \[%\].
    MissedShare,
}

/// A column of `climates.csv` after its keys.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClimateColumn {
    /// What it holds.
    pub figure: ClimateFigure,
    /// Header, unit last.
    pub name: &'static str,
    /// Unit; empty for a date.
    pub unit: &'static str,
    /// How it adds up over the year, in words.
    pub aggregates: &'static str,
    /// What it holds, in words.
    pub meaning: &'static str,
}

/// A column that says yes or no.
#[derive(Debug, Clone, Copy)]
pub struct ClimateVerdict {
    /// Header.
    pub name: &'static str,
    /// What yes means.
    pub meaning: &'static str,
    holds: fn(&ClimateUnit) -> bool,
}

/// The columns with a figure, in their order.
pub fn climate_columns() -> Vec<ClimateColumn> {
    use ClimateFigure as F;
    let own = |figure: F, column: Figure| {
        let listed = COLUMNS.get(column as usize);
        listed.map(|c| ClimateColumn {
            figure,
            name: c.name,
            unit: c.unit,
            aggregates: c.aggregates(),
            meaning: c.meaning,
        })
    };
    let new = |figure: F, name, unit, aggregates, meaning| {
        Some(ClimateColumn { figure, name, unit, aggregates, meaning })
    };
    let columns = [
        own(F::Saving, Figure::UsefulSavingKwh),
        new(
            F::SavingHeld,
            "useful_saving_held_air_kwh",
            "kWh",
            "sum",
            "The same with the outdoor air that the unit misses made up, against the same air without recovery; equal to the column \
             before where none is missed.",
        ),
        new(
            F::FansHeld,
            "fan_held_air_kwh",
            "kWh",
            "sum",
            "Electricity of the ventilation fans with that air made up.",
        ),
        own(F::Winter, Figure::RhWinterMeanPct),
        own(F::Summer, Figure::RhSummerMeanPct),
        own(F::Below, Figure::RhBelow30H),
        own(F::Above, Figure::RhAbove60H),
        new(F::Inside, "rh_30_to_60_h", "h", "count", "The other hours: relative humidity from 30 to 60 %."),
        new(
            F::InsideWithout,
            "rh_30_to_60_no_recovery_h",
            "h",
            "count",
            "The same of the house with this unit's outdoor air and fans and no core.",
        ),
        own(F::Drain, Figure::CondensateL),
        own(F::PeakDrain, Figure::PeakCondensateLPerDay),
        own(F::PeakDay, Figure::PeakCondensateDate),
        own(F::Frost, Figure::FrostH),
        own(F::Blocked, Figure::BlockedH),
        own(F::Missed, Figure::MissedAirM3),
        new(
            F::MissedShare,
            "missed_air_pct",
            "%",
            "sums' ratio",
            "Missed outdoor air as a share of that delivered and missed.",
        ),
    ];
    columns.into_iter().flatten().collect()
}

/// The columns that say `yes` or `no`, after those with a figure.
pub const CLIMATE_VERDICTS: [ClimateVerdict; 3] = [
    ClimateVerdict {
        name: "saves_more_than_fans",
        meaning: "yes: at equal outdoor air (the saving with held air) it saves more than its fans take; kWh of fuel and of \
                  electricity count alike.",
        holds: ClimateUnit::saves_more_than_fans,
    },
    ClimateVerdict {
        name: "inside_30_to_60_longer",
        meaning: "yes: the rooms are inside 30 to 60 % for at least 24 h a year more than with the same air and no recovery.",
        holds: ClimateUnit::is_inside_longer,
    },
    ClimateVerdict { name: "gains", meaning: "yes: both.", holds: ClimateUnit::gains },
];

impl ClimateUnit {
    /// A unit's figures from the summary of its year, its no-recovery year and, if it was run, the pair with its air held.
    ///
    /// # Errors
    /// [`ReportError::NoUnit`] without both years; [`ReportError::TooLarge`] for a figure beyond what a table holds.
    pub fn new(summary: &RunSummary, name: &str, hours: usize) -> Result<Self, ReportError> {
        let row = |case| summary.find(name, case);
        let (Some(unit), Some(without)) = (row(Case::Unit), row(Case::NoRecovery)) else {
            return Err(ReportError::NoUnit { unit: name.to_owned() });
        };
        let held = row(Case::UnitHeld).unwrap_or(unit);
        let cells =
            climate_columns().into_iter().map(|column| figure(column.figure, (unit, held, without), hours));
        Ok(Self { name: name.to_owned(), cells: cells.collect::<Result<_, _>>()? })
    }

    /// A figure as it is printed.
    pub fn cell(&self, figure: ClimateFigure) -> Cell {
        self.cells.get(figure as usize).copied().unwrap_or(Cell::Empty)
    }

    /// A figure as a number, where it is one.
    pub fn value(&self, figure: ClimateFigure) -> Option<f64> {
        self.cell(figure).value()
    }

    /// Whether it saves more than its fans take, at equal outdoor air.
    pub fn saves_more_than_fans(&self) -> bool {
        let pair = self.value(ClimateFigure::SavingHeld).zip(self.value(ClimateFigure::FansHeld));
        pair.is_some_and(|(saving, fans)| saving > GAIN.saving_over_fans * fans)
    }

    /// Hours inside 30 to 60 % more than with the same air and no recovery \[h\]; negative when fewer.
    pub fn more_hours_inside(&self) -> Option<f64> {
        Some(self.value(ClimateFigure::Inside)? - self.value(ClimateFigure::InsideWithout)?)
    }

    /// Whether these are enough to count.
    pub fn is_inside_longer(&self) -> bool {
        self.more_hours_inside().is_some_and(|hours| hours >= GAIN.more_hours_h)
    }

    /// Whether both hold.
    pub fn gains(&self) -> bool {
        self.saves_more_than_fans() && self.is_inside_longer()
    }
}

fn figure(
    of: ClimateFigure,
    (unit, held, without): (&Row, &Row, &Row),
    hours: usize,
) -> Result<Cell, ReportError> {
    use ClimateFigure as F;
    Ok(match of {
        F::Saving => unit.year(Figure::UsefulSavingKwh),
        F::SavingHeld => held.year(Figure::UsefulSavingKwh),
        F::FansHeld => held.year(Figure::FanKwh),
        F::Winter => unit.year(Figure::RhWinterMeanPct),
        F::Summer => unit.year(Figure::RhSummerMeanPct),
        F::Below => unit.year(Figure::RhBelow30H),
        F::Above => unit.year(Figure::RhAbove60H),
        F::Inside => inside(unit, hours)?,
        F::InsideWithout => inside(without, hours)?,
        F::Drain => unit.year(Figure::CondensateL),
        F::PeakDrain => unit.year(Figure::PeakCondensateLPerDay),
        F::PeakDay => unit.year(Figure::PeakCondensateDate),
        F::Frost => unit.year(Figure::FrostH),
        F::Blocked => unit.year(Figure::BlockedH),
        F::Missed => unit.year(Figure::MissedAirM3),
        F::MissedShare => missed_share(unit)?,
    })
}

/// Hours that are neither below 30 % nor above 60 %.
fn inside(row: &Row, hours: usize) -> Result<Cell, ReportError> {
    let outside = [Figure::RhBelow30H, Figure::RhAbove60H].map(|figure| row.year(figure).negated());
    Ok(Cell::sum([Cell::rounded(crate::charts::count(hours), 0)?, outside[0], outside[1]]))
}

fn missed_share(row: &Row) -> Result<Cell, ReportError> {
    let volumes = [Figure::MissedAirM3, Figure::OutdoorAirM3].map(|figure| row.year(figure).value());
    match volumes {
        [Some(missed), Some(delivered)] if missed + delivered > 0.0 => {
            Cell::rounded(100.0 * missed / (missed + delivered), 2)
        }
        _ => Ok(Cell::Empty),
    }
}

/// `climates.csv`: a row for each unit in each climate.
///
/// # Errors
/// [`ReportError::Writing`] when the text cannot be put together.
pub fn climates_csv(climates: &[Climate]) -> Result<String, ReportError> {
    let columns = climate_columns();
    let verdicts = CLIMATE_VERDICTS.iter().map(|verdict| verdict.name);
    let header = CLIMATE_KEYS.into_iter().chain(columns.iter().map(|column| column.name)).chain(verdicts);
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(header).map_err(ReportError::writing)?;
    for climate in climates {
        for unit in &climate.units {
            let keys = [climate.name.clone(), climate.place.clone(), unit.name.clone()];
            let figures = columns.iter().map(|column| unit.cell(column.figure).to_string());
            let answers = CLIMATE_VERDICTS.iter().map(|verdict| yes_or_no((verdict.holds)(unit)));
            writer
                .write_record(keys.into_iter().chain(figures).chain(answers))
                .map_err(ReportError::writing)?;
        }
    }
    String::from_utf8(writer.into_inner().map_err(ReportError::writing)?).map_err(ReportError::writing)
}

/// A weather file's name, and that of its place where it says something else.
pub(crate) fn titled(name: &str, place: &str) -> String {
    let place = place.trim();
    if place.is_empty() || place == weather::UNNAMED_PLACE || name.contains(place) {
        name.to_owned()
    } else {
        format!("{name} · {place}")
    }
}

fn yes_or_no(holds: bool) -> String {
    if holds { "yes" } else { "no" }.to_owned()
}

//! Pictures, each an SVG text: thirteen of a run and one of its money, three of climates, one of units in climates, one of a core's steady point, one of the fast solution's accuracy, three of a sweep.
//!
//! The pictures name the font `DejaVu Sans` and carry no font themselves; [`FONT_REGULAR`] and [`FONT_BOLD`]
//! are the files with which text was measured. Not here: pixels and pages, which are made from the SVG elsewhere.
//!
//! Read next: `style` (colours, lines, type sizes), then `canvas` (title, legend), then `panel` (axes over the year) or
//! `plot` (any axes); of a core, `core_page`; of climates, `climate`.

mod accuracy;
mod along;
mod bands;
mod canvas;
mod carpet;
mod climate;
mod climate_bins;
mod climate_duration;
mod climate_matrix;
mod climate_year;
mod cold_hours;
mod condensate;
mod condensate_week;
mod core_page;
mod cost_breakdown;
mod duration;
mod duration_plot;
mod energy;
mod energy_months;
mod frost;
mod houses;
mod humidity;
mod humidity_bands;
mod humidity_year;
mod labels;
mod moist_air;
mod month_plot;
mod mould_index;
mod panel;
mod plot;
mod ports;
mod protection;
mod psychrometric;
mod psychrometric_year;
mod style;
mod sweep;
mod sweep_bars;
mod sweep_scatter;
mod sweep_spread;

use rayon::prelude::*;
use simulation::damage::Corner;
use simulation::results::{Case, HouseYear};

use crate::accuracy::AccuracySet;
use crate::climates::Climate;
use crate::core_point::CorePoint;
use crate::money::MoneyReport;
use crate::summary::{check_all, in_order};
use crate::words::{Language, Words};
use crate::{Calendar, ReportError, RunSummary, ShowIn};

pub use canvas::{FONT_BOLD, FONT_FAMILY, FONT_REGULAR};
pub use climate::ClimateInput;
pub(crate) use panel::count;
pub use sweep::{
    BarPanel, BarRow, ScatterInput, ScatterUnit, SpreadFigure, SpreadUnit, SweepBar, SweepBars, SweepScatter,
    SweepSpread,
};

/// What the charts are drawn from.
#[derive(Debug, Clone, Copy)]
pub struct ChartInput<'a> {
    /// Title of the study, such as `Bungalow at Frosthollow`.
    pub study: &'a str,
    /// Units and baselines; years that are compared in tables alone ([`in_tables_alone`]) are not drawn.
    pub years: &'a [HouseYear],
    /// Language of titles, axes and legends.
    pub language: Language,
    /// Units of measure on the axes.
    pub show_in: ShowIn,
    /// The house's cold corner, where one is looked at.
    pub corner: Option<Corner>,
    /// Share of the extract air that comes from the wet rooms, 0…1.
    pub extract_wet_share: f64,
}

/// A chart and the name under which it is usually kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chart {
    /// File name without folder, such as `humidity.svg`.
    pub file: &'static str,
    /// The picture.
    pub svg: String,
}

/// Whether a house-year was run to be compared in the tables alone: it is in no chart and needs no hourly file.
pub fn in_tables_alone(case: Case) -> bool {
    matches!(case, Case::UnitHeld | Case::NoRecoveryHeld | Case::ExtractOnly)
}

/// All charts of a run that are drawn from its hours.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn all(input: &ChartInput<'_>) -> Result<Vec<Chart>, ReportError> {
    type Draw = fn(&ChartInput<'_>, &Drawn<'_>) -> Result<String, ReportError>;
    const CHARTS: [(&str, Draw); 12] = [
        ("humidity.svg", humidity::draw),
        ("condensate.svg", condensate::draw),
        ("energy.svg", energy::draw),
        ("frost.svg", frost::draw),
        ("frost-hours.svg", cold_hours::draw),
        ("humidity-year.svg", humidity_year::draw),
        ("humidity-bands.svg", humidity_bands::draw),
        ("condensate-week.svg", condensate_week::draw),
        ("energy-months.svg", energy_months::draw),
        ("psychrometric-year.svg", psychrometric_year::draw),
        ("duration.svg", duration::draw),
        ("mould-index.svg", mould_index::draw),
    ];
    // Looked through once for all: it reads every number of every year.
    let drawn = Drawn::new(input, "humidity")?;
    // One by one: some take ten times what others do.
    let each = CHARTS.par_iter().with_max_len(1);
    let charts: Vec<Result<Chart, ReportError>> =
        each.map(|(file, draw)| Ok(Chart { file, svg: draw(input, &drawn)? })).collect();
    charts.into_iter().collect()
}

/// Indoor relative humidity through the year: seven-day means of units and baselines, daily range of units.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn humidity_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    humidity::draw(input, &Drawn::new(input, "humidity")?)
}

/// Condensate by month, a bar for each unit.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn condensate_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    condensate::draw(input, &Drawn::new(input, "condensate")?)
}

/// Heat book of the house by month about zero, a panel for each unit.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn energy_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    energy::draw(input, &Drawn::new(input, "energy")?)
}

/// Outdoor temperature, and below it the ice that formed each day, a panel for each unit.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn frost_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    frost::draw(input, &Drawn::new(input, "frost")?)
}

/// What each unit does about frost, hour by hour: days across, hours of the day up, a panel for each unit.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn frost_hours_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    cold_hours::draw(input, &Drawn::new(input, "frost hours")?)
}

/// Indoor relative humidity hour by hour: days across, hours of the day down, a carpet for each unit and for no recovery.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn humidity_year_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    humidity_year::draw(input, &Drawn::new(input, "humidity year")?)
}

/// Hours in bands of indoor relative humidity by month, a panel for each unit and for no recovery.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn humidity_bands_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    humidity_bands::draw(input, &Drawn::new(input, "humidity bands")?)
}

/// Condensate by month, and beside it the worst week hour by hour with its ice, for each unit.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn condensate_week_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    condensate_week::draw(input, &Drawn::new(input, "condensate week")?)
}

/// Heat book of the house by month about zero, with its numbers below, which add up; a panel for each unit.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn energy_months_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    energy_months::draw(input, &Drawn::new(input, "energy months")?)
}

/// The year's hours at each unit's four ports on the chart of moist air, a panel for each unit.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn psychrometric_year_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    psychrometric_year::draw(input, &Drawn::new(input, "psychrometric year")?)
}

/// Hours of the year above each indoor relative humidity and above each temperature of the supply air.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn duration_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    duration::draw(input, &Drawn::new(input, "duration")?)
}

/// Mould index of the cold corner through the year, and hours by month in which window edges are wet.
///
/// # Errors
/// [`ReportError`] when a year is faulty, none has a unit, or the drawing fails.
pub fn mould_index_chart(input: &ChartInput<'_>) -> Result<String, ReportError> {
    mould_index::draw(input, &Drawn::new(input, "mould index")?)
}

/// Units side by side: saving at equal outdoor air, and what frost and its remedies take.
///
/// # Errors
/// [`ReportError`] when there is no unit, or the drawing fails.
pub fn frost_protection_chart(
    summary: &RunSummary,
    study: &str,
    language: Language,
) -> Result<String, ReportError> {
    protection::draw(summary, study, Words::of(language)?)
}

/// Life-cycle cost of every unit, no recovery and extract only in today's money, a bar for each in its parts.
///
/// # Errors
/// [`ReportError`] when there is no unit, or the drawing fails.
pub fn cost_breakdown_chart(
    report: &MoneyReport,
    study: &str,
    language: Language,
) -> Result<String, ReportError> {
    cost_breakdown::draw(report, study, Words::of(language)?)
}

/// A core's steady point: the chart of moist air with the four ports, and temperatures along the core.
///
/// # Errors
/// [`ReportError::OutOfRange`] for a number that is not finite or outside its range; [`ReportError::Drawing`].
pub fn core_chart(point: &CorePoint) -> Result<String, ReportError> {
    core_page::draw(point)
}

/// Distance of the fast solution of a core from the reference, largest and rms, inside and outside the plausible states.
///
/// # Errors
/// [`ReportError::NothingMeasured`] without a set; [`ReportError::OutOfRange`] for a distance that is negative or not
/// finite; [`ReportError::Drawing`].
pub fn accuracy_chart(sets: &[AccuracySet]) -> Result<String, ReportError> {
    accuracy::draw(sets)
}

/// Climates side by side: hour by hour with what each hour does to a core and to a house, in tiles of dry bulb and humidity ratio,
/// and as duration curves of dry bulb and dew point.
///
/// # Errors
/// [`ReportError::NoClimate`]; [`ReportError::Weather`] and [`ReportError::HourCount`] for a year that is not whole, finite and in
/// range; [`ReportError::Drawing`].
pub fn climate_charts(climates: &[ClimateInput<'_>], show_in: ShowIn) -> Result<Vec<Chart>, ReportError> {
    climate::all(climates, show_in)
}

/// Units in climates: a panel for each figure, a tile for each unit in each climate with its number.
///
/// # Errors
/// [`ReportError::NothingToDraw`] unless every climate has the same number of units, at least one; [`ReportError::Drawing`].
pub fn climates_chart(climates: &[Climate], study: &str, show_in: ShowIn) -> Result<String, ReportError> {
    climate_matrix::draw(climates, study, show_in)
}

/// What each input of a sweep does to a figure: two bars an input, a panel a unit.
///
/// # Errors
/// [`ReportError::NothingToDraw`] without a bar; [`ReportError::Drawing`].
pub fn sweep_bars_chart(chart: &SweepBars) -> Result<String, ReportError> {
    sweep_bars::draw(chart)
}

/// A figure of a sweep over each input, a small panel for each input and unit.
///
/// # Errors
/// [`ReportError::NothingToDraw`] without an input or a figure; [`ReportError::Drawing`].
pub fn sweep_scatter_chart(chart: &SweepScatter) -> Result<String, ReportError> {
    sweep_scatter::draw(chart)
}

/// How figures of a sweep spread: shares of the runs in classes, with P10, P50 and P90.
///
/// # Errors
/// [`ReportError::NothingToDraw`] without a unit; [`ReportError::Drawing`].
pub fn sweep_spread_chart(chart: &SweepSpread) -> Result<String, ReportError> {
    sweep_spread::draw(chart)
}

/// Checked years in the order in which they are drawn.
struct Drawn<'a> {
    words: &'static Words,
    units: Vec<&'a HouseYear>,
    baselines: Vec<&'a HouseYear>,
    calendar: Calendar,
}

impl<'a> Drawn<'a> {
    fn new(input: &ChartInput<'a>, chart: &'static str) -> Result<Self, ReportError> {
        let drawn: Vec<&HouseYear> =
            in_order(input.years).into_iter().filter(|year| !in_tables_alone(year.case)).collect();
        let calendars = check_all(&drawn)?;
        let (units, baselines): (Vec<_>, Vec<_>) =
            drawn.into_iter().partition(|year| year.case == Case::Unit);
        match calendars.first() {
            Some(calendar) if !units.is_empty() => {
                let expected = calendar.hours();
                match calendars.iter().find(|other| other.hours() != expected) {
                    Some(other) => Err(ReportError::HourCount { hours: other.hours() }),
                    None => Ok(Self {
                        words: Words::of(input.language)?,
                        units,
                        baselines,
                        calendar: calendar.clone(),
                    }),
                }
            }
            _ => Err(ReportError::NothingToDraw { chart }),
        }
    }

    /// Least, mean and greatest of each day.
    fn days(&self, values: &[f64]) -> Vec<Day> {
        let of_day = |hours: &[f64]| Day {
            least: hours.iter().copied().fold(f64::INFINITY, f64::min),
            mean: hours.iter().sum::<f64>() / 24.0,
            greatest: hours.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        };
        values.chunks_exact(24).take(self.calendar.days()).map(of_day).collect()
    }
}

#[derive(Debug, Clone, Copy)]
struct Day {
    least: f64,
    mean: f64,
    greatest: f64,
}

//! Annual and monthly figures: a row for each unit and each baseline, and their CSV text.
//!
//! Months are rounded to the printed digits first; the year's sums and counts are the sums of the printed
//! months, and the saving is the difference of printed figures. Not here: the list of columns (`columns`).

use rayon::prelude::*;
use simulation::damage::{Corner, Damage, damage};
use simulation::results::{Case, HouseYear};

use crate::calendar::Calendar;
use crate::columns::{COLUMNS, Column, Figure, Format, Houses, RATED_AIR_KG_PER_M3};
use crate::measure::{Measure, OfHours, Span};
use crate::{Cell, Hemisphere, ReportError};

/// Headers of the key columns of `annual.csv`.
pub const ANNUAL_KEYS: [&str; 2] = ["unit", "case"];
/// Headers of the key columns of `monthly.csv`.
pub const MONTHLY_KEYS: [&str; 3] = ["unit", "case", "month"];

/// What the figures need to know beside the hours.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SummaryBasis {
    /// Where the site is.
    pub hemisphere: Hemisphere,
    /// Ice that the core's passages can hold \[kg\], by unit; a unit may be missing.
    pub frost_capacity_kg: Vec<(String, f64)>,
    /// The coldest corner of the house; `None` where none is looked at.
    pub corner: Option<Corner>,
    /// Outdoor air that is required \[kg dry air an hour\]; `None` where nothing is.
    pub required_kg_per_h: Option<f64>,
}

/// Annual and monthly figures of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct RunSummary {
    /// A unit, then its baseline, then both with outdoor air held if that was run, then the next unit; the house without ventilation last.
    pub rows: Vec<Row>,
    /// Where the site is.
    pub hemisphere: Hemisphere,
}

/// Figures of one house-year, in the order of [`COLUMNS`].
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The unit's name; empty for the house without ventilation.
    pub unit: String,
    /// Which house.
    pub case: Case,
    /// Twelve months, January first.
    pub months: Vec<Vec<Cell>>,
    /// The year.
    pub year: Vec<Cell>,
}

impl Row {
    /// The year's figure.
    pub fn year(&self, figure: Figure) -> Cell {
        self.year.get(figure as usize).copied().unwrap_or(Cell::Empty)
    }

    /// A month's figure (January = 0).
    pub fn month(&self, month: usize, figure: Figure) -> Cell {
        self.months.get(month).and_then(|cells| cells.get(figure as usize)).copied().unwrap_or(Cell::Empty)
    }
}

/// The key of a case in files: `unit`, `no-recovery`, `unit-held-air`, `no-recovery-held-air`,
/// `extract-only`, `no-ventilation`.
pub fn case_key(case: Case) -> &'static str {
    match case {
        Case::Unit => "unit",
        Case::NoRecovery => "no-recovery",
        Case::UnitHeld => "unit-held-air",
        Case::NoRecoveryHeld => "no-recovery-held-air",
        Case::ExtractOnly => "extract-only",
        Case::NoVentilation => "no-ventilation",
    }
}

impl RunSummary {
    /// The figures of these house-years. A unit's saving is against the no-recovery year of the same name; without
    /// one it is empty.
    ///
    /// # Errors
    /// [`ReportError`] when a year has the wrong number of hours, holds a value that is not finite, or comes twice.
    pub fn new(years: &[HouseYear], basis: &SummaryBasis) -> Result<Self, ReportError> {
        let sorted = in_order(years);
        check_all(&sorted)?;
        for (place, year) in years.iter().enumerate() {
            if years.iter().take(place).any(|other| other.unit == year.unit && other.case == year.case) {
                return Err(ReportError::Duplicate { house: house_name(year) });
            }
        }
        let each = sorted.into_par_iter().with_max_len(1);
        let rows: Vec<_> = each.map(|year| row(year, years, basis)).collect();
        let rows = rows.into_iter().collect::<Result<_, _>>()?;
        Ok(Self { rows, hemisphere: basis.hemisphere })
    }

    /// `annual.csv`: a row for each unit and baseline.
    ///
    /// # Errors
    /// [`ReportError::Writing`] when the text cannot be put together.
    pub fn annual_csv(&self) -> Result<String, ReportError> {
        let rows = self.rows.iter().map(|row| record(&[&row.unit, case_key(row.case)], &row.year));
        csv_text(&ANNUAL_KEYS, rows)
    }

    /// `monthly.csv`: twelve rows for each unit and baseline.
    ///
    /// # Errors
    /// [`ReportError::Writing`] when the text cannot be put together.
    pub fn monthly_csv(&self) -> Result<String, ReportError> {
        let rows = self.rows.iter().flat_map(|row| {
            row.months.iter().enumerate().map(|(month, cells)| {
                record(&[&row.unit, case_key(row.case), &(month + 1).to_string()], cells)
            })
        });
        csv_text(&MONTHLY_KEYS, rows)
    }

    /// The row of a unit or of one of its baselines.
    pub fn find(&self, unit: &str, case: Case) -> Option<&Row> {
        self.rows.iter().find(|row| row.unit == unit && row.case == case)
    }
}

/// [`check`] of each, side by side; the fault that is told is the first in order, whatever thread met one first.
pub(crate) fn check_all(years: &[&HouseYear]) -> Result<Vec<Calendar>, ReportError> {
    let checked: Vec<_> = years.par_iter().map(|year| check(year)).collect();
    checked.into_iter().collect()
}

/// Refuses columns of unequal length and values that are not finite.
pub(crate) fn check(year: &HouseYear) -> Result<Calendar, ReportError> {
    let calendar = check_lengths(year)?;
    for (column, values, _) in year.hourly.columns() {
        // Without an early end, so that it goes in vectors: a run has ten million of them.
        let all_finite = values.iter().fold(true, |finite, value| finite & value.is_finite());
        let at = || values.iter().enumerate().find(|(_, value)| !value.is_finite());
        if let Some((hour, &value)) = (!all_finite).then(at).flatten() {
            return Err(ReportError::NotFinite { house: house_name(year), column, hour, value });
        }
    }
    Ok(calendar)
}

/// Refuses columns of unequal length.
pub(crate) fn check_lengths(year: &HouseYear) -> Result<Calendar, ReportError> {
    let columns = year.hourly.columns();
    let hours = columns.first().map_or(0, |(_, values, _)| values.len());
    let calendar = Calendar::for_hours(hours)?;
    match columns.into_iter().find(|(_, values, _)| values.len() != hours) {
        Some((column, values, _)) => {
            let house = house_name(year);
            Err(ReportError::ColumnLength { house, column, found: values.len(), expected: hours })
        }
        None => Ok(calendar),
    }
}

/// Unit and case, for messages.
pub(crate) fn house_name(year: &HouseYear) -> String {
    match year.case {
        Case::Unit => year.unit.clone(),
        Case::NoRecovery => format!("{}, no recovery", year.unit),
        Case::UnitHeld => format!("{}, its outdoor air held", year.unit),
        Case::NoRecoveryHeld => format!("{}, its outdoor air held, no recovery", year.unit),
        Case::ExtractOnly => format!("{}, extract only", year.unit),
        Case::NoVentilation => "no ventilation".to_owned(),
    }
}

/// Years by unit in order of first appearance, the unit before its baseline, no ventilation last.
pub(crate) fn in_order(years: &[HouseYear]) -> Vec<&HouseYear> {
    let first = |year: &HouseYear| years.iter().position(|other| other.unit == year.unit);
    let mut sorted: Vec<&HouseYear> = years.iter().collect();
    sorted.sort_by_key(|year| (year.case == Case::NoVentilation, first(year), year.case));
    sorted
}

/// An hour is short of outdoor air when this share of what is required is missing.
const SHORT_OF: f64 = 0.01;

struct House<'a> {
    year: &'a HouseYear,
    baseline: Option<&'a HouseYear>,
    frost_capacity_kg: Option<f64>,
    required_kg_per_h: Option<f64>,
    damage: Option<Damage>,
    hemisphere: Hemisphere,
    calendar: Calendar,
}

/// The figures of a year that is checked.
fn row(year: &HouseYear, years: &[HouseYear], basis: &SummaryBasis) -> Result<Row, ReportError> {
    let beside = match year.case {
        Case::Unit => Some(Case::NoRecovery),
        Case::UnitHeld => Some(Case::NoRecoveryHeld),
        _ => None,
    };
    let paired = |other: &&HouseYear| Some(other.case) == beside && other.unit == year.unit;
    let house = House {
        year,
        baseline: years.iter().find(paired),
        frost_capacity_kg: basis
            .frost_capacity_kg
            .iter()
            .find(|(unit, _)| *unit == year.unit)
            .map(|(_, kg)| *kg),
        required_kg_per_h: basis.required_kg_per_h,
        damage: basis.corner.map(|corner| damage(&year.hourly, &corner)),
        hemisphere: basis.hemisphere,
        calendar: Calendar::for_hours(year.hourly.outdoor_c.len())?,
    };
    let months = (0..12).map(|month| house.month(month)).collect::<Result<Vec<_>, _>>()?;
    let annual = COLUMNS.iter().enumerate().map(|(place, column)| house.annual(column, place, &months));
    Ok(Row { unit: year.unit.clone(), case: year.case, year: annual.collect::<Result<_, _>>()?, months })
}

impl House<'_> {
    fn month(&self, month: usize) -> Result<Vec<Cell>, ReportError> {
        COLUMNS.iter().map(|column| self.figure(column, self.calendar.hours_of(month))).collect()
    }

    fn annual(&self, column: &Column, place: usize, months: &[Vec<Cell>]) -> Result<Cell, ReportError> {
        match column.measure {
            Measure::Sum(_)
            | Measure::SumOf(_)
            | Measure::Saving(_)
            | Measure::Count(_)
            | Measure::CountOverFrostCapacity
            | Measure::CountDampCorner
            | Measure::SumBelowRequired
            | Measure::CountBelowRequired => {
                Ok(Cell::sum(months.iter().map(|cells| cells.get(place).copied().unwrap_or(Cell::Empty))))
            }
            _ => self.figure(column, 0..self.calendar.hours()),
        }
    }

    fn figure(&self, column: &Column, hours: std::ops::Range<usize>) -> Result<Cell, ReportError> {
        let has_core = matches!(self.year.case, Case::Unit | Case::UnitHeld);
        if column.houses == Houses::WithUnit && !has_core {
            return Ok(Cell::Empty);
        }
        let span = self.span(self.year, hours.clone());
        let decimals = if let Format::Fixed(decimals) = column.format { decimals } else { 0 };
        let number = match column.measure {
            Measure::SumOf(parts) => return rounded_sum(&span, parts, decimals),
            Measure::Saving(parts) => return self.saving(&span, parts, decimals),
            Measure::PeakDate(of) => return Ok(self.date(span.peak_day(of))),
            Measure::Residual(books) => {
                return Ok(span.residual(books).map_or(Cell::Empty, Cell::Scientific));
            }
            Measure::Sum(of) => Some(span.sum(of)),
            Measure::Count(holds) => Some(whole(span.count(holds))),
            Measure::CountOverFrostCapacity => {
                self.frost_capacity_kg.map(|most| whole(span.count_if(|h, i| h.frost_kg[i] > most)))
            }
            Measure::GreatestMouldIndex => self
                .damage
                .as_ref()
                .and_then(|damage| damage.mould_index.get(hours.clone())?.iter().copied().reduce(f64::max)),
            Measure::CountDampCorner => self.damage.as_ref().and_then(|damage| {
                let fails = damage.fails.get(hours.clone())?;
                Some(whole(fails.iter().filter(|fails| **fails).count()))
            }),
            Measure::SumBelowRequired => self.required_kg_per_h.map(|required| {
                span.sum_short_of(required, |h, i| h.outdoor_air_kg[i]) / RATED_AIR_KG_PER_M3
            }),
            Measure::CountBelowRequired => self.required_kg_per_h.map(|required| {
                let enough = required * (1.0 - SHORT_OF);
                whole(span.count_if(|h, i| h.outdoor_air_kg[i] < enough))
            }),
            Measure::Mean(of, holds) => span.mean(of, holds),
            Measure::SeasonMean(season, of) => span.season_mean(season, self.hemisphere, of),
            Measure::Least(of) => span.least(of),
            Measure::Greatest(of) => span.greatest(of),
            Measure::PeakDay(of) => span.peak_day(of).map(|(_, sum)| sum),
        };
        number.map_or(Ok(Cell::Empty), |value| Cell::rounded(value, decimals))
    }

    fn saving(&self, unit: &Span<'_>, parts: &[OfHours], decimals: u8) -> Result<Cell, ReportError> {
        let Some(baseline) = self.baseline else { return Ok(Cell::Empty) };
        let without = rounded_sum(&self.span(baseline, unit.hours.clone()), parts, decimals)?;
        let with = rounded_sum(unit, parts, decimals)?;
        Ok(Cell::sum([without, with.negated()]))
    }

    fn date(&self, peak: Option<(usize, f64)>) -> Cell {
        match peak {
            Some((day, sum)) if sum > 0.0 => {
                let stamp = self.calendar.stamp(day * crate::calendar::HOURS_PER_DAY);
                Cell::MonthDay { month: stamp.month, day: stamp.day }
            }
            _ => Cell::Empty,
        }
    }

    fn span<'a>(&'a self, year: &'a HouseYear, hours: std::ops::Range<usize>) -> Span<'a> {
        Span { hourly: &year.hourly, calendar: &self.calendar, hours }
    }
}

fn rounded_sum(span: &Span<'_>, parts: &[OfHours], decimals: u8) -> Result<Cell, ReportError> {
    let cells =
        parts.iter().map(|part| Cell::rounded(span.sum(*part), decimals)).collect::<Result<Vec<_>, _>>()?;
    Ok(Cell::sum(cells))
}

#[allow(clippy::cast_precision_loss, reason = "hours of a year")]
fn whole(count: usize) -> f64 {
    count as f64
}

fn record(keys: &[&str], cells: &[Cell]) -> Vec<String> {
    keys.iter().map(|&key| key.to_owned()).chain(cells.iter().map(Cell::to_string)).collect()
}

fn csv_text(keys: &[&str], rows: impl Iterator<Item = Vec<String>>) -> Result<String, ReportError> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let header = keys.iter().copied().chain(COLUMNS.iter().map(|column| column.name));
    writer.write_record(header).map_err(ReportError::writing)?;
    for row in rows {
        writer.write_record(row).map_err(ReportError::writing)?;
    }
    String::from_utf8(writer.into_inner().map_err(ReportError::writing)?).map_err(ReportError::writing)
}

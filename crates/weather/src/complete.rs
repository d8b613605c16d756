//! From rows as they stand to a year: hours by the calendar, gaps, humidity, limits; every repair is counted. What is
//! not here: doubts that change nothing (`doubts.rs`). Read next: `humidity.rs`.

use crate::calendar::Calendar;
use crate::error::WeatherError;
use crate::findings::{Finding, FindingKind, Findings, Location, Severity, counted};
use crate::gaps::{self, Joining};
use crate::humidity;
use crate::place;
use crate::quantity::Quantity;
use crate::table::{Row, Table};
use crate::text;
use crate::year::{HumidityBasis, HumidityOrigin, Overrides, Place, WeatherYear};
use crate::{beam, dew_point, doubts, filled, outliers, sun_check, turn};

/// Height of the wind sensor unless the file says otherwise \[m\]: the standard of weather services.
const WIND_HEIGHT_M: f64 = 10.0;

/// Characters of the words about a shift that are shown.
const MOST_OF_A_SHIFT: usize = 400;

/// Completes a table.
pub(crate) fn complete(
    mut table: Table,
    overrides: &Overrides,
) -> Result<(WeatherYear, Findings), WeatherError> {
    let mut findings = Findings::default();
    let place = place_of(&mut table, overrides, &mut findings)?;
    let slots = Slots::of(&table.rows)?;
    slots.report_order(&table.rows, &mut findings);
    slots.report_missing(&mut findings)?;
    let gaps = filled::gaps_of(&slots.rows, &mut findings)?;
    report_fillers(&table, &mut findings);
    let (basis, origin) = basis(&table, overrides);
    let dry_bulb_c = slots.column(Quantity::DryBulb, Joining::Straight)?;
    let pressure_pa = slots.column(Quantity::Pressure, Joining::Straight)?;
    if let Some(finding) = dew_point::check(&table.rows, "hour")? {
        findings.push(finding);
    }
    let humidity_ratio = slots.humidity(basis, &dry_bulb_c, &pressure_pa, &mut findings)?;
    let mut year = WeatherYear {
        humidity_ratio,
        wind_speed_m_per_s: slots.column(Quantity::WindSpeed, Joining::Straight)?,
        wind_direction_deg: slots.column(Quantity::WindDirection, Joining::Compass)?,
        global_horizontal_w_per_m2: slots.irradiance(Quantity::Global, &mut findings)?,
        direct_normal_w_per_m2: slots.beam(&table.rows, &mut findings)?,
        diffuse_horizontal_w_per_m2: slots.irradiance(Quantity::Diffuse, &mut findings)?,
        dry_bulb_c,
        pressure_pa,
        place,
        sun_offset_h: 0.5,
        wind_height_m: overrides.wind_height_m.or(table.wind_height_m).unwrap_or(WIND_HEIGHT_M),
        humidity_basis: basis,
        humidity_origin: origin,
        format: table.format,
        is_synthetic: table.is_synthetic,
        shifted: table.shifted.clone(),
        source: table.source.clone(),
    };
    place::check_range("wind sensor height [m]", year.wind_height_m, 0.5, 300.0)?;
    filled::sun(&mut year, &gaps, &table);
    finish(year, &table, overrides, findings)
}

/// The place, after what the reader met and before what is done about it.
fn place_of(
    table: &mut Table,
    overrides: &Overrides,
    findings: &mut Findings,
) -> Result<Place, WeatherError> {
    if let (Some(_), Some((zone_h, finding))) = (table.clock_h, turn::assumed_zone(&table.place, overrides)) {
        table.place.time_zone_h = Some(zone_h);
        findings.push(finding);
    }
    let place = place::resolve(&table.place, &overrides.place)?;
    table.findings.drain(..).for_each(|finding| findings.push(finding));
    for finding in place::conflicts(&table.place, &overrides.place) {
        findings.push(finding);
    }
    Ok(place)
}

fn finish(
    mut year: WeatherYear,
    table: &Table,
    overrides: &Overrides,
    mut findings: Findings,
) -> Result<(WeatherYear, Findings), WeatherError> {
    let rest_h = match table.clock_h {
        Some(clock_h) => turn::to_local_time(&mut year, clock_h, &mut findings),
        None => 0.0,
    };
    let offsets_h = match overrides.sun_offset_h {
        Some(offset_h) => vec![place::check_range("sun offset [h]", offset_h, -24.0, 24.0)?],
        None => table.sun_offsets_h.iter().map(|offset_h| offset_h + rest_h).collect(),
    };
    if has_beam(&table.rows) {
        year.sun_offset_h = sun_check::best_of(&year, &offsets_h);
    } else {
        year.sun_offset_h = offsets_h.first().copied().unwrap_or(0.5);
        beam::derive(&mut year, &mut findings);
    }
    doubts::humidity(&table.rows, &year, &mut findings);
    doubts::air(&year, &mut findings);
    outliers::dry_bulb(&year, &mut findings);
    doubts::sun(&year, &mut findings);
    if year.is_synthetic {
        let sentence =
            "This climate is invented: for tests and examples, not for a design or a claim.".to_owned();
        findings.push(Finding::whole_file(FindingKind::Synthetic, Severity::Note, sentence));
    }
    if let Some(how) = &year.shifted {
        let how = text::printable(how, MOST_OF_A_SHIFT);
        let sentence = format!("This climate is shifted ({how}): a scenario, not a record.");
        findings.push(Finding::whole_file(FindingKind::Shifted, Severity::Note, sentence));
    }
    Ok((year, findings))
}

/// Whether any row carries a beam; a file without one has it derived.
pub(crate) fn has_beam(rows: &[Row]) -> bool {
    rows.iter().any(|row| row.get(Quantity::Direct).is_some())
}

fn basis(table: &Table, overrides: &Overrides) -> (HumidityBasis, HumidityOrigin) {
    let has_ratio = table.rows.iter().all(|row| row.get(Quantity::HumidityRatio).is_some());
    match (overrides.humidity_basis, table.humidity_basis) {
        (None, stated) if has_ratio => (stated.unwrap_or(HumidityBasis::Water), HumidityOrigin::NotNeeded),
        (Some(basis), _) | (None, Some(basis)) => (basis, HumidityOrigin::Given),
        (None, None) => humidity::infer_basis(&table.rows),
    }
}

/// Rows at their hours of the year.
struct Slots<'a> {
    calendar: Calendar,
    rows: Vec<Option<&'a Row>>,
}

impl<'a> Slots<'a> {
    fn of(rows: &'a [Row]) -> Result<Self, WeatherError> {
        let calendar = Calendar::of_stamps(rows.iter().map(|row| row.stamp));
        let mut slots: Vec<Option<&Row>> = vec![None; calendar.hours()];
        for row in rows {
            let slot = calendar.index(row.stamp).and_then(|h| slots.get_mut(h));
            let Some(slot) = slot else {
                return Err(WeatherError::BadStamp { line: row.line, text: row.stamp.numbers() });
            };
            if let Some(earlier) = slot {
                let (line, first_line, hour) = (row.line, earlier.line, row.stamp);
                return Err(WeatherError::HourTwice { line, first_line, hour });
            }
            *slot = Some(row);
        }
        Ok(Self { calendar, rows: slots })
    }

    /// Says which rows stand earlier in the year than a row before them; each is put where its own hour says.
    fn report_order(&self, rows: &[Row], findings: &mut Findings) {
        let index = |row: &Row| self.calendar.index(row.stamp);
        let back: Vec<Location> = rows
            .windows(2)
            .filter_map(|pair| match pair {
                [before, row] if index(row) < index(before) => Some(row.location()),
                _ => None,
            })
            .collect();
        if !back.is_empty() {
            let sentence = format!(
                "The rows are out of order: {} earlier in the year than the row before. Each was put at the hour it \
                 names; in an untouched file hours rise from 1 January, hour 1, so look for rows that were sorted or pasted.",
                if back.len() == 1 { "1 row is".to_owned() } else { format!("{} rows are", back.len()) }
            );
            findings.push(Finding::at(FindingKind::RowsOutOfOrder, Severity::Warning, &back, sentence));
        }
    }

    /// Says which hours have no row; refuses gaps too long to fill.
    fn report_missing(&self, findings: &mut Findings) -> Result<(), WeatherError> {
        let present: Vec<Option<f64>> = self.rows.iter().map(|row| row.map(|_| 0.0)).collect();
        if let Some(&gap) = gaps::gaps(&present).iter().find(|gap| gap.hours > gaps::LONGEST_GAP_H) {
            return Err(gaps::long_gap("the row", gap, self.calendar));
        }
        let missing: Vec<Location> = present
            .iter()
            .enumerate()
            .filter(|(_, row)| row.is_none())
            .map(|(h, _)| Location { line: None, hour: Some(self.calendar.stamp(h)) })
            .collect();
        if !missing.is_empty() {
            let sentence = format!("No row for {}: interpolated.", counted(missing.len(), "hour"));
            findings.push(Finding::at(FindingKind::FilledGap, Severity::Warning, &missing, sentence));
        }
        Ok(())
    }

    fn column(&self, quantity: Quantity, joining: Joining) -> Result<Vec<f64>, WeatherError> {
        let values: Vec<Option<f64>> =
            self.rows.iter().map(|row| row.and_then(|row| row.get(quantity))).collect();
        gaps::filled(&values, quantity.name(), joining, self.calendar)
    }

    /// Irradiance, with small negative values (sensor noise at night) set to zero and counted.
    fn irradiance(&self, quantity: Quantity, findings: &mut Findings) -> Result<Vec<f64>, WeatherError> {
        let values = self.column(quantity, Joining::Straight)?;
        let negative = self.locations(|h| values.get(h).is_some_and(|&value| value < 0.0));
        if !negative.is_empty() {
            let sentence = format!("Slightly negative {} was set to zero.", quantity.name());
            findings.push(Finding::at(FindingKind::NegativeIrradiance, Severity::Note, &negative, sentence));
        }
        // Adding zero turns the -0.00 that some files carry into 0.
        Ok(values.into_iter().map(|value| value.max(0.0) + 0.0).collect())
    }

    /// The beam; zero for now where the file carries none and it is derived later.
    fn beam(&self, rows: &[Row], findings: &mut Findings) -> Result<Vec<f64>, WeatherError> {
        if has_beam(rows) {
            self.irradiance(Quantity::Direct, findings)
        } else {
            Ok(vec![0.0; self.calendar.hours()])
        }
    }

    fn humidity(
        &self,
        basis: HumidityBasis,
        dry_bulb_c: &[f64],
        pressure_pa: &[f64],
        findings: &mut Findings,
    ) -> Result<Vec<f64>, WeatherError> {
        let air = || dry_bulb_c.iter().zip(pressure_pa);
        let stated: Vec<Option<f64>> = (self.rows.iter().zip(air()))
            .map(|(row, (&t, &p))| row.and_then(|row| humidity::ratio(row, basis, t, p)))
            .collect();
        let mut ratio = gaps::filled(&stated, "humidity", Joining::Straight, self.calendar)?;
        let saturated: Vec<f64> = air().map(|(&t, &p)| humidity::saturated_ratio(t, p)).collect();
        let frozen = |h: usize| dry_bulb_c.get(h).is_some_and(|&t| t <= 0.01);
        let above = |h: usize| ratio.get(h) > saturated.get(h);
        report_limits(
            &self.locations(|h| above(h) && frozen(h)),
            &self.locations(|h| above(h) && !frozen(h)),
            findings,
        );
        ratio.iter_mut().zip(&saturated).for_each(|(w, &limit)| *w = w.min(limit));
        Ok(ratio)
    }

    fn locations(&self, wanted: impl Fn(usize) -> bool) -> Vec<Location> {
        let location = |h: usize| Location {
            line: self.rows.get(h).copied().flatten().map(|row| row.line),
            hour: Some(self.calendar.stamp(h)),
        };
        (0..self.rows.len()).filter(|&h| wanted(h)).map(location).collect()
    }
}

fn report_limits(frozen: &[Location], mild: &[Location], findings: &mut Findings) {
    if !frozen.is_empty() {
        let sentence = format!(
            "Above saturation over ice in {} below 0 °C: limited to it.",
            counted(frozen.len(), "hour")
        );
        findings.push(Finding::at(FindingKind::LimitedToIceSaturation, Severity::Note, frozen, sentence));
    }
    if !mild.is_empty() {
        let sentence = format!("Above saturation in {}: limited to it.", counted(mild.len(), "hour"));
        findings.push(Finding::at(FindingKind::LimitedToSaturation, Severity::Warning, mild, sentence));
    }
}

fn report_fillers(table: &Table, findings: &mut Findings) {
    for quantity in Quantity::ALL {
        let places: Vec<Location> =
            table.fillers.iter().filter(|(q, _)| *q == quantity).map(|&(_, place)| place).collect();
        if !places.is_empty() {
            let instead = match quantity {
                Quantity::HumidityRatio | Quantity::DewPoint | Quantity::RelativeHumidity => {
                    "the row's other humidity was used, or the hour interpolated"
                }
                _ => "the hour was interpolated",
            };
            let sentence = format!(
                "No {} in {} (empty or a filler): {instead}.",
                quantity.name(),
                counted(places.len(), "row")
            );
            findings.push(Finding::at(FindingKind::Filler, Severity::Warning, &places, sentence));
        }
    }
}

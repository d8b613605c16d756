//! Charts of climates: what goes into them, and what they share.
//!
//! Read next: `climate_year` (hour by hour), `climate_bins` (dry bulb and humidity together), `climate_duration` (hours above).

use weather::WeatherYear;

use super::{Chart, climate_bins, climate_duration, climate_year};
use crate::climates::titled;
use crate::{Calendar, ReportError, ShowIn};

/// A weather year with the name under which it is drawn.
#[derive(Debug, Clone, Copy)]
pub struct ClimateInput<'a> {
    /// Name, such as `frosthollow.csv`: each file's own.
    pub name: &'a str,
    /// Its hours.
    pub year: &'a WeatherYear,
}

impl ClimateInput<'_> {
    /// Its name, and that of its place where it says something else.
    pub fn title(&self) -> String {
        titled(self.name, &self.year.place.name)
    }

    fn check(&self) -> Result<(), ReportError> {
        let year = self.year;
        Calendar::for_hours(year.hours())?;
        let columns = [
            ("dry bulb", &year.dry_bulb_c, -100.0, 100.0, "°C"),
            ("humidity ratio", &year.humidity_ratio, 0.0, 0.5, "kg/kg"),
            ("pressure", &year.pressure_pa, 40e3, 120e3, "Pa"),
        ];
        for (column, values, low, high, unit) in columns {
            let problem = if values.len() == year.hours() {
                let outside = values.iter().enumerate().find(|(_, value)| !(low..=high).contains(*value));
                outside.map(|(hour, value)| {
                    format!("{value} {unit} in hour {hour} of the year is outside {low} to {high} {unit}")
                })
            } else {
                Some(format!("{} hours where the year has {}", values.len(), year.hours()))
            };
            if let Some(problem) = problem {
                return Err(ReportError::Weather { name: self.name.to_owned(), column, problem });
            }
        }
        Ok(())
    }
}

/// The charts of some climates, drawn side by side.
pub fn all(climates: &[ClimateInput<'_>], show_in: ShowIn) -> Result<Vec<Chart>, ReportError> {
    if climates.is_empty() {
        return Err(ReportError::NoClimate);
    }
    climates.iter().try_for_each(ClimateInput::check)?;
    Ok(vec![
        Chart { file: "climate-year.svg", svg: climate_year::draw(climates, show_in)? },
        Chart { file: "climate-bins.svg", svg: climate_bins::draw(climates, show_in)? },
        Chart { file: "climate-duration.svg", svg: climate_duration::draw(climates, show_in)? },
    ])
}

/// Least and greatest of some values.
pub fn extent<'a>(values: impl Iterator<Item = &'a f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), value| {
        (least.min(*value), most.max(*value))
    })
}

//! What makes the difference between bins and the hourly run, in sentences with its numbers.
//!
//! Not here: tables (`table`).

use super::table::{humidity_digits, signed};
use super::{Apart, BinStudy, Figures, IndoorAir, Printed};
use crate::calendar::MONTHS;
use crate::text_table::number;
use crate::{ReportError, ShowIn};

/// Sentences below the tables of one unit.
///
/// # Errors
/// [`ReportError::TooLarge`] for a figure that is not finite.
pub fn bin_words(study: &BinStudy, show_in: ShowIn) -> Result<Vec<String>, ReportError> {
    let printed = Printed::new(study, show_in)?;
    let said = Said { study, show_in };
    let mut words = vec![
        format!("{}: {}", study.unit, said.house(&printed.house())),
        said.means(&printed),
        said.history(&printed),
    ];
    if study.is_wheel {
        words.push(
            "A wheel has no drain: what it does not give back leaves with the air, in the run as in the bins."
                .to_owned(),
        );
    }
    Ok(words)
}

/// What bins are and leave out, the same for all units.
pub const METHOD: &str = "Every bin is one calculation with the unit's plain core at its rated airflow, in a house that does not \
     answer: no defrost, no preheat, no air led round the core, no free cooling, no filters, no ice from before. Ice that a \
     bin lays down never melts, so it never drains.";

struct Said<'a> {
    study: &'a BinStudy,
    show_in: ShowIn,
}

impl Said<'_> {
    fn humidity(&self, humidity_ratio: f64) -> String {
        let shown = number(self.show_in.humidity_ratio(humidity_ratio), humidity_digits(self.show_in));
        format!("{shown} {}", self.show_in.humidity_ratio_unit())
    }

    fn air(&self, air: &IndoorAir) -> String {
        let t = number(self.show_in.temperature(air.temperature_c), 1);
        format!("{t} {} and {}", self.show_in.temperature_unit(), self.humidity(air.humidity_ratio))
    }

    /// Heat, drain and frost hours of a difference.
    fn change(&self, figures: &Figures) -> String {
        let [sensible, _, drain, _, frost] = figures.map(signed);
        format!(
            "{sensible} kWh sensible, {drain} {} of drain, {frost} h of frost",
            self.show_in.volume_unit()
        )
    }

    /// What bins that are told the house know, and blind ones do not.
    fn house(&self, house: &Figures) -> String {
        let told = &self.study.told_air;
        let months = told.iter().enumerate();
        let by_humidity = |a: &(usize, &IndoorAir), b: &(usize, &IndoorAir)| {
            a.1.humidity_ratio.total_cmp(&b.1.humidity_ratio)
        };
        let words = |month: Option<(usize, &IndoorAir)>| {
            month.map_or(String::new(), |(place, air)| format!("{} in {}", self.air(air), MONTHS[place]))
        };
        let driest = words(months.clone().min_by(by_humidity));
        let dampest = words(months.max_by(by_humidity));
        format!(
            "knowing the house makes {}. Told bins ({} of them, by month) have each month's mean extract air of the run, from \
             {driest} to {dampest}; blind bins ({}, of the whole year) have {} (40 %) all year.",
            self.change(house),
            self.study.told_bins,
            self.study.rows.len(),
            self.air(&self.study.blind_air),
        )
    }

    /// Storage and time of day.
    fn means(&self, printed: &Printed) -> String {
        let humidity = &self.study.indoor_humidity;
        let off = |variance: f64| self.humidity(variance.sqrt());
        let difference_unit = if self.show_in == ShowIn::Si { "K" } else { "°F" };
        let warmth = number(self.show_in.difference(self.study.indoor_temperature.whole().sqrt()), 1);
        let scale = self.show_in.humidity_ratio(1.0);
        let square = |variance: f64| number(variance * scale * scale, 3);
        format!(
            "Storage and time of day: about its month's mean, the run's extract air has a standard deviation of {} and \
             {warmth} {difference_unit}. Its humidity's variance of {} ({})² is {} within bins, by showers, cooking and what \
             furnishings hold, and {} between the bins of a month, by the weather. The same core, hour by hour, at the run's \
             own indoor air, without history, moves the told bins by {}: so much of what lies between them and the run \
             ({}) vanishes.",
            off(humidity.whole()),
            square(humidity.whole()),
            self.show_in.humidity_ratio_unit(),
            square(humidity.within),
            square(humidity.between),
            self.change(&printed.means()),
            self.change(&printed.between(super::Method::Hourly, super::Method::Told)),
        )
    }

    /// What no bin and no single hour knows.
    fn history(&self, printed: &Printed) -> String {
        let (study, ran) = (self.study, &self.study.ran);
        let mut clauses = Vec::new();
        let melted = self.show_in.mass(ran.ice_melted_kg);
        if melted >= 0.0005 {
            clauses.push(format!(
                "{} {} of ice melted in the run, in later hours and into its drain",
                number(melted, 3),
                self.show_in.mass_unit()
            ));
        }
        for (hours, what) in [(ran.defrost_h, "of defrost"), (ran.blocked_h, "blocked by ice")] {
            if hours >= 0.5 {
                clauses.push(format!("{} h {what}", number(hours, 0)));
            }
        }
        let kept = study.apart[Apart::Kept as usize].0;
        if kept > 0 {
            clauses.push(format!("{kept} h with preheat or air led round the core"));
        }
        if (ran.airflow_share - 1.0).abs() >= 0.0005 {
            clauses.push(format!(
                "{} % of the rated airflow over the year",
                number(100.0 * ran.airflow_share, 1)
            ));
        }
        let why = if clauses.is_empty() {
            "no ice, no defrost, no preheat, the rated airflow all year".to_owned()
        } else {
            clauses.join("; ")
        };
        format!("History and control make the other {}: {why}.", self.change(&printed.history()))
    }
}

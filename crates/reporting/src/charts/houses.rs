//! Which houses are drawn beside one another: every unit, and the no-recovery houses that differ.
//!
//! Units that deliver the same outdoor air have the same house without recovery: it is drawn once.

use simulation::results::{Case, HouseYear};

use super::Drawn;
use super::canvas::Stroke;
use super::panel::count;
use super::style::{Fill, INK, QUIET, SLATE, UnitLook, unit_look};

/// No-recovery houses whose means of seven days stay this close all year are one: relative humidity \[fraction\], supply
/// air \[K\].
const SAME_HUMIDITY: f64 = 0.01;
const SAME_K: f64 = 0.5;
const DAYS: usize = 7;

/// A house with its name and look.
pub struct House<'a> {
    pub name: String,
    pub year: &'a HouseYear,
    pub look: UnitLook,
}

impl House<'_> {
    pub fn stroke(&self) -> Stroke {
        self.look.into()
    }
}

/// Units in the study's order, then no recovery, then, where it is asked for, no ventilation.
pub fn houses<'a>(drawn: &Drawn<'a>, with_no_ventilation: bool) -> Vec<House<'a>> {
    let unit = |(place, year): (usize, &&'a HouseYear)| House {
        name: year.unit.clone(),
        year,
        look: unit_look(place),
    };
    let mut houses: Vec<House<'a>> = drawn.units.iter().enumerate().map(unit).collect();
    let mut apart: Vec<&'a HouseYear> = Vec::new();
    for year in drawn.baselines.iter().filter(|year| year.case == Case::NoRecovery) {
        if !apart.iter().any(|other| same(drawn, other, year)) {
            apart.push(year);
        }
    }
    let is_one = apart.len() == 1;
    for (place, year) in apart.into_iter().enumerate() {
        let bare = drawn.words.text("chart.no_recovery");
        let name = if is_one { bare } else { format!("{bare} ({})", year.unit) };
        houses.push(House { name, year, look: no_recovery_look(place) });
    }
    let alone = drawn.baselines.iter().filter(|year| with_no_ventilation && year.case == Case::NoVentilation);
    let look = UnitLook { colour: QUIET, width: 0.75, dash: None, fill: Fill::Open };
    houses.extend(alone.map(|year| House { name: drawn.words.text("chart.no_ventilation"), year, look }));
    houses
}

fn no_recovery_look(place: usize) -> UnitLook {
    const DASHES: [(i32, i32); 4] = [(4, 5), (1, 3), (9, 5), (2, 7)];
    let (colour, fill) = if place.is_multiple_of(2) { (INK, Fill::Pale) } else { (SLATE, Fill::Striped) };
    UnitLook { colour, width: 1.0, dash: Some(DASHES[place % DASHES.len()]), fill }
}

fn same(drawn: &Drawn<'_>, a: &HouseYear, b: &HouseYear) -> bool {
    let close = |a: &[f64], b: &[f64], most: f64| {
        let (a, b) = (drawn.days(a), drawn.days(b));
        let gaps: Vec<f64> = a.iter().zip(&b).map(|(a, b)| a.mean - b.mean).collect();
        gaps.windows(DAYS).all(|gaps| gaps.iter().sum::<f64>().abs() <= most * count(DAYS))
    };
    close(&a.hourly.relative_humidity, &b.hourly.relative_humidity, SAME_HUMIDITY)
        && close(&a.hourly.supply_c, &b.hourly.supply_c, SAME_K)
}

//! House, climate, airflow and units as they were understood, in SI: what the manifest keeps and the report prints.
//!
//! Not here: how the report words it (crate `report`), inputs and defaults themselves (`run`).

use reporting::manifest::{Fact, Told};
use reporting::{Figure, FitReport, RunSummary};
use simulation::results::HouseYear;
use study::{AirLeakage, Performance, Unit};

use crate::run::Prepared;

const DAYS: f64 = 365.0;
const SECONDS_PER_DAY: f64 = 86_400.0;
const SECONDS_PER_HOUR: f64 = 3600.0;
const LITRES_PER_CUBIC_METRE: f64 = 1000.0;
/// Unit of a flow of air.
const FLOW: &str = "L/s";
/// Unit of a share of 1.
const SHARE: &str = "share";

/// The facts, one after the other.
#[derive(Default)]
struct Facts(Vec<Fact>);

impl Facts {
    fn number(&mut self, key: impl Into<String>, value: f64, unit: &'static str) {
        self.0.push(Fact { key: key.into(), value: Told::Number(value), unit });
    }

    fn flow(&mut self, key: impl Into<String>, m3_per_s: f64) {
        self.number(key, m3_per_s * LITRES_PER_CUBIC_METRE, FLOW);
    }

    fn words(&mut self, key: impl Into<String>, words: &str) {
        self.0.push(Fact { key: key.into(), value: Told::Words(words.to_owned()), unit: "" });
    }
}

/// All of it.
pub(crate) fn of(
    prepared: &Prepared,
    years: &[HouseYear],
    (summary, fits): (&RunSummary, &[FitReport]),
) -> Vec<Fact> {
    let mut facts = Facts::default();
    facts.number("study.units", prepared.study.units.len() as f64, "");
    house(&mut facts, prepared, summary);
    site(&mut facts, prepared, years);
    airflow(&mut facts, prepared);
    for unit in &prepared.study.units {
        of_unit(&mut facts, prepared, unit);
    }
    for fit in fits {
        rated(&mut facts, fit);
    }
    facts.0
}

fn house(facts: &mut Facts, prepared: &Prepared, summary: &RunSummary) {
    let house = &prepared.study.house;
    facts.number("house.floor_area", house.floor_area_m2, "m2");
    facts.number("house.volume", house.volume_m3(), "m3");
    facts.number("house.bedrooms", f64::from(house.bedrooms), "");
    facts.number("house.people.count", f64::from(house.people.count), "");
    facts.number("house.heat_loss", house.heat_loss_w_per_k, "W/K");
    facts.number("house.window_area", house.windows.iter().map(|window| window.area_m2).sum(), "m2");
    match house.air_leakage {
        AirLeakage::Constant { m3_per_s } => facts.flow("house.air_leakage", m3_per_s),
        AirLeakage::Tested(test) => {
            let changes = test.flow_m3_per_s * SECONDS_PER_HOUR / house.volume_m3();
            facts.number("house.air_leakage.changes", changes, "1/h");
            facts.number("house.air_leakage.pressure", test.pressure_pa, "Pa");
        }
    }
    facts.number("house.heating.set_point", house.heating.set_point_c, "°C");
    if let Some(cooling) = &house.cooling {
        facts.number("house.cooling.set_point", cooling.set_point_c, "°C");
    }
    let water = summary.rows.first().and_then(|row| row.year(Figure::MoistureSourcesL).value());
    facts.number("house.water", water.unwrap_or(0.0) / DAYS, "kg/d");
}

fn site(facts: &mut Facts, prepared: &Prepared, years: &[HouseYear]) {
    let place = &prepared.year.place;
    facts.words("site.place", &place.name);
    facts.words("site.weather", &prepared.study.site.weather);
    facts.number("site.latitude", place.latitude_deg, "deg");
    facts.number("site.longitude", place.longitude_deg, "deg");
    facts.number("site.elevation", place.elevation_m, "m");
    let outdoor = years.first().map_or(&[][..], |year| &year.hourly.outdoor_c);
    if !outdoor.is_empty() {
        let mean = outdoor.iter().sum::<f64>() / outdoor.len() as f64;
        facts.number("site.outdoor_least", outdoor.iter().copied().fold(f64::INFINITY, f64::min), "°C");
        facts.number("site.outdoor_mean", mean, "°C");
        facts.number("site.outdoor_most", outdoor.iter().copied().fold(f64::NEG_INFINITY, f64::max), "°C");
    }
}

fn airflow(facts: &mut Facts, prepared: &Prepared) {
    let built = &prepared.built;
    facts.words("airflow.standard", built.requirement.standard);
    facts.flow("airflow.asked", built.requirement.airflow_m3_per_s);
    facts.flow("airflow.run", built.airflow_m3_per_s);
    for (at, step) in built.requirement.steps.iter().enumerate() {
        let key = |part: &str| format!("airflow.step.{}.{part}", at + 1);
        facts.words(key("what"), &step.what);
        facts.words(key("value"), &step.value);
        facts.words(key("source"), step.source);
    }
    let ventilation = &prepared.study.ventilation;
    let (from, to) = (ventilation.extract_from, ventilation.supply_to);
    facts.number("ventilation.extract_from.wet_rooms", from.wet_rooms, SHARE);
    facts.number("ventilation.extract_from.return_duct", from.return_duct, SHARE);
    facts.number("ventilation.supply_to.rooms", to.rooms, SHARE);
    facts.number("ventilation.supply_to.return_duct", to.return_duct, SHARE);
}

fn of_unit(facts: &mut Facts, prepared: &Prepared, unit: &Unit) {
    let key = |part: &str| format!("unit.{}.{part}", unit.name);
    let flow = prepared.built.airflow_m3_per_s;
    facts.flow(key("supply"), flow);
    facts.flow(key("extract"), flow * unit.balance);
    facts.number(key("balance"), unit.balance, "");
    match &unit.performance {
        Performance::Conductance { ua_w_per_k, at_m3_per_s, .. } => {
            facts.number(key("conductance.ua"), *ua_w_per_k, "W/K");
            facts.flow(key("conductance.at"), *at_m3_per_s);
        }
        Performance::Effectiveness { sensible, at_m3_per_s, .. } => {
            facts.number(key("effectiveness.sensible"), *sensible, SHARE);
            facts.flow(key("effectiveness.at"), *at_m3_per_s);
        }
        Performance::EffectivenessTable(points) => {
            facts.number(key("effectiveness.points"), points.len() as f64, "");
        }
        Performance::Ratings(points) => {
            facts.number(key("rating.points"), points.len() as f64, "");
            for (at, point) in points.iter().enumerate() {
                facts.number(key(&format!("rating.{}.power", at + 1)), point.power_w, "W");
            }
        }
        Performance::Geometry(_) => {}
    }
    if let Some(price) = unit.cost.price {
        facts.number(key("price"), price, "money");
    }
    if let Some(filter) = unit.filter {
        facts.number(key("filter.interval"), filter.interval_s / SECONDS_PER_DAY, "d");
    }
    if let Some(upkeep) = unit.upkeep {
        facts.number(key("upkeep.drying"), upkeep.drying_s / SECONDS_PER_HOUR, "h");
    }
}

/// Every test point, and the core that was fitted.
fn rated(facts: &mut Facts, fit: &FitReport) {
    for (at, point) in fit.points.iter().enumerate() {
        let key = |part: &str| format!("unit.{}.rating.{}.{part}", fit.unit, at + 1);
        facts.words(key("standard"), &point.standard);
        facts.number(key("outdoor"), point.outdoor_c, "°C");
        facts.number(key("airflow"), point.airflow_l_per_s, FLOW);
        for figure in &point.figures {
            facts.number(key(&format!("{}.stated", figure.key)), figure.stated, SHARE);
            facts.number(key(&format!("{}.fitted", figure.key)), figure.fitted, SHARE);
            facts.number(key(&format!("{}.error", figure.key)), figure.fitted - figure.stated, SHARE);
        }
    }
    let key = |part: &str| format!("unit.{}.fitted.{part}", fit.unit);
    facts.number(key("ua"), fit.ua_w_per_k, "W/K");
    facts.number(key("at"), fit.rated_l_per_s, FLOW);
    if let Some(vapour) = fit.vapour_kg_per_s {
        facts.number(key("vapour"), vapour, "kg/s");
    }
    let exponent = match fit.flow_exponent {
        reporting::FlowExponent::Fitted(value) | reporting::FlowExponent::Assumed { value, .. } => value,
    };
    let leakage = match fit.cross_leakage {
        reporting::CrossLeakage::Given(share)
        | reporting::CrossLeakage::Fitted(share)
        | reporting::CrossLeakage::Assumed(share) => share,
    };
    facts.number(key("flow_exponent"), exponent, "");
    facts.number(key("cross_leakage"), leakage, SHARE);
}

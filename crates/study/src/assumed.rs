//! What a run assumes that no key of a study changes, for the list of defaults.
//!
//! Not here: defaults of keys (`read`), which the study itself lists.

use crate::build::SENSIBLE_SHARE;
use crate::frost_plan::{CORE_J_PER_M2K, CORE_SHARE, GAP_M, PLATE_W_PER_M2K};
use crate::model;
use crate::site::{PERSON_CO2_M3_PER_S, ground_wave};
use crate::sized::NTU_FLOW_EXPONENT;

/// What a run of this study assumes that no key changes.
pub fn assumptions(study: &model::Study) -> Vec<model::DefaultUsed> {
    let assumed = |path: &str, value: String, why| model::DefaultUsed { path: path.to_owned(), value, why };
    let mut all = vec![
        assumed(
            "unit.frost.plates",
            format!(
                "1 m² for each {PLATE_W_PER_M2K} W/K, {} mm apart, {CORE_J_PER_M2K} J/K for each m² where no heat capacity is given",
                GAP_M * 1e3
            ),
            "assumed: where frost lies, how it narrows the passages, and what warming the core takes",
        ),
        assumed(
            "unit.flow_exponent",
            format!("{NTU_FLOW_EXPONENT}"),
            "common practice, no published source: NTU falls with flow to this power (0.7 to 1.0 is met)",
        ),
        assumed(
            "house.moisture.profiles",
            "showers 06:45, 07:15, 07:45, 21:45; cooking 07:00, 12:00, 18:00; laundry 18:00 to 24:00"
                .to_owned(),
            "assumed: no standard fixes a household's hours",
        ),
    ];
    let (follows, days) = ground_wave(study.house.foundation);
    all.push(assumed(
        "house.ground_temperature",
        format!("the outdoor year's mean, with {follows} of its wave {days} days late"),
        "assumed: the ground below a floor follows the year late and damped",
    ));
    all.push(assumed(
        "house.people.carbon_dioxide",
        format!("{} L/s a person at home", PERSON_CO2_M3_PER_S * 1e3),
        "a person between rest and light work; Persily and de Jonge 2017, recalled",
    ));
    if study.house.range_hood_m3_per_s > 0.0 || study.house.dryer_m3_per_s > 0.0 {
        all.push(assumed(
            "house.appliances",
            "the hood runs 15 min from 7:00, 30 min from 12:00, 45 min from 18:00; the dryer 45 min from 19:00".to_owned(),
            "assumed, with the hours of cooking",
        ));
    }
    if study.house.cooling.as_ref().is_some_and(|cooling| cooling.capacity_w.is_some()) {
        all.push(assumed(
            "house.cooling.sensible_share",
            format!("{SENSIBLE_SHARE}"),
            "assumed: the part of the cooling's capacity that is sensible",
        ));
    }
    if study.units.iter().any(|unit| unit.location != model::UnitLocation::HeatedRoom) {
        all.push(assumed(
            "unit.location",
            "as cold as outdoors: cellar 0.4, garage 0.8, attic 0.9 of the way from the rooms".to_owned(),
            "assumed: where warm ducts lose heat to",
        ));
    }
    if study.units.iter().any(|unit| unit.fan.kind == model::FanKind::ConstantFlow) {
        all.push(assumed(
            "unit.fan.core_share",
            format!("{CORE_SHARE}"),
            "assumed: the core's share of the pressure of a fan that holds its flow, at twice its power at most",
        ));
    }
    all.extend(crate::indoors::assumptions(study));
    all
}

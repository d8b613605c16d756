//! How much outdoor air the study's standard asks for, and what infiltration is credited with over its weather year.
//!
//! Not here: the standards themselves (`simulation::requirement`, `simulation::credit`).

use simulation::credit::{Dwelling, Edition, Infiltration, effective_annual_m3_per_s, with_credit};
use simulation::requirement::{
    Basement, Category, FansOf, Form, Requirement, Rooms, by_category, by_floor_and_people, by_rooms,
};
use weather::WeatherYear;

use crate::build::BuildError;
use crate::model::{self, AirflowRule, InfiltrationCredit, StandardForm};
use crate::site::natural;

/// Outdoor air that is required: by the study's rule, or for a stated flow by floor area and bedrooms.
///
/// # Errors
/// [`BuildError`] for numbers outside a standard's range.
pub(crate) fn requirement(study: &model::Study, year: &WeatherYear) -> Result<Requirement, BuildError> {
    let house = &study.house;
    let by_floor =
        |form| by_floor_and_people(house.floor_area_m2, house.bedrooms.max(1), house.people.count, form);
    match study.ventilation.rule {
        AirflowRule::Stated => Ok(by_floor(Form::Si)?),
        AirflowRule::ByStandard { form, credit: InfiltrationCredit::None } => Ok(by_floor(of_form(form))?),
        AirflowRule::ByStandard { form, credit: InfiltrationCredit::Taken } => {
            credited(study, year, of_form(form))
        }
        AirflowRule::ByRooms => Ok(by_rooms(&rooms(house))?),
        AirflowRule::ByCategory(category) => {
            Ok(by_category(of_category(category), house.floor_area_m2, house.people.count.max(1))?)
        }
    }
}

fn of_form(form: StandardForm) -> Form {
    match form {
        StandardForm::Si => Form::Si,
        StandardForm::Ip => Form::Ip,
    }
}

fn of_category(category: model::AirCategory) -> Category {
    match category {
        model::AirCategory::I => Category::I,
        model::AirCategory::II => Category::II,
        model::AirCategory::III => Category::III,
        model::AirCategory::IV => Category::IV,
    }
}

fn rooms(house: &model::House) -> Rooms {
    let counted = house.rooms.as_ref();
    let of = |count: fn(&model::Rooms) -> u32| counted.map_or(0, count);
    Rooms {
        bedrooms: house.bedrooms,
        living: of(|rooms| rooms.living),
        kitchens: of(|rooms| rooms.kitchen),
        bathrooms: of(|rooms| rooms.bathrooms),
        utility: 0,
        other: of(|rooms| rooms.other),
        basement: match counted.map(|rooms| rooms.basement) {
            None | Some(model::BasementUse::None) => Basement::None,
            Some(model::BasementUse::Divided) => Basement::Part,
            Some(model::BasementUse::Undivided) => Basement::Whole,
        },
    }
}

/// Total rate less the effective infiltration of this house in this very year, at the heating set-point indoors.
fn credited(study: &model::Study, year: &WeatherYear, form: Form) -> Result<Requirement, BuildError> {
    let house = &study.house;
    let (bedrooms, known_people) = (house.bedrooms.max(1), house.people.count);
    let dwelling = Dwelling { floor_m2: house.floor_area_m2, bedrooms, known_people, form };
    let Some(natural) = natural(study, year)? else {
        return Ok(by_floor_and_people(dwelling.floor_m2, bedrooms, known_people, form)?);
    };
    let indoor_c = house.heating.set_point_c;
    let hourly: Vec<f64> = year
        .dry_bulb_c
        .iter()
        .zip(&year.wind_speed_m_per_s)
        .map(|(outdoor_c, wind)| natural.flow_m3_per_s(indoor_c - outdoor_c, *wind))
        .collect();
    let effective = effective_annual_m3_per_s(&hourly, house.volume_m3())?;
    let balanced = study.units.iter().all(|unit| (unit.balance - 1.0).abs() < 0.1);
    let fans = if balanced { FansOf::Balanced } else { FansOf::Unbalanced };
    let edition = Edition::Since2016 { fans, exterior_share: 1.0 };
    Ok(with_credit(&dwelling, &Infiltration::ByHours { m3_per_s: effective }, edition)?)
}

/// The study with the airflow that its rule asks for, after what infiltration is credited with; 2 L/s at least.
pub(crate) fn with_rule_followed(study: &model::Study, required: &Requirement) -> model::Study {
    const LEAST_M3_PER_S: f64 = 0.002;
    let mut study = study.clone();
    if study.ventilation.rule != AirflowRule::Stated {
        study.ventilation.airflow_m3_per_s = required.airflow_m3_per_s.max(LEAST_M3_PER_S);
    }
    study
}

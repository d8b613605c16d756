//! What a study may say that no run follows yet.
//!
//! Here: the one place that refuses it, so that nothing is left out silently. Not here: reading (`read`).

use crate::model::{AirflowRule, ControlMode, Foundation, InfiltrationCredit, Study, Unit, UnitLocation};

/// The path of the first key that no run follows yet; `None` where all are.
pub(crate) fn first_not_run(study: &Study) -> Option<String> {
    let units = study.units.iter().flat_map(of_unit);
    of_house(study).into_iter().chain(units).find_map(|(path, is_said)| is_said.then_some(path))
}

fn of_house(study: &Study) -> Vec<(String, bool)> {
    let house = &study.house;
    let cooling = house.cooling.as_ref();
    let (ducts, control) = (study.ventilation.ducts, &study.ventilation.control);
    let is_open = |path: &str| study.defaults_used.iter().any(|used| used.path == path);
    let ground = !is_open("house.ground_loss") && house.ground_loss_w_per_k > 0.0;
    let has_credit =
        matches!(study.ventilation.rule, AirflowRule::ByStandard { credit: InfiltrationCredit::Taken, .. });
    let said = [
        ("house.foundation", house.foundation != Foundation::Slab),
        ("house.ground_loss", house.envelope.is_empty() && ground),
        ("house.envelope.to", !house.envelope.is_empty() && ground),
        ("house.heating.capacity", house.heating.capacity_w.is_some()),
        ("house.heating.set_back", house.heating.set_back.is_some()),
        ("house.cooling.capacity", cooling.is_some_and(|cooling| cooling.capacity_w.is_some())),
        ("house.cooling.set_up", cooling.is_some_and(|cooling| cooling.set_up.is_some())),
        ("house.airing", house.airing.is_some()),
        ("house.bedroom", house.bedroom.is_some()),
        ("ventilation.infiltration_credit", has_credit),
        ("ventilation.control.mode", control.mode != ControlMode::Continuous),
        ("ventilation.control.boost", control.boost.is_some()),
        ("ventilation.control.away", control.away.is_some()),
        ("ventilation.blower", study.ventilation.blower.is_some()),
        ("ventilation.ducts.cold_indoors", ducts.cold_indoors_w_per_k > 0.0),
        ("ventilation.ducts.warm_outdoors", ducts.warm_outdoors_w_per_k > 0.0),
    ];
    said.into_iter().map(|(path, is_said)| (path.to_owned(), is_said)).collect()
}

fn of_unit(unit: &Unit) -> Vec<(String, bool)> {
    vec![(format!("unit.{}.location", unit.name), unit.location != UnitLocation::HeatedRoom)]
}

//! From what a study says of glass, humidifiers, the blower and a bedroom to the numbers that the simulation runs.
//!
//! Not here: the rest of the house (`build`), what any of it does (`simulation`).

use simulation::damage::Corner;
use simulation::mould::{Decline, MouldNumbers, Sensitivity};
use simulation::{Indoors, IndoorsNumbers, MAX_PANES, PaneNumbers};

use crate::build::SENSIBLE_SHARE;
use crate::model;

/// Heat of a heating whose capacity is not given, while its burner runs [W/m² of floor]: assumed.
pub(crate) const HEATING_W_PER_M2: f64 = 65.0;
/// Sensible heat of a cooling whose capacity is not given, while its compressor runs [W/m² of floor]: assumed.
pub(crate) const COOLING_W_PER_M2: f64 = 30.0;
const HOUR_S: f64 = 3600.0;

pub(crate) fn indoors(study: &model::Study, density: f64) -> Indoors {
    Indoors { numbers: numbers(study, density), panes: panes(&study.house.windows) }
}

/// The cold corner, with a fall of the index that suits its material.
pub(crate) fn corner(corner: &model::ColdCorner) -> Corner {
    let (sensitivity, decline) = match corner.material {
        model::Material::VerySensitive => (Sensitivity::VerySensitive, Decline::Strong),
        model::Material::Sensitive => (Sensitivity::Sensitive, Decline::Significant),
        model::Material::MediumResistant => (Sensitivity::MediumResistant, Decline::Low),
        model::Material::Resistant => (Sensitivity::Resistant, Decline::AlmostNone),
    };
    Corner { temperature_factor: corner.temperature_factor, class: MouldNumbers::of(sensitivity, decline) }
}

fn numbers(study: &model::Study, density: f64) -> IndoorsNumbers<f64> {
    let (house, ventilation) = (&study.house, &study.ventilation);
    let blower = ventilation.blower;
    let runs = |when: model::BlowerRuns| blower.is_some_and(|blower| blower.runs == when);
    let blows_on = runs(model::BlowerRuns::Always) || runs(model::BlowerRuns::WithUnit);
    let cooling = house.cooling.as_ref();
    let re_evaporates = cooling.and_then(|cooling| cooling.re_evaporation).unwrap_or(blows_on);
    // Where no blower is told of, something else is taken to carry the air; the run says so.
    let short = match blower {
        Some(_) => ventilation.extract_from.return_duct.min(ventilation.supply_to.return_duct),
        None => 0.0,
    };
    let moisture = &house.moisture;
    let some = |is: bool| if is { 1.0 } else { 0.0 };
    let mut numbers = IndoorsNumbers {
        drying_kg_per_s: moisture.new_building_kg_per_s,
        drying_per_h: core::f64::consts::LN_2 * HOUR_S / moisture.new_building_halves_s,
        blower_w: blower.map_or(0.0, |blower| blower.power_w),
        blower_always: some(runs(model::BlowerRuns::Always)),
        blower_with_unit: some(runs(model::BlowerRuns::WithUnit)),
        heating_w: house.heating.capacity_w.unwrap_or(HEATING_W_PER_M2 * house.floor_area_m2),
        cooling_w: cooling
            .and_then(|cooling| cooling.capacity_w)
            .map_or(COOLING_W_PER_M2 * house.floor_area_m2, |capacity_w| capacity_w * SENSIBLE_SHARE),
        re_evaporates: some(re_evaporates),
        through_return_duct: short,
        ..IndoorsNumbers::NONE
    };
    if let Some(humidifier) = house.humidifier {
        numbers.humidify_to = humidifier.target;
        numbers.humidifier_kg_per_s = humidifier.capacity_kg_per_s;
        numbers.humidifier_steam = some(humidifier.kind == model::HumidifierKind::Steam);
    }
    if let Some(dehumidifier) = house.dehumidifier {
        numbers.dry_to = dehumidifier.target;
        numbers.dehumidifier_kg_per_s = dehumidifier.capacity_kg_per_s;
        numbers.dehumidifier_j_per_kg = 1.0 / dehumidifier.water_kg_per_j;
    }
    if let Some(bedroom) = house.bedroom {
        numbers.sleepers = f64::from(bedroom.people);
        numbers.bedroom_air_kg = bedroom.volume_m3 * density;
        numbers.bedroom_supply_share = bedroom.supply_share;
        numbers.bedroom_from_h = f64::from(bedroom.hours.from_h);
        numbers.bedroom_to_h = f64::from(bedroom.hours.to_h);
    }
    numbers
}

/// Windows by kind of glass; where there are more kinds than there is room for, the two of nearest transmittance become one.
fn panes(windows: &[model::Window]) -> [PaneNumbers<f64>; MAX_PANES] {
    let mut kinds: Vec<(f64, f64, f64)> = Vec::new();
    for window in windows {
        match kinds.iter_mut().find(|(_, u, edge)| (*u, *edge) == (window.u_w_per_m2k, window.edge_factor)) {
            Some((area, ..)) => *area += window.area_m2,
            None => kinds.push((window.area_m2, window.u_w_per_m2k, window.edge_factor)),
        }
    }
    kinds.sort_by(|a, b| a.1.total_cmp(&b.1));
    while kinds.len() > MAX_PANES {
        let gap = |k: &usize| kinds[*k + 1].1 - kinds[*k].1;
        let nearest = (0..kinds.len() - 1).min_by(|a, b| gap(a).total_cmp(&gap(b))).unwrap_or(0);
        let (one, other) = (kinds[nearest], kinds.remove(nearest + 1));
        let area = one.0 + other.0;
        let mean = |a: f64, b: f64| (a * one.0 + b * other.0) / area;
        kinds[nearest] = (area, mean(one.1, other.1), mean(one.2, other.2));
    }
    let mut panes = [PaneNumbers::NONE; MAX_PANES];
    for (pane, (area_m2, u, edge)) in panes.iter_mut().zip(kinds) {
        *pane = PaneNumbers::new(area_m2, u, edge);
    }
    panes
}

/// What a run assumes of these that no key changes.
pub(crate) fn assumptions(study: &model::Study) -> Vec<model::DefaultUsed> {
    let assumed = |path: &str, value: String, why| model::DefaultUsed { path: path.to_owned(), value, why };
    let house = &study.house;
    let mut all = Vec::new();
    if !house.windows.is_empty() {
        all.push(assumed(
            "house.window.sweat",
            "3 W/m²K from air to glass, a fifth of it edge, 50 g/m² held; all glass outside the wet rooms"
                .to_owned(),
            "assumed: how windows sweat and dry",
        ));
    }
    if study.ventilation.blower.is_some() {
        let given = house.heating.capacity_w.is_some();
        let heating =
            if given { String::new() } else { format!("heating of {HEATING_W_PER_M2} W/m² of floor, ") };
        all.push(assumed(
            "ventilation.blower.runs",
            format!(
                "{heating}cooling of {COOLING_W_PER_M2} W/m² where no capacity is given; air between rooms ten times as much while it runs"
            ),
            "assumed: what makes a load a share of the hour, and how the blower mixes the rooms",
        ));
    }
    if house.bedroom.is_some() {
        all.push(assumed(
            "house.bedroom.door",
            "2 L/s round the closed door; someone asleep gives 0.79 of what someone awake does".to_owned(),
            "assumed; Persily and de Jonge 2017, recalled",
        ));
    }
    all
}

//! What a run says of the house: air that is required, and pressure beside appliances that burn.
//!
//! Not here: what it says of the units (`reporting::notes`).

use reporting::{Figure, RunSummary, ShowIn};
use simulation::depressurisation::{CAUTION, Standing, house_pressure_pa, judged};
use simulation::moisture_sources::design_generation;
use simulation::results::Case;
use study::build::Built;
use study::{BlowerRuns, FrostStrategy, Study, Unit};

use crate::run::show_in;

/// Sentences below the table.
pub(crate) fn of(study: &Study, built: &Built, summary: &RunSummary) -> Vec<String> {
    let mut notes = vec![required(study, built, summary)];
    notes.extend(water(study, summary));
    notes.extend(coarse(study));
    notes.extend(return_duct(study));
    notes.extend(pressure(study, built));
    notes
}

fn flow(study: &Study, m3_per_s: f64) -> String {
    match show_in(study) {
        ShowIn::Si => format!("{:.1} L/s", m3_per_s * 1e3),
        ShowIn::Ip => format!("{:.0} cfm", m3_per_s / 0.000_471_947_443_2),
    }
}

fn required(study: &Study, built: &Built, summary: &RunSummary) -> String {
    let required = &built.requirement;
    let reasons: Vec<String> =
        required.steps.iter().map(|step| format!("{} {}", step.what, step.value)).collect();
    let short: Vec<String> = summary
        .rows
        .iter()
        .filter(|row| row.case == Case::Unit)
        .filter_map(|row| {
            let hours = row.year(Figure::AirShortH).value().filter(|hours| *hours > 0.0)?;
            Some(format!("{} is short of it in {hours:.0} h", row.unit))
        })
        .collect();
    let short = if short.is_empty() { String::new() } else { format!("; {}", short.join(", ")) };
    format!(
        "Outdoor air: {} asks for {} ({}); the units are rated for {}{short}.",
        required.standard,
        flow(study, required.airflow_m3_per_s),
        reasons.join("; "),
        flow(study, built.airflow_m3_per_s),
    )
}

/// Water of the household beside a design value for a dwelling of its size.
fn water(study: &Study, summary: &RunSummary) -> Option<String> {
    const DAYS: f64 = 365.0;
    let litres = summary.rows.first()?.year(Figure::MoistureSourcesL).value()?;
    let design = design_generation(study.house.bedrooms).ok()?;
    Some(format!(
        "Water in the rooms: {:.1} kg/day from {}; ASHRAE 160-2009 designs for {} kg/day \
         with {} people (recalled; later measurements are lower).",
        litres / DAYS,
        if study.house.moisture.new_building_kg_per_s > 0.0 {
            "people, showers, cooking, laundry, plants and a new building"
        } else {
            "people, showers, cooking, laundry and plants"
        },
        design.kg_per_day,
        design.occupants
    ))
}

/// What a long step hides.
fn coarse(study: &Study) -> Option<String> {
    let wets = study.house.moisture.showers_kg_per_s + study.house.moisture.cooking_kg_per_s > 0.0;
    (wets && study.time_step.steps_per_hour() == 1).then(|| {
        "Time step 1 h: showers and cooking are spread over their hour, so peaks of humidity after them come out lower and later; \
         time_step = \"15 min\" shows more of them."
            .to_owned()
    })
}

/// Air that comes by the return duct and is taken from it needs something that carries it to the rooms.
fn return_duct(study: &Study) -> Option<String> {
    let ventilation = &study.ventilation;
    let share = ventilation.extract_from.return_duct.min(ventilation.supply_to.return_duct);
    if share <= 0.0 {
        return None;
    }
    let percent = 100.0 * share;
    match ventilation.blower.map(|blower| blower.runs) {
        None => Some(format!(
            "Warning: {percent:.0} % of the air is brought to the return duct and taken from it, and no `[ventilation.blower]` carries it: it is \
             taken to reach the rooms all the same, and no electricity is counted for that."
        )),
        Some(BlowerRuns::WithHeating) => Some(format!(
            "Warning: {percent:.0} % of the air goes in a circle while the blower rests (runs = \"with-heating\"); it counts as missed, and holding \
             outdoor air does not make it up."
        )),
        Some(BlowerRuns::Always | BlowerRuns::WithUnit) => None,
    }
}

/// The greatest depressurisation that fans can cause, where a pressure test tells how tight the house is.
fn pressure(study: &Study, built: &Built) -> Vec<String> {
    let Ok(Some(leakage)) = study::build::leakage(study) else { return Vec::new() };
    let house = &study.house;
    let appliances = house.range_hood_m3_per_s.max(house.dryer_m3_per_s);
    let worst = study.units.iter().map(|unit| {
        let (supply, extract) = phases(unit, built.airflow_m3_per_s);
        (extract + appliances - supply, unit, supply, extract + appliances)
    });
    let Some((net, unit, supply, exhaust)) = worst.max_by(|a, b| a.0.total_cmp(&b.0)) else {
        return Vec::new();
    };
    if net <= 0.0 {
        return Vec::new();
    }
    let Ok(pressure_pa) = house_pressure_pa(&leakage, supply, exhaust) else {
        return vec![format!(
            "Depressurisation: {} more is drawn out than brought in, more than this house can leak. {CAUTION}",
            flow(study, net)
        )];
    };
    let beyond: Vec<String> = judged(pressure_pa)
        .iter()
        .filter(|judged| judged.standing == Standing::Beyond)
        .map(|judged| format!("{} ({} Pa)", judged.appliance.words(), judged.limit_pa))
        .collect();
    let verdict = if beyond.is_empty() {
        "within what appliances that burn are commonly held to stand (2 Pa and more).".to_owned()
    } else {
        format!("beyond what {} is commonly held to stand. {CAUTION}", beyond.join(", "))
    };
    vec![format!(
        "Depressurisation: with {} the fans can draw out {} more than they bring in: {:.1} Pa, {verdict} Local codes rule.",
        unit.name,
        flow(study, net),
        -pressure_pa
    )]
}

/// Supply and extract of a unit's worst phase [m³/s].
fn phases(unit: &Unit, airflow_m3_per_s: f64) -> (f64, f64) {
    let extract = airflow_m3_per_s * unit.balance;
    match unit.frost.strategy {
        FrostStrategy::SupplyOff { .. } => (0.0, extract),
        _ => (airflow_m3_per_s, extract),
    }
}

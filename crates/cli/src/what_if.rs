//! What would change a recommendation beside prices: the airflow and the leakage at which a unit just pays.
//!
//! Not here: the search and its words (`reporting::money`).

use reporting::MoneyReport;
use reporting::money::{Varied, WhatIf, what_if_basis};
use simulation::Variant;
use simulation::results::HouseYear;
use study::build::{Built, build};
use study::{AirLeakage, AirflowRule, LeakageTest, Study};

use crate::run::{Prepared, show_in, wrapped};

/// Airflow and leakage of the unit that leads; nothing where none does, and no leakage where the house has none.
pub(crate) fn of(prepared: &Prepared, money: &MoneyReport) -> Vec<WhatIf> {
    let Some(unit) = money.leader() else { return Vec::new() };
    let airflow = (Varied::Airflow, prepared.built.airflow_m3_per_s);
    let leakage = match prepared.study.house.air_leakage {
        AirLeakage::Constant { m3_per_s } => (Varied::Leakage, m3_per_s),
        AirLeakage::Tested(LeakageTest { flow_m3_per_s, pressure_pa, .. }) => {
            (Varied::TestedLeakage { pressure_pa }, flow_m3_per_s)
        }
    };
    let look = |(varied, given): (Varied, f64)| {
        WhatIf::find((unit, varied, given), |factor| worth(prepared, money, (unit, varied), factor))
    };
    let (airflow, leakage) = rayon::join(|| look(airflow), || (leakage.1 > 0.0).then(|| look(leakage)));
    std::iter::once(airflow).chain(leakage).collect()
}

/// The sentences, and what they rest on.
pub(crate) fn lines(study: &Study, money: &MoneyReport) -> Vec<String> {
    let said = money.what_if.iter().map(|it| it.sentence(study.house.volume_m3(), show_in(study)));
    let mut lines: Vec<String> = said.map(|said| wrapped(&said, 96)).collect();
    if !lines.is_empty() {
        lines.push(wrapped(&what_if_basis(), 96));
    }
    lines
}

/// Net present value where airflow or leakage is a multiple of the study's.
fn worth(
    prepared: &Prepared,
    money: &MoneyReport,
    (unit, varied): (&str, Varied),
    factor: f64,
) -> Result<f64, String> {
    let reference = &money.accounts[money.reference].unit;
    let mut study = changed(&prepared.study, prepared.built.airflow_m3_per_s, varied, factor);
    study.units.retain(|other| other.name == unit || other.name == *reference);
    let built = build(&study, &prepared.year).map_err(|cause| cause.to_string())?;
    let mut years = Vec::new();
    for (name, variant) in &built.units {
        years.extend(at_equal_air(name, variant, &built)?);
    }
    money.worth_in(unit, &years).map_err(|cause| cause.to_string())
}

/// The study with another airflow or leakage, the other as it was run; the fans' power goes with the airflow.
fn changed(study: &Study, airflow_m3_per_s: f64, varied: Varied, factor: f64) -> Study {
    let mut study = study.clone();
    // A rule would make another flow of another leakage.
    study.ventilation.rule = AirflowRule::Stated;
    study.ventilation.airflow_m3_per_s = airflow_m3_per_s;
    match (varied, &mut study.house.air_leakage) {
        (Varied::Airflow, _) => {
            study.ventilation.airflow_m3_per_s *= factor;
            for unit in &mut study.units {
                unit.fan.power_w *= factor;
            }
        }
        (_, AirLeakage::Constant { m3_per_s }) => *m3_per_s *= factor,
        (_, AirLeakage::Tested(test)) => test.flow_m3_per_s *= factor,
    }
    study
}

/// A unit and its house without recovery, and both with their air held where the unit misses some: as a run does.
fn at_equal_air(name: &str, variant: &Variant, built: &Built) -> Result<Vec<HouseYear>, String> {
    let failed = |cause: simulation::RunError| cause.to_string();
    let pair = simulation::run_pair(name, variant, &built.drivers, built.options).map_err(failed)?;
    let mut years = pair.to_vec();
    if simulation::misses_air(&years[0]) {
        let held = simulation::run_held_pair(name, variant, &built.drivers, built.options).map_err(failed)?;
        years.extend(held);
    }
    Ok(years)
}

//! What a run assumes that no key of a study changes, for the list of defaults.
//!
//! Not here: defaults of keys (`read`), which the study itself lists.

use crate::frost_plan::{CORE_J_PER_M2K, CORE_SHARE, GAP_M, PLATE_W_PER_M2K};
use crate::model;
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
    if study.units.iter().any(|unit| unit.fan.kind == model::FanKind::ConstantFlow) {
        all.push(assumed(
            "unit.fan.core_share",
            format!("{CORE_SHARE}"),
            "assumed: the core's share of the pressure of a fan that holds its flow, at twice its power at most",
        ));
    }
    all
}

//! What a study may say that no run follows yet.
//!
//! Here: the one place that refuses it, so that nothing is left out silently. Not here: reading (`read`).

use crate::model::Study;

/// The path of the first key that no run follows yet; `None` where all are.
pub(crate) fn first_not_run(study: &Study) -> Option<String> {
    let said = [
        ("house.bedroom", study.house.bedroom.is_some()),
        ("ventilation.blower", study.ventilation.blower.is_some()),
    ];
    said.into_iter().find_map(|(path, is_said)| is_said.then(|| path.to_owned()))
}

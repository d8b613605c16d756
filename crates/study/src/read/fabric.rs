//! Reads what the house conducts: one figure or parts, to outdoors and to the ground.
//!
//! Here: `house.heat_loss` or `[[house.envelope]]`, `house.foundation`, `house.ground_loss`. Not here: windows, mass
//! (`read/house.rs`). Read next: `read/plant.rs`.

use super::conflict;
use crate::keys;
use crate::kinds::brief;
use crate::model::{Beyond, EnvelopePart, Foundation, Window};
use crate::problem::listed;
use crate::specs::{self, Side};
use crate::table::{Log, Table};

pub(super) struct Conduction {
    pub heat_loss_w_per_k: f64,
    pub envelope: Vec<EnvelopePart>,
    pub ground_loss_w_per_k: f64,
}

/// What the house says beside this.
#[derive(Clone, Copy)]
pub(super) struct Beside<'a> {
    pub windows: &'a [Window],
    pub foundation: Option<Foundation>,
    /// What its mass can pass [W/K], as far as the file tells.
    pub most_walls_w_per_k: Option<f64>,
}

/// How the conduction is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    OneFigure,
    Parts,
}

impl Form {
    const fn key(self) -> &'static str {
        match self {
            Self::OneFigure => "heat_loss",
            Self::Parts => "envelope",
        }
    }
}

pub(super) fn read(log: &mut Log, house: &Table<'_>, beside: Beside<'_>) -> Option<Conduction> {
    let form = read_form(log, house);
    let figure = house.optional(log, &specs::HEAT_LOSS);
    let parts = read_parts(log, house);
    let ground_loss = house.optional(log, &specs::GROUND_LOSS);
    let windows: f64 = beside.windows.iter().map(Window::conductance_w_per_k).sum();
    let (all, envelope) = match form? {
        Form::OneFigure => (figure?, Vec::new()),
        Form::Parts => {
            let parts = parts?;
            let walls: f64 = parts.iter().map(|part| part.outdoors_w_per_k() + part.ground_w_per_k()).sum();
            check_sum(log, house, walls + windows)?;
            (walls + windows, parts)
        }
    };
    check_conduction(log, house, (all, windows, beside.most_walls_w_per_k));
    let opaque = all - windows;
    let ground_loss_w_per_k = match form? {
        Form::OneFigure => of_figure(log, house, (ground_loss, beside.foundation?, opaque))?,
        Form::Parts => of_parts(log, house, &envelope),
    };
    Some(Conduction { heat_loss_w_per_k: all, envelope, ground_loss_w_per_k })
}

pub(super) fn read_foundation(log: &mut Log, house: &Table<'_>) -> Option<Foundation> {
    let why = "assumed: no basement and no crawlspace, since none is given";
    house.or(log, &specs::FOUNDATION, ("slab", why))
}

fn read_form(log: &mut Log, house: &Table<'_>) -> Option<Form> {
    let mut given: Vec<Form> =
        [Form::OneFigure, Form::Parts].into_iter().filter(|form| house.has(form.key())).collect();
    given.sort_by_key(|form| house.span_of(form.key()).start);
    let (what, span, label) = match given.as_slice() {
        [only] => return Some(*only),
        [] => ("needs one of", house.span.clone(), "this table"),
        [_, second, ..] => ("takes only one of", house.span_of(second.key()), "the second one"),
    };
    let message = format!("`[house]` {what} {}", listed(&["heat_loss", "[[house.envelope]]"], "and"));
    let hint =
        "`heat_loss` is one figure, windows included; the parts of an envelope are all that is no window";
    conflict(log, span, message, (label, hint.to_owned()));
    None
}

/// `None` where a part could not be read.
fn read_parts(log: &mut Log, house: &Table<'_>) -> Option<Vec<EnvelopePart>> {
    let tables = house.tables(log, &keys::ENVELOPE);
    if house.has("envelope") && !house.is_list("envelope") {
        return None;
    }
    let count = tables.len();
    let mut taken: Vec<String> = Vec::new();
    let mut parts = Vec::new();
    for table in tables {
        parts.extend(read_part(log, table, &mut taken));
    }
    (parts.len() == count).then_some(parts)
}

fn read_part(log: &mut Log, mut table: Table<'_>, taken: &mut Vec<String>) -> Option<EnvelopePart> {
    let name = table.required(log, &specs::PART_NAME);
    if let Some(name) = &name {
        check_name(log, &table, name, taken);
    }
    let conductance = read_conductance(log, &table);
    let beyond = read_beyond(log, &table, name.as_deref());
    table.finish(log);
    Some(EnvelopePart { name: name?, conductance_w_per_k: conductance?, beyond: beyond? })
}

fn check_name(log: &mut Log, table: &Table<'_>, name: &str, taken: &mut Vec<String>) {
    let plain = name.to_lowercase();
    if taken.contains(&plain) {
        let message = format!("two parts of the envelope are called `{name}`");
        let hint = "give each its own name; capitals make no difference".to_owned();
        conflict(log, table.span_of("name"), message, ("taken already", hint));
    }
    taken.push(plain);
}

/// The conductance of a part, or its area with its thermal transmittance.
fn read_conductance(log: &mut Log, table: &Table<'_>) -> Option<f64> {
    let area = table.optional(log, &specs::PART_AREA);
    let u_value = table.optional(log, &specs::PART_U_VALUE);
    let conductance = table.optional(log, &specs::PART_CONDUCTANCE);
    let hint =
        "a part has `area` and `u_value`, or `conductance`, which is the one times the other".to_owned();
    match (table.has("conductance"), table.has("area"), table.has("u_value")) {
        (true, false, false) => conductance,
        (false, true, true) => Some(area? * u_value?),
        (true, _, _) => {
            let message = format!("`{}` says twice what it conducts", table.path);
            conflict(log, table.span_of("conductance"), message, ("the other way", hint));
            None
        }
        _ => {
            let message = format!("`{}` does not say what it conducts", table.path);
            conflict(log, table.span.clone(), message, ("this part", hint));
            None
        }
    }
}

fn read_beyond(log: &mut Log, table: &Table<'_>, name: Option<&str>) -> Option<Beyond> {
    let why = "common practice: walls and roofs border on outdoor air";
    let log_path =
        |key: &str| name.map_or_else(|| table.path_of(key), |name| format!("house.envelope.{name}.{key}"));
    let side = if table.has("to") {
        table.optional(log, &specs::TO_SIDE)?
    } else {
        log.took(log_path("to"), "outdoors", why);
        Side::Outdoors
    };
    if side == Side::Unheated {
        if !table.has("temperature_factor") {
            let why = "assumed: the unheated space is midway between indoors and outdoors";
            log.took(log_path("temperature_factor"), "0.5", why);
            return Some(Beyond::Unheated { temperature_factor: 0.5 });
        }
        let temperature_factor = table.optional(log, &specs::TEMPERATURE_FACTOR)?;
        return Some(Beyond::Unheated { temperature_factor });
    }
    if table.optional(log, &specs::TEMPERATURE_FACTOR).is_some() {
        let message =
            format!("`{}`: only a part with to = \"unheated\" has it", table.path_of("temperature_factor"));
        let hint = "leave `temperature_factor` out, or write to = \"unheated\"".to_owned();
        conflict(log, table.span_of("temperature_factor"), message, ("not for this part", hint));
    }
    Some(if side == Side::Ground { Beyond::Ground } else { Beyond::Outdoors })
}

/// What is added up holds to the range of what is written.
fn check_sum(log: &mut Log, house: &Table<'_>, all: f64) -> Option<()> {
    const LEAST_W_PER_K: f64 = 5.0;
    const MOST_W_PER_K: f64 = 10_000.0;
    if (LEAST_W_PER_K..=MOST_W_PER_K).contains(&all) {
        return Some(());
    }
    let message = format!(
        "the parts of the envelope and the windows conduct {} W/K, which must lie between {} and {} W/K",
        brief(all),
        brief(LEAST_W_PER_K),
        brief(MOST_W_PER_K)
    );
    let hint = "check `area` and `u_value` of each part".to_owned();
    conflict(log, house.span_of("envelope"), message, ("out of range", hint));
    None
}

/// What is left of the heat loss for walls must not be negative, nor more than the building's mass can pass.
fn check_conduction(log: &mut Log, house: &Table<'_>, (all, windows, most): (f64, f64, Option<f64>)) {
    if windows > all {
        let (windows, all) = (brief(windows), brief(all));
        let message = format!(
            "the windows conduct {windows} W/K, more than the {all} W/K of `house.heat_loss`, which includes them"
        );
        let hint =
            "raise `heat_loss`, or lower `area` or `u_value` of the windows: nothing is left for the walls";
        conflict(log, house.span_of("heat_loss"), message, ("less than the windows alone", hint.to_owned()));
    }
    let Some(most) = most.filter(|most| all - windows >= *most) else { return };
    let key = if house.has("heat_loss") { "heat_loss" } else { "envelope" };
    let message = format!(
        "`house.{key}` leaves {} W/K for the walls, but a house of this floor area and thermal mass \
         conducts less than {} W/K in the hourly method",
        brief(all - windows),
        brief(most)
    );
    let hint = format!("check `{key}` and `floor_area`");
    conflict(log, house.span_of(key), message, ("too much for this house", hint));
}

/// The part of one figure that goes to the ground: as given, or the share of the foundation.
fn of_figure(
    log: &mut Log,
    house: &Table<'_>,
    (given, foundation, opaque): (Option<f64>, Foundation, f64),
) -> Option<f64> {
    if !house.has("ground_loss") {
        let ground = foundation.ground_share() * opaque.max(0.0);
        let why = "assumed: of what is conducted beside the windows, 0.2 by a slab, 0.3 by a basement, 0.1 by a floor over \
                   a crawlspace";
        log.took(house.path_of("ground_loss"), format!("{} W/K", brief(ground)), why);
        return Some(ground);
    }
    let ground = given?;
    if ground > opaque && opaque >= 0.0 {
        let message = format!(
            "`{}`: {} W/K is more than the {} W/K that `house.heat_loss` leaves beside the windows",
            house.path_of("ground_loss"),
            brief(ground),
            brief(opaque)
        );
        let hint = "the heat loss to the ground is a part of `heat_loss`".to_owned();
        conflict(log, house.span_of("ground_loss"), message, ("more than all of it", hint));
    }
    Some(ground)
}

/// The parts that border on the ground.
fn of_parts(log: &mut Log, house: &Table<'_>, parts: &[EnvelopePart]) -> f64 {
    if house.has("ground_loss") {
        let message = format!(
            "`{}`: the parts of the envelope say what goes to the ground",
            house.path_of("ground_loss")
        );
        let hint = "leave `ground_loss` out, and write to = \"ground\" in a part".to_owned();
        conflict(log, house.span_of("ground_loss"), message, ("said by the parts", hint));
    } else if !parts.iter().any(|part| part.beyond == Beyond::Ground) {
        let why = "assumed: nothing borders on the ground, since no part has to = \"ground\"";
        log.took(house.path_of("ground_loss"), "0 W/K", why);
    }
    parts.iter().map(EnvelopePart::ground_w_per_k).sum()
}

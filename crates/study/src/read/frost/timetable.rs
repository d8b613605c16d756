//! Reads the timetable of defrosting by outdoor temperature.
//!
//! Here: `[[unit.frost.timetable]]`, its rows and their order. Not here: which strategy has one (`read/frost.rs`).
//! Read next: `model/frost.rs`.

use std::ops::Range;

use super::super::conflict;
use crate::keys;
use crate::kinds::brief;
use crate::model::TimetableRow;
use crate::specs;
use crate::table::{Log, Table};

/// Equal but for the rounding of another unit.
const ROUNDING: f64 = 1e-9;

/// A row, and where its parts stand.
struct Placed {
    row: TimetableRow,
    path: String,
    temperature: Range<usize>,
    defrost: Range<usize>,
}

/// `None` where there is none, or one that is no list.
pub(super) fn read(log: &mut Log, frost: &Table<'_>) -> Option<Vec<TimetableRow>> {
    if !frost.is_list("timetable") {
        // Says what is there instead of a list.
        let _ = frost.tables(log, &keys::TIMETABLE);
        return None;
    }
    let before = log.problems.len();
    let tables = frost.tables(log, &keys::TIMETABLE);
    let rows: Vec<Placed> = tables.into_iter().filter_map(|table| read_row(log, table)).collect();
    // What is said of two rows together would mislead while one of them is missing.
    if log.problems.len() == before {
        if rows.is_empty() {
            let message = format!("`{}` holds no row", frost.path_of("timetable"));
            let hint = "write each row under a header [[unit.frost.timetable]]".to_owned();
            conflict(log, frost.span_of("timetable"), message, ("empty", hint));
        }
        for pair in rows.windows(2) {
            if let [warmer, colder] = pair {
                check_order(log, warmer, colder);
            }
        }
    }
    Some(rows.into_iter().map(|placed| placed.row).collect())
}

fn read_row(log: &mut Log, mut table: Table<'_>) -> Option<Placed> {
    let at_or_below = table.required(log, &specs::AT_OR_BELOW);
    let defrost = table.required(log, &specs::DEFROST);
    let run = table.required(log, &specs::RUN);
    let (path, temperature) = (table.path.clone(), table.span_of("at_or_below"));
    let defrost_span = table.span_of("defrost");
    table.finish(log);
    let row = TimetableRow { at_or_below_c: at_or_below?, defrost_s: defrost?, run_s: run? };
    Some(Placed { row, path, temperature, defrost: defrost_span })
}

/// Holds a row against the one before it.
fn check_order(log: &mut Log, before: &Placed, this: &Placed) {
    let path = &this.path;
    let (warmer, colder) = (before.row.at_or_below_c, this.row.at_or_below_c);
    if (warmer - colder).abs() <= ROUNDING {
        let message = format!("`{path}.at_or_below`: {} °C stands in the row before already", brief(colder));
        let hint = "a timetable holds each temperature once".to_owned();
        conflict(log, this.temperature.clone(), message, ("taken already", hint));
    } else if colder > warmer {
        let message = format!(
            "`{path}.at_or_below`: {} °C is warmer than the row before, {} °C",
            brief(colder),
            brief(warmer)
        );
        let hint = "sort the rows by falling temperature".to_owned();
        conflict(log, this.temperature.clone(), message, ("out of order", hint));
    } else {
        check_share(log, before, this);
    }
}

fn check_share(log: &mut Log, before: &Placed, this: &Placed) {
    let (more, less) = (before.row.defrost_share(), this.row.defrost_share());
    if less >= more - ROUNDING {
        return;
    }
    let message = format!(
        "`{}`: {} of the time in defrost is less than in the warmer row before, {}",
        this.path,
        brief(less),
        brief(more)
    );
    let hint = "colder air brings no less frost: check `defrost` and `run` of both rows; the share is \
                defrost/(defrost + run)";
    conflict(log, this.defrost.clone(), message, ("too little", hint.to_owned()));
}

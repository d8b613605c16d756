//! From what a rating sheet states to the conductances of a core, and back.
//!
//! A label figure is not an effectiveness of the core: it contains fan heat, leaked air, and on a cold point defrost.
//! So [`run_test`] runs a test point forward (core, leak, fans, case), [`label_figures`] reads the label's figures from
//! it, and [`fit`] looks for the core whose figures come closest to the stated ones.
//! Where a sheet gives the core's own effectivenesses over airflow instead, [`fit_table`] is enough.
//!
//! Not here: the core itself (`line`), conductances from plate geometry (`geometry`), the hourly run.
//! Left out: leakage of outdoor air into the exhaust, leaks and case gain on the exhaust side, condensate that is
//! carried along, heaters. The standards' formulas and test conditions are recalled from memory.
//!
//! | file | holds |
//! | --- | --- |
//! | `rating/air.rs` | air of a test, standards and their usual air |
//! | `rating/figures.rs` | label figures, and how they follow from what a test measures |
//! | `rating/forward.rs` | a unit with its fans and leak, run at a test point |
//! | `rating/sheet.rs` | the sheet and its points |
//! | `rating/checks.rs`, `rating/error.rs` | what is refused, and why |
//! | `rating/fit.rs`, `rating/fitted.rs`, `rating/least_squares.rs` | the fit, what it answers, and its search |
//! | `rating/table.rs` | effectivenesses over airflow |
//!
//! Read next: `rating/forward.rs`.

mod air;
mod checks;
mod error;
mod figures;
mod fit;
mod fitted;
mod forward;
mod least_squares;
mod sheet;
mod table;

pub use air::{RATED_AIR_KG_PER_M3, RATED_PRESSURE_PA, Standard, TestAir};
pub use error::{Place, RatingError};
pub use figures::{Figure, Figures, Heats, Measured, label_figures};
pub use fit::{fit, fit_with};
pub use fitted::{
    CrossLeakage, CrossLeakageSource, DefrostLoss, EffectivenessAtFlow, Fitted, FlowExponent, Naive,
    PointCheck, UseInFit,
};
pub use forward::{CoreSolver, FanPosition, RatedUnit, Test, line_core, run_test};
pub use sheet::{Point, Sheet};
pub use table::{FromTable, TableRow, fit_table};

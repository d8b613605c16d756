//! The *cell solution*: the recovery core cut into small cells, solved until its own books close. Slow, one
//! number at a time, and the reference that the line solution is measured against; the two share no step.
//!
//! Plates and membranes: [`solve_plate`], in counterflow, crossflow and between the two.
//!
//! Wheels: [`regenerator::solve_wheel`], heat alone, condensing, or sorbing.
//!
//! The physics of a plate's cell: heat passes both films; a plate face that would pass saturation sits at
//! saturation of the plate temperature and collects water, liquid above 0 °C and ice below (blended within
//! ±0.25 K); a membrane passes vapour from face to face, also from a wet one, and never liquid. Deposits stay
//! where they form: nothing evaporates from a plate or runs along it.
//!
//! Left out: conduction along the plate and across its thickness, unequal films, frost as a resistance, a
//! membrane whose resistance changes with its state.
//!
//! | file | holds |
//! | --- | --- |
//! | `case` | what is asked of a plate, and how it is cut |
//! | `patch` | one cell |
//! | `part`, `series` | cells joined: crossflow grids, counterflow series |
//! | `tally` | what is answered, and the books |
//! | `regenerator`, `matrix` | a wheel's turn, and one cell of it |
//! | `dual` | numbers that carry slopes |
//! | `error` | refusals |
//!
//! # Example
//! ```
//! use exchanger::Inlets;
//! use exchanger::cell::{Arrangement, PlateCase, solve_plate};
//!
//! let inlets = Inlets {
//!     outdoor_c: -10.0,
//!     outdoor_humidity_ratio: 0.0013,
//!     extract_c: 21.0,
//!     extract_humidity_ratio: 0.0062,
//!     supply_kg_per_s: 0.05,
//!     extract_kg_per_s: 0.05,
//!     pressure_pa: 101_325.0,
//! };
//! let case = PlateCase {
//!     inlets,
//!     ua_w_per_k: 150.0,
//!     vapour_kg_per_s: 0.0,
//!     arrangement: Arrangement::Counter,
//!     cells: 40,
//! };
//! let solved = solve_plate(&case)?;
//! assert!(solved.outlets.supply_c > 14.0 && solved.extract_deposit.ice_kg_per_s > 0.0);
//! # Ok::<(), exchanger::cell::CellError>(())
//! ```

mod case;
mod dual;
mod error;
mod matrix;
mod part;
mod patch;
pub mod regenerator;
mod series;
mod tally;

pub use crate::arrangement::Arrangement;
pub use case::PlateCase;
pub use error::CellError;
pub use tally::{Deposit, PlatePoint, PlateSolution};

use case::{Prepared, prepare};
use tally::Tally;

/// Solves a plate or membrane core.
///
/// Second order in the size of a cell: with 40 cells and an NTU of 3 supply temperatures are within 0.01 K of those
/// of many cells.
///
/// # Errors
/// [`CellError`] for entering air, conductances or cells outside their ranges, and where the cells do not agree.
///
/// # Source
/// Film balance of a wet plate at Lewis number 1; saturation and enthalpies of `psychrometrics`.
pub fn solve_plate(case: &PlateCase) -> Result<PlateSolution, CellError> {
    let Prepared { plate, mut parts, inlet, has_core } = prepare(case)?;
    let mut tally = Tally::new(&plate);
    let closed = series::close(&plate, &mut parts, inlet, &mut |patch, place| tally.add(patch, place))?;
    for (part, entering) in parts.iter().zip(&closed.entering) {
        part.spots(&plate, *entering, &mut |spot| tally.add_spot(spot, has_core));
    }
    Ok(tally.finish(&plate, inlet, &closed))
}

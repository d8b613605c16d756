//! A plate core at one state: what is asked, and how it is cut into parts.
//!
//! Not here: how the parts are solved (`series`). Read next: `tally`, for what is answered.

use psychrometrics::formulas::moist_heat_capacity;

use super::error::{CellError, check_inlets, enough, within};
use super::part::Part;
use super::patch::{Air, Plate};
use crate::arrangement::Arrangement;
use crate::streams::Inlets;

/// A plate or membrane core, and the air that enters it.
#[derive(Debug, Clone, Copy)]
pub struct PlateCase {
    /// Entering air; both flows above 0.
    pub inlets: Inlets<f64>,
    /// Heat conductance from stream to stream, two equal films in series [W/K]; 0 for no core.
    pub ua_w_per_k: f64,
    /// Vapour conductance from stream to stream, film, membrane and film in series [kg dry air/s]; 0 for a
    /// tight plate. A mass film has `2 UA/c_p`, `c_p` of the air that enters that side (Lewis number 1).
    pub vapour_kg_per_s: f64,
    /// How the streams pass.
    pub arrangement: Arrangement,
    /// Cells along a stream, 10 or more, and not fewer than the conductance over the smaller heat capacity flow.
    pub cells: usize,
}

/// A checked case.
pub(super) struct Prepared {
    pub(super) plate: Plate,
    pub(super) parts: Vec<Part>,
    /// Entering supply (outdoor) and extract air.
    pub(super) inlet: [Air; 2],
    pub(super) has_core: bool,
}

/// Grids grow with the square.
const CELLS: (f64, f64) = (10.0, 10_000.0);
const CONDUCTANCE_W_PER_K: (f64, f64) = (0.0, 1e7);

pub(super) fn prepare(case: &PlateCase) -> Result<Prepared, CellError> {
    let inlets = &case.inlets;
    check_inlets(inlets)?;
    within("heat conductance", case.ua_w_per_k, " W/K", CONDUCTANCE_W_PER_K)?;
    within("number of cells", case.cells as f64, "", CELLS)?;
    let capacity =
        [inlets.outdoor_humidity_ratio, inlets.extract_humidity_ratio].map(moist_heat_capacity::<f64>);
    let kg_per_s = [inlets.supply_kg_per_s, inlets.extract_kg_per_s];
    let per_flow = case.ua_w_per_k / (capacity[0] * kg_per_s[0]).min(capacity[1] * kg_per_s[1]);
    enough(case.cells, per_flow)?;
    // Without conductance air passes unchanged: cells of no size, over films of any size.
    let (core, film_w_per_k) = if case.ua_w_per_k > 0.0 { (1.0, 2.0 * case.ua_w_per_k) } else { (0.0, 1.0) };
    let film_kg_per_s = capacity.map(|cp| film_w_per_k / cp);
    let membrane_s_per_kg = membrane(case.vapour_kg_per_s, core, film_kg_per_s)?;
    let plate =
        Plate { kg_per_s, film_w_per_k, film_kg_per_s, membrane_s_per_kg, pressure_pa: inlets.pressure_pa };
    let inlet = [
        Air { c: inlets.outdoor_c, w: inlets.outdoor_humidity_ratio },
        Air { c: inlets.extract_c, w: inlets.extract_humidity_ratio },
    ];
    Ok(Prepared { plate, parts: parts(case, core)?, inlet, has_core: core > 0.0 })
}

/// Resistance of the membrane alone: what is left of the whole beside the films.
fn membrane(vapour_kg_per_s: f64, core: f64, film_kg_per_s: [f64; 2]) -> Result<f64, CellError> {
    let films = 1.0 / film_kg_per_s[0] + 1.0 / film_kg_per_s[1];
    // A conductance of exactly the films' is a membrane without resistance; allow for its rounding.
    let most = core / films * (1.0 + 1e-12);
    within(
        "vapour conductance (its films alone allow the upper end)",
        vapour_kg_per_s,
        " kg/s",
        (0.0, most),
    )?;
    Ok((1.0 / vapour_kg_per_s - films).max(0.0))
}

fn parts(case: &PlateCase, core: f64) -> Result<Vec<Part>, CellError> {
    let counter = |start: f64, share: f64| {
        let one = share / case.cells as f64;
        (0..case.cells).map(move |k| Part::one(start + k as f64 * one, one, core))
    };
    Ok(match case.arrangement {
        Arrangement::Counter => counter(0.0, 1.0).collect(),
        Arrangement::Cross => vec![Part::grid(case.cells, 0.0, 1.0, core)],
        Arrangement::QuasiCounter { counter_share } => {
            within("counterflow share", counter_share, "", (0.0, 1.0))?;
            let cross = 0.5 * (1.0 - counter_share);
            // Half as many cells each way keep a cell's conductance within that of the whole core cut once.
            let grid = |start| (cross > 0.0).then(|| Part::grid(case.cells.div_ceil(2), start, cross, core));
            let middle = (counter_share > 0.0).then(|| counter(cross, counter_share));
            let middle = middle.into_iter().flatten();
            grid(0.0).into_iter().chain(middle).chain(grid(1.0 - cross)).collect()
        }
    })
}

//! The reference of the wheels: a periodic counterflow regenerator, cut along the flow and in time over one turn.
//!
//! Two equal halves; the matrix is marched turn after turn until it comes back as it went. Air held in the passages,
//! conduction along the matrix, purge and carry-over are left out.
//!
//! Water on the matrix (`matrix`): a film that condenses where the air is above saturation of the matrix,
//! evaporates in the other half, or is ice below 0 °C. Film that lasts through a whole turn without being
//! needed is shed at the end of the turn and counted as excess, so no store grows without limit.
//!
//! Not here: plates (`case`).

use psychrometrics::formulas::{
    CP_DRY_AIR_J_PER_KGK, enthalpy_j_per_kg, ice_enthalpy_j_per_kg, liquid_enthalpy_j_per_kg,
    moist_heat_capacity, saturation_humidity_ratio, temperature_from_enthalpy_c,
};

use super::error::{CellError, check_inlets, enough, within};
use super::matrix::{Contact, Side, Store, Strip};
use super::patch::{Air, ice_share};
use super::tally::{Deposit, least_water};
use crate::streams::{Inlets, Outlets};

/// What the matrix of a wheel exchanges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Matrix {
    /// Heat alone: water passes by, whatever the temperatures.
    HeatOnly,
    /// Heat, and water that condenses and evaporates; mass films of `hA/c_p` (Lewis number 1).
    Plain,
    /// Heat, and water in a sorbent whose hold is proportional to the humidity ratio it is in equilibrium with,
    /// up to saturation; beyond that a film forms.
    Sorbing {
        /// Hold for each kg/kg, times turns a second [kg dry air/s]: the counterpart of the heat capacity rate.
        store_kg_per_s: f64,
        /// Mass conductance of film and sorbent, for each side [kg dry air/s].
        vapour_kg_per_s: f64,
    },
}

/// A wheel, and the air that enters it.
#[derive(Debug, Clone, Copy)]
pub struct WheelCase {
    /// Entering air; both flows above 0.
    pub inlets: Inlets<f64>,
    /// Film conductance hA between supply side air and the matrix under it [W/K], above 0.
    pub supply_film_w_per_k: f64,
    /// Film conductance hA between extract side air and the matrix under it [W/K], above 0.
    pub extract_film_w_per_k: f64,
    /// Heat capacity of the dry matrix times turns a second [W/K], above 0: `Cr* C_min`.
    pub matrix_w_per_k: f64,
    /// What else it exchanges.
    pub matrix: Matrix,
    /// Cells along the flow, and steps in half a turn, 10…1000.
    pub cells: usize,
}

/// A wheel, solved.
#[derive(Debug, Clone, Copy)]
pub struct WheelSolution {
    /// The air that leaves, mean over the half turn.
    pub outlets: Outlets<f64>,
    /// Heat into the supply air through its film, without the enthalpy of vapour \[W\].
    pub heat_to_supply_w: f64,
    /// Vapour from the matrix into the supply air [kg/s].
    pub vapour_to_supply_kg_per_s: f64,
    /// Water that a plain or saturated matrix cannot give back, and sheds.
    pub excess: Deposit,
    /// Coldest spot of the matrix in a turn [°C].
    pub coldest_matrix_c: f64,
    /// Turns until periodic.
    pub turns: usize,
    /// Enthalpy that streams and excess do not account for, as a share of what the streams exchange (of 1 K of
    /// the smaller flow at least); what the matrix still stored in the last turn is in it.
    pub heat_residual: f64,
    /// Water likewise (of a hundredth of what the streams carry at least).
    pub water_residual: f64,
}

/// The wheel in the making: index 0 is the supply side, 1 the extract side.
struct Wheel {
    store: Store,
    sides: [Side; 2],
    /// Along the supply air's way.
    strips: Vec<Strip>,
    /// Smallest film at each place in the turn so far [kg/s].
    least_film: Vec<f64>,
}

/// Sums over a turn.
#[derive(Debug, Clone, Copy)]
struct Turn {
    out: [Air; 2],
    heat_w: [f64; 2],
    vapour_kg_per_s: [f64; 2],
    excess: Deposit,
    coldest_c: f64,
    /// Largest change of the matrix over the turn \[K\].
    gap_k: f64,
}

const CELLS: (f64, f64) = (10.0, 1000.0);
const CONDUCTANCE_W_PER_K: (f64, f64) = (1e-9, 1e7);
const VAPOUR_KG_PER_S: (f64, f64) = (1e-12, 1e4);
/// A matrix that comes back this close is periodic.
const PERIODIC_K: f64 = 1e-10;
const MOST_TURNS: usize = 20_000;

/// Solves a wheel.
///
/// # Errors
/// [`CellError`] for entering air, conductances or cells outside their ranges, and where no periodic state is
/// reached.
///
/// # Source
/// Energy balances of the periodic-flow regenerator with quasi-steady air; saturation and enthalpies of
/// `psychrometrics`.
pub fn solve_wheel(case: &WheelCase) -> Result<WheelSolution, CellError> {
    let mut wheel = Wheel::prepare(case)?;
    let mut turns = 0;
    loop {
        turns += 1;
        let turn = wheel.turn();
        if turn.gap_k <= PERIODIC_K {
            return Ok(wheel.answer(&turn, turns));
        }
        if turn.gap_k.is_nan() || turns >= MOST_TURNS {
            return Err(CellError::NotConverged { gap_k: turn.gap_k, iterations: turns });
        }
    }
}

impl Wheel {
    fn prepare(case: &WheelCase) -> Result<Self, CellError> {
        let inlets = &case.inlets;
        check_inlets(inlets)?;
        within("number of cells", case.cells as f64, "", CELLS)?;
        within("supply film conductance", case.supply_film_w_per_k, " W/K", CONDUCTANCE_W_PER_K)?;
        within("extract film conductance", case.extract_film_w_per_k, " W/K", CONDUCTANCE_W_PER_K)?;
        within("matrix heat capacity rate", case.matrix_w_per_k, " W/K", CONDUCTANCE_W_PER_K)?;
        let mut sorbed_kg_per_s = 0.0;
        if let Matrix::Sorbing { store_kg_per_s, vapour_kg_per_s } = case.matrix {
            sorbed_kg_per_s = within("matrix water store rate", store_kg_per_s, " kg/s", VAPOUR_KG_PER_S)?;
            within("matrix vapour conductance", vapour_kg_per_s, " kg/s", VAPOUR_KG_PER_S)?;
        }
        let side = |kg_per_s, inlet: Air, film_w_per_k| {
            let film_kg_per_s = match case.matrix {
                Matrix::HeatOnly => 0.0,
                Matrix::Plain => film_w_per_k / moist_heat_capacity(inlet.w),
                Matrix::Sorbing { vapour_kg_per_s, .. } => vapour_kg_per_s,
            };
            Side { kg_per_s, inlet, film_w_per_k, film_kg_per_s }
        };
        let outdoor = Air { c: inlets.outdoor_c, w: inlets.outdoor_humidity_ratio };
        let extract = Air { c: inlets.extract_c, w: inlets.extract_humidity_ratio };
        let sides = [
            side(inlets.supply_kg_per_s, outdoor, case.supply_film_w_per_k),
            side(inlets.extract_kg_per_s, extract, case.extract_film_w_per_k),
        ];
        let store =
            Store { heat_w_per_k: case.matrix_w_per_k, sorbed_kg_per_s, pressure_pa: inlets.pressure_pa };
        check_cells(case.cells, &store, &sides)?;
        Ok(Self {
            store,
            sides,
            strips: start(case.cells, &store, &sides),
            least_film: vec![0.0; case.cells],
        })
    }

    /// One turn, the side of the warmer air first: film that it leaves can evaporate in the other half.
    fn turn(&mut self) -> Turn {
        let before = self.strips.clone();
        let store = self.store;
        let film: Vec<f64> = before.iter().map(|s| store.film_kg_per_s(*s)).collect();
        self.least_film = film;
        let mut turn = Turn {
            out: self.sides.map(|side| side.inlet),
            heat_w: [0.0; 2],
            vapour_kg_per_s: [0.0; 2],
            excess: Deposit::default(),
            coldest_c: f64::INFINITY,
            gap_k: 0.0,
        };
        let warm = usize::from(self.sides[1].inlet.c >= self.sides[0].inlet.c);
        for side in [warm, 1 - warm] {
            self.half_turn(side, &mut turn);
        }
        turn.excess = self.shed();
        for (before, after) in before.iter().zip(&self.strips) {
            let water = LATENT_J_PER_KG * (after.water_kg_per_s - before.water_kg_per_s).abs();
            let gap = (after.c - before.c).abs().max(water / store.heat_w_per_k);
            turn.gap_k = if gap <= turn.gap_k { turn.gap_k } else { gap };
        }
        turn
    }

    fn half_turn(&mut self, index: usize, turn: &mut Turn) {
        let side = self.sides[index];
        let cells = self.strips.len();
        let cell = 1.0 / cells as f64;
        let (mut w, mut enthalpy) = (0.0, 0.0);
        for _ in 0..cells {
            let mut air = side.inlet;
            for step in 0..cells {
                let place = if index == 0 { step } else { cells - 1 - step };
                let contact = Contact::solve(&self.store, &side, (air, self.strips[place]), cell);
                air = contact.air;
                self.strips[place] = contact.strip;
                let film = self.store.film_kg_per_s(contact.strip);
                self.least_film[place] = self.least_film[place].min(film);
                turn.heat_w[index] += cell * cell * contact.heat_w;
                turn.vapour_kg_per_s[index] += cell * cell * contact.vapour_kg_per_s;
                turn.coldest_c = turn.coldest_c.min(contact.strip.c);
            }
            w += cell * air.w;
            enthalpy += cell * enthalpy_j_per_kg(air.c, air.w);
        }
        turn.out[index] = Air { c: temperature_from_enthalpy_c(enthalpy, w), w };
    }

    /// Takes off the film that was there through the whole turn.
    fn shed(&mut self) -> Deposit {
        let cell = 1.0 / self.strips.len() as f64;
        let mut excess = Deposit::default();
        for (strip, film) in self.strips.iter_mut().zip(&self.least_film) {
            let water = cell * film;
            let ice = ice_share(strip.c);
            excess.ice_kg_per_s += ice * water;
            excess.liquid_kg_per_s += (1.0 - ice) * water;
            excess.enthalpy_w += water
                * (ice * ice_enthalpy_j_per_kg(strip.c) + (1.0 - ice) * liquid_enthalpy_j_per_kg(strip.c));
            strip.water_kg_per_s -= film;
        }
        excess
    }

    fn answer(&self, turn: &Turn, turns: usize) -> WheelSolution {
        let [supply, exhaust] = turn.out;
        let gained = |of: &dyn Fn(Air) -> f64| {
            [0, 1].map(|i| self.sides[i].kg_per_s * (of(turn.out[i]) - of(self.sides[i].inlet)))
        };
        let smaller = self.sides[0].kg_per_s.min(self.sides[1].kg_per_s);
        let share = |[supply, extract]: [f64; 2], excess: f64, least: f64| {
            (supply + extract + excess).abs() / supply.abs().max(extract.abs()).max(least)
        };
        let excess = turn.excess;
        WheelSolution {
            outlets: Outlets {
                supply_c: supply.c,
                supply_humidity_ratio: supply.w,
                exhaust_c: exhaust.c,
                exhaust_humidity_ratio: exhaust.w,
            },
            heat_to_supply_w: -turn.heat_w[0],
            vapour_to_supply_kg_per_s: -turn.vapour_kg_per_s[0],
            excess,
            coldest_matrix_c: turn.coldest_c,
            turns,
            heat_residual: share(
                gained(&|air| enthalpy_j_per_kg(air.c, air.w)),
                excess.enthalpy_w,
                smaller * CP_DRY_AIR_J_PER_KGK,
            ),
            water_residual: share(
                gained(&|air| air.w),
                excess.liquid_kg_per_s + excess.ice_kg_per_s,
                least_water(self.sides.map(|side| side.kg_per_s * side.inlet.w)),
            ),
        }
    }
}

/// Weighs water against temperature when the matrix is compared with itself.
const LATENT_J_PER_KG: f64 = 2.5e6;

/// Within a cell neither air nor matrix may pass the other.
fn check_cells(cells: usize, store: &Store, sides: &[Side; 2]) -> Result<(), CellError> {
    let mut most = 0.0_f64;
    for side in sides {
        let air = side.kg_per_s * moist_heat_capacity(side.inlet.w);
        most = most.max(side.film_w_per_k / air.min(store.heat_w_per_k));
        most = most.max(side.film_kg_per_s / side.kg_per_s);
        if store.sorbed_kg_per_s > 0.0 {
            most = most.max(side.film_kg_per_s / store.sorbed_kg_per_s);
        }
    }
    enough(cells, 0.5 * most)
}

/// A straight line between the two airs.
fn start(cells: usize, store: &Store, sides: &[Side; 2]) -> Vec<Strip> {
    let [outdoor, extract] = sides.map(|side| side.inlet);
    let strip = |k: usize| {
        let share = (k as f64 + 0.5) / cells as f64;
        let c = outdoor.c + share * (extract.c - outdoor.c);
        let w = outdoor.w + share * (extract.w - outdoor.w);
        let held = w.min(saturation_humidity_ratio(c, store.pressure_pa));
        Strip { c, water_kg_per_s: store.sorbed_kg_per_s * held }
    };
    (0..cells).map(strip).collect()
}

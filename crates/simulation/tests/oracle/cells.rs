//! The core cut into cells, plate or membrane, two streams against each other; solved by Newton's method on all cells at
//! once (a block elimination from the cold end, then back). Not here: one cell (`plate.rs`), what becomes
//! of ice (`frost.rs`).
//!
//! A cell takes the means of what enters and leaves it. Both films have the conductance 2 UA; the vapour conductance of a
//! film follows from it (Lewis number 1: heat conductance over the heat capacity of the moist air that enters).
//! Interface 0 is the warm end (extract air enters, supply air leaves), interface n the cold end.
//!
//! Choices:
//! - Vapour leaves a stream, and joins one, at that stream's own temperature; the plate's balance bears the difference.
//! - Water never evaporates from the plate, since it drains where it forms; ice does not sublime.
//! - Both films carry the same conductance in both streams, whatever the flows are.

use super::air::{
    CP_VAPOUR, Saturation, enthalpy_j_per_kg, ice_j_per_kg, liquid_j_per_kg, moist_cp, vapour_j_per_kg,
};
use super::plate::{Cell, Onward, Passed, eliminate};

/// What enters the core.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Inlets {
    pub extract_c: f64,
    pub extract_w: f64,
    pub outdoor_c: f64,
    pub outdoor_w: f64,
    /// Dry air [kg/s].
    pub extract_kg_per_s: f64,
    /// Dry air [kg/s].
    pub supply_kg_per_s: f64,
}

/// What passes in the core, per second.
#[derive(Clone, Copy, Default, Debug)]
pub struct Fluxes {
    /// Enthalpy from the extract air [W].
    pub from_extract_w: f64,
    /// Vapour from the extract air [kg/s].
    pub from_extract_kg_per_s: f64,
    /// Enthalpy to the supply air [W].
    pub to_supply_w: f64,
    /// Vapour to the supply air [kg/s].
    pub to_supply_kg_per_s: f64,
    /// Water that drains from the extract side [kg/s].
    pub liquid_kg_per_s: f64,
    /// Water that drains from the supply side [kg/s].
    pub supply_liquid_kg_per_s: f64,
    /// Enthalpy of both [W].
    pub liquid_w: f64,
    /// Ice that forms [kg/s].
    pub ice_kg_per_s: f64,
    /// Enthalpy of that ice \[W\] (negative).
    pub ice_w: f64,
    pub plate_mean_c: f64,
    pub plate_coldest_c: f64,
    /// Largest distance between outlets by these fluxes and the solver's own \[K\].
    pub gap_k: f64,
    /// Whether the solver came to rest.
    pub settled: bool,
}

/// Air that leaves the core.
#[derive(Clone, Copy, Default, Debug)]
pub struct Outlets {
    pub supply_c: f64,
    pub supply_w: f64,
    pub exhaust_c: f64,
    pub exhaust_w: f64,
}

impl Fluxes {
    /// Outlet states by enthalpy, so that the books close by themselves.
    pub fn outlets(&self, inlets: &Inlets) -> Outlets {
        let (m_e, m_s) = (inlets.extract_kg_per_s, inlets.supply_kg_per_s);
        if m_e <= 0.0 || m_s <= 0.0 {
            return Outlets {
                supply_c: inlets.outdoor_c,
                supply_w: inlets.outdoor_w,
                exhaust_c: inlets.extract_c,
                exhaust_w: inlets.extract_w,
            };
        }
        let supply_w = inlets.outdoor_w + self.to_supply_kg_per_s / m_s;
        let exhaust_w = inlets.extract_w - self.from_extract_kg_per_s / m_e;
        let supply_h = enthalpy_j_per_kg(inlets.outdoor_c, inlets.outdoor_w) + self.to_supply_w / m_s;
        let exhaust_h = enthalpy_j_per_kg(inlets.extract_c, inlets.extract_w) - self.from_extract_w / m_e;
        Outlets {
            supply_c: (supply_h - supply_w * 2501e3) / moist_cp(supply_w),
            supply_w,
            exhaust_c: (exhaust_h - exhaust_w * 2501e3) / moist_cp(exhaust_w),
            exhaust_w,
        }
    }

    /// What the core's own books miss [W].
    pub fn residual_w(&self) -> f64 {
        self.from_extract_w - self.to_supply_w - self.liquid_w - self.ice_w
    }

    /// What its water books miss [kg/s].
    pub fn residual_kg_per_s(&self) -> f64 {
        self.from_extract_kg_per_s
            - self.to_supply_kg_per_s
            - self.liquid_kg_per_s
            - self.supply_liquid_kg_per_s
            - self.ice_kg_per_s
    }
}

/// A core and its cells as they were when last solved: the next solution starts there.
pub struct Core {
    ua_w_per_k: f64,
    vapour_kg_per_s: f64,
    cells: usize,
    /// Extract temperature, extract humidity, supply temperature, supply humidity at each interface.
    at: Vec<[f64; 4]>,
    plate_c: Vec<f64>,
    passed: Vec<Passed>,
    onward: Vec<Onward>,
    last: Option<(Inlets, f64, Fluxes)>,
}

const MOST_ROUNDS: usize = 80;

impl Core {
    pub fn new(ua_w_per_k: f64, vapour_kg_per_s: f64, cells: usize) -> Self {
        assert!(cells > 0 && ua_w_per_k >= 0.0 && vapour_kg_per_s >= 0.0);
        Self {
            ua_w_per_k,
            vapour_kg_per_s,
            cells,
            at: Vec::new(),
            plate_c: Vec::new(),
            passed: Vec::new(),
            onward: vec![Onward::default(); cells],
            last: None,
        }
    }

    /// What passes for these inlets. `air` holds the pressure. An answer for inlets within 1e-6 K and 1e-7 kg/kg is used again.
    pub fn solve(&mut self, inlets: &Inlets, air: &Saturation) -> Fluxes {
        if self.ua_w_per_k <= 0.0 || inlets.extract_kg_per_s <= 0.0 || inlets.supply_kg_per_s <= 0.0 {
            return Fluxes {
                plate_mean_c: inlets.extract_c,
                plate_coldest_c: inlets.extract_c,
                settled: true,
                ..Fluxes::default()
            };
        }
        let pressure = air.pressure_pa();
        if let Some((before, at_pa, fluxes)) = self.last
            && at_pa == pressure
            && is_near(&before, inlets)
        {
            return fluxes;
        }
        let fluxes = self.solve_anew(inlets, air);
        self.last = Some((*inlets, pressure, fluxes));
        fluxes
    }

    fn solve_anew(&mut self, inlets: &Inlets, air: &Saturation) -> Fluxes {
        if self.at.is_empty() {
            self.at = straight_lines(inlets, self.cells);
            self.plate_c = self.at.iter().take(self.cells).map(|x| 0.5 * (x[0] + x[2])).collect();
        }
        let n = self.cells;
        self.at[0][0] = inlets.extract_c;
        self.at[0][1] = inlets.extract_w;
        self.at[n][2] = inlets.outdoor_c;
        self.at[n][3] = inlets.outdoor_w;
        let cell = self.cell(inlets);
        let mut settled = false;
        for round in 0..MOST_ROUNDS {
            self.pass(&cell, air);
            if self.is_settled(inlets) {
                settled = true;
                break;
            }
            // Wet and dry cells may change places for ever; half steps end that.
            let step = if round < 25 { 1.0 } else { 0.5 };
            self.correct(inlets, step);
        }
        self.totals(inlets, settled)
    }

    fn cell(&self, inlets: &Inlets) -> Cell {
        let n = self.cells as f64;
        let film = 2.0 * self.ua_w_per_k / n;
        let film_e = film / moist_cp(inlets.extract_w);
        let film_s = film / moist_cp(inlets.outdoor_w);
        if self.vapour_kg_per_s <= 0.0 {
            return Cell { film, through: 0.0, film_e, film_s, wet_e_to_s: 0.0, wet_s_to_e: 0.0 };
        }
        let through = self.vapour_kg_per_s / n;
        let membrane = 1.0 / through - 1.0 / film_e - 1.0 / film_s;
        assert!(membrane >= 0.0, "the films alone resist more than the whole membrane is said to");
        let (wet_e_to_s, wet_s_to_e) = (1.0 / (membrane + 1.0 / film_s), 1.0 / (membrane + 1.0 / film_e));
        Cell { film, through, film_e, film_s, wet_e_to_s, wet_s_to_e }
    }

    /// What passes in every cell as the streams now stand.
    fn pass(&mut self, cell: &Cell, air: &Saturation) {
        self.passed.clear();
        for i in 0..self.cells {
            let mean = self.mean(i);
            let passed = cell.pass(mean, self.plate_c[i], air);
            self.plate_c[i] = passed.plate_c;
            self.passed.push(passed);
        }
    }

    fn mean(&self, i: usize) -> [f64; 4] {
        let (a, b) = (&self.at[i], &self.at[i + 1]);
        [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1]), 0.5 * (a[2] + b[2]), 0.5 * (a[3] + b[3])]
    }

    /// What each stream's balance misses in a cell, in the order of [`Passed::flux`].
    fn misses(&self, i: usize, capacity: &[f64; 4]) -> [f64; 4] {
        let (a, b, flux) = (&self.at[i], &self.at[i + 1], &self.passed[i].flux);
        [
            capacity[0] * (b[0] - a[0]) + flux[0],
            capacity[1] * (b[1] - a[1]) + flux[1],
            capacity[2] * (a[2] - b[2]) - flux[2],
            capacity[3] * (a[3] - b[3]) - flux[3],
        ]
    }

    fn capacity(&self, i: usize, inlets: &Inlets) -> [f64; 4] {
        let mean = self.mean(i);
        let (m_e, m_s) = (inlets.extract_kg_per_s, inlets.supply_kg_per_s);
        [m_e * moist_cp(mean[1]), m_e, m_s * moist_cp(mean[3]), m_s]
    }

    fn is_settled(&self, inlets: &Inlets) -> bool {
        (0..self.cells).all(|i| {
            let capacity = self.capacity(i, inlets);
            let miss = self.misses(i, &capacity);
            miss[0].abs() < 1e-8 * capacity[0]
                && miss[2].abs() < 1e-8 * capacity[2]
                && miss[1].abs() < 1e-11 * capacity[1]
                && miss[3].abs() < 1e-11 * capacity[3]
        })
    }

    /// One correction of all interfaces.
    fn correct(&mut self, inlets: &Inlets, step: f64) {
        // Correction of the supply air that enters the cell: a matrix times that of the extract air there, and a constant.
        let mut entering = [[0.0_f64; 3]; 2];
        for i in (0..self.cells).rev() {
            let capacity = self.capacity(i, inlets);
            let (a, b) = (&self.at[i], &self.at[i + 1]);
            let by_humidity = [
                CP_VAPOUR * inlets.extract_kg_per_s * (b[0] - a[0]),
                CP_VAPOUR * inlets.supply_kg_per_s * (a[2] - b[2]),
            ];
            let miss = self.misses(i, &capacity);
            let onward = eliminate(&self.passed[i].slope, &capacity, &miss, &by_humidity, &entering);
            entering = onward.supply;
            self.onward[i] = onward;
        }
        let mut extract = [0.0, 0.0];
        for i in 0..self.cells {
            let Onward { extract: on, supply } = self.onward[i];
            self.at[i][2] += step * (supply[0][0] * extract[0] + supply[0][1] * extract[1] + supply[0][2]);
            self.at[i][3] += step * (supply[1][0] * extract[0] + supply[1][1] * extract[1] + supply[1][2]);
            extract = [
                on[0][0] * extract[0] + on[0][1] * extract[1] + on[0][2],
                on[1][0] * extract[0] + on[1][1] * extract[1] + on[1][2],
            ];
            self.at[i + 1][0] += step * extract[0];
            self.at[i + 1][1] += step * extract[1];
        }
    }

    fn totals(&self, inlets: &Inlets, settled: bool) -> Fluxes {
        let mut sum = Fluxes { plate_coldest_c: f64::INFINITY, settled, ..Fluxes::default() };
        for (i, passed) in self.passed.iter().enumerate() {
            let mean = self.mean(i);
            let [heat_e, vapour_e, heat_s, vapour_s] = passed.flux;
            sum.from_extract_w += heat_e + vapour_e * vapour_j_per_kg(mean[0]);
            sum.from_extract_kg_per_s += vapour_e;
            sum.to_supply_w += heat_s + vapour_s * vapour_j_per_kg(mean[2]);
            sum.to_supply_kg_per_s += vapour_s;
            if passed.on_supply_side {
                sum.supply_liquid_kg_per_s += passed.liquid;
            } else {
                sum.liquid_kg_per_s += passed.liquid;
            }
            sum.liquid_w += passed.liquid * liquid_j_per_kg(passed.plate_c);
            sum.ice_kg_per_s += passed.ice;
            sum.ice_w += passed.ice * ice_j_per_kg(passed.plate_c);
            sum.plate_mean_c += passed.plate_c / self.cells as f64;
            sum.plate_coldest_c = sum.plate_coldest_c.min(passed.plate_c);
        }
        let out = sum.outlets(inlets);
        sum.gap_k = (out.supply_c - self.at[0][2]).abs().max((out.exhaust_c - self.at[self.cells][0]).abs());
        sum
    }
}

fn is_near(a: &Inlets, b: &Inlets) -> bool {
    (a.extract_c - b.extract_c).abs() < 1e-6
        && (a.extract_w - b.extract_w).abs() < 1e-7
        && a.outdoor_c == b.outdoor_c
        && a.outdoor_w == b.outdoor_w
        && a.extract_kg_per_s == b.extract_kg_per_s
        && a.supply_kg_per_s == b.supply_kg_per_s
}

fn straight_lines(inlets: &Inlets, cells: usize) -> Vec<[f64; 4]> {
    let span = inlets.extract_c - inlets.outdoor_c;
    let along = |i: usize| i as f64 / cells as f64;
    (0..=cells)
        .map(|i| {
            let extract = inlets.extract_c - 0.7 * span * along(i);
            let supply = inlets.outdoor_c + 0.7 * span * (1.0 - along(i));
            [extract, inlets.extract_w, supply, inlets.outdoor_w]
        })
        .collect()
}

//! Parts of a core that lie one behind the other in counterflow: a single cell, or a crossflow grid of them.
//!
//! A part is solved for given entering air, with the slopes of what leaves it, so that the series can be closed by
//! Newton steps. A grid is marched along both streams; what leaves it is mixed, conserving water and enthalpy.
//!
//! Not here: a cell's physics (`patch`), the closing (`series`).

use psychrometrics::formulas::{
    enthalpy_j_per_kg, moist_heat_capacity, temperature_from_enthalpy_c, vapour_enthalpy_j_per_kg,
};

use super::patch::{Air, Patch, Plate};

/// How the cells of a part lie.
#[derive(Debug, Clone, Copy)]
enum Shape {
    One,
    /// So many cells along each stream.
    Grid(usize),
}

/// A part with its place in the core, and the plate temperatures of its cells when it was last solved.
#[derive(Debug, Clone)]
pub(super) struct Part {
    shape: Shape,
    /// Share of the core on the house side of this part.
    start: f64,
    share: f64,
    /// Conductance of this part over that of the whole core: its share, or 0 where there is no core.
    size: f64,
    plate_c: Vec<f64>,
}

/// Air that leaves a part, with its slopes in the four numbers that enter (order of [`Patch::slope`]).
#[derive(Debug, Clone, Copy)]
pub(super) struct Through {
    pub(super) out: [Air; 2],
    pub(super) slope: [[f64; 4]; 4],
}

/// Where a cell lies.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// Middle of the cell along the core, 0 at the house side.
    pub(super) along: f64,
    /// Conductance of the cell over that of the whole core.
    pub(super) size: f64,
    /// Cells at the same place along the core.
    pub(super) abreast: usize,
}

/// Air on its way through a grid.
#[derive(Debug, Clone, Copy)]
struct Carried {
    air: Air,
    slope: [[f64; 4]; 2],
}

impl Part {
    pub(super) fn one(start: f64, share: f64, core: f64) -> Self {
        Self { shape: Shape::One, start, share, size: share * core, plate_c: vec![f64::NAN] }
    }

    pub(super) fn grid(cells: usize, start: f64, share: f64, core: f64) -> Self {
        let size = share * core;
        Self { shape: Shape::Grid(cells), start, share, size, plate_c: vec![f64::NAN; cells * cells] }
    }

    /// Solves the part for this entering air and shows each cell.
    pub(super) fn pass(
        &mut self,
        plate: &Plate,
        inlet: [Air; 2],
        show: &mut impl FnMut(&Patch, Place),
    ) -> Through {
        match self.shape {
            Shape::One => {
                let patch = Patch::solve(plate, inlet, [self.size; 2], self.plate_c[0]);
                self.plate_c[0] = patch.plate_c;
                show(&patch, Place { along: self.start + 0.5 * self.share, size: self.size, abreast: 1 });
                Through { out: patch.out, slope: patch.slope }
            }
            Shape::Grid(cells) => self.march(plate, inlet, cells, show),
        }
    }

    /// Column by column along the extract stream; the supply stream crosses each column.
    fn march(
        &mut self,
        plate: &Plate,
        inlet: [Air; 2],
        cells: usize,
        show: &mut impl FnMut(&Patch, Place),
    ) -> Through {
        let strip = 1.0 / cells as f64;
        let mut extract = vec![Carried::entering(inlet[1], 2); cells];
        let mut supply = Vec::with_capacity(cells);
        for column in 0..cells {
            let along = self.start + (column as f64 + 0.5) * strip * self.share;
            let place = Place { along, size: self.size * strip * strip, abreast: cells };
            let mut crossing = Carried::entering(inlet[0], 0);
            for (row, extract) in extract.iter_mut().enumerate() {
                let plate_c = &mut self.plate_c[column * cells + row];
                let entering = [crossing.air, extract.air];
                let patch = Patch::solve(plate, entering, [self.size * strip; 2], *plate_c);
                *plate_c = patch.plate_c;
                show(&patch, place);
                [crossing, *extract] = Carried::after(&patch, [crossing, *extract]);
            }
            supply.push(crossing);
        }
        let [supply, extract] = [Carried::mixed(&supply), Carried::mixed(&extract)];
        Through {
            out: [supply.air, extract.air],
            slope: [supply.slope[0], supply.slope[1], extract.slope[0], extract.slope[1]],
        }
    }

    /// Shows spots without extent at the rim of the part: the two ends of a cell; of a grid the corners whose air is
    /// known without the grid, since along the edge where one stream enters, that stream is as it entered.
    pub(super) fn spots(&self, plate: &Plate, inlet: [Air; 2], show: &mut impl FnMut(&Patch)) {
        let cells = match self.shape {
            Shape::One => 1,
            Shape::Grid(cells) => cells,
        };
        let mut spot = |air| show(&Patch::solve(plate, air, [0.0; 2], self.plate_c[0]));
        if cells == 1 {
            let out = Patch::solve(plate, inlet, [self.size; 2], self.plate_c[0]).out;
            spot([out[0], inlet[1]]);
            spot([inlet[0], out[1]]);
            return;
        }
        spot(inlet);
        for moving in 0..2 {
            let mut step = [0.0; 2];
            step[moving] = self.size / cells as f64;
            let mut air = inlet;
            for _ in 0..cells {
                air[moving] = Patch::solve(plate, air, step, self.plate_c[0]).out[moving];
            }
            spot(air);
        }
    }
}

impl Carried {
    /// Entering air; `first` is the place of its temperature among the four entering numbers.
    fn entering(air: Air, first: usize) -> Self {
        let mut slope = [[0.0; 4]; 2];
        slope[0][first] = 1.0;
        slope[1][first + 1] = 1.0;
        Self { air, slope }
    }

    fn after(patch: &Patch, [supply, extract]: [Self; 2]) -> [Self; 2] {
        let entering = [supply.slope[0], supply.slope[1], extract.slope[0], extract.slope[1]];
        let row = |leaving: usize| {
            let by = &patch.slope[leaving];
            std::array::from_fn(|i| (0..4).map(|k| by[k] * entering[k][i]).sum())
        };
        [
            Self { air: patch.out[0], slope: [row(0), row(1)] },
            Self { air: patch.out[1], slope: [row(2), row(3)] },
        ]
    }

    /// Mean water and mean enthalpy of equal flows.
    fn mixed(all: &[Self]) -> Self {
        let part = 1.0 / all.len() as f64;
        let mut w = 0.0;
        let mut enthalpy = 0.0;
        let mut by_w = [0.0; 4];
        let mut by_enthalpy = [0.0; 4];
        for one in all {
            w += part * one.air.w;
            enthalpy += part * enthalpy_j_per_kg(one.air.c, one.air.w);
            for i in 0..4 {
                by_w[i] += part * one.slope[1][i];
                by_enthalpy[i] += part
                    * (moist_heat_capacity(one.air.w) * one.slope[0][i]
                        + vapour_enthalpy_j_per_kg(one.air.c) * one.slope[1][i]);
            }
        }
        let c = temperature_from_enthalpy_c(enthalpy, w);
        let by_c = std::array::from_fn(|i| {
            (by_enthalpy[i] - vapour_enthalpy_j_per_kg(c) * by_w[i]) / moist_heat_capacity(w)
        });
        Self { air: Air { c, w }, slope: [by_c, by_w] }
    }
}

//! The core cut into cells while its face is dry, in closed form: where it would be wet, and where the wet core's search starts.
//!
//! Not here: the wet core (`wet_cells`).

use lanes::{Mask, Real};
use psychrometrics::formulas::fast_saturation_humidity_ratio;

use crate::dry::{counterflow_conductance_ratio, mean_drive};
use crate::pair::Pair;
use crate::streams::HotAndCold;
use crate::wet_cells::{Face, Vapour};

/// Cells along the core.
pub(crate) const CELLS: usize = 8;
/// Sizes of cells, as shares of the core: small at the cold end, where water and ice begin.
const SIZES: [f64; 3] = [0.18, 0.11, 0.03];
/// Which size each cell has, from the warm end.
const SIZE_OF: [usize; CELLS] = [0, 0, 0, 0, 1, 1, 2, 2];

/// Share of the core that a cell has.
pub(crate) const fn share(cell: usize) -> f64 {
    SIZES[SIZE_OF[cell]]
}

/// Streams in the middle of a cell.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Middle<R> {
    pub(crate) hot: Pair<R>,
    pub(crate) cold: Pair<R>,
}

/// Masks of a cell: its face is wet; more condenses there than evaporates again (wheels); and either of these only since
/// the last look.
///
/// What is new is kept for one step: its tangent is that of the colder face before, its answer too warm, and taking it
/// back on that sends the cells round in circles.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wetness<M> {
    pub(crate) wet: M,
    pub(crate) excess: M,
    pub(crate) wet_is_new: M,
    pub(crate) excess_is_new: M,
}

impl<M: Mask> Wetness<M> {
    /// Whether it is other than it was, or could not turn back yet. Of excess a membrane knows nothing.
    #[inline(always)]
    pub(crate) fn turned(&self, before: &Self, face: Face) -> M {
        let wet = (self.wet & !before.wet) | (!self.wet & before.wet) | before.wet_is_new;
        match face {
            Face::Membrane => wet,
            Face::Wheel => {
                let excess = (self.excess & !before.excess) | (!self.excess & before.excess);
                wet | excess | before.excess_is_new
            }
        }
    }

    #[inline(always)]
    pub(crate) fn select(mask: M, yes: &Self, no: &Self) -> Self {
        Self {
            wet: (mask & yes.wet) | (!mask & no.wet),
            excess: (mask & yes.excess) | (!mask & no.excess),
            wet_is_new: (mask & yes.wet_is_new) | (!mask & no.wet_is_new),
            excess_is_new: (mask & yes.excess_is_new) | (!mask & no.excess_is_new),
        }
    }
}

/// The core while its face is dry: streams in the middle of each cell, and where the face would be wet.
#[derive(Debug, Clone, Copy)]
pub(crate) struct DryCells<R: Real> {
    pub(crate) middles: [Middle<R>; CELLS],
    pub(crate) wetness: [Wetness<R::Mask>; CELLS],
    /// Any cell of the lane is wet.
    pub(crate) wet: R::Mask,
}

/// Walks along the dry core and looks where its face passes saturation.
#[inline(always)]
pub(crate) fn dry_cells<R: Real>(s: &HotAndCold<R>, vapour: &Vapour<R>) -> DryCells<R> {
    let heat = DryWalk::new(s.ua, s.hot_capacity, s.cold_capacity, (s.hot_c, s.cold_c));
    let water = DryWalk::new(vapour.dry, vapour.hot_kg_per_s, vapour.cold_kg_per_s, (s.hot_w, s.cold_w));
    let film_share = vapour.dry / vapour.film;
    let (mut heat, mut water) = (heat, water);
    let mut wet = R::Mask::splat(false);
    let mut wetness = [Wetness { wet, excess: wet, wet_is_new: wet, excess_is_new: wet }; CELLS];
    let mut middles = [Middle { hot: Pair(s.hot_c, s.hot_w), cold: Pair(s.cold_c, s.cold_w) }; CELLS];
    for cell in 0..CELLS {
        let (hot_c, cold_c) = heat.next(cell);
        let (hot_w, cold_w) = water.next(cell);
        let saturation = fast_saturation_humidity_ratio((hot_c + cold_c) * 0.5, s.pressure_pa);
        let here = (hot_w - film_share * (hot_w - cold_w)).gt(saturation);
        wetness[cell].wet = here;
        wet = wet | here;
        middles[cell] = Middle { hot: Pair(hot_c, hot_w), cold: Pair(cold_c, cold_w) };
    }
    DryCells { middles, wetness, wet }
}

/// Two streams of one potential along the dry core, from the warm end, cell by cell.
struct DryWalk<R> {
    hot: R,
    cold: R,
    /// By size of cell.
    hot_step: [R; 3],
    decay: [R; 3],
}

impl<R: Real> DryWalk<R> {
    #[inline(always)]
    fn new(conductance: R, hot_capacity: R, cold_capacity: R, (hot, cold): (R, R)) -> Self {
        let passed = counterflow_conductance_ratio(conductance, hot_capacity, cold_capacity) * (hot - cold);
        let (per_hot, per_cold) = (R::one() / hot_capacity, R::one() / cold_capacity);
        let (mut hot_step, mut decay) = ([R::zero(); 3], [R::zero(); 3]);
        for (size, &share) in SIZES.iter().enumerate() {
            let z = conductance * share * (per_hot - per_cold);
            let mean = mean_drive(z);
            hot_step[size] = conductance * share * mean * per_hot;
            decay[size] = R::one() - z * mean;
        }
        Self { hot, cold: cold + passed * per_cold, hot_step, decay }
    }

    /// Both streams in the middle of the next cell.
    #[inline(always)]
    fn next(&mut self, cell: usize) -> (R, R) {
        let difference = self.hot - self.cold;
        let (hot, cold) = (self.hot, self.cold);
        self.hot = hot - self.hot_step[SIZE_OF[cell]] * difference;
        self.cold = self.hot - difference * self.decay[SIZE_OF[cell]];
        ((hot + self.hot) * 0.5, (cold + self.cold) * 0.5)
    }
}

/// Share of a cell that is below 0 °C, its temperature running straight from edge to edge and the change blended
/// over ±0.25 K.
#[inline(always)]
pub(crate) fn frozen_share<R: Real>(face_c: &[R; CELLS], cell: usize) -> R {
    let here = face_c[cell];
    let before = if cell == 0 { here * 2.0 - face_c[1] } else { face_c[cell - 1] };
    let after = if cell + 1 == CELLS { here * 2.0 - face_c[cell - 1] } else { face_c[cell + 1] };
    let (one_end, other_end) = (
        edge((before, share(cell.saturating_sub(1))), (here, share(cell))),
        edge((here, share(cell)), (after, share((cell + 1).min(CELLS - 1)))),
    );
    let high = one_end.max(other_end) + 0.25;
    let low = one_end.min(other_end) - 0.25;
    (-low / (high - low)).between(0.0, 1.0)
}

/// Temperature at the edge between two cells of these sizes.
#[inline(always)]
fn edge<R: Real>((before_c, before): (R, f64), (after_c, after): (R, f64)) -> R {
    let weight = before / (before + after);
    before_c * (1.0 - weight) + after_c * weight
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Middles of cells of 0.03 and 0.09: the edge between them is a quarter of the way from the one to the other.
    #[test]
    fn the_edge_between_two_cells_lies_on_the_straight_line_between_their_middles() {
        assert!((edge((10.0, 0.03), (20.0, 0.09)) - 12.5_f64).abs() < 1e-12);
        assert!((edge((-3.0, 0.11), (5.0, 0.11)) - 1.0_f64).abs() < 1e-12);
    }

    /// A face whose temperature runs straight: each cell's edges lie on that line, at the cold and the warm end too, and its share below zero is
    /// `(0.25 − t_low)/(t_high − t_low + 0.5)`, held between none and all.
    #[test]
    fn the_frozen_share_of_a_straight_face_is_what_lies_below_zero() {
        for (warm_c, cold_c) in [(4.0, -4.0), (0.3, -8.0), (9.0, -0.1), (12.0, 3.0), (-2.0, -9.0)] {
            let at_c = |place: f64| warm_c + (cold_c - warm_c) * place;
            let starts: [f64; CELLS] = std::array::from_fn(|cell| (0..cell).map(share).sum());
            let middles: [f64; CELLS] = std::array::from_fn(|cell| at_c(starts[cell] + 0.5 * share(cell)));
            for (cell, start) in starts.into_iter().enumerate() {
                let (high_c, low_c) = (at_c(start), at_c(start + share(cell)));
                let expected = ((0.25 - low_c) / (high_c - low_c + 0.5)).clamp(0.0, 1.0);
                let found: f64 = frozen_share(&middles, cell);
                assert!((found - expected).abs() < 1e-9, "{warm_c} to {cold_c}, {cell}: {found} {expected}");
            }
        }
    }
}

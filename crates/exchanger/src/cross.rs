//! Crossflow past plates or membranes: dry in closed form, wet on a grid of six by six.
//!
//! Both streams enter the grid at a known edge, so it is marched once, cell by cell, with no search over the whole. A
//! counterflow core of equal dry effectiveness would be up to 0.65 K and 15 % of the water off: water forms in the
//! cold corner long before it forms on the mean of the cold end.
//!
//! The grid is solved with conductances that make its dry effectiveness the exact one (`arrangement`), so that
//! the answer does not jump where the first cell turns wet.
//! Not here: counterflow (`wet_plate`, `wet_cells`).

use lanes::{Mask, Real};
use psychrometrics::formulas::fast_saturation_humidity_ratio_with_slope;

use crate::dry::{counterflow_conductance_ratio, dry};
use crate::line::dry_fluxes;
use crate::membrane::{TOKEN_KG_PER_S, keep_supply_temperature, post_wet, vapour_of, with_vapour_crossing};
use crate::streams::{Core, Fluxes, HotAndCold, Inlets, into_supply};
use crate::wet_cell::latent_heat;
use crate::wet_cells::{Face, Vapour, WetCells};

/// Cells along each stream.
pub(crate) const GRID: usize = 6;
/// Shares of the cold stream's way, from where it enters: thin at first, where the core is coldest.
pub(crate) const ROWS: [f64; GRID] = [0.03, 0.09, 0.17, 0.22, 0.24, 0.25];
/// Shares of the hot stream's way: thin at its end.
pub(crate) const COLUMNS: [f64; GRID] = [0.25, 0.24, 0.22, 0.17, 0.09, 0.03];
const FACE_STEPS: usize = 2;

#[inline(always)]
pub(crate) fn cross<R: Real>(core: &Core<R>, inlets: &Inlets<R>) -> Fluxes<R> {
    let (entering, extract_is_hot) = HotAndCold::sort(inlets, core.ua_w_per_k);
    let token = R::splat(TOKEN_KG_PER_S);
    let (hot_air, cold_air) = (entering.hot_kg_per_s.max(token), entering.cold_kg_per_s.max(token));
    let per_difference = counterflow_conductance_ratio(core.vapour_kg_per_s, hot_air, cold_air);
    let crossing = per_difference * (entering.hot_w - entering.cold_w);
    let even = with_vapour_crossing(&entering, crossing);
    let mut fluxes = dry_fluxes(inlets, &dry(&even), extract_is_hot);
    keep_supply_temperature(&mut fluxes, (&even, &entering), extract_is_hot);
    fluxes.vapour_kg_per_s = into_supply(extract_is_hot, crossing);
    fluxes.vapour_supply_effectiveness = per_difference / inlets.supply_kg_per_s.max(token);
    let s = HotAndCold { ua: core.crossed_ua_w_per_k, ..even };
    let vapour = vapour_of(Face::Membrane, &s, core.crossed_vapour_kg_per_s);
    let grid = Grid::new(&s, &vapour);
    let edge = grid.cold_edge();
    fluxes.plate_cold_c = edge.corner_c;
    let wet = edge.wet & s.ua.gt(R::zero());
    if wet.any() {
        let solution = R::outlined(
            #[inline(always)]
            || grid.march(),
        );
        post_wet(&mut fluxes, &entering, &solution, (wet, extract_is_hot));
    }
    fluxes
}

/// What does not change from cell to cell.
struct Grid<'a, R> {
    s: &'a HotAndCold<R>,
    vapour: &'a Vapour<R>,
    film_w_per_k: R,
    /// Half the film conductance over each stream's heat capacity flow.
    hot: R,
    cold: R,
    /// Half over each stream's flow of dry air [s/kg].
    hot_air: R,
    cold_air: R,
}

/// The edge along which the cold stream enters, while it is dry.
struct ColdEdge<R: Real> {
    corner_c: R,
    wet: R::Mask,
}

/// Both streams as they enter a cell.
#[derive(Clone, Copy)]
struct Entering<R> {
    hot_c: R,
    hot_w: R,
    cold_c: R,
    cold_w: R,
}

/// What a cell passes, for the whole core's area.
struct Passed<R> {
    face_c: R,
    /// Out of the hot stream and into the cold one \[W\].
    from_hot_w: R,
    to_cold_w: R,
    /// Vapour into the cold stream, and water left on the face [kg/s].
    vapour: R,
    deposit: R,
}

impl<'a, R: Real> Grid<'a, R> {
    #[inline(always)]
    fn new(s: &'a HotAndCold<R>, vapour: &'a Vapour<R>) -> Self {
        let film_w_per_k = s.ua * 2.0;
        let half = 0.5;
        Self {
            s,
            vapour,
            film_w_per_k,
            hot: film_w_per_k * half / s.hot_capacity,
            cold: film_w_per_k * half / s.cold_capacity,
            hot_air: R::splat(half) / vapour.hot_kg_per_s,
            cold_air: R::splat(half) / vapour.cold_kg_per_s,
        }
    }

    /// Hot air that meets nothing but entering cold air: the coldest way through the core, in closed form.
    #[inline(always)]
    fn cold_edge(&self) -> ColdEdge<R> {
        let (s, v) = (self.s, self.vapour);
        let film_share = v.dry / v.film;
        let (mut over_c, mut over_w) = (s.hot_c - s.cold_c, s.hot_w - s.cold_w);
        let mut wet = R::Mask::splat(false);
        for share in COLUMNS {
            over_c = over_c * (-(s.ua * share / s.hot_capacity).between(0.0, 100.0)).exp();
            over_w = over_w * (-(v.dry * share / v.hot_kg_per_s).between(0.0, 100.0)).exp();
            let face_w = s.cold_w + over_w * (R::one() - film_share);
            let (saturation, _) =
                fast_saturation_humidity_ratio_with_slope(s.cold_c + over_c * 0.5, s.pressure_pa);
            wet = wet | face_w.gt(saturation);
        }
        ColdEdge { corner_c: s.cold_c + over_c * 0.5, wet }
    }

    #[inline(always)]
    fn march(&self) -> WetCells<R> {
        let (s, zero) = (self.s, R::zero());
        let mut cold = [(s.cold_c, s.cold_w); GRID];
        let mut sum = Sum { vapour: zero, liquid: zero, ice: zero, liquid_c: zero, ice_c: zero };
        let (mut hot_out, mut hot_out_w) = ([zero; GRID], [zero; GRID]);
        let mut hot_mean = zero;
        for (row, &wide) in ROWS.iter().enumerate() {
            let (mut hot_c, mut hot_w) = (s.hot_c, s.hot_w);
            for (column, &long) in cold.iter_mut().zip(&COLUMNS) {
                let entering = Entering { hot_c, hot_w, cold_c: column.0, cold_w: column.1 };
                let passed = self.cell(&entering, (wide, long));
                hot_c -= passed.from_hot_w * long / s.hot_capacity;
                hot_w -= (passed.vapour + passed.deposit) * long / self.vapour.hot_kg_per_s;
                column.0 += passed.to_cold_w * wide / s.cold_capacity;
                column.1 += passed.vapour * wide / self.vapour.cold_kg_per_s;
                sum.add(&passed, wide * long);
            }
            (hot_out[row], hot_out_w[row]) = (hot_c, hot_w);
            hot_mean += hot_c * wide;
        }
        // The corner itself lies half a row beyond the first row's middle, a quarter of the way from there to the second row's.
        let (corner_c, corner_w) =
            ((hot_out[0] * 5.0 - hot_out[1]) * 0.25, (hot_out_w[0] * 5.0 - hot_out_w[1]) * 0.25);
        let mut cold_mean = zero;
        for (column, &long) in cold.iter().zip(&COLUMNS) {
            cold_mean += column.0 * long;
        }
        sum.finish((hot_mean, cold_mean), self.corner_c(corner_c, corner_w))
    }

    /// One cell, each stream taken at the middle of its way through it.
    #[inline(always)]
    fn cell(&self, e: &Entering<R>, (wide, long): (f64, f64)) -> Passed<R> {
        let (one, v, film) = (R::one(), self.vapour, self.film_w_per_k);
        let (hot, cold) = (self.hot * long, self.cold * wide);
        let (hot_air_half, cold_air_half) = (self.hot_air * long, self.cold_air * wide);
        // Middle of each stream: `base + share × face temperature`.
        let (hot_scale, cold_scale) = (one / (hot + 1.0), one / (cold + 1.0));
        let (hot_base, hot_share) = (e.hot_c * hot_scale, hot * hot_scale);
        let (cold_base, cold_share) = (e.cold_c * cold_scale, cold * cold_scale);
        let dry_c = (hot_base + cold_base) / (R::splat(2.0) - hot_share - cold_share);
        let (hot_step, cold_step) = (hot_air_half * v.dry, cold_air_half * v.dry);
        let dry_difference = (e.hot_w - e.cold_w) / (hot_step + cold_step + 1.0);
        let film_share = v.dry / v.film;
        let dry_face_w = e.hot_w - (hot_step + film_share) * dry_difference;
        let (hot_air, cold_air) = (hot_air_half * v.film, cold_air_half * v.from_face);
        let (hot_air_scale, cold_air_scale) = (one / (hot_air + 1.0), one / (cold_air + 1.0));
        let from_hot = v.film * hot_air_scale;
        let into_cold = v.from_face * cold_air_scale;

        let mut face_c = dry_c;
        let mut first = R::zero();
        for step in 0..FACE_STEPS {
            let (saturation, slope) = fast_saturation_humidity_ratio_with_slope(face_c, self.s.pressure_pa);
            if step == 0 {
                first = saturation;
            }
            let latent = latent_heat(face_c);
            let deposit = from_hot * (e.hot_w - saturation) - into_cold * (saturation - e.cold_w);
            let miss = film * (hot_base + cold_base - face_c * (R::splat(2.0) - hot_share - cold_share))
                + latent * deposit;
            let stiffness =
                film * (R::splat(2.0) - hot_share - cold_share) + latent * slope * (from_hot + into_cold);
            face_c = (face_c + miss / stiffness.max(R::splat(1e-12))).max(e.cold_c).min(e.hot_c);
        }
        let (saturation, _) = fast_saturation_humidity_ratio_with_slope(face_c, self.s.pressure_pa);
        let vapour = into_cold * (saturation - e.cold_w);
        let deposit = from_hot * (e.hot_w - saturation) - vapour;
        let wet = dry_face_w.gt(first) & deposit.gt(R::zero());
        let face_c = R::select(wet, face_c, dry_c);
        Passed {
            face_c,
            from_hot_w: film * (hot_base - face_c * (one - hot_share)),
            to_cold_w: film * (face_c * (one - cold_share) - cold_base),
            vapour: R::select(wet, vapour, v.dry * dry_difference),
            deposit: R::select(wet, deposit, R::zero()),
        }
    }

    /// The face in the coldest corner: hot air as it leaves there against entering cold air.
    #[inline(always)]
    fn corner_c(&self, hot_c: R, hot_w: R) -> R {
        let (s, v) = (self.s, self.vapour);
        let between = (hot_c + s.cold_c) * 0.5;
        let mut face_c = between;
        for _ in 0..FACE_STEPS {
            let (saturation, slope) = fast_saturation_humidity_ratio_with_slope(face_c, s.pressure_pa);
            let latent = latent_heat(face_c);
            let deposit = v.film * (hot_w - saturation) - v.from_face * (saturation - s.cold_w);
            let miss = self.film_w_per_k * (between - face_c) * 2.0 + latent * deposit;
            let stiffness = self.film_w_per_k * 2.0 + latent * slope * (v.film + v.from_face);
            face_c = (face_c + miss / stiffness.max(R::splat(1e-12))).max(s.cold_c).min(s.hot_c);
        }
        face_c.max(between).max(s.cold_c)
    }
}

/// What the cells add up to.
struct Sum<R> {
    vapour: R,
    liquid: R,
    ice: R,
    liquid_c: R,
    ice_c: R,
}

impl<R: Real> Sum<R> {
    #[inline(always)]
    fn add(&mut self, p: &Passed<R>, area: f64) {
        let p = Passed { vapour: p.vapour * area, deposit: p.deposit * area, ..*p };
        let ice = p.deposit * ((R::splat(0.25) - p.face_c) * 2.0).between(0.0, 1.0);
        let liquid = p.deposit - ice;
        self.vapour += p.vapour;
        self.liquid += liquid;
        self.ice += ice;
        self.liquid_c += liquid * p.face_c.max(R::zero());
        self.ice_c += ice * p.face_c.min(R::zero());
    }

    #[inline(always)]
    fn finish(self, (hot_out_c, cold_out_c): (R, R), face_cold_c: R) -> WetCells<R> {
        let tiny = R::splat(1e-30);
        WetCells {
            cold_out_c,
            vapour_kg_per_s: self.vapour,
            liquid_kg_per_s: self.liquid,
            ice_kg_per_s: self.ice,
            liquid_c: self.liquid_c / self.liquid.max(tiny),
            ice_c: self.ice_c / self.ice.max(tiny),
            hot_out_c,
            face_cold_c,
        }
    }
}

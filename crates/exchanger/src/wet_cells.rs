//! Counterflow past a face that passes vapour and may be wet anywhere: eight cells, a few Newton steps.
//!
//! Each cell is linear once it is known whether its face is wet and the saturation curve is replaced by its tangent at
//! the cell's temperature. The whole is then a chain of 2 × 2 blocks: from the cold end each cell answers how the
//! cold stream that leaves it follows from the hot stream that enters it, so one sweep there and one back
//! solve all cells at once. The tangents and the wet cells are found again from that answer until it stands.
//! Sweeps that improve heat and vapour in turns (Gauss–Seidel) need about a hundred rounds for the same.
//!
//! Membrane: a wet face sits at saturation of its own temperature; vapour goes on from there through the membrane and
//! the far film. Wheel: water that condenses in the one half turn evaporates in the other, as far as the other
//! stream takes it; what it does not take is excess.
//!
//! Left out: conduction along the plate.
//! Not here: one cell (`wet_cell`), the dry core in closed form (`dry`, `dry_cells`), what the answer is posted as (`membrane`).

use lanes::{Mask, Real};
use psychrometrics::formulas::{
    CP_VAPOUR_J_PER_KGK, fast_saturation_humidity_ratio_with_slope, moist_heat_capacity,
};

use crate::dry_cells::{CELLS, DryCells, Middle, Wetness, frozen_share, share};
use crate::pair::{Matrix, Pair};
use crate::streams::HotAndCold;
use crate::wet_cell::{Flow, Guess, Linear, latent_heat};

/// Newton steps at most. Of a membrane's wet solutions in a severe winter three in a thousand want more than five; a wheel's cells may
/// switch to and fro for ever.
const MEMBRANE_STEPS: usize = 7;
const WHEEL_STEPS: usize = 5;
/// An answer stands when no face has moved further than this in the last step \[K\]; another step moves it by some thousandths of that.
const SETTLED_K: f64 = 1e-2;

/// What becomes of water on the face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Face {
    /// It stays and drains; vapour passes from the wet face through the membrane.
    Membrane,
    /// It is carried over and evaporates into the other stream, as far as that takes it.
    Wheel,
}

/// Conductances for vapour [kg dry air/s], for the whole core.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Vapour<R> {
    /// Stream to stream while the face is dry.
    pub(crate) dry: R,
    /// From the hot stream to the face.
    pub(crate) film: R,
    /// From the wet face to the cold stream.
    pub(crate) from_face: R,
    pub(crate) hot_kg_per_s: R,
    pub(crate) cold_kg_per_s: R,
}

/// What the wet core passes and leaves.
#[derive(Debug, Clone, Copy)]
pub(crate) struct WetCells<R> {
    /// Cold stream leaving [°C].
    pub(crate) cold_out_c: R,
    /// Vapour that it takes up [kg/s].
    pub(crate) vapour_kg_per_s: R,
    pub(crate) liquid_kg_per_s: R,
    pub(crate) ice_kg_per_s: R,
    /// Mean temperature of the face where liquid and ice form [°C].
    pub(crate) liquid_c: R,
    pub(crate) ice_c: R,
    pub(crate) hot_out_c: R,
    pub(crate) face_cold_c: R,
}

/// What does not change from cell to cell.
#[derive(Clone, Copy)]
struct Core<'a, R> {
    s: &'a HotAndCold<R>,
    vapour: &'a Vapour<R>,
    face: Face,
    film_w_per_k: R,
    /// One over a stream's flow of dry air [s/kg].
    per_hot_air: R,
    per_cold_air: R,
}

/// How the streams leave a cell: `cold out = cold_of_hot × hot in + cold_rest`, `hot out = …`.
#[derive(Clone, Copy)]
struct Link<R> {
    hot_of_hot: Matrix<R>,
    hot_rest: Pair<R>,
    /// The same for the cold stream where it enters this cell, from the hot stream that leaves it.
    cold_in_of_hot: Matrix<R>,
    cold_in_rest: Pair<R>,
}

impl<R: Real> Link<R> {
    #[inline(always)]
    fn none() -> Self {
        let (m, p) = (Matrix::zero(), Pair(R::zero(), R::zero()));
        Self { hot_of_hot: m, hot_rest: p, cold_in_of_hot: m, cold_in_rest: p }
    }
}

/// Solves the core whose dry cells are given, in the lanes that are `wet`; the others hold no meaning.
#[inline(always)]
pub(crate) fn wet_cells<R: Real>(
    s: &HotAndCold<R>,
    vapour: &Vapour<R>,
    face: Face,
    (dry, wet): (&DryCells<R>, R::Mask),
) -> WetCells<R> {
    let film_w_per_k = s.ua * 2.0;
    let core = Core {
        s,
        vapour,
        face,
        film_w_per_k,
        per_hot_air: R::one() / vapour.hot_kg_per_s,
        per_cold_air: R::one() / vapour.cold_kg_per_s,
    };
    let mut wetness = dry.wetness;
    let mut guesses = [Guess::of_dry(&dry.middles[0], vapour); CELLS];
    for cell in 0..CELLS {
        guesses[cell] = core.first_guess(&dry.middles[cell], &mut wetness[cell]);
    }
    let mut cells = [Linear::none(); CELLS];
    let mut chain = core.sweep(&guesses, &wetness, &mut cells);
    // A lane whose answer stands keeps its guesses: its sweep comes out the same again, whatever its neighbours still need.
    let mut settled = !wet;
    let steps = match face {
        Face::Membrane => MEMBRANE_STEPS,
        Face::Wheel => WHEEL_STEPS,
    };
    for _ in 1..steps {
        let (mut next, mut next_wetness) = (guesses, wetness);
        let (mut moved_k, mut turned) = (R::zero(), R::Mask::splat(false));
        for cell in 0..CELLS {
            let own_face_c;
            (next[cell], own_face_c) =
                core.judge(&cells[cell], &chain.middles[cell], &mut next_wetness[cell]);
            moved_k = moved_k.max((own_face_c - guesses[cell].face_c).abs());
            turned = turned | next_wetness[cell].turned(&wetness[cell], face);
        }
        settled = settled | (moved_k.lt(R::splat(SETTLED_K)) & !turned);
        if settled.all() {
            break;
        }
        for cell in 0..CELLS {
            guesses[cell] = Guess::select(settled, &guesses[cell], &next[cell]);
            wetness[cell] = Wetness::select(settled, &wetness[cell], &next_wetness[cell]);
        }
        chain = core.sweep(&guesses, &wetness, &mut cells);
    }
    core.add_up(&chain, &cells, &wetness)
}

/// Streams along the wet core.
struct Chain<R> {
    middles: [Middle<R>; CELLS],
    hot_out: Pair<R>,
    cold_out: Pair<R>,
}

impl<R: Real> Core<'_, R> {
    /// Where the search starts in a cell, from the streams of the dry core.
    ///
    /// A membrane's wet face is brought near its own balance, so that the first answer may take a wet cell back. A wheel's net
    /// deposit is none as long as all evaporates again: its wet face starts as a dry one, and is new.
    #[inline(always)]
    fn first_guess(&self, m: &Middle<R>, wetness: &mut Wetness<R::Mask>) -> Guess<R> {
        let dry = Guess::of_dry(m, self.vapour);
        match self.face {
            Face::Membrane => {
                let wet_c = self.nearer(dry.face_c, dry.face_c, (m.hot.1, m.cold.1));
                Guess { face_c: R::select(wetness.wet, wet_c, dry.face_c), ..dry }
            }
            Face::Wheel => {
                wetness.wet_is_new = wetness.wet;
                dry
            }
        }
    }

    /// The linear cell about this guess.
    ///
    /// Face: `G (T − t_f) + v c_v (T − t) + d (h_v(T) − h_w(t_f)) = G (t_f − t)`, vapour that crosses (v) or is left (d)
    /// coming at the hot air's temperature T.
    #[inline(always)]
    fn linear(&self, cell: usize, guess: &Guess<R>, wetness: &Wetness<R::Mask>) -> Linear<R> {
        let zero = R::zero();
        let face_c = guess.face_c;
        let v = self.vapour;
        let wet = wetness.wet;
        // A dry face asks for no saturation.
        let (saturation, slope) = if wet.any() {
            fast_saturation_humidity_ratio_with_slope(face_c, self.s.pressure_pa)
        } else {
            (zero, zero)
        };
        let at_zero = saturation - slope * face_c;
        let film = R::select(wet, v.film, zero);
        let direct = R::select(wet, zero, v.dry);
        let out_of_hot = Flow { by_hot: film + direct, by_cold: direct, by_face: film };
        let onward = R::select(wet, v.from_face, zero);
        let wet_in = Flow { by_hot: direct, by_cold: direct + onward, by_face: -onward };
        let into_cold = match self.face {
            Face::Membrane => wet_in,
            Face::Wheel => Flow::select(wetness.excess, wet_in, out_of_hot),
        };
        let deposit = out_of_hot.less(into_cold);
        let latent = latent_heat(face_c);
        let (crossing, left) = (guess.crossing * CP_VAPOUR_J_PER_KGK, guess.deposit * CP_VAPOUR_J_PER_KGK);
        let film_w_per_k = self.film_w_per_k;
        let scale = R::one() / (film_w_per_k * 2.0 + left + latent * deposit.by_face * slope);
        let watery = latent * scale;
        let step = film_w_per_k * share(cell);
        Linear {
            at_zero,
            slope,
            out_of_hot,
            into_cold,
            hot_step: step / (v.hot_kg_per_s * moist_heat_capacity(guess.hot_w)),
            cold_step: step / (v.cold_kg_per_s * moist_heat_capacity(guess.cold_w)),
            by_hot_c: (film_w_per_k + crossing + left) * scale,
            by_cold_c: (film_w_per_k - crossing) * scale,
            by_hot: watery * deposit.by_hot,
            by_cold: -watery * deposit.by_cold,
            rest: -watery * deposit.by_face * at_zero,
        }
    }

    /// All cells made linear and solved together.
    #[inline(always)]
    fn sweep(
        &self,
        guesses: &[Guess<R>; CELLS],
        wetness: &[Wetness<R::Mask>; CELLS],
        cells: &mut [Linear<R>; CELLS],
    ) -> Chain<R> {
        let mut links = [Link::none(); CELLS];
        let mut of_hot = Matrix::zero();
        let mut rest = Pair(self.s.cold_c, self.s.cold_w);
        for cell in (0..CELLS).rev() {
            cells[cell] = self.linear(cell, &guesses[cell], &wetness[cell]);
            (links[cell], of_hot, rest) = self.link(cell, &cells[cell], (of_hot, rest));
        }
        let mut hot = Pair(self.s.hot_c, self.s.hot_w);
        let mut cold = of_hot.of(hot).plus(rest);
        let cold_out = cold;
        let mut middles = [Middle { hot, cold }; CELLS];
        for (middle, link) in middles.iter_mut().zip(&links) {
            let hot_next = link.hot_of_hot.of(hot).plus(link.hot_rest);
            let cold_next = link.cold_in_of_hot.of(hot_next).plus(link.cold_in_rest);
            *middle = Middle { hot: hot.plus(hot_next).times(0.5), cold: cold.plus(cold_next).times(0.5) };
            (hot, cold) = (hot_next, cold_next);
        }
        Chain { middles, hot_out: hot, cold_out }
    }

    /// Takes a cell into the chain: the cold stream that enters it is `of_hot × hot out + rest`; answers the same for
    /// the cold stream that leaves it and the hot stream that enters.
    #[inline(always)]
    fn link(
        &self,
        cell: usize,
        c: &Linear<R>,
        (of_hot, rest): (Matrix<R>, Pair<R>),
    ) -> (Link<R>, Matrix<R>, Pair<R>) {
        // Half of what each stream loses to (hot) or takes from (cold) the cell, by the streams' means.
        let (th, tc) = (c.hot_step * 0.5, c.cold_step * 0.5);
        let (out_hot, out_cold, out_rest) = c.out_of_hot.rows(c, self.per_hot_air * share(cell));
        let (in_hot, in_cold, in_rest) = c.into_cold.rows(c, self.per_cold_air * share(cell));
        let one = R::one();
        let hot_hot = Matrix(Pair(th * (one - c.by_hot_c), -th * c.by_hot), out_hot);
        let hot_cold = Matrix(Pair(-th * c.by_cold_c, -th * c.by_cold), out_cold);
        let hot_rest = Pair(-c.hot_step * c.rest, out_rest);
        let cold_hot = Matrix(Pair(tc * c.by_hot_c, tc * c.by_hot), in_hot);
        let cold_cold = Matrix(Pair(tc * (c.by_cold_c - 1.0), tc * c.by_cold), in_cold);
        let cold_rest = Pair(c.cold_step * c.rest, in_rest);

        // cold out = (1 − cold_cold)⁻¹ [cold_hot hot_in + (of_hot + cold_hot + cold_cold of_hot) hot_out + …]
        let solve_cold = cold_cold.times(-1.0).plus_one().inverse();
        let by_in = solve_cold.by(cold_hot);
        let by_out = solve_cold.by(of_hot.plus(cold_hot).plus(cold_cold.by(of_hot)));
        let cold_own = solve_cold.of(rest.plus(cold_cold.of(rest)).plus(cold_rest));
        // (1 + hot_hot + hot_cold (by_out + of_hot)) hot_out = (1 − hot_hot − hot_cold by_in) hot_in − …
        let solve_hot = hot_hot.plus(hot_cold.by(by_out.plus(of_hot))).plus_one().inverse();
        let hot_of_hot = solve_hot.by(hot_hot.plus(hot_cold.by(by_in)).times(-1.0).plus_one());
        let own = hot_cold.of(cold_own.plus(rest)).plus(hot_rest);
        let hot_own = solve_hot.of(own.times(-1.0));
        let link = Link { hot_of_hot, hot_rest: hot_own, cold_in_of_hot: of_hot, cold_in_rest: rest };
        (link, by_in.plus(by_out.by(hot_of_hot)), by_out.of(hot_own).plus(cold_own))
    }

    /// Whether a cell is wet, from its solution, and where its face is to be taken next; beside it the face as it came out.
    #[inline(always)]
    fn judge(&self, c: &Linear<R>, m: &Middle<R>, wetness: &mut Wetness<R::Mask>) -> (Guess<R>, R) {
        let v = self.vapour;
        let between = (m.hot.0 + m.cold.0) * 0.5;
        let face_c = R::select(wetness.wet, c.face_c(m), between);
        let (saturation, _) = fast_saturation_humidity_ratio_with_slope(face_c, self.s.pressure_pa);
        let condensing = v.film * (m.hot.1 - saturation);
        let crossing = v.dry * (m.hot.1 - m.cold.1);
        let onward = v.from_face * (saturation - m.cold.1);
        // A dry face is wet when its own humidity passes saturation; a wet one while water is left on it.
        let turns_wet = condensing.gt(crossing);
        let before = *wetness;
        let more = condensing.gt(onward);
        wetness.wet = match self.face {
            Face::Membrane => (before.wet & more) | (!before.wet & turns_wet),
            Face::Wheel => turns_wet,
        } | before.wet_is_new;
        wetness.excess = (wetness.wet & more) | before.excess_is_new;
        wetness.wet_is_new = wetness.wet & !before.wet;
        wetness.excess_is_new = wetness.excess & !before.excess;
        let on_line = c.at_zero + c.slope * face_c;
        // A tangent can overshoot far beyond any air there is.
        let taken_c = face_c.max(self.s.cold_c).min(self.s.hot_c);
        let guess = Guess {
            face_c: taken_c,
            hot_w: m.hot.1,
            cold_w: m.cold.1,
            crossing: c.into_cold.at(m, on_line),
            deposit: c.out_of_hot.less(c.into_cold).at(m, on_line),
        };
        (guess, face_c)
    }

    /// What the core passes in all, and where its cold end stands.
    #[inline(always)]
    fn add_up(
        &self,
        chain: &Chain<R>,
        cells: &[Linear<R>; CELLS],
        wetness: &[Wetness<R::Mask>; CELLS],
    ) -> WetCells<R> {
        let zero = R::zero();
        let mut face_c = [zero; CELLS];
        for cell in 0..CELLS {
            face_c[cell] = cells[cell].face_c(&chain.middles[cell]);
        }
        let [mut liquid, mut ice, mut liquid_sum, mut ice_sum] = [zero; 4];
        for cell in 0..CELLS {
            let (c, m) = (&cells[cell], &chain.middles[cell]);
            let flow = c.out_of_hot.less(c.into_cold).at(m, c.at_zero + c.slope * face_c[cell]);
            let wet = wetness[cell].wet;
            let deposit = R::select(wet, flow, zero).max(zero) * share(cell);
            let frozen = deposit * frozen_share(&face_c, cell);
            liquid += deposit - frozen;
            ice += frozen;
            liquid_sum += (deposit - frozen) * face_c[cell].max(zero);
            ice_sum += frozen * face_c[cell].min(zero);
        }
        let tiny = R::splat(1e-30);
        WetCells {
            cold_out_c: chain.cold_out.0,
            vapour_kg_per_s: (chain.cold_out.1 - self.s.cold_w) * self.vapour.cold_kg_per_s,
            liquid_kg_per_s: liquid,
            ice_kg_per_s: ice,
            liquid_c: liquid_sum / liquid.max(tiny),
            ice_c: ice_sum / ice.max(tiny),
            hot_out_c: chain.hot_out.0,
            face_cold_c: self.cold_end(chain, face_c[CELLS - 1], wetness[CELLS - 1].wet),
        }
    }

    /// The face where the hot stream leaves, from its own balance with the true saturation curve.
    #[inline(always)]
    fn cold_end(&self, chain: &Chain<R>, near_c: R, wet: R::Mask) -> R {
        let hot = chain.hot_out;
        let between = (hot.0 + self.s.cold_c) * 0.5;
        let nearer = self.nearer(near_c, between, (hot.1, self.s.cold_w));
        let face_c = self.nearer(nearer, between, (hot.1, self.s.cold_w));
        R::select(wet & face_c.gt(between), face_c, between)
    }

    /// A wet face nearer to its own balance between streams whose mean is `between_c`: one Newton step with the true saturation curve.
    #[inline(always)]
    fn nearer(&self, face_c: R, between_c: R, (hot_w, cold_w): (R, R)) -> R {
        let v = self.vapour;
        let (saturation, slope) = fast_saturation_humidity_ratio_with_slope(face_c, self.s.pressure_pa);
        let latent = latent_heat(face_c);
        let onward = v.from_face * (saturation - cold_w);
        let deposit = v.film * (hot_w - saturation) - onward;
        let miss = self.film_w_per_k * (between_c - face_c) * 2.0 + latent * deposit;
        let stiffness = self.film_w_per_k * 2.0 + latent * slope * (v.film + v.from_face);
        (face_c + miss / stiffness).max(self.s.cold_c).min(self.s.hot_c)
    }
}

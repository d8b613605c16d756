//! One cell of a wet core made linear: its face, the flows of vapour at it, and what it is made linear about.
//!
//! Not here: how cells are joined and their tangents found again (`wet_cells`).

use lanes::Real;
use psychrometrics::formulas::FUSION_0C_J_PER_KG;

use crate::dry_cells::Middle;
use crate::pair::Pair;
use crate::wet_cells::Vapour;

/// `by_hot × w_hot − by_cold × w_cold − by_face × w_saturation`: a flow of vapour.
#[derive(Clone, Copy)]
#[allow(clippy::struct_field_names)] // The shared word says what each multiplies.
pub(crate) struct Flow<R> {
    pub(crate) by_hot: R,
    pub(crate) by_cold: R,
    pub(crate) by_face: R,
}

impl<R: Real> Flow<R> {
    #[inline(always)]
    pub(crate) fn less(self, other: Self) -> Self {
        Self {
            by_hot: self.by_hot - other.by_hot,
            by_cold: self.by_cold - other.by_cold,
            by_face: self.by_face - other.by_face,
        }
    }

    /// Half of what the flow does to a stream of this step [s/kg], by the hot pair, by the cold pair, and the whole of what
    /// is constant.
    #[inline(always)]
    pub(crate) fn rows(self, c: &Linear<R>, step: R) -> (Pair<R>, Pair<R>, R) {
        let (half, face) = (step * 0.5, self.by_face * c.slope);
        (
            Pair(-face * c.by_hot_c * half, (self.by_hot - face * c.by_hot) * half),
            Pair(-face * c.by_cold_c * half, (-self.by_cold - face * c.by_cold) * half),
            -(self.by_face * (c.at_zero + c.slope * c.rest)) * step,
        )
    }

    #[inline(always)]
    pub(crate) fn select(mask: R::Mask, yes: Self, no: Self) -> Self {
        Self {
            by_hot: R::select(mask, yes.by_hot, no.by_hot),
            by_cold: R::select(mask, yes.by_cold, no.by_cold),
            by_face: R::select(mask, yes.by_face, no.by_face),
        }
    }

    #[inline(always)]
    pub(crate) fn at(self, middle: &Middle<R>, saturation: R) -> R {
        self.by_hot * middle.hot.1 - self.by_cold * middle.cold.1 - self.by_face * saturation
    }
}

/// A cell made linear about the temperature of its face.
#[derive(Clone, Copy)]
pub(crate) struct Linear<R> {
    /// Saturation `at_zero + slope × t`.
    pub(crate) at_zero: R,
    pub(crate) slope: R,
    pub(crate) out_of_hot: Flow<R>,
    pub(crate) into_cold: Flow<R>,
    /// Film conductance of the cell over each stream's heat capacity here.
    pub(crate) hot_step: R,
    pub(crate) cold_step: R,
    /// Face temperature `by_hot_c t_hot + by_cold_c t_cold + by_hot w_hot + by_cold w_cold + rest`.
    pub(crate) by_hot_c: R,
    pub(crate) by_cold_c: R,
    pub(crate) by_hot: R,
    pub(crate) by_cold: R,
    pub(crate) rest: R,
}

impl<R: Real> Linear<R> {
    #[inline(always)]
    pub(crate) fn none() -> Self {
        let zero = R::zero();
        let flow = Flow { by_hot: zero, by_cold: zero, by_face: zero };
        Self {
            at_zero: zero,
            slope: zero,
            out_of_hot: flow,
            into_cold: flow,
            hot_step: zero,
            cold_step: zero,
            by_hot_c: zero,
            by_cold_c: zero,
            by_hot: zero,
            by_cold: zero,
            rest: zero,
        }
    }

    #[inline(always)]
    pub(crate) fn face_c(&self, m: &Middle<R>) -> R {
        self.by_hot_c * m.hot.0
            + self.by_cold_c * m.cold.0
            + self.by_hot * m.hot.1
            + self.by_cold * m.cold.1
            + self.rest
    }
}

/// What a cell is made linear about, from the pass before.
#[derive(Clone, Copy)]
pub(crate) struct Guess<R> {
    pub(crate) face_c: R,
    pub(crate) hot_w: R,
    pub(crate) cold_w: R,
    /// Vapour into the cold stream, and water left on the face [kg/s for the whole core].
    pub(crate) crossing: R,
    pub(crate) deposit: R,
}

impl<R: Real> Guess<R> {
    #[inline(always)]
    pub(crate) fn of_dry(m: &Middle<R>, vapour: &Vapour<R>) -> Self {
        Self {
            face_c: (m.hot.0 + m.cold.0) * 0.5,
            hot_w: m.hot.1,
            cold_w: m.cold.1,
            crossing: vapour.dry * (m.hot.1 - m.cold.1),
            deposit: R::zero(),
        }
    }

    #[inline(always)]
    pub(crate) fn select(mask: R::Mask, yes: &Self, no: &Self) -> Self {
        Self {
            face_c: R::select(mask, yes.face_c, no.face_c),
            hot_w: R::select(mask, yes.hot_w, no.hot_w),
            cold_w: R::select(mask, yes.cold_w, no.cold_w),
            crossing: R::select(mask, yes.crossing, no.crossing),
            deposit: R::select(mask, yes.deposit, no.deposit),
        }
    }
}

/// Latent heat of deposit on a face of this temperature [J/kg]: of liquid above 0 °C, of ice below.
#[inline(always)]
pub(crate) fn latent_heat<R: Real>(face_c: R) -> R {
    let ice = ((R::splat(0.25) - face_c) * 2.0).between(0.0, 1.0);
    R::splat(2_501_000.0) - face_c * 2326.0 + ice * (face_c * 2086.0 + FUSION_0C_J_PER_KG)
}

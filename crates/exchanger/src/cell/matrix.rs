//! One cell of a turning wheel: a strip of matrix for a moment under the air of one side.
//!
//! Air and matrix cross each other as two streams do: the air at its flow, the matrix at its heat capacity rate and
//! water at its own rate. Both are taken at the mean of what enters and what leaves the cell. The one unknown is
//! the temperature at which the matrix leaves.
//!
//! Not here: the turn, and what is shed (`regenerator`).

use psychrometrics::formulas::{
    CP_LIQUID_J_PER_KGK, ice_enthalpy_j_per_kg, liquid_enthalpy_j_per_kg, moist_heat_capacity,
    saturation_humidity_ratio, vapour_enthalpy_j_per_kg,
};

use super::patch::{Air, ice_share};

/// The matrix at one place: temperature [°C] and all its water, as the rate at which a wheel like this carries
/// it [kg/s].
#[derive(Debug, Clone, Copy)]
pub(super) struct Strip {
    pub(super) c: f64,
    pub(super) water_kg_per_s: f64,
}

/// What the matrix can hold, and how its surface takes up water.
#[derive(Debug, Clone, Copy)]
pub(super) struct Store {
    /// Heat capacity rate, without its water [W/K].
    pub(super) heat_w_per_k: f64,
    /// Water sorbed for each kg/kg of humidity ratio in equilibrium [kg dry air/s]; 0 for a plain surface.
    pub(super) sorbed_kg_per_s: f64,
    pub(super) pressure_pa: f64,
}

/// The air of one side and its contact with the matrix; conductances are those of the whole side.
#[derive(Debug, Clone, Copy)]
pub(super) struct Side {
    pub(super) kg_per_s: f64,
    pub(super) inlet: Air,
    pub(super) film_w_per_k: f64,
    /// Mass conductance from air to matrix [kg dry air/s]; 0 where only heat passes.
    pub(super) film_kg_per_s: f64,
}

/// A solved cell; fluxes are rates for the whole side.
#[derive(Debug, Clone, Copy)]
pub(super) struct Contact {
    pub(super) air: Air,
    pub(super) strip: Strip,
    /// From air to matrix \[W\].
    pub(super) heat_w: f64,
    /// Vapour from air to matrix [kg/s].
    pub(super) vapour_kg_per_s: f64,
}

impl Store {
    /// Liquid or ice on the surface: what is above the sorbent's hold at saturation [kg/s].
    pub(super) fn film_kg_per_s(&self, strip: Strip) -> f64 {
        let hold = if self.sorbed_kg_per_s > 0.0 {
            self.sorbed_kg_per_s * saturation_humidity_ratio(strip.c, self.pressure_pa)
        } else {
            0.0
        };
        (strip.water_kg_per_s - hold).max(0.0)
    }

    /// Enthalpy that the matrix carries \[W\]; sorbed water counts as liquid, a film below 0 °C as ice.
    pub(super) fn enthalpy_w(&self, strip: Strip) -> f64 {
        let liquid = (self.heat_w_per_k + strip.water_kg_per_s * CP_LIQUID_J_PER_KGK) * strip.c;
        let ice = ice_share(strip.c);
        if ice == 0.0 {
            return liquid;
        }
        let melting = ice_enthalpy_j_per_kg(strip.c) - liquid_enthalpy_j_per_kg(strip.c);
        liquid + ice * self.film_kg_per_s(strip) * melting
    }

    /// Vapour from air to matrix [kg/s], for a mean matrix temperature.
    ///
    /// The surface is at the humidity ratio of the sorbent or at saturation, whichever is lower; a plain
    /// surface gives off no more than its film.
    fn vapour(&self, side: &Side, w: f64, strip: Strip, (mean_c, cell): (f64, f64)) -> f64 {
        if side.film_kg_per_s <= 0.0 {
            return 0.0;
        }
        let film = 1.0 / side.film_kg_per_s + 0.5 * cell / side.kg_per_s;
        let from_saturation = (w - saturation_humidity_ratio(mean_c, self.pressure_pa)) / film;
        let least = if self.sorbed_kg_per_s > 0.0 {
            let held = strip.water_kg_per_s / self.sorbed_kg_per_s;
            (w - held) / (film + 0.5 * cell / self.sorbed_kg_per_s)
        } else {
            -strip.water_kg_per_s / cell
        };
        from_saturation.max(least)
    }
}

impl Contact {
    /// Solves a cell that is this fraction of the side's depth and of its time.
    pub(super) fn solve(store: &Store, side: &Side, (air, strip): (Air, Strip), cell: f64) -> Self {
        let before_w = store.enthalpy_w(strip);
        let surplus = |leaving_c: f64| {
            let contact = Self::at(store, side, (air, strip), (leaving_c, cell));
            let given = contact.heat_w
                + contact.vapour_kg_per_s * vapour_enthalpy_j_per_kg(0.5 * (air.c + contact.air.c));
            (contact, before_w + cell * given - store.enthalpy_w(contact.strip))
        };
        let (mut low, mut high) = (air.c.min(strip.c) - MARGIN_K, air.c.max(strip.c) + MARGIN_K);
        let mut last = (strip.c, surplus(strip.c));
        let mut next_c = strip.c + if last.1.1 > 0.0 { FIRST_K } else { -FIRST_K };
        for _ in 0..100 {
            let here = (next_c, surplus(next_c));
            if here.1.1 > 0.0 {
                low = low.max(here.0);
            } else {
                high = high.min(here.0);
            }
            let fall = (last.1.1 - here.1.1) / (here.0 - last.0);
            next_c = here.0 + here.1.1 / fall;
            if here.1.1 == 0.0 || (next_c - here.0).abs() <= CLOSE_K {
                return here.1.0;
            }
            if !(next_c > low && next_c < high) {
                next_c = 0.5 * (low + high);
            }
            last = here;
        }
        last.1.0
    }

    fn at(store: &Store, side: &Side, (air, strip): (Air, Strip), (leaving_c, cell): (f64, f64)) -> Self {
        let mean_c = 0.5 * (strip.c + leaving_c);
        let vapour = store.vapour(side, air.w, strip, (mean_c, cell));
        let w = air.w - vapour * cell / side.kg_per_s;
        let per_watt = 0.5 * cell / (side.kg_per_s * moist_heat_capacity(0.5 * (air.w + w)));
        let heat_w = (air.c - mean_c) / (1.0 / side.film_w_per_k + per_watt);
        Self {
            air: Air { c: air.c - 2.0 * per_watt * heat_w, w },
            strip: Strip { c: leaving_c, water_kg_per_s: strip.water_kg_per_s + vapour * cell },
            heat_w,
            vapour_kg_per_s: vapour,
        }
    }
}

/// How far outside the temperatures that enter a cell the matrix is looked for \[K\].
const MARGIN_K: f64 = 10.0;
const FIRST_K: f64 = 1e-3;
const CLOSE_K: f64 = 1e-12;

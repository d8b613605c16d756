//! One cell of a plate: what passes between two airs through both films, the plate and, if there is one, the
//! membrane.
//!
//! The air of a cell is the mean of what enters and what leaves it (second order in the cell's size). Vapour leaves
//! and joins an air at that air's own mean temperature, so `m (h_in − h_out)` is exactly what the cell posts.
//! All of a cell hangs on one unknown, its plate temperature, in which the surplus of heat at the plate falls.
//!
//! Not here: how cells are joined (`part`, `series`). Index 0 is the supply side, 1 the extract side.

use psychrometrics::formulas::{
    CP_DRY_AIR_J_PER_KGK, CP_ICE_J_PER_KGK, CP_LIQUID_J_PER_KGK, CP_VAPOUR_J_PER_KGK, FUSION_0C_J_PER_KG,
    VAPORISATION_0C_J_PER_KG, fast_saturation_humidity_ratio_with_slope, saturation_humidity_ratio,
};

use super::dual::Dual;

/// Air: temperature [°C] and humidity ratio [kg/kg dry air].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Air {
    pub(super) c: f64,
    pub(super) w: f64,
}

/// What all cells of a core share; conductances are those of the whole core.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plate {
    /// Flows [kg dry air/s].
    pub(super) kg_per_s: [f64; 2],
    /// Each heat film [W/K].
    pub(super) film_w_per_k: f64,
    /// Each mass film [kg dry air/s].
    pub(super) film_kg_per_s: [f64; 2],
    /// The membrane alone [s/kg dry air]; infinite for a tight plate.
    pub(super) membrane_s_per_kg: f64,
    pub(super) pressure_pa: f64,
}

/// A solved cell; fluxes are rates for the whole core, to be multiplied by the cell's share of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Patch {
    pub(super) out: [Air; 2],
    /// Slopes of supply °C, supply kg/kg, extract °C, extract kg/kg leaving, each in the same four entering.
    pub(super) slope: [[f64; 4]; 4],
    pub(super) mean: [Air; 2],
    pub(super) plate_c: f64,
    /// From each air to the plate \[W\].
    pub(super) heat_w: [f64; 2],
    /// Vapour through the membrane into the supply side [kg/s].
    pub(super) crossing_kg_per_s: f64,
    pub(super) deposit_kg_per_s: [f64; 2],
}

/// A cell at a plate temperature that need not be the right one.
struct Trial {
    surplus_w: Dual,
    out: [[Dual; 2]; 2],
    heat: [Dual; 2],
    faces: Faces,
}

/// Vapour at both faces [kg/s].
struct Faces {
    /// From each air to its face.
    leaving: [Dual; 2],
    deposit: [Dual; 2],
    into_supply: Dual,
}

/// How far outside the two air temperatures the plate is looked for [K]: the heat of deposit from foggy air may
/// carry it there.
const MARGIN_K: f64 = 10.0;

impl Patch {
    /// Solves a cell; `step` is, for each air, the cell's share of the core over the share of the flow that
    /// passes it, `guess_c` a plate temperature to start from.
    pub(super) fn solve(plate: &Plate, inlet: [Air; 2], step: [f64; 2], guess_c: f64) -> Self {
        let mut low = inlet[0].c.min(inlet[1].c) - MARGIN_K;
        let mut high = inlet[0].c.max(inlet[1].c) + MARGIN_K;
        let mut plate_c = if guess_c > low && guess_c < high { guess_c } else { 0.5 * (low + high) };
        let mut trial = Trial::at(plate, inlet, step, plate_c);
        for _ in 0..100 {
            let next = plate_c - trial.surplus_w.value / trial.surplus_w.slope[4];
            if (next - plate_c).abs() <= 1e-13 {
                break;
            }
            if trial.surplus_w.value > 0.0 {
                low = plate_c;
            } else {
                high = plate_c;
            }
            plate_c = if next > low && next < high { next } else { 0.5 * (low + high) };
            trial = Trial::at(plate, inlet, step, plate_c);
        }
        trial.finish(inlet, plate_c)
    }
}

impl Trial {
    fn at(plate: &Plate, inlet: [Air; 2], step: [f64; 2], plate_c: f64) -> Self {
        let air_c = [Dual::variable(inlet[0].c, 0), Dual::variable(inlet[1].c, 2)];
        let air_w = [Dual::variable(inlet[0].w, 1), Dual::variable(inlet[1].w, 3)];
        let plate_c = Dual::variable(plate_c, 4);
        let faces = Faces::at(plate, air_w, step, saturation(plate_c, plate.pressure_pa));
        let mut surplus_w = -((faces.deposit[0] + faces.deposit[1]) * water_enthalpy(plate_c));
        let mut heat = [Dual::ZERO; 2];
        let mut out = [[Dual::ZERO; 2]; 2];
        for side in 0..2 {
            let leaving = faces.leaving[side];
            let half_step = 0.5 * step[side] / plate.kg_per_s[side];
            let mean_w = air_w[side] - leaving * half_step;
            let per_watt = (mean_w * CP_VAPOUR_J_PER_KGK + CP_DRY_AIR_J_PER_KGK).inverse() * half_step;
            let resistance = per_watt + 1.0 / plate.film_w_per_k;
            heat[side] = (air_c[side] - plate_c) * resistance.inverse();
            let mean_c = air_c[side] - heat[side] * per_watt;
            out[side] =
                [air_c[side] - heat[side] * per_watt * 2.0, air_w[side] - leaving * (2.0 * half_step)];
            let vapour_enthalpy = mean_c * CP_VAPOUR_J_PER_KGK + VAPORISATION_0C_J_PER_KG;
            surplus_w = surplus_w + heat[side] + leaving * vapour_enthalpy;
        }
        Self { surplus_w, out, heat, faces }
    }

    fn finish(self, inlet: [Air; 2], plate_c: f64) -> Patch {
        let per_plate = -1.0 / self.surplus_w.slope[4];
        let flat = [self.out[0][0], self.out[0][1], self.out[1][0], self.out[1][1]];
        let slope = flat.map(|leaving| {
            std::array::from_fn(|i| leaving.slope[i] + leaving.slope[4] * per_plate * self.surplus_w.slope[i])
        });
        let out = self.out.map(|[c, w]| Air { c: c.value, w: w.value });
        let mean = std::array::from_fn(|side| Air {
            c: 0.5 * (inlet[side].c + out[side].c),
            w: 0.5 * (inlet[side].w + out[side].w),
        });
        Patch {
            out,
            slope,
            mean,
            plate_c,
            heat_w: self.heat.map(|h| h.value),
            crossing_kg_per_s: self.faces.into_supply.value,
            deposit_kg_per_s: self.faces.deposit.map(|d| d.value),
        }
    }
}

impl Faces {
    /// The more humid side's face is wet where it would pass saturation dry; the other face where its own air is
    /// above saturation. Between two wet faces nothing crosses.
    fn at(plate: &Plate, air_w: [Dual; 2], step: [f64; 2], saturation: Dual) -> Self {
        let film: [f64; 2] = std::array::from_fn(|side| {
            1.0 / plate.film_kg_per_s[side] + 0.5 * step[side] / plate.kg_per_s[side]
        });
        let humid = usize::from(air_w[1].value > air_w[0].value);
        let other = 1 - humid;
        let into_other = if humid == 1 { 1.0 } else { -1.0 };
        let all = film[0] + film[1] + plate.membrane_s_per_kg;
        let dry = (air_w[humid] - air_w[other]) * (1.0 / all);
        let mut leaving = [Dual::ZERO; 2];
        let mut deposit = [Dual::ZERO; 2];
        let mut crossing = dry;
        if air_w[humid].value - dry.value * film[humid] > saturation.value {
            let other_wet = air_w[other].value > saturation.value;
            let rest = 1.0 / (plate.membrane_s_per_kg + film[other]);
            crossing = if other_wet { Dual::ZERO } else { (saturation - air_w[other]) * rest };
            leaving[humid] = (air_w[humid] - saturation) * (1.0 / film[humid]);
            deposit[humid] = leaving[humid] - crossing;
            if other_wet {
                deposit[other] = (air_w[other] - saturation) * (1.0 / film[other]);
            }
            leaving[other] = deposit[other] - crossing;
        } else {
            leaving[humid] = dry;
            leaving[other] = -dry;
        }
        Self { leaving, deposit, into_supply: crossing * into_other }
    }
}

/// The true curve; the slope, which only steers the search, is that of the fast kernel.
fn saturation(plate_c: Dual, pressure_pa: f64) -> Dual {
    let (_, slope) = fast_saturation_humidity_ratio_with_slope(plate_c.value, pressure_pa);
    plate_c.chain(saturation_humidity_ratio(plate_c.value, pressure_pa), slope)
}

/// Share of a deposit that is ice: all 0.25 K below 0 °C, none 0.25 K above.
pub(super) fn ice_share(plate_c: f64) -> f64 {
    ((0.25 - plate_c) / 0.5).clamp(0.0, 1.0)
}

/// Enthalpy [J/kg] of what is deposited at this plate temperature.
fn water_enthalpy(plate_c: Dual) -> Dual {
    let share = ice_share(plate_c.value);
    let slope = if share > 0.0 && share < 1.0 { -2.0 } else { 0.0 };
    let ice = plate_c.chain(share, slope);
    let liquid = plate_c * CP_LIQUID_J_PER_KGK;
    let melting = plate_c * (CP_ICE_J_PER_KGK - CP_LIQUID_J_PER_KGK) + (-FUSION_0C_J_PER_KG);
    liquid + ice * melting
}

//! The thermodynamic wet bulb: the temperature at which water evaporating into the air saturates it without heat.
//!
//! At and above 0 °C the wick is wet with water, below with ice. At 0 °C the two equations differ: a little dry of
//! it, both have a root, one on either side. The convention here: **water wherever the water equation has a root at
//! or above 0 °C, else ice.** Seen from falling humidity the wet bulb therefore jumps from 0 °C to a little below
//! (0.7 K for air of 10 °C); a wet bulb *given* in that gap is taken at its word, on ice.
//!
//! Not here: the checks of its input (`checked`, `pairs`). Read next: `pairs`.
//!
//! # Source
//! [ASHRAE-F] ch. 1, thermodynamic wet-bulb temperature, over water and over ice.

use crate::curve::Curve;
use crate::formulas as f;
use crate::root::root_of_rising;

/// The heats of the wick, `L = at_zero − falls t*` and `c t*` for its water, as the handbook rounds them.
struct Wick {
    heat_at_zero_j_per_kg: f64,
    heat_falls_j_per_kgk: f64,
    capacity_j_per_kgk: f64,
}

const WATER: Wick =
    Wick { heat_at_zero_j_per_kg: 2501e3, heat_falls_j_per_kgk: 2326.0, capacity_j_per_kgk: 4186.0 };
const ICE: Wick =
    Wick { heat_at_zero_j_per_kg: 2830e3, heat_falls_j_per_kgk: 240.0, capacity_j_per_kgk: 2100.0 };

fn wick(wet_bulb_c: f64) -> &'static Wick {
    if wet_bulb_c >= 0.0 { &WATER } else { &ICE }
}

impl Wick {
    /// `[(L0 − a t*) Ws* − 1006 (t − t*)] / (L0 + 1860 t − c t*)`; negative when even dry air is less cooled.
    fn humidity_ratio(&self, dry_bulb_c: f64, wet_bulb_c: f64, curve: Curve) -> f64 {
        let heat = self.heat_at_zero_j_per_kg - self.heat_falls_j_per_kgk * wet_bulb_c;
        let cooling = f::CP_DRY_AIR_J_PER_KGK * (dry_bulb_c - wet_bulb_c);
        let divisor = self.heat_at_zero_j_per_kg + f::CP_VAPOUR_J_PER_KGK * dry_bulb_c
            - self.capacity_j_per_kgk * wet_bulb_c;
        (heat * curve.saturation_ratio(wet_bulb_c) - cooling) / divisor
    }
}

/// Humidity ratio from dry and wet bulb.
pub(crate) fn humidity_ratio(dry_bulb_c: f64, wet_bulb_c: f64, curve: Curve) -> f64 {
    wick(wet_bulb_c).humidity_ratio(dry_bulb_c, wet_bulb_c, curve)
}

/// Dry bulb from wet bulb and humidity ratio (°C): the same equation, linear in the dry bulb.
pub(crate) fn dry_bulb_c(wet_bulb_c: f64, humidity_ratio: f64, curve: Curve) -> f64 {
    let wick = wick(wet_bulb_c);
    let heat = wick.heat_at_zero_j_per_kg - wick.heat_falls_j_per_kgk * wet_bulb_c;
    let gained = heat * curve.saturation_ratio(wet_bulb_c) + f::CP_DRY_AIR_J_PER_KGK * wet_bulb_c;
    let held = humidity_ratio * (wick.heat_at_zero_j_per_kg - wick.capacity_j_per_kgk * wet_bulb_c);
    (gained - held) / f::moist_heat_capacity(humidity_ratio)
}

/// Wet bulb from dry bulb and humidity ratio (°C), for air that is not over-saturated.
pub(crate) fn wet_bulb_c(dry_bulb_c: f64, humidity_ratio: f64, curve: Curve) -> f64 {
    // At −100 °C ice could not cool any air in range so far: the equation is below every humidity ratio.
    const FAR_BELOW_C: f64 = -100.0;
    let excess = |wick: &Wick, t: f64| wick.humidity_ratio(dry_bulb_c, t, curve) - humidity_ratio;
    if dry_bulb_c >= 0.0 && excess(&WATER, 0.0) <= 0.0 {
        root_of_rising(0.0, dry_bulb_c, |t| excess(&WATER, t))
    } else {
        root_of_rising(FAR_BELOW_C, dry_bulb_c.min(0.0), |t| excess(&ICE, t))
    }
}

//! The plate on which water condenses and freezes: a moving boundary between a dry and a wet part.
//!
//! In the wet part the saturation curve is replaced by the straight line through its points at 17 % and 83 % of the
//! plate's temperature range there: between the nodes that keep the largest error smallest (14.6 %; a year's water
//! is then 1.2 % low) and those without bias (21.1 %; the supply air is then up to 0.28 K off). With the Lewis number
//! 1 and equal films the hot stream is then one potential `θ = (t + (L/c_p)(w − a))/(1 + β)`, `β = (L/c_p) s`, which obeys the
//! same counterflow law as a dry stream with capacity `C (1 + β)`; what the humidity ratio is off the line
//! decays as `e^(−N x)`. The dry and the wet part are joined in closed form, and the share of the plate that is
//! dry is found by at most four bracketed secant steps on "the plate is at the dew point at the boundary".
//!
//! Left out: conduction along the plate, a film of water that flows on, unequal films. How far it lies from the
//! cell solution: see `tests/accuracy.rs` (supply temperature within 0.18 K, water within 0.8 % of the
//! largest rate over 600 plausible states).
//!
//! Not here: what the water does afterwards.

use lanes::{Mask, Real};
use psychrometrics::formulas::{
    FUSION_0C_J_PER_KG, MOLE_MASS_RATIO, fast_saturation_humidity_ratio,
    fast_saturation_humidity_ratio_with_slope, fast_saturation_pa,
};

use crate::dry::{Dry, mean_drive};
use crate::streams::HotAndCold;

const SECANT_STEPS: usize = 4;
/// A boundary stands when the plate there is this near to the dew point and its cold end moved no further \[K\]: a next trial changes
/// heat by some 2e-7 of itself and the leaving air by some 2e-8 kg/kg.
const SETTLED_K: f64 = 1e-3;
/// Saturation pressure at 0 °C \[Pa\], where ice begins: the published curve over ice, [HW83].
const SATURATION_0C_PA: f64 = 611.1536;

/// What the wet plate passes and leaves.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wet<R> {
    pub(crate) heat_w: R,
    /// Humidity ratio of the hot stream where it leaves.
    pub(crate) hot_out_w: R,
    pub(crate) hot_out_c: R,
    pub(crate) plate_cold_c: R,
    /// Share of the deposit that is ice.
    pub(crate) ice_share: R,
}

/// The plate's two streams, and what does not change from trial to trial.
///
/// Divisions are what a trial spends most time on, so reciprocals are kept and quotients are brought over one denominator.
struct Plate<'a, R> {
    s: &'a HotAndCold<R>,
    /// Reciprocals of the heat capacity flows [K/W].
    hot_per: R,
    cold_per: R,
    /// Reciprocal of the hot stream's heat capacity [kgK/J].
    per_hot_cp: R,
    /// Saturation at 0 °C.
    saturation_0c: R,
    dew_c: R,
}

/// The straight line that stands for the saturation curve.
#[derive(Debug, Clone, Copy)]
struct SaturationLine<R> {
    at_zero: R,
    slope: R,
    /// Latent heat over the hot stream's heat capacity \[K\].
    latent_k: R,
    /// `latent_k × slope`.
    beta: R,
}

/// One trial of the boundary's place.
#[derive(Debug, Clone, Copy)]
struct Trial<R> {
    /// Plate temperature at the boundary less the dew point.
    miss_k: R,
    heat_w: R,
    potential_in: R,
    potential_out: R,
    cold_at_boundary_c: R,
    cold_end_c: R,
    hot_out_w: R,
    z: R,
    /// [`mean_drive`] of it.
    z_drive: R,
}

/// Solves the plate in the lanes that are `wet`, in which `dry.plate_cold_c < dew_c`; the others hold no meaning.
#[inline(always)]
pub(crate) fn wet_plate<R: Real>(s: &HotAndCold<R>, dry: &Dry<R>, dew_c: R, wet: R::Mask) -> Wet<R> {
    let tiny = R::splat(1e-6);
    let drop = (dry.plate_warm_c - dry.plate_cold_c).max(tiny);
    let unit = |x: R| x.between(0.0, 1.0);
    let mut dry_share = unit((dry.plate_warm_c - dew_c) / drop);
    let (mut low, mut high) = (R::zero(), R::one());
    let mut cold_end_c = dry.plate_cold_c;
    let mut ice = unit(-cold_end_c / (dew_c - cold_end_c).max(tiny));
    let plate = Plate {
        s,
        hot_per: dry.hot_k_per_w,
        cold_per: dry.cold_k_per_w,
        per_hot_cp: R::one() / s.hot_cp,
        saturation_0c: R::splat(MOLE_MASS_RATIO * SATURATION_0C_PA) / (s.pressure_pa - SATURATION_0C_PA),
        dew_c,
    };
    let mut line = saturation_line(&plate, cold_end_c, ice);
    let mut trial = try_boundary(&plate, &line, dry_share);
    let mut previous = (dry_share, trial.miss_k);
    let by_drop = R::splat(-1.0) / drop;
    let mut share_per_k = by_drop;
    // A lane whose boundary stands keeps it: its trial comes out the same again, whatever its neighbours still need.
    let mut settled = !wet;
    for step in 0..SECANT_STEPS {
        let own_end_c = trial.cold_end_c.min(dew_c - tiny);
        let tolerance = R::splat(SETTLED_K);
        let has_end = (own_end_c - cold_end_c).abs().lt(tolerance);
        // A plate that is wet from its warm end on has no boundary to move.
        settled = settled | (has_end & (trial.miss_k.abs().lt(tolerance) | high.le(low)));
        if settled.all() {
            break;
        }
        cold_end_c = R::select(settled, cold_end_c, own_end_c);
        ice = R::select(settled, ice, ice_share(&plate, &line, &trial, dry_share));
        let too_short = trial.miss_k.gt(R::zero());
        low = R::select(too_short, dry_share, low);
        high = R::select(too_short, high, dry_share);
        if step > 0 {
            share_per_k = secant(previous, (dry_share, trial.miss_k), by_drop);
        }
        previous = (dry_share, trial.miss_k);
        let guess = dry_share - trial.miss_k * share_per_k;
        let outside = guess.lt(low) | guess.gt(high);
        dry_share = R::select(settled, dry_share, R::select(outside, (low + high) * 0.5, guess));
        line = saturation_line(&plate, cold_end_c, ice);
        trial = try_boundary(&plate, &line, dry_share);
    }
    finish(&plate, &line, &trial, dry_share)
}

/// Share of the plate for each kelvin of the miss.
#[inline(always)]
fn secant<R: Real>(previous: (R, R), now: (R, R), by_drop: R) -> R {
    let step = now.0 - previous.0;
    // Steps smaller than this differ by little more than the change of the line between them.
    let moved = step.abs().gt(R::splat(1e-3));
    let change = now.1 - previous.1;
    // A colder plate further along: any other slope is noise.
    let falls = (change * step).lt(step * step * -1e-3);
    let sound = moved & falls;
    R::select(sound, step / R::select(sound, change, R::one()), by_drop)
}

#[inline(always)]
fn saturation_line<R: Real>(plate: &Plate<'_, R>, cold_end_c: R, ice_share: R) -> SaturationLine<R> {
    let (p, dew_c) = (plate.s.pressure_pa, plate.dew_c);
    let span = (dew_c - cold_end_c).max(R::splat(1e-6));
    let (low_c, high_c) = (cold_end_c + span * 0.17, cold_end_c + span * 0.83);
    let (low_pa, high_pa) = (fast_saturation_pa(low_c), fast_saturation_pa(high_c));
    // w = 0.621945 p_s/(p − p_s) at both nodes, and the slope between them, over one denominator.
    let (low_air, high_air, apart_k) = (p - low_pa, p - high_pa, high_c - low_c);
    let over_all = R::splat(MOLE_MASS_RATIO) / (low_air * high_air * apart_k);
    let low_w = low_pa * high_air * apart_k * over_all;
    let slope = (high_pa - low_pa) * p * over_all;
    let latent_k = latent_heat((cold_end_c + dew_c) * 0.5, ice_share) * plate.per_hot_cp;
    SaturationLine { at_zero: low_w - slope * low_c, slope, latent_k, beta: latent_k * slope }
}

/// Latent heat of deposit on a plate of this temperature [J/kg].
#[inline(always)]
fn latent_heat<R: Real>(plate_c: R, ice_share: R) -> R {
    R::splat(2_501_000.0) - plate_c * 2326.0 + ice_share * FUSION_0C_J_PER_KG
}

/// Dry part and wet part joined in closed form for a given boundary.
#[inline(always)]
fn try_boundary<R: Real>(plate: &Plate<'_, R>, line: &SaturationLine<R>, dry_share: R) -> Trial<R> {
    let one = R::one();
    let &Plate { s, hot_per, cold_per, dew_c, .. } = plate;
    let wet_share = one - dry_share;
    let (beta_1, beta_2) = (line.beta + 1.0, line.beta + 2.0);
    let both = one / (beta_1 * beta_2);
    let (per_beta_1, per_beta_2) = (beta_2 * both, beta_1 * both);
    let wet_per = hot_per * per_beta_1;
    let dry_ua = s.ua * dry_share;
    let wet_ua = s.ua * 2.0 * wet_share * beta_1 * per_beta_2;
    let z = wet_ua * (wet_per - cold_per);
    let (dry_drive, z_drive) = (mean_drive(dry_ua * (hot_per - cold_per)), mean_drive(z));
    let (dry_driven, wet_driven) = (dry_ua * dry_drive, wet_ua * z_drive);

    // Both parts' heat, q = K φ ΔT/(1 + K φ/C) each, joined: the cold air warms from the one to the other.
    let (dry_hold, wet_hold) = (one + dry_driven * cold_per, one + wet_driven * cold_per);
    let inlet_potential = (s.hot_c + line.latent_k * (s.hot_w - line.at_zero)) * per_beta_1;
    let difference = s.hot_c - s.cold_c;
    let wet_right =
        wet_driven * ((inlet_potential - s.cold_c) * dry_hold - wet_per * dry_driven * difference);
    let determinant = wet_hold * dry_hold - wet_driven * wet_per * dry_driven * cold_per;
    let over_all = one / (determinant * dry_hold);
    let wet_heat = wet_right * dry_hold * over_all;
    let dry_heat = dry_driven * (difference * determinant - wet_right * cold_per) * over_all;

    let hot_at_boundary = s.hot_c - dry_heat * hot_per;
    let cold_at_boundary_c = s.cold_c + wet_heat * cold_per;
    let potential_in = inlet_potential - dry_heat * wet_per;
    let potential_out = potential_in - wet_heat * wet_per;
    let off_line = s.hot_w - line.at_zero - line.slope * potential_in;
    let decay = (-(s.ua * 2.0 * hot_per * wet_share).between(0.0, 700.0)).exp();
    Trial {
        miss_k: (hot_at_boundary + cold_at_boundary_c) * 0.5 - dew_c,
        heat_w: wet_heat + dry_heat,
        potential_in,
        potential_out,
        cold_at_boundary_c,
        cold_end_c: (beta_1 * potential_out + s.cold_c) * per_beta_2,
        hot_out_w: (line.at_zero + line.slope * potential_out + off_line * decay).min(s.hot_w),
        z,
        z_drive,
    }
}

/// Share of the deposit laid down where the plate is below 0 °C.
///
/// Both potentials are affine in `E(x) = (1 − e^(−z x))/z`, so the place where the plate passes 0 °C is found
/// from that condition with the true saturation at 0 °C, and the humidity ratio there from the decay.
#[inline(always)]
fn ice_share<R: Real>(plate: &Plate<'_, R>, line: &SaturationLine<R>, trial: &Trial<R>, dry_share: R) -> R {
    let (s, one) = (plate.s, R::one());
    let offset = line.latent_k * (line.at_zero - plate.saturation_0c);
    let at_boundary = (line.beta + 1.0) * trial.potential_in + trial.cold_at_boundary_c + offset;
    let at_end = (line.beta + 1.0) * trial.potential_out + s.cold_c + offset;
    // Where the plate's end is above 0 °C what is left of the fraction above is rounding, not ice.
    let freezes = at_end.lt(R::zero());
    if !freezes.any() {
        return R::zero();
    }
    let fraction = (at_boundary / (at_boundary - at_end).max(R::splat(1e-9))).between(0.0, 1.0);
    let place = place_of_fraction(fraction, (trial.z, trial.z_drive));
    let potential = trial.potential_in - (trial.potential_in - trial.potential_out) * fraction;
    let off_line = s.hot_w - line.at_zero - line.slope * trial.potential_in;
    let decay = (-(s.ua * 2.0 * plate.hot_per * (one - dry_share) * place).between(0.0, 700.0)).exp();
    let there_w = (line.at_zero + line.slope * potential + off_line * decay).min(s.hot_w);
    let deposit = (s.hot_w - trial.hot_out_w).max(R::splat(1e-12));
    let share = ((there_w - trial.hot_out_w) / deposit).between(0.0, 1.0);
    R::select(freezes, share, R::zero())
}

/// Where along the wet part a fraction of the whole drop is reached: `x = −ln(1 − z E)/z`.
#[inline(always)]
fn place_of_fraction<R: Real>(fraction: R, (z, z_drive): (R, R)) -> R {
    let reached = fraction * z_drive;
    let product = (z * reached).min(R::splat(0.999_999));
    let small = z.abs().lt(R::splat(1e-3));
    let safe = R::select(small, R::one(), z);
    let series = reached * (R::one() + product * 0.5 + product * product * (1.0 / 3.0));
    R::select(small, series, -(R::one() - product).ln() / safe).between(0.0, 1.0)
}

/// The cold end of the plate from its own balance with the true saturation curve, and the leaving air.
#[inline(always)]
fn finish<R: Real>(plate: &Plate<'_, R>, line: &SaturationLine<R>, trial: &Trial<R>, dry_share: R) -> Wet<R> {
    let &Plate { s, dew_c, .. } = plate;
    let off_line = trial.hot_out_w - line.at_zero - line.slope * trial.potential_out;
    let hot_out_c = trial.potential_out - line.latent_k * off_line;
    let mut plate_c = trial.cold_end_c.min(dew_c);
    for _ in 0..2 {
        let (saturation, slope) = fast_saturation_humidity_ratio_with_slope(plate_c, s.pressure_pa);
        let ice = ((R::splat(0.25) - plate_c) * 2.0).between(0.0, 1.0);
        let latent_k = latent_heat(plate_c, ice) * plate.per_hot_cp;
        let miss = hot_out_c + s.cold_c - plate_c * 2.0 + latent_k * (trial.hot_out_w - saturation);
        plate_c = (plate_c + miss / (latent_k * slope + 2.0)).max(s.cold_c).min(dew_c);
    }
    // Nothing in the core is colder than the cold stream's inlet, so nothing dries air further than its saturation.
    let driest = fast_saturation_humidity_ratio(s.cold_c, s.pressure_pa).min(s.hot_w);
    let hot_out_w = trial.hot_out_w.max(driest);
    let not_left_kg_per_s = s.hot_kg_per_s * (hot_out_w - trial.hot_out_w);
    Wet {
        heat_w: trial.heat_w - not_left_kg_per_s * line.latent_k * s.hot_cp,
        hot_out_w,
        hot_out_c,
        plate_cold_c: plate_c,
        ice_share: ice_share(plate, line, trial, dry_share),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What comes of the two streams, cell by cell from the hot inlet, in the small steps of a fourth-order Runge–Kutta rule.
    struct Walked {
        cold_out_c: f64,
        hot_out_c: f64,
        hot_out_w: f64,
        face_at_boundary_c: f64,
        face_at_end_c: f64,
    }

    /// Equal films of `2 UA` on both sides, Lewis number 1, saturation on the line: the equations that `try_boundary` has in closed form.
    /// The cold stream's end is met by one secant step, since all is linear.
    fn walked(s: &HotAndCold<f64>, line: &SaturationLine<f64>, dry_share: f64) -> Walked {
        let face_c = |[hot_c, hot_w, cold_c]: [f64; 3]| {
            (hot_c + cold_c + line.latent_k * (hot_w - line.at_zero)) / (2.0 + line.beta)
        };
        let slope = |wet: bool, state: [f64; 3]| {
            let [hot_c, hot_w, cold_c] = state;
            let face = if wet { face_c(state) } else { 0.5 * (hot_c + cold_c) };
            let films = 2.0 * s.ua;
            let deposits = if wet { hot_w - line.at_zero - line.slope * face } else { 0.0 };
            [
                -films * (hot_c - face) / s.hot_capacity,
                -films * deposits / s.hot_capacity,
                -films * (face - cold_c) / s.cold_capacity,
            ]
        };
        let part = |wet: bool, length: f64, mut state: [f64; 3]| {
            let step = length / 2000.0;
            let moved = |from: [f64; 3], by: [f64; 3], times: f64| {
                [from[0] + times * by[0], from[1] + times * by[1], from[2] + times * by[2]]
            };
            for _ in 0..2000 {
                let a = slope(wet, state);
                let b = slope(wet, moved(state, a, 0.5 * step));
                let c = slope(wet, moved(state, b, 0.5 * step));
                let d = slope(wet, moved(state, c, step));
                for ((value, (a, b)), (c, d)) in state.iter_mut().zip(a.iter().zip(b)).zip(c.iter().zip(d)) {
                    *value += step / 6.0 * (a + 2.0 * b + 2.0 * c + d);
                }
            }
            state
        };
        let from = |cold_out_c: f64| {
            let boundary = part(false, dry_share, [s.hot_c, s.hot_w, cold_out_c]);
            (boundary, part(true, 1.0 - dry_share, boundary))
        };
        let miss = |cold_out_c: f64| from(cold_out_c).1[2] - s.cold_c;
        let (at_hot, at_cold) = (miss(s.hot_c), miss(s.cold_c));
        let cold_out_c = s.hot_c - at_hot * (s.hot_c - s.cold_c) / (at_hot - at_cold);
        let (boundary, end) = from(cold_out_c);
        Walked {
            cold_out_c,
            hot_out_c: end[0],
            hot_out_w: end[1],
            face_at_boundary_c: 0.5 * (boundary[0] + boundary[2]),
            face_at_end_c: face_c(end),
        }
    }

    /// A house's air of 21 °C and 8 g/kg past a core of `NTU` 3, the flows unequal either way, liquid or ice.
    #[test]
    fn a_trial_is_the_closed_form_of_both_parts_walked_in_small_steps() {
        for (hot_kg_per_s, cold_kg_per_s, cold_c, ice) in [
            (0.05, 0.05, -5.0, 0.0),
            (0.06, 0.045, -15.0, 0.6),
            (0.045, 0.06, 2.0, 0.0),
            (0.05, 0.05, -30.0, 1.0),
        ] {
            let hot_cp = 1020.0;
            let s = HotAndCold {
                hot_c: 21.0,
                hot_w: 0.008,
                hot_kg_per_s,
                hot_cp,
                hot_capacity: hot_kg_per_s * hot_cp,
                cold_c,
                cold_w: 0.001,
                cold_kg_per_s,
                cold_capacity: cold_kg_per_s * 1008.0,
                ua: 153.0,
                pressure_pa: 101_325.0,
            };
            let plate = Plate {
                s: &s,
                hot_per: 1.0 / s.hot_capacity,
                cold_per: 1.0 / s.cold_capacity,
                per_hot_cp: 1.0 / hot_cp,
                saturation_0c: 0.003_774,
                dew_c: 10.6,
            };
            let line = saturation_line(&plate, cold_c + 2.0, ice);
            for dry_share in [0.0, 0.3, 0.8] {
                let trial = try_boundary(&plate, &line, dry_share);
                let walked = walked(&s, &line, dry_share);
                let near = |name: &str, got: f64, expected: f64, room: f64| {
                    assert!(
                        (got - expected).abs() < room,
                        "{name} {cold_c} °C, {dry_share}: {got} {expected}"
                    );
                };
                near("heat", trial.heat_w, s.cold_capacity * (walked.cold_out_c - cold_c), 1e-6);
                near("leaving humidity", trial.hot_out_w, walked.hot_out_w, 1e-11);
                near("plate's end", trial.cold_end_c, walked.face_at_end_c, 1e-8);
                near("miss", trial.miss_k, walked.face_at_boundary_c - plate.dew_c, 1e-8);
                let off_line = trial.hot_out_w - line.at_zero - line.slope * trial.potential_out;
                near("leaving air", trial.potential_out - line.latent_k * off_line, walked.hot_out_c, 1e-8);
            }
        }
    }

    /// The vapour's enthalpy less the water's (or the ice's) of the same temperature, [HND-2009] by crate `psychrometrics`.
    #[test]
    fn latent_heat_is_the_difference_of_enthalpies() {
        use psychrometrics::formulas::{liquid_enthalpy_j_per_kg, vapour_enthalpy_j_per_kg};
        for plate_c in [0.0, 4.0, 12.0, 25.0_f64] {
            let expected = vapour_enthalpy_j_per_kg(plate_c) - liquid_enthalpy_j_per_kg(plate_c);
            assert!((latent_heat(plate_c, 0.0) - expected).abs() < 1.0, "{plate_c}");
        }
        // 333.4 kJ/kg: heat of fusion at 0 °C, recalled.
        assert!((latent_heat(0.0, 1.0) - 2_834_400.0_f64).abs() < 200.0);
    }

    /// Beside `x = −ln(1 − z E)/z` by the standard library, where `E` is the fraction of `(1 − e^(−z))/z`; at both sides of the change to
    /// the series, whose next term is `(z E)³/4`.
    #[test]
    fn the_place_of_a_fraction_is_the_closed_form_through_the_series_and_past_it() {
        for z in [-2.0, -0.3, -1.1e-3, -0.9e-3, -1e-5, 1e-9, 0.9e-3, 1.1e-3, 0.05, 1.5_f64] {
            let drive = -(-z).exp_m1() / z;
            for fraction in [0.0, 0.2, 0.5, 0.9, 1.0] {
                let expected = -(-z * fraction * drive).ln_1p() / z;
                let place = place_of_fraction(fraction, (z, drive));
                assert!((place - expected).abs() < 1e-9, "z {z}, {fraction}: {place} {expected}");
            }
        }
    }
}

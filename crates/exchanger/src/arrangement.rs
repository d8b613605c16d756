//! How the two streams pass each other, and the counterflow core that passes as much.
//!
//! Done once a core, outside the hour loop. Not here: the hour's solution (`line`).

use crate::cross::{COLUMNS, GRID, ROWS};
use crate::dry::mean_drive;
use crate::sizing::SizingError;
use crate::streams::Core;

/// How the two streams pass each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Arrangement {
    /// Against each other.
    Counter,
    /// At right angles, both unmixed.
    Cross,
    /// Against each other in the middle, at right angles in two equal parts at the ends.
    QuasiCounter {
        /// Share of the area in the counterflow part, 0…1.
        counter_share: f64,
    },
}

/// Effectiveness of a dry core: heat passed over the most that could be, 0…1, for `ntu = UA/C_min` (0…100) and the
/// ratio `C_min/C_max` (0…1) of the streams' capacity flows; both are held in those ranges. The same law holds for vapour, with flows of dry air.
///
/// Counterflow `(1 − e^−x)/(1 − c e^−x)`, `x = NTU (1 − c)`; crossflow, both unmixed, as the sum of products of
/// incomplete gamma functions; quasi-counterflow as three exchangers in overall counterflow, mixed between.
///
/// # Source
/// Effectiveness–NTU as in any heat-transfer handbook; the crossflow sum is exact (Mason 1954, recalled).
pub fn effectiveness(arrangement: Arrangement, ntu: f64, ratio: f64) -> f64 {
    let ntu = ntu.clamp(0.0, 100.0);
    let ratio = ratio.clamp(0.0, 1.0);
    match arrangement {
        Arrangement::Counter => counter(ntu, ratio),
        Arrangement::Cross => cross(ntu, ratio),
        Arrangement::QuasiCounter { .. } => counter(equivalent_ntu(arrangement, ntu, ratio), ratio),
    }
}

fn counter(ntu: f64, ratio: f64) -> f64 {
    // `1 − e^−x = x φ(x)`: written so, equal flows are no special case.
    let x = ntu * (1.0 - ratio);
    let driven = ntu * mean_drive(x);
    driven / (driven + (-x).exp())
}

/// NTU of the counterflow core with this effectiveness (below 1).
fn counter_ntu(effectiveness: f64, ratio: f64) -> f64 {
    // All heat passed, to the last digits, is no infinite core.
    let effectiveness = effectiveness.min(1.0 - 1e-12);
    if (1.0 - ratio) < 1e-9 {
        return effectiveness / (1.0 - effectiveness);
    }
    ((1.0 - effectiveness * ratio) / (1.0 - effectiveness)).ln() / (1.0 - ratio)
}

/// `1/(c NTU) Σ P(n+1, NTU) P(n+1, c NTU)`, with `P(n+1, x) = 1 − e^−x Σ x^k/k!` for k up to n.
fn cross(ntu: f64, ratio: f64) -> f64 {
    let small = ratio * ntu;
    if small < 1e-9 {
        return 1.0 - (-ntu).exp();
    }
    let (mut term_a, mut term_b) = ((-ntu).exp(), (-small).exp());
    let (mut p_a, mut p_b) = (1.0 - term_a, 1.0 - term_b);
    let mut sum = 0.0;
    for n in 1..2000 {
        let product = p_a * p_b;
        sum += product;
        if product < 1e-14 * sum {
            break;
        }
        term_a *= ntu / f64::from(n);
        term_b *= small / f64::from(n);
        p_a = (p_a - term_a).max(0.0);
        p_b = (p_b - term_b).max(0.0);
    }
    (sum / small).min(1.0)
}

/// NTU of the counterflow core of equal effectiveness.
fn equivalent_ntu(arrangement: Arrangement, ntu: f64, ratio: f64) -> f64 {
    match arrangement {
        Arrangement::Counter => ntu,
        Arrangement::Cross => counter_ntu(cross(ntu, ratio), ratio),
        // In counterflow series the counterflow equivalents add up.
        Arrangement::QuasiCounter { counter_share } => {
            let end = 0.5 * (1.0 - counter_share) * ntu;
            counter_share * ntu + 2.0 * counter_ntu(cross(end, ratio), ratio)
        }
    }
}

/// NTU at which a dry core has this effectiveness, by bisection up to 100; `None` where no NTU up to there reaches it.
///
/// Effectiveness 0…1, ratio of the capacity flows 0…1, as in [`effectiveness`].
pub fn ntu_of(arrangement: Arrangement, effectiveness_wanted: f64, ratio: f64) -> Option<f64> {
    let (mut low, mut high) = (0.0, 100.0);
    if !(0.0..=effectiveness(arrangement, high, ratio)).contains(&effectiveness_wanted) {
        return None;
    }
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if effectiveness(arrangement, middle, ratio) < effectiveness_wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

impl Core<f64> {
    /// A core with these conductances from stream to stream (heat [W/K], vapour [kg dry air/s]) at these flows of dry
    /// air through its two sides [kg/s].
    ///
    /// The line solution runs on the counterflow core of equal dry effectiveness; for crossflow also on conductances that
    /// give its grid the exact dry effectiveness.
    ///
    /// # Errors
    /// [`SizingError`] for flows that are not positive, conductances below 0 or not finite, a counterflow share outside
    /// 0…1, and a vapour conductance above what the two films pass by themselves (`UA/c_p`).
    pub fn new(
        arrangement: Arrangement,
        (ua_w_per_k, vapour_kg_per_s): (f64, f64),
        (supply_kg_per_s, extract_kg_per_s): (f64, f64),
    ) -> Result<Self, SizingError> {
        check(arrangement, (ua_w_per_k, vapour_kg_per_s), [supply_kg_per_s, extract_kg_per_s])?;
        let smaller = supply_kg_per_s.min(extract_kg_per_s);
        let ratio = smaller / supply_kg_per_s.max(extract_kg_per_s);
        let units = ua_w_per_k / (CP * smaller);
        if units > MOST_UNITS {
            return Err(SizingError::TransferUnits(units));
        }
        let of = |law: &dyn Fn(f64) -> f64, conductance: f64, unit: f64| {
            unit * smaller * law(conductance / (unit * smaller))
        };
        let even = |ntu: f64| equivalent_ntu(arrangement, ntu, ratio);
        let on_grid = |ntu: f64| match arrangement {
            Arrangement::Cross => grid_ntu(cross(ntu, ratio), ntu, ratio),
            _ => even(ntu),
        };
        Ok(Self {
            ua_w_per_k: of(&even, ua_w_per_k, CP),
            vapour_kg_per_s: of(&even, vapour_kg_per_s, 1.0),
            crossed_ua_w_per_k: of(&on_grid, ua_w_per_k, CP),
            crossed_vapour_kg_per_s: of(&on_grid, vapour_kg_per_s, 1.0),
        })
    }
}

/// Transfer units beyond which no core of a house goes, by far.
const MOST_UNITS: f64 = 50.0;
/// Heat capacity of dry air [J/kgK]: only the ratio of the two flows matters here.
const CP: f64 = psychrometrics::formulas::CP_DRY_AIR_J_PER_KGK;

fn check(arrangement: Arrangement, (ua, vapour): (f64, f64), flows: [f64; 2]) -> Result<(), SizingError> {
    for flow in flows {
        if !(flow.is_finite() && flow > 0.0) {
            return Err(SizingError::Flow(flow));
        }
    }
    for conductance in [ua, vapour] {
        if !(conductance.is_finite() && conductance >= 0.0) {
            return Err(SizingError::Conductance(conductance));
        }
    }
    if let Arrangement::QuasiCounter { counter_share } = arrangement
        && !(0.0..=1.0).contains(&counter_share)
    {
        return Err(SizingError::CounterShare(counter_share));
    }
    if vapour > ua / CP {
        return Err(SizingError::Vapour { vapour, films: ua / CP });
    }
    Ok(())
}

/// NTU with which the coarse grid has this dry effectiveness, by bisection (the grid's rises with NTU up to there).
fn grid_ntu(effectiveness: f64, ntu: f64, ratio: f64) -> f64 {
    let (mut low, mut high) = (0.5 * ntu, 1.5 * ntu + 1e-12);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if grid_effectiveness(middle, ratio) < effectiveness {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Dry effectiveness of the coarse grid, the hot stream the smaller: each stream taken at the middle of its way through
/// a cell.
fn grid_effectiveness(ntu: f64, ratio: f64) -> f64 {
    let mut colds = [0.0; GRID];
    let mut passed = 0.0;
    for wide in ROWS {
        let mut hot = 1.0;
        for (cold, long) in colds.iter_mut().zip(COLUMNS) {
            let difference = (hot - *cold) / (1.0 + 0.5 * ntu * (long + ratio * wide));
            hot -= ntu * long * difference;
            *cold += ntu * ratio * wide * difference;
        }
        passed += wide * (1.0 - hot);
    }
    passed
}

impl Core<f64> {
    /// A wheel whose two films in series conduct `ua_w_per_k`, and vapour likewise, at these flows of dry air [kg/s];
    /// `capacity_ratio` is the matrix's heat capacity flow over the smaller air flow's, `C_r* = M c N/C_min`.
    ///
    /// Effectiveness is that of counterflow times `1 − 1/(9 C_r*^1.93)`; vapour is given the same factor (assumed).
    /// Valid for `C_r*` of 1.25 and more, NTU 2…14; at 5 the factor is 0.995.
    ///
    /// # Errors
    /// [`SizingError`] as for [`Core::new`], and for a capacity ratio outside 1…1000.
    ///
    /// # Source
    /// Kays and London, Compact Heat Exchangers (formula recalled).
    pub fn wheel(
        (ua_w_per_k, vapour_kg_per_s): (f64, f64),
        (supply_kg_per_s, extract_kg_per_s): (f64, f64),
        capacity_ratio: f64,
    ) -> Result<Self, SizingError> {
        let flows = [supply_kg_per_s, extract_kg_per_s];
        check(Arrangement::Counter, (ua_w_per_k, vapour_kg_per_s), flows)?;
        if !(1.0..=1000.0).contains(&capacity_ratio) {
            return Err(SizingError::CapacityRatio(capacity_ratio));
        }
        let smaller = supply_kg_per_s.min(extract_kg_per_s);
        let ratio = smaller / supply_kg_per_s.max(extract_kg_per_s);
        let turning = rotation_factor(capacity_ratio);
        let of = |conductance: f64, unit: f64| {
            let passed = turning * counter(conductance / (unit * smaller), ratio);
            unit * smaller * counter_ntu(passed, ratio)
        };
        Ok(Self::counterflow(of(ua_w_per_k, CP), of(vapour_kg_per_s, 1.0)))
    }
}

/// What is left of a counterflow core's effectiveness in a wheel of this capacity ratio, 1 or more.
pub fn rotation_factor(capacity_ratio: f64) -> f64 {
    1.0 - 1.0 / (9.0 * (1.93 * capacity_ratio.ln()).exp())
}

//! Two air streams into one: own exhaust air at the hood, extract air past the core.
//!
//! Not here: how much of which (`flows`). Left out: mist; a mixture beyond saturation carries its surplus as vapour.

use lanes::Real;
use psychrometrics::formulas::moist_heat_capacity;

/// A state of air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Air<R> {
    pub(crate) temperature_c: R,
    pub(crate) humidity_ratio: R,
}

/// Air with a share of other air in it: humidity by mass, temperature by enthalpy. A share of zero leaves every bit.
///
/// `w = w₁ + s (w₂ − w₁)`; as the heat capacity `c` is a straight line in `w`, the enthalpy balance is
/// `t = t₁ + s c₂ (t₂ − t₁)/c(w)`.
#[inline(always)]
pub(crate) fn mixed<R: Real>(air: &Air<R>, other: &Air<R>, share: R) -> Air<R> {
    let humidity_ratio = air.humidity_ratio + share * (other.humidity_ratio - air.humidity_ratio);
    let weight = share * moist_heat_capacity(other.humidity_ratio) / moist_heat_capacity(humidity_ratio);
    Air {
        temperature_c: air.temperature_c + weight * (other.temperature_c - air.temperature_c),
        humidity_ratio,
    }
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};
    use psychrometrics::formulas::enthalpy_j_per_kg;

    use super::{Air, mixed};

    const COLD: Air<f64> = Air { temperature_c: -12.3, humidity_ratio: 0.0011 };
    const WARM: Air<f64> = Air { temperature_c: 21.7, humidity_ratio: 0.0094 };

    #[test]
    fn a_mixture_keeps_the_water_and_the_enthalpy_of_its_parts() {
        for share in [0.05, 0.3, 0.5, 0.99] {
            let mixture = mixed(&COLD, &WARM, share);
            let of = |air: &Air<f64>| enthalpy_j_per_kg(air.temperature_c, air.humidity_ratio);
            assert_relative_eq!(
                of(&mixture),
                (1.0 - share) * of(&COLD) + share * of(&WARM),
                max_relative = 1e-13
            );
            let water = (1.0 - share) * 0.0011 + share * 0.0094;
            assert_relative_eq!(mixture.humidity_ratio, water, max_relative = 1e-13);
        }
    }

    #[test]
    fn without_other_air_nothing_changes_and_with_nothing_else_it_is_the_other_air() {
        assert_eq!(mixed(&COLD, &WARM, 0.0), COLD);
        let all = mixed(&COLD, &WARM, 1.0);
        assert_abs_diff_eq!(all.temperature_c, 21.7, epsilon = 1e-13);
        assert_abs_diff_eq!(all.humidity_ratio, 0.0094, epsilon = 1e-17);
    }
}

//! How warm a surface in the room is, and how damp the air is that touches it.
//!
//! The temperature factor says where the surface stands between outdoor and indoor air; it is a property of the construction. All is steady:
//! the factor of this hour is that of every hour. Relative humidity here is in percent, as the damage criteria print it.
//! Not here: what grows on the surface (`mould`, `thirty_days`), water films on glass (`windows`).
//!
//! # Sources
//! \[ISO 13788\] ISO 13788:2012, surface temperature to avoid critical surface humidity: scope read, values from memory of the standard.

use lanes::Real;
use psychrometrics::formulas::{fast_saturation_pa, vapour_pressure_pa};

/// Inside surface resistance of glass and frames [m² K/W]. \[ISO 13788\]
pub const GLASS_RESISTANCE_M2K_PER_W: f64 = 0.13;

/// Temperature of the inside surface [°C]: `t_o + f (t_i − t_o)`, for a factor of 0…1.
#[inline(always)]
pub fn surface_c<R: Real>(temperature_factor: R, indoor_c: R, outdoor_c: R) -> R {
    outdoor_c + temperature_factor * (indoor_c - outdoor_c)
}

/// Relative humidity at a surface of this temperature in air of this humidity ratio \[%\], held at 100: what is above condenses.
///
/// Over ice below 0.01 °C; range −60…60 °C.
#[inline(always)]
pub fn surface_humidity_pct<R: Real>(surface_c: R, humidity_ratio: R, pressure_pa: R) -> R {
    let vapour_pa = vapour_pressure_pa(humidity_ratio, pressure_pa);
    (vapour_pa / fast_saturation_pa(surface_c) * 100.0).min(R::splat(100.0))
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    /// `f = 1 − U R_si` of \[ISO 13788\], glass inside.
    fn glass(u_w_per_m2k: f64) -> f64 {
        1.0 - u_w_per_m2k * GLASS_RESISTANCE_M2K_PER_W
    }

    #[test]
    fn glass_is_wet_from_the_humidity_of_the_table_on() {
        // Worked out for this project with psychrolib: the most humidity without water on glass of this U, 21 °C indoors
        // (2 487.6 Pa at saturation), outdoors −30, −20, −10, 0, 5 °C.
        let table = [
            (1.0, [65.8, 71.6, 77.8, 84.4, 87.9]),
            (1.6, [50.7, 58.2, 66.6, 76.1, 81.3]),
            (2.0, [42.4, 50.5, 60.0, 71.0, 77.1]),
            (2.8, [29.3, 37.8, 48.4, 61.6, 69.3]),
        ];
        for (u, limits) in table {
            for (outdoor_c, pct) in [-30.0, -20.0, -10.0, 0.0, 5.0].into_iter().zip(limits) {
                let inside_c = surface_c(glass(u), 21.0, outdoor_c);
                let at = |pct: f64| {
                    let vapour_pa = 2_487.6 * pct / 100.0;
                    surface_humidity_pct(inside_c, 0.621945 * vapour_pa / (101_325.0 - vapour_pa), 101_325.0)
                };
                // A tenth of a point either way is the table's rounding and that of the pressure.
                assert!(at(pct - 0.1) < 100.0, "U {u}, {outdoor_c} °C");
                assert_abs_diff_eq!(at(pct + 0.1), 100.0);
            }
        }
    }

    #[test]
    fn a_surface_with_the_factor_it_needs_against_mould_is_at_80_percent() {
        // Worked out for this project with psychrolib: 20 °C and 50 % indoors, 0 °C outdoors; 60 %, −5 °C.
        for (indoor_pct, outdoor_c, needed_c, factor) in
            [(50.0, 0.0, 12.628, 0.6314), (60.0, -5.0, 15.438, 0.8175)]
        {
            let vapour_pa = 2338.8037 * indoor_pct / 100.0;
            let w = 0.621945 * vapour_pa / (101_325.0 - vapour_pa);
            let inside_c = surface_c(factor, 20.0, outdoor_c);
            assert_abs_diff_eq!(inside_c, needed_c, epsilon = 0.002);
            assert_abs_diff_eq!(surface_humidity_pct(inside_c, w, 101_325.0), 80.0, epsilon = 0.02);
            // A colder surface is held at 100 %.
            assert_abs_diff_eq!(surface_humidity_pct(inside_c - 10.0, w, 101_325.0), 100.0);
        }
    }

    #[test]
    fn a_surface_stands_between_the_airs() {
        assert_abs_diff_eq!(glass(2.8), 0.636, epsilon = 1e-15);
        assert_abs_diff_eq!(surface_c(0.6, 20.0, -10.0), 8.0);
        // Outdoors warmer than indoors: the surface is warmer than the room.
        assert_abs_diff_eq!(surface_c(0.6, 20.0, 30.0), 24.0);
    }
}

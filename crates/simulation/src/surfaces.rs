//! How warm a surface in the room is, and how damp the air is that touches it.
//!
//! The temperature factor says where the surface stands between outdoor and indoor air; it is a property of the construction. All is steady:
//! the factor of this hour is that of every hour. Relative humidity here is in percent, as the damage criteria print it.
//! Not here: what grows on the surface (`mould`, `thirty_days`), water films on glass (`windows`).
//!
//! # Sources
//! \[ISO 13788\] ISO 13788:2012, surface temperature to avoid critical surface humidity: scope read, values from memory of the standard.

use lanes::Real;
use psychrometrics::checked::{dew_point_c, saturation_pressure_pa};
use psychrometrics::formulas::{fast_saturation_pa, vapour_pressure_pa};

use crate::out_of_range::{OutOfRange, within};

/// Inside surface resistance for opaque parts when mould is in question: behind furniture, in corners [m² K/W]. \[ISO 13788\]
pub const OPAQUE_RESISTANCE_M2K_PER_W: f64 = 0.25;
/// Inside surface resistance of glass and frames [m² K/W]. \[ISO 13788\]
pub const GLASS_RESISTANCE_M2K_PER_W: f64 = 0.13;
/// Relative humidity of a surface below which mould is avoided \[%\]. \[ISO 13788\]
pub const MOULD_LIMIT_PCT: f64 = 80.0;
/// Relative humidity of a surface from which water condenses \[%\].
pub const CONDENSATION_LIMIT_PCT: f64 = 100.0;

/// Temperature factor of an inside surface, 0…1: `f = 1 − U R_si`.
///
/// # Errors
/// [`OutOfRange`] unless `U` is 0…7 W/(m² K), `R_si` 0.05…0.5 m² K/W, and `f` 0…1.
///
/// # Source
/// \[ISO 13788\]
pub fn temperature_factor(u_w_per_m2k: f64, surface_resistance_m2k_per_w: f64) -> Result<f64, OutOfRange> {
    within("thermal transmittance", u_w_per_m2k, (0.0, 7.0), " W/(m² K)")?;
    within("inside surface resistance", surface_resistance_m2k_per_w, (0.05, 0.5), " m² K/W")?;
    let factor = 1.0 - u_w_per_m2k * surface_resistance_m2k_per_w;
    within("temperature factor 1 − U R of the surface", factor, (0.0, 1.0), "")?;
    Ok(factor)
}

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

/// Greatest relative humidity of room air at which nothing condenses on the surface \[%\], 100 at most.
///
/// `p_sat(t_s)/p_sat(t_i)`, range −60…60 °C.
#[inline(always)]
pub fn most_indoor_humidity_pct<R: Real>(surface_c: R, indoor_c: R) -> R {
    (fast_saturation_pa(surface_c) / fast_saturation_pa(indoor_c) * 100.0).min(R::splat(100.0))
}

/// Temperature that a surface must have so that its relative humidity stays at or below a limit [°C]: `p_sat(t) = p_v/φ`.
///
/// # Errors
/// [`SurfaceError`] unless the limit is 1…100 % and the vapour pressure that of a dew point of −60…60 °C.
///
/// # Source
/// \[ISO 13788\]
pub fn least_surface_c(vapour_pa: f64, limit_pct: f64) -> Result<f64, SurfaceError> {
    within("limit of the surface's relative humidity", limit_pct, (1.0, 100.0), " %")?;
    Ok(dew_point_c(vapour_pa / limit_pct * 100.0)?)
}

/// Temperature factor that a surface must have for a limit of its relative humidity: `(t_s,min − t_o)/(t_i − t_o)`.
///
/// Above 1 where the room air itself is damper than the limit; 0 where a surface as cold as outdoors is warm enough.
///
/// # Errors
/// [`SurfaceError`] unless the room air is 5…40 °C with 1…100 %, outdoor air at least 1 K colder and −60 °C or warmer, the limit 1…100 %.
///
/// # Source
/// \[ISO 13788\]
pub fn needed_temperature_factor(
    (indoor_c, indoor_pct): (f64, f64),
    outdoor_c: f64,
    limit_pct: f64,
) -> Result<f64, SurfaceError> {
    within("indoor temperature", indoor_c, (5.0, 40.0), " °C")?;
    within("indoor relative humidity", indoor_pct, (1.0, 100.0), " %")?;
    within("outdoor temperature", outdoor_c, (-60.0, indoor_c - 1.0), " °C")?;
    let vapour_pa = saturation_pressure_pa(indoor_c)? * indoor_pct / 100.0;
    let needed_c = least_surface_c(vapour_pa, limit_pct)?;
    Ok(((needed_c - outdoor_c) / (indoor_c - outdoor_c)).max(0.0))
}

/// How damp a building is used: the most vapour that its air holds above outdoor air.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HumidityClass {
    /// Stores, unoccupied buildings.
    One,
    /// Offices, dwellings with few people and ventilation.
    Two,
    /// Dwellings whose use is not known.
    Three,
    /// Sports halls, kitchens, canteens.
    Four,
    /// Laundries, breweries, swimming pools.
    Five,
}

impl HumidityClass {
    /// Upper limit of vapour pressure indoors above outdoors \[Pa\]: full in frost, a straight line to nothing at 20 °C.
    ///
    /// # Source
    /// \[ISO 13788\], from memory.
    pub fn most_excess_pa(self, outdoor_c: f64) -> f64 {
        let in_frost_pa = match self {
            Self::One => 270.0,
            Self::Two => 540.0,
            Self::Three => 810.0,
            Self::Four => 1080.0,
            Self::Five => 1360.0,
        };
        in_frost_pa * (1.0 - outdoor_c / 20.0).clamp(0.0, 1.0)
    }
}

/// Why a surface cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum SurfaceError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Air outside the range of its formulas.
    #[error(transparent)]
    Air(#[from] psychrometrics::OutOfRange),
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    /// [ISO 13788] has its own curve of saturation: `t = 237.3 ln(p/610.5)/(17.269 − ln(p/610.5))`.
    fn by_the_standards_curve_c(vapour_pa: f64) -> f64 {
        let ln = (vapour_pa / 610.5_f64).ln();
        237.3 * ln / (17.269 - ln)
    }

    #[test]
    fn glass_without_condensation_meets_the_table() {
        // Worked out for this project with psychrolib: inside resistance 0.13, 21 °C indoors, outdoors −30, −20, −10, 0, 5 °C.
        let table = [
            (1.0, [65.8, 71.6, 77.8, 84.4, 87.9]),
            (1.6, [50.7, 58.2, 66.6, 76.1, 81.3]),
            (2.0, [42.4, 50.5, 60.0, 71.0, 77.1]),
            (2.8, [29.3, 37.8, 48.4, 61.6, 69.3]),
        ];
        for (u, limits) in table {
            let factor = temperature_factor(u, GLASS_RESISTANCE_M2K_PER_W).unwrap();
            for (outdoor_c, pct) in [-30.0, -20.0, -10.0, 0.0, 5.0].into_iter().zip(limits) {
                let inside_c = surface_c(factor, 21.0, outdoor_c);
                assert_abs_diff_eq!(most_indoor_humidity_pct(inside_c, 21.0), pct, epsilon = 0.05 + 1e-9);
            }
        }
    }

    #[test]
    fn what_a_surface_needs_against_mould_meets_the_checks() {
        // Worked out for this project with psychrolib.
        for (indoor, outdoor_c, needed_c, factor) in
            [((20.0, 50.0), 0.0, 12.628, 0.6314), ((20.0, 60.0), -5.0, 15.438, 0.8175)]
        {
            let vapour_pa = 2338.8037 * indoor.1 / 100.0;
            let found_c = least_surface_c(vapour_pa, MOULD_LIMIT_PCT).unwrap();
            assert_abs_diff_eq!(found_c, needed_c, epsilon = 0.0005);
            assert_abs_diff_eq!(found_c, by_the_standards_curve_c(vapour_pa / 0.8), epsilon = 0.05);
            let found = needed_temperature_factor(indoor, outdoor_c, MOULD_LIMIT_PCT).unwrap();
            assert_abs_diff_eq!(found, factor, epsilon = 0.00005);
        }
    }

    #[test]
    fn a_surface_with_the_factor_it_needs_is_at_its_limit() {
        for (limit_pct, outdoor_c) in [(MOULD_LIMIT_PCT, -5.0), (CONDENSATION_LIMIT_PCT, -20.0)] {
            let factor = needed_temperature_factor((21.0, 45.0), outdoor_c, limit_pct).unwrap();
            let vapour_pa = saturation_pressure_pa(21.0).unwrap() * 0.45;
            let w = 0.621945 * vapour_pa / (101_325.0 - vapour_pa);
            let inside_c = surface_c(factor, 21.0, outdoor_c);
            assert_abs_diff_eq!(surface_humidity_pct(inside_c, w, 101_325.0), limit_pct, epsilon = 1e-3);
            // A colder surface is held at 100 %.
            assert_abs_diff_eq!(surface_humidity_pct(inside_c - 10.0, w, 101_325.0), 100.0);
        }
    }

    #[test]
    fn factors_follow_from_the_transmittance() {
        assert_abs_diff_eq!(temperature_factor(0.4, OPAQUE_RESISTANCE_M2K_PER_W).unwrap(), 0.9);
        assert_abs_diff_eq!(
            temperature_factor(2.8, GLASS_RESISTANCE_M2K_PER_W).unwrap(),
            0.636,
            epsilon = 1e-15
        );
        assert_abs_diff_eq!(surface_c(0.6, 20.0, -10.0), 8.0);
        // Outdoors warmer than indoors: the surface is warmer than the room.
        assert_abs_diff_eq!(surface_c(0.6, 20.0, 30.0), 24.0);
        // In dry air any surface will do.
        assert_abs_diff_eq!(needed_temperature_factor((21.0, 5.0), 15.0, 80.0).unwrap(), 0.0);
        // Room air of 90 %: no surface colder than the room stays at 80 %.
        assert!(needed_temperature_factor((21.0, 90.0), 0.0, 80.0).unwrap() > 1.0);
    }

    #[test]
    fn humidity_classes_fall_to_nothing_at_twenty_degrees() {
        let three = HumidityClass::Three;
        for (outdoor_c, pa) in [(-20.0, 810.0), (0.0, 810.0), (10.0, 405.0), (20.0, 0.0), (30.0, 0.0)] {
            assert_abs_diff_eq!(three.most_excess_pa(outdoor_c), pa);
        }
        assert_abs_diff_eq!(HumidityClass::Five.most_excess_pa(5.0), 1020.0);
    }

    #[test]
    fn what_cannot_be_is_refused_with_the_reason() {
        let told = |error: OutOfRange| error.to_string();
        assert_eq!(
            told(temperature_factor(6.0, 0.25).unwrap_err()),
            "the temperature factor 1 − U R of the surface is -0.5; it must be from 0 to 1"
        );
        assert_eq!(
            told(temperature_factor(f64::NAN, 0.25).unwrap_err()),
            "the thermal transmittance is NaN W/(m² K); it must be from 0 to 7 W/(m² K)"
        );
        assert_eq!(
            needed_temperature_factor((20.0, 50.0), 19.5, 80.0).unwrap_err().to_string(),
            "the outdoor temperature is 19.5 °C; it must be from -60 to 19 °C"
        );
        assert!(matches!(least_surface_c(-1.0, 80.0), Err(SurfaceError::Air(_))));
    }
}

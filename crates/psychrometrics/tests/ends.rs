//! Humidity over liquid water below 0 °C, and the ends of ranges: kept to the last part, refused beyond it.
#![allow(clippy::unwrap_used)]

use approx::{assert_abs_diff_eq, assert_relative_eq};
use psychrometrics::{EnhancementFactor, Given, MoistAir, checked, formulas, standard_altitude_m};

const P: f64 = 101_325.0;

/// Air saturated over ice at -10 °C: 259.9 Pa over ice and 286.3 Pa over supercooled water, Smithsonian Meteorological Tables (recalled), so
/// 0.9078; their formulation and ours are 0.05 % apart. What raises both curves cancels.
#[test]
fn air_saturated_over_ice_is_drier_over_water() {
    let expected = 259.9 / 286.3;
    for enhancement in [EnhancementFactor::None, EnhancementFactor::ByPressure] {
        let given = [Given::DryBulbC(-10.0), Given::RelativeHumidity(1.0)];
        let air = MoistAir::from_pair_enhanced(given[0], given[1], P, enhancement).unwrap();
        assert_relative_eq!(air.relative_humidity_over_water(), expected, max_relative = 1e-3);
    }
    let ratio = checked::humidity_ratio_from_vapour_pressure(259.9, P).unwrap();
    let found = checked::relative_humidity_over_water(-10.0, ratio, P).unwrap();
    assert_relative_eq!(found, expected, max_relative = 1e-3);
    // The plain formula, and half of it.
    let plain = formulas::relative_humidity_over_water(-10.0, ratio, P);
    assert_relative_eq!(plain, expected, max_relative = 1e-3);
    let half = checked::humidity_ratio_from_vapour_pressure(0.5 * 259.9, P).unwrap();
    let found = checked::relative_humidity_over_water(-10.0, half, P).unwrap();
    assert_relative_eq!(found, 0.5 * expected, max_relative = 1e-3);
}

/// Half of the air's pressure may be steam, as the documentation says, and no more.
#[test]
fn vapour_may_be_half_of_the_pressure_and_no_more() {
    // By hand: 0.621945 × p_v / (p − p_v) with p_v = p / 2.
    assert_relative_eq!(
        checked::humidity_ratio_from_vapour_pressure(50e3, 100e3).unwrap(),
        0.621_945,
        max_relative = 1e-9
    );
    assert!(checked::humidity_ratio_from_vapour_pressure(50e3 + 1.0, 100e3).is_err());
    assert!(checked::humidity_ratio_from_vapour_pressure(-1e-9, 100e3).is_err());
}

#[test]
fn a_humidity_ratio_of_a_half_is_the_greatest() {
    assert!(checked::vapour_pressure_pa(0.5, P).is_ok());
    assert!(checked::vapour_pressure_pa(0.5001, P).is_err());
    assert!(checked::density_kg_per_m3(20.0, 0.5001, P).is_err());
}

/// A dew point that goes in comes out, at both ends and at the triple point, where one curve ends and another begins.
#[test]
fn dew_points_come_back_at_the_ends_of_their_curves() {
    for dew_point in [-100.0, -99.9, -0.01, 0.0, 0.01, 0.02, 59.9, 60.0] {
        let pressure = checked::saturation_pressure_pa(dew_point).unwrap();
        assert_abs_diff_eq!(checked::dew_point_c(pressure).unwrap(), dew_point, epsilon = 1e-6);
    }
    let least = checked::saturation_pressure_pa(-100.0).unwrap();
    assert!(checked::dew_point_c(0.999 * least).is_err());
    let most = checked::saturation_pressure_pa(60.0).unwrap();
    assert!(checked::dew_point_c(1.001 * most).is_err());
}

/// -5 000 m and 11 000 m of the standard atmosphere: 177 687 and 22 632 Pa, ICAO's table (recalled).
#[test]
fn altitudes_end_where_the_lowest_layer_does() {
    assert_abs_diff_eq!(standard_altitude_m(177_687.0).unwrap(), -5_000.0, epsilon = 0.1);
    assert_abs_diff_eq!(standard_altitude_m(22_632.0).unwrap(), 11_000.0, epsilon = 0.1);
    assert!(standard_altitude_m(177_700.0).is_err());
    assert!(standard_altitude_m(22_600.0).is_err());
}

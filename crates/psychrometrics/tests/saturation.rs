//! Saturation pressure and the standard atmosphere against tables made elsewhere.

use psychrometrics::{Given, MoistAir, checked, standard_altitude_m, standard_pressure_pa};

/// °C; psychrolib 2.5.0 (Hyland–Wexler) [Pa]; iapws 1.5.5 (IAPWS-97, below 0.01 °C the sublimation equation) [Pa].
const PRESSURES: [(f64, f64, f64); 16] = [
    (-40.0, 12.8452, 12.8412),
    (-30.0, 38.0157, 38.0051),
    (-20.0, 103.2604, 103.2390),
    (-10.0, 259.9029, 259.8738),
    (-5.0, 401.7641, 401.7410),
    (0.0, 611.1536, 611.1535),
    (0.01, 611.6570, 611.6570),
    (5.0, 872.4867, 872.5749),
    (10.0, 1227.9953, 1228.1839),
    (15.0, 1705.4478, 1705.7449),
    (20.0, 2338.8037, 2339.2148),
    (25.0, 3169.2165, 3169.7469),
    (30.0, 4246.0302, 4246.6883),
    (40.0, 7383.4600, 7384.4275),
    (50.0, 12349.8565, 12351.2704),
    (60.0, 19943.7606, 19945.8019),
];

/// Four decimals are printed.
#[test]
fn saturation_pressure_is_psychrolibs_to_the_last_digit_printed() {
    for (t, expected, _) in PRESSURES {
        let found = checked::saturation_pressure_pa(t).unwrap();
        assert!((found - expected).abs() < 6e-5, "{t} °C: {found}, expected {expected}");
    }
}

/// 0.05 %: the distance between the two formulations.
#[test]
fn saturation_pressure_is_within_a_twentieth_of_a_percent_of_the_international_formulation() {
    for (t, _, expected) in PRESSURES {
        let found = checked::saturation_pressure_pa(t).unwrap();
        assert!((found / expected - 1.0).abs() < 5e-4, "{t} °C: {found}, expected {expected}");
    }
}

/// Computed from the two equations by hand calculation outside this code; four decimals.
#[test]
fn over_supercooled_water_the_pressure_exceeds_that_over_ice_by_the_known_ratio() {
    for (t, ratio) in [(-10.0, 1.1026), (-20.0, 1.2166), (-30.0, 1.3432)] {
        let water = checked::saturation_pressure_over_water_pa(t).unwrap();
        let ice = checked::saturation_pressure_over_ice_pa(t).unwrap();
        assert!((water / ice - ratio).abs() < 6e-5, "{t} °C: {}", water / ice);
    }
}

/// °C; CoolProp 8.0.0: humidity ratio, enthalpy [kJ/kg], volume [m³/kg]; psychrolib 2.5.0: humidity ratio.
const SATURATED: [(f64, f64, f64, f64, f64); 10] = [
    (-40.0, 0.00007927, -40.031, 0.65970, 0.00007886),
    (-20.0, 0.00063728, -18.542, 0.71723, 0.00063447),
    (-10.0, 0.00160620, -6.070, 0.74684, 0.00159942),
    (0.0, 0.00379003, 9.475, 0.77804, 0.00377410),
    (10.0, 0.00766265, 29.355, 0.81160, 0.00763005),
    (20.0, 0.01476050, 57.559, 0.84979, 0.01469505),
    (25.0, 0.02017343, 76.505, 0.87164, 0.02008112),
    (30.0, 0.02733286, 100.011, 0.89614, 0.02720257),
    (40.0, 0.04914449, 166.688, 0.95672, 0.04888259),
    (50.0, 0.08686289, 275.353, 1.04249, 0.08632671),
];

#[test]
fn saturated_air_is_near_the_real_gas_and_equal_to_the_ideal_one() {
    for (t, w_real, h_real, v_real, w_ideal) in SATURATED {
        let air = MoistAir::from_pair(Given::DryBulbC(t), Given::RelativeHumidity(1.0), 101_325.0).unwrap();
        assert!((air.humidity_ratio() - w_ideal).abs() < 6e-9, "{t} °C: {}", air.humidity_ratio());
        assert!((air.humidity_ratio() / w_real - 1.0).abs() < 0.007, "{t} °C: {}", air.humidity_ratio());
        assert!((air.specific_volume_m3_per_kg() / v_real - 1.0).abs() < 0.0015, "{t} °C");
        // 0.7 % of the humidity ratio's part of the enthalpy, and 0.04 kJ/kg for the gas itself.
        let limit = 0.007 * w_real * 2600.0 + 0.04;
        assert!((air.enthalpy_j_per_kg() / 1000.0 - h_real).abs() < limit, "{t} °C");
    }
}

/// psychrolib 2.5.0 at 101 325 Pa: dry bulb, relative humidity, humidity ratio, dew point, wet bulb.
#[test]
fn spot_values_are_psychrolibs() {
    let spots = [
        (-20.0, 0.80, 0.00050747, -22.3039, -20.3057),
        (-10.0, 0.50, 0.00079868, -17.5814, -11.6376),
        (0.0, 1.00, 0.00377410, 0.0, 0.0),
        (5.0, 0.20, 0.00107293, -14.4119, -1.4107),
        (20.0, 0.50, 0.00726174, 9.2724, 13.7834),
        (22.0, 0.35, 0.00573422, 5.8512, 13.1031),
        (25.0, 0.50, 0.00988104, 13.8640, 17.8894),
        (35.0, 0.40, 0.01413165, 19.3846, 23.9342),
    ];
    for (t, share, w, dew, wet) in spots {
        let air = MoistAir::from_pair(Given::DryBulbC(t), Given::RelativeHumidity(share), 101_325.0).unwrap();
        assert!((air.humidity_ratio() - w).abs() < 6e-9, "{t} °C, {share}: {}", air.humidity_ratio());
        assert!((air.dew_point_c().unwrap() - dew).abs() < 0.002, "{t} °C, {share}: {:?}", air.dew_point_c());
        assert!((air.wet_bulb_c() - wet).abs() < 0.002, "{t} °C, {share}: {}", air.wet_bulb_c());
    }
}

/// psychrolib 2.5.0; two decimals are printed.
#[test]
fn the_standard_atmosphere_is_psychrolibs_and_inverts() {
    let table = [
        (0.0, 101_325.0),
        (300.0, 97_772.56),
        (500.0, 95_460.81),
        (1000.0, 89_874.52),
        (1500.0, 84_555.93),
        (2000.0, 79_495.12),
        (3000.0, 70_108.42),
        (5000.0, 54_019.75),
    ];
    for (altitude, pressure) in table {
        let found = standard_pressure_pa(altitude).unwrap();
        assert!((found - pressure).abs() < 0.006, "{altitude} m: {found}");
        assert!((standard_altitude_m(found).unwrap() - altitude).abs() < 1e-8);
    }
    for end in [-5000.0, 11_000.0] {
        assert!((standard_altitude_m(standard_pressure_pa(end).unwrap()).unwrap() - end).abs() < 1e-8);
    }
}

#[test]
fn dew_and_frost_points_invert_saturation_each_on_its_own_branch() {
    for i in 0..=1600 {
        let t = -100.0 + 0.1 * f64::from(i);
        let water = checked::dew_point_over_water_c(checked::saturation_pressure_over_water_pa(t).unwrap());
        assert!((water.unwrap() - t).abs() < 1e-9, "{t} °C over water");
        let either = checked::dew_point_c(checked::saturation_pressure_pa(t).unwrap());
        assert!((either.unwrap() - t).abs() < 1e-9, "{t} °C");
        if let Ok(pressure) = checked::saturation_pressure_over_ice_pa(t) {
            assert!((checked::frost_point_c(pressure).unwrap() - t).abs() < 1e-9, "{t} °C over ice");
        }
    }
}
